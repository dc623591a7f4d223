//! The checks in plain words, each with what is left before it fails.
//!
//! In: the build. Out: the list; a press leads to the turn at which a check is tightest.
//! Always true: whether a check holds is said in words and by a mark, never by colour alone.

use super::marks;
use crate::core::{Check, Severity};
use crate::desk::{Desk, Proved};
use leptos::prelude::*;

/// The list.
#[component]
pub fn Checks() -> impl IntoView {
    let desk = Desk::here();
    let checks = Memo::new(move |_| match desk.proved.get() {
        Proved::Done(built) => built.checks(),
        Proved::Waiting => Vec::new(),
    });
    let troubles = move || desk.troubles();
    let verdict = Memo::new(move |_| match desk.proved.get() {
        _ if !desk.troubles().is_empty() => "These sizes give no table that works.".to_string(),
        Proved::Waiting => "Checking the whole turn …".into(),
        Proved::Done(_) => checks.with(|checks| verdict(checks)),
    });
    view! {
        <h2>"What was checked"</h2>
        <p class="verdict" role="status">{move || verdict.get()}</p>
        <ul class="troubles">
            {move || troubles().into_iter().map(|trouble| {
                let mild = trouble.severity != Severity::Error;
                view! {
                    <li class:mild=mild>
                        <p>{trouble.sentence}</p>
                        {(!trouble.hint.is_empty()).then(|| view! { <p class="hint">{trouble.hint}</p> })}
                    </li>
                }
            }).collect::<Vec<_>>()}
        </ul>
        <ul class="checks">
            {move || checks.get().into_iter().map(|check| view! { <One check/> }).collect::<Vec<_>>()}
        </ul>
    }
}

#[component]
fn One(check: Check) -> impl IntoView {
    let desk = Desk::here();
    let holds = check.holds;
    let mark = if holds { marks::holds().into_any() } else { marks::fails().into_any() };
    let show = check.at_turn.map(|turn| {
        view! {
            <button type="button" class="plain" on:click=move |_| {
                desk.playing.set(false);
                desk.turn_to(turn);
            }>{format!("tightest at {turn:.0}°: show it")}</button>
        }
    });
    view! {
        <li class:holds=holds class:fails=!holds data-check=check.id.clone()>
            {mark}
            <p><span class="unseen">{if holds { "Holds: " } else { "Fails: " }}</span>{check.text.clone()}</p>
            <div class="margin"><strong>{margin(&check)}</strong>{show}</div>
        </li>
    }
}

/// What is left, in words.
fn margin(check: &Check) -> String {
    if check.holds { format!("{} to spare", check.margin) } else { format!("{} short", check.margin) }
}

fn verdict(checks: &[Check]) -> String {
    let failing = checks.iter().filter(|check| !check.holds).count();
    match (failing, checks.len()) {
        (0, all) => format!("All {all} checks hold over the whole turn."),
        (1, all) => format!("One of {all} checks fails."),
        (failing, all) => format!("{failing} of {all} checks fail."),
    }
}
