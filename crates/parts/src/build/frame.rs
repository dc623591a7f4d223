//! The frame: legs and crossing rails under the base plate.
//!
//! Plain joinery, common practice, no source: four square legs, one long rail across, two short ones
//! tenoned into its middle.

use super::{Builder, Draft, along};
use crate::piece::Motion;
use core::f64::consts::PI;
use turnleaf_geom::{Pose2, Ring, Vec2, vec2::v};

/// Leg, square, mm.
pub const LEG: f64 = 60.0;
/// Rail, thickness and height, mm.
pub const RAIL: (f64, f64) = (40.0, 70.0);

/// Directions of the legs, base's frame.
pub(crate) fn leg_lines() -> impl Iterator<Item = f64> {
    (0..4).map(|k| PI / 4.0 + PI / 2.0 * k as f64)
}

pub(crate) fn add(b: &mut Builder) {
    let m = b.m;
    let top = m.stack.base.bottom;
    // As far out as the base still covers most of them.
    let reach = m.rollers.base_radius - LEG / 2.0;
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
    let (length, side) = (reach - half, RAIL.0 / 2.0);
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
    let places = [0.75, 1.75].map(|k| (Pose2::new(PI * k, Vec2::ZERO), top - RAIL.1, Motion::Base)).to_vec();
    b.add(rail("rail-short", "Rail, short", side, length), places);
}
