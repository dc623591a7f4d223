//! A table seen in space on a screen: solids as stacks of prisms, put in order from far to near.
//!
//! In: the pieces as prisms with their places and heights, and how one looks at them. Out: faces to paint one after the
//! other, each over those before it.
//! Always true: prisms are cut at every height at which one begins or ends, so that each is wholly above, below or beside
//! another; of what lies beside the nearer is painted later, sides before tops. One looks from above. Levers, rollers and
//! ramps are shown as the room they need. Nothing here touches the browser; the crate stands alone so that it can be
//! built for speed where the page around it is built to be small.
//!
//! ```
//! use turnleaf_space::{ISOMETRIC, Kind, Level, Look, Movement, Prism, Ready, Solid, Stand, oriented};
//! let square = vec![(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)];
//! let prism = Prism { low: 0.0, high: 5.0, rings: oriented(vec![square]), lined: true };
//! let block = Solid { id: "a/1".into(), part: "a".into(), level: Level::Base, prisms: vec![prism] };
//! let look = Look { round: 0.0, down: ISOMETRIC, apart: 0.0, cut: false, hidden: Vec::new() };
//! let here = Stand { plan: Movement::NONE, z: 0.0 };
//! let faces = Ready::new(&[block]).faces(&[here], 0.0, &look, None);
//! // Of a block seen from the front and above: its front, then its top.
//! assert!(faces.iter().map(|face| face.kind).eq([Kind::Side(1.0), Kind::Top]));
//! // In isometric a length across the line of sight is true and one along it sin 35.26° of itself: 10 and 10/√3.
//! let (left, top, right, bottom) = faces.bounds().unwrap();
//! assert!((right - left - 10.0).abs() < 1e-9);
//! assert!((bottom - top - (10.0 / 3.0_f64.sqrt() + 5.0 * (2.0_f64 / 3.0).sqrt())).abs() < 1e-9);
//! ```

mod cover;
mod faces;
mod hatch;
mod order;
mod ready;

pub use faces::{Face, Faces};
pub use hatch::hatch;
pub use ready::Ready;

/// A point, mm.
pub type Point = (f64, f64);
/// Left, top, right, bottom, mm.
pub type Box4 = (f64, f64, f64, f64);

/// A movement in the plane: (x, y) goes to (a·x − b·y + e, b·x + a·y + f).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Movement {
    /// Cosine of the rotation.
    pub a: f64,
    /// Sine of the rotation.
    pub b: f64,
    /// Shift, mm.
    pub e: f64,
    /// Shift, mm.
    pub f: f64,
}

impl Movement {
    /// None at all.
    pub const NONE: Movement = Movement { a: 1.0, b: 0.0, e: 0.0, f: 0.0 };

    /// A rotation by radians, counter-clockwise with y up, then a shift.
    pub fn new(angle: f64, e: f64, f: f64) -> Movement {
        Movement { a: libm::cos(angle), b: libm::sin(angle), e, f }
    }

    /// Where a point goes.
    pub fn apply(&self, (x, y): Point) -> Point {
        (self.a * x - self.b * y + self.e, self.b * x + self.a * y + self.f)
    }

    /// This one, then a next.
    #[must_use]
    pub fn then(&self, next: &Movement) -> Movement {
        let (e, f) = next.apply((self.e, self.f));
        Movement { a: next.a * self.a - next.b * self.b, b: next.b * self.a + next.a * self.b, e, f }
    }

    /// For an SVG `transform`.
    pub fn svg(&self) -> String {
        let Movement { a, b, e, f } = self;
        format!("matrix({a:.6} {b:.6} {:.6} {a:.6} {e:.3} {f:.3})", -b)
    }
}

/// What a piece belongs to, from the floor up.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Level {
    /// What carries the base.
    Frame,
    /// What stands still on it.
    Base,
    /// What moves the slides.
    Arms,
    /// What turns and does not rise.
    Turning,
    /// What rises.
    Rising,
    /// The star.
    Star,
    /// The leaves.
    Leaves,
    /// The panels.
    Panels,
}

impl Level {
    /// All, from the top down, with what one calls them.
    pub const ALL: [(Level, &'static str); 8] = [
        (Level::Panels, "panels"),
        (Level::Leaves, "leaves"),
        (Level::Star, "star"),
        (Level::Rising, "rising plate"),
        (Level::Turning, "turning plate"),
        (Level::Arms, "arms"),
        (Level::Base, "base"),
        (Level::Frame, "frame"),
    ];
}

/// A stretch of a piece with one outline all the way up.
#[derive(Clone, Debug, PartialEq)]
pub struct Prism {
    /// Bottom above the piece's lower face, mm.
    pub low: f64,
    /// Top, mm.
    pub high: f64,
    /// Outer ring counter-clockwise, then holes clockwise, mm, the piece's own frame.
    pub rings: Vec<Vec<Point>>,
    /// Whether a line is drawn where it begins and ends: not between the slices of one bar.
    pub lined: bool,
}

/// A piece.
#[derive(Clone, Debug, PartialEq)]
pub struct Solid {
    /// Identifier.
    pub id: String,
    /// Its part.
    pub part: String,
    /// Where it belongs.
    pub level: Level,
    /// Its stretches.
    pub prisms: Vec<Prism>,
}

/// Where a piece is: its movement in the plan of the top, and the height of its lower face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stand {
    /// In the frame that turns with the top.
    pub plan: Movement,
    /// Above the floor, mm.
    pub z: f64,
}

