//! Sub-assemblies: which exploded view a piece belongs to.
//!
//! In: a piece's law of motion and its height. Out: a [`Group`].
//! Always true: every piece belongs to exactly one group; no name of a part decides.

use turnleaf_parts::{Assembly, Law, Motion, Piece, Rise};

/// A sub-assembly, from the top of the table down.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Group {
    /// What is seen of the table from above.
    Top,
    /// What rises with the rising plate, and what it lifts.
    Rising,
    /// What turns and does not rise, and what slides on it.
    Turning,
    /// What stands still above the frame, and what is pinned to it.
    Base,
    /// What carries the base.
    Frame,
}

impl Group {
    /// All groups, from the top down.
    pub const ALL: [Group; 5] = [Group::Top, Group::Rising, Group::Turning, Group::Base, Group::Frame];
    /// Key for identifiers and messages.
    pub fn key(self) -> &'static str {
        match self {
            Group::Top => "top",
            Group::Rising => "rising",
            Group::Turning => "turning",
            Group::Base => "base",
            Group::Frame => "frame",
        }
    }
}

/// A height counts as reached from so far below, mm.
const NEAR: f64 = 0.01;

/// The group of a piece.
pub fn group_of(a: &Assembly, piece: &Piece) -> Group {
    let st = &a.mechanism.stack;
    let at_least = |z: f64| piece.z >= z - NEAR;
    match piece.motion {
        Motion::Base if piece.z + a.part_of(piece).thickness <= st.base.bottom + NEAR => Group::Frame,
        Motion::Base | Motion::Arm { .. } | Motion::Lever => Group::Base,
        Motion::Turning(Rise::None) => Group::Turning,
        Motion::Turning(Rise::Star) if at_least(st.star.bottom) => Group::Top,
        Motion::Turning(_) | Motion::Roller => Group::Rising,
        Motion::Sliding { law: Law::Panel, .. } if at_least(st.panel.bottom) => Group::Top,
        Motion::Sliding { law: Law::Panel, .. } => Group::Turning,
        Motion::Sliding { law: Law::Leaf, .. } if at_least(st.leaf.bottom) => Group::Top,
        Motion::Sliding { law: Law::Leaf, .. } => Group::Rising,
    }
}
