//! The table seen in space: solids as stacks of prisms, put in order from far to near.
//!
//! In: the pieces as prisms with their places and heights, and how one looks at them. Out: faces to paint one after the
//! other, each over those before it.
//! Always true: prisms are cut at every height at which one begins or ends, so that each is wholly above, below or beside
//! another; what lies beside is painted from far to near, sides before tops. One looks from above. Levers, rollers and
//! ramps are shown as the room they need. Nothing here touches the browser.

use crate::hatch::hatch;
use crate::scene::Movement;
use std::collections::BTreeMap;

type Point = (f64, f64);

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

/// A face on the screen, mm, x right and y **down**.
#[derive(Clone, Debug, PartialEq)]
pub struct Face {
    /// Place of its piece in the list of solids.
    pub solid: usize,
    /// What it is.
    pub kind: Kind,
    /// Rings, filled even-odd.
    pub rings: Vec<Vec<Point>>,
    /// Lines drawn on it after it is filled.
    pub lines: Vec<Vec<Point>>,
}

/// A prism in its place.
struct Stood {
    solid: usize,
    low: f64,
    high: f64,
    rings: Vec<Vec<Point>>,
    stretches: Vec<Stretch>,
    lined: bool,
    /// Parts of the plane y = 0 inside it, when cut.
    cuts: Vec<(f64, f64)>,
}

/// Cuts away what lies nearer than the plane y = 0; also the stretches of the plane inside the rings.
fn cut_away(rings: &[Vec<Point>]) -> (Vec<Vec<Point>>, Vec<(f64, f64)>) {
    let mut crossings = Vec::new();
    let keep = |ring: &Vec<Point>, crossings: &mut Vec<f64>| {
        let mut out = Vec::with_capacity(ring.len());
        for i in 0..ring.len() {
            let (a, b) = (ring[i], ring[(i + 1) % ring.len()]);
            if a.1 >= 0.0 {
                out.push(a);
            }
            if (a.1 >= 0.0) != (b.1 >= 0.0) {
                let x = a.0 + (b.0 - a.0) * a.1 / (a.1 - b.1);
                crossings.push(x);
                out.push((x, 0.0));
            }
        }
        out
    };
    let kept = rings.iter().map(|ring| keep(ring, &mut crossings)).filter(|ring| ring.len() > 2).collect();
    crossings.sort_by(f64::total_cmp);
    (kept, crossings.chunks_exact(2).map(|pair| (pair[0], pair[1])).collect())
}

/// A stretch of a side is broken off where it has turned so far (cosine of 23°), or grown so long, mm: short ones are
/// put in order more truly.
const BEND: f64 = 0.92;
const LONG: f64 = 160.0;
/// Two sides meet in a line when they turn by more than this (cosine of 29°).
const CORNER: f64 = 0.875;
/// How far a side laps over the one below, mm: about half a dot of the screen.
const LAP: f64 = 0.8;
/// Heights nearer than this are one, mm.
const SAME: f64 = 0.02;

