//! Where one part may not stand beside another: no-fit polygons, as overlapping convex pieces.
//!
//! In: two parts' convex pieces and the distance they must keep. Out: a [`Nofit`]: the places of the second part's
//! origin, seen from the first's, at which they would be too near, and the borders of that area.
//! Always true: a place that is inside no piece by more than the slack keeps the asked distance between the pieces;
//! corners of the area are a little larger than round ones would be, never smaller.

use turnleaf_geom::{Vec2, trig, vec2::v};

/// A convex area as half planes: inside is `n·p < c` for all of them.
#[derive(Clone, Debug)]
pub struct Convex {
    points: Vec<Vec2>,
    sides: Vec<(Vec2, f64)>,
    lo: Vec2,
    hi: Vec2,
}

/// The no-fit area of two parts.
#[derive(Clone, Debug)]
pub struct Nofit {
    /// Convex pieces; they overlap.
    pub pieces: Vec<Convex>,
    /// Stretches of the pieces' edges that lie on the border of the whole.
    pub borders: Vec<(Vec2, Vec2)>,
    /// Smallest box: corners.
    pub lo: Vec2,
    /// Smallest box: corners.
    pub hi: Vec2,
}

/// Smallest box of points.
pub fn bounds(points: &[Vec2]) -> (Vec2, Vec2) {
    let far = f64::INFINITY;
    points.iter().fold((v(far, far), v(-far, -far)), |(lo, hi), p| {
        (v(lo.x.min(p.x), lo.y.min(p.y)), v(hi.x.max(p.x), hi.y.max(p.y)))
    })
}

/// A stretch from end to end.
const WHOLE: (f64, f64) = (0.0, 1.0);

/// Whether two boxes have no room in common.
#[inline]
fn apart(p: (Vec2, Vec2), q: (Vec2, Vec2)) -> bool {
    p.0.x >= q.1.x || p.1.x <= q.0.x || p.0.y >= q.1.y || p.1.y <= q.0.y
}

impl Convex {
    fn new(points: Vec<Vec2>) -> Convex {
        let n = points.len();
        let sides = (0..n)
            .filter_map(|i| {
                let d = points[(i + 1) % n] - points[i];
                let length = d.norm();
                (length > 0.0).then(|| {
                    let normal = v(d.y / length, -d.x / length);
                    (normal, normal.dot(points[i]))
                })
            })
            .collect();
        let (lo, hi) = bounds(&points);
        Convex { points, sides, lo, hi }
    }

    /// How deep a point lies inside; 0 when it does not by more than `slack`.
    #[inline]
    fn depth(&self, p: Vec2, slack: f64) -> f64 {
        if p.x <= self.lo.x || p.x >= self.hi.x || p.y <= self.lo.y || p.y >= self.hi.y {
            return 0.0;
        }
        let mut least = f64::INFINITY;
        for (n, c) in &self.sides {
            let d = c - n.dot(p);
            if d <= slack {
                return 0.0;
            }
            least = least.min(d);
        }
        least
    }

    /// The stretch of a + t·d, t in [0, 1], that lies inside by more than `slack`.
    #[inline]
    fn inside(&self, a: Vec2, d: Vec2, slack: f64) -> Option<(f64, f64)> {
        let (mut from, mut to) = (0.0f64, 1.0f64);
        for (n, c) in &self.sides {
            let room = c - slack - n.dot(a);
            let rate = n.dot(d);
            // Outside all along; inside all along: only a stretch that crosses the line is divided.
            let end = room - rate;
            if room <= 0.0 && end <= 0.0 {
                return None;
            }
            if room > 0.0 && end > 0.0 {
                continue;
            }
            let t = room / rate;
            if rate > 0.0 {
                to = to.min(t)
            } else {
                from = from.max(t)
            }
            if from >= to {
                return None;
            }
        }
        Some((from, to))
    }
}

