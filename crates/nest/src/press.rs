//! Pressing a layout together: shorten a sheet, then move overlapping parts until none overlaps.
//!
//! In: a pack without overlaps. Out: one that costs no more, without overlaps.
//! Always true: what comes back passed the same test of no-fit areas as what went in. Overlaps are weighed, and
//! weights grow where overlaps persist (guided local search), so the search does not stop in a dead end.

use crate::fixed::Fixed;
use crate::order::{Filled, Pack};
use crate::shapes::Shapes;
use crate::spot::{Bin, Placed, Scratch, best, room};
use turnleaf_geom::{Vec2, vec2::v};

/// Places looked at for each move: anywhere.
const ANYWHERE: usize = 48;
/// Places looked at for each move: nearby.
const NEARBY: usize = 16;
/// Shortening tried first, part of the used length.
const FIRST: f64 = 0.01;
/// Shortening below which a try is not worth it.
const LEAST: f64 = 0.003;

/// Towards the start of the sheet, and a little towards its lower edge.
const GOAL: Vec2 = v(1.0, 0.1);

#[derive(Clone, Copy)]
struct Body {
    part: usize,
    sheet: usize,
    place: Placed,
}

struct Press<'a> {
    shapes: &'a Shapes,
    bins: Vec<Bin>,
    bodies: Vec<Body>,
    weights: Vec<f64>,
    fixed: Fixed,
    scratch: Scratch,
}

/// Presses a pack together with so many moves; another round goes another way.
pub fn press(pack: Pack, shapes: &Shapes, moves: usize, round: u64) -> Pack {
    let mut pack = pack;
    let mut moves = moves;
    let mut rate = FIRST;
    let mut fixed = Fixed::new(7 + round);
    while moves > 0 {
        let Some(last) = pack.slackest(shapes) else { break };
        let used = pack.sheets[last].used(shapes);
        if used <= 0.0 {
            break;
        }
        let mut press = Press {
            shapes,
            bins: pack.sheets.iter().map(|s| s.bin).collect(),
            bodies: bodies(&pack),
            weights: Vec::new(),
            fixed: fixed.clone(),
            scratch: Scratch::default(),
        };
        press.bins[last].hi.x = press.bins[last].lo.x + used * (1.0 - rate);
        let fits = press.pull_in();
        if fits && press.separate(&mut moves) {
            press.clear(last);
            press.settle();
            pack = repacked(&pack, &press.bodies);
            // An emptied sheet goes back on the pile.
            pack.sheets.retain(|s| !s.placed.is_empty() || !s.bands.is_empty());
        } else {
            rate = if rate <= LEAST { FIRST } else { rate / 2.0 };
            if !fits {
                moves = moves.saturating_sub(1);
            }
        }
        fixed = press.fixed;
        fixed.unit();
    }
    pack
}

fn bodies(pack: &Pack) -> Vec<Body> {
    let mut out = Vec::new();
    for (sheet, filled) in pack.sheets.iter().enumerate() {
        out.extend(filled.parts.iter().zip(&filled.placed).map(|(&part, &place)| Body {
            part,
            sheet,
            place,
        }));
    }
    out
}

fn repacked(old: &Pack, bodies: &[Body]) -> Pack {
    let empty = |s: &Filled| Filled { parts: Vec::new(), placed: Vec::new(), ..s.clone() };
    let mut pack = Pack { sheets: old.sheets.iter().map(empty).collect(), left: old.left.clone() };
    for body in bodies {
        pack.sheets[body.sheet].parts.push(body.part);
        pack.sheets[body.sheet].placed.push(body.place);
    }
    pack
}

