//! Outlines cut into stretches where they meet one another.
//!
//! In: the rings of two groups of regions. Out: [`Arrangement`]: points known by number and, for each
//! edge, the numbers of the points at which any other outline meets it, in order.
//! Always true: points nearer than the snapping distance have one number, so outlines that share a stretch share
//! the numbers along it exactly; the true curves cross nowhere but at numbered points.

use crate::edge::Edge;
use crate::ring::{Region, Ring};
use crate::trig;
use crate::vec2::{Vec2, v};
use std::collections::BTreeMap;

/// Snapping distances (mm), tried in turn: points nearer than this are one point. Larger: true features
/// vanish; smaller: corners computed along different ways (errors around 1e-12 mm at table size) stay
/// apart and leave slivers. The second is for outlines that happen to lie about the first apart.
pub(crate) const SNAPS: [f64; 2] = [1e-7, 3e-6];

/// By so much more than an arc's own sweep, radians, two of its stops are the wrong way round.
const WRONG_WAY: f64 = 1e-3;

/// Numbered points, found again by place.
pub(crate) struct Points {
    snap: f64,
    list: Vec<Vec2>,
    cells: BTreeMap<(i64, i64), Vec<u32>>,
}

impl Points {
    /// No points yet.
    pub(crate) fn new(snap: f64) -> Points {
        Points { snap, list: Vec::new(), cells: BTreeMap::new() }
    }
    fn cell(&self, p: Vec2) -> (i64, i64) {
        // Cells wider than the snapping distance: a neighbour is at most one cell away.
        let size = 2.0 * self.snap;
        ((p.x / size).floor() as i64, (p.y / size).floor() as i64)
    }
    /// The number of the point at `p`, if there is one.
    pub(crate) fn find(&self, p: Vec2) -> Option<u32> {
        let (x, y) = self.cell(p);
        let mut best: Option<(f64, u32)> = None;
        for cell in (x - 1..=x + 1).flat_map(|i| (y - 1..=y + 1).map(move |j| (i, j))) {
            for &k in self.cells.get(&cell).into_iter().flatten() {
                let d = self.list[k as usize].dist(p);
                if d <= self.snap && best.is_none_or(|(b, _)| d < b) {
                    best = Some((d, k));
                }
            }
        }
        best.map(|(_, k)| k)
    }
    /// The number of the point at `p`, given one if it has none yet.
    pub(crate) fn number(&mut self, p: Vec2) -> u32 {
        self.find(p).unwrap_or_else(|| {
            let (k, cell) = (self.list.len() as u32, self.cell(p));
            self.list.push(p);
            self.cells.entry(cell).or_default().push(k);
            k
        })
    }
    /// Where a number is.
    pub(crate) fn at(&self, k: u32) -> Vec2 {
        self.list[k as usize]
    }
    /// Points nearer than this are one point, mm.
    pub(crate) fn snap(&self) -> f64 {
        self.snap
    }
    /// How many there are.
    pub(crate) fn len(&self) -> u32 {
        self.list.len() as u32
    }
}

/// One edge with the points that cut it.
pub(crate) struct Cut {
    /// The edge itself, solid on the left.
    pub edge: Edge,
    /// Edges on one circle share a curve number; every straight edge has its own.
    pub curve: u32,
    /// Which group of regions it belongs to.
    pub second: bool,
    /// Numbers of the points along it, first to last.
    pub stops: Vec<u32>,
}

/// All edges of two groups of regions, cut where they meet.
pub(crate) struct Arrangement {
    /// Points nearer than this are one point, mm.
    pub snap: f64,
    /// Every corner and meeting.
    pub points: Points,
    /// Every edge.
    pub cuts: Vec<Cut>,
    /// The curves, by number: centre and radius of circles, `None` for straight edges.
    pub curves: Vec<Option<(Vec2, f64)>>,
}

impl Arrangement {
    /// Cuts the edges of both groups.
    pub(crate) fn new(first: &[Region], second: &[Region], snap: f64) -> Arrangement {
        let mut a = Arrangement { snap, points: Points::new(snap), cuts: Vec::new(), curves: Vec::new() };
        for (group, regions) in [first, second].into_iter().enumerate() {
            for (i, ring) in regions.iter().flat_map(|r| r.rings().enumerate()) {
                if (ring.area() > 0.0) == (i == 0) {
                    a.add(ring, group == 1);
                } else {
                    a.add(&ring.reversed(), group == 1);
                }
            }
        }
        a.cut();
        a
    }

    fn add(&mut self, ring: &Ring, second: bool) {
        let n = ring.vertices.len();
        for i in 0..n {
            let edge = Edge::new(ring.vertices[i], ring.vertices[(i + 1) % n].p);
            let (a, b) = (self.points.number(edge.a), self.points.number(edge.b));
            if a == b && edge.length() < 4.0 * self.snap {
                continue;
            }
            let circle = edge.round.map(|k| (k.c, k.r));
            let near = self.snap / 4.0;
            let same = |o: &Option<(Vec2, f64)>| match (o, &circle) {
                (Some((c, r)), Some((d, s))) => c.dist(*d) < near && (r - s).abs() < near,
                _ => false,
            };
            let curve = self.curves.iter().position(same).unwrap_or_else(|| {
                self.curves.push(circle);
                self.curves.len() - 1
            }) as u32;
            self.cuts.push(Cut { edge, curve, second, stops: vec![a, b] });
        }
    }

