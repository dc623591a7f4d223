//! What whole-program tests share; the tests themselves are in `tests/`.

pub mod fuzz;
pub mod program;
pub mod table;

use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};

/// Works out the first `count` of something on all cores, in order. A test that fails in one fails here.
pub fn spread<T: Send>(count: usize, one: impl Fn(usize) -> T + Sync) -> Vec<T> {
    let (next, done) = (AtomicUsize::new(0), Mutex::new(Vec::new()));
    let cores = std::thread::available_parallelism().map_or(1, |n| n.get());
    std::thread::scope(|scope| {
        for _ in 0..cores.min(count) {
            scope.spawn(|| {
                loop {
                    let i = next.fetch_add(1, Ordering::Relaxed);
                    if i >= count {
                        return;
                    }
                    let found = one(i);
                    done.lock().unwrap_or_else(|e| e.into_inner()).push((i, found));
                }
            });
        }
    });
    let mut done = done.into_inner().unwrap_or_else(|e| e.into_inner());
    done.sort_by_key(|d| d.0);
    done.into_iter().map(|d| d.1).collect()
}
