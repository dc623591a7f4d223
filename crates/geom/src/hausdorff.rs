//! How far apart two outlines are at the worst place (Hausdorff distance), with a proven bound.
//!
//! In: two regions. Out: the largest distance from a point of either outline to the other outline, or how far
//! one solid reaches beyond the other, as a value that is attained and a bound that is not exceeded. Always true: attained ≤ true ≤ bound, and
//! the two differ by at most the tolerance asked for, unless the work limit was hit (then by what they say).
//!
//! How: branch and bound over stretches of outline. The distance to one fixed edge along a stretch is
//! largest at the stretch's ends or where a normal of the edge's curve meets it, so a stretch that runs
//! along its counterpart is settled at once.

use crate::arrange::arc_bulge;
use crate::check::edges_of;
use crate::edge::Edge;
use crate::prepared::Prepared;
use crate::ring::{Region, Ring, Vertex};
use crate::trig;
use crate::vec2::Vec2;

/// The worst disagreement of two outlines.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hausdorff {
    /// A distance that is attained, mm.
    pub distance: f64,
    /// No point of either outline is further from the other than this, mm.
    pub at_most: f64,
    /// Where it is attained: on one outline.
    pub at: Vec2,
    /// The nearest point there of the other outline.
    pub nearest: Vec2,
}

/// Most stretches looked at for one direction. More only matters for outlines of thousands of edges.
const WORK: usize = 200_000;

/// Hausdorff distance of the outlines (holes included) of two regions, within `tolerance` mm.
/// Infinite when one of them has no outline and the other has.
pub fn hausdorff(a: &Region, b: &Region, tolerance: f64) -> Hausdorff {
    let all = |r: &Region| r.rings().flat_map(edges_of).collect::<Vec<Edge>>();
    let (a, b) = (all(a), all(b));
    if a.is_empty() || b.is_empty() {
        let d = if a.is_empty() && b.is_empty() { 0.0 } else { f64::INFINITY };
        return Hausdorff { distance: d, at_most: d, ..NONE };
    }
    let there = directed(&a, &b, NONE, tolerance.max(1e-12));
    directed(&b, &a, there, tolerance.max(1e-12))
}

/// How far the solid of `a` reaches beyond the solid of `b`, within `tolerance` mm: the largest distance from
/// `b` of a point of `a`'s outline that lies outside `b`, or to `a`'s outline from a point of `b`'s outline that
/// lies inside `a`. It is 0 exactly when `b` contains `a`. Infinite when only `b` has no outline.
pub fn beyond(a: &Region, b: &Region, tolerance: f64) -> Hausdorff {
    let tolerance = tolerance.max(1e-12);
    let all = |r: &Region| r.rings().flat_map(edges_of).collect::<Vec<Edge>>();
    let (rim, other) = (all(a), all(b));
    if rim.is_empty() {
        return NONE;
    }
    if other.is_empty() {
        return Hausdorff { distance: f64::INFINITY, at_most: f64::INFINITY, ..NONE };
    }
    let (solid_a, solid_b) = (Prepared::new(a), Prepared::new(b));
    let there = directed_where(&rim, &other, &|p| !solid_b.contains(p), NONE, tolerance);
    directed_where(&other, &rim, &|p| solid_a.contains(p), there, tolerance)
}

/// How deep the outline of `ring` lies inside the solid of `b` at the deepest place, within `tolerance` mm; 0 when
/// no point of it does.
pub fn depth_in(ring: &Ring, b: &Region, tolerance: f64) -> Hausdorff {
    let (rim, other): (Vec<Edge>, Vec<Edge>) = (edges_of(ring), b.rings().flat_map(edges_of).collect());
    if rim.is_empty() || other.is_empty() {
        return NONE;
    }
    let solid = Prepared::new(b);
    directed_where(&rim, &other, &|p| solid.contains(p), NONE, tolerance.max(1e-12))
}

const NONE: Hausdorff = Hausdorff { distance: 0.0, at_most: 0.0, at: Vec2::ZERO, nearest: Vec2::ZERO };

/// Improves `best` by the distances from `from` to `to`.
fn directed(from: &[Edge], to: &[Edge], best: Hausdorff, tolerance: f64) -> Hausdorff {
    directed_where(from, to, &|_| true, best, tolerance)
}

