//! A small drawing beside each size: the table itself with what the size decides lit.
//!
//! In: the pieces of the table on show, and the key of a size. Out: shapes for a drawing, y **down**.
//! Always true: every size has a drawing; plans and stacks are drawn from the table's own pieces, tongue and groove from
//! a sketch that is the same for every table. Nothing here touches the browser.

use crate::scene::{Movement, Scene};
use crate::space::{Level, Solid, Stand, reaches};
use std::fmt::Write as _;

/// A shape of the drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct Shape {
    /// "plain", "lit", "ghost" or "measure".
    pub look: &'static str,
    /// Path data.
    pub path: String,
    /// Transform; may be empty.
    pub place: String,
}

/// The drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct Picture {
    /// Left, top, width, height.
    pub frame: [f64; 4],
    /// In the order of drawing.
    pub shapes: Vec<Shape>,
    /// What it shows, in a few words.
    pub words: &'static str,
}

/// The table's own pieces.
pub struct Pieces<'a> {
    /// The plan.
    pub scene: &'a Scene,
    /// Solids.
    pub solids: &'a [Solid],
    /// Places closed.
    pub closed: &'a [Stand],
    /// Places open.
    pub open: &'a [Stand],
    /// Whole turn, degrees.
    pub turn: f64,
}

/// What a size's drawing is.
enum What {
    /// Plan closed or open: parts lit, and whether one looks through the top.
    Plan { open: bool, through: bool, lit: &'static [&'static str], measure: Measure },
    /// The stack from the middle outward, these parts lit.
    Stack { lit: fn(&Solid) -> bool, whole: bool },
    /// Tongue and groove, the n-th of its measures lit.
    Tongue(usize),
}

enum Measure {
    None,
    Across,
    Travel,
    Sweep,
}

const NO: Measure = Measure::None;

fn what(size: &str) -> (What, &'static str) {
    use What::{Plan, Stack, Tongue};
    match size {
        "closed_diameter" => (
            Plan { open: false, through: false, lit: &[], measure: Measure::Across },
            "The closed table from above, measured across.",
        ),
        "open_diameter" => (
            Plan { open: true, through: false, lit: &[], measure: Measure::Across },
            "The open table from above, measured across.",
        ),
        "sectors" => (
            Plan { open: false, through: false, lit: &["panel"], measure: NO },
            "The panels of the closed table.",
        ),
        "travel" | "slide_skew" => (
            Plan { open: true, through: false, lit: &["panel"], measure: Measure::Travel },
            "The open table from above; an arrow shows the way of one panel.",
        ),
        "hidden_margin" => (
            Plan { open: false, through: true, lit: &["leaf"], measure: NO },
            "Looking through the closed top at the stored leaves.",
        ),
        "leaf_tip_half_angle" => (
            Plan { open: true, through: false, lit: &["leaf"], measure: NO },
            "The leaves of the open table.",
        ),
        "fitting_gap" => (
            Plan { open: true, through: false, lit: &["star", "leaf"], measure: NO },
            "The seams of star and leaves.",
        ),
        "panel_pin_radius" | "panel_arm_length" | "panel_arm_bend" => (
            Plan { open: false, through: true, lit: &["panel-arm"], measure: NO },
            "Looking through the closed top at the panel arms.",
        ),
        "leaf_pin_radius" | "leaf_arm_length" | "leaf_arm_bend" => (
            Plan { open: false, through: true, lit: &["leaf-arm"], measure: NO },
            "Looking through the closed top at the leaf arms.",
        ),
        "arm_width" | "arm_clearance" => (
            Plan { open: false, through: true, lit: &["panel-arm", "leaf-arm"], measure: NO },
            "Looking through the closed top at the arms.",
        ),
        "ramp_sweep" => (
            Plan { open: false, through: true, lit: &["ramp-outer", "ramp-inner"], measure: Measure::Sweep },
            "Looking through the closed top; an arc shows the turn during which leaves and star rise.",
        ),
        "height" | "edge_load" => (
            Stack { lit: |s| s.level >= Level::Star, whole: true },
            "The table from the middle outward, from the floor up.",
        ),
        "stock_thickness" => (
            Stack { lit: |s| s.level >= Level::Star, whole: false },
            "The stack with panels, leaves and star lit.",
        ),
        "plate_thickness" => (
            Stack { lit: |s| s.part.ends_with("ing-plate"), whole: false },
            "The stack with both plates lit.",
        ),
        "ply_thickness" => {
            (Stack { lit: |s| s.part.starts_with("base-"), whole: false }, "The stack with the base lit.")
        }
        "slide_thickness" => {
            (Stack { lit: |s| s.part.ends_with("-slide"), whole: false }, "The stack with the slides lit.")
        }
        "arm_thickness" => {
            (Stack { lit: |s| s.level == Level::Arms, whole: false }, "The stack with the arms lit.")
        }
        "play" => (
            Stack { lit: |s| s.part == "leaf", whole: false },
            "The stack; the leaves have air above and below.",
        ),
        "tongue_depth" => (Tongue(0), "A tongue in its groove, its depth lit."),
        "tongue_thickness" => (Tongue(1), "A tongue in its groove, its thickness lit."),
        _ => (Tongue(2), "A tongue passing its groove, the air between lit."),
    }
}

