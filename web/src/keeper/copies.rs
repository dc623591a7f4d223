//! Who has a copy of the plan that is open: a list of the maker's own, kept beside the plan.
//!
//! In: what the maker notes, a CSV file. Out: the list shown and kept, mails, the file.
//! Always true: a list is never in a plan; it is written only over the text that this tab knows; what is refused changes
//! nothing; what is taken out can be brought back.

use super::Keeper;
use crate::bench::{Answer, Ask};
use crate::browser::archive::{self, Put};
use crate::browser::{backroom, clock, files, page, tabs};
use crate::copies::{Deed, Letter, List, Return, Tidings, Told, is_older};
use crate::core::{Choice, Holder, NO_COPIES};
use crate::desk::{Back, Shared};
use crate::revising::counted;
use crate::shelf;
use futures_channel::oneshot;
use leptos::prelude::*;
use leptos::task::spawn_local;

/// Where the section stands.
pub const SECTION: &str = "copies";

/// What is said of a list that another tab has changed.
const ELSEWHERE: &str =
    "Another tab has changed the list meanwhile. It is shown now as it is there; do it once more.";

/// A copy while it is typed.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// The copy that is changed, by its place and as it was; none for a new one.
    pub over: Option<(usize, Holder)>,
    /// What stands in the boxes.
    pub now: Holder,
}

/// What the section shows.
#[derive(Clone, Copy)]
pub struct Copies {
    /// The list; none when there is none.
    pub list: RwSignal<Option<Shared<List>>>,
    /// What is typed.
    pub entry: RwSignal<Option<Entry>>,
    /// What came of the last deed, and whether it was refused.
    pub said: RwSignal<(bool, String)>,
    /// A deed under way.
    pub busy: RwSignal<bool>,
    /// Counts what other tabs said.
    pub moved: RwSignal<u32>,
    /// The plan it is of, and the text this tab knows.
    known: StoredValue<(Option<String>, Option<String>)>,
}

impl Copies {
    pub(super) fn new() -> Copies {
        Copies {
            list: RwSignal::new(None),
            entry: RwSignal::new(None),
            said: RwSignal::new((false, String::new())),
            busy: RwSignal::new(false),
            moved: RwSignal::new(0),
            known: StoredValue::new((None, None)),
        }
    }

    fn show(self, id: &str, shown: Option<(List, String)>) {
        let (list, text) = shown.unzip();
        self.known.set_value((Some(id.into()), text));
        self.list.set(list.map(Shared::new));
    }
}

/// Asks the program that takes lists apart.
async fn asked(deed: Deed, text: &str) -> Result<(Told, Vec<u8>), String> {
    let (tell, told) = oneshot::channel();
    backroom::ask(Ask::Copies(Box::new(deed), text.into()), move |answer| {
        // Whoever asked may be gone.
        let _ = tell.send(answer);
    });
    match told.await {
        Ok(Answer::Copies(told, bytes)) => Ok((told, bytes)),
        Ok(Answer::Failed(sentence)) => Err(sentence),
        _ => {
            Err("The list was not taken apart, which is a fault of Turnleaf's; nothing of it changed.".into())
        }
    }
}

/// The list after a deed, with its text.
async fn after(deed: Deed, text: &str) -> Result<(List, String), String> {
    match asked(deed, text).await? {
        (Told::List(list), bytes) => Ok((list, String::from_utf8_lossy(&bytes).into_owned())),
        _ => Err(ELSEWHERE.into()),
    }
}

impl Keeper {
    /// Follows the plan that is open, and what other tabs do with its list.
    pub(super) fn watch_copies(self) {
        Effect::new(move |_| {
            self.place.track();
            self.copies.moved.track();
            spawn_local(async move { self.look_at_copies().await });
        });
    }

    /// Shows the list of the plan that is open as it is kept.
    async fn look_at_copies(self) {
        let Some(id) = self.open_id() else { return };
        if self.copies.known.with_value(|known| known.0.as_ref() != Some(&id)) {
            // The list of the plan before must not be taken for this one's while this one's is looked up.
            self.copies.show(&id, None);
            self.copies.entry.set(None);
            self.copies.said.set((false, String::new()));
        }
        let text = archive::list(&id).await;
        let (whose, known) = self.copies.known.get_value();
        if whose.as_ref() != Some(&id) || known == text {
            return;
        }
        let Some(text) = text else { return self.copies.show(&id, None) };
        match after(Deed::Read("The list of copies kept here".into()), &text).await {
            Ok(shown) if self.open_id().as_ref() == Some(&id) => self.copies.show(&id, Some(shown)),
            Ok(_) => {}
            Err(sentence) => {
                self.copies.show(&id, None);
                self.copies.known.set_value((Some(id), Some(text)));
                self.copies.said.set((true, sentence));
            }
        }
    }

