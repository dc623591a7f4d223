//! Parts measured from their centre: discs with rings of holes, bands, openings with arms, curved slots.

use crate::*;
use core::f64::consts::PI;
use turnleaf_geom::trig;
use turnleaf_parts::Face;

fn disc(features: Vec<Feature>) -> Part {
    part(18.0, Ring::circle(Vec2::ZERO, 200.0), features)
}

fn band(r0: f64, r1: f64, from: f64, to: f64, round: bool) -> Ring {
    let (from, to) = (trig::rad(from), trig::rad(to));
    let bulge = trig::tan((to - from) / 4.0);
    let at = |r: f64, a: f64, bulge: f64| Vertex { p: Vec2::polar(r, a), bulge };
    let cap = if round { 1.0 } else { 0.0 };
    Ring { vertices: vec![at(r0, from, cap), at(r1, from, bulge), at(r1, to, cap), at(r0, to, -bulge)] }
}

#[test]
fn rings_of_holes_and_single_ones() {
    let mut features = vec![hole("centre", 0.0, 0.0, 25.0, Depth::Through)];
    for k in 0..6 {
        let c = Vec2::polar(120.0, trig::rad(60.0 * f64::from(k) + 24.0));
        features.push(hole(&format!("pin/{k}"), c.x, c.y, 8.0, Depth::Through));
    }
    // On one circle, but not evenly; one of them on the datum line, one left of it.
    features.push(hole("stop/1", 160.0, 0.0, 6.0, Depth::Blind(Face::Top, 9.0)));
    features.push(hole("stop/2", -96.0, 128.0, 6.0, Depth::Blind(Face::Top, 9.0)));
    features.push(hole("lone", 48.0, -64.0, 5.0, Depth::Blind(Face::Bottom, 7.0)));
    for k in 0..4 {
        let (a, b) = (trig::rad(90.0 * f64::from(k)), trig::rad(90.0 * f64::from(k)));
        features.push(slot(&format!("post/{k}"), Vec2::polar(60.0, a), Vec2::polar(140.0, b), 14.0));
    }
    features.push(slot("askew", v(30.0, 40.0), v(-30.0, 40.0), 5.0));
    sheet(
        &disc(features),
        &[
            "thickness = 18 [note]",
            "diameter/rim = 400 [callout]",
            "centre/diameter = 25 [callout]",
            "pin/diameter = 8 [table]",
            "pin/0/radius = 120 [table]",
            "pin/0/bearing = 24° [table]",
            "stop/diameter = 6 [table]",
            "stop/depth = 9 [table]",
            "stop/1/radius = 160 [table]",
            "stop/2/radius = 160 [table]",
            "stop/2/bearing = 126.87° [table]",
            "lone/diameter = 5 [table]",
            "lone/depth = 7 [table]",
            "lone/radius = 80 [table]",
            "lone/bearing = 306.87° [table]",
            "post/width = 14 [table]",
            "post/0/near/radius = 60 [table]",
            "post/0/far/radius = 140 [table]",
            "askew/width = 5 [table]",
            "askew/near/radius = 50 [table]",
            "askew/near/bearing = 53.1° [table]",
            "askew/far/radius = 50 [table]",
            "askew/far/bearing = 126.9° [table]",
            "leader ⌀400",
            "leader ⌀25",
            "row 6 × A: ⌀8 | 120 | 24°, then every 60° | through | for pin",
            "row 1 × B1: ⌀6 | 160 | 0° | 9 deep | for stop",
            "row 1 × B2: as B1 | 160 | 126.87° | as B1 | for stop",
            "row 1 × C: ⌀5 | 80 | 306.87° | 7 deep from below | for lone",
            "row 4 × D: slot 14 wide | 60 to 140 | 0°, then every 90° | through | for post",
            "row 1 × E: slot 5 wide | 50 to 50 | 53.1° to 126.9° | through | for askew",
            "note Datum: the centre.",
        ],
    );
}

