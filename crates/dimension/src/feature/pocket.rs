//! Recesses: bands round the centre, and any other outline.
//!
//! In: pocket features. Out: their conventions, figures and table rows.
//! Always true: a band between two arcs about the centre is given by two radii and two angles; anything else
//! by the position of every corner and the radius of every arc.

use super::{Builder, half_turn, share_of_circle, text};
use crate::convention::{Convention, equal, joints};
use crate::drawing::{Look, Piece, Row};
use crate::frame::SAME;
use crate::rule::{CircleId, PointId, Rule};
use crate::sketch::{Loop, Shape, Side};

/// A band: inner and outer arc about the origin, and the points whose bearings are its two ends.
struct Band {
    inner: CircleId,
    outer: CircleId,
    ends: [PointId; 2],
    /// Caps (round ends) or nothing (straight radial ends).
    caps: Vec<CircleId>,
}

impl Builder<'_> {
    pub(super) fn pockets(&mut self, group: &[usize]) {
        let loops: Vec<Loop> = group
            .iter()
            .filter_map(|&i| match &self.s.features[i].shape {
                Shape::Pocket(lp, _) => Some(lp.clone()),
                _ => None,
            })
            .collect();
        let bands: Option<Vec<Band>> =
            if self.polar { loops.iter().map(|lp| self.band(lp)).collect() } else { None };
        match bands {
            Some(bands) => self.band_rows(group, &loops, &bands),
            None if self.blocks(group) => {}
            None if group.iter().all(|&i| self.spokes(i)) => {}
            None => self.corner_rows(group, &loops),
        }
    }

    fn band(&self, lp: &Loop) -> Option<Band> {
        let Loop::Sides(sides) = lp else { return None };
        if sides.len() != 4 {
            return None;
        }
        let about_origin = |q: &Side| q.arc.filter(|a| self.s.circle_at(a.0).0.norm() < SAME);
        let round: Vec<(usize, CircleId)> =
            sides.iter().enumerate().filter_map(|(i, q)| about_origin(q).map(|a| (i, a.0))).collect();
        if round.len() != 2 || round[1].0 - round[0].0 != 2 {
            return None;
        }
        let (a, b) = (round[0], round[1]);
        let radius = |c: CircleId| self.s.circle_at(c).1;
        let ((outer_at, outer), (_, inner)) = if radius(a.1) > radius(b.1) { (a, b) } else { (b, a) };
        // The outer arc of a counter-clockwise outline runs counter-clockwise: it starts at the first end.
        let first = &sides[(outer_at + 3) % 4];
        let last = &sides[(outer_at + 1) % 4];
        match (first.arc, last.arc) {
            (None, None) => {
                let radial = |q: &Side| {
                    let (p, o) = (self.s.at(q.from), self.s.at(q.to));
                    p.cross(o).abs() < SAME * p.norm()
                };
                (radial(first) && radial(last)).then(|| Band {
                    inner,
                    outer,
                    ends: [first.to, last.from],
                    caps: Vec::new(),
                })
            }
            (Some(f), Some(l)) if half_turn(f.1) && half_turn(l.1) => Some(Band {
                inner,
                outer,
                ends: [self.s.circles[f.0.0].centre, self.s.circles[l.0.0].centre],
                caps: vec![f.0, l.0],
            }),
            _ => None,
        }
    }

    fn band_rows(&mut self, group: &[usize], loops: &[Loop], bands: &[Band]) {
        let (stem, words) = (self.stem(group), self.words(group[0]));
        let (s, mut rules) = (self.s, Vec::new());
        for (lp, b) in loops.iter().zip(bands) {
            let Loop::Sides(sides) = lp else { continue };
            for c in [b.inner, b.outer] {
                rules.push(Rule::X(s.circles[c.0].centre));
                rules.push(Rule::Y(s.circles[c.0].centre));
                if b.inner == bands[0].inner {
                    continue;
                }
                let like = if c == b.inner { bands[0].inner } else { bands[0].outer };
                rules.push(equal(s.circles[like.0].radius, s.circles[c.0].radius));
            }
            for q in sides.iter().filter(|q| q.arc.is_none()) {
                rules.push(Rule::Turn(q.from, q.to));
            }
            if !b.caps.is_empty() {
                let mut smooth: Vec<Convention> = Vec::new();
                joints(s, sides, &stem, &mut smooth);
                rules.extend(smooth.into_iter().flat_map(|c| c.rules));
            }
        }
        self.say(format!("band/{stem}"), rules);
        let radius = |c: CircleId| Rule::Var(s.circles[c.0].radius);
        let inner = self.dim(
            format!("{stem}/inner-radius"),
            radius(bands[0].inner),
            Look::Table,
            format!("the inner radius of {words}"),
        );
        let outer = self.dim(
            format!("{stem}/outer-radius"),
            radius(bands[0].outer),
            Look::Table,
            format!("the outer radius of {words}"),
        );
        let place = vec![text("R"), Piece::Figure(inner), text(" to R"), Piece::Figure(outer)];
        let size = vec![text(if bands[0].caps.is_empty() { "band" } else { "band, round ends" })];
        let depth = self.depth(group, Look::Table);
        let purpose = s.features[group[0]].purpose.clone();
        let label = self.label();
        let ends = |k: usize| -> Vec<PointId> { bands.iter().map(|b| b.ends[k]).collect() };
        let (firsts, lasts) = (ends(0), ends(1));
        if let Some(order) = self.ring_order(&firsts) {
            let sorted: Vec<Vec<PointId>> =
                [&firsts, &lasts].iter().map(|c| order.iter().map(|&i| c[i]).collect()).collect();
            if self.repeats(&sorted) {
                self.spaced(&stem, &sorted);
                let first = group[order[0]];
                let mut turn = self.band_turn(first, sorted[0][0], sorted[1][0]);
                turn.push(text(format!(", then every {}", share_of_circle(group.len()))));
                let members = order.iter().map(|&i| group[i]).collect();
                let cells = [size, place, turn, depth];
                self.out.rows.push(Row { label, count: group.len(), members, purpose, cells });
                return;
            }
        }
        for (k, &i) in group.iter().enumerate() {
            let turn = self.band_turn(i, firsts[k], lasts[k]);
            let name = if group.len() > 1 { format!("{label}{}", k + 1) } else { label.clone() };
            let like = || vec![text(format!("as {label}1"))];
            let cells = if k == 0 {
                [size.clone(), place.clone(), turn, depth.clone()]
            } else {
                [like(), like(), turn, like()]
            };
            self.out.rows.push(Row {
                label: name,
                count: 1,
                members: vec![i],
                purpose: purpose.clone(),
                cells,
            });
        }
    }

    fn band_turn(&mut self, i: usize, first: PointId, last: PointId) -> Vec<Piece> {
        let (id, words) = (self.id(i), self.words(i));
        let mut turn = self.bearing(&format!("{id}/from"), first, &format!("the first end of {words}"));
        let to = self.bearing(&format!("{id}/to"), last, &format!("the second end of {words}"));
        turn.push(text(" to "));
        turn.extend(to);
        turn
    }

    /// Any other outline: every corner, every arc.
    fn corner_rows(&mut self, group: &[usize], loops: &[Loop]) {
        let label = self.label();
        for (k, (&i, lp)) in group.iter().zip(loops).enumerate() {
            let (id, words) = (self.id(i), self.words(i));
            let purpose = self.s.features[i].purpose.clone();
            let name = if group.len() > 1 { format!("{label}{}", k + 1) } else { label.clone() };
            let depth = self.depth(&[i], Look::Table);
            let points: Vec<PointId> = match lp {
                Loop::Circle(c) => vec![self.s.circles[c.0].centre],
                Loop::Sides(sides) => sides.iter().map(|q| q.from).collect(),
            };
            for (n, p) in points.iter().enumerate() {
                let whose = format!("corner {} of {words}", n + 1);
                let [a, b] = self.corner(&format!("{id}/corner-{}", n + 1), *p, &whose);
                let mut size = if n == 0 { vec![text("recess")] } else { Vec::new() };
                // An arc is given with the corner it leaves from.
                let arc = match lp {
                    Loop::Circle(c) => Some(*c),
                    Loop::Sides(sides) => sides[n].arc.map(|a| a.0),
                };
                if let Some(c) = arc {
                    let circle = &self.s.circles[c.0];
                    let (arc_id, arc_words, radius) =
                        (circle.id.clone(), circle.words.clone(), circle.radius);
                    let d = self.dim(
                        format!("{arc_id}/radius"),
                        Rule::Var(radius),
                        Look::Table,
                        format!("the radius of {arc_words}"),
                    );
                    let lead = if n == 0 { " R" } else { "R" };
                    size.extend([text(lead), Piece::Figure(d), text(" from here")]);
                }
                let depth = if n == 0 { depth.clone() } else { Vec::new() };
                let row = if points.len() > 1 { format!("{name}.{}", n + 1) } else { name.clone() };
                self.out.rows.push(Row {
                    label: row,
                    count: usize::from(n == 0),
                    members: vec![i],
                    purpose: if n == 0 { purpose.clone() } else { String::new() },
                    cells: [size, a, b, depth],
                });
            }
        }
    }

    /// Position of a corner along both axes, whatever the table's way is.
    fn corner(&mut self, id: &str, p: PointId, words: &str) -> [Vec<Piece>; 2] {
        // Near the centre a bearing means little: there the axes are clearer.
        let polar = self.polar;
        self.polar = polar && self.s.at(p).norm() > 1.0;
        let cells = self.position(id, p, words);
        self.polar = polar;
        cells
    }
}
