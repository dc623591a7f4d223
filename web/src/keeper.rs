//! Keeps the work: every letter at once, every change shortly after, every plan under its own name.
//!
//! In: the state of the desk, other tabs, places gone to. Out: plans kept, opened, copied, taken away.
//! Always true: a letter is written down before anything is worked out from it; nothing kept is written over that
//! this tab does not know; what cannot be kept is held and said; what cannot be read is put aside.

mod copies;
mod deeds;
mod opening;
mod together;

use crate::browser::archive::{self, Fault, Put};
use crate::browser::{address, js, store, tabs};
use crate::desk::{Desk, Keeping};
use crate::form::Form;
use crate::kept::{self, Work};
use crate::place::Place;
use crate::shelf::{Aside, Card, Last};
use leptos::leptos_dom::helpers::TimeoutHandle;
use leptos::prelude::*;
use leptos::reactive::effect::ImmediateEffect;
use leptos::task::spawn_local;
use std::time::Duration;

pub use copies::{Copies, Entry};

/// How long the work rests before it is kept: short enough to lose nothing, long enough not to write every frame.
const REST: Duration = Duration::from_millis(250);
/// How long until keeping is tried again after it failed.
const AGAIN: Duration = Duration::from_secs(8);
/// How long between looks at other tabs, while there are any.
const LOOK: Duration = Duration::from_secs(2);
/// How long a plan has to stand before its opening counts as done.
const STOOD: Duration = Duration::from_secs(3);
/// Openings that broke the app, after which a plan is not opened by itself any more.
const BROKE: u32 = 2;
/// Where breakdowns are counted, for this tab alone: the place and how often.
const BROKEN: &str = "turnleaf/broke";
/// Where it is noted that the browser would not promise to keep the plans.
const REFUSED: &str = "turnleaf/may-clear";
/// Where `loader.js` puts what stood in a box at a breakdown.
const TYPING: &str = "turnleaf/typing";

/// The plan that is open.
#[derive(Clone)]
struct Now {
    id: String,
    /// Stamp of the text this tab knows to be kept; none before the first keeping.
    base: Option<String>,
    /// The work as it is kept.
    body: String,
    /// The form in it.
    form: Form,
    note: String,
}

/// What the browser says about clearing its storage.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lasting {
    /// Not asked yet, or the browser does not say.
    Unknown,
    /// It keeps the plans until they are taken away.
    Promised,
    /// It may clear them when short of room.
    Refused,
}

/// Whoever keeps the work.
#[derive(Clone, Copy)]
pub struct Keeper {
    desk: Desk,
    /// Where one is; none until it is known.
    pub place: RwSignal<Option<Place>>,
    /// All plans, the one changed last first.
    pub cards: RwSignal<Vec<Card>>,
    /// What could not be read.
    pub asides: RwSignal<Vec<Aside>>,
    /// Other tabs that have this plan open.
    pub others: RwSignal<usize>,
    /// What the browser promised.
    pub lasting: RwSignal<Lasting>,
    /// Who has a copy of the plan that is open.
    pub copies: Copies,
    now: StoredValue<Option<Now>>,
    tab: StoredValue<String>,
    /// A writing under way.
    busy: StoredValue<bool>,
    /// Whether the last letters are written down somewhere.
    safe: StoredValue<bool>,
    asked: StoredValue<bool>,
    /// Counts the places gone to; what comes late for an earlier one is dropped.
    step: StoredValue<u64>,
    waiting: StoredValue<Option<TimeoutHandle>>,
    /// Whether a look at other tabs is due by itself.
    looking: StoredValue<bool>,
}

impl Keeper {
    /// Begins to keep the desk's work, opens what was open last, and hands itself to all components below.
    pub fn begin(desk: Desk) -> Keeper {
        let keeper = Keeper {
            desk,
            place: RwSignal::new(None),
            cards: RwSignal::new(Vec::new()),
            asides: RwSignal::new(Vec::new()),
            others: RwSignal::new(0),
            lasting: RwSignal::new(Lasting::Unknown),
            copies: Copies::new(),
            now: StoredValue::new(None),
            tab: StoredValue::new(String::new()),
            busy: StoredValue::new(false),
            safe: StoredValue::new(true),
            asked: StoredValue::new(false),
            step: StoredValue::new(0),
            waiting: StoredValue::new(None),
            looking: StoredValue::new(false),
        };
        provide_context(keeper);
        keeper.tab.set_value(tabs::join(move |word| keeper.heard(word)));
        keeper.watch();
        keeper.watch_copies();
        spawn_local(async move { keeper.start().await });
        keeper
    }

    /// The keeper, from any component.
    pub fn here() -> Keeper {
        expect_context::<Keeper>()
    }

    /// Follows every change, and the page being left.
    fn watch(self) {
        // Before any drawing or proof is begun, so that what breaks them costs no letter.
        let at_once = ImmediateEffect::new(move || {
            self.desk.form.track();
            untrack(|| self.write_down());
        });
        on_cleanup(move || drop(at_once));
        Effect::new(move |before: Option<()>| {
            self.desk.form.track();
            self.desk.share.track();
            if before.is_some() && self.now.with_value(Option::is_some) {
                self.keep_after(REST);
            }
        });
        let leave = move || {
            self.write_down();
            spawn_local(async move { self.keep().await });
        };
        let gone = window_event_listener_untyped("pagehide", move |_| leave());
        let back = window_event_listener_untyped("focus", move |_| {
            spawn_local(async move { self.look_elsewhere().await });
        });
        let warn = window_event_listener_untyped("beforeunload", move |event| {
            // Only what is written down nowhere is worth a question.
            if !self.safe.get_value() || archive::holds_any() {
                event.prevent_default();
            }
        });
        let moved = window_event_listener_untyped("hashchange", move |_| {
            if let Some(place) = Place::read(&address::hash())
                && self.place.get_untracked().as_ref() != Some(&place)
            {
                spawn_local(async move { self.go(place).await });
            }
        });
        for listener in [gone, back, warn, moved] {
            on_cleanup(move || listener.remove());
        }
    }