#[test]
fn bands_and_blocks() {
    let block = |cx: f64, cy: f64, ux: f64, uy: f64, half: (f64, f64)| {
        let (u, w) = (v(ux, uy), v(-uy, ux));
        let at = |a: f64, b: f64| v(cx, cy) + u * (a * half.0) + w * (b * half.1);
        Ring::polygon(&[at(-1.0, -1.0), at(1.0, -1.0), at(1.0, 1.0), at(-1.0, 1.0)])
    };
    let deep = Depth::Blind(Face::Top, 9.0);
    let features = vec![
        pocket("ramp/1", band(100.0, 120.0, 10.0, 40.0, false), deep),
        pocket("ramp/2", band(100.0, 120.0, 190.0, 220.0, false), deep),
        pocket("track", band(150.0, 170.0, -30.0, 50.0, true), Depth::Through),
        pocket("odd/1", band(180.0, 190.0, 0.0, 20.0, false), Depth::Through),
        pocket("odd/2", band(180.0, 190.0, 90.0, 110.0, false), Depth::Through),
        pocket("along", block(30.0, 40.0, 0.6, 0.8, (15.0, 6.0)), deep),
        pocket("square", block(-40.0, 30.0, 0.6, 0.8, (15.0, 6.0)), deep),
        pocket("level", block(-30.0, -40.0, 1.0, 0.0, (15.0, 6.0)), deep),
        pocket("upright", block(40.0, -30.0, 0.0, 1.0, (15.0, 6.0)), deep),
        pocket("heading", block(0.0, 75.0, 0.8, 0.6, (15.0, 6.0)), deep),
        pocket("roller/1", block(80.0, 0.0, 0.8, 0.6, (10.0, 4.0)), Depth::Through),
        pocket("roller/2", block(-80.0, 0.0, -0.8, -0.6, (10.0, 4.0)), Depth::Through),
    ];
    sheet(
        &disc(features),
        &[
            "thickness = 18 [note]",
            "diameter/rim = 400 [callout]",
            "ramp/inner-radius = 100 [table]",
            "ramp/outer-radius = 120 [table]",
            "ramp/depth = 9 [table]",
            "ramp/1/from/bearing = 10° [table]",
            "ramp/1/to/bearing = 40° [table]",
            "track/inner-radius = 150 [table]",
            "track/outer-radius = 170 [table]",
            "track/from/bearing = 330° [table]",
            "track/to/bearing = 50° [table]",
            "odd/inner-radius = 180 [table]",
            "odd/outer-radius = 190 [table]",
            "odd/1/to/bearing = 20° [table]",
            "odd/2/from/bearing = 90° [table]",
            "odd/2/to/bearing = 110° [table]",
            "along/length = 30 [table]",
            "along/width = 12 [table]",
            "along/depth = 9 [table]",
            "along/middle/radius = 50 [table]",
            "along/middle/bearing = 53.1° [table]",
            "square/length = 30 [table]",
            "square/width = 12 [table]",
            "square/depth = 9 [table]",
            "square/middle/radius = 50 [table]",
            "square/middle/bearing = 143.1° [table]",
            "level/length = 30 [table]",
            "level/width = 12 [table]",
            "level/depth = 9 [table]",
            "level/middle/radius = 50 [table]",
            "level/middle/bearing = 233.1° [table]",
            "upright/length = 30 [table]",
            "upright/width = 12 [table]",
            "upright/depth = 9 [table]",
            "upright/middle/radius = 50 [table]",
            "upright/middle/bearing = 323.1° [table]",
            "heading/length = 30 [table]",
            "heading/width = 12 [table]",
            "heading/depth = 9 [table]",
            "heading/middle/radius = 75 [table]",
            "heading/middle/bearing = 90° [table]",
            "heading/heading = 216.9° [table]",
            "roller/length = 20 [table]",
            "roller/width = 8 [table]",
            "roller/1/middle/radius = 80 [table]",
            "roller/1/heading = 36.9° [table]",
            "leader ⌀400",
            "row 2 × A: band | R100 to R120 | 10° to 40°, then every 180° | 9 deep | for ramp",
            "row 1 × B: band, round ends | R150 to R170 | 330° to 50° | through | for track",
            "row 1 × C1: band | R180 to R190 | 0° to 20° | through | for odd",
            "row 1 × C2: as C1 | as C1 | 90° to 110° | as C1 | for odd",
            "row 1 × D: 30 × 12, along the radius | 50 | 53.1° | 9 deep | for along",
            "row 1 × E: 30 × 12, square to the radius | 50 | 143.1° | 9 deep | for square",
            "row 1 × F: 30 × 12, along X | 50 | 233.1° | 9 deep | for level",
            "row 1 × G: 30 × 12, along Y | 50 | 323.1° | 9 deep | for upright",
            "row 1 × H: 30 × 12, long side at 216.9° | 75 | 90° | 9 deep | for heading",
            "row 2 × J: 20 × 8, long side at 36.9° | 80 | 0°, then every 180° | through | for roller",
            "note Datum: the centre.",
        ],
    );
}

