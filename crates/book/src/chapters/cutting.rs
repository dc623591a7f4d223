//! Cutting layouts: every sheet with the outlines cut from it, what to rip, and strips from boards.
//!
//! In: parts on sheets as nested, the plan's boards. Out: a chapter.
//! Always true: outlines are the parts' own, posed as they were nested; the numbers in them are those of the parts
//! list; what found no place is said in the chapter and as a diagnostic.

use crate::cx::{Cx, Refs};
use crate::draw::{line, rect, ring_steps};
use crate::flow::{Chapter, Figure, Flow};
use crate::grid::{GREY, SMALL, THIN, TINT, TINY, rule};
use crate::strips::{Section, Strip, strips};
use turnleaf_diag::Diagnostic;
use turnleaf_geom::{Prepared, Region, Ring, Vec2, measure::Moments, vec2::v};
use turnleaf_nest::{Layout, Request};
use turnleaf_page::{Anchor, Colour, Face, Item, Pt, Step, Stroke, Text, pt};
use turnleaf_text::{Column, Row, Span, Table, Width};
use turnleaf_units::print_decimal;

/// Highest drawing of a sheet, mm: four of them stand on a page; and lower ones that may spare a page of a few lines.
const TALLEST: [f64; 5] = [48.0, 45.0, 42.0, 39.0, 36.0];
/// Smallest letters in a drawing: 5 pt.
const LEAST: f64 = 1.8;

/// The mark at a sheet's drawing.
pub fn mark(sheet: usize) -> String {
    format!("cutting/sheet/{}", sheet + 1)
}

/// Indices of the sheets that a part is cut from.
pub fn sheets_of(cx: &Cx, part: &str) -> Vec<usize> {
    let Some((request, layouts)) = cx.input.layouts() else { return Vec::new() };
    let on = |l: &Layout| l.placements.iter().any(|p| request.parts[p.part].id == part);
    (0..layouts.sheets.len()).filter(|i| on(&layouts.sheets[*i])).collect()
}

/// Material and thickness of a layout, as printed.
pub fn stock_name(cx: &Cx, request: &Request, layout: &Layout) -> String {
    let part =
        request.parts.iter().find(|p| p.stock == layout.stock).and_then(|p| cx.input.assembly.part(&p.id));
    match part {
        Some(part) => format!("{}, {}", cx.material(&part.material), cx.length(part.thickness)),
        None => layout.stock.clone(),
    }
}

/// A size of two lengths in the book's units.
pub fn by(cx: &Cx, a: f64, b: f64) -> String {
    let both = |f: &dyn Fn(f64) -> String| {
        format!("{}\u{A0}× {}", f(a).replace(' ', "\u{A0}"), f(b).replace(' ', "\u{A0}"))
    };
    let (mm, inch) = (|x: f64| cx.or_dash(cx.say.mm(x)), |x: f64| cx.or_dash(cx.say.inches(x)));
    match cx.say.units {
        turnleaf_units::PrintUnits::Mm(_) => both(&mm),
        turnleaf_units::PrintUnits::Inch(_) => both(&inch),
        turnleaf_units::PrintUnits::Both(..) => format!("{} ({})", both(&mm), both(&inch)),
    }
}

/// A length in both units, the book's own first.
fn two(cx: &Cx, mm: f64) -> String {
    let (metric, inch) = (cx.or_dash(cx.say.mm(mm)), cx.or_dash(cx.say.inches(mm)));
    match cx.say.units {
        turnleaf_units::PrintUnits::Inch(_) => format!("{inch} ({metric})"),
        _ => format!("{metric} ({inch})"),
    }
}

