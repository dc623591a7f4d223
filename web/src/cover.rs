//! Faces that are wholly hidden are not worth painting.
//!
//! In: faces in the order of painting. Out: those of them that can be seen, in the same order.
//! Always true: a face is left out only where later ones cover every cell of a grid that it could touch; a cell counts as
//! covered only when one face covers it whole. What is hidden by several faces together, or by less than a cell, stays.

use crate::space::Face;

type Point = (f64, f64);
type Box4 = (f64, f64, f64, f64);
/// A row of cells: where edges run in it, from left to right, and where they cross its middle.
type Strip = (Vec<(f64, f64)>, Vec<f64>);

/// Cells across. More find more, and cost more.
const ACROSS: usize = 160;
/// Lines reach so far beyond their face, mm: a dot of the screen and a bit.
const LINE: f64 = 3.0;
/// A face that covers fewer cells than this a side hides nothing worth the work.
const WORTH: f64 = 2.5;

/// The faces that can be seen; `room` is left, top, right, bottom of what is painted, mm.
pub fn seen(faces: Vec<Face>, room: Box4) -> Vec<Face> {
    let mut grid = Grid::over(room);
    let mut out: Vec<Face> = Vec::with_capacity(faces.len());
    for face in faces.into_iter().rev() {
        let Some(bounds) = bounds(&face.rings) else { continue };
        if grid.hides(bounds) {
            continue;
        }
        if bounds.2 - bounds.0 > WORTH * grid.cell && bounds.3 - bounds.1 > WORTH * grid.cell {
            grid.cover(&face.rings, bounds);
        }
        out.push(face);
    }
    out.reverse();
    out
}

fn bounds(rings: &[Vec<Point>]) -> Option<Box4> {
    rings.iter().flatten().fold(None, |found: Option<Box4>, (x, y)| {
        let (l, t, r, b) = found.unwrap_or((*x, *y, *x, *y));
        Some((l.min(*x), t.min(*y), r.max(*x), b.max(*y)))
    })
}

/// Which cells are covered.
struct Grid {
    left: f64,
    top: f64,
    cell: f64,
    rows: usize,
    covered: Vec<bool>,
}

impl Grid {
    fn over((left, top, right, bottom): Box4) -> Grid {
        let cell = ((right - left) / ACROSS as f64).max(1e-6);
        let rows = ((bottom - top) / cell).ceil().clamp(1.0, 4.0 * ACROSS as f64) as usize;
        Grid { left, top, cell, rows, covered: vec![false; ACROSS * rows] }
    }

    /// The rows or columns that a stretch touches; none when it reaches beyond the grid.
    fn touched(&self, from: f64, to: f64, begin: f64, count: usize) -> Option<core::ops::Range<usize>> {
        let (a, b) = ((from - begin) / self.cell, (to - begin) / self.cell);
        (a >= 0.0 && b < count as f64).then(|| a as usize..b as usize + 1)
    }

    /// Whether everything in a box, with lines round it, is covered.
    fn hides(&self, (l, t, r, b): Box4) -> bool {
        let columns = self.touched(l - LINE, r + LINE, self.left, ACROSS);
        let rows = self.touched(t - LINE, b + LINE, self.top, self.rows);
        let (Some(columns), Some(mut rows)) = (columns, rows) else { return false };
        rows.all(|row| self.covered[row * ACROSS..][columns.clone()].iter().all(|covered| *covered))
    }

    /// Marks the cells that lie wholly inside the rings (even-odd).
    fn cover(&mut self, rings: &[Vec<Point>], (_, t, _, b): Box4) {
        let first = ((t - self.top) / self.cell).floor().max(0.0) as usize;
        let last = (((b - self.top) / self.cell).ceil().max(0.0) as usize).min(self.rows);
        if first >= last {
            return;
        }
        let mut strips: Vec<Strip> = vec![Default::default(); last - first];
        for ring in rings {
            for (i, a) in ring.iter().enumerate() {
                let b = ring[(i + 1) % ring.len()];
                self.strip(*a, b, first, &mut strips);
            }
        }
        for (row, (mut edges, mut crossings)) in (first..last).zip(strips) {
            edges.sort_by(|a, b| a.0.total_cmp(&b.0));
            crossings.sort_by(f64::total_cmp);
            // Between two edges a strip is inside or outside as a whole; outside when nothing crosses.
            let mut right = f64::NEG_INFINITY;
            for (from, to) in edges {
                if from > right && right.is_finite() {
                    let left_of = crossings.iter().filter(|x| **x <= right).count();
                    if left_of % 2 == 1 {
                        self.mark(row, right, from);
                    }
                }
                right = right.max(to);
            }
        }
    }

