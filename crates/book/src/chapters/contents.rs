//! The table of contents.
//!
//! In: chapters with their sections, page numbers. Out: a chapter without a number.
//! Always true: every line leads to what it names.

use crate::cx::{Cx, Refs};
use crate::flow::{Chapter, Flow};
use crate::grid::{BODY, SMALL};
use turnleaf_page::Bookmark;
use turnleaf_text::{Column, Row, Span, Table, Width};

/// A line of the contents: number, bookmark with the lines below it.
pub struct Entry {
    /// Chapter number.
    pub number: usize,
    /// Title, mark, sections.
    pub mark: Bookmark,
}

/// The chapter.
pub fn chapter(cx: &Cx, entries: &[Entry], refs: &Refs) -> Chapter {
    let mut f = Flow::new(&cx.grid, 0, "contents", &cx.t("contents-title"));
    let columns = vec![
        Column::new("", Width::Fixed(8.0)),
        Column::new("", Width::Share(1.0)),
        Column::number("", Width::Fixed(14.0)),
    ];
    let mut rows = Vec::new();
    for entry in entries {
        let to = &entry.mark.target;
        rows.push(Row {
            cells: vec![
                vec![Span::new(entry.number.to_string()).bold()],
                vec![Span::new(entry.mark.title.clone()).bold().link(to.clone())],
                vec![Span::new(refs.page(to)).bold()],
            ],
            ..Row::default()
        });
        for child in &entry.mark.children {
            rows.push(Row {
                cells: vec![
                    Vec::new(),
                    vec![Span::new(child.title.clone()).link(child.target.clone())],
                    vec![Span::new(refs.page(&child.target))],
                ],
                ..Row::default()
            });
        }
    }
    let size = if rows.len() > 44 { SMALL } else { BODY };
    let mut table = Table::new(columns, size).id("contents").rows(rows);
    table.pad = 0.55;
    f.narrow_table(table);
    f.finish()
}
