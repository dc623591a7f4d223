//! What holds for every table, whatever its sizes.
//!
//! In: sizes drawn by proptest, the same on every run. Out: pass, or the smallest sizes that break a law.
//! Always true: the laws are geometry's and mechanics' own: similar figures, mirror images, rotations, and that more
//! of a cause gives more of its effect. `TURNLEAF_PROPERTIES=20` draws twenty times as many.

use core::f64::consts::PI;
use proptest::prelude::*;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};
use turnleaf_figures::{beams, friction, tipping, tolerance, wood};
use turnleaf_geom::measure::{perimeter, symmetric_difference_area};
use turnleaf_geom::{Pose2, Region, Ring, Vec2, Vertex, boolean, check::check_ring, offset, trig};
use turnleaf_mechanism::cam::eased;
use turnleaf_mechanism::crank::Crank;
use turnleaf_mechanism::layout::layout;
use turnleaf_mechanism::lever::Lever;
use turnleaf_mechanism::stack::stack;
use turnleaf_mechanism::{DriveKind, Opening, Sizes, solve};
use turnleaf_parts::{Assembly, assemble};
use turnleaf_plan::planfile::Plan;

/// Runs a law on the same cases every time.
fn always<S: Strategy>(cases: u32, strategy: S, law: impl Fn(S::Value) -> Result<(), TestCaseError>) {
    let times: u32 = std::env::var("TURNLEAF_PROPERTIES").ok().and_then(|t| t.parse().ok()).unwrap_or(1);
    let config = Config {
        cases: cases * times,
        failure_persistence: None,
        max_shrink_iters: 500,
        max_global_rejects: 100_000,
        ..Config::default()
    };
    let rng = TestRng::deterministic_rng(RngAlgorithm::ChaCha);
    if let Err(e) = TestRunner::new_with_rng(config, rng).run(&strategy, law) {
        panic!("{e}");
    }
}

/// Sizes a maker might choose, not all of which can be solved.
fn sizes() -> impl Strategy<Value = Sizes> {
    let plan = (700.0..2000.0f64, 1.2..1.45f64, 4..12usize, 0.0..0.12f64, 40.0..60.0f64);
    let stock = (12.0..27.0f64, 0.3..2.0f64, 2.0..8.0f64, 1.0..6.0f64, any::<bool>());
    (plan, stock).prop_map(|((d, ratio, sectors, skew, tip), (stock, play, tongue, hidden, cam))| Sizes {
        drive: if cam { DriveKind::Cam } else { DriveKind::Arms },
        closed_diameter: d,
        opening: Opening::Travel(d / 2.0 * (ratio - 1.0)),
        sectors,
        slide_skew: skew,
        stock_thickness: stock,
        play,
        tongue_depth: tongue,
        hidden_margin: hidden,
        leaf_tip_half_angle: trig::rad(tip),
        ..Sizes::example()
    })
}

/// Tables that can be solved, without skew when `plain`.
fn tables(plain: bool) -> impl Strategy<Value = Assembly> {
    sizes().prop_filter_map("a table that can be solved", move |s| {
        // Near the example, where most tables can be solved.
        let s = Sizes {
            slide_skew: if plain { 0.0 } else { s.slide_skew / 4.0 },
            closed_diameter: 1000.0 + s.closed_diameter / 4.0,
            sectors: s.sectors.clamp(5, 8),
            opening: Opening::Travel((1000.0 + s.closed_diameter / 4.0) * 0.17),
            leaf_tip_half_angle: trig::rad(45.0),
            tongue_depth: 6.0,
            ..s
        };
        solve(&s).ok().map(|m| assemble(&m))
    })
}

/// A simple outline with arcs, 30 to 100 mm about the origin.
fn outlines() -> impl Strategy<Value = Ring> {
    prop::collection::vec((30.0..100.0f64, 0.1..0.9f64, -0.3..0.3f64), 3..9)
        .prop_map(|corners| {
            let n = corners.len() as f64;
            let at = |(i, (r, turn, bulge)): (usize, (f64, f64, f64))| Vertex {
                p: Vec2::polar(r, (i as f64 + turn) * 2.0 * PI / n),
                bulge,
            };
            Ring { vertices: corners.into_iter().enumerate().map(at).collect() }
        })
        .prop_filter("simple", |r| r.area() > 500.0 && check_ring(r).is_ok())
}

fn scaled(ring: &Ring, k: f64) -> Ring {
    Ring { vertices: ring.vertices.iter().map(|q| Vertex { p: q.p * k, ..*q }).collect() }
}

