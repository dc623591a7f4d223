//! The side walls of a prism, seen along a given line of sight.
//!
//! In: a region and the direction of sight in the region's plane. Out: [`Wall`]s, cut so finely that
//! each wall is flat or part of a round that turns neither to nor from the viewer along its course.
//!
//! Always true: coordinates here are turned so that the viewer is towards +ξ; a wall that runs
//! towards +η faces the viewer (outer rings run counter-clockwise, holes clockwise).

use crate::flat::{Bow, Flat};
use core::f64::consts::PI;
use turnleaf_geom::{Arc, Region, Ring, Seg, Vec2, trig, vec2::v};

/// Walls shorter than this are left out, mm. Larger would lose real edges; smaller gives useless slivers.
const SHORT: f64 = 1e-6;
/// Two walls that meet at less than this angle pass smoothly into each other, radians (about 0.06°).
const SMOOTH: f64 = 1e-3;
/// A wall that rises less than this in η is seen edge-on, mm.
const EDGE_ON: f64 = 1e-7;

/// One side wall in plan.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Wall {
    pub a: Vec2,
    pub b: Vec2,
    /// The arc, for a round wall. Sweeps 180° at the most.
    pub arc: Option<Arc>,
    /// For a round wall: whether it is the half of its circle nearer the viewer.
    pub nearer: bool,
    /// +1 faces the viewer, −1 faces away, 0 seen edge-on.
    pub facing: i8,
    /// Which wall comes before it round the ring.
    pub before: usize,
    /// How it meets the wall before it.
    pub joint: Joint,
}

/// How two walls meet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Joint {
    /// At an angle.
    Corner,
    /// Smoothly.
    Smooth,
}

/// Turns plan coordinates so that the direction of sight becomes +ξ.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Turn {
    pub cos: f64,
    pub sin: f64,
}

impl Turn {
    /// For the direction of sight `toward` in plan; any turn will do for a view along the axis.
    pub fn to(toward: Vec2) -> Turn {
        let n = toward.norm();
        if n < 1e-9 { Turn { cos: 1.0, sin: 0.0 } } else { Turn { cos: toward.x / n, sin: toward.y / n } }
    }
    fn point(&self, p: Vec2) -> Vec2 {
        v(p.x * self.cos + p.y * self.sin, p.y * self.cos - p.x * self.sin)
    }
}

/// The walls of all rings of a region, in ring order.
pub(crate) fn walls(region: &Region, turn: &Turn) -> Vec<Wall> {
    let mut out = Vec::new();
    for (i, ring) in region.rings().enumerate() {
        // Callers keep outer rings counter-clockwise and holes clockwise; a stray one is turned round.
        if (ring.area() > 0.0) == (i == 0) {
            ring_walls(ring, turn, &mut out);
        } else {
            ring_walls(&ring.reversed(), turn, &mut out);
        }
    }
    out
}

fn ring_walls(ring: &Ring, turn: &Turn, out: &mut Vec<Wall>) {
    let first = out.len();
    let n = ring.vertices.len();
    let points: Vec<Vec2> = ring.vertices.iter().map(|q| turn.point(q.p)).collect();
    let spin = trig::atan2(turn.sin, turn.cos);
    // Start from the last corner kept, so that a skipped sliver leaves no gap in the ring.
    let mut from: Option<Vec2> = None;
    for (i, seg) in ring.segs().enumerate() {
        let (a, b) = (from.unwrap_or(points[i]), points[(i + 1) % n]);
        if seg.length() < SHORT {
            from = Some(a);
            continue;
        }
        from = None;
        match seg {
            Seg::Line(..) => out.push(Wall::new(a, b, None)),
            Seg::Arc(c) => {
                let arc = Arc { centre: turn.point(c.centre), start: c.start - spin, ..c };
                split_arc(arc, a, b, out);
            }
        }
    }
    let last = out.len();
    if let (Some(a), true) = (from, last > first) {
        out[first].a = a;
    }
    for i in first..last {
        let before = if i == first { last - 1 } else { i - 1 };
        out[i].before = before;
        let (t0, t1) = (out[before].direction(1.0), out[i].direction(0.0));
        let bend = trig::atan2(t0.cross(t1), t0.dot(t1));
        out[i].joint = if bend.abs() < SMOOTH { Joint::Smooth } else { Joint::Corner };
    }
}

/// Cuts an arc where it turns to or from the viewer: where its tangent runs along ±ξ, at ±90°.
fn split_arc(arc: Arc, a: Vec2, b: Vec2, out: &mut Vec<Wall>) {
    let sign = arc.sweep.signum();
    let end = arc.start + arc.sweep;
    let (lo, hi) = (arc.start.min(end), arc.start.max(end));
    let mut cuts: Vec<f64> = Vec::new();
    let mut k = ((lo - PI / 2.0) / PI).ceil();
    while PI / 2.0 + k * PI < hi {
        let theta = PI / 2.0 + k * PI;
        if theta > lo + 1e-7 && theta < hi - 1e-7 {
            cuts.push(theta);
        }
        k += 1.0;
    }
    if sign < 0.0 {
        cuts.reverse();
    }
    let (mut from, mut angle) = (a, arc.start);
    for theta in cuts {
        let top = arc.centre + v(0.0, arc.radius * trig::sin(theta).signum());
        out.push(Wall::new(from, top, Some(Arc { start: angle, sweep: theta - angle, ..arc })));
        (from, angle) = (top, theta);
    }
    out.push(Wall::new(from, b, Some(Arc { start: angle, sweep: end - angle, ..arc })));
}

impl Wall {
    fn new(a: Vec2, b: Vec2, arc: Option<Arc>) -> Wall {
        let rise = b.y - a.y;
        let facing = if rise.abs() <= EDGE_ON { 0 } else { rise.signum() as i8 };
        let nearer = arc.is_some_and(|c| trig::cos(c.start + 0.5 * c.sweep) >= 0.0);
        Wall { a, b, arc, nearer, facing, before: 0, joint: Joint::Corner }
    }
    /// Unit direction of travel at the start (0) or the end (1).
    fn direction(&self, t: f64) -> Vec2 {
        match self.arc {
            None => (self.b - self.a).unit(),
            Some(c) => Vec2::polar(1.0, c.start + c.sweep * t).perp() * c.sweep.signum(),
        }
    }
    /// The wall as a curve in (ξ, η).
    pub fn flat(&self) -> Flat {
        match self.arc {
            None => Flat::line(self.a, self.b),
            Some(c) => {
                let (p, q) = (v(c.radius, 0.0), v(0.0, c.radius));
                Flat::bow(Bow { c: c.centre, p, q, start: c.start, sweep: c.sweep }, self.a, self.b)
            }
        }
    }
    /// Where the wall stands at the given η, between its ends.
    pub fn depth_at(&self, eta: f64) -> f64 {
        match self.arc {
            None => {
                let d = self.b - self.a;
                self.a.x + d.x * ((eta - self.a.y) / d.y)
            }
            Some(c) => {
                let y = eta - c.centre.y;
                let x = (c.radius * c.radius - y * y).max(0.0).sqrt();
                if self.nearer { c.centre.x + x } else { c.centre.x - x }
            }
        }
    }
}
