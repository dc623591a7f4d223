//! Grooves and tongues on edges.
//!
//! In: edge features. Out: one section for every distinct profile, where each begins and ends, and the
//! conventions that spare figures (full length, alike, in the middle of the thickness).
//! Always true: distances run along the edge from the end nearer the datum, both from that end.

use super::{Builder, letter};
use crate::convention::{Convention, equal};
use crate::drawing::{EdgeSection, Look};
use crate::frame::SAME;
use crate::rule::{Rule, VarId};
use crate::sketch::{EdgeWork, Shape};

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
        for (k, group) in groups.iter().enumerate() {
            self.profile(k, group);
            self.stretches(group);
        }
    }

    fn profile(&mut self, k: usize, group: &[(usize, EdgeWork)]) {
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
                format!("All {kind}s marked {} have one section.", letter(k)),
                rules,
            ));
        }
        let thickness = s.thickness.unwrap_or(VarId(0));
        let middle = (s.value(first.z0) + s.value(first.z1) - s.value(thickness)).abs() < SAME;
        let below = if middle {
            self.out.conventions.push(Convention::said(
                format!("middle/{id}"),
                format!("The {kind} lies in the middle of the thickness."),
                vec![Rule::Centred(first.z0, first.z1, thickness)],
            ));
            None
        } else if s.value(first.z0).abs() < SAME {
            self.out.conventions.push(Convention::said(
                format!("flush/{id}"),
                format!("The {kind} is flush with the lower face."),
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
            letter: letter(k),
            members,
            thickness: None,
            below,
            band,
            depth,
        });
    }

    /// Where each groove or tongue begins and ends.
    fn stretches(&mut self, group: &[(usize, EdgeWork)]) {
        let s = self.s;
        let sides = s.sides().to_vec();
        for (n, &(i, w)) in group.iter().enumerate() {
            let id = self.id(i);
            let words = self.words(i);
            let kind = if w.tongue { "tongue" } else { "groove" };
            let length = match sides[w.edge].arc {
                None => s.at(w.base).dist(s.at(w.tip)),
                Some((c, sweep)) => s.circle_at(c).1 * sweep.abs(),
            };
            let like = group[..n].iter().find(|(_, q)| {
                (s.value(q.near) - s.value(w.near)).abs() < SAME
                    && (s.value(q.far) - s.value(w.far)).abs() < SAME
            });
            if let Some((_, q)) = like {
                let rules = vec![equal(q.near, w.near), equal(q.far, w.far)];
                self.say(format!("stretch/{id}"), rules);
                continue;
            }
            if s.value(w.near).abs() < SAME {
                self.say(format!("from-end/{id}"), vec![Rule::Var(w.near)]);
            } else {
                self.dim(
                    format!("{id}/from"),
                    Rule::Var(w.near),
                    Look::AlongEdge,
                    format!("where {words} begins"),
                );
            }
            if (s.value(w.far) - length).abs() < SAME {
                let rule = match sides[w.edge].arc {
                    None => Rule::VarLessDistance(w.far, w.base, w.tip),
                    Some((c, _)) => Rule::VarLessArc(w.far, w.base, w.tip, c),
                };
                let sentence = if s.value(w.near).abs() < SAME {
                    format!("The {kind} runs the full length of its edge.")
                } else {
                    String::new()
                };
                self.out.conventions.push(Convention::said(format!("to-end/{id}"), sentence, vec![rule]));
            } else {
                self.dim(
                    format!("{id}/to"),
                    Rule::Var(w.far),
                    Look::AlongEdge,
                    format!("where {words} ends"),
                );
            }
        }
    }
}
