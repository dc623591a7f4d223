//! A part as unknowns.
//!
//! In: a part and its datum frame. Out: a [`Sketch`]: every corner, arc, hole, slot, recess, groove and
//! depth as numbered unknowns, each belonging to a feature with a plain name.
//! Always true: coordinates are in the datum frame, mm; the values are the model's own, unrounded; the
//! definitions (a corner lies on its arc) hold at those values.

use crate::feature::block::rectangle;
use crate::feature::spokes::Spokes;
use crate::frame::{Frame, SAME, full_circle};
use crate::names::{self, Name};
use crate::num::Dual;
use crate::rule::{CircleId, PointId, Rule, Values, VarId};
use turnleaf_geom::vec2::v;
use turnleaf_geom::{Ring, Seg, Vec2, Vertex, trig};
use turnleaf_parts::shapes::curved_slot;
use turnleaf_parts::{Depth, Face, FeatureKind, Part};

/// A number the drawing has to fix.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Unknown {
    /// The model's value, mm.
    pub value: f64,
    /// What it is of its owner ("position", "radius"); empty when it is the owner itself.
    pub what: &'static str,
    /// Whose it is (index into [`Sketch::owners`]).
    pub owner: usize,
}

/// A point.
#[derive(Clone, Debug, PartialEq)]
pub struct Point {
    /// Stable identifier within the part.
    pub id: String,
    /// Plain name.
    pub words: String,
    /// The unknown that is its x; y is the next one.
    pub x: VarId,
}

/// A circle or the circle of an arc.
#[derive(Clone, Debug, PartialEq)]
pub struct Circle {
    /// Stable identifier within the part.
    pub id: String,
    /// Plain name.
    pub words: String,
    /// Centre.
    pub centre: PointId,
    /// Radius.
    pub radius: VarId,
}

/// One edge of a closed outline.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Side {
    /// First corner.
    pub from: PointId,
    /// Last corner.
    pub to: PointId,
    /// Its circle, and the signed sweep in the model, when it is an arc.
    pub arc: Option<(CircleId, f64)>,
}

/// A closed outline.
#[derive(Clone, Debug, PartialEq)]
pub enum Loop {
    /// A full circle.
    Circle(CircleId),
    /// Edges in order, counter-clockwise.
    Sides(Vec<Side>),
}

/// How deep a feature goes, as unknowns.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Deep {
    /// Right through.
    Through,
    /// So far from this face.
    Blind(Face, VarId),
}

/// A feature as unknowns.
#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    /// A round hole.
    Hole(CircleId, Deep),
    /// A slot: end centres, width.
    Slot(PointId, PointId, VarId, Deep),
    /// A slot along a chain of arcs.
    Way(Way, Deep),
    /// An opening or recess.
    Pocket(Loop, Deep),
    /// A slope of the upper face.
    Ramp(Ramp),
    /// A groove or a tongue on a straight or curved edge.
    Edge(EdgeWork),
}

/// A slot along a chain of arcs: its centre line and its width. One that is another turned about the origin has
/// only its first station; the rest is said by the other.
#[derive(Clone, Debug, PartialEq)]
pub struct Way {
    /// Stations in order.
    pub stations: Vec<PointId>,
    /// From each station to the next: nothing for a straight, else the circle and the sign of the sweep.
    pub arcs: Vec<Option<(CircleId, f64)>>,
    /// Full width.
    pub width: VarId,
    /// The feature it is a turned copy of.
    pub like: Option<usize>,
}

/// The slope of a ramp as unknowns.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ramp {
    /// Height of the foot above the lower face.
    pub low: VarId,
    /// Height of the head above the lower face.
    pub high: VarId,
    /// Radius of the hollow at the foot.
    pub foot: VarId,
    /// Radius of the rounding at the head.
    pub head: VarId,
    /// Developed length in the middle of the width.
    pub run: VarId,
}

