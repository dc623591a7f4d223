//! A plan for buyers: which sizes they may change and how far, which units and papers, and the licence.
//!
//! In: the maker's plan. Out: a plan file for buyers.
//! Always true: limits are those of the plan file's own rules: an offer that does not hold the plan's own size is
//! refused with a sentence; the maker's own plan is not changed by it.

use crate::bench::{Answer, Ask};
use crate::browser::{backroom, files, plans};
use crate::copies::Return;
use crate::core::{Choice, FIELDS, Paper, Plan, PrintChoice, field};
use crate::desk::{Back, Desk};
use crate::kept;
use crate::revising::frozen;
use leptos::prelude::*;
use leptos::task::spawn_local;
use std::collections::BTreeMap;

/// What is offered, as typed: least and greatest by size.
type Limits = RwSignal<BTreeMap<&'static str, (String, String)>>;

/// The section.
#[component]
pub fn Offer() -> impl IntoView {
    let desk = Desk::here();
    let limits: Limits = RwSignal::new(BTreeMap::new());
    let units = RwSignal::new(Vec::<PrintChoice>::new());
    let papers = RwSignal::new(Vec::<Paper>::new());
    let licence = RwSignal::new(String::new());
    let chosen = RwSignal::new(None::<String>);
    let marks = Memo::new(move |_| desk.plan.with(frozen));
    // The last issued revision, unless another is chosen; the table as it is only while nothing is issued.
    let mark = Memo::new(move |_| {
        chosen
            .get()
            .filter(|m| marks.with(|all| all.contains(m)))
            .or_else(|| marks.with(|all| all.first().cloned()))
    });
    let given = Memo::new(move |_| {
        desk.plan.with(|plan| {
            FIELDS.iter().map(|f| f.id).filter(|id| plan.value(id).is_some()).collect::<Vec<_>>()
        })
    });
    let save = move |_| {
        let made = desk.plan.with_untracked(|plan| {
            let source = match mark.get_untracked() {
                Some(mark) => match plan.issued_known(&mark) {
                    Some(issued) => issued.map_err(|found| kept::first(&found))?,
                    None => return Err(format!("The plan of revision {mark} was not kept in this file.")),
                },
                None => plan.clone(),
            };
            let typed = limits.get_untracked();
            let offered = typed.iter().map(|(id, (low, high))| source.limit(id, low, high));
            let offered = offered.collect::<Result<Vec<_>, _>>().map_err(|d| d.sentence)?;
            source
                .for_buyers(offered, units.get_untracked(), papers.get_untracked(), &licence.get_untracked())
                .map_err(|d| d.sentence)
        });
        let outcome = made.and_then(|buyers| {
            let name = files::file_name(
                &format!("{} revision {} for buyers", buyers.texts().title, buyers.revision().mark),
                ".turnleaf.json",
            );
            let mark = buyers.revision().mark.clone();
            files::save(&name, "application/json", buyers.to_json().as_bytes()).map(|()| (name, mark))
        });
        match outcome {
            Ok((name, mark)) => desk.tell(
                false,
                format!("Saved as {name}. Open it here yourself to see what a buyer sees."),
                Some(Back::Copies(Return::Note(mark))),
            ),
            Err(sentence) => desk.tell(true, sentence, None),
        }
    };
    // What was offered with the last revision is a good start for the next.
    let earlier = move |event: web_sys::Event| {
        let Some(file) = files::chosen(&event) else { return };
        files::read(file, move |name, bytes| {
            spawn_local(async move {
                let opened = match bytes {
                    Ok(bytes) => plans::read(bytes).await,
                    Err(why) => Err(why),
                };
                match opened.as_ref().map(|(plan, _)| plan.offer()) {
                    Ok(Some(offer)) => {
                        limits.set(offer.limits().iter().map(|l| (l.size(), l.texts())).collect());
                        units.set(offer.units.clone());
                        papers.set(offer.papers.clone());
                        licence.set(offer.licence.clone());
                        desk.tell(false, format!("The offer of {name} is taken over."), None);
                    }
                    Ok(None) => desk.tell(
                        true,
                        format!("{name} is a plan, but none for buyers: it offers nothing."),
                        None,
                    ),
                    Err(why) => desk.tell(true, format!("{name} was not read. {why}"), None),
                }
            })
        });
    };
    let options = move || {
        let mark_now = mark.get();
        let one = |m: String| {
            let chosen = Some(&m) == mark_now.as_ref();
            view! { <option value=m.clone() selected=chosen>{format!("revision {m}")}</option> }
        };
        marks.get().into_iter().map(one).collect::<Vec<_>>()
    };
    view! {
        <p class="lead">
            "A file of its own, in which only what you offer can be changed. It holds no earlier revision, no question and nobody's name but yours."
        </p>
        <Show
            when=move || marks.with(|m| !m.is_empty())
            fallback=|| view! { <p class="wrong">"Nothing is issued yet: a plan made now would be of a revision that you can still change. Issue it first."</p> }
        >
            <div class="pairs">
                <label>
                    "Made from"
                    <select id="offer-mark" on:change:target=move |e| chosen.set(Some(e.target().value()))>{options}</select>
                </label>
                <label>
                    "with the offer of an earlier file, if you like"
                    <input type="file" id="offer-earlier" accept=".json,application/json,.pdf,application/pdf" on:change=earlier/>
                </label>
            </div>
        </Show>
        <details class="more" open>
            <summary>"Sizes a buyer may change"</summary>
            <div class="scroll offer" tabindex="0" role="region" aria-label="Sizes a buyer may change">
                <table class="stacked" role="table">
                    <thead><tr role="row">
                        <th role="columnheader" scope="col">"Size"</th>
                        <th role="columnheader" scope="col">"yours"</th>
                        <th role="columnheader" scope="col">"least"</th>
                        <th role="columnheader" scope="col">"most"</th>
                        <th role="columnheader" scope="col"><span class="unseen">"Limits"</span></th>
                    </tr></thead>
                    <tbody>
                        <For each=move || given.get() key=|id| *id let(id)>
                            <Row id limits/>
                        </For>
                    </tbody>
                </table>
            </div>
        </details>
        <div class="typed">
            <fieldset class="ticks">
                <legend>"Units a buyer may print; all when none is ticked"</legend>
                {[(PrintChoice::Mm, "mm"), (PrintChoice::Inch, "inches"), (PrintChoice::Both, "both")]
                    .map(|(one, words)| tick(units, one, words))
                    .into_iter()
                    .collect::<Vec<_>>()}
            </fieldset>
            <fieldset class="ticks">
                <legend>"Papers; all when none is ticked"</legend>
                {Paper::ALL.map(|one| tick(papers, one, super::options::paper_name(one))).into_iter().collect::<Vec<_>>()}
            </fieldset>
            <label>
                "What a buyer may do with the plan (your licence; it is printed in the book)"
                <textarea
                    rows="2"
                    id="offer-licence"
                    maxlength="2000"
                    prop:value=move || licence.get()
                    on:input:target=move |e| licence.set(e.target().value().replace(['\n', '\r'], " "))
                ></textarea>
            </label>
            <div class="deeds">
                <button type="button" disabled=move || marks.with(Vec::is_empty) on:click=save>"Save the plan for buyers"</button>
            </div>
        </div>
    }
}

