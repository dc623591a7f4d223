//! Cutting layouts of a table on the stock on hand.
//!
//! In: a built table, sheets, kerf, margin. Out: [`Cutting`]: layouts that were checked on the true outlines, and a
//! drawing of each.
//! Always true: only parts from sheet stock are laid out; what finds no place is told in a sentence.

use crate::Built;
use std::cell::RefCell;
use turnleaf_book::{Nested, Nesting};
use turnleaf_nest::{Effort, Layout, Layouts, Request, Sheet, nest, picture, table};
use turnleaf_page::Page;
use turnleaf_parts::Assembly;
use turnleaf_planfile::{Plan, SheetOnHand};
use turnleaf_units::{DecimalSign, print_decimal};

/// Scale of the drawings.
const ONE_TO: f64 = 10.0;

/// Stock on hand and how it is sawn.
#[derive(Clone, Debug, PartialEq)]
pub struct StockOnHand {
    /// Sheets.
    pub sheets: Vec<Sheet>,
    /// What the saw takes away, mm.
    pub kerf: f64,
    /// Unused edge of each sheet, mm.
    pub margin: f64,
    /// How hard to search.
    pub effort: Effort,
}

impl StockOnHand {
    /// Materials and thicknesses that a table is cut from.
    pub fn kinds(assembly: &Assembly) -> Vec<String> {
        let mut kinds: Vec<String> = Vec::new();
        for part in table::parts(assembly) {
            if !kinds.contains(&part.stock) {
                kinds.push(part.stock);
            }
        }
        kinds
    }
    /// What the plan says is on hand, for its own table.
    pub fn of(plan: &Plan, assembly: &Assembly) -> StockOnHand {
        let stock = plan.stock();
        let kinds = StockOnHand::kinds(assembly);
        let sheets = stock.sheets.iter().flat_map(|s| sheet(s, &kinds)).collect();
        StockOnHand { sheets, kerf: stock.kerf.mm(), margin: stock.margin.mm(), effort: Effort::BOOK }
    }
}

/// A sheet of the plan; one for each thickness when it is kept for one kind of stock.
pub fn sheet(s: &SheetOnHand, kinds: &[String]) -> Vec<Sheet> {
    let one = |stock: Option<String>| Sheet {
        count: s.count.map(|n| n as usize),
        stock,
        ..Sheet::of(&s.name, s.length.mm(), s.width.mm())
    };
    match s.of {
        None => vec![one(None)],
        Some(of) => {
            // Stock is named by its use first, plastic by what it is.
            let first = if of == "plastic" { "PE-UHMW," } else { of };
            let mine = kinds.iter().filter(|k| k.split(' ').next() == Some(first));
            mine.map(|k| one(Some(k.clone()))).collect()
        }
    }
}

thread_local! {
    /// The layouts found last. Paper, language and words of a book change more often than its parts.
    static LAST: RefCell<Option<(Request, Layouts)>> = const { RefCell::new(None) };
}

/// The layouts of a request, if it is the one asked last.
fn known(request: &Request) -> Option<Layouts> {
    LAST.with_borrow(|last| last.as_ref().filter(|(r, _)| r == request).map(|(_, l)| l.clone()))
}

/// Looks for layouts.
fn found(request: &Request) -> Result<Layouts, String> {
    if request.effort == Effort::QUICK { thrifty(request) } else { nest(request) }
}

/// Layouts of a request; the same one asked twice running is answered from memory.
fn remembered(request: Request) -> Result<Cutting, String> {
    let layouts = match known(&request) {
        Some(layouts) => layouts,
        None => {
            let layouts = found(&request)?;
            LAST.set(Some((request.clone(), layouts.clone())));
            layouts
        }
    };
    Ok(Cutting { request, layouts })
}

/// What was asked and what came of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Cutting {
    /// Parts, sheets, kerf and margin.
    pub request: Request,
    /// Layouts and what found no place.
    pub layouts: Layouts,
}

impl Built {
    /// Lays the parts cut from sheets out on the stock on hand. An error is a sentence about the stock.
    pub fn cutting_layouts(&self, stock: &StockOnHand) -> Result<Cutting, String> {
        remembered(self.request(stock))
    }
    fn request(&self, stock: &StockOnHand) -> Request {
        Request {
            parts: table::parts(&self.assembly),
            sheets: stock.sheets.clone(),
            kerf: stock.kerf,
            margin: stock.margin,
            effort: stock.effort,
        }
    }
    /// The layouts of the book, looked for when they are first asked for: the plan's stock, searched quickly, and
    /// as hard as a layout by itself where that can save a sheet.
    pub(crate) fn book_layouts(&self) -> Nested {
        let stock = StockOnHand { effort: Effort::QUICK, ..StockOnHand::of(&self.plan, &self.assembly) };
        let request = self.request(&stock);
        let known = known(&request);
        // Another thread may do this, whose memory is not ours.
        let look: Nesting = Box::new(move || {
            let layouts = known.map_or_else(|| found(&request), Ok)?;
            Ok((request, layouts))
        });
        Nested::new(look)
    }
    /// Keeps what a book found for the next that asks the same.
    pub(crate) fn remember(nested: &Nested) {
        if let Ok(found) = nested.found() {
            LAST.set(Some(found.clone()));
        }
    }
}

