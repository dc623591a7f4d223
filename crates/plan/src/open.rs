//! Opening what the maker chose: a plan file, or a book with its plan inside.
//!
//! In: bytes. Out: a [`Plan`] with remarks, or every problem found.
//! Always true: a saved book gives the plan it was made from.

use crate::planfile::BYTES_MAX;
use crate::{Diagnostic, Plan};

/// Reads a plan file, or the plan carried inside a PDF. Remarks and problems are those of [`Plan::parse`].
pub fn open(bytes: &[u8]) -> Result<(Plan, Vec<Diagnostic>), Vec<Diagnostic>> {
    if !turnleaf_pdf::is_pdf(bytes) {
        return Plan::parse(bytes);
    }
    let wrong = |code: &str, sentence: String| vec![Diagnostic::error(code, sentence)];
    let files = turnleaf_pdf::carried(bytes, BYTES_MAX).map_err(|sentence| wrong("file.pdf", sentence))?;
    let mut found = None;
    for file in &files {
        match Plan::parse(file) {
            Ok(plan) => return Ok(plan),
            Err(problems) => found = found.or(Some(problems)),
        }
    }
    let none = || {
        wrong(
            "file.pdf.empty",
            "This PDF carries no plan file; choose a book that was saved with its plan inside, or the plan file itself."
                .into(),
        )
    };
    Err(found.unwrap_or_else(none))
}
