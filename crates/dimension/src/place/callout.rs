//! Leaders with radii, diameters and depths.
//!
//! In: call-outs. Out: a leader whose arrow meets its arc squarely, a shelf, and text above the shelf.
//! Always true: the line of the leader points to (or away from) the arc's centre; text stands level.

use super::View;
use super::ink::{FORBIDDEN, Ink, Kind, Label};
use super::pen::{self, Style};
use crate::drawing::{Callout, Drawing, Piece};
use crate::printed::{Figure, line};
use turnleaf_geom::{Vec2, trig};
use turnleaf_page::{Item, Pt, Role, pt};

/// Lengths of leaders tried, mm on paper.
const LENGTHS: [f64; 10] = [6.0, 9.0, 13.0, 18.0, 24.0, 32.0, 42.0, 55.0, 70.0, 90.0];

/// Lengths tried only where nothing shorter is free.
const FARTHER: [f64; 3] = [110.0, 130.0, 150.0];

/// A place that costs this much lays text on an edge, or worse.
const ON_EDGE: f64 = 150.0;

/// Draws all call-outs.
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
    for c in &d.callouts {
        let words = line(&c.pieces, figures);
        let first = c.pieces.iter().find_map(|p| if let Piece::Figure(i) = p { Some(*i) } else { None });
        let Some(first) = first else { continue };
        let dim = &d.dimensions[first];
        let (cost, group) = one(d, c, &words, view, style, ink);
        if cost >= FORBIDDEN {
            crowded.push(dim.id.clone());
        }
        items.push(Item::Group {
            role: Role::Dimension,
            origin: dim.origin,
            id: Some(dim.id.clone()),
            items: group,
        });
    }
}

struct Try {
    tip: Pt,
    elbow: Pt,
    /// Right (1) or left (-1).
    way: f64,
    extra: f64,
}

fn one(d: &Drawing, c: &Callout, words: &str, view: &View, style: &Style, ink: &mut Ink) -> (f64, Vec<Item>) {
    let s = &d.sketch;
    let (centre, radius) = s.circle_at(c.circle);
    // Directions from the centre in which the arc is drawn.
    let mut directions: Vec<(f64, f64)> = match c.ends {
        Some((a, b)) => {
            let side = s.sides().iter().find(|q| q.from == a && q.to == b);
            let start = (s.at(a) - centre).angle();
            let sweep = side.and_then(|q| q.arc).map_or_else(
                || {
                    let (u, w) = (s.at(a) - centre, s.at(b) - centre);
                    trig::atan2(u.cross(w), u.dot(w))
                },
                |a| a.1,
            );
            [0.5, 0.42, 0.58, 0.35, 0.65, 0.27, 0.73, 0.2, 0.8, 0.1, 0.9]
                .into_iter()
                .map(|t: f64| (start + sweep * t, (t - 0.5f64).abs() * 8.0))
                .collect()
        }
        None => (0..16)
            .map(|k| {
                // Up right first, then round both ways.
                let turn = ((k + 1) / 2) as f64 * if k % 2 == 0 { 1.0 } else { -1.0 };
                (trig::rad(45.0 + 22.5 * turn), turn.abs() * 0.6)
            })
            .collect(),
    };
    let mut tries = towards(&directions, centre, radius, view, &LENGTHS);
    if c.ends.is_none() && cheapest(&tries, words, style, ink).is_none_or(|b| b.0 >= ON_EDGE) {
        // Among many holes there may be a gap between the usual directions, or farther out.
        directions = (0..72).map(|k| (trig::rad(5.0 * f64::from(k) + 45.0), 6.0)).collect();
        tries.extend(towards(&directions, centre, radius, view, &[&LENGTHS[..], &FARTHER[..]].concat()));
    }
    best_of(&tries, words, style, ink)
}

