//! The cam: a trapezoidal law, circular slots, and solved cams measured again on sampled points.

use crate::{apart, near, near_point, tight_cams, within};
use core::f64::consts::PI;
use turnleaf_geom::{Vec2, trig};
use turnleaf_mechanism::arms::TURN_LIMIT;
use turnleaf_mechanism::cam::{BRIDGE_LEAST, Cam, PRESSURE_LIMIT, SLOT_PLAY, Track, eased, eased_speed};
use turnleaf_mechanism::rollers::GLIDE_RING;
use turnleaf_mechanism::{DriveKind, Opening, Sizes, solve};

/// Trapezoid of three equal thirds: greatest speed 1.5 times the mean, a quarter of the way in the first third
/// (usual rule of motion-control handbooks, from memory). With fifths at both ends: 1.25, and an eighth.
#[test]
fn trapezoidal_law() {
    for (b, top, share) in [(1.0 / 3.0, 1.5, 0.25), (0.2, 1.25, 0.125), (0.1, 1.0 / 0.9, 0.1 / 1.8)] {
        for (u, due) in
            [(-0.3, 0.0), (0.0, 0.0), (b / 2.0, share / 4.0), (b, share), (0.5, 0.5), (1.0 - b, 1.0 - share)]
        {
            near("way", eased(u, b), due);
        }
        near("way", eased(1.0 - b / 2.0, b), 1.0 - share / 4.0);
        near("way", eased(1.0, b), 1.0);
        near("way", eased(1.3, b), 1.0);
        for (u, due) in [(0.0, 0.0), (b / 2.0, top / 2.0), (b, top), (0.5, top), (1.0 - b, top), (1.0, 0.0)] {
            near("speed", eased_speed(u, b), due);
        }
        near("speed", eased_speed(1.0 - b / 4.0, b), top / 4.0);
        near("still", eased_speed(-0.1, b) + eased_speed(1.1, b), 0.0);
    }
}

fn by_hand() -> Cam {
    Cam {
        panel: Track { closed: 100.0, travel: 60.0, over: 20.0 },
        leaf: Track { closed: 150.0, travel: 50.0, over: 10.0 },
        rise: 1.0,
        blend: 0.2,
        dwell: 0.4,
        back: 0.1,
        bridge: 0.0,
        pressure: 0.0,
    }
}

/// Out by 80 in one radian, still for 0.4, back by 20 in 0.1.
#[test]
fn the_way_of_a_pin() {
    let c = by_hand();
    near("turn", c.turn(), 1.5);
    near("farthest", c.farthest(&c.panel), 180.0);
    let panel = [(0.0, 0.0), (0.2, 10.0), (0.5, 40.0), (1.0, 80.0), (1.2, 80.0), (1.4, 80.0), (1.45, 70.0)];
    for (turn, out) in panel.into_iter().chain([(1.5, 60.0), (1.7, 60.0)]) {
        near("out", c.out(&c.panel, turn), out);
    }
    near("leaf out", c.out(&c.leaf, 0.5), 30.0);
    // 80 in one radian at 1.25 times the mean speed; back, 20 in a tenth.
    for (turn, speed) in
        [(0.1, 50.0), (0.5, 100.0), (1.2, 0.0), (1.41, -125.0), (1.45, -250.0), (1.49, -125.0)]
    {
        near("speed", c.speed(&c.panel, turn), speed);
    }
    near("pressure", trig::tan(c.pressure_at(&c.panel, 0.5)), 100.0 / 140.0);
    near("pressure going back", trig::tan(c.pressure_at(&c.panel, 1.45)), 250.0 / 170.0);
    near_point("pin", c.pin(&c.panel, 2.0, 0.5), Vec2::polar(140.0, 1.5));
}

