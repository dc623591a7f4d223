//! A box for a length beside the sizes: of stock on hand, or measured on it.
//!
//! In: the key of a field of the form. Out: edits as they are typed.
//! Always true: the box keeps what is typed to the letter; Escape brings back what could be used; what is wrong is
//! said in a sentence below and read out with the box.

use crate::desk::Desk;
use crate::form::{Shown, brief, ids};
use leptos::prelude::*;

/// What a box of the form holds while it is typed in, and what was understood of it.
#[derive(Clone, Copy)]
pub struct Held {
    desk: Desk,
    id: &'static str,
    /// The text, to the letter; the form trims, the box must not.
    pub typed: RwSignal<String>,
    shown: Memo<Shown>,
}

impl Held {
    /// Holds a field from now on: edits made elsewhere show in the box.
    pub fn of(desk: Desk, id: &'static str) -> Held {
        let typed = RwSignal::new(desk.form.with_untracked(|form| form.text(id)));
        let known = Memo::new(move |_| desk.form.with(|form| form.text(id)));
        Effect::new(move |_| {
            let text = known.get();
            if typed.with_untracked(|typed| typed.trim() != text.trim()) {
                typed.set(text);
            }
        });
        // Of all fields only the one that was typed in is read anew.
        let heard = Memo::new(move |_| desk.form.with(|form| form.heard(id)));
        let shown = Memo::new(move |_| {
            // Read, since what was never worked out follows nothing.
            heard.with(|_| ());
            desk.form.with_untracked(|form| form.shown(id))
        });
        Held { desk, id, typed, shown }
    }
    /// Whether it cannot be used.
    pub fn wrong(self) -> bool {
        matches!(self.shown.get(), Shown::Wrong(_))
    }
    /// What is said below the box; `worked` says it of an empty one.
    pub fn under(self, worked: impl Fn() -> String) -> String {
        match self.shown.get() {
            Shown::Understood(text) => self.typed.with(|typed| brief(typed, &text)),
            Shown::Worked => worked(),
            Shown::Wrong(_) => "cannot be used".into(),
        }
    }
    /// Takes what is typed.
    pub fn edit(self, text: String) {
        self.typed.set(text.clone());
        self.desk.form.update(|form| {
            form.edit(self.id, &text);
        });
    }
    /// Escape brings back what could be used.
    pub fn key(self, event: &web_sys::KeyboardEvent) {
        if event.key() == "Escape" {
            self.desk.form.update(|form| form.give_up(self.id));
            self.typed.set(self.desk.form.with_untracked(|form| form.text(self.id)));
        }
    }
}

/// The name of the form that a field's box is the only one of.
pub fn form_of(id: &str) -> String {
    format!("{}-form", id.replace('.', "-"))
}

/// A form for the box of every field by itself, with nothing to see. A browser that offers to fill forms in looks at
/// every letter through all boxes of the same form, and of those in no form through all on the page.
#[component]
pub fn Forms() -> impl IntoView {
    let all = ids().map(|id| {
        view! { <form id=form_of(id) on:submit=|event: web_sys::SubmitEvent| event.prevent_default()></form> }
    });
    view! { <div hidden>{all.collect::<Vec<_>>()}</div> }
}

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
    let held = Held::of(Desk::here(), id);
    let name = id.replace('.', "-");
    let width = move || held.typed.with(|typed| typed.chars().count()).clamp(8, 22) + 1;
    view! {
        <span class="tag">
            <input
                id=name.clone()
                form=form_of(id)
                type="text"
                enterkeyhint="done"
                autocomplete="off"
                autocapitalize="off"
                spellcheck="false"
                aria-label=label
                aria-describedby=format!("{name}-understood {name}-wrong")
                aria-invalid=move || if held.wrong() { "true" } else { "false" }
                placeholder=move || empty.get()
                size=width
                prop:value=move || held.typed.get()
                on:input:target=move |event| held.edit(event.target().value())
                on:keydown=move |event| held.key(&event)
            />
            <span class="understood" id=format!("{name}-understood")>{move || held.under(String::new)}</span>
        </span>
    }
}

/// What is wrong with some of these boxes, one sentence a box.
#[component]
pub fn Wrongs(#[prop(into)] ids: Vec<&'static str>) -> impl IntoView {
    let desk = Desk::here();
    let wrong = move || {
        desk.form
            .with(|form| ids.iter().filter_map(|id| Some((*id, form.wrong(id)?.clone()))).collect::<Vec<_>>())
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
