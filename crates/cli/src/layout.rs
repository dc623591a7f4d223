//! Cutting layouts as SVG files.
//!
//! In: a plan and the stock on hand as typed. Out: a file for each sheet, and what is on it as text.
//! Always true: nothing is written when the stock cannot be read.

use crate::load;
use crate::shop::length;
use std::io::Write;
use std::path::Path;
use turnleaf_plan::units::{LengthUnit, parse_length};
use turnleaf_plan::{Effort, Sheet, StockOnHand};

/// What was typed.
pub struct Wanted<'a> {
    pub sheets: &'a [String],
    pub kerf: Option<&'a str>,
    pub margin: Option<&'a str>,
    pub effort: usize,
}

/// A sheet as typed: two lengths with x or × between them, and how many after a colon. A unit after the second holds
/// for both.
fn sheet(text: &str) -> Result<Sheet, String> {
    let wrong =
        || format!("“{text}” after --sheet is no sheet; write it as in 1220x2440mm, 4x8ft or 1525x1525mm:3.");
    let (size, count) = match text.rsplit_once(':') {
        Some((size, count)) => {
            let count: usize = count.trim().parse().map_err(|_| wrong())?;
            (size, Some(count))
        }
        None => (text, None),
    };
    let (a, b) = size.split_once(['x', '×', 'X']).ok_or_else(wrong)?;
    let unit: String =
        b.trim().trim_start_matches(|c: char| !c.is_alphabetic() && !"\"'″′".contains(c)).into();
    let bare = a.trim().chars().all(|c| c.is_ascii_digit() || ".,/ ".contains(c));
    let a = if bare { format!("{}{unit}", a.trim()) } else { a.into() };
    let mm = |t: &str| parse_length(t, LengthUnit::Mm).map(|l| l.mm()).map_err(|_| wrong());
    Ok(Sheet { count, ..Sheet::of(size.trim(), mm(&a)?, mm(b)?) })
}

/// Writes the layouts: to one file when the name ends in .svg and one sheet is enough, else into a folder.
pub fn layout(plan: &Path, out: &Path, wanted: &Wanted, say: &mut impl Write) -> Result<(), String> {
    let usual = StockOnHand::default();
    let sheets = wanted.sheets.iter().map(|s| sheet(s)).collect::<Result<Vec<_>, _>>()?;
    if !(1..=1000).contains(&wanted.effort) {
        return Err(format!("The effort {} must lie between 1 and 1000.", wanted.effort));
    }
    let stock = StockOnHand {
        sheets: if sheets.is_empty() { usual.sheets } else { sheets },
        kerf: length("kerf", wanted.kerf, usual.kerf)?,
        margin: length("margin", wanted.margin, usual.margin)?,
        effort: Effort::times(wanted.effort),
    };
    let built = load::build(plan)?;
    let cutting = built.cutting_layouts(&stock)?;
    let pages = cutting.pages();
    let single = out.extension().is_some_and(|e| e.eq_ignore_ascii_case("svg"));
    if single && pages.len() != 1 {
        return Err(format!("{} sheets are needed; name a folder after -o, not one SVG file.", pages.len()));
    }
    if !single {
        std::fs::create_dir_all(out)
            .map_err(|e| format!("{} cannot be made: {}.", out.display(), load::plain(&e)))?;
    }
    for (i, (page, layout)) in pages.iter().zip(&cutting.layouts.sheets).enumerate() {
        let file = if single { out.to_path_buf() } else { out.join(format!("sheet-{:02}.svg", i + 1)) };
        let svg = turnleaf_plan::page_svg_embedded(page, &built.numbers);
        std::fs::write(&file, svg)
            .map_err(|e| format!("{} cannot be written: {}.", file.display(), load::plain(&e)))?;
        let count = layout.placements.len();
        let parts = if count == 1 { "part" } else { "parts" };
        let line = format!("{}; {count} {parts}, {:.1} % used", page.title, layout.fill);
        writeln!(say, "{line}")
            .map_err(|e| format!("Standard output cannot be written: {}.", load::plain(&e)))?;
    }
    cutting.layouts.left.iter().for_each(|left| eprintln!("{}", left.sentence));
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sheets_are_read_as_typed() {
        let read = |t: &str| sheet(t).map(|s| (s.length, s.width, s.count));
        assert_eq!(read("1220x2440mm"), Ok((2440.0, 1220.0, None)));
        // 1 ft is 304.8 mm (international yard and pound agreement, 1959).
        assert_eq!(read("4x8ft"), Ok((2438.4, 1219.2, None)));
        assert_eq!(read("1525 × 1525 mm:3"), Ok((1525.0, 1525.0, Some(3))));
        for wrong in ["", "big", "1220", "1220x", "1220x2440mm:many"] {
            assert!(sheet(wrong).is_err(), "{wrong}");
        }
    }
}
