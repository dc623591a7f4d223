//! Curves in the working plane and where they cross.
//!
//! In: projected edges. Out: the parameters (0 to 1 along the first curve) of their crossings.
//!
//! The working plane is not the picture plane: wherever it can be, points slide along the line of
//! sight to the plane z = 0, so that every level circle stays a true circle and all crossings have
//! closed forms. Always true: a circle or conic piece sweeps 180° at the most; touching counts as
//! crossing (a surplus parameter does no harm, a missing one does).

use core::f64::consts::PI;
use turnleaf_geom::{Vec2, trig, vec2::v};

/// How far apart two curves may lie and still count as touching, mm.
/// Larger: surplus crossings. Smaller: rounding may lose a touching point.
pub(crate) const TOUCH: f64 = 1e-6;

/// Course of a projected edge.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Course {
    /// a + d·t.
    Line,
    /// c + p·cos θ + q·sin θ with |p| = |q|, p ⊥ q.
    Circle(Bow),
    /// The same with any p and q.
    Conic(Bow),
    /// The same with p ∥ q: drawn straight from end to end, but unevenly in t.
    Straight(Bow),
}

/// Parameters of a bent edge; θ = start + sweep·t.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Bow {
    pub c: Vec2,
    pub p: Vec2,
    pub q: Vec2,
    pub start: f64,
    pub sweep: f64,
}

/// A projected edge with its box.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Flat {
    pub course: Course,
    pub a: Vec2,
    pub b: Vec2,
    pub lo: Vec2,
    pub hi: Vec2,
}

impl Bow {
    /// The point at angle θ.
    pub fn point(&self, theta: f64) -> Vec2 {
        let (s, c) = trig::sin_cos(theta);
        self.c + self.p * c + self.q * s
    }
    /// The point at parameter t.
    pub fn at(&self, t: f64) -> Vec2 {
        self.point(self.start + self.sweep * t)
    }
    /// The parameter t of the angle θ, kept as near to [0, 1] as whole turns allow.
    pub fn t_of(&self, theta: f64) -> f64 {
        let d = (theta - self.start) * self.sweep.signum();
        let turn = 2.0 * PI;
        let mut r = d - (d / turn).floor() * turn;
        if r - self.sweep.abs() > turn - r {
            r -= turn;
        }
        r / self.sweep.abs()
    }
    /// The parameter t of a point on the curve.
    pub fn t_at(&self, x: Vec2) -> f64 {
        let k = self.p.cross(self.q);
        let r = x - self.c;
        self.t_of(trig::atan2(self.p.cross(r) / k, r.cross(self.q) / k))
    }
}

