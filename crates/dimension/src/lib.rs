//! Dimensions chosen, proved complete and placed.
//!
//! In: a part, and how figures are printed. Out: what the drawing says ([`drawing::Drawing`]), the proof that
//! it says enough, and paper items for a view at a scale.
//! Always true: a figure is measured from the model when it is printed; none is passed along as text.
//! The proof and the rebuild know nothing of how the figures were chosen or placed.
//!
//! ```
//! use turnleaf_dimension::{Wording, choose, prove};
//! use turnleaf_mechanism::{Sizes, solve};
//! use turnleaf_units::{DecimalSign, MmStep, PrintUnits};
//! let table = turnleaf_parts::assemble(&solve(&Sizes::example()).expect("the demo's sizes agree"));
//! let drawing = choose(table.part("panel").expect("a table has panels"));
//! let wording = Wording { units: PrintUnits::Mm(MmStep::TENTH), sign: DecimalSign::Point };
//! assert!(prove(&drawing, &wording).0.holds());
//! ```

pub mod choose;
pub mod compare;
pub mod convention;
pub mod drawing;
pub mod feature;
pub mod frame;
pub mod grain;
pub mod names;
pub mod num;
pub mod place;
pub mod printed;
pub mod proof;
pub mod rank;
pub mod rebuild;
pub mod rule;
pub mod shorten;
pub mod sketch;
pub mod tongue;

pub use choose::choose;
pub use drawing::Drawing;
pub use printed::{Figure, Wording};
pub use proof::{Proof, Rebuilt, prove, prove_printed};
pub use tongue::Tongue;
