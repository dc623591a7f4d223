//! What moves panels and leaves: slides, guides, posts, risers, arms, pins.
//!
//! Frames: slides and guides — table's centre, +x along their line. Arms — crank pin at the origin, slide
//! pin on +x. Round members — their own axis.

use super::{Builder, Draft, SLIDE_PLAY, SLIDE_TONGUE, along, feature, hole, round, top};
use crate::part::{Depth, Face, FeatureKind};
use crate::piece::{Law, Motion, Rise};
use turnleaf_geom::{Pose2, Ring, Vec2, trig, vec2::v};
use turnleaf_mechanism::bow::Bow;
use turnleaf_mechanism::{
    Mechanism,
    arms::{ArmSet, Upper},
    rollers::RAIL,
    stack::{DriveLevels, Level},
};

/// Diameter of a hole for a turning pin: 0.5 mm over the pin (between ISO 273 fine and medium for M8–M10,
/// from memory).
pub(crate) fn pin_hole(m: &Mechanism) -> f64 {
    2.0 * m.members.pin + 0.5
}

pub(crate) fn add(b: &mut Builder) {
    slides(b);
    guides(b);
    posts(b);
    arms(b);
    pins(b);
}

/// The steel plate let into a panel slide's lower face that holds its pin: a pin standing in wood alone would wear
/// its hole oval. Distances are from the table's centre along the slide, closed, mm.
#[derive(Clone, Debug, PartialEq)]
pub struct PinPlate {
    /// Inner end.
    pub from: f64,
    /// Outer end.
    pub to: f64,
    /// Half its width.
    pub half: f64,
    /// Thickness, let in flush.
    pub thickness: f64,
    /// Its two screws, on the slide's middle line, outside the pin.
    pub screws: [f64; 2],
}

/// Clearance hole of a pin plate's screw, mm (5 mm screws).
const PLATE_SCREW: f64 = 5.5;

/// Length of a pin plate outside its pin, mm, where nothing stands in the way.
const PLATE_LENGTH: f64 = 80.0;

/// Sizes of the pin plates; None where there is no room for two screws.
pub fn pin_plate(m: &Mechanism) -> Option<PinPlate> {
    let me = &m.members;
    let pin = m.panel_pin_closed();
    let dowels = [me.inner_post, me.outer_post].map(|r| (r - me.post / 2.0, r + me.post / 2.0));
    let (mut from, mut to) = (pin - me.pin_end() + 2.0, pin + PLATE_LENGTH);
    for (near, far) in dowels {
        if far <= pin {
            from = from.max(far + DOWEL_WALL);
        } else if near - DOWEL_WALL < to && far + DOWEL_WALL > to {
            // A dowel is either wholly over the plate or wholly beside it.
            to = far + DOWEL_WALL;
        }
    }
    to = to.min(m.panel_slide_outer() - 4.0);
    let half = me.slide_width / 2.0 - 4.0;
    // Screws at both ends of what lies outside the pin, clear of dowels.
    let beside = |x: f64| dowels.iter().all(|d| x < d.0 - SCREW_ROOM || x > d.1 + SCREW_ROOM);
    let steps = |from: f64, by: f64| (0..120).map(move |i| from + 0.5 * by * f64::from(i));
    let first = steps(pin + SCREW_BEYOND, 1.0).find(|x| beside(*x))?;
    let last = steps(to - SCREW_ROOM, -1.0).find(|x| beside(*x))?;
    if half < SCREW_ROOM || last - first < SCREW_PITCH {
        return None;
    }
    let screws = [first, last];
    let thickness = (0.27 * m.sizes.slide_thickness).clamp(3.0, 4.0);
    Some(PinPlate { from, to, half, thickness, screws })
}

/// Wood between a post's dowel and the end of a pin plate's seat, mm.
const DOWEL_WALL: f64 = 4.0;
/// From a pin to its plate's first screw, mm.
const SCREW_BEYOND: f64 = 25.0;
/// From a pin plate's screw to its ends and to the edges of other holes, mm.
const SCREW_ROOM: f64 = 7.0;
/// Least distance between the two screws of a pin plate, mm.
const SCREW_PITCH: f64 = 24.0;

/// Height band of a slide's tongue, in the middle of its thickness: what holds the slide down is the weaker of this
/// tongue and of the two lips of its groove, so that a little under a half is strongest.
fn slide_tongue(m: &Mechanism, extra: f64) -> (f64, f64) {
    let (t, k) = (m.sizes.slide_thickness, 0.45 * m.sizes.slide_thickness + extra);
    ((t - k) / 2.0, (t + k) / 2.0)
}

