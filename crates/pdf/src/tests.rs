//! Tests of what the writer refuses and of what it bears.

use turnleaf_page::*;

use crate::{PdfProblem, write};

fn page(items: Vec<Item>) -> Page {
    Page {
        width: 210.0,
        height: 297.0,
        label: "1".to_string(),
        id: "p".to_string(),
        title: "Page".to_string(),
        items,
    }
}

fn document(items: Vec<Item>) -> Document {
    Document {
        title: "T".to_string(),
        language: "en".to_string(),
        date: "2024-02-29".to_string(),
        pages: vec![page(items)],
        ..Document::default()
    }
}

fn refused(change: impl FnOnce(&mut Document)) -> PdfProblem {
    let mut document = document(vec![]);
    change(&mut document);
    let problem = write(&document).unwrap_err();
    let sentence = problem.to_string();
    assert!(sentence.ends_with('.') && !sentence.contains('\n'), "{sentence}");
    problem
}

fn path(steps: Vec<Step>) -> Item {
    Item::Path { steps, stroke: Some(Stroke::solid(0.5)), fill: None }
}

#[test]
fn an_empty_page_is_a_book() {
    assert!(write(&document(vec![])).unwrap().starts_with(b"%PDF-1.7"));
}

#[test]
fn what_is_missing_is_named() {
    assert_eq!(refused(|d| d.pages.clear()), PdfProblem::NoPages);
    assert_eq!(refused(|d| d.title = " \n".to_string()), PdfProblem::NoTitle);
    for language in ["", "english language", "e", "de_AT", "<en>", "de-", "12"] {
        let problem = refused(|d| d.language = language.to_string());
        assert_eq!(problem, PdfProblem::Language(language.to_string()));
    }
    for date in
        ["", "2025", "2025-13-01", "2025-02-29", "2025-1-1", "01.03.2025", "2025-03-01T00", "0000-01-01"]
    {
        assert_eq!(refused(|d| d.date = date.to_string()), PdfProblem::Date(date.to_string()));
    }
}

#[test]
fn impossible_lengths_are_refused_with_their_page() {
    for side in [0.0, -1.0, f64::NAN, f64::INFINITY, 1e9] {
        let problem = refused(|d| d.pages[0].width = side);
        assert_eq!(problem, PdfProblem::PageSize { page: "p".to_string() });
    }
    let items: [fn(f64) -> Item; 6] = [
        |v| path(vec![Step::Move(pt(0.0, 0.0)), Step::Line(pt(v, 0.0))]),
        |v| path(vec![Step::Move(pt(0.0, 0.0)), Step::Cubic(pt(0.0, 0.0), pt(0.0, v), pt(1.0, 1.0))]),
        |v| Item::Text(Text::new(pt(v, 0.0), 3.0, "a")),
        |v| Item::Text(Text::new(pt(0.0, 0.0), v, "a")),
        |v| Item::Mark { at: pt(v, 0.0), name: "m".to_string() },
        |v| Item::Path {
            steps: vec![Step::Move(pt(0.0, 0.0)), Step::Line(pt(1.0, 1.0))],
            stroke: Some(Stroke { dash: vec![1.0, v], ..Stroke::solid(0.5) }),
            fill: None,
        },
    ];
    for v in [f64::NAN, f64::INFINITY, -1e30] {
        for item in items {
            assert!(matches!(refused(|d| d.pages[0].items = vec![item(v)]), PdfProblem::Length { .. }));
        }
    }
}

#[test]
fn names_must_be_unique_and_exist() {
    let mark = || Item::Mark { at: pt(1.0, 1.0), name: "a".to_string() };
    let twice = refused(|d| d.pages[0].items = vec![mark(), mark()]);
    assert_eq!(twice, PdfProblem::DuplicateMark("a".to_string()));
    let link = Item::Link { min: pt(0.0, 0.0), max: pt(5.0, 5.0), target: "b".to_string() };
    let nowhere = refused(|d| d.pages[0].items = vec![mark(), link]);
    assert_eq!(nowhere, PdfProblem::LinkTarget { page: "p".to_string(), target: "b".to_string() });
    let bookmark = Bookmark { title: "B".to_string(), target: "b".to_string(), children: vec![] };
    let nowhere = refused(|d| d.bookmarks = vec![bookmark]);
    assert_eq!(nowhere, PdfProblem::BookmarkTarget { title: "B".to_string(), target: "b".to_string() });
}

