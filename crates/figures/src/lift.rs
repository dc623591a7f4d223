//! The lift: ramps, rollers and their springs, star levers.
//!
//! In: an assembly, assumptions, the drive. Out: figures.
//! Always true: the four rollers share the weight equally; springs are of music wire.

use crate::assumptions::Assumptions;
use crate::beams::holed_rectangle_z;
use crate::figure::{BEAMS, Figure, MEASURED, STATICS};
use crate::mass::GRAVITY;
use crate::springs::{torsion_coils, torsion_rate_turn, torsion_stress};
use crate::torque::{Drive, LEVER_PIN};
use turnleaf_geom::trig;
use turnleaf_mechanism::Mechanism;
use turnleaf_parts::Assembly;

/// Ramp steeper than this is impractical, degrees. Common practice, no source.
const STEEP: f64 = 26.0;
/// Wires a spring is wound from, mm.
const WIRES: [f64; 13] = [0.5, 0.6, 0.7, 0.8, 0.9, 1.0, 1.2, 1.4, 1.6, 1.8, 2.0, 2.2, 2.5];
/// Modulus of music wire, MPa (30·10⁶ psi, as in the published spring example).
pub const WIRE_MODULUS: f64 = 30e6 * 4.448_221_615_260_5 / (25.4 * 25.4);
/// Fewer coils than this do not make a usable torsion spring. Common practice, no source.
const LEAST_COILS: f64 = 3.0;

/// Tensile strength of music wire, MPa: 2211/d^0.145, d in mm (mechanical-design texts, from memory).
fn wire_strength(d: f64) -> f64 {
    2211.0 / trig::pow(d, 0.145)
}
/// Share of the tensile strength that a torsion spring may be bent to (from memory).
const WIRE_SHARE: f64 = 0.78;

/// A torsion spring that swings one roller down.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RollerSpring {
    /// Angle between folded and dropped, radians.
    pub swing: f64,
    /// Torque when dropped, N·mm.
    pub dropped: f64,
    /// Torque when folded, N·mm.
    pub folded: f64,
    /// Rate wanted, N·mm for a radian.
    pub rate: f64,
    /// Wire, mm.
    pub wire: f64,
    /// Coils.
    pub coils: f64,
    /// Stress when folded, MPa.
    pub stress: f64,
    /// What the wire may bear, MPa.
    pub limit: f64,
}

/// Chooses a spring: presses the dropped wheel as assumed, and half as much again when folded; the thinnest
/// wire whose stress allows it with enough coils.
pub fn roller_spring(m: &Mechanism, s: &Assumptions) -> RollerSpring {
    let r = &m.rollers;
    let folded_angle = trig::atan2(r.folded_ahead, r.folded_height);
    let lean = trig::atan2(r.dropped_behind, r.dropped_height);
    let swing = folded_angle + lean;
    // Dropped, the arm stands nearly upright, so the press is what the spring could do across the arm.
    let dropped = s.wheel_press * r.arm;
    let folded = 1.5 * dropped;
    let rate = (folded - dropped) / swing;
    let make = |wire: f64| {
        let coils = torsion_coils(WIRE_MODULUS, wire, s.coil, rate);
        let stress = torsion_stress(folded, wire, s.coil);
        RollerSpring {
            swing,
            dropped,
            folded,
            rate,
            wire,
            coils,
            stress,
            limit: WIRE_SHARE * wire_strength(wire),
        }
    };
    let fits = |x: &RollerSpring| x.stress <= x.limit && x.coils >= LEAST_COILS;
    // None fits only for absurd assumptions; the thickest wire then shows by how much.
    WIRES.into_iter().map(make).find(fits).unwrap_or_else(|| make(WIRES[WIRES.len() - 1]))
}

/// Time for a roller's arm to drop under its spring and its weight, s: uniform acceleration by the mean torque,
/// t = √(2·angle·J/M), J = mass·arm².
pub fn drop_time(m: &Mechanism, s: &Assumptions, spring: &RollerSpring) -> f64 {
    let arm = m.rollers.arm / 1000.0;
    let torque = (spring.dropped + spring.folded) / 2000.0;
    let help = s.swing_mass * GRAVITY * m.rollers.folded_ahead / 2000.0;
    (2.0 * spring.swing * s.swing_mass * arm * arm / (torque + help)).sqrt()
}

