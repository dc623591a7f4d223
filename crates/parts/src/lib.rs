//! From a solved mechanism to parts and pieces.
//!
//! In: a [`turnleaf_mechanism::Mechanism`]. Out: an [`Assembly`]: every part to make or buy, and every
//! piece of it in its place with the law of its motion.
//! Always true: mating features of two parts come from one number; nothing here knows views or paper.

pub mod build;
pub mod layers;
pub mod part;
pub mod piece;
pub mod shapes;

pub use build::assemble;
pub use part::{Depth, Face, Feature, FeatureKind, Layer, Part};
pub use piece::{Assembly, Law, Motion, Piece, Rise};
