//! From a solved mechanism to parts and pieces.
//!
//! In: a [`turnleaf_mechanism::Mechanism`]. Out: an [`Assembly`]: every part to make or buy, and every
//! piece of it in its place with the law of its motion.
//! Always true: mating features of two parts come from one number; nothing here knows views or paper.
//!
//! ```
//! use turnleaf_mechanism::{Sizes, solve};
//! // Six panels make the closed disc of 1200 mm, but for the play between them.
//! let table = turnleaf_parts::assemble(&solve(&Sizes::example()).expect("the demo's sizes agree"));
//! let panel = table.part("panel").expect("a table has panels");
//! assert_eq!(panel.count, 6);
//! let share = 6.0 * panel.outline.area() / (std::f64::consts::PI * 600.0 * 600.0);
//! assert!(share > 0.99 && share < 1.0);
//! ```

pub mod build;
pub mod layers;
pub mod part;
pub mod piece;
pub mod shapes;

pub use build::assemble;
pub use part::{Depth, Face, Feature, FeatureKind, Layer, Part};
pub use piece::{Assembly, Law, Motion, Piece, Rise};
