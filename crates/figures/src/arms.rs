//! Arms or cam slots, their pins, and the guide shafts: forces and stresses.
//!
//! In: an assembly, assumptions, the drive. Out: figures.
//! Always true: an arm is a two-force member, so its force runs along the line from pin to pin and its bow adds
//! the moment F·bend.
//!
//! Two loads are looked at: the largest force of a smooth turn, and one slide stuck fast while a person pushes
//! the rim with all that is asked of one, so that a single arm or slot takes the whole torque: closed for
//! arms, at the steepest part of the rise for slots.

use crate::assumptions::Assumptions;
use crate::beams::{
    bow_radius, cantilever_tip, curved_bar, euler, pin_pressure, rectangle_i, round_i, round_z,
};
use crate::figure::{BEAMS, Figure, STATICS};
use crate::friction::push_level;
use crate::slides::{Follower, Slides};
use crate::torque::Drive;
use turnleaf_geom::trig;
use turnleaf_parts::build::{PinPlate, pin_plate};
use turnleaf_parts::{Assembly, Law};

/// Turns looked at for the largest arm force.
const LOOKS: usize = 120;
/// A strut's load must stay this many times below its buckling load. Common practice, no source.
const BUCKLING_FACTOR: f64 = 3.0;
/// Bearing of a steel pin on plywood or hardwood, across the pin, MPa: what keeps a hole from growing.
/// Common practice, no source.
const PIN_BEARING: f64 = 20.0;
const WINKLER: &str = "Winkler's theory of curved beams (engineering handbooks)";

/// Forces on one pin of a set, N.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PinForces {
    /// Largest in a smooth turn.
    pub smooth: f64,
    /// The turn it happens at, radians.
    pub at: f64,
    /// One pin alone against a push at the rim.
    pub stuck: f64,
    /// Leverage of its force about the table's centre then, mm.
    pub leverage: f64,
}

/// Forces of a set.
pub fn forces(a: &Assembly, s: &Assumptions, slides: &Slides) -> PinForces {
    let whole = a.mechanism.turn();
    let (mut smooth, mut at, mut most) = (0.0, 0.0, 0.0f64);
    for i in 0..=LOOKS {
        let turn = whole * i as f64 / LOOKS as f64;
        let force = slides.drag(a, s, turn).force;
        if force > smooth {
            (smooth, at) = (force, turn);
        }
        most = most.max(slides.follower.leverage(turn));
    }
    let leverage = match slides.follower {
        Follower::Arm { .. } => slides.follower.leverage(0.0),
        Follower::Slot { .. } => most,
    };
    PinForces { smooth, at, stuck: s.hand_push * a.mechanism.layout.radius / leverage, leverage }
}

/// Plain names of a set.
fn names(law: Law) -> (&'static str, &'static str) {
    match law {
        Law::Panel => ("panel", "Panel"),
        Law::Leaf => ("leaf", "Leaf"),
    }
}

fn set(a: &Assembly, s: &Assumptions, slides: &Slides, out: &mut Vec<Figure>) {
    let (id, what) = names(slides.law);
    let f = forces(a, s, slides);
    let drag = slides.drag(a, s, f.at);
    let (group, rule) = match slides.follower {
        Follower::Arm { .. } => ("arm", "F = μ·S/(1 − μ·k)/cos ψ"),
        // φ is the pin's friction angle along the slot, which k holds too.
        Follower::Slot { .. } => ("slot", "F = μ·S/(1 − μ·k)·cos φ/cos(ψ + φ)"),
    };
    out.push(
        Figure::new(
            format!("{group}.{id}.force"),
            format!("{what} {group}, largest force in a smooth turn"),
            f.smooth,
            "N",
        )
        .given("turn", trig::deg(f.at), "deg")
        .given("S, contact of the slide from weight", drag.weight_contact, "N")
        .given("k, contact for a newton of push", drag.contact_per_push, "ratio")
        .given("μ, friction of the slide", s.slide_friction, "ratio")
        .by(rule, STATICS)
        .says("Small: a smooth table hardly loads its drive."),
    );
    match slides.follower {
        Follower::Arm { crank, bend, level, .. } => {
            let _ = arm(
                a,
                s,
                slides,
                &f,
                Shape { length: crank.arm, bend: bend.abs(), thickness: level.thickness() },
                out,
            );
        }
        Follower::Slot { cam, plate, .. } => {
            let _ = slot(a, s, slides, &f, cam.bridge, plate.thickness(), out);
        }
    }
    let m = &a.mechanism;
    let push_limit = 1.0 / worst_contact(a, s, slides);
    out.push(
        Figure::new(
            format!("slide.{id}.jam"),
            format!("{what} slide, friction at which it jams"),
            push_limit,
            "ratio",
        )
        .at_least(s.slide_friction)
        .given("k, contact for a newton of push, worst turn", 1.0 / push_limit, "ratio")
        .given("height of the slide above its drive", slides.above, "mm")
        .given("slide held in its guide, shortest", slides.drag(a, s, m.lift_ends()).engaged, "mm")
        .by("1/k, k = tan ψ·(1 + 2·o/b) + 2·h/b", format!("{STATICS} (a drawer that binds)"))
        .says("Wax the slides. Above this friction no push along the drive moves the slide."),
    );
    pins(a, s, slides, &f, out);
}

