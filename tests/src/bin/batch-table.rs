//! Prints a table of books for `turnleaf batch`: `batch-table ROWS`.
//!
//! In: how many rows. Out: the CSV table on standard output.

fn main() {
    let rows = std::env::args().nth(1).and_then(|text| text.parse().ok()).unwrap_or(200);
    print!("{}", turnleaf_tests::table::of_books(rows));
}
