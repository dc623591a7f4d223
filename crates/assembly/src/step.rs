//! The figure of a building step: what is there already, and what this step adds.
//!
//! In: piece identifiers, a way of looking, a turn, a room on paper. Out: items with their size, and the
//! numbers given.
//! Always true: new pieces have wide visible lines, those there narrow ones (ISO 128-2, 2 : 1), so that the
//! figure is told apart without colour; each new part that can be seen has a balloon; items lie within the size.

use crate::balloon::MARGIN;
use crate::draw::{centred, points, size, strokes};
use crate::exploded::balloons;
use crate::scene::{Scene, Solid};
use crate::table::Row;
use turnleaf_dimension::place::pen::Style;
use turnleaf_page::{Item, Pt, pt};
use turnleaf_parts::Assembly;
use turnleaf_views::{Body, Options, Projection, project};

/// A step's figure, its top left corner at the origin.
#[derive(Clone, Debug, PartialEq)]
pub struct StepFigure {
    /// Contents.
    pub items: Vec<Item>,
    /// Width, mm.
    pub width: f64,
    /// Height, mm.
    pub height: f64,
    /// Paper mm for one mm of the table.
    pub scale: f64,
    /// Number and part identifier of each balloon.
    pub numbers: Vec<(usize, String)>,
}

/// The assembly at a step: `already` and `new` are piece identifiers; unknown ones are left out, and a piece
/// in both counts as new. `turn` in radians, `room` width and height on paper, mm.
pub fn step_figure(
    a: &Assembly,
    already: &[&str],
    new: &[&str],
    view: &Projection,
    turn: f64,
    room: (f64, f64),
) -> StepFigure {
    let st = Style::SMALL;
    let scene = Scene::new(a);
    let turn = if turn.is_finite() { turn.clamp(0.0, a.mechanism.turn()) } else { 0.0 };
    let mut bodies: Vec<Body> = Vec::new();
    let mut kinds: Vec<usize> = Vec::new();
    for p in &a.pieces {
        let fresh = new.contains(&p.id.as_str());
        if !fresh && !already.contains(&p.id.as_str()) {
            continue;
        }
        if fresh && !kinds.contains(&p.part) {
            kinds.push(p.part);
        }
        let style = if fresh { "new" } else { "there" };
        bodies.extend(scene.bodies(p, turn, Solid::Whole).into_iter().map(|b| b.style(style)));
    }
    let seen = project(&bodies, &[], view, &Options { hidden: false, smooth: false });
    let s = size(&seen);
    let (width, most) = (room.0.max(3.0 * MARGIN), room.1.max(12.0));
    let scale = ((width - 2.0 * MARGIN) / s.x.max(1.0)).min((most - 2.0) / s.y.max(1.0));
    // No lower than its balloons need.
    let needed = kinds.len().div_ceil(2) as f64 * (crate::CIRCLE + 2.0);
    let height = (s.y * scale + 2.0).max(needed).min(most);
    let at = centred(&seen, scale, pt(width / 2.0, height / 2.0));
    // New lines last, so that they lie over the others where two pieces share an edge.
    let pens = |style: &str| if style == "new" { st.wide } else { st.narrow };
    let mut items = strokes(&seen, &at, "step", st.narrow, &pens);
    let mut fresh = seen.clone();
    fresh.visible.retain(|q| seen.bodies[q.body].style == "new");
    let found = points(&fresh, &at);
    kinds.retain(|k| found.contains_key(&a.parts[*k].id));
    let rows: Vec<Row> = kinds
        .iter()
        .enumerate()
        .map(|(i, k)| Row { number: i + 1, id: a.parts[*k].id.clone(), name: String::new(), count: 0 })
        .collect();
    let zone: (Pt, Pt) = (pt(0.0, 0.0), pt(width, height));
    items.extend(balloons(&fresh, &at, &rows, zone, "step", &st));
    let numbers = rows.into_iter().map(|r| (r.number, r.id)).collect();
    StepFigure { items, width, height, scale, numbers }
}
