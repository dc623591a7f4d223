//! Words and sizes: the glossary, and on which pages each size is printed.
//!
//! In: the finished pages before it. Out: a chapter.
//! Always true: a size stands in the index when a table or a drawing shows it with its origin; pages are counted
//! once and in order; terms stand in the order of the alphabet of the book's language.

use crate::cx::{Cx, Refs};
use crate::flow::Chapter;
use crate::grid::TINY;
use std::collections::{BTreeMap, BTreeSet};
use turnleaf_diag::Origin;
use turnleaf_page::Item;
use turnleaf_planfile::{FIELDS, origin};
use turnleaf_text::{Column, Row, Span, Table, Width};

/// Pages by the size or the solved number shown on them.
#[derive(Clone, Debug, Default)]
pub struct Found {
    sizes: BTreeMap<u16, BTreeSet<usize>>,
    solved: BTreeMap<u16, BTreeSet<usize>>,
}

impl Found {
    /// Notes what a page shows.
    pub fn note(&mut self, items: &[Item], page: usize) {
        for item in items {
            let Item::Group { origin, items, .. } = item else { continue };
            match origin {
                Some(Origin::Size(i)) => {
                    self.sizes.entry(*i).or_default().insert(page);
                }
                Some(Origin::Solved(i)) => {
                    self.solved.entry(*i).or_default().insert(page);
                }
                None => {}
            }
            self.note(items, page);
        }
    }
}

/// Page numbers with runs drawn together: "3, 7–9".
pub fn runs(pages: &BTreeSet<usize>) -> String {
    let mut out: Vec<(usize, usize)> = Vec::new();
    for &page in pages {
        match out.last_mut() {
            Some((_, last)) if *last + 1 == page => *last = page,
            _ => out.push((page, page)),
        }
    }
    let one = |&(a, b): &(usize, usize)| match b - a {
        0 => a.to_string(),
        1 => format!("{a}, {b}"),
        _ => format!("{a}–{b}"),
    };
    out.iter().map(one).collect::<Vec<_>>().join(", ")
}

/// How a word is sorted: without case, accents after their letter (DIN 5007, dictionaries; from memory).
fn sorted_as(word: &str) -> String {
    let plain = |c: char| match c {
        'ä' => 'a',
        'ö' => 'o',
        'ü' => 'u',
        c => c,
    };
    word.to_lowercase().chars().map(plain).collect::<String>().replace('ß', "ss")
}

/// Space above and below a row of the index, mm: the usual one, and closer ones that may spare a page of a few rows.
const PADS: [f64; 3] = [0.35, 0.2, 0.1];

/// The chapter, in the widest rows that leave no page with only a few of them; the usual ones where none does.
pub fn chapter(cx: &Cx, number: usize, _: &Refs, found: &Found) -> Chapter {
    let start = cx.start.take();
    let set = |pad: f64| {
        cx.start.set(start);
        spaced(cx, number, found, pad)
    };
    let usual = set(PADS[0]);
    if !usual.scant(&cx.grid) {
        return usual;
    }
    PADS[1..].iter().map(|pad| set(*pad)).find(|c| !c.scant(&cx.grid)).unwrap_or(usual)
}

fn spaced(cx: &Cx, number: usize, found: &Found, pad: f64) -> Chapter {
    let mut f = cx.flow(number, "index", &cx.t("index-title"));
    f.section(&cx.t("glossary"), "index/words");
    let mut terms: Vec<(String, String)> = cx
        .words
        .list("glossary-term", &[])
        .into_iter()
        .filter_map(|t| t.split_once(": ").map(|(a, b)| (a.to_string(), b.to_string())))
        .collect();
    terms.sort_by_key(|t| sorted_as(&t.0));
    let columns = vec![Column::new("", Width::Fixed(24.0)), Column::new("", Width::Share(1.0))];
    let row = |(term, text): &(String, String)| Row {
        cells: vec![vec![Span::new(term).bold()], vec![Span::new(text)]],
        ..Row::default()
    };
    f.lead(cx.t("glossary-text"));
    f.twin_table(Table::new(columns, TINY).pad(0.4).id("glossary").rows(terms.iter().map(row)));
    f.section(&cx.t("index-sizes"), "index/sizes");
    f.lead(cx.t("index-sizes-text"));
    f.twin_table(sizes(cx, found, pad));
    f.finish()
}

/// A line of the index: name, pages.
type Line = (String, BTreeSet<usize>, Option<Origin>, String);

fn sizes(cx: &Cx, found: &Found, pad: f64) -> Table {
    let mut lines: Vec<Line> = Vec::new();
    for field in FIELDS.iter().filter(|f| cx.input.plan.value(f.id).is_some()) {
        let Some(Origin::Size(i)) = origin(field.id) else { continue };
        let Some(pages) = found.sizes.get(&i) else { continue };
        let name = cx.words.named("field", field.id).unwrap_or_else(|| field.label.to_string());
        lines.push((name, pages.clone(), Some(Origin::Size(i)), format!("index/size/{}", field.id)));
    }
    for (i, n) in cx.input.numbers.iter().enumerate() {
        let Ok(i) = u16::try_from(i) else { continue };
        let Some(pages) = found.solved.get(&i) else { continue };
        let name = cx.label(n);
        // A size that is given and then solved for, under one name, stands once.
        match lines.iter_mut().find(|l| l.0 == name) {
            Some(line) => line.1.extend(pages),
            None => lines.push((name, pages.clone(), Some(Origin::Solved(i)), format!("index/{}", n.id))),
        }
    }
    lines.sort_by_cached_key(|l| sorted_as(&l.0));
    let columns = vec![
        Column::new(cx.t("column-size"), Width::Share(1.0)),
        Column::new(cx.t("index-pages"), Width::Share(0.45)),
    ];
    let row = |(name, pages, origin, id): Line| Row {
        cells: vec![vec![Span::new(name)], vec![Span::new(runs(&pages))]],
        origin,
        id: Some(id),
        ..Row::default()
    };
    let mut table = Table::new(columns, TINY).id("index/sizes").rows(lines.into_iter().map(row));
    table.pad = pad;
    table
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pages_in_a_row_are_drawn_together() {
        let set = |pages: &[usize]| pages.iter().copied().collect::<BTreeSet<_>>();
        assert_eq!(runs(&set(&[7, 3, 8, 9, 12, 13])), "3, 7–9, 12, 13");
        assert_eq!(runs(&set(&[])), "");
    }

    #[test]
    fn umlauts_stand_with_their_letter() {
        let mut words = ["Öffnung", "Zunge", "Nut", "Äußerer Ring"];
        words.sort_by_key(|w| sorted_as(w));
        assert_eq!(words, ["Äußerer Ring", "Nut", "Öffnung", "Zunge"]);
    }
}