/// The least sheet that a part would go on, in round figures; nothing where it goes on one that is on hand.
fn needed(cx: &Cx, request: &Request, part: &str) -> Option<String> {
    let [x, y, _] = cx.input.assembly.part(part)?.size().map(|side| side + 2.0 * request.margin);
    if request.sheets.iter().any(|s| x <= s.length && y <= s.width) {
        return None;
    }
    let step = match cx.say.units {
        turnleaf_units::PrintUnits::Inch(_) => 25.4 / 2.0,
        _ => 5.0,
    };
    let up = |side: f64| (side / step).ceil() * step;
    Some(by(cx, up(x), up(y)))
}

/// The chapter, in the largest drawings that leave no page with only a few lines; the usual ones where none does.
pub fn chapter(cx: &Cx, number: usize, _: &Refs) -> Chapter {
    let start = cx.start.take();
    let set = |tallest: f64| {
        cx.start.set(start);
        drawn(cx, number, tallest)
    };
    let usual = set(TALLEST[0]);
    if !usual.scant(&cx.grid) {
        return usual;
    }
    let fewer = |c: &Chapter| c.pages.len() < usual.pages.len() && !c.scant(&cx.grid);
    TALLEST[1..].iter().map(|tallest| set(*tallest)).find(fewer).unwrap_or(usual)
}

fn drawn(cx: &Cx, number: usize, tallest: f64) -> Chapter {
    let mut f = cx.flow(number, "cutting", &cx.t("cutting-title"));
    f.section(&cx.t("cutting-how"), "cutting/how");
    let stock = cx.input.plan.stock();
    let values = [("kerf", two(cx, stock.kerf.mm())), ("margin", two(cx, stock.margin.mm()))];
    for text in cx.words.list("cutting-text", &values) {
        f.para(text);
    }
    if let Some((request, layouts)) = cx.input.layouts() {
        f.section(&cx.t("cutting-sheets"), "cutting/sheets");
        let count = layouts.sheets.len();
        let figures = layouts.sheets.iter().enumerate().map(|(i, layout)| {
            let words = caption(cx, request, layout, i, count);
            (sheet(cx, request, layout, i, tallest), words)
        });
        let mut waiting: Option<(Figure, String)> = None;
        for next in figures {
            match waiting.take() {
                Some(one) => match pair(cx, &one, &next) {
                    Some((figure, words)) => f.figure(&figure, &cx.t("figure"), &words),
                    None => {
                        f.figure(&one.0, &cx.t("figure"), &one.1);
                        waiting = Some(next);
                    }
                },
                None => waiting = Some(next),
            }
        }
        if let Some((figure, words)) = waiting {
            f.figure(&figure, &cx.t("figure"), &words);
        }
        for left in &layouts.left {
            let part = &request.parts[left.part];
            let name = cx.name_of(&part.id);
            let mut values = vec![("count", left.count.to_string()), ("name", name)];
            let words = match needed(cx, request, &part.id) {
                Some(size) => {
                    values.push(("size", size));
                    cx.tv("cutting-too-large", &values)
                }
                None => cx.tv("cutting-left", &values),
            };
            f.para(Span::new(words).bold());
            f.said.push(Diagnostic::warning(format!("book.cutting.left.{}", part.id), left.sentence.clone()));
        }
        let rips = rips(cx, request, &layouts.sheets);
        if !rips.rows.is_empty() {
            f.section(&cx.t("cutting-rips"), "cutting/rips");
            f.lead(cx.t("cutting-rips-text"));
            f.table(rips);
        }
    }
    let strips = strips(cx.input.assembly, stock.board.mm(), stock.kerf.mm());
    if !strips.is_empty() {
        f.section(&cx.t("cutting-strips"), "cutting/strips");
        f.lead(cx.tv("cutting-strips-text", &[("board", two(cx, stock.board.mm()))]));
        for (i, strip) in strips.iter().enumerate().filter(|(_, s)| matches!(s.section, Section::Square(..)))
        {
            board(cx, &mut f, strip, i, stock.board.mm());
        }
        f.space(1.5);
        f.table(rods(cx, &strips));
    }
    f.finish()
}

