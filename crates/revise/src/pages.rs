//! Pages of two books side by side.
//!
//! In: the pages of an older and of a newer book. Out: what has become of each.
//! Always true: a page is the same only if every mark on it is, its number and revision included; pages are told
//! apart by their identifiers.

use crate::pairs::by_name;
use crate::print;
use turnleaf_page::Page;

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
    by_name(old.iter().map(|p| p.id.as_str()), new.iter().map(|p| p.id.as_str()))
        .into_iter()
        .filter_map(|(a, b)| {
            let (was, is) = (a.map(|i| &old[i]), b.map(|i| &new[i]));
            let named = is.or(was)?;
            let state = match (was, is) {
                (Some(was), Some(is)) => state(was, is),
                (None, _) => PageState::Added,
                (_, None) => PageState::Removed,
            };
            let (old, new) = (a.map(|i| i + 1), b.map(|i| i + 1));
            Some(PageChange { id: named.id.clone(), title: named.title.clone(), old, new, state })
        })
        .collect()
}

/// What a page is against its older self.
fn state(was: &Page, is: &Page) -> PageState {
    if print::of_page(was) != print::of_page(is) || print::of_stamps(was) != print::of_stamps(is) {
        PageState::Changed
    } else if print::of_number(was) != print::of_number(is) {
        PageState::Renumbered
    } else {
        PageState::Same
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use turnleaf_page::{Item, Role, Step, Stroke, Text, pt};

    fn group(id: Option<&str>, items: Vec<Item>) -> Item {
        Item::Group { role: Role::Plain, origin: None, id: id.map(str::to_string), items }
    }

    fn line(y: f64) -> Item {
        let steps = vec![Step::Move(pt(0.0, y)), Step::Line(pt(9.0, y))];
        Item::Path { steps, stroke: Some(Stroke::solid(0.5)), fill: None }
    }

    fn page(id: &str, items: Vec<Item>) -> Page {
        Page { width: 210.0, height: 297.0, label: "1".into(), id: id.into(), title: id.into(), items }
    }

    fn fate(was: Vec<Item>, is: Vec<Item>) -> PageState {
        compare_pages(&[page("a", was)], &[page("a", is)])[0].state
    }

    fn stamped(name: &str, item: Item) -> Item {
        group(None, vec![group(Some(name), vec![item])])
    }

    fn number(text: &str) -> Item {
        stamped(print::NUMBER, Item::Text(Text::new(pt(5.0, 5.0), 3.0, text)))
    }

    #[test]
    fn a_page_is_the_same_only_if_every_mark_on_it_is() {
        assert_eq!(fate(vec![line(1.0), number("7")], vec![line(1.0), number("7")]), PageState::Same);
        assert_eq!(fate(vec![line(1.0), number("7")], vec![line(1.0), number("8")]), PageState::Renumbered);
        assert_eq!(fate(vec![line(1.0)], vec![line(2.0)]), PageState::Changed);
        // A change bar or a cloud alone is drawn, not written.
        let bar = || stamped("stamp/changes", line(4.0));
        assert_eq!(fate(vec![line(1.0), bar()], vec![line(1.0)]), PageState::Changed);
        assert_eq!(fate(vec![line(1.0), bar()], vec![line(1.0), bar()]), PageState::Same);
    }

    #[test]
    fn pages_come_and_go_by_their_identifiers() {
        let found =
            compare_pages(&[page("a", vec![]), page("b", vec![])], &[page("c", vec![]), page("a", vec![])]);
        let told: Vec<_> = found.iter().map(|p| (p.id.as_str(), p.old, p.new, p.state)).collect();
        assert_eq!(
            told,
            [
                ("c", None, Some(1), PageState::Added),
                ("a", Some(1), Some(2), PageState::Same),
                ("b", Some(2), None, PageState::Removed),
            ]
        );
    }

    #[test]
    fn another_paper_is_another_page() {
        let wide = Page { width: 297.0, ..page("a", vec![]) };
        let low = Page { height: 210.0, ..page("a", vec![]) };
        for other in [wide, low] {
            assert_eq!(compare_pages(&[page("a", vec![])], &[other])[0].state, PageState::Changed);
        }
    }
}
