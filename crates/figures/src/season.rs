//! Seasonal movement of the top: of its own stock, and of the same top made of solid wood.
//!
//! In: an assembly and assumptions. Out: figures, and a table over all species.
//! Always true: limits are held against the stock that the plan names; the solid top beside it only says what gaps
//! it would need. Grain runs along a panel's or leaf's centre line; only movement across the grain counts;
//! boards are taken as flat-sawn, the worse case.
//!
//! A closed seam lies h = π/n off the grain. A panel that grows by C·ΔM across its grain carries its edge at the
//! rim R·sin h·C·ΔM sideways, of which cos h goes across the seam; both neighbours meet there:
//! 2·R·sin h·cos h·C·ΔM = R·sin 2h·C·ΔM.

use crate::assumptions::Assumptions;
use crate::figure::Figure;
use crate::material::Material;
use crate::wood::{self, Species, equilibrium_moisture, movement};
use turnleaf_geom::trig;
use turnleaf_parts::Assembly;

/// Movement of one species' top, mm; positive is growth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Season {
    /// Species.
    pub species: Species,
    /// A leaf's width, from made to the dampest season.
    pub leaf_grows: f64,
    /// A leaf's width, from made to the driest season (negative).
    pub leaf_shrinks: f64,
    /// What the closed seams at the rim would press together by, dampest season.
    pub seam_presses: f64,
    /// What the closed seams at the rim open by, driest season.
    pub seam_opens: f64,
}

/// Moisture contents when made, driest, dampest, %.
pub fn moistures(s: &Assumptions) -> (f64, f64, f64) {
    let at = |rh| equilibrium_moisture(s.temperature, rh);
    (at(s.humidity_made), at(s.humidity_low), at(s.humidity_high))
}

/// Movement of one species.
pub fn season(a: &Assembly, s: &Assumptions, species: &Species) -> Season {
    let [leaf_grows, leaf_shrinks, seam_presses, seam_opens] = moves(a, s, species.change_tangential);
    Season { species: *species, leaf_grows, leaf_shrinks, seam_presses, seam_opens }
}

/// A leaf's growth and (negative) shrinking, the seams' pressing and opening, mm, for a change c of a dimension for 1 % of
/// moisture.
fn moves(a: &Assembly, s: &Assumptions, c: f64) -> [f64; 4] {
    let lay = &a.mechanism.layout;
    let (made, low, high) = moistures(s);
    let seam = lay.radius * trig::sin(2.0 * lay.half_sector);
    [
        movement(lay.gap_width, c, made, high),
        movement(lay.gap_width, c, made, low),
        movement(seam, c, made, high),
        -movement(seam, c, made, low),
    ]
}

/// Movement for every species known.
pub fn table(a: &Assembly, s: &Assumptions) -> Vec<Season> {
    wood::all().iter().map(|w| season(a, s, w)).collect()
}

/// Change of birch plywood along or across its sheet for 1 % of moisture: 0.015 % (Handbook of Finnish Plywood, from
/// memory).
pub const PLYWOOD_CHANGE: f64 = 0.000_15;

/// One side of the movement: name of the top, change for 1 % of moisture, its source; limits only for the plan's own.
struct Top<'a> {
    id: &'a str,
    what: String,
    change: f64,
    source: String,
    own: bool,
}

/// All figures of the season: of the top's own stock, then of the assumed species.
pub fn figures(a: &Assembly, s: &Assumptions) -> Vec<Figure> {
    let (_, low, high) = moistures(s);
    let mut out = Vec::new();
    for (id, words, moisture, humidity) in
        [("low", "driest", low, s.humidity_low), ("high", "dampest", high, s.humidity_high)]
    {
        out.push(
            Figure::new(
                format!("season.moisture-{id}"),
                format!("Moisture of wood, {words} season"),
                moisture,
                "%",
            )
            .given("relative humidity", humidity, "%")
            .given("temperature", s.temperature, "°C")
            .by(
                "Hailwood-Horrobin form, Wood Handbook equation 4-5",
                "Wood Handbook FPL-GTR-190, equation 4-5",
            )
            .says("Let stock rest where the table will stand before you cut it."),
        );
    }
    let humidities = "humidities: common practice, no source";
    let equations = "Wood Handbook FPL-GTR-190, equations 4-5 and 13-2";
    let wood = |species: &Species| {
        let source = format!("{equations}; {}; {humidities}", species.source);
        (format!("solid {}", species.name), species.change_tangential, source)
    };
    let stock = a.part("panel").map(|p| s.material(&p.material));
    let (what, change, source) = match stock {
        Some(Material::Solid(species)) => wood(&species),
        _ => (
            "birch plywood".to_string(),
            PLYWOOD_CHANGE,
            format!("{equations}; plywood: Handbook of Finnish Plywood, from memory; {humidities}"),
        ),
    };
    let own = Top { id: "season", what, change, source, own: true };
    one(a, s, &own, &mut out);
    let (what, change, source) = wood(&s.top_species);
    one(a, s, &Top { id: "season.solid", what, change, source, own: false }, &mut out);
    out
}

fn one(a: &Assembly, s: &Assumptions, top: &Top, out: &mut Vec<Figure>) {
    let m = &a.mechanism;
    let lay = &m.layout;
    let (made, low, high) = moistures(s);
    let [grows, shrinks, presses, opens] = moves(a, s, top.change);
    let common = |f: Figure, limit: f64| {
        let f = f.given("M, moisture when made", made, "%").given(
            "C, change for 1 % of moisture across the grain",
            top.change,
            "ratio",
        );
        if top.own { f.at_most(limit) } else { f }
    };
    let says = if top.own {
        "Above the limit leaves bind between the panels, or rattle, and seams show. Use plywood or veneered board, or wider gaps."
    } else {
        "What the same top would do if it were made of flat-sawn boards: leave fitting gaps at least as wide, or choose plywood or veneered board, as drawn."
    };
    // A leaf has half the fitting gap at each edge.
    for (id, words, value, moisture) in [
        ("leaf-grows", "growth in the dampest season", grows, high),
        ("leaf-shrinks", "shrinking in the driest season", -shrinks, low),
    ] {
        let label = format!("Leaf of {}, {words}", top.what);
        out.push(
            common(Figure::new(format!("{}.{id}", top.id), label, value, "mm"), m.sizes.fitting_gap)
                .given("w, width of the gap", lay.gap_width, "mm")
                .given("M in that season", moisture, "%")
                .by("|w·C·ΔM|; limit = the fitting gap of both edges", top.source.clone())
                .says(says),
        );
    }
    for (id, words, value, moisture) in [
        ("seam-presses", "interference in the dampest season", presses, high),
        ("seam-opens", "opening in the driest season", opens, low),
    ] {
        let label = format!("Closed seams of {} at the rim, {words}", top.what);
        out.push(
            common(Figure::new(format!("{}.{id}", top.id), label, value, "mm"), SEAM)
                .given("R, closed radius", lay.radius, "mm")
                .given("2h, angle of a panel", trig::deg(2.0 * lay.half_sector), "deg")
                .given("M in that season", moisture, "%")
                .by("R·sin 2h·C·|ΔM|", format!("{}; limit: common practice, no source", top.source))
                .says(says),
        );
    }
}

/// Seam that still looks closed, mm. Common practice, no source.
const SEAM: f64 = 0.5;
