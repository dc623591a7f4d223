//! Building a part again from what is printed.
//!
//! In: how the drawing looks (which points and circles there are, roughly where), the statements that hold
//! without figures, and the printed figures as text. Out: the unknowns that satisfy them, from several
//! starting guesses.
//! Always true: no true size is used except to draw the rough starting picture, which is distorted before
//! use; the formulas and the solver here are this file's own and share nothing with the choosing of figures.

use crate::rule::{PointId, Rule, VarId};
use crate::sketch::Sketch;
use core::f64::consts::{PI, TAU};
use turnleaf_geom::trig;
use turnleaf_units::{LengthUnit, parse_length};

/// A statement and the value it states (mm or radians).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Statement {
    /// What is measured.
    pub rule: Rule,
    /// What it measures on the part.
    pub value: f64,
}

/// Why a rebuild failed.
#[derive(Clone, Debug, PartialEq)]
pub enum Failure {
    /// A figure could not be read back.
    Unreadable(String),
    /// No shape satisfies the figures from this start.
    NoShape,
    /// Two starts led to different shapes.
    TwoShapes,
}

/// Reads a printed figure back: mm for lengths, radians for angles.
pub fn read(text: &str, angle: bool, unit: LengthUnit) -> Option<f64> {
    let (sign, text) = match text.strip_prefix('\u{2212}') {
        Some(rest) => (-1.0, rest),
        None => (1.0, text),
    };
    if angle {
        let plain = text.strip_suffix('°')?.replace(',', ".");
        return plain.parse::<f64>().ok().map(|d| sign * trig::rad(d));
    }
    // Printed figures have no separators of thousands: a comma is a decimal one.
    parse_length(&text.replace(',', "."), unit).ok().map(|l| sign * l.mm())
}

struct Problem<'a> {
    sketch: &'a Sketch,
    statements: Vec<Statement>,
    /// Unknowns that each statement touches.
    touched: Vec<Vec<usize>>,
    size: f64,
}

