//! Choices that are not sizes: units, drive, paper, projection, language, rounding, chapters, stock.
//!
//! In: the form. Out: choices.
//! Always true: changing the unit changes no size: numbers typed without a unit get the old one written behind them.

use super::{chapters, stock};
use crate::core::{Choice, Drive, Language, Paper, PrintChoice, Projection};
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
    let language = move || desk.form.with(|form| form.plan().options().language);
    let languages = either("language", [(Language::En, "English"), (Language::De, "German")], language);
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
            <div class="row">
                <span id="language-name">"Written in"</span>
                <fieldset class="either" aria-labelledby="language-name">{languages}</fieldset>
            </div>
            <Rounding/>
            <chapters::ChaptersChoice/>
        </section>
        <stock::OnHand/>
        <stock::Measured/>
    }
}

/// How finely numbers are printed, in the units that are printed at all.
#[component]
fn Rounding() -> impl IntoView {
    let desk = Desk::here();
    let word = move |key: &'static str| desk.form.with(|form| form.plan().options().word(key));
    let units = move || desk.form.with(|form| form.plan().options().print.units);
    let select = move |key: &'static str,
                       id: &'static str,
                       offers: &'static [(&'static str, &'static str)]| {
        let own = move || {
            let now = word(key);
            (!offers.iter().any(|(one, _)| *one == now))
                .then(|| view! { <option value=now.clone() selected=true>{now.clone()}</option> })
        };
        view! {
            <select id=id on:change:target=move |event| choose(desk, key, &event.target().value())>
                {offers.iter().map(|(one, words)| view! { <option value=*one selected=move || word(key) == *one>{*words}</option> }).collect::<Vec<_>>()}
                {own}
            </select>
        }
    };
    view! {
        <Show when=move || units() != PrintChoice::Inch>
            <div class="row">
                <label for="mm-step">"Millimetres to"</label>
                {select("print.mm_step", "mm-step", &[
                    ("1 mm", "whole millimetres"),
                    ("0.5 mm", "half millimetres"),
                    ("0.1 mm", "tenths"),
                    ("0.05 mm", "twentieths"),
                    ("0.01 mm", "hundredths"),
                ])}
            </div>
        </Show>
        <Show when=move || units() != PrintChoice::Mm>
            <div class="row">
                <label for="inch-denominator">"Inches to"</label>
                {select("print.inch_denominator", "inch-denominator", &[("16", "sixteenths"), ("32", "32nds"), ("64", "64ths")])}
                <label for="inch-feet">"and long ones in"</label>
                {select("print.feet", "inch-feet", &[("false", "inches"), ("true", "feet and inches")])}
            </div>
        </Show>
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

/// A paper as people call it.
pub fn paper_name(paper: Paper) -> &'static str {
    match paper {
        Paper::A4 => "A4",
        Paper::A3 => "A3",
        Paper::A2 => "A2",
        Paper::Letter => "Letter",
        Paper::Tabloid => "Tabloid, 11 × 17 in",
        Paper::ArchC => "Arch C, 18 × 24 in",
    }
}
