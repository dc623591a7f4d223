//! Finds places for diameters and depths on the tiles.
//!
//! In: tiles with what is drawn on them, notes. Out: the notes' words and leaders, and those without a place.
//! Always true: words touch no line, no cross and no other words, and stay where no neighbour covers them.

use crate::arrange::{Grid, Tile};
use crate::drawn::Note;
use crate::ink::{Box2, Ink};
use crate::pen::{CAP, group, line, text, thin};
use turnleaf_geom::{Vec2, distance::point_in_ring, vec2::v};
use turnleaf_page::{Anchor, Face, Item, Pt, Role, pt};
use turnleaf_text::{size_for_cap_height, width};

/// Air round words, mm.
const AIR: f64 = 0.6;
/// Holes larger than this are named beside their centre mark, mm (radius on paper).
const LARGE: f64 = 25.0;
/// Distances from a hole at which its words are tried, mm.
const STEPS: [f64; 9] = [0.6, 3.0, 6.0, 9.0, 13.0, 18.0, 25.0, 34.0, 45.0];

/// A tile while its words are being placed.
pub struct Sheet {
    /// Which.
    pub tile: Tile,
    /// What is on it, paper mm, y down.
    pub ink: Ink,
    /// Where words may stand.
    pub room: Box2,
    /// Words and leaders placed.
    pub items: Vec<Item>,
}

/// Half the box of words.
fn half(words: &str) -> Vec2 {
    // Tails hang 0.41 of the capitals below the line (Open Sans); the box is the same above, so that it can
    // be turned about its middle.
    v(width(words, size_for_cap_height(CAP), Face::Regular) / 2.0 + AIR, CAP * 0.91 + 0.2)
}

fn vec(p: Pt) -> Vec2 {
    v(p.x, p.y)
}
fn to_pt(p: Vec2) -> Pt {
    pt(p.x, p.y)
}

/// A place for words beside a circle: how bad it is, the middle of the words, the leader's ends.
type Beside = (f64, Vec2, Option<(Vec2, Vec2)>);

impl Sheet {
    fn set(&mut self, id: &str, at: Vec2, words: &str, leader: Option<(Vec2, Vec2)>) {
        let h = half(words);
        self.ink.text(Box2::about(at, h.x, h.y));
        let mut items = Vec::new();
        if let Some((a, b)) = leader {
            self.ink.line(a, b);
            items.push(line(to_pt(a), to_pt(b), thin()));
        }
        let baseline = pt(at.x, at.y + CAP / 2.0);
        items.push(Item::Text(text(baseline, CAP, words, Face::Regular, Anchor::Middle)));
        self.items.push(group(Role::Plain, format!("note/{id}"), items));
    }

    /// Words beside a circle, with a leader when they stand farther off.
    fn beside(&mut self, id: &str, c: Vec2, r: f64, words: &str) -> bool {
        let h = half(words);
        let mut best: Option<Beside> = None;
        for (i, d) in STEPS.iter().enumerate() {
            for k in 0..24 {
                // Right and left first, then above and below.
                let u = Vec2::polar(1.0, core::f64::consts::PI * f64::from(k) / 12.0);
                // Far enough that the box clears the circle in this direction.
                let reach = r + d + (h.x * u.x.abs()).min(h.x).max(h.y * u.y.abs());
                let at = c + u * reach;
                let b = Box2::about(at, h.x, h.y);
                if !self.room.holds(&b) || !self.ink.free(&b) {
                    continue;
                }
                let mut worth = d + 1.5 * u.y.abs();
                let mut leader = None;
                if i > 0 {
                    let from = c + u * r;
                    // To the nearest point of the box.
                    let to = v(from.x.clamp(b.lo.x, b.hi.x), from.y.clamp(b.lo.y, b.hi.y));
                    let Some(crossed) = self.ink.crossed(from + u * 0.05, to) else { continue };
                    worth += 6.0 * crossed as f64 + 2.0;
                    leader = Some((from, to));
                }
                if best.as_ref().is_none_or(|b| worth < b.0) {
                    best = Some((worth, at, leader));
                }
            }
            // What stands farther off cannot be worth more than this.
            if best.as_ref().is_some_and(|b| b.0 < STEPS.get(i + 1).copied().unwrap_or(f64::INFINITY)) {
                break;
            }
        }
        let Some((_, at, leader)) = best else { return false };
        self.set(id, at, words, leader);
        true
    }

