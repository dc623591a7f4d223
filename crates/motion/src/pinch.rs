//! Places where a finger can be pinched while the top turns.
//!
//! In: an assembly. Out: [`Pinch`]es: two pieces, the stretch of turn in which the gap between them is narrower
//! than a finger needs, how wide and how narrow it gets, and where.
//! Always true: stretches are bounded like the proof: a turn left out is one at which the gap is certainly wide
//! enough; the ends of a stretch are at most [`FINE`] too far out, never too far in. Gaps that stay so narrow
//! that no finger enters are left out, and so are gaps nobody can reach: under the closed top, between the
//! plates, inside the glide ring.

use crate::expect::{Expect, expect};
use crate::proof::{Bodies, Body, rigid, same_motion, sharing};
use crate::reach::path_bound;
use turnleaf_geom::{Prepared, Vec2, trig};
use turnleaf_parts::{Assembly, Motion};

/// A gap at least this wide does not crush a finger, mm: ISO 13854:2017 (EN 349), minimum gaps, finger 25 mm (from
/// memory).
pub const FINGER: f64 = 25.0;
/// Into a gap no wider than this no finger enters, mm: furniture standards ask for moving gaps of at most 8 mm or
/// at least 25 mm (EN 12521, shear and squeeze points, from memory).
pub const ENTERS: f64 = 8.0;
/// How far a hand reaches in under the rim, mm. Common practice, no source.
pub const HAND: f64 = 120.0;
/// Ends of stretches are known to this, radians.
pub const FINE: f64 = 0.2 * core::f64::consts::PI / 180.0;
/// Inside a stretch the gap is looked at this often, radians.
const COARSE: f64 = 1.0 * core::f64::consts::PI / 180.0;
/// A gap that changes by less than this, mm, only keeps its width.
const CHANGES: f64 = 1.0;

/// From where a hand gets there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Access {
    /// From above, on the top.
    Above,
    /// From below, at the rim.
    Rim,
}

/// A gap that can pinch.
#[derive(Clone, Debug, PartialEq)]
pub struct Pinch {
    /// First part.
    pub a: String,
    /// Second part.
    pub b: String,
    /// Two pieces that stand for all alike.
    pub pieces: (String, String),
    /// Turn at which the gap becomes narrower than a finger needs, radians.
    pub from: f64,
    /// Turn from which it is wide enough again, radians.
    pub to: f64,
    /// Widest in that stretch, mm, at most [`FINGER`].
    pub widest: f64,
    /// Narrowest, mm.
    pub narrowest: f64,
    /// Turn at which it is narrowest, radians.
    pub at: f64,
    /// Where it is narrowest, turning frame, mm.
    pub place: Vec2,
    /// From where a hand gets there.
    pub access: Access,
    /// Whether the gap narrows as the table opens; otherwise as it closes.
    pub opening: bool,
}

/// The gap at one turn.
#[derive(Clone, Copy)]
struct Gap {
    turn: f64,
    width: f64,
    place: Vec2,
}

/// A stretch in which the gap is too narrow.
struct Stretch {
    from: f64,
    to: f64,
    seen: Vec<Gap>,
}

/// Who covers what.
struct Reach<'a> {
    a: &'a Assembly,
    /// Prepared outlines of the top pieces: index of the piece, its outline.
    top: Vec<(usize, Prepared)>,
    /// Radius inside which the glide ring shuts the room of base and drive, and that room's heights.
    shut: Option<(f64, f64, f64)>,
}

