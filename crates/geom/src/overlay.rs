//! Sorting cut outlines by an integer polygon overlay, and finding the arcs again.
//!
//! In: an [`Arrangement`] and what to keep. Out: contours as chains of exact edges between numbered
//! points, or `None` when the chords were too coarse to tell (they crossed where the curves do not).
//! Always true: nothing here decides geometry; every corner given out is a numbered point.

use crate::arrange::{Arrangement, Cut, Points, arc_bulge};
use crate::boolean::{BooleanOp, LARGEST};
use crate::edge::Edge;
use crate::ring::Vertex;
use crate::vec2::{Vec2, v};
use i_overlay::core::edge_data::{EdgeDataMerge, OverlayEdgeData};
use i_overlay::core::edge_overlay::{EdgeOverlay, InputEdge};
use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay::ShapeType;
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::i_float::int::point::IntPoint;
use i_overlay::segm::boolean::ShapeCountBoolean;
use std::collections::BTreeMap;

/// Integer steps per mm: 2^32, so a step is far below the snapping distance.
const GRID: f64 = 4_294_967_296.0;

/// The curve an integer edge comes from. Where two curves share a chord either will do: they share it
/// to within the snapping distance.
#[derive(Clone, Copy, PartialEq)]
struct Curve(u32);

impl OverlayEdgeData for Curve {
    type Store = ();
    fn merge(both: EdgeDataMerge<ShapeCountBoolean, Self>, _: &mut ()) -> Self {
        if both.lhs_data.0 <= both.rhs_data.0 { both.lhs_data } else { both.rhs_data }
    }
}

/// Whether a point lies on the integer grid, and not beyond it (or nowhere, NaN).
fn near_enough(p: Vec2) -> bool {
    // Arcs stand out of their chords by some lengths of them at most.
    p.x.abs() < 64.0 * LARGEST && p.y.abs() < 64.0 * LARGEST
}

/// Two point numbers and the curve between them.
pub(crate) type Link = (u32, u32, u32);

/// What the overlay found: shapes of contours of links, and where the points are.
pub(crate) struct Sorted {
    /// Shapes of contours of links.
    pub shapes: Vec<Vec<Vec<Link>>>,
    /// Places of all points by number.
    pub points: Vec<Vec2>,
}

/// Chords already laid between two points, so that curves which share a stretch share its chords too.
#[derive(Default)]
struct Chains(BTreeMap<(u32, u32), Vec<Chain>>);

/// The middle of a stretch and the point numbers along it.
type Chain = (Vec2, Vec<u32>);

impl Chains {
    /// Point numbers along a stretch of a cut edge, both ends included; `None` when its ends are the wrong way round.
    fn along(
        &mut self,
        c: &Cut,
        (from, to): (u32, u32),
        points: &mut Points,
        chord: f64,
    ) -> Option<Vec<u32>> {
        let (p, q) = (points.at(from), points.at(to));
        let middle = c.part(p, q).at(0.5);
        let known = self.0.entry((from.min(to), from.max(to))).or_default();
        if let Some((_, chain)) = known.iter().find(|(m, _)| m.dist(middle) <= 4.0 * points.snap()) {
            let forth = chain[0] == from;
            return Some(if forth { chain.clone() } else { chain.iter().rev().copied().collect() });
        }
        let mut chain = vec![from];
        chain.extend(c.chords(p, q, chord)?.into_iter().map(|x| points.number(x)));
        chain.push(to);
        known.push((middle, chain.clone()));
        Some(chain)
    }
}

/// Sorts all stretches by the integer overlay. Points of the arrangement keep their numbers; ends of
/// chords come after them.
pub(crate) fn sort(a: &Arrangement, op: BooleanOp, chord: f64) -> Option<Sorted> {
    let rule = match op {
        BooleanOp::Union => OverlayRule::Union,
        BooleanOp::Intersection => OverlayRule::Intersect,
        BooleanOp::Difference => OverlayRule::Difference,
    };
    let grid = |p: Vec2| IntPoint::new((p.x * GRID).round() as i64, (p.y * GRID).round() as i64);
    let mut points = Points::new(a.snap);
    for k in 0..a.points.len() {
        points.number(a.points.at(k));
    }
    let mut overlay = EdgeOverlay::<i64, Curve>::new(a.cuts.len() * 8);
    let mut chains = Chains::default();
    for c in &a.cuts {
        let kind = if c.second { ShapeType::Clip } else { ShapeType::Subject };
        for (from, to) in c.stretches() {
            let chain = chains.along(c, (from, to), &mut points, chord)?;
            for w in chain.windows(2) {
                // A chord's end far beyond its outline comes of an arc too flat to be told from a line.
                if w.iter().any(|k| !near_enough(points.at(*k))) {
                    return None;
                }
                let edge =
                    InputEdge { a: grid(points.at(w[0])), b: grid(points.at(w[1])), data: Curve(c.curve) };
                overlay.add_edge(edge, kind);
            }
        }
    }
    let place = |p: IntPoint<i64>| points.find(v(p.x as f64 / GRID, p.y as f64 / GRID));
    let mut shapes = Vec::new();
    for shape in overlay.build_vector_shapes(rule, FillRule::NonZero) {
        let mut contours = Vec::new();
        for contour in shape {
            let mut links = Vec::with_capacity(contour.len());
            for e in contour {
                // A point of no known number is a crossing of chords that is none of curves.
                let (from, to) = (place(e.a)?, place(e.b)?);
                if from != to {
                    links.push((from, to, e.data.0));
                }
            }
            contours.push(links);
        }
        shapes.push(contours);
    }
    let points = (0..points.len()).map(|k| points.at(k)).collect();
    Some(Sorted { shapes, points })
}

/// Gathers chords into stretches from corner to corner; `None` when a curve ends at a chord's end.
pub(crate) fn stretches(
    links: &[Link],
    a: &Arrangement,
    points: &[Vec2],
    corners: u32,
) -> Option<Vec<(u32, u32, Edge)>> {
    let mut out = Vec::new();
    if links.is_empty() {
        return Some(out);
    }
    let start = links.iter().position(|l| l.0 < corners)?;
    let mut i = 0;
    while i < links.len() {
        let (from, mut to, curve) = links[(start + i) % links.len()];
        let first_chord = to;
        i += 1;
        while to >= corners {
            let next = links[(start + i) % links.len()];
            if i >= links.len() || next.2 != curve || next.0 != to {
                return None;
            }
            to = next.1;
            i += 1;
        }
        let (p, q) = (points[from as usize], points[to as usize]);
        let bulge = match a.curves[curve as usize] {
            None => 0.0,
            Some((c, _)) => {
                // The first chord shows which way round the arc goes.
                let ccw = (p - c).cross(points[first_chord as usize] - c) > 0.0;
                arc_bulge(c, p, q, ccw)
            }
        };
        out.push((from, to, Edge::new(Vertex { p, bulge }, q)));
    }
    Some(out)
}