/// The greatest pressure angle against a look at 200,001 turns, with the peak at the end of the start, inside it, and on
/// the way back; by hand where it is simple.
#[test]
fn the_steepest_place_of_a_slot() {
    let c = by_hand();
    // The way back: 20 mm in a tenth, at 1.25 times the mean, until 20·1.25·0.2/2 = 2.5 mm before its end at 160.
    near("back", trig::tan(c.greatest_pressure(&c.panel)), 250.0 / 162.5);
    // No over-travel: 100 mm in one radian, at 1.25 times the mean from 12.5 mm after its start at 100.
    let plain = Track { closed: 100.0, travel: 100.0, over: 0.0 };
    near("out", trig::tan(c.greatest_pressure(&plain)), 125.0 / 112.5);
    let near_centre = Track { closed: 1.0, travel: 200.0, over: 1.0 };
    let wide_back = Track { closed: 2.0, travel: 3.0, over: 400.0 };
    for t in [c.panel, c.leaf, plain, near_centre, wide_back] {
        for blend in [0.1, 0.2, 0.4] {
            let c = Cam { blend, ..c };
            let looks = (0..=200_000).map(|i| c.pressure_at(&t, c.turn() * f64::from(i) / 200_000.0));
            let most = looks.fold(0.0, f64::max);
            let found = c.greatest_pressure(&t);
            assert!(found >= most - 1e-12 && found - most < 1e-3, "{found} and {most} for {t:?}, {blend}");
        }
    }
}

/// Pins that stay at their radius cut slots that are arcs about the centre, 0.3 rad long.
#[test]
fn slots_that_are_arcs() {
    let still = |closed: f64| Track { closed, travel: 0.0, over: 0.0 };
    let arcs = |p: f64, l: f64| Cam {
        panel: still(p),
        leaf: still(l),
        rise: 0.1,
        dwell: 0.1,
        back: 0.1,
        ..by_hand()
    };
    let gap = |n: usize, skew: f64, p: f64, l: f64, stop: f64| arcs(p, l).centre_distance(n, skew, 400, stop);
    let pitch = PI / 3.0;
    // Neighbours of six: from the end of one to the begin of the next.
    let chord = 2.0 * 100.0 * trig::sin((pitch - 0.3) / 2.0);
    near("panels", gap(6, 0.0, 100.0, 400.0, 30.0), chord);
    near("leaves", gap(6, 0.0, 400.0, 100.0, 30.0), chord);
    // Panel and leaf, half a pitch apart: the law of cosines.
    let cosines =
        |angle: f64| (100f64.powi(2) + 150f64.powi(2) - 2.0 * 100.0 * 150.0 * trig::cos(angle)).sqrt();
    near("panel and leaf", gap(6, 0.0, 100.0, 150.0, 20.0), cosines(pitch / 2.0 - 0.3));
    near("leaf and panel", gap(6, 0.0, 150.0, 100.0, 20.0), cosines(pitch / 2.0 - 0.3));
    near("skewed", gap(6, 0.1, 100.0, 150.0, 20.0), cosines(pitch / 2.0 - 0.4));
    near("odd", gap(5, 0.0, 100.0, 150.0, 25.0), cosines(PI / 5.0 - 0.3));
    // With twelve the arcs lie beside one another.
    within("beside", gap(12, 0.0, 100.0, 112.0, 8.0), 12.0, 1e-5);
    near("far apart", gap(6, 0.0, 100.0, 400.0, 10.0), 30.0);
    assert!(gap(12, 0.0, 100.0, 101.0, 8.0) < 8.0);
}

/// Radius of the circle through three points.
fn circle(a: Vec2, b: Vec2, c: Vec2) -> f64 {
    a.dist(b) * b.dist(c) * c.dist(a) / (2.0 * (b - a).cross(c - a).abs())
}

