//! Solids made ready for many looks at them.
//!
//! In: solids. Out: their prisms with everything that no turn, walk or look changes; and, for one look, the prisms in
//! their places with the stretches of their sides that face the eye.
//! Always true: a stretch bends little and is short, so that stretches beside each other can be put in order; a prism
//! is turned only when something of it may be seen.

use crate::{Box4, Level, Movement, Point, Solid};
use std::cell::OnceCell;

/// A stretch of a side is broken off where it has turned so far (cosine of 23°), or grown so long, mm: short ones are
/// put in order more truly.
const BEND: f64 = 0.92;
const LONG: f64 = 160.0;
/// Two sides meet in a line when they turn by more than this (cosine of 29°).
const CORNER: f64 = 0.875;

/// A ring whose edges are no longer than a stretch may be.
struct Loop {
    points: Vec<Point>,
    /// Which points stand in the outline; the others only part its edges.
    own: Vec<bool>,
    /// Along the edge after each point: a unit vector, and its length.
    ways: Vec<(f64, f64, f64)>,
}

impl Loop {
    fn new(ring: &[Point]) -> Loop {
        let (mut points, mut own) = (Vec::with_capacity(ring.len()), Vec::with_capacity(ring.len()));
        for (i, a) in ring.iter().enumerate() {
            let b = ring[(i + 1) % ring.len()];
            let parts = (libm::hypot(b.0 - a.0, b.1 - a.1) / LONG).ceil().clamp(1.0, 100.0);
            for k in 0..parts as usize {
                let share = k as f64 / parts;
                points.push((a.0 + (b.0 - a.0) * share, a.1 + (b.1 - a.1) * share));
                own.push(k == 0);
            }
        }
        let way = |i: usize| {
            let (a, b) = (points[i], points[(i + 1) % points.len()]);
            let long = libm::hypot(b.0 - a.0, b.1 - a.1).max(1e-12);
            ((b.0 - a.0) / long, (b.1 - a.1) / long, long)
        };
        let ways = (0..points.len()).map(way).collect();
        Loop { points, own, ways }
    }

    /// Cosine of the turn from one edge to another.
    fn along(&self, a: usize, b: usize) -> f64 {
        let (a, b) = (self.ways[a % self.ways.len()], self.ways[b % self.ways.len()]);
        a.0 * b.0 + a.1 * b.1
    }
}

/// A prism, ready.
struct Shape {
    solid: usize,
    low: f64,
    high: f64,
    lined: bool,
    rings: Vec<Vec<Point>>,
    loops: Vec<Loop>,
    /// A circle round it: middle and radius.
    round: (Point, f64),
}

/// Solids, ready for many looks.
pub struct Ready {
    shapes: Vec<Shape>,
    pub(crate) levels: Vec<Level>,
}

impl Ready {
    /// Makes solids ready.
    pub fn new(solids: &[Solid]) -> Ready {
        let mut shapes = Vec::new();
        for (solid, one) in solids.iter().enumerate() {
            for prism in &one.prisms {
                let Some((l, t, r, b)) = bounds(prism.rings.iter().flatten()) else { continue };
                shapes.push(Shape {
                    solid,
                    low: prism.low,
                    high: prism.high,
                    lined: prism.lined,
                    rings: prism.rings.clone(),
                    loops: prism.rings.iter().map(|ring| Loop::new(ring)).collect(),
                    round: (((l + r) / 2.0, (t + b) / 2.0), libm::hypot(r - l, b - t) / 2.0),
                });
            }
        }
        Ready { shapes, levels: solids.iter().map(|one| one.level).collect() }
    }

    /// The prisms of the levels shown, each moved and lifted as `place` says of its solid. Those of which a cut leaves
    /// nothing are left out.
    pub(crate) fn stand(
        &self,
        cut: bool,
        place: &dyn Fn(usize) -> Option<(Movement, f64)>,
    ) -> Vec<Stood<'_>> {
        let mut known: Option<(usize, Option<(Movement, f64)>)> = None;
        let stand = |shape| {
            let shape: &Shape = shape;
            let there = match known {
                Some((solid, there)) if solid == shape.solid => there,
                _ => place(shape.solid),
            };
            known = Some((shape.solid, there));
            let (movement, z) = there?;
            let stood = Stood {
                shape,
                movement,
                cut,
                low: z + shape.low,
                high: z + shape.high,
                turned: OnceCell::new(),
            };
            (!cut || stood.bounds().is_some()).then_some(stood)
        };
        self.shapes.iter().filter_map(stand).collect()
    }
}

/// A prism in its place.
pub(crate) struct Stood<'a> {
    shape: &'a Shape,
    movement: Movement,
    cut: bool,
    pub low: f64,
    pub high: f64,
    turned: OnceCell<Turned>,
}

/// The outline of a prism in its place.
#[derive(Default)]
struct Turned {
    bounds: Option<Box4>,
    rings: Vec<Vec<Point>>,
    stretches: Vec<Stretch>,
    /// The points of all stretches.
    points: Vec<Point>,
    /// Parts of the plane y = 0 inside, when cut.
    cuts: Vec<(f64, f64)>,
}

/// A stretch of a side that faces the eye, as it stands in the plan.
pub(crate) struct Stretch {
    from: usize,
    to: usize,
    /// How far away it is: the far side of the table has great y.
    pub far: f64,
    /// How squarely it faces the eye.
    pub shade: f64,
    /// Whether it begins and ends in a corner.
    pub corners: (bool, bool),
}

