//! The maker's notes and the revisions.
//!
//! In: notes, the present revision with its reasons, earlier ones. Out: a chapter.
//! Always true: the latest revision stands first; marks are those of the plan, which leave out the letters
//! that are easily misread.

use crate::cx::{Cx, Refs};
use crate::flow::Chapter;
use crate::grid::SMALL;
use crate::values::filled;
use turnleaf_text::{Column, Row, Table, Width};

/// The chapter.
pub fn chapter(cx: &Cx, number: usize, _: &Refs) -> Chapter {
    let plan = cx.input.plan;
    let mut f = cx.flow(number, "revisions", &cx.t("revisions-title"));
    if let Some(licence) = plan.offer().map(|o| o.licence.trim()).filter(|l| !l.is_empty()) {
        f.section(&cx.t("fact-licence"), "revisions/licence");
        f.para(licence.to_string());
    }
    f.section(&cx.t("notes"), "revisions/notes");
    let notes: Vec<&String> = plan.notes().iter().filter(|n| !n.trim().is_empty()).collect();
    if notes.is_empty() {
        f.para(cx.t("notes-none"));
    }
    for (i, note) in notes.iter().enumerate() {
        let place = format!("Note {}", i + 1);
        let note = filled(cx, note, &place, &mut f.said);
        f.item(&format!("{}.", i + 1), &note);
    }
    f.end_list();
    let answers: Vec<String> = plan.questions().iter().filter_map(|q| super::sheets::answer(cx, q)).collect();
    if !answers.is_empty() {
        f.section(&cx.t("answers"), "revisions/answers");
        f.para(cx.t("answers-text"));
        for (i, answer) in answers.iter().enumerate() {
            f.item(&format!("{}.", i + 1), answer);
        }
        f.end_list();
    }
    f.section(&cx.t("revisions-table"), "revisions/table");
    f.lead(cx.t("revisions-text"));
    let columns = vec![
        Column::new(cx.t("column-mark"), Width::Fixed(14.0)),
        Column::new(cx.t("column-date"), Width::Fixed(24.0)),
        Column::new(cx.t("column-changed"), Width::Share(1.0)),
    ];
    let now = plan.revision();
    let date = now.date.map_or_else(|| cx.t("not-issued"), |d| d.to_string());
    let said = &mut f.said;
    let reason = |(i, r): (usize, &String)| filled(cx, r, &format!("Reason {} of the revision", i + 1), said);
    let reasons: Vec<String> = now.reasons.iter().enumerate().map(reason).collect();
    let why = if reasons.is_empty() { cx.t("no-reasons") } else { reasons.join("\n") };
    let mut rows = vec![Row::new([now.mark.clone(), date, why]).id(format!("revision/{}", now.mark))];
    rows.extend(plan.revisions().iter().rev().map(|r| {
        Row::new([r.mark.clone(), r.date.to_string(), r.what.clone()]).id(format!("revision/{}", r.mark))
    }));
    f.table(Table::new(columns, SMALL).id("revisions").rows(rows));
    f.finish()
}
