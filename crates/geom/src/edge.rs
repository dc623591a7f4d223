//! One straight or round edge in the form that distance and contact questions want.
//!
//! In: two corners and a bulge, or a [`Seg`]. Out: nearest points, crossings, boxes, all in closed form.
//! Always true: no trigonometry is needed to ask a distance; whether a direction falls inside an arc
//! is decided by its cosine against the arc's middle direction.
//! An arc flatter than [`FLAT`] is taken as its chord. Radii beyond about 1e6 mm lose digits
//! (the spacing of f64 there is 1e-10 mm); tables are a thousand times smaller.

use crate::ring::{Seg, Vertex};
use crate::trig;
use crate::vec2::{Pose2, Vec2, v};

/// Sagitta in mm below which an arc is taken as straight. Larger: distances off by as much;
/// smaller: radii so large that their centres lose all digits.
pub const FLAT: f64 = 1e-11;

/// Distance in mm within which a computed crossing must lie on both edges to count as one.
const SAME: f64 = 1e-10;

/// Bulge below which an arc's sweep is told by its sine: at 1e-5 the cosine of half of it is 1 - 2e-10.
const NEARLY_FLAT: f64 = 1e-5;

/// The round part of an edge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Round {
    /// Centre.
    pub c: Vec2,
    /// Radius.
    pub r: f64,
    /// Unit direction from the centre to the middle of the arc.
    pub mid: Vec2,
    /// Cosine of half the sweep.
    pub cos_half: f64,
    /// tan(sweep/4), as in [`Vertex`].
    pub bulge: f64,
}

/// A straight or round edge from `a` to `b`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Edge {
    /// First point.
    pub a: Vec2,
    /// Last point.
    pub b: Vec2,
    /// Present when the edge is an arc.
    pub round: Option<Round>,
}

/// Two points and their squared distance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Near {
    /// Squared distance, mm².
    pub d2: f64,
    /// The point on the first thing.
    pub p: Vec2,
    /// The point on the second thing.
    pub q: Vec2,
}

impl Near {
    fn of(p: Vec2, q: Vec2) -> Near {
        Near { d2: (p - q).norm2(), p, q }
    }
    fn keep(&mut self, o: Near) {
        if o.d2 < self.d2 {
            *self = o;
        }
    }
    fn swapped(self) -> Near {
        Near { d2: self.d2, p: self.q, q: self.p }
    }
}

impl Round {
    /// Whether the direction from the centre falls inside the arc.
    #[inline]
    fn covers(&self, dir: Vec2) -> bool {
        if self.bulge.abs() < NEARLY_FLAT {
            // The cosine of so small a sweep is 1 to the last digit; its sine is not.
            let sin_half = 2.0 * self.bulge.abs() / (1.0 + self.bulge * self.bulge);
            return dir.dot(self.mid) > 0.0 && dir.cross(self.mid).abs() <= sin_half * dir.norm();
        }
        dir.dot(self.mid) >= self.cos_half * dir.norm()
    }
}

/// Up to two points.
pub(crate) type UpToTwo = [Option<Vec2>; 2];

/// Where the circle meets the endless line through `a` along `d`.
pub(crate) fn circle_line(c: Vec2, r: f64, a: Vec2, d: Vec2) -> UpToTwo {
    let n2 = d.norm2();
    if n2 == 0.0 {
        return [None, None];
    }
    let foot = a + d * ((c - a).dot(d) / n2);
    let h2 = r * r - (foot - c).norm2();
    if h2 < 0.0 {
        return [None, None];
    }
    let step = d * (h2 / n2).sqrt();
    [Some(foot - step), Some(foot + step)]
}

/// Where two circles meet; none when they are concentric.
pub(crate) fn circle_circle(c1: Vec2, r1: f64, c2: Vec2, r2: f64) -> UpToTwo {
    if r1 > r2 {
        // Measured from the smaller circle, so that a very flat other one costs no digits.
        return circle_circle(c2, r2, c1, r1);
    }
    let d = c2 - c1;
    let n2 = d.norm2();
    if n2 == 0.0 {
        return [None, None];
    }
    let n = n2.sqrt();
    // How far from the first centre towards the second the common chord crosses.
    let along = ((n - r2) * (n + r2) + r1 * r1) / (2.0 * n);
    let h2 = (r1 - along) * (r1 + along);
    if h2 < 0.0 {
        return [None, None];
    }
    let u = d * (1.0 / n);
    let (foot, step) = (c1 + u * along, u.perp() * h2.sqrt());
    [Some(foot - step), Some(foot + step)]
}

impl Edge {
    /// The edge between two corners, with the bulge of the first.
    pub fn new(from: Vertex, b: Vec2) -> Edge {
        let a = from.p;
        let t = from.bulge;
        let chord = b - a;
        let len = chord.norm();
        if t == 0.0 || t.abs() * len * 0.5 < FLAT {
            return Edge { a, b, round: None };
        }
        let c = a + chord * 0.5 + chord.perp() * ((1.0 - t * t) / (4.0 * t));
        let r = len * (1.0 + t * t) / (4.0 * t.abs());
        let out = chord.perp() * (-t.signum() / len);
        let cos_half = (1.0 - t * t) / (1.0 + t * t);
        Edge { a, b, round: Some(Round { c, r, mid: out, cos_half, bulge: t }) }
    }