#[test]
fn solved_cams_measured_on_points() {
    let example = Sizes { drive: DriveKind::Cam, ..Sizes::example() };
    let other =
        Sizes { sectors: 5, closed_diameter: 1100.0, opening: Opening::Travel(190.0), ..example.clone() };
    let mut narrowest = f64::INFINITY;
    let skewed = Sizes { slide_skew: trig::rad(2.0), ..example.clone() };
    for s in [example, other, skewed].into_iter().chain(tight_cams()) {
        let m = solve(&s).expect("these sizes solve");
        assert!(trig::deg(m.turn()) <= TURN_LIMIT + 1e-9);
        let (c, h) = (m.cam().expect("a cam"), PI / s.sectors as f64);
        let count = 480;
        let slot = |t: &Track, line: f64| -> Vec<Vec2> {
            (0..=count).map(|i| c.pin(t, line, c.turn() * i as f64 / count as f64)).collect()
        };
        let fan = |t: &Track, first: f64| -> Vec<Vec<Vec2>> {
            (0..s.sectors).map(|k| slot(t, first + 2.0 * h * k as f64)).collect()
        };
        let (panels, leaves) = (fan(&c.panel, s.slide_skew), fan(&c.leaf, h));
        let mut least = f64::INFINITY;
        for k in 0..s.sectors {
            if k > 0 {
                least = least.min(apart(&panels[0], &panels[k])).min(apart(&leaves[0], &leaves[k]));
            }
            least = least.min(apart(&panels[0], &leaves[k]));
        }
        let width = 2.0 * (m.members.pin + SLOT_PLAY);
        // The fine look stops once it is beyond three times what is needed.
        within("bridge", c.bridge, (least - width).min(3.0 * (width + BRIDGE_LEAST) - width), 0.05);
        assert!(c.bridge >= 6.0, "less wood than handling takes (common practice, no source)");
        narrowest = narrowest.min(c.bridge);
        let mut worst: f64 = 0.0;
        for (t, points) in [(&c.panel, &panels[0]), (&c.leaf, &leaves[0])] {
            for (i, p) in points.windows(3).enumerate() {
                let turn = 2.0 * c.turn() / count as f64;
                let (r, dr) = (p[1].norm(), (p[2].norm() - p[0].norm()) / turn);
                worst = worst.max(trig::atan2(dr.abs(), r));
                // The slot's inner wall keeps an arc of at least 0.3 mm, but for what three points miss.
                let bend = circle(p[0], p[1], p[2]);
                assert!(bend > width / 2.0 + 0.25, "bend of {bend} at {i}");
            }
            near("travel", c.out(t, c.turn()), t.travel);
        }
        // What the points miss of the peak between them.
        within("pressure", c.pressure, worst, 3e-3);
        assert!(trig::deg(c.pressure) <= PRESSURE_LIMIT);
        near("panels", m.panel_travel(m.turn()), s.travel());
        near("leaves", m.leaf_travel(m.turn()), m.layout.leaf_travel);
        near("lift", m.lift_ends() - m.lift_begins(), s.ramp_sweep);
        near("lift begins", m.lift_begins(), c.rise);
        near("peak", m.travel_peak(), c.rise + s.ramp_sweep / 2.0);
        near("panels' over-travel", m.panel_overtravel(), m.layout.panel_overtravel_least);
        near("leaves' over-travel", m.leaf_overtravel(), m.layout.leaf_overtravel_least);
        let me = &m.members;
        // Two roller circles, a wheel and two gaps each, and 10 mm stay free outside the pins.
        let circles = 2.0 * me.wheel_width + 4.0 * me.gap + 10.0;
        let most = me.turning_plate - GLIDE_RING - me.gap - s.arm_width / 2.0 - circles;
        assert!(c.farthest(&c.panel).max(c.farthest(&c.leaf)) <= most + 1e-6);
        // Both roller circles lie outside the slots, 4 mm of wood between; the base holds all of it.
        let end = c.farthest(&c.panel).max(c.farthest(&c.leaf)) + m.members.pin + SLOT_PLAY;
        let inner = m.rollers.places[2].radius;
        assert!(inner - m.members.wheel_width / 2.0 - m.members.gap >= end + 4.0 - 1e-9, "{inner} {end}");
        let reach = m.rollers.reach(m.rollers.places[0].radius, &m.members).max(end + 4.0);
        near("base", m.rollers.base_radius, reach + m.members.gap + GLIDE_RING);
    }
    // The tightest uses what is allowed.
    assert!(narrowest < 7.5, "{narrowest}");
}
