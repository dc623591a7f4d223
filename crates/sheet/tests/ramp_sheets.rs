//! The ramps' sheets: the slope line is proved with the rest, and it lifts a roller by the lift's own law.

// The platform's own functions are wanted here: a check shares no code with what it checks.
#![allow(clippy::disallowed_methods)]

use turnleaf_dimension::{Wording, choose, prove};
use turnleaf_mechanism::{Mechanism, Opening, Sizes, solve};
use turnleaf_parts::{FeatureKind, assemble};
use turnleaf_sheet::{SheetOptions, part_sheet};
use turnleaf_svg::page_svg;
use turnleaf_units::{DecimalSign, MmStep, PrintUnits};

const MM: Wording = Wording { units: PrintUnits::Mm(MmStep::TENTH), sign: DecimalSign::Point };

fn tables() -> Vec<Mechanism> {
    [(4, 900.0), (6, 1200.0), (8, 1500.0), (10, 1800.0)]
        .into_iter()
        .filter_map(|(sectors, diameter)| {
            let mut s = Sizes::example();
            s.sectors = sectors;
            s.closed_diameter = diameter;
            s.opening = Opening::Diameter(diameter * 1.32);
            s.leaf_tip_half_angle = s.half_sector().max(core::f64::consts::FRAC_PI_4);
            let k = (diameter / 1200.0).clamp(0.6, 1.0) * if sectors > 8 { 0.7 } else { 1.0 };
            (s.arm_width, s.tongue_depth, s.arm_clearance) = (20.0 * k, 6.0 * k, 3.0);
            solve(&s).ok()
        })
        .collect()
}

/// Height of the drawn line at a distance from the foot, by this file's own reckoning.
fn height(x: f64, run: f64, rise: f64, foot: f64, head: f64) -> f64 {
    // The straight touches both circles: centres (0, foot) and (run, rise - head), one above it, one below.
    let (dx, dy) = (run, rise - head - foot);
    let apart = dx.hypot(dy);
    let slope = dy.atan2(dx) + ((foot + head) / apart).asin();
    if x <= foot * slope.sin() {
        foot - (foot * foot - x * x).sqrt()
    } else if x >= run - head * slope.sin() {
        rise - head + (head * head - (run - x) * (run - x)).sqrt()
    } else {
        let (a, z) = (foot * slope.sin(), foot * (1.0 - slope.cos()));
        z + (x - a) * slope.tan()
    }
}

#[test]
fn a_wheel_on_the_drawn_line_rises_by_the_lifts_law() {
    let all = tables();
    assert!(all.len() >= 3);
    let mut worst = 0.0f64;
    for m in &all {
        for part in assemble(m).parts.iter().filter(|p| p.id.starts_with("ramp-")) {
            let d = choose(part);
            let view = d.ramp.expect("a ramp has its developed view");
            let run = d.value(view.run);
            let FeatureKind::Ramp { foot, head } = part.features[0].kind else { panic!("a slope") };
            let wheel = m.members.wheel;
            for k in 0..=60 {
                // The wheel's axle at this place rests as low as the line lets it.
                let x = run * f64::from(k) / 60.0;
                let mut axle = f64::NEG_INFINITY;
                for i in -400..=400 {
                    let t = wheel * f64::from(i) / 400.0;
                    let under = x + t;
                    let z = if under < 0.0 {
                        0.0
                    } else if under > run {
                        m.stack.step
                    } else {
                        height(under, run, m.stack.step, foot, head)
                    };
                    axle = axle.max(z + (wheel * wheel - t * t).sqrt() - wheel);
                }
                let law = m.plate_rise(m.lift_begins() + m.sizes.ramp_sweep * x / run);
                worst = worst.max((axle - law).abs());
            }
        }
    }
    println!("a roller's axle is up to {worst:.3} mm off the lift's law");
    assert!(worst < 0.3, "{worst}");
}

#[test]
fn the_rise_belongs_to_the_proof_and_stands_on_the_sheet() {
    for m in tables() {
        for part in assemble(&m).parts.iter().filter(|p| p.id.starts_with("ramp-")) {
            let d = choose(part);
            let (proof, said) = prove(&d, &MM);
            assert!(proof.holds() && said.is_empty(), "{said:?}");
            let view = d.ramp.expect("a developed view");
            for (dim, words) in [(view.foot, "hollow"), (view.head, "rounding"), (d.thickness, "thickness")] {
                let mut less = d.clone();
                less.dimensions[dim].reference = true;
                let (proof, said) = prove(&less, &MM);
                assert!(!proof.complete() && said[0].sentence.contains(words), "{}", said[0].sentence);
            }
            // Without the sentence on the slope the heights of foot and head are loose.
            let mut less = d.clone();
            less.conventions.retain(|c| !c.id.starts_with("rise/"));
            let (proof, _) = prove(&less, &MM);
            assert_eq!(
                (proof.rank, proof.loose.as_slice()),
                (proof.unknowns - 2, &["slope".to_string()][..])
            );
            let (pages, _, _) = part_sheet(part, &SheetOptions::default());
            let svg: String = pages.iter().map(page_svg).collect();
            for name in ["foot", "head", "run", "slope"] {
                assert_eq!(
                    svg.matches(&format!("data-id=\"{}/dim/slope/{name}\"", part.id)).count(),
                    1,
                    "{name}"
                );
            }
        }
    }
}
