//! Small drawing steps: strokes, arrows, arcs, text.
//!
//! In: points and sizes on paper. Out: page items.
//! Always true: line widths are of the ISO 128 series in the ratio 2 : 1; arrows are filled, three times as
//! long as wide (ISO 129-1 allows 15° to 90°; 3 : 1 is about 19°).

use turnleaf_geom::{Arc, Ring, Seg, Vec2, trig};
use turnleaf_page::{Anchor, Colour, Item, Pt, Step, Stroke, Text, pt};
use turnleaf_text::{size_for_cap_height, width};

/// Sizes of what is drawn, mm on paper.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Style {
    /// Height of capitals and figures: 2.5 or 3.5 (ISO 3098 series).
    pub cap: f64,
    /// Visible edges.
    pub wide: f64,
    /// Dimension, extension, centre and hidden lines: half of `wide`.
    pub narrow: f64,
    /// Gap between an outline and its extension line.
    pub gap: f64,
    /// How far an extension line passes its dimension line: 8 narrow lines (ISO 129-1).
    pub overrun: f64,
    /// From the outline to the first dimension line.
    pub first: f64,
    /// From one dimension line to the next.
    pub next: f64,
    /// Length of an arrow.
    pub arrow: f64,
}

impl Style {
    /// For A4 and Letter: 2.5 mm figures, 0.25 mm lines.
    pub const SMALL: Style = Style {
        cap: 2.5,
        wide: 0.5,
        narrow: 0.25,
        gap: 1.0,
        overrun: 2.0,
        first: 10.0,
        next: 8.0,
        arrow: 2.5,
    };
    /// For larger sheets: 3.5 mm figures, 0.35 mm lines.
    pub const LARGE: Style = Style {
        cap: 3.5,
        wide: 0.7,
        narrow: 0.35,
        gap: 1.4,
        overrun: 2.8,
        first: 10.0,
        next: 8.0,
        arrow: 3.5,
    };

    /// From a line up to the baseline of the text above it: descenders (0.41 of the capitals) and half an arrow.
    pub fn lift(&self) -> f64 {
        0.41 * self.cap + 0.5
    }
    /// Font size for figures.
    pub fn size(&self) -> f64 {
        size_for_cap_height(self.cap)
    }
    /// Width of a line of figures.
    pub fn width(&self, text: &str) -> f64 {
        width(text, self.size(), turnleaf_page::Face::Regular)
    }
    /// Pen for visible edges.
    pub fn visible(&self) -> Stroke {
        Stroke::solid(self.wide)
    }
    /// Pen for dimension and extension lines.
    pub fn thin(&self) -> Stroke {
        Stroke { round: false, ..Stroke::solid(self.narrow) }
    }
    /// Pen for hidden edges: dashes 12 d, gaps 3 d (ISO 128-2).
    pub fn hidden(&self) -> Stroke {
        let d = self.narrow;
        Stroke { dash: vec![12.0 * d, 3.0 * d], ..self.thin() }
    }
    /// Pen for centre lines: dashes 24 d, gaps 3 d, dots half a d (ISO 128-2; the dot drawn as one d).
    pub fn centre(&self) -> Stroke {
        let d = self.narrow;
        Stroke { dash: vec![24.0 * d, 3.0 * d, d, 3.0 * d], ..self.thin() }
    }
    /// Pen for short centre lines: the same with dashes a third as long, so that a cross still shows a dash.
    pub fn centre_short(&self) -> Stroke {
        let d = self.narrow;
        Stroke { dash: vec![8.0 * d, 2.0 * d, d, 2.0 * d], ..self.thin() }
    }
}

/// A straight line.
pub fn line(a: Pt, b: Pt, stroke: Stroke) -> Item {
    Item::Path { steps: vec![Step::Move(a), Step::Line(b)], stroke: Some(stroke), fill: None }
}

/// A filled arrow head with its tip at `tip`, pointing along (dx, dy).
pub fn arrow(tip: Pt, dx: f64, dy: f64, length: f64) -> Item {
    let n = trig::hypot(dx, dy).max(1e-12);
    let (ux, uy) = (dx / n, dy / n);
    let half = length / 6.0;
    let back = pt(tip.x - ux * length, tip.y - uy * length);
    Item::Path {
        steps: vec![
            Step::Move(tip),
            Step::Line(pt(back.x - uy * half, back.y + ux * half)),
            Step::Line(pt(back.x + uy * half, back.y - ux * half)),
            Step::Close,
        ],
        stroke: None,
        fill: Some(Colour::BLACK),
    }
}

/// Text with the middle of its baseline at `at`.
pub fn text(at: Pt, style: &Style, words: &str, turn: f64) -> Item {
    Item::Text(Text::new(at, style.size(), words).anchor(Anchor::Middle).rotate(turn))
}

/// Steps along an arc from a current point: cubics of at most a sixth of a turn (error below 3e-5 of the radius).
pub fn arc_steps(arc: &Arc, place: &dyn Fn(Vec2) -> Pt, out: &mut Vec<Step>) {
    let pieces = ((arc.sweep.abs() / (core::f64::consts::PI / 3.0)).ceil() as usize).max(1);
    let sweep = arc.sweep / pieces as f64;
    let k = 4.0 / 3.0 * trig::tan(sweep / 4.0) * arc.radius;
    for i in 0..pieces {
        let a = arc.start + sweep * i as f64;
        let b = a + sweep;
        let (p, q) = (arc.centre + Vec2::polar(arc.radius, a), arc.centre + Vec2::polar(arc.radius, b));
        let (u, w) = (Vec2::polar(1.0, a).perp(), Vec2::polar(1.0, b).perp());
        out.push(Step::Cubic(place(p + u * k), place(q - w * k), place(q)));
    }
}

/// A closed outline.
pub fn ring_steps(ring: &Ring, place: &dyn Fn(Vec2) -> Pt) -> Vec<Step> {
    let mut out = Vec::new();
    for (i, s) in ring.segs().enumerate() {
        if i == 0 {
            out.push(Step::Move(place(s.start())));
        }
        match s {
            Seg::Line(_, b) => out.push(Step::Line(place(b))),
            Seg::Arc(a) => arc_steps(&a, place, &mut out),
        }
    }
    out.push(Step::Close);
    out
}

/// An open stretch of edges.
pub fn open_steps(segs: &[Seg], place: &dyn Fn(Vec2) -> Pt) -> Vec<Step> {
    let mut out = Vec::new();
    for (i, s) in segs.iter().enumerate() {
        if i == 0 {
            out.push(Step::Move(place(s.start())));
        }
        match s {
            Seg::Line(_, b) => out.push(Step::Line(place(*b))),
            Seg::Arc(a) => arc_steps(a, place, &mut out),
        }
    }
    out
}
