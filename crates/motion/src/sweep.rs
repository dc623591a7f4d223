//! Exact clearance of a straight slide past a body that does not move in plan.
//!
//! In: the slide's edges at one end of its travel, the way it goes, the other body's edges. Out: the smallest
//! distance over the whole way, or None when the slide would touch.
//! Always true: nothing is sampled. The area an outline sweeps along a straight way is bounded by the outline
//! at both ends, by the ways of its corners, and by the ways of the points where an arc runs along the way;
//! the smallest distance to a body outside that area is the smallest distance to one of these.

use turnleaf_geom::edge::Edge;
use turnleaf_geom::{Pose2, Prepared, Vec2};

/// The nearest approach of a sweep.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Nearest {
    /// Distance, mm.
    pub distance: f64,
    /// How far along the way, mm.
    pub along: f64,
    /// The point on the slide.
    pub place: Vec2,
}

/// A curve that bounds the sweep, and where along the way it belongs.
struct Bound {
    edge: Edge,
    /// Fixed distance along the way; None for the way of a point, which starts at its first end.
    along: Option<f64>,
    low: Vec2,
    high: Vec2,
}

fn bound(edge: Edge, along: Option<f64>) -> Bound {
    let (low, high) = edge.bounds();
    Bound { edge, along, low, high }
}

/// Squared distance between two boxes.
fn apart2(a: &Bound, b: &Bound) -> f64 {
    let gap = |l0: f64, h0: f64, l1: f64, h1: f64| (l1 - h0).max(l0 - h1).max(0.0);
    let dx = gap(a.low.x, a.high.x, b.low.x, b.high.x);
    let dy = gap(a.low.y, a.high.y, b.low.y, b.high.y);
    dx * dx + dy * dy
}

/// The slide touches the other body on its way, or begins inside it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Touches;

/// Smallest distance, if below `limit`, of `slide` (posed at the start of its way, which runs from `from` to
/// `to` mm along the unit vector `way`) to `still`.
pub fn sweep(
    slide: &Prepared,
    pose: &Pose2,
    way: Vec2,
    (from, to): (f64, f64),
    still: &Prepared,
    still_pose: &Pose2,
    limit: f64,
) -> Result<Option<Nearest>, Touches> {
    let shifted = |by: f64| {
        let mut p = *pose;
        p.offset = p.offset + way * by;
        p
    };
    let (start, end) = (shifted(from), shifted(to));
    if still.clearance_within(still_pose, slide, &start, 1e-6).is_some() {
        return Err(Touches);
    }
    let span = way * (to - from);
    let mut bounds: Vec<Bound> = Vec::with_capacity(4 * slide.edges().len());
    let path = |p: Vec2| bound(Edge { a: p, b: p + span, round: None }, None);
    for e in slide.edges() {
        let at_start = e.moved(&start);
        bounds.push(bound(at_start, Some(from)));
        bounds.push(bound(e.moved(&end), Some(to)));
        bounds.push(path(at_start.a));
        if let Some(round) = at_start.round {
            let across = way.perp() * round.r;
            for p in [round.c + across, round.c - across] {
                // On the arc when the nearest point of the arc is the point itself.
                if at_start.nearest(p).d2 < 1e-18 {
                    bounds.push(path(p));
                }
            }
        }
    }
    let others: Vec<Bound> = still.edges().iter().map(|e| bound(e.moved(still_pose), None)).collect();
    let mut best2 = limit * limit;
    let mut found: Option<Nearest> = None;
    for o in &others {
        for b in &bounds {
            if apart2(b, o) >= best2 {
                continue;
            }
            let n = b.edge.closest(&o.edge);
            if n.d2 < best2 {
                best2 = n.d2;
                let along = b.along.unwrap_or_else(|| from + (n.p - b.edge.a).dot(way));
                found = Some(Nearest { distance: n.d2.sqrt(), along, place: n.p });
            }
        }
    }
    match found {
        Some(n) if n.distance < 1e-6 => Err(Touches),
        other => Ok(other),
    }
}