impl<'a> Reach<'a> {
    fn new(a: &'a Assembly) -> Reach<'a> {
        let top = a.pieces.iter().enumerate().filter(|(_, p)| TOP.contains(&a.part_of(p).id.as_str()));
        let ring = a.part("glide-ring").and_then(|r| r.layers.first());
        let inside = ring.and_then(|l| l.region.holes.first()).map(|h| h.reach());
        let st = &a.mechanism.stack;
        Reach {
            a,
            top: top.map(|(i, p)| (i, Prepared::new(&a.part_of(p).outline.clone().into()))).collect(),
            shut: inside.map(|r| (r, st.base.bottom, st.turning_plate.bottom)),
        }
    }
    /// Whether a hand may get between two pieces at any turn: from above where one of them belongs to the top, from
    /// the rim where both come out far enough. Pairs left out here would be looked at for nothing.
    fn possible(&self, far: &[f64], i: usize, j: usize) -> bool {
        let rim = self.a.mechanism.layout.radius - HAND;
        self.top.iter().any(|(k, _)| *k == i || *k == j) || far[i].min(far[j]) >= rim - FINGER
    }
    /// How a hand gets to a place between two heights at a turn; None when it does not.
    fn access(&self, g: &Gap, (low, high): (f64, f64), own: (usize, usize)) -> Option<Access> {
        let covers = |(i, outline): &(usize, Prepared)| {
            let piece = &self.a.pieces[*i];
            let place = self.a.place(piece, g.turn);
            let above = place.z + self.a.part_of(piece).thickness > high + 1e-6;
            *i != own.0 && *i != own.1 && above && outline.contains(place.pose.inverse().apply(g.place))
        };
        if self.top.iter().any(|(i, _)| *i == own.0 || *i == own.1) && !self.top.iter().any(covers) {
            return Some(Access::Above);
        }
        let shut = self
            .shut
            .is_some_and(|(r, floor, roof)| g.place.norm() < r && low >= floor - 1e-6 && high <= roof + 1e-6);
        (!shut && g.place.norm() > self.a.mechanism.layout.radius - HAND).then_some(Access::Rim)
    }
}

/// Parts that are seen from above.
const TOP: [&str; 3] = ["panel", "leaf", "star"];

/// Turns at which a piece that swings is looked at for how far out it comes.
const LOOKS: usize = 24;

/// No less than how far out a piece comes over the whole turn, mm.
fn farthest(a: &Assembly, piece: &turnleaf_parts::Piece) -> f64 {
    let outline = &a.part_of(piece).outline;
    let at = |turn: f64| outline.moved(&a.place(piece, turn).pose).reach();
    let whole = a.mechanism.turn();
    if matches!(piece.motion, Motion::Turning(_) | Motion::Base) {
        return at(0.0);
    }
    let step = whole / LOOKS as f64;
    let reach = outline.reach();
    (0..=LOOKS)
        .map(|k| {
            let (turn, next) = (step * k as f64, (step * (k + 1) as f64).min(whole));
            at(turn) + path_bound(&a.mechanism, &piece.motion, reach, turn, next)
        })
        .fold(0.0, f64::max)
}

struct Hunt<'a> {
    a: &'a Assembly,
    bodies: &'a Bodies,
    reach: Reach<'a>,
}

