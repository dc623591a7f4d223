//! The checks in plain words, each with what is left before it fails.
//!
//! In: what was found, or what is at odds. Out: the lists; a press leads to the turn at which a check is tightest.
//! Always true: whether a check holds is said in words and by a mark, never by colour alone.

use super::{marks, mends};
use crate::core::{Check, Diagnostic, Severity};
use crate::desk::{Desk, Proved};
use crate::sorted::{sort, verdict};
use leptos::prelude::*;

/// How the checks stand, in one sentence.
pub fn verdict_line(desk: Desk) -> Memo<String> {
    Memo::new(move |_| match desk.proved.get() {
        _ if !desk.troubles().is_empty() => "These sizes give no table that works.".to_string(),
        Proved::Failed(sentence) => sentence,
        Proved::Waiting => "Checking the whole turn …".into(),
        Proved::Done(found) => verdict(&found.checks),
    })
}

/// Whether sizes are at odds or a check fails.
pub fn wants_looking(desk: Desk) -> bool {
    !desk.troubles().is_empty()
        || match desk.proved.get() {
            Proved::Done(found) => found.checks.iter().any(|check| !check.holds),
            Proved::Failed(_) => true,
            Proved::Waiting => false,
        }
}

/// The checks.
#[component]
pub fn Checks() -> impl IntoView {
    let desk = Desk::here();
    let checks = Memo::new(move |_| match desk.proved.get() {
        Proved::Done(found) => found.checks.clone(),
        Proved::Waiting | Proved::Failed(_) => Vec::new(),
    });
    let verdict = verdict_line(desk);
    let lists = move || {
        let sorted = checks.with(|checks| sort(checks));
        let others = sorted.others.len();
        view! {
            {list("These fail", sorted.failing)}
            {list("The table as a whole", sorted.whole)}
            {list("Where pieces come closest", sorted.closest)}
            {(others > 0).then(|| view! {
                <details class="more">
                    <summary>{format!("{others} more pairs of pieces, none of them closer")}</summary>
                    {list("", sorted.others)}
                </details>
            })}
        }
    };
    view! {
        <h2>"What was checked"</h2>
        <p class="verdict" role="status" data-say="verdict">{move || verdict.get()}</p>
        <Show when=move || matches!(desk.proved.get(), Proved::Failed(_)) && desk.troubles().is_empty()>
            <button type="button" on:click=move |_| desk.again.update(|times| *times += 1)>"Try again"</button>
        </Show>
        {move || troubles(&desk.troubles())}
        {lists}
    }
}

/// What is at odds, and what would mend it.
fn troubles(found: &[Diagnostic]) -> impl IntoView + use<> {
    let items: Vec<_> = found
        .iter()
        .map(|trouble| {
            let mild = trouble.severity != Severity::Error;
            view! { <li class:mild=mild>{trouble.sentence.clone()}</li> }
        })
        .collect();
    (!items.is_empty()).then(|| view! { <ul class="troubles">{items}</ul> <mends::ForSizes/> })
}

fn list(title: &'static str, checks: Vec<Check>) -> impl IntoView {
    let none = checks.is_empty();
    let checks: Vec<_> = checks.into_iter().map(|check| view! { <One check/> }).collect();
    (!none).then(|| {
        view! {
            {(!title.is_empty()).then(|| view! { <h3>{title}</h3> })}
            <ul class="checks">{checks}</ul>
        }
    })
}

#[component]
fn One(check: Check) -> impl IntoView {
    let desk = Desk::here();
    let holds = check.holds;
    let mark = if holds { marks::holds().into_any() } else { marks::fails().into_any() };
    let text = check.text.clone();
    let pieces = check.pieces.clone();
    let show = check.at_turn.map(|turn| {
        view! {
            <button type="button" class="plain" on:click=move |_| {
                desk.playing.set(false);
                desk.turn_to(turn);
                desk.lit.set(pieces.clone());
            }>
                {format!("show it at {turn:.0}°")}
                // For those who hear the buttons one by one.
                <span class="unseen">{format!(": {text}")}</span>
            </button>
        }
    });
    view! {
        <li class:holds=holds class:fails=!holds data-check=check.id.clone()>
            {mark}
            <p><span class="unseen">{if holds { "Holds: " } else { "Fails: " }}</span>{check.text.clone()}</p>
            <div class="margin"><strong>{margin(&check)}</strong>{show}</div>
            {(!holds).then(|| view! { <mends::ForCheck id=check.id.clone()/> })}
        </li>
    }
}

/// What is left, in words.
fn margin(check: &Check) -> String {
    // Whatever prints as nothing is nothing.
    let nothing = !check.margin.contains(|c: char| ('1'..='9').contains(&c));
    match (check.holds, check.room.abs() < 0.05 || nothing) {
        (true, true) => "just as asked for".into(),
        (true, false) => format!("{} to spare", check.margin),
        (false, _) => format!("{} short", check.margin),
    }
}
