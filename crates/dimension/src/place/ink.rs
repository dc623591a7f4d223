//! What is already on the paper, and what it costs to put something else there.
//!
//! In: boxes of text and lines as they are placed. Out: costs of candidates.
//! Always true: paper mm, y down; a candidate that costs [`FORBIDDEN`] or more covers text or lays text on
//! a dimension line, and is taken only when there is nothing better, which is then reported.

use turnleaf_geom::trig;
use turnleaf_page::{Pt, pt};

/// A line that is on the paper, by what it costs to cross it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// A visible edge.
    Outline,
    /// A hidden edge.
    Hidden,
    /// A centre line.
    Centre,
    /// A dimension line or arrow.
    Dimension,
    /// An extension line.
    Extension,
    /// A leader.
    Leader,
}

/// Cost of covering text: more than any detour can save.
pub const FORBIDDEN: f64 = 1e4;
/// Clear space kept round text, mm. Larger keeps sheets airier but places less.
pub const CLEAR: f64 = 0.7;

/// Four corners, in order.
pub type Quad = [Pt; 4];

/// Everything on the paper so far.
#[derive(Clone, Debug, Default)]
pub struct Ink {
    texts: Vec<Quad>,
    lines: Vec<(Pt, Pt, Kind)>,
}

fn sub(a: Pt, b: Pt) -> Pt {
    pt(a.x - b.x, a.y - b.y)
}
fn dot(a: Pt, b: Pt) -> f64 {
    a.x * b.x + a.y * b.y
}
fn cross(a: Pt, b: Pt) -> f64 {
    a.x * b.y - a.y * b.x
}

/// The box of a line of text: from `CLEAR` below the baseline to `CLEAR` above the capitals.
/// `at` is the middle of the baseline, `turn` in degrees counter-clockwise on paper.
pub fn text_quad(at: Pt, width: f64, cap: f64, turn: f64) -> Quad {
    let (s, c) = trig::sin_cos(trig::rad(turn));
    let half = width / 2.0 + CLEAR;
    let place = |u: f64, w: f64| pt(at.x + u * c - w * s, at.y - u * s - w * c);
    [
        place(-half, -CLEAR - 0.3 * cap),
        place(half, -CLEAR - 0.3 * cap),
        place(half, cap + CLEAR),
        place(-half, cap + CLEAR),
    ]
}

/// Whether two convex quads overlap.
pub fn quads_meet(a: &Quad, b: &Quad) -> bool {
    for (p, q) in [(a, b), (b, a)] {
        for i in 0..4 {
            let edge = sub(p[(i + 1) % 4], p[i]);
            let axis = pt(-edge.y, edge.x);
            let span = |q: &Quad| {
                q.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), r| {
                    let d = dot(*r, axis);
                    (lo.min(d), hi.max(d))
                })
            };
            let ((alo, ahi), (blo, bhi)) = (span(p), span(q));
            if ahi <= blo || bhi <= alo {
                return false;
            }
        }
    }
    true
}

/// Whether a segment enters a convex quad.
pub fn line_meets(a: Pt, b: Pt, q: &Quad) -> bool {
    // Liang and Barsky's clipping against the four half planes, whichever way the quad runs.
    let area: f64 = (0..4).map(|i| cross(q[i], q[(i + 1) % 4])).sum();
    let (mut t0, mut t1) = (0.0f64, 1.0f64);
    let d = sub(b, a);
    for i in 0..4 {
        let e = sub(q[(i + 1) % 4], q[i]);
        let n = if area >= 0.0 { pt(-e.y, e.x) } else { pt(e.y, -e.x) };
        let (from, along) = (dot(sub(a, q[i]), n), dot(d, n));
        if along == 0.0 {
            if from <= 0.0 {
                return false;
            }
        } else {
            let t = -from / along;
            if along > 0.0 {
                t0 = t0.max(t);
            } else {
                t1 = t1.min(t);
            }
        }
    }
    t0 < t1
}

/// Whether two segments cross.
pub fn lines_cross(a: Pt, b: Pt, c: Pt, d: Pt) -> bool {
    let side = |p: Pt, q: Pt, r: Pt| cross(sub(q, p), sub(r, p));
    side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0
}

impl Ink {
    /// Adds a text box.
    pub fn text(&mut self, q: Quad) {
        self.texts.push(q);
    }
    /// Adds a line.
    pub fn line(&mut self, a: Pt, b: Pt, kind: Kind) {
        self.lines.push((a, b, kind));
    }
    /// Text boxes so far.
    pub fn texts(&self) -> &[Quad] {
        &self.texts
    }
    /// What it costs to put text here.
    pub fn text_cost(&self, q: &Quad) -> f64 {
        let covered = self.texts.iter().filter(|t| quads_meet(t, q)).count() as f64 * FORBIDDEN;
        let crossed: f64 = self
            .lines
            .iter()
            .filter(|l| line_meets(l.0, l.1, q))
            .map(|l| match l.2 {
                Kind::Outline => 60.0,
                Kind::Hidden => 20.0,
                Kind::Centre => 8.0,
                Kind::Dimension | Kind::Extension | Kind::Leader => FORBIDDEN,
            })
            .sum();
        covered + crossed
    }
    /// What it costs to draw a leader here.
    pub fn line_cost(&self, a: Pt, b: Pt) -> f64 {
        let covered = self.texts.iter().filter(|t| line_meets(a, b, t)).count() as f64 * FORBIDDEN;
        let crossed: f64 = self
            .lines
            .iter()
            .filter(|l| lines_cross(a, b, l.0, l.1))
            .map(|l| match l.2 {
                Kind::Dimension | Kind::Leader => 40.0,
                Kind::Extension => 12.0,
                Kind::Outline => 4.0,
                Kind::Hidden | Kind::Centre => 2.0,
            })
            .sum();
        covered + crossed
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn boxes_and_lines_meet_only_when_they_do() {
        let a = text_quad(pt(0.0, 0.0), 10.0, 2.5, 0.0);
        let level = text_quad(pt(13.0, 0.0), 10.0, 2.5, 0.0);
        let upright = text_quad(pt(7.0, 0.0), 10.0, 2.5, 90.0);
        assert!(!quads_meet(&a, &level) && quads_meet(&a, &upright));
        assert!(line_meets(pt(-20.0, -1.0), pt(20.0, -1.0), &a));
        assert!(!line_meets(pt(-20.0, 3.0), pt(20.0, 3.0), &a));
        assert!(!line_meets(pt(6.5, -1.0), pt(20.0, -1.0), &a), "ends beside it");
        assert!(line_meets(pt(0.0, -1.0), pt(0.1, -1.1), &a), "wholly inside");
        assert!(lines_cross(pt(0.0, 0.0), pt(2.0, 2.0), pt(0.0, 2.0), pt(2.0, 0.0)));
        assert!(!lines_cross(pt(0.0, 0.0), pt(2.0, 2.0), pt(3.0, 0.0), pt(3.0, 9.0)));
    }
}