impl Problem<'_> {
    fn xy(&self, p: PointId, x: &[f64]) -> (f64, f64) {
        let i = self.sketch.points[p.0].x.0;
        (x[i], x[i + 1])
    }
    /// How far off a statement is, in mm (angles at the part's size).
    fn miss(&self, st: &Statement, x: &[f64]) -> f64 {
        let p = |q: PointId| self.xy(q, x);
        let u = |q: VarId| x[q.0];
        let apart = |a: (f64, f64), b: (f64, f64)| trig::hypot(b.0 - a.0, b.1 - a.1);
        let bearing = |a: (f64, f64), o: (f64, f64)| trig::atan2(a.1 - o.1, a.0 - o.0);
        let wrap = |a: f64| a - (a / TAU).round() * TAU;
        let zero = (0.0, 0.0);
        match st.rule {
            Rule::OffCircle(a, c) => {
                let c = &self.sketch.circles[c.0];
                apart(p(a), p(c.centre)) - u(c.radius) - st.value
            }
            Rule::Distance(a, b) => apart(p(a), p(b)) - st.value,
            Rule::Longer(a, b, c, d) => apart(p(c), p(d)) - apart(p(a), p(b)) - st.value,
            Rule::Heading(a, b) => wrap(bearing(p(b), p(a)) - st.value) * self.size,
            Rule::AlongX(a, b) => p(b).0 - p(a).0 - st.value,
            Rule::AlongY(a, b) => p(b).1 - p(a).1 - st.value,
            Rule::X(a) => p(a).0 - st.value,
            Rule::Y(a) => p(a).1 - st.value,
            Rule::FromOrigin(a) => apart(p(a), zero) - st.value,
            Rule::AsFar(a, b) => apart(p(b), zero) - apart(p(a), zero) - st.value,
            Rule::Bearing(a) => wrap(bearing(p(a), zero) - st.value) * self.size,
            Rule::Turn(a, b) => wrap(bearing(p(b), zero) - bearing(p(a), zero) - st.value) * self.size,
            Rule::Var(q) => u(q) - st.value,
            Rule::Twice(q) => 2.0 * u(q) - st.value,
            Rule::Less(a, b) => u(b) - u(a) - st.value,
            Rule::VarLessDistance(q, a, b) => u(q) - apart(p(a), p(b)) - st.value,
            Rule::VarLessArc(q, a, b, c) => {
                let c = &self.sketch.circles[c.0];
                let turn = wrap(bearing(p(b), p(c.centre)) - bearing(p(a), p(c.centre))).abs();
                u(q) - turn * u(c.radius) - st.value
            }
            Rule::Centred(a, b, c) => u(a) + u(b) - u(c) - st.value,
            Rule::Mean(a, b, c) => u(b) + u(c) - 2.0 * u(a) - st.value,
            Rule::RampSlope(rise, run, foot, head) => {
                // The straight between two circles that it touches on opposite sides.
                let (up, both) = (u(rise) - u(foot) - u(head), u(foot) + u(head));
                let apart = trig::hypot(u(run), up);
                let turn = trig::atan2(up, u(run)) + trig::asin((both / apart).clamp(-1.0, 1.0));
                (turn - st.value) * self.size
            }
            Rule::MidX(a, b, c) => 2.0 * p(a).0 - p(b).0 - p(c).0 - st.value,
            Rule::Halfway(a, b, c) => 2.0 * p(a).1 - p(b).1 - p(c).1 - st.value,
            Rule::MirrorX(a, b) => p(b).0 - p(a).0 - st.value,
            Rule::MirrorY(a, b) => p(b).1 + p(a).1 - st.value,
            Rule::TurnedX(a, b, t) => {
                let r = apart(p(a), zero);
                p(b).0 - r * trig::cos(bearing(p(a), zero) + t) - st.value
            }
            Rule::TurnedY(a, b, t) => {
                let r = apart(p(a), zero);
                p(b).1 - r * trig::sin(bearing(p(a), zero) + t) - st.value
            }
            Rule::Parallel(a, b, c, d) => {
                trig::sin(bearing(p(b), p(a)) - bearing(p(d), p(c))) * self.size - st.value
            }
            Rule::Square(a, b, c, d) => {
                trig::cos(bearing(p(b), p(a)) - bearing(p(d), p(c))) * self.size - st.value
            }
            Rule::Corner(o, a, b) => wrap(bearing(p(b), p(o)) - bearing(p(a), p(o)) - st.value) * self.size,
        }
    }
    /// Unknowns a rule touches.
    fn touches(&self, rule: &Rule) -> Vec<usize> {
        let xs = |q: PointId| {
            let i = self.sketch.points[q.0].x.0;
            [i, i + 1]
        };
        let mut out: Vec<usize> = match *rule {
            Rule::AlongX(a, b) | Rule::MirrorX(a, b) => vec![xs(a)[0], xs(b)[0]],
            Rule::AlongY(a, b) | Rule::MirrorY(a, b) => vec![xs(a)[1], xs(b)[1]],
            Rule::X(a) => vec![xs(a)[0]],
            Rule::Y(a) => vec![xs(a)[1]],
            Rule::MidX(a, b, c) => vec![xs(a)[0], xs(b)[0], xs(c)[0]],
            Rule::Halfway(a, b, c) => vec![xs(a)[1], xs(b)[1], xs(c)[1]],
            _ => rule.points().into_iter().flat_map(xs).collect(),
        };
        match *rule {
            Rule::OffCircle(_, c) | Rule::VarLessArc(_, _, _, c) => {
                let c = &self.sketch.circles[c.0];
                out.extend(xs(c.centre));
                out.push(c.radius.0);
            }
            _ => {}
        }
        match *rule {
            Rule::Var(q) | Rule::Twice(q) | Rule::VarLessDistance(q, ..) | Rule::VarLessArc(q, ..) => {
                out.push(q.0)
            }
            Rule::Less(a, b) => out.extend([a.0, b.0]),
            Rule::Centred(a, b, c) | Rule::Mean(a, b, c) => out.extend([a.0, b.0, c.0]),
            Rule::RampSlope(a, b, c, d) => out.extend([a.0, b.0, c.0, d.0]),
            _ => {}
        }
        out.sort_unstable();
        out.dedup();
        out
    }

    /// Groups of unknowns that hang together, with the statements of each.
    fn blocks(&self) -> Vec<(Vec<usize>, Vec<usize>)> {
        let n = self.sketch.unknowns.len();
        let mut leader: Vec<usize> = (0..n).collect();
        fn find(leader: &mut [usize], mut i: usize) -> usize {
            while leader[i] != i {
                leader[i] = leader[leader[i]];
                i = leader[i];
            }
            i
        }
        for t in &self.touched {
            for pair in t.windows(2) {
                let (a, b) = (find(&mut leader, pair[0]), find(&mut leader, pair[1]));
                leader[b.max(a)] = a.min(b);
            }
        }
        let mut blocks: Vec<(Vec<usize>, Vec<usize>)> = vec![(Vec::new(), Vec::new()); n];
        for i in 0..n {
            let l = find(&mut leader, i);
            blocks[l].0.push(i);
        }
        for (k, t) in self.touched.iter().enumerate() {
            if let Some(&i) = t.first() {
                let l = find(&mut leader, i);
                blocks[l].1.push(k);
            }
        }
        blocks.retain(|b| !b.0.is_empty());
        blocks
    }

    /// Damped least squares on one block. True when every statement is met to a nanometre or so.
    fn settle(&self, vars: &[usize], rows: &[usize], x: &mut [f64]) -> bool {
        let total =
            |x: &[f64]| rows.iter().map(|&k| self.miss(&self.statements[k], x)).map(|m| m * m).sum::<f64>();
        let place = |u: usize| vars.binary_search(&u).ok();
        let mut damping = 1e-3;
        let mut cost = total(x);
        for _ in 0..200 {
            if cost < 1e-14 {
                return true;
            }
            let m = vars.len();
            let mut normal = vec![0.0; m * m];
            let mut right = vec![0.0; m];
            for &k in rows {
                let st = &self.statements[k];
                let f = self.miss(st, x);
                let mut slopes: Vec<(usize, f64)> = Vec::new();
                for &u in &self.touched[k] {
                    let Some(j) = place(u) else { continue };
                    let (old, h) = (x[u], 1e-5 * (1.0 + x[u].abs()));
                    x[u] = old + h;
                    let up = self.miss(st, x);
                    x[u] = old - h;
                    let down = self.miss(st, x);
                    x[u] = old;
                    slopes.push((j, (up - down) / (2.0 * h)));
                }
                for &(i, a) in &slopes {
                    right[i] -= a * f;
                    for &(j, b) in &slopes {
                        normal[i * m + j] += a * b;
                    }
                }
            }
            let mut better = false;
            for _ in 0..12 {
                let mut damped = normal.clone();
                for i in 0..m {
                    damped[i * m + i] += damping * (1e-9 + normal[i * m + i]);
                }
                let Some(step) = solve_symmetric(damped, right.clone(), m) else {
                    damping *= 10.0;
                    continue;
                };
                let mut tried = x.to_vec();
                for (j, &u) in vars.iter().enumerate() {
                    tried[u] += step[j];
                }
                let now = total(&tried);
                if now < cost {
                    x.copy_from_slice(&tried);
                    cost = now;
                    damping = (damping * 0.1).max(1e-14);
                    better = true;
                    break;
                }
                damping *= 10.0;
            }
            if !better {
                break;
            }
        }
        cost < 1e-10
    }
}

