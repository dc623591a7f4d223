//! Build steps: what is made and what is put in when, with settings, checks before going on, and times.
//!
//! In: a table with its checks; the maker's changes. Out: [`BuildStep`]s in the order of building; the same list
//! with the changes made; references in the maker's texts.
//! Always true: every piece is put in in exactly one step, and by then nothing stands in its way; every bought thing
//! counts in exactly one step; an identifier depends on what a step is about and never on its place in the list.
//! Nothing here knows words of a language: texts are message names with values.
//!
//! ```
//! use turnleaf_mechanism::{Sizes, solve};
//! use turnleaf_steps::{Table, build_steps};
//! let assembly = turnleaf_parts::assemble(&solve(&Sizes::example()).expect("the demo's sizes agree"));
//! let proof = turnleaf_motion::prove(&assembly);
//! let checks = turnleaf_motion::checks(&assembly, &proof);
//! let steps = build_steps(&Table { assembly: &assembly, checks: &checks, proof: &proof });
//! // Every piece of the table goes in once.
//! let mut put_in: Vec<&str> = steps.iter().flat_map(|s| s.put_in.iter().map(String::as_str)).collect();
//! let mut pieces: Vec<&str> = assembly.pieces.iter().map(|p| p.id.as_str()).collect();
//! put_in.sort_unstable();
//! pieces.sort_unstable();
//! assert_eq!(put_in, pieces);
//! ```

mod changes;
mod checks;
mod fit;
mod line;
mod make;
mod refs;
mod stage;
mod time;

pub use changes::{Changed, merged};
pub use line::{BuildStep, Line, Look, Value};
pub use refs::{Piece, nearest, pieces};
pub use stage::{Stage, Unit, units};
pub use time::{FIT, GROOVE, HOLE, OUTLINE, PIECE, STEP, Work, minutes, spoken};

use turnleaf_assembly::relations::Relations;
use turnleaf_motion::{Check, Proof};
use turnleaf_parts::Assembly;

/// What steps are made from.
#[derive(Clone, Copy)]
pub struct Table<'a> {
    /// Parts and pieces.
    pub assembly: &'a Assembly,
    /// Checks with margins.
    pub checks: &'a [Check],
    /// Clearances over the whole turn.
    pub proof: &'a Proof,
}

/// All steps in the order of building: first what is made at the bench, then what is put in.
pub fn build_steps(t: &Table) -> Vec<BuildStep> {
    steps_of(t, &units(t.assembly, &Relations::of(t.assembly)))
}

/// All steps from units already found.
pub fn steps_of(t: &Table, units: &[Unit]) -> Vec<BuildStep> {
    let mut steps = make::steps(t);
    let made = steps.len();
    steps.extend(fit::steps(t, units));
    // What is put in must have been made.
    for i in made..steps.len() {
        let parts: Vec<usize> = steps[i].pieces.iter().map(|p| p.0).collect();
        let before: Vec<String> = steps[..made]
            .iter()
            .filter(|s| s.pieces.iter().any(|p| parts.contains(&p.0)))
            .map(|s| s.id.clone())
            .collect();
        steps[i].needs.extend(before);
    }
    steps
}
