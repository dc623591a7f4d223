//! What stands in the book: every number, part, revision; exact bars; origins; the carried plan.

mod support;

use support::{DEMOS, Found, RUNS, book, each, kept, table, words};
use turnleaf_book::say::Say;
use turnleaf_diag::Origin;
use turnleaf_page::{Document, Item, Pt, Role, Step};
use turnleaf_planfile::{Language, Plan, origin};
use turnleaf_text::bounds;

/// Rows of all tables: identifier, origin, words.
fn rows(document: &Document) -> Vec<(String, Option<Origin>, String)> {
    fn collect(items: &[Item], out: &mut Vec<(String, Option<Origin>, String)>) {
        for item in items {
            if let Item::Group { role, origin, id, items } = item {
                match (role, id) {
                    (Role::Row, Some(id)) => out.push((id.clone(), *origin, words(items))),
                    _ => collect(items, out),
                }
            }
        }
    }
    let mut out = Vec::new();
    document.pages.iter().for_each(|p| collect(&p.items, &mut out));
    out
}

#[test]
fn every_solved_number_stands_in_the_table_in_both_units_with_its_origin() {
    for name in DEMOS {
        let built = table(name);
        for (paper, units, language) in RUNS {
            let document = kept(name, |o| {
                o.paper = paper;
                o.print.units = units;
                o.language = language;
            });
            let say = Say::new(&built.plan.options().print, language.decimal_sign());
            let rows = rows(&document);
            for (i, n) in built.numbers.iter().enumerate() {
                let id = format!("solved/{}", n.id);
                let row = rows.iter().find(|r| r.0 == id).unwrap_or_else(|| panic!("{name}: no row {id}"));
                assert_eq!(row.1, Some(Origin::Solved(i as u16)), "{id}");
                let both = say.number(n).unwrap();
                assert!(row.2.contains(&both.metric), "{id}: {} lacks {}", row.2, both.metric);
                assert!(row.2.contains(&both.inch), "{id}: {} lacks {}", row.2, both.inch);
            }
        }
    }
}

#[test]
fn every_given_size_stands_in_the_table_as_typed() {
    let built = table("map-room");
    let document = kept("map-room", |_| {});
    let rows = rows(&document);
    for f in turnleaf_planfile::FIELDS {
        let Some(typed) = built.plan.typed(f.id) else { continue };
        let row = rows.iter().find(|r| r.0 == format!("given/{}", f.id)).expect(f.id);
        assert_eq!(row.1, origin(f.id));
        assert!(row.2.contains(&typed), "{}: {} lacks {typed}", f.id, row.2);
    }
}

#[test]
fn every_part_is_listed_once_and_every_made_part_has_a_sheet() {
    for name in DEMOS {
        let built = table(name);
        let document = kept(name, |_| {});
        let rows = rows(&document);
        let mut marks = Vec::new();
        for page in &document.pages {
            each(&page.items, false, &mut |f| {
                if let Found::Mark(m) = f {
                    marks.push((m.to_string(), page.label.clone()));
                }
            });
        }
        for part in &built.assembly.parts {
            let found: Vec<_> = rows.iter().filter(|r| r.0 == format!("part/{}", part.id)).collect();
            assert_eq!(found.len(), 1, "{name}: {}", part.id);
            // A wood screw's size stands in the column of sizes.
            let (words, size) = match part.name.strip_prefix("Wood screw ") {
                Some(size) => ("Wood screw", size),
                None => (part.name.as_str(), ""),
            };
            assert!(found[0].2.contains(words) && found[0].2.contains(size), "{}", found[0].2);
            assert!(found[0].2.contains(&format!(" {} ", part.count)), "{}", found[0].2);
            let sheet: Vec<_> = marks.iter().filter(|m| m.0 == format!("sheet/{}", part.id)).collect();
            assert_eq!(sheet.len(), usize::from(part.made), "{name}: {}", part.id);
            if let [(_, label)] = sheet.as_slice() {
                assert!(found[0].2.ends_with(label.as_str()), "{} should end with {label}", found[0].2);
            }
        }
    }
}

/// The group with an identifier.
fn find<'a>(items: &'a [Item], wanted: &str) -> Option<&'a [Item]> {
    items.iter().find_map(|item| match item {
        Item::Group { id: Some(id), items, .. } if id == wanted => Some(items.as_slice()),
        Item::Group { items, .. } => find(items, wanted),
        _ => None,
    })
}

#[test]
fn check_bars_are_exact_both_ways() {
    for (paper, ..) in RUNS {
        let document = kept("reading-room", |o| o.paper = paper);
        for (id, length, upright) in [
            ("check/mm/across", 100.0, false),
            ("check/mm/along", 100.0, true),
            ("check/in/across", 101.6, false),
            ("check/in/along", 101.6, true),
        ] {
            let bar = document.pages.iter().find_map(|p| find(&p.items, id)).expect(id);
            let (low, high) = bounds(bar).unwrap();
            let (w, h) = (high.x - low.x, high.y - low.y);
            let (long, short) = if upright { (h, w) } else { (w, h) };
            assert!((long - length).abs() < 1e-9, "{id}: {long}");
            assert!(short < 10.0, "{id}: {short}");
        }
    }
}

/// The diameters drawn under the plan views are those of the outlines above them.
#[test]
fn dimensions_of_plan_views_measure_what_is_drawn() {
    let built = table("reading-room");
    let document = kept("reading-room", |_| {});
    for (figure, number, expected) in
        [("plan-closed", "closed.diameter", "⌀ 1200"), ("plan-open", "open.diameter", "⌀ 1650")]
    {
        let id = format!("{figure}/dim/diameter");
        let mut seen = false;
        for page in &document.pages {
            each(&page.items, false, &mut |f| {
                if let Found::Origin(origin, Some(found), text) = f
                    && found == id
                {
                    let index = built.numbers.iter().position(|n| n.id == number).unwrap();
                    assert_eq!(origin, Origin::Solved(index as u16));
                    assert_eq!(text, expected);
                    seen = true;
                }
            });
        }
        assert!(seen, "{id}");
    }
}

