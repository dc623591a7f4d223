//! A CSV file taken apart into fields that still have every byte of the file.
//!
//! In: text. Out: rows of fields as they stand in the file, quotes and all; or where it is wrong.
//! Always true: the fields joined by commas, each row with its ending, are the text again; it never reads past an end.
//! The rules are those of RFC 4180, 2.1 to 2.7, but that a line may end with a line feed or a carriage return alone, and
//! a quote in the middle of a field without quotes is a letter like any other, as common readers have it.

/// A row as it stands in the file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Row {
    /// Fields, with their quotes.
    pub fields: Vec<String>,
    /// What ends the row: a line ending with any empty lines behind it; nothing at the end of some files.
    pub end: String,
}

impl Row {
    /// The row as the file has it.
    pub fn raw(&self) -> String {
        self.fields.join(",") + &self.end
    }
}

/// What is wrong with a file; rows are counted from 1, as spreadsheets do, and fields from 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Broken {
    /// A quote is opened and never closed.
    Open(usize, usize),
    /// Something stands between a closing quote and the next comma.
    Behind(usize, usize),
}

/// Takes a text apart that does not begin with an empty line; each row with its number.
pub(crate) fn rows(text: &str) -> Result<Vec<(usize, Row)>, Broken> {
    let bytes = text.as_bytes();
    let mut rows = Vec::new();
    let (mut at, mut number) = (0, 1);
    while at < bytes.len() {
        let mut row = Row { fields: Vec::new(), end: String::new() };
        loop {
            let start = at;
            if bytes.get(at) == Some(&b'"') {
                at = closed(bytes, at + 1).ok_or(Broken::Open(number, row.fields.len() + 1))?;
                if bytes.get(at).is_some_and(|b| !ends(*b)) {
                    return Err(Broken::Behind(number, row.fields.len() + 1));
                }
            }
            while bytes.get(at).is_some_and(|b| !ends(*b)) {
                at += 1;
            }
            row.fields.push(text[start..at].to_string());
            if bytes.get(at) != Some(&b',') {
                break;
            }
            at += 1;
        }
        // Empty lines belong to the row before them.
        let start = at;
        while bytes.get(at).is_some_and(|b| matches!(b, b'\r' | b'\n')) {
            at += 1;
        }
        row.end = text[start..at].to_string();
        let lines = breaks(&row.end);
        rows.push((number, row));
        number += lines;
    }
    Ok(rows)
}

/// Behind the quote that closes a field whose letters begin here.
fn closed(bytes: &[u8], mut at: usize) -> Option<usize> {
    loop {
        match (bytes.get(at)?, bytes.get(at + 1)) {
            (b'"', Some(b'"')) => at += 2,
            (b'"', _) => return Some(at + 1),
            _ => at += 1,
        }
    }
}

fn ends(byte: u8) -> bool {
    matches!(byte, b',' | b'\r' | b'\n')
}

/// How many lines end in a row's end.
pub(crate) fn breaks(end: &str) -> usize {
    end.replace("\r\n", "\n").chars().filter(|c| matches!(c, '\r' | '\n')).count()
}

/// The first line ending of a row's end.
pub(crate) fn ending(end: &str) -> Option<&str> {
    if end.starts_with("\r\n") { Some("\r\n") } else { end.get(..1) }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cells(text: &str) -> Vec<Vec<String>> {
        rows(text).unwrap().into_iter().map(|(_, row)| row.fields).collect()
    }

    #[test]
    fn the_examples_of_the_standard() {
        // RFC 4180, 2.1, 2.2, 2.5, 2.6, 2.7.
        assert_eq!(cells("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n"), [["aaa", "bbb", "ccc"], ["zzz", "yyy", "xxx"]]);
        assert_eq!(cells("aaa,bbb,ccc\r\nzzz,yyy,xxx"), [["aaa", "bbb", "ccc"], ["zzz", "yyy", "xxx"]]);
        assert_eq!(
            cells("\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx"),
            [["\"aaa\"", "\"bbb\"", "\"ccc\""], ["zzz", "yyy", "xxx"]]
        );
        assert_eq!(cells("\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx")[0][1], "\"b\r\nbb\"");
        assert_eq!(cells("\"aaa\",\"b\"\"bb\",\"ccc\"")[0][1], "\"b\"\"bb\"");
    }

    #[test]
    fn every_byte_is_kept_and_what_is_broken_has_a_place() {
        for text in ["a,b\n\n\r\nc,\n", "a", "a,\r", ",", "ä,\"ö,\n\"\r\n x\"y ,\" \"\n\n"] {
            let whole: String = rows(text).unwrap().iter().map(|(_, row)| row.raw()).collect();
            assert_eq!(whole, text);
        }
        assert_eq!(rows("a,b\nc,\"d\n"), Err(Broken::Open(2, 2)));
        assert_eq!(rows("a,b\n\"c\"x,d\n"), Err(Broken::Behind(2, 1)));
        // Rows are counted as a spreadsheet counts them, empty lines too.
        assert_eq!(rows("a,b\r\n\r\nc,\"d\n"), Err(Broken::Open(3, 2)));
        assert_eq!(rows("\""), Err(Broken::Open(1, 1)));
        assert_eq!(rows(""), Ok(Vec::new()));
    }
}
