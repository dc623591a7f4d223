//! The register of copies from a terminal: a CSV file that never leaves the maker's machine.
//!
//! In: the file and a plan. Out: the file with a row more, or those to notify with a letter for each.
//! Always true: an absent file is an empty register; the file is replaced whole or not at all.

use crate::{files, load};
use std::path::Path;
use turnleaf_plan::register::{Copy, News, PastMark, Register, proper};

/// Reads the register; an absent file is an empty one.
fn read(path: &Path) -> Result<Register, String> {
    if !path.exists() {
        return Ok(Register::default());
    }
    Register::parse(&path.display().to_string(), &files::bytes(path)?)
}

/// Adds a copy.
pub fn add(path: &Path, copy: &Copy) -> Result<String, String> {
    proper(copy)?;
    let mut all = read(path)?;
    all.add(copy)?;
    files::write_whole(path, all.text().as_bytes())?;
    let count = all.len();
    Ok(format!("The register has {count} {}.\n", if count == 1 { "copy" } else { "copies" }))
}

/// Those whose copy is older than the plan's last issued revision (or the one named), with a mail for each.
pub fn notify(
    path: &Path,
    plan: &Path,
    revision: Option<&str>,
    link: Option<&str>,
) -> Result<String, String> {
    let plan = load::plan(plan)?;
    let past = |r: &turnleaf_plan::planfile::PastRevision| PastMark {
        mark: r.mark.clone(),
        date: r.date.to_string(),
        what: r.what.clone(),
    };
    let issued: Vec<PastMark> = plan.revisions().iter().map(past).collect();
    let mark = News::mark(&issued, revision)?;
    let working = &plan.revision().mark;
    let news = News { title: &plan.texts().title, issued: &issued, working, mark, link };
    Ok(news.letters(read(path)?.copies()))
}
