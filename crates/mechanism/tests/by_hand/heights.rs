//! Heights added up from the floor, and the members' widths, for the example and for smaller and larger tables.

use crate::near;
use turnleaf_geom::trig;
use turnleaf_mechanism::layout::layout;
use turnleaf_mechanism::members::{LEVER_TILT_LIMIT, members, pin_radius};
use turnleaf_mechanism::stack::{DriveLevels, Level, stack};
use turnleaf_mechanism::{DriveKind, Opening, Sizes, solve};

fn level(what: &str, l: Level, bottom: f64, top: f64) {
    near(what, l.bottom, bottom);
    near(what, l.top, top);
    near(what, l.thickness(), top - bottom);
}

/// 740 high, 19 mm stock, plates 18, slides 15, arms 8, two plies of 12, 1 mm of play.
#[test]
fn the_stack_added_up() {
    let st = stack(&Sizes::example());
    near("step", st.step, 20.0);
    level("panel", st.panel, 721.0, 740.0);
    level("leaf", st.leaf, 701.0, 720.0);
    level("star", st.star, 681.0, 700.0);
    level("leaf slide", st.leaf_slide, 665.0, 680.0);
    level("rising plate", st.rising_plate, 647.0, 665.0);
    level("panel slide", st.panel_slide, 631.0, 646.0);
    level("turning plate", st.turning_plate, 613.0, 631.0);
    let DriveLevels::Arms { upper, lower } = st.drive else { panic!("arms") };
    level("upper arms", upper, 604.0, 612.0);
    level("lower arms", lower, 595.0, 603.0);
    level("base", st.base, 570.0, 594.0);
    near("bed", st.bed, 594.0);
    level("raised leaf", st.leaf.raised(st.step), 721.0, 740.0);
    let st = stack(&Sizes { drive: DriveKind::Cam, ..Sizes::example() });
    let DriveLevels::Cam { plate } = st.drive else { panic!("a cam") };
    level("cam plate", plate, 594.0, 612.0);
    level("base under the cam", st.base, 570.0, 594.0);
    near("bed on the cam", st.bed, 612.0);
}

/// Common practice, no source: a table of 1200 mm has slides 40 wide and posts of 10 radius; others follow in
/// proportion, from three fifths to six fifths, and round parts grow no thicker.
#[test]
fn members_follow_the_tables_size() {
    for (radius, k) in [(300.0, 0.6), (330.0, 0.6), (480.0, 0.8), (600.0, 1.0), (690.0, 1.15), (1000.0, 1.2)]
    {
        let travel = 0.375 * radius;
        let s = Sizes { closed_diameter: 2.0 * radius, opening: Opening::Travel(travel), ..Sizes::example() };
        let (lay, st) = (layout(&s), stack(&s));
        let m = members(&s, &lay, &st);
        let thin = if k > 1.0 { 1.0 } else { k };
        let setback = if k < 0.8 { 9.6 } else { 12.0 * k };
        near("slide", m.slide_width, 40.0 * k);
        near("post", m.post, 10.0 * thin);
        near("setback", m.setback, setback);
        near("turning plate", m.turning_plate, radius - setback);
        near("outer post", m.outer_post, radius - setback - 10.0 * thin);
        near("rising plate", m.rising_plate, radius - setback - 20.0 * thin - 2.0);
        // With six sectors a leaf's edge runs at 30° to a panel slide: the way out to it is twice what it is aside.
        near("inner post", m.inner_post, travel + 2.0 * (10.0 * thin + 6.0 + 2.0));
        near("wheel", m.wheel, 13.0);
        near("wheel's width", m.wheel_width, 12.0 * thin);
        near("lever", m.lever_width, 14.0 * thin);
        near("centre", m.centre_post, 10.0);
        near("opening round the flange", m.opening - m.flange, 2.0);
        near("nose on the flange", m.lever_inner(), 18.0);
        // Slides 40·k wide with 3 mm tongues and half of 2 mm between them touch where tan 30° is their half width
        // over the radius.
        let beside = (20.0 * k + 4.0) * 3f64.sqrt();
        near("slides side by side", m.panel_slide_inner(&lay), beside.max(20.0));
        near("end behind the pin", m.pin_end(), 2.0 * m.pin + 4.0);
        // A step of 20 at 38° needs an arm of 32.485; hub 18 + 2.07 arms + 8, then 2 free.
        near("lever arm", m.lever_arm_least(20.0), 32.485_385);
        let hub: f64 = 18.0 + 2.07 * 32.485_385 + 8.0 + 2.0;
        near("leaf pin", m.leaf_pin_least(&lay, 20.0), hub.max(beside) + m.pin_end());
    }
    near("tilt", trig::deg(LEVER_TILT_LIMIT), 38.0);
    // Thin stock takes small wheels, thick stock does not take large ones.
    for (stock, wheel) in [(12.0, 9.0), (15.0, 10.4), (27.0, 16.0)] {
        let s = Sizes { stock_thickness: stock, ..Sizes::example() };
        near("wheel", members(&s, &layout(&s), &stack(&s)).wheel, wheel);
    }
}

