//! The programs that do the heavy work, so that the page stays smooth.
//!
//! In: questions. Out: each answer, handed to whoever asked.
//! Always true: a program is fetched when it is first asked, and its questions are answered in order; of questions that
//! outdate one another only the newest is; where no worker can be had the page runs the program itself; a worker that
//! ends, however it ends, is noticed by the lock it holds and another is asked the same once more; a question that
//! breaks two workers is given up, and said; one that is no longer wanted ends its worker, and the next begins with the
//! program as it was compiled before, so that nothing is fetched or compiled twice.

use super::crossing::{self, BROKEN};
use super::fonts;
use crate::bench::{Answer, Ask, Room};
use crate::browser::{clock, js};
use js_sys::WebAssembly::Module;
use std::cell::RefCell;
use std::collections::VecDeque;
use std::rc::Rc;
use wasm_bindgen::prelude::*;
use wasm_bindgen_futures::spawn_local;
use web_sys::{MessageEvent, Worker, WorkerOptions, WorkerType};

/// Breakdowns in a row after which no new worker is started until something new is asked.
const PATIENCE: u32 = 4;
/// Workers that one question may break.
const TRIES: u32 = 2;
/// What a worker says once it listens.
const READY: &str = "ready";
/// The page's own function that fetches a program onto the page (`loader.js`).
const HERE: &str = "turnleafHere";

type Then = Box<dyn FnOnce(Answer)>;
type Tell = Rc<dyn Fn()>;
type TellFar = Rc<dyn Fn(f64)>;

/// A question that waits or is being worked on.
struct Question {
    ask: Ask,
    then: Then,
    /// Workers that it broke.
    broke: u32,
}

/// Who answers.
enum Hand {
    /// Nobody yet, or nobody any more.
    Nobody,
    Worker(Worker),
    /// The program on the page itself, none while it is being fetched.
    Here(Option<JsValue>),
}

/// The page's side of one program.
struct Backroom {
    room: Room,
    hand: Hand,
    ready: bool,
    /// Counts the workers; news of an earlier one is old.
    life: u32,
    /// Breakdowns since the last question or answer.
    breakdowns: u32,
    /// Whether a worker came up once: what breaks workers is then not tried on the page.
    proven: bool,
    /// The program as the first worker compiled it.
    module: Option<Module>,
    /// What hears the present worker.
    ears: Option<Ears>,
    asked: Option<Question>,
    waiting: VecDeque<Question>,
}

/// What hears a worker: its words, and its errors.
type Ears = (Closure<dyn Fn(MessageEvent)>, Closure<dyn Fn(JsValue)>);

impl Backroom {
    const fn new(room: Room) -> RefCell<Backroom> {
        RefCell::new(Backroom {
            room,
            hand: Hand::Nobody,
            ready: false,
            life: 0,
            breakdowns: 0,
            proven: false,
            module: None,
            ears: None,
            asked: None,
            waiting: VecDeque::new(),
        })
    }
}

thread_local! {
    static CHECKS: RefCell<Backroom> = const { Backroom::new(Room::Checks) };
    static BOOK: RefCell<Backroom> = const { Backroom::new(Room::Book) };
    /// Whom to tell that a worker was started again.
    static TELL: RefCell<Option<Tell>> = const { RefCell::new(None) };
    /// Whom to tell how far the book's program is.
    static FAR: RefCell<Option<TellFar>> = const { RefCell::new(None) };
}

fn with<T>(room: Room, run: impl FnOnce(&mut Backroom) -> T) -> T {
    let run = |back: &RefCell<Backroom>| run(&mut back.borrow_mut());
    match room {
        Room::Checks => CHECKS.with(run),
        Room::Book => BOOK.with(run),
    }
}

/// Fetches the program of checks before anything is asked of it: something soon will be. Where it is there already,
/// nothing is done.
pub fn open() {
    with(Room::Checks, |back| {
        if matches!(back.hand, Hand::Nobody) {
            start(back);
        }
    });
}

/// Has someone told whenever a worker ended and another was started.
pub fn tell_of_breakdowns(tell: impl Fn() + 'static) {
    TELL.with(|told| *told.borrow_mut() = Some(Rc::new(tell)));
}

/// Has someone told, from 0 to 1, how far the book is that is being made; a book that was outdated while it waited is
/// never told of.
pub fn tell_how_far(tell: impl Fn(f64) + 'static) {
    FAR.with(|far| *far.borrow_mut() = Some(Rc::new(tell)));
}

