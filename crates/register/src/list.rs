//! The register itself: its copies, and the few deeds that change them.
//!
//! In: a CSV file's bytes, copies. Out: the file with only what was touched written anew.
//! Always true: columns of the maker's own, the order of columns and rows, line endings and quotes stay as the file has
//! them; a deed that is refused changes nothing.

use crate::cell::{csv_text, field, live, plain};
use crate::table::{Broken, Row, ending, rows};
use turnleaf_planfile::Date;

/// Columns of a register in their usual order.
pub const COLUMNS: [&str; 7] = ["name", "contact", "date", "revision", "size", "units", "paper"];

/// A register without a copy.
pub const EMPTY: &str = "name,contact,date,revision,size,units,paper\r\n";

/// Most rows of one register: beyond it a file is no list of buyers.
pub const ROWS_MAX: usize = 100_000;

/// A copy: a cell for each of [`COLUMNS`].
pub type Copy = [String; 7];

/// A register.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Register {
    /// A byte order mark and empty lines, where the file begins with any.
    lead: String,
    head: Row,
    /// Where each of [`COLUMNS`] stands.
    places: [usize; 7],
    rows: Vec<Row>,
}

impl Default for Register {
    fn default() -> Register {
        let fields = COLUMNS.map(String::from).to_vec();
        let head = Row { fields, end: "\r\n".into() };
        Register { lead: String::new(), head, places: core::array::from_fn(|k| k), rows: Vec::new() }
    }
}

impl Register {
    /// Reads a register's bytes; `name` is what sentences call it. An error is one sentence that says where, and what
    /// would work.
    pub fn parse(name: &str, bytes: &[u8]) -> Result<Register, String> {
        let wrong = |why: String| format!("{name} cannot be read as a list of copies: {why}");
        let text = core::str::from_utf8(bytes).map_err(|e| {
            let row = bytes[..e.valid_up_to()].split(|b| *b == b'\n').count();
            wrong(format!("line {row} is not in UTF-8; save it as “CSV UTF-8”."))
        })?;
        // Spreadsheets put a byte order mark in front.
        let body = text.trim_start_matches('\u{feff}').trim_start_matches(['\r', '\n']);
        let lead = text[..text.len() - body.len()].to_string();
        let mut all = rows(body).map_err(|broken| {
            let (row, at, why) = match broken {
                Broken::Open(row, at) => {
                    (row, at, "opens a quote that is never closed; put a quote behind its last letter")
                }
                Broken::Behind(row, at) => {
                    (row, at, "goes on behind its closing quote; write a quote inside a cell as two")
                }
            };
            wrong(format!("row {row}, cell {at} {why}."))
        })?;
        if all.is_empty() {
            return Err(wrong(format!(
                "it is empty; its first row names the columns {}.",
                COLUMNS.join(", ")
            )));
        }
        let (_, head) = all.remove(0);
        let heads: Vec<String> = head.fields.iter().map(|f| csv_text(&plain(f))).collect();
        if let ([one], true) = (heads.as_slice(), head.fields[0].contains([';', '\t'])) {
            let by = if one.contains(';') { "semicolons" } else { "tabs" };
            return Err(wrong(format!("its cells are parted by {by}; save it with commas between them.")));
        }
        let mut places = [0; 7];
        for (place, column) in places.iter_mut().zip(COLUMNS) {
            let mut found = heads.iter().enumerate().filter(|(_, head)| head.eq_ignore_ascii_case(column));
            *place = found.next().map(|(at, _)| at).ok_or_else(|| {
                format!("{name} has no column “{column}”; a register has {}.", COLUMNS.join(", "))
            })?;
            if found.next().is_some() {
                return Err(format!(
                    "{name} has the column “{column}” twice; leave one of them, or call it otherwise."
                ));
            }
        }
        let mut out = Register { lead, head: armless(head), places, rows: Vec::new() };
        for (number, row) in all {
            if row.fields.iter().all(|f| plain(f).is_empty()) {
                // Rows without a word, as spreadsheets leave them: kept, but nobody's copy.
                let last = out.rows.last_mut().unwrap_or(&mut out.head);
                last.end += &row.raw();
                continue;
            }
            let (has, heads) = (row.fields.len(), heads.len());
            if has != heads {
                let cells = |n: usize| format!("{n} {}", if n == 1 { "cell" } else { "cells" });
                return Err(wrong(format!(
                    "row {number} has {}, the first row {heads}; put a cell with a comma in it between quotes, and leave no comma out.",
                    cells(has)
                )));
            }
            if out.rows.len() == ROWS_MAX {
                return Err(wrong(format!("it has more than {ROWS_MAX} rows.")));
            }
            out.rows.push(armless(row));
        }
        Ok(out)
    }

