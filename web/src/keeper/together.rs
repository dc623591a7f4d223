//! Two tabs on one plan.
//!
//! In: what other tabs say and keep. Out: their changes taken over, or both versions as two plans, said in words.
//! Always true: nothing typed in either tab is written over; nothing is taken over where something newer was typed.

use super::{Keeper, LOOK, Now};
use crate::browser::{address, js, store, tabs};
use crate::kept::{self, Work};
use crate::place::Place;
use crate::shelf::called;
use leptos::prelude::*;
use leptos::task::spawn_local;

impl Keeper {
    /// Another tab has written where this one was about to: without typing here its text is taken over, with
    /// typing both stay. True when there is something to write.
    pub(super) async fn both(self, now: Now, work: Work) -> bool {
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
    pub(super) async fn take_over(self, id: &str) {
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
    pub(super) fn heard(self, word: tabs::Word) {
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

    /// Looks whether other tabs did something that was not heard, as after sleeping.
    pub(super) async fn look_elsewhere(self) {
        self.copies.moved.update(|count| *count += 1);
        self.see_others().await;
        match self.open_id() {
            Some(id) => self.take_over(&id).await,
            None if self.place.get_untracked() == Some(Place::Start) => self.look().await,
            None => {}
        }
    }

    pub(super) async fn see_others(self) {
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
}
