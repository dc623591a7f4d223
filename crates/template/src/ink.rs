//! What is already drawn, for finding free places.
//!
//! In: stretches and boxes. Out: how many of them a new box or a new line would touch.
//! Always true: coordinates of one plane only (paper, or the part at full size); y may run either way.

use turnleaf_geom::{Seg, Vec2, vec2::v};

/// Greatest distance of a chord from its arc, mm. Larger: letters could touch a round line.
const SAG: f64 = 0.05;

/// A box.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Box2 {
    /// Least corner.
    pub lo: Vec2,
    /// Greatest corner.
    pub hi: Vec2,
}

impl Box2 {
    /// A box about a point.
    pub fn about(c: Vec2, half_x: f64, half_y: f64) -> Box2 {
        Box2 { lo: v(c.x - half_x, c.y - half_y), hi: v(c.x + half_x, c.y + half_y) }
    }
    fn meets(&self, o: &Box2) -> bool {
        self.lo.x < o.hi.x && o.lo.x < self.hi.x && self.lo.y < o.hi.y && o.lo.y < self.hi.y
    }
    /// Whether a box lies inside this one.
    pub fn holds(&self, o: &Box2) -> bool {
        self.lo.x <= o.lo.x && self.lo.y <= o.lo.y && self.hi.x >= o.hi.x && self.hi.y >= o.hi.y
    }
    /// Whether a stretch enters the box (Liang and Barsky's clipping).
    fn entered(&self, a: Vec2, b: Vec2) -> bool {
        let d = b - a;
        let (mut t0, mut t1) = (0.0f64, 1.0f64);
        for (from, along, lo, hi) in [(a.x, d.x, self.lo.x, self.hi.x), (a.y, d.y, self.lo.y, self.hi.y)] {
            if along == 0.0 {
                if from <= lo || from >= hi {
                    return false;
                }
            } else {
                let (p, q) = ((lo - from) / along, (hi - from) / along);
                t0 = t0.max(p.min(q));
                t1 = t1.min(p.max(q));
            }
        }
        t0 < t1
    }
}

/// Everything drawn so far.
#[derive(Clone, Debug, Default)]
pub struct Ink {
    lines: Vec<(Vec2, Vec2)>,
    boxes: Vec<Box2>,
}

fn cross(a: Vec2, b: Vec2, c: Vec2, d: Vec2) -> bool {
    let side = |p: Vec2, q: Vec2, r: Vec2| (q - p).cross(r - p);
    side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0
}

impl Ink {
    /// Adds a stretch.
    pub fn line(&mut self, a: Vec2, b: Vec2) {
        self.lines.push((a, b));
    }
    /// Adds an edge, arcs as chords, moved into the plane by `place`.
    pub fn seg(&mut self, seg: &Seg, place: &dyn Fn(Vec2) -> Vec2) {
        match seg {
            Seg::Line(a, b) => self.line(place(*a), place(*b)),
            Seg::Arc(arc) => {
                let step = 2.0 * turnleaf_geom::trig::acos((1.0 - SAG / arc.radius).max(0.0));
                let n = ((arc.sweep.abs() / step).ceil() as usize).clamp(2, 2000);
                for i in 0..n {
                    let at = |i: usize| place(arc.at(i as f64 / n as f64));
                    self.line(at(i), at(i + 1));
                }
            }
        }
    }
    /// Adds a box of letters.
    pub fn text(&mut self, b: Box2) {
        self.boxes.push(b);
    }
    /// How many stretches and boxes a new box touches.
    pub fn hits(&self, b: &Box2) -> usize {
        self.boxes.iter().filter(|o| o.meets(b)).count()
            + self.lines.iter().filter(|(p, q)| b.entered(*p, *q)).count()
    }
    /// Whether a new box touches nothing.
    pub fn free(&self, b: &Box2) -> bool {
        !self.boxes.iter().any(|o| o.meets(b)) && !self.lines.iter().any(|(p, q)| b.entered(*p, *q))
    }
    /// How many stretches a new line crosses; `None` when it runs through letters.
    pub fn crossed(&self, a: Vec2, b: Vec2) -> Option<usize> {
        if self.boxes.iter().any(|o| o.entered(a, b)) {
            return None;
        }
        Some(self.lines.iter().filter(|(p, q)| cross(a, b, *p, *q)).count())
    }
}
