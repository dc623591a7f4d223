//! Outlines moved sideways with sharp (mitred) corners, arcs kept as arcs.
//!
//! In: a ring or region and a distance. Out: the exact moved outline, or a sentence saying which edge
//! vanishes. Always true: lines move parallel, arcs keep their centre, and each corner is where its two
//! moved edges (endless line or whole circle) meet again; corner and edge counts do not change.
//! Every result is checked: it meets itself nowhere and keeps the asked distance from the original.
//!
//! Sideways is to the left of travel: into the solid for a counter-clockwise outline and for a
//! clockwise hole alike.

use crate::check::{check_region, check_ring, edges_of};
use crate::edge::{Edge, circle_circle, circle_line};
use crate::error::{GeomError, Trouble};
use crate::ring::{Region, Ring, Vertex};
use crate::trig;
use crate::vec2::Vec2;
use core::f64::consts::PI;

/// Sine of the angle between two edges below which their corner counts as smooth. Larger: a shallow
/// corner loses its mitre; smaller: a tangent join meets itself at a wildly uncertain point.
const SMOOTH: f64 = 1e-9;
/// How far (mm) the moved outline may come closer to the original than asked, from rounding alone.
const SLACK: f64 = 1e-7;

/// A ring shrunk by `d` mm on all sides (grown for negative `d`), whichever way it runs.
pub fn inset(ring: &Ring, d: f64) -> Result<Ring, GeomError> {
    let d = if ring.area() < 0.0 { -d } else { d };
    shift_left(ring, d)
}

/// A ring grown by `d` mm on all sides with mitred corners, whichever way it runs.
pub fn outset(ring: &Ring, d: f64) -> Result<Ring, GeomError> {
    inset(ring, -d)
}

/// A region whose solid is shrunk by `d` mm everywhere: the outline moves in, holes grow.
/// Negative `d` grows the solid. Orientation is mended: outer counter-clockwise, holes clockwise.
pub fn inset_region(region: &Region, d: f64) -> Result<Region, GeomError> {
    let facing = |r: &Ring, left: bool| if (r.area() > 0.0) == left { r.clone() } else { r.reversed() };
    let out = Region {
        outer: shift_left(&facing(&region.outer, true), d)?,
        holes: region.holes.iter().map(|h| shift_left(&facing(h, false), d)).collect::<Result<_, _>>()?,
    };
    check_region(&out).map_err(|e| {
        GeomError::new(
            Trouble::Collapses,
            format!("Moved by {d} mm, the outline and its openings run into each other. {}", e.sentence),
        )
    })?;
    Ok(out)
}

/// The ring moved by `d` mm to the left of its travel, all edges alike.
pub fn shift_left(ring: &Ring, d: f64) -> Result<Ring, GeomError> {
    let out = shift_edges(ring, &vec![d; ring.vertices.len()])?;
    // Edges that keep their direction can still come too near a part of the outline further along.
    let (old, new) = (edges_of(ring), edges_of(&out));
    let limit = (d.abs() - SLACK).max(0.0);
    for (i, e) in new.iter().enumerate() {
        if old.iter().any(|o| e.closest(o).d2 < limit * limit) {
            return Err(GeomError::at(
                i,
                Trouble::Collapses,
                format!(
                    "Moved by {d} mm, edge {} comes nearer than that to another part of the outline.",
                    i + 1
                ),
            ));
        }
    }
    Ok(out)
}

