//! Layouts of the demo tables, and sentences.
//!
//! In: the demo plans. Out: pass or fail. Always true: counts, grain and bands are read off the answer, not asked
//! of the search; distances are judged again in Python with another geometry library.

mod common;

use turnleaf_geom::{Ring, trig, vec2::v};
use turnleaf_nest::{Effort, Grain, Layouts, PartIn, Request, Sheet, Turns, nest, table};

fn big() -> Sheet {
    Sheet::of("1220 × 2440 mm", 1220.0, 2440.0)
}

fn part(name: &str, outline: Ring, count: usize) -> PartIn {
    PartIn {
        id: name.to_lowercase(),
        name: name.into(),
        stock: "plywood, 18 mm".into(),
        outline,
        count,
        grain: Grain::Along,
        turns: Turns::Any,
    }
}

fn rect(x: f64, y: f64) -> Ring {
    Ring::rect(v(0.0, 0.0), v(x, y))
}

fn placed(got: &Layouts, part: usize) -> usize {
    got.sheets.iter().flat_map(|s| &s.placements).filter(|p| p.part == part).count()
}

#[test]
fn every_part_of_the_demo_tables_is_placed_once_with_its_grain_and_alike_twice() {
    for name in common::DEMOS {
        let parts = table::parts(&common::demo(name));
        assert!(parts.len() > 8, "{name}: {} parts are cut from sheets", parts.len());
        let request = common::on(&parts, big());
        let got = nest(&request).expect("the request is sound");
        assert!(got.left.is_empty(), "{name}: {:?}", got.left);
        for (i, part) in parts.iter().enumerate() {
            assert_eq!(placed(&got, i), part.count, "{name}: {}", part.name);
        }
        for sheet in &got.sheets {
            for p in &sheet.placements {
                let part = &parts[p.part];
                assert_eq!(part.stock, sheet.stock);
                let turned = format!("{name}: {} turned {}", part.name, p.turned);
                match part.grain {
                    Grain::Free => {}
                    Grain::Along => assert!([0.0, 180.0].contains(&p.turned), "{turned}"),
                    Grain::Across => assert!([90.0, 270.0].contains(&p.turned), "{turned}"),
                }
                // Its sheet says that the grain runs along the arcs.
                if part.id == "stiffening-ring" {
                    let (lo, hi) = part.outline.moved(&p.pose()).bounds();
                    assert!(hi.x - lo.x > hi.y - lo.y, "{turned}: the ring lies across the grain");
                }
            }
        }
        // All of a demo's top comes from one sheet, up to seven tenths full.
        let top = got.sheets.iter().filter(|s| s.stock.starts_with("top")).count();
        assert_eq!(top, 1, "{name}");
        assert_eq!(nest(&request).expect("the request is sound"), got, "{name}: not the same twice");
    }
}

/// The careful hand layout: sectors with their grain along the sheet, tip to rim alternately, nested side against
/// side across the sheet in columns as long as the radius. With half angle h the apexes of neighbours are
/// R·tan h + kerf/cos h apart across the sheet, and a column of n reaches over (n - 1) of these and one sector's width
/// 2·R·sin h (elementary).
#[test]
fn panels_lie_no_longer_than_tip_to_rim_columns_laid_by_hand() {
    for name in common::DEMOS {
        let mut parts = table::parts(&common::demo(name));
        parts.retain(|p| p.id == "panel");
        let request = common::on(&parts, big());
        let (ring, count) = (&parts[0].outline, parts[0].count as f64);
        let (apex, corner) = (ring.vertices[0].p, ring.vertices[1].p);
        let (radius, h) = (apex.dist(corner), (corner - apex).angle().abs());
        let across = 1220.0 - 2.0 * request.margin;
        let pitch = radius * trig::tan(h) + request.kerf / trig::cos(h);
        let column = ((across - 2.0 * radius * trig::sin(h)) / pitch).floor() + 1.0;
        let columns = (count / column).ceil();
        let hand = columns * (radius + request.kerf) - request.kerf + 2.0 * request.margin;
        let got = nest(&request).expect("the request is sound");
        assert!(got.left.is_empty() && got.sheets.len() == 1, "{name}");
        println!("{name}: {:.0} mm used, {hand:.0} mm by hand", got.sheets[0].used);
        assert!(hand < 2440.0 && got.sheets[0].used <= hand, "{name}: {} > {hand}", got.sheets[0].used);
    }
}