/// Every length of the sizes, times k.
fn larger(s: &Sizes, k: f64) -> Sizes {
    let travel = s.travel() * k;
    let times = |x: Option<f64>| x.map(|x| x * k);
    Sizes {
        drive: s.drive,
        closed_diameter: s.closed_diameter * k,
        opening: Opening::Travel(travel),
        sectors: s.sectors,
        slide_skew: s.slide_skew,
        stock_thickness: s.stock_thickness * k,
        play: s.play * k,
        tongue_depth: s.tongue_depth * k,
        tongue_thickness: times(s.tongue_thickness),
        tongue_clearance: s.tongue_clearance * k,
        fitting_gap: s.fitting_gap * k,
        hidden_margin: s.hidden_margin * k,
        leaf_tip_half_angle: s.leaf_tip_half_angle,
        height: s.height * k,
        plate_thickness: s.plate_thickness * k,
        ply_thickness: s.ply_thickness * k,
        slide_thickness: s.slide_thickness * k,
        arm_thickness: s.arm_thickness * k,
        arm_width: s.arm_width * k,
        arm_clearance: s.arm_clearance * k,
        ramp_sweep: s.ramp_sweep,
        panel_pin_radius: times(s.panel_pin_radius),
        panel_arm_length: times(s.panel_arm_length),
        panel_arm_bend: times(s.panel_arm_bend),
        leaf_pin_radius: times(s.leaf_pin_radius),
        leaf_arm_length: times(s.leaf_arm_length),
        leaf_arm_bend: times(s.leaf_arm_bend),
        edge_load: s.edge_load,
    }
}

/// Equal to some parts in a billion of the larger of a size and a length to compare with.
fn alike(what: &str, a: f64, b: f64, of: f64) -> Result<(), TestCaseError> {
    prop_assert!((a - b).abs() <= 1e-9 * of.abs().max(b.abs()), "{what}: {a} and {b}");
    Ok(())
}

// ---- similar figures

#[test]
fn a_larger_plan_is_a_similar_plan() {
    always(400, (sizes(), 0.2..5.0f64), |(s, k)| {
        let (a, b) = (layout(&s), layout(&larger(&s, k)));
        let of = k * a.radius;
        for (what, x, y) in [
            ("gap", a.gap_width, b.gap_width),
            ("gap's middle", a.gap_offset, b.gap_offset),
            ("shear", a.gap_shear, b.gap_shear),
            ("corner", a.corners[0], b.corners[0]),
            ("other corner", a.corners[1], b.corners[1]),
            ("rim", a.corner_radius, b.corner_radius),
            ("out of round", a.out_of_round, b.out_of_round),
            ("apothem", a.apothem, b.apothem),
            ("panel over-travel", a.panel_overtravel_least, b.panel_overtravel_least),
            ("leaf over-travel", a.leaf_overtravel_least, b.leaf_overtravel_least),
        ] {
            alike(what, k * x, y, of)?;
        }
        // Corners are hidden by a fixed fifth of a millimetre; where that rules, leaves are not similar.
        let by_margin = |l: &turnleaf_mechanism::layout::Layout, s: &Sizes| {
            (l.stored_rim() - (l.radius - s.hidden_margin)).abs() < 1e-9 * l.radius
        };
        if by_margin(&a, &s) && by_margin(&b, &larger(&s, k)) {
            for (what, x, y) in [
                ("leaf travel", a.leaf_travel, b.leaf_travel),
                ("shoulder", a.shoulder, b.shoulder),
                ("tip", a.tip, b.tip),
                ("star's reach", a.star_reach, b.star_reach),
            ] {
                alike(what, k * x, y, of)?;
            }
            alike("star's area", k * k * a.star_area, b.star_area, of * of)?;
        }
        Ok(())
    });
}

#[test]
fn a_larger_stack_is_a_similar_stack() {
    always(400, (sizes(), 0.2..5.0f64), |(s, k)| {
        let (a, b) = (stack(&s), stack(&larger(&s, k)));
        for (x, y) in [
            (a.panel, b.panel),
            (a.leaf, b.leaf),
            (a.star, b.star),
            (a.leaf_slide, b.leaf_slide),
            (a.rising_plate, b.rising_plate),
            (a.panel_slide, b.panel_slide),
            (a.turning_plate, b.turning_plate),
            (a.base, b.base),
        ] {
            alike("lower face", k * x.bottom, y.bottom, k * s.height)?;
            alike("upper face", k * x.top, y.top, k * s.height)?;
        }
        alike("step", k * a.step, b.step, s.height)
    });
}

