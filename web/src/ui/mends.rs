//! What would mend a table, each change with a button that makes it.
//!
//! In: the state. Out: the changes; a press types one into its size.
//! Always true: every change shown was tried over the whole turn before it is shown; while the search lasts, that
//! is said.

use crate::bench::{Ask, Room};
use crate::browser::backroom;
use crate::core::{Mend, Mends, Plan};
use crate::desk::{Desk, Search};
use leptos::prelude::*;

/// For sizes that give no table.
#[component]
pub fn ForSizes() -> impl IntoView {
    let desk = Desk::here();
    let deeds = Deeds {
        stop: Callback::new(move |()| desk.stop_mends()),
        look: Callback::new(move |()| desk.look_again()),
    };
    view! {
        <div class="mends" aria-live="polite">{move || desk.mending.get().map(|found| shown(desk, found, deeds))}</div>
    }
}

/// For a check that fails: looked for when asked, since it takes a while.
#[component]
pub fn ForCheck(id: String) -> impl IntoView {
    let desk = Desk::here();
    let found = RwSignal::new(None::<Search>);
    let of_check = id.clone();
    let look = move || {
        found.set(Some(Search::Looking));
        let plan = desk.plan.with_untracked(Plan::to_json);
        // The check may be gone from the page when the answer comes; then nobody waits for it.
        backroom::ask(Ask::Mend(plan, Some(of_check.clone())), move |answer| {
            found.try_set(Some(Search::of(answer)));
        });
    };
    let stop = move || {
        backroom::give_up(Room::Checks, |ask| matches!(ask, Ask::Mend(_, Some(of)) if *of == id));
        found.set(Some(Search::Stopped));
    };
    let deeds = Deeds { stop: Callback::new(move |()| stop()), look: Callback::new(move |()| look()) };
    view! {
        <div class="mends" aria-live="polite">
            <Show when=move || found.with(Option::is_none)>
                <button type="button" class="plain" on:click=move |_| deeds.look.run(())>"What would mend it?"</button>
            </Show>
            {move || found.get().map(|found| shown(desk, found, deeds))}
        </div>
    }
}

/// What one can do about a search.
#[derive(Clone, Copy)]
struct Deeds {
    stop: Callback<()>,
    look: Callback<()>,
}

fn shown(desk: Desk, found: Search, deeds: Deeds) -> AnyView {
    match found {
        Search::Looking => view! {
            <p class="hint">"Looking for a change that mends it …"</p>
            <button type="button" class="plain" data-stop="mend" on:click=move |_| deeds.stop.run(())>"Stop looking"</button>
        }
        .into_any(),
        Search::Stopped => view! {
            <p class="hint">"The search was stopped before it found anything; your sizes are as they were."</p>
            <button type="button" class="plain" on:click=move |_| deeds.look.run(())>"Look again"</button>
        }
        .into_any(),
        Search::Failed(sentence) => view! { <p class="hint">{sentence}</p> }.into_any(),
        Search::Done(Mends { as_given, mends }) => {
            let lead = match mends.len() {
                0 => {
                    "No change of one size alone was found to mend it; change the diameters and the number of sectors together."
                }
                1 => "This mends it; it was tried over the whole turn.",
                _ => "Any one of these mends it; each was tried over the whole turn.",
            };
            let items: Vec<_> = mends.into_iter().map(|mend| view! { <li>{one(desk, mend)}</li> }).collect();
            view! {
                {as_given.map(|text| view! { <p class="as-given">"Built as given: " {text}</p> })}
                <p class="hint">{lead}</p>
                {(!items.is_empty()).then(|| view! { <ul class="changes">{items}</ul> })}
            }
            .into_any()
        }
    }
}

fn one(desk: Desk, mend: Mend) -> impl IntoView {
    let text = mend.text.clone();
    let press = mend.set.map(|(size, typed)| {
        view! {
            <button type="button" on:click=move |_| desk.take(&size, &typed)>
                "Change it"
                <span class="unseen">{format!(": {text}")}</span>
            </button>
        }
    });
    view! { <span>{mend.text}</span> {press} }
}