impl Hunt<'_> {
    /// The gap in plan at a turn, if narrower than `limit`; none when the pieces share no height there.
    fn gap(&self, x: &Body, y: &Body, turn: f64, limit: f64) -> Option<Gap> {
        let (px, py) = (self.a.place(x.piece, turn).pose, self.a.place(y.piece, turn).pose);
        let mut best: Option<Gap> = None;
        for (i, j) in sharing(self.a, x, y, turn, turn) {
            let limit = best.map_or(limit, |g| g.width);
            if let Some(c) = x.layers[i].0.clearance_within(&px, &y.layers[j].0, &py, limit) {
                let width = if c.penetrates { 0.0 } else { c.distance };
                best = Some(Gap { turn, width, place: c.a });
            }
        }
        best
    }
    /// Stretches of turn in which the gap of two pieces may be narrower than a finger needs.
    fn stretches(&self, x: &Body, y: &Body) -> Vec<Stretch> {
        let m = &self.a.mechanism;
        let moved = |f: f64, t: f64| {
            path_bound(m, &x.piece.motion, x.reach, f, t) + path_bound(m, &y.piece.motion, y.reach, f, t)
        };
        let mut out: Vec<Stretch> = Vec::new();
        // A stack with the earlier half on top: stretches come in order.
        let mut work = vec![(0.0, m.turn())];
        while let Some((low, high)) = work.pop() {
            let mid = (low + high) / 2.0;
            if sharing(self.a, x, y, low, high).is_empty() {
                continue;
            }
            let slack = moved(low, mid).max(moved(mid, high));
            let gap = self.gap(x, y, mid, FINGER + slack);
            let here = !sharing(self.a, x, y, mid, mid).is_empty();
            if here && gap.is_none() {
                continue;
            }
            // Certainly too narrow all along: looked at as often as its narrowest turn asks for.
            let narrow = gap.is_some_and(|g| g.width + slack < FINGER) && high - low <= COARSE;
            if high - low > FINE && !narrow {
                work.push((mid, high));
                work.push((low, mid));
                continue;
            }
            let Some(gap) = gap else { continue };
            let mut seen = vec![gap];
            // Both ends of the whole turn are looked at as they are.
            for end in [low, high] {
                if end == 0.0 || end == m.turn() {
                    seen.extend(self.gap(x, y, end, FINGER));
                }
            }
            match out.last_mut() {
                Some(last) if low <= last.to + 1e-12 => {
                    last.to = high;
                    last.seen.extend(seen);
                }
                _ => out.push(Stretch { from: low, to: high, seen }),
            }
        }
        out
    }
    fn pinches(&self, i: usize, j: usize) -> Vec<Pinch> {
        let (x, y) = (self.bodies.body(self.a, i), self.bodies.body(self.a, j));
        let mut out = Vec::new();
        for s in self.stretches(&x, &y) {
            let band = |turn: f64| {
                let of = |b: &Body| crate::pose::span(self.a, b.piece, turn);
                let (p, q) = (of(&x), of(&y));
                (p.0.max(q.0), p.1.min(q.1))
            };
            let mut reached: Vec<(&Gap, Access)> = Vec::new();
            for g in &s.seen {
                reached.extend(self.reach.access(g, band(g.turn), (i, j)).map(|access| (g, access)));
            }
            let wide = reached.iter().max_by(|p, q| p.0.width.total_cmp(&q.0.width));
            let narrow = reached.iter().min_by(|p, q| p.0.width.total_cmp(&q.0.width));
            let (Some((wide, _)), Some((narrow, access))) = (wide, narrow) else { continue };
            if wide.width <= ENTERS || wide.width - narrow.width < CHANGES || narrow.width >= FINGER {
                continue;
            }
            out.push(Pinch {
                a: self.a.part_of(x.piece).id.clone(),
                b: self.a.part_of(y.piece).id.clone(),
                pieces: (x.piece.id.clone(), y.piece.id.clone()),
                from: s.from,
                to: s.to,
                widest: wide.width.min(FINGER),
                narrowest: narrow.width,
                at: narrow.turn,
                place: narrow.place,
                access: *access,
                opening: narrow.turn > wide.turn,
            });
        }
        out
    }
    /// Gap in height between two pieces of which one rises and which never move against each other in plan.
    fn heights(&self, i: usize, j: usize) -> Option<Pinch> {
        let (x, y) = (self.bodies.body(self.a, i), self.bodies.body(self.a, j));
        let m = &self.a.mechanism;
        let at = |turn: f64| {
            let (p, q) = (crate::pose::span(self.a, x.piece, turn), crate::pose::span(self.a, y.piece, turn));
            (p.0 - q.1).max(q.0 - p.1)
        };
        // Heights go one way through the whole lift.
        let (closed, open) = (at(0.0), at(m.turn()));
        let (wide, narrow) = (closed.max(open), closed.min(open));
        if !(-1e-6..FINGER).contains(&narrow) || wide <= ENTERS || wide - narrow < CHANGES {
            return None;
        }
        // Where both lie one above the other nearest the rim.
        let (px, py) = (self.a.place(x.piece, 0.0).pose, self.a.place(y.piece, 0.0).pose);
        let over = x.layers.iter().any(|(p, ..)| {
            y.layers.iter().any(|(q, ..)| p.clearance_within(&px, q, &py, 1e-3).is_some_and(|c| c.penetrates))
        });
        if !over {
            return None;
        }
        let edge = |b: &Body| self.a.part_of(b.piece).outline.moved(&self.a.place(b.piece, 0.0).pose).reach();
        let place = Vec2::polar(edge(&x).min(edge(&y)), 0.0);
        let (p, q) = (crate::pose::span(self.a, x.piece, 0.0), crate::pose::span(self.a, y.piece, 0.0));
        let band = (p.1.min(q.1), p.0.max(q.0));
        let opening = open < closed;
        let turn = if opening { m.turn() } else { 0.0 };
        let gap = Gap { turn, width: narrow, place };
        // Only from the rim: what lies between is under the top.
        let access = self.reach.access(&gap, band, (usize::MAX, usize::MAX))?;
        // The stretch of the lift in which the gap is too narrow.
        let (mut low, mut high) = (m.lift_begins(), m.lift_ends());
        let (from, to) = if wide < FINGER {
            (low, high)
        } else {
            for _ in 0..60 {
                let mid = (low + high) / 2.0;
                if (at(mid) < FINGER) == opening { high = mid } else { low = mid }
            }
            if opening { (low, m.lift_ends()) } else { (m.lift_begins(), high) }
        };
        Some(Pinch {
            a: self.a.part_of(x.piece).id.clone(),
            b: self.a.part_of(y.piece).id.clone(),
            pieces: (x.piece.id.clone(), y.piece.id.clone()),
            from,
            to,
            widest: wide.min(FINGER),
            narrowest: narrow,
            at: if opening { to } else { from },
            place,
            access,
            opening,
        })
    }
}

