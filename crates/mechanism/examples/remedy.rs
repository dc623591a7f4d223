//! Prints the remedies for one table that does not solve.
use turnleaf_geom::trig;
use turnleaf_mechanism::{Opening, Sizes, remedies, solve};
fn main() {
    let mut s = Sizes::example();
    s.sectors = 12;
    s.closed_diameter = 900.0;
    s.opening = Opening::Diameter(1260.0);
    println!("{:?}", solve(&s).err());
    let t = std::time::Instant::now();
    for r in remedies(&s) {
        println!("{} {} -> {} {}", r.size, r.from, r.to, r.unit);
    }
    println!("{:?}", t.elapsed());
    let mut s = Sizes::example();
    s.leaf_tip_half_angle = trig::rad(20.0);
    println!("{:?}", solve(&s).err());
    for r in remedies(&s) {
        println!("{} {} -> {} {}", r.size, r.from, r.to, r.unit);
    }
}
