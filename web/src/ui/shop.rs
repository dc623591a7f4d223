//! The shop view, for a phone beside the saw: one part or one step a screen, in large type.
//!
//! In: the book. Out: parts with their drawings and read-outs, steps with their figures, ticks.
//! Always true: what is ticked is kept in this browser for this plan and never changes the plan; every part and every
//! step is reached by touch, by keys and by the list; what is tapped in the read-out is lit on the drawing.

use crate::bench::{Answer, Ask};
use crate::browser::{backroom, bench_side, page};
use crate::core::{Plan, ShopBook, ShopPart, ShopSheet, ShopStep, read_chapters};
use crate::desk::{Desk, Shared};
use crate::form::Form;
use crate::ticks::{Ticks, key};
use leptos::html::Dialog;
use leptos::prelude::*;

/// Which half one looks at.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Half {
    Parts,
    Steps,
}

/// The state of the view.
#[derive(Clone, Copy)]
struct View {
    half: RwSignal<Half>,
    part: RwSignal<usize>,
    step: RwSignal<usize>,
    book: RwSignal<Option<Shared<ShopBook>>>,
    failed: RwSignal<String>,
    ticks: RwSignal<Ticks>,
    /// Whether drawings are shown so large that their smallest figure is read.
    near: RwSignal<bool>,
    /// The plan, and chapters with sheets and steps in them.
    of: StoredValue<(String, String)>,
}

impl View {
    fn count(&self) -> usize {
        self.book.with(|book| match (book, self.half.get()) {
            (None, _) => 0,
            (Some(book), Half::Parts) => book.parts.len(),
            (Some(book), Half::Steps) => book.steps.len(),
        })
    }
    fn place(&self) -> RwSignal<usize> {
        if self.half.get() == Half::Parts { self.part } else { self.step }
    }
    fn go(&self, on: bool) {
        let count = self.count();
        self.place().update(|place| {
            *place = if on { (*place + 1).min(count.saturating_sub(1)) } else { place.saturating_sub(1) };
        });
        page::to_top(".shop-screen");
    }
}

