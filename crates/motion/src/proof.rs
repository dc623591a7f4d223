//! The proof of motion: the smallest clearance of every pair of parts over the whole turn.
//!
//! In: an assembly. Out: a [`Proof`].
//! Always true: for each interval of turn the distance at its middle, less the farthest any point can move
//! inside it, is a lower bound; intervals are halved until the bound decides or they reach [`FINEST`].
//! Method: bounded motion with adaptive halving, as in continuous collision checking (Schwarzer, Saha and
//! Latombe 2005, abstract read); heights are monotone in the turn, so a height overlap inside an interval
//! shows at its ends.

use crate::expect::{Expect, expect};
use crate::pose::span;
use crate::reach::path_bound;
use crate::slots;
use crate::sweep::{self, sweep};
use turnleaf_geom::{Pose2, Prepared, Vec2};
use turnleaf_parts::{Assembly, Law, Layer, Motion, Piece, Rise};

/// Smallest interval of turn, radians. Smaller: longer search; an interval this small that is still
/// undecided counts as it looks at its middle, less the bound.
pub const FINEST: f64 = 2e-5;
/// The smallest clearance is known to this, mm.
pub const TOLERANCE: f64 = 0.02;
/// Pairs farther apart than this, mm, are reported as "at least this".
pub const FAR: f64 = 40.0;
/// Clearances below this, mm, are found to a tenth.
const NEAR: f64 = 12.0;
/// Heights that overlap by less than this, mm, only touch.
const HEIGHT_TOUCH: f64 = 1e-6;

/// The result for one pair of parts.
#[derive(Clone, Debug, PartialEq)]
pub struct PairResult {
    /// First part.
    pub a: String,
    /// Second part.
    pub b: String,
    /// The pieces that come nearest.
    pub pieces: (String, String),
    /// Smallest clearance found, mm (never more than [`FAR`]); 0 or less when they overlap.
    pub distance: f64,
    /// No smaller clearance exists than this, mm.
    pub at_least: f64,
    /// Turn at which it is smallest, radians.
    pub turn: f64,
    /// Where, on the first piece, turning frame.
    pub place: Vec2,
    /// What was expected.
    pub expect: Expect,
    /// Whether the expectation is proved.
    pub holds: bool,
    /// Distances evaluated.
    pub looks: usize,
}

/// All results.
#[derive(Clone, Debug, PartialEq)]
pub struct Proof {
    /// Every pair of parts that shares a height range at some turn.
    pub pairs: Vec<PairResult>,
    /// Pairs not asked, with the reason.
    pub joined: Vec<(String, String, &'static str)>,
    /// Distances evaluated.
    pub looks: usize,
}

pub(crate) struct Body<'a> {
    pub(crate) piece: &'a Piece,
    pub(crate) layers: &'a [(Prepared, f64, f64)],
    pub(crate) reach: f64,
    /// Radius of each layer whose outer edge is a circle about the part's origin.
    discs: &'a [Option<f64>],
    whole_span: bool,
    /// Round about its own origin.
    round: bool,
    /// Slide joint in an arm's own frame.
    slide_joint: Vec2,
}

/// Height band of one layer at a turn, above the floor, or above its own piece's bottom face.
fn layer_band(a: &Assembly, b: &Body, i: usize, turn: f64, from_floor: bool) -> (f64, f64) {
    let band = if b.whole_span {
        let z = a.place(b.piece, turn).z;
        let (low, high) = span(a, b.piece, turn);
        (low - z, high - z)
    } else {
        (b.layers[i].1, b.layers[i].2)
    };
    let z = if from_floor { a.place(b.piece, turn).z } else { 0.0 };
    (band.0 + z, band.1 + z)
}

fn overlap(x: (f64, f64), y: (f64, f64)) -> bool {
    x.0 < y.1 - HEIGHT_TOUCH && y.0 < x.1 - HEIGHT_TOUCH
}