/// Nests quickly, then looks harder at each stock that takes more sheets than the area of its parts needs.
fn thrifty(request: &Request) -> Result<Layouts, String> {
    let mut found = nest(request)?;
    let mut stocks: Vec<String> = found.sheets.iter().map(|l| l.stock.clone()).collect();
    stocks.dedup();
    for stock in stocks {
        let mine: Vec<&Layout> = found.sheets.iter().filter(|l| l.stock == stock).collect();
        let area = |l: &Layout| {
            let sheet = &request.sheets[l.sheet];
            (sheet.length - 2.0 * request.margin) * (sheet.width - 2.0 * request.margin)
        };
        let used: f64 = mine
            .iter()
            .map(|l| l.fill / 100.0 * request.sheets[l.sheet].length * request.sheets[l.sheet].width)
            .sum();
        let largest = mine.iter().map(|l| area(l)).fold(0.0, f64::max);
        let least = (used / largest.max(1.0)).ceil() as usize;
        if mine.len() <= least.max(1) {
            continue;
        }
        let mut alone = Request { effort: Effort::BOOK, ..request.clone() };
        alone.parts.iter_mut().filter(|p| p.stock != stock).for_each(|p| p.count = 0);
        let better = nest(&alone)?;
        let left = found.left.iter().filter(|l| request.parts[l.part].stock == stock).count();
        if better.sheets.len() < mine.len() && better.left.len() <= left {
            let at = found.sheets.iter().position(|l| l.stock == stock).unwrap_or(0);
            found.sheets.retain(|l| l.stock != stock);
            found.sheets.splice(at..at, better.sheets);
            found.left.retain(|l| request.parts[l.part].stock != stock);
            found.left.extend(better.left);
        }
    }
    Ok(found)
}

fn figure(x: f64, decimals: u8) -> String {
    print_decimal(x, decimals, DecimalSign::Point).unwrap_or_default()
}

impl Cutting {
    /// A drawing of each sheet at 1 : 10, with a list of what lies on it.
    pub fn pages(&self) -> Vec<Page> {
        let count = self.layouts.sheets.len();
        let page = |(i, layout): (usize, &Layout)| {
            let words = self.words(i, layout, count);
            picture::page(&self.request, layout, &words, ONE_TO, &format!("layout/{}", i + 1))
        };
        self.layouts.sheets.iter().enumerate().map(page).collect()
    }

    fn words(&self, i: usize, layout: &Layout, count: usize) -> picture::Words {
        let r = &self.request;
        let sheet = &r.sheets[layout.sheet];
        let on =
            |part: usize, list: &[usize]| list.iter().filter(|&&k| layout.placements[k].part == part).count();
        let all: Vec<usize> = (0..layout.placements.len()).collect();
        // Numbered in list order, for all sheets alike.
        let number: Vec<usize> = (1..=r.parts.len()).collect();
        let mut lines = Vec::new();
        let line: Vec<String> = (0..r.parts.len())
            .filter(|&p| on(p, &all) > 0)
            .map(|p| format!("{}  {} × {}", number[p], on(p, &all), r.parts[p].name))
            .collect();
        // Three to a line.
        lines.extend(line.chunks(3).map(|some| some.join("     ")));
        for band in &layout.bands {
            let what: Vec<String> = (0..r.parts.len())
                .filter(|&p| on(p, &band.placements) > 0)
                .map(|p| format!("{} × no. {}", on(p, &band.placements), number[p]))
                .collect();
            lines.push(format!(
                "Rip {} mm wide at {} mm from the lower edge: {}.",
                figure(band.to - band.from, 1),
                figure(band.from, 1),
                what.join(", ")
            ));
        }
        lines.push(format!(
            "{} % of the sheet is used; kerf {} mm, margin {} mm; scale 1 : {}.",
            figure(layout.fill, 1),
            figure(r.kerf, 2),
            figure(r.margin, 2),
            figure(ONE_TO, 0)
        ));
        picture::Words {
            title: format!("Sheet {} of {count}: {}, {}", i + 1, layout.stock, sheet.name),
            grain: "grain".into(),
            lines,
            number,
        }
    }
}
