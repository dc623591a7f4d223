//! The nearest value of a size that mends a table.
//!
//! In: sizes, a goal, names of sizes. Out: [`Remedy`]s in the order of the names.
//! Method: away from the present value in growing strides until one works, then halves back. Every value tried is
//! solved, assembled and held against the goal.
//! Always true: no more than [`TRIES`] values are tried in all, and [`TRIES_EACH`] of one size.

use crate::OFFERED;
use crate::dial::{Dial, Marks, metric};
use crate::goal::Goal;
use crate::remedy::{Change, Remedy, held as held_mechanism};
use turnleaf_mechanism::{Mechanism, Sizes, solve};
use turnleaf_parts::{Assembly, assemble};

/// Values tried in all. More: more remedies found, more time (each takes as long as a solve).
const TRIES: usize = 240;
/// Values tried of one size.
const TRIES_EACH: usize = 40;
/// By how much strides grow.
const GROWTH: f64 = 2.2;

/// Sizes that may be changed while the mechanism stays: they shape the top's edges only.
const EDGES: [&str; 3] = ["tongue_depth", "tongue_clearance", "fitting_gap"];

/// Nearest working values of the sizes named.
pub(crate) fn remedies(
    s: &Sizes,
    m: Option<&Mechanism>,
    goal: &Goal,
    names: &[&str],
    marks: Marks,
) -> Vec<Remedy> {
    let mut left = TRIES;
    let mut out = Vec::new();
    for dial in names.iter().filter_map(|name| Dial::of(name)) {
        if out.len() >= OFFERED || left == 0 {
            break;
        }
        let Some(from) = dial.get(s, m) else { continue };
        let works = |value: f64| solve(&dial.set(s, value)).is_ok_and(|m| goal.met(&assemble(&m)));
        let (size, unit) = (dial.size, dial.unit);
        let found = nearest(dial, from, marks, &mut left, &works).or_else(|| {
            // Growing strides can step over a narrow stretch; what the solver would choose lies inside it.
            let free = solve(&dial.freed(s)).ok()?;
            let choice = dial.get(&free.sizes, Some(&free)).filter(|_| dial.given(s))?;
            towards(dial, from, choice, marks, &mut left, &works)
        });
        if let Some(to) = found {
            out.push(say(Change::Size { size, unit, from, to }));
        } else if dial.given(s) && solve(&dial.freed(s)).is_ok_and(|m| goal.met(&assemble(&m))) {
            out.push(say(Change::Leave { size }));
        }
    }
    out
}

/// Nearest working values of sizes that leave the mechanism as it is.
pub(crate) fn held(a: &Assembly, goal: &Goal, names: &[&str], marks: Marks) -> Vec<Remedy> {
    let m = &a.mechanism;
    let mut left = TRIES;
    let mut out = Vec::new();
    for dial in names.iter().filter(|n| EDGES.contains(n)).filter_map(|name| Dial::of(name)) {
        let Some(from) = dial.get(&m.sizes, Some(m)) else { continue };
        let works = |value: f64| goal.met(&assemble(&held_mechanism(m, dial, value)));
        if let Some(to) = nearest(dial, from, marks, &mut left, &works) {
            out.push(say(Change::Held { size: dial.size, unit: dial.unit, from, to }));
        }
    }
    out
}

fn say(change: Change) -> Remedy {
    let text = Remedy::sentence(&change, metric).unwrap_or_default();
    Remedy { text, change }
}

/// The working value nearest to `from`, either way.
fn nearest(
    dial: &Dial,
    from: f64,
    marks: Marks,
    left: &mut usize,
    works: &impl Fn(f64) -> bool,
) -> Option<f64> {
    let mut budget = TRIES_EACH.min(*left);
    let before = budget;
    let mut best: Option<f64> = None;
    for way in [-1.0, 1.0] {
        // The other way is only worth as far as what was found already.
        let most = best.map_or(f64::INFINITY, |b| (b - from).abs());
        let half = if way < 0.0 { budget / 2 } else { budget };
        let mut share = half;
        if let Some(to) = walk(dial, from, way, most, marks, &mut share, works) {
            best = Some(to);
        }
        budget -= half - share;
    }
    *left -= before - budget;
    best
}

/// The working mark nearest to `from` on the way from a value that should work; None when its mark does not.
fn towards(
    dial: &Dial,
    from: f64,
    choice: f64,
    marks: Marks,
    left: &mut usize,
    works: &impl Fn(f64) -> bool,
) -> Option<f64> {
    let step = dial.mark(marks);
    let (mut good, mut bad) = ((choice / step).round(), (from / step).round());
    if *left == 0 || !works(good * step) {
        return None;
    }
    while (good - bad).abs() > 1.0 && *left > 0 {
        *left -= 1;
        let middle = ((good + bad) / 2.0).round();
        if middle == good || middle == bad {
            break;
        }
        if works(middle * step) { good = middle } else { bad = middle }
    }
    Some(good * step)
}

/// One way only; None when nothing works nearer than `most`.
fn walk(
    dial: &Dial,
    from: f64,
    way: f64,
    most: f64,
    marks: Marks,
    left: &mut usize,
    works: &impl Fn(f64) -> bool,
) -> Option<f64> {
    let step = dial.mark(marks);
    let base = if way > 0.0 { (from / step + 1e-9).floor() } else { (from / step - 1e-9).ceil() };
    let mark = |k: f64| (base + way * k) * step;
    let inside = |v: f64| v >= dial.range.0 - 1e-9 && v <= dial.range.1 + 1e-9 && (v - from).abs() < most;
    let mut ask = |v: f64| {
        *left = left.checked_sub(1)?;
        Some(works(v))
    };
    // A value outside the range starts just before it.
    let outside = if way > 0.0 { dial.range.0 - from } else { from - dial.range.1 };
    let (mut bad, mut stride) = (((outside / step).ceil() - 1.0).max(0.0), 1.0);
    loop {
        let mut k = bad + stride;
        // The last stride ends at the edge of the range.
        while k > bad && !inside(mark(k)) {
            k = bad + ((k - bad) / 2.0).floor();
        }
        if k == bad {
            return None;
        }
        if ask(mark(k))? {
            let mut good = k;
            while good - bad > 1.0 {
                let middle = ((good + bad) / 2.0).floor();
                match ask(mark(middle)) {
                    Some(true) => good = middle,
                    Some(false) => bad = middle,
                    None => break,
                }
            }
            return Some(mark(good));
        }
        bad = k;
        stride = (stride * GROWTH).ceil();
    }
}
