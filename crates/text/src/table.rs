//! Sets tables.
//!
//! In: columns, rows of cells, a width. Out: a set table whose rows are placed a range at a time, so
//! that the caller can break it over pages.
//! Always true: cells wrap inside their columns; the header is repeated on each page; a sub-heading
//! is never the last row of a page; rows are told apart by thin rules, not by tints, so that the page
//! prints well in black.

use std::ops::Range;

use turnleaf_diag::Origin;
use turnleaf_page::{Colour, Face, Item, Role, Step, Stroke, pt};

use crate::measure::width as text_width;
use crate::paragraph::{Align, Lines, Setting, Span, paragraph};

/// How wide a column is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Width {
    /// This many mm, cell padding included.
    Fixed(f64),
    /// As wide as its widest cell, but at most this many mm.
    Fit(f64),
    /// A share of what the others leave.
    Share(f64),
}

/// A column.
#[derive(Clone, Debug, PartialEq)]
pub struct Column {
    /// Words in the header row.
    pub title: String,
    /// Width.
    pub width: Width,
    /// Alignment of its cells and its title.
    pub align: Align,
}

impl Column {
    /// A left-aligned column.
    pub fn new(title: impl Into<String>, width: Width) -> Column {
        Column { title: title.into(), width, align: Align::Left }
    }
    /// A column of numbers, set to the right.
    pub fn number(title: impl Into<String>, width: Width) -> Column {
        Column { align: Align::Right, ..Column::new(title, width) }
    }
    /// Aligned otherwise.
    pub fn align(mut self, align: Align) -> Column {
        self.align = align;
        self
    }
}

/// A row.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Row {
    /// The cells, one a column; missing ones stay empty. In a sub-heading the first runs right across.
    pub cells: Vec<Vec<Span>>,
    /// Whether this is a sub-heading for the rows below it.
    pub heading: bool,
    /// The size or rule the row shows.
    pub origin: Option<Origin>,
    /// Stable identifier.
    pub id: Option<String>,
}

impl Row {
    /// A row of plain cells.
    pub fn new<S: Into<Span>>(cells: impl IntoIterator<Item = S>) -> Row {
        Row { cells: cells.into_iter().map(|c| vec![c.into()]).collect(), ..Row::default() }
    }
    /// A sub-heading.
    pub fn heading(words: impl Into<String>) -> Row {
        Row { cells: vec![vec![Span::new(words).bold()]], heading: true, ..Row::default() }
    }
    /// With the size or rule it shows.
    pub fn origin(mut self, origin: Origin) -> Row {
        self.origin = Some(origin);
        self
    }
    /// With an identifier.
    pub fn id(mut self, id: impl Into<String>) -> Row {
        self.id = Some(id.into());
        self
    }
}

/// A table before it is set.
#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    /// Columns.
    pub columns: Vec<Column>,
    /// Rows.
    pub rows: Vec<Row>,
    /// Font size, mm.
    pub size: f64,
    /// Space above and below the lines of a cell, mm.
    pub pad: f64,
    /// Space between columns, mm; none outside the first and the last, so that the table lines up
    /// with the text.
    pub gap: f64,
    /// Stable identifier, kept by every part of a broken table.
    pub id: Option<String>,
}

impl Table {
    /// A table at a font size.
    pub fn new(columns: Vec<Column>, size: f64) -> Table {
        Table { columns, rows: Vec::new(), size, pad: size * 0.28, gap: size * 1.3, id: None }
    }
    /// With other space above and below the lines of a cell, mm.
    pub fn pad(mut self, pad: f64) -> Table {
        self.pad = pad;
        self
    }
    /// With rows.
    pub fn rows(mut self, rows: impl IntoIterator<Item = Row>) -> Table {
        self.rows.extend(rows);
        self
    }
    /// With an identifier.
    pub fn id(mut self, id: impl Into<String>) -> Table {
        self.id = Some(id.into());
        self
    }
    fn setting(&self, align: Align) -> Setting {
        Setting::new(self.size).leading(self.size * 1.32).align(align)
    }

