//! Density on the published instances at a given effort, with times.
//!
//! In: how many times the book's effort (default 1), then names (default all). Out: a line an instance.
//! Always true: the densities are the same on every machine; only the times differ.

#[path = "../tests/common/mod.rs"]
mod common;

use std::time::Instant;
use turnleaf_nest::Effort;

fn main() {
    let mut words = std::env::args().skip(1);
    let times = words.next().and_then(|w| w.parse().ok()).unwrap_or(1);
    let mut names: Vec<String> = words.collect();
    if names.is_empty() {
        names = ["shapes0", "fu", "jakobs1", "blaz1", "dagli"].map(String::from).into();
    }
    println!("effort {times} times the book's");
    for name in names {
        let instance = common::instance(&name, Effort::times(times));
        let start = Instant::now();
        let density = instance.density();
        let best = instance.best;
        println!(
            "{:8} {density:6.2} %, best published {best:6.2} %, {:5.2} points below, {:8.1} ms",
            instance.name,
            best - density,
            start.elapsed().as_secs_f64() * 1e3
        );
    }
}
