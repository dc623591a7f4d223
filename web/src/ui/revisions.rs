//! Issued revisions, and issuing the next one.
//!
//! In: the plan. Out: revisions frozen in it, and their books as files.
//! Always true: nothing is issued before what changed since the last revision was shown for this very plan; what
//! was issued stays so, whatever is edited or undone, and that is said.

use super::compare;
use super::more::{More, some_of};
use crate::bench::{Answer, Ask};
use crate::browser::{backroom, clock, files};
use crate::core::{Compared, Diagnostic, PastRevision, Plan, Revision, Side};
use crate::desk::{Desk, Shared};
use crate::keeper::Keeper;
use crate::revising::{Asked, Told, counted, day, frozen, reasons, summary};
use leptos::prelude::*;

/// Changes the plan in one way; what is refused is told.
pub fn change(desk: Desk, deed: impl FnOnce(&mut Plan) -> Result<(), Diagnostic>) {
    let outcome = desk.form.try_update(|form| form.change(deed)).unwrap_or(Ok(()));
    if let Err(sentence) = outcome {
        desk.tell(true, sentence, None);
    }
}

/// What of the revision under work is touched: its words, not the table.
fn revise(desk: Desk, deed: impl FnOnce(&mut Revision)) {
    change(desk, |plan| {
        let mut now = plan.revision().clone();
        deed(&mut now);
        plan.set_revision(now)
    });
}

/// The list and the form.
#[component]
pub fn Revisions() -> impl IntoView {
    let desk = Desk::here();
    let rows = Memo::new(move |_| {
        desk.plan.with(|plan| {
            let row =
                |r: &PastRevision| (r.mark.clone(), r.date.to_string(), r.what.clone(), r.frozen().is_some());
            plan.revisions().iter().rev().map(row).collect::<Vec<_>>()
        })
    });
    let (shown, listed) = some_of(rows);
    view! {
        <h2>"Revisions"</h2>
        <p class="lead">
            "Issuing a revision freezes it in the plan file: its book can be made again for ever, and no later edit reaches it."
        </p>
        <h3>"Issued so far"</h3>
        <Show when=move || rows.with(Vec::is_empty)>
            <p>"None yet. The first one you issue is what your first buyers get."</p>
        </Show>
        <ul class="issued">
            <For each=move || listed.get() key=|row| row.clone() let((mark, date, what, kept))>
                <Row mark date what kept/>
            </For>
        </ul>
        <More list=".issued" all=Signal::derive(move || rows.with(Vec::len)) shown/>
        <Next/>
    }
}

#[component]
fn Row(mark: String, date: String, what: String, kept: bool) -> impl IntoView {
    let desk = Desk::here();
    let busy = RwSignal::new(false);
    let wanted = StoredValue::new(mark.clone());
    let make = move |_| {
        busy.set(true);
        let mark = wanted.get_value();
        let (title, plan) = desk.plan.with_untracked(|plan| (plan.texts().title.clone(), plan.to_json()));
        backroom::ask(Ask::Editions(Asked::Again(plan, mark.clone())), move |answer| {
            busy.try_set(false);
            match answer {
                Answer::Editions(Told::Again(differs), bytes) => {
                    let name = files::file_name(&format!("{title} revision {mark}"), ".pdf");
                    let said = match files::save(&name, "application/pdf", &bytes) {
                        Err(sentence) => return desk.tell(true, sentence, None),
                        Ok(()) if differs.is_empty() => {
                            format!("Saved as {name}: the issued file of revision {mark}, byte for byte.")
                        }
                        Ok(()) => {
                            format!("Saved as {name}. It is not the issued file: {}", differs.join(" "))
                        }
                    };
                    desk.tell(!differs.is_empty(), said, None);
                }
                Answer::Failed(sentence) => desk.tell(true, sentence, None),
                _ => {}
            }
        });
    };
    let button = if kept {
        view! {
            <button type="button" disabled=move || busy.get() on:click=make>
                {move || if busy.get() { "Making it …" } else { "Its book" }}
                <span class="unseen">{format!(", revision {mark}")}</span>
            </button>
        }
        .into_any()
    } else {
        view! { <small>"Its plan was not kept in this file."</small> }.into_any()
    };
    view! {
        <li data-revision=mark.clone()>
            <strong class="stamp"><span class="unseen">"Revision "</span>{mark.clone()}</strong>
            <span class="what"><time>{date}</time> " " {if what.is_empty() { "No reason was given.".into() } else { what }}</span>
            {button}
        </li>
    }
}

