//! In: a document with every kind of item. Out: what unrelated PDF readers make of its file.
//! Outside checks: qpdf and poppler-utils (Debian packages), which share no code with the writer.

mod support;

use std::path::PathBuf;

use serde_json::Value;
use support::grey::Grey;
use support::{folder, run, sample};
use turnleaf_page::*;
use turnleaf_text::width;

/// Writes the sample into a fresh folder.
fn written(name: &str) -> PathBuf {
    let dir = folder(name);
    std::fs::write(dir.join("book.pdf"), turnleaf_pdf::write(&sample()).unwrap()).unwrap();
    dir
}

fn read(name: &str, program: &str, args: &[&str]) -> String {
    let (shown, fine) = run(program, args, &written(name));
    assert!(fine, "{program}: {shown}");
    shown
}

fn json(name: &str, key: &str) -> Value {
    let shown = read(name, "qpdf", &["--json=2", &format!("--json-key={key}"), "book.pdf"]);
    serde_json::from_str::<Value>(&shown).unwrap()[key].clone()
}

#[test]
fn qpdf_finds_no_fault() {
    let shown = read("qpdf", "qpdf", &["--check", "book.pdf"]);
    assert!(!shown.contains("WARNING"), "{shown}");
    assert!(shown.contains("No syntax or stream encoding errors found"), "{shown}");
}

#[test]
fn the_same_document_gives_the_same_bytes() {
    assert_eq!(turnleaf_pdf::write(&sample()).unwrap(), turnleaf_pdf::write(&sample()).unwrap());
}

#[test]
fn a_thread_that_has_done_other_work_gives_the_same_bytes() {
    let here = turnleaf_pdf::write(&support::pages::book(Paper::A4)).unwrap();
    let there = std::thread::spawn(|| turnleaf_pdf::write(&support::pages::book(Paper::A4)).unwrap());
    assert_eq!(here, there.join().unwrap());
}

#[test]
fn every_font_is_embedded_subset_and_searchable() {
    let shown = read("fonts", "pdffonts", &["book.pdf"]);
    let fonts: Vec<&str> = shown.lines().skip(2).collect();
    assert_eq!(fonts.len(), 4, "{shown}");
    for font in fonts {
        let words: Vec<&str> = font.split_whitespace().collect();
        // The columns after the encoding: embedded, subset, with a map to characters.
        assert_eq!(&words[words.len() - 5..words.len() - 2], ["yes", "yes", "yes"], "{font}");
    }
}

#[test]
fn text_is_found_word_for_word_in_reading_order() {
    let shown = read("text", "pdftotext", &["-raw", "book.pdf", "-"]);
    let mut rest = shown.as_str();
    for words in [
        "Reading-room table",
        "Six sections, 1,200 mm closed and 1,650 mm open.",
        "Naïve Maß: ½ + ¼ = ¾ · 3×4 → 12 ✓ ☐ ⌀8 ±0.1 “Ω”",
        "See the sheet of the disc",
        "⌀ 50.0",
        "Travel of the slide 225.0 8 55/64",
        "Outer radius 802.8 31 39/64",
        "Reach of the star 416.1 16 3/8",
        "How it moves",
        "Sheet 1: the disc",
        "Fett kursiv: Übermaß",
    ] {
        let at = rest
            .find(words)
            .unwrap_or_else(|| panic!("“{words}” is not found after the last one in {shown}"));
        rest = &rest[at + words.len()..];
    }
    // Turned words stay whole too; poppler gives those of a quarter turn a line each.
    let flat = shown.split_whitespace().collect::<Vec<_>>().join(" ");
    for words in ["30° turn", "90° turn", "180° turn", "270° turn", "337.5° turn"] {
        assert!(flat.contains(words), "“{words}” in {flat}");
    }
}

