//! Booleans: against closed forms, against another library with arcs, and against set identities.

mod common;

use cavalier_contours::polyline::{
    BooleanOp as Op, PlineBooleanOptions, PlineSource, PlineSourceMut, Polyline,
};
use common::{always, close, pose, region, ring, samples};
use core::f64::consts::PI;
use proptest::prelude::*;
use turnleaf_geom::boolean::{
    BooleanOp, combine, difference, intersection, polygon_area_check, union, union_all,
};
use turnleaf_geom::distance::{point_in_region, signed_distance};
use turnleaf_geom::vec2::v;
use turnleaf_geom::{Pose2, Region, Ring, Trouble, Vec2, Vertex, trig};

fn area(r: &[Region]) -> f64 {
    r.iter().map(Region::area).sum()
}

fn disc(x: f64, y: f64, r: f64) -> Region {
    Ring::circle(v(x, y), r).into()
}

fn square(x: f64, y: f64, side: f64) -> Region {
    Ring::rect(v(x, y), v(x + side, y + side)).into()
}

fn arcs(r: &[Region]) -> usize {
    r.iter().flat_map(Region::rings).flat_map(|r| &r.vertices).filter(|q| q.bulge != 0.0).count()
}

#[test]
fn circular_segments_have_the_published_area() {
    // 60° segment at R = 1: area 0.0905860737, sagitta 0.1339745962 (elementary; segment formula as in
    // the CRC tables, R²(θ − sin θ)/2).
    let half_plane = Region::from(Ring::rect(v(-2.0, 3.0_f64.sqrt() / 2.0), v(2.0, 2.0)));
    let s = intersection(&disc(0.0, 0.0, 1.0), &half_plane).unwrap();
    assert_eq!((s.len(), s[0].outer.vertices.len(), arcs(&s)), (1, 2, 1));
    assert!((s[0].area() - 0.0905860737).abs() < 5e-11, "{}", s[0].area());
    let (lo, hi) = s[0].outer.bounds();
    assert!((hi.y - lo.y - 0.1339745962).abs() < 5e-11);
    // Quarter-area height of a circle: h/R = 0.596027246700 (the quarter-tank problem).
    let cut = Region::from(Ring::rect(v(-2.0, -2.0), v(2.0, -1.0 + 0.596027246700)));
    let q = intersection(&disc(0.0, 0.0, 1.0), &cut).unwrap();
    assert!((area(&q) - PI / 4.0).abs() < 1e-11, "{}", area(&q));
}

#[test]
fn lens_of_two_circles() {
    // Equal circles of radius r at distance d: lens = 2r² acos(d/2r) − (d/2)·sqrt(4r² − d²).
    let (r, d) = (50.0f64, 60.0f64);
    let lens = 2.0 * r * r * trig::acos(d / (2.0 * r)) - d / 2.0 * (4.0 * r * r - d * d).sqrt();
    let (a, b) = (disc(0.0, 0.0, r), disc(d, 0.0, r));
    let i = intersection(&a, &b).unwrap();
    assert!((area(&i) - lens).abs() < 1e-9);
    assert_eq!((i[0].outer.vertices.len(), arcs(&i)), (2, 2));
    assert!((area(&union(&a, &b).unwrap()) - (2.0 * PI * r * r - lens)).abs() < 1e-9);
    let moon = difference(&a, &b).unwrap();
    assert!((area(&moon) - (PI * r * r - lens)).abs() < 1e-9);
    assert_eq!((moon.len(), moon[0].outer.vertices.len()), (1, 2));
    assert!(moon[0].outer.area() > 0.0);
}

#[test]
fn hexagram_from_two_triangles() {
    // {6/2}, circumradius 1: area √3 = 1.7320508, perimeter 6.9282032, inner corners at 0.5773503.
    let triangle = |turn: f64| -> Region {
        let c = |i: usize| Vec2::polar(1.0, turn + i as f64 * 2.0 * PI / 3.0);
        Ring::polygon(&[c(0), c(1), c(2)]).into()
    };
    let u = union(&triangle(0.0), &triangle(PI / 3.0)).unwrap();
    assert_eq!((u.len(), u[0].outer.vertices.len()), (1, 12));
    assert!((area(&u) - 1.7320508).abs() < 5e-8);
    let around: f64 = u[0].outer.segs().map(|s| s.length()).sum();
    assert!((around - 6.9282032).abs() < 5e-8);
    let inner = u[0].outer.vertices.iter().map(|q| q.p.norm()).fold(f64::INFINITY, f64::min);
    assert!((inner - 0.5773503).abs() < 5e-8);
    // The hexagon they share: circumradius 1/√3, area 3√3/2 · 1/3.
    let i = intersection(&triangle(0.0), &triangle(PI / 3.0)).unwrap();
    assert!((area(&i) - 3.0_f64.sqrt() / 2.0).abs() < 1e-12);
}

