//! How long one distance question takes, on bodies like those of a motion proof.

use core::f64::consts::PI;
use core::hint::black_box;
use criterion::{Criterion, criterion_group, criterion_main};
use turnleaf_geom::vec2::v;
use turnleaf_geom::{Pose2, Prepared, Region, Ring, Vec2, Vertex};

/// A wavy outline of `n` edges, every third one round.
fn blob(n: usize, radius: f64, wave: f64) -> Region {
    let corner = |i: usize| Vertex {
        p: Vec2::polar(
            if i.is_multiple_of(2) { radius + wave } else { radius },
            i as f64 * 2.0 * PI / n as f64,
        ),
        bulge: if i.is_multiple_of(3) { 0.15 } else { 0.0 },
    };
    Ring { vertices: (0..n).map(corner).collect() }.into()
}

/// A round plate with six slots and six holes.
fn plate() -> Region {
    let mut r = Region::from(Ring::circle(Vec2::ZERO, 400.0));
    for k in 0..6 {
        let at = |radius: f64| Vec2::polar(radius, k as f64 * PI / 3.0);
        r.holes.push(Ring::slot(at(150.0), at(330.0), 15.0).reversed());
        let hole = Vec2::polar(250.0, (k as f64 + 0.5) * PI / 3.0);
        r.holes.push(Ring::circle(hole, 10.0).reversed());
    }
    r
}

/// An arm bent away from the middle, rounded at both pins: six edges.
fn arm() -> Region {
    Ring {
        vertices: vec![
            Vertex { p: v(0.0, -10.0), bulge: 0.3 },
            Vertex { p: v(300.0, -10.0), bulge: 1.0 },
            Vertex { p: v(300.0, 10.0), bulge: -0.28 },
            Vertex { p: v(0.0, 10.0), bulge: 1.0 },
        ],
    }
    .into()
}

fn distances(c: &mut Criterion) {
    // Poses around the turn, so that no one lucky arrangement is timed.
    let turns: Vec<f64> = (0..64).map(|i| i as f64 * 2.0 * PI / 64.0).collect();
    let still = Pose2::default();
    let mut time = |name: &str, a: &Region, b: &Region, place: &dyn Fn(f64) -> Pose2, limit: Option<f64>| {
        let (a, b) = (Prepared::new(a), Prepared::new(b));
        let poses: Vec<Pose2> = turns.iter().map(|&t| place(t)).collect();
        let mut i = 0;
        c.bench_function(name, |bench| {
            bench.iter(|| {
                i = (i + 1) % poses.len();
                match limit {
                    None => a.clearance(black_box(&poses[i]), &b, &still).distance,
                    Some(l) => f64::from(a.distance_at_least(black_box(&poses[i]), &b, &still, l)),
                }
            });
        });
    };
    let (a, b) = (blob(30, 100.0, 12.0), blob(30, 60.0, 8.0));
    let beside = |t: f64| Pose2::new(t, v(195.0, 0.0));
    time("30 edges beside 30, near", &a, &b, &beside, None);
    time("30 edges beside 30, far", &a, &b, &|t| Pose2::new(t, v(600.0, 100.0)), None);
    time("30 edges beside 30, at least 5", &a, &b, &beside, Some(5.0));
    time("30 edges beside 30, overlapping", &a, &b, &|t| Pose2::new(t, v(150.0, 0.0)), None);
    let post = Region::from(Ring::circle(Vec2::ZERO, 12.0));
    let through = |t: f64| Pose2::new(0.0, v(240.0 + 85.0 * turnleaf_geom::trig::sin(t), 0.0));
    time("post in a slotted plate", &post, &plate(), &through, None);
    let arm = arm();
    let across = |t: f64| Pose2::new(t / 8.0, Vec2::polar(150.0, t / 6.0 + PI / 3.0));
    time("arm beside arm", &arm, &arm, &across, None);
}

criterion_group! { name = benches; config = Criterion::default().sample_size(30)
.warm_up_time(core::time::Duration::from_millis(500))
.measurement_time(core::time::Duration::from_secs(1)); targets = distances }
criterion_main!(benches);
