//! The worker that does the heavy work, so that the page stays smooth.
//!
//! In: questions. Out: each answer, handed to whoever asked.
//! Always true: questions are answered in order; of questions that outdate one another only the newest is; where no
//! worker can be had the page does the work itself; a worker that ends, however it ends, is noticed by the lock it holds
//! and another is asked the same once more; a question that breaks two workers is given up, and said.

use crate::bench::{Answer, Ask, Bench};
use crate::browser::{clock, js};
use js_sys::{Array, Uint8Array};
use std::cell::RefCell;
use std::collections::VecDeque;
use std::rc::Rc;
use wasm_bindgen::prelude::*;
use web_sys::{DedicatedWorkerGlobalScope, MessageEvent, Worker, WorkerOptions, WorkerType};

/// Breakdowns in a row after which no new worker is started until something new is asked.
const PATIENCE: u32 = 4;
/// Workers that one question may break.
const TRIES: u32 = 2;
/// What the worker says once it listens.
const READY: &str = "ready";

type Then = Box<dyn FnOnce(Answer)>;

/// A question that waits or is being worked on.
struct Question {
    ask: Ask,
    then: Then,
    /// Workers that it broke.
    broke: u32,
}

/// The page's side.
#[derive(Default)]
struct Backroom {
    worker: Option<Worker>,
    ready: bool,
    /// Counts the workers; news of an earlier one is old.
    life: u32,
    /// Breakdowns since the last answer.
    breakdowns: u32,
    /// Whether a worker came up once: what breaks workers is then not tried on the page.
    proven: bool,
    asked: Option<Question>,
    waiting: VecDeque<Question>,
    /// Whom to tell that a worker was started again.
    tell: Option<Rc<dyn Fn()>>,
    /// For when there is no worker.
    here: Bench,
}

thread_local! {
    static BACKROOM: RefCell<Backroom> = RefCell::default();
}

/// Opens the back room. Its worker is given the files the page was started from.
pub fn open() {
    BACKROOM.with(|room| start(&mut room.borrow_mut()));
}

/// Has someone told whenever a worker ended and another was started.
pub fn tell_of_breakdowns(tell: impl Fn() + 'static) {
    BACKROOM.with(|room| room.borrow_mut().tell = Some(Rc::new(tell)));
}

/// Asks something; `then` gets the answer, unless a newer question of the same kind takes its place.
pub fn ask(ask: Ask, then: impl FnOnce(Answer) + 'static) {
    BACKROOM.with(|room| {
        let mut room = room.borrow_mut();
        room.waiting.retain(|waiting| !ask.outdates(&waiting.ask));
        room.waiting.push_back(Question { ask, then: Box::new(then), broke: 0 });
        if room.worker.is_none() && room.proven {
            room.breakdowns = 0;
            start(&mut room);
        }
    });
    next();
}

/// Takes up the next question when nothing is being worked on.
fn next() {
    let done_here = BACKROOM.with(|room| {
        let mut room = room.borrow_mut();
        if room.asked.is_some() {
            return None;
        }
        if let Some(worker) = room.worker.clone() {
            if room.ready
                && let Some(question) = room.waiting.pop_front()
            {
                let sent =
                    serde_json::to_string(&question.ask).ok().map(|text| worker.post_message(&text.into()));
                if matches!(sent, Some(Ok(()))) {
                    room.asked = Some(question);
                } else {
                    // Nothing that is asked here cannot be written; should it be, it is given up.
                    return Some((question.then, Answer::Failed(BROKEN.into())));
                }
            }
            return None;
        }
        let Question { ask, then, .. } = room.waiting.pop_front()?;
        if room.proven {
            return Some((then, Answer::Failed(BROKEN.into())));
        }
        let answer = clock::measured(ask.name(), || room.here.answer(ask));
        Some((then, answer))
    });
    if let Some((then, answer)) = done_here {
        then(answer);
        next();
    }
}

fn start(room: &mut Backroom) {
    room.ready = false;
    room.worker = None;
    room.life += 1;
    let life = room.life;
    let lock = format!("turnleaf/worker/{}", js::fresh());
    let Some(name) = name(&lock) else { return };
    let options = WorkerOptions::new();
    options.set_name(&name);
    options.set_type(WorkerType::Module);
    let Ok(worker) = Worker::new_with_options("worker.js", &options) else { return };
    let heard = Closure::<dyn Fn(MessageEvent)>::new(move |event: MessageEvent| heard(&event, life, &lock));
    let broke = Closure::<dyn Fn(JsValue)>::new(move |_| broke(life));
    worker.set_onmessage(Some(heard.as_ref().unchecked_ref()));
    worker.set_onerror(Some(broke.as_ref().unchecked_ref()));
    // They live as long as the page; a worker is seldom started again.
    heard.forget();
    broke.forget();
    room.worker = Some(worker);
}

