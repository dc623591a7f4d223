//! The two plates that turn: turning plate and rising plate, and the stiffening ring between the guides.
//!
//! Frame of both: table's centre, +x along the first panel's centre line.

use super::{Builder, Draft, SLIDE_PLAY, along, feature, hole, lift};
use crate::part::{Depth, Feature, FeatureKind};
use crate::piece::{Motion, Rise};
use crate::shapes::{Notch, annular_sector, notched_circle};
use turnleaf_geom::{Pose2, Ring, Vec2, trig, vec2::v};
use turnleaf_mechanism::{Mechanism, rollers::RAIL};

/// Seat of the centre bearing in the turning plate: ball bearing 6204, 20 × 47 × 14 (JIS B 1521 / ISO 15).
pub const BEARING: (f64, f64, f64) = (20.0, 47.0, 14.0);
/// A slot that would leave less wood than this to the rising plate's rim is cut through it, mm.
const LEAST_RIM: f64 = 15.0;

pub(crate) fn add(b: &mut Builder) {
    turning_plate(b);
    rising_plate(b);
    ring(b);
}

fn slot(id: String, purpose: &str, line: f64, from: f64, to: f64, width: f64) -> Feature {
    feature(
        id,
        purpose,
        FeatureKind::Slot {
            a: Vec2::polar(from, line),
            b: Vec2::polar(to, line),
            width,
            depth: Depth::Through,
        },
    )
}

/// The opening a drop roller hangs through, turning frame.
pub(crate) fn roller_opening(m: &Mechanism, i: usize) -> Ring {
    let place = m.rollers.places[i];
    let (from, to, half) = m.rollers.opening(&m.members);
    let pose = along(place.direction, place.radius);
    Ring::rect(v(-half, from), v(half, to)).moved(&pose)
}

fn turning_plate(b: &mut Builder) {
    let m = b.m;
    let (st, me) = (&m.stack, &m.members);
    let mut features = vec![hole("centre", "seat of the centre bearing", Vec2::ZERO, BEARING.1)];
    let width = 2.0 * (me.pin + 1.0);
    let panel = (m.panel_pin_closed(), m.panel_pin_farthest());
    let leaf = (m.leaf_pin_closed(), m.leaf_pin_farthest());
    for (k, line) in b.panel_slide_lines().enumerate() {
        features.push(slot(format!("panel-pin/{}", k + 1), "panel slide pin", line, panel.0, panel.1, width));
    }
    for (k, line) in b.seam_lines().enumerate() {
        features.push(slot(format!("leaf-pin/{}", k + 1), "leaf slide pin", line, leaf.0, leaf.1, width));
    }
    for i in 0..4 {
        features.push(feature(
            format!("roller/{}", i + 1),
            "drop roller",
            FeatureKind::Pocket { ring: roller_opening(m, i), depth: Depth::Through },
        ));
    }
    for (i, at) in b.shafts.iter().copied().enumerate() {
        features.push(hole(format!("guide-shaft/{}", i + 1), "guide shaft", at, lift::SHAFT_DIAMETER));
    }
    if let Ok(stops) = b.stops {
        features.push(stops.plate_hole(m));
    }
    b.add(
        Draft {
            id: "turning-plate",
            name: "Turning plate",
            material: "plate stock",
            made: true,
            thickness: m.sizes.plate_thickness,
            outline: Ring::circle(Vec2::ZERO, me.turning_plate),
            features,
            notes: vec![],
        },
        vec![(Pose2::default(), st.turning_plate.bottom, Motion::Turning(Rise::None))],
    );
}

/// Inner and outer end of a post slot's centre line, and whether it runs out through the rim.
pub(crate) fn post_slot(m: &Mechanism) -> (f64, f64, bool) {
    let me = &m.members;
    let end = me.inner_post + m.panel_travel_most();
    (me.inner_post, end, end + me.post + me.gap + LEAST_RIM > me.rising_plate)
}

