//! Drop rollers on what they ride on, over the whole turn.
//!
//! In: an assembly. Out: for each circle the widest gap and the deepest press between a dropped wheel and its ramp, and
//! how much room the track leaves beside the wheel, mm.
//! Always true: the wheel's centre follows the lift's law and the folding geometry; the ramp is what its part says, an
//! arc, a straight and an arc, developed on the roller's circle. On the slope a wheel touches ahead of its centre, by its
//! radius times the sine of the slope: the distance is taken from the centre to the line, less the wheel's radius.
//! ```text
//!              .-'-.
//!             (  o  )           o  centre: rises by the law
//!              `-.x'   ___      x  touches ahead of it
//!      _________.--''''         ramp: hollow foot, straight, rounded head
//! ```
//! Between two turns looked at the gap cannot change by more than the way between them times twice the sine of the
//! steepest slope; that much is added to what is found.

use turnleaf_geom::{Vec2, trig, vec2::v};
use turnleaf_mechanism::{Mechanism, rollers::Roller};
use turnleaf_parts::build::base_pocket_angles;
use turnleaf_parts::{Assembly, FeatureKind};

/// Turns looked at from the start of the lift to its end.
const LOOKS: usize = 2000;

/// How well one circle's rollers ride.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ride {
    /// Widest gap under a wheel, mm, not less than the true one.
    pub gap: f64,
    /// Deepest press into the ramp, mm, not less than the true one.
    pub press: f64,
    /// Turn of the worse of both, radians.
    pub turn: f64,
    /// Least wood of the ramp beside the wheel's track, mm; negative when it leaves the ramp.
    pub beside: f64,
    /// Room between the wheel's farthest corner and the glide ring, on the level, mm.
    pub level: f64,
}

/// A ramp's line, developed: foot at the origin, rising to (run, rise).
#[derive(Clone, Copy, Debug)]
struct Line {
    run: f64,
    rise: f64,
    foot: f64,
    head: f64,
    slope: f64,
}

impl Line {
    /// The line with its straight as the common tangent of both arcs.
    fn new(run: f64, rise: f64, foot: f64, head: f64) -> Line {
        let between = v(run, rise - head - foot);
        let slope = between.angle() + trig::asin(((foot + head) / between.norm()).min(1.0));
        Line { run, rise, foot, head, slope }
    }
    /// Distance from a point above the line to it, level parts before and after included, mm.
    fn distance(&self, p: Vec2) -> f64 {
        let (sin, cos) = trig::sin_cos(self.slope);
        let (low, high) = (v(0.0, self.foot), v(self.run, self.rise - self.head));
        let (start, end) = (low + v(sin, -cos) * self.foot, high + v(-sin, cos) * self.head);
        let mut least = f64::INFINITY;
        // Level floor and level top.
        for (from, to, y) in [(f64::NEG_INFINITY, 0.0, 0.0), (self.run, f64::INFINITY, self.rise)] {
            least = least.min(trig::hypot(p.x - p.x.clamp(from, to), p.y - y));
        }
        // The hollow is seen from inside its circle, the rounding from outside.
        let within = |c: Vec2, from: f64, to: f64| {
            let angle = (p - c).angle();
            (angle >= from && angle <= to).then(|| p.dist(c))
        };
        let down = -core::f64::consts::FRAC_PI_2;
        if p.y < self.foot {
            least = least.min(within(low, down, down + self.slope).map_or(f64::INFINITY, |d| self.foot - d));
        }
        least = least.min(within(high, -down, -down + self.slope).map_or(f64::INFINITY, |d| d - self.head));
        let along = (end - start).unit();
        let t = (p - start).dot(along);
        if t >= 0.0 && t <= end.dist(start) {
            least = least.min((p - start).dot(along.perp()));
        }
        least
    }
}

/// How the rollers of a circle ride; None when a part of it is missing.
pub fn ride(a: &Assembly, ramp: &str, roller: &Roller) -> Option<Ride> {
    let m = &a.mechanism;
    let part = a.part(ramp)?;
    let (foot, head) = part.features.iter().find_map(|f| match f.kind {
        FeatureKind::Ramp { foot, head } => Some((foot, head)),
        _ => None,
    })?;
    let r = &m.rollers;
    let (wheel, half) = (m.members.wheel, m.members.wheel_width / 2.0);
    let (high, low, _) = base_pocket_angles(m, roller);
    let line = Line::new(roller.radius * (low - high), part.thickness, foot, head);
    // Where the wheel's centre stands beside its hinge's line, and so on which circle it goes round.
    let behind = trig::atan2(r.dropped_behind, roller.radius);
    let circle = trig::hypot(roller.radius, r.dropped_behind);
    let span = m.lift_ends() - m.lift_begins();
    let mut worst = Ride { gap: 0.0, press: 0.0, turn: m.lift_begins(), beside: 0.0, level: 0.0 };
    for i in 0..=LOOKS {
        let turn = m.lift_begins() + span * i as f64 / LOOKS as f64;
        let angle = roller.direction - turn + behind;
        let hinge = m.stack.rising_plate.bottom + m.plate_rise(turn) - m.members.hinge_drop;
        let centre =
            v(roller.radius * (low - angle), hinge - r.dropped_height - (m.stack.bed - part.thickness));
        let free = line.distance(centre) - wheel;
        if free.abs() > worst.gap.max(worst.press) {
            worst.turn = turn;
        }
        worst.gap = worst.gap.max(free);
        worst.press = worst.press.max(-free);
    }
    // Folded, on the level before the pocket.
    let folded = m.stack.rising_plate.bottom - m.members.hinge_drop - r.folded_height - wheel - m.stack.bed;
    worst.gap = worst.gap.max(folded);
    worst.press = worst.press.max(-folded);
    let unseen = roller.radius * span / LOOKS as f64 / 2.0 * 2.0 * trig::sin(line.slope);
    worst.gap += unseen;
    worst.press += unseen;
    worst.beside =
        beside(m, part.outline.vertices.iter().map(|q| q.p.norm()), roller, circle, line.slope, half);
    let corner = trig::hypot(roller.radius + half, r.folded_ahead + wheel);
    worst.level = r.base_radius - turnleaf_mechanism::rollers::GLIDE_RING - corner;
    Some(worst)
}

/// Wood of the ramp on either side of the place where the wheel touches: its axle is square to the circle at its centre,
/// so that a place ahead of the centre lies farther out.
fn beside(
    m: &Mechanism,
    radii: impl Iterator<Item = f64>,
    roller: &Roller,
    circle: f64,
    slope: f64,
    half: f64,
) -> f64 {
    let (inner, outer) = radii.fold((f64::INFINITY, 0.0f64), |x, r| (x.0.min(r), x.1.max(r)));
    // The axle points along the hinge's radius: the wheel's middle plane keeps the roller's distance from the centre.
    let ahead = m.rollers.dropped_behind.max(m.members.wheel * trig::sin(slope) - m.rollers.dropped_behind);
    let far = trig::hypot(roller.radius + half, ahead.max(0.0));
    (outer - far).min(roller.radius - half - inner).min(outer - (circle + half))
}
