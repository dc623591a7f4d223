//! The bar above the book: name, units, and what one does with the plan.
//!
//! In: the state. Out: the bar.
//! Always true: opening a file never touches the work on the bench unless the file can be used.

use super::marks;
use crate::bench::{Answer, Ask, Room};
use crate::browser::{backroom, files, page, plans};
use crate::copies::Return;
use crate::desk::{Back, Desk, Keeping};
use crate::form::WHOLE;
use crate::keeper::{Keeper, Lasting};
use crate::place::Place;
use crate::shelf;
use leptos::html::Input;
use leptos::prelude::*;
use leptos::task::spawn_local;

/// The bar.
#[component]
pub fn Bar() -> impl IntoView {
    let (desk, keeper) = (Desk::here(), Keeper::here());
    let chooser = NodeRef::<Input>::new();
    let title = move || desk.form.with(|form| form.plan().texts().title.clone());
    let rename = move |text: String| {
        let outcome = desk.form.try_update(|form| form.name(&text)).unwrap_or(Ok(()));
        if let Err(sentence) = outcome {
            desk.tell(true, sentence, None);
        }
    };
    let choose = move |event: web_sys::Event| {
        if let Some(file) = files::chosen(&event) {
            open(desk, keeper, file);
        }
    };
    let at_work = move || desk.at_work.get();
    view! {
        <header class="bar">
            <h1>{marks::table()} "Turnleaf"</h1>
            <Show when=at_work>
                <a class="button all-plans" href=Place::Start.hash()>"All plans"</a>
                <div class="name">
                    <label class="unseen" for="plan-name">"Name of the plan"</label>
                    <input
                        id="plan-name"
                        type="text"
                        autocomplete="off"
                        placeholder="Name this table"
                        prop:value=title
                        on:change:target=move |event| rename(event.target().value())
                    />
                </div>
                <super::options::Units/>
            </Show>
            <div class="deeds">
                <Show when=at_work><Steps/></Show>
                <button type="button" on:click=move |_| if let Some(input) = chooser.get() { input.click() }>
                    {marks::take_out()} "Open a plan"
                </button>
                <super::fetch::Opener/>
                <Show when=at_work>
                    <button type="button" on:click=move |_| save_plan(desk)>{marks::put_by()} "Save the plan"</button>
                    <button
                        type="button"
                        class="main"
                        id="save-book"
                        disabled=move || desk.writing.get() || !desk.troubles().is_empty()
                        on:click=move |_| save_book(desk)
                    >
                        {marks::book()}
                        {move || if desk.writing.get() { "Writing the book …" } else { "Save the book" }}
                    </button>
                    <Show when=move || desk.writing.get()>
                        <button type="button" class="plain" on:click=move |_| stop_book_file(desk)>
                            "Stop"<span class="unseen">" writing the book"</span>
                        </button>
                    </Show>
                </Show>
            </div>
            <input
                node_ref=chooser
                type="file"
                class="unseen"
                tabindex="-1"
                aria-hidden="true"
                accept=".json,application/json,.pdf,application/pdf"
                on:change=choose
            />
            <Show when=at_work>
                <p class="kept" class:lost=move || desk.keeping.with(|k| matches!(k, Keeping::Failed(_))) role="status">
                    {move || keeping(&desk.keeping.get(), keeper.lasting.get())}
                    {move || elsewhere(keeper.others.get())}
                </p>
            </Show>
        </header>
    }
}

/// Undo and redo, each saying what it would change; the keys are those of every editor.
#[component]
fn Steps() -> impl IntoView {
    let desk = Desk::here();
    let undoes = move || desk.history.with(|history| history.undoes().map(str::to_string));
    let redoes = move || desk.history.with(|history| history.redoes().map(str::to_string));
    let keys = window_event_listener(leptos::ev::keydown, move |event| {
        if !(event.ctrl_key() || event.meta_key()) || event.alt_key() {
            return;
        }
        let deed: fn(&Desk) = match (event.key().to_lowercase().as_str(), event.shift_key()) {
            ("z", false) => Desk::undo,
            ("z", true) | ("y", false) => Desk::redo,
            _ => return,
        };
        // The browser's own undo knows one box only, and not what the plan made of it.
        event.prevent_default();
        deed(&desk);
    });
    on_cleanup(move || keys.remove());
    let title = |what: &str, step: Option<String>| match step {
        Some(step) => format!("{what}: {step}"),
        None => format!("Nothing to {}", what.to_lowercase()),
    };
    view! {
        <button
            type="button"
            class="small"
            title=move || title("Undo", undoes())
            aria-label=move || title("Undo", undoes())
            disabled=move || undoes().is_none()
            on:click=move |_| desk.undo()
        >
            {marks::undo()}
        </button>
        <button
            type="button"
            class="small"
            title=move || title("Redo", redoes())
            aria-label=move || title("Redo", redoes())
            disabled=move || redoes().is_none()
            on:click=move |_| desk.redo()
        >
            {marks::redo()}
        </button>
    }
}

