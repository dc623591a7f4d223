//! Finding the two sets of arms.
//!
//! In: the plan layout and sizes. Out: [`Arms`], both cranks, bends and the turn they share, or the
//! reasons why none exists.
//! Always true: both sets share one turn and one lift window, centred on dead centre; every returned
//! set was checked at [`FINE_STEPS`] turns here and is proved over the whole turn elsewhere.

use crate::bow::Bow;
use crate::crank::{Crank, unit_shortfall};
use crate::layout::Layout;
use crate::sizes::Sizes;
use core::f64::consts::PI;
use turnleaf_geom::{Vec2, trig};

/// Turns looked at for each candidate. Fewer: faster, but a narrow pass may slip through to the fine look.
const COARSE_STEPS: usize = 14;
/// Turns looked at before a set is accepted.
pub const FINE_STEPS: usize = 240;
/// Largest angle between arm and slide that the search accepts, degrees. Larger: the guides see more
/// side load (it goes with the tangent). Common practice, no source.
pub const ARM_ANGLE_LIMIT: f64 = 42.0;
/// Largest whole turn, degrees. Two opposite rollers share a circle, so a turn that came near 180 would
/// bring one over the other's pocket.
pub const TURN_LIMIT: f64 = 158.0;

/// One set of arms.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ArmSet {
    /// Pin radius and length.
    pub crank: Crank,
    /// Rise of the centre line above its chord, mm.
    pub bend: f64,
    /// Distance between neighbouring centre lines of this set at the tightest turn looked at, mm.
    pub neighbour_distance: f64,
}

/// Which set of arms lies in the upper of the two planes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Upper {
    /// The panel arms.
    Panel,
    /// The leaf arms.
    Leaf,
}

/// Both sets and the turn they share.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Arms {
    /// Panel arms.
    pub panel: ArmSet,
    /// Leaf arms.
    pub leaf: ArmSet,
    /// Which is above.
    pub upper: Upper,
    /// Crank angle when closed, radians (negative).
    pub closed: f64,
    /// Crank angle when open, radians.
    pub open: f64,
    /// Least gap between any arm and another arm or a pin, edge to edge, at the turns looked at, mm.
    pub clearance: f64,
}

/// What stood in the way, as counts of candidates that failed for each reason.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Refusals {
    /// Pins too near the centre for n slides side by side.
    pub crowded: usize,
    /// Pins too far out to stay under the top.
    pub too_far: usize,
    /// Arms too oblique to their slides.
    pub oblique: usize,
    /// Panel arms touch each other.
    pub panel_arms_touch: usize,
    /// Leaf arms touch each other.
    pub leaf_arms_touch: usize,
    /// Leaf arms cannot give the over-travel.
    pub leaf_overtravel: usize,
    /// Arms touch the other set's pins.
    pub pins_touch: usize,
    /// The largest edge-to-edge gap seen among candidates that failed only for a gap, mm.
    pub best_gap: Option<f64>,
}

/// Lengths the arms must respect.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Room {
    /// Least radius of a panel slide's pin.
    pub panel_pin_least: f64,
    /// Least radius of a leaf slide's pin.
    pub leaf_pin_least: f64,
    /// Greatest radius of either pin (dead centre).
    pub pin_most: f64,
    /// Greatest radius of a leaf slide's pin that keeps its slide engaged.
    pub leaf_pin_most: f64,
    /// Radius of a crank or slide pin (with its bushing).
    pub pin: f64,
}

/// Candidates given the fine look.
const FINE_TRIES: usize = 60;
/// Clear sets offered to the acceptance test before giving up.
const ACCEPT_TRIES: usize = 8;

struct Fan {
    /// Cosine and sine of each k·2π/n.
    turns: Vec<(f64, f64)>,
}

impl Fan {
    fn new(n: usize) -> Fan {
        Fan {
            turns: (0..n)
                .map(|k| {
                    let (s, c) = trig::sin_cos(2.0 * PI * k as f64 / n as f64);
                    (c, s)
                })
                .collect(),
        }
    }
    fn half(&self) -> &[(f64, f64)] {
        &self.turns[1..=self.turns.len() / 2]
    }
}

/// The centre line of the arm on the slide line at angle `line`, with the crank at `phi`.
pub fn bow_at(crank: &Crank, bend: f64, phi: f64, line: f64) -> Bow {
    Bow::new(Vec2::polar(crank.pin_radius, line + phi), Vec2::polar(crank.slide(phi), line), bend)
}

/// Crank angles of a whole look: both ends included.
fn looks(from: f64, to: f64, steps: usize) -> impl Iterator<Item = f64> {
    (0..=steps).map(move |i| from + (to - from) * i as f64 / steps as f64)
}

