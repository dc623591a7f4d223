//! Times the demo table (88 pieces, true arcs) in isometric view, closed and open.
//!
//! Aim: under 15 ms natively, optimised, in one thread.

#[path = "../examples/scenes/scenes.rs"]
#[allow(dead_code)]
mod scenes;

use criterion::{Criterion, criterion_group, criterion_main};
use turnleaf_views::{Corner, Options, Projection, project};

fn isometric(c: &mut Criterion) {
    let way = Projection::Isometric(Corner::FrontRight);
    for (name, open) in [("closed", false), ("open", true)] {
        let table = scenes::table(6, open);
        for (what, hidden) in [("visible", false), ("with hidden", true)] {
            let options = Options { hidden, smooth: false };
            c.bench_function(&format!("table {name}, {what}"), |b| {
                b.iter(|| project(&table, &[], &way, &options))
            });
        }
    }
}

criterion_group!(benches, isometric);
criterion_main!(benches);
