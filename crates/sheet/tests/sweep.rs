//! Many random tables, every part, both units, both small papers: the whole promise at once.
//!
//! Always true: the tables are drawn from a fixed sequence, so every run sees the same ones. The number is
//! small by default to keep the suite quick; `TURNLEAF_SWEEP=200` runs the long form.

// The other test file uses the rest of it.
#[allow(dead_code)]
mod checker;

use turnleaf_page::Paper;
use turnleaf_sheet::{SheetOptions, Tolerance, part_sheet};
use turnleaf_svg::page_svg;
use turnleaf_units::{Denominator, InchPrint, MmStep, PrintUnits};

struct Sequence(u64);

impl Sequence {
    /// The next number, from 0 up to 1.
    fn next(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1u64 << 53) as f64
    }
}

fn sizes(q: &mut Sequence, k: usize) -> turnleaf_mechanism::Sizes {
    let mut s = turnleaf_mechanism::Sizes::example();
    let diameter = 700.0 + 1300.0 * q.next();
    s.sectors = 4 + k % 9;
    s.closed_diameter = diameter;
    s.opening = turnleaf_mechanism::Opening::Diameter(diameter * (1.2 + 0.2 * q.next()));
    s.leaf_tip_half_angle = s.half_sector().max(core::f64::consts::FRAC_PI_4);
    // Every third table opens askew, so that its leaf and its star have no mirror line.
    if k.is_multiple_of(3) {
        s.slide_skew = s.half_sector() * (0.1 + 0.4 * q.next());
    }
    s.stock_thickness = 15.0 + (q.next() * 10.0).round();
    let small = (diameter / 1200.0).clamp(0.6, 1.0) * if s.sectors > 8 { 0.7 } else { 1.0 };
    (s.arm_width, s.tongue_depth, s.arm_clearance) = (20.0 * small, 6.0 * small, 3.0);
    s
}

/// Tolerances on the sizes that the checks of a book give them to: widths, depths, radii and pins.
fn tolerances(part: &turnleaf_parts::Part) -> Vec<Tolerance> {
    let of = |begins: &str, ends: &str, half: f64| Tolerance {
        part: part.id.clone(),
        begins: begins.into(),
        ends: ends.into(),
        half,
    };
    vec![
        of("groove", "/width", 0.13),
        of("tongue", "/width", 0.13),
        of("groove", "/depth", 0.19),
        of("tongue", "/depth", 0.19),
        of("width/", "", 0.21),
        of("pin-to-pin", "", 0.12),
        of("", "-pin/diameter", 0.18),
        of("", "/radius", 0.12),
        of("pin/", "x", 0.12),
        of("", "-slot/width", 0.2),
        of("pocket/", "radius", 0.22),
    ]
}

#[test]
fn random_tables_have_complete_and_clean_sheets() {
    let wanted: usize = std::env::var("TURNLEAF_SWEEP").ok().and_then(|v| v.parse().ok()).unwrap_or(6);
    let inch = InchPrint { denominator: Denominator::SixtyFour, feet: false };
    let mut q = Sequence(2024);
    let (mut tables, mut sheets, mut tried, mut askew) = (0, 0, 0, 0);
    let (mut worst, mut area) = (0.0f64, 0.0f64);
    let mut found: Vec<String> = Vec::new();
    while tables < wanted && tried < wanted * 6 {
        tried += 1;
        let s = sizes(&mut q, tried);
        let Ok(m) = turnleaf_mechanism::solve(&s) else { continue };
        tables += 1;
        askew += usize::from(s.slide_skew > 0.0);
        for part in turnleaf_parts::assemble(&m).parts.iter().filter(|p| p.made) {
            for units in [PrintUnits::Mm(MmStep::TENTH), PrintUnits::Inch(inch)] {
                for paper in [Paper::A4, Paper::Letter] {
                    let mut o = SheetOptions { paper, units, ..SheetOptions::default() };
                    // Every other table with tolerances, which make figures longer.
                    if tables % 2 == 0 {
                        o.general = Some(0.25);
                        o.tolerances = tolerances(part);
                    }
                    let (pages, said, proof) = part_sheet(part, &o);
                    let d = turnleaf_dimension::choose(part);
                    let shown = turnleaf_dimension::printed::figures(&d, &o.wording());
                    // The side of a datum is seen: no minus between extension lines.
                    let minus = shown.iter().zip(&d.dimensions).filter(|(f, dim)| {
                        dim.look == turnleaf_dimension::drawing::Look::Linear
                            && f.main.starts_with('\u{2212}')
                    });
                    found.extend(minus.map(|(f, dim)| format!("{} says {}", dim.id, f.main)));
                    let what = format!(
                        "{} sectors {:.0} {:.1}° {paper:?} {}",
                        s.sectors,
                        s.closed_diameter,
                        s.slide_skew.to_degrees(),
                        part.id
                    );
                    found.extend(said.iter().map(|d| format!("{what}: {}", d.sentence)));
                    if !proof.holds() || pages.is_empty() {
                        found.push(format!("{what}: {} pages, {proof:?}", pages.len()));
                    }
                    for r in &proof.rebuilt {
                        let d = r.difference.unwrap_or_default();
                        worst = worst.max(d.worst / (r.step / 2.0));
                        area = area.max(d.area);
                    }
                    for page in &pages {
                        sheets += 1;
                        let sheet = checker::read(&page_svg(page));
                        assert!(sheet.ink > 100.0 && sheet.words.len() > 20, "{what}: almost nothing drawn");
                        found.extend(sheet.complaints().into_iter().map(|c| format!("{what}: {c}")));
                    }
                }
            }
        }
    }
    println!(
        "{tables} tables ({askew} askew, {tried} tried), {sheets} sheets, worst {worst:.2} half steps, area {area:.1} mm²"
    );
    assert!(askew > 0 || wanted < 3, "no skewed table among {tables}");
    assert!(tables == wanted, "only {tables} of {tried} random tables solved");
    assert!(found.is_empty(), "{} complaints:\n{}", found.len(), found.join("\n"));
    assert!(worst < 3.0, "{worst}");
}