impl Press<'_> {
    /// Moves every part inside its sheet again. False when one fits on no sheet any more.
    fn pull_in(&mut self) -> bool {
        for i in 0..self.bodies.len() {
            let Body { part, sheet, place } = self.bodies[i];
            if let Some((lo, hi)) = room(self.shapes, &self.bins[sheet], place.variant) {
                let at = v(place.at.x.clamp(lo.x, hi.x), place.at.y.clamp(lo.y, hi.y));
                self.bodies[i].place.at = at;
                continue;
            }
            let other = (0..self.bins.len()).find_map(|sheet| {
                self.shapes.of[part].iter().find_map(|&variant| {
                    let (lo, hi) = room(self.shapes, &self.bins[sheet], variant)?;
                    Some(Body { part, sheet, place: Placed { variant, at: (lo + hi) * 0.5 } })
                })
            });
            match other {
                Some(body) => self.bodies[i] = body,
                None => return false,
            }
        }
        true
    }

    /// How deep two bodies overlap.
    #[inline]
    fn depth(&self, i: usize, j: usize) -> f64 {
        let (a, b) = (&self.bodies[i.min(j)], &self.bodies[i.max(j)]);
        if a.sheet != b.sheet {
            return 0.0;
        }
        self.shapes.nofit(a.place.variant, b.place.variant).depth(b.place.at - a.place.at, self.shapes.slack)
    }

    /// Weighed overlap body `i` would have in a place; stops beyond `bound`.
    #[inline]
    fn burden(&self, i: usize, sheet: usize, place: Placed, bound: f64) -> f64 {
        let n = self.bodies.len();
        let mut sum = 0.0;
        for (j, other) in self.bodies.iter().enumerate() {
            if j == i || other.sheet != sheet {
                continue;
            }
            let d = self
                .shapes
                .nofit(other.place.variant, place.variant)
                .depth(place.at - other.place.at, self.shapes.slack);
            if d > 0.0 {
                sum += d * self.weights[i * n + j];
                if sum >= bound {
                    return sum;
                }
            }
        }
        sum
    }

    /// Moves bodies until none overlaps; false when the moves allowed for one try are spent.
    fn separate(&mut self, moves: &mut usize) -> bool {
        let n = self.bodies.len();
        self.weights = vec![1.0; n * n];
        let patience = 100 * n;
        let (mut least, mut stale) = (f64::INFINITY, 0);
        loop {
            let mut depths = vec![0.0; n * n];
            let (mut total, mut most) = (0.0, 0.0f64);
            for i in 0..n {
                for j in i + 1..n {
                    let d = self.depth(i, j);
                    depths[i * n + j] = d;
                    depths[j * n + i] = d;
                    total += d;
                    most = most.max(d);
                }
            }
            if most == 0.0 {
                return true;
            }
            if total < 0.99 * least {
                least = total;
                stale = 0;
            }
            // Weights grow with the overlap and fade without.
            for (w, d) in self.weights.iter_mut().zip(&depths) {
                *w = if *d > 0.0 { *w * (1.2 + 0.8 * d / most) } else { (*w * 0.95).max(1.0) };
            }
            let mut order: Vec<usize> = (0..n).filter(|&i| (0..n).any(|j| depths[i * n + j] > 0.0)).collect();
            for k in (1..order.len()).rev() {
                let other = self.fixed.below(k + 1);
                order.swap(k, other);
            }
            for i in order {
                let body = self.bodies[i];
                let now = self.burden(i, body.sheet, body.place, f64::INFINITY);
                if now == 0.0 {
                    continue;
                }
                if *moves == 0 || stale >= patience {
                    return false;
                }
                *moves -= 1;
                stale += 1;
                self.relocate(i, now);
            }
        }
    }

    /// Moves one body to where it weighs least.
    fn relocate(&mut self, i: usize, now: f64) {
        let body = self.bodies[i];
        let variants = &self.shapes.of[body.part];
        // Two best starting places.
        let mut tops = [(now, body.sheet, body.place), (f64::INFINITY, body.sheet, body.place)];
        for k in 0..ANYWHERE + NEARBY {
            let near = k >= ANYWHERE;
            let (sheet, variant) = if near {
                let keep = self.fixed.below(4) > 0;
                (
                    body.sheet,
                    if keep { body.place.variant } else { variants[self.fixed.below(variants.len())] },
                )
            } else {
                (self.fixed.below(self.bins.len()), variants[self.fixed.below(variants.len())])
            };
            let Some((lo, hi)) = room(self.shapes, &self.bins[sheet], variant) else { continue };
            let at = if near {
                // About where its middle is now.
                let shift = self.middle(body.place.variant) - self.middle(variant);
                let reach =
                    0.25 * (self.shapes.variants[variant].hi - self.shapes.variants[variant].lo).norm();
                let p = body.place.at
                    + shift
                    + v(self.fixed.between(-reach, reach), self.fixed.between(-reach, reach));
                v(p.x.clamp(lo.x, hi.x), p.y.clamp(lo.y, hi.y))
            } else {
                v(self.fixed.between(lo.x, hi.x), self.fixed.between(lo.y, hi.y))
            };
            let place = Placed { variant, at };
            let burden = self.burden(i, sheet, place, tops[1].0);
            if burden < tops[0].0 {
                tops[1] = tops[0];
                tops[0] = (burden, sheet, place);
            } else if burden < tops[1].0 {
                tops[1] = (burden, sheet, place);
            }
        }
        let mut found = tops[0];
        for top in tops {
            if top.0.is_finite() {
                let better = self.descend(i, top);
                if better.0 < found.0 {
                    found = better;
                }
            }
            if found.0 == 0.0 {
                break;
            }
        }
        // Free places that only fit exactly are not found by chance.
        if found.0 > 0.0
            && self.fixed.below(4) == 0
            && let Some((sheet, place)) = self.free(i)
        {
            found = (0.0, sheet, place);
        }
        self.bodies[i].sheet = found.1;
        self.bodies[i].place = found.2;
    }

    /// Moves bodies off one sheet into gaps of the others, as far as they fit.
    fn clear(&mut self, sheet: usize) {
        for i in 0..self.bodies.len() {
            let body = self.bodies[i];
            if body.sheet != sheet {
                continue;
            }
            'sheets: for other in (0..self.bins.len()).filter(|&s| s != sheet) {
                let there: Vec<Placed> =
                    self.bodies.iter().filter(|b| b.sheet == other).map(|b| b.place).collect();
                for &variant in &self.shapes.of[body.part] {
                    let bin = &self.bins[other];
                    let spot =
                        best(self.shapes, bin, &there, variant, GOAL, f64::INFINITY, &mut self.scratch);
                    if let Some((_, at)) = spot {
                        self.bodies[i] = Body { sheet: other, place: Placed { variant, at }, ..body };
                        break 'sheets;
                    }
                }
            }
        }
    }

    /// Lets every body slide to the best touching place beside the others, leftmost first.
    fn settle(&mut self) {
        for sheet in 0..self.bins.len() {
            let mut order: Vec<usize> =
                (0..self.bodies.len()).filter(|&i| self.bodies[i].sheet == sheet).collect();
            let end = |b: &Body| b.place.at.x + self.shapes.variants[b.place.variant].hi.x;
            order.sort_by(|&i, &j| end(&self.bodies[i]).total_cmp(&end(&self.bodies[j])).then(i.cmp(&j)));
            for k in 0..order.len() {
                let i = order[k];
                let others: Vec<Placed> =
                    order.iter().filter(|&&j| j != i).map(|&j| self.bodies[j].place).collect();
                let place = self.bodies[i].place;
                let now = GOAL.dot(place.at + self.shapes.variants[place.variant].hi);
                let bin = &self.bins[sheet];
                if let Some((_, at)) =
                    best(self.shapes, bin, &others, place.variant, GOAL, now, &mut self.scratch)
                {
                    self.bodies[i].place.at = at;
                }
            }
        }
    }

    fn middle(&self, variant: usize) -> Vec2 {
        let one = &self.shapes.variants[variant];
        (one.lo + one.hi) * 0.5
    }

    /// A place without any overlap for body `i`.
    fn free(&mut self, i: usize) -> Option<(usize, Placed)> {
        for sheet in 0..self.bins.len() {
            let others: Vec<Placed> = (self.bodies.iter().enumerate())
                .filter(|(j, b)| *j != i && b.sheet == sheet)
                .map(|(_, b)| b.place)
                .collect();
            for &variant in &self.shapes.of[self.bodies[i].part] {
                let bin = &self.bins[sheet];
                let spot = best(self.shapes, bin, &others, variant, GOAL, f64::INFINITY, &mut self.scratch);
                if let Some((_, at)) = spot {
                    return Some((sheet, Placed { variant, at }));
                }
            }
        }
        None
    }

    /// Slides a body downhill from a starting place, in ever smaller steps.
    fn descend(&mut self, i: usize, start: (f64, usize, Placed)) -> (f64, usize, Placed) {
        let (mut value, sheet, mut place) = start;
        let Some((lo, hi)) = room(self.shapes, &self.bins[sheet], place.variant) else { return start };
        let one = &self.shapes.variants[place.variant];
        let mut step = 0.05 * (one.hi - one.lo).norm();
        let end = 4.0 * self.shapes.slack;
        while step > end && value > 0.0 {
            let turn = self.fixed.below(2);
            let dirs = if turn == 0 {
                [v(1.0, 0.0), v(-1.0, 0.0), v(0.0, 1.0), v(0.0, -1.0)]
            } else {
                [v(0.7, 0.7), v(-0.7, -0.7), v(0.7, -0.7), v(-0.7, 0.7)]
            };
            let mut moved = false;
            for d in dirs {
                let p = place.at + d * step;
                let at = v(p.x.clamp(lo.x, hi.x), p.y.clamp(lo.y, hi.y));
                let next = Placed { at, ..place };
                let burden = self.burden(i, sheet, next, value);
                if burden < value {
                    value = burden;
                    place = next;
                    moved = true;
                    break;
                }
            }
            if !moved {
                step *= 0.5;
            }
        }
        (value, sheet, place)
    }
}