#[test]
fn larger_outlines_have_larger_areas_and_offsets() {
    always(120, (outlines(), 0.1..10.0f64, 0.5..4.0f64), |(ring, k, d)| {
        let big = scaled(&ring, k);
        alike("area", k * k * ring.area(), big.area(), 0.0)?;
        alike("length", k * perimeter(&ring), perimeter(&big), 0.0)?;
        if let (Ok(a), Ok(b)) = (offset::inset(&ring, d), offset::inset(&big, k * d)) {
            prop_assert!((k * k * a.area() - b.area()).abs() < 1e-6 * b.area().abs());
        }
        Ok(())
    });
}

#[test]
fn cranks_and_levers_know_no_scale() {
    always(400, (20.0..300.0f64, 1.05..6.0f64, -3.1..3.1f64, 0.1..20.0f64), |(pin, ratio, phi, k)| {
        let (a, b) = (
            Crank { pin_radius: pin, arm: pin * ratio },
            Crank { pin_radius: k * pin, arm: k * pin * ratio },
        );
        alike("slide", k * a.slide(phi), b.slide(phi), k * pin)?;
        alike("speed", k * a.speed(phi), b.speed(phi), k * pin)?;
        alike("arm", a.arm_angle(phi), b.arm_angle(phi), 1.0)?;
        // A crank runs alike to both sides, and its speed is the rate of its slide.
        alike("other side", a.slide(-phi), a.slide(phi), pin)?;
        let h = 1e-6;
        let rate = (a.slide(phi + h) - a.slide(phi - h)) / (2.0 * h);
        prop_assert!((rate - a.speed(phi)).abs() < 1e-4 * pin * ratio, "{rate} {}", a.speed(phi));
        let (small, large) = (
            Lever { inner: pin, outer: pin * ratio, inner_offset: 3.0, outer_offset: 4.0 },
            Lever { inner: k * pin, outer: k * pin * ratio, inner_offset: 3.0 * k, outer_offset: 4.0 * k },
        );
        let rise = 0.4 * pin;
        match (small.tip_rise(rise), large.tip_rise(k * rise)) {
            (Some(x), Some(y)) => alike("tip", k * x, y, k * pin),
            (None, None) => Ok(()),
            _ => Err(TestCaseError::fail("only one of two similar levers can be lifted")),
        }
    });
}

// ---- mirror images and rotations

#[test]
fn mirror_images_have_mirrored_results() {
    always(60, (outlines(), outlines(), -40.0..40.0f64, -40.0..40.0f64), |(a, b, x, y)| {
        let b = b.moved(&Pose2::new(0.0, Vec2 { x, y }));
        let area = |r: Vec<Region>| r.iter().map(Region::area).sum::<f64>();
        let pair = |a: &Ring, b: &Ring| (Region::from(a.clone()), Region::from(b.clone()));
        let ((p, q), (pm, qm)) = (pair(&a, &b), pair(&a.mirrored_y(), &b.mirrored_y()));
        alike("area", a.area(), a.mirrored_y().area(), 0.0)?;
        if let (Ok(one), Ok(two)) = (boolean::intersection(&p, &q), boolean::intersection(&pm, &qm)) {
            prop_assert!((area(one) - area(two)).abs() < 1e-3);
        }
        if let (Ok(one), Ok(two)) = (boolean::difference(&p, &q), boolean::difference(&pm, &qm)) {
            prop_assert!((area(one) - area(two)).abs() < 1e-3);
        }
        Ok(())
    });
}

#[test]
fn a_skew_the_other_way_is_the_mirror_image() {
    always(400, sizes(), |s| {
        let other = layout(&Sizes { slide_skew: -s.slide_skew, ..s.clone() });
        let one = layout(&s);
        alike("corner", one.corners[0], other.corners[1], 0.0)?;
        alike("gap", one.gap_width, other.gap_width, 0.0)?;
        alike("middle", one.gap_offset, -other.gap_offset, one.radius)?;
        alike("shear", one.gap_shear, -other.gap_shear, one.radius)?;
        alike("rim", one.corner_radius, other.corner_radius, 0.0)
    });
}

#[test]
fn panels_and_leaves_are_their_own_mirror_images() {
    always(24, tables(true), |a| {
        for id in ["panel", "leaf"] {
            let Some(part) = a.part(id) else { return Err(TestCaseError::fail(format!("no {id}"))) };
            let mirrored = Region::from(part.outline.mirrored_y());
            match symmetric_difference_area(&Region::from(part.outline.clone()), &mirrored) {
                Ok(off) => prop_assert!(off < 1e-3, "{id} differs from its mirror image by {off} mm²"),
                Err(e) => return Err(TestCaseError::fail(e.sentence)),
            }
        }
        Ok(())
    });
}

