//! Saying what was understood.
//!
//! In: text as typed. Out: the value, and a short text that says it back in the unit typed and in the other system.
//! Always true: "about" stands before every figure that is not exact.

use crate::length::{Length, LengthUnit, PER_INCH};
use crate::print::{DecimalSign, MmStep, mixed, mm_figure, print_decimal, print_mm};
use crate::problem::ParseProblem;
use crate::quantity::{Angle, Force, ForceUnit, Mass, MassUnit};
use crate::read::{parse_angle, parse_force, parse_mass, read_length};

/// A value and what was understood.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Understood<T> {
    /// The value.
    pub value: T,
    /// What was understood, such as `47 1/4 in (1200.15 mm)`.
    pub text: String,
}

/// Reads a length and says it back: `1200` gives `1200 mm (about 47 1/4 in)`.
pub fn understand_length(
    text: &str,
    default: LengthUnit,
    sign: DecimalSign,
) -> Result<Understood<Length>, ParseProblem> {
    let read = read_length(text, default)?;
    let (mm, inch) = (say_mm(read.length, sign), say_inch(read.length, sign));
    let (first, second) = if read.unit.is_inch() { (inch, mm) } else { (mm, inch) };
    // What was typed is said exactly unless it had to be rounded to a quantum.
    let first = if read.exact { first } else { about(first.trim_start_matches("about ")) };
    Ok(Understood { value: read.length, text: format!("{first} ({second})") })
}

/// Reads an angle and says it back in degrees and radians.
pub fn understand_angle(text: &str, sign: DecimalSign) -> Result<Understood<Angle>, ParseProblem> {
    let value = parse_angle(text)?;
    let text = format!(
        "{}° (about {} rad)",
        print_decimal(value.degrees(), 9, sign).unwrap_or_default(),
        print_decimal(value.radians(), 4, sign).unwrap_or_default()
    );
    Ok(Understood { value, text })
}

/// Reads a force and says it back in newtons and pounds-force.
pub fn understand_force(
    text: &str,
    default: ForceUnit,
    sign: DecimalSign,
) -> Result<Understood<Force>, ParseProblem> {
    let value = parse_force(text, default)?;
    let text = pair(value.newtons(), "N", value.pounds_force(), "lbf", sign);
    Ok(Understood { value, text })
}

/// Reads a mass and says it back in kilograms and pounds.
pub fn understand_mass(
    text: &str,
    default: MassUnit,
    sign: DecimalSign,
) -> Result<Understood<Mass>, ParseProblem> {
    let value = parse_mass(text, default)?;
    let text = pair(value.kilograms(), "kg", value.pounds(), "lb", sign);
    Ok(Understood { value, text })
}

fn pair(first: f64, unit: &str, second: f64, other: &str, sign: DecimalSign) -> String {
    let say = |v, d| print_decimal(v, d, sign).unwrap_or_default();
    format!("{} {unit} (about {} {other})", say(first, 3), say(second, 2))
}

fn about(text: &str) -> String {
    format!("about {text}")
}

/// In millimetres: exact when five decimals are enough, else to 0.001 mm.
fn say_mm(length: Length, sign: DecimalSign) -> String {
    if length.quanta() % 8 == 0 {
        return format!("{} mm", mm_figure(length.quanta() / 8, sign));
    }
    about(&print_mm(length, MmStep::THOUSANDTH, sign).text)
}

/// In inches: an exact fraction down to 1/256, an exact decimal of four places, else to the nearest 1/64.
fn say_inch(length: Length, sign: DecimalSign) -> String {
    let (q, lead) = (length.quanta().unsigned_abs(), if length.is_negative() { "\u{2212}" } else { "" });
    let per_inch = PER_INCH as u64;
    if q.is_multiple_of(per_inch / 256) {
        return format!("{lead}{} in", mixed((q / (per_inch / 256)) as i64, 256));
    }
    if q.is_multiple_of(per_inch / 10_000) {
        let tens = q / (per_inch / 10_000);
        let decimals = format!("{:04}", tens % 10_000);
        return format!("{lead}{}{}{} in", tens / 10_000, sign.char(), decimals.trim_end_matches('0'));
    }
    let step = per_inch / 64;
    about(&format!("{lead}{} in", mixed(((q + step / 2) / step) as i64, 64)))
}