fn slides(b: &mut Builder) {
    let m = b.m;
    let (st, me) = (&m.stack, &m.members);
    let half = me.slide_width / 2.0;
    let bar = |inner: f64, outer: f64| Ring::rect(v(inner, -half), v(outer, half));
    let tongues = |length: f64| {
        let kind = |edge| FeatureKind::EdgeTongue {
            edge,
            from: 4.0,
            to: length - 4.0,
            depth: SLIDE_TONGUE,
            z: slide_tongue(m, 0.0),
        };
        vec![
            feature("tongue/clockwise", "tongue", kind(0)),
            feature("tongue/counter-clockwise", "tongue", kind(2)),
        ]
    };
    let (inner, outer) = (m.panel_slide_inner, m.panel_slide_outer());
    let mut features = tongues(outer - inner);
    features.push(hole("pin", "slide pin", v(m.panel_pin_closed(), 0.0), 2.0 * me.pin));
    for (name, x) in [("inner", me.inner_post), ("outer", me.outer_post)] {
        features.push(hole(format!("post/{name}"), "dowel of a post", v(x, 0.0), me.post));
    }
    let plate = pin_plate(m);
    if let Some(plate) = &plate {
        let ring = Ring::rect(v(plate.from, -plate.half), v(plate.to, plate.half));
        let depth = Depth::Blind(Face::Bottom, plate.thickness);
        features.push(feature("pin-plate", "seat of the pin plate", FeatureKind::Pocket { ring, depth }));
    }
    let places = b
        .panel_slide_lines()
        .map(|line| {
            (
                Pose2::new(line, Vec2::ZERO),
                st.panel_slide.bottom,
                Motion::Sliding { line, law: Law::Panel, rise: Rise::None },
            )
        })
        .collect();
    b.add(
        Draft {
            id: "panel-slide",
            name: "Panel slide",
            material: "hardwood",
            made: true,
            thickness: m.sizes.slide_thickness,
            outline: bar(inner, outer),
            features,
            notes: vec![],
        },
        places,
    );
    if let Some(plate) = plate {
        pin_plates(b, &plate);
    }
    let (inner, outer) = (m.leaf_slide_inner, m.leaf_slide_outer());
    let mut features = tongues(outer - inner);
    features.push(hole("pin", "slide pin", v(m.leaf_pin_closed(), 0.0), pin_hole(m)));
    for (i, x) in top::riser_places(m).into_iter().enumerate() {
        features.push(hole(format!("riser/{}", i + 1), "screw of a riser", v(x, 0.0), 4.5));
    }
    let places = b
        .seam_lines()
        .map(|line| {
            (
                Pose2::new(line, Vec2::ZERO),
                st.leaf_slide.bottom,
                Motion::Sliding { line, law: Law::Leaf, rise: Rise::Plate },
            )
        })
        .collect();
    b.add(
        Draft {
            id: "leaf-slide",
            name: "Leaf slide",
            material: "hardwood",
            made: true,
            thickness: m.sizes.slide_thickness,
            outline: bar(inner, outer),
            features,
            notes: vec![],
        },
        places,
    );
}

fn pin_plates(b: &mut Builder, plate: &PinPlate) {
    let m = b.m;
    let mut features =
        vec![hole("pin", "slide pin, pressed in", v(m.panel_pin_closed(), 0.0), 2.0 * m.members.pin)];
    for (i, &x) in plate.screws.iter().enumerate() {
        features.push(hole(format!("screw/{}", i + 1), "screw up into the slide", v(x, 0.0), PLATE_SCREW));
    }
    let places = b
        .panel_slide_lines()
        .map(|line| {
            let motion = Motion::Sliding { line, law: Law::Panel, rise: Rise::None };
            (Pose2::new(line, Vec2::ZERO), m.stack.panel_slide.bottom, motion)
        })
        .collect();
    b.add(
        Draft {
            id: "pin-plate",
            name: "Pin plate",
            material: "steel plate",
            made: true,
            thickness: plate.thickness,
            outline: Ring::rect(v(plate.from, -plate.half), v(plate.to, plate.half)),
            features,
            notes: vec![
                "Let in flush with the slide's lower face; the pin is pressed into it and stands in the slide too.".into(),
                "Countersink for its screws from below; drill their pilot holes, 3.5 mm, through the plate in its seat.".into(),
            ],
        },
        places,
    );
}

/// Where guide rails may begin: clear of their neighbours' rails near the centre.
pub(crate) fn guide_inner(m: &Mechanism, least: f64) -> f64 {
    let half = m.members.slide_width / 2.0 + SLIDE_PLAY + RAIL + m.members.gap / 2.0;
    (half / trig::tan(m.layout.half_sector)).max(least)
}

