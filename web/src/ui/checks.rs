//! The checks in plain words, each with what is left before it fails.
//!
//! In: what was found, or what is at odds. Out: the lists; a press leads to the turn at which a check is tightest.
//! Always true: whether a check holds is said in words and by a mark, never by colour alone.

use super::fold::Fold;
use super::{marks, mends, rows};
use crate::core::{Check, Diagnostic, Severity};
use crate::desk::{Desk, Proved};
use crate::sorted::{Sorted, sort, verdict};
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
    let sorted = Memo::new(move |_| match desk.proved.get() {
        Proved::Done(found) => sort(&found.checks),
        Proved::Waiting | Proved::Failed(_) => Sorted::default(),
    });
    let heap =
        move |of: fn(&Sorted) -> &Vec<Check>| Memo::new(move |_| sorted.with(|sorted| of(sorted).clone()));
    let others = heap(|sorted| &sorted.others);
    let more =
        Memo::new(move |_| format!("{} more pairs of pieces, none of them closer", others.with(Vec::len)));
    let verdict = verdict_line(desk);
    view! {
        <h2>"What was checked"</h2>
        <p class="verdict" role="status" data-say="verdict">{move || verdict.get()}</p>
        <Show when=move || matches!(desk.proved.get(), Proved::Failed(_)) && desk.troubles().is_empty()>
            <button type="button" on:click=move |_| desk.again.update(|times| *times += 1)>"Try again"</button>
        </Show>
        {move || troubles(&desk.troubles())}
        <Heap title="These fail" checks=heap(|sorted| &sorted.failing)/>
        <Heap title="The table as a whole" checks=heap(|sorted| &sorted.whole)/>
        <Heap title="Where pieces come closest" checks=heap(|sorted| &sorted.closest)/>
        <Fold summary=more there=Signal::derive(move || others.with(|others| !others.is_empty()))>
            <Rows checks=others/>
        </Fold>
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

/// A list with its heading; neither without checks.
#[component]
fn Heap(title: &'static str, checks: Memo<Vec<Check>>) -> impl IntoView {
    view! {
        <Show when=move || checks.with(|checks| !checks.is_empty())>
            <h3>{title}</h3>
            <Rows checks/>
        </Show>
    }
}

/// A row a check; of one that stands in the list again only the words that changed are written anew.
#[component]
fn Rows(checks: Memo<Vec<Check>>) -> impl IntoView {
    // What mends a check that fails hangs on its sizes: then the whole row is made anew.
    let key = |check: &Check| match check.holds {
        true => check.id.clone(),
        false => format!("{} {} {}", check.id, check.text, check.margin),
    };
    view! {
        <ul class="checks">
            <For each=move || checks.get() key let(check)>
                <One check checks/>
            </For>
        </ul>
    }
}

#[component]
fn One(check: Check, checks: Memo<Vec<Check>>) -> impl IntoView {
    let desk = Desk::here();
    let (id, holds) = (check.id.clone(), check.holds);
    let mark = if holds { marks::holds().into_any() } else { marks::fails().into_any() };
    let now = rows::now(checks, check, |check| &check.id);
    let of_check = id.clone();
    let text = Memo::new(move |_| now.with(|now| now.text.clone()));
    let left = Memo::new(move |_| now.with(margin));
    let turn = Memo::new(move |_| now.with(|now| now.at_turn.map(|turn| format!("{turn:.0}"))));
    let look = move |_| {
        let (turn, pieces) = now.with_untracked(|now| (now.at_turn, now.pieces.clone()));
        desk.playing.set(false);
        desk.turn_to(turn.unwrap_or_default());
        desk.lit.set(pieces);
    };
    view! {
        <li class:holds=holds class:fails=!holds data-check=id>
            {mark}
            <p><span class="unseen">{if holds { "Holds: " } else { "Fails: " }}</span>{move || text.get()}</p>
            <div class="margin">
                <strong>{move || left.get()}</strong>
                <Show when=move || turn.with(Option::is_some)>
                    <button type="button" class="plain" on:click=look>
                        {move || format!("show it at {}°", turn.get().unwrap_or_default())}
                        // For those who hear the buttons one by one.
                        <span class="unseen">{move || format!(": {}", text.get())}</span>
                    </button>
                </Show>
            </div>
            {(!holds).then(|| view! { <mends::ForCheck id=of_check/> })}
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
