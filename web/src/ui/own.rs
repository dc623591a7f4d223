//! What a buyer sees: the maker's words, the sizes offered with their limits, stock as measured, and how it prints.
//!
//! In: a plan with an offer. Out: edits within it, and the maker's next revision put onto the buyer's own sizes.
//! Always true: nothing else of the plan can be changed here; the next revision is compared before it is taken,
//! and what does not fit any more is said first.

use super::typed::{Held, Wrongs, form_of};
use super::{compare, offer, stock, tag};
use crate::browser::{files, plans};
use crate::core::{Choice, FIELDS, Language, Paper, Plan, PrintChoice, Side, field};
use crate::desk::{Back, Desk};
use crate::form::{Form, IMPRINT};
use leptos::prelude::*;
use leptos::task::spawn_local;

fn choose(desk: Desk, key: &'static str, word: &str) {
    let outcome = desk.form.try_update(|form| form.choose(key, word)).unwrap_or(Ok(()));
    if let Err(sentence) = outcome {
        desk.tell(true, sentence, None);
    }
}

/// The buyer's page in place of all sizes.
#[component]
pub fn Own() -> impl IntoView {
    let desk = Desk::here();
    let words = move |pick: fn(&Plan) -> String| desk.plan.with(pick);
    let limits = Memo::new(move |_| {
        desk.plan.with(|plan| {
            let limits = plan.offer().map(|o| o.limits().to_vec()).unwrap_or_default();
            limits.into_iter().map(|l| (l.size(), l.texts())).collect::<Vec<_>>()
        })
    });
    let notes = move || desk.plan.with(|plan| plan.notes().to_vec());
    let heading = move || {
        words(|plan| match plan.texts().title.trim() {
            "" => "Your own table".into(),
            title => format!("Your own {title}"),
        })
    };
    view! {
        <div class="own">
            <h2>{heading}</h2>
            <p class="lead">
                {move || desk.plan.with(offer::offered_words)}
                " Everything else is as the maker drew it."
            </p>
            <dl>
                <dt>"Made by"</dt>
                <dd>{move || words(|p| if p.texts().maker.trim().is_empty() { "not said".into() } else { p.texts().maker.clone() })}</dd>
                <dt>"Plan"</dt>
                <dd>{move || words(|p| format!("{} revision {}", p.texts().number, p.revision().mark).trim().to_string())}</dd>
                <dt>"Licence"</dt>
                <dd data-say="licence">
                    {move || words(|p| match p.offer().map(|o| o.licence.trim()) {
                        None | Some("") => "none is given; ask the maker what you may do with the plan".into(),
                        Some(licence) => licence.into(),
                    })}
                </dd>
            </dl>
            {move || {
                let notes: Vec<_> = notes().into_iter().map(|note| view! { <p>{note}</p> }).collect();
                (!notes.is_empty()).then(|| view! { <div class="words-of-maker" aria-label="The maker's words" role="note">{notes}</div> })
            }}
            <h3>"Your size"</h3>
            <ul class="sizes-offered">
                <For each=move || limits.get() key=|limit| limit.clone() let((id, ends))>
                    <Offered id ends/>
                </For>
            </ul>
            <stock::Measured/>
            <h3>"How your book prints"</h3>
            <Prints/>
            <Imprint/>
            <h3>"The maker's next revision"</h3>
            <Onto/>
        </div>
    }
}

