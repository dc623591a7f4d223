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
    Amount, Change, Group, Measure, PageChange, PageState, PartVerdict, Reason, Verdict, Work, WorkKind,
    alike_reasons, alike_work,
};
use turnleaf_text::{Column, Row, Table, Width};

/// Most changed numbers, dimensions or steps that are listed one by one. More of them would make a notice as long as
/// the pages that are to be printed again, where they are marked.
const FEW: usize = 12;

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
        program: cx.program(),
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
    let told = |f: &mut Flow, words: &str, count: usize| {
        if count > 0 {
            f.para(cx.tv(words, &[("count", count.to_string())]));
        }
    };
    let again = new(&[PageState::Changed, PageState::Added]);
    if again.is_empty() {
        f.para(cx.t("notice-pages-none"));
    } else {
        f.para(cx.tv("notice-pages-again", &[("pages", again)]));
    }
    if !old.is_empty() {
        f.para(cx.tv("notice-pages-out", &[("pages", runs(&old))]));
    }
    told(f, "notice-pages-moved", count(PageState::Renumbered));
    told(f, "notice-pages-same", count(PageState::Same));
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
            let lines = lines(alike_work(work), |w| work_text(cx, w));
            (cx.t("notice-verdict-work"), lines)
        }
        Verdict::Again(reasons) => {
            let lines = lines(alike_reasons(reasons), |r| reason_text(cx, r));
            (cx.t("notice-verdict-again"), lines)
        }
    }
}

/// Openings made or lacking for the same purpose take one line, with the worst of them.
fn lines<'a, T: 'a>(alike: Vec<(usize, &'a T)>, text: impl Fn(&T) -> String) -> String {
    let line = |(count, one): (usize, &T)| match count {
        1 => text(one),
        many => format!("{many} × {}", text(one)),
    };
    alike.into_iter().map(line).collect::<Vec<_>>().join("\n")
}

fn purpose(cx: &Cx, purpose: &str) -> String {
    cx.tongue.say(purpose)
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
        Column::number(cx.t("notice-column-old"), Width::Fit(42.0)),
        Column::number(cx.t("notice-column-new"), Width::Fit(42.0)),
        Column::number(cx.t("notice-column-difference"), Width::Fit(36.0)),
    ];
    let (mut rows, mut parts, mut many) = (Vec::new(), Vec::new(), Vec::new());
    for group in Group::ALL.into_iter().filter(|g| listed(*g)) {
        let of: Vec<&Change> = n.changes.iter().filter(|c| c.group == group).collect();
        if of.is_empty() {
            continue;
        }
        if of.len() > FEW && matches!(group, Group::Number | Group::Dimension | Group::Step) {
            many.push(summary(cx, n, group, &of));
            continue;
        }
        let heading = Row::heading(cx.t(&format!("notice-group-{}", group.key())));
        if matches!(group, Group::Part | Group::Hardware) {
            parts.push(heading);
            parts.extend(of.into_iter().map(|c| part_row(cx, n, c)));
        } else {
            rows.push(heading);
            rows.extend(of.into_iter().map(|c| row(cx, n, c)));
        }
    }
    if !rows.is_empty() {
        f.table(Table::new(columns, SMALL).id("notice/changes").rows(rows));
    }
    if !parts.is_empty() {
        let columns = vec![
            Column::new(cx.t("column-part"), Width::Fit(40.0)),
            Column::new(cx.t("notice-column-old"), Width::Share(1.0)),
            Column::new(cx.t("notice-column-new"), Width::Share(1.0)),
        ];
        f.table(Table::new(columns, SMALL).id("notice/changes/parts").rows(parts));
    }
    many.into_iter().for_each(|text| f.para(text));
}

/// A part or a thing to buy, as it was and as it is.
fn part_row(cx: &Cx, n: &NoticeInput, c: &Change) -> Row {
    let is = cx.input.assembly.part(&c.id).filter(|_| c.new.is_some());
    let was = n.old_parts.iter().find(|p| p.id == c.id).filter(|_| c.old.is_some());
    let cell = |p: Option<&Part>| p.map_or_else(|| "–".to_string(), |p| part_size(cx, p));
    Row::new([part_name(cx, n, &c.id), cell(was), cell(is)]).id(format!("notice/{}/{}", c.group.key(), c.id))
}

/// How many of what, then all sides in millimetres, then in inches; of what is round the diameter and the length.
fn part_size(cx: &Cx, p: &Part) -> String {
    let sides = p.size();
    let round = crate::say::is_round(&p.outline) && p.side.is_none();
    let (sign, sides) = if round { ("⌀\u{A0}", &sides[1..]) } else { ("", &sides[..]) };
    let all = |print: &dyn Fn(f64) -> Option<String>, unit: &str| {
        let texts: Vec<String> = sides.iter().map(|v| cx.or_dash(print(*v))).collect();
        // The unit stands behind the last side alone.
        sign.to_string() + &texts.join(" × ").replace(&format!("{unit} × "), " × ")
    };
    let (mm, inch) = (all(&|v| cx.say.mm(v), " mm"), all(&|v| cx.say.inch_fraction(v), " in"));
    format!("{} × {}\n{mm}\n{inch}", p.count, cx.material(&p.material))
}

