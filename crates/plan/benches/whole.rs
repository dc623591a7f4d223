//! Times the main job natively: solve, proof, everything but the book, and the whole book as PDF.

use criterion::{Criterion, criterion_group, criterion_main};
use std::hint::black_box;
use turnleaf_plan::{BookOptions, Plan, build, pdf, sizes};

fn whole(c: &mut Criterion) {
    let plan = Plan::parse(include_bytes!("../../../demo/reading-room.json")).expect("the demo opens").0;
    let s = sizes(&plan);
    c.bench_function("solve", |b| b.iter(|| turnleaf_mechanism::solve(black_box(&s)).is_ok()));
    let built = build(&plan).expect("the demo solves");
    c.bench_function("motion proof", |b| b.iter(|| turnleaf_motion::prove(black_box(&built.assembly)).looks));
    c.bench_function("build", |b| b.iter(|| build(black_box(&plan)).is_ok()));
    let options = BookOptions::of(&plan);
    c.bench_function("compose book", |b| b.iter(|| built.book(black_box(&options)).0.pages.len()));
    c.bench_function("whole book", |b| {
        b.iter(|| {
            let built = build(black_box(&plan)).expect("the demo solves");
            pdf(&built.book(&options).0).expect("the book is written").len()
        })
    });
}

criterion_group!(benches, whole);
criterion_main!(benches);
