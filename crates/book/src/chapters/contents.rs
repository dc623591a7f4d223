//! The table of contents.
//!
//! In: chapters with their sections, page numbers. Out: a chapter without a number.
//! Always true: every line leads to what it names; a chapter's line stands on one page with the first of its sections;
//! a title is cut short only where showing it would take a further page.

use crate::cx::{Cx, Refs};
use crate::draw::{cut, furniture, group, level};
use crate::flow::{Chapter, Flow};
use crate::grid::{BODY, SMALL, THIN, grey_rule};
use turnleaf_page::{Anchor, Bookmark, Face, Item, Role, Text, pt};

/// A line of the contents: number, bookmark with the lines below it.
pub struct Entry {
    /// Chapter number.
    pub number: usize,
    /// Title, mark, sections.
    pub mark: Bookmark,
}

/// Height of a chapter's line, mm.
const CHAPTER: f64 = 5.1;
/// Height of a section's line, mm.
const LINE: f64 = 4.0;
/// Space between chapters, mm.
const SPACE: f64 = 0.6;
/// Chapters with more sections than this set them in two columns, then in three, then in four.
const COLUMNS: [usize; 3] = [1, 2, 14];
/// Width of the chapters' numbers, mm.
const NUMBERS: f64 = 12.0;
/// Space between columns, mm.
const GUTTER: f64 = 6.0;

/// Type of a line.
fn type_of(bold: bool) -> (f64, Face) {
    if bold { (BODY, Face::Bold) } else { (SMALL, Face::Regular) }
}

/// Room for the title of a line that is so wide, mm.
fn room(refs: &Refs, b: &Bookmark, width: f64, bold: bool) -> f64 {
    let (size, face) = type_of(bold);
    width - turnleaf_text::width(&refs.page(&b.target), size, face) - 3.0
}

/// A line: title at the left, page number at the right.
fn entry(refs: &Refs, b: &Bookmark, x: f64, base: f64, width: f64, bold: bool) -> Item {
    let (size, face) = type_of(bold);
    let page = refs.page(&b.target);
    let room = room(refs, b, width, bold);
    let title = format!("{} ", cut(&b.title, size, face, room));
    let items = vec![
        Item::Text(Text::new(pt(x, base), size, title).face(face)),
        Item::Text(Text::new(pt(x + width, base), size, page).face(face).anchor(Anchor::End)),
        Item::Link {
            min: pt(x, base - size),
            max: pt(x + width, base + size * 0.3),
            target: b.target.clone(),
        },
    ];
    group(Role::Paragraph, None, items)
}

/// The chapter, with as few columns as show every title whole where that takes no further page.
pub fn chapter(cx: &Cx, entries: &[Entry], refs: &Refs) -> Chapter {
    let usual = set(cx, entries, refs, false);
    let whole = set(cx, entries, refs, true);
    if whole.pages.len() <= usual.pages.len() { whole } else { usual }
}

fn set(cx: &Cx, entries: &[Entry], refs: &Refs, whole: bool) -> Chapter {
    let mut f = Flow::new(&cx.grid, 0, "contents", &cx.t("contents-title"));
    let g = &cx.grid;
    let (x, width) = (g.left + NUMBERS, g.width() - NUMBERS);
    for e in entries {
        let children = &e.mark.children;
        let most = 1 + COLUMNS.iter().filter(|most| children.len() > **most).count();
        let wide = |columns: usize| (width - GUTTER * (columns - 1) as f64) / columns as f64;
        let fits = |columns: &usize| {
            let (size, face) = type_of(false);
            let fits = |b: &Bookmark| {
                turnleaf_text::width(&b.title, size, face) <= room(refs, b, wide(*columns), false)
            };
            children.iter().all(fits)
        };
        let columns = if whole { (1..=most).rev().find(fits).unwrap_or(1) } else { most };
        let column = wide(columns);
        let lines: Vec<&[Bookmark]> = children.chunks(columns).collect();
        let first = lines.first().copied().unwrap_or_default();
        let set = |row: &[Bookmark], base: f64| -> Vec<Item> {
            row.iter()
                .enumerate()
                .map(|(i, b)| entry(refs, b, x + (column + GUTTER) * i as f64, base, column, false))
                .collect()
        };
        let rest = if first.is_empty() { 0.0 } else { LINE };
        f.block(CHAPTER + rest, |top| {
            let base = top + 4.4;
            let number = Text::new(pt(g.left, base), BODY, format!("{} ", e.number)).face(Face::Bold);
            let rule = furniture(vec![level(g.left, g.right_x(), top - 0.4, grey_rule(THIN))]);
            let mut items = vec![rule, group(Role::Paragraph, None, vec![Item::Text(number)])];
            items.push(entry(refs, &e.mark, x, base, width, true));
            items.extend(set(first, base + LINE + 0.6));
            items
        });
        for row in lines.iter().skip(1) {
            f.block(LINE, |top| set(row, top + 4.4 + 0.6 - (CHAPTER - LINE)));
        }
        f.space(SPACE);
    }
    f.finish()
}
