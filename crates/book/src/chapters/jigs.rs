//! Jigs: trammel settings for arcs, groove set-ups, drilling pin circles.
//!
//! In: outlines and features of the parts. Out: a chapter.
//! Always true: every setting follows from the part's own outline and the cutter named; arcs, grooves and circles
//! that many pieces share are listed once for their part.

use crate::cx::{Cx, Refs};
use crate::draw::{arrow, circle_steps, level, line, rect};
use crate::flow::{Chapter, Figure};
use crate::grid::{MIDDLE, SMALL, THIN, TINT, TINY, rule};
use turnleaf_geom::{Ring, Seg, Vec2, trig, vec2::v};
use turnleaf_page::{Anchor, Colour, Item, Stroke, Text, pt};
use turnleaf_parts::{Depth, Face, FeatureKind, Part};
use turnleaf_text::{Column, Row, Table, Width};
use turnleaf_units::PrintUnits;

/// Arcs below this radius are no work for a trammel, mm.
const LEAST: f64 = 28.0;
/// A part with more different arcs than this is cut to its template, not by trammel.
const MANY: usize = 8;

/// The chapter.
pub fn chapter(cx: &Cx, number: usize, _: &Refs) -> Chapter {
    let mut f = cx.flow(number, "jigs", &cx.t("jigs-title"));
    let values = [("cutter", cx.length(cutter(cx))), ("half", cx.length(cutter(cx) / 2.0))];
    f.section(&cx.t("jigs-trammel"), "jigs/trammel");
    f.para(cx.tv("jigs-trammel-text", &values));
    f.figure(&trammel(cx), &cx.t("figure"), &cx.tv("jigs-trammel-caption", &values));
    f.table(arcs_table(cx));
    f.section(&cx.t("jigs-grooves"), "jigs/grooves");
    f.lead(cx.t("jigs-grooves-text"));
    f.table(grooves(cx));
    let circles = circles(cx);
    if !circles.is_empty() {
        f.section(&cx.t("jigs-circles"), "jigs/circles");
        f.lead(cx.t("jigs-circles-text"));
        f.table(circle_table(cx, &circles));
        if let Some(figure) = bar(cx, &circles) {
            f.wide_figure(&figure, &cx.t("figure"), &cx.t("jigs-bar-caption"));
        }
    }
    f.finish()
}

/// Diameter of the cutter that the settings are given for: 12 mm, or 1/2 in where the plan's inches come first.
fn cutter(cx: &Cx) -> f64 {
    if matches!(cx.say.units, PrintUnits::Inch(_)) { 12.7 } else { 12.0 }
}

/// An arc to cut.
struct Swing {
    /// Radius of the finished edge, mm.
    radius: f64,
    /// Centre in the part's frame.
    centre: Vec2,
    /// The wood that stays is inside the arc.
    inside: bool,
}

impl Swing {
    fn same(&self, other: &Swing) -> bool {
        (self.radius - other.radius).abs() < 0.01
            && self.centre.dist(other.centre) < 0.01
            && self.inside == other.inside
    }
}

/// Arcs of a ring; in an opening the wood is on the other side.
fn swings(ring: &Ring, opening: bool, out: &mut Vec<Swing>) {
    for seg in ring.segs() {
        let Seg::Arc(arc) = seg else { continue };
        let one = Swing { radius: arc.radius, centre: arc.centre, inside: (arc.sweep > 0.0) != opening };
        if arc.radius >= LEAST && !out.iter().any(|s| s.same(&one)) {
            out.push(one);
        }
    }
}

fn arcs_of(part: &Part) -> Vec<Swing> {
    let mut out = Vec::new();
    swings(&part.outline, false, &mut out);
    for feature in &part.features {
        match &feature.kind {
            FeatureKind::Hole { centre, diameter, .. } if diameter / 2.0 >= LEAST => {
                swings(&Ring::circle(*centre, diameter / 2.0), true, &mut out);
            }
            FeatureKind::Pocket { ring, .. } => swings(ring, true, &mut out),
            _ => {}
        }
    }
    out
}

