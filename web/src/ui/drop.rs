//! Opening a plan by dropping its file on the page.
//!
//! In: drags over the window. Out: a hint while a file hangs over the page, and the file opened.
//! Always true: dropping a file never makes the browser leave the page.

use super::bar;
use crate::desk::Desk;
use crate::keeper::Keeper;
use leptos::{ev, prelude::*};

/// The hint.
#[component]
pub fn Drop() -> impl IntoView {
    let (desk, keeper) = (Desk::here(), Keeper::here());
    let over = RwSignal::new(false);
    let has_file = |event: &web_sys::DragEvent| {
        event.data_transfer().is_some_and(|data| data.types().includes(&"Files".into(), 0))
    };
    let listeners = [
        window_event_listener(ev::dragover, move |event| {
            if has_file(&event) {
                event.prevent_default();
                over.set(true);
            }
        }),
        window_event_listener(ev::dragleave, move |event| {
            // Leaving for another element of the page is no leaving.
            if event.related_target().is_none() {
                over.set(false);
            }
        }),
        window_event_listener(ev::drop, move |event| {
            over.set(false);
            if !has_file(&event) {
                return;
            }
            event.prevent_default();
            let file = event.data_transfer().and_then(|data| data.files()).and_then(|files| files.get(0));
            if let Some(file) = file {
                bar::open(desk, keeper, file);
            }
        }),
    ];
    on_cleanup(move || {
        for listener in listeners {
            listener.remove();
        }
    });
    view! {
        <Show when=move || over.get()>
            <div class="drop" aria-hidden="true">"Let go to open this file"</div>
        </Show>
    }
}
