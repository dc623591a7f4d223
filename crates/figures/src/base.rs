//! The base plate around its pockets.
//!
//! In: an assembly, assumptions, the drive. Out: figures.
//! Always true: ramps in their pockets count for nothing; the plate bends about lines through the feet, where
//! the frame carries it.
//!
//! An edge load tilts the turning top until it bears on the glide ring at one place; the plate beyond the line
//! of two neighbouring legs then hangs out like a bracket. Cuts parallel to that line, from the line outward,
//! are searched for the largest stress, with everything taken off that pockets and holes remove. The moment is
//! taken to spread over the whole cut.

use crate::assumptions::Assumptions;
use crate::beams::rectangle_z;
use crate::figure::{BEAMS, Figure, MEASURED};
use crate::section::{Cut, section, section_i};
use crate::tipping::{Line, lines};
use crate::torque::Drive;
use turnleaf_geom::{Pose2, Region, Vec2};
use turnleaf_parts::Assembly;

/// Parallel cuts looked at beyond each line of feet.
const CUTS: usize = 24;

/// What the pockets are cut into, cam plate included, mm.
fn thickness(a: &Assembly) -> f64 {
    a.mechanism.stack.bed - a.mechanism.stack.base.bottom
}

/// Corners of all feet, base frame (as the table stands closed).
pub fn feet(a: &Assembly) -> Vec<Vec2> {
    a.pieces
        .iter()
        .filter(|p| a.part_of(p).id == "leg")
        .flat_map(|p| a.part_of(p).outline.vertices.iter().map(|q| p.at.apply(q.p)))
        .collect()
}

/// The worst cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WorstCut {
    /// Distance from the table's centre, mm.
    pub distance: f64,
    /// Stress, MPa.
    pub stress: f64,
    /// Stress if there were no pockets and holes, MPa.
    pub whole: f64,
    /// Moment, N·mm.
    pub moment: f64,
    /// Length of the cut with its full thickness, mm.
    pub full: f64,
    /// Length where only part of it is left, mm.
    pub part: f64,
}

/// Searches the cuts for a force at the glide ring, N.
pub fn worst_cut(a: &Assembly, force: f64, ring: f64) -> Option<WorstCut> {
    let plies: Vec<(&Region, f64)> = ["cam-plate", "base-upper-ply", "base-lower-ply"]
        .iter()
        .filter_map(|id| a.part(id))
        .flat_map(|p| p.layers.iter().map(|l| (&l.region, l.z1 - l.z0)))
        .collect();
    let thickness = thickness(a);
    let solid = Region { outer: a.part("base-lower-ply")?.outline.clone(), holes: Vec::new() };
    let tipping: Vec<Line> = lines(&feet(a));
    let mut worst: Option<WorstCut> = None;
    for line in &tipping {
        let out = line.normal();
        let from = line.inside(Vec2::ZERO);
        for i in 0..CUTS {
            let distance = from + (ring - from) * i as f64 / CUTS as f64;
            let moment = force * (ring - distance);
            let cut = Cut { at: out * distance, along: out.perp() };
            let left = section(&plies, &cut);
            let stress = moment * thickness / 2.0 / section_i(&left);
            if stress.is_finite() && worst.is_none_or(|w| stress > w.stress) {
                let gross = section(&[(&solid, thickness)], &cut);
                let thick = |full: bool| {
                    left.iter().filter(|s| (s.thickness > thickness - 1e-6) == full).map(|s| s.length).sum()
                };
                worst = Some(WorstCut {
                    distance,
                    stress,
                    whole: moment * thickness / 2.0 / section_i(&gross),
                    moment,
                    full: thick(true),
                    part: thick(false),
                });
            }
        }
    }
    worst
}

/// Width of a pocket and the wood left under it, mm.
fn floor(a: &Assembly) -> Option<(f64, f64)> {
    let m = &a.mechanism;
    let left = thickness(a) - m.stack.step;
    let width = m.members.wheel_width + 2.0 * m.members.gap;
    (left > 0.0).then_some((width, left))
}

/// All figures of the base plate.
pub fn figures(a: &Assembly, s: &Assumptions, drive: &Drive) -> Vec<Figure> {
    let mut out = Vec::new();
    let m = &a.mechanism;
    let Some(part) = a.part("base-lower-ply") else { return out };
    let material = s.material(&part.material);
    let factor = material.factor(s.wood_factor, s.steel_factor);
    // Crossed plies: the weaker direction of one ply stands for both.
    let working = material.cross_strength(part.thickness) / factor;
    let force = drive.turning_weight + m.sizes.edge_load;
    if let Some(w) = worst_cut(a, force, drive.glide_radius) {
        let common = |f: Figure| {
            f.given("Q, whole top and edge load on one place of the glide ring", force, "N")
                .given("distance of the cut from the centre", w.distance, "mm")
                .given("distance of the glide ring", drive.glide_radius, "mm")
        };
        out.push(
            common(Figure::new("base.stress", "Base plate, bending stress at its weakest cut", w.stress, "MPa"))
                .at_most(working)
                .given("length of the cut at full thickness", w.full, "mm")
                .given("length of the cut at part thickness", w.part, "mm")
                .by("Q·(ring − cut)·(t/2)/Σ(l·t³/12)", format!("{BEAMS}; strength: {}; factor: common practice, no source", material.source()))
                .says("A rail under the edge between the legs, or legs set further out, takes this load off the plate."),
        );
        out.push(
            common(Figure::new(
                "base.weakened",
                "Base plate, strength left by pockets and holes at that cut",
                w.whole / w.stress,
                "ratio",
            ))
            .by("stress of the whole plate/stress of the cut plate", MEASURED)
            .says("Glue both plies over their whole face; the lower one alone bridges the pockets."),
        );
    }
    if let Some((span, left)) = floor(a) {
        // A wheel runs over the floor before its ramp; only arm and spring press it there, but a roller that
        // is late carries its share of the top.
        let load = drive.on_wheels(m, m.lift_begins()) / 4.0;
        let width = span;
        let stress = load * span / 4.0 / rectangle_z(width, left);
        out.push(
            Figure::new("base.pocket-floor", "Pocket floor, bending stress under a wheel", stress, "MPa")
                .at_most(working)
                .given("load of one wheel", load, "N")
                .given("width of the pocket", span, "mm")
                .given("wood left under it", left, "mm")
                .by(
                    "W·b/4 over b·t²/6, a strip as wide as it spans",
                    format!("{BEAMS}; strip: common practice, no source; strength: {}", material.source()),
                )
                .says("The floor is thin: glue the plies without voids under the pockets."),
        );
    }
    out
}

/// The feet of a table whose base has turned, in the turning frame.
pub fn feet_at(a: &Assembly, turn: f64) -> Vec<Vec2> {
    let pose = Pose2::new(turn, Vec2::ZERO);
    feet(a).into_iter().map(|p| pose.apply(p)).collect()
}
