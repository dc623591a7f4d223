//! Cut files: faces, layers and what they are called. Areas and lengths are checked from outside by
//! `tests/python/cut_check.py`.

use turnleaf_geom::{Pose2, Ring, vec2::v};
use turnleaf_parts::layers::layers;
use turnleaf_parts::{Depth, Face, Feature, FeatureKind, Part};
use turnleaf_template::{CutFace, CutFile, cut_files, cut_svg, index_csv, stock_svg};

fn feature(id: &str, kind: FeatureKind) -> Feature {
    Feature { id: id.into(), purpose: id.into(), kind }
}

fn board(features: Vec<Feature>) -> Part {
    let outline = Ring::rect(v(0.0, 0.0), v(200.0, 100.0));
    Part {
        id: "board".into(),
        name: "Board, \"test\"".into(),
        count: 2,
        material: "plate & stock".into(),
        made: true,
        thickness: 18.0,
        layers: layers(18.0, &outline, &features),
        outline,
        features,
        notes: vec![],
        side: None,
    }
}

fn hole(id: &str, x: f64, y: f64, diameter: f64, depth: Depth) -> Feature {
    feature(id, FeatureKind::Hole { centre: v(x, y), diameter, depth })
}

fn layers_of(file: &CutFile) -> Vec<String> {
    file.layers.iter().map(|l| l.operation.id()).collect()
}

#[test]
fn one_face_gives_one_file_and_two_faces_give_two() {
    let through = hole("a", 20.0, 20.0, 8.5, Depth::Through);
    let above = hole("b", 60.0, 20.0, 22.0, Depth::Blind(Face::Top, 11.4));
    let below = hole("c", 90.0, 20.0, 10.0, Depth::Blind(Face::Bottom, 6.0));
    let (files, said) = cut_files(&[board(vec![through.clone(), above.clone()])]);
    assert!(said.is_empty());
    assert_eq!(files.len(), 1);
    assert_eq!((files[0].name.as_str(), files[0].face), ("board", CutFace::Top));
    assert_eq!(layers_of(&files[0]), ["drill-22-deep-11.4", "drill-8.5", "outside-cut"]);
    let (files, _) = cut_files(&[board(vec![through.clone(), below.clone()])]);
    assert_eq!((files.len(), files[0].face), (1, CutFace::Bottom));
    let (files, _) = cut_files(&[board(vec![through, above, below])]);
    let names: Vec<&str> = files.iter().map(|f| f.name.as_str()).collect();
    assert_eq!(names, ["board-bottom", "board-top"]);
    // The lower face is worked first and leaves the part in its sheet.
    assert_eq!(layers_of(&files[0]), ["mark", "drill-10-deep-6"]);
    assert!(layers_of(&files[1]).contains(&"outside-cut".to_string()));
}

/// Elementary geometry: turned over about the x axis, a hole 20 mm above the lower edge lies 20 mm below the
/// upper one; SVG's y runs down from the edge of 5 mm.
#[test]
fn the_lower_face_is_seen_turned_over() {
    let (top, _) = cut_files(&[board(vec![hole("a", 30.0, 20.0, 8.0, Depth::Through)])]);
    assert!(cut_svg(&top[0]).contains("<circle cx=\"35\" cy=\"85\" r=\"4\"/>"));
    let below = Depth::Blind(Face::Bottom, 6.0);
    let (bottom, _) = cut_files(&[board(vec![hole("a", 30.0, 20.0, 8.0, below)])]);
    assert!(cut_svg(&bottom[0]).contains("<circle cx=\"35\" cy=\"25\" r=\"4\"/>"));
}

#[test]
fn recesses_slots_and_large_rounds_go_to_their_layers() {
    let (files, _) = cut_files(&[board(vec![
        feature(
            "slot",
            FeatureKind::Slot { a: v(30.0, 50.0), b: v(80.0, 50.0), width: 12.0, depth: Depth::Through },
        ),
        feature(
            "pocket",
            FeatureKind::Pocket {
                ring: Ring::rect(v(100.0, 60.0), v(120.0, 90.0)),
                depth: Depth::Blind(Face::Top, 6.35),
            },
        ),
        hole("large", 150.0, 50.0, 60.0, Depth::Through),
    ])]);
    assert_eq!(layers_of(&files[0]), ["pocket-6.35", "inside-cut", "outside-cut"]);
    let svg = cut_svg(&files[0]);
    let slot = svg.lines().find(|l| l.contains('A')).expect("round ends stay arcs");
    assert_eq!(slot.matches('A').count(), 4, "two half turns, each cut in its middle: {slot}");
    let index = index_csv(&files);
    // RFC 4180: quotes double inside a quoted field.
    assert!(index.contains(
        "\"Board, \"\"test\"\"\",2,plate & stock,18,top,pocket-6.35,pocket,6.35,,1,600.000000,100.000000"
    ));
}

/// A tongue 6 by 6 in the middle of an 18 mm edge: cut out 6 mm farther, cleared 6 mm deep from both faces.
#[test]
fn tongues_widen_the_outline_and_are_cleared_from_both_faces() {
    let tongue = FeatureKind::EdgeTongue { edge: 1, from: 10.0, to: 90.0, depth: 6.0, z: (6.0, 12.0) };
    let (files, said) = cut_files(&[board(vec![feature("tongue", tongue)])]);
    assert!(said.is_empty(), "{said:?}");
    assert_eq!(files.len(), 2);
    for f in &files {
        let pocket = f.layers.iter().find(|l| l.operation.id() == "pocket-6").expect("cleared");
        assert!((pocket.shapes.iter().map(|s| s.area()).sum::<f64>() - 480.0).abs() < 1e-6);
        assert!((f.bounds().1.x - f.bounds().0.x - 206.0).abs() < 1e-9);
    }
}

#[test]
fn holes_that_run_into_each_other_are_named() {
    let two =
        vec![hole("pin", 30.0, 50.0, 8.0, Depth::Through), hole("post", 33.0, 50.0, 8.0, Depth::Through)];
    let (_, said) = cut_files(&[board(two)]);
    assert_eq!(said.len(), 1);
    assert!(said[0].sentence.contains("pin and post run into each other"));
}

#[test]
fn a_sheet_of_stock_gathers_layers_of_several_parts() {
    let (files, _) = cut_files(&[board(vec![hole("a", 30.0, 20.0, 8.0, Depth::Through)])]);
    let f = &files[0];
    let svg = stock_svg(
        "Sheet 1",
        v(1000.0, 500.0),
        &[(f, Pose2::new(0.0, v(10.0, 10.0))), (f, Pose2::new(core::f64::consts::FRAC_PI_2, v(400.0, 10.0)))],
    );
    assert!(svg.contains("width=\"1000mm\" height=\"500mm\" viewBox=\"0 0 1000 500\""));
    assert_eq!(svg.matches("<g ").count(), 2);
    assert_eq!(svg.matches("<circle").count(), 2);
    // Turned a quarter, (30, 20) goes to (-20, 30), and so to (380, 40): 460 down from the top.
    assert!(svg.contains("<circle cx=\"380\" cy=\"460\" r=\"4\"/>"), "{svg}");
}
