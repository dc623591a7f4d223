//! The build steps, to be read and changed.
//!
//! In: the build, the maker's changes. Out: changes.
//! Always true: everything is reached by the keyboard; a box keeps what is typed until it is left; what cannot be
//! kept, and references to values that are not there, are said above the list; undo takes any of it back.

use crate::bench::{Answer, Ask};
use crate::browser::{backroom, files};
use crate::core::{Picture, StepChange, StepView};
use crate::desk::{Desk, Proved};
use crate::steps::{add, boxed, entry, paragraphs, reword, shift};
use leptos::prelude::*;

/// Makes a change; what is refused is told.
fn change(desk: Desk, deed: impl FnOnce(&mut Vec<StepChange>)) {
    let outcome = desk.form.try_update(|form| form.restep(deed)).unwrap_or(Ok(()));
    if let Err(sentence) = outcome {
        desk.tell(true, sentence, None);
    }
}

/// The change of a step as it stands in the plan.
fn changed(desk: Desk, id: &str) -> Option<StepChange> {
    desk.form.with(|form| form.plan().steps().iter().find(|s| s.id == id).cloned())
}

/// The list.
#[component]
pub fn Steps() -> impl IntoView {
    let desk = Desk::here();
    // The last steps that were worked out stay while sizes are being typed.
    let found = Memo::new(move |before: Option<&(Vec<StepView>, Vec<String>)>| match desk.proved.get() {
        Proved::Done(found) => (found.steps.clone(), found.step_remarks.clone()),
        _ => before.cloned().unwrap_or_default(),
    });
    let ids = Memo::new(move |_| found.with(|f| f.0.iter().map(|s| s.id.clone()).collect::<Vec<_>>()));
    let remarks = move || found.with(|f| f.1.clone());
    view! {
        <p class="lead">
            "In the order in which the pieces find their way. Open a step to reword, move or hide it, or to add notes and pictures. "
            <i>"[=gap.width]"</i>" stands for a number that was worked out, by its name."
        </p>
        <div aria-live="polite" id="step-remarks">
            // Not by key: the same sentence may be said of two steps.
            {move || remarks()
                .into_iter()
                .map(|text| view! { <p class="wrong"><span aria-hidden="true">"✗ "</span>{text}</p> })
                .collect::<Vec<_>>()}
        </div>
        <ol class="steps">
            <For each=move || ids.get() key=|id| id.clone() let(id)>
                <Step id found ids/>
            </For>
        </ol>
    }
}

type Found = Memo<(Vec<StepView>, Vec<String>)>;

