//! Finished assembly sheets, read back from their SVG, and what they show against closed forms.
//!
//! Always true: what is checked on paper is read from the SVG by code that shares nothing with the placing;
//! `TURNLEAF_SWEEP=200` looks at every paper and unit of every table, the default at a stated part.

#[path = "../../sheet/tests/checker/mod.rs"]
#[allow(dead_code)]
mod checker;
mod support;

use std::collections::{BTreeMap, BTreeSet};
use support::{drawn, table};
use turnleaf_assembly::{Scene, assembly_order, stack, step_figure};
use turnleaf_geom::distance::point_in_region;
use turnleaf_page::{Item, Paper, Pt, Step};
use turnleaf_parts::Assembly;
use turnleaf_sheet::{Projection as Angle, SheetOptions};
use turnleaf_svg::page_svg;
use turnleaf_units::{Denominator, InchPrint, MmStep, PrintUnits};
use turnleaf_views::{Corner, Projection};

const TABLES: [(usize, f64, f64); 7] = [
    (4, 900.0, 18.0),
    (4, 700.0, 18.0),
    (6, 1200.0, 18.0),
    (6, 1200.0, 19.05),
    (8, 1500.0, 18.2),
    (12, 2000.0, 18.0),
    (8, 2000.0, 18.0),
];

/// A balloon as the file shows it: number, centre, radius, end of its leader.
struct Seen {
    number: usize,
    part: String,
    at: (f64, f64),
    radius: f64,
    leader: Option<((f64, f64), (f64, f64))>,
}

fn points(d: &str) -> Vec<(f64, f64)> {
    let numbers: Vec<f64> = d
        .split(|c: char| c.is_ascii_alphabetic() || c == ' ' || c == ',')
        .filter(|s| !s.is_empty())
        .map(|s| s.parse().expect("a number"))
        .collect();
    numbers.chunks_exact(2).map(|c| (c[0], c[1])).collect()
}

fn seen_balloons(svg: &str) -> Vec<Seen> {
    let doc = roxmltree::Document::parse(svg).expect("well-formed SVG");
    let mut out = Vec::new();
    for g in doc.descendants().filter(|n| n.attribute("data-id").is_some_and(|i| i.contains("/balloon/"))) {
        let text = g.descendants().find(|n| n.has_tag_name("text")).expect("a number");
        let number = text.text().unwrap_or_default().trim().parse().expect("a number");
        let id = g.attribute("data-id").unwrap_or_default();
        let part = id.rsplit('/').next().unwrap_or_default().to_string();
        let (mut at, mut radius, mut leader) = ((0.0, 0.0), 0.0, None);
        for path in g.descendants().filter(|n| n.has_tag_name("path")) {
            let d = path.attribute("d").expect("data");
            let p = points(d);
            if d.contains('C') {
                let mut lo = p[0];
                let mut hi = p[0];
                // Ends of the curves alone: every third point.
                for q in p.iter().step_by(3) {
                    lo = (lo.0.min(q.0), lo.1.min(q.1));
                    hi = (hi.0.max(q.0), hi.1.max(q.1));
                }
                at = ((lo.0 + hi.0) / 2.0, (lo.1 + hi.1) / 2.0);
                radius = (hi.0 - lo.0) / 2.0;
            } else if p.len() == 2 {
                leader = Some((p[0], p[1]));
            }
        }
        out.push(Seen { number, part, at, radius, leader });
    }
    out
}

fn far(a: (f64, f64), b: (f64, f64)) -> f64 {
    ((a.0 - b.0).powi(2) + (a.1 - b.1).powi(2)).sqrt()
}

fn cross(a: ((f64, f64), (f64, f64)), b: ((f64, f64), (f64, f64))) -> bool {
    let side =
        |p: (f64, f64), q: (f64, f64), r: (f64, f64)| (q.0 - p.0) * (r.1 - p.1) - (q.1 - p.1) * (r.0 - p.0);
    side(a.0, a.1, b.0) * side(a.0, a.1, b.1) < -1e-9 && side(b.0, b.1, a.0) * side(b.0, b.1, a.1) < -1e-9
}