impl Flat {
    pub fn line(a: Vec2, b: Vec2) -> Flat {
        Flat {
            course: Course::Line,
            a,
            b,
            lo: v(a.x.min(b.x), a.y.min(b.y)),
            hi: v(a.x.max(b.x), a.y.max(b.y)),
        }
    }
    pub fn bow(bow: Bow, a: Vec2, b: Vec2) -> Flat {
        let mut f = Flat::line(a, b);
        let (pp, qq) = (bow.p.norm2(), bow.q.norm2());
        let size = pp.max(qq);
        let straight = bow.p.cross(bow.q).abs() <= 1e-9 * size;
        if straight {
            f.reach_by_angle(&bow);
        } else {
            f.reach_by_side(&bow);
        }
        if straight {
            // Edges of a view are cut where they turn back and never pass their own ends; where one
            // is looked at in another piece's plan it may, and then the whole way there and back counts.
            let along = if pp > qq { bow.p } else { bow.q }.unit();
            let (pi, qi) = (bow.p.dot(along), bow.q.dot(along));
            let phase = trig::atan2(qi, pi);
            let inside = |t: f64| t > 1e-6 && t < 1.0 - 1e-6;
            if inside(bow.t_of(phase)) || inside(bow.t_of(phase + PI)) {
                let reach = along * trig::hypot(pi, qi);
                (f.a, f.b) = (bow.c - reach, bow.c + reach);
            }
            f.course = Course::Straight(bow);
            return f;
        }
        let round = (pp - qq).abs() <= 1e-12 * size && bow.p.dot(bow.q).abs() <= 1e-12 * size;
        f.course = if round { Course::Circle(bow) } else { Course::Conic(bow) };
        f
    }
    /// Widens the box to the places where the curve turns back in x or y: by their angles.
    fn reach_by_angle(&mut self, bow: &Bow) {
        for (i, (pi, qi)) in [(bow.p.x, bow.q.x), (bow.p.y, bow.q.y)].into_iter().enumerate() {
            let phase = trig::atan2(qi, pi);
            for theta in [phase, phase + PI] {
                let t = bow.t_of(theta);
                if (0.0..=1.0).contains(&t) {
                    let at = bow.point(theta);
                    if i == 0 {
                        (self.lo.x, self.hi.x) = (self.lo.x.min(at.x), self.hi.x.max(at.x));
                    } else {
                        (self.lo.y, self.hi.y) = (self.lo.y.min(at.y), self.hi.y.max(at.y));
                    }
                }
            }
        }
    }
    /// The same without an angle: in the plane where the curve is a unit circle it sweeps 180° at the most, so a
    /// place belongs to it that lies on its side of both ends' rays.
    fn reach_by_side(&mut self, bow: &Bow) {
        let k = 1.0 / bow.p.cross(bow.q);
        let unit = |x: Vec2| {
            let r = x - bow.c;
            v(r.cross(bow.q) * k, bow.p.cross(r) * k)
        };
        let (from, to, sign) = (unit(self.a), unit(self.b), bow.sweep.signum());
        // A hair more than the curve: a box may be wide, not narrow.
        let within = |e: Vec2| from.cross(e) * sign >= -1e-12 && e.cross(to) * sign >= -1e-12;
        let ways = [(bow.p.x, bow.q.x), (bow.p.y, bow.q.y)].map(|(p, q)| (v(p, q), v(p, q).norm()));
        let [(ex, x), (ey, y)] = ways;
        if x > 0.0 {
            let e = ex * (1.0 / x);
            if within(e) {
                self.hi.x = self.hi.x.max(bow.c.x + x);
            }
            if within(-e) {
                self.lo.x = self.lo.x.min(bow.c.x - x);
            }
        }
        if y > 0.0 {
            let e = ey * (1.0 / y);
            if within(e) {
                self.hi.y = self.hi.y.max(bow.c.y + y);
            }
            if within(-e) {
                self.lo.y = self.lo.y.min(bow.c.y - y);
            }
        }
    }
    /// Whether the boxes meet.
    pub fn near(&self, o: &Flat) -> bool {
        self.lo.x <= o.hi.x + TOUCH
            && o.lo.x <= self.hi.x + TOUCH
            && self.lo.y <= o.hi.y + TOUCH
            && o.lo.y <= self.hi.y + TOUCH
    }
    /// The point at parameter t.
    pub fn at(&self, t: f64) -> Vec2 {
        match &self.course {
            Course::Line => self.a.lerp(self.b, t),
            Course::Circle(w) | Course::Conic(w) | Course::Straight(w) => w.at(t),
        }
    }
    /// Adds the parameters t at a fraction of the straight way from a to b: one for a line, two for
    /// a curve seen edge-on (the one outside 0 to 1 is of no account).
    fn push_way(&self, way: f64, out: &mut Vec<f64>) {
        let Course::Straight(w) = &self.course else {
            out.push(way);
            return;
        };
        let d = self.b - self.a;
        let along = d * (1.0 / d.norm2().max(1e-300));
        let (pi, qi) = (w.p.dot(along), w.q.dot(along));
        let size = trig::hypot(pi, qi);
        let phase = trig::atan2(qi, pi);
        // way = (c − a)·along + size·cos(θ − phase).
        let half = trig::acos((way - (w.c - self.a).dot(along)) / size);
        out.push(w.t_of(phase + half));
        out.push(w.t_of(phase - half));
    }
    /// Whether a point of the full circle or conic belongs to this piece: it lies on the piece's side of the chord.
    fn holds(&self, w: &Bow, x: Vec2) -> bool {
        let chord = self.b - self.a;
        let n = chord.norm();
        if n < TOUCH {
            return x.dist(self.a) < 2.0 * w.p.norm().max(w.q.norm()) + TOUCH;
        }
        let side = w.sweep.signum() * w.p.cross(w.q).signum();
        chord.cross(x - self.a) * side <= TOUCH * n
    }
}

/// Adds the parameters along `e` where it crosses or touches `c`.
pub(crate) fn crossings(e: &Flat, c: &Flat, out: &mut Vec<f64>) {
    use Course::*;
    match (&e.course, &c.course) {
        (Line | Straight(_), Line | Straight(_)) => line_line(e, c, out),
        (Line | Straight(_), Circle(w) | Conic(w)) => {
            let d = e.b - e.a;
            if d.norm() < TOUCH {
                return;
            }
            for x in on_line(w, e.a, e.b).into_iter().flatten() {
                if c.holds(w, x) {
                    e.push_way((x - e.a).dot(d) / d.norm2(), out);
                }
            }
        }
        (Circle(w) | Conic(w), Line | Straight(_)) => {
            let d = c.b - c.a;
            let slack = TOUCH * d.norm();
            for x in on_line(w, c.a, c.b).into_iter().flatten() {
                let way = (x - c.a).dot(d);
                if way >= -slack && way <= d.norm2() + slack {
                    out.push(w.t_at(x));
                }
            }
        }
        (Circle(w), Circle(o)) => circle_circle(w, c, o, out),
        (Circle(w) | Conic(w), Circle(o) | Conic(o)) => conic_conic(w, c, o, out),
    }
}

