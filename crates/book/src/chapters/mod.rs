//! The chapters of the book, in their order.
//!
//! In: the context and the page numbers known so far. Out: chapters.
//! Always true: a chapter's number of pages does not depend on the page numbers printed in it, except
//! where a number grows a digit; the book is then composed again.

pub mod adjusting;
pub mod assembly;
pub mod contents;
pub mod cover;
pub mod cutting;
pub mod index;
pub mod jigs;
pub mod lists;
pub mod motion;
pub mod overview;
pub mod ready;
pub mod revisions;
pub mod sheets;
pub mod sizes;
pub mod steps;
pub mod strength;
pub mod templates;
