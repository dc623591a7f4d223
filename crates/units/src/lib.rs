//! Lengths, angles, forces and masses: exact values, what people type, rounding for print.
//!
//! In: text as typed (`47 1/4"`, `1,2 m`, `45°`), or solved numbers in mm. Out: exact values, and text
//! for print with the rounding error known.
//! Always true: a value is a whole number of quanta, so adding, comparing and storing it loses nothing;
//! nothing here panics on any text; a number that is not finite never becomes a value.
//! The only bridge to `f64` lengths is [`Length::mm`] and [`Length::from_mm_f64`].

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
