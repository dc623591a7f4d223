//! What lies on the bench: the state of the app, owned at its root.
//!
//! In: the work kept from last time. Out: signals that every component reads, and the few deeds that change them.
//! Always true: one form leads to one table, which everything shown comes from; the last table that works
//! stays on show while the sizes give none.

use crate::bench::{Answer, Ask, Contents, Findings, Room};
use crate::browser::{backroom, clock};
use crate::copies::Return;
use crate::core::{Diagnostic, Mends, Plan, Table};
use crate::form::{Form, Shown};
use crate::history::History;
use crate::kept::Work;
use crate::place::Place;
use crate::scene::Scene;
use crate::shelf::Card;
use crate::space::Solid;
use crate::turning::hold;
use leptos::leptos_dom::helpers::TimeoutHandle;
use leptos::prelude::*;
use std::ops::Deref;
use std::sync::{Arc, OnceLock};
use std::time::Duration;

/// How long the sizes rest before the proof is worked out: shorter than a pause between two words.
const PAUSE: Duration = Duration::from_millis(140);

/// How long they rest before the whole book is set, which takes a core for a second or two.
pub const REST: Duration = Duration::from_millis(450);

/// How long a book may wait for a rest at most.
const LATEST: Duration = Duration::from_secs(3);

/// How long the typing in one size rests before it counts as done.
const STEP: Duration = Duration::from_millis(1500);

/// How much farther a book must be before it is said: every word of it costs the page a frame.
const STRIDE: f64 = 0.08;

/// A value shared without copying; two are equal when they are the same one.
#[derive(Debug)]
pub struct Shared<T>(Arc<T>);

impl<T> Shared<T> {
    /// Puts a value up for sharing.
    pub fn new(value: T) -> Shared<T> {
        Shared(Arc::new(value))
    }
}
impl<T> Clone for Shared<T> {
    fn clone(&self) -> Shared<T> {
        Shared(self.0.clone())
    }
}
impl<T> PartialEq for Shared<T> {
    fn eq(&self, other: &Shared<T>) -> bool {
        Arc::ptr_eq(&self.0, &other.0)
    }
}
impl<T> Deref for Shared<T> {
    type Target = T;
    fn deref(&self) -> &T {
        &self.0
    }
}

/// A table that works, ready to draw.
#[derive(Clone, PartialEq)]
pub struct Drawn {
    /// Pieces and their motion.
    pub table: Shared<Table>,
    /// The plan view.
    pub scene: Shared<Scene>,
    /// Its pieces in space, once someone looked at them.
    solids: Shared<OnceLock<Vec<Solid>>>,
}

impl Drawn {
    fn new(table: Table) -> Drawn {
        let scene = Scene::new(&table.pieces(), &table.places(0.0), &table.places(table.turn_degrees()));
        let solids = Shared::new(OnceLock::new());
        Drawn { table: Shared::new(table), scene: Shared::new(scene), solids }
    }

    /// Its pieces in space.
    pub fn solids(&self) -> &[Solid] {
        self.solids.get_or_init(|| self.table.solids())
    }
}

/// What was made of the plan at once.
#[derive(Clone, PartialEq)]
pub struct Quick {
    /// The table; the last that worked, when this plan gives none.
    pub drawn: Option<Drawn>,
    /// What is at odds; empty when the table is this plan's own.
    pub troubles: Vec<Diagnostic>,
}

/// The proof and everything that needs it, which follow a moment later.
#[derive(Clone, PartialEq)]
pub enum Proved {
    /// Being worked out, or nothing to work out.
    Waiting,
    /// Done.
    Done(Shared<Findings>),
    /// It could not be done; one sentence.
    Failed(String),
}

/// The search for what would mend the table.
#[derive(Clone, Debug, PartialEq)]
pub enum Search {
    /// Under way.
    Looking,
    /// The maker stopped it.
    Stopped,
    /// Done; for the plan with this text.
    Done(Mends),
    /// It could not be done; one sentence.
    Failed(String),
}

/// A message to the maker.
#[derive(Clone, Debug, PartialEq)]
pub struct Notice {
    /// Its place in the order of messages.
    pub number: u64,
    /// Whether something went wrong.
    pub bad: bool,
    /// One or two sentences.
    pub text: String,
    /// What a press of a button brings back.
    pub back: Option<Back>,
}

