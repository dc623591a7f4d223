//! Solved tables: travels, lift, rollers and levers from the pins' places alone.

use crate::{at, near, table, tight_arms, tight_cams, to_line};
use core::f64::consts::PI;
use turnleaf_geom::{Vec2, trig};
use turnleaf_mechanism::arms::{Upper, bow_at};
use turnleaf_mechanism::members::SLIDE_TONGUE;
use turnleaf_mechanism::rollers::{GLIDE_RING, RAIL, SLOPE_LIMIT};
use turnleaf_mechanism::{DriveKind, Mechanism, Opening, Sizes, Unit, numbers, solve};

fn example() -> Mechanism {
    solve(&Sizes::example()).expect("the example solves")
}

/// Where the slide pin stands: foot of the crank pin on the slide line, and the arm's reach beyond it.
fn reach(radius: f64, arm: f64, angle: f64) -> f64 {
    let pin = Vec2::polar(radius, angle);
    pin.x + (arm * arm - pin.y * pin.y).sqrt()
}

#[test]
fn travels_are_differences_of_the_pins_places() {
    let m = example();
    let a = m.arms().expect("arms");
    let (p, l) = (a.panel.crank, a.leaf.crank);
    let half = trig::rad(12.0);
    near("whole turn", m.turn(), a.open - a.closed);
    near("lift begins", m.lift_begins() + a.closed, -half);
    near("lift ends", m.lift_ends() + a.closed, half);
    near("peak", m.travel_peak() + a.closed, 0.0);
    let (p0, l0) = (reach(p.pin_radius, p.arm, a.closed), reach(l.pin_radius, l.arm, a.closed));
    near("panel pin, closed", m.panel_pin_closed(), p0);
    near("leaf pin, closed", m.leaf_pin_closed(), l0);
    near("panel pin, farthest", m.panel_pin_farthest(), p.pin_radius + p.arm);
    near("leaf pin, farthest", m.leaf_pin_farthest(), l.pin_radius + l.arm);
    near("panels open", reach(p.pin_radius, p.arm, a.open) - p0, 225.0);
    near("leaves open", reach(l.pin_radius, l.arm, a.open) - l0, m.layout.leaf_travel);
    near("panel travel", m.panel_travel(m.turn()), 225.0);
    near("greatest", m.panel_travel_most(), p.pin_radius + p.arm - p0);
    near("greatest, leaves", m.leaf_travel_most(), l.pin_radius + l.arm - l0);
    let over = |a: f64, arm: f64, open: f64| reach(a, arm, half) - reach(a, arm, open);
    near("over-travel", m.panel_overtravel(), over(p.pin_radius, p.arm, a.open));
    near("over-travel, leaves", m.leaf_overtravel(), over(l.pin_radius, l.arm, a.open));
    assert!(m.panel_overtravel() >= 15.0 - 1e-6, "7.5 mm to let go at 30°");
}

/// The lift: a trapezoid of a tenth at both ends over 20 mm, the star twice that at its end.
#[test]
fn the_lift_and_its_star() {
    let m = example();
    let at = |share: f64| m.lift_begins() + share * trig::rad(24.0);
    for (share, rise) in [(-0.2, 0.0), (0.0, 0.0), (0.1, 20.0 / 18.0), (0.5, 10.0), (1.0, 20.0), (1.4, 20.0)]
    {
        near("plate", m.plate_rise(at(share)), rise);
        near("share", m.lift_share(at(share)), rise / 20.0);
    }
    near("star", m.star_rise(m.turn()), 40.0);
    near("off flush", m.star_error(), 0.0);
    near("star, down", m.star_rise(0.0), 0.0);
    near("slope", trig::tan(m.ramp_slope(200.0)), 20.0 / (200.0 * trig::rad(24.0)));
    near("lever's tilt", trig::deg(m.lever.tilt(20.0).expect("it tilts")).min(38.0), tilt_by_hand(&m));
    near("noses above the levers' axes", m.lever.inner_offset, 4.0);
    near("noses above the levers' axes", m.lever.outer_offset, 4.0);
}