/// What is on a sheet: stock, size, share used, parts by number.
fn caption(cx: &Cx, request: &Request, layout: &Layout, i: usize, count: usize) -> String {
    let size = &request.sheets[layout.sheet];
    let mut names: Vec<String> = Vec::new();
    for (index, part) in request.parts.iter().enumerate() {
        let here = layout.placements.iter().filter(|p| p.part == index).count();
        if here > 0 {
            names.push(format!("{}\u{A0}{} ×\u{A0}{here}", cx.part_number(&part.id), cx.name_of(&part.id)));
        }
    }
    cx.tv(
        "cutting-caption",
        &[
            ("sheet", (i + 1).to_string()),
            ("count", count.to_string()),
            ("stock", stock_name(cx, request, layout)),
            ("size", by(cx, size.length, size.width)),
            ("fill", cx.or_dash(print_decimal(layout.fill, 0, cx.say.sign))),
            ("parts", names.join("; ")),
        ],
    )
}

/// How much of a side is drawn: all of it, or what is used and a little more when that is much less.
fn shown(used: f64, side: f64) -> f64 {
    let most = used + 0.06 * side;
    if most < 0.72 * side { most } else { side }
}

/// The outline of a sheet, with a broken line where the rest is not drawn.
fn frame(from: Pt, to: Pt, broken: (bool, bool)) -> Vec<Step> {
    // Short teeth, as long breaks are drawn (ISO 128-2, line 01.1 with zigzags; from memory).
    let zigzag = |steps: &mut Vec<Step>, a: Pt, b: Pt| {
        let along = v(b.x - a.x, b.y - a.y);
        let long = along.norm().max(1e-9);
        let (unit, side) = (along * (1.0 / long), along.perp() * (1.0 / long));
        for at in [1.0 / 3.0, 2.0 / 3.0] {
            for (d, out) in [(-1.2, 0.0), (-0.5, 1.4), (0.5, -1.4), (1.2, 0.0)] {
                let p = v(a.x, a.y) + along * at + unit * d + side * out;
                steps.push(Step::Line(pt(p.x, p.y)));
            }
        }
    };
    let (tl, tr, br, bl) = (from, pt(to.x, from.y), to, pt(from.x, to.y));
    let mut steps = vec![Step::Move(bl), Step::Line(br)];
    if broken.0 {
        zigzag(&mut steps, br, tr);
    }
    steps.push(Step::Line(tr));
    if broken.1 {
        zigzag(&mut steps, tr, tl);
    }
    steps.extend([Step::Line(tl), Step::Close]);
    steps
}

/// Space between two narrow drawings side by side, mm.
const BESIDE: f64 = 10.0;

/// Two drawings in one figure, where both are narrow enough to stand side by side: each in its half, or the broader one
/// in more than that.
fn pair(cx: &Cx, one: &(Figure, String), other: &(Figure, String)) -> Option<(Figure, String)> {
    let width = cx.grid.main_width();
    let broad = |f: &Figure| f.items.iter().filter_map(extent).fold(0.0, f64::max);
    let (first, second) = (broad(&one.0), broad(&other.0));
    if first + BESIDE + second > width {
        return None;
    }
    let at = ((width + BESIDE) / 2.0).max(first + BESIDE).min(width - second);
    let mut figure = one.0.clone();
    figure.items.extend(crate::draw::moved(&other.0.items, at, 0.0));
    figure.height = one.0.height.max(other.0.height);
    figure.alt = format!("{} {}", one.0.alt, other.0.alt);
    let words = cx.tv("cutting-pair", &[("left", one.1.clone()), ("right", other.1.clone())]);
    Some((figure, words))
}

/// How far to the right an outline reaches, mm.
fn extent(item: &Item) -> Option<f64> {
    let Item::Path { steps, .. } = item else { return None };
    let far = |s: &Step| match s {
        Step::Move(p) | Step::Line(p) | Step::Cubic(_, _, p) => p.x,
        Step::Close => 0.0,
    };
    Some(steps.iter().map(far).fold(0.0, f64::max))
}