/// The ring with edge i moved by `d[i]` mm to the left of its travel (`Ring::segs` order).
/// Where two edges join smoothly they must move alike.
pub fn shift_edges(ring: &Ring, d: &[f64]) -> Result<Ring, GeomError> {
    check_ring(ring)?;
    let n = ring.vertices.len();
    if d.len() != n || d.iter().any(|x| !x.is_finite()) {
        return Err(GeomError::new(
            Trouble::NotFinite,
            format!("An outline of {n} edges needs {n} finite distances to move by."),
        ));
    }
    let edges = edges_of(ring);
    if let Some(i) = edges.iter().position(|e| e.a == e.b) {
        return Err(GeomError::at(
            i,
            Trouble::Empty,
            format!("Edge {} of the outline has no length.", i + 1),
        ));
    }
    for (i, e) in edges.iter().enumerate() {
        if radius(e, d[i]).is_some_and(|r| r <= 0.0) {
            return Err(vanishes(i, d[i]));
        }
    }
    let corners =
        (0..n).map(|i| corner(&edges, d, (i + n - 1) % n, i)).collect::<Result<Vec<Vec2>, GeomError>>()?;
    let mut vertices = Vec::with_capacity(n);
    for i in 0..n {
        let (a, b) = (corners[i], corners[(i + 1) % n]);
        let bulge = moved_bulge(&edges[i], a, b).ok_or_else(|| vanishes(i, d[i]))?;
        vertices.push(Vertex { p: a, bulge });
    }
    let out = Ring { vertices };
    check_ring(&out).map_err(|e| GeomError {
        trouble: Trouble::Collapses,
        sentence: format!("The moved outline does not hold together. {}", e.sentence),
        edge: e.edge,
    })?;
    if (out.area() > 0.0) != (ring.area() > 0.0) {
        return Err(GeomError::new(Trouble::Collapses, "The outline turns inside out when moved so far."));
    }
    Ok(out)
}

fn vanishes(i: usize, d: f64) -> GeomError {
    GeomError::at(i, Trouble::Collapses, format!("Edge {} vanishes when it is moved by {d} mm.", i + 1))
}

/// Radius of a moved arc; `None` for a straight edge.
fn radius(e: &Edge, d: f64) -> Option<f64> {
    e.round.map(|k| k.r - d * k.bulge.signum())
}

/// Where the moved edges `i` and `j`, neighbours at the start of `j`, meet.
fn corner(edges: &[Edge], d: &[f64], i: usize, j: usize) -> Result<Vec2, GeomError> {
    let (e, o) = (&edges[i], &edges[j]);
    let p = o.a;
    let (t, u) = (e.tangent(p), o.tangent(p));
    let turn = t.cross(u);
    if turn.abs() < SMOOTH {
        if t.dot(u) < 0.0 {
            return Err(GeomError::at(
                j,
                Trouble::Collapses,
                format!("At corner {} the outline folds back on itself; it has no mitre.", j + 1),
            ));
        }
        if (d[i] - d[j]).abs() > SMOOTH {
            return Err(GeomError::at(
                j,
                Trouble::Collapses,
                format!("Edges {} and {} join smoothly and must move by the same distance.", i + 1, j + 1),
            ));
        }
        return Ok(p + (t + u).unit().perp() * d[j]);
    }
    // A point and direction on each moved line.
    let (a, b) = (p + t.perp() * d[i], p + u.perp() * d[j]);
    let pts = match (e.round.zip(radius(e, d[i])), o.round.zip(radius(o, d[j]))) {
        (None, None) => [Some(a + t * ((b - a).cross(u) / turn)), None],
        (None, Some((k, r))) => circle_line(k.c, r, a, t),
        (Some((k, r)), None) => circle_line(k.c, r, b, u),
        (Some((k, r)), Some((m, s))) => circle_circle(k.c, r, m.c, s),
    };
    // Of two meetings, the one where the edges turn the same way as at the original corner.
    let dir = |x: &Edge, straight: Vec2, q: Vec2| if x.round.is_some() { x.tangent(q) } else { straight };
    pts.into_iter().flatten().find(|&q| dir(e, t, q).cross(dir(o, u, q)) * turn > 0.0).ok_or_else(|| {
        GeomError::at(j, Trouble::Collapses, format!("At corner {} the moved edges no longer meet.", j + 1))
    })
}

/// Bulge of an edge after its ends moved to `a` and `b`; `None` when nothing of it is left.
fn moved_bulge(e: &Edge, a: Vec2, b: Vec2) -> Option<f64> {
    let Some(k) = e.round else {
        return if (b - a).dot(e.b - e.a) > 0.0 { Some(0.0) } else { None };
    };
    let angle = |from: Vec2, to: Vec2| trig::atan2(from.cross(to), from.dot(to));
    let sweep = 4.0 * trig::atan(k.bulge) + angle(e.b - k.c, b - k.c) - angle(e.a - k.c, a - k.c);
    if sweep * k.bulge <= 0.0 || sweep.abs() >= 2.0 * PI {
        return None;
    }
    Some(trig::tan(sweep / 4.0))
}
