//! German sheets: everything on them is German, and they are proved from their own figures.

use std::collections::BTreeSet;
use turnleaf_page::{Item, Page, Paper};
use turnleaf_parts::Part;
use turnleaf_plan::{Plan, build};
use turnleaf_planfile::Language;
use turnleaf_sheet::{SheetOptions, TitleData, part_sheet};
use turnleaf_units::{Denominator, InchPrint, MmStep, PrintUnits};

fn texts(items: &[Item], out: &mut BTreeSet<String>) {
    for i in items {
        match i {
            Item::Text(t) => drop(out.insert(t.text.clone())),
            Item::Group { items, .. } => texts(items, out),
            _ => {}
        }
    }
}

fn all(pages: &[Page]) -> BTreeSet<String> {
    let mut out = BTreeSet::new();
    pages.iter().for_each(|p| texts(&p.items, &mut out));
    out
}

/// Plans of every kind of mechanism: the demonstrations, one with a cam plate, skewed ones, few and many sectors.
fn plans() -> Vec<Plan> {
    let mut out = Vec::new();
    for name in ["reading-room", "map-room", "window-table"] {
        let path = format!("{}/../../demo/{name}.json", env!("CARGO_MANIFEST_DIR"));
        let text = std::fs::read_to_string(path).unwrap();
        out.push(Plan::parse(text.as_bytes()).unwrap().0);
        for (from, to) in [
            ("\"drive\": \"arms\"", "\"drive\": \"cam\""),
            ("\"sizes\": {", "\"sizes\": { \"slide_skew\": \"6\","),
        ] {
            let other = text.replace(from, to);
            assert_ne!(other, text, "{name} says {from}");
            out.push(Plan::parse(other.as_bytes()).unwrap().0);
        }
    }
    out
}

fn word(text: &str) -> bool {
    text.split(|c: char| !c.is_alphabetic()).any(|w| w.chars().count() >= 3)
}

#[test]
fn no_english_word_is_left_on_a_german_sheet() {
    let title = |t: &str| TitleData { document_type: t.into(), ..TitleData::default() };
    let mut left: BTreeSet<String> = BTreeSet::new();
    let mut sheets = 0;
    for (k, plan) in plans().iter().enumerate() {
        let Ok(built) = build(plan) else { continue };
        for part in built.assembly.parts.iter().filter(|p| p.made) {
            let part = Part { name: "Ding".into(), material: "Stoff".into(), ..part.clone() };
            let inch = InchPrint { denominator: Denominator::SixtyFour, feet: false };
            let units = [
                PrintUnits::Mm(MmStep::TENTH),
                PrintUnits::Inch(inch),
                PrintUnits::Both(MmStep::TENTH, inch),
            ];
            let units = units[k % 3];
            let paper = [Paper::A4, Paper::Letter][k % 2];
            let en = SheetOptions { units, paper, title: title("Bild"), ..SheetOptions::default() };
            let de = SheetOptions {
                language: "de".into(),
                tongue: turnleaf_book::words::tongue(Language::De),
                ..en.clone()
            };
            let (english, _, _) = part_sheet(&part, &en);
            let (german, said, proof) = part_sheet(&part, &de);
            assert!(proof.complete(), "{}: {:?}", part.id, proof.loose);
            let severe = |d: &turnleaf_diag::Diagnostic| d.severity == turnleaf_diag::Severity::Error;
            assert!(!said.iter().any(severe), "{said:?}");
            let (english, german) = (all(&english), all(&german));
            let known = |t: &str| {
                // Paper formats, identifiers and what the caller names.
                ["Ding", "Stoff", "Bild", "Letter", "Plan"].contains(&t) || t.starts_with(part.id.as_str())
            };
            left.extend(german.intersection(&english).filter(|t| word(t) && !known(t)).cloned());
            // The decimal sign: a comma everywhere.
            let points = german.iter().filter(|t| {
                let c: Vec<char> = t.chars().collect();
                c.windows(3).any(|w| w[0].is_ascii_digit() && w[1] == '.' && w[2].is_ascii_digit())
            });
            // Marks of recesses' corners ("A.1") begin with a letter, so figures alone are looked at.
            left.extend(points.cloned());
            sheets += 1;
        }
    }
    assert!(sheets > 100, "{sheets}");
    assert!(left.is_empty(), "still English, or with a point: {left:#?}");
}
