//! Spoilt tables thrown at the readers of CSV.
//!
//! In: the committed corpus of tables, spoilt by a fixed sequence of draws. Out: pass, or the table that broke a reader.
//! Always true: `TURNLEAF_FUZZ=K` runs K times as many executions.

use crate::batch;
use std::path::Path;
use turnleaf_plan::register::{News, PastMark, Register};
use turnleaf_tests::fuzz::{Corpus, run};

fn corpus() -> Corpus {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/corpus/csv");
    let words = [
        "name",
        "contact",
        "date",
        "revision",
        "size",
        "units",
        "paper",
        "language",
        "imprint",
        "sectors",
        "closed_diameter",
        "\"",
        "\"\"",
        ",",
        ";",
        "\r\n",
        "\n",
        "\r",
        "\u{feff}",
        "'=",
        "=1+1",
        "'",
        "a4",
        "\u{a0}",
    ];
    Corpus::folder(&folder, &words)
}

fn fit_to_show(sentence: &str) -> Result<(), String> {
    let odd = !sentence.ends_with('.') || sentence.chars().any(char::is_control);
    if odd { Err(format!("not fit to show: {sentence:?}")) } else { Ok(()) }
}

/// A register is refused in a sentence, or is written as it was, but for formulas, and reads back so.
#[test]
fn registers() {
    let ran = run("registers", &corpus(), 30_000, |input| match Register::parse("copies.csv", input) {
        Err(sentence) => fit_to_show(&sentence).map(|()| false),
        Ok(copies) => {
            let once = Register::parse("copies.csv", copies.text().as_bytes())?;
            if once != copies {
                return Err(format!("{copies:?} reads back as {once:?}"));
            }
            // Nothing that was read can break a letter's head.
            let issued = [PastMark { mark: "Z".into(), date: "2026-01-01".into(), what: String::new() }];
            let news = News { title: "T", issued: &issued, working: "", mark: "Z", link: None };
            for copy in copies.copies() {
                let whole = news.mail(&copy).whole();
                let heads = whole.lines().take_while(|line| !line.is_empty()).count();
                if heads != 2 {
                    return Err(format!("a letter with {heads} lines of head: {whole:?}"));
                }
            }
            Ok(true)
        }
    });
    assert!(ran.taken > ran.executions / 50, "hardly any was read: {ran:?}");
}

/// A table of books is refused in a sentence, or every row has a name a file may have, once.
#[test]
fn tables_of_books() {
    let ran = run("tables of books", &corpus(), 30_000, |input| match batch::parse("table.csv", input) {
        Err(sentence) => fit_to_show(&sentence).map(|()| false),
        Ok(jobs) => {
            let mut names: Vec<String> = jobs.iter().map(|j| j.name.to_lowercase()).collect();
            names.sort();
            names.dedup();
            let plain = |n: &String| !n.is_empty() && !n.contains(['/', '\\', '\0']) && n != "." && n != "..";
            match names.iter().find(|n| !plain(n)) {
                Some(name) => Err(format!("a book would be called {name:?}")),
                None if names.len() != jobs.len() => Err("two books would have one name".into()),
                None => Ok(true),
            }
        }
    });
    assert!(ran.taken > ran.executions / 100, "hardly any was read: {ran:?}");
}

/// Found by fuzzing: a control character in a heading went to the terminal as it was.
#[test]
fn a_heading_with_an_escape_is_named_without_it() {
    let said = batch::parse("table.csv", b"name,\x1b[2Jsize\na,b\n").err().unwrap_or_default();
    assert!(said.contains("“\u{FFFD}[2Jsize”"), "{said:?}");
}
