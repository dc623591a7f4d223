//! The other drive: one fixed cam plate with a spiral slot for each slide pin.
//!
//! In: sizes and layout. Out: [`Cam`], two tracks and the turn they share, or what stood in the way.
//! Always true: in the base's frame the top turns clockwise, so a pin's angle falls as the table opens.
//! ```text
//!   radius
//!     |            ______dwell______
//!     |          /                   \__ open
//!     |        /
//!     |  ____/
//!     +--------------------------------- turn
//!      closed   rise    lift      return
//! ```
//! The travel law starts and stops smoothly: speed rises evenly, stays, and falls evenly (blend b at each end).
//! Pressure angle: between the slot's normal and the slide, atan(|dr/dτ|/r); large angles wedge.

use crate::layout::Layout;
use crate::rollers::STOP_ROOM;
use crate::sizes::Sizes;
use core::f64::consts::PI;
use turnleaf_geom::{Vec2, trig};

/// Shares of the rise tried for starting and for stopping (each). Larger: gentler ends, steeper middle.
const BLENDS: [f64; 2] = [0.2, 0.1];
/// Greatest pressure angle accepted, degrees. Common guidance for cams with sliding followers is 30° for
/// fast machines; a table is turned slowly by hand with greased pins. Common practice, no source.
pub const PRESSURE_LIMIT: f64 = 56.0;
/// Least wood left between two slots, mm. Smaller: the bridge breaks in handling.
pub const BRIDGE_LEAST: f64 = 6.0;
/// Turns tried for coming back from over-travel to open, degrees. Shorter: steeper, but slots end sooner.
const RETURNS: [f64; 3] = [8.0, 5.5, 3.5];
/// Free play of a pin in its slot, mm each side.
pub const SLOT_PLAY: f64 = 0.25;

/// The way of one pin.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Track {
    /// Radius closed, mm.
    pub closed: f64,
    /// Travel when open, mm.
    pub travel: f64,
    /// Over-travel beyond that during the lift, mm.
    pub over: f64,
}

/// A whole cam drive.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cam {
    /// Panel pins.
    pub panel: Track,
    /// Leaf pins.
    pub leaf: Track,
    /// Turn of the rise, radians.
    pub rise: f64,
    /// Share of rise and return used to start and to stop (each).
    pub blend: f64,
    /// Turn of the dwell, radians: the lift.
    pub dwell: f64,
    /// Turn of the return from over-travel to open, radians.
    pub back: f64,
    /// Wood left between the nearest slots, mm.
    pub bridge: f64,
    /// Greatest pressure angle, radians.
    pub pressure: f64,
}

/// Eased share: 0 to 1, even speed between even gains of speed.
pub fn eased(u: f64, b: f64) -> f64 {
    let u = u.clamp(0.0, 1.0);
    let top = 1.0 / (1.0 - b);
    if u < b {
        top * u * u / (2.0 * b)
    } else if u > 1.0 - b {
        1.0 - top * (1.0 - u) * (1.0 - u) / (2.0 * b)
    } else {
        top * (u - b / 2.0)
    }
}

/// Speed of [`eased`] in its own units.
pub fn eased_speed(u: f64, b: f64) -> f64 {
    if !(0.0..=1.0).contains(&u) {
        return 0.0;
    }
    (u / b).min((1.0 - u) / b).min(1.0) / (1.0 - b)
}