#[test]
fn rails_are_ripped_from_bands_that_nothing_else_crosses() {
    let parts = [
        part("Rail", rect(800.0, 60.0), 9),
        part("Stile", rect(500.0, 60.0), 3),
        part("Shelf", rect(700.0, 300.0), 4),
    ];
    let request = common::on(&parts, big());
    let got = nest(&request).expect("the request is sound");
    assert!(got.left.is_empty() && got.sheets.len() == 1, "{got:?}");
    let sheet = &got.sheets[0];
    assert!(sheet.bands.len() >= 3, "{:?}", sheet.bands);
    let mut next = request.margin;
    for band in &sheet.bands {
        assert!(band.from >= next - 1e-9 && (band.to - band.from - 60.0).abs() < 0.1);
        next = band.to + request.kerf;
        for (i, p) in sheet.placements.iter().enumerate() {
            let (lo, hi) = parts[p.part].outline.moved(&p.pose()).bounds();
            let inside = lo.y >= band.from - 1e-9 && hi.y <= band.to + 1e-9;
            let clear = hi.y <= band.from - request.kerf + 1e-9 || lo.y >= band.to + request.kerf - 1e-9;
            assert!(if band.placements.contains(&i) { inside } else { clear }, "{i} in {band:?}");
        }
    }
}

#[test]
fn a_part_too_large_for_every_sheet_is_named_with_a_sheet_that_would_do() {
    let parts = [part("Top", rect(1400.0, 1300.0), 2), part("Leaf", rect(400.0, 200.0), 1)];
    let request = common::on(&parts, big());
    let got = nest(&request).expect("the request is sound");
    assert_eq!(got.left.len(), 1);
    assert_eq!((got.left[0].part, got.left[0].count), (0, 2));
    assert_eq!(
        got.left[0].sentence,
        "Top (1400 × 1300 mm) is too large for every sheet on hand: a sheet of 1420 × 1320 mm (the first along \
         the grain) would do."
    );
    assert_eq!(placed(&got, 1), 1);
    // It does do.
    let mut enough = request;
    enough.sheets.push(Sheet::of("1420 × 1320 mm", 1420.0, 1320.0));
    let got = nest(&enough).expect("the request is sound");
    assert!(got.left.is_empty() && placed(&got, 0) == 2);
}

#[test]
fn too_few_sheets_are_told_with_how_many_more_would_hold_the_rest() {
    let parts = [part("Board", rect(2000.0, 1100.0), 3)];
    let mut request = common::on(&parts, Sheet { count: Some(1), ..big() });
    let got = nest(&request).expect("the request is sound");
    assert_eq!(
        got.left[0].sentence,
        "The sheets on hand are used up: 2 of Board found no place; 2 more of 1220 × 2440 mm would hold all that \
         is left of plywood, 18 mm."
    );
    request.sheets[0].count = Some(3);
    assert!(nest(&request).expect("the request is sound").left.is_empty());
}

#[test]
fn sheets_of_another_stock_are_not_used() {
    let parts = [part("Leaf", rect(400.0, 200.0), 1)];
    let request = common::on(&parts, Sheet { stock: Some("oak, 20 mm".into()), ..big() });
    let got = nest(&request).expect("the request is sound");
    assert!(got.sheets.is_empty());
    assert!(
        got.left[0].sentence.starts_with("No sheet of plywood, 18 mm is on hand for Leaf: "),
        "{:?}",
        got.left
    );
}

#[test]
fn what_cannot_be_used_is_told_in_a_sentence_that_names_it() {
    let parts = [part("Leaf", rect(400.0, 200.0), 1)];
    let sound = common::on(&parts, big());
    let told = |change: &dyn Fn(&mut Request)| {
        let mut request = sound.clone();
        change(&mut request);
        nest(&request).expect_err("it must be refused")
    };
    assert!(told(&|r| r.kerf = -1.0).starts_with("The kerf must be a length from 0 to 100 mm"));
    assert!(told(&|r| r.kerf = f64::NAN).starts_with("The kerf must"));
    assert!(told(&|r| r.margin = f64::INFINITY).starts_with("The margin must"));
    assert!(told(&|r| r.sheets.clear()).starts_with("No sheet on hand is named"));
    assert!(told(&|r| r.sheets[0].width = 15.0).starts_with("Sheet 1220 × 2440 mm must be longer and wider"));
    assert!(
        told(&|r| r.parts[0].outline = Ring::default()).starts_with("The outline of Leaf cannot be nested")
    );
    assert!(told(&|r| r.parts[0].count = 10_001).contains("at most 10000"));
    assert!(
        nest(&Request { parts: vec![], effort: Effort::BOOK, ..sound.clone() })
            .expect("nothing to do")
            .sheets
            .is_empty()
    );
}
