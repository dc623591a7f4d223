//! What a view is made of. Out: [`Stroke2`]s with a straight, circular or elliptical course.
//!
//! Always true: view coordinates, x to the right and y up, mm at scale 1; angles in radians,
//! counter-clockwise positive. An ellipse has its longer half axis in `major`.

use turnleaf_geom::{Arc, Vec2, trig, vec2::v};

/// An arc of an ellipse: centre + major·cos θ + minor·sin θ, minor = major turned 90° times `ratio`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EllipseArc {
    /// Centre.
    pub centre: Vec2,
    /// Longer half axis, as a vector.
    pub major: Vec2,
    /// Shorter half axis over the longer one, in (0, 1].
    pub ratio: f64,
    /// Parameter θ of the first point (not the direction from the centre).
    pub start: f64,
    /// Signed sweep of the parameter.
    pub sweep: f64,
}

/// The course of a stroke.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Curve2 {
    /// Straight.
    Line(Vec2, Vec2),
    /// Circular.
    Arc(Arc),
    /// Elliptical.
    Ellipse(EllipseArc),
}

impl EllipseArc {
    /// The shorter half axis as a vector.
    pub fn minor(&self) -> Vec2 {
        self.major.perp() * self.ratio
    }
    /// The point at parameter θ.
    pub fn point(&self, theta: f64) -> Vec2 {
        let (s, c) = trig::sin_cos(theta);
        self.centre + self.major * c + self.minor() * s
    }
    /// The derivative of the point by θ.
    pub fn tangent(&self, theta: f64) -> Vec2 {
        let (s, c) = trig::sin_cos(theta);
        self.minor() * c - self.major * s
    }
}

impl Curve2 {
    /// The circle or ellipse arc centre + p·cos θ + q·sin θ for θ from `start` over `sweep`.
    /// `None` where p and q are parallel: the curve is then straight.
    pub(crate) fn conic(centre: Vec2, p: Vec2, q: Vec2, start: f64, sweep: f64) -> Option<Curve2> {
        let (pp, qq, pq) = (p.norm2(), q.norm2(), p.dot(q));
        let size = pp.max(qq);
        if p.cross(q).abs() <= 1e-9 * size {
            return None;
        }
        if (pp - qq).abs() <= 1e-12 * size && pq.abs() <= 1e-12 * size {
            let turn = p.cross(q).signum();
            return Some(Curve2::Arc(Arc {
                centre,
                radius: pp.sqrt(),
                start: p.angle() + turn * start,
                sweep: turn * sweep,
            }));
        }
        // Turning the parameter by φ makes the two half axes square to each other.
        let phi = 0.5 * trig::atan2(2.0 * pq, pp - qq);
        let (s, c) = trig::sin_cos(phi);
        let (a, b) = (p * c + q * s, q * c - p * s);
        // atan2 puts the longer one first.
        let turn = a.cross(b).signum();
        Some(Curve2::Ellipse(EllipseArc {
            centre,
            major: a,
            ratio: (b.norm() / a.norm()).min(1.0),
            start: turn * (start - phi),
            sweep: turn * sweep,
        }))
    }
    /// First point.
    pub fn start(&self) -> Vec2 {
        self.at(0.0)
    }
    /// Last point.
    pub fn end(&self) -> Vec2 {
        self.at(1.0)
    }
    /// The point at fraction `t` of the parameter.
    pub fn at(&self, t: f64) -> Vec2 {
        match self {
            Curve2::Line(a, b) => a.lerp(*b, t),
            Curve2::Arc(c) => c.at(t),
            Curve2::Ellipse(e) => e.point(e.start + e.sweep * t),
        }
    }
    /// Length along the curve; ellipses by quadrature, better than 1e-9 of the length.
    pub fn length(&self) -> f64 {
        match self {
            Curve2::Line(a, b) => a.dist(*b),
            Curve2::Arc(c) => c.radius * c.sweep.abs(),
            Curve2::Ellipse(e) => {
                // Three-point Gauss rule over steps no wider than 5°.
                let n = ((e.sweep.abs() / 0.0873).ceil() as usize).clamp(1, 256);
                let h = e.sweep / n as f64;
                let k = 0.6_f64.sqrt() / 2.0;
                let mut sum = 0.0;
                for i in 0..n {
                    let m = e.start + h * (i as f64 + 0.5);
                    sum += 5.0 * (e.tangent(m - k * h).norm() + e.tangent(m + k * h).norm())
                        + 8.0 * e.tangent(m).norm();
                }
                sum * h.abs() / 18.0
            }
        }
    }
    /// Smallest box around the curve: (min, max).
    pub fn bounds(&self) -> (Vec2, Vec2) {
        let (a, b) = (self.start(), self.end());
        let mut lo = v(a.x.min(b.x), a.y.min(b.y));
        let mut hi = v(a.x.max(b.x), a.y.max(b.y));
        let (centre, p, q, start, sweep) = match self {
            Curve2::Line(..) => return (lo, hi),
            Curve2::Arc(c) => (c.centre, v(c.radius, 0.0), v(0.0, c.radius), c.start, c.sweep),
            Curve2::Ellipse(e) => (e.centre, e.major, e.minor(), e.start, e.sweep),
        };
        let probe = Arc { centre: Vec2::ZERO, radius: 1.0, start, sweep };
        for (phase, dx) in [(trig::atan2(q.x, p.x), true), (trig::atan2(q.y, p.y), false)] {
            for theta in [phase, phase + core::f64::consts::PI] {
                if probe.covers(theta) {
                    let (s, c) = trig::sin_cos(theta);
                    let at = centre + p * c + q * s;
                    if dx {
                        (lo.x, hi.x) = (lo.x.min(at.x), hi.x.max(at.x));
                    } else {
                        (lo.y, hi.y) = (lo.y.min(at.y), hi.y.max(at.y));
                    }
                }
            }
        }
        (lo, hi)
    }
}

