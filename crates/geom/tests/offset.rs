//! Moved outlines: against elementary geometry, and kept distance for random outlines.

mod common;

use common::{always, close, pose, ring, samples};
use core::f64::consts::PI;
use proptest::prelude::*;
use turnleaf_geom::distance::{point_seg_distance, signed_distance};
use turnleaf_geom::offset::{inset, inset_region, outset, shift_edges};
use turnleaf_geom::vec2::v;
use turnleaf_geom::{Region, Ring, Trouble, Vec2, Vertex};

fn regular(n: usize, radius: f64) -> Ring {
    let corner = |i: usize| Vec2::polar(radius, i as f64 * 2.0 * PI / n as f64);
    Ring::polygon(&(0..n).map(corner).collect::<Vec<_>>())
}

/// A star of `n` points, outer and inner radius.
fn star(n: usize, outer: f64, inner: f64) -> Ring {
    let corner =
        |i: usize| Vec2::polar(if i.is_multiple_of(2) { outer } else { inner }, i as f64 * PI / n as f64);
    Ring::polygon(&(0..2 * n).map(corner).collect::<Vec<_>>())
}

#[test]
fn hexagon_inset_to_the_next_apothem() {
    // Apothem of a hexagon of radius R is R·√3/2; an inset by 10 leaves apothem less 10.
    let r = inset(&regular(6, 100.0), 10.0).unwrap();
    let radius = 100.0 - 10.0 * 2.0 / 3.0_f64.sqrt();
    for (i, q) in r.vertices.iter().enumerate() {
        assert!(q.p.dist(Vec2::polar(radius, i as f64 * PI / 3.0)) < 1e-11);
    }
    // Clockwise rings shrink alike, and growing undoes shrinking.
    let cw = inset(&regular(6, 100.0).reversed(), 10.0).unwrap();
    assert!((cw.area() + r.area()).abs() < 1e-8);
    let back = outset(&r, 10.0).unwrap();
    assert!((back.area() - regular(6, 100.0).area()).abs() < 1e-8);
}

#[test]
fn star_keeps_its_sharp_points() {
    let s = star(6, 400.0, 200.0);
    let r = inset(&s, 0.15).unwrap();
    assert_eq!(r.vertices.len(), 12);
    // Mitre at a point of half angle α moves it in by d / sin α; by the law of sines at the point.
    let edge = v(400.0, 0.0).dist(Vec2::polar(200.0, PI / 6.0));
    let sin_alpha = 200.0 * 0.5 / edge;
    assert!((r.vertices[0].p.x - (400.0 - 0.15 / sin_alpha)).abs() < 1e-10);
    assert!(r.vertices[0].p.y.abs() < 1e-10);
}

#[test]
fn half_disc_has_exact_corners() {
    // Half disc of radius 50, flat side down; inset by 5: radius 45, flat side at 5.
    let r = Ring {
        vertices: vec![Vertex { p: v(-50.0, 0.0), bulge: 0.0 }, Vertex { p: v(50.0, 0.0), bulge: 1.0 }],
    };
    let s = inset(&r, 5.0).unwrap();
    let x = (45.0f64 * 45.0 - 25.0).sqrt();
    assert!(s.vertices[0].p.dist(v(-x, 5.0)) < 1e-11 && s.vertices[1].p.dist(v(x, 5.0)) < 1e-11);
    // Outset: radius 55, flat side at -5, corners outside the half circle.
    let g = outset(&r, 5.0).unwrap();
    let x = (55.0f64 * 55.0 - 25.0).sqrt();
    assert!(g.vertices[0].p.dist(v(-x, -5.0)) < 1e-11 && g.vertices[1].p.dist(v(x, -5.0)) < 1e-11);
}

#[test]
fn smooth_joins_stay_smooth() {
    let s = inset(&Ring::slot(v(0.0, 0.0), v(30.0, 10.0), 8.0), 3.0).unwrap();
    let expected = Ring::slot(v(0.0, 0.0), v(30.0, 10.0), 5.0);
    for (p, q) in s.vertices.iter().zip(&expected.vertices) {
        assert!(p.p.dist(q.p) < 1e-11 && (p.bulge - q.bulge).abs() < 1e-12);
    }
    let c = outset(&Ring::circle(v(3.0, 4.0), 10.0), 2.5).unwrap();
    assert!((c.area() - PI * 12.5 * 12.5).abs() < 1e-9);
}

