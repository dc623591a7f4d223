//! Space. In: coordinates. Out: points, vectors and rigid motions of space.
//!
//! Always true: right-handed axes, z up from the floor, lengths in mm, angles in radians.

use core::ops::{Add, Mul, Neg, Sub};
use turnleaf_geom::{Pose2, Vec2, trig, vec2::v};

/// A point or vector of space, millimetres.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Vec3 {
    /// To the right in the front view.
    pub x: f64,
    /// Away from the viewer of the front view.
    pub y: f64,
    /// Up.
    pub z: f64,
}

/// Shorthand for [`Vec3`].
pub const fn v3(x: f64, y: f64, z: f64) -> Vec3 {
    Vec3 { x, y, z }
}

impl Vec3 {
    /// The origin.
    pub const ZERO: Vec3 = v3(0.0, 0.0, 0.0);
    /// Scalar product.
    pub fn dot(self, o: Vec3) -> f64 {
        self.x * o.x + self.y * o.y + self.z * o.z
    }
    /// Vector product.
    pub fn cross(self, o: Vec3) -> Vec3 {
        v3(self.y * o.z - self.z * o.y, self.z * o.x - self.x * o.z, self.x * o.y - self.y * o.x)
    }
    /// Length.
    pub fn norm(self) -> f64 {
        self.dot(self).sqrt()
    }
    /// Unit vector; the zero vector stays zero.
    pub fn unit(self) -> Vec3 {
        let n = self.norm();
        if n > 0.0 { self * (1.0 / n) } else { self }
    }
    /// The plan coordinates.
    pub fn xy(self) -> Vec2 {
        v(self.x, self.y)
    }
}
impl Add for Vec3 {
    type Output = Vec3;
    fn add(self, o: Vec3) -> Vec3 {
        v3(self.x + o.x, self.y + o.y, self.z + o.z)
    }
}
impl Sub for Vec3 {
    type Output = Vec3;
    fn sub(self, o: Vec3) -> Vec3 {
        v3(self.x - o.x, self.y - o.y, self.z - o.z)
    }
}
impl Neg for Vec3 {
    type Output = Vec3;
    fn neg(self) -> Vec3 {
        v3(-self.x, -self.y, -self.z)
    }
}
impl Mul<f64> for Vec3 {
    type Output = Vec3;
    fn mul(self, k: f64) -> Vec3 {
        v3(self.x * k, self.y * k, self.z * k)
    }
}

/// A rigid motion of space: turn about the origin, then shift.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pose3 {
    /// Where the x direction goes.
    pub x: Vec3,
    /// Where the y direction goes.
    pub y: Vec3,
    /// Where the z direction goes.
    pub z: Vec3,
    /// Where the origin goes.
    pub offset: Vec3,
}

impl Default for Pose3 {
    fn default() -> Self {
        Pose3 { x: v3(1.0, 0.0, 0.0), y: v3(0.0, 1.0, 0.0), z: v3(0.0, 0.0, 1.0), offset: Vec3::ZERO }
    }
}

impl Pose3 {
    /// A plane motion, lifted to height `z`.
    pub fn plan(pose: &Pose2, z: f64) -> Pose3 {
        let (a, b) = (pose.turn(v(1.0, 0.0)), pose.turn(v(0.0, 1.0)));
        Pose3 {
            x: v3(a.x, a.y, 0.0),
            y: v3(b.x, b.y, 0.0),
            offset: v3(pose.offset.x, pose.offset.y, z),
            ..Pose3::default()
        }
    }
    /// A shift.
    pub fn shift(by: Vec3) -> Pose3 {
        Pose3 { offset: by, ..Pose3::default() }
    }
    /// A turn about the line through `point` along `axis`, right-handed, radians.
    pub fn about(point: Vec3, axis: Vec3, angle: f64) -> Pose3 {
        let k = axis.unit();
        let (s, c) = trig::sin_cos(angle);
        // Rodrigues: p·cos + (k × p)·sin + k·(k·p)·(1 − cos).
        let turn = |p: Vec3| p * c + k.cross(p) * s + k * (k.dot(p) * (1.0 - c));
        let d = Pose3::default();
        Pose3 { x: turn(d.x), y: turn(d.y), z: turn(d.z), offset: point - turn(point) }
    }
    /// Where a direction goes.
    pub fn turn(&self, p: Vec3) -> Vec3 {
        self.x * p.x + self.y * p.y + self.z * p.z
    }
    /// Where a point goes.
    pub fn apply(&self, p: Vec3) -> Vec3 {
        self.turn(p) + self.offset
    }
    /// The motion `self` after `first`.
    pub fn after(&self, first: &Pose3) -> Pose3 {
        Pose3 {
            x: self.turn(first.x),
            y: self.turn(first.y),
            z: self.turn(first.z),
            offset: self.apply(first.offset),
        }
    }
    /// A direction of the outer frame, told in this pose's own frame.
    pub fn unturn(&self, p: Vec3) -> Vec3 {
        v3(self.x.dot(p), self.y.dot(p), self.z.dot(p))
    }
}
