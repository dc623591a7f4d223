//! Hatching of what is cut through.
//!
//! In: a rectangle on the screen, mm, and its level. Out: lines at 45° (ISO 128-50) inside it.
//! Always true: neighbouring levels lean to opposite sides; lines stand at fixed places, so that a piece cut at several
//! heights is hatched as one.

use crate::Point;

/// Distance of hatching lines along the cut, mm: some eight dots of a screen for a table as wide as its view.
const HATCH: f64 = 14.0;

/// Lines at 45° across a cut from corner to corner (ISO 128-50), the other way from one level to the next.
pub fn hatch(a: Point, c: Point, level: usize) -> Vec<Vec<Point>> {
    let (left, right) = (a.0.min(c.0), a.0.max(c.0));
    let (top, bottom) = (a.1.min(c.1), a.1.max(c.1));
    let lean = if level.is_multiple_of(2) { 1.0 } else { -1.0 };
    // A line is where x + lean · y is a multiple of the distance.
    let ends = [top, bottom].map(|y| lean * y);
    let first = ((left + ends[0].min(ends[1])) / HATCH).ceil() as i64;
    let last = ((right + ends[0].max(ends[1])) / HATCH).floor() as i64;
    let line = |k: i64| {
        let at = |x: f64| (k as f64 * HATCH - x) * lean;
        let (from, to) = (at(left).min(at(right)).max(top), at(left).max(at(right)).min(bottom));
        (from < to).then(|| [from, to].map(|y| (k as f64 * HATCH - lean * y, y)).to_vec())
    };
    (first..=last).filter_map(line).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_run_at_45_degrees_inside_what_is_cut_and_the_other_way_in_the_next_level() {
        let (l, t, r, b) = (-100.0, -31.5, 100.0, 18.0);
        let slope = |level| {
            let lines = hatch((l, b), (r, t), level);
            // A line crosses the middle every 14 mm of the 200, and some only a corner.
            assert!((14..=20).contains(&lines.len()), "{} lines", lines.len());
            for (x, y) in lines.iter().flatten() {
                assert!(*x >= l - 1e-9 && *x <= r + 1e-9 && *y >= t - 1e-9 && *y <= b + 1e-9, "{x}, {y}");
            }
            let (a, b) = (lines[5][0], lines[5][1]);
            (b.0 - a.0) / (b.1 - a.1)
        };
        assert!((slope(0) + 1.0).abs() < 1e-9 && (slope(1) - 1.0).abs() < 1e-9);
        assert_eq!(hatch((0.0, 0.0), (0.0, 10.0), 0), Vec::<Vec<Point>>::new(), "nothing is cut");
    }
}