/// Rows of the item lists: number, part, count.
fn rows(items: &[Item], out: &mut Vec<(usize, String, usize)>) {
    for item in items {
        let Item::Group { id, items, .. } = item else { continue };
        match id {
            Some(id) if id.contains("/items/") && id.split('/').count() == 4 => {
                let mut texts = Vec::new();
                for cell in items {
                    if let Item::Group { items, .. } = cell
                        && let Some(Item::Text(t)) = items.first()
                    {
                        texts.push(t.text.clone());
                    }
                }
                let number = texts[0].parse().expect("an item number");
                let count = texts[2].parse().expect("a count");
                out.push((number, id.rsplit('/').next().unwrap_or_default().to_string(), count));
            }
            _ => rows(items, out),
        }
    }
}

fn complaints(a: &Assembly, o: &SheetOptions, what: &str) -> (Vec<String>, usize) {
    let mut out = Vec::new();
    let mut crossings = 0;
    let mut listed: BTreeMap<String, usize> = BTreeMap::new();
    let sheets = drawn(a, o);
    assert!(sheets.len() >= 8, "{what}: only {} sheets", sheets.len());
    for s in &sheets {
        let svg = page_svg(&s.page);
        let sheet = checker::read(&svg);
        assert!(sheet.ink > 100.0 && sheet.words.len() > 20, "{what} {}: almost nothing found", s.id);
        out.extend(sheet.complaints().into_iter().map(|c| format!("{what} {}: {c}", s.id)));
        out.extend(
            sheet.words.iter().filter(|w| w.text.contains('‹')).map(|w| format!("{what}: {}", w.text)),
        );
        let balloons = seen_balloons(&svg);
        let mut found = Vec::new();
        rows(&s.page.items, &mut found);
        let numbers: BTreeSet<(usize, String)> = found.iter().map(|r| (r.0, r.1.clone())).collect();
        let shown: BTreeSet<(usize, String)> = balloons.iter().map(|b| (b.number, b.part.clone())).collect();
        if numbers != shown || shown.len() != balloons.len() {
            out.push(format!("{what} {}: list {numbers:?}, balloons {shown:?}", s.id));
        }
        for (_, part, count) in found {
            *listed.entry(part).or_default() += count;
        }
        for (i, b) in balloons.iter().enumerate() {
            for c in &balloons[i + 1..] {
                if far(b.at, c.at) < b.radius + c.radius + 0.2 {
                    out.push(format!("{what} {}: balloons {} and {} touch", s.id, b.number, c.number));
                }
                if let (Some(l), Some(k)) = (b.leader, c.leader) {
                    crossings += usize::from(cross(l, k));
                    if far(l.1, c.at) < c.radius || far(k.1, b.at) < b.radius {
                        out.push(format!("{what} {}: a leader ends in a balloon", s.id));
                    }
                }
            }
        }
    }
    // Every piece in exactly one list.
    for part in &a.parts {
        let pieces = a.pieces.iter().filter(|p| a.part_of(p).id == part.id).count();
        if listed.get(&part.id).copied().unwrap_or(0) != pieces {
            out.push(format!(
                "{what}: {} of {pieces} pieces of {} listed",
                listed.get(&part.id).unwrap_or(&0),
                part.id
            ));
        }
    }
    (out, crossings)
}

#[test]
fn sheets_are_clean_and_lists_are_complete() {
    let long = std::env::var("TURNLEAF_SWEEP").is_ok();
    let inch = InchPrint { denominator: Denominator::SixtyFour, feet: false };
    let mut found = Vec::new();
    let (mut solved, mut crossings, mut k) = (0, 0, 0);
    for (sectors, diameter, stock) in TABLES {
        let Some(a) = table(sectors, diameter, stock) else { continue };
        solved += 1;
        for paper in [Paper::A4, Paper::A3, Paper::Letter] {
            for units in [PrintUnits::Mm(MmStep::TENTH), PrintUnits::Inch(inch)] {
                k += 1;
                // One in two, the units taking turns from table to table, so that each meets every paper.
                if !long && (k + solved) % 2 == 0 {
                    continue;
                }
                let projection = if k % 4 < 2 { Angle::First } else { Angle::Third };
                let o = SheetOptions { paper, units, projection, ..SheetOptions::default() };
                let what = format!("{sectors} sectors {diameter} {paper:?} {projection:?}");
                let (c, n) = complaints(&a, &o, &what);
                found.extend(c);
                crossings += n;
            }
        }
    }
    println!("{solved} tables, {crossings} crossing leaders");
    assert!(solved >= 4, "only {solved} tables solved");
    assert!(found.is_empty(), "{} complaints:\n{}", found.len(), found.join("\n"));
}

