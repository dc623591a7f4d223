//! Who has a copy: the list, noting and changing a copy, and whom to tell of a revision.
//!
//! In: the list kept beside the plan. Out: the section.
//! Always true: a part of a long list is shown and the rest is a press or a word away; what is refused is said beside the
//! boxes and everything typed stays.

use crate::browser::{files, js, page};
use crate::copies::{Letter, List, is_older, listed};
use crate::core::{Holder, Plan};
use crate::desk::Desk;
use crate::keeper::{Entry, Keeper};
use crate::revising::counted;
use leptos::prelude::*;
use leptos::task::spawn_local;

/// Rows shown at first, and more at a press.
const ROWS: usize = 50;

/// What the boxes are called, in the order of the columns.
const LABELS: [&str; 7] = ["Name", "How to reach them", "Since", "Revision", "Size", "Units", "Paper"];

/// The same in a word, for narrow windows.
const WORDS: [&str; 7] = ["Name", "Reach", "Since", "Revision", "Size", "Units", "Paper"];

/// The section.
#[component]
pub fn Copies() -> impl IntoView {
    let (desk, keeper) = (Desk::here(), Keeper::here());
    let copies = keeper.copies;
    let mail = RwSignal::new(None::<(String, Letter)>);
    let link = RwSignal::new(String::new());
    let count = Memo::new(move |_| copies.list.with(|list| list.as_ref().map(|list| list.copies.len())));
    let older = Memo::new(move |_| keeper.older_copies());
    let last = Memo::new(move |_| desk.plan.with(|plan| plan.revisions().last().map(|r| r.mark.clone())));
    // A mail is about the list and the plan as they were.
    Effect::new(move |_| {
        copies.list.track();
        last.track();
        link.track();
        mail.set(None);
    });
    let chosen = move |event: web_sys::Event| {
        let Some(file) = files::chosen(&event) else { return };
        files::read(file, move |name, bytes| {
            spawn_local(async move {
                let done = match bytes {
                    Ok(bytes) => keeper.open_copies(&name, bytes).await,
                    Err(why) => Err(format!("{name} was not read. {why}")),
                };
                if let Err(why) = done {
                    copies.said.set((true, why));
                }
            });
        });
    };
    let save = move |_| {
        let title = desk.plan.with_untracked(|plan| plan.texts().title.clone());
        let name = files::file_name(&format!("{title} copies"), ".csv");
        let text = keeper.copies_text().unwrap_or_default();
        copies.said.set(match files::save(&name, "text/csv", text.as_bytes()) {
            Ok(()) => (false, format!("Saved as {name}. It is for yourself alone.")),
            Err(why) => (true, why),
        });
    };
    let mails = move |_| {
        spawn_local(async move {
            copies.said.set(match keeper.save_mails(&link.get_untracked()).await {
                Ok(name) => (false, format!("Saved as {name}.")),
                Err(why) => (true, why),
            });
        });
    };
    let own = move || {
        let own = copies.list.with(|list| list.as_ref().map(|list| list.own.clone()).unwrap_or_default());
        match own.as_slice() {
            [] => None,
            [one] => Some(format!("Your own column “{one}” stays in the file as it is.")),
            all => Some(format!("Your own columns “{}” stay in the file as they are.", all.join("”, “"))),
        }
    };
    view! {
        <h2 id="copies-heading" tabindex="-1">"Who has a copy"</h2>
        <p class="lead">
            "Note whom a copy is for, and you know whom to tell of the next revision. The list is kept in this browser, beside this plan; no plan file, no book and no plan for buyers has anything of it."
        </p>
        <div class="deeds">
            <button type="button" id="copy-note" disabled=move || copies.busy.get() on:click=move |_| keeper.begin_copy(None)>
                "Note a copy"
            </button>
            <Show when=move || count.get().is_some()>
                <button type="button" on:click=save>"Save the list (CSV)"</button>
                <button type="button" class="plain" on:click=move |_| spawn_local(async move { keeper.drop_copies().await })>
                    "Take the list away"
                </button>
            </Show>
        </div>
        <div class="typed">
            <label>
                "Open a list, or drop it anywhere here (CSV)"
                <input type="file" id="copies-file" accept=".csv,text/csv" on:change=chosen/>
            </label>
        </div>
        <Show when=move || copies.entry.with(Option::is_some)><Form/></Show>
        <p class="copies-said" class:wrong=move || copies.said.with(|said| said.0) role="status">
            {move || copies.said.with(|(bad, text)| match (bad, text.is_empty()) {
                (true, false) => format!("✗ {text}"),
                _ => text.clone(),
            })}
        </p>
        <Show when=move || count.get().is_some_and(|count| count > 0)>
            <Show when=move || last.with(Option::is_some)>
                <p data-say="older">
                    <strong>{move || match older.get() {
                        0 => format!("Nobody’s copy is older than revision {}.", last.get().unwrap_or_default()),
                        one => format!(
                            "{} of {} older than revision {}.",
                            one,
                            match count.get() { Some(1) => "1 copy is".to_string(), all => format!("{} copies {}", all.unwrap_or(0), if one == 1 { "is" } else { "are" }) },
                            last.get().unwrap_or_default(),
                        ),
                    }}</strong>
                </p>
            </Show>
            <Show when=move || { older.get() > 0 }>
                <div class="pairs">
                    <label class="copies-link">
                        "Where the new files can be fetched from, for the mails; empty if you send them along"
                        <input type="url" autocomplete="off" placeholder="https://…" prop:value=move || link.get() on:input:target=move |e| link.set(e.target().value())/>
                    </label>
                    <button type="button" on:click=mails>
                        {move || match older.get() {
                            1 => "Save the mail as a text file".into(),
                            many => format!("Save {many} mails as one text file"),
                        }}
                    </button>
                </div>
            </Show>
            <Table mail link/>
            <p class="quiet">{own}</p>
        </Show>
        {move || mail.get().map(|(name, letter)| view! { <Mail name letter mail/> })}
    }
}

