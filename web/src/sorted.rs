//! The checks, sorted so that the ones worth reading come first.
//!
//! In: all checks in book order. Out: failing ones, those about the table as a whole, the closest calls between
//! pieces, and the many others.
//! Always true: every check lands in exactly one heap. Nothing here touches the browser.

use crate::core::Check;

/// How many pairs of pieces are called close: as many as one reads.
const CLOSEST: usize = 8;
/// Identifiers of checks between two pieces begin so.
const PAIR: &str = "clear.";

/// Heaps of checks.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Sorted {
    /// Those that fail.
    pub failing: Vec<Check>,
    /// Those about the table as a whole.
    pub whole: Vec<Check>,
    /// The pairs of pieces with the least room, tightest first.
    pub closest: Vec<Check>,
    /// All other pairs.
    pub others: Vec<Check>,
}

/// Sorts the checks.
pub fn sort(checks: &[Check]) -> Sorted {
    let (holding, failing): (Vec<_>, Vec<_>) = checks.iter().cloned().partition(|check| check.holds);
    let (mut pairs, whole): (Vec<_>, Vec<_>) =
        holding.into_iter().partition(|check| check.id.starts_with(PAIR));
    pairs.sort_by(|a, b| a.room.total_cmp(&b.room));
    let others = pairs.split_off(CLOSEST.min(pairs.len()));
    Sorted { failing, whole, closest: pairs, others }
}

/// One sentence over all checks.
pub fn verdict(checks: &[Check]) -> String {
    let failing = checks.iter().filter(|check| !check.holds).count();
    match (failing, checks.len()) {
        (0, all) => format!("All {all} checks hold over the whole turn."),
        (1, all) => format!("One of {all} checks fails."),
        (failing, all) => format!("{failing} of {all} checks fail."),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(id: &str, room: f64) -> Check {
        Check {
            id: id.into(),
            holds: room >= 0.0,
            text: String::new(),
            room,
            margin: String::new(),
            at_turn: None,
            pieces: Vec::new(),
        }
    }

    #[test]
    fn every_check_lands_in_exactly_one_heap() {
        let checks: Vec<Check> = (0..40)
            .map(|i| check(&format!("{}{i}", if i % 3 == 0 { "ramp." } else { PAIR }), f64::from(20 - i)))
            .collect();
        let Sorted { failing, whole, closest, others } = sort(&checks);
        let mut ids: Vec<String> =
            [failing, whole, closest, others].into_iter().flatten().map(|check| check.id).collect();
        ids.sort();
        let mut wanted: Vec<String> = checks.into_iter().map(|check| check.id).collect();
        wanted.sort();
        assert_eq!(ids, wanted);
    }

    #[test]
    fn the_tightest_pair_comes_first() {
        let sorted = sort(&[
            check("clear.a", 3.0),
            check("clear.b", 0.5),
            check("clear.c", -0.5),
            check("tracks", 0.1),
        ]);
        assert_eq!(sorted.closest[0].id, "clear.b");
        assert_eq!(sorted.failing[0].id, "clear.c");
        assert_eq!(sorted.whole[0].id, "tracks");
    }

    #[test]
    fn the_verdict_counts() {
        assert_eq!(verdict(&[check("a", 1.0), check("b", 1.0)]), "All 2 checks hold over the whole turn.");
        assert_eq!(verdict(&[check("a", -1.0), check("b", 1.0)]), "One of 2 checks fails.");
        assert_eq!(verdict(&[check("a", -1.0), check("b", -1.0)]), "2 of 2 checks fail.");
    }
}