fn neighbour_distance(fan: &Fan, c: &Crank, bend: f64, from: f64, to: f64, steps: usize, stop: f64) -> f64 {
    let mut least = f64::INFINITY;
    for phi in looks(from, to, steps) {
        let first = bow_at(c, bend, phi, 0.0);
        let (middle, reach) = first.ball();
        for &(cos, sin) in fan.half() {
            // Turned by an angle, the middle moves by 2·sin of half of it times its radius.
            let apart = (2.0 * (1.0 - cos)).max(0.0).sqrt() * middle.norm();
            if apart - 2.0 * reach < least {
                least = least.min(first.to_bow(&first.turned(cos, sin)));
            }
        }
        if least < stop {
            return least;
        }
    }
    least
}

/// Least distance from arm centre lines to the pins that pass through their plane.
fn pin_distance(fan: &Fan, lay: &Layout, arms: &Arms, steps: usize, stop: f64) -> f64 {
    // A panel slide's line is turned by the skew, a leaf slide's is its seam.
    let (panel, leaf) = (lay.skew, lay.half_sector);
    let (upper, upper_line, lower, lower_line) = match arms.upper {
        Upper::Panel => (&arms.panel, panel, &arms.leaf, leaf),
        Upper::Leaf => (&arms.leaf, leaf, &arms.panel, panel),
    };
    let mut least = f64::INFINITY;
    for phi in looks(arms.closed, arms.open, steps) {
        let above = bow_at(&upper.crank, upper.bend, phi, upper_line);
        let below = bow_at(&lower.crank, lower.bend, phi, lower_line);
        // Slide pins of the lower arms come down through the upper plane; crank pins of the upper arms
        // come up through the lower plane.
        let (slide_pin, crank_pin) = (below.b, above.a);
        for (bow, pin) in [(&above, slide_pin), (&below, crank_pin)] {
            let (middle, reach) = bow.ball();
            for &(cos, sin) in &fan.turns {
                // The pin turned back instead of the arm turned on.
                let p = Vec2 { x: cos * pin.x + sin * pin.y, y: cos * pin.y - sin * pin.x };
                if p.dist(middle) - reach < least {
                    least = least.min(bow.to_point(p));
                }
            }
        }
        if least < stop {
            return least;
        }
    }
    least
}

struct Candidate {
    lambda: f64,
    crank: Crank,
    bend: f64,
    distance: f64,
}

/// Ratios pin radius : arm length that are tried.
fn ratios() -> impl Iterator<Item = f64> {
    (0..9).map(|i| 0.30 + 0.06 * i as f64)
}

fn bends(fixed: Option<f64>, arm: f64) -> Vec<f64> {
    match fixed {
        Some(b) => vec![b],
        None => [0.0, 0.06, 0.12, 0.17, 0.22, 0.27, 0.33, 0.40].iter().map(|k| k * arm).collect(),
    }
}

/// The open crank angle at which a crank of ratio `lambda` comes back from the lift's end by `back`,
/// given that it travels `travel` from `closed` to open. None when it would pass the closed angle's mirror.
fn open_angle(lambda: f64, closed: f64, half_sweep: f64, travel: f64, back: f64) -> Option<f64> {
    let from = unit_shortfall(lambda, closed);
    let edge = unit_shortfall(lambda, half_sweep);
    let gives = |open: f64| {
        let at = unit_shortfall(lambda, open);
        travel / (from - at) * (at - edge)
    };
    let (mut low, mut high) = (half_sweep, -closed * 0.9);
    if high <= low || gives(high) < back {
        return None;
    }
    for _ in 0..60 {
        let mid = (low + high) / 2.0;
        if gives(mid) < back { low = mid } else { high = mid }
    }
    Some(high)
}

/// Panel cranks to try: (ratio, crank, closed angle, open angle).
fn panel_cranks(s: &Sizes, lay: &Layout, back: f64) -> Vec<(f64, Crank, f64, f64)> {
    let half_sweep = s.ramp_sweep / 2.0;
    let mut out = Vec::new();
    let given = |lambda: f64, a: f64| -> Option<(f64, Crank, f64, f64)> {
        // Both known: the open angle gives the over-travel back, the closed angle the travel.
        let need = unit_shortfall(lambda, half_sweep) + back / a;
        let open = invert_shortfall(lambda, need)?;
        let closed = -invert_shortfall(lambda, need + lay.travel / a)?;
        Some((lambda, Crank { pin_radius: a, arm: a / lambda }, closed, open))
    };
    match (s.panel_pin_radius, s.panel_arm_length) {
        (Some(a), Some(l)) => out.extend(given(a / l, a)),
        (Some(a), None) => out.extend(ratios().filter_map(|k| given(k, a))),
        (None, Some(l)) => out.extend(ratios().filter_map(|k| given(k, k * l))),
        (None, None) => {
            for step in 0..12 {
                let closed = -trig::rad(52.0 + 6.5 * step as f64);
                for lambda in ratios() {
                    let Some(open) = open_angle(lambda, closed, half_sweep, lay.travel, back) else {
                        continue;
                    };
                    let a = lay.travel / (unit_shortfall(lambda, closed) - unit_shortfall(lambda, open));
                    out.push((lambda, Crank { pin_radius: a, arm: a / lambda }, closed, open));
                }
            }
        }
    }
    out
}

