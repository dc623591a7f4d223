//! Demo scenes for pictures, timing and the outside check. In: nothing. Out: named lists of bodies.
//!
//! Always true: invented sizes ("demo"), no piece passes through another.

use core::f64::consts::PI;
use turnleaf_geom::{Pose2, Region, Ring, Vec2, Vertex, trig, vec2::v};
use turnleaf_parts::Layer;
use turnleaf_views::{Body, Corner, Pose3, Projection, Vec3, v3};

/// A scene with a way of looking at it.
pub struct Scene {
    /// Name without spaces.
    pub name: &'static str,
    /// What is looked at.
    pub bodies: Vec<Body>,
    /// How.
    pub projection: Projection,
}

fn layer(outer: Ring, holes: Vec<Ring>, z0: f64, z1: f64) -> Layer {
    Layer { region: Region { outer, holes: holes.into_iter().map(|h| h.reversed()).collect() }, z0, z1 }
}

fn upright(id: impl Into<String>, layers: Vec<Layer>, angle: f64, at: Vec2, z: f64) -> Body {
    Body::upright(id, layers, &Pose2::new(angle, at), z)
}

fn disc(radius: f64, thickness: f64) -> Vec<Layer> {
    vec![layer(Ring::circle(Vec2::ZERO, radius), vec![], 0.0, thickness)]
}

fn bar(length: f64, width: f64, thickness: f64) -> Vec<Layer> {
    vec![layer(
        Ring::rect(v(-length / 2.0, -width / 2.0), v(length / 2.0, width / 2.0)),
        vec![],
        0.0,
        thickness,
    )]
}

fn vertex(p: Vec2, bulge: f64) -> Vertex {
    Vertex { p, bulge }
}

/// A sector about +x with its tip at the origin, tip cut and grooved along both straight edges.
fn panel(n: usize, radius: f64) -> Vec<Layer> {
    let h = PI / n as f64;
    let corner = Vec2::polar(radius, -h);
    let far = v(corner.x, -corner.y);
    let plain = Ring {
        vertices: vec![vertex(Vec2::ZERO, 0.0), vertex(corner, trig::tan(h / 2.0)), vertex(far, 0.0)],
    };
    // Groove 8 deep from 60 to radius − 40 along each edge.
    let (a, b, depth) = (60.0, radius - 40.0, 8.0);
    let low = |r: f64, d: f64| Vec2::polar(r, -h) + Vec2::polar(d, PI / 2.0 - h);
    let high = |r: f64, d: f64| v(low(r, d).x, -low(r, d).y);
    let grooved = Ring {
        vertices: vec![
            vertex(Vec2::ZERO, 0.0),
            vertex(low(a, 0.0), 0.0),
            vertex(low(a, depth), 0.0),
            vertex(low(b, depth), 0.0),
            vertex(low(b, 0.0), 0.0),
            vertex(corner, trig::tan(h / 2.0)),
            vertex(far, 0.0),
            vertex(high(b, 0.0), 0.0),
            vertex(high(b, depth), 0.0),
            vertex(high(a, depth), 0.0),
            vertex(high(a, 0.0), 0.0),
        ],
    };
    let dowel = Ring::circle(v(radius * 0.6, 0.0), 10.0);
    vec![
        layer(plain.clone(), vec![dowel], 0.0, 6.0),
        layer(grooved, vec![], 6.0, 12.0),
        layer(plain, vec![], 12.0, 18.0),
    ]
}

/// A leaf along +x: V-shaped inner end from `tip` to `shoulder`, round outer end, tongue of 7.
fn leaf(tip: f64, shoulder: f64, half: f64, rho: f64) -> Vec<Layer> {
    let ring = |tongue: bool| {
        let w = half + if tongue { 7.0 } else { 0.0 };
        let x = (rho * rho - w * w).sqrt();
        let turn = trig::asin(w / rho);
        let mut ring = vec![vertex(v(tip, 0.0), 0.0), vertex(v(shoulder, -half), 0.0)];
        if tongue {
            ring.push(vertex(v(shoulder + 40.0, -half), 0.0));
            ring.push(vertex(v(shoulder + 40.0, -w), 0.0));
        }
        ring.push(vertex(v(x, -w), trig::tan(turn / 2.0)));
        ring.push(vertex(v(x, w), 0.0));
        if tongue {
            ring.push(vertex(v(shoulder + 40.0, w), 0.0));
            ring.push(vertex(v(shoulder + 40.0, half), 0.0));
        }
        ring.push(vertex(v(shoulder, half), 0.0));
        Ring { vertices: ring }
    };
    vec![
        layer(ring(false), vec![], 0.0, 6.0),
        layer(ring(true), vec![], 6.0, 12.0),
        layer(ring(false), vec![], 12.0, 18.0),
    ]
}

