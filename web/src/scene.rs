//! The plan view as a scene: shapes drawn once, moved as the table turns.
//!
//! In: the pieces in their own frames, and their places closed and open. Out: path data, and how far the drawing
//! reaches.
//! Always true: a shape's path never changes while the table turns, only its place. Nothing here touches the browser.

use crate::core::PieceView;
pub use crate::space::Movement;
use std::fmt::Write as _;

/// What a piece is, for its look.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Look {
    /// Part of the top that one sees and touches.
    Top,
    /// Everything below.
    Below,
}

/// A piece as drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct Shape {
    /// Identifier of the piece.
    pub id: String,
    /// Its name.
    pub name: String,
    /// Class words for its look.
    pub class: String,
    /// Top or below.
    pub look: Look,
    /// Path data, mm, y up, in its part's frame.
    pub path: String,
    /// Position in the list of pieces.
    pub index: usize,
}

/// The scene.
#[derive(Clone, Debug, PartialEq)]
pub struct Scene {
    /// Lowest first.
    pub shapes: Vec<Shape>,
    /// Half the side of a square that holds the table at every turn, mm.
    pub reach: f64,
    /// Radius of the closed top, mm.
    pub closed_radius: f64,
    /// Greatest radius of the open top, mm.
    pub open_radius: f64,
}

type Point = (f64, f64);

/// The part names of the top; everything else is below it.
const TOP: [&str; 3] = ["panel", "leaf", "star"];

impl Scene {
    /// From the pieces and their places closed and open.
    pub fn new(pieces: &[PieceView], closed: &[Movement], open: &[Movement]) -> Scene {
        let mut order: Vec<usize> = (0..pieces.len()).collect();
        order.sort_by(|a, b| {
            let (a, b) = (&pieces[*a], &pieces[*b]);
            a.z_max.total_cmp(&b.z_max).then(a.z_min.total_cmp(&b.z_min)).then(a.id.cmp(&b.id))
        });
        let mut seen: Vec<(&str, usize)> = Vec::new();
        let mut written: Vec<(&PieceView, String)> = Vec::new();
        let shapes = order
            .into_iter()
            .map(|index| {
                let piece = &pieces[index];
                let count = match seen.iter_mut().find(|(part, _)| *part == piece.part) {
                    Some((_, count)) => {
                        *count += 1;
                        *count
                    }
                    None => {
                        seen.push((&piece.part, 0));
                        0
                    }
                };
                // Pieces of one part mostly have one outline.
                let known =
                    written.iter().find(|(of, _)| of.part == piece.part && of.outline == piece.outline);
                let path = known.map_or_else(|| path_data(&piece.outline), |(_, path)| path.clone());
                if known.is_none() {
                    written.push((piece, path.clone()));
                }
                shape(piece, index, count, path)
            })
            .collect();
        // Of the whole and of the top alone; roots are drawn once, at the end.
        let far = |places: &[Movement]| {
            pieces.iter().zip(places).fold((0.0_f64, 0.0_f64), |(whole, top), (piece, place)| {
                let points = piece.outline.iter().flatten().map(|point| place.apply(*point));
                let far = points.map(|(x, y)| x * x + y * y).fold(0.0, f64::max);
                (whole.max(far), if is_top(piece) { top.max(far) } else { top })
            })
        };
        let ((whole_closed, closed), (whole_open, open)) = (far(closed), far(open));
        Scene {
            shapes,
            reach: whole_closed.max(whole_open).sqrt().max(1.0),
            closed_radius: closed.sqrt(),
            open_radius: open.sqrt(),
        }
    }
}

fn is_top(piece: &PieceView) -> bool {
    TOP.contains(&piece.part.as_str())
}

fn shape(piece: &PieceView, index: usize, count: usize, path: String) -> Shape {
    let look = if is_top(piece) { Look::Top } else { Look::Below };
    let mut class = match piece.part.as_str() {
        "panel" | "leaf" | "star" => format!("top {}", piece.part),
        part if part.contains("arm") && part.contains("leaf") => "arm leaf-side".into(),
        part if part.contains("arm") => "arm".into(),
        part if part.contains("plate") => "plate".into(),
        _ => "other".into(),
    };
    if count % 2 == 1 {
        class.push_str(" odd");
    }
    Shape { id: piece.id.clone(), name: piece.name.clone(), class, look, path, index }
}

