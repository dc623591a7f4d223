//! What changed on a page since the last issued revision, and the marks that say so.
//!
//! In: finished pages, fingerprints of what the last issued book printed. Out: on drawings a cloud round changed
//! figures with a triangle that carries the revision's mark (among a sheet's notes, where lines stand too close for a
//! cloud, a bar before the line instead), on text pages a bar beside changed paragraphs and rows.
//! Always true: the marks are stamps, they do not make a page another page; a page that did not change keeps the
//! marks of the revision in which it last did. (Triangle, cloud and change bar: common drawing-office practice, as in
//! ASME Y14.35 for the triangle; from memory.)

use crate::draw::line;
use crate::stamps::{Marks, stamp, unit_of};
use std::collections::BTreeSet;
use turnleaf_dimension::place::ink::{Quad, line_meets, quads_meet};
use turnleaf_page::{Anchor, Document, Face, Item, Page, Pt, Role, Step, Stroke, Text, pt};
use turnleaf_planfile::{FrozenPage, Plan};
use turnleaf_revise::print::{self, SHORT};

/// Side of the triangle, mm.
const SIDE: f64 = 5.2;
/// The same beside rows so near each other that usual ones would touch, mm.
const SMALL_SIDE: f64 = 3.9;
/// Air between a cloud and what it surrounds, mm: less where it would touch something else.
const AIR: [f64; 3] = [1.1, 0.7, 0.4];
/// Length of one scallop, mm.
const SCALLOP: f64 = 3.2;
/// How far a scallop stands out, as a part of its length, and at most, mm.
const SWELL: f64 = 0.315;
const BULGE: f64 = SWELL * SCALLOP;
/// What a triangle on a text costs: more than any number of crossed lines.
const COVERED: f64 = 1000.0;
/// Where the bar stands, mm left of the text.
const BAR: f64 = 4.5;
/// Pages whose words change with every edition and say nothing about the table.
const UNMARKED: [&str; 4] = ["cover", "contents", "index", "revisions"];

/// Corners of a box.
type Bounds = (Pt, Pt);

/// Something on a page that can change: a printed figure, a paragraph, a row.
struct Spot {
    print: String,
    at: Bounds,
    /// What it stands in, on a sheet.
    within: Within,
}

/// Where on a sheet a figure stands.
#[derive(Clone, Copy, PartialEq)]
enum Within {
    View,
    Table(Bounds),
    /// A row of a table, and where its middle is.
    Row(Bounds, f64),
    Notes(Bounds),
}

/// All spots of a page, in reading order.
fn spots(page: &Page) -> Vec<Spot> {
    let mut out = Vec::new();
    if !UNMARKED.iter().any(|id| page.id == *id || page.id.starts_with(&format!("{id}/"))) {
        walk(&page.items, page.id.starts_with("sheet/"), Within::View, &mut out);
    }
    out
}

fn walk(items: &[Item], sheet: bool, within: Within, out: &mut Vec<Spot>) {
    for item in items {
        let Item::Group { role, id, items, .. } = item else { continue };
        if id.as_deref().is_some_and(|id| id.starts_with(print::STAMP)) {
            continue;
        }
        let counts = match role {
            Role::Dimension => sheet,
            Role::Paragraph | Role::Row | Role::ListItem => !sheet,
            _ => false,
        };
        if counts {
            let mut texts = Vec::new();
            words(items, &mut texts);
            if let Some(at) = turnleaf_text::bounds(&texts) {
                let key: Vec<&str> = texts
                    .iter()
                    .filter_map(|t| if let Item::Text(t) = t { Some(t.text.as_str()) } else { None })
                    .collect();
                let name = if sheet { id.as_deref().unwrap_or_default() } else { "" };
                out.push(Spot { print: print::short(&format!("{name}={}", key.join(" "))), at, within });
            }
            continue;
        }
        let bounds = || turnleaf_text::bounds(items);
        let within = match (role, within) {
            (Role::Table, _) => bounds().map(Within::Table),
            (Role::Row, Within::Table(table)) => bounds().map(|(a, b)| Within::Row(table, (a.y + b.y) / 2.0)),
            _ if sheet && id.as_deref().is_some_and(|id| id.ends_with("/notes")) => {
                bounds().map(Within::Notes)
            }
            _ => None,
        }
        .unwrap_or(within);
        walk(items, sheet, within, out);
    }
}