fn rollers(a: &Assembly, s: &Assumptions, drive: &Drive, out: &mut Vec<Figure>) {
    let m = &a.mechanism;
    let end = m.turn();
    let carried = drive.on_wheels(m, end);
    let d = drive.lifted();
    out.push(
        Figure::new("lift.weight", "Weight lifted by the ramps", d, "N")
            .given("weight that rises with the plate", drive.plate_weight, "N")
            .given("weight of star, hub and shaft", drive.star_weight, "N")
            .by("sum of the parts' weights", MEASURED)
            .says("Thinner leaves or a lighter star turn easier."),
    );
    out.push(
        Figure::new("roller.load", "Load on one roller", carried / 4.0, "N")
            .given("weight that rises with the plate", drive.plate_weight, "N")
            .given("weight of star, hub and shaft", drive.star_weight, "N")
            .given("ratio of star to plate", drive.star_ratio(m, m.stack.step), "ratio")
            .by("(plate + ratio·star)/4", STATICS)
            .says("Three rollers may carry it all if one ramp is low: choose wheels for twice this."),
    );
    for (id, name, i) in [("outer", "outer", 0), ("inner", "inner", 2)] {
        let radius = m.rollers.places[i].radius;
        let middle = (m.lift_begins() + m.lift_ends()) / 2.0;
        let steepest = trig::deg(trig::atan(drive.rise_rate(m, middle) / radius));
        out.push(
            Figure::new(
                format!("lift.slope-{id}"),
                format!("Ramp on the {name} circle, steepest slope"),
                steepest,
                "deg",
            )
            .given("r, radius of the circle", radius, "mm")
            .given("rise for a radian of turn", drive.rise_rate(m, middle), "mm")
            .by("atan(rise for a radian/r)", "the slope of a helix, elementary")
            .says("Steeper than the mean because the ends are eased."),
        );
    }
    let hub = m.hub_radius;
    let steep = trig::deg(trig::atan(2.0 * m.stack.step / (hub * m.sizes.ramp_sweep)));
    out.push(
        Figure::new("lift.star-ramp", "Slope a ramp would need to lift the star at its hub", steep, "deg")
            .given("rise of the star", 2.0 * m.stack.step, "mm")
            .given("r, radius of the hub", hub, "mm")
            .given("σ, sweep of the ramps", trig::deg(m.sizes.ramp_sweep), "deg")
            .by("atan(2·step/(r·σ))", "the slope of a helix, elementary")
            .says(format!("Above about {STEEP:.0}° (common practice, no source) a ramp is impractical; that is why levers lift the star.")),
    );
    let spring = roller_spring(m, s);
    let made =
        torsion_rate_turn(WIRE_MODULUS, spring.wire, s.coil, spring.coils) / (2.0 * core::f64::consts::PI);
    let common = |f: Figure| {
        f.given("d, wire", spring.wire, "mm")
            .given("D, mean coil diameter", s.coil, "mm")
            .given("N, coils", spring.coils, "count")
            .given("swing of the arm", trig::deg(spring.swing), "deg")
    };
    let source = "torsion-spring formula of spring makers' tables, E·d⁴/(10.8·D·N) for a turn";
    out.push(
        common(Figure::new("roller.spring.rate", "Roller spring, rate", made, "N·mm/rad"))
            .given("torque, dropped", spring.dropped, "N·mm")
            .given("torque, folded", spring.folded, "N·mm")
            .by("(M folded − M dropped)/swing = E·d⁴/(10.8·D·N)/2π", source)
            .says("Any spring of this rate will do; wind it so that folding tightens the coils."),
    );
    out.push(
        common(Figure::new(
            "roller.spring.stress",
            "Roller spring, stress when folded",
            spring.stress,
            "MPa",
        ))
        .at_most(spring.limit)
        .given("torque, folded", spring.folded, "N·mm")
        .by(
            "K·32·M/(π·d³), K = (4C² − C − 1)/(4C(C − 1)), C = D/d",
            format!("{source}; strength of music wire from memory"),
        )
        .says("Choose the next thicker wire, with more coils, for a spring that lasts."),
    );
    let time = drop_time(m, s, &spring);
    let allowed = m
        .rollers
        .places
        .iter()
        .map(|r| (m.rollers.landing - m.members.wheel) / (r.radius * s.turn_speed))
        .fold(f64::INFINITY, f64::min);
    out.push(
        Figure::new("roller.drop-time", "Roller, time to drop into its pocket", time, "s")
            .at_most(allowed)
            .given("mass that swings", s.swing_mass, "kg")
            .given("mean torque of the spring", (spring.dropped + spring.folded) / 2.0, "N·mm")
            .given("turning speed", s.turn_speed, "rad/s")
            .given("level floor of a pocket, less a wheel's radius", m.rollers.landing - m.members.wheel, "mm")
            .by("√(2·swing·J/M); limit = floor/(r·speed)", format!("{STATICS}, uniform acceleration; speed: common practice, no source"))
            .says("Turned faster than assumed, a roller may skip its pocket; a stronger spring or a longer floor helps."),
    );
}