/// Rings as SVG path data, to a hundredth of a millimetre.
fn path_data(rings: &[Vec<Point>]) -> String {
    let mut out = String::new();
    for ring in rings {
        for (i, (x, y)) in ring.iter().enumerate() {
            out.push(if i == 0 { 'M' } else { 'L' });
            hundredths(&mut out, *x);
            out.push(' ');
            hundredths(&mut out, *y);
        }
        out.push('Z');
    }
    out
}

/// Writes a number to a hundredth: several times as fast as the exact way, and every letter typed waits for it.
fn hundredths(out: &mut String, value: f64) {
    let parts = (value * 100.0).round() as i64;
    let sign = if parts < 0 { "-" } else { "" };
    let (whole, rest) = (parts.unsigned_abs() / 100, parts.unsigned_abs() % 100);
    // Writing to a string cannot fail.
    let _ = match rest {
        0 => write!(out, "{sign}{whole}"),
        _ => write!(out, "{sign}{whole}.{rest:02}"),
    };
}

#[cfg(test)]
mod tests {
    use super::*;

    fn piece(part: &str, z: f64, ring: &[Point]) -> PieceView {
        PieceView {
            id: format!("{part}/1"),
            part: part.into(),
            name: part.into(),
            outline: vec![ring.to_vec()],
            z_min: z,
            z_max: z + 19.0,
        }
    }

    const RING: [Point; 3] = [(10.0, 0.0), (30.0, 0.0), (30.0, 10.0)];

    fn scene(pieces: &[PieceView], closed: Movement, open: Movement) -> Scene {
        Scene::new(pieces, &vec![closed; pieces.len()], &vec![open; pieces.len()])
    }

    #[test]
    fn a_quarter_turn_takes_x_to_y() {
        let (x, y) = Movement::new(core::f64::consts::FRAC_PI_2, 5.0, 0.0).apply((10.0, 0.0));
        assert!((x - 5.0).abs() < 1e-12 && (y - 10.0).abs() < 1e-12);
        assert_eq!(
            Movement::new(0.0, 25.0, 0.0).svg(),
            "matrix(1.000000 0.000000 -0.000000 1.000000 25.000 0.000)"
        );
    }

    #[test]
    fn the_drawing_reaches_as_far_as_the_table_ever_does() {
        let pieces = [piece("panel", 0.0, &RING)];
        let scene = scene(&pieces, Movement::NONE, Movement::new(0.0, 10.0, 0.0));
        assert!((scene.closed_radius - libm::hypot(30.0, 10.0)).abs() < 1e-12);
        assert!((scene.open_radius - libm::hypot(40.0, 10.0)).abs() < 1e-12);
        assert_eq!(scene.reach, scene.open_radius);
    }

    #[test]
    fn the_highest_piece_is_drawn_last() {
        let pieces = [piece("panel", 700.0, &RING), piece("star", 660.0, &RING), piece("leaf", 680.0, &RING)];
        let scene = scene(&pieces, Movement::NONE, Movement::NONE);
        let order: Vec<&str> = scene.shapes.iter().map(|shape| shape.name.as_str()).collect();
        assert_eq!(order, ["star", "leaf", "panel"]);
    }

    #[test]
    fn outlines_are_written_to_a_hundredth() {
        let ring = vec![(0.0, -0.004), (1.5, -2.345_1), (-0.996, 1200.0)];
        assert_eq!(path_data(&[ring]), "M0 0L1.50 -2.35L-1 1200Z");
    }

    #[test]
    fn an_empty_outline_is_no_trouble() {
        let pieces = [piece("panel", 0.0, &[])];
        let scene = scene(&pieces, Movement::NONE, Movement::NONE);
        assert_eq!((scene.shapes[0].path.as_str(), scene.reach), ("Z", 1.0));
    }
}