/// Cholesky solution of a symmetric positive system.
fn solve_symmetric(mut a: Vec<f64>, mut b: Vec<f64>, n: usize) -> Option<Vec<f64>> {
    for j in 0..n {
        for k in 0..j {
            let l = a[j * n + k];
            if l != 0.0 {
                for i in j..n {
                    a[i * n + j] -= a[i * n + k] * l;
                }
            }
        }
        let d = a[j * n + j];
        if d.is_nan() || d <= 0.0 {
            return None;
        }
        let d = d.sqrt();
        for i in j..n {
            a[i * n + j] /= d;
        }
    }
    for i in 0..n {
        for k in 0..i {
            b[i] -= a[i * n + k] * b[k];
        }
        b[i] /= a[i * n + i];
    }
    for i in (0..n).rev() {
        for k in i + 1..n {
            b[i] -= a[k * n + i] * b[k];
        }
        b[i] /= a[i * n + i];
    }
    Some(b)
}

/// A distorted copy of the picture: every point off by up to `share` of the way to its nearest neighbour,
/// every size by up to that share of itself. At a half, neighbours can fall together; beyond that the
/// picture would no longer show which corner is which.
fn distorted(sketch: &Sketch, share: f64, turn: u64) -> Vec<f64> {
    let mut reach: Vec<f64> = sketch.unknowns.iter().map(|u| u.value.abs()).collect();
    let at: Vec<_> = (0..sketch.points.len()).map(|i| sketch.at(PointId(i))).collect();
    for (p, here) in sketch.points.iter().zip(&at) {
        let gaps = at.iter().map(|q| q.dist(*here)).filter(|d| *d > 0.1);
        let nearest = gaps.fold(sketch.size() * 0.3, f64::min);
        reach[p.x.0] = nearest;
        reach[p.x.0 + 1] = nearest;
    }
    let mut state = turn.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1;
    sketch
        .unknowns
        .iter()
        .zip(reach)
        .map(|(u, reach)| {
            // A fixed sequence: the same distortion on every machine and in every run.
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            let unit = (state >> 11) as f64 / (1u64 << 53) as f64 * 2.0 - 1.0;
            u.value + unit * share * reach
        })
        .collect()
}

