//! Cells of a CSV file: quoted where they must be, disarmed where a spreadsheet could run them.
//!
//! In: texts, or fields as a file has them. Out: the other of the two.
//! Always true: what [`csv_cell`] made, [`csv_text`] takes back.

/// What spreadsheets take for the beginning of a formula (OWASP, CSV injection, from memory).
const FORMULA: [char; 6] = ['=', '+', '-', '@', '\t', '\r'];

/// A cell as it is written to a CSV file: with an apostrophe before it where a spreadsheet could take it for a formula.
/// Numbers stay as they are.
pub fn csv_cell(cell: &str) -> String {
    if live(cell) { format!("'{cell}") } else { cell.replace('\u{A0}', " ") }
}

/// A cell as it was before [`csv_cell`].
pub fn csv_text(cell: &str) -> String {
    match cell.strip_prefix('\'') {
        Some(rest) if rest.starts_with(FORMULA) => rest.to_string(),
        _ => cell.to_string(),
    }
}

/// Whether a spreadsheet could run this cell.
pub(crate) fn live(cell: &str) -> bool {
    cell.starts_with(FORMULA) && cell.parse::<f64>().is_err()
}

/// A text as a field of a file: disarmed, and in quotes where RFC 4180 (2.6, 2.7) asks for them.
pub(crate) fn field(text: &str) -> String {
    let cell = csv_cell(text);
    if cell.contains(['"', ',', '\r', '\n']) { format!("\"{}\"", cell.replace('"', "\"\"")) } else { cell }
}

/// What a field of a file says, with the apostrophe that disarms it and without the spaces round it.
pub(crate) fn plain(field: &str) -> String {
    let inside = field.strip_prefix('"').and_then(|rest| rest.strip_suffix('"'));
    let text = inside.map_or_else(|| field.to_string(), |inside| inside.replace("\"\"", "\""));
    text.trim().to_string()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn formulas_are_disarmed_and_numbers_are_not() {
        assert_eq!(csv_cell("=1+1"), "'=1+1");
        assert_eq!(csv_cell("-12.5"), "-12.5");
        assert_eq!(csv_cell("@x"), "'@x");
        assert_eq!(csv_cell("4\u{A0}mm"), "4 mm");
        assert_eq!(csv_text("'=1+1"), "=1+1");
        assert_eq!(csv_text("'quoted'"), "'quoted'");
    }

    #[test]
    fn fields_are_quoted_as_the_standard_has_it() {
        // RFC 4180, 2.5 to 2.7: "b CRLF bb", "b""bb".
        assert_eq!(field("b\r\nbb"), "\"b\r\nbb\"");
        assert_eq!(field("b\"bb"), "\"b\"\"bb\"");
        assert_eq!(field("aaa"), "aaa");
        assert_eq!(plain("\"b\"\"bb\""), "b\"bb");
        assert_eq!(plain(" aaa "), "aaa");
    }
}
