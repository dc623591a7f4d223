//! How soon the drawing follows the letters.
//!
//! In: how long it took to follow them last, and how long the first of them has waited. Out: how long to rest.
//! Always true: where following is quick it comes with every letter; where it is slow letters come first, but no
//! drawing waits longer than [`LATEST`] for whoever types without a pause. Nothing here touches the browser.

use std::time::Duration;

/// Following that takes no longer fits between two letters, seconds.
const QUICK: f64 = 0.04;
/// Rest as a share of what following takes.
const SHARE: f64 = 2.0;
/// Longest rest, seconds: a little more than between two letters of somebody who types fast.
const LONGEST: f64 = 0.1;
/// Longest that a letter waits to be followed, seconds.
pub const LATEST: f64 = 0.4;

/// How long letters rest before they are followed, when following took `cost` seconds last and the first of them has
/// waited `waited` seconds.
pub fn rest(cost: f64, waited: f64) -> Duration {
    if cost <= QUICK {
        return Duration::ZERO;
    }
    let rest = (SHARE * cost).min(LONGEST).min(LATEST - waited);
    Duration::from_secs_f64(rest.max(0.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_quick_follows_every_letter_and_what_is_slow_lets_them_come_first() {
        assert!(rest(0.0, 0.0).is_zero() && rest(QUICK, 0.3).is_zero());
        assert_eq!(rest(0.045, 0.0), Duration::from_secs_f64(0.09));
        assert_eq!(rest(0.3, 0.1), Duration::from_secs_f64(LONGEST));
    }

    #[test]
    fn nobody_types_so_long_that_nothing_is_followed() {
        // Letters sixty milliseconds apart, on a machine that takes a fifth of a second to follow them.
        let mut waited = 0.0;
        while !rest(0.2, waited).is_zero() {
            waited += 0.06;
            assert!(waited < LATEST + 0.07, "{waited}");
        }
    }
}
