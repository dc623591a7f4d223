//! The lists of a book as CSV.
//!
//! In: a built table, options of its book. Out: files by name.
//! Always true: text is UTF-8, cells are quoted where RFC 4180 asks for it, lines end with a line feed; cells that a
//! spreadsheet could take for a formula begin with an apostrophe.

use crate::{BookOptions, Built};
use turnleaf_book::BookInput;
use turnleaf_register::csv_cell;

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
                    writer.write_record(row.iter().map(|c| csv_cell(c))).map_err(|e| wrong(&e))?;
                }
                let bytes = writer.into_inner().map_err(|e| wrong(&e))?;
                let text = String::from_utf8(bytes).map_err(|e| wrong(&e))?;
                Ok((format!("{}.csv", list.name), text))
            })
            .collect()
    }
}
