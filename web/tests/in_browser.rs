//! Tests that need a real browser and no page of the app: storage, the clock, the fonts. The heavy work compiled to
//! WebAssembly is tested in the built site, whose books are compared with those of the terminal.
//!
//! In: headless Chromium, started by the test runner. Out: passed or failed.
//! Always true: each test cleans up what it leaves in the browser.
#![cfg(target_arch = "wasm32")]

use turnleaf_web::bench::font_files;
use turnleaf_web::browser::{clock, fonts, store};
use turnleaf_web::core::Plan;
use turnleaf_web::form::Form;
use turnleaf_web::kept::{self, Work};
use wasm_bindgen_test::{wasm_bindgen_test, wasm_bindgen_test_configure};

wasm_bindgen_test_configure!(run_in_browser);

#[wasm_bindgen_test]
fn work_kept_in_the_browser_comes_back_equal() {
    let mut form = Form::new(Plan::default_inch());
    form.edit("closed_diameter", "47 1/4\"");
    form.edit("height", "as high as it goes");
    let work = Work { form, share: 0.25 };
    assert!(store::put("turnleaf/test", &kept::write(&work)).is_ok(), "the browser has storage");
    assert_eq!(kept::read(&store::get("turnleaf/test").expect("it was kept")), Ok(work));
    assert!(store::keys("turnleaf/").contains(&"turnleaf/test".to_string()));
    store::remove("turnleaf/test");
    assert_eq!(store::get("turnleaf/test"), None);
}

#[wasm_bindgen_test]
fn the_clock_runs_and_measurements_are_recorded() {
    let before = clock::seconds();
    assert_eq!(clock::measured("a measurement", || 7), 7);
    assert!(clock::seconds() >= before && before > 0.0);
    let clock = web_sys::window().and_then(|window| window.performance()).expect("a page has a clock");
    assert_eq!(clock.get_entries_by_name("a measurement").length(), 1);
}

#[wasm_bindgen_test]
fn the_browser_takes_the_fonts_of_the_book() {
    let (list, bytes) = font_files();
    fonts::take(&list, &bytes);
    let document = web_sys::window().and_then(|window| window.document()).expect("a page");
    assert!(document.fonts().size() >= 4);
}