fn tick<C: Choice + Send + Sync>(list: RwSignal<Vec<C>>, one: C, words: &'static str) -> impl IntoView {
    view! {
        <label class="tick">
            <input
                type="checkbox"
                prop:checked=move || list.with(|l| l.contains(&one))
                on:change:target=move |e| {
                    let on = e.target().checked();
                    list.update(|l| {
                        l.retain(|o| *o != one);
                        if on {
                            l.push(one);
                        }
                    });
                }
            />
            {words}
        </label>
    }
}

#[component]
fn Row(id: &'static str, limits: Limits) -> impl IntoView {
    let desk = Desk::here();
    let label = field(id).map_or("", |f| f.label);
    let own = move || desk.plan.with(|plan| plan.typed(id).unwrap_or_default());
    let offered = move || limits.with(|l| l.contains_key(id));
    let text = move |high: bool| {
        limits.with(|l| {
            l.get(id).map(|pair| if high { pair.1.clone() } else { pair.0.clone() }).unwrap_or_default()
        })
    };
    let typed = move |high: bool, text: String| {
        limits.update(|l| {
            if let Some(pair) = l.get_mut(id) {
                *(if high { &mut pair.1 } else { &mut pair.0 }) = text;
            }
        });
    };
    let looking = RwSignal::new(false);
    let work_out = move |_| {
        looking.set(true);
        let plan = desk.plan.with_untracked(|plan| plan.edition().to_json());
        backroom::ask(Ask::Limits(plan, id.to_string()), move |answer| {
            looking.try_set(false);
            match answer {
                Answer::Limits(Some(found)) => {
                    limits.update(|l| {
                        l.insert(id, (found.least, found.most));
                    });
                }
                Answer::Limits(None) => desk.tell(
                    true,
                    format!("No limits can be worked out for {}; type them yourself.", label.to_lowercase()),
                    None,
                ),
                Answer::Failed(sentence) => desk.tell(true, sentence, None),
                _ => {}
            }
        });
    };
    let end = move |high: bool| {
        view! {
            <td role="cell" data-word=if high { "most" } else { "least" } class:unoffered=move || !offered()>
                <input
                    type="text"
                    autocomplete="off"
                    aria-label=format!("{} of {}", if high { "Most" } else { "Least" }, label.to_lowercase())
                    disabled=move || !offered()
                    prop:value=move || text(high)
                    on:input:target=move |e| typed(high, e.target().value())
                />
            </td>
        }
    };
    view! {
        <tr role="row" data-offer=id>
            <th role="rowheader" scope="row">
                <label class="tick">
                    <input
                        type="checkbox"
                        prop:checked=offered
                        on:change:target=move |e| {
                            let on = e.target().checked();
                            limits.update(|l| {
                                if on {
                                    l.insert(id, (own(), own()));
                                } else {
                                    l.remove(id);
                                }
                            });
                        }
                    />
                    {label}
                </label>
            </th>
            <td role="cell" data-word="yours">{own}</td>
            {end(false)}
            {end(true)}
            <td role="cell" class:unoffered=move || !offered()>
                <button type="button" class="plain" disabled=move || !offered() || looking.get() on:click=work_out>
                    {move || if looking.get() { "Working them out …" } else { "Work them out" }}
                    <span class="unseen">{format!(": limits of {}", label.to_lowercase())}</span>
                </button>
            </td>
        </tr>
    }
}

/// A size or option of an offer in words, for whoever reads it.
pub fn offered_words(plan: &Plan) -> Option<String> {
    let offer = plan.offer()?;
    let sizes = offer.limits().iter().map(|l| field(l.size()).map_or("", |f| f.label).to_lowercase());
    let sizes: Vec<String> = sizes.collect();
    Some(match sizes.as_slice() {
        [] => "The maker offers no size to change.".into(),
        [one] => format!("You may change the {one}."),
        [all @ .., last] => format!("You may change the {} and the {last}.", all.join(", the ")),
    })
}
