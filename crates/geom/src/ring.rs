//! Closed outlines of straight lines and true arcs, and regions with holes.

use crate::trig;
use crate::vec2::{Pose2, Vec2, v};
use core::f64::consts::PI;

/// A corner and the bulge of the edge that leaves it: bulge = tan(sweep / 4),
/// positive when the arc turns counter-clockwise, 0 for a straight edge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Vertex {
    /// The corner.
    pub p: Vec2,
    /// tan(sweep/4) of the edge to the next corner.
    pub bulge: f64,
}

/// An arc: centre, radius, start angle, signed sweep (counter-clockwise positive).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Arc {
    /// Centre.
    pub centre: Vec2,
    /// Radius, always positive.
    pub radius: f64,
    /// Angle of the first point from the centre, radians.
    pub start: f64,
    /// Signed sweep, radians.
    pub sweep: f64,
}

/// One edge of a ring.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Seg {
    /// Straight, from the first to the second point.
    Line(Vec2, Vec2),
    /// Circular.
    Arc(Arc),
}

/// A closed outline. At least two vertices; the last edge returns to the first vertex.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Ring {
    /// Corners in order.
    pub vertices: Vec<Vertex>,
}

/// An area: one outer ring (counter-clockwise), any holes (clockwise).
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Region {
    /// The outline.
    pub outer: Ring,
    /// Openings.
    pub holes: Vec<Ring>,
}

impl Arc {
    /// The point at fraction `t` of the sweep.
    pub fn at(&self, t: f64) -> Vec2 {
        self.centre + Vec2::polar(self.radius, self.start + self.sweep * t)
    }
    /// Whether the direction `angle` from the centre falls inside the sweep.
    pub fn covers(&self, angle: f64) -> bool {
        let d = (angle - self.start) * self.sweep.signum();
        let turns = d - (d / (2.0 * PI)).floor() * 2.0 * PI;
        turns <= self.sweep.abs() + 1e-12 || turns >= 2.0 * PI - 1e-12
    }
}

impl Seg {
    /// First point.
    pub fn start(&self) -> Vec2 {
        match self {
            Seg::Line(a, _) => *a,
            Seg::Arc(c) => c.at(0.0),
        }
    }
    /// Last point.
    pub fn end(&self) -> Vec2 {
        match self {
            Seg::Line(_, b) => *b,
            Seg::Arc(c) => c.at(1.0),
        }
    }
    /// Length along the edge.
    pub fn length(&self) -> f64 {
        match self {
            Seg::Line(a, b) => a.dist(*b),
            Seg::Arc(c) => c.radius * c.sweep.abs(),
        }
    }
    /// The edge between two vertices.
    pub fn between(a: Vertex, b: Vec2) -> Seg {
        if a.bulge == 0.0 {
            return Seg::Line(a.p, b);
        }
        let sweep = 4.0 * trig::atan(a.bulge);
        let chord = b - a.p;
        let c = chord.norm();
        if c == 0.0 {
            return Seg::Line(a.p, b);
        }
        // The centre lies on the chord's perpendicular bisector, at (1 - bulge²)/(4·bulge) of the chord.
        let centre = a.p + chord * 0.5 + chord.perp() * ((1.0 - a.bulge * a.bulge) / (4.0 * a.bulge));
        let radius = c * (1.0 + a.bulge * a.bulge) / (4.0 * a.bulge.abs());
        Seg::Arc(Arc { centre, radius, start: (a.p - centre).angle(), sweep })
    }
    /// Moved by a rigid motion.
    pub fn moved(&self, pose: &Pose2) -> Seg {
        match self {
            Seg::Line(a, b) => Seg::Line(pose.apply(*a), pose.apply(*b)),
            Seg::Arc(c) => {
                Seg::Arc(Arc { centre: pose.apply(c.centre), start: c.start + pose.angle(), ..*c })
            }
        }
    }
}

