//! The bridge to paper. In: a view, a place and a scale. Out: page items with pens by ISO 128.
//!
//! Always true: paper mm, y down; lines become lines, arcs cubics that stray from them by less than
//! a ten-thousandth of the radius; one group a body, visible strokes after hidden ones.

use crate::curve::{Curve2, EdgeKind, Stroke2, View};
use crate::section::HatchLine;
use turnleaf_geom::{Vec2, trig, vec2::v};
use turnleaf_page::{Item, Pt, Role, Step, Stroke, pt};

/// The two line widths of a drawing, mm. ISO 128-2: wide to narrow as 2 to 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Widths {
    /// Visible edges.
    pub wide: f64,
    /// Hidden edges, traces, hatching.
    pub narrow: f64,
}

impl Default for Widths {
    fn default() -> Self {
        Widths { wide: 0.5, narrow: 0.25 }
    }
}

/// Where a view stands on paper.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Placement {
    /// Paper place of the view's origin.
    pub at: Pt,
    /// Paper mm per mm of the view.
    pub scale: f64,
}

impl Placement {
    /// Where a point of the view lies on paper.
    pub fn point(&self, p: Vec2) -> Pt {
        pt(self.at.x + p.x * self.scale, self.at.y - p.y * self.scale)
    }
}

/// The pen for an edge: wide and continuous in sight; narrow and dashed behind something (dash 12,
/// gap 3 line widths, ISO 128-2); narrow long-dashed dotted for traces (24, 3, dot, 3).
pub fn pen(kind: EdgeKind, hidden: bool, widths: &Widths) -> Stroke {
    let d = widths.narrow;
    let (width, dash) = match (kind, hidden) {
        (EdgeKind::Trace, _) => (d, vec![24.0 * d, 3.0 * d, 0.5 * d, 3.0 * d]),
        (_, true) => (d, vec![12.0 * d, 3.0 * d]),
        (EdgeKind::Smooth, false) => (d, Vec::new()),
        (EdgeKind::Outline | EdgeKind::Silhouette, false) => (widths.wide, Vec::new()),
    };
    // Round ends would eat the gaps of a dashed line.
    Stroke { round: dash.is_empty(), dash, ..Stroke::solid(width) }
}

/// The whole view as page items, one group for each body and pen.
pub fn items(view: &View, placement: &Placement, widths: &Widths) -> Vec<Item> {
    let mut out = Vec::new();
    for (strokes, hidden) in [(&view.hidden, true), (&view.visible, false)] {
        for (body, tag) in view.bodies.iter().enumerate() {
            // Outlines and silhouettes share a pen.
            let passes: [&[EdgeKind]; 3] =
                [&[EdgeKind::Smooth], &[EdgeKind::Outline, EdgeKind::Silhouette], &[EdgeKind::Trace]];
            let mut paths = Vec::new();
            for kinds in passes {
                let mut steps = Vec::new();
                for s in strokes.iter().filter(|s| s.body == body && kinds.contains(&s.kind)) {
                    push(s, placement, &mut steps);
                }
                if !steps.is_empty() {
                    paths.push(Item::Path { steps, stroke: Some(pen(kinds[0], hidden, widths)), fill: None });
                }
            }
            if !paths.is_empty() {
                let (role, word) = if hidden { (Role::Plain, "hidden") } else { (Role::Outline, "visible") };
                let id = Some(format!("{}/{word}", tag.id));
                out.push(Item::Group { role, origin: None, id, items: paths });
            }
        }
    }
    out
}

/// Hatching as one narrow path.
pub fn hatch_item(lines: &[HatchLine], placement: &Placement, widths: &Widths) -> Item {
    let steps = lines
        .iter()
        .flat_map(|l| [Step::Move(placement.point(l.a)), Step::Line(placement.point(l.b))])
        .collect();
    Item::Path { steps, stroke: Some(Stroke::solid(widths.narrow)), fill: None }
}

/// Adds the steps of a stroke.
pub fn push(stroke: &Stroke2, placement: &Placement, out: &mut Vec<Step>) {
    out.push(Step::Move(placement.point(stroke.curve.start())));
    let (centre, p, q, start, sweep) = match stroke.curve {
        Curve2::Line(_, b) => {
            out.push(Step::Line(placement.point(b)));
            return;
        }
        Curve2::Arc(c) => (c.centre, v(c.radius, 0.0), v(0.0, c.radius), c.start, c.sweep),
        Curve2::Ellipse(e) => (e.centre, e.major, e.minor(), e.start, e.sweep),
    };
    // Steps of at most 45°: the cubic then strays by 4e-6 of the radius.
    let n = ((sweep.abs() / (core::f64::consts::PI / 4.0)) - 1e-9).ceil().max(1.0);
    let step = sweep / n;
    let k = 4.0 / 3.0 * trig::tan(step / 4.0);
    let at = |theta: f64| {
        let (s, c) = trig::sin_cos(theta);
        (centre + p * c + q * s, q * c - p * s)
    };
    for i in 0..n as usize {
        let (a, da) = at(start + step * i as f64);
        let (b, db) = at(start + step * (i + 1) as f64);
        out.push(Step::Cubic(placement.point(a + da * k), placement.point(b - db * k), placement.point(b)));
    }
}
