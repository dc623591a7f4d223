//! What is drawn, mm on paper, y down: pens, arrows, lanes of dimension lines.

use crate::*;
use core::f64::consts::FRAC_PI_3;
use turnleaf_dimension::place::View;
use turnleaf_dimension::place::ink::Ink;
use turnleaf_dimension::place::lanes::{Linear, Side, lay};
use turnleaf_dimension::place::pen::{self, Style};
use turnleaf_geom::{Arc, trig};
use turnleaf_page::{Item, Pt, Step, pt};

pub const SMALL: Style = Style::SMALL;

/// Everything drawn, taken out of its groups.
#[derive(Default)]
pub struct Drawn {
    /// Straight lines.
    pub lines: Vec<(Pt, Pt)>,
    /// Points of closed or longer lines, with the width of the pen.
    pub outlines: Vec<(Vec<Pt>, f64, bool)>,
    /// Tip, and how the arrow points.
    pub arrows: Vec<(Pt, Pt)>,
    pub texts: Vec<(String, Pt, f64)>,
}

pub fn near(a: Pt, b: Pt) -> bool {
    (a.x - b.x).abs() < 1e-6 && (a.y - b.y).abs() < 1e-6
}

impl Drawn {
    pub fn of(items: &[Item]) -> Drawn {
        let mut out = Drawn::default();
        out.add(items);
        out
    }
    fn add(&mut self, items: &[Item]) {
        for item in items {
            match item {
                Item::Group { items, .. } => self.add(items),
                Item::Text(t) => self.texts.push((t.text.clone(), t.at, t.rotate)),
                Item::Path { steps, stroke, fill } => {
                    let mut points = Vec::new();
                    for s in steps {
                        match s {
                            Step::Move(p) | Step::Line(p) => points.push(*p),
                            Step::Cubic(a, b, c) => {
                                points.extend(bezier(points[points.len() - 1], *a, *b, *c))
                            }
                            Step::Close => {}
                        }
                    }
                    if fill.is_some() {
                        let (tip, a, b) = (points[0], points[1], points[2]);
                        let back = pt((a.x + b.x) / 2.0, (a.y + b.y) / 2.0);
                        let long = trig::hypot(tip.x - back.x, tip.y - back.y);
                        let wide = trig::hypot(a.x - b.x, a.y - b.y);
                        assert!((long / wide - 3.0).abs() < 1e-9, "an arrow is three times as long as wide");
                        assert!(
                            (trig::hypot(tip.x - a.x, tip.y - a.y) - trig::hypot(tip.x - b.x, tip.y - b.y))
                                .abs()
                                < 1e-9
                        );
                        self.arrows.push((tip, pt((tip.x - back.x) / long, (tip.y - back.y) / long)));
                    } else if points.len() == 2 {
                        self.lines.push((points[0], points[1]));
                    } else {
                        let pen = stroke.as_ref().expect("a pen");
                        self.outlines.push((points, pen.width, pen.dash.is_empty()));
                    }
                }
                _ => {}
            }
        }
    }
    pub fn line(&self, a: (f64, f64), b: (f64, f64)) {
        let (a, b) = (pt(a.0, a.1), pt(b.0, b.1));
        let found = self.lines.iter().any(|l| near(l.0, a) && near(l.1, b) || near(l.0, b) && near(l.1, a));
        assert!(found, "no line {a:?} {b:?} among {:?}", self.lines);
    }
    pub fn arrow(&self, tip: (f64, f64), way: (f64, f64)) {
        let found = self.arrows.iter().any(|a| near(a.0, pt(tip.0, tip.1)) && near(a.1, pt(way.0, way.1)));
        assert!(found, "no arrow {tip:?} {way:?} among {:?}", self.arrows);
    }
    pub fn text(&self, text: &str, at: (f64, f64), turn: f64) {
        let found = self.texts.iter().any(|t| t.0 == text && near(t.1, pt(at.0, at.1)) && t.2 == turn);
        assert!(found, "no {text} at {at:?} among {:?}", self.texts);
    }
}

fn bezier(p: Pt, a: Pt, b: Pt, q: Pt) -> Vec<Pt> {
    let at = |t: f64| {
        let (u, c) = (1.0 - t, [p, a, b, q]);
        let k = [u * u * u, 3.0 * u * u * t, 3.0 * u * t * t, t * t * t];
        let sum = |f: fn(&Pt) -> f64| c.iter().zip(k).map(|(p, k)| f(p) * k).sum::<f64>();
        pt(sum(|p| p.x), sum(|p| p.y))
    };
    (1..=16).map(|i| at(f64::from(i) / 16.0)).collect()
}

