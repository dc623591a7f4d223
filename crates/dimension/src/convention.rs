//! What a drawing says without a figure.
//!
//! In: a sketch and its frame. Out: conventions: the datums, the symmetry of the outline, equal spacing,
//! square, parallel and tangent edges, shared centres; each with the sentence that is printed for it.
//! Always true: a convention is declared only where the geometry has it, and every one that carries
//! knowledge is printed (as a note or as the general note on how lines are drawn).

use crate::frame::{Frame, OriginKind, SAME};
use crate::rule::{CircleId, PointId, Rule, VarId};
use crate::sketch::{Loop, Shape, Side, Sketch};
use core::f64::consts::PI;
use turnleaf_geom::Vec2;

/// Sines below this are square or parallel. Larger would call a tapered edge parallel.
const SQUARE: f64 = 1e-6;

/// A statement without a figure.
#[derive(Clone, Debug, PartialEq)]
pub struct Convention {
    /// Stable identifier within the part.
    pub id: String,
    /// The sentence on the sheet; empty when the general note on how lines are drawn covers it.
    pub sentence: String,
    /// Its equations, all zero.
    pub rules: Vec<Rule>,
}

impl Convention {
    /// One that is printed.
    pub fn said(id: impl Into<String>, sentence: impl Into<String>, rules: Vec<Rule>) -> Convention {
        Convention { id: id.into(), sentence: sentence.into(), rules }
    }
    /// One that the general note covers.
    pub fn drawn(id: impl Into<String>, rules: Vec<Rule>) -> Convention {
        Convention::said(id, "", rules)
    }
}

/// Points whose bearing lies within one arm about the datum x axis; all of them when nothing repeats, which is a fold
/// of 0 or 1.
pub fn in_first_arm(frame: &Frame, p: Vec2) -> bool {
    p.norm() < SAME || p.angle().abs() <= PI / frame.fold as f64 + 1e-6
}

fn same(a: PointId, b: PointId) -> Vec<Rule> {
    vec![Rule::AlongX(a, b), Rule::AlongY(a, b)]
}

/// Everything the outline says without figures.
pub fn of_outline(s: &Sketch, frame: &Frame) -> Vec<Convention> {
    let mut out = Vec::new();
    datum(s, frame, &mut out);
    symmetry(s, frame, &mut out);
    let sides = s.sides().to_vec();
    straight(s, frame, &sides, &mut out);
    shared_centres(s, &sides, &mut out);
    joints(s, &sides, "outline", &mut out);
    equal_radii(s, &sides, &mut out);
    out
}

fn outline_points(s: &Sketch) -> Vec<PointId> {
    s.sides().iter().map(|q| q.from).collect()
}

