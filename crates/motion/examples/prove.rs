//! Proves the worked example and prints every pair; with the word `cam`, its cam drive.
use turnleaf_geom::trig::deg;
use turnleaf_mechanism::{Sizes, solve};
fn main() {
    let mut s = Sizes::example();
    if std::env::args().any(|word| word == "cam") {
        s.drive = turnleaf_mechanism::DriveKind::Cam;
    }
    s.panel_pin_radius = Some(150.0);
    s.panel_arm_length = Some(300.0);
    s.panel_arm_bend = Some(80.0);
    let t = std::time::Instant::now();
    let m = solve(&s).unwrap();
    println!("solve {:?}", t.elapsed());
    let t = std::time::Instant::now();
    let a = turnleaf_parts::assemble(&m);
    println!("assemble {:?}: {} parts, {} pieces", t.elapsed(), a.parts.len(), a.pieces.len());
    for p in &a.parts {
        println!("  {} x{} t{:.1} layers {}", p.id, p.count, p.thickness, p.layers.len());
    }
    let t = std::time::Instant::now();
    let p = turnleaf_motion::prove(&a);
    println!("prove {:?}, {} looks", t.elapsed(), p.looks);
    for r in &p.pairs {
        println!(
            "{:7} {} {:18} {:18} {:9.3} (>= {:9.3}) at {:6.2} deg ({:.0},{:.0}) {:?} {:?}",
            r.looks,
            if r.holds { "ok  " } else { "FAIL" },
            r.a,
            r.b,
            r.distance,
            r.at_least,
            deg(r.turn),
            r.place.x,
            r.place.y,
            r.expect,
            r.pieces
        );
    }
    println!("{:?}", turnleaf_motion::tracks::track_margin(&m));
}
