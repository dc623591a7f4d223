//! A part of a plan's page that folds to one line, and the line that opens or folds them all.
//!
//! In: what is in it, and one line about how it stands. Out: the part.
//! Always true: a folded part is still found by the browser's own search and by links, which open it; whoever works by
//! keyboard or by ear has a button that says whether it is open.

use super::marks;
use crate::browser::store;
use crate::keeper::Keeper;
use crate::parts::{Memory, Open, PARTS};
use crate::place::Place;
use leptos::prelude::*;

/// Where the memory lies.
const KEPT: &str = "turnleaf/parts";

/// Which parts stand open.
#[derive(Clone, Copy)]
pub struct Parts {
    open: RwSignal<Open>,
    keeper: Keeper,
}

fn memory() -> Memory {
    store::get(KEPT).map(|text| Memory::read(&text)).unwrap_or_default()
}

impl Parts {
    /// Begins, and follows the place from then on.
    pub fn provide(keeper: Keeper) {
        let open = RwSignal::new(memory().last().unwrap_or_default());
        Effect::new(move |_| {
            // A plan without a memory of its own keeps what is open now.
            let place = keeper.place.get().filter(|place| *place != Place::Start);
            if let Some(own) = place.and_then(|place| memory().at(&place.hash())) {
                open.set(own);
            }
        });
        provide_context(Parts { open, keeper });
    }

    fn here() -> Option<Parts> {
        use_context()
    }

    fn note(self) {
        let Some(place) = self.keeper.place.get_untracked() else { return };
        let mut memory = memory();
        self.open.with_untracked(|open| memory.note(&place.hash(), open));
        // Refused only where nothing can be kept, which the page says anyway.
        let _ = store::put(KEPT, &memory.write());
    }

    fn put(self, part: &str, open: bool) {
        let mut now = self.open.get_untracked();
        if now.put(part, open) {
            self.open.set(now);
            self.note();
        }
    }

    fn put_every(self, open: bool) {
        self.open.set(Open::every(open));
        self.note();
    }
}

/// A part. `says` stands beside its title while it is folded; `bad` when that is something to look at.
#[component]
pub fn Part(
    /// Its name in the memory.
    part: &'static str,
    /// Its place in the page, for links.
    id: &'static str,
    /// Its title.
    title: &'static str,
    /// How it stands, in one line.
    says: Signal<String>,
    /// Whether that wants looking at.
    #[prop(optional, into)]
    bad: Signal<bool>,
    /// One column instead of two facing pages.
    #[prop(optional)]
    whole: bool,
    children: Children,
) -> impl IntoView {
    let parts = Parts::here();
    let open = Memo::new(move |_| parts.is_none_or(|parts| parts.open.with(|open| open.has(part))));
    let put = move |open: bool| {
        if let Some(parts) = parts {
            parts.put(part, open);
        }
    };
    let body = format!("part-{part}");
    view! {
        <section class="part" class:folded=move || !open.get() id=id aria-label=title>
            <h2 class="part-head">
                <button
                    type="button"
                    aria-expanded=move || open.get().to_string()
                    aria-controls=body.clone()
                    on:click=move |_| put(!open.get_untracked())
                >
                    {marks::corner()}
                    <span class="part-title">{title}</span>
                    <Show when=move || !open.get()>
                        <span class="part-says" class:bad=move || bad.get()>
                            <Show when=move || bad.get()>{marks::fails()}</Show>
                            {move || says.get()}
                        </span>
                    </Show>
                </button>
            </h2>
            <div
                class="spread part-body"
                class:whole=whole
                id=body
                data-part=part
                hidden=move || (!open.get()).then_some("until-found")
                on:beforematch=move |_: leptos::ev::Event| put(true)
            >
                {children()}
            </div>
        </section>
    }
}

/// The line that opens or folds all.
#[component]
pub fn Every() -> impl IntoView {
    let parts = Parts::here();
    let count = move || {
        parts.map_or(0, |parts| parts.open.with(|open| PARTS.iter().filter(|part| open.has(part)).count()))
    };
    let press = move |open: bool| {
        if let Some(parts) = parts {
            parts.put_every(open);
        }
    };
    view! {
        <p class="parts-line">
            <span>"The rest of the plan, part by part"</span>
            <button type="button" class="plain" disabled=move || count() == PARTS.len() on:click=move |_| press(true)>
                "Open all parts"
            </button>
            <button type="button" class="plain" disabled=move || count() == 0 on:click=move |_| press(false)>
                "Fold all parts"
            </button>
        </p>
    }
}
