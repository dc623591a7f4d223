//! Cutting layouts as SVG files.
//!
//! In: a plan and the stock on hand as typed. Out: a file for each sheet, and what is on it as text.
//! Always true: nothing is written when the stock cannot be read.

use crate::shop::length;
use crate::{files, load};
use std::io::Write;
use std::path::Path;
use turnleaf_plan::planfile::parse_sheet;
use turnleaf_plan::{Effort, StockOnHand, sheets_of};

/// What was typed.
pub struct Wanted<'a> {
    pub sheets: &'a [String],
    pub kerf: Option<&'a str>,
    pub margin: Option<&'a str>,
    pub effort: usize,
}

/// Writes the layouts: to one file when the name ends in .svg and one sheet is enough, else into a folder.
pub fn layout(plan: &Path, out: &Path, wanted: &Wanted, say: &mut impl Write) -> Result<(), String> {
    if !(1..=1000).contains(&wanted.effort) {
        return Err(format!("The effort {} must lie between 1 and 1000.", wanted.effort));
    }
    let built = load::build(plan)?;
    let usual = StockOnHand::of(&built.plan, &built.assembly);
    let kinds = StockOnHand::kinds(&built.assembly);
    let mut sheets = Vec::new();
    for text in wanted.sheets {
        let sheet = parse_sheet(text).map_err(|d| format!("After --sheet: {}", d.sentence))?;
        sheets.extend(sheets_of(&sheet, &kinds));
    }
    let stock = StockOnHand {
        sheets: if sheets.is_empty() { usual.sheets } else { sheets },
        kerf: length("kerf", wanted.kerf, usual.kerf)?,
        margin: length("margin", wanted.margin, usual.margin)?,
        effort: Effort::times(wanted.effort),
    };
    let cutting = built.cutting_layouts(&stock)?;
    let pages = cutting.pages();
    let single = out.extension().is_some_and(|e| e.eq_ignore_ascii_case("svg"));
    if single && pages.len() != 1 {
        return Err(format!("{} sheets are needed; name a folder after -o, not one SVG file.", pages.len()));
    }
    if !single {
        files::folder(out)?;
    }
    for (i, (page, layout)) in pages.iter().zip(&cutting.layouts.sheets).enumerate() {
        let file = if single { out.to_path_buf() } else { out.join(format!("sheet-{:02}.svg", i + 1)) };
        let svg = turnleaf_plan::page_svg_embedded(page, &built.numbers);
        files::write(&file, svg)?;
        let count = layout.placements.len();
        let parts = if count == 1 { "part" } else { "parts" };
        let line = format!("{}; {count} {parts}, {:.1} % used", page.title, layout.fill);
        writeln!(say, "{line}")
            .map_err(|e| format!("Standard output cannot be written: {}.", load::plain(&e)))?;
    }
    cutting.layouts.left.iter().for_each(|left| eprintln!("{}", left.sentence));
    Ok(())
}
