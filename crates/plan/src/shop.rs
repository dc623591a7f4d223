//! Options of the workshop's output from a plan.
//!
//! In: a built table. Out: [`TemplateOptions`] as its plan has them.
//! Always true: names, date and units are the book's.

use crate::Built;
use turnleaf_book::words::Words;
use turnleaf_template::TemplateOptions;

/// The date that files carry when the plan was never issued.
const UNDATED: &str = "1970-01-01";

/// Templates as the plan has them: its paper, units, language, names and revision; all parts from sheets, no
/// compensation.
pub fn template_options(built: &Built) -> TemplateOptions {
    let plan = &built.plan;
    let options = plan.options();
    let words = Words::new(options.language);
    let (texts, revision) = (plan.texts(), plan.revision());
    let date = revision.date.or(plan.revisions().last().map(|r| r.date));
    let title = texts.title.trim();
    let names = built
        .assembly
        .parts
        .iter()
        .filter_map(|p| words.named("part", &p.id).map(|name| (p.id.clone(), name)))
        .collect();
    TemplateOptions {
        paper: options.paper,
        units: options.print.print_units(),
        language: words.tag().into(),
        plan: if title.is_empty() { words.get("untitled") } else { title.into() },
        maker: texts.maker.clone(),
        revision: revision.mark.clone(),
        date: date.map_or_else(|| UNDATED.to_string(), |d| d.to_string()),
        names,
        ..TemplateOptions::default()
    }
}
