//! Distances against elementary geometry, against brute force, and against their own symmetries.

mod common;

use common::{always, close, pose, region, samples};
use core::f64::consts::PI;
use proptest::prelude::*;
use turnleaf_geom::distance::{
    TOUCH, point_in_region, point_in_ring, point_seg_distance, region_distance, seg_distance, signed_distance,
};
use turnleaf_geom::vec2::v;
use turnleaf_geom::{Arc, Pose2, Prepared, Region, Ring, Seg, Vec2, Vertex};

fn square(x: f64, y: f64, side: f64) -> Region {
    Ring::rect(v(x, y), v(x + side, y + side)).into()
}

fn disc(x: f64, y: f64, r: f64) -> Region {
    Ring::circle(v(x, y), r).into()
}

/// A ring-shaped plate between two circles about the origin.
fn washer(inner: f64, outer: f64) -> Region {
    Region { outer: Ring::circle(Vec2::ZERO, outer), holes: vec![Ring::circle(Vec2::ZERO, inner).reversed()] }
}

#[test]
fn edges_worked_by_hand() {
    let line = Seg::Line(v(0.0, 0.0), v(10.0, 0.0));
    // Parallel, crossing, end against inside (3-4-5), end against end.
    let d = |s: Seg| seg_distance(&line, &s).0;
    assert_eq!(d(Seg::Line(v(2.0, 3.0), v(8.0, 3.0))), 3.0);
    assert_eq!(d(Seg::Line(v(5.0, -1.0), v(5.0, 1.0))), 0.0);
    assert_eq!(d(Seg::Line(v(4.0, 2.0), v(9.0, 7.0))), 2.0);
    assert_eq!(d(Seg::Line(v(13.0, 4.0), v(20.0, 9.0))), 5.0);
    // Upper half circle of radius 2 about (5, 4): its ends, at height 4, are nearest to the line.
    let upper = Seg::Arc(Arc { centre: v(5.0, 4.0), radius: 2.0, start: 0.0, sweep: PI });
    assert!((d(upper) - 4.0).abs() < 1e-12);
    // Lower half: its lowest point, at height 2.
    let lower = Seg::Arc(Arc { centre: v(5.0, 4.0), radius: 2.0, start: 0.0, sweep: -PI });
    let (gap, p, q) = seg_distance(&line, &lower);
    assert!((gap - 2.0).abs() < 1e-12 && p.dist(v(5.0, 0.0)) < 1e-12 && q.dist(v(5.0, 2.0)) < 1e-12);
    // Two full circles: apart, one in the other, concentric, crossing.
    let circle = |x: f64, r: f64| Seg::Arc(Arc { centre: v(x, 0.0), radius: r, start: 0.3, sweep: 2.0 * PI });
    let d = |a: Seg, b: Seg| seg_distance(&a, &b).0;
    assert!((d(circle(0.0, 2.0), circle(10.0, 3.0)) - 5.0).abs() < 1e-12);
    assert!((d(circle(0.0, 10.0), circle(2.0, 3.0)) - 5.0).abs() < 1e-12);
    assert!((d(circle(0.0, 10.0), circle(0.0, 3.0)) - 7.0).abs() < 1e-12);
    assert_eq!(d(circle(0.0, 2.0), circle(3.0, 2.0)), 0.0);
    // A point at the centre of an arc is one radius away from all of it.
    assert!((point_seg_distance(v(5.0, 4.0), &lower).0 - 2.0).abs() < 1e-12);
}

#[test]
fn nearly_parallel_lines_do_not_seem_to_cross() {
    // Two stretches of one slanting line with a gap: their directions differ by rounding alone.
    let (a, b) = (v(5.763143339739312, -20.330703204057613), v(7.702085326188989, 79.7482652587355));
    for k in 0..200 {
        let t = 0.01 + k as f64 * 0.002;
        let (p, q) = (a.lerp(b, t), a.lerp(b, t + 0.13));
        let (d, ..) = seg_distance(&Seg::Line(a, p), &Seg::Line(q, b));
        assert!((d - p.dist(q)).abs() < 1e-9, "{d} instead of {}", p.dist(q));
    }
}