/// Faces in the order of painting. The base stands still: `turn` in radians is taken off every movement.
pub fn faces(solids: &[Solid], stands: &[Stand], turn: f64, look: &Look) -> Vec<Face> {
    let frame = Movement::new(-turn - look.round, 0.0, 0.0);
    let (sin, cos) = (libm::sin(look.down), libm::cos(look.down));
    let on_screen = |(x, y): Point, z: f64| (x, -(y * sin + z * cos));
    let mut stood = Vec::new();
    for (place, (solid, stand)) in solids.iter().zip(stands).enumerate() {
        if look.hidden.contains(&solid.level) {
            continue;
        }
        let z = stand.z + look.apart * f64::from(solid.level as u8);
        for prism in &solid.prisms {
            let moved = |ring: &Vec<Point>| ring.iter().map(|p| frame.apply(stand.plan.apply(*p))).collect();
            let mut rings: Vec<Vec<Point>> = prism.rings.iter().map(moved).collect();
            let mut cuts = Vec::new();
            if look.cut {
                (rings, cuts) = cut_away(&rings);
            }
            if !rings.is_empty() {
                let mut found = Vec::new();
                rings.iter().for_each(|ring| stretches(ring, look.cut, &mut found));
                let (low, high) = (z + prism.low, z + prism.high);
                stood.push(Stood {
                    solid: place,
                    low,
                    high,
                    rings,
                    stretches: found,
                    lined: prism.lined,
                    cuts,
                });
            }
        }
    }
    let mut heights: Vec<f64> = stood.iter().flat_map(|s| [s.low, s.high]).collect();
    heights.sort_by(f64::total_cmp);
    heights.dedup_by(|a, b| *a - *b < SAME);
    let mut out = Vec::new();
    for pair in heights.windows(2) {
        let (low, high) = (pair[0], pair[1]);
        let here: Vec<&Stood> =
            stood.iter().filter(|s| s.low < high - SAME / 2.0 && s.high > low + SAME / 2.0).collect();
        let mut sides: Vec<(f64, Face)> = Vec::new();
        for one in &here {
            let bottom = one.lined && (one.low - low).abs() < SAME;
            // A side that goes on below laps over it, so that no seam shows between the two.
            let lap = if bottom { 0.0 } else { LAP };
            for stretch in &one.stretches {
                sides.push((stretch.far, side(stretch, one.solid, (low - lap, high), bottom, &on_screen)));
            }
        }
        sides.sort_by(|a, b| b.0.total_cmp(&a.0));
        out.extend(sides.into_iter().map(|(_, face)| face));
        for one in &here {
            for (from, to) in &one.cuts {
                let ring = vec![
                    on_screen((*from, 0.0), low),
                    on_screen((*to, 0.0), low),
                    on_screen((*to, 0.0), high),
                    on_screen((*from, 0.0), high),
                ];
                let mut lines = hatch(ring[0], ring[2], solids[one.solid].level as usize);
                if (one.low - low).abs() < SAME {
                    lines.push(vec![ring[0], ring[1]]);
                }
                out.push(Face { solid: one.solid, kind: Kind::Cut, rings: vec![ring], lines });
            }
        }
        for one in here {
            if (one.high - high).abs() < SAME {
                let flat = |ring: &Vec<Point>| ring.iter().map(|p| on_screen(*p, high)).collect::<Vec<_>>();
                let rings: Vec<Vec<Point>> = one.rings.iter().map(flat).collect();
                let closed = |ring: &Vec<Point>| ring.iter().chain(ring.first()).copied().collect();
                let lines = if one.lined { rings.iter().map(closed).collect() } else { Vec::new() };
                out.push(Face { solid: one.solid, kind: Kind::Top, rings, lines });
            }
        }
    }
    out
}

/// A stretch of a side that faces the eye, as it stands in the plan.
struct Stretch {
    points: Vec<Point>,
    /// How far away it is: the far side of the table has great y.
    far: f64,
    /// How squarely it faces the eye.
    shade: f64,
    /// Whether it begins and ends in a corner.
    corners: (bool, bool),
}

