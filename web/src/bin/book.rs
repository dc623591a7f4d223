//! The program of books and editions, which runs beside the page.
//!
//! In: questions. Out: answers.
//! Always true: it answers every question, those of proof and checks as well.

use std::cell::RefCell;
use turnleaf_web::bench::Bench;
use turnleaf_web::browser::crossing;
use wasm_bindgen::prelude::*;

thread_local! {
    static BENCH: RefCell<Bench> = RefCell::default();
}

fn main() {
    std::panic::set_hook(Box::new(console_error_panic_hook::hook));
    turnleaf_web::core::listen(crossing::tell);
}

/// Answers one question.
#[wasm_bindgen]
pub fn answer(packed: &JsValue) -> Option<js_sys::Array> {
    BENCH.with(|bench| crossing::answered(packed, |ask| bench.borrow_mut().answer(ask)))
}
