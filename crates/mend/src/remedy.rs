//! A change that mends a table, and how to make it.
//!
//! In: a size and its new value, or a part that is not as it was solved. Out: [`Remedy`], as words and applied.
//! Always true: applying a remedy gives the very table that was tried.

use crate::dial::Dial;
use turnleaf_mechanism::{Drive, Mechanism, Sizes, layout::layout, solve};
use turnleaf_parts::{Assembly, assemble};

/// A change.
#[derive(Clone, Debug, PartialEq)]
pub enum Change {
    /// One size; everything is solved again.
    Size {
        /// Plan-file name.
        size: &'static str,
        /// "mm", "deg", "count" or "N".
        unit: &'static str,
        /// Present value; found by the solver when it was left open.
        from: f64,
        /// Value that works.
        to: f64,
    },
    /// A size fixed by hand is left to the solver.
    Leave {
        /// Plan-file name.
        size: &'static str,
    },
    /// One size, while the mechanism stays as it is.
    Held {
        /// Plan-file name.
        size: &'static str,
        /// Unit.
        unit: &'static str,
        /// Present value.
        from: f64,
        /// Value that works.
        to: f64,
    },
    /// A part and its pieces as they follow from the mechanism.
    Part {
        /// The part.
        id: String,
    },
    /// The drop rollers where the solver puts them.
    Rollers,
    /// The panel arms as the solver finds them, for the travel that the sizes give.
    PanelArms,
    /// The leaf arms as the solver finds them, for the travel that the sizes give.
    LeafArms,
    /// Everything as the sizes give it.
    Everything,
}

/// A change that was tried and mends the table.
#[derive(Clone, Debug, PartialEq)]
pub struct Remedy {
    /// One plain sentence, metric.
    pub text: String,
    /// The change.
    pub change: Change,
}

impl Remedy {
    /// Says a change of a size; `show` prints a value with its unit.
    pub fn sentence(change: &Change, show: impl Fn(f64, &str) -> String) -> Option<String> {
        match change {
            Change::Size { size, unit, from, to } | Change::Held { size, unit, from, to } => {
                let dial = Dial::of(size)?;
                if *unit == "count" {
                    return Some(format!(
                        "{}: {} → {}.",
                        if to > from { dial.more } else { dial.less },
                        show(*from, unit),
                        show(*to, unit)
                    ));
                }
                Some(format!(
                    "{} by {}: {} → {}.",
                    if to > from { dial.more } else { dial.less },
                    show((to - from).abs(), unit),
                    show(*from, unit),
                    show(*to, unit)
                ))
            }
            Change::Leave { size } => Some(format!("Leave the {} open.", size.replace('_', " "))),
            _ => None,
        }
    }
    /// The sizes with this change; None when it is not a change of sizes.
    pub fn sizes(&self, s: &Sizes) -> Option<Sizes> {
        match &self.change {
            Change::Size { size, to, .. } | Change::Held { size, to, .. } => {
                Some(Dial::of(size)?.set(s, *to))
            }
            Change::Leave { size } => Some(Dial::of(size)?.freed(s)),
            _ => None,
        }
    }
    /// The table with this change.
    pub fn apply(&self, a: &Assembly) -> Option<Assembly> {
        let m = &a.mechanism;
        match &self.change {
            Change::Size { .. } | Change::Leave { .. } => {
                Some(assemble(&solve(&self.sizes(&m.sizes)?).ok()?))
            }
            Change::Held { size, to, .. } => Some(assemble(&held(m, Dial::of(size)?, *to))),
            Change::Part { id } => with_part(a, &assemble(m), id),
            Change::Rollers | Change::PanelArms | Change::LeafArms | Change::Everything => {
                Some(assemble(&with_members(m, &solve(&m.sizes).ok()?, &self.change)))
            }
        }
    }
}

/// The mechanism with one size changed and nothing solved again.
pub(crate) fn held(m: &Mechanism, dial: &Dial, value: f64) -> Mechanism {
    let sizes = dial.set(&m.sizes, value);
    Mechanism { layout: layout(&sizes), sizes, ..m.clone() }
}

/// The assembly with a part and its pieces taken from another one of the same mechanism.
pub(crate) fn with_part(a: &Assembly, from: &Assembly, id: &str) -> Option<Assembly> {
    let mut out = a.clone();
    let at = out.parts.iter().position(|p| p.id == id)?;
    let source = from.parts.iter().position(|p| p.id == id)?;
    out.parts[at] = from.parts[source].clone();
    let pieces = from.pieces.iter().filter(|p| p.part == source);
    let mine: Vec<usize> = (0..out.pieces.len()).filter(|&i| out.pieces[i].part == at).collect();
    for (i, piece) in mine.into_iter().zip(pieces) {
        out.pieces[i] = turnleaf_parts::Piece { part: at, ..piece.clone() };
    }
    Some(out)
}

/// The mechanism with members of a freshly solved one.
pub(crate) fn with_members(m: &Mechanism, fresh: &Mechanism, change: &Change) -> Mechanism {
    // The plan layout follows from the sizes alone and is put right with any member.
    let mut out = Mechanism { layout: fresh.layout, ..m.clone() };
    match (change, &mut out.drive, &fresh.drive) {
        (Change::Rollers, ..) => out.rollers = fresh.rollers,
        (Change::PanelArms, Drive::Arms(mine), Drive::Arms(theirs)) => mine.panel = theirs.panel,
        (Change::LeafArms, Drive::Arms(mine), Drive::Arms(theirs)) => mine.leaf = theirs.leaf,
        _ => out = fresh.clone(),
    }
    out
}
