//! Which chapters the book has when it is shown and saved.
//!
//! In: the form. Out: the choice.
//! Always true: what is chosen is what is shown and what is saved; a book of no chapter is refused with a sentence.

use crate::core::{chapter_keys, read_chapters};
use crate::desk::Desk;
use crate::form::WHOLE;
use leptos::prelude::*;

/// The sheets for the workshop.
const SHOP: &str = "shop";

/// A chapter in plain words.
fn words(key: &str) -> &'static str {
    match key {
        "table" => "The table, drawn and told",
        "motion" => "How it moves",
        "sizes" => "Given and solved sizes",
        "lists" => "Lists: pieces, hardware, tools, stock",
        "cutting" => "Cutting layouts",
        "assembly" => "Drawings of the whole table",
        "drawings" => "A sheet for each part",
        "jigs" => "Jigs and set-ups",
        "steps" => "Building it, step by step",
        "adjusting" => "Setting up and remedies",
        "strength" => "Strength and safety figures",
        "templates" => "Full-size templates (about a hundred sheets of paper)",
        "revisions" => "Notes and revisions",
        "index" => "Glossary and index of sizes",
        _ => "A chapter",
    }
}

/// The choice.
#[component]
pub fn ChaptersChoice() -> impl IntoView {
    let desk = Desk::here();
    let wrong = RwSignal::new(String::new());
    let pick = move |keys: &str| {
        let outcome = desk.form.try_update(|form| form.pick_chapters(keys)).unwrap_or(Ok(()));
        wrong.set(outcome.err().unwrap_or_default());
    };
    let chosen = move || desk.chapters.with(|keys| read_chapters(keys).unwrap_or_default());
    let manner = move || {
        desk.chapters.with(|keys| if keys == WHOLE || keys == SHOP { keys.clone() } else { "some".into() })
    };
    let some = move |_| {
        let keys = chosen().join(",");
        pick(&keys);
    };
    let toggle = move |key: &'static str, on: bool| {
        let now = chosen();
        let keys: Vec<&str> =
            chapter_keys().filter(|one| if *one == key { on } else { now.contains(one) }).collect();
        pick(&keys.join(","));
    };
    view! {
        <div class="row">
            <span id="chapters-name">"The book has"</span>
            <fieldset class="either" aria-labelledby="chapters-name">
                <label>
                    <input type="radio" name="chapters" prop:checked=move || manner() == WHOLE on:change=move |_| pick(WHOLE)/>
                    "all of it"
                </label>
                <label>
                    <input type="radio" name="chapters" prop:checked=move || manner() == SHOP on:change=move |_| pick(SHOP)/>
                    "shop sheets only"
                </label>
                <label>
                    <input type="radio" name="chapters" prop:checked=move || manner() == "some" on:change=some/>
                    "chosen chapters"
                </label>
            </fieldset>
        </div>
        <Show when=move || manner() == "some">
            <fieldset class="chapters">
                <legend class="unseen">"Chapters of the book"</legend>
                {chapter_keys().map(|key| view! {
                    <label>
                        <input
                            type="checkbox"
                            prop:checked=move || chosen().contains(&key)
                            on:change:target=move |event| {
                                let on = event.target().checked();
                                toggle(key, on);
                                // A refused choice changes nothing, and the box must say so.
                                event.target().set_checked(chosen().contains(&key));
                            }
                        />
                        {words(key)}
                    </label>
                }).collect::<Vec<_>>()}
            </fieldset>
        </Show>
        <div aria-live="polite">
            {move || wrong.with(|why| (!why.is_empty()).then(|| view! {
                <p class="wrong"><span aria-hidden="true">"✗"</span><span>{why.clone()}</span></p>
            }))}
        </div>
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_chapter_has_words_of_its_own() {
        let mut all: Vec<&str> = chapter_keys().map(words).collect();
        let count = all.len();
        all.sort_unstable();
        all.dedup();
        assert_eq!(all.len(), count);
        assert!(!all.contains(&"A chapter"));
    }
}