/// Leaders that meet a circle squarely in some directions, outwards and inwards.
fn towards(directions: &[(f64, f64)], centre: Vec2, radius: f64, view: &View, lengths: &[f64]) -> Vec<Try> {
    let mut tries = Vec::new();
    for &(angle, far) in directions {
        let on = centre + Vec2::polar(radius, angle);
        let tip = view.place(on);
        for (outwards, dislike) in [(1.0, 0.0), (-1.0, 3.0)] {
            let ahead = view.place(on + Vec2::polar(outwards / view.scale, angle));
            let (ux, uy) = (ahead.x - tip.x, ahead.y - tip.y);
            for (k, length) in lengths.iter().copied().enumerate() {
                if outwards < 0.0 && length > radius * view.scale * 1.6 {
                    continue;
                }
                let elbow = pt(tip.x + ux * length, tip.y + uy * length);
                let ways: &[f64] = if ux > 0.2 {
                    &[1.0]
                } else if ux < -0.2 {
                    &[-1.0]
                } else {
                    &[1.0, -1.0]
                };
                for &way in ways {
                    tries.push(Try { tip, elbow, way, extra: far + dislike + k as f64 * 1.2 });
                }
            }
        }
    }
    tries
}

/// A leader from free space to the nearest of some features, for letters without room beside them.
pub fn leader_to(
    targets: &[(Vec2, f64)],
    words: &str,
    view: &View,
    style: &Style,
    ink: &mut Ink,
) -> (f64, Vec<Item>) {
    let mut tries = Vec::new();
    for (centre, radius) in targets {
        for k in 0..16 {
            let angle = trig::rad(22.5 * k as f64 + 45.0);
            let tip = view.place(*centre + Vec2::polar(*radius, angle));
            let ahead = view.place(*centre + Vec2::polar(*radius + 1.0 / view.scale, angle));
            let (ux, uy) = (ahead.x - tip.x, ahead.y - tip.y);
            for (j, length) in LENGTHS.into_iter().enumerate() {
                let elbow = pt(tip.x + ux * length, tip.y + uy * length);
                let way = if ux >= 0.0 { 1.0 } else { -1.0 };
                tries.push(Try { tip, elbow, way, extra: j as f64 * 1.2 + k as f64 * 0.05 });
            }
        }
    }
    best_of(&tries, words, style, ink)
}

/// Ends of the shelf and the middle of its text.
fn layout(t: &Try, width: f64, style: &Style) -> (Pt, Pt) {
    let shelf = width + 2.0;
    let end = pt(t.elbow.x + t.way * shelf, t.elbow.y);
    (end, pt(t.elbow.x + t.way * (shelf / 2.0 + 0.4), t.elbow.y - style.lift()))
}

fn cheapest<'t>(tries: &'t [Try], words: &str, style: &Style, ink: &Ink) -> Option<(f64, &'t Try)> {
    let width = style.width(words);
    let mut best: Option<(f64, &Try)> = None;
    for t in tries {
        let (end, text) = layout(t, width, style);
        let label = Label::level(text, width, style.cap);
        let cost =
            ink.text_cost(&label) + ink.line_cost(t.tip, t.elbow) + ink.line_cost(t.elbow, end) + t.extra;
        if best.is_none_or(|b| cost < b.0 - 1e-9) {
            best = Some((cost, t));
        }
    }
    best
}

fn best_of(tries: &[Try], words: &str, style: &Style, ink: &mut Ink) -> (f64, Vec<Item>) {
    let width = style.width(words);
    let Some((cost, t)) = cheapest(tries, words, style, ink) else { return (FORBIDDEN, Vec::new()) };
    let (end, text) = layout(t, width, style);
    ink.line(t.tip, t.elbow, Kind::Leader);
    ink.line(t.elbow, end, Kind::Leader);
    ink.text(&Label::level(text, width, style.cap));
    let items = vec![
        pen::line(t.tip, t.elbow, style.thin()),
        pen::line(t.elbow, end, style.thin()),
        pen::arrow(t.tip, t.tip.x - t.elbow.x, t.tip.y - t.elbow.y, style.arrow),
        pen::text(text, style, words, 0.0),
    ];
    (cost, items)
}
