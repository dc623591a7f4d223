//! Whether a part cut to an older plan serves in a newer one.
//!
//! In: the old part and the new one. Out: a [`PartVerdict`].
//! Always true: a part serves, perhaps after work, only if its solid holds the new one at every height; what is
//! missing and what is too much are bounded along the whole outlines, not sampled. The old part may be shifted,
//! not turned over: the plainest lie is taken that serves best.

use crate::verdict::{PartVerdict, Reason, Verdict, Work, WorkKind};
use turnleaf_geom::hausdorff::{beyond, depth_in};
use turnleaf_geom::{Pose2, Region, Ring, Vec2};
use turnleaf_parts::layers::{feature_band, opening};
use turnleaf_parts::{Feature, FeatureKind, Layer, Part};

/// How an old part lies in the frame of the new one: shifted by so much, mm.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Lie {
    /// The shift.
    pub shift: Vec2,
}

impl Lie {
    /// As a pose of the old part's frame.
    pub fn pose(&self) -> Pose2 {
        Pose2::new(0.0, self.shift)
    }
}

/// How exactly depths are found, mm.
const EXACT: f64 = 0.002;
/// Shifts that differ by less are one, mm.
const SAME: f64 = 1e-6;
/// Most features whose places are tried as a shift: one is enough when a whole pattern moved.
const TRIED: usize = 6;

/// The verdict on one part that both tables have. Differences up to `step` mm are none.
pub fn judge(old: &Part, new: &Part, step: f64) -> PartVerdict {
    let mut best = at(old, new, Lie::default(), step);
    if matches!(best.verdict, Verdict::Again(_)) && can_shift(old, new, step) {
        for shift in shifts(old, new) {
            let other = at(old, new, Lie { shift }, step);
            if rank(&other) < rank(&best) {
                best = other;
            }
            if best.verdict == Verdict::Good {
                break;
            }
        }
    }
    best
}

/// Smaller is better. A part that must be cut again is told about in its plain lie.
fn rank(v: &PartVerdict) -> u8 {
    match v.verdict {
        Verdict::Good => 0,
        Verdict::Work(_) => 1,
        _ => 2,
    }
}

/// Whether shifting could help at all.
fn can_shift(old: &Part, new: &Part, step: f64) -> bool {
    old.material == new.material
        && (old.thickness - new.thickness <= step || stands(old))
        && new.thickness - old.thickness <= step
        && !has_ramp(old)
        && !has_ramp(new)
}

fn has_ramp(p: &Part) -> bool {
    p.features.iter().any(|f| matches!(f.kind, FeatureKind::Ramp { .. }))
}

/// Shifts worth trying: outlines level at one side or centred, or one feature on its namesake.
fn shifts(old: &Part, new: &Part) -> Vec<Vec2> {
    let ((a, b), (c, d)) = (old.outline.bounds(), new.outline.bounds());
    let steps = |a: f64, b: f64, c: f64, d: f64| [0.0, c - a, d - b, (c + d - a - b) / 2.0];
    let mut out = Vec::new();
    for x in steps(a.x, b.x, c.x, d.x) {
        out.extend(steps(a.y, b.y, c.y, d.y).map(|y| Vec2 { x, y }));
    }
    let place = |f: &Feature| opening(&f.kind).map(|r| middle(&r));
    let namesakes = new.features.iter().filter_map(|n| {
        let o = old.features.iter().find(|o| o.id == n.id)?;
        Some(place(n)? - place(o)?)
    });
    out.extend(namesakes.take(TRIED));
    let mut kept: Vec<Vec2> = vec![Vec2::ZERO];
    for s in out {
        if kept.iter().all(|k| k.dist(s) > SAME) {
            kept.push(s);
        }
    }
    kept.split_off(1)
}

/// The middle of a ring's box.
fn middle(r: &Ring) -> Vec2 {
    let (low, high) = r.bounds();
    (low + high) * 0.5
}

/// A height band with both solids in it, both in the new part's frame.
struct Slab {
    z: (f64, f64),
    old: Region,
    new: Region,
}

