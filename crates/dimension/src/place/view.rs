//! The view itself: visible and hidden edges, centre lines.
//!
//! In: a drawing, scale and turn. Out: items, the box of the visible edges, and their ink.
//! Always true: edges come from the sketch, so what is drawn is what is dimensioned; arcs stay arcs.

use super::View;
use super::ink::{Ink, Kind};
use super::pen::{self, Style};
use crate::drawing::Drawing;
use crate::frame::SAME;
use crate::shorten::Break;
use crate::sketch::{Deep, EdgeWork, Loop, Shape};
use turnleaf_geom::vec2::v;
use turnleaf_geom::{Arc, Ring, Seg, Vec2, Vertex};
use turnleaf_page::{Item, Pt, Role, Step, Stroke, pt};
use turnleaf_parts::Face;

struct Drawer<'a> {
    view: &'a View,
    /// Stretches between break lines, ordinates x.
    breaks: &'a [Break],
    style: &'a Style,
    ink: &'a mut Ink,
    items: Vec<Item>,
    min: Pt,
    max: Pt,
}

impl Drawer<'_> {
    fn see(&mut self, p: Pt) {
        self.min = pt(self.min.x.min(p.x), self.min.y.min(p.y));
        self.max = pt(self.max.x.max(p.x), self.max.y.max(p.y));
    }
    fn path(&mut self, segs: &[Seg], closed: bool, kind: Kind) {
        let place = |p: Vec2| self.view.place(p);
        let runs = unbroken(segs, closed, self.breaks);
        let whole = runs.len() == 1 && runs[0].len() == segs.len();
        for run in runs {
            let mut steps = pen::open_steps(&run, &place);
            if closed && whole {
                steps.push(Step::Close);
            }
            let stroke = self.pen(kind);
            self.items.push(Item::Path { steps, stroke: Some(stroke), fill: None });
            for s in &run {
                self.trace(s, kind);
            }
        }
    }
    fn pen(&self, kind: Kind) -> Stroke {
        match kind {
            Kind::Hidden => self.style.hidden(),
            Kind::Centre => self.style.centre(),
            _ => self.style.visible(),
        }
    }
    /// Puts an edge into the ink as short lines.
    fn trace(&mut self, s: &Seg, kind: Kind) {
        let pieces = match s {
            Seg::Line(..) => 1,
            // A chord of a millimetre or so strays little from any arc that matters here.
            Seg::Arc(a) => ((a.sweep.abs() * a.radius * self.view.scale).ceil() as usize).clamp(2, 64),
        };
        let at = |t: f64| match s {
            Seg::Line(a, b) => a.lerp(*b, t),
            Seg::Arc(a) => a.at(t),
        };
        let mut last = self.view.place(at(0.0));
        for k in 1..=pieces {
            let next = self.view.place(at(k as f64 / pieces as f64));
            self.ink.line(last, next, kind);
            if kind != Kind::Centre {
                self.see(last);
                self.see(next);
            }
            last = next;
        }
    }
    fn ring(&mut self, ring: &Ring, kind: Kind) {
        let segs: Vec<Seg> = ring.segs().collect();
        self.path(&segs, true, kind);
    }
    fn straight(&mut self, a: Vec2, b: Vec2, stroke: Stroke, kind: Kind) {
        for (a, b) in outside(a, b, self.breaks) {
            let (p, q) = (self.view.place(a), self.view.place(b));
            self.items.push(pen::line(p, q, stroke.clone()));
            self.ink.line(p, q, kind);
        }
    }
    /// A small cross of centre lines, reaching a little beyond a circle of this radius (model mm).
    fn cross(&mut self, c: Vec2, radius: f64) {
        let reach = radius + 1.8 / self.view.scale;
        let stroke =
            if reach * self.view.scale < 8.0 { self.style.thin() } else { self.style.centre_short() };
        let stroke = Stroke { width: self.style.narrow, ..stroke };
        self.straight(c - v(reach, 0.0), c + v(reach, 0.0), stroke.clone(), Kind::Centre);
        self.straight(c - v(0.0, reach), c + v(0.0, reach), stroke, Kind::Centre);
    }
}