fn datum(s: &Sketch, frame: &Frame, out: &mut Vec<Convention>) {
    if let Some(Loop::Circle(c)) = s.outline {
        let p = s.circles[c.0].centre;
        out.push(Convention::said("datum", "Datum: the centre.", vec![Rule::X(p), Rule::Y(p)]));
        return;
    }
    if let Some((a, b)) = frame.pins {
        if let (Shape::Hole(a, _), Shape::Hole(b, _)) = (&s.features[a].shape, &s.features[b].shape) {
            let (a, b) = (s.circles[a.0].centre, s.circles[b.0].centre);
            out.push(Convention::said(
                "datum",
                "Datum: the line through both pin centres.",
                vec![Rule::X(a), Rule::Y(a), Rule::Y(b)],
            ));
        }
        return;
    }
    let at_zero = |p: &PointId| s.at(*p).x.abs() < SAME;
    let points = outline_points(s);
    match frame.origin {
        OriginKind::Tip => {
            let rules = points.iter().filter(|p| s.at(**p).norm() < SAME).map(|p| Rule::X(*p)).collect();
            out.push(Convention::said("datum", "Datums: the tip and the centre line.", rules));
        }
        OriginKind::EndEdge => {
            let rules = points.iter().filter(|p| at_zero(p)).map(|p| Rule::X(*p)).collect();
            out.push(Convention::said("datum", "Datums: the left end and the centre line.", rules));
        }
        OriginKind::EndArc => {
            let rules = s.helpers.iter().filter(|p| at_zero(p)).map(|p| Rule::X(*p)).collect();
            out.push(Convention::said(
                "datum",
                "Datums: the middle of the left end and the centre line.",
                rules,
            ));
        }
        OriginKind::ArcCentre => {
            let rules = s
                .sides()
                .iter()
                .filter_map(|q| q.arc)
                .map(|(c, _)| s.circles[c.0].centre)
                .filter(|c| s.at(*c).norm() < SAME)
                .flat_map(|c| [Rule::X(c), Rule::Y(c)])
                .collect();
            out.push(Convention::said("datum", "Datums: the centre of the arcs and the centre line.", rules));
        }
        OriginKind::Corner => {
            let mut rules = Vec::new();
            for q in s.sides() {
                if q.arc.is_none() && s.at(q.from).norm() < SAME && s.at(q.to).y.abs() < SAME {
                    rules = vec![Rule::X(q.from), Rule::Y(q.from), Rule::Y(q.to)];
                }
            }
            if rules.is_empty() && !points.is_empty() {
                let far = points.iter().copied().find(|p| s.at(*p).y.abs() < SAME && s.at(*p).norm() > SAME);
                let near = points.iter().copied().find(|p| s.at(*p).norm() < SAME);
                if let (Some(a), Some(b)) = (near, far) {
                    rules = vec![Rule::X(a), Rule::Y(a), Rule::Y(b)];
                }
            }
            out.push(Convention::said(
                "datum",
                "Datums: the long straight edge and the corner with the small circle.",
                rules,
            ));
        }
        // With equal arms the symmetry itself pins the centre; the turn is pinned by the mirror line.
        OriginKind::Centre | OriginKind::Pin => {
            let mut rules = Vec::new();
            if !frame.mirror {
                // Without a mirror line the corner farthest out gives the datum direction.
                rules.extend(
                    points
                        .iter()
                        .filter(|p| s.at(**p).y.abs() < SAME && s.at(**p).x > 0.0)
                        .map(|p| Rule::Y(*p)),
                );
            }
            out.push(Convention::said("datum", "Datum: the centre.", rules));
        }
    }
}

fn symmetry(s: &Sketch, frame: &Frame, out: &mut Vec<Convention>) {
    let points = outline_points(s);
    let find = |q: Vec2| points.iter().copied().find(|p| s.at(*p).dist(q) < 2.0 * SAME);
    let arcs: Vec<CircleId> = s.sides().iter().filter_map(|q| q.arc.map(|a| a.0)).collect();
    let arc_like = |q: Vec2, r: f64| {
        arcs.iter().copied().find(|c| {
            let (p, radius) = s.circle_at(*c);
            p.dist(q) < 2.0 * SAME && (radius - r).abs() < 2.0 * SAME
        })
    };
    if frame.mirror && !points.is_empty() {
        let mut rules = Vec::new();
        for &p in &points {
            let at = s.at(p);
            if at.y.abs() < SAME {
                rules.push(Rule::Y(p));
            } else if at.y > 0.0
                && let Some(q) = find(turnleaf_geom::vec2::v(at.x, -at.y))
            {
                rules.push(Rule::MirrorX(p, q));
                rules.push(Rule::MirrorY(p, q));
            }
        }
        for &c in &arcs {
            let (p, r) = s.circle_at(c);
            let centre = s.circles[c.0].centre;
            if p.y.abs() < SAME {
                rules.push(Rule::Y(centre));
            } else if let Some(d) = arc_like(turnleaf_geom::vec2::v(p.x, -p.y), r) {
                let other = &s.circles[d.0];
                rules.push(Rule::MirrorX(centre, other.centre));
                rules.push(Rule::MirrorY(centre, other.centre));
                rules.push(Rule::Less(s.circles[c.0].radius, other.radius));
            }
        }
        let sentence = if frame.fold >= 3 {
            "Each arm is symmetrical about its centre line."
        } else {
            "Outline symmetrical about the centre line."
        };
        out.push(Convention::said("mirror", sentence, rules));
    }
    if frame.fold >= 3 && !points.is_empty() {
        let step = 2.0 * PI / frame.fold as f64;
        let mut rules = Vec::new();
        for &p in &points {
            if let Some(q) = find(s.at(p).rot(step)) {
                rules.push(Rule::TurnedX(p, q, step));
                rules.push(Rule::TurnedY(p, q, step));
            }
        }
        for &c in &arcs {
            let (p, r) = s.circle_at(c);
            if let Some(d) = arc_like(p.rot(step), r) {
                let (a, b) = (&s.circles[c.0], &s.circles[d.0]);
                rules.push(Rule::TurnedX(a.centre, b.centre, step));
                rules.push(Rule::TurnedY(a.centre, b.centre, step));
                rules.push(Rule::Less(a.radius, b.radius));
            }
        }
        out.push(Convention::said("repeat", format!("{} equal arms, equally spaced.", frame.fold), rules));
    }
}

