//! Two editions side by side: what changed, sheets laid over each other, what becomes of parts already cut.
//!
//! In: the plan and which editions. Out: lists, drawings, and the change notice as a file.
//! Always true: what is shown says which editions it compares; the older drawing is dashed and paler, not only of
//! another colour; everything is worked out in the worker.

use crate::bench::{Answer, Ask};
use crate::browser::{backroom, files};
use crate::core::{Compared, Line, Overlay, PageFate, PartFate, PartLine, Plan, Side};
use crate::desk::{Desk, Shared};
use crate::revising::{
    Asked, GROUPS, Told, counted, frozen, of_group, page_word, part_word, parts_summary, summary, unbroken,
};
use leptos::prelude::*;

/// The editions compared, and what came of it.
#[derive(Clone, PartialEq)]
pub struct Pair {
    /// The older.
    pub old: Side,
    /// The newer.
    pub new: Side,
    /// Both in words.
    pub names: (String, String),
    /// What differs.
    pub found: Shared<Compared>,
}

/// How far a comparison has come.
#[derive(Clone, PartialEq)]
pub enum Stage {
    /// Not asked for.
    Not,
    /// Under way.
    Busy,
    /// Done.
    Done(Pair),
    /// It could not be done; one sentence.
    Failed(String),
}

/// Compares two editions; the stage follows.
pub fn compare(old: Side, new: Side, names: (String, String), stage: RwSignal<Stage>) {
    stage.set(Stage::Busy);
    backroom::ask(Ask::Editions(Asked::Compare(old.clone(), new.clone())), move |answer| {
        stage.try_set(match answer {
            Answer::Editions(Told::Compared(found), _) => {
                Stage::Done(Pair { old, new, names, found: Shared::new(found) })
            }
            Answer::Failed(sentence) => Stage::Failed(sentence),
            _ => Stage::Not,
        });
    });
}

/// The section for makers.
#[component]
pub fn Compare() -> impl IntoView {
    let desk = Desk::here();
    let marks = Memo::new(move |_| desk.plan.with(frozen));
    let (older, newer) = (RwSignal::new(None::<String>), RwSignal::new(None::<String>));
    // The last issued one against the table as it is, until something else is chosen.
    let old = Memo::new(move |_| {
        let marks = marks.get();
        older.get().filter(|m| marks.contains(m)).or_else(|| marks.first().cloned())
    });
    let new = Memo::new(move |_| newer.get().filter(|m| marks.with(|marks| marks.contains(m))));
    let stage = RwSignal::new(Stage::Not);
    let go = move |_| {
        let plan = desk.plan.with_untracked(Plan::to_json);
        let (old, new) = (old.get_untracked(), new.get_untracked());
        let name = |mark: &Option<String>| {
            mark.as_ref().map_or("the table as it is now".to_string(), |m| format!("revision {m}"))
        };
        let names = (name(&old), name(&new));
        compare(Side { plan: plan.clone(), mark: old }, Side { plan, mark: new }, names, stage);
    };
    let choices = move |now: Memo<Option<String>>, with_now: bool| {
        let marks = marks.get();
        let mut list: Vec<_> = marks
            .into_iter()
            .map(|mark| {
                let value = mark.clone();
                let chosen = move || now.with(|now| now.as_ref() == Some(&mark));
                view! { <option value=value.clone() selected=chosen>{format!("revision {value}")}</option> }
                    .into_any()
            })
            .collect();
        if with_now {
            list.insert(
                0,
                view! { <option value="" selected=move || now.with(Option::is_none)>"the table as it is now"</option> }
                    .into_any(),
            );
        }
        list
    };
    let picked = |text: String| (!text.is_empty()).then_some(text);
    view! {
        <Show
            when=move || marks.with(|m| !m.is_empty())
            fallback=|| view! { <p class="lead">"Once a revision is issued, it can be compared with any other, and with the table as it is now."</p> }
        >
            <p class="lead">"Only what prints differently counts: a change finer than the printed step is none."</p>
            <div class="pairs">
                <label>
                    "From"
                    <select id="compare-old" on:change:target=move |e| older.set(picked(e.target().value()))>{move || choices(old, false)}</select>
                </label>
                <label>
                    "to"
                    <select id="compare-new" on:change:target=move |e| newer.set(picked(e.target().value()))>{move || choices(new, true)}</select>
                </label>
                <button type="button" disabled=move || stage.with(|s| *s == Stage::Busy) on:click=go>"Compare"</button>
            </div>
        </Show>
        <Outcome stage/>
    }
}

