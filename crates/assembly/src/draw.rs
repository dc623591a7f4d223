//! From views to paper: pens, dimensions, labels.
//!
//! In: a view, a scale, a place. Out: page items.
//! Always true: line widths are in the ratio 2 : 1 (ISO 128-2); visible edges of one part are one group;
//! dimension figures stand above or left of their lines and read from below or from the right (ISO 129-1).

use crate::AssemblyOptions;
use std::collections::BTreeMap;
use turnleaf_dimension::place::pen::{Style, arrow, line};
use turnleaf_geom::{Vec2, vec2::v};
use turnleaf_page::{Anchor, Face, Item, Paper, Pt, Role, Stroke, Text, pt};
use turnleaf_sheet::{PREFERRED, Scale};
use turnleaf_units::Length;
use turnleaf_views::paper::{Placement, push};
use turnleaf_views::{EdgeKind, View};

/// Sizes of lines and letters for a paper.
pub fn style(paper: Paper) -> Style {
    match paper {
        Paper::A4 | Paper::Letter => Style::SMALL,
        _ => Style::LARGE,
    }
}

/// The part of a piece, from its identifier "part/index".
pub fn part_of(id: &str) -> &str {
    id.split('/').next().unwrap_or(id)
}

/// The largest preferred scale (ISO 5455) not over 1 : 1 at which a size fits a room, both in mm.
pub fn largest(size: Vec2, room: Vec2) -> Option<Scale> {
    let fits = |s: &Scale| size.x * s.factor() <= room.x && size.y * s.factor() <= room.y;
    PREFERRED.into_iter().find(|s| s.factor() <= 1.0 && fits(s))
}

/// Width and height of a view at scale 1.
pub fn size(view: &View) -> Vec2 {
    view.bounds.1 - view.bounds.0
}

/// Where a view must be put so that the middle of its box lies at `at`.
pub fn centred(view: &View, scale: f64, at: Pt) -> Placement {
    let middle = (view.bounds.0 + view.bounds.1) * 0.5;
    Placement { at: pt(at.x - middle.x * scale, at.y + middle.y * scale), scale }
}

/// Pen of a visible edge by the style tag of its body.
pub type PenOf<'a> = dyn Fn(&str) -> f64 + 'a;

/// The visible strokes, one group a part and pen, then the traces; `width` gives the pen of a body's style.
pub fn strokes(view: &View, at: &Placement, prefix: &str, narrow: f64, width: &PenOf) -> Vec<Item> {
    let mut groups: BTreeMap<(usize, &str, &str), Vec<turnleaf_page::Step>> = BTreeMap::new();
    let mut traces = Vec::new();
    let mut order: Vec<&str> = Vec::new();
    for s in &view.visible {
        if s.kind == EdgeKind::Trace {
            push(s, at, &mut traces);
            continue;
        }
        let tag = &view.bodies[s.body];
        let part = part_of(&tag.id);
        let place = order.iter().position(|p| *p == part).unwrap_or_else(|| {
            order.push(part);
            order.len() - 1
        });
        push(s, at, groups.entry((place, part, tag.style.as_str())).or_default());
    }
    let mut out = Vec::new();
    if !traces.is_empty() {
        let d = narrow;
        let dash = vec![12.0 * d, 3.0 * d, d, 3.0 * d];
        let pen = Stroke { dash, round: false, ..Stroke::solid(d * 0.72) };
        let items = vec![Item::Path { steps: traces, stroke: Some(pen), fill: None }];
        out.push(Item::Group {
            role: Role::Plain,
            origin: None,
            id: Some(format!("{prefix}/traces")),
            items,
        });
    }
    for ((_, part, style), steps) in groups {
        let items = vec![Item::Path { steps, stroke: Some(Stroke::solid(width(style))), fill: None }];
        let id = Some(format!("{prefix}/{part}/visible"));
        out.push(Item::Group { role: Role::Outline, origin: None, id, items });
    }
    out
}

/// A length as a figure of a dimension, without unit.
pub fn figure(mm: f64, o: &AssemblyOptions) -> String {
    let w = o.sheet.wording();
    match Length::from_mm_f64(mm) {
        Some(l) => w.units.print(l, w.sign).figure(),
        None => "–".into(),
    }
}

fn group(id: String, items: Vec<Item>) -> Item {
    Item::Group { role: Role::Dimension, origin: None, id: Some(id), items }
}

/// A level dimension: between two x at height `y`, extension lines from `from` (two heights on paper).
pub fn level_dim(id: &str, x: (f64, f64), y: f64, from: (f64, f64), text: &str, st: &Style) -> Item {
    let away = |f: f64| if y > f { (f + st.gap, y + st.overrun) } else { (f - st.gap, y - st.overrun) };
    let (l, r) = (x.0.min(x.1), x.0.max(x.1));
    let mut items = Vec::new();
    for (at, f) in [(l, from.0), (r, from.1)] {
        let (a, b) = away(f);
        items.push(line(pt(at, a), pt(at, b), st.thin()));
    }
    items.push(line(pt(l, y), pt(r, y), st.thin()));
    items.push(arrow(pt(l, y), -1.0, 0.0, st.arrow));
    items.push(arrow(pt(r, y), 1.0, 0.0, st.arrow));
    let at = pt((l + r) / 2.0, y - st.lift());
    items.push(Item::Text(Text::new(at, st.size(), text).anchor(Anchor::Middle)));
    group(id.to_string(), items)
}

