//! The pages before the templates: how to print, check and join them, what lines mean, which parts there are.
//!
//! In: the finished pages of each part, the number of the first page. Out: pages.
//! Always true: page numbers are those of the finished document.

use crate::options::TemplateOptions;
use crate::pen::{Kind, fitted, group, line, pen};
use crate::words::Words;
use turnleaf_page::{Face, Item, Page, Role, pt};
use turnleaf_parts::Part;
use turnleaf_text::{Column, Row, Setting, Span, Table, Width, paragraph};
use turnleaf_units::PrintUnits;

/// The pages of one part.
pub struct Set<'a> {
    /// The part.
    pub part: &'a Part,
    /// Number of tiles.
    pub count: usize,
    /// Name of the last tile of the grid.
    pub last: String,
    /// Map and tiles.
    pub pages: Vec<Page>,
}

/// Size of running text, mm.
const BODY: f64 = 3.4;
/// Air between blocks, mm.
const BLOCK: f64 = 2.6;

struct Flow<'a> {
    options: &'a TemplateOptions,
    say: &'a Words,
    width: f64,
    height: f64,
    side: f64,
    y: f64,
    pages: Vec<Page>,
    items: Vec<Item>,
}

impl Flow<'_> {
    fn bottom(&self) -> f64 {
        self.height - self.side - 6.0
    }
    fn room(&self) -> f64 {
        self.width - 2.0 * self.side
    }
    fn turn_page(&mut self) {
        let number = self.pages.len() + 1;
        let line = format!("{} · {}", self.options.plan, self.say.revision(&self.options.revision));
        let foot = fitted(pt(self.side, self.height - self.side), 1.8, &line, Face::Regular, self.room());
        self.items.push(Item::Group { role: Role::Artifact, origin: None, id: None, items: vec![foot] });
        let id = if number == 1 { "templates".into() } else { format!("templates/{number}") };
        self.pages.push(Page {
            width: self.width,
            height: self.height,
            label: String::new(),
            id,
            title: self.say.title(),
            items: std::mem::take(&mut self.items),
        });
        self.y = self.side;
    }
    fn need(&mut self, height: f64) {
        if self.y + height > self.bottom() && !self.items.is_empty() {
            self.turn_page();
        }
    }
    fn paragraph(&mut self, id: &str, spans: &[Span], role: Option<Role>) {
        let set = paragraph(spans, self.room(), Setting::new(BODY));
        self.need(set.height());
        let item = match role {
            Some(role) => group(role, id, set.place(0..set.len(), self.side, self.y)),
            None => set.group(self.side, self.y, Some(id.into())),
        };
        self.items.push(item);
        self.y += set.height() + BLOCK;
    }
}

/// The pages.
pub fn pages(sets: &[Set], options: &TemplateOptions, say: &Words, first: usize) -> Vec<Page> {
    // The list's page numbers depend on how many pages it takes itself: twice is enough, since the list does
    // not grow when its numbers change by one.
    let mut own = 1;
    let mut out = compose(sets, options, say, first + own);
    while out.len() != own {
        own = out.len();
        out = compose(sets, options, say, first + own);
    }
    out
}

fn compose(sets: &[Set], options: &TemplateOptions, say: &Words, next: usize) -> Vec<Page> {
    let (width, height) = options.paper.sides();
    let side = options.margin.max(12.0) + 6.0;
    let mut f = Flow { options, say, width, height, side, y: side, pages: Vec::new(), items: Vec::new() };
    f.items.push(Item::Mark { at: pt(side, side), name: "templates".into() });
    let heading = fitted(pt(side, side + 5.0), 5.0, &say.title(), Face::Bold, f.room());
    f.items.push(group(Role::Heading(1), "templates/title", vec![heading]));
    f.y += 9.0;
    f.paragraph("templates/plan", &[Span::new(options.plan.clone()).bold()], None);
    for (i, (head, text)) in say.front(options).into_iter().enumerate() {
        let spans = [Span::new(format!("{head}. ")).bold(), Span::new(text)];
        f.paragraph(&format!("templates/how/{i}"), &spans, None);
    }
    legend(&mut f);
    f.y += BLOCK;
    list(&mut f, sets, next);
    f.turn_page();
    f.pages
}

fn legend(f: &mut Flow) {
    let kinds = [Kind::Cut, Kind::Near, Kind::Far, Kind::Centre, Kind::Join];
    f.need(8.0 + kinds.len() as f64 * 5.0);
    let head = f.say.lines_heading();
    f.paragraph("templates/lines", &[Span::new(head).bold()], Some(Role::Heading(2)));
    for (kind, meaning) in kinds.into_iter().zip(f.say.meanings()) {
        let sample = line(pt(f.side, f.y + 2.2), pt(f.side + 28.0, f.y + 2.2), pen(kind));
        let item = fitted(pt(f.side + 32.0, f.y + 3.2), 2.4, &meaning, Face::Regular, f.room() - 32.0);
        f.items.push(group(Role::Paragraph, format!("templates/line/{kind:?}"), vec![sample, item]));
        f.y += 5.0;
    }
}

fn list(f: &mut Flow, sets: &[Set], next: usize) {
    let [part, pieces, thick, tiles, page] = f.say.columns();
    let columns = vec![
        Column::new(part, Width::Share(1.0)),
        Column::number(pieces, Width::Fit(25.0)),
        Column::number(thick, Width::Fit(40.0)),
        Column::number(tiles, Width::Fit(45.0)),
        Column::number(page, Width::Fit(20.0)),
    ];
    let mut number = next;
    let unit = if matches!(f.options.units, PrintUnits::Mm(_)) { " mm" } else { "" };
    let rows: Vec<Row> = sets
        .iter()
        .map(|s| {
            let first = number;
            number += s.pages.len();
            let tiles = if s.count == 1 { "1".to_string() } else { format!("{} (A1–{})", s.count, s.last) };
            let target = format!("template/{}", s.part.id);
            let row = Row {
                cells: vec![
                    vec![Span::new(f.options.name_of(s.part)).link(target)],
                    vec![Span::new(s.part.count.to_string())],
                    vec![Span::new(format!("{}{unit}", f.options.figure(s.part.thickness)))],
                    vec![Span::new(tiles)],
                    vec![Span::new(first.to_string())],
                ],
                ..Row::default()
            };
            row.id(format!("templates/part/{}", s.part.id))
        })
        .collect();
    let table = Table::new(columns, 3.2).rows(rows).id("templates/parts");
    let set = table.set(f.room(), f.bottom() - f.side);
    let mut from = 0;
    while from < set.len() {
        let fit = set.fit(from, f.bottom() - f.y);
        if fit == 0 {
            if f.items.is_empty() {
                return;
            }
            f.turn_page();
            continue;
        }
        f.items.push(set.place(from..from + fit, f.side, f.y));
        f.y += set.height(from..from + fit);
        from += fit;
        if from < set.len() {
            f.turn_page();
        }
    }
}
