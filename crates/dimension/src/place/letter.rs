//! Letters beside holes, slots, recesses and edges: the marks of the tables.
//!
//! In: table rows. Out: letters near the features they name.
//! Always true: every row's letter stands at least once; where all near places are taken it stands at the end
//! of a short leader.

use super::View;
use super::callout::leader_to;
use super::ink::{FORBIDDEN, Ink, Kind, Label, off};
use super::pen::{self, Style};
use super::view::feature_reach;
use crate::convention::in_first_arm;
use crate::drawing::{Drawing, Row};
use crate::sketch::Shape;
use turnleaf_geom::{Vec2, trig};
use turnleaf_page::{Item, Pt, Role, pt};

/// Directions tried round a feature, degrees: up right first, as one writes.
const ROUND: [f64; 8] = [45.0, 135.0, -45.0, -135.0, 0.0, 180.0, 90.0, -90.0];

/// How far the arrow of an edge may lean from square, degrees: square first.
const LEANS: [f64; 7] = [0.0, 20.0, -20.0, 40.0, -40.0, 55.0, -55.0];

/// Nearer than this to a hole a letter is read as that hole's, mm.
const TAKEN: f64 = 5.0;

/// Lengths of such an arrow, mm: the last two only where nothing shorter is free.
const LENGTHS: [f64; 8] = [3.5, 5.0, 8.0, 12.0, 17.0, 24.0, 32.0, 42.0];

/// Places all letters.
pub fn draw(
    d: &Drawing,
    view: &View,
    style: &Style,
    ink: &mut Ink,
    items: &mut Vec<Item>,
    crowded: &mut Vec<String>,
) {
    let mut late: Vec<(String, usize)> = Vec::new();
    let bodies: Vec<Body> = d.rows.iter().flat_map(|r| bodies(d, r, view)).collect();
    for row in d.rows.iter().filter(|r| r.count > 0) {
        let label = named_by(row);
        let mut placed = false;
        for &i in &row.members {
            // Members after a placed one need no letter of their own: they are alike and in one ring.
            if let Some(at) = beside(d, i, label, &bodies, view, style, ink) {
                items.push(mark(d, i, label, at, style, ink));
                placed = true;
            }
        }
        if !placed {
            late.push((label.to_string(), row.members[0]));
        }
    }
    for row in &d.edges {
        for &i in row.members.iter().filter(|i| on_first_arm(d, **i)) {
            let group = edge_mark(d, i, &row.label, view, style, ink);
            items.push(named(d, i, group));
        }
    }
    for (label, i) in late {
        let (c, r) = feature_reach(d, i);
        let (cost, group) = leader_to(&[(c, r)], &label, view, style, ink);
        if cost >= FORBIDDEN {
            crowded.push(format!("{}/mark/{label}", d.part));
        }
        items.push(named(d, i, group));
    }
}

/// The letter of a row, without what follows a point in it.
fn named_by(row: &Row) -> &str {
    row.label.split('.').next().unwrap_or(&row.label)
}

/// A hole or slot on paper: its ends, how far it reaches round them in mm, and its letter.
struct Body<'a> {
    ends: (Pt, Pt),
    reach: f64,
    label: &'a str,
}

fn bodies<'a>(d: &Drawing, row: &'a Row, view: &View) -> Vec<Body<'a>> {
    let s = &d.sketch;
    let body = |i: &usize| {
        let (a, b) = match &s.features[*i].shape {
            Shape::Slot(a, b, ..) => (s.at(*a), s.at(*b)),
            Shape::Hole(..) => {
                let c = feature_reach(d, *i).0;
                (c, c)
            }
            _ => return None,
        };
        let reach = feature_reach(d, *i).1 * view.scale;
        Some(Body { ends: (view.place(a), view.place(b)), reach, label: named_by(row) })
    };
    row.members.iter().filter_map(body).collect()
}

impl Body<'_> {
    /// How far it is from the middle of a letter, mm.
    fn from(&self, p: Pt) -> f64 {
        off(p, self.ends.0, self.ends.1) - self.reach
    }
}

fn named(d: &Drawing, i: usize, items: Vec<Item>) -> Item {
    let id = Some(format!("{}/mark/{}", d.part, d.sketch.features[i].id));
    Item::Group { role: Role::Plain, origin: None, id, items }
}

/// Of equal arms only one carries edge marks: the note says that all are alike.
fn on_first_arm(d: &Drawing, i: usize) -> bool {
    let (at, _) = feature_reach(d, i);
    in_first_arm(&d.frame, at)
}

