//! Writes the sheets of the demo table's parts as SVG, to look at.
//!
//! In: a folder, and optionally a paper key, "mm", "in" or "both", and "cam" for the cam drive.
//! Out: one SVG file a page.

use turnleaf_mechanism::{DriveKind, Sizes, solve};
use turnleaf_page::Paper;
use turnleaf_sheet::{SheetOptions, TitleData, part_sheet};
use turnleaf_svg::{Letters, SvgOptions, page_svg_with};
use turnleaf_units::{Denominator, InchPrint, MmStep, PrintUnits};

fn main() {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let folder = args.first().cloned().unwrap_or_else(|| "sheets".to_string());
    let paper = args.get(1).and_then(|p| Paper::from_key(p)).unwrap_or(Paper::A4);
    let inch = InchPrint { denominator: Denominator::SixtyFour, feet: false };
    let units = match args.get(2).map(String::as_str) {
        Some("in") => PrintUnits::Inch(inch),
        Some("both") => PrintUnits::Both(MmStep::TENTH, inch),
        _ => PrintUnits::Mm(MmStep::TENTH),
    };
    std::fs::create_dir_all(&folder).expect("a folder to write to");
    let drive = if args.iter().any(|a| a == "cam") { DriveKind::Cam } else { DriveKind::Arms };
    let mechanism = solve(&Sizes { drive, ..Sizes::example() }).expect("the example solves");
    let options = SheetOptions {
        paper,
        units,
        title: TitleData {
            owner: "Demo workshop".into(),
            number: "TL-1".into(),
            date: "2025-03-01".into(),
            creator: "A. Maker".into(),
            approver: "B. Reader".into(),
            document_type: "Part drawing".into(),
            project: "Table for the reading room (demo)".into(),
            revision: String::new(),
        },
        ..SheetOptions::default()
    };
    for part in turnleaf_parts::assemble(&mechanism).parts.iter().filter(|p| p.made) {
        let start = std::time::Instant::now();
        let (pages, said, proof) = part_sheet(part, &options);
        let took = start.elapsed();
        for page in &pages {
            let svg = SvgOptions { letters: Letters::Outlined, ..SvgOptions::default() };
            let name = page.id.trim_start_matches("sheet/").replace('/', "-");
            std::fs::write(format!("{folder}/{name}.svg"), page_svg_with(page, &svg)).expect("written");
        }
        println!(
            "{:20} {} page(s), complete {}, worst {:.3} mm, {took:?}",
            part.id,
            pages.len(),
            proof.complete(),
            proof.worst()
        );
        for q in said {
            println!("    {}", q.sentence);
        }
    }
}