/// A groove or a tongue. Distances run along the edge from `base`, the end of the edge nearer the datum.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EdgeWork {
    /// A tongue (stands out) rather than a groove (cut in).
    pub tongue: bool,
    /// Index of the outline edge.
    pub edge: usize,
    /// The corner it is measured from.
    pub base: PointId,
    /// The other end of the edge.
    pub tip: PointId,
    /// Where it begins.
    pub near: VarId,
    /// Where it ends.
    pub far: VarId,
    /// How far in or out.
    pub depth: VarId,
    /// Bottom above the lower face.
    pub z0: VarId,
    /// Top above the lower face.
    pub z1: VarId,
}

/// A feature with its names.
#[derive(Clone, Debug, PartialEq)]
pub struct Made {
    /// Stable identifier within the part.
    pub id: String,
    /// Plain name for sentences: "the hole post/inner (dowel of a post)".
    pub words: String,
    /// What it is for.
    pub purpose: String,
    /// Shape.
    pub shape: Shape,
}

impl Made {
    /// Whether it is for a screw.
    pub fn is_screw(&self) -> bool {
        self.purpose.starts_with("screw")
    }
}

/// A part as unknowns.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Sketch {
    /// Every number the drawing has to fix.
    pub unknowns: Vec<Unknown>,
    /// The features they belong to: identifier and plain name.
    pub owners: Vec<Name>,
    /// Points.
    pub points: Vec<Point>,
    /// Circles.
    pub circles: Vec<Circle>,
    /// Outer outline.
    pub outline: Option<Loop>,
    /// Everything cut in or standing out, in the part's order.
    pub features: Vec<Made>,
    /// Thickness.
    pub thickness: Option<VarId>,
    /// Helper points the drawing shows (middle of a rounded end, middle of an arm).
    pub helpers: Vec<PointId>,
    /// Equations that hold by what the entities are.
    pub definitions: Vec<Rule>,
}

struct Plain<'a>(&'a Sketch, &'a [f64]);
struct Sloped<'a>(&'a Sketch);

impl Values<f64> for Plain<'_> {
    fn var(&self, q: VarId) -> f64 {
        self.1[q.0]
    }
    fn point(&self, p: PointId) -> (f64, f64) {
        let x = self.0.points[p.0].x.0;
        (self.1[x], self.1[x + 1])
    }
    fn circle(&self, c: CircleId) -> ((f64, f64), f64) {
        let c = &self.0.circles[c.0];
        (self.point(c.centre), self.1[c.radius.0])
    }
}
impl Values<Dual> for Sloped<'_> {
    fn var(&self, q: VarId) -> Dual {
        Dual::unknown(q.0, self.0.unknowns[q.0].value)
    }
    fn point(&self, p: PointId) -> (Dual, Dual) {
        let x = self.0.points[p.0].x.0;
        (self.var(VarId(x)), self.var(VarId(x + 1)))
    }
    fn circle(&self, c: CircleId) -> ((Dual, Dual), Dual) {
        let c = &self.0.circles[c.0];
        (self.point(c.centre), self.var(c.radius))
    }
}

