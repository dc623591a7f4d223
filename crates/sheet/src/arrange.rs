//! Where blocks stand beside or below a view.
//!
//! In: the sheet's space and the sizes of blocks. Out: the zone left for the view, and the corner of each block.
//! Always true: blocks never overlap each other or the view's zone; another order of them must be clearly better than
//! the usual one, so that a small change moves nothing else; what does not fit gives none.

use crate::GAP;
use turnleaf_page::{Pt, pt};

/// Width and height of a block, mm.
pub type Size = (f64, f64);

/// A part of a sheet.
pub struct Area {
    /// Upper left corner.
    pub min: Pt,
    /// Lower right corner.
    pub max: Pt,
    /// Where the upper centring mark ends, with some room round it.
    pub mark: Pt,
}

impl Area {
    /// The same sheet, less space.
    pub fn part(&self, min: Pt, max: Pt) -> Area {
        Area { min, max, mark: self.mark }
    }
    /// Width, mm.
    pub fn width(&self) -> f64 {
        self.max.x - self.min.x
    }
    /// Height, mm.
    pub fn height(&self) -> f64 {
        self.max.y - self.min.y
    }
}

/// Sets blocks into a strip of a given width as low a strip as a few fixed orders give; spots and height.
pub fn shelves(blocks: &[Size], width: f64) -> Option<(Vec<Pt>, f64)> {
    let mut orders: Vec<Vec<usize>> = vec![(0..blocks.len()).collect(); 3];
    orders[1].sort_by(|a, b| blocks[*b].1.total_cmp(&blocks[*a].1).then(a.cmp(b)));
    orders[2].sort_by(|a, b| blocks[*b].0.total_cmp(&blocks[*a].0).then(a.cmp(b)));
    let mut best: Option<(Vec<Pt>, f64)> = None;
    for order in orders {
        if let Some(found) = pack(blocks, &order, width) {
            // A later order must be clearly better, so that a small change does not reshuffle the sheet.
            if best.as_ref().is_none_or(|b| found.1 < b.1 - 3.0) {
                best = Some(found);
            }
        }
    }
    best
}

/// Puts each block as high as it goes, then as far left, against the corners of those already put.
fn pack(blocks: &[Size], order: &[usize], width: f64) -> Option<(Vec<Pt>, f64)> {
    let mut spots = vec![pt(0.0, 0.0); blocks.len()];
    let mut put: Vec<usize> = Vec::new();
    let mut height = 0.0f64;
    for &i in order {
        let (wide, high) = blocks[i];
        let mut xs = vec![0.0];
        let mut ys = vec![0.0];
        for &k in &put {
            xs.push(spots[k].x + blocks[k].0 + GAP);
            ys.push(spots[k].y + blocks[k].1 + GAP);
        }
        let free = |x: f64, y: f64| {
            x + wide <= width + 1e-9
                && put.iter().all(|&k| {
                    let (p, q) = (spots[k], blocks[k]);
                    x >= p.x + q.0 + GAP - 1e-9
                        || p.x >= x + wide + GAP - 1e-9
                        || y >= p.y + q.1 + GAP - 1e-9
                        || p.y >= y + high + GAP - 1e-9
                })
        };
        let mut spot: Option<(f64, f64)> = None;
        for &y in &ys {
            for &x in &xs {
                if free(x, y) && spot.is_none_or(|s| (y, x) < (s.1, s.0)) {
                    spot = Some((x, y));
                }
            }
        }
        let (x, y) = spot?;
        spots[i] = pt(x, y);
        put.push(i);
        height = height.max(y + high);
    }
    Some((spots, height))
}

/// Sets blocks one below the other; returns spots and the width used.
fn column(blocks: &[Size], height: f64) -> Option<(Vec<Pt>, f64)> {
    let (mut y, mut width) = (0.0, 0.0f64);
    let mut spots = Vec::new();
    for (wide, high) in blocks {
        spots.push(pt(0.0, y));
        y += high + GAP;
        width = width.max(*wide);
    }
    (y - GAP <= height).then_some((spots, width))
}

/// Where the blocks stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Room {
    /// All in a strip below the view.
    Below,
    /// All in a column on the right of it.
    Beside,
    /// The notes, last but one, on the right of the view, all others in a strip below both.
    Split,
}

/// The zone left for the view, and the blocks' spots on the sheet. Blocks that stand at the top under the centring mark
/// begin below it.
pub fn arrange(a: &Area, blocks: &[Size], room: Room) -> Option<(Area, Vec<Pt>)> {
    let below_mark = |left: f64| if left < a.mark.x { a.mark.y.max(a.min.y) } else { a.min.y };
    if room == Room::Split {
        let at = blocks.len().checked_sub(2)?;
        let mut others = blocks.to_vec();
        let (wide, high) = others.remove(at);
        let (mut spots, height) = shelves(&others, a.width())?;
        let (top, left) = (a.max.y - height, a.max.x - wide);
        spots.iter_mut().for_each(|p| *p = pt(a.min.x + p.x, top + p.y));
        let from = below_mark(left);
        spots.insert(at, pt(left, from));
        let zone = a.part(a.min, pt(left - GAP, top - GAP));
        (from + high <= zone.max.y).then_some((zone, spots))
    } else if room == Room::Beside {
        let width = blocks.iter().map(|b| b.0).fold(0.0, f64::max);
        let left = a.max.x - width;
        let from = below_mark(left);
        let (spots, _) = column(blocks, a.max.y - from)?;
        let zone = a.part(a.min, pt(left - GAP, a.max.y));
        Some((zone, spots.into_iter().map(|p| pt(left + p.x, from + p.y)).collect()))
    } else {
        let (spots, height) = shelves(blocks, a.width())?;
        let top = a.max.y - height;
        let zone = a.part(a.min, pt(a.max.x, top - GAP));
        Some((zone, spots.into_iter().map(|p| pt(a.min.x + p.x, top + p.y)).collect()))
    }
}
