//! Beams, curved bars, struts and pins in closed form.
//!
//! In: loads in N, lengths in mm, moduli in MPa. Out: deflections in mm, stresses in MPa, reactions in N.
//! Always true: small deflections, straight sections stay straight; every quantity is positive.
//!
//! Source: elementary beam theory, as tabulated in engineering handbooks, unless a function says otherwise.

use core::f64::consts::PI;
use turnleaf_geom::trig;

/// Second moment of a rectangle of width b and height h: b·h³/12.
pub fn rectangle_i(b: f64, h: f64) -> f64 {
    b * h * h * h / 12.0
}
/// Section modulus of a rectangle: b·h²/6.
pub fn rectangle_z(b: f64, h: f64) -> f64 {
    b * h * h / 6.0
}
/// Section modulus of a rectangle with a hole of diameter d across its middle: b·(h³ − d³)/(6·h).
pub fn holed_rectangle_z(b: f64, h: f64, d: f64) -> f64 {
    b * (h * h * h - d * d * d) / (6.0 * h)
}
/// Second moment of a round bar: π·d⁴/64.
pub fn round_i(d: f64) -> f64 {
    PI * d.powi(4) / 64.0
}
/// Section modulus of a round bar: π·d³/32.
pub fn round_z(d: f64) -> f64 {
    PI * d.powi(3) / 32.0
}

/// Tip of a cantilever under a tip load: P·L³/(3·E·I).
///
/// ```
/// use turnleaf_figures::beams::{cantilever_tip, rectangle_i};
/// // 100 N at the end of 500 mm of 40 × 20 mm wood of 10,000 MPa: P·L³/(3·E·I) (elementary beam theory) by hand.
/// let ei = 10_000.0 * rectangle_i(40.0, 20.0);
/// assert!((cantilever_tip(100.0, 500.0, ei) - 15.625).abs() < 1e-9);
/// ```
pub fn cantilever_tip(p: f64, l: f64, ei: f64) -> f64 {
    p * l.powi(3) / (3.0 * ei)
}
/// Tip of a cantilever under an even load w for a unit of length: w·L⁴/(8·E·I).
pub fn cantilever_even(w: f64, l: f64, ei: f64) -> f64 {
    w * l.powi(4) / (8.0 * ei)
}
/// Middle of a beam on two supports under a middle load: P·L³/(48·E·I).
pub fn simple_middle(p: f64, l: f64, ei: f64) -> f64 {
    p * l.powi(3) / (48.0 * ei)
}
/// Middle of a beam on two supports under an even load: 5·w·L⁴/(384·E·I).
pub fn simple_even(w: f64, l: f64, ei: f64) -> f64 {
    5.0 * w * l.powi(4) / (384.0 * ei)
}
/// Middle of a beam clamped at both ends under a middle load: P·L³/(192·E·I).
pub fn clamped_middle(p: f64, l: f64, ei: f64) -> f64 {
    p * l.powi(3) / (192.0 * ei)
}
/// Middle of a beam clamped at both ends under an even load: w·L⁴/(384·E·I).
pub fn clamped_even(w: f64, l: f64, ei: f64) -> f64 {
    w * l.powi(4) / (384.0 * ei)
}
/// Buckling load of a strut: π²·E·I/(K·L)².
pub fn euler(ei: f64, k: f64, l: f64) -> f64 {
    PI * PI * ei / (k * l).powi(2)
}

/// A beam on two supports `b` apart, loaded `a` beyond the outer one.
/// ```text
///   inner        outer          load
///     v            ^              v
///     |------b-----|------a-------|
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Overhang {
    /// Load, N.
    pub load: f64,
    /// Beyond the outer support, mm.
    pub overhang: f64,
    /// Between the supports, mm.
    pub engaged: f64,
}

impl Overhang {
    /// Force of the outer support, upward: P·(a + b)/b.
    pub fn outer(&self) -> f64 {
        self.load * (self.overhang + self.engaged) / self.engaged
    }
    /// Force of the inner support, downward: P·a/b.
    pub fn inner(&self) -> f64 {
        self.load * self.overhang / self.engaged
    }
    /// Largest moment, at the outer support: P·a, N·mm.
    pub fn moment(&self) -> f64 {
        self.load * self.overhang
    }
    /// Deflection under the load: P·a²·(a + b)/(3·E·I).
    pub fn deflection(&self, ei: f64) -> f64 {
        let a = self.overhang;
        self.load * a * a * (a + self.engaged) / (3.0 * ei)
    }
    /// Droop under the load when the supports leave a free play s: s·(a + b)/b.
    pub fn droop(&self, play: f64) -> f64 {
        play * (self.overhang + self.engaged) / self.engaged
    }
}

/// Largest stresses of a bowed bar of rectangular section pulled along its chord, at the middle of the bow:
/// (tension at the inner edge, compression at the outer edge). Pushed along its chord, both change sign.
///
/// F force, e from the chord to the centre line, r radius of the centre line, h width in the plane of the bow,
/// t thickness, A = h·t. Winkler's theory of curved beams: neutral radius r_n = h/ln(r_o/r_i), M = F·e,
/// inner M·(r_n − r_i)/(A·(r − r_n)·r_i) + F/A, outer M·(r_o − r_n)/(A·(r − r_n)·r_o) − F/A.
pub fn curved_bar(force: f64, e: f64, r: f64, h: f64, t: f64) -> (f64, f64) {
    let area = h * t;
    let (ri, ro) = (r - h / 2.0, r + h / 2.0);
    // A bow tighter than its own half width is not a bar any more; the straight formula then stands in.
    if ri <= 0.0 || r > 1e4 * h {
        let bend = force * e / rectangle_z(t, h);
        return (bend + force / area, bend - force / area);
    }
    let rn = h / trig::ln(ro / ri);
    let gap = r - rn;
    let m = force * e;
    let inner = m * (rn - ri) / (area * gap * ri) + force / area;
    let outer = m * (ro - rn) / (area * gap * ro) - force / area;
    (inner, outer)
}

/// Radius of a bow by its chord and its rise: (chord²/4 + rise²)/(2·rise).
pub fn bow_radius(chord: f64, rise: f64) -> f64 {
    if rise.abs() < 1e-9 {
        return f64::INFINITY;
    }
    (chord * chord / 4.0 + rise * rise) / (2.0 * rise.abs())
}

/// Largest pressure of a stiff pin in a hole of depth t, loaded across at a height h above the hole's mouth:
/// F/(d·t)·(4 + 6·h/t). The pressure runs straight from one end to the other; equilibrium of force and moment
/// about the mouth gives its two end values.
pub fn pin_pressure(force: f64, d: f64, t: f64, h: f64) -> f64 {
    force / (d * t) * (4.0 + 6.0 * h / t)
}
