//! A tile: part of a part at full size, with everything needed to check, cut and join it.
//!
//! In: a part's lines, grid, crosses. Out: a page for each tile.
//! Always true: at true print the check bars measure 100 mm and 4 in on both axes; words, bars and joints
//! stand outside the field, except the notes, which are placed clear of everything.

use crate::arrange::{EDGE, Grid, Tile, name};
use crate::clip::clip;
use crate::drawn::Drawn;
use crate::ink::{Box2, Ink};
use crate::joints::{ARM, Cross, RING};
use crate::labels::{self, Sheet};
use crate::options::TemplateOptions;
use crate::pen::{CAP, Kind, SMALL, fitted, group, line, path, pen, push, text, thin, words};
use crate::words::Words;
use turnleaf_geom::{Arc, Seg, Vec2, vec2::v};
use turnleaf_page::{Anchor, Face, Item, Page, Pt, Role, Step, pt};
use turnleaf_parts::Part;
use turnleaf_text::{size_for_cap_height, width};

/// Air between words on the part and the cut lines of the tile, mm.
const ROOM: f64 = 0.8;

/// All tiles of a part, and the notes without a place.
pub fn pages(
    part: &Part,
    drawn: &Drawn,
    grid: &Grid,
    crosses: &[Cross],
    options: &TemplateOptions,
    say: &Words,
) -> (Vec<Page>, Vec<String>) {
    let mut sheets = Vec::new();
    let mut pictures = Vec::new();
    for tile in grid.tiles() {
        let (items, ink) = picture(drawn, grid, crosses, tile, part);
        let own = grid.own_of(tile);
        let (a, b) = (grid.place(tile, v(own.lo.x, own.hi.y)), grid.place(tile, v(own.hi.x, own.lo.y)));
        let room = Box2 { lo: v(a.x + ROOM, a.y + ROOM), hi: v(b.x - ROOM, b.y - ROOM) };
        sheets.push(Sheet { tile, ink, room, items: Vec::new() });
        pictures.push(items);
    }
    let left_over = labels::place(&mut sheets, grid, &drawn.notes);
    let alone = sheets.len() == 1;
    let mut pages = Vec::new();
    for (sheet, mut items) in sheets.into_iter().zip(pictures) {
        items.extend(sheet.items);
        items.extend(bars(grid));
        items.extend(joint_words(grid, sheet.tile, say));
        pages.push(page(part, grid, sheet.tile, alone, items, options, say));
    }
    (pages, left_over)
}

/// Lines, crosses and joints of a tile, and the same as ink.
fn picture(drawn: &Drawn, grid: &Grid, crosses: &[Cross], tile: Tile, part: &Part) -> (Vec<Item>, Ink) {
    let frame = grid.field_of(tile);
    let place = |p: Vec2| grid.place(tile, p);
    let flat = |p: Vec2| {
        let q = grid.place(tile, p);
        v(q.x, q.y)
    };
    let (mut items, mut ink) = (Vec::new(), Ink::default());
    for l in &drawn.lines {
        let shown: Vec<Seg> = l.segs.iter().flat_map(|s| clip(s, &frame)).collect();
        shown.iter().for_each(|s| ink.seg(s, &flat));
        if let Some(item) = path(&shown, &place, pen(l.kind)) {
            let role = if l.kind == Kind::Cut { Role::Outline } else { Role::Plain };
            items.push(group(role, format!("{}/{}", part.id, l.id), vec![item]));
        }
    }
    let cell = grid.cell_of(tile);
    let (r, c) = tile;
    let sides = [
        (
            "left",
            c > 0 && grid.has((r, c.wrapping_sub(1))),
            v(cell.lo.x, frame.lo.y),
            v(cell.lo.x, frame.hi.y),
        ),
        ("right", grid.has((r, c + 1)), v(cell.hi.x, frame.lo.y), v(cell.hi.x, frame.hi.y)),
        (
            "top",
            r > 0 && grid.has((r.wrapping_sub(1), c)),
            v(frame.lo.x, cell.hi.y),
            v(frame.hi.x, cell.hi.y),
        ),
        ("bottom", grid.has((r + 1, c)), v(frame.lo.x, cell.lo.y), v(frame.hi.x, cell.lo.y)),
    ];
    for (side, joined, a, b) in sides {
        if joined {
            ink.line(flat(a), flat(b));
            items.push(group(
                Role::Plain,
                format!("joint/{side}"),
                vec![line(place(a), place(b), pen(Kind::Join))],
            ));
        }
    }
    for cross in crosses.iter().filter(|x| x.first == tile || x.second == tile) {
        let at = place(cross.at);
        items.push(cross_item(cross, at, tile));
        let toward = if cross.first == tile { -cross.letter_at } else { cross.letter_at };
        let c = v(at.x, at.y);
        ink.text(Box2::about(c, ARM + 0.5, ARM + 0.5));
        let l = if cross.side_by_side { v(c.x + toward, c.y) } else { v(c.x, c.y + toward) };
        ink.text(Box2::about(l, CAP, CAP));
    }
    (items, ink)
}

