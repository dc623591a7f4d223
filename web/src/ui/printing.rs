//! Printing the book through the browser, at full size.
//!
//! In: the newest book. Out: all its pages laid out for the printer, one a sheet of the right paper, then the browser's
//! own print dialog; the pages go again when it closes.
//! Always true: nothing but the book's pages is printed; a page is as large as its paper, so that 100 % is true.

use crate::bench::{Answer, Ask, Contents};
use crate::browser::{backroom, page};
use crate::desk::{Desk, Shared};
use leptos::portal::Portal;
use leptos::prelude::*;

/// Pages drawn at once, so that progress is seen and leaving off is quick.
const BATCH: usize = 8;

/// How far the laying out is.
#[derive(Clone, PartialEq)]
struct Under {
    book: Shared<Contents>,
    drawn: Vec<String>,
}

/// The button, and the pages for the printer.
#[component]
pub fn Printing() -> impl IntoView {
    let desk = Desk::here();
    let under = RwSignal::new(None::<Under>);
    let begin = move || {
        if let Some(book) = desk.book.get_untracked()
            && under.with_untracked(Option::is_none)
        {
            under.set(Some(Under { book, drawn: Vec::new() }));
            next(desk, under);
        }
    };
    let keys = window_event_listener(leptos::ev::keydown, move |event| {
        if (event.ctrl_key() || event.meta_key())
            && !event.shift_key()
            && event.key().eq_ignore_ascii_case("p")
        {
            // The browser would print what is on the screen, not the book.
            event.prevent_default();
            begin();
        }
    });
    let over = window_event_listener_untyped("afterprint", move |_| under.set(None));
    on_cleanup(move || {
        keys.remove();
        over.remove();
    });
    let done = move || {
        under.with(|under| under.as_ref().is_some_and(|under| under.drawn.len() == under.book.pages.len()))
    };
    let words = move || {
        under.with(|under| match under {
            Some(under) => {
                format!("Laying out page {} of {} …", under.drawn.len() + 1, under.book.pages.len())
            }
            None => String::new(),
        })
    };
    let pages = move || {
        let Some(Under { book, drawn }) = under.get().filter(|_| done()) else { return Vec::new() };
        let page = |(drawing, info): (String, &crate::core::PageInfo)| {
            // The style sheet has a page of this name for every paper.
            let class = format!("paper p{:.0}x{:.0}", info.width, info.height);
            view! { <div class=class inner_html=drawing></div> }
        };
        drawn.into_iter().zip(&book.pages).map(page).collect::<Vec<_>>()
    };
    view! {
        <div class="print-deeds">
            <button type="button" disabled=move || under.with(Option::is_some) || desk.book.with(Option::is_none) on:click=move |_| begin()>
                "Print the book"
            </button>
            <Show when=move || under.with(Option::is_some) && !done()>
                <button type="button" class="plain" on:click=move |_| under.set(None)>"Leave off"</button>
            </Show>
            <p role="status" data-say="printing">{move || if done() { String::new() } else { words() }}</p>
            <p class="small-words">
                "Choose 100 % or “actual size” and no margins in the dialog; there the book can be kept as PDF as well. A page of the book has bars to check the print by."
            </p>
        </div>
        <Portal>
            <div class="print-book" aria-hidden="true">{pages}</div>
        </Portal>
    }
}

/// Draws the next pages; prints when all are there.
fn next(desk: Desk, under: RwSignal<Option<Under>>) {
    let Some(Some(now)) = under.try_get_untracked() else { return };
    let (from, count) = (now.drawn.len(), now.book.pages.len());
    if from >= count {
        page::print_soon();
        return;
    }
    let places = (from..count.min(from + BATCH)).collect();
    let ask = Ask::Print(now.book.plan.clone(), now.book.chapters.clone(), places);
    backroom::ask(ask, move |answer| match answer {
        Answer::Drawings(drawings) => {
            let on = under.try_update(|under| match under {
                Some(under) if under.book == now.book && under.drawn.len() == from => {
                    under.drawn.extend(drawings);
                    true
                }
                _ => false,
            });
            if on == Some(true) {
                next(desk, under);
            }
        }
        Answer::Failed(sentence) => {
            under.try_set(None);
            desk.tell(true, sentence, None);
        }
        _ => {
            under.try_set(None);
        }
    });
}
