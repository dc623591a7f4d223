//! Poses at any turn, and the proof that nothing collides over the whole turn.
//!
//! In: an assembly. Out: outlines and heights at a turn; for every pair of parts the smallest clearance over
//! the **whole** turn, where and when; the list of checks with their margins.
//! Always true: clearances are bounded, not sampled: between two looked-at turns nothing can move farther
//! than the motion bound allows. What could not be decided is reported as failing.
//!
//! ```
//! use turnleaf_mechanism::{Sizes, solve};
//! use turnleaf_motion::{checks, prove};
//! let table = turnleaf_parts::assemble(&solve(&Sizes::example()).expect("the demo's sizes agree"));
//! let proof = prove(&table);
//! assert!(checks(&table, &proof).iter().all(|check| check.holds));
//! ```

pub mod checks;
pub mod expect;
mod pair_checks;
pub mod pinch;
pub mod pose;
pub mod proof;
pub mod reach;
pub mod ride;
mod slots;
pub mod sweep;
pub mod tolerance;
pub mod tracks;
pub mod wood;

pub use checks::{Check, checks};
pub use pinch::{Access, Pinch, pinch_points};
pub use pose::{Posed, pose};
pub use proof::{PairResult, Proof, prove};
