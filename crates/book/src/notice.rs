//! The change notice: a short document for those who have an older revision.
//!
//! In: the newer table, the older one's parts, and what a comparison found. Out: a finished document.
//! Always true: it says what changed and why, which pages to print again, and for every part cut to the older
//! revision what becomes of it; it carries no plan file.

use crate::cx::Cx;
use crate::flow::{Chapter, Flow};
use crate::grid::SMALL;
use crate::{BookInput, BookOptions};
use turnleaf_diag::Diagnostic;
use turnleaf_page::{Document, Page};
use turnleaf_parts::Part;
use turnleaf_planfile::Date;
use turnleaf_revise::{
    Change, Group, Measure, PageChange, PageState, PartVerdict, Reason, Verdict, Work, WorkKind,
};
use turnleaf_text::{Column, Row, Table, Width};

/// What a notice is made of, beside the newer book's input.
#[derive(Clone, Copy)]
pub struct NoticeInput<'a> {
    /// Mark and date of the older revision.
    pub from: (&'a str, Option<Date>),
    /// Parts of the older table.
    pub old_parts: &'a [Part],
    /// What changed.
    pub changes: &'a [Change],
    /// Pages of both books.
    pub pages: &'a [PageChange],
    /// What becomes of parts already cut.
    pub parts: &'a [PartVerdict],
    /// Revisions after the older one, oldest first: mark and why.
    pub why: &'a [(String, String)],
}

/// The notice.
pub fn compose(
    input: &BookInput,
    notice: &NoticeInput,
    options: &BookOptions,
) -> (Document, Vec<Diagnostic>) {
    let cx = Cx::new(input, options);
    let chapter = chapter(&cx, notice);
    let said = chapter.said;
    let g = &cx.grid;
    let from = cx.revision_of(notice.from.0, notice.from.1);
    let title = cx.tv("notice-name", &[("title", cx.title()), ("from", from), ("to", cx.revision())]);
    let pages: Vec<Page> = chapter
        .pages
        .into_iter()
        .enumerate()
        .map(|(i, draft)| {
            let mut items = draft.items;
            items.push(crate::assemble::foot(&cx, i + 1, &cx.revision()));
            Page {
                width: g.page_width,
                height: g.page_height,
                label: (i + 1).to_string(),
                id: if i == 0 { "notice".into() } else { format!("notice/{}", i + 1) },
                title: chapter.title.clone(),
                items,
            }
        })
        .collect();
    let document = Document {
        title,
        author: input.plan.texts().maker.clone(),
        subject: cx.tv("subject", &[("revision", cx.revision())]),
        language: cx.words.tag().to_string(),
        date: input.plan.revision().date.map_or_else(|| crate::assemble::UNDATED.into(), |d| d.to_string()),
        pages,
        bookmarks: Vec::new(),
        attachments: Vec::new(),
    };
    (document, said)
}

fn chapter(cx: &Cx, n: &NoticeInput) -> Chapter {
    let mut f = Flow::new(&cx.grid, 0, "notice", &cx.tv("notice-title", &[("title", cx.title())]));
    f.section(&cx.t("notice-what"), "notice/what");
    let from = cx.revision_of(n.from.0, n.from.1);
    f.para(cx.tv("notice-text", &[("from", from), ("to", cx.revision())]));
    for (mark, why) in n.why {
        let why = if why.trim().is_empty() { cx.t("no-reasons") } else { why.clone() };
        f.item(&format!("{mark}."), &why);
    }
    f.end_list();
    pages(cx, &mut f, n);
    parts(cx, &mut f, n);
    changes(cx, &mut f, n);
    f.finish()
}

/// Runs of page numbers: "3, 5–7, 9".
fn runs(numbers: &[usize]) -> String {
    let mut out: Vec<(usize, usize)> = Vec::new();
    for &n in numbers {
        match out.last_mut() {
            Some(run) if run.1 + 1 == n => run.1 = n,
            _ => out.push((n, n)),
        }
    }
    let one = |r: &(usize, usize)| match r.1 - r.0 {
        0 => r.0.to_string(),
        1 => format!("{}, {}", r.0, r.1),
        _ => format!("{}–{}", r.0, r.1),
    };
    out.iter().map(one).collect::<Vec<_>>().join(", ")
}

