//! Writes geometry cases with our answers as JSON, for the outside check tests/python/geometry_check.py.
//!
//! In: nothing. Out: JSON on standard output, the same on every run. Each case has two regions (rings of
//! [x, y, bulge], bulge = tan(sweep/4)) and what this crate says about them.

use serde_json::{Value, json};
use turnleaf_geom::boolean::{BooleanOp, combine};
use turnleaf_geom::check::check_region;
use turnleaf_geom::hausdorff::hausdorff;
use turnleaf_geom::measure::{Moments, box_along, total_perimeter};
use turnleaf_geom::offset::inset_region;
use turnleaf_geom::vec2::v;
use turnleaf_geom::{Pose2, Region, Ring, Vec2, Vertex, region_distance, trig};

/// A plain linear congruential stream of numbers in 0..1: arbitrary, but always the same.
struct Stream(u64);

impl Stream {
    fn next(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6364136223846793005).wrapping_add(1442695040888963407);
        (self.0 >> 11) as f64 / (1u64 << 53) as f64
    }
    fn within(&mut self, lo: f64, hi: f64) -> f64 {
        lo + (hi - lo) * self.next()
    }
}

/// A sound outline around the origin, every other time with round edges, sometimes with a round hole.
fn arbitrary(s: &mut Stream) -> Region {
    loop {
        let n = 3 + (s.next() * 9.0) as usize;
        let round = s.next() < 0.6;
        let corner = |i: usize, s: &mut Stream| Vertex {
            p: Vec2::polar(
                s.within(30.0, 100.0),
                (i as f64 + s.within(0.05, 0.95)) * core::f64::consts::TAU / n as f64,
            ),
            bulge: if round && s.next() < 0.6 { s.within(-0.35, 0.35) } else { 0.0 },
        };
        let mut r = Region::from(Ring { vertices: (0..n).map(|i| corner(i, s)).collect() });
        if s.next() < 0.5 {
            r.holes.push(
                Ring::circle(v(s.within(-8.0, 8.0), s.within(-8.0, 8.0)), s.within(4.0, 15.0)).reversed(),
            );
        }
        if r.outer.area() > 200.0 && check_region(&r).is_ok() {
            return r;
        }
    }
}

fn region(r: &Region) -> Value {
    let ring = |r: &Ring| r.vertices.iter().map(|q| [q.p.x, q.p.y, q.bulge]).collect::<Vec<_>>();
    json!(r.rings().map(ring).collect::<Vec<_>>())
}

fn case(name: String, a: &Region, b: &Region, inset: f64) -> Value {
    let c = region_distance(a, b);
    let all = |op| {
        let out = combine(op, core::slice::from_ref(a), core::slice::from_ref(b));
        match out {
            Ok(list) => json!(list.iter().map(region).collect::<Vec<_>>()),
            Err(e) => json!(e.sentence),
        }
    };
    let m = Moments::of(a);
    let (p, along) = (m.principal(), box_along(a, 0.3));
    json!({
        "name": name,
        "a": region(a),
        "b": region(b),
        "area": m.area,
        "perimeter": total_perimeter(a),
        "centroid": [m.centroid.x, m.centroid.y],
        "ix": m.ix, "iy": m.iy, "ixy": m.ixy,
        "largest": p.largest, "smallest": p.smallest,
        "box": { "angle": along.angle, "size": [along.size.x, along.size.y] },
        "distance": c.distance,
        "penetrates": c.penetrates,
        "nearest": [[c.a.x, c.a.y], [c.b.x, c.b.y]],
        "union": all(BooleanOp::Union),
        "intersection": all(BooleanOp::Intersection),
        "difference": all(BooleanOp::Difference),
        "hausdorff": hausdorff(a, b, 1e-6).distance,
        "inset_by": inset,
        "inset": inset_region(a, inset).ok().map(|r| region(&r)),
    })
}

/// Shapes like a table's: a panel, its neighbour, a slotted plate with a post, two bent arms, a star.
fn table_like(out: &mut Vec<Value>) {
    let h = core::f64::consts::PI / 6.0;
    let panel = |k: f64, out: f64| {
        let ring = Ring {
            vertices: vec![
                Vertex { p: Vec2::ZERO, bulge: 0.0 },
                Vertex { p: Vec2::polar(600.0, -h), bulge: trig::tan(h / 2.0) },
                Vertex { p: Vec2::polar(600.0, h), bulge: 0.0 },
            ],
        };
        Region::from(ring.moved(&Pose2::new(2.0 * h * k, Vec2::polar(out, 2.0 * h * k))))
    };
    for travel in [0.0, 1.0, 100.0, 225.0] {
        out.push(case(
            format!("panel and neighbour moved out by {travel}"),
            &panel(0.0, travel),
            &panel(1.0, travel),
            0.5,
        ));
        out.push(case(
            format!("panel and opposite moved out by {travel}"),
            &panel(0.0, travel),
            &panel(3.0, travel),
            8.0,
        ));
    }
    let mut plate = Region::from(Ring::circle(Vec2::ZERO, 400.0));
    for k in 0..6 {
        let at = |r: f64| Vec2::polar(r, 2.0 * h * k as f64);
        plate.holes.push(Ring::slot(at(150.0), at(330.0), 15.0).reversed());
    }
    for x in [150.0, 163.0, 240.0, 330.0, 332.0, 333.0] {
        let post = Region::from(Ring::circle(v(x, 0.0), 12.0));
        out.push(case(format!("plate and post at {x}"), &plate, &post, 1.0));
    }
    let arm = Region::from(Ring {
        vertices: vec![
            Vertex { p: v(0.0, -10.0), bulge: 0.3 },
            Vertex { p: v(300.0, -10.0), bulge: 1.0 },
            Vertex { p: v(300.0, 10.0), bulge: -0.28 },
            Vertex { p: v(0.0, 10.0), bulge: 1.0 },
        ],
    });
    for k in 0..8 {
        let angle = 0.35 + 0.1 * k as f64;
        let other = arm.moved(&Pose2::new(angle, v(75.0, 130.0)));
        out.push(case(format!("arms, turned by {angle:.2}"), &arm, &other, 2.0));
    }
    let corner =
        |i: usize, k: f64| Vec2::polar(if i.is_multiple_of(2) { 416.0 * k } else { 195.0 * k }, i as f64 * h);
    let star = |k: f64| Region::from(Ring::polygon(&(0..12).map(|i| corner(i, k)).collect::<Vec<_>>()));
    out.push(case("star in star".into(), &star(1.0), &star(0.9), 0.15));
    out.push(case("star on panel".into(), &star(1.0), &panel(0.0, 225.0), 6.0));
}

fn main() {
    let mut cases = Vec::new();
    table_like(&mut cases);
    let mut s = Stream(20);
    for i in 0..240 {
        // From deep overlap to well apart.
        let far = 250.0 * i as f64 / 240.0;
        let a = arbitrary(&mut s).moved(&Pose2::new(s.within(-3.0, 3.0), Vec2::ZERO));
        let shift = Vec2::polar(far, s.within(-3.0, 3.0));
        let b = arbitrary(&mut s).moved(&Pose2::new(s.within(-3.0, 3.0), shift));
        // Every fourth is often too far, so that refusals are looked at too.
        let d = if i % 4 == 0 { s.within(6.0, 40.0) } else { s.within(0.1, 6.0) };
        cases.push(case(format!("arbitrary {i}"), &a, &b, d));
    }
    println!("{}", json!({ "unit": "mm", "cases": cases }));
}
