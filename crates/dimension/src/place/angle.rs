//! Angle arcs.
//!
//! In: reference angles at corners. Out: an arc with two arrows and its figure, or the note that it found no
//! place.
//! Always true: the arc lies between the two edges it measures, and its figure clear of all other text.

use super::View;
use super::ink::{Ink, Kind, Label};
use super::pen::{self, Style};
use crate::drawing::{Drawing, Look};
use crate::printed::Figure;
use crate::rule::Rule;
use turnleaf_geom::{Arc, Vec2, trig};
use turnleaf_page::{Item, Role, Step, pt};

/// A place that costs this much lies over an edge or worse: the angle is better given in the notes.
const CROSSES_EDGE: f64 = 150.0;

/// Draws all angle dimensions.
#[allow(clippy::too_many_arguments)]
pub fn draw(
    d: &Drawing,
    figures: &[Figure],
    view: &View,
    style: &Style,
    ink: &mut Ink,
    items: &mut Vec<Item>,
    left_over: &mut Vec<usize>,
) {
    for (i, dim) in d.dimensions.iter().enumerate() {
        let (Look::Angle, Rule::Corner(o, a, b)) = (dim.look, dim.rule) else { continue };
        let s = &d.sketch;
        let (o, a, b) = (s.at(o), s.at(a), s.at(b));
        let start = (a - o).angle();
        let sweep = trig::atan2((a - o).cross(b - o), (a - o).dot(b - o));
        let shorter = a.dist(o).min(b.dist(o)) * view.scale;
        let text = if dim.reference { format!("({})", figures[i].text()) } else { figures[i].text() };
        let width = style.width(&text);
        let mut best: Option<(f64, f64, f64)> = None;
        for share in [0.45, 0.55, 0.35, 0.65, 0.75, 0.85] {
            let r = (shorter * share).min(60.0);
            if r < 7.0 {
                continue;
            }
            let chord =
                |k: usize| view.place(o + Vec2::polar(r / view.scale, start + sweep * k as f64 / 8.0));
            let line: f64 = (0..8).map(|k| ink.line_cost(chord(k), chord(k + 1))).sum();
            for t in [0.5, 0.68, 0.32, 0.8, 0.2] {
                let label = figure_place(o, view, r, start + sweep * t, width, style);
                let cost = ink.text_cost(&label) + line + (t - 0.5f64).abs() * 4.0;
                if best.is_none_or(|q| cost < q.0 - 1e-9) {
                    best = Some((cost, r, t));
                }
            }
        }
        let Some((_, r, t)) = best.filter(|q| q.0 < CROSSES_EDGE) else {
            left_over.push(i);
            continue;
        };
        let arc = Arc { centre: o, radius: r / view.scale, start, sweep };
        let place = |p: Vec2| view.place(p);
        let mut steps = vec![Step::Move(place(arc.at(0.0)))];
        pen::arc_steps(&arc, &place, &mut steps);
        let mut group = vec![Item::Path { steps, stroke: Some(style.thin()), fill: None }];
        let mut last = place(arc.at(0.0));
        for k in 1..=12 {
            let next = place(arc.at(k as f64 / 12.0));
            ink.line(last, next, Kind::Dimension);
            last = next;
        }
        // Arrow heads follow the chord of their own length, so that their backs sit on the arc.
        let back = style.arrow / r / sweep.abs();
        for (end, inner) in [(0.0, back), (1.0, 1.0 - back)] {
            let (tip, behind) = (place(arc.at(end)), place(arc.at(inner)));
            group.push(pen::arrow(tip, tip.x - behind.x, tip.y - behind.y, style.arrow));
        }
        let label = figure_place(o, view, r, start + sweep * t, width, style);
        ink.text(&label);
        group.push(pen::text(label.at, style, &text, 0.0));
        items.push(Item::Group {
            role: Role::Dimension,
            origin: dim.origin,
            id: Some(dim.id.clone()),
            items: group,
        });
    }
}

/// A level figure just outside an arc of radius `r` (paper mm) about a corner, in the direction `angle`.
fn figure_place(o: Vec2, view: &View, r: f64, angle: f64, width: f64, style: &Style) -> Label {
    let (c, p) = (view.place(o), view.place(o + Vec2::polar(1.0, angle)));
    let (ux, uy) = ((p.x - c.x) / view.scale, (p.y - c.y) / view.scale);
    // The nearest point of the text's box to the corner is at least `r` away when its middle is this far out.
    let half_height = 0.7 * style.cap + 0.2;
    let out = r + ux.abs() * width / 2.0 + uy.abs() * half_height + 1.4;
    let middle = pt(c.x + ux * out, c.y + uy * out);
    Label::level(pt(middle.x, middle.y + style.cap / 2.0), width, style.cap)
}