#[test]
fn an_opening_with_arms_and_a_recess_with_corners() {
    // Middle of 25, arms 14 wide: they leave it at (24, ±7).
    let inner = trig::atan2(7.0, 24.0);
    let mut vertices = Vec::new();
    for k in 0..3 {
        let a = trig::rad(30.0) + 2.0 * PI * f64::from(k) / 3.0;
        let gap = 2.0 * PI / 3.0 - 2.0 * inner;
        vertices.push(Vertex { p: v(24.0, -7.0).rot(a), bulge: 0.0 });
        vertices.push(Vertex { p: v(60.0, -7.0).rot(a), bulge: 0.0 });
        vertices.push(Vertex { p: v(60.0, 7.0).rot(a), bulge: 0.0 });
        vertices.push(Vertex { p: v(24.0, 7.0).rot(a), bulge: trig::tan(gap / 4.0) });
    }
    let grip = Ring {
        vertices: vec![arc_from(90.0, 120.0, 0.0), arc_from(120.0, 90.0, 0.5), arc_from(112.0, 150.0, 0.0)],
    };
    let features = vec![
        pocket("opening", Ring { vertices }, Depth::Through),
        pocket("grip", grip, Depth::Blind(Face::Bottom, 4.0)),
        pocket("round", Ring::circle(v(-90.0, 120.0), 20.0), Depth::Through),
    ];
    sheet(
        &disc(features),
        &[
            "thickness = 18 [note]",
            "diameter/rim = 400 [callout]",
            "opening/radius = 25 [table]",
            "opening/reach = 60 [table]",
            "opening/width = 14 [table]",
            "opening/arm/bearing = 30° [table]",
            "grip/depth = 4 [table]",
            "grip/corner-1/radius = 150 [table]",
            "grip/corner-1/bearing = 53.13° [table]",
            "grip/corner-2/radius = 150 [table]",
            "grip/corner-2/bearing = 36.87° [table]",
            "grip/arc-2/radius = 37.8 [table]",
            "grip/corner-3/radius = 187.2 [table]",
            "grip/corner-3/bearing = 53.25° [table]",
            "round/corner-1/radius = 150 [table]",
            "round/corner-1/bearing = 126.87° [table]",
            "round/arc-1/radius = 20 [table]",
            "leader ⌀400",
            "row 1 × A: middle R25, arms 14 wide | out to 60 | 30°, then every 120° | through | for opening",
            "row 1 × B.1: recess | 150 | 53.13° | 4 deep from below | for grip",
            "row 0 × B.2: R37.8 from here | 150 | 36.87° | ",
            "row 0 × B.3:  | 187.2 | 53.25° | ",
            "row 1 × C: recess R20 from here | 150 | 126.87° | through | for round",
            "note Datum: the centre.",
        ],
    );
}

