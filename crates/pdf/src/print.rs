//! Asks readers to print at full size.
//!
//! In: a finished file. Out: the same file with `/PrintScaling /None` among its viewer preferences,
//! which the PDF library does not offer.
//! Always true: only the catalog grows. It is the last object of the file, so that no other object
//! moves; the one number to mend is the position of the cross-reference table at the end.

use crate::problem::PdfProblem;

const PREFERENCES: &[u8] = b"/ViewerPreferences<<";
const WISH: &[u8] = b"/PrintScaling/None";
const START: &[u8] = b"startxref";

fn last(bytes: &[u8], what: &[u8]) -> Option<usize> {
    bytes.windows(what.len()).rposition(|w| w == what)
}

/// Adds the wish.
pub(crate) fn full_size(mut file: Vec<u8>) -> Result<Vec<u8>, PdfProblem> {
    let unknown = || PdfProblem::Library("the end of the file is not laid out as expected".to_string());
    let start = last(&file, START).ok_or_else(unknown)?;
    let tail = std::str::from_utf8(&file[start + START.len()..]).map_err(|_| unknown())?;
    let table: usize = tail.split_whitespace().next().and_then(|n| n.parse().ok()).ok_or_else(unknown)?;
    let spaced = tail.replacen(&table.to_string(), &(table + WISH.len()).to_string(), 1);
    let here = last(&file[..table.min(file.len())], PREFERENCES).ok_or_else(unknown)? + PREFERENCES.len();
    // Nothing but the catalog may follow: no object may begin between it and the table.
    if last(&file[here..table], b" 0 obj").is_some() {
        return Err(unknown());
    }
    file.truncate(start + START.len());
    file.extend_from_slice(spaced.as_bytes());
    file.splice(here..here, WISH.iter().copied());
    Ok(file)
}
