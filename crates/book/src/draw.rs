//! Small drawing words: lines, boxes, words, strokes of views, dimension lines.
//!
//! In: points on paper, curves of a view. Out: page items.
//! Always true: arcs become cubics whose error is below a thousandth of their radius per eighth turn;
//! words never grow wider than asked for.

use turnleaf_geom::{Arc, Ring, Seg, Vec2, trig, vec2::v};
use turnleaf_page::{Anchor, Colour, Face, Item, Pt, Role, Step, Stroke, Text, pt};
use turnleaf_text::width as text_width;
use turnleaf_views::{Curve2, Stroke2};

/// A straight line.
pub fn line(a: Pt, b: Pt, stroke: Stroke) -> Item {
    Item::Path { steps: vec![Step::Move(a), Step::Line(b)], stroke: Some(stroke), fill: None }
}

/// A level line.
pub fn level(x0: f64, x1: f64, y: f64, stroke: Stroke) -> Item {
    line(pt(x0, y), pt(x1, y), stroke)
}

/// Steps of a box.
pub fn box_steps(min: Pt, max: Pt) -> Vec<Step> {
    vec![
        Step::Move(min),
        Step::Line(pt(max.x, min.y)),
        Step::Line(max),
        Step::Line(pt(min.x, max.y)),
        Step::Close,
    ]
}

/// A box, filled or drawn.
pub fn rect(min: Pt, max: Pt, stroke: Option<Stroke>, fill: Option<Colour>) -> Item {
    Item::Path { steps: box_steps(min, max), stroke, fill }
}

/// A filled shape.
pub fn filled(steps: Vec<Step>, fill: Colour) -> Item {
    Item::Path { steps, stroke: None, fill: Some(fill) }
}

/// A line of words, cut with an ellipsis when it would be wider than `width`.
pub fn words(at: Pt, size: f64, face: Face, anchor: Anchor, text: &str, width: f64) -> Item {
    Item::Text(Text::new(at, size, cut(text, size, face, width)).face(face).anchor(anchor))
}

/// The text, cut with an ellipsis to a width.
pub fn cut(text: &str, size: f64, face: Face, width: f64) -> String {
    if text_width(text, size, face) <= width {
        return text.to_string();
    }
    // Bisect on the number of characters kept: widths grow with it.
    let chars: Vec<char> = text.chars().collect();
    let with = |n: usize| -> String { chars[..n].iter().chain(['…'].iter()).collect() };
    let (mut low, mut high) = (0, chars.len());
    while low + 1 < high {
        let middle = (low + high) / 2;
        if text_width(&with(middle), size, face) <= width { low = middle } else { high = middle }
    }
    with(low).replace(" …", "…")
}

/// A group.
pub fn group(role: Role, id: Option<String>, items: Vec<Item>) -> Item {
    Item::Group { role, origin: None, id, items }
}

/// Page furniture.
pub fn furniture(items: Vec<Item>) -> Item {
    group(Role::Artifact, None, items)
}

/// Cubics of `centre + p·cos θ + q·sin θ` from θ0 over `sweep`; the start point is not written.
fn conic(
    at: &dyn Fn(f64) -> Vec2,
    tangent: &dyn Fn(f64) -> Vec2,
    start: f64,
    sweep: f64,
    out: &mut Vec<Step>,
    to: &dyn Fn(Vec2) -> Pt,
) {
    let n = ((sweep.abs() / core::f64::consts::FRAC_PI_4).ceil() as usize).max(1);
    let step = sweep / n as f64;
    // Control length of a circular arc of this step: 4/3·tan(step/4).
    let k = 4.0 / 3.0 * trig::tan(step / 4.0);
    for i in 0..n {
        let (a, b) = (start + step * i as f64, start + step * (i + 1) as f64);
        let (pa, pb) = (at(a), at(b));
        out.push(Step::Cubic(to(pa + tangent(a) * k), to(pb - tangent(b) * k), to(pb)));
    }
}

fn arc_steps(arc: &Arc, out: &mut Vec<Step>, to: &dyn Fn(Vec2) -> Pt) {
    let point = |a: f64| arc.centre + Vec2::polar(arc.radius, a);
    let tangent = |a: f64| Vec2::polar(arc.radius, a).perp();
    conic(&point, &tangent, arc.start, arc.sweep, out, to);
}

/// Steps of a whole circle.
pub fn circle_steps(centre: Vec2, radius: f64, to: &dyn Fn(Vec2) -> Pt) -> Vec<Step> {
    let arc = Arc { centre, radius, start: 0.0, sweep: 2.0 * core::f64::consts::PI };
    let mut out = vec![Step::Move(to(arc.at(0.0)))];
    arc_steps(&arc, &mut out, to);
    out.push(Step::Close);
    out
}

