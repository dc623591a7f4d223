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
            ("screw-base-upper-ply", holes(built, "base-upper-ply", "rail-screw")),
            ("screw-base-upper-ply", holes(built, "base-lower-ply", "rail-screw")),
            ("screw-glide-ring", holes(built, "glide-ring", "screw")),
            ("dowel-stop-block", holes(built, "stop-block", "dowel")),
            ("dowel-stop-block", holes(built, "turning-plate", "stop-block")),
            // Radial, in a bought part without a sheet: two a flange, as its step says.
            ("screw-hold-down-flange", 2 * count("hold-down-flange")),
            // Two a hinge, as their step says; one through each lever.
            ("screw-drop-roller", 2 * built.assembly.mechanism.rollers.places.len()),
            ("pin-star-lever", built.assembly.mechanism.lever_count),
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

/// Tables of other sizes and drives than the demos.
fn odd_tables() -> Vec<(String, Built)> {
    type Case<'a> = (&'a str, &'a str, &'a [(&'a str, &'a str)]);
    let cases: [Case; 7] = [
        ("four", "reading-room", &[("sectors", "4"), ("closed_diameter", "1000"), ("open_diameter", "1280")]),
        (
            "twelve",
            "map-room",
            &[("sectors", "12"), ("closed_diameter", "1600 mm"), ("open_diameter", "1900 mm")],
        ),
        ("small", "window-table", &[("closed_diameter", "700"), ("open_diameter", "920")]),
        ("large", "map-room", &[("closed_diameter", "2000 mm"), ("open_diameter", "2550 mm")]),
        ("thick", "reading-room", &[("stock_thickness", "3/4 in"), ("plate_thickness", "3/4 in")]),
        ("measured", "reading-room", &[("stock_thickness", "18.2 mm"), ("plate_thickness", "18.2 mm")]),
        ("cam", "reading-room", &[]),
    ];
    let made = |(name, demo, sizes): (&str, &str, &[(&str, &str)])| {
        let mut plan = plan(demo);
        if name == "cam" {
            plan.set_option("drive", "cam").unwrap_or_else(|d| panic!("{d:?}"));
        }
        for (id, text) in sizes {
            plan.set(id, text).unwrap_or_else(|d| panic!("{name}: {d:?}"));
        }
        (name.to_string(), build(&plan).unwrap_or_else(|d| panic!("{name}: {d:?}")))
    };
    cases.map(made).into()
}

/// Millimetres that a bought thing's name gives after its last ×.
fn named_length(name: &str) -> f64 {
    let metric = name.split(" mm").next().unwrap_or(name);
    let last = metric.rsplit("× ").next().unwrap_or_default();
    last.trim().parse().unwrap_or_else(|_| panic!("no length in “{name}”"))
}

/// No screw comes through what it is driven into: its length against the thicknesses it passes, added up here.
#[test]
fn screws_end_inside_the_last_thing_they_are_driven_into() {
    let tables = odd_tables();
    let demos = DEMOS.iter().map(|n| (n.to_string(), table(n)));
    for (name, built) in tables.iter().map(|(n, b)| (n.clone(), b)).chain(demos) {
        let a = &built.assembly;
        let thick = |id: &str| a.part(id).map_or(0.0, |p| p.thickness);
        let plies = thick("base-upper-ply") + thick("base-lower-ply");
        // Under a counterbored head the ring is as thick as its note says.
        let left = a.part("glide-ring").and_then(|p| p.notes.iter().find_map(|n| n.split("until ").nth(1)));
        let left: f64 = left.and_then(|n| n.split(' ').next()?.parse().ok()).unwrap_or_default();
        let rail = a.part("rail-long").unwrap();
        let rail_least = (-200..=200)
            .map(|i| rail.thickness - rail.hollow_at(f64::from(i) / 200.0 * rail.outline.reach()))
            .fold(f64::INFINITY, f64::min);
        for (id, wood) in [
            ("screw-base-upper-ply", plies + rail_least),
            ("screw-glide-ring", left + plies),
            ("screw-cam-plate", thick("cam-plate") + plies),
            ("screw-end-stop", thick("keeper-bar") + thick("end-stop") + plies),
            ("screw-panel-guide", thick("panel-guide") + thick("turning-plate")),
            ("screw-leaf-guide", thick("leaf-guide") + thick("rising-plate")),
            ("screw-leaf-riser", thick("leaf-slide") + thick("leaf-riser") + thick("leaf") - 3.0),
            ("screw-star-hub", thick("star-hub") + thick("star") - 3.0),
            ("screw-hand-hold", thick("hand-hold") + thick("panel") - 3.0),
            ("screw-pin-plate", thick("panel-slide")),
            // A hinge's leaf is thin: the plate alone holds the screw.
            ("screw-drop-roller", thick("rising-plate")),
            ("dowel-stop-block", 14.0 + thick("turning-plate") - 3.0),
        ] {
            let Some(part) = a.part(id) else { continue };
            let length = named_length(&part.name);
            assert_eq!(length, part.thickness, "{name}: {}", part.name);
            assert!(length <= wood - 1.0, "{name}: {} in {wood:.1} mm", part.name);
            assert!(
                length >= 0.4 * wood || length >= 50.0,
                "{name}: {} in {wood:.1} mm holds little",
                part.name
            );
        }
        let flange = a.part("hold-down-flange").unwrap();
        let FeatureKind::Hole { diameter, .. } = flange.features[0].kind else { panic!() };
        let wall = flange.outline.reach() - diameter / 2.0;
        let grub = named_length(&a.part("screw-hold-down-flange").unwrap().name);
        assert!(grub <= wall, "{name}: a grub screw of {grub} mm stands out of {wall:.1} mm");
    }
}

