//! Sets blocks one below the other and breaks them over pages.
//!
//! In: headings, paragraphs, tables, figures. Out: [`Draft`] pages of one chapter.
//! Always true: nothing is placed below the foot; a heading stands with what follows it; a figure stands
//! with its caption; no single line of a paragraph is left behind at a page's foot or head.

use crate::draw::{furniture, group, level};
use crate::grid::{BLOCK, BODY, Grid, LEADING, SECTION, SMALL, THICK, TINY, TITLE, grey_rule, rule};
use turnleaf_diag::Diagnostic;
use turnleaf_page::{Bookmark, Item, Pt, Role, Text, pt};
use turnleaf_text::{Lines, SetTable, Setting, Span, Table, labelled, paragraph};

/// A page being filled.
#[derive(Clone, Debug, Default)]
pub struct Draft {
    /// What is on it.
    pub items: Vec<Item>,
}

/// A picture with its top left corner at the origin.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    /// Stable identifier.
    pub id: String,
    /// What it shows, for those who cannot see it.
    pub alt: String,
    /// Width, mm.
    pub width: f64,
    /// Height, mm.
    pub height: f64,
    /// Contents.
    pub items: Vec<Item>,
}

impl Figure {
    /// The figure at a corner.
    pub fn at(&self, x: f64, y: f64) -> Item {
        let role = Role::Figure { alt: self.alt.clone() };
        group(role, Some(self.id.clone()), crate::draw::moved(&self.items, x, y))
    }
}

/// A heading that waits for its block.
struct Head {
    lines: Lines,
    mark: String,
    /// Small paragraphs below it.
    below: Vec<Lines>,
}

/// Space above a small paragraph in the side column, mm.
const ASIDE: f64 = 1.2;

impl Head {
    fn tall(&self) -> f64 {
        self.lines.height() + self.below.iter().map(|l| ASIDE + l.height()).sum::<f64>()
    }
}

/// Pages of one chapter in the making.
pub struct Flow<'g> {
    grid: &'g Grid,
    id: String,
    title: String,
    number: usize,
    /// Finished and current pages.
    pub pages: Vec<Draft>,
    /// Sections of the chapter.
    pub sections: Vec<Bookmark>,
    /// What did not fit.
    pub said: Vec<Diagnostic>,
    y: f64,
    side_bottom: f64,
    head: Option<Head>,
    /// Room that the next block keeps free below it for what must follow it on the same page.
    keep: f64,
    /// Nothing but the title stands on the page yet.
    fresh: bool,
    /// The first page is the last one of the chapter before, and nothing but the title stands on it yet, or more.
    shared: bool,
    paragraphs: usize,
    tables: usize,
    figures: usize,
}

/// Space between the columns of a table in two, mm.
const TWINS: f64 = 8.0;
/// No fewer rows of it go on to another page: two in each column.
const FEW: usize = 4;
/// Space above the title of a chapter that begins on the page of another, mm.
const APART: f64 = 9.0;
/// What such a chapter needs below that space for its title and enough of what follows it, mm.
const OPENING: f64 = 43.0;

/// The setting of running text.
pub fn body() -> Setting {
    Setting::new(BODY).leading(LEADING)
}

/// The setting of captions and remarks.
pub fn small() -> Setting {
    Setting::new(SMALL).leading(4.25)
}

