//! What a part is: outline, features, layers.
//!
//! In: nothing. Out: the vocabulary that later stages draw, dimension and list.
//! A *part* is a thing to make (drawn once, with a count); a *piece* is one of them in its place.
//! Always true: a part's outline is in its own frame, x along its main direction (grain), y across,
//! z from the bottom face (0) up to the thickness. Pieces carry a pose into the table's frame.
//! Table frame: origin at the centre of the top, z = 0 at the floor, turning with the top.

use std::borrow::Cow;
use turnleaf_geom::{Region, Ring, Seg, Vec2, Vertex, trig};

/// Which face a feature is cut from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Face {
    /// Upper face.
    Top,
    /// Lower face.
    Bottom,
}

/// How deep a feature goes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Depth {
    /// Right through.
    Through,
    /// So many mm from the face.
    Blind(Face, f64),
}

/// Something cut into or raised on a part, beside its outline.
#[derive(Clone, Debug, PartialEq)]
pub enum FeatureKind {
    /// A round hole.
    Hole {
        /// Centre in the part's frame.
        centre: Vec2,
        /// Diameter, mm.
        diameter: f64,
        /// How deep.
        depth: Depth,
    },
    /// A straight slot with round ends, given by its end centres.
    Slot {
        /// First end centre.
        a: Vec2,
        /// Second end centre.
        b: Vec2,
        /// Full width, mm.
        width: f64,
        /// How deep.
        depth: Depth,
    },
    /// A slot along a chain of arcs, round at both ends.
    CurvedSlot {
        /// Stations of its centre line, each with the bulge of the arc to the next (the last one's is 0).
        way: Vec<Vertex>,
        /// Full width, mm.
        width: f64,
        /// How deep.
        depth: Depth,
    },
    /// An opening or recess of any outline.
    Pocket {
        /// Its outline, counter-clockwise, in the part's frame.
        ring: Ring,
        /// How deep.
        depth: Depth,
    },
    /// The upper face of a ring segment slopes: level along every radius, it rises clockwise (seen from above)
    /// round the centre of the outline's arcs, from nothing at one straight end to the full thickness at the
    /// other. Developed in the middle of the width the line is an arc, a straight and an arc, meeting smoothly.
    Ramp {
        /// Radius of the hollow at the foot, mm.
        foot: f64,
        /// Radius of the rounding at the head, mm.
        head: f64,
    },
    /// A groove cut into edges: the stretch of outline between two distances along it loses `depth` over a height band.
    EdgeGroove {
        /// Index of the outline edge (`Ring::segs` order).
        edge: usize,
        /// Start along the edge, mm.
        from: f64,
        /// End along the edge, mm.
        to: f64,
        /// Into the part, mm.
        depth: f64,
        /// Height band above the bottom face, mm.
        z: (f64, f64),
    },
    /// A tongue standing proud of an edge of the outline, same terms as the groove.
    EdgeTongue {
        /// Index of the outline edge (`Ring::segs` order).
        edge: usize,
        /// Start along the edge, mm.
        from: f64,
        /// End along the edge, mm.
        to: f64,
        /// Out of the edge, mm.
        depth: f64,
        /// Height band above the bottom face, mm.
        z: (f64, f64),
    },
}

/// A named feature. The name says what it is for and never depends on an index that can shift.
#[derive(Clone, Debug, PartialEq)]
pub struct Feature {
    /// Stable identifier within the part, such as "crank-pin/2".
    pub id: String,
    /// What it is for, in plain words ("hole for crank pin").
    pub purpose: String,
    /// Shape.
    pub kind: FeatureKind,
}

/// A stretch of a solid with one outline from bottom to top.
#[derive(Clone, Debug, PartialEq)]
pub struct Layer {
    /// Plan outline.
    pub region: Region,
    /// Bottom, mm above the part's bottom face.
    pub z0: f64,
    /// Top, mm above the part's bottom face.
    pub z1: f64,
}

/// A thing to make.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// Stable identifier ("panel", "leaf", "panel-arm").
    pub id: String,
    /// Plain name for lists and title blocks.
    pub name: String,
    /// How many the table needs.
    pub count: usize,
    /// Material as the maker names it.
    pub material: String,
    /// Whether the part is cut from sheet stock and so has a drawing sheet.
    pub made: bool,
    /// Thickness, mm.
    pub thickness: f64,
    /// Outer outline without holes, part frame.
    pub outline: Ring,
    /// Everything cut into it.
    pub features: Vec<Feature>,
    /// The solid as layers, features included, bottom to top; the whole box of a part with a side view.
    pub layers: Vec<Layer>,
    /// Side view of a bar that stands on edge with a shaped lower edge: x along the part, y up from its lower face.
    /// The solid is this outline through the part's whole width.
    pub side: Option<Ring>,
    /// Notes for the sheet.
    pub notes: Vec<String>,
}