/// An arm's shape, mm.
struct Shape {
    length: f64,
    bend: f64,
    thickness: f64,
}

fn arm(
    a: &Assembly,
    s: &Assumptions,
    slides: &Slides,
    f: &PinForces,
    shape: Shape,
    out: &mut Vec<Figure>,
) -> Option<()> {
    let m = &a.mechanism;
    let (id, what) = names(slides.law);
    let part = a.part(&format!("{id}-arm"))?;
    let material = s.material(&part.material);
    let width = m.sizes.arm_width;
    let strength = material.edge_strength(shape.thickness);
    let working = strength / material.factor(s.wood_factor, s.steel_factor);
    // Largest stress for one newton.
    let (inner, outer) =
        curved_bar(1.0, shape.bend, bow_radius(shape.length, shape.bend), width, shape.thickness);
    let unit = inner.abs().max(outer.abs());
    let common = |fig: Figure| {
        fig.given("e, bend of the arm", shape.bend, "mm").given("width of the arm", width, "mm").given(
            "thickness of the arm",
            shape.thickness,
            "mm",
        )
    };
    let name = |tail: &str| format!("arm.{id}.{tail}");
    let words = |tail: &str| format!("{what} arm, {tail}");
    let source = format!("{WINKLER}; strength: {}", material.source());
    out.push(
        common(Figure::new(name("stress"), words("stress in a smooth turn"), f.smooth * unit, "MPa"))
            .at_most(working)
            .given("F, force along the arm", f.smooth, "N")
            .by("curved bar, M = F·e, plus F/A", format!("{source}; factor: common practice, no source"))
            .says("The bow bends the arm; a wider arm helps with its width squared."),
    );
    out.push(
        common(Figure::new(
            name("stuck"),
            words("push at the closed rim that breaks it when its slide is stuck"),
            strength / unit * f.leverage / m.layout.radius,
            "N",
        ))
        .at_least(s.hand_push)
        .given("leverage of one arm about the centre, closed", f.leverage, "mm")
        .given("R, closed radius", m.layout.radius, "mm")
        .by("strength/(stress for 1 N)·leverage/R", format!("{source}; limit: common practice, no source"))
        .says("Below the limit: never force a top that will not turn. Wider or steel arms would stand it."),
    );
    let ei = material.edge_modulus(shape.thickness) * rectangle_i(width, shape.thickness);
    out.push(
        common(Figure::new(
            name("buckling"),
            words("buckling load out of its plane"),
            euler(ei, 1.0, shape.length),
            "N",
        ))
        .at_least(BUCKLING_FACTOR * f.smooth)
        .given("L, pin to pin", shape.length, "mm")
        .given("F, largest force", f.smooth, "N")
        .by("π²·E·I/L²; limit 3·F", format!("{BEAMS}; factor: common practice, no source"))
        .says("The plates above and below also hold the arm flat."),
    );
    Some(())
}

