//! The section through the stack, with heights and an enlarged detail.
//!
//! In: a scene. Out: a sheet.
//! Always true: the section is taken along two half planes through the table's axis, on the right through a
//! panel's middle, on the left close beside a seam, both turned into the plane of the paper (aligned section,
//! ISO 128-3); hatching of neighbours differs in direction or spacing (ISO 128-3); cut faces thinner on paper
//! than 0.8 mm are filled; shafts, pins and dowels are not cut lengthwise.

use crate::balloon::spread;
use crate::draw::{
    centred, figure, figure_group, label, largest, part_of, size, strokes, style, upright_dim,
    upright_dim_within,
};
use crate::group::{Group, group_of};
use crate::scene::{Scene, Solid};
use crate::{AssemblyOptions, Drawing};
use turnleaf_dimension::place::pen::{Style, arc_steps, line};
use turnleaf_geom::{Arc, Region, Ring, Vec2, trig, vec2::v};
use turnleaf_page::{Anchor, Colour, Face, Item, Paper, Pt, Role, Step, Stroke, Text, pt};
use turnleaf_parts::FeatureKind;
use turnleaf_sheet::{Scale, drawing_space};
use turnleaf_views::paper::Placement;
use turnleaf_views::{Area, Body, Cut, HatchLine, Options, View, Window, hatch, section, v3};

/// Cut faces thinner than this on paper are filled, mm: two lines of hatching would not fit in.
const THIN: f64 = 0.8;
/// Distance of hatch lines on paper, mm.
const HATCH: f64 = 1.0;
/// The same in the detail.
const HATCH_LARGE: f64 = 1.8;

/// The section of a table at one turn.
#[derive(Clone, Debug)]
pub struct Cutting {
    /// Edges at and behind the planes.
    pub view: View,
    /// Cut faces.
    pub areas: Vec<Area>,
}

/// Whether a part is left uncut: a round bar longer than thick, without a bore.
fn bar(part: &turnleaf_parts::Part) -> bool {
    let (lo, hi) = part.outline.bounds();
    let across = hi.x - lo.x;
    let round =
        (part.outline.area() - core::f64::consts::PI * across * across / 4.0).abs() < 1e-6 * across * across;
    let bored = part.features.iter().any(|f| matches!(f.kind, FeatureKind::Hole { .. }));
    round && !bored && part.thickness > across && across < 60.0
}

/// Cuts the table at a turn (radians).
pub fn cutting(scene: &Scene, turn: f64) -> Cutting {
    let a = scene.a;
    let half = a.mechanism.layout.half_sector;
    let n = a.mechanism.sizes.sectors;
    // The seam nearest the left, turned onto it.
    let k = ((core::f64::consts::PI / half - 1.0) / 2.0).round().clamp(0.0, n as f64 - 1.0);
    let seam = (2.0 * k + 1.0) * half;
    let whole: Vec<&str> = a.parts.iter().filter(|p| bar(p)).map(|p| p.id.as_str()).collect();
    // Beside the seam by more than the groove in the panel's edge, so that panel and leaf are both cut.
    let beside = a.mechanism.sizes.tongue_depth + 2.0;
    let far = 1e6;
    let mut out = Cutting { view: View::default(), areas: Vec::new() };
    for (frame, lo, hi, y) in [(0.0, 0.0, far, 0.0), (core::f64::consts::PI - seam, -far, 0.0, beside)] {
        let cut = Cut { point: v3(0.0, y, 0.0), normal: v3(0.0, -1.0, 0.0) };
        let mut bodies: Vec<Body> = Vec::new();
        for p in &a.pieces {
            // The frame's legs stand as they are on both sides.
            let frame = if group_of(a, p) == Group::Frame { -turn } else { frame };
            bodies.extend(scene.in_frame(p, turn, frame, Solid::Whole));
        }
        // What lies wholly beyond the half that is looked at neither shows nor hides anything in it.
        for b in bodies.iter_mut().filter(|b| beyond(b, lo, hi)) {
            b.layers = Vec::new().into();
        }
        let skip = |b: &Body| whole.contains(&part_of(&b.id)) || part_of(&b.id) == "drop-roller";
        let s = section(&bodies, &cut, &skip, &Options { hidden: false, smooth: false });
        let window = Window::Oblong { min: v(lo, -far), max: v(hi, far) };
        let view = s.view.within(&window);
        let first = out.view.bodies.len();
        out.view.bodies.extend(view.bodies);
        out.view.visible.extend(view.visible.into_iter().map(|mut q| {
            q.body += first;
            q
        }));
        for area in s.areas {
            let regions: Vec<Region> = area.regions.iter().filter_map(|r| clipped(r, lo, hi)).collect();
            if !regions.is_empty() {
                out.areas.push(Area { body: area.body + first, regions });
            }
        }
    }
    let bounds = out.view.visible.iter().map(|s| s.curve.bounds());
    out.view.bounds = bounds.fold((v(far, far), v(-far, -far)), |(l, h), (a, b)| {
        (v(l.x.min(a.x), l.y.min(a.y)), v(h.x.max(b.x), h.y.max(b.y)))
    });
    out
}