/// The star that closes the middle.
fn star(n: usize, e: f64, tip: f64, shoulder: f64, half: f64) -> Vec<Layer> {
    let h = PI / n as f64;
    let mut points = Vec::new();
    for k in 0..n {
        let seam = Pose2::new(h * (2 * k + 1) as f64, Vec2::ZERO);
        points.push(Vec2::polar(e, h * (2 * k) as f64));
        for p in [v(shoulder, -half), v(tip, 0.0), v(shoulder, half)] {
            points.push(seam.turn(p));
        }
    }
    vec![layer(Ring::polygon(&points), vec![], 0.0, 18.0)]
}

/// An arm bent along an arc from `a` to `b`, with a hole at each end.
fn arm(a: Vec2, b: Vec2, bulge: f64, half: f64, hole: f64, thickness: f64) -> Vec<Layer> {
    let turnleaf_geom::Seg::Arc(c) = turnleaf_geom::Seg::between(vertex(a, bulge), b) else {
        unreachable!("demo arms are bent")
    };
    let at = |r: f64, t: f64| c.centre + Vec2::polar(r, c.start + c.sweep * t);
    let outline = Ring {
        vertices: vec![
            vertex(at(c.radius + half, 0.0), bulge),
            vertex(at(c.radius + half, 1.0), 1.0),
            vertex(at(c.radius - half, 1.0), -bulge),
            vertex(at(c.radius - half, 0.0), 1.0),
        ],
    };
    vec![layer(outline, vec![Ring::circle(a, hole), Ring::circle(b, hole)], 0.0, thickness)]
}

/// Holes round a circle.
fn round_holes(n: usize, radius: f64, hole: f64, phase: f64) -> Vec<Ring> {
    (0..n).map(|k| Ring::circle(Vec2::polar(radius, phase + 2.0 * PI * k as f64 / n as f64), hole)).collect()
}

