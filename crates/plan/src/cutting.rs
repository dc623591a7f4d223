//! Cutting layouts of a table on the stock on hand.
//!
//! In: a built table, sheets, kerf, margin. Out: [`Cutting`]: layouts that were checked on the true outlines, and a
//! drawing of each.
//! Always true: only parts from sheet stock are laid out; what finds no place is told in a sentence.

use crate::Built;
use turnleaf_nest::{Effort, Layout, Layouts, Request, Sheet, nest, picture, table};
use turnleaf_page::Page;
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

impl Default for StockOnHand {
    /// 1220 × 2440 mm without limit, 3.2 mm kerf, 10 mm margin (common practice, no source).
    fn default() -> StockOnHand {
        let sheets = Sheet::usual().into_iter().take(1).collect();
        StockOnHand { sheets, kerf: 3.2, margin: 10.0, effort: Effort::BOOK }
    }
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
        let request = Request {
            parts: table::parts(&self.assembly),
            sheets: stock.sheets.clone(),
            kerf: stock.kerf,
            margin: stock.margin,
            effort: stock.effort,
        };
        let layouts = nest(&request)?;
        Ok(Cutting { request, layouts })
    }
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