fn hull(x: (f64, f64), y: (f64, f64)) -> (f64, f64) {
    (x.0.min(y.0), x.1.max(y.1))
}

/// Pairs of layers that share a height at some turn between the two. Heights are compared against each
/// other, so that two pieces lifted together are not thought to pass through each other's heights.
pub(crate) fn sharing(a: &Assembly, x: &Body, y: &Body, low: f64, high: f64) -> Vec<(usize, usize)> {
    // Tilting and folding pieces change their band; their heights are compared above the floor instead.
    let floor = x.whole_span || y.whole_span;
    let lift = |t: f64| if floor { 0.0 } else { a.place(x.piece, t).z - a.place(y.piece, t).z };
    let (l0, l1) = (lift(low), lift(high));
    let over = |b: &Body, i: usize| hull(layer_band(a, b, i, low, floor), layer_band(a, b, i, high, floor));
    let mut out = Vec::new();
    for i in 0..x.layers.len() {
        let band = over(x, i);
        let swept = (band.0 + l0.min(l1), band.1 + l0.max(l1));
        for j in 0..y.layers.len() {
            if overlap(swept, over(y, j)) {
                out.push((i, j));
            }
        }
    }
    out
}

/// Whether two pieces never move against each other in plan.
pub(crate) fn same_motion(x: &Motion, y: &Motion) -> bool {
    let still = |m: &Motion| matches!(m, Motion::Turning(_) | Motion::Lever | Motion::Roller);
    match (x, y) {
        (Motion::Base, Motion::Base) => true,
        (Motion::Sliding { line: a, law: p, .. }, Motion::Sliding { line: b, law: q, .. }) => {
            a == b && p == q
        }
        _ => still(x) && still(y),
    }
}

/// Whether two pieces are one rigid body: same plan motion and same rise.
pub(crate) fn rigid(x: &Motion, y: &Motion) -> bool {
    let rise = |m: &Motion| match m {
        Motion::Turning(r) => Some(*r),
        Motion::Sliding { rise, .. } => Some(*rise),
        Motion::Roller => Some(Rise::Plate),
        Motion::Base => Some(Rise::None),
        Motion::Arm { .. } | Motion::Lever => None,
    };
    same_motion(x, y) && rise(x).is_some() && rise(x) == rise(y)
}

/// Looks for the smallest clearance of one class of pairs.
struct Search<'a> {
    a: &'a Assembly,
    from: f64,
    to: f64,
    best: Option<Best>,
    at_least: f64,
    looks: usize,
    /// Smallest clearance that would still hold, mm.
    required: f64,
}

struct Best {
    distance: f64,
    turn: f64,
    place: Vec2,
    pieces: (String, String),
}

