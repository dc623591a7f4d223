//! Length, area, centroid, second moments and boxes of regions, exact for arcs.
//!
//! In: rings and regions. Out: figures for mass, strength and stock. Always true: holes count as
//! nothing whichever way they run; moments are about the centroid unless a name says otherwise.
//!
//! How: the polygon of chords by the usual sums over its corners, then the circular segment between
//! each chord and its arc, in closed form, moved into place by the parallel-axis rule.

use crate::boolean;
use crate::check::{check_numbers, edges_of};
use crate::edge::Edge;
use crate::error::GeomError;
use crate::ring::{Region, Ring};
use crate::trig;
use crate::vec2::{Pose2, Vec2, v};

/// Area, centroid and second moments of area. Multiply by thickness and density for mass.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Moments {
    /// Area, mm².
    pub area: f64,
    /// Centroid.
    pub centroid: Vec2,
    /// ∫ y² dA about the centroid, mm⁴: resists bending about the x direction.
    pub ix: f64,
    /// ∫ x² dA about the centroid, mm⁴.
    pub iy: f64,
    /// ∫ x·y dA about the centroid, mm⁴.
    pub ixy: f64,
}

/// The principal axes of a region.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Principal {
    /// Larger second moment, mm⁴.
    pub largest: f64,
    /// Smaller second moment, mm⁴.
    pub smallest: f64,
    /// Direction of the long axis (about which the moment is smallest), radians in (-π/2, π/2].
    pub angle: f64,
}

/// A box along a direction.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TurnedBox {
    /// Direction of `size.x`, radians.
    pub angle: f64,
    /// Centre.
    pub centre: Vec2,
    /// Extent along and across the direction, mm.
    pub size: Vec2,
}

/// Raw sums about the origin: area, ∫p dA, ∫x², ∫y², ∫xy.
#[derive(Clone, Copy, Default)]
struct Sums {
    area: f64,
    first: Vec2,
    xx: f64,
    yy: f64,
    xy: f64,
}

impl Sums {
    fn add(&mut self, o: Sums, sign: f64) {
        self.area += sign * o.area;
        self.first = self.first + o.first * sign;
        self.xx += sign * o.xx;
        self.yy += sign * o.yy;
        self.xy += sign * o.xy;
    }
}

impl Moments {
    /// Moments of a region. A region of no area gives zeros.
    pub fn of(region: &Region) -> Moments {
        // About a corner of the outline, so that regions far from the origin keep their digits.
        let Some(first) = region.outer.vertices.first() else { return Moments::default() };
        let home = first.p;
        let mut sums = Sums::default();
        for (i, ring) in region.rings().enumerate() {
            let s = ring_sums(ring, home);
            let sign = if (s.area > 0.0) == (i == 0) { 1.0 } else { -1.0 };
            sums.add(s, sign);
        }
        if sums.area <= 0.0 {
            return Moments::default();
        }
        let g = sums.first * (1.0 / sums.area);
        Moments {
            area: sums.area,
            centroid: home + g,
            ix: sums.yy - sums.area * g.y * g.y,
            iy: sums.xx - sums.area * g.x * g.x,
            ixy: sums.xy - sums.area * g.x * g.y,
        }
    }

    /// Polar moment about the centroid, mm⁴.
    pub fn polar(&self) -> f64 {
        self.ix + self.iy
    }

    /// Polar moment about any point, mm⁴ (parallel-axis rule).
    pub fn polar_about(&self, p: Vec2) -> f64 {
        self.polar() + self.area * (self.centroid - p).norm2()
    }

    /// Principal moments and the direction of the long axis. For equal moments the angle is 0.
    pub fn principal(&self) -> Principal {
        let mean = (self.ix + self.iy) / 2.0;
        let half = (self.iy - self.ix) / 2.0;
        let spread = trig::hypot(half, self.ixy);
        let angle = if spread <= 1e-12 * mean { 0.0 } else { 0.5 * trig::atan2(self.ixy, half) };
        Principal { largest: mean + spread, smallest: mean - spread, angle }
    }

    /// The moments of several regions taken together (they must not overlap).
    pub fn together(parts: &[Moments]) -> Moments {
        let area: f64 = parts.iter().map(|m| m.area).sum();
        if area <= 0.0 {
            return Moments::default();
        }
        let first = parts.iter().fold(Vec2::ZERO, |s, m| s + m.centroid * m.area);
        let mut out = Moments { area, centroid: first * (1.0 / area), ..Moments::default() };
        for m in parts {
            let d = m.centroid - out.centroid;
            out.ix += m.ix + m.area * d.y * d.y;
            out.iy += m.iy + m.area * d.x * d.x;
            out.ixy += m.ixy + m.area * d.x * d.y;
        }
        out
    }
}