    /// The same edge as a [`Seg`].
    pub fn from_seg(s: &Seg) -> Edge {
        match s {
            Seg::Line(a, b) => Edge { a: *a, b: *b, round: None },
            Seg::Arc(k) => {
                let half = k.sweep / 2.0;
                let mid = Vec2::polar(1.0, k.start + half);
                let bulge = trig::tan(k.sweep / 4.0);
                let (a, b) = (k.at(0.0), k.at(1.0));
                // Of a whole turn or more, every direction counts.
                let cos_half = if half.abs() >= core::f64::consts::PI { -1.0 } else { trig::cos(half) };
                Edge { a, b, round: Some(Round { c: k.centre, r: k.radius, mid, cos_half, bulge }) }
            }
        }
    }

    /// Moved by a rigid motion.
    #[inline]
    pub fn moved(&self, pose: &Pose2) -> Edge {
        Edge {
            a: pose.apply(self.a),
            b: pose.apply(self.b),
            round: self.round.map(|k| Round { c: pose.apply(k.c), mid: pose.turn(k.mid), ..k }),
        }
    }

    /// The bulge: 0 for a straight edge.
    pub fn bulge(&self) -> f64 {
        self.round.map_or(0.0, |k| k.bulge)
    }

    /// The point at fraction `t` of the length.
    pub fn at(&self, t: f64) -> Vec2 {
        match self.round {
            None => self.a.lerp(self.b, t),
            Some(k) => {
                // Turned from the middle, where no angle has to be measured first.
                let turn = 4.0 * trig::atan(k.bulge) * (t - 0.5);
                k.c + k.mid.rot(turn) * k.r
            }
        }
    }

    /// Fraction of the length at which a point of the edge lies.
    pub fn fraction(&self, p: Vec2) -> f64 {
        match self.round {
            None => {
                let d = self.b - self.a;
                let n2 = d.norm2();
                if n2 == 0.0 { 0.0 } else { (p - self.a).dot(d) / n2 }
            }
            Some(k) => {
                let dir = p - k.c;
                let from_mid = trig::atan2(k.mid.cross(dir), k.mid.dot(dir));
                0.5 + from_mid / (4.0 * trig::atan(k.bulge))
            }
        }
    }

    /// Unit direction of travel at a point of the edge.
    pub fn tangent(&self, p: Vec2) -> Vec2 {
        match self.round {
            None => (self.b - self.a).unit(),
            Some(k) => (p - k.c).unit().perp() * k.bulge.signum(),
        }
    }

    /// Length along the edge.
    pub fn length(&self) -> f64 {
        match self.round {
            None => self.a.dist(self.b),
            Some(k) => k.r * 4.0 * trig::atan(k.bulge).abs(),
        }
    }

    /// Smallest box: (min, max).
    pub fn bounds(&self) -> (Vec2, Vec2) {
        let mut lo = v(self.a.x.min(self.b.x), self.a.y.min(self.b.y));
        let mut hi = v(self.a.x.max(self.b.x), self.a.y.max(self.b.y));
        if let Some(k) = self.round {
            for dir in [v(1.0, 0.0), v(0.0, 1.0), v(-1.0, 0.0), v(0.0, -1.0)] {
                if k.covers(dir) {
                    let p = k.c + dir * k.r;
                    lo = v(lo.x.min(p.x), lo.y.min(p.y));
                    hi = v(hi.x.max(p.x), hi.y.max(p.y));
                }
            }
        }
        (lo, hi)
    }

    /// The point of the edge nearest to `p` (as `q`), with `p` itself.
    #[inline]
    pub fn nearest(&self, p: Vec2) -> Near {
        match self.round {
            None => {
                let d = self.b - self.a;
                let along = (p - self.a).dot(d);
                let n2 = d.norm2();
                if along <= 0.0 {
                    Near::of(p, self.a)
                } else if along >= n2 {
                    Near::of(p, self.b)
                } else {
                    Near::of(p, self.a + d * (along / n2))
                }
            }
            Some(k) => {
                let dir = p - k.c;
                let n2 = dir.norm2();
                if n2 > 0.0 && k.covers(dir) {
                    let n = n2.sqrt();
                    let gap = n - k.r;
                    return Near { d2: gap * gap, p, q: k.c + dir * (k.r / n) };
                }
                let (to_a, to_b) = (Near::of(p, self.a), Near::of(p, self.b));
                if to_a.d2 <= to_b.d2 { to_a } else { to_b }
            }
        }
    }

    /// The nearest pair of points of two edges; squared distance 0 where they cross.
    #[inline]
    pub fn closest(&self, o: &Edge) -> Near {
        match (self.round, o.round) {
            (None, None) => self.line_line(o),
            (None, Some(k)) => self.line_arc(o, &k),
            (Some(k), None) => o.line_arc(self, &k).swapped(),
            (Some(k), Some(m)) => self.arc_arc(o, &k, &m),
        }
    }