fn line_line(e: &Flat, c: &Flat, out: &mut Vec<f64>) {
    let (d, g) = (e.b - e.a, c.b - c.a);
    let (dn, gn) = (d.norm(), g.norm());
    let k = d.cross(g);
    let r = c.a - e.a;
    if dn < TOUCH {
        return;
    }
    if k.abs() <= 1e-9 * dn * gn {
        if d.cross(r).abs() <= TOUCH * dn {
            let inv = 1.0 / d.norm2();
            e.push_way(r.dot(d) * inv, out);
            e.push_way((c.b - e.a).dot(d) * inv, out);
        }
        return;
    }
    let way = r.cross(g) / k;
    let u = r.cross(d) / k;
    if u * gn >= -TOUCH && (u - 1.0) * gn <= TOUCH {
        e.push_way(way, out);
    }
}

/// Points where the full circle or conic meets the line through a and b.
fn on_line(w: &Bow, a: Vec2, b: Vec2) -> [Option<Vec2>; 2] {
    let d = b - a;
    let n = d.perp() * (1.0 / d.norm().max(1e-300));
    let (pn, qn, k) = (w.p.dot(n), w.q.dot(n), (a - w.c).dot(n));
    let size = trig::hypot(pn, qn);
    if k.abs() > size + TOUCH {
        return [None, None];
    }
    // cos θ and sin θ of the points, turned by the angle of (pn, qn) against (k, ±half chord) over the size.
    let size = size.max(1e-300);
    let (e, f) = (pn / size, qn / size);
    let cos = (k / size).clamp(-1.0, 1.0);
    let sin = (1.0 - cos * cos).max(0.0).sqrt();
    let at = |s: f64| w.c + w.p * (e * cos - f * s) + w.q * (f * cos + e * s);
    [Some(at(sin)), Some(at(-sin))]
}

fn circle_circle(w: &Bow, c: &Flat, o: &Bow, out: &mut Vec<f64>) {
    let (r, s) = (w.p.norm(), o.p.norm());
    let between = o.c - w.c;
    let d = between.norm();
    if d < TOUCH {
        if (r - s).abs() < TOUCH {
            out.push(w.t_at(c.a));
            out.push(w.t_at(c.b));
        }
        return;
    }
    if d > r + s + TOUCH || d < (r - s).abs() - TOUCH {
        return;
    }
    let u = between * (1.0 / d);
    let along = (d * d + r * r - s * s) / (2.0 * d);
    let h = (r * r - along * along).max(0.0).sqrt();
    for x in [w.c + u * along + u.perp() * h, w.c + u * along - u.perp() * h] {
        if c.holds(o, x) {
            out.push(w.t_at(x));
        }
    }
}

/// General case, met only with tilted pieces: sign changes of the second curve's equation along the
/// first one, each closed in by halving.
fn conic_conic(w: &Bow, c: &Flat, o: &Bow, out: &mut Vec<f64>) {
    let k = 1.0 / o.p.cross(o.q);
    let size = o.p.norm().max(o.q.norm());
    let g = |x: Vec2| {
        let r = x - o.c;
        let (x, y) = (r.cross(o.q) * k, o.p.cross(r) * k);
        x * x + y * y - 1.0
    };
    let f = |t: f64| g(w.at(t));
    const STEPS: usize = 32;
    let mut flat = true;
    let mut found = Vec::new();
    // Equal steps by turning one point on; what that loses in accuracy, halving wins back.
    let (mut sin, mut cos) = trig::sin_cos(w.start);
    let (ds, dc) = trig::sin_cos(w.sweep / STEPS as f64);
    let mut last = f(0.0);
    for i in 0..STEPS {
        (sin, cos) = (sin * dc + cos * ds, cos * dc - sin * ds);
        let next = g(w.c + w.p * cos + w.q * sin);
        flat &= last.abs() * size < TOUCH && next.abs() * size < TOUCH;
        if (last < 0.0) != (next < 0.0) {
            let (mut lo, mut hi) = (i as f64 / STEPS as f64, (i + 1) as f64 / STEPS as f64);
            for _ in 0..44 {
                let mid = 0.5 * (lo + hi);
                if (f(mid) < 0.0) == (last < 0.0) {
                    lo = mid;
                } else {
                    hi = mid;
                }
            }
            found.push(0.5 * (lo + hi));
        }
        last = next;
    }
    if flat {
        out.push(w.t_at(c.a));
        out.push(w.t_at(c.b));
        return;
    }
    // Touching without a change of sign: ends of the other piece that lie on this one.
    for x in [c.a, c.b] {
        let t = w.t_at(x);
        if (0.0..=1.0).contains(&t) && w.at(t).dist(x) < TOUCH {
            out.push(t);
        }
    }
    out.extend(found.into_iter().filter(|&t| c.holds(o, w.at(t))));
}
