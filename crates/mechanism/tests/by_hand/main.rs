//! The mechanism worked by hand: right triangles of whole sides, circles through three points, coordinates added up.
//!
//! In: sizes chosen so that each result can be checked with pencil and paper. Out: pass, or which value is off.
//! Always true: what is expected is never taken from the formula under test; where no closed form exists, the other
//! side is sampled points and the distances between them.

mod arms;
mod cam;
mod crank;
mod heights;
mod plan;
mod refusals;
mod whole;

use turnleaf_geom::{Vec2, trig};
use turnleaf_mechanism::{DriveKind, Opening, Sizes};

/// A table of 15 mm plies: sectors, diameter, travel, stock, tongue; tip half-angle, ramp sweep and skew in degrees;
/// width and clearance of the arms.
fn table(
    drive: DriveKind,
    (sectors, diameter, travel): (usize, f64, f64),
    (stock, tongue): (f64, f64),
    (tip, sweep, skew): (f64, f64, f64),
    (width, clearance): (f64, f64),
) -> Sizes {
    Sizes {
        drive,
        sectors,
        closed_diameter: diameter,
        opening: Opening::Travel(travel),
        stock_thickness: stock,
        ply_thickness: 15.0,
        tongue_depth: tongue,
        leaf_tip_half_angle: trig::rad(tip),
        ramp_sweep: trig::rad(sweep),
        slide_skew: trig::rad(skew),
        arm_width: width,
        arm_clearance: clearance,
        ..Sizes::example()
    }
}

/// Tables near their limits: slots and rails beside rollers, roller circles a pitch apart, pins far out.
fn tight_arms() -> [Sizes; 3] {
    let arms = DriveKind::Arms;
    [
        table(arms, (6, 710.0, 146.0), (21.0, 4.0), (50.0, 32.0, 3.0), (14.0, 3.0)),
        table(arms, (5, 710.0, 103.0), (23.0, 2.0), (70.0, 32.0, 0.0), (13.0, 2.0)),
        table(arms, (9, 990.0, 109.0), (14.0, 3.0), (60.0, 32.0, 3.0), (13.0, 3.0)),
    ]
}

/// Cams near their limits: slots that bend as tightly as their pins allow, turns that would be too long.
fn tight_cams() -> [Sizes; 3] {
    let cam = DriveKind::Cam;
    [
        table(cam, (4, 790.0, 146.0), (18.0, 7.0), (60.0, 31.0, 0.0), (13.0, 1.0)),
        table(cam, (8, 1070.0, 139.0), (13.0, 7.0), (65.0, 18.0, 0.0), (20.0, 4.0)),
        table(cam, (5, 750.0, 105.0), (16.0, 6.0), (60.0, 35.0, 0.0), (19.0, 3.0)),
    ]
}

/// Within a millionth.
fn near(what: &str, ours: f64, due: f64) {
    within(what, ours, due, 1e-6);
}

fn within(what: &str, ours: f64, due: f64, tolerance: f64) {
    assert!((ours - due).abs() <= tolerance, "{what}: {ours}, by hand {due}");
}

fn at(x: f64, y: f64) -> Vec2 {
    Vec2 { x, y }
}

fn near_point(what: &str, ours: Vec2, due: Vec2) {
    assert!(ours.dist(due) <= 1e-6, "{what}: {ours:?}, by hand {due:?}");
}

/// Distance from a point to a stretch.
fn to_stretch(p: Vec2, a: Vec2, b: Vec2) -> f64 {
    let share = ((p - a).dot(b - a) / (b - a).norm2()).clamp(0.0, 1.0);
    p.dist(a.lerp(b, share))
}

/// Distance from a point to a line of points.
fn to_line(p: Vec2, line: &[Vec2]) -> f64 {
    line.windows(2).map(|w| to_stretch(p, w[0], w[1])).fold(f64::INFINITY, f64::min)
}

/// Distance between two lines of points that do not cross.
fn apart(a: &[Vec2], b: &[Vec2]) -> f64 {
    let from = |a: &[Vec2], b: &[Vec2]| a.iter().map(|&p| to_line(p, b)).fold(f64::INFINITY, f64::min);
    from(a, b).min(from(b, a))
}
