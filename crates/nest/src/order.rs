//! Layouts from an order of cutting: each part goes to the best place that is left, sheet after sheet.
//!
//! In: parts of one stock with their shapes, sheets on hand. Out: a [`Pack`]: filled sheets and what it costs.
//! Always true: a pack's parts lie clear of each other; of two packs the one that leaves the larger straight
//! remnant, or needs fewer sheets, costs less. Orders are bettered by swaps from a fixed sequence.

use crate::fixed::Fixed;
use crate::shapes::Shapes;
use crate::spot::{Bin, Placed, Scratch, best, room};
use turnleaf_geom::{Vec2, vec2::v};

/// Sheets less full than this, counted over all of them, are not worth a search: what is saved is only a longer
/// remnant.
pub const WORTH: f64 = 0.2;

/// Sheets of one size, as the search sees them.
#[derive(Clone, Debug)]
pub struct Kind {
    /// Index in the request.
    pub sheet: usize,
    /// Usable part.
    pub bin: Bin,
    /// How many may be opened.
    pub count: usize,
    /// Area of the whole sheet.
    pub area: f64,
}

/// A sheet with parts on it.
#[derive(Clone, Debug, PartialEq)]
pub struct Filled {
    /// Index of its kind.
    pub kind: usize,
    /// What of it may be used.
    pub bin: Bin,
    /// Parts (of the class) in their places.
    pub parts: Vec<usize>,
    /// The same, places.
    pub placed: Vec<Placed>,
    /// Bands ripped off beforehand, below `bin`.
    pub bands: Vec<Strip>,
}

/// A band with what is cut from it.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Strip {
    /// Lower edge on the sheet.
    pub from: f64,
    /// Upper edge on the sheet.
    pub to: f64,
    /// Parts (of the class) in their places.
    pub parts: Vec<(usize, Placed)>,
}

/// Filled sheets.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Pack {
    /// In the order they were opened.
    pub sheets: Vec<Filled>,
    /// Parts that found no place, one entry an instance.
    pub left: Vec<usize>,
}

impl Filled {
    /// How far along the sheet it is used, from the start of the usable part.
    pub fn used(&self, shapes: &Shapes) -> f64 {
        let ends = self.placed.iter().map(|p| p.at.x + shapes.variants[p.variant].hi.x);
        ends.fold(self.bin.lo.x, f64::max) - self.bin.lo.x
    }
    /// Area of the straight remnant at the end of the sheet.
    pub fn remnant(&self, shapes: &Shapes) -> f64 {
        (self.bin.hi.x - self.bin.lo.x - self.used(shapes)) * (self.bin.hi.y - self.bin.lo.y)
    }
}

impl Pack {
    /// Index of the sheet with the largest remnant.
    pub fn slackest(&self, shapes: &Shapes) -> Option<usize> {
        let remnant = |i: &usize| self.sheets[*i].remnant(shapes);
        (0..self.sheets.len()).max_by(|a, b| remnant(a).total_cmp(&remnant(b)))
    }
    /// Area of the sheets.
    pub fn area(&self, kinds: &[Kind]) -> f64 {
        self.sheets.iter().map(|s| kinds[s.kind].area).sum()
    }
    /// Area of the sheets less the largest straight remnant; parts without a place cost more than any sheet.
    pub fn cost(&self, kinds: &[Kind], shapes: &Shapes) -> f64 {
        let area = self.area(kinds);
        let spare = self.slackest(shapes).map_or(0.0, |i| self.sheets[i].remnant(shapes));
        let most = kinds.iter().map(|k| k.area).fold(0.0, f64::max);
        area - spare + 2.0 * most * self.left.len() as f64
    }
}

/// One step of an order.
#[derive(Clone, Copy, Debug)]
struct Step {
    part: usize,
    /// Held to this one of its variants, if any.
    held: Option<usize>,
}

/// How to fill: which kinds to open first, and what counts as better.
#[derive(Clone, Debug)]
struct Way {
    kinds: Vec<usize>,
    goal: Vec2,
}

/// What the search works on.
#[derive(Clone, Copy)]
pub struct Task<'a> {
    /// Shapes of the class's parts.
    pub shapes: &'a Shapes,
    /// Sheets on hand.
    pub kinds: &'a [Kind],
    /// Sheets opened beforehand (with bands cut off).
    pub begun: &'a [Filled],
    /// Parts to place, one entry an instance.
    pub parts: &'a [usize],
}