/// A ring with a cross, drawn true on paper whatever the printer needs, and its letter on this tile's side.
fn cross_item(cross: &Cross, at: Pt, tile: Tile) -> Item {
    let paper = |p: Vec2| pt(p.x, p.y);
    let c = v(at.x, at.y);
    let ring = Seg::Arc(Arc { centre: c, radius: RING, start: 0.0, sweep: core::f64::consts::TAU });
    let mut steps = vec![Step::Move(paper(ring.start()))];
    push(&ring, &paper, &mut steps);
    steps.push(Step::Close);
    let ring = Item::Path { steps, stroke: Some(thin()), fill: None };
    let toward = if cross.first == tile { -cross.letter_at } else { cross.letter_at };
    let (x, y) = if cross.side_by_side { (at.x + toward, at.y) } else { (at.x, at.y + toward) };
    let letter = words(pt(x, y + CAP / 2.0 - 0.2), CAP, &cross.letter, Face::Bold, Anchor::Middle);
    let arms = [
        line(pt(at.x - ARM, at.y), pt(at.x + ARM, at.y), thin()),
        line(pt(at.x, at.y - ARM), pt(at.x, at.y + ARM), thin()),
    ];
    let [level, upright] = arms;
    group(Role::Plain, format!("cross/{}", cross.letter), vec![level, upright, ring, letter])
}

/// The names of the paper's sides that run level and upright on this page.
fn axes(grid: &Grid) -> (&'static str, &'static str) {
    if grid.landscape { ("y", "x") } else { ("x", "y") }
}

/// Check bars along both axes.
fn bars(grid: &Grid) -> Vec<Item> {
    let (level, upright) = axes(grid);
    let left = grid.field.x - crate::arrange::LEFT;
    let base = pt(left + 1.0, grid.field_end.y + 11.0);
    let side = pt(left + 5.0, grid.field_end.y - 1.0);
    let mut out = Vec::new();
    for (mm, label, divisions, heavy, outward) in
        [(100.0, "100 mm", 10, 5, -1.0), (101.6, "4 in", 16, 4, 1.0)]
    {
        let key = label.replace(' ', "");
        let (mut x_bar, mut y_bar) = (Vec::new(), Vec::new());
        let (w, h) = (mm * grid.k.x, mm * grid.k.y);
        x_bar.push(line(base, pt(base.x + w, base.y), thin()));
        y_bar.push(line(side, pt(side.x, side.y - h), thin()));
        for k in 0..=divisions {
            let t = f64::from(k) / f64::from(divisions);
            let tick = outward * if k % heavy == 0 { 2.6 } else { 1.4 };
            let (x, y) = (base.x + w * t, side.y - h * t);
            x_bar.push(line(pt(x, base.y), pt(x, base.y + tick), thin()));
            y_bar.push(line(pt(side.x, y), pt(side.x + tick, y), thin()));
        }
        let drop = if outward < 0.0 { -0.6 } else { 2.5 };
        let end = 103.6;
        let at = pt(base.x + end * grid.k.x, base.y + drop);
        x_bar.push(words(at, SMALL, &format!("{label} {level}"), Face::Regular, Anchor::Start));
        let at = pt(side.x + drop, side.y - end * grid.k.y);
        let t = text(at, SMALL, &format!("{label} {upright}"), Face::Regular, Anchor::Start).rotate(90.0);
        y_bar.push(Item::Text(t));
        out.push(group(Role::Plain, format!("bar/level/{key}"), x_bar));
        out.push(group(Role::Plain, format!("bar/upright/{key}"), y_bar));
    }
    out
}