/// The drawing of a sheet.
fn sheet(cx: &Cx, request: &Request, layout: &Layout, i: usize, tallest: f64) -> Figure {
    let size = &request.sheets[layout.sheet];
    let width = cx.grid.main_width();
    let placed = |one: &turnleaf_nest::Placement| request.parts[one.part].outline.moved(&one.pose());
    let far = |a: Vec2, b: Vec2| v(a.x.max(b.x), a.y.max(b.y));
    let used = layout.placements.iter().map(|p| placed(p).bounds().1).fold(v(0.0, 0.0), far);
    let (long, wide) = (shown(used.x, size.length), shown(used.y, size.width));
    let scale = (width / long).min(tallest / wide).min(0.125);
    let (w, h) = (long * scale, wide * scale);
    let top = 5.4;
    let to = |p: Vec2| pt(p.x * scale, top + h - p.y * scale);
    let mut items = vec![Item::Mark { at: pt(0.0, 0.0), name: mark(i) }];
    let steps = frame(pt(0.0, top), pt(w, top + h), (long < size.length, wide < size.width));
    items.push(Item::Path { steps, stroke: Some(rule(0.35)), fill: Some(TINT) });
    // Grain: a double arrow above the sheet, along its length.
    let (a, b) = (1.0, 15.0);
    items.push(line(pt(a, 1.8), pt(b, 1.8), rule(0.25)));
    items.push(crate::draw::arrow(pt(a, 1.8), v(-1.0, 0.0), 2.2));
    items.push(crate::draw::arrow(pt(b, 1.8), v(1.0, 0.0), 2.2));
    items.push(Item::Text(Text::new(pt(b + 2.0, 2.8), TINY - 0.4, cx.t("cutting-grain"))));
    let mut rings: Vec<(Ring, String, String)> = Vec::new();
    for one in &layout.placements {
        let part = &request.parts[one.part];
        rings.push((placed(one), cx.part_number(&part.id).to_string(), cx.name_of(&part.id)));
    }
    for (ring, ..) in &rings {
        let mut steps = Vec::new();
        ring_steps(ring, &mut steps, &to);
        items.push(Item::Path { steps, stroke: Some(rule(0.2)), fill: Some(Colour::WHITE) });
    }
    for band in &layout.bands {
        for y in [band.from, band.to] {
            let pen = Stroke { dash: vec![2.0, 1.0], colour: GREY, ..rule(THIN) };
            items.push(line(to(v(0.0, y)), to(v(long, y)), pen));
        }
    }
    // Labels last, so that no outline runs through one.
    let mut near: Vec<(Pt, &str)> = Vec::new();
    for (ring, number, name) in &rings {
        items.extend(label(ring, number, name, scale, &to, &mut near));
    }
    let alt = cx.tv(
        "cutting-alt",
        &[
            ("stock", stock_name(cx, request, layout)),
            ("count", layout.placements.len().to_string()),
            ("size", by(cx, size.length, size.width)),
        ],
    );
    Figure { id: format!("figure/cutting/{}", i + 1), alt, width, height: top + h, items }
}

