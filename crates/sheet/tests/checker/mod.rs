//! Reads a finished SVG sheet and looks for what a careful reader would mind.
//!
//! In: the text of an SVG file. Out: every overlap of text with text, of dimension text with dimension
//! lines or visible edges, and everything outside the frame.
//! Always true: it knows only what the file says (text lengths, paths, roles), shares no code with the
//! placing of dimensions, and takes the frame from the sheet's size alone: 20 mm on the left, 10 mm elsewhere
//! (ISO 5457:1999 4.2).
// The platform's own functions are wanted here: a check shares no code with what it checks.
#![allow(clippy::disallowed_methods)]

use roxmltree::{Document, Node};

/// A point, mm.
type P = (f64, f64);

/// A piece of text where it stands.
pub struct Words {
    /// What it says.
    pub text: String,
    /// Identifier of the innermost named group.
    pub id: String,
    /// Whether it belongs to a dimension or to a mark of a feature in a view.
    pub dimension: bool,
    /// Its corners.
    pub quad: [P; 4],
}

/// A straight piece of a line.
pub struct Stretch {
    a: P,
    b: P,
    id: String,
    /// Line of a dimension, arrow or leader.
    dimension: bool,
    /// Visible edge of a view.
    edge: bool,
}

/// Everything found on a sheet.
#[derive(Default)]
pub struct Sheet {
    /// Texts.
    pub words: Vec<Words>,
    stretches: Vec<Stretch>,
    /// What lies outside the frame.
    pub outside: Vec<String>,
    /// Ink drawn with lines, mm, as a check that the file was understood.
    pub ink: f64,
}

#[derive(Clone, Default)]
struct Context {
    id: String,
    dimension: bool,
    table: bool,
    outline: bool,
    frame: bool,
}

/// Reads a sheet.
pub fn read(svg: &str) -> Sheet {
    let doc = Document::parse(svg).expect("well-formed SVG");
    let root = doc.root_element();
    let size: Vec<f64> = number_list(root.attribute("viewBox").expect("a viewBox"));
    let frame = ((20.0, 10.0), (size[2] - 10.0, size[3] - 10.0));
    let mut sheet = Sheet::default();
    walk(root, &Context::default(), frame, &mut sheet);
    sheet
}

fn walk(node: Node, ctx: &Context, frame: (P, P), sheet: &mut Sheet) {
    for child in node.children().filter(Node::is_element) {
        match child.tag_name().name() {
            "g" => {
                let mut inner = ctx.clone();
                if let Some(id) = child.attribute("data-id") {
                    inner.id = id.to_string();
                    inner.frame |= id == "frame";
                    inner.dimension |= id.contains("/mark/");
                }
                match child.attribute("data-role") {
                    Some("dimension") => inner.dimension = true,
                    Some("outline") => inner.outline = true,
                    Some("table") => inner.table = true,
                    _ => {}
                }
                walk(child, &inner, frame, sheet);
            }
            "text" => {
                let words = text(child, ctx);
                note_outside(&words.quad, &words.text, ctx, frame, sheet);
                sheet.words.push(words);
            }
            "path" => path(child, ctx, frame, sheet),
            _ => {}
        }
    }
}

fn number_list(s: &str) -> Vec<f64> {
    s.split([' ', ',']).filter(|q| !q.is_empty()).map(|q| q.parse().expect("a number")).collect()
}

fn attribute(node: Node, name: &str) -> f64 {
    node.attribute(name).map_or(0.0, |v| v.parse().expect("a number"))
}

