//! In: nothing. Out: a document set with paragraphs and a table that runs over several pages.

use turnleaf_page::*;
use turnleaf_text::{Align, Column, Row, Setting, Span, Table, Width, paragraph};

/// Words for running text, our own.
pub const WORDS: &str = "Set the router to a radius of 416.1 mm and cut in three passes of 6 mm. \
Before the last pass, lay the leaf on its neighbour and look along the seam: the light between them \
should be even from end to end. If it is wider at the tip, plane the tip by no more than 1/64 in and \
try again. Turn the ring by hand through its whole 46 1/2 ° and listen; a scraping arm is heard long \
before it is seen.";

fn frame(width: f64, height: f64, number: usize) -> Item {
    let at = pt(width / 2.0, height - 12.0);
    let foot = Text::new(at, 3.0, number.to_string()).anchor(Anchor::Middle);
    Item::Group { role: Role::Artifact, origin: None, id: None, items: vec![Item::Text(foot)] }
}

/// Long lists of demo sizes.
pub fn rows(count: usize) -> Vec<Row> {
    let mut rows = Vec::new();
    for i in 0..count {
        if i % 12 == 0 {
            rows.push(Row::heading(format!("Group {}", 1 + i / 12)));
        }
        let note = match i % 5 {
            0 => "measured over the faces; the ends are trimmed after glueing, so leave 3 mm",
            3 => "see the sheet",
            _ => "",
        };
        let mm = 12.5 + 7.3 * i as f64;
        let mut row = Row::new([
            format!("D{}", i + 1),
            format!("Demo size number {}", i + 1),
            format!("{mm:.1}"),
            format!("{} {}/64", (mm / 25.4) as u32, 1 + 2 * (i % 31)),
        ]);
        let mut last = vec![Span::new(note)];
        if i % 5 == 3 {
            last = vec![Span::new("see the "), Span::new("sheet").link("top"), Span::new(" ☐").bold()];
        }
        row.cells.push(last);
        rows.push(row);
    }
    rows
}

/// The document.
pub fn book(paper: Paper) -> Document {
    let (width, height) = paper.sides();
    let (left, right, top, bottom) = (22.0, width - 18.0, 20.0, height - 20.0);
    let measure = right - left;
    let mut pages = Vec::new();
    let mut items = vec![Item::Mark { at: pt(left, top), name: "top".to_string() }];
    let mut y = top;
    let title = paragraph(&[Span::new("Cutting the leaves").bold()], measure, Setting::new(6.5));
    let heading = title.place(0..title.len(), left, y);
    items.push(Item::Group { role: Role::Heading(1), origin: None, id: None, items: heading });
    y += title.height() + 2.0;
    for align in [Align::Left, Align::Centre, Align::Right] {
        let spans =
            [Span::new(WORDS), Span::new(" Wear eye protection.").bold(), Span::new(" Always.").italic()];
        let set = paragraph(&spans, measure, Setting::new(3.6).align(align));
        items.push(set.group(left, y, None));
        y += set.height() + 3.0;
    }
    for number in 1..=3 {
        let spans = [Span::new(format!("{number}.")).bold(), Span::new("\u{A0}\u{A0}"), Span::new(WORDS)];
        let set = paragraph(&spans, measure / 2.0, Setting::new(3.2).hang(5.0));
        items.push(set.group(left, y, None));
        y += set.height() + 1.5;
    }
    let columns = vec![
        Column::new("No.", Width::Fit(20.0)),
        Column::new("Name", Width::Fit(60.0)),
        Column::number("mm", Width::Fit(25.0)),
        Column::number("inches", Width::Fit(25.0)),
        Column::new("Remark", Width::Share(1.0)),
    ];
    let table = Table::new(columns, 3.2).rows(rows(70)).id("table/demo").set(measure, bottom - top);
    let mut from = 0;
    while from < table.len() {
        let take = table.fit(from, bottom - y);
        if take > 0 {
            items.push(table.place(from..from + take, left, y));
            y += table.height(from..from + take);
            from += take;
        }
        if from < table.len() {
            items.push(frame(width, height, pages.len() + 1));
            pages.push(std::mem::take(&mut items));
            assert!(take > 0 || y > top, "a table that never fits would loop for ever");
            y = top;
        }
    }
    items.push(frame(width, height, pages.len() + 1));
    pages.push(items);
    let pages = pages
        .into_iter()
        .enumerate()
        .map(|(i, items)| Page {
            width,
            height,
            label: (i + 1).to_string(),
            id: format!("page/{}", i + 1),
            title: format!("Page {}", i + 1),
            items,
        })
        .collect();
    Document {
        title: "Demo book".to_string(),
        language: "en".to_string(),
        date: "2025-03-01".to_string(),
        pages,
        ..Document::default()
    }
}
