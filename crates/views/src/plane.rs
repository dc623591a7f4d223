//! The working plane. In: edges in space and a line of sight. Out: flat curves, depths, picture points.
//!
//! Points slide along the line of sight to the plane z = 0, so that level circles stay circles; only
//! a level line of sight works in the picture plane itself. Always true: two points on one line of
//! sight have one place in the working plane.

use crate::flat::{Bow, Flat};
use crate::projection::Sight;
use crate::space::{Vec3, v3};
use turnleaf_geom::{Vec2, trig, vec2::v};

/// A straight or round edge in space.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Run3 {
    pub a: Vec3,
    pub b: Vec3,
    pub bow: Option<Bow3>,
}

/// c + p·cos θ + q·sin θ in space.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Bow3 {
    pub c: Vec3,
    pub p: Vec3,
    pub q: Vec3,
    pub start: f64,
    pub sweep: f64,
}

impl Run3 {
    /// The point at fraction t.
    pub fn at(&self, t: f64) -> Vec3 {
        match &self.bow {
            None => self.a + (self.b - self.a) * t,
            Some(w) => {
                let (s, c) = trig::sin_cos(w.start + w.sweep * t);
                w.c + w.p * c + w.q * s
            }
        }
    }
    /// Length along the edge.
    pub fn length(&self) -> f64 {
        match &self.bow {
            None => (self.b - self.a).norm(),
            Some(w) => w.p.norm() * w.sweep.abs(),
        }
    }
}

/// A line of sight with its working plane.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Plane {
    pub sight: Sight,
    u: Vec3,
    w: Vec3,
    /// Picture coordinates of the working plane's two unit vectors.
    right: Vec2,
    up: Vec2,
}

impl Plane {
    pub fn new(sight: Sight) -> Plane {
        let t = sight.toward;
        if t.z.abs() > 1e-6 {
            Plane {
                sight,
                u: v3(1.0, 0.0, -t.x / t.z),
                w: v3(0.0, 1.0, -t.y / t.z),
                right: v(sight.right.x, sight.up.x),
                up: v(sight.right.y, sight.up.y),
            }
        } else {
            Plane { sight, u: sight.right, w: sight.up, right: v(1.0, 0.0), up: v(0.0, 1.0) }
        }
    }
    /// Place in the working plane of a point (or a direction: the map is linear).
    pub fn flat(&self, p: Vec3) -> Vec2 {
        v(self.u.dot(p), self.w.dot(p))
    }
    /// How near the viewer a point (or a direction) is.
    pub fn depth(&self, p: Vec3) -> f64 {
        self.sight.toward.dot(p)
    }
    /// Picture coordinates of a place (or a direction) of the working plane.
    pub fn picture(&self, p: Vec2) -> Vec2 {
        self.right * p.x + self.up * p.y
    }
    /// An edge in the working plane.
    pub fn project(&self, run: &Run3) -> Flat {
        let (a, b) = (self.flat(run.a), self.flat(run.b));
        match &run.bow {
            None => Flat::line(a, b),
            Some(w) => {
                let (c, p, q) = (self.flat(w.c), self.flat(w.p), self.flat(w.q));
                Flat::bow(Bow { c, p, q, start: w.start, sweep: w.sweep }, a, b)
            }
        }
    }
    /// Farthest and nearest depth of an edge; round ones count as full circles.
    pub fn span(&self, run: &Run3) -> (f64, f64) {
        match &run.bow {
            None => {
                let (a, b) = (self.depth(run.a), self.depth(run.b));
                (a.min(b), a.max(b))
            }
            Some(w) => {
                let c = self.depth(w.c);
                let r = trig::hypot(self.depth(w.p), self.depth(w.q));
                (c - r, c + r)
            }
        }
    }
}