#[test]
fn star_left_between_panels_and_leaves() {
    // Sectors moved out by e leave gaps of width w = 2e·sin(π/n) and a star, whose size follows by
    // elementary geometry; here it is found by cutting everything else away.
    let (n, rim, e, alpha, s) = (6usize, 600.0f64, 225.0f64, PI / 4.0, 400.6f64);
    let h = PI / n as f64;
    let half = e * trig::sin(h);
    let tip = s - half / trig::tan(alpha);
    let mut rest = Vec::new();
    for k in 0..n {
        let mid = 2.0 * h * k as f64;
        let panel = Ring {
            vertices: vec![
                Vertex { p: Vec2::ZERO, bulge: 0.0 },
                Vertex { p: Vec2::polar(rim, -h), bulge: trig::tan(h / 2.0) },
                Vertex { p: Vec2::polar(rim, h), bulge: 0.0 },
            ],
        };
        rest.push(Region::from(panel.moved(&Pose2::new(mid, Vec2::polar(e, mid)))));
        let leaf = Ring::polygon(&[v(tip, 0.0), v(s, -half), v(780.0, -half), v(780.0, half), v(s, half)]);
        rest.push(Region::from(leaf.moved(&Pose2::new(mid + h, Vec2::ZERO))));
    }
    let left = combine(BooleanOp::Difference, &[disc(0.0, 0.0, 780.0)], &rest).unwrap();
    let star = left.iter().find(|r| point_in_region(Vec2::ZERO, r)).unwrap();
    // Polygon of circumradius e, and n arms: a strip from its side to the shoulders less the leaf's point.
    let apothem = e * trig::cos(h);
    let core = n as f64 * half * apothem;
    let arms = n as f64 * (2.0 * half * (s - apothem) - half * (s - tip));
    assert!((star.area() - core - arms).abs() < 1e-6, "{} {}", star.area(), core + arms);
    assert!((star.outer.reach() - (s * s + half * half).sqrt()).abs() < 1e-9);
    // Straight sides run on past the polygon's corners: 2 shoulders, 1 notch and 1 inner corner an arm.
    assert_eq!(star.outer.vertices.len(), 4 * n);
    // Panels and leaves together are one piece with the star's outline as its opening.
    let whole = union_all(&rest).unwrap();
    assert_eq!((whole.len(), whole[0].holes.len()), (1, 1));
    assert!((whole[0].holes[0].area() + star.area()).abs() < 1e-6);
}

#[test]
fn holes_islands_and_pieces() {
    let washer = |inner: f64, outer: f64| difference(&disc(0.0, 0.0, outer), &disc(0.0, 0.0, inner)).unwrap();
    let w = washer(20.0, 50.0);
    assert_eq!((w.len(), w[0].holes.len()), (1, 1));
    assert!(w[0].outer.area() > 0.0 && w[0].holes[0].area() < 0.0);
    assert!((area(&w) - PI * 2100.0).abs() < 1e-9);
    // A bar across: two halves when cut away, a bridged washer with two openings when added.
    let bar = Region::from(Ring::rect(v(-60.0, -5.0), v(60.0, 5.0)));
    assert_eq!(difference(&w[0], &bar).unwrap().len(), 2);
    let u = union(&w[0], &bar).unwrap();
    assert_eq!((u.len(), u[0].holes.len()), (1, 2));
    // A washer in a washer's hole stays a piece of its own; filled by a plug it becomes solid.
    let inner = washer(5.0, 15.0);
    assert_eq!(union(&w[0], &inner[0]).unwrap().len(), 2);
    let plug = union(&w[0], &disc(0.0, 0.0, 20.0)).unwrap();
    assert_eq!((plug.len(), plug[0].holes.len()), (1, 0));
    assert!((area(&plug) - PI * 2500.0).abs() < 1e-9);
    assert_eq!(plug[0].outer.vertices.len(), 2, "a circle again");
    // Nothing left, nothing shared.
    assert!(difference(&inner[0], &disc(0.0, 0.0, 15.0)).unwrap().is_empty());
    assert!(intersection(&w[0], &inner[0]).unwrap().is_empty());
    assert!(intersection(&square(0.0, 0.0, 10.0), &square(10.0, 0.0, 10.0)).unwrap().is_empty());
    assert!(union_all(&[]).unwrap().is_empty());
}

