//! What stands still: the base plate's two plies with crank-pin holes and roller pockets, ramps, glide
//! ring, centre post.
//!
//! Frame: table's centre, +x along the first panel's centre line while closed.

use super::{Builder, Draft, cam, feature, fixings, hole, round};
use crate::part::{Depth, Face, Feature, FeatureKind};
use crate::piece::Motion;
use crate::shapes::annular_sector;
use turnleaf_geom::{Pose2, Ring, Vec2};
use turnleaf_mechanism::{
    Mechanism,
    rollers::{GLIDE_RING, Roller},
    stack::Level,
};

/// Angles of one roller's pocket in the base's frame: ramp's high end, ramp's foot, pocket's far end.
/// The roller comes from the far end (largest angle) and climbs to the high end (smallest).
pub fn pocket_angles(m: &Mechanism, roller: &Roller) -> (f64, f64, f64) {
    let r = &m.rollers;
    let foot = roller.direction - m.lift_begins() + r.dropped_behind / roller.radius;
    (foot - m.sizes.ramp_sweep, foot, foot + r.landing / roller.radius)
}

/// Half the width of a pocket: the wheel and its gap each side, mm.
pub fn pocket_half_width(m: &Mechanism) -> f64 {
    m.members.wheel_width / 2.0 + m.members.gap
}

/// Outline of one roller's pocket in the base's frame.
pub(super) fn pocket_ring(m: &Mechanism, roller: &Roller) -> Ring {
    let (half, (high, _, far)) = (pocket_half_width(m), pocket_angles(m, roller));
    annular_sector(roller.radius - half, roller.radius + half, high, far)
}

/// Crank pins in the base's frame: whose, which, where. None with a cam.
pub(super) fn crank_pins(m: &Mechanism) -> Vec<(&'static str, usize, Vec2)> {
    let Some(arms) = m.arms() else { return Vec::new() };
    let (h, skew) = (m.layout.half_sector, m.layout.skew);
    let mut out = Vec::new();
    for (name, start, radius) in [
        ("panel-crank-pin", skew, arms.panel.crank.pin_radius),
        ("leaf-crank-pin", h, arms.leaf.crank.pin_radius),
    ] {
        for k in 0..m.sizes.sectors {
            let line = 2.0 * core::f64::consts::PI * k as f64 / m.sizes.sectors as f64 + start;
            out.push((name, k + 1, Vec2::polar(radius, line + arms.closed)));
        }
    }
    out
}

/// Pockets that one sheet of the bed must have, given how much of the bed lies above it, mm. A pocket is a
/// step deep from the bed's face and goes through every sheet it does not end in.
pub(super) fn pockets(m: &Mechanism, above: f64, thickness: f64) -> Vec<Feature> {
    let rest = m.stack.step - above;
    if rest <= 1e-9 {
        return Vec::new();
    }
    let depth = if rest >= thickness - 1e-9 { Depth::Through } else { Depth::Blind(Face::Top, rest) };
    m.rollers
        .places
        .iter()
        .enumerate()
        .map(|(i, roller)| {
            let kind = FeatureKind::Pocket { ring: pocket_ring(m, roller), depth };
            feature(format!("pocket/{}", i + 1), "roller pocket with its ramp", kind)
        })
        .collect()
}

pub(crate) fn add(b: &mut Builder) {
    let m = b.m;
    let (st, me, s) = (&m.stack, &m.members, &m.sizes);
    let rail = fixings::rail_screws(m, b.stops.as_ref().ok());
    for ply in 0..2 {
        let mut features = vec![hole("centre", "centre post", Vec2::ZERO, 2.0 * me.centre_post)];
        for (name, k, at) in crank_pins(m) {
            features.push(hole(format!("{name}/{k}"), "crank pin", at, 2.0 * me.pin));
        }
        for (i, at) in rail.iter().copied().enumerate() {
            features.push(hole(format!("rail-screw/{}", i + 1), "screw into a rail", at, fixings::RAIL_HOLE));
        }
        if ply == 1 {
            features.extend(b.stops.iter().flat_map(|s| s.base_holes(m)));
        }
        features.extend(pockets(m, st.bed - st.base.top + ply as f64 * s.ply_thickness, s.ply_thickness));
        b.add(
            Draft {
                id: if ply == 0 { "base-upper-ply" } else { "base-lower-ply" },
                name: if ply == 0 { "Base plate, upper ply" } else { "Base plate, lower ply" },
                material: "base stock",
                made: true,
                thickness: s.ply_thickness,
                outline: Ring::circle(Vec2::ZERO, m.rollers.base_radius),
                features,
                notes: {
                    let glue = "Glue both plies with their face grain crossed; drill the pin holes together.";
                    let sink = "Countersink the rail screws' holes from above, flush.";
                    if ply == 0 && !rail.is_empty() {
                        vec![glue.into(), sink.into()]
                    } else {
                        vec![glue.into()]
                    }
                },
            },
            vec![(
                Pose2::default(),
                if ply == 0 { st.base.top - s.ply_thickness } else { st.base.bottom },
                Motion::Base,
            )],
        );
    }
    cam::plate(b);
    ramps(b);
    glide_ring(b);
    // The post reaches up through the flange, which is held on it by grub screws and can be set in height.
    let post = Level { bottom: st.base.bottom, top: st.star.bottom - 3.0 };
    let mut draft = round("centre-post", "Centre post", "steel tube", false, me.centre_post, post);
    draft.features.push(feature(
        "bore",
        "star shaft",
        FeatureKind::Hole { centre: Vec2::ZERO, diameter: 12.0, depth: Depth::Through },
    ));
    b.add(draft, vec![(Pose2::default(), post.bottom, Motion::Base)]);
    let flange = Level { bottom: st.rising_plate.top, top: post.top };
    let mut draft = round("hold-down-flange", "Hold-down flange", "steel", false, me.flange, flange);
    // A sliding fit, so that it can be set in height.
    draft.features.push(hole("bore", "centre post", Vec2::ZERO, 2.0 * me.centre_post + 0.2));
    b.add(draft, vec![(Pose2::default(), flange.bottom, Motion::Base)]);
}