/// Straight edges along a datum axis, towards a shared centre, parallel or square to one another.
fn straight(s: &Sketch, frame: &Frame, sides: &[Side], out: &mut Vec<Convention>) {
    let lines: Vec<&Side> = sides.iter().filter(|q| q.arc.is_none()).collect();
    let unit = |q: &Side| (s.at(q.to) - s.at(q.from)).unit();
    let mut free: Vec<&Side> = Vec::new();
    for q in &lines {
        let u = unit(q);
        let id = format!("straight/{}", s.points[q.from.0].id);
        if u.y.abs() < SQUARE {
            out.push(Convention::drawn(id, vec![Rule::AlongY(q.from, q.to)]));
        } else if u.x.abs() < SQUARE {
            out.push(Convention::drawn(id, vec![Rule::AlongX(q.from, q.to)]));
        } else if frame.origin == OriginKind::ArcCentre {
            let centre = sides.iter().filter_map(|a| a.arc).map(|(c, _)| s.circles[c.0].centre);
            if let Some(o) = centre.into_iter().find(|o| {
                (s.at(q.from) - s.at(*o)).unit().cross(u).abs() * s.at(q.from).dist(s.at(*o)) < SAME
            }) {
                out.push(Convention::said(
                    id,
                    "Straight ends point to the centre of the arcs.",
                    vec![Rule::Parallel(q.from, q.to, o, q.from)],
                ));
            }
        } else {
            free.push(q);
        }
    }
    // Among equal arms, parallels between different arms would say in a roundabout way what a figure says plainly.
    if frame.fold >= 3 {
        return;
    }
    // Oblique edges: each against the first it is parallel to, or square to when nothing is symmetrical.
    for (i, q) in free.iter().enumerate() {
        let u = unit(q);
        let id = format!("straight/{}", s.points[q.from.0].id);
        if let Some(o) = free[..i].iter().find(|o| unit(o).cross(u).abs() < SQUARE) {
            out.push(Convention::drawn(id, vec![Rule::Parallel(o.from, o.to, q.from, q.to)]));
        } else if !frame.mirror
            && let Some(o) = free[..i].iter().find(|o| unit(o).dot(u).abs() < SQUARE)
        {
            out.push(Convention::drawn(id, vec![Rule::Square(o.from, o.to, q.from, q.to)]));
        }
    }
}

