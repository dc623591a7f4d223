//! How far two versions of a part are apart.
//!
//! In: a sketch and two sets of values of its unknowns. Out: the greatest distance between their outlines and
//! features, and the difference of outline area.
//! Always true: the distance is taken both ways (no point of either is farther from the other).

use crate::sketch::{Deep, Loop, Shape, Sketch};
use turnleaf_geom::{Ring, Seg, Vec2};

/// Result of a comparison, mm and mm².
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Difference {
    /// Greatest distance, mm.
    pub worst: f64,
    /// Difference of the outline's area, mm².
    pub area: f64,
}

fn to_seg(p: Vec2, s: &Seg) -> f64 {
    match s {
        Seg::Line(a, b) => {
            let d = *b - *a;
            let t = if d.norm2() > 0.0 { ((p - *a).dot(d) / d.norm2()).clamp(0.0, 1.0) } else { 0.0 };
            p.dist(*a + d * t)
        }
        Seg::Arc(c) => {
            if c.covers((p - c.centre).angle()) {
                (p.dist(c.centre) - c.radius).abs()
            } else {
                p.dist(c.at(0.0)).min(p.dist(c.at(1.0)))
            }
        }
    }
}

/// Greatest distance of sampled points of `a` from `b`.
fn one_way(a: &Ring, b: &Ring) -> f64 {
    along(&a.segs().collect::<Vec<_>>(), &b.segs().collect::<Vec<_>>())
}

/// The same for chains of edges.
fn along(a: &[Seg], target: &[Seg]) -> f64 {
    let mut worst: f64 = 0.0;
    for s in a {
        let samples = if matches!(s, Seg::Arc(_)) { 16 } else { 4 };
        for k in 0..=samples {
            let t = k as f64 / samples as f64;
            let p = match s {
                Seg::Line(p, q) => p.lerp(*q, t),
                Seg::Arc(c) => c.at(t),
            };
            worst = worst.max(target.iter().map(|q| to_seg(p, q)).fold(f64::INFINITY, f64::min));
        }
    }
    worst
}

/// Compares two sets of values.
pub fn compare(s: &Sketch, a: &[f64], b: &[f64]) -> Difference {
    let mut d = Difference::default();
    let point = |x: &[f64], p: crate::rule::PointId| {
        let i = s.points[p.0].x.0;
        turnleaf_geom::vec2::v(x[i], x[i + 1])
    };
    let closed = |lp: &Loop| match lp {
        Loop::Circle(c) => {
            let c = &s.circles[c.0];
            point(a, c.centre).dist(point(b, c.centre)) + (a[c.radius.0] - b[c.radius.0]).abs()
        }
        Loop::Sides(_) => {
            let (p, q) = (s.ring(lp, a), s.ring(lp, b));
            one_way(&p, &q).max(one_way(&q, &p))
        }
    };
    if let Some(lp) = &s.outline {
        d.worst = closed(lp);
        d.area = (s.ring(lp, a).area() - s.ring(lp, b).area()).abs();
    }
    let see = |q: crate::rule::VarId, worst: &mut f64| *worst = worst.max((a[q.0] - b[q.0]).abs());
    if let Some(t) = s.thickness {
        see(t, &mut d.worst);
    }
    for f in &s.features {
        let deep = match &f.shape {
            Shape::Hole(c, deep) => {
                d.worst = d.worst.max(closed(&Loop::Circle(*c)));
                *deep
            }
            Shape::Slot(p, q, w, deep) => {
                let ends = point(a, *p).dist(point(b, *p)).max(point(a, *q).dist(point(b, *q)));
                d.worst = d.worst.max(ends + (a[w.0] - b[w.0]).abs() / 2.0);
                *deep
            }
            Shape::Way(w, deep) => {
                // What a cutter sweeps along two ways differs by no more than the ways and half the widths do.
                let line = |x: &[f64]| -> Vec<Seg> {
                    s.centre_line(w, x).windows(2).map(|q| Seg::between(q[0], q[1].p)).collect()
                };
                let (p, q) = (line(a), line(b));
                let ways = along(&p, &q).max(along(&q, &p));
                d.worst = d.worst.max(ways + (a[w.width.0] - b[w.width.0]).abs() / 2.0);
                *deep
            }
            Shape::Pocket(lp, deep) => {
                d.worst = d.worst.max(closed(lp));
                *deep
            }
            Shape::Ramp(r) => {
                for q in [r.low, r.high, r.run] {
                    see(q, &mut d.worst);
                }
                // A radius that is off moves the slope line by less than the share that the slope is steep.
                let steep = s.value(r.high) / s.value(r.run).max(1.0);
                for q in [r.foot, r.head] {
                    d.worst = d.worst.max((a[q.0] - b[q.0]).abs() * steep);
                }
                Deep::Through
            }
            Shape::Edge(w) => {
                for q in [w.near, w.far, w.depth, w.z0, w.z1] {
                    see(q, &mut d.worst);
                }
                Deep::Through
            }
        };
        if let Deep::Blind(_, q) = deep {
            see(q, &mut d.worst);
        }
    }
    d
}