fn pages(cx: &Cx, f: &mut Flow, n: &NoticeInput) {
    f.section(&cx.t("notice-pages"), "notice/pages");
    let new = |state: &[PageState]| {
        let found = n.pages.iter().filter(|p| state.contains(&p.state)).filter_map(|p| p.new);
        runs(&found.collect::<Vec<_>>())
    };
    let old: Vec<usize> =
        n.pages.iter().filter(|p| p.state == PageState::Removed).filter_map(|p| p.old).collect();
    let count = |state: PageState| n.pages.iter().filter(|p| p.state == state).count();
    let again = new(&[PageState::Changed, PageState::Added]);
    if again.is_empty() {
        f.para(cx.t("notice-pages-none"));
    } else {
        f.para(cx.tv("notice-pages-again", &[("pages", again)]));
    }
    if !old.is_empty() {
        f.para(cx.tv("notice-pages-out", &[("pages", runs(&old))]));
    }
    let moved: Vec<&PageChange> = n.pages.iter().filter(|p| p.state == PageState::Renumbered).collect();
    if !moved.is_empty() {
        f.para(cx.tv("notice-pages-moved", &[("count", moved.len().to_string())]));
    }
    f.para(cx.tv("notice-pages-same", &[("count", count(PageState::Same).to_string())]));
}

fn parts(cx: &Cx, f: &mut Flow, n: &NoticeInput) {
    f.section(&cx.t("notice-parts"), "notice/parts");
    f.para(cx.t("notice-parts-text"));
    f.lead(cx.t("notice-parts-safety"));
    let name = |v: &PartVerdict| {
        let old = n.old_parts.iter().find(|p| p.id == v.part);
        let part = cx.input.assembly.part(&v.part).or(old);
        part.map_or_else(|| v.name.clone(), |p| cx.part_name(p))
    };
    let mut rows = Vec::new();
    let mut good = Vec::new();
    for v in n.parts.iter().filter(|v| v.made) {
        let more = v.count.1.saturating_sub(v.count.0);
        if v.verdict == Verdict::Good && more == 0 {
            good.push(name(v));
            continue;
        }
        let (verdict, what) = verdict(cx, v);
        let mut cells = vec![what];
        if more > 0 && v.count.0 > 0 {
            cells.push(cx.tv("notice-more", &[("count", more.to_string())]));
        }
        rows.push(Row::new([name(v), verdict, cells.join("\n")]).id(format!("notice/part/{}", v.part)));
    }
    let columns = vec![
        Column::new(cx.t("column-part"), Width::Fit(40.0)),
        Column::new(cx.t("notice-column-verdict"), Width::Fit(34.0)),
        Column::new(cx.t("notice-column-work"), Width::Share(1.0)),
    ];
    f.table(Table::new(columns, SMALL).id("notice/parts").rows(rows));
    if !good.is_empty() {
        f.para(cx.tv("notice-good", &[("names", good.join(", "))]));
    }
}

/// The verdict in a word or two, and what to do.
fn verdict(cx: &Cx, v: &PartVerdict) -> (String, String) {
    match &v.verdict {
        Verdict::Good => (cx.t("notice-verdict-good"), String::new()),
        Verdict::NotNeeded => (cx.t("notice-verdict-not-needed"), String::new()),
        Verdict::New => (cx.t("notice-verdict-new"), String::new()),
        Verdict::Work(work) => {
            let lines = worst_of(work, alike, |w| work_text(cx, w));
            (cx.t("notice-verdict-work"), lines)
        }
        Verdict::Again(reasons) => {
            let lines = worst_of(reasons, alike_why, |r| reason_text(cx, r));
            (cx.t("notice-verdict-again"), lines)
        }
    }
}

/// Openings made or lacking for the same purpose take one line, with the worst of them.
fn worst_of<T>(all: &[T], key: impl Fn(&T) -> (String, f64), text: impl Fn(&T) -> String) -> String {
    let mut found: Vec<(String, usize, f64, usize)> = Vec::new();
    for (i, one) in all.iter().enumerate() {
        let (name, by) = key(one);
        match found.iter_mut().find(|f| f.0 == name) {
            Some(f) => {
                f.1 += 1;
                if by > f.2 {
                    (f.2, f.3) = (by, i);
                }
            }
            None => found.push((name, 1, by, i)),
        }
    }
    let line = |(_, count, _, i): &(String, usize, f64, usize)| {
        let text = text(&all[*i]);
        if *count > 1 { format!("{count} × {text}") } else { text }
    };
    found.iter().map(line).collect::<Vec<_>>().join("\n")
}

/// Work of one kind on features of one purpose is alike.
fn alike(w: &Work) -> (String, f64) {
    (format!("{:?}/{}", w.kind, w.purpose), w.by)
}

/// Openings of one purpose are alike; any other reason stands for itself.
fn alike_why(r: &Reason) -> (String, f64) {
    match r {
        Reason::Opening { purpose, by, .. } => (format!("opening/{purpose}"), *by),
        other => (format!("{other:?}"), 0.0),
    }
}

fn purpose(cx: &Cx, purpose: &str) -> String {
    cx.words.named("purpose", purpose).unwrap_or_else(|| purpose.to_string())
}

