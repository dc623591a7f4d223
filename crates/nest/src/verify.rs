//! The judge: every layout on the true outlines.
//!
//! In: a request and a layout. Out: the first thing that is wrong with it, if any.
//! Always true: arcs are arcs here, all in f64; nothing of the search is used but its result.

use crate::request::{Layout, Request};
use crate::shapes::turns;
use turnleaf_geom::{Prepared, Region, Vec2};

/// Roundings of lengths of table size, mm: as much may be missing.
pub const ROUNDING: f64 = 1e-8;

/// Why a layout cannot be cut: the offending placement and a sentence.
#[derive(Clone, Debug, PartialEq)]
pub struct Fault {
    /// Index in [`Layout::placements`].
    pub placement: usize,
    /// What is wrong.
    pub sentence: String,
}

/// Checks distances, margins and turns of one layout.
pub fn verify(request: &Request, layout: &Layout) -> Result<(), Fault> {
    let sheet = &request.sheets[layout.sheet];
    let bodies: Vec<Prepared> =
        request.parts.iter().map(|p| Prepared::new(&Region::from(p.outline.clone()))).collect();
    let mut boxes: Vec<(Vec2, Vec2)> = Vec::new();
    for (i, one) in layout.placements.iter().enumerate() {
        let part = &request.parts[one.part];
        let fault = |sentence: String| Fault { placement: i, sentence };
        let allowed = turns(part).iter().any(|t| (t - one.turned).abs() < 1e-9);
        if !allowed {
            return Err(fault(format!("{} is turned by {}°, against its grain.", part.name, one.turned)));
        }
        let (lo, hi) = part.outline.moved(&one.pose()).bounds();
        let edge = request.margin - ROUNDING;
        if !(lo.x >= edge && lo.y >= edge && hi.x <= sheet.length - edge && hi.y <= sheet.width - edge) {
            return Err(fault(format!("{} lies beyond the margin.", part.name)));
        }
        for (j, &(l, h)) in boxes.iter().enumerate() {
            let k = request.kerf;
            if lo.x > h.x + k || l.x > hi.x + k || lo.y > h.y + k || l.y > hi.y + k {
                continue;
            }
            let other = &layout.placements[j];
            let (a, b) = (&bodies[one.part], &bodies[other.part]);
            if !a.distance_at_least(&one.pose(), b, &other.pose(), (k - ROUNDING).max(0.0)) {
                let name = &request.parts[other.part].name;
                return Err(fault(format!("{} is too near to {name}.", part.name)));
            }
        }
        boxes.push((lo, hi));
    }
    Ok(())
}
