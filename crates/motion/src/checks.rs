//! Everything that can go wrong, each as a check with a number and a margin.
//!
//! In: an assembly and its proof. Out: [`Check`]s in plain words, each with the sizes it depends on.
//! Always true: a check's `margin` is positive exactly when it holds with room; the text says value and
//! limit; turns are degrees. What would mend a check that fails is found elsewhere, by trying it.

use crate::pair_checks::{lift_checks, pair_check, stop_checks};
use crate::proof::{Bodies, Proof};
use crate::ride::{Ride, ride};
use crate::tracks::{TrackMargin, track_margin};
use core::f64::consts::PI;
use turnleaf_geom::trig::deg;
use turnleaf_mechanism::{Mechanism, layout::CORNER_HIDDEN, members::ENGAGED_WIDTHS, rollers::SLOPE_LIMIT};
use turnleaf_parts::{Assembly, FeatureKind, build::base_pocket_angles};

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
    /// The parts it is about.
    pub parts: Vec<String>,
    /// The pieces that come nearest; empty when it is not about two pieces.
    pub pieces: Vec<String>,
    /// Plan-file names of the sizes that decide it, the most telling first.
    pub sizes: &'static [&'static str],
    /// One plain sentence.
    pub text: String,
}

impl Check {
    /// Tightest at this turn, radians.
    fn at(self, turn: f64) -> Check {
        Check { at_turn: Some(deg(turn)), ..self }
    }
    /// About these parts, decided by these sizes.
    fn of(self, parts: &[&str], sizes: &'static [&'static str]) -> Check {
        Check { parts: parts.iter().map(|p| (*p).to_string()).collect(), sizes, ..self }
    }
}

/// Slope of ramps above which turning gets heavy, degrees. Common practice, no source.
const SLOPE_COMFORT: f64 = SLOPE_LIMIT;
/// Largest star height error that the tongues still find their grooves with, mm.
const STAR_ERROR: f64 = 0.15;
/// Least distance of a roller's track from another's pocket, mm.
const TRACK_LEAST: f64 = 5.0;
/// Least wood beside a pin hole of an arm, mm. Smaller: the arm splits at its pin. Common practice, no source.
pub const ARM_WALL: f64 = 2.0;
/// Least wood between two cuts of one part, mm. Common practice, no source.
const CUT_WALL: f64 = 3.0;
/// Most that a dropped wheel may stand off its ramp or press into it, mm: what a paper shim makes up.
const RIDE_FIT: f64 = 0.2;
/// Least room beside the track of a wheel, mm.
const RIDE_BESIDE: f64 = 0.5;
/// Least height under the base plate, mm, for legs and rails.
const UNDER_BASE: f64 = 150.0;
/// Fewer guide shafts than this do not keep the rising plate level.
const SHAFTS_LEAST: usize = 3;

/// At least so much.
pub(crate) fn at_least(
    id: impl Into<String>,
    value: f64,
    limit: f64,
    unit: &'static str,
    text: String,
) -> Check {
    Check {
        id: id.into(),
        holds: value >= limit - 1e-9,
        value,
        limit,
        margin: value - limit,
        unit,
        at_turn: None,
        place: None,
        parts: Vec::new(),
        pieces: Vec::new(),
        sizes: &[],
        text,
    }
}

/// At most so much.
pub(crate) fn at_most(
    id: impl Into<String>,
    value: f64,
    limit: f64,
    unit: &'static str,
    text: String,
) -> Check {
    Check { holds: value <= limit + 1e-9, margin: limit - value, ..at_least(id, value, limit, unit, text) }
}

/// Wood beside the pin holes of an arm.
fn arm_wall(a: &Assembly, id: &str) -> Option<Check> {
    let part = a.part(id)?;
    let hole = part.features.iter().filter_map(|f| match f.kind {
        FeatureKind::Hole { diameter, .. } => Some(diameter),
        _ => None,
    });
    let wall = (a.mechanism.sizes.arm_width - hole.fold(0.0, f64::max)) / 2.0;
    let text = format!(
        "{}s keep {wall:.1} mm of wood beside their pin holes; {ARM_WALL:.0} mm is the least.",
        part.name
    );
    Some(at_least(format!("wall.{id}"), wall, ARM_WALL, "mm", text).of(&[id], &["arm_width"]))
}

/// The thinnest wall between two cuts of one part, over all parts.
fn thin_wall(a: &Assembly) -> Option<Check> {
    let walls = a.parts.iter().filter_map(|p| Some((p, crate::wood::thinnest(p)?)));
    let (part, wall) = walls.min_by(|x, y| x.1.wood.total_cmp(&y.1.wood))?;
    let [one, other] = &wall.purposes;
    let name = part.name.to_lowercase();
    let text = if wall.wood > 0.0 {
        format!(
            "Every part keeps {:.1} mm of wood between its cuts ({one} and {other} in the {name}); {CUT_WALL:.0} mm is the least.",
            wall.wood
        )
    } else {
        format!("In the {name}, {one} and {other} run into each other.")
    };
    let sizes = &["open_diameter", "panel_pin_radius", "panel_arm_length", "closed_diameter"];
    Some(at_least("wall.cuts", wall.wood, CUT_WALL, "mm", text).of(&[&part.id], sizes))
}

