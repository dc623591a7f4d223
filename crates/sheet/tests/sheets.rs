//! Finished sheets, read back from their SVG: no overlap, nothing outside the frame, every figure once.

#[path = "../../dimension/tests/samples/mod.rs"]
mod samples;

mod checker;

use samples::{Sizes, all};
use std::collections::BTreeMap;
use turnleaf_page::{Item, Paper};
use turnleaf_parts::Part;
use turnleaf_sheet::{Projection, SheetOptions, part_sheet};
use turnleaf_svg::page_svg;
use turnleaf_units::{Denominator, InchPrint, MmStep, PrintUnits};

const INCH: InchPrint = InchPrint { denominator: Denominator::SixtyFour, feet: false };

fn options(paper: Paper, units: PrintUnits) -> SheetOptions {
    SheetOptions { paper, units, ..SheetOptions::default() }
}

/// Checks all sheets of a part; returns what a reader would mind.
fn complaints(part: &Part, o: &SheetOptions) -> Vec<String> {
    let (pages, said, proof) = part_sheet(part, o);
    let mut out: Vec<String> = said.iter().map(|d| d.sentence.clone()).collect();
    assert!(!pages.is_empty(), "{}: no sheet", part.id);
    if !proof.holds() {
        out.push(format!("proof: {proof:?}"));
    }
    for page in &pages {
        let sheet = checker::read(&page_svg(page));
        assert!(sheet.ink > 100.0 && sheet.words.len() > 20, "the checker found almost nothing");
        out.extend(sheet.complaints());
    }
    out
}

fn check(parts: &[Part], o: &SheetOptions, what: &str, found: &mut Vec<String>) {
    for part in parts {
        for c in complaints(part, o) {
            found.push(format!("{what} {:?} {}: {c}", o.paper, part.id));
        }
    }
}

#[test]
fn samples_of_many_sizes_are_clean_on_both_small_papers() {
    let mut found = Vec::new();
    for n in [4, 5, 6, 8, 12] {
        for r in [350.0, 480.0, 600.0, 811.0, 1000.0] {
            let parts = all(Sizes::new(n, r));
            for paper in [Paper::A4, Paper::Letter] {
                for units in [PrintUnits::Mm(MmStep::TENTH), PrintUnits::Inch(INCH)] {
                    check(&parts, &options(paper, units), &format!("n {n} r {r} {units:?}"), &mut found);
                }
            }
        }
    }
    assert!(found.is_empty(), "{} complaints:\n{}", found.len(), found.join("\n"));
}

/// Parts of solved tables, as the book draws them.
fn table(sectors: usize, diameter: f64) -> Option<Vec<Part>> {
    let mut s = turnleaf_mechanism::Sizes::example();
    s.sectors = sectors;
    s.closed_diameter = diameter;
    s.opening = turnleaf_mechanism::Opening::Diameter(diameter * 1.32);
    s.leaf_tip_half_angle = s.half_sector().max(core::f64::consts::FRAC_PI_4);
    let k = (diameter / 1200.0).clamp(0.6, 1.0) * if sectors > 8 { 0.7 } else { 1.0 };
    (s.arm_width, s.tongue_depth, s.arm_clearance) = (20.0 * k, 6.0 * k, 3.0);
    let m = turnleaf_mechanism::solve(&s).ok()?;
    Some(turnleaf_parts::assemble(&m).parts.into_iter().filter(|p| p.made).collect())
}

