//! Joins and thins the stretches of edges into strokes.
//!
//! In: edges with their visible stretches. Out: strokes, no two of which cover the same place of the
//! picture; stretches of one source line or circle are joined again.
//!
//! Always true: a visible stretch wins over a hidden one, an outline over a silhouette over a smooth
//! edge over a trace, an earlier body over a later one. The order of strokes is that of the edges.

use crate::curve::{Curve2, EdgeKind, Stroke2};
use crate::edge::Edge;
use crate::flat::{Bow, Course};
use crate::plane::Plane;
use core::f64::consts::PI;
use turnleaf_geom::{Vec2, trig};

/// Lines and circles nearer than this are one, mm. Rounding stays a thousand times below it.
const SAME: f64 = 1e-5;
/// Angle within which two lines count as parallel, radians.
const PARALLEL: f64 = 1e-7;
/// Gaps and strokes shorter than this are not drawn, mm.
const SLIVER: f64 = 1e-3;

/// The infinite line or full circle that a stretch lies on.
#[derive(Clone, Copy, Debug)]
enum Carrier {
    /// Point and unit direction; places are told in mm along it.
    Line(Vec2, Vec2),
    /// Places are told in radians times the larger half axis, so that they too are mm.
    Round(Bow, f64),
}

/// A stretch on a carrier.
#[derive(Clone, Copy, Debug)]
struct Span {
    from: f64,
    to: f64,
    edge: usize,
    body: usize,
    kind: EdgeKind,
}

/// Visible and hidden strokes of a view.
pub(crate) fn strokes(
    edges: &[Edge],
    seen: &[Vec<(f64, f64)>],
    plane: &Plane,
    hidden: bool,
) -> (Vec<Stroke2>, Vec<Stroke2>) {
    let used: Vec<usize> = (0..edges.len()).filter(|&i| hidden || !seen[i].is_empty()).collect();
    let mut out_seen: Vec<(usize, f64, Stroke2)> = Vec::new();
    let mut out_hidden = Vec::new();
    for group in groups(edges, &used) {
        let carrier = carrier(&edges[group[0]]);
        let mut shown = Vec::new();
        let mut covered = Vec::new();
        for &i in &group {
            for &(t0, t1) in &seen[i] {
                spans(&carrier, &edges[i], i, t0, t1, &mut shown);
            }
            if hidden && edges[i].kind < EdgeKind::Smooth {
                let mut at = 0.0;
                for &(t0, t1) in &seen[i] {
                    spans(&carrier, &edges[i], i, at, t0, &mut covered);
                    at = t1;
                }
                spans(&carrier, &edges[i], i, at, 1.0, &mut covered);
            }
        }
        let mut taken: Vec<(f64, f64)> = Vec::new();
        for (list, out) in [(shown, &mut out_seen), (covered, &mut out_hidden)] {
            for span in thin(list, &mut taken, &carrier) {
                if let Some(curve) = curve(&carrier, span.from, span.to, plane) {
                    out.push((span.edge, span.from, Stroke2 { curve, body: span.body, kind: span.kind }));
                }
            }
        }
    }
    let tidy = |mut list: Vec<(usize, f64, Stroke2)>| {
        list.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)));
        list.into_iter().map(|s| s.2).collect()
    };
    (tidy(out_seen), tidy(out_hidden))
}

