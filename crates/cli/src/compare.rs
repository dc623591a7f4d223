//! Two plans or revisions side by side.
//!
//! In: plan files, marks of issued revisions. Out: what changed, as text or JSON, and the change notice.
//! Always true: both are written by the newer plan's units and language; lengths stand in both units.

use crate::show::{line, lines};
use crate::{files, load};
use serde_json::{Value, json};
use std::path::Path;
use turnleaf_plan::planfile::Options;
use turnleaf_plan::{
    Change, Comparison, Diagnostic, Edition, Group, Measure, PageChange, PageState, PartVerdict, Plan,
    Reason, Verdict, Work, WorkKind, alike_reasons, alike_work, difference_text,
};

/// A plan file, or one of its issued revisions.
fn plan_of(path: &Path, mark: Option<&str>) -> Result<Plan, String> {
    let plan: Plan = load::plan(path)?;
    let Some(mark) = mark else { return Ok(plan) };
    match plan.issued(mark) {
        Some(issued) => issued.map_err(|d| load::join(&d)),
        None => Err(format!("{} has no frozen plan of a revision {mark}.", path.display())),
    }
}

/// How a comparison is wanted.
pub struct Wanted<'a> {
    /// Leave the books out.
    pub tables: bool,
    /// As JSON.
    pub json: bool,
    /// Where the change notice goes.
    pub notice: Option<&'a Path>,
}

/// Compares two plans or revisions.
pub fn compare(
    old: (&Path, Option<&str>),
    new: (&Path, Option<&str>),
    wanted: &Wanted,
) -> Result<String, String> {
    if wanted.tables && wanted.notice.is_some() {
        return Err("A change notice names pages, so it needs the books: leave --tables out.".into());
    }
    let (old, new) = (plan_of(old.0, old.1)?, plan_of(new.0, new.1)?);
    let options = *new.options();
    let join = |d: Vec<Diagnostic>| load::join(&d);
    let c = if wanted.tables {
        let build = |plan: &Plan| turnleaf_plan::build(&plan.edition()).map_err(join);
        turnleaf_plan::compare_tables(&build(&old)?, &build(&new)?)
    } else {
        let book = |plan: &Plan| Edition::of(plan).map_err(join);
        let (old, new) = (book(&old)?, book(&new)?);
        let c = turnleaf_plan::compare_editions(&old, &new);
        if let Some(out) = wanted.notice {
            let (document, said) = turnleaf_plan::notice(&old, &new, &c);
            said.iter().for_each(|d| eprintln!("{}", d.sentence));
            files::write(out, &turnleaf_plan::pdf(&document).map_err(|e| e.to_string())?)?;
        }
        c
    };
    Ok(if wanted.json { compare_json(&c, &options) } else { compare_text(&c, &options) })
}

/// The difference of a change in words; empty where there is none.
fn difference(c: &Change, options: &Options) -> String {
    c.difference.map_or_else(String::new, |d| difference_text(&d, options))
}

/// What a group is called.
fn title(group: Group) -> &'static str {
    match group {
        Group::Size => "Sizes",
        Group::Option => "Choices",
        Group::Number => "Worked-out numbers",
        Group::Part => "Parts to make",
        Group::Hardware => "Things to buy",
        Group::Dimension => "Dimensions on the sheets",
        Group::Step => "Build steps",
        Group::Page => "Pages",
    }
}

fn compare_text(c: &Comparison, options: &Options) -> String {
    let mut out = Vec::new();
    for group in Group::ALL {
        let rows: Vec<&Change> = c.changes.iter().filter(|x| x.group == group).collect();
        if !rows.is_empty() {
            out.push(format!("{}: {}", title(group), rows.len()));
            out.extend(rows.into_iter().map(|row| format!("  {}", change_text(row, options))));
        }
    }
    if c.changes.is_empty() {
        out.push("No size, part, dimension or step prints differently.".into());
    }
    if !c.pages.is_empty() {
        out.extend(pages_text(&c.pages));
    }
    out.push("Parts already cut".into());
    out.extend(c.parts.iter().filter(|v| v.made).flat_map(part_text));
    if !c.old_parts_fail.is_empty() {
        out.push("With the old parts in the new table these checks fail".into());
        out.extend(c.old_parts_fail.iter().map(|t| format!("  {t}")));
    }
    lines(out.into_iter())
}

/// `Open diameter [open_diameter]: 1650 mm (64 61/64 in) → 1640 mm (64 9/16 in), −10 mm (25/64 in)`.
fn change_text(c: &Change, options: &Options) -> String {
    let head = format!("{} [{}]", c.label, c.id);
    match (&c.old, &c.new) {
        // A step whose title stays has other words or figures.
        (Some(old), Some(new)) if old == new => format!("{head}: other words or figures"),
        (Some(old), Some(new)) => {
            let by = difference(c, options);
            format!("{head}: {old} → {new}{}{by}", if by.is_empty() { "" } else { ", " })
        }
        (None, Some(new)) => format!("{head}: new, {new}"),
        (old, None) => format!("{head}: gone, was {}", old.as_deref().unwrap_or("–")),
    }
}

/// Pages that changed, by their numbers in the new book; how many only have another number, and how many are the same.
fn pages_text(pages: &[PageChange]) -> Vec<String> {
    let count = |state: PageState| pages.iter().filter(|p| p.state == state).count();
    let told: Vec<&PageChange> =
        pages.iter().filter(|p| !matches!(p.state, PageState::Same | PageState::Renumbered)).collect();
    let mut out = vec![format!("{}: {}", title(Group::Page), told.len())];
    for p in told {
        let place = match (p.state, p.old, p.new) {
            (PageState::Removed, Some(old), _) => format!("gone, was page {old}"),
            (_, _, Some(new)) => format!("{}, page {new}", state(p.state)),
            _ => state(p.state).to_string(),
        };
        out.push(format!("  {} [{}]: {place}", p.title, p.id));
    }
    out.push(format!(
        "  {} more only have another number, {} are exactly the same",
        count(PageState::Renumbered),
        count(PageState::Same)
    ));
    out
}

