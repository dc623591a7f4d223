//! Datums: where a part is measured from.
//!
//! In: an outline and the part's round holes. Out: the [`Frame`] (part frame to datum frame), with the
//! symmetry the outline really has.
//! Always true: symmetry is looked for in the geometry to [`SAME`] and never assumed; the datum origin is a
//! point a maker can find on the stock (a tip, the middle of an end, a centre), not the origin of the solver.

use core::f64::consts::PI;
use turnleaf_geom::vec2::v;
use turnleaf_geom::{Pose2, Ring, Seg, Vec2};
use turnleaf_parts::{FeatureKind, Part};

/// Two points nearer than this (mm) are one. Larger would call a fitting gap a touch; smaller would miss
/// symmetry in outlines that went through a polygon boolean.
pub const SAME: f64 = 1e-3;

/// What kind of place the datum origin is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OriginKind {
    /// The centre of a disc or of equal arms.
    Centre,
    /// The common centre of concentric arcs.
    ArcCentre,
    /// A corner on the centre line.
    Tip,
    /// The middle of an end that is square to the centre line.
    EndEdge,
    /// The middle of a rounded end.
    EndArc,
    /// A corner at the end of a datum edge.
    Corner,
    /// The centre of the first of two pins.
    Pin,
}

/// Where a part is measured from, and its outline's symmetry.
#[derive(Clone, Debug, PartialEq)]
pub struct Frame {
    /// From the part's frame to the datum frame.
    pub pose: Pose2,
    /// How many equal turns bring the outline onto itself; 1 when none, 0 when any (a disc).
    pub fold: usize,
    /// Whether the outline mirrors itself in the datum x axis.
    pub mirror: bool,
    /// Whether the outline also mirrors itself in a line square to the datum x axis.
    pub cross_mirror: bool,
    /// What lies at the origin.
    pub origin: OriginKind,
    /// The two pins of an arm (indices of the part's features), if it is one.
    pub pins: Option<(usize, usize)>,
    /// Distance of an arm's pins, mm.
    pub pin_distance: f64,
}

/// The single circle that a ring is, if it is one.
pub fn full_circle(ring: &Ring) -> Option<(Vec2, f64)> {
    let mut found: Option<(Vec2, f64)> = None;
    for s in ring.segs() {
        let Seg::Arc(a) = s else { return None };
        match found {
            None => found = Some((a.centre, a.radius)),
            Some((c, r)) if c.dist(a.centre) < SAME && (r - a.radius).abs() < SAME => {}
            _ => return None,
        }
    }
    found
}

fn mean(ring: &Ring) -> Vec2 {
    let n = ring.vertices.len() as f64;
    ring.vertices.iter().fold(Vec2::ZERO, |s, q| s + q.p) * (1.0 / n)
}

/// Whether turning by `angle` about `c` carries the outline onto itself.
pub fn turns_onto_itself(ring: &Ring, c: Vec2, angle: f64) -> bool {
    let n = ring.vertices.len();
    let turned: Vec<Vec2> = ring.vertices.iter().map(|q| c + (q.p - c).rot(angle)).collect();
    (0..n).any(|k| {
        (0..n).all(|i| {
            let to = ring.vertices[(i + k) % n];
            to.p.dist(turned[i]) < SAME && (to.bulge - ring.vertices[i].bulge).abs() < 1e-6
        })
    })
}

/// Whether the line through `c` at `angle` mirrors the outline onto itself.
pub fn mirrors_onto_itself(ring: &Ring, c: Vec2, angle: f64) -> bool {
    let n = ring.vertices.len();
    let flip = |p: Vec2| {
        let q = (p - c).rot(-angle);
        c + v(q.x, -q.y).rot(angle)
    };
    let flipped: Vec<Vec2> = ring.vertices.iter().map(|q| flip(q.p)).collect();
    (0..n).any(|k| {
        (0..n).all(|i| {
            // Vertex i goes to k - i, so the edge that leaves i goes to the one that leaves k - i - 1.
            let to = ring.vertices[(k + n - i) % n];
            let edge = ring.vertices[(k + 2 * n - i - 1) % n];
            to.p.dist(flipped[i]) < SAME && (edge.bulge - ring.vertices[i].bulge).abs() < 1e-6
        })
    })
}

