//! Whether a book is complete: every piece in a list, on a sheet and in a layout; hardware as the holes want it;
//! chosen chapters; signs of measured stock; numbers in the running text.
//!
//! What is counted here is counted from the parts' own features, not from the lists under test.

mod support;

use std::collections::BTreeMap;
use support::{DEMOS, Found, book, each, is_sheet, plan, table, words};
use turnleaf_book::{BookOptions, Chapters, Part};
use turnleaf_page::Document;
use turnleaf_parts::FeatureKind;
use turnleaf_plan::{Built, build};
use turnleaf_planfile::{Language, PrintChoice};

/// A list of the CSV files: rows by column name.
fn csv(built: &Built, name: &str) -> Vec<BTreeMap<String, String>> {
    let files = built.lists_csv(&BookOptions::of(&built.plan)).unwrap();
    let (_, text) = files.iter().find(|(n, _)| n == name).unwrap();
    // Read by splitting, not by the crate that wrote it: quoted cells hold the only commas within cells.
    let split = |line: &str| -> Vec<String> {
        let (mut cells, mut quoted) = (vec![String::new()], false);
        for c in line.chars() {
            match c {
                '"' => quoted = !quoted,
                ',' if !quoted => cells.push(String::new()),
                c => cells.last_mut().unwrap().push(c),
            }
        }
        cells
    };
    let mut lines = text.lines().map(split);
    let head = lines.next().unwrap();
    lines.map(|l| head.iter().cloned().zip(l).collect()).collect()
}

fn marks(document: &Document) -> Vec<String> {
    let mut out = Vec::new();
    for page in &document.pages {
        each(&page.items, false, &mut |f| {
            if let Found::Mark(name) = f {
                out.push(name.to_string());
            }
        });
    }
    out
}

#[test]
fn every_piece_is_listed_drawn_and_cut() {
    for name in DEMOS {
        let built = table(name);
        let (document, said) = book(built, |_| {});
        assert!(said.iter().all(|d| !d.code.starts_with("book.cutting")), "{name}: {said:?}");
        let marks = marks(&document);
        let (parts, hardware) = (csv(built, "parts.csv"), csv(built, "hardware.csv"));
        let (layouts, strips) = (csv(built, "layouts.csv"), csv(built, "strips.csv"));
        for part in &built.assembly.parts {
            let pieces =
                built.assembly.pieces.iter().filter(|p| built.assembly.parts[p.part].id == part.id).count();
            // Things that are only listed have no piece in a place of its own.
            let pieces = if pieces == 0 { part.count } else { pieces };
            let rows = |list: &[BTreeMap<String, String>]| {
                list.iter().filter(|r| r["id"] == part.id).map(|r| r["count"].clone()).collect::<Vec<_>>()
            };
            let list = if part.made { &parts } else { &hardware };
            assert_eq!(rows(list), [pieces.to_string()], "{name}: {} in the lists", part.id);
            let cut =
                |list: &[BTreeMap<String, String>]| list.iter().filter(|r| r["part"] == part.id).count();
            let what = part.material.as_str();
            let bought = !part.made && (what == "steel" || what.starts_with("bought"));
            let wanted = if bought { 0 } else { pieces };
            assert_eq!(cut(&layouts) + cut(&strips), wanted, "{name}: {} in layouts and strips", part.id);
            if part.made {
                assert!(marks.contains(&format!("sheet/{}", part.id)), "{name}: no sheet for {}", part.id);
            }
        }
        for sheet in layouts.iter().map(|r| &r["sheet"]) {
            assert!(marks.contains(&format!("cutting/sheet/{sheet}")), "{name}: sheet {sheet} is not drawn");
        }
    }
}

/// How many holes of a purpose the pieces of a part have together.
fn holes(built: &Built, part: &str, purpose: &str) -> usize {
    let Some(p) = built.assembly.part(part) else { return 0 };
    let hole = |f: &&turnleaf_parts::Feature| {
        matches!(f.kind, FeatureKind::Hole { .. }) && f.id.split('/').next() == Some(purpose)
    };
    p.features.iter().filter(hole).count() * p.count
}