fn part_text(v: &PartVerdict) -> Vec<String> {
    let more = v.count.1.saturating_sub(v.count.0);
    let more = if more > 0 && v.count.0 > 0 { format!(", {more} more to make") } else { String::new() };
    let mut out = vec![format!("  {} [{}]: {}{more}", v.name, v.part, verdict(&v.verdict))];
    match &v.verdict {
        Verdict::Work(work) => out.extend(alike_work(work).into_iter().map(|w| worst(w, work_text))),
        Verdict::Again(reasons) => {
            out.extend(alike_reasons(reasons).into_iter().map(|r| worst(r, reason_text)));
        }
        _ => {}
    }
    out
}

/// One thing of its kind, or the worst of several.
fn worst<T>((count, one): (usize, &T), text: impl Fn(&T) -> String) -> String {
    match count {
        1 => format!("      {}", text(one)),
        many => format!("      {many} times, here the worst: {}", text(one)),
    }
}

/// The word for a verdict.
fn verdict(v: &Verdict) -> &'static str {
    match v {
        Verdict::Good => "good",
        Verdict::Work(_) => "work",
        Verdict::Again(_) => "cut again",
        Verdict::NotNeeded => "not needed",
        Verdict::New => "new",
    }
}

fn kind(k: WorkKind) -> &'static str {
    match k {
        WorkKind::Open => "cut an opening",
        WorkKind::Widen => "widen",
        WorkKind::Deepen => "deepen",
        WorkKind::Trim => "trim an edge",
        WorkKind::Shorten => "cut shorter",
    }
}

fn work_text(w: &Work) -> String {
    let what = w.feature.as_deref().map_or_else(String::new, |f| format!(" {f} ({})", w.purpose));
    let at = match w.kind {
        // Its upper end is the place.
        WorkKind::Shorten => String::new(),
        _ => format!(" at ({:.1}, {:.1})", w.at.x, w.at.y),
    };
    format!("{}{what}: by {:.2} mm{at}", kind(w.kind), w.by)
}

fn reason_text(r: &Reason) -> String {
    match r {
        Reason::Thickness(old, new) => format!("the thickness is {new:.2} mm instead of {old:.2} mm"),
        Reason::Material(old, new) => format!("it is of {new} instead of {old}"),
        Reason::Slope(by) => format!("the slope differs by {by:.2} mm"),
        Reason::Opening { feature, purpose, by, at } => {
            format!("{feature} ({purpose}) reaches {by:.2} mm into needed wood at ({:.1}, {:.1})", at.x, at.y)
        }
        Reason::Fit { with, by, turn } => {
            format!("with {with} it is {by:.2} mm too tight at {turn:.1}° of turn")
        }
        Reason::Check(text) => format!("with it a check fails: {text}"),
        Reason::Short { by, at } => {
            format!("the outline is {by:.2} mm short at ({:.1}, {:.1})", at.x, at.y)
        }
    }
}

fn state(s: PageState) -> &'static str {
    match s {
        PageState::Same => "same",
        PageState::Renumbered => "renumbered",
        PageState::Changed => "changed",
        PageState::Added => "added",
        PageState::Removed => "removed",
    }
}

/// The unit of a difference in JSON.
fn unit(measure: Measure) -> &'static str {
    match measure {
        Measure::Length => "mm",
        Measure::Angle | Measure::Bearing => "deg",
        Measure::Other => "",
    }
}

fn compare_json(c: &Comparison, options: &Options) -> String {
    let changes: Vec<Value> = c
        .changes
        .iter()
        .map(|x| {
            json!({
                "group": x.group.key(), "id": x.id, "label": x.label, "old": x.old, "new": x.new,
                "difference": x.difference.map(|d| d.value),
                "inches": x.difference.and_then(|d| d.inches), "unit": x.difference.map(|d| unit(d.measure)),
                "text": difference(x, options),
            })
        })
        .collect();
    let pages: Vec<Value> = c
        .pages
        .iter()
        .map(|p| json!({ "id": p.id, "title": p.title, "old": p.old, "new": p.new, "state": state(p.state) }))
        .collect();
    let parts: Vec<Value> = c
        .parts
        .iter()
        .map(|v| {
            let work: Vec<Value> = match &v.verdict {
                Verdict::Work(work) => work
                    .iter()
                    .map(|w| {
                        json!({
                            "kind": kind(w.kind), "feature": w.feature, "purpose": w.purpose, "by": w.by,
                            "at": [w.at.x, w.at.y], "z": [w.z.0, w.z.1],
                        })
                    })
                    .collect(),
                _ => Vec::new(),
            };
            let reasons: Vec<String> = match &v.verdict {
                Verdict::Again(reasons) => reasons.iter().map(reason_text).collect(),
                _ => Vec::new(),
            };
            json!({
                "part": v.part, "name": v.name, "made": v.made, "count": [v.count.0, v.count.1],
                "verdict": verdict(&v.verdict), "shift": [v.lie.shift.x, v.lie.shift.y],
                "missing": v.missing, "surplus": v.surplus, "work": work, "reasons": reasons,
            })
        })
        .collect();
    line(&json!({
        "step": c.step, "changes": changes, "pages": pages, "parts": parts, "old_parts_fail": c.old_parts_fail,
    }))
}