/// Every line of text among items.
fn words(items: &[Item], out: &mut Vec<Item>) {
    for item in items {
        match item {
            Item::Text(_) => out.push(item.clone()),
            Item::Group { items, .. } => words(items, out),
            _ => {}
        }
    }
}

/// Fingerprints of everything a book prints that can change, sorted, end to end.
pub fn figures(document: &Document) -> String {
    let all: BTreeSet<String> = document.pages.iter().flat_map(spots).map(|s| s.print).collect();
    all.into_iter().collect()
}

/// A run of fingerprints as a set.
fn set(run: &str) -> BTreeSet<&str> {
    run.as_bytes().chunks(SHORT).filter_map(|c| core::str::from_utf8(c).ok()).collect()
}

/// What is new on a page against the figures of the last issued book; nothing when there are none.
fn new_on(page: &Page, last: &str) -> String {
    if last.is_empty() {
        return String::new();
    }
    let known = set(last);
    let new: BTreeSet<String> =
        spots(page).into_iter().map(|s| s.print).filter(|p| !known.contains(p.as_str())).collect();
    new.into_iter().collect()
}

/// The flags of a page: kept while it prints the same, worked out anew when it does not.
fn flags(page: &Page, marks: &Marks, plan: &Plan) -> String {
    match marks.issued(&page.id) {
        Some(issued) if issued.print == print::of_page(page) => issued.flags.clone(),
        Some(_) => new_on(page, plan.revisions().last().map_or("", |r| r.figures())),
        // A further sheet of a part that had fewer.
        None if !marks.before(unit_of(&page.id)).is_empty() => {
            new_on(page, plan.revisions().last().map_or("", |r| r.figures()))
        }
        None => String::new(),
    }
}

/// The pages of a finished book as an issued plan keeps them.
pub fn frozen_pages(document: &Document, plan: &Plan) -> Vec<FrozenPage> {
    let marks = Marks::of(plan);
    let frozen = |p: &Page| FrozenPage {
        id: p.id.clone(),
        print: print::of_page(p),
        flags: flags(p, &marks, plan),
        marks: marks_of(p, &document.pages, &marks),
    };
    document.pages.iter().map(frozen).collect()
}

/// Marks of a page, which go with those of its unit.
fn marks_of(page: &Page, all: &[Page], marks: &Marks) -> Vec<String> {
    let unit = unit_of(&page.id);
    let pages: Vec<&Page> = all.iter().filter(|p| unit_of(&p.id) == unit).collect();
    marks.now(unit, &pages)
}

/// Stamps the marks of changes on finished pages.
pub fn mark(pages: &mut [Page], plan: &Plan) {
    let marks = Marks::of(plan);
    for i in 0..pages.len() {
        let flags = flags(&pages[i], &marks, plan);
        if flags.is_empty() {
            continue;
        }
        let mark = marks_of(&pages[i], pages, &marks).pop().unwrap_or_default();
        let flags = set(&flags);
        let found: Vec<Spot> =
            spots(&pages[i]).into_iter().filter(|s| flags.contains(s.print.as_str())).collect();
        let items =
            if pages[i].id.starts_with("sheet/") { on_sheet(&pages[i], &found, &mark) } else { bars(&found) };
        if !items.is_empty() {
            pages[i].items.push(stamp("changes", items));
        }
    }
}

