//! A part's solid as layers.
//!
//! In: thickness, outline, features. Out: [`Layer`]s from bottom to top, each with one plan outline.
//! Always true: layers touch and never overlap; a feature changes exactly the layers it reaches.

use crate::part::{Depth, Face, Feature, FeatureKind, Layer};
use crate::shapes::curved_slot;
use turnleaf_geom::{Region, Ring, Seg, Vertex, distance::point_in_ring, offset::shift_edges};

/// Height band of a depth, mm above the bottom face.
pub fn band(depth: Depth, thickness: f64) -> (f64, f64) {
    match depth {
        Depth::Through => (0.0, thickness),
        Depth::Blind(Face::Top, d) => (thickness - d, thickness),
        Depth::Blind(Face::Bottom, d) => (0.0, d),
    }
}

/// Height band a feature acts over.
pub fn feature_band(kind: &FeatureKind, thickness: f64) -> (f64, f64) {
    match kind {
        FeatureKind::Hole { depth, .. }
        | FeatureKind::Slot { depth, .. }
        | FeatureKind::CurvedSlot { depth, .. }
        | FeatureKind::Pocket { depth, .. } => band(*depth, thickness),
        // Layers have upright sides: the wedge fills the room of its highest place.
        FeatureKind::Ramp { .. } => (0.0, thickness),
        FeatureKind::EdgeGroove { z, .. } | FeatureKind::EdgeTongue { z, .. } => *z,
    }
}

/// The opening a feature makes in plan, counter-clockwise; None for edge features.
pub fn opening(kind: &FeatureKind) -> Option<Ring> {
    match kind {
        FeatureKind::Hole { centre, diameter, .. } => Some(Ring::circle(*centre, diameter / 2.0)),
        FeatureKind::Slot { a, b, width, .. } => Some(Ring::slot(*a, *b, width / 2.0)),
        FeatureKind::CurvedSlot { way, width, .. } => Some(curved_slot(way, width / 2.0)),
        FeatureKind::Pocket { ring, .. } => Some(ring.clone()),
        FeatureKind::Ramp { .. } | FeatureKind::EdgeGroove { .. } | FeatureKind::EdgeTongue { .. } => None,
    }
}

/// The outline with the edge features of one height taken in or let out. Only straight edges carry them.
fn outline_at(outline: &Ring, edges: &[(usize, f64, f64, f64)]) -> Ring {
    // What runs the whole length of an edge moves that edge; the rest steps in or out within it.
    let mut shift = vec![0.0; outline.vertices.len()];
    let mut partial = Vec::new();
    let lengths: Vec<f64> = outline.segs().map(|s| s.length()).collect();
    for &(edge, from, to, depth) in edges {
        if from <= 1e-9 && to >= lengths[edge] - 1e-9 {
            shift[edge] -= depth;
        } else {
            partial.push((edge, from, to, depth));
        }
    }
    let moved;
    let (outline, edges) = if shift.iter().any(|d| *d != 0.0) {
        // An outline this cannot be done to is left whole: the proof then sees more wood, never less.
        moved = shift_edges(outline, &shift).unwrap_or_else(|_| outline.clone());
        (&moved, &partial)
    } else {
        (outline, &partial)
    };
    let mut out = Vec::new();
    for (i, seg) in outline.segs().enumerate() {
        out.push(outline.vertices[i]);
        let Seg::Line(a, b) = seg else { continue };
        let along = (b - a).unit();
        let outward = along.perp() * -1.0;
        let mut here: Vec<_> = edges.iter().filter(|e| e.0 == i).collect();
        here.sort_by(|x, y| x.1.total_cmp(&y.1));
        for &&(_, from, to, depth) in &here {
            let corner = |t: f64, d: f64| Vertex { p: a + along * t + outward * d, bulge: 0.0 };
            out.extend([corner(from, 0.0), corner(from, depth), corner(to, depth), corner(to, 0.0)]);
        }
    }
    Ring { vertices: out }
}

/// Layers of a part, bottom to top.
pub fn layers(thickness: f64, outline: &Ring, features: &[Feature]) -> Vec<Layer> {
    let mut cuts = vec![0.0, thickness];
    for f in features {
        let (low, high) = feature_band(&f.kind, thickness);
        cuts.extend([low.clamp(0.0, thickness), high.clamp(0.0, thickness)]);
    }
    cuts.sort_by(f64::total_cmp);
    cuts.dedup_by(|a, b| (*a - *b).abs() < 1e-9);
    let mut out: Vec<Layer> = Vec::new();
    for pair in cuts.windows(2) {
        let middle = (pair[0] + pair[1]) / 2.0;
        let active: Vec<&Feature> = features
            .iter()
            .filter(|f| {
                let (low, high) = feature_band(&f.kind, thickness);
                middle > low && middle < high
            })
            .collect();
        let edges: Vec<_> = active
            .iter()
            .filter_map(|f| match f.kind {
                FeatureKind::EdgeGroove { edge, from, to, depth, .. } => Some((edge, from, to, -depth)),
                FeatureKind::EdgeTongue { edge, from, to, depth, .. } => Some((edge, from, to, depth)),
                _ => None,
            })
            .collect();
        let openings: Vec<Ring> = active.iter().filter_map(|f| opening(&f.kind)).collect();
        // An opening inside a wider one of the same height adds nothing.
        let holes = openings
            .iter()
            .enumerate()
            .filter(|(i, ring)| {
                !openings.iter().enumerate().any(|(j, other)| {
                    *i != j
                        && ring.vertices.iter().all(|q| point_in_ring(q.p, other))
                        && (*ring != other || j < *i)
                })
            })
            .map(|(_, ring)| ring.reversed())
            .collect();
        let region = Region { outer: outline_at(outline, &edges), holes };
        match out.last_mut() {
            Some(last) if last.region == region => last.z1 = pair[1],
            _ => out.push(Layer { region, z0: pair[0], z1: pair[1] }),
        }
    }
    out
}
