//! What two editions of a plan have in common.
//!
//! In: the parts of an older and of a newer table; or what two books print. Out: for each part cut to the older
//! plan whether it serves in the newer; the list of everything printed that changed; fingerprints of pages.
//! Always true: whether a cut part serves follows from its solid, never from how the plan was edited; nothing
//! here knows plan files or a browser.
//!
//! ```
//! use turnleaf_revise::print;
//! // Fingerprints of whole files are SHA-256; FIPS 180-4's example "abc".
//! let due = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
//! assert_eq!(print::of_bytes(b"abc"), due);
//! ```

pub mod list;
pub mod pages;
pub mod pairs;
pub mod print;
pub mod serve;
pub mod stand_in;
pub mod verdict;

pub use list::{Amount, Change, Entry, Group, Measure, compare};
pub use pages::{PageChange, PageState, compare_pages};
pub use serve::{Lie, judge};
pub use stand_in::stand_in;
pub use verdict::{PartVerdict, Reason, Verdict, Work, WorkKind, alike_reasons, alike_work, verdicts};
