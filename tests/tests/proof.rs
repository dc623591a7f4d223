//! The proof against plain sampling of every piece: no pair may come nearer than the proof says.

use turnleaf_geom::{Prepared, trig::rad};
use turnleaf_mechanism::{Opening, Sizes, solve};
use turnleaf_motion::proof::FAR;
use turnleaf_motion::{pose, prove};
use turnleaf_parts::{Assembly, assemble};

/// Smallest clearance of two parts at evenly spaced turns, over all their pieces that share a height.
fn sampled(a: &Assembly, x: &str, y: &str, count: usize) -> f64 {
    let mut least = FAR;
    for i in 0..count {
        let pieces = pose::pose(a, a.mechanism.turn() * i as f64 / (count - 1) as f64);
        let of = |part: &str| -> Vec<_> {
            let layers = pieces.iter().filter(|p| p.part == part).flat_map(|p| &p.layers);
            layers.map(|l| (Prepared::new(&l.region), l.z0, l.z1)).collect()
        };
        let here = turnleaf_geom::Pose2::default();
        for (p, p0, p1) in &of(x) {
            for (q, q0, q1) in &of(y) {
                if p0 < q1 && q0 < p1 {
                    let found = p.clearance_within(&here, q, &here, least);
                    least = found.map_or(least, |c| if c.penetrates { 0.0 } else { c.distance.min(least) });
                }
            }
        }
    }
    least
}

/// Four sectors and four rollers: as many pieces as sectors, yet not one like the other from every sector.
#[test]
fn rollers_are_not_taken_for_alike() {
    let mut s = Sizes::example();
    s.sectors = 4;
    for (closed, open, tip) in [(1100.0, 1430.0, 50.0), (900.0, 1180.0, 60.0), (1500.0, 1900.0, 45.0)] {
        s.closed_diameter = closed;
        s.opening = Opening::Diameter(open);
        s.leaf_tip_half_angle = rad(tip);
        let a = assemble(&solve(&s).unwrap());
        let proof = prove(&a);
        for (x, y) in [
            ("panel-arm", "drop-roller"),
            ("leaf-arm", "drop-roller"),
            ("panel-slide", "drop-roller"),
            ("panel-guide", "guide-shaft"),
        ] {
            let pair = proof.pairs.iter().find(|r| (r.a == x && r.b == y) || (r.a == y && r.b == x));
            let Some(r) = pair else { continue };
            let least = sampled(&a, x, y, 120);
            println!("{closed} mm: {x} and {y}: proof {:.3}, sampled {least:.3}", r.distance);
            assert!(
                least >= r.at_least - 0.02,
                "{closed} mm: {x} and {y} come as near as {least}, proof {}",
                r.at_least
            );
            assert!(r.distance >= FAR || r.distance <= least + 0.02, "{x} and {y}: {} not found", r.distance);
        }
    }
}
