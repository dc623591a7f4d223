//! Which stretches of each edge are seen.
//!
//! In: edges and blocks of all bodies. Out: for each edge the visible stretches, as fractions.
//!
//! Method: along an edge, hiding by one block can change only where the edge crosses the block's
//! contour in the picture or enters the block in space. Between two such places one point decides.
//! Always true: edges decide one by one, so a wrong decision never spreads.

use crate::block::Block;
use crate::edge::Edge;
use crate::flat::{Flat, TOUCH, crossings};

/// Visible stretches of every edge, in order along it.
pub(crate) fn visible(edges: &[Edge], blocks: &[Block]) -> Vec<Vec<(f64, f64)>> {
    // Nearest blocks first: they hide most, and a wholly hidden edge needs no further look.
    let mut order: Vec<&Block> = blocks.iter().filter(|b| b.lo.x <= b.hi.x).collect();
    order.sort_by(|a, b| b.near.total_cmp(&a.near));
    let mut scratch = Scratch::default();
    edges
        .iter()
        .map(|edge| {
            let mut seen = vec![(0.0, 1.0)];
            for block in &order {
                if block.near <= edge.far + TOUCH {
                    break;
                }
                let f = &edge.flat;
                if f.lo.x > block.hi.x || f.hi.x < block.lo.x || f.lo.y > block.hi.y || f.hi.y < block.lo.y {
                    continue;
                }
                subtract(edge, block, &mut seen, &mut scratch);
                if seen.is_empty() {
                    break;
                }
            }
            seen
        })
        .collect()
}

#[derive(Default)]
struct Scratch {
    cuts: Vec<f64>,
    depths: Vec<f64>,
    next: Vec<(f64, f64)>,
}

/// Takes away the stretches that the block hides.
fn subtract(edge: &Edge, block: &Block, seen: &mut Vec<(f64, f64)>, scratch: &mut Scratch) {
    let Scratch { cuts, depths, next } = scratch;
    cuts.clear();
    for c in &block.contour {
        if edge.flat.near(c) {
            crossings(&edge.flat, c, cuts);
        }
    }
    pierce(edge, block, cuts);
    cuts.sort_unstable_by(f64::total_cmp);
    // Two cuts nearer than this are one.
    let slack = TOUCH / edge.run.length();
    next.clear();
    let mut keep = |from: f64, to: f64| {
        if to - from > slack && !block.hides(edge.run.at(0.5 * (from + to)), depths) {
            match next.last_mut() {
                Some(last) if from - last.1 <= slack => last.1 = to,
                _ => next.push((from, to)),
            }
        }
    };
    for &(from, to) in seen.iter() {
        let mut at = from;
        for &cut in cuts.iter() {
            if cut > at + slack && cut < to - slack {
                keep(at, cut);
                at = cut;
            }
        }
        keep(at, to);
    }
    core::mem::swap(seen, next);
}

/// Adds the places where an edge enters or leaves a block in space. Sound designs have none (pieces
/// do not pass through each other), so a quick look at the boxes ends most of these.
fn pierce(edge: &Edge, block: &Block, cuts: &mut Vec<f64>) {
    let run = &edge.run;
    let local = |p: crate::space::Vec3| {
        let r = p - block.origin;
        (turnleaf_geom::vec2::v(block.xi.dot(r), block.eta.dot(r)), block.axis.dot(r))
    };
    let ((a, za), (b, zb)) = (local(run.a), local(run.b));
    let bow = run.bow.map(|w| {
        let (c, zc) = local(w.c);
        let p = turnleaf_geom::vec2::v(block.xi.dot(w.p), block.eta.dot(w.p));
        let q = turnleaf_geom::vec2::v(block.xi.dot(w.q), block.eta.dot(w.q));
        (
            crate::flat::Bow { c, p, q, start: w.start, sweep: w.sweep },
            zc,
            block.axis.dot(w.p),
            block.axis.dot(w.q),
        )
    });
    let swing = bow.as_ref().map_or(0.0, |w| turnleaf_geom::trig::hypot(w.2, w.3));
    let (zlo, zhi) = match &bow {
        None => (za.min(zb), za.max(zb)),
        Some((_, zc, ..)) if swing > TOUCH => (zc - swing, zc + swing),
        Some(_) => (za, za),
    };
    if zlo >= block.z1 - TOUCH || zhi <= block.z0 + TOUCH {
        return;
    }
    let flat = match bow {
        None => Flat::line(a, b),
        Some((w, ..)) => Flat::bow(w, a, b),
    };
    let (lo, hi) = block.plan;
    if flat.lo.x >= hi.x - TOUCH
        || flat.hi.x <= lo.x + TOUCH
        || flat.lo.y >= hi.y - TOUCH
        || flat.hi.y <= lo.y + TOUCH
    {
        return;
    }
    for z in [block.z0, block.z1] {
        match &bow {
            None if (zb - za).abs() > TOUCH => cuts.push((z - za) / (zb - za)),
            Some((w, zc, zp, zq)) if swing > TOUCH && (z - zc).abs() <= swing => {
                let phase = turnleaf_geom::trig::atan2(*zq, *zp);
                let half = turnleaf_geom::trig::acos((z - zc) / swing);
                cuts.push(w.t_of(phase + half));
                cuts.push(w.t_of(phase - half));
            }
            _ => {}
        }
    }
    for wall in &block.walls {
        let face = wall.flat();
        if flat.near(&face) {
            crossings(&flat, &face, cuts);
        }
    }
}
