//! Rules: one equation each between unknowns of a sketch.
//!
//! In: the unknowns' values. Out: the measured value of a rule, with slopes if wanted.
//! Always true: a rule is one number; a drawn dimension states which number, a convention states zero.
//! Lengths in mm, angles in radians counter-clockwise from the datum x axis.

use crate::num::Num;
use turnleaf_geom::trig;

/// A point of the sketch (index into [`crate::sketch::Sketch::points`]).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct PointId(pub usize);
/// A circle of the sketch (index into [`crate::sketch::Sketch::circles`]).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct CircleId(pub usize);
/// An unknown (index into [`crate::sketch::Sketch::unknowns`]).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct VarId(pub usize);

/// What is measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Rule {
    /// Distance of a point from a circle's centre, less its radius.
    OffCircle(PointId, CircleId),
    /// Straight distance between two points.
    Distance(PointId, PointId),
    /// How much longer the second stretch (last two points) is than the first.
    Longer(PointId, PointId, PointId, PointId),
    /// Direction from the first to the second point, (-π, π].
    Heading(PointId, PointId),
    /// From the first to the second point along the datum x axis.
    AlongX(PointId, PointId),
    /// From the first to the second point along the datum y axis.
    AlongY(PointId, PointId),
    /// Ordinate of a point along the datum x axis.
    X(PointId),
    /// Ordinate of a point along the datum y axis.
    Y(PointId),
    /// Distance of a point from the datum origin.
    FromOrigin(PointId),
    /// How much farther the second point is from the datum origin than the first.
    AsFar(PointId, PointId),
    /// Direction of a point from the datum origin, (-π, π].
    Bearing(PointId),
    /// The bearing of the second point less that of the first, (-π, π].
    Turn(PointId, PointId),
    /// An unknown itself (a radius, a depth, a thickness).
    Var(VarId),
    /// Twice an unknown (a diameter).
    Twice(VarId),
    /// The second unknown less the first.
    Less(VarId, VarId),
    /// An unknown less the distance of two points.
    VarLessDistance(VarId, PointId, PointId),
    /// An unknown less the length of the arc between two points of a circle (the shorter way round).
    VarLessArc(VarId, PointId, PointId, CircleId),
    /// Two unknowns added, less a third: zero when a band lies in the middle of a thickness.
    Centred(VarId, VarId, VarId),
    /// The last two unknowns added, less twice the first: zero when the first is their mean.
    Mean(VarId, VarId, VarId),
    /// The steepest slope of a line of this rise and run between a hollow and a rounding of these radii that it
    /// meets smoothly, each of which starts level (radians).
    RampSlope(VarId, VarId, VarId, VarId),
    /// Zero when the first point lies half-way between the other two along x.
    MidX(PointId, PointId, PointId),
    /// Zero when the first point lies half-way between the other two along y.
    Halfway(PointId, PointId, PointId),
    /// Zero when the points mirror each other in the x axis: difference of x.
    MirrorX(PointId, PointId),
    /// Zero when the points mirror each other in the x axis: sum of y.
    MirrorY(PointId, PointId),
    /// Zero when the second point is the first turned by the angle about the origin: x.
    TurnedX(PointId, PointId, f64),
    /// Zero when the second point is the first turned by the angle about the origin: y.
    TurnedY(PointId, PointId, f64),
    /// Zero when the lines through both pairs are parallel (sine of the angle between).
    Parallel(PointId, PointId, PointId, PointId),
    /// Zero when the lines through both pairs are square (cosine of the angle between).
    Square(PointId, PointId, PointId, PointId),
    /// The angle at the first point from the second to the third, (-π, π].
    Corner(PointId, PointId, PointId),
}

type P2<N> = (N, N);

fn sub<N: Num>(a: P2<N>, b: P2<N>) -> P2<N> {
    (a.0 - b.0, a.1 - b.1)
}
fn dot<N: Num>(a: &P2<N>, b: &P2<N>) -> N {
    a.0.clone() * b.0.clone() + a.1.clone() * b.1.clone()
}
fn cross<N: Num>(a: &P2<N>, b: &P2<N>) -> N {
    a.0.clone() * b.1.clone() - a.1.clone() * b.0.clone()
}
fn norm<N: Num>(a: &P2<N>) -> N {
    dot(a, a).root()
}

/// How a rule finds the unknowns of points and circles.
pub trait Values<N: Num> {
    /// Value of an unknown.
    fn var(&self, v: VarId) -> N;
    /// Coordinates of a point.
    fn point(&self, p: PointId) -> (N, N);
    /// Centre and radius of a circle.
    fn circle(&self, c: CircleId) -> ((N, N), N);
}

