//! A layout as a drawing on a page.
//!
//! In: a request and one of its layouts, with the words to print. Out: a [`Page`] just large enough for it.
//! Always true: the sheet is drawn to the scale given, x along its length to the right, y up; each part carries the
//! number of its line in the list below the sheet when there is room for it.

use crate::request::{Layout, Request};
use turnleaf_geom::{Region, Ring, Vec2, measure::Moments};
use turnleaf_page::{Anchor, Colour, Face, Item, Page, Pt, Role, Step, Stroke, Text, pt};

/// White edge round the drawing, mm on paper.
const EDGE: f64 = 10.0;
/// Size of letters, mm on paper.
const LETTERS: f64 = 3.0;
/// Letters in a part are no smaller, mm on paper.
const LEAST: f64 = 1.0;
/// Height of a line of text, mm on paper.
const LINE: f64 = 4.6;
/// What is not used.
const WASTE: Colour = Colour(0xf1, 0xee, 0xe8);

/// Words to print.
#[derive(Clone, Debug, PartialEq)]
pub struct Words {
    /// Above the sheet.
    pub title: String,
    /// Beside the arrow along the grain.
    pub grain: String,
    /// Below the sheet; part lines carry the number of the part before them.
    pub lines: Vec<String>,
    /// Number printed in the parts of each index of the request.
    pub number: Vec<usize>,
}

/// Draws a layout at 1 : `one_to`.
pub fn page(request: &Request, layout: &Layout, words: &Words, one_to: f64, id: &str) -> Page {
    let sheet = &request.sheets[layout.sheet];
    let (w, h) = (sheet.length / one_to, sheet.width / one_to);
    let top = EDGE + 2.4 * LINE;
    let place = |p: Vec2| pt(EDGE + p.x / one_to, top + h - p.y / one_to);
    let path = |ring: &Ring| {
        let mut steps: Vec<Step> = Vec::new();
        for p in ring.flatten(0.02 * one_to) {
            steps.push(if steps.is_empty() { Step::Move(place(p)) } else { Step::Line(place(p)) });
        }
        steps.push(Step::Close);
        steps
    };
    let rect = |a: Vec2, b: Vec2| path(&Ring::rect(a, b));
    let mut items = Vec::new();
    let text = |at: Pt, size: f64, text: &str| Text::new(at, size, text);
    items.push(Item::Text(text(pt(EDGE, EDGE + LETTERS), 3.6, &words.title).face(Face::Bold)));
    arrow(&mut items, pt(EDGE, EDGE + 1.8 * LINE), 24.0);
    items.push(Item::Text(text(pt(EDGE + 27.0, EDGE + 1.8 * LINE + 1.0), LETTERS, &words.grain)));
    let (zero, full) = (Vec2::ZERO, turnleaf_geom::vec2::v(sheet.length, sheet.width));
    items.push(Item::Path { steps: rect(zero, full), stroke: Some(Stroke::solid(0.5)), fill: Some(WASTE) });
    for one in &layout.placements {
        let ring = request.parts[one.part].outline.moved(&one.pose());
        items.push(Item::Path {
            steps: path(&ring),
            stroke: Some(Stroke::solid(0.25)),
            fill: Some(Colour::WHITE),
        });
        let label = words.number.get(one.part).map_or_else(String::new, ToString::to_string);
        let (lo, hi) = ring.bounds();
        // A figure is about six tenths of its size wide.
        let tall = (hi.y - lo.y).min((hi.x - lo.x) / (0.7 * label.len() as f64)) / one_to;
        let size = LETTERS.min(0.8 * tall);
        if size < LEAST {
            continue;
        }
        let at = spot(&ring, size * one_to);
        let p = place(at);
        items.push(Item::Text(text(pt(p.x, p.y + 0.36 * size), size, &label).anchor(Anchor::Middle)));
    }
    for band in &layout.bands {
        for y in [band.from, band.to] {
            let a = turnleaf_geom::vec2::v(0.0, y);
            let b = turnleaf_geom::vec2::v(sheet.length, y);
            let dash = Stroke { dash: vec![2.0, 1.0], ..Stroke::solid(0.13) };
            let steps = vec![Step::Move(place(a)), Step::Line(place(b))];
            items.push(Item::Path { steps, stroke: Some(dash), fill: None });
        }
    }
    let mut y = top + h + 0.6 * LINE;
    for line in &words.lines {
        y += LINE;
        items.push(Item::Text(text(pt(EDGE, y), LETTERS, line)));
    }
    let figure = Item::Group {
        role: Role::Figure { alt: format!("{} {}", words.title, words.lines.join("; ")) },
        origin: None,
        id: Some(id.into()),
        items,
    };
    // Lines of text may be longer than a small sheet; a letter is about half its size wide.
    let longest = words.lines.iter().chain([&words.title]).map(|l| l.chars().count()).max().unwrap_or(0);
    Page {
        width: 2.0 * EDGE + w.max(0.58 * LETTERS * longest as f64),
        height: y + LINE + EDGE - LETTERS,
        label: String::new(),
        id: id.into(),
        title: words.title.clone(),
        items: vec![figure],
    }
}

/// Where a number stands inside an outline: at the centroid, or, in a bent part, at the nearest place that has
/// more room.
fn spot(ring: &Ring, size: f64) -> Vec2 {
    let region = Region::from(ring.clone());
    let body = turnleaf_geom::Prepared::new(&region);
    let centre = Moments::of(&region).centroid;
    let room = |p: Vec2| {
        if body.contains(p) { body.nearest(p).map_or(0.0, |(n, _)| n.d2.sqrt()) } else { 0.0 }
    };
    if room(centre) >= 0.5 * size {
        return centre;
    }
    let (lo, hi) = ring.bounds();
    let mut best = (room(centre), centre);
    for i in 0..=24 {
        for j in 0..=24 {
            let p = turnleaf_geom::vec2::v(
                lo.x + (hi.x - lo.x) * f64::from(i) / 24.0,
                lo.y + (hi.y - lo.y) * f64::from(j) / 24.0,
            );
            let r = room(p);
            if r > best.0 {
                best = (r, p);
            }
        }
    }
    best.1
}

/// A double arrow to the right.
fn arrow(items: &mut Vec<Item>, from: Pt, length: f64) {
    let to = pt(from.x + length, from.y);
    let line = |a: Pt, b: Pt| Item::Path {
        steps: vec![Step::Move(a), Step::Line(b)],
        stroke: Some(Stroke::solid(0.35)),
        fill: None,
    };
    items.push(line(from, to));
    for (p, way) in [(from, 1.0), (to, -1.0)] {
        items.push(line(p, pt(p.x + way * 2.4, p.y - 0.8)));
        items.push(line(p, pt(p.x + way * 2.4, p.y + 0.8)));
    }
}
