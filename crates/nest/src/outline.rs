//! Part outlines as convex pieces for the search.
//!
//! In: a ring with true arcs. Out: convex polygons, counter-clockwise, that together cover the solid.
//! Always true: the pieces cover the whole solid and stray outside it by no more than the tolerance and the
//! small notches that were filled; what cannot be cut into pieces is covered by its convex hull. The search
//! works on these; what it finds is judged on the true arcs.

use turnleaf_geom::{Ring, Seg, Vec2, trig};

/// A notch is filled for the search when it is smaller than this part of the outline's area. Larger: parts no
/// longer interlock; smaller: many more pieces, and a slower search, for room no other part can use.
const NOTCH: f64 = 1e-3;

/// A polygon around the ring's solid, counter-clockwise, nowhere farther from it than `tolerance` mm.
pub fn around(ring: &Ring, tolerance: f64) -> Vec<Vec2> {
    let ring = if ring.area() < 0.0 { ring.reversed() } else { ring.clone() };
    let mut out = Vec::new();
    for seg in ring.segs() {
        out.push(seg.start());
        let Seg::Arc(arc) = seg else { continue };
        if arc.sweep > 0.0 {
            // Tangents, so that the polygon lies outside the arc.
            let step = 2.0 * trig::acos(arc.radius / (arc.radius + tolerance));
            let count = ((arc.sweep / step).ceil() as usize).clamp(2, 360);
            let far = arc.radius / trig::cos(arc.sweep / (2 * count) as f64);
            for i in 0..count {
                let angle = arc.start + arc.sweep * (i as f64 + 0.5) / count as f64;
                out.push(arc.centre + Vec2::polar(far, angle));
            }
        } else {
            // Chords of a hollow arc lie outside the solid.
            let step = 2.0 * trig::acos(1.0 - tolerance / arc.radius);
            let count = ((arc.sweep.abs() / step).ceil() as usize).clamp(1, 360);
            out.extend((1..count).map(|i| arc.at(i as f64 / count as f64)));
        }
    }
    out
}

/// The solid of a ring as convex pieces, counter-clockwise.
pub fn pieces(ring: &Ring, tolerance: f64) -> Vec<Vec<Vec2>> {
    let mut polygon = around(ring, tolerance);
    simplify(&mut polygon);
    let area = area(&polygon);
    let round = hull(&polygon);
    if self::area(&round) <= area * (1.0 + 1e-3) {
        return vec![round];
    }
    if let Some(triangles) = triangles(&polygon) {
        let sum: f64 = triangles.iter().map(|t| self::area(t)).sum();
        if (sum - area).abs() <= 1e-6 * area {
            return merged(triangles);
        }
    }
    vec![round]
}

/// Signed area.
pub fn area(points: &[Vec2]) -> f64 {
    let n = points.len();
    (0..n).map(|i| points[i].cross(points[(i + 1) % n])).sum::<f64>() / 2.0
}

/// Leaves out corners that do not matter and fills small notches; the solid never shrinks.
fn simplify(points: &mut Vec<Vec2>) {
    let whole = area(points).abs();
    let size = whole.sqrt();
    while points.len() > 3 {
        let n = points.len();
        let mut best: Option<(f64, usize)> = None;
        for i in 0..n {
            let (a, b, c) = (points[(i + n - 1) % n], points[i], points[(i + 1) % n]);
            let turn = (b - a).cross(c - b) / 2.0;
            let flat = a.dist(b) < 1e-9 * size || turn.abs() < 1e-9 * whole;
            // Left turns are corners of the solid and stay; right turns are notches.
            if !flat && (turn > 0.0 || -turn > NOTCH * whole || !clear(points, i)) {
                continue;
            }
            if best.is_none_or(|(least, _)| turn.abs() < least) {
                best = Some((turn.abs(), i));
            }
        }
        let Some((_, i)) = best else { return };
        points.remove(i);
    }
}

/// Whether no other corner lies in the triangle of corner `i` and its neighbours, borders included.
fn clear(points: &[Vec2], i: usize) -> bool {
    let n = points.len();
    let (a, b, c) = (points[(i + n - 1) % n], points[i], points[(i + 1) % n]);
    let side = |p: Vec2, q: Vec2, r: Vec2| (q - p).cross(r - p);
    let sign = side(a, b, c).signum();
    points.iter().all(|&p| {
        let corner = p == a || p == b || p == c;
        corner || side(a, b, p) * sign < 0.0 || side(b, c, p) * sign < 0.0 || side(c, a, p) * sign < 0.0
    })
}

/// Cuts ears off until three corners remain. None when the outline is not simple.
fn triangles(points: &[Vec2]) -> Option<Vec<Vec<Vec2>>> {
    let mut rest = points.to_vec();
    let mut out = Vec::new();
    while rest.len() > 3 {
        let n = rest.len();
        let mut best: Option<(f64, usize)> = None;
        for i in 0..n {
            let (a, b, c) = (rest[(i + n - 1) % n], rest[i], rest[(i + 1) % n]);
            if (b - a).cross(c - b) <= 0.0 || !clear(&rest, i) {
                continue;
            }
            // The shortest cut makes the plumpest pieces.
            if best.is_none_or(|(least, _)| a.dist(c) < least) {
                best = Some((a.dist(c), i));
            }
        }
        let (_, i) = best?;
        out.push(vec![rest[(i + n - 1) % n], rest[i], rest[(i + 1) % n]]);
        rest.remove(i);
    }
    out.push(rest);
    Some(out)
}

