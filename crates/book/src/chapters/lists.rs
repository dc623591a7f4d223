//! Parts to make, hardware, tools, and stock to buy.
//!
//! In: the assembly's parts, cutting layouts, masses. Out: a chapter of tables.
//! Always true: every part stands in exactly one of the first two tables, under a number of its own; a made part
//! leads to its drawing and names the sheets it is cut from; empty columns are for the maker to fill in.

use super::cutting;
use crate::cx::{Cx, Refs};
use crate::flow::Chapter;
use crate::grid::TINY;
use crate::strips::{bought_whole, strips};
use turnleaf_parts::Part;
use turnleaf_text::{Column, Row, Span, Table, Width};

/// The chapter.
pub fn chapter(cx: &Cx, number: usize, refs: &Refs) -> Chapter {
    let mut f = cx.flow(number, "lists", &cx.t("lists-title"));
    f.section(&cx.t("lists-parts"), "lists/parts");
    f.lead(cx.t("lists-parts-text"));
    f.table(parts(cx, refs));
    f.section(&cx.t("lists-hardware"), "lists/hardware");
    f.lead(cx.t("lists-hardware-text"));
    f.table(hardware(cx));
    f.section(&cx.t("lists-stock"), "lists/stock");
    f.lead(cx.t("lists-stock-text"));
    f.table(stock(cx));
    f.section(&cx.t("lists-tools"), "lists/tools");
    for text in tools(cx) {
        f.item("•", &text);
    }
    f.end_list();
    f.finish()
}

/// Mass of all pieces of a part.
pub fn mass_of(cx: &Cx, part: &str) -> Option<f64> {
    cx.figure(&format!("mass.part.{part}")).map(|f| f.value)
}

fn mass(cx: &Cx, kg: Option<f64>) -> String {
    kg.map_or_else(String::new, |kg| cx.mass(kg).replace(" (", "\n("))
}

/// A part's name and size; a wood screw's are both in its trade name.
fn named(cx: &Cx, p: &Part) -> (String, String) {
    cx.wood_screw(p).unwrap_or_else(|| (cx.part_name(p), cx.or_dash(cx.say.part_size(p))))
}

/// What both tables of parts begin with: number, name, pieces, size.
fn begin(cx: &Cx, p: &Part, mark: Option<String>) -> Vec<Vec<Span>> {
    let (name, size) = named(cx, p);
    let name = Span::new(name);
    vec![
        vec![Span::new(cx.part_number(&p.id).to_string())],
        vec![match mark {
            Some(mark) => name.link(mark),
            None => name,
        }],
        vec![Span::new(p.count.to_string())],
        vec![Span::new(size + cx.part_sign(&p.id))],
    ]
}

fn parts(cx: &Cx, refs: &Refs) -> Table {
    let columns = vec![
        Column::number(cx.t("column-number"), Width::Fit(9.0)),
        Column::new(cx.t("column-part"), Width::Share(1.0)),
        Column::number(cx.t("column-count"), Width::Fit(16.0)),
        Column::new(cx.t("column-measure"), Width::Fit(60.0)),
        Column::new(cx.t("column-material"), Width::Fit(30.0)),
        Column::new(cx.t("column-sheet"), Width::Fit(15.0)),
        Column::number(cx.t("column-mass"), Width::Fit(20.0)),
        Column::number(cx.t("column-page"), Width::Fit(14.0)),
    ];
    let row = |p: &Part| {
        let mark = format!("sheet/{}", p.id);
        let mut cells = begin(cx, p, Some(mark.clone()));
        cells.push(vec![Span::new(cx.material(&p.material))]);
        let sheets = cutting::sheets_of(cx, &p.id);
        let mut spans = Vec::new();
        for (i, sheet) in sheets.iter().enumerate() {
            if i > 0 {
                spans.push(Span::new(", "));
            }
            spans.push(Span::new((sheet + 1).to_string()).link(cutting::mark(*sheet)));
        }
        cells.push(spans);
        cells.push(vec![Span::new(mass(cx, mass_of(cx, &p.id)))]);
        cells.push(vec![Span::new(refs.page(&mark))]);
        Row { cells, id: Some(format!("part/{}", p.id)), ..Row::default() }
    };
    let made = cx.input.assembly.parts.iter().filter(|p| p.made);
    let mut table = Table::new(columns, TINY).pad(0.5).id("lists/parts").rows(made.map(row));
    if let Some(whole) = cx.figure("mass.whole.closed") {
        let words = cx.tv("lists-mass", &[("mass", cx.mass(whole.value))]);
        table.rows.push(Row::heading(words));
    }
    table
}

/// The standard a bought part follows, by the beginning of its identifier; bars by their material.
pub fn standard(cx: &Cx, p: &Part) -> String {
    let screw = || p.id.starts_with("screw-").then(|| cx.words.named("standard", "screw")).flatten();
    let by_id = cx.words.named("standard", &p.id).or_else(screw);
    by_id.or_else(|| cx.words.named("standard", &p.material)).unwrap_or_default()
}

fn hardware(cx: &Cx) -> Table {
    let columns = vec![
        Column::number(cx.t("column-number"), Width::Fit(9.0)),
        Column::new(cx.t("column-part"), Width::Share(1.0)),
        Column::number(cx.t("column-count"), Width::Fit(16.0)),
        Column::new(cx.t("column-measure"), Width::Fit(44.0)),
        Column::new(cx.t("column-material"), Width::Fit(27.0)),
        Column::new(cx.t("column-standard"), Width::Fit(33.0)),
    ];
    let row = |p: &Part| {
        let mut cells = begin(cx, p, None);
        cells.push(vec![Span::new(cx.material(&p.material))]);
        cells.push(vec![Span::new(standard(cx, p))]);
        Row { cells, id: Some(format!("part/{}", p.id)), ..Row::default() }
    };
    let bought = cx.input.assembly.parts.iter().filter(|p| !p.made && p.count > 0);
    Table::new(columns, TINY).pad(0.5).id("lists/hardware").rows(bought.map(row))
}