/// Whether panels or leaves end where they should; `off` is positive when they end too far out.
fn closes(id: &str, what: &str, off: f64) -> Check {
    let text = if off.abs() <= 1e-6 {
        format!("{what} close up to their open travel.")
    } else {
        let way = if off < 0.0 { "short of" } else { "beyond" };
        format!("{what} end {:.1} mm {way} their open travel.", off.abs())
    };
    at_most(format!("closes.{id}"), off.abs(), 1e-6, "mm", text)
}

/// Whether the rollers of a circle stay on their ramps and on the base.
fn ride_checks(id: &str, circle: &str, r: &Ride) -> Vec<Check> {
    let off = r.gap.max(r.press);
    let text = format!(
        "Through the lift the wheels of the {circle} circle stand off their ramps by at most {:.2} mm and press into them by at most {:.2} mm; {RIDE_FIT} mm either way is the fit.",
        r.gap, r.press
    );
    let sizes = &["ramp_sweep", "stock_thickness", "closed_diameter"];
    let fit = at_most(format!("ride.{circle}"), off, RIDE_FIT, "mm", text)
        .at(r.turn)
        .of(&["drop-roller", id], sizes);
    let room = r.beside.min(r.level);
    let text = format!(
        "The wheels of the {circle} circle keep {:.1} mm of their ramps beside them and {:.1} mm to the glide ring on the level; {RIDE_BESIDE} mm is the least.",
        r.beside, r.level
    );
    let sizes = &["closed_diameter", "ramp_sweep", "open_diameter"];
    let width = at_least(format!("ride.{circle}-width"), room, RIDE_BESIDE, "mm", text)
        .of(&["drop-roller", id], sizes);
    vec![fit, width]
}

/// Turn at which a roller comes nearest to a pocket that is not its own, or first enters it, radians.
fn track_turn(m: &Mechanism, t: &TrackMargin) -> f64 {
    let (roller, pocket) = (&m.rollers.places[t.roller], &m.rollers.places[t.pocket]);
    let (high, _, own_far) = base_pocket_angles(m, roller);
    let (near, _, far) = base_pocket_angles(m, pocket);
    let round = 2.0 * PI;
    let start = roller.direction - m.rollers.folded_ahead / roller.radius;
    // Folded up to its own pocket, lifted after its own ramp: turn at which each stretch begins, angle there, length.
    let stretches = [(0.0, start, start - own_far), (m.lift_ends(), high, m.turn() - m.lift_ends())];
    let (width, mut best) = ((far - near).rem_euclid(round), (f64::INFINITY, 0.0));
    for (begins, angle, length) in stretches {
        // Angles fall as the table opens: how far on until the pocket's far end, and until its near end.
        let (until, past) = ((angle - far).rem_euclid(round), (angle - near).rem_euclid(round));
        if past <= width {
            return begins; // in the pocket from the start
        }
        if until <= length {
            return begins + until;
        }
        for (gap, turn) in [(until - length, begins + length), (round - past, begins)] {
            if gap < best.0 {
                best = (gap, turn);
            }
        }
    }
    best.1
}

