//! Revision marks, fingerprints, places of decimals. In: drawing-office rules and test vectors. Out: rows.
//! Always true: marks are walked through one by one as a plan would be issued.

use crate::table::{Group, Known::*, Source};
use turnleaf_plan::planfile::{Date, next_mark};
use turnleaf_plan::{csv_cell, fingerprint};
use turnleaf_register::{EMPTY, Register};

/// The n-th mark from A.
fn mark(n: usize) -> String {
    let first = Some("A".to_string());
    std::iter::successors(first, |m| next_mark(m)).nth(n - 1).unwrap_or_default()
}

/// Two cells as a list of copies writes them, with the line ending inside a cell named as the standard names it.
fn written(first: &str, second: &str) -> String {
    let mut list = Register::default();
    let copy = [first, second, "2026-01-01", "A", "", "", ""].map(String::from);
    let added = list.add(&copy).err();
    let text = list.text();
    let row = text.strip_prefix(EMPTY).unwrap_or_default().replace("\r\n", " CRLF ");
    added.unwrap_or_else(|| row.split(',').take(2).collect::<Vec<_>>().join(" | "))
}

/// Two cells of a file as a list of copies reads them.
fn read(first: &str, second: &str) -> String {
    let file = format!("{EMPTY}{first},{second},,A,,,").replace(" CRLF ", "\r\n");
    match Register::parse("file", file.as_bytes()) {
        Ok(list) => {
            let cells = list.copies().flat_map(|copy| [copy[0].clone(), copy[1].clone()]).collect::<Vec<_>>();
            cells.join(" | ").replace("\r\n", " CRLF ")
        }
        Err(sentence) => sentence,
    }
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
    let rfc = |what| Source::new("RFC 4180, definition of CSV", what, Quoted);
    g.words(
        "a cell of a list of copies with a quote or a line's end inside, written",
        rfc("2.6, 2.7: examples"),
        "\"b\"\"bb\" | \"b CRLF bb\"",
        written("b\"bb", "b\r\nbb"),
        "every letter",
    );
    g.words(
        "cells of a list of copies in quotes and out of them, read",
        rfc("2.5 to 2.7: examples"),
        "b\"bb | b CRLF bb",
        read("\"b\"\"bb\"", "\"b CRLF bb\""),
        "every letter",
    );
    g
}
