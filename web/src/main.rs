//! The start of the app.
//!
//! In: the page. Out: the running app.
//! Always true: a panic is written to the console with its place, and covers the page with a sentence.

use turnleaf_web::browser::tabs;

fn main() {
    std::panic::set_hook(Box::new(|info| {
        console_error_panic_hook::hook(info);
        // The page's own script covers the page and keeps what stands in the box being typed in.
        tabs::announce("turnleaf-broke");
    }));
    leptos::mount::mount_to_body(turnleaf_web::ui::app::App);
}
