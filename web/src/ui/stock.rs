//! Stock on hand, and the thicknesses measured on it.
//!
//! In: the form. Out: edits.
//! Always true: sheets decide the layouts and what to buy, never the table; a measured thickness decides the table
//! and is marked in the book; an edit that cannot be used stays in its row with a sentence.

use super::typed::{Typed, Wrongs};
use crate::core::{STOCK_KINDS, field, say_length};
use crate::desk::Desk;
use crate::stock::{Row, SOLD, far, kind_words};
use leptos::prelude::*;

/// Lengths of the stock that have a box.
const LENGTHS: [&str; 3] = ["stock.kerf", "stock.margin", "stock.board"];

/// The sheets as rows; the usual one when none were typed.
fn rows(desk: Desk) -> Vec<Row> {
    desk.form.with(|form| {
        let typed = form.plan().typed_sheets();
        if typed.is_empty() {
            return form.plan().stock().sheets.iter().map(|sheet| Row::split(&sheet.name)).collect();
        }
        typed.iter().map(|text| Row::split(text)).collect()
    })
}

/// Sets the rows; a refusal is one sentence and changes nothing.
fn set(desk: Desk, rows: &[Row]) -> Result<(), String> {
    let texts: Vec<String> = rows.iter().map(Row::join).collect();
    desk.form.try_update(|form| form.resheet(&texts)).unwrap_or(Ok(()))
}

/// Sheets, kerf, margin and boards on hand.
#[component]
pub fn OnHand() -> impl IntoView {
    let desk = Desk::here();
    let count = Memo::new(move |_| rows(desk).len());
    let usual = move || desk.form.with(|form| form.plan().typed_sheets().is_empty());
    let (own, wrong) = (RwSignal::new(String::new()), RwSignal::new(String::new()));
    let add = move |text: &str| {
        let mut all = if usual() { Vec::new() } else { rows(desk) };
        all.push(Row::split(text));
        let outcome = set(desk, &all);
        let taken = outcome.is_ok();
        wrong.set(outcome.err().unwrap_or_default());
        taken
    };
    let add_own = move |event: web_sys::SubmitEvent| {
        event.prevent_default();
        if own.with_untracked(|own| own.trim().is_empty()) {
            wrong.set("Type the size of your sheet first, for example 1250x2500mm.".into());
        } else if add(&own.get_untracked()) {
            own.set(String::new());
        }
    };
    let sold = SOLD.map(|(typed, words)| {
        view! {
            <button type="button" class="small" aria-label=format!("Add sheets of {words}") on:click=move |_| { add(typed); }>
                {words}
            </button>
        }
    });
    let empty = |id: &'static str| {
        Signal::derive(move || {
            let key = id.trim_start_matches("stock.");
            let said = desk.form.with(|form| form.plan().understand_stock(key, "").unwrap_or_default());
            said.split(" (").next().unwrap_or_default().to_string()
        })
    };
    view! {
        <section class="passage stock" aria-labelledby="passage-on-hand">
            <h3 id="passage-on-hand">"Sheets and boards on hand"</h3>
            <p class="small-words">
                "Cutting layouts and the list of stock to buy follow them; the table does not change."
                {move || usual().then_some(" Nothing is typed yet: this is the usual sheet.")}
            </p>
            <ul class="sheets-on-hand">
                {move || (0..count.get()).map(|place| view! { <Sheet place/> }).collect::<Vec<_>>()}
            </ul>
            <div class="row">
                <span>"Add sheets of"</span>
                {sold.into_iter().collect::<Vec<_>>()}
            </div>
            <form class="row" on:submit=add_own>
                <label for="own-sheet">"or of your own size"</label>
                <input
                    id="own-sheet"
                    type="text"
                    autocomplete="off"
                    spellcheck="false"
                    placeholder="1250x2500mm"
                    aria-describedby="own-sheet-wrong"
                    prop:value=move || own.get()
                    on:input:target=move |event| own.set(event.target().value())
                />
                <button type="submit" class="small">"Add"</button>
            </form>
            <div aria-live="polite" id="own-sheet-wrong">
                {move || wrong.with(|why| (!why.is_empty()).then(|| view! {
                    <p class="wrong"><span aria-hidden="true">"✗"</span><span>{why.clone()}</span></p>
                }))}
            </div>
            <p class="said">
                "The saw takes away "
                <span class="unbroken"><Typed id="stock.kerf" label="Saw kerf".to_string() empty=empty("stock.kerf")/>";"</span>
                " along each edge of a sheet " <Typed id="stock.margin" label="Edge margin of the sheets".to_string() empty=empty("stock.margin")/>
                " stay unused. Boards, dowels and bars are " <Typed id="stock.board" label="Length of boards".to_string() empty=empty("stock.board")/>
                " long as bought."
            </p>
            <Wrongs ids=&LENGTHS/>
        </section>
    }
}

