//! Torque, push at the rim, and masses as figures.
//!
//! In: an assembly, assumptions, the drive, solids. Out: figures.
//! Always true: the largest torques are looked for at evenly spaced turns; the whole curve is in
//! [`crate::torque`].

use crate::assumptions::Assumptions;
use crate::figure::{Figure, MEASURED};
use crate::mass::{Solid, gather, turns};
use crate::torque::{Drive, TorqueAt, Way};
use turnleaf_geom::trig;
use turnleaf_parts::{Assembly, Motion, Rise};

/// Turns looked at.
const LOOKS: usize = 240;
const WORK: &str = "virtual work (elementary mechanics); friction values are assumptions";

/// Figures of torque.
pub fn torque(a: &Assembly, s: &Assumptions, drive: &Drive) -> Vec<Figure> {
    let m = &a.mechanism;
    let curve = drive.curve(a, s, LOOKS, Way::Opening);
    let back = drive.curve(a, s, LOOKS, Way::Closing);
    let largest = |by: fn(&TorqueAt) -> f64| {
        curve.iter().copied().fold(TorqueAt::default(), |x, y| if by(&y) > by(&x) { y } else { x })
    };
    let level = largest(TorqueAt::level);
    let whole = largest(TorqueAt::whole);
    let r = m.layout.radius / 1000.0;
    let parts = |f: Figure, t: &TorqueAt| {
        f.given("turn", trig::deg(t.turn), "deg")
            .given("glide ring", t.glide, "N·m")
            .given("rollers, level", t.roll, "N·m")
            .given("panel slides and arms", t.panels, "N·m")
            .given("leaf slides and arms", t.leaves, "N·m")
            .given("lever noses under the flange", t.noses, "N·m")
            .given("lift", t.lift, "N·m")
    };
    let formula = "Σ friction·slip + W·rise for a radian of turn; ramps W·tan(slope + friction angle)·r";
    let mut out = vec![
        parts(Figure::new("torque.level", "Largest torque without the lift", level.level(), "N·m"), &level)
            .by("Σ friction·slip for a radian of turn", WORK)
            .says("Most of it is the glide ring: wax it, or bring it nearer the centre."),
        parts(Figure::new("torque.whole", "Largest torque with the lift", whole.whole(), "N·m"), &whole)
            .by(formula, WORK)
            .says("A longer ramp sweep, larger wheels or a lighter top turn easier."),
        Figure::new("torque.rim", "Largest push at the closed rim, one hand", whole.whole() / r, "N")
            .at_most(s.hand_push)
            .given("T, largest torque", whole.whole(), "N·m")
            .given("R, closed radius", m.layout.radius, "mm")
            .by("T/R", format!("{WORK}; limit: common practice, no source"))
            .says("Two people opposite each other push half of this each."),
    ];
    // While the lift lasts, closing: what is left of the torque when the top helps.
    let lowering = back
        .iter()
        .filter(|t| t.turn > m.lift_begins() && t.turn < m.lift_ends())
        .map(TorqueAt::whole)
        .fold(f64::INFINITY, f64::min);
    if lowering.is_finite() {
        out.push(
            Figure::new("torque.lowering", "Least torque while the top goes down", lowering, "N·m")
                .at_least(0.0)
                .given("W, weight lifted", drive.lifted(), "N")
                .given("friction angle of a wheel", trig::deg(drive.wheel_angle), "deg")
                .by("Σ friction·slip + W·tan(friction angle − slope)·r", WORK)
                .says("Below nothing the top runs down by itself: hold it back, and keep hands clear of the edges."),
        );
    }
    out
}

/// Figures of mass.
pub fn mass(a: &Assembly, solids: &[Solid]) -> Vec<Figure> {
    let m = &a.mechanism;
    let source = format!("{MEASURED}; densities of the materials assumed");
    let mut out = Vec::new();
    let mut total = |id: &str, label: &str, body: crate::mass::Body, says: &str| {
        out.push(
            Figure::new(format!("mass.{id}"), label, body.mass, "kg")
                .given("height of its centre above the floor", body.z, "mm")
                .given("centre aside of the table's axis", body.centre.norm(), "mm")
                .by("Σ volume·density", source.clone())
                .says(says),
        );
    };
    let not_counted = "Screws, glue, the centre bearing and finish are not counted.";
    total(
        "whole.closed",
        "Mass of the whole table, closed",
        gather(a, solids, 0.0, |_, _| true),
        not_counted,
    );
    total(
        "whole.open",
        "Mass of the whole table, open",
        gather(a, solids, m.turn(), |_, _| true),
        not_counted,
    );
    total(
        "turning",
        "Mass of everything that turns",
        gather(a, solids, 0.0, |p, _| turns(p)),
        "Two people carry it; lift it straight up off the centre post.",
    );
    let rising = |p: &turnleaf_parts::Piece| match p.motion {
        Motion::Turning(r) | Motion::Sliding { rise: r, .. } => r != Rise::None,
        Motion::Lever | Motion::Roller => true,
        Motion::Base | Motion::Arm { .. } => false,
    };
    total(
        "lifted",
        "Mass of everything that rises",
        gather(a, solids, 0.0, |p, _| rising(p)),
        "What the ramps lift.",
    );
    total(
        "fixed",
        "Mass of what stands still, arms included",
        gather(a, solids, 0.0, |p, _| !turns(p)),
        not_counted,
    );
    // What is only listed, such as screws, has no place and is not counted.
    let placed = |i: usize| a.pieces.iter().any(|p| p.part == i);
    for (_, (p, s)) in a.parts.iter().zip(solids).enumerate().filter(|(i, _)| placed(*i)) {
        out.push(
            Figure::new(
                format!("mass.part.{}", p.id),
                format!("{}, all together", p.name),
                s.mass * p.count as f64,
                "kg",
            )
            .given("number", p.count as f64, "count")
            .given("one of them", s.mass, "kg")
            .given("volume of one", s.volume / 1e6, "dm³")
            .by("number·volume·density", source.clone())
            .says(match p.id.as_str() {
                "drop-roller" | "bushing" => "Bought: an assumed mass.",
                _ => "For lifting, posting and pricing.",
            }),
        );
    }
    out
}
