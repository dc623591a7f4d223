//! What the app asks of the browser: storage, files, the clock, places on the page.
//!
//! In: texts and bytes. Out: the same kept, saved, or read; or a sentence.
//! Always true: every refusal of the browser becomes a sentence, never a panic.

pub mod address;
pub mod archive;
pub mod backroom;
pub mod bench_side;
pub mod canvas;
pub mod clock;
pub mod crossing;
#[cfg(target_arch = "wasm32")]
mod db;
#[cfg(not(target_arch = "wasm32"))]
mod db_none;
pub mod fetch;
pub mod files;
pub mod fonts;
pub mod js;
pub mod page;
pub mod plans;
pub mod store;
pub mod tabs;