impl Drawer<'_> {
    /// Short strokes across a slot at its stations.
    fn stations(&mut self, line: &[Vertex], width: f64) {
        let past = width / 2.0 + 0.8 / self.view.scale;
        for k in 0..line.len() {
            let (a, b) = (line[k.saturating_sub(1)].p, line[(k + 1).min(line.len() - 1)].p);
            let across = (b - a).unit().perp() * past;
            self.straight(line[k].p - across, line[k].p + across, self.style.thin(), Kind::Centre);
        }
    }
}

fn seen(deep: &Deep) -> Kind {
    match deep {
        Deep::Blind(Face::Bottom, _) => Kind::Hidden,
        _ => Kind::Outline,
    }
}

/// Draws the view; returns its items and the box of its visible edges.
pub fn draw(d: &Drawing, view: &View, style: &Style, ink: &mut Ink) -> (Vec<Item>, Pt, Pt) {
    let s = &d.sketch;
    let values: Vec<f64> = s.unknowns.iter().map(|u| u.value).collect();
    let far = pt(f64::INFINITY, f64::INFINITY);
    let breaks = &d.breaks[..];
    let mut w = Drawer { view, breaks, style, ink, items: Vec::new(), min: far, max: pt(-far.x, -far.y) };
    let outline = s.outline.as_ref().map(|lp| s.ring(lp, &values)).unwrap_or_default();
    for f in &s.features {
        match &f.shape {
            Shape::Hole(c, deep) => {
                let (p, r) = s.circle_at(*c);
                w.ring(&Ring::circle(p, r), seen(deep));
                if p.norm() > SAME || d.frame.fold == 1 {
                    w.cross(p, r);
                }
            }
            Shape::Slot(a, b, width, deep) => {
                let (a, b) = (s.at(*a), s.at(*b));
                w.ring(&Ring::slot(a, b, s.value(*width) / 2.0), seen(deep));
                // In a slot too narrow on paper a centre line would only blacken it.
                if s.value(*width) * view.scale > 2.0 {
                    let along = (b - a).unit() * (s.value(*width) / 2.0 + 1.5 / view.scale);
                    w.straight(a - along, b + along, style.centre_short(), Kind::Centre);
                }
            }
            Shape::Way(way, deep) => {
                w.ring(&s.way_ring(way, &values), seen(deep));
                if way.like.is_none() {
                    w.stations(&s.centre_line(way, &values), s.value(way.width));
                }
            }
            Shape::Pocket(lp, deep) => {
                let ring = s.ring(lp, &values);
                w.ring(&ring, seen(deep));
            }
            Shape::Ramp(_) => {}
            Shape::Edge(e) => edge(&mut w, &outline, e, s.value(e.near), s.value(e.far), s.value(e.depth), s),
        }
    }
    // The outline last, so that its wide line lies on top.
    w.ring(&outline, Kind::Outline);
    centre_lines(&mut w, d, &outline);
    let (min, max) = (w.min, w.max);
    let across = |p: Pt| if view.quarter { -p.x } else { -p.y } / view.scale;
    let reach = (across(min).min(across(max)), across(min).max(across(max)));
    let lines = break_lines(breaks, reach, view, style, w.ink);
    w.items.extend(lines);
    let items = vec![Item::Group {
        role: Role::Outline,
        origin: None,
        id: Some(format!("{}/outline", d.part)),
        items: w.items,
    }];
    (items, min, max)
}

/// The pieces of a level line outside all breaks; any other line is left whole, for none crosses a break.
fn outside(a: Vec2, b: Vec2, breaks: &[Break]) -> Vec<(Vec2, Vec2)> {
    let mut out = Vec::new();
    let (lo, hi) = (a.x.min(b.x), a.x.max(b.x));
    let mut inside: Vec<Break> = breaks.iter().copied().filter(|q| lo < q.0 && q.1 < hi).collect();
    if a.x > b.x {
        inside = inside.into_iter().rev().map(|q| (q.1, q.0)).collect();
    }
    let at = |x: f64| a.lerp(b, (x - a.x) / (b.x - a.x));
    let mut from = a;
    for q in inside {
        out.push((from, at(q.0)));
        from = at(q.1);
    }
    out.push((from, b));
    out
}

