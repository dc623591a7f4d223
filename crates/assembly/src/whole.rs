//! The whole table, closed and open: isometric views, plan and front view with their overall sizes.
//!
//! In: a scene. Out: sheets.
//! Always true: both states have one scale, of the preferred series (ISO 5455) but for isometric views that would
//! come out much smaller than their sheet, which are not to scale; axonometric views are
//! isometric (ISO 5456-3); plan and front view stand as the projection sign says (ISO 5456-2) and share their
//! middle line; every figure is measured from what is drawn.

use crate::draw::{
    centred, figure, figure_group, half, label, largest, level_dim, size, strokes, style, upright_dim,
    upright_dim_within,
};
use crate::group::{Group, group_of};
use crate::scene::{Scene, Solid, TURNED};
use crate::{AssemblyOptions, Drawing};
use turnleaf_dimension::place::pen::{Style, arc_steps, line};
use turnleaf_geom::{Arc, Vec2, trig, vec2::v};
use turnleaf_page::{Item, Paper, Pt, Role, Step, Stroke, pt};
use turnleaf_sheet::{Projection as Angle, Scale, drawing_space};
use turnleaf_views::{Body, Corner, Options, Projection, View, project};

/// The whole table at a turn, looked at some way; what cannot be seen from outside is left out beforehand.
pub fn view(scene: &Scene, turn: f64, way: &Projection) -> View {
    let bodies = bodies(scene, turn);
    project(&bodies, &[], way, &Options { hidden: false, smooth: false })
}

/// All pieces at a turn, the base standing still.
pub fn bodies(scene: &Scene, turn: f64) -> Vec<Body> {
    scene.a.pieces.iter().flat_map(|p| scene.bodies(p, turn, Solid::Whole)).collect()
}

/// The whole table in isometric view, as its sheet shows it.
pub fn isometric(scene: &Scene, turn: f64) -> View {
    look(&tagged(scene, turn, TURNED), &Projection::Isometric(Corner::FrontRight))
}

/// Narrow lines for what lies under the top, wide ones for the top.
fn tagged(scene: &Scene, turn: f64, turned: f64) -> Vec<Body> {
    let mut out = Vec::new();
    for p in &scene.a.pieces {
        let top = group_of(scene.a, p) == Group::Top;
        let style = if top { "top" } else { "under" };
        out.extend(scene.in_frame(p, turn, turned - turn, Solid::Whole).into_iter().map(|b| b.style(style)));
    }
    out
}

fn look(bodies: &[Body], way: &Projection) -> View {
    project(bodies, &[], way, &Options { hidden: false, smooth: false })
}

/// Height of a view's title with its space, mm.
const TITLE: f64 = 8.0;
/// Space beside a plan for the ends of its middle line, mm.
const SIDE: f64 = 3.0;
/// From a leg to the dimension line of the free height beside it, mm: room for the figure.
const KNEES: f64 = 7.0;
/// Isometric views that could be drawn so many times larger leave the preferred scales.
const LOOSE: f64 = 1.3;
/// Space between views, mm.
const GAP: f64 = 8.0;

fn orientation(o: &AssemblyOptions) -> bool {
    !matches!(o.sheet.paper, Paper::A4 | Paper::Letter)
}

