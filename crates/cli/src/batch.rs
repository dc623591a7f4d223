//! Many books from one plan: one for each row of a table.
//!
//! In: a CSV table (RFC 4180) with a header, a plan. Out: one PDF a row, and a summary.
//! Always true: a row that fails stops no other; a book appears under its name only when it is whole, and is kept by a
//! later run only if its note says that it was made of the same plan and its bytes are still those that were written;
//! nothing is remembered from row to row, so that memory does not grow with them. Columns: `name` (of the file), then
//! any of `units`, `paper`, `language`, `imprint`, and the keys of sizes.

use crate::{files, load};
use std::collections::BTreeSet;
use std::io::{IsTerminal, Write};
use std::path::Path;
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};
use turnleaf_plan::planfile::FIELDS;
use turnleaf_plan::{Edition, Plan, csv_text, fingerprint, pdf};

/// Most rows of one table.
const ROWS_MAX: usize = 10_000;
/// Options a column may set, with the plan's key.
const OPTIONS: [(&str, &str); 3] = [("units", "print.units"), ("paper", "paper"), ("language", "language")];

/// A row: its line, its file's name, what it sets.
pub struct Job {
    line: u64,
    /// Name of the book's file, without its ending.
    pub name: String,
    set: Vec<(String, String)>,
}

/// What became of a row.
enum Done {
    Made,
    Kept,
    Failed(String),
}

/// Makes the books. The text is the summary; an error is one sentence.
pub fn batch(table: &Path, plan: &Path, out: &Path) -> Result<(String, bool), String> {
    let plan = load::plan(plan)?;
    let jobs = parse(&table.display().to_string(), &files::bytes(table)?)?;
    files::folder(out)?;
    let results: Mutex<Vec<(usize, Done)>> = Mutex::new(Vec::new());
    let next = AtomicUsize::new(0);
    let cores = std::thread::available_parallelism().map_or(1, |n| n.get()).min(jobs.len().max(1));
    let bar = std::io::stderr().is_terminal();
    std::thread::scope(|scope| {
        for _ in 0..cores {
            scope.spawn(|| {
                loop {
                    let i = next.fetch_add(1, Ordering::Relaxed);
                    let Some(job) = jobs.get(i) else { break };
                    let done = one(&plan, job, out).unwrap_or_else(Done::Failed);
                    let mut results = results.lock().unwrap_or_else(|e| e.into_inner());
                    results.push((i, done));
                    if bar {
                        progress(results.len(), jobs.len());
                    }
                }
            });
        }
    });
    let mut results = results.into_inner().unwrap_or_else(|e| e.into_inner());
    results.sort_by_key(|r| r.0);
    let count = |f: &dyn Fn(&Done) -> bool| results.iter().filter(|r| f(&r.1)).count();
    let (made, kept) = (count(&|d| matches!(d, Done::Made)), count(&|d| matches!(d, Done::Kept)));
    let failed = results.len() - made - kept;
    let many = |n: usize, one: &str, many: &str| format!("{n} {}", if n == 1 { one } else { many });
    let mut text = format!(
        "{} made, {kept} kept as they were, {} failed.\n",
        many(made, "book", "books"),
        many(failed, "row", "rows")
    );
    for (i, done) in &results {
        if let Done::Failed(why) = done {
            text += &format!("Row at line {}, {}: {why}\n", jobs[*i].line, jobs[*i].name);
        }
    }
    Ok((text, failed == 0))
}

fn progress(done: usize, all: usize) {
    let full = 30 * done / all.max(1);
    eprint!("\r[{}{}] {done} of {all}", "=".repeat(full), " ".repeat(30 - full));
    if done == all {
        eprintln!();
    }
    // A progress bar that cannot be shown is no reason to stop.
    let _ = std::io::stderr().flush();
}

