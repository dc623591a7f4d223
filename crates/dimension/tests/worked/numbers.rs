//! Rules, slopes, rebuilding, comparison and tolerances on points of right triangles with whole sides.

use crate::*;
use core::f64::consts::FRAC_PI_2;
use turnleaf_dimension::compare::compare;
use turnleaf_dimension::drawing::Drawing;
use turnleaf_dimension::names::Name;
use turnleaf_dimension::printed::{Figure, figures, general, with_tolerance};
use turnleaf_dimension::rank::Echelon;
use turnleaf_dimension::rebuild::{Statement, rebuild};
use turnleaf_dimension::rule::{CircleId, PointId, Rule, VarId};
use turnleaf_dimension::shorten::shorten;
use turnleaf_dimension::sketch::{Circle, Point, Sketch, Unknown};
use turnleaf_dimension::tongue::Tongue;
use turnleaf_geom::trig;
use turnleaf_parts::Face;
use turnleaf_units::{Denominator, InchPrint};

/// Points, then single values, then a circle about the first point whose radius is the first value.
fn sketch(points: &[(f64, f64)], values: &[f64]) -> Sketch {
    let mut s = Sketch::default();
    let add = |s: &mut Sketch, value: f64| s.unknowns.push(Unknown { value, owner: 0, what: "" });
    s.owners.push(Name { id: "all".into(), words: "all".into() });
    for (i, &(x, y)) in points.iter().enumerate() {
        s.points.push(Point { id: i.to_string(), words: String::new(), x: VarId(2 * i) });
        add(&mut s, x);
        add(&mut s, y);
    }
    for &value in values {
        add(&mut s, value);
    }
    let radius = VarId(2 * points.len());
    s.circles.push(Circle { id: "c".into(), words: String::new(), centre: PointId(0), radius });
    s
}

/// The steepest slope of a wedge by its own condition: run·sin − rise·cos = (both radii)·(1 − cos).
fn slope(rise: f64, run: f64, both: f64) -> f64 {
    let (mut low, mut high) = (0.0, 1.0);
    for _ in 0..60 {
        let mid = (low + high) / 2.0;
        let (s, c) = trig::sin_cos(mid);
        if run * s - rise * c < both * (1.0 - c) { low = mid } else { high = mid }
    }
    low
}

/// Every rule with what it measures between O (0, 0), A (30, 40), B (30, −40), C (−40, 30), D (60, 80) and the values
/// radius 50, 3, 7, 10, 5, and a wedge of rise 20, run 88 and radii 40 and 30.
fn rules() -> (Sketch, Vec<(Rule, f64)>) {
    let s = sketch(
        &[(0.0, 0.0), (30.0, 40.0), (30.0, -40.0), (-40.0, 30.0), (60.0, 80.0)],
        &[50.0, 3.0, 7.0, 10.0, 5.0, 20.0, 88.0, 40.0, 30.0],
    );
    let [o, a, b, c, d] = [0, 1, 2, 3, 4].map(PointId);
    let q = |k: usize| VarId(10 + k);
    let quarter = 50.0 * FRAC_PI_2;
    let all = vec![
        (Rule::OffCircle(d, CircleId(0)), 50.0),
        (Rule::Distance(a, b), 80.0),
        (Rule::Longer(o, a, o, d), 50.0),
        (Rule::Heading(a, d), trig::atan2(4.0, 3.0)),
        (Rule::AlongX(a, d), 30.0),
        (Rule::AlongY(a, c), -10.0),
        (Rule::X(a), 30.0),
        (Rule::Y(b), -40.0),
        (Rule::FromOrigin(d), 100.0),
        (Rule::AsFar(a, d), 50.0),
        (Rule::Bearing(c), trig::atan2(3.0, -4.0)),
        (Rule::Turn(a, c), FRAC_PI_2),
        (Rule::Turn(c, a), -FRAC_PI_2),
        (Rule::Var(q(1)), 3.0),
        (Rule::Twice(q(2)), 14.0),
        (Rule::Less(q(1), q(3)), 7.0),
        (Rule::VarLessDistance(q(3), a, d), -40.0),
        (Rule::VarLessArc(q(3), a, c, CircleId(0)), 10.0 - quarter),
        (Rule::Centred(q(1), q(2), q(3)), 0.0),
        (Rule::Mean(q(4), q(1), q(2)), 0.0),
        (Rule::Mean(q(1), q(4), q(2)), 6.0),
        (Rule::RampSlope(q(5), q(6), q(7), q(8)), slope(20.0, 88.0, 70.0)),
        (Rule::MirrorX(a, b), 0.0),
        (Rule::MirrorY(a, b), 0.0),
        (Rule::MirrorX(b, d), 30.0),
        (Rule::MirrorY(b, d), 40.0),
        (Rule::TurnedX(a, c, FRAC_PI_2), 0.0),
        (Rule::TurnedY(a, c, FRAC_PI_2), 0.0),
        (Rule::TurnedX(a, d, FRAC_PI_2), 100.0),
        (Rule::TurnedY(a, d, FRAC_PI_2), 50.0),
        (Rule::Corner(o, a, c), FRAC_PI_2),
        (Rule::Corner(o, c, a), -FRAC_PI_2),
    ];
    (s, all)
}

