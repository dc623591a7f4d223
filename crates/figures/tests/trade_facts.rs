//! Facts of the trade. Common practice, no source: makers say so, no publication was found.

use turnleaf_figures::{Assumptions, lift, torque::Drive};
use turnleaf_geom::trig;
use turnleaf_mechanism::{Sizes, lever::Lever, solve, stack::stack};

const INCH: f64 = 25.4;

#[test]
fn three_three_quarter_inch_surfaces_stack_to_two_and_a_quarter() {
    // Common practice, no source: before play.
    let s = Sizes { stock_thickness: 0.75 * INCH, play: 0.0, ..Sizes::example() };
    let st = stack(&s);
    assert!((st.panel.top - st.star.bottom - 2.25 * INCH).abs() < 1e-9);
    // Play adds twice itself and never less.
    let st = stack(&Sizes { play: 1.0, ..s });
    assert!((st.panel.top - st.star.bottom - 2.25 * INCH - 2.0).abs() < 1e-9);
}

#[test]
fn two_half_inch_plies_make_an_inch() {
    // Common practice, no source.
    let st = stack(&Sizes { ply_thickness: 0.5 * INCH, ..Sizes::example() });
    assert!((st.base.thickness() - INCH).abs() < 1e-9);
}

#[test]
fn an_inch_over_eight_inches_of_arc_slopes_seven_degrees() {
    // Common practice, no source: a rise of about 25 mm over about 203 mm of arc is 7.1°.
    let slope = trig::deg(trig::atan(INCH / (8.0 * INCH)));
    assert!((slope - 7.1).abs() < 0.05);
    // The mechanism's own rule gives it: a stock whose step is an inch, a circle whose ramp is eight inches long.
    let s =
        Sizes { stock_thickness: 0.95 * INCH, play: 0.05 * INCH, ply_thickness: 15.0, ..Sizes::example() };
    let m = solve(&s).unwrap();
    assert!((m.stack.step - INCH).abs() < 1e-9);
    let radius = 8.0 * INCH / s.ramp_sweep;
    assert!((trig::deg(m.ramp_slope(radius)) - 7.1).abs() < 0.05);
}

#[test]
fn twice_the_rise_in_less_than_half_the_arc_is_too_steep() {
    // Common practice, no source: steeper than 26° and impractical.
    for share in [0.499, 0.4, 0.3] {
        assert!(trig::deg(trig::atan(2.0 * INCH / (share * 8.0 * INCH))) > 26.0);
    }
    // And so it is on the worked example, which is why levers lift the star.
    let a = turnleaf_parts::assemble(&solve(&Sizes::example()).unwrap());
    let s = Assumptions::default();
    let f = lift::figures(&a, &s, &Drive::new(&a, &s));
    let steep = f.iter().find(|f| f.id == "lift.star-ramp").unwrap();
    assert!(steep.value > 26.0);
    let own = f.iter().find(|f| f.id == "lift.slope-inner").unwrap();
    assert!(own.value < 14.0);
}

#[test]
fn a_lever_lifted_at_half_its_length_doubles_the_rise() {
    // Common practice, no source: exact for a straight lever at any tilt.
    let lever = Lever { inner: 60.0, outer: 60.0, inner_offset: 0.0, outer_offset: 0.0 };
    for rise in [1.0, 10.0, 20.0, 30.0] {
        assert!((lever.tip_rise(rise).unwrap() - 2.0 * rise).abs() < 1e-9);
    }
}

#[test]
fn four_lifting_rollers_on_two_radii() {
    // Common practice, no source: two on an outer circle, two on an inner one, each pair opposite.
    let m = solve(&Sizes::example()).unwrap();
    let p = &m.rollers.places;
    assert_eq!(p.len(), 4);
    assert_eq!(p[0].radius, p[1].radius);
    assert_eq!(p[2].radius, p[3].radius);
    assert!(p[0].radius > p[2].radius);
    for pair in [(0, 1), (2, 3)] {
        let apart = (p[pair.1].direction - p[pair.0].direction).rem_euclid(2.0 * core::f64::consts::PI);
        assert!((apart - core::f64::consts::PI).abs() < 1e-9);
    }
}
