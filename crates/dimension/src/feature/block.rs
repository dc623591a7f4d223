//! Rectangular openings and recesses.
//!
//! In: recesses with four square corners. Out: rows with length, width, middle and direction.
//! Always true: the long side comes first; a direction along or across the datum line, or square to the
//! radius, is said in words, any other as an angle.

use super::{Builder, share_of_circle, text};
use crate::drawing::{Look, Piece, Row};
use crate::frame::SAME;
use crate::rule::{PointId, Rule};
use crate::sketch::{Loop, Shape, Sketch};
use turnleaf_geom::Vec2;

/// The corners of a rectangle, long side first, counter-clockwise.
pub fn rectangle(s: &Sketch, lp: &Loop) -> Option<[PointId; 4]> {
    let Loop::Sides(sides) = lp else { return None };
    if sides.len() != 4 || sides.iter().any(|q| q.arc.is_some()) {
        return None;
    }
    let p: Vec<PointId> = sides.iter().map(|q| q.from).collect();
    let at = |i: usize| s.at(p[i % 4]);
    let square = (0..4).all(|i| {
        let (u, w) = (at(i + 1) - at(i), at(i + 2) - at(i + 1));
        u.unit().dot(w.unit()).abs() < 1e-6
    });
    if !square {
        return None;
    }
    let first = if at(0).dist(at(1)) + SAME >= at(1).dist(at(2)) { 0 } else { 1 };
    Some([p[first], p[first + 1], p[(first + 2) % 4], p[(first + 3) % 4]])
}

impl Builder<'_> {
    /// Rows of rectangles; false when any of the group is something else.
    pub(super) fn blocks(&mut self, group: &[usize]) -> bool {
        let s = self.s;
        let mut corners = Vec::new();
        let mut middles: Vec<PointId> = Vec::new();
        for &i in group {
            let Shape::Pocket(lp, _) = &s.features[i].shape else { return false };
            let Some(c) = rectangle(s, lp) else { return false };
            let id = format!("{}/middle", self.id(i));
            let Some(m) = s.helpers.iter().copied().find(|p| s.points[p.0].id == id) else { return false };
            corners.push(c);
            middles.push(m);
        }
        let (stem, words) = (self.stem(group), self.words(group[0]));
        let mut rules = Vec::new();
        for [a, b, c, d] in &corners {
            rules.extend([Rule::Parallel(*a, *b, *d, *c), Rule::Parallel(*b, *c, *a, *d)]);
            rules.push(Rule::Square(*a, *b, *b, *c));
        }
        let [a, b, c, _] = corners[0];
        for q in &corners[1..] {
            rules.extend([Rule::Longer(a, b, q[0], q[1]), Rule::Longer(b, c, q[1], q[2])]);
        }
        self.say(format!("rectangle/{stem}"), rules);
        let length = self.dim(
            format!("{stem}/length"),
            Rule::Distance(a, b),
            Look::Table,
            format!("the length of {words}"),
        );
        let width = self.dim(
            format!("{stem}/width"),
            Rule::Distance(b, c),
            Look::Table,
            format!("the width of {words}"),
        );
        let size = vec![Piece::Figure(length), text(" × "), Piece::Figure(width)];
        let depth = self.depth(group, Look::Table);
        let purpose = s.features[group[0]].purpose.clone();
        let label = self.label();
        let mut rows: Vec<Vec<usize>> = Vec::new();
        for circle in self.circles_of(&middles) {
            let points: Vec<PointId> = circle.iter().map(|&k| middles[k]).collect();
            match self.ring_order(&points) {
                Some(order) if self.alike(&points, &circle, &order, &corners) => {
                    rows.push(order.into_iter().map(|i| circle[i]).collect());
                }
                _ => rows.extend(circle.into_iter().map(|k| vec![k])),
            }
        }
        let many = rows.len() > 1;
        for (n, order) in rows.iter().enumerate() {
            let first = order[0];
            if order.len() > 1 {
                // The middle and one end of the long side carry the direction with them.
                let column =
                    |j: usize| order.iter().map(|&k| self.oriented(middles[k], corners[k])[j]).collect();
                let columns = vec![order.iter().map(|&k| middles[k]).collect(), column(0)];
                self.spaced(&format!("{stem}/{}", n + 1), &columns);
            }
            let id = self.id(group[first]);
            let whose = self.words(group[first]);
            let [place, mut turn] =
                self.position(&format!("{id}/middle"), middles[first], &format!("the middle of {whose}"));
            if order.len() > 1 {
                turn.push(text(format!(", then every {}", share_of_circle(order.len()))));
            }
            let mut size = if n == 0 { size.clone() } else { vec![text(format!("as {label}1"))] };
            size.extend(self.direction(&id, &whose, middles[first], corners[first]));
            let depth = if n == 0 { depth.clone() } else { vec![text(format!("as {label}1"))] };
            let name = if many { format!("{label}{}", n + 1) } else { label.clone() };
            let members = order.iter().map(|&k| group[k]).collect();
            let cells = [size, place, turn, depth];
            self.out.rows.push(Row {
                label: name,
                count: order.len(),
                members,
                purpose: purpose.clone(),
                cells,
            });
        }
        true
    }

    /// The corners turned end for end, if need be, so that the long side runs counter-clockwise round the
    /// origin: then alike rectangles have alike corners.
    fn oriented(&self, middle: PointId, c: [PointId; 4]) -> [PointId; 4] {
        let s = self.s;
        if s.at(middle).cross(s.at(c[1]) - s.at(c[0])) < 0.0 { [c[2], c[3], c[0], c[1]] } else { c }
    }

    /// Whether rectangles on one circle are also turned alike.
    fn alike(
        &self,
        middles: &[PointId],
        circle: &[usize],
        order: &[usize],
        corners: &[[PointId; 4]],
    ) -> bool {
        let columns: Vec<Vec<PointId>> = (0..4)
            .map(|j| order.iter().map(|&i| self.oriented(middles[i], corners[circle[i]])[j]).collect())
            .collect();
        self.repeats(&columns)
    }

    /// The direction of the long side, in words or as an angle.
    fn direction(&mut self, id: &str, whose: &str, middle: PointId, c: [PointId; 4]) -> Vec<Piece> {
        let s = self.s;
        let c = self.oriented(middle, c);
        let along = (s.at(c[1]) - s.at(c[0])).unit();
        let radius = s.at(middle);
        let short = |v: Vec2, w: Vec2| v.unit().dot(w).abs() < 1e-7;
        let (rule, words) = if along.y.abs() < 1e-7 {
            (Rule::AlongY(c[0], c[1]), ", along X")
        } else if along.x.abs() < 1e-7 {
            (Rule::AlongX(c[0], c[1]), ", along Y")
        } else if radius.norm() > SAME && short(radius, along) {
            // Both ends of the long side are equally far from the centre.
            (Rule::AsFar(c[0], c[1]), ", square to the radius")
        } else if radius.norm() > SAME && short(radius.perp(), along) {
            (Rule::AsFar(c[1], c[2]), ", along the radius")
        } else {
            let words = format!("the direction of the long side of {whose}");
            let d = self.dim(format!("{id}/heading"), Rule::Heading(c[0], c[1]), Look::Table, words);
            return vec![text(", long side at "), Piece::Figure(d)];
        };
        self.say(format!("direction/{id}"), vec![rule]);
        vec![text(words)]
    }
}
