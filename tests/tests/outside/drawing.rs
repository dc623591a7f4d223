//! Paper, frames, scales, lines, letters. In: drawing standards. Out: rows.
//! Always true: what is drawn is measured where it can be: frames by their items, letters by their outlines.

use crate::table::{Group, Known::*, Source, Within};
use turnleaf_dimension::place::pen::Style;
use turnleaf_geom::{Region, Ring, trig, vec2::v};
use turnleaf_page::{Face, Item, Paper, Step};
use turnleaf_sheet::{Border, PREFERRED, TITLE_WIDTH, zones};
use turnleaf_text::{Font, shape, size_for_cap_height};
use turnleaf_views::{Area, Arrangement, EdgeKind, Projection, hatch, paper};

const ISO_216: Source =
    Source::new("ISO 216 (paper sizes, copies at tasstudent.com and a public paper list)", "", Quoted);
const Y14_1: Source = Source::new("ANSI/ASME Y14.1 (graphics-cad.blogspot.com)", "", Quoted);
const ISO_5457: Source = Source::new("ISO 5457:1999", "", Quoted);
const ISO_7200: Source = Source::new("ISO 7200:2004", "clause 6", Quoted);
const ISO_5455: Source = Source::new("ISO 5455:1979", "", Quoted);
const ISO_128: Source = Source::new("ISO 128-2 (line conventions)", "", Quoted);
const ISO_3098: Source = Source::new("NF EN ISO 3098-0", "table 5", Quoted);
const ISO_129: Source = Source::new("ISO 129-1:2018", "clause 5", Memory);

/// All texts of items, with their groups.
fn texts(items: &[Item], out: &mut Vec<String>) {
    for item in items {
        match item {
            Item::Text(t) => out.push(t.text.clone()),
            Item::Group { items, .. } => texts(items, out),
            _ => {}
        }
    }
}

fn labels(paper: Paper, landscape: bool) -> Vec<String> {
    let border = Border::new(paper, landscape);
    let mut out = Vec::new();
    texts(&border.items(border.max.y - 40.0, border.max.x - 180.0), &mut out);
    out
}

fn widest(items: &[Item]) -> f64 {
    items.iter().fold(0.0, |most, item| match item {
        Item::Path { stroke: Some(s), .. } => most.max(s.width),
        Item::Group { items, .. } => most.max(widest(items)),
        _ => most,
    })
}

fn space(paper: Paper, landscape: bool) -> [f64; 2] {
    let b = Border::new(paper, landscape);
    [b.max.x - b.min.x, b.max.y - b.min.y]
}