fn slabs(old: &Part, new: &Part, lie: &Lie, step: f64) -> Vec<Slab> {
    let top = new.thickness.min(old.thickness);
    let mut cuts: Vec<f64> =
        old.layers.iter().chain(&new.layers).flat_map(|l| [l.z0, l.z1]).map(|z| z.min(top)).collect();
    cuts.sort_by(f64::total_cmp);
    cuts.dedup();
    let pose = lie.pose();
    let find =
        |layers: &[Layer], z: f64| layers.iter().find(|l| z > l.z0 && z < l.z1).map(|l| l.region.clone());
    let mut out = Vec::new();
    for pair in cuts.windows(2) {
        // A sliver lower than the step comes from a depth that differs by less than shows in print.
        if pair[1] - pair[0] <= step {
            continue;
        }
        let z = (pair[0] + pair[1]) / 2.0;
        if let (Some(o), Some(n)) = (find(&old.layers, z), find(&new.layers, z)) {
            out.push(Slab { z: (pair[0], pair[1]), old: o.moved(&pose), new: n });
        }
    }
    out
}

/// The verdict with the old part lying so.
fn at(old: &Part, new: &Part, lie: Lie, step: f64) -> PartVerdict {
    let mut reasons = Vec::new();
    if old.material != new.material {
        reasons.push(Reason::Material(old.material.clone(), new.material.clone()));
    }
    let shorter = old.thickness - new.thickness;
    let shorten = shorter > step && stands(old);
    if shorter.abs() > step && !shorten {
        reasons.push(Reason::Thickness(old.thickness, new.thickness));
    }
    reasons.extend(slopes(old, new, step));
    let slabs = slabs(old, new, &lie, step);
    let worst = |f: &dyn Fn(&Slab) -> f64| slabs.iter().map(f).fold(0.0, f64::max);
    let missing = worst(&|s| beyond(&s.new, &s.old, EXACT).distance);
    let surplus = worst(&|s| beyond(&s.old, &s.new, EXACT).distance);
    if missing > step {
        reasons.extend(lacks(old, &lie, &slabs, step));
        // Outlines and openings name every lack; should one slip through, it is still a lack.
        if reasons.is_empty() {
            reasons.push(Reason::Short { by: missing, at: Vec2::ZERO });
        }
    }
    let verdict = if !reasons.is_empty() {
        Verdict::Again(reasons)
    } else if shorten || surplus > step {
        let mut todo = if surplus > step { work(old, new, &slabs, surplus, step) } else { Vec::new() };
        if shorten {
            todo.push(Work {
                kind: WorkKind::Shorten,
                feature: None,
                purpose: String::new(),
                by: shorter,
                at: Vec2::ZERO,
                z: (new.thickness, old.thickness),
            });
        }
        Verdict::Work(todo)
    } else {
        Verdict::Good
    };
    PartVerdict {
        part: new.id.clone(),
        name: new.name.clone(),
        made: new.made,
        count: (old.count, new.count),
        verdict,
        lie,
        missing,
        surplus,
    }
}

/// Whether the part's height is its length, as a bar's: it can then be cut shorter. The height of a part cut from
/// a sheet is the sheet's, and cannot.
fn stands(p: &Part) -> bool {
    let (low, high) = p.outline.bounds();
    p.thickness > (high.x - low.x).min(high.y - low.y)
}

/// Ramps are not made of upright layers: their slope must be the same.
fn slopes(old: &Part, new: &Part, step: f64) -> Option<Reason> {
    let ramp = |p: &Part| {
        p.features.iter().find_map(|f| match f.kind {
            FeatureKind::Ramp { foot, head } => Some((foot, head)),
            _ => None,
        })
    };
    match (ramp(old), ramp(new)) {
        (None, None) => None,
        (Some((a, b)), Some((c, d))) => {
            let off = (a - c).abs().max((b - d).abs());
            (off > step).then_some(Reason::Slope(off))
        }
        _ => Some(Reason::Slope(f64::max(old.thickness, new.thickness))),
    }
}

