//! When no mechanism exists: the nearest value of each size at odds that works.
//!
//! In: sizes that do not solve. Out: [`Remedy`]s.
//! Always true: every remedy was solved again with its printed value before it is offered.

use crate::sizes::{Opening, Sizes};
use crate::solve::solve;
use turnleaf_geom::trig;

/// A change of one size that makes the mechanism solve.
#[derive(Clone, Debug, PartialEq)]
pub struct Remedy {
    /// Plan-file name of the size.
    pub size: &'static str,
    /// The value it has, mm, degrees or a count.
    pub from: f64,
    /// The nearest value that works, same unit.
    pub to: f64,
    /// Unit symbol: "mm", "deg" or "count".
    pub unit: &'static str,
}

/// A size that may be changed: name, unit, print step, least, most.
type Dial = (&'static str, &'static str, f64, f64, f64);

/// Sizes tried, with the range each is tried over.
pub const DIALS: [Dial; 13] = [
    ("closed_diameter", "mm", 1.0, 500.0, 2500.0),
    ("open_diameter", "mm", 1.0, 540.0, 3600.0),
    ("sectors", "count", 1.0, 4.0, 12.0),
    ("stock_thickness", "mm", 0.5, 6.0, 40.0),
    ("tongue_depth", "mm", 0.5, 0.0, 20.0),
    ("tongue_clearance", "mm", 0.5, 0.2, 10.0),
    ("leaf_tip_half_angle", "deg", 0.5, 15.0, 90.0),
    ("arm_width", "mm", 0.5, 8.0, 80.0),
    ("arm_clearance", "mm", 0.5, 0.5, 30.0),
    ("ramp_sweep", "deg", 0.5, 8.0, 60.0),
    ("height", "mm", 1.0, 300.0, 1200.0),
    ("ply_thickness", "mm", 0.5, 4.0, 40.0),
    ("slide_skew", "deg", 0.5, 0.0, 45.0),
];

/// The value of a dial, in its unit.
pub fn get(s: &Sizes, name: &str) -> Option<f64> {
    Some(match name {
        "closed_diameter" => s.closed_diameter,
        "open_diameter" => s.closed_diameter + 2.0 * s.travel(),
        "sectors" => s.sectors as f64,
        "stock_thickness" => s.stock_thickness,
        "tongue_depth" => s.tongue_depth,
        "tongue_clearance" => s.tongue_clearance,
        "leaf_tip_half_angle" => trig::deg(s.leaf_tip_half_angle),
        "arm_width" => s.arm_width,
        "arm_clearance" => s.arm_clearance,
        "ramp_sweep" => trig::deg(s.ramp_sweep),
        "height" => s.height,
        "ply_thickness" => s.ply_thickness,
        "slide_skew" => trig::deg(s.slide_skew),
        _ => return None,
    })
}

/// The sizes with one dial set; the open diameter stays as it is when the closed one changes.
pub fn set(s: &Sizes, name: &str, value: f64) -> Option<Sizes> {
    let mut s = s.clone();
    match name {
        "closed_diameter" => {
            s.opening = Opening::Diameter(s.closed_diameter + 2.0 * s.travel());
            s.closed_diameter = value;
        }
        "open_diameter" => s.opening = Opening::Diameter(value),
        "sectors" => s.sectors = value as usize,
        "stock_thickness" => s.stock_thickness = value,
        "tongue_depth" => s.tongue_depth = value,
        "tongue_clearance" => s.tongue_clearance = value,
        "leaf_tip_half_angle" => s.leaf_tip_half_angle = trig::rad(value),
        "arm_width" => s.arm_width = value,
        "arm_clearance" => s.arm_clearance = value,
        "ramp_sweep" => s.ramp_sweep = trig::rad(value),
        "height" => s.height = value,
        "ply_thickness" => s.ply_thickness = value,
        "slide_skew" => s.slide_skew = trig::rad(value),
        _ => return None,
    }
    Some(s)
}

/// Nearest working value of each dial with all other sizes held.
pub fn remedies(s: &Sizes) -> Vec<Remedy> {
    // A radial table is not mended by skewing it.
    let wanted = |dial: &&Dial| dial.0 != "slide_skew" || s.slide_skew != 0.0;
    DIALS.iter().filter(wanted).filter_map(|dial| nearest(s, dial)).collect()
}

/// Nearest working value of one dial; None when none works within its range.
fn nearest(s: &Sizes, dial: &Dial) -> Option<Remedy> {
    let &(size, unit, step, least, most) = dial;
    let from = get(s, size)?;
    let works = |value: f64| set(s, size, value).is_some_and(|t| solve(&t).is_ok());
    let mut best: Option<f64> = None;
    for direction in [-1.0, 1.0] {
        let limit = if direction < 0.0 { least } else { most };
        if let Some(to) = walk(from, direction, step, limit, &works)
            && best.is_none_or(|b| (to - from).abs() < (b - from).abs())
        {
            best = Some(to);
        }
    }
    best.map(|to| Remedy { size, from, to, unit })
}

/// Walks away from `from` in growing strides until a value works, then halves back to the nearest one.
fn walk(from: f64, direction: f64, step: f64, limit: f64, works: &impl Fn(f64) -> bool) -> Option<f64> {
    let on_grid = |k: f64| {
        // The first grid value beyond `from` in this direction, then `k` steps further.
        let base = if direction > 0.0 { (from / step).floor() } else { (from / step).ceil() };
        (base + direction * k) * step
    };
    let inside = |v: f64| if direction > 0.0 { v <= limit + 1e-9 } else { v >= limit - 1e-9 };
    let (mut bad, mut stride) = (0.0, 1.0);
    loop {
        let k = bad + stride;
        let value = on_grid(k);
        if !inside(value) {
            return None;
        }
        if works(value) {
            let mut good = k;
            while good - bad > 1.0 {
                let mid = ((good + bad) / 2.0).floor();
                if works(on_grid(mid)) { good = mid } else { bad = mid }
            }
            return Some(on_grid(good));
        }
        bad = k;
        stride = (stride * 1.7).ceil();
    }
}
