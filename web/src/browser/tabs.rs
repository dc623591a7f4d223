//! Other tabs of the app.
//!
//! In: what this tab does with plans. Out: what others do, and which are still alive.
//! Always true: whether a tab lives is asked of the browser (its locks), never guessed from a clock; a browser
//! without locks or channels costs only the words about other tabs, never work.

use super::js;
use js_sys::{Array, Function, Object, Promise, Reflect};
use serde::{Deserialize, Serialize};
use std::cell::RefCell;
use wasm_bindgen::prelude::*;

/// The channel between tabs.
const CHANNEL: &str = "turnleaf";
/// A lock that each tab holds while it lives; its key goes behind.
const TAB: &str = "turnleaf/tab/";
/// A lock that each tab holds on the plan it has open; plan and key go behind.
const OPEN: &str = "turnleaf/open/";

/// What tabs say to one another.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Word {
    /// A plan was kept with this stamp.
    Kept {
        /// The plan.
        id: String,
        /// The new stamp.
        stamp: String,
    },
    /// A tab opened or left a plan, or plans came or went.
    Moved,
}

thread_local! {
    static KEY: RefCell<String> = const { RefCell::new(String::new()) };
    static WIRE: RefCell<Option<JsValue>> = const { RefCell::new(None) };
    /// Lets go of the lock on the plan that is open.
    static RELEASE: RefCell<Option<Function>> = const { RefCell::new(None) };
}

/// Takes a key for this tab, holds its lock, and hears other tabs from now on.
pub fn join(heard: impl Fn(Word) + 'static) -> String {
    let key = js::fresh();
    KEY.with(|place| place.borrow_mut().clone_from(&key));
    // Held until the page is gone.
    drop(lock(&format!("{TAB}{key}")));
    let made = js::global("BroadcastChannel").and_then(|class| {
        Reflect::construct(class.dyn_ref::<Function>()?, &Array::of1(&CHANNEL.into())).ok()
    });
    if let Some(wire) = made {
        let hear = Closure::<dyn Fn(web_sys::MessageEvent)>::new(move |event: web_sys::MessageEvent| {
            if let Some(word) = event.data().as_string().and_then(|text| serde_json::from_str(&text).ok()) {
                heard(word);
            }
        });
        js::set(&wire, "onmessage", hear.as_ref());
        // As long as the page.
        hear.forget();
        WIRE.with(|place| *place.borrow_mut() = Some(wire));
    }
    key
}

/// Says something to all other tabs.
pub fn say(word: &Word) {
    let Ok(text) = serde_json::to_string(word) else { return };
    WIRE.with(|wire| {
        if let Some(wire) = wire.borrow().as_ref() {
            // A channel that is gone leaves the other tabs to look when they are seen again.
            let _ = js::call(wire, "postMessage", &[&text.into()]);
        }
    });
}

/// Notes which plan this tab has open.
pub fn open(plan: Option<&str>) {
    if let Some(release) = RELEASE.with(|place| place.borrow_mut().take()) {
        // It cannot fail: it only settles a promise.
        let _ = release.call0(&JsValue::NULL);
    }
    if let Some(id) = plan {
        let release = KEY.with(|key| lock(&format!("{OPEN}{id}/{}", key.borrow())));
        RELEASE.with(|place| *place.borrow_mut() = release);
    }
    say(&Word::Moved);
}

/// Asks for a lock and holds it; what is given back lets go of it.
fn lock(name: &str) -> Option<Function> {
    let locks = js::path(&["navigator", "locks"])?;
    let release = std::rc::Rc::new(RefCell::new(None));
    let held = Promise::new(&mut |settle, _| *release.borrow_mut() = Some(settle));
    let granted = Closure::once_into_js(move |_: JsValue| held);
    js::call(&locks, "request", &[&name.into(), &granted]).ok()?;
    release.take()
}

/// The locks held in all tabs; none where the browser does not tell.
async fn held() -> Option<Vec<String>> {
    let locks = js::path(&["navigator", "locks"])?;
    let found = js::wait(js::call(&locks, "query", &[]).ok()?).await.ok()?;
    let held: Array = js::get(&found, "held")?.dyn_into().ok()?;
    Some(held.iter().filter_map(|lock| js::get(&lock, "name")?.as_string()).collect())
}

/// Keys of the tabs that live; none where the browser does not tell.
pub async fn alive() -> Option<Vec<String>> {
    Some(held().await?.iter().filter_map(|name| name.strip_prefix(TAB)).map(str::to_string).collect())
}

/// How many other tabs have this plan open.
pub async fn others(id: &str) -> usize {
    let mine = KEY.with(|key| key.borrow().clone());
    let start = format!("{OPEN}{id}/");
    let all = held().await.unwrap_or_default();
    all.iter().filter_map(|name| name.strip_prefix(&start)).filter(|key| *key != mine).count()
}

/// Whether the browser promises not to clear what is kept, asking it to when `ask`.
pub async fn lasting(ask: bool) -> Option<bool> {
    let storage = js::path(&["navigator", "storage"])?;
    let said = js::wait(js::call(&storage, "persisted", &[]).ok()?).await.ok()?.as_bool()?;
    if said || !ask {
        return Some(said);
    }
    js::wait(js::call(&storage, "persist", &[]).ok()?).await.ok()?.as_bool()
}

/// An event of the page itself, such as those of `loader.js`.
pub fn announce(name: &str) {
    let Some(class) = js::global("Event") else { return };
    let event = class
        .dyn_ref::<Function>()
        .and_then(|class| Reflect::construct(class, &Array::of1(&name.into())).ok());
    if let Some(event) = event.as_ref().and_then(|event| event.dyn_ref::<Object>()) {
        // Nobody listening is no fault.
        let _ = js::call(&js_sys::global(), "dispatchEvent", &[event]);
    }
}