/// Asks something; `then` gets the answer, unless a newer question of the same kind takes its place.
pub fn ask(ask: Ask, then: impl FnOnce(Answer) + 'static) {
    let room = ask.room();
    let first = with(room, |back| {
        let first = matches!(back.hand, Hand::Nobody) && back.life == 0;
        back.waiting.retain(|waiting| !ask.outdates(&waiting.ask));
        back.waiting.push_back(Question { ask, then: Box::new(then), broke: 0 });
        // Whoever asks, or asks again, is not refused for what broke before.
        back.breakdowns = 0;
        if matches!(back.hand, Hand::Nobody) {
            start(back);
        }
        first
    });
    next(room);
    if first && room == Room::Book {
        // The first pages can then be shown in their own letters.
        fonts::lend();
    }
}

/// Gives up what is asked and no longer wanted, whether it waits or is being worked on; nobody gets an answer to it.
/// True when there was any.
pub fn give_up(room: Room, unwanted: impl Fn(&Ask) -> bool) -> bool {
    let dropped = with(room, |back| {
        let waiting = std::mem::take(&mut back.waiting);
        let (mut dropped, kept): (VecDeque<_>, _) = waiting.into_iter().partition(|q| unwanted(&q.ask));
        back.waiting = kept;
        // What runs on the page itself is through before anybody could press anything.
        if let Some(question) = back.asked.take_if(|q| unwanted(&q.ask)) {
            dropped.push_back(question);
            if let Hand::Worker(worker) = &back.hand {
                worker.terminate();
            }
            back.hand = Hand::Nobody;
            back.ready = false;
            // What is still heard of this one is old.
            back.life += 1;
            if !back.waiting.is_empty() {
                start(back);
            }
        }
        dropped
    });
    // They go only here: whoever is no longer answered may let go of things that look into the room.
    !dropped.is_empty()
}

/// Takes up the next question when nothing is being worked on.
fn next(room: Room) {
    let done = with(room, |back| {
        if back.asked.is_some() || !back.ready {
            return None;
        }
        let question = back.waiting.pop_front()?;
        let Some(packed) = crossing::question(&question.ask) else {
            // Nothing that is asked here cannot be written; should it be, it is given up.
            return Some((question.then, Answer::Failed(BROKEN.into())));
        };
        match &back.hand {
            Hand::Worker(worker) => {
                if worker.post_message(&packed).is_err() {
                    return Some((question.then, Answer::Failed(BROKEN.into())));
                }
                back.asked = Some(question);
                None
            }
            Hand::Here(Some(program)) => {
                let answered = clock::measured(question.ask.name(), || {
                    js::call(program, "answer", &[&packed]).ok().and_then(|answer| crossing::answer(&answer))
                });
                let answer = answered.map_or_else(|| Answer::Failed(BROKEN.into()), |(answer, _)| answer);
                Some((question.then, answer))
            }
            _ => {
                back.waiting.push_front(question);
                None
            }
        }
    });
    if let Some((then, answer)) = done {
        then(answer);
        next(room);
    }
}

fn start(back: &mut Backroom) {
    back.ready = false;
    back.life += 1;
    let (room, life) = (back.room, back.life);
    let lock = format!("turnleaf/worker/{}", js::fresh());
    let options = WorkerOptions::new();
    let given = back.module.clone();
    let made = name(room, &lock).and_then(|name| {
        let name = if given.is_some() { format!("{name}&given=yes") } else { name };
        options.set_name(&name);
        options.set_type(WorkerType::Module);
        Worker::new_with_options("worker.js", &options).ok()
    });
    let Some(worker) = made else { return here(back) };
    let heard =
        Closure::<dyn Fn(MessageEvent)>::new(move |event: MessageEvent| heard(&event, room, life, &lock));
    let broke = Closure::<dyn Fn(JsValue)>::new(move |_| broke(room, life));
    worker.set_onmessage(Some(heard.as_ref().unchecked_ref()));
    worker.set_onerror(Some(broke.as_ref().unchecked_ref()));
    back.ears = Some((heard, broke));
    if let Some(module) = given
        && worker.post_message(&module).is_err()
    {
        // It cannot cross here; the next worker fetches its own.
        back.module = None;
        worker.terminate();
        return start(back);
    }
    back.hand = Hand::Worker(worker);
}

