//! In: the list of signs that Open Sans lacks. Out: their outlines and the bytes of a small font.
//! Always true: outer contours run clockwise and holes counter-clockwise (y up), so that overlapping
//! pieces join under the non-zero rule; the same bytes come out every time.

use kurbo::{BezPath, Point};
use write_fonts::FontBuilder;
use write_fonts::tables::{
    cmap::Cmap,
    glyf::{GlyfLocaBuilder, Glyph, SimpleGlyph},
    head::Head,
    hhea::Hhea,
    hmtx::Hmtx,
    loca::LocaFormat,
    maxp::Maxp,
    name::{Name, NameRecord},
    os2::{Os2, SelectionFlags},
    post::Post,
    vmtx::LongMetric,
};
use write_fonts::types::{FWord, Fixed, GlyphId, LongDateTime, NameId, UfWord};

/// Units per em, cap height and line weight follow Open Sans, so that the signs sit well beside it.
const EM: u16 = 2048;
const CAP: f64 = 1462.0;
const PEN: f64 = 150.0;

/// One sign: its name, its characters, its advance and its outline.
pub struct Sign {
    pub name: &'static str,
    pub chars: &'static [char],
    pub advance: u16,
    pub path: BezPath,
}

fn point(angle_deg: f64, r: f64, c: (f64, f64)) -> (f64, f64) {
    let (s, k) = libm::sincos(angle_deg * core::f64::consts::PI / 180.0);
    (c.0 + r * k, c.1 + r * s)
}

fn area(points: &[(f64, f64)]) -> f64 {
    (0..points.len())
        .map(|i| {
            let (a, b) = (points[i], points[(i + 1) % points.len()]);
            a.0 * b.1 - a.1 * b.0
        })
        .sum()
}

/// A closed contour; `hole` chooses its direction.
fn contour(path: &mut BezPath, points: &[(f64, f64)], hole: bool) {
    let mut points = points.to_vec();
    if (area(&points) > 0.0) != hole {
        points.reverse();
    }
    for (i, p) in points.iter().enumerate() {
        let p = Point::new(p.0.round(), p.1.round());
        if i == 0 { path.move_to(p) } else { path.line_to(p) }
    }
    path.close_path();
}

/// A circle of eight quadratic arcs.
fn circle(path: &mut BezPath, c: (f64, f64), r: f64, hole: bool) {
    let turn = if hole { 45.0 } else { -45.0 };
    let far = r / libm::cos(core::f64::consts::PI / 8.0);
    let at = |k: f64, r: f64| {
        let p = point(k * turn, r, c);
        Point::new(p.0.round(), p.1.round())
    };
    path.move_to(at(0.0, r));
    for k in 0..8 {
        path.quad_to(at(k as f64 + 0.5, far), at((k + 1) as f64, r));
    }
    path.close_path();
}

fn ring(path: &mut BezPath, c: (f64, f64), r: f64) {
    circle(path, c, r, false);
    circle(path, c, r - PEN, true);
}

fn bar(path: &mut BezPath, a: (f64, f64), b: (f64, f64), pen: f64) {
    let (dx, dy) = (b.0 - a.0, b.1 - a.1);
    let l = libm::hypot(dx, dy);
    let (nx, ny) = (-dy / l * pen / 2.0, dx / l * pen / 2.0);
    let corners = [(a.0 + nx, a.1 + ny), (b.0 + nx, b.1 + ny), (b.0 - nx, b.1 - ny), (a.0 - nx, a.1 - ny)];
    contour(path, &corners, false);
}

fn polyline(path: &mut BezPath, points: &[(f64, f64)], pen: f64) {
    for pair in points.windows(2) {
        bar(path, pair[0], pair[1], pen);
    }
    for p in points {
        circle(path, *p, pen / 2.0, false);
    }
}

/// A filled arrow head with its tip at the point, pointing along the angle.
fn head(path: &mut BezPath, tip: (f64, f64), angle: f64) {
    let back = point(angle + 180.0, 520.0, tip);
    let side = |sign: f64| point(angle + 90.0 * sign, 330.0, back);
    contour(path, &[tip, side(1.0), side(-1.0)], false);
}

fn arrow(angle: f64, both: bool, advance: f64) -> BezPath {
    let mut path = BezPath::new();
    let c = (advance / 2.0, CAP / 2.0);
    let (tip, tail) = (point(angle, 780.0, c), point(angle + 180.0, 780.0, c));
    let inner = |p, a| point(a, 480.0, p);
    bar(&mut path, inner(tip, angle + 180.0), if both { inner(tail, angle) } else { tail }, PEN);
    head(&mut path, tip, angle);
    if both {
        head(&mut path, tail, angle + 180.0);
    }
    path
}

