//! Checks on how near two parts come.
//!
//! In: an assembly, a pair's result. Out: [`Check`]s, with the sizes that decide them.
//! Always true: the text names both parts, the distance and the turn.

use crate::checks::{Check, at_least, at_most};
use crate::expect::Expect;
use crate::proof::{Bodies, FAR, PairResult, prove_pair};
use turnleaf_geom::trig::deg;
use turnleaf_parts::Assembly;

impl Check {
    /// Like one pair's result.
    fn like(self, r: &PairResult) -> Check {
        Check {
            at_turn: Some(deg(r.turn)),
            place: (r.distance < FAR).then_some((r.place.x, r.place.y)),
            parts: vec![r.a.clone(), r.b.clone()],
            pieces: if r.distance < FAR { vec![r.pieces.0.clone(), r.pieces.1.clone()] } else { Vec::new() },
            sizes: deciding(&r.a, &r.b),
            ..self
        }
    }
}

/// Sizes that decide how near two parts come, the most telling first.
fn deciding(a: &str, b: &str) -> &'static [&'static str] {
    let any = |what: &str| a.contains(what) || b.contains(what);
    let both = |what: &str| a.contains(what) && b.contains(what);
    if both("panel-arm") {
        &[
            "panel_arm_bend",
            "arm_width",
            "panel_arm_length",
            "panel_pin_radius",
            "tongue_depth",
            "open_diameter",
        ]
    } else if both("leaf-arm") {
        &["leaf_arm_bend", "arm_width", "leaf_arm_length", "leaf_pin_radius", "tongue_depth", "open_diameter"]
    } else if any("-arm") {
        &[
            "arm_width",
            "panel_arm_bend",
            "leaf_arm_bend",
            "panel_pin_radius",
            "leaf_pin_radius",
            "ramp_sweep",
            "open_diameter",
        ]
    } else if any("drop-roller") {
        &["ramp_sweep", "arm_width", "stock_thickness", "closed_diameter"]
    } else if any("post") {
        &["open_diameter", "tongue_depth", "closed_diameter", "sectors"]
    } else if any("leaf-riser") {
        &["leaf_tip_half_angle", "tongue_depth", "closed_diameter", "open_diameter"]
    } else if ["panel", "leaf", "star"].iter().any(|top| a == *top || b == *top) {
        &["tongue_depth", "fitting_gap", "leaf_tip_half_angle", "hidden_margin", "open_diameter"]
    } else {
        &["open_diameter", "closed_diameter", "ramp_sweep", "tongue_depth", "sectors"]
    }
}

/// The plain name of a part.
fn name<'a>(a: &'a Assembly, id: &'a str) -> &'a str {
    a.part(id).map_or(id, |p| p.name.as_str())
}

/// The check of one pair.
pub(crate) fn pair_check(a: &Assembly, r: &PairResult) -> Check {
    let limit = match r.expect {
        Expect::Clear(c) => c,
        Expect::Fit(f) => f / 2.0,
        Expect::Touch | Expect::Joined(_) => 0.0,
    };
    let (x, y) = (name(a, &r.a), name(a, &r.b));
    let text = match r.expect {
        _ if r.distance >= FAR => format!("{x} and {y} stay more than {FAR:.0} mm apart."),
        Expect::Fit(f) => {
            format!(
                "{x} and {y} fit with {:.2} mm at their tightest, {f:.2} mm intended, at {:.1}° of turn.",
                r.distance,
                deg(r.turn)
            )
        }
        Expect::Touch => {
            format!(
                "{x} and {y} touch but never overlap; {:.2} mm at {:.1}° of turn.",
                r.distance.max(0.0),
                deg(r.turn)
            )
        }
        _ if r.distance < 0.0 => {
            format!("{x} and {y} collide, {:.1} mm deep, at {:.1}° of turn.", -r.distance, deg(r.turn))
        }
        _ if !r.holds => format!(
            "{x} and {y} clear each other by {:.1} mm at {:.1}° of turn; {limit:.1} mm is the least.",
            r.distance,
            deg(r.turn)
        ),
        _ => format!("{x} and {y} clear each other by {:.1} mm at {:.1}° of turn.", r.distance, deg(r.turn)),
    };
    let id = format!("clear.{}.{}", r.a, r.b);
    Check {
        holds: r.holds,
        margin: r.at_least.min(r.distance) - limit,
        ..at_least(id, r.distance, limit, "mm", text)
    }
    .like(r)
}

/// Clearance of tongues while the lift lasts, for three pairs.
pub(crate) fn lift_checks(a: &Assembly, bodies: &Bodies) -> Vec<Check> {
    let m = &a.mechanism;
    let limit = m.sizes.tongue_clearance;
    [("panel", "leaf"), ("panel", "star"), ("leaf", "star")]
        .into_iter()
        .filter_map(|(x, y)| {
            let (p, q) = (Bodies::part(a, x)?, Bodies::part(a, y)?);
            let (r, _) = prove_pair(a, bodies, p, q, m.lift_begins(), m.lift_ends())?;
            let text = format!(
                "While the lift lasts, {} and {} pass with {:.1} mm between tongue and edge, {limit:.1} mm asked for.",
                name(a, x).to_lowercase(),
                name(a, y).to_lowercase(),
                r.distance
            );
            let check = at_least(format!("lift.{x}.{y}"), r.distance, limit - 0.05, "mm", text).like(&r);
            Some(Check { sizes: &["tongue_depth", "tongue_clearance", "ramp_sweep", "leaf_tip_half_angle"], ..check })
        })
        .collect()
}

/// The stop block must meet an end stop at either end of the turn, to this, mm.
const MEETS: f64 = 0.05;

/// End stops: met at both ends, clear of the stop block in between.
pub(crate) fn stop_checks(a: &Assembly, bodies: &Bodies) -> Vec<Check> {
    let m = &a.mechanism;
    let (Some(p), Some(q)) = (Bodies::part(a, "stop-block"), Bodies::part(a, "end-stop")) else {
        return Vec::new();
    };
    let sizes: &'static [&'static str] = &["closed_diameter", "open_diameter", "ramp_sweep"];
    let mut out = Vec::new();
    for (end, turn) in [("closed", 0.0), ("open", m.turn())] {
        let Some((r, _)) = prove_pair(a, bodies, p, q, turn, turn) else { continue };
        let text = format!("When {end}, the stop block meets its end stop to {:.2} mm.", r.distance.abs());
        let check = at_most(format!("stop.{end}"), r.distance.abs(), MEETS, "mm", text).like(&r);
        out.push(Check { sizes, at_turn: Some(deg(turn)), ..check });
    }
    // A degree from either end the block has gone its radius times that degree, less the slant of its corners.
    let near = core::f64::consts::PI / 180.0;
    if let Some((r, _)) = prove_pair(a, bodies, p, q, near, m.turn() - near) {
        let limit = 0.8 * near * m.rollers.base_radius;
        let text = format!(
            "From a degree after closed to a degree before open the stop block keeps {:.1} mm from both end stops.",
            r.distance
        );
        let check = at_least("stop.between", r.distance, limit, "mm", text).like(&r);
        out.push(Check { sizes, ..check });
    }
    out
}
