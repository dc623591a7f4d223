//! The lists of a book as CSV.
//!
//! In: a built table, options of its book. Out: files by name.
//! Always true: text is UTF-8, cells are quoted where RFC 4180 asks for it, lines end with a line feed; cells that a
//! spreadsheet could take for a formula begin with an apostrophe.

use crate::{BookOptions, Built};
use turnleaf_book::BookInput;

impl Built {
    /// Every list as a CSV file: its name and its text. An error is one sentence.
    pub fn lists_csv(&self, options: &BookOptions) -> Result<Vec<(String, String)>, String> {
        let figures = self.figures();
        let cutting = self.book_layouts();
        cutting.found().as_ref().map_err(String::clone)?;
        Built::remember(&cutting);
        let input = BookInput { figures: &figures, cutting: Some(&cutting), ..self.input("") };
        turnleaf_book::lists(&input, options)
            .into_iter()
            .map(|list| {
                let mut writer = csv::Writer::from_writer(Vec::new());
                let wrong =
                    |e: &dyn std::fmt::Display| format!("The list {} cannot be written: {e}.", list.name);
                for row in &list.rows {
                    writer.write_record(row.iter().map(|c| safe(c))).map_err(|e| wrong(&e))?;
                }
                let bytes = writer.into_inner().map_err(|e| wrong(&e))?;
                let text = String::from_utf8(bytes).map_err(|e| wrong(&e))?;
                Ok((format!("{}.csv", list.name), text))
            })
            .collect()
    }
}

/// A cell as it is written to a CSV file: disarmed where a spreadsheet could take it for a formula.
pub fn csv_cell(cell: &str) -> String {
    safe(cell)
}

/// A cell as it was before [`csv_cell`].
pub fn csv_text(cell: &str) -> String {
    match cell.strip_prefix('\'') {
        Some(rest) if rest.starts_with(['=', '+', '-', '@', '\t', '\r']) => rest.to_string(),
        _ => cell.to_string(),
    }
}

/// Keeps spreadsheets from running a cell that begins like a formula; numbers stay as they are.
fn safe(cell: &str) -> String {
    let formula = cell.starts_with(['=', '+', '-', '@', '\t', '\r']) && cell.parse::<f64>().is_err();
    if formula { format!("'{cell}") } else { cell.replace('\u{A0}', " ") }
}

#[cfg(test)]
mod tests {
    use super::safe;

    #[test]
    fn formulas_are_disarmed_and_numbers_are_not() {
        assert_eq!(safe("=1+1"), "'=1+1");
        assert_eq!(safe("-12.5"), "-12.5");
        assert_eq!(safe("@x"), "'@x");
        assert_eq!(safe("4\u{A0}mm"), "4 mm");
    }
}
