//! One layer of a body as something that can hide edges.
//!
//! In: a layer, its place, the line of sight. Out: a [`Block`], which tells whether it stands between
//! a point and the viewer, and lists the curves at which that answer can change.
//!
//! Always true: grazing does not hide. A line of sight that only touches a block or slides along its
//! face passes it; what is drawn along that face lies on the same line of the picture anyway.

use crate::body::Body;
use crate::flat::{Flat, TOUCH};
use crate::plane::{Bow3, Plane, Run3};
use crate::space::Vec3;
use crate::wall::{Turn, Wall, walls};
use core::cell::OnceCell;
use turnleaf_geom::{Vec2, vec2::v};
use turnleaf_parts::Layer;

/// Half the width of the pencil of sight, mm. Must exceed rounding (1e-10) and stay below any real gap.
const PENCIL: f64 = 1e-6;
/// Neighbouring curves of a contour that share a box.
const STRIDE: usize = 8;
/// Material thinner than this along the line of sight hides nothing, mm.
const THIN: f64 = 1e-4;

/// Placed layer, told in its own turned frame (ξ to the viewer, η across, z along the axis).
#[derive(Clone, Debug)]
pub(crate) struct Block {
    pub body: usize,
    /// World position of the frame's origin and its three axes.
    pub origin: Vec3,
    pub xi: Vec3,
    pub eta: Vec3,
    pub axis: Vec3,
    pub z0: f64,
    pub z1: f64,
    pub walls: Vec<Wall>,
    /// Box of the walls in (ξ, η).
    pub plan: (Vec2, Vec2),
    /// Curves at which the block's hiding of an edge can begin or end.
    pub contour: Vec<Flat>,
    /// The box of each curve, and of every `STRIDE` of them.
    boxes: Vec<(Vec2, Vec2)>,
    strides: Vec<(Vec2, Vec2)>,
    /// Box of the contour in the working plane.
    pub lo: Vec2,
    pub hi: Vec2,
    /// Nearest point to the viewer, along the line of sight.
    pub near: f64,
    /// Sight in the frame: the part along ξ (never negative) and along z.
    run: f64,
    climb: f64,
    /// Walls sorted into strips of equal η.
    strips: Strips,
    /// The walls as curves in (ξ, η), made when first asked for.
    faces: OnceCell<Vec<Flat>>,
}

#[derive(Clone, Debug, Default)]
struct Strips {
    from: f64,
    scale: f64,
    /// First index into `list` of each strip, one more than there are strips.
    starts: Vec<u32>,
    list: Vec<u32>,
}

/// How the line of sight runs against a block.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Run {
    /// Along the prism's axis.
    Axial,
    /// Square to it.
    Level,
    /// Anything else.
    Slant,
}

