//! Buyers' questions.
//!
//! In: the questions of the plan, and what there is to ask about. Out: questions written down, answered, declined.
//! Always true: a question keeps its number and the identifier of what it is about, so that it survives any
//! renumbering; who asked stays in the maker's own file, which is said.

use super::fold::watched;
use super::more::{More, some_of};
use super::revisions::change;
use crate::bench::{Answer, Ask};
use crate::browser::backroom;
use crate::core::{About, Plan, Question, State, Thing};
use crate::desk::Desk;
use crate::questions::{ABOUTS, Which, has_words, next_number, state_words, subject, with};
use crate::revising::{Asked, Told, day};
use leptos::{ev, prelude::*};
use wasm_bindgen::JsCast;

type Things = RwSignal<Vec<Thing>>;

/// The list, its filters and the form.
#[component]
pub fn Questions() -> impl IntoView {
    let desk = Desk::here();
    let things: Things = RwSignal::new(Vec::new());
    // What can be asked about follows the book, which follows the sizes a moment later.
    Effect::new(move |_| {
        let Some(book) = desk.book.get() else { return };
        backroom::ask(Ask::Editions(Asked::Things(book.plan.clone())), move |answer| {
            if let Answer::Editions(Told::Things(found), _) = answer {
                things.try_set(found);
            }
        });
    });
    let which = RwSignal::new(Which::All);
    let words = RwSignal::new(String::new());
    let all = Memo::new(move |_| desk.plan.with(|plan| plan.questions().to_vec()));
    let numbers = Memo::new(move |_| {
        let (which, words) = (which.get(), words.get());
        things.with(|things| {
            all.with(|all| {
                let takes = |q: &&Question| which.takes(q) && has_words(q, &subject(q, things), &words);
                all.iter().filter(takes).map(|q| q.number).collect::<Vec<_>>()
            })
        })
    });
    let (shown, listed) = some_of(numbers);
    let count = move |which: Which| all.with(|all| all.iter().filter(|q| which.takes(q)).count());
    let filters = Which::WORDS.map(|(one, word)| {
        view! {
            <label>
                <input type="radio" name="questions" prop:checked=move || which.get() == one on:change=move |_| which.set(one)/>
                {move || format!("{word} ({})", count(one))}
            </label>
        }
    });
    view! {
        <h2>"Questions from buyers"</h2>
        <p class="lead">
            "Write down what was asked and about what. Who asked stays in your own plan file; a book or a plan for buyers never has it."
        </p>
        <Ask_ things/>
        <div class="filters">
            <fieldset class="either" aria-label="Which questions are listed">{filters.into_iter().collect::<Vec<_>>()}</fieldset>
            <label>
                "with the words"
                <input type="search" prop:value=move || words.get() on:input:target=move |e| words.set(e.target().value())/>
            </label>
        </div>
        <p class="quiet" role="status">
            {move || match (all.with(Vec::len), numbers.with(Vec::len), listed.with(Vec::len)) {
                (0, ..) => "No question is written down.".to_string(),
                (all, wanted, listed) if listed < wanted => format!("{wanted} of {all}; the first {listed} are listed."),
                (all, _, listed) => format!("{listed} of {all} listed."),
            }}
        </p>
        <ol class="questions">
            <For each=move || listed.get() key=|number| *number let(number)>
                <One number things/>
            </For>
        </ol>
        <More list=".questions" all=Signal::derive(move || numbers.with(Vec::len)) shown/>
    }
}

