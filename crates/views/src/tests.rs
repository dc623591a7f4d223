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

fn bored_plate() -> Body {
    let outer = Ring::rect(v(0.0, 0.0), v(40.0, 20.0));
    let bore = Ring::circle(v(10.0, 10.0), 4.0).reversed();
    let pocket = Ring::rect(v(25.0, 5.0), v(35.0, 15.0)).reversed();
    body(
        "plate",
        vec![
            Layer { region: Region { outer: outer.clone(), holes: vec![bore.clone()] }, z0: 0.0, z1: 4.0 },
            Layer { region: Region { outer, holes: vec![bore, pocket] }, z0: 4.0, z1: 10.0 },
        ],
    )
}

fn area(a: &Area) -> f64 {
    a.regions.iter().map(Region::area).sum()
}

#[test]
fn upright_section_through_bore_and_pocket() {
    let cut = Cut { point: v3(0.0, 10.0, 0.0), normal: v3(0.0, -1.0, 0.0) };
    let s = section(&[bored_plate()], &cut, &|_| false, &Options::default());
    // 40 × 10 less an 8 × 10 bore less a 10 × 6 pocket.
    assert_eq!(s.areas.len(), 1);
    assert!((area(&s.areas[0]) - (400.0 - 80.0 - 60.0)).abs() < 1e-6, "{:?}", s.areas);
    // Outline 100, bore walls 2 × 10, pocket 6 + 10 + 6, all in sight; the far rims lie on the outline.
    assert!((s.view.visible_length() - (100.0 + 20.0 + 22.0)).abs() < 1e-6, "{:#?}", s.view.visible);
    assert!(s.view.hidden.is_empty());
}

#[test]
fn level_section_keeps_arcs() {
    let cut = Cut { point: v3(0.0, 0.0, 7.0), normal: v3(0.0, 0.0, 1.0) };
    let s = section(&[bored_plate()], &cut, &|_| false, &Options::default());
    assert!((area(&s.areas[0]) - (800.0 - 16.0 * PI - 100.0)).abs() < 1e-9);
    assert!((s.view.visible_length() - (120.0 + 8.0 * PI + 40.0)).abs() < 1e-9);
}

#[test]
fn cut_through_a_slanted_line_of_a_disc() {
    let disc = body("disc", vec![block(Ring::circle(v(0.0, 0.0), 5.0), 0.0, 2.0)]);
    let cut = Cut { point: v3(0.0, 0.0, 0.0), normal: v3(0.6, -0.8, 0.0) };
    let s = section(&[disc], &cut, &|_| false, &Options::default());
    assert!((area(&s.areas[0]) - 20.0).abs() < 1e-6);
    let (lo, hi) = s.view.bounds;
    assert!((hi.x - lo.x - 10.0).abs() < 1e-6 && (hi.y - lo.y - 2.0).abs() < 1e-9);
}

#[test]
fn uncut_and_touching_bodies_in_a_section() {
    let left = body("left", vec![block(Ring::rect(v(0.0, 0.0), v(10.0, 10.0)), 0.0, 5.0)]);
    // Touches the plane with a face only: stays whole, is not cut.
    let behind = body("behind", vec![block(Ring::rect(v(10.0, 5.0), v(20.0, 10.0)), 0.0, 5.0)]);
    let before = body("before", vec![block(Ring::rect(v(20.0, 0.0), v(30.0, 5.0)), 0.0, 5.0)]);
    let pin = body("pin", vec![block(Ring::circle(v(5.0, 5.0), 1.0), 5.0, 9.0)]);
    let cut = Cut { point: v3(0.0, 5.0, 0.0), normal: v3(0.0, -1.0, 0.0) };
    let s = section(&[left, behind, before, pin], &cut, &|b| b.id == "pin", &Options::default());
    assert_eq!(s.areas.iter().map(|a| a.body).collect::<Vec<_>>(), [0]);
    let ids: std::collections::BTreeSet<&str> = s.view.visible.iter().map(|k| s.view.id(k)).collect();
    assert_eq!(ids.into_iter().collect::<Vec<_>>(), ["behind", "left", "pin"]);
}

#[test]
fn hatching_fills_areas_and_tells_neighbours_apart() {
    let square = |x: f64| Region::from(Ring::rect(v(x, 0.0), v(x + 10.0, 10.0)));
    let areas = [
        Area { body: 0, regions: vec![square(0.0)] },
        Area { body: 1, regions: vec![square(10.0)] },
        Area { body: 2, regions: vec![square(40.0)] },
    ];
    let lines = hatch(&areas, 1.0);
    let direction = |body: usize| {
        let l = lines.iter().find(|l| l.body == body).expect("hatched");
        ((l.b - l.a).angle() * 180.0 / PI).rem_euclid(180.0).round()
    };
    assert_eq!((direction(0), direction(1), direction(2)), (45.0, 135.0, 45.0));
    // Lines 1 apart cover the area: their lengths add up to it, but for the ends of the sweep.
    let total: f64 = lines.iter().filter(|l| l.body == 0).map(|l| l.a.dist(l.b)).sum();
    assert!((total - 100.0).abs() < 2.0, "{total}");
}

