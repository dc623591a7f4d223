//! How roomy a solved mechanism is: its smallest margin, each measured in comfortable amounts.
//!
//! In: a mechanism. Out: a [`Score`]; 1 or more is comfortable, 0 just holds.
//! Always true: only quantities that need no proof over the turn are used, so that many can be compared.

use turnleaf_geom::trig::deg;
use turnleaf_mechanism::{
    Drive, Mechanism,
    arms::{ARM_ANGLE_LIMIT, ArmSet, TURN_LIMIT},
    cam::{BRIDGE_LEAST, PRESSURE_LIMIT},
    members::ENGAGED_WIDTHS,
    rollers::SLOPE_LIMIT,
};
use turnleaf_motion::tracks::track_margin;

/// The tightest of the margins.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Score {
    /// In comfortable amounts.
    pub value: f64,
    /// Which margin is the tightest.
    pub tightest: &'static str,
}

/// Scores a mechanism. The comfortable amounts are common practice, no source.
pub fn score(m: &Mechanism) -> Score {
    let width = m.members.slide_width;
    let engaged = m.panel_engaged().min(m.leaf_engaged()) - ENGAGED_WIDTHS * width;
    let slope = deg(m.ramp_slope(m.rollers.places[2].radius));
    let track = track_margin(m).map_or(f64::INFINITY, |t| t.margin);
    let mut margins = vec![
        ("slides in their guides", engaged / width),
        ("ramp slope", (SLOPE_LIMIT + 1.0 - slope) / 4.0),
        ("turn", (TURN_LIMIT + 5.0 - deg(m.turn())) / 20.0),
        ("roller tracks", track / 40.0),
        ("tongues", (m.sizes.tongue_depth - 1.0) / 4.0),
        ("stored star", (m.layout.radius - m.layout.star_reach) / (0.08 * m.layout.radius)),
    ];
    match &m.drive {
        Drive::Arms(a) => {
            let angle = |s: &ArmSet| deg(s.crank.largest_arm_angle(a.closed, a.open));
            let worst = angle(&a.panel).max(angle(&a.leaf));
            margins.extend([
                // The gap beyond the few millimetres that any table needs.
                ("arms", (a.clearance - 1.0) / 8.0),
                ("arm width", (m.sizes.arm_width - 7.0) / 10.0),
                ("arm angle", (ARM_ANGLE_LIMIT + 3.0 - worst) / 15.0),
            ]);
        }
        Drive::Cam(c) => margins.extend([
            ("cam bridges", (c.bridge - BRIDGE_LEAST + 1.0) / 8.0),
            ("pressure angle", (PRESSURE_LIMIT + 3.0 - deg(c.pressure)) / 15.0),
        ]),
    }
    let mut tightest = margins[0];
    for m in margins {
        if m.1 < tightest.1 {
            tightest = m;
        }
    }
    Score { value: tightest.1, tightest: tightest.0 }
}