/// Number and, where there is room, name inside an outline; a number on a white ground where there is little, once
/// for parts of a kind that lie close together.
fn label<'a>(
    ring: &Ring,
    number: &'a str,
    name: &str,
    scale: f64,
    to: &dyn Fn(Vec2) -> Pt,
    near: &mut Vec<(Pt, &'a str)>,
) -> Vec<Item> {
    let (at, room) = spot(ring);
    let p = to(at);
    let room = room * scale;
    let full = format!("{number} {name}");
    // The words lie inside a circle of the free room.
    let fits = |text: &str, size: f64| {
        let half = turnleaf_text::width(text, size, Face::Regular) / 2.0;
        (half * half + size * size / 4.0).sqrt() < room
    };
    if fits(&full, 2.3) {
        return vec![Item::Text(Text::new(pt(p.x, p.y + 0.82), 2.3, full).anchor(Anchor::Middle))];
    }
    let text =
        |size: f64| Item::Text(Text::new(pt(p.x, p.y + 0.36 * size), size, number).anchor(Anchor::Middle));
    if let Some(size) = [2.6, 2.2].into_iter().find(|s| fits(number, *s)) {
        return vec![text(size)];
    }
    let half = turnleaf_text::width(number, LEAST, Face::Regular) / 2.0 + 0.25;
    let apart = |q: &Pt| (q.x - p.x).abs().max((q.y - p.y).abs());
    let close =
        |(q, other): &(Pt, &str)| apart(q) < if *other == number { 6.0 } else { 2.0 * half.max(LEAST / 2.0) };
    if near.iter().any(close) {
        return Vec::new();
    }
    near.push((p, number));
    let (low, high) = (pt(p.x - half, p.y - 0.48 * LEAST), pt(p.x + half, p.y + 0.48 * LEAST));
    vec![rect(low, high, None, Some(Colour::WHITE)), text(LEAST)]
}

/// The place inside an outline with much room: its centroid, or better the middle of a coarse net of places; and
/// how far the edge is.
fn spot(ring: &Ring) -> (Vec2, f64) {
    let region = Region::from(ring.clone());
    let body = Prepared::new(&region);
    let room = |p: Vec2| {
        if body.contains(p) { body.nearest(p).map_or(0.0, |(n, _)| n.d2.sqrt()) } else { 0.0 }
    };
    let (lo, hi) = ring.bounds();
    let centre = Moments::of(&region).centroid;
    let mut best = (centre, room(centre));
    // A place must be a good deal better to draw a number away from the middle.
    const NET: u32 = 12;
    for i in 1..NET {
        for j in 1..NET {
            let at = |a: f64, b: f64, k: u32| a + (b - a) * f64::from(k) / f64::from(NET);
            let p = v(at(lo.x, hi.x, i), at(lo.y, hi.y, j));
            let r = room(p);
            if r > best.1 * 1.3 + 1e-9 {
                best = (p, r);
            }
        }
    }
    best
}

/// Bands to rip, in both units.
fn rips(cx: &Cx, request: &Request, sheets: &[Layout]) -> Table {
    let columns = vec![
        Column::number(cx.t("column-sheet"), Width::Fit(14.0)),
        Column::number(cx.t("cutting-from"), Width::Fit(44.0)),
        Column::number(cx.t("cutting-wide"), Width::Fit(44.0)),
        Column::new(cx.t("cutting-holds"), Width::Share(1.0)),
    ];
    let mut rows = Vec::new();
    for (i, layout) in sheets.iter().enumerate() {
        for (k, band) in layout.bands.iter().enumerate() {
            let mut names: Vec<String> = Vec::new();
            for (index, part) in request.parts.iter().enumerate() {
                let here = band.placements.iter().filter(|p| layout.placements[**p].part == index).count();
                if here > 0 {
                    names.push(format!("{} {} × {here}", cx.part_number(&part.id), cx.name_of(&part.id)));
                }
            }
            let row = Row::new([
                (i + 1).to_string(),
                two(cx, band.from),
                two(cx, band.to - band.from),
                names.join(", "),
            ]);
            rows.push(row.id(format!("rip/{}/{}", i + 1, k + 1)));
        }
    }
    Table::new(columns, SMALL).id("cutting/rips").rows(rows)
}

/// The section of a strip as printed.
pub fn section(cx: &Cx, section: Section) -> String {
    match section {
        Section::Square(a, b) => by(cx, a, b),
        Section::Round(d) => format!("⌀\u{A0}{}", cx.length(d)),
    }
}

