//! The table: plan views closed, half-way and open, and the vertical stack.
//!
//! In: the assembly. Out: a chapter.
//! Always true: diameters in the figures are measured from the outlines shown; the three plan views share
//! one scale.

use crate::cx::{Cx, Refs};
use crate::draw::{dimension, level, line, moved, rect};
use crate::flow::{Chapter, Figure};
use crate::grid::{GREY, MIDDLE, SHADE, THIN, TINT, TINY, rule};
use crate::scene;
use turnleaf_diag::Origin;
use turnleaf_geom::{Vec2, trig};
use turnleaf_motion::pose::span;
use turnleaf_page::{Anchor, Colour, Face, Item, Role, Stroke, Text, pt};

/// Scales for overviews, largest first.
const SCALES: [f64; 9] = [5.0, 8.0, 10.0, 15.0, 20.0, 25.0, 30.0, 40.0, 50.0];

/// Between two plan views side by side, mm.
const BETWEEN: f64 = 3.0;

/// The plan views side by side: closed, half-way, open; and their scale.
fn plans(cx: &Cx) -> (Figure, f64) {
    let a = cx.input.assembly;
    let turn = a.mechanism.turn();
    let most = scene::reach(a, turn, "panel").map_or(1.0, |r| r.1);
    let whole = cx.grid.width();
    let width = (whole - 2.0 * BETWEEN) / 3.0;
    let one_to = SCALES.into_iter().find(|s| 2.0 * most / s <= width).unwrap_or(2.0 * most / width);
    let states = [
        ("plan-closed", 0.0, true, "closed.diameter"),
        ("plan-half", turn / 2.0, false, ""),
        ("plan-open", turn, false, "open.diameter"),
    ];
    let figures = states.map(|(id, at, hidden, number)| {
        plan(cx, id, at, hidden, cx.number(number).map(|n| n.0), 1.0 / one_to, width)
    });
    let height = figures.iter().map(|f| f.height).fold(0.0, f64::max);
    let mut all =
        Figure { id: "figure/plans".into(), alt: String::new(), width: whole, height, items: Vec::new() };
    for (k, figure) in figures.into_iter().enumerate() {
        // Their middles stand level.
        let down = (height - figure.height) / 2.0;
        all.items.extend(moved(&figure.items, (width + BETWEEN) * k as f64, down));
        all.alt += if k == 0 { "" } else { " " };
        all.alt += &figure.alt;
    }
    (all, one_to)
}

fn plan(
    cx: &Cx,
    id: &str,
    turn: f64,
    hidden: bool,
    origin: Option<Origin>,
    scale: f64,
    width: f64,
) -> Figure {
    let a = cx.input.assembly;
    let view = scene::plan(a, turn, hidden);
    // The circle around everything that moves out, measured from the outlines as they stand.
    let radius = scene::TOP.iter().filter_map(|p| scene::reach(a, turn, p)).map(|r| r.1).fold(0.0, f64::max);
    let half = radius * scale;
    let middle = pt(width / 2.0, half + 1.0);
    let to = |p: Vec2| pt(middle.x + p.x * scale, middle.y - p.y * scale);
    let (low, high) = view.bounds;
    let mut items = scene::drawn(&view, scale, to(Vec2 { x: low.x, y: high.y }), (MIDDLE, THIN));
    items.push(scene::ring(radius, &to));
    let y = middle.y + half + 7.0;
    let text = format!("⌀ {}", cx.or_dash(cx.say.figure(2.0 * radius)));
    let lines = dimension(middle.x - half, middle.x + half, y, (middle.y, middle.y), &text, TINY);
    items.push(Item::Group {
        role: Role::Dimension,
        origin,
        id: Some(format!("{id}/dim/diameter")),
        items: lines,
    });
    let alt = cx.tv(
        &format!("{id}-alt"),
        &[
            ("diameter", cx.length(2.0 * radius)),
            ("sectors", a.mechanism.sizes.sectors.to_string()),
            ("turn", cx.degrees(trig::deg(turn))),
        ],
    );
    Figure { id: format!("figure/{id}"), alt, width, height: y + 2.0, items }
}

/// Levels of the stack, top down: part and message.
const LEVELS: [&str; 11] = [
    "panel",
    "leaf",
    "star",
    "leaf-slide",
    "rising-plate",
    "panel-slide",
    "turning-plate",
    "",
    "",
    "base-upper-ply",
    "base-lower-ply",
];

/// A level at one state: nearest and farthest from the centre, bottom and top above the floor.
type Band = (f64, f64, f64, f64);

fn band(cx: &Cx, part: &str, turn: f64) -> Option<Band> {
    let a = cx.input.assembly;
    let index = a.parts.iter().position(|p| p.id == part)?;
    let piece = a.pieces.iter().find(|p| p.part == index)?;
    let (near, far) = scene::reach(a, turn, part)?;
    let (z0, z1) = span(a, piece, turn);
    Some((near, far, z0, z1))
}

