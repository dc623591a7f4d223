//! The components, one a file.
//!
//! In: the state of the app. Out: the page.
//! Always true: components hold no state that must outlive them.

pub mod app;
mod bar;
mod chapters;
mod before;
mod checks;
mod drawing;
mod drop;
mod glimpse;
mod marks;
mod mends;
mod newer;
mod notices;
mod numbers;
mod options;
mod pages;
mod printing;
mod seeking;
mod sizes;
mod start;
mod steps;
mod stock;
mod strength;
mod tag;
mod thumbs;
mod three;
mod turner;
mod typed;