/// The boxes of one copy.
#[component]
fn Form() -> impl IntoView {
    let (desk, keeper) = (Desk::here(), Keeper::here());
    let entry = keeper.copies.entry;
    let read = move |at: usize| entry.with(|e| e.as_ref().map(|e| e.now[at].clone()).unwrap_or_default());
    let write = move |at: usize, text: String| {
        entry.update(|e| {
            if let Some(e) = e {
                e.now[at] = text;
            }
        });
    };
    let whose = Memo::new(move |_| {
        entry.with(|e| e.as_ref().and_then(|e| e.over.as_ref().map(|(_, was)| was[0].clone())))
    });
    let marks = Memo::new(move |_| {
        let mut marks: Vec<String> = desk.plan.with(|plan| {
            let issued = plan.revisions().iter().rev().map(|r| r.mark.clone());
            issued.chain([plan.revision().mark.clone()]).collect()
        });
        let now = read(3);
        if !marks.contains(&now) {
            marks.push(now);
        }
        marks
    });
    let issued = move |mark: &str| desk.plan.with(|plan| plan.revisions().iter().any(|r| r.mark == mark));
    let option = move |mark: String| {
        let words = if issued(&mark) { mark.clone() } else { format!("{mark} (not issued)") };
        let chosen = read(3) == mark;
        view! { <option value=mark.clone() selected=chosen>{words}</option> }
    };
    let one = move |at: usize| {
        let id = format!("copy-{at}");
        let input = if at == 3 {
            view! {
                <select id=id on:change:target=move |e| write(at, e.target().value())>
                    {move || marks.get().into_iter().map(option).collect::<Vec<_>>()}
                </select>
            }
            .into_any()
        } else {
            view! {
                <input
                    id=id
                    type=if at == 2 { "date" } else { "text" }
                    autocomplete="off"
                    prop:value=move || read(at)
                    on:input:target=move |e| write(at, e.target().value())
                />
            }
            .into_any()
        };
        view! { <label>{LABELS[at]} {input}</label> }
    };
    let submit = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        spawn_local(async move { keeper.note_copy().await });
    };
    view! {
        <form class="copy-form" on:submit=submit aria-labelledby="copy-form-heading">
            <h3 id="copy-form-heading">
                {move || whose.get().map_or("A copy to note".into(), |name| format!("The copy of {name}"))}
            </h3>
            <div class="pairs">{(0..7).map(one).collect::<Vec<_>>()}</div>
            <div class="deeds">
                <button type="submit" class="main" disabled=move || keeper.copies.busy.get()>
                    {move || if whose.get().is_some() { "Change it" } else { "Note it" }}
                </button>
                <button
                    type="button"
                    on:click=move |_| {
                        entry.set(None);
                        keeper.copies.said.set((false, String::new()));
                        page::focus_soon("copy-note");
                    }
                >"Leave it"</button>
            </div>
        </form>
    }
}

