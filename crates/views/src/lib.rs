//! Views of solids. In: bodies (stacks of prisms in their places). Out: strokes of a [`View`].
//!
//! Always true: millimetres at scale 1, view x to the right and y up; strokes are straight lines,
//! circular arcs and elliptical arcs, never chords of a curve; the order of strokes depends only on
//! the input, and every number is the same natively and in the browser.
//!
//! ```
//! use turnleaf_geom::{Pose2, Ring, vec2::v};
//! use turnleaf_parts::Layer;
//! use turnleaf_views::{Body, Corner, Options, Projection, project, v3};
//! // A cube shows nine of its twelve edges from above a corner, each shortened to √(2/3) (ISO 5456-3).
//! let square = Layer { region: Ring::rect(v(0.0, 0.0), v(10.0, 10.0)).into(), z0: 0.0, z1: 10.0 };
//! let cube = Body::upright("cube", vec![square], &Pose2::new(0.0, v(0.0, 0.0)), 0.0);
//! let sight = Projection::Isometric(Corner::FrontRight);
//! let view = project(&[cube], &[], &sight, &Options::default());
//! assert_eq!((view.visible.len(), view.hidden.len()), (9, 3));
//! assert!((sight.sight().flat(v3(0.0, 0.0, 10.0)).norm() - 10.0 * (2f64 / 3.0).sqrt()).abs() < 1e-9);
//! ```

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
