//! Item numbers in balloons beside a view.
//!
//! In: for each item the points of the drawing it can be pointed at, and the zone. Out: balloons in two columns.
//! Always true: balloons stand in the zone's left and right margin and keep a gap between each other; leaders
//! of one side cross only if no order of their balloons avoids it. Circles and leaders are narrow lines
//! (ISO 6433; a leader to an outline ends in an arrow, ISO 128-22).
//! Method: boundary labelling with straight leaders; crossing pairs are exchanged, which shortens the sum of
//! the leaders each time, so that this ends.

use turnleaf_dimension::place::pen::{Style, arrow, line};
use turnleaf_geom::{Arc, Vec2, trig, vec2::v};
use turnleaf_page::{Anchor, Item, Pt, Role, Step, Stroke, Text, pt};
use turnleaf_text::size_for_cap_height;

/// Diameter of a balloon, mm. Smaller: two figures of 3.5 mm touch the circle.
pub const CIRCLE: f64 = 8.0;
/// Least gap between two balloons, mm.
const APART: f64 = 1.5;
/// Height of the figures, mm (ISO 6433: larger than those of dimensions).
const CAP: f64 = 3.0;

/// An item that wants a balloon.
#[derive(Clone, Debug, PartialEq)]
pub struct Wish {
    /// Its number.
    pub number: usize,
    /// Identifier of its part.
    pub id: String,
    /// Points on its visible lines, on paper.
    pub points: Vec<Pt>,
}

/// A balloon in its place.
#[derive(Clone, Debug, PartialEq)]
pub struct Balloon {
    /// Item number.
    pub number: usize,
    /// Identifier of its part.
    pub id: String,
    /// Centre of the circle.
    pub at: Pt,
    /// End of the leader.
    pub tip: Pt,
}

/// Width of the margin that balloons take on each side of a zone, mm.
pub const MARGIN: f64 = CIRCLE + 5.0;

fn crossing(a: &Balloon, b: &Balloon) -> bool {
    let p = |q: Pt| v(q.x, q.y);
    let side = |a: Vec2, b: Vec2, c: Vec2| (b - a).cross(c - a);
    let (a0, a1, b0, b1) = (p(a.at), p(a.tip), p(b.at), p(b.tip));
    side(a0, a1, b0) * side(a0, a1, b1) < 0.0 && side(b0, b1, a0) * side(b0, b1, a1) < 0.0
}

/// Places at least `gap` apart, in order, as near their wishes as the sum of squares and the room allow.
pub(crate) fn spread(wishes: &[f64], from: f64, to: f64, gap: f64) -> Vec<f64> {
    // Blocks of neighbours that touch, each at the mean of what its members want.
    let mut blocks: Vec<(f64, usize)> = Vec::new();
    for (i, w) in wishes.iter().enumerate() {
        blocks.push((w - gap * i as f64, 1));
        while blocks.len() > 1 && blocks[blocks.len() - 2].0 > blocks[blocks.len() - 1].0 {
            if let (Some(b), Some(a)) = (blocks.pop(), blocks.pop()) {
                let n = a.1 + b.1;
                blocks.push(((a.0 * a.1 as f64 + b.0 * b.1 as f64) / n as f64, n));
            }
        }
    }
    let most = to - gap * wishes.len().saturating_sub(1) as f64;
    let starts = blocks.iter().flat_map(|b| core::iter::repeat_n(b.0.clamp(from, most.max(from)), b.1));
    starts.enumerate().map(|(i, s)| s + gap * i as f64).collect()
}

fn column(side: &mut Vec<Balloon>, x: f64, from: f64, to: f64) {
    side.sort_by(|a, b| a.tip.y.total_cmp(&b.tip.y).then(a.number.cmp(&b.number)));
    let set = |side: &mut Vec<Balloon>| {
        let wishes: Vec<f64> = side.iter().map(|b| b.tip.y).collect();
        // What was exchanged no longer stands in the order of its wishes.
        let sorted = {
            let mut s = wishes.clone();
            s.sort_by(f64::total_cmp);
            s
        };
        // Where they do not all fit, they stand as close as it takes.
        let gap = match sorted.len() {
            n if n > 1 => (CIRCLE + APART).min((to - from) / (n - 1) as f64),
            _ => CIRCLE + APART,
        };
        for (b, y) in side.iter_mut().zip(spread(&sorted, from, to, gap)) {
            b.at = pt(x, y);
        }
    };
    set(side);
    // Each exchange shortens the leaders; the bound only guards against equal lengths.
    for _ in 0..side.len() * side.len() {
        let found = (0..side.len())
            .flat_map(|i| (i + 1..side.len()).map(move |j| (i, j)))
            .find(|&(i, j)| crossing(&side[i], &side[j]));
        let Some((i, j)) = found else { break };
        let (a, b) = (side[i].at, side[j].at);
        side[i].at = b;
        side[j].at = a;
        side.swap(i, j);
    }
}

