//! Is an outline fit to work with?
//!
//! In: rings and regions from anywhere. Out: nothing, or a [`GeomError`] that names the edge at fault.
//! Always true: a ring that passes is finite, encloses an area and meets itself only at its corners.

use crate::distance::{TOUCH, point_in_ring};
use crate::edge::Edge;
use crate::error::{GeomError, Trouble};
use crate::ring::{Region, Ring};

/// Area in mm² below which an outline counts as enclosing nothing.
pub(crate) const NO_AREA: f64 = 1e-9;

/// The edges of a ring in `Ring::segs` order, those of no length included.
pub(crate) fn edges_of(ring: &Ring) -> Vec<Edge> {
    let n = ring.vertices.len();
    (0..n).map(|i| Edge::new(ring.vertices[i], ring.vertices[(i + 1) % n].p)).collect()
}

/// Finite numbers, at least two corners, some area. Cheap; does not look for crossings.
pub fn check_numbers(ring: &Ring) -> Result<(), GeomError> {
    for (i, q) in ring.vertices.iter().enumerate() {
        if !(q.p.x.is_finite() && q.p.y.is_finite() && q.bulge.is_finite()) {
            return Err(GeomError::at(
                i,
                Trouble::NotFinite,
                format!("Corner {} of the outline is not a finite number.", i + 1),
            ));
        }
    }
    let n = ring.vertices.len();
    if n < 2 {
        return Err(GeomError::new(
            Trouble::Empty,
            format!("An outline needs at least two corners, this one has {n}."),
        ));
    }
    let area = ring.area();
    if !area.is_finite() {
        return Err(GeomError::new(Trouble::NotFinite, "The outline is too large to measure."));
    }
    if area.abs() < NO_AREA {
        return Err(GeomError::new(Trouble::Empty, "The outline encloses no area."));
    }
    Ok(())
}

/// Everything [`check_numbers`] asks, and that the outline meets itself only at its corners.
pub fn check_ring(ring: &Ring) -> Result<(), GeomError> {
    check_numbers(ring)?;
    // Edges of no length would count as neighbours of neighbours; they are dropped first.
    let edges: Vec<(usize, Edge)> =
        edges_of(ring).into_iter().enumerate().filter(|(_, e)| e.length() > TOUCH).collect();
    let n = edges.len();
    for i in 0..n {
        for j in i + 1..n {
            let (k, e) = &edges[i];
            let (_, o) = &edges[j];
            let next = j == i + 1;
            let wraps = i == 0 && j == n - 1;
            let bad = if next || wraps { neighbours_meet(e, o, next, wraps) } else { too_near(e, o) };
            if bad {
                return Err(GeomError::at(
                    *k,
                    Trouble::CrossesItself,
                    format!("The outline meets itself: edge {} runs into edge {}.", k + 1, edges[j].0 + 1),
                ));
            }
        }
    }
    Ok(())
}

/// Every ring is sound, holes lie in the outer ring and apart from one another (touching is allowed).
pub fn check_region(region: &Region) -> Result<(), GeomError> {
    for r in region.rings() {
        check_ring(r)?;
    }
    for (i, h) in region.holes.iter().enumerate() {
        if rings_cross(h, &region.outer) || !inside(h, &region.outer) {
            return Err(GeomError::new(
                Trouble::CrossesItself,
                format!("Opening {} does not lie inside the outline.", i + 1),
            ));
        }
        for (j, g) in region.holes.iter().enumerate().skip(i + 1) {
            if rings_cross(h, g) || inside(h, g) || inside(g, h) {
                return Err(GeomError::new(
                    Trouble::CrossesItself,
                    format!("Openings {} and {} overlap.", i + 1, j + 1),
                ));
            }
        }
    }
    Ok(())
}

fn too_near(e: &Edge, o: &Edge) -> bool {
    e.closest(o).d2 <= TOUCH * TOUCH
}

/// Neighbours share a corner; anything else they share is a fault.
fn neighbours_meet(e: &Edge, o: &Edge, next: bool, wraps: bool) -> bool {
    // Far enough from the shared corner to be a meeting of its own.
    let apart = 1e3 * TOUCH;
    let shared = |p| (next && e.b.dist(p) <= apart) || (wraps && e.a.dist(p) <= apart);
    if e.meets(o).into_iter().flatten().any(|p| !shared(p)) {
        return true;
    }
    // Folding back along the same curve has no single crossing: look at the far ends and the middles.
    let near = |p, other: &Edge| !shared(p) && other.nearest(p).d2 <= TOUCH * TOUCH;
    near(e.a, o) || near(o.b, e) || near(e.b, o) || near(o.a, e) || near(e.at(0.5), o) || near(o.at(0.5), e)
}

/// Whether two outlines properly cross (sharing points or stretches without crossing is allowed).
fn rings_cross(a: &Ring, b: &Ring) -> bool {
    let (ea, eb) = (edges_of(a), edges_of(b));
    // Cut each edge where the other ring meets it; all stretches must lie on one side.
    let side = |edges: &[Edge], other: &[Edge], ring: &Ring| {
        let (mut within, mut outside) = (false, false);
        for e in edges {
            let mut cuts = vec![0.0, 1.0];
            for o in other {
                cuts.extend(e.meets(o).into_iter().flatten().map(|p| e.fraction(p).clamp(0.0, 1.0)));
                let n = e.nearest(o.a);
                if n.d2 <= 16.0 * TOUCH * TOUCH {
                    cuts.push(e.fraction(n.q).clamp(0.0, 1.0));
                }
            }
            cuts.sort_by(f64::total_cmp);
            for w in cuts.windows(2) {
                let p = e.at((w[0] + w[1]) / 2.0);
                if other.iter().all(|o| o.nearest(p).d2 > TOUCH * TOUCH) {
                    if point_in_ring(p, ring) {
                        within = true;
                    } else {
                        outside = true;
                    }
                }
            }
        }
        within && outside
    };
    side(&ea, &eb, b) || side(&eb, &ea, a)
}

/// Whether ring `h` lies in ring `o`, given that they do not cross.
fn inside(h: &Ring, o: &Ring) -> bool {
    let other = edges_of(o);
    // The point of `h` furthest from the other outline decides.
    let mut far = (-1.0, h.vertices[0].p);
    for e in edges_of(h) {
        for t in [0.0, 0.5] {
            let p = e.at(t);
            let d = other.iter().map(|x| x.nearest(p).d2).fold(f64::INFINITY, f64::min);
            if d > far.0 {
                far = (d, p);
            }
        }
    }
    point_in_ring(far.1, o)
}
