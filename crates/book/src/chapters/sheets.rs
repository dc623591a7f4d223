//! The drawings: one sheet, or more, for every part to make.
//!
//! In: the parts, the number of the first page. Out: finished pages with their marks.
//! Always true: sheets stand in the order of the parts list; the mark `sheet/ID` leads to a part's first.

use crate::cx::Cx;
use crate::draw::cut;
use turnleaf_diag::Diagnostic;
use turnleaf_page::{Face, Page};
use turnleaf_planfile::Projection;
use turnleaf_sheet::{RevisionLine, SheetOptions, TitleData, part_sheet};

/// The sheets of one part.
pub struct Sheets {
    /// Part identifier.
    pub part: String,
    /// Name as printed.
    pub name: String,
    /// Its pages.
    pub pages: Vec<Page>,
}

/// How sheets are wanted, the first on page `first`.
pub fn options(cx: &Cx, first: usize) -> SheetOptions {
    let plan = cx.input.plan;
    let texts = plan.texts();
    let revision = plan.revision();
    // The maker's words in the narrow fields of the title block, cut where they would not fit even in the
    // smallest letters. Rooms are those of the block's fields less their margins.
    let smallest = turnleaf_text::size_for_cap_height(1.8);
    let fit = |text: &str, room: f64| cut(text, smallest, Face::Regular, room);
    SheetOptions {
        paper: cx.options.paper,
        units: cx.say.units,
        projection: match cx.options.projection {
            Projection::First => turnleaf_sheet::Projection::First,
            Projection::Third => turnleaf_sheet::Projection::Third,
        },
        language: cx.words.tag().to_string(),
        title: TitleData {
            owner: fit(&texts.maker, 57.0),
            number: fit(&texts.number, 26.0),
            revision: revision.mark.clone(),
            date: revision.date.map(|d| d.to_string()).unwrap_or_default(),
            creator: fit(&texts.maker, 27.0),
            approver: String::new(),
            document_type: cx.t("document-type"),
            project: fit(&cx.title(), 57.0),
        },
        revisions: Vec::<RevisionLine>::new(),
        first_sheet: first,
        sheets: None,
        origins: crate::origins::origins(cx),
    }
}

/// All sheets, the first on page `first`.
pub fn sheets(cx: &Cx, first: usize) -> (Vec<Sheets>, Vec<Diagnostic>) {
    let mut out: Vec<Sheets> = Vec::new();
    let mut said = Vec::new();
    let mut next = first;
    for part in cx.input.assembly.parts.iter().filter(|p| p.made) {
        let mut named = part.clone();
        named.name = cx.part_name(part);
        named.material = cx.material(&part.material);
        let (pages, mut problems, _) = part_sheet(&named, &options(cx, next));
        said.append(&mut problems);
        next += pages.len();
        out.push(Sheets { part: part.id.clone(), name: named.name, pages });
    }
    (out, said)
}
