//! Plane geometry. In: points, rings with true arcs. Out: areas, distances, booleans, outlines.
//!
//! Always true: lengths are millimetres in f64, angles radians counter-clockwise from +x,
//! x to the right and y up. Outer rings run counter-clockwise, holes clockwise.
//! Nothing here knows tables, paper or units of print.
//!
//! ```
//! use turnleaf_geom::{Region, Ring, region_distance, vec2::v};
//! // A disc with true arcs: π·r² (Archimedes, Measurement of a Circle), and the gap between two of them.
//! let disc = |x: f64, r: f64| Region::from(Ring::circle(v(x, 0.0), r));
//! assert!((disc(0.0, 30.0).area() - std::f64::consts::PI * 900.0).abs() < 1e-9);
//! assert!((region_distance(&disc(0.0, 30.0), &disc(150.0, 20.0)).distance - 100.0).abs() < 1e-9);
//! ```

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
