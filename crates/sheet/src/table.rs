//! Tables of holes and of edges.
//!
//! In: a drawing's rows and printed figures. Out: blocks.
//! Always true: every figure in a table is a group with its dimension's identifier; cells break only between
//! words, so a figure is never parted from its sign or unit.

use crate::GAP;
use crate::block::{Block, line, rect};
use turnleaf_dimension::drawing::{Drawing, Piece, Row};
use turnleaf_dimension::printed::Figure;
use turnleaf_page::{Face, Item, Role, Text, pt};
use turnleaf_text::{size_for_cap_height, width};

/// Height of capitals in tables.
const CAP: f64 = 2.5;
const PAD: f64 = 1.3;

/// How far lines of a table stand apart.
#[derive(Clone, Copy)]
struct Lead {
    /// From line to line, mm.
    pitch: f64,
    /// From the upper line of a row to the base of its first line of text, mm.
    first: f64,
    /// More after each row, mm.
    more: f64,
}

/// As tables are usually set.
const USUAL: Lead = Lead { pitch: 4.4, first: 3.5, more: 0.8 };
/// As closely as the notes: 1.5 times the height of capitals, the least of ISO 3098-1 for type B without marks over
/// capitals (from memory).
const CLOSE: Lead = Lead { pitch: 3.8, first: 3.4, more: 0.6 };

/// What may not be broken: runs of words and figures without a space between them.
type Atom = Vec<(String, Option<usize>)>;

struct Column {
    /// In English.
    head: &'static str,
    /// Widest it may get, mm.
    most: f64,
}

fn atoms(pieces: &[Piece], figures: &[Figure], d: &Drawing) -> Vec<Atom> {
    let mut out: Vec<Atom> = Vec::new();
    let mut glued = false;
    let push = |run: (String, Option<usize>), glue: bool, out: &mut Vec<Atom>| match out.last_mut() {
        Some(last) if glue => last.push(run),
        _ => out.push(vec![run]),
    };
    for p in pieces {
        match p {
            Piece::Figure(i) => {
                let mut runs = figures[*i].runs();
                if d.dimensions[*i].reference {
                    runs = vec![format!("({})", figures[*i].text())];
                }
                for (k, text) in runs.into_iter().enumerate() {
                    push((text, Some(*i)), glued && k == 0, &mut out);
                }
                glued = true;
            }
            Piece::Words(w) => {
                let mut glue = glued && !w.starts_with(' ');
                for part in w.split(' ').filter(|q| !q.is_empty()) {
                    push((part.to_string(), None), glue, &mut out);
                    glue = false;
                }
                glued = !w.ends_with(' ') && !w.is_empty();
            }
        }
    }
    out
}

fn run_width(text: &str, face: Face) -> f64 {
    width(text, size_for_cap_height(CAP), face)
}

fn atom_width(a: &Atom) -> f64 {
    a.iter().map(|r| run_width(&r.0, Face::Regular)).sum()
}

/// Lines of atoms no wider than `room`.
fn broken(atoms: Vec<Atom>, room: f64) -> Vec<Vec<Atom>> {
    let space = run_width("n n", Face::Regular) - run_width("nn", Face::Regular);
    let mut out: Vec<Vec<Atom>> = vec![Vec::new()];
    let mut used = 0.0;
    for a in atoms {
        let w = atom_width(&a);
        let last = out.len() - 1;
        if !out[last].is_empty() && used + space + w > room {
            out.push(vec![a]);
            used = w;
        } else {
            used += w + if out[last].is_empty() { 0.0 } else { space };
            out[last].push(a);
        }
    }
    out
}

fn lines_width(lines: &[Vec<Atom>]) -> f64 {
    let space = run_width("n n", Face::Regular) - run_width("nn", Face::Regular);
    lines
        .iter()
        .map(|l| l.iter().map(atom_width).sum::<f64>() + space * (l.len().max(1) - 1) as f64)
        .fold(0.0, f64::max)
}