#[test]
fn exploded_view_hides_traces_behind_bodies() {
    let block = cube();
    let lifted = Body { id: "lid".into(), ..block.shifted(v3(0.0, 0.0, 3.0)) };
    let trace = Trace { id: "way".into(), from: v3(0.5, 0.5, 0.0), to: v3(0.5, 0.5, 4.0) };
    let view = project(&[block, lifted], &[trace], &Projection::Front, &Options::default());
    let traces: Vec<_> = view.visible.iter().filter(|s| s.kind == EdgeKind::Trace).collect();
    assert_eq!(traces.len(), 1);
    assert!((traces[0].curve.length() - 2.0).abs() < 1e-9);
    assert_eq!(view.id(traces[0]), "way");
}

#[test]
fn paper_keeps_curves_and_pens() {
    use turnleaf_page::{Item, Step, pt};
    let rod = body("rod", vec![block(Ring::circle(v(0.0, 0.0), 30.0), 0.0, 20.0)]);
    let place = paper::Placement { at: pt(100.0, 80.0), scale: 0.5 };
    let view = iso(&[rod]);
    let items = paper::items(&view, &place, &paper::Widths::default());
    let mut pens = Vec::new();
    for item in &items {
        let Item::Group { items, .. } = item else { panic!("groups only") };
        for path in items {
            let Item::Path { steps, stroke: Some(pen), .. } = path else { panic!("stroked paths only") };
            pens.push((pen.width, pen.dash.clone()));
            // Every curve point lies on the rim's ellipse: half axes 15 and 15/√3 on paper.
            let mut from = pt(0.0, 0.0);
            for s in steps {
                match *s {
                    Step::Move(p) | Step::Line(p) => from = p,
                    Step::Cubic(c1, c2, to) => {
                        let mid = |a: f64, b: f64, c: f64, d: f64| (a + 3.0 * b + 3.0 * c + d) / 8.0;
                        let x = mid(from.x, c1.x, c2.x, to.x) - 100.0;
                        let y = mid(from.y, c1.y, c2.y, to.y) - 80.0;
                        let off = [0.0, 20.0 * (2.0_f64 / 3.0).sqrt() * 0.5].map(|lift| {
                            ((x / 15.0).powi(2) + ((y + lift) * 3.0_f64.sqrt() / 15.0).powi(2) - 1.0).abs()
                        });
                        assert!(off[0].min(off[1]) < 2e-5, "{off:?}");
                        from = to;
                    }
                    Step::Close => panic!("strokes stay open"),
                }
            }
        }
    }
    assert_eq!(pens, [(0.25, vec![3.0, 0.75]), (0.5, vec![])]);
}

#[test]
fn detail_cuts_curves_at_its_rim() {
    let rod = body("rod", vec![block(Ring::circle(v(0.0, 0.0), 3.0), 0.0, 2.0)]);
    let plan = project(&[rod], &[], &Projection::Plan, &Options::default());
    // Circle of radius 3 about the rim's point (3, 0): the two cross 60° either side of it.
    let detail = plan.within(&Window::Circle { centre: v(3.0, 0.0), radius: 3.0 });
    assert!((detail.visible_length() - 3.0 * 2.0 * PI / 3.0).abs() < 1e-9, "{:?}", detail.visible);
    let half = plan.within(&Window::Oblong { min: v(-9.0, 0.0), max: v(9.0, 9.0) });
    assert!((half.visible_length() - 3.0 * PI).abs() < 1e-9);
    assert_eq!(plan.within(&Window::Circle { centre: v(0.0, 0.0), radius: 2.0 }).visible, []);
}

#[test]
fn broken_view_moves_the_far_end() {
    let bar = body("bar", vec![block(Ring::rect(v(0.0, 0.0), v(900.0, 40.0)), 0.0, 18.0)]);
    let view = project(&[bar], &[], &Projection::Plan, &Options::default());
    let short = view.broken(Axis::X, 100.0, 800.0, 5.0);
    assert!((short.visible_length() - (4.0 * 100.0 + 80.0)).abs() < 1e-9);
    assert!((short.bounds.1.x - 205.0).abs() < 1e-9);
}

#[test]
fn a_pin_inside_a_plate_is_hidden_where_it_runs_inside() {
    let plate = body("plate", vec![block(Ring::rect(v(-20.0, -20.0), v(20.0, 20.0)), 10.0, 20.0)]);
    let pin = body("pin", vec![block(Ring::circle(v(0.0, 0.0), 3.0), 0.0, 50.0)]);
    let view = iso(&[plate, pin]);
    let scale = (2.0_f64 / 3.0).sqrt();
    let sides = |list: &[Stroke2]| -> f64 {
        list.iter().filter(|s| s.kind == EdgeKind::Silhouette).map(|s| s.curve.length()).sum()
    };
    // Two sides of 50: 30 above the plate in sight, the rest inside it or behind it.
    assert!((sides(&view.visible) - 2.0 * 30.0 * scale).abs() < 1e-6, "{}", sides(&view.visible));
    assert!((sides(&view.hidden) - 2.0 * 20.0 * scale).abs() < 1e-6);
}

