//! Broken views: the plain stretches of a long, thin part left out.
//!
//! In: a part's drawing and a scale. Out: the same drawing with every point beyond a break moved nearer, for placing
//! only; or nothing where leaving stretches out would save little.
//! Always true: what is left out holds nothing but straight edges along the datum line; every other shape keeps its
//! size; figures are never measured on a shortened drawing (a broken view keeps its true figures: ISO 129-1).

use crate::drawing::Drawing;
use crate::frame::SAME;
use crate::sketch::{Loop, Shape};
use turnleaf_geom::Seg;

/// Clear space kept beside every corner and feature, mm on paper: room for its mark and its leader.
const KEEP: f64 = 9.0;

/// Between the two break lines, mm on paper.
const APART: f64 = 3.0;

/// A stretch that saves less than this on paper is drawn whole, mm.
const LEAST: f64 = 15.0;

/// The two ends of a stretch that is left out, as they stand in the shortened drawing: ordinates x, mm of the part.
pub type Break = (f64, f64);

impl Drawing {
    /// Whether an ordinate x of the view lies between two break lines.
    pub fn is_left_out(&self, x: f64) -> bool {
        self.breaks.iter().any(|b| x > b.0 - SAME && x < b.1 + SAME)
    }
}

/// The drawing with its plain stretches left out at a scale (paper mm for one mm of the part).
pub fn shorten(d: &Drawing, scale: f64) -> Option<Drawing> {
    let busy = merged(busy(d)?, 2.0 * KEEP / scale);
    let (keep, apart, least) = (KEEP / scale, APART / scale, LEAST / scale);
    // Where each stretch to leave out begins and ends.
    let cuts: Vec<(f64, f64)> = busy
        .windows(2)
        .map(|pair| (pair[0].1 + keep, pair[1].0 - keep))
        .filter(|c| c.1 - c.0 - apart >= least)
        .collect();
    if cuts.is_empty() {
        return None;
    }
    let nearer = |x: f64| -> f64 {
        let beyond = cuts.iter().filter(|c| x > (c.0 + c.1) / 2.0);
        x - beyond.map(|c| c.1 - c.0 - apart).sum::<f64>()
    };
    let mut out = d.clone();
    for p in &d.sketch.points {
        let x = &mut out.sketch.unknowns[p.x.0].value;
        *x = nearer(*x);
    }
    // Grooves and tongues are measured along their edge, which is shorter now.
    for f in &d.sketch.features {
        let Shape::Edge(e) = &f.shape else { continue };
        let (base, tip) = (d.sketch.at(e.base), d.sketch.at(e.tip));
        if (base.y - tip.y).abs() > SAME {
            continue;
        }
        let way = (tip.x - base.x).signum();
        for var in [e.near, e.far] {
            let at = base.x + way * d.sketch.value(var);
            out.sketch.unknowns[var.0].value = (nearer(at) - nearer(base.x)).abs();
        }
    }
    out.breaks = cuts.iter().map(|c| (nearer(c.0), nearer(c.0) + apart)).collect();
    Some(out)
}

/// The stretches along the datum line that hold a corner, a curve or a feature; nothing for a part that cannot be broken.
fn busy(d: &Drawing) -> Option<Vec<(f64, f64)>> {
    let s = &d.sketch;
    if d.frame.fold != 1 || d.frame.pins.is_some() || d.ramp.is_some() {
        return None;
    }
    let Some(Loop::Sides(_)) = &s.outline else { return None };
    let values: Vec<f64> = s.unknowns.iter().map(|u| u.value).collect();
    let mut out = vec![(0.0, 0.0)];
    // Points that only helpers stand for (the middle of a curve) carry dimensions too.
    out.extend(s.helpers.iter().map(|p| s.at(*p).x).map(|x| (x, x)));
    let outline = s.ring(s.outline.as_ref()?, &values);
    for (seg, side) in outline.segs().zip(s.sides()) {
        match seg {
            Seg::Line(a, b) if (a.y - b.y).abs() < SAME => out.extend([(a.x, a.x), (b.x, b.x)]),
            Seg::Line(a, b) => out.push((a.x.min(b.x), a.x.max(b.x))),
            Seg::Arc(_) => {
                let (a, b) = (s.at(side.from), s.at(side.to));
                let (c, r) = s.circle_at(side.arc?.0);
                // A curve round a far centre could not be moved without its centre.
                let (lo, hi) = (a.x.min(b.x).min(c.x - r), a.x.max(b.x).max(c.x + r));
                out.push((lo, hi));
            }
        }
    }
    let (lo, hi) = outline.bounds();
    for f in &s.features {
        match &f.shape {
            Shape::Hole(c, _) => {
                let (p, r) = s.circle_at(*c);
                out.push((p.x - r, p.x + r));
            }
            Shape::Slot(a, b, w, _) => {
                let (a, b, r) = (s.at(*a).x, s.at(*b).x, s.value(*w) / 2.0);
                out.push((a.min(b) - r, a.max(b) + r));
            }
            Shape::Pocket(lp, _) => {
                let (a, b) = s.ring(lp, &values).bounds();
                out.push((a.x, b.x));
            }
            Shape::Way(..) | Shape::Ramp(_) => return None,
            Shape::Edge(e) => {
                let (base, tip, depth) = (s.at(e.base), s.at(e.tip), s.value(e.depth));
                if (base.y - tip.y).abs() < SAME {
                    let way = (tip.x - base.x).signum();
                    out.extend([e.near, e.far].map(|q| base.x + way * s.value(q)).map(|x| (x, x)));
                } else {
                    out.push((base.x.min(tip.x) - depth, base.x.max(tip.x) + depth));
                }
            }
        }
    }
    // What lies beyond the outline (a far centre) does not stretch the view.
    for q in &mut out {
        *q = (q.0.clamp(lo.x, hi.x), q.1.clamp(lo.x, hi.x));
    }
    Some(out)
}

/// Stretches in order, those nearer than `apart` to each other put together.
fn merged(mut all: Vec<(f64, f64)>, apart: f64) -> Vec<(f64, f64)> {
    all.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut out: Vec<(f64, f64)> = Vec::new();
    for q in all {
        match out.last_mut() {
            Some(last) if q.0 <= last.1 + apart => last.1 = last.1.max(q.1),
            _ => out.push(q),
        }
    }
    out
}
