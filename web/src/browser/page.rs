//! Places on the page of the browser: brought into sight, lit, drawn, printed.
//!
//! In: names of places. Out: the page scrolled, focus moved, pictures' addresses.
//! Always true: a place that is not there costs nothing.

use super::clock;
use gloo::file::{Blob, ObjectUrl};
use leptos::prelude::{request_animation_frame, set_timeout};
use std::time::Duration;
use wasm_bindgen::JsCast;
use web_sys::{Document, Element, HtmlElement, ScrollBehavior, ScrollIntoViewOptions, ScrollLogicalPosition};

fn document() -> Option<Document> {
    web_sys::window()?.document()
}

fn all(selector: &str) -> Vec<Element> {
    let Some(list) = document().and_then(|document| document.query_selector_all(selector).ok()) else {
        return Vec::new();
    };
    (0..list.length()).filter_map(|i| list.item(i)?.dyn_into().ok()).collect()
}

fn first(selector: &str) -> Option<Element> {
    document()?.query_selector(selector).ok().flatten()
}

fn into_sight(element: &Element) {
    glide(element, ScrollLogicalPosition::Center, ScrollLogicalPosition::Center);
}

fn glide(element: &Element, block: ScrollLogicalPosition, inline: ScrollLogicalPosition) {
    let how = ScrollIntoViewOptions::new();
    how.set_behavior(if clock::still() { ScrollBehavior::Instant } else { ScrollBehavior::Smooth });
    how.set_block(block);
    how.set_inline(inline);
    element.scroll_into_view_with_scroll_into_view_options(&how);
}

/// Leads to a part of the page, open.
pub fn go_to(id: &str) {
    reveal(id);
    if let Some(element) = document().and_then(|document| document.get_element_by_id(id)) {
        glide(&element, ScrollLogicalPosition::Start, ScrollLogicalPosition::Nearest);
    }
}

/// Opens what is folded around an element, or what the element itself holds folded.
fn unfold(element: &Element) {
    let mut at = element.query_selector(":scope > [hidden=\"until-found\"]").ok().flatten();
    at = at.or_else(|| element.closest("[hidden=\"until-found\"]").ok().flatten());
    while let Some(folded) = at {
        // As the browser does for its own search: first the part is told, then it shows.
        if let Ok(told) = web_sys::Event::new("beforematch") {
            let _ = folded.dispatch_event(&told);
        }
        let _ = folded.remove_attribute("hidden");
        at = folded.parent_element().and_then(|up| up.closest("[hidden=\"until-found\"]").ok().flatten());
    }
}

/// Opens what is folded around the element of this identifier.
pub fn reveal(id: &str) {
    if let Some(element) = document().and_then(|document| document.get_element_by_id(id)) {
        unfold(&element);
    }
}

/// Leads to the box of a size ("size/height") or the row of a solved number ("solved/gap.width").
pub fn lead_to(origin: &str) {
    // Names hold letters, figures, dots, dashes and slashes only; anything else is no origin.
    if !origin.chars().all(|c| c.is_ascii_alphanumeric() || "._-/".contains(c)) {
        return;
    }
    let place = match origin.split_once('/') {
        Some(("size", id)) => first(&format!("[id=\"{id}\"]")),
        Some((_, id)) => first(&format!("[data-number=\"{id}\"]")),
        None => None,
    };
    let Some(place) = place else { return };
    unfold(&place);
    for old in all(".led-to") {
        let _ = old.class_list().remove_1("led-to");
    }
    let _ = place.class_list().add_1("led-to");
    if place.get_attribute("tabindex").is_none() && !place.has_attribute("aria-label") {
        // A row is no control, but reading must go on from it.
        let _ = place.set_attribute("tabindex", "-1");
    }
    into_sight(&place);
    if let Some(place) = place.dyn_ref::<HtmlElement>() {
        let _ = place.focus();
    }
}

/// Tells one hit from the others: its page, and the how-manieth on it.
pub fn light_hit(hit: Option<(usize, usize)>) {
    for old in all(".sheet .this-hit") {
        let _ = old.class_list().remove_1("this-hit");
    }
    let Some((place, number)) = hit else { return };
    let marks = all(&format!(".sheet[data-page=\"{place}\"] [data-id=\"hit/{number}\"]"));
    for mark in &marks {
        let _ = mark.class_list().add_1("this-hit");
    }
    if let Some(mark) = marks.first() {
        into_sight(mark);
    }
}

/// Lights one dimension of the drawings at the bench, by its identifier, and brings it into sight: the first, where it
/// is printed more than once; nothing for an empty one.
pub fn light_reading(id: &str) {
    for old in all(".shop-drawing .lit-reading") {
        let _ = old.class_list().remove_1("lit-reading");
    }
    if id.is_empty() {
        return;
    }
    let mut places = all(".shop-drawing [data-id]");
    places.retain(|place| place.get_attribute("data-id").as_deref() == Some(id));
    for place in &places {
        let _ = place.class_list().add_1("lit-reading");
    }
    if let Some(place) = places.first() {
        into_sight(place);
    }
}

