//! Solves many seeded random tables and prints how many solve, why the rest do not, and how long it takes.
use std::collections::BTreeMap;
use turnleaf_geom::trig;
use turnleaf_mechanism::{Opening, Sizes, solve};

fn main() {
    let mut seed = 12345u64;
    let mut rnd = || {
        seed ^= seed << 13;
        seed ^= seed >> 7;
        seed ^= seed << 17;
        (seed >> 11) as f64 / (1u64 << 53) as f64
    };
    let mut ok = BTreeMap::new();
    let mut why: BTreeMap<&str, usize> = BTreeMap::new();
    let (mut worst, mut total) = (0.0f64, 0.0);
    for t in 0..300 {
        let n = 4 + t % 9;
        let d = 700.0 + 1300.0 * rnd();
        let ratio = 1.2 + 0.2 * rnd();
        let mut s = Sizes::example();
        s.sectors = n;
        s.closed_diameter = d;
        s.opening = Opening::Diameter(d * ratio);
        s.leaf_tip_half_angle = s.half_sector().max(trig::rad(45.0));
        if t == 0 {
            s = Sizes::example();
            s.panel_pin_radius = Some(150.0);
            s.panel_arm_length = Some(300.0);
            s.panel_arm_bend = Some(80.0);
        } else {
            let k = (d / 1200.0).clamp(0.6, 1.0);
            s.arm_width = 20.0 * k;
            s.tongue_depth = 6.0 * k;
            s.arm_clearance = 3.0;
            if n > 8 {
                s.tongue_depth *= 0.7;
                s.arm_width *= 0.7;
            }
        }
        let start = std::time::Instant::now();
        let r = solve(&s);
        let ms = start.elapsed().as_secs_f64() * 1e3;
        worst = worst.max(ms);
        total += ms;
        let e = ok.entry(s.sectors).or_insert((0, 0));
        e.0 += 1;
        match r {
            Ok(m) => {
                e.1 += 1;
                if t < 2 {
                    println!("{m:#?}");
                }
            }
            Err(troubles) => {
                for t in &troubles {
                    *why.entry(t.code).or_default() += 1;
                }
                println!("n{} D{:.0} ratio {:.2} {ms:.1} ms: {}", s.sectors, d, ratio, troubles[0].sentence);
            }
        }
    }
    println!("{ok:?} {why:?} worst {worst:.1} ms mean {:.1}", total / 300.0);
}