impl Cam {
    /// Whole turn, radians.
    pub fn turn(&self) -> f64 {
        self.rise + self.dwell + self.back
    }
    /// How far a track's pin is out at a turn, mm.
    pub fn out(&self, t: &Track, turn: f64) -> f64 {
        let full = t.travel + t.over;
        if turn <= self.rise {
            return full * eased(turn / self.rise, self.blend);
        }
        let back = (turn - self.rise - self.dwell).max(0.0);
        full - t.over * eased(back / self.back, self.blend)
    }
    /// dr/dτ, mm per radian.
    pub fn speed(&self, t: &Track, turn: f64) -> f64 {
        if turn <= self.rise {
            return (t.travel + t.over) / self.rise * eased_speed(turn / self.rise, self.blend);
        }
        -t.over / self.back * eased_speed((turn - self.rise - self.dwell) / self.back, self.blend)
    }
    /// Where a pin on the line at angle `line` is in the base's frame.
    pub fn pin(&self, t: &Track, line: f64, turn: f64) -> Vec2 {
        Vec2::polar(t.closed + self.out(t, turn), line - turn)
    }
    /// Pressure angle at a turn, radians.
    pub fn pressure_at(&self, t: &Track, turn: f64) -> f64 {
        trig::atan2(self.speed(t, turn).abs(), t.closed + self.out(t, turn))
    }
    /// Least radius of the bends of a pin's way against the plate, mm: (r² + r'²)^(3/2) / |r² + 2r'² − r·r''|.
    /// The law's acceleration is even within each of its stretches, so both ends of every stretch are looked at.
    fn least_bend(&self, t: &Track) -> f64 {
        let (b, back) = (self.blend, self.rise + self.dwell);
        let stretch = |from: f64, length: f64| {
            [(0.0, b), (b, 1.0 - b), (1.0 - b, 1.0)].map(|(x, y)| (from + x * length, from + y * length))
        };
        let mut least = f64::INFINITY;
        for (from, to) in stretch(0.0, self.rise).into_iter().chain(stretch(back, self.back)) {
            for k in 0..=BEND_LOOKS {
                // A hair inside, where the acceleration is this stretch's own.
                let inside = (k as f64 / BEND_LOOKS as f64).clamp(1e-3, 1.0 - 1e-3);
                let (turn, step) = (from + (to - from) * inside, (to - from) * 1e-4);
                let (r, v) = (t.closed + self.out(t, turn), self.speed(t, turn));
                let a = (self.speed(t, turn + step) - self.speed(t, turn - step)) / (2.0 * step);
                let across = (r * r + 2.0 * v * v - r * a).abs();
                let along = r * r + v * v;
                least = least.min(along * along.sqrt() / across.max(1e-9));
            }
        }
        least
    }
    /// Greatest radius of a track's pin, mm.
    pub fn farthest(&self, t: &Track) -> f64 {
        t.closed + t.travel + t.over
    }
    fn points(&self, t: &Track, line: f64, count: usize) -> Vec<Vec2> {
        (0..=count).map(|i| self.pin(t, line, self.turn() * i as f64 / count as f64)).collect()
    }
    /// Greatest pressure angle of one pin, radians.
    ///
    /// Its tangent is |r'|/r. While a pin moves out evenly or more slowly its radius grows, so the peak lies where it
    /// starts; there |r'| goes as u and r as c + q·u², and their ratio has its peak at u = √(c/q), or at the end of
    /// the start where that comes first. The way back is the same read backwards from the open radius.
    pub fn greatest_pressure(&self, t: &Track) -> f64 {
        let peak = |least: f64, way: f64| {
            let gain = way / ((1.0 - self.blend) * 2.0 * self.blend);
            (least / gain).sqrt().min(self.blend)
        };
        let out = self.rise * peak(t.closed, t.travel + t.over);
        let back = self.turn() - self.back * peak(t.closed + t.travel, t.over);
        self.pressure_at(t, out).max(self.pressure_at(t, back))
    }
    /// Least distance between the centre lines of two different slots, mm, from `count` points on each; any
    /// value below `stop` may come back as soon as one is found.
    /// Distances beyond three times `stop` come back as that.
    /// With lengths between points of `d`, the true distance is at most d²/(8·distance) smaller.
    /// `skew` is the turn of the panel slides' lines from the panels' centre lines, radians.
    pub fn centre_distance(&self, n: usize, skew: f64, count: usize, stop: f64) -> f64 {
        let h = PI / n as f64;
        let sets = [self.points(&self.panel, skew, count), self.points(&self.leaf, h, count)];
        let chains = sets.each_ref().map(|s| runs(s));
        // Farther apart than this is as good as nothing near.
        let mut least = FAR_APART * stop;
        let mut least2 = least * least;
        for a in 0..2 {
            for b in a..2 {
                // A set against itself looks alike from either side.
                let turns = if a == b { 1..n / 2 + 1 } else { 0..n };
                for k in turns {
                    let (s, c) = trig::sin_cos(2.0 * PI * k as f64 / n as f64);
                    let turned = |p: Vec2| Vec2 { x: c * p.x - s * p.y, y: s * p.x + c * p.y };
                    for x in &chains[a] {
                        let centre = turned(x.centre);
                        for y in &chains[b] {
                            if centre.dist(y.centre) > least + x.radius + y.radius + HAIR {
                                continue;
                            }
                            for p in &sets[a][x.from..x.to] {
                                let q = turned(*p);
                                let reach = least + y.radius + HAIR;
                                if (q - y.centre).norm2() > reach * reach {
                                    continue;
                                }
                                for i in y.from..y.to.min(sets[b].len() - 1) {
                                    least2 = least2.min(to_segment2(q, sets[b][i], sets[b][i + 1]));
                                }
                                least = least2.sqrt();
                            }
                        }
                    }
                    if least < stop {
                        return least;
                    }
                }
            }
        }
        least
    }
}

