//! The drawings: one sheet, or more, for every part to make.
//!
//! In: the parts, the number of the first page. Out: finished pages with their marks.
//! Always true: sheets stand in the order of the parts list; the mark `sheet/ID` leads to a part's first.

use crate::cx::Cx;
use crate::draw::cut;
use crate::measured::sign;
use crate::stamps::Marks;
use turnleaf_diag::Diagnostic;
use turnleaf_page::{Face, Page};
use turnleaf_parts::Part;
use turnleaf_planfile::{About, Projection, Question, State};
use turnleaf_sheet::{PartSheets, RevisionLine, SheetOptions, TitleData, Tolerance, draw_part, part_sheet};

/// The sheets of one part.
pub struct Sheets {
    /// Part identifier.
    pub part: String,
    /// Name as printed.
    pub name: String,
    /// Its pages.
    pub pages: Vec<Page>,
}

/// How sheets are wanted, the first on page `first`, that changed in these revisions.
pub fn options(cx: &Cx, first: usize, changed: &[String]) -> SheetOptions {
    let plan = cx.input.plan;
    let texts = plan.texts();
    let marks = Marks::of(plan);
    let now = changed.last().cloned().unwrap_or_else(|| plan.revision().mark.clone());
    let date = marks.revision(&now).0;
    // The maker's words in the narrow fields of the title block, cut where they would not fit even in the
    // smallest letters. Rooms are those of the block's fields less their margins.
    let smallest = turnleaf_text::size_for_cap_height(1.8);
    let fit = |text: &str, room: f64| cut(text, smallest, Face::Regular, room);
    let common = cx.sheets(|| SheetOptions {
        paper: cx.options.paper,
        units: cx.say.units,
        projection: match cx.options.projection {
            Projection::First => turnleaf_sheet::Projection::First,
            Projection::Third => turnleaf_sheet::Projection::Third,
        },
        language: cx.words.tag().to_string(),
        tongue: cx.tongue.clone(),
        title: TitleData {
            owner: fit(&texts.maker, 57.0),
            number: fit(&texts.number, 26.0),
            creator: fit(&texts.maker, 36.0),
            approver: String::new(),
            document_type: cx.t("document-type"),
            project: fit(&cx.title(), 57.0),
            ..TitleData::default()
        },
        tolerances: tolerances(cx),
        general: Some(turnleaf_motion::tolerance::GENERAL),
        origins: crate::origins::origins(cx),
        ..SheetOptions::default()
    });
    let mut o = common.clone();
    o.title.revision = now;
    o.title.date = date.map(|d| d.to_string()).unwrap_or_default();
    // The revision in which the sheet came is in its title block; the table has what changed since.
    o.revisions = changed.iter().skip(1).map(|mark| line(&marks, mark, &fit)).collect();
    o.first_sheet = first;
    o
}

/// A row of a sheet's table of revisions.
fn line(marks: &Marks, mark: &str, fit: &dyn Fn(&str, f64) -> String) -> RevisionLine {
    let (date, what) = marks.revision(mark);
    RevisionLine {
        letter: mark.to_string(),
        text: fit(&what, 48.0),
        date: date.map(|d| d.to_string()).unwrap_or_default(),
        by: String::new(),
    }
}

/// Printed answers to questions about a part, its dimensions or its sheet.
fn answers(cx: &Cx, part: &str) -> Vec<String> {
    let of = |q: &&Question| {
        let id = match q.about {
            About::Part => q.id.as_str(),
            About::Dimension => q.id.split('/').next().unwrap_or_default(),
            About::Page => {
                q.id.strip_prefix("sheet/").and_then(|id| id.split('/').next()).unwrap_or_default()
            }
            About::Step | About::Book => return false,
        };
        id == part
    };
    cx.input.plan.questions().iter().filter(of).filter_map(|q| answer(cx, q)).collect()
}

/// A printed answer with the revision that gave it.
pub fn answer(cx: &Cx, q: &Question) -> Option<String> {
    match &q.state {
        State::Answered { revision, answer, printed: true } => {
            Some(cx.tv("answer-note", &[("mark", revision.clone()), ("answer", answer.clone())]))
        }
        _ => None,
    }
}

/// Tolerances finer than the general one, from the clearances that the checks found.
fn tolerances(cx: &Cx) -> Vec<Tolerance> {
    let chains = turnleaf_motion::tolerance::chains(cx.input.assembly, cx.input.proof);
    let links = chains.into_iter().flat_map(|c| c.links);
    links
        .filter(|l| turnleaf_motion::tolerance::finer(l.half))
        .map(|l| Tolerance { part: l.part, begins: l.begins, ends: l.ends.into(), half: l.half })
        .collect()
}

/// A part as its sheets say it, and as it was planned where measured stock changed it.
pub struct Wanted {
    named: Part,
    planned: Option<Part>,
    options: SheetOptions,
}

impl Wanted {
    /// The part it is of.
    pub fn part(&self) -> &str {
        &self.named.id
    }
    /// Draws. This is what sheets cost; it needs nothing of the rest of the book.
    pub fn draw(&self) -> Drawn {
        let planned = self.planned.as_ref();
        Drawn {
            sheets: draw_part(&self.named, &self.options),
            planned: planned.map(|part| draw_part(part, &self.options)),
        }
    }
}

/// The same, drawn.
pub struct Drawn {
    sheets: PartSheets,
    planned: Option<PartSheets>,
}

/// What is to be drawn, in the order of the parts list.
pub fn wanted(cx: &Cx) -> Vec<Wanted> {
    let marks = Marks::of(cx.input.plan);
    let one = |part: &Part| {
        let mut named = part.clone();
        named.name = cx.part_name(part);
        named.material = cx.material(&part.material);
        named.notes.extend(answers(cx, &part.id));
        let planned = cx.input.measured.and_then(|m| m.planned.iter().find(|p| p.id == part.id));
        let planned = planned.map(|planned| {
            let mut planned = planned.clone();
            (planned.name, planned.material) = (named.name.clone(), named.material.clone());
            planned
        });
        let before = marks.before(&format!("sheet/{}", part.id));
        Wanted { named, planned, options: options(cx, 1, &before) }
    };
    cx.input.assembly.parts.iter().filter(|p| p.made).map(one).collect()
}

/// All sheets, the first on page `first`.
pub fn sheets(cx: &Cx, wanted: &[Wanted], drawn: &[Drawn], first: usize) -> (Vec<Sheets>, Vec<Diagnostic>) {
    let mut out: Vec<Sheets> = Vec::new();
    let mut said = Vec::new();
    let mut next = first;
    let marks = Marks::of(cx.input.plan);
    for (wanted, drawn) in wanted.iter().zip(drawn) {
        let (part, unit) = (&wanted.named.id, format!("sheet/{}", wanted.named.id));
        let before = marks.before(&unit);
        let numbered = options(cx, next, &before);
        let (mut pages, mut problems) = (drawn.sheets.pages(&numbered), drawn.sheets.said.clone());
        let shown: Vec<&Page> = pages.iter().collect();
        if !before.is_empty() && !marks.same(&unit, &shown) {
            let now = marks.now(&unit, &shown);
            (pages, problems, _) = part_sheet(&wanted.named, &options(cx, next, &now));
        }
        if let Some(planned) = &drawn.planned {
            sign(&mut pages, &planned.pages(&numbered));
        }
        said.append(&mut problems);
        next += pages.len();
        out.push(Sheets { part: part.clone(), name: wanted.named.name.clone(), pages });
    }
    (out, said)
}
