//! Points, vectors and rigid motions of the plane.

use crate::trig;
use core::ops::{Add, Mul, Neg, Sub};

/// A point or vector, millimetres.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Vec2 {
    /// To the right.
    pub x: f64,
    /// Up.
    pub y: f64,
}

/// Shorthand for [`Vec2`].
pub const fn v(x: f64, y: f64) -> Vec2 {
    Vec2 { x, y }
}

impl Vec2 {
    /// The origin.
    pub const ZERO: Vec2 = v(0.0, 0.0);
    /// The point at `radius` and `angle` (radians, counter-clockwise from +x).
    pub fn polar(radius: f64, angle: f64) -> Vec2 {
        let (s, c) = trig::sin_cos(angle);
        v(radius * c, radius * s)
    }
    /// Scalar product.
    pub fn dot(self, o: Vec2) -> f64 {
        self.x * o.x + self.y * o.y
    }
    /// z of the vector product: positive when `o` lies counter-clockwise of `self`.
    pub fn cross(self, o: Vec2) -> f64 {
        self.x * o.y - self.y * o.x
    }
    /// Squared length.
    pub fn norm2(self) -> f64 {
        self.dot(self)
    }
    /// Length.
    pub fn norm(self) -> f64 {
        self.norm2().sqrt()
    }
    /// Distance to another point.
    pub fn dist(self, o: Vec2) -> f64 {
        (self - o).norm()
    }
    /// Unit vector; the zero vector stays zero.
    pub fn unit(self) -> Vec2 {
        let n = self.norm();
        if n > 0.0 { self * (1.0 / n) } else { self }
    }
    /// Turned 90° counter-clockwise.
    pub fn perp(self) -> Vec2 {
        v(-self.y, self.x)
    }
    /// Angle from +x in (-π, π].
    pub fn angle(self) -> f64 {
        trig::atan2(self.y, self.x)
    }
    /// Rotated about the origin.
    pub fn rot(self, angle: f64) -> Vec2 {
        let (s, c) = trig::sin_cos(angle);
        v(c * self.x - s * self.y, s * self.x + c * self.y)
    }
    /// Linear interpolation: `self` at 0, `o` at 1.
    pub fn lerp(self, o: Vec2, t: f64) -> Vec2 {
        self + (o - self) * t
    }
}
impl Add for Vec2 {
    type Output = Vec2;
    fn add(self, o: Vec2) -> Vec2 {
        v(self.x + o.x, self.y + o.y)
    }
}
impl Sub for Vec2 {
    type Output = Vec2;
    fn sub(self, o: Vec2) -> Vec2 {
        v(self.x - o.x, self.y - o.y)
    }
}
impl Neg for Vec2 {
    type Output = Vec2;
    fn neg(self) -> Vec2 {
        v(-self.x, -self.y)
    }
}
impl Mul<f64> for Vec2 {
    type Output = Vec2;
    fn mul(self, k: f64) -> Vec2 {
        v(self.x * k, self.y * k)
    }
}

/// A rigid motion: rotate about the origin, then shift.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pose2 {
    cos: f64,
    sin: f64,
    /// The shift applied after the rotation.
    pub offset: Vec2,
}

impl Default for Pose2 {
    fn default() -> Self {
        Pose2 { cos: 1.0, sin: 0.0, offset: Vec2::ZERO }
    }
}

impl Pose2 {
    /// Rotation by `angle` (radians, counter-clockwise), then a shift.
    pub fn new(angle: f64, offset: Vec2) -> Pose2 {
        let (sin, cos) = trig::sin_cos(angle);
        Pose2 { cos, sin, offset }
    }
    /// Where the point goes.
    pub fn apply(&self, p: Vec2) -> Vec2 {
        self.turn(p) + self.offset
    }
    /// Where the direction goes (no shift).
    pub fn turn(&self, p: Vec2) -> Vec2 {
        v(self.cos * p.x - self.sin * p.y, self.sin * p.x + self.cos * p.y)
    }
    /// The motion `self` after `first`.
    pub fn after(&self, first: &Pose2) -> Pose2 {
        Pose2 {
            cos: self.cos * first.cos - self.sin * first.sin,
            sin: self.sin * first.cos + self.cos * first.sin,
            offset: self.apply(first.offset),
        }
    }
    /// The motion that undoes this one.
    pub fn inverse(&self) -> Pose2 {
        let r = Pose2 { cos: self.cos, sin: -self.sin, offset: Vec2::ZERO };
        Pose2 { offset: -r.turn(self.offset), ..r }
    }
    /// The rotation in radians, (-π, π].
    pub fn angle(&self) -> f64 {
        trig::atan2(self.sin, self.cos)
    }
}
