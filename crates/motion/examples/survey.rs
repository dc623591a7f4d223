//! Solves and proves many seeded random tables and counts which checks fail.
use std::collections::BTreeMap;
use turnleaf_geom::trig;
use turnleaf_mechanism::{Opening, Sizes, solve};

fn main() {
    let count: usize = std::env::args().nth(1).and_then(|a| a.parse().ok()).unwrap_or(100);
    let cam = std::env::args().nth(2).is_some();
    let mut refused: BTreeMap<&str, usize> = BTreeMap::new();
    let mut seed = 2463534242u64;
    let mut rnd = || {
        seed ^= seed << 13;
        seed ^= seed >> 7;
        seed ^= seed << 17;
        (seed >> 11) as f64 / (1u64 << 53) as f64
    };
    let mut fails: BTreeMap<String, (usize, f64, String)> = BTreeMap::new();
    let (mut solved, mut sound, mut time) = (0, 0, 0.0);
    for t in 0..count {
        let mut s = Sizes::example();
        s.sectors = 4 + t % 9;
        s.closed_diameter = 700.0 + 1300.0 * rnd();
        s.opening = Opening::Diameter(s.closed_diameter * (1.2 + 0.2 * rnd()));
        s.stock_thickness = 12.0 + 13.0 * rnd();
        s.leaf_tip_half_angle = s.half_sector().max(trig::rad(30.0 + 60.0 * rnd()));
        s.ply_thickness = s.ply_thickness.max((s.stock_thickness + 2.0) / 2.0);
        let k = (s.closed_diameter / 1200.0).clamp(0.6, 1.0);
        s.arm_width = 20.0 * k * if s.sectors > 8 { 0.7 } else { 1.0 };
        s.tongue_depth = 6.0 * k * if s.sectors > 8 { 0.7 } else { 1.0 };
        s.arm_clearance = 3.0;
        if cam {
            s.drive = turnleaf_mechanism::DriveKind::Cam;
        }
        let m = match solve(&s) {
            Ok(m) => m,
            Err(t) => {
                *refused.entry(t[0].code).or_default() += 1;
                continue;
            }
        };
        solved += 1;
        let a = turnleaf_parts::assemble(&m);
        let start = std::time::Instant::now();
        let p = turnleaf_motion::prove(&a);
        time += start.elapsed().as_secs_f64();
        let bad: Vec<_> = turnleaf_motion::checks(&a, &p).into_iter().filter(|c| !c.holds).collect();
        sound += usize::from(bad.is_empty());
        for c in bad {
            let what = format!(
                "n{} D{:.0} e{:.0} T{:.1} a{:.0}: {}",
                s.sectors,
                s.closed_diameter,
                s.travel(),
                s.stock_thickness,
                trig::deg(s.leaf_tip_half_angle),
                c.text
            );
            let e = fails.entry(c.id).or_insert((0, f64::INFINITY, String::new()));
            e.0 += 1;
            if c.margin < e.1 {
                (e.1, e.2) = (c.margin, what);
            }
        }
    }
    println!(
        "{count} tables, {solved} solved, {sound} sound; proof {:.0} ms on the mean",
        time / solved as f64 * 1e3
    );
    println!("{refused:?}");
    for (id, (n, worst, what)) in fails {
        println!("{n:4} {id:40} {worst:8.2} {what}");
    }
}