#[test]
fn inside_with_arcs_on_either_side_of_the_chord() {
    // A 10 mm square whose right edge bulges out by a half circle and whose top dips in by one.
    let r = Ring {
        vertices: vec![
            Vertex { p: v(0.0, 0.0), bulge: 0.0 },
            Vertex { p: v(10.0, 0.0), bulge: 1.0 },
            Vertex { p: v(10.0, 10.0), bulge: -1.0 },
            Vertex { p: v(0.0, 10.0), bulge: 0.0 },
        ],
    };
    for (p, expected) in [
        (v(1.0, 1.0), true),
        (v(14.9, 5.0), true),
        (v(15.1, 5.0), false),
        (v(10.0, 5.0), true),
        (v(5.0, 5.1), false),
        (v(5.0, 4.9), true),
        (v(5.0, 12.0), false),
        (v(5.0, 10.0), false),
        (v(-0.1, 5.0), false),
        (v(12.0, 9.0), true),
    ] {
        assert_eq!(point_in_ring(p, &r), expected, "{p:?}");
        assert_eq!(point_in_ring(p, &r.reversed()), expected, "{p:?} reversed");
    }
    // An arc of more than half a turn: a key-hole head of radius 5 over a chord of 6.
    let head = Ring {
        vertices: vec![Vertex { p: v(-3.0, 0.0), bulge: -3.0 }, Vertex { p: v(3.0, 0.0), bulge: 0.0 }],
    };
    // Sagitta = bulge · half chord = 9, radius = 9/2 + 3²/(2·9) = 5, centre 4 above the chord.
    assert!(point_in_ring(v(0.0, 8.9), &head) && !point_in_ring(v(0.0, 9.1), &head));
    assert!(point_in_ring(v(4.9, 4.0), &head) && !point_in_ring(v(5.1, 4.0), &head));
    assert!(point_in_ring(v(2.9, 0.1), &head) && !point_in_ring(v(0.0, -0.1), &head));
    assert!((signed_distance(v(0.0, 4.0), &head.into()) + 4.0).abs() < 1e-12);
}

#[test]
fn touching_is_not_penetrating() {
    let a = square(0.0, 0.0, 10.0);
    let touch = |b: &Region| {
        let c = region_distance(&a, b);
        assert_eq!(c.distance, 0.0);
        assert!(!c.penetrates);
        assert!(!region_distance(b, &a).penetrates);
    };
    // Whole edge, part of an edge, corner to corner, corner to edge, a disc against an edge.
    touch(&square(10.0, 0.0, 10.0));
    touch(&square(10.0, 3.0, 4.0));
    touch(&square(10.0, 10.0, 5.0));
    touch(&disc(14.0, 5.0, 4.0));
    let turned = square(0.0, 0.0, 4.0).moved(&Pose2::new(PI / 4.0, v(5.0, 10.0)));
    touch(&turned);
    // Less than the tolerance deep.
    touch(&square(10.0 - 0.5 * TOUCH, 0.0, 10.0));
    // A pin that fills its hole exactly, and one that leans on the wall of a wider hole.
    let plate = washer(5.0, 20.0);
    for pin in [disc(0.0, 0.0, 5.0), disc(2.0, 0.0, 3.0)] {
        let c = region_distance(&plate, &pin);
        assert!(c.distance == 0.0 && !c.penetrates);
    }
    // A quarter sector back in its own gap: two straight edges shared, solids on opposite sides.
    let sector = |from: f64, sweep: f64| -> Region {
        let bulge = turnleaf_geom::trig::tan(sweep / 4.0);
        Ring {
            vertices: vec![
                Vertex { p: v(0.0, 0.0), bulge: 0.0 },
                Vertex { p: Vec2::polar(600.0, from), bulge },
                Vertex { p: Vec2::polar(600.0, from + sweep), bulge: 0.0 },
            ],
        }
        .into()
    };
    for k in 0..6 {
        let h = PI / 3.0;
        let c = region_distance(&sector(0.0, h), &sector(h * k as f64, h));
        assert_eq!(c.penetrates, k == 0, "sector {k}");
    }
}

#[test]
fn overlaps_of_every_kind_penetrate() {
    let a = square(0.0, 0.0, 10.0);
    let deep = |a: &Region, b: &Region| {
        for c in [region_distance(a, b), region_distance(b, a)] {
            assert!(c.penetrates && c.distance == 0.0);
            assert!(signed_distance(c.a, a) < 1e-9 && signed_distance(c.a, b) < 1e-9, "{c:?}");
        }
    };
    // A crossing, one inside the other, a disc through an edge, a cross of two bars (no corner inside).
    deep(&a, &square(5.0, 5.0, 10.0));
    deep(&a, &square(3.0, 3.0, 2.0));
    deep(&a, &disc(12.0, 5.0, 2.1));
    deep(&Ring::rect(v(-20.0, -1.0), v(20.0, 1.0)).into(), &Ring::rect(v(-1.0, -20.0), v(1.0, 20.0)).into());
    // The very same outline, and one sharing three edges, have all corners on each other's outline.
    deep(&a, &a);
    deep(&a, &Ring::rect(v(0.0, 0.0), v(10.0, 6.0)).into());
    // A thousandth deep is enough; so is ten times the tolerance.
    deep(&a, &square(9.999, 0.0, 10.0));
    deep(&a, &square(10.0 - 1e-8, 0.0, 10.0));
    deep(&washer(5.0, 20.0), &disc(2.001, 0.0, 3.0));
    // Islands: a disc in the hole of a washer is clear, as is the washer around it.
    let c = region_distance(&washer(5.0, 20.0), &disc(1.0, 0.0, 2.0));
    assert!(!c.penetrates && (c.distance - 2.0).abs() < 1e-12);
}

