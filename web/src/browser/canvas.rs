//! Painting faces on a canvas.
//!
//! In: faces in the order of painting, the room they need, the colour of each. Out: the canvas painted.
//! Always true: one millimetre is as long across as up; lines are as thick on every screen; colours are those of the
//! style sheet when they were read.

use crate::space::{Box4, Faces, Kind};
use std::collections::BTreeMap;
use wasm_bindgen::JsCast;
use web_sys::{CanvasRenderingContext2d, CanvasWindingRule, HtmlCanvasElement};

/// Air round the drawing, as a share of the canvas.
const AIR: f64 = 0.03;
/// Finer screens than this are painted as fine as this: more costs time and shows nothing.
const FINEST: f64 = 2.0;

/// Paints; `room` is the canvas's width and height on the page, `whole` what is to be seen on it, in mm; `look_of` gives
/// colour, kind and whether a face is lit.
pub fn paint(
    canvas: &HtmlCanvasElement,
    room: (f64, f64),
    colours: &Colours,
    faces: &[Faces],
    whole: Box4,
    look_of: &dyn Fn(usize, Kind) -> (&'static str, Kind, bool),
) {
    let Some(window) = web_sys::window() else { return };
    let dots = window.device_pixel_ratio().clamp(1.0, FINEST);
    let (width, height) = (room.0 * dots, room.1 * dots);
    let (wide, high) = (width.round() as u32, height.round() as u32);
    if wide == 0 || high == 0 {
        return;
    }
    if (canvas.width(), canvas.height()) != (wide, high) {
        canvas.set_width(wide);
        canvas.set_height(high);
    }
    let Some(pen) =
        canvas.get_context("2d").ok().flatten().and_then(|c| c.dyn_into::<CanvasRenderingContext2d>().ok())
    else {
        return;
    };
    let scale = ((width * (1.0 - 2.0 * AIR)) / (whole.2 - whole.0))
        .min((height * (1.0 - 2.0 * AIR)) / (whole.3 - whole.1));
    let (x0, y0) =
        (width / 2.0 - scale * (whole.0 + whole.2) / 2.0, height / 2.0 - scale * (whole.1 + whole.3) / 2.0);
    pen.clear_rect(0.0, 0.0, width, height);
    pen.set_line_join("round");
    pen.set_line_width(0.9 * dots);
    pen.set_stroke_style_str(&colours.line);
    let mut filled = String::new();
    let trace = |line: &[(f64, f64)]| {
        for (i, (x, y)) in line.iter().enumerate() {
            let (x, y) = (x0 + scale * x, y0 + scale * y);
            if i == 0 { pen.move_to(x, y) } else { pen.line_to(x, y) }
        }
    };
    for (faces, face) in faces.iter().flat_map(|some| some.iter().map(move |face| (some, face))) {
        let (name, kind, lit) = look_of(face.solid, face.kind);
        let colour = colours.face(name, kind, lit);
        if *colour != filled {
            pen.set_fill_style_str(colour);
            filled.clone_from(colour);
        }
        pen.begin_path();
        for ring in faces.rings(face) {
            trace(ring);
            pen.close_path();
        }
        pen.fill_with_canvas_winding_rule(CanvasWindingRule::Evenodd);
        if face.edged {
            pen.stroke();
        }
        let mut lines = faces.lines(face).peekable();
        if lines.peek().is_some() {
            pen.begin_path();
            lines.for_each(trace);
            pen.stroke();
        }
    }
}

/// Shades of every colour, from the style sheet.
pub struct Colours {
    line: String,
    shades: BTreeMap<&'static str, [String; SHADES + 1]>,
    lit: [String; SHADES + 1],
    cut: String,
    cut_lit: String,
}

/// Steps of shade of sides; the last is the top's.
const SHADES: usize = 6;

impl Colours {
    /// As the style sheet has them now.
    pub fn of(canvas: &HtmlCanvasElement) -> Colours {
        let style = web_sys::window().and_then(|window| window.get_computed_style(canvas).ok().flatten());
        let read = |name: &str| {
            let text =
                style.as_ref().and_then(|style| style.get_property_value(name).ok()).unwrap_or_default();
            hex(text.trim()).unwrap_or([150.0, 130.0, 100.0])
        };
        let shades = |colour: [f64; 3]| {
            core::array::from_fn(|step| {
                // Sides seen edge on are darkest; the top is the colour itself.
                let light =
                    if step == SHADES { 1.0 } else { 0.58 + 0.26 * step as f64 / (SHADES - 1) as f64 };
                css(colour.map(|c| c * light))
            })
        };
        let names = ["--panel", "--leaf", "--star", "--plate", "--arm", "--arm-alt"];
        let fails = read("--fails");
        Colours {
            line: css(read("--line")),
            shades: names.into_iter().map(|name| (name, shades(read(name)))).collect(),
            lit: shades(fails),
            cut: css(read("--paper")),
            cut_lit: css(fails.map(|c| (c + 255.0) / 2.0)),
        }
    }

    fn face(&self, name: &str, kind: Kind, lit: bool) -> &String {
        let shades = if lit { &self.lit } else { self.shades.get(name).unwrap_or(&self.lit) };
        match kind {
            Kind::Top => &shades[SHADES],
            Kind::Side(seen) => {
                &shades[((seen.clamp(0.0, 1.0) * (SHADES - 1) as f64).round() as usize).min(SHADES - 1)]
            }
            Kind::Cut if lit => &self.cut_lit,
            Kind::Cut => &self.cut,
        }
    }
}

/// Red, green, blue of `#rgb` or `#rrggbb`.
fn hex(text: &str) -> Option<[f64; 3]> {
    let digits = text.strip_prefix('#')?;
    let long: String =
        if digits.len() == 3 { digits.chars().flat_map(|c| [c, c]).collect() } else { digits.into() };
    let part = |i: usize| u8::from_str_radix(long.get(2 * i..2 * i + 2)?, 16).ok().map(f64::from);
    Some([part(0)?, part(1)?, part(2)?])
}

fn css(colour: [f64; 3]) -> String {
    let [r, g, b] = colour.map(|c| c.round().clamp(0.0, 255.0) as u8);
    format!("#{r:02x}{g:02x}{b:02x}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn colours_are_read_and_written() {
        assert_eq!(hex("#c99a62").map(css).as_deref(), Some("#c99a62"));
        assert_eq!(hex("#fff").map(css).as_deref(), Some("#ffffff"));
        assert_eq!(hex("red"), None);
    }
}