impl Nofit {
    /// The area for two parts given as convex pieces that must keep `distance`.
    pub fn new(first: &[Vec<Vec2>], second: &[Vec<Vec2>], distance: f64, slack: f64) -> Nofit {
        let mut pieces = Vec::with_capacity(first.len() * second.len());
        for a in first {
            for b in second {
                let b: Vec<Vec2> = b.iter().map(|&p| -p).collect();
                pieces.push(Convex::new(grown(&sum(a, &b), distance)));
            }
        }
        let mut borders = Vec::new();
        let mut blocked = Vec::new();
        for (i, piece) in pieces.iter().enumerate() {
            let n = piece.points.len();
            // Only pieces whose boxes meet this one's can hide its edges.
            let near: Vec<&Convex> = (pieces.iter().enumerate())
                .filter(|(j, other)| *j != i && !apart((piece.lo, piece.hi), (other.lo, other.hi)))
                .map(|(_, other)| other)
                .collect();
            // The piece that hid the edge before often hides the next one too.
            let mut last = 0;
            for k in 0..n {
                let (a, b) = (piece.points[k], piece.points[(k + 1) % n]);
                let edge = (v(a.x.min(b.x), a.y.min(b.y)), v(a.x.max(b.x), a.y.max(b.y)));
                blocked.clear();
                let mut hidden = false;
                for step in 0..near.len() {
                    let j = (last + step) % near.len();
                    let other = near[j];
                    if apart(edge, (other.lo, other.hi)) {
                        continue;
                    }
                    if let Some(stretch) = other.inside(a, b - a, slack) {
                        if stretch == WHOLE {
                            (hidden, last) = (true, j);
                            break;
                        }
                        blocked.push(stretch);
                    }
                }
                if !hidden {
                    gaps(&mut blocked, |from, to| borders.push((a + (b - a) * from, a + (b - a) * to)));
                }
            }
        }
        let corners: Vec<Vec2> = pieces.iter().flat_map(|p| [p.lo, p.hi]).collect();
        let (lo, hi) = bounds(&corners);
        Nofit { pieces, borders, lo, hi }
    }

    /// How deep a place lies in the area (in its deepest piece); 0 where the parts keep their distance.
    #[inline]
    pub fn depth(&self, p: Vec2, slack: f64) -> f64 {
        if p.x <= self.lo.x || p.x >= self.hi.x || p.y <= self.lo.y || p.y >= self.hi.y {
            return 0.0;
        }
        self.pieces.iter().fold(0.0, |deepest: f64, piece| deepest.max(piece.depth(p, slack)))
    }

    /// Adds the stretches of a + t·d that are forbidden; true as soon as all of it is.
    #[inline]
    pub fn block(&self, a: Vec2, d: Vec2, slack: f64, blocked: &mut Vec<(f64, f64)>) -> bool {
        let b = a + d;
        let (lo, hi) = (v(a.x.min(b.x), a.y.min(b.y)), v(a.x.max(b.x), a.y.max(b.y)));
        if apart((lo, hi), (self.lo, self.hi)) {
            return false;
        }
        for piece in &self.pieces {
            if !apart((lo, hi), (piece.lo, piece.hi))
                && let Some(stretch) = piece.inside(a, d, slack)
            {
                blocked.push(stretch);
                if stretch == WHOLE {
                    return true;
                }
            }
        }
        false
    }
}

/// What blocked stretches leave of [0, 1]; stretches are sorted on the way.
#[inline]
pub fn gaps(blocked: &mut [(f64, f64)], mut free: impl FnMut(f64, f64)) {
    blocked.sort_unstable_by(|p, q| p.0.total_cmp(&q.0));
    let mut end = 0.0;
    let mut any = false;
    for &(from, to) in blocked.iter() {
        // Two stretches that just touch leave one place between them; before the very first there is none.
        if from > end || (from == end && any) {
            free(end, from);
        }
        any = true;
        end = to.max(end);
    }
    if end < 1.0 {
        free(end, 1.0);
    }
}