/// Slots this many times farther apart than is needed are not looked at more closely.
const FAR_APART: f64 = 3.0;

/// Bounds of distances are given away by so much, mm: rounding leaves nothing out.
const HAIR: f64 = 1e-9;
/// Stretches of a slot looked at together. More: fewer circles to compare, but larger ones.
const RUN: usize = 8;

/// Some stretches of a slot, and a circle that holds them.
struct Run {
    from: usize,
    to: usize,
    centre: Vec2,
    radius: f64,
}

/// Cuts a slot's points into runs: each holds its own points and the stretches that begin at them.
fn runs(points: &[Vec2]) -> Vec<Run> {
    let run = |from: usize| {
        let to = (from + RUN).min(points.len());
        let held = &points[from..(to + 1).min(points.len())];
        let centre = (held[0] + held[held.len() - 1]) * 0.5;
        let radius = held.iter().map(|p| p.dist(centre)).fold(0.0, f64::max);
        Run { from, to, centre, radius }
    };
    (0..points.len()).step_by(RUN).map(run).collect()
}

fn to_segment2(p: Vec2, a: Vec2, b: Vec2) -> f64 {
    let d = b - a;
    let len = d.norm2();
    let t = if len > 0.0 { ((p - a).dot(d) / len).clamp(0.0, 1.0) } else { 0.0 };
    (p - a - d * t).norm2()
}

/// What stood in the way of a cam.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct CamRefusals {
    /// Candidates whose pins would go too far out.
    pub too_far: usize,
    /// Candidates with too great a pressure angle.
    pub steep: usize,
    /// Candidates whose slots bend more tightly than their pins allow.
    pub tight: usize,
    /// Candidates whose slots run together.
    pub slots_meet: usize,
    /// The widest bridge seen, mm.
    pub best_bridge: Option<f64>,
}

/// Lengths the tracks must respect, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CamRoom {
    /// Least closed radius of panel pins.
    pub panel_pin_least: f64,
    /// Least closed radius of leaf pins.
    pub leaf_pin_least: f64,
    /// Greatest radius of either pin.
    pub pin_most: f64,
    /// Greatest radius of a leaf pin that keeps its slide engaged.
    pub leaf_pin_most: f64,
    /// Pin radius.
    pub pin: f64,
}

/// Places looked at along one stretch of the travel law.
const BEND_LOOKS: usize = 8;
/// A way's least bend beyond half the slot's width, mm: with less, the slot's inner wall has no arc left and runs
/// to a point that wears off.
const BEND_SPARE: f64 = 0.3;

/// What it costs a cam to leave no room for end stops. Larger: steeper slots rather than none.
const NO_STOPS: f64 = 0.15;

/// Travel laws tried: turn of rise and of return, degrees, and blend.
fn laws() -> impl Iterator<Item = (f64, f64, f64)> {
    [60.0, 70.0, 82.0, 95.0, 108.0, 120.0]
        .into_iter()
        .flat_map(|rise| RETURNS.map(|back| (rise, back)))
        .flat_map(|(rise, back)| BLENDS.map(|blend| (rise, back, blend)))
}

/// Places of either pin tried, and tried again, more finely, where the slots came close to keeping apart.
const PLACES: [usize; 3] = [7, 10, 16];
/// How far short of the least bridge is worth another look, mm.
const CLOSE: f64 = 0.4;

/// Searches the tracks, best first, until one also satisfies `accept`.
pub fn find_where<T>(
    s: &Sizes,
    lay: &Layout,
    room: &CamRoom,
    mut accept: impl FnMut(&Cam) -> Option<T>,
) -> Result<(Cam, T), CamRefusals> {
    let mut no = CamRefusals::default();
    for places in PLACES {
        no = match find_among(s, lay, room, places, &mut accept) {
            Ok(found) => return Ok(found),
            Err(no) => no,
        };
        let short = no.best_bridge.map_or(f64::INFINITY, |best| BRIDGE_LEAST - best);
        if short > CLOSE {
            break;
        }
    }
    Err(no)
}