/// One size that is offered.
#[component]
fn Offered(id: &'static str, ends: (String, String)) -> impl IntoView {
    let desk = Desk::here();
    let touched = RwSignal::new(None::<&'static str>);
    let Some(field) = field(id) else { return ().into_any() };
    let wrong = move || desk.form.with(|form| form.wrong(id).cloned());
    let (low, high) = ends;
    view! {
        <li data-offered=id>
            <div class="line">
                <span class="name">{field.label}</span>
                <tag::Tag field touched/>
                <span class="quiet">{format!("from {low} to {high}")}</span>
            </div>
            <div aria-live="polite" class="passage">
                {move || wrong().map(|refused| view! {
                    <p class="wrong" id=format!("{id}-wrong")>
                        <span aria-hidden="true">"✗"</span>
                        <span>{refused.sentence} " " {refused.hint}</span>
                    </p>
                })}
            </div>
        </li>
    }
    .into_any()
}

/// Units, paper and language, as far as they are offered.
#[component]
fn Prints() -> impl IntoView {
    let desk = Desk::here();
    let units = Memo::new(move |_| {
        let offered = desk.plan.with(|p| p.offer().map(|o| o.units.clone()).unwrap_or_default());
        let all = [(PrintChoice::Mm, "mm"), (PrintChoice::Inch, "inches"), (PrintChoice::Both, "both")];
        all.into_iter().filter(|u| offered.is_empty() || offered.contains(&u.0)).collect::<Vec<_>>()
    });
    let papers = Memo::new(move |_| {
        let offered = desk.plan.with(|p| p.offer().map(|o| o.papers.clone()).unwrap_or_default());
        Paper::ALL.into_iter().filter(|p| offered.is_empty() || offered.contains(p)).collect::<Vec<_>>()
    });
    let now = move || desk.plan.with(|plan| *plan.options());
    let unit = move |(one, words): (PrintChoice, &'static str)| {
        view! {
            <label>
                <input
                    type="radio"
                    name="own-units"
                    prop:checked=move || now().print.units == one
                    on:change=move |_| choose(desk, "print.units", one.key())
                />
                {words}
            </label>
        }
    };
    let paper = move |one: Paper| {
        view! { <option value=one.key() selected=move || now().paper == one>{super::options::paper_name(one)}</option> }
    };
    view! {
        <div class="pairs">
            <fieldset class="either" aria-label="Units of your book">{move || units.get().into_iter().map(unit).collect::<Vec<_>>()}</fieldset>
            <label>
                "Printed on"
                <select id="own-paper" on:change:target=move |e| choose(desk, "paper", &e.target().value())>
                    {move || papers.get().into_iter().map(paper).collect::<Vec<_>>()}
                </select>
            </label>
            <label>
                "in"
                <select id="own-language" on:change:target=move |e| choose(desk, "language", &e.target().value())>
                    {[(Language::En, "English"), (Language::De, "German")]
                        .map(|(one, words)| view! { <option value=one.key() selected=move || now().language == one>{words}</option> })
                        .into_iter()
                        .collect::<Vec<_>>()}
                </select>
            </label>
        </div>
    }
}

/// The line at the foot of every page that says whose copy it is.
#[component]
fn Imprint() -> impl IntoView {
    let held = Held::of(Desk::here(), IMPRINT);
    view! {
        <div class="typed imprint">
            <label>
                "A line of your own, at the foot of every page"
                <input
                    id="copy-imprint"
                    form=form_of(IMPRINT)
                    type="text"
                    enterkeyhint="done"
                    autocomplete="off"
                    placeholder="none; such as: copy for the workshop"
                    aria-describedby="copy-imprint-note copy-imprint-wrong"
                    aria-invalid=move || if held.wrong() { "true" } else { "false" }
                    prop:value=move || held.typed.get()
                    on:input:target=move |event| held.edit(event.target().value())
                    on:keydown=move |event| held.key(&event)
                />
            </label>
            <small id="copy-imprint-note">"It says whose book this is. It stays with your copy, also when you take the maker’s next revision."</small>
            <Wrongs ids=&[IMPRINT]/>
        </div>
    }
}

/// The next revision, before it is taken.
#[derive(Clone, PartialEq)]
struct Coming {
    name: String,
    merged: Plan,
    /// What to know first.
    said: Vec<Said>,
}

/// Something to know before a revision is taken.
#[derive(Clone, Debug, PartialEq)]
struct Said {
    /// One sentence.
    text: String,
    /// Whether taking it changes something that the buyer chose, or puts another plan in this one's place.
    minded: bool,
}

/// Opens the maker's next file onto the buyer's own sizes.
#[component]
fn Onto() -> impl IntoView {
    let desk = Desk::here();
    let coming = RwSignal::new(None::<Coming>);
    let stage = RwSignal::new(compare::Stage::Not);
    let chosen = move |event: web_sys::Event| {
        let Some(file) = files::chosen(&event) else { return };
        files::read(file, move |name, bytes| {
            spawn_local(async move {
                let opened = match bytes {
                    Ok(bytes) => plans::read(bytes).await,
                    Err(why) => Err(why),
                };
                match opened.and_then(|(next, _)| desk.plan.with_untracked(|own| onto(&next, own))) {
                    Ok((merged, said)) => {
                        let mark = merged.revision().mark.clone();
                        let old = Side { plan: desk.plan.with_untracked(Plan::to_json), mark: None };
                        let new = Side { plan: merged.to_json(), mark: None };
                        let was = desk.plan.with_untracked(|p| p.revision().mark.clone());
                        let names = (
                            format!("your table by revision {was}"),
                            format!("your table by revision {mark}"),
                        );
                        coming.set(Some(Coming { name, merged, said }));
                        compare::compare(old, new, names, stage);
                    }
                    Err(why) => desk.tell(true, format!("{name} was not put onto your sizes. {why}"), None),
                }
            })
        });
    };
    let take = move |_| {
        let Some(found) = coming.get_untracked() else { return };
        let before = desk.form.get_untracked();
        let mark = found.merged.revision().mark.clone();
        desk.form.set(Form::new(found.merged));
        coming.set(None);
        stage.set(compare::Stage::Not);
        desk.tell(
            false,
            format!(
                "This is revision {mark} at your own sizes. Save the plan, so that your file has it too."
            ),
            Some(Back::Form(Box::new(before))),
        );
    };
    view! {
        <div class="typed">
            <label>
                "Open the newer file from the maker; your sizes stay yours"
                <input type="file" id="onto-file" accept=".json,application/json,.pdf,application/pdf" on:change=chosen/>
            </label>
        </div>
        {move || coming.get().map(|found| {
            let said: Vec<_> = found.said.iter().map(|one| view! { <li class:mild=!one.minded>{one.text.clone()}</li> }).collect();
            let (name, mark) = (found.name.clone(), found.merged.revision().mark.clone());
            view! {
                <div class="coming">
                    <p><strong>{format!("{name} holds revision {mark}. ")}</strong>"Nothing is taken yet: look what it changes for your table, then take it or leave it."</p>
                    {(!said.is_empty()).then(|| view! { <ul class="troubles" data-say="onto">{said}</ul> })}
                    <div class="deeds">
                        <button type="button" class="main" on:click=take>{format!("Take revision {mark}")}</button>
                        <button
                            type="button"
                            on:click=move |_| {
                                coming.set(None);
                                stage.set(compare::Stage::Not);
                            }
                        >"Leave it"</button>
                    </div>
                </div>
            }
        })}
        <compare::Outcome stage/>
    }
}

/// The next plan with the buyer's choices, and what to know first; or why it cannot be put onto them.
fn onto(next: &Plan, own: &Plan) -> Result<(Plan, Vec<Said>), String> {
    if next.offer().is_none() {
        return Err("It is no plan for buyers: it offers nothing that could be changed.".into());
    }
    let mut said = Vec::new();
    let (a, b) = (own.texts(), next.texts());
    if a.title != b.title || a.number != b.number {
        let text = format!(
            "It is a plan of another name: “{} {}” instead of “{} {}”.",
            b.title, b.number, a.title, a.number
        );
        said.push(Said { text, minded: true });
    }
    let older = own.revisions().iter().any(|r| r.mark == next.revision().mark);
    if older {
        let text = format!("Revision {} is older than the one you have.", next.revision().mark);
        said.push(Said { text, minded: true });
    } else if own.revision().mark == next.revision().mark {
        let text = format!("You have revision {} already.", next.revision().mark);
        said.push(Said { text, minded: false });
    }
    let (merged, refused) = next.onto(own);
    for d in &refused {
        let text = format!("{} The maker’s own value is taken instead.", d.sentence);
        said.push(Said { text, minded: true });
    }
    // What was the buyer's to change and is fixed now.
    let offered =
        |plan: &Plan, id: &str| plan.offer().is_some_and(|o| o.limits().iter().any(|l| l.size() == id));
    for f in FIELDS.iter().filter(|f| offered(own, f.id) && !offered(next, f.id)) {
        if own.value(f.id) != merged.value(f.id) {
            let theirs = merged.typed(f.id).unwrap_or_else(|| "worked out".into());
            let text = format!("{} can no longer be changed: it is {theirs} now.", f.label);
            said.push(Said { text, minded: true });
        }
    }
    Ok((merged, said))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn buyers(change: impl FnOnce(&mut Plan), low: &str, high: &str) -> Plan {
        let mut plan = Plan::default_metric();
        change(&mut plan);
        let limit = plan.limit("height", low, high).unwrap();
        plan.for_buyers(vec![limit], Vec::new(), Vec::new(), "For one table.").unwrap()
    }

    #[test]
    fn own_sizes_are_kept_and_what_does_not_fit_is_said() {
        let mut own = buyers(|_| {}, "700 mm", "760 mm");
        own.set("height", "755 mm").unwrap();
        own.set_measured("stock_thickness", "18.6 mm").unwrap();
        let next = buyers(|p| drop(p.set("tongue_depth", "7 mm").unwrap()), "700 mm", "760 mm");
        let (merged, said) = onto(&next, &own).unwrap();
        assert_eq!(merged.typed("height").as_deref(), Some("755 mm"));
        assert_eq!(merged.typed_measured("stock_thickness").as_deref(), Some("18.6 mm"));
        // Nothing is wrong with that.
        assert_eq!(said, [Said { text: "You have revision A already.".into(), minded: false }]);
        let narrow = buyers(|_| {}, "700 mm", "745 mm");
        let (merged, said) = onto(&narrow, &own).unwrap();
        assert_eq!(merged.typed("height").as_deref(), Some("740 mm"));
        assert!(
            said.iter().any(|s| s.text.contains("755 mm") && s.text.contains("instead") && s.minded),
            "{said:?}"
        );
    }

    #[test]
    fn a_plan_that_is_none_for_buyers_is_refused() {
        let own = buyers(|_| {}, "700 mm", "760 mm");
        assert!(onto(&Plan::default_metric(), &own).unwrap_err().contains("no plan for buyers"));
    }
}
