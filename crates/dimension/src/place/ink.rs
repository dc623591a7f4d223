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

/// Descent of the letters over the height of capitals (Open Sans: 600 / 1462).
const DESCENT: f64 = 600.0 / 1462.0;

/// Four corners, in order.
pub type Quad = [Pt; 4];

/// Everything on the paper so far.
#[derive(Clone, Debug, Default)]
pub struct Ink {
    /// Boxes of text, each with the upright box round it.
    texts: Vec<(Quad, (Pt, Pt))>,
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

/// A line of text where it stands: `at` is the middle of the baseline, `turn` in degrees counter-clockwise.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Label {
    /// Middle of the baseline.
    pub at: Pt,
    /// Width, mm.
    pub width: f64,
    /// Height of capitals, mm.
    pub cap: f64,
    /// Turn, degrees.
    pub turn: f64,
    /// Whether any sign reaches below the baseline (brackets, tails); capitals and figures do not.
    pub tail: bool,
}

impl Label {
    /// A level label.
    pub fn level(at: Pt, width: f64, cap: f64) -> Label {
        Label { at, width, cap, turn: 0.0, tail: true }
    }
    /// A level label of capitals and figures only.
    pub fn mark(at: Pt, width: f64, cap: f64) -> Label {
        Label { tail: false, ..Label::level(at, width, cap) }
    }
    fn quad(&self, side: f64, below: f64, above: f64) -> Quad {
        let (s, c) = trig::sin_cos(trig::rad(self.turn));
        let half = self.width / 2.0 + side;
        let place = |u: f64, w: f64| pt(self.at.x + u * c - w * s, self.at.y - u * s - w * c);
        [
            place(-half, -below),
            place(half, -below),
            place(half, self.cap + above),
            place(-half, self.cap + above),
        ]
    }
    /// The box that no other text and no dimension line may enter: descenders and some air included.
    pub fn full(&self) -> Quad {
        self.quad(CLEAR, DESCENT * self.cap + 0.1, CLEAR)
    }
    /// The box of the figures themselves with a little air: what edges of the part should not enter.
    pub fn tight(&self) -> Quad {
        self.quad(0.4, if self.tail { 0.36 * self.cap } else { 0.4 }, 0.4)
    }
}

