//! What stands in whose way: the relations between parts from which orders and exploded views follow.
//!
//! In: the closed table. Out: for every two parts which blocks the other's way up or outward, which is pinned
//! through the other, which touch, which move as one.
//! Always true: computed from heights, plan outlines and laws of motion alone; no name of a part decides.
//! A *kind* is a part with all its pieces. Method: blocking relations of assembly by disassembly (Wilson and
//! Latombe, 1994, from memory), for straight ways along the table's axis and along a slide's own line.

use std::collections::BTreeSet;
use turnleaf_geom::{Vec2, distance::region_distance, vec2::v};
use turnleaf_parts::{Assembly, FeatureKind, Law, Motion, Piece, Rise};

/// Overlaps smaller than this do not count, mm: more than flattening loses, less than any groove's depth.
const DEEP: f64 = 0.3;
/// Faces nearer than this touch, mm: the play of pins and slides counts as touching.
const CLOSE: f64 = 0.4;
/// Flattening of arcs, mm.
const FLAT: f64 = 0.05;
/// Lines looked along in each direction when two outlines may overlap.
const LINES: usize = 9;

/// A layer of a piece in its place: rings as points, box, heights.
struct Slab {
    rings: Vec<Vec<Vec2>>,
    /// The box of each ring.
    boxes: Vec<(Vec2, Vec2)>,
    lo: Vec2,
    hi: Vec2,
    z0: f64,
    z1: f64,
}

/// Relations between the kinds of an assembly; indices are those of [`Assembly::parts`].
pub struct Relations {
    count: usize,
    up: Vec<bool>,
    out: Vec<bool>,
    through: Vec<bool>,
    touch: Vec<bool>,
    over: Vec<bool>,
    /// Lowest bottom of each kind, mm.
    pub bottom: Vec<f64>,
    /// Highest top of each kind, mm.
    pub top: Vec<f64>,
    /// Plan area of one piece of each kind, mm².
    pub area: Vec<f64>,
    /// Whether its pieces slide along lines of their own.
    pub slides: Vec<bool>,
}

/// What moves as one: pieces with equal keys. Sliding pieces by law and line, whether they rise or not.
fn carrier(m: &Motion) -> (u8, i64) {
    let line = |l: f64| (l * 1e6).round() as i64;
    match *m {
        Motion::Base => (0, 0),
        Motion::Turning(Rise::None) => (1, 0),
        Motion::Turning(Rise::Plate) | Motion::Roller => (2, 0),
        Motion::Turning(Rise::Star) => (3, 0),
        Motion::Lever => (4, 0),
        Motion::Arm { line: l, law } => (if law == Law::Panel { 5 } else { 6 }, line(l)),
        Motion::Sliding { line: l, law, .. } => (if law == Law::Panel { 7 } else { 8 }, line(l)),
    }
}

fn bounds(rings: &[Vec<Vec2>]) -> (Vec2, Vec2) {
    let (mut lo, mut hi) = (v(f64::INFINITY, f64::INFINITY), v(f64::NEG_INFINITY, f64::NEG_INFINITY));
    for p in rings.iter().flatten() {
        (lo, hi) = (v(lo.x.min(p.x), lo.y.min(p.y)), v(hi.x.max(p.x), hi.y.max(p.y)));
    }
    (lo, hi)
}

/// Where the line y = `at` (or x = `at`) runs inside rings, even-odd.
fn spans(rings: &[Vec<Vec2>], at: f64, level: bool) -> Vec<(f64, f64)> {
    let pick = |p: Vec2| if level { (p.y, p.x) } else { (p.x, p.y) };
    let mut cuts = Vec::new();
    for ring in rings {
        for (i, p) in ring.iter().enumerate() {
            let (a, b) = (pick(*p), pick(ring[(i + 1) % ring.len()]));
            if (a.0 <= at) != (b.0 <= at) {
                cuts.push(a.1 + (b.1 - a.1) * (at - a.0) / (b.0 - a.0));
            }
        }
    }
    cuts.sort_by(f64::total_cmp);
    cuts.chunks_exact(2).map(|c| (c[0], c[1])).collect()
}

