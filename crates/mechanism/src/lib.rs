//! From sizes to a solved mechanism: plan layout, heights, arms, turn, rollers, levers.
//!
//! In: [`Sizes`]. Out: [`Mechanism`], whose travel and lift are functions of the turn angle, or the
//! [`Trouble`]s that name the sizes at odds.
//! Always true: nothing here knows parts, drawings or paper. The frame turns with the top: origin at the
//! table's centre, x along the first panel's centre line, y counter-clockwise from it, z up from the floor.
//! The top turns **clockwise** seen from above as it opens, so in this frame the base turns
//! counter-clockwise by the turn angle.
//!
//! ```
//! use turnleaf_mechanism::{Sizes, solve};
//! // 1200 mm opening to 1650 mm: each panel goes out by half the difference, and by nothing while closed.
//! let table = solve(&Sizes::example()).expect("the demo's sizes agree");
//! assert_eq!(table.panel_travel(0.0), 0.0);
//! assert!((table.panel_travel(table.turn()) - 225.0).abs() < 1e-9);
//! ```

pub mod arms;
pub mod bow;
pub mod cam;
pub mod crank;
pub mod layout;
pub mod lever;
pub mod members;
pub mod numbers;
pub mod remedy;
pub mod rollers;
pub mod sizes;
pub mod skew;
pub mod solve;
pub mod stack;

pub use numbers::{Number, Unit, numbers};
pub use remedy::{Remedy, remedies};
pub use sizes::{DriveKind, Opening, Sizes};
pub use solve::{Drive, Mechanism, Trouble, solve};