    /// Enters one edge into the rows it runs through.
    fn strip(&self, a: Point, b: Point, first: usize, strips: &mut [Strip]) {
        let (a, b) = if a.1 <= b.1 { (a, b) } else { (b, a) };
        let row = |y: f64| ((y - self.top) / self.cell).floor() - first as f64;
        let (from, to) = (row(a.1).max(0.0) as usize, row(b.1));
        if to < 0.0 {
            return;
        }
        let at = |y: f64| {
            if b.1 - a.1 < 1e-12 { a.0 } else { a.0 + (b.0 - a.0) * ((y - a.1) / (b.1 - a.1)) }
        };
        for (k, (edges, crossings)) in strips.iter_mut().enumerate().take(to as usize + 1).skip(from) {
            let high = self.top + (first + k) as f64 * self.cell;
            let (y0, y1) = (a.1.max(high), b.1.min(high + self.cell));
            let (x0, x1) = if b.1 - a.1 < 1e-12 { (a.0, b.0) } else { (at(y0), at(y1)) };
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
    use crate::core::{Plan, Table};
    use crate::space::{ISOMETRIC, Kind, Look, faces, reaches, room};

    const ROOM: Box4 = (-500.0, -500.0, 500.0, 500.0);

    fn block(solid: usize, l: f64, t: f64, r: f64, b: f64) -> Face {
        let rings = vec![vec![(l, t), (r, t), (r, b), (l, b)]];
        Face { solid, kind: Kind::Top, rings, lines: Vec::new() }
    }

    fn kept(faces: Vec<Face>) -> Vec<usize> {
        seen(faces, ROOM).into_iter().map(|face| face.solid).collect()
    }

    #[test]
    fn what_lies_under_a_large_face_is_left_out_and_what_sticks_out_is_not() {
        let small = block(0, -10.0, -10.0, 10.0, 10.0);
        let large = block(1, -100.0, -100.0, 100.0, 100.0);
        let out = block(2, 80.0, -10.0, 110.0, 10.0);
        assert_eq!(kept(vec![small.clone(), out.clone(), large.clone()]), [2, 1]);
        assert_eq!(kept(vec![large, small, out]), [1, 0, 2], "what is painted later lies on top");
    }

    #[test]
    fn what_shows_through_a_hole_stays() {
        let mut ring = block(1, -100.0, -100.0, 100.0, 100.0);
        ring.rings.push(vec![(-30.0, -30.0), (-30.0, 30.0), (30.0, 30.0), (30.0, -30.0)]);
        assert_eq!(kept(vec![block(0, -10.0, -10.0, 10.0, 10.0), ring.clone()]), [0, 1]);
        assert_eq!(kept(vec![block(0, 50.0, 50.0, 70.0, 70.0), ring]), [1]);
    }

    /// Whether a point is inside by counting crossings to the right.
    fn inside(face: &Face, (x, y): Point) -> bool {
        let crosses = |(a, b): (Point, Point)| {
            (a.1 > y) != (b.1 > y) && x < a.0 + (b.0 - a.0) * (y - a.1) / (b.1 - a.1)
        };
        let edges = face
            .rings
            .iter()
            .flat_map(|ring| ring.iter().enumerate().map(move |(i, a)| (*a, ring[(i + 1) % ring.len()])));
        edges.filter(|edge| crosses(*edge)).count() % 2 == 1
    }

    /// Every corner of a face that is left out, and points between, lie under a face painted later.
    #[test]
    fn nothing_that_can_be_seen_of_the_demo_table_is_left_out() {
        let table = Table::new(&Plan::default_metric()).unwrap();
        let solids = table.solids();
        let whole = table.turn_degrees();
        let reaches = reaches(&solids, &table.stands(0.0), &table.stands(whole));
        for (turn, round, down, cut, apart) in [
            (0.0, -0.35, ISOMETRIC, false, 0.0),
            (0.4, 1.0, ISOMETRIC, false, 0.0),
            (1.0, -0.35, 1.2, false, 0.0),
            (0.7, 0.2, 0.3, true, 40.0),
        ] {
            let look = Look { round, down, apart, cut, hidden: Vec::new() };
            let all = faces(&solids, &table.stands(turn * whole), (turn * whole).to_radians(), &look);
            let room = room(&solids, &reaches, &look).unwrap();
            let left = seen(all.clone(), room);
            assert!(left.len() < all.len(), "nothing was left out of {}", all.len());
            let mut still = left.iter().peekable();
            for (place, face) in all.iter().enumerate() {
                if still.peek() == Some(&face) {
                    still.next();
                    continue;
                }
                for ring in &face.rings {
                    for (i, a) in ring.iter().enumerate() {
                        let b = ring[(i + 1) % ring.len()];
                        let middle = ((a.0 + b.0) / 2.0, (a.1 + b.1) / 2.0);
                        for point in [*a, middle] {
                            let over = all[place + 1..].iter().any(|later| inside(later, point));
                            assert!(over, "turned {turn}: {point:?} of face {place} could be seen");
                        }
                    }
                }
            }
            assert_eq!(still.next(), None);
            println!("turned {turn}: {} of {} faces painted", left.len(), all.len());
        }
    }
}
