//! The app's start.
//!
//! In: the page. Out: the running app. Always true: a panic is written to the console with its place.

fn main() {
    console_error_panic_hook::set_once();
    leptos::mount::mount_to_body(turnleaf_web::ui::app::App);
}