/// Whether a body lies wholly left of `lo` or right of `hi`, by the box of its layers.
fn beyond(b: &Body, lo: f64, hi: f64) -> bool {
    let (mut least, mut most) = (f64::INFINITY, f64::NEG_INFINITY);
    for l in b.layers.iter() {
        let (p, q) = l.region.outer.bounds();
        for (x, y) in [(p.x, p.y), (q.x, p.y), (q.x, q.y), (p.x, q.y)] {
            for z in [l.z0, l.z1] {
                let at = b.pose.apply(v3(x, y, z)).x;
                (least, most) = (least.min(at), most.max(at));
            }
        }
    }
    most < lo - 1.0 || least > hi + 1.0
}

/// The part of a straight-edged region between two x; faces cut by upright planes are convex.
fn clipped(r: &Region, lo: f64, hi: f64) -> Option<Region> {
    let mut points: Vec<Vec2> = r.outer.vertices.iter().map(|q| q.p).collect();
    for (at, keep_above) in [(lo, true), (hi, false)] {
        let inside = |p: Vec2| if keep_above { p.x >= at } else { p.x <= at };
        let mut next = Vec::new();
        for (i, p) in points.iter().enumerate() {
            let q = points[(i + 1) % points.len()];
            if inside(*p) {
                next.push(*p);
            }
            if inside(*p) != inside(q) {
                next.push(p.lerp(q, (at - p.x) / (q.x - p.x)));
            }
        }
        points = next;
    }
    let ring = Ring::polygon(&points);
    (points.len() > 2 && ring.area().abs() > 1e-6).then(|| Region::from(ring))
}

/// Hatch lines and filled faces at a scale: lines `spacing` mm apart on paper.
pub fn filling(areas: &[Area], scale: f64, spacing: f64) -> (Vec<HatchLine>, Vec<Region>) {
    let mut hatched = Vec::new();
    let mut filled = Vec::new();
    for area in areas {
        let mut rest = Vec::new();
        for r in &area.regions {
            let (lo, hi) = r.outer.bounds();
            if (hi.x - lo.x).min(hi.y - lo.y) * scale < THIN {
                filled.push(r.clone())
            } else {
                rest.push(r.clone())
            }
        }
        if !rest.is_empty() {
            hatched.push(Area { body: area.body, regions: rest });
        }
    }
    (hatch(&hatched, spacing / scale), filled)
}

