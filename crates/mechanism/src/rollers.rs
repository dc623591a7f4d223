//! Where the four drop rollers go, and what they do.
//!
//! In: the arms' whole motion, the slides. Out: [`Rollers`], two circles, four directions, the folding
//! geometry and the pockets, or None when no free place exists.
//! Always true: angles are in the frame that turns with the top, counter-clockwise from the first panel's
//! centre line; the top itself turns clockwise as it opens, so a folded wheel lies clockwise of its hinge.
//! ```text
//!   rising plate =====o hinge ==========      opening: plate moves  <---
//!                  .-'|
//!   folded  ( )--'    |  arm
//!   base ========+   ( ) dropped    +=====    floor of the pocket one step down
//!                |___________.---''           ramp climbs back to the base's top
//! ```

use crate::arms::{Arms, bow_at};
use crate::layout::Layout;
use crate::members::Members;
use crate::sizes::Sizes;
use crate::stack::Stack;
use core::f64::consts::PI;
use turnleaf_geom::{Vec2, trig, vec2::v};

/// Mean ramp slope above which no roller is placed, degrees. Larger: a shorter ramp, more torque, and at
/// about 20 the roller stops climbing under usual friction. Common practice, no source.
pub const SLOPE_LIMIT: f64 = 14.0;
/// Radial width of the glide ring on the base, mm.
pub const GLIDE_RING: f64 = 12.0;
/// Radial room outside the base that end stops and latch want under the turning plate, mm.
pub const STOP_ROOM: f64 = 24.0;
/// Turns looked at when placing rollers.
const STEPS: usize = 20;

/// One drop roller.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Roller {
    /// Radius of its circle, mm.
    pub radius: f64,
    /// Direction of its hinge, radians, turning frame.
    pub direction: f64,
}

/// The roller mechanism.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rollers {
    /// Four rollers: the outer pair first; each pair is opposite.
    pub places: [Roller; 4],
    /// Hinge to wheel centre, mm.
    pub arm: f64,
    /// Height of wheel centre below hinge, folded, mm.
    pub folded_height: f64,
    /// Height of wheel centre below hinge, dropped, mm.
    pub dropped_height: f64,
    /// How far the folded wheel's centre lies ahead of the hinge, mm along its circle.
    pub folded_ahead: f64,
    /// How far past vertical the dropped arm leans against its stop, mm behind the hinge.
    pub dropped_behind: f64,
    /// Level floor of a pocket before its ramp, mm along the circle.
    pub landing: f64,
    /// Radius of the base plate, mm.
    pub base_radius: f64,
}

/// The folding geometry alone: needs only the stack.
fn folding(m: &Members, st: &Stack) -> Rollers {
    let folded = st.rising_plate.bottom - m.hinge_drop - st.bed - m.wheel;
    let dropped = folded + st.step;
    // The dropped arm leans 4° past vertical, so that the ramp's push holds it against its stop.
    let lean = trig::rad(4.0);
    let arm = dropped / trig::cos(lean);
    Rollers {
        places: [Roller { radius: 0.0, direction: 0.0 }; 4],
        arm,
        folded_height: folded,
        dropped_height: dropped,
        folded_ahead: (arm * arm - folded * folded).max(0.0).sqrt(),
        dropped_behind: arm * trig::sin(lean),
        landing: 2.0 * m.wheel + 6.0,
        base_radius: 0.0,
    }
}

/// What a roller must keep clear of, in one sector of the turning frame.
struct Obstacles<'a> {
    s: &'a Sizes,
    m: &'a Members,
    lay: &'a Layout,
    fold: Rollers,
    leaf_pin: (f64, f64),
    looks: Vec<[crate::bow::Bow; 2]>,
    fan: Vec<(f64, f64)>,
}

impl Rollers {
    /// Corners of the opening a roller hangs through, as distances along its circle (behind the hinge is
    /// positive) and half the width, mm.
    pub fn opening(&self, m: &Members) -> (f64, f64, f64) {
        (-(self.folded_ahead + m.wheel + m.gap), 9.0 + m.gap, m.wheel_width / 2.0 + m.gap)
    }
    /// Farthest point of a roller's room from the table's centre, mm.
    pub fn reach(&self, radius: f64, m: &Members) -> f64 {
        trig::hypot(radius + m.wheel_width / 2.0, self.folded_ahead + m.wheel)
    }
}

/// Least wood left between a roller opening and a pin slot, mm.
const WEB: f64 = 4.0;

