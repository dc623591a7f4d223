//! A region made ready for many distance questions under rigid motions.
//!
//! In: a [`Region`], or several that move as one body. Out: [`Prepared`], whose clearance to another
//! prepared body at any two poses is exact (closed form per pair of edges) and fast (boxes in a tree).
//! Always true: asking needs no trigonometry and no heap, so answers are the same bytes everywhere;
//! edges of outer rings run counter-clockwise and of holes clockwise, solid on the left.

use crate::contact;
use crate::distance::{Clearance, TOUCH};
use crate::edge::{Edge, Near};
use crate::ring::{Region, Ring};
use crate::vec2::{Pose2, Vec2, v};

/// A box of the tree: centre, half sizes, and what is in it.
#[derive(Clone, Copy, Debug)]
struct Node {
    c: Vec2,
    h: Vec2,
    /// Index of the first of two neighbouring child nodes, or of the edge when `leaf`.
    next: u32,
    leaf: bool,
}

/// A region, or several that move together, ready for distance questions.
#[derive(Clone, Debug)]
pub struct Prepared {
    edges: Vec<Edge>,
    nodes: Vec<Node>,
    /// One point on each outer ring: whether it lies in another body decides containment.
    anchors: Vec<Vec2>,
    reach: f64,
}

impl Prepared {
    /// Prepares one region. Rings with fewer than two corners are left out.
    pub fn new(region: &Region) -> Prepared {
        Prepared::of_all(core::slice::from_ref(region))
    }

    /// Prepares several regions, not overlapping one another, that move as one body.
    pub fn of_all(regions: &[Region]) -> Prepared {
        let mut edges = Vec::new();
        let mut anchors = Vec::new();
        let mut reach: f64 = 0.0;
        for region in regions {
            for (i, ring) in region.rings().enumerate() {
                if ring.vertices.len() < 2 {
                    continue;
                }
                if i == 0 {
                    anchors.push(ring.vertices[0].p);
                    reach = reach.max(ring.reach());
                }
                // Solid on the left whichever way the ring was given.
                if (ring.area() > 0.0) == (i == 0) {
                    push_edges(ring, &mut edges);
                } else {
                    push_edges(&ring.reversed(), &mut edges);
                }
            }
        }
        let nodes = build(&mut edges);
        Prepared { edges, nodes, anchors, reach }
    }

    /// The edges, solid on the left, in an order of the tree's own.
    pub fn edges(&self) -> &[Edge] {
        &self.edges
    }

    /// Greatest distance of any point from the body's own origin: the R of a turning speed bound.
    pub fn reach(&self) -> f64 {
        self.reach
    }

    /// Smallest box in the body's own frame: (min, max). An empty body gives (0, 0).
    pub fn bounds(&self) -> (Vec2, Vec2) {
        self.nodes.first().map_or((Vec2::ZERO, Vec2::ZERO), |n| (n.c - n.h, n.c + n.h))
    }

    /// Whether a point of the body's own frame lies in its solid. Points on the outline fall either way.
    pub fn contains(&self, p: Vec2) -> bool {
        let Some(root) = self.nodes.first() else { return false };
        let off = p - root.c;
        if off.x.abs() > root.h.x || off.y.abs() > root.h.y {
            return false;
        }
        self.edges.iter().fold(false, |inside, e| inside != e.flips(p))
    }

    /// Nearest point of the outline to a point of the body's own frame (as `q`), with its edge's index.
    pub fn nearest(&self, p: Vec2) -> Option<(Near, usize)> {
        let mut best: Option<(Near, usize)> = None;
        for (i, e) in self.edges.iter().enumerate() {
            let n = e.nearest(p);
            if best.is_none_or(|(b, _)| n.d2 < b.d2) {
                best = Some((n, i));
            }
        }
        best
    }

