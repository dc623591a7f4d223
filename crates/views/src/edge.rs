//! The edges of bodies. In: the blocks of each body. Out: every edge that a view may show.
//!
//! Always true: where two layers of one body continue each other there is no edge; round edges are
//! cut where their wall turns from the viewer; edges seen end-on are left out.

use crate::block::Block;
use crate::curve::EdgeKind;
use crate::flat::Flat;
use crate::plane::{Plane, Run3};
use crate::wall::{Joint, Wall};
use turnleaf_geom::{Vec2, vec2::v};

/// How far apart two faces may lie and still count as one, mm. Larger than rounding of a boolean,
/// smaller than any step a maker can cut.
const SAME: f64 = 1e-5;

/// An edge in space and in the working plane.
#[derive(Clone, Debug)]
pub(crate) struct Edge {
    pub body: usize,
    pub kind: EdgeKind,
    pub run: Run3,
    pub flat: Flat,
    /// Depth of its farthest point.
    pub far: f64,
}

impl Edge {
    pub fn new(body: usize, kind: EdgeKind, run: Run3, plane: &Plane) -> Edge {
        Edge { body, kind, flat: plane.project(&run), far: plane.span(&run).0, run }
    }
}

/// Adds the edges of one body, whose layers are `blocks`.
pub(crate) fn edges(blocks: &[Block], plane: &Plane, smooth: bool, out: &mut Vec<Edge>) {
    let gone = continued(blocks);
    for (block, gone) in blocks.iter().zip(&gone) {
        let mut push = |kind: EdgeKind, run: Run3| {
            let edge = Edge::new(block.body, kind, run, plane);
            let size = edge.flat.hi - edge.flat.lo;
            if size.x.max(size.y) > 1e-6 {
                out.push(edge);
            }
        };
        for (i, wall) in block.walls.iter().enumerate() {
            for (top, z) in [(false, block.z0), (true, block.z1)] {
                let rim = block.rim(wall, z);
                for (t0, t1) in left_over(gone.iter().filter(|g| g.wall == i && g.top == top)) {
                    push(EdgeKind::Outline, part(&rim, t0, t1));
                }
            }
            let kind = match wall.joint {
                Joint::Corner => Some(EdgeKind::Outline),
                Joint::Smooth if block.turns(wall) => Some(EdgeKind::Silhouette),
                Joint::Smooth => smooth.then_some(EdgeKind::Smooth),
            };
            if let Some(kind) = kind {
                push(kind, block.upright(wall));
            }
        }
    }
}

/// A stretch of a wall's rim where another layer of the body carries on.
struct Gone {
    wall: usize,
    top: bool,
    from: f64,
    to: f64,
}

/// For each block the stretches of rim that are no edges.
fn continued(blocks: &[Block]) -> Vec<Vec<Gone>> {
    let mut out: Vec<Vec<Gone>> = blocks.iter().map(|_| Vec::new()).collect();
    let same = |a: f64, b: f64| (a - b).abs() < SAME;
    let boxes: Vec<Vec<(Vec2, Vec2)>> =
        blocks.iter().map(|b| b.walls.iter().map(wall_box).collect()).collect();
    for i in 0..blocks.len() {
        for j in 0..blocks.len() {
            if i == j {
                continue;
            }
            let (a, b) = (&blocks[i], &blocks[j]);
            // A wall that goes on straight above or below.
            let above = same(a.z1, b.z0);
            let below = same(a.z0, b.z1);
            // A face that goes on level beside: walls back to back.
            let (flush_top, flush_bottom) = (same(a.z1, b.z1), same(a.z0, b.z0));
            if !(above || below || flush_top || flush_bottom) || !boxes_meet(a, b) {
                continue;
            }
            for (k, (w, wb)) in a.walls.iter().zip(&boxes[i]).enumerate() {
                // Most walls lie apart: their boxes tell.
                let near = |ub: &(Vec2, Vec2)| {
                    wb.0.x <= ub.1.x && ub.0.x <= wb.1.x && wb.0.y <= ub.1.y && ub.0.y <= wb.1.y
                };
                for (u, _) in b.walls.iter().zip(&boxes[j]).filter(|u| near(u.1)) {
                    let Some((from, to, along)) = overlap(w, u) else { continue };
                    let mut push = |top: bool| out[i].push(Gone { wall: k, top, from, to });
                    if if along { above } else { flush_top } {
                        push(true);
                    }
                    if if along { below } else { flush_bottom } {
                        push(false);
                    }
                }
            }
        }
    }
    out
}

