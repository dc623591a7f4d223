//! Sample parts for tests and pictures: one of every kind the table is made of.
//!
//! In: number of sectors, closed radius, stock thickness. Out: parts in their own frames.
//! Always true: the sizes follow the plan relations of the table (gap, shoulder, reach), but everything
//! else (holes, slots, recesses) is demo data that only resembles a real table.
#![allow(dead_code)]

use core::f64::consts::PI;
use turnleaf_geom::vec2::v;
use turnleaf_geom::{Ring, Vec2, Vertex, trig};
use turnleaf_parts::{Depth, Face, Feature, FeatureKind, Part};

/// Sizes behind the samples.
#[derive(Clone, Copy, Debug)]
pub struct Sizes {
    /// Number of sectors.
    pub n: usize,
    /// Closed radius, mm.
    pub r: f64,
    /// Stock thickness, mm.
    pub stock: f64,
    /// Tongue depth, mm.
    pub tongue: f64,
}

impl Sizes {
    /// Usual stock and tongue.
    pub fn new(n: usize, r: f64) -> Sizes {
        Sizes { n, r, stock: 19.0, tongue: 8.0 }
    }
    fn h(&self) -> f64 {
        PI / self.n as f64
    }
    /// Panel travel: grows with the radius, less for many sectors so that the leaf stays narrow enough.
    fn e(&self) -> f64 {
        self.r * 0.375
    }
    fn w(&self) -> f64 {
        2.0 * self.e() * trig::sin(self.h())
    }
    fn rho(&self) -> f64 {
        (self.r * self.r + 2.0 * self.r * self.e() * trig::cos(self.h()) + self.e() * self.e()).sqrt()
    }
    fn shoulder(&self) -> f64 {
        self.e() * trig::cos(self.h()) + self.rho() - (self.r - 3.0)
    }
    fn alpha(&self) -> f64 {
        (PI / 4.0f64).max(self.h())
    }
    fn tip(&self) -> f64 {
        self.shoulder() - self.w() / 2.0 / trig::tan(self.alpha())
    }
}

fn corner(x: f64, y: f64) -> Vertex {
    Vertex { p: v(x, y), bulge: 0.0 }
}

fn feature(id: impl Into<String>, purpose: &str, kind: FeatureKind) -> Feature {
    Feature { id: id.into(), purpose: purpose.into(), kind }
}

fn hole(id: impl Into<String>, purpose: &str, centre: Vec2, diameter: f64, depth: Depth) -> Feature {
    feature(id, purpose, FeatureKind::Hole { centre, diameter, depth })
}

/// A part of plywood with nothing but its outline and what is cut into it.
pub fn part(
    id: &str,
    name: &str,
    count: usize,
    thickness: f64,
    outline: Ring,
    features: Vec<Feature>,
) -> Part {
    Part {
        id: id.into(),
        name: name.into(),
        count,
        material: "Birch plywood (demo)".into(),
        made: true,
        thickness,
        outline,
        features,
        layers: Vec::new(),
        notes: Vec::new(),
        side: None,
    }
}

/// A sector with grooves on both straight edges and four holes.
pub fn panel(s: Sizes) -> Part {
    let (r, h) = (s.r, s.h());
    let a = Vec2::polar(r, h);
    let outline = Ring {
        vertices: vec![
            corner(0.0, 0.0),
            Vertex { p: v(a.x, -a.y), bulge: trig::tan(h / 2.0) },
            corner(a.x, a.y),
        ],
    };
    let z = ((s.stock - 6.3) / 2.0, (s.stock + 6.3) / 2.0);
    let depth = s.tongue + 0.5;
    let start = depth / trig::tan(h) + 6.0;
    let blind = Depth::Blind(Face::Bottom, 11.0);
    let features = vec![
        feature(
            "groove/clockwise",
            "groove",
            FeatureKind::EdgeGroove { edge: 0, from: start, to: r - 15.0, depth, z },
        ),
        feature(
            "groove/counter-clockwise",
            "groove",
            FeatureKind::EdgeGroove { edge: 2, from: 15.0, to: r - start, depth, z },
        ),
        hole("post/inner", "dowel of a post, from below", v(r * 0.42, 0.0), 12.0, blind),
        hole("post/outer", "dowel of a post, from below", v(r * 0.71, 0.0), 12.0, blind),
        hole("fixing/left", "fixing screw", v(r * 0.6, r * 0.1), 4.5, blind),
        hole("fixing/right", "fixing screw", v(r * 0.6, -r * 0.1), 4.5, blind),
    ];
    part("panel", "Panel", s.n, s.stock, outline, features)
}