/// Where looking over what is to be issued stands.
#[derive(Clone, PartialEq)]
enum Look {
    Not,
    Busy,
    /// For the plan with this text; nothing to compare with before the first revision.
    Done(String, Option<Shared<Compared>>),
    Failed(String),
}

/// Everything of a plan but the words about its revision, which stand beside the button: two plans with the same
/// content freeze the same table.
fn content(plan: &Plan) -> String {
    let mut plan = plan.clone();
    // The usual words are always taken.
    let _ = plan.set_revision(Revision::default());
    plan.to_json()
}

/// The revision under work.
#[component]
fn Next() -> impl IntoView {
    let (desk, keeper) = (Desk::here(), Keeper::here());
    let look = RwSignal::new(Look::Not);
    let issuing = RwSignal::new(false);
    let mark = Memo::new(move |_| desk.plan.with(|plan| plan.revision().mark.clone()));
    let date = Memo::new(move |_| {
        desk.plan.with(|plan| plan.revision().date.map_or(String::new(), |d| d.to_string()))
    });
    let why = Memo::new(move |_| desk.plan.with(|plan| plan.revision().reasons.join("\n")));
    let last = Memo::new(move |_| desk.plan.with(|plan| frozen(plan).into_iter().next()));
    // A year is typed figure by figure, and browsers tell of each: what is no day yet is said only when the box is left.
    let set_date = move |text: &str, left: bool| match day(text) {
        Ok(date) if desk.plan.with_untracked(|plan| plan.revision().date != date) => {
            revise(desk, |now| now.date = date);
        }
        Err(sentence) if left => desk.tell(true, sentence, None),
        _ => {}
    };
    let over = move |_| {
        let (text, content) = desk.plan.with_untracked(|plan| (plan.to_json(), content(plan)));
        let Some(last) = last.get_untracked() else {
            look.set(Look::Done(content, None));
            return;
        };
        look.set(Look::Busy);
        let old = Side { plan: text.clone(), mark: Some(last) };
        let new = Side { plan: text.clone(), mark: None };
        backroom::ask(Ask::Editions(Asked::Compare(old, new)), move |answer| {
            look.try_set(match answer {
                Answer::Editions(Told::Compared(found), _) => Look::Done(content, Some(Shared::new(found))),
                Answer::Failed(sentence) => Look::Failed(sentence),
                _ => Look::Not,
            });
        });
    };
    // What was looked over must be what is issued.
    let fresh = Memo::new(move |_| match look.get() {
        Look::Done(looked, _) => desk.plan.with(|plan| content(plan) == looked),
        _ => false,
    });
    let refused = Memo::new(move |_| desk.plan.with(|plan| plan.can_issue().err().map(|why| why.sentence)));
    let issue = move |_| {
        if !fresh.get_untracked() {
            return;
        }
        let text = desk.plan.with_untracked(Plan::to_json);
        issuing.set(true);
        backroom::ask(Ask::Editions(Asked::Issue(text)), move |answer| {
            issuing.try_set(false);
            look.try_set(Look::Not);
            match answer {
                Answer::Editions(Told::Issued(issued), _) => {
                    match Plan::parse_known(issued.plan.as_bytes()) {
                        Ok((plan, _)) => {
                            desk.issued(&plan);
                            let told = match untrack(|| keeper.older_copies()) {
                                0 => String::new(),
                                1 => " One copy that you noted is older now: “Who has a copy” has the mail for it.".into(),
                                many => format!(" {many} copies that you noted are older now: “Who has a copy” has a mail for each."),
                            };
                            desk.tell(
                            false,
                            format!(
                                "Revision {} is issued: {}. It stays issued: Undo takes back sizes and words, never a revision. Save the plan, so that the file has it too.{told}",
                                issued.mark,
                                counted(issued.pages, "page", "pages"),
                            ),
                            None,
                        );
                        }
                        Err(found) => desk.tell(true, crate::kept::first(&found), None),
                    }
                }
                Answer::Failed(sentence) => desk.tell(true, sentence, None),
                _ => {}
            }
        });
    };
    let shown = move || {
        match look.get() {
        Look::Not => ().into_any(),
        Look::Busy => view! { <p>"Comparing with the last revision …"</p> }.into_any(),
        Look::Failed(sentence) => {
            view! { <p class="wrong"><span aria-hidden="true">"✗ "</span>{sentence}</p> }.into_any()
        }
        Look::Done(_, None) => view! { <p>"It is the first: there is nothing to compare it with."</p> }.into_any(),
        Look::Done(_, Some(found)) => {
            view! {
                <p><strong>{format!("Since revision {}: ", last.get_untracked().unwrap_or_default())}</strong>{summary(&found)}</p>
                <compare::Changes found/>
            }
            .into_any()
        }
    }
    };
    view! {
        <h3>{move || format!("Issue revision {}", mark.get())}</h3>
        <div class="typed">
            <div class="pairs">
                <label>
                    "Its mark"
                    <input
                        type="text"
                        id="revision-mark"
                        size="4"
                        maxlength="2"
                        autocomplete="off"
                        prop:value=move || mark.get()
                        on:change:target=move |e| {
                            let typed = e.target().value().trim().to_string();
                            revise(desk, |now| now.mark = typed);
                            e.target().set_value(&mark.get_untracked());
                        }
                    />
                </label>
                <label>
                    "Its date"
                    <input
                        type="date"
                        id="revision-date"
                        min="1583-01-01"
                        max="9999-12-31"
                        prop:value=move || date.get()
                        on:change:target=move |e| set_date(&e.target().value(), false)
                        on:blur:target=move |e| set_date(&e.target().value(), true)
                    />
                </label>
                <button type="button" on:click=move |_| set_date(&clock::today(), true)>"Today"</button>
            </div>
            <label>
                "What it changes and why, for the book and the change notice"
                <textarea
                    rows="3"
                    id="revision-why"
                    prop:value=move || why.get()
                    on:change:target=move |e| {
                        let typed = reasons(&e.target().value());
                        revise(desk, |now| now.reasons = typed);
                    }
                ></textarea>
            </label>
            <div class="deeds">
                <button
                    type="button"
                    disabled=move || !desk.troubles().is_empty() || look.with(|l| *l == Look::Busy)
                    on:click=over
                >
                    {move || match last.get() {
                        Some(last) => format!("Look over what changed since {last}"),
                        None => "Look it over".into(),
                    }}
                </button>
                <button
                    type="button"
                    class="main"
                    disabled=move || !fresh.get() || issuing.get() || refused.with(Option::is_some)
                    aria-describedby="issue-note"
                    on:click=issue
                >
                    {move || if issuing.get() { "Issuing …".into() } else { format!("Issue revision {}", mark.get()) }}
                </button>
            </div>
            <p class="quiet" id="issue-note">
                {move || match (fresh.get(), look.with(|l| matches!(l, Look::Done(..)))) {
                    _ if issuing.get() => "Its book is made and frozen …".into(),
                    (true, _) => refused
                        .get()
                        .unwrap_or_else(|| "This is what will be frozen. It cannot be taken back.".into()),
                    (false, true) => "The plan was changed since you looked it over; look again before issuing.".into(),
                    (false, false) => "You look it over first, then issue it.".into(),
                }}
            </p>
        </div>
        <div class="looked" aria-live="polite">{shown}</div>
    }
}
