//! Putting a sheet together.
//!
//! In: a part, its drawing and figures, the options. Out: pages.
//! Always true: the layout with the largest scale wins, upright before on its side, one sheet before two
//! unless two allow at least twice the scale and the view were small without; blocks keep their order, so a small change moves nothing else.

use crate::GAP;
use crate::arrange::{Area, Room, Size, arrange, shelves};
use crate::bars::check_bar;
use crate::block::Block;
use crate::frame::{Border, MARK};
use crate::notes::{Said, notes, units_text};
use crate::options::{Projection, SheetOptions};
use crate::scale::{PREFERRED, Scale};
use crate::table;
use crate::title::{SheetFacts, Subject, TITLE_HEIGHT, TITLE_WIDTH, revision_block, title_block};
use turnleaf_dimension::Drawing;
use turnleaf_dimension::place::pen::Style;
use turnleaf_dimension::place::{Placed, View, place, ramp, section};
use turnleaf_dimension::printed::{Figure, Wording};
use turnleaf_dimension::shorten::shorten;
use turnleaf_page::{Item, Page, Paper, Pt, pt};
use turnleaf_parts::Part;

/// A view shorter than this on paper is small, mm: by so much for its outline, and so much more for every mark in it.
const SMALL: (f64, f64) = (30.0, 2.5);
/// More marks than this in one row stand in a circle, and need no more room for being many.
const MARKS: usize = 8;

/// What rows set closely cost: more than any other way of setting out one sheet at the same scale.
const CLOSELY: f64 = 3e-5;

/// A section thinner than this on paper cannot be read, mm.
const READABLE: f64 = 14.0;

/// A part narrower than this on paper is a streak in which features run together, mm.
const STREAK: f64 = 12.5;

/// A broken view is drawn no broader than this on paper, mm: larger shows no more.
const BROAD: f64 = 32.0;

/// Blocks set out on a sheet: their corners.
struct Layout {
    landscape: bool,
    two: bool,
    scale: Scale,
    placed: Placed,
    /// Where the view's box goes.
    view: Pt,
    /// Where each block goes on the first sheet.
    spots: Vec<Pt>,
    blocks: Vec<Block>,
}

fn style(paper: Paper) -> Style {
    match paper {
        Paper::A4 | Paper::Letter => Style::SMALL,
        _ => Style::LARGE,
    }
}

/// The area above the title block, inside the frame and clear of the centring marks.
fn area(border: &Border, revisions: Option<&Block>) -> Area {
    let top = revisions.map_or(0.0, |r| r.height + 1.0);
    Area {
        min: pt(border.min.x + GAP, border.min.y + GAP + top),
        max: pt(border.max.x - GAP, border.max.y - TITLE_HEIGHT - 3.0),
        mark: pt(border.width / 2.0 + 1.0, border.min.y + MARK + 1.5),
    }
}

/// Scales worth trying for a part of this size, largest first: enlarged only when it is really small.
fn scales(size: f64) -> Vec<Scale> {
    let most = if size >= 50.0 {
        1.0
    } else if size >= 20.0 {
        2.0
    } else {
        5.0
    };
    PREFERRED.into_iter().filter(|s| s.factor() <= most).collect()
}

/// The scale of the sections: the largest at which the thickness stays under 34 mm.
fn section_scale(thickness: f64) -> Scale {
    PREFERRED.into_iter().find(|s| s.factor() * thickness <= 34.0).unwrap_or(PREFERRED[6])
}

/// The scale of a developed view: the largest at which it stays under 120 mm.
fn developed_scale(run: f64) -> Scale {
    PREFERRED.into_iter().find(|s| s.factor() * run <= 120.0).unwrap_or(PREFERRED[6])
}

/// A page before it has a number.
pub struct Loose {
    landscape: bool,
    scale: String,
    items: Vec<Item>,
}

/// Numbers pages from the options' first on; the options must be those they were composed with but for that number.
pub fn numbered(subject: &Subject, loose: &[Loose], o: &SheetOptions) -> Vec<Page> {
    let page = |(k, one): (usize, &Loose)| {
        let id =
            if k == 0 { format!("sheet/{}", subject.id) } else { format!("sheet/{}/{}", subject.id, k + 1) };
        let (landscape, scale) = (one.landscape, one.scale.clone());
        framed(subject, o, &Framing { landscape, scale, sheet: o.first_sheet + k, id }, one.items.clone())
    };
    loose.iter().enumerate().map(page).collect()
}