    fn ends(&self, o: &Edge) -> Near {
        let mut best = o.nearest(self.a);
        best.keep(o.nearest(self.b));
        best.keep(self.nearest(o.a).swapped());
        best.keep(self.nearest(o.b).swapped());
        best
    }

    fn line_line(&self, o: &Edge) -> Near {
        let (d, e, w) = (self.b - self.a, o.b - o.a, o.a - self.a);
        let den = d.cross(e);
        if den != 0.0 {
            let (t, u) = (w.cross(e) / den, w.cross(d) / den);
            if (0.0..=1.0).contains(&t) && (0.0..=1.0).contains(&u) {
                // Between nearly parallel lines t and u are noise: see whether the point is on both.
                let p = self.a + d * t;
                if o.nearest(p).d2 <= SAME * SAME {
                    return Near { d2: 0.0, p, q: p };
                }
            }
        }
        // Two lines that do not cross are nearest at an end of one of them.
        self.ends(o)
    }

    fn line_arc(&self, o: &Edge, k: &Round) -> Near {
        let d = self.b - self.a;
        let n2 = d.norm2();
        let mut best = self.ends(o);
        if n2 > 0.0 {
            let t = (k.c - self.a).dot(d) / n2;
            let foot = self.a + d * t;
            let away = foot - k.c;
            let h2 = k.r * k.r - away.norm2();
            if h2 >= 0.0 {
                let dt = (h2 / n2).sqrt();
                for s in [t - dt, t + dt] {
                    if (0.0..=1.0).contains(&s) {
                        let p = self.a + d * s;
                        if k.covers(p - k.c) {
                            return Near { d2: 0.0, p, q: p };
                        }
                    }
                }
            } else if (0.0..=1.0).contains(&t) && k.covers(away) {
                best.keep(o.nearest(foot));
            }
        }
        best
    }

    fn arc_arc(&self, o: &Edge, k: &Round, m: &Round) -> Near {
        for p in circle_circle(k.c, k.r, m.c, m.r).into_iter().flatten() {
            if k.covers(p - k.c) && m.covers(p - m.c) {
                return Near { d2: 0.0, p, q: p };
            }
        }
        let mut best = self.ends(o);
        let d = m.c - k.c;
        let n = d.norm();
        if n > 0.0 {
            // Inner points of both arcs can only be nearest along the line of centres.
            let u = d * (1.0 / n);
            for s in [u, -u] {
                if k.covers(s) {
                    let p = k.c + s * k.r;
                    best.keep(o.nearest(p));
                }
            }
        }
        best
    }

    /// Points where two edges meet by crossing or touching, as far as their curves have single common
    /// points (edges that run along each other give none).
    pub(crate) fn meets(&self, o: &Edge) -> UpToTwo {
        let keep = |p: &Vec2| {
            // Between nearly parallel lines the point is noise unless it lies on both.
            let straight = self.round.is_none() && o.round.is_none();
            let on = |e: &Edge| match e.round {
                Some(k) => k.covers(*p - k.c),
                None if straight => e.nearest(*p).d2 <= SAME * SAME,
                None => {
                    let d = e.b - e.a;
                    (0.0..=d.norm2()).contains(&(*p - e.a).dot(d))
                }
            };
            on(self) && on(o)
        };
        let pts = match (self.round, o.round) {
            (None, None) => {
                let (d, e, w) = (self.b - self.a, o.b - o.a, o.a - self.a);
                let den = d.cross(e);
                if den == 0.0 { [None, None] } else { [Some(self.a + d * (w.cross(e) / den)), None] }
            }
            (None, Some(k)) => circle_line(k.c, k.r, self.a, self.b - self.a),
            (Some(k), None) => circle_line(k.c, k.r, o.a, o.b - o.a),
            (Some(k), Some(m)) => circle_circle(k.c, k.r, m.c, m.r),
        };
        [pts[0].filter(keep), pts[1].filter(keep)]
    }

    /// Whether the ray from `p` to +x crosses this edge an odd number of times, edge points resolved
    /// as if `p` were shifted a hair right and a much smaller hair up, so that every ray of a closed
    /// outline is counted alike.
    #[inline]
    pub(crate) fn flips(&self, p: Vec2) -> bool {
        let d = self.b - self.a;
        let w = p - self.a;
        let side = d.cross(w);
        let chord =
            if self.a.y <= p.y { self.b.y > p.y && side > 0.0 } else { self.b.y <= p.y && side < 0.0 };
        let Some(k) = self.round else { return chord };
        // The area between chord and arc: inside the circle, on the arc's side of the chord.
        let left = if side != 0.0 {
            side > 0.0
        } else if d.y != 0.0 {
            d.y < 0.0
        } else {
            d.x > 0.0
        };
        let bulge = k.bulge;
        if left != (bulge < 0.0) {
            return chord;
        }
        // Circle through both ends as the set where the two terms cancel; needs no centre.
        let power = w.dot(p - self.b) * (2.0 * bulge.abs());
        let tilt = (bulge * bulge - 1.0) * bulge.signum() * side;
        chord != (power + tilt < 0.0)
    }
}
