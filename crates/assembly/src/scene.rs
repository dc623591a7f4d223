//! Pieces as solids in their places.
//!
//! In: an assembly, a turn in radians. Out: [`Body`]s for the views.
//! Always true: the base stands still and the top turns; a body carries its piece's identifier. Levers tilt.
//! A drop roller is drawn as block, cheeks and wheel, and a ramp as a straight wedge along its middle, because
//! their parts' outlines are the room they need.

use std::sync::Arc;
use turnleaf_geom::{Pose2, Ring, Vec2, trig, vec2::v};
use turnleaf_parts::{Assembly, Layer, Motion, Part, Piece};
use turnleaf_views::{Body, Pose3, v3};

/// The table is turned by so much for isometric views, radians: the frame's legs stand on its diagonals, where
/// one would hide another.
pub const TURNED: f64 = core::f64::consts::PI / 12.0;
/// Thickness of a roller's cheeks, mm.
const CHEEK: f64 = 2.5;

/// Solids of all parts, made once.
pub struct Scene<'a> {
    /// What is looked at.
    pub a: &'a Assembly,
    layers: Vec<Arc<[Layer]>>,
}

/// Which solid of a part is looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Solid {
    /// With everything cut into it.
    Whole,
    /// With the outline of its stretches but without holes: quicker, for pieces seen from afar.
    Plain,
}

impl<'a> Scene<'a> {
    /// Prepares an assembly.
    pub fn new(a: &'a Assembly) -> Scene<'a> {
        Scene { a, layers: a.parts.iter().map(|p| Arc::from(p.layers.as_slice())).collect() }
    }
    /// A piece at a turn, the base standing still.
    pub fn bodies(&self, piece: &Piece, turn: f64, solid: Solid) -> Vec<Body> {
        self.in_frame(piece, turn, -turn, solid)
    }
    /// A piece at a turn as isometric views show it: the base standing still, all turned a little.
    pub fn isometric(&self, piece: &Piece, turn: f64) -> Vec<Body> {
        self.in_frame(piece, turn, TURNED - turn, Solid::Whole)
    }
    /// A piece at a turn, the whole table turned by `frame` radians against the frame that turns with the top.
    pub fn in_frame(&self, piece: &Piece, turn: f64, frame: f64, solid: Solid) -> Vec<Body> {
        let place = self.a.place(piece, turn);
        let part = self.a.part_of(piece);
        let outer = Pose2::new(frame, Vec2::ZERO);
        let pose = Pose3::plan(&outer.after(&place.pose), place.z);
        match piece.motion {
            Motion::Roller => return self.roller(piece, turn, &pose),
            Motion::Base if part.id.starts_with("ramp-") => {
                if let Some(body) = self.ramp(piece, &pose) {
                    return vec![body];
                }
            }
            _ => {}
        }
        if part.side.is_some() {
            return vec![on_edge(piece, part, &pose)];
        }
        let layers = match solid {
            Solid::Whole => self.layers[piece.part].clone(),
            Solid::Plain => {
                let plain = Layer { region: part.outline.clone().into(), z0: 0.0, z1: part.thickness };
                Arc::from([plain].as_slice())
            }
        };
        let pose = if place.tilt == 0.0 {
            pose
        } else {
            // Right-handed about +y turns +x downwards.
            let axis = v3(0.0, 0.0, part.thickness / 2.0);
            pose.after(&Pose3::about(axis, v3(0.0, 1.0, 0.0), -place.tilt))
        };
        vec![Body::placed(piece.id.clone(), layers, pose)]
    }

    /// Block under the plate, two cheeks, wheel. Folded before the lift, dropped from its beginning on.
    fn roller(&self, piece: &Piece, turn: f64, pose: &Pose3) -> Vec<Body> {
        let m = &self.a.mechanism;
        let (me, r) = (&m.members, &m.rollers);
        let top = self.a.part_of(piece).thickness;
        let half = me.wheel_width / 2.0;
        let hinge = v(0.0, top - me.hinge_drop);
        let axle = if turn >= m.lift_begins() {
            v(r.dropped_behind, hinge.y - r.dropped_height)
        } else {
            v(-r.folded_ahead, hinge.y - r.folded_height)
        };
        // Local x of these prisms is along the circle (part y), local y up, their axis along part x.
        let aside =
            Pose3 { x: v3(0.0, 1.0, 0.0), y: v3(0.0, 0.0, 1.0), z: v3(1.0, 0.0, 0.0), ..Pose3::default() };
        let aside = pose.after(&aside);
        let cheek = (me.hinge_drop * 0.8).min(me.wheel * 0.6).max(2.0);
        let layer = |ring: Ring, z0: f64, z1: f64| Layer { region: ring.into(), z0, z1 };
        let body = |layers: Vec<Layer>, at: &Pose3| Body::placed(piece.id.clone(), layers, *at);
        let bar = Ring::slot(hinge, axle, cheek);
        let block = Ring::rect(v(-half, -8.0), v(half, 8.0));
        vec![
            body(vec![layer(block, hinge.y + cheek * 0.5, top)], pose),
            body(vec![layer(bar.clone(), -half, CHEEK - half)], &aside),
            body(vec![layer(bar, half - CHEEK, half)], &aside),
            body(vec![layer(Ring::circle(axle, me.wheel), CHEEK - half, half - CHEEK)], &aside),
        ]
    }

    /// A ramp as a wedge: high at its −y end, nothing at its +y end. Narrower than the ramp by what its
    /// circle strays from the straight, so that it stays inside its pocket.
    fn ramp(&self, piece: &Piece, pose: &Pose3) -> Option<Body> {
        let part = self.a.part_of(piece);
        let (lo, hi) = part.outline.bounds();
        let sweep = self.a.mechanism.sizes.ramp_sweep / 2.0;
        let outer = hi.x;
        // Inner corners lie at inner radius times cos(half sweep).
        let inner = lo.x / trig::cos(sweep);
        let middle = (inner + outer) / 2.0;
        let stray = middle * (1.0 - trig::cos(sweep));
        let half = (outer - inner) / 2.0 - stray / 2.0;
        if !(half > 1.0 && part.thickness > 0.0) {
            return None;
        }
        let (at, run) = (middle - stray / 2.0, middle * trig::sin(sweep));
        let profile = Ring::polygon(&[v(-run, 0.0), v(run, 0.0), v(-run, part.thickness)]);
        let aside =
            Pose3 { x: v3(0.0, 1.0, 0.0), y: v3(0.0, 0.0, 1.0), z: v3(1.0, 0.0, 0.0), ..Pose3::default() };
        let layer = Layer { region: profile.into(), z0: at - half, z1: at + half };
        Some(Body::placed(piece.id.clone(), vec![layer], pose.after(&aside)))
    }
}

/// A bar on edge with its lower edge shaped, in the place of its piece: its side view as a prism through its width.
pub fn on_edge(piece: &Piece, part: &Part, pose: &Pose3) -> Body {
    let made = part.as_made();
    let (low, high) = part.outline.bounds();
    // Local x along the bar, local y up; the axis then points to the bar's −y side.
    let up = Pose3 { y: v3(0.0, 0.0, 1.0), z: v3(0.0, -1.0, 0.0), ..Pose3::default() };
    let up = pose.after(&Pose3 { offset: v3(0.0, (low.y + high.y) / 2.0, 0.0), ..up });
    let half = (high.y - low.y) / 2.0;
    let layer = Layer { region: made.outline.clone().into(), z0: -half, z1: half };
    Body::placed(piece.id.clone(), vec![layer], up)
}
