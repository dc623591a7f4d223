//! Rows of a list that stay while the list changes.
//!
//! In: a list, and what a row was made for. Out: what stands in the list for that row now.
//! Always true: a row on its way out shows what it last showed.

use leptos::prelude::*;

/// What stands in the list under the same identifier as `first`, for which the row was made.
pub fn now<T>(list: Memo<Vec<T>>, first: T, id: fn(&T) -> &str) -> Memo<T>
where
    T: Clone + PartialEq + Send + Sync + 'static,
{
    Memo::new(move |before: Option<&T>| {
        let found = list.with(|list| list.iter().find(|one| id(one) == id(&first)).cloned());
        found.or_else(|| before.cloned()).unwrap_or_else(|| first.clone())
    })
}
