//! Outlines that several parts share.
//!
//! In: radii, angles, widths (mm, radians). Out: counter-clockwise rings.
//! Always true: arcs stay arcs.

use turnleaf_geom::{Ring, Vec2, Vertex, trig};

fn corner(p: Vec2) -> Vertex {
    Vertex { p, bulge: 0.0 }
}

/// An annular sector between two radii and two angles (`from` < `to`), flat ends.
pub fn annular_sector(inner: f64, outer: f64, from: f64, to: f64) -> Ring {
    let bulge = trig::tan((to - from) / 4.0);
    Ring {
        vertices: vec![
            corner(Vec2::polar(inner, from)),
            Vertex { p: Vec2::polar(outer, from), bulge },
            corner(Vec2::polar(outer, to)),
            Vertex { p: Vec2::polar(inner, to), bulge: -bulge },
        ],
    }
}

/// A radial notch or finger: direction, how far it reaches, half its width.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Notch {
    /// Direction of its centre line, radians.
    pub direction: f64,
    /// Radius of its blind end, mm.
    pub end: f64,
    /// Half its width, mm.
    pub half_width: f64,
}

/// A circle whose edge steps in (or out) to `end` along each notch, square-ended, counter-clockwise.
/// Notches must be given in rising direction and must not overlap.
pub fn notched_circle(radius: f64, notches: &[Notch]) -> Ring {
    if notches.is_empty() {
        return Ring::circle(Vec2::ZERO, radius);
    }
    let half_angle = |n: &Notch| trig::asin(n.half_width / radius);
    let mut vertices = Vec::new();
    for (i, n) in notches.iter().enumerate() {
        let next = &notches[(i + 1) % notches.len()];
        let place = |x: f64, y: f64| Vec2 { x, y }.rot(n.direction);
        let at_rim = (radius * radius - n.half_width * n.half_width).max(0.0).sqrt();
        vertices.push(corner(place(at_rim, -n.half_width)));
        vertices.push(corner(place(n.end, -n.half_width)));
        vertices.push(corner(place(n.end, n.half_width)));
        let mut gap = next.direction - n.direction;
        if gap <= 0.0 {
            gap += 2.0 * core::f64::consts::PI;
        }
        let sweep = gap - half_angle(n) - half_angle(next);
        vertices.push(Vertex { p: place(at_rim, n.half_width), bulge: trig::tan(sweep / 4.0) });
    }
    Ring { vertices }
}

/// A circular sector with its apex at the origin, symmetric about +x.
pub fn sector(radius: f64, half_angle: f64) -> Ring {
    Ring {
        vertices: vec![
            corner(Vec2::ZERO),
            Vertex { p: Vec2::polar(radius, -half_angle), bulge: trig::tan(half_angle / 2.0) },
            corner(Vec2::polar(radius, half_angle)),
        ],
    }
}