/// The areas within a circle, as far as they reach it: regions whose box meets it.
fn hatch_within(lines: &[HatchLine], centre: Vec2, radius: f64) -> Vec<HatchLine> {
    let mut out = Vec::new();
    for l in lines {
        let d = l.b - l.a;
        let f = l.a - centre;
        let (qa, qb, qc) = (d.dot(d), 2.0 * f.dot(d), f.dot(f) - radius * radius);
        let disc = qb * qb - 4.0 * qa * qc;
        if disc <= 0.0 || qa <= 0.0 {
            continue;
        }
        let root = disc.sqrt();
        let (t0, t1) = (((-qb - root) / (2.0 * qa)).max(0.0), ((-qb + root) / (2.0 * qa)).min(1.0));
        if t1 > t0 {
            out.push(HatchLine { body: l.body, a: l.a.lerp(l.b, t0), b: l.a.lerp(l.b, t1) });
        }
    }
    out
}

fn ink(
    cutting: &Cutting,
    at: &Placement,
    id: &str,
    spacing: f64,
    st: &Style,
    window: Option<(Vec2, f64)>,
) -> Vec<Item> {
    let (lines, filled) = filling(&cutting.areas, at.scale, spacing);
    let lines = match window {
        Some((c, r)) => hatch_within(&lines, c, r),
        None => lines,
    };
    let mut items = Vec::new();
    let mut bodies: Vec<usize> = lines.iter().map(|l| l.body).collect();
    bodies.dedup();
    for body in bodies {
        let steps = lines.iter().filter(|l| l.body == body);
        let steps = steps.flat_map(|l| [Step::Move(at.point(l.a)), Step::Line(at.point(l.b))]).collect();
        let pen = Stroke { round: false, ..Stroke::solid(st.narrow * 0.72) };
        items.push(Item::Group {
            role: Role::Plain,
            origin: None,
            id: Some(format!("{id}/hatch/{}", cutting.view.bodies[body].id)),
            items: vec![Item::Path { steps, stroke: Some(pen), fill: None }],
        });
    }
    if window.is_none() {
        for r in filled {
            let points = r.outer.vertices.iter().enumerate().map(|(i, q)| {
                let p = at.point(q.p);
                if i == 0 { Step::Move(p) } else { Step::Line(p) }
            });
            let steps = points.chain([Step::Close]).collect();
            items.push(Item::Path { steps, stroke: None, fill: Some(Colour::BLACK) });
        }
    }
    let view = match window {
        Some((centre, radius)) => cutting.view.within(&Window::Circle { centre, radius }),
        None => cutting.view.clone(),
    };
    items.extend(strokes(&view, at, id, st.narrow, &|_| st.wide));
    items
}

fn circle(centre: Pt, radius: f64, pen: Stroke) -> Item {
    let ring = Arc { centre: Vec2::ZERO, radius, start: 0.0, sweep: trig::rad(360.0) };
    let place = |q: Vec2| pt(centre.x + q.x, centre.y - q.y);
    let mut steps = vec![Step::Move(place(ring.at(0.0)))];
    arc_steps(&ring, &place, &mut steps);
    steps.push(Step::Close);
    Item::Path { steps, stroke: Some(pen), fill: None }
}

/// Space for dimensions beside the section, mm.
const BESIDE: f64 = 17.0;
/// Space for words beside the detail: names on the left, heights on the right, mm.
const NAMES: f64 = 34.0;