/// The button that opens it, and the view.
#[component]
pub fn Shop() -> impl IntoView {
    let desk = Desk::here();
    let dialog = NodeRef::<Dialog>::new();
    let open = RwSignal::new(false);
    let view = View {
        half: RwSignal::new(Half::Parts),
        part: RwSignal::new(0),
        step: RwSignal::new(0),
        book: RwSignal::new(None),
        failed: RwSignal::new(String::new()),
        ticks: RwSignal::new(Ticks::default()),
        near: RwSignal::new(false),
        of: StoredValue::new(Default::default()),
    };
    // Under which name ticks were kept last, and of which plan.
    let was = StoredValue::new(None::<(String, Form)>);
    let begin = move |_| {
        let plan = desk.plan.with_untracked(Plan::to_json);
        let chosen = desk.chapters.get_untracked();
        let has = read_chapters(&chosen).unwrap_or_default();
        let serves = has.contains(&"drawings") && has.contains(&"steps");
        let chapters = if serves { chosen } else { "drawings,steps".to_string() };
        view.of.set_value((plan.clone(), chapters.clone()));
        // A demo becomes a plan of its own with the first change, and takes what was ticked along.
        let (here, first) = (key(&bench_side::hash()), desk.first.get_untracked());
        let before =
            was.get_value().filter(|(_, of)| *of == first).and_then(|(name, _)| bench_side::kept(&name));
        view.ticks.set(Ticks::read(&bench_side::kept(&here).or(before).unwrap_or_default()));
        was.set_value(Some((here, first)));
        view.failed.set(String::new());
        view.book.set(None);
        open.set(true);
        bench_side::stay_on();
        if let Some(dialog) = dialog.get_untracked() {
            // Already open is as good.
            let _ = dialog.show_modal();
        }
        backroom::ask(Ask::Shop(plan, chapters), move |answer| match answer {
            Answer::Shop(book) => view.book.set(Some(Shared::new(book))),
            Answer::Failed(why) => view.failed.set(why),
            _ => view.failed.set("The parts could not be listed.".into()),
        });
    };
    let shut = move || {
        open.set(false);
        bench_side::may_go_off();
        if let Some(dialog) = dialog.get_untracked() {
            dialog.close();
        }
    };
    let seen = window_event_listener_untyped("visibilitychange", move |_| {
        if open.get_untracked() {
            bench_side::stay_on();
        }
    });
    on_cleanup(move || seen.remove());
    // Ticks are kept at once: a phone beside a saw is put away without a word.
    Effect::new(move |before: Option<()>| {
        let text = view.ticks.with(Ticks::write);
        if before.is_some() && open.get_untracked() && !bench_side::keep(&key(&bench_side::hash()), &text) {
            desk.tell(
                true,
                "What you tick is not kept: this browser allows no storage for the page, or it is full.",
                None,
            );
        }
    });
    let keys = move |event: web_sys::KeyboardEvent| {
        match event.key().as_str() {
            "ArrowRight" | "PageDown" => view.go(true),
            "ArrowLeft" | "PageUp" => view.go(false),
            _ => return,
        }
        event.prevent_default();
    };
    view! {
        <button type="button" class="to-the-bench" disabled=move || !desk.troubles().is_empty() on:click=begin>
            "Take it to the bench"
        </button>
        <dialog node_ref=dialog class="shop" aria-label="At the bench" on:close=move |_| { open.set(false); bench_side::may_go_off(); } on:keydown=keys>
            <Show when=move || open.get()>
                <header class="shop-head">
                    <fieldset class="either" aria-label="Show">
                        <label>
                            <input type="radio" name="shop-half" prop:checked=move || view.half.get() == Half::Parts on:change=move |_| view.half.set(Half::Parts)/>
                            "Parts"
                        </label>
                        <label>
                            <input type="radio" name="shop-half" prop:checked=move || view.half.get() == Half::Steps on:change=move |_| view.half.set(Half::Steps)/>
                            "Steps"
                        </label>
                    </fieldset>
                    <button type="button" on:click=move |_| shut()>"Back to the desk"</button>
                </header>
                <div class="shop-screen" tabindex="-1">
                    {move || match (view.book.get(), view.failed.get()) {
                        (_, why) if !why.is_empty() => view! { <p class="troubles">{why}</p> }.into_any(),
                        (None, _) => view! { <p class="lead" role="status">"Laying out the parts …"</p> }.into_any(),
                        (Some(book), _) => view! { <Screen book view/> }.into_any(),
                    }}
                </div>
                <nav class="shop-foot" aria-label="From one to the next">
                    <button type="button" disabled=move || view.place().get() == 0 on:click=move |_| view.go(false)>"Before"</button>
                    <Done view/>
                    <button type="button" disabled=move || { view.place().get() + 1 >= view.count() } on:click=move |_| view.go(true)>"Next"</button>
                </nav>
            </Show>
        </dialog>
    }
}

/// How far one is: a bar with words.
#[component]
fn Done(view: View) -> impl IntoView {
    let far = move || {
        let (half, ticks) = (view.half.get(), view.ticks.get());
        view.book.with(|book| match (book, half) {
            (None, _) => (0, 0),
            (Some(book), Half::Parts) => {
                let cut = book.parts.iter().map(|part| ticks.cut(&part.id).min(part.count)).sum::<usize>();
                (cut, book.parts.iter().map(|part| part.count).sum())
            }
            (Some(book), Half::Steps) => {
                (book.steps.iter().filter(|step| ticks.done(&step.id)).count(), book.steps.len())
            }
        })
    };
    let words = move || {
        let (done, all) = far();
        let what = if view.half.get() == Half::Parts { "pieces cut" } else { "steps done" };
        format!("{done} of {all} {what}")
    };
    view! {
        <div class="far">
            <progress aria-label=words max=move || far().1.max(1).to_string() prop:value=move || far().0 as f64></progress>
            <span data-say="done">{words}</span>
        </div>
    }
}

