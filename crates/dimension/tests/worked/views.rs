//! Views: the front view, sections through edges, a developed ramp, grooves along rims, strokes across slots.

use crate::paper::{Drawn, SMALL, near};
use crate::*;
use core::f64::consts::SQRT_2;
use turnleaf_dimension::place::{View, place, ramp, section};
use turnleaf_geom::trig;
use turnleaf_page::{Item, Pt, pt};
use turnleaf_parts::Face;

fn plate() -> Part {
    part(
        20.0,
        Ring::rect(v(0.0, -50.0), v(300.0, 50.0)),
        vec![
            hole("dowel", 30.0, -30.0, 8.0, Depth::Blind(Face::Top, 12.0)),
            slot("slot", v(60.0, -20.0), v(90.0, 20.0), 6.0),
            pocket("block", Ring::rect(v(200.0, -30.0), v(240.0, -14.0)), Depth::Blind(Face::Bottom, 5.0)),
            feature(
                "groove/low",
                FeatureKind::EdgeGroove { edge: 0, from: 40.0, to: 300.0, depth: 7.0, z: (3.0, 9.0) },
            ),
            feature(
                "groove/far",
                FeatureKind::EdgeGroove { edge: 2, from: 100.0, to: 250.0, depth: 7.0, z: (3.0, 9.0) },
            ),
            feature(
                "tongue",
                FeatureKind::EdgeTongue { edge: 1, from: 10.0, to: 90.0, depth: 5.0, z: (7.0, 13.0) },
            ),
            feature(
                "groove/end",
                FeatureKind::EdgeGroove { edge: 3, from: 10.0, to: 90.0, depth: 4.0, z: (7.0, 13.0) },
            ),
        ],
    )
}

fn group<'a>(items: &'a [Item], name: &str) -> Option<&'a [Item]> {
    items.iter().find_map(|i| match i {
        Item::Group { id, items, .. } if id.as_deref() == Some(name) => Some(&items[..]),
        Item::Group { items, .. } => group(items, name),
        _ => None,
    })
}

/// The front view: the plate as 300 by 20 with everything in it at its height; the near long edge and what stands out
/// of an end are seen, the rest is hidden.
#[test]
fn a_front_view() {
    let d = choose(&plate());
    for (quarter, first_angle) in [(false, false), (false, true), (true, false), (true, true)] {
        let view = View { scale: 0.5, quarter, first_angle };
        let placed = place(&d, &printed::figures(&d, &TENTHS), &view, &SMALL);
        let front = Drawn::of(group(&placed.items, "p/front").expect("a front view"));
        // Back from paper to the plate: x along it, y where it lies, height from the first rectangle's lowest line.
        let back = |p: &Pt| if quarter { v(-p.y, -p.x) } else { v(p.x, -p.y) } * 2.0;
        let boxes: Vec<(f64, f64, f64, f64, bool)> = front
            .outlines
            .iter()
            .map(|(points, _, solid)| {
                let ps: Vec<Vec2> = points.iter().map(back).collect();
                let f = |g: fn(f64, f64) -> f64, s: f64, c: fn(&Vec2) -> f64| ps.iter().map(c).fold(s, g);
                let (x0, x1) = (f(f64::min, f64::MAX, |p| p.x), f(f64::max, f64::MIN, |p| p.x));
                (x0, x1, f(f64::min, f64::MAX, |p| p.y), f(f64::max, f64::MIN, |p| p.y), *solid)
            })
            .collect();
        let floor = boxes.iter().map(|b| b.2).fold(f64::MAX, f64::min);
        let due = [
            (26.0, 34.0, 8.0, 20.0, false),
            (57.0, 93.0, 0.0, 20.0, false),
            (200.0, 240.0, 0.0, 5.0, false),
            (40.0, 300.0, 3.0, 9.0, true),
            (50.0, 200.0, 3.0, 9.0, false),
            (300.0, 305.0, 7.0, 13.0, true),
            (0.0, 4.0, 7.0, 13.0, false),
            (0.0, 300.0, 0.0, 20.0, true),
        ];
        assert_eq!(boxes.len(), due.len());
        for (is, due) in boxes.iter().zip(due) {
            let ours = [is.0, is.1, is.2 - floor, is.3 - floor];
            let near = ours.iter().zip([due.0, due.1, due.2, due.3]).all(|(a, b)| (a - b).abs() < 1e-6);
            assert!(near && is.4 == due.4, "{is:?}, by hand {due:?}");
        }
        // Third angle: below the plan, whose lower edge is at −50; first angle: above it. Nothing of the plan's own
        // (its longest lines run along it) comes between.
        assert!(if first_angle { floor > 50.0 } else { floor + 20.0 < -50.0 }, "{floor}");
        let drawn = Drawn::of(&placed.items);
        let along =
            drawn.lines.iter().map(|(a, b)| (back(a), back(b))).filter(|(a, b)| (a.x - b.x).abs() > 290.0);
        let beside = along.map(|(a, _)| a.y).filter(|y| y.abs() > 51.0);
        let past = |y: f64| if first_angle { floor - y } else { y - floor - 20.0 };
        assert!(beside.map(past).fold(f64::MAX, f64::min) > 8.0, "plan and front view run together");
    }
}

