//! A page of two books laid over each other.
//!
//! In: the older and the newer page. Out: three drawings of one size: what both print, what only one of them does.
//! Always true: everything that either page prints is in exactly one of the drawings; views of one name lie on each
//! other even where one of them moved on its sheet; a line that moved by less than is seen, and words that moved a
//! little, count as the same; words that gave way to others stand above them.

use super::super::INLINE;
use super::told::Overlay;
use std::collections::BTreeMap;
use turnleaf_page::{Anchor, Item, Page, Pt, Role, Step, Text, pt};
use turnleaf_plan::{Number, page_svg};

/// Two pages laid over each other, either of which may be missing; none when both are.
pub fn laid(mut was: Option<Page>, mut is: Option<Page>, numbers: &[Number]) -> Option<Overlay> {
    if let (Some(was), Some(is)) = (&mut was, &mut is) {
        lay_on(&mut was.items, &is.items);
        reset(&mut was.items, &is.items);
        snap(&mut was.items, &is.items);
        raise(&mut was.items, &is.items);
        tell_apart(&mut was.items, &mut is.items);
    }
    let any = is.as_ref().or(was.as_ref())?;
    let counted = |p: &Option<Page>| {
        let mut out = BTreeMap::new();
        p.iter().for_each(|p| count(&p.items, &mut out));
        out
    };
    let (in_old, in_new) = (counted(&was), counted(&is));
    let with = |items: Vec<Item>| {
        let page = Page { items, ..any.clone() };
        // The sheet itself lies under all three.
        page_svg(&page, numbers).replace(INLINE, "").replacen(&sheet(&page), "", 1)
    };
    let of = |p: &Option<Page>, other: &BTreeMap<String, usize>, common: bool| {
        p.as_ref().map_or(Vec::new(), |p| picked(&p.items, &mut other.clone(), common))
    };
    Some(Overlay {
        same: with(of(&is, &in_old, true)),
        gone: with(of(&was, &in_new, false)),
        came: with(of(&is, &in_old, false)),
    })
}

/// The white sheet that page writers draw first.
fn sheet(page: &Page) -> String {
    let drawn = page_svg(&Page { items: Vec::new(), ..page.clone() }, &[]);
    let from = drawn.find("<rect").unwrap_or(0);
    let length = drawn[from..].find("/>\n").map_or(0, |at| at + 3);
    drawn[from..from + length].to_string()
}

/// Where the outline inside a view begins: the same corner of a part on both sheets.
fn corner(items: &[Item]) -> Option<Pt> {
    items.iter().find_map(|item| match item {
        Item::Group { role: Role::Outline, items, .. } => items.iter().find_map(|item| match item {
            Item::Path { steps, .. } => steps.iter().find_map(|step| match step {
                Step::Move(p) => Some(*p),
                _ => None,
            }),
            _ => None,
        }),
        Item::Group { items, .. } => corner(items),
        _ => None,
    })
}

/// Moves every view of the older page onto the newer page's view of the same name: a view that only lies elsewhere
/// on its sheet, because a table above it grew, is no other view.
fn lay_on(old: &mut [Item], new: &[Item]) {
    fn view<'a>(items: &'a [Item], name: &str) -> Option<&'a [Item]> {
        items.iter().find_map(|item| match item {
            Item::Group { role: Role::Figure { .. }, id: Some(id), items, .. } if id == name => {
                Some(&items[..])
            }
            Item::Group { items, .. } => view(items, name),
            _ => None,
        })
    }
    for item in old {
        match item {
            Item::Group { role: Role::Figure { .. }, id: Some(id), items, .. } => {
                let there = view(new, id).and_then(corner);
                if let (Some(here), Some(there)) = (corner(items), there) {
                    shift(items, there.x - here.x, there.y - here.y);
                }
            }
            Item::Group { items, .. } => lay_on(items, new),
            _ => {}
        }
    }
}

