//! The torque that turns the top, at any turn.
//!
//! In: an assembly and assumptions. Out: torques in N·m, split by cause.
//! Always true: quasi-static virtual work, T = Σ(friction force × its slip + weight × its rise) for a radian of
//! turn; opening is positive. Tongues entering their grooves, and stiffness of latches, are not counted.

use crate::assumptions::Assumptions;
use crate::friction::rolling_angle;
use crate::mass::{self, Solid, gather, solids, turns};
use crate::slides::{Follower, Slides};
use turnleaf_geom::trig;
use turnleaf_mechanism::{Mechanism, rollers::GLIDE_RING};
use turnleaf_parts::{Assembly, Law, Motion, Rise};

/// Torque at one turn, N·m.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct TorqueAt {
    /// Turn, radians.
    pub turn: f64,
    /// Turning plate on the glide ring.
    pub glide: f64,
    /// Wheels on the level base.
    pub roll: f64,
    /// Panel slides, their arms or slots, and pins.
    pub panels: f64,
    /// Leaf slides, their arms or slots, and pins.
    pub leaves: f64,
    /// Noses of the star levers under the hold-down flange.
    pub noses: f64,
    /// Everything the lift asks for: ramps, bushings, levers.
    pub lift: f64,
    /// Whether a slide jams here.
    pub jams: bool,
}

impl TorqueAt {
    /// Without the lift.
    pub fn level(&self) -> f64 {
        self.glide + self.roll + self.panels + self.leaves + self.noses
    }
    /// Everything.
    pub fn whole(&self) -> f64 {
        self.level() + self.lift
    }
}

/// Which way the top is turned.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// Up the ramps.
    Opening,
    /// Down them.
    Closing,
}

/// Everything about the drive that does not change with the turn.
#[derive(Clone, Debug, PartialEq)]
pub struct Drive {
    /// Panel slides.
    pub panels: Option<Slides>,
    /// Leaf slides.
    pub leaves: Option<Slides>,
    /// Weight that rises with the plate, N.
    pub plate_weight: f64,
    /// Weight of the star with its hub and shaft, N.
    pub star_weight: f64,
    /// Weight of everything that turns, N.
    pub turning_weight: f64,
    /// Weight of one arm of each set, N: panels, leaves.
    pub arm_weight: (f64, f64),
    /// Friction angle of a wheel, radians.
    pub wheel_angle: f64,
    /// Radius at which the plate glides, mm.
    pub glide_radius: f64,
}

/// Half a step for derivatives of the star's rise, radians: small beside the lift, large beside rounding.
const HALF_STEP: f64 = 1e-5;