/// Makes outer rings run counter-clockwise and holes clockwise, and leaves out points that say nothing.
pub fn oriented(rings: Vec<Vec<Point>>) -> Vec<Vec<Point>> {
    let area = |ring: &[Point]| -> f64 {
        (0..ring.len())
            .map(|i| (ring[i], ring[(i + 1) % ring.len()]))
            .map(|(a, b)| a.0 * b.1 - b.0 * a.1)
            .sum()
    };
    let ring = |(place, mut ring): (usize, Vec<Point>)| {
        ring.dedup_by(|a, b| libm::hypot(a.0 - b.0, a.1 - b.1) < 1e-6);
        if (area(&ring) > 0.0) != (place == 0) {
            ring.reverse();
        }
        ring
    };
    rings.into_iter().enumerate().map(ring).filter(|ring| ring.len() > 2).collect()
}

/// The level of a piece, from how it moves: its places closed and open, the whole turn in radians.
pub fn level(part: &str, closed: Stand, open: Stand, turn: f64, floor_of_base: f64, thick: f64) -> Level {
    let angle = |m: Movement| libm::atan2(m.b, m.a);
    let turned = (angle(open.plan) - angle(closed.plan) - turn + 9.0 * core::f64::consts::PI)
        .rem_euclid(2.0 * core::f64::consts::PI)
        - core::f64::consts::PI;
    let still = turned.abs() < 1e-6;
    match part {
        "panel" => Level::Panels,
        "leaf" => Level::Leaves,
        "star" => Level::Star,
        _ if still && closed.z + thick <= floor_of_base + 0.01 => Level::Frame,
        _ if still => Level::Base,
        _ if (open.z - closed.z).abs() > 0.01 => Level::Rising,
        _ if part.contains("arm") => Level::Arms,
        _ => Level::Turning,
    }
}

/// How one looks.
#[derive(Clone, Debug, PartialEq)]
pub struct Look {
    /// How far one has walked round the table, radians, counter-clockwise seen from above.
    pub round: f64,
    /// How far one looks down, radians: a little above 0 from the side, a quarter turn from above.
    pub down: f64,
    /// How far the levels are pulled apart, mm from one to the next.
    pub apart: f64,
    /// Whether the half nearer the eye is cut away.
    pub cut: bool,
    /// Levels not shown.
    pub hidden: Vec<Level>,
}

/// The angle at which all three axes are shortened alike (isometric): asin(tan 30°).
pub const ISOMETRIC: f64 = 0.615_479_708_670_387_3;

/// What a face is, for its colour.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Kind {
    /// Seen from above.
    Top,
    /// A side; 0 seen edge on to 1 seen face on, for its shade.
    Side(f64),
    /// Cut through.
    Cut,
}

/// How far a piece reaches, closed or open: from the middle, and from height to height.
pub type Reach = (f64, f64, f64);

/// The reach of every piece.
pub fn reaches(solids: &[Solid], closed: &[Stand], open: &[Stand]) -> Vec<Reach> {
    let one = |(solid, stands): (&Solid, (&Stand, &Stand))| {
        let points = || solid.prisms.iter().flat_map(|prism| prism.rings.iter().flatten());
        let far = |stand: &Stand| {
            points().map(|p| stand.plan.apply(*p)).map(|(x, y)| libm::hypot(x, y)).fold(0.0, f64::max)
        };
        let low = solid.prisms.iter().map(|prism| prism.low).fold(f64::MAX, f64::min);
        let high = solid.prisms.iter().map(|prism| prism.high).fold(f64::MIN, f64::max);
        let (a, b) = stands;
        (far(a).max(far(b)), a.z.min(b.z) + low, a.z.max(b.z) + high)
    };
    solids.iter().zip(closed.iter().zip(open)).map(one).collect()
}

/// The room on the screen that the levels shown need at any turn and from any side: left, top, right, bottom.
pub fn room(solids: &[Solid], reaches: &[Reach], look: &Look) -> Option<Box4> {
    let (sin, cos) = (libm::sin(look.down), libm::cos(look.down));
    let shown = solids.iter().zip(reaches).filter(|(solid, _)| !look.hidden.contains(&solid.level));
    shown.fold(None, |found, (solid, (far, low, high))| {
        let up = look.apart * f64::from(solid.level as u8);
        let bottom = if look.cut { 0.0 } else { far * sin } - (low + up) * cos;
        let own = (-far, -(far * sin + (high + up) * cos), *far, bottom);
        let (l, t, r, b) = found.unwrap_or(own);
        Some((l.min(own.0), t.min(own.1), r.max(own.2), b.max(own.3)))
    })
}
