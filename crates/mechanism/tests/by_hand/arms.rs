//! Bent arms: the circle through three points, and the gaps of solved arms measured again on sampled points.

use crate::{apart, at, near, near_point, table, to_line, within};
use core::f64::consts::PI;
use turnleaf_geom::{Vec2, trig};
use turnleaf_mechanism::arms::{ArmSet, FINE_STEPS, Upper, bow_at};
use turnleaf_mechanism::bow::Bow;
use turnleaf_mechanism::crank::Crank;
use turnleaf_mechanism::{DriveKind, Opening, Sizes, solve};

/// Chord 8, rise 2: radius (4² + 2²)/(2·2) = 5, centre 3 on the other side of the chord.
#[test]
fn bow_of_chord_eight_and_rise_two() {
    let right = Bow::new(at(0.0, 0.0), at(8.0, 0.0), 2.0);
    // Below the middle the arc runs at y = −2; seen from the centre (4, 3) it opens to the ends.
    near("middle", right.to_point(at(4.0, -2.0)), 0.0);
    near("chord's middle", right.to_point(at(4.0, 0.0)), 2.0);
    near("below", right.to_point(at(4.0, -9.0)), 7.0);
    // (4, 3) + 5·(3, −4)/5 is on the arc; twice as far from the centre is 5 outside it.
    near("on the arc", right.to_point(at(7.0, -1.0)), 0.0);
    near("outside", right.to_point(at(10.0, -5.0)), 5.0);
    // Above the ends the nearest point is an end.
    near("end", right.to_point(at(8.0, 6.0)), 6.0);
    near("start", right.to_point(at(-3.0, 4.0)), 5.0);
    near("centre", right.to_point(at(4.0, 3.0)), 5.0);
    near("near the centre", right.to_point(at(4.0, 2.5)), 4.5);
    let left = Bow::new(at(0.0, 0.0), at(8.0, 0.0), -2.0);
    near("other side", left.to_point(at(4.0, 2.0)), 0.0);
    near("other side, chord", left.to_point(at(4.0, 0.0)), 2.0);
    let (middle, reach) = right.ball();
    near_point("ball", middle, at(4.0, 0.0));
    near("ball", reach, 4.0);
    // Risen by more than half the chord, the ball must hold the middle too: half chord 1, rise 2.
    near("tall ball", Bow::new(at(0.0, 0.0), at(2.0, 0.0), 2.0).ball().1, 2.0);
    let turned = right.turned(0.0, 1.0);
    near("turned", turned.to_point(at(2.0, 4.0)), 0.0);
    near("turned, chord", turned.to_point(at(0.0, 4.0)), 2.0);
}

/// Arcs of the same circle size, in every position to each other.
#[test]
fn gaps_between_bows() {
    let bow = |x: f64, y: f64, bend: f64| Bow::new(at(x, y), at(x + 8.0, y), bend);
    let a = bow(0.0, 0.0, 2.0);
    // From the lower arc's end (0, 0) to the upper arc's centre (4, 10), less its radius.
    near("above one another", a.to_bow(&bow(0.0, 7.0, 2.0)), 116f64.sqrt() - 5.0);
    // Back to back: middles at −2 and −3, both bulging to the gap.
    near("back to back", a.to_bow(&bow(0.0, -5.0, -2.0)), 1.0);
    near("back to back, other way round", bow(0.0, -5.0, -2.0).to_bow(&a), 1.0);
    // Face to face the ends are nearest: bulging away from each other.
    near("face to face", bow(0.0, 0.0, -2.0).to_bow(&bow(0.0, -5.0, 2.0)), 5.0);
    near("crossing", a.to_bow(&Bow::new(at(4.0, -6.0), at(4.0, 6.0), 0.0)), 0.0);
    near("crossing twice", a.to_bow(&bow(0.0, -1.5, -2.0)), 0.0);
    near("end to end", a.to_bow(&bow(11.0, 0.0, 2.0)), 3.0);
    // One circle, two of its arcs: from (8, 0) to (0, 6) of the circle about (4, 3).
    near("same circle", a.to_bow(&Bow::new(at(8.0, 6.0), at(0.0, 6.0), 2.0)), 6.0);
    // Nested arcs about one centre, radii 5 and 8: chord from (4, 3) ± 8·(4/5, −3/5)…
    let outer = Bow::new(at(4.0 - 6.4, 3.0 - 4.8), at(4.0 + 6.4, 3.0 - 4.8), 8.0 - 4.8);
    near("nested", a.to_bow(&outer), 3.0);
}

