//! What each pair of parts is meant to do: keep clear by so much, fit, or not be asked.
//!
//! In: two part identifiers. Out: an [`Expect`].
//! Always true: a pair not named here must keep [`CLEAR`] mm apart.

use turnleaf_mechanism::{Mechanism, cam::SLOT_PLAY};

/// Least clearance of a pair that nothing is said about, mm. Larger: safer against sawing errors.
pub const CLEAR: f64 = 0.5;

/// What a pair is meant to do.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Expect {
    /// Keep at least this far apart over the whole turn, mm.
    Clear(f64),
    /// Fit with this play, mm; anything down to half of it passes.
    Fit(f64),
    /// May touch but not overlap.
    Touch,
    /// Rigidly joined, or proved elsewhere: not asked. The reason is for the report.
    Joined(&'static str),
}

/// A row: two part identifiers in either order.
type Row = (&'static str, &'static str, Expect);

/// What is expected of a pair.
pub fn expect(m: &Mechanism, a: &str, b: &str) -> Expect {
    let half_gap = m.sizes.fitting_gap / 2.0;
    let slide = turnleaf_parts::build::SLIDE_PLAY;
    let pin = 0.25;
    let rows: [Row; 39] = [
        ("panel", "panel", Expect::Touch),
        ("panel", "leaf", Expect::Fit(half_gap)),
        ("panel", "star", Expect::Fit(half_gap)),
        ("leaf", "star", Expect::Fit(m.sizes.fitting_gap)),
        ("leaf", "leaf", Expect::Fit(m.sizes.fitting_gap)),
        ("panel-slide", "panel-guide", Expect::Fit(slide)),
        ("leaf-slide", "leaf-guide", Expect::Fit(slide)),
        ("panel-arm", "panel-arm", Expect::Clear(m.sizes.arm_clearance)),
        ("leaf-arm", "leaf-arm", Expect::Clear(m.sizes.arm_clearance)),
        ("panel-arm", "panel-crank-pin", Expect::Fit(pin)),
        ("panel-arm", "panel-slide-pin", Expect::Fit(pin)),
        ("leaf-arm", "leaf-crank-pin", Expect::Fit(pin)),
        ("leaf-arm", "leaf-slide-pin", Expect::Fit(pin)),
        ("panel-slide", "panel-slide-pin", Expect::Joined("pressed in")),
        ("panel-slide", "pin-plate", Expect::Joined("let in and screwed")),
        ("pin-plate", "panel-slide-pin", Expect::Joined("pressed in")),
        ("leaf-slide", "leaf-slide-pin", Expect::Fit(pin)),
        ("leaf-sleeve", "leaf-slide-pin", Expect::Fit(0.1)),
        ("bushing", "guide-shaft", Expect::Fit(0.01)),
        ("star-hub", "keeping-pin", Expect::Fit(0.15)),
        ("star", "keeping-pin", Expect::Fit(0.15)),
        ("star-lever", "star-hub", Expect::Joined("the tip carries the hub")),
        ("star-lever", "hold-down-flange", Expect::Joined("the nose bears under the flange")),
        ("star-lever", "rising-plate", Expect::Joined("pinned in its recess, 1 mm free each side")),
        ("star-lever", "star", Expect::Joined("the hub lies between")),
        ("star-shaft", "centre-post", Expect::Fit(1.0)),
        ("star-shaft", "hold-down-flange", Expect::Fit(1.0)),
        ("centre-post", "hold-down-flange", Expect::Joined("held by its grub screws")),
        ("centre-post", "turning-plate", Expect::Joined("ball bearing between")),
        ("drop-roller", "base-upper-ply", Expect::Joined("rides on it; tracks and ride are checked")),
        ("drop-roller", "base-lower-ply", Expect::Joined("rides on it; tracks and ride are checked")),
        ("drop-roller", "ramp-outer", Expect::Joined("climbs it; tracks and ride are checked")),
        ("drop-roller", "ramp-inner", Expect::Joined("climbs it; tracks and ride are checked")),
        ("drop-roller", "cam-plate", Expect::Joined("rides on it; tracks and ride are checked")),
        ("panel-slide-pin", "cam-plate", Expect::Fit(SLOT_PLAY)),
        ("leaf-slide-pin", "cam-plate", Expect::Fit(SLOT_PLAY)),
        ("drop-roller", "glide-ring", Expect::Clear(CLEAR)),
        ("stop-block", "end-stop", Expect::Touch),
        ("hand-hold", "panel-post", Expect::Joined("the post stands in its hole and moves with it")),
    ];
    rows.iter()
        .find(|(x, y, _)| (*x == a && *y == b) || (*x == b && *y == a))
        .map_or(Expect::Clear(CLEAR), |r| r.2)
}
