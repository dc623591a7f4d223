//! Every number that was worked out.
//!
//! In: the build. Out: a table in the units chosen.
//! Always true: rows stand in the order of the book.

use super::rows;
use crate::core::{Number, PrintChoice};
use crate::desk::{Desk, Proved};
use leptos::prelude::*;

/// The table.
#[component]
pub fn Numbers() -> impl IntoView {
    let desk = Desk::here();
    let units = Memo::new(move |_| desk.form.with(|form| form.plan().options().print.units));
    let (mm, inch) = (move || units.get() != PrintChoice::Inch, move || units.get() != PrintChoice::Mm);
    let numbers = Memo::new(move |_| match desk.proved.get() {
        Proved::Done(found) => found.numbers.clone(),
        Proved::Waiting | Proved::Failed(_) => Vec::new(),
    });
    view! {
        <h2>"What was worked out"</h2>
        <p class="lead">"Every number follows from your sizes; its rule stands below its name."</p>
        <div class="scroll" tabindex="0" role="region" aria-label="Numbers that were worked out">
            <table>
                <thead>
                    <tr>
                        <th scope="col">"Number"</th>
                        {move || mm().then(|| view! { <th scope="col" class="figure">"mm"</th> })}
                        {move || inch().then(|| view! { <th scope="col" class="figure">"inches"</th> })}
                    </tr>
                </thead>
                <tbody>
                    <For each=move || numbers.get() key=|number| number.id.clone() let(number)>
                        <Row number numbers units/>
                    </For>
                </tbody>
            </table>
        </div>
    }
}

/// A row; of a number that is there again only the words that changed are written anew.
#[component]
fn Row(number: Number, numbers: Memo<Vec<Number>>, units: Memo<PrintChoice>) -> impl IntoView {
    let id = number.id.clone();
    let now = rows::now(numbers, number, |number| &number.id);
    let word = move |of: fn(&Number) -> &String| {
        let word = Memo::new(move |_| now.with(|now| of(now).clone()));
        move || word.get()
    };
    let (mm, inch) = (move || units.get() != PrintChoice::Inch, move || units.get() != PrintChoice::Mm);
    view! {
        <tr data-number=id>
            <th scope="row">{word(|number| &number.label)} " " <small>{word(|number| &number.rule)}</small></th>
            {move || mm().then(|| view! { <td class="figure">{word(|number| &number.text_mm)}</td> })}
            {move || inch().then(|| view! { <td class="figure">{word(|number| &number.text_in)}</td> })}
        </tr>
    }
}
