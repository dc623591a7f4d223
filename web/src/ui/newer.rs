//! A line that says a newer version waits.
//!
//! In: events of `loader.js`. Out: the line, and the change when it is asked for.
//! Always true: nothing is loaded anew by itself; the work is kept before the change.

use crate::browser::tabs;
use crate::keeper::Keeper;
use leptos::prelude::*;
use leptos::task::spawn_local;

/// The line.
#[component]
pub fn Newer() -> impl IntoView {
    let keeper = Keeper::here();
    let waits = RwSignal::new(false);
    let busy = RwSignal::new(false);
    let heard = window_event_listener_untyped("turnleaf-newer", move |_| waits.set(true));
    on_cleanup(move || heard.remove());
    // It may have been found before this listened.
    tabs::announce("turnleaf-newer?");
    let take = move |_| {
        busy.set(true);
        spawn_local(async move {
            keeper.keep().await;
            tabs::announce("turnleaf-take-newer");
        });
    };
    view! {
        <div role="status">
            <Show when=move || waits.get()>
                <div class="newer">
                    <p>"A newer version of Turnleaf is ready. Your plans stay as they are; it is used when you say so."</p>
                    <button type="button" class="main" disabled=move || busy.get() on:click=take>"Use it now"</button>
                    <button type="button" on:click=move |_| waits.set(false)>"Later"</button>
                </div>
            </Show>
        </div>
    }
}