/// Inner ends of panel and leaf guides, mm from the centre.
pub(crate) fn guide_starts(m: &Mechanism) -> (f64, f64) {
    (
        guide_inner(m, m.panel_slide_inner),
        guide_inner(m, (m.hub_radius + m.members.gap).max(m.leaf_slide_inner)),
    )
}

fn guides(b: &mut Builder) {
    let m = b.m;
    let (st, me) = (&m.stack, &m.members);
    let (panel_from, leaf_from) = guide_starts(m);
    let low = me.slide_width / 2.0 + SLIDE_PLAY;
    // Guides end square, inside their round plate's edge.
    let end = |radius: f64| (radius * radius - (low + RAIL) * (low + RAIL)).sqrt();
    let rail = |from: f64, to: f64, side: f64| {
        if side > 0.0 {
            Ring::rect(v(from, low), v(to, low + RAIL))
        } else {
            Ring::rect(v(from, -low - RAIL), v(to, -low))
        }
    };
    let sets = [
        ("panel-guide", "Panel guide", panel_from, end(me.turning_plate), st.panel_slide.bottom, Rise::None),
        ("leaf-guide", "Leaf guide", leaf_from, end(me.rising_plate), st.leaf_slide.bottom, Rise::Plate),
    ];
    for (id, name, from, to, z, rise) in sets {
        // One drawing serves both sides: a rail turned end for end is its own mirror image.
        let outline = rail(from, to, 1.0);
        let lines: Vec<f64> =
            if rise == Rise::None { b.panel_slide_lines().collect() } else { b.seam_lines().collect() };
        let mut features = vec![feature(
            "groove",
            "groove for the slide's tongue",
            FeatureKind::EdgeGroove {
                edge: 0,
                from: 0.0,
                to: to - from,
                depth: SLIDE_TONGUE + 0.4,
                z: slide_tongue(m, 0.4),
            },
        )];
        let screws = (((to - from) / 90.0).ceil() as usize).max(2);
        for i in 0..screws {
            let x = from + 15.0 + (to - from - 30.0) * i as f64 / (screws - 1) as f64;
            features.push(hole(
                format!("screw/{}", i + 1),
                "screw to the plate",
                v(x, low + RAIL * 0.72),
                2.5,
            ));
        }
        let middle = (from + to) / 2.0;
        let mut places = Vec::new();
        for line in lines {
            places.push((Pose2::new(line, Vec2::ZERO), z, Motion::Turning(rise)));
            // The other side: turned half round about the rail line's middle on the table.
            let half_turn = Pose2::new(line + core::f64::consts::PI, Vec2::polar(2.0 * middle, line));
            places.push((half_turn, z, Motion::Turning(rise)));
        }
        b.add(
            Draft {
                id,
                name,
                material: "hardwood",
                made: true,
                thickness: m.sizes.slide_thickness,
                outline,
                features,
                notes: vec![],
            },
            places,
        );
    }
}

fn posts(b: &mut Builder) {
    let m = b.m;
    let (st, me) = (&m.stack, &m.members);
    let level = Level { bottom: st.panel_slide.top, top: st.panel.bottom };
    let mut places = Vec::new();
    for line in b.panel_slide_lines() {
        for r in [me.inner_post, me.outer_post] {
            places.push((
                along(line, r),
                level.bottom,
                Motion::Sliding { line, law: Law::Panel, rise: Rise::None },
            ));
        }
    }
    b.add(
        Draft {
            notes: vec![
                "Turned from round bar, a tenon half its diameter at each end; glue the tenons with epoxy."
                    .into(),
            ],
            ..round("panel-post", "Panel post", "steel rod", false, me.post, level)
        },
        places,
    );
    let level = Level { bottom: st.leaf_slide.top, top: st.leaf.bottom };
    let (length, half) = (top::riser_length(m), top::riser_width(m) / 2.0);
    let mut places = Vec::new();
    for line in b.seam_lines() {
        for x in top::riser_places(m) {
            places.push((
                along(line, x),
                level.bottom,
                Motion::Sliding { line, law: Law::Leaf, rise: Rise::Plate },
            ));
        }
    }
    b.add(
        Draft {
            id: "leaf-riser",
            name: "Leaf riser",
            material: "hardwood",
            made: true,
            thickness: level.thickness(),
            outline: Ring::rect(v(-length / 2.0, -half), v(length / 2.0, half)),
            features: vec![hole("screw", "screw up into the leaf", Vec2::ZERO, 4.5)],
            notes: vec![],
        },
        places,
    );
}

