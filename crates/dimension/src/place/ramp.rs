//! The developed view of a ramp: rise against length in the middle of its width.
//!
//! In: a drawing with a ramp, its figures. Out: the wedge at a stated scale with its dimensions, round the foot, and
//! its box.
//! Always true: foot on the left, head on the right; the line is drawn from the same unknowns that are proved.

use super::ink::Ink;
use super::lanes::{self, Linear, Side};
use super::pen::{self, Style};
use super::section::DrawnSection;
use crate::drawing::{Drawing, RampView};
use crate::printed::Figure;
use crate::sketch::Shape;
use turnleaf_geom::vec2::v;
use turnleaf_geom::{Seg, Vec2, Vertex, trig};
use turnleaf_page::{Face, Item, Pt, Role, Step, Text, pt};

/// Draws the developed view at a scale; `scale_text` is how the scale is written.
pub fn draw(
    d: &Drawing,
    q: &RampView,
    figures: &[Figure],
    scale: f64,
    scale_text: &str,
    style: &Style,
) -> Option<DrawnSection> {
    let s = &d.sketch;
    let Shape::Ramp(r) = s.features[q.member].shape else { return None };
    let [high, run, foot, head] = [r.high, r.run, r.foot, r.head].map(|u| s.value(u) * scale);
    let slope = d.value(q.slope);
    let (sin, cos) = trig::sin_cos(slope);
    let (a, b) = (v(foot * sin, foot * (1.0 - cos)), v(run - head * sin, high - head * (1.0 - cos)));
    let bulge = trig::tan(slope / 4.0);
    let place = |p: Vec2| pt(p.x, -p.y);
    let line = [
        Seg::Line(v(run, high), v(run, 0.0)),
        Seg::Line(v(run, 0.0), Vec2::ZERO),
        Seg::between(Vertex { p: Vec2::ZERO, bulge }, a),
        Seg::Line(a, b),
        Seg::between(Vertex { p: b, bulge: -bulge }, v(run, high)),
    ];
    let mut steps = pen::open_steps(&line, &place);
    steps.push(Step::Close);
    let mut items = vec![Item::Path { steps, stroke: Some(style.visible()), fill: None }];
    let mut ink = Ink::default();
    let linear = |dim: usize, text: String, a: Pt, b: Pt, side: Side| Linear {
        id: d.dimensions[dim].id.clone(),
        origin: d.dimensions[dim].origin,
        text,
        a,
        b,
        side,
    };
    let bracket = |dim: usize| format!("({})", figures[dim].text());
    let dims = vec![
        linear(d.thickness, figures[d.thickness].text(), pt(run, 0.0), pt(run, -high), Side::Right),
        linear(q.run, bracket(q.run), pt(0.0, 0.0), pt(run, 0.0), Side::Bottom),
    ];
    // Three leaders, the leftmost to the highest text, so that none runs through another's words.
    let half = |r: f64| v(r * trig::sin(slope / 2.0), r * (1.0 - trig::cos(slope / 2.0)));
    let top = v(run, high) - half(head);
    let places = [
        (q.head, format!("R{}", figures[q.head].text()), top),
        (q.slope, bracket(q.slope), (a + b) * 0.5),
        (q.foot, format!("R{}", figures[q.foot].text()), half(foot)),
    ];
    // The rise stands beyond all words.
    let end = |(_, text, at): &(usize, String, Vec2)| at.x + 1.0 + style.width(text);
    let right = places.iter().map(end).fold(run, f64::max);
    let tight = Style { first: style.first * 0.8, ..*style };
    items.extend(lanes::lay(&dims, pt(0.0, -high), pt(right, 0.0), &tight, &mut ink));
    let row = style.cap * 2.2;
    for (k, (dim, text, at)) in places.into_iter().enumerate() {
        let y = -high - style.cap - row * k as f64;
        let tip = place(at);
        let (up, base) = (pt(tip.x, y - style.cap / 2.0), pt(tip.x + 1.0, y));
        items.push(Item::Group {
            role: Role::Dimension,
            origin: d.dimensions[dim].origin,
            id: Some(d.dimensions[dim].id.clone()),
            items: vec![
                pen::line(tip, up, style.thin()),
                pen::arrow(tip, 0.0, tip.y - up.y, style.arrow),
                Item::Text(Text::new(base, style.size(), text)),
            ],
        });
    }
    let (lo, hi) = turnleaf_text::bounds(&items)?;
    let words = d.tongue.say("Developed in the middle of the width, foot on the left");
    let title = format!("{words}   {scale_text}");
    // Room for a cloud round the figures below, where one of them was revised.
    let at = pt(0.0, lo.y - 3.4);
    items.insert(0, Item::Text(Text::new(at, style.size(), title.clone()).face(Face::Bold)));
    let width = turnleaf_text::width(&title, style.size(), Face::Bold);
    let group = Item::Group {
        role: Role::Figure { alt: d.tongue.say("Developed view of the ramp: rise against length.") },
        origin: None,
        id: Some(format!("{}/developed", d.part)),
        items,
    };
    let (min, max) = (pt(lo.x.min(at.x), at.y - style.cap), pt(hi.x.max(at.x + width), hi.y));
    Some(DrawnSection { items: vec![group], min, max })
}
