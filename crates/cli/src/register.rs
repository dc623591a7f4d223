//! The register of copies: who has which revision, in a CSV file that never leaves the maker's machine.
//!
//! In: a CSV file (RFC 4180) with the columns of [`COLUMNS`]. Out: the same with a row more, or those to notify.
//! Always true: a plan file and a book know nothing of it; columns of the maker's own stay as they are; cells that a
//! spreadsheet could take for a formula are written with an apostrophe before them, and read without it.

use crate::{files, load};
use std::path::Path;
use turnleaf_plan::planfile::Date;
use turnleaf_plan::{csv_cell, csv_text};

/// Columns in their order.
const COLUMNS: [&str; 7] = ["name", "contact", "date", "revision", "size", "units", "paper"];

/// A copy.
pub type Copy = [String; 7];

/// A register: its columns, those of the maker's own among them, and its rows.
#[derive(Clone, Debug, PartialEq)]
pub struct Register {
    heads: Vec<String>,
    /// Where each of [`COLUMNS`] stands.
    places: [usize; 7],
    rows: Vec<Vec<String>>,
}

impl Register {
    fn new() -> Register {
        let heads = COLUMNS.map(str::to_string).to_vec();
        Register { heads, places: core::array::from_fn(|k| k), rows: Vec::new() }
    }

    /// The copies in it.
    pub fn copies(&self) -> impl Iterator<Item = Copy> {
        self.rows.iter().map(|row| self.places.map(|at| row.get(at).cloned().unwrap_or_default()))
    }

    fn add(&mut self, copy: Copy) {
        let mut row = vec![String::new(); self.heads.len()];
        for (at, cell) in self.places.into_iter().zip(copy) {
            row[at] = cell;
        }
        self.rows.push(row);
    }
}

/// Reads the register; an absent file is an empty one.
pub fn read(path: &Path) -> Result<Register, String> {
    if !path.exists() {
        return Ok(Register::new());
    }
    parse(&path.display().to_string(), &files::bytes(path)?)
}

/// Reads a register's bytes; `name` is what sentences call it.
pub fn parse(name: &str, bytes: &[u8]) -> Result<Register, String> {
    let wrong = |e: &dyn std::fmt::Display| format!("{name} cannot be read as a register: {e}.");
    let (mut reader, heads) = files::table(bytes, &wrong)?;
    let heads: Vec<String> = heads.iter().map(|h| csv_text(h)).collect();
    let place = |column: &str| {
        heads
            .iter()
            .position(|h| h == column)
            .ok_or_else(|| format!("{name} has no column “{column}”; a register has {}.", COLUMNS.join(", ")))
    };
    let mut places = [0; 7];
    for (place_of, column) in places.iter_mut().zip(COLUMNS) {
        *place_of = place(column)?;
    }
    let mut rows = Vec::new();
    for record in reader.records() {
        rows.push(record.map_err(|e| wrong(&e))?.iter().map(csv_text).collect());
    }
    Ok(Register { heads, places, rows })
}

/// Adds a copy.
pub fn add(path: &Path, copy: Copy) -> Result<String, String> {
    if Date::parse(&copy[2]).is_none() {
        return Err(format!("“{}” is not a day; write year, month, day as in 2025-03-14.", copy[2]));
    }
    if copy[0].trim().is_empty() || copy[3].trim().is_empty() {
        return Err("A copy needs a name and the mark of its revision.".into());
    }
    let mut all = read(path)?;
    all.add(copy);
    files::write_whole(path, &text(&all)?)?;
    let count = all.rows.len();
    Ok(format!("The register has {count} {}.\n", if count == 1 { "copy" } else { "copies" }))
}

/// A register as it is kept.
pub fn text(all: &Register) -> Result<Vec<u8>, String> {
    let mut writer = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
    let wrong = |e: &dyn std::fmt::Display| format!("The register cannot be written: {e}.");
    for row in std::iter::once(&all.heads).chain(&all.rows) {
        writer.write_record(row.iter().map(|c| csv_cell(c))).map_err(|e| wrong(&e))?;
    }
    writer.into_inner().map_err(|e| wrong(&e))
}

/// A cell as part of a mail: on one line, so that nobody's name becomes a line of its head.
fn one_line(cell: &str) -> String {
    cell.split(char::is_control).map(str::trim).filter(|part| !part.is_empty()).collect::<Vec<_>>().join(" ")
}

/// Those whose copy is older than the plan's last issued revision (or the one named), with a mail for each.
pub fn notify(
    path: &Path,
    plan: &Path,
    revision: Option<&str>,
    link: Option<&str>,
) -> Result<String, String> {
    let plan = load::plan(plan)?;
    let marks: Vec<&str> = plan.revisions().iter().map(|r| r.mark.as_str()).collect();
    let Some(mark) = revision.or(marks.last().copied()) else {
        return Err("The plan has no issued revision, so there is nothing to tell anyone.".into());
    };
    let Some(at) = marks.iter().rposition(|m| *m == mark) else {
        return Err(format!("The plan has no issued revision {mark}; it has {}.", marks.join(", ")));
    };
    let title = &plan.texts().title;
    let mut text = String::new();
    let mut count = 0;
    for copy in read(path)?.copies() {
        let copy = copy.map(|cell| one_line(&cell));
        let [name, contact, _, has, size, ..] = &copy;
        // A mark the plan does not know is older than any it does.
        if marks.iter().rposition(|m| m == has).is_some_and(|i| i >= at) {
            continue;
        }
        count += 1;
        let since = marks.iter().rposition(|m| m == has).map_or(0, |i| i + 1);
        text += &format!("To: {contact}\nSubject: {title}: revision {mark}\n\nDear {name},\n\n");
        text += &format!("you have revision {has} of the plans for {title}");
        text += &if size.is_empty() { String::new() } else { format!(" at {size}") };
        text += &format!(". Revision {mark} is free for you. What changed since:\n\n");
        for r in &plan.revisions()[since..=at] {
            text += &format!("- {} ({}): {}\n", r.mark, r.date, r.what);
        }
        text +=
            "\nThe change notice says which pages to print again and what becomes of parts you have cut.\n";
        if let Some(link) = link {
            text += &format!("Download: {link}\n");
        }
        text += "\n----\n";
    }
    Ok(format!("{text}{count} to notify of revision {mark}.\n"))
}