fn fill(task: &Task, order: &[Step], way: &Way, scratch: &mut Scratch) -> Pack {
    let shapes = task.shapes;
    let mut pack = Pack { sheets: task.begun.to_vec(), left: Vec::new() };
    let mut rest: Vec<usize> = task.kinds.iter().map(|k| k.count).collect();
    for s in task.begun {
        rest[s.kind] = rest[s.kind].saturating_sub(1);
    }
    for step in order {
        let all = &shapes.of[step.part];
        let tried: &[usize] = match step.held {
            Some(k) => core::slice::from_ref(&all[k % all.len()]),
            None => all,
        };
        let mut done = false;
        for sheet in &mut pack.sheets {
            let mut found: Option<(f64, Placed)> = None;
            for &variant in tried {
                let bound = found.map_or(f64::INFINITY, |f| f.0);
                if let Some((value, at)) =
                    best(shapes, &sheet.bin, &sheet.placed, variant, way.goal, bound, scratch)
                {
                    found = Some((value, Placed { variant, at }));
                }
            }
            if let Some((_, placed)) = found {
                sheet.parts.push(step.part);
                sheet.placed.push(placed);
                done = true;
                break;
            }
        }
        if done {
            continue;
        }
        // A new sheet, in the attitude that fits.
        let opened = way.kinds.iter().copied().filter(|&k| rest[k] > 0).find_map(|k| {
            let bin = task.kinds[k].bin;
            let mut found: Option<(f64, Placed)> = None;
            for &variant in tried.iter().chain(all) {
                if let Some((lo, _)) = room(shapes, &bin, variant) {
                    let value = way.goal.dot(lo + shapes.variants[variant].hi);
                    if found.is_none_or(|f| value < f.0) {
                        found = Some((value, Placed { variant, at: lo }));
                    }
                }
            }
            found.map(|f| Filled {
                kind: k,
                bin,
                parts: vec![step.part],
                placed: vec![f.1],
                bands: Vec::new(),
            })
        });
        match opened {
            Some(sheet) => {
                rest[sheet.kind] -= 1;
                pack.sheets.push(sheet);
            }
            None => pack.left.push(step.part),
        }
    }
    pack
}

/// The best pack found in so many tries.
pub fn search(task: &Task, tries: usize) -> Pack {
    let shapes = task.shapes;
    let mut scratch = Scratch::default();
    let size = |p: usize| {
        let one = &shapes.variants[shapes.of[p][0]];
        one.hi - one.lo
    };
    let sorted = |key: &dyn Fn(usize) -> f64| -> Vec<Step> {
        let mut all = task.parts.to_vec();
        all.sort_by(|&a, &b| key(b).total_cmp(&key(a)).then(a.cmp(&b)));
        all.into_iter().map(|part| Step { part, held: None }).collect()
    };
    let area = sorted(&|p| shapes.area[p]);
    let starts = [
        area.clone(),
        sorted(&|p| size(p).x.max(size(p).y)),
        sorted(&|p| size(p).x * size(p).y),
        sorted(&|p| size(p).y),
    ];
    // Straight along the sheet first, then across; the second goal leans towards the corner.
    let goals = [v(1.0, 0.02), v(1.0, 0.4), v(1.0, 0.15)];
    let kinds: Vec<usize> = (0..task.kinds.len()).collect();
    let preferring = |k: usize| {
        let mut list = kinds.clone();
        list.retain(|&other| other != k);
        list.insert(0, k);
        list
    };
    let mut best: Option<(f64, Pack, Vec<Step>, Way)> = None;
    let mut spent = 0;
    let mut consider =
        |order: &[Step], way: &Way, best: &mut Option<(f64, Pack, Vec<Step>, Way)>, equal: bool| {
            let pack = fill(task, order, way, &mut scratch);
            let cost = pack.cost(task.kinds, shapes);
            if best.as_ref().is_none_or(|b| cost < b.0 || (equal && cost == b.0)) {
                *best = Some((cost, pack, order.to_vec(), way.clone()));
            }
        };
    for &k in &kinds {
        consider(&area, &Way { kinds: preferring(k), goal: goals[0] }, &mut best, false);
        spent += 1;
    }
    // A few parts on one sheet: other orders would only lengthen a remnant that is long already.
    let area_of_parts: f64 = task.parts.iter().map(|&p| shapes.area[p]).sum();
    if let Some((_, pack, ..)) = &best
        && pack.left.is_empty()
        && pack.sheets.len() == 1
        && area_of_parts < WORTH * pack.area(task.kinds)
    {
        return pack.clone();
    }
    let favourite = best.as_ref().map_or(kinds.clone(), |b| b.3.kinds.clone());
    'starts: for goal in goals {
        for start in &starts {
            if spent >= tries {
                break 'starts;
            }
            consider(start, &Way { kinds: favourite.clone(), goal }, &mut best, false);
            spent += 1;
        }
    }
    let mut fixed = Fixed::new(1);
    while spent < tries && task.parts.len() > 1 {
        let Some((_, _, order, way)) = &best else { break };
        let (mut order, mut way) = (order.clone(), way.clone());
        let n = order.len();
        for _ in 0..1 + fixed.below(3) {
            let (i, j) = (fixed.below(n), fixed.below(n));
            match fixed.below(8) {
                0 => {
                    let step = order.remove(i);
                    order.insert(j, step);
                }
                1 => {
                    let count = shapes.of[order[i].part].len();
                    order[i].held = (fixed.below(3) > 0).then(|| fixed.below(count));
                }
                2 => way.goal = v(1.0, fixed.between(0.005, 0.6)),
                _ => order.swap(i, j),
            }
        }
        consider(&order, &way, &mut best, true);
        spent += 1;
    }
    best.map(|b| b.1).unwrap_or_default()
}
