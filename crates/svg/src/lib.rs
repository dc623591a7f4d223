//! Writes a finished page as a stand-alone SVG file.
//!
//! In: a [`Page`]. Out: SVG 1.1 text whose user unit is one millimetre on paper.
//! Always true: well-formed XML whatever the page holds; the same page gives the same text; lengths
//! that are not numbers are left out together with what carries them. Groups carry `data-id`,
//! `data-role` and `data-origin`, so that a chosen dimension leads back to its size or rule.
//!
//! ```
//! use turnleaf_page::{Item, Page, Paper, Text, pt};
//! let (width, height) = Paper::A4.sides();
//! let items = vec![Item::Text(Text::new(pt(20.0, 30.0), 5.0, "Panels & leaves"))];
//! let page = Page { width, height, label: "1".into(), id: "one".into(), title: "One".into(), items };
//! let text = turnleaf_svg::page_svg(&page);
//! // A4 by ISO 216, one user unit a millimetre; text is escaped as XML 1.0, 2.4 asks.
//! assert!(text.contains("width=\"210mm\" height=\"297mm\" viewBox=\"0 0 210 297\""));
//! assert!(text.contains("Panels &amp; leaves"));
//! ```

mod fonts;
mod write;

#[cfg(test)]
mod tests;

use base64::Engine;
use turnleaf_diag::Origin;
use turnleaf_page::{Anchor, Colour, Item, Page, Picture, Pt, Role, Step, Stroke, Text};
use turnleaf_text::measure::{anchor_shift, turn};
use turnleaf_text::{Font, shape};

use write::{attribute, escaped, measure, number};

/// How letters are written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Letters {
    /// As text in the family "Open Sans", which whoever shows the page provides.
    #[default]
    Named,
    /// As text, with the fonts inside the file.
    Embedded,
    /// As outlines: looks the same everywhere, but cannot be searched or selected.
    Outlined,
}

/// What may be chosen about the file.
pub struct SvgOptions<'a> {
    /// How letters are written.
    pub letters: Letters,
    /// The name of an origin for `data-origin` ("size:closed_diameter").
    pub origin_name: &'a dyn Fn(Origin) -> String,
    /// Draw a white sheet under everything.
    pub sheet: bool,
}

impl Default for SvgOptions<'_> {
    fn default() -> Self {
        SvgOptions { letters: Letters::Named, origin_name: &index_name, sheet: true }
    }
}

/// The name of an origin when nobody knows a better one: "size/3", "solved/12".
pub fn index_name(origin: Origin) -> String {
    match origin {
        Origin::Size(i) => format!("size/{i}"),
        Origin::Solved(i) => format!("solved/{i}"),
    }
}

/// The page as SVG with the usual options.
pub fn page_svg(page: &Page) -> String {
    page_svg_with(page, &SvgOptions::default())
}

