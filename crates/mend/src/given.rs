//! What would happen with the sizes as they were given.
//!
//! In: sizes that have no mechanism because of one of them. Out: the table that would come of them all the same,
//! and the checks that fail on it: which pieces meet, and at what turn.
//! Always true: a mechanism for the sizes without the offending ones was solved, then those were put back by
//! force; everything that fails is from the proof of that table.

use turnleaf_mechanism::{Drive, Mechanism, Sizes, layout::layout, solve};
use turnleaf_motion::{Check, checks, prove};
use turnleaf_parts::{Assembly, assemble};

/// A table made against the solver's advice.
#[derive(Clone, Debug, PartialEq)]
pub struct AsGiven {
    /// The table.
    pub assembly: Assembly,
    /// What fails: arms against arms first, then the worst first.
    pub failing: Vec<Check>,
}

/// Builds the table as given. None when the sizes have a mechanism, or none can be forced on them.
pub fn as_given(s: &Sizes) -> Option<AsGiven> {
    if solve(s).is_ok() {
        return None;
    }
    relaxed(s).into_iter().find_map(|t| {
        let assembly = assemble(&forced(solve(&t).ok()?, s));
        let mut failing: Vec<Check> =
            checks(&assembly, &prove(&assembly)).into_iter().filter(|c| !c.holds).collect();
        // What the solver looks for first is told first: arms against arms.
        let arms = |c: &Check| c.parts.len() == 2 && c.parts.iter().all(|p| p.ends_with("-arm"));
        failing.sort_by(|x, y| arms(y).cmp(&arms(x)).then(x.margin.total_cmp(&y.margin)));
        (!failing.is_empty()).then_some(AsGiven { assembly, failing })
    })
}

/// The sizes with what may be put back by force left open or made harmless, the least first.
fn relaxed(s: &Sizes) -> Vec<Sizes> {
    let bends = Sizes { panel_arm_bend: None, leaf_arm_bend: None, ..s.clone() };
    let slender = Sizes { arm_width: 8.0, arm_clearance: 0.5, ..s.clone() };
    let shallow = |depth: f64| Sizes { tongue_depth: s.tongue_depth * depth, ..s.clone() };
    vec![
        Sizes { panel_arm_bend: None, ..s.clone() },
        Sizes { leaf_arm_bend: None, ..s.clone() },
        bends.clone(),
        slender.clone(),
        Sizes { arm_width: 8.0, arm_clearance: 0.5, ..bends },
        shallow(0.75),
        shallow(0.5),
        shallow(0.25),
        Sizes { tongue_depth: s.tongue_depth * 0.25, ..slender },
    ]
}

/// The mechanism with the given bends, widths and tongues put back.
fn forced(mut m: Mechanism, s: &Sizes) -> Mechanism {
    if let Drive::Arms(a) = &mut m.drive {
        a.panel.bend = s.panel_arm_bend.unwrap_or(a.panel.bend);
        a.leaf.bend = s.leaf_arm_bend.unwrap_or(a.leaf.bend);
    }
    Mechanism { sizes: s.clone(), layout: layout(s), ..m }
}