    /// The copies in it.
    pub fn copies(&self) -> impl Iterator<Item = Copy> {
        self.rows.iter().map(|row| self.copy_of(row))
    }

    /// How many copies it has.
    pub fn len(&self) -> usize {
        self.rows.len()
    }

    /// Whether it has none.
    pub fn is_empty(&self) -> bool {
        self.rows.is_empty()
    }

    /// The columns of the maker's own.
    pub fn own_columns(&self) -> Vec<String> {
        let own = self.head.fields.iter().enumerate().filter(|(at, _)| !self.places.contains(at));
        own.map(|(_, field)| csv_text(&plain(field))).filter(|name| !name.is_empty()).collect()
    }

    /// As it is kept: UTF-8, what nobody touched byte for byte.
    pub fn text(&self) -> String {
        let mut out = self.lead.clone() + &self.head.raw();
        for row in &self.rows {
            for (at, field) in row.fields.iter().enumerate() {
                if at > 0 {
                    out.push(',');
                }
                out += field;
            }
            out += &row.end;
        }
        out
    }

    /// Adds a copy at the end.
    pub fn add(&mut self, copy: &Copy) -> Result<(), String> {
        proper(copy)?;
        let mut row = Row { fields: vec![String::new(); self.head.fields.len()], end: self.ending().into() };
        self.write(&mut row, copy);
        self.insert(self.rows.len(), row);
        Ok(())
    }

    /// Changes the copy at a place, which must be the one that is meant; what the row was.
    pub fn change(&mut self, at: usize, was: &Copy, now: &Copy) -> Result<String, String> {
        proper(now)?;
        let at = self.find(at, was)?;
        let before = self.rows[at].raw();
        let mut row = self.rows[at].clone();
        self.write(&mut row, now);
        self.rows[at] = row;
        Ok(before)
    }

    /// Takes the copy at a place out, which must be the one that is meant; what the row was.
    pub fn remove(&mut self, at: usize, was: &Copy) -> Result<String, String> {
        let at = self.find(at, was)?;
        Ok(self.rows.remove(at).raw())
    }

    /// Puts a row back that was changed (then `over` is what it was changed to) or taken out.
    pub fn put_back(&mut self, at: usize, raw: &str, over: Option<&Copy>) -> Result<(), String> {
        let row = rows(raw).ok().and_then(|found| {
            let mut found = found.into_iter().map(|(_, row)| row);
            let mut row = found.next()?;
            // Rows without a word go with the one before them.
            row.end.extend(found.map(|empty| empty.raw()));
            Some(row)
        });
        let Some(row) = row.filter(|row| row.fields.len() == self.head.fields.len()) else {
            return Err("The list has other columns now, so that copy cannot be brought back.".into());
        };
        match over {
            Some(over) => {
                let at = self.find(at, over)?;
                self.rows[at].fields = row.fields;
            }
            None => self.insert(at.min(self.rows.len()), row),
        }
        Ok(())
    }

    /// The copy that is meant: at its place, or where it has moved.
    fn find(&self, at: usize, meant: &Copy) -> Result<usize, String> {
        let is = |row: &Row| self.copy_of(row) == *meant;
        if self.rows.get(at).is_some_and(is) {
            return Ok(at);
        }
        let sentence = || "That copy is no longer in the list as it was shown; look at it again.".to_string();
        self.rows.iter().position(is).ok_or_else(sentence)
    }

