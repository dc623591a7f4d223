//! The book's pages as they will print: a list of contents, and the pages laid side by side.
//!
//! In: the newest book. Out: its pages, drawn when they are looked at.
//! Always true: a page shown is of the book whose contents stand beside it; while a newer book is made the last
//! one stays on show, and it is said.

use crate::bench::{Answer, Ask, Contents};
use crate::browser::backroom;
use crate::core::PageInfo;
use crate::desk::{Desk, Shared};
use leptos::prelude::*;
use wasm_bindgen::JsCast;

/// The pages on show: their places in the book and their drawings.
type OnShow = Option<(Shared<Contents>, Vec<usize>, Vec<String>)>;

/// The section.
#[component]
pub fn Pages() -> impl IntoView {
    let desk = Desk::here();
    let place = RwSignal::new(0usize);
    let two = RwSignal::new(true);
    let shown = RwSignal::new(None::<(Shared<Contents>, Vec<usize>, Vec<String>)>);
    Effect::new(move |_| {
        let Some(contents) = desk.book.get() else { return };
        let places = facing(&contents, place.get(), two.get());
        backroom::ask(
            Ask::Pages(contents.plan.clone(), contents.chapters.clone(), places.clone()),
            move |answer| {
                if let Answer::Pages(pages) = answer {
                    shown.set(Some((contents, places, pages)));
                }
            },
        );
    });
    let stale = Memo::new(move |_| {
        let book = desk.book.get();
        book.is_some_and(|book| {
            desk.plan.with(|plan| plan.to_json()) != book.plan
                || desk.chapters.with(|chapters| *chapters != book.chapters)
        })
    });
    let lead = move || match (desk.book.with(Option::is_some), stale.get(), desk.troubles().is_empty()) {
        (false, _, true) => "The pages are being laid out …".to_string(),
        (false, _, false) => "There is no book yet: these sizes give no table that works.".into(),
        (true, true, true) => "The pages are being laid out anew …".into(),
        (true, true, false) => "These pages are of the last sizes that gave a table.".into(),
        (true, false, _) => {
            let pages = desk.book.with(|book| book.as_ref().map_or(0, |book| book.pages.len()));
            format!("{pages} pages, just as they will print.")
        }
    };
    let remarks =
        move || desk.book.with(|book| book.as_ref().map_or(Vec::new(), |book| book.remarks.clone()));
    view! {
        <h2>"The book"</h2>
        <p class="lead" role="status" data-say="book">{lead}</p>
        {move || {
            let remarks: Vec<_> = remarks().into_iter().map(|remark| view! { <li class="mild">{remark}</li> }).collect();
            let words = match remarks.len() {
                0 => return ().into_any(),
                1 => "One remark about this book".to_string(),
                many => format!("{many} remarks about this book"),
            };
            view! {
                <details class="more">
                    <summary>{words}</summary>
                    <ul class="troubles">{remarks}</ul>
                </details>
            }.into_any()
        }}
        <div class="pages" class:stale=move || stale.get()>
            <nav aria-label="Contents of the book"><ContentsList place two/></nav>
            <div class="sheets">
                <Turning place two/>
                {move || view! { <Sheets shown=shown.get() place/> }}
            </div>
        </div>
    }
}

/// The pages that lie open at a place: the cover alone, then pairs, as in a bound book. Wide sheets lie alone.
fn facing(contents: &Contents, place: usize, two: bool) -> Vec<usize> {
    let count = contents.pages.len();
    if count == 0 {
        return Vec::new();
    }
    let place = place.min(count - 1);
    if !two || place == 0 {
        return vec![place];
    }
    let left = if place % 2 == 1 { place } else { place - 1 };
    let pair: Vec<usize> = [left, left + 1].into_iter().filter(|place| *place < count).collect();
    if pair.iter().any(|place| contents.pages[*place].wide) { vec![place] } else { pair }
}

/// Pages that follow each other under one title.
#[derive(Clone, Debug, PartialEq)]
struct Run {
    title: String,
    folio: String,
    first: usize,
    last: usize,
}