#[test]
fn too_far_is_an_error_that_names_the_edge() {
    for (r, d) in [
        (Ring::rect(v(0.0, 0.0), v(40.0, 10.0)), 5.0),
        (Ring::rect(v(0.0, 0.0), v(40.0, 10.0)), 6.0),
        (Ring::circle(Vec2::ZERO, 10.0), 10.0),
        (Ring::circle(Vec2::ZERO, 10.0), 12.0),
        (star(5, 100.0, 40.0), 60.0),
        (Ring::slot(v(0.0, 0.0), v(30.0, 0.0), 8.0), 8.0),
    ] {
        let e = inset(&r, d).unwrap_err();
        assert_eq!(e.trouble, Trouble::Collapses, "{e}");
        assert!(e.sentence.ends_with('.') && e.sentence.len() > 20, "{e}");
    }
    // A dumbbell with a neck 4 wide: all edges survive an inset by 3, but the neck does not.
    let neck = Ring::polygon(&[
        v(0.0, 0.0),
        v(20.0, 0.0),
        v(20.0, 8.0),
        v(40.0, 8.0),
        v(40.0, 0.0),
        v(60.0, 0.0),
        v(60.0, 20.0),
        v(40.0, 20.0),
        v(40.0, 12.0),
        v(20.0, 12.0),
        v(20.0, 20.0),
        v(0.0, 20.0),
    ]);
    assert!(inset(&neck, 1.9).is_ok());
    assert_eq!(inset(&neck, 3.0).unwrap_err().trouble, Trouble::Collapses);
    // Growing closes a notch 8 wide.
    assert!(outset(&neck, 9.9).is_ok());
    assert_eq!(outset(&neck, 10.1).unwrap_err().trouble, Trouble::Collapses);
}

#[test]
fn bad_input_is_refused_in_words() {
    let bow = Ring::polygon(&[v(0.0, 0.0), v(10.0, 10.0), v(10.0, 0.0), v(0.0, 12.0)]);
    assert_eq!(inset(&bow, 0.1).unwrap_err().trouble, Trouble::CrossesItself);
    let nan = Ring::polygon(&[v(0.0, 0.0), v(f64::NAN, 10.0), v(10.0, 0.0)]);
    assert_eq!(inset(&nan, 0.1).unwrap_err().trouble, Trouble::NotFinite);
    assert_eq!(inset(&Ring::default(), 0.1).unwrap_err().trouble, Trouble::Empty);
    let r = Ring::rect(v(0.0, 0.0), v(4.0, 4.0));
    assert_eq!(inset(&r, f64::INFINITY).unwrap_err().trouble, Trouble::NotFinite);
    assert_eq!(shift_edges(&r, &[1.0]).unwrap_err().trouble, Trouble::NotFinite);
}

#[test]
fn edges_move_by_their_own_distances() {
    // A tongue of 8 mm along one edge of a panel only.
    let r = shift_edges(&Ring::rect(v(0.0, 0.0), v(40.0, 10.0)), &[0.0, -8.0, 0.0, 1.0]).unwrap();
    assert_eq!(r, Ring::rect(v(1.0, 0.0), v(48.0, 10.0)));
}

#[test]
fn regions_shrink_at_their_openings_too() {
    let plate = Region {
        outer: Ring::rect(v(0.0, 0.0), v(100.0, 60.0)),
        holes: vec![Ring::circle(v(50.0, 30.0), 10.0)],
    };
    let s = inset_region(&plate, 2.0).unwrap();
    assert!((s.area() - (96.0 * 56.0 - PI * 144.0)).abs() < 1e-9);
    assert!(s.outer.area() > 0.0 && s.holes[0].area() < 0.0);
    assert_eq!(inset_region(&plate, 11.0).unwrap_err().trouble, Trouble::Collapses);
}

#[test]
fn moved_outlines_keep_their_distance() {
    let done = core::cell::Cell::new(0u32);
    always(400, (ring(), -8.0..8.0f64, pose(100.0)), |(r, d, p)| {
        let Ok(s) = inset(&r, d) else { return Ok(()) };
        done.set(done.get() + 1);
        prop_assert_eq!(s.vertices.len(), r.vertices.len());
        let (old, new) = (Region::from(r.clone()), Region::from(s.clone()));
        // Every point of the new outline is at least |d| inside (outside).
        for q in samples(&new, 16).0 {
            prop_assert!(signed_distance(q, &old) * d.signum() <= -d.abs() + 1e-6);
        }
        // Every edge runs exactly |d| beside its original, where it runs beside it at all.
        for (e, o) in s.segs().zip(r.segs()) {
            let m = match o {
                turnleaf_geom::Seg::Line(a, b) => a.lerp(b, 0.5),
                turnleaf_geom::Seg::Arc(c) => c.at(0.5),
            };
            let (gap, q) = point_seg_distance(m, &e);
            if q.dist(e.start()) > 1e-6 && q.dist(e.end()) > 1e-6 {
                close(gap, d.abs(), 1e-6)?;
            }
        }
        // There and back.
        if let Ok(back) = outset(&s, d) {
            for (a, b) in back.vertices.iter().zip(&r.vertices) {
                prop_assert!(a.p.dist(b.p) < 1e-6, "{:?} {:?}", a, b);
            }
        }
        // Moving first or last is the same.
        let moved = inset(&r.moved(&p), d);
        prop_assert!(moved.is_ok());
        close(moved.unwrap().area(), s.area(), 1e-6)
    });
    assert!(done.get() > 200, "only {} of the outlines could be moved", done.get());
}