/// Line widths 2 : 1 of the ISO 128 series; dashes 12 d and gaps 3 d (ISO 128-2, quoted), long dashes 24 d (from memory).
#[test]
fn pens() {
    for (style, d) in [(Style::SMALL, 0.25), (Style::LARGE, 0.35)] {
        assert_eq!((style.visible().width, style.thin().width), (2.0 * d, d));
        assert!(style.visible().dash.is_empty() && style.thin().dash.is_empty());
        assert_eq!(style.hidden().dash, [12.0 * d, 3.0 * d]);
        assert_eq!(style.centre().dash, [24.0 * d, 3.0 * d, d, 3.0 * d]);
        assert_eq!(style.centre_short().dash, [8.0 * d, 2.0 * d, d, 2.0 * d]);
        // ISO 129-1 (from memory): extension lines pass the dimension line by eight narrow lines.
        assert!((style.overrun - 8.0 * d).abs() < 1e-12);
        assert!((style.lift() - (0.41 * style.cap + 0.5)).abs() < 1e-12);
    }
}

#[test]
fn arrows_and_arcs() {
    let drawn = Drawn::of(&[pen::arrow(pt(10.0, 20.0), 3.0, -4.0, 5.0)]);
    drawn.arrow((10.0, 20.0), (0.6, -0.8));
    let put = |p: Vec2| pt(p.x, p.y);
    for sweep in [0.4, -1.0, 3.0, 6.0] {
        let arc = Arc { centre: v(5.0, -3.0), radius: 10.0, start: 0.7, sweep };
        let mut steps = vec![Step::Move(put(arc.at(0.0)))];
        pen::arc_steps(&arc, &put, &mut steps);
        // No piece beyond a sixth of a turn.
        assert_eq!(steps.len() - 1, (f64::abs(sweep) / FRAC_PI_3).ceil() as usize);
        let drawn = Drawn::of(&[Item::Path { steps, stroke: Some(SMALL.thin()), fill: None }]);
        let points = &drawn.outlines[0].0;
        for p in points {
            let off = trig::hypot(p.x - 5.0, p.y + 3.0) - 10.0;
            // Greatest radial error of the usual cubic over an angle a: 2/27 · sin⁶(a/4)/cos²(a/4) (from memory).
            let (s, c) = trig::sin_cos(FRAC_PI_3 / 4.0);
            assert!(
                off.abs() < 10.0 * 2.0 / 27.0 * s.powi(6) / (c * c),
                "{off} mm off a circle of radius 10"
            );
        }
        assert!(near(points[points.len() - 1], put(arc.at(1.0))));
        let length: f64 = points.windows(2).map(|w| trig::hypot(w[1].x - w[0].x, w[1].y - w[0].y)).sum();
        assert!((length - 10.0 * sweep.abs()).abs() < 0.5);
    }
}

#[test]
fn points_on_paper() {
    let view = |quarter| View { scale: 0.5, quarter, first_angle: true };
    assert!(near(view(false).place(v(10.0, 20.0)), pt(5.0, -10.0)));
    // Turned a quarter, the datum line points up the sheet.
    assert!(near(view(true).place(v(10.0, 20.0)), pt(-10.0, -5.0)));
}

fn dim(id: &str, text: &str, a: (f64, f64), b: (f64, f64), side: Side) -> Linear {
    Linear { id: id.into(), origin: None, text: text.into(), a: pt(a.0, a.1), b: pt(b.0, b.1), side }
}