/// Twice as large: 40 thick, a groove 14 deep from 6 to 18 above the lower face, hatched at 45°, 2.5 apart.
#[test]
fn sections_of_edges() {
    let d = choose(&plate());
    let figures = printed::figures(&d, &TENTHS);
    let draw =
        |k: usize| section::draw(&d, &d.sections[k], &figures, 2.0, "2 : 1", &SMALL).expect("a section");
    let s = Drawn::of(&draw(0).items);
    let edge: Vec<Pt> = [
        (-38.0, -40.0),
        (0.0, -40.0),
        (0.0, -18.0),
        (-14.0, -18.0),
        (-14.0, -6.0),
        (0.0, -6.0),
        (0.0, 0.0),
        (-38.0, 0.0),
    ]
    .map(|(x, y)| pt(x, y))
    .to_vec();
    let (points, width, _) = s.outlines.iter().find(|o| o.0.len() == 8).expect("the cut edge");
    assert!(points.iter().zip(&edge).all(|(a, b)| near(*a, *b)) && *width == 0.5, "{points:?}");
    // Band 6 and 3 below it at the right, depth 7 above; the shorter ones nearer.
    for (tip, way) in [((16.0, -6.0), (0.0, 1.0)), ((16.0, -18.0), (0.0, -1.0)), ((0.0, -48.0), (1.0, 0.0))] {
        s.arrow(tip, way);
    }
    s.arrow((-14.0, -48.0), (-1.0, 0.0));
    for (text, count) in [("6", 1), ("3", 1), ("7", 1)] {
        assert_eq!(s.texts.iter().filter(|t| t.0 == text).count(), count, "{text}");
    }
    // Strokes of the hatching, 2.5 apart, cover the cut: 38 · 40 less the groove's 14 · 12.
    let strokes = &s.outlines.iter().find(|o| o.0.len() > 8 && o.0.len() % 2 == 0 && o.1 == 0.25);
    let strokes = &strokes.expect("hatching").0;
    let mut length = 0.0;
    for pair in strokes.chunks_exact(2) {
        let (a, b) = (pair[0], pair[1]);
        assert!((a.x + a.y - b.x - b.y).abs() < 1e-9, "45°");
        let lines = (a.x + a.y) / (2.5 * SQRT_2);
        assert!((lines - lines.round()).abs() < 1e-9, "evenly spaced");
        length += trig::hypot(b.x - a.x, b.y - a.y);
        let m = pt((a.x + b.x) / 2.0, (a.y + b.y) / 2.0);
        let (inside, cut) =
            (m.x > -38.0 && m.x < 0.0 && m.y > -40.0 && m.y < 0.0, m.x > -14.0 && m.y > -18.0 && m.y < -6.0);
        assert!(inside && !cut, "{m:?}");
    }
    assert!((length * 2.5 / (38.0 * 40.0 - 14.0 * 12.0) - 1.0).abs() < 0.03, "{length}");
    let tongue =
        d.sections.iter().position(|q| d.sketch.features[q.members[0]].id == "tongue").expect("a tongue");
    let t = Drawn::of(&draw(tongue).items);
    let (points, ..) = t.outlines.iter().find(|o| o.0.len() == 8).expect("the edge");
    assert!(near(points[3], pt(10.0, -26.0)) && near(points[4], pt(10.0, -14.0)), "{points:?}");
    // Its band is measured beyond the tongue, its length above.
    t.arrow((18.0, -14.0), (0.0, 1.0));
    t.arrow((10.0, -48.0), (1.0, 0.0));
}

