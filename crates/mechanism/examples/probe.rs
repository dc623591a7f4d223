//! Looks at random tables.
use turnleaf_geom::trig;
use turnleaf_mechanism::{arms, layout::layout, sizes::*};
fn main() {
    let mut seed = 12345u64;
    let mut rnd = || {
        seed ^= seed << 13;
        seed ^= seed >> 7;
        seed ^= seed << 17;
        (seed >> 11) as f64 / (1u64 << 53) as f64
    };
    let mut ok = std::collections::BTreeMap::new();
    let mut worst = 0.0f64;
    let mut tot = 0.0;
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
        }
        if t > 0 {
            let k = (d / 1200.0).clamp(0.6, 1.0);
            s.arm_width = 20.0 * k;
            s.tongue_depth = 6.0 * k;
            s.arm_clearance = 3.0;
            if n > 8 {
                s.tongue_depth *= 0.7;
                s.arm_width *= 0.8;
            }
        }
        let lay = layout(&s);
        let ws = (0.07 * s.radius()).clamp(24.0, 44.0);
        let h = s.half_sector();
        let room = arms::Room {
            panel_pin_least: ((ws / 2.0 + 2.0) / trig::tan(h) + 15.0).max(65.0),
            leaf_pin_least: ((ws / 2.0 + 2.0 + 10.0) / trig::sin(h)).max(65.0),
            pin_most: s.radius() - 45.0,
            pin: 5.0,
        };
        let t0 = std::time::Instant::now();
        let r = arms::find(&s, &lay, &room);
        let ms = t0.elapsed().as_secs_f64() * 1e3;
        worst = worst.max(ms);
        tot += ms;
        let e = ok.entry(s.sectors).or_insert((0, 0));
        e.0 += 1;
        if r.is_ok() {
            e.1 += 1
        }
        if t < 3 || r.is_err() {
            println!("n{} D{:.0} ratio {:.2} {:.1}ms {:?}", s.sectors, s.closed_diameter, ratio, ms, r);
        }
    }
    println!("{:?} worst {:.1} ms mean {:.1}", ok, worst, tot / 300.0);
}
