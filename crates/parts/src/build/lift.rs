//! The lift: guide shafts and bushings, star hub, shaft, keeping pins, levers, drop rollers.

use super::{Builder, Draft, SLIDE_PLAY, along, hole, plates, round};
use crate::piece::{Motion, Rise};
use core::f64::consts::PI;
use turnleaf_geom::{Pose2, Prepared, Ring, Vec2, trig, vec2::v};
use turnleaf_mechanism::{Mechanism, rollers::RAIL, stack::Level};

/// Guide shaft diameter, mm.
pub const SHAFT_DIAMETER: f64 = 12.0;
/// Linear ball bushing LM12: bore, outer diameter, length (JIS series; a maker's catalogue page).
pub const BUSHING: (f64, f64, f64) = (12.0, 21.0, 30.0);
/// Keeping pin diameter, mm.
pub const KEEPING_PIN: f64 = 6.0;
/// Cross pin of a star lever: diameter, and how far it reaches into the plate on each side of the lever's opening, mm.
/// Common practice, no source.
pub const LEVER_PIN: (f64, f64) = (6.0, 12.0);
/// Star shaft diameter, mm: it runs in the bored centre post.
pub const STAR_SHAFT: f64 = 10.0;

/// Directions of the star levers. Where the panels allow it, along their centre lines.
pub(crate) fn lever_lines(m: &Mechanism) -> Vec<f64> {
    let count = m.lever_count;
    (0..count).map(|i| 2.0 * PI * i as f64 / count as f64).collect()
}

/// Two keeping pins, opposite, in the hub, between the levers.
pub(crate) fn keeping_pins(m: &Mechanism) -> Vec<Vec2> {
    // Inside the star's inner corners, which lie at the panels' travel.
    let radius = ((m.members.opening + m.hub_radius) / 2.0).min(m.layout.travel - 8.0);
    let lines = lever_lines(m);
    // The direction farthest from every lever, for it and its opposite alike.
    let apart = |d: f64| {
        lines
            .iter()
            .map(|l| {
                let a = (d - l).rem_euclid(PI);
                a.min(PI - a)
            })
            .fold(f64::INFINITY, f64::min)
    };
    let n = 48;
    let best = (0..n)
        .map(|i| PI * i as f64 / n as f64)
        .max_by(|a, b| (apart(*a) + 1e-9).total_cmp(&apart(*b)))
        .unwrap_or(0.0);
    vec![Vec2::polar(radius, best), Vec2::polar(radius, best + PI)]
}

/// Three screws that hold the hub to the star, turned to stand clear of the keeping pins.
pub(crate) fn hub_screws(m: &Mechanism) -> Vec<Vec2> {
    let radius = (m.hub_radius * 0.7).min(m.layout.travel - 8.0).max(m.members.opening + 6.0);
    let pins = keeping_pins(m);
    let at = |start: f64| (0..3).map(move |i| Vec2::polar(radius, start + 2.0 * PI * i as f64 / 3.0));
    let apart = |start: f64| {
        at(start).flat_map(|p| pins.iter().map(move |q| p.dist(*q))).fold(f64::INFINITY, f64::min)
    };
    let best =
        (0..12).map(|i| PI * i as f64 / 18.0).max_by(|a, b| apart(*a).total_cmp(&apart(*b))).unwrap_or(0.0);
    at(best).collect()
}

/// Height band of the keeping pins: from the plate's lower face to just under the stored star's top.
pub(crate) fn keeping_pin_level(m: &Mechanism) -> Level {
    let st = &m.stack;
    let most = st.star.top - 4.0;
    Level { bottom: st.rising_plate.bottom, top: (st.rising_plate.top + st.step + 8.0).min(most) }
}