/// What a message can bring back.
#[derive(Clone, Debug, PartialEq)]
pub enum Back {
    /// The work that was on the desk.
    Form(Box<Form>),
    /// The place where one was.
    Place(Place),
    /// A plan that was taken away, as it was kept, with its list of copies.
    Card(Box<Card>, String, Option<String>),
    /// Something about the copies of a plan.
    Copies(Return),
}

/// How well the work is kept in this browser.
#[derive(Clone, Debug, PartialEq)]
pub enum Keeping {
    /// Nothing new since the last time.
    Kept,
    /// Changes wait to be kept.
    Waiting,
    /// It could not be kept; the sentence says why.
    Failed(String),
}

/// A look back.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Looking {
    /// At the table before the last change.
    BeforeLast,
    /// At the table as it was when the plan was opened.
    AtFirst,
}

/// The state of the app.
#[derive(Clone, Copy)]
pub struct Desk {
    /// Sizes, options and words, as typed.
    pub form: RwSignal<Form>,
    /// What was done and can be undone.
    pub history: RwSignal<History>,
    /// The form as it was when the plan was opened.
    pub first: RwSignal<Form>,
    /// Whether a plan lies on the desk; nothing is worked out while none does.
    pub at_work: RwSignal<bool>,
    /// What of the past is being looked at, if anything.
    pub looking: RwSignal<Option<Looking>>,
    /// The table as it was then.
    pub past: Memo<Option<Drawn>>,
    /// How far the table is turned: 0 closed, 1 open.
    pub share: RwSignal<f64>,
    /// Whether one looks through the top.
    pub inside: RwSignal<bool>,
    /// Whether one looks at the table in space, not from above.
    pub space: RwSignal<bool>,
    /// Pieces lit, because they come close at the turn on show.
    pub lit: RwSignal<Vec<String>>,
    /// Whether the turn plays by itself.
    pub playing: RwSignal<bool>,
    /// The plan as it can be used.
    pub plan: Memo<Plan>,
    /// The same as what is drawn and proved follows it: a letter is painted first, and of letters that come faster than
    /// frames only the last is followed.
    pub followed: RwSignal<Plan>,
    /// When the plan was changed last, for measurements.
    pub changed: StoredValue<f64>,
    /// The chapters that the book has.
    pub chapters: Memo<String>,
    /// What was made of it at once.
    pub quick: Memo<Quick>,
    /// The proof, checks and numbers, a moment later.
    pub proved: RwSignal<Proved>,
    /// Counts the times that the proof was asked for again.
    pub again: RwSignal<u32>,
    /// What would mend sizes that give no table.
    pub mending: RwSignal<Option<Search>>,
    /// The newest book, and whether it is this plan's.
    pub book: RwSignal<Option<Shared<Contents>>>,
    /// How far the next book is, from 0 to 1, while one is made.
    pub laying: RwSignal<Option<f64>>,
    /// Whether the making of the pages was stopped for these sizes.
    pub stopped: RwSignal<bool>,
    /// Whether the book is being written to a file.
    pub writing: RwSignal<bool>,
    /// Messages, oldest first.
    pub notices: RwSignal<Vec<Notice>>,
    /// How well the work is kept.
    pub keeping: RwSignal<Keeping>,
}