/// The vertical stack, closed on the left and open on the right of the centre line.
pub fn stack(cx: &Cx, width: f64) -> Figure {
    let m = cx.mechanism();
    let upper = match m.arms().map(|a| a.upper) {
        Some(turnleaf_mechanism::arms::Upper::Panel) => ["panel-arm", "leaf-arm"],
        Some(turnleaf_mechanism::arms::Upper::Leaf) => ["leaf-arm", "panel-arm"],
        // One plate takes the place of both planes of arms.
        None => ["cam-plate", ""],
    };
    let mut arms = upper.into_iter();
    let levels: Vec<&str> =
        LEVELS.into_iter().map(|l| if l.is_empty() { arms.next().unwrap_or(l) } else { l }).collect();
    let states = [0.0, m.turn()];
    let bands: Vec<(&str, [Option<Band>; 2])> =
        levels.iter().map(|l| (*l, states.map(|t| band(cx, l, t)))).collect();
    let all = || bands.iter().flat_map(|b| b.1).flatten();
    let far = all().map(|b| b.1).fold(1.0, f64::max);
    let (low, high) = (
        all().map(|b| b.2).fold(f64::INFINITY, f64::min),
        all().map(|b| b.3).fold(f64::NEG_INFINITY, f64::max),
    );
    let height = |z0: f64, z1: f64| {
        let one = |z: f64| cx.or_dash(leading_figure(cx, z));
        format!("{} – {}", one(z0), one(z1))
    };
    // Names and closed heights on the left, open heights on the right: as wide as they need.
    let wide = |text: &str| turnleaf_text::width(text, TINY, Face::Regular);
    let heights = all().map(|b| wide(&height(b.2, b.3))).fold(0.0, f64::max);
    let names = levels.iter().map(|l| wide(&format!("00  {}", cx.name_of(l)))).fold(0.0, f64::max).min(46.0);
    let (left, right) = (names + 3.0 + heights + 5.0, heights + 16.0);
    let middle = left + (width - left - right) / 2.0;
    let sx = (width - left - right) / 2.0 / far;
    let tall = ((high - low) * 0.44).clamp(62.0, 105.0);
    let sy = tall / (high - low).max(1.0);
    let head = 9.0;
    let y = |z: f64| head + (high - z) * sy;
    let mut items = Vec::new();
    let tone = |name: &str| match name {
        "panel" => Colour::WHITE,
        "star" => SHADE,
        _ => TINT,
    };
    for (k, at) in [(0usize, -1.0), (1usize, 1.0)] {
        for (name, pair) in &bands {
            let Some((near, out, z0, z1)) = pair[k] else { continue };
            let (a, b) = (middle + at * near * sx, middle + at * out * sx);
            let (low, high) = (pt(a.min(b), y(z1)), pt(a.max(b), y(z0)));
            items.push(rect(low, high, Some(rule(0.25)), Some(tone(name))));
        }
    }
    let chain = Stroke { dash: vec![4.0, 0.9, 0.4, 0.9], ..Stroke::solid(THIN) };
    items.push(line(pt(middle, 3.0), pt(middle, head + tall + 3.0), chain));
    let title = |x: f64, text: String, anchor: Anchor| {
        Item::Text(Text::new(pt(x, 3.5), TINY, text).face(Face::Bold).anchor(anchor))
    };
    items.push(title(middle - 3.0, cx.t("closed"), Anchor::End));
    items.push(title(middle + 3.0, cx.t("open"), Anchor::Start));
    items.push(title(0.0, cx.t("stack-heights"), Anchor::Start));
    let grey = Stroke { colour: GREY, ..Stroke::solid(0.13) };
    // A row of words for each level, spread so that none touches the next.
    let closed: Vec<(usize, Band)> =
        bands.iter().enumerate().filter_map(|(i, b)| Some((i + 1, b.1[0]?))).collect();
    let at = |b: &Band| y((b.2 + b.3) / 2.0);
    let rows = spread(&closed.iter().map(|(_, b)| at(b)).collect::<Vec<_>>(), 5.0, head + 1.0);
    for ((number, band), row) in closed.iter().zip(rows) {
        let base = row + TINY * 0.36;
        let label = format!("{number}  {}", cx.name_of(bands[number - 1].0));
        let label = crate::draw::cut(&label, TINY, Face::Regular, names);
        items.push(Item::Text(Text::new(pt(0.0, base), TINY, label)));
        let text = Text::new(pt(left - 5.0, base), TINY, height(band.2, band.3)).anchor(Anchor::End);
        items.push(Item::Text(text));
        let edge = (middle - band.1 * sx).max(left - 1.0);
        items.push(line(pt(left - 4.0, row), pt(left - 1.0, at(band)), grey.clone()));
        items.push(level(left - 1.0, edge, at(band), grey.clone()));
    }
    // Open, levels that are flush share a row.
    let mut opened: Vec<(String, Band)> = Vec::new();
    for (i, (_, pair)) in bands.iter().enumerate() {
        let Some(band) = pair[1] else { continue };
        let same = |o: &&mut (String, Band)| (o.1.2 - band.2).abs() < 0.5 && (o.1.3 - band.3).abs() < 0.5;
        match opened.iter_mut().find(same) {
            Some((numbers, wide)) => {
                *numbers += &format!(", {}", i + 1);
                wide.1 = wide.1.max(band.1);
            }
            None => opened.push(((i + 1).to_string(), band)),
        }
    }
    let rows = spread(&opened.iter().map(|(_, b)| at(b)).collect::<Vec<_>>(), 5.0, head + 1.0);
    let from = width - right;
    for ((numbers, band), row) in opened.iter().zip(rows) {
        let base = row + TINY * 0.36;
        items.push(Item::Text(Text::new(pt(from + 4.0, base), TINY, numbers.clone())));
        let text = Text::new(pt(width, base), TINY, height(band.2, band.3)).anchor(Anchor::End);
        items.push(Item::Text(text));
        items.push(level((middle + band.1 * sx).min(from), from, at(band), grey.clone()));
        items.push(line(pt(from, at(band)), pt(from + 3.0, row), grey.clone()));
    }
    let alt = cx.tv(
        "stack-alt",
        &[
            ("top", cx.length(m.sizes.height)),
            ("thick", cx.length(m.sizes.height - m.stack.base.bottom)),
            ("step", cx.length(m.stack.step)),
        ],
    );
    Figure { id: "figure/stack".into(), alt, width, height: head + tall + 4.0, items }
}