impl Block {
    pub fn new(body_index: usize, body: &Body, layer: &Layer, plane: &Plane) -> Block {
        let local = body.pose.unturn(plane.sight.toward);
        let across = v(local.x, local.y);
        let turn = Turn::to(across);
        let walls = walls(&layer.region, &turn);
        let mut run = across.norm();
        let mut climb = local.z;
        if run < 1e-9 {
            run = 0.0;
        }
        if climb.abs() < 1e-9 {
            climb = 0.0;
        }
        let pose = &body.pose;
        let mut block = Block {
            body: body_index,
            origin: pose.offset,
            xi: pose.x * turn.cos + pose.y * turn.sin,
            eta: pose.y * turn.cos - pose.x * turn.sin,
            axis: pose.z,
            z0: layer.z0,
            z1: layer.z1,
            contour: Vec::new(),
            boxes: Vec::new(),
            strides: Vec::new(),
            lo: Vec2::ZERO,
            hi: Vec2::ZERO,
            near: f64::NEG_INFINITY,
            run,
            climb,
            strips: Strips::new(&walls),
            plan: plan_box(&walls),
            walls,
            faces: OnceCell::new(),
        };
        block.outline(plane);
        block
    }
    fn way(&self) -> Run {
        if self.run == 0.0 {
            Run::Axial
        } else if self.climb == 0.0 {
            Run::Level
        } else {
            Run::Slant
        }
    }
    /// World position of a point of the turned frame.
    pub fn world(&self, p: Vec2, z: f64) -> Vec3 {
        self.origin + self.xi * p.x + self.eta * p.y + self.axis * z
    }
    /// Whether the joint before this wall is drawn or can be where hiding changes.
    pub fn turns(&self, wall: &Wall) -> bool {
        self.run > 0.0 && wall.facing != self.walls[wall.before].facing
    }
    /// The rim of a wall at height z, in space.
    pub fn rim(&self, wall: &Wall, z: f64) -> Run3 {
        let (a, b) = (self.world(wall.a, z), self.world(wall.b, z));
        let bow = wall.arc.map(|c| Bow3 {
            c: self.world(c.centre, z),
            p: self.xi * c.radius,
            q: self.eta * c.radius,
            start: c.start,
            sweep: c.sweep,
        });
        Run3 { a, b, bow }
    }
    /// The walls as curves in (ξ, η).
    pub fn faces(&self) -> &[Flat] {
        self.faces.get_or_init(|| self.walls.iter().map(Wall::flat).collect())
    }
    /// The upright line at the start of a wall, in space.
    pub fn upright(&self, wall: &Wall) -> Run3 {
        Run3 { a: self.world(wall.a, self.z0), b: self.world(wall.a, self.z1), bow: None }
    }
    /// Lists the contour and measures the block.
    fn outline(&mut self, plane: &Plane) {
        let mut contour = Vec::with_capacity(self.walls.len() * 2);
        for wall in &self.walls {
            let (top, bottom) = match self.way() {
                Run::Axial => (true, false),
                Run::Level => (wall.facing > 0, wall.facing > 0),
                Run::Slant if self.climb > 0.0 => (wall.facing <= 0, wall.facing >= 0),
                Run::Slant => (wall.facing >= 0, wall.facing <= 0),
            };
            for (wanted, z) in [(top, self.z1), (bottom, self.z0)] {
                let rim = self.rim(wall, z);
                self.near = self.near.max(plane.span(&rim).1);
                if wanted {
                    contour.push(plane.project(&rim));
                }
            }
            if self.turns(wall) {
                contour.push(plane.project(&self.upright(wall)));
            }
        }
        let mut lo = v(f64::INFINITY, f64::INFINITY);
        let mut hi = -lo;
        for c in &contour {
            lo = v(lo.x.min(c.lo.x), lo.y.min(c.lo.y));
            hi = v(hi.x.max(c.hi.x), hi.y.max(c.hi.y));
        }
        self.boxes = contour.iter().map(|c| (c.lo, c.hi)).collect();
        self.strides = self.boxes.chunks(STRIDE).map(around).collect();
        (self.contour, self.lo, self.hi) = (contour, lo, hi);
    }
    /// The curves of the contour whose boxes meet a box.
    pub fn curves_near(&self, lo: Vec2, hi: Vec2) -> impl Iterator<Item = &Flat> {
        let (lo, hi) = (lo - v(TOUCH, TOUCH), hi + v(TOUCH, TOUCH));
        let meets = move |b: &(Vec2, Vec2)| b.0.x <= hi.x && lo.x <= b.1.x && b.0.y <= hi.y && lo.y <= b.1.y;
        let strides = self.strides.iter().enumerate().filter(move |s| meets(s.1));
        strides.flat_map(move |(k, _)| {
            let from = k * STRIDE;
            let to = (from + STRIDE).min(self.boxes.len());
            let some = self.boxes[from..to].iter().zip(&self.contour[from..to]);
            some.filter(move |b| meets(b.0)).map(|b| b.1)
        })
    }
    /// Whether the block stands between the world point and the viewer.
    pub fn hides(&self, point: Vec3, scratch: &mut Vec<f64>) -> bool {
        let r = point - self.origin;
        let p = v(self.xi.dot(r), self.eta.dot(r));
        let z = self.axis.dot(r);
        let (lo, hi) = match self.way() {
            Run::Axial => {
                let ahead = if self.climb > 0.0 { self.z1 - z } else { z - self.z0 };
                if ahead <= THIN {
                    return false;
                }
                (0.0, 0.0)
            }
            // Half open, so that the joint between two layers of a body hides too.
            Run::Level => {
                if z < self.z0 - PENCIL || z >= self.z1 - PENCIL {
                    return false;
                }
                (p.x, f64::INFINITY)
            }
            Run::Slant => {
                let (s0, s1) = ((self.z0 - z) / self.climb, (self.z1 - z) / self.climb);
                let (enter, leave) = (s0.min(s1).max(0.0), s0.max(s1));
                if leave <= enter + THIN {
                    return false;
                }
                (p.x + self.run * enter, p.x + self.run * leave)
            }
        };
        for eta in [p.y - PENCIL, p.y + PENCIL] {
            self.strips.crossed(&self.walls, eta, scratch);
            let blocked = if self.run == 0.0 {
                let odd = |x: f64| scratch.iter().filter(|&&c| c > x).count() % 2 == 1;
                odd(p.x - PENCIL) && odd(p.x + PENCIL)
            } else {
                let thin = THIN * self.run;
                scratch.sort_unstable_by(f64::total_cmp);
                scratch.chunks_exact(2).any(|c| c[1].min(hi) - c[0].max(lo) > thin)
            };
            if !blocked {
                return false;
            }
        }
        true
    }
}

