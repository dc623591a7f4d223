//! Views of solids. In: bodies (stacks of prisms in their places). Out: strokes of a [`View`].
//!
//! Always true: millimetres at scale 1, view x to the right and y up; strokes are straight lines,
//! circular arcs and elliptical arcs, never chords of a curve; the order of strokes depends only on
//! the input, and every number is the same natively and in the browser.

mod block;
pub mod body;
pub mod curve;
mod edge;
mod flat;
mod half;
mod hide;
mod merge;
pub mod paper;
mod plane;
mod project;
pub mod projection;
pub mod section;
pub mod space;
pub mod symbol;
mod wall;
pub mod window;

#[cfg(test)]
mod tests;

pub use body::{Body, Trace};
pub use curve::{Curve2, EdgeKind, EllipseArc, Stroke2, Tag, View};
pub use project::{Options, project};
pub use projection::{Arrangement, Corner, Projection, Sight};
pub use section::{Area, Cut, HatchLine, Section, hatch, section};
pub use space::{Pose3, Vec3, v3};
pub use symbol::{Symbol, symbol};
pub use window::{Axis, Window};