/// The page as SVG.
pub fn page_svg_with(page: &Page, options: &SvgOptions) -> String {
    let side = |v: f64| if v.is_finite() && v > 0.0 { v } else { 0.0 };
    let (w, h) = (side(page.width), side(page.height));
    let mut out = String::from("<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"");
    number(&mut out, w);
    out.push_str("mm\" height=\"");
    number(&mut out, h);
    out.push_str("mm\" viewBox=\"0 0 ");
    number(&mut out, w);
    out.push(' ');
    number(&mut out, h);
    out.push('"');
    attribute(&mut out, "data-id", &page.id);
    attribute(&mut out, "data-label", &page.label);
    out.push_str(" font-family=\"'Open Sans', 'Turnleaf Signs', sans-serif\" fill=\"none\">\n<title>");
    escaped(&mut out, &page.title);
    out.push_str("</title>\n");
    if options.letters == Letters::Embedded {
        fonts::embed(&mut out, &page.items);
    }
    if options.sheet {
        out.push_str("<rect width=\"");
        number(&mut out, w);
        out.push_str("\" height=\"");
        number(&mut out, h);
        out.push_str("\" fill=\"#fff\"/>\n");
    }
    items(&mut out, &page.items, options, 0);
    out.push_str("</svg>\n");
    out
}

/// Deepest nesting of groups that is written; a real drawing needs fewer than ten, and readers of SVG
/// give up somewhere past a few hundred.
const DEEPEST: usize = 60;

fn items(out: &mut String, list: &[Item], options: &SvgOptions, depth: usize) {
    if depth > DEEPEST {
        return;
    }
    for item in list {
        match item {
            Item::Path { steps, stroke, fill } => path(out, steps, stroke.as_ref(), *fill),
            Item::Text(text) => line(out, text, options),
            Item::Link { min, max, target } => link(out, *min, *max, target),
            Item::Picture { min, max, picture: shown } => picture(out, *min, *max, shown),
            Item::Mark { at, name } => mark(out, *at, name),
            Item::Group { role, origin, id, items: inner } => {
                out.push_str("<g");
                if let Some(id) = id {
                    attribute(out, "data-id", id);
                }
                if let Some(name) = role_name(role) {
                    attribute(out, "data-role", name);
                }
                if let Some(origin) = origin {
                    attribute(out, "data-origin", &(options.origin_name)(*origin));
                }
                let alt = match role {
                    Role::Figure { alt } => Some(alt),
                    _ => None,
                };
                if let Some(alt) = alt {
                    out.push_str(" role=\"img\"");
                    attribute(out, "aria-label", alt);
                }
                out.push_str(">\n");
                items(out, inner, options, depth + 1);
                out.push_str("</g>\n");
            }
        }
    }
}

fn role_name(role: &Role) -> Option<&'static str> {
    Some(match role {
        Role::Plain => return None,
        Role::Figure { .. } => "figure",
        Role::Heading(1) => "heading1",
        Role::Heading(2) => "heading2",
        Role::Heading(_) => "heading3",
        Role::Paragraph => "paragraph",
        Role::Table => "table",
        Role::Row => "row",
        Role::Cell(true) => "header-cell",
        Role::Cell(false) => "cell",
        Role::List => "list",
        Role::ListItem => "list-item",
        Role::Label => "label",
        Role::Caption => "caption",
        Role::Contents => "contents",
        Role::ContentsEntry => "contents-entry",
        Role::Artifact => "artifact",
        Role::Dimension => "dimension",
        Role::Outline => "outline",
    })
}

fn colour(out: &mut String, name: &str, c: Colour) {
    let Colour(r, g, b) = c;
    let value = format!("#{r:02x}{g:02x}{b:02x}");
    attribute(out, name, &value);
}

fn finite(p: Pt) -> bool {
    p.x.is_finite() && p.y.is_finite()
}

fn points(out: &mut String, letter: char, list: &[Pt]) {
    out.push(letter);
    for (i, p) in list.iter().enumerate() {
        if i > 0 {
            out.push(' ');
        }
        number(out, p.x);
        out.push(' ');
        number(out, p.y);
    }
}

/// Path data; `None` when a length is not a number or nothing is shown. A stretch that does not begin
/// with a move begins where its first step leads.
fn data(steps: &[Step]) -> Option<String> {
    let mut out = String::new();
    let mut open = false;
    for step in steps {
        match *step {
            Step::Move(p) | Step::Line(p) if !finite(p) => return None,
            Step::Cubic(a, b, c) if !(finite(a) && finite(b) && finite(c)) => return None,
            Step::Move(p) => points(&mut out, 'M', &[p]),
            Step::Line(p) => points(&mut out, if open { 'L' } else { 'M' }, &[p]),
            Step::Cubic(a, b, c) => {
                if !open {
                    points(&mut out, 'M', &[a]);
                }
                points(&mut out, 'C', &[a, b, c]);
            }
            Step::Close => {
                if open {
                    out.push('Z');
                }
                continue;
            }
        }
        open = true;
    }
    (!out.is_empty()).then_some(out)
}

fn path(out: &mut String, steps: &[Step], stroke: Option<&Stroke>, fill: Option<Colour>) {
    if stroke.is_none() && fill.is_none() {
        return;
    }
    let pen = stroke.is_none_or(|s| s.width.is_finite() && s.dash.iter().all(|d| d.is_finite()));
    let (Some(data), true) = (data(steps), pen) else { return };
    out.push_str("<path d=\"");
    out.push_str(&data);
    out.push('"');
    if let Some(fill) = fill {
        colour(out, "fill", fill);
        out.push_str(" fill-rule=\"evenodd\"");
    }
    if let Some(stroke) = stroke {
        colour(out, "stroke", stroke.colour);
        measure(out, "stroke-width", stroke.width.max(0.0));
        if stroke.round {
            out.push_str(" stroke-linecap=\"round\" stroke-linejoin=\"round\"");
        } else {
            out.push_str(" stroke-miterlimit=\"10\"");
        }
        if stroke.dash.iter().any(|d| *d > 0.0) {
            out.push_str(" stroke-dasharray=\"");
            for (i, d) in stroke.dash.iter().enumerate() {
                if i > 0 {
                    out.push(' ');
                }
                number(out, d.max(0.0));
            }
            out.push('"');
        }
    }
    out.push_str("/>\n");
}

