//! Every number that was worked out.
//!
//! In: the build. Out: a table in the units chosen.
//! Always true: rows stand in the order of the book.

use crate::core::PrintChoice;
use crate::desk::{Desk, Proved};
use leptos::prelude::*;

/// The table.
#[component]
pub fn Numbers() -> impl IntoView {
    let desk = Desk::here();
    let units = Memo::new(move |_| desk.form.with(|form| form.plan().options().print.units));
    let (mm, inch) = (move || units.get() != PrintChoice::Inch, move || units.get() != PrintChoice::Mm);
    let rows = move || {
        let Proved::Done(found) = desk.proved.get() else { return Vec::new() };
        let numbers = found.numbers.clone();
        let row = |number: crate::core::Number| {
            view! {
                <tr data-number=number.id.clone()>
                    <th scope="row">{number.label} <small>{number.rule}</small></th>
                    {mm().then(|| view! { <td class="figure">{number.text_mm.clone()}</td> })}
                    {inch().then(|| view! { <td class="figure">{number.text_in.clone()}</td> })}
                </tr>
            }
        };
        numbers.into_iter().map(row).collect::<Vec<_>>()
    };
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
                <tbody>{rows}</tbody>
            </table>
        </div>
    }
}
