//! Writes the assembly drawings of a table as SVG files, to be looked at.
//!
//! In: a folder, and if wanted sectors, closed diameter in mm, paper, `mm` or `in`. Out: one SVG a sheet.

#[path = "../tests/support/mod.rs"]
mod support;

use turnleaf_page::Paper;
use turnleaf_sheet::SheetOptions;
use turnleaf_svg::{Letters, SvgOptions, page_svg_with};
use turnleaf_units::{Denominator, InchPrint, MmStep, PrintUnits};

fn main() {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let word = |i: usize, other: &str| words.get(i).cloned().unwrap_or_else(|| other.to_string());
    let folder = word(0, "pages");
    let sectors = word(1, "6").parse().expect("a number of sectors");
    let diameter = word(2, "1200").parse().expect("a diameter in mm");
    let paper = Paper::from_key(&word(3, "a4")).expect("a paper");
    let inch = InchPrint { denominator: Denominator::SixtyFour, feet: false };
    let units = if word(4, "mm") == "in" { PrintUnits::Inch(inch) } else { PrintUnits::Mm(MmStep::TENTH) };
    let a = support::table(sectors, diameter, 18.0).expect("these sizes make a table");
    let options = SheetOptions { paper, units, ..SheetOptions::default() };
    std::fs::create_dir_all(&folder).expect("a folder");
    for sheet in support::drawn(&a, &options) {
        let name = sheet.id.replace('/', "-");
        let path = format!("{folder}/{name}.svg");
        let options =
            SvgOptions { letters: Letters::Embedded, origin_name: &turnleaf_svg::index_name, sheet: true };
        std::fs::write(&path, page_svg_with(&sheet.page, &options)).expect("a file");
        println!("{path}");
    }
}
