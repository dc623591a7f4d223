//! Issuing a revision, making an issued book again, comparing two editions.

use crate::show::{line, lines};
use crate::{files, load};
use serde_json::{Value, json};
use std::path::Path;
use turnleaf_plan::planfile::{Date, Revision};
use turnleaf_plan::{
    Again, Change, Comparison, Diagnostic, Edition, Group, Measure, PageState, PartVerdict, Plan, Reason,
    Verdict, Work, WorkKind,
};

/// Issues the plan's present revision and writes the plan back, and its book where one is wanted.
pub fn issue(
    path: &Path,
    date: Option<&str>,
    reasons: &[String],
    book: Option<&Path>,
) -> Result<String, String> {
    let mut plan = load::plan(path)?;
    let mut now: Revision = plan.revision().clone();
    if let Some(text) = date {
        let sentence = || format!("“{text}” is not a day; write year, month, day as in 2025-03-14.");
        now.date = Some(Date::parse(text).ok_or_else(sentence)?);
    }
    if !reasons.is_empty() {
        now.reasons = reasons.to_vec();
    }
    let mark = now.mark.clone();
    plan.set_revision(now).map_err(|d| d.sentence)?;
    let edition = turnleaf_plan::issue(&mut plan).map_err(|d| load::join(&d))?;
    if let Some(out) = book {
        let bytes = turnleaf_plan::pdf(&edition.document).map_err(|e| e.to_string())?;
        files::write(out, &bytes)?;
    }
    files::write_whole(path, plan.to_json().as_bytes())?;
    let pages = edition.document.pages.len();
    Ok(format!(
        "Revision {mark} is issued: {pages} pages. The plan file now works on revision {}.\n",
        plan.revision().mark
    ))
}

/// Makes the book of an issued revision again.
pub fn again(path: &Path, mark: &str, out: &Path) -> Result<String, String> {
    let plan = load::plan(path)?;
    let Again { pdf, same, differs, .. } = turnleaf_plan::again(&plan, mark).map_err(|d| load::join(&d))?;
    files::write(out, &pdf)?;
    if same {
        return Ok(format!("The book of revision {mark} is the issued one, byte for byte.\n"));
    }
    let head = format!("The book of revision {mark} is not the issued one:");
    Ok(lines(std::iter::once(head).chain(differs)))
}

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
    Ok(if wanted.json { compare_json(&c) } else { compare_text(&c) })
}

fn difference(c: &Change) -> String {
    c.difference.map_or_else(String::new, |(d, measure)| {
        let unit = match measure {
            Measure::Length => " mm",
            Measure::Angle => "°",
            Measure::Other => "",
        };
        format!(" ({d:+.3}{unit})")
    })
}

fn compare_text(c: &Comparison) -> String {
    let mut out = Vec::new();
    for group in Group::ALL {
        let rows: Vec<&Change> = c.changes.iter().filter(|x| x.group == group).collect();
        if !rows.is_empty() {
            out.push(format!("{}: {} changed", group.key(), rows.len()));
        }
        for row in rows {
            let (was, is) = (row.old.as_deref().unwrap_or("–"), row.new.as_deref().unwrap_or("–"));
            out.push(format!("  {:40} {was} → {is}{}", row.id, difference(row)));
        }
    }
    out.push("pages".into());
    for p in c.pages.iter().filter(|p| p.state != PageState::Same) {
        out.push(format!("  {:40} {}", p.id, state(p.state)));
    }
    out.push("parts already cut".into());
    out.extend(c.parts.iter().filter(|v| v.made).flat_map(part_text));
    if !c.old_parts_fail.is_empty() {
        out.push("with the old parts in the new table these checks fail".into());
        out.extend(c.old_parts_fail.iter().map(|t| format!("  {t}")));
    }
    lines(out.into_iter())
}

fn part_text(v: &PartVerdict) -> Vec<String> {
    let more = v.count.1.saturating_sub(v.count.0);
    let more = if more > 0 && v.count.0 > 0 { format!(", {more} more to make") } else { String::new() };
    let mut out = vec![format!("  {:28} {}{more}", v.part, verdict(&v.verdict))];
    match &v.verdict {
        Verdict::Work(work) => out.extend(work.iter().map(|w| format!("      {}", work_text(w)))),
        Verdict::Again(reasons) => out.extend(reasons.iter().map(|r| format!("      {}", reason_text(r)))),
        _ => {}
    }
    out
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
    format!("{}{what}: by {:.2} mm at ({:.1}, {:.1})", kind(w.kind), w.by, w.at.x, w.at.y)
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

fn compare_json(c: &Comparison) -> String {
    let changes: Vec<Value> = c
        .changes
        .iter()
        .map(|x| {
            json!({
                "group": x.group.key(), "id": x.id, "label": x.label, "old": x.old, "new": x.new,
                "difference": x.difference.map(|d| d.0),
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
