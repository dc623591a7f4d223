//! Tables broken on purpose: each fault is caught, with the right pieces and the right turn, and the remedies
//! offered mend it when they are applied.

use std::f64::consts::PI;
use turnleaf_figures::{Assumptions, Figure, figures};
use turnleaf_geom::trig::{deg, rad, sin};
use turnleaf_geom::{Region, Vec2, region_distance};
use turnleaf_mechanism::{Drive, Mechanism, solve};
use turnleaf_mend::{Change, Marks, Remedy, as_given, mend, mend_figure, mend_sizes};
use turnleaf_motion::{Check, checks, prove};
use turnleaf_parts::layers::layers;
use turnleaf_parts::{Assembly, FeatureKind, Motion, assemble};
use turnleaf_plan::Plan;

fn plan(name: &str) -> Plan {
    let path = format!("{}/../demo/{name}", env!("CARGO_MANIFEST_DIR"));
    Plan::parse(&std::fs::read(path).unwrap()).unwrap().0
}

fn demo() -> Mechanism {
    solve(&turnleaf_plan::sizes(&plan("reading-room.json"))).unwrap()
}

fn all(a: &Assembly) -> Vec<Check> {
    checks(a, &prove(a))
}

fn failing(a: &Assembly) -> Vec<Check> {
    all(a).into_iter().filter(|c| !c.holds).collect()
}

fn named(list: &[Check], id: &str) -> Check {
    let ids: Vec<_> = list.iter().map(|c| &c.id).collect();
    list.iter().find(|c| c.id == id).unwrap_or_else(|| panic!("{id} is not among {ids:?}")).clone()
}

/// The remedies for a check; each one applied mends it and breaks nothing, and the first leaves nothing failing.
fn mended(a: &Assembly, id: &str) -> Vec<Remedy> {
    let before = all(a);
    let remedies = mend(a, &before, id, Marks::Metric);
    assert!(!remedies.is_empty(), "no remedy for {id}");
    for (i, r) in remedies.iter().enumerate() {
        println!("{id}: {}", r.text);
        let after = failing(&r.apply(a).unwrap_or_else(|| panic!("{} cannot be applied", r.text)));
        for c in &after {
            assert!(c.id != id && before.iter().any(|b| b.id == c.id && !b.holds), "{}: {}", r.text, c.text);
        }
        assert!(i > 0 || after.is_empty(), "{} leaves {:?}", r.text, after.first().map(|c| &c.text));
    }
    remedies
}

/// Outlines of a part's pieces at a turn, straight from the parts and their places.
fn outlines(a: &Assembly, part: &str, turn: f64) -> Vec<Region> {
    let of = |p: &&turnleaf_parts::Piece| a.part_of(p).id == part;
    a.pieces.iter().filter(of).map(|p| a.part_of(p).outline.moved(&a.place(p, turn).pose).into()).collect()
}

/// Nothing of this is needed on a table that is as it should be.
#[test]
fn the_sound_table_needs_no_remedy() {
    let a = assemble(&demo());
    let list = all(&a);
    assert!(list.iter().all(|c| c.holds));
    for c in &list {
        assert!(mend(&a, &list, &c.id, Marks::Metric).is_empty());
    }
}

#[test]
fn arms_without_their_bend() {
    let mut p = plan("reading-room.json");
    p.set("panel_arm_bend", "0 mm").unwrap();
    let problems = turnleaf_plan::build(&p).unwrap_err();
    assert_eq!(problems[0].code, "mechanism.arms.touch");
    assert!(problems[0].hint.contains("Panel arm and Panel arm collide"), "{}", problems[0].hint);

    // What is told of the table as given: the pieces do overlap at the turn named, by their bare outlines.
    let sizes = turnleaf_plan::sizes(&p);
    let given = as_given(&sizes).expect("a table can be forced on these sizes");
    let worst = &given.failing[0];
    assert_eq!(worst.id, "clear.panel-arm.panel-arm");
    assert_eq!(worst.parts, ["panel-arm", "panel-arm"]);
    let turn = rad(worst.at_turn.unwrap());
    let arms = outlines(&given.assembly, "panel-arm", turn);
    let at = |id: &String| id.split('/').nth(1).unwrap().parse::<usize>().unwrap() - 1;
    let (i, j) = (at(&worst.pieces[0]), at(&worst.pieces[1]));
    assert!(region_distance(&arms[i], &arms[j]).penetrates, "{} do not overlap there", worst.text);

    let remedies = mend_sizes(&sizes, &solve(&sizes).unwrap_err(), Marks::Metric);
    let bend = remedies.iter().find_map(|r| match r.change {
        Change::Size { size: "panel_arm_bend", to, .. } => Some(to),
        _ => None,
    });
    // "A bend of about 80 mm at mid-arm": the project's reference for this very drive.
    assert!((60.0..=80.0).contains(&bend.unwrap()), "{bend:?}");
    for r in &remedies {
        println!("{}", r.text);
        let m = solve(&r.sizes(&sizes).unwrap()).unwrap();
        assert!(failing(&assemble(&m)).is_empty(), "{}", r.text);
    }
    // The same through the plan: what is to be typed is typed, and the table is sound.
    let offered = turnleaf_plan::remedies_for_plan(&p);
    assert_eq!(offered.len(), remedies.len());
    for m in offered {
        assert!(problems[0].hint.contains(&m.text));
        let (field, text) = m.set.unwrap();
        let mut q = p.clone();
        q.set(field, &text).unwrap();
        assert!(turnleaf_plan::build(&q).unwrap().sound(), "{}", m.text);
    }
}

