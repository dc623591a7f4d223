//! How long a step takes, by a rule that the book states.
//!
//! In: what is worked on. Out: minutes.
//! Always true: an estimate for an experienced maker with good machines, from common practice, no source; glue that
//! dries and finish that hardens are not counted.

use turnleaf_parts::{FeatureKind, Part};

/// Getting tools and work ready for a step, minutes.
pub const STEP: f64 = 15.0;
/// A metre of outline sawn or routed and trued, minutes.
pub const OUTLINE: f64 = 4.0;
/// A metre of groove, tongue or slot, minutes.
pub const GROOVE: f64 = 6.0;
/// A hole, marked and drilled, minutes.
pub const HOLE: f64 = 1.0;
/// A piece taken up and worked on at the bench, minutes.
pub const PIECE: f64 = 2.0;
/// A piece, screw or pin put in at the table, minutes.
pub const FIT: f64 = 4.0;

/// What a step works on.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Work {
    /// Outline, metres.
    pub outline: f64,
    /// Grooves, tongues, slots, pockets, metres.
    pub groove: f64,
    /// Holes.
    pub holes: f64,
    /// Pieces.
    pub pieces: f64,
}

/// Which features a step cuts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Cuts {
    /// None: the outline alone.
    Outline,
    /// Tongues and grooves of edges.
    Edges,
    /// Slots and pockets.
    Slots,
    /// Round holes.
    Holes,
    /// Outline and everything else.
    All,
}

fn metres(mm: f64) -> f64 {
    mm / 1000.0
}

impl Work {
    /// Adds so many of a part.
    pub(crate) fn add(&mut self, part: &Part, count: usize, cuts: Cuts) {
        let n = count as f64;
        self.pieces += n;
        if matches!(cuts, Cuts::Outline | Cuts::All) {
            self.outline += n * metres(part.outline.segs().map(|s| s.length()).sum());
        }
        for f in &part.features {
            let (kind, long) = match &f.kind {
                FeatureKind::Hole { .. } => (Cuts::Holes, 0.0),
                FeatureKind::Slot { a, b, .. } => (Cuts::Slots, a.dist(*b)),
                FeatureKind::CurvedSlot { way, .. } => {
                    let between =
                        |w: &[turnleaf_geom::Vertex]| turnleaf_geom::Seg::between(w[0], w[1].p).length();
                    (Cuts::Slots, way.windows(2).map(between).sum())
                }
                FeatureKind::Pocket { ring, .. } => (Cuts::Slots, ring.segs().map(|s| s.length()).sum()),
                FeatureKind::Ramp { .. } => {
                    let (low, high) = part.outline.bounds();
                    (Cuts::Edges, high.y - low.y)
                }
                FeatureKind::EdgeGroove { from, to, .. } | FeatureKind::EdgeTongue { from, to, .. } => {
                    (Cuts::Edges, to - from)
                }
            };
            if cuts != kind && cuts != Cuts::All {
                continue;
            }
            if kind == Cuts::Holes {
                self.holes += n;
            } else {
                self.groove += n * metres(long);
            }
        }
    }
}

/// Minutes of a step.
pub fn minutes(w: &Work) -> f64 {
    STEP + OUTLINE * w.outline + GROOVE * w.groove + HOLE * w.holes + PIECE * w.pieces
}

/// Hours and minutes as they are printed: to the next five minutes, from an hour on to the next quarter.
pub fn spoken(minutes: f64) -> (usize, usize) {
    let to = if minutes < 60.0 { 5.0 } else { 15.0 };
    let whole = ((minutes / to).ceil() * to).clamp(0.0, 1e6) as usize;
    (whole / 60, whole % 60)
}
