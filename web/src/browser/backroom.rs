//! The worker that does the heavy work, so that the page stays smooth.
//!
//! In: questions. Out: each answer, handed to whoever asked.
//! Always true: questions are answered in order; of questions that outdate one another only the newest is; where no worker can
//! be had, or when it breaks down, the work is done on the page or asked again of a new worker, and never hangs.

use crate::bench::{Answer, Ask, Bench};
use crate::browser::clock;
use js_sys::{Array, Uint8Array};
use std::cell::RefCell;
use std::collections::VecDeque;
use wasm_bindgen::prelude::*;
use web_sys::{DedicatedWorkerGlobalScope, MessageEvent, Worker, WorkerOptions, WorkerType};

/// Breakdowns after which no new worker is tried: the fault would only come again.
const PATIENCE: u32 = 3;
/// What the worker says once it listens.
const READY: &str = "ready";

type Then = Box<dyn FnOnce(Answer)>;

/// The page's side.
#[derive(Default)]
struct Backroom {
    worker: Option<Worker>,
    ready: bool,
    breakdowns: u32,
    /// The question being worked on.
    asked: Option<(Ask, Then)>,
    waiting: VecDeque<(Ask, Then)>,
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

/// Asks something; `then` gets the answer, unless a newer question of the same kind takes its place.
pub fn ask(ask: Ask, then: impl FnOnce(Answer) + 'static) {
    BACKROOM.with(|room| {
        let mut room = room.borrow_mut();
        room.waiting.retain(|(waiting, _)| !ask.outdates(waiting));
        room.waiting.push_back((ask, Box::new(then)));
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
                && let Some((ask, then)) = room.waiting.pop_front()
            {
                let sent = serde_json::to_string(&ask).ok().map(|text| worker.post_message(&text.into()));
                room.asked = Some((ask, then));
                if !matches!(sent, Some(Ok(()))) {
                    room.worker = None;
                    put_back(&mut room);
                }
            }
            return None;
        }
        let (ask, then) = room.waiting.pop_front()?;
        let answer = clock::measured(ask.name(), || room.here.answer(ask));
        Some((then, answer))
    });
    if let Some((then, answer)) = done_here {
        then(answer);
        next();
    }
}

/// A question that was not answered goes back to the front.
fn put_back(room: &mut Backroom) {
    if let Some(asked) = room.asked.take() {
        room.waiting.push_front(asked);
    }
}

fn start(room: &mut Backroom) {
    room.ready = false;
    room.worker = None;
    let Some(address) = address() else { return };
    let options = WorkerOptions::new();
    options.set_type(WorkerType::Module);
    let Ok(worker) = Worker::new_with_options(&address, &options) else { return };
    let heard = Closure::<dyn Fn(MessageEvent)>::new(|event: MessageEvent| heard(&event));
    let broke = Closure::<dyn Fn(JsValue)>::new(|_| broke());
    worker.set_onmessage(Some(heard.as_ref().unchecked_ref()));
    worker.set_onerror(Some(broke.as_ref().unchecked_ref()));
    // They live as long as the page; a worker is started a few times at most.
    heard.forget();
    broke.forget();
    room.worker = Some(worker);
}

/// The worker's script with the names of the built files, as the page itself was started with.
fn address() -> Option<String> {
    let loader = web_sys::window()?.document()?.get_element_by_id("loader")?;
    let (js, wasm) = (loader.get_attribute("data-js")?, loader.get_attribute("data-wasm")?);
    Some(format!("worker.js?js={js}&wasm={wasm}"))
}

fn heard(event: &MessageEvent) {
    if event.data().as_string().as_deref() == Some(READY) {
        BACKROOM.with(|room| room.borrow_mut().ready = true);
    } else if let Some((ask, then)) = BACKROOM.with(|room| room.borrow_mut().asked.take()) {
        let (answer, took) = unpack(&event.data()).unwrap_or((Answer::Failed(BROKEN.into()), 0.0));
        let now = clock::seconds();
        clock::record(ask.name(), now - took, now);
        then(answer);
    }
    next();
}

/// An answer and the seconds it took, as a list of text and bytes: bytes within text would be several times as long.
fn pack(answer: &Answer, took: f64) -> Option<Array> {
    let bytes = match answer {
        Answer::Pdf(bytes) => Uint8Array::from(bytes.as_slice()),
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
        answer => answer,
    };
    Some((answer, took))
}

const BROKEN: &str = "Working this out broke down, which is a fault of Turnleaf's; your sizes are kept.";

/// The worker stopped with an error: the question it had is given up, and a new worker does the rest.
fn broke() {
    let given_up = BACKROOM.with(|room| {
        let mut room = room.borrow_mut();
        if let Some(worker) = room.worker.take() {
            worker.terminate();
        }
        room.breakdowns += 1;
        if !room.ready {
            // It never came up; the page does the work itself.
            return None;
        }
        let asked = room.asked.take();
        if room.breakdowns < PATIENCE {
            start(&mut room);
        }
        asked
    });
    if let Some((_, then)) = given_up {
        then(Answer::Failed(BROKEN.into()));
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
