//! The address bar, the title, and where the page stands.
//!
//! In: places. Out: the address, so that the browser's own back and forward work.
//! Always true: every place that one goes to is one step back away; what only changes its name is none.

use super::js;
use crate::place::Place;
use wasm_bindgen::JsValue;

/// The part behind `#`.
pub fn hash() -> String {
    js::path(&["location", "hash"]).and_then(|hash| hash.as_string()).unwrap_or_default()
}

/// Goes to a place; the page hears of it as of a link.
pub fn go(place: &Place) {
    if let Some(location) = js::global("location") {
        js::set(&location, "hash", &place.hash().into());
    }
}

/// Writes a place into the address without going anywhere.
pub fn rename(place: &Place) {
    if let Some(history) = js::global("history") {
        // Refused only where pages may not name themselves; then a reload opens what was open last.
        let _ = js::call(&history, "replaceState", &[&JsValue::NULL, &"".into(), &place.hash().into()]);
    }
}

/// Names the tab.
pub fn title(text: &str) {
    if let Some(document) = web_sys::window().and_then(|window| window.document()) {
        document.set_title(text);
    }
}

/// Goes to the top of the page and puts the focus on its heading, for those who do not see it change.
pub fn to_heading(id: &str) {
    let Some(document) = web_sys::window().and_then(|window| window.document()) else { return };
    if let Some(window) = js::global("window") {
        let _ = js::call(&window, "scrollTo", &[&0.into(), &0.into()]);
    }
    if let Some(heading) = document.get_element_by_id(id) {
        let how = js_sys::Object::new();
        js::set(&how, "preventScroll", &true.into());
        let _ = js::call(&heading, "focus", &[&how]);
    }
}

/// What the build is called: the version of the list of its files.
pub fn build() -> Option<String> {
    let document = web_sys::window()?.document()?;
    let said = document.query_selector("meta[name=build]").ok()??.get_attribute("content")?;
    // A page that was not built by the site's own command carries none.
    (!said.starts_with('@')).then_some(said)
}

/// A date and time as this browser's reader writes them, in English months.
pub fn date(ms: f64) -> String {
    let date = js_sys::Date::new(&ms.into());
    if !date.get_time().is_finite() {
        return "at an unknown date".into();
    }
    const MONTHS: [&str; 12] = [
        "January",
        "February",
        "March",
        "April",
        "May",
        "June",
        "July",
        "August",
        "September",
        "October",
        "November",
        "December",
    ];
    let month = MONTHS.get(date.get_month() as usize).unwrap_or(&"");
    let (day, year) = (date.get_date(), date.get_full_year());
    format!("{day} {month} {year}, {:02}:{:02}", date.get_hours(), date.get_minutes())
}