/// The Minkowski sum of two convex polygons, counter-clockwise.
fn sum(p: &[Vec2], q: &[Vec2]) -> Vec<Vec2> {
    let lowest = |s: &[Vec2]| {
        (0..s.len()).min_by(|&i, &j| s[i].y.total_cmp(&s[j].y).then(s[i].x.total_cmp(&s[j].x))).unwrap_or(0)
    };
    let (n, m) = (p.len(), q.len());
    let (i0, j0) = (lowest(p), lowest(q));
    let (mut i, mut j) = (0, 0);
    let mut out: Vec<Vec2> = Vec::with_capacity(n + m);
    while i < n || j < m {
        out.push(p[(i0 + i) % n] + q[(j0 + j) % m]);
        let e = p[(i0 + i + 1) % n] - p[(i0 + i) % n];
        let f = q[(j0 + j + 1) % m] - q[(j0 + j) % m];
        let turn = e.cross(f);
        // Parallel edges go together.
        if i < n && j < m && turn.abs() <= 1e-12 * e.norm() * f.norm() {
            i += 1;
            j += 1;
        } else if j >= m || (i < n && turn > 0.0) {
            i += 1;
        } else {
            j += 1;
        }
    }
    out
}

/// A convex polygon grown by `d` on all sides; sharp corners are cut by tangents of the round they would have.
fn grown(points: &[Vec2], d: f64) -> Vec<Vec2> {
    /// Most turn a corner may have before it is cut: at 45° it sticks out by 8 % of `d`.
    const TURN: f64 = core::f64::consts::FRAC_PI_4;
    let n = points.len();
    let normal = |i: usize| {
        let e = (points[(i + 1) % n] - points[i]).unit();
        v(e.y, -e.x)
    };
    // Lines n·p = c in order of direction.
    let mut lines: Vec<(Vec2, f64)> = Vec::new();
    for i in 0..n {
        let (here, next) = (normal(i), normal((i + 1) % n));
        let corner = points[(i + 1) % n];
        lines.push((here, here.dot(corner) + d));
        let turn = trig::atan2(here.cross(next), here.dot(next)).max(0.0);
        let cuts = (turn / TURN).ceil() as usize;
        for k in 1..cuts {
            let n = here.rot(turn * k as f64 / cuts as f64);
            lines.push((n, n.dot(corner) + d));
        }
    }
    let m = lines.len();
    let mut out = Vec::with_capacity(m);
    for k in 0..m {
        let ((a, c), (b, e)) = (lines[k], lines[(k + 1) % m]);
        let cross = a.cross(b);
        if cross.abs() > 1e-12 {
            out.push(v((c * b.y - e * a.y) / cross, (e * a.x - c * b.x) / cross));
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn square(side: f64) -> Vec<Vec2> {
        vec![v(0.0, 0.0), v(side, 0.0), v(side, side), v(0.0, side)]
    }

    #[test]
    fn two_squares_may_not_meet_in_a_square_of_both_sides_and_the_distance() {
        let area = Nofit::new(&[square(4.0)], &[square(2.0)], 1.0, 1e-9);
        assert!((area.lo - v(-3.0, -3.0)).norm() < 1e-9 && (area.hi - v(5.0, 5.0)).norm() < 1e-9);
        assert!((area.depth(v(1.0, 1.0), 1e-9) - 4.0).abs() < 1e-9);
        assert_eq!(area.depth(v(5.0, 1.0), 1e-9), 0.0);
        // The corner is cut to about the round one: the farthest point is between d and 1.09 d away.
        let corner = area.pieces[0].points.iter().map(|p| p.dist(v(4.0, 4.0))).fold(f64::INFINITY, f64::min);
        assert!((1.0..1.09).contains(&corner), "{corner}");
    }

    #[test]
    fn gaps_are_what_stretches_leave() {
        let mut found = Vec::new();
        gaps(&mut [(0.5, 0.6), (0.0, 0.2), (0.1, 0.3)], |a, b| found.push((a, b)));
        assert_eq!(found, [(0.3, 0.5), (0.6, 1.0)]);
        found.clear();
        gaps(&mut [(0.0, 1.0)], |a, b| found.push((a, b)));
        assert!(found.is_empty());
        gaps(&mut [(0.0, 0.4), (0.4, 1.0)], |a, b| found.push((a, b)));
        assert_eq!(found, [(0.4, 0.4)], "a place that fits exactly is a place");
    }
}