/// The positive angle at which the unit shortfall reaches `value`; None beyond a half turn.
fn invert_shortfall(lambda: f64, value: f64) -> Option<f64> {
    let (mut low, mut high) = (0.0, PI);
    if !(value >= 0.0 && value < unit_shortfall(lambda, high)) {
        return None;
    }
    for _ in 0..70 {
        let mid = (low + high) / 2.0;
        if unit_shortfall(lambda, mid) < value { low = mid } else { high = mid }
    }
    Some(high)
}

/// Leaf cranks that share the turn `closed..open` and travel the leaf's way.
fn leaf_cranks(s: &Sizes, lay: &Layout, closed: f64, open: f64) -> Vec<(f64, Crank)> {
    let span = |k: f64| unit_shortfall(k, closed) - unit_shortfall(k, open);
    let crank = |k: f64| Crank { pin_radius: lay.leaf_travel / span(k), arm: lay.leaf_travel / span(k) / k };
    match (s.leaf_pin_radius, s.leaf_arm_length) {
        (None, None) => ratios().map(|k| (k, crank(k))).collect(),
        (Some(a), None) => {
            solve_ratio(|k| crank(k).pin_radius - a).map(|k| (k, crank(k))).into_iter().collect()
        }
        (_, Some(l)) => solve_ratio(|k| crank(k).arm - l).map(|k| (k, crank(k))).into_iter().collect(),
    }
}

/// A ratio in the searched range at which the monotone function changes sign.
fn solve_ratio(f: impl Fn(f64) -> f64) -> Option<f64> {
    let (mut low, mut high) = (0.05, 0.95);
    let (at_low, at_high) = (f(low), f(high));
    if at_low.signum() == at_high.signum() {
        return None;
    }
    for _ in 0..70 {
        let mid = (low + high) / 2.0;
        if f(mid).signum() == at_low.signum() { low = mid } else { high = mid }
    }
    Some((low + high) / 2.0)
}

/// Lower is better: small base, modest arm angle, short turn, and room to spare up to a point.
fn cost(s: &Sizes, arms: &Arms) -> f64 {
    let reach = arms.panel.crank.dead_centre().max(arms.leaf.crank.dead_centre()) / s.radius();
    let angle = arms
        .panel
        .crank
        .largest_arm_angle(arms.closed, arms.open)
        .max(arms.leaf.crank.largest_arm_angle(arms.closed, arms.open));
    let spare = ((arms.clearance - s.arm_clearance) / s.arm_clearance.max(2.0)).min(2.0);
    reach + 0.4 * trig::deg(angle) / ARM_ANGLE_LIMIT - 0.25 * spare
}

