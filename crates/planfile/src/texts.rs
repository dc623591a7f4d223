//! Words of a plan: title, maker, number, notes, revisions.
//!
//! In: text from the file or a form. Out: [`Texts`], [`Revision`], [`PastRevision`], [`Date`].
//! Always true: text is printable (no control characters, none that turn the direction of reading or that XML
//! forbids) and no longer than its limit; a date is a real day.

use crate::issue::{Frozen, FrozenPage};
use crate::json::Json;
use crate::say::{quoted, unprintable};
use std::fmt;
use std::sync::Arc;
use turnleaf_diag::Diagnostic;

/// Longest title, in characters: two lines of a cover. (ISO 7200 advises 25 for the title block.)
pub const TITLE_MAX: usize = 120;
/// Longest maker's name, in characters.
pub const MAKER_MAX: usize = 80;
/// Longest identification number, in characters (ISO 7200:2004 recommends 16).
pub const NUMBER_MAX: usize = 16;
/// Longest note or reason, in characters: about half a page.
pub const NOTE_MAX: usize = 2000;
/// Most notes, reasons, or past revisions in one file.
pub const LIST_MAX: usize = 1000;

/// Names of a plan.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Texts {
    /// Title of the book.
    pub title: String,
    /// Who made the plan.
    pub maker: String,
    /// Identification of the book.
    pub number: String,
}

/// A day.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Date {
    /// 1583 to 9999: the years that ISO 8601 writes without prior agreement.
    pub year: u16,
    /// 1 to 12.
    pub month: u8,
    /// 1 to 31.
    pub day: u8,
}

impl Date {
    /// From `2025-03-14`, if that is a real day.
    pub fn parse(text: &str) -> Option<Date> {
        let bytes = text.as_bytes();
        let shape = bytes.len() == 10
            && bytes.iter().enumerate().all(|(i, b)| match i {
                4 | 7 => *b == b'-',
                _ => b.is_ascii_digit(),
            });
        if !shape {
            return None;
        }
        let (year, month, day): (u16, u8, u8) =
            (text[..4].parse().ok()?, text[5..7].parse().ok()?, text[8..].parse().ok()?);
        let leap = year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400));
        let days = match month {
            1 | 3 | 5 | 7 | 8 | 10 | 12 => 31,
            4 | 6 | 9 | 11 => 30,
            2 => 28 + u8::from(leap),
            _ => return None,
        };
        (year >= 1583 && (1..=days).contains(&day)).then_some(Date { year, month, day })
    }
}

impl fmt::Display for Date {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:04}-{:02}-{:02}", self.year, self.month, self.day)
    }
}

/// The revision being worked on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Revision {
    /// One or two capital letters without I, O, Q, S, X and Z (they are easily misread), or a number up to 99.
    pub mark: String,
    /// The day it is issued; none before that.
    pub date: Option<Date>,
    /// Why it is made.
    pub reasons: Vec<String>,
}

impl Default for Revision {
    fn default() -> Revision {
        Revision { mark: "A".into(), date: None, reasons: Vec::new() }
    }
}

/// An earlier revision.
#[derive(Clone, Debug, PartialEq)]
pub struct PastRevision {
    /// As [`Revision::mark`].
    pub mark: String,
    /// The day it was issued.
    pub date: Date,
    /// What it changed.
    pub what: String,
    /// What was kept of it when it was issued.
    pub(crate) frozen: Option<Arc<Frozen>>,
    /// Pages of its book.
    pub(crate) pages: Arc<Vec<FrozenPage>>,
    /// Short fingerprints of what its book prints.
    pub(crate) figures: Arc<str>,
    /// What this version does not know, kept.
    pub(crate) extra: Vec<(String, Json)>,
}

impl PastRevision {
    /// An earlier revision; its words are checked when it is put into a plan.
    pub fn new(mark: impl Into<String>, date: Date, what: impl Into<String>) -> PastRevision {
        PastRevision {
            mark: mark.into(),
            date,
            what: what.into(),
            frozen: None,
            pages: Arc::default(),
            figures: Arc::from(""),
            extra: Vec::new(),
        }
    }
}

/// Checks one piece of text: `code` without suffix, its name in sentences, its limit in characters.
pub(crate) fn check(code: &str, name: &str, text: &str, limit: usize) -> Result<(), Diagnostic> {
    if let Some(c) = text.chars().find(|&c| unprintable(c)) {
        let sentence = format!(
            "The {name} holds an invisible character (U+{:04X}) that cannot be printed; delete it.",
            c as u32
        );
        return Err(Diagnostic::error(format!("{code}.character"), sentence));
    }
    let length = text.chars().count();
    if length > limit {
        let sentence = format!("The {name} has {length} characters; {limit} fit.");
        return Err(Diagnostic::error(format!("{code}.long"), sentence));
    }
    Ok(())
}

/// Checks a revision mark; `name` is what sentences call it.
pub(crate) fn check_mark(code: &str, name: &str, mark: &str) -> Result<(), Diagnostic> {
    let letters = (1..=2).contains(&mark.len())
        && mark.bytes().all(|b| b.is_ascii_uppercase() && !b"IOQSXZ".contains(&b));
    let number =
        (1..=2).contains(&mark.len()) && mark.bytes().all(|b| b.is_ascii_digit()) && !mark.starts_with('0');
    if letters || number {
        return Ok(());
    }
    let sentence = format!(
        "The {name} “{}” cannot be used; use one or two capital letters without I, O, Q, S, X and Z, or a number up to 99.",
        quoted(mark)
    );
    Err(Diagnostic::error(format!("{code}.mark"), sentence))
}

/// Reads a date; `name` is what sentences call it.
pub(crate) fn date(code: &str, name: &str, text: &str) -> Result<Date, Diagnostic> {
    Date::parse(text.trim()).ok_or_else(|| {
        let sentence =
            format!("The {name} “{}” is not a day; write year, month, day as in 2025-03-14.", quoted(text));
        Diagnostic::error(format!("{code}.date"), sentence)
    })
}