fn keeping(keeping: &Keeping, lasting: Lasting) -> String {
    match keeping {
        Keeping::Kept => {
            let promise = match lasting {
                Lasting::Unknown => "",
                Lasting::Promised => " It has promised not to clear it by itself.",
                Lasting::Refused => {
                    " It may clear it when the disk runs full: save the plan as a file now and then."
                }
            };
            format!("Everything you type is kept in this browser.{promise}")
        }
        Keeping::Waiting => "Keeping your changes …".into(),
        Keeping::Failed(why) => format!(
            "Your work is not kept here: {why}. Save the plan as a file, or make room by taking away plans you no longer need; keeping is tried again by itself."
        ),
    }
}

/// Said when the plan is open in other tabs too.
fn elsewhere(others: usize) -> &'static str {
    match others {
        0 => "",
        1 => " This plan is open in another tab too: what is typed in one shows in both.",
        _ => " This plan is open in other tabs too: what is typed in one shows in all.",
    }
}

fn save_plan(desk: Desk) {
    let (title, text) =
        desk.form.with_untracked(|form| (form.plan().texts().title.clone(), form.plan().to_json()));
    let name = files::file_name(&title, ".turnleaf.json");
    match files::save(&name, "application/json", text.as_bytes()) {
        Ok(()) => desk.tell(false, format!("Saved as {name}."), None),
        Err(sentence) => desk.tell(true, sentence, None),
    }
}

/// Writes the book of the sizes as they are now.
fn save_book(desk: Desk) {
    let (title, plan, chapters) = desk.form.with_untracked(|form| {
        (form.plan().texts().title.clone(), form.plan().to_json(), form.chapters().to_string())
    });
    // A maker may note whom it is for; a buyer's book is the buyer's own.
    let note = desk.plan.with_untracked(|plan| {
        plan.offer().is_none().then(|| Back::Copies(Return::Note(plan.revision().mark.clone())))
    });
    let ending = match chapters.as_str() {
        WHOLE => ".pdf",
        "shop" => "-shop.pdf",
        _ => "-chapters.pdf",
    };
    desk.writing.set(true);
    backroom::ask(Ask::Pdf(plan, chapters), move |answer| {
        desk.writing.set(false);
        let name = files::file_name(&title, ending);
        let saved = match answer {
            Answer::Pdf(bytes) => files::save(&name, "application/pdf", &bytes),
            Answer::Failed(sentence) => Err(sentence),
            _ => Err("The book was not written.".into()),
        };
        match saved {
            Ok(()) => desk.tell(false, format!("Saved as {name}."), note),
            Err(sentence) => desk.tell(true, sentence, None),
        }
    });
}

/// Ends the writing of the book to a file.
fn stop_book_file(desk: Desk) {
    if backroom::give_up(Room::Book, |ask| matches!(ask, Ask::Pdf(..))) {
        desk.writing.set(false);
        desk.tell(
            false,
            "The writing of the book was stopped; no file was saved. “Save the book” begins anew.",
            None,
        );
        // The button that was pressed is gone.
        page::focus_soon("save-book");
    }
}

/// Opens a file the maker chose or dropped: a plan, a book with its plan inside, or a file of many plans.
pub fn open(desk: Desk, keeper: Keeper, file: web_sys::File) {
    files::read(file, move |name, bytes| {
        spawn_local(async move {
            if let Err(why) = opened(desk, keeper, &name, bytes).await {
                desk.tell(true, format!("{name} was not opened, and your work is as it was. {why}"), None);
            }
        });
    });
}

async fn opened(
    desk: Desk,
    keeper: Keeper,
    name: &str,
    bytes: Result<Vec<u8>, String>,
) -> Result<(), String> {
    let bytes = bytes?;
    if name.to_lowercase().ends_with(".csv") {
        return keeper.open_copies(name, bytes).await;
    }
    if let Some(many) = shelf::read_all(&bytes) {
        let said = keeper.take_in(name, many?).await?;
        desk.tell(false, said, None);
        keeper.visit(&Place::Start);
        return Ok(());
    }
    let (plan, remarks) = plans::read(bytes).await?;
    let remarks: String = remarks.iter().take(3).map(|remark| format!(" {remark}")).collect();
    let (said, before) = keeper.open_plan(name, plan).await;
    let before = before.filter(|place| *place != Place::Start);
    desk.tell(false, format!("{said}{remarks}"), before.map(Back::Place));
    Ok(())
}