    /// Keeps a list over the one this tab knows, and shows it.
    async fn keep_copies(self, id: &str, next: Option<(List, String)>) -> Result<(), String> {
        let before = self.copies.known.with_value(|known| known.1.clone());
        let text = next.as_ref().map(|(_, text)| text.as_str());
        match archive::put_list(id, before.as_deref(), text).await {
            Ok(Put::Done) => {}
            Ok(Put::Other) => {
                self.look_at_copies().await;
                return Err(ELSEWHERE.into());
            }
            Err(fault) => {
                let why = fault.words();
                let text = format!(
                    "The list of copies is as you see it, but it is not kept: {why}. Save it as a file."
                );
                self.desk.tell(true, text, None);
            }
        }
        self.copies.show(id, next);
        tabs::say(&tabs::Word::Moved);
        Ok(())
    }

    /// The plan that is open, kept from now on: a demo with a list of the maker's beside it is no demo any more.
    async fn own_plan(self) -> Result<String, String> {
        let id = self.open_id().ok_or("Open the plan first that the copies are of.")?;
        self.settle(id.clone());
        self.keep().await;
        Ok(id)
    }

    /// Does something with the list; `then` says what came of it.
    async fn with_copies(self, deed: Deed, then: impl FnOnce(&List, &str) -> String) -> bool {
        if self.copies.busy.get_untracked() {
            return false;
        }
        self.copies.busy.set(true);
        let done = async {
            let id = self.own_plan().await?;
            let before = self.copies.known.with_value(|known| known.1.clone());
            let next = after(deed, before.as_deref().unwrap_or(NO_COPIES)).await?;
            let said = then(&next.0, &id);
            self.keep_copies(&id, Some(next)).await?;
            Ok(said)
        };
        let done: Result<String, String> = done.await;
        self.copies.busy.set(false);
        let good = done.is_ok();
        self.copies.said.set((!good, done.unwrap_or_else(|why| why)));
        good
    }

    /// Begins to note a copy: of this revision, or of the last issued one.
    pub fn begin_copy(self, revision: Option<String>) {
        let now = self.desk.plan.with_untracked(|plan| {
            let last = || plan.revisions().last().map(|r| r.mark.clone());
            let mark = revision.or_else(last).unwrap_or_else(|| plan.revision().mark.clone());
            let (units, paper) = (plan.options().print.units.key(), plan.options().paper.key());
            let (day, size) = (clock::today(), shelf::says(plan));
            [String::new(), String::new(), day, mark, size, units.into(), paper.into()]
        });
        self.copies.said.set((false, String::new()));
        self.copies.entry.set(Some(Entry { over: None, now }));
        page::reveal(SECTION);
        page::focus_soon("copy-0");
    }

    /// Notes or changes the copy that is typed.
    pub async fn note_copy(self) {
        let Some(Entry { over, now }) = self.copies.entry.get_untracked() else { return };
        let name = now[0].trim().to_string();
        let good = match over {
            None => {
                let mark = now[3].clone();
                let deed = Deed::Add(now);
                self.with_copies(deed, |list, _| {
                    let count = counted(list.copies.len(), "copy", "copies");
                    format!("Noted: {name}, revision {mark}. The list has {count}.")
                })
                .await
            }
            Some((at, was)) => {
                let deed = Deed::Change(at, was, now.clone().map(|cell| cell.trim().to_string()));
                let over = now.map(|cell| cell.trim().to_string());
                let desk = self.desk;
                self.with_copies(deed, move |list, id| {
                    let text = format!("The copy of {name} is changed.");
                    if let Some(raw) = list.was.clone() {
                        let back = Back::Copies(Return::Row(id.into(), at, raw, Some(over)));
                        desk.tell(false, text.clone(), Some(back));
                    }
                    text
                })
                .await
            }
        };
        if good {
            self.copies.entry.set(None);
            page::focus_soon("copy-note");
        }
    }

    /// Takes a copy out.
    pub async fn remove_copy(self, at: usize, copy: Holder) {
        let name = copy[0].clone();
        let desk = self.desk;
        self.with_copies(Deed::Remove(at, copy), move |list, id| {
            let text = format!("The copy of {name} is out of the list.");
            if let Some(raw) = list.was.clone() {
                desk.tell(false, text.clone(), Some(Back::Copies(Return::Row(id.into(), at, raw, None))));
            }
            text
        })
        .await;
        page::focus_soon("copy-note");
    }

