//! How big text is on paper.
//!
//! In: a string, a size in mm, a face. Out: lengths in mm.
//! Always true: the width is the sum of the advances that the PDF and SVG writers draw with.

use std::cell::RefCell;
use std::collections::BTreeMap;

use turnleaf_geom::trig;
use turnleaf_page::{Anchor, Face, Item, Pt, Step, Text, pt};

use crate::shape::shape;

/// Ascent of the letters with accents over the size (the font's own line metric).
pub const ASCENT: f64 = 2189.0 / 2048.0;
/// Descent below the baseline over the size.
pub const DESCENT: f64 = 600.0 / 2048.0;
/// Height of capitals and figures over the size.
pub const CAP_HEIGHT: f64 = 1462.0 / 2048.0;
/// Height of small letters without ascender over the size.
pub const X_HEIGHT: f64 = 1096.0 / 2048.0;

/// The size of a line of text, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Measure {
    /// Sum of the advances.
    pub width: f64,
    /// From the baseline up to the top of an accented capital.
    pub ascent: f64,
    /// From the baseline down to the deepest descender (positive).
    pub descent: f64,
    /// Height of capitals and figures.
    pub cap_height: f64,
    /// Height of small letters without ascender.
    pub x_height: f64,
}

/// Measures a line of text set at a size (em) in mm.
pub fn measure(text: &str, size: f64, face: Face) -> Measure {
    Measure {
        width: width(text, size, face),
        ascent: ASCENT * size,
        descent: DESCENT * size,
        cap_height: CAP_HEIGHT * size,
        x_height: X_HEIGHT * size,
    }
}

/// Most texts whose widths are remembered; a book of 400 pages has some ten thousand.
const REMEMBERED: usize = 30_000;

thread_local! {
    /// Widths in em by face and text: the same words are measured again in each round of page numbers.
    static WIDTHS: RefCell<[BTreeMap<Box<str>, f64>; 3]> = const { RefCell::new([const { BTreeMap::new() }; 3]) };
}

/// The width alone, mm.
pub fn width(text: &str, size: f64, face: Face) -> f64 {
    let which = match face {
        Face::Regular => 0,
        Face::Bold => 1,
        Face::Italic => 2,
    };
    WIDTHS.with_borrow_mut(|widths| {
        let known = &mut widths[which];
        if let Some(em) = known.get(text) {
            return em * size;
        }
        let em = shape(text, face).width;
        if known.len() >= REMEMBERED {
            known.clear();
        }
        known.insert(text.into(), em);
        em * size
    })
}

/// The size (em, mm) whose capitals are this high, for drawing standards that give the letter height.
///
/// ```
/// use turnleaf_page::Face;
/// use turnleaf_text::{measure, size_for_cap_height};
/// // Lettering 3.5 mm high (a height of ISO 3098-1's series): capitals of this font are 1462 of 2048 units high.
/// let size = size_for_cap_height(3.5);
/// assert!((size - 3.5 * 2048.0 / 1462.0).abs() < 1e-9);
/// assert!((measure("A", size, Face::Regular).cap_height - 3.5).abs() < 1e-9);
/// ```
pub fn size_for_cap_height(height: f64) -> f64 {
    height / CAP_HEIGHT
}

/// How far left of its point a text of this width begins, before turning.
pub fn anchor_shift(anchor: Anchor, width: f64) -> f64 {
    match anchor {
        Anchor::Start => 0.0,
        Anchor::Middle => -width / 2.0,
        Anchor::End => -width,
    }
}

/// Cosine and sine of a text's turn; exact at the quarter turns, so that level text stays level.
pub fn turn(degrees: f64) -> (f64, f64) {
    match degrees.rem_euclid(360.0) {
        0.0 => (1.0, 0.0),
        90.0 => (0.0, 1.0),
        180.0 => (-1.0, 0.0),
        270.0 => (0.0, -1.0),
        d => {
            let (s, c) = trig::sin_cos(trig::rad(d));
            (c, s)
        }
    }
}

/// The corners of the box from baseline descent to capital height around a placed text, in paper
/// space: lower left, lower right, upper right, upper left as the reader of the text sees them.
pub fn corners(text: &Text) -> [Pt; 4] {
    let m = measure(&text.text, text.size, text.face);
    let x = anchor_shift(text.anchor, m.width);
    // Spaces at the end take part in the anchoring but show nothing.
    let seen = match text.text.trim_end_matches(' ') {
        shown if shown.len() == text.text.len() => m.width,
        shown => width(shown, text.size, text.face),
    };
    let (c, s) = turn(text.rotate);
    // Along the text is (c, -s) and up from it is (-s, -c), because y runs down on paper.
    let at = |u: f64, v: f64| pt(text.at.x + u * c - v * s, text.at.y - u * s - v * c);
    [at(x, -m.descent), at(x + seen, -m.descent), at(x + seen, m.cap_height), at(x, m.cap_height)]
}

/// The box around everything the items draw (line widths and text boxes included; for curves the box
/// of their controls, which holds them): least and greatest corner. `None` when nothing is drawn.
pub fn bounds(items: &[Item]) -> Option<(Pt, Pt)> {
    let mut found: Option<(Pt, Pt)> = None;
    each_point(items, &mut |p, pad| {
        let (low, high) = found.unwrap_or((p, p));
        found = Some((
            pt(low.x.min(p.x - pad), low.y.min(p.y - pad)),
            pt(high.x.max(p.x + pad), high.y.max(p.y + pad)),
        ));
    });
    found
}

fn each_point(items: &[Item], take: &mut dyn FnMut(Pt, f64)) {
    for item in items {
        match item {
            Item::Path { steps, stroke, .. } => {
                let pad = stroke.as_ref().map_or(0.0, |s| s.width / 2.0);
                for step in steps {
                    match *step {
                        Step::Move(p) | Step::Line(p) => take(p, pad),
                        Step::Cubic(a, b, c) => [a, b, c].into_iter().for_each(|p| take(p, pad)),
                        Step::Close => {}
                    }
                }
            }
            Item::Text(text) => corners(text).into_iter().for_each(|p| take(p, 0.0)),
            Item::Group { items, .. } => each_point(items, take),
            Item::Picture { min, max, .. } => [*min, *max].into_iter().for_each(|p| take(p, 0.0)),
            Item::Link { .. } | Item::Mark { .. } => {}
        }
    }
}