/// Places balloons in the left and right margins of a zone (corners). Items without a point get none.
pub fn place(wishes: &[Wish], zone: (Pt, Pt)) -> Vec<Balloon> {
    let (lo, hi) = zone;
    let (left, right) = (lo.x + CIRCLE / 2.0, hi.x - CIRCLE / 2.0);
    let extreme = |w: &Wish, sign: f64| {
        w.points
            .iter()
            .copied()
            .min_by(|a, b| (a.x * sign).total_cmp(&(b.x * sign)).then(a.y.total_cmp(&b.y)))
    };
    let mut both: Vec<(f64, &Wish, Pt, Pt)> = wishes
        .iter()
        .filter_map(|w| {
            let (l, r) = (extreme(w, 1.0)?, extreme(w, -1.0)?);
            Some(((l.x - left) - (right - r.x), w, l, r))
        })
        .collect();
    // Those nearest the left go left; each side takes half, give or take what is clearly nearer.
    both.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.number.cmp(&b.1.number)));
    let n = both.len();
    let room = (((hi.y - lo.y - CIRCLE) / (CIRCLE + APART)).floor().max(0.0) as usize) + 1;
    let natural = both.iter().filter(|b| b.0 <= 0.0).count();
    let cut = natural.clamp(n / 3, n - n / 3).max(n.saturating_sub(room)).min(room.max(n / 2));
    let balloon = |w: &Wish, tip: Pt| Balloon { number: w.number, id: w.id.clone(), at: tip, tip };
    let mut ls: Vec<Balloon> = both[..cut].iter().map(|b| balloon(b.1, b.2)).collect();
    let mut rs: Vec<Balloon> = both[cut..].iter().map(|b| balloon(b.1, b.3)).collect();
    let (from, to) = (lo.y + CIRCLE / 2.0, hi.y - CIRCLE / 2.0);
    column(&mut ls, left, from, to);
    column(&mut rs, right, from, to);
    ls.append(&mut rs);
    ls.sort_by_key(|b| b.number);
    ls
}

/// A balloon's circle, figure and leader.
pub fn items(b: &Balloon, prefix: &str, style: &Style) -> Item {
    let place = |p: Vec2| pt(b.at.x + p.x, b.at.y - p.y);
    let ring = Arc { centre: Vec2::ZERO, radius: CIRCLE / 2.0, start: 0.0, sweep: trig::rad(360.0) };
    let mut steps = vec![Step::Move(place(ring.at(0.0)))];
    turnleaf_dimension::place::pen::arc_steps(&ring, &place, &mut steps);
    steps.push(Step::Close);
    let (dx, dy) = (b.tip.x - b.at.x, b.tip.y - b.at.y);
    let long = trig::hypot(dx, dy).max(1e-9);
    let k = CIRCLE / 2.0 / long;
    let foot = pt(b.at.x + dx * k, b.at.y + dy * k);
    let size = size_for_cap_height(CAP);
    let text = Text::new(pt(b.at.x, b.at.y + CAP / 2.0), size, b.number.to_string()).anchor(Anchor::Middle);
    let mut inside =
        vec![Item::Path { steps, stroke: Some(Stroke::solid(style.narrow)), fill: None }, Item::Text(text)];
    if long > CIRCLE / 2.0 + style.arrow {
        inside.push(line(foot, b.tip, style.thin()));
        inside.push(arrow(b.tip, dx, dy, style.arrow * 0.8));
    }
    let id = Some(format!("{prefix}/balloon/{}", b.id));
    Item::Group { role: Role::Plain, origin: None, id, items: inside }
}
