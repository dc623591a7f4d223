//! Measures: against elementary closed forms, against fine polygons, and against brute force.

mod common;

use common::{always, close, pose, region, ring, samples};
use core::f64::consts::PI;
use proptest::prelude::*;
use turnleaf_geom::hausdorff::hausdorff;
use turnleaf_geom::measure::{
    Moments, box_along, perimeter, principal_box, symmetric_difference_area, total_perimeter,
};
use turnleaf_geom::offset::inset;
use turnleaf_geom::vec2::v;
use turnleaf_geom::{Pose2, Prepared, Region, Ring, Vec2, Vertex};

fn near(a: f64, b: f64, relative: f64) {
    assert!((a - b).abs() <= relative * b.abs().max(1e-12), "{a} instead of {b}");
}

#[test]
fn regular_polygons_have_the_published_size() {
    let regular = |n: usize| {
        let c = |i: usize| Vec2::polar(1.0, i as f64 * 2.0 * PI / n as f64);
        Ring::polygon(&(0..n).map(c).collect::<Vec<_>>())
    };
    // Regular hexagon, R = 1: perimeter 6, area 2.5980762, inradius 0.8660254 (matheass.eu example).
    let hexagon = regular(6);
    near(perimeter(&hexagon), 6.0, 1e-14);
    near(hexagon.area(), 2.5980762, 2e-8);
    let m = Moments::of(&hexagon.clone().into());
    assert!(m.centroid.norm() < 1e-14);
    // Second moment 5√3/16·side⁴ about any axis through the middle (elementary).
    near(m.ix, 5.0 * 3.0_f64.sqrt() / 16.0, 1e-13);
    near(m.iy, m.ix, 1e-13);
    assert_eq!(m.principal().angle, 0.0);
    near(box_along(&hexagon.into(), PI / 2.0).size.x / 2.0, 0.8660254, 5e-8);
    // Pentagon, R = 1: side 1.17557 (ronreynolds.com).
    near(perimeter(&regular(5)) / 5.0, 1.17557, 1e-6);
}

#[test]
fn round_shapes_by_closed_forms() {
    let disc = Region::from(Ring::circle(v(100.0, -50.0), 20.0));
    let m = Moments::of(&disc);
    near(m.area, PI * 400.0, 1e-13);
    assert!(m.centroid.dist(v(100.0, -50.0)) < 1e-11);
    near(m.ix, PI * 160_000.0 / 4.0, 1e-11);
    near(m.polar_about(Vec2::ZERO), PI * 160_000.0 / 2.0 + m.area * 12_500.0, 1e-12);
    near(total_perimeter(&disc), 40.0 * PI, 1e-14);
    // Half disc: centroid 4r/3π from the flat side, I = r⁴(π/8 − 8/9π) along it (elementary).
    let half = Region::from(Ring {
        vertices: vec![Vertex { p: v(-3.0, 0.0), bulge: 0.0 }, Vertex { p: v(3.0, 0.0), bulge: 1.0 }],
    });
    let m = Moments::of(&half);
    near(m.centroid.y, 4.0 / PI, 1e-14);
    near(m.ix, 81.0 * (PI / 8.0 - 8.0 / (9.0 * PI)), 1e-12);
    near(m.iy, 81.0 * PI / 8.0, 1e-13);
    // A round shaft of 20 with the second moment 7853.98 mm⁴, bored 10: less 1/16 of it.
    let tube = Region { outer: Ring::circle(Vec2::ZERO, 10.0), holes: vec![Ring::circle(Vec2::ZERO, 5.0)] };
    near(Moments::of(&tube).ix, 7853.98 * 15.0 / 16.0, 1e-6);
    // Very flat and a little less flat arcs join up.
    let bow = |sagitta: f64| {
        let m = Moments::of(&Region::from(Ring {
            vertices: vec![
                Vertex { p: v(-100.0, 0.0), bulge: sagitta / 100.0 },
                Vertex { p: v(100.0, 0.0), bulge: 0.0 },
            ],
        }));
        (m.area / sagitta, m.iy / sagitta, m.centroid.y / sagitta, m.ix / (sagitta * sagitta * sagitta))
    };
    for (under, over) in [(0.0499, 0.0501), (0.499, 0.501)] {
        let (flat, less) = (bow(under), bow(over));
        near(flat.0, less.0, 1e-6);
        near(flat.1, less.1, 1e-6);
        near(flat.2, less.2, 1e-6);
        // Across the bow: some thousandths of a moment that is itself a millionth of the other.
        near(flat.3, less.3, 2e-3);
    }
    // A parabola's area, second moments and centroid: 2/3·c·s, A·c²/20, A·s²·12/175, 2/5·s.
    let flat = bow(1e-4);
    near(flat.0, 400.0 / 3.0, 1e-9);
    near(flat.1, 400.0 / 3.0 * 2000.0, 1e-9);
    near(flat.2, -0.4, 1e-9);
    near(flat.3, 400.0 / 3.0 * 12.0 / 175.0, 1e-9);
}

