//! Laws that must hold whatever the numbers.

use core::f64::consts::PI;
use turnleaf_figures::edge::EdgeCase;
use turnleaf_figures::slides::Slides;
use turnleaf_figures::torque::{Drive, Way};
use turnleaf_figures::{
    Assumptions, base, beams, figures, flush, friction, mass, section, springs, tipping, tolerance,
};
use turnleaf_geom::{Region, Ring, Vec2, trig, vec2::v};
use turnleaf_mechanism::{DriveKind, Sizes, solve};
use turnleaf_parts::{Assembly, Law, assemble};

fn table(s: &Sizes) -> Assembly {
    assemble(&solve(s).unwrap())
}

fn close(a: f64, b: f64, relative: f64) {
    assert!((a - b).abs() <= relative * a.abs().max(b.abs()).max(1e-12), "{a} {b}");
}

/// Cases of both drives.
fn tables() -> Vec<Assembly> {
    [DriveKind::Arms, DriveKind::Cam]
        .into_iter()
        .map(|drive| table(&Sizes { drive, ..Sizes::example() }))
        .collect()
}

#[test]
fn a_frictionless_turn_stores_exactly_the_lifted_weight() {
    // ∫ T dθ over the lift = W·step + W_star·(its rise − step). Nothing is lost without friction.
    let s = Assumptions {
        slide_friction: 0.0,
        glide_friction: 0.0,
        pin_friction: 0.0,
        rolling_arm: 0.0,
        axle_friction: 0.0,
        bushing_friction: 0.0,
        ..Assumptions::default()
    };
    for a in tables() {
        let m = &a.mechanism;
        let d = Drive::new(&a, &s);
        let (from, to, n) = (m.lift_begins(), m.lift_ends(), 20_000);
        let h = (to - from) / n as f64;
        let work: f64 =
            (0..n).map(|i| d.at(&a, &s, from + h * (i as f64 + 0.5), Way::Opening).whole() * h).sum();
        let stored = (d.plate_weight * m.stack.step + d.star_weight * m.star_rise(m.turn())) / 1000.0;
        close(work, stored, 1e-5);
        // Going down gives all of it back.
        let t = (from + to) / 2.0;
        let (up, down) = (d.at(&a, &s, t, Way::Opening), d.at(&a, &s, t, Way::Closing));
        close(up.whole(), -down.whole(), 1e-9);
        // And away from the lift the top turns freely.
        assert!(d.at(&a, &s, from / 2.0, Way::Opening).whole().abs() < 1e-12);
    }
}

#[test]
fn more_friction_never_turns_easier() {
    for a in tables() {
        let mut last = vec![0.0; 41];
        for k in 0..5 {
            let f = k as f64 * 0.2;
            let base = Assumptions::default();
            let s = Assumptions {
                slide_friction: base.slide_friction * f,
                glide_friction: base.glide_friction * f,
                pin_friction: base.pin_friction * f,
                rolling_arm: base.rolling_arm * f,
                axle_friction: base.axle_friction * f,
                bushing_friction: base.bushing_friction * f,
                ..base
            };
            let curve = Drive::new(&a, &s).curve(&a, &s, 40, Way::Opening);
            for (t, l) in curve.iter().zip(&mut last) {
                assert!(!t.jams);
                assert!(t.whole() >= *l - 1e-9);
                *l = t.whole();
            }
        }
    }
}

#[test]
fn a_jam_is_said_and_not_computed() {
    // Friction so great that the arm only presses the slide harder against its guides.
    let a = table(&Sizes::example());
    let s = Assumptions { slide_friction: 1.2, ..Assumptions::default() };
    let curve = Drive::new(&a, &s).curve(&a, &s, 40, Way::Opening);
    assert!(curve.iter().any(|t| t.jams));
    let all = figures(&a, &s);
    let jam = all.iter().find(|f| f.id == "slide.leaf.jam").unwrap();
    assert_eq!(jam.holds(), Some(false));
    assert_eq!(friction::slide_push(0.5, 10.0, 2.0), None);
    close(friction::slide_push(0.25, 10.0, 2.0).unwrap(), 5.0, 1e-12);
}