/// One row of sheets.
#[component]
fn Sheet(place: usize) -> impl IntoView {
    let desk = Desk::here();
    let known = Memo::new(move |_| rows(desk).get(place).cloned().unwrap_or_default());
    let typed = RwSignal::new(known.get_untracked());
    let wrong = RwSignal::new(String::new());
    // What is undone or opened shows; what was refused stays until it is mended.
    Effect::new(move |_| {
        typed.set(known.get());
        wrong.set(String::new());
    });
    let change = move |deed: &dyn Fn(&mut Row)| {
        let mut row = typed.get_untracked();
        deed(&mut row);
        typed.set(row.clone());
        let mut all = rows(desk);
        if let Some(mine) = all.get_mut(place) {
            *mine = row;
        }
        wrong.set(set(desk, &all).err().unwrap_or_default());
    };
    let remove = move |_| {
        let mut all = rows(desk);
        if place < all.len() {
            all.remove(place);
        }
        if let Err(why) = set(desk, &all) {
            wrong.set(why);
        }
    };
    let number = place + 1;
    let kinds = ["", "top", "plate", "base", "slide", "steel", "plastic"];
    debug_assert_eq!(kinds.len(), STOCK_KINDS.len() + 1);
    let offers = kinds.map(|kind| {
        view! { <option value=kind selected=move || typed.with(|row| row.kind == kind)>{kind_words(kind)}</option> }
    });
    view! {
        <li>
            <div class="row">
                <input
                    type="text"
                    class="sheet-size"
                    autocomplete="off"
                    spellcheck="false"
                    aria-label=format!("Size of sheet {number}")
                    aria-invalid=move || wrong.with(|why| (!why.is_empty()).to_string())
                    prop:value=move || typed.with(|row| row.size.clone())
                    on:change:target=move |event| change(&|row| row.size = event.target().value())
                />
                <label>
                    <span>"how many"</span>
                    <input
                        type="text"
                        class="sheet-count"
                        inputmode="numeric"
                        autocomplete="off"
                        placeholder="any"
                        prop:value=move || typed.with(|row| row.count.clone())
                        on:change:target=move |event| change(&|row| row.count = event.target().value())
                    />
                </label>
                <label>
                    <span>"kept for"</span>
                    <select on:change:target=move |event| change(&|row| row.kind = event.target().value())>{offers.into_iter().collect::<Vec<_>>()}</select>
                </label>
                <button type="button" class="plain" aria-label=format!("Take out: sheet {number}") on:click=remove>"Take out"</button>
            </div>
            <div aria-live="polite">
                {move || wrong.with(|why| (!why.is_empty()).then(|| view! {
                    <p class="wrong"><span aria-hidden="true">"✗"</span><span>{why.clone()}</span></p>
                }))}
            </div>
        </li>
    }
}

/// What each nominal thickness is used for, by the key of its size.
const USED: [(&str, &str, &str); 5] = [
    ("stock_thickness", "measured.stock_thickness", "Panels, leaves and star"),
    ("plate_thickness", "measured.plate_thickness", "Turning plate and rising plate"),
    ("ply_thickness", "measured.ply_thickness", "Each of the two sheets of the base"),
    ("slide_thickness", "measured.slide_thickness", "Slides"),
    ("arm_thickness", "measured.arm_thickness", "Arms"),
];

/// Boxes of the measured thicknesses.
const MEASURED: [&str; 5] = [
    "measured.stock_thickness",
    "measured.plate_thickness",
    "measured.ply_thickness",
    "measured.slide_thickness",
    "measured.arm_thickness",
];

/// Measured thicknesses; complete in itself, so that a view with fewer sizes can show it too.
#[component]
pub fn Measured() -> impl IntoView {
    let desk = Desk::here();
    let planned = move |key: &'static str| {
        desk.plan.with(|plan| plan.length(key).map_or(String::new(), |length| say_length(plan, length.mm())))
    };
    let slips = move || {
        desk.plan.with(|plan| {
            let slip = |(key, _, _): &(&'static str, &str, &str)| {
                let (planned, measured) = (plan.length(key)?.mm(), plan.measured(key)?.mm());
                far(planned, measured).then(|| {
                    format!(
                        "{}: {} is far from the {} of the plan; measure again.",
                        field(key).map_or("", |field| field.label),
                        say_length(plan, measured),
                        say_length(plan, planned)
                    )
                })
            };
            USED.iter().filter_map(slip).collect::<Vec<_>>()
        })
    };
    let any =
        move || desk.plan.with(|plan| USED.iter().filter(|(key, _, _)| plan.measured(key).is_some()).count());
    let list = USED.map(|(key, id, words)| {
        let label = format!("{}, measured", field(key).map_or("", |field| field.label));
        view! {
            <li>
                <span class="what">{words} " " <small>{move || format!("{} in the plan", planned(key))}</small></span>
                <Typed id=id label=label empty=Signal::derive(|| "not measured".to_string())/>
            </li>
        }
    });
    view! {
        <section class="passage stock" aria-labelledby="passage-measured">
            <h3 id="passage-measured">"Thickness measured on your own sheets"</h3>
            <p class="small-words">
                "Type what the calipers say. Slots, grooves, heights, layouts and pages all follow; the book prints † behind every number that came from a measurement."
            </p>
            <ul class="measured">{list.into_iter().collect::<Vec<_>>()}</ul>
            <Wrongs ids=&MEASURED/>
            <div aria-live="polite">
                <For each=slips key=|text| text.clone() let(text)>
                    <p class="help">{text.clone()}</p>
                </For>
                {move || match any() {
                    0 => None,
                    1 => Some(view! { <p class="help">"One measured thickness stands in place of the plan's."</p> }),
                    _ => Some(view! { <p class="help">"Measured thicknesses stand in place of the plan's."</p> }),
                }}
            </div>
        </section>
    }
}
