//! The proof over every kind of part: complete, nothing twice, rebuilt from the printed text; and mutations.

mod samples;

use samples::{Sizes, all};
use turnleaf_dimension::compare::compare;
use turnleaf_dimension::proof::built_from;
use turnleaf_dimension::{Drawing, Wording, choose, printed, prove};
use turnleaf_units::{
    DecimalSign, Denominator, InchPrint, Length, LengthUnit, MmStep, PrintUnits, parse_length,
};

fn half_mm() -> MmStep {
    MmStep::new(Length::hundredths_mm(50)).expect("a step")
}

fn inch(denominator: Denominator) -> InchPrint {
    InchPrint { denominator, feet: false }
}

fn wordings() -> [Wording; 5] {
    [
        PrintUnits::Mm(MmStep::TENTH),
        PrintUnits::Mm(half_mm()),
        PrintUnits::Inch(inch(Denominator::SixtyFour)),
        PrintUnits::Inch(inch(Denominator::ThirtyTwo)),
        PrintUnits::Both(MmStep::TENTH, inch(Denominator::SixtyFour)),
    ]
    .map(|units| Wording { units, sign: DecimalSign::Point })
}

#[test]
fn every_part_is_complete_and_is_rebuilt_from_its_printed_figures() {
    let mut worst = 0.0f64;
    for n in [4, 5, 6, 7, 8, 11, 12] {
        for r in [350.0, 600.0, 777.7, 1000.0] {
            for part in all(Sizes::new(n, r)) {
                let d = choose(&part);
                for w in wordings() {
                    let (proof, said) = prove(&d, &w);
                    assert!(said.is_empty(), "n {n} r {r} {}: {:?}", part.id, said);
                    assert!(proof.holds(), "n {n} r {r}: {proof:?}");
                    for q in &proof.rebuilt {
                        worst = worst.max(q.difference.map_or(0.0, |d| d.worst) / (q.step / 2.0));
                    }
                }
            }
        }
    }
    // What the factor in the proof allows for is not far above what happens.
    assert!(worst > 1.0 && worst < 2.5, "worst in half steps: {worst}");
}

#[test]
fn figures_with_a_decimal_comma_are_read_back_too() {
    let w = Wording { units: PrintUnits::Mm(MmStep::TENTH), sign: DecimalSign::Comma };
    for part in all(Sizes::new(7, 777.7)) {
        let d = choose(&part);
        let commas = printed::figures(&d, &w).iter().filter(|f| f.main.contains(',')).count();
        assert!(commas > 0, "{}", part.id);
        assert!(prove(&d, &w).0.holds(), "{}", part.id);
    }
}

fn without(d: &Drawing, dim: usize) -> Drawing {
    let mut less = d.clone();
    // A reference figure fixes nothing: turning it into one is the same as leaving it out.
    less.dimensions[dim].reference = true;
    less
}

#[test]
fn leaving_out_any_figure_fails_and_names_a_feature_it_touches() {
    let w = wordings()[0];
    for n in [5, 6] {
        for part in all(Sizes::new(n, 600.0)) {
            let d = choose(&part);
            for i in (0..d.dimensions.len()).filter(|i| !d.dimensions[*i].reference) {
                let (proof, said) = prove(&without(&d, i), &w);
                let id = &d.dimensions[i].id;
                assert!(!proof.complete() && proof.rank == proof.unknowns - 1, "{id}");
                assert_eq!(said.len(), 1, "{id}: {said:?}");
                let touched: Vec<&str> = d
                    .sketch
                    .slopes(&d.dimensions[i].rule)
                    .iter()
                    .map(|q| d.sketch.owners[d.sketch.unknowns[q.0].owner].id.as_str())
                    .collect();
                assert!(proof.loose.iter().any(|l| touched.contains(&l.as_str())), "{id}: {:?}", proof.loose);
                let first = &proof.loose[0];
                let words = &d.sketch.owners.iter().find(|o| &o.id == first).expect("an owner").words;
                assert!(said[0].sentence.contains(words), "{}", said[0].sentence);
            }
        }
    }
}

#[test]
fn giving_any_figure_twice_fails_and_names_it() {
    let w = wordings()[0];
    for part in all(Sizes::new(6, 600.0)) {
        let d = choose(&part);
        for i in (0..d.dimensions.len()).filter(|i| !d.dimensions[*i].reference) {
            let mut more = d.clone();
            let mut copy = more.dimensions[i].clone();
            copy.id.push_str("/again");
            more.dimensions.push(copy);
            let (proof, said) = prove(&more, &w);
            assert_eq!(proof.repeated, [format!("{}/again", d.dimensions[i].id)]);
            assert!(said[0].sentence.contains(&d.dimensions[i].words), "{}", said[0].sentence);
        }
    }
}

