//! Pieces in their places, and the laws of their motion.
//!
//! In: parts and a solved mechanism. Out: where each piece is at any turn.
//! Always true: poses are in the frame that turns with the top (see the mechanism crate); turn is in
//! radians from 0, closed, to the whole turn, open.

use crate::part::Part;
use turnleaf_geom::{Pose2, Vec2};
use turnleaf_mechanism::Mechanism;

/// Which travel a sliding piece follows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Law {
    /// The panels'.
    Panel,
    /// The leaves'.
    Leaf,
}

/// What lifts a piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rise {
    /// Nothing.
    None,
    /// The rising plate: one step.
    Plate,
    /// The levers: two steps.
    Star,
}

/// How a piece moves.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Motion {
    /// Turns with the top, and may rise.
    Turning(Rise),
    /// Slides outward along a direction (radians), and may rise.
    Sliding {
        /// Direction of travel.
        line: f64,
        /// Travel law.
        law: Law,
        /// What lifts it.
        rise: Rise,
    },
    /// Pinned to the base and to a slide; the part's frame has the crank pin at its origin and the slide
    /// pin on +x.
    Arm {
        /// Direction of its slide.
        line: f64,
        /// Whose slide.
        law: Law,
    },
    /// Stands on the base.
    Base,
    /// A star lever: rises with the plate at its pin and tilts.
    Lever,
    /// A drop roller: hangs from the rising plate, folded before the lift, dropped during and after it.
    Roller,
}

/// One piece in its place.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// Stable identifier, "part/index".
    pub id: String,
    /// Index of its part in [`Assembly::parts`].
    pub part: usize,
    /// Pose of the part's frame when closed, turning frame.
    pub at: Pose2,
    /// Height of the part's bottom face when closed, mm above the floor.
    pub z: f64,
    /// How it moves.
    pub motion: Motion,
}

/// All parts and pieces of a table.
#[derive(Clone, Debug, PartialEq)]
pub struct Assembly {
    /// The mechanism they belong to.
    pub mechanism: Mechanism,
    /// Parts in list order.
    pub parts: Vec<Part>,
    /// Pieces, grouped by part.
    pub pieces: Vec<Piece>,
}

/// Where a piece is at one turn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Place {
    /// Plan pose of the part's frame.
    pub pose: Pose2,
    /// Height of the part's bottom face, mm.
    pub z: f64,
    /// Tilt about the part's own y axis at its pin, radians: positive lifts the +x end. Only levers tilt.
    pub tilt: f64,
}

impl Assembly {
    /// The part of a piece.
    pub fn part_of(&self, piece: &Piece) -> &Part {
        &self.parts[piece.part]
    }
    /// The part with an identifier.
    pub fn part(&self, id: &str) -> Option<&Part> {
        self.parts.iter().find(|p| p.id == id)
    }
    /// Where a piece is at a turn (radians).
    ///
    /// ```
    /// use turnleaf_mechanism::{Sizes, solve};
    /// let table = turnleaf_parts::assemble(&solve(&Sizes::example()).expect("the demo's sizes agree"));
    /// let panel = table.pieces.iter().find(|p| p.id == "panel/1").expect("a first panel");
    /// let (closed, open) = (table.place(panel, 0.0), table.place(panel, table.mechanism.turn()));
    /// // From 1200 mm to 1650 mm across: 225 mm out.
    /// assert!((closed.pose.offset.dist(open.pose.offset) - 225.0).abs() < 1e-9);
    /// ```
    pub fn place(&self, piece: &Piece, turn: f64) -> Place {
        let m = &self.mechanism;
        let rise = |r: Rise| match r {
            Rise::None => 0.0,
            Rise::Plate => m.plate_rise(turn),
            Rise::Star => m.star_rise(turn),
        };
        let still = |pose, dz: f64| Place { pose, z: piece.z + dz, tilt: 0.0 };
        match piece.motion {
            Motion::Turning(r) => still(piece.at, rise(r)),
            Motion::Sliding { line, law, rise: r } => {
                let travel = match law {
                    Law::Panel => m.panel_travel(turn),
                    Law::Leaf => m.leaf_travel(turn),
                };
                let out = Pose2::new(0.0, Vec2::polar(travel, line));
                still(out.after(&piece.at), rise(r))
            }
            Motion::Arm { line, law } => {
                // Arms exist only with the arm drive; without it the piece stays where it was put.
                let Some(arms) = m.arms() else { return still(piece.at, 0.0) };
                let crank = match law {
                    Law::Panel => arms.panel.crank,
                    Law::Leaf => arms.leaf.crank,
                };
                let phi = arms.closed + turn;
                let pin = Vec2::polar(crank.pin_radius, line + phi);
                let slide = Vec2::polar(crank.slide(phi), line);
                still(Pose2::new((slide - pin).angle(), pin), 0.0)
            }
            Motion::Base => still(Pose2::new(turn, Vec2::ZERO).after(&piece.at), 0.0),
            Motion::Lever => {
                let rise = m.plate_rise(turn);
                Place { pose: piece.at, z: piece.z + rise, tilt: m.lever.tilt(rise).unwrap_or(0.0) }
            }
            Motion::Roller => still(piece.at, m.plate_rise(turn)),
        }
    }
}