/// The form for a new question.
#[component]
fn Ask_(things: Things) -> impl IntoView {
    let desk = Desk::here();
    let about = RwSignal::new(About::Dimension);
    let id = RwSignal::new(String::new());
    let (from, asked, text) =
        (RwSignal::new(String::new()), RwSignal::new(String::new()), RwSignal::new(String::new()));
    let pointing = RwSignal::new(false);
    let groups = Memo::new(move |_| {
        let key = about.get().key();
        things.with(|things| {
            let mut groups: Vec<(String, Vec<Thing>)> = Vec::new();
            for thing in things.iter().filter(|t| t.about == key) {
                match groups.iter_mut().find(|g| g.0 == thing.of) {
                    Some(group) => group.1.push(thing.clone()),
                    None => groups.push((thing.of.clone(), vec![thing.clone()])),
                }
            }
            groups
        })
    });
    let options = move || {
        let option = move |thing: Thing| {
            let value = thing.id.clone();
            let chosen = move || id.with(|id| *id == thing.id);
            view! { <option value=value selected=chosen>{thing.label}</option> }
        };
        let group = move |(of, list): (String, Vec<Thing>)| {
            let list: Vec<_> = list.into_iter().map(option).collect();
            if of.is_empty() {
                list.into_any()
            } else {
                view! { <optgroup label=of>{list}</optgroup> }.into_any()
            }
        };
        groups.get().into_iter().map(group).collect::<Vec<_>>()
    };
    // The next press on a dimension of the pages chooses it.
    let pressed = window_event_listener(ev::click, move |event| {
        if !pointing.get_untracked() {
            return;
        }
        let at = event.target().and_then(|t| t.dyn_into::<web_sys::Element>().ok());
        let group = at.and_then(|at| at.closest(".sheet [data-role=\"dimension\"][data-id]").ok().flatten());
        if let Some(found) = group.and_then(|group| group.get_attribute("data-id")) {
            event.prevent_default();
            pointing.set(false);
            about.set(About::Dimension);
            id.set(found);
            crate::browser::page::focus_soon("question-thing");
        }
    });
    let escape = window_event_listener(ev::keydown, move |event| {
        if event.key() == "Escape" && pointing.get_untracked() {
            pointing.set(false);
        }
    });
    on_cleanup(move || {
        pressed.remove();
        escape.remove();
    });
    let write = move |event: ev::SubmitEvent| {
        event.prevent_default();
        let day = match day(&asked.get_untracked()) {
            Ok(day) => day,
            Err(sentence) => return desk.tell(true, sentence, None),
        };
        if text.with_untracked(|t| t.trim().is_empty()) {
            return desk.tell(true, "The question has no words yet; write what was asked.", None);
        }
        let about = about.get_untracked();
        let thing = if about == About::Book { String::new() } else { id.get_untracked() };
        if about != About::Book && thing.is_empty() {
            return desk.tell(true, "Choose what the question is about, or “the book as a whole”.", None);
        }
        let mut number = 0;
        let outcome = desk.form.try_update(|form| {
            form.change(|plan: &mut Plan| {
                let mut all = plan.questions().to_vec();
                number = next_number(&all);
                all.push(Question {
                    number,
                    about,
                    id: thing,
                    from: from.get_untracked().trim().to_string(),
                    asked: day,
                    text: text.with_untracked(|t| t.split_whitespace().collect::<Vec<_>>().join(" ")),
                    state: State::Open,
                });
                plan.set_questions(all)
            })
        });
        match outcome.unwrap_or(Ok(())) {
            Ok(()) => {
                text.set(String::new());
                from.set(String::new());
                desk.tell(false, format!("Question {number} is written down."), None);
            }
            Err(sentence) => desk.tell(true, sentence, None),
        }
    };
    let kinds = ABOUTS.map(|(one, words)| {
        view! { <option value=one.key() selected=move || about.get() == one>{words}</option> }
    });
    view! {
        <form class="typed" on:submit=write>
            <label>
                "It is about"
                <select
                    id="question-about"
                    on:change:target=move |e| {
                        about.set(About::from_key(&e.target().value()).unwrap_or(About::Book));
                        id.set(String::new());
                    }
                >
                    {kinds.into_iter().collect::<Vec<_>>()}
                </select>
            </label>
            <Show when=move || about.get() != About::Book>
                <label>
                    "and this one"
                    <select id="question-thing" on:change:target=move |e| id.set(e.target().value())>
                        <option value="" selected=move || id.with(String::is_empty)>"– choose –"</option>
                        {options}
                    </select>
                </label>
                <Show when=move || about.get() == About::Dimension>
                    <button
                        type="button"
                        class="small"
                        aria-pressed=move || pointing.get().to_string()
                        on:click=move |_| {
                            pointing.update(|p| *p = !*p);
                            if pointing.get_untracked() {
                                crate::browser::page::go_to("book");
                            }
                        }
                    >
                        {move || if pointing.get() { "Press a dimension in the pages (Escape: leave it)" } else { "Point at it in the pages" }}
                    </button>
                </Show>
            </Show>
            <div class="pairs">
                <label>
                    "Asked by"
                    <input type="text" autocomplete="off" prop:value=move || from.get() on:input:target=move |e| from.set(e.target().value())/>
                </label>
                <label>
                    "on"
                    <input type="date" prop:value=move || asked.get() on:input:target=move |e| asked.set(e.target().value())/>
                </label>
            </div>
            <label>
                "The question"
                <textarea rows="2" prop:value=move || text.get() on:input:target=move |e| text.set(e.target().value())></textarea>
            </label>
            <div class="deeds"><button type="submit">"Write it down"</button></div>
        </form>
    }
}

/// One question of the list.
#[component]
fn One(number: u32, things: Things) -> impl IntoView {
    let desk = Desk::here();
    let this = Memo::new(move |_| {
        desk.plan.with(|plan| plan.questions().iter().find(|q| q.number == number).cloned())
    });
    let read = move |pick: fn(&Question) -> String| this.with(|q| q.as_ref().map(pick).unwrap_or_default());
    let about = move || this.with(|q| q.as_ref().map(|q| things.with(|t| subject(q, t))).unwrap_or_default());
    let state = move || read(|q| state_words(&q.state));
    let (details, open, toggled) = watched();
    view! {
        <li data-question=number>
            <details node_ref=details on:toggle=toggled>
                <summary>
                    <strong>{format!("{number}. ")}</strong>
                    {move || read(|q| q.text.clone())}
                    " "
                    <small>{move || format!("({}; {})", about(), state())}</small>
                </summary>
                <Show when=move || open.get()><Opened number this/></Show>
            </details>
        </li>
    }
}

