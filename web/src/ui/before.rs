//! The table as it was, for as long as a button is held.
//!
//! In: what was changed. Out: the drawing of the table before it.
//! Always true: letting go, leaving the button or the page shows the table as it is; nothing is changed by looking.
//! Whoever cannot hold a button (a screen reader's press, a switch) turns it on and off by pressing.

use crate::core::{FIELDS, Plan};
use crate::desk::{Desk, Looking};
use crate::form::Form;
use leptos::prelude::*;

/// The two buttons and what differs.
#[component]
pub fn Before() -> impl IntoView {
    let desk = Desk::here();
    let last = move || desk.history.with(|history| history.undoes().map(str::to_string));
    let first_differs = Memo::new(move |_| desk.first.with(|first| desk.form.with(|form| form != first)));
    let blur = window_event_listener_untyped("blur", move |_| desk.looking.set(None));
    on_cleanup(move || blur.remove());
    let words = move || {
        let looking = desk.looking.get()?;
        let then = match looking {
            Looking::BeforeLast => desk.history.with(|history| history.before().cloned())?,
            Looking::AtFirst => desk.first.get(),
        };
        if desk.past.with(Option::is_none) {
            let then = match looking {
                Looking::BeforeLast => "Before the last change",
                Looking::AtFirst => "As they were when it was opened",
            };
            return Some(format!("{then} the sizes gave no table: on show is still the table as it is."));
        }
        Some(desk.form.with(|now| differences(&then, now)))
    };
    view! {
        <div class="before">
            <Hold
                looking=Looking::BeforeLast
                words="Hold to see it before the last change"
                about=Signal::derive(move || last().unwrap_or_default())
                idle=Signal::derive(move || last().is_none())
            />
            <Hold
                looking=Looking::AtFirst
                words="Hold to see it as it was opened"
                about=Signal::derive(String::new)
                idle=Signal::derive(move || !first_differs.get())
            />
            <p class="before-words" role="status" data-say="before">{words}</p>
        </div>
    }
}

#[component]
fn Hold(looking: Looking, words: &'static str, about: Signal<String>, idle: Signal<bool>) -> impl IntoView {
    let desk = Desk::here();
    let held = move || desk.looking.get() == Some(looking);
    // Whether the press under way began by hand or key; a click without one comes from a screen reader or a switch.
    let by_hand = StoredValue::new(false);
    let down = move || {
        by_hand.set_value(true);
        desk.looking.set(Some(looking));
    };
    let up = move || {
        if desk.looking.get_untracked() == Some(looking) && by_hand.get_value() {
            desk.looking.set(None);
        }
    };
    let is_press = |key: &str| key == " " || key == "Enter";
    let click = move |_| {
        if !by_hand.get_value() {
            desk.looking.update(|now| *now = if *now == Some(looking) { None } else { Some(looking) });
        }
        by_hand.set_value(false);
    };
    view! {
        <button
            type="button"
            class="hold"
            disabled=move || idle.get() && !held()
            aria-pressed=move || if held() { "true" } else { "false" }
            title=move || about.get()
            on:pointerdown=move |event| if event.button() == 0 { down() }
            on:pointerup=move |_| up()
            on:pointercancel=move |_| up()
            on:pointerleave=move |_| up()
            on:contextmenu=move |event| event.prevent_default()
            on:keydown=move |event| if is_press(&event.key()) && !event.repeat() { down() }
            on:keyup=move |event| if is_press(&event.key()) { up() }
            on:blur=move |_| up()
            on:click=click
        >
            {words}
        </button>
    }
}

/// What was otherwise then, said in words.
fn differences(then: &Form, now: &Form) -> String {
    let told = |form: &Form, id: &str| {
        let text = form.plan().typed(id).unwrap_or_default();
        if text.is_empty() { "worked out".to_string() } else { text }
    };
    let changed: Vec<String> = FIELDS
        .iter()
        .filter(|field| told(then, field.id) != told(now, field.id))
        .map(|field| {
            format!("{} {}, now {}", field.label.to_lowercase(), told(then, field.id), told(now, field.id))
        })
        .collect();
    match changed.len() {
        0 if drive(then.plan()) != drive(now.plan()) => "Before: the other drive.".into(),
        0 => "Before: every size the same.".into(),
        1..=4 => format!("Before: {}.", changed.join("; ")),
        many => format!("Before: {}; and {} more sizes otherwise.", changed[..3].join("; "), many - 3),
    }
}

fn drive(plan: &Plan) -> crate::core::Drive {
    plan.options().drive
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_was_otherwise_is_said_with_both_values() {
        let then = Form::new(Plan::default_metric());
        let mut now = then.clone();
        now.edit("closed_diameter", "1180 mm");
        assert_eq!(differences(&then, &now), "Before: closed diameter 1200 mm, now 1180 mm.");
        assert_eq!(differences(&then, &then), "Before: every size the same.");
        for (id, text) in [("height", "730 mm"), ("play", "0.9 mm"), ("sectors", "8"), ("arm_width", "22 mm")]
        {
            now.edit(id, text);
        }
        assert!(differences(&then, &now).ends_with("and 2 more sizes otherwise."));
    }
}