/// Bars beside changed paragraphs and rows.
fn bars(found: &[Spot]) -> Vec<Item> {
    let mut runs: Vec<Bounds> = Vec::new();
    let left = found.iter().map(|s| s.at.0.x).fold(f64::INFINITY, f64::min) - BAR;
    for s in found {
        match runs.last_mut() {
            Some(run) if s.at.0.y - run.1.y < 3.0 && s.at.0.y >= run.0.y => run.1.y = run.1.y.max(s.at.1.y),
            _ => runs.push(s.at),
        }
    }
    runs.iter()
        .map(|(a, b)| line(pt(left, a.y), pt(left, b.y), Stroke { round: false, ..Stroke::solid(0.7) }))
        .collect()
}

fn grown((a, b): Bounds, by: f64) -> Bounds {
    (pt(a.x - by, a.y - by), pt(b.x + by, b.y + by))
}

fn joined(a: Bounds, b: Bounds) -> Bounds {
    (pt(a.0.x.min(b.0.x), a.0.y.min(b.0.y)), pt(a.1.x.max(b.1.x), a.1.y.max(b.1.y)))
}

fn meet(a: &Bounds, b: &Bounds) -> bool {
    a.0.x < b.1.x && b.0.x < a.1.x && a.0.y < b.1.y && b.0.y < a.1.y
}

/// Clouds with triangles on a drawing, triangles beside the rows of its tables, bars and triangles at lines of notes.
fn on_sheet(page: &Page, found: &[Spot], mark: &str) -> Vec<Item> {
    let mut ink = Ink::of(&page.items);
    let mut clouds: Vec<Bounds> = Vec::new();
    for s in found.iter().filter(|s| s.within == Within::View) {
        // Texts that the figure itself does not meet are others'.
        let other = |q: &&Quad| !quads_meet(q, &quad(&s.at));
        let free = |air: &f64| {
            let all = quad(&grown(s.at, air + BULGE));
            !ink.texts.iter().filter(other).any(|q| quads_meet(q, &all))
        };
        let mut box_ = grown(s.at, AIR.into_iter().find(free).unwrap_or(AIR[AIR.len() - 1]));
        // Clouds whose scallops would meet become one, which may then meet others.
        while let Some(i) = clouds.iter().position(|c| meet(&grown(*c, BULGE), &grown(box_, BULGE))) {
            box_ = joined(clouds.remove(i), box_);
        }
        clouds.push(box_);
    }
    let mut out = Vec::new();
    for c in &clouds {
        out.push(cloud(c));
        ink.texts.push(quad(&grown(*c, BULGE)));
    }
    for c in &clouds {
        let at = ink.place(&around(c), SIDE);
        ink.texts.push(quad(&triangle_box(at, SIDE)));
        out.extend(triangle(at, mark, SIDE));
    }
    let mut rows: Vec<(Bounds, f64)> = Vec::new();
    for s in found {
        let Within::Row(table, y) = s.within else { continue };
        if !rows.contains(&(table, y)) {
            rows.push((table, y));
        }
    }
    for (table, y) in &rows {
        let (table, y) = (*table, *y);
        let near = |other: &&(Bounds, f64)| other.0 == table && (other.1 - y).abs() < SIDE + 0.4;
        let side = if rows.iter().filter(near).count() > 1 { SMALL_SIDE } else { SIDE };
        let beside: Vec<(Pt, f64)> = (0..4)
            .flat_map(|k| {
                // Past the table's frame, which stands a little outside its words.
                let out = 5.0 + 2.0 * f64::from(k);
                [(pt(table.0.x - out, y), out), (pt(table.1.x + out, y), out)]
            })
            .collect();
        let (mut at, mut side) = (ink.place(&beside, side), side);
        if ink.cost(at, side) >= COVERED {
            // Nothing is free beside the table: within the row, behind the shortest of its words.
            let steps = ((table.1.x - table.0.x) / 1.5) as u16;
            let inside: Vec<(Pt, f64)> =
                (2..=steps).map(|k| (pt(table.0.x + 1.5 * f64::from(k), y), 0.1 * f64::from(k))).collect();
            let other = ink.place(&inside, SMALL_SIDE);
            if ink.cost(other, SMALL_SIDE) < COVERED {
                (at, side) = (other, SMALL_SIDE);
            }
        }
        ink.texts.push(quad(&triangle_box(at, side)));
        out.extend(triangle(at, mark, side));
    }
    for s in found {
        let Within::Notes(notes) = s.within else { continue };
        let bar = notes.0.x + 1.0;
        let thick = Stroke { round: false, ..Stroke::solid(0.7) };
        // Between the lines of text above and below, whose descenders and capitals reach into the same space.
        let (top, foot) = (s.at.0.y, s.at.1.y - 0.6);
        out.push(line(pt(bar, top), pt(bar, foot), thick));
        let y = (top + foot) / 2.0 - 0.5;
        let beside = [0.0, 2.0, 4.0, 8.0].map(|more| (pt(s.at.1.x + 3.2 + more, y), more));
        let at = ink.place(&beside, SMALL_SIDE);
        ink.texts.push(quad(&triangle_box(at, SMALL_SIDE)));
        out.extend(triangle(at, mark, SMALL_SIDE));
    }
    out
}

