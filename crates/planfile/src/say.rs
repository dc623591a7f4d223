//! Sentences shared by every reader of the file.
//!
//! In: names and values. Out: diagnostics and safe quotations.
//! Always true: text from the file is quoted at most 40 characters long, without invisible characters.

use crate::fields::{FieldSpec, Value};
use crate::json::Json;
use crate::options::PlanUnit;
use turnleaf_diag::Diagnostic;
use turnleaf_units::{DecimalSign, LengthUnit, print_decimal, understand_length};

/// Longest quotation.
const QUOTE: usize = 40;

/// Text from the file, safe to show.
pub(crate) fn quoted(text: &str) -> String {
    let text = text.trim();
    let mut out: String =
        text.chars().take(QUOTE).map(|c| if unprintable(c) { '\u{fffd}' } else { c }).collect();
    if text.chars().nth(QUOTE).is_some() {
        out.push('…');
    }
    out
}

/// Characters that a printed plan may not hold: controls, those that reverse the direction of text, and those
/// that XML forbids.
pub(crate) fn unprintable(c: char) -> bool {
    c.is_control()
        || matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{200e}' | '\u{200f}' | '\u{061c}')
        || matches!(c, '\u{fffe}' | '\u{ffff}' | '\u{2028}' | '\u{2029}' | '\u{feff}')
}

/// `code` without its suffix, the name of the thing, what was found, what would work.
pub(crate) fn wrong_type(code: &str, name: &str, found: &Json, works: &str) -> Diagnostic {
    let sentence = format!("The {name} is {}; it must be {works}.", found.what());
    Diagnostic::error(format!("{code}.type"), sentence)
}

/// A bound of a field, in the unit of its range and, in inch plans, in inches too.
pub(crate) fn bound(value: Value, unit: PlanUnit) -> String {
    let say = |v, d| print_decimal(v, d, DecimalSign::Point).unwrap_or_default();
    match value {
        Value::Length(length) => {
            let mm = format!("{} mm", say(length.mm(), 3));
            if unit == PlanUnit::Mm || length.quanta() == 0 {
                return mm;
            }
            understand_length(&mm, LengthUnit::Mm, DecimalSign::Point).map_or(mm, |u| u.text)
        }
        Value::Angle(angle) => format!("{}°", say(angle.degrees(), 3)),
        Value::Count(count) => count.to_string(),
        Value::Force(force) if unit == PlanUnit::Inch => {
            format!("{} N (about {} lbf)", say(force.newtons(), 3), say(force.pounds_force(), 0))
        }
        Value::Force(force) => format!("{} N", say(force.newtons(), 3)),
    }
}

/// A text that works for this field.
pub(crate) fn example(field: &FieldSpec, unit: PlanUnit) -> &'static str {
    match unit {
        PlanUnit::Mm => field.metric,
        PlanUnit::Inch => field.inch,
    }
}
