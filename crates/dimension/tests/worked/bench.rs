//! Parts measured along two axes: plates, rails, legs, arms.

use crate::*;
use turnleaf_dimension::grain::Grain;
use turnleaf_parts::Face;

#[test]
fn a_plate_with_holes_slot_and_recess() {
    let p = part(
        20.0,
        Ring::rect(v(0.0, 0.0), v(300.0, 100.0)),
        vec![
            hole("dowel/1", 30.0, 20.0, 8.0, Depth::Blind(Face::Top, 12.0)),
            hole("dowel/2", 270.0, 80.0, 8.0, Depth::Blind(Face::Top, 12.0)),
            hole("bolt", 150.0, 50.0, 10.0, Depth::Through),
            slot("slot", v(60.0, 30.0), v(90.0, 70.0), 6.0),
            pocket("block", Ring::rect(v(200.0, 20.0), v(240.0, 36.0)), Depth::Blind(Face::Bottom, 5.0)),
            pocket(
                "askew",
                corners(&[(120.0, 20.0), (144.0, 27.0), (141.2, 36.6), (117.2, 29.6)]),
                Depth::Through,
            ),
            pocket("odd", corners(&[(180.0, 60.0), (195.0, 60.0), (186.0, 72.0)]), Depth::Through),
            feature(
                "groove/low",
                FeatureKind::EdgeGroove { edge: 0, from: 40.0, to: 300.0, depth: 7.0, z: (3.0, 9.0) },
            ),
            feature(
                "groove/far",
                FeatureKind::EdgeGroove { edge: 2, from: 0.0, to: 250.0, depth: 7.0, z: (0.0, 6.0) },
            ),
            feature(
                "tongue",
                FeatureKind::EdgeTongue { edge: 1, from: 10.0, to: 90.0, depth: 5.0, z: (7.0, 13.0) },
            ),
        ],
    );
    sheet(
        &p,
        &[
            "thickness = 20 [front]",
            "width/corner-2 = 100 [linear]",
            "x/corner-2a = 300 [linear]",
            "dowel/diameter = 8 [table]",
            "dowel/depth = 12 [table]",
            "dowel/1/x = 30 [table]",
            "dowel/1/y = −30 [table]",
            "dowel/2/x = 270 [table]",
            "dowel/2/y = 30 [table]",
            "bolt/diameter = 10 [table]",
            "bolt/x = 150 [table]",
            "slot/width = 6 [table]",
            "slot/near/x = 60 [table]",
            "slot/near/y = −20 [table]",
            "slot/far/x = 90 [table]",
            "slot/far/y = 20 [table]",
            "block/length = 40 [table]",
            "block/width = 16 [table]",
            "block/depth = 5 [table]",
            "block/middle/x = 220 [table]",
            "block/middle/y = −22 [table]",
            "askew/length = 25 [table]",
            "askew/width = 10 [table]",
            "askew/middle/x = 130.6 [table]",
            "askew/middle/y = −21.7 [table]",
            "askew/heading = 16.3° [table]",
            "odd/corner-1/x = 180 [table]",
            "odd/corner-1/y = 10 [table]",
            "odd/corner-2/x = 195 [table]",
            "odd/corner-2/y = 10 [table]",
            "odd/corner-3/x = 186 [table]",
            "odd/corner-3/y = 22 [table]",
            "groove/low/below = 3 [section]",
            "groove/low/width = 6 [section]",
            "groove/low/depth = 7 [section]",
            "groove/low/from = 40 [edge]",
            "groove/far/width = 6 [section]",
            "groove/far/depth = 7 [section]",
            "groove/far/from = 50 [edge]",
            "tongue/width = 6 [section]",
            "tongue/depth = 5 [section]",
            "tongue/from = 10 [edge]",
            "tongue/to = 90 [edge]",
            "row 1 × A1: ⌀8 | 30 | −30 | 12 deep | for dowel",
            "row 1 × A2: as A1 | 270 | 30 | as A1 | for dowel",
            "row 1 × B: ⌀10 | 150 | 0 | through | for bolt",
            "row 1 × C: slot 6 wide | 60 to 90 | −20 to 20 | through | for slot",
            "row 1 × D: 40 × 16, along X | 220 | −22 | 5 deep from below | for block",
            "row 1 × E: 25 × 10, long side at 16.3° | 130.6 | −21.7 | through | for askew",
            "row 1 × F.1: recess | 180 | 10 | through | for odd",
            "row 0 × F.2:  | 195 | 10 | ",
            "row 0 × F.3:  | 186 | 22 | ",
            "edge G groove from the corner at the datum end: 40 to end of the edge",
            "edge H groove from the corner at the datum end: 50 to end of the edge",
            "edge J tongue from the corner at the far end: 10 to 90",
            "note Datums: the left end and the centre line.",
            "note Outline symmetrical about the centre line.",
            "note Groove H is flush with the lower face.",
            "note Tongues and grooves lie in the middle of the thickness.",
        ],
    );
}