/// An open ring with an arrow head: `sign` is +1 for counter-clockwise.
fn turn(sign: f64) -> BezPath {
    let mut path = BezPath::new();
    let (c, r) = ((800.0, 700.0), 560.0);
    let (from, to) = (90.0 - sign * 20.0, 90.0 + sign * 250.0);
    let steps = 30;
    let at = |i: usize, r: f64| point(from + (to - from) * i as f64 / steps as f64, r, c);
    let mut points: Vec<_> = (0..=steps).map(|i| at(i, r + PEN / 2.0)).collect();
    points.extend((0..=steps).rev().map(|i| at(i, r - PEN / 2.0)));
    contour(&mut path, &points, false);
    let end = point(to, r, c);
    head(&mut path, point(to + sign * 90.0, 400.0, end), to + sign * 90.0);
    path
}

fn square(path: &mut BezPath, low: (f64, f64), side: f64, hole: bool) {
    let (x, y) = low;
    contour(path, &[(x, y), (x + side, y), (x + side, y + side), (x, y + side)], hole);
}

fn box_sign(filled: bool) -> BezPath {
    let mut path = BezPath::new();
    square(&mut path, (150.0, 60.0), 1300.0, false);
    if !filled {
        square(&mut path, (270.0, 180.0), 1060.0, true);
    }
    path
}

/// A triangle or a diamond: corners at the angles; hollow unless filled.
fn corners(angles: &[f64], c: (f64, f64), r: f64, filled: bool) -> BezPath {
    let mut path = BezPath::new();
    let at = |r: f64| angles.iter().map(|a| point(*a, r, c)).collect::<Vec<_>>();
    contour(&mut path, &at(r), false);
    if !filled {
        // The inset of a regular polygon: the pen measured across the side, not to the corner.
        let inset = PEN / libm::cos(core::f64::consts::PI / angles.len() as f64);
        contour(&mut path, &at(r - inset), true);
    }
    path
}

fn drawn(draw: impl FnOnce(&mut BezPath)) -> BezPath {
    let mut path = BezPath::new();
    draw(&mut path);
    path
}

const CHECK: [(f64, f64); 3] = [(300.0, 760.0), (650.0, 330.0), (1330.0, 1360.0)];

