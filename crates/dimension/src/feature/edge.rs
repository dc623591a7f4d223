//! Grooves and tongues on edges.
//!
//! In: edge features. Out: one section for every distinct profile, where each begins and ends, and the
//! conventions that spare figures (full length, alike, in the middle of the thickness).
//! Always true: distances run along the edge from the end nearer the datum, both from that end.

use super::{Builder, text};
use crate::convention::{Convention, equal};
use crate::drawing::{EdgeRow, EdgeSection, Look, Piece};
use crate::frame::SAME;
use crate::names::general;
use crate::rule::{Rule, VarId};
use crate::sketch::{EdgeWork, Shape};

fn capital(word: &str) -> String {
    let mut c = word.chars();
    c.next().map_or(String::new(), |f| f.to_uppercase().chain(c).collect())
}

impl Builder<'_> {
    /// All edge features of the part, grouped by profile.
    pub(super) fn edges(&mut self) {
        let s = self.s;
        let works: Vec<(usize, EdgeWork)> = s
            .features
            .iter()
            .enumerate()
            .filter_map(|(i, f)| if let Shape::Edge(w) = f.shape { Some((i, w)) } else { None })
            .collect();
        let near = |a: VarId, b: VarId| (s.value(a) - s.value(b)).abs() < SAME;
        let mut groups: Vec<Vec<(usize, EdgeWork)>> = Vec::new();
        for w in works {
            let like = groups.iter_mut().find(|g| {
                let q = g[0].1;
                q.tongue == w.1.tongue && near(q.depth, w.1.depth) && near(q.z0, w.1.z0) && near(q.z1, w.1.z1)
            });
            match like {
                Some(g) => g.push(w),
                None => groups.push(vec![w]),
            }
        }
        for group in &groups {
            let label = self.label();
            self.profile(&label, group);
            self.stretches(&label, group);
        }
    }

    fn profile(&mut self, label: &str, group: &[(usize, EdgeWork)]) {
        let (i, first) = group[0];
        let (id, s) = (self.id(i), self.s);
        let kind = if first.tongue { "tongue" } else { "groove" };
        let words = self.words(i);
        let rules: Vec<Rule> = group[1..]
            .iter()
            .flat_map(|(_, w)| [equal(first.depth, w.depth), equal(first.z0, w.z0), equal(first.z1, w.z1)])
            .collect();
        if !rules.is_empty() {
            self.out.conventions.push(Convention::said(
                format!("alike/{id}"),
                format!("Edges marked {label} have one section."),
                rules,
            ));
        }
        let thickness = s.thickness.unwrap_or(VarId(0));
        let middle = (s.value(first.z0) + s.value(first.z1) - s.value(thickness)).abs() < SAME;
        let below = if middle {
            self.out.conventions.push(Convention::said(
                format!("middle/{id}"),
                "Tongues and grooves lie in the middle of the thickness.".to_string(),
                vec![Rule::Centred(first.z0, first.z1, thickness)],
            ));
            None
        } else if s.value(first.z0).abs() < SAME {
            self.out.conventions.push(Convention::said(
                format!("flush/{id}"),
                format!("{} {label} is flush with the lower face.", capital(kind)),
                vec![Rule::Var(first.z0)],
            ));
            None
        } else {
            Some(self.dim(
                format!("{id}/below"),
                Rule::Var(first.z0),
                Look::Section,
                format!("the height of {words} above the lower face"),
            ))
        };
        let band = self.dim(
            format!("{id}/width"),
            Rule::Less(first.z0, first.z1),
            Look::Section,
            format!("the width of {words}"),
        );
        let depth = self.dim(
            format!("{id}/depth"),
            Rule::Var(first.depth),
            Look::Section,
            format!("the depth of {words}"),
        );
        let members = group.iter().map(|g| g.0).collect();
        self.out.sections.push(EdgeSection {
            letter: label.to_string(),
            members,
            thickness: None,
            below,
            band,
            depth,
        });
    }

    /// Where each groove or tongue begins and ends; stretches alike share a row.
    fn stretches(&mut self, label: &str, group: &[(usize, EdgeWork)]) {
        let s = self.s;
        let alike = |a: &EdgeWork, b: &EdgeWork| {
            (s.value(a.near) - s.value(b.near)).abs() < SAME && (s.value(a.far) - s.value(b.far)).abs() < SAME
        };
        let mut kinds: Vec<Vec<(usize, EdgeWork)>> = Vec::new();
        for &w in group {
            match kinds.iter_mut().find(|k| alike(&k[0].1, &w.1)) {
                Some(k) => k.push(w),
                None => kinds.push(vec![w]),
            }
        }
        let many = kinds.len() > 1;
        for (n, kind) in kinds.iter().enumerate() {
            let (i, w) = kind[0];
            let id = self.id(i);
            let rules: Vec<Rule> =
                kind[1..].iter().flat_map(|(_, q)| [equal(w.near, q.near), equal(w.far, q.far)]).collect();
            if !rules.is_empty() {
                self.say(format!("stretch/{id}"), rules);
            }
            let (begins, ends) = self.stretch(i, &w);
            self.out.edges.push(EdgeRow {
                label: if many { format!("{label}{}", n + 1) } else { label.to_string() },
                members: kind.iter().map(|k| k.0).collect(),
                what: if w.tongue { "tongue".into() } else { "groove".into() },
                base: self.base(&w),
                begins,
                ends,
            });
        }
    }

    /// Where a stretch is measured from. Corners of an outline without a mirror line have numbers for names, which
    /// no sheet shows; there the end nearer the datum is meant, as always.
    fn base(&self, w: &EdgeWork) -> String {
        match (self.frame.mirror || self.frame.pins.is_some(), self.frame.fold) {
            (true, _) => general(&self.s.points[w.base.0].words),
            (false, 3..) => "the inner end".into(),
            (false, _) => "the end nearer the datum".into(),
        }
    }

    /// Begin and end cells of one stretch.
    fn stretch(&mut self, i: usize, w: &EdgeWork) -> (Vec<Piece>, Vec<Piece>) {
        let s = self.s;
        let (id, words) = (self.id(i), self.words(i));
        let arc = s.sides().get(w.edge).and_then(|q| q.arc);
        let length = match arc {
            None => s.at(w.base).dist(s.at(w.tip)),
            Some((c, sweep)) => s.circle_at(c).1 * sweep.abs(),
        };
        let begins = if s.value(w.near).abs() < SAME {
            self.say(format!("from-end/{id}"), vec![Rule::Var(w.near)]);
            vec![text("0")]
        } else {
            let rule = Rule::Var(w.near);
            let words = format!("where {words} begins");
            vec![Piece::Figure(self.dim(format!("{id}/from"), rule, Look::Edge, words))]
        };
        let ends = if (s.value(w.far) - length).abs() < SAME {
            let rule = match arc {
                None => Rule::VarLessDistance(w.far, w.base, w.tip),
                Some((c, _)) => Rule::VarLessArc(w.far, w.base, w.tip, c),
            };
            self.say(format!("to-end/{id}"), vec![rule]);
            vec![text("end of the edge")]
        } else {
            let rule = Rule::Var(w.far);
            let words = format!("where {words} ends");
            vec![Piece::Figure(self.dim(format!("{id}/to"), rule, Look::Edge, words))]
        };
        (begins, ends)
    }
}
