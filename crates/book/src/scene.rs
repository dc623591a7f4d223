//! The table as a whole, looked at: isometric pictures and plan views.
//!
//! In: an assembly, a turn, a way of looking. Out: [`View`]s in model millimetres, then items on paper.
//! Always true: the base stands still and the top turns, so that pictures of two states show the same feet.

use crate::draw::{circle_steps, strokes};
use crate::grid::THIN;
use std::sync::Arc;
use turnleaf_assembly::on_edge;
use turnleaf_geom::{Pose2, Vec2, vec2::v};
use turnleaf_page::{Colour, Item, Pt, Stroke, pt};
use turnleaf_parts::{Assembly, Layer, Motion, Part};
use turnleaf_views::{Body, Options, Pose3, Projection, View, project};

/// Parts of the top.
pub const TOP: [&str; 3] = ["panel", "leaf", "star"];

/// Whether a part shows from outside. Pins, levers and rollers never do.
fn shows(id: &str) -> bool {
    TOP.contains(&id)
        || id.starts_with("leg")
        || id.starts_with("rail")
        || id.starts_with("base-")
        || ["turning-plate", "rising-plate", "glide-ring"].contains(&id)
}

/// Which solid of a part is looked at.
#[derive(Clone, Copy, PartialEq)]
enum Solid {
    /// With everything cut into it.
    Whole,
    /// Its outline alone, so that hidden edges show where a piece is and nothing else.
    Plain,
}

/// The pieces at a turn (radians), feet standing still.
fn bodies(a: &Assembly, turn: f64, solid: Solid, wanted: &dyn Fn(&str) -> bool) -> Vec<Body> {
    let still = Pose2::new(-turn, Vec2::ZERO);
    let plain = |p: &Part| Layer { region: p.outline.clone().into(), z0: 0.0, z1: p.thickness };
    let layers: Vec<Option<Arc<[Layer]>>> = a
        .parts
        .iter()
        .map(|p| {
            wanted(&p.id).then(|| match solid {
                Solid::Whole => Arc::from(p.layers.as_slice()),
                Solid::Plain => Arc::from([plain(p)].as_slice()),
            })
        })
        .collect();
    a.pieces
        .iter()
        .filter(|p| !matches!(p.motion, Motion::Lever | Motion::Roller))
        .filter_map(|piece| {
            let layers = layers[piece.part].clone()?;
            let place = a.place(piece, turn);
            let style = if TOP.contains(&a.part_of(piece).id.as_str()) { "top" } else { "under" };
            let (part, pose) = (a.part_of(piece), still.after(&place.pose));
            let body = match part.side {
                Some(_) => on_edge(piece, part, &Pose3::plan(&pose, place.z)),
                None => Body::upright(piece.id.clone(), layers, &pose, place.z),
            };
            Some(body.style(style))
        })
        .collect()
}

/// The table from a corner, from above.
pub fn isometric(a: &Assembly, turn: f64) -> View {
    let options = Options { hidden: false, smooth: false };
    let bodies = bodies(a, turn, Solid::Whole, &shows);
    project(&bodies, &[], &Projection::Isometric(Default::default()), &options)
}

/// The top from above; the outlines of what lies stored under it dashed where asked for.
pub fn plan(a: &Assembly, turn: f64, hidden: bool) -> View {
    let options = Options { hidden, smooth: false };
    project(&bodies(a, turn, Solid::Plain, &|id| TOP.contains(&id)), &[], &Projection::Plan, &options)
}

/// Width and height of a view, mm at scale 1.
pub fn size(view: &View) -> Vec2 {
    view.bounds.1 - view.bounds.0
}

/// A view on paper at a scale, its box's top left corner at `at`.
pub fn drawn(view: &View, scale: f64, at: Pt, pens: (f64, f64)) -> Vec<Item> {
    let (low, high) = view.bounds;
    let to = |p: Vec2| pt(at.x + (p.x - low.x) * scale, at.y + (high.y - p.y) * scale);
    let of = |style: &'static str| view.visible.iter().filter(move |s| view.bodies[s.body].style == style);
    let dash = Stroke { dash: vec![1.6, 0.9], ..Stroke::solid(THIN) };
    let mut items = Vec::new();
    if !view.hidden.is_empty() {
        items.push(strokes(view.hidden.iter(), dash, &to));
    }
    items.push(strokes(of("under"), Stroke::solid(pens.1), &to));
    items.push(strokes(of("top"), Stroke::solid(pens.0), &to));
    items.retain(|i| !matches!(i, Item::Path { steps, .. } if steps.is_empty()));
    items
}

/// A thin chain-dotted circle about the table's centre in a plan view.
pub fn ring(radius: f64, to: &dyn Fn(Vec2) -> Pt) -> Item {
    let pen = Stroke { dash: vec![4.0, 0.9, 0.4, 0.9], colour: Colour::BLACK, ..Stroke::solid(THIN) };
    Item::Path { steps: circle_steps(v(0.0, 0.0), radius, to), stroke: Some(pen), fill: None }
}

/// How far the posed pieces of some parts reach from the centre, nearest and farthest, mm.
pub fn reach(a: &Assembly, turn: f64, part: &str) -> Option<(f64, f64)> {
    let index = a.parts.iter().position(|p| p.id == part)?;
    let outline = turnleaf_motion::pose::plan_outline(&a.parts[index]);
    let piece = a.pieces.iter().find(|p| p.part == index)?;
    let posed = outline.moved(&a.place(piece, turn).pose);
    let near = turnleaf_geom::distance::signed_distance(Vec2::ZERO, &posed);
    let hole = turnleaf_geom::distance::point_in_region(Vec2::ZERO, &posed);
    Some((if hole { 0.0 } else { near.abs() }, posed.outer.reach()))
}
