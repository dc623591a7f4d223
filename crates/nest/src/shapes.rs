//! Parts in every attitude they may take, and the no-fit areas between them.
//!
//! In: outlines with their allowed turns. Out: [`Shapes`]: variants, and no-fit areas made when first asked for.
//! Always true: a variant's box is exact for arcs; attitudes that look the same are kept once.

use crate::nofit::Nofit;
use crate::outline;
use crate::request::{Grain, PartIn, Turns};
use std::cell::OnceCell;
use turnleaf_geom::{Pose2, Ring, Seg, Vec2, trig};

/// A part in one attitude.
#[derive(Clone, Debug)]
pub struct Variant {
    /// Degrees counter-clockwise.
    pub turned: f64,
    pieces: Vec<Vec<Vec2>>,
    /// Exact box: lower left.
    pub lo: Vec2,
    /// Exact box: upper right.
    pub hi: Vec2,
}

/// All variants of some parts.
#[derive(Debug)]
pub struct Shapes {
    /// Variants, grouped by part.
    pub variants: Vec<Variant>,
    /// For each part its variants.
    pub of: Vec<Vec<usize>>,
    /// Area of each part.
    pub area: Vec<f64>,
    /// How far into a no-fit area still counts as outside.
    pub slack: f64,
    distance: f64,
    nofits: Vec<OnceCell<Box<Nofit>>>,
}

/// The turns a part may take, degrees in [0, 360), in order of preference.
pub fn turns(part: &PartIn) -> Vec<f64> {
    let base = if part.grain == Grain::Across { 90.0 } else { 0.0 };
    let free = part.grain == Grain::Free;
    let list: Vec<f64> = match part.turns {
        Turns::Fixed => vec![0.0],
        Turns::Half => vec![0.0, 180.0],
        Turns::Quarter | Turns::Any if !free => vec![0.0, 180.0],
        Turns::Quarter => vec![0.0, 90.0, 180.0, 270.0],
        Turns::Any => {
            let mut all: Vec<f64> = vec![0.0, 90.0, 180.0, 270.0];
            for edge in long_edges(&part.outline) {
                all.extend([0.0, 90.0, 180.0, 270.0].map(|q| q - edge));
            }
            all.extend((0..24).map(|k| 15.0 * f64::from(k)));
            all
        }
    };
    let mut out: Vec<f64> = Vec::new();
    for turn in list {
        let turn = (turn + base).rem_euclid(360.0);
        let same = |other: &f64| ((turn - other + 180.0).rem_euclid(360.0) - 180.0).abs() < 1e-6;
        if !out.iter().any(same) {
            out.push(turn);
        }
    }
    out
}

/// Directions of the straight edges longer than a third of the outline's box, degrees, at most four.
fn long_edges(ring: &Ring) -> Vec<f64> {
    let (lo, hi) = ring.bounds();
    let long = (hi - lo).norm() / 3.0;
    let mut edges: Vec<(f64, f64)> = ring
        .segs()
        .filter_map(|seg| match seg {
            Seg::Line(a, b) if a.dist(b) >= long => Some((a.dist(b), trig::deg((b - a).angle()))),
            _ => None,
        })
        .collect();
    edges.sort_by(|a, b| b.0.total_cmp(&a.0));
    edges.into_iter().take(4).map(|e| e.1).collect()
}

/// Whether two rings are the same area moved along: same corners relative to their boxes.
fn alike(a: &[Vec2], a_lo: Vec2, b: &[Vec2], b_lo: Vec2, within: f64) -> bool {
    a.len() == b.len() && a.iter().all(|p| b.iter().any(|q| (*p - a_lo).dist(*q - b_lo) < within))
}

impl Shapes {
    /// Prepares parts that must keep `distance`; `size` is the greatest length of a sheet.
    pub fn new(parts: &[&PartIn], distance: f64, size: f64) -> Shapes {
        let slack = 1e-7 * size;
        let mut variants: Vec<Variant> = Vec::new();
        let mut of = Vec::new();
        for part in parts {
            let (lo, hi) = part.outline.bounds();
            // Up to a millimetre at table size: less than a kerf, and a fifth of the pieces of a tenth of it.
            let tolerance = ((hi - lo).norm() / 500.0).clamp(1e-3, 1.0);
            let pieces = outline::pieces(&part.outline, tolerance);
            let mut mine: Vec<usize> = Vec::new();
            let mut seen: Vec<(Vec<Vec2>, Vec2)> = Vec::new();
            for turned in turns(part) {
                let pose = Pose2::new(trig::rad(turned), Vec2::ZERO);
                let ring = part.outline.moved(&pose);
                let (lo, hi) = ring.bounds();
                let mut points: Vec<Vec2> = ring.vertices.iter().map(|q| q.p).collect();
                if ring.vertices.iter().any(|q| q.bulge != 0.0) {
                    points.extend(ring.segs().filter_map(|s| match s {
                        Seg::Arc(arc) => Some(arc.at(0.5)),
                        Seg::Line(..) => None,
                    }));
                }
                // A circle has no corners of its own.
                let circle =
                    ring.segs().all(|s| matches!(s, Seg::Arc(a) if a.centre.dist((lo + hi) * 0.5) < slack));
                if circle && !mine.is_empty()
                    || seen.iter().any(|(p, l)| alike(p, *l, &points, lo, 10.0 * slack))
                {
                    continue;
                }
                seen.push((points, lo));
                mine.push(variants.len());
                let pieces = pieces.iter().map(|p| p.iter().map(|&q| pose.apply(q)).collect()).collect();
                variants.push(Variant { turned, pieces, lo, hi });
            }
            of.push(mine);
        }
        let n = variants.len();
        let area = parts.iter().map(|p| p.outline.area().abs()).collect();
        let nofits = (0..n * n).map(|_| OnceCell::new()).collect();
        Shapes { variants, of, area, slack, distance: distance + 3.0 * slack, nofits }
    }

    /// Where the second variant may not stand, seen from the first.
    #[inline]
    pub fn nofit(&self, first: usize, second: usize) -> &Nofit {
        self.nofits[first * self.variants.len() + second].get_or_init(|| {
            let (a, b) = (&self.variants[first].pieces, &self.variants[second].pieces);
            Box::new(Nofit::new(a, b, self.distance, self.slack))
        })
    }
}