/// The box round boxes.
fn around(boxes: &[(Vec2, Vec2)]) -> (Vec2, Vec2) {
    boxes.iter().fold((v(f64::INFINITY, f64::INFINITY), v(f64::NEG_INFINITY, f64::NEG_INFINITY)), |a, b| {
        (v(a.0.x.min(b.0.x), a.0.y.min(b.0.y)), v(a.1.x.max(b.1.x), a.1.y.max(b.1.y)))
    })
}

fn plan_box(walls: &[Wall]) -> (Vec2, Vec2) {
    let mut lo = v(f64::INFINITY, f64::INFINITY);
    let mut hi = -lo;
    for w in walls {
        for p in [w.a, w.b] {
            lo = v(lo.x.min(p.x), lo.y.min(p.y));
            hi = v(hi.x.max(p.x), hi.y.max(p.y));
        }
        if let Some(c) = w.arc {
            // Walls are cut at their extremes in η; in ξ the whole circle is taken, which is only wider.
            (lo.x, hi.x) = (lo.x.min(c.centre.x - c.radius), hi.x.max(c.centre.x + c.radius));
        }
    }
    (lo, hi)
}

impl Strips {
    fn new(walls: &[Wall]) -> Strips {
        let (mut lo, mut hi) = (f64::INFINITY, f64::NEG_INFINITY);
        for w in walls {
            lo = lo.min(w.a.y).min(w.b.y);
            hi = hi.max(w.a.y).max(w.b.y);
        }
        if walls.is_empty() || hi <= lo {
            return Strips::default();
        }
        let n = walls.len().clamp(1, 256);
        let scale = n as f64 / (hi - lo);
        let cell = |eta: f64| (((eta - lo) * scale) as usize).min(n - 1);
        let mut starts = vec![0_u32; n + 1];
        let spans: Vec<Option<(usize, usize)>> = walls
            .iter()
            .map(|w| (w.a.y != w.b.y).then(|| (cell(w.a.y.min(w.b.y)), cell(w.a.y.max(w.b.y)))))
            .collect();
        for &(a, b) in spans.iter().flatten() {
            (a..=b).for_each(|k| starts[k + 1] += 1);
        }
        for k in 0..n {
            starts[k + 1] += starts[k];
        }
        let mut at = starts.clone();
        let mut list = vec![0; starts[n] as usize];
        for (i, span) in spans.iter().enumerate() {
            if let Some((a, b)) = *span {
                for k in a..=b {
                    list[at[k] as usize] = i as u32;
                    at[k] += 1;
                }
            }
        }
        Strips { from: lo, scale, starts, list }
    }
    /// Where the line of sight at `eta` passes the walls, unsorted. Always an even number of them,
    /// because each wall owns its lower end and not its upper one.
    fn crossed(&self, walls: &[Wall], eta: f64, out: &mut Vec<f64>) {
        out.clear();
        let n = self.starts.len().saturating_sub(1);
        let at = (eta - self.from) * self.scale;
        if n == 0 || at < 0.0 || at > n as f64 {
            return;
        }
        let k = (at as usize).min(n - 1);
        for &i in &self.list[self.starts[k] as usize..self.starts[k + 1] as usize] {
            let w = &walls[i as usize];
            if (w.a.y <= eta) != (w.b.y <= eta) {
                out.push(w.depth_at(eta));
            }
        }
    }
}
