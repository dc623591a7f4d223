//! What the shop view asks of the browser: ticks kept, and a screen that stays on.
//!
//! In: a text under a name; whether the screen is to stay on. Out: the text at the next visit.
//! Always true: where the browser cannot keep the screen on or the text, the view works all the same.

use js_sys::{Function, Object, Promise, Reflect};
use std::cell::RefCell;
use wasm_bindgen::prelude::*;

thread_local! {
    /// What keeps the screen on; letting go of it does not, it has to be released.
    static LOCK: RefCell<Option<JsValue>> = const { RefCell::new(None) };
}

fn storage() -> Option<web_sys::Storage> {
    web_sys::window()?.local_storage().ok().flatten()
}

/// The text kept under a name.
pub fn kept(name: &str) -> Option<String> {
    storage()?.get_item(name).ok().flatten()
}

/// Keeps a text; false when it could not be kept.
pub fn keep(name: &str, text: &str) -> bool {
    storage().is_some_and(|storage| storage.set_item(name, text).is_ok())
}

/// The part of the address behind `#`.
pub fn hash() -> String {
    web_sys::window().and_then(|window| window.location().hash().ok()).unwrap_or_default()
}

/// Asks for a screen that stays on. Browsers let go of it when the page is hidden, so it is asked again then.
pub fn stay_on() {
    let Some(window) = web_sys::window() else { return };
    let asked = Reflect::get(&window.navigator(), &"wakeLock".into())
        .ok()
        .filter(JsValue::is_object)
        .and_then(|lock| {
            let request: Function = Reflect::get(&lock, &"request".into()).ok()?.dyn_into().ok()?;
            request.call1(&lock, &"screen".into()).ok()?.dyn_into::<Promise>().ok()
        });
    let Some(asked) = asked else { return };
    let got = Closure::once_into_js(|lock: JsValue| LOCK.with(|kept| *kept.borrow_mut() = Some(lock)));
    // Refused on a low battery, for example: the screen then goes off as it is used to.
    let refused = Closure::once_into_js(|_: JsValue| ());
    if let (Some(got), Some(refused)) = (got.dyn_ref::<Function>(), refused.dyn_ref::<Function>()) {
        let then =
            Reflect::get(&asked, &"then".into()).ok().and_then(|then| then.dyn_into::<Function>().ok());
        if let Some(then) = then {
            let _ = then.call2(&asked, got, refused);
        }
    }
}

/// Lets the screen go off again.
pub fn may_go_off() {
    let lock = LOCK.with(|kept| kept.borrow_mut().take());
    let release = lock.as_ref().and_then(|lock| {
        Reflect::get(lock.dyn_ref::<Object>()?, &"release".into()).ok()?.dyn_into::<Function>().ok()
    });
    if let (Some(lock), Some(release)) = (lock, release) {
        let _ = release.call0(&lock);
    }
}