#[test]
fn shared_edges_join_cleanly() {
    let u = union(&square(0.0, 0.0, 10.0), &square(10.0, 0.0, 10.0)).unwrap();
    assert_eq!((u.len(), u[0].outer.vertices.len()), (1, 4));
    // Six sectors of a disc make the disc again, its rim two or more arcs of one circle.
    let h = PI / 3.0;
    let sector = |k: usize| -> Region {
        Ring {
            vertices: vec![
                Vertex { p: Vec2::ZERO, bulge: 0.0 },
                Vertex { p: Vec2::polar(600.0, h * k as f64), bulge: trig::tan(h / 4.0) },
                Vertex { p: Vec2::polar(600.0, h * (k + 1) as f64), bulge: 0.0 },
            ],
        }
        .into()
    };
    let all: Vec<Region> = (0..6).map(sector).collect();
    let d = union_all(&all).unwrap();
    assert_eq!((d.len(), d[0].holes.len(), d[0].outer.vertices.len()), (1, 0, 2));
    assert!((area(&d) - PI * 360_000.0).abs() < 1e-6);
    // A fillet that touches smoothly: slot and the rectangle between its centres.
    let slot = Region::from(Ring::slot(v(0.0, 0.0), v(40.0, 0.0), 8.0));
    let r = Region::from(Ring::rect(v(0.0, -8.0), v(40.0, 8.0)));
    let ends = difference(&slot, &r).unwrap();
    assert_eq!(ends.len(), 2);
    assert!((area(&ends) - PI * 64.0).abs() < 1e-9);
    assert!((area(&union(&slot, &r).unwrap()) - slot.area()).abs() < 1e-9);
    // A circle inside a square, touching all four sides, and four discs touching one another.
    let c = difference(&square(-10.0, -10.0, 20.0), &disc(0.0, 0.0, 10.0)).unwrap();
    assert!((area(&c) - (400.0 - PI * 100.0)).abs() < 1e-6);
    let four =
        [disc(10.0, 10.0, 10.0), disc(-10.0, 10.0, 10.0), disc(-10.0, -10.0, 10.0), disc(10.0, -10.0, 10.0)];
    assert!((area(&union_all(&four).unwrap()) - PI * 400.0).abs() < 1e-6);
}

#[test]
fn results_that_touch_themselves_can_be_used_again() {
    // A hole that touches the outline from inside, a hole that touches two edges, a pinched waist.
    let plate = square(0.0, 0.0, 100.0);
    for hole in [
        disc(50.0, 80.0, 20.0),
        disc(80.0, 80.0, 20.0),
        Region::from(Ring::polygon(&[v(50.0, 0.0), v(60.0, 50.0), v(50.0, 100.0), v(40.0, 50.0)])),
    ] {
        let r = difference(&plate, &hole).unwrap();
        assert!((area(&r) - plate.area() + hole.area()).abs() < 1e-6);
        let again = combine(BooleanOp::Union, &r, &[hole]).unwrap();
        assert!((area(&again) - plate.area()).abs() < 1e-6);
        let less = combine(BooleanOp::Difference, &r, &[square(0.0, 0.0, 50.0)]).unwrap();
        let kept = combine(BooleanOp::Intersection, &r, &[square(0.0, 0.0, 50.0)]).unwrap();
        assert!((area(&less) + area(&kept) - area(&r)).abs() < 1e-6);
    }
    // One outline given as touching itself: two squares that share a corner, in one go.
    let eight = Ring::polygon(&[
        v(0.0, 0.0),
        v(10.0, 0.0),
        v(10.0, 10.0),
        v(20.0, 10.0),
        v(20.0, 20.0),
        v(10.0, 20.0),
        v(10.0, 10.0),
        v(0.0, 10.0),
    ]);
    assert!((area(&union_all(&[eight.into()]).unwrap()) - 200.0).abs() < 1e-9);
}

