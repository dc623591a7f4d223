//! Things of an older and a newer list that go by the same name.
//!
//! In: identifiers of both lists. Out: their places, paired.
//! Always true: every thing of either list is in exactly one pair; the newer list's come first, in its order, then
//! those that are gone, in the older one's.

use std::collections::{BTreeMap, BTreeSet};

/// Places in the older and in the newer list; none where the other list has no such name.
pub type Pair = (Option<usize>, Option<usize>);

/// Pairs two lists by name. Identifiers are unique within a list; of repeated ones the last counts.
pub fn by_name<'a>(
    old: impl IntoIterator<Item = &'a str>,
    new: impl IntoIterator<Item = &'a str>,
) -> Vec<Pair> {
    let (old, new): (Vec<&str>, Vec<&str>) = (old.into_iter().collect(), new.into_iter().collect());
    let was: BTreeMap<&str, usize> = old.iter().enumerate().map(|(i, id)| (*id, i)).collect();
    let is: BTreeSet<&str> = new.iter().copied().collect();
    let stays = new.iter().enumerate().map(|(i, id)| (was.get(id).copied(), Some(i)));
    let gone = old.iter().enumerate().filter(|(_, id)| !is.contains(*id)).map(|(i, _)| (Some(i), None));
    stays.chain(gone).collect()
}

#[cfg(test)]
mod tests {
    use super::by_name;

    #[test]
    fn the_newer_order_leads_and_what_is_gone_ends_the_list() {
        let found = by_name(["a", "b", "c"], ["c", "x", "a"]);
        assert_eq!(
            found,
            [(Some(2), Some(0)), (None, Some(1)), (Some(0), Some(2)), (Some(1), None)],
            "c, the new x, a, and b that is gone"
        );
        assert!(by_name([], []).is_empty());
    }
}