impl Drive {
    /// Reads the drive.
    pub fn new(a: &Assembly, s: &Assumptions) -> Drive {
        Drive::with(a, s, &solids(a, s))
    }
    /// Reads the drive, the solids being known.
    pub fn with(a: &Assembly, s: &Assumptions, solids: &[Solid]) -> Drive {
        let m = &a.mechanism;
        let weight = |rise: Rise| {
            gather(a, solids, 0.0, |p, _| match p.motion {
                Motion::Turning(r) | Motion::Sliding { rise: r, .. } => r == rise,
                Motion::Lever | Motion::Roller => rise == Rise::Plate,
                Motion::Base | Motion::Arm { .. } => false,
            })
            .weight()
        };
        let arm = |id: &str| {
            a.parts.iter().position(|p| p.id == id).map_or(0.0, |i| solids[i].mass * mass::GRAVITY)
        };
        Drive {
            panels: Slides::of(a, solids, Law::Panel),
            leaves: Slides::of(a, solids, Law::Leaf),
            plate_weight: weight(Rise::Plate),
            star_weight: weight(Rise::Star),
            turning_weight: gather(a, solids, 0.0, |p, _| turns(p)).weight(),
            arm_weight: (arm("panel-arm"), arm("leaf-arm")),
            wheel_angle: rolling_angle(s.rolling_arm, s.axle_friction, s.axle / 2.0, m.members.wheel),
            glide_radius: m.rollers.base_radius - GLIDE_RING / 2.0,
        }
    }
    /// Everything that the ramps lift, N.
    pub fn lifted(&self) -> f64 {
        self.plate_weight + self.star_weight
    }
    /// How much faster the star rises than the plate when the plate has risen by so much, by differences.
    pub fn star_ratio(&self, m: &Mechanism, rise: f64) -> f64 {
        let d = (m.stack.step * HALF_STEP).max(1e-6);
        let at = |z: f64| m.lever.tip_rise(z).unwrap_or(2.0 * z);
        let (low, high) = ((rise - d).max(0.0), (rise + d).min(m.stack.step));
        if high > low { (at(high) - at(low)) / (high - low) } else { 2.0 }
    }
    /// Rise of the plate for a radian of turn, mm.
    pub fn rise_rate(&self, m: &Mechanism, turn: f64) -> f64 {
        (m.plate_rise(turn + HALF_STEP) - m.plate_rise(turn - HALF_STEP)) / (2.0 * HALF_STEP)
    }
    /// Weight on the four wheels at a turn, N. From the start of the lift the flange pulls the levers' noses
    /// down, so that the star weighs on the plate by its ratio.
    pub fn on_wheels(&self, m: &Mechanism, turn: f64) -> f64 {
        let ratio = if turn > m.lift_begins() { self.star_ratio(m, m.plate_rise(turn)) } else { 1.0 };
        self.plate_weight + self.star_weight * ratio
    }
    fn set(&self, a: &Assembly, s: &Assumptions, turn: f64, slides: &Slides, arm_weight: f64) -> (f64, bool) {
        let speed = slides.follower.speed(turn).abs();
        if speed < 1e-9 {
            // A slide that stands still, in a cam's dwell, is not pushed.
            return (0.0, false);
        }
        let d = slides.drag(a, s, turn);
        let Some(push) = d.push else { return (0.0, true) };
        let pins = slides.pin_work(a, s, turn, d.force);
        // Arms lie on the base, or on each other; their middles sweep about the crank pins.
        let lies = match slides.follower {
            Follower::Arm { crank, .. } => {
                s.slide_friction * arm_weight * crank.arm / 2.0 * (1.0 + slides.follower.swing(turn)).abs()
            }
            Follower::Slot { .. } => 0.0,
        };
        let work = push * speed + pins + lies;
        (work * slides.count as f64 / 1000.0, false)
    }
    /// Torque at a turn (radians).
    pub fn at(&self, a: &Assembly, s: &Assumptions, turn: f64, way: Way) -> TorqueAt {
        let m = &a.mechanism;
        let mut out = TorqueAt { turn, ..TorqueAt::default() };
        let lifting = turn > m.lift_begins() && turn < m.lift_ends();
        let carried = self.on_wheels(m, turn);
        let plain = self.turning_weight - self.plate_weight - self.star_weight;
        out.glide = s.glide_friction * plain.max(0.0) * self.glide_radius / 1000.0;
        let sum_r: f64 = m.rollers.places.iter().map(|r| r.radius).sum();
        if !lifting {
            out.roll = carried / 4.0 * trig::tan(self.wheel_angle) * sum_r / 1000.0;
        }
        if turn > m.lift_begins() {
            let nose = carried - self.plate_weight - self.star_weight;
            out.noses = s.pin_friction * nose * m.members.lever_inner() / 1000.0;
        }
        for (set, arm, to) in [
            (&self.panels, self.arm_weight.0, &mut out.panels),
            (&self.leaves, self.arm_weight.1, &mut out.leaves),
        ] {
            if let Some(slides) = set {
                let (torque, jams) = self.set(a, s, turn, slides, arm);
                *to = torque;
                out.jams |= jams;
            }
        }
        if lifting {
            out.lift = self.climb(a, s, turn, way);
        }
        out
    }
    /// What the ramps, bushings and levers ask for, N·m.
    fn climb(&self, a: &Assembly, s: &Assumptions, turn: f64, way: Way) -> f64 {
        let m = &a.mechanism;
        let rate = self.rise_rate(m, turn);
        let sign = if way == Way::Opening { 1.0 } else { -1.0 };
        let carried = self.on_wheels(m, turn);
        let mut torque = 0.0;
        for r in &m.rollers.places {
            let slope = trig::atan(rate / r.radius);
            let tan = trig::tan(self.wheel_angle + sign * slope);
            // The shafts that carry the plate round add their friction to its weight: P = W·t/(1 − μ·t).
            torque += carried / 4.0 * tan / (1.0 - s.bushing_friction * tan) * r.radius;
        }
        // Lever pins turn, both noses slip: friction work for a radian of turn.
        let rise = m.plate_rise(turn);
        let tilt = |z: f64| m.lever.tilt(z.clamp(0.0, m.stack.step)).unwrap_or(0.0);
        let d = 1e-4;
        let turned = ((tilt(rise + d) - tilt(rise - d)) / (2.0 * d)).abs();
        let sin = trig::sin(tilt(rise));
        let ratio = self.star_ratio(m, rise);
        let slip = |arm: f64, offset: f64| (arm * sin).abs() + offset.abs();
        let work = s.pin_friction
            * self.star_weight
            * turned
            * (ratio * LEVER_PIN / 2.0
                + slip(m.lever.outer, m.lever.outer_offset)
                + (ratio - 1.0) * slip(m.lever.inner, m.lever.inner_offset));
        (torque + work * rate) / 1000.0
    }
    /// The whole curve, evenly spaced from closed to open.
    pub fn curve(&self, a: &Assembly, s: &Assumptions, steps: usize, way: Way) -> Vec<TorqueAt> {
        let whole = a.mechanism.turn();
        (0..=steps).map(|i| self.at(a, s, whole * i as f64 / steps as f64, way)).collect()
    }
}

/// Cross pin of a star lever, mm (as the lever's note says).
pub const LEVER_PIN: f64 = 6.0;

/// Torque against turn, opening.
pub fn torque_curve(a: &Assembly, s: &Assumptions, steps: usize) -> Vec<TorqueAt> {
    Drive::new(a, s).curve(a, s, steps, Way::Opening)
}
