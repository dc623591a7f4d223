//! The order in which pieces go in: units of kinds, each in a stage.
//!
//! In: an assembly and its relations. Out: [`Unit`]s in order.
//! Always true: when a unit goes in, nothing already there blocks its way; every kind with pieces is in exactly one
//! unit; of what may go in, the earliest stage goes first, so that a stage is one step wherever geometry lets it.
//! Method: the order of assembly is found by taking the closed table apart (the assembly crate); here its steps are
//! held against each other, and among all orders that keep what blocks what, the one nearest to a maker's is taken.

use turnleaf_assembly::relations::Relations;
use turnleaf_assembly::{Direction, Group, group_of, order::order};
use turnleaf_parts::Assembly;

/// A stage of assembly, in the order that makers keep (common practice, no source).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stage {
    /// Legs and rails.
    Frame,
    /// Plies, cam plate and post.
    Base,
    /// Ramps and glide ring.
    Ramps,
    /// Crank pins and arms.
    Drive,
    /// Turning plate.
    Turning,
    /// Panel slides in their guides.
    PanelSlides,
    /// Rising plate with its rollers, shafts and bushings.
    Rising,
    /// Leaf slides in their guides.
    LeafSlides,
    /// Levers, flange, keeping pins.
    Levers,
    /// Posts and risers.
    Posts,
    /// Star, hub, shaft.
    Star,
    /// Leaves.
    Leaves,
    /// Panels with their hand holds.
    Panels,
    /// End stops and latch.
    Stops,
}

impl Stage {
    /// All stages in order.
    pub const ALL: [Stage; 14] = [
        Stage::Frame,
        Stage::Base,
        Stage::Ramps,
        Stage::Drive,
        Stage::Turning,
        Stage::PanelSlides,
        Stage::Rising,
        Stage::LeafSlides,
        Stage::Levers,
        Stage::Posts,
        Stage::Star,
        Stage::Leaves,
        Stage::Panels,
        Stage::Stops,
    ];
    /// Key in identifiers and messages.
    pub fn key(self) -> &'static str {
        match self {
            Stage::Frame => "frame",
            Stage::Base => "base",
            Stage::Ramps => "ramps",
            Stage::Drive => "drive",
            Stage::Turning => "turning-plate",
            Stage::PanelSlides => "panel-slides",
            Stage::Rising => "rising-plate",
            Stage::LeafSlides => "leaf-slides",
            Stage::Levers => "levers",
            Stage::Posts => "posts",
            Stage::Star => "star",
            Stage::Leaves => "leaves",
            Stage::Panels => "panels",
            Stage::Stops => "stops",
        }
    }
    /// The stage of a part that is known by its identifier.
    fn known(id: &str) -> Option<Stage> {
        Some(match id {
            "leg" | "rail-long" | "rail-short" => Stage::Frame,
            "base-lower-ply" | "base-upper-ply" | "cam-plate" | "centre-post" => Stage::Base,
            "ramp-outer" | "ramp-inner" | "glide-ring" => Stage::Ramps,
            "panel-crank-pin" | "leaf-crank-pin" | "panel-arm" | "leaf-arm" => Stage::Drive,
            "turning-plate" => Stage::Turning,
            "panel-guide" | "panel-slide" | "panel-slide-pin" | "stiffening-ring" => Stage::PanelSlides,
            "leaf-sleeve" | "rising-plate" | "drop-roller" | "guide-shaft" | "bushing" => Stage::Rising,
            "leaf-guide" | "leaf-slide" | "leaf-slide-pin" => Stage::LeafSlides,
            "keeping-pin" | "star-lever" | "hold-down-flange" => Stage::Levers,
            "panel-post" | "leaf-riser" => Stage::Posts,
            "star" | "star-hub" | "star-shaft" => Stage::Star,
            "leaf" => Stage::Leaves,
            "panel" | "hand-hold" => Stage::Panels,
            "stop-block" | "ball-plunger" | "end-stop" | "keeper-bar" => Stage::Stops,
            _ => return None,
        })
    }
}

/// Kinds that go in together.
#[derive(Clone, Debug, PartialEq)]
pub struct Unit {
    /// Indices of the parts, the leading one first.
    pub kinds: Vec<usize>,
    /// Its stage.
    pub stage: Stage,
    /// Which way it goes in; None from below.
    pub direction: Option<Direction>,
}

/// What goes in last and from below, although it would find room earlier: its place is marked from the closed top.
const LAST: [&[&str]; 2] = [&["stop-block", "ball-plunger"], &["end-stop", "keeper-bar"]];
/// What is fixed to another kind at the bench and goes in with it.
const WITH: [(&str, &str); 1] = [("hand-hold", "panel")];

