//! Opening a plan or a book from an address: typed, or behind `#open=` in the page's own address.
//!
//! In: an address. Out: the plan on the bench, if the visitor says so twice.
//! Always true: nothing is asked of an address before the visitor agreed to it by its host; nothing on the bench is
//! replaced before they agreed to that; what was there can be brought back.

use crate::addresses::{self, Address};
use crate::browser::fetch::{Fetched, Stop, fetch};
use crate::browser::plans;
use crate::core::Plan;
use crate::desk::{Back, Desk};
use crate::keeper::Keeper;
use crate::place::Place;
use leptos::{ev, prelude::*};
use std::time::Duration;

/// Largest file fetched: a book of many pictures has some 10 MB.
const MOST: usize = 20_000_000;
/// How long an address is waited for.
const PATIENCE: Duration = Duration::from_secs(60);

/// How far opening from an address has come.
#[derive(Clone, PartialEq)]
enum Step {
    Idle,
    /// An address is typed.
    Typing,
    /// May it be fetched?
    Ask(Address),
    /// Under way.
    Busy(Address),
    /// May it replace what is on the bench?
    Got {
        from: String,
        plan: Box<Plan>,
        remarks: Vec<String>,
    },
    /// It did not work; one sentence.
    Failed(String),
}

/// Where opening from an address stands; shared by the button and the question.
#[derive(Clone, Copy)]
pub struct Opening(RwSignal<Step>);

impl Opening {
    /// Puts it up for all components below.
    pub fn provide() {
        provide_context(Opening(RwSignal::new(Step::Idle)));
    }
}

/// The button that asks for an address.
#[component]
pub fn Opener() -> impl IntoView {
    let Opening(step) = expect_context::<Opening>();
    view! {
        <button type="button" on:click=move |_| step.set(Step::Typing)>"Open from an address"</button>
    }
}

/// What the page's own address asks for.
fn fragment() -> Option<String> {
    let hash = web_sys::window()?.location().hash().ok()?;
    let asked = addresses::asked_for(&hash)?.to_string();
    // Some senders write the address encoded; one that is not stays as it is.
    let plain = js_sys::decode_uri_component(&asked).ok().and_then(|t| t.as_string());
    Some(match plain {
        Some(plain) if !asked.contains("://") => plain,
        _ => asked,
    })
}

/// Takes the wish out of the page's address, so that a reload does not ask again.
fn forget() {
    let Some(window) = web_sys::window() else { return };
    let path = window.location().pathname().unwrap_or_default();
    // A browser that refuses asks once more at the next visit.
    let _ = window.history().map(|h| h.replace_state_with_url(&wasm_bindgen::JsValue::NULL, "", Some(&path)));
}