/// Whatever a comparison came to.
#[component]
pub fn Outcome(stage: RwSignal<Stage>) -> impl IntoView {
    let said = move || match stage.get() {
        Stage::Not => String::new(),
        Stage::Busy => "Comparing both books …".into(),
        Stage::Done(pair) => format!("From {} to {}: {}", pair.names.0, pair.names.1, summary(&pair.found)),
        Stage::Failed(sentence) => format!("It could not be compared: {sentence}"),
    };
    view! {
        <p role="status" class="verdict" data-say="compared">{said}</p>
        {move || match stage.get() {
            Stage::Done(pair) => view! { <Sides pair/> }.into_any(),
            _ => ().into_any(),
        }}
    }
}

#[component]
fn Sides(pair: Pair) -> impl IntoView {
    let desk = Desk::here();
    let found = pair.found.clone();
    let (old, new) = (StoredValue::new(pair.old.clone()), StoredValue::new(pair.new.clone()));
    let writing = RwSignal::new(false);
    let save = move |_| {
        writing.set(true);
        let title = desk.plan.with_untracked(|plan| plan.texts().title.clone());
        backroom::ask(Ask::Editions(Asked::Notice(old.get_value(), new.get_value())), move |answer| {
            writing.try_set(false);
            let name = files::file_name(&format!("{title} change notice"), ".pdf");
            let saved = match answer {
                Answer::Editions(Told::Notice, bytes) => files::save(&name, "application/pdf", &bytes),
                Answer::Failed(sentence) => Err(sentence),
                _ => return,
            };
            match saved {
                Ok(()) => desk.tell(false, format!("Saved as {name}."), None),
                Err(sentence) => desk.tell(true, sentence, None),
            }
        });
    };
    view! {
        <div class="deeds">
            <button type="button" disabled=move || writing.get() on:click=save>
                {move || if writing.get() { "Writing the notice …" } else { "Save the change notice" }}
            </button>
        </div>
        <Changes found=found.clone()/>
        <Parts found=found/>
        <Laid pair/>
    }
}

/// Everything that prints differently, in groups.
#[component]
pub fn Changes(found: Shared<Compared>) -> impl IntoView {
    let groups = GROUPS.iter().filter_map(|(key, title)| {
        let lines: Vec<Line> = of_group(&found, key).cloned().collect();
        (!lines.is_empty()).then(|| {
            let few = lines.len() <= 12;
            // Materials and things have no difference in figures.
            let by = lines.iter().any(|line| !line.difference.is_empty() || line.old == line.new || line.old.is_none() || line.new.is_none());
            let head = format!("{title}: {}", lines.len());
            let dash = |text: Option<String>| text.unwrap_or_else(|| "–".into());
            let rows: Vec<_> = lines
                .into_iter()
                .map(|line| {
                    // A step whose title stays has other words or figures.
                    let retitled = line.old != line.new;
                    let word = match (&line.old, &line.new) {
                        (None, _) => "new",
                        (_, None) => "gone",
                        _ if !retitled => "other words or figures",
                        _ => "",
                    };
                    let (old, new) = if retitled { (dash(line.old), dash(line.new)) } else { Default::default() };
                    let last = if line.difference.is_empty() { word.to_string() } else { line.difference };
                    view! {
                        <tr role="row" data-changed=line.id>
                            <th role="rowheader" scope="row">{line.label}</th>
                            <td role="cell" data-word="was" class:nothing=old.is_empty()>{unbroken(&old)}</td>
                            <td role="cell" data-word="is" class:nothing=new.is_empty()>{unbroken(&new)}</td>
                            {by.then(|| view! {
                                <td role="cell" data-word="by" class="figure" class:nothing=last.is_empty()>{last.clone()}</td>
                            })}
                        </tr>
                    }
                })
                .collect();
            view! {
                <details class="more" open=few data-group=*key>
                    <summary>{head}</summary>
                    <div class="scroll" tabindex="0" role="region" aria-label=format!("{title} that changed")>
                        <table class="stacked" role="table">
                            <thead><tr role="row">
                                <th role="columnheader" scope="col">"What"</th>
                                <th role="columnheader" scope="col">"was"</th>
                                <th role="columnheader" scope="col">"is"</th>
                                {by.then(|| view! { <th role="columnheader" scope="col" class="figure">"by"</th> })}
                            </tr></thead>
                            <tbody>{rows}</tbody>
                        </table>
                    </div>
                </details>
            }
        })
    });
    let groups: Vec<_> = groups.collect();
    let pages: Vec<_> = found.pages.iter().filter(|p| p.fate != PageFate::Same).cloned().collect();
    let again = pages.len();
    let rows: Vec<_> = pages
        .into_iter()
        .map(|page| {
            let number = |n: Option<usize>| n.map_or("–".to_string(), |n| n.to_string());
            view! {
                <tr data-page-changed=page.id>
                    <th scope="row">{page.title}</th>
                    <td class="figure">{number(page.old)}</td>
                    <td class="figure">{number(page.new)}</td>
                    <td>{page_word(page.fate)}</td>
                </tr>
            }
        })
        .collect();
    view! {
        {groups}
        {(again != 0).then(|| view! {
            <details class="more" data-group="page">
                <summary>{format!("Pages: {again}")}</summary>
                <div class="scroll" tabindex="0" role="region" aria-label="Pages that changed">
                    <table>
                        <thead><tr><th scope="col">"Page"</th><th scope="col" class="figure">"was no."</th><th scope="col" class="figure">"is no."</th><th scope="col">"it is"</th></tr></thead>
                        <tbody>{rows}</tbody>
                    </table>
                </div>
            </details>
        })}
    }
}

