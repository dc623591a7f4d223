//! The app's start: mounts it on the page.
//!
//! In: the page. Out: the running app. Always true: nothing but this file and the components below
//! `app` touches the browser.

use leptos::prelude::*;

fn main() {
    console_error_panic_hook::set_once();
    leptos::mount::mount_to_body(|| view! { <main id="app"><h1>"Turnleaf"</h1></main> });
}