/// How far a point lies from a line, between its ends.
pub fn off(p: Pt, a: Pt, b: Pt) -> f64 {
    let (w, q) = (sub(b, a), sub(p, a));
    let t = if dot(w, w) > 0.0 { (dot(q, w) / dot(w, w)).clamp(0.0, 1.0) } else { 0.0 };
    let rest = sub(q, pt(w.x * t, w.y * t));
    dot(rest, rest).sqrt()
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

/// Lines nearer to one another than this run together, mm. Less: two thin lines are read as one.
const TOGETHER: f64 = 1.2;

/// Whether two segments run along each other: nearly parallel, and one's middle or end nearer than [`TOGETHER`] to the
/// other.
fn run_together(a: Pt, b: Pt, c: Pt, d: Pt) -> bool {
    let (u, w) = (sub(b, a), sub(d, c));
    let (nu, nw) = (dot(u, u).sqrt(), dot(w, w).sqrt());
    if nu < 0.5 || nw < 0.5 || cross(u, w).abs() > 0.15 * nu * nw {
        return false;
    }
    // Distance of points of the one from the line of the other, within its length.
    let near = |p: Pt, c: Pt, w: Pt, n: f64| {
        let q = sub(p, c);
        let t = dot(q, w) / n;
        t > 0.3 && t < n - 0.3 && (cross(w, q) / n).abs() < TOGETHER
    };
    let middle = |p: Pt, q: Pt| pt((p.x + q.x) / 2.0, (p.y + q.y) / 2.0);
    [a, b, middle(a, b)].into_iter().any(|p| near(p, c, w, nw))
        || [c, d, middle(c, d)].into_iter().any(|p| near(p, a, u, nu))
}

/// Whether the boxes round two stretches are apart: the cheap question first.
fn apart(a: Pt, b: Pt, lo: Pt, hi: Pt) -> bool {
    a.x.max(b.x) < lo.x || a.x.min(b.x) > hi.x || a.y.max(b.y) < lo.y || a.y.min(b.y) > hi.y
}

fn around(q: &Quad) -> (Pt, Pt) {
    q.iter().fold((q[0], q[0]), |(lo, hi), p| {
        (pt(lo.x.min(p.x), lo.y.min(p.y)), pt(hi.x.max(p.x), hi.y.max(p.y)))
    })
}

impl Ink {
    /// Adds a line of text.
    pub fn text(&mut self, l: &Label) {
        let quad = l.full();
        self.texts.push((quad, around(&quad)));
    }
    /// Adds a line.
    pub fn line(&mut self, a: Pt, b: Pt, kind: Kind) {
        self.lines.push((a, b, kind));
    }
    /// What it costs to put text here.
    pub fn text_cost(&self, l: &Label) -> f64 {
        let (full, tight) = (l.full(), l.tight());
        let (lo, hi) = around(&full);
        let covered = self.texts.iter().filter(|(t, (tlo, thi))| {
            let beside = thi.x < lo.x || tlo.x > hi.x || thi.y < lo.y || tlo.y > hi.y;
            !beside && quads_meet(t, &full)
        });
        let covered = covered.count() as f64 * FORBIDDEN;
        let mut crossed = 0.0;
        for (a, b, kind) in &self.lines {
            if apart(*a, *b, lo, hi) {
                continue;
            }
            let (quad, cost) = match kind {
                Kind::Outline => (&tight, 200.0),
                Kind::Hidden => (&tight, 20.0),
                Kind::Centre => (&tight, 8.0),
                Kind::Dimension | Kind::Extension | Kind::Leader => (&full, FORBIDDEN),
            };
            if line_meets(*a, *b, quad) {
                crossed += cost;
            }
        }
        covered + crossed
    }
    /// What it costs that an arrow meets another's end, so that both would be read as one line.
    pub fn touch_cost(&self, a: Pt, b: Pt) -> f64 {
        let leaders = self.lines.iter().filter(|l| l.2 == Kind::Leader);
        let near = |l: &&(Pt, Pt, Kind)| [off(a, l.0, l.1), off(b, l.0, l.1), off(l.0, a, b), off(l.1, a, b)];
        leaders.filter(|l| near(l).into_iter().any(|d| d < TOGETHER)).count() as f64 * 30.0
    }
    /// What it costs to draw a leader here.
    pub fn line_cost(&self, a: Pt, b: Pt) -> f64 {
        let lo = pt(a.x.min(b.x) - TOGETHER, a.y.min(b.y) - TOGETHER);
        let hi = pt(a.x.max(b.x) + TOGETHER, a.y.max(b.y) + TOGETHER);
        let covered = self.texts.iter().filter(|(t, (lo, hi))| !apart(a, b, *lo, *hi) && line_meets(a, b, t));
        let covered = covered.count() as f64 * FORBIDDEN;
        let mut crossed = 0.0;
        for (c, d, kind) in &self.lines {
            if apart(*c, *d, lo, hi) {
                continue;
            }
            if run_together(a, b, *c, *d) {
                crossed += match kind {
                    Kind::Dimension | Kind::Leader | Kind::Extension => 50.0,
                    Kind::Outline | Kind::Hidden | Kind::Centre => 15.0,
                };
            }
            if lines_cross(a, b, *c, *d) {
                crossed += match kind {
                    Kind::Dimension | Kind::Leader => 40.0,
                    Kind::Extension => 12.0,
                    Kind::Outline => 4.0,
                    Kind::Hidden | Kind::Centre => 2.0,
                };
            }
        }
        covered + crossed
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn boxes_and_lines_meet_only_when_they_do() {
        let label =
            |x: f64, turn: f64| Label { at: pt(x, 0.0), width: 10.0, cap: 2.5, turn, tail: true }.full();
        let (a, level, upright) = (label(0.0, 0.0), label(13.0, 0.0), label(7.0, 90.0));
        assert!(!quads_meet(&a, &level) && quads_meet(&a, &upright));
        assert!(line_meets(pt(-20.0, -1.0), pt(20.0, -1.0), &a));
        assert!(!line_meets(pt(-20.0, 3.0), pt(20.0, 3.0), &a));
        assert!(!line_meets(pt(6.5, -1.0), pt(20.0, -1.0), &a), "ends beside it");
        assert!(line_meets(pt(0.0, -1.0), pt(0.1, -1.1), &a), "wholly inside");
        assert!(lines_cross(pt(0.0, 0.0), pt(2.0, 2.0), pt(0.0, 2.0), pt(2.0, 0.0)));
        assert!(!lines_cross(pt(0.0, 0.0), pt(2.0, 2.0), pt(3.0, 0.0), pt(3.0, 9.0)));
    }

    #[test]
    fn the_box_of_a_label_holds_the_text_that_is_drawn() {
        let style = super::super::pen::Style::SMALL;
        let words = "R802.8 deep";
        let item = super::super::pen::text(pt(10.0, 20.0), &style, words, 90.0);
        let (lo, hi) = turnleaf_text::bounds(&[item]).expect("drawn");
        let q =
            Label { at: pt(10.0, 20.0), width: style.width(words), cap: style.cap, turn: 90.0, tail: true }
                .full();
        let (a, b) = around(&q);
        assert!(a.x < lo.x && a.y < lo.y && b.x > hi.x && b.y > hi.y, "{a:?} {lo:?} {hi:?} {b:?}");
    }
}