impl Ring {
    /// A polygon with straight edges.
    pub fn polygon(points: &[Vec2]) -> Ring {
        Ring { vertices: points.iter().map(|&p| Vertex { p, bulge: 0.0 }).collect() }
    }
    /// A full circle, counter-clockwise.
    pub fn circle(centre: Vec2, radius: f64) -> Ring {
        Ring {
            vertices: vec![
                Vertex { p: centre + v(radius, 0.0), bulge: 1.0 },
                Vertex { p: centre - v(radius, 0.0), bulge: 1.0 },
            ],
        }
    }
    /// A straight slot with round ends between two centres, counter-clockwise.
    pub fn slot(a: Vec2, b: Vec2, half_width: f64) -> Ring {
        let n = (b - a).unit().perp() * half_width;
        Ring {
            vertices: vec![
                Vertex { p: a - n, bulge: 0.0 },
                Vertex { p: b - n, bulge: 1.0 },
                Vertex { p: b + n, bulge: 0.0 },
                Vertex { p: a + n, bulge: 1.0 },
            ],
        }
    }
    /// An axis-parallel rectangle, counter-clockwise.
    pub fn rect(min: Vec2, max: Vec2) -> Ring {
        Ring::polygon(&[min, v(max.x, min.y), max, v(min.x, max.y)])
    }
    /// The edges in order.
    pub fn segs(&self) -> impl Iterator<Item = Seg> + '_ {
        let n = self.vertices.len();
        (0..n).map(move |i| Seg::between(self.vertices[i], self.vertices[(i + 1) % n].p))
    }
    /// Signed area: positive for counter-clockwise rings. Exact for arcs.
    pub fn area(&self) -> f64 {
        let mut twice = 0.0;
        let n = self.vertices.len();
        for i in 0..n {
            let a = self.vertices[i];
            let b = self.vertices[(i + 1) % n].p;
            twice += a.p.cross(b);
            if let Seg::Arc(c) = Seg::between(a, b) {
                // Circular segment between chord and arc: r²(θ - sin θ)/2, signed with the sweep.
                twice += c.radius * c.radius * (c.sweep - trig::sin(c.sweep));
            }
        }
        twice / 2.0
    }
    /// The same outline the other way round.
    pub fn reversed(&self) -> Ring {
        let n = self.vertices.len();
        Ring {
            vertices: (0..n)
                .rev()
                .map(|i| Vertex { p: self.vertices[(i + 1) % n].p, bulge: -self.vertices[i].bulge })
                .collect(),
        }
    }
    /// Moved by a rigid motion.
    pub fn moved(&self, pose: &Pose2) -> Ring {
        Ring {
            vertices: self.vertices.iter().map(|q| Vertex { p: pose.apply(q.p), bulge: q.bulge }).collect(),
        }
    }
    /// Mirrored in the x axis (direction of travel kept counter-clockwise for a counter-clockwise ring).
    pub fn mirrored_y(&self) -> Ring {
        Ring {
            vertices: self.vertices.iter().map(|q| Vertex { p: v(q.p.x, -q.p.y), bulge: -q.bulge }).collect(),
        }
        .reversed()
    }
    /// Points along the outline; no chord strays from its arc by more than `tolerance` mm.
    pub fn flatten(&self, tolerance: f64) -> Vec<Vec2> {
        let mut out = Vec::new();
        for s in self.segs() {
            match s {
                Seg::Line(a, _) => out.push(a),
                Seg::Arc(c) => {
                    let step = 2.0 * trig::acos((1.0 - tolerance / c.radius).max(-1.0));
                    let k = ((c.sweep.abs() / step).ceil() as usize).clamp(1, 4096);
                    for i in 0..k {
                        out.push(c.at(i as f64 / k as f64));
                    }
                }
            }
        }
        out
    }
    /// Smallest box that holds the outline: (min, max). Exact for arcs.
    pub fn bounds(&self) -> (Vec2, Vec2) {
        let mut lo = v(f64::INFINITY, f64::INFINITY);
        let mut hi = v(f64::NEG_INFINITY, f64::NEG_INFINITY);
        let mut see = |p: Vec2| {
            lo = v(lo.x.min(p.x), lo.y.min(p.y));
            hi = v(hi.x.max(p.x), hi.y.max(p.y));
        };
        for s in self.segs() {
            see(s.start());
            if let Seg::Arc(c) = s {
                for q in 0..4 {
                    let angle = q as f64 * PI / 2.0;
                    if c.covers(angle) {
                        see(c.centre + Vec2::polar(c.radius, angle));
                    }
                }
            }
        }
        (lo, hi)
    }
    /// Greatest distance of the outline from the origin.
    pub fn reach(&self) -> f64 {
        let mut r: f64 = 0.0;
        for s in self.segs() {
            r = r.max(s.start().norm());
            if let Seg::Arc(c) = s
                && (c.covers(c.centre.angle()) || c.centre.norm() == 0.0)
            {
                r = r.max(c.centre.norm() + c.radius);
            }
        }
        r
    }
}

impl From<Ring> for Region {
    fn from(outer: Ring) -> Region {
        Region { outer, holes: Vec::new() }
    }
}

impl Region {
    /// Area of the outer ring less the holes.
    pub fn area(&self) -> f64 {
        self.outer.area().abs() - self.holes.iter().map(|h| h.area().abs()).sum::<f64>()
    }
    /// Moved by a rigid motion.
    pub fn moved(&self, pose: &Pose2) -> Region {
        Region { outer: self.outer.moved(pose), holes: self.holes.iter().map(|h| h.moved(pose)).collect() }
    }
    /// All rings, the outer first.
    pub fn rings(&self) -> impl Iterator<Item = &Ring> {
        core::iter::once(&self.outer).chain(self.holes.iter())
    }
}