/// A bend the other way is no better than none, and is told so.
#[test]
fn arms_bent_the_wrong_way() {
    let mut p = plan("reading-room.json");
    p.set("panel_arm_bend", "-80 mm").unwrap();
    let sizes = turnleaf_plan::sizes(&p);
    let given = as_given(&sizes).unwrap();
    assert_eq!(given.failing[0].id, "clear.panel-arm.panel-arm");
    let remedies = mend_sizes(&sizes, &solve(&sizes).unwrap_err(), Marks::Metric);
    assert!(
        remedies
            .iter()
            .any(|r| matches!(r.change, Change::Size { size: "panel_arm_bend", to, .. } if to > 60.0))
    );
}

#[test]
fn a_pocket_on_another_rollers_track() {
    let mut m = demo();
    m.rollers.places[1].direction = m.rollers.places[0].direction + rad(60.0);
    let a = assemble(&m);
    let check = named(&failing(&a), "tracks");
    assert!(check.parts.contains(&"drop-roller".to_string()) && check.margin < 0.0);
    assert!(check.text.contains("would drop into it"), "{}", check.text);

    // At the turn named the folded wheel's middle stands at the pocket's edge; a degree before it does not.
    let (roller, pocket) = (&check.pieces[0], &check.pieces[1]);
    let index = |id: &str| id.split('/').nth(1).unwrap().parse::<usize>().unwrap() - 1;
    let place = m.rollers.places[index(roller)];
    let base = a.pieces.iter().find(|p| a.part_of(p).id == "base-upper-ply").unwrap();
    let cut = a
        .part("base-upper-ply")
        .unwrap()
        .features
        .iter()
        .find(|f| f.id == format!("pocket/{}", index(pocket) + 1));
    let FeatureKind::Pocket { ring, .. } = &cut.unwrap().kind else { panic!("no pocket") };
    let gap = |turn: f64| {
        let there: Region = ring.moved(&a.place(base, turn).pose).into();
        let wheel = Vec2::polar(place.radius, place.direction - m.rollers.folded_ahead / place.radius);
        region_distance(&there, &turnleaf_geom::Ring::circle(wheel, 0.01).into()).distance
    };
    let turn = rad(check.at_turn.unwrap());
    assert!(gap(turn) < 0.02, "{} mm from the pocket at {}°", gap(turn), deg(turn));
    assert!(gap(turn - rad(1.0)) > 1.0);

    let remedies = mended(&a, "tracks");
    assert_eq!(remedies[0].change, Change::Rollers);
    let right = demo().rollers.places[1];
    assert!(
        remedies[0].text.contains(&format!("roller 2 at {:.1}°", deg(right.direction))),
        "{}",
        remedies[0].text
    );
}

#[test]
fn post_slots_five_millimetres_short() {
    let m = demo();
    let mut a = assemble(&m);
    let plate = a.parts.iter_mut().find(|p| p.id == "rising-plate").unwrap();
    let mut cut = 0;
    for f in plate.features.iter_mut().filter(|f| f.id.starts_with("post/")) {
        let FeatureKind::Slot { a, b, .. } = &mut f.kind else { panic!("not a slot") };
        *b = *b - (*b - *a).unit() * 5.0;
        cut += 1;
    }
    assert_eq!(cut, m.sizes.sectors);
    plate.layers = layers(plate.thickness, &plate.outline, &plate.features);
    let bad = failing(&a);
    let check = named(&bad, "clear.panel-post.rising-plate");
    assert_eq!(bad.len(), 1);
    assert!(check.pieces.iter().any(|p| p.starts_with("panel-post/")));
    // The gap of 2 mm at the slot's end is 3 mm too little, and that is where the panels are farthest out.
    assert!((check.value + 3.0).abs() < 0.2, "{}", check.text);
    assert!((check.at_turn.unwrap() - deg(m.travel_peak())).abs() < 3.0, "{}", check.text);

    let remedies = mended(&a, "clear.panel-post.rising-plate");
    assert_eq!(remedies[0].change, Change::Part { id: "rising-plate".into() });
    assert!(remedies[0].text.starts_with("Lengthen the slots"), "{}", remedies[0].text);
    assert!(remedies[0].text.contains("by 5 mm"), "{}", remedies[0].text);
}