#[component]
fn Step(id: String, found: Found, ids: Memo<Vec<String>>) -> impl IntoView {
    let desk = Desk::here();
    let id = StoredValue::new(id);
    let this =
        Memo::new(move |_| found.with(|f| id.with_value(|id| f.0.iter().find(|s| s.id == *id).cloned())));
    let own = id.with_value(|id| StepChange::of(id.clone()).own());
    let with = move |pick: fn(&StepView) -> String| this.with(|s| s.as_ref().map(pick).unwrap_or_default());
    let hidden = move || this.with(|s| s.as_ref().is_some_and(|s| s.number.is_none()));
    let head = move || {
        this.with(|s| {
            let Some(s) = s else { return String::new() };
            let number = s.number.map_or_else(|| "hidden".to_string(), |n| n.to_string());
            format!("{number}  {}", s.title)
        })
    };
    let typed = move || changed(desk, &id.get_value());
    // Held in memos, so that an answer which changes nothing of a box writes nothing into it: what is being typed there
    // would be lost.
    let title =
        Memo::new(move |_| typed().and_then(|c| c.title).unwrap_or_else(|| with(|s| s.title.clone())));
    let text = Memo::new(move |_| match typed().and_then(|c| c.text) {
        Some(text) => boxed(&text),
        None => with(|s| boxed(&s.own_text)),
    });
    let notes = Memo::new(move |_| typed().map(|c| boxed(&c.notes)).unwrap_or_default());
    let pictures =
        move || typed().map(|c| c.pictures.into_iter().enumerate().collect::<Vec<_>>()).unwrap_or_default();
    let usual = move || this.with_untracked(|s| s.as_ref().map(|s| s.own_text.clone()).unwrap_or_default());
    let go = move |by: isize| {
        let order = ids.get_untracked();
        change(desk, |steps| {
            shift(steps, &order, &id.get_value(), by);
        });
    };
    let put_back = move |_| change(desk, |steps| steps.retain(|s| s.id != id.get_value()));
    let more = move |_| {
        let order = ids.get_untracked();
        change(desk, |steps| {
            add(steps, &order, &id.get_value());
        });
    };
    let hide = move |_| {
        change(desk, |steps| {
            let change = entry(steps, &id.get_value());
            change.hidden = !change.hidden;
        });
    };
    let checks = move || this.with(|s| s.as_ref().map(|s| s.checks.clone()).unwrap_or_default());
    view! {
        <li data-step=id.get_value() class:hidden-step=hidden>
            <details>
                <summary>{head} <small>{move || with(|s| s.time.clone())}</small></summary>
                <div class="said">
                    {move || this.with(|s| s.as_ref().map(|s| s.text.clone()).unwrap_or_default())
                        .into_iter()
                        .map(|t| view! { <p>{t}</p> })
                        .collect::<Vec<_>>()}
                    <ul>{move || checks().into_iter().map(|t| view! { <li>{t}</li> }).collect::<Vec<_>>()}</ul>
                </div>
                <div class="change">
                    <label>
                        "Title"
                        <input
                            type="text"
                            prop:value=move || title.get()
                            on:change:target=move |e| {
                                let typed = e.target().value();
                                change(desk, |steps| reword(steps, &id.get_value(), Some(&typed), None));
                            }
                        />
                    </label>
                    <label>
                        "Text, paragraphs parted by a blank line"
                        <textarea
                            rows="5"
                            prop:value=move || text.get()
                            on:change:target=move |e| {
                                let (typed, usual) = (e.target().value(), usual());
                                change(desk, |steps| reword(steps, &id.get_value(), None, Some((&typed, &usual))));
                            }
                        ></textarea>
                    </label>
                    <label>
                        "Notes"
                        <textarea
                            rows="2"
                            prop:value=move || notes.get()
                            on:change:target=move |e| {
                                let typed = paragraphs(&e.target().value());
                                change(desk, |steps| entry(steps, &id.get_value()).notes = typed);
                            }
                        ></textarea>
                    </label>
                    <ul class="pictures">
                        {move || pictures().into_iter().map(|(k, p)| view! {
                            <li>
                                {format!("{} ({} × {} dots) ", p.caption, p.width, p.height)}
                                <button
                                    type="button"
                                    class="plain"
                                    aria-label=format!("Take the picture “{}” out", p.caption)
                                    on:click=move |_| change(desk, |steps| {
                                        let pictures = &mut entry(steps, &id.get_value()).pictures;
                                        if k < pictures.len() {
                                            pictures.remove(k);
                                        }
                                    })
                                >
                                    "Take it out"
                                </button>
                            </li>
                        }).collect::<Vec<_>>()}
                    </ul>
                    <Pictured id/>
                    <div class="deeds">
                        <button type="button" class="small" on:click=move |_| go(-1)>"Move up"</button>
                        <button type="button" class="small" on:click=move |_| go(1)>"Move down"</button>
                        <button type="button" class="small" on:click=more>"Add a step behind"</button>
                        {if own {
                            view! { <button type="button" class="small" on:click=put_back>"Take this step out"</button> }.into_any()
                        } else {
                            view! {
                                <button type="button" class="small" aria-pressed=move || hidden().to_string() on:click=hide>
                                    {move || if hidden() { "Show in the book" } else { "Hide from the book" }}
                                </button>
                                <button
                                    type="button"
                                    class="small"
                                    disabled=move || typed().is_none()
                                    on:click=put_back
                                >
                                    "Put back as it was"
                                </button>
                            }.into_any()
                        }}
                    </div>
                </div>
            </details>
        </li>
    }
}

/// A picture to add: its caption, then its file.
#[component]
fn Pictured(id: StoredValue<String>) -> impl IntoView {
    let desk = Desk::here();
    let caption = RwSignal::new(String::new());
    let chosen = move |event: web_sys::Event| {
        let Some(file) = files::chosen(&event) else { return };
        let put_in = move |picture: Result<Picture, String>| match picture {
            Ok(picture) => {
                change(desk, |steps| entry(steps, &id.get_value()).pictures.push(picture));
                caption.set(String::new());
            }
            Err(sentence) => desk.tell(true, sentence, None),
        };
        files::read(file, move |_, bytes| {
            let bytes = match bytes {
                Ok(bytes) => bytes,
                Err(sentence) => return put_in(Err(sentence)),
            };
            let words = caption.get_untracked();
            // The program of books decodes it whole; the page could not.
            backroom::ask(Ask::Picture(words.clone(), bytes), move |answer| {
                put_in(match answer {
                    Answer::Picture(bytes) => Picture::known(&bytes, words).map_err(|why| why.sentence),
                    Answer::Failed(sentence) => Err(sentence),
                    _ => Err("The picture could not be looked at; choose it again.".into()),
                });
            });
        });
    };
    view! {
        <div class="row picture">
            <label>
                "A picture shows"
                <input type="text" prop:value=move || caption.get() on:input:target=move |e| caption.set(e.target().value())/>
            </label>
            <label>
                "and is the file"
                <input type="file" accept="image/png,image/jpeg" on:change=chosen/>
            </label>
        </div>
    }
}