/// The wood between two slots of a cam plate.
fn slot(
    a: &Assembly,
    s: &Assumptions,
    slides: &Slides,
    f: &PinForces,
    bridge: f64,
    thickness: f64,
    out: &mut Vec<Figure>,
) -> Option<()> {
    let m = &a.mechanism;
    let (id, what) = names(slides.law);
    let d = 2.0 * m.members.pin;
    let plate = s.material(&a.part("cam-plate")?.material);
    let common = |fig: Figure| {
        fig.given("F, one slot alone against the push", f.stuck, "N").given(
            "thickness of the plate",
            thickness,
            "mm",
        )
    };
    out.push(
        common(Figure::new(
            format!("slot.{id}.bridge"),
            format!("{what} slot, shear in the bridge beside it, slide stuck"),
            1.5 * f.stuck / (2.0 * bridge * thickness),
            "MPa",
        ))
        .at_most(PANEL_SHEAR / s.wood_factor)
        .given("bridge to the next slot", bridge, "mm")
        .by(
            "1.5·F/(2·bridge·thickness)",
            format!(
                "{BEAMS}; shear strength {PANEL_SHEAR} MPa from memory; factor: common practice, no source"
            ),
        )
        .says("Glue the cam plate to the base, so that its bridges cannot bend."),
    );
    out.push(
        common(Figure::new(
            format!("slot.{id}.bearing"),
            format!("{what} slot, pressure of the pin on its wall, slide stuck"),
            f.stuck / (d * thickness),
            "MPa",
        ))
        .at_most(PIN_BEARING)
        .given("d, diameter of the pin", d, "mm")
        .by(
            "F/(d·thickness)",
            format!("{STATICS}; plate: {}; limit: common practice, no source", plate.name()),
        )
        .says("A roller of tube on the pin saves the wall."),
    );
    let Follower::Slot { cam, track, .. } = &slides.follower else { return Some(()) };
    let pressure = cam.greatest_pressure(track);
    out.push(
        Figure::new(format!("slot.{id}.pressure"), format!("{what} slot, largest pressure angle"), trig::deg(pressure), "deg")
            .at_most(trig::deg(trig::atan(1.0 / s.pin_friction)))
            .given("μ, friction of the pin", s.pin_friction, "ratio")
            .by("atan(|dr/dτ|/r), between the slot's normal and the slide; limit where the pin wedges, 90° − atan μ", STATICS)
            .says("The larger the angle the more of the push goes sideways into the guides."),
    );
    Some(())
}

/// Shear strength of birch plywood in its plane, MPa (from memory).
const PANEL_SHEAR: f64 = 9.5;

/// Greatest contact for a newton of push over the turn.
fn worst_contact(a: &Assembly, s: &Assumptions, slides: &Slides) -> f64 {
    let whole = a.mechanism.turn();
    (0..=LOOKS)
        .map(|i| slides.drag(a, s, whole * i as f64 / LOOKS as f64).contact_per_push)
        .fold(1e-9, f64::max)
}