fn line(out: &mut String, text: &Text, options: &SvgOptions) {
    if !(finite(text.at) && text.size.is_finite() && text.size > 0.0 && text.rotate.is_finite()) {
        return;
    }
    let shaped = shape(&text.text, text.face);
    if shaped.runs.is_empty() {
        return;
    }
    let (c, s) = turn(text.rotate);
    let width = shaped.width * text.size;
    let shift = anchor_shift(text.anchor, width);
    if options.letters == Letters::Outlined {
        let mut steps = Vec::new();
        for run in &shaped.runs {
            let mut x = run.x;
            for g in &run.glyphs {
                let place = |p: Pt| {
                    let u = shift + (x + g.dx + p.x) * text.size;
                    let v = (g.dy + p.y) * text.size;
                    Pt { x: text.at.x + u * c - v * s, y: text.at.y - u * s - v * c }
                };
                steps.extend(run.font.outline(g.id).into_iter().map(|step| match step {
                    Step::Move(p) => Step::Move(place(p)),
                    Step::Line(p) => Step::Line(place(p)),
                    Step::Cubic(a, b, p) => Step::Cubic(place(a), place(b), place(p)),
                    Step::Close => Step::Close,
                }));
                x += g.advance;
            }
        }
        let Some(data) = data(&steps) else { return };
        out.push_str("<path d=\"");
        out.push_str(&data);
        out.push('"');
        colour(out, "fill", text.colour);
        attribute(out, "aria-label", &shaped.text);
        out.push_str("/>\n");
        return;
    }
    out.push_str("<text");
    if (c, s) == (1.0, 0.0) {
        measure(out, "x", text.at.x);
        measure(out, "y", text.at.y);
    } else {
        out.push_str(" transform=\"translate(");
        number(out, text.at.x);
        out.push(' ');
        number(out, text.at.y);
        out.push_str(") rotate(");
        number(out, -text.rotate);
        out.push_str(")\"");
    }
    measure(out, "font-size", text.size);
    let font = Font::of(text.face);
    if font.weight() != 400 {
        attribute(out, "font-weight", &font.weight().to_string());
    }
    if font.italic() {
        out.push_str(" font-style=\"italic\"");
    }
    match text.anchor {
        Anchor::Start => {}
        Anchor::Middle => out.push_str(" text-anchor=\"middle\""),
        Anchor::End => out.push_str(" text-anchor=\"end\""),
    }
    // The measured length, so that a reader without the font still keeps every line in its place.
    measure(out, "textLength", width);
    out.push_str(" style=\"font-variant-ligatures:none\" xml:space=\"preserve\"");
    colour(out, "fill", text.colour);
    out.push('>');
    escaped(out, &shaped.text);
    out.push_str("</text>\n");
}

fn link(out: &mut String, min: Pt, max: Pt, target: &str) {
    if !(finite(min) && finite(max)) {
        return;
    }
    out.push_str("<a");
    attribute(out, "href", &format!("#{target}"));
    out.push_str("><rect");
    measure(out, "x", min.x.min(max.x));
    measure(out, "y", min.y.min(max.y));
    measure(out, "width", (max.x - min.x).abs());
    measure(out, "height", (max.y - min.y).abs());
    out.push_str(" fill=\"#000\" fill-opacity=\"0\"/></a>\n");
}

fn picture(out: &mut String, min: Pt, max: Pt, picture: &Picture) {
    if !(finite(min) && finite(max)) {
        return;
    }
    out.push_str("<image");
    measure(out, "x", min.x.min(max.x));
    measure(out, "y", min.y.min(max.y));
    measure(out, "width", (max.x - min.x).abs());
    measure(out, "height", (max.y - min.y).abs());
    out.push_str(" preserveAspectRatio=\"none\" href=\"data:");
    out.push_str(picture.packing.mime());
    out.push_str(";base64,");
    out.push_str(&base64::engine::general_purpose::STANDARD.encode(&picture.data));
    out.push_str("\"/>\n");
}

fn mark(out: &mut String, at: Pt, name: &str) {
    if !finite(at) {
        return;
    }
    out.push_str("<g");
    attribute(out, "id", name);
    out.push_str(" transform=\"translate(");
    number(out, at.x);
    out.push(' ');
    number(out, at.y);
    out.push_str(")\"/>\n");
}