/// What becomes of parts already cut.
#[component]
pub fn Parts(found: Shared<Compared>) -> impl IntoView {
    let order = [PartFate::Again, PartFate::Work, PartFate::New, PartFate::NotNeeded, PartFate::Good];
    let mut parts: Vec<PartLine> = found.parts.clone();
    parts.sort_by_key(|p| order.iter().position(|fate| *fate == p.fate));
    let items: Vec<_> = parts
        .into_iter()
        .map(|part| {
            let more = part.count.1.saturating_sub(part.count.0);
            let more = (more > 0 && part.count.0 > 0)
                .then(|| format!("{} than before.", counted(more, "more is needed", "more are needed")));
            let sign = match part.fate {
                PartFate::Good => "✓",
                PartFate::Work => "✎",
                PartFate::Again => "✗",
                PartFate::NotNeeded => "–",
                PartFate::New => "+",
            };
            let why: Vec<_> = part.why.into_iter().map(|why| view! { <li>{why}</li> }).collect();
            let class = match part.fate {
                PartFate::Again | PartFate::New => "again",
                PartFate::Work => "work",
                PartFate::Good | PartFate::NotNeeded => "fine",
            };
            view! {
                <li data-part=part.id data-fate=part_word(part.fate) class=class>
                    <strong><span aria-hidden="true">{sign}" "</span>{part.name}": "{part_word(part.fate)}</strong>
                    " " <span class="quiet">{part.margin} " " {more}</span>
                    <ul>{why}</ul>
                </li>
            }
        })
        .collect();
    let fails: Vec<_> = found.fails.iter().map(|text| view! { <li>{text.clone()}</li> }).collect();
    let failing = !fails.is_empty();
    view! {
        <h3>"Parts already cut"</h3>
        <p data-say="parts">{parts_summary(&found)}</p>
        <p class="quiet">"Found from the solids, and from one whole turn of the newer table with the old parts in it. Re-cutting small or finished parts is riskier than cutting blanks: clamp them, use a push block, and make a new part when in doubt."</p>
        <ul class="cut-parts">{items}</ul>
        {failing.then(|| view! {
            <p>"With the old parts in the newer table these checks fail:"</p>
            <ul class="troubles">{fails}</ul>
        })}
    }
}