/// Edges that lie on one line or circle, each group in order of edges.
fn groups(edges: &[Edge], used: &[usize]) -> Vec<Vec<usize>> {
    let (mut lines, mut rounds, mut conics) = (Vec::new(), Vec::new(), Vec::<Vec<usize>>::new());
    for &i in used {
        let f = &edges[i].flat;
        match &f.course {
            Course::Line | Course::Straight(_) => {
                let d = (f.b - f.a).unit();
                // Directions fold into half a turn; the seam lies where no drawn line is likely to run.
                let seam = -0.123_456_7;
                let mut angle = d.angle();
                if angle < seam {
                    angle += PI;
                }
                if angle >= PI + seam {
                    angle -= PI;
                }
                let n = if d.angle() == angle { d.perp() } else { -d.perp() };
                lines.push(([angle, n.dot(f.a), 0.0], i));
            }
            Course::Circle(w) => rounds.push(([w.c.x, w.c.y, w.p.norm()], i)),
            Course::Conic(w) => {
                let fits = |g: &&mut Vec<usize>| same_conic(edges, g[0], w);
                match conics.iter_mut().find(fits) {
                    Some(g) => g.push(i),
                    None => conics.push(vec![i]),
                }
            }
        }
    }
    let mut out = Vec::new();
    cluster(lines, 0, &[PARALLEL, SAME, f64::INFINITY], &mut out);
    cluster(rounds, 0, &[SAME; 3], &mut out);
    out.extend(conics);
    out
}

/// Splits keyed edges wherever two neighbours in one key lie further apart than its tolerance.
fn cluster(mut items: Vec<([f64; 3], usize)>, dim: usize, slack: &[f64; 3], out: &mut Vec<Vec<usize>>) {
    if items.is_empty() {
        return;
    }
    if dim == 3 || items.len() == 1 || slack[dim] == f64::INFINITY {
        let mut group: Vec<usize> = items.into_iter().map(|(_, i)| i).collect();
        group.sort_unstable();
        out.push(group);
        return;
    }
    items.sort_unstable_by(|a, b| a.0[dim].total_cmp(&b.0[dim]).then(a.1.cmp(&b.1)));
    let mut run = Vec::new();
    let mut last = items[0].0[dim];
    for item in items {
        if item.0[dim] - last > slack[dim] {
            cluster(core::mem::take(&mut run), dim + 1, slack, out);
        }
        last = item.0[dim];
        run.push(item);
    }
    cluster(run, dim + 1, slack, out);
}

fn same_conic(edges: &[Edge], of: usize, w: &Bow) -> bool {
    let Course::Conic(o) = &edges[of].flat.course else { return false };
    // Equal centres and equal p pᵀ + q qᵀ, which does not depend on the choice of half axes.
    let m = |b: &Bow| {
        [b.p.x * b.p.x + b.q.x * b.q.x, b.p.x * b.p.y + b.q.x * b.q.y, b.p.y * b.p.y + b.q.y * b.q.y]
    };
    let (a, b) = (m(w), m(o));
    let slack = 2.0 * SAME * o.p.norm().max(o.q.norm());
    w.c.dist(o.c) < SAME && (0..3).all(|k| (a[k] - b[k]).abs() < slack)
}

fn carrier(edge: &Edge) -> Carrier {
    let f = &edge.flat;
    match &f.course {
        Course::Line | Course::Straight(_) => Carrier::Line(f.a, (f.b - f.a).unit()),
        Course::Circle(w) | Course::Conic(w) => Carrier::Round(*w, w.p.norm().max(w.q.norm())),
    }
}

/// Adds the stretch of an edge as one span of the carrier, or two where it passes the seam at ±π.
fn spans(carrier: &Carrier, edge: &Edge, index: usize, t0: f64, t1: f64, out: &mut Vec<Span>) {
    if t1 <= t0 {
        return;
    }
    let mut push = |from: f64, to: f64| {
        if to > from {
            out.push(Span { from, to, edge: index, body: edge.body, kind: edge.kind });
        }
    };
    match (carrier, &edge.flat.course) {
        (Carrier::Line(o, d), _) => {
            let s = |t: f64| (edge.flat.at(t) - *o).dot(*d);
            let (a, b) = (s(t0), s(t1));
            push(a.min(b), a.max(b));
        }
        (Carrier::Round(c, scale), Course::Circle(w) | Course::Conic(w)) => {
            let turn = c.p.cross(c.q).signum() * w.p.cross(w.q).signum();
            let sweep = turn * w.sweep;
            let theta = |t: f64| {
                let (r, k) = (w.at(t) - c.c, c.p.cross(c.q));
                trig::atan2(c.p.cross(r) / k, r.cross(c.q) / k)
            };
            let mut a = if sweep > 0.0 { theta(t0) } else { theta(t1) };
            if a > PI - 1e-12 {
                a -= 2.0 * PI;
            }
            let b = a + sweep.abs() * (t1 - t0);
            if b > PI {
                push(a * scale, PI * scale);
                push(-PI * scale, (b - 2.0 * PI) * scale);
            } else {
                push(a * scale, b * scale);
            }
        }
        _ => unreachable!("groups hold curves of one sort"),
    }
}