/// A table from plain cells.
fn table(
    id: &str,
    title: &str,
    columns: &[Column],
    rows: Vec<Vec<Vec<Atom>>>,
    d: &Drawing,
    lead: Lead,
) -> Block {
    let size = size_for_cap_height(CAP);
    let space = run_width("n n", Face::Regular) - run_width("nn", Face::Regular);
    let cells: Vec<Vec<Vec<Vec<Atom>>>> = rows
        .into_iter()
        .map(|r| r.into_iter().zip(columns).map(|(a, c)| broken(a, c.most)).collect())
        .collect();
    let widths: Vec<f64> = columns
        .iter()
        .enumerate()
        .map(|(k, c)| {
            let head = run_width(&d.tongue.say(c.head), Face::Bold);
            cells.iter().map(|r| lines_width(&r[k])).fold(head, f64::max) + 2.0 * PAD
        })
        .collect();
    let total: f64 = widths.iter().sum();
    let mut items = Vec::new();
    let mut y = 0.0;
    if !title.is_empty() {
        let words = Item::Text(Text::new(pt(0.0, CAP), size, title).face(Face::Bold));
        items.push(Item::Group { role: Role::Caption, origin: None, id: None, items: vec![words] });
        y += CAP + 1.8;
    }
    let top = y;
    let mut head = Vec::new();
    let mut x = 0.0;
    for (c, w) in columns.iter().zip(&widths) {
        let text = Item::Text(
            Text::new(pt(x + PAD, y + lead.first - 0.1), size, d.tongue.say(c.head)).face(Face::Bold),
        );
        head.push(Item::Group { role: Role::Cell(true), origin: None, id: None, items: vec![text] });
        x += w;
    }
    let mut body = vec![Item::Group { role: Role::Row, origin: None, id: None, items: head }];
    y += lead.pitch + lead.more;
    let mut rules = vec![y];
    for r in &cells {
        let lines = r.iter().map(Vec::len).max().unwrap_or(1);
        let mut row = Vec::new();
        let mut x = 0.0;
        for (cell, w) in r.iter().zip(&widths) {
            let mut inside = Vec::new();
            for (n, l) in cell.iter().enumerate() {
                let base = y + lead.first + lead.pitch * n as f64;
                let mut at = x + PAD;
                for (k, atom) in l.iter().enumerate() {
                    if k > 0 {
                        at += space;
                    }
                    for (text, dim) in atom {
                        let item = Item::Text(Text::new(pt(at, base), size, text.clone()));
                        at += run_width(text, Face::Regular);
                        let Some(i) = dim else {
                            inside.push(item);
                            continue;
                        };
                        let name = &d.dimensions[*i].id;
                        // A size and its limits are one figure, on one line or two.
                        match inside.last_mut() {
                            Some(Item::Group { id: Some(id), items, .. }) if id == name => items.push(item),
                            _ => inside.push(Item::Group {
                                role: Role::Dimension,
                                origin: d.dimensions[*i].origin,
                                id: Some(name.clone()),
                                items: vec![item],
                            }),
                        }
                    }
                }
            }
            row.push(Item::Group { role: Role::Cell(false), origin: None, id: None, items: inside });
            x += w;
        }
        body.push(Item::Group { role: Role::Row, origin: None, id: None, items: row });
        y += lead.pitch * lines as f64 + lead.more;
        rules.push(y);
    }
    let group = Item::Group { role: Role::Table, origin: None, id: Some(id.to_string()), items: body };
    let mut lines = vec![rect(pt(0.0, top), pt(total, y), 0.35)];
    for r in &rules[..rules.len() - 1] {
        lines.push(line(pt(0.0, *r), pt(total, *r), 0.18));
    }
    let mut x = 0.0;
    for w in &widths[..widths.len() - 1] {
        x += w;
        lines.push(line(pt(x, top), pt(x, y), 0.18));
    }
    items.push(Item::Group { role: Role::Artifact, origin: None, id: None, items: lines });
    items.push(group);
    Block { items, width: total, height: y }
}

fn plain(text: &str) -> Vec<Atom> {
    text.split_whitespace().map(|w| vec![(w.to_string(), None)]).collect()
}

/// How much wider than usual the columns of a low table may be.
const LOW: f64 = 1.7;