/// A sheet of both books, laid over each other.
#[component]
fn Laid(pair: Pair) -> impl IntoView {
    let pages: Vec<(String, String)> = pair
        .found
        .pages
        .iter()
        .filter(|p| matches!(p.fate, PageFate::Changed | PageFate::Added | PageFate::Removed))
        .map(|p| (p.id.clone(), format!("{} ({})", p.title, page_word(p.fate))))
        .collect();
    if pages.is_empty() {
        return ().into_any();
    }
    // A sheet of a part says most.
    let start = pages.iter().find(|p| p.0.starts_with("sheet/")).or(pages.first()).map(|p| p.0.clone());
    let page = RwSignal::new(start.unwrap_or_default());
    let laid = RwSignal::new(None::<(String, Shared<Overlay>)>);
    let trouble = RwSignal::new(None::<String>);
    let share = RwSignal::new(50u8);
    let held = RwSignal::new(false);
    let (old, new) = (StoredValue::new(pair.old.clone()), StoredValue::new(pair.new.clone()));
    Effect::new(move |_| {
        let id = page.get();
        let asked = Asked::Overlay(old.get_value(), new.get_value(), id.clone());
        backroom::ask(Ask::Editions(asked), move |answer| match answer {
            Answer::Editions(Told::Overlay(found), _) => {
                trouble.try_set(None);
                laid.try_set(Some((id, Shared::new(found))));
            }
            Answer::Failed(sentence) => {
                trouble.try_set(Some(sentence));
            }
            _ => {}
        });
    });
    let options: Vec<_> = pages
        .iter()
        .map(|(id, title)| {
            let (value, of) = (id.clone(), id.clone());
            view! { <option value=value selected=move || page.with(|p| *p == of)>{title.clone()}</option> }
        })
        .collect();
    let titles = StoredValue::new(pages.clone());
    let name = move || {
        let of = |id: &str| {
            titles.with_value(|t| t.iter().find(|t| t.0 == id).map(|t| t.1.clone()).unwrap_or_default())
        };
        laid.with(|laid| {
            laid.as_ref()
                .map(|l| format!("{}, older and newer laid over each other", of(&l.0)))
                .unwrap_or_default()
        })
    };
    // Half way both are whole; towards an end the other one fades.
    let old_share = move || if held.get() { 1.0 } else { (f64::from(100 - share.get()) / 50.0).min(1.0) };
    let new_share = move || if held.get() { 0.0 } else { (f64::from(share.get()) / 50.0).min(1.0) };
    let hold = move |down: bool| move |_: web_sys::PointerEvent| held.set(down);
    let keys = move |down: bool| {
        move |event: web_sys::KeyboardEvent| {
            if event.key() == " " || event.key() == "Enter" {
                event.prevent_default();
                held.set(down);
            }
        }
    };
    view! {
        <h3>"Laid over each other"</h3>
        <div class="pairs">
            <label>
                "The sheet"
                <select id="laid-page" on:change:target=move |e| page.set(e.target().value())>{options}</select>
            </label>
            <label>
                "older – newer"
                <input
                    type="range"
                    id="laid-share"
                    min="0"
                    max="100"
                    step="10"
                    prop:value=move || share.get().to_string()
                    aria-valuetext=move || match share.get() {
                        0 => "only the older".to_string(),
                        100 => "only the newer".to_string(),
                        50 => "both".to_string(),
                        s if s < 50 => format!("the older, the newer at {} %", u16::from(s) * 2),
                        s => format!("the newer, the older at {} %", u16::from(100 - s) * 2),
                    }
                    on:input:target=move |e| share.set(e.target().value().parse().unwrap_or(50))
                />
            </label>
            <button
                type="button"
                aria-pressed=move || held.get().to_string()
                on:pointerdown=hold(true)
                on:pointerup=hold(false)
                on:pointerleave=hold(false)
                on:pointercancel=hold(false)
                on:keydown=keys(true)
                on:keyup=keys(false)
                on:blur=move |_| held.set(false)
            >"Hold to see the older"</button>
        </div>
        <p class="quiet">"Dashed and pale, its words struck through: only in the older. Strong: only in the newer. Grey: in both. A figure that gave way to another stands above it."</p>
        {move || trouble.get().map(|sentence| view! { <p class="wrong">{sentence}</p> })}
        <p class="lead" role="status">
            {move || (laid.with(|laid| laid.as_ref().is_none_or(|(of, _)| *of != page.get())) && trouble.with(Option::is_none))
                .then_some("Laying the sheets over each other …")}
        </p>
        <figure class="sheet laid" aria-label=name>
            {move || laid.get().map(|(_, found)| view! {
                <div class="layer both" inner_html=found.same.clone()></div>
                <div class="layer was" style:opacity=move || old_share().to_string() inner_html=found.gone.clone()></div>
                <div class="layer is" style:opacity=move || new_share().to_string() inner_html=found.came.clone()></div>
            })}
        </figure>
    }
    .into_any()
}
