//! In: running text and a long table. Out: pages on which everything lies inside its margins, and a
//! structure in which the table is one element.

mod support;

use support::{folder, pages, run};
use turnleaf_page::*;
use turnleaf_text::{Setting, Span, labelled, paragraph};

#[test]
fn a_table_over_pages_is_one_table() {
    let dir = folder("layout");
    for paper in [Paper::A4, Paper::Letter] {
        let file = format!("{}.pdf", paper.key());
        let document = pages::book(paper);
        std::fs::write(dir.join(&file), turnleaf_pdf::write(&document).unwrap()).unwrap();
        let (shown, fine) = run("qpdf", &["--check", &file], &dir);
        assert!(fine && !shown.contains("WARNING"), "{shown}");
        let (tree, _) = run("pdfinfo", &["-struct", &file], &dir);
        assert_eq!(tree.matches("Table (block)").count(), 1, "{tree}");
    }
}

#[test]
fn lists_contents_captions_and_parted_paragraphs_are_told() {
    let group =
        |role, id: Option<&str>, items| Item::Group { role, origin: None, id: id.map(str::to_string), items };
    let setting = Setting::new(3.6).hang(6.0);
    let words = [Span::new(pages::WORDS)];
    let step = |n: u32, y: f64| {
        let set = labelled(Span::new(format!("{n}.")), &words, 100.0, setting);
        let mut items = set.place(0..set.len(), 20.0, y);
        let label = group(Role::Label, None, vec![items.remove(0)]);
        let body = group(Role::Paragraph, None, items);
        group(Role::ListItem, None, vec![label, body])
    };
    let entry = |y: f64| {
        let text = Item::Text(Text::new(pt(20.0, y), 3.6, "How it moves"));
        let link = Item::Link { min: pt(20.0, y - 4.0), max: pt(60.0, y + 1.0), target: "end".to_string() };
        group(Role::ContentsEntry, None, vec![group(Role::Plain, None, vec![text, link])])
    };
    let square = Item::Path {
        steps: support::rectangle(20.0, 200.0, 20.0, 20.0),
        stroke: None,
        fill: Some(Colour::BLACK),
    };
    let caption = vec![Item::Text(Text::new(pt(20.0, 226.0), 3.0, "Figure 1: a square"))];
    let long = paragraph(&words, 100.0, Setting::new(3.6));
    let first = vec![
        group(Role::Contents, None, vec![entry(30.0), entry(36.0)]),
        group(Role::List, Some("steps"), vec![step(1, 50.0), step(2, 100.0)]),
        group(Role::Figure { alt: "A black square.".to_string() }, None, vec![square]),
        group(Role::Caption, None, caption),
        long.part(0..2, 20.0, 240.0, Some("long".to_string())),
    ];
    let second = vec![
        long.part(2..long.len(), 20.0, 20.0, Some("long".to_string())),
        group(Role::List, Some("steps"), vec![step(3, 80.0)]),
        Item::Mark { at: pt(20.0, 200.0), name: "end".to_string() },
    ];
    let mut document = pages::book(Paper::A4);
    document.pages.truncate(2);
    document.pages[0].items = first;
    document.pages[1].items = second;
    let dir = folder("roles");
    std::fs::write(dir.join("book.pdf"), turnleaf_pdf::write(&document).unwrap()).unwrap();
    let (shown, fine) = run("qpdf", &["--check", "book.pdf"], &dir);
    assert!(fine && !shown.contains("WARNING"), "{shown}");
    let (tree, _) = run("pdfinfo", &["-struct-text", "book.pdf"], &dir);
    let count = |what: &str| tree.lines().filter(|l| l.trim().split([' ', ':']).next() == Some(what)).count();
    assert_eq!((count("TOC"), count("TOCI"), count("Link")), (1, 2, 2), "{tree}");
    assert_eq!((count("L"), count("LI"), count("Lbl"), count("LBody")), (1, 3, 3, 3), "{tree}");
    assert!(tree.contains("/ListNumbering /Decimal"), "{tree}");
    assert_eq!((count("Figure"), count("Caption")), (1, 1), "{tree}");
    // Three paragraphs in the list and the long one, which goes on over the page.
    assert_eq!(count("P"), 4, "{tree}");
    let (flat, _) = run("pdftotext", &["-raw", "book.pdf", "-"], &dir);
    let flat = flat.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(flat.matches("radius of 416.1 mm and cut in three passes of 6 mm.").count() == 4, "{flat}");
}