#[test]
fn hardware_is_as_many_as_the_holes_for_it() {
    for name in DEMOS {
        let built = table(name);
        let count = |id: &str| built.assembly.part(id).map_or(0, |p| p.count);
        let arms = built.assembly.mechanism.arms().is_some();
        let mut pairs = vec![
            ("guide-shaft", holes(built, "turning-plate", "guide-shaft")),
            ("bushing", holes(built, "rising-plate", "bushing")),
            ("keeping-pin", holes(built, "rising-plate", "keeping-pin")),
            ("panel-slide-pin", holes(built, "panel-slide", "pin")),
            ("leaf-slide-pin", holes(built, "leaf-slide", "pin")),
            ("panel-post", holes(built, "panel-slide", "post")),
            ("screw-hand-hold", holes(built, "hand-hold", "screw")),
            ("screw-stop-block", holes(built, "stop-block", "screw")),
            ("screw-end-stop", holes(built, "end-stop", "screw")),
            ("screw-panel-guide", holes(built, "panel-guide", "screw")),
            ("screw-leaf-guide", holes(built, "leaf-guide", "screw")),
            ("screw-leaf-riser", holes(built, "leaf-riser", "screw")),
            ("screw-leaf-riser", holes(built, "leaf-slide", "riser")),
            ("screw-leaf-riser", holes(built, "leaf", "riser")),
            ("screw-star-hub", holes(built, "star-hub", "screw")),
            ("screw-star-hub", holes(built, "star", "hub")),
            ("screw-pin-plate", holes(built, "pin-plate", "screw")),
        ];
        // Nothing that is screwed is without its screws: every part with screw holes of its own has a set.
        for part in built.assembly.parts.iter().filter(|p| holes(built, &p.id, "screw") > 0) {
            assert!(
                count(&format!("screw-{}", part.id)) > 0 || part.id == "keeper-bar",
                "{name}: {}",
                part.id
            );
        }
        if arms {
            pairs.push(("panel-crank-pin", holes(built, "base-upper-ply", "panel-crank-pin")));
            pairs.push(("leaf-crank-pin", holes(built, "base-upper-ply", "leaf-crank-pin")));
            pairs.push(("panel-crank-pin", holes(built, "panel-arm", "crank-pin")));
            pairs.push(("leaf-crank-pin", holes(built, "leaf-arm", "crank-pin")));
        }
        for (id, holes) in pairs {
            assert!(holes > 0, "{name}: no holes for {id}");
            assert_eq!(count(id), holes, "{name}: {id}");
        }
    }
}

#[test]
fn chosen_chapters_alone_are_in_the_book() {
    let built = table("window-table");
    let (shop, said) = book(built, |o| o.chapters = Chapters::shop());
    assert!(said.iter().all(|d| d.code != "book.link"), "{said:?}");
    let titles: Vec<&str> = shop.bookmarks.iter().map(|b| b.title.as_str()).collect();
    // Cover, contents, cautions and the print check are in every book.
    let wanted =
        ["Cover", "Contents", "1  Check", "2  Before", "3  Lists", "4  Cutting", "5  Drawings", "6  Jigs"];
    assert_eq!(titles.len(), wanted.len(), "{titles:?}");
    assert!(titles.iter().zip(wanted).all(|(t, w)| t.starts_with(w)), "{titles:?}");
    let (whole, _) = book(built, |o| o.chapters = Chapters::whole());
    assert!(whole.pages.len() > shop.pages.len() + 10);
    let (with, _) = book(built, |o| o.chapters = Chapters::whole().with(Part::Templates));
    assert!(with.pages.len() > whole.pages.len());
    assert_eq!(whole.pages.last().unwrap().label, whole.pages.len().to_string());
}