/// Directions of the mirror lines through `c`, radians in [0, π).
fn mirror_lines(ring: &Ring, c: Vec2) -> Vec<f64> {
    let Some(first) = ring.vertices.iter().map(|q| q.p - c).find(|p| p.norm() > SAME) else {
        return Vec::new();
    };
    let mut out: Vec<f64> = Vec::new();
    for q in &ring.vertices {
        let p = q.p - c;
        if (p.norm() - first.norm()).abs() > SAME {
            continue;
        }
        let mut angle = (p.angle() + first.angle()) / 2.0;
        for _ in 0..2 {
            angle -= (angle / PI).floor() * PI;
            if PI - angle < 1e-9 {
                angle = 0.0;
            }
            if mirrors_onto_itself(ring, c, angle) && out.iter().all(|a| (a - angle).abs() > 1e-7) {
                out.push(angle);
            }
            angle += PI / 2.0;
        }
    }
    out.sort_by(f64::total_cmp);
    out
}

/// The first point where an outline that mirrors onto itself crosses the datum x axis, from the left, and what it is.
fn left_end(ring: &Ring) -> Option<(f64, OriginKind)> {
    let mut best: Option<(f64, OriginKind)> = None;
    let mut see = |x: f64, kind: OriginKind| {
        if best.is_none_or(|b| x < b.0 - SAME) {
            best = Some((x, kind));
        }
    };
    for q in &ring.vertices {
        if q.p.y.abs() < SAME {
            see(q.p.x, OriginKind::Tip);
        }
    }
    for s in ring.segs() {
        let (a, b) = (s.start(), s.end());
        if a.y.abs() < SAME || b.y.abs() < SAME || a.y * b.y > 0.0 {
            continue;
        }
        match s {
            // Its own mirror image, so square to the axis.
            Seg::Line(a, _) => see(a.x, OriginKind::EndEdge),
            Seg::Arc(c) => {
                for (angle, out) in [(0.0, c.radius), (PI, -c.radius)] {
                    if c.covers(angle) {
                        see(c.centre.x + out, OriginKind::EndArc);
                    }
                }
            }
        }
    }
    best
}

/// Two round holes that two rounded ends are drawn about: an arm.
fn pins(part: &Part) -> Option<(usize, usize)> {
    if part.outline.vertices.len() != 4 {
        return None;
    }
    let hole = |c: Vec2| {
        part.features
            .iter()
            .position(|f| matches!(&f.kind, FeatureKind::Hole { centre, .. } if centre.dist(c) < SAME))
    };
    let ends: Vec<usize> = part
        .outline
        .segs()
        .filter_map(|s| match s {
            Seg::Arc(a) if (a.sweep.abs() - PI).abs() < 0.2 => hole(a.centre),
            _ => None,
        })
        .collect();
    match ends[..] {
        [a, b] if a != b => Some((a.min(b), a.max(b))),
        _ => None,
    }
}

/// The common centre of two or more arcs of different radius, if the outline has one.
fn shared_centre(ring: &Ring) -> Option<Vec2> {
    let arcs: Vec<(Vec2, f64)> = ring
        .segs()
        .filter_map(|s| if let Seg::Arc(a) = s { Some((a.centre, a.radius)) } else { None })
        .collect();
    let twin = |&(c, r): &(Vec2, f64)| {
        arcs.iter().any(|o| o.0.dist(c) < SAME && (o.1 - r).abs() > SAME).then_some(c)
    };
    arcs.iter().find_map(twin)
}