/// The wedge of rise 20 and run 88 with hollow 40 and rounding 30: its area is that under both arcs and the straight.
#[test]
fn a_developed_ramp() {
    let (r0, r1, half) = (200.0, 240.0, 0.2);
    let bulge = trig::tan(half / 2.0);
    let at = |r: f64, a: f64, bulge: f64| Vertex { p: Vec2::polar(r, a), bulge };
    let ring = Ring {
        vertices: vec![at(r0, -half, 0.0), at(r1, -half, bulge), at(r1, half, 0.0), at(r0, half, -bulge)],
    };
    let d = choose(&part(20.0, ring, vec![feature("ramp", FeatureKind::Ramp { foot: 40.0, head: 30.0 })]));
    let view = d.ramp.expect("a ramp");
    let figures = printed::figures(&d, &TENTHS);
    let drawn = Drawn::of(&ramp::draw(&d, &view, &figures, 1.0, "1 : 1", &SMALL).expect("drawn").items);
    let points = &drawn.outlines[0].0;
    let area: f64 = (0..points.len())
        .map(|i| (points[i], points[(i + 1) % points.len()]))
        .map(|(a, b)| (a.x * b.y - b.x * a.y) / 2.0)
        .sum();
    let slope = d.value(view.slope);
    let (s, c) = trig::sin_cos(slope);
    // Under an arc that starts level: r²·(sin − half the angle − a quarter of the sine of twice it).
    let under = |r: f64| r * r * (s - slope / 2.0 - 2.0 * s * c / 4.0);
    let (low, high) = (40.0 * (1.0 - c), 20.0 - 30.0 * (1.0 - c));
    let due = under(40.0) + (88.0 - 70.0 * s) * (low + high) / 2.0 + 20.0 * 30.0 * s - under(30.0);
    assert!((area.abs() - due).abs() < 0.01, "{area}, by hand {due}");
    let (hs, hc) = trig::sin_cos(slope / 2.0);
    let middle = ((40.0 * s + 88.0 - 30.0 * s) / 2.0, -(low + high) / 2.0);
    for tip in [(40.0 * hs, -40.0 * (1.0 - hc)), (88.0 - 30.0 * hs, -20.0 + 30.0 * (1.0 - hc)), middle] {
        drawn.arrow(tip, (0.0, 1.0));
    }
    drawn.line((0.0, 8.0), (88.0, 8.0));
    for (k, text) in ["R30", "(14.2°)", "R40"].iter().enumerate() {
        let y = -20.0 - 2.5 - 2.5 * 2.2 * k as f64;
        assert!(
            drawn.texts.iter().any(|t| t.0 == *text && (t.1.y - y).abs() < 1e-9),
            "{text}: {:?}",
            drawn.texts
        );
    }
}

