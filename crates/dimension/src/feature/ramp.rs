//! The rise of a ramp: its slope line developed at the middle of its width.
//!
//! In: ramp features. Out: the sentence that says how the upper face runs, and the figures of its developed view.
//! Always true: the rise is the thickness and the run follows from the outline, so only the two roundings are
//! figures of its own; run and steepest slope are given for reference.

use super::Builder;
use crate::convention::Convention;
use crate::drawing::{Look, RampView};
use crate::rule::Rule;
use crate::sketch::Shape;

impl Builder<'_> {
    pub(super) fn ramps(&mut self, group: &[usize]) {
        for &i in group {
            let (Shape::Ramp(r), Some(thickness)) = (&self.s.features[i].shape, self.s.thickness) else {
                continue;
            };
            let id = self.id(i);
            self.out.conventions.push(Convention::said(
                format!("rise/{id}"),
                "The upper face is level along every radius; seen from above it rises clockwise round the centre \
                 of the arcs, from nothing at the foot to the full thickness at the head.",
                vec![Rule::Var(r.low), Rule::Less(r.high, thickness)],
            ));
            self.out.conventions.push(Convention::said(
                format!("developed/{id}"),
                "Developed view: hollow arc, straight and round arc meet smoothly, and meet foot and head level.",
                Vec::new(),
            ));
            let mut figure = |name: &str, rule: Rule, words: &str, reference: bool| {
                let d = self.dim(format!("{id}/{name}"), rule, Look::Section, words.to_string());
                self.out.dimensions[d].reference = reference;
                d
            };
            let foot = figure("foot", Rule::Var(r.foot), "the radius of the hollow at the foot", false);
            let head = figure("head", Rule::Var(r.head), "the radius of the rounding at the head", false);
            let run =
                figure("run", Rule::Var(r.run), "the developed length in the middle of the width", true);
            let slope = Rule::RampSlope(r.high, r.run, r.foot, r.head);
            let slope = figure("slope", slope, "the slope where it is steepest", true);
            self.out.ramp = Some(RampView { member: i, foot, head, run, slope });
        }
    }
}