/// Whether a router swings round a part: sheet stock but steel.
fn routed(part: &Part) -> bool {
    turnleaf_nest::table::from_sheet(part) && part.material != "steel plate"
}

fn arcs_table(cx: &Cx) -> Table {
    let columns = vec![
        Column::new(cx.t("column-part"), Width::Share(1.0)),
        Column::new(cx.t("jigs-edge"), Width::Fit(30.0)),
        Column::number(cx.t("jigs-radius"), Width::Fit(38.0)),
        Column::number(cx.t("jigs-centre"), Width::Fit(40.0)),
        Column::number(cx.t("jigs-setting"), Width::Fit(38.0)),
    ];
    let half = cutter(cx) / 2.0;
    // Parts with the same arcs (the plies of the base) share their rows.
    let mut sets: Vec<(String, String, Vec<Swing>)> = Vec::new();
    for part in cx.input.assembly.parts.iter().filter(|p| routed(p)) {
        let arcs = arcs_of(part);
        let alike = |(_, _, other): &&mut (String, String, Vec<Swing>)| {
            other.len() == arcs.len() && other.iter().zip(&arcs).all(|(a, b)| a.same(b))
        };
        match sets.iter_mut().find(alike) {
            _ if arcs.is_empty() => {}
            Some((_, names, _)) => *names += &format!("; {}", cx.part_name(part)),
            None => sets.push((part.id.clone(), cx.part_name(part), arcs)),
        }
    }
    let mut rows = Vec::new();
    for (id, names, arcs) in sets {
        if arcs.len() > MANY {
            rows.push(Row::new([names, cx.t("jigs-template")]).id(format!("jig/{id}")));
            continue;
        }
        for (i, s) in arcs.iter().enumerate() {
            let setting = if s.inside { s.radius + half } else { s.radius - half };
            let centre = if s.centre.norm() < 0.01 {
                cx.t("jigs-origin")
            } else {
                format!("{}; {}", cx.leading(s.centre.x), cx.leading(s.centre.y))
            };
            let edge = cx.t(if s.inside { "jigs-outer-edge" } else { "jigs-hollow-edge" });
            let name = if i == 0 { names.clone() } else { String::new() };
            let cells = [name, edge, cx.length(s.radius), centre, cx.length(setting)];
            rows.push(Row::new(cells).id(format!("jig/{id}/{}", i + 1)));
        }
    }
    let mut table = Table::new(columns, SMALL).id("jigs/arcs").rows(rows);
    table.pad = 0.5;
    table
}

/// The trammel: a pin, a bar, the cutter outside or inside the edge.
fn trammel(cx: &Cx) -> Figure {
    let width = cx.grid.main_width();
    let (pin, edge, half, y) = (8.0, 78.0, 4.0, 17.0);
    let to = |p: Vec2| pt(p.x, p.y);
    let dot = |x: f64, y: f64, r: f64, fill: Colour| Item::Path {
        steps: circle_steps(v(x, y), r, &to),
        stroke: Some(rule(THIN)),
        fill: Some(fill),
    };
    let mut items = Vec::new();
    for (i, outside) in [true, false].into_iter().enumerate() {
        let y = y + 27.0 * i as f64;
        let middle = if outside { edge + half } else { edge - half };
        // The wood that stays, tinted: left of the edge, or right of it.
        let (from, far) = if outside { (pin + 6.0, edge) } else { (edge, edge + 26.0) };
        items.push(rect(pt(from, y - 7.0), pt(far, y + 7.0), None, Some(TINT)));
        items.push(line(pt(edge, y - 7.0), pt(edge, y + 7.0), rule(MIDDLE)));
        items.push(rect(pt(pin - 3.0, y - 1.6), pt(middle, y + 1.6), Some(rule(THIN)), Some(Colour::WHITE)));
        items.push(dot(pin, y, 0.9, Colour::BLACK));
        items.push(dot(middle, y, half, Colour::WHITE));
        items.push(dot(middle, y, 0.35, Colour::BLACK));
        let measure = |x: f64, at: f64, text: String| {
            let pen = Stroke::solid(0.18);
            vec![
                line(pt(pin, y), pt(pin, at - 1.0), pen.clone()),
                line(pt(x, y), pt(x, at - 1.0), pen.clone()),
                level(pin, x, at, pen),
                arrow(pt(pin, at), v(-1.0, 0.0), 2.2),
                arrow(pt(x, at), v(1.0, 0.0), 2.2),
                Item::Text(Text::new(pt((pin + x) / 2.0, at - 0.8), TINY, text).anchor(Anchor::Middle)),
            ]
        };
        items.extend(measure(edge, y - 8.5, "R".into()));
        let sum = if outside { "S = R + c/2" } else { "S = R − c/2" };
        items.extend(measure(middle, y + 11.0, sum.into()));
        let words = cx.t(if outside { "jigs-outer-edge" } else { "jigs-hollow-edge" });
        items.push(Item::Text(Text::new(pt(width, y - 8.5), TINY, words).anchor(Anchor::End)));
    }
    Figure { id: "figure/trammel".into(), alt: cx.t("jigs-trammel-alt"), width, height: 58.0, items }
}

