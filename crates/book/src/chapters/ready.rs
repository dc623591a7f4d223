//! Before work begins: how to read the book, cautions, and the page that checks the print.
//!
//! In: the mechanism's loads and pinching places. Out: two chapters.
//! Always true: the bars of the check page are exactly 100 mm and 4 in long, along and across.

use crate::cx::{Cx, Refs};
use crate::draw::{box_steps, filled, group};
use crate::flow::{Chapter, Figure, Flow};
use crate::grid::{SMALL, TINY, rule};
use crate::measured::SIGN;
use turnleaf_geom::trig;
use turnleaf_motion::pinch::{ENTERS, FINGER};
use turnleaf_motion::{Access, Pinch};
use turnleaf_page::{Anchor, Colour, Item, Role, Text, pt};
use turnleaf_planfile::Projection;
use turnleaf_text::{Column, Row, Table, Width};
use turnleaf_units::PrintUnits;

/// How to read, then the cautions.
pub fn chapter(cx: &Cx, number: usize, refs: &Refs) -> Chapter {
    let m = cx.mechanism();
    let mut f = cx.flow(number, "ready", &cx.t("ready-title"));
    f.section(&cx.t("reading"), "ready/reading");
    let units = match cx.say.units {
        PrintUnits::Mm(_) => "reading-mm",
        PrintUnits::Inch(_) => "reading-inch",
        PrintUnits::Both(..) => "reading-both",
    };
    let step = cx.or_dash(cx.say.mm(cx.say.step.length().mm()));
    let fraction = format!("1/{} in", cx.say.inch.denominator.number());
    f.para(cx.tv(units, &[("step", step), ("fraction", fraction)]));
    let angle = match cx.options.projection {
        Projection::First => "reading-first",
        Projection::Third => "reading-third",
    };
    f.para(cx.t(angle));
    for text in cx.words.list("reading-text", &[("page", refs.page("print"))]) {
        f.para(text);
    }
    if cx.any_measured() {
        let names = turnleaf_planfile::FIELDS.iter().filter_map(|field| {
            let value = cx.input.plan.measured(field.id)?;
            let planned = cx.input.plan.length(field.id)?;
            let name = cx.words.named("field", field.id).unwrap_or_else(|| field.label.to_string());
            let values =
                [("name", name), ("value", cx.length(value.mm())), ("planned", cx.length(planned.mm()))];
            Some(cx.tv("reading-measured-one", &values))
        });
        let list = names.collect::<Vec<_>>().join("; ");
        f.para(cx.tv("reading-measured", &[("sign", SIGN.to_string()), ("list", list)]));
    }
    let back = m.panel_travel_most() - m.panel_travel(m.turn());
    let values = [
        ("load", cx.force(m.sizes.edge_load)),
        ("back", cx.length(back)),
        ("last", cx.degrees(trig::deg(m.turn() - m.travel_peak()))),
        ("step", cx.length(m.stack.step)),
        ("open", cx.length(2.0 * (m.layout.radius + m.layout.travel))),
        ("overhang", cx.length(overhang(cx))),
    ];
    f.section(&cx.t("cautions"), "ready/cautions");
    f.para(cx.t("cautions-lead"));
    for topic in ["workshop", "lifting", "pinching", "tipping", "loads", "limits"] {
        f.sub(&cx.t(&format!("caution-{topic}")));
        for text in cx.words.list(&format!("caution-{topic}-text"), &values) {
            f.item("•", &text);
        }
        f.end_list();
    }
    // Last, so that the table is not parted from its words for the sake of the lists below it.
    f.section(&cx.t("pinch-title"), "ready/pinches");
    pinches(cx, &mut f);
    f.finish()
}

/// The gaps that can pinch a finger, with the turns at which they do.
fn pinches(cx: &Cx, f: &mut Flow) {
    let found = cx.pinches();
    let limits = [("finger", cx.length(FINGER)), ("enters", cx.length(ENTERS))];
    f.lead(cx.tv("pinch-lead", &limits));
    let columns = vec![
        Column::new(cx.t("pinch-between"), Width::Share(1.0)),
        Column::number(cx.t("pinch-turn"), Width::Fit(30.0)),
        Column::number(cx.t("pinch-narrowest"), Width::Fit(24.0)),
        Column::new(cx.t("pinch-way"), Width::Fit(22.0)),
        Column::new(cx.t("pinch-reach"), Width::Fit(22.0)),
    ];
    let row = |p: &Pinch| {
        let (a, b) = (cx.name_of(&p.a), cx.name_of(&p.b));
        let between = if p.a == p.b {
            cx.tv("pinch-own", &[("a", a)])
        } else {
            cx.tv("pinch-two", &[("a", a), ("b", b)])
        };
        let (from, to) = p.degrees();
        let way = if p.opening { "pinch-opening" } else { "pinch-closing" };
        let reach = if p.access == Access::Above { "pinch-above" } else { "pinch-rim" };
        let turn = format!("{} – {}", cx.degrees(from), cx.degrees(to));
        Row::new([between, turn, cx.leading(p.narrowest), cx.t(way), cx.t(reach)])
            .id(format!("pinch/{}/{}/{from:.0}", p.a, p.b))
    };
    f.table(Table::new(columns, SMALL).id("pinches").rows(found.iter().map(row)));
}

