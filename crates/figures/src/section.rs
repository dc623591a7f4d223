//! What a straight cut through parts meets.
//!
//! In: regions and a line. Out: the stretches of the line that lie in wood, and the strength of the section.
//! Always true: arcs are cut exactly.

use turnleaf_geom::{Region, Seg, Vec2, distance::point_in_region};

/// A cutting line: a point and a unit direction.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cut {
    /// A point of it.
    pub at: Vec2,
    /// Its direction, length 1.
    pub along: Vec2,
}

/// Distances along the line of its crossings with a region's outlines, sorted.
fn crossings(region: &Region, cut: &Cut) -> Vec<f64> {
    let across = cut.along.perp();
    let mut out = Vec::new();
    for ring in region.rings() {
        for seg in ring.segs() {
            match seg {
                Seg::Line(a, b) => {
                    let (da, db) = ((a - cut.at).dot(across), (b - cut.at).dot(across));
                    if (da >= 0.0) != (db >= 0.0) {
                        out.push((a.lerp(b, da / (da - db)) - cut.at).dot(cut.along));
                    }
                }
                Seg::Arc(c) => {
                    let d = c.centre - cut.at;
                    let (middle, off) = (d.dot(cut.along), d.dot(across));
                    let rest = c.radius * c.radius - off * off;
                    if rest <= 0.0 {
                        continue;
                    }
                    for t in [middle - rest.sqrt(), middle + rest.sqrt()] {
                        let p = cut.at + cut.along * t;
                        if c.covers((p - c.centre).angle()) {
                            out.push(t);
                        }
                    }
                }
            }
        }
    }
    out.sort_by(f64::total_cmp);
    out
}

/// Stretches of the line inside a region: pairs of distances along it.
///
/// Crossings only say where to look; what lies between two of them is judged by its middle, so that a line
/// through a corner, where two edges are crossed at one point, is still right.
pub fn stretches(region: &Region, cut: &Cut) -> Vec<(f64, f64)> {
    let mut out: Vec<(f64, f64)> = Vec::new();
    for pair in crossings(region, cut).windows(2) {
        if pair[1] - pair[0] < 1e-9 {
            continue;
        }
        let middle = cut.at + cut.along * ((pair[0] + pair[1]) / 2.0);
        if !point_in_region(middle, region) {
            continue;
        }
        match out.last_mut() {
            Some(last) if (last.1 - pair[0]).abs() < 1e-9 => last.1 = pair[1],
            _ => out.push((pair[0], pair[1])),
        }
    }
    out
}

/// A stretch of a section that is equally thick throughout.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stretch {
    /// Length along the cut, mm.
    pub length: f64,
    /// Wood that is left, mm.
    pub thickness: f64,
}

/// The section that a line cuts from glued layers: each a region, its thickness.
pub fn section(layers: &[(&Region, f64)], cut: &Cut) -> Vec<Stretch> {
    let inside: Vec<(Vec<(f64, f64)>, f64)> = layers.iter().map(|(r, t)| (stretches(r, cut), *t)).collect();
    let mut marks: Vec<f64> = inside.iter().flat_map(|(s, _)| s.iter().flat_map(|p| [p.0, p.1])).collect();
    marks.sort_by(f64::total_cmp);
    let mut out = Vec::new();
    for pair in marks.windows(2) {
        let (length, middle) = (pair[1] - pair[0], (pair[0] + pair[1]) / 2.0);
        if length < 1e-9 {
            continue;
        }
        let thickness: f64 = inside
            .iter()
            .filter(|(s, _)| s.iter().any(|p| p.0 < middle && middle < p.1))
            .map(|(_, t)| *t)
            .sum();
        if thickness > 0.0 {
            out.push(Stretch { length, thickness });
        }
    }
    out
}

/// Second moment of a section whose stretches bend together, each about its own middle: Σ l·t³/12, mm⁴.
/// Leaving out that the middles of thin stretches lie lower makes it a little too small.
pub fn section_i(section: &[Stretch]) -> f64 {
    section.iter().map(|s| s.length * s.thickness.powi(3) / 12.0).sum()
}
