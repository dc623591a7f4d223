//! The sizes as sentences, each size a place to type in.
//!
//! In: the form. Out: edits.
//! Always true: what is wrong with a size is said right below its sentence, and read out with its field.

use super::tag;
use super::typed::Wrongs;
use crate::bench::{Answer, Ask};
use crate::browser::backroom;
use crate::core::{FieldSpec, Limits, Options, Plan, field};
use crate::desk::{Desk, Proved, REST};
use crate::passages::{Bit, PASSAGES, Passage, fields_of};
use leptos::leptos_dom::helpers::TimeoutHandle;
use leptos::prelude::*;

/// All passages.
#[component]
pub fn Sizes() -> impl IntoView {
    let passages: Vec<_> = PASSAGES.iter().map(|passage| view! { <Saying passage/> }).collect();
    view! {
        <h2>"Sizes"</h2>
        <p class="lead">
            "Type over any size, in the unit you think in: "<i>"1200"</i>", "<i>"1.2 m"</i>", "<i>"47 1/4 in"</i>", "
            <i>"3'11\""</i>"."
        </p>
        <div class="words">{passages}</div>
    }
}

#[component]
fn Saying(passage: &'static Passage) -> impl IntoView {
    let touched = RwSignal::new(None::<&'static str>);
    let bits = passage.bits;
    let said = |(at, bit): (usize, &Bit)| match (*bit, at.checked_sub(1).and_then(|at| bits.get(at))) {
        // The signs that close a size stand beside its box.
        (Bit::Say(words), Some(Bit::Size(_))) => closing(words).1.into_any(),
        (Bit::Say(words), _) => words.into_any(),
        (Bit::Size(id), _) => field(id)
            .map(|field| {
                let signs = match bits.get(at + 1) {
                    Some(Bit::Say(words)) => closing(words).0,
                    _ => "",
                };
                view! { <span class="unbroken"><tag::Tag field touched/>{signs}</span> }
            })
            .into_any(),
    };
    let said: Vec<_> = bits.iter().enumerate().map(said).collect();
    let sizes: Vec<_> = fields_of(passage).collect();
    view! {
        <section class="passage" aria-labelledby=format!("passage-{}", passage.id)>
            <h3 id=format!("passage-{}", passage.id)>{passage.title}</h3>
            <p class="said">{said}</p>
            <Wrongs ids=sizes/>
            {move || touched.get().and_then(field).map(|field| view! { <Help field/> })}
        </section>
    }
}

/// The signs that close what stands before some words, since no line begins with them, and the words after them.
fn closing(words: &str) -> (&str, &str) {
    words.split_at(words.find(|c| !matches!(c, '.' | ',' | ';' | ':')).unwrap_or(words.len()))
}

/// What a size does, drawn and said; how far it may go with all others as they are, worked out when the size is
/// touched; and a tape to pull it on.
#[component]
fn Help(field: &'static FieldSpec) -> impl IntoView {
    let desk = Desk::here();
    let id = field.id;
    // The limits, and what they were found beside: they hang on all sizes but this one.
    let found = RwSignal::new(None::<((Vec<Option<String>>, Options), Option<Limits>)>);
    let waiting = StoredValue::new(None::<TimeoutHandle>);
    // Typing on puts the question off before the checks are through.
    Effect::new(move |before: Option<()>| {
        desk.followed.track();
        if before.is_some() {
            give_up_waiting(waiting);
        }
    });
    Effect::new(move |_| {
        give_up_waiting(waiting);
        let works = matches!(desk.proved.get(), Proved::Done(_));
        let beside = desk.form.with_untracked(|form| form.beside(id));
        if found.with_untracked(|found| found.as_ref().is_some_and(|(then, _)| *then == beside)) {
            return;
        }
        found.set(None);
        // Only a table that works has limits.
        if !works {
            return;
        }
        // They take a core for a while, which whoever types on needs.
        let ask = move || {
            let plan = desk.plan.with_untracked(Plan::to_json);
            backroom::ask(Ask::Limits(plan, id.to_string()), move |answer| {
                if let Answer::Limits(limits) = answer {
                    found.try_set(Some((beside, limits)));
                }
            });
        };
        waiting.set_value(set_timeout_with_handle(ask, REST).ok());
    });
    on_cleanup(move || give_up_waiting(waiting));
    let limits =
        Memo::new(move |_| found.with(|found| found.as_ref().and_then(|(_, limits)| limits.clone())));
    let reach = move || {
        limits.get().map(|Limits { least, most, .. }| {
            view! {
                <span data-limits=id>
                    {format!("With the other sizes as they are, every check holds from {least} to {most}.")}
                </span>
            }
        })
    };
    view! {
        <div class="help drawn">
            <super::glance::Glance id/>
            <p>{help(field)} " " {reach}</p>
            <super::tape::Pulled field good=Signal::derive(move || limits.get().map(|limits| limits.range))/>
        </div>
    }
}

fn give_up_waiting(waiting: StoredValue<Option<TimeoutHandle>>) {
    if let Some(Some(handle)) = waiting.try_get_value() {
        handle.clear();
    }
}

fn help(field: &FieldSpec) -> String {
    let usual = match (field.optional(), field.metric, field.inch) {
        (true, metric, inch) => format!("Left empty, it is worked out. For example {metric} or {inch}."),
        (false, metric, inch) if metric == inch => format!("Usual: {metric}."),
        (false, metric, inch) => format!("Usual: {metric} or {inch}."),
    };
    format!("{}. {} {usual}", field.label, field.help)
}
