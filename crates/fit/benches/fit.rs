//! How long it takes to fit a table, and to find how far one size may be changed.
//!
//! In: the worked example's wish, with either drive and every goal. Out: criterion's report. Aim: 300 ms.

use criterion::{Criterion, criterion_group, criterion_main};
use std::hint::black_box;
use turnleaf_fit::{Goal, Wish, fit, interval};
use turnleaf_mechanism::DriveKind;

fn wish(sectors: usize, drive: DriveKind, goal: Goal) -> Wish {
    Wish {
        closed_diameter: 1200.0,
        open_diameter: 1650.0,
        sectors,
        stock_thickness: 19.0,
        height: 740.0,
        drive,
        goal,
    }
}

fn fits(c: &mut Criterion) {
    let mut group = c.benchmark_group("fit");
    group.sample_size(10);
    for (name, w) in [
        ("six sectors, arms", wish(6, DriveKind::Arms, Goal::Margin)),
        ("eleven sectors, arms", wish(11, DriveKind::Arms, Goal::Margin)),
        ("six sectors, cam", wish(6, DriveKind::Cam, Goal::Margin)),
        ("six sectors, arms, thinnest top", wish(6, DriveKind::Arms, Goal::ThinnestTop)),
        ("six sectors, arms, largest opening", wish(6, DriveKind::Arms, Goal::LargestOpening)),
    ] {
        group.bench_function(name, |b| b.iter(|| fit(black_box(&w)).is_ok()));
    }
    group.finish();
}

fn intervals(c: &mut Criterion) {
    let sizes = fit(&wish(6, DriveKind::Arms, Goal::Margin)).expect("the worked example fits").sizes;
    let mut group = c.benchmark_group("interval");
    group.sample_size(10);
    for size in ["open_diameter", "arm_width"] {
        group.bench_function(size, |b| b.iter(|| interval(black_box(&sizes), size)));
    }
    group.finish();
}

criterion_group!(benches, fits, intervals);
criterion_main!(benches);
