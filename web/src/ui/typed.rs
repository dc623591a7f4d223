//! A box for a length beside the sizes: of stock on hand, or measured on it.
//!
//! In: the key of a field of the form. Out: edits as they are typed.
//! Always true: the box keeps what is typed to the letter; Escape brings back what could be used; what is wrong is
//! said in a sentence below and read out with the box.

use crate::desk::Desk;
use crate::form::{Shown, brief};
use leptos::prelude::*;

/// The box, with what was understood below it.
#[component]
pub fn Typed(
    /// Key of the field.
    id: &'static str,
    /// What it is called.
    label: String,
    /// What stands in the empty box.
    #[prop(into)]
    empty: Signal<String>,
) -> impl IntoView {
    let desk = Desk::here();
    let typed = RwSignal::new(desk.form.with_untracked(|form| form.text(id)));
    let known = Memo::new(move |_| desk.form.with(|form| form.text(id)));
    Effect::new(move |_| {
        let text = known.get();
        if typed.with_untracked(|typed| typed.trim() != text.trim()) {
            typed.set(text);
        }
    });
    let shown = Memo::new(move |_| desk.form.with(|form| form.shown(id)));
    let wrong = move || matches!(shown.get(), Shown::Wrong(_));
    let under = move || match shown.get() {
        Shown::Understood(text) => typed.with(|typed| brief(typed, &text)),
        Shown::Worked => String::new(),
        Shown::Wrong(_) => "cannot be used".into(),
    };
    let edit = move |text: String| {
        typed.set(text.clone());
        desk.form.update(|form| {
            form.edit(id, &text);
        });
    };
    let keys = move |event: web_sys::KeyboardEvent| {
        if event.key() == "Escape" {
            desk.form.update(|form| form.give_up(id));
            typed.set(desk.form.with_untracked(|form| form.text(id)));
        }
    };
    let name = id.replace('.', "-");
    let width = move || typed.with(|typed| typed.chars().count()).clamp(8, 22) + 1;
    view! {
        <span class="tag">
            <input
                id=name.clone()
                type="text"
                autocomplete="off"
                autocapitalize="off"
                spellcheck="false"
                aria-label=label
                aria-describedby=format!("{name}-understood {name}-wrong")
                aria-invalid=move || if wrong() { "true" } else { "false" }
                placeholder=move || empty.get()
                size=width
                prop:value=move || typed.get()
                on:input:target=move |event| edit(event.target().value())
                on:keydown=keys
            />
            <span class="understood" id=format!("{name}-understood")>{under}</span>
        </span>
    }
}

/// What is wrong with some of these boxes, one sentence a box.
#[component]
pub fn Wrongs(ids: &'static [&'static str]) -> impl IntoView {
    let desk = Desk::here();
    let wrong = move || {
        desk.form.with(|form| {
            let all = ids.iter().filter_map(|id| match form.shown(id) {
                Shown::Wrong(refused) => Some((*id, refused)),
                _ => None,
            });
            all.collect::<Vec<_>>()
        })
    };
    view! {
        <div aria-live="polite">
            <For each=wrong key=|(id, refused)| (*id, refused.sentence.clone(), refused.hint.clone()) let((id, refused))>
                <p class="wrong" id=format!("{}-wrong", id.replace('.', "-"))>
                    <span aria-hidden="true">"✗"</span>
                    <span>{refused.sentence.clone()} " " {refused.hint.clone()}</span>
                </p>
            </For>
        </div>
    }
}