impl Sketch {
    /// The value of a rule in the model.
    pub fn measure(&self, rule: &Rule) -> f64 {
        let values: Vec<f64> = self.unknowns.iter().map(|u| u.value).collect();
        rule.eval(&Plain(self, &values) as &dyn Values<f64>)
    }
    /// The slopes of a rule at the model.
    pub fn slopes(&self, rule: &Rule) -> Vec<(usize, f64)> {
        let d: Dual = rule.eval(&Sloped(self) as &dyn Values<Dual>);
        d.slopes().iter().copied().filter(|s| s.1 != 0.0).collect()
    }
    /// Where a point is in the model.
    pub fn at(&self, p: PointId) -> Vec2 {
        let x = self.points[p.0].x.0;
        v(self.unknowns[x].value, self.unknowns[x + 1].value)
    }
    /// An unknown's value in the model.
    pub fn value(&self, q: VarId) -> f64 {
        self.unknowns[q.0].value
    }
    /// Centre and radius of a circle in the model.
    pub fn circle_at(&self, c: CircleId) -> (Vec2, f64) {
        let c = &self.circles[c.0];
        (self.at(c.centre), self.value(c.radius))
    }
    /// Greatest distance of any corner or circle from the origin: the size that tolerances scale with.
    pub fn size(&self) -> f64 {
        let points = (0..self.points.len()).map(|i| self.at(PointId(i)).norm());
        points.chain(self.circles.iter().map(|c| self.value(c.radius))).fold(1.0, f64::max)
    }
    /// The outline edges, empty for a disc.
    pub fn sides(&self) -> &[Side] {
        match &self.outline {
            Some(Loop::Sides(s)) => s,
            _ => &[],
        }
    }
    /// A closed outline rebuilt from values of the unknowns.
    pub fn ring(&self, lp: &Loop, values: &[f64]) -> Ring {
        let point = |p: PointId| {
            let x = self.points[p.0].x.0;
            v(values[x], values[x + 1])
        };
        match lp {
            Loop::Circle(c) => {
                let c = &self.circles[c.0];
                Ring::circle(point(c.centre), values[c.radius.0])
            }
            Loop::Sides(sides) => Ring {
                vertices: sides
                    .iter()
                    .map(|s| {
                        let bulge = match s.arc {
                            None => 0.0,
                            Some((c, sweep)) => {
                                let centre = point(self.circles[c.0].centre);
                                let (a, b) = (point(s.from) - centre, point(s.to) - centre);
                                let mut turn = trig::atan2(a.cross(b), a.dot(b));
                                if turn * sweep < 0.0 {
                                    turn += core::f64::consts::TAU * sweep.signum();
                                }
                                trig::tan(turn / 4.0)
                            }
                        };
                        Vertex { p: point(s.from), bulge }
                    })
                    .collect(),
            },
        }
    }

    /// The centre line of a curved slot rebuilt from values of the unknowns.
    pub fn centre_line(&self, w: &Way, values: &[f64]) -> Vec<Vertex> {
        let point = |p: PointId| {
            let x = self.points[p.0].x.0;
            v(values[x], values[x + 1])
        };
        if let Some(Shape::Way(first, _)) = w.like.map(|i| &self.features[i].shape) {
            let (Some(a), Some(b)) = (first.stations.first(), w.stations.first()) else { return Vec::new() };
            let (a, b) = (point(*a), point(*b));
            let turn = trig::atan2(a.cross(b), a.dot(b));
            let turned = |q: Vertex| Vertex { p: q.p.rot(turn), ..q };
            let mut out: Vec<Vertex> = self.centre_line(first, values).into_iter().map(turned).collect();
            // The copy's own first station is its own figure.
            if let Some(q) = out.first_mut() {
                q.p = b;
            }
            return out;
        }
        let at: Vec<Vec2> = w.stations.iter().map(|p| point(*p)).collect();
        let bulge = |i: usize| match w.arcs.get(i).copied().flatten() {
            None => 0.0,
            Some((c, sign)) => {
                // The shorter way round, on the side that is drawn.
                let r = values[self.circles[c.0].radius.0];
                let half = at[i].dist(at[i + 1]) / 2.0;
                sign.signum() * trig::tan(trig::asin((half / r).clamp(-1.0, 1.0)) / 2.0)
            }
        };
        (0..at.len()).map(|i| Vertex { p: at[i], bulge: bulge(i) }).collect()
    }
    /// The outline of a curved slot rebuilt from values of the unknowns.
    pub fn way_ring(&self, w: &Way, values: &[f64]) -> Ring {
        curved_slot(&self.centre_line(w, values), values[w.width.0] / 2.0)
    }

    fn owner(&mut self, id: &str, words: &str) -> usize {
        self.owners.push(Name { id: id.to_string(), words: words.to_string() });
        self.owners.len() - 1
    }
    fn unknown(&mut self, owner: usize, value: f64, what: &'static str) -> VarId {
        self.unknowns.push(Unknown { value, owner, what });
        VarId(self.unknowns.len() - 1)
    }
    fn point(&mut self, name: &Name, owner: Option<usize>, p: Vec2) -> PointId {
        let owner = owner.unwrap_or_else(|| self.owner(&name.id, &name.words));
        let x = self.unknown(owner, p.x, "position");
        self.unknown(owner, p.y, "position");
        self.points.push(Point { id: name.id.clone(), words: name.words.clone(), x });
        PointId(self.points.len() - 1)
    }
    fn circle(&mut self, name: &Name, owner: Option<usize>, c: Vec2, r: f64) -> CircleId {
        let owner = owner.unwrap_or_else(|| self.owner(&name.id, &name.words));
        let centre = self.point(&name.tail("centre", "the centre of "), Some(owner), c);
        let radius = self.unknown(owner, r, "radius");
        self.circles.push(Circle { id: name.id.clone(), words: name.words.clone(), centre, radius });
        CircleId(self.circles.len() - 1)
    }
    /// A helper point with its own equations.
    pub fn helper(&mut self, name: &Name, p: Vec2, rules: impl FnOnce(PointId) -> Vec<Rule>) -> PointId {
        let p = self.point(name, None, p);
        let rules = rules(p);
        self.definitions.extend(rules);
        self.helpers.push(p);
        p
    }

