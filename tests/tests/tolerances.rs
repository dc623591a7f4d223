//! Printed tolerances: the worst case of every chain stays inside the clearance that the motion proof found, as read
//! from the printed text. Arithmetical (worst case) stacking is the textbook method for chains in which nothing
//! may be left to chance.

use turnleaf_dimension::printed::{figures, with_tolerance};
use turnleaf_dimension::{Wording, choose};
use turnleaf_mechanism::sizes::DriveKind;
use turnleaf_mechanism::{Sizes, solve};
use turnleaf_motion::tolerance::{chains, finer, half_width};
use turnleaf_units::{DecimalSign, Denominator, InchPrint, MmStep, PrintUnits};

/// A printed number: "12.5", "1 3/8", with a comma or a point; the sign of minus is U+2212.
fn number(text: &str) -> f64 {
    let plain = text.trim().replace('\u{2212}', "-").replace(',', ".").replace('+', "");
    plain
        .split_whitespace()
        .map(|p| match p.split_once('/') {
            Some((a, b)) => a.parse::<f64>().unwrap() / b.parse::<f64>().unwrap(),
            None => p.parse::<f64>().unwrap_or_else(|_| panic!("{text}")),
        })
        .sum()
}

/// Least and greatest size that a printed figure with its deviations allows, in its own unit.
fn limits(text: &str) -> Option<(f64, f64)> {
    if let Some((size, half)) = text.split_once(" ±") {
        return Some((number(size) - number(half), number(size) + number(half)));
    }
    let at = text.find(" +").or_else(|| text.find(" \u{2212}")).or_else(|| text.find(" 0/"))?;
    let (size, rest) = (number(&text[..at]), text[at..].trim());
    let (upper, lower) = rest.split_once('/')?;
    Some((size + number(lower), size + number(upper)))
}

#[test]
fn worst_cases_of_printed_tolerances_stay_inside_the_clearances() {
    let inch = InchPrint { denominator: Denominator::SixtyFour, feet: false };
    let base = Sizes::example();
    let tables = [
        base.clone(),
        Sizes { drive: DriveKind::Cam, ..base.clone() },
        Sizes { slide_skew: 6.0_f64.to_radians(), ..base.clone() },
    ];
    let (mut looked, mut toleranced) = (0, 0);
    for sizes in &tables {
        let Ok(m) = solve(sizes) else { continue };
        let a = turnleaf_parts::assemble(&m);
        let chains = chains(&a, &turnleaf_motion::prove(&a));
        for c in &chains {
            assert!(c.room > 0.0 && c.worst() <= c.room + 1e-9, "{c:?}");
        }
        for (units, sign, size) in [
            (PrintUnits::Mm(MmStep::TENTH), DecimalSign::Point, 1.0),
            (PrintUnits::Mm(MmStep::TENTH), DecimalSign::Comma, 1.0),
            (PrintUnits::Inch(inch), DecimalSign::Point, 25.4),
        ] {
            let w = Wording { units, sign };
            // What each printed length may be off, by identifier.
            let mut off: Vec<(String, f64)> = Vec::new();
            for part in a.parts.iter().filter(|p| p.made) {
                let d = choose(part);
                let mut figs = figures(&d, &w);
                for (k, dim) in d.dimensions.iter().enumerate() {
                    let Some(half) = half_width(&chains, &dim.id) else { continue };
                    with_tolerance(&mut figs[k], &d, k, half, &w);
                    if figs[k].angle || dim.reference {
                        continue;
                    }
                    let text = figs[k].text();
                    let (lo, hi) = limits(&text).unwrap_or_else(|| panic!("{}: {text}", dim.id));
                    let value = d.shown(k);
                    let most = (hi * size - value).max(value - lo * size);
                    assert!(lo < hi && most <= half + 1e-6, "{}: {text}, {value} within {half}", dim.id);
                    off.push((dim.id.clone(), most));
                    toleranced += 1;
                }
            }
            for c in &chains {
                let mut stack = c.setting;
                for l in c.links.iter().filter(|l| finer(l.half)) {
                    let mine = off.iter().filter(|o| {
                        o.0.strip_prefix(&format!("{}/dim/", l.part))
                            .is_some_and(|r| r.starts_with(&l.begins) && r.ends_with(l.ends))
                    });
                    stack += l.reaches * mine.map(|o| o.1).fold(0.0, f64::max);
                }
                assert!(stack <= c.room + 1e-6, "{}: {stack} of {}", c.id, c.room);
                looked += 1;
            }
        }
    }
    println!("{looked} chains, {toleranced} printed tolerances");
    assert!(looked > 60 && toleranced > 200, "{looked} {toleranced}");
}

/// The note of a sheet leaves drills and depths of screw holes to the maker: with every one of them a millimetre deeper or shallower and a drill of a quarter of a millimetre more or less, all checks hold.
#[test]
fn what_is_left_to_the_maker_decides_nothing() {
    use turnleaf_parts::{Depth, FeatureKind};
    let base = Sizes::example();
    let tables = [
        base.clone(),
        Sizes { drive: DriveKind::Cam, ..base.clone() },
        Sizes { slide_skew: 6.0_f64.to_radians(), ..base },
    ];
    let mut changed = 0;
    for sizes in &tables {
        let a = turnleaf_parts::assemble(&solve(sizes).unwrap());
        for sign in [-1.0, 1.0] {
            let mut off = a.clone();
            for part in &mut off.parts {
                let drawn = choose(part);
                let s = &drawn.sketch;
                let free = (0..drawn.dimensions.len()).filter(|k| drawn.is_free(*k));
                let touched = free.flat_map(|k| s.slopes(&drawn.dimensions[k].rule));
                let mut owners: Vec<&str> =
                    touched.map(|(i, _)| s.owners[s.unknowns[i].owner].id.as_str()).collect();
                for f in &mut part.features {
                    let FeatureKind::Hole { diameter, depth, .. } = &mut f.kind else { continue };
                    if !f.purpose.starts_with("screw") {
                        continue;
                    }
                    *diameter += 0.25 * sign;
                    changed += 1;
                    if let Depth::Blind(_, d) = depth {
                        *d += sign;
                    }
                    owners.retain(|id| *id != f.id);
                }
                assert!(
                    owners.is_empty(),
                    "{}: {owners:?} are left to the maker but were not tried",
                    part.id
                );
            }
            let failing: Vec<String> = turnleaf_motion::checks(&off, &turnleaf_motion::prove(&off))
                .into_iter()
                .filter(|c| !c.holds)
                .map(|c| c.text)
                .collect();
            assert!(failing.is_empty(), "{sign:+} mm: {failing:?}");
        }
    }
    assert!(changed > 20, "{changed}");
}
