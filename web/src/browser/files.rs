//! Files in and out.
//!
//! In: bytes to save, or a file the maker chose. Out: a download, or its bytes.
//! Always true: a file is read whole or not at all, and nothing leaves the machine.

use gloo::file::callbacks::{FileReader, read_as_bytes};
use gloo::file::{Blob, File, ObjectUrl};
use leptos::prelude::{event_target, set_timeout};
use std::cell::RefCell;
use std::time::Duration;
use wasm_bindgen::JsCast;
use web_sys::HtmlAnchorElement;

/// Files larger than this are not even read: no plan has a fortieth of it.
const MOST_BYTES: u64 = 80_000_000;

thread_local! {
    /// The reading under way; letting go of it would stop it.
    static READING: RefCell<Option<FileReader>> = const { RefCell::new(None) };
}

/// The file that was just chosen in a box for files; the box is emptied, so that the same one may be chosen again.
pub fn chosen(event: &web_sys::Event) -> Option<web_sys::File> {
    let input: web_sys::HtmlInputElement = event_target(event);
    let file = input.files()?.get(0)?;
    input.set_value("");
    Some(file)
}

/// Hands bytes to the browser's downloads.
pub fn save(name: &str, mime: &str, bytes: &[u8]) -> Result<(), String> {
    let sentence = || "The browser did not take the file.".to_string();
    let document = web_sys::window().and_then(|window| window.document()).ok_or_else(sentence)?;
    let url = ObjectUrl::from(Blob::new_with_options(bytes, Some(mime)));
    let link: HtmlAnchorElement =
        document.create_element("a").map_err(|_| sentence())?.dyn_into().map_err(|_| sentence())?;
    link.set_href(&url);
    link.set_download(name);
    link.click();
    // The download reads from the address for a moment; it is given back when that is surely over.
    set_timeout(move || drop(url), Duration::from_secs(60));
    Ok(())
}

/// Reads a file and hands its name and bytes, or a sentence, to `then`.
pub fn read(file: web_sys::File, then: impl FnOnce(String, Result<Vec<u8>, String>) + 'static) {
    let file = File::from(file);
    let name = file.name();
    if file.size() > MOST_BYTES {
        let sentence =
            format!("It has {} MB; a plan file never has more than 5 MB.", file.size() / 1_000_000);
        then(name, Err(sentence));
        return;
    }
    let reader = read_as_bytes(&file, move |bytes| {
        then(name, bytes.map_err(|_| "The browser could not read it.".to_string()));
    });
    READING.with(|reading| *reading.borrow_mut() = Some(reader));
}

/// A file name made of a title: letters, digits and single dashes.
pub fn file_name(title: &str, ending: &str) -> String {
    let mut stem = String::new();
    for c in title.chars() {
        if c.is_alphanumeric() {
            stem.extend(c.to_lowercase());
        } else if !stem.ends_with('-') && !stem.is_empty() {
            stem.push('-');
        }
        // Some systems take no name above 255 bytes.
        if stem.len() > 80 {
            break;
        }
    }
    let stem = stem.trim_end_matches('-');
    format!("{}{ending}", if stem.is_empty() { "table" } else { stem })
}

#[cfg(test)]
mod tests {
    use super::file_name;

    #[test]
    fn names_are_plain() {
        assert_eq!(file_name("Reading-room table, A", ".pdf"), "reading-room-table-a.pdf");
        assert_eq!(file_name("../../etc/passwd", ".pdf"), "etc-passwd.pdf");
        assert_eq!(file_name("  ", ".pdf"), "table.pdf");
        assert_eq!(file_name("Ünder 1,2 m", ".json"), "ünder-1-2-m.json");
        assert!(file_name(&"long ".repeat(100), ".pdf").len() < 100);
    }
}