/// The drawing of a size.
pub fn picture(size: &str, pieces: &Pieces) -> Picture {
    let (what, words) = what(size);
    let (frame, shapes) = match what {
        What::Plan { open, through, lit, measure } => plan(pieces, open, through, lit, &measure),
        What::Stack { lit, whole } => stack(pieces, lit, whole),
        What::Tongue(lit) => tongue(lit),
    };
    Picture { frame, shapes, words }
}

fn shape(look: &'static str, path: String) -> Shape {
    Shape { look, path, place: String::new() }
}

/// A line with a bar at either end.
fn bars(from: (f64, f64), to: (f64, f64), tick: f64) -> String {
    let (dx, dy) = (to.0 - from.0, to.1 - from.1);
    let long = libm::hypot(dx, dy).max(1e-9);
    let (nx, ny) = (-dy / long * tick, dx / long * tick);
    let mut out = format!("M{:.1} {:.1}L{:.1} {:.1}", from.0, from.1, to.0, to.1);
    for (x, y) in [from, to] {
        let _ = write!(out, "M{:.1} {:.1}L{:.1} {:.1}", x - nx, y - ny, x + nx, y + ny);
    }
    out
}

fn plan(p: &Pieces, open: bool, through: bool, lit: &[&str], measure: &Measure) -> ([f64; 4], Vec<Shape>) {
    let stands = if open { p.open } else { p.closed };
    let across = if open { p.scene.open_radius } else { p.scene.closed_radius };
    let reach = across;
    let mut shapes = Vec::new();
    for drawn in &p.scene.shapes {
        let Some(solid) = p.solids.get(drawn.index) else { continue };
        let (top, is_lit) = (solid.level >= Level::Star, lit.contains(&solid.part.as_str()));
        // Of what lies below only what is lit is of use here.
        if !top && !is_lit {
            continue;
        }
        let Movement { a, b, e, f } = stands[drawn.index].plan;
        // Up on the drawing is down on the screen.
        let place = format!("matrix({a:.5} {:.5} {b:.5} {a:.5} {e:.2} {:.2}) scale(1 -1)", -b, -f);
        let look = match (is_lit, through && top) {
            (true, _) => "lit",
            (false, true) => "ghost",
            (false, false) => "plain",
        };
        shapes.push(Shape { look, path: drawn.path.clone(), place });
    }
    // What is lit lies over what one looks through.
    shapes.sort_by_key(|shape| shape.look == "lit" && through);
    match measure {
        Measure::None => {}
        Measure::Across => {
            shapes.push(shape("measure", bars((-across, reach * 1.1), (across, reach * 1.1), reach * 0.06)));
        }
        Measure::Travel => {
            let panel = p.solids.iter().position(|solid| solid.level == Level::Panels);
            if let Some(at) = panel {
                let middle = p.scene.closed_radius * 0.6;
                let place = |stand: &Stand| {
                    let (x, y) = stand.plan.apply((middle, 0.0));
                    (x, -y)
                };
                shapes.push(shape("measure", bars(place(&p.closed[at]), place(&p.open[at]), reach * 0.06)));
            }
        }
        Measure::Sweep => {
            // The turn during which it rises, as an arc outside the table.
            let (r, angle) = (reach * 1.05, p.turn.to_radians() * 0.18);
            let (x, y) = (r * libm::sin(angle / 2.0), -r * libm::cos(angle / 2.0));
            shapes.push(shape("measure", format!("M{:.1} {y:.1}A{r:.1} {r:.1} 0 0 1 {x:.1} {y:.1}", -x)));
        }
    }
    let side = reach * 1.2;
    ([-side, -side, 2.0 * side, 2.0 * side], shapes)
}