/// A strip with a pointed inner end and a rounded outer one, tongued.
pub fn leaf(s: Sizes) -> Part {
    let (half, rho) = (s.w() / 2.0, s.rho());
    let rim = (rho * rho - half * half).sqrt();
    let outline = Ring {
        vertices: vec![
            corner(s.tip(), 0.0),
            corner(s.shoulder(), -half),
            Vertex { p: v(rim, -half), bulge: trig::tan(trig::asin(half / rho) / 2.0) },
            corner(rim, half),
            corner(s.shoulder(), half),
        ],
    };
    let edges: Vec<f64> = outline.segs().map(|e| e.length()).collect();
    let z = ((s.stock - 6.0) / 2.0, (s.stock + 6.0) / 2.0);
    let tongue = |id: &str, edge: usize, from: f64, to: f64| {
        feature(
            format!("tongue/{id}"),
            "tongue",
            FeatureKind::EdgeTongue { edge, from, to, depth: s.tongue, z },
        )
    };
    let (point, side) = (edges[0], edges[1]);
    let features = vec![
        tongue("point-clockwise", 0, 6.0, point * 0.7),
        tongue("side-clockwise", 1, side * 0.1, side - 18.0),
        tongue("side-counter-clockwise", 3, 18.0, side * 0.9),
        tongue("point-counter-clockwise", 4, point * 0.3, point - 6.0),
        hole(
            "riser/1",
            "screw of a riser, from below",
            v(s.shoulder() + 40.0, 0.0),
            3.0,
            Depth::Blind(Face::Bottom, 11.0),
        ),
        hole(
            "riser/2",
            "screw of a riser, from below",
            v(rim - 60.0, 0.0),
            3.0,
            Depth::Blind(Face::Bottom, 11.0),
        ),
    ];
    part("leaf", "Leaf", s.n, s.stock, outline, features)
}

/// The star: n arms with swallow-tail ends, and a centre hole.
pub fn star(s: Sizes) -> Part {
    let half = s.w() / 2.0;
    let mut points = Vec::new();
    for k in 0..s.n {
        let seam = (2 * k + 1) as f64 * s.h();
        points.push(Vec2::polar(s.e(), seam - s.h()));
        for (x, y) in [(s.shoulder(), -half), (s.tip(), 0.0), (s.shoulder(), half)] {
            points.push(v(x, y).rot(seam));
        }
    }
    let outline = Ring::polygon(&points);
    let edges: Vec<f64> = outline.segs().map(|e| e.length()).collect();
    let (side, point) = (edges[0], edges[1]);
    let z = ((s.stock - 6.0) / 2.0, (s.stock + 6.0) / 2.0);
    let zg = ((s.stock - 6.3) / 2.0, (s.stock + 6.3) / 2.0);
    let mut features = vec![hole("centre", "centre pin", Vec2::ZERO, 20.0, Depth::Blind(Face::Bottom, 12.0))];
    for k in 0..s.n {
        let e = 4 * k;
        let mut add = |id: String, edge: usize, from: f64, to: f64, tongue: bool| {
            let kind = if tongue {
                FeatureKind::EdgeTongue { edge, from, to, depth: s.tongue, z }
            } else {
                FeatureKind::EdgeGroove { edge, from, to, depth: s.tongue + 0.5, z: zg }
            };
            features.push(feature(id, if tongue { "tongue" } else { "groove" }, kind));
        };
        let (from, to) = (side * 0.15, side * 0.75);
        add(format!("tongue/{}-clockwise", k + 1), e, from, to, true);
        add(format!("groove/{}-clockwise", k + 1), e + 1, point * 0.3, point - 4.0, false);
        add(format!("groove/{}-counter-clockwise", k + 1), e + 2, 4.0, point * 0.7, false);
        add(format!("tongue/{}-counter-clockwise", k + 1), e + 3, side - to, side - from, true);
    }
    part("star", "Star", 1, s.stock, outline, features)
}

