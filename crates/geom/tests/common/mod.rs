//! Shared by the tests: random outlines with arcs, and a runner that draws the same cases every time.
#![allow(dead_code)]

use proptest::prelude::*;
use proptest::test_runner::{Config, RngAlgorithm, TestCaseError, TestRng, TestRunner};
use turnleaf_geom::check::check_ring;
use turnleaf_geom::vec2::v;
use turnleaf_geom::{Pose2, Region, Ring, Vec2, Vertex};

/// Runs a property on `cases` values, the same ones on every run; GEOM_TIMES=50 runs 50 times as many.
pub fn always<S: Strategy>(cases: u32, strategy: S, test: impl Fn(S::Value) -> Result<(), TestCaseError>) {
    let times = std::env::var("GEOM_TIMES").ok().and_then(|s| s.parse().ok()).unwrap_or(1);
    let cases = cases * times;
    let config = Config {
        cases,
        failure_persistence: None,
        max_shrink_iters: 2000,
        max_global_rejects: 1_000_000,
        max_local_rejects: 10_000_000,
        ..Config::default()
    };
    let rng = TestRng::deterministic_rng(RngAlgorithm::ChaCha);
    if let Err(e) = TestRunner::new_with_rng(config, rng).run(&strategy, test) {
        panic!("{e}");
    }
}

/// A simple ring around the origin, 3 to 11 corners, straight and round edges, sizes 30 to 100 mm.
pub fn ring() -> impl Strategy<Value = Ring> {
    prop::collection::vec((30.0..100.0f64, 0.05..0.95f64, -0.35..0.35f64, any::<bool>()), 3..12)
        .prop_map(|corners| {
            let n = corners.len() as f64;
            Ring {
                vertices: corners
                    .iter()
                    .enumerate()
                    .map(|(i, &(r, turn, bulge, round))| Vertex {
                        p: Vec2::polar(r, (i as f64 + turn) * core::f64::consts::TAU / n),
                        bulge: if round { bulge } else { 0.0 },
                    })
                    .collect(),
            }
        })
        .prop_filter("simple", |r| r.area() > 100.0 && check_ring(r).is_ok())
}

/// A ring, in half of the cases with a round hole where one fits.
pub fn region() -> impl Strategy<Value = Region> {
    (ring(), any::<bool>(), 0.2..0.9f64, -10.0..10.0f64, -10.0..10.0f64).prop_map(|(outer, hole, k, x, y)| {
        let mut r = Region::from(outer);
        let room = -turnleaf_geom::distance::signed_distance(v(x, y), &r);
        if hole && room > 5.0 {
            r.holes.push(Ring::circle(v(x, y), room * k).reversed());
        }
        r
    })
}

/// A rigid motion: any turn, a shift of up to `far` each way.
pub fn pose(far: f64) -> impl Strategy<Value = Pose2> {
    (-3.2..3.2f64, -far..far, -far..far).prop_map(|(a, x, y)| Pose2::new(a, v(x, y)))
}

/// `per` points along each edge of all rings, with the largest spacing between neighbours.
pub fn samples(region: &Region, per: usize) -> (Vec<Vec2>, f64) {
    let mut out = Vec::new();
    let mut step: f64 = 0.0;
    for s in region.rings().flat_map(|r| r.segs()) {
        step = step.max(s.length() / per as f64);
        for i in 0..per {
            let t = i as f64 / per as f64;
            out.push(match s {
                turnleaf_geom::Seg::Line(a, b) => a.lerp(b, t),
                turnleaf_geom::Seg::Arc(c) => c.at(t),
            });
        }
    }
    (out, step)
}

/// Whether two numbers agree within a tolerance; the message says both.
pub fn close(a: f64, b: f64, tolerance: f64) -> Result<(), TestCaseError> {
    prop_assert!((a - b).abs() <= tolerance, "{a} against {b}, allowed {tolerance}");
    Ok(())
}

/// A ring whose corners lie on a coarse lattice and whose arcs are quarter and half turns, so that two
/// of them share corners, edges, circles and tangents all the time.
pub fn lattice_ring() -> impl Strategy<Value = Ring> {
    let quarter = turnleaf_geom::trig::tan(core::f64::consts::PI / 8.0);
    prop::collection::vec((0..4i32, 0..4i32, 0..8usize), 3..7)
        .prop_map(move |c| Ring {
            vertices: c
                .iter()
                .map(|&(x, y, kind)| Vertex {
                    p: v(x as f64 * 10.0, y as f64 * 10.0),
                    bulge: [0.0, 0.0, 0.0, 0.0, quarter, -quarter, 1.0, -1.0][kind],
                })
                .collect(),
        })
        .prop_filter("simple", |r| check_ring(r).is_ok())
        .prop_map(|r| if r.area() < 0.0 { r.reversed() } else { r })
}

/// A quarter-turn multiple and a lattice shift, at times off by half a step or by next to nothing.
pub fn lattice_pose() -> impl Strategy<Value = Pose2> {
    (0..4u8, -3..4i32, -3..4i32, prop::sample::select(vec![0.0, 0.0, 0.0, 5.0, 1e-12, 1e-10, 1e-3])).prop_map(
        |(turn, x, y, off)| {
            Pose2::new(
                f64::from(turn) * core::f64::consts::FRAC_PI_2,
                v(x as f64 * 10.0 + off, y as f64 * 10.0),
            )
        },
    )
}