/// The names of the built files, as the page itself was started with, and of the worker's lock.
fn name(lock: &str) -> Option<String> {
    let loader = web_sys::window()?.document()?.get_element_by_id("loader")?;
    let (js, wasm) = (loader.get_attribute("data-js")?, loader.get_attribute("data-wasm")?);
    Some(format!("js={js}&wasm={wasm}&life={lock}"))
}

fn heard(event: &MessageEvent, life: u32, lock: &str) {
    if BACKROOM.with(|room| room.borrow().life) != life {
        return;
    }
    if event.data().as_string().as_deref() == Some(READY) {
        BACKROOM.with(|room| {
            let mut room = room.borrow_mut();
            (room.ready, room.proven) = (true, true);
        });
        watch(life, lock);
    } else if let Some(question) = BACKROOM.with(|room| room.borrow_mut().asked.take()) {
        let (answer, took) = unpack(&event.data()).unwrap_or((Answer::Failed(BROKEN.into()), 0.0));
        BACKROOM.with(|room| room.borrow_mut().breakdowns = 0);
        let now = clock::seconds();
        clock::record(question.ask.name(), now - took, now);
        (question.then)(answer);
    }
    next();
}

/// Waits for the worker's lock, which is given only when the worker has ended. A browser without locks tells of
/// errors only.
fn watch(life: u32, lock: &str) {
    let Some(locks) = js::path(&["navigator", "locks"]) else { return };
    let ended = Closure::once_into_js(move |_: JsValue| broke(life));
    // A refusal is a browser without locks.
    let _ = js::call(&locks, "request", &[&lock.into(), &ended]);
}

/// An answer and the seconds it took, as a list of text and bytes: bytes within text would be several times as long.
fn pack(answer: &Answer, took: f64) -> Option<Array> {
    let bytes = match answer {
        Answer::Pdf(bytes) | Answer::Editions(_, bytes) => Uint8Array::from(bytes.as_slice()),
        _ => Uint8Array::new_with_length(0),
    };
    let text = serde_json::to_string(&(answer, took)).ok()?;
    Some(Array::of2(&text.into(), &bytes))
}

fn unpack(packed: &JsValue) -> Option<(Answer, f64)> {
    let packed = packed.dyn_ref::<Array>()?;
    let (answer, took) = serde_json::from_str(&packed.get(0).as_string()?).ok()?;
    let answer = match answer {
        Answer::Pdf(_) => Answer::Pdf(packed.get(1).dyn_ref::<Uint8Array>()?.to_vec()),
        Answer::Editions(told, _) => Answer::Editions(told, packed.get(1).dyn_ref::<Uint8Array>()?.to_vec()),
        answer => answer,
    };
    Some((answer, took))
}

const BROKEN: &str = "Working this out broke down, which is a fault of Turnleaf's; your sizes are kept.";

/// The worker ended: another is asked the same once more.
fn broke(life: u32) {
    let (given_up, tell) = BACKROOM.with(|room| {
        let mut room = room.borrow_mut();
        if room.life != life {
            return (Vec::new(), None);
        }
        if let Some(worker) = room.worker.take() {
            worker.terminate();
        }
        // What is still heard of this one is old.
        room.life += 1;
        room.breakdowns += 1;
        if !room.ready {
            // It did not come up; when none ever did, the page does the work itself.
            return (Vec::new(), None);
        }
        room.ready = false;
        let mut given_up = Vec::new();
        if let Some(mut question) = room.asked.take() {
            question.broke += 1;
            if question.broke < TRIES {
                room.waiting.push_front(question);
            } else {
                given_up.push(question);
            }
        }
        if room.breakdowns < PATIENCE {
            start(&mut room);
        } else {
            given_up.extend(room.waiting.drain(..));
        }
        (given_up, room.tell.clone())
    });
    if let Some(tell) = tell {
        tell();
    }
    for question in given_up {
        (question.then)(Answer::Failed(BROKEN.into()));
    }
    next();
}

/// The worker's side: answers questions until the page goes away. False when this is no worker.
pub fn serve() -> bool {
    let Ok(scope) = js_sys::global().dyn_into::<DedicatedWorkerGlobalScope>() else { return false };
    let bench = RefCell::new(Bench::default());
    let own = scope.clone();
    let heard = Closure::<dyn Fn(MessageEvent)>::new(move |event: MessageEvent| {
        let ask = event.data().as_string().and_then(|text| serde_json::from_str::<Ask>(&text).ok());
        let since = clock::seconds();
        let answer = match ask {
            Some(ask) => bench.borrow_mut().answer(ask),
            None => Answer::Failed(BROKEN.into()),
        };
        // A page that is gone needs no answer.
        if let Some(packed) = pack(&answer, clock::seconds() - since) {
            let _ = own.post_message(&packed);
        }
    });
    scope.set_onmessage(Some(heard.as_ref().unchecked_ref()));
    heard.forget();
    let _ = scope.post_message(&READY.into());
    true
}
