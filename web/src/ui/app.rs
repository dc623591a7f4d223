//! The app's root: the start page, the bench with the book, and what stands above both.
//!
//! In: nothing. Out: the whole page.
//! Always true: the bench is made with the first plan laid on it and stays, out of sight while the start page shows.

use super::{
    bar, before, checks, drawing, drop, newer, notices, numbers, options, pages, sizes, space, start, steps,
    strength, turner, typed,
};
use super::{compare, copies, fetch, offer, own, part, questions, revisions};
use crate::browser::{address, page};
use crate::core::Plan;
use crate::desk::{Desk, Proved};
use crate::form::Form;
use crate::keeper::Keeper;
use crate::kept::Work;
use crate::place::Place;
use crate::revising::counted;
use crate::shelf::called;
use leptos::prelude::*;
use wasm_bindgen::JsCast;

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
    part::Parts::provide(keeper);
    open_for_links();
    // How each part stands, said while it is folded.
    let checked: Signal<String> = checks::verdict_line(desk).into();
    let amiss = Signal::derive(move || checks::wants_looking(desk));
    let steps = Signal::derive(move || match desk.proved.get() {
        Proved::Done(found) => {
            counted(found.steps.iter().filter(|s| s.number.is_some()).count(), "step", "steps")
        }
        _ => String::new(),
    });
    let pages = Signal::derive(move || {
        desk.book.with(|book| {
            book.as_ref().map_or(String::new(), |book| counted(book.pages.len(), "page", "pages"))
        })
    });
    let revised = Signal::derive(move || match keeper.older_copies() {
        0 => desk.plan.with(crate::revising::standing),
        older => format!(
            "{}, {} to tell",
            desk.plan.with(crate::revising::standing),
            counted(older, "buyer", "buyers")
        ),
    });
    let changes = Signal::derive(|| "two revisions side by side, and which cut parts serve".to_string());
    let offers = Signal::derive(|| "a file in which only what you offer can be changed".to_string());
    // Where one stands stays when another table is laid on the desk.
    let standing = space::Standing::at_first();
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
                            <drawing::Drawing standing/>
                            <turner::Turner/>
                            <Show when=move || desk.space.get()>
                                <space::Choices standing/>
                            </Show>
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
                <part::Every/>
                <part::Part part="proof" id="proof" title="Checks and numbers" says=checked bad=amiss>
                    <div class="leaf-page" id="checks">
                        <checks::Checks/>
                    </div>
                    <div class="leaf-page" id="numbers">
                        <strength::Strengths/>
                        <numbers::Numbers/>
                    </div>
                </part::Part>
                <Show when=move || makes.get()>
                    <part::Part part="steps" id="steps" title="Build steps" says=steps whole=true>
                        <div class="leaf-page"><steps::Steps/></div>
                    </part::Part>
                </Show>
                <part::Part part="book" id="book" title="The book" says=pages whole=true>
                    <div class="leaf-page"><pages::Pages/></div>
                </part::Part>
                <Show when=move || makes.get()>
                    <part::Part part="revisions" id="revisions" title="Revisions and questions" says=revised>
                        <div class="leaf-page"><revisions::Revisions/></div>
                        <div class="leaf-page"><questions::Questions/></div>
                        <div class="leaf-page across" id="copies"><copies::Copies/></div>
                    </part::Part>
                    <part::Part part="changes" id="changes" title="What changed" says=changes whole=true>
                        <div class="leaf-page"><compare::Compare/></div>
                    </part::Part>
                    <part::Part part="buyers" id="buyers" title="A plan for buyers" says=offers whole=true>
                        <div class="leaf-page"><offer::Offer/></div>
                    </part::Part>
                </Show>
            </main>
            <typed::Forms/>
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

/// A link to a place in a folded part opens the part.
fn open_for_links() {
    let pressed = window_event_listener(leptos::ev::click, move |event| {
        let at = event.target().and_then(|at| at.dyn_into::<web_sys::Element>().ok());
        let link = at.and_then(|at| at.closest("a[href^=\"#\"]").ok().flatten());
        if let Some(id) = link.and_then(|link| link.get_attribute("href")) {
            page::reveal(id.trim_start_matches('#'));
        }
    });
    on_cleanup(move || pressed.remove());
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
