//! Lays a grid of tiles over a part.
//!
//! In: a part's lines, paper, overlap, margin, what the printer loses. Out: a [`Grid`].
//! Always true: of upright and sideways, and of several places of the grid, the one with the fewest tiles is
//! taken; tiles without lines are left out; tiles hang together edge to edge, so that they can be joined.
//!
//! ```text
//!   printable area                      a cell and its overlap
//!   +--------------------------+
//!   |        TOP               |        . . . . . . . .   field: what is drawn
//!   |    +-----------------+   |        . +---------+ .
//!   |LEFT|     field       |RIGHT       . |  cell   | .   half the overlap all round
//!   |    |                 |   |        . +---------+ .
//!   |    +-----------------+   |        . . . . . . . .
//!   |        BOTTOM            |
//!   +--------------------------+
//! ```

use crate::clip::{Frame, clip};
use crate::drawn::Drawn;
use crate::options::TemplateOptions;
use turnleaf_geom::{Seg, Vec2, vec2::v};
use turnleaf_page::{Pt, pt};

/// Left of the field, mm: upright check bars and the words of the joint.
pub const LEFT: f64 = 14.0;
/// Below the field, mm: level check bars, title, words of the joint.
pub const BOTTOM: f64 = 19.0;
/// Right of and above the field, mm: words of the joint.
pub const EDGE: f64 = 4.0;
/// Kept between the part and the edge of the outermost fields, mm.
const AIR: f64 = 2.5;
/// Where the grid may stand within the room it has to spare: the middle first.
const PLACES: [f64; 13] = [0.5, 0.44, 0.56, 0.38, 0.62, 0.31, 0.69, 0.23, 0.77, 0.14, 0.86, 0.05, 0.95];
/// Lines of the part this near a joint, and along it, make joining harder, mm.
const NEAR: f64 = 11.0;

/// A grid of tiles. Rows run down from A, columns right from 1.
#[derive(Clone, Debug, PartialEq)]
pub struct Grid {
    /// Paper width, mm.
    pub width: f64,
    /// Paper height, mm.
    pub height: f64,
    /// Whether the paper lies on its side.
    pub landscape: bool,
    /// Upper left corner of the field on paper.
    pub field: Pt,
    /// Lower right corner of the field on paper.
    pub field_end: Pt,
    /// Paper mm per true mm, level and upright: what makes up for the printer.
    pub k: Vec2,
    /// Half the overlap in true mm, level and upright.
    pub half: Vec2,
    /// Upper left corner of the first cell in the part's frame.
    pub corner: Vec2,
    /// Size of a cell, true mm.
    pub cell: Vec2,
    /// Number of rows.
    pub rows: usize,
    /// Number of columns.
    pub columns: usize,
    present: Vec<bool>,
}

/// A tile by row and column, from 0.
pub type Tile = (usize, usize);

/// "B2".
pub fn name((row, column): Tile) -> String {
    let letter = |i: usize| char::from(b'A' + (i % 26) as u8);
    let row =
        if row < 26 { letter(row).to_string() } else { format!("{}{}", letter(row / 26 - 1), letter(row)) };
    format!("{row}{}", column + 1)
}

impl Grid {
    /// Tiles that are printed, in reading order.
    pub fn tiles(&self) -> impl Iterator<Item = Tile> + '_ {
        (0..self.rows).flat_map(|r| (0..self.columns).map(move |c| (r, c))).filter(|t| self.has(*t))
    }
    /// Whether a tile is printed.
    pub fn has(&self, (r, c): Tile) -> bool {
        r < self.rows && c < self.columns && self.present[r * self.columns + c]
    }
    /// Name of the tile in the last row and column.
    pub fn last_name(&self) -> String {
        name((self.rows - 1, self.columns - 1))
    }
    /// A tile's cell in the part's frame, between the middles of its overlaps.
    pub fn cell_of(&self, (r, c): Tile) -> Frame {
        let left = self.corner.x + c as f64 * self.cell.x;
        let top = self.corner.y - r as f64 * self.cell.y;
        Frame { lo: v(left, top - self.cell.y), hi: v(left + self.cell.x, top) }
    }
    /// What a tile shows, in the part's frame.
    pub fn field_of(&self, tile: Tile) -> Frame {
        let c = self.cell_of(tile);
        Frame { lo: c.lo - self.half, hi: c.hi + self.half }
    }
    /// What only this tile shows: its cell, and the overlap on sides where no tile can be.
    pub fn own_of(&self, tile: Tile) -> Frame {
        let mut c = self.cell_of(tile);
        let (r, k) = tile;
        if k == 0 {
            c.lo.x -= self.half.x;
        }
        if k + 1 == self.columns {
            c.hi.x += self.half.x;
        }
        if r == 0 {
            c.hi.y += self.half.y;
        }
        if r + 1 == self.rows {
            c.lo.y -= self.half.y;
        }
        c
    }
    /// Where a point of the part lies on a tile's paper.
    pub fn place(&self, tile: Tile, p: Vec2) -> Pt {
        let f = self.field_of(tile);
        pt(self.field.x + (p.x - f.lo.x) * self.k.x, self.field.y + (f.hi.y - p.y) * self.k.y)
    }
}

