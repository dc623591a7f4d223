//! The order of assembly, found by taking the closed table apart.
//!
//! In: an assembly. Out: [`Step`]s in the order of building.
//! Always true: every piece goes in in exactly one step; when it goes in, nothing already there stands in its
//! way, unless [`Step::forced`] says that no free way was found; the order depends on the pieces alone.
//! Rules, each computed: a piece leaves upward, or outward along its own line, when nothing stands in the way;
//! a pin leaves before the piece it is fitted in; a piece fixed only from below to one that moves with it leaves
//! together with that one; of several, the one with the highest lower face leaves first.

use crate::relations::Relations;
use turnleaf_geom::distance::point_in_region;
use turnleaf_parts::{Assembly, Depth, Face, FeatureKind};

/// Which way pieces go in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Direction {
    /// From above.
    Down,
    /// Along their own line towards the middle.
    Inward,
}

/// What joins new pieces to one already there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Joint {
    /// Part that is joined.
    pub part: String,
    /// Part it is joined to.
    pub to: String,
    /// What the hole between them is for, as its part says ("screw up into the star").
    pub by: String,
}

/// One step of building.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// Stable identifier: that of its leading part.
    pub id: String,
    /// Part identifiers, the leading one first; the others are fitted to it from below beforehand.
    pub parts: Vec<String>,
    /// Piece identifiers.
    pub pieces: Vec<String>,
    /// Which way the leading part goes in.
    pub direction: Direction,
    /// Hardware, as far as holes of the parts tell of it.
    pub joints: Vec<Joint>,
    /// Whether no free way was found.
    pub forced: bool,
}

/// A unit that leaves: kinds, leading one first; the way it leaves; whether by force.
type Leaving = (Vec<usize>, Direction, bool);

/// The order of assembly.
pub fn assembly_order(a: &Assembly) -> Vec<Step> {
    order(a, &Relations::of(a))
}

/// The order of assembly from relations already known.
pub fn order(a: &Assembly, r: &Relations) -> Vec<Step> {
    let mut left: Vec<usize> = (0..a.parts.len()).filter(|&k| a.pieces.iter().any(|p| p.part == k)).collect();
    let mut taken: Vec<Leaving> = Vec::new();
    while !left.is_empty() {
        let next = [true, false]
            .into_iter()
            .find_map(|units| best(&left, r, units))
            .unwrap_or_else(|| (vec![highest(&left, r)], Direction::Down, true));
        left.retain(|k| !next.0.contains(k));
        taken.push(next);
    }
    taken.reverse();
    let mut there: Vec<usize> = Vec::new();
    taken
        .into_iter()
        .map(|(kinds, direction, forced)| {
            let step = step(a, &kinds, direction, forced, &there);
            there.extend(&kinds);
            step
        })
        .collect()
}

/// Compares which of two kinds leaves first: higher lower face, then smaller, then later in the list.
fn rank(r: &Relations, x: usize, y: usize) -> core::cmp::Ordering {
    // Heights that differ by less than a tenth of a millimetre are one height.
    let z = |k: usize| (r.bottom[k] * 10.0).round();
    z(y).total_cmp(&z(x)).then(r.area[x].total_cmp(&r.area[y])).then(y.cmp(&x))
}

fn highest(left: &[usize], r: &Relations) -> usize {
    left.iter().copied().min_by(|x, y| rank(r, *x, *y)).unwrap_or(0)
}

/// The unit that leaves next. With `units` false, what hangs below a piece stays behind.
fn best(left: &[usize], r: &Relations, units: bool) -> Option<Leaving> {
    let mut order: Vec<usize> = left.to_vec();
    order.sort_by(|x, y| rank(r, *x, *y));
    let carried = |k: usize| r.hangs_from(k).filter(|c| left.contains(c));
    for k in order {
        if units && carried(k).is_some() {
            continue;
        }
        // A slide need not wait for the sleeves that hang in the plate below it.
        let tries: &[bool] = if units && r.slides[k] { &[true, false] } else { &[units] };
        for &with in tries {
            let mut unit = vec![k];
            if with {
                let mut i = 0;
                while i < unit.len() {
                    let more: Vec<usize> = left
                        .iter()
                        .copied()
                        .filter(|h| carried(*h) == Some(unit[i]) && !unit.contains(h))
                        .collect();
                    unit.extend(more);
                    i += 1;
                }
            }
            let rest = || left.iter().copied().filter(|o| !unit.contains(o));
            // Pins fitted in a piece that they move with leave before it.
            if rest().any(|pin| unit.iter().any(|&m| r.through(pin, m) && r.touch(pin, m))) {
                continue;
            }
            if rest().all(|o| unit.iter().all(|&m| !r.blocks_up(m, o))) {
                return Some((unit, Direction::Down, false));
            }
            if unit.iter().all(|&m| r.slides[m]) && rest().all(|o| unit.iter().all(|&m| !r.blocks_out(m, o)))
            {
                return Some((unit, Direction::Inward, false));
            }
        }
    }
    None
}

fn step(a: &Assembly, kinds: &[usize], direction: Direction, forced: bool, there: &[usize]) -> Step {
    let pieces = a.pieces.iter().filter(|p| kinds.contains(&p.part)).map(|p| p.id.clone()).collect();
    let mut joints = Vec::new();
    for (i, &k) in kinds.iter().enumerate() {
        for &o in there.iter().chain(&kinds[..i]) {
            for (of, into) in [(k, o), (o, k)] {
                if let Some(by) = screwed(a, of, into) {
                    let name = |q: usize| a.parts[q].id.clone();
                    let joint = Joint { part: name(k), to: name(o), by };
                    if !joints.contains(&joint) {
                        joints.push(joint);
                    }
                }
            }
        }
    }
    Step {
        id: a.parts[kinds[0]].id.clone(),
        parts: kinds.iter().map(|k| a.parts[*k].id.clone()).collect(),
        pieces,
        direction,
        joints,
        forced,
    }
}

/// The purpose of a screw's or dowel's hole in one part that leads into the other, the two lying on each other.
fn screwed(a: &Assembly, of: usize, into: usize) -> Option<String> {
    let holes = a.parts[of].features.iter().filter_map(|f| match f.kind {
        FeatureKind::Hole { centre, depth, .. }
            if f.purpose.starts_with("screw") || f.purpose.starts_with("dowel") =>
        {
            Some((f, centre, depth))
        }
        _ => None,
    });
    for (feature, centre, depth) in holes {
        for p in a.pieces.iter().filter(|p| p.part == of) {
            let (at, high) = (a.place(p, 0.0), a.parts[of].thickness);
            let point = at.pose.apply(centre);
            for q in a.pieces.iter().filter(|q| q.part == into) {
                let other = a.place(q, 0.0);
                let above = (other.z - at.z - high).abs() < 0.1 && depth != Depth::Blind(Face::Bottom, 0.0);
                let below = (at.z - other.z - a.parts[into].thickness).abs() < 0.1;
                let opens = match depth {
                    Depth::Through => above || below,
                    Depth::Blind(Face::Top, _) => above,
                    Depth::Blind(Face::Bottom, _) => below,
                };
                if opens
                    && point_in_region(
                        other.pose.inverse().apply(point),
                        &a.parts[into].outline.clone().into(),
                    )
                {
                    return Some(feature.purpose.clone());
                }
            }
        }
    }
    None
}
