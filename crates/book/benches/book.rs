//! How long a whole book takes to compose and to write.

use criterion::{Criterion, criterion_group, criterion_main};
use turnleaf_book::{BookInput, BookOptions, Nested, compose};
use turnleaf_planfile::Plan;

fn books(c: &mut Criterion) {
    for name in ["reading-room", "map-room", "window-table"] {
        let path = format!("{}/../../demo/{name}.json", env!("CARGO_MANIFEST_DIR"));
        let plan = Plan::parse(&std::fs::read(path).expect("a demo plan")).expect("a plan").0;
        let built = turnleaf_plan::build(&plan).expect("a table");
        let plan_json = plan.to_json();
        let figures = built.figures();
        let stock = turnleaf_plan::StockOnHand::of(&built.plan, &built.assembly);
        let cutting = built.cutting_layouts(&stock).ok().map(|c| Nested::from((c.request, c.layouts)));
        let input = BookInput {
            plan: &plan,
            assembly: &built.assembly,
            numbers: &built.numbers,
            checks: &built.checks,
            proof: &built.proof,
            figures: &figures,
            cutting: cutting.as_ref(),
            measured: None,
            plan_json: &plan_json,
            program: turnleaf_plan::PROGRAM,
        };
        let options = BookOptions::of(&plan);
        let document = compose(&input, &options).0;
        c.bench_function(&format!("compose {name}"), |b| b.iter(|| compose(&input, &options)));
        c.bench_function(&format!("write {name}"), |b| b.iter(|| turnleaf_pdf::write(&document)));
    }
}

criterion_group! {
    name = all;
    config = Criterion::default().sample_size(20);
    targets = books
}
criterion_main!(all);