impl Stood<'_> {
    pub fn solid(&self) -> usize {
        self.shape.solid
    }
    pub fn lined(&self) -> bool {
        self.shape.lined
    }
    /// A box in the plan that it does not leave, known before anything is turned.
    pub fn about(&self) -> Box4 {
        let ((x, y), radius) = (self.movement.apply(self.shape.round.0), self.shape.round.1);
        (x - radius, y - radius, x + radius, y + radius)
    }
    /// Its box in the plan; none when nothing is left of it.
    pub fn bounds(&self) -> Option<Box4> {
        self.turned().bounds
    }
    pub fn rings(&self) -> &[Vec<Point>] {
        &self.turned().rings
    }
    pub fn stretches(&self) -> &[Stretch] {
        &self.turned().stretches
    }
    pub fn points(&self, stretch: &Stretch) -> &[Point] {
        &self.turned().points[stretch.from..stretch.to]
    }
    pub fn cuts(&self) -> &[(f64, f64)] {
        &self.turned().cuts
    }

    fn turned(&self) -> &Turned {
        self.turned.get_or_init(|| {
            let mut out = Turned::default();
            let moved = |ring: &[Point]| ring.iter().map(|p| self.movement.apply(*p)).collect::<Vec<_>>();
            if self.cut {
                let whole: Vec<Vec<Point>> = self.shape.rings.iter().map(|ring| moved(ring)).collect();
                (out.rings, out.cuts) = cut_away(&whole);
                for ring in &out.rings {
                    let whole = Loop::new(ring);
                    stretches(&whole, &whole.points, true, &mut out.stretches, &mut out.points);
                }
            } else {
                for one in &self.shape.loops {
                    let points = moved(&one.points);
                    stretches(one, &points, false, &mut out.stretches, &mut out.points);
                    let mut own = one.own.iter();
                    let mut ring = points;
                    ring.retain(|_| own.next() == Some(&true));
                    out.rings.push(ring);
                }
            }
            out.bounds = bounds(out.rings.iter().flatten());
            out
        })
    }
}

/// The box of some points.
pub(crate) fn bounds<'a>(points: impl Iterator<Item = &'a Point>) -> Option<Box4> {
    points.fold(None, |found: Option<Box4>, (x, y)| {
        let (l, t, r, b) = found.unwrap_or((*x, *y, *x, *y));
        Some((l.min(*x), t.min(*y), r.max(*x), b.max(*y)))
    })
}

/// Cuts away what lies nearer than the plane y = 0; also the stretches of the plane inside the rings.
fn cut_away(rings: &[Vec<Point>]) -> (Vec<Vec<Point>>, Vec<(f64, f64)>) {
    let mut crossings = Vec::new();
    let keep = |ring: &Vec<Point>, crossings: &mut Vec<f64>| {
        let mut out = Vec::with_capacity(ring.len());
        for i in 0..ring.len() {
            let (a, b) = (ring[i], ring[(i + 1) % ring.len()]);
            if a.1 >= 0.0 {
                out.push(a);
            }
            if (a.1 >= 0.0) != (b.1 >= 0.0) {
                let x = a.0 + (b.0 - a.0) * a.1 / (a.1 - b.1);
                crossings.push(x);
                out.push((x, 0.0));
            }
        }
        out
    };
    let kept = rings.iter().map(|ring| keep(ring, &mut crossings)).filter(|ring| ring.len() > 2).collect();
    crossings.sort_by(f64::total_cmp);
    (kept, crossings.chunks_exact(2).map(|pair| (pair[0], pair[1])).collect())
}

/// The stretches of a ring that face the eye; `ring` are its points in their place.
fn stretches(of: &Loop, ring: &[Point], cut: bool, out: &mut Vec<Stretch>, points: &mut Vec<Point>) {
    let count = ring.len();
    // Material lies to the left, so the outside is to the right: a side that runs towards +x faces the eye.
    let seen = |i: usize| {
        let (a, b) = (ring[i % count], ring[(i + 1) % count]);
        b.0 - a.0 > 1e-9 && !(cut && a.1.abs() < 1e-9 && b.1.abs() < 1e-9)
    };
    let Some(start) = (0..count).find(|i| !seen(*i)) else { return };
    let mut i = start;
    while i < start + count {
        if !seen(i) {
            i += 1;
            continue;
        }
        let begun = i;
        let mut length = 0.0;
        while i < start + count && seen(i) && of.along(begun, i) > BEND && (i == begun || length < LONG) {
            length += of.ways[i % count].2;
            i += 1;
        }
        let from = points.len();
        points.extend((begun..=i).map(|k| ring[k % count]));
        let far = points[from..].iter().map(|p| p.1).sum::<f64>() / (points.len() - from) as f64;
        let before = begun + count - 1;
        let corners =
            (!seen(before) || of.along(before, begun) < CORNER, !seen(i) || of.along(i - 1, i) < CORNER);
        let middle = (begun + (i - begun) / 2) % count;
        let shade = (ring[(middle + 1) % count].0 - ring[middle].0) / of.ways[middle].2;
        out.push(Stretch { from, to: points.len(), far, shade, corners });
    }
}
