//! The slider-crank that drives a slide.
//!
//! In: pin radius a, arm length L, crank angle φ. Out: where the slide pin is.
//! Always true: φ is measured from the slide's line to the crank pin, counter-clockwise as seen from
//! above in the frame that turns with the top; φ = 0 is dead centre, the slide farthest out.
//! ```text
//!            o crank pin (radius a, angle phi)
//!           / \___ arm, length L
//!          /      \___
//!   centre o - - - - - o slide pin at x(phi) ---> outward
//! ```
//! x(φ) = a·cos φ + √(L² − a²·sin² φ): elementary, the two projections of the triangle.

use turnleaf_geom::trig;

/// A crank: pin radius and arm length, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
///
/// ```
/// use turnleaf_mechanism::crank::Crank;
/// // With the crank square to the slide the arm closes a right triangle: 3, 4 and 5 (Euclid, Elements I.47).
/// let crank = Crank { pin_radius: 30.0, arm: 50.0 };
/// let quarter = std::f64::consts::FRAC_PI_2;
/// assert!((crank.slide(quarter) - 40.0).abs() < 1e-9);
/// assert!((crank.arm_angle(quarter).sin() - 0.6).abs() < 1e-12);
/// // There the slide moves as fast as the crank pin.
/// assert!((crank.speed(quarter) + 30.0).abs() < 1e-9);
/// ```
pub struct Crank {
    /// Radius of the crank pin about the table's centre, mm.
    pub pin_radius: f64,
    /// Arm, pin to pin, mm.
    pub arm: f64,
}

impl Crank {
    /// Distance of the slide pin from the centre at crank angle `phi` (radians), mm.
    pub fn slide(&self, phi: f64) -> f64 {
        let (s, c) = trig::sin_cos(phi);
        let side = self.pin_radius * s;
        self.pin_radius * c + (self.arm * self.arm - side * side).max(0.0).sqrt()
    }
    /// How far short of dead centre the slide is: a + L − x(φ), mm.
    pub fn shortfall(&self, phi: f64) -> f64 {
        self.dead_centre() - self.slide(phi)
    }
    /// Slide distance at dead centre: a + L, mm.
    pub fn dead_centre(&self) -> f64 {
        self.pin_radius + self.arm
    }
    /// dx/dφ, mm per radian.
    pub fn speed(&self, phi: f64) -> f64 {
        let (s, c) = trig::sin_cos(phi);
        let a = self.pin_radius;
        let q = (self.arm * self.arm - a * a * s * s).max(0.0).sqrt();
        -a * s - a * a * s * c / q
    }
    /// Angle between arm and slide line at `phi`, radians: asin((a/L)·sin φ).
    pub fn arm_angle(&self, phi: f64) -> f64 {
        trig::asin(self.pin_radius / self.arm * trig::sin(phi))
    }
    /// Largest arm angle between two crank angles, radians.
    pub fn largest_arm_angle(&self, from: f64, to: f64) -> f64 {
        let quarter = core::f64::consts::FRAC_PI_2;
        if from <= -quarter || to >= quarter {
            return trig::asin(self.pin_radius / self.arm);
        }
        self.arm_angle(from).abs().max(self.arm_angle(to).abs())
    }
}

/// The shortfall of a crank of pin radius 1 and arm 1/λ: F(φ) = 1 − cos φ + (1 − √(1 − λ²·sin² φ))/λ.
/// A crank of pin radius a with the same ratio falls short by a·F(φ).
pub fn unit_shortfall(lambda: f64, phi: f64) -> f64 {
    let (s, c) = trig::sin_cos(phi);
    let k = lambda * s;
    1.0 - c + (1.0 - (1.0 - k * k).max(0.0).sqrt()) / lambda
}
