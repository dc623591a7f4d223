//! The title block.
//!
//! In: title data, what the sheet shows, scale and sheet numbers. Out: a block 180 mm wide.
//! Always true: it is 180 mm wide (ISO 7200:2004, the whole drawing space of an upright A4) and holds the
//! standard's mandatory fields: legal owner, identification number, date of issue, sheet number, title,
//! approval person, creator, document type.

use crate::block::{Block, fitted, fitted_twice, line, rect, words};
use crate::options::{Projection, SheetOptions};
use turnleaf_dimension::Tongue;
use turnleaf_geom::{Arc, Vec2, trig};
use turnleaf_page::{Anchor, Face, Item, Pt, Role, Step, Stroke, pt};

/// Width, mm (ISO 7200:2004).
pub const TITLE_WIDTH: f64 = 180.0;
/// Height, mm: three rows of 9 and one of 11.
pub const TITLE_HEIGHT: f64 = 38.0;
/// Height of the small headings of the fields.
const HEAD: f64 = 1.8;

/// What a sheet is of, as its title block says it.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Subject {
    /// Identifier, added to the identification number.
    pub id: String,
    /// Title.
    pub name: String,
    /// Material; a dash when empty.
    pub material: String,
    /// How many to make, in words; a dash when empty.
    pub make: String,
}

/// What a sheet adds to its subject and the options.
pub struct SheetFacts<'a> {
    /// Scale of the main view.
    pub scale: String,
    /// How lengths are written.
    pub units: &'a str,
    /// Number of this sheet.
    pub sheet: usize,
    /// Paper, for the foot.
    pub paper: &'a str,
}

/// Width, heading, value, whether it is the title.
type Field<'a> = (f64, &'a str, String, bool);

/// What is stamped on a finished sheet (its revision, its number) is no part of what the sheet shows: whoever asks
/// whether two sheets show the same leaves these groups out.
fn stamp(name: &str, items: Vec<Item>) -> Item {
    Item::Group { role: Role::Plain, origin: None, id: Some(format!("stamp/{name}")), items }
}

fn field(items: &mut Vec<Item>, at: Pt, h: f64, (w, head, value, big): &Field, tongue: &Tongue) {
    let (x, y, w) = (at.x, at.y, *w);
    items.push(rect(pt(x, y), pt(x + w, y + h), 0.35));
    items.push(fitted(pt(x + 1.2, y + 1.0 + HEAD), HEAD, &tongue.say(head), Face::Regular, w - 2.4));
    let cap = if *big { 3.5 } else { 2.5 };
    let face = if *big { Face::Bold } else { Face::Regular };
    if !value.is_empty() {
        let above = h - 1.6 - (1.0 + HEAD) - 1.8;
        // Two lines stand a little lower than one, so that the heading keeps clear of them.
        let two = fitted_twice(pt(x + 1.2, y + h - 1.0), cap, value, face, w - 2.4, above);
        match &two[..] {
            [_] => items.push(fitted(pt(x + 1.2, y + h - 1.6), cap, value, face, w - 2.4)),
            _ => items.extend(two),
        }
    }
}

/// Fields of the title block, by row and place, that are stamped.
const STAMPED: [((usize, usize), &str); 3] = [((0, 3), "revision"), ((1, 2), "date"), ((1, 3), "number")];

/// The title block.
pub fn title_block(of: &Subject, o: &SheetOptions, facts: &SheetFacts) -> Block {
    let t = &o.title;
    let mut items = Vec::new();
    let number = if t.number.is_empty() { of.id.clone() } else { format!("{}/{}", t.number, of.id) };
    let sheet = match o.sheets {
        Some(n) => format!("{} / {n}", facts.sheet),
        None => facts.sheet.to_string(),
    };
    let dash = |s: &str| if s.is_empty() { "–".to_string() } else { s.to_string() };
    let rows: [(f64, Vec<Field>); 4] = [
        (
            9.0,
            vec![
                (60.0, "Legal owner", dash(&t.owner), false),
                (40.0, "Document type", dash(&t.document_type), false),
                (62.0, "Identification number", number, false),
                (18.0, "Revision", dash(&t.revision), false),
            ],
        ),
        (
            11.0,
            vec![
                (60.0, "Plan", dash(&t.project), false),
                (72.0, "Title", of.name.clone(), true),
                (30.0, "Date of issue", dash(&t.date), false),
                (18.0, "Sheet", sheet, false),
            ],
        ),
        (
            9.0,
            vec![
                (39.0, "Created by", dash(&t.creator), false),
                (30.0, "Approved by", dash(&t.approver), false),
                (63.0, "Material", dash(&of.material), false),
                (30.0, "Make", dash(&of.make), false),
                (18.0, "Language", o.language.clone(), false),
            ],
        ),
        (
            9.0,
            vec![
                (39.0, "Scale", facts.scale.clone(), false),
                (30.0, "Paper", facts.paper.to_string(), false),
                (63.0, "Units", facts.units.to_string(), false),
            ],
        ),
    ];
    let mut y = 0.0;
    for (row, (h, fields)) in rows.into_iter().enumerate() {
        let mut x = 0.0;
        for (k, f) in fields.into_iter().enumerate() {
            let name = STAMPED.iter().find(|s| s.0 == (row, k)).map(|s| s.1);
            let mut own = Vec::new();
            field(&mut own, pt(x, y), h, &f, &o.tongue);
            match name {
                Some(name) => items.push(stamp(name, own)),
                None => items.extend(own),
            }
            x += f.0;
        }
        y += h;
    }
    let (x, y) = (132.0, TITLE_HEIGHT - 9.0);
    field(&mut items, pt(x, y), 9.0, &(TITLE_WIDTH - x, "Projection", String::new(), false), &o.tongue);
    items.extend(symbol(o.projection, pt(x + 31.0, y + 4.5)));
    let angle = if o.projection == Projection::First { "first angle" } else { "third angle" };
    items.push(words(pt(x + 1.2, y + 7.4), 2.5, &o.tongue.say(angle), Face::Regular, Anchor::Start));
    items.push(rect(pt(0.0, 0.0), pt(TITLE_WIDTH, TITLE_HEIGHT), 0.7));
    let group = Item::Group { role: Role::Plain, origin: None, id: Some("title-block".into()), items };
    Block { items: vec![group], width: TITLE_WIDTH, height: TITLE_HEIGHT }
}