/// The stretches that two lists of spans share, if longer than `DEEP`.
fn shared(a: &[(f64, f64)], b: &[(f64, f64)]) -> Vec<(f64, f64)> {
    let mut out = Vec::new();
    for p in a {
        for q in b {
            let (from, to) = (p.0.max(q.0), p.1.min(q.1));
            if to - from > DEEP {
                out.push((from, to));
            }
        }
    }
    out
}

/// Whether two sets of rings overlap deeper than `DEEP` both ways.
fn overlap(a: &[Vec<Vec2>], b: &[Vec<Vec2>]) -> bool {
    let ((alo, ahi), (blo, bhi)) = (bounds(a), bounds(b));
    let lo = v(alo.x.max(blo.x), alo.y.max(blo.y));
    let hi = v(ahi.x.min(bhi.x), ahi.y.min(bhi.y));
    if hi.x - lo.x <= DEEP || hi.y - lo.y <= DEEP {
        return false;
    }
    for level in [true, false] {
        for k in 0..LINES {
            // Not through the middle, where outlines have their corners.
            let t = (k as f64 + 0.47) / LINES as f64;
            let at = if level { lo.y + (hi.y - lo.y) * t } else { lo.x + (hi.x - lo.x) * t };
            for (from, to) in shared(&spans(a, at, level), &spans(b, at, level)) {
                let cross = (from + to) / 2.0 + DEEP * 0.03;
                let other = shared(&spans(a, cross, !level), &spans(b, cross, !level));
                if other.iter().any(|s| s.0 <= at && at <= s.1) {
                    return true;
                }
            }
        }
    }
    false
}

/// Whether `b` has something farther along x than the near end of `a` on some line both share.
fn in_the_way(a: &[Vec<Vec2>], b: &[Vec<Vec2>]) -> bool {
    let ((alo, ahi), (blo, bhi)) = (bounds(a), bounds(b));
    let (lo, hi) = (alo.y.max(blo.y), ahi.y.min(bhi.y));
    if hi - lo <= DEEP || bhi.x <= alo.x + DEEP {
        return false;
    }
    (0..LINES).any(|k| {
        let y = lo + (hi - lo) * (k as f64 + 0.47) / LINES as f64;
        let near = spans(a, y, true).first().map(|s| s.0);
        let far = spans(b, y, true).last().map(|s| s.1);
        matches!((near, far), (Some(n), Some(f)) if f > n + DEEP)
    })
}

fn turned(rings: &[Vec<Vec2>], angle: f64) -> Vec<Vec<Vec2>> {
    let (s, c) = turnleaf_geom::trig::sin_cos(-angle);
    let turn = |p: &Vec2| v(p.x * c - p.y * s, p.x * s + p.y * c);
    rings.iter().map(|r| r.iter().map(turn).collect()).collect()
}

fn apart(a: &Slab, b: &Slab) -> bool {
    let (p, q) = ((a.lo + a.hi) * 0.5, (b.lo + b.hi) * 0.5);
    let reach = (a.hi.dist(a.lo) + b.hi.dist(b.lo)) / 2.0;
    p.dist(q) > reach
        || a.lo.x >= b.hi.x - DEEP
        || b.lo.x >= a.hi.x - DEEP
        || a.lo.y >= b.hi.y - DEEP
        || b.lo.y >= a.hi.y - DEEP
}

impl Slab {
    /// The rings that reach another slab's box. A hole that does not lies wholly beside it and says nothing there.
    fn near(&self, o: &Slab) -> Vec<Vec<Vec2>> {
        let reaches =
            |b: &(Vec2, Vec2)| b.0.x <= o.hi.x && o.lo.x <= b.1.x && b.0.y <= o.hi.y && o.lo.y <= b.1.y;
        let rings = self.rings.iter().zip(&self.boxes).filter(|r| reaches(r.1));
        rings.map(|r| r.0.clone()).collect()
    }
}

/// Whether `t` lies wholly beside the way of `s` along a direction, or wholly behind it: by the circles round their
/// boxes, before anything is turned.
fn beside(s: &Slab, t: &Slab, direction: f64) -> bool {
    let between = ((t.lo + t.hi) * 0.5 - (s.lo + s.hi) * 0.5).rot(-direction);
    let reach = (s.hi.dist(s.lo) + t.hi.dist(t.lo)) / 2.0;
    between.y.abs() > reach || between.x < -reach
}

struct Posed<'a> {
    piece: &'a Piece,
    place: turnleaf_parts::piece::Place,
    slabs: Vec<Slab>,
    angle: f64,
}

