//! Which stretches of each edge are seen.
//!
//! In: edges and blocks of all bodies. Out: for each edge the visible stretches, as fractions.
//!
//! Method: along an edge, hiding by one block can change only where the edge crosses the block's
//! contour in the picture or enters the block in space. Between two such places one point decides.
//! Always true: edges decide one by one, so a wrong decision never spreads.

use crate::block::Block;
use crate::edge::Edge;
use crate::flat::{Course, Flat, TOUCH, crossings};
use turnleaf_geom::{Vec2, vec2::v};

/// Visible stretches of every edge, in order along it.
pub(crate) fn visible(edges: &[Edge], blocks: &[Block]) -> Vec<Vec<(f64, f64)>> {
    // Nearest blocks first: they hide most, and a wholly hidden edge needs no further look. Their boxes and depths
    // stand close together by themselves, for most looks end there.
    let mut order: Vec<&Block> = blocks.iter().filter(|b| b.lo.x <= b.hi.x).collect();
    order.sort_by(|a, b| b.near.total_cmp(&a.near));
    let boxes: Vec<(Vec2, Vec2, f64)> = order.iter().map(|b| (b.lo, b.hi, b.near)).collect();
    let mut scratch = Scratch::default();
    let mut seen: Vec<(f64, f64)> = Vec::new();
    // Neighbouring edges are mostly hidden by one and the same block: the last one is asked first.
    let mut last: Option<usize> = None;
    let one = |edge: &Edge| {
        let (mut least, mut most) = (edge.flat.lo, edge.flat.hi);
        if let Some(k) = last {
            let (lo, hi, near) = boxes[k];
            let within = least.x >= lo.x && most.x <= hi.x && least.y >= lo.y && most.y <= hi.y;
            if within && near > edge.far + TOUCH {
                seen.clear();
                seen.push((0.0, 1.0));
                subtract(edge, order[k], (least, most), &mut seen, &mut scratch);
                if seen.is_empty() {
                    return Vec::new();
                }
            }
        }
        seen.clear();
        seen.push((0.0, 1.0));
        for (k, (lo, hi, near)) in boxes.iter().enumerate() {
            if *near <= edge.far + TOUCH {
                break;
            }
            if least.x > hi.x || most.x < lo.x || least.y > hi.y || most.y < lo.y {
                continue;
            }
            subtract(edge, order[k], (least, most), &mut seen, &mut scratch);
            let (Some(first), Some(end)) = (seen.first(), seen.last()) else {
                last = Some(k);
                break;
            };
            // What is left of a straight edge takes up less of the picture.
            if let (Course::Line, true) = (&edge.flat.course, first.0 > 0.0 || end.1 < 1.0) {
                let (a, b) = (edge.flat.a.lerp(edge.flat.b, first.0), edge.flat.a.lerp(edge.flat.b, end.1));
                (least, most) = (v(a.x.min(b.x), a.y.min(b.y)), v(a.x.max(b.x), a.y.max(b.y)));
            }
        }
        seen.clone()
    };
    edges.iter().map(one).collect()
}

#[derive(Default)]
struct Scratch {
    cuts: Vec<f64>,
    depths: Vec<f64>,
    next: Vec<(f64, f64)>,
}

/// Takes away the stretches that the block hides.
/// `within` is the box of what is still seen.
fn subtract(
    edge: &Edge,
    block: &Block,
    within: (Vec2, Vec2),
    seen: &mut Vec<(f64, f64)>,
    scratch: &mut Scratch,
) {
    let Scratch { cuts, depths, next } = scratch;
    cuts.clear();
    for c in block.curves_near(within.0, within.1) {
        crossings(&edge.flat, c, cuts);
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
    let (lo, hi) = block.plan;
    // A quick look first: the box of the whole circle, which is cheap, and wider than that of the edge.
    if let Some((w, ..)) = &bow {
        let wide = turnleaf_geom::vec2::v(
            turnleaf_geom::vec2::v(w.p.x, w.q.x).norm() + TOUCH,
            turnleaf_geom::vec2::v(w.p.y, w.q.y).norm() + TOUCH,
        );
        let (least, most) = (w.c - wide, w.c + wide);
        if least.x >= hi.x || most.x <= lo.x || least.y >= hi.y || most.y <= lo.y {
            return;
        }
    }
    let flat = match bow {
        None => Flat::line(a, b),
        Some((w, ..)) => Flat::bow(w, a, b),
    };
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
    for face in block.faces() {
        if flat.near(face) {
            crossings(&flat, face, cuts);
        }
    }
}