#[test]
fn curved_slots() {
    let way = |turn: f64| -> Vec<Vertex> {
        [(50.0, 0.0, 0.3), (80.0, 60.0, -0.2), (0.0, 130.0, 0.0), (-40.0, 150.0, 0.0)]
            .map(|(x, y, bulge)| Vertex { p: v(x, y).rot(turn), bulge })
            .to_vec()
    };
    let features = (0..3)
        .map(|k| {
            let way = way(2.0 * PI * f64::from(k) / 3.0);
            feature(
                &format!("track/{k}"),
                FeatureKind::CurvedSlot { way, width: 12.0, depth: Depth::Through },
            )
        })
        .collect();
    sheet(
        &disc(features),
        &[
            "thickness = 18 [note]",
            "diameter/rim = 400 [callout]",
            "track/width = 12 [table]",
            "track/0/station-1/radius = 50 [table]",
            "track/0/arc-1/radius = 60.9 [table]",
            "track/0/station-2/radius = 100 [table]",
            "track/0/station-2/bearing = 36.87° [table]",
            "track/0/arc-2/radius = 138.2 [table]",
            "track/0/station-3/radius = 130 [table]",
            "track/0/station-3/bearing = 90° [table]",
            "track/0/station-4/radius = 155.2 [table]",
            "track/0/station-4/bearing = 104.93° [table]",
            "leader ⌀400",
            "row 3 × A: curved slot 12 wide | table A | table A, then every 120° | through | for track",
            "way A 1: 50 | 0° | R60.9 inside",
            "way A 2: 100 | 36.87° | R138.2 outside",
            "way A 3: 130 | 90° | straight",
            "way A 4: 155.2 | 104.93° | end",
            "note Datum: the centre.",
            "note Curved slots: set out the stations of the centre line, then join each to the next by the short arc of the stated radius (swing it from both stations to find its centre).",
            "note Inside: the arc's centre is on the same side of the line joining its stations as the centre of the part; outside: on the other side.",
            "note A slot's sides run half its width from the centre line; its ends are half round. Strokes across one slot of each kind show its stations, numbered as in the table where there is room.",
        ],
    );
    // Two that are no whole turns apart.
    let two = (0..2)
        .map(|k| {
            let way = way(0.5 * f64::from(k));
            feature(
                &format!("track/{k}"),
                FeatureKind::CurvedSlot { way, width: 12.0, depth: Depth::Through },
            )
        })
        .collect();
    sheet(
        &disc(two),
        &[
            "thickness = 18 [note]",
            "diameter/rim = 400 [callout]",
            "track/width = 12 [table]",
            "track/1/start/radius = 50 [table]",
            "track/1/start/bearing = 28.6° [table]",
            "track/0/station-1/radius = 50 [table]",
            "track/0/arc-1/radius = 60.9 [table]",
            "track/0/station-2/radius = 100 [table]",
            "track/0/station-2/bearing = 36.87° [table]",
            "track/0/arc-2/radius = 138.2 [table]",
            "track/0/station-3/radius = 130 [table]",
            "track/0/station-3/bearing = 90° [table]",
            "track/0/station-4/radius = 155.2 [table]",
            "track/0/station-4/bearing = 104.93° [table]",
            "leader ⌀400",
            "row 1 × A: curved slot 12 wide | table A | table A | through | for track",
            "row 1 × A2: as A | 50 | 28.6° | as A | for track",
            "way A 1: 50 | 0° | R60.9 inside",
            "way A 2: 100 | 36.87° | R138.2 outside",
            "way A 3: 130 | 90° | straight",
            "way A 4: 155.2 | 104.93° | end",
            "note Datum: the centre.",
            "note Curved slots: set out the stations of the centre line, then join each to the next by the short arc of the stated radius (swing it from both stations to find its centre).",
            "note Inside: the arc's centre is on the same side of the line joining its stations as the centre of the part; outside: on the other side.",
            "note A slot's sides run half its width from the centre line; its ends are half round. Strokes across one slot of each kind show its stations, numbered as in the table where there is room.",
        ],
    );
}

/// Slots whose near ends repeat but not their far ones, an arm with one slanted side, slots of different bends: none of
/// them may be said in one row, and each is rebuilt from its own.
#[test]
fn what_only_looks_alike() {
    let at = |r: f64, deg: f64| Vec2::polar(r, trig::rad(deg));
    let slots = [(90.0, 5.0), (90.0, 95.0), (90.0, 175.0), (90.0, 275.0)];
    let slots = slots.iter().enumerate();
    let d = choose(&disc(
        slots
            .map(|(k, &(r, turn))| slot(&format!("s/{k}"), at(60.0, 90.0 * k as f64), at(r, turn), 8.0))
            .collect(),
    ));
    assert!(says(&d).iter().all(|l| !l.contains("then every")), "{:?}", says(&d));
    // The left side of each arm ends on the middle's circle 5 from the arm's line, not 7.
    let (low, high) = (trig::atan2(7.0, 24.0), trig::asin(0.2));
    let mut vertices = Vec::new();
    for k in 0..3 {
        let a = 2.0 * PI * f64::from(k) / 3.0;
        let gap = 2.0 * PI / 3.0 - low - high;
        vertices.push(Vertex { p: v(24.0, -7.0).rot(a), bulge: 0.0 });
        vertices.push(Vertex { p: v(60.0, -7.0).rot(a), bulge: 0.0 });
        vertices.push(Vertex { p: v(60.0, 7.0).rot(a), bulge: 0.0 });
        vertices.push(Vertex { p: v(600f64.sqrt(), 5.0).rot(a), bulge: trig::tan(gap / 4.0) });
    }
    let lines = says(&choose(&disc(vec![pocket("opening", Ring { vertices }, Depth::Through)])));
    assert!(lines.iter().all(|l| !l.contains("middle R")), "{lines:?}");
    let track = |k: usize, bulge: f64| {
        let turn = 2.0 * PI * k as f64 / 3.0;
        let way = [(50.0, 0.0, bulge), (110.0, 60.0, 0.0)];
        let way = way.map(|(x, y, bulge)| Vertex { p: v(x, y).rot(turn), bulge }).to_vec();
        feature(&format!("track/{k}"), FeatureKind::CurvedSlot { way, width: 12.0, depth: Depth::Through })
    };
    let lines = says(&choose(&disc(vec![track(0, 0.3), track(1, 0.3), track(2, -0.3)])));
    assert!(
        lines.iter().any(|l| l.ends_with("inside")) && lines.iter().any(|l| l.ends_with("outside")),
        "{lines:?}"
    );
}