/// How two pieces stand to one another, whichever way the pair is turned about the axis: their kinds, whether they
/// move as one, the second's place and direction seen from the first, the first's own line, in steps of 10 nm.
fn arrangement(p: &Posed, q: &Posed) -> (usize, usize, bool, [i64; 5]) {
    let (pp, qp) = (&p.place, &q.place);
    let steps = |x: f64| (x * 1e5).round() as i64;

    let turn = |d: f64| {
        let whole = 2.0 * core::f64::consts::PI;
        let d = d - (d / whole).floor() * whole;
        if whole - d < 1e-6 { 0 } else { steps(d * 10.0) }
    };
    let from = (qp.pose.offset - pp.pose.offset).rot(-pp.pose.angle());
    let rigid = carrier(&p.piece.motion) == carrier(&q.piece.motion);
    let key = [
        steps(from.x),
        steps(from.y),
        steps(qp.z - pp.z),
        turn(qp.pose.angle() - pp.pose.angle()),
        turn(p.angle - pp.pose.angle()),
    ];
    (p.piece.part, q.piece.part, rigid, key)
}

impl Relations {
    /// All relations of the closed table.
    pub fn of(a: &Assembly) -> Relations {
        let n = a.parts.len();
        let flat: Vec<Vec<Vec<Vec<Vec2>>>> = a
            .parts
            .iter()
            .map(|p| p.layers.iter().map(|l| l.region.rings().map(|r| r.flatten(FLAT)).collect()).collect())
            .collect();
        let posed: Vec<Posed> = a
            .pieces
            .iter()
            .map(|piece| {
                let place = a.place(piece, 0.0);
                let slabs = a.part_of(piece).layers.iter().zip(&flat[piece.part]).map(|(l, rings)| {
                    let rings: Vec<Vec<Vec2>> =
                        rings.iter().map(|r| r.iter().map(|p| place.pose.apply(*p)).collect()).collect();
                    let (lo, hi) = bounds(&rings);
                    let boxes = rings.iter().map(|r| bounds(core::slice::from_ref(r))).collect();
                    Slab { rings, boxes, lo, hi, z0: place.z + l.z0, z1: place.z + l.z1 }
                });
                let angle = match piece.motion {
                    Motion::Sliding { line, .. } => line,
                    _ => place.pose.angle(),
                };
                Posed { piece, slabs: slabs.collect(), angle, place }
            })
            .collect();
        let mut r = Relations {
            count: n,
            up: vec![false; n * n],
            out: vec![false; n * n],
            through: vec![false; n * n],
            touch: vec![false; n * n],
            over: vec![false; n * n],
            bottom: vec![f64::INFINITY; n],
            top: vec![f64::NEG_INFINITY; n],
            area: a.parts.iter().map(|p| p.outline.area()).collect(),
            slides: vec![false; n],
        };
        for p in &posed {
            let k = p.piece.part;
            r.bottom[k] = p.slabs.iter().map(|s| s.z0).fold(r.bottom[k], f64::min);
            r.top[k] = p.slabs.iter().map(|s| s.z1).fold(r.top[k], f64::max);
            r.slides[k] |= matches!(p.piece.motion, Motion::Sliding { .. });
        }
        // Round a table most pairs are copies of one another: each arrangement of two kinds is looked at once.
        let mut seen = BTreeSet::new();
        for p in &posed {
            for q in &posed {
                if p.piece.part != q.piece.part && seen.insert(arrangement(p, q)) {
                    r.look(a, p, q);
                }
            }
        }
        r
    }