    fn closed(&mut self, ring: &Ring, corners: &[Name], arcs: &[Name], owner: Option<usize>) -> Loop {
        if let Some((c, r)) = full_circle(ring) {
            return Loop::Circle(self.circle(&arcs[0], owner, c, r));
        }
        let points: Vec<PointId> =
            ring.vertices.iter().zip(corners).map(|(q, name)| self.point(name, owner, q.p)).collect();
        let mut sides = Vec::new();
        for (i, seg) in ring.segs().enumerate() {
            let (from, to) = (points[i], points[(i + 1) % points.len()]);
            let arc = match seg {
                Seg::Line(..) => None,
                Seg::Arc(a) => {
                    let c = self.circle(&arcs[i], owner, a.centre, a.radius);
                    self.definitions.push(Rule::OffCircle(from, c));
                    self.definitions.push(Rule::OffCircle(to, c));
                    Some((c, a.sweep))
                }
            };
            sides.push(Side { from, to, arc });
        }
        Loop::Sides(sides)
    }

    fn deep(&mut self, owner: usize, depth: &Depth) -> Deep {
        match *depth {
            Depth::Through => Deep::Through,
            Depth::Blind(face, d) => Deep::Blind(face, self.unknown(owner, d, "depth")),
        }
    }

    /// The part as unknowns, in the datum frame.
    pub fn of(part: &Part, frame: &Frame) -> Sketch {
        let mut s = Sketch::default();
        let owner = s.owner("thickness", "the thickness");
        s.thickness = Some(s.unknown(owner, part.thickness, ""));
        let ring = part.outline.moved(&frame.pose);
        let (corners, arcs) = names::of_outline(&ring, frame);
        let outline = s.closed(&ring, &corners, &arcs, None);
        s.outline = Some(outline);
        for f in &part.features {
            let kind = match f.kind {
                FeatureKind::Hole { .. } => "hole",
                FeatureKind::Slot { .. } | FeatureKind::CurvedSlot { .. } => "slot",
                FeatureKind::Pocket { .. } => "recess",
                FeatureKind::Ramp { .. } => "slope",
                FeatureKind::EdgeGroove { .. } => "groove",
                FeatureKind::EdgeTongue { .. } => "tongue",
            };
            let purpose = if f.purpose.is_empty() || f.purpose == kind {
                String::new()
            } else {
                format!(" ({})", f.purpose)
            };
            let name = Name { id: f.id.clone(), words: format!("the {kind} {}{purpose}", f.id) };
            let words = name.words.clone();
            let shape = s.feature(&name, &f.kind, frame, &ring);
            s.features.push(Made { id: f.id.clone(), words, purpose: f.purpose.clone(), shape });
        }
        s.add_helpers(frame);
        s
    }