/// Reads the table's bytes; `name` is what sentences call it.
pub fn parse(name: &str, bytes: &[u8]) -> Result<Vec<Job>, String> {
    let wrong = |e: &dyn std::fmt::Display| format!("{name} cannot be read as a table: {e}.");
    let (mut reader, heads) = files::table(bytes, &wrong)?;
    if !heads.iter().any(|h| h == "name") {
        return Err(format!("{name} needs a column “name” for the names of the books."));
    }
    let known = |h: &str| {
        ["name", "imprint"].contains(&h)
            || OPTIONS.iter().any(|o| o.0 == h)
            || FIELDS.iter().any(|f| f.id == h)
    };
    if let Some(odd) = heads.iter().find(|h| !known(h)) {
        return Err(format!(
            "{name} has a column “{}”, which is no size and no option; use name, units, paper, language, imprint or the keys of sizes.",
            // What a terminal would take for an order is not sent there.
            odd.chars().take(40).map(|c| if c.is_control() { '\u{FFFD}' } else { c }).collect::<String>()
        ));
    }
    let mut jobs = Vec::new();
    let mut names = BTreeSet::new();
    for record in reader.records() {
        let record = record.map_err(|e| wrong(&e))?;
        let line = record.position().map_or(0, |p| p.line());
        let mut job = Job { line, name: String::new(), set: Vec::new() };
        for (head, cell) in heads.iter().zip(record.iter()) {
            // A cell that was kept from being a formula carries an apostrophe.
            let cell = csv_text(cell);
            if head == "name" {
                job.name = cell;
            } else if !cell.is_empty() {
                job.set.push((head.clone(), cell));
            }
        }
        let plain = !job.name.is_empty()
            && job.name.len() <= 100
            && job.name.chars().all(|c| c.is_alphanumeric() || "-_. ".contains(c))
            && !job.name.starts_with('.');
        if !plain {
            return Err(format!(
                "The name at line {line} of {name} cannot be a file's; use letters, figures, spaces, hyphens and points."
            ));
        }
        if !names.insert(job.name.to_lowercase()) {
            return Err(format!("The name “{}” stands in {name} twice, again at line {line}.", job.name));
        }
        jobs.push(job);
        if jobs.len() > ROWS_MAX {
            return Err(format!("{name} has more than {ROWS_MAX} rows; cut it into several tables."));
        }
    }
    Ok(jobs)
}

/// One book.
fn one(plan: &Plan, job: &Job, out: &Path) -> Result<Done, String> {
    let mut plan = plan.clone();
    // Units first: they decide how a bare number is read.
    for (head, key) in OPTIONS {
        if let Some((_, word)) = job.set.iter().find(|s| s.0 == head) {
            plan.set_option(key, word).map_err(|d| d.sentence)?;
        }
    }
    for (head, text) in &job.set {
        if head == "imprint" {
            plan.set_imprint(text).map_err(|d| d.sentence)?;
        } else if !OPTIONS.iter().any(|o| o.0 == head) {
            plan.set(head, text).map_err(|d| d.sentence)?;
        }
    }
    let (book, note) = (out.join(format!("{}.pdf", job.name)), out.join(format!("{}.made-of", job.name)));
    let of = fingerprint(format!("{}\n{}", turnleaf_plan::PROGRAM, plan.to_json()).as_bytes());
    let said = std::fs::read_to_string(&note).unwrap_or_default();
    if let Some((made_of, bytes)) = said.split_once(' ')
        && made_of == of
        && std::fs::read(&book).is_ok_and(|there| fingerprint(&there) == bytes)
    {
        return Ok(Done::Kept);
    }
    let edition = Edition::of(&plan).map_err(|d| load::join(&d))?;
    if let Some(check) = edition.built.checks.iter().find(|c| !c.holds) {
        return Err(format!("a check fails: {}", check.text));
    }
    let bytes = pdf(&edition.document).map_err(|e| e.to_string())?;
    files::write_whole(&book, &bytes)?;
    files::write_whole(&note, format!("{of} {}", fingerprint(&bytes)).as_bytes())?;
    Ok(Done::Made)
}