/// ISO 5456-3: the three axes shorten to √(2/3) = 0.8165, a level circle becomes an ellipse whose short axis is
/// sin 35.264° = 0.5774 of the long one, which keeps the circle's diameter. Measured on the finished items of a
/// table of known height: a shaft's upright sides and the lower ply's rim.
#[test]
fn isometric_items_have_the_standards_shortening_and_tilt() {
    let a = table(6, 1200.0, 18.0).expect("the example solves");
    let way = Projection::Isometric(Corner::FrontRight);
    let f = step_figure(&a, &["guide-shaft/1"], &[], &way, 0.0, (150.0, 150.0));
    let mut uprights = Vec::new();
    each_path(&f.items, &mut |steps| {
        for w in steps.windows(2) {
            if let [Step::Move(p), Step::Line(q)] = w
                && (p.x - q.x).abs() < 1e-9
            {
                uprights.push((p.y - q.y).abs() / f.scale);
            }
        }
    });
    let tall = a.part("guide-shaft").expect("shafts").thickness;
    let longest = uprights.iter().copied().fold(0.0, f64::max);
    assert!((longest / tall - 0.816_496_580_927_726).abs() < 1e-9, "{}", longest / tall);
    // The rim of the lower ply.
    let f = step_figure(&a, &["base-lower-ply/1"], &[], &way, 0.0, (150.0, 150.0));
    let (lo, hi) = reach(&f.items);
    let ply = a.part("base-lower-ply").expect("a ply");
    let across = 2.0 * ply.outline.reach();
    let wide = (hi.x - lo.x) / f.scale;
    let deep = (hi.y - lo.y) / f.scale - ply.thickness * 0.816_496_580_927_726;
    let tilt = turnleaf_geom::trig::deg(turnleaf_geom::trig::asin(deep / across));
    assert!((wide / across - 1.0).abs() < 2e-3, "{wide} of {across}");
    assert!((tilt - 35.264).abs() < 0.2, "{tilt}");
}

/// The box of all curves themselves: control points of a curve may lie outside it.
fn reach(items: &[Item]) -> (Pt, Pt) {
    let (mut lo, mut hi) = (Pt { x: f64::MAX, y: f64::MAX }, Pt { x: f64::MIN, y: f64::MIN });
    each_path(items, &mut |steps| {
        let mut at = Pt { x: 0.0, y: 0.0 };
        for s in steps {
            let (a, b, to) = match *s {
                Step::Move(p) | Step::Line(p) => (p, p, p),
                Step::Cubic(a, b, p) => (a, b, p),
                Step::Close => continue,
            };
            for i in 0..=64 {
                let t = f64::from(i) / 64.0;
                let u = 1.0 - t;
                let mix = |p: f64, q: f64, r: f64, s: f64| {
                    u * u * u * p + 3.0 * u * u * t * q + 3.0 * u * t * t * r + t * t * t * s
                };
                let from = if matches!(s, Step::Move(_)) { to } else { at };
                let p = Pt { x: mix(from.x, a.x, b.x, to.x), y: mix(from.y, a.y, b.y, to.y) };
                (lo.x, lo.y) = (lo.x.min(p.x), lo.y.min(p.y));
                (hi.x, hi.y) = (hi.x.max(p.x), hi.y.max(p.y));
            }
            at = to;
        }
    });
    (lo, hi)
}

fn each_path(items: &[Item], tell: &mut dyn FnMut(&[Step])) {
    for item in items {
        match item {
            Item::Path { steps, .. } => tell(steps),
            Item::Group { items, .. } => each_path(items, tell),
            _ => {}
        }
    }
}