/// A view of 100 by 50: first lines 10 from it, next ones 8 farther, extension lines from 1 off the anchor to 2 beyond,
/// figures above their lines.
#[test]
fn lanes_of_dimension_lines() {
    let dims = [
        dim("a", "100", (0.0, 50.0), (100.0, 50.0), Side::Bottom),
        dim("b", "40", (0.0, 50.0), (40.0, 50.0), Side::Bottom),
        dim("c", "35", (65.0, 30.0), (100.0, 50.0), Side::Bottom),
        dim("d", "80", (10.0, 0.0), (90.0, 20.0), Side::Top),
        dim("e", "50", (100.0, 50.0), (100.0, 0.0), Side::Right),
        dim("f", "30", (0.0, 40.0), (20.0, 10.0), Side::Left),
    ];
    let items = lay(&dims, pt(0.0, 0.0), pt(100.0, 50.0), &SMALL, &mut Ink::default());
    let d = Drawn::of(&items);
    let lift = 0.41 * 2.5 + 0.5;
    for (from, to, y, text) in [(0.0, 40.0, 60.0, "40"), (65.0, 100.0, 60.0, "35"), (0.0, 100.0, 68.0, "100")]
    {
        d.line((from, y), (to, y));
        d.arrow((from, y), (-1.0, 0.0));
        d.arrow((to, y), (1.0, 0.0));
        d.text(text, ((from + to) / 2.0, y - lift), 0.0);
    }
    d.line((0.0, 51.0), (0.0, 62.0));
    d.line((100.0, 51.0), (100.0, 70.0));
    d.line((65.0, 31.0), (65.0, 62.0));
    d.line((10.0, -10.0), (90.0, -10.0));
    d.line((90.0, 19.0), (90.0, -12.0));
    d.text("80", (50.0, -10.0 - lift), 0.0);
    d.line((110.0, 50.0), (110.0, 0.0));
    d.text("50", (110.0 - lift, 25.0), 90.0);
    d.line((-10.0, 40.0), (-10.0, 10.0));
    d.line((19.0, 10.0), (-12.0, 10.0));
    d.arrow((-10.0, 10.0), (0.0, -1.0));
    d.text("30", (-10.0 - lift, 25.0), 90.0);
}

/// Lines that come nearer than 1.5 mm to each other lie in different lanes, the shorter one nearer.
#[test]
fn lanes_beside_one_another() {
    for (from, lane) in [(41.4, 68.0), (41.6, 60.0)] {
        let dims = [
            dim("a", "40", (0.0, 50.0), (40.0, 50.0), Side::Bottom),
            dim("b", "58", (from, 50.0), (100.0, 50.0), Side::Bottom),
        ];
        let items = lay(&dims, pt(0.0, 0.0), pt(100.0, 50.0), &SMALL, &mut Ink::default());
        let d = Drawn::of(&items);
        d.line((0.0, 60.0), (40.0, 60.0));
        d.line((from, lane), (100.0, lane));
    }
}

/// A stretch of 4 has no room for two arrows of 2.5 and a millimetre: they point in from outside.
#[test]
fn short_stretches() {
    for (length, outside) in [(4.0, true), (5.9, true), (6.1, false)] {
        let dims = [dim("a", "4", (10.0, 50.0), (10.0 + length, 50.0), Side::Bottom)];
        let d = Drawn::of(&lay(&dims, pt(0.0, 0.0), pt(100.0, 50.0), &SMALL, &mut Ink::default()));
        let sign = if outside { 1.0 } else { -1.0 };
        d.arrow((10.0, 60.0), (sign, 0.0));
        d.arrow((10.0 + length, 60.0), (-sign, 0.0));
        d.text("4", (10.0 + length / 2.0, 60.0 - 0.41 * 2.5 - 0.5), 0.0);
        let tail = if outside { 5.0 } else { 0.0 };
        d.line((10.0 - tail, 60.0), (10.0 + length + tail, 60.0));
    }
    // A figure wider than its stretch stands beside it, 0.7 off the arrow, and the line runs on under it.
    let dims = [dim("a", "444.4", (10.0, 50.0), (14.0, 50.0), Side::Bottom)];
    let d = Drawn::of(&lay(&dims, pt(0.0, 0.0), pt(100.0, 50.0), &SMALL, &mut Ink::default()));
    let half = SMALL.width("444.4") / 2.0 + 0.7;
    d.text("444.4", (14.0 + 5.0 + half, 60.0 - 0.41 * 2.5 - 0.5), 0.0);
    d.line((5.0, 60.0), (14.0 + 5.0 + 2.0 * half, 60.0));
    // Both figures of a long pair of units, above and below; the next line keeps a lane more.
    let dims = [
        dim("a", "12345.67 [486 39/64]", (0.0, 50.0), (32.0, 50.0), Side::Bottom),
        dim("b", "100", (0.0, 50.0), (100.0, 50.0), Side::Bottom),
    ];
    assert!(SMALL.width("12345.67 [486 39/64]") > 30.0);
    let d = Drawn::of(&lay(&dims, pt(0.0, 0.0), pt(100.0, 50.0), &SMALL, &mut Ink::default()));
    d.text("12345.67", (16.0, 60.0 - 0.41 * 2.5 - 0.5), 0.0);
    d.text("[486 39/64]", (16.0, 60.0 + 2.5 + 0.8), 0.0);
    d.line((0.0, 76.0), (100.0, 76.0));
}