#[test]
fn leaves_that_travel_ten_millimetres_short() {
    let mut m = demo();
    let travel = m.layout.leaf_travel;
    let Drive::Arms(arms) = &mut m.drive else { panic!("arms drive the demo") };
    // Pin radius and arm in proportion: every travel shrinks in the same proportion.
    arms.leaf.crank.pin_radius *= (travel - 10.0) / travel;
    arms.leaf.crank.arm *= (travel - 10.0) / travel;
    let a = assemble(&m);
    let check = named(&failing(&a), "closes.leaf");
    assert!((check.value - 10.0).abs() < 1e-9 && check.parts == ["leaf"]);
    assert!((check.at_turn.unwrap() - deg(m.turn())).abs() < 1e-9);
    assert!(check.text.contains("10.0 mm short"), "{}", check.text);
    let remedies = mended(&a, "closes.leaf");
    assert_eq!(remedies[0].change, Change::LeafArms);
    assert!(remedies[0].text.contains("Lengthen the leaf arms by"), "{}", remedies[0].text);
}

/// Ten millimetres less travel in the layout as well: the leaves close up, but show while they are stored.
#[test]
fn leaves_stored_beyond_the_edge() {
    let mut m = demo();
    let travel = m.layout.leaf_travel;
    let Drive::Arms(arms) = &mut m.drive else { panic!("arms drive the demo") };
    arms.leaf.crank.pin_radius *= (travel - 10.0) / travel;
    arms.leaf.crank.arm *= (travel - 10.0) / travel;
    m.layout.leaf_travel -= 10.0;
    let a = assemble(&m);
    let bad = failing(&a);
    assert!(bad.iter().all(|c| c.id != "closes.leaf"));
    let check = named(&bad, "hidden.leaf");
    assert!(check.value <= -7.0 && check.at_turn == Some(0.0) && check.parts == ["leaf"]);
    // By the outlines: the stored leaf does reach beyond the closed edge.
    let leaf = &outlines(&a, "leaf", 0.0)[0];
    let far = leaf.outer.flatten(0.001).iter().map(|p| p.norm()).fold(0.0, f64::max);
    assert!(far > 606.9, "{far}");
    let remedies = mended(&a, "hidden.leaf");
    assert_eq!(remedies[0].change, Change::LeafArms);
    assert!(remedies[0].text.starts_with("Let the leaves travel further by 10 mm"), "{}", remedies[0].text);
}

/// A margin asked for that is below nothing does not make a leaf that shows pass.
#[test]
fn a_margin_below_nothing() {
    let mut s = demo().sizes;
    s.hidden_margin = -7.0;
    if let Ok(m) = solve(&s) {
        let a = assemble(&m);
        let leaf = &outlines(&a, "leaf", 0.0)[0];
        let shows = leaf.outer.flatten(0.001).iter().any(|p| p.norm() > m.layout.radius);
        let caught = failing(&a).iter().any(|c| c.id == "hidden.leaf");
        assert_eq!(shows, caught);
        if caught {
            mended(&a, "hidden.leaf");
        }
    }
}

#[test]
fn tongues_deeper_than_the_overtravel() {
    let mut m = demo();
    m.sizes.tongue_depth = 12.0;
    m.layout = turnleaf_mechanism::layout::layout(&m.sizes);
    assert!(m.panel_overtravel() < m.layout.panel_overtravel_least);
    let a = assemble(&m);
    let bad = failing(&a);
    for (id, x, y) in [("lift.panel.leaf", "panel", "leaf"), ("lift.panel.star", "panel", "star")] {
        let check = named(&bad, id);
        assert_eq!(check.parts, [x, y]);
        let turn = rad(check.at_turn.unwrap());
        assert!(turn >= m.lift_begins() - 1e-9 && turn <= m.lift_ends() + 1e-9, "{}", check.text);
        // Grooved edges back off by the over-travel times sin h: the tongue has so much too little.
        let spare = m.panel_overtravel() * sin(PI / 6.0) - 12.0;
        assert!(check.value < spare + 0.9, "{} against {spare}", check.text);
    }
    let remedies = mended(&a, "lift.panel.leaf");
    let depth = remedies.iter().find_map(|r| match r.change {
        Change::Held { size: "tongue_depth", to, .. } => Some(to),
        _ => None,
    });
    assert!((6.0..12.0).contains(&depth.unwrap()), "{depth:?}");
}

