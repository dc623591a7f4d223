//! The app's root: the start page, the bench with the book, and what stands above both.
//!
//! In: nothing. Out: the whole page.
//! Always true: the bench is made with the first plan laid on it and stays, out of sight while the start page shows.

use super::{
    bar, before, checks, drawing, drop, newer, notices, numbers, options, pages, sizes, start, steps,
    strength, turner,
};
use super::{compare, fetch, offer, own, questions, revisions};
use crate::browser::address;
use crate::core::Plan;
use crate::desk::Desk;
use crate::form::Form;
use crate::keeper::Keeper;
use crate::kept::Work;
use crate::place::Place;
use crate::shelf::called;
use leptos::prelude::*;

/// The whole app.
#[component]
pub fn App() -> impl IntoView {
    let desk = Desk::lay(Work { form: Form::new(Plan::default_metric()), share: 0.0 });
    let keeper = Keeper::begin(desk);
    let at_start = Memo::new(move |_| keeper.place.get() == Some(Place::Start));
    let ever = Memo::new(move |before: Option<&bool>| before == Some(&true) || desk.at_work.get());
    name_the_tab(desk);
    lead_the_focus(keeper);
    fetch::Opening::provide();
    // Of a plan for buyers only what it offers is shown.
    let makes = Memo::new(move |_| desk.plan.with(|plan| plan.offer().is_none()));
    view! {
        <a class="skip" href=move || if at_start.get() { "#new-table" } else { "#sizes" }>
            {move || if at_start.get() { "To the new table" } else { "To the sizes" }}
        </a>
        <bar::Bar/>
        <fetch::Fetch/>
        <newer::Newer/>
        <notices::Notices/>
        <Show when=move || keeper.place.with(Option::is_none)>
            <p class="opening" role="status">"Opening your plans …"</p>
        </Show>
        <Show when=move || at_start.get()>
            <start::Start/>
        </Show>
        <Show when=move || ever.get()>
            <main class="book" id="work" tabindex="-1" hidden=move || !desk.at_work.get()>
                <section class="spread" aria-label="The table and its sizes">
                    <div class="leaf-page">
                        <div class="stay">
                            <drawing::Drawing/>
                            <turner::Turner/>
                            <before::Before/>
                        </div>
                    </div>
                    <div class="leaf-page" id="sizes">
                        <Show when=move || makes.get() fallback=own::Own>
                            <sizes::Sizes/>
                            <options::Options/>
                        </Show>
                    </div>
                </section>
                <section class="spread" aria-label="Checks and numbers">
                    <div class="leaf-page" id="checks">
                        <checks::Checks/>
                    </div>
                    <div class="leaf-page" id="numbers">
                        <strength::Strengths/>
                        <numbers::Numbers/>
                    </div>
                </section>
                <Show when=move || makes.get()>
                <section class="spread whole" id="steps" aria-label="Build steps">
                    <div class="leaf-page">
                        <steps::Steps/>
                    </div>
                </section>
                </Show>
                <section class="spread whole" id="book" aria-label="The book">
                    <div class="leaf-page">
                        <pages::Pages/>
                    </div>
                </section>
                <Show when=move || makes.get()>
                    <section class="spread" id="revisions" aria-label="Revisions and questions">
                        <div class="leaf-page"><revisions::Revisions/></div>
                        <div class="leaf-page"><questions::Questions/></div>
                    </section>
                    <section class="spread whole" id="changes" aria-label="What changed">
                        <div class="leaf-page"><compare::Compare/></div>
                    </section>
                    <section class="spread whole" id="buyers" aria-label="A plan for buyers">
                        <div class="leaf-page"><offer::Offer/></div>
                    </section>
                </Show>
            </main>
            <nav class="tabs" aria-label="Parts of the page" hidden=move || !desk.at_work.get()>
                <a href="#sizes">"Sizes"</a>
                <a href="#checks">"Checks"</a>
                <a href="#numbers">"Numbers"</a>
                <Show when=move || makes.get()><a href="#steps">"Steps"</a></Show>
                <a href="#book">"Book"</a>
                <Show when=move || makes.get()><a href="#revisions">"Buyers"</a></Show>
            </nav>
        </Show>
        <drop::Drop/>
    }
}

/// The tab is called as the plan is.
fn name_the_tab(desk: Desk) {
    let name = Memo::new(move |_| {
        let title = desk.form.with(|form| form.plan().texts().title.clone());
        desk.at_work.get().then(|| format!("{} – Turnleaf", called(&title)))
    });
    Effect::new(move |_| {
        if let Some(name) = name.get() {
            address::title(&name);
        }
    });
}

/// Whoever goes to another place begins at its top; the first place is where the browser puts one.
fn lead_the_focus(keeper: Keeper) {
    let start =
        Memo::new(move |_| keeper.place.with(|place| place.as_ref().map(|place| *place == Place::Start)));
    Effect::new(move |before: Option<Option<bool>>| {
        let now = start.get();
        if before.flatten().is_some() && now.is_some() && before.flatten() != now {
            let heading = if now == Some(true) { "start-heading" } else { "work" };
            request_animation_frame(move || address::to_heading(heading));
        }
        now
    });
}
