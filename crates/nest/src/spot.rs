//! The best place for one more part on a sheet.
//!
//! In: parts in their places, a variant, what counts as better. Out: the place, exact to the slack.
//! Always true: the place lies on the sheet and outside every no-fit area; every place at which the part touches
//! is looked at, so a linear goal is met exactly: along borders of no-fit areas and of the sheet.

use crate::nofit::{Nofit, gaps};
use crate::shapes::Shapes;
use turnleaf_geom::{Vec2, vec2::v};

/// The usable part of a sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bin {
    /// Lower left corner.
    pub lo: Vec2,
    /// Upper right corner.
    pub hi: Vec2,
}

/// A variant in its place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Placed {
    /// Which variant.
    pub variant: usize,
    /// Where its origin lies.
    pub at: Vec2,
}

/// Scratch memory.
#[derive(Debug, Default)]
pub struct Scratch {
    stretches: Vec<(f64, Vec2, Vec2)>,
    blocked: Vec<(f64, f64)>,
}

/// Places of a variant's origin that keep it on the sheet: corners of a box. None when it is too large.
pub fn room(shapes: &Shapes, bin: &Bin, variant: usize) -> Option<(Vec2, Vec2)> {
    let one = &shapes.variants[variant];
    let (lo, hi) = (bin.lo - one.lo, bin.hi - one.hi);
    // Sheets that fit to the last digit are sheets that fit.
    let hair = 1e-9 * (1.0 + bin.hi.x.abs() + bin.hi.y.abs());
    let hi = v(
        if hi.x < lo.x && hi.x > lo.x - hair { lo.x } else { hi.x },
        if hi.y < lo.y && hi.y > lo.y - hair { lo.y } else { hi.y },
    );
    (lo.x <= hi.x && lo.y <= hi.y).then_some((lo, hi))
}

/// The place with the smallest goal·(upper right corner) below `bound`, and that value.
pub fn best(
    shapes: &Shapes,
    bin: &Bin,
    placed: &[Placed],
    variant: usize,
    goal: Vec2,
    bound: f64,
    scratch: &mut Scratch,
) -> Option<(f64, Vec2)> {
    let (lo, hi) = room(shapes, bin, variant)?;
    let base = goal.dot(shapes.variants[variant].hi);
    let mut bound = bound;
    let mut found = None;
    // Without anything in the way, and as the lower bound of everything.
    if base + goal.dot(lo) >= bound {
        return None;
    }
    let Scratch { stretches, blocked } = scratch;
    stretches.clear();
    let corners = [lo, v(hi.x, lo.y), hi, v(lo.x, hi.y)];
    for k in 0..4 {
        let (a, b) = (corners[k], corners[(k + 1) % 4]);
        stretches.push((goal.dot(a).min(goal.dot(b)), a, b));
    }
    // Areas that reach into the room, and where they lie.
    let mut near: Vec<(&Nofit, Vec2)> = Vec::with_capacity(placed.len());
    for one in placed {
        let area = shapes.nofit(one.variant, variant);
        let (l, h) = (area.lo + one.at, area.hi + one.at);
        if l.x > hi.x || h.x < lo.x || l.y > hi.y || h.y < lo.y {
            continue;
        }
        near.push((area, one.at));
        for &(a, b) in &area.borders {
            if let Some((a, b)) = clip(a + one.at, b + one.at, lo, hi) {
                let least = goal.dot(a).min(goal.dot(b));
                if base + least < bound {
                    stretches.push((least, a, b));
                }
            }
        }
    }
    stretches.sort_unstable_by(|p, q| p.0.total_cmp(&q.0));
    // The area that hid a stretch often hides the next one too.
    let mut last = 0;
    for &(least, a, b) in stretches.iter() {
        if base + least >= bound {
            break;
        }
        blocked.clear();
        let d = b - a;
        let order = (last..near.len()).chain(0..last);
        let hides = |&i: &usize| near[i].0.block(a - near[i].1, d, shapes.slack, blocked);
        if let Some(i) = order.into_iter().find(hides) {
            last = i;
            continue;
        }
        gaps(blocked, |from, to| {
            for t in [from, to] {
                let p = a + d * t;
                let value = base + goal.dot(p);
                if value < bound {
                    bound = value;
                    found = Some((value, v(p.x.clamp(lo.x, hi.x), p.y.clamp(lo.y, hi.y))));
                }
            }
        });
    }
    found
}

/// The stretch of a segment inside a box.
fn clip(a: Vec2, b: Vec2, lo: Vec2, hi: Vec2) -> Option<(Vec2, Vec2)> {
    let d = b - a;
    let (mut from, mut to) = (0.0f64, 1.0f64);
    for (p, q, l, h) in [(a.x, d.x, lo.x, hi.x), (a.y, d.y, lo.y, hi.y)] {
        if q == 0.0 {
            if p < l || p > h {
                return None;
            }
            continue;
        }
        let (s, t) = ((l - p) / q, (h - p) / q);
        from = from.max(s.min(t));
        to = to.min(s.max(t));
    }
    (from <= to).then(|| (a + d * from, a + d * to))
}