/// The same for the points of `from` on one side of the outline `to`.
fn directed_where(
    from: &[Edge],
    to: &[Edge],
    side: &dyn Fn(Vec2) -> bool,
    best: Hausdorff,
    tolerance: f64,
) -> Hausdorff {
    let mut best = best;
    let mut work = 0;
    let to = quarters(to);
    let mut todo = quarters(from);
    while let Some(e) = todo.pop() {
        work += 1;
        let m = e.at(0.5);
        let mut near = to[0].nearest(m);
        let mut bound = f64::INFINITY;
        for o in &to {
            let n = o.nearest(m);
            // An edge further from the middle than another may still bound the ends better, rarely.
            if n.d2 <= near.d2 {
                near = n;
                bound = bound.min(worst(&e, o));
            }
        }
        let d = near.d2.sqrt();
        // No distance changes faster than one moves along the stretch, and none is larger than that to
        // any one point of the other outline.
        bound = bound.min(d + e.length() / 2.0).min(furthest(&e, near.q));
        // Only what could improve is asked for its side; a stretch too short to reach the other outline is on one.
        let counts = bound <= best.distance || side(m);
        if !counts && d >= e.length() / 2.0 {
            continue;
        }
        if counts && d > best.distance {
            best = Hausdorff { distance: d, at: m, nearest: near.q, ..best };
        }
        if bound <= best.at_most.max(best.distance + tolerance) || work > WORK {
            best.at_most = best.at_most.max(bound);
            continue;
        }
        todo.push(part(&e, e.a, m));
        todo.push(part(&e, m, e.b));
    }
    best.at_most = best.at_most.max(best.distance);
    best
}

/// The edges with arcs cut into at most about a quarter turn each, so that what holds at both ends and
/// the middle of a stretch about directions holds all along it.
fn quarters(edges: &[Edge]) -> Vec<Edge> {
    let mut out = Vec::with_capacity(edges.len());
    for e in edges {
        let parts = (4.0 * trig::atan(e.bulge().abs()) / 1.5).ceil().max(1.0) as usize;
        let mut a = e.a;
        for i in 1..=parts {
            let b = if i == parts { e.b } else { e.at(i as f64 / parts as f64) };
            out.push(part(e, a, b));
            a = b;
        }
    }
    out
}

fn part(e: &Edge, a: Vec2, b: Vec2) -> Edge {
    let bulge = e.round.map_or(0.0, |k| arc_bulge(k.c, a, b, k.bulge > 0.0));
    Edge::new(Vertex { p: a, bulge }, b)
}

/// The points of an edge in a direction from its centre and against it, as far as it reaches there.
fn tops(e: &Edge, dir: Vec2) -> impl Iterator<Item = Vec2> {
    let round = e.round;
    [dir, -dir].into_iter().filter_map(move |u| {
        let k = round?;
        if u.dot(k.mid) >= k.cos_half { Some(k.c + u * k.r) } else { None }
    })
}

/// Largest distance from a point of `e` to the point `q`.
fn furthest(e: &Edge, q: Vec2) -> f64 {
    let ends = e.a.dist(q).max(e.b.dist(q));
    let Some(k) = e.round else { return ends };
    tops(e, (k.c - q).unit()).map(|p| p.dist(q)).fold(ends, f64::max)
}

/// Largest distance from a point of `e` to the edge `o`, or more: infinite where no closed form applies.
fn worst(e: &Edge, o: &Edge) -> f64 {
    let ends = [e.a, e.b];
    let Some(m) = o.round else {
        let far = ends.iter().map(|&p| o.nearest(p).d2.sqrt()).fold(0.0, f64::max);
        // The distance to a straight edge is convex along a line.
        if e.round.is_none() {
            return far;
        }
        // Along an arc that keeps beside the edge, it is largest at an end or straight above the edge.
        let d = o.b - o.a;
        let beside = |p: Vec2| (0.0..=d.norm2()).contains(&(p - o.a).dot(d));
        let (along, across) = (d.unit(), d.unit().perp());
        if !ends.into_iter().chain(tops(e, along)).all(beside) {
            return f64::INFINITY;
        }
        return tops(e, across).map(|p| ((p - o.a).dot(across)).abs()).fold(far, f64::max);
    };
    let within = |p: Vec2| (p - m.c).dot(m.mid) >= m.cos_half * (p - m.c).norm();
    if ![e.a, e.at(0.5), e.b].into_iter().all(within) {
        return f64::INFINITY;
    }
    // The distance from the other centre is extreme at the ends, at its foot or on the line of centres.
    let off = |p: Vec2| ((p - m.c).norm() - m.r).abs();
    let far = off(e.a).max(off(e.b));
    match e.round {
        None => {
            let d = e.b - e.a;
            let t = ((m.c - e.a).dot(d) / d.norm2()).clamp(0.0, 1.0);
            far.max(off(e.a + d * t))
        }
        Some(k) => tops(e, (k.c - m.c).unit()).map(off).fold(far, f64::max),
    }
}
