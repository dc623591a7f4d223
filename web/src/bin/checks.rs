//! The program of proof and checks, which runs beside the page.
//!
//! In: questions. Out: answers.
//! Always true: it names nothing that draws or writes pages, so that it is small and can come first.

use std::cell::RefCell;
use turnleaf_web::bench::Checks;
use turnleaf_web::browser::crossing;
use wasm_bindgen::prelude::*;

thread_local! {
    static CHECKS: RefCell<Checks> = RefCell::default();
}

fn main() {
    std::panic::set_hook(Box::new(console_error_panic_hook::hook));
}

/// Answers one question.
#[wasm_bindgen]
pub fn answer(packed: &JsValue) -> Option<js_sys::Array> {
    CHECKS.with(|checks| crossing::answered(packed, |ask| checks.borrow_mut().answer(ask)))
}