/// Crank pin and slide pin of a set, under the stuck force.
fn pins(a: &Assembly, s: &Assumptions, slides: &Slides, f: &PinForces, out: &mut Vec<Figure>) {
    let m = &a.mechanism;
    let (id, what) = names(slides.law);
    let d = 2.0 * m.members.pin;
    let level = slides.follower.level();
    let middle = (level.bottom + level.top) / 2.0;
    let base = m.stack.base;
    // The slide pin is held by its slide; a leaf's also by the sleeve, which lifts with the plate.
    let panel = slides.law == Law::Panel;
    let (mouth, depth) = if panel {
        (m.stack.panel_slide.bottom, m.sizes.slide_thickness)
    } else {
        let bottom = m.stack.turning_plate.top + m.sizes.play;
        (bottom + m.stack.step, m.stack.leaf_slide.top - bottom)
    };
    let mut all = vec![("slide-pin", "slide pin", mouth - middle, depth, "slide")];
    if matches!(slides.follower, Follower::Arm { .. }) {
        all.push(("crank-pin", "crank pin", middle - base.top, base.thickness(), "base plate"));
    }
    for (pin, words, h, t, hole) in all {
        let h = h.max(0.0);
        let Some(part) = a.part(&format!("{id}-{pin}")) else { continue };
        let steel = s.material(&part.material);
        let yields = steel.flat_strength(1.0) / s.steel_factor;
        let common = |fig: Figure| {
            fig.given("F, one pin alone against the push", f.stuck, "N")
                .given("h, middle of the drive from the mouth of the hole", h, "mm")
                .given("d, diameter of the pin", d, "mm")
        };
        out.push(
            common(Figure::new(
                format!("pin.{id}-{pin}.stress"),
                format!("{what} {words}, bending stress, slide stuck"),
                f.stuck * h / round_z(d),
                "MPa",
            ))
            .at_most(yields)
            .by("F·h/(π·d³/32)", format!("{BEAMS}; {}; factor: common practice, no source", steel.source()))
            .says("A bent pin changes the arm's length; a thicker one is cheap."),
        );
        if let (true, "slide-pin", Some(plate)) = (panel, pin, pin_plate(m)) {
            pin_plate_figures(s, slides, f, h, &plate, out);
            continue;
        }
        // A leaf's slide pin runs in a steel sleeve.
        if pin == "crank-pin" || panel {
            out.push(
                common(Figure::new(format!("pin.{id}-{pin}.bearing"), format!("{what} {words}, pressure on its hole in the {hole}, slide stuck"), pin_pressure(f.stuck, d, t, h), "MPa"))
                    .at_most(PIN_BEARING)
                    .given("t, depth of the hole", t, "mm")
                    .by("F/(d·t)·(4 + 6·h/t)", format!("{STATICS}, pressure running straight along the pin; limit: common practice, no source"))
                    .says("Above the limit holes wear oval: bush them with tube, or glue in a hardwood block."),
            );
        }
    }
}

/// Withdrawal strength of a wood screw across the grain, N: f_ax·d·l with f_ax = 0.52·d^−0.5·l^−0.1·ρ^0.8 of EN 1995-1-1
/// (8.40a), from memory; d and l in mm, ρ in kg/m³.
pub fn screw_withdrawal(d: f64, l: f64, density: f64) -> f64 {
    0.52 * d.sqrt() * trig::pow(l, 0.9) * trig::pow(density, 0.8)
}

/// The plate that holds a panel slide pin: its pressure on the slide, and its screws.
fn pin_plate_figures(
    s: &Assumptions,
    slides: &Slides,
    f: &PinForces,
    h: f64,
    plate: &PinPlate,
    out: &mut Vec<Figure>,
) {
    let (length, width, t) = (plate.to - plate.from, 2.0 * plate.half, plate.thickness);
    let moment = f.stuck * (h + t / 2.0);
    let common = |fig: Figure| {
        fig.given("F, one pin alone against the push", f.stuck, "N")
            .given("h, middle of the drive from the slide", h, "mm")
            .given("t, thickness of the plate", t, "mm")
    };
    let (end, face) = (f.stuck / (width * t), 6.0 * moment / (width * length * length));
    out.push(
        common(Figure::new(
            "pin.panel-slide-pin.bearing",
            "Panel slide pin, pressure of its plate on the slide, slide stuck",
            end.max(face),
            "MPa",
        ))
        .at_most(PIN_BEARING)
        .given("w, width of the plate", width, "mm")
        .given("L, length of the plate", length, "mm")
        .by(
            "the larger of F/(w·t) and 6·M/(w·L²), M = F·(h + t/2)",
            format!("{STATICS}; limit: common practice, no source"),
        )
        .says("Let the plate in so that both its ends bear: the pin's push goes through them."),
    );
    // The plate is stiff: it would turn about its outer end, each screw pulling as its distance from there.
    let lever = |x: &f64| plate.to - x;
    let squares: f64 = plate.screws.iter().map(|x| lever(x) * lever(x)).sum();
    let most = plate.screws.iter().map(lever).fold(0.0, f64::max);
    let wood = s.material("hardwood");
    let deep = (slides.section.1 - t - 1.0).max(0.0);
    out.push(
        common(Figure::new(
            "pin.panel-slide-pin.screws",
            "Panel slide pin, pull on the innermost screw of its plate, slide stuck",
            moment * most / squares,
            "N",
        ))
        .at_most(screw_withdrawal(PLATE_SCREW, deep, wood.density()) / s.wood_factor)
        .given("number of screws", plate.screws.len() as f64, "count")
        .given("x, innermost screw from the plate's outer end", most, "mm")
        .given("thread in the slide", deep, "mm")
        .by(
            "M·x/Σx²; limit = 0.52·√d·l^0.9·ρ^0.8/factor",
            format!(
                "{STATICS}; withdrawal: EN 1995-1-1, 8.7.2, from memory; factor: common practice, no source"
            ),
        )
        .says("Use screws threaded up to their heads, in pilot holes."),
    );
}

