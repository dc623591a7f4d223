//! The Turnleaf app.
//!
//! In: a page with nothing but a waiting line. Out: the app on it.
//! Always true: plain logic (`addresses`, `bench`, `copies`, `form`, `history`, `kept`, `leafing`, `links`, `parts`, `passages`, `picture`, `place`, `questions`, `revising`, `scene`, `shelf`, `sorted`, `steps`, `stock`, `tape`, `ticks`, `turning`) is tested without a browser; only
//! `browser`, `keeper` and `ui` touch one; only `core` knows the crates below, and everyone `space`, which knows none.

pub mod addresses;
pub mod bench;
pub mod browser;
pub mod copies;
pub mod core;
pub mod desk;
pub mod form;
pub mod history;
pub mod keeper;
pub mod kept;
pub mod leafing;
pub mod links;
pub mod parts;
pub mod passages;
pub mod picture;
pub mod place;
pub mod questions;
pub mod revising;
pub mod scene;
pub mod shelf;
pub mod sorted;
pub mod steps;
pub mod stock;
pub mod tape;
pub mod ticks;
pub mod turning;
pub mod ui;

pub use turnleaf_space as space;
