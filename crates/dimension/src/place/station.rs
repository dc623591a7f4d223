//! Numbers beside the stations of curved slots.
//!
//! In: the tables of centre lines. Out: a number beside a stroke, as in the table.
//! Always true: placed last, so they move nothing; the first and the last station come first; a number that would
//! touch an edge or other text, or stand as near to another slot as to its own, is left out (the reader counts on
//! from its neighbour).

use super::View;
use super::ink::{Ink, Label};
use super::pen::{self, Style};
use crate::drawing::Drawing;
use crate::sketch::Shape;
use turnleaf_geom::{Vec2, trig};
use turnleaf_page::{Item, Pt, Role, pt};

/// A place that costs more touches an edge or other text.
const FREE: f64 = 40.0;

/// Directions tried, degrees from square across the slot; the last three only at an end.
const TURNS: [f64; 6] = [0.0, 25.0, -25.0, 90.0, 60.0, -60.0];

/// Draws the numbers of all curved slots that have a table.
pub fn draw(d: &Drawing, view: &View, style: &Style, ink: &mut Ink, items: &mut Vec<Item>) {
    let s = &d.sketch;
    let values: Vec<f64> = s.unknowns.iter().map(|u| u.value).collect();
    let edges: Vec<(usize, Vec<Vec2>)> = s
        .features
        .iter()
        .enumerate()
        .filter_map(|(i, f)| match &f.shape {
            Shape::Way(w, _) => Some((i, s.way_ring(w, &values).flatten(0.5 / view.scale))),
            _ => None,
        })
        .collect();
    for (i, f) in s.features.iter().enumerate() {
        let Shape::Way(way, _) = &f.shape else { continue };
        if way.like.is_some() {
            continue;
        }
        let line = s.centre_line(way, &values);
        let last = line.len().saturating_sub(1);
        let half = s.value(way.width) / 2.0;
        let ends = [0, last];
        let order = ends.into_iter().chain(1..last).take(line.len());
        for k in order {
            // Beside an end the end's number alone is clear.
            let at_end = |e: usize| k != e && line[k].p.dist(line[e].p) * view.scale < style.cap;
            if at_end(0) || at_end(last) {
                continue;
            }
            let (a, b) = (line[k.saturating_sub(1)].p, line[(k + 1).min(last)].p);
            let across = (b - a).unit().perp();
            let words = (k + 1).to_string();
            let width = style.width(&words);
            let mut best: Option<(f64, Pt)> = None;
            // Beyond an end of the slot as well as beside it.
            let turns = if k == 0 || k == last { &TURNS[..] } else { &TURNS[..3] };
            for (n, turn) in turns.iter().enumerate() {
                for (m, side) in [1.0, -1.0].into_iter().enumerate() {
                    let u = (across * side).rot(trig::rad(*turn));
                    for (j, more) in [0.6, 1.6].into_iter().enumerate() {
                        let foot = view.place(line[k].p + u * half);
                        let far = view.place(line[k].p + u * (half + 1.0 / view.scale));
                        let (ux, uy) = (far.x - foot.x, far.y - foot.y);
                        // The stroke passes the side by 0.8 mm; the number stands beyond it.
                        let out = 0.8 + more;
                        let reach = out + ux.abs() * (width / 2.0 + 0.7) + uy.abs() * (style.cap / 2.0 + 0.7);
                        let at = pt(foot.x + ux * reach, foot.y + uy * reach + style.cap / 2.0);
                        let own = line[k].p + u * (half + reach / view.scale);
                        let near = (half * view.scale + reach) * 1.1 / view.scale;
                        // Nor may a neighbour's stroke be nearer.
                        let nearest = line.iter().map(|q| q.p.dist(own)).fold(f64::INFINITY, f64::min);
                        let other = line[k].p.dist(own) > nearest + 1.0 / view.scale;
                        if other || edges.iter().any(|(j, ring)| *j != i && passes(ring, own, near)) {
                            continue;
                        }
                        let cost = ink.text_cost(&Label::mark(at, width, style.cap))
                            + n as f64 * 1.5
                            + m as f64 * 1.0
                            + j as f64 * 2.0;
                        if cost < FREE && best.is_none_or(|b| cost < b.0 - 1e-9) {
                            best = Some((cost, at));
                        }
                    }
                }
            }
            let Some((_, at)) = best else { continue };
            ink.text(&Label::mark(at, width, style.cap));
            let id = Some(format!("{}/mark/{}/station-{}", d.part, f.id, k + 1));
            let number = pen::text(at, style, &words, 0.0);
            items.push(Item::Group { role: Role::Plain, origin: None, id, items: vec![number] });
        }
    }
}

/// Whether a closed polygon comes within `near` of a point.
fn passes(ring: &[Vec2], p: Vec2, near: f64) -> bool {
    ring.iter().zip(ring.iter().cycle().skip(1)).any(|(a, b)| {
        let d = *b - *a;
        let t = ((p - *a).dot(d) / d.norm2().max(1e-12)).clamp(0.0, 1.0);
        (p - (*a + d * t)).norm() < near
    })
}
