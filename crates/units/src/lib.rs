//! Lengths, angles, forces and masses: exact values, what people type, rounding for print.
//!
//! In: text as typed (`47 1/4"`, `1,2 m`, `45°`), or solved numbers in mm. Out: exact values, and text
//! for print with the rounding error known.
//! Always true: a value is a whole number of quanta, so adding, comparing and storing it loses nothing;
//! nothing here panics on any text; a number that is not finite never becomes a value.
//! The only bridge to `f64` lengths is [`Length::mm`] and [`Length::from_mm_f64`].
//!
//! ```
//! use turnleaf_units::{DecimalSign, Denominator, InchPrint, LengthUnit, MmStep};
//! use turnleaf_units::{parse_length, print_inch, print_mm};
//!
//! // Read exactly: an inch is 25.4 mm (Federal Register, 1 July 1959).
//! let typed = parse_length("47 1/4\"", LengthUnit::Mm)?;
//! assert_eq!(typed, parse_length("1200.15 mm", LengthUnit::Inch)?);
//!
//! // Printed to the nearest step, with the error known; a tie goes to the even multiple.
//! let tenth = print_mm(typed, MmStep::TENTH, DecimalSign::Comma);
//! assert_eq!(tenth.text, "1200,2 mm");
//! assert_eq!(tenth.error, parse_length("0.05 mm", LengthUnit::Mm)?);
//! let inches = print_inch(typed, InchPrint { denominator: Denominator::SixtyFour, feet: false });
//! assert_eq!(inches.figure, "47 1/4");
//!
//! // What cannot be read is one sentence that says what would work.
//! let sentence = parse_length("about a metre", LengthUnit::Mm).unwrap_err().to_string();
//! assert!(sentence.ends_with('.'));
//! # Ok::<(), turnleaf_units::ParseProblem>(())
//! ```

mod describe;
mod length;
mod print;
mod problem;
mod quantity;
mod ratio;
mod read;
mod scan;

pub use describe::{Understood, understand_angle, understand_force, understand_length, understand_mass};
pub use length::{Length, LengthUnit};
pub use print::{
    DecimalSign, Denominator, InchPrint, MmStep, PrintUnits, Printed, PrintedBoth, print_decimal, print_inch,
    print_mm,
};
pub use problem::{ParseProblem, Problem};
pub use quantity::{Angle, Force, ForceUnit, Mass, MassUnit};
pub use read::{parse_angle, parse_count, parse_force, parse_length, parse_mass};
