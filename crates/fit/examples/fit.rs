//! Fits many requests drawn by a fixed rule and prints how many succeed, how roomy they are and how long
//! they take; then the three goals and two intervals of the worked example.
//!
//! `cargo run --release -p turnleaf-fit --example fit -- [COUNT] [arms|cam]`
use std::collections::BTreeMap;
use std::time::Instant;
use turnleaf_fit::{Goal, Wish, fit, interval};
use turnleaf_mechanism::DriveKind;

/// Milliseconds this thread has been on a core, where the system says so; else what the clock says.
fn spent(since: Instant) -> f64 {
    std::fs::read_to_string("/proc/thread-self/schedstat")
        .ok()
        .and_then(|t| t.split_whitespace().next()?.parse::<f64>().ok())
        .map_or_else(|| since.elapsed().as_secs_f64() * 1e3, |ns| ns / 1e6)
}

fn main() {
    let count: usize = std::env::args().nth(1).and_then(|a| a.parse().ok()).unwrap_or(60);
    let cam = std::env::args().nth(2).is_some_and(|word| word == "cam");
    let drive = if cam { DriveKind::Cam } else { DriveKind::Arms };
    let start = Instant::now();
    let mut state = 88172645463325252u64;
    let mut next = || {
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        (state >> 11) as f64 / (1u64 << 53) as f64
    };
    let mut scores: Vec<f64> = Vec::new();
    let mut times: Vec<f64> = Vec::new();
    let mut tight: BTreeMap<&str, usize> = BTreeMap::new();
    for t in 0..count {
        let closed = 700.0 + 1300.0 * next();
        let w = Wish {
            closed_diameter: closed,
            open_diameter: closed * (1.2 + 0.2 * next()),
            sectors: 4 + t % 9,
            stock_thickness: 12.0 + 13.0 * next(),
            height: 740.0,
            drive,
            goal: Goal::Margin,
        };
        let before = spent(start);
        let r = fit(&w);
        times.push(spent(start) - before);
        match r {
            Ok(f) => {
                scores.push(f.score.value);
                *tight.entry(f.score.tightest).or_default() += 1;
            }
            Err(no) => println!(
                "{w:?}\n   {:?} {:?}",
                no.troubles.first().map(|t| &t.sentence),
                no.failed.first().map(|c| &c.text)
            ),
        }
    }
    times.sort_by(f64::total_cmp);
    println!(
        "{} of {count}; {:.0} ms on the mean, {:.0} ms at 95 %, {:.0} ms worst; margin {:.3} on the mean; {tight:?}",
        scores.len(),
        times.iter().sum::<f64>() / count as f64,
        times[count * 95 / 100],
        times[count - 1],
        scores.iter().sum::<f64>() / scores.len().max(1) as f64,
    );
    let w = Wish {
        closed_diameter: 1200.0,
        open_diameter: 1650.0,
        sectors: 6,
        stock_thickness: 19.0,
        height: 740.0,
        drive,
        goal: Goal::Margin,
    };
    for goal in [Goal::Margin, Goal::ThinnestTop, Goal::LargestOpening] {
        let before = spent(start);
        let Ok(f) = fit(&Wish { goal, ..w.clone() }) else {
            println!("{goal:?}: none");
            continue;
        };
        println!(
            "{goal:?} {:.0} ms: {:?} stack {:.1} open {:.0} arm {} ramp {:.1} tongue {} pins {:.1} to {:.1}",
            spent(start) - before,
            f.score,
            f.sizes.height - f.assembly.mechanism.stack.base.bottom,
            f.sizes.closed_diameter + 2.0 * f.sizes.travel(),
            f.sizes.arm_width,
            f.sizes.ramp_sweep.to_degrees(),
            f.sizes.tongue_depth,
            f.assembly.mechanism.panel_pin_closed(),
            f.assembly.mechanism.panel_pin_farthest()
        );
        if goal == Goal::Margin {
            for size in ["open_diameter", "closed_diameter"] {
                let before = spent(start);
                println!("{:?} {:.0} ms", interval(&f.sizes, size), spent(start) - before);
            }
        }
    }
}
