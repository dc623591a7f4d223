//! The browser's local storage.
//!
//! In: the text of the work. Out: the same text at the next visit.
//! Always true: a text that could not be read is put aside under another name, never overwritten unseen.

use gloo::storage::{LocalStorage, Storage};

/// Where the work lies.
const WORK: &str = "turnleaf/work";
/// Where work that could not be read is put.
const ASIDE: &str = "turnleaf/put-aside";

/// The text kept earlier.
pub fn kept() -> Option<String> {
    usable()?;
    LocalStorage::raw().get_item(WORK).ok().flatten()
}

/// Keeps a text.
pub fn keep(text: &str) -> Result<(), String> {
    if usable().is_none() {
        return Err("this browser allows no local storage for the page".into());
    }
    LocalStorage::raw()
        .set_item(WORK, text)
        .map_err(|_| "the browser's storage for this page is full or switched off".to_string())
}

/// Puts a text that could not be read aside.
pub fn put_aside(text: &str) {
    if usable().is_some() {
        // Nothing is lost if this fails: the text still lies where it was until the next change.
        let _ = LocalStorage::raw().set_item(ASIDE, text);
    }
}

/// Whether there is local storage at all: some browsers refuse even to be asked.
fn usable() -> Option<()> {
    web_sys::window()?.local_storage().ok().flatten().map(|_| ())
}
