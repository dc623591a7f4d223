//! The maker's register of copies: who has which revision of a plan, and the mail that tells them of the next.
//!
//! In: a CSV file of the maker's own (RFC 4180), copies, days that come from outside. Out: the same file with only what
//! was touched written anew, and letters as plain text.
//! Always true: no plan file and no book knows of it; a cell that nobody touched keeps its bytes, unless a spreadsheet
//! could take it for a formula; nobody's name becomes a line of a letter's head; any bytes at all are read or refused in
//! one sentence.

mod cell;
mod list;
mod mail;
mod table;

pub use cell::{csv_cell, csv_text};
pub use list::{COLUMNS, Copy, EMPTY, ROWS_MAX, Register, proper};
pub use mail::{Mail, News, PastMark, older};
