//! Seasonal movement of a top made of solid wood.
//!
//! In: an assembly and assumptions. Out: figures, and a table over all species.
//! Always true: grain runs along a panel's or leaf's centre line; only movement across the grain counts;
//! boards are taken as flat-sawn, the worse case.
//!
//! A closed seam lies h = π/n off the grain. A panel that grows by C·ΔM across its grain carries its edge at the
//! rim R·sin h·C·ΔM sideways, of which cos h goes across the seam; both neighbours meet there:
//! 2·R·sin h·cos h·C·ΔM = R·sin 2h·C·ΔM.

use crate::assumptions::Assumptions;
use crate::figure::Figure;
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
    let lay = &a.mechanism.layout;
    let (made, low, high) = moistures(s);
    let c = species.change_tangential;
    let seam = lay.radius * trig::sin(2.0 * lay.half_sector);
    Season {
        species: *species,
        leaf_grows: movement(lay.gap_width, c, made, high),
        leaf_shrinks: movement(lay.gap_width, c, made, low),
        seam_presses: movement(seam, c, made, high),
        seam_opens: -movement(seam, c, made, low),
    }
}

/// Movement for every species known.
pub fn table(a: &Assembly, s: &Assumptions) -> Vec<Season> {
    wood::all().iter().map(|w| season(a, s, w)).collect()
}

/// All figures of the season, for the assumed species.
pub fn figures(a: &Assembly, s: &Assumptions) -> Vec<Figure> {
    let m = &a.mechanism;
    let lay = &m.layout;
    let w = season(a, s, &s.top_species);
    let (made, low, high) = moistures(s);
    let source = format!(
        "Wood Handbook FPL-GTR-190, equations 4-5 and 13-2; {}; humidities: common practice, no source",
        s.top_species.source
    );
    let common = |f: Figure| {
        f.given("M, moisture when made", made, "%").given(
            "C, change for 1 % of moisture, flat-sawn",
            s.top_species.change_tangential,
            "ratio",
        )
    };
    let name = s.top_species.name;
    let mut out = vec![
        Figure::new("season.moisture-low", "Moisture of wood, driest season", low, "%")
            .given("relative humidity", s.humidity_low, "%")
            .given("temperature", s.temperature, "°C")
            .by(
                "Hailwood-Horrobin form, Wood Handbook equation 4-5",
                "Wood Handbook FPL-GTR-190, equation 4-5",
            )
            .says("Let stock rest where the table will stand before you cut it."),
        Figure::new("season.moisture-high", "Moisture of wood, dampest season", high, "%")
            .given("relative humidity", s.humidity_high, "%")
            .given("temperature", s.temperature, "°C")
            .by(
                "Hailwood-Horrobin form, Wood Handbook equation 4-5",
                "Wood Handbook FPL-GTR-190, equation 4-5",
            )
            .says("Let stock rest where the table will stand before you cut it."),
    ];
    let leaf = |id: &str, words: &str, value: f64, moisture: f64, gap: f64| {
        common(Figure::new(format!("season.leaf-{id}"), format!("Leaf of solid {name}, {words}"), value, "mm"))
            .at_most(gap)
            .given("w, width of the gap", lay.gap_width, "mm")
            .given("M in that season", moisture, "%")
            .by("|w·C·ΔM|; limit = the fitting gap of both edges", source.clone())
            .says("Above the limit a solid leaf binds between the panels, or rattles. Use plywood or veneered board for the top, or quarter-sawn stock and a wider gap.")
    };
    // A leaf has half the fitting gap at each edge.
    out.push(leaf("grows", "growth in the dampest season", w.leaf_grows, high, m.sizes.fitting_gap));
    out.push(leaf("shrinks", "shrinking in the driest season", -w.leaf_shrinks, low, m.sizes.fitting_gap));
    let seam = |id: &str, words: &str, value: f64, moisture: f64| {
        common(Figure::new(format!("season.seam-{id}"), format!("Closed seams of solid {name} at the rim, {words}"), value, "mm"))
            .at_most(SEAM)
            .given("R, closed radius", lay.radius, "mm")
            .given("2h, angle of a panel", trig::deg(2.0 * lay.half_sector), "deg")
            .given("M in that season", moisture, "%")
            .by("R·sin 2h·C·|ΔM|", format!("{source}; limit: common practice, no source"))
            .says("The panels are held at fixed places by their slides, so seams of solid wood open in winter and bind in summer. Plywood hardly moves.")
    };
    out.push(seam("presses", "interference in the dampest season", w.seam_presses, high));
    out.push(seam("opens", "opening in the driest season", w.seam_opens, low));
    out
}

/// Seam that still looks closed, mm. Common practice, no source.
const SEAM: f64 = 0.5;