/// Places for a triangle round a box, the nearest first, with what each costs by itself.
fn around((a, b): &Bounds) -> Vec<(Pt, f64)> {
    let (mx, my) = ((a.x + b.x) / 2.0, (a.y + b.y) / 2.0);
    (0..6)
        .flat_map(|k| {
            // Past the cloud's scallops.
            let d = SIDE * 0.5 + 1.7 + 1.8 * f64::from(k);
            let cost = f64::from(k);
            [
                (pt(b.x + d, my), cost),
                (pt(a.x - d, my), cost + 0.1),
                (pt(mx, a.y - d), cost + 0.2),
                (pt(mx, b.y + d), cost + 0.3),
                (pt(b.x + d, a.y - d), cost + 0.4),
                (pt(a.x - d, a.y - d), cost + 0.5),
                (pt(b.x + d, b.y + d), cost + 0.6),
                (pt(a.x - d, b.y + d), cost + 0.7),
            ]
        })
        .collect()
}

fn triangle_box(at: Pt, side: f64) -> Bounds {
    let h = side / 2.0 + 0.2;
    (pt(at.x - h, at.y - h), pt(at.x + h, at.y + h))
}

/// A triangle with a revision's mark, centred in its box.
fn triangle(at: Pt, mark: &str, side: f64) -> Vec<Item> {
    let (half, tall) = (side / 2.0, side * 0.866);
    let foot = at.y + tall / 2.0;
    let steps = vec![
        Step::Move(pt(at.x - half, foot)),
        Step::Line(pt(at.x + half, foot)),
        Step::Line(pt(at.x, foot - tall)),
        Step::Close,
    ];
    let cap = if mark.chars().count() > 1 || side < SIDE { 1.4 } else { 1.9 };
    let size = turnleaf_text::size_for_cap_height(cap);
    let text = Text::new(pt(at.x, foot - 0.6), size, mark).anchor(Anchor::Middle).face(Face::Bold);
    vec![Item::Path { steps, stroke: Some(Stroke::solid(0.25)), fill: None }, Item::Text(text)]
}

/// A cloud along a box: scallops that bulge outward.
fn cloud((a, b): &Bounds) -> Item {
    let corners = [*a, pt(b.x, a.y), *b, pt(a.x, b.y)];
    let mut steps = vec![Step::Move(*a)];
    for i in 0..4 {
        let (p, q) = (corners[i], corners[(i + 1) % 4]);
        let length = |x: f64, y: f64| (x * x + y * y).sqrt();
        let long = length(q.x - p.x, q.y - p.y);
        let count = (long / SCALLOP).round().max(1.0);
        let (dx, dy) = ((q.x - p.x) / count, (q.y - p.y) / count);
        // Left of the way round is outward, with y down.
        let (nx, ny) = (dy / length(dx, dy), -dx / length(dx, dy));
        // The handles of a curve stand a third farther out than the curve itself.
        let bulge = SWELL / 0.75 * length(dx, dy);
        for k in 0..count as usize {
            let s = pt(p.x + dx * k as f64, p.y + dy * k as f64);
            let e = pt(s.x + dx, s.y + dy);
            let out = |p: Pt| pt(p.x + nx * bulge, p.y + ny * bulge);
            steps.push(Step::Cubic(out(s), out(e), e));
        }
    }
    steps.push(Step::Close);
    Item::Path { steps, stroke: Some(Stroke::solid(0.25)), fill: None }
}

