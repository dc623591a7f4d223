//! What is painted of the demo tables in space against what a ray from the eye meets first.
//!
//! In: the demo tables at several turns, looked at from several sides. Out: how many samples show another piece than
//! the nearest.
//! Always true: the nearest piece is found from the prisms alone, piece by piece, without faces or their order.

use crate::core::{DEMOS, Plan, Table};
use crate::space::{
    Box4, Face, Faces, ISOMETRIC, Level, Look, Movement, Point, Ready, Solid, Stand, reaches, room,
};

/// Samples across the picture, as many down as make them square; `TURNLEAF_SAMPLES=180` takes more.
const ACROSS: usize = 80;
/// A sample counts only where the rays this far round it meet the same piece, mm: sides lap over by 0.8.
const CLEAR: f64 = 0.9;

/// A prism as it stands before the eye: its rings in the plan, far being great y, and its heights.
struct Standing {
    solid: usize,
    low: f64,
    high: f64,
    rings: Vec<Vec<Point>>,
    /// Left and right end.
    wide: (f64, f64),
}

fn standing(solids: &[Solid], stands: &[Stand], turn: f64, look: &Look) -> Vec<Standing> {
    let frame = Movement::new(-turn - look.round, 0.0, 0.0);
    let mut out = Vec::new();
    for (solid, (one, stand)) in solids.iter().zip(stands).enumerate() {
        if look.hidden.contains(&one.level) {
            continue;
        }
        let (movement, z) = (stand.plan.then(&frame), stand.z + look.apart * f64::from(one.level as u8));
        for prism in &one.prisms {
            let rings: Vec<Vec<Point>> =
                prism.rings.iter().map(|ring| ring.iter().map(|p| movement.apply(*p)).collect()).collect();
            let ends = |(l, r): (f64, f64), p: &Point| (l.min(p.0), r.max(p.0));
            let wide = rings.iter().flatten().fold((f64::MAX, f64::MIN), ends);
            out.push(Standing { solid, low: z + prism.low, high: z + prism.high, rings, wide });
        }
    }
    out
}

/// The piece that the ray through a point of the screen meets first.
fn nearest(all: &[Standing], look: &Look, (x, down): Point) -> Option<usize> {
    let (sin, cos) = (libm::sin(look.down), libm::cos(look.down));
    let mut best: Option<(f64, usize)> = None;
    for one in all.iter().filter(|one| one.wide.0 < x && x < one.wide.1) {
        // Along the ray y·sin + z·cos stays -down: between these two y the ray is at the prism's heights.
        let (mut from, to) = ((-down - one.high * cos) / sin, (-down - one.low * cos) / sin);
        if look.cut {
            from = from.max(0.0);
        }
        let edges = one
            .rings
            .iter()
            .flat_map(|ring| ring.iter().enumerate().map(move |(i, a)| (*a, ring[(i + 1) % ring.len()])));
        let mut crossings: Vec<f64> = edges
            .filter(|(a, b)| (a.0 > x) != (b.0 > x))
            .map(|(a, b)| a.1 + (b.1 - a.1) * (x - a.0) / (b.0 - a.0))
            .collect();
        crossings.sort_by(f64::total_cmp);
        for pair in crossings.chunks_exact(2) {
            let (enter, leave) = (pair[0].max(from), pair[1].min(to));
            if enter < leave && best.is_none_or(|b| enter < b.0) {
                best = Some((enter, one.solid));
            }
        }
    }
    best.map(|b| b.1)
}

/// The piece whose face is painted last over a point; faces come with their boxes, far to near.
fn painted(faces: &Faces, boxed: &[(Box4, &Face)], (x, y): Point) -> Option<usize> {
    let near = boxed.iter().rev().filter(|((l, t, r, b), _)| *l <= x && x <= *r && *t <= y && y <= *b);
    let mut over = near.map(|(_, face)| *face).filter(|face| {
        let edges = faces
            .rings(face)
            .flat_map(|ring| ring.iter().enumerate().map(move |(i, a)| (*a, ring[(i + 1) % ring.len()])));
        let crosses = |(a, b): &(Point, Point)| {
            (a.1 > y) != (b.1 > y) && x < a.0 + (b.0 - a.0) * (y - a.1) / (b.1 - a.1)
        };
        edges.filter(crosses).count() % 2 == 1
    });
    over.next().map(|face| face.solid)
}

