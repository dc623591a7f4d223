//! The register of copies: who has which revision, in a CSV file that never leaves the maker's machine.
//!
//! In: a CSV file (RFC 4180) with the columns of [`COLUMNS`]. Out: the same with a row more, or those to notify.
//! Always true: a plan file and a book know nothing of it; cells that a spreadsheet could take for a formula are
//! written with an apostrophe before them, and read without it.

use crate::{files, load};
use std::path::Path;
use turnleaf_plan::planfile::Date;
use turnleaf_plan::{csv_cell, csv_text};

/// Columns in their order.
const COLUMNS: [&str; 7] = ["name", "contact", "date", "revision", "size", "units", "paper"];

/// A copy.
pub type Copy = [String; 7];

/// Reads the register; an absent file is an empty one.
pub fn read(path: &Path) -> Result<Vec<Copy>, String> {
    if !path.exists() {
        return Ok(Vec::new());
    }
    parse(&path.display().to_string(), &files::bytes(path)?)
}

/// Reads a register's bytes; `name` is what sentences call it.
pub fn parse(name: &str, bytes: &[u8]) -> Result<Vec<Copy>, String> {
    let wrong = |e: &dyn std::fmt::Display| format!("{name} cannot be read as a register: {e}.");
    let (mut reader, heads) = files::table(bytes, &wrong)?;
    let place = |column: &str| {
        heads
            .iter()
            .position(|h| h == column)
            .ok_or_else(|| format!("{name} has no column “{column}”; a register has {}.", COLUMNS.join(", ")))
    };
    let places = COLUMNS.iter().map(|c| place(c)).collect::<Result<Vec<usize>, String>>()?;
    let mut out = Vec::new();
    for record in reader.records() {
        let record = record.map_err(|e| wrong(&e))?;
        let cell = |k: usize| csv_text(record.get(places[k]).unwrap_or_default());
        out.push(core::array::from_fn(cell));
    }
    Ok(out)
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
    all.push(copy);
    files::write_whole(path, &text(&all)?)?;
    Ok(format!("The register has {} copies.\n", all.len()))
}

/// A register as it is kept.
pub fn text(all: &[Copy]) -> Result<Vec<u8>, String> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    let wrong = |e: &dyn std::fmt::Display| format!("The register cannot be written: {e}.");
    writer.write_record(COLUMNS).map_err(|e| wrong(&e))?;
    for copy in all {
        writer.write_record(copy.iter().map(|c| csv_cell(c))).map_err(|e| wrong(&e))?;
    }
    writer.into_inner().map_err(|e| wrong(&e))
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
    for copy in read(path)? {
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
