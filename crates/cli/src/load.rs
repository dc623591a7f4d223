//! Plan files from disk, and what is built from them.

use std::path::Path;
use turnleaf_plan::{Assembly, Built, Plan};

/// Opens a plan file. Problems of one file are joined into one sentence a line would hold.
pub fn plan(path: &Path) -> Result<Plan, String> {
    let name = path.display();
    let length =
        std::fs::metadata(path).map_err(|e| format!("{name} cannot be opened: {}.", plain(&e)))?.len();
    // The reader refuses large files by itself; not loading gigabytes first keeps that quick.
    if length > 64 << 20 {
        return Err(format!("{name} is {} MB long; a plan file has at most 5 MB.", length >> 20));
    }
    let bytes = std::fs::read(path).map_err(|e| format!("{name} cannot be read: {}.", plain(&e)))?;
    turnleaf_plan::open(&bytes).map(|(plan, _)| plan).map_err(|problems| join(&problems))
}

/// What the system says, without its error number.
pub fn plain(e: &std::io::Error) -> String {
    let text = e.to_string();
    let text = text.split(" (os error").next().unwrap_or_default();
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}

/// Builds everything but the book.
pub fn build(path: &Path) -> Result<Built, String> {
    turnleaf_plan::build(&plan(path)?).map_err(|problems| join(&problems))
}

/// Parts and pieces alone.
pub fn assembly(path: &Path) -> Result<Assembly, String> {
    turnleaf_plan::outline(&plan(path)?).map_err(|problems| join(&problems))
}

/// Problems as one sentence a line would hold.
pub fn join(problems: &[turnleaf_plan::Diagnostic]) -> String {
    let mut out: Vec<String> = problems.iter().map(|d| d.sentence.clone()).collect();
    // Every problem carries the same hint; it is said once.
    if let Some(hint) = problems.iter().map(|d| &d.hint).find(|h| !h.is_empty()) {
        out.push(hint.clone());
    }
    out.join(" ")
}
