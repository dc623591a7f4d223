//! The app's root: lays out the bench and keeps the work.
//!
//! In: the work kept from last time. Out: the whole page.
//! Always true: work that cannot be read is put aside and said, and the app opens all the same.

use super::{bar, checks, drawing, drop, notices, numbers, options, pages, sizes, steps, strength, turner};
use crate::browser::store;
use crate::core::Plan;
use crate::desk::{Desk, Keeping};
use crate::form::Form;
use crate::kept::{self, Work};
use leptos::leptos_dom::helpers::TimeoutHandle;
use leptos::prelude::*;
use std::time::Duration;

/// How long the work rests before it is kept: short enough to lose nothing, long enough not to write every frame.
const REST: Duration = Duration::from_millis(250);

/// The whole app.
#[component]
pub fn App() -> impl IntoView {
    let (work, trouble) = open_kept();
    let desk = Desk::lay(work);
    if let Some(trouble) = trouble {
        desk.tell(true, trouble, None);
    }
    keep_from_now_on(desk);
    view! {
        <a class="skip" href="#sizes">"To the sizes"</a>
        <bar::Bar/>
        <notices::Notices/>
        <main class="book">
            <section class="spread" aria-label="The table and its sizes">
                <div class="leaf-page">
                    <div class="stay">
                        <drawing::Drawing/>
                        <turner::Turner/>
                    </div>
                </div>
                <div class="leaf-page" id="sizes">
                    <sizes::Sizes/>
                    <options::Options/>
                </div>
            </section>
            <section class="spread" aria-label="Checks and numbers">
                <div class="leaf-page" id="checks">
                    <checks::Checks/>
                </div>
                <div class="leaf-page" id="numbers">
                    <strength::Strengths/>
                    <numbers::Numbers/>
                </div>
            </section>
            <section class="spread whole" id="steps" aria-label="Build steps">
                <div class="leaf-page">
                    <steps::Steps/>
                </div>
            </section>
            <section class="spread whole" id="book" aria-label="The book">
                <div class="leaf-page">
                    <pages::Pages/>
                </div>
            </section>
        </main>
        <nav class="tabs" aria-label="Parts of the page">
            <a href="#sizes">"Sizes"</a>
            <a href="#checks">"Checks"</a>
            <a href="#numbers">"Numbers"</a>
            <a href="#steps">"Steps"</a>
            <a href="#book">"Book"</a>
        </nav>
        <drop::Drop/>
    }
}

/// The work kept earlier, or the usual plan; with a sentence when something kept could not be read.
fn open_kept() -> (Work, Option<String>) {
    let fresh = || Work { form: Form::new(Plan::default_metric()), share: 0.0 };
    let Some(text) = store::kept() else { return (fresh(), None) };
    match kept::read(&text) {
        Ok(work) => (work, None),
        Err(why) => {
            store::put_aside(&text);
            let sentence = format!(
                "The work kept in this browser could not be read ({}). It was put aside, and the usual sizes are shown.",
                why.trim_end_matches('.')
            );
            (fresh(), Some(sentence))
        }
    }
}

/// Keeps the work shortly after every change, and at once when the page is left.
fn keep_from_now_on(desk: Desk) {
    let waiting = StoredValue::new(None::<TimeoutHandle>);
    let keep_now = move || {
        let work = Work { form: desk.form.get_untracked(), share: desk.share.get_untracked() };
        desk.keeping.set(match store::keep(&kept::write(&work)) {
            Ok(()) => Keeping::Kept,
            Err(why) => Keeping::Failed(why),
        });
    };
    Effect::new(move |before: Option<()>| {
        desk.form.track();
        desk.share.track();
        if before.is_none() {
            return;
        }
        if desk.keeping.get_untracked() == Keeping::Kept {
            desk.keeping.set(Keeping::Waiting);
        }
        if let Some(handle) = waiting.get_value() {
            handle.clear();
        }
        waiting.set_value(set_timeout_with_handle(keep_now, REST).ok());
    });
    let on_leave = window_event_listener_untyped("pagehide", move |_| keep_now());
    on_cleanup(move || on_leave.remove());
}
