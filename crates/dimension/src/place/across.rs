//! Dimensions drawn across the part itself, for widths far from any side of the view.
//!
//! In: dimensions with [`Look::Across`]. Out: a line through both anchors with arrows pointing in from
//! outside, and the figure at one of its ends.
//! Always true: the figure stands level, beside the end of the line, clear of other text.

use super::View;
use super::anchors;
use super::ink::{FORBIDDEN, Ink, Kind, Label};
use super::pen::{self, Style};
use crate::drawing::{Drawing, Look};
use crate::printed::Figure;
use turnleaf_geom::trig;
use turnleaf_page::{Item, Role, pt};

/// Lengths of the tails tried, mm beyond the arrow.
const TAILS: [f64; 7] = [4.0, 7.0, 11.0, 16.0, 22.0, 29.0, 37.0];

/// Draws them all.
#[allow(clippy::too_many_arguments)]
pub fn draw(
    d: &Drawing,
    figures: &[Figure],
    view: &View,
    style: &Style,
    ink: &mut Ink,
    items: &mut Vec<Item>,
    crowded: &mut Vec<String>,
) {
    for (i, dim) in d.dimensions.iter().enumerate().filter(|q| q.1.look == Look::Across) {
        let Some((from, to, _)) = anchors(d, &dim.rule) else { continue };
        let (a, b) = (view.place(from[0]), view.place(to[0]));
        let n = trig::hypot(b.x - a.x, b.y - a.y).max(1e-9);
        let (ux, uy) = ((b.x - a.x) / n, (b.y - a.y) / n);
        let text = figures[i].text();
        let width = style.width(&text);
        let mut best: Option<(f64, f64, f64, Label)> = None;
        for (k, tail) in TAILS.into_iter().enumerate() {
            // Beyond the second anchor first, then beyond the first.
            for (end, way) in [(b, 1.0), (a, -1.0)] {
                let reach = style.arrow + tail;
                let tip = pt(end.x + ux * way * reach, end.y + uy * way * reach);
                for side in [1.0, -1.0] {
                    let steep = uy.abs() > ux.abs();
                    // Beside a steep line; above the end of a level one.
                    let at = if steep {
                        let dy = if uy * way > 0.0 { 0.0 } else { style.cap };
                        pt(tip.x + side * (width / 2.0 + 1.2), tip.y + dy)
                    } else {
                        pt(
                            tip.x - ux * way * width / 2.0,
                            tip.y - style.lift() * side.max(0.0) + side.min(0.0) * -4.5,
                        )
                    };
                    let label = Label::level(at, width, style.cap);
                    let cost = ink.text_cost(&label)
                        + ink.line_cost(end, tip)
                        + k as f64
                        + if way > 0.0 { 0.0 } else { 0.5 }
                        + if side > 0.0 { 0.0 } else { 0.3 };
                    if best.is_none_or(|q| cost < q.0 - 1e-9) {
                        best = Some((cost, way, tail, label));
                    }
                }
            }
        }
        let Some((cost, way, tail, label)) = best else { continue };
        if cost >= FORBIDDEN {
            crowded.push(dim.id.clone());
        }
        let short = style.arrow * 2.0;
        let (after, before) =
            if way > 0.0 { (style.arrow + tail, short) } else { (short, style.arrow + tail) };
        let (p, q) = (pt(a.x - ux * before, a.y - uy * before), pt(b.x + ux * after, b.y + uy * after));
        ink.line(p, q, Kind::Dimension);
        ink.text(&label);
        let group = vec![
            pen::line(p, q, style.thin()),
            pen::arrow(a, ux, uy, style.arrow),
            pen::arrow(b, -ux, -uy, style.arrow),
            pen::text(label.at, style, &text, 0.0),
        ];
        items.push(Item::Group {
            role: Role::Dimension,
            origin: dim.origin,
            id: Some(dim.id.clone()),
            items: group,
        });
    }
}