/// One change as a row.
fn row(cx: &Cx, n: &NoticeInput, c: &Change) -> Row {
    let label = label(cx, n, c);
    let cells = match (&c.old, &c.new) {
        // A title that stays says nothing; its words or figures are others.
        (Some(old), Some(new)) if old == new => {
            [label, String::new(), String::new(), cx.t("notice-other-words")]
        }
        (old, new) => {
            let dash = |t: &Option<String>| t.clone().unwrap_or_else(|| "–".into());
            let by = c.difference.map_or_else(String::new, |d| difference(cx, d));
            [label, dash(old), dash(new), by]
        }
    };
    Row::new(cells).id(format!("notice/{}/{}", c.group.key(), c.id))
}

/// Many changes of one group in a sentence, with the pages on which they are; they are printed there anyway.
fn summary(cx: &Cx, n: &NoticeInput, group: Group, of: &[&Change]) -> String {
    let on = |what: &dyn Fn(&str) -> bool| {
        let printed = n.pages.iter().filter(|p| matches!(p.state, PageState::Changed | PageState::Added));
        runs(&printed.filter(|p| what(&p.id)).filter_map(|p| p.new).collect::<Vec<_>>())
    };
    let below = |chapter: &str| on(&|id| id == chapter || id.starts_with(&format!("{chapter}/")));
    let count = ("count", of.len().to_string());
    if group != Group::Dimension {
        let (words, chapter) = match group {
            Group::Step => ("notice-many-step", "steps"),
            _ => ("notice-many-number", "sizes"),
        };
        return cx.tv(words, &[count, ("pages", below(chapter))]);
    }
    let owner = |c: &Change| c.id.split('/').next().unwrap_or_default().to_string();
    let mut parts: Vec<(String, usize)> = Vec::new();
    for c in of {
        let part = owner(c);
        match parts.iter_mut().find(|p| p.0 == part) {
            Some(p) => p.1 += 1,
            None => parts.push((part, 1)),
        }
    }
    let one = |(part, count): &(String, usize)| {
        let pages = below(&format!("sheet/{part}"));
        let words =
            [("part", part_name(cx, n, part)), ("count", count.to_string()), ("pages", pages.clone())];
        // The sheets of a part that is gone are gone too.
        cx.tv(if pages.is_empty() { "notice-part-gone" } else { "notice-part-on" }, &words)
    };
    let list: Vec<String> = parts.iter().map(one).collect();
    cx.tv("notice-many-dimension", &[count, ("list", list.join("; "))])
}

/// A difference with its sign, in both units where it is a length.
fn difference(cx: &Cx, by: Amount) -> String {
    let size = by.value.abs();
    let inches = by.inches.unwrap_or_default();
    let sign = if by.value < 0.0 || size == 0.0 && inches < 0.0 { "−" } else { "+" };
    let text = match by.measure {
        // Printed to the same fraction of an inch, it differs in millimetres alone.
        Measure::Length if inches == 0.0 => cx.or_dash(cx.say.mm(size)),
        Measure::Length => {
            format!(
                "{} ({})",
                cx.or_dash(cx.say.mm(size)),
                cx.or_dash(cx.say.inch_fraction(inches.abs() * 25.4))
            )
        }
        Measure::Angle | Measure::Bearing => cx.or_dash(cx.say.degrees(size, 2)),
        Measure::Other => cx.or_dash(turnleaf_units::print_decimal(size, 3, cx.say.sign)),
    };
    format!("{sign}{text}")
}

/// What a part of either table is called.
fn part_name(cx: &Cx, n: &NoticeInput, id: &str) -> String {
    let old = n.old_parts.iter().find(|p| p.id == id);
    cx.input.assembly.part(id).or(old).map_or_else(|| id.to_string(), |p| cx.part_name(p))
}

/// What a change is of, in the book's language as far as it has words.
fn label(cx: &Cx, n: &NoticeInput, c: &Change) -> String {
    match c.group {
        Group::Part | Group::Hardware => part_name(cx, n, &c.id),
        Group::Dimension => {
            let owner = c.id.split('/').next().unwrap_or_default();
            format!("{}: {}", part_name(cx, n, owner), cx.tongue.say(&c.label))
        }
        Group::Number => {
            let known = cx.input.numbers.iter().find(|n| n.id == c.id);
            known.map_or_else(|| c.label.clone(), |n| cx.label(n))
        }
        Group::Size => cx.words.named("field", &c.id).unwrap_or_else(|| c.label.clone()),
        Group::Option | Group::Step | Group::Page => c.label.clone(),
    }
}