impl Search<'_> {
    /// How closely the smallest clearance must be known: closely near what is required, less far from it.
    fn tolerance(&self) -> f64 {
        let coarse = ((self.bound() - self.required) / 2.5).max(TOLERANCE);
        // What is reported must be right to a tenth where it is near enough to matter.
        if self.bound() < NEAR { coarse.min(0.08) } else { coarse }
    }
    fn bound(&self) -> f64 {
        self.best.as_ref().map_or(FAR, |b| b.distance)
    }
    /// Distance at `turn` over the layer pairs that share a height anywhere in `low..high`.
    fn look(
        &mut self,
        x: &Body,
        y: &Body,
        pairs: &[(usize, usize)],
        turn: f64,
        limit: f64,
    ) -> Option<(f64, Vec2)> {
        let (px, py) = (self.a.place(x.piece, turn).pose, self.a.place(y.piece, turn).pose);
        let mut nearest: Option<(f64, Vec2)> = None;
        for &(i, j) in pairs {
            self.looks += 1;
            let limit = nearest.map_or(limit, |n| n.0);
            let found = x.layers[i].0.clearance_within(&px, &y.layers[j].0, &py, limit);
            if let Some(c) = found {
                let d = if c.penetrates {
                    -penetration(&x.layers[i].0, &px, &y.layers[j].0, &py)
                } else {
                    c.distance
                };
                if nearest.is_none_or(|n| d < n.0) {
                    nearest = Some((d, c.a));
                }
            }
        }
        nearest
    }
    fn run(&mut self, x: &Body, y: &Body) {
        let together = same_motion(&x.piece.motion, &y.piece.motion) || on_one_joint(x, y);
        if !together && (self.slide_past(x, y) || self.slide_past(y, x)) {
            return;
        }
        if self.outside_disc(x, y) || self.outside_disc(y, x) {
            return;
        }
        let mut work = vec![(self.from, self.to)];
        while let Some((low, high)) = work.pop() {
            let pairs = sharing(self.a, x, y, low, high);
            if pairs.is_empty() {
                continue;
            }
            let mid = (low + high) / 2.0;
            let m = &self.a.mechanism;
            let moved = |f: f64, t: f64| {
                if together {
                    return 0.0;
                }
                path_bound(m, &x.piece.motion, x.reach, f, t) + path_bound(m, &y.piece.motion, y.reach, f, t)
            };
            let slack = moved(low, mid).max(moved(mid, high));
            let bound = self.bound();
            let Some((d, place)) = self.look(x, y, &pairs, mid, bound + slack) else { continue };
            let here = pairs == sharing(self.a, x, y, mid, mid);
            let finest = high - low <= FINEST || (slack <= TOLERANCE / 2.0 && here);
            if d < bound && (finest || here) {
                self.best = Some(Best {
                    distance: d,
                    turn: mid,
                    place,
                    pieces: (x.piece.id.clone(), y.piece.id.clone()),
                });
            }
            let floor = d - slack;
            if floor >= self.bound() - self.tolerance() || finest {
                self.at_least = self.at_least.min(floor.min(self.bound()));
                continue;
            }
            // The nearer half first: a good bound early saves most of the work.
            work.push((low, mid));
            work.push((mid, high));
        }
    }
}

impl Search<'_> {
    /// A straight slide past a piece that does not move in plan, solved exactly. False when the pair is no
    /// such pair, when heights change between them, or when they touch: then the bounds must decide.
    fn slide_past(&mut self, slide: &Body, still: &Body) -> bool {
        let Motion::Sliding { line, law, .. } = slide.piece.motion else { return false };
        if !matches!(still.piece.motion, Motion::Turning(_) | Motion::Roller) {
            return false;
        }
        let pairs = sharing(self.a, slide, still, self.from, self.to);
        if pairs.is_empty() {
            return true;
        }
        if [self.from, self.to].iter().any(|t| sharing(self.a, slide, still, *t, *t) != pairs) {
            return false;
        }
        let m = &self.a.mechanism;
        let travel = |t: f64| match law {
            Law::Panel => m.panel_travel(t),
            Law::Leaf => m.leaf_travel(t),
        };
        let peak = m.travel_peak().clamp(self.from, self.to);
        let (s0, s1, top) = (travel(self.from), travel(self.to), travel(peak));
        let way = Vec2::polar(1.0, line);
        let range = (s0.min(s1) - s0, top - s0);
        let pose = self.a.place(slide.piece, self.from).pose;
        let still_pose = self.a.place(still.piece, self.from).pose;
        let mut nearest: Option<sweep::Nearest> = None;
        for &(i, j) in &pairs {
            self.looks += 1;
            let limit = nearest.map_or(self.bound(), |n| n.distance);
            match sweep(&slide.layers[i].0, &pose, way, range, &still.layers[j].0, &still_pose, limit) {
                Err(sweep::Touches) => return false,
                Ok(found) => nearest = found.or(nearest),
            }
        }
        if let Some(n) = nearest.filter(|n| n.distance < self.bound()) {
            // The turn on the way out at which the slide is there.
            let (mut low, mut high) = (self.from, peak);
            for _ in 0..60 {
                let mid = (low + high) / 2.0;
                if travel(mid) - s0 < n.along { low = mid } else { high = mid }
            }
            self.best = Some(Best {
                distance: n.distance,
                turn: high,
                place: n.place,
                pieces: (slide.piece.id.clone(), still.piece.id.clone()),
            });
            self.at_least = self.at_least.min(n.distance);
        }
        true
    }
}

