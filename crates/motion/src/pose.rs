//! Outline and height of every piece at one turn.
//!
//! In: an assembly and a turn in radians. Out: [`Posed`] pieces in the turning frame.
//! Always true: the order is the assembly's; outlines keep their arcs.

use turnleaf_geom::Region;
use turnleaf_parts::{Assembly, Depth, FeatureKind, Layer, Motion, Part, Piece, layers};

/// A piece where it is.
#[derive(Clone, Debug, PartialEq)]
pub struct Posed {
    /// The piece's identifier.
    pub id: String,
    /// Its part's identifier.
    pub part: String,
    /// Plan outline without tongues, with the openings that go right through.
    pub outline: Region,
    /// The solid: outlines with heights above the floor, tongues, grooves and pockets included. A tilting
    /// or folding piece is given by the room it needs.
    pub layers: Vec<Layer>,
    /// Lowest point, mm above the floor.
    pub z_min: f64,
    /// Highest point, mm above the floor.
    pub z_max: f64,
}

/// Lowest and highest point of a piece at a turn.
pub fn span(a: &Assembly, piece: &Piece, turn: f64) -> (f64, f64) {
    let place = a.place(piece, turn);
    let t = a.part_of(piece).thickness;
    match piece.motion {
        Motion::Lever => {
            let (low, high) = a.part_of(piece).outline.bounds();
            let (s, c) = turnleaf_geom::trig::sin_cos(place.tilt);
            let axis = place.z + t / 2.0;
            let at = |x: f64, side: f64| axis + x * s + side * t / 2.0 * c;
            (at(low.x, -1.0).min(at(high.x, -1.0)), at(low.x, 1.0).max(at(high.x, 1.0)))
        }
        Motion::Roller => {
            let m = &a.mechanism;
            // Folded it rides on the base; from the pocket on it hangs a step lower under its hinge.
            let down = if turn >= m.lift_begins() { m.stack.step } else { 0.0 };
            (place.z - down, place.z + t)
        }
        _ => (place.z, place.z + t),
    }
}

/// Plan outline of a part: its edges without tongues, with the openings that go right through.
pub fn plan_outline(part: &Part) -> Region {
    let through = part
        .features
        .iter()
        .filter(|f| {
            matches!(
                f.kind,
                FeatureKind::Hole { depth: Depth::Through, .. }
                    | FeatureKind::Slot { depth: Depth::Through, .. }
                    | FeatureKind::CurvedSlot { depth: Depth::Through, .. }
                    | FeatureKind::Pocket { depth: Depth::Through, .. }
            )
        })
        .filter_map(|f| layers::opening(&f.kind))
        .map(|r| r.reversed())
        .collect();
    Region { outer: part.outline.clone(), holes: through }
}

/// A piece's layers where they are.
pub fn solid(a: &Assembly, piece: &Piece, turn: f64) -> Vec<Layer> {
    let place = a.place(piece, turn);
    let part = a.part_of(piece);
    let whole = matches!(piece.motion, Motion::Lever | Motion::Roller).then(|| span(a, piece, turn));
    part.layers
        .iter()
        .map(|l| {
            let (z0, z1) = whole.unwrap_or((place.z + l.z0, place.z + l.z1));
            Layer { region: l.region.moved(&place.pose), z0, z1 }
        })
        .collect()
}

/// Every piece at a turn (radians; clamped to the table's range).
///
/// ```
/// use turnleaf_mechanism::{Sizes, solve};
/// let table = turnleaf_parts::assemble(&solve(&Sizes::example()).expect("the demo's sizes agree"));
/// // The panels reach as far as half the diameter that was asked for: 1200 mm closed, 1650 mm open.
/// for (turn, diameter) in [(0.0, 1200.0), (table.mechanism.turn(), 1650.0)] {
///     let pieces = turnleaf_motion::pose(&table, turn);
///     let panels = pieces.iter().filter(|p| p.part == "panel");
///     let farthest = panels.map(|p| p.outline.outer.reach()).fold(0.0, f64::max);
///     assert!((2.0 * farthest - diameter).abs() < 1e-6);
/// }
/// ```
pub fn pose(a: &Assembly, turn: f64) -> Vec<Posed> {
    let turn = turn.clamp(0.0, a.mechanism.turn());
    let outlines: Vec<Region> = a.parts.iter().map(plan_outline).collect();
    a.pieces
        .iter()
        .map(|piece| {
            let place = a.place(piece, turn);
            let (z_min, z_max) = span(a, piece, turn);
            Posed {
                id: piece.id.clone(),
                part: a.part_of(piece).id.clone(),
                outline: outlines[piece.part].moved(&place.pose),
                layers: solid(a, piece, turn),
                z_min,
                z_max,
            }
        })
        .collect()
}