#[test]
fn changing_any_figure_by_one_unit_moves_the_part() {
    let w = wordings()[1];
    for part in all(Sizes::new(6, 600.0)) {
        let d = choose(&part);
        let texts: Vec<(String, bool)> =
            printed::figures(&d, &w).into_iter().map(|f| (f.main, f.angle)).collect();
        let plain = built_from(&d, &texts, LengthUnit::Mm).expect("rebuilds");
        for i in (0..d.dimensions.len()).filter(|i| !d.dimensions[*i].reference) {
            let mut other = texts.clone();
            let (text, angle) = &texts[i];
            other[i].0 = if *angle {
                let plain = text.trim_end_matches('°');
                let decimals = plain.split_once('.').map_or(0, |q| q.1.len());
                let degrees: f64 = plain.parse().expect("degrees");
                format!("{:.decimals$}°", degrees + 0.1f64.powi(decimals as i32))
            } else {
                let sign = if text.starts_with('\u{2212}') { "\u{2212}" } else { "" };
                let mm = parse_length(text.trim_start_matches('\u{2212}'), LengthUnit::Mm).expect("mm").mm();
                format!("{sign}{}", mm + 0.5)
            };
            let moved = built_from(&d, &other, LengthUnit::Mm).expect("still a shape");
            let far = compare(&d.sketch, &plain, &moved).worst;
            // The flattest arc here (the leaf's end) moves by 0.005 mm; solver noise is a thousand times less.
            assert!(far > 0.002, "{}: {far}", d.dimensions[i].id);
        }
    }
}

/// Stretches along one datum axis that a drawing prints as figures.
fn stretches(d: &Drawing, texts: &[(String, bool)]) -> Vec<(u8, f64, f64, f64)> {
    use turnleaf_dimension::rule::Rule;
    let s = &d.sketch;
    let mut out = Vec::new();
    for (dim, (text, angle)) in d.dimensions.iter().zip(texts) {
        if dim.reference || *angle {
            continue;
        }
        let (axis, a, b) = match dim.rule {
            Rule::X(p) => (0, 0.0, s.at(p).x),
            Rule::Y(p) => (1, 0.0, s.at(p).y),
            Rule::AlongX(p, q) => (0, s.at(p).x, s.at(q).x),
            Rule::AlongY(p, q) => (1, s.at(p).y, s.at(q).y),
            Rule::Less(p, q) => (2, s.value(p), s.value(q)),
            Rule::Var(q) if Some(q) == s.thickness => (2, 0.0, s.value(q)),
            _ => continue,
        };
        let plain = text.trim_start_matches('\u{2212}');
        let printed = parse_length(plain, LengthUnit::Mm).expect("a length").mm();
        out.push((axis, a.min(b), a.max(b), printed));
    }
    out
}

#[test]
fn chains_close_because_positions_are_printed_as_ordinates() {
    let mut chains = 0;
    for r in [350.0, 611.3, 777.7, 1000.0] {
        for part in all(Sizes::new(7, r)) {
            let d = choose(&part);
            for w in &wordings()[..2] {
                let texts: Vec<(String, bool)> =
                    printed::figures(&d, w).into_iter().map(|f| (f.main, f.angle)).collect();
                let all = stretches(&d, &texts);
                for a in &all {
                    for b in all.iter().filter(|b| b.0 == a.0 && (b.1 - a.2).abs() < 1e-6) {
                        for c in all.iter().filter(|c| c.0 == a.0) {
                            if (c.1 - a.1).abs() < 1e-6 && (c.2 - b.2).abs() < 1e-6 {
                                chains += 1;
                                assert!((a.3 + b.3 - c.3).abs() < 1e-9, "{}: {a:?} {b:?} {c:?}", part.id);
                            }
                        }
                    }
                }
            }
        }
    }
    // Choosing from one datum leaves no part of a chain beside its whole; were one to appear, it must close.
    assert_eq!(chains, 0, "chains on the drawings");
}

#[test]
fn ordinates_rounded_alone_make_every_difference_close() {
    let w = wordings()[1];
    for k in 0..400 {
        let (a, b) = (f64::from(k) * 0.37, f64::from(k) * 0.37 + 123.21);
        let print = |x: f64| {
            let exact = Length::from_mm_f64(x).expect("finite");
            w.units.print(exact, w.sign).main.rounded.mm()
        };
        let difference = print(b) - print(a);
        let steps = (b - a) / 0.5;
        let got = difference / 0.5;
        assert!((got - steps.floor()).abs() < 1e-9 || (got - steps.ceil()).abs() < 1e-9, "{a} {b}");
    }
}

#[test]
fn the_same_part_gives_the_same_drawing_and_a_small_change_keeps_its_figures() {
    for n in [4, 6, 9] {
        for (a, b) in all(Sizes::new(n, 600.0)).iter().zip(&all(Sizes::new(n, 601.3))) {
            let (d, again, moved) = (choose(a), choose(a), choose(b));
            assert_eq!(d, again);
            let ids = |d: &Drawing| d.dimensions.iter().map(|q| q.id.clone()).collect::<Vec<_>>();
            assert_eq!(ids(&d), ids(&moved), "{}", a.id);
            let mut unique = ids(&d);
            unique.sort();
            unique.dedup();
            assert_eq!(unique.len(), d.dimensions.len(), "{}: two figures share a name", a.id);
        }
    }
}