#[test]
fn rules_measure_what_the_triangles_say() {
    let (s, all) = rules();
    for (rule, due) in all {
        assert!((s.measure(&rule) - due).abs() < 1e-9, "{rule:?}: {} by hand {due}", s.measure(&rule));
    }
    let [o, a, c, d] = [0, 1, 3, 4].map(PointId);
    // Half-way: 2·40 is 0 + 80, and (30 + …) likewise.
    for rule in
        [Rule::MidX(a, o, d), Rule::Halfway(a, o, d), Rule::Parallel(o, a, a, d), Rule::Square(o, a, o, c)]
    {
        assert!(s.measure(&rule).abs() < 1e-12, "{rule:?}");
    }
    for (rule, off) in [
        (Rule::MidX(o, a, d), 90.0),
        (Rule::Halfway(o, a, d), 120.0),
        (Rule::Parallel(o, a, o, c), 1.0),
        (Rule::Square(o, a, o, d), 1.0),
    ] {
        assert!((s.measure(&rule).abs() - off).abs() < 1e-12, "{rule:?}");
    }
}

/// Slopes are the differences of the measured values.
#[test]
fn slopes_are_differences() {
    let (s, all) = rules();
    let [o, a, c, d] = [0, 1, 3, 4].map(PointId);
    let more =
        [Rule::MidX(a, o, c), Rule::Halfway(a, o, c), Rule::Parallel(o, a, c, d), Rule::Square(o, a, c, d)];
    for rule in all.into_iter().map(|r| r.0).chain(more) {
        let slopes = s.slopes(&rule);
        for u in 0..s.unknowns.len() {
            let at = |x: f64| {
                let mut moved = s.clone();
                moved.unknowns[u].value += x;
                moved.measure(&rule)
            };
            let due = (at(1e-4) - at(-1e-4)) / 2e-4;
            let ours = slopes.iter().find(|q| q.0 == u).map_or(0.0, |q| q.1);
            assert!((ours - due).abs() < 1e-6 * (1.0 + due.abs()), "{rule:?} by unknown {u}: {ours}, {due}");
        }
    }
}

/// Each rule states one number; with all other unknowns given, the one it was left to is found again.
#[test]
fn each_rule_builds_what_it_measures() {
    let (s, all) = rules();
    for (rule, value) in all {
        let mut built = 0;
        for (u, _) in s.slopes(&rule) {
            let given = |k: usize| match k {
                0..10 if k.is_multiple_of(2) => Rule::X(PointId(k / 2)),
                0..10 => Rule::Y(PointId(k / 2)),
                _ => Rule::Var(VarId(k)),
            };
            let others = (0..s.unknowns.len()).filter(|k| *k != u);
            let mut all: Vec<Statement> =
                others.map(|k| Statement { rule: given(k), value: s.unknowns[k].value }).collect();
            all.push(Statement { rule, value });
            // A length alone does not say on which side of a point it lies: that is told, and is no rule's fault.
            let Ok(x) = rebuild(&s, all) else { continue };
            built += 1;
            assert!((x[u] - s.unknowns[u].value).abs() < 1e-4, "{rule:?}: unknown {u} came out as {}", x[u]);
        }
        assert!(built > 0, "{rule:?} builds nothing");
    }
}