/// A group's words in order, however they are broken into lines.
fn said(items: &[Item]) -> String {
    let mut words = String::new();
    super::super::words_of(items, &mut words);
    words.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Puts tables and notes of the older page where the newer page has them, if they say the same: words that were set
/// anew, in another place or in other lines, are no other words.
fn reset(old: &mut [Item], new: &[Item]) {
    fn whole(item: &Item) -> Option<(&str, &[Item])> {
        match item {
            Item::Group { role, id: Some(id), items, .. }
                if *role == Role::Table || id.ends_with("/notes") =>
            {
                Some((id, items))
            }
            _ => None,
        }
    }
    /// The row of items that a table or notes of this name stand in, and where.
    fn find<'a>(items: &'a [Item], name: &str) -> Option<(&'a [Item], usize)> {
        if let Some(at) = items.iter().position(|item| whole(item).is_some_and(|(id, _)| id == name)) {
            return Some((items, at));
        }
        items.iter().find_map(|item| match item {
            Item::Group { items, .. } => find(items, name),
            _ => None,
        })
    }
    for here in 0..old.len() {
        let found = whole(&old[here]).and_then(|(id, items)| {
            let (row, there) = find(new, id)?;
            (said(items) == said(whole(&row[there])?.1)).then_some((row, there))
        });
        let Some((row, there)) = found else {
            if let Item::Group { items, .. } = &mut old[here] {
                reset(items, new);
            }
            continue;
        };
        // Before a table stand its lines, and before them its title.
        for back in 0..=2.min(here).min(there) {
            let furniture = |item: &Item| {
                matches!(
                    (back, item),
                    (0, _)
                        | (1, Item::Group { role: Role::Artifact, .. })
                        | (2, Item::Group { role: Role::Caption, .. })
                )
            };
            if !furniture(&old[here - back]) || !furniture(&row[there - back]) {
                break;
            }
            old[here - back] = row[there - back].clone();
        }
    }
}

fn shift(items: &mut [Item], x: f64, y: f64) {
    let by = |p: &mut Pt| {
        p.x += x;
        p.y += y;
    };
    for item in items {
        match item {
            Item::Path { steps, .. } => {
                for step in steps {
                    match step {
                        Step::Move(p) | Step::Line(p) => by(p),
                        Step::Cubic(a, b, c) => [a, b, c].into_iter().for_each(by),
                        Step::Close => {}
                    }
                }
            }
            Item::Text(text) => by(&mut text.at),
            Item::Link { min, max, .. } | Item::Picture { min, max, .. } => {
                by(min);
                by(max);
            }
            Item::Mark { at, .. } => by(at),
            Item::Group { items, .. } => shift(items, x, y),
        }
    }
}

/// A leaf of a page by all that it prints, to a hundredth of a millimetre; links and marks print nothing.
fn ink(item: &Item) -> Option<String> {
    let at = |p: &Pt| format!("{:.0} {:.0}", p.x * 100.0 + 0.0, p.y * 100.0 + 0.0);
    match item {
        Item::Path { steps, stroke, fill } => {
            let step = |step: &Step| match step {
                Step::Move(p) => format!("M{}", at(p)),
                Step::Line(p) => format!("L{}", at(p)),
                Step::Cubic(a, b, c) => format!("C{} {} {}", at(a), at(b), at(c)),
                Step::Close => "Z".into(),
            };
            Some(format!("{} {stroke:?} {fill:?}", steps.iter().map(step).collect::<String>()))
        }
        Item::Text(text) => Some(format!("{} {:?}", at(&text.at), Text { at: pt(0.0, 0.0), ..text.clone() })),
        Item::Picture { min, max, picture } => {
            Some(format!("{min:?} {max:?} {}", turnleaf_plan::fingerprint(&picture.data)))
        }
        Item::Group { .. } | Item::Link { .. } | Item::Mark { .. } => None,
    }
}

