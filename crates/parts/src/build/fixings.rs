//! Where what stands still is screwed together: base plate to rails, and what lies on its rim to the base plate.
//!
//! In: a mechanism and its stops. Out: places of screws in the base's frame.
//! Always true: no screw stands on a roller's track or nearer than a stated distance to anything else that is cut into
//! the base; the same places are bored in every part that a screw passes. Spacings are common practice, no source.

use super::{Stops, base, frame};
use core::f64::consts::PI;
use turnleaf_geom::{Pose2, Prepared, Vec2};
use turnleaf_mechanism::{Mechanism, rollers::GLIDE_RING, stack::DriveLevels};

/// Hole for the base's 5 mm screws, mm.
pub const RAIL_HOLE: f64 = 5.5;
/// Hole for the 3.5 mm screws of the glide ring, mm.
pub const RING_HOLE: f64 = 4.0;
/// Hole for the 4 mm screws of a cam plate, mm.
pub const CAM_HOLE: f64 = 4.5;
/// Head of a 5 mm countersunk screw, mm: what must stay off a track.
const HEAD: f64 = 10.0;
/// Wood between a screw's head and anything cut into the base, mm.
const WALL: f64 = 4.0;
/// From the table's centre to the innermost rail screw, mm: the rails' own joint lies there.
const CROSSING: f64 = 50.0;
/// From the end of a rail to its outermost screw, mm.
const RAIL_END: f64 = 20.0;
/// Two screws of one rail stand at least so far apart, mm.
const APART: f64 = 60.0;
/// Screws along the rim are no farther apart than this, mm.
const RIM_PITCH: f64 = 130.0;
/// Numbers of screws that part a circle into angles easily set out.
const COUNTS: [usize; 9] = [8, 12, 16, 18, 24, 30, 36, 40, 60];
/// Material left under the head of a glide ring's screw, mm, where the ring is tall enough.
const UNDER_HEAD: f64 = 8.0;

/// Screws down into the rails, base's frame: on two circles, one screw over each arm of the cross.
pub fn rail_screws(m: &Mechanism, stops: Option<&Stops>) -> Vec<Vec2> {
    let pockets: Vec<Prepared> =
        m.rollers.places.iter().map(|r| Prepared::new(&base::pocket_ring(m, r).into())).collect();
    let pins: Vec<Vec2> = base::crank_pins(m).into_iter().map(|p| p.2).collect();
    let below = stops.map(|s| s.screws_in_base(m)).unwrap_or_default();
    let track = m.members.wheel_width / 2.0 + HEAD / 2.0 + 1.0;
    let free = |p: Vec2| {
        m.rollers.places.iter().all(|r| (p.norm() - r.radius).abs() >= track)
            && pins.iter().all(|q| p.dist(*q) >= m.members.pin + HEAD / 2.0 + WALL)
            && below.iter().all(|q| p.dist(*q) >= HEAD + WALL)
            && pockets
                .iter()
                .all(|b| !b.contains(p) && b.nearest(p).is_none_or(|(n, _)| n.d2.sqrt() >= HEAD / 2.0 + WALL))
    };
    let circle = |r: f64| frame::leg_lines().map(move |line| Vec2::polar(r, line));
    let far = frame::rail_reach(m) - RAIL_END;
    let steps = ((far - CROSSING) / 2.0).floor().max(-1.0) as i64;
    let radii: Vec<f64> =
        (0..=steps).map(|i| far - 2.0 * i as f64).filter(|r| circle(*r).all(free)).collect();
    let Some(&outer) = radii.first() else { return Vec::new() };
    let middle = (outer + CROSSING) / 2.0;
    let inner = radii
        .iter()
        .copied()
        .filter(|r| outer - r >= APART)
        .min_by(|a, b| (a - middle).abs().total_cmp(&(b - middle).abs()));
    std::iter::once(outer).chain(inner).flat_map(circle).collect()
}

/// Screws round the rim, base's frame: through the glide ring, or through the cam plate under it, down into the base.
pub fn rim_screws(m: &Mechanism, stops: Option<&Stops>) -> Vec<Vec2> {
    let r = m.rollers.base_radius - GLIDE_RING / 2.0;
    let least = (2.0 * PI * r / RIM_PITCH).ceil() as usize;
    let n = COUNTS.into_iter().find(|n| *n >= least).unwrap_or(COUNTS[COUNTS.len() - 1]);
    let below = stops.map(|s| s.screws_in_base(m)).unwrap_or_default();
    let at = |start: f64| (0..n).map(move |i| Vec2::polar(r, start + 2.0 * PI * i as f64 / n as f64));
    // As far as they can be from the screws of the end stops, which come up from below.
    let apart = |start: f64| {
        at(start).flat_map(|p| below.iter().map(move |q| p.dist(*q))).fold(f64::INFINITY, f64::min)
    };
    let starts = 24;
    let best = (0..starts)
        .map(|i| 2.0 * PI * i as f64 / (n * starts) as f64)
        .rev()
        .max_by(|a, b| apart(*a).min(20.0).total_cmp(&apart(*b).min(20.0)))
        .unwrap_or(0.0);
    at(best).collect()
}

/// How much of the glide ring stays under a screw's head, mm; None where it is a strip over a cam plate, too thin to
/// be screwed.
pub fn under_head(m: &Mechanism) -> Option<f64> {
    let DriveLevels::Arms { .. } = m.stack.drive else { return None };
    let tall = m.stack.turning_plate.bottom - m.stack.bed;
    Some(UNDER_HEAD.min(tall / 2.0))
}

impl Stops {
    /// Screws of both end stops where they come up into the base, base's frame.
    pub fn screws_in_base(&self, m: &Mechanism) -> Vec<Vec2> {
        let here = |e: &Pose2| self.end_screws().map(|p| e.apply(p));
        self.ends(m).iter().flat_map(here).collect()
    }
}
