//! What becomes of a cut board, by plain arithmetic on boards anyone can check with a rule.

use turnleaf_geom::vec2::v;
use turnleaf_geom::{Ring, Vec2};
use turnleaf_parts::layers::layers;
use turnleaf_parts::{Depth, Face, Feature, FeatureKind, Part};
use turnleaf_revise::{Reason, Verdict, WorkKind, judge, verdicts};

/// Printed to a tenth of a millimetre.
const STEP: f64 = 0.1;

fn hole(id: &str, x: f64, y: f64, diameter: f64, depth: Depth) -> Feature {
    let kind = FeatureKind::Hole { centre: v(x, y), diameter, depth };
    Feature { id: id.into(), purpose: "screw".into(), kind }
}

fn board(min: Vec2, max: Vec2, thickness: f64, features: Vec<Feature>) -> Part {
    let outline = Ring::rect(min, max);
    Part {
        id: "board".into(),
        name: "board".into(),
        count: 2,
        material: "ply".into(),
        made: true,
        thickness,
        layers: layers(thickness, &outline, &features),
        outline,
        features,
        notes: Vec::new(),
        side: None,
    }
}

fn usual(features: Vec<Feature>) -> Part {
    board(v(0.0, 0.0), v(300.0, 100.0), 18.0, features)
}

fn one() -> Feature {
    hole("a", 50.0, 50.0, 8.0, Depth::Through)
}

#[test]
fn the_same_board_serves() {
    let v = judge(&usual(vec![one()]), &usual(vec![one()]), STEP);
    assert_eq!(v.verdict, Verdict::Good);
    assert!(v.missing < 1e-6 && v.surplus < 1e-6, "{v:?}");
}

#[test]
fn what_does_not_show_in_print_is_no_change() {
    let v = judge(&usual(vec![one()]), &usual(vec![hole("a", 50.06, 50.0, 8.0, Depth::Through)]), STEP);
    assert_eq!(v.verdict, Verdict::Good);
    assert!((v.missing - 0.06).abs() < 0.003, "{}", v.missing);
}

#[test]
fn a_new_hole_is_drilled() {
    let new = usual(vec![one(), hole("b", 200.0, 30.0, 6.0, Depth::Through)]);
    let Verdict::Work(work) = judge(&usual(vec![one()]), &new, STEP).verdict else { panic!("work") };
    assert_eq!(work.len(), 1);
    assert_eq!((work[0].kind, work[0].feature.as_deref()), (WorkKind::Open, Some("b")));
    assert_eq!(work[0].z, (0.0, 18.0));
}

#[test]
fn a_wider_hole_is_widened_by_half_the_difference() {
    let new = usual(vec![hole("a", 50.0, 50.0, 10.0, Depth::Through)]);
    let Verdict::Work(work) = judge(&usual(vec![one()]), &new, STEP).verdict else { panic!("work") };
    assert_eq!(work[0].kind, WorkKind::Widen);
    assert!((work[0].by - 1.0).abs() < 0.005, "{}", work[0].by);
}

#[test]
fn a_deeper_hole_is_deepened() {
    let blind = |d| vec![hole("a", 50.0, 50.0, 8.0, Depth::Blind(Face::Top, d))];
    let Verdict::Work(work) = judge(&usual(blind(6.0)), &usual(blind(9.0)), STEP).verdict else {
        panic!("work")
    };
    assert_eq!((work.len(), work[0].kind), (1, WorkKind::Deepen));
    assert!((work[0].by - 3.0).abs() < 1e-9 && work[0].z == (9.0, 12.0), "{work:?}");
    // A shallower hole needs wood that is gone.
    let v = judge(&usual(blind(9.0)), &usual(blind(6.0)), STEP);
    assert!(matches!(v.verdict, Verdict::Again(_)), "{v:?}");
}