/// What stands still is screwed where there is something to screw into, and screws keep off each other and off the
/// rollers' tracks.
#[test]
fn screws_of_the_base_stand_over_rails_and_off_the_tracks() {
    let tables = odd_tables();
    let demos = DEMOS.iter().map(|n| (n.to_string(), table(n)));
    let mut cams = 0;
    for (name, built) in tables.iter().map(|(n, b)| (n.clone(), b)).chain(demos) {
        let a = &built.assembly;
        let m = &a.mechanism;
        let at = |part: &str, purpose: &str| -> Vec<turnleaf_geom::Vec2> {
            let Some(p) = a.part(part) else { return Vec::new() };
            let hole = |f: &turnleaf_parts::Feature| match f.kind {
                FeatureKind::Hole { centre, .. } if f.id.split('/').next() == Some(purpose) => Some(centre),
                _ => None,
            };
            p.features.iter().filter_map(hole).collect()
        };
        let rail = at("base-upper-ply", "rail-screw");
        assert!(rail.len() == 8, "{name}: {} rail screws", rail.len());
        assert_eq!(rail, at("base-lower-ply", "rail-screw"));
        let pins = [at("base-upper-ply", "panel-crank-pin"), at("base-upper-ply", "leaf-crank-pin")].concat();
        let stops = at("base-lower-ply", "end-stop");
        let rim = [at("glide-ring", "screw"), at("cam-plate", "screw")].concat();
        cams += usize::from(!at("cam-plate", "screw").is_empty());
        assert!(rim.len() >= 8, "{name}: {} screws on the rim", rim.len());
        for p in &rail {
            // A rail is 40 mm wide and lies along a diagonal: at least 15 mm of wood each side.
            let over = a.pieces.iter().filter(|q| a.parts[q.part].id.starts_with("rail-")).any(|q| {
                let (low, high) = a.parts[q.part].outline.bounds();
                let local = (*p - q.at.apply(turnleaf_geom::Vec2::ZERO)).rot(-q.at.angle());
                (low.x + 15.0..=high.x - 15.0).contains(&local.x)
                    && (low.y + 15.0..=high.y - 15.0).contains(&local.y)
            });
            assert!(over, "{name}: a screw at {p:?} misses the rails");
            for roller in &m.rollers.places {
                let beside = (p.norm() - roller.radius).abs() - m.members.wheel_width / 2.0;
                assert!(beside >= 5.0, "{name}: a head {beside:.1} mm beside a track");
            }
            for q in &pins {
                assert!(p.dist(*q) >= m.members.pin + 5.0 + 3.0, "{name}: a screw beside a crank pin");
            }
            for q in stops.iter().chain(&rim) {
                assert!(p.dist(*q) >= 10.0, "{name}: two screws meet");
            }
        }
        for p in &rim {
            for q in &stops {
                assert!(p.dist(*q) >= 8.0, "{name}: a rim screw meets an end stop's, {:.1} mm", p.dist(*q));
            }
            let beside = m.rollers.base_radius - p.norm();
            assert!((beside - 6.0).abs() < 1e-9, "{name}: not in the middle of the ring");
        }
    }
    assert!(cams > 0, "no table with a cam was looked at");
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