/// A bent arm with round ends and two pin holes; straight when the bend is nothing.
pub fn arm(length: f64, bend: f64, width: f64) -> Part {
    let half = width / 2.0;
    let pin = |id: &str, x: f64| hole(format!("pin/{id}"), "pin", v(x, 0.0), 8.0, Depth::Through);
    let features = vec![pin("crank", 0.0), pin("slide", length)];
    if bend == 0.0 {
        return part("arm", "Arm", 6, 9.0, Ring::slot(Vec2::ZERO, v(length, 0.0), half), features);
    }
    let c = length / 2.0;
    let radius = (c * c + bend * bend) / (2.0 * bend);
    let centre = v(c, bend - radius);
    let sweep = 4.0 * trig::atan(bend / c);
    let a = (Vec2::ZERO - centre).unit();
    let b = (v(length, 0.0) - centre).unit();
    let outline = Ring {
        vertices: vec![
            Vertex { p: centre + a * (radius - half), bulge: -trig::tan(sweep / 4.0) },
            Vertex { p: centre + b * (radius - half), bulge: 1.0 },
            Vertex { p: centre + b * (radius + half), bulge: trig::tan(sweep / 4.0) },
            Vertex { p: centre + a * (radius + half), bulge: 1.0 },
        ],
    };
    part("arm", "Panel arm", 6, 9.0, outline, features)
}

fn band(r0: f64, r1: f64, from: f64, to: f64) -> Ring {
    let bulge = trig::tan((to - from) / 4.0);
    Ring {
        vertices: vec![
            Vertex { p: Vec2::polar(r0, from), bulge: 0.0 },
            Vertex { p: Vec2::polar(r1, from), bulge },
            Vertex { p: Vec2::polar(r1, to), bulge: 0.0 },
            Vertex { p: Vec2::polar(r0, to), bulge: -bulge },
        ],
    }
}

/// A disc with a centre hole, radial slots, a bolt circle, ramp recesses and odd holes.
pub fn plate(s: Sizes) -> Part {
    let r = s.r * 0.7;
    let mut features = vec![hole("centre", "centre pivot", Vec2::ZERO, 25.0, Depth::Through)];
    let step = 2.0 * PI / s.n as f64;
    for k in 0..s.n {
        let a = step * k as f64;
        features.push(feature(
            format!("slot/{}", k + 1),
            "post slot",
            FeatureKind::Slot {
                a: Vec2::polar(r * 0.35, a),
                b: Vec2::polar(r * 0.8, a),
                width: 14.0,
                depth: Depth::Through,
            },
        ));
        features.push(hole(
            format!("crank/{}", k + 1),
            "crank pin",
            Vec2::polar(r * 0.5, a + step * 0.4),
            8.0,
            Depth::Through,
        ));
        for (name, t) in [("a", 0.3), ("b", 0.7)] {
            features.push(hole(
                format!("guide-{name}/{}", k + 1),
                "guide screw",
                Vec2::polar(r * 0.88, a + step * t),
                4.5,
                Depth::Blind(Face::Top, 12.0),
            ));
        }
    }
    for (k, turn) in [0.1, 0.1 + PI].into_iter().enumerate() {
        features.push(feature(
            format!("ramp-outer/{}", k + 1),
            "ramp",
            FeatureKind::Pocket {
                ring: band(r * 0.62, r * 0.68, turn, turn + 0.42),
                depth: Depth::Blind(Face::Top, 9.0),
            },
        ));
    }
    let pocket = |id: String, purpose: &str, ring: Ring, depth: Depth| {
        feature(id, purpose, FeatureKind::Pocket { ring, depth })
    };
    // Rectangles: two turned alike on one circle, one square to its radius, one along the datum line.
    let rect = |c: Vec2, half: Vec2, turn: f64| {
        let p = [v(-half.x, -half.y), v(half.x, -half.y), v(half.x, half.y), v(-half.x, half.y)];
        Ring::polygon(&p.map(|q| c + q.rot(turn)))
    };
    for (k, turn) in [0.9, 0.9 + PI].into_iter().enumerate() {
        let ring = rect(Vec2::polar(r * 0.42, turn), v(20.0, 8.0), turn + 0.8);
        features.push(pocket(format!("roller/{}", k + 1), "drop roller", ring, Depth::Through));
    }
    let ring = rect(Vec2::polar(r * 0.3, 2.0), v(6.0, 15.0), 2.0);
    features.push(pocket("stop-block".into(), "stop block", ring, Depth::Blind(Face::Bottom, 5.0)));
    let ring = rect(Vec2::polar(r * 0.3, 4.0), v(15.0, 6.0), 0.0);
    features.push(pocket("latch".into(), "latch", ring, Depth::Blind(Face::Bottom, 5.0)));
    // Any other outline, and a slot that is not radial.
    let c = Vec2::polar(r * 0.3, 5.2);
    let ring = Ring {
        vertices: vec![
            Vertex { p: c, bulge: 0.0 },
            Vertex { p: c + v(22.0, 3.0), bulge: 0.3 },
            Vertex { p: c + v(4.0, 19.0), bulge: 0.0 },
        ],
    };
    features.push(pocket("grip".into(), "finger grip", ring, Depth::Through));
    features.push(feature(
        "adjuster",
        "adjuster",
        FeatureKind::Slot {
            a: Vec2::polar(r * 0.25, 3.0),
            b: Vec2::polar(r * 0.31, 3.2),
            width: 6.5,
            depth: Depth::Through,
        },
    ));
    features.push(hole("stop/1", "stop", Vec2::polar(r * 0.94, 0.7), 6.0, Depth::Through));
    features.push(hole("stop/2", "stop", Vec2::polar(r * 0.94, 2.9), 6.0, Depth::Through));
    part("plate", "Turning plate", 1, 18.0, Ring::circle(Vec2::ZERO, r), features)
}