#[test]
fn attachments_need_a_name_a_type_and_a_description() {
    let file = |name: &str, mime: &str, description: &str| Attachment {
        name: name.to_string(),
        mime: mime.to_string(),
        description: description.to_string(),
        data: vec![1, 2, 3],
    };
    for bad in [
        file("", "text/csv", "d"),
        file("a", "text", "d"),
        file("a", "text/csv", " "),
        file("a\n", "a/b", "d"),
    ] {
        assert!(matches!(refused(|d| d.attachments = vec![bad]), PdfProblem::Attachment { .. }));
    }
    let good = || file("a.csv", "text/csv", "d");
    assert!(matches!(refused(|d| d.attachments = vec![good(), good()]), PdfProblem::Attachment { .. }));
    let mut fine = document(vec![]);
    fine.attachments = vec![good()];
    assert!(write(&fine).is_ok());
}

#[test]
fn a_figure_needs_words() {
    let items = vec![path(vec![Step::Move(pt(0.0, 0.0)), Step::Line(pt(1.0, 1.0))])];
    let role = Role::Figure { alt: "\u{0} ".to_string() };
    let figure = Item::Group { role, origin: None, id: Some("f".to_string()), items };
    let problem = refused(|d| d.pages[0].items = vec![figure]);
    let (page, figure) = ("p".to_string(), "f".to_string());
    assert_eq!(problem, PdfProblem::NoAlternative { page, figure });
}

#[test]
fn nesting_without_end_is_refused() {
    let mut item = path(vec![]);
    for _ in 0..2000 {
        item = Item::Group { role: Role::Plain, origin: None, id: None, items: vec![item] };
    }
    assert!(matches!(refused(|d| d.pages[0].items = vec![item]), PdfProblem::Depth { .. }));
}

#[test]
fn hostile_text_and_odd_paths_are_borne() {
    let words = [
        "\0\u{1b}\u{202E}\u{FFFE}\u{E000}".to_string(),
        "👩‍👩‍👧‍👦 漢字 العربية שלום 12".to_string(),
        "W".repeat(100_000),
        format!("Z{}", "\u{301}".repeat(5000)),
        "</rdf:li>]]>&\"'(\\)".to_string(),
        String::new(),
    ];
    for word in words {
        let group = |role| Item::Group {
            role,
            origin: None,
            id: Some(word.clone()),
            items: vec![Item::Text(Text::new(pt(10.0, 10.0), 4.0, word.clone()).rotate(33.0))],
        };
        let mut document = document(vec![
            group(Role::Figure { alt: format!("F{word}") }),
            group(Role::Heading(200)),
            group(Role::Paragraph),
            group(Role::Table),
            group(Role::Row),
            group(Role::Cell(true)),
            group(Role::List),
            group(Role::Label),
            Item::Mark { at: pt(0.0, 0.0), name: word.clone() },
            Item::Link { min: pt(9.0, 9.0), max: pt(1.0, 1.0), target: word.clone() },
            path(vec![Step::Close]),
            path(vec![
                Step::Line(pt(1.0, 1.0)),
                Step::Cubic(pt(0.0, 1.0), pt(2.0, 2.0), pt(3.0, 3.0)),
                Step::Close,
            ]),
            path(vec![Step::Move(pt(1.0, 1.0)), Step::Move(pt(2.0, 2.0))]),
            path(vec![Step::Move(pt(1.0, 1.0)), Step::Close, Step::Close]),
        ]);
        document.title = format!("T{word}");
        document.author = word.clone();
        document.subject = word.clone();
        document.pages[0].label = word.clone();
        document.pages[0].title = word.clone();
        document.bookmarks = vec![Bookmark { title: word.clone(), target: word.clone(), children: vec![] }];
        let result = write(&document);
        assert!(result.is_ok(), "{:.40}: {}", word, result.unwrap_err());
    }
}

#[test]
fn metadata_stays_well_formed_and_keeps_its_characters() {
    let mut document = document(vec![]);
    let odd = "</rdf:li><x a='1'>&amp;]]> \u{0}\u{1b}Ü 漢字 👍 (\\)";
    document.title = odd.to_string();
    document.author = odd.to_string();
    document.subject = odd.to_string();
    let file = write(&document).unwrap();
    let find = |what: &[u8]| file.windows(what.len()).position(|w| w == what).unwrap();
    let packet = &file[find(b"<x:xmpmeta")..find(b"</x:xmpmeta>") + b"</x:xmpmeta>".len()];
    let xml = roxmltree::Document::parse(std::str::from_utf8(packet).unwrap()).unwrap();
    let kept = "</rdf:li><x a='1'>&amp;]]> Ü 漢字 👍 (\\)";
    let told = xml.descendants().filter(|n| n.tag_name().name() == "li" && n.text() == Some(kept)).count();
    assert_eq!(told, 3);
    for (name, value) in [("part", "3"), ("conformance", "A")] {
        assert!(xml.descendants().any(|n| n.tag_name().name() == name && n.text() == Some(value)));
    }
}
