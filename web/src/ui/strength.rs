//! How strong the table is, what it weighs and when it tips: guidance, not certification.
//!
//! In: the build. Out: what does not hold first, then everything else folded away.
//! Always true: the notice that these figures certify nothing stands above them.

use super::marks;
use crate::core::{STRENGTH_NOTICE, Strength};
use crate::desk::{Desk, Proved};
use leptos::prelude::*;

/// The figures.
#[component]
pub fn Strengths() -> impl IntoView {
    let desk = Desk::here();
    let lists = move || {
        let Proved::Done(found) = desk.proved.get() else { return None };
        let (strong, weak): (Vec<_>, Vec<_>) = found.strength.iter().cloned().partition(|f| f.holds);
        let (held, plain): (Vec<_>, Vec<_>) = strong.into_iter().partition(|f| f.limit.is_some());
        let said = match weak.len() {
            0 => format!("All {} figures with a limit keep it.", held.len()),
            1 => format!("One of {} figures goes beyond its limit.", held.len() + 1),
            n => format!("{n} of {} figures go beyond their limits.", held.len() + n),
        };
        Some(view! {
            <p class="verdict">{said}</p>
            {(!weak.is_empty()).then(|| view! {
                <details class="more">
                    <summary>"What goes beyond its limit, and what helps"</summary>
                    {list(weak)}
                </details>
            })}
            <details class="more">
                <summary>{format!("{} figures that keep their limits", held.len())}</summary>
                {list(held)}
            </details>
            <details class="more">
                <summary>{format!("{} weights, movements and other figures without a limit", plain.len())}</summary>
                {list(plain)}
            </details>
        })
    };
    view! {
        <h2>"How strong it is"</h2>
        <p class="lead">{STRENGTH_NOTICE}</p>
        <div data-say="strength">{lists}</div>
    }
}

fn list(figures: Vec<Strength>) -> impl IntoView {
    let items: Vec<_> = figures.into_iter().map(|figure| view! { <One figure/> }).collect();
    (!items.is_empty()).then(|| view! { <ul class="checks">{items}</ul> })
}

#[component]
fn One(figure: Strength) -> impl IntoView {
    let holds = figure.holds;
    let mark = if holds { marks::holds().into_any() } else { marks::fails().into_any() };
    let against = match (&figure.limit, holds) {
        (Some(limit), true) => format!(", within {limit}"),
        (Some(limit), false) => format!(", and {limit} is as far as it should go"),
        (None, _) => String::new(),
    };
    view! {
        <li class:holds=holds class:fails=!holds data-figure=figure.id.clone()>
            {mark}
            <p>
                <span class="unseen">{if holds { "Holds: " } else { "Does not hold: " }}</span>
                {figure.label.clone()} ": " <strong>{figure.value.clone()}</strong> {against} "."
            </p>
            <div class="margin">
                <span>{figure.guidance.clone()}</span>
                <small>{figure.rule.clone()}</small>
            </div>
        </li>
    }
}