/// The sheet: section of the closed table, detail of its stack.
pub(crate) fn sheet(scene: &Scene, o: &AssemblyOptions) -> Option<Drawing> {
    let st = style(o.sheet.paper);
    let landscape = !matches!(o.sheet.paper, Paper::A4 | Paper::Letter);
    let (lo, hi) = drawing_space(o.sheet, landscape);
    let c = cutting(scene, 0.0);
    let s = size(&c.view);
    let m = &scene.a.mechanism;
    let (low, high) = (m.stack.base.bottom, m.stack.panel.top);
    // The detail takes in the whole stack, there where most parts are cut.
    let radius = 0.56 * (high - low);
    let centre = v(richest(&c, (low + high) / 2.0, radius), (low + high) / 2.0);
    let values = heights(&c, centre, radius);
    let figures = values.iter().map(|z| st.width(&figure(*z, o))).fold(0.0, f64::max);
    let names = NAMES.max(st.cap * 14.0);
    let title_high = 9.5 + 2.0 * st.cap;
    // On upright paper one above the other, else beside each other.
    let width = hi.x - lo.x;
    let across = v(if landscape { width * 0.56 } else { width } - 2.0 * BESIDE, hi.y - lo.y);
    let first = if landscape {
        largest(s, v(across.x, across.y - title_high - 8.0))
    } else {
        largest(s, v(across.x, (hi.y - lo.y) * 0.45))
    }?;
    let zone = |scale: f64| {
        if landscape {
            (pt(lo.x + s.x * scale + 2.0 * BESIDE + 6.0, lo.y), hi)
        } else {
            (pt(lo.x, lo.y + title_high + s.y * scale + 12.0), hi)
        }
    };
    let detail_scale = |scale: f64| {
        let zone = zone(scale);
        let room =
            v(zone.1.x - zone.0.x - names - figures - 22.0, zone.1.y - zone.0.y - title_high / 2.0 - 4.0);
        turnleaf_sheet::PREFERRED
            .into_iter()
            .find(|q| q.factor() <= 2.0 && 2.0 * radius * q.factor() <= room.x.min(room.y))
            .filter(|q| q.factor() > scale)
    };
    // The section gives way where its detail would be too small to read: half size at least, if there is room.
    let smaller = turnleaf_sheet::PREFERRED.into_iter().find(|q| q.factor() < first.factor());
    let readable = |q: &Scale| detail_scale(q.factor()).is_some_and(|d| d.factor() >= 0.5);
    let chosen = [Some(first), smaller].into_iter().flatten().find(readable).unwrap_or(first);
    let scale = chosen.factor();
    let large = detail_scale(scale)?;
    let zone = zone(scale);
    let values = thinned(values, st.cap + 1.6, zone.1.y - zone.0.y - 16.0);
    let rows = values.len() as f64 * (st.cap + 1.6);
    let mut items = Vec::new();
    let middle = if landscape {
        pt(lo.x + BESIDE + s.x * scale / 2.0, (lo.y + hi.y) / 2.0)
    } else {
        pt((lo.x + hi.x) / 2.0, lo.y + title_high + s.y * scale / 2.0)
    };
    let at = centred(&c.view, scale, middle);
    items.extend(ink(&c, &at, "section", HATCH, &st, None));
    items.push(over_section(&c, &at, centre, radius, o, &st));
    items.extend(sizes(&c, &at, low, o, &st));
    let mut all = vec![figure_group("figure/section", (o.say)("drawing-section-alt", &[]), items)];
    let detail = Detail { c: &c, centre, radius, values: &values, names, figures };
    all.push(detail.drawn(scene, large, zone, rows, o, &st));
    let title = (o.say)("drawing-section", &[]);
    Some(Drawing { id: "section", title, landscape, scale: chosen.text(), items: all })
}