/// The glide ring: screwed on over a base with arms, a thin strip stuck on over a cam plate.
fn glide_ring(b: &mut Builder) {
    let (m, st) = (b.m, &b.m.stack);
    let ring = Level { bottom: st.bed, top: st.turning_plate.bottom };
    let inside = 2.0 * (m.rollers.base_radius - GLIDE_RING);
    let mut features = vec![hole("inside", "clear of arms and rollers", Vec2::ZERO, inside)];
    let notes = match fixings::under_head(m) {
        Some(rest) => {
            for (i, at) in fixings::rim_screws(m, b.stops.as_ref().ok()).into_iter().enumerate() {
                let id = format!("screw/{}", i + 1);
                features.push(hole(id, "screw into the base", at, fixings::RING_HOLE));
            }
            vec![
                "In lengths that meet midway between two screws; screwed to the base, heads sunk well below the upper face.".into(),
                format!("Counterbore its screws' holes from above, 8 mm wide, until {rest:.1} mm are left."),
                "Drill its pilot holes, 2.5 mm, through it in its place.".into(),
            ]
        }
        None => vec!["A strip stuck on with its own adhesive, over the cam plate's screws.".into()],
    };
    b.add(
        Draft {
            id: "glide-ring",
            name: "Glide ring",
            material: "PE-UHMW",
            made: true,
            thickness: ring.thickness(),
            outline: Ring::circle(Vec2::ZERO, m.rollers.base_radius),
            features,
            notes,
        },
        vec![(Pose2::default(), ring.bottom, Motion::Base)],
    );
}

/// The slope of a ramp. The axle of a roller of radius w is to rise by the lift's own law: its way bends with radius
/// b(1 − b)L²/H at both ends, and what the wheel rolls on lies w below, so that hollow and rounding differ by 2w.
fn slope(m: &Mechanism, radius: f64) -> Feature {
    let (run, rise) = (radius * m.sizes.ramp_sweep, m.stack.step);
    let bend = m.blend * (1.0 - m.blend) * run * run / rise;
    // A rounding sharper than a millimetre is an edge.
    let head = (bend - m.members.wheel).max(1.0);
    feature("slope", "lifts a roller", FeatureKind::Ramp { foot: bend + m.members.wheel, head })
}

/// Ramp inserts: two alike on each circle. Drawn in their pocket's frame, middle on +x.
fn ramps(b: &mut Builder) {
    let m = b.m;
    let step = m.stack.step;
    for (id, name, first) in
        [("ramp-outer", "Ramp, outer circle", 0), ("ramp-inner", "Ramp, inner circle", 2)]
    {
        let radius = m.rollers.places[first].radius;
        let half = m.members.wheel_width / 2.0 + m.members.gap - 0.3;
        let half_angle = m.sizes.ramp_sweep / 2.0;
        let places = (first..first + 2)
            .map(|i| {
                let (high, foot, _) = pocket_angles(m, &m.rollers.places[i]);
                (Pose2::new((high + foot) / 2.0, Vec2::ZERO), m.stack.bed - step, Motion::Base)
            })
            .collect();
        b.add(
            Draft {
                id,
                name,
                material: "hardwood",
                made: true,
                thickness: step,
                outline: annular_sector(radius - half, radius + half, -half_angle, half_angle),
                features: vec![slope(m, radius)],
                notes: vec![],
            },
            places,
        );
    }
}
