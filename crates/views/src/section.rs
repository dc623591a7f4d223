//! Sections. In: bodies and a cutting plane. Out: the view of what lies behind it, the cut areas, hatching.
//!
//! Always true: the viewer looks square at the plane. A body whose axis is slanted to the plane is
//! never cut, nor one the caller wants whole (ISO 128-3 leaves shafts, pins and fasteners uncut):
//! it is shown whole if it reaches behind the plane and left out if it lies before it.

use crate::body::Body;
use crate::curve::View;
use crate::half::keep_below;
use crate::project::{Options, project};
use crate::projection::{Projection, Sight};
use crate::space::{Vec3, v3};
use crate::wall::{Turn, walls};
use std::collections::BTreeMap;
use turnleaf_geom::{Region, Ring, Vec2, Vertex, trig, vec2::v};
use turnleaf_parts::Layer;

/// A cutting plane.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cut {
    /// Any point of it.
    pub point: Vec3,
    /// From the kept side to the side taken away, where the viewer stands. Any length.
    pub normal: Vec3,
}

impl Cut {
    /// The way of looking at the cut: upright planes with z up, a level one like the plan (y up),
    /// and one looked at from below like the view from below.
    pub fn projection(&self) -> Projection {
        let n = self.normal.unit();
        if n.z > 1.0 - 1e-12 {
            Projection::Plan
        } else if n.z < -1.0 + 1e-12 {
            Projection::Bottom
        } else {
            Projection::Any { toward: n, upright: v3(0.0, 0.0, 1.0) }
        }
    }
}

/// The cut face of one body, in view coordinates.
#[derive(Clone, Debug, PartialEq)]
pub struct Area {
    /// Index into [`View::bodies`].
    pub body: usize,
    /// The face, as regions that may share edges but do not overlap.
    pub regions: Vec<Region>,
}

/// A section.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Section {
    /// Everything at or behind the plane. Cut outlines are among the visible edges.
    pub view: View,
    /// Cut faces, in order of bodies.
    pub areas: Vec<Area>,
}

/// A line of hatching, in view coordinates.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HatchLine {
    /// Index into [`View::bodies`].
    pub body: usize,
    /// One end.
    pub a: Vec2,
    /// The other end.
    pub b: Vec2,
}

/// Cuts the bodies, except those that `whole` wants uncut, and looks at what is left.
pub fn section(bodies: &[Body], cut: &Cut, whole: &dyn Fn(&Body) -> bool, options: &Options) -> Section {
    let projection = cut.projection();
    let sight = projection.sight();
    let (mut kept, mut areas) = (Vec::new(), Vec::new());
    for body in bodies {
        let (layers, regions) = if whole(body) { uncut(body, cut) } else { cut_body(body, cut, &sight) };
        if !regions.is_empty() {
            areas.push(Area { body: kept.len(), regions });
        }
        // Bodies that vanish keep their place, so that indices stay those of the input.
        kept.push(Body { layers: layers.into(), ..body.clone() });
    }
    Section { view: project(&kept, &[], &projection, options), areas }
}

fn uncut(body: &Body, cut: &Cut) -> (Vec<Layer>, Vec<Region>) {
    let n = cut.normal.unit();
    let behind = body.layers.iter().any(|l| {
        let (lo, hi) = l.region.outer.bounds();
        [v(lo.x, lo.y), v(hi.x, lo.y), hi, v(lo.x, hi.y)]
            .iter()
            .flat_map(|p| [v3(p.x, p.y, l.z0), v3(p.x, p.y, l.z1)])
            .any(|p| (body.pose.apply(p) - cut.point).dot(n) < -1e-6)
    });
    (if behind { body.layers.to_vec() } else { Vec::new() }, Vec::new())
}

fn cut_body(body: &Body, cut: &Cut, sight: &Sight) -> (Vec<Layer>, Vec<Region>) {
    let n = body.pose.unturn(cut.normal.unit());
    let d = (cut.point - body.pose.offset).dot(cut.normal.unit());
    let (mut layers, mut regions) = (Vec::new(), Vec::new());
    if n.z.abs() < 1e-9 {
        // The plane runs along the axis: each layer is cut in plan, the cut faces are oblongs.
        let normal = v(n.x, n.y);
        for l in body.layers.iter() {
            let half = keep_below(&l.region, normal, d);
            layers.extend(half.kept.into_iter().map(|region| Layer { region, ..*l }));
            for (s0, s1) in half.along {
                let along = v(normal.y, -normal.x);
                let corner = |s: f64, z: f64| {
                    let p = along * s + normal * d;
                    sight.flat(body.pose.apply(v3(p.x, p.y, z)))
                };
                let ring = [corner(s0, l.z0), corner(s1, l.z0), corner(s1, l.z1), corner(s0, l.z1)];
                regions.push(Region::from(ahead(Ring::polygon(&ring))));
            }
        }
    } else if trig::hypot(n.x, n.y) < 1e-9 {
        // The plane lies across the axis: layers are cut to length.
        let height = d / n.z;
        for l in body.layers.iter() {
            let (z0, z1) = if n.z > 0.0 { (l.z0, l.z1.min(height)) } else { (l.z0.max(height), l.z1) };
            if z1 - z0 <= 1e-6 {
                continue;
            }
            layers.push(Layer { region: l.region.clone(), z0, z1 });
            // A face that only touches the plane is not cut.
            if l.z0 + 1e-6 < height && height < l.z1 - 1e-6 {
                regions.push(faced(&l.region, body, height, sight));
            }
        }
    } else {
        return uncut(body, cut);
    }
    (layers, regions)
}

