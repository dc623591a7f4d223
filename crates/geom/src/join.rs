//! Edges of one contour joined into a ring with as few corners as it needs.
//!
//! In: edges end to end. Out: a [`Ring`]. Always true: a corner is dropped only when it lies on the
//! joined line within [`SAME`], or when both its arcs belong to one circle.

use crate::edge::Edge;
use crate::ring::{Ring, Vertex};
use crate::trig;

/// How far (mm) a dropped corner may lie off the joined edge, and centres and radii of joined arcs apart.
const SAME: f64 = 1e-7;

/// A ring of edges, neighbours on the same line or circle joined into one.
pub(crate) fn join(edges: &[Edge]) -> Ring {
    let n = edges.len();
    let follows = |i: usize| continues(&edges[(i + n - 1) % n], &edges[i]);
    let Some(start) = (0..n).find(|&i| !follows(i)) else {
        return whole_circle(edges);
    };
    let mut vertices: Vec<Vertex> = Vec::new();
    let mut i = 0;
    while i < n {
        let first = &edges[(start + i) % n];
        let mut len = 1;
        let mut sweep = quarter(first);
        while i + len < n {
            let next = &edges[(start + i + len) % n];
            // Every dropped corner must lie on the joined edge, not only on its neighbours.
            let fits = first.round.is_some()
                || (1..=len).all(|k| {
                    let whole = Edge { a: first.a, b: next.b, round: None };
                    whole.nearest(edges[(start + i + k) % n].a).d2 <= SAME * SAME
                });
            // Arcs of three quarters of a turn and more stay in two.
            if !follows((start + i + len) % n) || !fits || (sweep + quarter(next)).abs() > LARGEST_JOINED {
                break;
            }
            sweep += quarter(next);
            len += 1;
        }
        let bulge = if first.round.is_none() { 0.0 } else { trig::tan(sweep) };
        let bulge = if len == 1 { first.bulge() } else { bulge };
        vertices.push(Vertex { p: first.a, bulge });
        i += len;
    }
    Ring { vertices }
}

/// A quarter of the largest sweep that joining makes: 3/4 of a turn.
const LARGEST_JOINED: f64 = 0.75 * core::f64::consts::FRAC_PI_2 + 1e-9;

fn quarter(e: &Edge) -> f64 {
    trig::atan(e.bulge())
}

/// Whether `o` goes on along the same line or circle as `e`.
fn continues(e: &Edge, o: &Edge) -> bool {
    match (e.round, o.round) {
        (None, None) => {
            let whole = Edge { a: e.a, b: o.b, round: None };
            (e.b - e.a).dot(o.b - o.a) > 0.0 && whole.nearest(e.b).d2 <= SAME * SAME
        }
        (Some(k), Some(m)) => {
            k.bulge * m.bulge > 0.0 && k.c.dist(m.c) < 2.0 * SAME && (k.r - m.r).abs() < 2.0 * SAME
        }
        _ => false,
    }
}

/// A circle that no corner interrupts, as two half turns from its first point.
fn whole_circle(edges: &[Edge]) -> Ring {
    let Some(k) = edges.first().and_then(|e| e.round) else { return Ring::default() };
    let p = edges[0].a;
    let bulge = k.bulge.signum();
    Ring { vertices: vec![Vertex { p, bulge }, Vertex { p: k.c * 2.0 - p, bulge }] }
}
