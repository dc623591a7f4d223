//! Numbers and characters as SVG wants them.
//!
//! In: numbers and strings of any kind. Out: text that is always well-formed XML 1.0.
//! Always true: numbers have a full stop, at most four decimals and no exponent, and never "-0".

use std::fmt::Write;

/// Appends a number; not for numbers that are not finite (the caller leaves those out).
pub(crate) fn number(out: &mut String, v: f64) {
    // Four decimals of a millimetre are a tenth of a micrometre, far below any printer.
    let scaled = (v * 10_000.0).round();
    if scaled.abs() < 9.0e15 {
        let n = scaled as i64;
        let (whole, rest) = (n.unsigned_abs() / 10_000, n.unsigned_abs() % 10_000);
        if n < 0 {
            out.push('-');
        }
        // Writing into a string cannot fail.
        let _ = write!(out, "{whole}");
        if rest > 0 {
            let digits = format!("{rest:04}");
            out.push('.');
            out.push_str(digits.trim_end_matches('0'));
        }
    } else {
        let _ = write!(out, "{v:.0}");
    }
}

/// Whether XML 1.0 allows the character (production 2 of the recommendation).
fn allowed(c: char) -> bool {
    matches!(c, '\t' | '\n' | '\r' | '\u{20}'..='\u{D7FF}' | '\u{E000}'..='\u{FFFD}' | '\u{10000}'..)
}

/// Appends a string, safe both between tags and inside double-quoted attributes. Characters that XML
/// cannot hold become U+FFFD.
pub(crate) fn escaped(out: &mut String, text: &str) {
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            // As references, because readers turn raw ones in attributes into spaces.
            '\t' => out.push_str("&#9;"),
            '\n' => out.push_str("&#10;"),
            '\r' => out.push_str("&#13;"),
            c if allowed(c) => out.push(c),
            _ => out.push('\u{FFFD}'),
        }
    }
}

/// Appends ` name="value"`.
pub(crate) fn attribute(out: &mut String, name: &str, value: &str) {
    out.push(' ');
    out.push_str(name);
    out.push_str("=\"");
    escaped(out, value);
    out.push('"');
}

/// Appends ` name="number"`.
pub(crate) fn measure(out: &mut String, name: &str, value: f64) {
    out.push(' ');
    out.push_str(name);
    out.push_str("=\"");
    number(out, value);
    out.push('"');
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shown(v: f64) -> String {
        let mut out = String::new();
        number(&mut out, v);
        out
    }

    #[test]
    fn numbers_are_plain() {
        for (v, text) in [
            (0.0, "0"),
            (-0.0, "0"),
            (-0.00001, "0"),
            (1.0, "1"),
            (-2.5, "-2.5"),
            (0.0625, "0.0625"),
            (1e-9, "0"),
            (123456.78905, "123456.7891"),
            (-0.0004, "-0.0004"),
            (1e20, "100000000000000000000"),
        ] {
            assert_eq!(shown(v), text);
        }
    }

    #[test]
    fn escaping_leaves_no_markup_and_no_forbidden_character() {
        let mut out = String::new();
        escaped(&mut out, "<a b='c'>&\"]]>\u{0}\u{1B}\u{FFFF}\n");
        assert_eq!(out, "&lt;a b=&#39;c&#39;&gt;&amp;&quot;]]&gt;\u{FFFD}\u{FFFD}\u{FFFD}&#10;");
    }
}
