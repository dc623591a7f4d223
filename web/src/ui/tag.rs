//! One size within a sentence.
//!
//! In: a field of the form. Out: edits as they are typed.
//! Always true: the text in the box is what was typed, to the letter, for as long as it is being typed; Escape
//! brings back the last text that could be used.

use super::typed::{Held, form_of};
use crate::core::{FieldSpec, say_length};
use crate::desk::{Desk, Proved};
use leptos::prelude::*;

/// The size.
#[component]
pub fn Tag(field: &'static FieldSpec, touched: RwSignal<Option<&'static str>>) -> impl IntoView {
    let desk = Desk::here();
    let id = field.id;
    let held = Held::of(desk, id);
    let placeholder = match (id, field.optional()) {
        ("slide_skew", _) => "0°",
        (_, true) => "worked out",
        (_, false) => "",
    };
    let width = move || {
        held.typed.with(|typed| typed.chars().count()).max(if field.optional() { 9 } else { 2 }).min(22) + 1
    };
    view! {
        <span class="tag">
            <input
                id=id
                form=form_of(id)
                type="text"
                enterkeyhint="done"
                autocomplete="off"
                autocapitalize="off"
                spellcheck="false"
                aria-label=field.label
                aria-describedby=format!("{id}-understood {id}-wrong")
                aria-invalid=move || if held.wrong() { "true" } else { "false" }
                placeholder=placeholder
                size=width
                prop:value=move || held.typed.get()
                on:input:target=move |event| held.edit(event.target().value())
                on:keydown=move |event| held.key(&event)
                on:focus=move |_| touched.set(Some(id))
            />
            <span class="understood" id=format!("{id}-understood")>{move || held.under(|| worked_out(desk, id))}</span>
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
        "tongue_thickness" => {
            let tongue =
                desk.drawn().filter(|_| desk.troubles().is_empty()).map(|drawn| drawn.table.tongue());
            return tongue.map_or(String::new(), |mm| {
                format!("= {}", desk.followed.with(|plan| say_length(plan, mm)))
            });
        }
        _ => return String::new(),
    };
    let units = desk.plan.with(|plan| plan.options().print.units);
    match desk.proved.get() {
        Proved::Done(found) => found.number(solved).map_or(String::new(), |n| format!("= {}", n.text(units))),
        Proved::Waiting | Proved::Failed(_) => String::new(),
    }
}