/// Pages of a part, and identifiers of what was placed over something else.
pub fn compose(part: &Part, d: &Drawing, figures: &[Figure], o: &SheetOptions) -> (Vec<Loose>, Vec<String>) {
    let st = style(o.paper);
    let revisions = revision_block(o);
    let large = section_scale(part.thickness);
    let at = |scale: Scale| -> Vec<Block> {
        let drawn = d.sections.iter();
        drawn
            .filter_map(|q| section::draw(d, q, figures, scale.factor(), &scale.text(), &st))
            .map(|s| Block::from_box(&s.items, s.min, s.max))
            .collect()
    };
    let mut sections = at(large);
    // Where they would not go on the sheet beside the view, the next smaller scale does, if it can still be read.
    let less = PREFERRED.into_iter().find(|s| s.factor() < large.factor());
    let less = less.filter(|s| !sections.is_empty() && s.factor() * part.thickness >= READABLE);
    let mut small: Vec<Vec<Block>> = less.map(at).into_iter().collect();
    if let Some(r) = &d.ramp {
        let scale = developed_scale(d.value(r.run));
        if let Some(s) = ramp::draw(d, r, figures, scale.factor(), &scale.text(), &st) {
            let developed = Block::from_box(&s.items, s.min, s.max);
            small.iter_mut().for_each(|s| s.push(developed.clone()));
            sections.push(developed);
        }
    }
    let (lo, hi) = part.outline.bounds();
    let size = (hi.x - lo.x).max(hi.y - lo.y);
    let round = d.frame.fold != 1;
    let rooms = [false, true].map(|l| area(&Border::new(o.paper, l), revisions.as_ref()));
    let narrow = rooms[0].width().min(rooms[1].width());
    let mut rest = table::ways(d, figures, usize::MAX);
    rest.extend(table::edges(d, figures));
    let holes = [Some(table::holes(d, figures, usize::MAX, narrow)), table::low_holes(d, figures, narrow)];
    let close = table::close_holes(d, figures, narrow);
    let with = |holes: &Vec<Block>, sections: &Vec<Block>| -> Vec<Block> {
        holes.iter().chain(&rest).chain(sections).cloned().collect()
    };
    let mut tables: Vec<Vec<Block>> = Vec::new();
    for sections in core::iter::once(&sections).chain(&small) {
        tables.extend(holes.iter().flatten().map(|holes| with(holes, sections)));
    }
    let usual = tables.len();
    // Rows set closely only where nothing else saves a second sheet.
    for sections in core::iter::once(&sections).chain(&small) {
        tables.extend(close.iter().map(|holes| with(holes, sections)));
    }
    let general = o.general.map(|half| turnleaf_dimension::printed::general(half, &o.wording()));
    let mut written = Written { part, d, figures, general, wording: o.wording(), done: Vec::new() };
    let first_angle = o.projection == Projection::First;
    let marks = d.rows.iter().map(|r| r.members.len().min(MARKS));
    let marks = marks.chain(d.edges.iter().map(|e| e.members.len()));
    let least = SMALL.0 + SMALL.1 * marks.sum::<usize>() as f64;
    let mut search = Search { rooms: &rooms, tables: &tables, o, figures, size, usual, least, best: None };
    for scale in scales(size) {
        if search.best.as_ref().is_some_and(|b| b.0 > scale.factor()) {
            break;
        }
        for quarter in [false, true] {
            let view = View { scale: scale.factor(), quarter, first_angle };
            // Too large for any zone of this paper, or looking the same when turned: not worth placing.
            let (mut w, mut h) = ((hi.x - lo.x) * view.scale, (hi.y - lo.y) * view.scale);
            if quarter {
                (w, h) = (h, w);
            }
            if (round && quarter) || rooms.iter().all(|r| w > r.width() || h > r.height()) {
                continue;
            }
            search.look(scale, d, &view, &st, &mut written);
        }
    }
    let whole = search.best.take();
    // A part that is a mere streak on paper is drawn larger, with its plain stretches left out.
    let thin = (hi.x - lo.x).min(hi.y - lo.y);
    let drawn = whole.as_ref().map_or(0.0, |b| b.1.scale.factor());
    if thin * drawn < STREAK {
        let larger = scales(size).into_iter().filter(|s| s.factor() > drawn && thin * s.factor() <= BROAD);
        for scale in larger {
            let Some(short) = shorten(d, scale.factor()) else { continue };
            for quarter in [false, true] {
                let view = View { scale: scale.factor(), quarter, first_angle };
                search.look(scale, &short, &view, &st, &mut written);
            }
            // Only clean: where a mark finds no place the view is better drawn whole.
            let two = whole.as_ref().is_some_and(|b| b.1.two);
            search.best = search.best.take().filter(|b| b.1.two <= two && b.1.placed.crowded.is_empty());
            if search.best.is_some() {
                break;
            }
        }
    }
    let best = search.best.or(whole);
    match best {
        Some((_, layout)) => pages(d, figures, o, &sections, layout, revisions.as_ref()),
        None => (Vec::new(), vec![format!("{}/view", d.part)]),
    }
}