    fn feature(&mut self, name: &Name, kind: &FeatureKind, frame: &Frame, ring: &Ring) -> Shape {
        let owner = self.owner(&name.id, &name.words);
        match kind {
            FeatureKind::Hole { centre, diameter, depth } => {
                let c = self.circle(name, Some(owner), frame.pose.apply(*centre), diameter / 2.0);
                Shape::Hole(c, self.deep(owner, depth))
            }
            FeatureKind::Slot { a, b, width, depth } => {
                // The end nearer the datum first, so that the drawing reads outwards.
                let (mut p, mut q) = (frame.pose.apply(*a), frame.pose.apply(*b));
                if q.norm() < p.norm() - SAME {
                    (p, q) = (q, p);
                }
                let a = self.point(&name.tail("near", "the near end of "), Some(owner), p);
                let b = self.point(&name.tail("far", "the far end of "), Some(owner), q);
                let w = self.unknown(owner, *width, "width");
                Shape::Slot(a, b, w, self.deep(owner, depth))
            }
            FeatureKind::CurvedSlot { way, width, depth } => {
                let turned = |q: &Vertex| Vertex { p: frame.pose.apply(q.p), ..*q };
                let way = self.way(name, owner, way.iter().map(turned).collect(), *width);
                Shape::Way(way, self.deep(owner, depth))
            }
            FeatureKind::Pocket { ring, depth } => {
                let ring = ring.moved(&frame.pose);
                let (corners, arcs) = names::of_pocket(&ring, name);
                let lp = self.closed(&ring, &corners, &arcs, Some(owner));
                Shape::Pocket(lp, self.deep(owner, depth))
            }
            FeatureKind::Ramp { foot, head } => Shape::Ramp(self.ramp(owner, *foot, *head)),
            FeatureKind::EdgeGroove { edge, from, to, depth, z } => {
                Shape::Edge(self.edge_work(owner, false, *edge, (*from, *to), *depth, *z, ring))
            }
            FeatureKind::EdgeTongue { edge, from, to, depth, z } => {
                Shape::Edge(self.edge_work(owner, true, *edge, (*from, *to), *depth, *z, ring))
            }
        }
    }

    /// A slope along the outline's two arcs. Their mean length is its run; an outline without them leaves the run
    /// loose, which the proof then says.
    fn ramp(&mut self, owner: usize, foot: f64, head: f64) -> Ramp {
        let arcs: Vec<(Side, CircleId, f64)> = self
            .sides()
            .iter()
            .filter_map(|q| q.arc.map(|(c, sweep)| (*q, c, sweep.abs() * self.circle_at(c).1)))
            .collect();
        let mean = arcs.iter().map(|a| a.2).sum::<f64>() / arcs.len().max(1) as f64;
        let high = self.thickness.map_or(0.0, |t| self.value(t));
        let ramp = Ramp {
            low: self.unknown(owner, 0.0, "foot"),
            high: self.unknown(owner, high, "height"),
            foot: self.unknown(owner, foot, "hollow"),
            head: self.unknown(owner, head, "rounding"),
            run: self.unknown(owner, mean, "length"),
        };
        let lengths: Vec<VarId> = arcs
            .iter()
            .map(|(q, c, length)| {
                let u = self.unknown(owner, *length, "length");
                self.definitions.push(Rule::VarLessArc(u, q.from, q.to, *c));
                u
            })
            .collect();
        if let [a, b] = lengths[..] {
            self.definitions.push(Rule::Mean(ramp.run, a, b));
        }
        ramp
    }

    /// The feature that a centre line is a copy of, turned about the origin.
    fn turned_copy(&self, way: &[Vertex], width: f64) -> Option<usize> {
        let values: Vec<f64> = self.unknowns.iter().map(|u| u.value).collect();
        self.features.iter().position(|f| {
            let Shape::Way(w, _) = &f.shape else { return false };
            if w.like.is_some() || w.stations.len() != way.len() || (self.value(w.width) - width).abs() > SAME
            {
                return false;
            }
            let (Some(a), Some(b)) = (w.stations.first().map(|p| self.at(*p)), way.first()) else {
                return false;
            };
            let turn = trig::atan2(a.cross(b.p), a.dot(b.p));
            let line = self.centre_line(w, &values);
            line.iter()
                .zip(way)
                .all(|(p, q)| p.p.rot(turn).dist(q.p) < SAME && (p.bulge - q.bulge).abs() < 1e-9)
        })
    }

