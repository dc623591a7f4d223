//! The browser's clock and its wishes about motion.
//!
//! In: nothing. Out: seconds, and measurements for whoever profiles the page.
//! Always true: the core never sees a clock; only playing a turn and measuring use it.

/// Seconds since the page was opened.
pub fn seconds() -> f64 {
    web_sys::window().and_then(|window| window.performance()).map_or(0.0, |clock| clock.now() / 1000.0)
}

/// Runs something and leaves a measurement under this name in the browser's own record.
pub fn measured<T>(name: &str, run: impl FnOnce() -> T) -> T {
    let Some(clock) = web_sys::window().and_then(|window| window.performance()) else { return run() };
    let mark = format!("{name} begins");
    // A record that is full or switched off costs nothing but the measurement.
    let _ = clock.mark(&mark);
    let done = run();
    let _ = clock.measure_with_start_mark(name, &mark);
    clock.clear_marks_with_mark_name(&mark);
    done
}

/// Whether the visitor asked for less motion.
pub fn still() -> bool {
    let query =
        web_sys::window().and_then(|w| w.match_media("(prefers-reduced-motion: reduce)").ok().flatten());
    query.is_some_and(|query| query.matches())
}
