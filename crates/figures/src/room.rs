//! Room for knees, and seats.
//!
//! In: an assembly. Out: figures.
//! Always true: legs, with the rails within a leg's width of them, are left out of the knee height and reported as
//! the width between them; everything else counts all the way round, as far out as it reaches in any direction, rails
//! by the true curve of their lower edge.

use crate::figure::{Figure, MEASURED};
use core::f64::consts::PI;
use turnleaf_geom::Vec2;
use turnleaf_parts::build::LEG;
use turnleaf_parts::{Assembly, Motion};

/// Knee space under a dining surface: height and depth, mm: 27 in and 19 in.
pub const KNEE: (f64, f64) = (27.0 * 25.4, 19.0 * 25.4);
/// Widths of a place at table, mm: 21 in least, 24 in, 25 in usual, 30 in ample.
pub const PLACES: [f64; 4] = [21.0 * 25.4, 24.0 * 25.4, 25.0 * 25.4, 30.0 * 25.4];
const KNEE_SOURCE: &str =
    "limit: 1991 ADA Standards 4.32.3, knee space 27 in high and 19 in deep (corada.com)";
const PLACE_SOURCE: &str = "place widths 21 to 30 in disagree between handbooks: Time-Saver Standards (21 least, 25 usual), Panero and Zelnik (24 least, 30 best)";

/// Lowest underside within a depth of the edge, and how deep the room of the wanted height is, mm.
pub fn knee(a: &Assembly, turn: f64, edge: f64) -> (f64, f64) {
    let under = |p: &turnleaf_parts::Piece| {
        let part = a.part_of(p);
        let place = a.place(p, turn);
        let drop = if p.motion == Motion::Roller && turn >= a.mechanism.lift_begins() {
            a.mechanism.stack.step
        } else {
            0.0
        };
        (part.outline.moved(&place.pose).reach(), place.z - drop)
    };
    let (mut height, mut reach) = (f64::INFINITY, 0.0f64);
    for p in a.pieces.iter().filter(|p| a.part_of(p).id != "leg") {
        let (out, z) = under(p);
        if let Some(lower) = rail_underside(a, p, turn, edge - KNEE.1) {
            height = height.min(lower);
            reach = if z < KNEE.0 { reach.max(out) } else { reach };
            continue;
        }
        if out > edge - KNEE.1 {
            height = height.min(z);
        }
        if z < KNEE.0 {
            reach = reach.max(out);
        }
    }
    (height, (edge - reach).max(0.0))
}

/// Lowest place of a shaped rail's lower edge farther out than `from`, mm; None for other pieces.
fn rail_underside(a: &Assembly, p: &turnleaf_parts::Piece, turn: f64, from: f64) -> Option<f64> {
    let part = a.part_of(p);
    part.side.as_ref()?;
    let place = a.place(p, turn);
    let (low, high) = part.outline.bounds();
    let ends = part.outline.reach() - LEG;
    let at = |i: usize| low.x + (high.x - low.x) * i as f64 / RAIL_LOOKS as f64;
    (0..=RAIL_LOOKS)
        .map(at)
        .filter(|x| x.abs() > from && x.abs() < ends)
        .map(|x| place.z + part.hollow_at(x))
        .reduce(f64::min)
}

/// Places looked at along a rail.
const RAIL_LOOKS: usize = 400;

/// Free width between two neighbouring legs, mm.
pub fn between_legs(a: &Assembly) -> Option<f64> {
    let legs: Vec<(Vec2, f64)> = a
        .pieces
        .iter()
        .filter(|p| a.part_of(p).id == "leg")
        .map(|p| (p.at.offset, a.part_of(p).outline.reach()))
        .collect();
    let mut least: Option<f64> = None;
    for (i, (p, rp)) in legs.iter().enumerate() {
        for (q, rq) in &legs[i + 1..] {
            let free = p.dist(*q) - rp - rq;
            least = Some(least.map_or(free, |l: f64| l.min(free)));
        }
    }
    least
}

/// Length of the rim, mm: closed a circle; open the panels' arcs and the leaves' arcs.
pub fn rim(a: &Assembly, open: bool) -> f64 {
    let lay = &a.mechanism.layout;
    let closed = 2.0 * PI * lay.radius;
    if !open {
        return closed;
    }
    let leaf = 2.0 * lay.corner_radius * lay.rim_half_angle();
    closed + a.mechanism.sizes.sectors as f64 * leaf
}

/// How many places of a width fit along a rim.
pub fn seats(rim: f64, place: f64) -> usize {
    (rim / place + 1e-9).floor().max(0.0) as usize
}

/// All figures of room.
pub fn figures(a: &Assembly) -> Vec<Figure> {
    let mut out = Vec::new();
    let m = &a.mechanism;
    let lay = &m.layout;
    for (id, turn, edge) in [("closed", 0.0, lay.radius), ("open", m.turn(), lay.radius + lay.travel)] {
        let (height, depth) = knee(a, turn, edge);
        out.push(
            Figure::new(format!("knee.{id}.height"), format!("Room for knees, {id}: height over 19 in of depth"), height, "mm")
                .at_least(KNEE.0)
                .given("edge from the centre", edge, "mm")
                .given("depth looked at", KNEE.1, "mm")
                .by("lowest underside that reaches further out than edge − depth", format!("{MEASURED}; {KNEE_SOURCE}"))
                .says("Legs, and the rails close to them, are not counted. A table with its mechanism under the top seldom meets this all round; a higher top or thinner levels help."),
        );
        out.push(
            Figure::new(
                format!("knee.{id}.depth"),
                format!("Room for knees, {id}: depth at 27 in of height"),
                depth,
                "mm",
            )
            .at_least(KNEE.1)
            .given("edge from the centre", edge, "mm")
            .given("height looked at", KNEE.0, "mm")
            .by("edge − reach of everything lower", format!("{MEASURED}; {KNEE_SOURCE}"))
            .says("Sitters on ordinary chairs need less height; try it with your own chairs."),
        );
    }
    if let Some(width) = between_legs(a) {
        out.push(
            Figure::new("knee.width", "Room between two legs", width, "mm")
                .at_least(30.0 * 25.4)
                .by(
                    "distance of neighbouring legs less both legs' half diagonals",
                    format!("{MEASURED}; limit: 2010 ADA Standards 306.3, 30 in, from memory"),
                )
                .says("Seat people between the legs, not at them."),
        );
    }
    for (id, open) in [("closed", false), ("open", true)] {
        let rim = rim(a, open);
        for (place, words) in PLACES.iter().zip(["21", "24", "25", "30"]) {
            out.push(
                Figure::new(
                    format!("seats.{id}.{words}in"),
                    format!("Seats, {id}, at {words} in a place"),
                    seats(rim, *place) as f64,
                    "count",
                )
                .given("length of the rim", rim, "mm")
                .given("width of a place", *place, "mm")
                .by("rim/place, rounded down", PLACE_SOURCE)
                .says("Give buyers the range from the ample to the close figure, not one number."),
            );
        }
    }
    out
}
