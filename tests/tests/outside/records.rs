//! Revision marks, fingerprints, places of decimals. In: drawing-office rules and test vectors. Out: rows.
//! Always true: marks are walked through one by one as a plan would be issued.

use crate::table::{Group, Known::*, Source};
use turnleaf_plan::planfile::{Date, next_mark};
use turnleaf_plan::{csv_cell, fingerprint};

/// The n-th mark from A.
fn mark(n: usize) -> String {
    let first = Some("A".to_string());
    std::iter::successors(first, |m| next_mark(m)).nth(n - 1).unwrap_or_default()
}

/// The rows.
pub fn rows() -> Group {
    let mut g = Group::new("Revisions and records");
    let navy = Source::new("US Navy, Engineering Aid, Basic", "p. 3-15, letters left out", Read);
    let single: Vec<String> = (1..=20).map(mark).collect();
    let missing: String = ('A'..='Z').filter(|c| !single.contains(&c.to_string())).collect();
    g.words("letters left out of revision marks", navy, "IOQSXZ", missing, "letters that are misread");
    let y14_35 = Source::new("ASME Y14.35M-1997", "5.2: twentieth, twenty-first, forty-first mark", Quoted);
    g.words(
        "revision marks beyond the alphabet",
        y14_35,
        "Y, AA, BA",
        [20, 21, 41].map(mark).join(", "),
        "the order of the marks",
    );
    let fips = Source::new("FIPS 180-4 (SHA-256)", "message “abc”", Memory);
    g.words(
        "fingerprint of the three letters abc",
        fips,
        "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad",
        fingerprint(b"abc"),
        "every digit",
    );
    let days: Vec<String> = ["2000-02-29", "1900-02-29", "2024-02-29", "2023-04-31"]
        .iter()
        .map(|d| if Date::parse(d).is_some() { "day" } else { "none" }.to_string())
        .collect();
    g.words(
        "29 February 2000, 1900, 2024 and 31 April 2023",
        Source::new("Gregorian calendar (ISO 8601)", "leap years of centuries", Memory),
        "day, none, day, none",
        days.join(", "),
        "the rule of 400 years",
    );
    g.words(
        "a cell that a spreadsheet would take for a formula",
        Source::new("OWASP, CSV injection", "an apostrophe before =, +, -, @", Memory),
        "'=1+2",
        csv_cell("=1+2"),
        "its first character",
    );
    g
}
