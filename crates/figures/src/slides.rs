//! A set of slides: what each carries, how far it is held, how hard it must be pushed.
//!
//! In: an assembly, which set, a turn. Out: engaged lengths in mm, forces in N.
//! Always true: all slides of a set are alike, so the numbers of one stand for all; distances are from the
//! table's centre along the slide's line.

use crate::assumptions::Assumptions;
use crate::friction::slide_push;
use crate::mass::{GRAVITY, Solid};
use turnleaf_geom::{Vec2, trig};
use turnleaf_mechanism::{
    Drive,
    arms::Upper,
    cam::{Cam, Track},
    crank::Crank,
    stack::{DriveLevels, Level},
};
use turnleaf_parts::{Assembly, FeatureKind, Law, Motion};

/// What drives a slide's pin.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Follower {
    /// An arm from a crank pin of the base.
    Arm {
        /// Pin radius and length.
        crank: Crank,
        /// Crank angle when closed, radians.
        closed: f64,
        /// Bend, mm.
        bend: f64,
        /// Heights of the arms.
        level: Level,
    },
    /// A slot of the cam plate.
    Slot {
        /// The cam.
        cam: Cam,
        /// This pin's way.
        track: Track,
        /// Heights of the plate.
        plate: Level,
    },
}

impl Follower {
    /// The follower of a set.
    fn of(a: &Assembly, law: Law) -> Option<Follower> {
        let m = &a.mechanism;
        let panel = law == Law::Panel;
        match (&m.drive, m.stack.drive) {
            (Drive::Arms(arms), DriveLevels::Arms { upper, lower }) => {
                let set = if panel { &arms.panel } else { &arms.leaf };
                let above = (arms.upper == Upper::Panel) == panel;
                Some(Follower::Arm {
                    crank: set.crank,
                    closed: arms.closed,
                    bend: set.bend,
                    level: if above { upper } else { lower },
                })
            }
            (Drive::Cam(cam), DriveLevels::Cam { plate }) => {
                Some(Follower::Slot { cam: *cam, track: if panel { cam.panel } else { cam.leaf }, plate })
            }
            _ => None,
        }
    }
    /// Heights of what holds the pin.
    pub fn level(&self) -> Level {
        match self {
            Follower::Arm { level, .. } => *level,
            Follower::Slot { plate, .. } => *plate,
        }
    }
    /// Rate of the pin, mm for a radian of turn.
    pub fn speed(&self, turn: f64) -> f64 {
        match self {
            Follower::Arm { crank, closed, .. } => crank.speed(closed + turn),
            Follower::Slot { cam, track, .. } => cam.speed(track, turn),
        }
    }
    /// Angle between the driving force and the slide, radians, without friction.
    pub fn pressure(&self, turn: f64) -> f64 {
        match self {
            Follower::Arm { crank, closed, .. } => crank.arm_angle(closed + turn).abs(),
            Follower::Slot { cam, track, .. } => cam.pressure_at(track, turn),
        }
    }
    /// Distance from the table's centre to the line of the driving force, mm: a·x·|sin φ|/L for an arm,
    /// r·sin ψ for a slot.
    pub fn leverage(&self, turn: f64) -> f64 {
        match self {
            Follower::Arm { crank, closed, .. } => {
                let phi = closed + turn;
                crank.pin_radius * crank.slide(phi) * trig::sin(phi).abs() / crank.arm
            }
            Follower::Slot { cam, track, .. } => {
                (track.closed + cam.out(track, turn)) * trig::sin(cam.pressure_at(track, turn))
            }
        }
    }
    /// Rate at which an arm turns against its slide, for a radian of turn:
    /// dψ/dφ = (a/L)·cos φ/√(1 − (a/L)²·sin² φ). 0 for a slot.
    pub fn swing(&self, turn: f64) -> f64 {
        let Follower::Arm { crank, closed, .. } = self else { return 0.0 };
        let (sin, cos) = trig::sin_cos(closed + turn);
        let k = crank.pin_radius / crank.arm;
        k * cos / (1.0 - k * k * sin * sin).max(1e-12).sqrt()
    }
}

/// One set.
#[derive(Clone, Debug, PartialEq)]
pub struct Slides {
    /// Which.
    pub law: Law,
    /// How many.
    pub count: usize,
    /// Weight that moves with one slide, N.
    pub weight: f64,
    /// Its centre, closed, mm.
    pub centre: f64,
    /// Inner and outer end of the slide, closed, mm.
    pub ends: (f64, f64),
    /// Inner and outer end of the guide, mm.
    pub guide: (f64, f64),
    /// Slide pin, closed, mm.
    pub pin: f64,
    /// What drives it.
    pub follower: Follower,
    /// Height of the slide's middle above the middle of what drives it, closed, mm.
    pub above: f64,
    /// Whether the slide rises with the plate.
    pub rises: bool,
    /// Width and thickness of the slide, mm.
    pub section: (f64, f64),
    /// Free height of the slide's tongue in its groove, mm.
    pub play: f64,
    /// Thickness of that tongue, mm.
    pub tongue: f64,
}

/// One slide at one turn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drag {
    /// How far it is engaged, mm.
    pub engaged: f64,
    /// Push along the slide that moves it, N; None when it jams.
    pub push: Option<f64>,
    /// Force of the arm, or of the slot's wall, on the pin, N.
    pub force: f64,
    /// Contact force for each newton of push.
    pub contact_per_push: f64,
    /// Contact force from weight alone, N.
    pub weight_contact: f64,
}