#[test]
fn a_heavier_load_sinks_further() {
    let base = Sizes::example();
    let mut last: Option<(f64, f64)> = None;
    for load in [50.0, 100.0, 200.0, 400.0] {
        let a = table(&Sizes { edge_load: load, ..base.clone() });
        let s = Assumptions::default();
        let set = Slides::of(&a, &mass::solids(&a, &s), Law::Panel).unwrap();
        let c = EdgeCase::of(&a, &s, &set).unwrap();
        let (glued, hinged) = (c.solve(true).unwrap(), c.solve(false).unwrap());
        let alone = c.overhang().deflection(c.slide.0);
        // Each help that is taken away lets the edge sink further.
        assert!(glued.droop < hinged.droop && hinged.droop < alone);
        // Forces of the guide hold the load, whatever the frame does inside.
        close(glued.outer - glued.inner, load, 1e-6);
        close(glued.inner, c.overhang().inner(), 1e-6);
        if let Some((l, d)) = last {
            close(glued.droop / d, load / l, 1e-9);
        }
        last = Some((load, glued.droop));
    }
}

#[test]
fn a_thicker_slide_alone_is_stiffer_by_its_cube() {
    let droop = |t: f64| {
        // Plywood changes its modulus with thickness, so a material of one modulus is given.
        let a = table(&Sizes { slide_thickness: t, ..Sizes::example() });
        let plain = turnleaf_figures::Material::Given {
            name: "test",
            density: 700.0,
            modulus: 10_000.0,
            strength: 40.0,
        };
        let s = Assumptions { materials: vec![("hardwood".into(), plain)], ..Assumptions::default() };
        let set = Slides::of(&a, &mass::solids(&a, &s), Law::Panel).unwrap();
        let c = EdgeCase::of(&a, &s, &set).unwrap();
        (c.overhang().deflection(c.slide.0), c.overhang())
    };
    let ((thin, over), (thick, same)) = (droop(10.0), droop(14.0));
    let arms = over.deflection(1.0) / same.deflection(1.0);
    close(thin / thick, arms * (1.4f64).powi(3), 1e-9);
}

#[test]
fn beams_scale() {
    // Deflection grows with the cube of length and with the load; stress of a bowed bar is linear in force.
    close(beams::cantilever_tip(2.0, 30.0, 5.0) / beams::cantilever_tip(1.0, 10.0, 5.0), 54.0, 1e-12);
    let (i1, o1) = beams::curved_bar(1.0, 80.0, 180.0, 20.0, 9.0);
    let (i2, o2) = beams::curved_bar(7.0, 80.0, 180.0, 20.0, 9.0);
    close(i2, 7.0 * i1, 1e-12);
    close(o2, 7.0 * o1, 1e-12);
    // The inside of a bow is stressed more than a straight bar would be, the outside less.
    let bend = 80.0 / beams::rectangle_z(9.0, 20.0);
    assert!(i1 - 1.0 / 180.0 > bend && o1 + 1.0 / 180.0 < bend);
    // A bow of great radius is a straight bar.
    let (i, o) = beams::curved_bar(1.0, 2.0, 1e5, 20.0, 9.0);
    close(i + o, 2.0 * 2.0 / beams::rectangle_z(9.0, 20.0), 1e-3);
}

#[test]
fn a_bowed_bar_balances_its_moment() {
    // Winkler's stresses, summed numerically over the section, give back the force and the moment.
    let (f, e, r, h, t): (f64, f64, f64, f64, f64) = (50.0, 80.0, 60.0, 24.0, 9.0);
    let (inner, outer) = beams::curved_bar(f, e, r, h, t);
    let rn = h / trig::ln((r + h / 2.0) / (r - h / 2.0));
    // σ(ρ) = B·(rn − ρ)/ρ + F/A with B from the inner edge.
    let ri = r - h / 2.0;
    let b = (inner - f / (h * t)) * ri / (rn - ri);
    let n = 20_000;
    let (mut force, mut moment) = (0.0, 0.0);
    for i in 0..n {
        let rho = ri + h * (i as f64 + 0.5) / n as f64;
        let sigma = b * (rn - rho) / rho + f / (h * t);
        force += sigma * t * h / n as f64;
        moment += sigma * (r - rho) * t * h / n as f64;
    }
    close(force, f, 1e-6);
    close(moment, f * e, 1e-6);
    close(outer, -(b * (rn - r - h / 2.0) / (r + h / 2.0) + f / (h * t)), 1e-9);
}

