//! The start of the app, and of its worker.
//!
//! In: the page, or a worker's scope. Out: the running app, or the worker that does its heavy work.
//! Always true: a panic is written to the console with its place.

use turnleaf_web::browser::{backroom, fonts};

fn main() {
    console_error_panic_hook::set_once();
    if backroom::serve() {
        return;
    }
    backroom::open();
    fonts::lend();
    leptos::mount::mount_to_body(turnleaf_web::ui::app::App);
}