#[test]
fn nearly_the_same_never_panics() {
    // A plate against itself, shifted and turned by next to nothing.
    let plate = union(&square(0.0, 0.0, 100.0), &disc(100.0, 50.0, 30.0)).unwrap().remove(0);
    let plate = difference(&plate, &disc(50.0, 50.0, 20.0)).unwrap().remove(0);
    for k in 0..15 {
        let tiny = 10f64.powi(-k);
        for p in [
            Pose2::new(0.0, v(tiny, 0.0)),
            Pose2::new(tiny, Vec2::ZERO),
            Pose2::new(tiny * 1e-3, v(0.0, -tiny)),
        ] {
            let other = plate.moved(&p);
            for op in [BooleanOp::Union, BooleanOp::Intersection, BooleanOp::Difference] {
                let full = match op {
                    BooleanOp::Difference => 0.0,
                    _ => plate.area(),
                };
                let r = combine(op, core::slice::from_ref(&plate), core::slice::from_ref(&other));
                // No point moves by more than 150·tiny, so no area changes by more than that along the outline.
                let gone = (area(&r.unwrap()) - full).abs();
                assert!(gone <= 1e5 * tiny + 1e-3, "{op:?} 1e-{k}: {gone}");
            }
        }
    }
}

#[test]
fn bad_input_is_refused_in_words() {
    let good = square(0.0, 0.0, 10.0);
    let bow = Ring::polygon(&[v(0.0, 0.0), v(10.0, 10.0), v(10.0, 0.0), v(0.0, 12.0)]).into();
    assert_eq!(union(&good, &bow).unwrap_err().trouble, Trouble::CrossesItself);
    let nan = Ring::circle(v(f64::NAN, 0.0), 3.0).into();
    assert_eq!(difference(&good, &nan).unwrap_err().trouble, Trouble::NotFinite);
    assert_eq!(intersection(&good, &disc(0.0, 0.0, 0.0)).unwrap_err().trouble, Trouble::Empty);
    assert_eq!(union(&good, &disc(1e9, 0.0, 5.0)).unwrap_err().trouble, Trouble::NotFinite);
}

fn pline(r: &Ring) -> Polyline {
    let mut p = Polyline::new_closed();
    for q in &r.vertices {
        p.add(q.p.x, q.p.y, q.bulge);
    }
    p
}

#[test]
fn agrees_with_another_library_with_arcs() {
    // cavalier_contours 0.9 combines pairs of outlines without openings; areas must agree.
    // Very flat arcs are left out: on one of radius 1.4e6 mm it was 4e-5 mm² off a count by fine chords,
    // to which ours kept within 1e-8.
    let ring = || {
        ring().prop_filter("no flat arcs", |r| {
            r.vertices.iter().all(|q| q.bulge == 0.0 || q.bulge.abs() > 1e-3)
        })
    };
    always(300, (ring(), ring(), pose(60.0)), |(a, b, p)| {
        let b = b.moved(&p);
        let (pa, pb) = (pline(&a), pline(&b));
        // By default it joins points up to 1e-5 apart.
        let finely = PlineBooleanOptions { pos_equal_eps: 1e-8, ..PlineBooleanOptions::new() };
        for (op, other) in
            [(BooleanOp::Union, Op::Or), (BooleanOp::Intersection, Op::And), (BooleanOp::Difference, Op::Not)]
        {
            let r = combine(op, &[a.clone().into()], &[b.clone().into()]);
            prop_assert!(r.is_ok(), "{:?}", r);
            let theirs = pa.boolean_opt(&pb, other, &finely);
            let sum = |l: &[cavalier_contours::polyline::BooleanResultPline<Polyline>]| {
                l.iter().map(|x| x.pline.area().abs()).sum::<f64>()
            };
            close(area(&r.unwrap()), sum(&theirs.pos_plines) - sum(&theirs.neg_plines), 1e-6)?;
        }
        Ok(())
    });
}

#[test]
fn areas_add_up_and_points_fall_right() {
    always(300, (region(), region(), pose(80.0), pose(80.0)), |(a, b, p, q)| {
        let (a, b) = (a.moved(&q), b.moved(&p));
        let check = polygon_area_check(&a, &b);
        prop_assert!(check.is_ok(), "{:?}", check);
        prop_assert!(check.as_ref().is_ok_and(|c| c.residual < 1e-7), "{:?}", check);
        // Sampled points near both outlines, and the pieces themselves.
        let (u, i, d) = (union(&a, &b).unwrap(), intersection(&a, &b).unwrap(), difference(&a, &b).unwrap());
        for r in u.iter().chain(&i).chain(&d) {
            prop_assert!(r.outer.area() > 0.0 && r.holes.iter().all(|h| h.area() < 0.0));
        }
        let holds = |r: &[Region], x: Vec2| r.iter().any(|r| point_in_region(x, r));
        for x in samples(&a, 7).0.into_iter().map(|x| x + v(0.37, -0.21)) {
            if signed_distance(x, &a).abs() < 1e-6 || signed_distance(x, &b).abs() < 1e-6 {
                continue;
            }
            let (in_a, in_b) = (point_in_region(x, &a), point_in_region(x, &b));
            prop_assert_eq!(holds(&u, x), in_a || in_b);
            prop_assert_eq!(holds(&i, x), in_a && in_b);
            prop_assert_eq!(holds(&d, x), in_a && !in_b);
        }
        Ok(())
    });
}