/// A round table of `n` sectors: panels, leaves, star, plates, slides, arms, base, rollers, legs.
/// `open` false stores leaves and star below, true spreads panels with everything flush.
pub fn table(n: usize, open: bool) -> Vec<Body> {
    let mut out = Vec::new();
    let h = PI / n as f64;
    let (radius, e) = (600.0, 225.0);
    let half = e * trig::sin(h);
    let rho = (radius * radius + 2.0 * radius * e * trig::cos(h) + e * e).sqrt();
    let l = rho - (radius - 3.0);
    let shoulder = e * trig::cos(h) + l + 1.0;
    let tip = shoulder - half;
    let (panel_r, leaf_r, leaf_z, star_z) =
        if open { (e, 0.0, 700.0, 700.0) } else { (0.0, -l, 681.0, 662.0) };
    let turn = |k: usize, odd: f64| h * (2.0 * k as f64 + odd);
    let gap = if open { 24.0 } else { 0.0 };
    for k in 0..n {
        let a = turn(k, 0.0);
        out.push(upright(format!("panel/{k}"), panel(n, radius), a, Vec2::polar(panel_r + gap, a), 700.0));
    }
    let leaf_layers = leaf(tip, shoulder, half, rho);
    for k in 0..n {
        let a = turn(k, 1.0);
        let spread = Vec2::polar(leaf_r + if open { 8.0 } else { 0.0 }, a);
        out.push(upright(format!("leaf/{k}"), leaf_layers.clone(), a, spread, leaf_z));
    }
    // Closed, the star is turned so that its points lie below the leaves.
    out.push(upright(
        "star",
        star(n, e - 1.0, tip - 9.0, shoulder - 9.0, half - 1.0),
        0.0,
        Vec2::ZERO,
        star_z,
    ));
    let mut holes = round_holes(n, 150.0, 16.0, h);
    holes.extend(round_holes(2, 60.0, 6.0, PI / 2.0));
    out.push(upright(
        "rising-plate",
        vec![
            layer(Ring::circle(Vec2::ZERO, 330.0), holes.clone(), 0.0, 9.0),
            layer(
                Ring::circle(Vec2::ZERO, 330.0),
                holes.into_iter().chain([Ring::slot(v(-110.0, 20.0), v(110.0, 20.0), 12.0)]).collect(),
                9.0,
                18.0,
            ),
        ],
        0.0,
        Vec2::ZERO,
        624.0,
    ));
    let mut holes = round_holes(n, 150.0, 10.0, h);
    holes.extend(round_holes(n, 300.0, 5.0, 0.2));
    holes.push(Ring::circle(Vec2::ZERO, 30.0));
    out.push(upright(
        "turning-plate",
        vec![layer(Ring::circle(Vec2::ZERO, 360.0), holes, 0.0, 15.0)],
        0.0,
        Vec2::ZERO,
        560.0,
    ));
    for k in 0..n {
        let a = turn(k, 1.0);
        let shaft = Vec2::polar(150.0, a);
        out.push(upright(format!("shaft/{k}"), disc(9.0, 60.0), a, shaft, 560.0));
        out.push(upright(format!("leaf-slide/{k}"), bar(200.0, 30.0, 12.0), a, Vec2::polar(220.0, a), 646.0));
        for (side, s) in [("a", 1.0), ("b", -1.0)] {
            let at = Vec2::polar(230.0, a) + Vec2::polar(21.0 * s, a + PI / 2.0);
            out.push(upright(format!("leaf-guide/{k}/{side}"), bar(120.0, 10.0, 14.0), a, at, 643.0));
        }
        let a = turn(k, 0.0);
        out.push(upright(
            format!("panel-slide/{k}"),
            bar(220.0, 36.0, 12.0),
            a,
            Vec2::polar(240.0, a),
            577.0,
        ));
        for (side, s) in [("a", 1.0), ("b", -1.0)] {
            let at = Vec2::polar(250.0, a) + Vec2::polar(24.0 * s, a + PI / 2.0);
            out.push(upright(format!("panel-guide/{k}/{side}"), bar(140.0, 11.0, 14.0), a, at, 575.0));
        }
    }
    let (inner, outer) = (v(140.0, 60.0), v(330.0, -20.0));
    let (inner2, outer2) = (v(110.0, 30.0), v(270.0, -40.0));
    for k in 0..n {
        let a = turn(k, 0.0);
        let panel_arm = arm(inner, outer, 0.35, 12.0, 5.0, 8.0);
        out.push(upright(format!("panel-arm/{k}"), panel_arm, a, Vec2::ZERO, 540.0));
        let leaf_arm = arm(inner2, outer2, 0.3, 10.0, 4.0, 8.0);
        out.push(upright(format!("leaf-arm/{k}"), leaf_arm, a, Vec2::ZERO, 528.0));
        let pin = Pose2::new(a, Vec2::ZERO).apply(inner);
        out.push(upright(format!("crank-pin/{k}"), disc(5.0, 30.0), a, pin, 520.0));
    }
    let mut pockets = round_holes(4, 230.0, 14.0, 0.5);
    pockets.extend((0..4).map(|k| {
        let a = 0.5 + PI / 4.0 + k as f64 * PI / 2.0;
        Ring::slot(Vec2::polar(230.0, a), Vec2::polar(230.0, a + 0.25), 11.0)
    }));
    out.push(upright(
        "base",
        vec![
            layer(Ring::circle(Vec2::ZERO, 380.0), vec![Ring::circle(Vec2::ZERO, 12.0)], 0.0, 12.0),
            layer(
                Ring::circle(Vec2::ZERO, 380.0),
                pockets.into_iter().chain([Ring::circle(Vec2::ZERO, 12.0)]).collect(),
                12.0,
                24.0,
            ),
        ],
        0.0,
        Vec2::ZERO,
        496.0,
    ));
    for k in 0..4 {
        let a = 0.5 + k as f64 * PI / 2.0;
        // A wheel on a level axle: its own z axis lies along the radius.
        let axle = Vec2::polar(1.0, a);
        let at = v3(axle.x * 362.0, axle.y * 362.0, 532.0);
        let z = v3(axle.x, axle.y, 0.0);
        let x = v3(0.0, 0.0, 1.0);
        let wheel = Pose3 { x, y: z.cross(x), z, offset: at };
        out.push(Body::placed(
            format!("wheel/{k}"),
            vec![layer(Ring::circle(Vec2::ZERO, 12.0), vec![Ring::circle(Vec2::ZERO, 4.0)], -5.0, 5.0)],
            wheel,
        ));
        let a = PI / 4.0 + k as f64 * PI / 2.0;
        out.push(upright(format!("leg/{k}"), bar(70.0, 70.0, 496.0), a, Vec2::polar(330.0, a), 0.0));
        let b = k as f64 * PI / 2.0;
        let reach = 330.0 / core::f64::consts::SQRT_2;
        out.push(upright(
            format!("rail/{k}"),
            bar(362.0, 22.0, 90.0),
            b + PI / 2.0,
            Vec2::polar(reach, b),
            406.0,
        ));
    }
    out
}

