//! The proof over every part of solved tables, and the mutation of every figure on them.

use turnleaf_dimension::{Wording, choose, prove};
use turnleaf_mechanism::{Opening, Sizes, solve};
use turnleaf_parts::Part;
use turnleaf_units::{DecimalSign, Denominator, InchPrint, MmStep, PrintUnits};

/// Parts of a table; the skew is a share of half a panel's angle.
fn parts(sectors: usize, diameter: f64, skew: f64) -> Vec<Part> {
    let mut s = Sizes::example();
    s.sectors = sectors;
    s.closed_diameter = diameter;
    s.opening = Opening::Diameter(diameter * 1.3);
    s.leaf_tip_half_angle = s.half_sector().max(core::f64::consts::FRAC_PI_4);
    s.slide_skew = skew * s.half_sector();
    let k = (diameter / 1200.0).clamp(0.6, 1.0);
    (s.arm_width, s.tongue_depth, s.arm_clearance) = (20.0 * k, 6.0 * k, 3.0);
    let m = solve(&s).expect("these sizes solve");
    turnleaf_parts::assemble(&m).parts.into_iter().filter(|p| p.made).collect()
}

#[test]
fn leaving_out_any_figure_of_a_solved_table_fails_and_names_what_is_loose() {
    let units =
        PrintUnits::Both(MmStep::TENTH, InchPrint { denominator: Denominator::SixtyFour, feet: false });
    let w = Wording { units, sign: DecimalSign::Point };
    let mut figures = 0;
    let tables = [parts(6, 1200.0, 0.0), parts(5, 1000.0, 0.0), parts(8, 1500.0, 0.0), parts(6, 1200.0, 0.4)];
    for part in tables.iter().flatten() {
        let d = choose(part);
        let (proof, said) = prove(&d, &w);
        assert!(proof.holds() && said.is_empty(), "{proof:?} {said:?}");
        for i in (0..d.dimensions.len()).filter(|i| !d.dimensions[*i].reference) {
            figures += 1;
            let mut less = d.clone();
            less.dimensions[i].reference = true;
            let (proof, said) = prove(&less, &w);
            let touched: Vec<&str> = d
                .sketch
                .slopes(&d.dimensions[i].rule)
                .iter()
                .map(|q| d.sketch.owners[d.sketch.unknowns[q.0].owner].id.as_str())
                .collect();
            let id = &d.dimensions[i].id;
            assert!(proof.loose.iter().any(|l| touched.contains(&l.as_str())), "{id}: {:?}", proof.loose);
            assert!(said[0].sentence.contains("does not fix the "), "{id}: {}", said[0].sentence);
        }
    }
    assert!(figures > 300, "only {figures} figures were left out");
}
