//! The browser's local storage: at once, but small.
//!
//! In: texts under short names. Out: the same at the next visit.
//! Always true: it is written while the page waits, so that what a killed tab typed last is there; every refusal is an error, never
//! a panic.

use crate::shelf::Last;
use gloo::storage::{LocalStorage, SessionStorage, Storage};

/// Where work lay before plans were kept in a database; read and moved there.
pub const EARLIER: &str = "turnleaf/work";
/// Where earlier work that could not be read was put.
pub const EARLIER_ASIDE: &str = "turnleaf/put-aside";
/// Where the last state of each tab lies: its key goes behind.
const LAST: &str = "turnleaf/last/";
/// The place that was open last.
const OPEN: &str = "turnleaf/open";

/// A text kept.
pub fn get(key: &str) -> Option<String> {
    usable()?.get_item(key).ok().flatten()
}

/// Keeps a text; false when the browser refuses.
pub fn put(key: &str, text: &str) -> Result<(), Full> {
    let storage = usable().ok_or(Full::Blocked)?;
    storage.set_item(key, text).map_err(|_| Full::Full)
}

/// Why a text could not be kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Full {
    /// There is no storage for this page.
    Blocked,
    /// There is no room left.
    Full,
}

/// Takes a text away.
pub fn remove(key: &str) {
    if let Some(storage) = usable() {
        // What stays is read again and found to be kept already.
        let _ = storage.remove_item(key);
    }
}

/// All keys that begin so.
pub fn keys(start: &str) -> Vec<String> {
    let Some(storage) = usable() else { return Vec::new() };
    let count = storage.length().unwrap_or(0);
    (0..count).filter_map(|i| storage.key(i).ok().flatten()).filter(|key| key.starts_with(start)).collect()
}

/// Writes a tab's last state down.
pub fn keep_last(tab: &str, last: &Last) -> Result<(), Full> {
    let text = serde_json::to_string(last).map_err(|_| Full::Full)?;
    put(&format!("{LAST}{tab}"), &text)
}

/// Forgets a tab's last state.
pub fn forget_last(tab: &str) {
    remove(&format!("{LAST}{tab}"));
}

/// The last states of all tabs; a text that is none is given as it is.
pub fn lasts() -> Vec<(String, Result<Last, String>)> {
    let one = |key: String| {
        let text = get(&key)?;
        Some((key[LAST.len()..].to_string(), serde_json::from_str(&text).map_err(|_| text)))
    };
    keys(LAST).into_iter().filter_map(one).collect()
}

/// The address of the place that was open last.
pub fn open_last() -> Option<String> {
    get(OPEN)
}

/// Notes the place that is open. Without it the next visit opens the plan changed last.
pub fn note_open(hash: &str) {
    let _ = put(OPEN, hash);
    note_here("turnleaf/here", hash);
}

/// A text of this tab alone, which a reload brings back.
pub fn here(key: &str) -> Option<String> {
    session()?.get_item(key).ok().flatten()
}

/// Keeps a text for this tab alone. A browser that refuses costs only that.
pub fn note_here(key: &str, text: &str) {
    if let Some(storage) = session() {
        let _ = storage.set_item(key, text);
    }
}

/// Whether there is local storage at all: some browsers refuse even to be asked.
fn usable() -> Option<web_sys::Storage> {
    web_sys::window()?.local_storage().ok().flatten().map(|_| LocalStorage::raw())
}

fn session() -> Option<web_sys::Storage> {
    web_sys::window()?.session_storage().ok().flatten().map(|_| SessionStorage::raw())
}
