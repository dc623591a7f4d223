//! Issuing a revision, and making an issued book again.
//!
//! In: a plan file. Out: the plan file with the revision frozen in it; the book, and what differs from the issued one.
//! Always true: the plan file is replaced whole or not at all.

use crate::show::lines;
use crate::{files, load};
use std::path::Path;
use turnleaf_plan::Again;
use turnleaf_plan::planfile::{Date, Revision};

/// Issues the plan's present revision and writes the plan back, and its book where one is wanted.
pub fn issue(
    path: &Path,
    date: Option<&str>,
    reasons: &[String],
    book: Option<&Path>,
) -> Result<String, String> {
    let mut plan = load::plan(path)?;
    let mut now: Revision = plan.revision().clone();
    if let Some(text) = date {
        let sentence = || format!("“{text}” is not a day; write year, month, day as in 2025-03-14.");
        now.date = Some(Date::parse(text).ok_or_else(sentence)?);
    }
    if !reasons.is_empty() {
        now.reasons = reasons.to_vec();
    }
    let mark = now.mark.clone();
    plan.set_revision(now).map_err(|d| d.sentence)?;
    let edition = turnleaf_plan::issue(&mut plan).map_err(|d| load::join(&d))?;
    if let Some(out) = book {
        let bytes = turnleaf_plan::pdf(&edition.document).map_err(|e| e.to_string())?;
        files::write(out, &bytes)?;
    }
    files::write_whole(path, plan.to_json().as_bytes())?;
    let pages = edition.document.pages.len();
    Ok(format!(
        "Revision {mark} is issued: {pages} pages. The plan file now works on revision {}.\n",
        plan.revision().mark
    ))
}

/// Makes the book of an issued revision again.
pub fn again(path: &Path, mark: &str, out: &Path) -> Result<String, String> {
    let plan = load::plan(path)?;
    let Again { pdf, same, differs, .. } = turnleaf_plan::again(&plan, mark).map_err(|d| load::join(&d))?;
    files::write(out, &pdf)?;
    if same {
        return Ok(format!("The book of revision {mark} is the issued one, byte for byte.\n"));
    }
    let head = format!("The book of revision {mark} is not the issued one:");
    Ok(lines(std::iter::once(head).chain(differs)))
}