fn runs(pages: &[PageInfo]) -> Vec<Run> {
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

#[component]
fn ContentsList(place: RwSignal<usize>, two: RwSignal<bool>) -> impl IntoView {
    let desk = Desk::here();
    let items = move || {
        let Some(contents) = desk.book.get() else { return Vec::new() };
        let item = |run: Run| {
            let contents = contents.clone();
            let Run { title, folio, first, last } = run;
            let here = move || {
                facing(&contents, place.get(), two.get()).iter().any(|at| (first..=last).contains(at))
            };
            view! {
                <li>
                    <button
                        type="button"
                        aria-current=move || if here() { "true" } else { "false" }
                        on:click=move |_| place.set(first)
                    >
                        <span>{title}</span>
                        <span class="folio">{folio}</span>
                    </button>
                </li>
            }
        };
        runs(&contents.pages).into_iter().map(item).collect::<Vec<_>>()
    };
    view! { <ol class="contents">{items}</ol> }
}

/// Leafing forward and back.
#[component]
fn Turning(place: RwSignal<usize>, two: RwSignal<bool>) -> impl IntoView {
    let desk = Desk::here();
    let open = move || {
        let contents = desk.book.get();
        contents.map_or((0, Vec::new()), |book| (book.pages.len(), facing(&book, place.get(), two.get())))
    };
    let first = move || open().1.first().is_none_or(|first| *first == 0);
    let last = move || {
        let (count, pages) = open();
        pages.last().is_none_or(|last| last + 1 >= count)
    };
    let back = move |_| {
        if let Some(first) = open().1.first() {
            place.set(first.saturating_sub(1));
        }
    };
    let on = move |_| {
        let (count, pages) = open();
        if let Some(last) = pages.last() {
            place.set((last + 1).min(count.saturating_sub(1)));
        }
    };
    view! {
        <div class="sheet-turn">
            <button type="button" disabled=first on:click=back>"Leaf back"</button>
            <button type="button" disabled=last on:click=on>"Leaf on"</button>
            <fieldset class="either" aria-label="Pages side by side">
                <label>
                    <input type="radio" name="side" prop:checked=move || two.get() on:change=move |_| two.set(true)/>
                    "two pages"
                </label>
                <label>
                    <input type="radio" name="side" prop:checked=move || !two.get() on:change=move |_| two.set(false)/>
                    "one page"
                </label>
            </fieldset>
        </div>
    }
}

#[component]
fn Sheets(shown: OnShow, place: RwSignal<usize>) -> impl IntoView {
    let Some((contents, places, drawings)) = shown else { return ().into_any() };
    let single = places.len() < 2;
    let sheets: Vec<_> = places
        .into_iter()
        .zip(drawings)
        .map(|(place, drawing)| {
            let name = contents.pages.get(place).map_or(String::new(), PageInfo::name);
            view! { <figure class="sheet" aria-label=name data-page=place inner_html=drawing></figure> }
        })
        .collect();
    // A link on a page leads to another page of the book, not to a part of the app.
    let follow = move |event: web_sys::MouseEvent| {
        let at = event.target().and_then(|target| target.dyn_into::<web_sys::Element>().ok());
        let link = at.and_then(|at| at.closest("a").ok().flatten());
        let Some(mark) = link.and_then(|link| link.get_attribute("href")) else { return };
        event.prevent_default();
        let mark = mark.trim_start_matches('#');
        if let Some(there) =
            contents.pages.iter().position(|page| page.marks.iter().any(|on_it| on_it == mark))
        {
            place.set(there);
        }
    };
    view! { <div class="facing" class:single=single on:click=follow>{sheets}</div> }.into_any()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn contents(wide: &[bool]) -> Contents {
        let page = |wide: &bool| PageInfo {
            title: String::new(),
            label: String::new(),
            wide: *wide,
            marks: Vec::new(),
        };
        Contents { pages: wide.iter().map(page).collect(), ..Contents::default() }
    }

    #[test]
    fn the_cover_lies_alone_and_then_pages_lie_in_pairs() {
        let book = contents(&[false; 6]);
        let open: Vec<Vec<usize>> = (0..7).map(|place| facing(&book, place, true)).collect();
        assert_eq!(open, [vec![0], vec![1, 2], vec![1, 2], vec![3, 4], vec![3, 4], vec![5], vec![5]]);
    }

    #[test]
    fn wide_sheets_lie_alone() {
        let book = contents(&[false, true, false, false, false]);
        assert_eq!(facing(&book, 1, true), [1]);
        assert_eq!(facing(&book, 2, true), [2]);
        assert_eq!(facing(&book, 3, true), [3, 4]);
    }

    #[test]
    fn pages_under_one_title_are_listed_once() {
        let page = |title: &str, label: &str| PageInfo {
            title: title.into(),
            label: label.into(),
            wide: false,
            marks: Vec::new(),
        };
        let runs = runs(&[page("Cover", "i"), page("Sizes", "1"), page("Sizes", "2"), page("Lists", "3")]);
        let said: Vec<_> =
            runs.iter().map(|run| (run.title.as_str(), run.folio.as_str(), run.first, run.last)).collect();
        assert_eq!(said, [("Cover", "i", 0, 0), ("Sizes", "1–2", 1, 2), ("Lists", "3", 3, 3)]);
    }

    #[test]
    fn an_empty_book_has_nothing_open() {
        assert_eq!(facing(&contents(&[]), 3, true), Vec::<usize>::new());
    }
}