/// The list, by parts.
#[component]
fn Table(mail: RwSignal<Option<(String, Letter)>>, link: RwSignal<String>) -> impl IntoView {
    let (desk, keeper) = (Desk::here(), Keeper::here());
    let list = keeper.copies.list;
    let (words, only, most) = (RwSignal::new(String::new()), RwSignal::new(false), RwSignal::new(ROWS));
    let with =
        move |run: &dyn Fn(&List) -> usize| list.with(|list| list.as_ref().map_or(0, |list| run(list)));
    let found = Memo::new(move |_| {
        let (words, only) = (words.get(), only.get());
        desk.plan.with(|plan: &Plan| {
            list.with(|list| {
                let only = only.then_some(plan);
                list.as_ref().map(|list| listed(&list.copies, &words, only)).unwrap_or_default()
            })
        })
    });
    let rows = move || {
        let places: Vec<usize> = found.with(|found| found.iter().copied().take(most.get()).collect());
        list.with(|list| {
            let copies = list.as_ref().map(|list| list.copies.as_slice()).unwrap_or_default();
            let row = |at: usize| {
                let copy = copies.get(at)?.clone();
                let older = desk.plan.with(|plan| is_older(plan, &copy));
                Some((at, copy, older))
            };
            places.into_iter().filter_map(row).collect::<Vec<_>>()
        })
    };
    let either = [(false, "all"), (true, "older copies")].map(|(one, word)| {
        view! {
            <label>
                <input type="radio" name="copies-listed" prop:checked=move || only.get() == one on:change=move |_| only.set(one)/>
                {word}
            </label>
        }
    });
    let heads = LABELS.map(|word| view! { <th role="columnheader" scope="col">{word}</th> });
    view! {
        <div class="filters">
            <fieldset class="either" aria-label="Which copies are listed">{either.into_iter().collect::<Vec<_>>()}</fieldset>
            <label>
                "with the words"
                <input type="search" prop:value=move || words.get() on:input:target=move |e| words.set(e.target().value())/>
            </label>
        </div>
        <p class="quiet" role="status" data-say="copies">
            {move || {
                let (all, found) = (with(&|list| list.copies.len()), found.with(Vec::len));
                let shown = found.min(most.get());
                match (shown == found, found == all) {
                    (true, true) => format!("{}, the one noted last on top.", counted(all, "copy", "copies")),
                    (true, false) => format!("{found} of {all} listed."),
                    _ => format!("{shown} of {found} listed, of {all} copies."),
                }
            }}
        </p>
        <div class="scroll copies" tabindex="0" role="region" aria-label="Who has a copy">
            <table class="stacked" role="table">
                <thead><tr role="row">
                    {heads.into_iter().collect::<Vec<_>>()}
                    <th role="columnheader" scope="col"><span class="unseen">"What to do"</span></th>
                </tr></thead>
                <tbody>
                    <For each=rows key=|row| row.clone() let((at, copy, older))>
                        <Row at copy older mail link/>
                    </For>
                </tbody>
            </table>
        </div>
        <Show when=move || { found.with(Vec::len) > most.get() }>
            <button type="button" on:click=move |_| most.update(|most| *most += ROWS)>{format!("Show {ROWS} more")}</button>
        </Show>
    }
}