fn text(node: Node, ctx: &Context) -> Words {
    let (mut at, mut turn) = ((attribute(node, "x"), attribute(node, "y")), 0.0f64);
    if let Some(t) = node.attribute("transform") {
        let inner = |name: &str| {
            let from = t.find(name).expect("this transform") + name.len() + 1;
            let to = t[from..].find(')').expect("closed") + from;
            number_list(&t[from..to])
        };
        let shift = inner("translate");
        at = (shift[0], shift[1]);
        turn = inner("rotate")[0].to_radians();
    }
    let size = attribute(node, "font-size");
    let width = attribute(node, "textLength");
    let start = match node.attribute("text-anchor") {
        Some("middle") => -width / 2.0,
        Some("end") => -width,
        _ => 0.0,
    };
    let words: String = node.text().unwrap_or_default().to_string();
    // Capitals and figures are 0.714 of the size high and stand on the line; brackets and letters with a
    // tail reach 0.24 below it.
    let tail = words.contains(|c: char| "gjpqyQ()[],;/⌀".contains(c));
    let (top, bottom) = (0.72 * size, if tail { 0.24 * size } else { 0.02 * size });
    let (s, c) = turn.sin_cos();
    let place = |u: f64, v: f64| (at.0 + u * c - v * s, at.1 + u * s + v * c);
    let quad =
        [place(start, bottom), place(start + width, bottom), place(start + width, -top), place(start, -top)];
    Words { text: words, id: ctx.id.clone(), dimension: ctx.dimension && !ctx.table, quad }
}

fn note_outside(points: &[P], what: &str, ctx: &Context, frame: (P, P), sheet: &mut Sheet) {
    if ctx.frame {
        return;
    }
    let (lo, hi) = frame;
    let out = |p: &P| p.0 < lo.0 - 0.01 || p.1 < lo.1 - 0.01 || p.0 > hi.0 + 0.01 || p.1 > hi.1 + 0.01;
    if points.iter().any(out) {
        sheet.outside.push(format!("{} ({what})", ctx.id));
    }
}

fn path(node: Node, ctx: &Context, frame: (P, P), sheet: &mut Sheet) {
    let wide = attribute(node, "stroke-width");
    let mut points: Vec<P> = Vec::new();
    let mut stretches: Vec<(P, P)> = Vec::new();
    let (mut here, mut start) = ((0.0, 0.0), (0.0, 0.0));
    let data = node.attribute("d").expect("path data");
    for (letter, numbers) in steps(data) {
        match letter {
            'M' => {
                here = (numbers[0], numbers[1]);
                start = here;
                points.push(here);
            }
            'L' => {
                let to = (numbers[0], numbers[1]);
                stretches.push((here, to));
                here = to;
                points.push(here);
            }
            'C' => {
                let c: Vec<P> = numbers.chunks(2).map(|q| (q[0], q[1])).collect();
                let from = here;
                for k in 1..=16 {
                    let t = f64::from(k) / 16.0;
                    let u = 1.0 - t;
                    let mix = |a: f64, b: f64, c: f64, d: f64| {
                        u * u * u * a + 3.0 * u * u * t * b + 3.0 * u * t * t * c + t * t * t * d
                    };
                    let to = (mix(from.0, c[0].0, c[1].0, c[2].0), mix(from.1, c[0].1, c[1].1, c[2].1));
                    stretches.push((here, to));
                    here = to;
                    points.push(here);
                }
            }
            'Z' => {
                stretches.push((here, start));
                here = start;
            }
            other => panic!("unknown path step {other}"),
        }
    }
    note_outside(&points, "line", ctx, frame, sheet);
    if ctx.frame || ctx.table {
        return;
    }
    let solid = node.attribute("stroke-dasharray").is_none();
    for (a, b) in stretches {
        sheet.ink += (a.0 - b.0).hypot(a.1 - b.1);
        sheet.stretches.push(Stretch {
            a,
            b,
            id: ctx.id.clone(),
            dimension: ctx.dimension,
            edge: ctx.outline && solid && wide > 0.3,
        });
    }
}

fn steps(data: &str) -> Vec<(char, Vec<f64>)> {
    let mut out: Vec<(char, Vec<f64>)> = Vec::new();
    let mut number = String::new();
    for c in data.chars().chain(['Z']) {
        if c.is_ascii_alphabetic() || c == ' ' {
            if !number.is_empty() {
                out.last_mut().expect("a letter first").1.push(number.parse().expect("a number"));
                number.clear();
            }
            if c != ' ' {
                out.push((c, Vec::new()));
            }
        } else {
            number.push(c);
        }
    }
    out.pop();
    out
}