    fn way(&mut self, name: &Name, owner: usize, way: Vec<Vertex>, width: f64) -> Way {
        let like = self.turned_copy(&way, width);
        let wanted = if like.is_some() { 1 } else { way.len() };
        let stations: Vec<PointId> = way[..wanted.min(way.len())]
            .iter()
            .enumerate()
            .map(|(k, q)| {
                let at = name.tail(&format!("station-{}", k + 1), &format!("station {} of ", k + 1));
                self.point(&at, Some(owner), q.p)
            })
            .collect();
        let mut arcs = Vec::new();
        for (k, pair) in stations.windows(2).enumerate() {
            let Seg::Arc(a) = Seg::between(way[k], way[k + 1].p) else {
                arcs.push(None);
                continue;
            };
            let title = name.tail(&format!("arc-{}", k + 1), &format!("the arc from station {} of ", k + 1));
            let c = self.circle(&title, Some(owner), a.centre, a.radius);
            self.definitions.push(Rule::OffCircle(pair[0], c));
            self.definitions.push(Rule::OffCircle(pair[1], c));
            arcs.push(Some((c, a.sweep)));
        }
        Way { stations, arcs, width: self.unknown(owner, width, "width"), like }
    }

    #[allow(clippy::too_many_arguments)]
    fn edge_work(
        &mut self,
        owner: usize,
        tongue: bool,
        edge: usize,
        (from, to): (f64, f64),
        depth: f64,
        z: (f64, f64),
        ring: &Ring,
    ) -> EdgeWork {
        let sides = self.sides();
        let edge = edge % sides.len().max(1);
        let (start, end) = sides.get(edge).map_or((PointId(0), PointId(0)), |s| (s.from, s.to));
        let length = ring.segs().nth(edge).map_or(0.0, |s| s.length());
        let (a, b) = (self.at(start), self.at(end));
        // Mirrored edges must choose mirrored ends: compare distance from the origin, then x.
        let swap = if (a.norm() - b.norm()).abs() > SAME { b.norm() < a.norm() } else { b.x < a.x - SAME };
        let (base, tip, near, far) =
            if swap { (end, start, length - to, length - from) } else { (start, end, from, to) };
        EdgeWork {
            tongue,
            edge,
            base,
            tip,
            near: self.unknown(owner, near, "beginning"),
            far: self.unknown(owner, far, "end"),
            depth: self.unknown(owner, depth, "depth"),
            z0: self.unknown(owner, z.0, "height"),
            z1: self.unknown(owner, z.1, "height"),
        }
    }

    /// The middle of arcs that cross the centre line, and the ends of the arms of openings.
    fn add_helpers(&mut self, frame: &Frame) {
        for i in 0..self.features.len() {
            let Shape::Pocket(lp, _) = &self.features[i].shape else { continue };
            if let Some([a, _, c, _]) = rectangle(self, lp) {
                let f = &self.features[i];
                let name =
                    Name { id: format!("{}/middle", f.id), words: format!("the middle of {}", f.words) };
                let at = (self.at(a) + self.at(c)) * 0.5;
                self.helper(&name, at, |p| vec![Rule::MidX(p, a, c), Rule::Halfway(p, a, c)]);
            } else if let Some(q) = Spokes::of(self, lp) {
                let [_, b, c, _] = q.arms[0];
                let f = &self.features[i];
                let name = Name {
                    id: format!("{}/arm-end", f.id),
                    words: format!("the end of the first arm of {}", f.words),
                };
                let at = (self.at(b) + self.at(c)) * 0.5;
                self.helper(&name, at, |p| vec![Rule::MidX(p, b, c), Rule::Halfway(p, b, c)]);
            }
        }
        let sides = self.sides().to_vec();
        if frame.mirror {
            for s in &sides {
                let Some((c, _)) = s.arc else { continue };
                let (a, b) = (self.at(s.from), self.at(s.to));
                let (centre, r) = self.circle_at(c);
                if (a.x - b.x).abs() < SAME && (a.y + b.y).abs() < SAME && centre.y.abs() < SAME {
                    let sign = if (a.x + b.x) / 2.0 >= centre.x { 1.0 } else { -1.0 };
                    let name = Name {
                        id: format!("{}/middle", self.circles[c.0].id),
                        words: format!("the middle of {}", self.circles[c.0].words),
                    };
                    self.helper(&name, v(centre.x + sign * r, 0.0), |p| {
                        vec![Rule::OffCircle(p, c), Rule::Y(p)]
                    });
                }
            }
        }
    }
}
