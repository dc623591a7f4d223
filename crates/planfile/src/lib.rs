//! The plan file: sizes as the maker typed them, options, words and revisions.
//!
//! In: bytes of a file, or edits of a form. Out: a [`Plan`] whose values are all in range, and the file again.
//! Always true: no input makes it panic; a refused edit changes nothing; what was typed is kept as typed;
//! opening what was saved gives an equal plan. The file is described in FORMAT.md beside this crate.
//!
//! ```
//! use turnleaf_planfile::Plan;
//! let mut plan = Plan::default_metric();
//! // What is typed is kept as typed; an inch is 25.4 mm exactly (International Yard and Pound, 1959).
//! plan.set("height", "29 1/8 in").expect("within its limits");
//! assert_eq!(plan.typed("height").as_deref(), Some("29 1/8 in"));
//! assert_eq!(plan.length("height").map(|l| l.mm()), Some(739.775));
//! let (again, _) = Plan::parse(plan.to_json().as_bytes()).expect("what was saved");
//! assert_eq!(again, plan);
//! ```

mod fields;
mod issue;
mod json;
mod offer;
mod options;
mod picture;
mod plan;
mod questions;
mod read;
mod say;
mod shared;
mod steps;
mod stock;
mod texts;
mod write;

pub use fields::{Absent, FIELDS, FieldSpec, Group, Kind, Value, field, field_index, field_of, origin};
pub use issue::{Frozen, FrozenPage, next_mark};
pub use offer::{IMPRINT_MAX, Limit, Offer};
pub use options::{Choice, Drive, Language, Options, PlanUnit, PrintChoice, PrintOptions, Projection};
pub use picture::{CAPTION_MAX, PICTURE_MAX, PICTURES_MAX, Picture, SIDE_MAX, UNPACKED_MAX};
pub use plan::{Plan, Understood};
pub use questions::{About, Question, State};
pub use read::BYTES_MAX;
pub use steps::{FIRST, OWN, PARAGRAPHS_MAX, STEP_PICTURES_MAX, STEPS_MAX, StepChange, free_id};
pub use stock::{SHEETS_MAX, STOCK_KINDS, SheetOnHand, Stock, parse_sheet};
pub use texts::{Date, LIST_MAX, MAKER_MAX, NOTE_MAX, NUMBER_MAX, PastRevision, Revision, TITLE_MAX, Texts};

/// The value of "format" in every plan file.
pub const FORMAT: &str = "turnleaf-plan";
/// The version of the file that this crate writes, and the newest it reads.
pub const VERSION: u64 = 1;
