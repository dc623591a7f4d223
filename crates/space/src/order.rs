//! Lines of a plan in the order in which they stand before each other.
//!
//! In: lines that run from left to right, seen from below (from small y). Out: their order, the nearest first.
//! Always true: of two lines that share a stretch of x and do not cross, the one of smaller y comes first; all others
//! keep the order they were given in as far as that allows. Lines that do not cross can always be put in such an order;
//! where some cross, the one given first of those that are left breaks the ring.

use crate::Point;
use core::cmp::Reverse;
use std::collections::BinaryHeap;

/// Lines that share less of x than this do not stand before each other, mm.
const SHARED: f64 = 1e-6;

/// Where a line is at an x within it.
fn height(line: &[Point], x: f64) -> f64 {
    let right = line.partition_point(|p| p.0 < x).clamp(1, line.len() - 1);
    let (a, b) = (line[right - 1], line[right]);
    let wide = b.0 - a.0;
    if wide <= 0.0 { a.1 } else { a.1 + (b.1 - a.1) * ((x - a.0) / wide) }
}

/// The order of lines of two points or more whose x never falls, the nearest first.
///
/// A sweep from left to right keeps the lines under way sorted from near to far. Whenever two become neighbours, the
/// nearer must come before the other; that orders all that share some x, since others stand between them.
pub(crate) fn near_first(lines: &[&[Point]]) -> Vec<usize> {
    let ends = |k: usize| (lines[k][0].0, lines[k][lines[k].len() - 1].0);
    // Ends before beginnings, so that lines that only meet do not count as beside each other.
    let mut events: Vec<(f64, bool, usize)> = Vec::with_capacity(2 * lines.len());
    for k in 0..lines.len() {
        let (from, to) = ends(k);
        if to - from > SHARED {
            events.push((from, true, k));
            events.push((to - SHARED, false, k));
        }
    }
    events.sort_unstable_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)).then(a.2.cmp(&b.2)));
    let mut under_way: Vec<usize> = Vec::new();
    // The nearer of two, and the other.
    let mut pairs: Vec<(u32, u32)> = Vec::new();
    for (x, begins, k) in events {
        if begins {
            let to = ends(k).1;
            // In the middle of what both share: at their ends one may touch the other.
            let nearer = |other: &usize| {
                let middle = (x + to.min(ends(*other).1)) / 2.0;
                height(lines[*other], middle) < height(lines[k], middle)
            };
            let at = under_way.partition_point(nearer);
            if at > 0 {
                pairs.push((under_way[at - 1] as u32, k as u32));
            }
            if at < under_way.len() {
                pairs.push((k as u32, under_way[at] as u32));
            }
            under_way.insert(at, k);
        } else if let Some(at) = under_way.iter().position(|other| *other == k) {
            under_way.remove(at);
            if at > 0 && at < under_way.len() {
                pairs.push((under_way[at - 1] as u32, under_way[at] as u32));
            }
        }
    }
    sorted(lines.len(), &mut pairs)
}

/// Numbers below `count`, the first of each pair before the second, else from small to great.
fn sorted(count: usize, pairs: &mut Vec<(u32, u32)>) -> Vec<usize> {
    // Most often the order is right as it comes.
    if pairs.iter().all(|(before, after)| before < after) {
        return (0..count).collect();
    }
    pairs.sort_unstable();
    pairs.dedup();
    let mut waits = vec![0u32; count];
    // Where the pairs of each number begin.
    let mut begins = vec![0usize; count + 1];
    for (before, after) in &*pairs {
        waits[*after as usize] += 1;
        begins[*before as usize + 1] += 1;
    }
    for k in 0..count {
        begins[k + 1] += begins[k];
    }
    let mut free: BinaryHeap<Reverse<usize>> = (0..count).filter(|k| waits[*k] == 0).map(Reverse).collect();
    let mut done = vec![false; count];
    let mut out = Vec::with_capacity(count);
    let mut first_left = 0;
    while out.len() < count {
        let next = match free.pop() {
            Some(Reverse(k)) => k,
            None => {
                // Only where lines cross.
                while done[first_left] {
                    first_left += 1;
                }
                first_left
            }
        };
        if core::mem::replace(&mut done[next], true) {
            continue;
        }
        out.push(next);
        for (_, after) in &pairs[begins[next]..begins[next + 1]] {
            let waiting = &mut waits[*after as usize];
            *waiting = waiting.saturating_sub(1);
            if *waiting == 0 && !done[*after as usize] {
                free.push(Reverse(*after as usize));
            }
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_short_line_before_a_long_slanting_one_comes_first_though_the_other_is_nearer_in_the_mean() {
        let long = [(0.0, 0.0), (100.0, 100.0)];
        let before = [(90.0, 80.0), (99.0, 80.0)];
        let behind = [(1.0, 10.0), (9.0, 12.0)];
        assert_eq!(near_first(&[&long, &before, &behind]), [1, 0, 2]);
        assert_eq!(near_first(&[&behind, &long, &before]), [2, 1, 0]);
    }

    #[test]
    fn lines_that_share_nothing_keep_their_order_and_crossing_ones_are_all_there() {
        let (a, b) = ([(0.0, 5.0), (1.0, 5.0)], [(1.0, 0.0), (2.0, 0.0)]);
        assert_eq!(near_first(&[&a, &b]), [0, 1]);
        // Three in a ring: each stands before the next where they share x first, by crossing.
        let rings: [[Point; 2]; 3] =
            [[(0.0, 0.0), (10.0, 10.0)], [(0.0, 5.0), (10.0, 5.0)], [(0.0, 10.0), (10.0, 0.0)]];
        let mut order = near_first(&[&rings[0], &rings[1], &rings[2]]);
        order.sort_unstable();
        assert_eq!(order, [0, 1, 2]);
        assert_eq!(sorted(3, &mut vec![(0, 1), (1, 2), (2, 0)]), [0, 1, 2]);
    }

    /// Drawn lines that do not cross, every pair looked at by itself.
    #[test]
    fn every_pair_of_many_lines_stands_in_its_order() {
        let mut state = 7u32;
        let mut draw = |most: f64| {
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            f64::from(state >> 8) / f64::from(1u32 << 24) * most
        };
        // All along curves that are shifted copies of one, so that none crosses another.
        let mut lines: Vec<Vec<Point>> = Vec::new();
        for _ in 0..300 {
            let (from, long, up) = (draw(900.0), 1.0 + draw(160.0), draw(500.0));
            let place = |k: u32| {
                let x = from + long * f64::from(k) / 8.0;
                (x, up + 300.0 * libm::sin(x / 200.0))
            };
            lines.push((0..=8).map(place).collect());
        }
        let all: Vec<&[Point]> = lines.iter().map(Vec::as_slice).collect();
        let order = near_first(&all);
        let mut compared = 0;
        for (at, k) in order.iter().enumerate() {
            for other in &order[at + 1..] {
                let (a, b) = (&lines[*k], &lines[*other]);
                let (from, to) = (a[0].0.max(b[0].0), a[8].0.min(b[8].0));
                if to - from > 1e-3 {
                    compared += 1;
                    let x = (from + to) / 2.0;
                    // Chords of one curve parted elsewhere differ by less than 0.3.
                    assert!(height(a, x) < height(b, x) + 0.3, "{k} {other}");
                }
            }
        }
        assert!(compared > 3000, "{compared}");
    }
}