impl Desk {
    /// Lays the work on the bench and hands the state to all components below.
    pub fn lay(work: Work) -> Desk {
        let history = RwSignal::new(History::new(work.form.clone()));
        let first = RwSignal::new(work.form.clone());
        let form = RwSignal::new(work.form);
        let looking = RwSignal::new(None);
        let plan = Memo::new(move |_| form.with(|form| form.plan().clone()));
        let followed = RwSignal::new(plan.get_untracked());
        let quick = Memo::new(move |before: Option<&Quick>| {
            match followed.with(|plan| clock::measured("solve", || Table::new(plan))) {
                Ok(table) => Quick { drawn: Some(Drawn::new(table)), troubles: Vec::new() },
                Err(troubles) => Quick { drawn: before.and_then(|before| before.drawn.clone()), troubles },
            }
        });
        let past = Memo::new(move |_| {
            let then = match looking.get()? {
                Looking::BeforeLast => history.with(|history| history.before().cloned())?,
                Looking::AtFirst => first.get(),
            };
            Table::new(then.plan()).ok().map(Drawn::new)
        });
        let desk = Desk {
            form,
            history,
            first,
            at_work: RwSignal::new(false),
            looking,
            past,
            share: RwSignal::new(work.share),
            inside: RwSignal::new(false),
            space: RwSignal::new(false),
            lit: RwSignal::new(Vec::new()),
            playing: RwSignal::new(false),
            plan,
            followed,
            changed: StoredValue::new(0.0),
            chapters: Memo::new(move |_| form.with(|form| form.chapters().to_string())),
            quick,
            proved: RwSignal::new(Proved::Waiting),
            again: RwSignal::new(0),
            mending: RwSignal::new(None),
            book: RwSignal::new(None),
            laying: RwSignal::new(None),
            stopped: RwSignal::new(false),
            writing: RwSignal::new(false),
            notices: RwSignal::new(Vec::new()),
            keeping: RwSignal::new(Keeping::Kept),
        };
        provide_context(desk);
        desk.note_from_now_on();
        desk.follow_from_now_on();
        desk.prove_from_now_on();
        backroom::tell_how_far(move |share| {
            let told = desk.laying.try_get_untracked().flatten();
            if told.is_some_and(|told| share < told || share - told >= STRIDE) {
                desk.laying.set(Some(share));
            }
        });
        backroom::tell_of_breakdowns(move || {
            let text = "The part of Turnleaf that works out checks and pages stopped and was started again. Nothing you typed is touched.";
            desk.tell(true, text, None);
        });
        desk
    }

    /// Lays another work on the bench.
    pub fn put_on(self, work: Work) {
        self.playing.set(false);
        self.looking.set(None);
        self.proved.set(Proved::Waiting);
        self.mending.set(None);
        self.book.set(None);
        self.first.set(work.form.clone());
        self.history.set(History::new(work.form.clone()));
        self.form.set(work.form);
        // No frame shows this plan's words beside the other's table.
        self.followed.set(self.plan.get_untracked());
        self.share.set(work.share);
        self.at_work.set(true);
    }

    /// Follows the plan, each time once the letter that changed it is painted.
    fn follow_from_now_on(self) {
        let since = StoredValue::new(None::<f64>);
        Effect::new(move |_| {
            if self.plan.with(|plan| self.followed.with_untracked(|followed| plan == followed)) {
                return;
            }
            self.changed.set_value(clock::seconds());
            if since.get_value().is_some() {
                return;
            }
            since.set_value(Some(clock::seconds()));
            clock::after_paint(move || {
                // The app may have been taken off the page meanwhile.
                let (Some(plan), Some(Some(begun))) = (self.plan.try_get_untracked(), since.try_get_value())
                else {
                    return;
                };
                since.set_value(None);
                if self.followed.with_untracked(|followed| *followed != plan) {
                    self.followed.set(plan);
                }
                // Once the drawing has followed too.
                clock::after_paint(move || clock::record("follow", begun, clock::seconds()));
            });
        });
    }

    /// Takes note of every change; a rest ends a step.
    fn note_from_now_on(self) {
        let waiting = StoredValue::new(None::<TimeoutHandle>);
        Effect::new(move |_| {
            self.form.with(|form| self.history.update(|history| history.note(form)));
            if let Some(handle) = waiting.get_value() {
                handle.clear();
            }
            let rest = move || {
                self.history.try_update(History::rest);
            };
            waiting.set_value(set_timeout_with_handle(rest, STEP).ok());
        });
    }

    /// Takes over a revision that was just issued. What was typed meanwhile stays; undoing never un-issues it.
    pub fn issued(&self, plan: &Plan) {
        let mut form = self.form.get_untracked();
        form.keep_issued(plan);
        self.history.update(|history| history.issued(&form));
        self.form.set(form);
    }

    /// Takes the last change back.
    pub fn undo(&self) {
        if let Some(form) = self.history.try_update(History::undo).flatten() {
            self.form.set(form);
        }
    }

