//! Finds the sizes of a table from a few wishes, and how far one size may be changed.
//!
//! In: a [`Wish`] — closed and open diameter, sectors, stock, height. Out: a [`Fitted`] table that passed
//! every check, or why none was found. Also the interval of one size with the others held.
//! Always true: deterministic; what is returned was solved and proved over the whole turn, not guessed.
//!
//! ```
//! use turnleaf_fit::{Goal, Wish, fit};
//! use turnleaf_mechanism::DriveKind;
//! let wish = Wish {
//!     closed_diameter: 1200.0,
//!     open_diameter: 1650.0,
//!     sectors: 6,
//!     stock_thickness: 19.0,
//!     height: 740.0,
//!     drive: DriveKind::Arms,
//!     goal: Goal::Margin,
//! };
//! let table = fit(&wish).expect("a usual table");
//! assert!(table.checks.iter().all(|check| check.holds));
//! assert_eq!(table.sizes.closed_diameter, 1200.0);
//! ```

mod interval;
mod score;
mod search;
mod starts;

pub use interval::{Interval, interval};
pub use score::{Score, score};
pub use search::{Fitted, Goal, NoFit, Wish, fit};