#[test]
fn a_shorter_board_is_trimmed_and_a_longer_one_cut_again() {
    let long = usual(vec![one()]);
    let short = board(v(0.0, 0.0), v(290.0, 100.0), 18.0, vec![one()]);
    let Verdict::Work(work) = judge(&long, &short, STEP).verdict else { panic!("work") };
    assert_eq!((work.len(), work[0].kind, work[0].z), (1, WorkKind::Trim, (0.0, 18.0)));
    assert!((work[0].by - 10.0).abs() < 0.005, "{}", work[0].by);
    let Verdict::Again(why) = judge(&short, &long, STEP).verdict else { panic!("again") };
    let short_by = why.iter().find_map(|r| if let Reason::Short { by, .. } = r { Some(*by) } else { None });
    assert!(short_by.is_some_and(|by| (by - 10.0).abs() < 0.005), "{why:?}");
}

#[test]
fn a_moved_hole_names_itself_and_by_how_much() {
    let new =
        usual(vec![hole("a", 52.0, 50.0, 8.0, Depth::Through), hole("b", 9.0, 9.0, 4.0, Depth::Through)]);
    let old = usual(vec![one(), hole("b", 9.0, 9.0, 4.0, Depth::Through)]);
    let Verdict::Again(why) = judge(&old, &new, STEP).verdict else { panic!("again") };
    assert_eq!(why.len(), 1);
    // The old circle reaches 2 mm past the new one, away from where the hole went.
    let Reason::Opening { feature, by, at, .. } = &why[0] else { panic!("{why:?}") };
    assert_eq!(feature, "a");
    assert!((by - 2.0).abs() < 0.005 && at.dist(v(46.0, 50.0)) < 0.2, "{why:?}");
}

#[test]
fn a_hole_too_many_is_a_lack() {
    let v = judge(&usual(vec![one()]), &usual(vec![]), STEP);
    assert!(matches!(v.verdict, Verdict::Again(_)), "{v:?}");
}

#[test]
fn a_board_measured_from_its_middle_is_shifted_before_it_is_judged() {
    // Both boards are measured from their middles; the hole stays 50 mm from the left end.
    let old =
        board(v(-150.0, -50.0), v(150.0, 50.0), 18.0, vec![hole("a", -100.0, 0.0, 8.0, Depth::Through)]);
    let new = board(v(-145.0, -50.0), v(145.0, 50.0), 18.0, vec![hole("a", -95.0, 0.0, 8.0, Depth::Through)]);
    let judged = judge(&old, &new, STEP);
    let Verdict::Work(work) = &judged.verdict else { panic!("{judged:?}") };
    assert!(judged.lie.shift.dist(v(5.0, 0.0)) < 1e-9, "{judged:?}");
    assert!((work[0].by - 10.0).abs() < 0.005, "{work:?}");
}

#[test]
fn sheet_stock_has_its_thickness_but_a_bar_can_be_shortened() {
    let thick = usual(vec![]);
    let thin = board(v(0.0, 0.0), v(300.0, 100.0), 15.0, vec![]);
    assert!(matches!(judge(&thick, &thin, STEP).verdict, Verdict::Again(_)));
    let bar = |length| board(v(0.0, 0.0), v(20.0, 20.0), length, vec![]);
    let Verdict::Work(work) = judge(&bar(120.0), &bar(110.0), STEP).verdict else { panic!("work") };
    assert_eq!(work[0].kind, WorkKind::Shorten);
    assert!((work[0].by - 10.0).abs() < 1e-9);
    assert!(matches!(judge(&bar(110.0), &bar(120.0), STEP).verdict, Verdict::Again(_)));
}

#[test]
fn every_part_of_either_table_is_named_once() {
    let named = |id: &str| Part { id: id.into(), ..usual(vec![]) };
    let all = verdicts(&[named("a"), named("gone")], &[named("a"), named("came")], STEP);
    let names: Vec<(&str, bool)> =
        all.iter().map(|v| (v.part.as_str(), v.verdict == Verdict::Good)).collect();
    assert_eq!(names, [("a", true), ("came", false), ("gone", false)]);
    assert_eq!(all[1].verdict, Verdict::New);
    assert_eq!(all[2].verdict, Verdict::NotNeeded);
}
