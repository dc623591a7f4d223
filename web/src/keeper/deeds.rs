//! What one does with kept plans: add, copy, take away, all into one file and out of it again.
//!
//! In: plans by their identifiers, files. Out: the archive changed, and a sentence.
//! Always true: a file of plans is taken over whole or not at all; a plan that is here already is neither written over
//! nor doubled; one that differs is kept beside it under a name that tells them apart, and that is said; what was taken
//! away can be brought back.

use super::Keeper;
use crate::browser::archive::{self, Put};
use crate::browser::{address, js, tabs};
use crate::core::Plan;
use crate::desk::Back;
use crate::form::Form;
use crate::kept::{self, Work};
use crate::place::Place;
use crate::shelf::{self, Aside, Card, called};
use leptos::prelude::*;
use leptos::task::spawn_local;

/// Most plans kept beside others that are named one by one.
const NAMED: usize = 3;

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

    /// Opens the plan of a file: as a new one, or, where just that plan is kept already, that one. What to say of it,
    /// and where a press of a button leads back to.
    pub async fn open_plan(self, name: &str, plan: Plan) -> (String, Option<Place>) {
        self.keep().await;
        let work = Work { form: Form::new(plan.clone()), share: 0.0 };
        let card = Card::of(&work, "", "", 0.0, 0, "");
        let there = archive::cards().await;
        if let Some(same) = find(&there, &card, |kept| shelf::is_plan(kept, &plan)).await {
            let before = self.place.get_untracked().filter(|place| *place != Place::Plan(same.id.clone()));
            address::go(&Place::Plan(same.id));
            return (format!("Opened {name}: just this plan was here already."), before);
        }
        let named = !card.name.is_empty() && there.iter().any(|kept| kept.name == card.name);
        let (note, said) = if named {
            let said = format!(
                "Opened {name}. A plan called “{}” that differs is here too; both are kept, and this one is marked “from {name}” among all plans.",
                card.name
            );
            (format!("from {name}"), said)
        } else {
            (String::new(), format!("Opened {name}."))
        };
        (said, self.add(work, &note).await)
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
        let list = archive::list(id).await;
        match archive::remove(id).await {
            Ok(()) => {
                if list.is_some() {
                    // What stays of it belongs to no plan and shows nowhere.
                    let _ = archive::put_list(id, list.as_deref(), None).await;
                }
                let with = if list.is_some() { ", with its list of who has a copy" } else { "" };
                let text = format!("“{}” was taken away{with}.", card.called());
                self.desk.tell(false, text, Some(Back::Card(Box::new(card), body, list)));
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
                Back::Copies(what) => self.bring_copies(what).await,
                Back::Card(card, body, list) => {
                    if list.is_some()
                        && let Err(fault) = archive::put_list(&card.id, None, list.as_deref()).await
                    {
                        let text = format!("Its list of who has a copy is not kept: {}.", fault.words());
                        self.desk.tell(true, text, None);
                    }
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

    /// All plans as they are kept, each with its list of copies, and what was put aside.
    pub async fn everything(self) -> (Vec<(Card, String, Option<String>)>, Vec<Aside>) {
        self.keep().await;
        let mut all = Vec::new();
        for card in archive::cards().await {
            if let Some((card, body)) = archive::get(&card.id).await {
                let list = archive::list(&card.id).await;
                all.push((card, body, list));
            }
        }
        (all, archive::asides().await)
    }

    /// Takes plans from a file over: all of them or none. What is kept already is not written over.
    pub async fn take_in(self, name: &str, file: crate::shelf::Collection) -> Result<String, String> {
        let there = archive::cards().await;
        let mut order = there.first().map_or(0, |card| card.order);
        let mut new: Vec<(Card, String, Option<String>)> = Vec::new();
        let (mut same, mut beside) = (0, Vec::new());
        // The lists of copies in the file, by the plan they belong to here.
        let mut lists: Vec<(String, String)> = Vec::new();
        'plans: for (id, changed, body, list) in file.plans {
            let mut belongs = |id: &str| lists.extend(list.clone().map(|text| (id.to_string(), text)));
            let Ok(mut work) = kept::read(&body) else { continue };
            order += 1;
            let stamp = js::fresh();
            let card = |work: &Work, id: &str, note: &str| Card::of(work, id, &stamp, changed, order, note);
            let first = card(&work, &id, "");
            if let Some(kept) = find(&there, &first, |kept| shelf::same(kept, &work)).await {
                belongs(&kept.id);
                same += 1;
                continue;
            }
            let taken = there.iter().chain(new.iter().map(|(card, ..)| card)).any(|card| card.id == id);
            if !taken {
                belongs(&id);
                new.push((first, kept::write(&work), None));
                continue;
            }
            // The one that is here differs: both stay, under names that tell them apart.
            let title = work.form.plan().texts().title.clone();
            for n in 1.. {
                // A file may have a name that cannot be printed; then the note alone tells the two apart.
                let named = work.form.name(&shelf::beside(&title, name, n)).is_ok();
                let other = card(&work, &format!("p-{}", js::fresh()), &format!("from {name}"));
                if let Some(kept) = find(&there, &other, |kept| shelf::same(kept, &work)).await {
                    belongs(&kept.id);
                    same += 1;
                    continue 'plans;
                }
                let all = || there.iter().chain(new.iter().map(|(card, ..)| card));
                if !named || !all().any(|c| c.name == other.name) {
                    belongs(&other.id);
                    beside.push(format!("“{}” is now “{}”", called(&title), other.name));
                    new.push((other, kept::write(&work), None));
                    break;
                }
            }
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
        let mut differing = 0;
        for (id, text) in lists {
            match archive::put_list(&id, None, Some(&text)).await {
                Ok(Put::Other) if archive::list(&id).await.as_ref() != Some(&text) => differing += 1,
                Ok(_) => {}
                Err(fault) => {
                    let text = format!("A list of who has a copy is not kept: {}.", fault.words());
                    self.desk.tell(true, text, None);
                }
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
        if !beside.is_empty() {
            let more = beside.len().saturating_sub(NAMED);
            let named = beside.iter().take(NAMED).cloned().collect::<Vec<_>>().join(", ");
            let more = if more > 0 { format!(", and {more} more") } else { String::new() };
            let what = "from what is here under the same name, so both are kept: the file’s";
            words.push(format!("{} {named}{more}", plural(beside.len(), "differs", "differ", what)));
        }
        if differing > 0 {
            let what = "from the one here, which stays as it is";
            words.push(plural(differing, "list of copies differs", "lists of copies differ", what));
        }
        if unread > 0 {
            words.push(plural(unread, "was", "were", "put aside, since it could not be read"));
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

/// The kept plan that is like a card and in which `fits` holds.
async fn find(cards: &[Card], like: &Card, fits: impl Fn(&Work) -> bool) -> Option<Card> {
    for card in cards.iter().filter(|card| shelf::alike(card, like)) {
        let there = archive::get(&card.id).await.and_then(|(_, body)| kept::read(&body).ok());
        if there.is_some_and(|work| fits(&work)) {
            return Some(card.clone());
        }
    }
    None
}