/// Middle line, title, circle and letter of the detail.
fn over_section(
    c: &Cutting,
    at: &Placement,
    centre: Vec2,
    radius: f64,
    o: &AssemblyOptions,
    st: &Style,
) -> Item {
    let (lo, hi) = c.view.bounds;
    let chain = Stroke { dash: st.centre().dash, ..st.thin() };
    let mut items =
        vec![line(at.point(v(0.0, hi.y + 2.0 / at.scale)), at.point(v(0.0, lo.y - 3.0 / at.scale)), chain)];
    let rim = radius * at.scale;
    let p = at.point(centre);
    items.push(circle(p, rim, st.thin()));
    // Above everything: beside the circle the letter would stand in the hatching.
    let over = (p.y - rim).min(at.point(hi).y) - 1.2;
    let letter = Text::new(pt(p.x + 1.5, over), st.size() * 1.4, "A");
    items.push(Item::Text(letter.face(Face::Bold)));
    // Words over the two halves, above the letter; reaching out on both sides where they are wider than the section, and
    // one higher where even that is not enough.
    let (left, right) = (at.point(v(lo.x, hi.y)), at.point(v(hi.x, hi.y)));
    let texts = ["drawing-through-seam", "drawing-through-panel"].map(|k| (o.say)(k, &[]));
    let over = st.width(&texts[0]) + st.width(&texts[1]) + 8.0 - (right.x - left.x);
    let (out, full) = ((over / 2.0).clamp(0.0, BESIDE), over / 2.0 > BESIDE);
    let y = left.y - 7.0 - st.cap * 1.4;
    let up = if full { st.cap + 2.5 } else { 0.0 };
    items.push(Item::Text(Text::new(pt(left.x - out, y - up), st.size(), texts[0].as_str())));
    let words = Text::new(pt(right.x + out, y), st.size(), texts[1].as_str());
    items.push(Item::Text(words.anchor(Anchor::End)));
    Item::Group { role: Role::Plain, origin: None, id: Some("section/marks".into()), items }
}

/// Heights of the whole: table on the left, knees and stack on the right.
fn sizes(c: &Cutting, at: &Placement, base: f64, o: &AssemblyOptions, st: &Style) -> Vec<Item> {
    let (lo, hi) = c.view.bounds;
    let y = |z: f64| at.point(v(0.0, z)).y;
    let (l, r) = (at.point(lo).x, at.point(hi).x);
    let x = l - st.first;
    let wide = |z: f64| {
        // How far out the section reaches at a height.
        let near =
            c.view.visible.iter().map(|s| s.curve.bounds()).filter(|b| b.0.y <= z + 0.5 && b.1.y >= z - 0.5);
        near.map(|b| b.1.x).fold(0.0, f64::max)
    };
    let foot = at.point(v(wide(lo.y + 1.0), 0.0)).x;
    let seat = at.point(v(wide(base), 0.0)).x;
    let left_foot = 2.0 * at.at.x - foot;
    let far = r + st.first;
    vec![
        upright_dim("section/dim/height", (y(lo.y), y(hi.y)), x, (left_foot, l), &figure(hi.y - lo.y, o), st),
        // Above the table stand the words over the two halves, so a long figure lies beside its line.
        upright_dim_within("section/dim/stack", (y(base), y(hi.y)), far, r, &figure(hi.y - base, o), st),
        upright_dim("section/dim/under", (y(lo.y), y(base)), far, (seat, foot), &figure(base - lo.y, o), st),
    ]
}

/// Heights few enough to stand `gap` apart in so much room: of faces that lie close, the lower stays.
fn thinned(values: Vec<f64>, gap: f64, room: f64) -> Vec<f64> {
    let most = (room / gap).floor().max(2.0) as usize;
    let (mut out, mut near) = (values, 0.5);
    while out.len() > most {
        out.dedup_by(|a, b| (*a - *b).abs() < near);
        near *= 1.3;
    }
    out
}

/// Where a circle of this radius at this height takes in the most cut parts.
fn richest(c: &Cutting, z: f64, radius: f64) -> f64 {
    let (lo, hi) = (c.view.bounds.0.x, c.view.bounds.1.x);
    let mut best = (0, 0.0);
    let steps = ((hi - lo) / (0.2 * radius)).ceil().clamp(1.0, 400.0) as usize;
    for i in 0..=steps {
        let x = lo + (hi - lo) * i as f64 / steps as f64;
        let mut parts: Vec<&str> = Vec::new();
        for area in &c.areas {
            let id = part_of(&c.view.bodies[area.body].id);
            let seen = |r: &Region| {
                let (l, h) = r.outer.bounds();
                let d = (l.y + h.y) / 2.0 - z;
                let reach = (radius * radius - d * d).max(0.0).sqrt();
                h.x.min(x + reach) - l.x.max(x - reach) > 0.12 * radius
            };
            if !parts.contains(&id) && area.regions.iter().any(seen) {
                parts.push(id);
            }
        }
        // Of equal places the one farthest out, where panels and leaves overlap.
        if parts.len() > best.0 || (parts.len() == best.0 && x.abs() > f64::abs(best.1)) {
            best = (parts.len(), x);
        }
    }
    best.1
}