impl Frame {
    /// Whether an arc about this centre (datum frame) is the round end of an arm; which pin, 1 or 2.
    pub fn pin_at(&self, centre: Vec2) -> Option<usize> {
        self.pins?;
        if centre.norm() < SAME {
            Some(1)
        } else if centre.dist(v(self.pin_distance, 0.0)) < SAME {
            Some(2)
        } else {
            None
        }
    }
    /// Chooses the datums of a part.
    pub fn of(part: &Part) -> Frame {
        let ring = &part.outline;
        let plain = |pose, fold, mirror, origin| Frame {
            pose,
            fold,
            mirror,
            cross_mirror: false,
            origin,
            pins: None,
            pin_distance: 0.0,
        };
        if let Some((c, _)) = full_circle(ring) {
            return plain(Pose2::new(0.0, -c), 0, true, OriginKind::Centre);
        }
        if let Some((a, b)) = pins(part) {
            return arm_frame(part, a, b);
        }
        let g = mean(ring);
        let n = ring.vertices.len();
        // A square is measured as a rectangle: by its two widths, not as four arms.
        let fold = (3..=n)
            .rev()
            .filter(|k| (*k, n) != (4, 4))
            .find(|&k| n.is_multiple_of(k) && turns_onto_itself(ring, g, 2.0 * PI / k as f64))
            .unwrap_or(1);
        let lines = mirror_lines(ring, g);
        if fold >= 3 {
            let turn = arm_direction(ring, g, &lines);
            let pose = Pose2::new(-turn, (-g).rot(-turn));
            return plain(pose, fold, !lines.is_empty(), OriginKind::Centre);
        }
        // The part's own x direction first, then y, then whatever there is.
        let line = [0.0, PI / 2.0]
            .into_iter()
            .find(|w| lines.iter().any(|a| (a - w).abs() < 1e-7))
            .or_else(|| lines.first().copied());
        if let Some(turn) = line {
            let to_axis = Pose2::new(-turn, (-g).rot(-turn));
            let ring = ring.moved(&to_axis);
            let (x, origin) = match shared_centre(&ring) {
                Some(c) if c.y.abs() < SAME => (c.x, OriginKind::ArcCentre),
                _ => left_end(&ring).unwrap_or((0.0, OriginKind::Tip)),
            };
            let pose = Pose2::new(0.0, v(-x, 0.0)).after(&to_axis);
            let cross_mirror = mirrors_onto_itself(&ring, Vec2::ZERO, PI / 2.0);
            return Frame { cross_mirror, ..plain(pose, 1, true, origin) };
        }
        edge_frame(ring)
    }
}

/// The datum direction of equal arms: along the mirror line on which a corner lies farthest out, which is the
/// middle of an arm; without mirror lines, through the corner farthest out. Of equals, the first from +x.
fn arm_direction(ring: &Ring, c: Vec2, lines: &[f64]) -> f64 {
    let on_line = |p: Vec2| lines.is_empty() || lines.iter().any(|a| (p.rot(-a).y).abs() < SAME);
    let turn = |p: Vec2| {
        let a = p.angle();
        if a < -1e-9 { a + 2.0 * PI } else { a.max(0.0) }
    };
    let mut best: Option<Vec2> = None;
    for p in ring.vertices.iter().map(|q| q.p - c).filter(|p| on_line(*p)) {
        let better = best.is_none_or(|b| {
            p.norm() > b.norm() + SAME || ((p.norm() - b.norm()).abs() <= SAME && turn(p) < turn(b))
        });
        if better {
            best = Some(p);
        }
    }
    best.map_or_else(|| lines.first().copied().unwrap_or(0.0), turn)
}

/// An arm: origin in the first pin, x through the second, bend upwards.
fn arm_frame(part: &Part, a: usize, b: usize) -> Frame {
    let centre = |i: usize| match part.features[i].kind {
        FeatureKind::Hole { centre, .. } => centre,
        _ => Vec2::ZERO,
    };
    let base = |from: usize, to: usize| {
        let angle = (centre(to) - centre(from)).angle();
        Pose2::new(-angle, (-centre(from)).rot(-angle))
    };
    let bends_down = |pose: &Pose2| {
        let (lo, hi) = part.outline.moved(pose).bounds();
        hi.y + lo.y < -SAME
    };
    let (mut pose, mut pins) = (base(a, b), (a, b));
    if bends_down(&pose) {
        (pose, pins) = (base(b, a), (b, a));
    }
    Frame {
        pose,
        fold: 1,
        mirror: false,
        cross_mirror: false,
        origin: OriginKind::Pin,
        pins: Some(pins),
        pin_distance: centre(pins.0).dist(centre(pins.1)),
    }
}

/// No symmetry: the longest straight edge lies along x, the origin at its start.
fn edge_frame(ring: &Ring) -> Frame {
    let mut best: Option<(Vec2, Vec2)> = None;
    for s in ring.segs() {
        if let Seg::Line(a, b) = s
            && best.is_none_or(|(p, q)| a.dist(b) > p.dist(q) + SAME)
        {
            best = Some((a, b));
        }
    }
    let first = ring.vertices[0].p;
    let (a, b) = best.unwrap_or((first, ring.vertices[ring.vertices.len() / 2].p));
    let turn = (b - a).angle();
    Frame {
        pose: Pose2::new(-turn, (-a).rot(-turn)),
        fold: 1,
        mirror: false,
        cross_mirror: false,
        origin: OriginKind::Corner,
        pins: None,
        pin_distance: 0.0,
    }
}