/// Where wood is missing: openings of the old part in the new one's wood, and outlines that fall short.
fn lacks(old: &Part, lie: &Lie, slabs: &[Slab], step: f64) -> Vec<Reason> {
    let mut out = Vec::new();
    for f in &old.features {
        let Some(ring) = opening(&f.kind).map(|r| r.moved(&lie.pose())) else { continue };
        let band = feature_band(&f.kind, old.thickness);
        let here = slabs.iter().filter(|s| overlap(s.z, band) > step);
        let worst =
            here.map(|s| depth_in(&ring, &s.new, EXACT)).max_by(|a, b| a.distance.total_cmp(&b.distance));
        if let Some(h) = worst.filter(|h| h.distance > step) {
            out.push(Reason::Opening {
                feature: f.id.clone(),
                purpose: f.purpose.clone(),
                by: h.distance,
                at: h.at,
            });
        }
    }
    let full = |r: &Ring| Region { outer: r.clone(), holes: Vec::new() };
    let short = slabs
        .iter()
        .map(|s| beyond(&full(&s.new.outer), &full(&s.old.outer), EXACT))
        .max_by(|a, b| a.distance.total_cmp(&b.distance));
    if let Some(h) = short.filter(|h| h.distance > step) {
        out.push(Reason::Short { by: h.distance, at: h.at });
    }
    out
}

/// What is to be taken off: the new part's openings, and edges.
fn work(old: &Part, new: &Part, slabs: &[Slab], surplus: f64, step: f64) -> Vec<Work> {
    let mut out: Vec<Work> = Vec::new();
    for f in &new.features {
        let Some(ring) = opening(&f.kind) else { continue };
        let band = feature_band(&f.kind, new.thickness);
        let mut found: Option<Work> = None;
        let mut open_beside = false;
        for s in slabs.iter().filter(|s| overlap(s.z, band) > step) {
            let h = depth_in(&ring, &s.old, EXACT);
            let started =
                beyond(&Region { outer: ring.clone(), holes: Vec::new() }, &s.old, EXACT).distance > step;
            if h.distance <= step {
                open_beside = true;
                continue;
            }
            let kind = if started { WorkKind::Widen } else { WorkKind::Open };
            match &mut found {
                Some(w) => {
                    w.z = (w.z.0.min(s.z.0), w.z.1.max(s.z.1));
                    if h.distance > w.by {
                        (w.by, w.at, w.kind) = (h.distance, h.at, kind);
                    }
                }
                None => {
                    found = Some(Work {
                        kind,
                        feature: Some(f.id.clone()),
                        purpose: f.purpose.clone(),
                        by: h.distance,
                        at: h.at,
                        z: s.z,
                    });
                }
            }
        }
        if let Some(mut w) = found {
            if open_beside && w.kind == WorkKind::Open {
                w.kind = WorkKind::Deepen;
                w.by = w.z.1 - w.z.0;
            }
            out.push(w);
        }
    }
    let full = |r: &Ring| Region { outer: r.clone(), holes: Vec::new() };
    for s in slabs {
        let h = beyond(&full(&s.old.outer), &full(&s.new.outer), EXACT);
        if h.distance <= step {
            continue;
        }
        let same = out.iter_mut().find(|w| {
            w.feature.is_none() && (w.by - h.distance).abs() <= 2.0 * EXACT && (w.z.1 - s.z.0).abs() <= step
        });
        match same {
            Some(w) => w.z.1 = s.z.1,
            None => out.push(Work {
                kind: WorkKind::Trim,
                feature: None,
                purpose: String::new(),
                by: h.distance,
                at: h.at,
                z: s.z,
            }),
        }
    }
    // Wood to take off that is neither an opening nor an edge does not exist; should it, it is not hidden.
    if out.is_empty() {
        let z = (0.0, old.thickness);
        let (kind, feature, purpose, at) = (WorkKind::Trim, None, String::new(), Vec2::ZERO);
        out.push(Work { kind, feature, purpose, by: surplus, at, z });
    }
    out
}

fn overlap(a: (f64, f64), b: (f64, f64)) -> f64 {
    a.1.min(b.1) - a.0.max(b.0)
}