/// Edges in runs that end and begin again at the breaks.
pub(super) fn unbroken(segs: &[Seg], closed: bool, breaks: &[Break]) -> Vec<Vec<Seg>> {
    let mut runs: Vec<Vec<Seg>> = vec![Vec::new()];
    for s in segs {
        let Seg::Line(a, b) = *s else {
            runs.last_mut().into_iter().for_each(|run| run.push(*s));
            continue;
        };
        for (k, (p, q)) in outside(a, b, breaks).into_iter().enumerate() {
            if k > 0 {
                runs.push(Vec::new());
            }
            runs.last_mut().into_iter().for_each(|run| run.push(Seg::Line(p, q)));
        }
    }
    // A closed outline begins in the middle of a run: its last run leads on to its first.
    if closed && runs.len() > 1 {
        let first = runs.remove(0);
        runs.last_mut().into_iter().for_each(|run| run.extend(first.iter().copied()));
    }
    runs
}

/// Both lines of every break: continuous narrow lines with zigzags across the view (ISO 128-2), between two ordinates
/// across it.
pub(super) fn break_lines(
    breaks: &[Break],
    (lo, hi): (f64, f64),
    view: &View,
    style: &Style,
    ink: &mut Ink,
) -> Vec<Item> {
    let unit = 1.0 / view.scale;
    let middle = (lo + hi) / 2.0;
    let (tall, wide) = (1.2 * unit, 1.0 * unit);
    let mut items = Vec::new();
    for x in breaks.iter().flat_map(|b| [b.0, b.1]) {
        let at = [
            v(x, lo - 2.5 * unit),
            v(x, middle - tall),
            v(x + wide, middle - tall / 3.0),
            v(x - wide, middle + tall / 3.0),
            v(x, middle + tall),
            v(x, hi + 2.5 * unit),
        ]
        .map(|p| view.place(p));
        let mut steps = vec![Step::Move(at[0])];
        steps.extend(at[1..].iter().map(|p| Step::Line(*p)));
        items.push(Item::Path { steps, stroke: Some(style.thin()), fill: None });
        for pair in at.windows(2) {
            ink.line(pair[0], pair[1], Kind::Hidden);
        }
    }
    items
}

/// A groove's bottom (hidden) or a tongue (visible), between where it begins and ends.
fn edge(
    w: &mut Drawer,
    outline: &Ring,
    e: &EdgeWork,
    near: f64,
    far: f64,
    depth: f64,
    s: &crate::sketch::Sketch,
) {
    let Some(seg) = outline.segs().nth(e.edge) else { return };
    let out = if e.tongue { depth } else { -depth };
    let kind = if e.tongue { Kind::Outline } else { Kind::Hidden };
    match seg {
        Seg::Line(a, b) => {
            let (base, dir) =
                if s.at(e.base).dist(a) < SAME { (a, (b - a).unit()) } else { (b, (a - b).unit()) };
            // Outlines run counter-clockwise: outwards is to the right of the edge's own direction.
            let normal = -(b - a).unit().perp();
            let (p, q) = (base + dir * near, base + dir * far);
            let (pp, qq) = (p + normal * out, q + normal * out);
            w.path(&[Seg::Line(p, pp), Seg::Line(pp, qq), Seg::Line(qq, q)], false, kind);
        }
        Seg::Arc(c) => {
            let from_start = s.at(e.base).dist(c.at(0.0)) < SAME;
            let way = c.sweep.signum();
            let angle = |t: f64| {
                if from_start { c.start + way * t / c.radius } else { c.start + c.sweep - way * t / c.radius }
            };
            let radius = c.radius + out * way;
            let arc = Arc { radius, start: angle(near), sweep: angle(far) - angle(near), ..c };
            let on = |t: f64| c.centre + Vec2::polar(c.radius, angle(t));
            let segs = [Seg::Line(on(near), arc.at(0.0)), Seg::Arc(arc), Seg::Line(arc.at(1.0), on(far))];
            w.path(&segs, false, kind);
        }
    }
}

