//! The map of a part's tiles.
//!
//! In: a part's lines, its grid, its crosses. Out: one page.
//! Always true: every printed tile is there under its name, in its place; names touch no line.

use crate::arrange::{Grid, name};
use crate::drawn::Drawn;
use crate::ink::{Box2, Ink};
use crate::joints::{Cross, farthest};
use crate::options::TemplateOptions;
use crate::pen::{CAP, Kind, NARROW, WIDE, fitted, group, path, pen, rect, thin, words};
use crate::words::Words;
use turnleaf_geom::{Vec2, vec2::v};
use turnleaf_page::{Anchor, Face, Item, Page, Role, Stroke, pt};
use turnleaf_parts::Part;
use turnleaf_text::{Setting, Span, paragraph, size_for_cap_height, width};
use turnleaf_units::PrintUnits;

/// The map page.
pub fn page(
    part: &Part,
    drawn: &Drawn,
    grid: &Grid,
    crosses: &[Cross],
    options: &TemplateOptions,
    say: &Words,
) -> Page {
    let title = options.name_of(part);
    let m = options.margin + 6.0;
    let room = grid.width - 2.0 * m;
    let mut items = vec![Item::Mark { at: pt(m, m), name: format!("template/{}", part.id) }];
    let heading = fitted(pt(m, m + 6.0), 4.0, &say.map_title(&title), Face::Bold, room);
    items.push(group(Role::Heading(1), format!("template/{}/map/title", part.id), vec![heading]));
    let mut lines =
        vec![say.material(part, options), say.map_line(grid.tiles().count(), &grid.last_name(), options)];
    if let Some((a, b)) = farthest(crosses) {
        let length = options.figure(a.at.dist(b.at));
        let unit = if matches!(options.units, PrintUnits::Mm(_)) { " mm" } else { "" };
        let called = |x: &Cross| say.between(&x.letter, &name(x.first), &name(x.second));
        lines.push(say.distance(&called(a), &called(b), &format!("{length}{unit}")));
    }
    let mut y = m + 10.0;
    for (i, text) in lines.iter().enumerate() {
        let set = paragraph(&[Span::new(text.clone())], room, Setting::new(3.5));
        items.push(set.group(m, y, Some(format!("template/{}/map/{i}", part.id))));
        y += set.height() + 1.0;
    }
    let foot = grid.height - m;
    let line = format!("{} · {}", options.plan, say.revision(&options.revision));
    items.push(group(
        Role::Paragraph,
        format!("template/{}/map/foot", part.id),
        vec![fitted(pt(m, foot), 1.8, &line, Face::Regular, room)],
    ));
    let picture = picture(part, drawn, grid, (pt(m, y + 4.0), pt(grid.width - m, foot - 7.0)));
    let alt = say.map_alt(&title);
    items.push(group(Role::Figure { alt }, format!("template/{}/map/picture", part.id), picture));
    Page {
        width: grid.width,
        height: grid.height,
        label: String::new(),
        id: format!("template/{}", part.id),
        title: say.map_title(&title),
        items,
    }
}

/// The part under the grid, as large as fits.
fn picture(
    part: &Part,
    drawn: &Drawn,
    grid: &Grid,
    (min, max): (turnleaf_page::Pt, turnleaf_page::Pt),
) -> Vec<Item> {
    let (mut lo, mut hi) = (drawn.lo, drawn.hi);
    for t in grid.tiles() {
        let own = grid.own_of(t);
        lo = v(lo.x.min(own.lo.x), lo.y.min(own.lo.y));
        hi = v(hi.x.max(own.hi.x), hi.y.max(own.hi.y));
    }
    let size = hi - lo;
    // Never larger than life: a small part on two tiles keeps its size.
    let scale = ((max.x - min.x) / size.x).min((max.y - min.y) / size.y).min(1.0);
    let left = (min.x + max.x - size.x * scale) / 2.0;
    let place = move |p: Vec2| pt(left + (p.x - lo.x) * scale, min.y + (hi.y - p.y) * scale);
    let flat = |p: Vec2| {
        let q = place(p);
        v(q.x, q.y)
    };
    let (mut items, mut ink) = (Vec::new(), Ink::default());
    for l in drawn.lines.iter().filter(|l| l.kind != Kind::Centre) {
        l.segs.iter().for_each(|s| ink.seg(s, &flat));
        let stroke = if l.kind == Kind::Cut {
            Stroke { width: WIDE, ..pen(Kind::Cut) }
        } else {
            Stroke { width: NARROW, ..pen(l.kind) }
        };
        if let Some(item) = path(&l.segs, &place, stroke) {
            let role = if l.kind == Kind::Cut { Role::Outline } else { Role::Plain };
            items.push(group(role, format!("{}/map/{}", part.id, l.id), vec![item]));
        }
    }
    for t in grid.tiles() {
        let cell = grid.own_of(t);
        let (a, b) = (place(v(cell.lo.x, cell.hi.y)), place(v(cell.hi.x, cell.lo.y)));
        items.push(group(Role::Plain, format!("map/{}", name(t)), vec![rect(a, b, thin())]));
        if let Some(item) = named(&name(t), v(a.x, a.y), v(b.x, b.y), &ink) {
            items.push(item);
        }
    }
    items
}

/// A tile's name as near the middle of its cell as the part's lines allow; smaller where it is crowded.
fn named(name: &str, a: Vec2, b: Vec2, ink: &Ink) -> Option<Item> {
    let middle = (a + b) * 0.5;
    let mut last = None;
    for cap in [4.0, 3.0, CAP, 1.8] {
        let size = size_for_cap_height(cap);
        let h = v(width(name, size, Face::Bold) / 2.0 + 0.6, cap / 2.0 + 0.6);
        let mut best: Option<(usize, f64, Vec2)> = None;
        let n = 12;
        for i in 0..=n {
            for j in 0..=n {
                let t = v(f64::from(i) / f64::from(n), f64::from(j) / f64::from(n));
                let (lo, hi) = (a + h, b - h);
                if lo.x > hi.x || lo.y > hi.y {
                    continue;
                }
                let at = v(lo.x + (hi.x - lo.x) * t.x, lo.y + (hi.y - lo.y) * t.y);
                let hits = ink.hits(&Box2::about(at, h.x, h.y));
                let far = at.dist(middle);
                if best.is_none_or(|q| hits < q.0 || (hits == q.0 && far < q.1)) {
                    best = Some((hits, far, at));
                }
            }
        }
        if let Some((hits, _, at)) = best {
            let item = words(pt(at.x, at.y + cap / 2.0), cap, name, Face::Bold, Anchor::Middle);
            if hits == 0 {
                return Some(item);
            }
            last = Some(item);
        }
    }
    last
}