/// Positions of the guide shafts: three or four, spread round, clear of everything that passes between the
/// plates. Empty when no place is free (a check reports it).
pub(crate) fn guide_shafts(m: &Mechanism) -> Vec<Vec2> {
    let me = &m.members;
    let keep = BUSHING.1 / 2.0 + me.gap;
    let h = m.layout.half_sector;
    let two_h = 2.0 * h;
    let beside_slide = me.slide_width / 2.0 + SLIDE_PLAY + RAIL + keep;
    let (post_from, post_to, open) = plates::post_slot(m);
    let post_to = if open { me.rising_plate } else { post_to };
    let sleeve = (m.leaf_pin_closed(), m.leaf_pin_farthest());
    let rollers: Vec<Prepared> =
        (0..4).map(|i| Prepared::new(&plates::roller_opening(m, i).into())).collect();
    let lines = lever_lines(m);
    let lever_end = me.lever_inner() + m.lever.inner + m.lever.outer + 6.0;
    // The bushings hang down between the plates, where the stiffening ring lies.
    let outer = (me.rising_plate - 4.0).min(plates::ring_inner(m)) - keep;
    let free = |p: Vec2| {
        let near = |offset: f64| {
            let k = ((p.angle() - offset) / two_h).round();
            p.rot(-(offset + k * two_h))
        };
        let (panel, seam) = (near(m.layout.skew), near(h));
        let in_band = |q: Vec2, from: f64, to: f64| q.dist(v(q.x.clamp(from, to), 0.0));
        // Cheapest first: most places fall at once.
        p.norm() >= m.hub_radius + keep
            && p.norm() <= outer
            && panel.y.abs() >= beside_slide
            && seam.y.abs() >= beside_slide
            && in_band(panel, post_from, post_to) >= me.post + me.gap + keep
            && in_band(seam, sleeve.0, sleeve.1) >= me.sleeve + 1.0 + keep
            && lines.iter().all(|l| {
                let q = p.rot(-l);
                in_band(q, 0.0, lever_end) >= me.lever_width / 2.0 + 1.0 + keep
            })
            && rollers.iter().all(|r| !r.contains(p) && r.nearest(p).is_none_or(|(n, _)| n.d2.sqrt() >= keep))
    };
    let mut radii = Vec::new();
    let mut r = m.hub_radius + keep;
    while r <= me.rising_plate {
        radii.push(r);
        r += 4.0;
    }
    let mut out: Vec<Vec2> = Vec::new();
    let wanted = 4;
    for i in 0..wanted {
        let target = PI / 4.0 + 2.0 * PI * i as f64 / wanted as f64;
        // Far apart steadies the plate best; straying from the even spread costs. From the rim inwards, until nothing
        // nearer the centre can be worth more; of equals the innermost is taken.
        let mut best: Option<(f64, Vec2)> = None;
        for r in radii.iter().rev() {
            if best.is_some_and(|b| *r < b.0) {
                break;
            }
            let mut here: Option<(f64, Vec2)> = None;
            for step in -20..=20 {
                let worth = r - 1.5 * (step as f64).abs();
                if best.is_some_and(|b| worth < b.0) || here.is_some_and(|b| worth <= b.0) {
                    continue;
                }
                let p = Vec2::polar(*r, target + trig::rad(2.0) * step as f64);
                if free(p) {
                    here = Some((worth, p));
                }
            }
            best = here.or(best);
        }
        out.extend(best.map(|b| b.1));
    }
    out
}

pub(crate) fn add(b: &mut Builder) {
    let m = b.m;
    let st = &m.stack;
    let shafts = b.shafts.clone();
    if !shafts.is_empty() {
        let level = Level { bottom: st.turning_plate.bottom, top: st.leaf_slide.top };
        let places =
            shafts.iter().map(|&p| (Pose2::new(0.0, p), level.bottom, Motion::Turning(Rise::None))).collect();
        b.add(
            round("guide-shaft", "Guide shaft", "ground steel shaft", false, SHAFT_DIAMETER / 2.0, level),
            places,
        );
        // The bushing hangs below the plate, so that it still grips the shaft when lifted.
        let bottom = (st.rising_plate.top - BUSHING.2).max(st.turning_plate.top + m.sizes.play);
        let level = Level { bottom, top: bottom + BUSHING.2 };
        let places = shafts
            .iter()
            .map(|&p| (Pose2::new(0.0, p), level.bottom, Motion::Turning(Rise::Plate)))
            .collect();
        let mut draft = round("bushing", "Linear bushing LM12", "bought", false, BUSHING.1 / 2.0, level);
        draft.features.push(hole("bore", "guide shaft", Vec2::ZERO, SHAFT_DIAMETER + 0.02));
        b.add(draft, places);
    }
    hub(b);
    levers(b);
    rollers(b);
}