impl Obstacles<'_> {
    /// Points of the footprint's outline: a strip along the circle, hinge end to folded wheel's end.
    fn footprint(&self, radius: f64, direction: f64) -> Vec<Vec2> {
        let (from, to, half) = self.fold.opening(self.m);
        let out = Vec2::polar(1.0, direction);
        let back = out.perp();
        let hinge = out * radius;
        let mut points = Vec::new();
        for i in 0..=6 {
            let t = from + (to - from) * i as f64 / 6.0;
            for side in [-half, half] {
                points.push(hinge + back * t + out * side);
            }
        }
        points
    }
    fn free(&self, radius: f64, direction: f64) -> bool {
        let points = self.footprint(radius, direction);
        let rail = self.m.slide_width / 2.0 + RAIL + 1.0;
        let two_h = 2.0 * self.lay.half_sector;
        for p in &points {
            // Nearest panel slide's line and nearest seam.
            let near = |offset: f64| {
                let k = ((p.angle() - offset) / two_h).round();
                p.rot(-(offset + k * two_h))
            };
            let at_panel = near(self.lay.skew);
            if at_panel.x > 0.0 && at_panel.y.abs() < rail {
                return false;
            }
            let at_seam = near(self.lay.half_sector);
            let along = at_seam.x.clamp(self.leaf_pin.0, self.leaf_pin.1);
            if at_seam.dist(v(along, 0.0)) < self.m.sleeve.max(self.m.pin + 1.0) + WEB {
                return false;
            }
        }
        let keep = self.s.arm_width / 2.0 + 0.5;
        // A circle round the footprint: arms whose own circle stays clear of it need no closer look.
        let (first, last) = (points[0], points[points.len() - 1]);
        let (centre, around) = (first.lerp(last, 0.5), first.dist(last) / 2.0);
        for pair in &self.looks {
            for bow in pair {
                let (middle, reach) = bow.ball();
                let near = reach + around + keep;
                for &(c, s) in &self.fan {
                    let there = v(c * middle.x - s * middle.y, s * middle.x + c * middle.y) - centre;
                    if there.norm2() >= near * near {
                        continue;
                    }
                    let turned = bow.turned(c, s);
                    if points.iter().any(|&p| turned.to_point(p) < keep) {
                        return false;
                    }
                }
            }
        }
        true
    }
}

/// Width of a guide rail beside a slide, mm.
pub const RAIL: f64 = 8.0;

/// What the rollers must keep out of the way of, by drive.
#[derive(Clone, Copy, Debug)]
pub enum Below<'a> {
    /// Arms sweep between turning plate and base.
    Arms(&'a Arms),
    /// Slots of the cam plate end at this radius; wheels must stay outside.
    Slots(f64),
}

/// Places the rollers; `leaf_pin` is the least and greatest radius of the leaf pins.
pub fn place(
    s: &Sizes,
    lay: &Layout,
    st: &Stack,
    m: &Members,
    below: Below,
    leaf_pin: (f64, f64),
) -> Option<Rollers> {
    let fold = folding(m, st);
    let (looks, reach, outside) = match below {
        Below::Arms(arms) => {
            let looks = (0..=STEPS)
                .map(|i| {
                    let phi = arms.closed + (arms.open - arms.closed) * i as f64 / STEPS as f64;
                    [
                        bow_at(&arms.panel.crank, arms.panel.bend, phi, lay.skew),
                        bow_at(&arms.leaf.crank, arms.leaf.bend, phi, lay.half_sector),
                    ]
                })
                .collect();
            let reach = arms.panel.crank.dead_centre().max(arms.leaf.crank.dead_centre());
            (looks, reach + s.arm_width / 2.0, 0.0)
        }
        Below::Slots(end) => (Vec::new(), end + WEB, end + WEB + m.wheel_width / 2.0 + m.gap),
    };
    let fan = (0..s.sectors)
        .map(|k| {
            let (sin, cos) = trig::sin_cos(2.0 * PI * k as f64 / s.sectors as f64);
            (cos, sin)
        })
        .collect();
    let look = Obstacles { s, m, lay, fold, leaf_pin, looks, fan };
    let least = (st.step / (s.ramp_sweep * trig::tan(trig::rad(SLOPE_LIMIT)))).max(60.0).max(outside);
    let most = m.turning_plate - GLIDE_RING - m.gap;
    let two_h = 2.0 * lay.half_sector;
    let pitch = m.wheel_width + 2.0 * m.gap;
    // Both rollers of a pair must be free; the opposite one sees other neighbours when n is odd.
    let offsets = 12;
    let pair_free = |r: f64, d: f64| look.free(r, d) && look.free(r, d + PI);
    let mut free: Vec<(f64, Vec<f64>)> = Vec::new();
    let mut r = least;
    while r <= most {
        let here: Vec<f64> =
            (0..offsets).map(|i| two_h * i as f64 / offsets as f64).filter(|&d| pair_free(r, d)).collect();
        if !here.is_empty() {
            free.push((r, here));
            // Enough once a second circle a pitch further out is known too.
            if let Some(found) = second(&free, r, pitch, s.sectors, two_h) {
                let (inner, outer) = found;
                let base = reach.max(fold.reach(outer.radius, m)) + m.gap + GLIDE_RING;
                if base > m.turning_plate {
                    return None;
                }
                let opposite = |q: Roller| Roller { direction: q.direction + PI, ..q };
                return Some(Rollers {
                    places: [outer, opposite(outer), inner, opposite(inner)],
                    base_radius: base,
                    ..fold
                });
            }
        }
        r += 4.0;
    }
    None
}

/// Looks for an inner circle at least a pitch inside `outer`, with directions about a quarter turn apart.
fn second(
    free: &[(f64, Vec<f64>)],
    outer: f64,
    pitch: f64,
    n: usize,
    two_h: f64,
) -> Option<(Roller, Roller)> {
    let at_outer = &free.last()?.1;
    for (radius, directions) in free.iter().rev().filter(|f| f.0 <= outer - pitch) {
        let mut best: Option<(f64, Roller, Roller)> = None;
        for &a in at_outer {
            for &b in directions {
                for k in 0..n {
                    let b = b + two_h * k as f64;
                    let apart = (b - a).rem_euclid(PI);
                    let off = (apart - PI / 2.0).abs();
                    if best.is_none_or(|x| off < x.0 - 1e-9) {
                        best = Some((
                            off,
                            Roller { radius: *radius, direction: b },
                            Roller { radius: outer, direction: a },
                        ));
                    }
                }
            }
        }
        if let Some((off, inner, outer)) = best
            && off < PI / 4.0
        {
            return Some((inner, outer));
        }
    }
    None
}