#[test]
fn pieces_repeat_round_the_table_at_every_turn() {
    always(24, (tables(false), 0.0..1.0f64), |(a, share)| {
        let n = a.mechanism.sizes.sectors;
        let turn = share * a.mechanism.turn();
        for id in ["panel", "leaf", "panel-slide", "leaf-slide", "panel-arm", "leaf-arm"] {
            let mine: Vec<_> = a.pieces.iter().filter(|p| a.part_of(p).id == id).collect();
            // A cam has no arms.
            if mine.is_empty() && id.ends_with("arm") {
                continue;
            }
            prop_assert_eq!(mine.len(), n, "{}", id);
            let first = a.place(mine[0], turn);
            for (k, piece) in mine.iter().enumerate() {
                let round = Pose2::new(2.0 * PI * k as f64 / n as f64, Vec2::ZERO);
                let (is, due) = (a.place(piece, turn), round.after(&first.pose));
                for probe in [Vec2::ZERO, Vec2 { x: 500.0, y: 0.0 }, Vec2 { x: 0.0, y: 500.0 }] {
                    let off = is.pose.apply(probe).dist(due.apply(probe));
                    prop_assert!(off < 1e-8, "{} {} is off by {} mm", id, k, off);
                }
                prop_assert!((is.z - first.z).abs() < 1e-9);
            }
        }
        Ok(())
    });
}

/// The closed top is a disc cut into panels.
#[test]
fn panels_keep_the_area_of_the_closed_top() {
    always(24, tables(true), |a| {
        let panel = a.part("panel").map_or(f64::NAN, |p| p.outline.area());
        let n = a.mechanism.sizes.sectors as f64;
        let disc = PI * a.mechanism.layout.radius.powi(2);
        // Seams and blunted tips take a little, never more than a hundredth, and nothing is added.
        prop_assert!(n * panel <= disc * (1.0 + 1e-9) && n * panel > 0.99 * disc, "{} of {disc}", n * panel);
        Ok(())
    });
}

// ---- more of a cause, more of its effect

#[test]
fn more_gives_more() {
    always(400, (sizes(), 1.01..1.5f64), |(s, k)| {
        let thicker = Sizes { stock_thickness: s.stock_thickness * k, ..s.clone() };
        let (a, b) = (stack(&s), stack(&thicker));
        prop_assert!(b.step > a.step && b.base.bottom < a.base.bottom && b.star.bottom < a.star.bottom);
        let looser = stack(&Sizes { play: s.play * k, ..s.clone() });
        prop_assert!(looser.step > a.step && looser.base.bottom < a.base.bottom);
        let farther = Sizes { opening: Opening::Travel(s.travel() * k), ..s.clone() };
        let (p, q) = (layout(&s), layout(&farther));
        prop_assert!(q.gap_width > p.gap_width && q.corner_radius > p.corner_radius);
        prop_assert!(q.leaf_travel > p.leaf_travel && q.star_reach > p.star_reach);
        prop_assert!(q.out_of_round >= p.out_of_round);
        let finer = layout(&Sizes { sectors: s.sectors + 1, slide_skew: 0.0, ..s.clone() });
        let coarse = layout(&Sizes { slide_skew: 0.0, ..s.clone() });
        prop_assert!(finer.gap_width < coarse.gap_width && finer.out_of_round < coarse.out_of_round);
        Ok(())
    });
}

