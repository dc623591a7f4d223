//! The grain arrow.
//!
//! In: the grain's direction. Out: an arrow with two heads and its word, inside the view where it is free.
//! Always true: placed last, so it moves nothing; it crosses no edge and covers no text, and where no place is free
//! it is left out, since the notes say the grain too.

use super::View;
use super::ink::{Ink, Kind, Label};
use super::pen::{self, Style};
use crate::drawing::Drawing;
use crate::grain::Grain;
use crate::sketch::Shape;
use turnleaf_geom::vec2::v;
use turnleaf_geom::{Region, Ring, prepared::Prepared};
use turnleaf_page::{Item, Pt, Role, pt};

/// A place that costs more is no free place: some distance from the middle is allowed, text on a centre line is not.
const FREE: f64 = 7.0;

/// Draws the arrow, if the part has a grain with a straight direction and a free place for it.
pub fn draw(d: &Drawing, view: &View, style: &Style, ink: &mut Ink, items: &mut Vec<Item>) {
    let along = match d.grain {
        Some(Grain::Along) => v(1.0, 0.0),
        Some(Grain::Across) => v(0.0, 1.0),
        Some(Grain::Arcs) | None => return,
    };
    let Some(material) = material(d) else { return };
    let word = d.tongue.say("grain");
    let width = style.width(&word);
    let (lo, hi) = material.bounds();
    let middle = (lo + hi) * 0.5;
    let level = view.place(along).y.abs() < 1e-9;
    for length in [width + 4.0 * style.arrow, width.max(3.0 * style.arrow)] {
        let half = along * (length / 2.0 / view.scale);
        let mut best: Option<(f64, Pt, Pt, Label)> = None;
        // A grid that stays where it is when the size changes a little: tenths of the view.
        for i in 0..9 {
            for j in 0..9 {
                let share = |k: usize| (k as f64 + 1.0) / 10.0;
                let c = v(lo.x + (hi.x - lo.x) * share(i), lo.y + (hi.y - lo.y) * share(j));
                let (p, q) = (view.place(c - half), view.place(c + half));
                let m = view.place(c);
                let lift = style.lift();
                let (at, turn) = if level { (pt(m.x, m.y - lift), 0.0) } else { (pt(m.x - lift, m.y), 90.0) };
                let label = Label { at, width, cap: style.cap, turn, tail: true };
                // Some air round the word, so that it never stands close to an edge.
                let airy = Label { width: width + 2.0, cap: style.cap + 1.0, ..label };
                let inside = [-1.0, -0.5, 0.0, 0.5, 1.0].iter().all(|t| material.contains(c + half * *t));
                let text = airy.full().iter().all(|r| {
                    let r = v(r.x / view.scale, -r.y / view.scale);
                    material.contains(if view.quarter { v(r.y, -r.x) } else { r })
                });
                if !inside || !text {
                    continue;
                }
                let cost = ink.text_cost(&airy) + ink.line_cost(p, q) + c.dist(middle) * view.scale * 0.05;
                if best.is_none_or(|b| cost < b.0 - 1e-9) {
                    best = Some((cost, p, q, label));
                }
            }
        }
        let Some((_, p, q, label)) = best.filter(|b| b.0 < FREE) else { continue };
        ink.text(&label);
        ink.line(p, q, Kind::Leader);
        let group = vec![
            pen::line(p, q, style.thin()),
            pen::arrow(p, p.x - q.x, p.y - q.y, style.arrow),
            pen::arrow(q, q.x - p.x, q.y - p.y, style.arrow),
            pen::text(label.at, style, &word, label.turn),
        ];
        let id = Some(format!("{}/mark/grain", d.part));
        items.push(Item::Group { role: Role::Plain, origin: None, id, items: group });
        return;
    }
}

/// The face that the plan shows, without holes and recesses.
fn material(d: &Drawing) -> Option<Prepared> {
    let s = &d.sketch;
    let values: Vec<f64> = s.unknowns.iter().map(|u| u.value).collect();
    let outer = s.ring(s.outline.as_ref()?, &values);
    let cut = |f: &crate::sketch::Made| -> Option<Ring> {
        match &f.shape {
            Shape::Hole(c, _) => Some(s.circle_at(*c)).map(|(p, r)| Ring::circle(p, r)),
            Shape::Slot(a, b, w, _) => Some(Ring::slot(s.at(*a), s.at(*b), s.value(*w) / 2.0)),
            Shape::Way(way, _) => Some(s.way_ring(way, &values)),
            Shape::Pocket(lp, _) => Some(s.ring(lp, &values)),
            Shape::Ramp(_) | Shape::Edge(_) => None,
        }
    };
    let holes = s.features.iter().filter_map(cut).collect();
    Some(Prepared::new(&Region { outer, holes }))
}