#[test]
fn metadata_comes_from_the_document() {
    let shown = read("info", "pdfinfo", &["-isodates", "book.pdf"]);
    for (key, value) in [
        ("Title:", "Reading-room table"),
        ("Author:", "Demo workshop"),
        ("Creator:", "Workshop 1.2"),
        ("Subject:", "Plans for a turning table"),
        ("CreationDate:", "2025-03-01T00:00:00Z"),
        ("Tagged:", "yes"),
        ("Pages:", "3"),
        ("PDF version:", "1.7"),
    ] {
        let line = shown.lines().find(|l| l.starts_with(key)).unwrap_or_else(|| panic!("{key} in {shown}"));
        assert_eq!(line[key.len()..].trim(), value);
    }
}

#[test]
fn pages_have_their_sizes_and_labels() {
    let pages = json("labels", "pagelabels");
    let prefix: Vec<(i64, String)> = pages
        .as_array()
        .unwrap()
        .iter()
        .map(|p| (p["index"].as_i64().unwrap(), p["label"].to_string()))
        .collect();
    assert_eq!(prefix.iter().map(|p| p.0).collect::<Vec<_>>(), [0, 1, 2], "{prefix:?}");
    assert!(prefix[0].1.contains("\"/S\":\"/r\""), "{prefix:?}");
    assert!(prefix[2].1.contains("\"/P\":\"u:A-\""), "{prefix:?}");
    let shown = read("sizes", "pdfinfo", &["-f", "1", "-l", "3", "book.pdf"]);
    let sizes: Vec<f64> = shown
        .lines()
        .filter(|l| l.starts_with("Page ") && l.contains(" size:"))
        .flat_map(|l| l.split_whitespace().filter_map(|w| w.parse::<f64>().ok()).collect::<Vec<_>>())
        .filter(|v| *v > 100.0)
        .collect();
    for (points, mm) in sizes.iter().zip([210.0, 297.0, 215.9, 279.4, 297.0, 210.0]) {
        assert!((points / 72.0 * 25.4 - mm).abs() < 0.005, "{points} {mm}");
    }
    assert_eq!(sizes.len(), 6);
}

#[test]
fn bookmarks_and_links_lead_where_they_should() {
    let outlines = json("outline", "outlines");
    let top = outlines.as_array().unwrap();
    let entry =
        |v: &Value| (v["title"].as_str().unwrap().to_string(), v["destpageposfrom1"].as_i64().unwrap());
    assert_eq!(top.iter().map(entry).collect::<Vec<_>>(), [("Cover".into(), 1), ("Plans".into(), 2)]);
    assert_eq!(entry(&top[1]["kids"][0]), ("The disc".into(), 3));
    // Links: two, each with a description and a place in the structure.
    let objects = json("links", "qpdf");
    let shown = objects.to_string();
    assert_eq!(shown.matches("\"/Subtype\":\"/Link\"").count(), 2);
    assert!(shown.contains("\"/Contents\":\"u:See the sheet of the disc\""));
    assert!(shown.contains("\"/Contents\":\"u:Cover\""), "a bare link is told by the title of its page");
    assert_eq!(shown.matches("\"/StructParent\":").count(), 2);
}

#[test]
fn the_file_asks_for_full_size_printing_and_names_its_language() {
    let objects = json("print", "qpdf").to_string();
    assert!(objects.contains("\"/PrintScaling\":\"/None\""));
    assert!(objects.contains("\"/DisplayDocTitle\":true"));
    assert!(objects.contains("\"/Lang\":\"u:en\""));
}

#[test]
fn the_structure_tells_headings_tables_and_figures() {
    let shown = read("struct", "pdfinfo", &["-struct-text", "book.pdf"]);
    for part in ["H1 \"Reading-room table\"", "H2 \"How it moves\"", "Table (block)", "/ColSpan", "/Scope"] {
        let expected = part != "/ColSpan";
        assert_eq!(shown.contains(part), expected, "{part} in {shown}");
    }
    assert_eq!(shown.matches("    TR").count(), 4);
    assert_eq!(shown.matches("      TH").count(), 3);
    assert_eq!(shown.matches("      TD").count(), 9);
    let objects = json("alt", "qpdf").to_string();
    assert!(objects.contains("\"/Alt\":\"u:A disc with a square hole, 50 mm across.\""));
    // Furniture is not read out.
    assert!(!shown.contains("Reading-room table · i"), "{shown}");
}

