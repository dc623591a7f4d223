//! Views of solids whose edges are known in closed form.

use crate::*;
use core::f64::consts::PI;
use turnleaf_geom::{Pose2, Region, Ring, vec2::v};
use turnleaf_parts::Layer;

fn block(ring: Ring, z0: f64, z1: f64) -> Layer {
    Layer { region: Region::from(ring), z0, z1 }
}

fn body(id: &str, layers: Vec<Layer>) -> Body {
    Body::upright(id, layers, &Pose2::default(), 0.0)
}

fn cube() -> Body {
    body("cube", vec![block(Ring::rect(v(0.0, 0.0), v(1.0, 1.0)), 0.0, 1.0)])
}

fn iso(bodies: &[Body]) -> View {
    project(bodies, &[], &Projection::Isometric(Corner::FrontRight), &Options::default())
}

fn lengths(strokes: &[Stroke2]) -> Vec<f64> {
    let mut l: Vec<f64> = strokes.iter().map(|s| s.curve.length()).collect();
    l.sort_by(f64::total_cmp);
    l
}

#[test]
fn cube_from_a_corner() {
    for corner in [Corner::FrontRight, Corner::FrontLeft, Corner::BackRight, Corner::BackLeft] {
        let view = project(&[cube()], &[], &Projection::Isometric(corner), &Options::default());
        assert_eq!((view.visible.len(), view.hidden.len()), (9, 3));
        for s in view.visible.iter().chain(&view.hidden) {
            // √(2/3), ISO 5456-3 isometric projection.
            assert!((s.curve.length() - 0.816_496_580_927_726).abs() < 1e-12);
        }
    }
}

#[test]
fn cylinder_from_a_corner() {
    let rod = body("rod", vec![block(Ring::circle(v(0.0, 0.0), 1.0), 0.0, 2.0)]);
    let view = iso(&[rod]);
    // Figures of a general geometry kernel for the same solid (r 1, h 2): silhouettes 2 × 1.63299,
    // top rim 5.04474, bottom rim half seen, half hidden, 2.52237 each.
    let seen = lengths(&view.visible);
    for (got, want) in seen.iter().zip([1.63299, 1.63299, 2.52237, 5.04474]) {
        assert!((got - want).abs() < 5e-6, "{seen:?}");
    }
    assert_eq!(seen.len(), 4);
    let hidden = lengths(&view.hidden);
    assert_eq!(hidden.len(), 1);
    assert!((hidden[0] - 2.52237).abs() < 5e-6);
    assert_eq!(view.visible.iter().filter(|s| s.kind == EdgeKind::Silhouette).count(), 2);
}

#[test]
fn cylinder_from_the_six_sides() {
    let rod = body("rod", vec![block(Ring::circle(v(0.0, 0.0), 1.0), 0.0, 2.0)]);
    for p in [Projection::Plan, Projection::Bottom] {
        let view = project(core::slice::from_ref(&rod), &[], &p, &Options::default());
        assert_eq!((view.visible.len(), view.hidden.len()), (1, 0), "{p:?}");
        assert!((view.visible[0].curve.length() - 2.0 * PI).abs() < 1e-12);
    }
    for p in [Projection::Front, Projection::Rear, Projection::Left, Projection::Right] {
        let view = project(core::slice::from_ref(&rod), &[], &p, &Options::default());
        assert_eq!((view.visible.len(), view.hidden.len()), (4, 0), "{p:?}: {:?}", view);
        assert!((view.visible_length() - 8.0).abs() < 1e-9);
        let (lo, hi) = view.bounds;
        assert!((hi.x - lo.x - 2.0).abs() < 1e-9 && (hi.y - lo.y - 2.0).abs() < 1e-9);
    }
}

#[test]
fn plate_with_a_hole_shows_it_hidden_in_front() {
    let region = Region {
        outer: Ring::rect(v(-5.0, -5.0), v(5.0, 5.0)),
        holes: vec![Ring::circle(v(1.0, 0.0), 2.0).reversed()],
    };
    let plate = body("plate", vec![Layer { region, z0: 0.0, z1: 1.0 }]);
    let front = project(core::slice::from_ref(&plate), &[], &Projection::Front, &Options::default());
    assert_eq!(front.visible.len(), 4);
    assert_eq!(lengths(&front.hidden).len(), 2);
    assert!((front.hidden_length() - 2.0).abs() < 1e-9);
    let plan = project(&[plate], &[], &Projection::Plan, &Options::default());
    assert_eq!((plan.visible.len(), plan.hidden.len()), (5, 0));
    assert!((plan.visible_length() - 40.0 - 4.0 * PI).abs() < 1e-9);
}

#[test]
fn layers_of_one_body_show_no_joint() {
    let square = Ring::rect(v(0.0, 0.0), v(1.0, 1.0));
    let pile = body("pile", vec![block(square.clone(), 0.0, 0.4), block(square, 0.4, 1.0)]);
    let view = iso(&[pile]);
    assert_eq!((view.visible.len(), view.hidden.len()), (9, 3));
    assert!((view.visible_length() - 9.0 * (2.0_f64 / 3.0).sqrt()).abs() < 1e-9);
}

#[test]
fn touching_bodies_draw_their_seam_once() {
    let b = |id: &str, x: f64| body(id, vec![block(Ring::rect(v(x, 0.0), v(x + 1.0, 1.0)), 0.0, 1.0)]);
    let view = iso(&[b("left", 0.0), b("right", 1.0)]);
    // A 2 × 1 × 1 box with a seam over the top and down the front.
    let scale = (2.0_f64 / 3.0).sqrt();
    assert!((view.visible_length() - (3.0 * 2.0 + 6.0 + 2.0) * scale).abs() < 1e-9, "{:?}", view.visible);
}

#[test]
fn pocket_floor_is_seen_through_its_mouth() {
    let outer = Ring::rect(v(0.0, 0.0), v(10.0, 10.0));
    let mouth = Ring::rect(v(3.0, 3.0), v(7.0, 7.0));
    let ring = Region { outer: outer.clone(), holes: vec![mouth.reversed()] };
    let plate = body("plate", vec![block(outer, 0.0, 2.0), Layer { region: ring, z0: 2.0, z1: 3.0 }]);
    let plan = project(core::slice::from_ref(&plate), &[], &Projection::Plan, &Options::default());
    assert!((plan.visible_length() - 56.0).abs() < 1e-9);
    assert!(plan.hidden.is_empty());
    // In front the floor shows hidden between the two hidden pocket walls.
    let front = project(&[plate], &[], &Projection::Front, &Options::default());
    assert!((front.visible_length() - 26.0).abs() < 1e-9);
    assert!((front.hidden_length() - 6.0).abs() < 1e-9, "{:?}", front.hidden);
}
