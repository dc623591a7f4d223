//! Slider-crank and star lever in right triangles of sides 3, 4, 5 and 8, 15, 17.

use crate::near;
use core::f64::consts::{FRAC_PI_2, PI};
use turnleaf_geom::trig;
use turnleaf_mechanism::crank::{Crank, unit_shortfall};
use turnleaf_mechanism::lever::Lever;

/// The angle whose sine is 3/5 and cosine 4/5.
fn three_four_five() -> f64 {
    trig::atan2(3.0, 4.0)
}

/// Pin at (40, 30). Arms of 50 and 34 reach the slide line 40 (30-40-50) and 16 (16-30-34) farther out. Speeds are
/// −y − x·y/reach, by differentiating the same two triangles.
#[test]
fn crank_in_whole_triangles() {
    let phi = three_four_five();
    for (arm, slide, speed) in [(50.0, 80.0, -60.0), (34.0, 56.0, -105.0)] {
        let c = Crank { pin_radius: 50.0, arm };
        near("slide", c.slide(phi), slide);
        near("slide, other side", c.slide(-phi), slide);
        near("speed", c.speed(phi), speed);
        near("speed, other side", c.speed(-phi), -speed);
        near("dead centre", c.dead_centre(), 50.0 + arm);
        near("shortfall", c.shortfall(phi), 50.0 + arm - slide);
        near("shortfall of pin radius 1", unit_shortfall(50.0 / arm, phi), (50.0 + arm - slide) / 50.0);
        near("arm's angle, sine", trig::sin(c.arm_angle(phi)), 30.0 / arm);
    }
    let c = Crank { pin_radius: 150.0, arm: 300.0 };
    near("out", c.slide(0.0), 450.0);
    near("in", c.slide(PI), 150.0);
    // At a quarter turn the arm is the long side: √(300² − 150²).
    near("quarter", c.slide(FRAC_PI_2), 259.807_621);
    // An arm too short to reach the slide line stays on it under the pin, and nothing is NaN.
    near("out of reach", Crank { pin_radius: 50.0, arm: 20.0 }.slide(phi), 40.0);
    near("out of reach, unit", unit_shortfall(2.5, phi), 1.0 - 0.8 + 1.0 / 2.5);
}

/// The arm leans most when the crank stands square to the slide; short of that, at the farther end.
#[test]
fn crank_arm_leans_most_at_a_quarter_turn() {
    let (c, phi) = (Crank { pin_radius: 50.0, arm: 100.0 }, three_four_five());
    let sine = |from: f64, to: f64| trig::sin(c.largest_arm_angle(from, to));
    near("whole way", sine(-2.0, 0.5), 0.5);
    near("whole way out", sine(-0.5, 2.0), 0.5);
    near("from one end", sine(-phi, 0.2), 0.3);
    near("from the other end", sine(-0.2, phi), 0.3);
    near("a quarter turn itself", sine(-FRAC_PI_2, 0.0), 0.5);
}

/// Inner arm 50 with its nose on the axis, raised by 30: sine 3/5, cosine 4/5.
#[test]
fn lever_in_whole_triangles() {
    let plain = Lever { inner: 50.0, outer: 60.0, inner_offset: 0.0, outer_offset: 0.0 };
    near("tilt, sine", trig::sin(plain.tilt(30.0).expect("it tilts")), 0.6);
    near("tip", plain.tip_rise(30.0).expect("it tilts"), 30.0 + 36.0);
    near("ratio", plain.ideal_ratio(), 2.2);
    near("ratio of the rises", plain.tip_rise(30.0).expect("it tilts") / 30.0, plain.ideal_ratio());
    // A tip's nose 10 above the axis falls back by 10·(1 − 4/5).
    let nose = Lever { outer_offset: 10.0, ..plain };
    near("tip with nose", nose.tip_rise(30.0).expect("it tilts"), 66.0 - 2.0);
    assert_eq!((plain.tilt(50.0), plain.tilt(-50.0)), (None, None), "upright, it lifts no more");
    // Inner arm 40 and nose 30 are the legs of a 50: raised by 30 the nose's centre comes level with the pin, so
    // the tilt is the angle whose tangent is 30/40.
    let both = Lever { inner: 40.0, outer: 40.0, inner_offset: 30.0, outer_offset: 0.0 };
    near("tilt", both.tilt(30.0).expect("it tilts"), three_four_five());
    near("tip", both.tip_rise(30.0).expect("it tilts"), 30.0 + 24.0);
}

/// The inner nose stays under its flange at every rise, and the tip ends exactly two steps up.
#[test]
fn lever_keeps_its_inner_nose_down_and_ends_flush() {
    for (inner, f, g, step) in [(50.0, 4.0, 4.0, 20.0), (45.0, 3.0, 6.0, 25.0)] {
        let l = Lever::flush(inner, f, g, step).expect("long enough");
        near("flush", l.tip_rise(step).expect("it tilts"), 2.0 * step);
        for k in 0..=10 {
            let rise = step * f64::from(k) / 10.0;
            let (s, c) = trig::sin_cos(l.tilt(rise).expect("it tilts"));
            near("nose", rise - inner * s + f * c, f);
            near("tip", l.tip_rise(rise).expect("it tilts"), rise + l.outer * s + g * c - g);
        }
    }
    assert_eq!(Lever::flush(20.0, 0.0, 0.0, 20.0), None);
}