fn find_among<T>(
    s: &Sizes,
    lay: &Layout,
    room: &CamRoom,
    count: usize,
    accept: &mut impl FnMut(&Cam) -> Option<T>,
) -> Result<(Cam, T), CamRefusals> {
    let mut no = CamRefusals::default();
    let mut found: Vec<(f64, Cam)> = Vec::new();
    let width = 2.0 * (room.pin + SLOT_PLAY);
    let steps = |least: f64, most: f64| {
        (0..count).map(move |i| least + (most - least).max(0.0) * i as f64 / (count - 1) as f64)
    };
    let (p_full, l_full) =
        (lay.travel + lay.panel_overtravel_least, lay.leaf_travel + lay.leaf_overtravel_least);
    let leaf_most = room.pin_most.min(room.leaf_pin_most);
    let cam_of = |x: f64, y: f64, (rise, back, blend): (f64, f64, f64)| Cam {
        panel: Track { closed: x, travel: lay.travel, over: lay.panel_overtravel_least },
        leaf: Track { closed: y, travel: lay.leaf_travel, over: lay.leaf_overtravel_least },
        rise: trig::rad(rise),
        blend,
        dwell: s.ramp_sweep,
        back: trig::rad(back),
        bridge: 0.0,
        pressure: 0.0,
    };
    // A pin's pressure angle does not depend on the other pin.
    let leaf_steps = || steps(room.leaf_pin_least, leaf_most - l_full);
    let leaf_pressures: Vec<Vec<f64>> = leaf_steps()
        .map(|y| laws().map(|law| cam_of(0.0, y, law)).map(|cam| cam.greatest_pressure(&cam.leaf)).collect())
        .collect();
    for x in steps(room.panel_pin_least, room.pin_most - p_full) {
        let panel_pressures: Vec<f64> =
            laws().map(|law| cam_of(x, 0.0, law)).map(|cam| cam.greatest_pressure(&cam.panel)).collect();
        for (y, leaf_pressures) in leaf_steps().zip(&leaf_pressures) {
            for (i, law) in laws().enumerate() {
                let mut cam = cam_of(x, y, law);
                if cam.farthest(&cam.panel) > room.pin_most + 1e-9
                    || cam.farthest(&cam.leaf) > leaf_most + 1e-9
                    || trig::deg(cam.turn()) > crate::arms::TURN_LIMIT
                {
                    no.too_far += 1;
                    continue;
                }
                cam.pressure = panel_pressures[i].max(leaf_pressures[i]);
                if trig::deg(cam.pressure) > PRESSURE_LIMIT {
                    no.steep += 1;
                    continue;
                }
                // A low pressure angle first, then a small plate, with room outside it for end stops.
                let far = cam.farthest(&cam.panel).max(cam.farthest(&cam.leaf));
                let crowds = if far > room.pin_most - STOP_ROOM { NO_STOPS } else { 0.0 };
                let cost = trig::deg(cam.pressure) / PRESSURE_LIMIT + 0.6 * far / lay.radius + crowds;
                found.push((cost, cam));
            }
        }
    }
    found.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut tried = 0;
    for (_, mut cam) in found {
        // A coarse look throws out most, the fine one decides.
        let need = width + BRIDGE_LEAST;
        for count in [40, 240] {
            cam.bridge = cam.centre_distance(s.sectors, s.slide_skew, count, need) - width;
            if cam.bridge < BRIDGE_LEAST {
                break;
            }
        }
        no.best_bridge = Some(no.best_bridge.map_or(cam.bridge, |b: f64| b.max(cam.bridge)));
        if cam.bridge < BRIDGE_LEAST {
            no.slots_meet += 1;
            continue;
        }
        if cam.least_bend(&cam.panel).min(cam.least_bend(&cam.leaf)) < width / 2.0 + BEND_SPARE {
            no.tight += 1;
            continue;
        }
        if let Some(extra) = accept(&cam) {
            return Ok((cam, extra));
        }
        tried += 1;
        if tried >= 8 {
            break;
        }
    }
    Err(no)
}