#[test]
fn arrangement_of_views() {
    use Projection::*;
    let cells = |a: Arrangement| [Plan, Bottom, Left, Right, Rear].map(|p| a.cell(&p));
    let some = |list: [(i32, i32); 5]| list.map(Some);
    // ISO 5456-2: first angle puts the plan below and the view from the left to the right.
    assert_eq!(cells(Arrangement::FirstAngle), some([(0, -1), (0, 1), (1, 0), (-1, 0), (2, 0)]));
    assert_eq!(cells(Arrangement::ThirdAngle), some([(0, 1), (0, -1), (-1, 0), (1, 0), (2, 0)]));
    assert_eq!(Arrangement::FirstAngle.cell(&Isometric(Corner::FrontLeft)), None);
    for p in [Plan, Bottom, Left, Right, Rear, Front, Isometric(Corner::BackLeft)] {
        let s = p.sight();
        assert!((s.right.cross(s.up) - s.toward).norm() < 1e-12, "{p:?}");
    }
}

#[test]
fn isometric_tilt_and_scale() {
    // ISO 5456-3: the line of sight rises 35.264° and the three axes shrink alike, to 0.8165.
    let s = Projection::Isometric(Corner::FrontRight).sight();
    let rise = turnleaf_geom::trig::deg(turnleaf_geom::trig::asin(s.toward.z));
    assert!((rise - 35.264_389_682_754_654).abs() < 1e-12);
    for axis in [v3(1.0, 0.0, 0.0), v3(0.0, 1.0, 0.0), v3(0.0, 0.0, 1.0)] {
        assert!((s.flat(axis).norm() - 0.816_496_580_927_726).abs() < 1e-12);
    }
}

#[test]
fn order_of_bodies_and_place_do_not_change_lengths() {
    let b = |id: &str, x: f64, h: f64| body(id, vec![block(Ring::rect(v(x, 0.0), v(x + 1.0, 1.5)), 0.0, h)]);
    let three = [b("a", 0.0, 1.0), b("b", 1.0, 2.0), b("c", 2.5, 0.5)];
    let there = iso(&three);
    let back: Vec<Body> = three.iter().rev().map(|k| k.shifted(v3(300.0, -70.0, 12.0))).collect();
    let moved = iso(&back);
    assert!((there.visible_length() - moved.visible_length()).abs() < 1e-9);
    assert!((there.hidden_length() - moved.hidden_length()).abs() < 1e-9);
    assert_eq!(there, iso(&three));
}

#[test]
fn turning_scene_and_viewer_together_changes_nothing() {
    let plate = bored_plate();
    let view = |angle: f64| {
        let turned = Body { pose: Pose3::plan(&Pose2::new(angle, v(5.0, 7.0)), 3.0), ..plate.clone() };
        let d = Pose3::plan(&Pose2::new(angle, v(0.0, 0.0)), 0.0).turn(v3(0.3, -0.8, 0.5));
        project(
            &[turned],
            &[],
            &Projection::Any { toward: d, upright: v3(0.0, 0.0, 1.0) },
            &Options::default(),
        )
    };
    let first = view(0.0);
    for angle in [0.4, 1.9, 3.3, 5.0] {
        let v = view(angle);
        assert!((v.visible_length() - first.visible_length()).abs() < 1e-6);
        assert!((v.hidden_length() - first.hidden_length()).abs() < 1e-6);
    }
}

#[test]
fn odd_input_does_not_panic() {
    let bad = [
        Region::default(),
        Region::from(Ring::polygon(&[v(0.0, 0.0), v(1.0, 0.0)])),
        Region::from(Ring::circle(v(f64::NAN, 0.0), 1.0)),
        Region::from(Ring::circle(v(0.0, 0.0), 0.0)),
        Region::from(Ring::circle(v(0.0, 0.0), f64::INFINITY)),
    ];
    let bodies: Vec<Body> = bad
        .into_iter()
        .map(|region| body("bad", vec![Layer { region, z0: 0.0, z1: 1.0 }]))
        .chain([body("none", vec![]), cube()])
        .collect();
    for p in [Projection::Plan, Projection::Front, Projection::Isometric(Corner::FrontLeft)] {
        assert!(project(&bodies, &[], &p, &Options::default()).visible.len() >= 4);
    }
    let cut = Cut { point: v3(0.5, 0.5, 0.5), normal: v3(0.0, -1.0, 0.0) };
    let s = section(&bodies, &cut, &|_| false, &Options::default());
    assert!(!hatch(&s.areas, 0.1).is_empty());
}

#[test]
fn symbol_places_its_end_view() {
    let rims = |a: Arrangement| match symbol(a, 8.0).outlines[4] {
        Curve2::Arc(c) => c.centre.x,
        _ => panic!("the fifth outline is a rim"),
    };
    assert_eq!((rims(Arrangement::FirstAngle), rims(Arrangement::ThirdAngle)), (6.0, -6.0));
}