#[test]
fn a_pin_in_its_hole_is_in_balance() {
    // Pressure p0 at the mouth to p1 at the bottom, straight between: ∫p = F/d and ∫p·z = −F·h/d give p0.
    let (f, d, t, h) = (700.0, 10.0, 24.0, 15.0);
    let p0 = beams::pin_pressure(f, d, t, h);
    let p1 = 2.0 * f / (d * t) - p0;
    close((p0 + p1) / 2.0 * t * d, f, 1e-12);
    close(d * t * t * (p0 + 2.0 * p1) / 6.0, -f * h, 1e-9);
}

#[test]
fn springs_scale() {
    let rate = springs::torsion_rate_turn(2e5, 1.0, 8.0, 4.0);
    close(springs::torsion_rate_turn(2e5, 2.0, 8.0, 4.0), 16.0 * rate, 1e-12);
    close(springs::torsion_rate_turn(2e5, 1.0, 16.0, 8.0), rate / 4.0, 1e-12);
    for c in [3.0, 5.0, 10.0, 50.0] {
        assert!(springs::inner_factor(c) > springs::inner_factor(c + 1.0));
    }
    assert!(springs::inner_factor(1e6) - 1.0 < 1e-5);
}

#[test]
fn wider_feet_tip_later() {
    let limit = |r: f64| {
        let feet: Vec<Vec2> = (0..4).map(|k| Vec2::polar(r, PI / 4.0 + PI / 2.0 * k as f64)).collect();
        tipping::weakest(&tipping::lines(&feet), 800.0, Vec2::ZERO, 825.0).map(|x| x.1)
    };
    let mut last = 0.0;
    for r in [200.0, 400.0, 600.0, 800.0] {
        let now = limit(r).unwrap();
        assert!(now > last);
        last = now;
    }
    assert_eq!(limit(825.0 * 1.5), None);
    // Three feet, at any place: every point of the hull is one of them, the line is the nearest side.
    let three = [v(0.0, 300.0), v(-260.0, -150.0), v(260.0, -150.0), v(0.0, 0.0)];
    assert_eq!(tipping::hull(&three).len(), 3);
    let (line, _) = tipping::weakest(&tipping::lines(&three), 1.0, Vec2::ZERO, 600.0).unwrap();
    close(line.inside(Vec2::ZERO), 150.0, 1e-3);
}

#[test]
fn cuts_meet_exactly_what_is_there() {
    // A ring of radius 100 with a hole of radius 40: a line at distance d meets 2·(√(100² − d²) − √(40² − d²)).
    let ring = Region {
        outer: Ring::circle(Vec2::ZERO, 100.0),
        holes: vec![Ring::circle(Vec2::ZERO, 40.0).reversed()],
    };
    for d in [0.0, 10.0, 39.9, 50.0, 99.0] {
        let cut = section::Cut { at: v(0.0, d), along: v(1.0, 0.0) };
        let total: f64 = section::stretches(&ring, &cut).iter().map(|p| p.1 - p.0).sum();
        let hole = if d < 40.0 { 2.0 * (1600.0f64 - d * d).sqrt() } else { 0.0 };
        close(total, 2.0 * (10_000.0f64 - d * d).sqrt() - hole, 1e-6);
    }
    // Two layers, one of them holed.
    let solid: Region = Ring::circle(Vec2::ZERO, 100.0).into();
    let cut = section::Cut { at: v(0.0, 0.0), along: v(1.0, 0.0) };
    let s = section::section(&[(&ring, 12.0), (&solid, 12.0)], &cut);
    let lengths: Vec<(f64, f64)> = s.iter().map(|x| (x.length, x.thickness)).collect();
    assert_eq!(lengths.len(), 3);
    close(lengths[0].0, 60.0, 1e-9);
    close(lengths[1].0, 80.0, 1e-9);
    assert_eq!((lengths[0].1, lengths[1].1), (24.0, 12.0));
    close(section::section_i(&s), 120.0 * 24f64.powi(3) / 12.0 + 80.0 * 12f64.powi(3) / 12.0, 1e-9);
}

