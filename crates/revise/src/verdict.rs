//! What becomes of parts that are already cut.
//!
//! In: the parts of an older and of a newer table. Out: one [`PartVerdict`] a part.
//! Always true: every part of either table is named exactly once, the newer table's in its order, then those that
//! are no longer needed.

use crate::pairs::by_name;
use crate::serve::{Lie, judge};
use turnleaf_geom::Vec2;
use turnleaf_parts::Part;

/// What is to be done to a part that still holds the new one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WorkKind {
    /// Cut an opening where there is none.
    Open,
    /// Make an opening wider.
    Widen,
    /// Make an opening deeper.
    Deepen,
    /// Take wood off an edge.
    Trim,
    /// Cut a bar shorter at its upper end.
    Shorten,
}

/// One piece of work on a part already cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Work {
    /// What is to be done.
    pub kind: WorkKind,
    /// The new part's feature it makes; none for an edge.
    pub feature: Option<String>,
    /// What it is for, in the part's words; empty for an edge.
    pub purpose: String,
    /// Most that is taken off measured from the nearest old edge, mm.
    pub by: f64,
    /// Where the most is taken off, in the new part's frame.
    pub at: Vec2,
    /// Height band above the lower face, mm.
    pub z: (f64, f64),
}

/// Why a part must be cut again.
#[derive(Clone, Debug, PartialEq)]
pub enum Reason {
    /// Another thickness: old, new, mm.
    Thickness(f64, f64),
    /// Another material: old, new.
    Material(String, String),
    /// The slope of a ramp differs by so much at the worst, mm.
    Slope(f64),
    /// An opening of the old part lies where the new one needs wood.
    Opening {
        /// The old part's feature.
        feature: String,
        /// What it was for.
        purpose: String,
        /// How far it reaches into wood that is needed, mm.
        by: f64,
        /// Where, in the new part's frame.
        at: Vec2,
    },
    /// It is the same in print, but in the newer table it misses a fit.
    Fit {
        /// The part it must fit.
        with: String,
        /// By so much too tight, mm.
        by: f64,
        /// At this turn, degrees.
        turn: f64,
    },
    /// It is the same in print, but with it a check of the newer table fails, in a sentence.
    Check(String),
    /// The outline of the old part falls short.
    Short {
        /// By so much, mm.
        by: f64,
        /// Where, in the new part's frame.
        at: Vec2,
    },
}

/// What becomes of a cut part.
#[derive(Clone, Debug, PartialEq)]
pub enum Verdict {
    /// It serves as it is.
    Good,
    /// It serves after this work.
    Work(Vec<Work>),
    /// It must be cut again.
    Again(Vec<Reason>),
    /// The newer table has no such part.
    NotNeeded,
    /// The older table had no such part.
    New,
}

/// Work of one kind for one purpose taken together: how many times, and the most of it.
pub fn alike_work(work: &[Work]) -> Vec<(usize, &Work)> {
    alike(work, |w| Some((w.kind, w.purpose.as_str())), |w| w.by)
}

/// Openings of one purpose in the way taken together: how many, and the worst; any other reason stands for itself.
pub fn alike_reasons(reasons: &[Reason]) -> Vec<(usize, &Reason)> {
    let by = |r: &Reason| if let Reason::Opening { by, .. } = r { *by } else { 0.0 };
    let key =
        |r: &'_ Reason| if let Reason::Opening { purpose, .. } = r { Some(purpose.clone()) } else { None };
    alike(reasons, key, by)
}

/// Things of one key together, with the greatest of them; without a key a thing stands for itself.
fn alike<'a, T, K: PartialEq>(
    all: &'a [T],
    key: impl Fn(&'a T) -> Option<K>,
    size: impl Fn(&T) -> f64,
) -> Vec<(usize, &'a T)> {
    let mut found: Vec<(Option<K>, usize, &T)> = Vec::new();
    for one in all {
        let key = key(one);
        match found.iter_mut().find(|f| key.is_some() && f.0 == key) {
            Some(f) => {
                f.1 += 1;
                if size(one) > size(f.2) {
                    f.2 = one;
                }
            }
            None => found.push((key, 1, one)),
        }
    }
    found.into_iter().map(|(_, count, one)| (count, one)).collect()
}

/// The verdict on one part.
#[derive(Clone, Debug, PartialEq)]
pub struct PartVerdict {
    /// The part's identifier.
    pub part: String,
    /// Its plain name.
    pub name: String,
    /// Whether it is cut or made, rather than bought.
    pub made: bool,
    /// How many the older and the newer table need.
    pub count: (usize, usize),
    /// What becomes of those already cut.
    pub verdict: Verdict,
    /// How the old part lies in the new one's frame.
    pub lie: Lie,
    /// How far the new solid reaches beyond the old one, mm: wood that is missing.
    pub missing: f64,
    /// How far the old solid reaches beyond the new one, mm: wood to take off.
    pub surplus: f64,
}

/// Verdicts on all parts. Differences up to `step` mm are none: they do not show in print.
///
/// ```
/// use turnleaf_mechanism::{Sizes, solve};
/// use turnleaf_revise::{Verdict, verdicts};
/// let parts = |sizes: &Sizes| turnleaf_parts::assemble(&solve(sizes).expect("sizes that agree")).parts;
/// let old = parts(&Sizes::example());
/// // Against itself everything serves; a higher table asks for new legs, and its panels stay.
/// assert!(verdicts(&old, &old, 0.1).iter().all(|v| v.verdict == Verdict::Good));
/// let found = verdicts(&old, &parts(&Sizes { height: 760.0, ..Sizes::example() }), 0.1);
/// let of = |part: &str| found.iter().find(|v| v.part == part).map(|v| &v.verdict);
/// assert_eq!(of("panel"), Some(&Verdict::Good));
/// assert!(matches!(of("leg"), Some(Verdict::Again(_))));
/// ```
pub fn verdicts(old: &[Part], new: &[Part], step: f64) -> Vec<PartVerdict> {
    by_name(old.iter().map(|p| p.id.as_str()), new.iter().map(|p| p.id.as_str()))
        .into_iter()
        .filter_map(|(a, b)| match (a.map(|i| &old[i]), b.map(|i| &new[i])) {
            (Some(o), Some(n)) => Some(judge(o, n, step)),
            (None, Some(n)) => Some(alone(n, (0, n.count), Verdict::New)),
            (Some(o), None) => Some(alone(o, (o.count, 0), Verdict::NotNeeded)),
            (None, None) => None,
        })
        .collect()
}

fn alone(p: &Part, count: (usize, usize), verdict: Verdict) -> PartVerdict {
    PartVerdict {
        part: p.id.clone(),
        name: p.name.clone(),
        made: p.made,
        count,
        verdict,
        lie: Lie::default(),
        missing: 0.0,
        surplus: 0.0,
    }
}
