//! Pages of two books side by side.
//!
//! In: the pages of an older and of a newer book. Out: what has become of each.
//! Always true: a page is the same only if every mark on it is, its number and revision included; pages are told
//! apart by their identifiers.

use crate::print;
use std::collections::BTreeMap;
use turnleaf_page::{Item, Page};

/// What a page of the newer book is against the older one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PageState {
    /// Prints exactly the same.
    Same,
    /// Prints the same but for its number.
    Renumbered,
    /// Prints something else.
    Changed,
    /// Was not there.
    Added,
    /// Is no longer there.
    Removed,
}

/// A page of either book.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PageChange {
    /// Identifier of the page.
    pub id: String,
    /// Its title.
    pub title: String,
    /// Number in the older book.
    pub old: Option<usize>,
    /// Number in the newer book.
    pub new: Option<usize>,
    /// What it is.
    pub state: PageState,
}

/// Every page of two books, in the newer one's order, then those that are gone.
pub fn compare_pages(old: &[Page], new: &[Page]) -> Vec<PageChange> {
    let was: BTreeMap<&str, (usize, &Page)> =
        old.iter().enumerate().map(|(i, p)| (p.id.as_str(), (i + 1, p))).collect();
    let mut out = Vec::new();
    for (i, p) in new.iter().enumerate() {
        let before = was.get(p.id.as_str());
        let state = match before {
            None => PageState::Added,
            Some((_, o)) if o.width == p.width && o.items == p.items => PageState::Same,
            Some((_, o)) if print::of_page(o) == print::of_page(p) && stamps(o) == stamps(p) => {
                if o.label == p.label { PageState::Same } else { PageState::Renumbered }
            }
            Some(_) => PageState::Changed,
        };
        out.push(PageChange {
            id: p.id.clone(),
            title: p.title.clone(),
            old: before.map(|b| b.0),
            new: Some(i + 1),
            state,
        });
    }
    for (i, o) in old.iter().enumerate() {
        if !new.iter().any(|p| p.id == o.id) {
            let (id, title) = (o.id.clone(), o.title.clone());
            out.push(PageChange { id, title, old: Some(i + 1), new: None, state: PageState::Removed });
        }
    }
    out
}

/// Texts stamped on a page, but for its number.
fn stamps(page: &Page) -> Vec<String> {
    fn walk(items: &[Item], inside: bool, out: &mut Vec<String>) {
        for item in items {
            match item {
                Item::Group { id, items, .. } => {
                    let id = id.as_deref().unwrap_or_default();
                    if id != "stamp/number" {
                        walk(items, inside || id.starts_with(print::STAMP), out);
                    }
                }
                Item::Text(t) if inside => out.push(t.text.clone()),
                _ => {}
            }
        }
    }
    let mut out = Vec::new();
    walk(&page.items, false, &mut out);
    out
}
