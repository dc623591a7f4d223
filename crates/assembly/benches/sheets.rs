//! Times the assembly drawings of the example table, each sheet maker by itself.

use criterion::{Criterion, criterion_group, criterion_main};
use turnleaf_assembly::{AssemblyOptions, Scene, assembly_order, relations::Relations, sheets, stack, whole};
use turnleaf_mechanism::{Sizes, solve};
use turnleaf_parts::assemble;
use turnleaf_sheet::SheetOptions;
use turnleaf_views::{Corner, Projection};

fn bench(c: &mut Criterion) {
    let a = assemble(&solve(&Sizes::example()).expect("the example solves"));
    let scene = Scene::new(&a);
    let sheet = SheetOptions::default();
    let say = |name: &str, _: &[(&str, String)]| name.to_string();
    let o = AssemblyOptions { sheet: &sheet, say: &say, name: &|p| p.name.clone() };
    let iso = Projection::Isometric(Corner::FrontRight);
    let turn = a.mechanism.turn();
    c.bench_function("whole table, isometric, closed", |b| b.iter(|| whole::view(&scene, 0.0, &iso)));
    c.bench_function("whole table, isometric, open", |b| b.iter(|| whole::view(&scene, turn, &iso)));
    c.bench_function("section", |b| b.iter(|| stack::cutting(&scene, 0.0)));
    c.bench_function("relations", |b| b.iter(|| Relations::of(&a)));
    c.bench_function("order of assembly", |b| b.iter(|| assembly_order(&a)));
    c.bench_function("all sheets", |b| b.iter(|| sheets(&a, &o)));
}

criterion_group!(benches, bench);
criterion_main!(benches);