/// Lines d apart cover an area of d times their length: hatching neither leaves its face nor gaps in it.
#[test]
fn hatching_lies_inside_the_cut_faces_and_covers_them() {
    for sectors in [4, 6] {
        let a = table(sectors, if sectors == 4 { 900.0 } else { 1200.0 }, 18.0).expect("solves");
        let c = stack::cutting(&Scene::new(&a), 0.0);
        let (scale, spacing) = (0.5, 0.2);
        let (lines, filled) = stack::filling(&c.areas, scale, spacing);
        assert!(lines.len() > 1000);
        for l in &lines {
            let middle = l.a.lerp(l.b, 0.5);
            let own = c.areas.iter().filter(|q| q.body == l.body).flat_map(|q| &q.regions);
            assert!(own.into_iter().any(|r| point_in_region(middle, r)), "{middle:?}");
        }
        // Neighbours are told apart by wider spacing too, so each body is asked for its own.
        for area in &c.areas {
            let skipped = |r: &&turnleaf_geom::Region| filled.contains(r);
            let whole: f64 = area.regions.iter().filter(|r| !skipped(r)).map(|r| r.area()).sum();
            let long: f64 = lines.iter().filter(|l| l.body == area.body).map(|l| l.a.dist(l.b)).sum();
            if whole < 500.0 {
                continue;
            }
            let step = whole / long * scale / spacing;
            let nearest = (step * 2.0).round() / 2.0;
            assert!(nearest >= 1.0 && (step / nearest - 1.0).abs() < 0.06, "{step} of {}", area.body);
        }
    }
}

#[test]
fn order_of_assembly_takes_every_piece_once_and_builds_from_the_floor_up() {
    for (sectors, diameter) in [(4, 900.0), (6, 1200.0), (8, 1500.0)] {
        let Some(a) = table(sectors, diameter, 18.0) else { continue };
        let steps = assembly_order(&a);
        assert_eq!(steps, assembly_order(&a));
        let mut seen = BTreeSet::new();
        for s in &steps {
            assert!(!s.forced, "{} was forced", s.id);
            for p in &s.pieces {
                assert!(seen.insert(p.clone()), "{p} twice");
            }
        }
        assert_eq!(seen.len(), a.pieces.len());
        let at = |part: &str| steps.iter().position(|s| s.parts.iter().any(|p| p == part)).expect("a step");
        // Plain facts of the table: common practice, no source.
        for (first, then) in [
            ("leg", "base-lower-ply"),
            ("base-lower-ply", "base-upper-ply"),
            ("base-upper-ply", "turning-plate"),
            ("panel-crank-pin", "panel-arm"),
            ("panel-arm", "turning-plate"),
            ("turning-plate", "panel-slide"),
            ("panel-slide", "panel-slide-pin"),
            ("panel-slide", "rising-plate"),
            ("rising-plate", "leaf-slide"),
            ("leaf-slide", "leaf"),
            ("star", "leaf"),
            ("leaf", "panel"),
            ("panel-crank-pin", "star-lever"),
        ] {
            assert!(at(first) < at(then), "{first} must be in before {then}");
        }
        // Rollers hang from the rising plate, hub and shaft from the star: they go in with it.
        assert_eq!(at("drop-roller"), at("rising-plate"));
        assert_eq!(at("star-hub"), at("star"));
        let way = |part: &str| steps[at(part)].direction;
        assert_eq!(way("panel-slide"), turnleaf_assembly::Direction::Inward);
        assert!(
            steps[at("leaf")].joints.iter().any(|j| j.by.contains("screw")),
            "{:?}",
            steps[at("leaf")].joints
        );
    }
}

#[test]
fn a_step_tells_new_from_old_by_line_width_alone() {
    let a = table(6, 1200.0, 18.0).expect("solves");
    let way = Projection::Isometric(Corner::FrontRight);
    let f =
        step_figure(&a, &["base-lower-ply/1", "nothing/7"], &["base-upper-ply/1"], &way, 0.0, (120.0, 100.0));
    let mut pens: BTreeMap<String, Vec<f64>> = BTreeMap::new();
    for item in &f.items {
        if let Item::Group { id: Some(id), items, .. } = item {
            for i in items {
                if let Item::Path { stroke: Some(s), .. } = i {
                    assert_eq!(s.colour, turnleaf_page::Colour::BLACK);
                    pens.entry(id.clone()).or_default().push(s.width);
                }
            }
        }
    }
    let (old, new) = (&pens["step/base-lower-ply/visible"], &pens["step/base-upper-ply/visible"]);
    // ISO 128-2: wide to narrow as 2 to 1.
    assert_eq!(new[0] / old[0], 2.0);
    assert_eq!(f.numbers, [(1, "base-upper-ply".to_string())]);
    let (lo, hi) = turnleaf_text::bounds(&f.items).expect("drawn");
    assert!(lo.x > -0.3 && lo.y > -0.3 && hi.x < f.width + 0.3 && hi.y < f.height + 0.3);
}