/// Four slides meet late: there the centre post of 10, 8 of wood and 2 of gap keep them out.
#[test]
fn the_centre_post_keeps_four_slides_out() {
    let s = Sizes { sectors: 4, closed_diameter: 600.0, opening: Opening::Travel(100.0), ..Sizes::example() };
    let (lay, st) = (layout(&s), stack(&s));
    let m = members(&s, &lay, &st);
    assert!(m.slide_width / 2.0 + 4.0 < 20.0);
    near("slides", m.panel_slide_inner(&lay), 20.0);
}

/// Many slides side by side are slimmer, their pins thinner; common practice, no source.
#[test]
fn many_sectors_have_slender_slides_and_pins() {
    let slide = |sectors: usize| {
        let s = Sizes { sectors, ..Sizes::example() };
        members(&s, &layout(&s), &stack(&s)).slide_width
    };
    for (sectors, width) in [(4, 40.0), (8, 40.0), (9, 32.0), (12, 32.0)] {
        near("slide", slide(sectors), width);
    }
    for (sectors, radius, pin) in [
        (4, 350.0, 6.0),
        (7, 350.0, 6.0),
        (8, 429.0, 5.0),
        (9, 429.0, 5.0),
        (8, 430.0, 6.0),
        (9, 800.0, 6.0),
        (10, 539.0, 4.0),
        (12, 540.0, 5.0),
    ] {
        near("pin", pin_radius(sectors, radius), pin);
    }
}

/// With skewed slides the leaf slide's guide (half of 40, a rail of 8 and 1 mm) stands aside by sin(h − κ) of the
/// radius; at κ = 10° that is sin 20°.
#[test]
fn skew_pushes_posts_and_pins_out() {
    let s = Sizes { slide_skew: trig::rad(10.0), opening: Opening::Travel(40.0), ..Sizes::example() };
    let (lay, st) = (layout(&s), stack(&s));
    let m = members(&s, &lay, &st);
    let twenty = 0.342_020_143;
    near("inner post", m.inner_post, (29.0 + 10.0 + 2.0) / twenty);
    near("leaf pin", m.leaf_pin_least(&lay, 20.0), 111.244_747_f64.max((29.0 + 8.0 + 2.0) / twenty));
}

/// The rising plate hangs 647 high, the hinge 7 lower, a wheel of 13 stands on the base's 594: 33 between them
/// folded, 53 dropped by one step. Dropped, the arm leans 4° past upright.
#[test]
fn roller_arms_fold_in_right_triangles() {
    let m = solve(&Sizes::example()).expect("the example solves");
    let r = &m.rollers;
    near("folded", r.folded_height, 33.0);
    near("dropped", r.dropped_height, 53.0);
    near("lean", r.dropped_behind / r.dropped_height, trig::tan(trig::rad(4.0)));
    near("arm, dropped", trig::hypot(r.dropped_height, r.dropped_behind), r.arm);
    near("arm, folded", trig::hypot(r.folded_height, r.folded_ahead), r.arm);
    near("landing", r.landing, 32.0);
    let (from, to, half) = r.opening(&m.members);
    near("opening, ahead", from, -(r.folded_ahead + 13.0 + 2.0));
    near("opening, behind", to, 11.0);
    near("opening, half its width", half, 8.0);
    near("reach", r.reach(300.0, &m.members), trig::hypot(306.0, r.folded_ahead + 13.0));
}