fn stack(p: &Pieces, lit: fn(&Solid) -> bool, whole: bool) -> ([f64; 4], Vec<Shape>) {
    let reach = reaches(p.solids, p.closed, p.closed);
    // Heights are drawn larger than widths, unless the whole height is shown.
    let tall = if whole { 1.0 } else { 3.0 };
    let mut shapes = Vec::new();
    let (mut low, mut high, mut far) = (f64::MAX, f64::MIN, 0.0_f64);
    let mut order: Vec<usize> = (0..p.solids.len()).collect();
    order.sort_by_key(|i| lit(&p.solids[*i]));
    for i in order {
        let solid = &p.solids[i];
        if !whole && solid.level == Level::Frame {
            continue;
        }
        let radii = solid.prisms.iter().flat_map(|prism| prism.rings.iter().flatten());
        let (near, away) = radii
            .map(|point| p.closed[i].plan.apply(*point))
            .map(|(x, y)| libm::hypot(x, y))
            .fold((f64::MAX, 0.0_f64), |(least, most), r| (least.min(r), most.max(r)));
        // What covers the middle begins there.
        let covers = solid.prisms.iter().any(|prism| {
            prism.rings.iter().filter(|ring| round_middle(ring, &p.closed[i].plan)).count() % 2 == 1
        });
        let near = if covers { 0.0 } else { near };
        let (_, from, to) = reach[i];
        (low, high, far) = (low.min(from), high.max(to), far.max(away));
        let look = if lit(solid) { "lit" } else { "plain" };
        let (top, height) = (-to * tall, (to - from) * tall);
        shapes.push(shape(look, format!("M{near:.1} {top:.1}H{away:.1}v{height:.1}H{near:.1}Z")));
    }
    if whole {
        shapes.push(shape("measure", bars((far * 1.08, 0.0), (far * 1.08, -high), far * 0.05)));
        low = 0.0;
    }
    let air = 0.06 * far;
    ([-air, -high * tall - air, far * 1.16 + air, (high - low) * tall + 2.0 * air], shapes)
}

/// Whether a ring in its place runs round the middle of the table: a line from there crosses it an odd number of times.
fn round_middle(ring: &[(f64, f64)], place: &Movement) -> bool {
    let placed: Vec<(f64, f64)> = ring.iter().map(|point| place.apply(*point)).collect();
    let crosses = |i: usize| {
        let (a, b) = (placed[i], placed[(i + 1) % placed.len()]);
        (a.1 > 0.0) != (b.1 > 0.0) && a.0 + (b.0 - a.0) * a.1 / (a.1 - b.1) > 0.0
    };
    (0..placed.len()).filter(|i| crosses(*i)).count() % 2 == 1
}

/// Tongue and groove as a sketch, 100 by 60.
fn tongue(lit: usize) -> ([f64; 4], Vec<Shape>) {
    let apart = if lit == 2 { 26.0 } else { 3.0 };
    let groove = "M2 12H42V24H30V38H42V50H2Z".to_string();
    let (edge, tip) = (42.0 + apart, 30.0 + apart);
    let board = format!("M98 12H{edge:.1}V25H{tip:.1}V37H{edge:.1}V50H98Z");
    let measure = match lit {
        0 => bars((tip, 6.0), (edge, 6.0), 3.0),
        1 => bars((tip + 6.0, 25.0), (tip + 6.0, 37.0), 3.0),
        _ => bars((42.0, 31.0), (tip, 31.0), 3.0),
    };
    ([0.0, 0.0, 100.0, 60.0], vec![shape("plain", groove), shape("lit", board), shape("measure", measure)])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::core::{FIELDS, Plan, Table};

    #[test]
    fn every_size_has_a_drawing_in_which_something_stands_out_whatever_the_table() {
        for sectors in ["4", "6", "12"] {
            let mut plan = Plan::default_metric();
            plan.set("sectors", sectors).unwrap();
            let Ok(table) = Table::new(&plan) else { continue };
            let whole = table.turn_degrees();
            let scene = Scene::new(&table.pieces(), &table.places(0.0), &table.places(whole));
            let (solids, closed, open) = (table.solids(), table.stands(0.0), table.stands(whole));
            let pieces = Pieces { scene: &scene, solids: &solids, closed: &closed, open: &open, turn: whole };
            for field in FIELDS {
                let picture = picture(field.id, &pieces);
                let stands_out =
                    picture.shapes.iter().filter(|shape| shape.look == "lit" || shape.look == "measure");
                assert!(stands_out.count() > 0, "{} with {sectors}", field.id);
                assert!(
                    picture.frame.iter().all(|v| v.is_finite())
                        && picture.frame[2] > 0.0
                        && picture.frame[3] > 0.0
                );
                assert!(picture.words.ends_with('.'), "{}", picture.words);
            }
        }
    }

    #[test]
    fn the_measure_across_is_as_long_as_the_table_is_wide() {
        let table = Table::new(&Plan::default_metric()).unwrap();
        let whole = table.turn_degrees();
        let scene = Scene::new(&table.pieces(), &table.places(0.0), &table.places(whole));
        let (solids, closed, open) = (table.solids(), table.stands(0.0), table.stands(whole));
        let pieces = Pieces { scene: &scene, solids: &solids, closed: &closed, open: &open, turn: whole };
        let drawn = picture("closed_diameter", &pieces);
        let measure = &drawn.shapes.iter().find(|shape| shape.look == "measure").unwrap().path;
        // The usual metric table is 1200 mm across when closed.
        assert!(measure.starts_with("M-600.0 ") && measure.contains("L600.0 "), "{measure}");
    }
}