/// The same in wider columns, so that fewer cells take several lines; nothing where that makes them no lower.
pub fn low_holes(d: &Drawing, figures: &[Figure], room: f64) -> Option<Vec<Block>> {
    let usual = holes(d, figures, usize::MAX, room);
    let mut wide = LOW;
    while wide > 1.0 {
        let blocks = holes_within(d, figures, usize::MAX, wide);
        if blocks.iter().all(|b| b.width <= room) {
            let lower = blocks.iter().zip(&usual).any(|(a, b)| a.height < b.height - 0.1);
            return lower.then_some(blocks);
        }
        wide -= 0.1;
    }
    None
}

/// Widths of notes beside which a closely set table is tried, mm; nothing beside it first.
const NOTES_BESIDE: [f64; 4] = [0.0, 50.0, 60.0, 70.0];

/// The same with rows set closely, as low as may be in the whole room, then beside notes; only what fits.
pub fn close_holes(d: &Drawing, figures: &[Figure], room: f64) -> Vec<Vec<Block>> {
    let mut out: Vec<Vec<Block>> = Vec::new();
    if d.rows.is_empty() {
        return out;
    }
    let columns = hole_columns(d, LOW);
    let cells = hole_cells(d, figures, &d.rows);
    for notes in NOTES_BESIDE {
        let room = if notes > 0.0 { room - notes - GAP } else { room };
        let Some(most) = lowest(&cells, &columns, room, d) else { continue };
        let columns: Vec<Column> =
            columns.iter().zip(most).map(|(c, most)| Column { head: c.head, most }).collect();
        let (id, title) = (format!("{}/holes/1", d.part), d.tongue.say("Holes, slots and recesses"));
        let block = table(&id, &title, &columns, cells.clone(), d, CLOSE);
        if out.iter().all(|known| known[0].width > block.width + 0.1) {
            out.push(vec![block]);
        }
    }
    out
}

/// Widths of columns that make a table of these cells as low as may be within `room`: wide to begin with, then each
/// time the column is narrowed that costs the fewest lines for the room it gives. Nothing when none fits.
fn lowest(cells: &[Vec<Vec<Atom>>], columns: &[Column], room: f64, d: &Drawing) -> Option<Vec<f64>> {
    // Every width a column can take, widest first, and how many lines each row then has.
    let ways: Vec<Vec<(f64, Vec<usize>)>> = columns
        .iter()
        .enumerate()
        .map(|(k, c)| {
            let mut out: Vec<(f64, Vec<usize>)> = Vec::new();
            let mut most = c.most;
            loop {
                let lines: Vec<_> = cells.iter().map(|r| broken(r[k].clone(), most)).collect();
                let wide = lines.iter().map(|l| lines_width(l)).fold(0.0, f64::max);
                if out.last().is_some_and(|last| wide >= last.0 - 1e-9) {
                    break;
                }
                out.push((wide, lines.iter().map(Vec::len).collect()));
                most = wide - 1e-6;
            }
            out
        })
        .collect();
    let heads: Vec<f64> = columns.iter().map(|c| run_width(&d.tongue.say(c.head), Face::Bold)).collect();
    let wide =
        |at: &[usize]| -> f64 { (0..at.len()).map(|k| ways[k][at[k]].0.max(heads[k]) + 2.0 * PAD).sum() };
    let lines = |at: &[usize]| -> usize {
        (0..cells.len()).map(|r| (0..at.len()).map(|k| ways[k][at[k]].1[r]).max().unwrap_or(1)).sum()
    };
    let mut at = vec![0; columns.len()];
    while wide(&at) > room {
        let (now, used) = (wide(&at), lines(&at));
        let mut best: Option<(f64, Vec<usize>)> = None;
        for k in 0..at.len() {
            for further in at[k] + 1..ways[k].len() {
                let mut next = at.clone();
                next[k] = further;
                let won = now - wide(&next);
                if won <= 1e-9 {
                    continue;
                }
                // More room than is needed is worth nothing.
                let cost = (lines(&next) - used) as f64 / won.min(now - room);
                if best.as_ref().is_none_or(|b| cost < b.0 - 1e-12) {
                    best = Some((cost, next));
                }
            }
        }
        at = best?.1;
    }
    // A hair more than the widest line, which must not break.
    Some((0..at.len()).map(|k| ways[k][at[k]].0 + 1e-6).collect())
}

