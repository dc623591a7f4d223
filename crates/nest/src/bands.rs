//! Bands for rails: long rectangles of one width, ripped off together.
//!
//! In: the parts of one stock. Out: sheets begun with bands, and what remains to be nested.
//! Always true: a band runs over the whole usable length of its sheet, so that one straight cut of the saw frees it;
//! a band that would be filled to less than three fifths is not made.

use crate::order::{Filled, Kind, Strip};
use crate::shapes::Shapes;
use crate::spot::Placed;
use turnleaf_geom::vec2::v;

/// Least length of a rail in widths.
const SLENDER: f64 = 4.0;
/// Least part of its box that a rail fills: corners may be rounded or have tenons.
const RECTANGLE: f64 = 0.97;
/// Least part of a band's length that must be used.
const FULL: f64 = 0.6;
/// Widths that differ by no more are one width, mm.
const SAME: f64 = 0.05;

struct Rail {
    part: usize,
    variant: usize,
    length: f64,
    width: f64,
}

/// Sheets of one kind begun with bands, and the parts that are not in them.
pub fn begin(
    shapes: &Shapes,
    kinds: &[Kind],
    kind: usize,
    parts: &[usize],
    kerf: f64,
) -> (Vec<Filled>, Vec<usize>) {
    let bin = kinds[kind].bin;
    let (long, wide) = (bin.hi.x - bin.lo.x, bin.hi.y - bin.lo.y);
    let mut rest = Vec::new();
    let mut rails: Vec<Rail> = Vec::new();
    for &part in parts {
        match rail(shapes, part) {
            Some(rail) if rail.length <= long && rail.width <= wide => rails.push(rail),
            _ => rest.push(part),
        }
    }
    // Widest first, in each width longest first.
    rails.sort_by(|a, b| {
        b.width.total_cmp(&a.width).then(b.length.total_cmp(&a.length)).then(a.part.cmp(&b.part))
    });
    let gap = kerf + 3.0 * shapes.slack;
    let mut sheets: Vec<Filled> = Vec::new();
    let mut from = 0;
    while from < rails.len() {
        let to =
            (from..rails.len()).find(|&i| rails[from].width - rails[i].width > SAME).unwrap_or(rails.len());
        // First fit, longest first.
        let mut bands: Vec<(f64, Vec<&Rail>)> = Vec::new();
        for rail in &rails[from..to] {
            let place = bands.iter().position(|(used, _)| used + gap + rail.length <= long);
            match place {
                Some(i) => {
                    bands[i].0 += gap + rail.length;
                    bands[i].1.push(rail);
                }
                None => bands.push((rail.length, vec![rail])),
            }
        }
        for (used, band) in bands {
            if used < FULL * long || !lay(shapes, kinds, kind, &band, gap, &mut sheets) {
                rest.extend(band.iter().map(|r| r.part));
            }
        }
        from = to;
    }
    rest.sort_unstable();
    (sheets, rest)
}

/// The part lying along the sheet, if it is long and rectangular.
fn rail(shapes: &Shapes, part: usize) -> Option<Rail> {
    shapes.of[part].iter().find_map(|&variant| {
        let size = shapes.variants[variant].hi - shapes.variants[variant].lo;
        let full = shapes.area[part] >= RECTANGLE * size.x * size.y;
        (full && size.x >= SLENDER * size.y).then_some(Rail { part, variant, length: size.x, width: size.y })
    })
}

/// Lays a band on the first sheet with room for it. False when no sheet is left.
fn lay(
    shapes: &Shapes,
    kinds: &[Kind],
    kind: usize,
    band: &[&Rail],
    gap: f64,
    sheets: &mut Vec<Filled>,
) -> bool {
    let width = band.iter().map(|r| r.width).fold(0.0, f64::max);
    let at = match sheets.iter().position(|s| s.bin.lo.y + width <= s.bin.hi.y) {
        Some(i) => i,
        None if sheets.len() < kinds[kind].count => {
            sheets.push(Filled { kind, bin: kinds[kind].bin, parts: vec![], placed: vec![], bands: vec![] });
            sheets.len() - 1
        }
        None => return false,
    };
    let sheet = &mut sheets[at];
    let from = sheet.bin.lo.y;
    let mut x = sheet.bin.lo.x;
    let mut parts = Vec::new();
    for rail in band {
        let lo = shapes.variants[rail.variant].lo;
        parts.push((rail.part, Placed { variant: rail.variant, at: v(x, from) - lo }));
        x += rail.length + gap;
    }
    sheet.bands.push(Strip { from, to: from + width, parts });
    sheet.bin.lo.y = from + width + gap;
    true
}
