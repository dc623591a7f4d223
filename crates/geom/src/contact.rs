//! Do two bodies whose outlines meet only touch, or do they penetrate?
//!
//! In: two prepared bodies and the pose of the first in the frame of the second. Out: a point of
//! both, if there is one deeper than the touching tolerance. Always true: shared edges with the solids
//! on opposite sides are a touch; shared edges with the solids on the same side are a penetration.

use crate::distance::TOUCH;
use crate::edge::Edge;
use crate::prepared::Prepared;
use crate::vec2::{Pose2, Vec2};

/// A point of both bodies (frame of the second), or `None` when they touch at most.
pub(crate) fn deep_point(first: &Prepared, rel: &Pose2, second: &Prepared) -> Option<Vec2> {
    // Cheap and usually enough: a corner of one inside the other.
    for e in first.edges() {
        let p = rel.apply(e.a);
        if deep(p, second) {
            return Some(p);
        }
    }
    let back = rel.inverse();
    for e in second.edges() {
        if deep(back.apply(e.a), first) {
            return Some(e.a);
        }
    }
    // Otherwise cut every edge of one where it meets the other, and look at each stretch.
    if let Some(p) = stretches(first, rel, second) {
        return Some(p);
    }
    stretches(second, &back, first).map(|p| rel.apply(p))
}

/// Inside, and further from the outline than the touching tolerance.
fn deep(p: Vec2, body: &Prepared) -> bool {
    body.contains(p) && body.nearest(p).is_some_and(|(n, _)| n.d2 > TOUCH * TOUCH)
}

/// Stretches of `mover`'s outline, placed by `rel` in the frame of `body`, that lie inside it, or along
/// its outline with the solid on the same side. The point comes back in the frame of `body`.
fn stretches(mover: &Prepared, rel: &Pose2, body: &Prepared) -> Option<Vec2> {
    let mut cuts: Vec<f64> = Vec::new();
    for e in mover.edges() {
        let e = e.moved(rel);
        let (lo, hi) = e.bounds();
        cuts.clear();
        cuts.extend([0.0, 1.0]);
        for o in body.edges() {
            let (a, b) = o.bounds();
            if a.x > hi.x + TOUCH || b.x < lo.x - TOUCH || a.y > hi.y + TOUCH || b.y < lo.y - TOUCH {
                continue;
            }
            for p in e.meets(o).into_iter().flatten() {
                cuts.push(e.fraction(p));
            }
            let near = e.nearest(o.a);
            if near.d2 <= 16.0 * TOUCH * TOUCH {
                cuts.push(e.fraction(near.q));
            }
        }
        cuts.sort_by(f64::total_cmp);
        for w in cuts.windows(2) {
            let (t, u) = (w[0].clamp(0.0, 1.0), w[1].clamp(0.0, 1.0));
            if let Some(p) = judge(&e, t, u, body) {
                return Some(p);
            }
        }
    }
    None
}

/// Looks at one stretch of an edge between two cuts.
fn judge(e: &Edge, t: f64, u: f64, body: &Prepared) -> Option<Vec2> {
    // Stretches of a few touching tolerances cannot be told from their end points.
    let long = (u - t) * e.length() > 1e3 * TOUCH;
    let mut along = true;
    for k in [0.5, 0.25, 0.75] {
        let p = e.at(t + (u - t) * k);
        let (near, i) = body.nearest(p)?;
        if near.d2 > TOUCH * TOUCH {
            if body.contains(p) {
                return Some(p);
            }
            along = false;
        } else if e.tangent(p).dot(body.edges()[i].tangent(near.q)) < 0.0 {
            along = false;
        }
    }
    if long && along { Some(e.at((t + u) / 2.0)) } else { None }
}
