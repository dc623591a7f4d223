//! In: nothing. Out: a document that holds every kind of item, and the outside programs the tests use.
//! Always true: a missing program is a failure that says so, never a silent skip.

#![allow(dead_code)]

pub mod grey;
pub mod pages;

use std::path::{Path, PathBuf};
use std::process::Command;

use turnleaf_page::*;

/// A white-on-paper box of straight lines.
pub fn rectangle(x: f64, y: f64, w: f64, h: f64) -> Vec<Step> {
    vec![
        Step::Move(pt(x, y)),
        Step::Line(pt(x + w, y)),
        Step::Line(pt(x + w, y + h)),
        Step::Line(pt(x, y + h)),
        Step::Close,
    ]
}

pub fn line(a: Pt, b: Pt, stroke: Stroke) -> Item {
    Item::Path { steps: vec![Step::Move(a), Step::Line(b)], stroke: Some(stroke), fill: None }
}

pub fn group(role: Role, items: Vec<Item>) -> Item {
    Item::Group { role, origin: None, id: None, items }
}

pub fn text(x: f64, y: f64, size: f64, words: &str) -> Text {
    Text::new(pt(x, y), size, words)
}

fn mark(page: usize) -> Item {
    Item::Mark { at: pt(20.0, 15.0), name: format!("page/{page}") }
}

fn heading(level: u8, y: f64, words: &str) -> Item {
    let size = [7.0, 5.0, 4.0][usize::from(level.clamp(1, 3)) - 1];
    group(Role::Heading(level), vec![Item::Text(text(20.0, y, size, words).face(Face::Bold))])
}

/// The frame and the running foot.
fn furniture(width: f64, height: f64, foot: &str) -> Item {
    group(
        Role::Artifact,
        vec![
            Item::Path {
                steps: rectangle(10.0, 10.0, width - 20.0, height - 20.0),
                stroke: Some(Stroke { round: false, ..Stroke::solid(0.5) }),
                fill: None,
            },
            Item::Text(text(width - 15.0, height - 13.0, 3.0, foot).anchor(Anchor::End)),
        ],
    )
}

/// A bar exactly 100 mm long, 4 mm high, filled black.
fn bar(x: f64, y: f64) -> Item {
    Item::Path { steps: rectangle(x, y, 100.0, 4.0), stroke: None, fill: Some(Colour::BLACK) }
}

fn figure() -> Item {
    let k = 0.552_284_75 * 25.0;
    let (cx, cy, r) = (60.0, 110.0, 25.0);
    let circle = vec![
        Step::Move(pt(cx + r, cy)),
        Step::Cubic(pt(cx + r, cy + k), pt(cx + k, cy + r), pt(cx, cy + r)),
        Step::Cubic(pt(cx - k, cy + r), pt(cx - r, cy + k), pt(cx - r, cy)),
        Step::Cubic(pt(cx - r, cy - k), pt(cx - k, cy - r), pt(cx, cy - r)),
        Step::Cubic(pt(cx + k, cy - r), pt(cx + r, cy - k), pt(cx + r, cy)),
        Step::Close,
    ];
    let chain = Stroke { dash: vec![6.0, 1.0, 1.0, 1.0], round: false, ..Stroke::solid(0.18) };
    let mut items = vec![
        Item::Path {
            steps: [circle, rectangle(50.0, 100.0, 20.0, 20.0)].concat(),
            stroke: Some(Stroke::solid(0.5)),
            fill: Some(Colour(225, 225, 225)),
        },
        line(pt(30.0, 110.0), pt(90.0, 110.0), chain.clone()),
        line(pt(60.0, 80.0), pt(60.0, 140.0), chain),
        line(pt(130.0, 100.0), pt(190.0, 100.0), Stroke { dash: vec![3.0, 1.5], ..Stroke::solid(0.35) }),
    ];
    items.push(Item::Group {
        role: Role::Dimension,
        origin: Some(turnleaf_diag::Origin::Size(3)),
        id: Some("disc/dim/diameter".to_string()),
        items: vec![
            line(pt(35.0, 150.0), pt(85.0, 150.0), Stroke::solid(0.18)),
            Item::Text(text(60.0, 148.5, 3.5, "⌀ 50.0").anchor(Anchor::Middle)),
        ],
    });
    for (i, degrees) in [0.0, 30.0, 90.0, 180.0, 270.0, 337.5].into_iter().enumerate() {
        let at = Pt { x: 130.0 + 25.0 * (i % 3) as f64, y: 120.0 + 30.0 * (i / 3) as f64 };
        items.push(Item::Text(Text::new(at, 3.5, format!("{degrees}° turn")).rotate(degrees)));
        items.push(line(pt(at.x - 1.0, at.y), pt(at.x + 1.0, at.y), Stroke::solid(0.1)));
    }
    Item::Group {
        role: Role::Figure { alt: "A disc with a square hole, 50 mm across.".to_string() },
        origin: None,
        id: Some("figure/disc".to_string()),
        items,
    }
}