#[test]
fn parts_of_solved_tables_are_clean_on_every_paper_and_in_every_unit() {
    let mut found = Vec::new();
    let mut tables = 0;
    let all_units =
        [PrintUnits::Mm(MmStep::TENTH), PrintUnits::Inch(INCH), PrintUnits::Both(MmStep::TENTH, INCH)];
    for (sectors, diameter) in [(4, 900.0), (5, 1000.0), (6, 1200.0), (7, 1320.0), (8, 1500.0), (10, 1800.0)]
    {
        let Some(parts) = table(sectors, diameter) else { continue };
        tables += 1;
        for (k, paper) in Paper::ALL.into_iter().enumerate() {
            for (j, units) in all_units.into_iter().enumerate() {
                // Every paper and every unit, the larger papers with one unit a table to save time.
                if k > 1 && (k + j + sectors) % 3 != 0 && paper != Paper::Letter {
                    continue;
                }
                let projection = if j == 0 { Projection::First } else { Projection::Third };
                let o = SheetOptions { projection, ..options(paper, units) };
                check(&parts, &o, &format!("{sectors} sectors {diameter}"), &mut found);
            }
        }
    }
    assert!(tables >= 5, "only {tables} tables solved");
    assert!(found.is_empty(), "{} complaints:\n{}", found.len(), found.join("\n"));
}

fn grain_arrow(items: &[Item]) -> Option<(f64, f64)> {
    items.iter().find_map(|item| match item {
        Item::Group { id: Some(id), items, .. } if id.ends_with("/mark/grain") => {
            let line = items.iter().find(|i| matches!(i, Item::Path { .. }))?;
            let (lo, hi) = turnleaf_text::bounds(std::slice::from_ref(line))?;
            Some((hi.x - lo.x, hi.y - lo.y))
        }
        Item::Group { items, .. } => grain_arrow(items),
        _ => None,
    })
}

/// Where the datum line runs up the sheet, the datum end is the lower one: the arrow of the grain, drawn from the
/// geometry, lies as the words say.
#[test]
fn notes_name_the_datum_end_where_it_is_drawn() {
    let mut seen = BTreeMap::<(&str, &str), usize>::new();
    for (sectors, diameter) in [(4, 700.0), (6, 1200.0), (8, 1500.0), (12, 2000.0)] {
        for part in table(sectors, diameter).expect("the sizes agree") {
            for paper in [Paper::A4, Paper::Letter] {
                let (pages, ..) = part_sheet(&part, &options(paper, PrintUnits::Mm(MmStep::TENTH)));
                let said = checker::read(&page_svg(&pages[0]));
                let said: Vec<&str> = said.words.iter().map(|w| w.text.as_str()).collect();
                let said = said.join(" ");
                let Some(end) = ["left end", "lower end"].into_iter().find(|e| said.contains(e)) else {
                    continue;
                };
                let Some(grain) = ["Grain along", "Grain across"].into_iter().find(|g| said.contains(g))
                else {
                    continue;
                };
                let Some((wide, high)) = grain_arrow(&pages[0].items) else { continue };
                let level = (end == "left end") == (grain == "Grain along");
                assert_eq!(wide > high, level, "{sectors} sectors, {paper:?}, {}: {said}", part.id);
                *seen.entry((end, grain)).or_default() += 1;
            }
        }
    }
    assert_eq!(seen.len(), 4, "{seen:?}");
}

fn dimension_groups(items: &[Item], out: &mut BTreeMap<String, (usize, String)>) {
    for item in items {
        if let Item::Group { role, id, items, .. } = item {
            if *role == turnleaf_page::Role::Dimension {
                let entry = out.entry(id.clone().expect("a dimension has a name")).or_default();
                entry.0 += 1;
                for inner in items {
                    if let Item::Text(t) = inner {
                        entry.1.push_str(&t.text);
                    }
                }
            }
            dimension_groups(items, out);
        }
    }
}

