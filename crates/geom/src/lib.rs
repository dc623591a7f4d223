//! Plane geometry. In: points, rings with true arcs. Out: areas, distances, booleans, outlines.
//!
//! Always true: lengths are millimetres in f64, angles radians counter-clockwise from +x,
//! x to the right and y up. Outer rings run counter-clockwise, holes clockwise.
//! Nothing here knows tables, paper or units of print.

mod arrange;
pub mod boolean;
pub mod check;
mod contact;
pub mod distance;
pub mod edge;
pub mod error;
pub mod hausdorff;
mod join;
pub mod measure;
pub mod offset;
mod overlay;
pub mod prepared;
pub mod ring;
pub mod trig;
pub mod vec2;

pub use distance::{Clearance, region_distance};
pub use error::{GeomError, Trouble};
pub use prepared::Prepared;
pub use ring::{Arc, Region, Ring, Seg, Vertex};
pub use vec2::{Pose2, Vec2};
