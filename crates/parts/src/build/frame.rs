//! The frame: legs and crossing rails under the base plate.
//!
//! Plain joinery, common practice, no source: four square legs, one long rail across, two short ones
//! tenoned into its middle. Between leg and crossing the rails' lower edges rise in an arc, which is room for knees;
//! at the joints they keep their whole depth.

use super::{Builder, Draft, along};
use crate::piece::Motion;
use core::f64::consts::PI;
use turnleaf_geom::{Pose2, Ring, Vec2, Vertex, vec2::v};
use turnleaf_mechanism::Mechanism;

/// Leg, square, mm.
pub const LEG: f64 = 60.0;
/// Rail, thickness and height, mm.
pub const RAIL: (f64, f64) = (40.0, 70.0);

/// Straight lower edge kept at each joint of a rail, mm.
const SEAT: f64 = 25.0;
/// Most that a rail's lower edge rises, mm: what is left still holds the base. Larger: more room for knees.
pub(super) const HOLLOW: f64 = 30.0;
/// Hollows shorter than this are left out, mm.
const HOLLOW_LEAST: f64 = 80.0;

/// Side view of a rail with one arc of its lower edge over each span; None where they are too short to be worth it.
fn profile(from: f64, to: f64, spans: &[(f64, f64)]) -> Option<Ring> {
    let corner = |x: f64, y: f64| Vertex { p: v(x, y), bulge: 0.0 };
    let mut vertices = vec![corner(from, 0.0)];
    for &(a, b) in spans {
        let chord = b - a;
        if chord < HOLLOW_LEAST {
            return None;
        }
        // A bulge is twice the rise over the chord; to the left of the way is negative.
        let bulge = -2.0 * HOLLOW.min(chord / 6.0) / chord;
        vertices.extend([Vertex { p: v(a, 0.0), bulge }, corner(b, 0.0)]);
    }
    vertices.extend([corner(to, 0.0), corner(to, RAIL.1), corner(from, RAIL.1)]);
    Some(Ring { vertices })
}

/// Directions of the legs, base's frame.
pub(crate) fn leg_lines() -> impl Iterator<Item = f64> {
    (0..4).map(|k| PI / 4.0 + PI / 2.0 * k as f64)
}

/// From the table's centre to a leg's middle: as far out as the base covers most of it and the stop block passes it
/// well clear.
fn leg_reach(m: &Mechanism) -> f64 {
    m.rollers.base_radius - 0.6 * LEG
}

/// From the table's centre to a rail's shoulder at its leg, mm.
pub(super) fn rail_reach(m: &Mechanism) -> f64 {
    leg_reach(m) - LEG / 2.0
}

pub(crate) fn add(b: &mut Builder) {
    let m = b.m;
    let top = m.stack.base.bottom;
    let reach = leg_reach(m);
    let half = LEG / 2.0;
    let places = leg_lines().map(|line| (along(line, reach), 0.0, Motion::Base)).collect();
    b.add(
        Draft {
            id: "leg",
            name: "Leg",
            material: "hardwood",
            made: true,
            thickness: top,
            outline: Ring::rect(v(-half, -half), v(half, half)),
            features: vec![],
            notes: vec![
                "Drawn from the end; the thickness is the leg's length.".into(),
                format!("Mortised for the rails' stub tenons, {:.0} mm deep.", RAIL.0 / 2.0),
            ],
        },
        places,
    );
    let (length, side) = (rail_reach(m), RAIL.0 / 2.0);
    let shaped = |b: &mut Builder, profile: Option<Ring>| {
        if let Some(part) = b.parts.last_mut() {
            part.side = profile;
        }
    };
    let rail = |id, name, from: f64, to: f64| Draft {
        id,
        name,
        material: "hardwood",
        made: true,
        thickness: RAIL.1,
        outline: Ring::rect(v(from, -side), v(to, side)),
        features: vec![],
        notes: vec![format!("Length between shoulders; add {:.0} mm at each tenoned end.", RAIL.0 / 2.0)],
    };
    b.add(
        rail("rail-long", "Rail, long", -length, length),
        vec![(Pose2::new(PI / 4.0, Vec2::ZERO), top - RAIL.1, Motion::Base)],
    );
    let (near, far) = (side + SEAT, length - SEAT);
    shaped(b, profile(-length, length, &[(-far, -near), (near, far)]));
    let places = [0.75, 1.75].map(|k| (Pose2::new(PI * k, Vec2::ZERO), top - RAIL.1, Motion::Base)).to_vec();
    b.add(rail("rail-short", "Rail, short", side, length), places);
    shaped(b, profile(side, length, &[(near, far)]));
}
