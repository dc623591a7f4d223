//! Which way the grain of a part runs.
//!
//! In: a part and its datum frame. Out: the grain's direction among the datums, or none.
//! Always true: what has no grain, or none of its own (round parts, those of equal arms, a part whose datum line
//! lies askew to its length), says nothing.

use crate::frame::{Frame, OriginKind};
use turnleaf_geom::{Vec2, vec2::v};
use turnleaf_parts::Part;

/// Materials without grain, as they are named in the languages of the book.
const GRAINLESS: [&str; 5] = ["steel", "tube", "PE-UHMW", "Stahl", "Rohr"];

/// A direction among the datums.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Grain {
    /// Along the datum line.
    Along,
    /// Across it.
    Across,
    /// Along a ring segment's arcs.
    Arcs,
}

impl Grain {
    /// Along the part's own x (see the parts crate), along a ring segment's arc.
    pub fn of(part: &Part, frame: &Frame) -> Option<Grain> {
        if GRAINLESS.iter().any(|m| part.material.contains(m)) {
            return None;
        }
        let (lo, hi) = part.outline.bounds();
        // What stands taller than it is long is a leg or a post, with its grain upright.
        if frame.fold != 1 || part.thickness >= (hi.x - lo.x).max(hi.y - lo.y) {
            return None;
        }
        if frame.origin == OriginKind::ArcCentre {
            return Some(Grain::Arcs);
        }
        let x = frame.pose.apply(v(1.0, 0.0)) - frame.pose.apply(Vec2::ZERO);
        if x.y.abs() < 1e-6 {
            Some(Grain::Along)
        } else if x.x.abs() < 1e-6 {
            Some(Grain::Across)
        } else {
            None
        }
    }
    /// As a note says it.
    pub fn sentence(self) -> &'static str {
        match self {
            Grain::Along => "Grain along the datum line.",
            Grain::Across => "Grain across the datum line.",
            Grain::Arcs => "Grain along the arcs.",
        }
    }
}