fn plate() -> Part {
    part(
        20.0,
        Ring::rect(v(0.0, -50.0), v(300.0, 50.0)),
        vec![
            hole("screw/1", 30.0, -30.0, 8.0, Depth::Blind(Face::Top, 12.0)),
            slot("slot", v(60.0, -20.0), v(90.0, 20.0), 6.0),
            pocket("block", Ring::rect(v(200.0, -30.0), v(240.0, -14.0)), Depth::Blind(Face::Bottom, 5.0)),
            feature(
                "groove",
                FeatureKind::EdgeGroove { edge: 0, from: 40.0, to: 300.0, depth: 7.0, z: (3.0, 9.0) },
            ),
        ],
    )
}

/// The unknowns of an owner that are called so, in order.
fn unknowns(d: &Drawing, owner: &str, what: &str) -> Vec<usize> {
    let s = &d.sketch;
    let mine = |u: &Unknown| s.owners[u.owner].id == owner && u.what == what;
    (0..s.unknowns.len()).filter(|&k| mine(&s.unknowns[k])).collect()
}

/// What the part is off by when unknowns are off by so much.
fn off(d: &Drawing, changes: &[(usize, f64)]) -> (f64, f64) {
    let model: Vec<f64> = d.sketch.unknowns.iter().map(|u| u.value).collect();
    let mut other = model.clone();
    for &(u, by) in changes {
        other[u] += by;
    }
    let (one, back) = (compare(&d.sketch, &model, &other), compare(&d.sketch, &other, &model));
    assert!((one.worst - back.worst).abs() < 1e-9, "not the same both ways");
    (one.worst, one.area)
}

#[test]
fn how_far_a_part_is_off() {
    let d = choose(&plate());
    let is = |changes: &[(usize, f64)], worst: f64, area: f64| {
        let (w, a) = off(&d, changes);
        assert!(
            (w - worst).abs() < 1e-9 && (a - area).abs() < 1e-6,
            "{changes:?}: {w} and {a}, by hand {worst}"
        );
    };
    let one = |owner: &str, what: &str, k: usize| unknowns(&d, owner, what)[k];
    is(&[], 0.0, 0.0);
    is(&[(one("screw/1", "radius", 0), 1.0)], 1.0, 0.0);
    let centre = unknowns(&d, "screw/1", "position");
    is(&[(centre[0], 3.0), (centre[1], 4.0)], 5.0, 0.0);
    // A circle moved by 5 and larger by 1 is 6 off on its far side.
    is(&[(centre[0], 3.0), (centre[1], 4.0), (one("screw/1", "radius", 0), -1.0)], 6.0, 0.0);
    is(&[(one("screw/1", "depth", 0), 2.0)], 2.0, 0.0);
    is(&[(one("slot", "width", 0), 1.0)], 0.5, 0.0);
    let ends = unknowns(&d, "slot", "position");
    is(&[(ends[2], 3.0), (ends[3], -4.0), (one("slot", "width", 0), -1.0)], 5.5, 0.0);
    is(&[(one("groove", "depth", 0), -2.0)], 2.0, 0.0);
    for what in ["beginning", "end"] {
        is(&[(one("groove", what, 0), 3.0)], 3.0, 0.0);
    }
    is(&[(one("groove", "height", 1), 1.5)], 1.5, 0.0);
    is(&[(one("thickness", "", 0), 0.7)], 0.7, 0.0);
    // The right end moved out by 2: 2 · 100 more.
    let right: Vec<(usize, f64)> = (0..d.sketch.points.len())
        .filter(|&p| (d.sketch.at(PointId(p)).x - 300.0).abs() < 1e-9)
        .map(|p| (d.sketch.points[p].x.0, 2.0))
        .collect();
    is(&right, 2.0, 200.0);
    let way = vec![arc_from(50.0, 0.0, 0.0), arc_from(50.0, 80.0, 0.0)];
    let track = FeatureKind::CurvedSlot { way, width: 12.0, depth: Depth::Through };
    let d = choose(&part(18.0, Ring::circle(Vec2::ZERO, 200.0), vec![feature("track", track)]));
    assert!((off(&d, &[(unknowns(&d, "track", "width")[0], 1.0)]).0 - 0.5).abs() < 1e-9);
    let stations = unknowns(&d, "track", "position");
    let moved = [(stations[0], 2.0), (stations[2], 2.0), (unknowns(&d, "track", "width")[0], 1.0)];
    assert!((off(&d, &moved).0 - 2.5).abs() < 1e-9);
}