/// What a question holds beside its words, made when it is opened.
#[component]
fn Opened(number: u32, this: Memo<Option<Question>>) -> impl IntoView {
    let desk = Desk::here();
    let read = move |pick: fn(&Question) -> String| this.with(|q| q.as_ref().map(pick).unwrap_or_default());
    let put = move |deed: &dyn Fn(&mut Question)| {
        change(desk, |plan| plan.set_questions(with(plan, number, |q| deed(q))));
    };
    let kind = move || {
        this.with(|q| match q.as_ref().map(|q| &q.state) {
            Some(State::Answered { .. }) => 1,
            Some(State::Declined { .. }) => 2,
            _ => 0,
        })
    };
    let become_ = move |kind: usize| {
        let mark = desk.plan.with_untracked(|plan| plan.revision().mark.clone());
        put(&move |q: &mut Question| {
            let words = match &q.state {
                State::Open => String::new(),
                State::Answered { answer, .. } => answer.clone(),
                State::Declined { why } => why.clone(),
            };
            q.state = match kind {
                1 => State::Answered { revision: mark.clone(), answer: words, printed: false },
                2 => State::Declined { why: words },
                _ => State::Open,
            };
        });
    };
    let states = ["open", "answered", "declined"].into_iter().enumerate().map(|(k, word)| {
        view! {
            <label>
                <input
                    type="radio"
                    name=format!("question-{number}")
                    prop:checked=move || kind() == k
                    on:change=move |_| become_(k)
                />
                {word}
            </label>
        }
    });
    let marks = move || {
        let mut marks: Vec<String> =
            desk.plan.with(|plan| plan.revisions().iter().map(|r| r.mark.clone()).collect());
        marks.push(desk.plan.with(|plan| plan.revision().mark.clone()));
        let now = read(|q| match &q.state {
            State::Answered { revision, .. } => revision.clone(),
            _ => String::new(),
        });
        if !now.is_empty() && !marks.contains(&now) {
            marks.push(now.clone());
        }
        let one = |mark: String| {
            let chosen = mark == now;
            view! { <option value=mark.clone() selected=chosen>{mark.clone()}</option> }
        };
        marks.into_iter().rev().map(one).collect::<Vec<_>>()
    };
    let answer = move || {
        read(|q| match &q.state {
            State::Answered { answer, .. } => answer.clone(),
            State::Declined { why } => why.clone(),
            State::Open => String::new(),
        })
    };
    let printed = move || {
        this.with(|q| matches!(q.as_ref().map(|q| &q.state), Some(State::Answered { printed: true, .. })))
    };
    let one_line = |text: String| text.split_whitespace().collect::<Vec<_>>().join(" ");
    view! {
        <div class="typed">
            <p class="quiet">
                {move || {
                    let from = read(|q| q.from.clone());
                    let day = read(|q| q.asked.map(|d| d.to_string()).unwrap_or_default());
                    match (from.is_empty(), day.is_empty()) {
                        (true, true) => "Who asked, and when, was not written down.".to_string(),
                        (false, true) => format!("Asked by {from}."),
                        (true, false) => format!("Asked on {day}."),
                        (false, false) => format!("Asked by {from} on {day}."),
                    }
                }}
            </p>
            <fieldset class="either" aria-label=format!("State of question {number}")>{states.collect::<Vec<_>>()}</fieldset>
            <Show when=move || kind() == 1>
                <label>
                    "Answered in revision"
                    <select on:change:target=move |e| {
                        let mark = e.target().value();
                        put(&move |q| if let State::Answered { revision, .. } = &mut q.state {
                            revision.clone_from(&mark);
                        });
                    }>{marks}</select>
                </label>
            </Show>
            <Show when=move || kind() != 0>
                <label>
                    {move || if kind() == 1 { "The answer" } else { "Why not" }}
                    <textarea
                        rows="2"
                        prop:value=answer
                        on:change:target=move |e| {
                            let typed = one_line(e.target().value());
                            put(&move |q| match &mut q.state {
                                State::Answered { answer, .. } => answer.clone_from(&typed),
                                State::Declined { why } => why.clone_from(&typed),
                                State::Open => {}
                            });
                        }
                    ></textarea>
                </label>
            </Show>
            <Show when=move || kind() == 1>
                <label class="tick">
                    <input
                        type="checkbox"
                        prop:checked=printed
                        on:change:target=move |e| {
                            let print = e.target().checked();
                            put(&move |q| if let State::Answered { printed, .. } = &mut q.state {
                                *printed = print;
                            });
                        }
                    />
                    "Print the answer as a note where it was asked about"
                </label>
            </Show>
            <div class="deeds">
                <button
                    type="button"
                    class="plain"
                    on:click=move |_| change(desk, |plan| {
                        let left = plan.questions().iter().filter(|q| q.number != number).cloned().collect();
                        plan.set_questions(left)
                    })
                >
                    {format!("Take question {number} out")}
                </button>
            </div>
        </div>
    }
}