/// Sheets.
pub fn paper() -> Group {
    let mut g = Group::new("Paper, frames, title block, scales");
    let exact = Within::Exactly("as in the standard");
    let sides = |p: Paper| <[f64; 2]>::from(p.sides());
    let of = |names: [&'static str; 2], p: Paper| names.into_iter().zip(sides(p));
    g.figures("A4, sides in mm", ISO_216, of(["210", "297"], Paper::A4), exact);
    g.figures("A3, sides in mm", ISO_216, of(["297", "420"], Paper::A3), exact);
    g.figures("A2, sides in mm", ISO_216, of(["420", "594"], Paper::A2), exact);
    let inches = |p: Paper| sides(p).map(|s| s / 25.4);
    let binary = Within::Of(1e-12, "exact but for the last place of a float");
    g.figures("size A, sides in inches", Y14_1, ["8.5", "11"].into_iter().zip(inches(Paper::Letter)), binary);
    g.figures("size B, sides in inches", Y14_1, ["11", "17"].into_iter().zip(inches(Paper::Tabloid)), binary);
    let fields = |long: f64, short: f64| [zones(long) as f64, zones(short) as f64];
    let count = Within::Exactly("a count");
    let table_2 = ISO_5457.at("table 2, fields of the grid");
    g.figures("fields of A4", table_2, ["6", "4"].into_iter().zip(fields(297.0, 210.0)), count);
    g.figures("fields of A3", table_2, ["8", "6"].into_iter().zip(fields(420.0, 297.0)), count);
    g.figures("fields of A2", table_2, ["12", "8"].into_iter().zip(fields(594.0, 420.0)), count);
    g.figures("fields of A0", table_2, ["24", "16"].into_iter().zip(fields(1189.0, 841.0)), count);
    let letters: Vec<String> =
        labels(Paper::A2, false).into_iter().filter(|t| t.chars().all(char::is_alphabetic)).collect();
    let mut once = letters.clone();
    once.sort();
    once.dedup();
    g.words(
        "letters down the long side of an upright A2",
        ISO_5457.at("4.4, letters without I and O"),
        "ABCDEFGHJKLM",
        once.concat(),
        "the order of the alphabet",
    );
    g.near(
        "labels on A4: the top and the right alone",
        ISO_5457.at("4.4, 4 across and 6 down"),
        "10",
        labels(Paper::A4, false).len() as f64,
        count,
    );
    let (b, m) = (Border::new(Paper::A3, true), ISO_5457.at("4.2, margins").memory());
    g.figures(
        "margins: left, then top, right, bottom",
        m,
        [("20", b.min.x), ("10", b.min.y), ("10", b.width - b.max.x), ("10", b.height - b.max.y)],
        exact,
    );
    let table_1 = ISO_5457.at("table 1, drawing space").memory();
    let room = |n: [&'static str; 2], p, l| n.into_iter().zip(space(p, l));
    g.figures("drawing space of A4", table_1, room(["180", "277"], Paper::A4, false), exact);
    g.figures("drawing space of A3", table_1, room(["390", "277"], Paper::A3, true), exact);
    g.figures("drawing space of A2", table_1, room(["564", "400"], Paper::A2, true), exact);
    let frame = widest(&b.items(b.max.y - 40.0, b.max.x - 180.0));
    g.near("frame line, mm", ISO_5457.at("4.2").memory(), "0.7", frame, exact);
    g.near("width of the title block", ISO_7200, "180", TITLE_WIDTH, exact);
    let series: Vec<String> = PREFERRED.iter().map(|s| s.text().replace(' ', "")).collect();
    g.words(
        "scales, as far as a table needs them",
        ISO_5455.at("table"),
        "10:1, 5:1, 2:1, 1:1, 1:2, 1:5, 1:10, 1:20, 1:50, 1:100, 1:200",
        series.join(", "),
        "1:2.5, 1:4 and 1:25 are not preferred",
    );
    g
}

/// Height of a capital as it is drawn, mm: the outline of an H.
fn capital(size: f64) -> f64 {
    let shaped = shape("H", Face::Regular);
    let Some(glyph) = shaped.runs.first().and_then(|r| r.glyphs.first()) else { return f64::NAN };
    let ys = Font::Regular.outline(glyph.id).into_iter().flat_map(|step| match step {
        Step::Move(p) | Step::Line(p) => vec![p.y],
        Step::Cubic(a, b, c) => vec![a.y, b.y, c.y],
        Step::Close => vec![],
    });
    let (low, high) = ys.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), y| (l.min(y), h.max(y)));
    (high - low) * size
}

