//! How the table moves: the motion chart and the key clearances.
//!
//! In: travel and lift as functions of the turn, the checks. Out: a chapter.
//! Always true: curves are drawn through exact values no farther apart than half a degree of turn; every
//! check that does not hold is listed, first.

use crate::chart::{PER_MM, PageBackend, pen, units};
use crate::cx::{Cx, Refs};
use crate::flow::{Chapter, Figure};
use crate::grid::{MIDDLE, PALE, SMALL, TINT, TINY, rule};
use plotters::coord::ranged1d::ValueFormatter;
use plotters::coord::ranged1d::{KeyPointHint, Ranged};
use plotters::element::Rectangle;
use plotters::prelude::{ChartBuilder, IntoDrawingArea, LineSeries};
use plotters::style::{Color, IntoFont, TextStyle};
use turnleaf_geom::trig;
use turnleaf_motion::Check;
use turnleaf_motion::expect::Expect;
use turnleaf_page::{Anchor, Item, Stroke, Text, pt};
use turnleaf_text::{Column, Row, Table, Width};
use turnleaf_units::{PrintUnits, print_decimal};

/// A scale of the chart with its own marks.
#[derive(Clone)]
struct Marked {
    to: f64,
    marks: Vec<f64>,
}

impl Ranged for Marked {
    type FormatOption = plotters::coord::ranged1d::NoDefaultFormatting;
    type ValueType = f64;
    fn map(&self, value: &f64, limit: (i32, i32)) -> i32 {
        limit.0 + (f64::from(limit.1 - limit.0) * value / self.to).round() as i32
    }
    fn key_points<Hint: KeyPointHint>(&self, hint: Hint) -> Vec<f64> {
        // Light lines would be more than a page needs.
        if hint.weight().allow_light_points() { Vec::new() } else { self.marks.clone() }
    }
    fn range(&self) -> core::ops::Range<f64> {
        0.0..self.to
    }
}

impl ValueFormatter<f64> for Marked {
    fn format(value: &f64) -> String {
        // Replaced by the chart's own formatters, which know the decimal sign.
        value.to_string()
    }
}

/// A round step that gives about `wanted` marks up to `to`: 1, 2 or 5 times a power of ten.
fn step(to: f64, wanted: f64) -> f64 {
    let rough = (to / wanted).max(1e-6);
    let mut unit = 1e-6;
    while unit * 10.0 <= rough {
        unit *= 10.0;
    }
    [1.0, 2.0, 5.0, 10.0].into_iter().map(|k| k * unit).find(|s| *s >= rough).unwrap_or(unit * 10.0)
}

fn marked(most: f64, wanted: f64, exact: bool) -> Marked {
    let by = step(most, wanted);
    let to = if exact { most } else { (most / by).ceil() * by };
    let count = (to / by + 1e-9).floor() as usize;
    Marked { to, marks: (0..=count).map(|i| i as f64 * by).collect() }
}

/// Room above the plot for the unit and the name of the grey band, mm.
const HEAD: f64 = 6.0;

