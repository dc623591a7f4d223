//! The part of a region on one side of a straight line.
//!
//! In: a region, a line. Out: the regions left of it and the stretches of the line inside the region.
//!
//! Always true: arcs stay arcs. A corner on the line counts as beyond it, so an edge along the line
//! never leaves a sliver behind.

use crate::wall::{Turn, Wall, walls};
use core::f64::consts::PI;
use turnleaf_geom::{Pose2, Region, Ring, Vec2, Vertex, trig, vec2::v};

/// A corner as near to the line as this counts as on it, mm.
const ON: f64 = 1e-6;
/// Leftovers smaller than this are dropped, mm².
const CRUMB: f64 = 1e-4;

/// What a cut leaves of a region.
#[derive(Clone, Debug, Default)]
pub(crate) struct Half {
    /// The kept regions.
    pub kept: Vec<Region>,
    /// Where the line runs through the region: distances along the line (direction `normal` turned by −90°).
    pub along: Vec<(f64, f64)>,
}

/// A stretch of ring on the kept side, from where it enters to where it leaves.
struct Chain {
    enter: f64,
    leave: f64,
    vertices: Vec<Vertex>,
}

/// Keeps the points p with normal · p < d. The normal is a unit vector.
pub(crate) fn keep_below(region: &Region, normal: Vec2, d: f64) -> Half {
    // In turned coordinates η runs along the normal and ξ along the line.
    let along = v(normal.y, -normal.x);
    let all = walls(region, &Turn::to(along));
    let back = Pose2::new(along.angle(), Vec2::ZERO);
    let mut chains: Vec<Chain> = Vec::new();
    let mut whole: Vec<Ring> = Vec::new();
    let mut first = 0;
    while first < all.len() {
        // A ring's first wall is the one that follows the ring's last wall.
        let last = all[first].before;
        ring_chains(&all[first..=last], d, &mut chains, &mut whole);
        first = last + 1;
    }
    chains.retain(|c| c.enter.is_finite() && c.leave.is_finite());
    let mut rings: Vec<Ring> = whole.iter().filter(|r| r.area() > 0.0).cloned().collect();
    let links = link(&chains);
    let mut used = vec![false; chains.len()];
    for i in 0..chains.len() {
        let mut ring = Ring::default();
        let mut at = i;
        while !used[at] {
            used[at] = true;
            ring.vertices.extend(&chains[at].vertices);
            at = links[at];
        }
        if ring.area() > CRUMB {
            rings.push(ring);
        }
    }
    let mut kept: Vec<Region> = rings.into_iter().map(Region::from).collect();
    for hole in whole.into_iter().filter(|r| r.area() < 0.0) {
        let probe = hole.vertices[0].p;
        if let Some(home) = kept.iter_mut().find(|r| holds(&r.outer, probe)) {
            home.holes.push(hole);
        }
    }
    // Where the region ends at the line there is nothing to cut: only stretches with material beyond count.
    let beyond = d + 2.0 * ON;
    let crossed = all.iter().filter(|w| (w.a.y <= beyond) != (w.b.y <= beyond));
    let mut above: Vec<f64> = crossed.map(|w| w.depth_at(beyond)).collect();
    above.sort_by(f64::total_cmp);
    let mut spans: Vec<(f64, f64)> = Vec::new();
    for (chain, &next) in chains.iter().zip(&links) {
        for pair in above.chunks_exact(2) {
            let (from, to) = (pair[0].max(chains[next].enter), pair[1].min(chain.leave));
            if to - from > ON {
                spans.push((from, to));
            }
        }
    }
    spans.sort_by(|a, b| a.0.total_cmp(&b.0));
    Half { kept: kept.into_iter().map(|r| r.moved(&back)).collect(), along: spans }
}

/// Cuts one ring at η = d into chains, or adds it whole if it lies below.
fn ring_chains(ring: &[Wall], d: f64, chains: &mut Vec<Chain>, whole: &mut Vec<Ring>) {
    let below = |p: Vec2| p.y < d - ON;
    let start = (0..ring.len()).find(|&i| !below(ring[i].a) && below(ring[i].b));
    let Some(start) = start else {
        if ring.iter().all(|w| below(w.a)) {
            whole.push(Ring {
                vertices: ring.iter().map(|w| Vertex { p: w.a, bulge: bulge(w, w.a, w.b) }).collect(),
            });
        }
        return;
    };
    let mut open: Option<Chain> = None;
    for i in 0..ring.len() {
        let w = &ring[(start + i) % ring.len()];
        let cut = || {
            let eta = d.clamp(w.a.y.min(w.b.y), w.a.y.max(w.b.y));
            v(w.depth_at(eta), eta)
        };
        match (below(w.a), below(w.b)) {
            (false, true) => {
                let p = cut();
                let vertex = Vertex { p, bulge: bulge(w, p, w.b) };
                open = Some(Chain { enter: p.x, leave: f64::NAN, vertices: vec![vertex] });
            }
            (true, goes_on) => {
                let p = if goes_on { w.b } else { cut() };
                if let Some(chain) = &mut open {
                    chain.vertices.push(Vertex { p: w.a, bulge: bulge(w, w.a, p) });
                    if !goes_on {
                        chain.vertices.push(Vertex { p, bulge: 0.0 });
                        chain.leave = p.x;
                        chains.extend(open.take());
                    }
                }
            }
            (false, false) => {}
        }
    }
}

/// tan(sweep/4) of the stretch of a wall between two of its points.
fn bulge(w: &Wall, from: Vec2, to: Vec2) -> f64 {
    let Some(c) = w.arc else { return 0.0 };
    let angle = |p: Vec2| (p - c.centre).angle();
    let mut sweep = (angle(to) - angle(from)) * c.sweep.signum();
    if sweep < -1e-9 {
        sweep += 2.0 * PI;
    }
    trig::tan(sweep.max(0.0) / 4.0) * c.sweep.signum()
}

/// For each chain the one to go on with: along the line against ξ, the next place where one enters.
fn link(chains: &[Chain]) -> Vec<usize> {
    let mut enters: Vec<usize> = (0..chains.len()).collect();
    let mut leaves = enters.clone();
    enters.sort_by(|&a, &b| chains[a].enter.total_cmp(&chains[b].enter));
    leaves.sort_by(|&a, &b| chains[a].leave.total_cmp(&chains[b].leave));
    // Along the line the region begins where a chain enters and ends where one leaves, turn about.
    let mut links = vec![0; chains.len()];
    for (from, to) in leaves.into_iter().zip(enters) {
        links[from] = to;
    }
    links
}

/// Whether a ring encloses a point.
pub(crate) fn holds(ring: &Ring, p: Vec2) -> bool {
    let region = Region::from(ring.clone());
    let crossed = walls(&region, &Turn { cos: 1.0, sin: 0.0 })
        .iter()
        .filter(|w| (w.a.y <= p.y) != (w.b.y <= p.y) && w.depth_at(p.y) > p.x)
        .count();
    crossed % 2 == 1
}