#[test]
fn the_attached_file_comes_out_again() {
    let dir = written("attached");
    let (list, _) = run("qpdf", &["--list-attachments", "--verbose", "book.pdf"], &dir);
    assert!(list.contains("plan.json") && list.contains("application/json"), "{list}");
    let (data, fine) = run("qpdf", &["--show-attachment=plan.json", "book.pdf"], &dir);
    assert!(fine && data == "{\"version\":1}", "{data}");
}

#[test]
fn a_bar_of_100_mm_measures_100_mm() {
    let dir = written("bar");
    let (_, fine) = run("pdftoppm", &["-r", "300", "-gray", "book.pdf", "page"], &dir);
    assert!(fine);
    for page in 1..=3 {
        let grey = Grey::read(&dir.join(format!("page-{page}.pgm")));
        let per_mm = 300.0 / 25.4;
        let pixel = |mm: f64| (mm * per_mm) as usize;
        let mm = grey.run(pixel(70.0), pixel(62.0)) / per_mm;
        // The bound of the acceptance; measured it is within 0.02 mm.
        assert!((mm - 100.0).abs() < 0.2, "page {page}: {mm} mm");
        let left = (0..grey.width).find(|x| grey.dark(*x, pixel(62.0)) && *x > pixel(15.0)).unwrap();
        assert!((left as f64 / per_mm - 20.0).abs() < 0.15, "page {page}: {left}");
    }
}

#[test]
fn words_stand_where_they_were_measured() {
    // Boxes of words as poppler computes them from the widths and shifts written in the file.
    let mut document = sample();
    let cases = [
        ("1,234.5", Face::Regular, 3.5),
        ("AVATAR-Tow", Face::Bold, 9.0),
        ("Übermaßfuge", Face::Italic, 5.0),
        ("47", Face::Regular, 12.0),
        ("→⌀12✓", Face::Regular, 8.0),
        ("iiiiiiiiiiiiiiiiiiiiiiiiiiiiiillllllllllllllllllll", Face::Regular, 4.0),
    ];
    let mut items = Vec::new();
    for (i, (words, face, size)) in cases.iter().enumerate() {
        for (anchor, x) in [(Anchor::Start, 20.0), (Anchor::End, 190.0)] {
            let at = pt(x, 30.0 + 20.0 * i as f64 + if anchor == Anchor::End { 10.0 } else { 0.0 });
            items.push(Item::Text(Text::new(at, *size, *words).face(*face).anchor(anchor)));
        }
    }
    document.pages[0].items = items;
    document.pages.truncate(1);
    document.bookmarks.clear();
    let dir = folder("measured");
    std::fs::write(dir.join("book.pdf"), turnleaf_pdf::write(&document).unwrap()).unwrap();
    let (shown, fine) = run("pdftotext", &["-bbox", "book.pdf", "-"], &dir);
    assert!(fine);
    let number = |line: &str, key: &str| -> f64 {
        let from = line.find(key).unwrap() + key.len() + 2;
        line[from..].split('"').next().unwrap().parse::<f64>().unwrap() / 72.0 * 25.4
    };
    let mut checked = 0;
    for (words, face, size) in cases {
        let expected = width(words, size, face);
        for line in shown.lines().filter(|l| l.contains(&format!(">{words}<"))) {
            let (from, to) = (number(line, "xMin"), number(line, "xMax"));
            assert!((to - from - expected).abs() < 0.05, "{words}: {} against {expected}", to - from);
            assert!((from - 20.0).abs() < 0.05 || (to - 190.0).abs() < 0.05, "{words}: {from} to {to}");
            checked += 1;
        }
    }
    assert_eq!(checked, 12, "{shown}");
}
