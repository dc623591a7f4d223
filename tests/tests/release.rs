//! What is given away says which version it is.
//!
//! In: the version of the workspace. Out: the same in a book's file and in the list of changes. Always true: a plan
//! that was issued carries it too (tests of editions).

use turnleaf_plan::planfile::Language;
use turnleaf_plan::{BookOptions, Chapters, PROGRAM, Plan, build, pdf};
use turnleaf_tests::program;

#[test]
fn a_book_says_which_version_made_it() {
    assert_eq!(PROGRAM, env!("CARGO_PKG_VERSION"));
    let wanted = format!("Turnleaf {PROGRAM}");
    let built = build(&Plan::parse(&program::demo("reading-room.json")).unwrap().0).unwrap();
    for (language, label) in [(Language::En, "Made with"), (Language::De, "Erstellt mit")] {
        let options = BookOptions { language, chapters: Chapters::NONE, ..BookOptions::of(&built.plan) };
        let (document, said) = built.book(&options);
        assert!(said.is_empty(), "{said:?}");
        let cover = format!("{:?}", document.pages[0]);
        assert!(cover.contains(label) && cover.contains(&wanted), "the cover does not say {label} {wanted}");
        let file = pdf(&document).unwrap();
        let text = String::from_utf8_lossy(&file);
        // ISO 32000-1:2008, table 317: the program that made what was turned into the file.
        let creator = text.split("/Creator").nth(1).expect("a creator among the file's properties");
        assert!(creator.trim_start().starts_with(&format!("({wanted})")), "{}", &creator[..60]);
    }
}

#[test]
fn the_list_of_changes_knows_this_version() {
    let changes = include_str!("../../CHANGELOG.md");
    let heading = format!("## {}", env!("CARGO_PKG_VERSION"));
    assert!(changes.lines().any(|l| l.split(" (").next() == Some(&heading)), "no section {heading}");
}
