//! The length type.
//!
//! In: whole numbers of quanta, or a solved number in mm. Out: [`Length`].
//! Always true: one quantum is 1/800 000 mm, the largest step of which both 0.000 01 mm (8 quanta) and
//! 1/256 in (79 375 quanta) and 0.000 1 in (2 032 quanta) are whole multiples. A coarser quantum would make
//! one of them inexact; a finer one would only lower the largest length (about 11 million km).

/// A length, exact to the quantum.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Default)]
pub struct Length(i64);

/// Quanta in a millimetre.
pub(crate) const PER_MM: i64 = 800_000;
/// Quanta in an inch: 25.4 mm exactly (international yard and pound agreement, effective 1 July 1959).
pub(crate) const PER_INCH: i64 = 20_320_000;

impl Length {
    /// Nothing at all.
    pub const ZERO: Length = Length(0);

    /// From a count of quanta (1/800 000 mm).
    pub const fn from_quanta(quanta: i64) -> Length {
        Length(quanta)
    }
    /// Count of quanta (1/800 000 mm).
    pub const fn quanta(self) -> i64 {
        self.0
    }
    /// A whole number of millimetres.
    pub const fn whole_mm(mm: i32) -> Length {
        Length(mm as i64 * PER_MM)
    }
    /// A whole number of hundredths of a millimetre.
    pub const fn hundredths_mm(hundredths: i32) -> Length {
        Length(hundredths as i64 * (PER_MM / 100))
    }
    /// A whole number of 1/256 inches (64 × 4, so `inch_256ths(64)` is a quarter inch).
    pub const fn inch_256ths(parts: i32) -> Length {
        Length(parts as i64 * (PER_INCH / 256))
    }
    /// From a solved number in millimetres, to the nearest quantum (ties to even).
    /// Nothing when the number is not finite or too large to hold.
    pub fn from_mm_f64(mm: f64) -> Option<Length> {
        let quanta = (mm * PER_MM as f64).round_ties_even();
        // 2^63 as f64 is exact; NaN and the infinities fail this comparison.
        (quanta.abs() < 9_223_372_036_854_775_808.0).then_some(Length(quanta as i64))
    }
    /// In millimetres, for geometry. Exact to a float's precision (better than 1e-9 mm below 1 km).
    pub fn mm(self) -> f64 {
        self.0 as f64 / PER_MM as f64
    }
    /// Sum, or nothing when it cannot be held.
    pub const fn checked_add(self, other: Length) -> Option<Length> {
        match self.0.checked_add(other.0) {
            Some(q) => Some(Length(q)),
            None => None,
        }
    }
    /// Difference, or nothing when it cannot be held.
    pub const fn checked_sub(self, other: Length) -> Option<Length> {
        match self.0.checked_sub(other.0) {
            Some(q) => Some(Length(q)),
            None => None,
        }
    }
    /// A whole multiple, or nothing when it cannot be held.
    pub const fn checked_mul(self, times: i64) -> Option<Length> {
        match self.0.checked_mul(times) {
            Some(q) => Some(Length(q)),
            None => None,
        }
    }
    /// The magnitude, or nothing when it cannot be held.
    pub const fn checked_abs(self) -> Option<Length> {
        match self.0.checked_abs() {
            Some(q) => Some(Length(q)),
            None => None,
        }
    }
    /// Whether it is below zero.
    pub const fn is_negative(self) -> bool {
        self.0 < 0
    }
}

/// A unit people type lengths in.
#[derive(Clone, Copy, PartialEq, Eq, Debug, PartialOrd, Ord)]
pub enum LengthUnit {
    /// Millimetre.
    Mm,
    /// Centimetre.
    Cm,
    /// Metre.
    M,
    /// International inch.
    Inch,
    /// International foot (12 inches; not the survey foot).
    Foot,
}

impl LengthUnit {
    /// Quanta in one of it.
    pub(crate) const fn quanta(self) -> i64 {
        match self {
            LengthUnit::Mm => PER_MM,
            LengthUnit::Cm => 10 * PER_MM,
            LengthUnit::M => 1000 * PER_MM,
            LengthUnit::Inch => PER_INCH,
            LengthUnit::Foot => 12 * PER_INCH,
        }
    }
    /// Whether it is an inch or a foot.
    pub const fn is_inch(self) -> bool {
        matches!(self, LengthUnit::Inch | LengthUnit::Foot)
    }
    /// The sign used in sentences.
    pub const fn symbol(self) -> &'static str {
        match self {
            LengthUnit::Mm => "mm",
            LengthUnit::Cm => "cm",
            LengthUnit::M => "m",
            LengthUnit::Inch => "in",
            LengthUnit::Foot => "ft",
        }
    }
}
