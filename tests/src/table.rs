//! A table of books, for trying batches of any length.
//!
//! In: how many rows. Out: a CSV table for `turnleaf batch` that goes with `demo/reading-room.json`.
//! Always true: every row is another book, of a size at which that demo plan works; names and lines are invented (demo).

/// The table: units, paper and heights from 700 to 760 mm in turn.
pub fn of_books(rows: usize) -> String {
    let mut out = String::from("name,units,paper,language,imprint,height\r\n");
    for i in 0..rows {
        let units = ["mm", "in", "both"][i % 3];
        let paper = ["a4", "letter"][i % 2];
        let language = ["en", "en", "de"][i / 3 % 3];
        let number = i + 1;
        out += &format!(
            "copy-{number:03},{units},{paper},{language},Copy {number} of {rows} (demo),{} mm\r\n",
            700 + i % 61
        );
    }
    out
}
