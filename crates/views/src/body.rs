//! What is looked at. In: layers of a part and a place for them. Out: [`Body`], [`Trace`].
//!
//! Always true: a body is a stack of straight prisms along its own z axis; bodies are opaque.

use crate::space::{Pose3, Vec3};
use std::sync::Arc;
use turnleaf_geom::Pose2;
use turnleaf_parts::Layer;

/// A piece in its place.
#[derive(Clone, Debug)]
pub struct Body {
    /// Stable identifier of the piece.
    pub id: String,
    /// Free tag for whoever draws the strokes (which pen, whether emphasised).
    pub style: String,
    /// The solid in its own frame. Layers of one body that touch are one piece: no line between them.
    pub layers: Arc<[Layer]>,
    /// Its place.
    pub pose: Pose3,
}

impl Body {
    /// A piece standing upright: moved in plan, then lifted by `z`.
    pub fn upright(id: impl Into<String>, layers: impl Into<Arc<[Layer]>>, pose: &Pose2, z: f64) -> Body {
        Body::placed(id, layers, Pose3::plan(pose, z))
    }
    /// A piece in any place, tilted or not.
    pub fn placed(id: impl Into<String>, layers: impl Into<Arc<[Layer]>>, pose: Pose3) -> Body {
        Body { id: id.into(), style: String::new(), layers: layers.into(), pose }
    }
    /// With a style tag.
    pub fn style(mut self, style: impl Into<String>) -> Body {
        self.style = style.into();
        self
    }
    /// The same piece pulled away by a shift, as exploded views want it.
    pub fn shifted(&self, by: Vec3) -> Body {
        let mut moved = self.clone();
        moved.pose.offset = moved.pose.offset + by;
        moved
    }
}

/// A straight line in space that shows where a pulled piece came from.
#[derive(Clone, Debug, PartialEq)]
pub struct Trace {
    /// Stable identifier.
    pub id: String,
    /// One end.
    pub from: Vec3,
    /// The other end.
    pub to: Vec3,
}