#[test]
fn empty_bodies_are_infinitely_far() {
    let c = region_distance(&Region::default(), &square(0.0, 0.0, 1.0));
    assert!(c.distance.is_infinite() && !c.penetrates);
    let still = Pose2::default();
    let (e, s) = (Prepared::new(&Region::default()), Prepared::new(&square(0.0, 0.0, 1.0)));
    assert!(e.distance_at_least(&still, &s, &still, 1e9) && !e.contains(Vec2::ZERO));
}

#[test]
fn distance_agrees_with_brute_force() {
    always(150, (region(), region(), pose(250.0), pose(250.0)), |(a, b, p, q)| {
        let c = Prepared::new(&a).clearance(&p, &Prepared::new(&b), &q);
        let (a, b) = (a.moved(&p), b.moved(&q));
        let (pa, step_a) = samples(&a, 40);
        let (pb, step_b) = samples(&b, 40);
        let brute = pa.iter().flat_map(|x| pb.iter().map(|y| x.dist(*y))).fold(f64::INFINITY, f64::min);
        // A sampled overlap proves a penetration; the other way only for overlaps the samples can see.
        let overlap = pa.iter().any(|&x| signed_distance(x, &b) < -1e-6)
            || pb.iter().any(|&y| signed_distance(y, &a) < -1e-6);
        if overlap {
            prop_assert!(c.penetrates);
        }
        if c.penetrates {
            prop_assert!(signed_distance(c.a, &a) <= 1e-9 && signed_distance(c.a, &b) <= 1e-9);
        } else {
            // No sampled pair is nearer, and none misses by more than the spacing explains.
            prop_assert!(c.distance <= brute + 1e-9, "{} over {brute}", c.distance);
            prop_assert!(brute <= c.distance + 0.5 * (step_a + step_b) + 1e-9);
            close(c.a.dist(c.b), c.distance, 1e-9)?;
            prop_assert!(signed_distance(c.a, &a).abs() < 1e-8 && signed_distance(c.b, &b).abs() < 1e-8);
        }
        Ok(())
    });
}

#[test]
fn distance_keeps_under_exchange_and_motion() {
    always(300, (region(), region(), pose(250.0), pose(250.0)), |(a, b, p, q)| {
        let still = Pose2::default();
        let (fa, fb) = (Prepared::new(&a), Prepared::new(&b));
        let c = fa.clearance(&p, &fb, &still);
        let back = fb.clearance(&still, &fa, &p);
        close(c.distance, back.distance, 1e-9)?;
        prop_assert_eq!(c.penetrates, back.penetrates);
        let both = fa.clearance(&q.after(&p), &fb, &q);
        close(c.distance, both.distance, 1e-9)?;
        prop_assert_eq!(c.penetrates, both.penetrates);
        // Moved in fact rather than by pose.
        let moved = region_distance(&a.moved(&p), &b);
        close(c.distance, moved.distance, 1e-9)?;
        prop_assert_eq!(c.penetrates, moved.penetrates);
        Ok(())
    });
}

#[test]
fn limits_agree_with_the_distance() {
    always(300, (region(), region(), pose(250.0), 0.0..120.0f64), |(a, b, p, limit)| {
        let still = Pose2::default();
        let (fa, fb) = (Prepared::new(&a), Prepared::new(&b));
        let c = fa.clearance(&p, &fb, &still);
        let clear = !c.penetrates && c.distance >= limit;
        prop_assert_eq!(fa.distance_at_least(&p, &fb, &still, limit), clear);
        let within = fa.clearance_within(&p, &fb, &still, limit);
        prop_assert_eq!(within.is_none(), clear);
        if let Some(w) = within {
            prop_assert_eq!(w.penetrates, c.penetrates);
            close(w.distance, c.distance, 1e-12)?;
        }
        prop_assert_eq!(fa.distance_at_least(&p, &fb, &still, 0.0), !c.penetrates);
        Ok(())
    });
}

#[test]
fn inside_agrees_with_the_flattened_outline() {
    always(200, (region(), -110.0..110.0f64, -110.0..110.0f64), |(r, x, y)| {
        let p = v(x, y);
        // Ordinary ray casting over a fine polygon, for points further off than the chords stray.
        let even_odd = r.rings().fold(false, |inside, ring| {
            let pts = ring.flatten(1e-4);
            (0..pts.len()).fold(inside, |inside, i| {
                let (a, b) = (pts[i], pts[(i + 1) % pts.len()]);
                let hit = (a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x);
                inside != hit
            })
        });
        if signed_distance(p, &r).abs() > 1e-3 {
            prop_assert_eq!(point_in_region(p, &r), even_odd);
            prop_assert_eq!(signed_distance(p, &r) < 0.0, even_odd);
        }
        Ok(())
    });
}
