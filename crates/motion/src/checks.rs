//! Everything that can go wrong, each as a check with a number and a margin.
//!
//! In: an assembly and its proof. Out: [`Check`]s in plain words.
//! Always true: a check's `margin` is positive exactly when it holds with room; the text says value and
//! limit; turns are degrees.

use crate::expect::Expect;
use crate::proof::{Bodies, FAR, PairResult, Proof, prove_pair};
use crate::tracks::track_margin;
use turnleaf_geom::trig::deg;
use turnleaf_mechanism::{members::ENGAGED_WIDTHS, rollers::SLOPE_LIMIT};
use turnleaf_parts::Assembly;

/// One check.
#[derive(Clone, Debug, PartialEq)]
pub struct Check {
    /// Stable identifier.
    pub id: String,
    /// Whether it holds.
    pub holds: bool,
    /// The number found.
    pub value: f64,
    /// The number it is held against.
    pub limit: f64,
    /// Room to spare, in the unit.
    pub margin: f64,
    /// "mm" or "deg".
    pub unit: &'static str,
    /// Turn at which it is tightest, degrees.
    pub at_turn: Option<f64>,
    /// Where it is tightest, turning frame, mm.
    pub place: Option<(f64, f64)>,
    /// One plain sentence.
    pub text: String,
}

/// Slope of ramps above which turning gets heavy, degrees. Common practice, no source.
const SLOPE_COMFORT: f64 = SLOPE_LIMIT;
/// Largest star height error that the tongues still find their grooves with, mm.
const STAR_ERROR: f64 = 0.15;
/// Least distance of a roller's track from another's pocket, mm.
const TRACK_LEAST: f64 = 5.0;
/// Fewer guide shafts than this do not keep the rising plate level.
const SHAFTS_LEAST: usize = 3;

/// At least so much.
fn at_least(id: impl Into<String>, value: f64, limit: f64, unit: &'static str, text: String) -> Check {
    Check {
        id: id.into(),
        holds: value >= limit - 1e-9,
        value,
        limit,
        margin: value - limit,
        unit,
        at_turn: None,
        place: None,
        text,
    }
}

/// At most so much.
fn at_most(id: impl Into<String>, value: f64, limit: f64, unit: &'static str, text: String) -> Check {
    Check { holds: value <= limit + 1e-9, margin: limit - value, ..at_least(id, value, limit, unit, text) }
}

/// The plain name of a part.
fn name<'a>(a: &'a Assembly, id: &'a str) -> &'a str {
    a.part(id).map_or(id, |p| p.name.as_str())
}

fn pair_check(a: &Assembly, r: &PairResult) -> Check {
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
        _ => format!("{x} and {y} clear each other by {:.1} mm at {:.1}° of turn.", r.distance, deg(r.turn)),
    };
    Check {
        id: format!("clear.{}.{}", r.a, r.b),
        holds: r.holds,
        value: r.distance,
        limit,
        margin: r.at_least.min(r.distance) - limit,
        unit: "mm",
        at_turn: Some(deg(r.turn)),
        place: (r.distance < FAR).then_some((r.place.x, r.place.y)),
        text,
    }
}

/// Clearance of tongues while the lift lasts, for three pairs.
fn lift_checks(a: &Assembly, bodies: &Bodies) -> Vec<Check> {
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
            Some(Check {
                at_turn: Some(deg(r.turn)),
                place: Some((r.place.x, r.place.y)),
                ..at_least(format!("lift.{x}.{y}"), r.distance, limit - 0.05, "mm", text)
            })
        })
        .collect()
}

/// All checks, the closed-form ones first.
pub fn checks(a: &Assembly, proof: &Proof) -> Vec<Check> {
    let m = &a.mechanism;
    let (s, lay, st) = (&m.sizes, &m.layout, &m.stack);
    let bodies = Bodies::new(a);
    let mut out = Vec::new();
    let leaf_edge = lay.radius - (lay.corner_radius - lay.leaf_travel);
    out.push(at_least(
        "hidden.leaf",
        leaf_edge,
        s.hidden_margin,
        "mm",
        format!("Stored leaves stay {leaf_edge:.1} mm inside the closed edge."),
    ));
    let star_edge = lay.radius - lay.star_reach;
    out.push(at_least(
        "hidden.star",
        star_edge,
        s.hidden_margin,
        "mm",
        format!("The stored star stays {star_edge:.1} mm inside the closed edge."),
    ));
    let open_gap = m.panel_travel(m.turn()) - lay.travel;
    out.push(at_most(
        "closes.panel",
        open_gap.abs(),
        1e-6,
        "mm",
        "Panels close up to their open travel.".into(),
    ));
    let leaf_gap = m.leaf_travel(m.turn()) - lay.leaf_travel;
    out.push(at_most(
        "closes.leaf",
        leaf_gap.abs(),
        1e-6,
        "mm",
        "Leaves close up to their open travel.".into(),
    ));
    out.extend(lift_checks(a, &bodies));
    for (id, what, value) in [
        ("engaged.panel-slide", "Panel slides", m.panel_engaged()),
        ("engaged.leaf-slide", "Leaf slides", m.leaf_engaged()),
    ] {
        let limit = ENGAGED_WIDTHS * m.members.slide_width;
        out.push(at_least(
            id,
            value,
            limit,
            "mm",
            format!("{what} keep {value:.0} mm in their guides at full travel; {limit:.0} mm is the least."),
        ));
    }
    for (id, what, i) in [("ramp.outer", "outer", 0), ("ramp.inner", "inner", 2)] {
        let slope = deg(m.ramp_slope(m.rollers.places[i].radius));
        out.push(at_most(
            id,
            slope,
            SLOPE_COMFORT,
            "deg",
            format!(
                "The {what} ramps slope {slope:.1}° on the mean; up to {SLOPE_COMFORT:.0}° turns easily."
            ),
        ));
    }
    if let Some(t) = track_margin(m) {
        out.push(at_least(
            "tracks",
            t.margin,
            TRACK_LEAST,
            "mm",
            format!(
                "Roller {} passes {:.0} mm from the pocket of roller {} along their circle.",
                t.roller + 1,
                t.margin,
                t.pocket + 1
            ),
        ));
    }
    let error = m.star_error().abs();
    out.push(at_most(
        "lift.star-error",
        error,
        STAR_ERROR,
        "mm",
        format!("The star ends {error:.2} mm off flush."),
    ));
    let shafts = a.part("guide-shaft").map_or(0, |p| p.count);
    out.push(at_least(
        "lift.shafts",
        shafts as f64,
        SHAFTS_LEAST as f64,
        "count",
        format!("{shafts} guide shafts keep the rising plate level; it needs {SHAFTS_LEAST}."),
    ));
    let floor = st.base.bottom;
    out.push(at_least(
        "height.under-base",
        floor,
        150.0,
        "mm",
        format!("{floor:.0} mm of the height are left under the base plate."),
    ));
    let mut pairs: Vec<Check> = proof.pairs.iter().map(|r| pair_check(a, r)).collect();
    pairs.sort_by(|x, y| x.margin.total_cmp(&y.margin));
    out.extend(pairs);
    out
}