fn centre_lines(w: &mut Drawer, d: &Drawing, outline: &Ring) {
    let (lo, hi) = outline.bounds();
    let past = 3.0 / w.view.scale;
    let stroke = w.style.centre();
    let s = &d.sketch;
    if d.frame.mirror || d.frame.fold != 1 {
        // From the datum origin when it lies inside; a ring segment's centre is far outside its outline.
        w.straight(v(lo.x - past, 0.0), v(hi.x + past, 0.0), stroke.clone(), Kind::Centre);
    }
    if d.frame.fold != 1 {
        w.straight(v(0.0, lo.y - past), v(0.0, hi.y + past), stroke.clone(), Kind::Centre);
    }
    if d.frame.origin == crate::frame::OriginKind::Corner {
        // The origin of ordinates: an open circle of 3 mm (ISO 129-1).
        let ring = Ring::circle(Vec2::ZERO, 1.5 / w.view.scale);
        let place = |p: Vec2| w.view.place(p);
        let steps = pen::ring_steps(&ring, &place);
        w.items.push(Item::Path { steps, stroke: Some(w.style.thin()), fill: None });
    }
    if d.frame.pins.is_some() {
        for (a, b) in arm_line(d) {
            let segs = [Seg::between(Vertex { p: a.0, bulge: a.1 }, b)];
            w.path(&segs, false, Kind::Centre);
        }
    }
    // Circles through the members of equally spaced rows.
    let mut seen: Vec<f64> = Vec::new();
    for row in d.rows.iter().filter(|r| r.count > 2) {
        if let Some(Shape::Hole(c, _)) = row.members.first().map(|i| &s.features[*i].shape) {
            let r = s.circle_at(*c).0.norm();
            if r > SAME && seen.iter().all(|q| (q - r).abs() > SAME) {
                seen.push(r);
                w.path(&Ring::circle(Vec2::ZERO, r).segs().collect::<Vec<_>>(), true, Kind::Centre);
            }
        }
    }
}

/// The centre line of an arm: from pin to pin with the bulge of its middle.
fn arm_line(d: &Drawing) -> Vec<((Vec2, f64), Vec2)> {
    let s = &d.sketch;
    let Some(middle) = s.helpers.iter().find(|p| s.points[p.0].id == "middle") else { return Vec::new() };
    let (m, length) = (s.at(*middle), d.frame.pin_distance);
    // bulge = tan(sweep/4) = rise over half the chord; the arm bends up, so the arc turns clockwise.
    let bulge = -m.y / (length / 2.0);
    let bulge = if bulge.abs() < 1e-9 { 0.0 } else { bulge };
    vec![((Vec2::ZERO, bulge), v(length, 0.0))]
}

/// The ring of a feature's visible outline, for letters and leaders.
pub fn feature_reach(d: &Drawing, i: usize) -> (Vec2, f64) {
    let s = &d.sketch;
    match &s.features[i].shape {
        Shape::Hole(c, _) => s.circle_at(*c),
        Shape::Slot(a, b, w, _) => ((s.at(*a) + s.at(*b)) * 0.5, s.value(*w) / 2.0),
        Shape::Way(way, _) => {
            let values: Vec<f64> = s.unknowns.iter().map(|u| u.value).collect();
            let line = s.centre_line(way, &values);
            let middle = line.get(line.len() / 2).map_or(Vec2::ZERO, |q| q.p);
            (middle, s.value(way.width) / 2.0)
        }
        Shape::Pocket(lp, _) => {
            let values: Vec<f64> = s.unknowns.iter().map(|u| u.value).collect();
            let ring = s.ring(lp, &values);
            match lp {
                Loop::Circle(c) => s.circle_at(*c),
                Loop::Sides(_) => {
                    let n = ring.vertices.len() as f64;
                    let far = ring
                        .vertices
                        .iter()
                        .map(|q| q.p)
                        .fold(Vec2::ZERO, |a, p| if p.norm() > a.norm() + SAME { p } else { a });
                    let mean = ring.vertices.iter().fold(Vec2::ZERO, |m, q| m + q.p) * (1.0 / n);
                    // An opening round the centre is named at the end of an arm.
                    if mean.norm() < 0.05 * far.norm() {
                        return (far, 0.5);
                    }
                    // A band's middle lies between its arcs: put the mean back on the middle radius.
                    let r = ring.vertices.iter().map(|q| q.p.norm()).sum::<f64>() / n;
                    let out = if mean.norm() > SAME { mean * (r / mean.norm()) } else { mean };
                    let (lo, hi) = ring.bounds();
                    let narrow = (hi.x - lo.x).min(hi.y - lo.y) / 2.0;
                    (out, narrow.min(8.0))
                }
            }
        }
        Shape::Ramp(_) => (Vec2::ZERO, 0.0),
        Shape::Edge(e) => {
            let (base, tip) = (s.at(e.base), s.at(e.tip));
            let t = (s.value(e.near) + s.value(e.far)) / 2.0;
            (base + (tip - base).unit() * t, 0.0)
        }
    }
}
