//! Cut files as SVG.
//!
//! In: a cut file, or a sheet of stock with parts placed on it. Out: stand-alone SVG 1.1.
//! Always true: one user unit is one millimetre (width and height in mm, the view box the same numbers); each
//! operation is a plain group with its name as id; paths are closed; arcs are arc commands, never flattened;
//! no text stands in any layer; y runs down, as SVG has it, so the part is seen as it lies.

use crate::cut::{CutFile, CutLayer, CutShape, Operation, short};
use core::f64::consts::PI;
use turnleaf_geom::{Pose2, Region, Ring, Seg, Vec2, vec2::v};

/// White edge round a part, mm, so that no line lies on the edge of the page.
const EDGE: f64 = 5.0;

/// A number with at most six decimals: a nanometre, far finer than any machine.
fn number(x: f64) -> String {
    let text = format!("{x:.6}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".into() } else { text.into() }
}

fn escaped(text: &str) -> String {
    let mut out = String::new();
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            c if c.is_control() => out.push(' '),
            c => out.push(c),
        }
    }
    out
}

/// A closed path of a ring.
fn ring_data(ring: &Ring, place: &dyn Fn(Vec2) -> Vec2, out: &mut String) {
    let at = |p: Vec2| {
        let q = place(p);
        format!("{} {}", number(q.x), number(q.y))
    };
    for (i, seg) in ring.segs().enumerate() {
        if i == 0 {
            out.push('M');
            out.push_str(&at(seg.start()));
        }
        match seg {
            Seg::Line(_, b) => {
                out.push('L');
                out.push_str(&at(b));
            }
            Seg::Arc(arc) => {
                let r = number(arc.radius);
                // SVG's y runs down: counter-clockwise here is the negative angle direction there.
                let sweep = if arc.sweep > 0.0 { 0 } else { 1 };
                // Beyond a half turn the arc is ambiguous to some readers; it is cut in its middle.
                let ends: &[f64] = if arc.sweep.abs() >= PI - 1e-9 { &[0.5, 1.0] } else { &[1.0] };
                for t in ends {
                    out.push_str(&format!("A{r} {r} 0 0 {sweep} {}", at(arc.at(*t))));
                }
            }
        }
    }
    out.push('Z');
}

fn shape(shape: &CutShape, place: &dyn Fn(Vec2) -> Vec2, out: &mut String) {
    match shape {
        CutShape::Circle { centre, radius } => {
            let c = place(*centre);
            out.push_str(&format!(
                "<circle cx=\"{}\" cy=\"{}\" r=\"{}\"/>\n",
                number(c.x),
                number(c.y),
                number(*radius)
            ));
        }
        CutShape::Region(region) => {
            let mut data = String::new();
            region.rings().for_each(|r| ring_data(r, place, &mut data));
            out.push_str(&format!("<path d=\"{data}\"/>\n"));
        }
    }
}

/// Colours only help on a screen; machines go by the groups' names.
fn colour(operation: &Operation) -> &'static str {
    match operation {
        Operation::OutsideCut => "#000000",
        Operation::InsideCut => "#c00000",
        Operation::Pocket { .. } => "#0000c0",
        Operation::Drill { .. } => "#007000",
        Operation::Mark => "#808080",
    }
}

fn open_layer(operation: &Operation, out: &mut String) {
    out.push_str(&format!("<g id=\"{}\" data-operation=\"{}\"", operation.id(), operation.key()));
    if let Some(depth) = operation.depth() {
        out.push_str(&format!(" data-depth-mm=\"{}\"", short(depth)));
    }
    if let Operation::Drill { diameter, .. } = operation {
        out.push_str(&format!(" data-diameter-mm=\"{}\"", short(*diameter)));
    }
    out.push_str(&format!(
        " fill=\"none\" fill-rule=\"evenodd\" stroke=\"{}\" stroke-width=\"0.1\">\n",
        colour(operation)
    ));
}

fn head(size: Vec2, title: &str, description: &str, data: &[(&str, String)]) -> String {
    let (w, h) = (number(size.x), number(size.y));
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"{w}mm\" height=\"{h}mm\" viewBox=\"0 0 {w} {h}\""
    );
    for (name, value) in data {
        out.push_str(&format!(" data-{name}=\"{}\"", escaped(value)));
    }
    out.push_str(&format!(">\n<title>{}</title>\n<desc>{}</desc>\n", escaped(title), escaped(description)));
    out
}

/// A cut file as SVG.
pub fn cut_svg(file: &CutFile) -> String {
    let (lo, hi) = file.bounds();
    let size = hi - lo + v(2.0 * EDGE, 2.0 * EDGE);
    let place = |p: Vec2| v(p.x - lo.x + EDGE, hi.y - p.y + EDGE);
    let origin = place(Vec2::ZERO);
    let face = file.face.key();
    let description = format!(
        "{} pieces of {}, {} mm thick, seen with the {face} face up. Lines are the finished part's own outlines, without allowance for the cutter; the cutting program must keep the tool on the side that the layer's name says. Work through the layers in their order. Follow the machine's instructions, keep guards in place and the work held down.",
        file.count,
        file.material,
        short(file.thickness)
    );
    let data = [
        ("part", file.part.clone()),
        ("face", face.to_string()),
        ("thickness-mm", short(file.thickness)),
        ("count", file.count.to_string()),
        // Where the part's own origin lies, so that a second face or a fixture can be set from it.
        ("origin-x-mm", number(origin.x)),
        ("origin-y-mm", number(origin.y)),
    ];
    let mut out = head(size, &file.title, &description, &data);
    for layer in &file.layers {
        open_layer(&layer.operation, &mut out);
        layer.shapes.iter().for_each(|s| shape(s, &place, &mut out));
        out.push_str("</g>\n");
    }
    out.push_str("</svg>\n");
    out
}

fn moved(shape: &CutShape, pose: &Pose2) -> CutShape {
    match shape {
        CutShape::Circle { centre, radius } => {
            CutShape::Circle { centre: pose.apply(*centre), radius: *radius }
        }
        CutShape::Region(r) => CutShape::Region(Region::moved(r, pose)),
    }
}

/// A sheet of stock with parts on it as SVG: layers of the same operation come together. Each part stands
/// where its pose puts the frame of its file; the sheet's lower left corner is the origin, y up.
pub fn stock_svg(title: &str, size: Vec2, placed: &[(&CutFile, Pose2)]) -> String {
    let mut layers: Vec<CutLayer> = Vec::new();
    for (file, pose) in placed {
        for layer in &file.layers {
            let shapes = layer.shapes.iter().map(|s| moved(s, pose));
            match layers.iter_mut().find(|l| l.operation.id() == layer.operation.id()) {
                Some(l) => l.shapes.extend(shapes),
                None => {
                    layers.push(CutLayer { operation: layer.operation, shapes: shapes.collect() });
                }
            }
        }
    }
    layers.sort_by(|a, b| a.operation.work_order(&b.operation));
    let place = |p: Vec2| v(p.x, size.y - p.y);
    let description = format!("A sheet {} by {} mm.", short(size.x), short(size.y));
    let mut out = head(size, title, &description, &[]);
    for layer in &layers {
        open_layer(&layer.operation, &mut out);
        layer.shapes.iter().for_each(|s| shape(s, &place, &mut out));
        out.push_str("</g>\n");
    }
    out.push_str("</svg>\n");
    out
}
