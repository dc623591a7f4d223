//! The table held against what others published.
//!
//! In: published figures with their sources, and the same figures worked out by the crates. Out: every row asserted,
//! and the page `OUTSIDE-CHECKS.md`, made of the very rows that were asserted.
//! Always true: no figure in the column "ours" is written down, each is worked out when the test runs; the committed
//! page equals the one made here. With TURNLEAF_OUTSIDE=write the page is written instead (`cargo xtask outside`).

mod drawing;
mod geometry;
mod goods;
mod mechanics;
mod page;
mod records;
mod solids;
mod table;
mod units;
mod wood;

use std::collections::BTreeSet;
use std::path::Path;
use table::Group;

/// All groups, in the order of the page.
fn groups() -> Vec<Group> {
    vec![
        units::rows(),
        drawing::paper(),
        drawing::lines_and_letters(),
        solids::rows(),
        mechanics::cranks(),
        mechanics::slopes_and_levers(),
        mechanics::beams_and_springs(),
        mechanics::stacks(),
        wood::moisture(),
        wood::strength(),
        wood::plywood(),
        goods::rows(),
        geometry::rows(),
        geometry::tables(),
        geometry::nesting(),
        records::rows(),
    ]
}

#[test]
fn every_row_holds() {
    let mut wrong = Vec::new();
    for group in groups() {
        for row in &group.rows {
            if let Err(sentence) = row.judge() {
                wrong.push(format!("{}: {sentence}", row.what));
            }
        }
    }
    assert!(wrong.is_empty(), "{} rows do not hold:\n{}", wrong.len(), wrong.join("\n"));
}

/// As many as were promised: a row that is dropped is noticed.
#[test]
fn there_are_enough_rows_of_enough_sources() {
    let groups = groups();
    let rows: usize = groups.iter().map(|g| g.rows.len()).sum();
    let sources: BTreeSet<&str> = groups.iter().flat_map(|g| &g.rows).map(|r| r.source.name).collect();
    assert!(rows >= 60, "{rows} rows");
    assert!(sources.len() >= 25, "{} sources", sources.len());
    let names: BTreeSet<&str> = groups.iter().flat_map(|g| &g.rows).map(|r| r.what).collect();
    assert_eq!(names.len(), rows, "two rows have one name");
}

/// A row must be able to fail: each, with its figures spoilt by more than its tolerance, does.
#[test]
fn every_row_can_fail() {
    for group in groups() {
        for row in &group.rows {
            assert!(row.spoilt().judge().is_err(), "{} holds whatever the crates say", row.what);
        }
    }
}

#[test]
fn the_committed_page_is_made_of_these_rows() {
    let page = page::markdown(&groups());
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("..").join("OUTSIDE-CHECKS.md");
    if std::env::var("TURNLEAF_OUTSIDE").is_ok_and(|v| v == "write") {
        std::fs::write(&file, page).expect("the page can be written");
        return;
    }
    let committed = std::fs::read_to_string(&file).unwrap_or_default();
    let differs = page.lines().zip(committed.lines()).find(|(a, b)| a != b);
    assert!(
        page == committed,
        "OUTSIDE-CHECKS.md is not what the rows make; run `cargo xtask outside`. First difference: {differs:?}"
    );
}
