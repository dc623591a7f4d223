//! Leafing through the book: what lies open, contents, finding a page by its label, zoom.
//!
//! In: the list of pages. Out: places in it.
//! Always true: a place given out is one of the book's; zoom stays within its bounds. Nothing here touches the browser.

use crate::core::PageInfo;

/// How small and how large pages are shown, as shares of the room.
pub const LEAST_ZOOM: f64 = 0.5;
/// See [`LEAST_ZOOM`]; eight times is letters of 2 mm as tall as a thumb.
pub const MOST_ZOOM: f64 = 8.0;
/// One press of a button.
const STEP: f64 = 1.25;

/// The pages that lie open at a place: the cover alone, then pairs, as in a bound book. Wide sheets lie alone.
pub fn facing(pages: &[PageInfo], place: usize, two: bool) -> Vec<usize> {
    let count = pages.len();
    if count == 0 {
        return Vec::new();
    }
    let place = place.min(count - 1);
    if !two || place == 0 {
        return vec![place];
    }
    let left = if place % 2 == 1 { place } else { place - 1 };
    let pair: Vec<usize> = [left, left + 1].into_iter().filter(|place| *place < count).collect();
    if pair.iter().any(|place| pages[*place].wide()) { vec![place] } else { pair }
}

/// Pages that follow each other under one title.
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    /// The title.
    pub title: String,
    /// Labels of the first and last page.
    pub folio: String,
    /// Place of the first page.
    pub first: usize,
    /// Place of the last page.
    pub last: usize,
}

/// The contents.
pub fn runs(pages: &[PageInfo]) -> Vec<Run> {
    let mut runs: Vec<Run> = Vec::new();
    for (place, page) in pages.iter().enumerate() {
        match runs.last_mut() {
            Some(run) if run.title == page.title => {
                run.last = place;
                run.folio = format!("{}–{}", pages[run.first].label, page.label);
            }
            _ => runs.push(Run {
                title: page.title.clone(),
                folio: page.label.clone(),
                first: place,
                last: place,
            }),
        }
    }
    runs
}

/// The page that a typed label or number means: the label as printed at the foot, else the place counted from 1.
pub fn page_named(pages: &[PageInfo], typed: &str) -> Result<usize, String> {
    let typed = typed.trim();
    let labelled = pages.iter().position(|page| page.label.eq_ignore_ascii_case(typed));
    let counted = || typed.parse::<usize>().ok().filter(|n| (1..=pages.len()).contains(n)).map(|n| n - 1);
    labelled.or_else(counted).ok_or_else(|| match (pages.first(), pages.last()) {
        (Some(first), Some(last)) if typed.is_empty() => {
            format!("Type a page number, from {} to {}.", first.label, last.label)
        }
        (Some(first), Some(last)) => {
            format!("There is no page “{typed}”; pages go from {} to {}.", first.label, last.label)
        }
        _ => "There are no pages yet.".into(),
    })
}

/// A zoom, held to its bounds.
pub fn held(zoom: f64) -> f64 {
    if zoom.is_finite() { zoom.clamp(LEAST_ZOOM, MOST_ZOOM) } else { 1.0 }
}

/// One step nearer or farther; a step that would pass the fitting size stops at it.
pub fn stepped(zoom: f64, nearer: bool) -> f64 {
    let next = if nearer { zoom * STEP } else { zoom / STEP };
    let passes = (zoom - 1.0) * (next - 1.0) < -1e-9;
    held(if passes || (next - 1.0).abs() < 0.02 { 1.0 } else { next })
}

/// Where to scroll to, so that what lay under a point of the window stays there while the zoom changes.
pub fn kept(scroll: f64, point: f64, ratio: f64) -> f64 {
    (scroll + point) * ratio - point
}

/// Where a page of a book is in the book that takes its place: by the first mark that both have on it, or on the nearest
/// page before it; at most the last page.
pub fn moved(before: &[PageInfo], place: usize, after: &[PageInfo]) -> usize {
    let of = |mark: &String| after.iter().position(|page| page.marks.contains(mark));
    let back = (0..=place).find_map(|back| {
        let page = before.get(place - back)?;
        page.marks.iter().find_map(of).map(|found| found + back)
    });
    back.unwrap_or(place).min(after.len().saturating_sub(1))
}