/// Holes of screws leave the maker free in drill and depth, and in nothing else.
#[test]
fn what_a_screw_leaves_free() {
    let d = choose(&plate());
    let free = |id: &str| {
        let k = d.dimensions.iter().position(|q| q.id == format!("p/dim/{id}")).expect(id);
        d.is_free(k)
    };
    assert!(free("screw/1/diameter") && free("screw/1/depth"));
    for id in ["screw/1/x", "screw/1/y", "slot/width", "block/depth", "thickness"] {
        assert!(!free(id), "{id}");
    }
}

/// A rail of 600 with holes near its ends, at half size: 18 mm stay beside hole and end, 6 between the break lines.
/// The stretch from 35 + 18 to 565 − 18 is left out but for those 6.
#[test]
fn a_long_rail_broken_in_the_middle() {
    let rail = |x: f64| {
        let ends = vec![hole("a", 30.0, 0.0, 10.0, Depth::Through), hole("b", x, 0.0, 10.0, Depth::Through)];
        choose(&part(20.0, Ring::rect(v(0.0, -20.0), v(600.0, 20.0)), ends))
    };
    let d = rail(570.0);
    let short = shorten(&d, 0.5).expect("long enough");
    assert_eq!(short.breaks, [(53.0, 59.0)]);
    for (x, out) in [(52.9, false), (53.0, true), (56.0, true), (59.0, true), (59.1, false)] {
        assert_eq!(short.is_left_out(x), out, "{x}");
    }
    let xs: Vec<f64> = (0..short.sketch.points.len()).map(|p| short.sketch.at(PointId(p)).x).collect();
    for due in [0.0, 30.0, 82.0, 112.0] {
        assert!(xs.iter().any(|x| (x - due).abs() < 1e-9), "nothing at {due}: {xs:?}");
    }
    assert!(xs.iter().all(|x| *x <= 112.0 + 1e-9));
    // The figures stay those of the whole rail.
    assert!(!d.is_left_out(56.0));
    // A hole in the middle keeps its 18 mm, so that two stretches are left out.
    let two = shorten(&rail(300.0), 0.5).expect("long enough");
    assert_eq!(two.breaks, [(53.0, 59.0), (59.0 + 46.0, 59.0 + 52.0)]);
    // What saves less than 15 mm on paper (30 here) is drawn whole: 35 + 18 to 107 − 18, less 6, is just enough.
    let small = |length: f64| {
        let hole = vec![hole("a", 30.0, 0.0, 10.0, Depth::Through)];
        shorten(&choose(&part(20.0, Ring::rect(v(0.0, -20.0), v(length, 20.0)), hole)), 0.5)
    };
    assert!(small(106.9).is_none() && small(107.1).is_some());
    // A groove along the broken edge is shortened with it, one along the end is not.
    let grooved = |edge: usize, from: f64, to: f64| {
        let cut = FeatureKind::EdgeGroove { edge, from, to, depth: 6.0, z: (7.0, 13.0) };
        choose(&part(20.0, Ring::rect(v(0.0, -20.0), v(600.0, 20.0)), vec![feature("groove", cut)]))
    };
    let d = shorten(&grooved(0, 20.0, 580.0), 0.5).expect("long enough");
    // Kept: 0 to 20 and 580 to 600 with 18 each, so 38 to 562 shrinks to 6.
    let is = |what: &str| d.sketch.unknowns[unknowns(&d, "groove", what)[0]].value;
    assert!(
        (is("beginning") - 20.0).abs() < 1e-9 && (is("end") - 62.0).abs() < 1e-9,
        "{} {}",
        is("beginning"),
        is("end")
    );
    let across = grooved(1, 5.0, 35.0);
    let d = shorten(&across, 0.5).expect("long enough");
    // The end's groove reaches 6 into the rail.
    assert_eq!(d.breaks, [(18.0, 24.0)]);
    let xs: Vec<f64> = (0..d.sketch.points.len()).map(|p| d.sketch.at(PointId(p)).x).collect();
    assert!(xs.iter().any(|x| (x - (24.0 + 18.0 + 6.0)).abs() < 1e-9), "{xs:?}");
}

