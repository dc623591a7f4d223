//! One size within a sentence.
//!
//! In: a field of the form. Out: edits as they are typed.
//! Always true: the text in the box is what was typed, to the letter, for as long as it is being typed; Escape
//! brings back the last text that could be used.

use crate::core::FieldSpec;
use crate::desk::{Desk, Proved};
use crate::form::{Shown, brief};
use leptos::prelude::*;

/// The size.
#[component]
pub fn Tag(field: &'static FieldSpec, touched: RwSignal<Option<&'static str>>) -> impl IntoView {
    let desk = Desk::here();
    let id = field.id;
    // What the box holds; the form trims, the box must not.
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
        Shown::Worked => worked_out(desk, id),
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
    let placeholder = match (id, field.optional()) {
        ("slide_skew", _) => "0°",
        (_, true) => "worked out",
        (_, false) => "",
    };
    let width = move || {
        typed.with(|typed| typed.chars().count()).max(if field.optional() { 9 } else { 2 }).min(22) + 1
    };
    view! {
        <span class="tag">
            <input
                id=id
                type="text"
                autocomplete="off"
                autocapitalize="off"
                spellcheck="false"
                aria-label=field.label
                aria-describedby=format!("{id}-understood {id}-wrong")
                aria-invalid=move || if wrong() { "true" } else { "false" }
                placeholder=placeholder
                size=width
                prop:value=move || typed.get()
                on:input:target=move |event| edit(event.target().value())
                on:keydown=keys
                on:focus=move |_| touched.set(Some(id))
            />
            <span class="understood" id=format!("{id}-understood")>{under}</span>
        </span>
    }
}

/// The solved number that stands where a size was left out.
fn worked_out(desk: Desk, id: &str) -> String {
    let solved = match id {
        "open_diameter" => "open.diameter",
        "travel" => "panel.travel",
        "panel_pin_radius" => "panel.arm.pin-radius",
        "panel_arm_length" => "panel.arm.length",
        "panel_arm_bend" => "panel.arm.bend",
        "leaf_pin_radius" => "leaf.arm.pin-radius",
        "leaf_arm_length" => "leaf.arm.length",
        "leaf_arm_bend" => "leaf.arm.bend",
        "slide_skew" => return "none".into(),
        _ => return String::new(),
    };
    let units = desk.plan.with(|plan| plan.options().print.units);
    match desk.proved.get() {
        Proved::Done(found) => found.number(solved).map_or(String::new(), |n| format!("= {}", n.text(units))),
        Proved::Waiting | Proved::Failed(_) => String::new(),
    }
}