fn hub(b: &mut Builder) {
    let m = b.m;
    let (st, me) = (&m.stack, &m.members);
    let level = Level { bottom: st.leaf_slide.bottom, top: st.star.bottom };
    let mut features = vec![hole("centre", "clear of the hold-down flange", Vec2::ZERO, 2.0 * me.opening)];
    for (i, at) in hub_screws(m).into_iter().enumerate() {
        features.push(hole(format!("screw/{}", i + 1), "screw up into the star", at, 4.5));
    }
    for (i, at) in keeping_pins(m).into_iter().enumerate() {
        features.push(hole(
            format!("keeping-pin/{}", i + 1),
            "slides on a keeping pin",
            at,
            KEEPING_PIN + 0.3,
        ));
    }
    b.add(
        Draft {
            id: "star-hub",
            name: "Star hub",
            material: "slide stock",
            made: true,
            thickness: level.thickness(),
            outline: Ring::circle(Vec2::ZERO, m.hub_radius),
            features,
            notes: vec![format!(
                "Planed or packed to {:.1} mm: slide stock and one play.",
                level.thickness()
            )],
        },
        vec![(Pose2::default(), level.bottom, Motion::Turning(Rise::Star))],
    );
    // Pins stand in the rising plate and reach up through the hub into the star, so that nothing hangs down
    // among the panel slides; they still hold when the star has risen a step more than the plate.
    let pin = keeping_pin_level(m);
    let places = keeping_pins(m)
        .into_iter()
        .map(|p| (Pose2::new(0.0, p), pin.bottom, Motion::Turning(Rise::Plate)))
        .collect();
    b.add(round("keeping-pin", "Keeping pin", "steel rod", false, KEEPING_PIN / 2.0, pin), places);
    let shaft = Level { bottom: st.bed + 2.0, top: st.star.bottom };
    b.add(
        round("star-shaft", "Star shaft", "ground steel shaft", false, STAR_SHAFT / 2.0, shaft),
        vec![(Pose2::default(), shaft.bottom, Motion::Turning(Rise::Star))],
    );
}

/// Height of a star lever, whose upper face is level with the plate's, mm.
fn lever_thickness(m: &Mechanism) -> f64 {
    m.sizes.plate_thickness - 2.0
}

/// Length of a lever's cross pin, mm.
pub(crate) fn lever_pin_length(m: &Mechanism) -> f64 {
    m.members.lever_width + 2.0 + 2.0 * LEVER_PIN.1
}

/// What the rising plate's sheet says of the grooves in which the cross pins lie: the load presses them down into these.
pub(crate) fn lever_grooves(m: &Mechanism) -> String {
    format!(
        "Cross pins of the levers: grooves {:.0} mm wide and {:.1} mm deep from above, square across each arm of the middle opening, {:.1} mm from the centre, {:.0} mm beyond it on each side.",
        LEVER_PIN.0,
        lever_thickness(m) / 2.0 + LEVER_PIN.0 / 2.0,
        m.members.lever_inner() + m.lever.inner,
        LEVER_PIN.1
    )
}

fn levers(b: &mut Builder) {
    let m = b.m;
    let (st, me) = (&m.stack, &m.members);
    let thickness = lever_thickness(m);
    let (inner, outer) = (m.lever.inner, m.lever.outer);
    let half = me.lever_width / 2.0;
    let nose = 4.0;
    let places = lever_lines(m)
        .into_iter()
        .map(|line| (along(line, me.lever_inner() + inner), st.rising_plate.top - thickness, Motion::Lever))
        .collect();
    b.add(
        Draft {
            id: "star-lever",
            name: "Star lever",
            material: "hardwood",
            made: true,
            thickness,
            outline: Ring::rect(v(-inner - nose, -half), v(outer + nose, half)),
            features: vec![],
            notes: vec![
                format!(
                    "Drill {:.0} mm across it at half the length, {:.1} mm above the lower face, for its cross pin.",
                    LEVER_PIN.0,
                    thickness / 2.0
                ),
                format!("Round the upper edge of both ends to {nose:.0} mm radius."),
            ],
        },
        places,
    );
}

fn rollers(b: &mut Builder) {
    let m = b.m;
    let (st, me, r) = (&m.stack, &m.members, &m.rollers);
    let half = me.wheel_width / 2.0;
    // Frame: hinge at the origin, +x outward, +y the way a folded wheel does not lie.
    let bottom = st.rising_plate.bottom - me.hinge_drop - r.folded_height - me.wheel;
    let places = r.places.iter().map(|p| (along(p.direction, p.radius), bottom, Motion::Roller)).collect();
    b.add(
        Draft {
            id: "drop-roller",
            name: "Drop roller",
            material: "bought wheel, steel arm",
            made: false,
            thickness: st.rising_plate.bottom - bottom,
            outline: Ring::rect(v(-half, -(r.folded_ahead + me.wheel)), v(half, 9.0)),
            features: vec![],
            notes: vec![
                format!("Arm {:.1} mm from hinge to axle; wheel {:.0} mm.", r.arm, 2.0 * me.wheel),
                "The outline is the room it needs, folded and dropped.".into(),
            ],
        },
        places,
    );
}
