//! What a change must achieve.
//!
//! In: a check, a figure, or nothing but a sound table. Out: whether an assembly achieves it.
//! Always true: [`Goal::full`] is never true when something fails that held before.

use std::collections::BTreeSet;
use turnleaf_figures::{Assumptions, figures};
use turnleaf_motion::proof::{Bodies, Proof, prove_pair};
use turnleaf_motion::{Check, checks, prove};
use turnleaf_parts::Assembly;

#[derive(Clone)]
enum Target {
    /// This check holds.
    Check(String),
    /// This figure has no negative margin.
    Figure(String),
    /// Everything holds.
    Sound,
}

/// What a change must achieve.
pub(crate) struct Goal {
    target: Target,
    /// Checks that failed before and may go on failing.
    excused: BTreeSet<String>,
}

fn failing(checks: &[Check]) -> BTreeSet<String> {
    checks.iter().filter(|c| !c.holds).map(|c| c.id.clone()).collect()
}

impl Goal {
    pub fn check(id: &str, now: &[Check]) -> Goal {
        let mut excused = failing(now);
        excused.remove(id);
        Goal { target: Target::Check(id.into()), excused }
    }
    pub fn figure(id: &str, now: &[Check]) -> Goal {
        Goal { target: Target::Figure(id.into()), excused: failing(now) }
    }
    pub fn sound() -> Goal {
        Goal { target: Target::Sound, excused: BTreeSet::new() }
    }
    /// The same target, with nothing excused.
    pub fn strict(&self) -> Goal {
        Goal { target: self.target.clone(), excused: BTreeSet::new() }
    }
    /// Whether something else failed before.
    pub fn excuses(&self) -> bool {
        !self.excused.is_empty()
    }
    /// Whether the target alone is met; quicker than the whole proof.
    pub fn quick(&self, a: &Assembly) -> bool {
        match &self.target {
            Target::Sound => true,
            Target::Figure(id) => {
                let all = figures(a, &Assumptions::default());
                all.iter().find(|f| f.id == *id).is_some_and(|f| f.holds() != Some(false))
            }
            Target::Check(id) => {
                let mut words = id.split('.');
                if words.next() == Some("clear")
                    && let (Some(x), Some(y)) = (words.next(), words.next())
                {
                    let (Some(p), Some(q)) = (Bodies::part(a, x), Bodies::part(a, y)) else { return true };
                    let pair = prove_pair(a, &Bodies::new(a), p, q, 0.0, a.mechanism.turn());
                    return pair.is_none_or(|(r, _)| r.holds);
                }
                let none = Proof { pairs: Vec::new(), joined: Vec::new(), looks: 0 };
                checks(a, &none).iter().all(|c| c.id != *id || c.holds)
            }
        }
    }
    /// Whether the target is met and nothing fails that held before.
    pub fn full(&self, a: &Assembly) -> bool {
        let now = failing(&checks(a, &prove(a)));
        now.is_subset(&self.excused) && (!matches!(self.target, Target::Figure(_)) || self.quick(a))
    }
    /// Both, the quick one first.
    pub fn met(&self, a: &Assembly) -> bool {
        self.quick(a) && self.full(a)
    }
}
