//! A part of a list that is folded away.
//!
//! In: what stands on it, and what is in it. Out: the fold.
//! Always true: what is in it is made only while it is open, so that nobody waits for what nobody sees.

use leptos::ev;
use leptos::html;
use leptos::prelude::*;

/// The fold; nothing while there is nothing in it.
#[component]
pub fn Fold(
    #[prop(into)] summary: Signal<String>,
    there: Signal<bool>,
    children: ChildrenFn,
) -> impl IntoView {
    let open = RwSignal::new(false);
    let fold = NodeRef::<html::Details>::new();
    let toggled = move |_: ev::Event| {
        if let Some(fold) = fold.get_untracked() {
            open.set(fold.open());
        }
    };
    let inside = StoredValue::new(children);
    view! {
        <Show when=move || there.get()>
            <details class="more" node_ref=fold on:toggle=toggled>
                <summary>{move || summary.get()}</summary>
                <Show when=move || open.get()>{inside.with_value(|children| children())}</Show>
            </details>
        </Show>
    }
}