    /// Enters what `q` does to `p`.
    fn look(&mut self, a: &Assembly, p: &Posed, q: &Posed) {
        let at = p.piece.part * self.count + q.piece.part;
        let back = q.piece.part * self.count + p.piece.part;
        let slides = matches!(p.piece.motion, Motion::Sliding { .. });
        let rigid = carrier(&p.piece.motion) == carrier(&q.piece.motion);
        for s in &p.slabs {
            for t in &q.slabs {
                if !self.up[at] && t.z1 > s.z0 + DEEP && !apart(s, t) {
                    self.up[at] = overlap(&turned(&s.near(t), p.angle), &turned(&t.near(s), p.angle));
                }
                let level = t.z1 > s.z0 + DEEP && s.z1 > t.z0 + DEEP;
                if slides && !self.out[at] && level && !beside(s, t, p.angle) {
                    self.out[at] = in_the_way(&turned(&s.rings, p.angle), &turned(&t.rings, p.angle));
                }
                if rigid && !self.over[at] && (s.z1 - t.z0).abs() < CLOSE && !apart(s, t) {
                    // q lies upon p.
                    self.over[at] = overlap(&s.near(t), &t.near(s));
                    self.touch[at] |= self.over[at];
                    self.touch[back] |= self.over[at];
                }
            }
        }
        let level = q.slabs.iter().any(|t| p.slabs.iter().any(|s| t.z1 > s.z0 + DEEP && s.z1 > t.z0 + DEEP));
        if !level {
            return;
        }
        if rigid && !self.touch[at] && p.piece.part < q.piece.part {
            let near = p.slabs.iter().any(|s| {
                q.slabs.iter().any(|t| {
                    s.lo.x <= t.hi.x + CLOSE
                        && t.lo.x <= s.hi.x + CLOSE
                        && s.lo.y <= t.hi.y + CLOSE
                        && t.lo.y <= s.hi.y + CLOSE
                })
            });
            if near {
                let (pp, qp) = (p.place.pose, q.place.pose);
                let near = a.part_of(p.piece).layers.iter().any(|s| {
                    let s = s.region.moved(&pp);
                    a.part_of(q.piece)
                        .layers
                        .iter()
                        .any(|t| region_distance(&s, &t.region.moved(&qp)).distance < CLOSE)
                });
                self.touch[at] |= near;
                self.touch[back] |= near;
            }
        }
        // Whether p, being round, stands in a hole of q.
        let middle = p.place.pose.offset;
        let pose = q.place.pose;
        let (plo, phi) = a.part_of(p.piece).outline.bounds();
        if !self.through[at] && ((plo + phi) * 0.5).norm() < 1e-6 {
            let radius = (phi.x - plo.x) / 2.0;
            self.through[at] = a.part_of(q.piece).features.iter().any(|f| match f.kind {
                FeatureKind::Hole { centre, diameter, .. } => {
                    diameter / 2.0 - radius < 3.0
                        && diameter / 2.0 > radius - 0.01
                        && pose.apply(centre).dist(middle) < 0.5
                }
                _ => false,
            });
        }
    }

    /// Whether `by` stands in the way of `kind` going up.
    pub fn blocks_up(&self, kind: usize, by: usize) -> bool {
        self.up[kind * self.count + by]
    }
    /// Whether `by` stands in the way of `kind` sliding outward; only for kinds that slide.
    pub fn blocks_out(&self, kind: usize, by: usize) -> bool {
        self.out[kind * self.count + by]
    }
    /// Whether a round kind stands in a hole of the other.
    pub fn through(&self, pin: usize, host: usize) -> bool {
        self.through[pin * self.count + host]
    }
    /// Whether two kinds that move as one touch.
    pub fn touch(&self, a: usize, b: usize) -> bool {
        self.touch[a * self.count + b]
    }
    /// Whether `upper` lies upon `lower`, both moving as one.
    pub fn lies_on(&self, upper: usize, lower: usize) -> bool {
        self.over[lower * self.count + upper]
    }
    /// Whether neither can leave the other along the table's axis: a tongue in a groove.
    pub fn captive(&self, a: usize, b: usize) -> bool {
        self.blocks_up(a, b) && self.blocks_up(b, a)
    }
    /// The kind that this one hangs from: its only neighbour among those it moves with, lying upon it or holding it
    /// in a blind hole from below. A pin that stands in both is not asked: it leaves before.
    pub fn hangs_from(&self, kind: usize) -> Option<usize> {
        let neighbours: Vec<usize> = (0..self.count).filter(|&o| self.touch(kind, o)).collect();
        let pinned = |pin: usize, o: usize| self.through(pin, kind) && self.through(pin, o);
        let only = match neighbours[..] {
            [only] => only,
            [a, b] if pinned(a, b) => b,
            [a, b] if pinned(b, a) => a,
            _ => return None,
        };
        let alone = self.bottom[kind] > 1.0;
        let held = self.lies_on(only, kind) || self.through(kind, only) && self.blocks_up(kind, only);
        (alone && held).then_some(only)
    }
}
