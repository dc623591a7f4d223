//! Faces that are wholly hidden are not worth painting.
//!
//! In: faces from near to far. Out: whether a box is hidden by those before it.
//! Always true: a face is called hidden only where earlier ones cover every cell of a grid that it could touch; a cell counts
//! as covered only when one face covers it whole. What is hidden by several faces together, or by less than a cell, stays.

use crate::ready::bounds;
use crate::{Box4, Point};
use core::ops::Range;

/// A row of cells: where edges run in it, from left to right, and where they cross its middle.
#[derive(Default)]
struct Strip {
    edges: Vec<(f64, f64)>,
    crossings: Vec<f64>,
}

/// Cells across. More find more, and cost more.
const ACROSS: usize = 160;
/// Lines reach so far beyond their face, mm: a dot of the screen and a bit.
const LINE: f64 = 3.0;
/// A face that covers fewer cells than this a side hides nothing worth the work.
const WORTH: f64 = 2.5;

/// Which cells are covered.
pub(crate) struct Grid {
    left: f64,
    top: f64,
    cell: f64,
    rows: usize,
    covered: Vec<bool>,
    /// One for each row, emptied after use.
    strips: Vec<Strip>,
}

impl Grid {
    /// Nothing covered yet; `room` is what is painted.
    pub fn over((left, top, right, bottom): Box4) -> Grid {
        let cell = ((right - left) / ACROSS as f64).max(1e-6);
        let rows = ((bottom - top) / cell).ceil().clamp(1.0, 4.0 * ACROSS as f64) as usize;
        let strips = (0..rows).map(|_| Strip::default()).collect();
        Grid { left, top, cell, rows, covered: vec![false; ACROSS * rows], strips }
    }

    /// The rows or columns that a stretch touches; none when it reaches beyond the grid.
    fn touched(&self, from: f64, to: f64, begin: f64, count: usize) -> Option<Range<usize>> {
        let (a, b) = ((from - begin) / self.cell, (to - begin) / self.cell);
        (a >= 0.0 && b < count as f64).then(|| a as usize..b as usize + 1)
    }

    /// Whether everything in a box, with lines round it, is covered.
    pub fn hides(&self, (l, t, r, b): Box4) -> bool {
        let columns = self.touched(l - LINE, r + LINE, self.left, ACROSS);
        let rows = self.touched(t - LINE, b + LINE, self.top, self.rows);
        let (Some(columns), Some(mut rows)) = (columns, rows) else { return false };
        rows.all(|row| self.covered[row * ACROSS..][columns.clone()].iter().all(|covered| *covered))
    }

    /// Marks the cells that lie wholly inside the rings (even-odd), each a run of the points.
    pub fn cover(&mut self, points: &[Point], rings: &[Range<usize>]) {
        let Some((l, t, r, b)) = bounds(rings.iter().flat_map(|ring| &points[ring.clone()])) else { return };
        if r - l <= WORTH * self.cell || b - t <= WORTH * self.cell {
            return;
        }
        let first = ((t - self.top) / self.cell).floor().max(0.0) as usize;
        let last = (((b - self.top) / self.cell).ceil().max(0.0) as usize).min(self.rows);
        if first >= last {
            return;
        }
        let mut strips = std::mem::take(&mut self.strips);
        for ring in rings {
            let ring = &points[ring.clone()];
            for (i, a) in ring.iter().enumerate() {
                let b = ring[if i + 1 < ring.len() { i + 1 } else { 0 }];
                self.strip(*a, b, first, &mut strips[first..last]);
            }
        }
        for (row, Strip { edges, crossings }) in (first..).zip(&mut strips[first..last]) {
            edges.sort_unstable_by(|a, b| a.0.total_cmp(&b.0));
            // Between two edges a strip is inside or outside as a whole; outside when nothing crosses.
            let mut right = f64::NEG_INFINITY;
            for (from, to) in edges.iter() {
                if *from > right && right.is_finite() {
                    let left_of = crossings.iter().filter(|x| **x <= right).count();
                    if left_of % 2 == 1 {
                        self.mark(row, right, *from);
                    }
                }
                right = right.max(*to);
            }
            edges.clear();
            crossings.clear();
        }
        self.strips = strips;
    }

    /// Enters one edge into the rows it runs through.
    fn strip(&self, a: Point, b: Point, first: usize, strips: &mut [Strip]) {
        let (a, b) = if a.1 <= b.1 { (a, b) } else { (b, a) };
        let row = |y: f64| ((y - self.top) / self.cell).floor() - first as f64;
        let (from, to) = (row(a.1).max(0.0) as usize, row(b.1));
        if to < 0.0 {
            return;
        }
        let flat = b.1 - a.1 < 1e-12;
        let slope = if flat { 0.0 } else { (b.0 - a.0) / (b.1 - a.1) };
        let at = |y: f64| a.0 + slope * (y - a.1);
        for (k, Strip { edges, crossings }) in strips.iter_mut().enumerate().take(to as usize + 1).skip(from)
        {
            let high = self.top + (first + k) as f64 * self.cell;
            let (y0, y1) = (a.1.max(high), b.1.min(high + self.cell));
            let (x0, x1) = if flat { (a.0, b.0) } else { (at(y0), at(y1)) };
            edges.push((x0.min(x1), x0.max(x1)));
            let middle = high + self.cell / 2.0;
            if a.1 <= middle && b.1 > middle {
                crossings.push(at(middle));
            }
        }
    }

    /// Marks the whole cells of a row between two places.
    fn mark(&mut self, row: usize, from: f64, to: f64) {
        let first = ((from - self.left) / self.cell).ceil().max(0.0) as usize;
        let end = (((to - self.left) / self.cell).floor().max(0.0) as usize).min(ACROSS);
        if first < end {
            self.covered[row * ACROSS + first..row * ACROSS + end].fill(true);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const ROOM: Box4 = (-500.0, -500.0, 500.0, 500.0);

    fn block((l, t, r, b): Box4) -> Vec<Point> {
        vec![(l, t), (r, t), (r, b), (l, b)]
    }

    fn covered(rings: &[Vec<Point>]) -> Grid {
        let mut grid = Grid::over(ROOM);
        let points: Vec<Point> = rings.iter().flatten().copied().collect();
        let mut from = 0;
        let run = |ring: &Vec<Point>| {
            from += ring.len();
            from - ring.len()..from
        };
        let runs: Vec<Range<usize>> = rings.iter().map(run).collect();
        grid.cover(&points, &runs);
        grid
    }

    #[test]
    fn what_lies_under_a_large_face_is_hidden_and_what_sticks_out_is_not() {
        let grid = covered(&[block((-100.0, -100.0, 100.0, 100.0))]);
        assert!(grid.hides((-10.0, -10.0, 10.0, 10.0)));
        assert!(!grid.hides((80.0, -10.0, 110.0, 10.0)));
        assert!(!Grid::over(ROOM).hides((-10.0, -10.0, 10.0, 10.0)));
    }

    #[test]
    fn what_shows_through_a_hole_is_not_hidden() {
        let hole = vec![(-30.0, -30.0), (-30.0, 30.0), (30.0, 30.0), (30.0, -30.0)];
        let grid = covered(&[block((-100.0, -100.0, 100.0, 100.0)), hole]);
        assert!(!grid.hides((-10.0, -10.0, 10.0, 10.0)));
        assert!(grid.hides((50.0, 50.0, 70.0, 70.0)));
    }
}