fn boxes_meet(a: &Block, b: &Block) -> bool {
    a.plan.0.x <= b.plan.1.x + SAME
        && b.plan.0.x <= a.plan.1.x + SAME
        && a.plan.0.y <= b.plan.1.y + SAME
        && b.plan.0.y <= a.plan.1.y + SAME
}

/// The box round a wall, wider by a little; an arc between its extremes in η reaches no farther than its ends or
/// its circle.
fn wall_box(w: &Wall) -> (Vec2, Vec2) {
    let (mut lo, mut hi) = (v(w.a.x.min(w.b.x), w.a.y.min(w.b.y)), v(w.a.x.max(w.b.x), w.a.y.max(w.b.y)));
    if let Some(c) = &w.arc {
        (lo.x, hi.x) = (lo.x.min(c.centre.x - c.radius), hi.x.max(c.centre.x + c.radius));
    }
    (lo - v(SAME, SAME), hi + v(SAME, SAME))
}

/// The stretch of wall `w` (as fractions) that coincides with `u`, and whether both run the same way.
fn overlap(w: &Wall, u: &Wall) -> Option<(f64, f64, bool)> {
    let clip = |t0: f64, t1: f64, along: bool, length: f64| {
        let (from, to) = (t0.min(t1).max(0.0), t0.max(t1).min(1.0));
        ((to - from) * length > SAME).then_some((from, to, along))
    };
    match (&w.arc, &u.arc) {
        (None, None) => {
            let d = w.b - w.a;
            let n = d.norm();
            let off = |p: Vec2| d.cross(p - w.a).abs() > SAME * n;
            if off(u.a) || off(u.b) {
                return None;
            }
            let t = |p: Vec2| (p - w.a).dot(d) / (n * n);
            clip(t(u.a), t(u.b), d.dot(u.b - u.a) > 0.0, n)
        }
        (Some(c), Some(o)) => {
            if c.centre.dist(o.centre) > SAME || (c.radius - o.radius).abs() > SAME {
                return None;
            }
            // Both are cut at ±90°, so each lies in one half turn; bring the other to the same one.
            let turn = 2.0 * core::f64::consts::PI;
            let mid = |k: &turnleaf_geom::Arc| k.start + 0.5 * k.sweep;
            let shift = ((mid(c) - mid(o)) / turn).round() * turn;
            let t = |theta: f64| (theta + shift - c.start) / c.sweep;
            let along = c.sweep * o.sweep > 0.0;
            clip(t(o.start), t(o.start + o.sweep), along, c.radius * c.sweep.abs())
        }
        _ => None,
    }
}

/// What is left of 0 to 1.
fn left_over<'a>(gone: impl Iterator<Item = &'a Gone>) -> Vec<(f64, f64)> {
    let mut cuts: Vec<(f64, f64)> = gone.map(|g| (g.from, g.to)).collect();
    cuts.sort_unstable_by(|a, b| a.0.total_cmp(&b.0));
    let mut out = Vec::new();
    let mut at = 0.0;
    for (from, to) in cuts {
        if from > at + 1e-9 {
            out.push((at, from));
        }
        at = f64::max(at, to);
    }
    if at < 1.0 - 1e-9 {
        out.push((at, 1.0));
    }
    out
}

/// The stretch of an edge between two fractions.
fn part(run: &Run3, t0: f64, t1: f64) -> Run3 {
    if t0 == 0.0 && t1 == 1.0 {
        return *run;
    }
    let bow = run.bow.map(|w| crate::plane::Bow3 {
        start: w.start + w.sweep * t0,
        sweep: w.sweep * (t1 - t0),
        ..w
    });
    Run3 { a: run.at(t0), b: run.at(t1), bow }
}
