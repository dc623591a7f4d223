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
const CHAPTER: f64 = 4.9;
/// Height of a section's line, mm.
const LINE: f64 = 3.75;
/// From the top of a chapter's line to the foot of its letters, mm: as far below the rule above it as the last line
/// of the chapter before, with its hanging letters, stands above that.
const BASE: f64 = 3.2;
/// From a chapter's line to its first line of sections, beyond a line's height, mm.
const STEP: f64 = 0.7;
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

/// How a chapter's titles are set in columns.
#[derive(Clone, Copy, PartialEq)]
enum Way {
    /// As many columns as show every title whole.
    Whole,
    /// Three columns at most.
    Three,
    /// As many as a long list wants.
    Close,
}

/// The chapter: every list as open as can be without a page more than with all of them close.
pub fn chapter(cx: &Cx, entries: &[Entry], refs: &Refs) -> Chapter {
    let mut ways = vec![Way::Close; entries.len()];
    let mut best = set(cx, entries, refs, &ways);
    // Where titles are cut; chapters with the fewest lines first, since they want the least room.
    let cut = |i: &usize| {
        let children = &entries[*i].mark.children;
        !columns(refs, children, most_columns(children), cx.grid.width() - NUMBERS).1
    };
    let mut order: Vec<usize> = (0..entries.len()).filter(cut).collect();
    order.sort_by_key(|i| entries[*i].mark.children.len());
    for i in order {
        for way in [Way::Whole, Way::Three] {
            let before = std::mem::replace(&mut ways[i], way);
            let tried = set(cx, entries, refs, &ways);
            if tried.pages.len() <= best.pages.len() {
                best = tried;
                break;
            }
            ways[i] = before;
        }
    }
    best
}

/// Left edges and widths of so many columns, each as wide as its lines ask for and what is left shared out; equal
/// columns and false where their lines ask for more than there is.
fn columns(refs: &Refs, lines: &[Bookmark], count: usize, width: f64) -> (Vec<(f64, f64)>, bool) {
    let (size, face) = type_of(false);
    let free = width - GUTTER * (count - 1) as f64;
    let asked = |b: &Bookmark| turnleaf_text::width(&b.title, size, face) - room(refs, b, 0.0, false) + 0.01;
    let column = |k: usize| lines.iter().skip(k).step_by(count).map(asked).fold(0.0, f64::max);
    let mut widths: Vec<f64> = (0..count).map(column).collect();
    let spare = free - widths.iter().sum::<f64>();
    let equal = free / count as f64;
    let fits = spare >= 0.0;
    if !fits || widths.iter().all(|w| *w <= equal) {
        widths.fill(equal);
    } else {
        widths.iter_mut().for_each(|w| *w += spare / count as f64);
    }
    let mut x = 0.0;
    let place = |w: f64| {
        let left = x;
        x += w + GUTTER;
        (left, w)
    };
    (widths.into_iter().map(place).collect(), fits)
}

/// Columns that a list of so many lines is set in when it must take little room.
fn most_columns(lines: &[Bookmark]) -> usize {
    1 + COLUMNS.iter().filter(|most| lines.len() > **most).count()
}

fn set(cx: &Cx, entries: &[Entry], refs: &Refs, ways: &[Way]) -> Chapter {
    let mut f = Flow::new(&cx.grid, 0, "contents", &cx.t("contents-title"));
    let g = &cx.grid;
    let (x, width) = (g.left + NUMBERS, g.width() - NUMBERS);
    for (e, way) in entries.iter().zip(ways.iter().copied()) {
        let children = &e.mark.children;
        let most = most_columns(children);
        let most = if way == Way::Close { most } else { most.min(3) };
        let tried = (1..=most).rev().map(|n| columns(refs, children, n, width));
        let mut tried = tried.filter(|(_, fits)| *fits || way != Way::Whole);
        let places = tried.next().map_or_else(|| vec![(0.0, width)], |t| t.0);
        let lines: Vec<&[Bookmark]> = children.chunks(places.len()).collect();
        let first = lines.first().copied().unwrap_or_default();
        let set = |row: &[Bookmark], base: f64| -> Vec<Item> {
            row.iter()
                .zip(&places)
                .map(|(b, (left, wide))| entry(refs, b, x + left, base, *wide, false))
                .collect()
        };
        let rest = if first.is_empty() { 0.0 } else { LINE };
        f.block(CHAPTER + rest, |top| {
            let base = top + BASE;
            let number = Text::new(pt(g.left, base), BODY, format!("{} ", e.number)).face(Face::Bold);
            let rule = furniture(vec![level(g.left, g.right_x(), top - 0.4, grey_rule(THIN))]);
            let mut items = vec![rule, group(Role::Paragraph, None, vec![Item::Text(number)])];
            items.push(entry(refs, &e.mark, x, base, width, true));
            items.extend(set(first, base + LINE + STEP));
            items
        });
        for row in lines.iter().skip(1) {
            f.block(LINE, |top| set(row, top + BASE + STEP - (CHAPTER - LINE)));
        }
        f.space(SPACE);
    }
    f.finish()
}