/// The stretches of a ring that face the eye. Worked out once a prism, without angles: this is what a frame costs most.
fn stretches(ring: &[Point], cut: bool, out: &mut Vec<Stretch>) {
    // No edge is longer than a stretch may be.
    let mut parted = Vec::with_capacity(ring.len());
    for (i, a) in ring.iter().enumerate() {
        let b = ring[(i + 1) % ring.len()];
        let parts = (libm::hypot(b.0 - a.0, b.1 - a.1) / LONG).ceil().clamp(1.0, 100.0);
        let at = |k: f64| (a.0 + (b.0 - a.0) * k / parts, a.1 + (b.1 - a.1) * k / parts);
        parted.extend((0..parts as usize).map(|k| at(k as f64)));
    }
    let ring = parted;
    let count = ring.len();
    // Unit vectors along the edges, and their lengths.
    let ways: Vec<(f64, f64, f64)> = (0..count)
        .map(|i| {
            let (a, b) = (ring[i], ring[(i + 1) % count]);
            let long = libm::hypot(b.0 - a.0, b.1 - a.1).max(1e-12);
            ((b.0 - a.0) / long, (b.1 - a.1) / long, long)
        })
        .collect();
    // Material lies to the left, so the outside is to the right: a side that runs towards +x faces the eye.
    let seen = |i: usize| {
        let (a, b) = (ring[i % count], ring[(i + 1) % count]);
        b.0 - a.0 > 1e-9 && !(cut && a.1.abs() < 1e-9 && b.1.abs() < 1e-9)
    };
    let along = |a: usize, b: usize| {
        let (a, b) = (ways[a % count], ways[b % count]);
        a.0 * b.0 + a.1 * b.1
    };
    let Some(start) = (0..count).find(|i| !seen(*i)) else { return };
    let mut i = start;
    while i < start + count {
        if !seen(i) {
            i += 1;
            continue;
        }
        let begun = i;
        let mut length = 0.0;
        while i < start + count && seen(i) && along(begun, i) > BEND && (i == begun || length < LONG) {
            length += ways[i % count].2;
            i += 1;
        }
        let points: Vec<Point> = (begun..=i).map(|k| ring[k % count]).collect();
        let far = points.iter().map(|p| p.1).sum::<f64>() / points.len() as f64;
        let before = begun + count - 1;
        let corners = (!seen(before) || along(before, begun) < CORNER, !seen(i) || along(i - 1, i) < CORNER);
        let shade = ways[(begun + (i - begun) / 2) % count].0;
        out.push(Stretch { points, far, shade, corners });
    }
}

