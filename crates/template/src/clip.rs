//! Cuts edges at the sides of a box.
//!
//! In: a straight or round edge, a box. Out: the stretches of it inside the box.
//! Always true: stretches lie on the edge itself; their ends are its own ends or its meetings with the box's
//! sides; a stretch shorter than [`LEAST`] is dropped.

use turnleaf_geom::{Arc, Seg, Vec2, trig};

/// Shortest stretch that is kept, mm.
pub const LEAST: f64 = 1e-6;

/// A box with sides along the axes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Frame {
    /// Least corner.
    pub lo: Vec2,
    /// Greatest corner.
    pub hi: Vec2,
}

impl Frame {
    /// Whether a point lies inside or on the box.
    pub fn holds(&self, p: Vec2) -> bool {
        p.x >= self.lo.x && p.x <= self.hi.x && p.y >= self.lo.y && p.y <= self.hi.y
    }
    /// Grown on all sides.
    pub fn grown(&self, by: f64) -> Frame {
        let d = Vec2 { x: by, y: by };
        Frame { lo: self.lo - d, hi: self.hi + d }
    }
}

/// Fractions of the edge at which it may enter or leave the box, ends included, in order.
fn fractions(seg: &Seg, frame: &Frame) -> Vec<f64> {
    let mut out = vec![0.0, 1.0];
    match seg {
        Seg::Line(a, b) => {
            let d = *b - *a;
            for (from, along, walls) in
                [(a.x, d.x, [frame.lo.x, frame.hi.x]), (a.y, d.y, [frame.lo.y, frame.hi.y])]
            {
                if along != 0.0 {
                    out.extend(walls.map(|w| (w - from) / along));
                }
            }
        }
        Seg::Arc(arc) => {
            let mut at = |angle: f64| {
                let tau = core::f64::consts::TAU;
                let mut turn = (angle - arc.start) * arc.sweep.signum();
                turn -= (turn / tau).floor() * tau;
                out.push(turn / arc.sweep.abs());
            };
            for wall in [frame.lo.x, frame.hi.x] {
                let c = (wall - arc.centre.x) / arc.radius;
                if c.abs() <= 1.0 {
                    let a = trig::acos(c);
                    at(a);
                    at(-a);
                }
            }
            for wall in [frame.lo.y, frame.hi.y] {
                let s = (wall - arc.centre.y) / arc.radius;
                if s.abs() <= 1.0 {
                    let a = trig::asin(s);
                    at(a);
                    at(core::f64::consts::PI - a);
                }
            }
        }
    }
    out.retain(|t| (0.0..=1.0).contains(t));
    out.sort_by(f64::total_cmp);
    out
}

fn point(seg: &Seg, t: f64) -> Vec2 {
    match seg {
        Seg::Line(a, b) => a.lerp(*b, t),
        Seg::Arc(arc) => arc.at(t),
    }
}

fn stretch(seg: &Seg, from: f64, to: f64) -> Seg {
    match seg {
        _ if from <= 0.0 && to >= 1.0 => *seg,
        Seg::Line(a, b) => Seg::Line(a.lerp(*b, from), a.lerp(*b, to)),
        Seg::Arc(arc) => {
            Seg::Arc(Arc { start: arc.start + arc.sweep * from, sweep: arc.sweep * (to - from), ..*arc })
        }
    }
}

/// The stretches of an edge inside a box.
pub fn clip(seg: &Seg, frame: &Frame) -> Vec<Seg> {
    let cuts = fractions(seg, frame);
    let length = seg.length();
    let mut out: Vec<(f64, f64)> = Vec::new();
    for pair in cuts.windows(2) {
        let (from, to) = (pair[0], pair[1]);
        if to <= from || !frame.holds(point(seg, (from + to) / 2.0)) {
            continue;
        }
        match out.last_mut() {
            Some(last) if last.1 == from => last.1 = to,
            _ => out.push((from, to)),
        }
    }
    out.into_iter().filter(|(a, b)| (b - a) * length > LEAST).map(|(a, b)| stretch(seg, a, b)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use turnleaf_geom::vec2::v;

    const BOX: Frame = Frame { lo: v(0.0, 0.0), hi: v(10.0, 10.0) };

    /// Elementary geometry: a circle of radius 6 about the middle of a square of side 10 leaves it between the
    /// angles with cosine 5/6, so 8·(45° − acos(5/6)) of it remain.
    #[test]
    fn a_circle_leaves_a_square_four_times() {
        let arc = Arc { centre: v(5.0, 5.0), radius: 6.0, start: 0.7, sweep: core::f64::consts::TAU };
        let got = clip(&Seg::Arc(arc), &BOX);
        let total: f64 = got.iter().map(Seg::length).sum();
        let expected = 8.0 * 6.0 * (core::f64::consts::FRAC_PI_4 - trig::acos(5.0 / 6.0));
        assert!((total - expected).abs() < 1e-9, "{total} for {expected}");
        assert_eq!(got.len(), 5, "four corners, one of them cut where the arc begins");
    }

    #[test]
    fn lines_are_cut_at_the_walls_and_outside_nothing_is_left() {
        let through = clip(&Seg::Line(v(-5.0, 5.0), v(15.0, 5.0)), &BOX);
        assert_eq!(through, [Seg::Line(v(0.0, 5.0), v(10.0, 5.0))]);
        assert!(clip(&Seg::Line(v(-5.0, 11.0), v(15.0, 11.0)), &BOX).is_empty());
        assert_eq!(clip(&Seg::Line(v(1.0, 1.0), v(2.0, 3.0)), &BOX).len(), 1);
    }
}
