//! Pins in the slots of the cam plate, over the whole turn.
//!
//! In: an assembly, a set of slide pins, the plate. Out: a [`PairResult`], the least play between a pin and the
//! walls of its slot.
//! Always true: nothing is taken from how the slot was drawn: a pin's slot is the opening its centre stands in,
//! and its way is the slide's own, turned against the base. The distance of the pin's centre from the walls at
//! the middle of an interval, less how far the centre moves inside it, bounds the play in the whole interval;
//! walls too far away to matter in an interval are left out in its halves.

use crate::expect::{Expect, expect};
use crate::proof::{FINEST, PairResult, TOLERANCE};
use crate::reach::path_bound;
use turnleaf_geom::edge::Edge;
use turnleaf_geom::{Pose2, Prepared, Region, Ring, Vec2, trig};
use turnleaf_parts::{Assembly, Piece, layers};

/// Whether a pair is a pin and the plate with its slot.
pub(crate) fn is_slot_pair(p: &str, q: &str) -> bool {
    ["panel-slide-pin", "leaf-slide-pin"].contains(&p) && q == "cam-plate"
}

/// Two outlines farther apart than this, mm, are not copies of one another.
const ALIKE: f64 = 1e-6;

/// One pin on its way through its slot.
struct Way<'a> {
    a: &'a Assembly,
    pin: &'a Piece,
    plate: &'a Piece,
    walls: Vec<Edge>,
    radius: f64,
    farthest: f64,
}

/// The least play found, and no less than which there is.
struct Play {
    found: f64,
    turn: f64,
    at_least: f64,
    looks: usize,
}

impl Way<'_> {
    /// The pin's centre in the plate's own frame.
    fn centre(&self, turn: f64) -> Vec2 {
        let pin = self.a.place(self.pin, turn).pose.offset;
        self.a.place(self.plate, turn).pose.inverse().apply(pin)
    }
    /// How far the centre can move against the plate between two turns, mm.
    fn moves(&self, from: f64, to: f64) -> f64 {
        path_bound(&self.a.mechanism, &self.pin.motion, 0.0, from, to) + self.farthest * (to - from)
    }
    fn least(&self, required: f64) -> Play {
        let whole = self.a.mechanism.turn();
        let mut play = Play { found: f64::INFINITY, turn: 0.0, at_least: f64::INFINITY, looks: 0 };
        let mut work = vec![(0.0, whole, (0..self.walls.len()).collect::<Vec<usize>>())];
        while let Some((low, high, walls)) = work.pop() {
            let mid = (low + high) / 2.0;
            let p = self.centre(mid);
            let slack = self.moves(low, mid).max(self.moves(mid, high));
            let far: Vec<f64> = walls.iter().map(|&i| self.walls[i].nearest(p).d2.sqrt()).collect();
            play.looks += 1;
            let d = far.iter().copied().fold(f64::INFINITY, f64::min) - self.radius;
            if d < play.found {
                (play.found, play.turn) = (d, mid);
            }
            let floor = d - slack;
            let enough = ((play.found - required) / 1.5).max(TOLERANCE);
            if floor >= play.found - enough || high - low <= FINEST {
                play.at_least = play.at_least.min(floor);
                continue;
            }
            // What is farther off than this cannot become the nearest inside the interval.
            let near = d + self.radius + 2.0 * slack;
            let walls: Vec<usize> =
                walls.iter().zip(&far).filter(|(_, f)| **f <= near).map(|(i, _)| *i).collect();
            work.push((low, mid, walls.clone()));
            work.push((mid, high, walls));
        }
        play
    }
}

/// Whether one outline is the other turned by an angle.
fn turned(one: &Ring, by: f64, other: &Ring) -> bool {
    let (sin, cos) = trig::sin_cos(by);
    one.vertices.len() == other.vertices.len()
        && one.vertices.iter().zip(&other.vertices).all(|(x, y)| {
            let p = Vec2 { x: cos * x.p.x - sin * x.p.y, y: sin * x.p.x + cos * x.p.y };
            p.dist(y.p) < ALIKE && (x.bulge - y.bulge).abs() < 1e-9
        })
}

/// Least play of a set of pins in the plate's slots; None when there are no pins or no plate.
pub(crate) fn prove(a: &Assembly, p: usize, q: usize) -> Option<PairResult> {
    let (pin_part, plate_part) = (&a.parts[p], &a.parts[q]);
    let plate = a.pieces.iter().find(|x| x.part == q)?;
    let intended = expect(&a.mechanism, &pin_part.id, &plate_part.id);
    let required = if let Expect::Fit(f) = intended { f / 2.0 } else { 0.0 };
    let openings: Vec<Ring> = plate_part.features.iter().filter_map(|f| layers::opening(&f.kind)).collect();
    let prepared: Vec<Prepared> = openings.iter().map(|r| Prepared::new(&Region::from(r.clone()))).collect();
    let radius = pin_part.outline.reach();
    let m = &a.mechanism;
    let mut out: Option<PairResult> = None;
    let mut seen: Vec<(f64, usize)> = Vec::new();
    for pin in a.pieces.iter().filter(|x| x.part == p) {
        let mut way = Way {
            a,
            pin,
            plate,
            walls: Vec::new(),
            radius,
            farthest: m.panel_pin_farthest().max(m.leaf_pin_farthest()),
        };
        let start = way.centre(0.0);
        let Some(own) = prepared.iter().position(|o| o.contains(start)) else {
            // A pin outside every opening stands in the wood.
            let play = Play { found: -radius, turn: 0.0, at_least: -radius, looks: 0 };
            out = Some(result(a, (p, q), pin, plate, &play, required, intended));
            continue;
        };
        // Slots that are turned copies are looked at once; pins of a set all move alike.
        let copy = seen
            .iter()
            .any(|&(angle, first)| turned(&openings[first], start.angle() - angle, &openings[own]));
        if copy {
            continue;
        }
        seen.push((start.angle(), own));
        way.walls = prepared[own].edges().to_vec();
        let play = way.least(required);
        let found = result(a, (p, q), pin, plate, &play, required, intended);
        if out.as_ref().is_none_or(|o| found.at_least < o.at_least) {
            out = Some(found);
        }
    }
    out
}

fn result(
    a: &Assembly,
    (p, q): (usize, usize),
    pin: &Piece,
    plate: &Piece,
    play: &Play,
    required: f64,
    expect: Expect,
) -> PairResult {
    let pose: Pose2 = a.place(pin, play.turn).pose;
    PairResult {
        a: a.parts[p].id.clone(),
        b: a.parts[q].id.clone(),
        pieces: (pin.id.clone(), plate.id.clone()),
        distance: play.found,
        at_least: play.at_least.min(play.found),
        turn: play.turn,
        place: pose.offset,
        expect,
        holds: play.at_least >= required - TOLERANCE,
        looks: play.looks,
    }
}