/// A groove or tongue as it is set up: where it sits in the thickness and how deep it goes.
fn grooves(cx: &Cx) -> Table {
    let columns = vec![
        Column::new(cx.t("column-part"), Width::Share(1.0)),
        Column::new(cx.t("jigs-cut"), Width::Fit(26.0)),
        Column::number(cx.t("jigs-below"), Width::Fit(36.0)),
        Column::number(cx.t("jigs-wide"), Width::Fit(36.0)),
        Column::number(cx.t("jigs-above"), Width::Fit(36.0)),
        Column::number(cx.t("jigs-deep"), Width::Fit(36.0)),
    ];
    let mut rows = Vec::new();
    for part in cx.input.assembly.parts.iter().filter(|p| p.made) {
        let mut seen: Vec<(bool, f64, (f64, f64))> = Vec::new();
        for feature in &part.features {
            let (tongue, depth, z) = match feature.kind {
                FeatureKind::EdgeGroove { depth, z, .. } => (false, depth, z),
                FeatureKind::EdgeTongue { depth, z, .. } => (true, depth, z),
                _ => continue,
            };
            let same = |s: &(bool, f64, (f64, f64))| {
                s.0 == tongue
                    && (s.1 - depth).abs() < 1e-6
                    && (s.2.0 - z.0).abs() < 1e-6
                    && (s.2.1 - z.1).abs() < 1e-6
            };
            if !seen.iter().any(same) {
                seen.push((tongue, depth, z));
            }
        }
        for (i, (tongue, depth, z)) in seen.iter().enumerate() {
            let name = if i == 0 { cx.part_name(part) } else { String::new() };
            let kind = cx.t(if *tongue { "jigs-tongue" } else { "jigs-groove" });
            let sizes = [z.0, z.1 - z.0, part.thickness - z.1, *depth].map(|x| cx.length(x.max(0.0)));
            let [below, wide, above, deep] = sizes;
            rows.push(Row::new([name, kind, below, wide, above, deep]).id(format!(
                "groove/{}/{}",
                part.id,
                i + 1
            )));
        }
    }
    Table::new(columns, SMALL).id("jigs/grooves").rows(rows)
}

/// Holes of one purpose at one distance from a part's origin.
struct Circle {
    part: usize,
    /// Parts drilled alike.
    also: Vec<usize>,
    purpose: String,
    diameter: f64,
    radius: f64,
    depth: Depth,
    /// Directions, degrees from the part's x axis, counter-clockwise from above, rising.
    angles: Vec<f64>,
}

impl Circle {
    /// The angle between neighbours when all are the same.
    fn step(&self) -> Option<f64> {
        let n = self.angles.len();
        let step = 360.0 / n as f64;
        self.angles.windows(2).all(|w| (w[1] - w[0] - step).abs() < 0.02).then_some(step)
    }
}

