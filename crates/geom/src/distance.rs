//! Exact distances between edges and between regions, and whether a point lies inside.
//!
//! In: edges, rings and regions in one frame. Out: distances with the nearest points.
//! Always true: every edge pair is solved in closed form, so nothing is sampled or flattened;
//! bodies nearer than [`TOUCH`] count as touching, at distance 0, without penetration.

use crate::edge::Edge;
use crate::prepared::Prepared;
use crate::ring::{Region, Ring, Seg};
use crate::vec2::{Pose2, Vec2};

/// Outlines nearer than this (mm) touch, and overlaps no deeper than this are touches. Larger: thin
/// true overlaps pass as touches; smaller: rounding at table size (1e-13 mm and its products) shows.
pub const TOUCH: f64 = 1e-9;

/// How far two bodies are apart.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Clearance {
    /// Smallest distance, mm; 0 when touching or penetrating.
    pub distance: f64,
    /// Nearest point of the first body; when penetrating, a point that belongs to both
    /// (inside one, inside or on the outline of the other).
    pub a: Vec2,
    /// Nearest point of the second body; when penetrating, the same point as `a`.
    pub b: Vec2,
    /// Whether the solids share more than a touch.
    pub penetrates: bool,
}

/// Distance between two edges with the nearest point of each; 0 where they cross.
pub fn seg_distance(a: &Seg, b: &Seg) -> (f64, Vec2, Vec2) {
    let n = Edge::from_seg(a).closest(&Edge::from_seg(b));
    (n.d2.sqrt(), n.p, n.q)
}

/// Distance from a point to an edge with the nearest point of the edge.
pub fn point_seg_distance(p: Vec2, s: &Seg) -> (f64, Vec2) {
    let n = Edge::from_seg(s).nearest(p);
    (n.d2.sqrt(), n.q)
}

/// Whether a point lies inside a ring, whichever way the ring runs (even-odd, exact for arcs).
/// Points on the outline fall either way, but alike for rings that share an edge.
pub fn point_in_ring(p: Vec2, ring: &Ring) -> bool {
    let n = ring.vertices.len();
    (0..n)
        .fold(false, |inside, i| inside != Edge::new(ring.vertices[i], ring.vertices[(i + 1) % n].p).flips(p))
}

/// Whether a point lies in the solid of a region: inside the outer ring and in no hole.
pub fn point_in_region(p: Vec2, region: &Region) -> bool {
    point_in_ring(p, &region.outer) && !region.holes.iter().any(|h| point_in_ring(p, h))
}

/// Signed distance of a point to a region's outline: negative inside the solid. Infinite for an empty region.
pub fn signed_distance(p: Vec2, region: &Region) -> f64 {
    let body = Prepared::new(region);
    let d = body.nearest(p).map_or(f64::INFINITY, |(n, _)| n.d2.sqrt());
    if body.contains(p) { -d } else { d }
}

/// Clearance between two regions in one frame. For many questions prepare them once: [`Prepared`].
pub fn region_distance(a: &Region, b: &Region) -> Clearance {
    let still = Pose2::default();
    Prepared::new(a).clearance(&still, &Prepared::new(b), &still)
}