/// The motion chart.
pub fn chart(cx: &Cx, width: f64, height: f64) -> Figure {
    let m = cx.mechanism();
    let inch = matches!(cx.say.units, PrintUnits::Inch(_));
    let per = if inch { 25.4 } else { 1.0 };
    let turn = trig::deg(m.turn());
    let x = marked(turn, 8.0, true);
    let y = marked(m.panel_travel_most().max(m.leaf_travel_most()) / per, 8.0, false);
    let pens = [
        rule(MIDDLE),
        Stroke { colour: PALE, ..rule(0.13) },
        Stroke::solid(0.5),
        Stroke { dash: vec![2.6, 1.0], ..Stroke::solid(0.5) },
        Stroke { dash: vec![0.01, 1.0], ..Stroke::solid(0.6) },
        Stroke { dash: vec![3.0, 0.9, 0.4, 0.9], ..Stroke::solid(0.4) },
        Stroke { colour: TINT, ..rule(0.13) },
    ];
    type Law<'a> = Box<dyn Fn(f64) -> f64 + 'a>;
    let laws: [(&str, u8, Law); 4] = [
        ("chart-panels", 2, Box::new(|t| m.panel_travel(t))),
        ("chart-leaves", 3, Box::new(|t| m.leaf_travel(t))),
        ("chart-star", 5, Box::new(|t| m.star_rise(t))),
        ("chart-plate", 4, Box::new(|t| m.plate_rise(t))),
    ];
    // Room for the names of the curves on the right, for the key of values on the left and below.
    let plot_width = width - 30.0;
    let mut items = Vec::new();
    let looks = (turn * 2.0).ceil().max(2.0) as usize;
    let (begins, ends) = (trig::deg(m.lift_begins()), trig::deg(m.lift_ends()));
    let font = TextStyle::from(("sans-serif", TINY * PER_MM).into_font());
    let sign = cx.say.sign;
    let draw = |items: &mut Vec<Item>| -> Option<()> {
        let area = PageBackend::new(plot_width, height, &pens, items).into_drawing_area();
        let mut chart = ChartBuilder::on(&area)
            .margin_top(units(HEAD))
            .margin_right(units(2.0))
            .x_label_area_size(units(7.0))
            .y_label_area_size(units(11.0))
            .build_cartesian_2d(x.clone(), y.clone())
            .ok()?;
        let band = [(begins, 0.0), (ends, y.to)];
        chart.draw_series([Rectangle::new(band, pen(6).filled())]).ok()?;
        chart
            .configure_mesh()
            .axis_style(pen(0))
            .bold_line_style(pen(1))
            .light_line_style(pen(1).mix(0.0))
            .label_style(font.clone())
            .set_all_tick_mark_size(units(1.2))
            .x_label_formatter(&|v| print_decimal(*v, 2, sign).map(|t| format!("{t}°")).unwrap_or_default())
            .y_label_formatter(&|v| print_decimal(*v, 3, sign).unwrap_or_default())
            .draw()
            .ok()?;
        for (_, pen_of, law) in &laws {
            let points = (0..=looks).map(|i| {
                let t = m.turn() * i as f64 / looks as f64;
                (trig::deg(t), law(t) / per)
            });
            chart.draw_series(LineSeries::new(points, pen(*pen_of))).ok()?;
        }
        area.present().ok()
    };
    // The backend cannot fail; an empty chart would be seen at once.
    let _ = draw(&mut items);
    // Names at the right end of each curve, pushed apart where curves end close together.
    let (top, foot) = (HEAD, height - 7.0);
    let right = plot_width - 2.0;
    let mut ends_at: Vec<(f64, &str, u8)> = laws
        .iter()
        .map(|(name, p, law)| (foot - (foot - top) * law(m.turn()) / per / y.to, *name, *p))
        .collect();
    ends_at.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut last = f64::NEG_INFINITY;
    for (at, name, p) in ends_at {
        let place = at.max(last + 4.4);
        last = place;
        let pen = pens[usize::from(p)].clone();
        items.push(crate::draw::line(pt(right, at), pt(right + 2.5, place), Stroke::solid(0.13)));
        items.push(crate::draw::level(right + 3.0, right + 9.0, place, pen));
        let text = crate::draw::cut(&cx.t(name), TINY, turnleaf_page::Face::Regular, width - right - 10.5);
        items.push(Item::Text(Text::new(pt(right + 10.5, place + 1.0), TINY, text)));
    }
    let unit = if inch { "in" } else { "mm" };
    items.push(Item::Text(Text::new(pt(9.6, top - 2.6), TINY, unit).anchor(Anchor::End)));
    let lift = cx.t("chart-lift");
    let middle = 11.0 + (right - 11.0) * (begins + ends) / 2.0 / turn;
    items.push(Item::Text(Text::new(pt(middle, top - 2.6), TINY, lift).anchor(Anchor::Middle)));
    let alt = cx.tv(
        "chart-alt",
        &[
            ("turn", cx.degrees(turn)),
            ("panel", cx.length(m.panel_travel(m.turn()))),
            ("leaf", cx.length(m.leaf_travel(m.turn()))),
            ("begins", cx.degrees(begins)),
            ("ends", cx.degrees(ends)),
        ],
    );
    Figure { id: "figure/motion".into(), alt, width, height, items }
}

/// What a check is about, in plain words.
fn about(cx: &Cx, c: &Check) -> String {
    let mut parts = c.id.split('.');
    if let (Some(kind @ ("clear" | "lift")), Some(a), Some(b)) = (parts.next(), parts.next(), parts.next()) {
        let pair = [("a", cx.name_of(a)), ("b", cx.name_of(b))];
        let kind = match (kind, meant(cx, c)) {
            ("clear", Some(Expect::Fit(_))) => "fit",
            ("clear", Some(Expect::Touch)) => "touch",
            (kind, _) => kind,
        };
        return if a == b {
            cx.tv(&format!("check-{kind}-own"), &pair)
        } else {
            cx.tv(&format!("check-{kind}"), &pair)
        };
    }
    cx.words.named("check", &c.id).unwrap_or_else(|| c.text.clone())
}

fn value(cx: &Cx, c: &Check, value: f64) -> String {
    match c.unit {
        "mm" => cx.leading(value),
        "deg" => cx.degrees(value),
        _ => cx.or_dash(print_decimal(value, 2, cx.say.sign)),
    }
}