/// Where the n-th hit of a search stands: which page, and the how-manieth on it.
pub fn hit(found: &[(usize, usize)], mut number: usize) -> Option<(usize, usize)> {
    for (place, count) in found {
        if number < *count {
            return Some((*place, number));
        }
        number -= count;
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_page_is_found_again_in_the_book_that_follows() {
        let marked = |marks: &[&str]| PageInfo {
            marks: marks.iter().map(|m| m.to_string()).collect(),
            ..page("", "", false)
        };
        let before =
            [marked(&["cover"]), marked(&["lists"]), marked(&["a", "b"]), marked(&[]), marked(&["end"])];
        let after = [
            marked(&["cover"]),
            marked(&["lists"]),
            marked(&[]),
            marked(&["b"]),
            marked(&[]),
            marked(&["end"]),
        ];
        let found: Vec<usize> = (0..5).map(|place| moved(&before, place, &after)).collect();
        assert_eq!(found, [0, 1, 3, 4, 5]);
        // Of chosen chapters; of nothing; beyond the end.
        assert_eq!(moved(&before, 4, &after[..2]), 1);
        assert_eq!(moved(&before, 3, &[]), 0);
        assert_eq!(moved(&before, 9, &after), 5);
    }

    fn page(title: &str, label: &str, wide: bool) -> PageInfo {
        let (width, height) = if wide { (297.0, 210.0) } else { (210.0, 297.0) };
        PageInfo { title: title.into(), label: label.into(), width, height, marks: Vec::new() }
    }

    fn pages(wide: &[bool]) -> Vec<PageInfo> {
        wide.iter().map(|wide| page("", "", *wide)).collect()
    }

    #[test]
    fn the_cover_lies_alone_and_then_pages_lie_in_pairs() {
        let book = pages(&[false; 6]);
        let open: Vec<Vec<usize>> = (0..7).map(|place| facing(&book, place, true)).collect();
        assert_eq!(open, [vec![0], vec![1, 2], vec![1, 2], vec![3, 4], vec![3, 4], vec![5], vec![5]]);
    }

    #[test]
    fn wide_sheets_lie_alone() {
        let book = pages(&[false, true, false, false, false]);
        assert_eq!(facing(&book, 1, true), [1]);
        assert_eq!(facing(&book, 2, true), [2]);
        assert_eq!(facing(&book, 3, true), [3, 4]);
        assert_eq!(facing(&[], 3, true), Vec::<usize>::new());
    }

    #[test]
    fn pages_under_one_title_are_listed_once() {
        let runs = runs(&[
            page("Cover", "i", false),
            page("Sizes", "1", false),
            page("Sizes", "2", false),
            page("Lists", "3", false),
        ]);
        let said: Vec<_> =
            runs.iter().map(|run| (run.title.as_str(), run.folio.as_str(), run.first, run.last)).collect();
        assert_eq!(said, [("Cover", "i", 0, 0), ("Sizes", "1–2", 1, 2), ("Lists", "3", 3, 3)]);
    }

    #[test]
    fn a_page_is_found_by_its_label_before_its_place() {
        let book: Vec<PageInfo> = ["i", "ii", "1", "2"].iter().map(|label| page("", label, false)).collect();
        assert_eq!(page_named(&book, " II "), Ok(1));
        assert_eq!(page_named(&book, "1"), Ok(2));
        assert_eq!(page_named(&book, "4"), Ok(3));
        assert!(page_named(&book, "9").unwrap_err().contains("“9”"));
        assert!(page_named(&book, "").unwrap_err().contains("from i to 2"));
        assert!(page_named(&[], "1").is_err());
    }

    #[test]
    fn zoom_stops_at_the_fitting_size_and_at_its_bounds() {
        assert_eq!(stepped(0.9, true), 1.0);
        assert_eq!(stepped(1.1, false), 1.0);
        assert_eq!(stepped(7.9, true), MOST_ZOOM);
        assert_eq!(stepped(0.51, false), LEAST_ZOOM);
        assert_eq!(held(f64::NAN), 1.0);
    }

    #[test]
    fn what_lies_under_the_pointer_stays_there() {
        // A point 300 into the sheet, seen 100 from the edge, is at 600 after doubling: scrolled by 500.
        assert_eq!(kept(200.0, 100.0, 2.0), 500.0);
    }

    #[test]
    fn hits_are_counted_through_the_pages() {
        let found = [(3, 2), (7, 1)];
        assert_eq!(
            [hit(&found, 0), hit(&found, 1), hit(&found, 2), hit(&found, 3)],
            [Some((3, 0)), Some((3, 1)), Some((7, 0)), None]
        );
    }
}
