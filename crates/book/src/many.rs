//! Many pieces of work of one kind, done by all cores.
//!
//! In: a list, and what is to be done with each. Out: the results in the order of the list.
//! Always true: results are the same however many cores there are; in a browser, which has no threads for us, the
//! work is done one after another.

use crate::progress;
use std::sync::atomic::{AtomicUsize, Ordering};

/// Does `work` with each of a list, and `meanwhile` once on this thread.
pub fn each<T: Sync, R: Send, M>(
    of: &[T],
    work: impl Fn(&T) -> R + Sync,
    meanwhile: impl FnOnce() -> M,
) -> (Vec<R>, M) {
    let next = AtomicUsize::new(0);
    let take = || {
        let mut done = Vec::new();
        loop {
            let i = next.fetch_add(1, Ordering::Relaxed);
            let Some(one) = of.get(i) else { return done };
            done.push((i, work(one)));
            progress::drawn(next.load(Ordering::Relaxed), of.len());
        }
    };
    let (mut done, meant) = std::thread::scope(|scope| {
        let others = helpers().min(of.len());
        // A thread that cannot be had leaves its share to the rest.
        let started: Vec<_> =
            (0..others).filter_map(|_| std::thread::Builder::new().spawn_scoped(scope, take).ok()).collect();
        let meant = meanwhile();
        let mut done = take();
        for thread in started {
            match thread.join() {
                Ok(more) => done.extend(more),
                Err(panic) => std::panic::resume_unwind(panic),
            }
        }
        (done, meant)
    });
    done.sort_by_key(|(i, _)| *i);
    (done.into_iter().map(|(_, result)| result).collect(), meant)
}

/// Threads beside this one that are worth having.
fn helpers() -> usize {
    if cfg!(target_arch = "wasm32") {
        return 0;
    }
    std::thread::available_parallelism().map_or(0, |n| n.get() - 1).min(7)
}

#[cfg(test)]
mod tests {
    use super::each;

    #[test]
    fn results_stand_in_the_order_of_the_list() {
        let list: Vec<u64> = (0..500).collect();
        let slow = |n: &u64| (0..(n % 7) * 1000).fold(*n, |sum, k| sum.wrapping_add(k * k)) - *n + n * n;
        let (found, meant) = each(&list, slow, || "done");
        assert_eq!(found, list.iter().map(slow).collect::<Vec<_>>());
        assert_eq!(meant, "done");
        assert_eq!(each(&[] as &[u64], slow, || 1).0, Vec::<u64>::new());
    }

    #[test]
    fn a_listener_is_told_how_far_it_is() {
        thread_local! {
            static TOLD: std::cell::RefCell<Vec<f64>> = const { std::cell::RefCell::new(Vec::new()) };
        }
        crate::progress::listen(|share| TOLD.with_borrow_mut(|told| told.push(share)));
        // Long enough for this thread to get its share of it.
        let slow = |n: &u64| (0..200_000).fold(*n, |sum, k| std::hint::black_box(sum ^ k));
        each(&(0..200).collect::<Vec<u64>>(), slow, || ());
        let told = TOLD.take();
        assert!(told.len() > 1 && told.is_sorted(), "{told:?}");
        assert!(told.iter().all(|share| (0.0..=1.0).contains(share)) && told.last() > Some(&0.5), "{told:?}");
    }

    #[test]
    #[should_panic(expected = "the third")]
    fn a_panic_is_not_swallowed() {
        each(&[1, 2, 3], |n| assert_ne!(*n, 3, "the third"), || ());
    }
}
