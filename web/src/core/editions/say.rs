//! What becomes of parts already cut, in sentences.
//!
//! In: verdicts, the plan whose units and signs are used. Out: lines to show.
//! Always true: every length is in the plan's own units; openings of one purpose take one line, with the worst.

use super::super::{Plan, say_length};
use super::told::{PartFate, PartLine};
use turnleaf_plan::{PartVerdict, Reason, Verdict, Work, WorkKind, alike_reasons, alike_work};
use turnleaf_units::print_decimal;

/// Differences below this, mm, are no more than how exactly they are found.
const FINEST: f64 = 0.005;

/// Where on a part, measured from the origin of its drawing.
fn place(plan: &Plan, (x, y): (f64, f64)) -> String {
    let axis = |v: f64| {
        let text = say_length(plan, v.abs());
        if v < 0.0 { format!("−{text}") } else { text }
    };
    format!("most at x {}, y {} of the part’s own frame", axis(x), axis(y))
}

/// What becomes of a part already cut; `name` gives the name of a part.
pub fn part_line(plan: &Plan, v: &PartVerdict, step: f64, name: &dyn Fn(&str) -> String) -> PartLine {
    let say = |mm: f64| say_length(plan, mm);
    let off = v.missing.max(v.surplus);
    let (fate, why, margin) = match &v.verdict {
        Verdict::Good if off > 0.0 => {
            let text = if off < FINEST {
                "No difference could be measured.".to_string()
            } else {
                format!("It differs by {} of the {} that may stay.", fine(plan, off), fine(plan, step))
            };
            (PartFate::Good, Vec::new(), text)
        }
        Verdict::Good => (PartFate::Good, Vec::new(), "It is the same part.".into()),
        Verdict::Work(work) => {
            let why = alike_work(work).into_iter().map(|w| worst(w, |w| work_line(plan, w))).collect();
            // A bar to be cut shorter has no edge or opening to be worked.
            let text = if v.surplus < step {
                "No wood is lacking.".into()
            } else {
                format!("At most {} of wood is to come off; none is lacking.", say(v.surplus))
            };
            (PartFate::Work, why, text)
        }
        Verdict::Again(reasons) => {
            let why = alike_reasons(reasons)
                .into_iter()
                .map(|r| worst(r, |r| reason_line(plan, r, name)))
                .collect();
            let text = if v.missing > step {
                format!("Up to {} of wood is lacking.", say(v.missing))
            } else {
                String::new()
            };
            (PartFate::Again, why, text)
        }
        Verdict::NotNeeded => (PartFate::NotNeeded, Vec::new(), String::new()),
        Verdict::New => (PartFate::New, Vec::new(), String::new()),
    };
    PartLine { id: v.part.clone(), name: v.name.clone(), count: v.count, fate, why, margin }
}

/// One thing of its kind, or the worst of several.
fn worst<T>((count, one): (usize, &T), line: impl Fn(&T) -> String) -> String {
    match count {
        1 => line(one),
        many => format!("{many} times, here the worst: {}", line(one)),
    }
}

/// A length finer than any step that is printed.
fn fine(plan: &Plan, mm: f64) -> String {
    let text = print_decimal(mm, 3, plan.options().language.decimal_sign()).unwrap_or_default();
    format!("{text} mm")
}

fn work_line(plan: &Plan, w: &Work) -> String {
    let (by, at) = (say_length(plan, w.by), place(plan, (w.at.x, w.at.y)));
    let what = if w.purpose.is_empty() { "the opening" } else { w.purpose.as_str() };
    match w.kind {
        WorkKind::Open => format!("Cut a new opening ({what}); {at}."),
        WorkKind::Widen => format!("Widen by up to {by} ({what}); {at}."),
        WorkKind::Deepen => format!("Deepen by {by} ({what}); {at}."),
        WorkKind::Trim => format!("Take up to {by} off the edge; {at}."),
        WorkKind::Shorten => format!("Cut it {by} shorter at its upper end."),
    }
}

fn reason_line(plan: &Plan, r: &Reason, name: &dyn Fn(&str) -> String) -> String {
    let say = |mm: f64| say_length(plan, mm);
    match r {
        Reason::Thickness(old, new) => format!("It must be {} thick and is {}.", say(*new), say(*old)),
        Reason::Material(old, new) => format!("It must be of {new} and is of {old}."),
        Reason::Slope(by) => format!("Its slope is another, by {} at the worst.", say(*by)),
        Reason::Opening { purpose, by, at, .. } => format!(
            "An opening ({purpose}) reaches {} into wood that is needed; {}.",
            say(*by),
            place(plan, (at.x, at.y))
        ),
        Reason::Short { by, at } => format!("Its edge is {} short; {}.", say(*by), place(plan, (at.x, at.y))),
        Reason::Fit { with, by, turn } => {
            let turn = print_decimal(*turn, 1, plan.options().language.decimal_sign()).unwrap_or_default();
            // A piece is named by its part and its number.
            let part = with.split('/').next().unwrap_or_default();
            let named = name(part);
            let with = if named.is_empty() { with.as_str() } else { named.as_str() };
            format!("With {with} it is {} too tight at {turn}° of the turn.", fine(plan, *by))
        }
        Reason::Check(text) => format!("With it a check of the newer table fails: {text}"),
    }
}