#[test]
fn principal_axes_follow_the_turn() {
    let bar = Region::from(Ring::rect(v(-30.0, -5.0), v(30.0, 5.0)));
    for turn in [0.0, 0.4, -0.9, 1.5] {
        let r = bar.moved(&Pose2::new(turn, v(400.0, 300.0)));
        let m = Moments::of(&r);
        let p = m.principal();
        near(p.largest, 10.0 * 60.0_f64.powi(3) / 12.0, 1e-10);
        near(p.smallest, 60.0 * 10.0_f64.powi(3) / 12.0, 1e-9);
        assert!((p.angle - turn).abs() < 1e-12);
        let b = principal_box(&r);
        assert!(b.size.dist(v(60.0, 10.0)) < 1e-10 && b.centre.dist(v(400.0, 300.0)) < 1e-10);
    }
    // Two halves taken together are the whole.
    let halves = [
        Moments::of(&Ring::rect(v(-30.0, -5.0), v(10.0, 5.0)).into()),
        Moments::of(&Ring::rect(v(10.0, -5.0), v(30.0, 5.0)).into()),
    ];
    let (t, w) = (Moments::together(&halves), Moments::of(&bar));
    near(t.ix, w.ix, 1e-13);
    near(t.iy, w.iy, 1e-13);
    assert!(t.centroid.dist(w.centroid) < 1e-13);
}

#[test]
fn nothing_measures_nothing() {
    assert_eq!(Moments::of(&Region::default()), Moments::default());
    assert_eq!(Moments::together(&[]), Moments::default());
    assert_eq!(box_along(&Region::default(), 1.0).size, Vec2::ZERO);
    assert_eq!(perimeter(&Ring::default()), 0.0);
}

#[test]
fn moments_agree_with_a_fine_polygon() {
    always(150, (region(), pose(500.0)), |(r, p)| {
        let r = r.moved(&p);
        let flat = Region {
            outer: Ring::polygon(&r.outer.flatten(1e-5)),
            holes: r.holes.iter().map(|h| Ring::polygon(&h.flatten(1e-5))).collect(),
        };
        let (m, f) = (Moments::of(&r), Moments::of(&flat));
        // A chord 1e-5 off its arc changes area by less than that times the outline's length (900 mm).
        close(m.area, f.area, 0.01)?;
        close(m.area, r.area(), 1e-8)?;
        close(m.centroid.dist(f.centroid), 0.0, 1e-4)?;
        for (a, b) in [(m.ix, f.ix), (m.iy, f.iy), (m.ixy, f.ixy)] {
            close(a, b, 1e-5 * m.polar())?;
        }
        close(total_perimeter(&r), total_perimeter(&flat), 1e-3)
    });
}

#[test]
fn moments_turn_and_shift_as_they_should() {
    always(150, (region(), pose(300.0)), |(r, p)| {
        let (m, n) = (Moments::of(&r), Moments::of(&r.moved(&p)));
        close(m.area, n.area, 1e-8)?;
        close(p.apply(m.centroid).dist(n.centroid), 0.0, 1e-8)?;
        close(m.polar(), n.polar(), 1e-9 * m.polar())?;
        close(m.principal().largest, n.principal().largest, 1e-9 * m.polar())?;
        // Both ways round mean the same region.
        let back = Region { outer: r.outer.reversed(), holes: r.holes.iter().map(Ring::reversed).collect() };
        close(Moments::of(&back).polar(), m.polar(), 1e-9 * m.polar())
    });
}

#[test]
fn boxes_hold_the_outline_tightly() {
    always(150, (region(), -3.2..3.2f64), |(r, angle)| {
        let b = box_along(&r, angle);
        let turn = Pose2::new(-angle, Vec2::ZERO);
        let (pts, step) = samples(&r, 200);
        let mut most = Vec2::ZERO;
        for p in pts {
            let q = turn.apply(p - b.centre);
            most = v(most.x.max(q.x.abs()), most.y.max(q.y.abs()));
        }
        prop_assert!(most.x <= b.size.x / 2.0 + 1e-9 && most.y <= b.size.y / 2.0 + 1e-9);
        prop_assert!(most.x >= b.size.x / 2.0 - step && most.y >= b.size.y / 2.0 - step);
        Ok(())
    });
}

