//! Which of several free places a figure, a leader or a letter takes.
//!
//! Common practice, no source: leaders leave a circle at 45°, shorter ones first; what is free is preferred to what
//! crosses a line; arrows that point in from outside have lines behind them.

use crate::paper::{Drawn, SMALL};
use crate::*;
use turnleaf_dimension::frame::Frame;
use turnleaf_dimension::place::ink::{Ink, Kind, Label};
use turnleaf_dimension::place::lanes::{Linear, Side, lay};
use turnleaf_dimension::place::{View, across, callout, grain};
use turnleaf_geom::trig;
use turnleaf_page::pt;

const PLAIN: View = View { scale: 1.0, quarter: false, first_angle: true };
/// Half of a square's diagonal.
const HALF: f64 = core::f64::consts::FRAC_1_SQRT_2;

/// Text over a rectangle.
fn cover(ink: &mut Ink, x: (f64, f64), y: (f64, f64)) {
    let (width, cap) = (x.1 - x.0, y.1 - y.0);
    ink.text(&Label { at: pt((x.0 + x.1) / 2.0, y.1), width, cap, turn: 0.0, tail: false });
}

#[test]
fn a_leader_in_free_space() {
    let (cost, items) = callout::leader_to(&[(v(20.0, 0.0), 5.0)], "A", &PLAIN, &SMALL, &mut Ink::default());
    let drawn = Drawn::of(&items);
    assert_eq!(cost, 0.0);
    // Up to the right; paper's y points down.
    drawn.arrow((20.0 + 5.0 * HALF, -5.0 * HALF), (-HALF, HALF));
    drawn.line((20.0 + 5.0 * HALF, -5.0 * HALF), (20.0 + 11.0 * HALF, -11.0 * HALF));
}

/// A centre line in the way of the six shorter leaders costs 2 where the shelf crosses it and 8 where the words do; the
/// seventh, 42 mm long, costs 6 · 1.2.
#[test]
fn a_longer_leader_goes_round_a_centre_line() {
    let mut ink = Ink::default();
    // Every other way out crosses a dimension line.
    let at = |k: usize| {
        let p = Vec2::polar(7.0, trig::rad(56.25 + 22.5 * k as f64));
        pt(p.x, -p.y)
    };
    (0..15).for_each(|k| ink.line(at(k), at(k + 1), Kind::Dimension));
    let foot = 5.0 * HALF;
    ink.line(pt(foot + 25.0, -foot), pt(foot + 25.0, -foot - 23.5), Kind::Centre);
    let words = "words that reach beyond the line";
    assert!(SMALL.width(words) > 26.0);
    let (cost, items) = callout::leader_to(&[(v(0.0, 0.0), 5.0)], words, &PLAIN, &SMALL, &mut ink);
    assert!((cost - 7.2).abs() < 1e-9, "{cost}");
    Drawn::of(&items).line((foot, -foot), (47.0 * HALF, -47.0 * HALF));
}

/// An arm 20 wide: its width stands to the right of its line, to the left when the right is taken.
#[test]
fn a_width_across_an_arm() {
    let outline = Ring::slot(v(0.0, 0.0), v(160.0, 0.0), 10.0);
    let pin = |id: &str, x: f64| hole(id, x, 0.0, 8.0, Depth::Through);
    let d = choose(&part(8.0, outline, vec![pin("pin/1", 0.0), pin("pin/2", 160.0)]));
    let figures = printed::figures(&d, &TENTHS);
    let draw = |mut ink: Ink| {
        let (mut items, mut crowded) = (Vec::new(), Vec::new());
        across::draw(&d, &figures, &PLAIN, &SMALL, &mut ink, &mut items, &mut crowded);
        assert!(crowded.is_empty(), "{crowded:?}");
        let drawn = Drawn::of(&items);
        let figure = drawn.texts.iter().find(|t| t.0 == "20").expect("the width");
        (figure.1, drawn.arrows[0].0.x)
    };
    let (free, line) = draw(Ink::default());
    assert!((free.x - line - SMALL.width("20") / 2.0 - 1.2).abs() < 1e-9, "{free:?}");
    let mut taken = Ink::default();
    cover(&mut taken, (line + 2.0, line + 200.0), (-200.0, 200.0));
    let (left, _) = draw(taken);
    assert!((line - left.x - SMALL.width("20") / 2.0 - 1.2).abs() < 1e-9, "{left:?}");
}