/// Pieces that only turn or hang with the top.
fn hangs(m: &Motion) -> bool {
    matches!(m, Motion::Turning(_))
}

/// Every gap that can pinch, one for each pair of parts and stretch, from above first, then in order of turn.
pub fn pinch_points(a: &Assembly) -> Vec<Pinch> {
    let bodies = Bodies::new(a);
    let hunt = Hunt { a, bodies: &bodies, reach: Reach::new(a) };
    let far: Vec<f64> = a.pieces.iter().map(|p| farthest(a, p)).collect();
    let (mut out, mut lifted): (Vec<Pinch>, Vec<Pinch>) = (Vec::new(), Vec::new());
    for p in 0..a.parts.len() {
        for q in p..a.parts.len() {
            // What is joined or fits closely leaves no gap for a finger.
            let close = match expect(&a.mechanism, &a.parts[p].id, &a.parts[q].id) {
                Expect::Joined(_) => true,
                Expect::Fit(f) => f <= ENTERS / 2.0 && !(TOP.contains(&a.parts[p].id.as_str())),
                Expect::Clear(_) | Expect::Touch => false,
            };
            if close {
                continue;
            }
            let mut found: Vec<Pinch> = Vec::new();
            for (i, j) in bodies.representatives(a, p, q) {
                let (x, y) = (&a.pieces[i].motion, &a.pieces[j].motion);
                if rigid(x, y) {
                    continue;
                }
                if same_motion(x, y) {
                    if hangs(x) && hangs(y) && a.parts[p].made && a.parts[q].made {
                        lifted.extend(hunt.heights(i, j));
                    }
                    continue;
                }
                if hunt.reach.possible(&far, i, j) {
                    found.extend(hunt.pinches(i, j));
                }
            }
            merge(&mut found);
            out.extend(found);
        }
    }
    // Plates, guides and ring stand in one gap: the narrowest of them speaks for it.
    lifted.sort_by(|x, y| {
        x.narrowest.total_cmp(&y.narrowest).then((x.from - x.to).total_cmp(&(y.from - y.to)))
    });
    out.extend(lifted.into_iter().next());
    out.sort_by(|x, y| {
        (x.access == Access::Rim).cmp(&(y.access == Access::Rim)).then(x.from.total_cmp(&y.from))
    });
    out
}

/// One pinch for all pieces of two parts whose stretches run into each other: the widest stretch, the narrowest gap.
fn merge(found: &mut Vec<Pinch>) {
    found.sort_by(|x, y| x.from.total_cmp(&y.from));
    let mut out: Vec<Pinch> = Vec::new();
    for p in found.drain(..) {
        match out.iter_mut().find(|o| p.from <= o.to + FINE && p.access == o.access) {
            Some(o) => {
                let (to, widest) = (o.to.max(p.to), o.widest.max(p.widest));
                if p.narrowest < o.narrowest {
                    *o = Pinch { from: o.from, ..p };
                }
                (o.to, o.widest) = (to, widest);
            }
            None => out.push(p),
        }
    }
    *found = out;
}

impl Pinch {
    /// Turn of both ends, degrees.
    pub fn degrees(&self) -> (f64, f64) {
        (trig::deg(self.from), trig::deg(self.to))
    }
}