/// Circles of at least three holes about the middles of parts, and pairs opposite each other.
fn circles(cx: &Cx) -> Vec<Circle> {
    let mut out: Vec<Circle> = Vec::new();
    for (index, part) in cx.input.assembly.parts.iter().enumerate().filter(|(_, p)| p.made) {
        let from = out.len();
        for feature in &part.features {
            let FeatureKind::Hole { centre, diameter, depth } = feature.kind else { continue };
            let radius = centre.norm();
            let purpose = feature.id.split('/').next().unwrap_or_default();
            if radius < 1.0 {
                continue;
            }
            let angle = trig::deg(centre.angle()).rem_euclid(360.0);
            let angle = if angle > 359.995 { 0.0 } else { angle };
            let same = |c: &&mut Circle| {
                c.purpose == purpose
                    && (c.radius - radius).abs() < 0.01
                    && (c.diameter - diameter).abs() < 0.01
            };
            match out[from..].iter_mut().find(same) {
                Some(c) => c.angles.push(angle),
                None => out.push(Circle {
                    part: index,
                    also: Vec::new(),
                    purpose: purpose.to_string(),
                    diameter,
                    radius,
                    depth,
                    angles: vec![angle],
                }),
            }
        }
    }
    out.retain(|c| c.angles.len() >= 3);
    out.iter_mut().for_each(|c| c.angles.sort_by(f64::total_cmp));
    // The plies of the base are drilled alike: one row.
    let mut merged: Vec<Circle> = Vec::new();
    for c in out {
        let same = |o: &&mut Circle| {
            o.purpose == c.purpose
                && o.depth == c.depth
                && (o.radius - c.radius).abs() + (o.diameter - c.diameter).abs() < 0.01
                && o.angles.len() == c.angles.len()
                && o.angles.iter().zip(&c.angles).all(|(a, b)| (a - b).abs() < 0.01)
        };
        match merged.iter_mut().find(same) {
            Some(o) => o.also.push(c.part),
            None => merged.push(c),
        }
    }
    merged
}

/// What the holes are for.
fn purpose(cx: &Cx, c: &Circle) -> String {
    cx.words.named("jigs-hole", &c.purpose).unwrap_or_else(|| c.purpose.replace('-', " "))
}

fn circle_table(cx: &Cx, circles: &[Circle]) -> Table {
    let columns = vec![
        Column::new(cx.t("column-part"), Width::Share(1.0)),
        Column::new(cx.t("jigs-holes"), Width::Fit(34.0)),
        Column::number("⌀", Width::Fixed(15.0)),
        Column::number(cx.t("jigs-from-centre"), Width::Fit(34.0)),
        Column::number(cx.t("jigs-directions"), Width::Fit(38.0)),
        Column::number(cx.t("jigs-chord"), Width::Fit(34.0)),
    ];
    let names = |c: &Circle| {
        let parts = std::iter::once(&c.part).chain(&c.also).map(|p| &cx.input.assembly.parts[*p]);
        let parts: Vec<&Part> = parts.collect();
        let plies = parts.len() == 2 && parts.iter().all(|p| p.id.starts_with("base-"));
        if plies {
            return cx.t("jigs-both-plies");
        }
        parts.into_iter().map(|p| cx.part_name(p)).collect::<Vec<_>>().join("; ")
    };
    // A part's name stands once over its rows.
    let mut said = String::new();
    let row = |c: &Circle| {
        let chord = |step: f64| 2.0 * c.radius * trig::sin(trig::rad(step) / 2.0);
        let (angles, chords) = match c.step() {
            Some(step) => {
                let every =
                    cx.tv("jigs-every", &[("first", cx.degrees(c.angles[0])), ("step", cx.degrees(step))]);
                (every, cx.length(chord(step)))
            }
            None => {
                let list: Vec<String> = c.angles.iter().map(|a| cx.degrees(*a)).collect();
                let mut between: Vec<String> = Vec::new();
                for w in c.angles.windows(2) {
                    let text = cx.leading(chord(w[1] - w[0]));
                    if !between.contains(&text) {
                        between.push(text);
                    }
                }
                (list.join(", "), between.join(", "))
            }
        };
        let holes = format!("{} × {}", c.angles.len(), purpose(cx, c));
        let blind = match c.depth {
            Depth::Through => String::new(),
            Depth::Blind(face, depth) => {
                let key = if face == Face::Top { "jigs-blind-top" } else { "jigs-blind-bottom" };
                format!(" {}", cx.tv(key, &[("depth", cx.leading(depth))]))
            }
        };
        let part = names(c);
        let part = if part == said { String::new() } else { part };
        said = names(c);
        Row::new([part, holes + &blind, cx.leading(c.diameter), cx.length(c.radius), angles, chords])
            .id(format!("circle/{}/{}", cx.input.assembly.parts[c.part].id, c.purpose))
    };
    // Two units need the smaller type.
    let both = matches!(cx.say.units, PrintUnits::Both(..));
    let mut table =
        Table::new(columns, if both { TINY } else { SMALL }).id("jigs/circles").rows(circles.iter().map(row));
    table.pad = 0.6;
    table.gap = 3.0;
    table
}

