//! The centre line of a bent arm: a circular arc, with fast distances for the search.
//!
//! In: two pins and a bend. Out: distances between centre lines and to points, mm.
//! Always true: the bend lies to the right of the way from crank pin to slide pin, which is the side
//! away from the table's centre while the table is closed.

use turnleaf_geom::{Ring, Vec2, Vertex, trig};

/// A circular centre line. A straight arm is the limit of a very small bend.
#[derive(Clone, Copy, Debug)]
pub struct Bow {
    /// First pin.
    pub a: Vec2,
    /// Second pin.
    pub b: Vec2,
    centre: Vec2,
    radius: f64,
    /// Unit vector from the arc's centre to its middle.
    middle: Vec2,
    /// Cosine of half the arc's opening.
    cos_half: f64,
}

/// Least bend that is still treated as an arc, mm: below it the radius grows beyond what f64 carries well.
pub const LEAST_BEND: f64 = 0.01;

impl Bow {
    /// The arc from `a` to `b` whose middle stands `bend` mm off the chord (negative: to the left).
    pub fn new(a: Vec2, b: Vec2, bend: f64) -> Bow {
        let bend = if bend.abs() < LEAST_BEND { LEAST_BEND } else { bend };
        let chord = b - a;
        let half = chord.norm() / 2.0;
        let right = chord.unit().perp() * -1.0;
        // Sagitta relation: radius = (half² + bend²) / (2·bend); centre on the other side of the chord.
        let radius = (half * half + bend * bend) / (2.0 * bend.abs());
        let middle = right * bend.signum();
        let centre = a.lerp(b, 0.5) + right * bend - middle * radius;
        Bow { a, b, centre, radius, middle, cos_half: (radius - bend.abs()) / radius }
    }
    /// The same arc turned about the table's centre by the rotation with this cosine and sine.
    pub fn turned(&self, cos: f64, sin: f64) -> Bow {
        let r = |p: Vec2| Vec2 { x: cos * p.x - sin * p.y, y: sin * p.x + cos * p.y };
        Bow { a: r(self.a), b: r(self.b), centre: r(self.centre), middle: r(self.middle), ..*self }
    }
    /// A circle round the whole centre line: its centre and radius.
    pub fn ball(&self) -> (Vec2, f64) {
        let middle = self.a.lerp(self.b, 0.5);
        let bend = (self.centre + self.middle * self.radius).dist(middle);
        (middle, (self.a.dist(self.b) / 2.0).max(bend))
    }
    fn covers(&self, unit: Vec2) -> bool {
        unit.dot(self.middle) >= self.cos_half
    }
    /// Distance from a point to the centre line, mm.
    pub fn to_point(&self, p: Vec2) -> f64 {
        let d = p - self.centre;
        let len = d.norm();
        if len > 0.0 && d.dot(self.middle) >= self.cos_half * len {
            (len - self.radius).abs()
        } else {
            p.dist(self.a).min(p.dist(self.b))
        }
    }
    /// Distance between two centre lines, mm; 0 when they cross.
    pub fn to_bow(&self, o: &Bow) -> f64 {
        let mut best =
            self.to_point(o.a).min(self.to_point(o.b)).min(o.to_point(self.a)).min(o.to_point(self.b));
        let between = o.centre - self.centre;
        let len = between.norm();
        if len < 1e-9 {
            return best;
        }
        let u = between * (1.0 / len);
        for su in [1.0, -1.0] {
            if !self.covers(u * su) {
                continue;
            }
            for so in [1.0, -1.0] {
                if o.covers(u * so) {
                    best = best.min((self.radius * su - len - o.radius * so).abs());
                }
            }
        }
        if len < self.radius + o.radius && len > (self.radius - o.radius).abs() {
            let along = (len * len + self.radius * self.radius - o.radius * o.radius) / (2.0 * len);
            let across = (self.radius * self.radius - along * along).max(0.0).sqrt();
            for side in [1.0, -1.0] {
                let p = u * along + u.perp() * (across * side);
                let q = p - between;
                if self.covers(p * (1.0 / self.radius)) && o.covers(q * (1.0 / o.radius)) {
                    return 0.0;
                }
            }
        }
        best
    }
    /// The outline of an arm of this centre line: an arc band with round ends, counter-clockwise.
    pub fn band(&self, width: f64) -> Ring {
        let half = width / 2.0;
        let out = |p: Vec2| (p - self.centre).unit();
        // tan(sweep/4), sweep = 2·acos(cos_half).
        let bulge = trig::tan(trig::acos(self.cos_half) / 2.0);
        let forward = (self.b - self.a).cross(self.middle) < 0.0;
        let (first, last) = if forward { (self.a, self.b) } else { (self.b, self.a) };
        // Seen from the arc's centre the outer edge runs counter-clockwise from `first` to `last`.
        Ring {
            vertices: vec![
                Vertex { p: first + out(first) * half, bulge },
                Vertex { p: last + out(last) * half, bulge: 1.0 },
                Vertex { p: last - out(last) * half, bulge: -bulge },
                Vertex { p: first - out(first) * half, bulge: 1.0 },
            ],
        }
    }
}
