//! How heavy everything is, and where its weight lies.
//!
//! In: an assembly and assumptions. Out: masses in kg, centres in mm.
//! Always true: a part's volume is the sum of its layers, so every hole and groove is taken off; ramps are
//! wedges, half their outline; bought rollers and bushings weigh what the assumptions say. Screws, glue, the
//! centre bearing and finish are not counted.

use crate::assumptions::Assumptions;
use turnleaf_geom::{Vec2, measure::Moments};
use turnleaf_parts::{Assembly, Motion, Part, Piece};

/// Standard acceleration of gravity, m/s² (exact by definition).
pub const GRAVITY: f64 = 9.80665;

/// One part's solid.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Solid {
    /// Volume, mm³.
    pub volume: f64,
    /// Mass, kg.
    pub mass: f64,
    /// Centre in plan, part frame.
    pub centre: Vec2,
    /// Height of the centre above the part's bottom face, mm.
    pub z: f64,
}

/// A collection of pieces.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Body {
    /// Mass, kg.
    pub mass: f64,
    /// Centre in plan, frame that turns with the top.
    pub centre: Vec2,
    /// Height of the centre above the floor, mm.
    pub z: f64,
}

impl Body {
    /// Weight, N.
    pub fn weight(&self) -> f64 {
        self.mass * GRAVITY
    }
}

/// The solid of a part.
pub fn solid(part: &Part, s: &Assumptions) -> Solid {
    if let Some(solid) = on_edge(part, s) {
        return solid;
    }
    let (mut volume, mut first, mut height) = (0.0, Vec2::ZERO, 0.0);
    for layer in &part.layers {
        let m = Moments::of(&layer.region);
        let v = m.area * (layer.z1 - layer.z0);
        volume += v;
        first = first + m.centroid * v;
        height += v * (layer.z0 + layer.z1) / 2.0;
    }
    let (centre, z) = if volume > 0.0 {
        (first * (1.0 / volume), height / volume)
    } else {
        (Vec2::ZERO, part.thickness / 2.0)
    };
    let by_density = volume * 1e-9 * s.material(&part.material).density();
    match part.id.as_str() {
        // The outline of a drop roller is the room it needs, not its solid.
        "drop-roller" => Solid { volume: 0.0, mass: s.roller_mass, centre, z },
        "bushing" => Solid { volume, mass: s.bushing_mass, centre, z },
        // A ramp rises from nothing: half the prism, its centre a third up.
        "ramp-outer" | "ramp-inner" => {
            Solid { volume: volume / 2.0, mass: by_density / 2.0, centre, z: part.thickness / 3.0 }
        }
        _ => Solid { volume, mass: by_density, centre, z },
    }
}

/// A bar on edge: its side view through its width.
fn on_edge(part: &Part, s: &Assumptions) -> Option<Solid> {
    let side = Moments::of(&part.side.clone()?.into());
    let (low, high) = part.outline.bounds();
    let volume = side.area * (high.y - low.y);
    let mass = volume * 1e-9 * s.material(&part.material).density();
    let centre = Vec2 { x: side.centroid.x, y: (low.y + high.y) / 2.0 };
    Some(Solid { volume, mass, centre, z: side.centroid.y })
}

/// Solids of all parts, in the assembly's order.
pub fn solids(a: &Assembly, s: &Assumptions) -> Vec<Solid> {
    a.parts.iter().map(|p| solid(p, s)).collect()
}

/// Everything that passes a test, together, at a turn. Levers count as level.
pub fn gather(a: &Assembly, solids: &[Solid], turn: f64, keep: impl Fn(&Piece, &Part) -> bool) -> Body {
    let (mut mass, mut first, mut height) = (0.0, Vec2::ZERO, 0.0);
    for piece in a.pieces.iter().filter(|p| keep(p, a.part_of(p))) {
        let (s, place) = (&solids[piece.part], a.place(piece, turn));
        mass += s.mass;
        first = first + place.pose.apply(s.centre) * s.mass;
        height += (place.z + s.z) * s.mass;
    }
    if mass <= 0.0 {
        return Body::default();
    }
    Body { mass, centre: first * (1.0 / mass), z: height / mass }
}

/// Whether a piece turns with the top (arms lie on the base and are not counted).
pub fn turns(piece: &Piece) -> bool {
    !matches!(piece.motion, Motion::Base | Motion::Arm { .. })
}