/// Lines that lie nearer are one to the eye, mm: half a fine line's width (0.25 mm, ISO 128-2).
const LINE_MOVED: f64 = 0.12;
/// The same words this near are the same place, mm.
const WORDS_MOVED: f64 = 3.0;

/// Paths and words of a page.
fn leaves<'a>(items: &'a [Item], out: &mut Vec<&'a Item>) {
    for item in items {
        match item {
            Item::Group { items, .. } => leaves(items, out),
            Item::Path { .. } | Item::Text(_) => out.push(item),
            Item::Picture { .. } | Item::Link { .. } | Item::Mark { .. } => {}
        }
    }
}

fn off(a: &Pt, b: &Pt) -> f64 {
    (a.x - b.x).abs().max((a.y - b.y).abs())
}

/// Whether two leaves are one to whoever looks.
fn alike(a: &Item, b: &Item) -> bool {
    let close = |a: &Pt, b: &Pt| off(a, b) <= LINE_MOVED;
    match (a, b) {
        (Item::Text(a), Item::Text(b)) => {
            off(&a.at, &b.at) <= WORDS_MOVED && Text { at: b.at, ..a.clone() } == *b
        }
        (Item::Path { steps, stroke, fill }, Item::Path { steps: others, stroke: ink, fill: filled }) => {
            steps.len() == others.len()
                && stroke == ink
                && fill == filled
                && steps.iter().zip(others).all(|pair| match pair {
                    (Step::Move(a), Step::Move(b)) | (Step::Line(a), Step::Line(b)) => close(a, b),
                    (Step::Cubic(a, b, c), Step::Cubic(d, e, f)) => close(a, d) && close(b, e) && close(c, f),
                    (Step::Close, Step::Close) => true,
                    _ => false,
                })
        }
        _ => false,
    }
}

/// Puts leaves of the older page onto those of the newer that they are alike to, each onto one of its own.
fn snap(old: &mut [Item], new: &[Item]) {
    let mut here = BTreeMap::new();
    count(old, &mut here);
    let (mut free, mut there) = (Vec::new(), BTreeMap::new());
    leaves(new, &mut free);
    // What is printed at the very same place needs nothing, and is nobody else's.
    free.retain(|leaf| {
        let Some(ink) = ink(leaf) else { return false };
        match here.get_mut(&ink) {
            Some(left) if *left > 0 => {
                *left -= 1;
                *there.entry(ink).or_insert(0usize) += 1;
                false
            }
            _ => true,
        }
    });
    fn each(old: &mut [Item], free: &mut Vec<&Item>, there: &mut BTreeMap<String, usize>) {
        for item in old {
            if let Item::Group { items, .. } = item {
                each(items, free, there);
                continue;
            }
            let Some(ink) = ink(item) else { continue };
            match there.get_mut(&ink) {
                Some(left) if *left > 0 => *left -= 1,
                _ => {
                    if let Some(at) = free.iter().position(|leaf| alike(item, leaf)) {
                        *item = free.swap_remove(at).clone();
                    }
                }
            }
        }
    }
    each(old, &mut free, &mut there);
}

/// Lifts words of the older page off other words that the newer has at their place, so that both are read.
fn raise(old: &mut [Item], new: &[Item]) {
    let mut found = Vec::new();
    leaves(new, &mut found);
    let texts: Vec<&Text> = found
        .into_iter()
        .filter_map(|leaf| if let Item::Text(text) = leaf { Some(text) } else { None })
        .collect();
    fn middle(text: &Text) -> Pt {
        let wide = turnleaf_text::width(&text.text, text.size, text.face);
        let along = match text.anchor {
            Anchor::Start => wide / 2.0,
            Anchor::Middle => 0.0,
            Anchor::End => -wide / 2.0,
        };
        let turn = text.rotate.to_radians();
        pt(text.at.x + along * libm::cos(turn), text.at.y - along * libm::sin(turn))
    }
    fn each(old: &mut [Item], texts: &[&Text]) {
        for item in old {
            match item {
                Item::Group { id: Some(id), .. } if id == "title-block" => {}
                Item::Group { items, .. } => each(items, texts),
                Item::Text(text) => {
                    let here = middle(text);
                    let on =
                        |other: &&Text| other.text != text.text && off(&middle(other), &here) < text.size;
                    let same = |other: &&Text| other.at == text.at && other.text == text.text;
                    if texts.iter().any(on) && !texts.iter().any(same) {
                        let turn = text.rotate.to_radians();
                        text.at.x -= text.size * libm::sin(turn);
                        text.at.y -= text.size * libm::cos(turn);
                    }
                }
                _ => {}
            }
        }
    }
    each(old, &texts);
}

