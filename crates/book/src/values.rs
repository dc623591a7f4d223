//! Values by name: what references in the maker's texts stand for.
//!
//! In: a name. Out: the value as this book prints it; for an unknown name the nearest known ones.
//! Always true: a value prints as everywhere else in the book, in its units and its language, rounded once.

use crate::cx::Cx;
use turnleaf_diag::Diagnostic;
use turnleaf_mechanism::{Number, Unit};
use turnleaf_planfile::{FIELDS, Value};
use turnleaf_steps::{Piece, nearest, pieces};
use turnleaf_units::{PrintUnits, print_decimal};

/// Before the identifier of a check: what it found.
const CHECK: &str = "check.";
/// Before the identifier of a part: how many the table has.
const COUNT: &str = "count.";

/// A solved number as running text prints it.
pub fn number_text(cx: &Cx, n: &Number) -> String {
    match n.unit {
        Unit::Mm => cx.length(n.value),
        Unit::Deg => cx.degrees(n.value),
        Unit::Mm2 => {
            let Some(both) = cx.say.number(n) else { return cx.or_dash(None) };
            match cx.say.units {
                PrintUnits::Mm(_) => both.metric,
                PrintUnits::Inch(_) => both.inch,
                PrintUnits::Both(..) => format!("{} ({})", both.metric, both.inch),
            }
        }
        Unit::Count => cx.or_dash(print_decimal(n.value, 0, cx.say.sign)),
        Unit::Ratio => cx.or_dash(print_decimal(n.value, 3, cx.say.sign)),
    }
}

/// The text of a value; None when no value has this name.
pub fn value_text(cx: &Cx, name: &str) -> Option<String> {
    if let Some((_, n)) = cx.number(name) {
        return Some(number_text(cx, n));
    }
    if let Some(id) = name.strip_prefix(CHECK) {
        let c = cx.input.checks.iter().find(|c| c.id == id)?;
        return Some(match c.unit {
            "mm" => cx.length(c.value),
            "deg" => cx.degrees(c.value),
            _ => cx.or_dash(print_decimal(c.value, 2, cx.say.sign)),
        });
    }
    if let Some(id) = name.strip_prefix(COUNT) {
        return cx.input.assembly.part(id).map(|p| p.count.to_string());
    }
    Some(match cx.input.plan.value(name)? {
        Value::Length(v) => cx.length(v.mm()),
        Value::Angle(v) => cx.degrees(v.degrees()),
        Value::Count(v) => v.to_string(),
        Value::Force(v) => cx.force(v.newtons()),
    })
}

/// All names that a reference may give.
pub fn names(cx: &Cx) -> Vec<String> {
    let plan = cx.input.plan;
    let mut out: Vec<String> = cx.input.numbers.iter().map(|n| n.id.to_string()).collect();
    out.extend(FIELDS.iter().filter(|f| plan.value(f.id).is_some()).map(|f| f.id.to_string()));
    out.extend(cx.input.assembly.parts.iter().map(|p| format!("{COUNT}{}", p.id)));
    out.extend(cx.input.checks.iter().map(|c| format!("{CHECK}{}", c.id)));
    out
}

/// A text of the maker with its references filled in. `place` says where it stands, for complaints; what is
/// not known stays as it was typed.
pub fn filled(cx: &Cx, text: &str, place: &str, said: &mut Vec<Diagnostic>) -> String {
    let mut out = String::new();
    for piece in pieces(text) {
        match piece {
            Piece::Words(words) => out += &words,
            Piece::Value(name) => match value_text(cx, &name) {
                // A value and its unit stay on one line.
                Some(value) => out += &value,
                None => {
                    out += &format!("[={name}]");
                    said.push(unknown(cx, &name, place));
                }
            },
            Piece::Open(rest) => {
                let sentence = format!("{place}: the reference “[={rest}” has no closing bracket.");
                let hint = "Write a name between [= and ], or [== where the two signs themselves are meant.";
                said.push(Diagnostic::error("book.reference", sentence).hint(hint));
            }
        }
    }
    out
}

fn unknown(cx: &Cx, name: &str, place: &str) -> Diagnostic {
    let known = names(cx);
    let near: Vec<String> =
        nearest(name, known.iter().map(String::as_str)).iter().map(|n| format!("“{n}”")).collect();
    let shown: String = name.chars().take(60).collect();
    let near = match near.as_slice() {
        [] => "no name is near it".to_string(),
        [one] => format!("the nearest is {one}"),
        [rest @ .., last] => format!("the nearest are {} and {last}", rest.join(", ")),
    };
    Diagnostic::error("book.reference", format!("{place}: there is no value called “{shown}”; {near}."))
        .hint("A reference gives the name of a solved number or of a size, as “turnleaf numbers” lists them.")
}