/// The drilling bar of the part with the most circles: holes at their distances from the centre pin.
fn bar(cx: &Cx, circles: &[Circle]) -> Option<Figure> {
    let part = circles.iter().map(|c| c.part).max_by_key(|p| {
        let mut radii: Vec<i64> =
            circles.iter().filter(|c| c.part == *p).map(|c| (c.radius * 100.0) as i64).collect();
        radii.dedup();
        // Of equals the first.
        (radii.len(), usize::MAX - p)
    })?;
    let mut here: Vec<&Circle> = circles.iter().filter(|c| c.part == part).collect();
    here.sort_by(|a, b| a.radius.total_cmp(&b.radius));
    here.dedup_by(|a, b| (a.radius - b.radius).abs() < 0.01);
    let far = here.last()?.radius;
    let width = cx.grid.width();
    let scale = (width - 22.0) / far;
    let (x0, y) = (8.0, 6.0);
    let to = |p: Vec2| pt(p.x, p.y);
    let mut items =
        vec![rect(pt(1.0, y - 5.0), pt(x0 + far * scale + 8.0, y + 5.0), Some(rule(MIDDLE)), Some(TINT))];
    let ring = |x: f64, r: f64, fill: Colour| Item::Path {
        steps: circle_steps(v(x, y), r, &to),
        stroke: Some(rule(THIN)),
        fill: Some(fill),
    };
    items.push(ring(x0, 1.0, Colour::BLACK));
    for (k, c) in here.iter().enumerate() {
        let x = x0 + c.radius * scale;
        items.push(ring(x, 1.4, Colour::WHITE));
        let at = y + 10.0 + 5.6 * k as f64;
        let pen = Stroke::solid(0.18);
        items.push(line(pt(x, y + 1.4), pt(x, at + 1.0), pen.clone()));
        items.push(level(x0, x, at, pen.clone()));
        items.push(arrow(pt(x0, at), v(-1.0, 0.0), 2.2));
        items.push(arrow(pt(x, at), v(1.0, 0.0), 2.2));
        // What the holes are for stands in the table too; it is left out where the line is too short for it.
        let (radius, hole) = (cx.length(c.radius), cx.leading(c.diameter));
        let full = format!("{radius}  {}, ⌀ {hole}", purpose(cx, c));
        let texts = [full, format!("{radius}, ⌀ {hole}"), radius];
        let room = x - x0 - 4.0;
        let fits = |t: &&String| turnleaf_text::width(t, TINY, turnleaf_page::Face::Regular) <= room;
        let text = texts.iter().find(fits).unwrap_or(&texts[2]);
        items.push(Item::Text(Text::new(pt(x0 + 3.0, at - 0.8), TINY, text)));
    }
    let bottom = y + 10.0 + 5.6 * (here.len() - 1) as f64;
    items.push(line(pt(x0, y + 1.0), pt(x0, bottom + 1.0), Stroke::solid(0.18)));
    let name = cx.part_name(&cx.input.assembly.parts[part]);
    let alt = cx.tv("jigs-bar-alt", &[("name", name), ("count", here.len().to_string())]);
    Some(Figure { id: "figure/drilling-bar".into(), alt, width, height: bottom + 2.0, items })
}
