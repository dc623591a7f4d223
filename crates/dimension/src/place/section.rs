//! Sections through edges with a groove or a tongue.
//!
//! In: an edge section and its figures. Out: a hatched section at a stated scale with its dimensions, round
//! its own origin, and its box.
//! Always true: the section is drawn from the same sketch; the edge is on the right, the upper face on top,
//! and the wood is broken off on the left.

use super::ink::Ink;
use super::lanes::{self, Linear, Side};
use super::pen::Style;
use crate::drawing::{Drawing, EdgeSection};
use crate::printed::Figure;
use crate::sketch::Shape;
use turnleaf_page::{Face, Item, Pt, Role, Step, Text, pt};

/// A drawn section.
#[derive(Clone, Debug, PartialEq)]
pub struct DrawnSection {
    /// Items round the section's own origin.
    pub items: Vec<Item>,
    /// Least corner.
    pub min: Pt,
    /// Greatest corner.
    pub max: Pt,
}

/// Draws a section at a scale; `scale_text` is how the scale is written.
pub fn draw(
    d: &Drawing,
    q: &EdgeSection,
    figures: &[Figure],
    scale: f64,
    scale_text: &str,
    style: &Style,
) -> Option<DrawnSection> {
    let s = &d.sketch;
    let Shape::Edge(e) = &s.features[*q.members.first()?].shape else { return None };
    let t = s.value(s.thickness?) * scale;
    let (z0, z1, depth) = (s.value(e.z0) * scale, s.value(e.z1) * scale, s.value(e.depth) * scale);
    let back = depth + (t * 0.6).max(10.0);
    // Edge at x = 0, lower face at y = 0, upper face at y = -t.
    let face = if e.tongue { depth } else { -depth };
    let edge = [
        pt(-back, -t),
        pt(0.0, -t),
        pt(0.0, -z1),
        pt(face, -z1),
        pt(face, -z0),
        pt(0.0, -z0),
        pt(0.0, 0.0),
        pt(-back, 0.0),
    ];
    // The broken end: a free-hand looking curve, the same every time.
    let mid = pt(-back + 0.9, -t / 2.0);
    let broken = vec![
        Step::Move(edge[7]),
        Step::Cubic(pt(-back - 1.4, -t * 0.15), pt(-back - 0.6, -t * 0.35), mid),
        Step::Cubic(pt(-back + 2.2, -t * 0.65), pt(-back + 0.4, -t * 0.85), edge[0]),
    ];
    let mut items = vec![Item::Path { steps: broken, stroke: Some(style.thin()), fill: None }];
    items.extend(hatch(&edge, style));
    let mut steps = vec![Step::Move(edge[0])];
    steps.extend(edge[1..].iter().map(|p| Step::Line(*p)));
    items.push(Item::Path { steps, stroke: Some(style.visible()), fill: None });
    let mut ink = Ink::default();
    let linear = |dim: usize, a: Pt, b: Pt, side: Side| Linear {
        id: d.dimensions[dim].id.clone(),
        origin: d.dimensions[dim].origin,
        text: figures[dim].text(),
        a,
        b,
        side,
    };
    let mut dims = vec![
        linear(q.band, pt(face.max(0.0), -z0), pt(face.max(0.0), -z1), Side::Right),
        linear(q.depth, pt(0.0, -t), pt(face, if e.tongue { -z1 } else { -t }), Side::Top),
    ];
    if let Some(b) = q.below {
        dims.push(linear(b, pt(0.0, 0.0), pt(face.max(0.0), -z0), Side::Right));
    }
    if let Some(k) = q.thickness {
        dims.push(linear(k, pt(-back, 0.0), pt(-back, -t), Side::Left));
    }
    let tight = Style { first: style.first * 0.8, ..*style };
    let placed = lanes::lay(&dims, pt(-back, -t), pt(face.max(0.0), 0.0), &tight, &mut ink);
    items.extend(placed);
    let (lo, hi) = turnleaf_text::bounds(&items)?;
    let kind = if e.tongue { "Tongue" } else { "Groove" };
    let title = format!("{}   {scale_text}", d.tongue.say(&format!("{kind} {}", q.letter)));
    let at = pt(-back, lo.y - 2.0);
    items.insert(0, Item::Text(Text::new(at, style.size(), title.clone()).face(Face::Bold)));
    let width = turnleaf_text::width(&title, style.size(), Face::Bold);
    let min = pt(lo.x.min(at.x), at.y - style.cap);
    let max = pt(hi.x.max(at.x + width), hi.y);
    let alt = format!("Section through the edge with {} {}.", kind.to_lowercase(), q.letter);
    let alt = d.tongue.say(&alt);
    let group = Item::Group {
        role: Role::Figure { alt },
        origin: None,
        id: Some(format!("{}/section/{}", d.part, q.letter)),
        items,
    };
    Some(DrawnSection { items: vec![group], min, max })
}

/// Hatching at 45°, 2.5 mm apart, inside a polygon (even-odd).
fn hatch(polygon: &[Pt], style: &Style) -> Vec<Item> {
    let n = polygon.len();
    let (mut lo, mut hi) = (f64::INFINITY, f64::NEG_INFINITY);
    for p in polygon {
        lo = lo.min(p.x + p.y);
        hi = hi.max(p.x + p.y);
    }
    let step = 2.5 * core::f64::consts::SQRT_2;
    let mut steps = Vec::new();
    let mut c = (lo / step).ceil() * step;
    while c < hi {
        let mut cuts: Vec<Pt> = Vec::new();
        for i in 0..n {
            let (a, b) = (polygon[i], polygon[(i + 1) % n]);
            let (fa, fb) = (a.x + a.y - c, b.x + b.y - c);
            // Half-open, so that a corner on the line counts once.
            if (fa <= 0.0) != (fb <= 0.0) {
                let t = fa / (fa - fb);
                cuts.push(pt(a.x + (b.x - a.x) * t, a.y + (b.y - a.y) * t));
            }
        }
        cuts.sort_by(|p, q| p.x.total_cmp(&q.x));
        for pair in cuts.chunks_exact(2) {
            steps.push(Step::Move(pair[0]));
            steps.push(Step::Line(pair[1]));
        }
        c += step;
    }
    vec![Item::Path { steps, stroke: Some(style.thin()), fill: None }]
}
