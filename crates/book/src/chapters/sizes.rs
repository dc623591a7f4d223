//! The sizes: those the plan gives and all solved ones.
//!
//! In: the plan's fields, the solved numbers. Out: a chapter with two tables.
//! Always true: every solved number stands in the table, in both units, with its origin; rows keep their
//! identifiers whatever the language.

use crate::cx::{Cx, Refs};
use crate::flow::Chapter;
use crate::grid::TINY;
use crate::measured::SIGN;
use turnleaf_diag::Origin;
use turnleaf_planfile::{FIELDS, Group, Value, origin};
use turnleaf_text::{Column, Row, Table, Width};

/// The chapter.
pub fn chapter(cx: &Cx, number: usize, _: &Refs) -> Chapter {
    let mut f = cx.flow(number, "sizes", &cx.t("sizes-title"));
    f.section(&cx.t("sizes-given"), "sizes/given");
    f.lead(cx.t("sizes-given-text"));
    f.table(given(cx));
    f.section(&cx.t("sizes-solved"), "sizes/solved");
    f.lead(cx.t("sizes-solved-text"));
    f.table(solved(cx));
    f.finish()
}

fn given(cx: &Cx) -> Table {
    let plan = cx.input.plan;
    let columns = vec![
        Column::new(cx.t("column-size"), Width::Share(1.0)),
        Column::number(cx.t("column-typed"), Width::Fit(34.0)),
        Column::number(cx.t("column-mm"), Width::Fit(30.0)),
        Column::number(cx.t("column-inch"), Width::Fit(30.0)),
    ];
    let mut rows = Vec::new();
    for group in Group::ALL {
        let mut here = Vec::new();
        for field in FIELDS.iter().filter(|f| f.group == group) {
            let Some(value) = plan.value(field.id) else { continue };
            let label = cx.words.named("field", field.id).unwrap_or_else(|| field.label.to_string());
            let (metric, inch) = match value {
                Value::Length(v) => (cx.or_dash(cx.say.mm(v.mm())), cx.or_dash(cx.say.inches(v.mm()))),
                Value::Angle(v) => (cx.or_dash(cx.say.degrees(v.degrees(), 2)), String::new()),
                Value::Count(n) => (n.to_string(), String::new()),
                Value::Force(v) => (
                    format!("{} N", cx.or_dash(turnleaf_units::print_decimal(v.newtons(), 0, cx.say.sign))),
                    format!(
                        "{} lbf",
                        cx.or_dash(turnleaf_units::print_decimal(v.pounds_force(), 0, cx.say.sign))
                    ),
                ),
            };
            let mut row = Row::new([label.clone(), plan.typed(field.id).unwrap_or_default(), metric, inch])
                .id(format!("given/{}", field.id));
            row.origin = origin(field.id);
            here.push(row);
            if let Some(v) = plan.measured(field.id) {
                let label = cx.tv("measured", &[("name", label)]);
                let mut row = Row::new([
                    label,
                    String::new(),
                    cx.or_dash(cx.say.mm(v.mm())) + SIGN,
                    cx.or_dash(cx.say.inches(v.mm())) + SIGN,
                ])
                .id(format!("measured/{}", field.id));
                row.origin = origin(field.id);
                here.push(row);
            }
        }
        if !here.is_empty() {
            let name = format!("{group:?}").to_lowercase();
            let label = cx.words.named("group", &name).unwrap_or_else(|| group.label().to_string());
            rows.push(Row::heading(label));
            rows.append(&mut here);
        }
    }
    Table::new(columns, TINY).pad(0.5).id("sizes/given").rows(rows)
}

/// Groups of solved numbers: name, and the beginnings of the identifiers in it. A number goes to the first
/// group that has the longest beginning of its identifier; what none has goes to the last.
const GROUPS: [(&str, &[&str]); 8] = [
    ("top", &["closed", "open", "sectors", "panel", "gap", "leaf", "star", "opening"]),
    ("turn", &["turn", "overtravel"]),
    ("drive", &["panel.arm", "leaf.arm", "arms", "cam", "panel.cam", "leaf.cam"]),
    ("slides", &["panel.slide", "leaf.slide", "slide"]),
    ("lift", &["lift", "roller"]),
    ("plates", &["plate", "post"]),
    ("height", &["stack"]),
    ("more", &[""]),
];

/// Which group a number belongs to.
fn group_of(id: &str) -> usize {
    let length = |beginnings: &[&str]| {
        let fits = |b: &&&str| {
            id.strip_prefix(**b).is_some_and(|r| b.is_empty() || r.is_empty() || r.starts_with('.'))
        };
        beginnings.iter().filter(fits).map(|b| b.len()).max()
    };
    let mut best = (GROUPS.len() - 1, 0);
    for (i, (_, beginnings)) in GROUPS.iter().enumerate() {
        if let Some(n) = length(beginnings).filter(|n| *n > best.1) {
            best = (i, n);
        }
    }
    best.0
}

/// The table of all solved sizes.
fn solved(cx: &Cx) -> Table {
    let columns = vec![
        Column::new(cx.t("column-size"), Width::Share(1.0)),
        Column::number(cx.t("column-mm"), Width::Fit(30.0)),
        Column::number(cx.t("column-inch"), Width::Fit(30.0)),
        Column::new(cx.t("column-rule"), Width::Share(0.8)),
    ];
    let row = |i: usize| {
        let n = &cx.input.numbers[i];
        let sign = cx.number_sign(n.id);
        let (metric, inch) = match cx.say.number(n) {
            Some(b) if b.inch.is_empty() => (b.metric + sign, b.inch),
            Some(b) => (b.metric + sign, b.inch + sign),
            None => (cx.or_dash(None), String::new()),
        };
        let rule = cx.rule(n);
        let row = Row::new([cx.label(n), metric, inch, rule]).id(format!("solved/{}", n.id));
        match u16::try_from(i) {
            Ok(i) => row.origin(Origin::Solved(i)),
            Err(_) => row,
        }
    };
    let mut rows = Vec::new();
    for (g, (name, _)) in GROUPS.iter().enumerate() {
        let here: Vec<usize> =
            (0..cx.input.numbers.len()).filter(|i| group_of(cx.input.numbers[*i].id) == g).collect();
        if !here.is_empty() {
            rows.push(Row::heading(cx.t(&format!("solved-{name}"))));
            rows.extend(here.into_iter().map(row));
        }
    }
    Table::new(columns, TINY).pad(0.5).id("sizes/solved").rows(rows)
}
