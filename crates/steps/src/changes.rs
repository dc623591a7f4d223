//! The maker's changes laid over the generated steps.
//!
//! In: steps from the design, changes from the plan file. Out: the list as the book shows it, and what does not fit.
//! Always true: a change to a step that this table does not have is kept in the plan and told, never lost; steps keep
//! their identifiers wherever they are moved.

use crate::line::BuildStep;
use turnleaf_diag::{Diagnostic, Severity};
use turnleaf_planfile::{FIRST, StepChange};

/// A step as the book shows it.
#[derive(Clone, Debug, PartialEq)]
pub struct Changed<'a> {
    /// Identifier.
    pub id: String,
    /// The step from the design; None for one of the maker's own.
    pub made: Option<BuildStep>,
    /// What the maker changed about it.
    pub change: Option<&'a StepChange>,
}

impl Changed<'_> {
    /// Whether it is left out of the book.
    pub fn hidden(&self) -> bool {
        self.change.is_some_and(|c| c.hidden)
    }
}

fn note(code: &str, sentence: String) -> Diagnostic {
    Diagnostic { severity: Severity::Note, ..Diagnostic::warning(code, sentence) }
}

/// The generated steps with the changes made; hidden ones stay in the list. Titles are asked for by identifier.
pub fn merged<'a>(
    steps: Vec<BuildStep>,
    changes: &'a [StepChange],
    title: &dyn Fn(&str) -> String,
) -> (Vec<Changed<'a>>, Vec<Diagnostic>) {
    let mut said = Vec::new();
    let mut out: Vec<Changed> = steps
        .into_iter()
        .map(|s| {
            let change = changes.iter().find(|c| c.id == s.id);
            Changed { id: s.id.clone(), made: Some(s), change }
        })
        .collect();
    for c in changes {
        if c.own() {
            out.push(Changed { id: c.id.clone(), made: None, change: Some(c) });
        } else if !out.iter().any(|s| s.id == c.id) {
            let sentence =
                format!("This table has no step “{}”; what was changed about it is kept in the plan.", c.id);
            said.push(note("steps.absent", sentence));
        }
    }
    for c in changes {
        let (Some(after), Some(from)) = (&c.after, out.iter().position(|s| s.id == c.id)) else { continue };
        let step = out.remove(from);
        let to = match out.iter().position(|s| s.id == *after) {
            _ if after == FIRST => 0,
            Some(i) => i + 1,
            None => {
                let sentence = format!(
                    "The step “{}” should stand behind “{after}”, which this table does not have; it stays where it was.",
                    c.id
                );
                said.push(Diagnostic::warning("steps.after", sentence));
                from
            }
        };
        out.insert(to, step);
    }
    for (i, s) in out.iter().enumerate() {
        let Some(made) = &s.made else { continue };
        let late = made.needs.iter().filter(|n| out[i + 1..].iter().any(|later| later.id == **n));
        for n in late {
            let sentence =
                format!("The step “{}” stands before “{}”, which it needs.", title(&s.id), title(n));
            let hint = "Move it behind that step, or say in its text how it is done without.";
            said.push(Diagnostic::warning("steps.order", sentence).hint(hint));
        }
        if s.hidden() && !(made.put_in.is_empty() && made.hardware.is_empty()) {
            let sentence = format!(
                "The step “{}” is hidden; what it puts in stands in no step of the book.",
                title(&s.id)
            );
            said.push(note("steps.hidden", sentence));
        }
    }
    (out, said)
}