/// Every sign of the font, in glyph order.
pub fn signs() -> Vec<Sign> {
    let up = [90.0, 210.0, 330.0];
    let down = [270.0, 30.0, 150.0];
    let sign = |name, chars, advance, path| Sign { name, chars, advance, path };
    vec![
        sign("diameter", &['\u{2300}', '\u{2205}'], 1520, {
            drawn(|p| {
                ring(p, (760.0, 731.0), 600.0);
                bar(p, point(240.0, 900.0, (760.0, 731.0)), point(60.0, 900.0, (760.0, 731.0)), PEN * 0.9);
            })
        }),
        sign("arrowleft", &['\u{2190}'], 1900, arrow(180.0, false, 1900.0)),
        sign("arrowup", &['\u{2191}'], 1100, arrow(90.0, false, 1100.0)),
        sign("arrowright", &['\u{2192}'], 1900, arrow(0.0, false, 1900.0)),
        sign("arrowdown", &['\u{2193}'], 1100, arrow(270.0, false, 1100.0)),
        sign("arrowboth", &['\u{2194}'], 1900, arrow(0.0, true, 1900.0)),
        sign("arrowupdn", &['\u{2195}'], 1100, arrow(90.0, true, 1100.0)),
        sign("arrowNW", &['\u{2196}'], 1700, arrow(135.0, false, 1700.0)),
        sign("arrowNE", &['\u{2197}'], 1700, arrow(45.0, false, 1700.0)),
        sign("arrowSE", &['\u{2198}'], 1700, arrow(315.0, false, 1700.0)),
        sign("arrowSW", &['\u{2199}'], 1700, arrow(225.0, false, 1700.0)),
        sign("turnccw", &['\u{21BA}'], 1600, turn(1.0)),
        sign("turncw", &['\u{21BB}'], 1600, turn(-1.0)),
        sign("depth", &['\u{21A7}'], 1300, {
            drawn(|p| {
                bar(p, (200.0, 1387.0), (1100.0, 1387.0), PEN);
                bar(p, (650.0, 1387.0), (650.0, 400.0), PEN);
                head(p, (650.0, 0.0), 270.0);
            })
        }),
        sign("counterbore", &['\u{2334}'], 1600, {
            let u = [(220.0, 1000.0), (220.0, 200.0), (1380.0, 200.0), (1380.0, 1000.0)];
            drawn(|p| polyline(p, &u, PEN))
        }),
        sign("countersink", &['\u{2335}'], 1600, {
            drawn(|p| polyline(p, &[(200.0, 1150.0), (800.0, 150.0), (1400.0, 1150.0)], PEN))
        }),
        sign("arc", &['\u{2312}'], 1700, {
            let arc: Vec<_> = (0..=20).map(|i| point(25.0 + 6.5 * i as f64, 820.0, (850.0, 100.0))).collect();
            drawn(|p| polyline(p, &arc, PEN))
        }),
        sign("angle", &['\u{2220}'], 1500, {
            drawn(|p| polyline(p, &[(1150.0, 1250.0), (200.0, 150.0), (1300.0, 150.0)], PEN))
        }),
        sign("parallel", &['\u{2225}'], 1100, {
            drawn(|p| {
                bar(p, (250.0, 0.0), (450.0, CAP), PEN);
                bar(p, (650.0, 0.0), (850.0, CAP), PEN);
            })
        }),
        sign("perpendicular", &['\u{22A5}', '\u{27C2}'], 1600, {
            drawn(|p| {
                bar(p, (200.0, PEN / 2.0), (1400.0, PEN / 2.0), PEN);
                bar(p, (800.0, PEN), (800.0, CAP), PEN);
            })
        }),
        sign("square", &['\u{25A1}', '\u{2610}', '\u{25A2}'], 1600, box_sign(false)),
        sign("squarefilled", &['\u{25A0}'], 1600, box_sign(true)),
        sign("boxcheck", &['\u{2611}'], 1600, {
            let mut path = box_sign(false);
            polyline(&mut path, &[(450.0, 760.0), (720.0, 420.0), (1180.0, 1080.0)], PEN);
            path
        }),
        sign("boxcross", &['\u{2612}'], 1600, {
            let mut path = box_sign(false);
            bar(&mut path, (470.0, 380.0), (1130.0, 1040.0), PEN);
            bar(&mut path, (470.0, 1040.0), (1130.0, 380.0), PEN);
            path
        }),
        sign("triup", &['\u{25B3}'], 1700, corners(&up, (850.0, 520.0), 800.0, false)),
        sign("triupfilled", &['\u{25B2}'], 1700, corners(&up, (850.0, 520.0), 800.0, true)),
        sign("tridown", &['\u{25BD}'], 1700, corners(&down, (850.0, 900.0), 800.0, false)),
        sign("tridownfilled", &['\u{25BC}'], 1700, corners(&down, (850.0, 900.0), 800.0, true)),
        sign("triright", &['\u{25B6}'], 1500, corners(&[0.0, 120.0, 240.0], (600.0, 731.0), 700.0, true)),
        sign("trileft", &['\u{25C0}'], 1500, corners(&[180.0, 300.0, 60.0], (900.0, 731.0), 700.0, true)),
        sign("diamond", &['\u{25C7}'], 1600, {
            corners(&[0.0, 90.0, 180.0, 270.0], (800.0, 731.0), 700.0, false)
        }),
        sign("diamondfilled", &['\u{25C6}'], 1600, {
            corners(&[0.0, 90.0, 180.0, 270.0], (800.0, 731.0), 700.0, true)
        }),
        sign("circle", &['\u{25CB}', '\u{25EF}'], 1600, drawn(|p| ring(p, (800.0, 731.0), 640.0))),
        sign("circlefilled", &['\u{25CF}'], 1600, drawn(|p| circle(p, (800.0, 731.0), 640.0, false))),
        sign("warning", &['\u{26A0}'], 1900, {
            let mut path = corners(&up, (950.0, 520.0), 900.0, false);
            bar(&mut path, (950.0, 1000.0), (950.0, 480.0), PEN);
            circle(&mut path, (950.0, 300.0), 95.0, false);
            path
        }),
        sign("check", &['\u{2713}', '\u{2714}'], 1600, drawn(|p| polyline(p, &CHECK, PEN * 1.1))),
        sign("cross", &['\u{2717}', '\u{2718}', '\u{2715}'], 1500, {
            drawn(|p| {
                polyline(p, &[(280.0, 260.0), (1220.0, 1200.0)], PEN * 1.1);
                polyline(p, &[(280.0, 1200.0), (1220.0, 260.0)], PEN * 1.1);
            })
        }),
    ]
}