/// A bent arm's area: width times length of the centre line (Pappus), and a round end of half the width at both.
#[test]
fn area_of_a_bent_arm() {
    let length = 10.0 * trig::atan2(4.0, 3.0);
    for bend in [2.0, -2.0] {
        let ring = Bow::new(at(0.0, 0.0), at(8.0, 0.0), bend).band(2.0);
        near("area", ring.area(), 2.0 * length + PI);
        let lowest = ring.vertices.iter().map(|v| v.p.y * bend.signum()).fold(f64::INFINITY, f64::min);
        // Corners of the ends stand half a width off them, along the radius (4, −3)/5.
        near("corner", lowest, -0.6);
    }
    // A straight arm rises by the least that is still worked out as an arc, a hundredth of a millimetre.
    near("hardly bent", Bow::new(at(0.0, 0.0), at(8.0, 0.0), 0.0).to_point(at(4.0, 0.0)), 0.01);
    // A straight arm is a slot: width times length and one whole circle.
    within("straight", Bow::new(at(0.0, 0.0), at(8.0, 0.0), 0.0).band(2.0).area(), 16.0 + PI, 1e-3);
}

/// Points of the arc through three points, by its circumcentre.
fn arc(a: Vec2, m: Vec2, b: Vec2, count: usize) -> Vec<Vec2> {
    let d = 2.0 * (a.x * (m.y - b.y) + m.x * (b.y - a.y) + b.x * (a.y - m.y));
    let x = (a.norm2() * (m.y - b.y) + m.norm2() * (b.y - a.y) + b.norm2() * (a.y - m.y)) / d;
    let y = (a.norm2() * (b.x - m.x) + m.norm2() * (a.x - b.x) + b.norm2() * (m.x - a.x)) / d;
    let centre = at(x, y);
    let wrap = |t: f64| t - (t / (2.0 * PI)).round() * 2.0 * PI;
    let (first, radius) = ((a - centre).angle(), a.dist(centre));
    let half = wrap((m - centre).angle() - first);
    let on = |k: usize| centre + Vec2::polar(radius, first + 2.0 * half * k as f64 / count as f64);
    (0..=count).map(on).collect()
}

/// Stretches of a sampled centre line.
const LOOKS: usize = 48;

/// Centre line of an arm on the slide line at `line`, sampled: pins from the crank, the middle to the right of the
/// way from crank pin to slide pin.
fn centre_line(set: &ArmSet, phi: f64, line: f64) -> Vec<Vec2> {
    let Crank { pin_radius, arm } = set.crank;
    let pin = Vec2::polar(pin_radius, line + phi);
    let out = Vec2::polar(1.0, line);
    let along = pin.dot(out);
    let slide = out * (along + (arm * arm - pin.cross(out).powi(2)).sqrt());
    let middle = pin.lerp(slide, 0.5) - (slide - pin).unit().perp() * set.bend.max(0.01);
    arc(pin, middle, slide, LOOKS)
}

