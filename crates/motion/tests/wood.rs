//! Wood between the cuts of a part.

use turnleaf_geom::vec2::v;
use turnleaf_mechanism::{Opening, Sizes, solve};
use turnleaf_motion::{checks, prove, wood};
use turnleaf_parts::{Depth, Face, Feature, FeatureKind, Part, assemble};

fn hole(id: &str, x: f64, diameter: f64, depth: Depth) -> Feature {
    let kind = FeatureKind::Hole { centre: v(x, 0.0), diameter, depth };
    Feature { id: id.into(), purpose: id.into(), kind }
}

fn bored(features: Vec<Feature>) -> Part {
    let a = assemble(&solve(&Sizes::example()).unwrap());
    let mut part = a.part("panel-slide").unwrap().clone();
    part.thickness = 12.0;
    part.features = features;
    part
}

#[test]
fn walls_of_round_holes_are_centre_distance_less_radii() {
    let part = bored(vec![
        hole("a", 0.0, 8.0, Depth::Through),
        hole("b", 20.0, 6.0, Depth::Blind(Face::Top, 5.0)),
        hole("c", 35.0, 10.0, Depth::Blind(Face::Bottom, 5.0)),
    ]);
    let all = wood::all(&part);
    // 20 − 4 − 3, and 35 − 4 − 5; the two blind holes share no height.
    let found: Vec<f64> = all.iter().map(|w| (w.wood * 1e6).round() / 1e6).collect();
    assert_eq!(found, [13.0, 26.0]);
    assert_eq!(wood::thinnest(&part).unwrap().cuts, ["a", "b"]);
}

#[test]
fn a_bore_inside_a_recess_has_no_wall_and_two_holes_in_one_place_have_none_left() {
    let inside = bored(vec![
        hole("recess", 0.0, 30.0, Depth::Blind(Face::Top, 4.0)),
        hole("bore", 3.0, 8.0, Depth::Through),
    ]);
    assert_eq!(wood::thinnest(&inside), None);
    let across = bored(vec![hole("a", 0.0, 8.0, Depth::Through), hole("b", 5.0, 8.0, Depth::Through)]);
    assert_eq!(wood::thinnest(&across).unwrap().wood, 0.0);
}

/// Tables whose slide pin would fall on the inner post's dowel have the post farther out.
#[test]
fn pins_and_dowels_of_a_slide_keep_their_wood() {
    let mut seen = 0;
    for (n, d, ratio) in [(4, 1000.0, 1.32), (5, 800.0, 1.325), (6, 1200.0, 1.375), (8, 1219.2, 1.33)] {
        let mut s = Sizes::example();
        (s.sectors, s.closed_diameter, s.opening) = (n, d, Opening::Diameter(d * ratio));
        s.leaf_tip_half_angle = s.half_sector().max(core::f64::consts::FRAC_PI_4);
        if d < 900.0 {
            (s.stock_thickness, s.tongue_depth, s.arm_width) = (15.0, 4.0, 16.0);
        }
        let Ok(m) = solve(&s) else { continue };
        let a = assemble(&m);
        let check = checks(&a, &prove(&a)).into_iter().find(|c| c.id == "wall.cuts").unwrap();
        assert!(check.holds, "{n} {d}: {}", check.text);
        seen += 1;
    }
    assert!(seen >= 3, "only {seen} tables were looked at");
}