#[test]
fn pieces_put_together_again_are_the_whole() {
    // (A − B) and (A ∩ B) share every cut, arcs included.
    always(300, (region(), region(), pose(60.0)), |(a, b, p)| {
        let b = b.moved(&p);
        let mut pieces = difference(&a, &b).unwrap();
        pieces.extend(intersection(&a, &b).unwrap());
        let whole = union_all(&pieces);
        prop_assert!(whole.is_ok(), "{:?}", whole);
        let whole = whole.unwrap();
        close(area(&whole), a.area(), 1e-6)?;
        prop_assert_eq!(whole.len(), 1);
        prop_assert_eq!(whole[0].holes.len(), a.holes.len());
        prop_assert!(difference(&a, &a).unwrap().is_empty());
        close(area(&union(&a, &a).unwrap()), a.area(), 1e-7)
    });
}

#[test]
fn turning_changes_nothing() {
    always(150, (region(), region(), pose(60.0), pose(300.0)), |(a, b, p, q)| {
        let b = b.moved(&p);
        let still = union(&a, &b).unwrap();
        let moved = union(&a.moved(&q), &b.moved(&q)).unwrap();
        prop_assert_eq!(still.len(), moved.len());
        close(area(&still), area(&moved), 1e-7)
    });
}

/// Found by fuzzing: on an arc so flat that its circle has a radius of 7.5 million metres, two stops that nearly
/// coincide were taken for a whole round of that circle, whose points lie beyond every grid. That must be an error or
/// a sound result, never a panic.
#[test]
fn nearly_flat_arcs_that_meet_at_a_hair_are_decided_or_refused() {
    let corner = |x: f64, bulge: f64| Vertex { p: v(x, 40.0), bulge };
    let lens = Ring {
        vertices: vec![
            corner(10.0, 1.0),
            corner(50.0, 1.0),
            corner(10.000_000_01, 1e-9),
            corner(40.000_000_01, 1e-9),
        ],
    };
    let disc = Ring {
        vertices: vec![
            corner(40.000_000_01, 1e-9),
            corner(40.000_000_01, 1e-9),
            corner(40.0, 1.0),
            corner(50.0, 1.0),
        ],
    };
    // Elementary: the disc of diameter 10 lies inside that of 40.
    let larger = PI * 400.0;
    match union(&Region::from(lens), &Region::from(disc)) {
        Ok(whole) => {
            assert!((area(&whole) - larger).abs() < 1e-3, "{}", area(&whole));
        }
        Err(e) => assert!(e.sentence.ends_with('.')),
    }
}

/// Found by fuzzing: an arc with a sagitta of 2e-8 mm, whose sweep no cosine can tell, crossed a line unnoticed, and
/// the outline that so crosses itself was combined to a wrong area. Elementary: the chord from (40, 40) to (10, 10)
/// crosses the line from (60, 0) to (0, 80) at x = y = 240/7.
#[test]
fn an_arc_of_hardly_any_sweep_is_seen_to_cross() {
    for bulge in [-1e-9, 1e-9, 1e-8, -1e-7, 1e-6, -1e-5, 1e-4] {
        let corner = |x: f64, y: f64, bulge: f64| Vertex { p: v(x, y), bulge };
        let ring = Ring {
            vertices: vec![
                corner(10.0, 10.0, 0.0),
                corner(60.0, 0.0, 0.0),
                corner(0.0, 80.0, 0.0),
                corner(40.0, 40.0, bulge),
            ],
        };
        let found = turnleaf_geom::check::check_ring(&ring).expect_err("it crosses itself");
        assert_eq!(found.trouble, Trouble::CrossesItself, "bulge {bulge}");
        assert!(union(&Region::from(ring), &Region::from(Ring::circle(v(200.0, 0.0), 5.0))).is_err());
    }
}