/// The font file.
pub fn build() -> Vec<u8> {
    let signs = signs();
    let mut glyphs = GlyfLocaBuilder::new();
    // .notdef and the space are empty.
    glyphs.add_glyph(&Glyph::Empty).unwrap().add_glyph(&Glyph::Empty).unwrap();
    let mut metrics = vec![LongMetric::new(1000, 0), LongMetric::new(532, 0)];
    let mut map = vec![(' ', GlyphId::new(1))];
    let (mut points, mut contours) = (0, 0);
    let (mut low, mut high) = ((i16::MAX, i16::MAX), (i16::MIN, i16::MIN));
    for (i, sign) in signs.iter().enumerate() {
        let glyph = SimpleGlyph::from_bezpath(&sign.path).unwrap();
        points = points.max(glyph.contours.iter().map(|c| c.len()).sum::<usize>());
        contours = contours.max(glyph.contours.len());
        let b = glyph.bbox;
        low = (low.0.min(b.x_min), low.1.min(b.y_min));
        high = (high.0.max(b.x_max), high.1.max(b.y_max));
        metrics.push(LongMetric::new(sign.advance, b.x_min));
        glyphs.add_glyph(&glyph).unwrap();
        map.extend(sign.chars.iter().map(|c| (*c, GlyphId::new(i as u32 + 2))));
    }
    let count = metrics.len() as u16;
    let (glyf, loca, format) = glyphs.build();
    let widest = metrics.iter().map(|m| m.advance).max().unwrap_or(0);
    let head = Head {
        font_revision: Fixed::from_f64(1.0),
        units_per_em: EM,
        // A fixed date: the first of January 2020, so that the bytes never change.
        created: LongDateTime::new(3_660_681_600),
        modified: LongDateTime::new(3_660_681_600),
        x_min: low.0,
        y_min: low.1,
        x_max: high.0,
        y_max: high.1,
        lowest_rec_ppem: 6,
        index_to_loc_format: if format == LocaFormat::Long { 1 } else { 0 },
        ..Head::default()
    };
    let hhea = Hhea {
        ascender: FWord::new(2189),
        descender: FWord::new(-600),
        advance_width_max: UfWord::new(widest),
        caret_slope_rise: 1,
        number_of_h_metrics: count,
        ..Hhea::default()
    };
    let maxp = Maxp {
        num_glyphs: count,
        max_points: Some(points as u16),
        max_contours: Some(contours as u16),
        max_composite_points: Some(0),
        max_composite_contours: Some(0),
        max_zones: Some(2),
        max_twilight_points: Some(0),
        max_storage: Some(0),
        max_function_defs: Some(0),
        max_instruction_defs: Some(0),
        max_stack_elements: Some(0),
        max_size_of_instructions: Some(0),
        max_component_elements: Some(0),
        max_component_depth: Some(0),
    };
    let os2 = Os2 {
        us_weight_class: 400,
        us_width_class: 5,
        fs_selection: SelectionFlags::REGULAR,
        s_typo_ascender: 2189,
        s_typo_descender: -600,
        us_win_ascent: 2302,
        us_win_descent: 651,
        sx_height: Some(1096),
        s_cap_height: Some(1462),
        us_default_char: Some(0),
        us_break_char: Some(32),
        us_max_context: Some(0),
        ul_code_page_range_1: Some(1),
        ul_code_page_range_2: Some(0),
        us_first_char_index: 32,
        us_last_char_index: 0x27C2,
        ..Os2::default()
    };
    let record = |id: u16, text: &str| NameRecord::new(3, 1, 0x409, NameId::new(id), text.to_string().into());
    let name = Name::new(vec![
        record(1, "Turnleaf Signs"),
        record(2, "Regular"),
        record(3, "Turnleaf Signs 1.0"),
        record(4, "Turnleaf Signs"),
        record(5, "Version 1.0"),
        record(6, "TurnleafSigns"),
        record(13, "MIT OR Apache-2.0"),
    ]);
    let names: Vec<&str> = [".notdef", "space"].into_iter().chain(signs.iter().map(|s| s.name)).collect();
    let mut font = FontBuilder::new();
    font.add_table(&head).unwrap();
    font.add_table(&hhea).unwrap();
    font.add_table(&maxp).unwrap();
    font.add_table(&os2).unwrap();
    font.add_table(&Hmtx::new(metrics, vec![])).unwrap();
    font.add_table(&Cmap::from_mappings(map).unwrap()).unwrap();
    font.add_table(&loca).unwrap();
    font.add_table(&glyf).unwrap();
    font.add_table(&name).unwrap();
    font.add_table(&Post::new_v2(names)).unwrap();
    font.build()
}