/// The boards of one section: a line of words, then a bar for each board with its pieces.
fn board(cx: &Cx, f: &mut Flow, strip: &Strip, i: usize, length: f64) {
    let width = cx.grid.main_width();
    let longest = strip.boards.iter().map(|b| b.iter().map(|p| p.1).sum::<f64>()).fold(length, f64::max);
    let scale = width / longest;
    // Boards cut alike are drawn once.
    let mut kinds: Vec<(&Vec<(usize, f64)>, usize)> = Vec::new();
    for one in &strip.boards {
        match kinds.iter_mut().find(|k| k.0 == one) {
            Some(k) => k.1 += 1,
            None => kinds.push((one, 1)),
        }
    }
    let (tall, apart) = (4.2, 6.0);
    let mut items = Vec::new();
    let kerf = cx.input.plan.stock().kerf.mm();
    for (row, (one, times)) in kinds.iter().enumerate() {
        let y = apart * row as f64;
        items.push(rect(pt(0.0, y), pt(length * scale, y + tall), Some(rule(0.25)), Some(TINT)));
        let mut x = 0.0;
        for (part, long) in one.iter() {
            let w = long * scale;
            items.push(rect(pt(x, y), pt(x + w, y + tall), Some(rule(0.2)), Some(Colour::WHITE)));
            let number = cx.part_number(&cx.input.assembly.parts[*part].id).to_string();
            if turnleaf_text::width(&number, 2.2, Face::Regular) + 0.6 < w {
                items.push(Item::Text(
                    Text::new(pt(x + w / 2.0, y + 2.9), 2.2, number).anchor(Anchor::Middle),
                ));
            }
            x += w + kerf * scale;
        }
        if *times > 1 {
            let text = Text::new(pt(width - 1.0, y + 3.1), TINY, format!("× {times}")).face(Face::Bold);
            items.push(Item::Text(text.anchor(Anchor::End)));
        }
    }
    let what = (cx.material(&strip.material), section(cx, strip.section), pieces(cx, strip));
    let words = format!("{}, {}: {}", what.0, what.1, what.2);
    let height = apart * kinds.len() as f64 - (apart - tall);
    let alt = cx.tv("cutting-strip-alt", &[("words", words.clone())]);
    let figure = Figure { id: format!("figure/strip/{}", i + 1), alt, width, height, items };
    f.small_lead(&words, height + 2.0);
    f.back(2.2);
    f.drawing(figure);
}

/// What is cut from the boards of a section: number, name, count and length.
fn pieces(cx: &Cx, strip: &Strip) -> String {
    let one = |k: usize| {
        let part = &cx.input.assembly.parts[k];
        let long = strip.boards.iter().flatten().find(|p| p.0 == k).map_or(0.0, |p| p.1);
        let (n, name) = (cx.part_number(&part.id), cx.part_name(part));
        format!("{n} {name} {}\u{A0}×\u{A0}{}", strip.count(k), two(cx, long).replace(' ', "\u{A0}"))
    };
    strip.parts().into_iter().map(one).collect::<Vec<_>>().join("; ")
}

/// Rods, tubes and dowels by the bar.
fn rods(cx: &Cx, strips: &[Strip]) -> Table {
    let columns = vec![
        Column::new(cx.t("cutting-bar"), Width::Share(0.4)),
        Column::new(cx.t("cutting-holds"), Width::Share(1.0)),
    ];
    let row = |(i, s): (usize, &Strip)| {
        let bar = format!("{}, {}", cx.material(&s.material), section(cx, s.section));
        Row::new([bar, pieces(cx, s)]).id(format!("rod/{}", i + 1))
    };
    let rods = strips.iter().enumerate().filter(|(_, s)| matches!(s.section, Section::Round(_)));
    Table::new(columns, TINY).pad(0.4).id("cutting/rods").rows(rods.map(row))
}