impl<'g> Flow<'g> {
    /// A chapter: number, identifier (also the name of its mark) and title.
    pub fn new(grid: &'g Grid, number: usize, id: &str, title: &str) -> Flow<'g> {
        Flow::starting(grid, number, id, title, None)
    }
    /// A chapter that begins below where the one before it ends, if there is room enough.
    pub fn starting(grid: &'g Grid, number: usize, id: &str, title: &str, end: Option<f64>) -> Flow<'g> {
        let top = end.map(|y| y + APART).filter(|y| y + OPENING < grid.bottom);
        let mut flow = Flow {
            grid,
            id: id.to_string(),
            title: title.to_string(),
            number,
            pages: vec![Draft::default()],
            sections: Vec::new(),
            said: Vec::new(),
            y: grid.top,
            side_bottom: grid.top,
            head: None,
            keep: 0.0,
            fresh: true,
            shared: top.is_some(),
            paragraphs: 0,
            tables: 0,
            figures: 0,
        };
        flow.title(top.unwrap_or(grid.top));
        flow
    }
    fn title(&mut self, at: f64) {
        let g = self.grid;
        let title = self.title.clone();
        let setting = Setting::new(TITLE).leading(TITLE * 1.22);
        let lines = paragraph(&[Span::new(title).bold()], g.main_width(), setting);
        let top = at + 3.0;
        let mut items = vec![Item::Mark { at: pt(g.left, at - 6.0), name: self.id.clone() }];
        items.push(furniture(vec![level(g.left, g.right_x(), at, rule(THICK))]));
        let mut words = lines.place(0..lines.len(), g.main_x(), top);
        if self.number > 0 {
            let at = pt(g.left, top + setting.rise());
            words.insert(0, Item::Text(Text::new(at, TITLE, format!("{} ", self.number))));
        }
        items.push(group(Role::Heading(1), Some(format!("{}/title", self.id)), words));
        self.page().items.extend(items);
        self.y = top + lines.height() + 6.0;
        self.side_bottom = self.y;
    }
    fn page(&mut self) -> &mut Draft {
        if self.pages.is_empty() {
            self.pages.push(Draft::default());
        }
        let last = self.pages.len() - 1;
        &mut self.pages[last]
    }
    /// The grid.
    pub fn grid(&self) -> &'g Grid {
        self.grid
    }
    /// Goes on at the top of a new page; a title with nothing below it comes along.
    pub fn new_page(&mut self) {
        if self.fresh && self.shared {
            self.shared = false;
            self.pages = vec![Draft::default()];
            self.title(self.grid.top);
            return;
        }
        self.pages.push(Draft::default());
        self.y = self.grid.top;
        self.side_bottom = self.y;
        self.fresh = true;
    }
    /// Whether a new page would have more room than this one.
    fn may_turn(&self) -> bool {
        !self.fresh || self.shared
    }
    /// Room left on the page.
    pub fn room(&self) -> f64 {
        self.grid.bottom - self.y
    }
    /// A new page unless so much room is left.
    pub fn need(&mut self, height: f64) {
        let head = if self.head.is_some() { SECTION } else { 0.0 };
        if self.y.max(self.side_bottom) + head + height > self.grid.bottom + 0.01 && self.may_turn() {
            self.new_page();
        }
    }
    /// Empty space, none at the head of a page.
    pub fn space(&mut self, height: f64) {
        if !self.fresh {
            self.y += height;
        }
    }
    /// Begins a section; its heading stands in the side column beside what comes next.
    pub fn section(&mut self, title: &str, mark: &str) {
        self.section_with(title, mark, &[]);
    }
    /// Begins a section with small paragraphs below its heading in the side column.
    pub fn section_with(&mut self, title: &str, mark: &str, below: &[Vec<Span>]) {
        let lines = paragraph(&[Span::new(title).bold()], self.grid.side, body());
        self.sections.push(Bookmark {
            title: title.to_string(),
            target: mark.to_string(),
            children: Vec::new(),
        });
        let below = below.iter().map(|spans| paragraph(spans, self.grid.side, small())).collect();
        self.head = Some(Head { lines, mark: mark.to_string(), below });
    }
    /// Makes room for a block's first stretch and sets a waiting heading beside it.
    fn begin(&mut self, least: f64, wide: bool) {
        let head = self.head.take();
        let tall = head.as_ref().map_or(0.0, Head::tall);
        let least = match (&head, wide) {
            (Some(_), true) => least + tall + BLOCK,
            (Some(_), false) => least.max(tall),
            _ => least,
        };
        let least = least + core::mem::take(&mut self.keep);
        let lead = if head.is_some() && !self.fresh { SECTION } else { 0.0 };
        let from = match (&head, wide) {
            (Some(_), _) => self.y.max(self.side_bottom),
            // Clear of what stands in the side column.
            (None, true) if !self.fresh => self.y.max(self.side_bottom + BLOCK),
            (None, true) => self.y.max(self.side_bottom),
            (None, false) => self.y,
        };
        if from + lead + least > self.grid.bottom + 0.01 && self.may_turn() {
            self.new_page();
        } else {
            self.y = from;
        }
        if let Some(head) = head {
            let g = self.grid;
            if !self.fresh {
                self.y += SECTION;
                let y = self.y - 2.2;
                let ruled = furniture(vec![level(g.left, g.right_x(), y, grey_rule(crate::grid::THIN))]);
                self.page().items.push(ruled);
            }
            let y = self.y;
            let words = head.lines.place(0..head.lines.len(), g.left, y);
            let id = format!("head/{}", head.mark);
            let mark = Item::Mark { at: pt(g.left, (y - 6.0).max(0.0)), name: head.mark };
            self.page().items.extend([mark, group(Role::Heading(2), Some(id.clone()), words)]);
            let mut at = y + head.lines.height();
            for (i, lines) in head.below.iter().enumerate() {
                let item = lines.group(g.left, at + ASIDE, Some(format!("{id}/below/{}", i + 1)));
                self.page().items.push(item);
                at += ASIDE + lines.height();
            }
            self.side_bottom = self.side_bottom.max(y + tall);
            if wide {
                self.y = self.side_bottom + BLOCK;
            }
        }
        self.fresh = false;
    }
    /// A paragraph in the text column.
    pub fn para(&mut self, text: impl Into<Span>) {
        self.spans(&[text.into()]);
    }
    /// A paragraph that stays whole and on one page with the beginning of what follows it.
    pub fn lead(&mut self, text: impl Into<Span>) {
        // The header of a table and three of its rows.
        self.lead_to(text, 24.0);
    }
    /// A paragraph that stays whole and on one page with this much of what follows it.
    pub fn lead_to(&mut self, text: impl Into<Span>, height: f64) {
        let lines = paragraph(&[text.into()], self.grid.main_width(), body());
        self.keep = lines.height() + BLOCK + height;
        self.lines(&lines, self.grid.main_x());
    }
    /// The same in smaller type.
    pub fn small_lead(&mut self, text: &str, height: f64) {
        let lines = paragraph(&[Span::new(text)], self.grid.main_width(), small());
        self.keep = lines.height() + BLOCK + height;
        self.lines(&lines, self.grid.main_x());
    }
    /// A paragraph of several spans.
    pub fn spans(&mut self, spans: &[Span]) {
        let lines = paragraph(spans, self.grid.main_width(), body());
        self.lines(&lines, self.grid.main_x());
    }
    /// A remark in smaller type.
    pub fn remark(&mut self, text: &str) {
        let lines = paragraph(&[Span::new(text)], self.grid.main_width(), small());
        self.lines(&lines, self.grid.main_x());
    }
    /// Fine print over the whole width.
    pub fn fine(&mut self, text: &str) {
        let g = self.grid;
        let lines = paragraph(&[Span::new(text)], g.width(), Setting::new(TINY - 0.2).leading(3.7));
        self.begin(lines.height_of(lines.len().min(3)), true);
        self.lines(&lines, g.left);
    }
    /// A remark in smaller type, of several spans.
    pub fn small_spans(&mut self, spans: &[Span]) {
        let lines = paragraph(spans, self.grid.main_width(), small());
        self.lines(&lines, self.grid.main_x());
        self.y -= BLOCK - 1.6;
    }
    /// A sub-heading in the text column that stays with what follows.
    pub fn sub(&mut self, text: &str) {
        let lines = paragraph(&[Span::new(text).bold()], self.grid.main_width(), body());
        self.begin(lines.height() + 3.0 * LEADING, false);
        let (x, y) = (self.grid.main_x(), self.y);
        let words = lines.place(0..lines.len(), x, y);
        self.page().items.push(group(Role::Heading(3), None, words));
        self.y += lines.height() + 0.8;
    }
    /// An item of a list, with its label.
    pub fn item(&mut self, label: &str, text: &str) {
        let hang = turnleaf_text::width(label, BODY, turnleaf_page::Face::Regular) + 1.6;
        let setting = body().hang(hang.max(6.0));
        let lines = labelled(Span::new(label), &[Span::new(text)], self.grid.main_width(), setting);
        self.lines(&lines, self.grid.main_x());
        self.y -= BLOCK - 1.2;
    }
    /// An item of a list in smaller type.
    pub fn small_item(&mut self, label: &str, text: &str) {
        let setting = small().hang(5.0);
        let lines = labelled(Span::new(label), &[Span::new(text)], self.grid.main_width(), setting);
        self.lines(&lines, self.grid.main_x());
        self.y -= BLOCK - 0.6;
    }
    /// Ends a list.
    pub fn end_list(&mut self) {
        self.y += BLOCK - 1.2;
    }
    /// Lines at a left edge, broken over pages.
    fn lines(&mut self, lines: &Lines, x: f64) {
        if lines.is_empty() {
            return;
        }
        self.paragraphs += 1;
        let id = format!("{}/p/{}", self.id, self.paragraphs);
        let first = lines.len().min(if lines.len() == 3 { 3 } else { 2 });
        self.begin(lines.height_of(first), false);
        let mut from = 0;
        while from < lines.len() {
            let mut take = lines.fit(from, self.room());
            if take == 0 {
                self.new_page();
                self.fresh = false;
                take = lines.fit(from, self.room()).max(1);
            }
            let items = lines.place(from..from + take, x, self.y);
            self.page().items.push(group(Role::Paragraph, Some(id.clone()), items));
            self.y += lines.height_of(take);
            from += take;
        }
        self.y += BLOCK;
    }
    /// A table over the whole width.
    pub fn table(&mut self, table: Table) {
        let (x, width) = (self.grid.left, self.grid.width());
        self.place_table(table, x, width, true);
    }
    /// A table in the text column.
    pub fn narrow_table(&mut self, table: Table) {
        let (x, width) = (self.grid.main_x(), self.grid.main_width());
        self.place_table(table, x, width, false);
    }
    fn place_table(&mut self, mut table: Table, x: f64, width: f64, wide: bool) {
        if table.rows.is_empty() {
            return;
        }
        self.tables += 1;
        if table.id.is_none() {
            table.id = Some(format!("{}/table/{}", self.id, self.tables));
        }
        let set: SetTable = table.set(width, self.grid.height());
        // The header with three rows, or what there is, stays together.
        self.begin(set.height(0..3.min(set.len())).min(self.grid.height()), wide);
        let mut from = 0;
        while from < set.len() {
            let mut take = set.fit(from, self.room());
            // What is left goes on the next page, even where a row that was kept from being the last would fit here.
            if take == 0 || from > 0 {
                self.new_page();
                self.fresh = false;
                take = set.fit(from, self.room()).max(1);
            }
            // The last row is not left alone on the next page.
            if from + take + 1 == set.len() && take > 3 {
                take -= 1;
            }
            let item = set.place(from..from + take, x, self.y);
            self.y += set.height(from..from + take);
            self.page().items.push(item);
            from += take;
        }
        self.y += BLOCK + 2.0;
    }
    /// A long table of short rows in two columns side by side, read down the left one first.
    pub fn twin_table(&mut self, table: Table) {
        let width = (self.grid.width() - TWINS) / 2.0;
        let set: SetTable = table.set(width, self.grid.height());
        if set.is_empty() {
            return;
        }
        self.tables += 1;
        self.begin(set.height(0..3.min(set.len())).min(self.grid.height()), true);
        let xs = [self.grid.left, self.grid.left + width + TWINS];
        let mut from = 0;
        while from < set.len() {
            let mut takes = [0; 2];
            takes[0] = set.fit(from, self.room());
            if takes[0] == 0 {
                self.new_page();
                self.fresh = false;
                takes[0] = set.fit(from, self.room()).max(1);
            }
            takes[1] = set.fit(from + takes[0], self.room());
            if from + takes[0] + takes[1] == set.len() {
                // The last page: columns of like height.
                let all = takes[0] + takes[1];
                let even = |a: usize| set.height(from..from + a) >= set.height(from + a..from + all);
                takes[0] =
                    (1..takes[0]).find(|a| even(*a) && set.fit(from, self.room()) >= *a).unwrap_or(takes[0]);
                takes[1] = all - takes[0];
            } else {
                // A row or two alone would look lost on the next page.
                let over = set.len() - from - takes[0] - takes[1];
                if over < FEW && takes[1] > FEW {
                    takes[1] -= FEW - over;
                }
            }
            let mut tall = 0.0f64;
            for (x, take) in xs.into_iter().zip(takes).filter(|t| t.1 > 0) {
                let item = set.place(from..from + take, x, self.y);
                tall = tall.max(set.height(from..from + take));
                self.page().items.push(item);
                from += take;
            }
            self.y += tall;
        }
        self.y += BLOCK + 2.0;
    }
    /// The number of the next figure.
    fn caption(&mut self, text: &str, label: &str) -> [Span; 2] {
        self.figures += 1;
        let number = format!("{label} {}.{}  ", self.number, self.figures);
        [Span::new(number).bold(), Span::new(text)]
    }
    /// A figure in the text column, its caption in the side column.
    pub fn figure(&mut self, figure: &Figure, label: &str, caption: &str) {
        self.figure_with(figure, label, &[Span::new(caption)]);
    }
    /// A figure in the text column, its caption of several spans in the side column.
    pub fn figure_with(&mut self, figure: &Figure, label: &str, caption: &[Span]) {
        let [number, _] = self.caption("", label);
        let spans = [&[number], caption].concat();
        let lines = paragraph(&spans, self.grid.side, small());
        let head = self.head.as_ref().map_or(0.0, |h| h.tall() + 1.5);
        if head == 0.0 {
            // Its caption comes below what already stands in the side column, with air between.
            if self.side_bottom > self.y {
                self.y = self.side_bottom + BLOCK;
            }
        }
        self.begin(figure.height.max(head + lines.height()), false);
        self.check(figure, self.grid.main_width());
        let (x, y) = (self.grid.main_x(), self.y);
        let top = y + head;
        let words = lines.group(self.grid.left, top, Some(format!("{}/caption", figure.id)));
        let drawn = figure.at(x, y);
        self.page().items.extend([drawn, words]);
        self.side_bottom = top + lines.height();
        // Words go on below the figure, beside what is left of a long caption.
        self.y = y + figure.height + BLOCK + 2.0;
    }
    /// A figure over the whole width, its caption below.
    pub fn wide_figure(&mut self, figure: &Figure, label: &str, caption: &str) {
        let spans = self.caption(caption, label);
        let lines = paragraph(&spans, self.grid.width(), small());
        self.begin(figure.height + 1.5 + lines.height(), true);
        self.check(figure, self.grid.width());
        let (x, y) = (self.grid.left, self.y);
        let words = lines.group(x, y + figure.height + 1.5, Some(format!("{}/caption", figure.id)));
        let drawn = figure.at(x, y);
        self.page().items.extend([drawn, words]);
        self.y = y + figure.height + 1.5 + lines.height() + BLOCK + 2.0;
    }
    /// A drawing in the text column without a number or caption of its own: the words before it name it.
    pub fn drawing(&mut self, figure: Figure) {
        self.begin(figure.height, false);
        self.check(&figure, self.grid.main_width());
        let drawn = figure.at(self.grid.main_x(), self.y);
        self.page().items.push(drawn);
        self.y += figure.height + BLOCK;
    }
    /// Takes back some of the space after the last block, never at the head of a page.
    pub fn back(&mut self, height: f64) {
        if !self.fresh {
            self.y -= height.min(BLOCK);
        }
    }
    /// Items of a height, placed by the caller at the top it is told, kept on one page.
    pub fn block(&mut self, height: f64, draw: impl FnOnce(f64) -> Vec<Item>) {
        self.begin(height, true);
        let items = draw(self.y);
        self.page().items.extend(items);
        self.y += height;
    }
    fn check(&mut self, figure: &Figure, width: f64) {
        let over = self.y + figure.height - self.grid.bottom;
        if figure.width > width + 0.01 || over > 0.01 {
            let sentence = format!("The figure “{}” is larger than its place on the page.", figure.id);
            self.said.push(Diagnostic::warning("book.figure.large", sentence));
        }
    }
    /// Finished pages.
    pub fn finish(self) -> Chapter {
        Chapter {
            shared: self.shared,
            // Every block leaves the space after it below.
            end: (self.y - BLOCK).max(self.side_bottom),
            id: self.id,
            title: self.title,
            number: self.number,
            pages: self.pages,
            sections: self.sections,
            said: self.said,
        }
    }
}

/// A finished chapter.
pub struct Chapter {
    /// Identifier, and the name of the mark at its title.
    pub id: String,
    /// Title.
    pub title: String,
    /// Number; 0 for the matter before the chapters.
    pub number: usize,
    /// Pages.
    pub pages: Vec<Draft>,
    /// Whether its first page is the last one of the chapter before it.
    pub shared: bool,
    /// Where it ends on its last page, mm.
    pub end: f64,
    /// Sections as bookmarks.
    pub sections: Vec<Bookmark>,
    /// What did not fit.
    pub said: Vec<Diagnostic>,
}

impl Chapter {
    /// Whether only a few lines stand on its last page, not its first.
    pub fn scant(&self, grid: &Grid) -> bool {
        self.pages.len() > 1 && self.end < grid.top + grid.height() * 0.25
    }
}

/// Every mark among items.
pub fn marks(items: &[Item], found: &mut dyn FnMut(&str, Pt)) {
    for item in items {
        match item {
            Item::Mark { at, name } => found(name, *at),
            Item::Group { items, .. } => marks(items, found),
            _ => {}
        }
    }
}
