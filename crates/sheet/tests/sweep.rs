//! Many random tables, every part, both units, both small papers: the whole promise at once.
//!
//! Always true: the tables are drawn from a fixed sequence, so every run sees the same ones. The number is
//! small by default to keep the suite quick; `TURNLEAF_SWEEP=200` runs the long form.

// The other test file uses the rest of it.
#[allow(dead_code)]
mod checker;

use turnleaf_page::Paper;
use turnleaf_sheet::{SheetOptions, part_sheet};
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
                    let o = SheetOptions { paper, units, ..SheetOptions::default() };
                    let (pages, said, proof) = part_sheet(part, &o);
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