/// The ring counter-clockwise.
fn ahead(ring: Ring) -> Ring {
    if ring.area() < 0.0 { ring.reversed() } else { ring }
}

/// A region across the axis at a height, in view coordinates of a viewer on the axis.
fn faced(region: &Region, body: &Body, height: f64, sight: &Sight) -> Region {
    let mirrored = body.pose.z.dot(sight.toward) < 0.0;
    let ring = |r: &Ring| {
        let vertices = r.vertices.iter().map(|q| Vertex {
            p: sight.flat(body.pose.apply(v3(q.p.x, q.p.y, height))),
            bulge: if mirrored { -q.bulge } else { q.bulge },
        });
        ahead(Ring { vertices: vertices.collect() })
    };
    Region { outer: ring(&region.outer), holes: region.holes.iter().map(|h| ring(h).reversed()).collect() }
}

/// Hatches the areas with lines `spacing` mm apart, at 45° one way or the other. Bodies whose areas
/// touch or nearly touch (closer than half the spacing) differ in direction or in spacing
/// (ISO 128-3: 45°, adjacent parts told apart, separate areas of one part alike).
pub fn hatch(areas: &[Area], spacing: f64) -> Vec<HatchLine> {
    let mut out = Vec::new();
    if !(spacing.is_finite() && spacing > 0.0) {
        return out;
    }
    let boxes: Vec<Vec<(Vec2, Vec2)>> =
        areas.iter().map(|a| a.regions.iter().map(|r| r.outer.bounds()).collect()).collect();
    let mut patterns: Vec<usize> = Vec::new();
    for (i, area) in areas.iter().enumerate() {
        let near =
            |j: usize| boxes[i].iter().any(|a| boxes[j].iter().any(|b| boxes_near(a, b, 0.5 * spacing)));
        let taken: Vec<usize> = (0..i).filter(|&j| near(j)).map(|j| patterns[j]).collect();
        let pattern = (0..).find(|p| !taken.contains(p)).unwrap_or(0);
        patterns.push(pattern);
        // Direction first, then spacing: 45°, 135°, both wider, both wider still.
        let angle = if pattern % 2 == 0 { 45.0 } else { 135.0 };
        let step = spacing * (1.0 + 0.5 * (pattern / 2) as f64);
        hatch_area(area, trig::rad(angle), step, &mut out);
    }
    out
}

fn boxes_near(a: &(Vec2, Vec2), b: &(Vec2, Vec2), slack: f64) -> bool {
    a.0.x <= b.1.x + slack && b.0.x <= a.1.x + slack && a.0.y <= b.1.y + slack && b.0.y <= a.1.y + slack
}

/// Hatch lines across one region at the most. A sheet has room for a few hundred.
const MOST_LINES: f64 = 20_000.0;

fn hatch_area(area: &Area, angle: f64, step: f64, out: &mut Vec<HatchLine>) {
    let (sin, cos) = trig::sin_cos(angle);
    let turn = Turn { cos, sin };
    // Lines by number, counted from the origin of the view so that all areas of a body line up.
    let mut lines: BTreeMap<i64, Vec<(f64, f64)>> = BTreeMap::new();
    for region in &area.regions {
        // Finer hatching than any paper can show (or an unbounded area) is left undone.
        let (lo, hi) = region.outer.bounds();
        let lines_across = (hi - lo).norm() / step;
        if lines_across.is_nan() || lines_across > MOST_LINES {
            continue;
        }
        let mut crossed: BTreeMap<i64, Vec<f64>> = BTreeMap::new();
        for w in walls(region, &turn) {
            let (lo, hi) = (w.a.y.min(w.b.y), w.a.y.max(w.b.y));
            let mut k = (lo / step).ceil() as i64;
            while (k as f64) * step < hi {
                crossed.entry(k).or_default().push(w.depth_at(k as f64 * step));
                k += 1;
            }
        }
        for (k, mut at) in crossed {
            at.sort_by(f64::total_cmp);
            lines.entry(k).or_default().extend(at.chunks_exact(2).map(|c| (c[0], c[1])));
        }
    }
    for (k, mut spans) in lines {
        spans.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut joined: Vec<(f64, f64)> = Vec::new();
        for (from, to) in spans {
            match joined.last_mut() {
                Some(last) if from <= last.1 + 1e-6 => last.1 = last.1.max(to),
                _ => joined.push((from, to)),
            }
        }
        let y = k as f64 * step;
        let place = |x: f64| v(x * cos - y * sin, x * sin + y * cos);
        out.extend(joined.into_iter().filter(|(a, b)| b - a > 1e-3).map(|(a, b)| HatchLine {
            body: area.body,
            a: place(a),
            b: place(b),
        }));
    }
}