fn row(cx: &Cx, c: &Check) -> Row {
    let far = turnleaf_motion::proof::FAR;
    let apart = c.id.starts_with("clear.") && c.value >= far;
    let found = if apart { cx.tv("more-than", &[("value", cx.leading(far))]) } else { value(cx, c, c.value) };
    let turn = c.at_turn.map_or(String::new(), |t| cx.degrees(t));
    let limit = value(cx, c, c.limit);
    let margin =
        if apart { String::new() } else { value(cx, c, if c.holds { c.margin.max(0.0) } else { c.margin }) };
    Row::new([about(cx, c), found, limit, margin, turn]).id(format!("check/{}", c.id))
}

/// How many pairs that must keep clear, and how many that fit, are listed beside so many other rows: as many
/// as one page takes, and never fewer than three of each.
fn listed(cx: &Cx, others: usize) -> (usize, usize) {
    // A row is a line and its padding high; heading, words and sub-headings take about twelve rows.
    let row = SMALL * (1.32 + 2.0 * 0.28);
    let rows = (cx.grid.height() / row) as usize;
    let pairs = rows.saturating_sub(others + 13).max(6);
    (pairs - pairs * 2 / 5, pairs * 2 / 5)
}

/// What a pair of parts is meant to do, as the proof took it.
fn meant(cx: &Cx, c: &Check) -> Option<Expect> {
    let mut parts = c.id.split('.').skip(1);
    let (a, b) = (parts.next()?, parts.next()?);
    cx.input.proof.pairs.iter().find(|p| p.a == a && p.b == b).map(|p| p.expect)
}

/// The chapter.
pub fn chapter(cx: &Cx, number: usize, _: &Refs) -> Chapter {
    let m = cx.mechanism();
    let mut f = cx.flow(number, "motion", &cx.t("motion-title"));
    f.section(&cx.t("motion-way"), "motion/way");
    let values = [
        ("turn", cx.degrees(trig::deg(m.turn()))),
        ("begins", cx.degrees(trig::deg(m.lift_begins()))),
        ("ends", cx.degrees(trig::deg(m.lift_ends()))),
        ("panel", cx.length(m.panel_travel_most())),
        ("leaf", cx.length(m.leaf_travel_most())),
        ("step", cx.length(m.stack.step)),
        ("back", cx.length(m.panel_travel_most() - m.panel_travel(m.turn()))),
        ("star", cx.length(m.star_rise(m.turn()))),
    ];
    let way = if m.cam().is_some() { "motion-way-cam" } else { "motion-way-text" };
    for text in cx.words.list(way, &values) {
        f.para(text);
    }
    f.section(&cx.t("motion-chart"), "motion/chart");
    f.wide_figure(&chart(cx, cx.grid.width(), 108.0), &cx.t("figure"), &cx.t("motion-chart-caption"));
    f.section(&cx.t("clearances"), "motion/clearances");
    let followed = cx.input.proof.pairs.len().to_string();
    f.lead(cx.tv("clearances-text", &[("pairs", followed)]));
    f.table(clearances(cx));
    f.finish()
}

fn clearances(cx: &Cx) -> Table {
    let columns = vec![
        Column::new(cx.t("clearances-what"), Width::Share(1.0)),
        Column::number(cx.t("clearances-found"), Width::Fit(34.0)),
        Column::number(cx.t("clearances-limit"), Width::Fit(34.0)),
        Column::number(cx.t("clearances-margin"), Width::Fit(34.0)),
        Column::number(cx.t("clearances-turn"), Width::Fit(16.0)),
    ];
    let checks = cx.input.checks;
    let mut rows = Vec::new();
    let failing: Vec<&Check> = checks.iter().filter(|c| !c.holds).collect();
    if !failing.is_empty() {
        rows.push(Row::heading(cx.t("clearances-failing")));
        rows.extend(failing.iter().map(|c| row(cx, c)));
    }
    rows.push(Row::heading(cx.t("clearances-whole")));
    rows.extend(checks.iter().filter(|c| c.holds && !c.id.starts_with("clear.")).map(|c| row(cx, c)));
    let (most_clear, most_fit) = listed(cx, rows.len());
    let pairs = || checks.iter().filter(|c| c.holds && c.id.starts_with("clear."));
    let clear = |c: &&Check| matches!(meant(cx, c), Some(Expect::Clear(_)) | None);
    rows.push(Row::heading(cx.t("clearances-pairs")));
    rows.extend(pairs().filter(clear).take(most_clear.max(3)).map(|c| row(cx, c)));
    rows.push(Row::heading(cx.t("clearances-fits")));
    rows.extend(pairs().filter(|c| !clear(c)).take(most_fit.max(3)).map(|c| row(cx, c)));
    Table::new(columns, SMALL).id("clearances").rows(rows)
}
