//! The start page: all plans, a new table, the demos.
//!
//! In: what is kept. Out: the page, and ways to each plan.
//! Always true: nothing is taken away without a way back; a plan is named by more than its picture.

use super::{glimpse::Glimpse, marks, three};
use crate::browser::{address, backroom, files};
use crate::core::{DEMOS, Plan};
use crate::desk::Desk;
use crate::keeper::{Keeper, Lasting};
use crate::place::Place;
use crate::shelf::{Aside, Card, called, says, size_words, write_all};
use leptos::prelude::*;
use leptos::task::spawn_local;
use std::time::Duration;

/// Cards that get a picture; more would keep the worker from other work for long.
const PICTURES: usize = 12;

/// How long after the page the program of checks is fetched, unless something is asked of it before.
const LATER: Duration = Duration::from_secs(2);

/// The page.
#[component]
pub fn Start() -> impl IntoView {
    let keeper = Keeper::here();
    set_timeout(backroom::open, LATER);
    let some = Memo::new(move |_| keeper.cards.with(|cards| !cards.is_empty()));
    view! {
        <main class="book start" id="start">
            <h2 class="start-heading" id="start-heading" tabindex="-1">
                {move || if some.get() { "Your plans" } else { "Plans for round tables that open as they turn" }}
            </h2>
            <Show when=move || !some.get()>
                <p class="lead welcome">
                    "Turn the top: sectors slide out, leaves rise between them, and a star rises in the middle. Say how large and for how many, and Turnleaf works out sizes that are proved to move, checks them over the whole turn, and lays them out as a book of plans. Everything happens in this browser; nothing is sent anywhere."
                </p>
            </Show>
            <Show when=move || some.get()>
                <section class="spread whole" aria-label="Your plans">
                    <div class="leaf-page"><Shelf/></div>
                </section>
            </Show>
            <section class="spread" aria-label="Begin">
                <div class="leaf-page"><three::Three/></div>
                <div class="leaf-page"><Demos/></div>
            </section>
            <Show when=move || keeper.asides.with(|asides| !asides.is_empty())>
                <section class="spread whole" aria-label="Put aside">
                    <div class="leaf-page"><Asides/></div>
                </section>
            </Show>
            <footer class="start-foot">
                <p>{move || lasting(keeper.lasting.get())}</p>
                <p data-say="version">{version()}</p>
            </footer>
        </main>
    }
}

/// What the browser promised, in plain words.
pub fn lasting(lasting: Lasting) -> &'static str {
    match lasting {
        Lasting::Unknown => "Plans are kept in this browser, on this machine only.",
        Lasting::Promised => {
            "Plans are kept in this browser, on this machine only, and it has promised not to clear them by itself."
        }
        Lasting::Refused => {
            "Plans are kept in this browser, on this machine only. It may clear them when the disk runs full: put all plans into one file now and then."
        }
    }
}

/// Which version this is.
fn version() -> String {
    let build = address::build().map_or(String::new(), |build| format!(", build {build}"));
    format!("Turnleaf {}{build}.", env!("CARGO_PKG_VERSION"))
}

/// The plans, the one changed last first.
#[component]
fn Shelf() -> impl IntoView {
    let (desk, keeper) = (Desk::here(), Keeper::here());
    let all = move |_| {
        spawn_local(async move {
            let (plans, asides) = keeper.everything().await;
            let today = address::date(crate::browser::js::now());
            let name = files::file_name(
                &format!("turnleaf plans {}", today.split(',').next().unwrap_or("")),
                ".json",
            );
            match files::save(&name, "application/json", write_all(&plans, &asides).as_bytes()) {
                Ok(()) => {
                    let said = match plans.len() {
                        1 => format!("Your plan is in {name}. “Open a plan” reads it again."),
                        many => format!("All {many} plans are in {name}. “Open a plan” reads it again."),
                    };
                    let lists = if plans.iter().any(|one| one.2.is_some()) {
                        " Who has a copy of them is in it too: it is for yourself alone."
                    } else {
                        ""
                    };
                    desk.tell(false, said + lists, None);
                }
                Err(sentence) => desk.tell(true, sentence, None),
            }
        });
    };
    // A card is made anew when its plan was written, and keeps its place in the list by name.
    let cards = move || keeper.cards.get().into_iter().enumerate().collect::<Vec<_>>();
    view! {
        <ul class="plan-cards">
            <For each=cards key=|(at, card)| (card.id.clone(), card.stamp.clone(), *at < PICTURES) let((at, card))>
                <PlanCard card drawn=at < PICTURES/>
            </For>
        </ul>
        <div class="row">
            <button type="button" on:click=all>{marks::put_by()} "Put all plans into one file"</button>
        </div>
    }
}

