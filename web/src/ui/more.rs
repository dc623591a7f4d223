//! Long lists, so many rows at a time.
//!
//! In: how many rows there are, and how many are made. Out: a button for the next ones.
//! Always true: nobody waits for rows that were not asked for; the focus goes to the first of the new ones.

use crate::browser::page;
use leptos::prelude::*;

/// How many rows are made at a time.
const AT_ONCE: usize = 50;

/// How many rows of a list are made, and which.
pub fn some_of<T>(all: Memo<Vec<T>>) -> (RwSignal<usize>, Memo<Vec<T>>)
where
    T: Clone + PartialEq + Send + Sync + 'static,
{
    let shown = RwSignal::new(AT_ONCE);
    (shown, Memo::new(move |_| all.with(|all| all.iter().take(shown.get()).cloned().collect())))
}

/// The button below the list; nothing once all rows are made.
#[component]
pub fn More(
    /// The list, as the page's styles name it.
    list: &'static str,
    all: Signal<usize>,
    shown: RwSignal<usize>,
) -> impl IntoView {
    let left = move || all.get().saturating_sub(shown.get());
    let show = move |_| {
        let before = shown.get_untracked();
        shown.set(before + AT_ONCE);
        page::focus_row(list, before);
    };
    view! {
        <Show when=move || { left() > 0 }>
            <button type="button" class="small" on:click=show>
                {move || match left() {
                    left if left > AT_ONCE => format!("List the next {AT_ONCE} of {left} more"),
                    left => format!("List the last {left}"),
                }}
            </button>
        </Show>
    }
}
