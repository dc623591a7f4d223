//! Changes that mend a table.
//!
//! In: a table and a check or figure that fails, or sizes that have no mechanism. Out: [`Remedy`]s in plain words.
//! Always true: every remedy was tried before it is offered — solved again, assembled, proved over the whole
//! turn — and it mends what was asked about without making anything fail that held before. The search is bounded
//! and deterministic; a value offered is the nearest that works among those tried, on whole marks of a rule.
//!
//! ```
//! use turnleaf_mechanism::{Sizes, solve};
//! use turnleaf_mend::{Marks, mend_sizes};
//! // Arms bent the wrong way meet each other on the way.
//! let sizes = Sizes {
//!     panel_pin_radius: Some(150.0),
//!     panel_arm_length: Some(300.0),
//!     panel_arm_bend: Some(-80.0),
//!     ..Sizes::example()
//! };
//! let troubles = solve(&sizes).expect_err("arms would meet");
//! let remedies = mend_sizes(&sizes, &troubles, Marks::Metric);
//! assert!(!remedies.is_empty());
//! for remedy in remedies {
//!     let mended = remedy.sizes(&sizes).expect("a change of sizes");
//!     assert!(solve(&mended).is_ok(), "{}", remedy.text);
//! }
//! ```

mod dial;
mod given;
mod goal;
mod remedy;
mod restore;
mod size;

pub use dial::{DIALS, Dial, Marks, metric};
pub use given::{AsGiven, as_given};
pub use remedy::{Change, Remedy};

use goal::Goal;
use turnleaf_mechanism::{Sizes, Trouble, solve};
use turnleaf_motion::Check;
use turnleaf_parts::{Assembly, assemble};

/// As many remedies are offered at most.
pub const OFFERED: usize = 3;

/// Sizes tried when those that a check names do not give enough.
const OTHERS: [&str; 6] =
    ["tongue_depth", "ramp_sweep", "open_diameter", "closed_diameter", "arm_width", "sectors"];

/// What mends a check. Nothing when it holds, or when nothing was found.
pub fn mend(a: &Assembly, checks: &[Check], id: &str, marks: Marks) -> Vec<Remedy> {
    let Some(check) = checks.iter().find(|c| c.id == id && !c.holds) else { return Vec::new() };
    best(a, &Goal::check(id, checks), check.sizes, marks)
}

/// What mends a strength or safety figure whose margin is negative.
pub fn mend_figure(a: &Assembly, checks: &[Check], id: &str, marks: Marks) -> Vec<Remedy> {
    let goal = Goal::figure(id, checks);
    if goal.quick(a) {
        return Vec::new();
    }
    let sizes: &[&str] = if id.starts_with("tip.") {
        &["edge_load", "open_diameter", "closed_diameter", "stock_thickness", "ply_thickness"]
    } else {
        &["edge_load", "stock_thickness", "slide_thickness", "plate_thickness", "ramp_sweep"]
    };
    best(a, &goal, sizes, marks)
}

/// Changes after which nothing fails at all; only when there are none, such as leave other failures standing.
fn best(a: &Assembly, goal: &Goal, sizes: &[&str], marks: Marks) -> Vec<Remedy> {
    let whole = with(a, &goal.strict(), sizes, marks);
    if whole.is_empty() && goal.excuses() { with(a, goal, sizes, marks) } else { whole }
}

fn with(a: &Assembly, goal: &Goal, sizes: &[&str], marks: Marks) -> Vec<Remedy> {
    let m = &a.mechanism;
    let solved = solve(&m.sizes).ok();
    let built = assemble(m);
    let as_built = built == *a;
    if as_built && solved.as_ref() == Some(m) {
        return size::remedies(&m.sizes, Some(m), goal, &names(sizes, &m.sizes), marks);
    }
    // A table that is not what its sizes give is first put right; its sizes may be innocent.
    let mut out = restore::remedies(a, &built, solved.as_ref(), goal);
    if as_built {
        out.extend(size::held(a, goal, sizes, marks));
    }
    if solved.is_none() && out.len() < OFFERED {
        out.extend(size::remedies(&m.sizes, Some(m), goal, &names(sizes, &m.sizes), marks));
    }
    let mut texts: Vec<String> = Vec::new();
    out.retain(|r| !texts.contains(&r.text) && (texts.push(r.text.clone()), true).1);
    out.truncate(OFFERED);
    out
}

/// What gives sizes a mechanism that passes every check.
pub fn mend_sizes(s: &Sizes, troubles: &[Trouble], marks: Marks) -> Vec<Remedy> {
    let at_odds: Vec<&str> = troubles.iter().flat_map(|t| t.sizes.iter().copied()).collect();
    // What was fixed by hand is the first to suspect.
    let by_hand = DIALS.iter().filter(|d| d.given(s)).map(|d| d.size);
    let sizes: Vec<&str> = by_hand.chain(at_odds).collect();
    size::remedies(s, None, &Goal::sound(), &names(&sizes, s), marks)
}

/// The names followed by the skew, if there is one, and the usual others, each once.
fn names<'a>(first: &[&'a str], s: &Sizes) -> Vec<&'a str> {
    let skew: &[&str] = if s.slide_skew == 0.0 { &[] } else { &["slide_skew"] };
    let mut out: Vec<&str> = Vec::new();
    for name in first.iter().chain(skew).chain(&OTHERS) {
        if !out.contains(name) {
            out.push(name);
        }
    }
    out
}
