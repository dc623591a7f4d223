//! The book's pages as small pictures.
//!
//! In: the newest book. Out: pictures of the pages in sight, drawn when they come into sight; a press opens a page.
//! Always true: a picture is of the book whose pages are listed; addresses of pictures are given back.

use super::pages::Lectern;
use crate::bench::{Answer, Ask, Contents};
use crate::browser::{backroom, page};
use crate::core::PageInfo;
use crate::desk::{Desk, Shared};
use gloo::file::ObjectUrl;
use leptos::html::Ol;
use leptos::leptos_dom::helpers::TimeoutHandle;
use leptos::prelude::*;
use std::collections::BTreeMap;
use std::time::Duration;

/// Scrolling rests so long before pictures are drawn.
const REST: Duration = Duration::from_millis(120);
/// Most pictures asked for at once, so that an open page never waits long behind them.
const MOST: usize = 12;

/// The list.
#[component]
pub fn Thumbs(at: Lectern) -> impl IntoView {
    let desk = Desk::here();
    let list = NodeRef::<Ol>::new();
    let made = RwSignal::new_local(BTreeMap::<usize, ObjectUrl>::new());
    let of = StoredValue::new(None::<Shared<Contents>>);
    let waiting = StoredValue::new(None::<TimeoutHandle>);
    let look = move || look(list, made, of, desk);
    let look_soon = move || {
        if let Some(handle) = waiting.get_value() {
            handle.clear();
        }
        waiting.set_value(set_timeout_with_handle(look, REST).ok());
    };
    // Pictures of an older book go.
    Effect::new(move |_| {
        of.set_value(desk.book.get());
        made.set(BTreeMap::new());
        look_soon();
    });
    // A batch drawn may have left others in sight undrawn.
    Effect::new(move |_| {
        if made.with(|made| !made.is_empty()) {
            look_soon();
        }
    });
    // The open page is kept in sight.
    Effect::new(move |_| {
        let place = at.place.get();
        request_animation_frame(move || {
            page::show_within(".thumbs", &format!(".thumbs [data-thumb=\"{place}\"]"))
        });
    });
    let items = move || {
        let Some(book) = desk.book.get() else { return Vec::new() };
        let book = book.clone();
        let item = |(place, info): (usize, &PageInfo)| {
            let here = {
                let book = book.clone();
                move || at.open(desk).contains(&place) && !book.pages.is_empty()
            };
            let address = move || made.with(|made| made.get(&place).map(|url| url.to_string()));
            view! {
                <li>
                    <button
                        type="button"
                        data-thumb=place
                        aria-label=info.name()
                        aria-current=move || if here() { "true" } else { "false" }
                        on:click=move |_| at.place.set(place)
                    >
                        <span class="small-page" class:wide=info.wide()>
                            {move || address().map(|address| view! { <img src=address alt="" draggable="false"/> })}
                        </span>
                        <span class="folio">{info.label.clone()}</span>
                    </button>
                </li>
            }
        };
        book.pages.iter().enumerate().map(item).collect::<Vec<_>>()
    };
    view! { <ol class="thumbs" node_ref=list on:scroll=move |_| look_soon()>{items}</ol> }
}

/// Draws what is in sight and not yet drawn.
fn look(
    list: NodeRef<Ol>,
    made: RwSignal<BTreeMap<usize, ObjectUrl>, LocalStorage>,
    of: StoredValue<Option<Shared<Contents>>>,
    desk: Desk,
) {
    let (Some(Some(list)), Some(Some(book))) = (list.try_get_untracked(), of.try_get_value()) else { return };
    let missing: Vec<usize> = page::in_sight(&list, "[data-thumb]", "data-thumb")
        .into_iter()
        .filter(|place| made.with_untracked(|made| !made.contains_key(place)))
        .take(MOST)
        .collect();
    if missing.is_empty() {
        return;
    }
    let ask = Ask::Thumbs(book.plan.clone(), book.chapters.clone(), missing.clone());
    backroom::ask(ask, move |answer| {
        let Answer::Drawings(drawings) = answer else { return };
        // A newer book has come meanwhile, or the list is gone.
        if desk.book.try_get_untracked().flatten() != Some(book) {
            return;
        }
        made.try_update(|made| {
            for (place, drawing) in missing.into_iter().zip(drawings) {
                made.insert(place, page::picture(&drawing));
            }
        });
    });
}