/// Drops what is covered already, in order of rank, and joins what is left piece by piece.
fn thin(mut list: Vec<Span>, taken: &mut Vec<(f64, f64)>, carrier: &Carrier) -> Vec<Span> {
    list.sort_by(|a, b| {
        (a.kind, a.body).cmp(&(b.kind, b.body)).then(a.from.total_cmp(&b.from)).then(a.edge.cmp(&b.edge))
    });
    let mut out: Vec<Span> = Vec::new();
    let mut join = |span: Span| match out.last_mut() {
        Some(last) if last.kind == span.kind && last.body == span.body && span.from - last.to < SLIVER => {
            last.to = last.to.max(span.to);
            last.edge = last.edge.min(span.edge);
        }
        _ => out.push(span),
    };
    for span in &list {
        let mut at = span.from;
        for &(from, to) in taken.iter() {
            if to <= at || from >= span.to {
                continue;
            }
            if from > at {
                join(Span { from: at, to: from, ..*span });
            }
            at = at.max(to);
        }
        if at < span.to {
            join(Span { from: at, ..*span });
        }
        cover(taken, span.from, span.to);
    }
    if let Carrier::Round(_, scale) = carrier {
        join_seam(&mut out, PI * scale);
    }
    out.retain(|s| s.to - s.from > SLIVER);
    out
}

/// Adds a stretch to the sorted, disjoint list of covered ones.
fn cover(taken: &mut Vec<(f64, f64)>, mut from: f64, mut to: f64) {
    taken.retain(|&(a, b)| {
        let apart = b < from || a > to;
        if !apart {
            from = from.min(a);
            to = to.max(b);
        }
        apart
    });
    let at = taken.partition_point(|&(a, _)| a < from);
    taken.insert(at, (from, to));
}

/// Joins a span that ends at the seam of a circle with the one that begins there.
fn join_seam(out: &mut Vec<Span>, half: f64) {
    let mut i = 0;
    while i < out.len() {
        let s = out[i];
        if s.to >= half - SLIVER {
            let fits = |o: &Span| {
                o.from <= -half + SLIVER && o.kind == s.kind && o.body == s.body && o.to < s.from + SLIVER
            };
            if let Some(j) = (0..out.len()).find(|&j| j != i && fits(&out[j])) {
                let o = out[j];
                out[i].to = 2.0 * half + o.to;
                out[i].edge = s.edge.min(o.edge);
                out.remove(j);
                i = 0;
                continue;
            }
        }
        i += 1;
    }
}

fn curve(carrier: &Carrier, from: f64, to: f64, plane: &Plane) -> Option<Curve2> {
    match carrier {
        Carrier::Line(o, d) => {
            let (a, b) = (plane.picture(*o + *d * from), plane.picture(*o + *d * to));
            (a.dist(b) > SLIVER).then_some(Curve2::Line(a, b))
        }
        Carrier::Round(w, scale) => {
            let sweep = ((to - from) / scale).min(2.0 * PI);
            let (c, p, q) = (plane.picture(w.c), plane.picture(w.p), plane.picture(w.q));
            // A circle seen all but edge-on shows as its chord.
            let chord = || {
                let at = |s: f64| {
                    let (sin, cos) = trig::sin_cos(s / scale);
                    c + p * cos + q * sin
                };
                Curve2::Line(at(from), at(to))
            };
            Some(Curve2::conic(c, p, q, from / scale, sweep).unwrap_or_else(chord))
        }
    }
}