fn quad((a, b): &Bounds) -> Quad {
    [*a, pt(b.x, a.y), *b, pt(a.x, b.y)]
}

/// What is on a sheet already.
#[derive(Default)]
struct Ink {
    texts: Vec<Quad>,
    lines: Vec<(Pt, Pt)>,
    frame: Option<Bounds>,
}

impl Ink {
    fn of(items: &[Item]) -> Ink {
        let mut ink = Ink::default();
        ink.add(items);
        // Inside the frame: its lines are the outermost on the sheet.
        let all = ink.lines.iter().flat_map(|l| [l.0, l.1]);
        ink.frame = all.map(|p| (p, p)).reduce(joined).map(|b| grown(b, -8.0));
        ink
    }
    fn add(&mut self, items: &[Item]) {
        for item in items {
            match item {
                Item::Text(_) => {
                    self.texts.extend(
                        turnleaf_text::bounds(std::slice::from_ref(item)).map(|b| quad(&grown(b, 0.3))),
                    );
                }
                Item::Path { steps, .. } => {
                    let (mut first, mut last) = (pt(0.0, 0.0), pt(0.0, 0.0));
                    for step in steps {
                        let next = match step {
                            Step::Move(p) => {
                                (first, last) = (*p, *p);
                                continue;
                            }
                            Step::Line(p) => *p,
                            Step::Cubic(a, b, p) => {
                                // The middle of the curve is near enough for what keeps clear of it.
                                let m = |u: f64, v: f64, w: f64, x: f64| (u + 3.0 * v + 3.0 * w + x) / 8.0;
                                let middle = pt(m(last.x, a.x, b.x, p.x), m(last.y, a.y, b.y, p.y));
                                self.lines.push((last, middle));
                                last = middle;
                                *p
                            }
                            Step::Close => first,
                        };
                        self.lines.push((last, next));
                        last = next;
                    }
                }
                Item::Picture { min, max, .. } => self.texts.push(quad(&(*min, *max))),
                Item::Group { items, .. } => self.add(items),
                Item::Link { .. } | Item::Mark { .. } => {}
            }
        }
    }
    /// What a triangle costs at a place: much on a text, more outside the frame, a little on a line.
    fn cost(&self, at: Pt, side: f64) -> f64 {
        let b = triangle_box(at, side);
        let q = quad(&b);
        let covered = self.texts.iter().filter(|t| quads_meet(t, &q)).count() as f64 * COVERED;
        let crossed = self.lines.iter().filter(|l| line_meets(l.0, l.1, &q)).count() as f64 * 2.0;
        let out =
            self.frame.is_some_and(|(lo, hi)| b.0.x < lo.x || b.0.y < lo.y || b.1.x > hi.x || b.1.y > hi.y);
        covered + crossed + if out { 5.0 * COVERED } else { 0.0 }
    }
    /// The best of some places for a triangle: on no text, across as few lines as can be.
    fn place(&self, places: &[(Pt, f64)], side: f64) -> Pt {
        let cost = |at: Pt| self.cost(at, side);
        let best = places.iter().min_by(|p, q| (cost(p.0) + p.1).total_cmp(&(cost(q.0) + q.1)));
        best.map_or(pt(0.0, 0.0), |p| p.0)
    }
}