    fn copy_of(&self, row: &Row) -> Copy {
        self.places.map(|at| row.fields.get(at).map(|f| csv_text(&plain(f))).unwrap_or_default())
    }

    /// Writes a copy into a row; cells that say the same already keep their bytes.
    fn write(&self, row: &mut Row, copy: &Copy) {
        for (at, cell) in self.places.into_iter().zip(copy) {
            let Some(there) = row.fields.get_mut(at) else { continue };
            if csv_text(&plain(there)) != cell.trim() {
                *there = field(cell.trim());
            }
        }
    }

    fn insert(&mut self, at: usize, mut row: Row) {
        let end = self.ending().to_string();
        // A last row without an ending gets one before another follows.
        let before = if at == 0 { &mut self.head } else { &mut self.rows[at - 1] };
        if ending(&before.end).is_none() {
            before.end.insert_str(0, &end);
        }
        if at < self.rows.len() && ending(&row.end).is_none() {
            row.end.insert_str(0, &end);
        }
        self.rows.insert(at, row);
    }

    /// How lines end in this file.
    fn ending(&self) -> &str {
        ending(&self.head.end).unwrap_or("\r\n")
    }
}

/// Whether a copy can be noted; an error is one sentence.
pub fn proper(copy: &Copy) -> Result<(), String> {
    let [name, _, date, revision, ..] = copy;
    if Date::parse(date.trim()).is_none() {
        return Err(format!("“{date}” is not a day; write year, month, day as in 2025-03-14."));
    }
    if name.trim().is_empty() || revision.trim().is_empty() {
        return Err("A copy needs a name and the mark of its revision.".into());
    }
    Ok(())
}

/// A row in which no cell can be taken for a formula.
fn armless(mut row: Row) -> Row {
    for there in &mut row.fields {
        let text = plain(there);
        if live(&text) {
            *there = field(&text);
        }
    }
    row
}

#[cfg(test)]
mod tests {
    use super::*;

    fn copy(name: &str, revision: &str) -> Copy {
        [name, "a@example.org", "2026-02-01", revision, "", "mm", "a4"].map(String::from)
    }

    const OWN: &str = "\u{feff}paid,Name, contact ,date,revision,size,units,paper,note\n\
        yes, \"odd\" ,b@example.org,2026-01-01,A,,\"mm\",a4,\"two\nlines\"\n\
        no,\"Doe, J.\",+49 1,2025-13-01,0,,,,\n,,,,,,,,\n\n";

    #[test]
    fn what_nobody_touched_keeps_its_bytes() {
        let mut all = Register::parse("copies.csv", OWN.as_bytes()).unwrap();
        assert_eq!(all.own_columns(), ["paid", "note"]);
        assert_eq!(all.len(), 2);
        // A number is no formula, for a spreadsheet neither.
        let disarmed = OWN.replace("+49 1", "'+49 1");
        assert_eq!(all.text(), disarmed);
        all.add(&copy("Third, the", "B")).unwrap();
        assert_eq!(all.text(), disarmed.clone() + ",\"Third, the\",a@example.org,2026-02-01,B,,mm,a4,\n");
        let copies: Vec<Copy> = all.copies().collect();
        let mut next = copies[0].clone();
        next[3] = "B".into();
        let before = all.change(0, &copies[0], &next).unwrap();
        assert!(all.text().contains("yes, \"odd\" ,b@example.org,2026-01-01,B,,\"mm\",a4,\"two\nlines\"\n"));
        all.put_back(0, &before, Some(&next)).unwrap();
        let out = all.remove(1, &copies[1]).unwrap();
        assert_eq!(all.copies().nth(1).unwrap()[0], "Third, the");
        all.put_back(1, &out, None).unwrap();
        assert_eq!(all.copies().collect::<Vec<_>>(), copies);
        all.remove(9, &copies[2]).unwrap();
        assert_eq!(all.text(), disarmed);
    }

