//! Choices that are not sizes: units, paper, projection.
//!
//! In: the form. Out: choices.
//! Always true: changing the unit changes no size: numbers typed without a unit get the old one written behind them.

use crate::core::{Choice, Paper, PrintChoice, Projection};
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

/// Paper and projection.
#[component]
pub fn Options() -> impl IntoView {
    let desk = Desk::here();
    let paper = move || desk.form.with(|form| form.plan().options().paper);
    let projection = move || desk.form.with(|form| form.plan().options().projection);
    let papers: Vec<_> = Paper::ALL
        .into_iter()
        .map(|one| view! { <option value=one.key() selected=move || paper() == one>{paper_name(one)}</option> })
        .collect();
    let views = [(Projection::First, "first angle"), (Projection::Third, "third angle")];
    let views: Vec<_> = views
        .into_iter()
        .map(|(one, words)| {
            view! {
                <label>
                    <input
                        type="radio"
                        name="projection"
                        prop:checked=move || projection() == one
                        on:change=move |_| choose(desk, "projection", one.key())
                    />
                    {words}
                </label>
            }
        })
        .collect();
    view! {
        <section class="passage choices" aria-labelledby="passage-book">
            <h3 id="passage-book">"The book it makes"</h3>
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
