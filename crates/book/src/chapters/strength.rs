//! Strength and safety figures: guidance, not certification.
//!
//! In: figures with their limits, formulas and sources; what they assume. Out: a chapter.
//! Always true: the notice stands before the first figure; every figure that has a limit is printed, those that do
//! not hold in bold, and of the others those that a maker asks for (forces between parts are left to the program);
//! each source is printed once, with the number that its figures carry.

use crate::cx::{Cx, Refs};
use crate::flow::Chapter;
use crate::grid::SMALL;
use turnleaf_figures::{Assumptions, Figure};
use turnleaf_text::{Column, Row, Span, Table, Width};
use turnleaf_units::{PrintUnits, print_decimal};

/// Letters of the table of figures, mm: 7.9 pt, so that most rows keep to one line or two.
const FINE: f64 = 2.8;

/// Groups in their order: message, beginnings of the identifiers in it.
const GROUPS: &[(&str, &[&str])] = &[
    ("strength-group-turn", &["torque."]),
    ("strength-group-edge", &["edge."]),
    ("strength-group-drive", &["arm.", "slot.", "slide.", "pin.", "shaft."]),
    ("strength-group-lift", &["lift.", "roller.", "lever."]),
    ("strength-group-base", &["base.", "frame."]),
    ("strength-group-tip", &["tip."]),
    ("strength-group-room", &["knee."]),
    ("strength-group-season", &["season."]),
    ("strength-group-flush", &["flush."]),
    ("strength-group-mass", &["mass.whole.open", "mass.turning", "mass.lifted", "mass.fixed"]),
];

/// Beginnings of figures without a limit that are printed all the same.
const ASKED: [&str; 7] =
    ["torque.", "tip.", "season.", "flush.", "mass.whole.open", "mass.turning", "mass.lifted"];

/// Whether a figure stands in the table. Seats have a table of their own, masses of parts stand in the lists.
fn printed(f: &Figure) -> bool {
    f.limit.is_some() || ASKED.iter().any(|a| f.id.starts_with(a))
}

fn group_of(id: &str) -> usize {
    GROUPS.iter().position(|(_, b)| b.iter().any(|b| id.starts_with(b))).unwrap_or(GROUPS.len())
}

/// Sources, each once, in the order in which they are first needed.
#[derive(Default)]
struct Sources(Vec<String>);

impl Sources {
    /// The numbers of the sources of a figure.
    fn numbers(&mut self, source: &str) -> String {
        let mut out: Vec<usize> = Vec::new();
        for one in source.split("; ").filter(|s| !s.is_empty()) {
            let at = self.0.iter().position(|s| s == one).unwrap_or_else(|| {
                self.0.push(one.to_string());
                self.0.len() - 1
            });
            out.push(at + 1);
        }
        out.iter().map(ToString::to_string).collect::<Vec<_>>().join(", ")
    }
}

/// The chapter.
pub fn chapter(cx: &Cx, number: usize, _: &Refs) -> Chapter {
    let mut f = cx.flow(number, "strength", &cx.t("strength-title"));
    f.section(&cx.t("strength-read"), "strength/read");
    f.spans(&[Span::new(cx.t("strength-notice")).bold()]);
    let weak: Vec<&Figure> = cx.input.figures.iter().filter(|f| f.holds() == Some(false)).collect();
    for text in cx.words.list("strength-text", &[]) {
        f.para(text);
    }
    let words = if weak.is_empty() { "strength-none-weak" } else { "strength-weak" };
    f.para(cx.tv(words, &[("count", weak.len().to_string())]));
    let mut sources = Sources::default();
    f.section(&cx.t("strength-figures"), "strength/figures");
    f.table(figures(cx, &mut sources));
    let seats = seats(cx, &mut sources);
    if !seats.rows.is_empty() {
        f.section(&cx.t("strength-seats"), "strength/seats");
        f.lead(cx.t("strength-seats-text"));
        f.narrow_table(seats);
    }
    f.section(&cx.t("strength-assumed"), "strength/assumed");
    f.fine(&assumed(cx, &mut sources));
    f.section(&cx.t("strength-sources"), "strength/sources");
    let source = |(i, s): (usize, &String)| {
        let words = cx.words.named("source", s).unwrap_or_else(|| s.clone());
        format!("({})\u{A0}{words}", i + 1)
    };
    let all: Vec<String> = sources.0.iter().enumerate().map(source).collect();
    f.fine(&format!("{}.", all.join("; ")));
    f.finish()
}

