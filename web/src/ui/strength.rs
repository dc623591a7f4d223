//! How strong the table is, what it weighs and when it tips: guidance, not certification.
//!
//! In: the build. Out: what does not hold first, then everything else folded away.
//! Always true: the notice that these figures certify nothing stands above them.

use super::fold::Fold;
use super::{marks, rows};
use crate::core::{STRENGTH_NOTICE, Strength};
use crate::desk::{Desk, Proved};
use leptos::prelude::*;

/// The figures, sorted.
#[derive(Clone, Default, PartialEq)]
struct Heaps {
    /// Beyond their limits.
    weak: Vec<Strength>,
    /// Within them.
    held: Vec<Strength>,
    /// Without any.
    plain: Vec<Strength>,
}

/// The figures.
#[component]
pub fn Strengths() -> impl IntoView {
    let desk = Desk::here();
    let heaps = Memo::new(move |_| {
        let Proved::Done(found) = desk.proved.get() else { return Heaps::default() };
        let (strong, weak): (Vec<_>, Vec<_>) = found.strength.iter().cloned().partition(|f| f.holds);
        let (held, plain): (Vec<_>, Vec<_>) = strong.into_iter().partition(|f| f.limit.is_some());
        Heaps { weak, held, plain }
    });
    let there = Signal::derive(move || heaps.with(|heaps| *heaps != Heaps::default()));
    let heap =
        move |of: fn(&Heaps) -> &Vec<Strength>| Memo::new(move |_| heaps.with(|heaps| of(heaps).clone()));
    let (weak, held, plain) = (heap(|h| &h.weak), heap(|h| &h.held), heap(|h| &h.plain));
    let said = Memo::new(move |_| {
        let (weak, held) = (weak.with(Vec::len), held.with(Vec::len));
        match weak {
            0 => format!("All {held} figures with a limit keep it."),
            1 => format!("One of {} figures goes beyond its limit.", held + 1),
            n => format!("{n} of {} figures go beyond their limits.", held + n),
        }
    });
    let kept = Memo::new(move |_| format!("{} figures that keep their limits", held.with(Vec::len)));
    let others = Memo::new(move |_| {
        format!("{} weights, movements and other figures without a limit", plain.with(Vec::len))
    });
    view! {
        <h2>"How strong it is"</h2>
        <p class="lead">{STRENGTH_NOTICE}</p>
        <div data-say="strength">
            <Show when=move || there.get()>
                <p class="verdict">{move || said.get()}</p>
            </Show>
            <Fold
                summary="What goes beyond its limit, and what helps"
                there=Signal::derive(move || weak.with(|weak| !weak.is_empty()))
            >
                <Rows figures=weak/>
            </Fold>
            <Fold summary=kept there><Rows figures=held/></Fold>
            <Fold summary=others there><Rows figures=plain/></Fold>
        </div>
    }
}

/// A row a figure; of one that stands in the list again only the words that changed are written anew.
#[component]
fn Rows(figures: Memo<Vec<Strength>>) -> impl IntoView {
    view! {
        <ul class="checks">
            <For each=move || figures.get() key=|figure| figure.id.clone() let(figure)>
                <One figure figures/>
            </For>
        </ul>
    }
}

#[component]
fn One(figure: Strength, figures: Memo<Vec<Strength>>) -> impl IntoView {
    let (id, holds) = (figure.id.clone(), figure.holds);
    let mark = if holds { marks::holds().into_any() } else { marks::fails().into_any() };
    let now = rows::now(figures, figure, |figure| &figure.id);
    let word = move |of: fn(&Strength) -> String| {
        let word = Memo::new(move |_| now.with(of));
        move || word.get()
    };
    let against = |figure: &Strength| match (&figure.limit, figure.holds) {
        (Some(limit), true) => format!(", within {limit}"),
        (Some(limit), false) => format!(", and {limit} is as far as it should go"),
        (None, _) => String::new(),
    };
    view! {
        <li class:holds=holds class:fails=!holds data-figure=id>
            {mark}
            <p>
                <span class="unseen">{if holds { "Holds: " } else { "Does not hold: " }}</span>
                {word(|figure| figure.label.clone())} ": "
                <strong>{word(|figure| figure.value.clone())}</strong> {word(against)} "."
            </p>
            <div class="margin">
                <span>{word(|figure| figure.guidance.clone())}</span>
                <small>{word(|figure| figure.rule.clone())}</small>
            </div>
        </li>
    }
}
