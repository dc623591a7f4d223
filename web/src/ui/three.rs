//! A new plan from three answers.
//!
//! In: how wide closed, how wide open, how many sit at it. Out: the plan, opened; or why there is none and what would do.
//! Always true: the answers are kept as typed, over a reload too; what is offered instead was tried.

use crate::bench::{Answer, Ask, Room};
use crate::browser::{backroom, page, store};
use crate::core::{Answers, NoTable, Plan};
use crate::desk::Desk;
use crate::form::{Form, brief};
use crate::keeper::Keeper;
use crate::kept::Work;
use crate::place::Place;
use leptos::prelude::*;
use leptos::task::spawn_local;

/// Where answers lie until a plan is made of them.
const KEPT: &str = "turnleaf/answers";

/// How the search stands.
#[derive(Clone, PartialEq)]
enum Search {
    Idle,
    Looking,
    Stopped,
    None(NoTable),
    Failed(String),
}

/// The three questions.
#[component]
pub fn Three() -> impl IntoView {
    let (desk, keeper) = (Desk::here(), Keeper::here());
    let kept = store::get(KEPT).and_then(|text| serde_json::from_str(&text).ok());
    let answers = RwSignal::new(kept.unwrap_or_else(|| Answers::usual(false)));
    let search = RwSignal::new(Search::Idle);
    Effect::new(move |before: Option<()>| {
        let text = answers.with(|answers| serde_json::to_string(answers).unwrap_or_default());
        if before.is_some() {
            // Refused only where nothing can be kept, which the page says anyway.
            let _ = store::put(KEPT, &text);
            search.set(Search::Idle);
        }
    });
    let look = move || {
        search.set(Search::Looking);
        backroom::ask(Ask::Begin(answers.get_untracked()), move |answer| match answer {
            Answer::Begun(Ok(found)) => {
                let Ok((plan, _)) = Plan::parse_known(found.plan.as_bytes()) else {
                    let _ =
                        search.try_set(Search::Failed("The plan that was found could not be read.".into()));
                    return;
                };
                store::remove(KEPT);
                let _ = search.try_set(Search::Idle);
                spawn_local(async move {
                    keeper.add(Work { form: Form::new(plan), share: 0.0 }, "").await;
                    desk.tell(false, found.sentence, None);
                });
            }
            Answer::Begun(Err(no)) => drop(search.try_set(Search::None(no))),
            Answer::Failed(sentence) => drop(search.try_set(Search::Failed(sentence))),
            _ => drop(search.try_set(Search::Failed("The answer went astray; try again.".into()))),
        });
    };
    let stop = move || {
        if backroom::give_up(Room::Checks, |ask| matches!(ask, Ask::Begin(_))) {
            search.set(Search::Stopped);
            page::focus_soon("work-out");
        }
    };
    let submit = move |event: web_sys::SubmitEvent| {
        event.prevent_default();
        look();
    };
    let units = move |inches: bool| {
        // Answers nobody has touched are asked in the unit one reads in.
        let untouched = answers.with_untracked(|now| *now == Answers::usual(now.inches));
        answers.update(|now| {
            if untouched {
                *now = Answers::usual(inches);
            }
            now.inches = inches;
        });
    };
    view! {
        <form class="three" on:submit=submit aria-labelledby="new-table">
            <h2 id="new-table" tabindex="-1">"A new table from three answers"</h2>
            <p class="said">
                "Closed, it is "<Box answers which="closed" name="Diameter when closed"/>" across. Open, it is "
                <Box answers which="open" name="Diameter when open"/>" across, and "
                <Box answers which="seats" name="How many sit at it when open"/>" people sit at it."
            </p>
            <div class="choices">
                <div class="row">
                    <span id="answers-unit">"Numbers without a unit are"</span>
                    <fieldset class="either" aria-labelledby="answers-unit">
                        <label>
                            <input type="radio" name="answers-unit" prop:checked=move || !answers.with(|now| now.inches) on:change=move |_| units(false)/>
                            "mm"
                        </label>
                        <label>
                            <input type="radio" name="answers-unit" prop:checked=move || answers.with(|now| now.inches) on:change=move |_| units(true)/>
                            "inches"
                        </label>
                    </fieldset>
                </div>
                <div class="row">
                    <button type="submit" class="main" id="work-out" disabled=move || search.get() == Search::Looking>"Work out the table"</button>
                    <a class="button" href=Place::Usual.hash()>"Take the usual table and change it by hand"</a>
                </div>
            </div>
            <div role="status" data-say="search">{move || outcome(&search.get(), answers, look)}</div>
            <Show when=move || search.get() == Search::Looking>
                <button type="button" on:click=move |_| stop()>"Stop looking"</button>
            </Show>
        </form>
    }
}

fn outcome(search: &Search, answers: RwSignal<Answers>, look: impl Fn() + Copy + 'static) -> AnyView {
    match search {
        Search::Idle => ().into_any(),
        Search::Looking => view! {
            <p class="lead">"Looking for sizes that work and proving them over the whole turn. This may take some seconds …"</p>
        }
        .into_any(),
        Search::Stopped => view! {
            <p class="lead">"The search was stopped; your answers are as they were."</p>
        }
        .into_any(),
        Search::Failed(sentence) => view! {
            <p class="wrong">{sentence.clone()}</p>
            <button type="button" on:click=move |_| look()>"Try again"</button>
        }
        .into_any(),
        Search::None(no) => {
            let offers: Vec<_> = no
                .nearest
                .iter()
                .cloned()
                .map(|(sentence, near)| view! {
                    <li>
                        <span>{sentence}</span>
                        <button type="button" on:click=move |_| answers.set(near.clone())>"Take these answers"</button>
                    </li>
                })
                .collect();
            // Answers that cannot be read were never searched with.
            let read = ["closed", "open", "seats"].iter().all(|which| answers.with(|now| now.understood(which)).is_ok());
            let lead = if !read {
                ""
            } else if offers.is_empty() { "Nothing near these answers was found either." } else { "Near these answers, this works:" };
            view! {
                <p class="wrong">{no.sentence.clone()}</p>
                <p>{lead}</p>
                <ul class="changes">{offers}</ul>
            }
            .into_any()
        }
    }
}

/// One answer within the sentence.
#[component]
fn Box(answers: RwSignal<Answers>, which: &'static str, name: &'static str) -> impl IntoView {
    let text = move || answers.with(|now| now.text(which).to_string());
    let said = Memo::new(move |_| answers.with(|now| now.understood(which)));
    let under = move || match said.get() {
        Ok(understood) if which == "seats" => {
            if understood == text().trim() {
                String::new()
            } else {
                understood
            }
        }
        Ok(understood) => brief(&text(), &understood),
        Err(_) => "cannot be used".into(),
    };
    let id = format!("answer-{which}");
    let note = format!("{id}-understood");
    let why = move || said.get().err().map(|why| format!("{} {}", why.sentence, why.hint).trim().to_string());
    let width = move || text().chars().count().clamp(2, 20) + 1;
    view! {
        <span class="tag">
            <input
                id=id
                type="text"
                autocomplete="off"
                autocapitalize="off"
                spellcheck="false"
                aria-label=name
                aria-describedby=note.clone()
                aria-invalid=move || if said.get().is_err() { "true" } else { "false" }
                size=width
                prop:value=text
                on:input:target=move |event| answers.update(|now| now.set(which, event.target().value()))
            />
            <span class="understood" id=note title=why>{under}</span>
        </span>
    }
}