impl Search<'_> {
    /// A piece that stands still outside a round plate that turns about the table's centre: what is cut inside the
    /// plate's edge does not matter, and the distance never changes. False when the pair is no such pair.
    fn outside_disc(&mut self, still: &Body, plate: &Body) -> bool {
        let stands = matches!(still.piece.motion, Motion::Turning(_) | Motion::Roller);
        if !stands || plate.piece.motion != Motion::Base || plate.piece.at.offset.norm() > 1e-9 {
            return false;
        }
        let pairs = sharing(self.a, still, plate, self.from, self.to);
        if pairs.is_empty() {
            return true;
        }
        if sharing(self.a, still, plate, self.from, self.from) != pairs {
            return false;
        }
        let pose = self.a.place(still.piece, self.from).pose;
        let centre = pose.inverse().apply(Vec2::ZERO);
        let mut nearest: Option<(f64, Vec2)> = None;
        for &(i, j) in &pairs {
            self.looks += 1;
            let solid = &still.layers[i].0;
            let (Some(radius), Some((n, _))) = (plate.discs[j], solid.nearest(centre)) else { return false };
            let d = n.d2.sqrt() - radius;
            if d < 1e-6 || solid.contains(centre) {
                return false;
            }
            if nearest.is_none_or(|x| d < x.0) {
                nearest = Some((d, pose.apply(n.q)));
            }
        }
        if let Some((distance, place)) = nearest.filter(|n| n.0 < self.bound()) {
            let pieces = (still.piece.id.clone(), plate.piece.id.clone());
            self.best = Some(Best { distance, turn: self.from, place, pieces });
            self.at_least = self.at_least.min(distance);
        }
        true
    }
}

impl Search<'_> {
    /// Slides the best turn found down to its local least: golden section over a degree each side, again as
    /// long as that leads to the end of the stretch.
    fn polish(&mut self, bodies: &Bodies) {
        let Some(best) = &self.best else { return };
        let find = |id: &str| self.a.pieces.iter().position(|p| p.id == id);
        let (Some(i), Some(j)) = (find(&best.pieces.0), find(&best.pieces.1)) else { return };
        let (x, y) = (bodies.body(self.a, i), bodies.body(self.a, j));
        let around = core::f64::consts::PI / 180.0;
        for _ in 0..12 {
            let Some(before) = self.best.as_ref().map(|b| (b.distance, b.turn)) else { return };
            let (from, to) = ((before.1 - around).max(self.from), (before.1 + around).min(self.to));
            self.polish_between(&x, &y, from, to);
            let Some(after) = self.best.as_ref().map(|b| (b.distance, b.turn)) else { return };
            let at_end = after.1 - from < around / 50.0 || to - after.1 < around / 50.0;
            let stuck = after.1 <= self.from || after.1 >= self.to;
            if !at_end || stuck || before.0 - after.0 < 1e-4 {
                return;
            }
        }
    }

    fn polish_between(&mut self, x: &Body, y: &Body, from: f64, to: f64) {
        let (mut low, mut high) = (from, to);
        let at = |s: &mut Search, turn: f64| {
            let pairs = sharing(s.a, x, y, turn, turn);
            s.look(x, y, &pairs, turn, FAR).unwrap_or((FAR, Vec2::ZERO))
        };
        let golden = (5f64.sqrt() - 1.0) / 2.0;
        for _ in 0..22 {
            let (p, q) = (high - golden * (high - low), low + golden * (high - low));
            if at(self, p).0 <= at(self, q).0 { high = q } else { low = p }
        }
        // Both ends as well: a least at closed or open lies on the edge of the range.
        for turn in [low, (low + high) / 2.0, high, from, to] {
            let (distance, place) = at(self, turn);
            if let Some(best) = &mut self.best
                && distance < best.distance
            {
                (best.distance, best.turn, best.place) = (distance, turn, place);
            }
        }
    }
}

