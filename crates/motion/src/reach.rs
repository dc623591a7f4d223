//! How far any point of a piece can move between two turns.
//!
//! In: a piece and two turns. Out: an upper bound of the path length of its points, mm, turning frame.
//! Always true: the bound is exact for slides (their travel is monotone on each side of dead centre) and
//! never too small for arms and base.

use turnleaf_geom::trig;
use turnleaf_mechanism::Mechanism;
use turnleaf_parts::{Law, Motion};

/// Path length of a function that is monotone between the given turning points.
fn path(from: f64, to: f64, turning: &[f64], f: impl Fn(f64) -> f64) -> f64 {
    let mut total = 0.0;
    let mut at = from;
    for &t in turning.iter().filter(|t| **t > from && **t < to) {
        total += (f(t) - f(at)).abs();
        at = t;
    }
    total + (f(to) - f(at)).abs()
}

/// Greatest path length of any point within `reach` of the part's origin, between turns `from` ≤ `to`.
pub fn path_bound(m: &Mechanism, motion: &Motion, reach: f64, from: f64, to: f64) -> f64 {
    match motion {
        Motion::Turning(_) | Motion::Lever | Motion::Roller => 0.0,
        Motion::Sliding { law, .. } => {
            let peak = [m.travel_peak()];
            match law {
                Law::Panel => path(from, to, &peak, |t| m.panel_pin(t)),
                Law::Leaf => path(from, to, &peak, |t| m.leaf_pin(t)),
            }
        }
        Motion::Base => reach * (to - from),
        Motion::Arm { law, .. } => {
            // Without the arm drive nothing carries this motion.
            let Some(arms) = m.arms() else { return 0.0 };
            let c = match law {
                Law::Panel => arms.panel.crank,
                Law::Leaf => arms.leaf.crank,
            };
            let quarter = core::f64::consts::FRAC_PI_2;
            // The crank pin runs on its circle while the arm turns about it.
            let swing = path(arms.closed + from, arms.closed + to, &[-quarter, quarter], |phi| {
                trig::asin(c.pin_radius / c.arm * trig::sin(phi))
            });
            c.pin_radius * (to - from) + reach * swing
        }
    }
}
