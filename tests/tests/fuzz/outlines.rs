//! Unions, cuts and offsets of outlines that nearly touch, nearly coincide, nearly vanish.
//!
//! In: bytes, read as two outlines on a coarse lattice with hairs off it. Out: pass, or the pair that broke it.
//! Always true: an outline that `check_region` refuses need only be refused again, without a panic.

use turnleaf_geom::check::check_region;
use turnleaf_geom::{Region, Ring, Vec2, Vertex, boolean, distance, offset, vec2::v};
use turnleaf_tests::fuzz::{Corpus, run};

/// Hairs off the lattice, mm.
const HAIRS: [f64; 16] =
    [0.0, 0.0, 0.0, 0.0, 1e-15, -1e-15, 1e-12, -1e-12, 1e-10, -1e-9, 1e-8, -1e-7, 1e-6, -1e-5, 1e-3, 0.5];
/// Bulges: straight, half circles, flat and nearly whole arcs.
const BULGES: [f64; 16] = [
    0.0,
    0.0,
    0.0,
    0.0,
    0.0,
    0.0,
    1.0,
    -1.0,
    0.5,
    -0.5,
    1e-9,
    -1e-6,
    0.1,
    -0.1,
    3.0,
    0.414_213_562_373_095_1,
];

/// An outline: each corner is four bytes: x and y on the lattice, hairs, bulge.
fn ring(bytes: &[u8]) -> Ring {
    let vertices = bytes.chunks_exact(4).take(12).map(|b| {
        let at = |byte: u8, hair: u8| f64::from(byte % 9) * 10.0 + HAIRS[usize::from(hair % 16)];
        Vertex { p: v(at(b[0], b[2]), at(b[1], b[2] / 16)), bulge: BULGES[usize::from(b[3] % 16)] }
    });
    Ring { vertices: vertices.collect() }
}

fn whole(regions: &[Region]) -> f64 {
    regions.iter().map(Region::area).sum()
}

fn pair(input: &[u8]) -> (Region, Region) {
    let half = input.len() / 2 / 4 * 4;
    let fixed = |bytes: &[u8]| {
        let r = ring(bytes);
        Region::from(if r.area() < 0.0 { r.reversed() } else { r })
    };
    (fixed(&input[..half]), fixed(&input[half..]))
}

/// How much of a pair's areas may be missing, mm²: a hair of 1e-3 along every edge.
const MISSING: f64 = 0.5;

fn judge(input: &[u8]) -> Result<bool, String> {
    let (a, b) = pair(input);
    let sound = check_region(&a).is_ok() && check_region(&b).is_ok();
    let all = (boolean::union(&a, &b), boolean::intersection(&a, &b), boolean::difference(&a, &b));
    // Offsets and distances of anything must not panic either.
    for d in [1e-9, 0.5, 40.0] {
        for made in [offset::inset(&a.outer, d), offset::outset(&a.outer, d)].into_iter().flatten() {
            if !made.area().is_finite() {
                return Err(format!("an offset by {d} has no area"));
            }
        }
    }
    if !sound {
        return Ok(false);
    }
    let gap = distance::region_distance(&a, &b);
    if !gap.distance.is_finite() {
        return Err(format!("the distance is {}", gap.distance));
    }
    let (Ok(union), Ok(common), Ok(left)) = all else { return Ok(false) };
    let (one, two) = (a.area(), b.area());
    let (u, c, l) = (whole(&union), whole(&common), whole(&left));
    if (u + c - one - two).abs() > MISSING || (l + c - one).abs() > MISSING {
        return Err(format!("areas {one} and {two}: union {u}, common {c}, left {l}"));
    }
    if gap.distance > 1e-6 && c > MISSING {
        return Err(format!("{} apart, yet {c} mm² in common", gap.distance));
    }
    Ok(true)
}

/// Squares that share a corner, an edge, everything; a slot over a circle; slivers.
fn seeds() -> Vec<Vec<u8>> {
    let corner = |x: u8, y: u8, hair: u8, bulge: u8| [x, y, hair, bulge];
    let square = |x: u8, y: u8, s: u8, hair: u8| {
        [corner(x, y, hair, 0), corner(x + s, y, 0, 0), corner(x + s, y + s, hair, 0), corner(x, y + s, 0, 0)]
            .concat()
    };
    let disc = |x: u8, y: u8| [corner(x, y, 0, 6), corner(x + 4, y, 0, 6)].concat();
    let lens = |x: u8, y: u8| [corner(x, y, 0, 8), corner(x + 4, y, 0, 8)].concat();
    let put = |a: Vec<u8>, b: Vec<u8>| {
        // Both halves are of one length: the shorter repeats its last corner, a hair away.
        let most = a.len().max(b.len());
        let fill = |mut s: Vec<u8>| {
            while s.len() < most {
                let last: Vec<u8> = s[s.len() - 4..].to_vec();
                s.extend([last[0], last[1], last[2] ^ 12, 0]);
            }
            s
        };
        [fill(a), fill(b)].concat()
    };
    vec![
        put(square(1, 1, 4, 0), square(5, 1, 3, 0)),
        put(square(1, 1, 4, 0), square(1, 1, 4, 6)),
        put(square(1, 1, 6, 0), square(3, 3, 2, 12)),
        put(disc(1, 4), disc(1, 4)),
        put(disc(1, 4), square(1, 4, 4, 8)),
        put(lens(0, 2), disc(2, 2)),
        put(square(0, 0, 8, 0), disc(2, 4)),
    ]
}

#[test]
fn near_degenerate_outlines() {
    let ran = run("near-degenerate outlines", &Corpus::new(seeds(), &[]), 12_000, judge);
    assert!(ran.taken > ran.executions / 20, "hardly any pair was sound: {ran:?}");
}

/// The measure itself can fail: a region's own area taken twice is noticed.
#[test]
fn areas_of_the_seeds_are_known() {
    let (a, b) = pair(&seeds()[0]);
    assert_eq!((a.area(), b.area()), (1600.0, 900.0));
    assert_eq!(distance::region_distance(&a, &b).distance, 0.0);
    let (disc, _) = pair(&seeds()[3]);
    assert!((disc.area() - core::f64::consts::PI * 400.0).abs() < 1e-9, "{}", disc.area());
    assert!(distance::point_in_region(Vec2 { x: 30.0, y: 40.0 }, &disc));
}
