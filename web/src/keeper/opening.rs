//! Opens the archive at the start of a visit, and goes from place to place.
//!
//! In: the address, what is kept, what tabs that are gone wrote down last. Out: a plan on the desk, or the start page.
//! Always true: what is open is kept before another takes its place; what cannot be read is put aside whole; a plan
//! whose opening broke the app twice is not opened by itself again.

use super::{BROKE, BROKEN, Keeper, Lasting, Now, REFUSED, STOOD, TYPING};
use crate::browser::archive::{self, Put};
use crate::browser::{address, js, store, tabs};
use crate::core::{FIELDS, Plan, demo};
use crate::desk::Keeping;
use crate::form::Form;
use crate::kept::{self, Work};
use crate::place::Place;
use crate::shelf::{Aside, Card, Last, Rescue, proper, rescue};
use leptos::prelude::*;

/// Looks, a tenth of a second apart, for what a tab wrote down that is about to end.
const CLOSING: u32 = 20;
/// When it is looked for once more, ms: a tab on a slow machine takes its time to end.
const LATER: u32 = 5_000;

/// Whether something lies written down of the plan that is about to be opened.
fn pending() -> bool {
    let noted = [Some(address::hash()), store::here("turnleaf/here"), store::open_last()];
    let Some(Place::Plan(id)) = noted.into_iter().flatten().find_map(|hash| Place::read(&hash)) else {
        return false;
    };
    store::lasts().iter().any(|(_, last)| last.as_ref().is_ok_and(|last| last.id == id))
}

impl Keeper {
    /// Opens the archive, brings back what tabs wrote down last, and goes where one was.
    pub(super) async fn start(self) {
        archive::open().await;
        self.take_earlier().await;
        let mut saved = self.bring_back().await;
        // A tab that was closed this moment may still hold its locks.
        for _ in 0..CLOSING {
            if !pending() {
                break;
            }
            js::sleep(100).await;
            saved.extend(self.bring_back().await);
        }
        self.look().await;
        let place = self.first_place(&saved);
        address::rename(&place);
        self.go(place).await;
        self.say_typing();
        leptos::task::spawn_local(async move {
            js::sleep(LATER).await;
            if !self.bring_back().await.is_empty() {
                self.look().await;
                self.look_elsewhere().await;
            }
        });
        self.lasting.set(match tabs::lasting(false).await {
            Some(true) => Lasting::Promised,
            Some(false) if store::get(REFUSED).is_some() => Lasting::Refused,
            _ => Lasting::Unknown,
        });
    }

    /// Says what stood in a box when the app broke down, unless it is there.
    pub(super) fn say_typing(self) {
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
    pub(super) fn first_place(self, saved: &[String]) -> Place {
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
    pub(super) async fn take_earlier(self) {
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
    pub(super) async fn bring_back(self) -> Vec<String> {
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
            if archive::holds(&last.id) {
                continue;
            }
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
            let put = archive::put(&card, &last.body, base.as_deref()).await;
            if put.is_err() {
                // It stays written down where it is; what goes on from what is kept is held to go on with.
                if !beside {
                    let stamp = base.unwrap_or(card.stamp.clone());
                    archive::hold(Card { stamp, ..card }, last.body);
                    brought.push(id);
                }
            } else if put == Ok(Put::Done) {
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

    pub(super) async fn highest(self) -> u64 {
        archive::cards().await.first().map_or(0, |card| card.order)
    }

    /// Looks at what is kept.
    pub async fn look(self) {
        self.cards.set(archive::cards().await);
        self.asides.set(archive::asides().await);
    }

    pub(super) async fn put_aside(self, id: &str, why: &str, text: String) -> bool {
        let aside = Aside { id: id.into(), why: why.trim_end_matches('.').into(), text };
        let done = archive::put_aside(&aside).await.is_ok();
        // Who has a copy of it is no less the maker's.
        if let Some(list) = archive::list(id).await {
            let why = "the list of who has a copy of a plan that could not be read".to_string();
            let beside = Aside { id: format!("a-{}", js::fresh()), why, text: list.clone() };
            if archive::put_aside(&beside).await.is_ok() {
                // What stays of it shows nowhere.
                let _ = archive::put_list(id, Some(&list), None).await;
            }
        }
        self.desk.tell(true, format!(
            "Work kept in this browser could not be read ({}). It was put aside, nothing of it was changed, and “All plans” offers it as a file.",
            aside.why
        ), None);
        done
    }

    /// Goes to a place: keeps what is open, then opens the other.
    pub(super) async fn go(self, place: Place) {
        let step = self.step.get_value() + 1;
        self.step.set_value(step);
        self.leave().await;
        if self.step.get_value() != step {
            return;
        }
        let told = self.desk.notices.with_untracked(Vec::len);
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
            // Why a plan that is kept could not be read has been said.
            let said = self.desk.notices.with_untracked(Vec::len) > told;
            if let Place::Plan(_) | Place::Demo(_) = &place
                && !said
            {
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

    pub(super) async fn arrive_at_start(self) {
        self.desk.at_work.set(false);
        self.place.set(Some(Place::Start));
        store::note_open(&Place::Start.hash());
        address::title("Turnleaf: all plans");
        tabs::open(None);
        self.others.set(0);
        self.look().await;
    }

    /// Lays a plan on the desk.
    pub(super) fn lay(self, id: String, work: Work, card: Option<Card>) {
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
    pub(super) async fn read(self, id: &str) -> Option<(Work, Option<Card>)> {
        let (card, body) = archive::get(id).await?;
        match kept::read(&body) {
            Ok(work) => Some((work, Some(card))),
            Err(why) => {
                self.put_aside(id, &why, body).await;
                None
            }
        }
    }

    /// Keeps what is open and takes it off the desk.
    pub(super) async fn leave(self) {
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
}

fn fresh_plan(text: &str) -> Option<Work> {
    let (plan, _) = Plan::parse_known(text.as_bytes()).ok()?;
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