#[test]
fn every_figure_of_the_proof_stands_on_the_sheets_exactly_once() {
    for part in all(Sizes::new(6, 600.0)).iter().chain(&table(6, 1200.0).expect("solves")) {
        for units in [PrintUnits::Mm(MmStep::TENTH), PrintUnits::Both(MmStep::TENTH, INCH)] {
            let o = options(Paper::A4, units);
            let (pages, _, _) = part_sheet(part, &o);
            let mut groups = BTreeMap::new();
            for page in &pages {
                dimension_groups(&page.items, &mut groups);
            }
            let drawing = turnleaf_dimension::choose(part);
            let figures = turnleaf_dimension::printed::figures(&drawing, &o.wording());
            for (dim, figure) in drawing.dimensions.iter().zip(&figures) {
                // A call-out with a diameter and a depth is one group under the diameter's name.
                let inside = drawing.callouts.iter().any(|c| {
                    c.pieces.iter().skip(2).any(|p| {
                        matches!(p, turnleaf_dimension::drawing::Piece::Figure(i)
                            if drawing.dimensions[*i].id == dim.id)
                    })
                });
                if inside || dim.reference {
                    continue;
                }
                let (count, text) = groups.get(&dim.id).cloned().unwrap_or_default();
                assert_eq!(count, 1, "{} of {}", dim.id, part.id);
                assert!(text.contains(&figure.text()), "{}: {text} lacks {}", dim.id, figure.text());
            }
        }
    }
}

#[test]
fn the_checker_sees_what_it_is_meant_to_see() {
    let part = &all(Sizes::new(6, 600.0))[0];
    let (mut pages, _, _) = part_sheet(part, &SheetOptions::default());
    let page = &mut pages[0];
    assert!(checker::read(&page_svg(page)).text_on_text().is_empty());
    // A second copy of the view, a little to the side: text on text, on lines and on edges.
    let view =
        page.items.iter().find(|i| matches!(i, Item::Group { id: Some(id), .. } if id == "panel/view"));
    let view = view.cloned().expect("a view");
    page.items.push(shifted(&view, 3.0, 1.0));
    page.items.push(shifted(&view, -9.0, 8.0));
    page.items.push(shifted(&view, 14.0, -21.0));
    page.items.push(shifted(&view, 150.0, 0.0));
    let sheet = checker::read(&page_svg(page));
    assert!(!sheet.text_on_text().is_empty());
    assert!(!sheet.text_on_dimension_line().is_empty());
    assert!(!sheet.text_on_edge().is_empty());
    assert!(!sheet.outside.is_empty());
}

fn shifted(item: &Item, dx: f64, dy: f64) -> Item {
    use turnleaf_page::{Step, Text, pt};
    let m = |p: turnleaf_page::Pt| pt(p.x + dx, p.y + dy);
    match item {
        Item::Path { steps, stroke, fill } => Item::Path {
            steps: steps
                .iter()
                .map(|s| match *s {
                    Step::Move(p) => Step::Move(m(p)),
                    Step::Line(p) => Step::Line(m(p)),
                    Step::Cubic(a, b, c) => Step::Cubic(m(a), m(b), m(c)),
                    Step::Close => Step::Close,
                })
                .collect(),
            stroke: stroke.clone(),
            fill: *fill,
        },
        Item::Text(t) => Item::Text(Text { at: m(t.at), ..t.clone() }),
        Item::Group { role, origin, id, items } => Item::Group {
            role: role.clone(),
            origin: *origin,
            id: id.clone(),
            items: items.iter().map(|i| shifted(i, dx, dy)).collect(),
        },
        other => other.clone(),
    }
}

/// Where the figures stand, by dimension.
fn figure_places(pages: &[turnleaf_page::Page]) -> BTreeMap<String, (usize, f64, f64)> {
    fn walk(items: &[Item], id: &str, page: usize, out: &mut BTreeMap<String, (usize, f64, f64)>) {
        for item in items {
            match item {
                Item::Group { id: Some(id), items, .. } => walk(items, id, page, out),
                Item::Group { items, .. } => walk(items, id, page, out),
                Item::Text(t) if id.contains("/dim/") => {
                    out.entry(id.to_string()).or_insert((page, t.at.x, t.at.y));
                }
                _ => {}
            }
        }
    }
    let mut out = BTreeMap::new();
    for (k, p) in pages.iter().enumerate() {
        walk(&p.items, "", k, &mut out);
    }
    out
}