#[component]
fn PlanCard(card: Card, drawn: bool) -> impl IntoView {
    let (desk, keeper) = (Desk::here(), Keeper::here());
    let text = RwSignal::new(None::<String>);
    let id = StoredValue::new(card.id.clone());
    let name = card.called().to_string();
    if drawn {
        spawn_local(async move {
            let found = keeper.plan_text(&id.get_value()).await;
            let _ = text.try_set(found);
        });
    }
    let save = {
        let name = name.clone();
        move |_| {
            let name = files::file_name(&name, ".turnleaf.json");
            spawn_local(async move {
                let saved = match keeper.plan_text(&id.get_value()).await {
                    Some(text) => files::save(&name, "application/json", text.as_bytes()),
                    None => Err("That plan could not be read.".to_string()),
                };
                match saved {
                    Ok(()) => desk.tell(false, format!("Saved as {name}."), None),
                    Err(sentence) => desk.tell(true, sentence, None),
                }
            });
        }
    };
    let when = format!("Changed {}, {}", address::date(card.changed), size_words(card.bytes));
    let note = (!card.note.is_empty()).then(|| view! { <p class="card-note">{card.note.clone()}</p> });
    view! {
        <li class="plan-card" data-plan=card.id.clone()>
            <Glimpse plan=text/>
            <div class="card-words">
                <h3><a href=Place::Plan(card.id.clone()).hash()>{name.clone()}</a></h3>
                <p>{card.says.clone()}</p>
                <p class="when">{when}</p>
                {note}
            </div>
            <div class="card-deeds">
                <button type="button" class="plain" aria-label=format!("Copy: {name}") on:click=move |_| spawn_local(async move { keeper.copy(&id.get_value()).await })>
                    "Copy"
                </button>
                <button type="button" class="plain" aria-label=format!("Save as a file: {name}") on:click=save>"Save as a file"</button>
                <button type="button" class="plain" aria-label=format!("Take away: {name}") on:click=move |_| spawn_local(async move { keeper.remove(&id.get_value()).await })>
                    "Take away"
                </button>
            </div>
        </li>
    }
}

/// The three demos.
#[component]
fn Demos() -> impl IntoView {
    let demos: Vec<_> = DEMOS
        .iter()
        .filter_map(|(name, text)| {
            let (plan, _) = Plan::parse_known(text.as_bytes()).ok()?;
            Some(view! {
                <li class="plan-card">
                    <Glimpse here=true plan=Signal::derive(move || Some((*text).to_string()))/>
                    <div class="card-words">
                        <h3><a href=Place::Demo((*name).into()).hash()>{called(&plan.texts().title).to_string()}</a></h3>
                        <p>{says(&plan)}</p>
                    </div>
                </li>
            })
        })
        .collect();
    view! {
        <h2>"Or look at a demo"</h2>
        <p class="lead">"Three tables of a made-up workshop. What you change in one becomes a plan of your own."</p>
        <ul class="plan-cards demos">{demos}</ul>
    }
}

/// What could not be read, so that nothing of it is lost.
#[component]
fn Asides() -> impl IntoView {
    let (desk, keeper) = (Desk::here(), Keeper::here());
    let row = move |aside: Aside| {
        let (id, text) = (aside.id.clone(), aside.text.clone());
        let save = move |_| match files::save("turnleaf-unread.txt", "text/plain", text.as_bytes()) {
            Ok(()) => desk.tell(false, "Saved as turnleaf-unread.txt.", None),
            Err(sentence) => desk.tell(true, sentence, None),
        };
        let away = move |_| {
            let id = id.clone();
            spawn_local(async move { keeper.drop_aside(&id).await });
        };
        let start: String = aside.text.chars().take(60).collect();
        view! {
            <li>
                <span>{format!("{} ({}). It begins: ", size_words(aside.text.len()), aside.why)}<code>{start}</code></span>
                <span class="row">
                    <button type="button" on:click=save>"Save it as a file"</button>
                    <button type="button" on:click=away>"Take it away for good"</button>
                </span>
            </li>
        }
    };
    view! {
        <h2>"Could not be read"</h2>
        <p class="lead">"This was kept as it was found. A newer version of Turnleaf may read it."</p>
        <ul class="changes">{move || keeper.asides.get().into_iter().map(row).collect::<Vec<_>>()}</ul>
    }
}
