//! What it costs to put text or a leader somewhere.

use turnleaf_dimension::place::ink::{FORBIDDEN, Ink, Kind, Label};
use turnleaf_page::pt;

/// Costs of places; common practice, no source: text is never covered, lines of dimensions are not written over, edges
/// only for want of better.
#[test]
fn what_places_cost() {
    let label = |x: f64, y: f64| Label::mark(pt(x, y), 10.0, 2.5);
    let mut ink = Ink::default();
    assert_eq!(ink.text_cost(&label(0.0, 0.0)), 0.0);
    ink.text(&label(0.0, 0.0));
    // Boxes of 10 with 0.7 at both ends, 2.5 + 0.7 above and 1.026 + 0.1 below.
    for (x, y, met) in
        [(11.3, 0.0, true), (11.5, 0.0, false), (0.0, 4.3, true), (0.0, 4.4, false), (0.0, -4.3, true)]
    {
        let cost = ink.text_cost(&label(x, y));
        assert_eq!(cost, if met { FORBIDDEN } else { 0.0 }, "{x} {y}");
    }
    ink.text(&label(6.0, 0.0));
    assert_eq!(ink.text_cost(&label(3.0, 0.0)), 2.0 * FORBIDDEN);
    for (kind, cost, inside) in [
        (Kind::Outline, 200.0, true),
        (Kind::Hidden, 20.0, true),
        (Kind::Centre, 8.0, true),
        (Kind::Dimension, FORBIDDEN, false),
        (Kind::Extension, FORBIDDEN, false),
        (Kind::Leader, FORBIDDEN, false),
    ] {
        let with = |y: f64| {
            let mut ink = Ink::default();
            ink.line(pt(-20.0, y), pt(20.0, y), kind);
            ink.text_cost(&label(0.0, 0.0))
        };
        assert_eq!(with(-1.0), cost, "{kind:?}");
        // Between figures with 0.4 round them and their whole box.
        assert_eq!(with(-3.0), if inside { 0.0 } else { cost }, "{kind:?}");
        assert_eq!(with(0.3), cost, "{kind:?}");
        assert_eq!(with(0.6), if inside { 0.0 } else { cost }, "{kind:?}");
        assert_eq!(with(-3.3), 0.0);
    }
    // A word with tails reaches 0.9 down.
    let mut ink = Ink::default();
    ink.line(pt(-20.0, 0.6), pt(20.0, 0.6), Kind::Outline);
    assert_eq!(ink.text_cost(&Label::level(pt(0.0, 0.0), 10.0, 2.5)), 200.0);
    // Upright text: 10 high, its capitals to the left.
    let mut ink = Ink::default();
    ink.line(pt(-1.0, -20.0), pt(-1.0, 20.0), Kind::Outline);
    assert_eq!(ink.text_cost(&Label { turn: 90.0, ..label(0.0, 0.0) }), 200.0);
    assert_eq!(ink.text_cost(&Label { turn: 90.0, ..label(3.0, 0.0) }), 0.0);
}

#[test]
fn what_leaders_cost() {
    for (kind, crossing, along) in [
        (Kind::Dimension, 40.0, 50.0),
        (Kind::Leader, 40.0, 50.0),
        (Kind::Extension, 12.0, 50.0),
        (Kind::Outline, 4.0, 15.0),
        (Kind::Hidden, 2.0, 15.0),
        (Kind::Centre, 2.0, 15.0),
    ] {
        let mut ink = Ink::default();
        ink.line(pt(0.0, 0.0), pt(30.0, 40.0), kind);
        let cost = |a: (f64, f64), b: (f64, f64)| ink.line_cost(pt(a.0, a.1), pt(b.0, b.1));
        assert_eq!(cost((0.0, 40.0), (30.0, 0.0)), crossing, "{kind:?}");
        assert_eq!(cost((20.0, 0.0), (30.0, 10.0)), 0.0, "{kind:?}");
        // Moved square to itself, by (−4, 3)/5 a millimetre: beside it up to 1.2.
        for (by, cost_due) in [(1.0, along), (1.5, 0.0), (-1.0, along), (-1.5, 0.0)] {
            let off = |x: f64, y: f64| (x - 0.8 * by, y + 0.6 * by);
            assert_eq!(cost(off(6.0, 8.0), off(24.0, 32.0)), cost_due, "{kind:?} {by}");
            assert_eq!(cost(off(-6.0, -8.0), off(36.0, 48.0)), cost_due, "{kind:?} {by}");
        }
        // End to end they do not run beside one another.
        assert_eq!(cost((30.0, 40.0), (60.0, 80.0)), 0.0, "{kind:?}");
        assert_eq!(cost((15.0, 20.0), (15.2, 20.2)), 0.0, "{kind:?}, too short");
    }
    let mut ink = Ink::default();
    ink.line(pt(0.0, 0.0), pt(30.0, 0.0), Kind::Outline);
    assert_eq!(ink.line_cost(pt(5.0, 1.19), pt(25.0, 1.19)), 15.0);
    assert_eq!(ink.line_cost(pt(5.0, 1.2), pt(25.0, 1.2)), 0.0, "at 1.2 mm they are two lines");
    let mut ink = Ink::default();
    ink.text(&Label::mark(pt(0.0, 0.0), 10.0, 2.5));
    assert_eq!(ink.line_cost(pt(-20.0, -1.0), pt(20.0, -1.0)), FORBIDDEN);
    assert_eq!(ink.line_cost(pt(-20.0, -5.0), pt(20.0, 5.0)), FORBIDDEN);
    assert_eq!(ink.line_cost(pt(-20.0, -3.3), pt(20.0, -3.3)), 0.0);
    assert_eq!(ink.line_cost(pt(0.0, -20.0), pt(-20.0, 0.0)), 0.0);
}