/// The cone of ISO 5456-2: a truncated cone seen from the side, and from its small end.
/// Both circles are full lines, so the end view looks at the small end, which is on the left of the side view:
/// in first angle that view goes to the right, in third angle to the left. Proportions: 2 : 1, length = large
/// diameter (from memory).
fn symbol(projection: Projection, at: Pt) -> Vec<Item> {
    let (big, small, length, gap) = (2.9, 1.45, 5.8, 3.4);
    let (cone, ends) = match projection {
        Projection::First => (at.x - length / 2.0 - gap, at.x + big + gap / 2.0),
        Projection::Third => (at.x + length / 2.0 + gap, at.x - big - gap / 2.0),
    };
    let pen = Stroke { round: false, ..Stroke::solid(0.35) };
    let thin = Stroke { dash: vec![3.0, 0.6, 0.3, 0.6], ..Stroke { round: false, ..Stroke::solid(0.18) } };
    let (l, r) = (cone - length / 2.0, cone + length / 2.0);
    let mut items = vec![Item::Path {
        steps: vec![
            Step::Move(pt(l, at.y - small)),
            Step::Line(pt(r, at.y - big)),
            Step::Line(pt(r, at.y + big)),
            Step::Line(pt(l, at.y + small)),
            Step::Close,
        ],
        stroke: Some(pen.clone()),
        fill: None,
    }];
    for radius in [small, big] {
        let arc = Arc { centre: Vec2::ZERO, radius, start: 0.0, sweep: trig::rad(360.0) };
        let place = |p: Vec2| pt(ends + p.x, at.y - p.y);
        let mut steps = vec![Step::Move(place(arc.at(0.0)))];
        turnleaf_dimension::place::pen::arc_steps(&arc, &place, &mut steps);
        steps.push(Step::Close);
        items.push(Item::Path { steps, stroke: Some(pen.clone()), fill: None });
    }
    let mut axis = |a: Pt, b: Pt| {
        items.push(Item::Path {
            steps: vec![Step::Move(a), Step::Line(b)],
            stroke: Some(thin.clone()),
            fill: None,
        });
    };
    axis(pt(l - 0.8, at.y), pt(r + 0.8, at.y));
    axis(pt(ends - big - 0.8, at.y), pt(ends + big + 0.8, at.y));
    axis(pt(ends, at.y - big - 0.8), pt(ends, at.y + big + 0.8));
    items
}

/// The revision block: newest line next to the frame's corner, oldest first (chronological from the top).
pub fn revision_block(o: &SheetOptions) -> Option<Block> {
    if o.revisions.is_empty() {
        return None;
    }
    // Narrower than half an upright A4, so that the centring mark stays clear of it.
    let columns = [(8.0, "Rev."), (50.0, "Change"), (18.0, "Date"), (17.0, "Approved")];
    let width: f64 = columns.iter().map(|c| c.0).sum();
    let shown = &o.revisions[o.revisions.len().saturating_sub(4)..];
    let mut items = Vec::new();
    let row = 5.5;
    let mut x = 0.0;
    for (w, head) in columns {
        items.push(fitted(pt(x + 1.2, row - 1.7), HEAD, &o.tongue.say(head), Face::Regular, w - 2.0));
        x += w;
    }
    for (k, r) in shown.iter().enumerate() {
        let y = row * (k as f64 + 1.0);
        items.push(line(pt(0.0, y), pt(width, y), 0.35));
        let mut x = 0.0;
        for ((w, _), value) in columns.iter().zip([&r.letter, &r.text, &r.date, &r.by]) {
            items.push(fitted(pt(x + 1.2, y + row - 1.5), 2.5, value, Face::Regular, w - 2.0));
            x += w;
        }
    }
    let height = row * (shown.len() as f64 + 1.0);
    let mut x = 0.0;
    for (w, _) in &columns[..3] {
        x += w;
        items.push(line(pt(x, 0.0), pt(x, height), 0.35));
    }
    items.push(rect(pt(0.0, 0.0), pt(width, height), 0.35));
    let group =
        Item::Group { role: Role::Plain, origin: None, id: Some("stamp/revision-block".into()), items };
    Some(Block { items: vec![group], width, height })
}