impl Rule {
    /// The measured value.
    pub fn eval<N: Num>(&self, at: &dyn Values<N>) -> N {
        match *self {
            Rule::OffCircle(p, c) => {
                let (centre, radius) = at.circle(c);
                norm(&sub(at.point(p), centre)) - radius
            }
            Rule::Distance(a, b) => norm(&sub(at.point(a), at.point(b))),
            Rule::Longer(a, b, c, d) => {
                norm(&sub(at.point(d), at.point(c))) - norm(&sub(at.point(b), at.point(a)))
            }
            Rule::Heading(a, b) => {
                let (x, y) = sub(at.point(b), at.point(a));
                y.angle_over(x)
            }
            Rule::AlongX(a, b) => at.point(b).0 - at.point(a).0,
            Rule::AlongY(a, b) => at.point(b).1 - at.point(a).1,
            Rule::X(p) => at.point(p).0,
            Rule::Y(p) => at.point(p).1,
            Rule::FromOrigin(p) => norm(&at.point(p)),
            Rule::AsFar(a, b) => norm(&at.point(b)) - norm(&at.point(a)),
            Rule::Bearing(p) => {
                let (x, y) = at.point(p);
                y.angle_over(x)
            }
            Rule::Turn(a, b) => {
                let (a, b) = (at.point(a), at.point(b));
                cross(&a, &b).angle_over(dot(&a, &b))
            }
            Rule::Var(v) => at.var(v),
            Rule::Twice(v) => at.var(v) * N::cst(2.0),
            Rule::Less(a, b) => at.var(b) - at.var(a),
            Rule::VarLessDistance(v, a, b) => at.var(v) - norm(&sub(at.point(a), at.point(b))),
            Rule::VarLessArc(v, a, b, c) => {
                let (_, r) = at.circle(c);
                let half = norm(&sub(at.point(a), at.point(b))) * N::cst(0.5);
                let height = (r.clone() * r.clone() - half.clone() * half.clone()).root();
                at.var(v) - r * N::cst(2.0) * half.angle_over(height)
            }
            Rule::Centred(a, b, c) => at.var(a) + at.var(b) - at.var(c),
            Rule::Mean(m, a, b) => at.var(a) + at.var(b) - at.var(m) * N::cst(2.0),
            Rule::RampSlope(rise, run, foot, head) => {
                let (h, l, r) = (at.var(rise), at.var(run), at.var(foot) + at.var(head));
                let up = h.clone() - r.clone();
                let straight =
                    (l.clone() * l.clone() + up.clone() * up.clone() - r.clone() * r.clone()).root();
                up.angle_over(l) + r.angle_over(straight)
            }
            Rule::MidX(p, a, b) => at.point(a).0 + at.point(b).0 - at.point(p).0 * N::cst(2.0),
            Rule::Halfway(p, a, b) => at.point(a).1 + at.point(b).1 - at.point(p).1 * N::cst(2.0),
            Rule::MirrorX(a, b) => at.point(b).0 - at.point(a).0,
            Rule::MirrorY(a, b) => at.point(b).1 + at.point(a).1,
            Rule::TurnedX(a, b, turn) => {
                let (s, c) = trig::sin_cos(turn);
                let (x, y) = at.point(a);
                at.point(b).0 - (x * N::cst(c) - y * N::cst(s))
            }
            Rule::TurnedY(a, b, turn) => {
                let (s, c) = trig::sin_cos(turn);
                let (x, y) = at.point(a);
                at.point(b).1 - (x * N::cst(s) + y * N::cst(c))
            }
            Rule::Parallel(a, b, c, d) => {
                let (u, w) = (sub(at.point(b), at.point(a)), sub(at.point(d), at.point(c)));
                cross(&u, &w) * (norm(&u) * norm(&w)).inverse()
            }
            Rule::Square(a, b, c, d) => {
                let (u, w) = (sub(at.point(b), at.point(a)), sub(at.point(d), at.point(c)));
                dot(&u, &w) * (norm(&u) * norm(&w)).inverse()
            }
            Rule::Corner(o, a, b) => {
                let (u, w) = (sub(at.point(a), at.point(o)), sub(at.point(b), at.point(o)));
                cross(&u, &w).angle_over(dot(&u, &w))
            }
        }
    }

    /// Whether the value is an angle (radians) rather than a length.
    pub fn is_angle(&self) -> bool {
        matches!(
            self,
            Rule::Bearing(_) | Rule::Heading(..) | Rule::Turn(..) | Rule::Corner(..) | Rule::RampSlope(..)
        )
    }

    /// Points the rule hangs on.
    pub fn points(&self) -> Vec<PointId> {
        match *self {
            Rule::OffCircle(p, _) | Rule::X(p) | Rule::Y(p) | Rule::FromOrigin(p) | Rule::Bearing(p) => {
                vec![p]
            }
            Rule::Distance(a, b)
            | Rule::Heading(a, b)
            | Rule::AlongX(a, b)
            | Rule::AlongY(a, b)
            | Rule::Turn(a, b)
            | Rule::AsFar(a, b)
            | Rule::VarLessDistance(_, a, b)
            | Rule::VarLessArc(_, a, b, _)
            | Rule::MirrorX(a, b)
            | Rule::MirrorY(a, b)
            | Rule::TurnedX(a, b, _)
            | Rule::TurnedY(a, b, _) => vec![a, b],
            Rule::Corner(a, b, c) | Rule::MidX(a, b, c) | Rule::Halfway(a, b, c) => vec![a, b, c],
            Rule::Longer(a, b, c, d) | Rule::Parallel(a, b, c, d) | Rule::Square(a, b, c, d) => {
                vec![a, b, c, d]
            }
            Rule::Var(_)
            | Rule::Twice(_)
            | Rule::Less(..)
            | Rule::Centred(..)
            | Rule::Mean(..)
            | Rule::RampSlope(..) => Vec::new(),
        }
    }
}