fn levers(a: &Assembly, s: &Assumptions, drive: &Drive, out: &mut Vec<Figure>) -> Option<()> {
    let m = &a.mechanism;
    let part = a.part("star-lever")?;
    let count = m.lever_count as f64;
    let l = &m.lever;
    let ratio = drive.star_ratio(m, m.stack.step);
    let leaned = m.sizes.edge_load;
    let cos = trig::cos(l.tilt(m.stack.step)?);
    let material = s.material(&part.material);
    let working = material.flat_strength(part.thickness) / material.factor(s.wood_factor, s.steel_factor);
    let (width, t) = (m.members.lever_width, part.thickness);
    let z = holed_rectangle_z(width, t, LEVER_PIN);
    for (id, words, weight) in [
        ("own", "its own weight", drive.star_weight),
        ("leaned", "its weight and the edge load on it", drive.star_weight + leaned),
    ] {
        let tip = weight / count;
        let common = |f: Figure| {
            f.given("W, on the star", weight, "N").given("number of levers", count, "count").given(
                "ratio of star to plate",
                ratio,
                "ratio",
            )
        };
        out.push(
            common(Figure::new(format!("lever.pin-{id}"), format!("Star lever, force at its pin, {words}"), tip * ratio, "N"))
                .by("W/number·ratio", format!("{STATICS}, F1·a = F2·b by virtual work"))
                .says("The pin carries about twice what the tip lifts; the nose pulls the rest down from the flange."),
        );
        out.push(
            common(Figure::new(
                format!("lever.nose-{id}"),
                format!("Star lever, force of its nose on the flange, {words}"),
                tip * (ratio - 1.0),
                "N",
            ))
            .by("W/number·(ratio − 1)", STATICS)
            .says("The flange on the centre post must be held down against all noses together."),
        );
        out.push(
            common(Figure::new(format!("lever.stress-{id}"), format!("Star lever, bending stress, {words}"), tip * l.outer * cos / z, "MPa"))
                .at_most(working)
                .given("outer arm, level", l.outer * cos, "mm")
                .given("width", width, "mm")
                .given("thickness", t, "mm")
                .given("cross pin", LEVER_PIN, "mm")
                .by("F·arm/Z, Z = width·(t³ − d³)/(6·t)", format!("{BEAMS}; strength: {}; factor: common practice, no source", material.source()))
                .says("Grain along the lever. Above the limit do not lean on the star, or make the levers of metal."),
        );
    }
    Some(())
}

/// All figures of the lift.
pub fn figures(a: &Assembly, s: &Assumptions, drive: &Drive) -> Vec<Figure> {
    let mut out = Vec::new();
    rollers(a, s, drive, &mut out);
    let _ = levers(a, s, drive, &mut out);
    out
}