/// Sizes of fields for a paper lying one way.
fn empty(options: &TemplateOptions, landscape: bool) -> Grid {
    let (short, long) = options.paper.sides();
    let (width, height) = if landscape { (long, short) } else { (short, long) };
    let m = options.margin;
    let field = pt(m + LEFT, m + EDGE);
    let field_end = pt(width - m - EDGE, height - m - BOTTOM);
    // The measured bars belong to the paper's sides, whichever way it lies.
    let (across, along) = (100.0 / options.measured_x, 100.0 / options.measured_y);
    let k = if landscape { v(along, across) } else { v(across, along) };
    let half = v(options.overlap / 2.0 / k.x, options.overlap / 2.0 / k.y);
    let shown = v((field_end.x - field.x) / k.x, (field_end.y - field.y) / k.y);
    Grid {
        width,
        height,
        landscape,
        field,
        field_end,
        k,
        half,
        corner: Vec2::ZERO,
        cell: shown - half * 2.0,
        rows: 1,
        columns: 1,
        present: Vec::new(),
    }
}

/// The best grid for a part.
pub fn arrange(drawn: &Drawn, options: &TemplateOptions) -> Grid {
    let samples = samples(drawn);
    let mut best: Option<(f64, Grid)> = None;
    for landscape in [false, true] {
        let mut grid = empty(options, landscape);
        let size = drawn.hi - drawn.lo + v(2.0 * AIR, 2.0 * AIR);
        let count = |size: f64, cell: f64, half: f64| (((size - 2.0 * half) / cell).ceil().max(1.0)) as usize;
        grid.columns = count(size.x, grid.cell.x, grid.half.x);
        grid.rows = count(size.y, grid.cell.y, grid.half.y);
        let whole = v(
            grid.columns as f64 * grid.cell.x + 2.0 * grid.half.x,
            grid.rows as f64 * grid.cell.y + 2.0 * grid.half.y,
        );
        let spare = whole - size;
        for sx in PLACES {
            for sy in PLACES {
                let left = drawn.lo.x - AIR - spare.x * sx + grid.half.x;
                let top = drawn.hi.y + AIR + spare.y * sy - grid.half.y;
                grid.corner = v(left, top);
                let cost = cost(&grid, &samples) + 0.2 * ((sx - 0.5).abs() + (sy - 0.5).abs());
                // Upright paper is easier to handle; of equals it wins.
                if best.as_ref().is_none_or(|b| cost < b.0 - 1e-9) {
                    best = Some((cost, grid.clone()));
                }
            }
        }
    }
    // Two papers and 169 places each were tried, so there is a best one.
    let mut grid = best.map_or_else(|| empty(options, false), |b| b.1);
    grid.present = vec![false; grid.rows * grid.columns];
    for r in 0..grid.rows {
        for c in 0..grid.columns {
            let own = grid.own_of((r, c));
            let shown = drawn.needed().flat_map(|l| &l.segs).any(|s| !clip(s, &own).is_empty());
            grid.present[r * grid.columns + c] = shown;
        }
    }
    connect(&mut grid);
    grid
}

/// Drops axes of symmetry that run along a joint: there a cross's letter and the cut line take their place, and
/// the axis only helps the eye.
pub fn drop_axes_on_joints(drawn: &mut Drawn, grid: &Grid) {
    let near = |offset: f64, cell: f64, count: usize| {
        let k = (offset / cell).round();
        k >= 1.0 && k < count as f64 && (offset - k * cell).abs() < NEAR
    };
    drawn.lines.retain(|l| match l.id.as_str() {
        "axis/x" => !near(grid.corner.y, grid.cell.y, grid.rows),
        "axis/y" => !near(-grid.corner.x, grid.cell.x, grid.columns),
        _ => true,
    });
}