/// A groove of 6 along a rim of radius 50, from 10 to 40 of its length: hidden, on radius 44 between both angles.
#[test]
fn a_groove_along_a_rim() {
    let outline = Ring {
        vertices: vec![
            arc_from(0.0, 0.0, 0.0),
            arc_from(40.0, -30.0, 0.0),
            arc_from(120.0, -30.0, 1.0 / 3.0),
            arc_from(120.0, 30.0, 0.0),
            arc_from(40.0, 30.0, 0.0),
        ],
    };
    let groove = FeatureKind::EdgeGroove { edge: 2, from: 10.0, to: 40.0, depth: 6.0, z: (7.0, 13.0) };
    let d = choose(&part(20.0, outline, vec![feature("groove", groove)]));
    let view = View { scale: 1.0, quarter: false, first_angle: false };
    let drawn = Drawn::of(&place(&d, &printed::figures(&d, &TENTHS), &view, &SMALL).items);
    let begin = trig::atan2(-30.0, 40.0);
    let on = |r: f64, along: f64| {
        let p = v(80.0, 0.0) + Vec2::polar(r, begin + along / 50.0);
        pt(p.x, -p.y)
    };
    let found = drawn.outlines.iter().any(|(points, _, solid)| {
        let last = points.len() - 1;
        !solid
            && near(points[0], on(50.0, 10.0))
            && near(points[1], on(44.0, 10.0))
            && near(points[last], on(50.0, 40.0))
    });
    assert!(found, "{:?}", drawn.outlines);
}

/// The same where the rim's end lies nearer the datum: distances run back from there.
#[test]
fn a_groove_along_a_rim_from_its_end() {
    let (from, to) = (v(150.0, 40.0), v(60.0, 70.0));
    let outline = Ring {
        vertices: vec![
            arc_from(0.0, 0.0, 0.0),
            arc_from(150.0, 0.0, 0.0),
            Vertex { p: from, bulge: 0.5 },
            Vertex { p: to, bulge: 0.0 },
            arc_from(0.0, 70.0, 0.0),
        ],
    };
    let groove = FeatureKind::EdgeGroove { edge: 2, from: 10.0, to: 40.0, depth: 6.0, z: (7.0, 13.0) };
    let d = choose(&part(20.0, outline, vec![feature("groove", groove)]));
    let view = View { scale: 1.0, quarter: false, first_angle: false };
    let drawn = Drawn::of(&place(&d, &printed::figures(&d, &TENTHS), &view, &SMALL).items);
    // Bulge 1/2: the radius is 5/8 of the chord, the centre 3/8 of it to the left of its middle.
    let chord = to - from;
    let (radius, centre) = (chord.norm() * 0.625, from.lerp(to, 0.5) + chord.perp() * 0.375);
    let on = |r: f64, along: f64| {
        let p = centre + Vec2::polar(r, (from - centre).angle() + along / radius);
        pt(p.x, -p.y)
    };
    let found = drawn.outlines.iter().any(|(points, _, solid)| {
        let last = points.len() - 1;
        !solid
            && near(points[0], on(radius, 40.0))
            && near(points[1], on(radius - 6.0, 40.0))
            && near(points[last], on(radius, 10.0))
    });
    assert!(found, "{:?}", drawn.outlines);
}

/// Strokes across a curved slot are square to the way from station to station and reach 0.8 mm of paper beyond both
/// sides; the number stands 1.4 mm off the side, with 0.7 of air.
#[test]
fn strokes_across_a_curved_slot() {
    let way = vec![arc_from(50.0, 20.0, 0.0), arc_from(50.0, 100.0, 0.0), arc_from(90.0, 130.0, 0.0)];
    let track = FeatureKind::CurvedSlot { way, width: 12.0, depth: Depth::Through };
    let d = choose(&part(18.0, Ring::circle(Vec2::ZERO, 200.0), vec![feature("track", track)]));
    let view = View { scale: 0.5, quarter: false, first_angle: false };
    let drawn = Drawn::of(&place(&d, &printed::figures(&d, &TENTHS), &view, &SMALL).items);
    drawn.line((25.0 - 3.8, -10.0), (25.0 + 3.8, -10.0));
    drawn.line((45.0 - 0.6 * 3.8, -65.0 - 0.8 * 3.8), (45.0 + 0.6 * 3.8, -65.0 + 0.8 * 3.8));
    let off = 3.0 + 1.4 + SMALL.width("1") / 2.0 + 0.7;
    drawn.text("1", (25.0 - off, -10.0 + 1.25), 0.0);
}