/// Limits are written inwards about the printed figure: hundredths of a millimetre, thousandths of an inch.
#[test]
fn tolerances_by_hand() {
    let d = choose(&plate());
    let width = d.dimensions.iter().position(|q| q.id == "p/dim/slot/width").expect("a width");
    let inch = InchPrint { denominator: Denominator::SixtyFour, feet: false };
    let w = |units| Wording { units, sign: DecimalSign::Point };
    let text = |half: f64, units| {
        let mut f: Figure = figures(&d, &w(units))[width].clone();
        with_tolerance(&mut f, &d, width, half, &w(units));
        f.text()
    };
    let tenth = PrintUnits::Mm(MmStep::TENTH);
    assert_eq!(text(0.125, tenth), "6 ±0.12");
    assert_eq!(text(0.009, tenth), "6");
    // 6 mm is 0.23622 in; 15/64 is 0.23438 and lies 0.0472 mm below it, so the figure is printed in thousandths,
    // 0.0056 mm from the truth: ±0.12 allows four of them (0.1016).
    assert_eq!(text(0.12, PrintUnits::Inch(inch)), "0.236 ±0.004");
    assert_eq!(text(0.12, PrintUnits::Both(MmStep::TENTH, inch)), "6 ±0.12 [0.236 ±0.004]");
    // The note keeps what rounding by half a tenth, or half of 1/64 in (0.198 mm), leaves: 0.45, and 0.302 mm.
    assert_eq!(general(0.5, &w(tenth)), "±0.45\u{a0}mm");
    assert_eq!(general(0.5, &w(PrintUnits::Inch(inch))), "±0.011\u{a0}in");
    assert_eq!(general(0.5, &w(PrintUnits::Both(MmStep::TENTH, inch))), "±0.45\u{a0}mm [±0.011\u{a0}in]");
}

/// A place takes as little as it can, one letter if need be; a phrase stands inside a phrase.
#[test]
fn patterns_of_another_language() {
    let pairs = [("{a} of {b}", "{b}: {a}"), ("x", "ix"), ("deep", "tief")];
    let t = Tongue::new(DecimalSign::Comma, pairs.map(|(a, b)| (a.to_string(), b.to_string())));
    assert_eq!(t.say("x of 2.5"), "2,5: ix");
    assert_eq!(t.say("a of x of deep"), "tief: ix: a");
    assert_eq!(t.say("  deep "), "  tief ");
    assert_eq!(t.say("a of b of c of d of e"), "e: d: c: b: a");
    assert_eq!(t.known("of x"), None);
    assert!(!t.is_english() && Tongue::default().is_english());
}

/// How much of a row is new does not depend on the unit it is written in: it is a share of the row.
#[test]
fn what_is_new_is_a_share() {
    let mut e = Echelon::new(3);
    for size in [1e-6, 1.0, 1e6] {
        assert!((e.news(&[(0, 0.6 * size), (1, 0.8 * size)]) - 0.8).abs() < 1e-12);
    }
    assert_eq!(e.news(&[(0, 0.0)]), 0.0);
    assert!(e.add(&[(0, 0.6e6), (1, 0.8e6)]));
    assert!(!e.add(&[(0, 3.0), (1, 4.0)]), "the same again");
    // Something new by a ten-millionth part is noise, by a hundred-thousandth it is not.
    assert!(!e.add(&[(0, 3e6), (1, 4e6), (2, 0.05)]) && e.add(&[(0, 3e6), (1, 4e6), (2, 50.0)]));
    assert_eq!((e.rank(), e.loose().len()), (2, 1));
}