    /// Whether something was typed that is not kept yet.
    fn dirty(self) -> bool {
        // Asked at every frame of a turn: nothing is copied.
        self.desk.form.with_untracked(|form| {
            self.now.with_value(|now| now.as_ref().is_some_and(|now| now.form != *form))
        })
    }

    fn work(self) -> Work {
        Work { form: self.desk.form.get_untracked(), share: self.desk.share.get_untracked() }
    }

    /// Writes the last state down at once; the slower keeping takes it away again.
    fn write_down(self) {
        if !self.dirty() {
            return;
        }
        let Some(now) = self.now.get_value() else { return };
        let last =
            Last { id: now.id.clone(), base: now.base, body: kept::write(&self.work()), note: now.note };
        self.safe.set_value(self.tab.with_value(|tab| store::keep_last(tab, &last)).is_ok());
        // From its first change on, a demo is a plan of the maker's own.
        self.settle(now.id);
    }

    /// Makes a demo that is open a plan of the maker's own.
    fn settle(self, id: String) {
        if self.is_look() {
            let place = Place::Plan(id);
            address::rename(&place);
            store::note_open(&place.hash());
            self.place.set(Some(place));
        }
    }

    fn keep_after(self, rest: Duration) {
        if self.desk.keeping.get_untracked() == Keeping::Kept && self.dirty() {
            self.desk.keeping.set(Keeping::Waiting);
        }
        if let Some(handle) = self.waiting.get_value() {
            handle.clear();
        }
        let keep = move || spawn_local(async move { self.keep().await });
        self.waiting.set_value(set_timeout_with_handle(keep, rest).ok());
    }

    /// Keeps the work as it is now, and what is typed meanwhile.
    pub async fn keep(self) {
        if self.busy.get_value() {
            // Whoever is at it sees that there is more.
            return;
        }
        self.busy.set_value(true);
        while self.keep_once().await {}
        self.busy.set_value(false);
    }

    /// One writing; true when there is more to write.
    async fn keep_once(self) -> bool {
        let Some(now) = self.now.get_value() else { return false };
        let work = self.work();
        let body = kept::write(&work);
        // A demo that was only turned is no plan yet.
        if (body == now.body && now.base.is_some() && !archive::holds(&now.id))
            || (now.base.is_none() && work.form == now.form && self.is_look())
        {
            self.all_kept();
            return false;
        }
        let order = self.cards.with_untracked(|cards| cards.iter().map(|card| card.order).max().unwrap_or(0));
        let own = self
            .cards
            .with_untracked(|cards| cards.iter().find(|card| card.id == now.id).map(|card| card.order));
        let order = if own == Some(order) { order } else { order + 1 };
        let card = Card::of(&work, &now.id, &js::fresh(), js::now(), order, &now.note);
        match archive::put(&card, &body, now.base.as_deref()).await {
            Ok(Put::Done) => self.kept(card, body, work.form),
            Ok(Put::Other) => self.both(now, work).await,
            Err(fault) => {
                // Under the stamp that is kept, so that a later writing knows what it goes on from.
                let stamp = now.base.unwrap_or(card.stamp.clone());
                archive::hold(Card { stamp, ..card }, body);
                self.failed(&fault);
                false
            }
        }
    }

    fn is_look(self) -> bool {
        self.place.with_untracked(|place| matches!(place, Some(Place::Demo(_) | Place::Usual)))
    }

    fn all_kept(self) {
        if self.dirty() {
            return;
        }
        self.tab.with_value(|tab| store::forget_last(tab));
        self.safe.set_value(true);
        self.desk.keeping.set(Keeping::Kept);
    }

    fn kept(self, card: Card, body: String, form: Form) -> bool {
        tabs::say(&tabs::Word::Kept { id: card.id.clone(), stamp: card.stamp.clone() });
        let here = self.now.try_update_value(|now| match now {
            Some(now) if now.id == card.id => {
                (now.base, now.body, now.form) = (Some(card.stamp.clone()), body, form);
                true
            }
            _ => false,
        });
        self.cards.update(|cards| {
            cards.retain(|there| there.id != card.id);
            cards.insert(0, card);
        });
        if here != Some(true) {
            return false;
        }
        self.all_kept();
        // What was typed meanwhile goes on from the text that is kept now.
        self.write_down();
        self.ask_to_last();
        self.dirty()
    }

    fn failed(self, fault: &Fault) {
        self.desk.keeping.set(Keeping::Failed(fault.words()));
        self.keep_after(AGAIN);
    }

    /// Asks the browser once, after something of the maker's was kept, not to clear it.
    fn ask_to_last(self) {
        if self.asked.get_value() || self.lasting.get_untracked() == Lasting::Promised {
            return;
        }
        self.asked.set_value(true);
        spawn_local(async move {
            let answer = tabs::lasting(true).await;
            if answer == Some(false) {
                // Without room for this it is said at the next change again.
                let _ = store::put(REFUSED, "yes");
            }
            self.lasting.set(match answer {
                Some(true) => Lasting::Promised,
                Some(false) => Lasting::Refused,
                None => Lasting::Unknown,
            });
        });
    }

    fn open_id(self) -> Option<String> {
        self.now.with_value(|now| now.as_ref().map(|now| now.id.clone()))
    }
}