#[test]
fn an_outline_without_symmetry() {
    let p = part(
        28.0,
        corners(&[
            (0.0, 0.0),
            (200.0, 0.0),
            (200.0, 60.0),
            (160.0, 60.0),
            (160.0, 90.0),
            (48.0, 90.0),
            (0.0, 54.0),
        ]),
        vec![hole("dowel", 30.0, 20.0, 10.0, Depth::Through)],
    );
    sheet(
        &p,
        &[
            "thickness = 28 [note]",
            "x/corner-2 = 200 [linear]",
            "y/corner-3 = 60 [linear]",
            "x/corner-4 = 160 [linear]",
            "y/corner-5 = 90 [linear]",
            "x/corner-6 = 48 [linear]",
            "y/corner-7 = 54 [linear]",
            "dowel/diameter = 10 [table]",
            "dowel/x = 30 [table]",
            "dowel/y = 20 [table]",
            "row 1 × A: ⌀10 | 30 | 20 | through | for dowel",
            "note Datums: the long straight edge and the corner with the small circle.",
        ],
    );
}

#[test]
fn a_point_and_a_round_end() {
    let p = part(
        19.0,
        Ring {
            vertices: vec![
                arc_from(20.0, 0.0, 0.0),
                arc_from(60.0, -30.0, 0.0),
                arc_from(140.0, -30.0, 1.0 / 3.0),
                arc_from(140.0, 30.0, 0.0),
                arc_from(60.0, 30.0, 0.0),
            ],
        },
        vec![hole("screw", 80.0, 0.0, 4.0, Depth::Blind(Face::Bottom, 10.0))],
    );
    sheet(
        &p,
        &[
            "thickness = 19 [note]",
            "radius/outer-arc = 50 [callout]",
            "width/outer-corner = 60 [linear]",
            "x/outer-arc/middle = 130 [linear]",
            "x/shoulder-a = 40 [linear]",
            "angle/tip = (73.7°) [angle]",
            "screw/diameter = 4 [table]",
            "screw/depth = 10 [table]",
            "screw/x = 60 [table]",
            "leader R50",
            "row 1 × A: ⌀4 | 60 | 0 | 10 deep from below | for screw",
            "note Datums: the tip and the centre line.",
            "note Outline symmetrical about the centre line.",
        ],
    );
}

#[test]
fn slanted_ends() {
    let p = part(
        12.0,
        corners(&[(0.0, 0.0), (100.0, 0.0), (85.0, 20.0), (15.0, 20.0)]),
        vec![hole("a/1", 30.0, 10.0, 6.0, Depth::Through), hole("a/2", 70.0, 10.0, 6.0, Depth::Through)],
    );
    sheet(
        &p,
        &[
            "thickness = 12 [note]",
            "width/corner-1 = 100 [linear]",
            "width/corner-2 = 70 [linear]",
            "x/corner-2a = 20 [linear]",
            "a/diameter = 6 [table]",
            "a/1/x = 10 [table]",
            "a/1/y = 20 [table]",
            "a/2/x = 10 [table]",
            "a/2/y = −20 [table]",
            "row 1 × A1: ⌀6 | 10 | 20 | through | for a",
            "row 1 × A2: as A1 | 10 | −20 | as A1 | for a",
            "note Datums: the left end and the centre line.",
            "note Outline symmetrical about the centre line.",
        ],
    );
    let tilted = part(12.0, corners(&[(0.0, -15.0), (80.0, -15.0), (80.0, 15.0), (20.0, 15.0)]), Vec::new());
    sheet(
        &tilted,
        &[
            "thickness = 12 [note]",
            "x/corner-2 = 80 [linear]",
            "y/corner-3 = 30 [linear]",
            "x/corner-4 = 20 [linear]",
            "note Datums: the long straight edge and the corner with the small circle.",
        ],
    );
}

#[test]
fn arms_straight_and_bent() {
    let pins =
        || vec![hole("pin/a", 0.0, 0.0, 8.0, Depth::Through), hole("pin/b", 240.0, 0.0, 8.0, Depth::Through)];
    sheet(
        &part(9.0, Ring::slot(v(0.0, 0.0), v(240.0, 0.0), 10.0), pins()),
        &[
            "thickness = 9 [note]",
            "pin-to-pin = 240 [linear]",
            "width = 20 [across]",
            "radius/end-2 = (10) [callout]",
            "pin/diameter = 8 [callout]",
            "leader (2 × R10)",
            "leader 2 × ⌀8",
            "note Datum: the line through both pin centres.",
        ],
    );
    // Chord 240, rise 60: radius (120² + 60²)/120 = 150, centre at (120, −90); unit vectors to the pins (∓4, 3)/5.
    let bulge = 0.5;
    let bent = Ring {
        vertices: vec![
            arc_from(8.0, -6.0, -bulge),
            arc_from(232.0, -6.0, 1.0),
            arc_from(248.0, 6.0, bulge),
            arc_from(-8.0, 6.0, 1.0),
        ],
    };
    sheet(
        &part(9.0, bent, pins()),
        &[
            "thickness = 9 [note]",
            "pin-to-pin = 240 [linear]",
            "bend = 60 [linear]",
            "width = 20 [across]",
            "radius/inner-arc = (140) [callout]",
            "radius/outer-arc = (160) [callout]",
            "radius/end-2 = (10) [callout]",
            "pin/diameter = 8 [callout]",
            "leader (R140)",
            "leader (R160)",
            "leader (2 × R10)",
            "leader 2 × ⌀8",
            "note Datum: the line through both pin centres.",
        ],
    );
}