/// Whether one piece is round about a joint of the other, an arm: then nothing moves in plan between them.
fn on_one_joint(x: &Body, y: &Body) -> bool {
    let meets = |arm: &Body, pin: &Body| {
        let Motion::Arm { line, law } = arm.piece.motion else { return false };
        pin.round
            && match pin.piece.motion {
                Motion::Sliding { line: l, law: w, .. } => l == line && w == law && arm.joint_at(pin, true),
                Motion::Base => arm.joint_at(pin, false),
                _ => false,
            }
    };
    meets(x, y) || meets(y, x)
}

impl Body<'_> {
    /// Whether a round piece stands exactly on this arm's slide joint or crank joint when closed.
    fn joint_at(&self, pin: &Body, slide: bool) -> bool {
        let joint = if slide { self.slide_joint } else { Vec2::ZERO };
        self.piece.at.apply(joint).dist(pin.piece.at.offset) < 1e-6
    }
}

/// Whether every outline of a part is a circle about its origin.
fn is_round(layers: &[Layer]) -> bool {
    layers.iter().flat_map(|l| l.region.rings()).all(is_circle)
}

/// Whether a ring is a circle about its part's origin.
fn is_circle(ring: &turnleaf_geom::Ring) -> bool {
    ring.segs().all(|s| matches!(s, turnleaf_geom::Seg::Arc(c) if c.centre.norm() < 1e-9))
}

/// A measure of how deep two overlapping outlines are in each other, mm: the smaller of the two greatest
/// depths of one's corners in the other.
fn penetration(x: &Prepared, px: &Pose2, y: &Prepared, py: &Pose2) -> f64 {
    let depth = |p: &Prepared, pp: &Pose2, q: &Prepared, pq: &Pose2| {
        let back = pq.inverse();
        p.edges()
            .iter()
            .map(|e| back.apply(pp.apply(e.a)))
            .filter(|v| q.contains(*v))
            .filter_map(|v| q.nearest(v).map(|n| n.0.d2.sqrt()))
            .fold(0.0, f64::max)
    };
    depth(x, px, y, py).max(depth(y, py, x, px)).max(1e-6)
}

/// Single pieces that look alike from every sector.
const ALIKE: [&str; 5] = ["star", "glide-ring", "centre-post", "hold-down-flange", "star-shaft"];

/// Proves one pair of parts between two turns (radians).
pub fn prove_pair(
    a: &Assembly,
    bodies: &Bodies,
    p: usize,
    q: usize,
    from: f64,
    to: f64,
) -> Option<(PairResult, usize)> {
    let expect = expect(&a.mechanism, &a.parts[p].id, &a.parts[q].id);
    let required = match expect {
        Expect::Clear(c) => c,
        Expect::Fit(f) => f / 2.0,
        Expect::Touch | Expect::Joined(_) => 0.0,
    };
    let mut s = Search { a, from, to, best: None, at_least: FAR, looks: 0, required };
    let mut any = false;
    for (i, j) in bodies.representatives(a, p, q) {
        let (x, y) = (bodies.body(a, i), bodies.body(a, j));
        if rigid(&x.piece.motion, &y.piece.motion) || sharing(a, &x, &y, from, to).is_empty() {
            continue;
        }
        any = true;
        s.run(&x, &y);
    }
    if !any {
        return None;
    }
    s.polish(bodies);
    let looks = s.looks;
    let (distance, turn, place, pieces) = match s.best {
        Some(b) => (b.distance, b.turn, b.place, b.pieces),
        None => (FAR, from, Vec2::ZERO, (String::new(), String::new())),
    };
    // Certain is only `at_least`; the search has made it tell on which side of the requirement it lies.
    let known = s.at_least.min(distance);
    let holds = match expect {
        Expect::Joined(_) => true,
        _ => known >= required - TOLERANCE,
    };
    Some((
        PairResult {
            a: a.parts[p].id.clone(),
            b: a.parts[q].id.clone(),
            pieces,
            distance,
            at_least: known,
            turn,
            place,
            expect,
            holds,
            looks,
        },
        looks,
    ))
}