fn tilted(id: &str, layers: Vec<Layer>, axis: Vec3, angle: f64, at: Vec3) -> Body {
    let turn = Pose3::about(Vec3::ZERO, axis, angle);
    Body::placed(id, layers, Pose3 { offset: at, ..turn })
}

fn plate() -> Vec<Layer> {
    let outer = Ring {
        vertices: vec![
            vertex(v(20.0, 0.0), 0.0),
            vertex(v(180.0, 0.0), trig::tan(PI / 8.0)),
            vertex(v(200.0, 20.0), 0.0),
            vertex(v(200.0, 120.0), 0.0),
            vertex(v(0.0, 120.0), 0.0),
            vertex(v(0.0, 20.0), trig::tan(PI / 8.0)),
        ],
    };
    let bore = Ring::circle(v(50.0, 60.0), 20.0);
    let pocket = Ring::slot(v(110.0, 40.0), v(160.0, 80.0), 16.0);
    vec![layer(outer.clone(), vec![bore.clone()], 0.0, 10.0), layer(outer, vec![bore, pocket], 10.0, 25.0)]
}

fn discs() -> Vec<Body> {
    [(60.0, 12.0, 0.0), (60.0, 8.0, 12.0), (45.0, 20.0, 20.0), (52.0, 6.0, 40.0), (10.0, 30.0, 46.0)]
        .iter()
        .enumerate()
        .map(|(i, &(r, t, z))| upright(format!("disc/{i}"), disc(r, t), 0.3 * i as f64, Vec2::ZERO, z))
        .collect()
}

fn blocks() -> Vec<Body> {
    let mut out = Vec::new();
    for i in 0..3 {
        for j in 0..2 {
            let at = v(40.0 * i as f64, 30.0 * j as f64);
            out.push(upright(
                format!("block/{i}{j}"),
                bar(40.0, 30.0, 20.0 + 10.0 * (i + j) as f64),
                0.0,
                at,
                0.0,
            ));
        }
    }
    out.push(upright("cap", bar(80.0, 60.0, 12.0), 0.0, v(20.0, 15.0), 50.0));
    out
}

fn arms(n: usize) -> Vec<Body> {
    let mut out = vec![upright("base", disc(220.0, 15.0), 0.0, Vec2::ZERO, 0.0)];
    for k in 0..n {
        let a = 2.0 * PI * k as f64 / n as f64;
        let low = arm(v(70.0, 10.0), v(200.0, -30.0), 0.4, 11.0, 4.0, 8.0);
        out.push(upright(format!("low/{k}"), low, a, Vec2::ZERO, 18.0));
        let high = arm(v(60.0, 0.0), v(180.0, 20.0), 0.5, 9.0, 3.5, 6.0);
        out.push(upright(format!("high/{k}"), high, a + 0.2, Vec2::ZERO, 30.0));
    }
    out
}

fn levers() -> Vec<Body> {
    let lever = arm(v(-60.0, 0.0), v(60.0, 0.0), 0.25, 9.0, 4.0, 10.0);
    let (x, y) = (v3(1.0, 0.0, 0.0), v3(0.0, 1.0, 0.0));
    vec![
        upright("floor", bar(240.0, 160.0, 12.0), 0.0, Vec2::ZERO, 0.0),
        // Lying on their sides about x, then lifted at one end.
        tilted("lever/0", lever.clone(), x, PI / 2.0, v3(0.0, 40.0, 50.0)),
        Body::placed(
            "lever/1",
            lever,
            Pose3::about(Vec3::ZERO, y, -0.3)
                .after(&Pose3 { offset: v3(0.0, -30.0, 60.0), ..Pose3::about(Vec3::ZERO, x, PI / 2.0) }),
        ),
        tilted("wheel", disc(20.0, 14.0), x, PI / 2.0, v3(70.0, 10.0, 32.0)),
        upright("post", disc(8.0, 60.0), 0.0, v(-90.0, 0.0), 12.0),
    ]
}

/// Numbers in [0, 1) that look random and are the same everywhere (a linear congruential generator,
/// constants from memory; quality does not matter here).
struct Dice(u64);

impl Dice {
    fn next(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }
    fn between(&mut self, lo: f64, hi: f64) -> f64 {
        lo + (hi - lo) * self.next()
    }
}