/// Searches both sets of arms, best first, until one also satisfies `accept`, whose answer is returned too.
pub fn find_where<T>(
    s: &Sizes,
    lay: &Layout,
    room: &Room,
    mut accept: impl FnMut(&Arms) -> Option<T>,
) -> Result<(Arms, T), Refusals> {
    let fan = Fan::new(s.sectors);
    let mut no = Refusals::default();
    let mut found: Vec<(f64, Arms)> = Vec::new();
    let need = s.arm_width + s.arm_clearance;
    let pin_need = s.arm_width / 2.0 + room.pin + s.arm_clearance;
    // With equal ratios the leaves' over-travel follows the panels' in the proportion of the travels, so
    // the panels' is raised until the leaves have enough.
    let back = lay.panel_overtravel_least.max(lay.leaf_overtravel_least * lay.travel / lay.leaf_travel);
    for (lambda, crank, closed, open) in panel_cranks(s, lay, back) {
        let _ = lambda;
        if crank.slide(closed) < room.panel_pin_least {
            no.crowded += 1;
            continue;
        }
        if crank.dead_centre() > room.pin_most {
            no.too_far += 1;
            continue;
        }
        if trig::deg(crank.largest_arm_angle(closed, open)) > ARM_ANGLE_LIMIT
            || trig::deg(open - closed) > TURN_LIMIT
        {
            no.oblique += 1;
            continue;
        }
        let panel = sets(s.panel_arm_bend, &fan, 1.0, crank, closed, open, need);
        if panel.is_empty() {
            no.panel_arms_touch += 1;
            note_gap(&mut no, &fan, &crank, s.panel_arm_bend, closed, open, s.arm_width);
            continue;
        }
        for (leaf_lambda, leaf_crank) in leaf_cranks(s, lay, closed, open) {
            let over = leaf_crank.shortfall(open) - leaf_crank.shortfall(s.ramp_sweep / 2.0);
            if over < lay.leaf_overtravel_least - 1e-9 {
                no.leaf_overtravel += 1;
                continue;
            }
            if leaf_crank.slide(closed) < room.leaf_pin_least {
                no.crowded += 1;
                continue;
            }
            if leaf_crank.dead_centre() > room.pin_most.min(room.leaf_pin_most) {
                no.too_far += 1;
                continue;
            }
            if trig::deg(leaf_crank.largest_arm_angle(closed, open)) > ARM_ANGLE_LIMIT {
                no.oblique += 1;
                continue;
            }
            let leaf = sets(s.leaf_arm_bend, &fan, leaf_lambda, leaf_crank, closed, open, need);
            if leaf.is_empty() {
                no.leaf_arms_touch += 1;
                note_gap(&mut no, &fan, &leaf_crank, s.leaf_arm_bend, closed, open, s.arm_width);
                continue;
            }
            for p in &panel {
                for l in &leaf {
                    for upper in [Upper::Panel, Upper::Leaf] {
                        let mut arms =
                            Arms { panel: set(p), leaf: set(l), upper, closed, open, clearance: 0.0 };
                        let d = pin_distance(&fan, lay, &arms, COARSE_STEPS, pin_need);
                        if d < pin_need {
                            no.pins_touch += 1;
                            let gap = d - s.arm_width / 2.0 - room.pin;
                            no.best_gap = Some(no.best_gap.map_or(gap, |g: f64| g.max(gap)));
                            continue;
                        }
                        arms.clearance =
                            (p.distance.min(l.distance) - s.arm_width).min(d - s.arm_width / 2.0 - room.pin);
                        found.push((cost(s, &arms), arms));
                    }
                }
            }
        }
    }
    found.sort_by(|x, y| x.0.total_cmp(&y.0));
    // The coarse look can miss a narrow pass: take the best that stands up to the fine one.
    let mut tried = 0;
    for (_, mut arms) in found.into_iter().take(FINE_TRIES) {
        let own = |set: &ArmSet| {
            neighbour_distance(&fan, &set.crank, set.bend, arms.closed, arms.open, FINE_STEPS, need)
        };
        arms.panel.neighbour_distance = own(&arms.panel);
        arms.leaf.neighbour_distance = own(&arms.leaf);
        let pins = pin_distance(&fan, lay, &arms, FINE_STEPS, pin_need);
        let least = arms.panel.neighbour_distance.min(arms.leaf.neighbour_distance) - s.arm_width;
        arms.clearance = least.min(pins - s.arm_width / 2.0 - room.pin);
        if arms.clearance >= s.arm_clearance {
            tried += 1;
            if let Some(extra) = accept(&arms) {
                return Ok((arms, extra));
            }
            if tried >= ACCEPT_TRIES {
                break;
            }
            continue;
        }
        no.best_gap = Some(no.best_gap.map_or(arms.clearance, |g| g.max(arms.clearance)));
    }
    Err(no)
}

fn set(c: &Candidate) -> ArmSet {
    ArmSet { crank: c.crank, bend: c.bend, neighbour_distance: c.distance }
}

/// The two roomiest bends of one crank whose neighbouring arms stay `need` apart.
fn sets(
    fixed: Option<f64>,
    fan: &Fan,
    lambda: f64,
    crank: Crank,
    closed: f64,
    open: f64,
    need: f64,
) -> Vec<Candidate> {
    let mut out: Vec<Candidate> = bends(fixed, crank.arm)
        .into_iter()
        .map(|bend| Candidate {
            lambda,
            crank,
            bend,
            distance: neighbour_distance(fan, &crank, bend, closed, open, COARSE_STEPS, need),
        })
        .filter(|c| c.distance >= need)
        .collect();
    out.sort_by(|x, y| y.distance.total_cmp(&x.distance).then(x.lambda.total_cmp(&y.lambda)));
    // The least bent one that clears is kept too: it is often the better against the other set's pins.
    let straightest = out.iter().map(|c| c.bend).fold(f64::INFINITY, f64::min);
    let mut kept: Vec<Candidate> = Vec::new();
    for (i, c) in out.into_iter().enumerate() {
        if i < 2 || c.bend == straightest {
            kept.push(c);
        }
    }
    kept
}

fn note_gap(no: &mut Refusals, fan: &Fan, c: &Crank, fixed: Option<f64>, closed: f64, open: f64, width: f64) {
    for bend in bends(fixed, c.arm) {
        let gap = neighbour_distance(fan, c, bend, closed, open, COARSE_STEPS, f64::NEG_INFINITY) - width;
        no.best_gap = Some(no.best_gap.map_or(gap, |g: f64| g.max(gap)));
    }
}