/// What kind of edge a stroke shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum EdgeKind {
    /// Where two faces meet at an angle.
    Outline,
    /// Where a curved face turns away from the viewer.
    Silhouette,
    /// Where two faces pass smoothly into each other.
    Smooth,
    /// A trace line of an exploded view.
    Trace,
}

/// A line of a view.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stroke2 {
    /// Its course.
    pub curve: Curve2,
    /// Index into [`View::bodies`] of the body it belongs to.
    pub body: usize,
    /// What it shows.
    pub kind: EdgeKind,
}

/// Who a stroke belongs to.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Tag {
    /// Identifier of the body or trace.
    pub id: String,
    /// Its style tag, empty for traces.
    pub style: String,
}

/// What is seen.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct View {
    /// Edges in sight. No two cover the same stretch.
    pub visible: Vec<Stroke2>,
    /// Edges behind something. None covers a visible one or another hidden one.
    pub hidden: Vec<Stroke2>,
    /// Box around all strokes: (min, max). Both zero for an empty view.
    pub bounds: (Vec2, Vec2),
    /// The bodies in the order they were given, then the traces.
    pub bodies: Vec<Tag>,
}

impl View {
    /// Identifier of the body a stroke belongs to.
    pub fn id(&self, stroke: &Stroke2) -> &str {
        &self.bodies[stroke.body].id
    }
    /// Total length of the visible strokes, traces left out.
    pub fn visible_length(&self) -> f64 {
        total(&self.visible)
    }
    /// Total length of the hidden strokes.
    pub fn hidden_length(&self) -> f64 {
        total(&self.hidden)
    }
    /// Fills in the box around all strokes.
    pub(crate) fn measure(&mut self) {
        let mut lo = v(f64::INFINITY, f64::INFINITY);
        let mut hi = -lo;
        for s in self.visible.iter().chain(&self.hidden) {
            let (a, b) = s.curve.bounds();
            lo = v(lo.x.min(a.x), lo.y.min(a.y));
            hi = v(hi.x.max(b.x), hi.y.max(b.y));
        }
        self.bounds = if lo.x <= hi.x { (lo, hi) } else { (Vec2::ZERO, Vec2::ZERO) };
    }
}

fn total(strokes: &[Stroke2]) -> f64 {
    strokes.iter().filter(|s| s.kind != EdgeKind::Trace).map(|s| s.curve.length()).sum()
}
