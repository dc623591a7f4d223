//! Outlines that several parts share.
//!
//! In: radii, angles, widths (mm, radians). Out: counter-clockwise rings.
//! Always true: arcs stay arcs.

use core::f64::consts::{FRAC_PI_2, PI};
use turnleaf_geom::{Ring, Seg, Vec2, Vertex, trig};

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

/// The outline of a slot of a width along a chain of stations, round at both ends, counter-clockwise. Where
/// two arcs meet at a slight angle, both sides turn on the line that halves it.
pub fn curved_slot(way: &[Vertex], half: f64) -> Ring {
    let n = way.len();
    if n < 2 {
        return Ring::default();
    }
    let chord = |i: usize| (way[i + 1].p - way[i].p).angle();
    let lean = |i: usize| 2.0 * trig::atan(way[i].bulge);
    let (begins, ends) = (|i: usize| chord(i) - lean(i), |i: usize| chord(i) + lean(i));
    // Direction of the way at a station, and how much farther out the sides' corner lies where it turns.
    let direction = |i: usize| match i {
        0 => (begins(0), 1.0),
        i if i == n - 1 => (ends(i - 1), 1.0),
        i => {
            let (a, b) = (ends(i - 1), begins(i));
            let d = b - a;
            let half_turn = (d - 2.0 * PI * (d / (2.0 * PI)).round()) / 2.0;
            (a + half_turn, 1.0 / trig::cos(half_turn))
        }
    };
    let directions: Vec<(f64, f64)> = (0..n).map(direction).collect();
    let side = |s: f64| -> Vec<Vec2> {
        let at = |i: usize| way[i].p + Vec2::polar(half * directions[i].1, directions[i].0 + s * FRAC_PI_2);
        (0..n).map(at).collect()
    };
    let arc = |i: usize| match Seg::between(way[i], way[i + 1].p) {
        Seg::Arc(a) => Some(a),
        Seg::Line(..) => None,
    };
    // Round an arc tighter than the cutter one side has no arc of its own: its neighbours meet in a corner.
    let none = |i: usize, s: f64| arc(i).is_some_and(|a| a.radius <= half && a.sweep * s > 0.0);
    let chain = |s: f64| -> (Vec<Vec2>, Vec<Option<f64>>) {
        let mut points = side(s);
        for i in (0..n - 1).filter(|i| none(*i, s)) {
            let meet = match i {
                0 => points[0],
                i if i == n - 2 => points[n - 1],
                i => (points[i] + points[i + 1]) * 0.5,
            };
            (points[i], points[i + 1]) = (meet, meet);
        }
        let bend = |i: usize| {
            let Some(a) = arc(i) else { return 0.0 };
            let (p, q) = (points[i] - a.centre, points[i + 1] - a.centre);
            trig::tan(trig::atan2(p.cross(q), p.dot(q)) / 4.0)
        };
        let bends = (0..n - 1).map(|i| (!none(i, s)).then(|| bend(i))).collect();
        (points, bends)
    };
    let ((right, right_bends), (left, left_bends)) = (chain(-1.0), chain(1.0));
    let mut vertices = Vec::new();
    for (p, bend) in right.iter().zip(&right_bends) {
        vertices.extend(bend.map(|bulge| Vertex { p: *p, bulge }));
    }
    vertices.push(Vertex { p: right[n - 1], bulge: 1.0 });
    for (p, bend) in left[1..].iter().zip(&left_bends).rev() {
        vertices.extend(bend.map(|bulge| Vertex { p: *p, bulge: -bulge }));
    }
    vertices.push(Vertex { p: left[0], bulge: 1.0 });
    Ring { vertices }
}
