//! Union, difference and intersection of regions, with true arcs.
//!
//! In: two groups of regions. Out: regions with outer rings counter-clockwise and holes clockwise, or a
//! sentence saying why not. Always true: corners of the result are corners of the input or exact meetings
//! of its curves, and arcs stay arcs of the same circle. Slivers thinner than the snapping distance
//! (1e-7 mm) or smaller than 1e-9 mm² are dropped, pieces nearer than that distance are joined.
//!
//! How: the outlines are cut at their exact meetings, an integer polygon overlay sorts the stretches
//! (arcs as short chords, each marked with its circle), chords turn back into arcs, and every stretch
//! of the result, and every stretch left out, is checked against the exact regions. Where chords were
//! too coarse they are made finer; if even the finest fails the check, that is an error, never a result.

use crate::arrange::{Arrangement, SNAPS};
use crate::check::{NO_AREA, check_ring};
use crate::edge::Edge;
use crate::error::{GeomError, Trouble};
use crate::join::join;
use crate::overlay::{Sorted, sort, stretches};
use crate::prepared::Prepared;
use crate::ring::{Region, Ring};
use crate::vec2::Vec2;
use std::collections::BTreeMap;

/// What to keep.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BooleanOp {
    /// What lies in either group.
    Union,
    /// What lies in both.
    Intersection,
    /// What lies in the first and not in the second.
    Difference,
}

/// Greatest distance between arc and chord while sorting, mm; tried from coarse to fine.
const CHORDS: [f64; 4] = [0.05, 2e-3, 5e-5, 2e-6];
/// Largest coordinate, mm, that the grid takes without loss.
pub(crate) const LARGEST: f64 = 1e6;
/// How far off a stretch its two sides are probed, in snapping distances. Larger: real features nearer
/// than that escape the check; smaller: the shared outlines themselves blur the answer.
const PROBE: f64 = 10.0;

/// Union of two regions.
pub fn union(a: &Region, b: &Region) -> Result<Vec<Region>, GeomError> {
    combine(BooleanOp::Union, core::slice::from_ref(a), core::slice::from_ref(b))
}

/// What two regions share.
///
/// ```
/// use turnleaf_geom::{Region, Ring, boolean::intersection, vec2::v};
/// // Two unit discs, each through the other's centre, share 2π/3 − √3/2 (the lens of Euclid's first figure).
/// let disc = |x: f64| Region::from(Ring::circle(v(x, 0.0), 1.0));
/// let lens = intersection(&disc(0.0), &disc(1.0))?;
/// let due = 2.0 * std::f64::consts::PI / 3.0 - 3f64.sqrt() / 2.0;
/// assert!((lens[0].area() - due).abs() < 1e-6);
/// # Ok::<(), turnleaf_geom::GeomError>(())
/// ```
pub fn intersection(a: &Region, b: &Region) -> Result<Vec<Region>, GeomError> {
    combine(BooleanOp::Intersection, core::slice::from_ref(a), core::slice::from_ref(b))
}

/// The first region less the second.
pub fn difference(a: &Region, b: &Region) -> Result<Vec<Region>, GeomError> {
    combine(BooleanOp::Difference, core::slice::from_ref(a), core::slice::from_ref(b))
}

/// Union of any number of regions, overlapping, touching or apart.
pub fn union_all(regions: &[Region]) -> Result<Vec<Region>, GeomError> {
    combine(BooleanOp::Union, regions, &[])
}

/// Combines two groups of regions; within a group regions may overlap and count as their union.
pub fn combine(op: BooleanOp, first: &[Region], second: &[Region]) -> Result<Vec<Region>, GeomError> {
    for ring in first.iter().chain(second).flat_map(|r| r.rings()) {
        if let Err(e) = check_ring(ring)
            && !(e.trouble == Trouble::CrossesItself && only_touches_itself(ring))
        {
            return Err(e);
        }
        if ring.vertices.iter().any(|q| q.p.x.abs() > LARGEST || q.p.y.abs() > LARGEST) {
            return Err(GeomError::new(
                Trouble::NotFinite,
                format!("An outline reaches beyond {LARGEST} mm, too far to combine exactly."),
            ));
        }
    }
    let judge = Judge {
        op,
        first: first.iter().map(Prepared::new).collect(),
        second: second.iter().map(Prepared::new).collect(),
    };
    for snap in SNAPS {
        let arrangement = Arrangement::new(first, second, snap);
        for chord in CHORDS {
            if let Some(result) = attempt(&arrangement, &judge, chord) {
                return Ok(result);
            }
        }
    }
    Err(GeomError::new(
        Trouble::Unreliable,
        "The outlines run so close to each other that their combination cannot be told for certain.",
    ))
}