/// A stretch between two heights as a face.
fn side(
    stretch: &Stretch,
    solid: usize,
    (low, high): (f64, f64),
    bottom: bool,
    on_screen: &dyn Fn(Point, f64) -> Point,
) -> Face {
    let under: Vec<Point> = stretch.points.iter().map(|p| on_screen(*p, low)).collect();
    let over = stretch.points.iter().rev().map(|p| on_screen(*p, high));
    let mut lines = Vec::new();
    if bottom {
        lines.push(under.clone());
    }
    let upright = |p: &Point| vec![on_screen(*p, low), on_screen(*p, high)];
    if stretch.corners.0 {
        lines.extend(stretch.points.first().map(upright));
    }
    if stretch.corners.1 {
        lines.extend(stretch.points.last().map(upright));
    }
    let rings = vec![under.iter().copied().chain(over).collect()];
    Face { solid, kind: Kind::Side(stretch.shade), rings, lines }
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
pub fn room(solids: &[Solid], reaches: &[Reach], look: &Look) -> Option<(f64, f64, f64, f64)> {
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

/// The box of some faces on the screen: left, top, right, bottom.
pub fn frame(faces: &[Face]) -> Option<(f64, f64, f64, f64)> {
    let points = faces.iter().flat_map(|face| face.rings.iter().flatten());
    points.fold(None, |found, (x, y)| {
        let (l, t, r, b) = found.unwrap_or((*x, *y, *x, *y));
        Some((l.min(*x), t.min(*y), r.max(*x), b.max(*y)))
    })
}

/// How many faces each level has, for those who look for what is shown.
pub fn counted(solids: &[Solid], faces: &[Face]) -> BTreeMap<Level, usize> {
    let mut out = BTreeMap::new();
    for face in faces {
        *out.entry(solids[face.solid].level).or_insert(0) += 1;
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::core::{Plan, Table};

    fn block(id: &str, level: Level, x: f64, y: f64, side: f64, high: f64) -> Solid {
        let ring = vec![(x, y), (x + side, y), (x + side, y + side), (x, y + side)];
        let prisms = vec![Prism { low: 0.0, high, rings: oriented(vec![ring]), lined: true }];
        Solid { id: id.into(), part: id.into(), level, prisms }
    }

    const LOOK: Look = Look { round: 0.0, down: ISOMETRIC, apart: 0.0, cut: false, hidden: Vec::new() };
    const AT: Stand = Stand { plan: Movement::NONE, z: 0.0 };

    #[test]
    fn a_block_shows_one_side_and_its_top() {
        let faces = faces(&[block("a", Level::Base, 0.0, 0.0, 10.0, 5.0)], &[AT], 0.0, &LOOK);
        assert_eq!(faces.iter().map(|f| f.kind).collect::<Vec<_>>(), [Kind::Side(1.0), Kind::Top]);
        // Looked at from above at the isometric angle a square of 10 is 10·sin 35.264° = 5.7735 high on the screen.
        let (l, t, r, b) = frame(&faces[1..]).unwrap();
        assert!((r - l - 10.0).abs() < 1e-9 && (b - t - 10.0 / 3.0_f64.sqrt()).abs() < 1e-9);
    }

    #[test]
    fn what_is_nearer_and_what_is_higher_is_painted_later() {
        let solids = [
            block("near", Level::Base, 0.0, -20.0, 10.0, 5.0),
            block("far", Level::Base, 0.0, 20.0, 10.0, 5.0),
            block("over", Level::Panels, 0.0, 0.0, 10.0, 5.0),
        ];
        let stands = [AT, AT, Stand { z: 3.0, ..AT }];
        let faces = faces(&solids, &stands, 0.0, &LOOK);
        assert!(!faces.is_empty());
        let sides: Vec<usize> =
            faces.iter().filter(|f| matches!(f.kind, Kind::Side(_))).map(|f| f.solid).collect();
        let first = |solid: usize| sides.iter().position(|s| *s == solid).unwrap();
        assert!(first(1) < first(0), "the far one before the near one");
        let tops: Vec<usize> = faces.iter().filter(|f| f.kind == Kind::Top).map(|f| f.solid).collect();
        assert_eq!(tops.last(), Some(&2), "the highest last");
    }

    #[test]
    fn a_cut_shows_the_material_and_nothing_in_a_hole() {
        let mut ring = block("a", Level::Base, -10.0, -10.0, 20.0, 5.0);
        let hole = vec![(-4.0, -4.0), (4.0, -4.0), (4.0, 4.0), (-4.0, 4.0)];
        ring.prisms[0].rings = oriented(vec![ring.prisms[0].rings[0].clone(), hole]);
        let faces = faces(&[ring], &[AT], 0.0, &Look { cut: true, ..LOOK });
        let cut: f64 = faces
            .iter()
            .filter(|f| f.kind == Kind::Cut)
            .map(|f| frame(std::slice::from_ref(f)).map_or(0.0, |(l, _, r, _)| r - l))
            .sum();
        assert!((cut - 12.0).abs() < 1e-9, "20 wide less a hole of 8: {cut}");
        assert!(
            faces.iter().all(|f| f.rings.iter().flatten().all(|p| p.1 <= 1e-9)),
            "nothing nearer than the cut"
        );
    }

    #[test]
    fn the_demo_table_keeps_its_true_outline_in_space() {
        let table = Table::new(&Plan::default_metric()).unwrap();
        let solids = table.solids();
        let whole = table.turn_degrees();
        for (turn, across) in [(0.0, 1200.0), (whole, 1650.0)] {
            let faces = faces(&solids, &table.stands(turn), turn.to_radians(), &LOOK);
            let (l, _, r, _) = frame(&faces).unwrap();
            // Panels lie as the plan says whatever the view; an arc seen across its middle is as wide as the table,
            // less what the corners of six panels lose of it.
            assert!(r - l <= across + 0.1 && r - l > 0.96 * across, "{turn}: {}", r - l);
            let reaches = reaches(&solids, &table.stands(0.0), &table.stands(whole));
            let room = room(&solids, &reaches, &LOOK).unwrap();
            let (l, t, r, b) = frame(&faces).unwrap();
            assert!(room.0 <= l && room.1 <= t && room.2 >= r && room.3 >= b, "{turn}: {room:?}");
        }
        let levels = counted(&solids, &faces(&solids, &table.stands(0.0), 0.0, &LOOK));
        assert_eq!(levels.len(), Level::ALL.len(), "every level has pieces: {levels:?}");
        let hidden = Look { hidden: vec![Level::Panels], ..LOOK };
        let without = counted(&solids, &faces(&solids, &table.stands(0.0), 0.0, &hidden));
        assert!(!without.contains_key(&Level::Panels));
    }
}
