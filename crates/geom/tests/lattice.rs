//! Shapes that share corners, edges, circles and tangents: where distances and booleans must agree.

mod common;

use common::{always, close, lattice_pose, lattice_ring};
use proptest::prelude::*;
use turnleaf_geom::boolean::{difference, intersection, polygon_area_check, union, union_all};
use turnleaf_geom::distance::region_distance;
use turnleaf_geom::hausdorff::hausdorff;
use turnleaf_geom::offset::{inset, outset};
use turnleaf_geom::{Pose2, Prepared, Region};

/// How many pairs.
const CASES: u32 = 600;

fn area(r: &[Region]) -> f64 {
    r.iter().map(Region::area).sum()
}

#[test]
fn penetration_means_a_shared_area() {
    // Not with cusps: their points are thinner than any tolerance.
    let ring = || lattice_ring().prop_filter("no cusp", |r| inset(r, 1e-6).is_ok());
    always(CASES, (ring(), ring(), lattice_pose()), |(a, b, p)| {
        let (a, b) = (Region::from(a), Region::from(b).moved(&p));
        let shared = intersection(&a, &b);
        prop_assert!(shared.is_ok(), "{:?}", shared);
        let shared = area(&shared.unwrap());
        let c = region_distance(&a, &b);
        if !c.penetrates {
            // Up to the touching tolerance along all of an outline.
            prop_assert!(shared < 1e-7, "shared {}, {:?}", shared, c);
        } else if shared == 0.0 {
            // Booleans drop what is thinner than they can tell; it must be gone after a shave of 1e-5.
            let less = Region::from(inset(&a.outer, 1e-5).unwrap());
            prop_assert!(!region_distance(&less, &b).penetrates, "{:?}", c);
        }
        Ok(())
    });
}

#[test]
fn areas_add_up() {
    always(CASES, (lattice_ring(), lattice_ring(), lattice_pose()), |(a, b, p)| {
        let (a, b) = (Region::from(a), Region::from(b).moved(&p));
        let check = polygon_area_check(&a, &b);
        prop_assert!(check.as_ref().is_ok_and(|c| c.residual < 1e-4), "{:?}", check);
        // Taken apart and put together again.
        let mut pieces = difference(&a, &b).unwrap();
        pieces.extend(intersection(&a, &b).unwrap());
        pieces.extend(difference(&b, &a).unwrap());
        let whole = union_all(&pieces);
        prop_assert!(whole.is_ok(), "{:?}", whole);
        close(area(&whole.unwrap()), area(&union(&a, &b).unwrap()), 1e-4)
    });
}

#[test]
fn distances_hold_between_neighbours() {
    always(CASES, (lattice_ring(), lattice_ring(), lattice_pose()), |(a, b, p)| {
        let (a, b) = (Region::from(a), Region::from(b));
        let (fa, fb) = (Prepared::new(&a), Prepared::new(&b));
        let still = Pose2::default();
        let c = fa.clearance(&still, &fb, &p);
        let back = fb.clearance(&p, &fa, &still);
        prop_assert_eq!(c.penetrates, back.penetrates);
        close(c.distance, back.distance, 1e-9)?;
        prop_assert_eq!(fa.distance_at_least(&still, &fb, &p, 0.0), !c.penetrates);
        prop_assert_eq!(fa.distance_at_least(&still, &fb, &p, 1e-3), !c.penetrates && c.distance >= 1e-3);
        let h = hausdorff(&a, &b.moved(&p), 1e-5);
        prop_assert!(h.at_most <= h.distance + 2e-5, "{:?}", h);
        Ok(())
    });
}

#[test]
fn insets_stay_inside_and_outsets_outside() {
    always(CASES, (lattice_ring(), 0.05..3.0f64), |(r, d)| {
        let whole = Region::from(r.clone());
        if let Ok(s) = inset(&r, d) {
            let s = Region::from(s);
            prop_assert!(s.area() < whole.area());
            let beyond = difference(&s, &whole);
            prop_assert!(beyond.as_ref().is_ok_and(|x| area(x) < 1e-6), "{:?}", beyond);
        }
        if let Ok(s) = outset(&r, d) {
            let s = Region::from(s);
            let missing = difference(&whole, &s);
            prop_assert!(missing.as_ref().is_ok_and(|x| area(x) < 1e-6), "{:?}", missing);
        }
        Ok(())
    });
}