/// Tables of holes, slots and recesses: one block for every `limit` rows, no wider than `room` mm where narrower
/// columns can do it.
pub fn holes(d: &Drawing, figures: &[Figure], limit: usize, room: f64) -> Vec<Block> {
    let mut narrow = 1.0;
    loop {
        let blocks = holes_within(d, figures, limit, narrow);
        if narrow < 0.35 || blocks.iter().all(|b| b.width <= room) {
            return blocks;
        }
        narrow -= 0.1;
    }
}

fn hole_columns(d: &Drawing, wide: f64) -> [Column; 7] {
    let (first, second) = if d.polar { ("From centre", "Angle") } else { ("X", "Y") };
    [
        Column { head: "Mark", most: 12.0 },
        Column { head: "No.", most: 8.0 },
        Column { head: "For", most: 32.0 * wide },
        Column { head: "Size", most: 26.0 * wide },
        Column { head: first, most: 28.0 * wide },
        Column { head: second, most: 32.0 * wide },
        Column { head: "Depth", most: 20.0 * wide },
    ]
}

fn hole_cells(d: &Drawing, figures: &[Figure], rows: &[Row]) -> Vec<Vec<Vec<Atom>>> {
    let one = |r: &Row| {
        let count = if r.count == 0 { String::new() } else { r.count.to_string() };
        let mut cells = vec![plain(&r.label), plain(&count), plain(&r.purpose)];
        cells.extend(r.cells.iter().map(|c| atoms(c, figures, d)));
        cells
    };
    rows.iter().map(one).collect()
}

fn holes_within(d: &Drawing, figures: &[Figure], limit: usize, wide: f64) -> Vec<Block> {
    let columns = hole_columns(d, wide);
    let chunks = d.rows.chunks(limit.max(1)).enumerate();
    chunks
        .map(|(k, rows)| {
            let title =
                if k == 0 { "Holes, slots and recesses" } else { "Holes, slots and recesses (continued)" };
            let cells = hole_cells(d, figures, rows);
            table(&format!("{}/holes/{}", d.part, k + 1), &d.tongue.say(title), &columns, cells, d, USUAL)
        })
        .collect()
}

/// The table of edges, if there are any.
pub fn edges(d: &Drawing, figures: &[Figure]) -> Option<Block> {
    if d.edges.is_empty() {
        return None;
    }
    let columns = [
        Column { head: "Edge", most: 12.0 },
        Column { head: "No.", most: 8.0 },
        Column { head: "What", most: 18.0 },
        Column { head: "Measured from", most: 38.0 },
        Column { head: "Begins", most: 24.0 },
        Column { head: "Ends", most: 24.0 },
    ];
    let cells = d
        .edges
        .iter()
        .map(|r| {
            vec![
                plain(&r.label),
                plain(&r.members.len().to_string()),
                plain(&r.what),
                plain(&r.base),
                atoms(&r.begins, figures, d),
                atoms(&r.ends, figures, d),
            ]
        })
        .collect();
    Some(table(&format!("{}/edges", d.part), &d.tongue.say("Along the edges"), &columns, cells, d, USUAL))
}

/// Tables of the centre lines of curved slots: one block each, cut into pieces of `limit` stations.
pub fn ways(d: &Drawing, figures: &[Figure], limit: usize) -> Vec<Block> {
    let (first, second) = if d.polar { ("From centre", "Angle") } else { ("X", "Y") };
    let columns = [
        Column { head: "Station", most: 14.0 },
        Column { head: first, most: 28.0 },
        Column { head: second, most: 28.0 },
        Column { head: "Arc to the next", most: 40.0 },
    ];
    let mut out = Vec::new();
    for w in &d.ways {
        for (k, rows) in w.stations.chunks(limit.max(1)).enumerate() {
            let cells = rows
                .iter()
                .enumerate()
                .map(|(n, r)| {
                    let mut cells = vec![plain(&(k * limit.max(1) + n + 1).to_string())];
                    cells.extend(r.iter().map(|c| atoms(c, figures, d)));
                    cells
                })
                .collect();
            let more = if k == 0 { "" } else { " (continued)" };
            let title = format!("Table {}: centre line of the slot{more}", w.label);
            out.push(table(
                &format!("{}/way/{}/{}", d.part, w.label, k + 1),
                &d.tongue.say(&title),
                &columns,
                cells,
                d,
                USUAL,
            ));
        }
    }
    out
}