impl Slides {
    /// Reads a set from the assembly; None when a part of it is missing.
    pub fn of(a: &Assembly, solids: &[Solid], law: Law) -> Option<Slides> {
        let m = &a.mechanism;
        let (slide, guide, level) = match law {
            Law::Panel => ("panel-slide", "panel-guide", m.stack.panel_slide),
            Law::Leaf => ("leaf-slide", "leaf-guide", m.stack.leaf_slide),
        };
        let follower = Follower::of(a, law)?;
        let (slide, guide) = (a.part(slide)?, a.part(guide)?);
        let moving = a.pieces.iter().filter_map(|p| match p.motion {
            Motion::Sliding { line, law: l, .. } if l == law => Some((p, line)),
            _ => None,
        });
        let (mut mass, mut first) = (0.0, 0.0);
        for (p, line) in moving {
            let s = &solids[p.part];
            mass += s.mass;
            first += s.mass * p.at.apply(s.centre).dot(Vec2::polar(1.0, line));
        }
        let count = m.sizes.sectors;
        let (low, high) = slide.outline.bounds();
        let (from, to) = guide.outline.bounds();
        let middle = |l: Level| (l.bottom + l.top) / 2.0;
        let tongue = slide.features.iter().find_map(|f| match f.kind {
            FeatureKind::EdgeTongue { z, .. } => Some(z.1 - z.0),
            _ => None,
        })?;
        let groove = guide.features.iter().find_map(|f| match f.kind {
            FeatureKind::EdgeGroove { z, .. } => Some(z.1 - z.0),
            _ => None,
        })?;
        Some(Slides {
            law,
            count,
            weight: mass / count as f64 * GRAVITY,
            centre: if mass > 0.0 { first / mass } else { 0.0 },
            ends: (low.x, high.x),
            guide: (from.x, to.x),
            pin: match law {
                Law::Panel => m.panel_pin_closed(),
                Law::Leaf => m.leaf_pin_closed(),
            },
            follower,
            above: middle(level) - middle(follower.level()),
            rises: law == Law::Leaf,
            section: (high.y - low.y, slide.thickness),
            play: (groove - tongue).max(0.0),
            tongue,
        })
    }
    /// Travel at a turn, mm.
    pub fn travel(&self, a: &Assembly, turn: f64) -> f64 {
        match self.law {
            Law::Panel => a.mechanism.panel_travel(turn),
            Law::Leaf => a.mechanism.leaf_travel(turn),
        }
    }
    /// Inner and outer end of the stretch held by the guide at a travel, mm.
    pub fn held(&self, travel: f64) -> (f64, f64) {
        ((self.ends.0 + travel).max(self.guide.0), (self.ends.1 + travel).min(self.guide.1))
    }
    /// Sum of the two contact forces, for a force of one newton, that hold it at a distance from the centre:
    /// 1 between the ends of the held stretch, 1 + 2·o/b when it acts a distance o beyond an end.
    fn contact_at(held: (f64, f64), at: f64) -> f64 {
        let beyond = (at - held.1).max(held.0 - at).max(0.0);
        1.0 + 2.0 * beyond / (held.1 - held.0)
    }
    /// What one slide needs at a turn.
    ///
    /// Three things press it against its guide: its weight W (more so when its centre hangs out), the pull of
    /// the driver across the slide, F·tan ψ, and the couple of the driver pulling a height h below it, 2·F·h/b.
    /// The push F = μ·S/(1 − μ·k), k = tan ψ·(1 + 2·o/b) + 2·h/b. A pin that slips along a slot adds its
    /// friction angle to ψ.
    pub fn drag(&self, a: &Assembly, s: &Assumptions, turn: f64) -> Drag {
        let travel = self.travel(a, turn);
        let held = self.held(travel);
        let engaged = held.1 - held.0;
        let slips = match self.follower {
            Follower::Arm { .. } => 0.0,
            Follower::Slot { .. } => trig::atan(s.pin_friction),
        };
        let psi = self.follower.pressure(turn) + slips;
        let rise = if self.rises { a.mechanism.plate_rise(turn) } else { 0.0 };
        let side = trig::tan(psi) * Self::contact_at(held, self.pin + travel);
        let k = side + 2.0 * (self.above + rise) / engaged;
        let weight_contact = self.weight * Self::contact_at(held, self.centre + travel);
        let push = slide_push(s.slide_friction, weight_contact, k);
        // Seen from the wall, the whole force leans by ψ; without slip it is the arm's own.
        let force = push.unwrap_or(0.0) / trig::cos(psi) * trig::cos(slips);
        Drag { engaged, push, force, contact_per_push: k, weight_contact }
    }
    /// Friction work at the driven pin and its driver's far end for a radian of turn, N·mm, given the force.
    pub fn pin_work(&self, a: &Assembly, s: &Assumptions, turn: f64, force: f64) -> f64 {
        match self.follower {
            Follower::Arm { .. } => {
                let swing = self.follower.swing(turn);
                s.pin_friction * force * a.mechanism.members.pin * (swing.abs() + (1.0 + swing).abs())
            }
            Follower::Slot { .. } => {
                let r = self.pin + self.travel(a, turn);
                s.pin_friction * force * trig::hypot(r, self.follower.speed(turn))
            }
        }
    }
}