#[test]
fn worst_disagreement_by_hand() {
    let square = |x: f64, side: f64| Region::from(Ring::rect(v(x, 0.0), v(x + side, side)));
    let circle = |x: f64, r: f64| Region::from(Ring::circle(v(x, 0.0), r));
    let tolerance = 1e-9;
    let check = |a: &Region, b: &Region, expected: f64| {
        for h in [hausdorff(a, b, tolerance), hausdorff(b, a, tolerance)] {
            assert!((h.distance - expected).abs() < 2e-9, "{} instead of {expected}", h.distance);
            assert!(h.at_most >= h.distance && h.at_most <= h.distance + 2e-9, "{h:?}");
            assert!((h.at.dist(h.nearest) - h.distance).abs() < 1e-9);
        }
    };
    check(&square(0.0, 10.0), &square(0.0, 10.0), 0.0);
    check(&square(0.0, 10.0), &square(3.0, 10.0), 3.0);
    // Corner of the larger against the corner of the smaller.
    check(&square(0.0, 10.0), &square(0.0, 12.0), 8.0_f64.sqrt());
    check(&circle(0.0, 10.0), &circle(0.0, 13.0), 3.0);
    // Circles of radii 10 and 13, centres 2 apart: 3 + 2.
    check(&circle(0.0, 10.0), &circle(2.0, 13.0), 5.0);
    // A notch only one of them has: depth 4 from the edge it cuts.
    let notched = Region::from(Ring::polygon(&[
        v(0.0, 0.0),
        v(40.0, 0.0),
        v(40.0, 20.0),
        v(25.0, 20.0),
        v(20.0, 16.0),
        v(15.0, 20.0),
        v(0.0, 20.0),
    ]));
    check(&notched, &Ring::rect(Vec2::ZERO, v(40.0, 20.0)).into(), 4.0);
    assert!(hausdorff(&square(0.0, 1.0), &Region::default(), 1e-6).distance.is_infinite());
}

#[test]
fn worst_disagreement_agrees_with_brute_force() {
    always(80, (region(), region(), pose(60.0)), |(a, b, p)| {
        let b = b.moved(&p);
        let h = hausdorff(&a, &b, 1e-6);
        prop_assert!(h.distance <= h.at_most && h.at_most <= h.distance + 2e-6);
        let one_way = |a: &Region, b: &Region| {
            let body = Prepared::new(b);
            let (pts, step) = samples(a, 60);
            let worst =
                pts.iter().filter_map(|&x| body.nearest(x)).map(|n| n.0.d2.sqrt()).fold(0.0, f64::max);
            (worst, step)
        };
        let ((there, s), (back, t)) = (one_way(&a, &b), one_way(&b, &a));
        prop_assert!(h.at_most >= there.max(back) - 1e-9);
        prop_assert!(h.distance <= (there + s / 2.0).max(back + t / 2.0) + 1e-9);
        let other = hausdorff(&b, &a, 1e-6);
        close(other.distance, h.distance, 2e-6)
    });
}

#[test]
fn small_changes_show_as_small_differences() {
    always(60, (ring(), 0.001..0.5f64, -3.0..3.0f64), |(r, d, dir)| {
        let a = Region::from(r.clone());
        let b = a.moved(&Pose2::new(0.0, Vec2::polar(d, dir)));
        prop_assert!(hausdorff(&a, &b, 1e-7).at_most <= d + 1e-6);
        let area = symmetric_difference_area(&a, &b);
        prop_assert!(area.as_ref().is_ok_and(|x| *x > 0.0 && *x <= 2.0 * d * perimeter(&r)), "{:?}", area);
        if let Ok(s) = inset(&r, d) {
            // All of the inset is exactly d from the original; mitred corners are further.
            let h = hausdorff(&s.clone().into(), &a, 1e-7);
            prop_assert!(h.at_most >= d - 1e-6);
            let area = symmetric_difference_area(&a, &s.clone().into());
            close(area.unwrap(), r.area() - s.area(), 1e-6)?;
        }
        Ok(())
    });
}

/// A disc in a disc: the larger reaches beyond the smaller by the difference of radii less the offset of the
/// centres at the near side, plus it at the far side (plane geometry).
#[test]
fn how_far_one_disc_reaches_beyond_another() {
    use turnleaf_geom::hausdorff::{beyond, depth_in};
    let disc = |x: f64, r: f64| Region { outer: Ring::circle(v(x, 0.0), r), holes: Vec::new() };
    let (small, large) = (disc(2.0, 10.0), disc(0.0, 15.0));
    assert!(beyond(&small, &large, 1e-6).distance < 1e-9);
    let d = beyond(&large, &small, 1e-6).distance;
    assert!((d - 7.0).abs() < 1e-5, "{d}");
    // A washer lacks its hole: the hole's rim lies as deep in the disc as the washer is wide.
    let washer = Region {
        outer: Ring::circle(v(0.0, 0.0), 15.0),
        holes: vec![Ring::circle(v(0.0, 0.0), 4.0).reversed()],
    };
    let d = beyond(&large, &washer, 1e-6).distance;
    assert!((d - 11.0).abs() < 1e-5, "{d}");
    assert!(beyond(&washer, &large, 1e-6).distance < 1e-9);
    let d = depth_in(&Ring::circle(v(12.0, 0.0), 4.0), &large, 1e-6).distance;
    assert!((d - 7.0).abs() < 1e-5, "{d}");
}