/// A shape that stays within 28 of its middle, with or without a hole.
fn chance_shape(dice: &mut Dice) -> (Ring, Vec<Ring>) {
    let size = dice.between(12.0, 28.0);
    let hole = if dice.next() < 0.5 { vec![Ring::circle(Vec2::ZERO, size * 0.3)] } else { vec![] };
    let ring = match (dice.next() * 4.0) as usize {
        0 => Ring::circle(Vec2::ZERO, size),
        1 => Ring::rect(v(-size * 0.7, -size * 0.6), v(size * 0.7, size * 0.6)),
        2 => Ring::slot(v(-size * 0.5, 0.0), v(size * 0.5, 0.0), size * 0.45),
        _ => {
            // A sector-like shape with one bulging and one hollow side.
            let k = dice.between(0.1, 0.4);
            let corner = |a: f64| Vec2::polar(size, a);
            Ring {
                vertices: vec![
                    vertex(corner(0.3), k),
                    vertex(corner(2.0), 0.0),
                    vertex(corner(3.4), -k * 0.5),
                    vertex(corner(5.2), 0.0),
                ],
            }
        }
    };
    (ring, hole)
}

/// Stacks of chance shapes on a board, some tilted ones floating above.
fn chance(number: u64) -> Vec<Body> {
    let mut dice = Dice(number);
    let mut out = vec![upright("board", bar(260.0, 200.0, 10.0), 0.0, v(90.0, 60.0), 0.0)];
    for i in 0..4 {
        for j in 0..3 {
            let at = v(60.0 * i as f64, 60.0 * j as f64);
            let mut z = 10.0;
            for k in 0..1 + (dice.next() * 3.0) as usize {
                let (ring, holes) = chance_shape(&mut dice);
                let t = dice.between(5.0, 40.0);
                let angle = dice.between(0.0, 6.0);
                out.push(upright(format!("piece/{i}{j}{k}"), vec![layer(ring, holes, 0.0, t)], angle, at, z));
                z += t;
            }
            if dice.next() < 0.5 {
                let (ring, holes) = chance_shape(&mut dice);
                let axis = v3(dice.between(-1.0, 1.0), dice.between(-1.0, 1.0), dice.between(-1.0, 1.0));
                let angle = dice.between(0.5, 2.5);
                let piece = vec![layer(ring, holes, -4.0, 4.0)];
                out.push(tilted(&format!("tilted/{i}{j}"), piece, axis, angle, v3(at.x, at.y, 170.0)));
            }
        }
    }
    out
}

/// All scenes of the outside check.
pub fn all() -> Vec<Scene> {
    let iso = Projection::Isometric(Corner::FrontRight);
    let left = Projection::Isometric(Corner::FrontLeft);
    let skew = Projection::Any { toward: v3(0.3, -0.8, 0.45), upright: v3(0.0, 0.0, 1.0) };
    let below = Projection::Any { toward: v3(-0.4, -0.7, -0.5), upright: v3(0.0, 0.0, 1.0) };
    let one = |id: &str, layers: Vec<Layer>| vec![upright(id, layers, 0.0, Vec2::ZERO, 0.0)];
    let unit = vec![layer(Ring::rect(v(0.0, 0.0), v(1.0, 1.0)), vec![], 0.0, 1.0)];
    let s = |name, bodies, projection| Scene { name, bodies, projection };
    vec![
        s("cube-isometric", one("cube", unit), iso),
        s("cylinder-isometric", one("rod", disc(1.0, 2.0)), iso),
        s("plate-isometric", one("plate", plate()), iso),
        s("plate-front", one("plate", plate()), Projection::Front),
        s("plate-plan", one("plate", plate()), Projection::Plan),
        s("plate-below", one("plate", plate()), below),
        s("panel-skew", one("panel", panel(6, 600.0)), skew),
        s("leaf-isometric", one("leaf", leaf(288.0, 400.0, 112.0, 800.0)), left),
        s("discs-isometric", discs(), iso),
        s("discs-right", discs(), Projection::Right),
        s("blocks-isometric", blocks(), iso),
        s("blocks-skew", blocks(), skew),
        s("arms-isometric", arms(6), iso),
        s("arms-plan", arms(5), Projection::Plan),
        s("arms-below", arms(8), below),
        s("levers-isometric", levers(), iso),
        s("levers-front", levers(), Projection::Front),
        s("levers-plan", levers(), Projection::Plan),
        s("table-closed-isometric", table(6, false), iso),
        s("table-open-isometric", table(6, true), iso),
        s("table-open-skew", table(8, true), skew),
        s("table-closed-below", table(6, false), below),
        s("table-closed-front", table(6, false), Projection::Front),
        s("table-open-plan", table(5, true), Projection::Plan),
        s("chance-1-isometric", chance(1), iso),
        s("chance-2-skew", chance(2), skew),
        s("chance-3-below", chance(3), below),
        s("chance-4-front", chance(4), Projection::Front),
        s("chance-5-plan", chance(5), Projection::Plan),
    ]
}