/// Overlaps must be deeper than this to count, mm: the SVG's own rounding.
const DEEP: f64 = 0.02;

fn shadows(q: &[P], axis: P) -> (f64, f64) {
    q.iter()
        .map(|p| p.0 * axis.0 + p.1 * axis.1)
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), d| (a.min(d), b.max(d)))
}

fn meet(a: &[P], b: &[P]) -> bool {
    let axes = |q: &[P]| -> Vec<P> {
        (0..q.len())
            .map(|i| {
                let (p, r) = (q[i], q[(i + 1) % q.len()]);
                let d = (r.0 - p.0).hypot(r.1 - p.1).max(1e-9);
                ((p.1 - r.1) / d, (r.0 - p.0) / d)
            })
            .collect()
    };
    axes(a).into_iter().chain(axes(b)).all(|axis| {
        let ((alo, ahi), (blo, bhi)) = (shadows(a, axis), shadows(b, axis));
        ahi.min(bhi) - alo.max(blo) > DEEP
    })
}

/// A very thin box round a stretch, so that one test serves both.
fn sliver(s: &Stretch) -> [P; 4] {
    let d = (s.b.0 - s.a.0).hypot(s.b.1 - s.a.1).max(1e-9);
    let (nx, ny) = (-(s.b.1 - s.a.1) / d * 0.06, (s.b.0 - s.a.0) / d * 0.06);
    [(s.a.0 + nx, s.a.1 + ny), (s.b.0 + nx, s.b.1 + ny), (s.b.0 - nx, s.b.1 - ny), (s.a.0 - nx, s.a.1 - ny)]
}

impl Sheet {
    /// Everything a careful reader would mind, each beginning with what kind it is.
    pub fn complaints(&self) -> Vec<String> {
        let kinds = [
            ("outside", self.outside.clone()),
            ("text", self.text_on_text()),
            ("line", self.text_on_dimension_line()),
            ("edge", self.text_on_edge()),
        ];
        kinds
            .into_iter()
            .flat_map(|(kind, all)| all.into_iter().map(move |s| format!("{kind}: {s}")))
            .collect()
    }
    /// Pairs of texts that overlap.
    pub fn text_on_text(&self) -> Vec<String> {
        let mut out = Vec::new();
        for (i, a) in self.words.iter().enumerate() {
            for b in &self.words[i + 1..] {
                if meet(&a.quad, &b.quad) {
                    out.push(format!("{} ({}) on {} ({})", a.text, a.id, b.text, b.id));
                }
            }
        }
        out
    }
    /// Dimension text that lies on a line of a dimension, its own included.
    pub fn text_on_dimension_line(&self) -> Vec<String> {
        self.text_on(|s| s.dimension)
    }
    /// Dimension text that lies on a visible edge.
    pub fn text_on_edge(&self) -> Vec<String> {
        self.text_on(|s| s.edge)
    }
    fn text_on(&self, which: impl Fn(&Stretch) -> bool) -> Vec<String> {
        let mut out = Vec::new();
        for w in self.words.iter().filter(|w| w.dimension) {
            for s in self.stretches.iter().filter(|s| which(s)) {
                if meet(&w.quad, &sliver(s)) {
                    let line = format!("{} ({}) on a line of {}", w.text, w.id, s.id);
                    if !out.contains(&line) {
                        out.push(line);
                    }
                }
            }
        }
        out
    }
}

/// Lengths of the level lines in a named group.
pub fn level_lines(svg: &str, id: &str) -> Vec<f64> {
    let doc = Document::parse(svg).expect("well-formed SVG");
    let group = doc.descendants().find(|n| n.attribute("data-id") == Some(id)).expect("the group");
    let mut out = Vec::new();
    for path in group.descendants().filter(|n| n.tag_name().name() == "path") {
        let points: Vec<P> =
            steps(path.attribute("d").expect("data")).into_iter().map(|(_, n)| (n[0], n[1])).collect();
        if points.len() == 2 && (points[0].1 - points[1].1).abs() < 1e-9 {
            out.push((points[1].0 - points[0].0).abs());
        }
    }
    out
}