/// At each joined side, what meets what, and which sides are cut.
fn joint_words(grid: &Grid, tile: Tile, say: &Words) -> Vec<Item> {
    let (r, c) = tile;
    let me = name(tile);
    let (min, max) = (grid.field, grid.field_end);
    let middle = pt((min.x + max.x) / 2.0, (min.y + max.y) / 2.0);
    let mut out = Vec::new();
    let mut put = |side: &str, at: Pt, turn: f64, said: String| {
        let t = text(at, SMALL, &said, Face::Regular, Anchor::Middle).rotate(turn);
        out.push(group(Role::Plain, format!("meets/{side}"), vec![Item::Text(t)]));
    };
    if c > 0 && grid.has((r, c - 1)) {
        put("left", pt(min.x - 1.6, middle.y), 90.0, say.cut(&say.left(&me), &say.right(&name((r, c - 1)))));
    }
    if grid.has((r, c + 1)) {
        let at = pt(max.x + EDGE - 1.1, middle.y);
        put("right", at, 90.0, say.laid(&say.right(&me), &say.left(&name((r, c + 1)))));
    }
    if r > 0 && grid.has((r - 1, c)) {
        let at = pt(middle.x, min.y - 1.3);
        put("top", at, 0.0, say.laid(&say.top(&me), &say.bottom(&name((r - 1, c)))));
    }
    if grid.has((r + 1, c)) {
        put("bottom", pt(middle.x, max.y + 3.2), 0.0, say.cut(&say.bottom(&me), &say.top(&name((r + 1, c)))));
    }
    out
}

fn page(
    part: &Part,
    grid: &Grid,
    tile: Tile,
    alone: bool,
    picture: Vec<Item>,
    options: &TemplateOptions,
    say: &Words,
) -> Page {
    let me = name(tile);
    let title = options.name_of(part);
    let whole = say.tile(&me, &grid.last_name());
    let mut items = Vec::new();
    if alone {
        items.push(Item::Mark { at: grid.field, name: format!("template/{}", part.id) });
    }
    items.push(Item::Mark { at: grid.field, name: format!("template/{}/{me}", part.id) });
    let x = grid.field.x - crate::arrange::LEFT + 103.6 * grid.k.x + 19.0;
    let top = grid.field_end.y;
    let room = grid.width - options.margin - x;
    let size = size_for_cap_height(3.0);
    // A long name is set smaller before it is cut.
    let cap = if width(&title, size, Face::Bold) > room { 2.2 } else { 3.0 };
    let heading = fitted(pt(x, top + 8.6), cap, &title, Face::Bold, room);
    items.push(group(Role::Heading(2), format!("template/{}/{me}/title", part.id), vec![heading]));
    let small = [
        (12.4, 2.2, whole.clone()),
        (15.3, SMALL, format!("{} · {}", options.plan, say.revision(&options.revision))),
        (18.2, SMALL, say.scale(options)),
    ];
    for (down, cap, words_) in small {
        // The page's number stands at the end of the lowest line.
        let room = if down > 18.0 { room - 7.0 } else { room };
        let item = fitted(pt(x, top + down), cap, &words_, Face::Regular, room);
        items.push(group(Role::Paragraph, format!("template/{}/{me}/{down}", part.id), vec![item]));
    }
    let check = fitted(
        pt(grid.field.x - crate::arrange::LEFT + 1.0, top + 18.2),
        SMALL,
        &say.check_print(),
        Face::Regular,
        100.0,
    );
    items.push(group(Role::Paragraph, format!("template/{}/{me}/check", part.id), vec![check]));
    let alt = say.alt(&title, &whole);
    items.push(group(Role::Figure { alt }, format!("template/{}/{me}/picture", part.id), picture));
    Page {
        width: grid.width,
        height: grid.height,
        label: String::new(),
        id: format!("template/{}/{me}", part.id),
        title: format!("{title}, {whole}"),
        items,
    }
}