impl Part {
    /// The part as it lies on the bench: one with a side view is laid on its side, all others are as they are.
    pub fn as_made(&self) -> Cow<'_, Part> {
        let Some(side) = &self.side else { return Cow::Borrowed(self) };
        let (low, high) = self.outline.bounds();
        let thickness = high.y - low.y;
        Cow::Owned(Part {
            thickness,
            outline: side.clone(),
            layers: vec![Layer { region: side.clone().into(), z0: 0.0, z1: thickness }],
            side: None,
            ..self.clone()
        })
    }
    /// Whether it is a length of a ring: at least two arcs about one centre, not all of one radius. Its grain runs along them.
    pub fn is_ring_length(&self) -> bool {
        let arcs = self.outline.segs().filter_map(|s| if let Seg::Arc(a) = s { Some(a) } else { None });
        let arcs: Vec<_> = arcs.collect();
        let Some(first) = arcs.first() else { return false };
        arcs.iter().all(|a| a.centre.dist(first.centre) < 1e-6)
            && arcs.iter().any(|a| (a.radius - first.radius).abs() > 1e-6)
    }
    /// Sides of the smallest upright box round the part as it lies on the bench, mm: along the grain, across it, and the
    /// thickness. Arcs lie along the grain by their chord; what stands taller than it is long has its grain upright.
    pub fn size(&self) -> [f64; 3] {
        let lying = self.as_made();
        let (low, high) = lying.outline.bounds();
        let (long, wide, thick) = (high.x - low.x, high.y - low.y, lying.thickness);
        let (most, least) = (long.max(wide), long.min(wide));
        if self.made && self.material == "hardwood" && thick >= most {
            [thick, most, least]
        } else if self.made && self.is_ring_length() {
            [most, least, thick]
        } else {
            [long, wide, thick]
        }
    }
    /// Height of the lower edge above the lower face at a distance along the part, mm; 0 without a side view.
    pub fn hollow_at(&self, x: f64) -> f64 {
        let Some(side) = &self.side else { return 0.0 };
        side.segs()
            .filter_map(|seg| match seg {
                Seg::Arc(a) => {
                    let at = |angle: f64| a.centre.x + a.radius * trig::cos(angle);
                    let (p, q) = (at(a.start), at(a.start + a.sweep));
                    let (low, high) = (p.min(q), p.max(q));
                    // The hollow is the upper part of its circle.
                    (x > low && x < high).then(|| {
                        a.centre.y + (a.radius * a.radius - (x - a.centre.x).powi(2)).max(0.0).sqrt()
                    })
                }
                Seg::Line(..) => None,
            })
            .fold(0.0, f64::max)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use turnleaf_geom::vec2::v;

    fn part(material: &str, outline: Ring, thickness: f64) -> Part {
        Part {
            id: "part".into(),
            name: "Part".into(),
            count: 1,
            material: material.into(),
            made: true,
            thickness,
            layers: vec![Layer { region: outline.clone().into(), z0: 0.0, z1: thickness }],
            outline,
            features: Vec::new(),
            side: None,
            notes: Vec::new(),
        }
    }

    /// Boxes by hand. A sixth of a ring of radii 560 and 600 has the chord 2 · 600 · sin 30° = 600 and the rise
    /// 600 − 560 · cos 30° = 115.03; its bulge is tan(60°/4).
    #[test]
    fn sizes_begin_along_the_grain() {
        let near = |a: [f64; 3], b: [f64; 3]| a.iter().zip(b).all(|(a, b)| (a - b).abs() < 0.01);
        let block = |x: f64, y: f64| Ring::polygon(&[v(0.0, 0.0), v(x, 0.0), v(x, y), v(0.0, y)]);
        assert_eq!(part("hardwood", block(36.0, 40.0), 21.0).size(), [36.0, 40.0, 21.0]);
        assert_eq!(part("hardwood", block(60.0, 55.0), 588.0).size(), [588.0, 60.0, 55.0]);
        assert_eq!(part("top stock", block(28.8, 70.0), 15.0).size(), [28.8, 70.0, 15.0]);
        let bulge = trig::sin(trig::rad(15.0)) / trig::cos(trig::rad(15.0));
        let corner =
            |r: f64, degrees: f64, bulge: f64| Vertex { p: Vec2::polar(r, trig::rad(degrees)), bulge };
        let ring = Ring {
            vertices: vec![
                corner(560.0, -30.0, 0.0),
                corner(600.0, -30.0, bulge),
                corner(600.0, 30.0, 0.0),
                corner(560.0, 30.0, -bulge),
            ],
        };
        let length = part("slide stock", ring, 15.0);
        assert!(length.is_ring_length() && near(length.size(), [600.0, 115.03, 15.0]), "{:?}", length.size());
        assert!(!part("plate stock", Ring::circle(v(1.0, 2.0), 300.0), 18.0).is_ring_length());
        let rail = Part { side: Some(block(407.2, 70.0)), ..part("hardwood", block(407.2, 40.0), 70.0) };
        assert!(near(rail.size(), [407.2, 70.0, 40.0]), "{:?}", rail.size());
    }
}