/// A disc whose middle is an opening with three arms, the first not on the datum line.
pub fn spider(s: Sizes, turn: f64) -> Part {
    let (r, middle, half, reach) = (s.r * 0.3, 26.0, 8.0, s.r * 0.2);
    let inner = trig::asin(half / middle);
    let mut vertices = Vec::new();
    for k in 0..3 {
        let a = turn + 2.0 * PI * f64::from(k) / 3.0;
        let gap = 2.0 * PI / 3.0 - 2.0 * inner;
        vertices.push(Vertex { p: Vec2::polar(middle, a - inner), bulge: 0.0 });
        vertices.push(Vertex { p: v(reach, -half).rot(a), bulge: 0.0 });
        vertices.push(Vertex { p: v(reach, half).rot(a), bulge: 0.0 });
        vertices.push(Vertex { p: Vec2::polar(middle, a + inner), bulge: trig::tan(gap / 4.0) });
    }
    let features = vec![feature(
        "opening",
        "opening for hub and levers",
        FeatureKind::Pocket { ring: Ring { vertices }, depth: Depth::Through },
    )];
    part("spider", "Lever plate", 1, 12.0, Ring::circle(Vec2::ZERO, r), features)
}

/// A slide: a rectangle with a row of holes.
pub fn slide(length: f64) -> Part {
    let features = (0..4)
        .map(|k| {
            let x = length * (0.1 + 0.25 * k as f64);
            hole(format!("fixing/{}", k + 1), "fixing screw", v(x, 0.0), 5.0, Depth::Through)
        })
        .chain([hole("pin", "arm pin", v(length * 0.5, 8.0), 8.0, Depth::Blind(Face::Bottom, 10.0))])
        .collect();
    part("slide", "Panel slide", 6, 12.0, Ring::rect(v(0.0, -20.0), v(length, 20.0)), features)
}

/// A rail with a notched end: no symmetry at all.
pub fn rail(length: f64) -> Part {
    let p = [
        v(0.0, 0.0),
        v(length, 0.0),
        v(length, 60.0),
        v(length - 40.0, 60.0),
        v(length - 40.0, 90.0),
        v(50.0, 90.0),
        v(0.0, 35.0),
    ];
    let features = vec![
        hole("dowel/1", "dowel", v(30.0, 20.0), 10.0, Depth::Blind(Face::Top, 15.0)),
        hole("dowel/2", "dowel", v(length - 30.0, 30.0), 10.0, Depth::Blind(Face::Top, 15.0)),
    ];
    part("rail", "Rail", 4, 28.0, Ring::polygon(&p), features)
}

/// A ring segment.
pub fn segment(s: Sizes) -> Part {
    let (r0, r1) = (s.r * 0.6, s.r * 0.68);
    let mut outline = band(r0, r1, -s.h(), s.h());
    outline.vertices.rotate_left(0);
    let features = vec![
        hole("screw/1", "screw", Vec2::polar((r0 + r1) / 2.0, -s.h() * 0.6), 5.0, Depth::Through),
        hole("screw/2", "screw", Vec2::polar((r0 + r1) / 2.0, s.h() * 0.6), 5.0, Depth::Through),
    ];
    part("ring-segment", "Ring segment", s.n, 18.0, outline, features)
}

/// One of every kind.
pub fn all(s: Sizes) -> Vec<Part> {
    vec![
        panel(s),
        leaf(s),
        star(s),
        arm(s.r * 0.5, s.r * 0.13, 20.0),
        arm(s.r * 0.4, 0.0, 20.0),
        plate(s),
        spider(s, 0.0),
        spider(s, 0.35),
        slide(s.r * 0.6),
        rail(s.r * 0.9),
        segment(s),
    ]
}
