//! Placing a drawing's figures round its view.
//!
//! In: a drawing, its printed figures, a scale and a quarter turn or none. Out: page items round the datum
//! origin at (0, 0), the box they fill, and what could not be placed well.
//! Always true: the same input gives the same items; lanes first, then angles, letters and leaders, each in
//! the drawing's order and each at the cheapest of a fixed list of places.

pub mod across;
pub mod angle;
pub mod callout;
pub mod front;
pub mod grain;
pub mod ink;
pub mod lanes;
pub mod letter;
pub mod pen;
pub mod ramp;
pub mod section;
pub mod station;
pub mod view;

use crate::drawing::{Drawing, Look};
use crate::frame::{OriginKind, SAME};
use crate::printed::Figure;
use crate::rule::{PointId, Rule};
use ink::Ink;
use lanes::{Linear, Side};
use pen::Style;
use turnleaf_geom::Vec2;
use turnleaf_geom::vec2::v;
use turnleaf_page::{Item, Pt, Role, pt};

/// Scale and turn of a view.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct View {
    /// Paper mm for one mm of the part.
    pub scale: f64,
    /// Turned a quarter, so that the datum x axis points up the sheet.
    pub quarter: bool,
    /// First angle: the front view stands beyond the plan; third angle: this side of it.
    pub first_angle: bool,
}

impl View {
    /// Where a point of the datum frame is on paper.
    pub fn place(&self, p: Vec2) -> Pt {
        let p = if self.quarter { v(-p.y, p.x) } else { p };
        pt(p.x * self.scale, -p.y * self.scale)
    }
}

/// A placed view.
#[derive(Clone, Debug, PartialEq)]
pub struct Placed {
    /// Items round the datum origin.
    pub items: Vec<Item>,
    /// Least corner of everything.
    pub min: Pt,
    /// Greatest corner of everything.
    pub max: Pt,
    /// Reference angles that found no place and belong in the notes (indices of dimensions).
    pub left_over: Vec<usize>,
    /// Identifiers of what had to be placed over something else.
    pub crowded: Vec<String>,
}

/// Where a linear dimension may be drawn: candidates for its two anchors.
pub(crate) fn anchors(d: &Drawing, rule: &Rule) -> Option<(Vec<Vec2>, Vec<Vec2>, bool)> {
    let s = &d.sketch;
    let mirrored = |p: PointId| {
        let at = s.at(p);
        if d.frame.mirror && at.y.abs() > SAME {
            vec![v(at.x, -at.y.abs()), v(at.x, at.y.abs())]
        } else {
            vec![at]
        }
    };
    let on_y_axis = || -> Vec<Vec2> {
        match d.frame.origin {
            OriginKind::EndEdge => {
                s.sides().iter().map(|q| s.at(q.from)).filter(|p| p.x.abs() < SAME).collect()
            }
            _ => vec![Vec2::ZERO],
        }
    };
    match *rule {
        Rule::AlongX(a, b) => Some((vec![s.at(a)], vec![s.at(b)], true)),
        Rule::AlongY(a, b) => Some((vec![s.at(a)], vec![s.at(b)], false)),
        Rule::X(p) => Some((on_y_axis(), mirrored(p), true)),
        Rule::Y(p) => Some((vec![v(0.0, 0.0)], vec![s.at(p)], false)),
        _ => None,
    }
}

/// The lane dimensions of a drawing, each on the side that needs the shortest extension lines.
fn linears(d: &Drawing, figures: &[Figure], view: &View, min: Pt, max: Pt) -> Vec<Linear> {
    let mut out = Vec::new();
    for (i, dim) in d.dimensions.iter().enumerate() {
        if dim.look != Look::Linear {
            continue;
        }
        let Some((from, to, along_x)) = anchors(d, &dim.rule) else { continue };
        let level = along_x != view.quarter;
        let sides = if level { [Side::Bottom, Side::Top] } else { [Side::Right, Side::Left] };
        let reach = |side: Side, p: Pt| match side {
            Side::Bottom => max.y - p.y,
            Side::Top => p.y - min.y,
            Side::Right => max.x - p.x,
            Side::Left => p.x - min.x,
        };
        let mut best: Option<(f64, Side, Pt, Pt)> = None;
        for side in sides {
            let near = |list: &[Vec2]| {
                list.iter().map(|p| view.place(*p)).min_by(|p, q| reach(side, *p).total_cmp(&reach(side, *q)))
            };
            let (Some(a), Some(b)) = (near(&from), near(&to)) else { continue };
            let cost = reach(side, a) + reach(side, b);
            // The second side must be clearly nearer, so that a small change of size does not flip it.
            if best.as_ref().is_none_or(|q| cost < q.0 - 4.0) {
                best = Some((cost, side, a, b));
            }
        }
        if let Some((_, side, a, b)) = best {
            let text = figures[i].text();
            let text = if dim.reference { format!("({text})") } else { text };
            out.push(Linear { id: dim.id.clone(), origin: dim.origin, text, a, b, side });
        }
    }
    out
}

/// Draws a view with all its dimensions.
pub fn place(d: &Drawing, figures: &[Figure], view: &View, style: &Style) -> Placed {
    let mut ink = Ink::default();
    let (mut items, min, max) = view::draw(d, view, style, &mut ink);
    let dims = linears(d, figures, view, min, max);
    items.extend(lanes::lay(&dims, min, max, style, &mut ink));
    if d.front {
        front::draw(d, figures, view, style, &mut ink, &mut items);
    }
    let mut crowded = Vec::new();
    let mut left_over = Vec::new();
    across::draw(d, figures, view, style, &mut ink, &mut items, &mut crowded);
    angle::draw(d, figures, view, style, &mut ink, &mut items, &mut left_over);
    letter::draw(d, view, style, &mut ink, &mut items, &mut crowded);
    callout::draw(d, figures, view, style, &mut ink, &mut items, &mut crowded);
    station::draw(d, view, style, &mut ink, &mut items);
    grain::draw(d, view, style, &mut ink, &mut items);
    let (lo, hi) = turnleaf_text::bounds(&items).unwrap_or((min, max));
    let alt = format!(
        "{} of the {} with dimensions.",
        if d.front { "Plan and front view" } else { "Plan" },
        d.tongue.within(&d.name)
    );
    let alt = d.tongue.say(&alt);
    let figure =
        Item::Group { role: Role::Figure { alt }, origin: None, id: Some(format!("{}/view", d.part)), items };
    Placed { items: vec![figure], min: lo, max: hi, left_over, crowded }
}