/// The best layout found so far, and what every attempt needs.
struct Search<'a> {
    rooms: &'a [Area; 2],
    /// Tables and sections: the sections at their own scale first, for each scale the usual tables before low ones.
    tables: &'a [Vec<Block>],
    o: &'a SheetOptions,
    figures: &'a [Figure],
    /// Greatest size of the part, mm.
    size: f64,
    /// How many of them are set as tables usually are.
    usual: usize,
    /// A view shorter than this is small, mm on paper.
    least: f64,
    best: Option<(f64, Layout)>,
}

impl Search<'_> {
    /// Tries every way of setting out a view.
    fn look(&mut self, scale: Scale, shown: &Drawing, view: &View, st: &Style, written: &mut Written) {
        let placed = place(shown, self.figures, view, st);
        let broken = !shown.breaks.is_empty();
        let bar = check_bar(&self.o.tongue);
        for a in attempts(self.o.paper) {
            let worth = a.worth(view.scale, self.size, self.least) - f64::from(u8::from(view.quarter)) * 1e-8;
            if self.best.as_ref().is_some_and(|b| b.0 >= worth) {
                continue;
            }
            let room = &self.rooms[usize::from(a.landscape)];
            let (pw, ph) = (placed.max.x - placed.min.x, placed.max.y - placed.min.y);
            let (mut own, mut set) = (None, Vec::new());
            let mut arranged = |tables: &[Block]| {
                // Notes are written only once a view may fit beside them.
                let notes = own.get_or_insert_with(|| {
                    let how = How { broken, quarter: view.quarter, overleaf: a.two };
                    written.notes(&placed.left_over, how, a.notes.min(room.width()))
                });
                set.clear();
                set.extend(tables.iter().chain([&*notes, &bar]).map(|b| (b.width, b.height)));
                let needed = set.iter().map(|b| b.0 * b.1).sum::<f64>() + pw * ph;
                if needed > room.width() * room.height() {
                    return None;
                }
                let (zone, spots) = arrange(room, &set, a.room)?;
                let fits = pw <= zone.width() && ph <= zone.height();
                fits.then(|| (tables.iter().chain([&*notes, &bar]).cloned().collect(), zone, spots))
            };
            let tables = self.tables.iter().enumerate();
            let found = if a.two {
                arranged(&[]).map(|f| (0, f))
            } else {
                tables.filter_map(|(k, t)| Some((k, arranged(t)?))).next()
            };
            let Some((smaller, (blocks, zone, spots))) = found else { continue };
            // Sections at their own scale are worth laying the sheet on its side, but not a second one.
            let worth = worth - smaller as f64 * 5e-6 - if smaller >= self.usual { CLOSELY } else { 0.0 };
            if self.best.as_ref().is_some_and(|b| b.0 >= worth) {
                continue;
            }
            let view = pt(
                zone.min.x + (zone.width() - pw) / 2.0 - placed.min.x,
                zone.min.y + (zone.height() - ph) / 2.0 - placed.min.y,
            );
            let placed = placed.clone();
            let layout = Layout { landscape: a.landscape, two: a.two, scale, placed, view, spots, blocks };
            self.best = Some((worth, layout));
        }
    }
}

