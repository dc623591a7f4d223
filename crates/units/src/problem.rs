//! What can be wrong with a typed value, as a sentence.
//!
//! In: the kind of trouble and what was typed. Out: [`ParseProblem`], whose `Display` is one plain sentence.
//! Always true: the sentence quotes at most 24 characters of the text and no control characters.

use core::fmt;

/// Why a typed value cannot be used.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ParseProblem {
    /// What was typed, shortened and made printable.
    pub typed: String,
    /// What is wrong.
    pub problem: Problem,
}

/// The kinds of trouble.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Problem {
    /// Nothing was typed.
    Empty {
        /// Texts that work.
        examples: &'static str,
    },
    /// Longer than any value could be.
    TooLong,
    /// A character that cannot be typed or printed.
    ControlCharacter(u32),
    /// No reading at all.
    NotUnderstood {
        /// "a length", "an angle" and so on.
        wanted: &'static str,
        /// Texts that work.
        examples: &'static str,
    },
    /// A word that is no unit.
    UnknownUnit {
        /// The word.
        word: String,
        /// The units that work.
        units: &'static str,
    },
    /// A unit of something else.
    WrongKind {
        /// The unit.
        word: String,
        /// What it measures.
        measures: &'static str,
        /// "a length", "an angle" and so on.
        wanted: &'static str,
        /// The units that work.
        units: &'static str,
    },
    /// A comma that may separate thousands or decimals.
    Ambiguous {
        /// The number as typed.
        number: String,
        /// Read as a separator of thousands.
        thousands: String,
        /// Read as a decimal sign.
        decimal: String,
    },
    /// Separators that fit no way of writing numbers.
    BadGrouping(String),
    /// A fraction over nothing.
    ZeroDenominator,
    /// A whole number with a fraction of one or more.
    FractionNotBelowOne {
        /// The fraction as typed.
        fraction: String,
    },
    /// Decimals where only a whole number makes sense.
    NotWhole(String),
    /// A smaller unit that reaches the larger one, as in 3 ft 14 in.
    PartTooLarge {
        /// The smaller unit.
        small: &'static str,
        /// The larger unit.
        large: &'static str,
        /// How many small ones make a large one.
        limit: u32,
    },
    /// Units that do not follow one another, as in 3 mm 2 ft.
    UnitOrder,
    /// A number without a unit after one with a unit.
    UnitMissing(String),
    /// More digits than can be kept exactly.
    TooManyDigits,
    /// Larger than can be held.
    TooLarge,
}

impl ParseProblem {
    pub(crate) fn new(text: &str, problem: Problem) -> ParseProblem {
        ParseProblem { typed: shown(text), problem }
    }
}

/// At most 24 characters, control characters replaced.
pub(crate) fn shown(text: &str) -> String {
    let text = text.trim();
    let mut out: String = text.chars().take(24).map(|c| if unseen(c) { '\u{fffd}' } else { c }).collect();
    if text.chars().nth(24).is_some() {
        out.push('…');
    }
    out
}

/// Controls, ends of lines, and marks that turn the direction of a sentence.
fn unseen(c: char) -> bool {
    c.is_control()
        || matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{200e}' | '\u{200f}' | '\u{061c}')
        || matches!(c, '\u{2028}' | '\u{2029}' | '\u{feff}' | '\u{fffe}' | '\u{ffff}')
}

impl fmt::Display for ParseProblem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let typed = &self.typed;
        match &self.problem {
            Problem::Empty { examples } => write!(f, "Nothing is typed here; type for example {examples}."),
            Problem::TooLong => write!(f, "“{typed}” is too long to be one value; 80 characters at most."),
            Problem::ControlCharacter(c) => {
                write!(f, "“{typed}” holds an invisible control character (U+{c:04X}); delete it.")
            }
            Problem::NotUnderstood { wanted, examples } => {
                write!(f, "“{typed}” cannot be read as {wanted}; type for example {examples}.")
            }
            Problem::UnknownUnit { word, units } => {
                write!(f, "“{word}” in “{typed}” is not a unit known here; use {units}.")
            }
            Problem::WrongKind { word, measures, wanted, units } => {
                write!(f, "“{word}” in “{typed}” measures {measures}, but {wanted} is wanted; use {units}.")
            }
            Problem::Ambiguous { number, thousands, decimal } => write!(
                f,
                "“{number}” could mean {thousands} or {decimal}; type {thousands} or {decimal} instead."
            ),
            Problem::BadGrouping(number) => {
                write!(
                    f,
                    "“{number}” has its dots and commas in odd places; type it with one decimal sign at most."
                )
            }
            Problem::ZeroDenominator => write!(f, "“{typed}” divides by zero; use a fraction such as 3/4."),
            Problem::FractionNotBelowOne { fraction } => write!(
                f,
                "After a whole number the fraction must be below one, but “{typed}” has {fraction}; check the figures."
            ),
            Problem::NotWhole(number) => {
                write!(
                    f,
                    "“{number}” in “{typed}” must be a whole number; use decimals or a fraction, not both."
                )
            }
            Problem::PartTooLarge { small, large, limit } => {
                write!(f, "“{typed}” has {limit} {small} or more after {large}; keep {small} below {limit}.")
            }
            Problem::UnitOrder => write!(
                f,
                "“{typed}” mixes units in a way that cannot be read; use one unit, or feet and inches, or m, cm and mm."
            ),
            Problem::UnitMissing(number) => {
                write!(f, "{number} in “{typed}” has no unit; write the unit after it.")
            }
            Problem::TooManyDigits => {
                write!(
                    f,
                    "“{typed}” has more digits than can be kept exactly; twelve before and after the sign are enough."
                )
            }
            Problem::TooLarge => write!(f, "“{typed}” is larger than can be held."),
        }
    }
}

impl std::error::Error for ParseProblem {}
