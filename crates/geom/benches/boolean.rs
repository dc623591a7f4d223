//! How long booleans of table-sized outlines take: the star that is left between panels and leaves.

use core::f64::consts::PI;
use core::hint::black_box;
use criterion::{Criterion, criterion_group, criterion_main};
use turnleaf_geom::boolean::{BooleanOp, combine, union_all};
use turnleaf_geom::offset::inset;
use turnleaf_geom::vec2::v;
use turnleaf_geom::{Pose2, Region, Ring, Vec2, Vertex, trig};

fn pieces(n: usize) -> Vec<Region> {
    let (rim, e, shoulder) = (600.0, 225.0, 400.6);
    let h = PI / n as f64;
    let half = e * trig::sin(h);
    let mut out = Vec::new();
    for k in 0..n {
        let mid = 2.0 * h * k as f64;
        let panel = Ring {
            vertices: vec![
                Vertex { p: Vec2::ZERO, bulge: 0.0 },
                Vertex { p: Vec2::polar(rim, -h), bulge: trig::tan(h / 2.0) },
                Vertex { p: Vec2::polar(rim, h), bulge: 0.0 },
            ],
        };
        out.push(panel.moved(&Pose2::new(mid, Vec2::polar(e, mid))).into());
        let leaf = Ring::polygon(&[
            v(shoulder - half, 0.0),
            v(shoulder, -half),
            v(780.0, -half),
            v(780.0, half),
            v(shoulder, half),
        ]);
        out.push(leaf.moved(&Pose2::new(mid + h, Vec2::ZERO)).into());
    }
    out
}

fn booleans(c: &mut Criterion) {
    let rest = pieces(6);
    let disc = [Region::from(Ring::circle(Vec2::ZERO, 780.0))];
    c.bench_function("disc less 12 pieces", |b| {
        b.iter(|| combine(BooleanOp::Difference, black_box(&disc), black_box(&rest)));
    });
    c.bench_function("union of 12 pieces", |b| b.iter(|| union_all(black_box(&rest))));
    let (a, b2) = (&rest[0], &rest[1].moved(&Pose2::new(0.0, v(-5.0, 3.0))));
    c.bench_function("panel less leaf", |b| {
        b.iter(|| {
            combine(BooleanOp::Difference, core::slice::from_ref(black_box(a)), core::slice::from_ref(b2))
        });
    });
    let star = Ring::polygon(
        &(0..12)
            .map(|i: usize| Vec2::polar(if i.is_multiple_of(2) { 416.0 } else { 195.0 }, i as f64 * PI / 6.0))
            .collect::<Vec<_>>(),
    );
    c.bench_function("inset of a star", |b| b.iter(|| inset(black_box(&star), 0.15)));
}

criterion_group! { name = benches; config = Criterion::default().sample_size(20)
.warm_up_time(core::time::Duration::from_millis(500))
.measurement_time(core::time::Duration::from_secs(1)); targets = booleans }
criterion_main!(benches);