/// The names of a program's files, as the page's own script has them.
fn files(room: Room) -> Option<(String, String)> {
    let loader = web_sys::window()?.document()?.get_element_by_id("loader")?;
    let (js, wasm) = match room {
        Room::Checks => ("data-checks-js", "data-checks-wasm"),
        Room::Book => ("data-book-js", "data-book-wasm"),
    };
    Some((loader.get_attribute(js)?, loader.get_attribute(wasm)?))
}

/// What a worker has to know.
fn name(room: Room, lock: &str) -> Option<String> {
    let (js, wasm) = files(room)?;
    Some(format!("js={js}&wasm={wasm}&life={lock}"))
}

/// Fetches the program onto the page itself.
fn here(back: &mut Backroom) {
    back.hand = Hand::Here(None);
    let room = back.room;
    spawn_local(async move {
        let fetched = async {
            let (js_file, wasm) = files(room)?;
            let asked = js::call(&js::path(&[])?, HERE, &[&js_file.into(), &wasm.into()]).ok()?;
            js::wait(asked).await.ok()
        };
        let program = fetched.await;
        let lost = with(room, |back| {
            back.ready = program.is_some();
            if program.is_some() {
                back.hand = Hand::Here(program);
                return Vec::new();
            }
            // The next question tries again.
            back.hand = Hand::Nobody;
            back.waiting.drain(..).collect()
        });
        for question in lost {
            (question.then)(Answer::Failed(
                "The part of Turnleaf that works this out could not be fetched; when the network is back, try again."
                    .into(),
            ));
        }
        next(room);
    });
}

fn heard(event: &MessageEvent, room: Room, life: u32, lock: &str) {
    if with(room, |back| back.life) != life {
        return;
    }
    if let Some(module) = event.data().dyn_ref::<Module>() {
        with(room, |back| back.module = Some(module.clone()));
        return;
    }
    if event.data().as_string().as_deref() == Some(READY) {
        with(room, |back| (back.ready, back.proven) = (true, true));
        watch(room, life, lock);
    } else if let Some(share) = event.data().as_f64() {
        // Other questions that make a book on the way are not the book that is waited for.
        let of_book = with(room, |back| back.asked.as_ref().is_some_and(|q| matches!(q.ask, Ask::Book(..))));
        let far = FAR.with(|far| far.borrow().clone());
        if let Some(tell) = far.filter(|_| of_book) {
            tell(share);
        }
        return;
    } else if let Some(question) = with(room, |back| back.asked.take()) {
        let (answer, took) = crossing::answer(&event.data()).unwrap_or((Answer::Failed(BROKEN.into()), 0.0));
        with(room, |back| back.breakdowns = 0);
        let now = clock::seconds();
        clock::record(question.ask.name(), now - took, now);
        (question.then)(answer);
    }
    next(room);
}

/// Waits for the worker's lock, which is given only when the worker has ended. A browser without locks tells of
/// errors only.
fn watch(room: Room, life: u32, lock: &str) {
    let Some(locks) = js::path(&["navigator", "locks"]) else { return };
    let ended = Closure::once_into_js(move |_: JsValue| broke(room, life));
    // A refusal is a browser without locks.
    let _ = js::call(&locks, "request", &[&lock.into(), &ended]);
}

/// The worker ended: another is asked the same once more.
fn broke(room: Room, life: u32) {
    let (given_up, tell) = with(room, |back| {
        if back.life != life {
            return (Vec::new(), false);
        }
        if let Hand::Worker(worker) = &back.hand {
            worker.terminate();
        }
        back.hand = Hand::Nobody;
        // What is still heard of this one is old.
        back.life += 1;
        back.breakdowns += 1;
        if !back.ready {
            // It did not come up. When none ever did, the page runs the program itself.
            if !back.proven {
                here(back);
                return (Vec::new(), false);
            }
            return (back.waiting.drain(..).collect(), false);
        }
        back.ready = false;
        let mut given_up = Vec::new();
        if let Some(mut question) = back.asked.take() {
            question.broke += 1;
            if question.broke < TRIES {
                back.waiting.push_front(question);
            } else {
                given_up.push(question);
            }
        }
        if back.breakdowns < PATIENCE {
            start(back);
        } else {
            given_up.extend(back.waiting.drain(..));
        }
        (given_up, true)
    });
    let told = TELL.with(|told| told.borrow().clone());
    if let Some(tell) = told.filter(|_| tell) {
        tell();
    }
    for question in given_up {
        (question.then)(Answer::Failed(BROKEN.into()));
    }
    next(room);
}
