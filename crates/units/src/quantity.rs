//! Angles, forces and masses.
//!
//! In: whole numbers of quanta. Out: [`Angle`], [`Force`], [`Mass`] with their SI bridges.
//! Always true: stored as whole quanta, so that equality and order are exact.

use core::f64::consts::PI;

/// An angle in quanta of 1e-9 degree (exact for every decimal of a degree that people type; 1e-9 degree
/// over a 2 m radius is 0.03 µm, far below any tolerance).
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Default)]
pub struct Angle(i64);

pub(crate) const PER_DEGREE: i64 = 1_000_000_000;

impl Angle {
    /// A whole number of degrees.
    pub const fn whole_degrees(degrees: i32) -> Angle {
        Angle(degrees as i64 * PER_DEGREE)
    }
    /// From a count of quanta (1e-9 degree).
    pub const fn from_quanta(quanta: i64) -> Angle {
        Angle(quanta)
    }
    /// Count of quanta (1e-9 degree).
    pub const fn quanta(self) -> i64 {
        self.0
    }
    /// From degrees; nothing when not finite or beyond a million turns.
    pub fn from_degrees_f64(degrees: f64) -> Option<Angle> {
        (degrees.abs() <= 3.6e8).then(|| Angle((degrees * PER_DEGREE as f64).round_ties_even() as i64))
    }
    /// From radians; nothing when not finite or beyond a million turns.
    pub fn from_radians_f64(radians: f64) -> Option<Angle> {
        Angle::from_degrees_f64(radians * 180.0 / PI)
    }
    /// In degrees.
    pub fn degrees(self) -> f64 {
        self.0 as f64 / PER_DEGREE as f64
    }
    /// In radians.
    pub fn radians(self) -> f64 {
        self.degrees() * PI / 180.0
    }
}

/// A force in quanta of a micronewton.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Default)]
pub struct Force(i64);

pub(crate) const PER_NEWTON: i64 = 1_000_000;

impl Force {
    /// A whole number of newtons.
    pub const fn whole_newtons(newtons: i32) -> Force {
        Force(newtons as i64 * PER_NEWTON)
    }
    /// From a count of micronewtons.
    pub const fn from_micronewtons(quanta: i64) -> Force {
        Force(quanta)
    }
    /// Count of micronewtons.
    pub const fn micronewtons(self) -> i64 {
        self.0
    }
    /// In newtons.
    pub fn newtons(self) -> f64 {
        self.0 as f64 / PER_NEWTON as f64
    }
    /// In pounds-force.
    pub fn pounds_force(self) -> f64 {
        self.newtons() / 4.448_221_615_260_5
    }
}

/// A mass in quanta of a microgram; a pound is 453 592 370 of them exactly
/// (1 lb = 0.453 592 37 kg, the same agreement of 1959 that fixes the inch).
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Default)]
pub struct Mass(i64);

pub(crate) const PER_GRAM: i64 = 1_000_000;
pub(crate) const PER_POUND: i64 = 453_592_370;

impl Mass {
    /// From a count of micrograms.
    pub const fn from_micrograms(quanta: i64) -> Mass {
        Mass(quanta)
    }
    /// Count of micrograms.
    pub const fn micrograms(self) -> i64 {
        self.0
    }
    /// In kilograms.
    pub fn kilograms(self) -> f64 {
        self.0 as f64 / (PER_GRAM * 1000) as f64
    }
    /// In pounds.
    pub fn pounds(self) -> f64 {
        self.0 as f64 / PER_POUND as f64
    }
}

/// A unit people type forces in.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum ForceUnit {
    /// Newton.
    Newton,
    /// Kilonewton.
    Kilonewton,
    /// Pound-force, 4.448 221 615 260 5 N (0.453 592 37 kg × 9.806 65 m/s², exact).
    PoundForce,
}

impl ForceUnit {
    /// One of it in newtons, as an exact fraction.
    pub(crate) const fn newtons(self) -> (i128, i128) {
        match self {
            ForceUnit::Newton => (1, 1),
            ForceUnit::Kilonewton => (1000, 1),
            ForceUnit::PoundForce => (44_482_216_152_605, 10_000_000_000_000),
        }
    }
}

/// A unit people type masses in.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum MassUnit {
    /// Kilogram.
    Kilogram,
    /// Gram.
    Gram,
    /// Avoirdupois pound.
    Pound,
}

impl MassUnit {
    /// Micrograms in one of it.
    pub(crate) const fn micrograms(self) -> i128 {
        match self {
            MassUnit::Kilogram => PER_GRAM as i128 * 1000,
            MassUnit::Gram => PER_GRAM as i128,
            MassUnit::Pound => PER_POUND as i128,
        }
    }
}