/// How far the open edge stands outside the legs' circle, mm.
fn overhang(cx: &Cx) -> f64 {
    let a = cx.input.assembly;
    let legs =
        a.parts.iter().enumerate().filter(|(_, p)| p.id.starts_with("leg") && !p.id.starts_with("leaf"));
    let out = legs
        .flat_map(|(i, _)| a.pieces.iter().filter(move |p| p.part == i))
        .map(|p| p.at.offset.norm())
        .fold(0.0, f64::max);
    let m = cx.mechanism();
    m.layout.radius + m.layout.travel - out
}

/// A bar of a length in parts, alternately black and white, level or upright; ends exactly on the outline's
/// outer edges.
fn bar(id: &str, length: f64, parts: usize, upright: bool, at: (f64, f64)) -> Item {
    let thick = 5.0;
    let place = |from: f64, to: f64| {
        let (a, b) = if upright { ((0.0, from), (thick, to)) } else { ((from, 0.0), (to, thick)) };
        (pt(at.0 + a.0, at.1 + a.1), pt(at.0 + b.0, at.1 + b.1))
    };
    let mut items = Vec::new();
    for i in (0..parts).step_by(2) {
        let unit = length / parts as f64;
        let (min, max) = place(unit * i as f64, unit * (i + 1) as f64);
        items.push(filled(box_steps(min, max), Colour::BLACK));
    }
    // The outline is a frame between two boxes, so that its outer edge is the bar's length exactly.
    let (min, max) = place(0.0, length);
    let w = 0.35;
    let mut frame = box_steps(min, max);
    frame.extend(box_steps(pt(min.x + w, min.y + w), pt(max.x - w, max.y - w)));
    items.push(filled(frame, Colour::BLACK));
    group(Role::Plain, Some(id.to_string()), items)
}

/// The four bars.
pub fn bars(cx: &Cx, width: f64) -> Figure {
    let mut items = Vec::new();
    let inch = 4.0 * 25.4;
    let (left, top) = (0.0, 6.0);
    let word = |x: f64, y: f64, text: String| Item::Text(Text::new(pt(x, y), TINY + 0.4, text));
    items.push(word(left, top - 2.0, cx.t("bar-mm")));
    items.push(bar("check/mm/across", 100.0, 10, false, (left, top)));
    items.push(word(left, top + 15.0, cx.t("bar-inch")));
    items.push(bar("check/in/across", inch, 8, false, (left, top + 17.0)));
    let down = top + 38.0;
    for (id, length, parts, x, text) in
        [("check/mm/along", 100.0, 10, left, "bar-mm"), ("check/in/along", inch, 8, left + 34.0, "bar-inch")]
    {
        items.push(bar(id, length, parts, true, (x, down)));
        let at = pt(x + 10.5, down + length / 2.0);
        let text = Text::new(at, TINY + 0.4, cx.t(text)).anchor(Anchor::Middle).rotate(90.0);
        items.push(Item::Text(text));
    }
    // A square whose diagonals show whether the sheet went through straight.
    let (sx, side) = (left + 62.0, 50.0);
    items.push(Item::Path {
        steps: box_steps(pt(sx, down), pt(sx + side, down + side)),
        stroke: Some(rule(0.25)),
        fill: None,
    });
    for (a, b) in [(pt(sx, down), pt(sx + side, down + side)), (pt(sx + side, down), pt(sx, down + side))] {
        items.push(crate::draw::line(a, b, rule(0.13)));
    }
    let note = turnleaf_text::paragraph(
        &[turnleaf_text::Span::new(cx.t("bar-square"))],
        (width - sx).max(20.0),
        crate::flow::small(),
    );
    items.extend(note.place(0..note.len(), sx, down + side + 2.0));
    Figure {
        id: "figure/check".into(),
        alt: cx.t("bars-alt"),
        width: width.min(sx + side).max(inch),
        height: down + inch,
        items,
    }
}

/// The page that checks the print.
pub fn print_check(cx: &Cx, number: usize) -> Chapter {
    let mut f = cx.flow(number, "print", &cx.t("print-title"));
    let figure = bars(cx, cx.grid.main_width());
    // It is printed by itself: words and figure share a page.
    f.need(figure.height + 40.0);
    for text in cx.words.list("print-text", &[]) {
        f.para(text);
    }
    f.figure(&figure, &cx.t("figure"), &cx.t("print-caption"));
    f.finish()
}
