//! The browser's clock and its wishes about motion.
//!
//! In: nothing. Out: seconds, and measurements for whoever profiles the page.
//! Always true: the core never sees a clock; only playing a turn and measuring use it.

use js_sys::{Function, Object, Reflect};
use leptos::prelude::{request_animation_frame, set_timeout};
use std::cell::RefCell;
use std::rc::Rc;
use std::time::Duration;
use wasm_bindgen::{JsCast, JsValue};

/// The clock of the page or of the worker this runs in.
fn clock() -> Option<web_sys::Performance> {
    Reflect::get(&js_sys::global(), &"performance".into()).ok()?.dyn_into().ok()
}

/// Seconds since the page or worker was opened.
pub fn seconds() -> f64 {
    clock().map_or(0.0, |clock| clock.now() / 1000.0)
}

/// How long a frame is waited for on a page out of sight, which gets none.
const NO_FRAME: Duration = Duration::from_millis(100);
/// And on one in sight, where a slow machine takes longer than that for a frame.
const SLOW_FRAME: Duration = Duration::from_secs(1);

/// Runs something once what stands on the page now is painted; where nothing is painted, a moment later.
pub fn after_paint(run: impl FnOnce() + 'static) {
    let run = Rc::new(RefCell::new(Some(run)));
    let once = move || {
        let due = run.borrow_mut().take();
        if let Some(run) = due {
            run();
        }
    };
    let painted = once.clone();
    // A frame's own callbacks come before its painting, what they put off comes after.
    request_animation_frame(move || set_timeout(painted, Duration::ZERO));
    let hidden = web_sys::window().and_then(|window| window.document()).is_none_or(|page| page.hidden());
    set_timeout(once, if hidden { NO_FRAME } else { SLOW_FRAME });
}

/// Runs something and records how long it took.
pub fn measured<T>(name: &str, run: impl FnOnce() -> T) -> T {
    let since = seconds();
    let done = run();
    record(name, since, seconds());
    done
}

/// Leaves a measurement in the browser's own record, where its tools and our tests find it.
pub fn record(name: &str, since: f64, until: f64) {
    let Some(clock) = clock() else { return };
    let span = Object::new();
    let put = |key: &str, seconds: f64| Reflect::set(&span, &key.into(), &(seconds * 1000.0).max(0.0).into());
    // Called by name, since the binding knows only measurements between marks. A browser that will not
    // record costs nothing but the record.
    let measure = Reflect::get(&clock, &"measure".into()).ok().and_then(|f| f.dyn_into::<Function>().ok());
    if let (Ok(_), Ok(_), Some(measure)) = (put("start", since), put("end", until), measure) {
        let _ = measure.call2(&clock, &JsValue::from_str(name), &span);
    }
}

/// The day by the visitor's own clock and time zone, as year-month-day.
pub fn today() -> String {
    let now = js_sys::Date::new_0();
    format!("{:04}-{:02}-{:02}", now.get_full_year(), now.get_month() + 1, now.get_date())
}

/// Whether the visitor asked for less motion.
pub fn still() -> bool {
    let query =
        web_sys::window().and_then(|w| w.match_media("(prefers-reduced-motion: reduce)").ok().flatten());
    query.is_some_and(|query| query.matches())
}