#[test]
fn a_ramp_on_a_ring_segment() {
    let (r0, r1, half) = (200.0, 240.0, 0.2f64);
    let at = |r: f64, a: f64| Vec2::polar(r, a);
    let bulge = turnleaf_geom::trig::tan(half / 2.0);
    let ring = Ring {
        vertices: vec![
            Vertex { p: at(r0, -half), bulge: 0.0 },
            Vertex { p: at(r1, -half), bulge },
            Vertex { p: at(r1, half), bulge: 0.0 },
            Vertex { p: at(r0, half), bulge: -bulge },
        ],
    };
    sheet(
        &part(20.0, ring, vec![feature("ramp", FeatureKind::Ramp { foot: 40.0, head: 30.0 })]),
        &[
            "thickness = 20 [section]",
            "radius/outer-arc = 240 [callout]",
            "radius/inner-arc = 200 [callout]",
            "width/corner-2 = 95.4 [linear]",
            "ramp/foot = 40 [section]",
            "ramp/head = 30 [section]",
            "ramp/run = (88) [section]",
            "ramp/slope = (14.2°) [section]",
            "leader R240",
            "leader R200",
            "note Datums: the centre of the arcs and the centre line.",
            "note Outline symmetrical about the centre line.",
            "note Straight ends point to the centre of the arcs.",
            "note Straight ends point to the centre of the arcs.",
            "note The upper face is level along every radius; seen from above it rises clockwise round the centre of the arcs, from nothing at the foot to the full thickness at the head.",
            "note Developed view: hollow arc, straight and round arc meet smoothly, and meet foot and head level.",
        ],
    );
}

/// Datums of equal arms: the arm that lies along the part's own x is the first.
#[test]
fn equal_arms_begin_at_the_first() {
    let star: Vec<Vec2> = (0..6)
        .map(|k| {
            Vec2::polar(if k % 2 == 0 { 100.0 } else { 30.0 }, core::f64::consts::FRAC_PI_3 * f64::from(k))
        })
        .collect();
    let d = choose(&part(12.0, Ring::polygon(&star), Vec::new()));
    assert_eq!((d.frame.fold, d.frame.mirror), (3, true));
    assert!(d.frame.pose.angle().abs() < 1e-9, "{}", d.frame.pose.angle());
}

/// What stands taller than it is long is a leg, its grain upright; what does not has its grain along the part's x.
#[test]
fn grain_of_blocks() {
    let grain = |thickness: f64, x: f64, y: f64| {
        choose(&part(thickness, Ring::rect(v(0.0, -y / 2.0), v(x, y / 2.0)), Vec::new())).grain
    };
    assert_eq!(grain(18.0, 300.0, 100.0), Some(Grain::Along));
    assert_eq!(grain(50.0, 40.0, 60.0), Some(Grain::Along));
    assert_eq!(grain(60.0, 40.0, 60.0), None);
    assert_eq!(grain(700.0, 60.0, 60.0), None);
}

/// Names of corners come from where they lie, names of features from what they are and what they are for.
#[test]
fn names_of_corners_and_features() {
    let house =
        corners(&[(0.0, -50.0), (200.0, -50.0), (240.0, -30.0), (240.0, 30.0), (200.0, 50.0), (0.0, 50.0)]);
    let mut features =
        vec![hole("a", 30.0, 10.0, 8.0, Depth::Through), hole("hole", 60.0, 10.0, 9.0, Depth::Through)];
    features[0].purpose = "dowel".into();
    let d = choose(&part(18.0, house, features));
    let words =
        |id: &str| d.dimensions.iter().find(|q| q.id == format!("p/dim/{id}")).map(|q| q.words.as_str());
    let from = "from the datum";
    let pair = |k: usize| format!("the distance of the left corner of pair {k} {from} {from}");
    assert_eq!(words("x/corner-3a"), Some(pair(3).as_str()));
    assert_eq!(words("x/corner-2a"), Some(pair(2).as_str()));
    assert_eq!(words("a/diameter"), Some("the diameter of the hole a (dowel)"));
    assert_eq!(words("hole/diameter"), Some("the diameter of the hole hole"));
    let p = part(18.0, Ring::rect(v(0.0, -50.0), v(300.0, 50.0)), Vec::new());
    let d = choose(&p);
    let far = d.dimensions.iter().find(|q| q.id == "p/dim/x/corner-2a").map(|q| q.words.as_str());
    assert_eq!(far, Some("the distance of the left corner at the far end from the datum"));
}
