//! Roller tracks against pockets.
//!
//! In: an assembly. Out: the smallest distance, along the circle, between a wheel's path and any pocket it
//! must not fall into, mm.
//! Always true: the path is the whole stretch a wheel rolls on the base's top, folded before its own
//! pocket and lifted after its ramp.

use core::f64::consts::PI;
use turnleaf_mechanism::Mechanism;
use turnleaf_parts::build::base_pocket_angles as pocket_angles;

/// The tightest meeting of a track and a pocket.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TrackMargin {
    /// Roller whose track it is, 0 to 3.
    pub roller: usize,
    /// Pocket, 0 to 3.
    pub pocket: usize,
    /// Distance along the circle, mm; negative when the track runs over the pocket.
    pub margin: f64,
}

/// Smallest margin of all tracks and pockets that share a circle; None when no two share one.
pub fn track_margin(m: &Mechanism) -> Option<TrackMargin> {
    let r = &m.rollers;
    let half = m.members.wheel_width / 2.0;
    let pocket_half = half + m.members.gap;
    let mut least: Option<TrackMargin> = None;
    for (i, roller) in r.places.iter().enumerate() {
        let (high, _, far) = pocket_angles(m, roller);
        // Angles fall as the table opens.
        let start = roller.direction - r.folded_ahead / roller.radius;
        let after = m.turn() - m.lift_ends();
        let stretches = [(far, start), (high - after, high)];
        for (j, other) in r.places.iter().enumerate() {
            if i == j || (roller.radius - other.radius).abs() >= half + pocket_half {
                continue;
            }
            let (o_high, _, o_far) = pocket_angles(m, other);
            for (low, top) in stretches {
                if top <= low {
                    continue;
                }
                let gap = angular_gap((low, top), (o_high, o_far));
                let margin = gap * roller.radius;
                if least.is_none_or(|l| margin < l.margin) {
                    least = Some(TrackMargin { roller: i, pocket: j, margin });
                }
            }
        }
    }
    least
}

/// Signed gap between two stretches of a circle, radians: negative when they overlap.
fn angular_gap(x: (f64, f64), y: (f64, f64)) -> f64 {
    let (cx, cy) = ((x.0 + x.1) / 2.0, (y.0 + y.1) / 2.0);
    let d = (cy - cx).rem_euclid(2.0 * PI);
    let d = d.min(2.0 * PI - d);
    d - (x.1 - x.0) / 2.0 - (y.1 - y.0) / 2.0
}