fn rising_plate(b: &mut Builder) {
    let m = b.m;
    let (st, me) = (&m.stack, &m.members);
    let (from, to, open) = post_slot(m);
    let width = 2.0 * (me.post + me.gap);
    let mut features = Vec::new();
    let outline = if open {
        let notches: Vec<Notch> = b
            .panel_slide_lines()
            .map(|direction| Notch { direction, end: from - me.post - me.gap, half_width: width / 2.0 })
            .collect();
        notched_circle(me.rising_plate, &notches)
    } else {
        for (k, line) in b.panel_slide_lines().enumerate() {
            features.push(slot(format!("post/{}", k + 1), "inner panel post", line, from, to, width));
        }
        Ring::circle(Vec2::ZERO, me.rising_plate)
    };
    // Centre opening with a finger for each star lever.
    let fingers: Vec<Notch> = lift::lever_lines(m)
        .into_iter()
        .map(|direction| Notch {
            direction,
            end: m.members.lever_inner() + m.lever.inner + m.lever.outer + 6.0,
            half_width: me.lever_width / 2.0 + 1.0,
        })
        .collect();
    features.push(feature(
        "centre",
        "opening for flange and star levers",
        FeatureKind::Pocket { ring: notched_circle(me.opening, &fingers), depth: Depth::Through },
    ));
    let leaf = (m.leaf_pin_closed(), m.leaf_pin_farthest());
    for (k, line) in b.seam_lines().enumerate() {
        features.push(slot(
            format!("leaf-sleeve/{}", k + 1),
            "leaf pin sleeve",
            line,
            leaf.0,
            leaf.1,
            2.0 * (me.sleeve + 1.0),
        ));
    }
    for (i, at) in b.shafts.iter().copied().enumerate() {
        features.push(hole(format!("bushing/{}", i + 1), "linear bushing", at, lift::BUSHING.1));
    }
    for (i, at) in lift::keeping_pins(m).into_iter().enumerate() {
        features.push(hole(format!("keeping-pin/{}", i + 1), "keeping pin", at, lift::KEEPING_PIN));
    }
    b.add(
        Draft {
            id: "rising-plate",
            name: "Rising plate",
            material: "plate stock",
            made: true,
            thickness: m.sizes.plate_thickness,
            outline,
            features,
            notes: vec![lift::lever_grooves(m)],
        },
        vec![(Pose2::default(), st.rising_plate.bottom, Motion::Turning(Rise::Plate))],
    );
}

/// Inner radius of the stiffening ring: outside everything that passes between the guides.
pub(crate) fn ring_inner(m: &Mechanism) -> f64 {
    let me = &m.members;
    let pins = m.leaf_pin_farthest() + me.sleeve;
    let rollers = m.rollers.reach(m.rollers.places[0].radius, me);
    (pins.max(rollers) + me.gap).max(me.turning_plate - 40.0)
}

fn ring(b: &mut Builder) {
    let m = b.m;
    let (st, me) = (&m.stack, &m.members);
    let inner = ring_inner(m);
    // A ring narrower than this would not stiffen anything.
    if me.turning_plate - inner < 8.0 {
        return;
    }
    let beside = me.slide_width / 2.0 + SLIDE_PLAY + RAIL + 1.0;
    let half = m.layout.half_sector - trig::asin(beside / inner);
    if half <= 0.02 {
        return;
    }
    // Each length lies midway between two panel slides.
    let places = b
        .panel_slide_lines()
        .map(|line| line + m.layout.half_sector)
        .map(|line| (Pose2::new(line, Vec2::ZERO), st.panel_slide.bottom, Motion::Turning(Rise::None)))
        .collect();
    b.add(
        Draft {
            id: "stiffening-ring",
            name: "Stiffening ring, one length",
            material: "slide stock",
            made: true,
            thickness: m.sizes.slide_thickness,
            outline: annular_sector(inner, me.turning_plate, -half, half),
            features: vec![],
            notes: vec!["Glued to the turning plate between the panel guides.".into()],
        },
        places,
    );
}
