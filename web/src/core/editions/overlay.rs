//! A page of two books laid over each other.
//!
//! In: the older and the newer page. Out: three drawings of one size: what both print, what only one of them does.
//! Always true: everything that either page prints is in exactly one of the drawings; views of one name lie on each
//! other even where one of them moved on its sheet.

use super::super::INLINE;
use super::told::Overlay;
use std::collections::BTreeMap;
use turnleaf_page::{Item, Page, Pt, Role, Step, Text, pt};
use turnleaf_plan::{Number, page_svg};

/// Two pages laid over each other, either of which may be missing; none when both are.
pub fn laid(mut was: Option<Page>, is: Option<Page>, numbers: &[Number]) -> Option<Overlay> {
    if let (Some(was), Some(is)) = (&mut was, &is) {
        lay_on(&mut was.items, &is.items);
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