#[component]
fn Screen(book: Shared<ShopBook>, view: View) -> impl IntoView {
    move || match view.half.get() {
        Half::Parts => match book.parts.get(view.part.get()).cloned() {
            Some(part) => view! { <Part part book=book.clone() view/> }.into_any(),
            None => view! { <p class="lead">"This table has no parts to cut."</p> }.into_any(),
        },
        Half::Steps => match book.steps.get(view.step.get()).cloned() {
            Some(step) => view! { <Step step book=book.clone() view/> }.into_any(),
            None => view! { <p class="lead">"All steps are hidden."</p> }.into_any(),
        },
    }
}

#[component]
fn Part(part: ShopPart, book: Shared<ShopBook>, view: View) -> impl IntoView {
    let sheets = RwSignal::new(None::<Vec<ShopSheet>>);
    let lit = RwSignal::new(String::new());
    let (plan, chapters) = view.of.get_value();
    backroom::ask(Ask::ShopSheets(plan, chapters, part.id.clone()), move |answer| {
        if let Answer::ShopSheets(found) = answer {
            sheets.try_set(Some(found));
        }
    });
    Effect::new(move |_| {
        let id = lit.get();
        sheets.track();
        view.near.track();
        request_animation_frame(move || page::light_reading(&id));
    });
    let (count, here) = (part.count, view.part);
    let named = StoredValue::new(book.clone());
    let (id, print) = (StoredValue::new(part.id.clone()), StoredValue::new(part.print.clone()));
    let cut = move || view.ticks.with(|ticks| ticks.cut(&id.get_value()));
    let others = move || view.ticks.with(|ticks| ticks.cut_to_others(&id.get_value(), &print.get_value()));
    let step = move |more: bool| {
        view.ticks.update(|ticks| ticks.count(&id.get_value(), more, count, &print.get_value()))
    };
    let options: Vec<_> = book
        .parts
        .iter()
        .enumerate()
        .map(|(place, one)| {
            let (one, name) = (one.clone(), one.name.clone());
            let words = move || {
                let done = view.ticks.with(|ticks| ticks.cut(&one.id)) >= one.count;
                format!("{}{name} ({})", if done { "✓ " } else { "" }, one.count)
            };
            view! { <option value=place selected=move || here.get() == place>{words}</option> }
        })
        .collect();
    let drawings = move || match sheets.get() {
        None => view! { <p class="lead" role="status">"Drawing it …"</p> }.into_any(),
        Some(found) => {
            let sheet = |sheet: ShopSheet| {
                let readings: Vec<_> = sheet.readings.into_iter().map(|one| {
                    let (id, mine) = (one.id.clone(), one.id.clone());
                    let what = named.with_value(|book| book.what(&one));
                    let mine = StoredValue::new(mine);
                    let on = move || lit.with(|lit| *lit == mine.get_value());
                    view! {
                        <li>
                            <button
                                type="button"
                                data-reading=one.id
                                aria-pressed=move || on().to_string()
                                on:click=move |_| lit.update(|lit| *lit = if *lit == id { String::new() } else { id.clone() })
                            >
                                <strong>{one.said}</strong> <span lang=named.with_value(|book| book.language.clone())>{what}</span>
                            </button>
                        </li>
                    }
                }).collect();
                let notes: Vec<_> = sheet.notes.into_iter().map(|note| view! { <li>{note}</li> }).collect();
                view! {
                    <div class="shop-sheet">
                        <div
                            class="shop-drawing"
                            class:near=move || view.near.get()
                            tabindex="0"
                            role="region"
                            aria-label="Drawing of the part"
                            inner_html=sheet.drawing
                        ></div>
                        <div>
                            <ul class="readings">{readings}</ul>
                            <ul class="shop-notes">{notes}</ul>
                        </div>
                    </div>
                }
            };
            found.into_iter().map(sheet).collect::<Vec<_>>().into_any()
        }
    };
    view! {
        <h2 class="shop-title">{part.name.clone()}</h2>
        <label class="shop-list"><span class="unseen">"Part"</span>
            <select on:change:target=move |event| if let Ok(place) = event.target().value().parse() { here.set(place) }>{options}</select>
        </label>
        <div class="cut" role="group" aria-label="Pieces cut">
            <button type="button" aria-label="One piece fewer is cut" disabled=move || cut() == 0 on:click=move |_| step(false)>"−"</button>
            <p role="status" data-say="cut"><strong>{cut}</strong> {format!(" of {count} cut")}</p>
            <button type="button" aria-label="One more piece is cut" disabled=move || { cut() >= count } on:click=move |_| step(true)>"+"</button>
        </div>
        <Show when=others>
            <div class="older">
                <p>"The pieces counted here were cut to other sizes than these. Measure one before you go on."</p>
                <button type="button" on:click=move |_| view.ticks.update(|ticks| ticks.serve(&id.get_value(), &print.get_value()))>"They serve"</button>
            </div>
        </Show>
        <button
            type="button"
            class="shop-nearer"
            aria-pressed=move || view.near.get().to_string()
            on:click=move |_| view.near.update(|near| *near = !*near)
        >{move || if view.near.get() { "Show the whole sheet" } else { "Show it nearer" }}</button>
        {drawings}
    }
}