    /// Exact clearance to `other`, each at its own pose. Points come back in the common frame.
    /// Against an empty body the distance is infinite.
    pub fn clearance(&self, pose: &Pose2, other: &Prepared, other_pose: &Pose2) -> Clearance {
        self.clearance_within(pose, other, other_pose, f64::INFINITY).unwrap_or(Clearance {
            distance: f64::INFINITY,
            a: pose.offset,
            b: other_pose.offset,
            penetrates: false,
        })
    }

    /// The clearance if it is smaller than `limit`; `None` when the bodies stay at least `limit` apart.
    /// Faster than [`Prepared::clearance`] the smaller the limit.
    pub fn clearance_within(
        &self,
        pose: &Pose2,
        other: &Prepared,
        other_pose: &Pose2,
        limit: f64,
    ) -> Option<Clearance> {
        if self.edges.is_empty() || other.edges.is_empty() {
            return None;
        }
        // All in the other body's frame.
        let rel = other_pose.inverse().after(pose);
        let near = self.search(&rel, other, limit * limit, false);
        let home = |p: Vec2, q: Vec2, distance: f64, penetrates: bool| Clearance {
            distance,
            a: other_pose.apply(p),
            b: other_pose.apply(q),
            penetrates,
        };
        match near {
            Some(n) if n.d2 <= TOUCH * TOUCH => Some(match contact::deep_point(self, &rel, other) {
                Some(deep) => home(deep, deep, 0.0, true),
                None => home(n.p, n.q, 0.0, false),
            }),
            // The outlines keep apart: one body is wholly inside the other or they are clear.
            _ => match self.swallowed(&rel, other) {
                Some(p) => Some(home(p, p, 0.0, true)),
                None => near.map(|n| home(n.p, n.q, n.d2.sqrt(), false)),
            },
        }
    }

    /// Whether the bodies stay at least `limit` apart; stops at the first pair of edges that is nearer.
    /// With a limit of 0 this asks whether they do not penetrate (touching is allowed).
    pub fn distance_at_least(&self, pose: &Pose2, other: &Prepared, other_pose: &Pose2, limit: f64) -> bool {
        if limit <= TOUCH {
            return !self
                .clearance_within(pose, other, other_pose, 2.0 * TOUCH)
                .is_some_and(|c| c.penetrates);
        }
        if self.edges.is_empty() || other.edges.is_empty() {
            return true;
        }
        let rel = other_pose.inverse().after(pose);
        self.search(&rel, other, limit * limit, true).is_none() && self.swallowed(&rel, other).is_none()
    }

    /// A point of one body deep in the other when the outlines do not meet (in the other's frame).
    fn swallowed(&self, rel: &Pose2, other: &Prepared) -> Option<Vec2> {
        // If the outlines keep apart and the areas overlap, an outer ring of one lies wholly in the other.
        for &p in &self.anchors {
            let q = rel.apply(p);
            if other.contains(q) {
                return Some(q);
            }
        }
        let back = rel.inverse();
        other.anchors.iter().copied().find(|&q| self.contains(back.apply(q)))
    }

