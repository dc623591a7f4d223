//! Full-size templates inside the book.
//!
//! In: the parts, the number of the first page. Out: finished pages.
//! Always true: only parts that need few tiles are drawn, so that the chapter stays a booklet; all of them are to
//! be had as a document of their own.

use crate::cx::Cx;
use turnleaf_diag::Diagnostic;
use turnleaf_template::{Chapter, TemplateOptions, chapter};

/// Parts that need more tiles are left to the document of templates.
const MOST: usize = 6;

/// The chapter, its first page with this number.
pub fn templates(cx: &Cx, first: usize) -> (Chapter, Vec<Diagnostic>) {
    let plan = cx.input.plan;
    let revision = plan.revision();
    let named = cx.input.assembly.parts.iter().map(|p| (p.id.clone(), cx.part_name(p)));
    let options = TemplateOptions {
        paper: cx.options.paper,
        units: cx.say.units,
        language: cx.words.tag().into(),
        plan: cx.title(),
        maker: plan.texts().maker.clone(),
        revision: revision.mark.clone(),
        date: revision.date.map(|d| d.to_string()).unwrap_or_default(),
        names: named.collect(),
        ..TemplateOptions::default()
    };
    chapter(&cx.input.assembly.parts, &options, Some(MOST), first)
}
