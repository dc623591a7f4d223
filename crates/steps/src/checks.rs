//! Which checks of the table can be made after which step.
//!
//! In: the proof over the whole turn, the checks, the steps. Out: lines added to the steps.
//! Always true: a clearance is asked for in the first step in which both parts are in and everything that drives them
//! is in too, so that it can be seen by turning; numbers are those of the proof.

use crate::line::{BuildStep, Value};
use crate::stage::Stage;
use crate::{Line, Table};
use turnleaf_geom::trig;
use turnleaf_motion::PairResult;
use turnleaf_motion::expect::Expect;
use turnleaf_motion::proof::FAR;
use turnleaf_parts::{Law, Motion};

/// Most clearances asked for in one step: more would not be looked at.
const MOST: usize = 2;

/// Checks of one number: identifier, the stage after which they can be made, message.
const NUMBERS: [(&str, Stage, &str); 7] = [
    ("engaged.panel-slide", Stage::PanelSlides, "step-check-engaged-panel"),
    ("engaged.leaf-slide", Stage::LeafSlides, "step-check-engaged-leaf"),
    ("hidden.leaf", Stage::Panels, "step-check-hidden-leaf"),
    ("lift.panel.leaf", Stage::Panels, "step-check-tongues"),
    ("lift.leaf.star", Stage::Leaves, "step-check-tongues-star"),
    ("height.under-base", Stage::Frame, "step-check-under"),
    ("stop.between", Stage::Stops, "step-check-stops"),
];

/// Clearances by the step in which they are asked for.
pub(crate) struct Checks<'a> {
    table: &'a Table<'a>,
    pairs: Vec<Vec<&'a PairResult>>,
}

impl<'a> Checks<'a> {
    /// Sorts the pairs of the proof by step.
    pub fn new(table: &'a Table<'a>, steps: &[BuildStep]) -> Checks<'a> {
        let a = table.assembly;
        let step_of = |part: &str| {
            let k = a.parts.iter().position(|p| p.id == part)?;
            steps.iter().position(|s| s.pieces.iter().chain(&s.hardware).any(|p| p.0 == k))
        };
        // What must be in before a part moves.
        let driven = |part: &str| {
            let motion = a.pieces.iter().find(|p| a.parts[p.part].id == part).map(|p| p.motion);
            let with: &[&str] = match motion {
                Some(Motion::Base) | None => &[],
                Some(Motion::Arm { law: Law::Panel, .. } | Motion::Sliding { law: Law::Panel, .. }) => {
                    &["turning-plate", "panel-slide-pin"]
                }
                Some(Motion::Arm { law: Law::Leaf, .. } | Motion::Sliding { law: Law::Leaf, .. }) => {
                    &["turning-plate", "leaf-slide-pin"]
                }
                Some(_) => &["turning-plate"],
            };
            with.iter().filter_map(|id| step_of(id)).max().unwrap_or(0)
        };
        let mut pairs = vec![Vec::new(); steps.len()];
        for p in &table.proof.pairs {
            let clear = matches!(p.expect, Expect::Clear(_));
            let (Some(x), Some(y)) = (step_of(&p.a), step_of(&p.b)) else { continue };
            if !clear || p.distance >= FAR || !p.holds {
                continue;
            }
            pairs[x.max(y).max(driven(&p.a)).max(driven(&p.b))].push(p);
        }
        // Arms first, because they are what a maker has bent by hand; then the tightest.
        for list in &mut pairs {
            let arms = |p: &PairResult| p.a.ends_with("-arm") && p.b.ends_with("-arm");
            list.sort_by(|x, y| arms(y).cmp(&arms(x)).then(x.distance.total_cmp(&y.distance)));
        }
        Checks { table, pairs }
    }

    /// Adds the checks of the i-th step.
    pub fn add(&self, i: usize, stage: Stage, step: &mut BuildStep) {
        for (id, at, message) in NUMBERS {
            let Some(c) = self.table.checks.iter().find(|c| c.id == id && at == stage && c.holds) else {
                continue;
            };
            let value = if c.unit == "deg" { Value::Degrees(c.value) } else { Value::Length(c.value) };
            let limit = if c.unit == "deg" { Value::Degrees(c.limit) } else { Value::Length(c.limit) };
            step.check(message, [("value", value), ("limit", limit)]);
        }
        for p in self.pairs.get(i).into_iter().flatten().take(MOST) {
            let values = [
                ("a", Value::Part(p.a.clone())),
                ("b", Value::Part(p.b.clone())),
                ("value", Value::Length(p.distance)),
                ("turn", Value::Degrees(trig::deg(p.turn))),
            ];
            let name = if p.a == p.b { "step-check-own" } else { "step-check-clear" };
            step.tight.push(Line::with(name, values));
        }
    }
}
