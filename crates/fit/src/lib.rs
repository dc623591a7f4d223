//! Finds the sizes of a table from a few wishes, and how far one size may be changed.
//!
//! In: a [`Wish`] — closed and open diameter, sectors, stock, height. Out: a [`Fitted`] table that passed
//! every check, or why none was found. Also the interval of one size with the others held.
//! Always true: deterministic; what is returned was solved and proved over the whole turn, not guessed.

mod interval;
mod score;
mod search;
mod starts;

pub use interval::{Interval, interval};
pub use score::{Score, score};
pub use search::{Fitted, Goal, NoFit, Wish, fit};