fn table(y: f64) -> Item {
    let rows = [
        ["Size", "mm", "inches"],
        ["Travel of the slide", "225.0", "8 55/64"],
        ["Outer radius", "802.8", "31 39/64"],
        ["Reach of the star", "416.1", "16 3/8"],
    ];
    let mut items = Vec::new();
    for (i, row) in rows.iter().enumerate() {
        let y = y + 7.0 * i as f64;
        let cells = row.iter().enumerate().map(|(j, words)| {
            let (x, anchor) = [(20.0, Anchor::Start), (110.0, Anchor::End), (150.0, Anchor::End)][j];
            let face = if i == 0 { Face::Bold } else { Face::Regular };
            let item = Item::Text(text(x, y, 3.5, words).anchor(anchor).face(face));
            group(Role::Cell(i == 0), vec![item])
        });
        items.push(group(Role::Row, cells.collect()));
        items.push(line(pt(20.0, y + 2.0), pt(150.0, y + 2.0), Stroke::solid(0.18)));
    }
    Item::Group { role: Role::Table, origin: None, id: Some("table/sizes".to_string()), items }
}

/// Three pages, A4, Letter and A4 lying, with every kind of item.
pub fn sample() -> Document {
    let (a4, letter) = (Paper::A4.sides(), Paper::Letter.sides());
    let first = vec![
        furniture(a4.0, a4.1, "Reading-room table · i"),
        mark(1),
        heading(1, 25.0, "Reading-room table"),
        group(
            Role::Paragraph,
            vec![
                Item::Text(text(20.0, 35.0, 3.8, "Six sections, 1,200 mm closed and 1,650 mm open. ")),
                Item::Text(text(20.0, 40.5, 3.8, "Naïve Maß: ½ + ¼ = ¾ · 3×4 → 12 ✓ ☐ ⌀8 ±0.1 “Ω”")),
            ],
        ),
        group(
            Role::Plain,
            vec![
                Item::Text(text(20.0, 50.0, 3.8, "See the sheet of the disc")),
                Item::Link { min: pt(20.0, 46.0), max: pt(70.0, 51.0), target: "page/3".to_string() },
            ],
        ),
        bar(20.0, 60.0),
        figure(),
        table(200.0),
    ];
    let second = vec![
        furniture(letter.0, letter.1, "Reading-room table · ii"),
        mark(2),
        heading(2, 25.0, "How it moves"),
        bar(20.0, 60.0),
        line(pt(20.0, 80.0), pt(120.0, 80.0), Stroke { colour: Colour(180, 40, 20), ..Stroke::solid(1.0) }),
        Item::Link { min: pt(20.0, 90.0), max: pt(60.0, 96.0), target: "page/1".to_string() },
    ];
    let third = vec![
        furniture(a4.1, a4.0, "Reading-room table · 1"),
        mark(3),
        heading(2, 25.0, "Sheet 1: the disc"),
        bar(20.0, 60.0),
        Item::Text(text(20.0, 80.0, 3.5, "Fett").face(Face::Bold)),
        Item::Text(text(40.0, 80.0, 3.5, "kursiv: Übermaß").face(Face::Italic)),
    ];
    let page = |(width, height), label: &str, id: &str, title: &str, items| Page {
        width,
        height,
        label: label.to_string(),
        id: id.to_string(),
        title: title.to_string(),
        items,
    };
    let bookmark = |title: &str, target: &str, children| Bookmark {
        title: title.to_string(),
        target: target.to_string(),
        children,
    };
    Document {
        title: "Reading-room table".to_string(),
        author: "Demo workshop".to_string(),
        subject: "Plans for a turning table".to_string(),
        language: "en".to_string(),
        program: "Workshop 1.2".to_string(),
        date: "2025-03-01".to_string(),
        pages: vec![
            page(a4, "i", "cover", "Cover", first),
            page(letter, "ii", "motion", "How it moves", second),
            page((a4.1, a4.0), "A-1", "sheet/disc", "The disc", third),
        ],
        bookmarks: vec![
            bookmark("Cover", "page/1", vec![]),
            bookmark("Plans", "page/2", vec![bookmark("The disc", "page/3", vec![])]),
        ],
        attachments: vec![Attachment {
            name: "plan.json".to_string(),
            mime: "application/json".to_string(),
            description: "The plan this book was made from.".to_string(),
            data: b"{\"version\":1}".to_vec(),
        }],
    }
}

/// A fresh folder for one test.
pub fn folder(name: &str) -> PathBuf {
    let dir = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = std::fs::remove_dir_all(&dir);
    std::fs::create_dir_all(&dir).expect("the test folder can be made");
    dir
}

/// Runs an outside program and returns its output and whether it succeeded.
pub fn run(program: &str, args: &[&str], dir: &Path) -> (String, bool) {
    let out = Command::new(program).args(args).current_dir(dir).output().unwrap_or_else(|e| {
        panic!("{program} is needed by this test and cannot be run ({e}); install qpdf and poppler-utils")
    });
    let shown = [out.stdout, out.stderr].map(|b| String::from_utf8_lossy(&b).into_owned()).concat();
    (shown, out.status.success())
}