#[test]
fn gaps_of_solved_arms_are_those_of_sampled_points() {
    let example = Sizes::example();
    let tables = [
        example.clone(),
        Sizes { slide_skew: trig::rad(3.0), ..example.clone() },
        Sizes { sectors: 8, closed_diameter: 1400.0, opening: Opening::Travel(230.0), ..example },
        table(DriveKind::Arms, (9, 1480.0, 170.0), (22.0, 8.0), (70.0, 27.0, 0.0), (22.0, 1.0)),
    ];
    for s in tables {
        let m = solve(&s).expect("these sizes solve");
        let arms = m.arms().expect("arms");
        let h = PI / s.sectors as f64;
        let (mut panel, mut leaf, mut pins) = (f64::INFINITY, f64::INFINITY, f64::INFINITY);
        for step in 0..=FINE_STEPS {
            let phi = arms.closed + (arms.open - arms.closed) * step as f64 / FINE_STEPS as f64;
            let fan = |set: &ArmSet, first: f64| -> Vec<Vec<Vec2>> {
                (0..s.sectors).map(|k| centre_line(set, phi, first + 2.0 * h * k as f64)).collect()
            };
            let (p, l) = (fan(&arms.panel, s.slide_skew), fan(&arms.leaf, h));
            for k in 1..=s.sectors / 2 {
                panel = panel.min(apart(&p[0], &p[k]));
                leaf = leaf.min(apart(&l[0], &l[k]));
            }
            let (upper, lower) = if arms.upper == Upper::Panel { (&p, &l) } else { (&l, &p) };
            for one in upper {
                pins = pins.min(to_line(lower[0][LOOKS], one));
            }
            for one in lower {
                pins = pins.min(to_line(upper[0][0], one));
            }
            let bow = bow_at(&arms.panel.crank, arms.panel.bend, phi, s.slide_skew);
            assert!(p[0].iter().all(|&q| bow.to_point(q) < 1e-6), "the arm itself");
        }
        // Lines of points stand inside their arcs by 0.03 mm at most.
        within("panel arms", arms.panel.neighbour_distance, panel, 0.06);
        within("leaf arms", arms.leaf.neighbour_distance, leaf, 0.06);
        let due = (panel.min(leaf) - s.arm_width).min(pins - s.arm_width / 2.0 - m.members.pin);
        within("clearance", arms.clearance, due, 0.06);
        assert!(arms.clearance >= s.arm_clearance, "{}", arms.clearance);
    }
}

/// What the maker sets is kept, whichever two lengths it is, and the travels come out all the same.
#[test]
fn lengths_given_by_the_maker_are_kept() {
    let example = Sizes::example();
    let found = solve(&example).expect("the example solves");
    let (p, l) = (found.arms().expect("arms").panel, found.arms().expect("arms").leaf);
    let given = [
        Sizes { panel_pin_radius: Some(p.crank.pin_radius), ..example.clone() },
        Sizes { panel_arm_length: Some(p.crank.arm), ..example.clone() },
        Sizes { leaf_pin_radius: Some(l.crank.pin_radius), ..example.clone() },
        Sizes { leaf_arm_length: Some(l.crank.arm), ..example.clone() },
        Sizes {
            panel_pin_radius: Some(p.crank.pin_radius),
            panel_arm_length: Some(p.crank.arm),
            panel_arm_bend: Some(p.bend),
            leaf_arm_bend: Some(l.bend),
            ..example.clone()
        },
    ];
    for s in given {
        let m = solve(&s).expect("what was found can be asked for");
        let a = m.arms().expect("arms");
        for (asked, is) in [
            (s.panel_pin_radius, a.panel.crank.pin_radius),
            (s.panel_arm_length, a.panel.crank.arm),
            (s.panel_arm_bend, a.panel.bend),
            (s.leaf_pin_radius, a.leaf.crank.pin_radius),
            (s.leaf_arm_length, a.leaf.crank.arm),
            (s.leaf_arm_bend, a.leaf.bend),
        ] {
            near("as asked", is, asked.unwrap_or(is));
        }
        near("panels", m.panel_travel(m.turn()), 225.0);
        near("leaves", m.leaf_travel(m.turn()), m.layout.leaf_travel);
        assert!(
            m.panel_overtravel() > 15.0 - 1e-6 && m.leaf_overtravel() > m.layout.leaf_overtravel_least - 1e-6
        );
    }
}