/// Moves the focus to a row of a list, the first being 0, once it is there.
pub fn focus_row(list: &str, place: usize) {
    let row = format!("{list} > li:nth-child({})", place + 1);
    request_animation_frame(move || {
        let Some(row) = first(&row).and_then(|row| row.dyn_into::<HtmlElement>().ok()) else { return };
        row.set_tab_index(-1);
        let _ = row.focus();
    });
}

/// Scrolls a room back to its top.
pub fn to_top(room: &str) {
    if let Some(room) = first(room) {
        room.set_scroll_top(0);
    }
}

/// The numbers in an attribute of those elements of a list that are in sight.
pub fn in_sight(list: &Element, selector: &str, attribute: &str) -> Vec<usize> {
    let room = list.get_bounding_client_rect();
    let Ok(found) = list.query_selector_all(selector) else { return Vec::new() };
    let elements = (0..found.length()).filter_map(|i| found.item(i)?.dyn_into::<Element>().ok());
    elements
        .filter(|element| {
            let seen = element.get_bounding_client_rect();
            seen.bottom() > room.top()
                && seen.top() < room.bottom()
                && seen.right() > room.left()
                && seen.left() < room.right()
        })
        .filter_map(|element| element.get_attribute(attribute)?.parse().ok())
        .collect()
}

/// Whether any of an element is in sight.
pub fn in_view(selector: &str) -> bool {
    let height = web_sys::window().and_then(|window| window.inner_height().ok()?.as_f64()).unwrap_or(0.0);
    first(selector).is_some_and(|element| {
        let seen = element.get_bounding_client_rect();
        seen.height() > 0.0 && seen.bottom() > 0.0 && seen.top() < height
    })
}

/// Scrolls a list, and nothing else, so far that an element in it is in sight.
pub fn show_within(list: &str, element: &str) {
    let (Some(list), Some(element)) = (first(list), first(element)) else { return };
    let (room, seen) = (list.get_bounding_client_rect(), element.get_bounding_client_rect());
    let (down, across) = if seen.top() < room.top() {
        (seen.top() - room.top(), 0.0)
    } else if seen.bottom() > room.bottom() {
        (seen.bottom() - room.bottom(), 0.0)
    } else {
        (0.0, 0.0)
    };
    let across = if seen.left() < room.left() {
        seen.left() - room.left()
    } else if seen.right() > room.right() {
        seen.right() - room.right()
    } else {
        across
    };
    list.set_scroll_top(list.scroll_top() + down as i32);
    list.set_scroll_left(list.scroll_left() + across as i32);
}

/// The address of a drawing as a picture; it is given back when it is let go.
pub fn picture(drawing: &str) -> ObjectUrl {
    ObjectUrl::from(Blob::new_with_options(drawing, Some("image/svg+xml")))
}

/// Listens to the page going dark or light, until it is let go.
pub fn on_scheme(then: impl Fn() + 'static) -> impl Sized {
    let query = web_sys::window().and_then(|w| w.match_media("(prefers-color-scheme: dark)").ok().flatten());
    let heard = wasm_bindgen::closure::Closure::<dyn Fn()>::new(then);
    if let Some(query) = &query {
        query.set_onchange(Some(heard.as_ref().unchecked_ref()));
    }
    Listening(query, heard)
}

/// Ends the listening when it goes.
struct Listening(
    Option<web_sys::MediaQueryList>,
    #[expect(dead_code, reason = "held so that it can be called")] wasm_bindgen::closure::Closure<dyn Fn()>,
);

impl Drop for Listening {
    fn drop(&mut self) {
        if let Some(query) = &self.0 {
            query.set_onchange(None);
        }
    }
}

/// Listens to the size of an element becoming another, until it is let go.
pub fn on_size<F: Fn() + 'static>(element: &Element, then: F) -> impl Sized + use<F> {
    let heard = wasm_bindgen::closure::Closure::<dyn Fn()>::new(then);
    let observer = web_sys::ResizeObserver::new(heard.as_ref().unchecked_ref()).ok();
    if let Some(observer) = &observer {
        observer.observe(element);
    }
    Watching(observer, heard)
}

/// Ends the listening when it goes.
struct Watching(
    Option<web_sys::ResizeObserver>,
    #[expect(dead_code, reason = "held so that it can be called")] wasm_bindgen::closure::Closure<dyn Fn()>,
);

impl Drop for Watching {
    fn drop(&mut self) {
        if let Some(observer) = &self.0 {
            observer.disconnect();
        }
    }
}

/// Puts the keyboard onto an element, once it is on the page.
pub fn focus_soon(id: &'static str) {
    let there = move || {
        let element = document().and_then(|document| document.get_element_by_id(id));
        if let Some(element) = element.and_then(|element| element.dyn_into::<HtmlElement>().ok()) {
            // An element that cannot be reached keeps the keyboard where it was.
            let _ = element.focus();
        }
    };
    set_timeout(there, Duration::ZERO);
}

/// Opens the print dialog once what was put on the page is drawn.
pub fn print_soon() {
    request_animation_frame(|| {
        set_timeout(
            || {
                if let Some(window) = web_sys::window() {
                    // A browser without printing has no dialog to miss.
                    let _ = window.print();
                }
            },
            Duration::from_millis(50),
        );
    });
}