/// Pens and type.
pub fn lines_and_letters() -> Group {
    let mut g = Group::new("Lines, letters, dimensions, views");
    let widths = paper::Widths::default();
    let series = Within::Exactly("the series of line widths");
    g.figures(
        "wide and narrow line on A4",
        ISO_128.at("line widths 0.13 to 2 mm"),
        [("0.5", widths.wide), ("0.25", widths.narrow)],
        series,
    );
    g.figures(
        "wide and narrow line on larger sheets",
        ISO_128.at("line widths 0.13 to 2 mm, 0.7 and 0.35"),
        [("0.7", Style::LARGE.wide), ("0.35", Style::LARGE.narrow)],
        series,
    );
    g.near(
        "wide to narrow",
        Source::new("Manual of Engineering Drawing, types of line (for ISO 128-24)", "", Quoted),
        "2",
        widths.wide / widths.narrow,
        Within::Exactly("both widths are of the series"),
    );
    let hidden = paper::pen(EdgeKind::Outline, true, &widths);
    let ratio = Within::Of(1e-12, "exact but for the last place of a float");
    let in_widths = |names: &[&'static str], dash: &[f64], d: f64| -> Vec<(&'static str, f64)> {
        names.iter().copied().zip(dash.iter().map(|x| x / d)).collect()
    };
    g.figures(
        "hidden edge, dash and gap in line widths",
        ISO_128.at("line 02"),
        in_widths(&["12", "3"], &hidden.dash, hidden.width),
        ratio,
    );
    let trace = paper::pen(EdgeKind::Trace, false, &widths);
    g.figures(
        "centre line, long dash, gap, dot and gap in line widths",
        ISO_128.at("line 04").memory(),
        in_widths(&["24", "3", "0.5", "3"], &trace.dash, trace.width),
        ratio,
    );
    g.near(
        "capitals of figures on A4, mm as drawn",
        ISO_3098.at("table 5, h = 2.5"),
        "2.5",
        capital(size_for_cap_height(Style::SMALL.cap)),
        Within::Of(0.005, "the outline of the letter, in 2048ths of its size"),
    );
    g.near(
        "capitals of figures on larger sheets, mm as drawn",
        ISO_3098.at("table 5, h = 3.5"),
        "3.5",
        capital(size_for_cap_height(Style::LARGE.cap)),
        Within::Of(0.005, "the outline of the letter, in 2048ths of its size"),
    );
    g.near(
        "extension line past the dimension line, in its widths",
        ISO_129,
        "8",
        Style::SMALL.overrun / Style::SMALL.narrow,
        ratio,
    );
    g.between(
        "first dimension line from the outline, mm",
        Source::new("ISO 129 as taught (course text at scribd.com)", "", Quoted),
        (10.0, f64::INFINITY),
        Style::SMALL.first,
        "at least 10 mm",
    );
    g.between(
        "dimension lines apart, mm",
        Source::new("USASI Y14.5 (text at joshuanava.biz)", "", Quoted),
        (6.0, f64::INFINITY),
        Style::SMALL.next,
        "at least 6 mm",
    );
    g.between(
        "gap before an extension line, mm",
        Source::new("US shop practice (quia.com)", "1/16 in", Quoted),
        (0.8, 2.4),
        Style::SMALL.gap,
        "half of it to one and a half: a gap that shows",
    );
    let square = Area { body: 0, regions: vec![Region::from(Ring::rect(v(0.0, 0.0), v(40.0, 40.0)))] };
    let lines = hatch(&[square], 4.0);
    let angle = lines.first().map_or(f64::NAN, |l| trig::deg((l.b - l.a).angle()).rem_euclid(180.0));
    g.near(
        "hatching, degrees",
        Source::new("ISO 128-3", "hatching", Memory),
        "45",
        angle,
        Within::Of(1e-9, "an angle worked out from floats"),
    );
    let cells = |a: Arrangement| {
        let at = |p: Projection| a.cell(&p).map_or("none".into(), |(x, y)| format!("{x} {y}"));
        format!(
            "plan {}, from the left {}, from the right {}",
            at(Projection::Plan),
            at(Projection::Left),
            at(Projection::Right)
        )
    };
    let iso_5456 = Source::new("ISO 5456-2:1996", "columns to the right, rows up", Memory);
    g.words(
        "first angle, views about the front view",
        iso_5456,
        "plan 0 -1, from the left 1 0, from the right -1 0",
        cells(Arrangement::FirstAngle),
        "places in the arrangement",
    );
    g.words(
        "third angle, views about the front view",
        iso_5456,
        "plan 0 1, from the left -1 0, from the right 1 0",
        cells(Arrangement::ThirdAngle),
        "places in the arrangement",
    );
    g
}
