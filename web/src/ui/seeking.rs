//! Looking for words in the book, and going to a page by its number.
//!
//! In: the newest book, words, a label. Out: marked hits, the page that lies open.
//! Always true: how many hits there are is said, also when there are none; a page that does not exist is said in a
//! sentence and nothing moves.

use super::pages::Lectern;
use crate::bench::{Answer, Ask};
use crate::browser::backroom;
use crate::desk::Desk;
use crate::leafing::{hit, page_named};
use leptos::leptos_dom::helpers::TimeoutHandle;
use leptos::prelude::*;
use std::time::Duration;

/// Typing rests so long before it is looked for.
const REST: Duration = Duration::from_millis(180);

/// The box for words.
#[component]
pub fn Seeking(at: Lectern) -> impl IntoView {
    let desk = Desk::here();
    let typed = RwSignal::new(String::new());
    let found = RwSignal::new(Vec::<(usize, usize)>::new());
    let number = RwSignal::new(0usize);
    let many = move || found.with(|found| found.iter().map(|(_, count)| count).sum::<usize>());
    let waiting = StoredValue::new(None::<TimeoutHandle>);
    // Looked for again in every newer book.
    Effect::new(move |_| {
        let Some(book) = desk.book.get() else { return };
        let words = at.words.get();
        if words.trim().is_empty() {
            found.set(Vec::new());
            at.hit.set(None);
            return;
        }
        backroom::ask(Ask::Find(book.plan.clone(), book.chapters.clone(), words), move |answer| {
            let Answer::Found(pages) = answer else { return };
            // The first hit from the open page on.
            let from = at.place.get_untracked();
            let before: usize = pages.iter().filter(|(place, _)| *place < from).map(|(_, count)| count).sum();
            let all: usize = pages.iter().map(|(_, count)| count).sum();
            found.set(pages);
            go(at, found, number, if before < all { before } else { 0 });
        });
    });
    let type_on = move |text: String| {
        typed.set(text);
        if let Some(handle) = waiting.get_value() {
            handle.clear();
        }
        waiting.set_value(set_timeout_with_handle(move || at.words.set(typed.get_untracked()), REST).ok());
    };
    let step = move |on: bool| {
        let many = many();
        if many > 0 {
            let now = number.get_untracked();
            go(at, found, number, if on { (now + 1) % many } else { (now + many - 1) % many });
        }
    };
    let keys = move |event: web_sys::KeyboardEvent| match event.key().as_str() {
        "Enter" => {
            event.prevent_default();
            step(!event.shift_key());
        }
        "Escape" => type_on(String::new()),
        _ => {}
    };
    let said = move || {
        let words = at.words.get();
        match (words.trim().is_empty(), many()) {
            (true, _) => String::new(),
            (false, 0) => format!("“{}” stands nowhere in this book.", words.trim()),
            (false, many) => format!("{} of {many}", number.get() + 1),
        }
    };
    view! {
        <div class="seek" role="search">
            <label for="look-for">"Look for"</label>
            <input
                id="look-for"
                type="search"
                autocomplete="off"
                spellcheck="false"
                prop:value=move || typed.get()
                on:input:target=move |event| type_on(event.target().value())
                on:keydown=keys
            />
            <Show when=move || at.words.with(|words| !words.trim().is_empty())>
                <div class="hits">
                    <button type="button" class="small" disabled=move || many() == 0 on:click=move |_| step(false)>"Hit before"</button>
                    <button type="button" class="small" disabled=move || many() == 0 on:click=move |_| step(true)>"Next hit"</button>
                </div>
            </Show>
            <span class="count" role="status" data-say="hits">{said}</span>
        </div>
    }
}

/// The box for a page's number; empty, it says which pages lie open.
#[component]
pub fn TurnTo(at: Lectern) -> impl IntoView {
    let desk = Desk::here();
    let (label, wrong) = (RwSignal::new(String::new()), RwSignal::new(String::new()));
    let turn_to = move |event: web_sys::SubmitEvent| {
        event.prevent_default();
        let named = desk.book.with_untracked(|book| {
            page_named(
                book.as_ref().map(|book| book.pages.as_slice()).unwrap_or_default(),
                &label.get_untracked(),
            )
        });
        match named {
            Ok(place) => {
                at.place.set(place);
                label.set(String::new());
                wrong.set(String::new());
            }
            Err(why) => wrong.set(why),
        }
    };
    let open = move || {
        let places = at.open(desk);
        desk.book.with(|book| {
            let label = |place: &usize| book.as_ref()?.pages.get(*place).map(|page| page.label.clone());
            let (first, last) = (places.first().and_then(label), places.last().and_then(label));
            match (first, last) {
                (Some(first), Some(last)) if first != last => format!("{first}–{last}"),
                (first, _) => first.unwrap_or_default(),
            }
        })
    };
    view! {
        <form class="turn-to" on:submit=turn_to>
            <label for="turn-to">"Page"</label>
            <input
                id="turn-to"
                type="text"
                autocomplete="off"
                aria-describedby="turn-to-wrong"
                placeholder=open
                prop:value=move || label.get()
                on:input:target=move |event| {
                    wrong.set(String::new());
                    label.set(event.target().value());
                }
            />
            <Show when=move || label.with(|label| !label.trim().is_empty())>
                <button type="submit" class="small">"Turn to it"</button>
            </Show>
        </form>
        <p class="wrong-page" id="turn-to-wrong" role="status">{move || wrong.get()}</p>
    }
}

/// Opens the page of a hit.
fn go(at: Lectern, found: RwSignal<Vec<(usize, usize)>>, number: RwSignal<usize>, wanted: usize) {
    number.set(wanted);
    let there = found.with_untracked(|found| hit(found, wanted));
    at.hit.set(there);
    if let Some((place, _)) = there {
        at.place.set(place);
    }
}
