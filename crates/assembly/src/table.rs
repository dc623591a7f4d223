//! The list of items of an exploded view.
//!
//! In: numbers, names, counts. Out: a block with one table, or two beside each other.
//! Always true: figures and words stand inside their cells; each row is a group with its part's identifier.

use turnleaf_page::{Anchor, Face, Item, Role, pt};
use turnleaf_sheet::block::{Block, fitted, line, rect, words};

/// Height of capitals, mm.
const CAP: f64 = 2.5;
/// Height of a row, mm.
const PITCH: f64 = 5.2;
/// Width of the columns of numbers, mm.
const NUMBER: f64 = 12.0;
const COUNT: f64 = 16.0;
/// Gap between two tables beside each other, mm.
const GAP: f64 = 6.0;

/// A row of the list.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// Item number.
    pub number: usize,
    /// Identifier of the part.
    pub id: String,
    /// Name.
    pub name: String,
    /// How many.
    pub count: usize,
}

/// The list in so much width; more than six rows stand in two tables beside each other if there is room.
pub fn list(prefix: &str, rows: &[Row], heads: [&str; 3], width: f64) -> Block {
    let two = rows.len() > 6 && width >= 150.0;
    let each = if two { (width - GAP) / 2.0 } else { width.min(110.0) };
    let half = if two { rows.len().div_ceil(2) } else { rows.len() };
    let mut items = Vec::new();
    for (k, part) in rows.chunks(half.max(1)).enumerate() {
        let x = k as f64 * (each + GAP);
        items.extend(table(&format!("{prefix}/items/{}", k + 1), part, heads, x, each));
    }
    let width = if two { width } else { each };
    Block { items, width, height: PITCH * (half as f64 + 1.0) }
}

fn table(id: &str, rows: &[Row], heads: [&str; 3], x: f64, width: f64) -> Vec<Item> {
    let edges = [x, x + NUMBER, x + width - COUNT, x + width];
    let group = |role: Role, id: Option<String>, items| Item::Group { role, origin: None, id, items };
    let base = |k: usize| PITCH * (k as f64 + 1.0) - 1.5;
    let head = heads.iter().enumerate().map(|(c, text)| {
        let room = edges[c + 1] - edges[c] - 2.4;
        let item = fitted(pt(edges[c] + 1.2, base(0)), CAP, text, Face::Bold, room);
        group(Role::Cell(true), None, vec![item])
    });
    let mut body = vec![group(Role::Row, None, head.collect())];
    for (k, r) in rows.iter().enumerate() {
        let y = base(k + 1);
        let number = words(pt(edges[0] + 1.2, y), CAP, &r.number.to_string(), Face::Regular, Anchor::Start);
        let name = fitted(pt(edges[1] + 1.2, y), CAP, &r.name, Face::Regular, edges[2] - edges[1] - 2.4);
        let count = words(pt(edges[2] + 1.2, y), CAP, &r.count.to_string(), Face::Regular, Anchor::Start);
        let cells = [number, name, count].map(|i| group(Role::Cell(false), None, vec![i]));
        body.push(group(Role::Row, Some(format!("{id}/{}", r.id)), cells.into()));
    }
    let high = PITCH * (rows.len() as f64 + 1.0);
    let mut lines = vec![rect(pt(x, 0.0), pt(x + width, high), 0.35)];
    for k in 1..=rows.len() {
        let y = PITCH * k as f64;
        lines.push(line(pt(x, y), pt(x + width, y), 0.18));
    }
    for e in &edges[1..3] {
        lines.push(line(pt(*e, 0.0), pt(*e, high), 0.18));
    }
    vec![group(Role::Artifact, None, lines), group(Role::Table, Some(id.to_string()), body)]
}
