//! From millimetres and our types to points and the PDF library's types.
//!
//! In: checked lengths. Out: krilla values.
//! Always true: coordinates are rounded to 0.001 pt (0.35 µm) in 64 bits before they become 32-bit
//! numbers, which keeps the file small and the same on every platform.

use krilla::color::{luma, rgb};
use krilla::geom::{Path, PathBuilder, Point, Rect, Size};
use krilla::image::Image;
use krilla::num::NormalizedF32;
use krilla::paint::{Fill, FillRule, LineCap, LineJoin, Paint, Stroke as PdfStroke, StrokeDash};
use turnleaf_page::{Colour, Packing, Picture, Pt, Step, Stroke};

/// Points in a millimetre.
const PER_MM: f64 = 72.0 / 25.4;

/// A length in points.
pub(crate) fn points(mm: f64) -> f32 {
    ((mm * PER_MM * 1000.0).round() / 1000.0) as f32
}

/// A place in points; y still runs down.
pub(crate) fn place(p: Pt) -> Point {
    Point::from_xy(points(p.x), points(p.y))
}

/// A box from two opposite corners; `None` when it has no area.
pub(crate) fn rect(a: Pt, b: Pt) -> Option<Rect> {
    let (x0, x1) = (a.x.min(b.x), a.x.max(b.x));
    let (y0, y1) = (a.y.min(b.y), a.y.max(b.y));
    let rect = Rect::from_ltrb(points(x0), points(y0), points(x1), points(y1))?;
    (rect.width() > 0.0 && rect.height() > 0.0).then_some(rect)
}

/// The size of a box; `None` when it has no area.
pub(crate) fn size(a: Pt, b: Pt) -> Option<Size> {
    Size::from_wh(points((b.x - a.x).abs()), points((b.y - a.y).abs()))
}

/// A picture; `None` when its file cannot be read. Not smoothed, which archive files forbid.
pub(crate) fn picture(picture: &Picture) -> Option<Image> {
    let data = picture.data.to_vec().into();
    match picture.packing {
        Packing::Png => Image::from_png(data, false).ok(),
        Packing::Jpeg => Image::from_jpeg(data, false).ok(),
    }
}

fn paint(colour: Colour) -> Paint {
    let Colour(r, g, b) = colour;
    // Greys as greys, so that black text prints with black ink alone.
    if r == g && g == b { luma::Color::new(r).into() } else { rgb::Color::new(r, g, b).into() }
}

/// A fill under the even-odd rule.
pub(crate) fn fill(colour: Colour) -> Fill {
    Fill { paint: paint(colour), opacity: NormalizedF32::ONE, rule: FillRule::EvenOdd }
}

/// A pen.
pub(crate) fn stroke(stroke: &Stroke) -> PdfStroke {
    let (line_cap, line_join) = match stroke.round {
        true => (LineCap::Round, LineJoin::Round),
        false => (LineCap::Butt, LineJoin::Miter),
    };
    // A pattern without any length would be an error in the file; it means a continuous line.
    let dashed = stroke.dash.iter().any(|d| points(*d) > 0.0);
    PdfStroke {
        paint: paint(stroke.colour),
        width: points(stroke.width),
        miter_limit: 10.0,
        line_cap,
        line_join,
        opacity: NormalizedF32::ONE,
        dash: dashed
            .then(|| StrokeDash { array: stroke.dash.iter().map(|d| points(*d)).collect(), offset: 0.0 }),
    }
}

/// A path; `None` when it shows nothing. A stretch that does not begin with a move begins where its
/// first step leads.
pub(crate) fn path(steps: &[Step]) -> Option<Path> {
    let mut builder = PathBuilder::new();
    let mut open = false;
    for step in steps {
        match *step {
            Step::Move(p) => {
                let p = place(p);
                builder.move_to(p.x, p.y);
                open = true;
            }
            Step::Line(p) => {
                let p = place(p);
                if open {
                    builder.line_to(p.x, p.y)
                } else {
                    builder.move_to(p.x, p.y)
                }
                open = true;
            }
            Step::Cubic(a, b, c) => {
                let (a, b, c) = (place(a), place(b), place(c));
                if !open {
                    builder.move_to(a.x, a.y);
                }
                builder.cubic_to(a.x, a.y, b.x, b.y, c.x, c.y);
                open = true;
            }
            Step::Close => builder.close(),
        }
    }
    builder.finish()
}
