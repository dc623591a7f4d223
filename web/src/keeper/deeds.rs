//! What one does with kept plans: add, copy, take away, all into one file and out of it again.
//!
//! In: plans by their identifiers, files. Out: the archive changed, and a sentence.
//! Always true: a file of plans is taken over whole or not at all; a plan that is here already is never written over;
//! what was taken away can be brought back.

use super::Keeper;
use crate::browser::archive::{self, Put};
use crate::browser::{address, js, tabs};
use crate::desk::Back;
use crate::kept::{self, Work};
use crate::place::Place;
use crate::shelf::{Aside, Card, called};
use leptos::prelude::*;
use leptos::task::spawn_local;

impl Keeper {
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