/// A value with its unit, in the book's units.
pub fn measure(cx: &Cx, value: f64, unit: &str) -> String {
    // Exact: 1 lbf·ft = 1.355 817 948 331 400 4 N·m; 1 psi = 6 894.757 293 168 36 Pa.
    let decimals = |x: f64| match x.abs() {
        x if x >= 100.0 => 0,
        x if x >= 10.0 => 1,
        x if x >= 1.0 => 2,
        _ => 3,
    };
    let say = |x: f64, unit: &str| {
        cx.or_dash(
            print_decimal(x, decimals(x), cx.say.sign).map(|t| format!("{t}\u{A0}{unit}").trim().into()),
        )
    };
    let both = |metric: String, inch: String| match cx.say.units {
        PrintUnits::Mm(_) => metric,
        PrintUnits::Inch(_) => inch,
        PrintUnits::Both(..) => format!("{metric}\n{inch}"),
    };
    match unit {
        "mm" => {
            // A droop of 0.02 mm says more than the book's step.
            let inch = |x: f64| say(x / 25.4, "in");
            if value.abs() < 1.0 {
                both(say(value, "mm"), inch(value))
            } else {
                cx.length(value).replace(" (", "\n(")
            }
        }
        "N" => cx.force(value).replace(" (", "\n("),
        "N·m" => both(say(value, "N·m"), say(value / 1.355_817_948_331_400_4, "lbf·ft")),
        "MPa" => both(say(value, "MPa"), say(value * 145.037_737_73, "psi")),
        "kg" => cx.mass(value).replace(" (", "\n("),
        "deg" => cx.degrees(value),
        "ratio" | "count" => say(value, "").trim_end().to_string(),
        other => say(value, other),
    }
}

fn label(cx: &Cx, f: &Figure) -> String {
    cx.words.named("strength-of", &f.id).unwrap_or_else(|| f.label.clone())
}

fn figures(cx: &Cx, sources: &mut Sources) -> Table {
    let columns = vec![
        Column::new(cx.t("strength-figure"), Width::Share(1.0)),
        Column::number(cx.t("strength-value"), Width::Fit(20.0)),
        Column::number(cx.t("strength-limit"), Width::Fit(22.0)),
        Column::number(cx.t("clearances-margin"), Width::Fit(20.0)),
        Column::new(cx.t("strength-formula"), Width::Share(0.9)),
        Column::new(cx.t("strength-source"), Width::Fit(15.0)),
    ];
    let mut rows = Vec::new();
    for g in 0..=GROUPS.len() {
        let here = || {
            cx.input
                .figures
                .iter()
                .filter(|f| printed(f) && !f.id.starts_with("seats.") && group_of(&f.id) == g)
        };
        if here().next().is_none() {
            continue;
        }
        let name = GROUPS.get(g).map_or("solved-more", |g| g.0);
        rows.push(Row::heading(cx.t(name)));
        for f in here() {
            let limit = match (f.limit, f.margin) {
                (Some(limit), Some(margin)) => {
                    // The margin's sign tells which way the limit holds.
                    let most = (limit - f.value - margin).abs() <= (f.value - limit - margin).abs();
                    format!("{} {}", if most { "≤" } else { "≥" }, measure(cx, limit, f.unit))
                }
                _ => String::new(),
            };
            let margin = f.margin.map_or(String::new(), |m| measure(cx, m, f.unit));
            let formula = cx.words.named("formula", &f.formula).unwrap_or_else(|| f.formula.clone());
            let cells = [
                label(cx, f),
                measure(cx, f.value, f.unit),
                limit,
                margin,
                formula,
                sources.numbers(&f.source),
            ];
            let weak = f.holds() == Some(false);
            let span = |(i, text): (usize, String)| {
                let span = Span::new(text);
                vec![if weak && i < 4 { span.bold() } else { span }]
            };
            rows.push(Row {
                cells: cells.into_iter().enumerate().map(span).collect(),
                id: Some(format!("figure/{}", f.id)),
                ..Row::default()
            });
        }
    }
    let mut table = Table::new(columns, FINE).id("strength").rows(rows);
    table.pad = 0.26;
    table.gap = 2.4;
    table
}

/// Seats, closed and open, at four widths of a place.
fn seats(cx: &Cx, sources: &mut Sources) -> Table {
    const PLACES: [u32; 4] = [21, 24, 25, 30];
    let mut columns = vec![Column::new(cx.t("strength-seat-state"), Width::Share(1.0))];
    for inches in PLACES {
        columns.push(Column::number(cx.leading(f64::from(inches) * 25.4), Width::Fit(22.0)));
    }
    columns.push(Column::new(cx.t("strength-source"), Width::Fit(17.0)));
    let mut rows = Vec::new();
    for state in ["closed", "open"] {
        let found: Vec<&Figure> =
            PLACES.iter().filter_map(|p| cx.figure(&format!("seats.{state}.{p}in"))).collect();
        let [first, ..] = found.as_slice() else { continue };
        let mut cells = vec![cx.t(state)];
        cells.extend(found.iter().map(|f| measure(cx, f.value, f.unit)));
        cells.push(sources.numbers(&first.source));
        rows.push(Row::new(cells).id(format!("seats/{state}")));
    }
    Table::new(columns, SMALL).id("seats").rows(rows)
}

/// What is assumed, in a paragraph: name, value, numbers of the sources.
fn assumed(cx: &Cx, sources: &mut Sources) -> String {
    let one = |a: turnleaf_figures::Assumed| {
        let label = cx.words.named("assumed", a.id).unwrap_or_else(|| a.label.to_string());
        let value = measure(cx, a.value, a.unit).replace('\n', " / ").replace(' ', "\u{A0}");
        format!("{label}: {value}\u{A0}({})", sources.numbers(a.source))
    };
    let all: Vec<String> = Assumptions::default().list().into_iter().map(one).collect();
    format!("{}.", all.join("; "))
}