    /// Words inside an outline, as near the middle of what this tile shows of it as possible.
    fn inside(&mut self, id: &str, grid: &Grid, note: &Note) -> bool {
        let h = half(&note.text);
        let (lo, hi) = note.ring.bounds();
        let (a, b) = (vec(grid.place(self.tile, lo)), vec(grid.place(self.tile, hi)));
        let lo = v(a.x.max(self.room.lo.x), b.y.max(self.room.lo.y)) + h;
        let hi = v(b.x.min(self.room.hi.x), a.y.min(self.room.hi.y)) - h;
        if lo.x > hi.x || lo.y > hi.y {
            return false;
        }
        let frame = grid.field_of(self.tile);
        let back = |p: Vec2| {
            v(frame.lo.x + (p.x - grid.field.x) / grid.k.x, frame.hi.y - (p.y - grid.field.y) / grid.k.y)
        };
        let middle = (lo + hi) * 0.5;
        let steps = |size: f64| ((size / 2.0).ceil() as usize).clamp(1, 60);
        let (nx, ny) = (steps(hi.x - lo.x), steps(hi.y - lo.y));
        let mut best: Option<(f64, Vec2)> = None;
        for i in 0..=nx {
            for j in 0..=ny {
                let at = v(
                    lo.x + (hi.x - lo.x) * i as f64 / nx as f64,
                    lo.y + (hi.y - lo.y) * j as f64 / ny as f64,
                );
                let far = at.dist(middle);
                if best.is_some_and(|b| b.0 <= far) {
                    continue;
                }
                let corners = [v(-h.x, -h.y), v(h.x, -h.y), v(h.x, h.y), v(-h.x, h.y)];
                if corners.iter().all(|d| point_in_ring(back(at + *d), &note.ring))
                    && self.ink.free(&Box2::about(at, h.x, h.y))
                {
                    best = Some((far, at));
                }
            }
        }
        let Some((_, at)) = best else { return false };
        let words = note.text.clone();
        self.set(id, at, &words, None);
        true
    }
}

/// Places all notes; returns those that found no place.
pub fn place(sheets: &mut [Sheet], grid: &Grid, notes: &[Note]) -> Vec<String> {
    let mut left_over = Vec::new();
    // Holes first: their words must stand close by; those in recesses have more room to choose from.
    let order = notes.iter().filter(|n| n.hole.is_some()).chain(notes.iter().filter(|n| n.hole.is_none()));
    for (i, note) in order.enumerate() {
        let id = i.to_string();
        let done = match note.hole {
            Some((c, r)) => hole(sheets, grid, &id, note, c, r),
            None => {
                let mut any = false;
                for s in sheets.iter_mut() {
                    any |= s.inside(&id, grid, note);
                }
                any || at_corners(sheets, grid, &id, note)
            }
        };
        if !done {
            left_over.push(note.text.clone());
        }
    }
    left_over
}

fn hole(sheets: &mut [Sheet], grid: &Grid, id: &str, note: &Note, c: Vec2, r: f64) -> bool {
    let on_paper = r * grid.k.x.max(grid.k.y);
    for s in sheets.iter_mut().filter(|s| grid.own_of(s.tile).holds(c)) {
        let at = vec(grid.place(s.tile, c));
        let near = if on_paper > LARGE { 1.0 } else { on_paper };
        if s.beside(id, at, near, &note.text) {
            return true;
        }
    }
    at_corners(sheets, grid, id, note)
}

/// Words beside any corner of the ring.
fn at_corners(sheets: &mut [Sheet], grid: &Grid, id: &str, note: &Note) -> bool {
    for q in &note.ring.vertices {
        for s in sheets.iter_mut().filter(|s| grid.own_of(s.tile).holds(q.p)) {
            let at = vec(grid.place(s.tile, q.p));
            if s.beside(id, at, 0.0, &note.text) {
                return true;
            }
        }
    }
    false
}