/// A height in the leading unit, without unit.
fn leading_figure(cx: &Cx, mm: f64) -> Option<String> {
    let length = turnleaf_units::Length::from_mm_f64(mm)?;
    Some(cx.say.units.print(length, cx.say.sign).main.figure)
}

/// Places at least `apart` from each other, each as near its wish as the order allows, none above `top`.
fn spread(wishes: &[f64], apart: f64, top: f64) -> Vec<f64> {
    let mut order: Vec<usize> = (0..wishes.len()).collect();
    order.sort_by(|a, b| wishes[*a].total_cmp(&wishes[*b]));
    let mut placed = wishes.to_vec();
    let mut last = top - apart;
    for i in order {
        placed[i] = wishes[i].max(last + apart);
        last = placed[i];
    }
    placed
}

/// The chapter.
pub fn chapter(cx: &Cx, number: usize, _: &Refs) -> Chapter {
    let m = cx.mechanism();
    let values = [
        ("sectors", m.sizes.sectors.to_string()),
        ("closed", cx.length(m.sizes.closed_diameter)),
        ("open", cx.length(2.0 * (m.layout.radius + m.layout.travel))),
        ("corner", cx.length(2.0 * m.layout.corners[0])),
        ("turn", cx.degrees(trig::deg(m.turn()))),
        ("gap", cx.length(m.layout.gap_width)),
        ("skew", cx.degrees(trig::deg(m.layout.skew))),
        ("shift", cx.length(m.layout.gap_shear)),
        ("step", cx.length(m.stack.step)),
        ("thick", cx.length(m.sizes.height - m.stack.base.bottom)),
    ];
    let mut f = cx.flow(number, "table", &cx.t("table-title"));
    f.section(&cx.t("table-what"), "table/what");
    let what = if m.layout.skew == 0.0 { "table-what-text" } else { "table-skewed-text" };
    for text in cx.words.list(what, &values) {
        f.para(text);
    }
    f.section(&cx.t("table-states"), "table/states");
    let (figure, one_to) = plans(cx);
    let scale = cx.or_dash(turnleaf_units::print_decimal(one_to, 1, cx.say.sign));
    let [closed, half, open] = ["plan-closed-caption", "plan-half-caption", "plan-open-caption"]
        .map(|key| cx.tv(key, &[("scale", scale.clone())]));
    let caption = cx.tv("plans-caption", &[("closed", closed), ("half", half), ("open", open)]);
    f.wide_figure(&figure, &cx.t("figure"), &caption);
    f.section(&cx.t("table-stack"), "table/stack");
    let figure = stack(cx, cx.grid.width());
    f.lead_to(cx.tv("table-stack-text", &values), figure.height + 12.0);
    f.wide_figure(&figure, &cx.t("figure"), &cx.t("stack-caption"));
    f.finish()
}