/// An upright dimension: between two y at `x`, extension lines from `from` (two places across the paper).
pub fn upright_dim(id: &str, y: (f64, f64), x: f64, from: (f64, f64), text: &str, st: &Style) -> Item {
    let away = |f: f64| if x > f { (f + st.gap, x + st.overrun) } else { (f - st.gap, x - st.overrun) };
    let (t, b) = (y.0.min(y.1), y.0.max(y.1));
    let mut items = Vec::new();
    for (at, f) in [(t, from.0), (b, from.1)] {
        let (p, q) = away(f);
        items.push(line(pt(p, at), pt(q, at), st.thin()));
    }
    // A figure longer than its line stands beyond the upper end, over the line drawn on.
    let wide = st.width(text);
    let beyond = wide + 1.0 > b - t;
    let (end, middle) = if beyond { (t - wide - 3.0, t - 2.0 - wide / 2.0) } else { (t, (t + b) / 2.0) };
    items.push(line(pt(x, end), pt(x, b), st.thin()));
    items.push(arrow(pt(x, t), 0.0, -1.0, st.arrow));
    items.push(arrow(pt(x, b), 0.0, 1.0, st.arrow));
    let at = pt(x - st.lift(), middle);
    items.push(Item::Text(Text::new(at, st.size(), text).anchor(Anchor::Middle).rotate(90.0)));
    group(id.to_string(), items)
}

/// The same where nothing may stand beyond the ends: a figure longer than its line lies level beside it, each unit on a line.
pub fn upright_dim_within(id: &str, y: (f64, f64), x: f64, from: f64, text: &str, st: &Style) -> Item {
    let (t, b) = (y.0.min(y.1), y.0.max(y.1));
    if st.width(text) + 1.0 <= b - t {
        return upright_dim(id, y, x, (from, from), text, st);
    }
    let mut items: Vec<Item> =
        [t, b].map(|at| line(pt(from + st.gap, at), pt(x + st.overrun, at), st.thin())).into();
    items.push(line(pt(x, t), pt(x, b), st.thin()));
    items.push(arrow(pt(x, t), 0.0, -1.0, st.arrow));
    items.push(arrow(pt(x, b), 0.0, 1.0, st.arrow));
    // A figure in two units on two lines: side by side they would run over the frame.
    let lines = match text.find(" (") {
        Some(at) => vec![&text[..at], &text[at + 1..]],
        None => vec![text],
    };
    let apart = 1.8 * st.cap;
    let base = (t + b + st.cap - apart * (lines.len() - 1) as f64) / 2.0;
    for (k, words) in lines.into_iter().enumerate() {
        items.push(Item::Text(Text::new(pt(x + st.lift(), base + apart * k as f64), st.size(), words)));
    }
    group(id.to_string(), items)
}

/// Words under or over a view.
pub fn label(at: Pt, text: &str, st: &Style) -> Item {
    Item::Text(Text::new(at, st.size() * 1.15, text).face(Face::Bold).anchor(Anchor::Middle))
}

/// A figure with its text alternative.
pub fn figure_group(id: &str, alt: String, items: Vec<Item>) -> Item {
    Item::Group { role: Role::Figure { alt }, origin: None, id: Some(id.to_string()), items }
}

/// A stroke longer than this, mm on paper, is pointed at in more places than its middle.
const LONG: f64 = 30.0;

/// Points of the visible strokes of each part, on paper: the middle of each stroke longer than 2 mm there, or
/// of every stroke when none is so long; along a long stroke, such as the rim of a plate, some more, so that a plate is
/// not pointed at through a slot whose edge ends a shorter stroke.
pub fn points(view: &View, at: &Placement) -> BTreeMap<String, Vec<Pt>> {
    let mut long: BTreeMap<String, Vec<Pt>> = BTreeMap::new();
    let mut any: BTreeMap<String, (f64, Pt)> = BTreeMap::new();
    for s in view.visible.iter().filter(|s| s.kind != EdgeKind::Trace) {
        let part = part_of(view.id(s));
        let middle = at.point(s.curve.at(0.5));
        let paper = s.curve.length() * at.scale;
        if paper > 2.0 {
            let points = long.entry(part.to_string()).or_default();
            points.push(middle);
            if paper > LONG {
                points.extend([0.1, 0.25, 0.75, 0.9].map(|t| at.point(s.curve.at(t))));
            }
        }
        let best = any.entry(part.to_string()).or_insert((paper, middle));
        if paper > best.0 {
            *best = (paper, middle);
        }
    }
    for (part, (_, p)) in any {
        long.entry(part).or_insert_with(|| vec![p]);
    }
    long
}

/// Half of a view's width and height on paper.
pub fn half(view: &View, scale: f64) -> Vec2 {
    let s = size(view);
    v(s.x * scale / 2.0, s.y * scale / 2.0)
}
