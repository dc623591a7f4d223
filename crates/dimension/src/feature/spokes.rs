//! Openings of a round middle with equal arms, such as room for a hub and its levers.
//!
//! In: a recess. Out: whether it is such an opening, and its row: radius of the middle, width and reach of
//! the arms, direction of the first.
//! Always true: an arm has parallel sides and a square end, all arms are equal and equally spaced.

use super::{Builder, share_of_circle, text};
use crate::convention::equal;
use crate::drawing::{Look, Piece, Row};
use crate::frame::SAME;
use crate::rule::{CircleId, PointId, Rule};
use crate::sketch::{Loop, Shape, Sketch};
use core::f64::consts::TAU;
use turnleaf_geom::Vec2;

/// An opening with arms: for each arm, starting with the one nearest the datum direction, its corners.
#[derive(Clone, Debug, PartialEq)]
pub struct Spokes {
    /// Arcs of the middle.
    pub arcs: Vec<CircleId>,
    /// Inner right, outer right, outer left, inner left corner of every arm, seen from the centre.
    pub arms: Vec<[PointId; 4]>,
}

impl Spokes {
    /// Reads a recess as a middle with arms, if it is one.
    pub fn of(s: &Sketch, lp: &Loop) -> Option<Spokes> {
        let Loop::Sides(sides) = lp else { return None };
        let n = sides.len();
        if n < 8 || !n.is_multiple_of(4) {
            return None;
        }
        let mut arcs = Vec::new();
        let mut arms: Vec<[PointId; 4]> = Vec::new();
        for (i, q) in sides.iter().enumerate() {
            let Some((c, _)) = q.arc else { continue };
            // Counter-clockwise: after an arc of the middle come an arm's right side, end and left side.
            let side = |k: usize| sides[(i + k) % n];
            if s.circle_at(c).0.norm() > SAME || (1..4).any(|k| side(k).arc.is_some()) {
                return None;
            }
            arcs.push(c);
            arms.push([side(1).from, side(2).from, side(3).from, side(3).to]);
        }
        let radius = s.circle_at(*arcs.first()?).1;
        if arms.len() * 4 != n || arcs.iter().any(|c| (s.circle_at(*c).1 - radius).abs() > SAME) {
            return None;
        }
        let end = |a: &[PointId; 4]| (s.at(a[1]) + s.at(a[2])) * 0.5;
        let turn = |p: Vec2| {
            let a = p.angle();
            if a < -1e-6 { a + TAU } else { a.max(0.0) }
        };
        arms.sort_by(|a, b| turn(end(a)).total_cmp(&turn(end(b))));
        let straight = |a: &[PointId; 4]| {
            let [p, q, r, t] = a.map(|p| s.at(p));
            let axis = end(a).unit();
            (q - p).cross(axis).abs() < SAME
                && (r - t).cross(axis).abs() < SAME
                && (q - r).dot(axis).abs() < SAME
                && (q.norm() - r.norm()).abs() < SAME
        };
        let k = arms.len();
        let alike = arms.iter().enumerate().all(|(i, a)| {
            (0..4).all(|j| s.at(arms[0][j]).rot(TAU * i as f64 / k as f64).dist(s.at(a[j])) < 2.0 * SAME)
        });
        (straight(&arms[0]) && alike).then_some(Spokes { arcs, arms })
    }
}

impl Builder<'_> {
    /// The row of an opening with arms; false when the recess is something else.
    pub(super) fn spokes(&mut self, i: usize) -> bool {
        let s = self.s;
        let Shape::Pocket(lp, _) = &s.features[i].shape else { return false };
        let (true, Some(q)) = (self.polar, Spokes::of(s, lp)) else { return false };
        let (id, words) = (self.id(i), self.words(i));
        let helper = format!("{id}/arm-end");
        let Some(end) = s.helpers.iter().copied().find(|p| s.points[p.0].id == helper) else { return false };
        let mut rules = Vec::new();
        for c in &q.arcs {
            let c = &s.circles[c.0];
            rules.extend([Rule::X(c.centre), Rule::Y(c.centre)]);
            rules.push(equal(s.circles[q.arcs[0].0].radius, c.radius));
        }
        let k = q.arms.len();
        for (n, arm) in q.arms.iter().enumerate().skip(1) {
            let turn = TAU * n as f64 / k as f64;
            for (p, r) in q.arms[0].iter().zip(arm) {
                rules.push(Rule::TurnedX(*p, *r, turn));
                rules.push(Rule::TurnedY(*p, *r, turn));
            }
        }
        let [a, b, c, d] = q.arms[0];
        let origin = s.circles[q.arcs[0].0].centre;
        rules.push(Rule::AsFar(b, c));
        rules.push(Rule::Parallel(a, b, origin, end));
        rules.push(Rule::Parallel(d, c, origin, end));
        self.say(format!("arms/{id}"), rules);
        let middle = Rule::Var(s.circles[q.arcs[0].0].radius);
        let radius = self.dim(
            format!("{id}/radius"),
            middle,
            Look::Table,
            format!("the radius of the middle of {words}"),
        );
        let reach = self.dim(
            format!("{id}/reach"),
            Rule::FromOrigin(end),
            Look::Table,
            format!("the reach of the arms of {words}"),
        );
        let width = self.dim(
            format!("{id}/width"),
            Rule::Distance(b, c),
            Look::Table,
            format!("the width of the arms of {words}"),
        );
        let mut turn = self.bearing(&format!("{id}/arm"), end, &format!("the first arm of {words}"));
        if k > 1 {
            turn.push(text(format!(", then every {}", share_of_circle(k))));
        }
        let label = self.label();
        let purpose = s.features[i].purpose.clone();
        let size = vec![
            text("middle R"),
            Piece::Figure(radius),
            text(", arms "),
            Piece::Figure(width),
            text(" wide"),
        ];
        let place = vec![text("out to "), Piece::Figure(reach)];
        let depth = self.depth(&[i], Look::Table);
        self.out.rows.push(Row {
            label,
            count: 1,
            members: vec![i],
            purpose,
            cells: [size, place, turn, depth],
        });
        true
    }
}
