//! A star lever, solved exactly.
//!
//! In: the lever's arms and nose offsets, the rising plate's rise. Out: the star's rise.
//! Always true: the inner nose is held down by a flange that does not rise, the cross pin rises with the
//! plate, the tip's nose carries the star; both noses are round and touch level faces.
//! ```text
//!   flange (fixed) ====                     star hub
//!   inner nose  ( o--------(+)--------o )   tip nose
//!                  inner    pin  outer
//! ```
//! With the nose centres off the lever's axis by f (inner) and g (tip), and the lever tilted by β:
//!   inner centre height  = pin − inner·sin β + f·cos β   (constant)
//!   tip centre height    = pin + outer·sin β + g·cos β
//! Elementary rigid-body geometry. With f = g = 0 the tip rises (1 + outer/inner) times the pin.

use turnleaf_geom::trig;

/// A lever's geometry, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lever {
    /// Inner nose centre to pin, along the lever.
    pub inner: f64,
    /// Pin to tip nose centre, along the lever.
    pub outer: f64,
    /// Height of the inner nose's centre above the lever's axis.
    pub inner_offset: f64,
    /// Height of the tip nose's centre above the lever's axis.
    pub outer_offset: f64,
}

impl Lever {
    /// Tilt, radians, when the pin has risen by `rise` mm; None beyond what the inner arm allows.
    ///
    /// Solves inner·sin β − f·cos β = rise − f, which is ρ·sin(β − γ) with ρ = √(inner² + f²), tan γ = f/inner.
    pub fn tilt(&self, rise: f64) -> Option<f64> {
        let rho = trig::hypot(self.inner, self.inner_offset);
        let s = (rise - self.inner_offset) / rho;
        (s.abs() < 1.0).then(|| trig::asin(s) + trig::atan2(self.inner_offset, self.inner))
    }
    /// Rise of the tip, mm, when the pin has risen by `rise` mm.
    pub fn tip_rise(&self, rise: f64) -> Option<f64> {
        let tilt = self.tilt(rise)?;
        let (s, c) = trig::sin_cos(tilt);
        Some(rise + self.outer * s + self.outer_offset * (c - 1.0))
    }
    /// A lever of this inner arm and these offsets whose tip has risen exactly two steps when its pin has
    /// risen one. The outer arm comes out a little longer than the inner: (step + g·(1 − cos β))/sin β.
    /// None when the inner arm is too short for the step.
    pub fn flush(inner: f64, inner_offset: f64, outer_offset: f64, step: f64) -> Option<Lever> {
        let lever = Lever { inner, outer: inner, inner_offset, outer_offset };
        let (s, c) = trig::sin_cos(lever.tilt(step)?);
        Some(Lever { outer: (step + outer_offset * (1.0 - c)) / s, ..lever })
    }
    /// Ideal ratio of tip rise to pin rise: 1 + outer/inner.
    pub fn ideal_ratio(&self) -> f64 {
        1.0 + self.outer / self.inner
    }
}
