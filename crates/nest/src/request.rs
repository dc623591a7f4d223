//! What is asked and what comes back.
//!
//! In: nothing. Out: the vocabulary of cutting layouts.
//! Always true: a sheet's frame has its origin at the lower left corner, x along its length (and along its grain),
//! y across; a part is only ever turned and shifted, never mirrored. Lengths are mm, angles degrees.

use turnleaf_geom::{Pose2, Ring, Vec2, trig};

/// How a part's wood must run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Grain {
    /// It does not matter.
    Free,
    /// The part's x axis along the sheet's grain.
    Along,
    /// The part's y axis along the sheet's grain.
    Across,
}

/// How a part may be turned, within what its grain allows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Turns {
    /// Not at all.
    Fixed,
    /// End for end.
    Half,
    /// By quarter turns.
    Quarter,
    /// By any angle; those that lay its long edges along or across the sheet, quarter turns and multiples of 15°
    /// are tried.
    Any,
}

/// A part to cut.
#[derive(Clone, Debug, PartialEq)]
pub struct PartIn {
    /// Stable identifier.
    pub id: String,
    /// Name for sentences and labels.
    pub name: String,
    /// What it is cut from: parts of one material and thickness share sheets.
    pub stock: String,
    /// Outline, true arcs.
    pub outline: Ring,
    /// How many.
    pub count: usize,
    /// Which way its wood runs.
    pub grain: Grain,
    /// How it may be turned.
    pub turns: Turns,
}

/// Sheets of one size.
#[derive(Clone, Debug, PartialEq)]
pub struct Sheet {
    /// Name for sentences and labels ("1220 × 2440 mm").
    pub name: String,
    /// Along the grain, mm.
    pub length: f64,
    /// Across the grain, mm.
    pub width: f64,
    /// How many are on hand of each material and thickness; without limit when left out.
    pub count: Option<usize>,
    /// The material and thickness they are of; every one when left out.
    pub stock: Option<String>,
}

impl Sheet {
    /// Sheets without limit of every material and thickness; the longer side is taken along the grain.
    pub fn of(name: &str, a: f64, b: f64) -> Sheet {
        Sheet { name: name.into(), length: a.max(b), width: a.min(b), count: None, stock: None }
    }
    /// The four sizes mostly sold: 1220 × 2440 mm, 1525 × 1525 mm, 4 × 8 ft, 5 × 5 ft
    /// (common practice, no source; 4 × 8 ft is 1219.2 × 2438.4 mm).
    pub fn usual() -> Vec<Sheet> {
        vec![
            Sheet::of("1220 × 2440 mm", 1220.0, 2440.0),
            Sheet::of("1525 × 1525 mm", 1525.0, 1525.0),
            Sheet::of("4 × 8 ft", 1219.2, 2438.4),
            Sheet::of("5 × 5 ft", 1524.0, 1524.0),
        ]
    }
}

/// How hard to search. The work is counted, not timed, so that every machine finds the same layouts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Effort {
    /// Orders of cutting tried for each material and thickness.
    pub orders: usize,
    /// Moves of one part each, tried while layouts are pressed together.
    pub moves: usize,
}

impl Effort {
    /// What a layout by itself uses.
    pub const BOOK: Effort = Effort { orders: 6, moves: 250 };
    /// What a whole book can wait for.
    pub const QUICK: Effort = Effort { orders: 1, moves: 0 };
    /// So many times the book's.
    pub fn times(k: usize) -> Effort {
        let k = k.max(1);
        Effort { orders: Effort::BOOK.orders.saturating_mul(k), moves: Effort::BOOK.moves.saturating_mul(k) }
    }
}

/// Everything asked.
#[derive(Clone, Debug, PartialEq)]
pub struct Request {
    /// Parts.
    pub parts: Vec<PartIn>,
    /// Sheets on hand.
    pub sheets: Vec<Sheet>,
    /// What the saw takes away: the least distance between two parts, mm.
    pub kerf: f64,
    /// Unused edge of each sheet, mm.
    pub margin: f64,
    /// How hard to search.
    pub effort: Effort,
}

/// One part in its place on a sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Placement {
    /// Index in [`Request::parts`].
    pub part: usize,
    /// Which of its instances, from 1.
    pub instance: usize,
    /// Turned counter-clockwise about the part's own origin, degrees.
    pub turned: f64,
    /// Where its own origin comes to lie.
    pub at: Vec2,
}

impl Placement {
    /// The motion from the part's frame to the sheet's.
    pub fn pose(&self) -> Pose2 {
        Pose2::new(trig::rad(self.turned), self.at)
    }
}

/// A band ripped off a sheet over its whole length, then cut to lengths.
#[derive(Clone, Debug, PartialEq)]
pub struct Band {
    /// Lower edge, mm from the sheet's.
    pub from: f64,
    /// Upper edge, mm from the sheet's lower edge.
    pub to: f64,
    /// Indices in [`Layout::placements`] of what lies in it, left to right.
    pub placements: Vec<usize>,
}

/// One sheet to cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Layout {
    /// Index in [`Request::sheets`].
    pub sheet: usize,
    /// What it is of.
    pub stock: String,
    /// Parts in their places.
    pub placements: Vec<Placement>,
    /// Bands to rip first.
    pub bands: Vec<Band>,
    /// Area of the parts in percent of the whole sheet.
    pub fill: f64,
    /// How far along its length the sheet is used, mm.
    pub used: f64,
}

/// Parts that found no place.
#[derive(Clone, Debug, PartialEq)]
pub struct Left {
    /// Index in [`Request::parts`].
    pub part: usize,
    /// How many of them.
    pub count: usize,
    /// Why, and what would do, as a sentence.
    pub sentence: String,
}

/// The answer.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Layouts {
    /// Sheets, grouped by stock in the order of the parts.
    pub sheets: Vec<Layout>,
    /// What found no place.
    pub left: Vec<Left>,
}
