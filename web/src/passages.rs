//! The sizes written as sentences.
//!
//! In: nothing. Out: [`PASSAGES`], whose places stand for fields.
//! Always true: every field of the table of sizes stands in exactly one sentence (tested).

/// A stretch of a passage.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bit {
    /// Words.
    Say(&'static str),
    /// The field with this key.
    Size(&'static str),
}

/// A short paragraph about one side of the table.
#[derive(Clone, Copy, Debug)]
pub struct Passage {
    /// Stable name, for links.
    pub id: &'static str,
    /// Heading.
    pub title: &'static str,
    /// Sentences.
    pub bits: &'static [Bit],
}

use Bit::{Say, Size};

/// All passages in reading order.
pub const PASSAGES: &[Passage] = &[
    Passage {
        id: "shape",
        title: "The table",
        bits: &[
            Say("Closed, it is "),
            Size("closed_diameter"),
            Say(" across and made of "),
            Size("sectors"),
            Say(" equal panels. Opened, it is "),
            Size("open_diameter"),
            Say(" across; each panel travels "),
            Size("travel"),
            Say(" for that, its way turned from straight out by "),
            Size("slide_skew"),
            Say(". The top stands "),
            Size("height"),
            Say(" above the floor."),
        ],
    },
    Passage {
        id: "stock",
        title: "What it is cut from",
        bits: &[
            Say("Panels, leaves and star are "),
            Size("stock_thickness"),
            Say(" thick. The turning plate and the rising plate are "),
            Size("plate_thickness"),
            Say(", the base plate is two sheets of "),
            Size("ply_thickness"),
            Say(" glued together. Slides are "),
            Size("slide_thickness"),
            Say(" thick and arms "),
            Size("arm_thickness"),
            Say("."),
        ],
    },
    Passage {
        id: "fits",
        title: "How closely it fits",
        bits: &[
            Say("Surfaces that slide over each other have "),
            Size("play"),
            Say(" of air between them; edges that meet leave a gap of "),
            Size("fitting_gap"),
            Say(". Stored leaves hide "),
            Size("hidden_margin"),
            Say(" inside the closed edge. A leaf's point is cut at "),
            Size("leaf_tip_half_angle"),
            Say(" to each side. Tongues reach "),
            Size("tongue_depth"),
            Say(" into their grooves, are "),
            Size("tongue_thickness"),
            Say(" thick, and pass with "),
            Size("tongue_clearance"),
            Say(" to spare while the leaves rise."),
        ],
    },
    Passage {
        id: "drive",
        title: "What moves it",
        bits: &[
            Say("Arms are "),
            Size("arm_width"),
            Say(" wide and never come closer to each other than "),
            Size("arm_clearance"),
            Say(". Leaves and star rise during "),
            Size("ramp_sweep"),
            Say(" of the turn."),
        ],
    },
    Passage {
        id: "fixed",
        title: "Left to the search, unless you fix it",
        bits: &[
            Say("A panel arm's pin sits "),
            Size("panel_pin_radius"),
            Say(" from the centre; the arm is "),
            Size("panel_arm_length"),
            Say(" from pin to pin and bends out by "),
            Size("panel_arm_bend"),
            Say(". A leaf arm's pin sits "),
            Size("leaf_pin_radius"),
            Say(" from the centre; the arm is "),
            Size("leaf_arm_length"),
            Say(" from pin to pin and bends out by "),
            Size("leaf_arm_bend"),
            Say("."),
        ],
    },
    Passage {
        id: "loads",
        title: "What it must carry",
        bits: &[
            Say("Strength and tipping are worked out for a push of "),
            Size("edge_load"),
            Say(" down on the edge of the open top."),
        ],
    },
];

/// The fields of a passage.
pub fn fields_of(passage: &Passage) -> impl Iterator<Item = &'static str> {
    passage.bits.iter().filter_map(|bit| match bit {
        Say(_) => None,
        Size(id) => Some(*id),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::core::FIELDS;

    #[test]
    fn every_field_stands_in_exactly_one_sentence() {
        let mut written: Vec<&str> = PASSAGES.iter().flat_map(fields_of).collect();
        let mut wanted: Vec<&str> = FIELDS.iter().map(|field| field.id).collect();
        written.sort_unstable();
        wanted.sort_unstable();
        assert_eq!(written, wanted);
    }

    #[test]
    fn every_passage_begins_and_ends_like_a_sentence() {
        for passage in PASSAGES {
            let (Some(Say(first)), Some(Say(last))) = (passage.bits.first(), passage.bits.last()) else {
                panic!("{} begins or ends with a size", passage.id);
            };
            assert!(first.starts_with(char::is_uppercase), "{}", passage.id);
            assert!(last.ends_with('.'), "{}", passage.id);
        }
    }
}