fn arms(b: &mut Builder) {
    let m = b.m;
    let Some(found) = m.arms() else { return };
    let sets: [(&'static str, &'static str, &ArmSet, Law); 2] = [
        ("panel-arm", "Panel arm", &found.panel, Law::Panel),
        ("leaf-arm", "Leaf arm", &found.leaf, Law::Leaf),
    ];
    for (id, name, set, law) in sets {
        let level = pin_foot(m, law);
        let bow = Bow::new(Vec2::ZERO, v(set.crank.arm, 0.0), set.bend);
        let lines: Vec<f64> =
            if law == Law::Panel { b.panel_slide_lines().collect() } else { b.seam_lines().collect() };
        let places = lines
            .into_iter()
            .map(|line| {
                let pin = Vec2::polar(set.crank.pin_radius, line + found.closed);
                let slide = Vec2::polar(set.crank.slide(found.closed), line);
                (Pose2::new((slide - pin).angle(), pin), level.bottom, Motion::Arm { line, law })
            })
            .collect();
        b.add(
            Draft {
                id,
                name,
                material: "steel plate",
                made: true,
                thickness: m.sizes.arm_thickness,
                outline: bow.band(m.sizes.arm_width),
                features: vec![
                    hole("crank-pin", "turns on the crank pin", Vec2::ZERO, pin_hole(m)),
                    hole("slide-pin", "turns on the slide pin", v(set.crank.arm, 0.0), pin_hole(m)),
                ],
                notes: vec![],
            },
            places,
        );
    }
}

/// The level in which a slide pin is driven: its arm, or the cam plate.
fn pin_foot(m: &Mechanism, law: Law) -> Level {
    match (m.stack.drive, m.arms()) {
        (DriveLevels::Arms { upper, lower }, Some(arms)) => {
            let above = matches!((arms.upper, law), (Upper::Panel, Law::Panel) | (Upper::Leaf, Law::Leaf));
            if above { upper } else { lower }
        }
        (DriveLevels::Arms { lower, .. }, None) => lower,
        // A pin stops short of the slot's floor, which is the base plate.
        (DriveLevels::Cam { plate }, _) => Level { bottom: plate.bottom + 1.0, ..plate },
    }
}

fn pins(b: &mut Builder) {
    let m = b.m;
    let (st, me) = (&m.stack, &m.members);
    for law in [Law::Panel, Law::Leaf] {
        let panel = law == Law::Panel;
        let lines: Vec<f64> = if panel { b.panel_slide_lines().collect() } else { b.seam_lines().collect() };
        let level = pin_foot(m, law);
        if let Some(arms) = m.arms() {
            let radius = if panel { &arms.panel } else { &arms.leaf }.crank.pin_radius;
            let crank = Level { bottom: st.base.bottom, top: level.top };
            let places = lines
                .iter()
                .map(|line| (along(line + arms.closed, radius), crank.bottom, Motion::Base))
                .collect();
            b.add(
                round(
                    if panel { "panel-crank-pin" } else { "leaf-crank-pin" },
                    if panel { "Panel crank pin" } else { "Leaf crank pin" },
                    "class 8.8 steel",
                    false,
                    me.pin,
                    crank,
                ),
                places,
            );
        }
        // Leaf slide pins stay down; the slides rise along them.
        let top = if panel { st.panel_slide.top } else { st.leaf_slide.top };
        let slide = Level { bottom: level.bottom, top };
        let x = if panel { m.panel_pin_closed() } else { m.leaf_pin_closed() };
        let places = lines
            .iter()
            .map(|&line| (along(line, x), slide.bottom, Motion::Sliding { line, law, rise: Rise::None }))
            .collect();
        b.add(
            round(
                if panel { "panel-slide-pin" } else { "leaf-slide-pin" },
                if panel { "Panel slide pin" } else { "Leaf slide pin" },
                "class 8.8 steel",
                false,
                me.pin,
                slide,
            ),
            places,
        );
    }
    let sleeve = Level { bottom: st.turning_plate.top + m.sizes.play, top: st.leaf_slide.bottom };
    let places = b
        .seam_lines()
        .map(|line| {
            (
                along(line, m.leaf_pin_closed()),
                sleeve.bottom,
                Motion::Sliding { line, law: Law::Leaf, rise: Rise::Plate },
            )
        })
        .collect();
    let mut draft = round("leaf-sleeve", "Leaf pin sleeve", "tube", false, me.sleeve, sleeve);
    draft.features.push(feature(
        "bore",
        "slides on the leaf slide pin",
        FeatureKind::Hole { centre: Vec2::ZERO, diameter: 2.0 * me.pin + 0.2, depth: Depth::Through },
    ));
    b.add(draft, places);
}