/// A way of setting out the first sheet.
struct Attempt {
    landscape: bool,
    /// Not the way round this paper is usually used.
    turned: bool,
    /// Tables and sections go to a second sheet.
    two: bool,
    /// Where the blocks stand.
    room: Room,
    /// Width of the notes, mm; the whole width when larger.
    notes: f64,
}

impl Attempt {
    /// Larger scales are worth more; of equal scales the earlier of: upright, strip below, narrow notes; notes parted
    /// from the other blocks last.
    fn worth(&self, scale: f64, size: f64, least: f64) -> f64 {
        let small = |yes: bool, weight: f64| if yes { weight } else { 0.0 };
        // Two sheets must allow twice the scale, and the part be small without them.
        let two = if size * scale / 2.0 < least { 0.51 } else { 0.3 };
        scale * if self.two { two } else { 1.0 }
            - small(self.turned, 1e-6)
            - small(self.room == Room::Beside, 1e-7)
            // Only where nothing else takes one sheet.
            - small(self.room == Room::Split, 2e-5)
            - (self.notes - 82.0).abs() * 1e-11
    }
}

fn attempts(paper: Paper) -> Vec<Attempt> {
    let mut out = Vec::new();
    // Larger papers lie on their side unless upright shows more (ISO 5457: only A4 is used upright).
    let small = matches!(paper, Paper::A4 | Paper::Letter);
    for two in [false, true] {
        for turned in [false, true] {
            for room in [Room::Below, Room::Beside, Room::Split] {
                for notes in [82.0, 70.0, 96.0, 110.0, 1000.0, 60.0, 50.0, 42.0] {
                    let fits = match room {
                        Room::Below => notes >= 50.0,
                        Room::Beside => (50.0..=100.0).contains(&notes),
                        Room::Split => notes <= 82.0 && !two,
                    };
                    if fits {
                        out.push(Attempt { landscape: turned == small, turned, two, room, notes });
                    }
                }
            }
        }
    }
    out
}

/// Notes already written, so that a width is set only once.
struct Written<'a> {
    part: &'a Part,
    d: &'a Drawing,
    figures: &'a [Figure],
    general: Option<String>,
    wording: Wording,
    done: Vec<(Vec<usize>, How, f64, Block)>,
}

/// What the notes say of the view: broken, turned a quarter, its tables on the next sheet.
#[derive(Clone, Copy, PartialEq, Eq)]
struct How {
    broken: bool,
    quarter: bool,
    overleaf: bool,
}

impl Written<'_> {
    fn notes(&mut self, left_over: &[usize], how: How, width: f64) -> Block {
        if let Some(q) = self.done.iter().find(|q| q.0 == left_over && q.1 == how && q.2 == width) {
            return q.3.clone();
        }
        let How { broken, quarter, overleaf } = how;
        let general = self.general.as_deref();
        let said = Said { left_over, broken, quarter, overleaf, general, wording: self.wording };
        let block = notes(self.part, self.d, self.figures, &said, width);
        self.done.push((left_over.to_vec(), how, width, block.clone()));
        block
    }
}

fn pages(
    d: &Drawing,
    figures: &[Figure],
    o: &SheetOptions,
    sections: &[Block],
    layout: Layout,
    revisions: Option<&Block>,
) -> (Vec<Loose>, Vec<String>) {
    let border = Border::new(o.paper, layout.landscape);
    let mut out = Vec::new();
    let page = |items: Vec<Item>, scale: String| Loose { landscape: layout.landscape, scale, items };
    let mut items: Vec<Item> = Block { items: layout.placed.items.clone(), width: 0.0, height: 0.0 }
        .at(layout.view.x, layout.view.y);
    for (b, p) in layout.blocks.iter().zip(&layout.spots) {
        items.extend(b.at(p.x, p.y));
    }
    out.push(page(items, layout.scale.text()));
    if layout.two {
        let a = area(&border, revisions);
        let a = a.part(pt(a.min.x, a.mark.y.max(a.min.y)), a.max);
        let mut rest: Vec<Block> = Vec::new();
        let mut limit = d.rows.len().max(1);
        let tables = loop {
            let t = table::holes(d, figures, limit, a.width());
            if limit == 1 || t.iter().all(|b| b.height <= a.height()) {
                break t;
            }
            limit -= 1;
        };
        rest.extend(tables);
        rest.extend(table::ways(d, figures, stations_to_a_sheet(a.height())));
        rest.extend(table::edges(d, figures));
        rest.extend(sections.iter().cloned());
        out.extend(overflow(&rest, sections.len(), &a, o, &page));
    }
    (out, layout.placed.crowded)
}