/// Screws of a pin plate: diameter, mm.
const PLATE_SCREW: f64 = 5.0;

/// Guide shafts under the push of the ramps.
fn shafts(a: &Assembly, s: &Assumptions, drive: &Drive, out: &mut Vec<Figure>) -> Option<()> {
    let m = &a.mechanism;
    let part = a.part("guide-shaft")?;
    let bushing = a.part("bushing")?;
    let count = part.count.max(1) as f64;
    let d = part.outline.bounds().1.x - part.outline.bounds().0.x;
    // Half-way through the lift the ramp is steepest and the push greatest.
    let turn = (m.lift_begins() + m.lift_ends()) / 2.0;
    let rate = drive.rise_rate(m, turn);
    let push: f64 = m
        .rollers
        .places
        .iter()
        .map(|r| push_level(drive.on_wheels(m, turn) / 4.0, trig::atan(rate / r.radius), drive.wheel_angle))
        .sum();
    let low = a.pieces.iter().find(|p| a.part_of(p).id == "bushing")?.z;
    let h = low + bushing.thickness / 2.0 + m.stack.step - m.stack.turning_plate.top;
    let steel = crate::Material::Steel;
    let each = push / count;
    let common = |f: Figure| {
        f.given("F, level push of all ramps", push, "N")
            .given("number of shafts", count, "count")
            .given("h, bushing's middle above the turning plate, lifted", h, "mm")
            .given("d, diameter of a shaft", d, "mm")
    };
    out.push(
        common(Figure::new(
            "shaft.guide.stress",
            "Guide shaft, bending stress in the lift",
            each * h / round_z(d),
            "MPa",
        ))
        .at_most(steel.flat_strength(1.0) / s.steel_factor)
        .by(
            "(F/number)·h/(π·d³/32)",
            format!("{BEAMS}; steel S235 from memory; factor: common practice, no source"),
        )
        .says("Ground shafts are stronger than the plain steel assumed here."),
    );
    out.push(
        common(Figure::new(
            "shaft.guide.lean",
            "Guide shaft, lean at the bushing in the lift",
            cantilever_tip(each, h, steel.flat_modulus(1.0) * round_i(d)),
            "mm",
        ))
        .at_most(SHAFT_LEAN)
        .by("(F/number)·h³/(3·E·I)", format!("{BEAMS}; limit: common practice, no source"))
        .says("A shaft that leans makes the bushings bind: seat it deep and square in its flange."),
    );
    let plate = s.material(&a.part("turning-plate")?.material);
    out.push(
        common(Figure::new(
            "shaft.guide.bearing",
            "Guide shaft, pressure on its hole in the turning plate",
            pin_pressure(each, d, m.sizes.plate_thickness, h),
            "MPa",
        ))
        .at_most(PIN_BEARING)
        .given("t, depth of the hole", m.sizes.plate_thickness, "mm")
        .by(
            "F/(d·t)·(4 + 6·h/t)",
            format!("{STATICS}; plate: {}; limit: common practice, no source", plate.name()),
        )
        .says("A flange under the shaft spreads this load."),
    );
    Some(())
}

/// Lean of a shaft that bushings still follow, mm. Common practice, no source.
const SHAFT_LEAN: f64 = 0.1;

/// All figures of arms, pins and shafts.
pub fn figures(a: &Assembly, s: &Assumptions, drive: &Drive) -> Vec<Figure> {
    let mut out = Vec::new();
    for slides in [&drive.panels, &drive.leaves].into_iter().flatten() {
        set(a, s, slides, &mut out);
    }
    let _ = shafts(a, s, drive, &mut out);
    out
}
