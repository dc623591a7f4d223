//! Fits many seeded requests and prints how many succeed and how long they take.
use std::collections::BTreeMap;
use turnleaf_fit::{Goal, Wish, fit, interval};
use turnleaf_mechanism::DriveKind;

fn main() {
    let count: usize = std::env::args().nth(1).and_then(|a| a.parse().ok()).unwrap_or(60);
    let cam = std::env::args().nth(2).is_some();
    let mut seed = 88172645463325252u64;
    let mut rnd = || {
        seed ^= seed << 13;
        seed ^= seed >> 7;
        seed ^= seed << 17;
        (seed >> 11) as f64 / (1u64 << 53) as f64
    };
    let (mut ok, mut worst, mut total) = (0, 0.0f64, 0.0);
    let mut tight: BTreeMap<&str, usize> = BTreeMap::new();
    for t in 0..count {
        let closed = 700.0 + 1300.0 * rnd();
        let w = Wish {
            closed_diameter: closed,
            open_diameter: closed * (1.2 + 0.2 * rnd()),
            sectors: 4 + t % 9,
            stock_thickness: 12.0 + 13.0 * rnd(),
            height: 740.0,
            drive: if cam { DriveKind::Cam } else { DriveKind::Arms },
            goal: Goal::Margin,
        };
        let start = std::time::Instant::now();
        let r = fit(&w);
        let s = start.elapsed().as_secs_f64();
        worst = worst.max(s);
        total += s;
        match r {
            Ok(f) => {
                ok += 1;
                *tight.entry(f.score.tightest).or_default() += 1;
            }
            Err(no) => println!(
                "{w:?}\n   {:?} {:?}",
                no.troubles.first().map(|t| &t.sentence),
                no.failed.first().map(|c| &c.text)
            ),
        }
    }
    println!(
        "{ok} of {count}; {:.0} ms on the mean, {:.0} ms worst; {tight:?}",
        total / count as f64 * 1e3,
        worst * 1e3
    );
    let w = Wish {
        closed_diameter: 1200.0,
        open_diameter: 1650.0,
        sectors: 6,
        stock_thickness: 19.0,
        height: 740.0,
        drive: DriveKind::Arms,
        goal: Goal::Margin,
    };
    for goal in [Goal::Margin, Goal::ThinnestTop, Goal::LargestOpening] {
        let start = std::time::Instant::now();
        let f = fit(&Wish { goal, ..w.clone() }).unwrap();
        println!(
            "{goal:?} {:?}: {:?} stack {:.1} open {:.0} arm {} ramp {:.1} tongue {} pins {:.1} to {:.1}",
            start.elapsed(),
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
            let start = std::time::Instant::now();
            println!("{:?} {:?}", interval(&f.sizes, "open_diameter"), start.elapsed());
            println!("{:?}", interval(&f.sizes, "closed_diameter"));
        }
    }
}
