//! A table's parts as parts to nest.
//!
//! In: an assembly. Out: what is cut from sheet stock, with the way its wood runs.
//! Always true: hardwood parts (slides, guides, legs, rails, levers) come from boards and bought things from a shop; neither is here.

use crate::request::{Grain, PartIn, Turns};
use turnleaf_parts::{Assembly, Part};
use turnleaf_units::{DecimalSign, print_decimal};

/// Materials sold in sheets.
const SHEETS: [&str; 6] = ["top stock", "plate stock", "base stock", "slide stock", "steel plate", "PE-UHMW"];
/// Stock whose parts run with their wood along the part's x axis: what is seen, and what is bent lengthwise.
const ALONG: [&str; 2] = ["top stock", "slide stock"];

/// Whether a part is cut from sheet stock.
pub fn from_sheet(part: &Part) -> bool {
    part.made && part.count > 0 && SHEETS.contains(&part.material.as_str())
}

/// Name of a part's stock, such as "top stock, 18 mm": parts of one name share sheets.
pub fn stock(part: &Part) -> String {
    let thickness = print_decimal(part.thickness, 2, DecimalSign::Point).unwrap_or_default();
    format!("{}, {thickness} mm", part.material)
}

/// The parts cut from sheet stock, in list order. Plates and base sheets may be turned by any angle (plywood is
/// as good either way across a disc); all others keep their grain, lengths of a ring along their chord.
pub fn parts(assembly: &Assembly) -> Vec<PartIn> {
    let one = |part: &Part| {
        let (low, high) = part.outline.bounds();
        let upright = high.y - low.y > high.x - low.x;
        let grain = match ALONG.contains(&part.material.as_str()) {
            true if part.is_ring_length() && upright => Grain::Across,
            true => Grain::Along,
            false => Grain::Free,
        };
        PartIn {
            id: part.id.clone(),
            name: part.name.clone(),
            stock: stock(part),
            outline: part.outline.clone(),
            count: part.count,
            grain,
            turns: Turns::Any,
        }
    };
    assembly.parts.iter().filter(|p| from_sheet(p)).map(one).collect()
}