/// Least height of capitals in a title block, mm; two entries of this height stand in one field.
const LEAST: f64 = 1.8;

/// Where an entry of the title block changed, the older stands over the newer, both smaller where the field is low.
fn tell_apart(old: &mut [Item], new: &mut [Item]) {
    fn entries<'a>(items: &'a mut [Item], inside: bool, out: &mut Vec<&'a mut Text>) {
        for item in items {
            match item {
                Item::Group { id, items, .. } => {
                    let inside = inside || id.as_deref() == Some("title-block");
                    entries(items, inside, out);
                }
                Item::Text(text) if inside => out.push(text),
                _ => {}
            }
        }
    }
    let (mut older, mut newer) = (Vec::new(), Vec::new());
    entries(old, false, &mut older);
    entries(new, false, &mut newer);
    let least = turnleaf_text::size_for_cap_height(LEAST);
    // Capitals are this part of a size.
    let capital = LEAST / least;
    for k in 0..newer.len() {
        let (at, size) = (newer[k].at, newer[k].size);
        let Some(text) = older.iter_mut().find(|text| off(&text.at, &at) < size / 2.0) else { continue };
        if text.text == newer[k].text {
            continue;
        }
        // The heading of the field stands over it, at the same left edge.
        let heads = newer.iter().filter(|head| (head.at.x - at.x).abs() < 0.1 && head.at.y < at.y - 1.0);
        let head = heads.map(|head| head.at.y).fold(f64::MIN, f64::max);
        text.size = text.size.min(least);
        if at.y - size * capital - head < LEAST + 0.9 {
            newer[k].size = size.min(least);
        }
        text.at.y = at.y - newer[k].size * capital - 0.5;
    }
}

/// How often each thing is printed.
fn count(items: &[Item], out: &mut BTreeMap<String, usize>) {
    for item in items {
        match item {
            Item::Group { items, .. } => count(items, out),
            other => {
                if let Some(ink) = ink(other) {
                    *out.entry(ink).or_default() += 1;
                }
            }
        }
    }
}