#[test]
fn the_same_input_gives_the_same_sheet_and_a_small_change_moves_figures_little() {
    let o = SheetOptions::default();
    let (mut moved, mut total) = (0, 0);
    for n in [5, 6, 8] {
        for (a, b) in all(Sizes::new(n, 590.0)).iter().zip(&all(Sizes::new(n, 591.0))) {
            let (first, _, _) = part_sheet(a, &o);
            assert_eq!(first, part_sheet(a, &o).0, "{}", a.id);
            let (second, _, _) = part_sheet(b, &o);
            let (p, q) = (figure_places(&first), figure_places(&second));
            assert!(p.keys().eq(q.keys()), "{}: other figures", a.id);
            for (id, at) in &p {
                let to = &q[id];
                total += 1;
                moved += usize::from(at.0 != to.0 || (at.1 - to.1).abs() > 3.0 || (at.2 - to.2).abs() > 3.0);
            }
        }
    }
    // One radius in six hundred: hardly any figure may jump by more than 3 mm.
    assert!(moved * 50 <= total, "{moved} of {total} figures moved more than 3 mm");
}

#[test]
fn the_title_block_and_the_check_bars_have_their_sizes() {
    let part = &all(Sizes::new(6, 600.0))[0];
    for paper in Paper::ALL {
        let (pages, _, _) = part_sheet(part, &options(paper, PrintUnits::Mm(MmStep::TENTH)));
        let page = &pages[0];
        let group = |name: &str| {
            page.items
                .iter()
                .find_map(|i| match i {
                    Item::Group { id: Some(id), items, .. } if id == name => turnleaf_text::bounds(items),
                    _ => None,
                })
                .unwrap_or_else(|| panic!("{name} on {paper:?}"))
        };
        let (lo, hi) = group("title-block");
        // 180 mm wide (ISO 7200:2004), in the lower right corner of the frame; half a line stands over.
        assert!((hi.x - lo.x - 180.0 - 0.7).abs() < 1e-9, "{paper:?}");
        assert!((hi.x - 0.35 - (page.width - 10.0)).abs() < 1e-9);
        assert!((hi.y - 0.35 - (page.height - 10.0)).abs() < 1e-9);
        let svg = page_svg(page);
        let level = checker::level_lines(&svg, "check-bar");
        assert!(level.iter().any(|l| (l - 100.0).abs() < 1e-6), "{level:?}");
        assert!(level.iter().any(|l| (l - 101.6).abs() < 1e-6), "{level:?}");
    }
}

#[test]
fn a_dimension_leads_back_to_the_size_behind_it() {
    use turnleaf_diag::Origin;
    let part = &all(Sizes::new(6, 600.0))[0];
    let mut o = SheetOptions::default();
    o.origins.insert("panel/dim".into(), Origin::Solved(3));
    o.origins.insert("panel/dim/radius".into(), Origin::Size(1));
    let (pages, _, _) = part_sheet(part, &o);
    let svg = page_svg(&pages[0]);
    let line =
        |id: &str| svg.lines().find(|l| l.contains(&format!("data-id=\"{id}"))).expect("drawn").to_string();
    assert!(line("panel/dim/radius/outer-arc").contains("data-origin=\"size/1\""));
    assert!(line("panel/dim/width/outer-corner").contains("data-origin=\"solved/3\""));
}

#[test]
fn a_revision_block_stands_in_the_upper_right_corner_and_pushes_nothing_out() {
    let mut o = SheetOptions::default();
    for letter in ["A", "B", "C"] {
        o.revisions.push(turnleaf_sheet::RevisionLine {
            letter: letter.into(),
            text: "Groove deepened to suit the tongues as made".into(),
            date: "2025-04-01".into(),
            by: "B. Reader".into(),
        });
    }
    for part in all(Sizes::new(6, 600.0)) {
        let found = complaints(&part, &o);
        assert!(found.is_empty(), "{}: {found:?}", part.id);
    }
}