/// Between the narrow points of this star no letter stands square to a tongue's edge: its arrow has to lean.
#[test]
fn the_marks_of_a_narrow_star_stand_clear_of_its_outline() {
    let s = turnleaf_mechanism::Sizes {
        closed_diameter: 1325.02,
        opening: turnleaf_mechanism::Opening::Diameter(1645.5),
        sectors: 7,
        slide_skew: 0.188209,
        stock_thickness: 16.0,
        ..turnleaf_mechanism::Sizes::example()
    };
    let m = turnleaf_mechanism::solve(&s).expect("solves");
    let table = turnleaf_parts::assemble(&m);
    let star = table.part("star").expect("a star");
    for paper in [Paper::A4, Paper::Letter] {
        let (pages, said, _) = part_sheet(star, &SheetOptions { paper, ..SheetOptions::default() });
        assert!(said.is_empty() && !pages.is_empty(), "{said:?}");
        for page in &pages {
            let found = checker::read(&page_svg(page)).complaints();
            assert!(found.is_empty(), "{paper:?}: {found:?}");
        }
    }
}

/// The half-widths that a sheet states must keep every size within the general tolerance of its true value,
/// whatever fraction it is rounded to: read back from the printed words, not from what wrote them.
#[test]
fn general_tolerances_make_up_for_rounding() {
    const HALF: f64 = 0.25;
    let m = turnleaf_mechanism::solve(&turnleaf_mechanism::Sizes::example()).expect("solves");
    let number = |t: &str| t.replace('\u{2212}', "-").parse::<f64>().expect("a decimal");
    let fraction = |t: &str| -> f64 {
        let part = |w: &str| w.split_once('/').map_or_else(|| number(w), |(a, b)| number(a) / number(b));
        let size: f64 = t.trim_start_matches('\u{2212}').split_whitespace().map(part).sum();
        if t.starts_with('\u{2212}') { -size } else { size }
    };
    let (mut plain, mut own) = (0, 0);
    for denominator in Denominator::ALL {
        let units = PrintUnits::Inch(InchPrint { denominator, feet: false });
        let w = SheetOptions { units, ..SheetOptions::default() }.wording();
        let note = turnleaf_dimension::printed::general(HALF, &w);
        let note = number(note.trim_start_matches('±').trim_end_matches("\u{a0}in")) * 25.4;
        assert!(note > 0.07, "{denominator:?}: {note} mm is no tolerance to work to");
        for part in turnleaf_parts::assemble(&m).parts.iter().filter(|p| p.made) {
            let d = turnleaf_dimension::choose(part);
            let mut figures = turnleaf_dimension::printed::figures(&d, &w);
            for (k, figure) in figures.iter_mut().enumerate() {
                turnleaf_dimension::printed::with_general(figure, &d, k, HALF, &w);
                if figure.angle || d.dimensions[k].reference {
                    continue;
                }
                let off = fraction(&figure.main) * 25.4 - d.shown(k);
                let (low, high) = match figure.limits[0].trim() {
                    "" => (-note, note),
                    both if both.starts_with('±') => {
                        let h = number(both.trim_start_matches('±')) * 25.4;
                        (-h, h)
                    }
                    limits => panic!("{}: {limits} do not stand evenly about the figure", d.dimensions[k].id),
                };
                *(if figure.limits[0].is_empty() { &mut plain } else { &mut own }) += 1;
                assert!(
                    low < high && off + low > -HALF - 1e-4 && off + high < HALF + 1e-4,
                    "{}: {} is {off:.3} mm off",
                    d.dimensions[k].id,
                    figure.text()
                );
            }
        }
    }
    assert!(plain > 300 && own > 50, "{plain} by the note, {own} by their own");
}
