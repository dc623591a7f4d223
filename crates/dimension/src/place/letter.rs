//! Letters beside holes, slots, recesses and edges: the marks of the tables.
//!
//! In: table rows. Out: letters near the features they name.
//! Always true: every row's letter stands at least once; where all near places are taken it stands at the end
//! of a short leader.

use super::View;
use super::callout::leader_to;
use super::ink::{FORBIDDEN, Ink, Label};
use super::pen::{self, Style};
use super::view::feature_reach;
use crate::drawing::Drawing;
use crate::sketch::Shape;
use turnleaf_geom::{Vec2, trig};
use turnleaf_page::{Item, Pt, Role, pt};

/// Directions tried round a feature, degrees: up right first, as one writes.
const ROUND: [f64; 8] = [45.0, 135.0, -45.0, -135.0, 0.0, 180.0, 90.0, -90.0];

/// Places all letters.
pub fn draw(
    d: &Drawing,
    view: &View,
    style: &Style,
    ink: &mut Ink,
    items: &mut Vec<Item>,
    crowded: &mut Vec<String>,
) {
    let rows = d.rows.iter().filter(|r| r.count > 0).map(|r| (&r.label, &r.members));
    let edges = d.edges.iter().map(|r| (&r.label, &r.members));
    let mut late: Vec<(String, usize)> = Vec::new();
    for (label, members) in rows.chain(edges) {
        let mut placed = false;
        for (k, &i) in members.iter().enumerate() {
            let label = label.split('.').next().unwrap_or(label);
            match beside(d, i, label, view, style, ink) {
                Some(at) => {
                    items.push(mark(d, i, label, at, style, ink));
                    placed = true;
                }
                // Members after a placed one need no letter of their own: they are alike and in one ring.
                None if k + 1 == members.len() && !placed => late.push((label.to_string(), members[0])),
                None => {}
            }
        }
    }
    for (label, i) in late {
        let (c, r) = feature_reach(d, i);
        let (cost, group) = leader_to(&[(c, r)], &label, view, style, ink);
        if cost >= FORBIDDEN {
            crowded.push(format!("{}/mark/{label}", d.part));
        }
        items.push(Item::Group {
            role: Role::Plain,
            origin: None,
            id: Some(format!("{}/mark/{}", d.part, d.sketch.features[i].id)),
            items: group,
        });
    }
}

fn mark(d: &Drawing, i: usize, label: &str, at: Pt, style: &Style, ink: &mut Ink) -> Item {
    ink.text(&Label::level(at, style.width(label), style.cap));
    Item::Group {
        role: Role::Plain,
        origin: None,
        id: Some(format!("{}/mark/{}", d.part, d.sketch.features[i].id)),
        items: vec![pen::text(at, style, label, 0.0)],
    }
}

/// A free place close to a feature, if there is one.
fn beside(d: &Drawing, i: usize, label: &str, view: &View, style: &Style, ink: &Ink) -> Option<Pt> {
    let width = style.width(label);
    let s = &d.sketch;
    let mut best: Option<(f64, Pt)> = None;
    let mut consider = |p: Pt, extra: f64| {
        let cost = ink.text_cost(&Label::level(p, width, style.cap)) + extra;
        if cost < 55.0 && best.is_none_or(|b| cost < b.0 - 1e-9) {
            best = Some((cost, p));
        }
    };
    if let Shape::Edge(e) = &s.features[i].shape {
        // Beside the edge, a little inside for grooves' hidden lines to stay clear, else outside.
        let (base, tip) = (s.at(e.base), s.at(e.tip));
        let dir = (tip - base).unit();
        let side = s.sides()[e.edge];
        let normal = -(s.at(side.to) - s.at(side.from)).unit().perp();
        let depth = s.value(e.depth) * view.scale;
        for (k, t) in [0.5, 0.4, 0.6, 0.3, 0.7].into_iter().enumerate() {
            let along = s.value(e.near) + (s.value(e.far) - s.value(e.near)) * t;
            for (j, away) in [depth + 3.0, -depth - 3.0].into_iter().enumerate() {
                let p = view.place(base + dir * along + normal * (away / view.scale));
                consider(pt(p.x, p.y + style.cap / 2.0), k as f64 + j as f64 * 3.0);
            }
        }
        return best.map(|b| b.1);
    }
    let (c, r) = feature_reach(d, i);
    let p = view.place(c);
    let reach = r * view.scale + 0.6;
    if let Shape::Slot(..) | Shape::Pocket(..) = s.features[i].shape {
        // Inside when it fits.
        consider(pt(p.x, p.y + style.cap / 2.0), 1.0);
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
    best.map(|b| b.1)
}