/// Whether a ring that meets itself does so without crossing: then its solid is on one side all along.
fn only_touches_itself(ring: &Ring) -> bool {
    let region = Region::from(ring.clone());
    let judge = Judge { op: BooleanOp::Union, first: vec![Prepared::new(&region)], second: Vec::new() };
    let a = Arrangement::new(&[region], &[], SNAPS[0]);
    a.cuts.iter().all(|c| {
        c.stretches().all(|(from, to)| {
            let e = c.part(a.points.at(from), a.points.at(to));
            judge.sides((from, to, &e), &a).is_none_or(|s| s == (true, false))
        })
    })
}

/// Areas of a union, an intersection and the operands, and how well they add up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AreaCheck {
    /// Area in either, mm².
    pub union: f64,
    /// Area in both, mm².
    pub intersection: f64,
    /// Area of the first less the second, mm².
    pub difference: f64,
    /// Largest failure of |A∪B| + |A∩B| = |A| + |B| and |A−B| + |A∩B| = |A|, mm².
    pub residual: f64,
}

/// Combines two regions all three ways and reports how well the areas add up: an outside view on the
/// result that shares nothing with how it was sorted.
pub fn polygon_area_check(a: &Region, b: &Region) -> Result<AreaCheck, GeomError> {
    let sum = |r: Vec<Region>| r.iter().map(Region::area).sum::<f64>();
    let union = sum(union(a, b)?);
    let intersection = sum(intersection(a, b)?);
    let difference = sum(difference(a, b)?);
    let residual =
        (union + intersection - a.area() - b.area()).abs().max((difference + intersection - a.area()).abs());
    Ok(AreaCheck { union, intersection, difference, residual })
}

/// Decides exactly whether a point belongs to the result.
struct Judge {
    op: BooleanOp,
    first: Vec<Prepared>,
    second: Vec<Prepared>,
}

impl Judge {
    fn holds(&self, p: Vec2) -> bool {
        let a = self.first.iter().any(|r| r.contains(p));
        let mut b = self.second.iter().map(|r| r.contains(p));
        match self.op {
            BooleanOp::Union => a || b.any(|x| x),
            BooleanOp::Intersection => a && b.any(|x| x),
            BooleanOp::Difference => a && !b.any(|x| x),
        }
    }
    /// Whether the result lies left and right of the stretch `e` from one point number to another;
    /// `None` where other outlines run too near to probe, unless they share the stretch.
    fn sides(&self, (from, to, e): (u32, u32, &Edge), all: &Arrangement) -> Option<(bool, bool)> {
        let probe = PROBE * all.snap;
        if e.length() < 20.0 * probe {
            return None;
        }
        let m = e.at(0.5);
        for c in &all.cuts {
            let d2 = c.edge.nearest(m).d2;
            if d2 > 9.0 * probe * probe {
                continue;
            }
            let shared = c.stretches().any(|s| s == (from, to) || s == (to, from));
            if !shared || d2 > all.snap * all.snap {
                return None;
            }
        }
        let n = e.tangent(m).perp() * probe;
        Some((self.holds(m + n), self.holds(m - n)))
    }
}

fn attempt(a: &Arrangement, judge: &Judge, chord: f64) -> Option<Vec<Region>> {
    let corners = a.points.len();
    let Sorted { shapes, points } = sort(a, judge.op, chord)?;
    let mut out = Vec::new();
    let mut seen: BTreeMap<(u32, u32), Vec<Vec2>> = BTreeMap::new();
    for shape in shapes {
        let mut rings = Vec::new();
        for (i, links) in shape.into_iter().enumerate() {
            let edges = stretches(&links, a, &points, corners)?;
            let parts: Vec<Edge> = edges.iter().map(|x| x.2).collect();
            let ring = join(&parts);
            let around: f64 = parts.iter().map(Edge::length).sum();
            let least = (2.0 * a.snap * around).max(NO_AREA);
            let sliver = ring.vertices.len() < 2 || ring.area().abs() <= least;
            for (from, to, e) in edges {
                if !sliver && judge.sides((from, to, &e), a).is_some_and(|s| s != (true, false)) {
                    return None;
                }
                seen.entry((from, to)).or_default().push(e.at(0.5));
            }
            if sliver {
                // As an outline it takes its openings along.
                if i == 0 {
                    break;
                }
                continue;
            }
            rings.push(ring);
        }
        let mut rings = rings.into_iter();
        if let Some(outer) = rings.next() {
            if outer.area() < 0.0 {
                return None;
            }
            out.push(Region { outer, holes: rings.collect() });
        }
    }
    // Nothing that belongs to the outline may be missing.
    for c in &a.cuts {
        for (from, to) in c.stretches() {
            let e = c.part(a.points.at(from), a.points.at(to));
            let key = match judge.sides((from, to, &e), a) {
                Some((true, false)) => (from, to),
                Some((false, true)) => (to, from),
                _ => continue,
            };
            let m = e.at(0.5);
            if !seen.get(&key).is_some_and(|s| s.iter().any(|p| p.dist(m) < 10.0 * a.snap)) {
                return None;
            }
        }
    }
    Some(out)
}