/// Steps of a ring.
pub fn ring_steps(ring: &Ring, out: &mut Vec<Step>, to: &dyn Fn(Vec2) -> Pt) {
    let Some(first) = ring.vertices.first() else { return };
    out.push(Step::Move(to(first.p)));
    for seg in ring.segs() {
        match seg {
            Seg::Line(_, b) => out.push(Step::Line(to(b))),
            Seg::Arc(arc) => arc_steps(&arc, out, to),
        }
    }
    out.push(Step::Close);
}

/// One path of all strokes, in the pen of the figure.
pub fn strokes<'a>(list: impl Iterator<Item = &'a Stroke2>, stroke: Stroke, to: &dyn Fn(Vec2) -> Pt) -> Item {
    let mut steps = Vec::new();
    for s in list {
        steps.push(Step::Move(to(s.curve.start())));
        match s.curve {
            Curve2::Line(_, b) => steps.push(Step::Line(to(b))),
            Curve2::Arc(arc) => arc_steps(&arc, &mut steps, to),
            Curve2::Ellipse(e) => {
                conic(&|t| e.point(t), &|t| e.tangent(t), e.start, e.sweep, &mut steps, to);
            }
        }
    }
    Item::Path { steps, stroke: Some(stroke), fill: None }
}

/// A filled arrow head with its tip at `tip`, pointing along `along` (a unit vector on paper).
pub fn arrow(tip: Pt, along: Vec2, length: f64) -> Item {
    let back = v(tip.x, tip.y) - along * length;
    let side = along.perp() * (length * 0.17);
    let (p, q) = (back + side, back - side);
    filled(
        vec![Step::Move(tip), Step::Line(pt(p.x, p.y)), Step::Line(pt(q.x, q.y)), Step::Close],
        Colour::BLACK,
    )
}

/// A level dimension line between two places, its words on a white ground in the middle.
pub fn dimension(x0: f64, x1: f64, y: f64, from: (f64, f64), text: &str, size: f64) -> Vec<Item> {
    let pen = Stroke::solid(0.18);
    let half = text_width(text, size, Face::Regular) / 2.0 + 1.0;
    let middle = (x0 + x1) / 2.0;
    let mut items = vec![
        line(pt(x0, from.0), pt(x0, y + 1.5), pen.clone()),
        line(pt(x1, from.1), pt(x1, y + 1.5), pen.clone()),
        arrow(pt(x0, y), v(-1.0, 0.0), 2.5),
        arrow(pt(x1, y), v(1.0, 0.0), 2.5),
    ];
    if middle - half > x0 + 3.0 {
        items.push(level(x0, middle - half, y, pen.clone()));
        items.push(level(middle + half, x1, y, pen));
        let base = y + size * 0.714 / 2.0;
        items.push(Item::Text(Text::new(pt(middle, base), size, text).anchor(Anchor::Middle)));
    } else {
        items.push(level(x0, x1, y, pen));
        items.push(Item::Text(Text::new(pt(middle, y - 1.0), size, text).anchor(Anchor::Middle)));
    }
    items
}

/// Items moved on paper.
pub fn moved(items: &[Item], dx: f64, dy: f64) -> Vec<Item> {
    let p = |q: Pt| pt(q.x + dx, q.y + dy);
    items
        .iter()
        .map(|item| match item {
            Item::Path { steps, stroke, fill } => Item::Path {
                steps: steps
                    .iter()
                    .map(|s| match *s {
                        Step::Move(a) => Step::Move(p(a)),
                        Step::Line(a) => Step::Line(p(a)),
                        Step::Cubic(a, b, c) => Step::Cubic(p(a), p(b), p(c)),
                        Step::Close => Step::Close,
                    })
                    .collect(),
                stroke: stroke.clone(),
                fill: *fill,
            },
            Item::Text(t) => Item::Text(Text { at: p(t.at), ..t.clone() }),
            Item::Link { min, max, target } => {
                Item::Link { min: p(*min), max: p(*max), target: target.clone() }
            }
            Item::Picture { min, max, picture } => {
                Item::Picture { min: p(*min), max: p(*max), picture: picture.clone() }
            }
            Item::Mark { at, name } => Item::Mark { at: p(*at), name: name.clone() },
            Item::Group { role, origin, id, items } => Item::Group {
                role: role.clone(),
                origin: *origin,
                id: id.clone(),
                items: moved(items, dx, dy),
            },
        })
        .collect()
}