fn ring_sums(ring: &Ring, home: Vec2) -> Sums {
    let mut s = Sums::default();
    for e in edges_of(ring) {
        let (a, b) = (e.a - home, e.b - home);
        let k = a.cross(b);
        // The triangle from the home point to the chord, signed.
        s.add(
            Sums {
                area: k / 2.0,
                first: (a + b) * (k / 6.0),
                xx: k / 12.0 * (a.x * a.x + a.x * b.x + b.x * b.x),
                yy: k / 12.0 * (a.y * a.y + a.y * b.y + b.y * b.y),
                xy: k / 24.0 * (2.0 * a.x * a.y + a.x * b.y + b.x * a.y + 2.0 * b.x * b.y),
            },
            1.0,
        );
        s.add(segment_sums(&e, home), e.bulge().signum());
    }
    s
}

/// The area between a chord and its arc: r radius, h half the sweep.
///
///   area = r²(2h − sin 2h)/2, centroid at (2/3)·r³·sin³h / area from the centre,
///   about the centre: ∫u² = r⁴/4·(h + sin h·cos h) − r⁴/2·cos³h·sin h along the middle direction,
///   ∫w² = r⁴/4·(h − sin h·cos h) − r⁴/6·cos h·sin³h across it (sector less triangle; elementary).
fn segment_sums(e: &Edge, home: Vec2) -> Sums {
    let Some(k) = e.round else { return Sums::default() };
    let h = 2.0 * trig::atan(k.bulge.abs());
    let (sin, cos) = trig::sin_cos(h);
    let r2 = k.r * k.r;
    let area = r2 * less_sine(2.0 * h) / 2.0;
    let out = 2.0 / 3.0 * r2 * k.r * sin * sin * sin / area;
    let r4 = r2 * r2;
    // The closed forms cancel when the arc is flat; the parabola's values are right to h². Each changes
    // over where the two errors are about equal.
    let (sag, half) = (k.bulge.abs() * k.r * sin, k.r * sin);
    let (ww, g) = if h < 1e-4 {
        // Nor is a far centre a good place to measure the centroid from: two fifths of the sagitta.
        (area * half * half / 5.0, (e.a + e.b) * 0.5 + k.mid * (sag * 0.4))
    } else {
        (r4 * (less_sine(2.0 * h) / 8.0 - cos * sin * sin * sin / 6.0), k.c + k.mid * out)
    };
    let uu = if h < 1e-2 {
        area * sag * sag * 12.0 / 175.0
    } else {
        r4 * ((h + sin * cos) / 4.0 - cos * cos * cos * sin / 2.0) - area * out * out
    };
    let g = g - home;
    let m = k.mid;
    Sums {
        area,
        first: g * area,
        xx: uu * m.x * m.x + ww * m.y * m.y + area * g.x * g.x,
        yy: uu * m.y * m.y + ww * m.x * m.x + area * g.y * g.y,
        xy: (uu - ww) * m.x * m.y + area * g.x * g.y,
    }
}

/// x − sin x without cancellation.
fn less_sine(x: f64) -> f64 {
    if x > 0.5 {
        return x - trig::sin(x);
    }
    // x³/3! − x⁵/5! + …, nested; the first dropped term is below 1e-16 of the first kept one.
    let q = x * x;
    let tail = [156.0, 110.0, 72.0, 42.0, 20.0].iter().fold(1.0, |t, d| 1.0 - q / d * t);
    x * q / 6.0 * tail
}

/// Length of a ring, mm.
pub fn perimeter(ring: &Ring) -> f64 {
    edges_of(ring).iter().map(Edge::length).sum()
}

/// Length of all outlines of a region, holes included, mm: what a cutter travels.
pub fn total_perimeter(region: &Region) -> f64 {
    region.rings().map(perimeter).sum()
}

/// Smallest box of a region along a direction. An empty region gives a box of no size.
pub fn box_along(region: &Region, angle: f64) -> TurnedBox {
    let turn = Pose2::new(-angle, Vec2::ZERO);
    let mut lo = v(f64::INFINITY, f64::INFINITY);
    let mut hi = v(f64::NEG_INFINITY, f64::NEG_INFINITY);
    for e in edges_of(&region.outer) {
        let (a, b) = e.moved(&turn).bounds();
        lo = v(lo.x.min(a.x), lo.y.min(a.y));
        hi = v(hi.x.max(b.x), hi.y.max(b.y));
    }
    if lo.x > hi.x {
        return TurnedBox { angle, centre: Vec2::ZERO, size: Vec2::ZERO };
    }
    TurnedBox { angle, centre: turn.inverse().apply((lo + hi) * 0.5), size: hi - lo }
}

/// The box along the principal axes, its first side along the long axis.
pub fn principal_box(region: &Region) -> TurnedBox {
    box_along(region, Moments::of(region).principal().angle)
}

/// Area that lies in one of two regions but not in both, mm².
pub fn symmetric_difference_area(a: &Region, b: &Region) -> Result<f64, GeomError> {
    for r in a.rings().chain(b.rings()) {
        check_numbers(r)?;
    }
    let sum = |r: Vec<Region>| r.iter().map(Region::area).sum::<f64>();
    // Taken from the two remainders rather than from |A| + |B| − 2|A∩B|, which would cancel.
    Ok(sum(boolean::difference(a, b)?) + sum(boolean::difference(b, a)?))
}