/// Samples that count, and those of them that show another piece than the nearest, with the two pieces.
fn samples(table: &Table, turn: f64, look: &Look) -> (usize, Vec<(Point, String)>) {
    let solids = table.solids();
    let whole = table.turn_degrees();
    let (stands, angle) = (table.stands(turn * whole), (turn * whole).to_radians());
    let reaches = reaches(&solids, &table.stands(0.0), &table.stands(whole));
    let (l, t, r, b) = room(&solids, &reaches, look).unwrap();
    let faces = Ready::new(&solids).faces(&stands, angle, look, Some((l, t, r, b)));
    let bounds = |face| {
        faces.rings(face).flatten().fold((f64::MAX, f64::MAX, f64::MIN, f64::MIN), |b: Box4, p| {
            (b.0.min(p.0), b.1.min(p.1), b.2.max(p.0), b.3.max(p.1))
        })
    };
    let boxed: Vec<(Box4, &Face)> = faces.iter().map(|face| (bounds(face), face)).collect();
    let all = standing(&solids, &stands, angle, look);
    let across = std::env::var("TURNLEAF_SAMPLES").ok().and_then(|n| n.parse().ok()).unwrap_or(ACROSS);
    let step = (r - l) / across as f64;
    let (mut count, mut wrong) = (0, Vec::new());
    for row in 0..((b - t) / step) as usize {
        for column in 0..across {
            let at = (l + (column as f64 + 0.5) * step, t + (row as f64 + 0.5) * step);
            let Some(near) = nearest(&all, look, at) else { continue };
            let round = [(CLEAR, 0.0), (-CLEAR, 0.0), (0.0, CLEAR), (0.0, -CLEAR)];
            if round.iter().any(|d| nearest(&all, look, (at.0 + d.0, at.1 + d.1)) != Some(near)) {
                continue;
            }
            count += 1;
            let shown = painted(&faces, &boxed, at);
            if shown != Some(near) {
                let name = |solid: usize| solids[solid].id.as_str();
                wrong.push((at, format!("{} instead of {}", shown.map_or("nothing", name), name(near))));
            }
        }
    }
    (count, wrong)
}

/// All levels but these.
fn but(shown: &[Level]) -> Vec<Level> {
    Level::ALL.into_iter().map(|(level, _)| level).filter(|level| !shown.contains(level)).collect()
}

#[test]
fn the_piece_painted_is_the_one_that_a_ray_from_the_eye_meets_first() {
    let (mut all, mut wrong) = (0, 0);
    for (name, json) in DEMOS {
        let table = Table::new(&Plan::parse(json.as_bytes()).unwrap().0).unwrap();
        for (turn, round, down, apart, cut, hidden) in [
            (0.0, -0.35, ISOMETRIC, 0.0, false, vec![]),
            (1.0, -0.35, ISOMETRIC, 0.0, false, vec![]),
            (0.5, 0.4, 0.25, 0.0, false, vec![]),
            (0.0, 1.9, 0.3, 0.0, false, vec![Level::Panels, Level::Leaves]),
            (0.3, 2.6, 0.9, 0.0, false, vec![Level::Panels, Level::Leaves, Level::Star, Level::Rising]),
            (1.0, 0.8, ISOMETRIC, 120.0, false, vec![]),
            (0.6, 0.2, 0.3, 40.0, true, vec![]),
            (0.0, 0.2, 0.2, 0.0, false, but(&[Level::Frame])),
            (0.0, 1.1, 0.5, 0.0, false, but(&[Level::Frame, Level::Base])),
            (0.0, 0.7, 0.15, 0.0, false, but(&[Level::Frame])),
            (0.0, 1.6, 0.6, 0.0, false, but(&[Level::Frame])),
            (0.0, 2.3, 0.9, 0.0, false, but(&[Level::Frame])),
            (0.0, 2.9, 0.6, 0.0, false, but(&[Level::Frame])),
            (0.0, 3.9, 0.4, 0.0, false, but(&[Level::Frame])),
            (0.8, 2.0, 0.7, 0.0, false, but(&[Level::Arms, Level::Rising, Level::Leaves])),
        ] {
            let look = Look { round, down, apart, cut, hidden };
            let (count, found) = samples(&table, turn, &look);
            println!("{name} turned {turn}, {round} round: {} wrong of {count}", found.len());
            for (at, what) in found.iter().take(4) {
                println!("    {:.0} {:.0}: {what}", at.0, at.1);
            }
            all += count;
            wrong += found.len();
        }
    }
    println!("{wrong} wrong of {all} samples");
    assert!(all > 20_000, "{all}");
    assert_eq!(wrong, 0, "of {all} samples show another piece than the nearest");
}