/// The units in order.
pub fn units(a: &Assembly, r: &Relations) -> Vec<Unit> {
    let index = |id: &str| a.parts.iter().position(|p| p.id == id);
    let placed = |k: &usize| a.pieces.iter().any(|p| p.part == *k);
    let last: Vec<Vec<usize>> =
        LAST.iter().map(|ids| ids.iter().filter_map(|id| index(id)).filter(placed).collect()).collect();
    let with: Vec<(usize, usize)> = WITH
        .iter()
        .filter_map(|(x, y)| Some((index(x)?, index(y)?)))
        .filter(|(x, y)| placed(x) && placed(y))
        .collect();
    let mut units: Vec<Unit> = Vec::new();
    for step in order(a, r) {
        let kinds: Vec<usize> = step
            .parts
            .iter()
            .filter_map(|id| index(id))
            .filter(|k| !last.iter().flatten().any(|l| l == k) && !with.iter().any(|w| w.0 == *k))
            .collect();
        let Some(&lead) = kinds.first() else { continue };
        let mut all = kinds.clone();
        all.extend(with.iter().filter(|w| kinds.contains(&w.1)).map(|w| w.0));
        let stage = stage_of(a, lead, &units);
        units.push(Unit { kinds: all, stage, direction: Some(step.direction) });
    }
    for kinds in last.into_iter().filter(|k| !k.is_empty()) {
        units.push(Unit { kinds, stage: Stage::Stops, direction: None });
    }
    sorted(units, r)
}

/// The stage of a unit by its leading kind; an unknown kind goes where its height and motion put it.
fn stage_of(a: &Assembly, lead: usize, before: &[Unit]) -> Stage {
    let known = Stage::known(&a.parts[lead].id);
    known.unwrap_or_else(|| {
        let piece = a.pieces.iter().find(|p| p.part == lead);
        let least = match piece.map(|p| group_of(a, p)) {
            Some(Group::Frame) | None => Stage::Frame,
            Some(Group::Base) => Stage::Base,
            Some(Group::Turning) => Stage::Turning,
            Some(Group::Rising) => Stage::Rising,
            Some(Group::Top) => Stage::Star,
        };
        before.last().map_or(least, |u| u.stage.max(least))
    })
}

/// Whether `x` must go in before `y`, because `y` would stand in its way, or because `y` is held by it.
fn before(x: &Unit, y: &Unit, r: &Relations) -> bool {
    let any =
        |test: &dyn Fn(usize, usize) -> bool| x.kinds.iter().any(|&p| y.kinds.iter().any(|&q| test(p, q)));
    match x.direction {
        Some(Direction::Down) => any(&|p, q| r.blocks_up(p, q)),
        Some(Direction::Inward) => any(&|p, q| r.blocks_out(p, q)),
        // From below: what x would block on its way up, taken the other way round.
        None => any(&|p, q| r.blocks_up(q, p)),
    }
}

/// Whether `y` lies on `x` or is a pin in it. What is put over a pin of an earlier stage (the flange over the centre
/// post) does not hold that pin.
fn holds(x: &Unit, y: &Unit, r: &Relations) -> bool {
    x.kinds.iter().any(|&p| {
        y.kinds.iter().any(|&q| r.touch(q, p) && (r.lies_on(q, p) || r.through(q, p) && x.stage <= y.stage))
    })
}

/// Of all that may go in next, the one of the earliest stage, and of these the first of the order of assembly.
fn sorted(units: Vec<Unit>, r: &Relations) -> Vec<Unit> {
    let n = units.len();
    let mut needs = vec![Vec::new(); n];
    for i in 0..n {
        for j in 0..n {
            if i == j {
                continue;
            }
            // What only holds counts where the order of assembly keeps it too, so that no circle arises.
            if before(&units[i], &units[j], r) || i < j && holds(&units[i], &units[j], r) {
                needs[j].push(i);
            }
        }
    }
    let mut done = vec![false; n];
    let mut out = Vec::new();
    while out.len() < n {
        let free = |i: &usize| !done[*i] && needs[*i].iter().all(|k| done[*k]);
        let next = (0..n).filter(free).min_by_key(|i| (units[*i].stage, *i));
        // A circle cannot arise from the order of assembly; were there one, its order would be kept.
        let next = next.or_else(|| (0..n).find(|i| !done[*i]));
        let Some(next) = next else { break };
        done[next] = true;
        out.push(next);
    }
    out.into_iter().map(|i| units[i].clone()).collect()
}
