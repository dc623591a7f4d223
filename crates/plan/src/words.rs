//! Solved numbers as they are printed.
//!
//! In: a number. Out: text in the plan's units, or in mm and inches.
//! Always true: the text is rounded once, from the exact value, by the units crate.

use turnleaf_mechanism::{Number, Unit};
use turnleaf_planfile::{Language, Options};
use turnleaf_units::{Length, PrintUnits, print_decimal};

/// Text of a number in one choice of units. A value that is not finite reads "none".
pub fn number_text(number: &Number, units: PrintUnits, language: Language) -> String {
    let sign = language.decimal_sign();
    let decimal =
        |value: f64, places: u8| print_decimal(value, places, sign).unwrap_or_else(|| "none".into());
    match number.unit {
        Unit::Mm => match Length::from_mm_f64(number.value) {
            Some(length) => units.print(length, sign).text(),
            None => "none".into(),
        },
        Unit::Mm2 => format!("{} cm²", decimal(number.value / 100.0, 1)),
        Unit::Deg => format!("{}°", decimal(number.value, 1)),
        Unit::Count => decimal(number.value, 0),
        Unit::Ratio => decimal(number.value, 3),
    }
}

/// Text in the units of the plan's own options.
pub fn plan_text(number: &Number, options: &Options) -> String {
    number_text(number, options.print.print_units(), options.language)
}
