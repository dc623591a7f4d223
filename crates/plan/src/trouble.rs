//! What to say when there is no mechanism.
//!
//! In: the plan, its sizes and the solver's reasons. Out: diagnostics that name the fields at odds, what would
//! happen with the sizes as given, and changes of one size that mend it.
//! Always true: each change offered was solved and proved before it is offered.

use crate::mending::{as_given, remedies_for_sizes};
use turnleaf_diag::Diagnostic;
use turnleaf_mechanism::{Sizes, Trouble};
use turnleaf_planfile::{Plan, origin};

/// Says why there is no mechanism; quick enough to follow a size while it is dragged.
pub(crate) fn name(troubles: &[Trouble]) -> Vec<Diagnostic> {
    troubles
        .iter()
        .map(|t| {
            let origins: Vec<_> = t.sizes.iter().filter_map(|id| origin(id)).collect();
            Diagnostic::error(format!("mechanism.{}", t.code), t.sentence.clone()).origins(&origins)
        })
        .collect()
}

/// Says it with what would mend it.
pub(crate) fn explain(plan: &Plan, sizes: &Sizes, troubles: &[Trouble]) -> Vec<Diagnostic> {
    let hint = hint(plan, sizes, troubles);
    name(troubles).into_iter().map(|d| d.hint(hint.clone())).collect()
}

fn hint(plan: &Plan, sizes: &Sizes, troubles: &[Trouble]) -> String {
    let mut words: Vec<String> = Vec::new();
    if let Some(text) = as_given(plan) {
        words.push(format!("Built as given: {text}"));
    }
    let list: Vec<String> = remedies_for_sizes(plan, sizes, troubles).into_iter().map(|m| m.text).collect();
    match list.len() {
        0 => words.push(
            "No change of one size alone was found to mend it; change the diameters and the number of sectors together."
                .into(),
        ),
        1 => words.push(list[0].clone()),
        _ => words.push(format!("Any one of these mends it. {}", list.join(" "))),
    }
    words.join(" ")
}