/// A thing to buy: what, size, how many, what for.
pub struct Buy {
    /// Stable identifier.
    pub id: String,
    /// Material.
    pub what: String,
    /// Size.
    pub size: String,
    /// How many.
    pub count: usize,
}

/// Sheets, boards and bars, in that order.
pub fn to_buy(cx: &Cx) -> Vec<Buy> {
    let mut out: Vec<Buy> = Vec::new();
    if let Some((request, layouts)) = cx.input.layouts() {
        for layout in &layouts.sheets {
            let id = format!("buy/{}/{}", layout.stock, layout.sheet);
            match out.iter_mut().find(|b| b.id == id) {
                Some(b) => b.count += 1,
                None => {
                    let sheet = &request.sheets[layout.sheet];
                    let what = cutting::stock_name(cx, request, layout);
                    out.push(Buy { id, what, size: cutting::by(cx, sheet.length, sheet.width), count: 1 });
                }
            }
        }
    }
    let stock = cx.input.plan.stock();
    for (i, strip) in strips(cx.input.assembly, stock.board.mm(), stock.kerf.mm()).iter().enumerate() {
        out.push(Buy {
            id: format!("buy/strip/{}", i + 1),
            what: format!("{}, {}", cx.material(&strip.material), cutting::section(cx, strip.section)),
            size: cx.tv(
                "lists-of-length",
                &[("length", cx.length(stock.board.mm())), ("total", cx.length(strip.total()))],
            ),
            count: strip.boards.len(),
        });
    }
    out
}

fn stock(cx: &Cx) -> Table {
    let columns = vec![
        Column::new(cx.t("column-material"), Width::Share(1.0)),
        Column::new(cx.t("column-measure"), Width::Share(1.15)),
        Column::number(cx.t("column-buy"), Width::Fit(16.0)),
        Column::new(cx.t("column-price"), Width::Fixed(18.0)),
        Column::new(cx.t("column-cost"), Width::Fixed(18.0)),
    ];
    let row = |what: String, size: String, count: String, id: String| {
        Row::new([what, size, count, String::new(), String::new()]).id(id)
    };
    let mut rows: Vec<Row> =
        to_buy(cx).into_iter().map(|b| row(b.what, b.size, b.count.to_string(), b.id)).collect();
    // What goes by the same name is bought together: screws of one size, wherever they are driven.
    let mut whole: Vec<(String, String, usize, String)> = Vec::new();
    for p in cx.input.assembly.parts.iter().filter(|p| !p.made && p.count > 0 && bought_whole(p)) {
        let (name, size) = named(cx, p);
        let size = size.replace('\n', ", ");
        match whole.iter_mut().find(|w| w.0 == name && w.1 == size) {
            Some(known) => known.2 += p.count,
            None => whole.push((name, size, p.count, format!("buy/{}", p.id))),
        }
    }
    rows.extend(whole.into_iter().map(|(name, size, count, id)| row(name, size, count.to_string(), id)));
    for (i, text) in cx.words.list("lists-supply", &[]).into_iter().enumerate() {
        rows.push(row(text, String::new(), String::new(), format!("buy/supply/{}", i + 1)));
    }
    rows.push(row(cx.t("lists-sum"), String::new(), String::new(), "buy/sum".into()));
    Table::new(columns, TINY).pad(0.4).id("lists/stock").rows(rows)
}

/// The list of tools.
pub fn tools(cx: &Cx) -> Vec<String> {
    cx.words.list("lists-tool", &tool_values(cx))
}

/// Numbers in the list of tools: the drills for this table's holes, the groove cutter, the longest trammel.
fn tool_values(cx: &Cx) -> Vec<(&'static str, String)> {
    use turnleaf_parts::FeatureKind;
    let mut drills: Vec<f64> = Vec::new();
    for part in cx.input.assembly.parts.iter().filter(|p| p.made) {
        for feature in &part.features {
            if let FeatureKind::Hole { diameter, .. } = feature.kind
                && diameter <= 40.0
                && !drills.iter().any(|d| (d - diameter).abs() < 0.01)
            {
                drills.push(diameter);
            }
        }
    }
    drills.sort_by(f64::total_cmp);
    let mut drills: Vec<String> = drills.into_iter().map(|d| cx.leading(d).replace(' ', "\u{A0}")).collect();
    // Diameters that print alike are one drill.
    drills.dedup();
    let m = cx.mechanism();
    let tongue = m.sizes.tongue_thickness.unwrap_or(m.sizes.stock_thickness / 3.0);
    vec![
        ("drills", drills.join(", ")),
        ("tongue", cx.length(tongue)),
        ("depth", cx.length(m.sizes.tongue_depth)),
        ("radius", cx.length(m.layout.radius.max(m.layout.corners[0]))),
        ("heaviest", cx.mass(heaviest(cx))),
    ]
}

/// Mass of the heaviest single piece, kg.
fn heaviest(cx: &Cx) -> f64 {
    let one = |p: &Part| mass_of(cx, &p.id).map(|m| m / p.count.max(1) as f64);
    cx.input.assembly.parts.iter().filter_map(one).fold(0.0, f64::max)
}