    /// Nearest pair of edges closer than the square root of `best2`; with `any`, the first pair found.
    fn search(&self, rel: &Pose2, other: &Prepared, best2: f64, any: bool) -> Option<Near> {
        let mut best2 = best2;
        let mut best = None;
        let turn = rel.turn(v(1.0, 0.0));
        let (ac, as_) = (turn.x.abs(), turn.y.abs());
        let placed = |n: &Node| (rel.apply(n.c), v(ac * n.h.x + as_ * n.h.y, as_ * n.h.x + ac * n.h.y));
        // Halving keeps either tree under 32 deep, and each step leaves one entry behind.
        let mut stack = [(0u32, 0u32, 0.0f64); 72];
        let mut top = 1;
        while top > 0 {
            top -= 1;
            let (i, j, bound) = stack[top];
            if bound >= best2 {
                continue;
            }
            let (m, n) = (&self.nodes[i as usize], &other.nodes[j as usize]);
            if m.leaf && n.leaf {
                let near = self.edges[m.next as usize].moved(rel).closest(&other.edges[n.next as usize]);
                if near.d2 < best2 {
                    best2 = near.d2;
                    best = Some(near);
                    if any || best2 <= TOUCH * TOUCH {
                        return best;
                    }
                }
                continue;
            }
            let split_first = n.leaf || (!m.leaf && m.h.x + m.h.y > n.h.x + n.h.y);
            let (pairs, bounds) = if split_first {
                let q = (n.c, n.h);
                let k = m.next;
                let d = |k: u32| gap2(placed(&self.nodes[k as usize]), q);
                ([(k, j), (k + 1, j)], [d(k), d(k + 1)])
            } else {
                let q = placed(m);
                let k = n.next;
                let d = |k: u32| {
                    let n = &other.nodes[k as usize];
                    gap2((n.c, n.h), q)
                };
                ([(i, k), (i, k + 1)], [d(k), d(k + 1)])
            };
            // The nearer of the two on top, to be looked at first.
            let first = if bounds[0] <= bounds[1] { 0 } else { 1 };
            for s in [1 - first, first] {
                if bounds[s] < best2 {
                    stack[top] = (pairs[s].0, pairs[s].1, bounds[s]);
                    top += 1;
                }
            }
        }
        best
    }
}

/// Squared distance between two axis-parallel boxes (centre, half size).
#[inline]
fn gap2(a: (Vec2, Vec2), b: (Vec2, Vec2)) -> f64 {
    let x = ((a.0.x - b.0.x).abs() - a.1.x - b.1.x).max(0.0);
    let y = ((a.0.y - b.0.y).abs() - a.1.y - b.1.y).max(0.0);
    x * x + y * y
}

fn push_edges(ring: &Ring, out: &mut Vec<Edge>) {
    let n = ring.vertices.len();
    for i in 0..n {
        let b = ring.vertices[(i + 1) % n].p;
        // Edges of no length add nothing: their point belongs to the neighbours.
        if ring.vertices[i].p != b {
            out.push(Edge::new(ring.vertices[i], b));
        }
    }
}

/// Builds the tree over the edges, reordering them; children of a node are neighbours.
fn build(edges: &mut [Edge]) -> Vec<Node> {
    let mut nodes = Vec::with_capacity(2 * edges.len());
    if edges.is_empty() {
        return nodes;
    }
    let blank = Node { c: Vec2::ZERO, h: Vec2::ZERO, next: 0, leaf: true };
    nodes.push(blank);
    let mut todo = vec![(0usize, 0usize, edges.len())];
    while let Some((at, from, to)) = todo.pop() {
        let part = &mut edges[from..to];
        let mut lo = v(f64::INFINITY, f64::INFINITY);
        let mut hi = v(f64::NEG_INFINITY, f64::NEG_INFINITY);
        for e in part.iter() {
            let (a, b) = e.bounds();
            lo = v(lo.x.min(a.x), lo.y.min(a.y));
            hi = v(hi.x.max(b.x), hi.y.max(b.y));
        }
        let c = (lo + hi) * 0.5;
        // A hair larger, so that rounding of the centre never cuts off an edge.
        let pad = 1e-12 * (1.0 + c.x.abs() + c.y.abs());
        let h = (hi - lo) * 0.5 + v(pad, pad);
        nodes[at] = Node { c, h, next: from as u32, leaf: part.len() == 1 };
        if part.len() > 1 {
            let wide = h.x >= h.y;
            let key = |e: &Edge| {
                let (a, b) = e.bounds();
                if wide { a.x + b.x } else { a.y + b.y }
            };
            part.sort_by(|p, q| key(p).total_cmp(&key(q)));
            let mid = from + part.len() / 2;
            let child = nodes.len();
            nodes[at].next = child as u32;
            nodes.push(blank);
            nodes.push(blank);
            todo.push((child, from, mid));
            todo.push((child + 1, mid, to));
        }
    }
    nodes
}
