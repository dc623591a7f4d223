//! Parts to make and hardware to buy.
//!
//! In: the assembly's parts. Out: a chapter with two tables.
//! Always true: every part stands in exactly one of the two; a made part leads to its drawing.

use crate::cx::{Cx, Refs};
use crate::flow::{Chapter, Flow};
use crate::grid::SMALL;
use turnleaf_parts::Part;
use turnleaf_text::{Column, Row, Span, Table, Width};

/// The chapter.
pub fn chapter(cx: &Cx, number: usize, refs: &Refs) -> Chapter {
    let mut f = Flow::new(&cx.grid, number, "lists", &cx.t("lists-title"));
    f.section(&cx.t("lists-parts"), "lists/parts");
    f.lead(cx.t("lists-parts-text"));
    f.table(table(cx, true, refs));
    f.section(&cx.t("lists-hardware"), "lists/hardware");
    f.lead(cx.t("lists-hardware-text"));
    f.table(table(cx, false, refs));
    f.finish()
}

fn table(cx: &Cx, made: bool, refs: &Refs) -> Table {
    let mut columns = vec![
        Column::new(cx.t("column-part"), Width::Share(1.0)),
        Column::number(cx.t("column-count"), Width::Fit(16.0)),
        Column::new(cx.t("column-measure"), Width::Fit(66.0)),
        Column::new(cx.t("column-material"), Width::Fit(36.0)),
    ];
    if made {
        columns.push(Column::number(cx.t("column-page"), Width::Fit(14.0)));
    }
    let row = |p: &Part| {
        let mark = format!("sheet/{}", p.id);
        let mut cells = vec![
            vec![if made {
                Span::new(cx.part_name(p)).link(mark.clone())
            } else {
                Span::new(cx.part_name(p))
            }],
            vec![Span::new(p.count.to_string())],
            vec![Span::new(cx.or_dash(cx.say.part_size(p)))],
            vec![Span::new(cx.material(&p.material))],
        ];
        if made {
            cells.push(vec![Span::new(refs.page(&mark))]);
        }
        Row { cells, id: Some(format!("part/{}", p.id)), ..Row::default() }
    };
    let parts = cx.input.assembly.parts.iter().filter(|p| p.made == made);
    let id = if made { "lists/parts" } else { "lists/hardware" };
    Table::new(columns, SMALL).id(id).rows(parts.map(row))
}