/// The sign of the grain goes to the free tenth of the face that is nearest to the middle.
#[test]
fn the_sign_of_the_grain_beside_others() {
    let d = choose(&part(18.0, Ring::rect(v(0.0, -50.0), v(400.0, 50.0)), Vec::new()));
    let draw = |mut ink: Ink| {
        let mut items = Vec::new();
        grain::draw(&d, &PLAIN, &SMALL, &mut ink, &mut items);
        Drawn::of(&items).texts.first().map(|t| t.1.x)
    };
    let at = |x: f64| move |found: f64| (found - x).abs() < 1e-6;
    assert!(draw(Ink::default()).is_some_and(at(200.0)));
    let mut taken = Ink::default();
    cover(&mut taken, (-10.0, 305.0), (-60.0, 60.0));
    assert!(draw(taken).is_some_and(at(320.0)));
}

/// Stretches of 3 mm have their arrows outside, with lines of two arrows' length behind them. Figures of one side keep
/// clear of those of the next, round both corners.
#[test]
fn lines_behind_arrows_from_outside() {
    let dim = |side: Side, text: &str, a: (f64, f64), b: (f64, f64)| Linear {
        id: "d".into(),
        origin: None,
        text: text.into(),
        a: pt(a.0, a.1),
        b: pt(b.0, b.1),
        side,
    };
    let figure = |dims: &[Linear]| {
        let drawn = Drawn::of(&lay(dims, pt(0.0, -40.0), pt(100.0, 0.0), &SMALL, &mut Ink::default()));
        drawn.texts.iter().find(|t| t.0 == "3.25").expect("the figure").1
    };
    // Beyond its end, unless the tail of the side beyond the corner lies there, which ends 5 mm from its own stretch.
    let below = dim(Side::Bottom, "3.25", (98.0, 0.0), (101.0, 0.0));
    let beside = |end: f64| dim(Side::Right, "3", (100.0, end - 3.0), (100.0, end));
    assert!(figure(std::slice::from_ref(&below)).x > 106.0);
    assert!(figure(&[below.clone(), beside(-1.0)]).x > 106.0);
    assert!(figure(&[below, beside(2.0)]).x < 93.0);
    let right = dim(Side::Right, "3.25", (100.0, -36.0), (100.0, -39.0));
    let above = |end: f64| dim(Side::Top, "3", (end - 3.0, -40.0), (end, -40.0));
    assert!(figure(std::slice::from_ref(&right)).y < -44.0);
    assert!(figure(&[right.clone(), above(99.0)]).y < -44.0);
    assert!(figure(&[right, above(102.0)]).y > -31.0);
}

/// Ends of an arm whose radii differ are no half circles: 2·asin((r − s)/L) short of or beyond one. Common practice, no
/// source: a link tapered by 7.5 in 100 is still dimensioned pin to pin, one tapered by 12.5 is not.
#[test]
fn tapered_arms() {
    let pins = |taper: f64| {
        let (long, r) = (100.0, 20.0);
        let s = r - taper;
        let lean = trig::asin(taper / long);
        // Both tangent points of either end lie square to the sides, which lean by half the taper each.
        let end = |x: f64, r: f64, up: f64| v(x + r * trig::sin(lean), up * r * trig::cos(lean));
        let bulge = |sweep: f64| trig::sin(sweep / 4.0) / trig::cos(sweep / 4.0);
        let (half, near, far) = (core::f64::consts::PI, end(0.0, r, 1.0), end(long, s, 1.0));
        let ring = Ring {
            vertices: vec![
                Vertex { p: near, bulge: bulge(half + 2.0 * lean) },
                Vertex { p: v(near.x, -near.y), bulge: 0.0 },
                Vertex { p: v(far.x, -far.y), bulge: bulge(half - 2.0 * lean) },
                Vertex { p: far, bulge: 0.0 },
            ],
        };
        let pin = |id: &str, x: f64| hole(id, x, 0.0, 8.0, Depth::Through);
        Frame::of(&part(8.0, ring, vec![pin("pin/1", 0.0), pin("pin/2", long)])).pins
    };
    assert_eq!(pins(7.5), Some((0, 1)));
    assert_eq!(pins(12.5), None);
}
