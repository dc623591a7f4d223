//! A drawing backend for the chart library that writes page items.
//!
//! In: what the chart library draws, in whole hundredths of a millimetre. Out: items of a figure.
//! Always true: lines and words only, never pixels; words are set in the bundled fonts and measured with
//! them, so nothing is asked of the platform.
//!
//! The library knows no dashes: a colour `pen(i)` stands for pen `i` of the list given to [`PageBackend`].

use core::convert::Infallible;
use plotters::style::RGBColor;
use plotters_backend::text_anchor::{HPos, VPos};
use plotters_backend::{
    BackendColor, BackendCoord, BackendStyle, BackendTextStyle, DrawingBackend, DrawingErrorKind,
    FontTransform,
};
use turnleaf_page::{Anchor, Colour, Face, Item, Pt, Step, Stroke, Text, pt};
use turnleaf_text::measure;

/// Units of the chart library in a millimetre. More: finer lines, no other effect.
pub const PER_MM: f64 = 100.0;

/// The colour that stands for a pen.
pub const fn pen(index: u8) -> RGBColor {
    RGBColor(0, 0, index)
}

/// Whole units of a length in mm.
pub fn units(mm: f64) -> i32 {
    (mm * PER_MM).round() as i32
}

/// Collects items.
pub struct PageBackend<'a> {
    size: (u32, u32),
    pens: &'a [Stroke],
    out: &'a mut Vec<Item>,
}

impl<'a> PageBackend<'a> {
    /// A backend of a size in mm.
    pub fn new(width: f64, height: f64, pens: &'a [Stroke], out: &'a mut Vec<Item>) -> PageBackend<'a> {
        PageBackend { size: (units(width) as u32, units(height) as u32), pens, out }
    }
    fn stroke(&self, color: BackendColor) -> Option<Stroke> {
        if color.alpha <= 0.0 {
            return None;
        }
        self.pens.get(usize::from(color.rgb.2)).cloned()
    }
    fn fill(&self, color: BackendColor) -> Option<Colour> {
        self.stroke(color).map(|s| s.colour)
    }
    fn path(&mut self, steps: Vec<Step>, color: BackendColor, filled: bool) {
        let (stroke, fill) = if filled { (None, self.fill(color)) } else { (self.stroke(color), None) };
        if stroke.is_some() || fill.is_some() {
            self.out.push(Item::Path { steps, stroke, fill });
        }
    }
}

fn place(c: BackendCoord) -> Pt {
    pt(f64::from(c.0) / PER_MM, f64::from(c.1) / PER_MM)
}

fn steps(points: impl IntoIterator<Item = BackendCoord>, close: bool) -> Vec<Step> {
    let mut steps: Vec<Step> = points
        .into_iter()
        .enumerate()
        .map(|(i, c)| if i == 0 { Step::Move(place(c)) } else { Step::Line(place(c)) })
        .collect();
    if close {
        steps.push(Step::Close);
    }
    steps
}

type Drawn = Result<(), DrawingErrorKind<Infallible>>;

impl DrawingBackend for PageBackend<'_> {
    type ErrorType = Infallible;

    fn get_size(&self) -> (u32, u32) {
        self.size
    }
    fn ensure_prepared(&mut self) -> Drawn {
        Ok(())
    }
    fn present(&mut self) -> Drawn {
        Ok(())
    }
    fn draw_pixel(&mut self, at: BackendCoord, color: BackendColor) -> Drawn {
        self.path(steps([at, (at.0 + 1, at.1), (at.0 + 1, at.1 + 1), (at.0, at.1 + 1)], true), color, true);
        Ok(())
    }
    fn draw_line<S: BackendStyle>(&mut self, from: BackendCoord, to: BackendCoord, style: &S) -> Drawn {
        self.path(steps([from, to], false), style.color(), false);
        Ok(())
    }
    fn draw_rect<S: BackendStyle>(
        &mut self,
        a: BackendCoord,
        b: BackendCoord,
        style: &S,
        fill: bool,
    ) -> Drawn {
        self.path(steps([a, (b.0, a.1), b, (a.0, b.1)], true), style.color(), fill);
        Ok(())
    }
    fn draw_path<S: BackendStyle, I: IntoIterator<Item = BackendCoord>>(
        &mut self,
        path: I,
        style: &S,
    ) -> Drawn {
        self.path(steps(path, false), style.color(), false);
        Ok(())
    }
    fn draw_circle<S: BackendStyle>(
        &mut self,
        centre: BackendCoord,
        radius: u32,
        style: &S,
        fill: bool,
    ) -> Drawn {
        let c = place(centre);
        let to = |p: turnleaf_geom::Vec2| pt(c.x + p.x, c.y - p.y);
        let ring = crate::draw::circle_steps(turnleaf_geom::Vec2::ZERO, f64::from(radius) / PER_MM, &to);
        self.path(ring, style.color(), fill);
        Ok(())
    }
    fn fill_polygon<S: BackendStyle, I: IntoIterator<Item = BackendCoord>>(
        &mut self,
        vert: I,
        style: &S,
    ) -> Drawn {
        self.path(steps(vert, true), style.color(), true);
        Ok(())
    }
    fn draw_text<T: BackendTextStyle>(&mut self, text: &str, style: &T, at: BackendCoord) -> Drawn {
        let size = style.size() / PER_MM;
        let m = measure(text, size, Face::Regular);
        let anchor = match style.anchor().h_pos {
            HPos::Left => Anchor::Start,
            HPos::Center => Anchor::Middle,
            HPos::Right => Anchor::End,
        };
        // From the anchor's height to the baseline.
        let down = match style.anchor().v_pos {
            VPos::Top => m.cap_height,
            VPos::Center => m.cap_height / 2.0,
            VPos::Bottom => 0.0,
        };
        let p = place(at);
        let (rotate, p) = match style.transform() {
            FontTransform::None => (0.0, pt(p.x, p.y + down)),
            FontTransform::Rotate90 => (270.0, pt(p.x - down, p.y)),
            FontTransform::Rotate180 => (180.0, pt(p.x, p.y - down)),
            FontTransform::Rotate270 => (90.0, pt(p.x + down, p.y)),
        };
        self.out.push(Item::Text(Text::new(p, size, text).anchor(anchor).rotate(rotate)));
        Ok(())
    }
    fn estimate_text_size<T: BackendTextStyle>(
        &self,
        text: &str,
        style: &T,
    ) -> Result<(u32, u32), DrawingErrorKind<Infallible>> {
        let m = measure(text, style.size() / PER_MM, Face::Regular);
        Ok((units(m.width) as u32, units(m.cap_height + m.descent) as u32))
    }
}