/// Joins pieces along common edges as long as they stay convex.
fn merged(mut pieces: Vec<Vec<Vec2>>) -> Vec<Vec<Vec2>> {
    'again: loop {
        for i in 0..pieces.len() {
            for j in i + 1..pieces.len() {
                if let Some(one) = joined(&pieces[i], &pieces[j]) {
                    pieces[i] = one;
                    pieces.remove(j);
                    continue 'again;
                }
            }
        }
        return pieces;
    }
}

/// Two pieces as one if they share an edge and the whole is convex.
fn joined(p: &[Vec2], q: &[Vec2]) -> Option<Vec<Vec2>> {
    let (n, m) = (p.len(), q.len());
    for i in 0..n {
        let (a, b) = (p[i], p[(i + 1) % n]);
        let Some(j) = (0..m).find(|&j| q[j] == b && q[(j + 1) % m] == a) else { continue };
        // Round p from b to a, then round q from after a to before b.
        let mut one: Vec<Vec2> = (0..n).map(|k| p[(i + 1 + k) % n]).collect();
        one.extend((2..m).map(|k| q[(j + k) % m]));
        return convex(&one).then_some(one);
    }
    None
}

fn convex(points: &[Vec2]) -> bool {
    let n = points.len();
    (0..n).all(|i| {
        let (a, b, c) = (points[i], points[(i + 1) % n], points[(i + 2) % n]);
        // Straight within rounding counts as convex.
        (b - a).cross(c - b) >= -1e-10 * a.dist(b) * b.dist(c)
    })
}

/// The convex hull, counter-clockwise.
pub fn hull(points: &[Vec2]) -> Vec<Vec2> {
    let mut sorted = points.to_vec();
    sorted.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    let mut out: Vec<Vec2> = Vec::new();
    for pass in 0..2 {
        let floor = out.len().max(1);
        let walk: Box<dyn Iterator<Item = &Vec2>> =
            if pass == 0 { Box::new(sorted.iter()) } else { Box::new(sorted.iter().rev().skip(1)) };
        for &p in walk {
            while out.len() > floor
                && (out[out.len() - 1] - out[out.len() - 2]).cross(p - out[out.len() - 1]) <= 0.0
            {
                out.pop();
            }
            out.push(p);
        }
    }
    out.pop();
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use turnleaf_geom::vec2::v;

    #[test]
    fn a_circle_is_covered_by_one_piece_that_strays_by_no_more_than_asked() {
        let got = pieces(&Ring::circle(v(5.0, 5.0), 100.0), 0.5);
        assert_eq!(got.len(), 1);
        let far = got[0].iter().map(|p| p.dist(v(5.0, 5.0))).fold(0.0, f64::max);
        assert!(far > 100.0 && far <= 100.5 + 1e-9, "{far}");
        // Area of a polygon around a circle is n·r²·tan(π/n), more than π·r².
        assert!(area(&got[0]) > core::f64::consts::PI * 1e4);
    }

    #[test]
    fn a_cross_is_cut_into_pieces_of_the_same_area() {
        let p =
            [(2.0, 0.0), (4.0, 0.0), (4.0, 2.0), (6.0, 2.0), (6.0, 4.0), (4.0, 4.0), (4.0, 6.0), (2.0, 6.0)];
        let q = [(2.0, 4.0), (0.0, 4.0), (0.0, 2.0), (2.0, 2.0)];
        let points: Vec<Vec2> = p.iter().chain(&q).map(|&(x, y)| v(x, y)).collect();
        let got = pieces(&Ring::polygon(&points), 0.1);
        assert!(got.len() <= 5 && got.iter().all(|one| convex(one)), "{got:?}");
        assert!((got.iter().map(|one| area(one)).sum::<f64>() - 20.0).abs() < 1e-9);
    }

    #[test]
    fn a_small_notch_is_filled_and_a_large_one_kept() {
        let notched = |w: f64| {
            let p = [
                (0.0, 0.0),
                (100.0, 0.0),
                (100.0, 100.0),
                (50.0 + w, 100.0),
                (50.0, 100.0 - w),
                (50.0 - w, 100.0),
            ];
            let mut points: Vec<Vec2> = p.iter().map(|&(x, y)| v(x, y)).collect();
            points.push(v(0.0, 100.0));
            pieces(&Ring::polygon(&points), 0.1).len()
        };
        assert_eq!(notched(2.0), 1);
        assert!(notched(30.0) > 1);
    }

    #[test]
    fn the_hull_of_a_square_with_points_inside_is_the_square() {
        // The third-last lies so that the upper chain must drop it.
        let points =
            [v(0.0, 0.0), v(1.0, 1.0), v(2.0, 0.0), v(2.0, 2.0), v(1.9, 1.95), v(1.0, 0.5), v(0.0, 2.0)];
        assert!((area(&hull(&points)) - 4.0).abs() < 1e-12);
        assert_eq!(hull(&points).len(), 4);
    }
}
