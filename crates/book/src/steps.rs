//! The build steps in words.
//!
//! In: the steps of the table, the maker's changes. Out: [`StepText`]s in the order of the book, hidden ones among them.
//! Always true: a step that is shown has a number, counted in the order of the book; what the maker typed stands in place
//! of the step's own words and its references are filled in; every number comes from the table.

use crate::cx::Cx;
use crate::values::{filled, number_text};
use turnleaf_diag::Diagnostic;
use turnleaf_planfile::{Picture, StepChange};
use turnleaf_steps::{BuildStep, Changed, Line, Look, Table, Value, merged, spoken, steps_of, units};

/// A step as the book says it.
#[derive(Clone, Debug, PartialEq)]
pub struct StepText {
    /// Stable identifier.
    pub id: String,
    /// Number in the book; None when it is hidden.
    pub number: Option<usize>,
    /// Whether it is one of the maker's own.
    pub own: bool,
    /// Whether the maker changed anything about it.
    pub changed: bool,
    /// Title.
    pub title: String,
    /// Paragraphs.
    pub text: Vec<String>,
    /// The step's own paragraphs as a maker would type them: solved numbers as references.
    pub own_text: Vec<String>,
    /// Settings of tools.
    pub settings: Vec<String>,
    /// Checks before going on.
    pub checks: Vec<String>,
    /// Cautions.
    pub cautions: Vec<String>,
    /// Made parts: identifier, name, count.
    pub pieces: Vec<(String, String, usize)>,
    /// Bought things used here: identifier, name, count.
    pub hardware: Vec<(String, String, usize)>,
    /// Notes of the maker.
    pub notes: Vec<String>,
    /// Pictures of the maker.
    pub pictures: Vec<Picture>,
    /// Working time in words; empty where no time is estimated.
    pub time: String,
    /// Estimated minutes.
    pub minutes: f64,
    /// Identifiers of the pieces put in.
    pub put_in: Vec<String>,
    /// Identifiers of the pieces there before, as far as the figure shows them.
    pub there: Vec<String>,
    /// How its figure looks at the table.
    pub look: Option<Look>,
    /// Identifiers of steps that must come before.
    pub needs: Vec<String>,
}

/// A line in words; with `live`, solved numbers stand as references, so that rewording keeps them alive.
fn line_with(cx: &Cx, line: &Line, live: bool) -> String {
    let text = |v: &Value| match v {
        Value::Solved(id) if live => format!("[={id}]"),
        Value::Solved(id) => match cx.number(id) {
            Some((_, n)) => number_text(cx, n),
            None => cx.or_dash(None),
        },
        Value::Length(mm) => cx.length(*mm),
        Value::Degrees(d) => cx.degrees(*d),
        Value::Force(n) => cx.force(*n),
        Value::Count(n) => n.to_string(),
        Value::Part(id) => cx.name_of(id),
    };
    let values: Vec<(&str, String)> = line.values.iter().map(|(k, v)| (*k, text(v))).collect();
    cx.tv(&line.name, &values)
}

fn line(cx: &Cx, l: &Line) -> String {
    line_with(cx, l, false)
}

/// Minutes in words.
pub fn time(cx: &Cx, minutes: f64) -> String {
    let (hours, rest) = spoken(minutes);
    let values = [("hours", hours.to_string()), ("minutes", rest.to_string())];
    match (hours, rest) {
        (0, _) => cx.tv("steps-minutes", &values[1..]),
        (_, 0) => cx.tv("steps-hours", &values[..1]),
        _ => cx.tv("steps-hours-minutes", &values),
    }
}

/// All steps in the order of the book, and what is wrong with the maker's changes.
pub fn texts(cx: &Cx) -> (Vec<StepText>, Vec<Diagnostic>) {
    let i = cx.input;
    let table = Table { assembly: i.assembly, checks: i.checks, proof: i.proof };
    let steps = steps_of(&table, &units(i.assembly, cx.relations()));
    let titles: Vec<(String, String)> = steps.iter().map(|s| (s.id.clone(), line(cx, &s.title))).collect();
    let title = |id: &str| {
        let typed = i.plan.steps().iter().find(|c| c.id == id).and_then(|c| c.title.clone());
        let own = || titles.iter().find(|t| t.0 == id).map(|t| t.1.clone());
        typed.or_else(own).unwrap_or_else(|| id.to_string())
    };
    let (merged, mut said) = merged(steps, i.plan.steps(), &title);
    let mut number = 0;
    let mut out = Vec::with_capacity(merged.len());
    for step in &merged {
        let shown = !step.hidden();
        number += usize::from(shown);
        out.push(text(cx, step, shown.then_some(number), &title(&step.id), &mut said));
    }
    (out, said)
}

fn text(cx: &Cx, step: &Changed, number: Option<usize>, title: &str, said: &mut Vec<Diagnostic>) -> StepText {
    let none = StepChange::default();
    let change = step.change.unwrap_or(&none);
    let lines = |pick: fn(&BuildStep) -> &Vec<Line>| -> Vec<String> {
        step.made.iter().flat_map(pick).map(|l| line(cx, l)).collect()
    };
    let parts = |pick: fn(&BuildStep) -> &Vec<(usize, usize)>| -> Vec<(String, String, usize)> {
        let one = |(k, count): &(usize, usize)| {
            let part = cx.input.assembly.parts.get(*k)?;
            Some((part.id.clone(), cx.part_name(part), *count))
        };
        step.made.iter().flat_map(pick).filter_map(one).collect()
    };
    let mut fill =
        |typed: &str, what: &str| filled(cx, typed, &format!("Step “{title}” ({}), {what}", step.id), said);
    let own_text: Vec<String> =
        step.made.iter().flat_map(|s| &s.text).map(|l| line_with(cx, l, true)).collect();
    let typed = |list: &[String], what: &str, fill: &mut dyn FnMut(&str, &str) -> String| -> Vec<String> {
        let full = list.iter().enumerate().filter(|(_, t)| !t.trim().is_empty());
        full.map(|(k, t)| fill(t, &format!("{what} {}", k + 1))).collect()
    };
    let mut checks = lines(|s| &s.checks);
    let tight = lines(|s| &s.tight);
    if !tight.is_empty() {
        checks.push(cx.tv("steps-turn", &[("places", tight.join("; "))]));
    }
    let minutes = step.made.as_ref().map_or(0.0, |s| s.minutes);
    StepText {
        id: step.id.clone(),
        number,
        own: change.own(),
        changed: step.change.is_some(),
        title: fill(title, "title"),
        text: match &change.text {
            Some(list) => typed(list, "paragraph", &mut fill),
            None => lines(|s| &s.text),
        },
        own_text,
        settings: lines(|s| &s.settings),
        checks,
        cautions: lines(|s| &s.cautions),
        pieces: parts(|s| &s.pieces),
        hardware: parts(|s| &s.hardware),
        notes: typed(&change.notes, "note", &mut fill),
        pictures: change
            .pictures
            .iter()
            .enumerate()
            .map(|(k, p)| {
                let mut shown = p.clone();
                shown.caption = fill(&p.caption, &format!("caption {}", k + 1));
                shown
            })
            .collect(),
        time: if step.made.is_some() { time(cx, minutes) } else { String::new() },
        minutes,
        put_in: step.made.iter().flat_map(|s| s.put_in.clone()).collect(),
        there: step.made.iter().flat_map(|s| s.there.clone()).collect(),
        look: step.made.as_ref().and_then(|s| s.look),
        needs: step.made.iter().flat_map(|s| s.needs.clone()).collect(),
    }
}