    /// Makes the change taken back last again.
    pub fn redo(&self) {
        if let Some(form) = self.history.try_update(History::redo).flatten() {
            self.form.set(form);
        }
    }

    /// Works out proof, checks and numbers a moment after the sizes come to rest.
    fn prove_from_now_on(self) {
        let waiting = StoredValue::new(None::<TimeoutHandle>);
        // When the first of the changes came that no book was asked for since.
        let behind = StoredValue::new(None::<f64>);
        Effect::new(move |_| {
            if let Some(handle) = waiting.get_value() {
                handle.clear();
            }
            if !self.at_work.get() {
                return;
            }
            let changed = clock::seconds();
            if behind.get_value().is_none() {
                behind.set_value(Some(changed));
            }
            self.followed.track();
            self.chapters.track();
            self.again.track();
            self.stopped.set(false);
            if self.mending.get_untracked() == Some(Search::Looking) {
                // A search for other sizes is of no use to these.
                backroom::give_up(Room::Checks, |ask| matches!(ask, Ask::Mend(_, None)));
            }
            if self.quick.with(|quick| !quick.troubles.is_empty() || quick.drawn.is_none()) {
                self.proved.set(Proved::Waiting);
                self.mending.set(Some(Search::Looking));
                let look = move || {
                    // It may have been stopped before it began.
                    if self.mending.try_get_untracked() == Some(Some(Search::Looking)) {
                        self.look_for_mends();
                    }
                };
                waiting.set_value(set_timeout_with_handle(look, PAUSE).ok());
                return;
            }
            self.mending.set(None);
            let prove = move || {
                let plan = self.plan.with_untracked(Plan::to_json);
                backroom::ask(Ask::Build(plan.clone()), move |answer| {
                    // Sizes that give no table any more have taken back what was proved of them.
                    if self.quick.try_with_untracked(|quick| quick.troubles.is_empty()) != Some(true) {
                        return;
                    }
                    self.proved.set(match answer {
                        Answer::Built(found) => Proved::Done(Shared::new(found)),
                        Answer::Failed(sentence) => Proved::Failed(sentence),
                        other => Proved::Failed(astray(&other)),
                    });
                    // Checks come first: on a phone both at once would take twice as long to say anything.
                    let now = clock::seconds();
                    let rested = Duration::from_secs_f64((now - changed).max(0.0));
                    let late = behind.get_value().is_some_and(|since| now - since > LATEST.as_secs_f64());
                    // A plan changed meanwhile is proved again, and its book asked for then.
                    let newest = self.followed.with_untracked(Plan::to_json) == plan;
                    let set = move || {
                        behind.try_set_value(None);
                        self.set_book(plan);
                    };
                    if late || newest && rested >= REST {
                        set();
                    } else if newest {
                        waiting.set_value(set_timeout_with_handle(set, REST - rested).ok());
                    }
                });
            };
            waiting.set_value(set_timeout_with_handle(prove, PAUSE).ok());
        });
    }

    /// Ends the making of the pages; a changed size or [`Desk::make_book`] begins it again.
    pub fn stop_book(&self) {
        backroom::give_up(Room::Book, |ask| matches!(ask, Ask::Book(..)));
        self.laying.set(None);
        self.stopped.set(true);
    }

    /// Makes the pages of the present sizes now.
    pub fn make_book(self) {
        self.stopped.set(false);
        self.set_book(self.plan.with_untracked(Plan::to_json));
    }

    /// Has the book of a plan set.
    fn set_book(self, plan: String) {
        let Some(chapters) = self.chapters.try_get_untracked() else { return };
        self.laying.try_set(Some(0.0));
        backroom::ask(Ask::Book(plan, chapters), move |answer| {
            self.laying.try_set(None);
            match answer {
                Answer::Book(contents) => self.book.set(Some(Shared::new(contents))),
                // Said by the checks already; the pages of the last book stay.
                Answer::Failed(_) => {}
                other => self.tell(true, astray(&other), None),
            }
        });
    }

    /// Ends the search for what would give these sizes a table.
    pub fn stop_mends(&self) {
        backroom::give_up(Room::Checks, |ask| matches!(ask, Ask::Mend(_, None)));
        self.mending.set(Some(Search::Stopped));
    }

