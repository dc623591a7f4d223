//! A tape measure to pull a size on.
//!
//! In: a size, and between which values every check holds, where that is known. Out: the tape, and edits as it is
//! pulled or stepped along with the keys.
//! Always true: it shows the size as it can be used; a size that is left out has none.

use crate::core::FieldSpec;
use crate::desk::Desk;
use crate::tape::Tape;
use leptos::prelude::*;
use std::fmt::Write as _;
use wasm_bindgen::JsCast;

/// Half the length of tape on show, px.
const HALF: f64 = 180.0;
/// Steps of the keys that go farther.
const FAR: i64 = 10;
/// How long marks are, the longest first, px.
const LONG: [f64; 5] = [20.0, 14.0, 11.0, 8.0, 6.0];

/// The tape.
#[component]
pub fn Pulled(
    /// The size.
    field: &'static FieldSpec,
    /// From where to where every check holds, in millimetres or degrees.
    good: Signal<Option<(f64, f64)>>,
) -> impl IntoView {
    let desk = Desk::here();
    let id = field.id;
    // What is on show follows once a letter is painted; the hand pulls at the newest.
    let tape = Memo::new(move |_| desk.followed.with(|plan| Tape::of(plan, id)));
    let newest = move || desk.plan.with_untracked(|plan| Tape::of(plan, id));
    let there = Memo::new(move |_| tape.with(Option::is_some));
    // Where it was taken hold of, and the tape as it lay then.
    let hold = StoredValue::new(None::<(f64, Tape)>);
    let held = RwSignal::new(false);
    let put = move |text: String| {
        if desk.form.with_untracked(|form| form.text(id)) != text {
            desk.form.update(|form| {
                form.edit(id, &text);
            });
        }
    };
    let down = move |event: web_sys::PointerEvent| {
        let Some(tape) = newest().filter(|_| event.button() == 0) else { return };
        hold.set_value(Some((f64::from(event.client_x()), tape)));
        held.set(true);
        let target = event.current_target().and_then(|target| target.dyn_into::<web_sys::Element>().ok());
        if let Some(target) = target {
            // Without capture the pull ends at the tape's edge; nothing worse.
            let _ = target.set_pointer_capture(event.pointer_id());
        }
    };
    let shift = move |event: web_sys::PointerEvent| {
        let x = f64::from(event.client_x());
        let text = hold.with_value(|hold| hold.as_ref().map(|(from, tape)| tape.text(tape.pulled(x - from))));
        if let Some(text) = text {
            put(text);
        }
    };
    let up = move |_: web_sys::PointerEvent| {
        hold.set_value(None);
        held.set(false);
    };
    let key = move |event: web_sys::KeyboardEvent| {
        let Some(tape) = newest() else { return };
        if event.ctrl_key() || event.alt_key() || event.meta_key() {
            return;
        }
        let mark = match event.key().as_str() {
            "ArrowRight" | "ArrowUp" => tape.stepped(1),
            "ArrowLeft" | "ArrowDown" => tape.stepped(-1),
            "PageUp" => tape.stepped(FAR),
            "PageDown" => tape.stepped(-FAR),
            "Home" => tape.ends().0,
            "End" => tape.ends().1,
            _ => return,
        };
        event.prevent_default();
        put(tape.text(mark));
    };
    let with = move |run: fn(&Tape) -> String| tape.with(|tape| tape.as_ref().map_or(String::new(), run));
    let spoken = move || {
        // What stands in the box is nearer to the size than any mark.
        desk.followed.with(|plan| plan.typed(id).unwrap_or_default())
    };
    let marks = move || {
        with(|tape| {
            tape.marks(HALF).iter().fold(String::new(), |mut path, mark| {
                let long = LONG.get(mark.rank).copied().unwrap_or(LONG[LONG.len() - 1]);
                // Writing to a string cannot fail.
                let _ = write!(path, "M{:.1} 0v{long}", mark.x);
                path
            })
        })
    };
    let numbers = move || {
        let marks = tape.with(|tape| tape.as_ref().map_or(Vec::new(), |tape| tape.marks(HALF)));
        let numbered = marks.into_iter().filter_map(|mark| Some((mark.x, mark.number?)));
        let texts = numbered.map(|(x, number)| view! { <text x=format!("{x:.1}") y="34">{number}</text> });
        texts.collect::<Vec<_>>()
    };
    let band = move || {
        let (least, most) = good.get()?;
        let at = |value: f64| tape.with(|tape| Some(tape.as_ref()?.place(value).clamp(-HALF, HALF)));
        Some(format!("M{:.1} 43H{:.1}", at(least)?, at(most)?))
    };
    view! {
        <Show when=move || there.get()>
            <div class="tape-row">
                <div
                    class="tape"
                    class:held=move || held.get()
                    role="slider"
                    tabindex="0"
                    data-tape=id
                    aria-label=format!("{}, on a tape", field.label)
                    aria-valuemin=move || with(|tape| tape.number(tape.ends().0).to_string())
                    aria-valuemax=move || with(|tape| tape.number(tape.ends().1).to_string())
                    aria-valuenow=move || with(|tape| tape.number(tape.nearest()).to_string())
                    aria-valuetext=spoken
                    on:pointerdown=down
                    on:pointermove=shift
                    on:pointerup=up
                    on:pointercancel=up
                    on:keydown=key
                >
                    <svg width="360" height="46" viewBox="-180 0 360 46" aria-hidden="true">
                        <path class="marks" d=marks></path>
                        {numbers}
                        <path class="good" d=band></path>
                        <path class="index" d="M0 0V22M-6 46L0 38L6 46Z"></path>
                    </svg>
                </div>
                <p>
                    "Pull the tape, or use the arrow keys on it."
                    {move || good.get().map(|_| " The green edge is where every check holds.")}
                </p>
            </div>
        </Show>
    }
}