#[component]
fn Step(step: ShopStep, book: Shared<ShopBook>, view: View) -> impl IntoView {
    let here = view.step;
    let id = StoredValue::new(step.id.clone());
    let done = move || view.ticks.with(|ticks| ticks.done(&id.get_value()));
    let options: Vec<_> = book
        .steps
        .iter()
        .enumerate()
        .map(|(place, one)| {
            let (one, title) = (one.id.clone(), format!("{} {}", one.number, one.title));
            let words = move || {
                format!("{}{title}", if view.ticks.with(|ticks| ticks.done(&one)) { "✓ " } else { "" })
            };
            view! { <option value=place selected=move || here.get() == place>{words}</option> }
        })
        .collect();
    let list = |title: &'static str, class: &'static str, all: Vec<String>| {
        (!all.is_empty()).then(|| {
            let items: Vec<_> = all.into_iter().map(|one| view! { <li>{one}</li> }).collect();
            view! { <section class=class><h3>{title}</h3><ul>{items}</ul></section> }
        })
    };
    let pieces = step.pieces.iter().map(|(name, count)| format!("{count} × {name}")).collect();
    let paragraphs: Vec<_> = step.text.iter().map(|text| view! { <p>{text.clone()}</p> }).collect();
    view! {
        <h2 class="shop-title">{format!("{}  {}", step.number, step.title)}</h2>
        <label class="shop-list"><span class="unseen">"Step"</span>
            <select on:change:target=move |event| if let Ok(place) = event.target().value().parse() { here.set(place) }>{options}</select>
        </label>
        <label class="step-done">
            <input
                type="checkbox"
                prop:checked=done
                on:change:target=move |event| {
                    let on = event.target().checked();
                    view.ticks.update(|ticks| ticks.tick(&id.get_value(), on));
                }
            />
            {if step.time.is_empty() { "Done".to_string() } else { format!("Done (about {})", step.time) }}
        </label>
        {list("Mind", "cautions", step.cautions.clone())}
        {step.figure.clone().map(|figure| view! { <div class="shop-drawing" inner_html=figure></div> })}
        <div class="shop-words">{paragraphs}</div>
        {list("Take", "take", pieces)}
        {list("Set", "set", step.settings.clone())}
        {list("Before you go on", "go-on", step.checks.clone())}
    }
}
