//! Parts of a view: details and broken views.
//!
//! In: a view and a window, or a stretch to leave out. Out: the strokes within, curves kept as curves.
//!
//! Always true: coordinates stay those of the whole view, except that the far part of a broken view
//! moves nearer by the length left out.

use crate::curve::{Curve2, EllipseArc, Stroke2, View};
use crate::flat::{Bow, Flat, crossings};
use core::f64::consts::PI;
use turnleaf_geom::{Arc, Vec2, vec2::v};

/// What a detail shows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Window {
    /// Everything within a circle.
    Circle {
        /// Its centre.
        centre: Vec2,
        /// Its radius.
        radius: f64,
    },
    /// Everything within an upright oblong.
    Oblong {
        /// Lower left corner.
        min: Vec2,
        /// Upper right corner.
        max: Vec2,
    },
}

/// Along which axis a long view is broken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Axis {
    /// Along view x.
    X,
    /// Along view y.
    Y,
}

impl Window {
    fn holds(&self, p: Vec2) -> bool {
        match *self {
            Window::Circle { centre, radius } => p.dist(centre) <= radius,
            Window::Oblong { min, max } => p.x >= min.x && p.x <= max.x && p.y >= min.y && p.y <= max.y,
        }
    }
    fn sides(&self) -> Vec<Flat> {
        match *self {
            Window::Circle { centre, radius } => {
                let bow = |start| Bow { c: centre, p: v(radius, 0.0), q: v(0.0, radius), start, sweep: PI };
                let (a, b) = (centre + v(radius, 0.0), centre - v(radius, 0.0));
                vec![Flat::bow(bow(0.0), a, b), Flat::bow(bow(PI), b, a)]
            }
            Window::Oblong { min, max } => {
                let (b, d) = (v(max.x, min.y), v(min.x, max.y));
                [(min, b), (b, max), (max, d), (d, min)].map(|(p, q)| Flat::line(p, q)).to_vec()
            }
        }
    }
}

impl Curve2 {
    /// The stretch between two fractions of the parameter.
    pub fn part(&self, t0: f64, t1: f64) -> Curve2 {
        match *self {
            Curve2::Line(a, b) => Curve2::Line(a.lerp(b, t0), a.lerp(b, t1)),
            Curve2::Arc(c) => {
                Curve2::Arc(Arc { start: c.start + c.sweep * t0, sweep: c.sweep * (t1 - t0), ..c })
            }
            Curve2::Ellipse(e) => {
                Curve2::Ellipse(EllipseArc { start: e.start + e.sweep * t0, sweep: e.sweep * (t1 - t0), ..e })
            }
        }
    }
    /// Moved by a shift.
    pub fn shifted(&self, by: Vec2) -> Curve2 {
        match *self {
            Curve2::Line(a, b) => Curve2::Line(a + by, b + by),
            Curve2::Arc(c) => Curve2::Arc(Arc { centre: c.centre + by, ..c }),
            Curve2::Ellipse(e) => Curve2::Ellipse(EllipseArc { centre: e.centre + by, ..e }),
        }
    }
    /// The curve as pieces the crossing finder can take (180° at the most), with their fractions.
    fn pieces(&self) -> Vec<(f64, f64, Flat)> {
        let (c, p, q, start, sweep) = match *self {
            Curve2::Line(a, b) => return vec![(0.0, 1.0, Flat::line(a, b))],
            Curve2::Arc(c) => (c.centre, v(c.radius, 0.0), v(0.0, c.radius), c.start, c.sweep),
            Curve2::Ellipse(e) => (e.centre, e.major, e.minor(), e.start, e.sweep),
        };
        let n = (sweep.abs() / (0.75 * PI)).ceil().max(1.0);
        (0..n as usize)
            .map(|i| {
                let (t0, t1) = (i as f64 / n, (i as f64 + 1.0) / n);
                let bow = Bow { c, p, q, start: start + sweep * t0, sweep: sweep / n };
                (t0, t1, Flat::bow(bow, self.at(t0), self.at(t1)))
            })
            .collect()
    }
}

fn clip(strokes: &[Stroke2], window: &Window, by: Vec2, out: &mut Vec<Stroke2>) {
    let sides = window.sides();
    let mut found = Vec::new();
    for s in strokes {
        let mut cuts = vec![0.0, 1.0];
        for (t0, t1, flat) in s.curve.pieces() {
            found.clear();
            sides.iter().filter(|side| side.near(&flat)).for_each(|side| crossings(&flat, side, &mut found));
            cuts.extend(found.iter().map(|t| t0 + (t1 - t0) * t).filter(|t| *t > 0.0 && *t < 1.0));
        }
        cuts.sort_by(f64::total_cmp);
        let mut from: Option<f64> = None;
        for pair in cuts.windows(2) {
            let inside = window.holds(s.curve.at(0.5 * (pair[0] + pair[1])));
            if inside && from.is_none() {
                from = Some(pair[0]);
            }
            let ends = !inside || pair[1] >= 1.0;
            let end = if inside { pair[1] } else { pair[0] };
            if let (Some(start), true) = (from, ends) {
                from = None;
                let curve = s.curve.part(start, end).shifted(by);
                if curve.length() > 1e-3 {
                    out.push(Stroke2 { curve, ..*s });
                }
            }
        }
    }
}

impl View {
    /// The part of the view within a window, for a detail at a larger scale.
    pub fn within(&self, window: &Window) -> View {
        let mut view = View { bodies: self.bodies.clone(), ..View::default() };
        clip(&self.visible, window, Vec2::ZERO, &mut view.visible);
        clip(&self.hidden, window, Vec2::ZERO, &mut view.hidden);
        view.measure();
        view
    }
    /// The view with the stretch from `from` to `to` along an axis left out and the far part moved
    /// up to `gap` mm from the near one. Break lines go along the two edges of that gap.
    pub fn broken(&self, axis: Axis, from: f64, to: f64, gap: f64) -> View {
        let far = 1e9;
        let (near_end, far_start, back) = match axis {
            Axis::X => (v(from, far), v(to, -far), v(from + gap - to, 0.0)),
            Axis::Y => (v(far, from), v(-far, to), v(0.0, from + gap - to)),
        };
        let parts = [
            (Window::Oblong { min: v(-far, -far), max: near_end }, Vec2::ZERO),
            (Window::Oblong { min: far_start, max: v(far, far) }, back),
        ];
        let mut view = View { bodies: self.bodies.clone(), ..View::default() };
        for (window, by) in &parts {
            clip(&self.visible, window, *by, &mut view.visible);
            clip(&self.hidden, window, *by, &mut view.hidden);
        }
        view.measure();
        view
    }
}
