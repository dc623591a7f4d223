//! Slots along a chain of arcs.
//!
//! In: curved slots. Out: one row for a slot and its turned copies, and the table of its centre line: the place
//! of every station and the radius of the arc to the next.
//! Always true: an arc is the shorter one through its two stations, with its centre on the stated side; copies
//! are the first slot turned about the centre, each fixed by its own first station.

use super::{Builder, share_of_circle, text};
use crate::convention::{Convention, equal};
use crate::drawing::{Look, Piece, Row, WayTable};
use crate::rule::{PointId, Rule, VarId};
use crate::sketch::{Shape, Way};

impl Builder<'_> {
    pub(super) fn ways(&mut self, group: &[usize]) {
        let s = self.s;
        let ways: Vec<&Way> = group
            .iter()
            .filter_map(|&i| if let Shape::Way(w, _) = &s.features[i].shape { Some(w) } else { None })
            .collect();
        let (stem, words) = (self.stem(group), self.words(group[0]));
        let widths: Vec<VarId> = ways.iter().map(|w| w.width).collect();
        let same: Vec<Rule> = widths[1..].iter().map(|w| equal(widths[0], *w)).collect();
        if !same.is_empty() {
            self.say(format!("equal/{stem}"), same);
        }
        let width = self.dim(
            format!("{stem}/width"),
            Rule::Var(widths[0]),
            Look::Table,
            format!("the width of {words}"),
        );
        let label = self.label();
        let depth = self.depth(group, Look::Table);
        let purpose = s.features[group[0]].purpose.clone();
        let starts: Vec<PointId> = ways.iter().map(|w| w.stations[0]).collect();
        let table = format!("table {label}");
        let first_turn = match self.ring_order(&starts) {
            Some(mut order) if self.repeats(&[order.iter().map(|&k| starts[k]).collect()]) => {
                // The one with stations leads; the circle has no beginning of its own.
                if let Some(lead) = order.iter().position(|&k| ways[k].like.is_none()) {
                    order.rotate_left(lead);
                }
                self.spaced(&stem, &[order.iter().map(|&k| starts[k]).collect()]);
                vec![text(format!("{table}, then every {}", share_of_circle(group.len())))]
            }
            _ => vec![text(table.clone())],
        };
        let spaced = first_turn.len() == 1
            && group.len() > 1
            && matches!(&first_turn[0], Piece::Words(w) if *w != table);
        self.out.rows.push(Row {
            label: label.clone(),
            count: if spaced || group.len() == 1 { group.len() } else { 1 },
            members: if spaced { group.to_vec() } else { vec![group[0]] },
            purpose: purpose.clone(),
            cells: [
                vec![text("curved slot "), Piece::Figure(width), text(" wide")],
                vec![text(table)],
                first_turn,
                depth.clone(),
            ],
        });
        if !spaced {
            for (k, &i) in group.iter().enumerate().skip(1) {
                let (id, whose) = (self.id(i), self.words(i));
                let [place, turn] =
                    self.position(&format!("{id}/start"), starts[k], &format!("station 1 of {whose}"));
                let like = || vec![text(format!("as {label}"))];
                self.out.rows.push(Row {
                    label: format!("{label}{}", k + 1),
                    count: 1,
                    members: vec![i],
                    purpose: purpose.clone(),
                    cells: [like(), place, turn, like()],
                });
            }
        }
        self.centre_line(&label, group[0], ways[0]);
    }

    /// The table of one centre line, and the sentences that say how it is drawn.
    fn centre_line(&mut self, label: &str, i: usize, w: &Way) {
        let s = self.s;
        let (id, words) = (self.id(i), self.words(i));
        let mut stations = Vec::new();
        for (k, &p) in w.stations.iter().enumerate() {
            let whose = format!("station {} of {words}", k + 1);
            let [a, b] = self.position(&format!("{id}/station-{}", k + 1), p, &whose);
            let arc = match w.arcs.get(k) {
                None => vec![text("end")],
                Some(None) => vec![text("straight")],
                Some(Some((c, sweep))) => {
                    let circle = &s.circles[c.0];
                    let d = self.dim(
                        format!("{id}/arc-{}/radius", k + 1),
                        Rule::Var(circle.radius),
                        Look::Table,
                        format!("the radius of {}", circle.words),
                    );
                    // Going on, an arc that turns left has its centre on the left.
                    let (from, to) = (s.at(p), s.at(w.stations[k + 1]));
                    let origin_left = (to - from).cross(-from) > 0.0;
                    let side = if (*sweep > 0.0) == origin_left { " inside" } else { " outside" };
                    vec![text("R"), Piece::Figure(d), text(side)]
                }
            };
            stations.push([a, b, arc]);
        }
        self.out.ways.push(WayTable { label: label.to_string(), stations });
        for (id, sentence) in [
            (
                "way/arcs",
                "Curved slots: set out the stations of the centre line, then join each to the next by the short \
                 arc of the stated radius (swing it from both stations to find its centre).",
            ),
            (
                "way/sides",
                "Inside: the arc's centre is on the same side of the line joining its stations as the centre of \
                 the part; outside: on the other side.",
            ),
            (
                "way/ends",
                "A slot's sides run half its width from the centre line; its ends are half round. Strokes across one slot of each kind show its stations, numbered as in the table where there is room.",
            ),
        ] {
            self.out.conventions.push(Convention::said(id, sentence, Vec::new()));
        }
    }
}
