//! Setting up: order of adjustments, shims, and what to do about what goes wrong.
//!
//! In: the mechanism. Out: a chapter.
//! Always true: every number follows from this table's motion (rates are differences over small changes of the
//! solved laws), so that another size of table gives another number.

use crate::cx::{Cx, Refs};
use crate::flow::Chapter;
use crate::grid::TINY;
use turnleaf_geom::trig;
use turnleaf_mechanism::Mechanism;
use turnleaf_text::{Column, Row, Table, Width};

/// A shim that numbers are given for, mm: thick paper is a fifth of it, veneer about its half.
const SHIM: f64 = 0.5;

/// How much the star rises for a unit that the plate rises, at the end of the lift.
pub fn star_rate(m: &Mechanism) -> f64 {
    let (a, b) = (m.stack.step, m.stack.step - 0.1);
    match (m.lever.tip_rise(a), m.lever.tip_rise(b)) {
        (Some(x), Some(y)) => (x - y) / (a - b),
        _ => m.lever.ideal_ratio(),
    }
}

/// How far panels come back in over the last degree of the turn, mm.
pub fn closing_rate(m: &Mechanism) -> f64 {
    let last = m.turn() - trig::rad(1.0);
    m.panel_travel(last) - m.panel_travel(m.turn())
}

/// How much a shim under one foot raises the open rim over it: a shim tips the table about the line of its two
/// neighbours, which lies as far from the centre as `inside`.
fn foot_rate(cx: &Cx) -> Option<f64> {
    let a = cx.input.assembly;
    let legs = a.parts.iter().enumerate().filter(|(_, p)| p.id == "leg");
    let feet: Vec<_> =
        legs.flat_map(|(i, _)| a.pieces.iter().filter(move |p| p.part == i)).map(|p| p.at.offset).collect();
    let [first, rest @ ..] = feet.as_slice() else { return None };
    // The line through the two nearest other feet.
    let mut near: Vec<_> = rest.to_vec();
    near.sort_by(|p, q| p.dist(*first).total_cmp(&q.dist(*first)));
    let [p, q, ..] = near.as_slice() else { return None };
    let along = (*q - *p) * (1.0 / p.dist(*q).max(1e-9));
    let from_line = |x: turnleaf_geom::Vec2| along.cross(x - *p).abs();
    let m = cx.mechanism();
    let rim = *first * ((m.layout.radius + m.layout.travel) / first.norm().max(1e-9));
    Some(from_line(rim) / from_line(*first))
}

fn values(cx: &Cx) -> Vec<(&'static str, String)> {
    let m = cx.mechanism();
    let turn = |t: f64| cx.degrees(trig::deg(t));
    let outer = m.rollers.places.iter().map(|r| r.radius).fold(0.0, f64::max);
    let star = star_rate(m);
    let per_mm = trig::deg(1.0 / outer);
    let sin = trig::sin(m.layout.half_sector);
    vec![
        ("shim", cx.length(SHIM)),
        ("starshim", cx.length(SHIM * star)),
        ("ratio", cx.or_dash(turnleaf_units::print_decimal(star, 2, cx.say.sign))),
        ("rim", cx.length(SHIM * foot_rate(cx).unwrap_or(1.0))),
        ("step", cx.length(m.stack.step)),
        ("twostep", cx.length(2.0 * m.stack.step)),
        ("begins", turn(m.lift_begins())),
        ("ends", turn(m.lift_ends())),
        ("turn", turn(m.turn())),
        ("peak", turn(m.travel_peak())),
        ("back", cx.length(m.panel_travel_most() - m.panel_travel(m.turn()))),
        ("degree", cx.length(closing_rate(m))),
        ("slip", cx.degrees(per_mm)),
        ("onemm", cx.length(1.0)),
        ("arc", cx.length(outer * trig::rad(1.0))),
        ("gap", cx.length(m.sizes.fitting_gap)),
        ("perpanel", cx.length(2.0 * sin)),
        ("play", cx.length(m.sizes.play)),
        ("clearance", cx.length(m.sizes.tongue_clearance)),
        ("depth", cx.length(m.sizes.tongue_depth)),
        ("panelover", cx.length(m.panel_overtravel())),
        ("margin", cx.length(m.sizes.hidden_margin)),
        ("armgap", cx.number("arms.clearance").map_or(String::new(), |(_, n)| cx.length(n.value))),
        ("push", cx.figure("torque.rim").map_or(String::new(), |f| cx.force(f.value))),
        ("bed", cx.length(m.stack.base.bottom)),
    ]
}

/// The chapter.
pub fn chapter(cx: &Cx, number: usize, _: &Refs) -> Chapter {
    let cam = cx.mechanism().cam().is_some();
    let values = values(cx);
    let mut f = cx.flow(number, "adjusting", &cx.t("adjusting-title"));
    f.section(&cx.t("adjusting-rules"), "adjusting/rules");
    for text in cx.words.list("adjusting-rule", &values) {
        f.para(text);
    }
    f.section(&cx.t("adjusting-order"), "adjusting/order");
    for (i, text) in cx.words.list("adjusting-order-step", &values).into_iter().enumerate() {
        f.item(&format!("{}.", i + 1), &text);
    }
    f.end_list();
    f.section(&cx.t("adjusting-remedies"), "adjusting/remedies");
    f.lead(cx.t("adjusting-remedies-text"));
    let columns = vec![
        Column::new(cx.t("adjusting-symptom"), Width::Share(0.8)),
        Column::new(cx.t("adjusting-cause"), Width::Share(0.9)),
        Column::new(cx.t("adjusting-remedy"), Width::Share(1.3)),
    ];
    let mut texts = cx.words.list("adjusting-row", &values);
    texts.extend(cx.words.list(if cam { "adjusting-cam-row" } else { "adjusting-arms-row" }, &values));
    let row = |(i, text): (usize, String)| {
        let cells: Vec<String> = text.split(" | ").map(str::to_string).collect();
        Row::new(cells).id(format!("remedy/{}", i + 1))
    };
    f.table(Table::new(columns, TINY).pad(0.45).id("remedies").rows(texts.into_iter().enumerate().map(row)));
    f.finish()
}
