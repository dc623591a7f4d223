//! Solves seeded tables and says how many have room for end stops and hand holds, and how wide that room is.
use turnleaf_geom::trig;
use turnleaf_mechanism::{DriveKind, Opening, Sizes, solve};
use turnleaf_motion::pinch_points;

fn main() {
    for drive in [DriveKind::Arms, DriveKind::Cam] {
        let mut seed = 2463534242u64;
        let mut rnd = || {
            seed ^= seed << 13;
            seed ^= seed >> 7;
            seed ^= seed << 17;
            (seed >> 11) as f64 / (1u64 << 53) as f64
        };
        let (mut solved, mut stops, mut holds, mut rooms) = (0, 0, 0, Vec::new());
        for t in 0..90 {
            let mut s = Sizes { drive, ..Sizes::example() };
            s.sectors = 4 + t % 9;
            s.closed_diameter = 700.0 + 1300.0 * rnd();
            s.opening = Opening::Diameter(s.closed_diameter * (1.2 + 0.2 * rnd()));
            s.stock_thickness = 12.0 + 13.0 * rnd();
            s.leaf_tip_half_angle = s.half_sector().max(trig::rad(45.0));
            s.ply_thickness = s.ply_thickness.max((s.stock_thickness + 2.0) / 2.0);
            let k = (s.closed_diameter / 1200.0).clamp(0.6, 1.0);
            s.arm_width = 20.0 * k * if s.sectors > 8 { 0.7 } else { 1.0 };
            s.tongue_depth = 6.0 * k * if s.sectors > 8 { 0.7 } else { 1.0 };
            s.arm_clearance = 3.0;
            let Ok(m) = solve(&s) else { continue };
            let a = turnleaf_parts::assemble(&m);
            solved += 1;
            let has = |id: &str| usize::from(a.part(id).is_some());
            stops += has("stop-block");
            holds += has("hand-hold");
            rooms.push(m.members.turning_plate - m.rollers.base_radius);
            if t < 10 {
                println!("n{} D{:.0} turn {:.1}°", s.sectors, s.closed_diameter, trig::deg(m.turn()));
                let start = std::time::Instant::now();
                let found = pinch_points(&a);
                println!("  pinch points in {:?}", start.elapsed());
                for p in found {
                    let (from, to) = p.degrees();
                    println!(
                        "  {} {} {from:.2}..{to:.2}: {:.1} to {:.1} at ({:.0}, {:.0}), {:?}",
                        p.a, p.b, p.widest, p.narrowest, p.place.x, p.place.y, p.access
                    );
                }
            }
        }
        rooms.sort_by(f64::total_cmp);
        println!(
            "{drive:?}: {solved} solved, {stops} with stops, {holds} with hand holds; plate less base {rooms:.0?}"
        );
    }
}