    /// Begins a search anew that was stopped.
    pub fn look_again(self) {
        self.mending.set(Some(Search::Looking));
        self.look_for_mends();
    }

    /// Looks for what would give these sizes a table.
    fn look_for_mends(self) {
        let plan = self.plan.with_untracked(Plan::to_json);
        backroom::ask(Ask::Mend(plan.clone(), None), move |answer| {
            // Sizes that were changed meanwhile have a search of their own.
            if self.plan.try_with_untracked(Plan::to_json) != Some(plan) {
                return;
            }
            self.mending.set(Some(Search::of(answer)));
        });
    }

    /// Types a text into a size, as a remedy asks.
    pub fn take(&self, size: &str, text: &str) {
        let taken = self.form.try_update(|form| form.edit(size, text)).unwrap_or(false);
        if !taken {
            // A plan for buyers fixes sizes that a remedy may ask for.
            let refused = self.form.with_untracked(|form| match form.shown(size) {
                Shown::Wrong(refused) => Some(format!("{} {}", refused.sentence, refused.hint)),
                _ => None,
            });
            self.form.update(|form| form.give_up(size));
            let meanwhile = "This could not be used, since the sizes were changed meanwhile.";
            self.tell(true, refused.unwrap_or_else(|| meanwhile.into()), None);
        }
    }

    /// What is at odds in the sizes, if anything is.
    pub fn troubles(&self) -> Vec<Diagnostic> {
        self.quick.with(|quick| quick.troubles.clone())
    }

    /// The table on show: of a look back the table as it was, if there was one.
    pub fn drawn(&self) -> Option<Drawn> {
        let past = self.looking.get().and_then(|_| self.past.get());
        past.or_else(|| self.quick.with(|quick| quick.drawn.clone()))
    }

    /// The state, from any component.
    pub fn here() -> Desk {
        expect_context::<Desk>()
    }

    /// The whole turn of the table on show, degrees.
    pub fn whole(&self) -> f64 {
        self.drawn().map_or(0.0, |drawn| drawn.table.turn_degrees())
    }

    /// The turn of the table on show, degrees.
    pub fn turn(&self) -> f64 {
        let whole = self.whole();
        hold(self.share.get() * whole, whole)
    }

    /// Turn and whole turn at this moment, for deeds that need not follow them.
    pub fn turn_now(&self) -> (f64, f64) {
        let whole = self.quick.with_untracked(whole);
        (hold(self.share.get_untracked() * whole, whole), whole)
    }

    /// Turns the table to so many degrees.
    pub fn turn_to(&self, degrees: f64) {
        let (_, whole) = self.turn_now();
        if whole > 0.0 {
            let share = (hold(degrees, whole) / whole).clamp(0.0, 1.0);
            if share != self.share.get_untracked() {
                self.share.set(share);
            }
        }
    }

    /// Tells the maker something.
    pub fn tell(&self, bad: bool, text: impl Into<String>, back: Option<Back>) {
        let text = text.into();
        self.notices.update(|notices| {
            let number = notices.last().map_or(0, |last| last.number + 1);
            // The same words twice help nobody, and five messages are as many as one reads.
            notices.retain(|notice| notice.text != text);
            if notices.len() >= 5 {
                notices.remove(0);
            }
            notices.push(Notice { number, bad, text, back });
        });
    }

    /// Takes a message away.
    pub fn dismiss(&self, number: u64) {
        self.notices.update(|notices| notices.retain(|notice| notice.number != number));
    }
}

impl Search {
    /// From the answer to the question.
    pub fn of(answer: Answer) -> Search {
        match answer {
            Answer::Mends(found) => Search::Done(found),
            Answer::Failed(sentence) => Search::Failed(sentence),
            other => Search::Failed(astray(&other)),
        }
    }
}

/// Never seen unless we made a mistake: an answer to another question.
fn astray(answer: &Answer) -> String {
    let text = serde_json::to_string(answer).unwrap_or_default();
    let start: String = text.chars().take(60).collect();
    format!("An answer went astray, which is a fault of Turnleaf's: {start}.")
}

fn whole(quick: &Quick) -> f64 {
    quick.drawn.as_ref().map_or(0.0, |drawn| drawn.table.turn_degrees())
}