    /// Sets the table into a width. A row higher than `highest` (the height of a page) is cut into
    /// several, line by line.
    pub fn set(&self, width: f64, highest: f64) -> SetTable {
        let widths = self.widths(width);
        let mut x = 0.0;
        let columns: Vec<(f64, f64)> = widths
            .iter()
            .map(|w| {
                let here = x;
                x += w + self.gap;
                (here, *w)
            })
            .collect();
        let header = self.columns.iter().any(|c| !c.title.is_empty()).then(|| {
            let cells: Vec<Lines> = self
                .columns
                .iter()
                .zip(&columns)
                .map(|(c, (_, w))| paragraph(&[Span::new(c.title.clone()).bold()], *w, self.setting(c.align)))
                .collect();
            SetRow::whole(cells, None, 0.0, self.pad)
        });
        let head = header.as_ref().map_or(0.0, |h| h.height);
        let line = self.setting(Align::Left).leading;
        let most = (((highest - head - 2.0 * self.pad) / line).floor().max(1.0)) as usize;
        let mut rows = Vec::new();
        for (index, row) in self.rows.iter().enumerate() {
            let cells: Vec<Lines> = if row.heading {
                let spans = row.cells.first().map_or(&[] as &[Span], Vec::as_slice);
                vec![paragraph(spans, width, self.setting(Align::Left))]
            } else {
                let empty = Vec::new();
                let cell = |i: usize| row.cells.get(i).unwrap_or(&empty);
                (0..columns.len())
                    .map(|i| paragraph(cell(i), columns[i].1, self.setting(self.columns[i].align)))
                    .collect()
            };
            // A sub-heading keeps its distance from the rows above, so that it belongs to those below.
            let above = if row.heading && index > 0 { 2.0 * self.pad } else { 0.0 };
            rows.extend(SetRow::whole(cells, Some(index), above, self.pad).cut(most, self.pad));
        }
        SetTable { table: self.clone(), width, columns, header, rows }
    }

    /// Column widths without the gaps.
    fn widths(&self, width: f64) -> Vec<f64> {
        let n = self.columns.len();
        let room = (width - self.gap * n.saturating_sub(1) as f64).max(1.0);
        let natural = |i: usize| {
            let title = text_width(&self.columns[i].title, self.size, Face::Bold);
            let cells = self.rows.iter().filter(|r| !r.heading).filter_map(|r| r.cells.get(i));
            let widest = cells.map(|c| natural_width(c, self.size)).fold(title, f64::max);
            // A hundredth more, so that rounding cannot wrap the very cell that gave the width.
            widest + 0.01
        };
        let mut widths: Vec<f64> = (0..n)
            .map(|i| match self.columns[i].width {
                Width::Fixed(w) => w.max(0.1),
                Width::Fit(most) => natural(i).min(most.max(0.1)),
                Width::Share(_) => 0.0,
            })
            .collect();
        let share = |c: &Column| match c.width {
            Width::Share(s) => s.max(0.0),
            _ => 0.0,
        };
        let shares: f64 = self.columns.iter().map(share).sum();
        let taken: f64 = widths.iter().sum();
        // The sharing columns keep at least an eighth of the room each share, or the rest shrinks.
        let least = if shares > 0.0 { room * (0.125 * shares).min(0.5) } else { 0.0 };
        if taken > room - least && taken > 0.0 {
            let factor = (room - least).max(0.1) / taken;
            widths.iter_mut().for_each(|w| *w *= factor);
        }
        let left = (room - widths.iter().sum::<f64>()).max(0.0);
        for (w, c) in widths.iter_mut().zip(&self.columns) {
            if shares > 0.0 && matches!(c.width, Width::Share(_)) {
                *w = (left * share(c) / shares).max(0.1);
            }
        }
        widths
    }
}

/// Width of a cell set on one line (the longest of its lines when it has breaks).
fn natural_width(spans: &[Span], size: f64) -> f64 {
    let (mut widest, mut line): (f64, f64) = (0.0, 0.0);
    for span in spans {
        for (i, part) in span.text.split('\n').enumerate() {
            if i > 0 {
                widest = widest.max(line);
                line = 0.0;
            }
            line += text_width(part, size, span.face);
        }
    }
    widest.max(line)
}

/// A row with its lines.
#[derive(Clone, Debug, PartialEq)]
struct SetRow {
    cells: Vec<Lines>,
    /// Which row of the table this is (part of); `None` for the header.
    row: Option<usize>,
    /// Whether the next set row goes on with the same row.
    goes_on: bool,
    /// Extra space above the lines.
    above: f64,
    height: f64,
}

impl SetRow {
    fn whole(cells: Vec<Lines>, row: Option<usize>, above: f64, pad: f64) -> SetRow {
        let line = cells.first().map_or(0.0, |c| c.setting.leading);
        let height = above + cells.iter().map(Lines::height).fold(line, f64::max) + 2.0 * pad;
        SetRow { cells, row, goes_on: false, above, height }
    }
    /// Cut into rows of at most this many lines.
    fn cut(self, most: usize, pad: f64) -> Vec<SetRow> {
        let lines = self.cells.iter().map(Lines::len).max().unwrap_or(0);
        if lines <= most {
            return vec![self];
        }
        let parts = lines.div_ceil(most);
        (0..parts)
            .map(|part| {
                let cells = self
                    .cells
                    .iter()
                    .map(|c| {
                        let from = (part * most).min(c.len());
                        let to = (from + most).min(c.len());
                        Lines { setting: c.setting, lines: c.lines[from..to].to_vec() }
                    })
                    .collect();
                let above = if part == 0 { self.above } else { 0.0 };
                let mut row = SetRow::whole(cells, self.row, above, pad);
                row.goes_on = part + 1 < parts;
                row
            })
            .collect()
    }
}