    #[test]
    fn a_file_without_a_last_line_ending_gets_one_when_a_row_follows() {
        let text = EMPTY.trim_end().to_string() + "\r\nA,,2026-01-01,A,,,";
        let mut all = Register::parse("copies.csv", text.as_bytes()).unwrap();
        assert_eq!(all.text(), text);
        all.add(&copy("B", "A")).unwrap();
        assert_eq!(all.text(), text + "\r\nB,a@example.org,2026-02-01,A,,mm,a4\r\n");
        assert_eq!(Register::default().text(), EMPTY);
        let mut only = Register::parse("copies.csv", EMPTY.trim_end().as_bytes()).unwrap();
        only.add(&copy("B", "A")).unwrap();
        assert_eq!(only.text(), EMPTY.to_string() + "B,a@example.org,2026-02-01,A,,mm,a4\r\n");
    }

    #[test]
    fn a_refused_deed_changes_nothing() {
        let mut all = Register::parse("copies.csv", OWN.as_bytes()).unwrap();
        let (before, first) = (all.clone(), all.copies().next().unwrap());
        let mut undated = copy("X", "A");
        undated[2] = "2026-02-30".into();
        assert!(all.add(&undated).unwrap_err().contains("“2026-02-30” is not a day"));
        assert!(all.add(&copy(" ", "A")).unwrap_err().contains("needs a name"));
        assert!(all.change(0, &first, &copy("X", "")).is_err());
        assert!(all.remove(0, &copy("Nobody", "A")).unwrap_err().contains("no longer in the list"));
        assert!(all.put_back(0, "a,b\n", None).unwrap_err().contains("other columns"));
        assert_eq!(all, before);
    }

    #[test]
    fn what_cannot_be_read_is_one_sentence_with_its_place() {
        let row = |text: &str| EMPTY.to_string() + text;
        for (bytes, why) in [
            (Vec::new(), "it is empty"),
            (b"name,contact\n".to_vec(), "no column “date”"),
            (b"name;contact;date;revision;size;units;paper\n".to_vec(), "parted by semicolons"),
            (b"name\tcontact\tdate\trevision\tsize\tunits\tpaper\n".to_vec(), "parted by tabs"),
            (b"name,name,contact,date,revision,size,units,paper\n".to_vec(), "“name” twice"),
            (row("A,,2026-01-01,A,,,\r\nB,b\r\n").into_bytes(), "row 3 has 2 cells, the first row 7"),
            (row("A,\"b,2026-01-01,A,,,\r\n").into_bytes(), "row 2, cell 2 opens a quote"),
            (row("\"A\" b,,2026-01-01,A,,,\r\n").into_bytes(), "row 2, cell 1 goes on behind"),
            (b"name,contact\nB\xfcrger,x\n".to_vec(), "line 2 is not in UTF-8"),
        ] {
            let said = Register::parse("copies.csv", &bytes).unwrap_err();
            assert!(said.contains(why) && said.starts_with("copies.csv ") && said.ends_with('.'), "{said}");
        }
    }

    #[test]
    fn a_general_reader_reads_the_same() {
        // The `csv` crate (1.4), which shares no code with this one, as reader of what is written here.
        let mut all = Register::parse("copies.csv", OWN.as_bytes()).unwrap();
        for name in ["a,b", "say \"so\"", "two\r\nlines", "=SUM(A1)", "ä – ö", "'", "''", "\"", "x\ty"] {
            all.add(&copy(name, "C")).unwrap();
        }
        let text = all.text();
        let mut reader = csv::ReaderBuilder::new().trim(csv::Trim::All).from_reader(text.as_bytes());
        let names: Vec<String> =
            reader.records().map(|r| r.unwrap()[1].to_string()).filter(|n| !n.is_empty()).collect();
        let ours: Vec<String> = all.copies().map(|copy| crate::csv_cell(&copy[0])).collect();
        assert_eq!(names, ours);
        // And as writer of what is read here.
        let mut writer = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
        writer.write_record(COLUMNS).unwrap();
        for copy in all.copies() {
            writer.write_record(&copy).unwrap();
        }
        let again = Register::parse("copies.csv", &writer.into_inner().unwrap()).unwrap();
        assert_eq!(again.copies().collect::<Vec<_>>(), all.copies().collect::<Vec<_>>());
    }
}