fn work_text(cx: &Cx, w: &Work) -> String {
    let by = ("by", cx.length(w.by));
    let what = ("what", purpose(cx, &w.purpose));
    match w.kind {
        WorkKind::Open => cx.tv("notice-work-open", &[what]),
        WorkKind::Widen => cx.tv("notice-work-widen", &[what, by]),
        WorkKind::Deepen => cx.tv("notice-work-deepen", &[what, by]),
        WorkKind::Trim => cx.tv("notice-work-trim", &[by]),
        WorkKind::Shorten => cx.tv("notice-work-shorten", &[by]),
    }
}

fn reason_text(cx: &Cx, r: &Reason) -> String {
    match r {
        Reason::Thickness(old, new) => {
            cx.tv("notice-why-thickness", &[("old", cx.length(*old)), ("new", cx.length(*new))])
        }
        Reason::Material(old, new) => {
            cx.tv("notice-why-material", &[("old", cx.material(old)), ("new", cx.material(new))])
        }
        Reason::Slope(by) => cx.tv("notice-why-slope", &[("by", cx.length(*by))]),
        Reason::Opening { purpose: what, by, .. } => {
            cx.tv("notice-why-opening", &[("what", purpose(cx, what)), ("by", cx.length(*by))])
        }
        Reason::Short { by, .. } => cx.tv("notice-why-short", &[("by", cx.length(*by))]),
        Reason::Fit { with, by, turn } => cx.tv(
            "notice-why-fit",
            &[("with", cx.name_of(with)), ("by", cx.length(*by)), ("turn", cx.degrees(*turn))],
        ),
        Reason::Check(text) => cx.tv("notice-why-check", &[("text", text.clone())]),
    }
}

fn changes(cx: &Cx, f: &mut Flow, n: &NoticeInput) {
    f.section(&cx.t("notice-changes"), "notice/changes");
    let listed = |g: Group| !matches!(g, Group::Page | Group::Option);
    if !n.changes.iter().any(|c| listed(c.group)) {
        f.para(cx.t("notice-changes-none"));
        return;
    }
    f.lead(cx.t("notice-changes-text"));
    let columns = vec![
        Column::new(cx.t("notice-column-what"), Width::Share(1.0)),
        Column::number(cx.t("notice-column-old"), Width::Fit(40.0)),
        Column::number(cx.t("notice-column-new"), Width::Fit(40.0)),
        Column::number(cx.t("notice-column-difference"), Width::Fit(34.0)),
    ];
    let mut rows = Vec::new();
    for group in Group::ALL.into_iter().filter(|g| listed(*g)) {
        let of: Vec<&Change> = n.changes.iter().filter(|c| c.group == group).collect();
        if of.is_empty() {
            continue;
        }
        rows.push(Row::heading(cx.t(&format!("notice-group-{}", group.key()))));
        for c in of {
            let dash = |t: &Option<String>| t.clone().unwrap_or_else(|| "–".into());
            let label = label(cx, n, c);
            let by = c.difference.map_or_else(String::new, |d| difference(cx, d));
            rows.push(Row::new([label, dash(&c.old), dash(&c.new), by]).id(format!(
                "notice/{}/{}",
                group.key(),
                c.id
            )));
        }
    }
    f.table(Table::new(columns, SMALL).id("notice/changes").rows(rows));
}

/// A difference with its sign, in both units where it is a length.
fn difference(cx: &Cx, (value, measure): (f64, Measure)) -> String {
    let sign = if value < 0.0 { "−" } else { "+" };
    let size = value.abs();
    let text = match measure {
        Measure::Length => {
            format!("{} ({})", cx.or_dash(cx.say.mm(size)), cx.or_dash(cx.say.inches(size)))
        }
        Measure::Angle => cx.or_dash(cx.say.degrees(size, 2)),
        Measure::Other => cx.or_dash(turnleaf_units::print_decimal(size, 0, cx.say.sign)),
    };
    format!("{sign}{text}")
}

/// What a change is of, in the book's language as far as it has words.
fn label(cx: &Cx, n: &NoticeInput, c: &Change) -> String {
    let part = |id: &str| {
        let old = n.old_parts.iter().find(|p| p.id == id);
        cx.input.assembly.part(id).or(old).map(|p| cx.part_name(p))
    };
    match c.group {
        Group::Part | Group::Hardware => part(&c.id).unwrap_or_else(|| c.label.clone()),
        Group::Dimension => {
            let owner = c.id.split('/').next().and_then(part).unwrap_or_default();
            format!("{owner}: {}", c.label)
        }
        Group::Number => cx.words.named("number", &c.id).unwrap_or_else(|| c.label.clone()),
        Group::Size => cx.words.named("size", &c.id).unwrap_or_else(|| c.label.clone()),
        Group::Option | Group::Step | Group::Page => c.label.clone(),
    }
}
