//! The assembly drawings: the whole table, its section, exploded views.
//!
//! In: the assembly, the number of the first page. Out: finished pages with their marks.
//! Always true: they stand before the sheets of the parts; the mark of a sheet is its page's identifier.

use super::sheets;
use crate::cx::Cx;
use crate::stamps::Marks;
use turnleaf_assembly::{AssemblyOptions, AssemblySheet, Drawing, Scene, Sight};
use turnleaf_diag::Diagnostic;
use turnleaf_page::Page;
use turnleaf_sheet::SheetOptions;

fn options(cx: &Cx, first: usize, changed: &[String]) -> SheetOptions {
    let mut o = sheets::options(cx, first, changed);
    o.title.document_type = cx.t("assembly-document");
    // These drawings fill their sheets: the table of revisions has no room, their mark and date stay.
    o.revisions.clear();
    // Heights are counted from the floor up to the table's height; diameters are solved numbers.
    let height = turnleaf_planfile::origin("height");
    for name in ["elevation-", "section/dim/", "detail/dim/"] {
        o.origins.extend(height.map(|h| (name.to_string(), h)));
    }
    for (key, number) in [("closed", "closed.diameter"), ("open", "open.diameter")] {
        let found = cx.number(number).map(|n| n.0);
        o.origins.extend(found.map(|n| (format!("elevation-{key}/dim/diameter"), n)));
    }
    o
}

/// Everything drawn, before the pages have numbers.
pub fn drawings(cx: &Cx) -> (Vec<Drawing>, Vec<Diagnostic>) {
    let sheet = options(cx, 1, &[]);
    let say = |name: &str, values: &[(&str, String)]| cx.tv(name, values);
    let name = |p: &turnleaf_parts::Part| cx.part_name(p);
    turnleaf_assembly::drawings(
        cx.input.assembly,
        cx.relations(),
        &AssemblyOptions { sheet: &sheet, say: &say, name: &name },
    )
}

/// The drawings as pages, the first with this number.
pub fn pages(cx: &Cx, drawings: &[Drawing], first: usize) -> Vec<AssemblySheet> {
    let marks = Marks::of(cx.input.plan);
    let framed = |k: usize, changed: &[String]| {
        turnleaf_assembly::framed_pages(&drawings[k..=k], &options(cx, first + k, changed))
    };
    let one = |k: usize| {
        let sheets = framed(k, &[]);
        let now: Vec<Vec<String>> = sheets.iter().map(|s| marks.now(&s.page.id, &[&s.page])).collect();
        framed(k, now.first().map_or(&[][..], |m| m))
    };
    (0..drawings.len()).flat_map(one).collect()
}

/// One drawing by itself.
pub fn single(cx: &Cx, sight: Sight, turn: f64, of: &[String]) -> Result<Page, String> {
    let sheet = options(cx, 1, &[]);
    let say = |name: &str, values: &[(&str, String)]| cx.tv(name, values);
    let name = |p: &turnleaf_parts::Part| cx.part_name(p);
    let o = AssemblyOptions { sheet: &sheet, say: &say, name: &name };
    turnleaf_assembly::single(&Scene::new(cx.input.assembly), sight, turn, of, &o)
}