#[component]
fn Row(
    at: usize,
    copy: Holder,
    older: bool,
    mail: RwSignal<Option<(String, Letter)>>,
    link: RwSignal<String>,
) -> impl IntoView {
    let keeper = Keeper::here();
    let held = StoredValue::new(copy.clone());
    let name = copy[0].clone();
    let change = move |_| {
        let was = held.get_value();
        keeper.copies.said.set((false, String::new()));
        keeper.copies.entry.set(Some(Entry { over: Some((at, was.clone())), now: was }));
        page::focus_soon("copy-0");
    };
    let out = move |_| spawn_local(async move { keeper.remove_copy(at, held.get_value()).await });
    let letter = move |_| {
        spawn_local(async move {
            let copy = held.get_value();
            let name = copy[0].clone();
            match keeper.copy_mail(copy, &link.get_untracked()).await {
                Ok(found) => {
                    mail.set(Some((name, found)));
                    page::focus_soon("copy-mail");
                }
                Err(why) => keeper.copies.said.set((true, why)),
            }
        });
    };
    let cells = (1..7).map(|k| {
        let old = (k == 3 && older).then(|| view! { <em class="old">" older"</em> });
        let empty = copy[k].is_empty();
        view! { <td role="cell" data-word=WORDS[k] class:nothing=empty>{(!empty).then(|| view! { <span>{copy[k].clone()} {old}</span> })}</td> }
    });
    let of = format!(": {name}");
    view! {
        <tr role="row" data-copy=at>
            <th role="rowheader" scope="row">{name}</th>
            {cells.collect::<Vec<_>>()}
            <td role="cell">
                <span class="row-deeds">
                    {older.then(|| view! { <button type="button" class="plain" on:click=letter>"The mail" <span class="unseen">{of.clone()}</span></button> })}
                    <button type="button" class="plain" on:click=change>"Change" <span class="unseen">{of.clone()}</span></button>
                    <button type="button" class="plain" on:click=out>"Take out" <span class="unseen">{of.clone()}</span></button>
                </span>
            </td>
        </tr>
    }
}

/// A mail to one of them.
#[component]
fn Mail(name: String, letter: Letter, mail: RwSignal<Option<(String, Letter)>>) -> impl IntoView {
    let keeper = Keeper::here();
    let text = letter.whole.clone();
    let copy = move |_| {
        let text = text.clone();
        spawn_local(async move {
            let asked = js::path(&["navigator", "clipboard"])
                .and_then(|board| js::call(&board, "writeText", &[&text.as_str().into()]).ok());
            let done = match asked {
                Some(asked) => js::wait(asked).await.is_ok(),
                None => false,
            };
            keeper.copies.said.set(if done {
                (false, "The mail is copied; paste it where you write mails.".into())
            } else {
                (true, "The browser did not take the text; select it and copy it by hand.".into())
            });
        });
    };
    let link = match letter.link {
        Some(link) => {
            view! { <a class="button" href=link rel="noopener">"Open it in your mail program"</a> }.into_any()
        }
        None => {
            view! { <small>"How to reach them is no single mail address, or the mail is too long to be handed over: copy its text."</small> }
                .into_any()
        }
    };
    view! {
        <div class="copy-mail" id="copy-mail" tabindex="-1" role="region" aria-label=format!("Mail to {name}")>
            <h3>{format!("Mail to {name}")}</h3>
            <pre tabindex="0" aria-label="Text of the mail" role="region">{letter.whole}</pre>
            <div class="deeds">
                <button type="button" on:click=copy>"Copy the text"</button>
                {link}
                <button
                    type="button"
                    on:click=move |_| {
                        mail.set(None);
                        page::focus_soon("copy-note");
                    }
                >"Close the mail"</button>
            </div>
        </div>
    }
}
