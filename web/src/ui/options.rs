//! Choices that are not sizes: units, drive, paper, projection.
//!
//! In: the form. Out: choices.
//! Always true: changing the unit changes no size: numbers typed without a unit get the old one written behind them.

use crate::core::{Choice, Drive, Paper, PrintChoice, Projection};
use crate::desk::Desk;
use leptos::prelude::*;

fn choose(desk: Desk, key: &'static str, word: &str) {
    let outcome = desk.form.try_update(|form| form.choose(key, word)).unwrap_or(Ok(()));
    if let Err(sentence) = outcome {
        desk.tell(true, sentence, None);
    }
}

/// The units switch of the bar.
#[component]
pub fn Units() -> impl IntoView {
    let desk = Desk::here();
    let now = move || desk.form.with(|form| form.plan().options().print.units);
    let set = move |units: PrintChoice| {
        // What one reads in is what one types in.
        match units {
            PrintChoice::Mm => choose(desk, "unit", "mm"),
            PrintChoice::Inch => choose(desk, "unit", "in"),
            PrintChoice::Both => {}
        }
        choose(desk, "print.units", units.key());
    };
    let offers = [(PrintChoice::Mm, "mm"), (PrintChoice::Inch, "inches"), (PrintChoice::Both, "both")];
    let labels: Vec<_> = offers
        .into_iter()
        .map(|(units, words)| {
            view! {
                <label>
                    <input type="radio" name="units" prop:checked=move || now() == units on:change=move |_| set(units)/>
                    {words}
                </label>
            }
        })
        .collect();
    view! { <fieldset class="either" aria-label="Units">{labels}</fieldset> }
}

/// Drive, paper and projection.
#[component]
pub fn Options() -> impl IntoView {
    let desk = Desk::here();
    let paper = move || desk.form.with(|form| form.plan().options().paper);
    let projection = move || desk.form.with(|form| form.plan().options().projection);
    let papers: Vec<_> = Paper::ALL
        .into_iter()
        .map(|one| view! { <option value=one.key() selected=move || paper() == one>{paper_name(one)}</option> })
        .collect();
    let drive = move || desk.form.with(|form| form.plan().options().drive);
    let drives = either("drive", [(Drive::Arms, "crank arms"), (Drive::Cam, "a slotted cam plate")], drive);
    let views = either(
        "projection",
        [(Projection::First, "first angle"), (Projection::Third, "third angle")],
        projection,
    );
    view! {
        <section class="passage choices" aria-labelledby="passage-book">
            <h3 id="passage-book">"The drive, and the book"</h3>
            <div class="row">
                <span id="drive-name">"Driven by"</span>
                <fieldset class="either" aria-labelledby="drive-name">{drives}</fieldset>
            </div>
            <div class="row">
                <label for="paper">"Printed on"</label>
                <select id="paper" on:change:target=move |event| choose(desk, "paper", &event.target().value())>{papers}</select>
            </div>
            <div class="row">
                <span id="views-name">"Views unfold in"</span>
                <fieldset class="either" aria-labelledby="views-name">{views}</fieldset>
            </div>
        </section>
    }
}

/// Radio buttons for an option of the plan.
fn either<C: Choice + Send + Sync>(
    key: &'static str,
    offers: [(C, &'static str); 2],
    now: impl Fn() -> C + Copy + Send + Sync + 'static,
) -> impl IntoView {
    let desk = Desk::here();
    let labels = offers.map(|(one, words)| {
        view! {
            <label>
                <input
                    type="radio"
                    name=key
                    prop:checked=move || now() == one
                    on:change=move |_| choose(desk, key, one.key())
                />
                {words}
            </label>
        }
    });
    labels.into_iter().collect::<Vec<_>>()
}

fn paper_name(paper: Paper) -> &'static str {
    match paper {
        Paper::A4 => "A4",
        Paper::A3 => "A3",
        Paper::A2 => "A2",
        Paper::Letter => "Letter",
        Paper::Tabloid => "Tabloid, 11 × 17 in",
        Paper::ArchC => "Arch C, 18 × 24 in",
    }
}
