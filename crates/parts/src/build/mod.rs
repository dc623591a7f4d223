//! Builds every part and piece of a table.
//!
//! In: a mechanism. Out: an [`Assembly`].
//! Always true: a hole and the pin in it are placed by one expression; `Plan` collects parts and pieces.

mod base;
pub mod cam;
pub use base::{pocket_angles as base_pocket_angles, pocket_half_width as base_pocket_half_width};
pub use top::{leaf_nominal, star_left_over, star_nominal};
mod drive;
mod fastenings;
mod fixings;
pub use drive::{PinPlate, pin_plate};
pub use fastenings::FLANGE_SCREWS;
pub use fixings::{rail_screws, rim_screws};
mod frame;
pub use frame::{LEG, RAIL as FRAME_RAIL};
mod lift;
mod plates;
mod stops;
mod top;
pub use stops::{NoStops, Stops, why_no_stops};

use crate::layers::layers;
use crate::part::{Depth, Feature, FeatureKind, Part};
use crate::piece::{Assembly, Motion, Piece};
use core::f64::consts::PI;
use turnleaf_geom::{Pose2, Ring, Vec2};
use turnleaf_mechanism::{Mechanism, stack::Level};

/// Free side play of a slide in its guide, and of a pin in its hole, mm each side.
pub const SLIDE_PLAY: f64 = 0.3;
pub use turnleaf_mechanism::members::SLIDE_TONGUE;

/// Assembles the whole table.
pub fn assemble(m: &Mechanism) -> Assembly {
    let shafts = lift::guide_shafts(m);
    let stops = stops::stops(m, &shafts);
    let mut b = Builder { m, shafts, stops, parts: Vec::new(), pieces: Vec::new() };
    top::add(&mut b);
    drive::add(&mut b);
    plates::add(&mut b);
    lift::add(&mut b);
    base::add(&mut b);
    frame::add(&mut b);
    stops::add(&mut b);
    fastenings::add(&mut b);
    Assembly { mechanism: m.clone(), parts: b.parts, pieces: b.pieces }
}

/// Collects parts and pieces.
pub(crate) struct Builder<'a> {
    pub m: &'a Mechanism,
    /// Centres of the guide shafts.
    pub shafts: Vec<Vec2>,
    /// End stops and latch, or why there are none.
    pub stops: Result<Stops, NoStops>,
    pub parts: Vec<Part>,
    pub pieces: Vec<Piece>,
}

/// A part before its layers are made.
pub(crate) struct Draft {
    pub id: &'static str,
    pub name: &'static str,
    pub material: &'static str,
    pub made: bool,
    pub thickness: f64,
    pub outline: Ring,
    pub features: Vec<Feature>,
    pub notes: Vec<String>,
}

impl Builder<'_> {
    /// Directions of the panels' centre lines.
    pub fn panel_lines(&self) -> impl Iterator<Item = f64> + use<> {
        let n = self.m.sizes.sectors;
        (0..n).map(move |k| 2.0 * PI * k as f64 / n as f64)
    }
    /// Directions in which the panels slide: their centre lines turned by the skew.
    pub fn panel_slide_lines(&self) -> impl Iterator<Item = f64> + use<> {
        let skew = self.m.layout.skew;
        self.panel_lines().map(move |a| a + skew)
    }
    /// Directions of the seams, in which the leaves slide.
    pub fn seam_lines(&self) -> impl Iterator<Item = f64> + use<> {
        let h = self.m.layout.half_sector;
        self.panel_lines().map(move |a| a + h)
    }
    /// Adds a part with its pieces: pose of the part's frame, bottom height, motion.
    pub fn add(&mut self, draft: Draft, places: Vec<(Pose2, f64, Motion)>) {
        let index = self.parts.len();
        self.parts.push(Part {
            id: draft.id.into(),
            name: draft.name.into(),
            count: places.len(),
            material: draft.material.into(),
            made: draft.made,
            thickness: draft.thickness,
            layers: layers(draft.thickness, &draft.outline, &draft.features),
            outline: draft.outline,
            features: draft.features,
            notes: draft.notes,
            side: None,
        });
        for (i, (at, z, motion)) in places.into_iter().enumerate() {
            self.pieces.push(Piece { id: format!("{}/{}", draft.id, i + 1), part: index, at, z, motion });
        }
    }
    /// Adds a bought thing that is only listed: a round of a length and a radius, in no place of its own.
    pub fn bought(
        &mut self,
        id: &str,
        name: &str,
        length: f64,
        radius: f64,
        count: usize,
        notes: Vec<String>,
    ) {
        let outline = Ring::circle(Vec2::ZERO, radius);
        self.parts.push(Part {
            id: id.into(),
            name: name.into(),
            count,
            material: "bought".into(),
            made: false,
            thickness: length,
            layers: layers(length, &outline, &[]),
            outline,
            features: Vec::new(),
            notes,
            side: None,
        });
    }
}

pub(crate) fn feature(id: impl Into<String>, purpose: &str, kind: FeatureKind) -> Feature {
    Feature { id: id.into(), purpose: purpose.into(), kind }
}

pub(crate) fn hole(id: impl Into<String>, purpose: &str, centre: Vec2, diameter: f64) -> Feature {
    feature(id, purpose, FeatureKind::Hole { centre, diameter, depth: Depth::Through })
}

/// A round bar standing upright.
pub(crate) fn round(
    id: &'static str,
    name: &'static str,
    material: &'static str,
    made: bool,
    radius: f64,
    level: Level,
) -> Draft {
    Draft {
        id,
        name,
        material,
        made,
        thickness: level.top - level.bottom,
        outline: Ring::circle(Vec2::ZERO, radius),
        features: Vec::new(),
        notes: Vec::new(),
    }
}

/// Pose of a point at a radius along a line, x axis along the line.
pub(crate) fn along(line: f64, radius: f64) -> Pose2 {
    Pose2::new(line, Vec2::polar(radius, line))
}