#[test]
fn measured_stock_signs_what_follows_from_it() {
    let mut plan = plan("reading-room");
    let as_planned = build(&plan).unwrap();
    plan.set_measured("stock_thickness", "18.6 mm").unwrap();
    let built = build(&plan).unwrap();
    let (document, _) = book(&built, |_| {});
    let rows = support_rows(&document);
    for (now, before) in built.numbers.iter().zip(&as_planned.numbers) {
        assert_eq!(now.id, before.id);
        let row = &rows[&format!("solved/{}", now.id)];
        let changed = (now.value - before.value).abs() > 1e-9;
        assert_eq!(row.contains('†'), changed, "{}: {row}", now.id);
    }
    let (unsigned, _) = book(&as_planned, |_| {});
    let all = |d: &Document| d.pages.iter().map(|p| words(&p.items)).collect::<String>();
    assert!(!all(&unsigned).contains('†'));
    assert!(all(&document).contains("18.6 mm instead of 19 mm"));
    let sheets: String = document.pages.iter().filter(|p| is_sheet(p)).map(|p| words(&p.items)).collect();
    assert!(sheets.contains('†'));
}

fn support_rows(document: &Document) -> BTreeMap<String, String> {
    use turnleaf_page::{Item, Role};
    fn walk(items: &[Item], out: &mut BTreeMap<String, String>) {
        for item in items {
            if let Item::Group { role, id, items, .. } = item {
                if let (Role::Row, Some(id)) = (role, id) {
                    out.entry(id.clone()).or_default().push_str(&words(items));
                }
                walk(items, out);
            }
        }
    }
    let mut out = BTreeMap::new();
    document.pages.iter().for_each(|p| walk(&p.items, &mut out));
    out
}

/// Numbers in the sentences about setting up are the solved ones, and the jigs' settings agree with geometry that
/// any schoolbook has: the chord of a sixth of a circle is its radius, an outer edge takes half the cutter more.
#[test]
fn sentences_and_settings_have_this_tables_numbers() {
    for name in DEMOS {
        let built = table(name);
        let (document, _) = book(built, |o| {
            o.print.units = PrintChoice::Mm;
            o.language = Language::En;
        });
        let text: String = document.pages.iter().map(|p| words(&p.items)).collect::<Vec<_>>().join(" ");
        let text = text.replace('\u{A0}', " ").split_whitespace().collect::<Vec<_>>().join(" ");
        let number = |id: &str| {
            let n = built.number(id).unwrap_or_else(|| panic!("{id}"));
            turnleaf_plan::number_text(
                n,
                turnleaf_units::PrintUnits::Mm(turnleaf_units::MmStep::TENTH),
                Language::En,
            )
        };
        for (before, id) in [
            ("Measure the rise beside each guide shaft: ", "lift.step"),
            ("All rollers should drop just before ", "turn.lift-begins"),
            ("stand on top by ", "turn.lift-ends"),
            ("Turn slowly from 0° to ", "turn.whole"),
            ("the base plate's underside is then ", "stack.base-bottom"),
            ("panels must be ", "overtravel.panel"),
        ] {
            let at = text.find(before).unwrap_or_else(|| panic!("{name}: “{before}”"));
            let found = &text[at + before.len()..];
            assert!(found.starts_with(&number(id)), "{name}: {id} {}: {}", number(id), &found[..20]);
        }
        let rows = support_rows(&document);
        let sectors = built.number("sectors").unwrap().value;
        if sectors == 6.0
            && let Some(row) = rows.get("circle/base-upper-ply/panel-crank-pin")
        {
            let radius = number("panel.arm.pin-radius");
            assert_eq!(row.matches(radius.as_str()).count(), 2, "{row}");
        }
        let plate = built.number("plate.turning-radius").unwrap().value;
        let row = &rows["jig/turning-plate/1"];
        let setting = turnleaf_units::Length::from_mm_f64(plate + 6.0).unwrap();
        let setting = turnleaf_units::print_mm(
            setting,
            turnleaf_units::MmStep::TENTH,
            turnleaf_units::DecimalSign::Point,
        )
        .text;
        assert!(row.contains(&setting), "{row}: {setting}");
    }
}
