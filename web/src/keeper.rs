//! Keeps the work: every letter at once, every change shortly after, every plan under its own name.
//!
//! In: the state of the desk, other tabs, places gone to. Out: plans kept, opened, copied, taken away.
//! Always true: a letter is written down before anything is worked out from it; nothing kept is written over that
//! this tab does not know; what cannot be kept is held and said; what cannot be read is put aside.

use crate::browser::archive::{self, Fault, Put};
use crate::browser::{address, js, store, tabs};
use crate::core::{FIELDS, Plan, demo};
use crate::desk::{Back, Desk, Keeping};
use crate::form::Form;
use crate::kept::{self, Work};
use crate::place::Place;
use crate::shelf::{Aside, Card, Last, Rescue, called, proper, rescue};
use leptos::leptos_dom::helpers::TimeoutHandle;
use leptos::prelude::*;
use leptos::reactive::effect::ImmediateEffect;
use leptos::task::spawn_local;
use std::time::Duration;

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
            if !self.safe.get_value() || (archive::holds_any() && self.dirty()) {
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

    /// Opens the archive, brings back what tabs wrote down last, and goes where one was.
    async fn start(self) {
        archive::open().await;
        self.take_earlier().await;
        let saved = self.bring_back().await;
        self.look().await;
        let place = self.first_place(&saved);
        address::rename(&place);
        self.go(place).await;
        self.say_typing();
        self.lasting.set(match tabs::lasting(false).await {
            Some(true) => Lasting::Promised,
            Some(false) if store::get(REFUSED).is_some() => Lasting::Refused,
            _ => Lasting::Unknown,
        });
    }

    /// Says what stood in a box when the app broke down, unless it is there.
    fn say_typing(self) {
        let Some(text) = store::get(TYPING) else { return };
        store::remove(TYPING);
        let Ok(said) = serde_json::from_str::<serde_json::Value>(&text) else { return };
        let (Some(name), Some(typed)) = (said["name"].as_str(), said["text"].as_str()) else { return };
        let there = FIELDS.iter().any(|field| {
            field.label == name
                && self.desk.form.with_untracked(|form| form.text(field.id)).trim() == typed.trim()
        });
        if !there && !typed.trim().is_empty() {
            let text = format!("When Turnleaf broke down, this stood in the box “{name}”: {typed}");
            self.desk.tell(false, text, None);
        }
    }

    /// The place to begin at: what the address says, else what this tab or the last one had open.
    fn first_place(self, saved: &[String]) -> Place {
        let there = |place: &Place| match place {
            Place::Plan(id) => self.cards.with_untracked(|cards| cards.iter().any(|card| card.id == *id)),
            Place::Demo(name) => demo(name).is_some(),
            _ => true,
        };
        let said = Place::read(&address::hash());
        if let Some(place) = said {
            return place;
        }
        let noted = [store::here("turnleaf/here"), store::open_last()].into_iter().flatten();
        if let Some(place) = noted.filter_map(|hash| Place::read(&hash)).find(there) {
            return place;
        }
        let newest = || self.cards.with_untracked(|cards| cards.first().map(|card| card.id.clone()));
        saved.last().cloned().or_else(newest).map_or(Place::Start, Place::Plan)
    }

    /// Moves work of earlier versions, which kept one plan in the small storage.
    async fn take_earlier(self) {
        if let Some(text) = store::get(store::EARLIER_ASIDE) {
            let aside = Aside {
                id: format!("a-{}", js::fresh()),
                why: "an earlier version could not read it".into(),
                text,
            };
            if archive::put_aside(&aside).await.is_ok() {
                store::remove(store::EARLIER_ASIDE);
            }
        }
        let Some(text) = store::get(store::EARLIER) else { return };
        let moved = match kept::read(&text) {
            // The same name in every tab, so that two tabs at once move it once.
            Ok(work) => {
                archive::put(&Card::of(&work, "p-earlier", &js::fresh(), js::now(), 1, ""), &text, None)
                    .await
                    .is_ok()
            }
            Err(why) => self.put_aside(&format!("a-{}", js::fresh()), &why, text).await,
        };
        if moved {
            store::remove(store::EARLIER);
        }
    }

    /// Brings back what tabs that are gone wrote down last.
    async fn bring_back(self) -> Vec<String> {
        let alive = tabs::alive().await.unwrap_or_default();
        let mut brought = Vec::new();
        for (tab, last) in store::lasts() {
            if alive.contains(&tab) {
                continue;
            }
            let last = match last {
                Ok(last) if proper(&last.id) => last,
                Ok(last) => Last { id: format!("p-{}", js::fresh()), base: None, ..last },
                Err(text) => {
                    if self.put_aside(&format!("a-{}", js::fresh()), "it is not complete", text).await {
                        store::forget_last(&tab);
                    }
                    continue;
                }
            };
            let work = match kept::read(&last.body) {
                Ok(work) => work,
                Err(why) => {
                    if self.put_aside(&format!("a-{}", js::fresh()), &why, last.body).await {
                        store::forget_last(&tab);
                    }
                    continue;
                }
            };
            let there = archive::get(&last.id).await;
            let kept = there.as_ref().map(|(card, body)| (card.stamp.as_str(), body.as_str()));
            let (id, base, note) = match rescue(&last, kept) {
                Rescue::Nothing => {
                    store::forget_last(&tab);
                    continue;
                }
                Rescue::Continue => {
                    (last.id.clone(), there.as_ref().map(|(card, _)| card.stamp.clone()), last.note.clone())
                }
                Rescue::Beside => {
                    (format!("p-{}", js::fresh()), None, "typed last in a tab that was closed".to_string())
                }
            };
            let beside = id != last.id;
            let order = there.as_ref().map_or(0, |(card, _)| card.order).max(self.highest().await) + 1;
            let card = Card::of(&work, &id, &js::fresh(), js::now(), order, &note);
            if archive::put(&card, &last.body, base.as_deref()).await == Ok(Put::Done) {
                store::forget_last(&tab);
                if beside {
                    self.desk.tell(false, format!(
                        "“{}” was changed in two tabs. Both are kept; what was typed last in the tab that is gone is marked so among all plans.",
                        card.called()
                    ), None);
                }
                brought.push(id);
            }
        }
        brought
    }

    async fn highest(self) -> u64 {
        archive::cards().await.first().map_or(0, |card| card.order)
    }

    /// Looks at what is kept.
    pub async fn look(self) {
        self.cards.set(archive::cards().await);
        self.asides.set(archive::asides().await);
    }

    async fn put_aside(self, id: &str, why: &str, text: String) -> bool {
        let aside = Aside { id: id.into(), why: why.trim_end_matches('.').into(), text };
        let done = archive::put_aside(&aside).await.is_ok();
        self.desk.tell(true, format!(
            "Work kept in this browser could not be read ({}). It was put aside, nothing of it was changed, and “All plans” offers it as a file.",
            aside.why
        ), None);
        done
    }

    /// Goes to a place: keeps what is open, then opens the other.
    async fn go(self, place: Place) {
        let step = self.step.get_value() + 1;
        self.step.set_value(step);
        self.leave().await;
        if self.step.get_value() != step {
            return;
        }
        let named = match &place {
            Place::Start => return self.arrive_at_start().await,
            Place::Plan(id) => self.read(id).await,
            Place::Demo(name) => demo(name).and_then(|text| Some((fresh_plan(text)?, None))),
            Place::Usual => Some((Work { form: Form::new(Plan::default_metric()), share: 0.0 }, None)),
        };
        if self.step.get_value() != step {
            return;
        }
        let Some((work, card)) = named else {
            if let Place::Plan(_) | Place::Demo(_) = &place {
                self.desk.tell(true, "That plan is not kept in this browser; these are.", None);
            }
            address::rename(&Place::Start);
            return self.arrive_at_start().await;
        };
        if let (Place::Plan(id), Some(card)) = (&place, &card)
            && broke_before(id)
        {
            store::note_here(BROKEN, "");
            self.desk.tell(true, format!(
                "Opening “{}” broke Turnleaf down {BROKE} times, so it was not opened again by itself. It is kept as it is: save it as a file below, or open it once more.",
                card.called()
            ), None);
            address::rename(&Place::Start);
            return self.arrive_at_start().await;
        }
        let id = match &place {
            Place::Plan(id) => id.clone(),
            _ => format!("p-{}", js::fresh()),
        };
        self.lay(id, work, card);
        store::note_open(&place.hash());
        self.place.set(Some(place));
        self.see_others().await;
    }

    async fn arrive_at_start(self) {
        self.desk.at_work.set(false);
        self.place.set(Some(Place::Start));
        store::note_open(&Place::Start.hash());
        address::title("Turnleaf: all plans");
        tabs::open(None);
        self.others.set(0);
        self.look().await;
    }

    /// Lays a plan on the desk.
    fn lay(self, id: String, work: Work, card: Option<Card>) {
        let (base, note) = card.map_or((None, String::new()), |card| (Some(card.stamp), card.note));
        let now = Now { id: id.clone(), base, body: kept::write(&work), form: work.form.clone(), note };
        self.now.set_value(Some(now));
        self.desk.keeping.set(Keeping::Kept);
        self.desk.put_on(work);
        tabs::open(Some(&id));
        let stood = move || {
            if self.now.with_value(|now| now.as_ref().is_some_and(|now| now.id == id)) {
                store::note_here(BROKEN, "");
            }
        };
        set_timeout(stood, STOOD);
    }

    /// A kept work; what cannot be read is put aside.
    async fn read(self, id: &str) -> Option<(Work, Option<Card>)> {
        let (card, body) = archive::get(id).await?;
        match kept::read(&body) {
            Ok(work) => Some((work, Some(card))),
            Err(why) => {
                self.put_aside(id, &why, body).await;
                None
            }
        }
    }

    /// Whether something was typed that is not kept yet.
    fn dirty(self) -> bool {
        let form = self.desk.form.get_untracked();
        self.now.with_value(|now| now.as_ref().is_some_and(|now| now.form != form))
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
        if self.place.get_untracked().is_some_and(|place| !matches!(place, Place::Plan(_) | Place::Start)) {
            let place = Place::Plan(now.id);
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
        if body == now.body || (now.base.is_none() && work.form == now.form && self.is_look()) {
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
                archive::hold(card, body);
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

    /// Another tab has written where this one was about to: without typing here its text is taken over, with
    /// typing both stay. True when there is something to write.
    async fn both(self, now: Now, work: Work) -> bool {
        if work.form == now.form {
            self.take_over(&now.id).await;
            return false;
        }
        let id = format!("p-{}", js::fresh());
        let name = called(&work.form.plan().texts().title).to_string();
        let note = "typed in a second tab".to_string();
        self.now.set_value(Some(Now { id: id.clone(), base: None, note, ..now }));
        let place = Place::Plan(id.clone());
        address::rename(&place);
        store::note_open(&place.hash());
        self.place.set(Some(place));
        tabs::open(Some(&id));
        self.write_down();
        self.others.set(0);
        self.desk.tell(false, format!(
            "“{name}” was changed in another tab while you typed here. Both are kept: the other tab goes on with its own, and what you typed here is open now as a plan of its own, marked “typed in a second tab” among all plans."
        ), None);
        true
    }

    /// Takes over what another tab kept of the plan that is open, where nothing newer was typed here.
    async fn take_over(self, id: &str) {
        let Some((work, Some(card))) = self.read(id).await else { return };
        let fits = self.now.with_value(|now| {
            now.as_ref().is_some_and(|now| now.id == id && now.base.as_ref() != Some(&card.stamp))
        });
        if !fits || self.dirty() {
            return;
        }
        let form = work.form.clone();
        self.now.update_value(|now| {
            if let Some(now) = now {
                (now.base, now.form) = (Some(card.stamp.clone()), form.clone());
                now.body = kept::write(&Work { form: form.clone(), share: self.desk.share.get_untracked() });
            }
        });
        if self.desk.form.get_untracked() != form {
            self.desk.form.set(form);
        }
        self.cards.update(|cards| {
            cards.retain(|there| there.id != card.id);
            cards.insert(0, card);
        });
    }

    /// Another tab said something.
    fn heard(self, word: tabs::Word) {
        spawn_local(async move {
            match word {
                tabs::Word::Kept { id, .. } if self.open_id().as_ref() == Some(&id) => {
                    self.take_over(&id).await
                }
                tabs::Word::Kept { .. } if self.place.get_untracked() == Some(Place::Start) => {
                    self.look().await
                }
                tabs::Word::Kept { .. } => {}
                tabs::Word::Moved => self.look_elsewhere().await,
            }
        });
    }

    fn open_id(self) -> Option<String> {
        self.now.with_value(|now| now.as_ref().map(|now| now.id.clone()))
    }

    /// Looks whether other tabs did something that was not heard, as after sleeping.
    async fn look_elsewhere(self) {
        self.see_others().await;
        match self.open_id() {
            Some(id) => self.take_over(&id).await,
            None if self.place.get_untracked() == Some(Place::Start) => self.look().await,
            None => {}
        }
    }

    async fn see_others(self) {
        let Some(id) = self.open_id() else { return };
        let others = tabs::others(&id).await;
        if others != self.others.get_untracked() {
            self.others.set(others);
        }
        // A tab that goes cannot say so any more; its lock tells.
        if others > 0 && !self.looking.get_value() {
            self.looking.set_value(true);
            let look = move || {
                self.looking.set_value(false);
                spawn_local(async move { self.see_others().await });
            };
            set_timeout(look, LOOK);
        }
    }

    /// Keeps what is open and takes it off the desk.
    async fn leave(self) {
        if self.now.with_value(Option::is_none) {
            return;
        }
        self.write_down();
        // A writing under way is waited for by its own end; this one takes what it has not seen.
        for _ in 0..200 {
            self.keep().await;
            if !self.busy.get_value() {
                break;
            }
            js::sleep(10).await;
        }
        self.now.set_value(None);
    }

    /// Opens a work as a new plan and keeps it. `before` is where a press of a button leads back to.
    pub async fn add(self, work: Work, note: &str) -> Option<Place> {
        let before = self.place.get_untracked();
        self.leave().await;
        let id = format!("p-{}", js::fresh());
        let order = self.highest().await + 1;
        let card = Card::of(&work, &id, &js::fresh(), js::now(), order, note);
        let body = kept::write(&work);
        if let Err(fault) = archive::put(&card, &body, None).await {
            archive::hold(card.clone(), body);
            self.desk.tell(
                true,
                format!("The plan is open, but it is not kept: {}. Save it as a file.", fault.words()),
                None,
            );
        }
        self.cards.update(|cards| cards.insert(0, card));
        tabs::say(&tabs::Word::Moved);
        address::go(&Place::Plan(id));
        before
    }

    /// Goes to a place.
    pub fn visit(self, place: &Place) {
        address::go(place);
    }

    /// Copies a plan.
    pub async fn copy(self, id: &str) {
        let Some((work, _)) = self.read(id).await else { return };
        let order = self.highest().await + 1;
        let mut work = work;
        let title = work.form.plan().texts().title.clone();
        // A name that would be too long stays as it is; the note tells the two apart.
        let _ = work.form.name(&format!("{}, copy", called(&title)));
        let card = Card::of(&work, &format!("p-{}", js::fresh()), &js::fresh(), js::now(), order, "a copy");
        match archive::put(&card, &kept::write(&work), None).await {
            Ok(_) => self.desk.tell(false, format!("Copied as “{}”.", card.called()), None),
            Err(fault) => self.desk.tell(true, format!("No copy was made: {}.", fault.words()), None),
        }
        tabs::say(&tabs::Word::Moved);
        self.look().await;
    }

    /// The work of a kept plan, for saving it as a file.
    pub async fn plan_text(self, id: &str) -> Option<String> {
        let (_, body) = archive::get(id).await?;
        kept::read(&body).ok().map(|work| work.form.plan().to_json())
    }

    /// Takes a plan away; a press of a button brings it back.
    pub async fn remove(self, id: &str) {
        let Some((card, body)) = archive::get(id).await else { return };
        match archive::remove(id).await {
            Ok(()) => {
                let text = format!("“{}” was taken away.", card.called());
                self.desk.tell(false, text, Some(Back::Card(Box::new(card), body)));
            }
            Err(fault) => self.desk.tell(true, format!("Nothing was taken away: {}.", fault.words()), None),
        }
        tabs::say(&tabs::Word::Moved);
        self.look().await;
    }

    /// Brings back what a message offers.
    pub fn bring(self, back: Back) {
        spawn_local(async move {
            match back {
                Back::Form(form) => self.desk.form.set(*form),
                Back::Place(place) => self.visit(&place),
                Back::Card(card, body) => {
                    if let Err(fault) = archive::put(&card, &body, None).await {
                        self.desk.tell(
                            true,
                            format!("“{}” is not kept: {}.", card.called(), fault.words()),
                            None,
                        );
                        archive::hold(*card, body);
                    }
                    self.look().await;
                }
            }
        });
    }

    /// All plans as they are kept, with what was put aside.
    pub async fn everything(self) -> (Vec<(Card, String)>, Vec<Aside>) {
        self.keep().await;
        let mut all = Vec::new();
        for card in archive::cards().await {
            all.extend(archive::get(&card.id).await);
        }
        (all, archive::asides().await)
    }

    /// Takes plans from a file over: all of them or none. What is kept already is not written over.
    pub async fn take_in(self, name: &str, file: crate::shelf::Collection) -> Result<String, String> {
        let mut order = self.highest().await;
        let (mut new, mut same, mut beside) = (Vec::new(), 0, 0);
        for (id, changed, body) in file.plans {
            let there = archive::get(&id).await;
            if there.as_ref().is_some_and(|(_, kept)| same_work(kept, &body)) {
                same += 1;
                continue;
            }
            let Ok(work) = kept::read(&body) else { continue };
            let taken = there.is_some();
            beside += usize::from(taken);
            let id = if taken { format!("p-{}", js::fresh()) } else { id };
            let note = if taken { format!("from {name}") } else { String::new() };
            order += 1;
            new.push((Card::of(&work, &id, &js::fresh(), changed, order, &note), kept::write(&work), None));
        }
        if !new.is_empty() {
            match archive::put_all(&new).await {
                Ok(Put::Done) => {}
                Ok(Put::Other) => {
                    return Err("Another tab is at the same plans; nothing was taken over. Try again.".into());
                }
                Err(fault) => return Err(format!("Nothing was taken over: {}.", fault.words())),
            }
        }
        let unread = file.asides.len();
        for aside in file.asides {
            // One that finds no room is still in the file.
            let _ = archive::put_aside(&Aside { id: format!("a-{}", js::fresh()), ..aside }).await;
        }
        tabs::say(&tabs::Word::Moved);
        self.look().await;
        let mut words = vec![plural(new.len(), "plan was", "plans were", "taken over")];
        if same > 0 {
            words.push(plural(same, "was", "were", "here already, just as in the file"));
        }
        if beside > 0 {
            words.push(plural(
                beside,
                "of them was",
                "of them were",
                "changed here since and is kept beside",
            ));
        }
        if unread > 0 {
            words.push(plural(unread, "could", "could", "not be read and was put aside"));
        }
        Ok(format!("{}: {}.", name, words.join("; ")))
    }

    /// Takes something put aside away for good.
    pub async fn drop_aside(self, id: &str) {
        archive::drop_aside(id).await;
        self.look().await;
    }
}

fn plural(count: usize, one: &str, many: &str, what: &str) -> String {
    format!("{count} {} {what}", if count == 1 { one } else { many })
}

/// Whether two kept texts hold the same work, however they are written.
fn same_work(one: &str, other: &str) -> bool {
    one == other || kept::read(one).ok().zip(kept::read(other).ok()).is_some_and(|(a, b)| a.form == b.form)
}

fn fresh_plan(text: &str) -> Option<Work> {
    let (plan, _) = Plan::parse(text.as_bytes()).ok()?;
    Some(Work { form: Form::new(plan), share: 0.0 })
}

/// Whether opening this plan broke the app so often that it is not opened by itself again. The breakdowns are counted
/// by `loader.js`, which still works when nothing else does.
fn broke_before(id: &str) -> bool {
    let said = store::here(BROKEN).and_then(|text| {
        let (hash, count) = text.split_once(' ')?;
        Some((Place::read(hash)?, count.parse::<u32>().ok()?))
    });
    said.is_some_and(|(place, count)| place == Place::Plan(id.into()) && count >= BROKE)
}