/// Layers made ready for distance questions, once for all pairs.
pub struct Bodies {
    layers: Vec<Vec<(Prepared, f64, f64)>>,
    reach: Vec<f64>,
    discs: Vec<Vec<Option<f64>>>,
    round: Vec<bool>,
    by_part: Vec<Vec<usize>>,
    /// One piece of each orbit, for parts whose pieces look alike from every sector.
    orbits: Vec<Option<Vec<usize>>>,
}

/// Turned by one sector, does this piece stand where the other one stands, and move as it moves?
fn next_in_orbit(a: &Assembly, x: &Piece, y: &Piece, round: bool) -> bool {
    let sector = 2.0 * a.mechanism.layout.half_sector;
    let same = |p: f64, q: f64| {
        let d = (p - q).rem_euclid(2.0 * core::f64::consts::PI);
        d.min(2.0 * core::f64::consts::PI - d) < 1e-9
    };
    let moves = match (x.motion, y.motion) {
        (Motion::Sliding { line: p, law: l, rise: r }, Motion::Sliding { line: q, law: k, rise: s }) => {
            same(p + sector, q) && l == k && r == s
        }
        (Motion::Arm { line: p, law: l }, Motion::Arm { line: q, law: k }) => same(p + sector, q) && l == k,
        (p, q) => p == q,
    };
    let turned = Pose2::new(sector, Vec2::ZERO).after(&x.at);
    let faces = round || same(x.at.angle() + sector, y.at.angle());
    moves && faces && turned.offset.dist(y.at.offset) < 1e-6 && (x.z - y.z).abs() < 1e-9
}

/// One piece of each orbit; None when some piece has no counterpart in the next sector.
fn orbits(a: &Assembly, ids: &[usize], round: bool) -> Option<Vec<usize>> {
    let mut seen = vec![false; ids.len()];
    let mut first = Vec::new();
    for i in 0..ids.len() {
        if seen[i] {
            continue;
        }
        first.push(ids[i]);
        let mut at = i;
        for _ in 0..a.mechanism.sizes.sectors {
            seen[at] = true;
            at = (0..ids.len()).find(|&j| next_in_orbit(a, &a.pieces[ids[at]], &a.pieces[ids[j]], round))?;
        }
        if at != i {
            return None;
        }
    }
    (ids.len() > 1).then_some(first)
}

