//! A part of a list that is folded away.
//!
//! In: what stands on it, and what is in it. Out: the fold.
//! Always true: what is in it is made only while it is open, so that nobody waits for what nobody sees.

use leptos::ev;
use leptos::html;
use leptos::prelude::*;

/// What tells whether a fold is open: the element, whether it is, and what it calls when it is toggled.
pub fn watched() -> (NodeRef<html::Details>, ReadSignal<bool>, impl Fn(ev::Event) + Copy) {
    let fold = NodeRef::<html::Details>::new();
    let (open, set_open) = signal(false);
    let toggled = move |_: ev::Event| {
        if let Some(fold) = fold.get_untracked() {
            set_open.set(fold.open());
        }
    };
    (fold, open, toggled)
}

/// The fold; nothing while there is nothing in it.
#[component]
pub fn Fold(
    #[prop(into)] summary: Signal<String>,
    there: Signal<bool>,
    children: ChildrenFn,
) -> impl IntoView {
    let (fold, open, toggled) = watched();
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