/// All checks, the closed-form ones first.
pub fn checks(a: &Assembly, proof: &Proof) -> Vec<Check> {
    let m = &a.mechanism;
    let (s, lay, st) = (&m.sizes, &m.layout, &m.stack);
    let bodies = Bodies::new(a);
    let mut out = Vec::new();
    // A margin below nothing would show, whatever was asked for.
    let hidden = s.hidden_margin.max(0.0);
    let leaf_edge = lay.radius - lay.stored_rim();
    out.push(
        at_least(
            "hidden.leaf",
            leaf_edge,
            hidden,
            "mm",
            if leaf_edge < 0.0 {
                format!("Stored leaves show {:.1} mm beyond the closed edge.", -leaf_edge)
            } else {
                format!(
                    "Stored leaves stay {leaf_edge:.1} mm inside the closed edge at the middle of their rims."
                )
            },
        )
        .at(0.0)
        .of(&["leaf"], &["hidden_margin", "open_diameter"]),
    );
    let corner = lay.radius - lay.stored_corner();
    out.push(
        at_least(
            "hidden.leaf-corner",
            corner,
            CORNER_HIDDEN,
            "mm",
            if corner < 0.0 {
                format!("Corners of stored leaves show {:.1} mm beyond the closed edge.", -corner)
            } else {
                format!("Corners of stored leaves stay {corner:.1} mm inside the closed edge.")
            },
        )
        .at(0.0)
        .of(&["leaf"], &["hidden_margin", "open_diameter"]),
    );
    let star_edge = lay.radius - lay.star_reach;
    out.push(
        at_least(
            "hidden.star",
            star_edge,
            hidden,
            "mm",
            format!("The stored star stays {star_edge:.1} mm inside the closed edge."),
        )
        .at(0.0)
        .of(&["star"], &["open_diameter", "closed_diameter", "hidden_margin"]),
    );
    out.push(
        closes("panel", "Panels", m.panel_travel(m.turn()) - lay.travel)
            .at(m.turn())
            .of(&["panel"], &["panel_arm_length", "panel_pin_radius", "open_diameter"]),
    );
    out.push(
        closes("leaf", "Leaves", m.leaf_travel(m.turn()) - lay.leaf_travel)
            .at(m.turn())
            .of(&["leaf"], &["leaf_arm_length", "leaf_pin_radius", "hidden_margin"]),
    );
    out.extend(lift_checks(a, &bodies));
    for (id, part, what, value) in [
        ("engaged.panel-slide", "panel-slide", "Panel slides", m.panel_engaged()),
        ("engaged.leaf-slide", "leaf-slide", "Leaf slides", m.leaf_engaged()),
    ] {
        let limit = ENGAGED_WIDTHS * m.members.slide_width;
        let text =
            format!("{what} keep {value:.0} mm in their guides at full travel; {limit:.0} mm is the least.");
        out.push(
            at_least(id, value, limit, "mm", text)
                .at(m.travel_peak())
                .of(&[part], &["open_diameter", "tongue_depth", "closed_diameter", "sectors"]),
        );
    }
    for (id, part, what, i) in
        [("ramp.outer", "ramp-outer", "outer", 0), ("ramp.inner", "ramp-inner", "inner", 2)]
    {
        let slope = deg(m.ramp_slope(m.rollers.places[i].radius));
        let text = format!(
            "The {what} ramps slope {slope:.1}° on the mean; up to {SLOPE_COMFORT:.0}° turns easily."
        );
        out.push(
            at_most(id, slope, SLOPE_COMFORT, "deg", text)
                .at(m.lift_begins())
                .of(&[part], &["ramp_sweep", "stock_thickness", "closed_diameter"]),
        );
    }
    out.extend([("ramp-outer", "outer", 0), ("ramp-inner", "inner", 2)].into_iter().flat_map(
        |(id, circle, i)| {
            ride(a, id, &m.rollers.places[i]).map_or(Vec::new(), |r| ride_checks(id, circle, &r))
        },
    ));
    if let Some(t) = track_margin(m) {
        let (one, other) = (t.roller + 1, t.pocket + 1);
        let text = if t.margin < 0.0 {
            format!(
                "Roller {one} runs {:.0} mm over the pocket of roller {other} and would drop into it.",
                -t.margin
            )
        } else {
            format!(
                "Roller {one} passes {:.0} mm from the pocket of roller {other} along their circle.",
                t.margin
            )
        };
        let check = at_least("tracks", t.margin, TRACK_LEAST, "mm", text)
            .at(track_turn(m, &t))
            .of(&["drop-roller", "base-upper-ply"], &["ramp_sweep", "tongue_depth", "stock_thickness"]);
        out.push(Check { pieces: [one, other].map(|i| format!("drop-roller/{i}")).to_vec(), ..check });
    }
    out.extend(["panel-arm", "leaf-arm"].into_iter().filter_map(|id| arm_wall(a, id)));
    out.extend(thin_wall(a));
    let error = m.star_error().abs();
    out.push(
        at_most(
            "lift.star-error",
            error,
            STAR_ERROR,
            "mm",
            format!("The star ends {error:.2} mm off flush."),
        )
        .at(m.lift_ends())
        .of(&["star", "star-lever"], &["stock_thickness", "play", "plate_thickness"]),
    );
    let shafts = a.part("guide-shaft").map_or(0, |p| p.count);
    out.push(
        at_least(
            "lift.shafts",
            shafts as f64,
            SHAFTS_LEAST as f64,
            "count",
            format!("{shafts} guide shafts keep the rising plate level; it needs {SHAFTS_LEAST}."),
        )
        .of(&["guide-shaft"], &["closed_diameter", "open_diameter", "ramp_sweep", "sectors"]),
    );
    out.extend(stop_checks(a, &bodies));
    let floor = st.base.bottom;
    out.push(
        at_least(
            "height.under-base",
            floor,
            UNDER_BASE,
            "mm",
            format!(
                "{floor:.0} mm of the height are left under the base plate; {UNDER_BASE:.0} mm is the least."
            ),
        )
        .of(&["base-lower-ply"], &["height", "stock_thickness", "plate_thickness", "ply_thickness"]),
    );
    let mut pairs: Vec<Check> = proof.pairs.iter().map(|r| pair_check(a, r)).collect();
    pairs.sort_by(|x, y| x.margin.total_cmp(&y.margin));
    out.extend(pairs);
    out
}
