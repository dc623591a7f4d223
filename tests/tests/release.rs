//! What is given away says which version it is.
//!
//! In: the version of the workspace. Out: the same in a book's file and in the list of changes. Always true: a plan
//! that was issued carries it too (tests of editions).

use turnleaf_page::{Document, Page, Paper};

#[test]
fn a_book_says_which_version_made_it() {
    let (width, height) = Paper::A4.sides();
    let page =
        Page { width, height, label: "1".into(), id: "one".into(), title: "One".into(), items: Vec::new() };
    let document = Document {
        title: "One page".into(),
        language: "en".into(),
        date: "2025-01-01".into(),
        pages: vec![page],
        ..Document::default()
    };
    let bytes = turnleaf_plan::pdf(&document).expect("a page with nothing on it");
    let wanted = format!("Turnleaf {}", turnleaf_plan::PROGRAM);
    let text = String::from_utf8_lossy(&bytes);
    assert!(text.contains(&wanted), "the file's properties do not say {wanted}");
    assert_eq!(turnleaf_plan::PROGRAM, env!("CARGO_PKG_VERSION"));
}

#[test]
fn the_list_of_changes_knows_this_version() {
    let changes = include_str!("../../CHANGELOG.md");
    let heading = format!("## {}", env!("CARGO_PKG_VERSION"));
    assert!(changes.lines().any(|l| l.split(" (").next() == Some(&heading)), "no section {heading}");
}