/// How far the starting pictures are distorted, as a share of what surrounds each point.
pub const DISTORTIONS: [f64; 4] = [0.02, 0.1, 0.25, 0.5];

/// Rebuilds the unknowns from statements. Every start must lead to the same shape. A start so distorted that
/// nothing comes of it is drawn again with half the distortion; the gentlest must lead somewhere.
pub fn rebuild(sketch: &Sketch, statements: Vec<Statement>) -> Result<Vec<f64>, Failure> {
    let mut problem = Problem { sketch, statements, touched: Vec::new(), size: sketch.size() / PI };
    problem.touched = problem.statements.iter().map(|s| problem.touches(&s.rule)).collect();
    let blocks = problem.blocks();
    let mut found: Option<Vec<f64>> = None;
    for (k, share) in DISTORTIONS.into_iter().enumerate() {
        let mut x = distorted(sketch, share, k as u64 + 1);
        for (vars, rows) in &blocks {
            let mut gentler = share;
            while !problem.settle(vars, rows, &mut x) {
                gentler /= 2.0;
                if gentler < DISTORTIONS[0] / 2.0 {
                    return Err(Failure::NoShape);
                }
                let again = distorted(sketch, gentler, k as u64 + 1);
                vars.iter().for_each(|&u| x[u] = again[u]);
            }
        }
        match &found {
            None => found = Some(x),
            Some(first) => {
                if first.iter().zip(&x).any(|(a, b)| (a - b).abs() > 1e-4) {
                    return Err(Failure::TwoShapes);
                }
            }
        }
    }
    found.ok_or(Failure::NoShape)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sketch::{Point, Unknown};
    use turnleaf_geom::vec2::v;

    fn points(at: &[turnleaf_geom::Vec2]) -> Sketch {
        let mut s = Sketch::default();
        for (i, p) in at.iter().enumerate() {
            s.points.push(Point { id: i.to_string(), words: String::new(), x: VarId(2 * i) });
            s.unknowns.extend([p.x, p.y].map(|value| Unknown { value, owner: 0, what: "position" }));
        }
        s
    }

    fn stated(s: &Sketch, rules: &[Rule]) -> Vec<Statement> {
        rules.iter().map(|r| Statement { rule: *r, value: s.measure(r) }).collect()
    }

    /// Three sides of a flat triangle leave open on which side of its base the third corner lies; an ordinate
    /// settles it.
    #[test]
    fn a_mirror_ambiguity_is_found_by_several_starts() {
        let s = points(&[v(0.0, 0.0), v(100.0, 0.0), v(45.0, 6.0)]);
        let p = PointId;
        let base = [Rule::X(p(0)), Rule::Y(p(0)), Rule::Y(p(1)), Rule::AlongX(p(0), p(1))];
        let sides = [Rule::Distance(p(0), p(2)), Rule::Distance(p(1), p(2))];
        let by_sides: Vec<Rule> = base.iter().chain(&sides).copied().collect();
        assert_eq!(rebuild(&s, stated(&s, &by_sides)), Err(Failure::TwoShapes));
        let by_ordinates: Vec<Rule> = base.iter().copied().chain([Rule::X(p(2)), Rule::Y(p(2))]).collect();
        let x = rebuild(&s, stated(&s, &by_ordinates)).expect("one shape");
        assert!((x[4] - 45.0).abs() < 1e-6 && (x[5] - 6.0).abs() < 1e-6, "{x:?}");
    }

    #[test]
    fn statements_that_contradict_each_other_have_no_shape() {
        let s = points(&[v(0.0, 0.0), v(100.0, 0.0)]);
        let p = PointId;
        let mut all = stated(&s, &[Rule::X(p(0)), Rule::Y(p(0)), Rule::Y(p(1)), Rule::X(p(1))]);
        all.push(Statement { rule: Rule::AlongX(p(0), p(1)), value: 101.0 });
        assert_eq!(rebuild(&s, all), Err(Failure::NoShape));
    }

    #[test]
    fn printed_figures_are_read_back() {
        assert_eq!(
            read("31,540", false, LengthUnit::Inch),
            Some(31.54 * 25.4),
            "a decimal comma, not thousands"
        );
        assert_eq!(read("1200", false, LengthUnit::Mm), Some(1200.0));
        assert_eq!(read("17 23/32", false, LengthUnit::Inch), Some(17.71875 * 25.4));
        assert_eq!(read("\u{2212}4,5", false, LengthUnit::Mm), Some(-4.5));
        assert_eq!(read("90°", true, LengthUnit::Mm), Some(PI / 2.0));
        assert_eq!(read("about 3", false, LengthUnit::Mm), None);
    }
}