/// Of a page what the other one prints too, or what it does not.
fn picked(items: &[Item], other: &mut BTreeMap<String, usize>, common: bool) -> Vec<Item> {
    let mut out = Vec::new();
    for item in items {
        if let Item::Group { origin, items, .. } = item {
            let inner = picked(items, other, common);
            if !inner.is_empty() {
                // Without identifiers and names: three drawings on one page would have each of them three times.
                let role = Role::Plain;
                out.push(Item::Group { role, origin: *origin, id: None, items: inner });
            }
            continue;
        }
        let Some(ink) = ink(item) else { continue };
        let both = match other.get_mut(&ink) {
            Some(left) if *left > 0 => {
                *left -= 1;
                true
            }
            _ => false,
        };
        if both == common {
            out.push(item.clone());
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use turnleaf_page::Stroke;

    fn words(x: f64, y: f64, text: &str) -> Item {
        Item::Text(Text::new(pt(x, y), 3.5, text))
    }
    fn line(y: f64) -> Item {
        let steps = vec![Step::Move(pt(0.0, y)), Step::Line(pt(50.0, y))];
        Item::Path { steps, stroke: Some(Stroke::solid(0.25)), fill: None }
    }

    #[test]
    fn what_moved_by_less_than_is_seen_is_the_same_and_each_is_so_once() {
        let new = vec![line(10.0), words(20.0, 20.0, "Open"), line(30.0)];
        // The second line at ten has no counterpart left; the line at thirty moved by as much as is seen.
        let mut old = vec![line(10.05), line(10.06), words(20.0, 22.0, "Open"), line(30.5)];
        snap(&mut old, &new);
        assert_eq!(old, [line(10.0), line(10.06), words(20.0, 20.0, "Open"), line(30.5)]);
    }

    #[test]
    fn a_table_set_elsewhere_is_the_same_and_one_with_other_figures_is_not() {
        let group =
            |role, id: &str, items| Item::Group { role, origin: None, id: Some(id.to_string()), items };
        let table = |y: f64, figure: &str| {
            vec![
                group(Role::Caption, "title", vec![words(0.0, y, "Holes")]),
                group(Role::Artifact, "lines", vec![line(y)]),
                group(Role::Table, "a/holes/1", vec![words(0.0, y + 5.0, "A"), words(9.0, y + 5.0, figure)]),
            ]
        };
        let notes = |items| group(Role::Plain, "a/notes", items);
        let new = vec![
            group(Role::Plain, "sheet", table(80.0, "12")),
            notes(vec![words(0.0, 99.0, "Level with"), words(0.0, 104.0, "the edge.")]),
        ];
        let mut old = table(60.0, "12");
        old.push(notes(vec![words(9.0, 9.0, "Level with the edge.")]));
        reset(&mut old, &new);
        assert_eq!(old[..3], table(80.0, "12"));
        assert_eq!(old[3], new[1]);
        let mut other = table(60.0, "13");
        reset(&mut other, &new);
        assert_eq!(other, table(60.0, "13"));
    }

    #[test]
    fn an_entry_of_the_title_block_that_changed_is_read_beside_the_older() {
        let block = |mark: &str| {
            let field = |y: f64, size: f64, text: &str| Item::Text(Text::new(pt(1.2, y), size, text));
            let items = vec![field(2.8, 2.5, "Revision"), field(7.4, 3.5, mark), field(12.8, 2.5, "Date")];
            vec![Item::Group { role: Role::Plain, origin: None, id: Some("title-block".into()), items }]
        };
        let (mut old, mut new) = (block("A"), block("B"));
        tell_apart(&mut old, &mut new);
        let said = |items: &[Item]| {
            let mut out = Vec::new();
            leaves(items, &mut out);
            let text = |item: &Item| match item {
                Item::Text(text) => (text.text.clone(), text.at.y, text.size),
                _ => (String::new(), 0.0, 0.0),
            };
            out.into_iter().map(text).collect::<Vec<_>>()
        };
        let (old, new) = (said(&old), said(&new));
        // Headings stay; the older entry ends above the newer's capitals and begins below the heading.
        assert_eq!((&old[0], &old[2]), (&new[0], &new[2]));
        let capital = LEAST / turnleaf_text::size_for_cap_height(LEAST);
        assert!(old[1].1 < new[1].1 - new[1].2 * capital && old[1].1 - old[1].2 * capital > old[0].1);
        assert_eq!((old[1].0.as_str(), new[1].0.as_str(), new[1].1), ("A", "B", 7.4));
    }

    #[test]
    fn a_figure_that_gave_way_to_another_stands_above_it() {
        let mut old = vec![words(20.0, 20.0, "600"), words(60.0, 20.0, "45")];
        raise(&mut old, &[words(20.1, 20.0, "620"), words(60.0, 20.0, "45")]);
        assert_eq!(old, [words(20.0, 16.5, "600"), words(60.0, 20.0, "45")]);
    }
}
