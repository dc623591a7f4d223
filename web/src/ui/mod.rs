//! The components, one a file.
//!
//! In: the state of the app. Out: the page.
//! Always true: components hold no state that must outlive them.

pub mod app;
mod bar;
mod before;
mod chapters;
mod checks;
mod compare;
mod copies;
mod drawing;
mod drop;
mod fetch;
mod fold;
mod glance;
mod glimpse;
mod marks;
mod mends;
mod more;
mod newer;
mod notices;
mod numbers;
mod offer;
mod options;
mod own;
mod pages;
mod part;
mod printing;
mod questions;
mod revisions;
mod rows;
mod seeking;
mod shop;
mod sizes;
mod space;
mod start;
mod steps;
mod stock;
mod strength;
mod tag;
mod tape;
mod three;
mod thumbs;
mod turner;
mod typed;