/// The lever's tilt, by halving: its inner nose, 4 above the axis, stays down while the pin rises by 20.
fn tilt_by_hand(m: &Mechanism) -> f64 {
    let (mut low, mut high) = (0.0, 60.0);
    for _ in 0..60 {
        let mid = (low + high) / 2.0;
        let (s, c) = trig::sin_cos(trig::rad(mid));
        if 20.0 - m.lever.inner * s + 4.0 * c > 4.0 { low = mid } else { high = mid }
    }
    low
}

#[test]
fn slides_hub_and_posts_keep_their_distances() {
    let (mut crowded, mut shared) = (0, 0);
    let plain = [DriveKind::Arms, DriveKind::Cam].map(|drive| Sizes { drive, ..Sizes::example() });
    for s in plain.into_iter().chain(tight_arms()).chain(tight_cams()) {
        let m = solve(&s).expect("these sizes solve");
        let (me, h) = (&m.members, PI / s.sectors as f64);
        near("leaf slide's end", m.leaf_slide_inner, m.leaf_pin_closed() - 2.0 * me.pin - 4.0);
        near("panel slide's end", m.panel_slide_outer(), me.outer_post + me.post + 2.0);
        near("leaf slide's other end", m.leaf_slide_outer(), me.rising_plate - 4.0);
        near("hub", m.hub_radius, 18.0 + m.lever.inner + m.lever.outer + 8.0);
        assert!(m.hub_radius + 2.0 <= m.leaf_slide_inner + 1e-9, "levers stay inside the leaf slides");
        // As long as 24° of tilt ask for, or as both arms, 2.07 inner ones at most, have room.
        let room = m.leaf_slide_inner - me.gap - 8.0 - 18.0;
        near("lever", m.lever.inner, (m.stack.step / trig::sin(trig::rad(24.0))).min(room / 2.07));
        crowded += usize::from(room / 2.07 < m.stack.step / trig::sin(trig::rad(24.0)));
        // Clear of stored leaves, of skewed guides and of the hub; and off the pin by both radii and 6 mm of wood.
        let aside = trig::sin(h - s.slide_skew);
        let mut post = s.travel() + (me.post + s.tongue_depth + me.gap) / aside;
        if s.slide_skew > 0.0 {
            post = post.max((me.slide_width / 2.0 + RAIL + 1.0 + me.post + me.gap) / aside);
        }
        post = post.max(m.hub_radius + me.gap + me.post + 2.0);
        let need = me.pin + me.post / 2.0 + 6.0;
        let shares = (post - m.panel_pin_closed()).abs() < need;
        near("inner post", me.inner_post, if shares { m.panel_pin_closed() + need } else { post });
        shared += usize::from(shares);
        near("engaged", m.panel_engaged(), me.turning_plate - m.panel_slide_inner - m.panel_travel_most());
        near(
            "engaged, leaves",
            m.leaf_engaged(),
            me.rising_plate - m.leaf_slide_inner - m.leaf_travel_most(),
        );
        assert!(m.leaf_engaged() >= 1.5 * me.slide_width - 1e-9);
        // Arms as wide as they are, and the glide ring, stay under the turning plate.
        let pin_to_plate = me.turning_plate - GLIDE_RING - me.gap - s.arm_width / 2.0;
        assert!(m.panel_pin_farthest().max(m.leaf_pin_farthest()) <= pin_to_plate + 1e-9);
        // Tongues and half the gap between slides that lie side by side.
        let half = me.slide_width / 2.0 + SLIDE_TONGUE + me.gap / 2.0;
        assert!(m.panel_slide_inner * trig::tan(h) >= half - 1e-9);
        assert!(m.leaf_slide_inner * trig::tan(h) >= half - 1e-9);
    }
    assert!(crowded > 0 && shared > 0, "{crowded} short levers, {shared} posts moved off their pins");
}

