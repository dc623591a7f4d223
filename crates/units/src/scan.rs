//! From characters to marks: numbers, fractions, units.
//!
//! In: text as typed. Out: [`Token`]s, with every typographic variant brought to one form.
//! Always true: at most [`LONGEST`] characters are looked at; no number is read as a float.

use crate::problem::{ParseProblem, Problem, shown};
use crate::ratio::Ratio;

/// Longest text read, in characters. Longer would only cost time; the longest sensible
/// text ("3 feet 11 63/64 inches") has 24.
const LONGEST: usize = 80;
/// Most digits before, and after, the decimal sign: keeps every product below inside 128 bits.
const DIGITS: usize = 12;

/// One mark of the text.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Token {
    pub kind: Kind,
    /// A space stands before it.
    pub spaced: bool,
}

#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Kind {
    /// Digits with any dots and commas, as typed.
    Number(String),
    /// A single-character fraction.
    Vulgar(i128, i128),
    Slash,
    Dash,
    Plus,
    /// A word or mark that may be a unit, as typed but for marks: `mm`, `'`, `"`, `°`.
    Unit(String),
    /// Anything else.
    Other,
}

fn vulgar(c: char) -> Option<(i128, i128)> {
    Some(match c {
        '¼' => (1, 4),
        '½' => (1, 2),
        '¾' => (3, 4),
        '⅐' => (1, 7),
        '⅑' => (1, 9),
        '⅒' => (1, 10),
        '⅓' => (1, 3),
        '⅔' => (2, 3),
        '⅕' => (1, 5),
        '⅖' => (2, 5),
        '⅗' => (3, 5),
        '⅘' => (4, 5),
        '⅙' => (1, 6),
        '⅚' => (5, 6),
        '⅛' => (1, 8),
        '⅜' => (3, 8),
        '⅝' => (5, 8),
        '⅞' => (7, 8),
        _ => return None,
    })
}

/// All marks of the text.
pub(crate) fn scan(text: &str) -> Result<Vec<Token>, ParseProblem> {
    let fail = |problem| ParseProblem::new(text, problem);
    let chars: Vec<char> = text.trim().chars().take(LONGEST + 1).collect();
    if chars.len() > LONGEST {
        return Err(fail(Problem::TooLong));
    }
    let mut out: Vec<Token> = Vec::new();
    let (mut i, mut spaced) = (0, false);
    while i < chars.len() {
        let c = chars[i];
        let start = i;
        i += 1;
        if c.is_whitespace() {
            spaced = true;
            continue;
        }
        if c.is_control() {
            return Err(fail(Problem::ControlCharacter(c as u32)));
        }
        let kind = match c {
            '0'..='9' | '.' | ',' => {
                while i < chars.len() && matches!(chars[i], '0'..='9' | '.' | ',') {
                    i += 1;
                }
                Kind::Number(chars[start..i].iter().collect())
            }
            '/' | '⁄' | '∕' => Kind::Slash,
            '-' | '−' | '‐' | '‑' | '‒' | '–' | '—' => Kind::Dash,
            '+' => Kind::Plus,
            '°' | 'º' => Kind::Unit("°".into()),
            '"' | '″' | '”' | '“' | '„' | '‟' => Kind::Unit("\"".into()),
            '\'' | '′' | '’' | '‘' | '‚' | '´' | '`' => {
                // Two single marks side by side are how a double one is often typed.
                let twice = i < chars.len() && matches!(chars[i], '\'' | '′' | '’' | '‘' | '´' | '`');
                i += usize::from(twice);
                Kind::Unit(if twice { "\"" } else { "'" }.into())
            }
            c if c.is_alphabetic() => {
                while i < chars.len() && chars[i].is_alphabetic() && vulgar(chars[i]).is_none() {
                    i += 1;
                }
                let word: String = chars[start..i].iter().collect();
                // The full stop of an abbreviation ("in.") belongs to the word, unless digits follow.
                if i < chars.len() && chars[i] == '.' && !chars.get(i + 1).is_some_and(char::is_ascii_digit) {
                    i += 1;
                }
                Kind::Unit(word)
            }
            c => vulgar(c).map_or(Kind::Other, |(num, den)| Kind::Vulgar(num, den)),
        };
        out.push(Token { kind, spaced });
        spaced = false;
    }
    Ok(out)
}

/// A number made of digits, dots and commas, exactly.
pub(crate) fn decimal(raw: &str) -> Result<Ratio, Problem> {
    let odd = || Problem::BadGrouping(shown(raw));
    let marks: Vec<char> = raw.chars().filter(|c| !c.is_ascii_digit()).collect();
    let Some(&last) = marks.last() else { return digits(raw, "") };
    let (whole, part) = raw.rsplit_once(last).ok_or_else(odd)?;
    let grouped = marks.len() > 1 && marks[..marks.len() - 1].iter().all(|&m| m == marks[0]);
    if marks.len() == 1 {
        if part.is_empty() {
            return Err(odd());
        }
        let looks_grouped =
            last == ',' && part.len() == 3 && (1..=3).contains(&whole.len()) && !whole.starts_with('0');
        if looks_grouped {
            return Err(Problem::Ambiguous {
                number: raw.into(),
                thousands: format!("{whole}{part}"),
                decimal: format!("{whole}.{part}").trim_end_matches('0').trim_end_matches('.').into(),
            });
        }
        return digits(whole, part);
    }
    if !grouped || part.is_empty() {
        return Err(odd());
    }
    // 1,234,567 or 1.234.567: all the same sign, so it separates thousands.
    if marks[0] == last {
        return digits(&ungroup(raw, last).ok_or_else(odd)?, "");
    }
    // 1,234.5 or 1.234,5: the first sign separates thousands, the last one decimals.
    digits(&ungroup(whole, marks[0]).ok_or_else(odd)?, part)
}

/// Takes the separators of thousands out, if they stand where they should.
fn ungroup(text: &str, mark: char) -> Option<String> {
    let mut groups = text.split(mark);
    let first = groups.next()?;
    let fits = (1..=3).contains(&first.len()) && !first.starts_with('0') && groups.all(|g| g.len() == 3);
    fits.then(|| text.replace(mark, ""))
}

fn digits(whole: &str, part: &str) -> Result<Ratio, Problem> {
    let part = part.trim_end_matches('0');
    let lead = whole.trim_start_matches('0');
    if lead.len() > DIGITS || part.len() > DIGITS {
        return Err(Problem::TooManyDigits);
    }
    let mut num: i128 = 0;
    for c in lead.bytes().chain(part.bytes()) {
        num = num * 10 + i128::from(c - b'0');
    }
    Ok(Ratio { num, den: 10_i128.pow(part.len() as u32) })
}
