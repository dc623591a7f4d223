//! Which way we look. In: a named view or a direction. Out: the three axes of the view.
//!
//! Always true: projections are orthographic (ISO 5456-2, axonometric by ISO 5456-3), so a length
//! square to the line of sight keeps its size; right × up points to the viewer.
//!
//! ```text
//!        z up                     plan: y up        front: z up
//!        |  y (away)              |                 |
//!        | /                      +--- x            +--- x
//!        |/___ x
//! ```

use crate::space::{Vec3, v3};

/// The axes of a view.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sight {
    /// View x.
    pub right: Vec3,
    /// View y.
    pub up: Vec3,
    /// From the object to the viewer.
    pub toward: Vec3,
}

impl Sight {
    /// Looking from direction `toward`, with `upright` as near to view y as can be.
    /// If the two are parallel (or either is zero) the y axis takes the place of `upright`.
    pub fn from(toward: Vec3, upright: Vec3) -> Sight {
        let t = if toward.norm() > 0.0 { toward.unit() } else { v3(0.0, 0.0, 1.0) };
        let mut right = upright.cross(t);
        if right.norm() < 1e-9 * upright.norm().max(1e-300) {
            right = v3(0.0, 1.0, 0.0).cross(t);
        }
        if right.norm() < 1e-9 {
            right = v3(1.0, 0.0, 0.0);
        }
        let right = right.unit();
        Sight { right, up: t.cross(right), toward: t }
    }
    /// View coordinates of a point.
    pub fn flat(&self, p: Vec3) -> turnleaf_geom::Vec2 {
        turnleaf_geom::vec2::v(self.right.dot(p), self.up.dot(p))
    }
}

/// Corner of the plan from which an isometric view looks down.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Corner {
    /// From −y and +x.
    #[default]
    FrontRight,
    /// From −y and −x.
    FrontLeft,
    /// From +y and +x.
    BackRight,
    /// From +y and −x.
    BackLeft,
}

/// A way of looking.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Projection {
    /// From above.
    Plan,
    /// From −y.
    Front,
    /// From +y.
    Rear,
    /// From −x.
    Left,
    /// From +x.
    Right,
    /// From below.
    Bottom,
    /// True isometric projection (axes shortened to √(2/3)), from above a corner.
    Isometric(Corner),
    /// From any direction.
    Any {
        /// From the object to the viewer, any length.
        toward: Vec3,
        /// The direction shown upwards as nearly as possible.
        upright: Vec3,
    },
}

impl Projection {
    /// The axes of the view.
    pub fn sight(&self) -> Sight {
        let (x, y, z) = (v3(1.0, 0.0, 0.0), v3(0.0, 1.0, 0.0), v3(0.0, 0.0, 1.0));
        let axes = |right: Vec3, up: Vec3| Sight { right, up, toward: right.cross(up) };
        match *self {
            Projection::Plan => axes(x, y),
            Projection::Front => axes(x, z),
            Projection::Rear => axes(-x, z),
            Projection::Left => axes(-y, z),
            Projection::Right => axes(y, z),
            Projection::Bottom => axes(x, -y),
            Projection::Isometric(corner) => {
                let (sx, sy) = match corner {
                    Corner::FrontRight => (1.0, -1.0),
                    Corner::FrontLeft => (-1.0, -1.0),
                    Corner::BackRight => (1.0, 1.0),
                    Corner::BackLeft => (-1.0, 1.0),
                };
                Sight::from(v3(sx, sy, 1.0), z)
            }
            Projection::Any { toward, upright } => Sight::from(toward, upright),
        }
    }
}

/// How the views of one object are laid about its front view (ISO 5456-2).
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Arrangement {
    /// First angle: the plan below the front view, the view from the left to the right of it.
    #[default]
    FirstAngle,
    /// Third angle: the plan above the front view, the view from the left to the left of it.
    ThirdAngle,
}

impl Arrangement {
    /// The cell of a view, counted from the front view: columns to the right, rows upwards.
    /// Pictorial views have no place in the arrangement.
    pub fn cell(self, projection: &Projection) -> Option<(i32, i32)> {
        let side = match self {
            Arrangement::FirstAngle => -1,
            Arrangement::ThirdAngle => 1,
        };
        match projection {
            Projection::Front => Some((0, 0)),
            Projection::Plan => Some((0, side)),
            Projection::Bottom => Some((0, -side)),
            Projection::Right => Some((side, 0)),
            Projection::Left => Some((-side, 0)),
            // The rear view may stand at either end of the row; the right end is chosen.
            Projection::Rear => Some((2, 0)),
            Projection::Isometric(_) | Projection::Any { .. } => None,
        }
    }
}
