//! Levers and tipping.
//!
//! In: weights and loads in N, distances in mm, feet in plan. Out: loads in N.
//! Always true: a table tips about the line through two neighbouring feet; how high its weight lies does not
//! matter for the first movement.

use turnleaf_geom::Vec2;

/// Force at the other end of a lever: F1·a = F2·b.
pub fn lever(force: f64, arm: f64, other: f64) -> f64 {
    force * arm / other
}

/// Load that begins to tip: W·a/x. `a` from the weight to the tipping line, `x` from the line to the load.
/// None when the load does not lie beyond the line.
pub fn tipping_load(weight: f64, a: f64, x: f64) -> Option<f64> {
    (x > 0.0).then(|| weight * a / x)
}

/// A line through two neighbouring feet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Line {
    /// One foot.
    pub a: Vec2,
    /// The next, counter-clockwise.
    pub b: Vec2,
}

impl Line {
    /// Outward normal.
    pub fn normal(&self) -> Vec2 {
        (self.b - self.a).unit().perp() * -1.0
    }
    /// Distance of a point inside the line, mm; negative outside.
    pub fn inside(&self, p: Vec2) -> f64 {
        (self.a - p).dot(self.normal())
    }
}

/// The outline that wraps all feet, counter-clockwise (Andrew's monotone chain).
pub fn hull(points: &[Vec2]) -> Vec<Vec2> {
    let mut p = points.to_vec();
    p.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    p.dedup();
    if p.len() < 3 {
        return p;
    }
    let half = |it: &mut dyn Iterator<Item = Vec2>| {
        let mut out: Vec<Vec2> = Vec::new();
        for q in it {
            while out.len() > 1
                && (out[out.len() - 1] - out[out.len() - 2]).cross(q - out[out.len() - 1]) <= 1e-9
            {
                out.pop();
            }
            out.push(q);
        }
        out.pop();
        out
    };
    let mut out = half(&mut p.iter().copied());
    out.extend(half(&mut p.iter().rev().copied()));
    out
}

/// Every tipping line of a set of feet.
pub fn lines(feet: &[Vec2]) -> Vec<Line> {
    let h = hull(feet);
    let n = h.len();
    if n < 3 {
        return Vec::new();
    }
    (0..n).map(|i| Line { a: h[i], b: h[(i + 1) % n] }).collect()
}

/// The tipping line that needs the least load at a distance `reach` from the origin straight across it.
pub fn weakest(lines: &[Line], weight: f64, centre: Vec2, reach: f64) -> Option<(Line, f64)> {
    lines
        .iter()
        .filter_map(|l| {
            let beyond = reach - l.inside(Vec2::ZERO);
            tipping_load(weight, l.inside(centre), beyond).map(|p| (*l, p))
        })
        .min_by(|a, b| a.1.total_cmp(&b.1))
}