    /// Brings back what a message about copies offers, or leads to noting one.
    pub(super) async fn bring_copies(self, what: Return) {
        let of = match &what {
            Return::Row(id, ..) | Return::List(id, _) => id.clone(),
            Return::Note(mark) => return self.begin_copy(Some(mark.clone())),
        };
        if self.open_id() != Some(of.clone()) {
            let text = "That belongs to the list of another plan; open that plan, then bring it back.";
            return self.desk.tell(true, text, Some(Back::Copies(what)));
        }
        match what {
            Return::Row(_, at, raw, over) => {
                self.with_copies(Deed::PutBack(at, raw, over), |_, _| "It is back in the list.".into()).await;
            }
            Return::List(_, text) => {
                if let Err(why) = self.take_copies("The list of before", &text).await {
                    self.desk.tell(true, why, None);
                }
            }
            Return::Note(_) => {}
        }
    }

    /// Opens a file of copies in place of the list that is here; a message brings that back.
    pub async fn open_copies(self, name: &str, bytes: Vec<u8>) -> Result<(), String> {
        if self.open_id().is_none() || !self.desk.at_work.get_untracked() {
            return Err("A list of copies belongs to a plan: open the plan first, then the list.".into());
        }
        if self.desk.plan.with_untracked(|plan| plan.offer().is_some()) {
            return Err("A plan for buyers has no list of copies: open your own plan first.".into());
        }
        // Read as bytes, so that a file in other letters is refused and not guessed at.
        let text = String::from_utf8(bytes);
        let text = match text {
            Ok(text) => text,
            Err(broken) => {
                let deed = Deed::Read(name.into());
                let (tell, told) = oneshot::channel();
                backroom::ask(Ask::Copies(Box::new(deed), broken.into_bytes()), move |answer| {
                    drop(tell.send(answer))
                });
                return match told.await {
                    Ok(Answer::Failed(sentence)) => Err(sentence),
                    _ => Err(format!("{name} is not in UTF-8; save it as “CSV UTF-8”.")),
                };
            }
        };
        self.take_copies(name, &text).await?;
        page::reveal(SECTION);
        page::focus_soon("copies-heading");
        Ok(())
    }

    async fn take_copies(self, name: &str, text: &str) -> Result<(), String> {
        let next = after(Deed::Read(name.into()), text).await?;
        let id = self.own_plan().await?;
        let count = counted(next.0.copies.len(), "copy", "copies");
        let before = self.copies.list.get_untracked().filter(|list| !list.copies.is_empty());
        let known = self.copies.known.with_value(|known| known.1.clone());
        self.keep_copies(&id, Some(next)).await?;
        self.copies.entry.set(None);
        let text = format!("{name}: {count}, kept in this browser beside this plan.");
        self.copies.said.set((false, text.clone()));
        let (with, back) = match (before, known) {
            (Some(before), Some(known)) if known != self.copies_text().unwrap_or_default() => {
                let with = format!(" It took the place of a list of {}.", before.copies.len());
                (with, Some(Back::Copies(Return::List(id, known))))
            }
            _ => (String::new(), None),
        };
        self.desk.tell(false, text + &with, back);
        Ok(())
    }

    /// Takes the whole list away.
    pub async fn drop_copies(self) {
        let Some(id) = self.open_id() else { return };
        let Some(text) = self.copies_text() else { return };
        match self.keep_copies(&id, None).await {
            Ok(()) => {
                self.copies.entry.set(None);
                let said = "The list of copies was taken away; this browser keeps nothing of it.";
                self.copies.said.set((false, said.into()));
                self.desk.tell(false, said, Some(Back::Copies(Return::List(id, text))));
            }
            Err(why) => self.copies.said.set((true, why)),
        }
    }

    /// The list as a file has it.
    pub fn copies_text(self) -> Option<String> {
        self.copies.known.with_value(|known| known.1.clone())
    }

    /// How many copies are older than the last issued revision.
    pub fn older_copies(self) -> usize {
        self.desk.plan.with(|plan| {
            self.copies.list.with(|list| {
                list.as_ref().map_or(0, |list| list.copies.iter().filter(|copy| is_older(plan, copy)).count())
            })
        })
    }

    /// The mail about one copy.
    pub async fn copy_mail(self, copy: Holder, link: &str) -> Result<Letter, String> {
        let tidings = self.desk.plan.with_untracked(|plan| Tidings::of(plan, link));
        match asked(Deed::Mail(tidings, copy), NO_COPIES).await? {
            (Told::Mail(letter), _) => Ok(letter),
            _ => Err(ELSEWHERE.into()),
        }
    }

    /// Saves the mails to everybody whose copy is older as one file; what it is called.
    pub async fn save_mails(self, link: &str) -> Result<String, String> {
        let (tidings, title) =
            self.desk.plan.with_untracked(|plan| (Tidings::of(plan, link), plan.texts().title.clone()));
        let (_, bytes) = asked(Deed::Mails(tidings), &self.copies_text().unwrap_or_default()).await?;
        let name = files::file_name(&format!("{title} mails"), ".txt");
        files::save(&name, "text/plain", &bytes).map(|()| name)
    }
}