#[test]
fn heavier_longer_rougher_damper() {
    let drawn = (10.0..500.0f64, 100.0..900.0f64, 1e6..1e9f64, 1.01..2.0f64, 0.05..0.6f64, 0.02..0.5f64);
    always(400, drawn, |(load, l, ei, k, mu, slope)| {
        prop_assert!(beams::cantilever_tip(load * k, l, ei) > beams::cantilever_tip(load, l, ei));
        prop_assert!(beams::simple_even(load, l * k, ei) > beams::simple_even(load, l, ei));
        prop_assert!(beams::simple_middle(load, l, ei * k) < beams::simple_middle(load, l, ei));
        // Clamping never softens, and an even load sags less than the same load in the middle.
        prop_assert!(beams::clamped_middle(load, l, ei) < beams::simple_middle(load, l, ei));
        prop_assert!(beams::simple_even(load / l, l, ei) < beams::simple_middle(load, l, ei));
        prop_assert!(friction::push_along(load, slope, mu * k) > friction::push_along(load, slope, mu));
        prop_assert!(friction::push_level(load, slope, mu) > load * trig::tan(slope));
        let (low, high) = (20.0 + 30.0 * mu, (20.0 + 30.0 * mu) * k);
        prop_assert!(
            wood::equilibrium_moisture(20.0, high.min(98.0)) > wood::equilibrium_moisture(20.0, low)
        );
        let light = tipping::tipping_load(load, l, 200.0);
        prop_assert!(tipping::tipping_load(load * k, l, 200.0) > light);
        let halves = [mu, slope, load / 1000.0];
        let (worst, rss) = (tolerance::worst(&halves), tolerance::root_sum_square(&halves));
        prop_assert!(rss < worst && worst <= rss * 3f64.sqrt() * (1.0 + 1e-12));
        Ok(())
    });
}

#[test]
fn motions_do_not_turn_back() {
    always(200, (0.0..1.0f64, 0.0..1.0f64, 0.05..0.5f64, 5.0..60.0f64), |(u, v, blend, inner)| {
        let (low, high) = (u.min(v), u.max(v));
        prop_assert!(eased(low, blend) <= eased(high, blend) + 1e-15);
        prop_assert!((eased(1.0 - u, blend) + eased(u, blend) - 1.0).abs() < 1e-12, "not even");
        let lever = Lever { inner, outer: inner, inner_offset: 2.0, outer_offset: 2.0 };
        let rise = |share: f64| lever.tip_rise(0.6 * inner * share);
        prop_assert!(rise(high) >= rise(low));
        let crank = Crank { pin_radius: inner, arm: 2.0 * inner };
        prop_assert!(crank.slide(PI * high) <= crank.slide(PI * low) + 1e-9);
        Ok(())
    });
    always(24, (tables(false), 0.0..1.0f64, 0.0..1.0f64), |(a, u, v)| {
        let m = &a.mechanism;
        let (low, high) = (u.min(v) * m.turn(), u.max(v) * m.turn());
        prop_assert!(m.plate_rise(low) <= m.plate_rise(high) + 1e-12);
        prop_assert!(m.star_rise(low) <= m.star_rise(high) + 1e-12);
        // Out until the peak, and back from there.
        let peak = m.travel_peak();
        if high <= peak {
            prop_assert!(m.panel_travel(low) <= m.panel_travel(high) + 1e-9);
        }
        if low >= peak {
            prop_assert!(m.panel_travel(low) + 1e-9 >= m.panel_travel(high));
        }
        Ok(())
    });
}

// ---- plans

/// Saved and opened, a plan is the same plan and builds the same table, to the last digit.
#[test]
fn a_saved_plan_builds_the_same_table() {
    let drawn = (any::<bool>(), 900u32..1500, 5u32..9, 120u32..240, 0u32..64);
    let built = core::cell::Cell::new(0);
    always(16, drawn, |(inch, diameter, sectors, stock, sixty_fourths)| {
        let mut plan = if inch { Plan::default_inch() } else { Plan::default_metric() };
        let typed = if inch {
            [
                format!("{} {sixty_fourths}/64 in", diameter / 25),
                format!("{} {sixty_fourths}/64 in", diameter / 19),
            ]
        } else {
            [format!("{diameter} mm"), format!("{},5 mm", diameter * 13 / 10)]
        };
        let fields = [
            ("closed_diameter", typed[0].clone()),
            ("open_diameter", typed[1].clone()),
            ("sectors", sectors.to_string()),
            ("stock_thickness", format!("{}.{} mm", stock / 10, stock % 10)),
        ];
        for (field, text) in fields {
            prop_assert!(plan.set(field, &text).is_ok(), "{field} {text}");
        }
        let saved = plan.to_json();
        let Ok((again, said)) = turnleaf_plan::open(saved.as_bytes()) else {
            return Err(TestCaseError::fail("what was saved does not open"));
        };
        prop_assert!(said.is_empty());
        prop_assert_eq!(&again, &plan);
        prop_assert_eq!(again.to_json(), saved);
        prop_assert_eq!(turnleaf_plan::sizes(&again), turnleaf_plan::sizes(&plan));
        let table = turnleaf_plan::outline(&plan);
        built.set(built.get() + usize::from(table.is_ok()));
        prop_assert_eq!(turnleaf_plan::outline(&again), table);
        Ok(())
    });
    assert!(built.get() > 3, "only {} of the plans had a table", built.get());
}