/// The two states: key and turn.
fn states(scene: &Scene) -> [(&'static str, f64); 2] {
    [("closed", 0.0), ("open", scene.a.mechanism.turn())]
}

/// Isometric views closed and open, on one sheet.
pub(crate) fn isometric_sheets(scene: &Scene, o: &AssemblyOptions) -> Vec<Drawing> {
    let st = style(o.sheet.paper);
    let landscape = orientation(o);
    let (lo, hi) = drawing_space(o.sheet, landscape);
    let room = v(hi.x - lo.x, hi.y - lo.y);
    let views = states(scene).map(|(key, turn)| (key, isometric(scene, turn)));
    let sizes = [size(&views[0].1), size(&views[1].1)];
    // One below the other, or beside each other.
    let down = v(sizes[0].x.max(sizes[1].x), sizes[0].y + sizes[1].y);
    let across = v(sizes[0].x + sizes[1].x, sizes[0].y.max(sizes[1].y));
    let one_down = largest(down, v(room.x, room.y - 2.0 * TITLE - GAP));
    let one_across = largest(across, v(room.x - GAP, room.y - TITLE));
    let f = |s: Option<Scale>| s.map_or(0.0, Scale::factor);
    let beside = f(one_across) > f(one_down);
    let one = if beside { one_across } else { one_down };
    // As large as the sheet bears: a picture needs no scale, and should not be small for the sake of one.
    let fit = |size: Vec2, room: Vec2| (room.x / size.x).min(room.y / size.y);
    let free = fit(down, v(room.x, room.y - 2.0 * TITLE - GAP));
    let free_across = fit(across, v(room.x - GAP, room.y - TITLE));
    let (scale, text, beside) = match one {
        Some(s) if s.factor() * LOOSE > free.max(free_across) => (s.factor(), s.text(), beside),
        _ => (free.max(free_across), (o.say)("drawing-unscaled", &[]), free_across > free),
    };
    let title = |key: &str| (o.say)(&format!("drawing-{key}"), &[]);
    let alt = |key: &str| {
        let (_, turn) = states(scene)[usize::from(key == "open")];
        (o.say)(
            &format!("drawing-isometric-{key}-alt"),
            &[("sectors", scene.a.mechanism.sizes.sectors.to_string()), ("turn", degrees(turn, o))],
        )
    };
    let draw = |key: &str, view: &View, at: Pt| {
        let id = format!("isometric-{key}");
        let place = centred(view, scale, at);
        let pens = |style: &str| if style == "top" { st.wide } else { st.narrow * 1.4 };
        let mut items = strokes(view, &place, &id, st.narrow, &pens);
        items.push(label(pt(at.x, at.y - half(view, scale).y - 3.5), &title(key), &st));
        figure_group(&format!("figure/{id}"), alt(key), items)
    };
    let mut items = Vec::new();
    let middle = pt((lo.x + hi.x) / 2.0, (lo.y + hi.y) / 2.0);
    let h = [half(&views[0].1, scale), half(&views[1].1, scale)];
    let centres = if beside {
        let spare = (room.x - 2.0 * (h[0].x + h[1].x) - GAP) / 3.0;
        let x0 = lo.x + spare + h[0].x;
        // Both stand on one floor: their lower edges are level.
        let floor = middle.y + h[0].y.max(h[1].y) + TITLE / 2.0;
        [pt(x0, floor - h[0].y), pt(hi.x - spare - h[1].x, floor - h[1].y)]
    } else {
        let spare = (room.y - 2.0 * (h[0].y + h[1].y) - 2.0 * TITLE - GAP).max(0.0) / 3.0;
        let y0 = lo.y + spare + TITLE + h[0].y;
        [pt(middle.x, y0), pt(middle.x, y0 + h[0].y + spare + GAP + TITLE + h[1].y)]
    };
    for ((key, view), at) in views.iter().zip(centres) {
        items.push(draw(key, view, at));
    }
    let title = (o.say)("drawing-isometric", &[]);
    vec![Drawing { id: "isometric", title, landscape, scale: text, items }]
}

fn degrees(turn: f64, o: &AssemblyOptions) -> String {
    let sign = o.sheet.wording().sign;
    let text = turnleaf_units::print_decimal(trig::deg(turn), 1, sign).unwrap_or_else(|| "–".into());
    format!("{text}°")
}

/// One state in two views, with the heights its front view shows.
struct Pair {
    key: &'static str,
    plan: View,
    front: View,
    /// Farthest any piece of the top reaches from the axis.
    radius: f64,
    /// Lowest point of what stands above the frame's legs and rails: where knees go.
    under: f64,
    /// Half the width over the feet in the front view.
    feet: f64,
}

fn pair(scene: &Scene, key: &'static str, turn: f64) -> Pair {
    let a = scene.a;
    let bodies = tagged(scene, turn, 0.0);
    let reach = |p: &turnleaf_parts::Piece| a.part_of(p).outline.moved(&a.place(p, turn).pose).reach();
    let radius = a.pieces.iter().filter(|p| group_of(a, p) == Group::Top).map(reach).fold(0.0, f64::max);
    let frame = || a.pieces.iter().filter(|p| group_of(a, p) == Group::Frame);
    let feet = frame()
        .filter(|p| p.z.abs() < 0.01)
        .map(|p| {
            let (lo, hi) = a.part_of(p).outline.moved(&p.at).bounds();
            lo.x.abs().max(hi.x.abs())
        })
        .fold(0.0, f64::max);
    let rails = frame().filter(|p| p.z > 0.01).map(|p| p.z);
    let under = rails.fold(a.mechanism.stack.base.bottom, f64::min);
    Pair {
        key,
        plan: look(&bodies, &Projection::Plan),
        front: look(&bodies, &Projection::Front),
        radius,
        under,
        feet,
    }
}

/// Space for the height's dimension on the left of the first pair; between front view and plan; below a plan.
fn spaces(st: &Style) -> (f64, f64, f64) {
    let one = st.first + st.cap + 1.0;
    (one, one + st.cap + 5.0, one)
}

/// Plan and front view of both states.
pub(crate) fn elevation_sheets(scene: &Scene, o: &AssemblyOptions) -> Vec<Drawing> {
    let st = style(o.sheet.paper);
    let landscape = orientation(o);
    let (lo, hi) = drawing_space(o.sheet, landscape);
    let pairs = states(scene).map(|(key, turn)| pair(scene, key, turn));
    let (left, between, beyond) = spaces(&st);
    let width = 2.0 * (pairs[0].radius + pairs[1].radius);
    let high = pairs[0].front.bounds.1.y.max(pairs[1].front.bounds.1.y);
    let tall = high + 2.0 * pairs[1].radius;
    let room = v(hi.x - lo.x - left - SIDE - GAP, hi.y - lo.y - TITLE - between - beyond);
    let title = (o.say)("drawing-elevation", &[]);
    let id = "elevation";
    if let Some(chosen) = largest(v(width, tall), room) {
        let scale = chosen.factor();
        let spare = (room.x - width * scale) / 3.0;
        let x0 = lo.x + spare + left + pairs[0].radius * scale;
        let x1 = hi.x - spare - SIDE - pairs[1].radius * scale;
        let mut items = Vec::new();
        for (p, x) in pairs.iter().zip([x0, x1]) {
            items.push(drawn(scene, o, p, chosen, x, (lo.y, hi.y), pairs[1].radius, false, &st));
        }
        return vec![Drawing { id, title, landscape, scale: chosen.text(), items }];
    }
    // Too large side by side: a sheet for each state.
    let room = v(hi.x - lo.x - left - SIDE, room.y);
    let ids = ["elevation-closed", "elevation-open"];
    let Some(chosen) = largest(v(2.0 * pairs[1].radius, tall), room) else { return Vec::new() };
    pairs
        .iter()
        .zip(ids)
        .map(|(p, id)| {
            let x = (lo.x + hi.x) / 2.0;
            let items = vec![drawn(scene, o, p, chosen, x, (lo.y, hi.y), pairs[1].radius, true, &st)];
            Drawing { id, title: title.clone(), landscape, scale: chosen.text(), items }
        })
        .collect()
}

#[allow(clippy::too_many_arguments)]
fn drawn(
    scene: &Scene,
    o: &AssemblyOptions,
    p: &Pair,
    chosen: Scale,
    x: f64,
    (top, bottom): (f64, f64),
    largest: f64,
    alone: bool,
    st: &Style,
) -> Item {
    let scale = chosen.factor();
    let (_, between, beyond) = spaces(st);
    let height = p.front.bounds.1.y * scale;
    let radius = p.radius * scale;
    let used = TITLE + height + between + 2.0 * largest * scale + beyond;
    let spare = (bottom - top - used).max(0.0) / 2.0;
    // First angle: front view above, plan below it. Third angle: the other way round.
    let first = o.sheet.projection == Angle::First;
    let (floor, middle) = if first {
        let floor = top + spare + TITLE + height;
        (floor, floor + between + largest * scale)
    } else {
        let floor = bottom - spare - beyond;
        (floor, floor - height - between - largest * scale)
    };
    let id = format!("elevation-{}", p.key);
    let pens = |style: &str| if style == "top" { st.wide } else { st.narrow * 1.4 };
    let front = turnleaf_views::paper::Placement { at: pt(x, floor), scale };
    let plan = turnleaf_views::paper::Placement { at: pt(x, middle), scale };
    let mut items = strokes(&p.front, &front, &format!("{id}/front"), st.narrow, &pens);
    items.extend(strokes(&p.plan, &plan, &format!("{id}/plan"), st.narrow, &pens));
    // The circle round everything that moves out, and the middle lines.
    let ring = Arc { centre: Vec2::ZERO, radius, start: 0.0, sweep: trig::rad(360.0) };
    let place = |q: Vec2| pt(x + q.x, middle - q.y);
    let mut steps = vec![Step::Move(place(ring.at(0.0)))];
    arc_steps(&ring, &place, &mut steps);
    let thin = Stroke { dash: st.centre_short().dash, ..st.thin() };
    let mut lines = Vec::new();
    if p.key == "open" {
        lines.push(Item::Path { steps, stroke: Some(thin.clone()), fill: None });
    }
    lines.push(line(pt(x, floor - height - 3.0), pt(x, floor + 2.0), thin.clone()));
    lines.push(line(pt(x - radius - 2.5, middle), pt(x + radius + 2.5, middle), thin.clone()));
    lines.push(line(pt(x, middle - radius - 2.5), pt(x, middle + radius + 2.5), thin));
    items.push(Item::Group {
        role: Role::Plain,
        origin: None,
        id: Some(format!("{id}/middle")),
        items: lines,
    });
    let dim = |name: &str| format!("{id}/dim/{name}");
    let text = |mm: f64| figure(mm, o);
    let y = middle + radius + st.first;
    let words = format!("⌀ {}", text(2.0 * p.radius));
    items.push(level_dim(&dim("diameter"), (x - radius, x + radius), y, (middle, middle), &words, st));
    let (feet, under) = (p.feet * scale, floor - p.under * scale);
    let all = text(p.front.bounds.1.y);
    // The height is the same open; it stands once where both states share a sheet.
    let other = if p.key == "closed" || alone { x - radius.max(feet) - st.first } else { f64::NAN };
    items.extend(other.is_finite().then(|| {
        upright_dim(
            &dim("height"),
            (floor, floor - height),
            other,
            (x + p.front.bounds.0.x * scale, x - feet),
            &all,
            st,
        )
    }));
    let knees = text(p.under);
    items.push(upright_dim_within(&dim("under"), (floor, under), x + feet + KNEES, x + feet, &knees, st));
    let words = text(2.0 * p.feet);
    items.push(level_dim(
        &dim("feet"),
        (x - feet, x + feet),
        floor + st.first - 1.0,
        (floor, floor),
        &words,
        st,
    ));
    let over = if first { floor - height } else { middle - radius };
    items.push(label(pt(x, over - 4.5), &(o.say)(&format!("drawing-{}", p.key), &[]), st));
    let alt = (o.say)(
        &format!("drawing-elevation-{}-alt", p.key),
        &[
            ("diameter", text(2.0 * p.radius)),
            ("height", all),
            ("under", text(p.under)),
            ("sectors", scene.a.mechanism.sizes.sectors.to_string()),
        ],
    );
    figure_group(&format!("figure/{id}"), alt, items)
}