impl Bodies {
    /// Prepares an assembly.
    pub fn new(a: &Assembly) -> Bodies {
        let mut by_part = vec![Vec::new(); a.parts.len()];
        for (i, p) in a.pieces.iter().enumerate() {
            by_part[p.part].push(i);
        }
        let layers: Vec<Vec<(Prepared, f64, f64)>> = a
            .parts
            .iter()
            .map(|p| p.layers.iter().map(|l: &Layer| (Prepared::new(&l.region), l.z0, l.z1)).collect())
            .collect();
        let reach = layers
            .iter()
            .map(|l: &Vec<(Prepared, f64, f64)>| l.iter().map(|x| x.0.reach()).fold(0.0, f64::max))
            .collect();
        let disc = |l: &Layer| is_circle(&l.region.outer).then(|| l.region.outer.reach());
        let discs = a.parts.iter().map(|p| p.layers.iter().map(disc).collect()).collect();
        let round: Vec<bool> = a.parts.iter().map(|p| is_round(&p.layers)).collect();
        let orbits = (0..a.parts.len()).map(|p| orbits(a, &by_part[p], round[p])).collect();
        Bodies { layers, reach, discs, round, by_part, orbits }
    }
    pub(crate) fn body<'a>(&'a self, a: &'a Assembly, piece: usize) -> Body<'a> {
        let piece = &a.pieces[piece];
        let round = self.round[piece.part];
        // The base turns about the table's centre, an arm about its own origin; a round piece's own turning
        // moves nothing.
        let own = if round && piece.motion == Motion::Base { 0.0 } else { self.reach[piece.part] };
        let m = &a.mechanism;
        let slide_joint = match (piece.motion, m.arms()) {
            (Motion::Arm { law: Law::Panel, .. }, Some(arms)) => Vec2 { x: arms.panel.crank.arm, y: 0.0 },
            (Motion::Arm { law: Law::Leaf, .. }, Some(arms)) => Vec2 { x: arms.leaf.crank.arm, y: 0.0 },
            _ => Vec2::ZERO,
        };
        Body {
            piece,
            layers: &self.layers[piece.part],
            discs: &self.discs[piece.part],
            reach: own + if piece.motion == Motion::Base { piece.at.offset.norm() } else { 0.0 },
            whole_span: matches!(piece.motion, Motion::Lever | Motion::Roller),
            round,
            slide_joint,
        }
    }
    /// Pairs of pieces of two parts that stand for all pairs of them, as indices into the assembly's pieces.
    /// Sets that look alike from every sector: one piece of each orbit against all the others.
    pub(crate) fn representatives(&self, a: &Assembly, p: usize, q: usize) -> Vec<(usize, usize)> {
        let (ids_p, ids_q) = (&self.by_part[p], &self.by_part[q]);
        let (reps_p, reps_q) = (&self.orbits[p], &self.orbits[q]);
        let alike = |id: &str, reps: &Option<Vec<usize>>| reps.is_some() || ALIKE.contains(&id);
        let both = alike(&a.parts[p].id, reps_p) && alike(&a.parts[q].id, reps_q);
        let (firsts, seconds): (&[usize], &[usize]) = match (both, reps_p, reps_q) {
            (true, Some(reps), _) => (reps, ids_q),
            (true, None, Some(reps)) => (ids_p, reps),
            _ => (ids_p, ids_q),
        };
        let folded = both && reps_p.is_some();
        let pairs = firsts.iter().flat_map(|&i| seconds.iter().map(move |&j| (i, j)));
        pairs.filter(|&(i, j)| i != j && (p != q || folded || j > i)).collect()
    }
    /// Index of a part by identifier.
    pub fn part(a: &Assembly, id: &str) -> Option<usize> {
        a.parts.iter().position(|p| p.id == id)
    }
}

/// Proves every pair of parts over the whole turn.
pub fn prove(a: &Assembly) -> Proof {
    let bodies = Bodies::new(a);
    let mut out = Proof { pairs: Vec::new(), joined: Vec::new(), looks: 0 };
    for p in 0..a.parts.len() {
        for q in p..a.parts.len() {
            if let Expect::Joined(why) = expect(&a.mechanism, &a.parts[p].id, &a.parts[q].id) {
                out.joined.push((a.parts[p].id.clone(), a.parts[q].id.clone(), why));
                continue;
            }
            if slots::is_slot_pair(&a.parts[p].id, &a.parts[q].id) {
                let found = slots::prove(a, p, q);
                out.looks += found.as_ref().map_or(0, |r| r.looks);
                out.pairs.extend(found);
                continue;
            }
            if let Some((result, looks)) = prove_pair(a, &bodies, p, q, 0.0, a.mechanism.turn()) {
                out.looks += looks;
                out.pairs.push(result);
            }
        }
    }
    out
}