    fn cut(&mut self) {
        let margin = v(self.snap, self.snap);
        let boxes: Vec<(Vec2, Vec2)> = self
            .cuts
            .iter()
            .map(|c| {
                let (lo, hi) = c.edge.bounds();
                (lo - margin, hi + margin)
            })
            .collect();
        for i in 0..self.cuts.len() {
            for j in i + 1..self.cuts.len() {
                let ((lo, hi), (a, b)) = (boxes[i], boxes[j]);
                if a.x > hi.x || b.x < lo.x || a.y > hi.y || b.y < lo.y {
                    continue;
                }
                for p in self.meetings(i, j) {
                    self.points.number(p);
                }
            }
        }
        // Every point that lies on an edge cuts it, whichever two edges it came from: edges along one
        // another must be cut alike.
        for (c, (lo, hi)) in self.cuts.iter_mut().zip(&boxes) {
            for k in 0..self.points.len() {
                let p = self.points.at(k);
                let beside = p.x < lo.x || p.x > hi.x || p.y < lo.y || p.y > hi.y;
                if !beside && c.edge.nearest(p).d2 <= self.snap * self.snap {
                    c.stops.push(k);
                }
            }
        }
        for c in &mut self.cuts {
            let (a, b) = (c.stops[0], c.stops[1]);
            let along = |k: &u32| {
                if *k == a {
                    0.0
                } else if *k == b {
                    1.0
                } else {
                    c.edge.fraction(self.points.at(*k))
                }
            };
            let mut order: Vec<(f64, u32)> = c.stops.iter().skip(2).map(|k| (along(k), *k)).collect();
            order.retain(|(_, k)| *k != a && *k != b);
            order.sort_by(|x, y| x.0.total_cmp(&y.0).then(x.1.cmp(&y.1)));
            order.dedup_by_key(|x| x.1);
            c.stops = core::iter::once(a).chain(order.into_iter().map(|x| x.1)).chain([b]).collect();
        }
    }

    /// Points at which two edges meet besides their ends: crossings and touches.
    fn meetings(&self, i: usize, j: usize) -> Vec<Vec2> {
        let (e, o) = (&self.cuts[i].edge, &self.cuts[j].edge);
        let mut out = Vec::new();
        if self.cuts[i].curve == self.cuts[j].curve {
            return out;
        }
        out.extend(e.meets(o).into_iter().flatten());
        if out.is_empty() {
            let n = e.closest(o);
            if n.d2 <= self.snap * self.snap {
                out.push(n.p);
            }
        }
        out
    }
}

impl Cut {
    /// The stretches between neighbouring stops.
    pub(crate) fn stretches(&self) -> impl Iterator<Item = (u32, u32)> + '_ {
        self.stops.windows(2).map(|w| (w[0], w[1]))
    }

    /// Points strictly between two neighbouring stops so that no chord strays from the arc by more than
    /// `chord`. The same points whichever way the arc runs. `None` when the stops lie so near to each other on so
    /// flat an arc that they are the wrong way round, and the way between them would be the rest of the circle.
    pub(crate) fn chords(&self, from: Vec2, to: Vec2, chord: f64) -> Option<Vec<Vec2>> {
        let Some(k) = self.edge.round else { return Some(Vec::new()) };
        let ccw = k.bulge > 0.0;
        let (a, b) = if ccw { (from, to) } else { (to, from) };
        let (a, b) = (a - k.c, b - k.c);
        let turn = trig::atan2(a.cross(b), a.dot(b));
        let sweep = if turn <= 0.0 { turn + core::f64::consts::TAU } else { turn };
        if sweep > 4.0 * trig::atan(k.bulge.abs()) + WRONG_WAY {
            return None;
        }
        // Never more than 30° a chord, so that small circles keep their shape.
        let step = (2.0 * trig::acos(1.0 - chord / k.r)).min(core::f64::consts::FRAC_PI_6);
        let n = (sweep / step).ceil().clamp(1.0, 1e5) as usize;
        let mut out: Vec<Vec2> =
            (1..n).map(|i| k.c + a.unit().rot(sweep * i as f64 / n as f64) * k.r).collect();
        if !ccw {
            out.reverse();
        }
        Some(out)
    }

    /// The edge between two of its stops.
    pub(crate) fn part(&self, from: Vec2, to: Vec2) -> Edge {
        let bulge = match self.edge.round {
            None => 0.0,
            Some(k) => arc_bulge(k.c, from, to, k.bulge > 0.0),
        };
        Edge::new(crate::ring::Vertex { p: from, bulge }, to)
    }
}

/// Bulge of the arc about `c` from one point to another, counter-clockwise or clockwise.
pub(crate) fn arc_bulge(c: Vec2, from: Vec2, to: Vec2, ccw: bool) -> f64 {
    let (a, b) = (from - c, to - c);
    let turn = trig::atan2(a.cross(b), a.dot(b));
    let full = core::f64::consts::TAU;
    let sweep = match ccw {
        true if turn <= 0.0 => turn + full,
        false if turn >= 0.0 => turn - full,
        _ => turn,
    };
    trig::tan(sweep / 4.0)
}