/// Heights of level faces inside the detail, from the lowest up.
fn heights(c: &Cutting, centre: Vec2, radius: f64) -> Vec<f64> {
    let mut out: Vec<f64> = Vec::new();
    for r in c.areas.iter().flat_map(|a| &a.regions) {
        let (lo, hi) = r.outer.bounds();
        // Faces long enough to matter, and inside the circle.
        if hi.x - lo.x < 0.3 * radius || lo.x > centre.x + 0.6 * radius || hi.x < centre.x - 0.6 * radius {
            continue;
        }
        out.extend([lo.y, hi.y].into_iter().filter(|z| (z - centre.y).abs() < radius * 0.9));
    }
    out.sort_by(f64::total_cmp);
    out.dedup_by(|a, b| (*a - *b).abs() < 0.25);
    out
}

struct Detail<'a> {
    c: &'a Cutting,
    centre: Vec2,
    radius: f64,
    values: &'a [f64],
    names: f64,
    figures: f64,
}

impl Detail<'_> {
    fn drawn(
        &self,
        scene: &Scene,
        large: Scale,
        zone: (Pt, Pt),
        rows: f64,
        o: &AssemblyOptions,
        st: &Style,
    ) -> Item {
        let (lo, hi) = zone;
        let scale = large.factor();
        let rim = self.radius * scale;
        let inner = (lo.x + self.names, hi.x - self.figures - 3.0);
        let middle = pt((inner.0 + inner.1) / 2.0, (lo.y + hi.y) / 2.0 + 4.0);
        let at =
            Placement { at: pt(middle.x - self.centre.x * scale, middle.y + self.centre.y * scale), scale };
        let mut items = ink(self.c, &at, "detail", HATCH_LARGE, st, Some((self.centre, self.radius)));
        items.push(circle(middle, rim, st.thin()));
        let text = format!("A ({})", large.text());
        items.push(label(pt(middle.x, middle.y - rim - 3.5), &text, st));
        // Heights on the right, each led to its face at the rim.
        let tall = (rows / 2.0).max(rim);
        let gap = st.cap + 1.6;
        let wishes: Vec<f64> = self.values.iter().rev().map(|z| at.point(v(0.0, *z)).y).collect();
        let places =
            spread(&wishes, (middle.y - tall).max(lo.y + 12.0), (middle.y + tall).min(hi.y - 2.0), gap);
        let x = middle.x + rim + 10.0;
        for ((z, y), to) in self.values.iter().rev().zip(&wishes).zip(&places) {
            let d = z - self.centre.y;
            let out = middle.x + (self.radius * self.radius - d * d).max(0.0).sqrt() * scale;
            let steps = vec![
                Step::Move(pt(out, *y)),
                Step::Line(pt(middle.x + rim + 3.0, *y)),
                Step::Line(pt(x - 1.0, *to)),
            ];
            let words = Text::new(pt(x, to + st.cap / 2.0), st.size(), figure(*z, o));
            items.push(Item::Group {
                role: Role::Dimension,
                origin: None,
                id: Some(format!("detail/dim/{:.2}", z)),
                items: vec![Item::Path { steps, stroke: Some(st.thin()), fill: None }, Item::Text(words)],
            });
        }
        let over = places.first().copied().unwrap_or(middle.y) - st.cap - 2.0;
        let head = Text::new(pt(hi.x, over), st.size(), (o.say)("drawing-heights", &[]));
        items.push(Item::Text(head.face(Face::Bold).anchor(Anchor::End)));
        items.extend(self.names(scene, &at, middle, rim, zone, o, st));
        let alt = (o.say)("drawing-detail-alt", &[("scale", large.text())]);
        figure_group("figure/detail", alt, items)
    }

    /// Names of the cut parts on the left, each led to a dot inside its face.
    #[allow(clippy::too_many_arguments)]
    fn names(
        &self,
        scene: &Scene,
        at: &Placement,
        middle: Pt,
        rim: f64,
        zone: (Pt, Pt),
        o: &AssemblyOptions,
        st: &Style,
    ) -> Vec<Item> {
        let lo = zone.0;
        let mut found: Vec<(Pt, &str)> = Vec::new();
        for area in &self.c.areas {
            let id = part_of(&self.c.view.bodies[area.body].id);
            if found.iter().any(|f| f.1 == id) {
                continue;
            }
            let mut best: Option<(f64, Vec2)> = None;
            for r in &area.regions {
                let (l, h) = r.outer.bounds();
                let z = (l.y + h.y) / 2.0;
                let d = z - self.centre.y;
                let reach = (self.radius * self.radius - d * d).max(0.0).sqrt();
                // The stretch inside the circle.
                let (from, to) = (l.x.max(self.centre.x - reach), h.x.min(self.centre.x + reach));
                let long = (to - from).min(1e3) * (h.y - l.y).min(6.0);
                if to - from > 2.0 / at.scale && best.is_none_or(|b| long > b.0) {
                    // Near the left end, where its leader comes from.
                    best = Some((long, v(from + ((to - from) * 0.25).min(5.0 / at.scale), z)));
                }
            }
            if let Some((_, p)) = best {
                found.push((at.point(p), id));
            }
        }
        found.sort_by(|a, b| a.0.y.total_cmp(&b.0.y).then(a.0.x.total_cmp(&b.0.x)));
        let wishes: Vec<f64> = found.iter().map(|f| f.0.y).collect();
        // As high as the detail, higher where many names need it.
        let half = (rim * 1.1).max((st.cap + 2.6) * wishes.len() as f64 / 2.0);
        let (from, to) = ((middle.y - half).max(zone.0.y + 12.0), (middle.y + half).min(zone.1.y - 2.0));
        let gap = (st.cap + 2.6).min((to - from) / wishes.len().max(2) as f64);
        let places = spread(&wishes, from, to, gap);
        let mut items = Vec::new();
        for ((p, id), y) in found.iter().zip(places) {
            let Some(part) = scene.a.part(id) else { continue };
            let x = middle.x - rim - 6.0;
            let name = (o.name)(part);
            // Letters keep clear of the next line's, descenders included.
            let cap = st.cap.min(gap / 1.75).max(1.8);
            let room = x - lo.x - 1.0;
            let text =
                turnleaf_sheet::block::fitted(pt(lo.x, y + cap / 2.0), cap, &name, Face::Regular, room);
            let wide = match &text {
                Item::Text(t) => turnleaf_text::width(&t.text, t.size, t.face),
                _ => 0.0,
            };
            let dot = circle(*p, 0.55, Stroke::solid(0.1));
            let dot = match dot {
                Item::Path { steps, .. } => Item::Path { steps, stroke: None, fill: Some(Colour::BLACK) },
                other => other,
            };
            // Names end where their leaders begin.
            let text = turnleaf_sheet::block::moved(&text, (room - wide).max(0.0), 0.0);
            items.push(Item::Group {
                role: Role::Plain,
                origin: None,
                id: Some(format!("detail/name/{id}")),
                items: vec![line(pt(x, y), *p, st.thin()), dot, text],
            });
        }
        items
    }
}

/// The section alone at a place: hatching, filled faces, edges.
pub fn section_items(c: &Cutting, at: &Placement, st: &Style) -> Vec<Item> {
    ink(c, at, "section", HATCH, st, None)
}