fn figure(a: &Assembly, id: &str) -> Figure {
    figures(a, &Assumptions::default()).into_iter().find(|f| f.id == id).unwrap()
}

/// Legs too near the middle: the open table tips under the edge load that was asked for.
#[test]
fn a_base_that_tips() {
    let mut a = assemble(&demo());
    assert!(figure(&a, "tip.open.load").margin.unwrap() > 0.0);
    let legs = a.parts.iter().position(|p| p.id == "leg").unwrap();
    for p in a.pieces.iter_mut().filter(|p| p.part == legs) {
        assert_eq!(p.motion, Motion::Base);
        p.at.offset = p.at.offset * 0.5;
    }
    let tips = figure(&a, "tip.open.load");
    assert!(tips.margin.unwrap() < 0.0, "{tips:?}");
    let remedies = mend_figure(&a, &all(&a), "tip.open.load", Marks::Metric);
    assert_eq!(remedies[0].change, Change::Part { id: "leg".into() });
    assert!(remedies[0].text.starts_with("Move the legs out by"), "{}", remedies[0].text);
    for r in &remedies {
        println!("{}", r.text);
        assert!(figure(&r.apply(&a).unwrap(), "tip.open.load").margin.unwrap() >= 0.0, "{}", r.text);
    }
}

/// An edge load that the base cannot take: remedies change sizes, the load among them.
#[test]
fn an_edge_load_that_tips_the_table() {
    let mut p = plan("reading-room.json");
    p.set("edge_load", "900 N").unwrap();
    let built = turnleaf_plan::build(&p).unwrap();
    assert!(figure(&built.assembly, "tip.open.load").margin.unwrap() < 0.0);
    let offered = turnleaf_plan::remedies_for_figure(&built, "tip.open.load");
    assert!(!offered.is_empty());
    for m in offered {
        println!("{}", m.text);
        let (field, text) = m.set.unwrap();
        let mut q = p.clone();
        q.set(field, &text).unwrap();
        let again = turnleaf_plan::build(&q).unwrap();
        assert!(
            again.sound() && figure(&again.assembly, "tip.open.load").margin.unwrap() >= 0.0,
            "{}",
            m.text
        );
    }
}

/// A ramp cut for another law of lift, or rollers hung elsewhere than it was cut for: said of the circle it is on, at a
/// turn inside the lift, while the sound table rides to a few hundredths of a millimetre.
#[test]
fn wheels_that_leave_their_ramps_are_caught() {
    let a =
        turnleaf_parts::assemble(&turnleaf_mechanism::solve(&turnleaf_mechanism::Sizes::example()).unwrap());
    let m = &a.mechanism;
    let look = |a: &turnleaf_parts::Assembly| {
        ["ramp-outer", "ramp-inner"].map(|id| {
            let i = if id == "ramp-outer" { 0 } else { 2 };
            turnleaf_motion::ride::ride(a, id, &a.mechanism.rollers.places[i]).unwrap()
        })
    };
    for r in look(&a) {
        assert!(r.gap < 0.05 && r.press < 0.05, "{r:?}");
        assert!(r.beside > 1.0 && r.level > 0.0, "{r:?}");
    }
    let mut other_law = a.clone();
    other_law.mechanism.blend = 0.3;
    let mut other_hinge = a.clone();
    other_hinge.mechanism.members.hinge_drop += 1.0;
    let mut narrow = a.clone();
    narrow.mechanism.members.wheel_width += 5.0;
    for broken in [&other_law, &other_hinge] {
        for r in look(broken) {
            assert!(r.gap.max(r.press) > 0.2, "{r:?}");
            assert!(r.turn >= m.lift_begins() && r.turn <= m.lift_ends());
        }
        let proof = turnleaf_motion::prove(broken);
        let checks = turnleaf_motion::checks(broken, &proof);
        for id in ["ride.outer", "ride.inner"] {
            assert!(checks.iter().any(|c| c.id == id && !c.holds), "{id}");
        }
    }
    assert!(look(&narrow).iter().all(|r| r.beside < 0.0));
}