#[test]
fn pockets_weaken_the_base() {
    for a in tables() {
        let s = Assumptions::default();
        let d = Drive::new(&a, &s);
        let w = base::worst_cut(&a, 500.0, d.glide_radius).unwrap();
        assert!(w.stress >= w.whole);
        let twice = base::worst_cut(&a, 1000.0, d.glide_radius).unwrap();
        close(twice.stress, 2.0 * w.stress, 1e-12);
        let thin = table(&Sizes { ply_thickness: 11.0, drive: a.mechanism.sizes.drive, ..Sizes::example() });
        assert!(base::worst_cut(&thin, 500.0, d.glide_radius).unwrap().stress > w.stress);
    }
}

#[test]
fn trials_agree_with_root_sum_square() {
    // One joint's deviation in the trial is a third of the stack's root-sum-square, as each half-width is three.
    let a = table(&Sizes::example());
    let s = Assumptions { trials: 4000, ..Assumptions::default() };
    for making in [flush::Making::AsBought, flush::Making::Measured] {
        let st = flush::stacks(&a, &s, making).unwrap();
        let (_, halves) = flush::step_halves(&st.panel, &st.leaf);
        let t = flush::trial(&a, &s, &st);
        close(t.joint, tolerance::root_sum_square(&halves) / 3.0, 0.04);
        let (shift, _) = flush::step_halves(&st.panel, &st.leaf);
        assert!(t.largest <= shift.abs() + tolerance::worst(&halves) * 2.0);
        assert!(t.pulled <= t.largest && t.mean <= t.largest);
        // The same start gives the same numbers; another start nearly the same.
        assert_eq!(flush::trial(&a, &s, &st), t);
        let other = flush::trial(&a, &Assumptions { trial_start: 99, ..s.clone() }, &st);
        close(other.largest, t.largest, 0.05);
    }
}

#[test]
fn tongues_only_ever_bring_faces_nearer() {
    for step in [0.0, 0.05, 0.2, 1.0, 3.0] {
        let left = flush::pulled(step, 0.3, 0.05);
        assert!(left <= step && left <= 0.2 + 1e-12);
        assert_eq!(flush::pulled(step, f64::INFINITY, 0.0), step);
    }
}

#[test]
fn a_table_and_its_model_scale() {
    // The same mass computed from volumes: a panel is a sector less grooves and holes.
    let a = table(&Sizes::example());
    let s = Assumptions::default();
    let all = mass::solids(&a, &s);
    let panel = a.parts.iter().position(|p| p.id == "panel").unwrap();
    let lay = &a.mechanism.layout;
    let whole = lay.radius * lay.radius * lay.half_sector * a.mechanism.sizes.stock_thickness;
    assert!(all[panel].volume < whole && all[panel].volume > 0.97 * whole);
    close(all[panel].mass, all[panel].volume * 680e-9, 1e-12);
    // The centre of a sector lies at 2·R·sin h/(3·h).
    let centre = 2.0 * lay.radius * trig::sin(lay.half_sector) / (3.0 * lay.half_sector);
    assert!((all[panel].centre.x - centre).abs() < 3.0 && all[panel].centre.y.abs() < 1e-6);
    // Turning moves nothing off the axis: every ring of pieces is even, rollers stand in opposite pairs.
    for turn in [0.0, 0.7, a.mechanism.turn()] {
        let body = mass::gather(&a, &all, turn, |_, _| true);
        assert!(body.centre.norm() < 5.0);
        // Screws are only listed.
        let placed = |i: usize| a.pieces.iter().filter(|p| p.part == i).count() as f64;
        close(body.mass, all.iter().enumerate().map(|(i, s)| s.mass * placed(i)).sum(), 1e-9);
    }
}