/// Levers repeat round the table where three do; elsewhere half the sectors, where that is a whole number.
#[test]
fn levers_by_sectors() {
    for (sectors, levers) in [(4, 4), (5, 3), (6, 3), (7, 3), (8, 4), (9, 3), (10, 5)] {
        let s = Sizes {
            sectors,
            closed_diameter: 1500.0,
            opening: Opening::Travel(220.0),
            leaf_tip_half_angle: trig::rad(50.0),
            tongue_depth: 3.0,
            arm_width: 12.0,
            ..Sizes::example()
        };
        let m = solve(&s).unwrap_or_else(|t| panic!("{sectors} sectors: {t:?}"));
        assert_eq!(m.lever_count, levers, "{sectors} sectors");
    }
}

#[test]
fn rollers_stand_clear_of_slides_slots_and_arms() {
    let skewed = Sizes { slide_skew: trig::rad(3.0), ..Sizes::example() };
    let odd = Sizes { sectors: 7, arm_width: 16.0, ..Sizes::example() };
    let cam = Sizes { drive: DriveKind::Cam, ..Sizes::example() };
    for s in [Sizes::example(), skewed, odd, cam].into_iter().chain(tight_arms()).chain(tight_cams()) {
        let m = solve(&s).expect("these sizes solve");
        let (me, r, h) = (&m.members, &m.rollers, PI / s.sectors as f64);
        let [outer, _, inner, _] = r.places;
        assert!(outer.radius - inner.radius >= me.wheel_width + 2.0 * me.gap - 1e-9);
        for k in [0, 2] {
            let (one, other) = (r.places[k], r.places[k + 1]);
            near("opposite", (other.direction - one.direction).abs(), PI);
            near("opposite", other.radius, one.radius);
            assert!(trig::deg(m.ramp_slope(one.radius)) <= SLOPE_LIMIT);
        }
        let apart = (inner.direction - outer.direction).rem_euclid(PI);
        assert!((apart - PI / 2.0).abs() <= PI / 4.0, "pairs stand crosswise, {}°", trig::deg(apart));
        let wheels = r.reach(outer.radius, me);
        let sweep = m
            .arms()
            .map_or(0.0, |a| a.panel.crank.dead_centre().max(a.leaf.crank.dead_centre()) + s.arm_width / 2.0);
        if m.arms().is_some() {
            near("base", r.base_radius, wheels.max(sweep) + me.gap + GLIDE_RING);
        }
        assert!(r.base_radius <= me.turning_plate + 1e-9);
        let (from, to, half) = r.opening(me);
        for place in r.places {
            let out = Vec2::polar(1.0, place.direction);
            let points = (0..=6).flat_map(|i| {
                let along = out * place.radius + out.perp() * (from + (to - from) * f64::from(i) / 6.0);
                [along - out * half, along + out * half]
            });
            for p in points {
                for k in 0..s.sectors {
                    let turn = 2.0 * h * k as f64;
                    let on_slide = p.rot(-(s.slide_skew + turn));
                    let rail = me.slide_width / 2.0 + RAIL + 1.0;
                    assert!(on_slide.x <= 0.0 || on_slide.y.abs() >= rail - 1e-9, "in a slide's rail");
                    let slot = [at(m.leaf_pin_closed(), 0.0), at(m.leaf_pin_farthest(), 0.0)];
                    let gap = to_line(p.rot(-(h + turn)), &slot);
                    assert!(gap >= me.sleeve + 4.0 - 1e-9, "{gap} from a leaf pin's slot");
                    let Some(a) = m.arms() else { continue };
                    for look in 0..=20 {
                        let phi = a.closed + (a.open - a.closed) * f64::from(look) / 20.0;
                        for (set, line) in [(&a.panel, s.slide_skew), (&a.leaf, h)] {
                            let gap = bow_at(&set.crank, set.bend, phi, line + turn).to_point(p);
                            assert!(gap >= s.arm_width / 2.0 + 0.5 - 1e-9, "{gap} from an arm's middle");
                        }
                    }
                }
            }
        }
    }
}