/// Arcs that share a centre with one another, with a corner, or with a round hole.
fn shared_centres(s: &Sketch, sides: &[Side], out: &mut Vec<Convention>) {
    let arcs: Vec<CircleId> = sides.iter().filter_map(|q| q.arc.map(|a| a.0)).collect();
    for (i, &c) in arcs.iter().enumerate() {
        let centre = s.circles[c.0].centre;
        let at = s.at(centre);
        let id = format!("centre/{}", s.circles[c.0].id);
        let corner = outline_points(s).into_iter().find(|p| s.at(*p).dist(at) < SAME);
        if let Some(p) = corner {
            let sentence = format!("The centre of {} is {}.", s.circles[c.0].words, s.points[p.0].words);
            out.push(Convention::said(id, sentence, same(p, centre)));
            continue;
        }
        let hole = s.features.iter().find_map(|f| match f.shape {
            Shape::Hole(h, _) if s.circle_at(h).0.dist(at) < SAME => Some(s.circles[h.0].centre),
            _ => None,
        });
        if let Some(p) = hole {
            out.push(Convention::drawn(id, same(p, centre)));
        } else if let Some(o) = arcs[..i].iter().find(|o| s.circle_at(**o).0.dist(at) < SAME) {
            let mut rules = same(s.circles[o.0].centre, centre);
            if (s.circle_at(*o).1 - s.circle_at(c).1).abs() < SAME {
                rules.push(Rule::Less(s.circles[o.0].radius, s.circles[c.0].radius));
            }
            out.push(Convention::drawn(id, rules));
        }
    }
}

/// Smooth joints between neighbouring edges.
pub fn joints(s: &Sketch, sides: &[Side], id: &str, out: &mut Vec<Convention>) {
    let n = sides.len();
    for i in 0..n {
        let (a, b) = (&sides[i], &sides[(i + 1) % n]);
        let p = b.from;
        let at = s.at(p);
        let rule = match (a.arc, b.arc) {
            (None, Some((c, _))) => {
                let centre = s.circles[c.0].centre;
                let sine = (s.at(a.to) - s.at(a.from)).unit().dot((s.at(centre) - at).unit());
                (sine.abs() < SQUARE).then_some(Rule::Square(a.from, a.to, p, centre))
            }
            (Some((c, _)), None) => {
                let centre = s.circles[c.0].centre;
                let sine = (s.at(b.to) - s.at(b.from)).unit().dot((s.at(centre) - at).unit());
                (sine.abs() < SQUARE).then_some(Rule::Square(b.from, b.to, p, centre))
            }
            (Some((c, _)), Some((d, _))) => {
                let (c, d) = (s.circles[c.0].centre, s.circles[d.0].centre);
                let sine = (s.at(c) - at).unit().cross((s.at(d) - at).unit());
                (sine.abs() < SQUARE && s.at(c).dist(s.at(d)) > SAME).then_some(Rule::Parallel(p, c, p, d))
            }
            (None, None) => None,
        };
        if let Some(rule) = rule {
            out.push(Convention::drawn(format!("smooth/{id}/{}", s.points[p.0].id), vec![rule]));
        }
    }
}

/// Arcs of one radius about different centres share one figure ("4 × R10").
fn equal_radii(s: &Sketch, sides: &[Side], out: &mut Vec<Convention>) {
    let arcs: Vec<CircleId> = sides.iter().filter_map(|q| q.arc.map(|a| a.0)).collect();
    for (i, &c) in arcs.iter().enumerate() {
        let (p, r) = s.circle_at(c);
        let like = arcs[..i].iter().find(|o| {
            let (q, radius) = s.circle_at(**o);
            (radius - r).abs() < SAME && q.dist(p) > SAME
        });
        if let Some(o) = like {
            let rule = Rule::Less(s.circles[o.0].radius, s.circles[c.0].radius);
            out.push(Convention::drawn(format!("equal/{}", s.circles[c.0].id), vec![rule]));
        }
    }
}

/// An unknown that equals another.
pub fn equal(a: VarId, b: VarId) -> Rule {
    Rule::Less(a, b)
}