/// Every dimension of every sheet leads back to a size or a rule; some of them by name.
#[test]
fn every_dimension_of_the_sheets_has_its_origin() {
    fn dimensions(items: &[Item], out: &mut Vec<(String, Option<Origin>)>) {
        for item in items {
            if let Item::Group { role, origin, id, items } = item {
                if *role == Role::Dimension {
                    out.push((id.clone().unwrap_or_default(), *origin));
                }
                dimensions(items, out);
            }
        }
    }
    for name in DEMOS {
        let built = table(name);
        let document = kept(name, |_| {});
        let mut found = Vec::new();
        document.pages.iter().filter(|p| support::is_sheet(p)).for_each(|p| dimensions(&p.items, &mut found));
        assert!(found.len() > 150, "{name}: {}", found.len());
        let without: Vec<_> = found.iter().filter(|f| f.1.is_none()).map(|f| &f.0).collect();
        assert!(without.is_empty(), "{name}: {without:?}");
        let solved = |id: &str| {
            let index = built.numbers.iter().position(|n| n.id == id).unwrap();
            Some(Origin::Solved(index as u16))
        };
        for (id, expected) in [
            ("panel/dim/radius/outer-arc", solved("closed.radius")),
            ("panel/dim/thickness", origin("stock_thickness")),
            ("panel/dim/groove/clockwise/depth", origin("tongue_depth")),
            ("panel-arm/dim/pin-to-pin", solved("panel.arm.length")),
            ("panel-arm/dim/width", origin("arm_width")),
            ("turning-plate/dim/panel-pin/1/near/radius", solved("panel.slide.pin-closed")),
        ] {
            let (_, got) = found.iter().find(|f| f.0 == id).unwrap_or_else(|| panic!("{name}: no {id}"));
            assert_eq!(*got, expected, "{name}: {id}");
        }
    }
}

#[test]
fn a_changed_size_changes_the_printed_number() {
    let mut plan = support::plan("reading-room");
    let printed = |plan: &Plan| {
        let (document, _) = book(&turnleaf_plan::build(plan).unwrap(), |_| {});
        rows(&document).into_iter().find(|r| r.0 == "solved/lift.step").unwrap().2
    };
    let before = printed(&plan);
    plan.set("play", "1.5 mm").unwrap();
    assert!(before.contains("20 mm"), "{before}");
    assert!(printed(&plan).contains("20.5 mm"));
}

#[test]
fn the_latest_revision_stands_first() {
    let document = kept("reading-room", |_| {});
    let found: Vec<_> =
        rows(&document).into_iter().map(|r| r.0).filter(|id| id.starts_with("revision/")).collect();
    assert_eq!(found, ["revision/B", "revision/A"]);
}

#[test]
fn the_plan_is_carried_and_opens_again() {
    let built = table("map-room");
    let document = kept("map-room", |_| {});
    let [file] = document.attachments.as_slice() else { panic!("one attachment") };
    assert_eq!(file.name, "map-room-table.json");
    assert!(Plan::parse(&file.data).unwrap().0 == built.plan);
    let without = kept("map-room", |o| o.carry_plan = false);
    assert!(without.attachments.is_empty());
}

#[test]
fn figures_have_words_for_those_who_cannot_see_them() {
    fn alts(items: &[Item], out: &mut Vec<String>) {
        for item in items {
            if let Item::Group { role, items, .. } = item {
                if let Role::Figure { alt } = role {
                    out.push(alt.clone());
                }
                alts(items, out);
            }
        }
    }
    for language in [Language::En, Language::De] {
        let document = kept("reading-room", |o| o.language = language);
        let mut found = Vec::new();
        document.pages.iter().filter(|p| !support::is_sheet(p)).for_each(|p| alts(&p.items, &mut found));
        // Cover, bars, three plans, stack, chart; each sheet and board of the cutting layouts is one more.
        assert!(found.len() >= 14, "{found:?}");
        assert!(found.iter().all(|a| a.len() > 40 && !a.contains('‹')), "{found:?}");
    }
}

/// The motion chart against the mechanism: the ends of the drawn curves lie where travel and lift end.
#[test]
fn curves_of_the_motion_chart_end_where_the_motion_ends() {
    let built = table("reading-room");
    let document = kept("reading-room", |_| {});
    let figure = document.pages.iter().find_map(|p| find(&p.items, "figure/motion")).unwrap();
    // The long polylines are the curves, drawn in the order panels, leaves, star, plate.
    let curves: Vec<Vec<Pt>> = figure
        .iter()
        .filter_map(|i| match i {
            Item::Path { steps, .. } if steps.len() > 100 => Some(
                steps
                    .iter()
                    .filter_map(|s| match s {
                        Step::Move(p) | Step::Line(p) => Some(*p),
                        _ => None,
                    })
                    .collect(),
            ),
            _ => None,
        })
        .collect();
    assert_eq!(curves.len(), 4);
    let m = built.mechanism();
    let ends: Vec<f64> = curves.iter().map(|c| c[0].y - c.last().unwrap().y).collect();
    let real =
        [m.panel_travel(m.turn()), m.leaf_travel(m.turn()), m.star_rise(m.turn()), m.plate_rise(m.turn())];
    let scale = ends[0] / real[0];
    for (drawn, real) in ends.iter().zip(real) {
        assert!((drawn - real * scale).abs() < 0.02, "{drawn} mm drawn for {real} mm");
    }
}
