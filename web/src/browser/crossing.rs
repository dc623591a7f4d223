//! Questions and answers as they cross between the page and the programs of the heavy half.
//!
//! In: questions and answers. Out: lists of a text and bytes, and the same again; in between, how far a worker is.
//! Always true: bytes cross beside the text, since within it they would be several times as long; what cannot be read is
//! none, never a panic.

use super::clock;
use crate::bench::{Answer, Ask};
use js_sys::{Array, Uint8Array};
use wasm_bindgen::{JsCast, JsValue};

/// What is said of a question that could not be worked out at all.
pub const BROKEN: &str = "Working this out broke down, which is a fault of Turnleaf's; your sizes are kept.";

/// Tells the page how far a worker is with what it is asked, from 0 to 1. A program that runs on the page itself tells
/// nothing: until it is done the page could not show it.
pub fn tell(share: f64) {
    let here = js_sys::global();
    if !here.is_instance_of::<web_sys::Window>() {
        // A page that no longer listens has ended.
        let _ = super::js::call(&here, "postMessage", &[&share.into()]);
    }
}

fn list(text: &str, bytes: &[u8]) -> Array {
    Array::of2(&text.into(), &Uint8Array::from(bytes))
}

fn bytes(packed: &Array) -> Vec<u8> {
    packed.get(1).dyn_ref::<Uint8Array>().map_or(Vec::new(), Uint8Array::to_vec)
}

/// A question ready to cross.
pub fn question(ask: &Ask) -> Option<Array> {
    let with = match ask {
        Ask::Unpack(bytes) | Ask::Picture(_, bytes) | Ask::Copies(_, bytes) => bytes.as_slice(),
        _ => &[],
    };
    Some(list(&serde_json::to_string(ask).ok()?, with))
}

/// Answers a question that came over, with the seconds it took; none when the answer cannot be written.
pub fn answered(packed: &JsValue, answer: impl FnOnce(Ask) -> Answer) -> Option<Array> {
    let since = clock::seconds();
    let ask = packed.dyn_ref::<Array>().and_then(|packed| {
        let ask = serde_json::from_str(&packed.get(0).as_string()?).ok()?;
        Some(match ask {
            Ask::Unpack(_) => Ask::Unpack(bytes(packed)),
            Ask::Picture(caption, _) => Ask::Picture(caption, bytes(packed)),
            Ask::Copies(deed, _) => Ask::Copies(deed, bytes(packed)),
            ask => ask,
        })
    });
    let answer = ask.map_or_else(|| Answer::Failed(BROKEN.into()), answer);
    let with = match &answer {
        Answer::Pdf(bytes)
        | Answer::Picture(bytes)
        | Answer::Editions(_, bytes)
        | Answer::Copies(_, bytes)
        | Answer::Fonts(_, bytes) => bytes.as_slice(),
        _ => &[],
    };
    let text = serde_json::to_string(&(&answer, clock::seconds() - since)).ok()?;
    Some(list(&text, with))
}

/// An answer that came over, and the seconds it took.
pub fn answer(packed: &JsValue) -> Option<(Answer, f64)> {
    let packed = packed.dyn_ref::<Array>()?;
    let (answer, took) = serde_json::from_str(&packed.get(0).as_string()?).ok()?;
    let answer = match answer {
        Answer::Pdf(_) => Answer::Pdf(bytes(packed)),
        Answer::Picture(_) => Answer::Picture(bytes(packed)),
        Answer::Editions(told, _) => Answer::Editions(told, bytes(packed)),
        Answer::Copies(told, _) => Answer::Copies(told, bytes(packed)),
        Answer::Fonts(list, _) => Answer::Fonts(list, bytes(packed)),
        answer => answer,
    };
    Some((answer, took))
}