/// A table with its lines broken.
#[derive(Clone, Debug, PartialEq)]
pub struct SetTable {
    table: Table,
    width: f64,
    /// Left edge and width of each column.
    columns: Vec<(f64, f64)>,
    header: Option<SetRow>,
    rows: Vec<SetRow>,
}

impl SetTable {
    /// Number of set rows (more than the table's when rows had to be cut).
    pub fn len(&self) -> usize {
        self.rows.len()
    }
    /// Whether there are no rows.
    pub fn is_empty(&self) -> bool {
        self.rows.is_empty()
    }
    /// Left edge and width of each column, mm from the left edge of the table.
    pub fn columns(&self) -> &[(f64, f64)] {
        &self.columns
    }
    /// Height of a range of rows with the header above them, mm.
    pub fn height(&self, range: Range<usize>) -> f64 {
        let head = self.header.as_ref().map_or(0.0, |h| h.height);
        head + self.rows[self.clamp(range)].iter().map(|r| r.height).sum::<f64>()
    }
    fn clamp(&self, range: Range<usize>) -> Range<usize> {
        let end = range.end.min(self.rows.len());
        range.start.min(end)..end
    }
    /// How many rows from the given one on fit into a height together with the header. A sub-heading
    /// goes to the next page with its rows. 0 means "start on a new page"; on an empty page (of the
    /// height the table was set for) at least one always fits.
    pub fn fit(&self, from: usize, height: f64) -> usize {
        let mut used = self.header.as_ref().map_or(0.0, |h| h.height);
        let mut take = 0;
        for row in self.rows.iter().skip(from) {
            used += row.height;
            // A hundredth of a millimetre of grace against the sum of rounding errors.
            if used > height + 0.01 {
                break;
            }
            take += 1;
        }
        if from + take < self.rows.len() {
            while take > 0 && self.is_heading(from + take - 1) {
                take -= 1;
            }
        }
        take
    }
    fn is_heading(&self, set_row: usize) -> bool {
        self.rows[set_row].row.is_some_and(|r| self.table.rows[r].heading)
    }
    /// The items of a range of rows, header first, with the top left corner of the header's box at the
    /// point, as one group of role table.
    pub fn place(&self, range: Range<usize>, x: f64, top: f64) -> Item {
        let range = self.clamp(range);
        let mut items = Vec::new();
        let mut y = top;
        let thick = Stroke { round: false, ..Stroke::solid(0.35) };
        let thin = Stroke { round: false, colour: Colour(110, 110, 110), ..Stroke::solid(0.13) };
        let rule = |y: f64, stroke: &Stroke| {
            let steps = vec![Step::Move(pt(x, y)), Step::Line(pt(x + self.width, y))];
            Item::Path { steps, stroke: Some(stroke.clone()), fill: None }
        };
        if let Some(header) = &self.header {
            items.push(self.row(header, x, y));
            y += header.height;
        }
        items.push(rule(y, &thick));
        let last = range.end;
        for i in range {
            let row = &self.rows[i];
            items.push(self.row(row, x, y));
            y += row.height;
            let strong = i + 1 == last || self.is_heading(i);
            if !row.goes_on || i + 1 == last {
                items.push(rule(y, if strong { &thick } else { &thin }));
            }
        }
        Item::Group { role: Role::Table, origin: None, id: self.table.id.clone(), items }
    }
    fn row(&self, row: &SetRow, x: f64, top: f64) -> Item {
        let source = row.row.map(|r| &self.table.rows[r]);
        let header = row.row.is_none() || source.is_some_and(|s| s.heading);
        let cells = row
            .cells
            .iter()
            .enumerate()
            .map(|(i, lines)| {
                let left = x + self.columns.get(i).map_or(0.0, |c| c.0);
                let items = lines.place(0..lines.len(), left, top + row.above + self.table.pad);
                Item::Group { role: Role::Cell(header), origin: None, id: None, items }
            })
            .collect();
        Item::Group {
            role: Role::Row,
            origin: source.and_then(|s| s.origin),
            id: source.and_then(|s| s.id.clone()),
            items: cells,
        }
    }
}