/// How a sheet stands in its set.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Framing {
    /// On its side.
    pub landscape: bool,
    /// The scale as the title block says it.
    pub scale: String,
    /// Number of the sheet.
    pub sheet: usize,
    /// Identifier of the page, and name of the mark that links lead to.
    pub id: String,
}

/// The corners of the space that a drawing may fill: inside the frame, clear of its marks, of the title block
/// and of the revision block, mm on paper.
pub fn drawing_space(o: &SheetOptions, landscape: bool) -> (Pt, Pt) {
    let a = area(&Border::new(o.paper, landscape), revision_block(o).as_ref());
    (a.min, a.max)
}

/// A page: frame, title block, revision block, and the items, which are already in their places.
pub fn framed(subject: &Subject, o: &SheetOptions, framing: &Framing, items: Vec<Item>) -> Page {
    let border = Border::new(o.paper, framing.landscape);
    let units = units_text(o.units, &o.tongue);
    let facts = SheetFacts {
        scale: framing.scale.clone(),
        units: &units,
        sheet: framing.sheet,
        paper: paper_name(o.paper),
    };
    let block = title_block(subject, o, &facts);
    let (x, y) = (border.max.x - TITLE_WIDTH, border.max.y - TITLE_HEIGHT);
    // Bookmarks and links lead here.
    let mut all = vec![Item::Mark { at: border.min, name: framing.id.clone() }];
    all.extend(border.items(y, x));
    all.extend(items);
    if let Some(r) = revision_block(o) {
        all.extend(r.at(border.max.x - r.width, border.min.y));
    }
    all.extend(block.at(x, y));
    Page {
        width: border.width,
        height: border.height,
        label: framing.sheet.to_string(),
        id: framing.id.clone(),
        title: subject.name.clone(),
        items: all,
    }
}

/// Stations that a table no higher than this can hold: a row takes 5.2 mm, title and head 10 mm.
fn stations_to_a_sheet(height: f64) -> usize {
    (((height - 10.0) / 5.2).floor() as usize).max(1)
}

/// Further sheets with what did not go on the first. The last `drawn` blocks are sections, each with its scale; a sheet
/// of tables alone has none.
fn overflow(
    rest: &[Block],
    drawn: usize,
    a: &Area,
    o: &SheetOptions,
    page: &dyn Fn(Vec<Item>, String) -> Loose,
) -> Vec<Loose> {
    let mut out = Vec::new();
    let sizes: Vec<Size> = rest.iter().map(|b| (b.width, b.height)).collect();
    let mut from = 0;
    while from < rest.len() {
        // As many blocks as fit in shelves on one sheet.
        let mut to = from + 1;
        while to < rest.len() && shelves(&sizes[from..=to], a.width()).is_some_and(|s| s.1 <= a.height()) {
            to += 1;
        }
        let spots = shelves(&sizes[from..to], a.width()).map(|s| s.0).unwrap_or_else(|| vec![pt(0.0, 0.0)]);
        let items =
            rest[from..to].iter().zip(&spots).flat_map(|(b, p)| b.at(a.min.x + p.x, a.min.y + p.y)).collect();
        let scale = if to + drawn > rest.len() { o.tongue.say("as stated") } else { "–".into() };
        out.push(page(items, scale));
        from = to;
    }
    out
}

fn paper_name(p: Paper) -> &'static str {
    match p {
        Paper::A4 => "A4",
        Paper::A3 => "A3",
        Paper::A2 => "A2",
        Paper::Letter => "Letter",
        Paper::Tabloid => "Tabloid",
        Paper::ArchC => "Arch C",
    }
}