/// What the list of numbers says of the example, each worked out from the sizes alone.
#[test]
fn the_list_of_numbers() {
    let list = numbers(&example());
    let value = |id: &str| list.iter().find(|n| n.id == id).map_or(f64::NAN, |n| n.value);
    let m = example();
    let (outer, inner) = (m.rollers.places[0].radius, m.rollers.places[2].radius);
    let root = 3f64.sqrt();
    // ρ² = 600² + 2·600·225·√3/2 + 225²; shoulders at 225·√3/2 + l.
    let rho = (360_000.0 + 135_000.0 * root + 50_625.0).sqrt();
    let l = rho - 597.0;
    let s = 112.5 * root + l;
    for (id, due) in [
        ("closed.diameter", 1200.0),
        ("closed.radius", 600.0),
        ("open.diameter", 1650.0),
        ("open.corner-diameter", 2.0 * rho),
        ("sectors", 6.0),
        ("panel.angle", 60.0),
        ("panel.travel", 225.0),
        ("panel.corner-radius", rho),
        ("open.out-of-round", 825.0 - rho),
        ("gap.width", 225.0),
        ("gap.apothem", 112.5 * root),
        ("leaf.travel", l),
        ("leaf.shoulder", s),
        ("leaf.tip", s - 112.5),
        ("leaf.tip-half-angle", 45.0),
        ("star.reach", (s * s + 112.5 * 112.5).sqrt()),
        ("overtravel.panel-least", 15.0),
        ("overtravel.leaf-least", 7.5 * 2f64.sqrt()),
        ("lift.step", 20.0),
        ("lift.star", 40.0),
        ("lift.star-error", 0.0),
        ("lift.lever-count", 3.0),
        ("roller.outer-arc", outer * trig::rad(24.0)),
        ("roller.inner-arc", inner * trig::rad(24.0)),
        ("roller.wheel", 26.0),
        ("plate.turning-radius", 588.0),
        ("plate.rising-radius", 566.0),
        ("post.outer-radius", 578.0),
        ("stack.top", 740.0),
        ("stack.mechanism", 170.0),
        ("stack.surfaces", 59.0),
        ("stack.base-bottom", 570.0),
        ("opening.ratio", 1.375),
    ] {
        near(id, value(id), due);
    }
    near("arms.upper", value("arms.upper"), 2.0);
    let s = table(DriveKind::Arms, (5, 1400.0, 266.0), (13.0, 4.0), (60.0, 21.0, 3.0), (20.0, 3.0));
    let panels_above = solve(&s).expect("it solves");
    assert_eq!(panels_above.arms().map(|a| a.upper), Some(Upper::Panel));
    let upper = numbers(&panels_above).into_iter().find(|n| n.id == "arms.upper").map(|n| n.value);
    assert_eq!(upper, Some(1.0));
    assert!(list.iter().all(|n| n.value.is_finite() && n.id != "panel.skew"));
    let angles = list.iter().filter(|n| n.unit == Unit::Deg).map(|n| n.unit.symbol());
    assert!(angles.clone().count() > 8 && angles.clone().all(|a| a == "deg"));
    let skewed = solve(&Sizes { slide_skew: trig::rad(3.0), ..Sizes::example() }).expect("it solves");
    let list = numbers(&skewed);
    let value = |id: &str| list.iter().find(|n| n.id == id).map_or(f64::NAN, |n| n.value);
    near("skew", value("panel.skew"), 3.0);
    near("nearer corner", value("panel.corner-nearer"), skewed.layout.rim_corners()[1].norm());
    near("nearer shoulder", value("leaf.shoulder-nearer"), skewed.layout.shoulders()[1].x);
}
