//! Numbers that carry their derivatives.
//!
//! In: values of the unknowns. Out: the value of a rule and its slope against every unknown it touches.
//! Always true: a slope list is sorted by unknown and holds each unknown once; `f64` gives the same values
//! as [`Dual`], only without slopes.

use core::ops::{Add, Mul, Neg, Sub};
use turnleaf_geom::trig;

/// What a rule is computed with: plain numbers, or numbers with slopes.
pub trait Num:
    Clone + Add<Output = Self> + Sub<Output = Self> + Mul<Output = Self> + Neg<Output = Self>
{
    /// A constant.
    fn cst(value: f64) -> Self;
    /// The plain value.
    fn value(&self) -> f64;
    /// Square root; the slope at zero is taken as zero.
    fn root(self) -> Self;
    /// One over it.
    fn inverse(self) -> Self;
    /// Angle of the vector (x, y) with `self` as y, radians in (-π, π].
    fn angle_over(self, x: Self) -> Self;
}

impl Num for f64 {
    fn cst(value: f64) -> f64 {
        value
    }
    fn value(&self) -> f64 {
        *self
    }
    fn root(self) -> f64 {
        self.max(0.0).sqrt()
    }
    fn inverse(self) -> f64 {
        1.0 / self
    }
    fn angle_over(self, x: f64) -> f64 {
        trig::atan2(self, x)
    }
}

/// A value with its slopes against numbered unknowns.
#[derive(Clone, Debug, PartialEq)]
pub struct Dual {
    value: f64,
    slopes: Vec<(usize, f64)>,
}

impl Dual {
    /// The unknown with this number.
    pub fn unknown(number: usize, value: f64) -> Dual {
        Dual { value, slopes: vec![(number, 1.0)] }
    }
    /// Slopes, sorted by unknown.
    pub fn slopes(&self) -> &[(usize, f64)] {
        &self.slopes
    }
    /// `self` times `k` plus `other` times `m`, slopes only.
    fn blend(&self, k: f64, other: &Dual, m: f64) -> Vec<(usize, f64)> {
        let mut out = Vec::with_capacity(self.slopes.len() + other.slopes.len());
        let (mut i, mut j) = (0, 0);
        while i < self.slopes.len() || j < other.slopes.len() {
            let a = self.slopes.get(i).map_or(usize::MAX, |s| s.0);
            let b = other.slopes.get(j).map_or(usize::MAX, |s| s.0);
            let mut slope = 0.0;
            if a <= b {
                slope += k * self.slopes[i].1;
                i += 1;
            }
            if b <= a {
                slope += m * other.slopes[j].1;
                j += 1;
            }
            out.push((a.min(b), slope));
        }
        out
    }
    fn scaled(self, value: f64, k: f64) -> Dual {
        Dual { value, slopes: self.slopes.into_iter().map(|(u, s)| (u, s * k)).collect() }
    }
}

impl Add for Dual {
    type Output = Dual;
    fn add(self, o: Dual) -> Dual {
        Dual { value: self.value + o.value, slopes: self.blend(1.0, &o, 1.0) }
    }
}
impl Sub for Dual {
    type Output = Dual;
    fn sub(self, o: Dual) -> Dual {
        Dual { value: self.value - o.value, slopes: self.blend(1.0, &o, -1.0) }
    }
}
impl Mul for Dual {
    type Output = Dual;
    fn mul(self, o: Dual) -> Dual {
        Dual { value: self.value * o.value, slopes: self.blend(o.value, &o, self.value) }
    }
}
impl Neg for Dual {
    type Output = Dual;
    fn neg(self) -> Dual {
        let value = -self.value;
        self.scaled(value, -1.0)
    }
}
impl Num for Dual {
    fn cst(value: f64) -> Dual {
        Dual { value, slopes: Vec::new() }
    }
    fn value(&self) -> f64 {
        self.value
    }
    fn root(self) -> Dual {
        let r = self.value.max(0.0).sqrt();
        let k = if r > 0.0 { 0.5 / r } else { 0.0 };
        self.scaled(r, k)
    }
    fn inverse(self) -> Dual {
        let inv = 1.0 / self.value;
        self.scaled(inv, -inv * inv)
    }
    fn angle_over(self, x: Dual) -> Dual {
        let d = self.value * self.value + x.value * x.value;
        let k = if d > 0.0 { 1.0 / d } else { 0.0 };
        Dual { value: trig::atan2(self.value, x.value), slopes: self.blend(x.value * k, &x, -self.value * k) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Slopes against central differences of the plain evaluation.
    #[test]
    fn slopes_agree_with_differences() {
        fn f<N: Num>(x: N, y: N) -> N {
            let r = (x.clone() * x.clone() + y.clone() * y.clone()).root();
            let a = y.clone().angle_over(x.clone());
            r * a + (x - y).inverse()
        }
        let (x, y, h) = (3.0, 1.25, 1e-6);
        let d = f(Dual::unknown(0, x), Dual::unknown(1, y));
        let dx = (f(x + h, y) - f(x - h, y)) / (2.0 * h);
        let dy = (f(x, y + h) - f(x, y - h)) / (2.0 * h);
        assert_eq!(d.value(), f(x, y));
        assert!((d.slopes()[0].1 - dx).abs() < 1e-7, "{:?} {dx}", d.slopes());
        assert!((d.slopes()[1].1 - dy).abs() < 1e-7, "{:?} {dy}", d.slopes());
    }
}