/// The questions and answers.
#[component]
pub fn Fetch() -> impl IntoView {
    let desk = Desk::here();
    let keeper = Keeper::here();
    let Opening(step) = expect_context::<Opening>();
    let stop = StoredValue::new_local(None::<Stop>);
    let typed = RwSignal::new(String::new());
    let begin = move |text: &str| match addresses::read(text) {
        Ok(address) => step.set(Step::Ask(address)),
        Err(sentence) => step.set(Step::Failed(sentence)),
    };
    let look = move || {
        if let Some(text) = fragment() {
            forget();
            begin(&text);
        }
    };
    look();
    let listener = window_event_listener(ev::hashchange, move |_| look());
    on_cleanup(move || listener.remove());
    let get = move |address: Address| {
        let Some(handle) = Stop::new() else {
            step.set(Step::Failed(
                "This browser is too old to fetch from an address; download the file and open it.".into(),
            ));
            return;
        };
        stop.set_value(Some(handle.clone()));
        step.set(Step::Busy(address.clone()));
        let late = handle.clone();
        set_timeout(move || late.now(), PATIENCE);
        leptos::task::spawn_local(async move {
            let got = fetch(&address.whole, &address.host, MOST, &handle).await;
            // Given up meanwhile: nobody waits for it.
            if step.with_untracked(|s| !matches!(s, Step::Busy(waiting) if *waiting == address)) {
                return;
            }
            let opened = match got {
                Ok(Fetched { bytes, from }) => {
                    plans::read(bytes).await.map(|(plan, remarks)| (from, plan, remarks))
                }
                Err(sentence) => Err(sentence),
            };
            step.set(match opened {
                Ok((from, plan, remarks)) => {
                    let remarks = remarks.into_iter().take(3).collect();
                    Step::Got { from, plan: Box::new(plan), remarks }
                }
                Err(sentence) => Step::Failed(sentence),
            });
        });
    };
    let leave = move |_| {
        if let Some(handle) = stop.get_value() {
            handle.now();
        }
        step.set(Step::Idle);
    };
    let take = move |_| {
        if let Step::Got { from, plan, remarks } = step.get_untracked() {
            let said: String = remarks.iter().map(|r| format!(" {r}")).collect();
            leptos::task::spawn_local(async move {
                let (opened, before) = keeper.open_plan(&from, *plan).await;
                let before = before.filter(|place| *place != Place::Start);
                desk.tell(false, format!("{opened}{said}"), before.map(Back::Place));
            });
        }
        step.set(Step::Idle);
    };
    let submit = move |event: ev::SubmitEvent| {
        event.prevent_default();
        begin(&typed.get_untracked());
    };
    let shown = move || match step.get() {
        Step::Idle => ().into_any(),
        Step::Typing => view! {
            <form on:submit=submit>
                <label>
                    "Address of the plan or book"
                    <input
                        type="text"
                        inputmode="url"
                        id="open-address"
                        autofocus
                        placeholder="https://"
                        autocomplete="off"
                        spellcheck="false"
                        prop:value=move || typed.get()
                        on:input:target=move |e| typed.set(e.target().value())
                    />
                </label>
                <button type="submit">"Go on"</button>
                <button type="button" on:click=leave>"Never mind"</button>
            </form>
        }
        .into_any(),
        Step::Ask(address) => {
            let (host, whole, open) = (address.host.clone(), address.whole.clone(), address.open);
            view! {
                <p>"Fetch a plan from " <span class="host">{host}</span> "? Only its address and yours are known to it; no cookie and nothing of your work goes along."</p>
                <p><code>{whole}</code></p>
                {open.then(|| view! { <p class="quiet">"It is not asked over https, so anyone on the way could read or change the file."</p> })}
                <div class="deeds">
                    <button type="button" class="main" on:click=move |_| get(address.clone())>"Fetch it"</button>
                    <button type="button" on:click=leave>"Leave it"</button>
                </div>
            }
            .into_any()
        }
        Step::Busy(address) => view! {
            <p>"Fetching from " <span class="host">{address.host}</span> " …"</p>
            <div class="deeds"><button type="button" on:click=leave>"Stop"</button></div>
        }
        .into_any(),
        Step::Got { from, plan, .. } => {
            let texts = plan.texts();
            let title = if texts.title.trim().is_empty() {
                "a plan without a name".to_string()
            } else {
                format!("“{}”", texts.title)
            };
            let maker =
                if texts.maker.trim().is_empty() { String::new() } else { format!(" by {}", texts.maker) };
            let kind = if plan.offer().is_some() { ", a plan for buyers" } else { "" };
            let mark = plan.revision().mark.clone();
            view! {
                <p>{format!("It is {title}{maker}{kind}, revision {mark}. Open it? Your own plans stay as they are, on the start page.")}</p>
                <p class="quiet"><code>{from}</code></p>
                <div class="deeds">
                    <button type="button" class="main" on:click=take>"Open it"</button>
                    <button type="button" on:click=leave>"Leave it"</button>
                </div>
            }
            .into_any()
        }
        Step::Failed(sentence) => view! {
            <p>{format!("Nothing was opened, and your work is as it was. {sentence}")}</p>
            <div class="deeds">
                <button type="button" on:click=move |_| step.set(Step::Typing)>"Another address"</button>
                <button type="button" on:click=leave>"Close"</button>
            </div>
        }
        .into_any(),
    };
    let asking = Memo::new(move |_| step.with(|s| *s != Step::Idle));
    // A question that appears above must be heard; the keyboard goes to it.
    let place = NodeRef::<leptos::html::Div>::new();
    Effect::new(move |_| {
        step.track();
        if let Some(div) = place.get() {
            let focus = move || {
                let first = div.query_selector("input, button").ok().flatten();
                if let Some(first) =
                    first.and_then(|f| wasm_bindgen::JsCast::dyn_into::<web_sys::HtmlElement>(f).ok())
                {
                    // An element that is gone keeps the keyboard where it was.
                    let _ = first.focus();
                }
            };
            set_timeout(focus, Duration::ZERO);
        }
    });
    view! {
        <Show when=move || asking.get()>
            <section class="ask" aria-label="Opening from an address" aria-live="polite">
                <div node_ref=place>{shown}</div>
            </section>
        </Show>
    }
}