/// A point on a line with the direction the line has there and the length it stands for.
struct Sample {
    at: Vec2,
    along: Vec2,
    length: f64,
    /// Centre lines need no tile, but should not run along a joint.
    counts: bool,
}

fn samples(drawn: &Drawn) -> Vec<Sample> {
    const STEP: f64 = 5.0;
    let mut out = Vec::new();
    // Axes are dropped where they run along a joint, so they need not be kept away from one.
    for line in drawn.lines.iter().filter(|l| !l.id.starts_with("axis/")) {
        let counts = line.kind != crate::pen::Kind::Centre;
        for seg in &line.segs {
            let n = (seg.length() / STEP).ceil().max(1.0);
            for i in 0..n as usize {
                let t = (i as f64 + 0.5) / n;
                let (at, along) = match seg {
                    Seg::Line(a, b) => (a.lerp(*b, t), (*b - *a).unit()),
                    Seg::Arc(arc) => {
                        let at = arc.at(t);
                        (at, (at - arc.centre).unit().perp())
                    }
                };
                out.push(Sample { at, along, length: seg.length() / n, counts });
            }
        }
    }
    out
}

/// Tiles needed, and a little for every line that runs along a joint.
fn cost(grid: &Grid, samples: &[Sample]) -> f64 {
    let mut seen = vec![false; grid.rows * grid.columns];
    let mut beside = 0.0;
    for s in samples {
        let x = (s.at.x - grid.corner.x) / grid.cell.x;
        let y = (grid.corner.y - s.at.y) / grid.cell.y;
        let index = |t: f64, n: usize| (t.floor().max(0.0) as usize).min(n - 1);
        if s.counts {
            seen[index(y, grid.rows) * grid.columns + index(x, grid.columns)] = true;
        }
        let joint = |t: f64, n: usize, cell: f64| {
            let k = t.round();
            k >= 1.0 && k <= n as f64 - 1.0 && (t - k).abs() * cell < NEAR
        };
        if (joint(x, grid.columns, grid.cell.x) && s.along.x.abs() < 0.2)
            || (joint(y, grid.rows, grid.cell.y) && s.along.y.abs() < 0.2)
        {
            beside += s.length;
        }
    }
    seen.iter().filter(|s| **s).count() as f64 + 0.9 * beside / (beside + 200.0)
}

fn neighbours(grid: &Grid, (r, c): Tile) -> Vec<Tile> {
    let mut out = Vec::new();
    if r > 0 {
        out.push((r - 1, c));
    }
    if c > 0 {
        out.push((r, c - 1));
    }
    if r + 1 < grid.rows {
        out.push((r + 1, c));
    }
    if c + 1 < grid.columns {
        out.push((r, c + 1));
    }
    out
}

/// Adds tiles without lines where without them a group of tiles would hang on nothing.
fn connect(grid: &mut Grid) {
    loop {
        let Some(first) = grid.tiles().next() else { return };
        let index = |t: Tile, grid: &Grid| t.0 * grid.columns + t.1;
        // Everything that hangs together with the first tile.
        let mut joined = vec![false; grid.present.len()];
        let mut open = vec![first];
        joined[index(first, grid)] = true;
        while let Some(t) = open.pop() {
            for n in neighbours(grid, t) {
                if grid.has(n) && !joined[index(n, grid)] {
                    joined[index(n, grid)] = true;
                    open.push(n);
                }
            }
        }
        if grid.tiles().all(|t| joined[index(t, grid)]) {
            return;
        }
        // The shortest way over blank tiles to another group, breadth first.
        let mut from: Vec<Option<Tile>> = vec![None; grid.present.len()];
        let mut queue: std::collections::VecDeque<Tile> =
            grid.tiles().filter(|t| joined[index(*t, grid)]).collect();
        let mut reached = joined.clone();
        let mut way = Vec::new();
        while let Some(t) = queue.pop_front() {
            if grid.has(t) && !joined[index(t, grid)] {
                let mut at = t;
                while let Some(before) = from[index(at, grid)] {
                    way.push(before);
                    at = before;
                }
                break;
            }
            for n in neighbours(grid, t) {
                if !reached[index(n, grid)] {
                    reached[index(n, grid)] = true;
                    from[index(n, grid)] = Some(t);
                    queue.push_back(n);
                }
            }
        }
        if way.is_empty() {
            return;
        }
        for t in way {
            let i = index(t, grid);
            grid.present[i] = true;
        }
    }
}