/// An arrow that meets an edge squarely, with the edge's letter at its tail.
fn edge_mark(d: &Drawing, i: usize, label: &str, view: &View, style: &Style, ink: &mut Ink) -> Vec<Item> {
    let s = &d.sketch;
    let Shape::Edge(e) = &s.features[i].shape else { return Vec::new() };
    let Some(side) = s.sides().get(e.edge) else { return Vec::new() };
    let (base, tip) = (s.at(e.base), s.at(e.tip));
    let dir = (tip - base).unit();
    let normal = -(s.at(side.to) - s.at(side.from)).unit().perp();
    let stand = if e.tongue { s.value(e.depth) } else { 0.0 };
    let width = style.width(label);
    let mut best: Option<(f64, Pt, Pt, Label)> = None;
    // Square to the edge where that is free; between narrow arms it is not, and the arrow may lean or be long.
    for (leans, lengths) in [(&LEANS[..1], &LENGTHS[..6]), (&LEANS[..], &LENGTHS[..])] {
        for (k, t) in [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8].into_iter().enumerate() {
            let along = base + dir * (s.value(e.near) + (s.value(e.far) - s.value(e.near)) * t);
            // An arrow to an edge that is not drawn would point at nothing.
            if dir.y.abs() < dir.x.abs() && d.is_left_out(along.x) {
                continue;
            }
            for (j, &length) in lengths.iter().enumerate() {
                for (m, out) in [1.0, -1.0].into_iter().enumerate() {
                    for (n, lean) in leans.iter().enumerate() {
                        let from = if out > 0.0 { stand } else { 0.0 };
                        let away = (normal * out).rot(trig::rad(*lean));
                        let foot = along + normal * (out * from);
                        let p = view.place(foot);
                        let q = view.place(foot + away * (length / view.scale));
                        let (ux, uy) = ((q.x - p.x) / length, (q.y - p.y) / length);
                        // Far enough that the letter's box, descenders included, leaves the arrow's tail.
                        let (w, h) = (width / 2.0 + 0.9, style.cap * 0.91 + 0.5);
                        let out_by = (w / ux.abs().max(1e-6)).min(h / uy.abs().max(1e-6));
                        let c = pt(q.x + ux * out_by, q.y + uy * out_by + style.cap / 2.0);
                        let label = Label::mark(c, width, style.cap);
                        let cost = ink.text_cost(&label)
                            + ink.line_cost(p, q)
                            + ink.touch_cost(p, q)
                            + k as f64 * 0.7
                            + j as f64 * 1.5
                            + m as f64 * 6.0
                            + n as f64 * 2.0;
                        if best.is_none_or(|b| cost < b.0 - 1e-9) {
                            best = Some((cost, p, q, label));
                        }
                    }
                }
            }
        }
        // Less than text on an edge costs.
        if best.is_some_and(|b| b.0 < 150.0) {
            break;
        }
    }
    let Some((_, p, q, text)) = best else { return Vec::new() };
    ink.text(&text);
    ink.line(p, q, Kind::Leader);
    vec![
        pen::line(p, q, style.thin()),
        pen::arrow(p, p.x - q.x, p.y - q.y, style.arrow),
        pen::text(text.at, style, label, 0.0),
    ]
}

fn mark(d: &Drawing, i: usize, label: &str, at: Pt, style: &Style, ink: &mut Ink) -> Item {
    ink.text(&Label::mark(at, style.width(label), style.cap));
    Item::Group {
        role: Role::Plain,
        origin: None,
        id: Some(format!("{}/mark/{}", d.part, d.sketch.features[i].id)),
        items: vec![pen::text(at, style, label, 0.0)],
    }
}

/// A free place close to a feature, if there is one.
fn beside(
    d: &Drawing,
    i: usize,
    label: &str,
    bodies: &[Body],
    view: &View,
    style: &Style,
    ink: &Ink,
) -> Option<Pt> {
    let width = style.width(label);
    let s = &d.sketch;
    let mut best: Option<(f64, Pt)> = None;
    // A letter nearer to another row's hole would be taken for that one's.
    let taken = |p: Pt| {
        let middle = pt(p.x, p.y - style.cap / 2.0);
        let nearest = |own: bool| {
            let of = bodies.iter().filter(|b| (b.label == label) == own);
            of.map(|b| b.from(middle)).fold(f64::INFINITY, f64::min)
        };
        let other = nearest(false);
        if other < TAKEN && other < nearest(true) + 0.3 { 15.0 } else { 0.0 }
    };
    let mut consider = |p: Pt, extra: f64| {
        let cost = ink.text_cost(&Label::mark(p, width, style.cap)) + extra;
        if cost >= 55.0 || best.is_some_and(|b| cost >= b.0 - 1e-9) {
            return;
        }
        let cost = cost + taken(p);
        if cost < 55.0 && best.is_none_or(|b| cost < b.0 - 1e-9) {
            best = Some((cost, p));
        }
    };
    let (c, r) = feature_reach(d, i);
    let p = view.place(c);
    let reach = r * view.scale + 0.6;
    if let Shape::Slot(..) | Shape::Pocket(..) = s.features[i].shape {
        // Inside when it fits, or beside a line that runs through its middle.
        consider(pt(p.x, p.y + style.cap / 2.0), 1.0);
        consider(pt(p.x, p.y - 0.8), 1.5);
        consider(pt(p.x, p.y + style.cap + 0.8), 1.7);
    }
    for (k, angle) in ROUND.into_iter().enumerate() {
        for (j, more) in [0.0, 1.5, 3.0].into_iter().enumerate() {
            let u = Vec2::polar(1.0, trig::rad(angle));
            let (w, h) = (width / 2.0 + 0.8, style.cap / 2.0 + 0.8);
            let x = p.x + u.x * (reach + more + w);
            let y = p.y - u.y * (reach + more + h) + style.cap / 2.0;
            consider(pt(x, y), k as f64 * 0.5 + j as f64 * 2.0);
        }
    }
    // Close beside the centre lines on either side, where there is too little room for more.
    for (k, (right, up)) in [(1.0, 1.0), (-1.0, 1.0), (1.0, -1.0), (-1.0, -1.0)].into_iter().enumerate() {
        for (j, more) in [0.0, 1.5, 3.0].into_iter().enumerate() {
            let half = style.cap / 2.0;
            let (w, h) = (width / 2.0 + 0.8, half + 0.8);
            let extra = 6.0 + k as f64 * 0.5 + j as f64 * 2.0;
            consider(pt(p.x + right * (reach + more + w), p.y - up * h + half), extra);
            consider(pt(p.x + right * w, p.y - up * (reach + more + h) + half), extra + 0.2);
        }
    }
    best.map(|b| b.1)
}
