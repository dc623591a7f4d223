//! What a template shows of a part.
//!
//! In: a part. Out: lines by kind, and notes with the ring they speak of, in the part's frame at full size.
//! Always true: the outline and every feature of the part is there once; what is cut through is continuous
//! wide, steps seen from above continuous narrow, what is hidden dashed.

use crate::options::TemplateOptions;
use crate::pen::Kind;
use crate::words::Words;
use turnleaf_geom::{Ring, Seg, Vec2, vec2::v};
use turnleaf_parts::shapes::curved_slot;
use turnleaf_parts::{Depth, Face, FeatureKind, Part};

/// Lines of one thing.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// What they mean.
    pub kind: Kind,
    /// Stable name within the part: "outline", "opening/ID", "step/ID", "hidden/ID", "centre/ID", "axis".
    pub id: String,
    /// The edges in order.
    pub segs: Vec<Seg>,
}

/// Words that belong to a ring.
#[derive(Clone, Debug, PartialEq)]
pub struct Note {
    /// What they say.
    pub text: String,
    /// The ring they speak of.
    pub ring: Ring,
    /// A round hole: centre and radius.
    pub hole: Option<(Vec2, f64)>,
}

/// A part ready to be tiled.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawn {
    /// Lines; the first is the outline.
    pub lines: Vec<Line>,
    /// Notes.
    pub notes: Vec<Note>,
    /// Box around everything that must be shown.
    pub lo: Vec2,
    /// Its greatest corner.
    pub hi: Vec2,
}

impl Drawn {
    /// Lines that decide which tiles are needed: everything but centre lines.
    pub fn needed(&self) -> impl Iterator<Item = &Line> {
        self.lines.iter().filter(|l| l.kind != Kind::Centre)
    }
}

/// Half a centre mark of a large hole, mm: enough to strike a centre, far less than a hole's own lines.
const MARK: f64 = 6.0;
/// How far centre lines pass what they belong to, mm (ISO 128-2: a few mm).
const PAST: f64 = 2.0;

/// Everything a template shows of a part.
pub fn drawn(part: &Part, options: &TemplateOptions) -> Drawn {
    let words = Words::of(&options.language);
    let outline: Vec<Seg> = part.outline.segs().collect();
    let mut lines = vec![Line { kind: Kind::Cut, id: "outline".into(), segs: outline }];
    let mut notes = Vec::new();
    let mut centres = Vec::new();
    for f in &part.features {
        let (ring, depth) = match &f.kind {
            FeatureKind::Hole { centre, diameter, depth } => (Ring::circle(*centre, diameter / 2.0), *depth),
            FeatureKind::Slot { a, b, width, depth } => (Ring::slot(*a, *b, width / 2.0), *depth),
            FeatureKind::CurvedSlot { way, width, depth } => (curved_slot(way, width / 2.0), *depth),
            FeatureKind::Pocket { ring, depth } => (ring.clone(), *depth),
            FeatureKind::Ramp { .. } => continue,
            FeatureKind::EdgeGroove { edge, from, to, depth, .. } => {
                let segs = strip(&part.outline, *edge, *from, *to, -depth);
                lines.push(Line { kind: Kind::Far, id: format!("hidden/{}", f.id), segs });
                continue;
            }
            FeatureKind::EdgeTongue { edge, from, to, depth, .. } => {
                let segs = strip(&part.outline, *edge, *from, *to, *depth);
                lines.push(Line { kind: Kind::Near, id: format!("step/{}", f.id), segs });
                continue;
            }
        };
        let (kind, word) = match depth {
            Depth::Through => (Kind::Cut, "opening"),
            Depth::Blind(Face::Top, _) => (Kind::Near, "step"),
            Depth::Blind(Face::Bottom, _) => (Kind::Far, "hidden"),
        };
        lines.push(Line { kind, id: format!("{word}/{}", f.id), segs: ring.segs().collect() });
        let deep = match depth {
            Depth::Through => None,
            Depth::Blind(face, d) => Some(words.deep(&options.figure(d), face == Face::Bottom)),
        };
        let id = format!("centre/{}", f.id);
        let mut hole = None;
        let mut said = deep.clone();
        match &f.kind {
            FeatureKind::Hole { centre, diameter, .. } => {
                hole = Some((*centre, diameter / 2.0));
                let size = format!("⌀{}", options.figure(*diameter));
                said = Some(match deep {
                    Some(deep) => format!("{size}, {deep}"),
                    None => size,
                });
                centres.push(Line { kind: Kind::Centre, id, segs: mark(*centre, diameter / 2.0) });
            }
            FeatureKind::CurvedSlot { way, width, .. } => {
                let size = words.wide(&options.figure(*width));
                said = Some(match deep {
                    Some(deep) => format!("{size}, {deep}"),
                    None => size,
                });
                let segs = way.windows(2).map(|q| Seg::between(q[0], q[1].p)).collect();
                centres.push(Line { kind: Kind::Centre, id, segs });
            }
            FeatureKind::Slot { a, b, width, .. } => {
                let size = words.wide(&options.figure(*width));
                said = Some(match deep {
                    Some(deep) => format!("{size}, {deep}"),
                    None => size,
                });
                let along = (*b - *a).unit();
                let reach = width / 2.0 + PAST;
                let mut segs = vec![Seg::Line(*a - along * reach, *b + along * reach)];
                for end in [*a, *b] {
                    segs.push(Seg::Line(end - along.perp() * reach, end + along.perp() * reach));
                }
                centres.push(Line { kind: Kind::Centre, id, segs });
            }
            _ => {}
        }
        if let Some(text) = said {
            notes.push(Note { text, ring, hole });
        }
    }
    let (mut lo, mut hi) = part.outline.bounds();
    for p in lines.iter().flat_map(|l| &l.segs).flat_map(|s| [s.start(), s.end()]) {
        lo = v(lo.x.min(p.x), lo.y.min(p.y));
        hi = v(hi.x.max(p.x), hi.y.max(p.y));
    }
    lines.extend(axes(part, lo, hi));
    lines.extend(centres);
    Drawn { lines, notes, lo, hi }
}

/// The lines of a groove (negative depth) or a tongue on a straight edge: in or out, along, and back.
fn strip(outline: &Ring, edge: usize, from: f64, to: f64, depth: f64) -> Vec<Seg> {
    let Some(Seg::Line(a, b)) = outline.segs().nth(edge) else { return Vec::new() };
    let along = (b - a).unit();
    let out = along.perp() * -depth;
    let (p, q) = (a + along * from, a + along * to);
    vec![Seg::Line(p, p + out), Seg::Line(p + out, q + out), Seg::Line(q + out, q)]
}

/// A cross in the centre of a hole: over the whole of a small hole, short in a large one.
fn mark(c: Vec2, r: f64) -> Vec<Seg> {
    let arm = if r + PAST <= 2.0 * MARK { r + PAST } else { MARK };
    [v(arm, 0.0), v(0.0, arm)].into_iter().map(|d| Seg::Line(c - d, c + d)).collect()
}

/// Centre lines of an outline that is its own mirror image in the part's x or y axis.
fn axes(part: &Part, lo: Vec2, hi: Vec2) -> Vec<Line> {
    const SAME: f64 = 1e-6;
    // Corners and the middles of edges say whether a ring of lines and arcs is symmetric.
    let points: Vec<Vec2> = part
        .outline
        .segs()
        .flat_map(|s| {
            let middle = match s {
                Seg::Line(a, b) => a.lerp(b, 0.5),
                Seg::Arc(arc) => arc.at(0.5),
            };
            [s.start(), middle]
        })
        .collect();
    let symmetric = |mirror: &dyn Fn(Vec2) -> Vec2| {
        points.iter().all(|p| points.iter().any(|q| q.dist(mirror(*p)) < SAME))
    };
    let mut out = Vec::new();
    let mut axis = |id: &str, a: Vec2, b: Vec2| {
        out.push(Line { kind: Kind::Centre, id: id.into(), segs: vec![Seg::Line(a, b)] });
    };
    if lo.y < 0.0 && hi.y > 0.0 && symmetric(&|p| v(p.x, -p.y)) {
        axis("axis/x", v(lo.x - PAST, 0.0), v(hi.x + PAST, 0.0));
    }
    if lo.x < 0.0 && hi.x > 0.0 && symmetric(&|p| v(-p.x, p.y)) {
        axis("axis/y", v(0.0, lo.y - PAST), v(0.0, hi.y + PAST));
    }
    out
}
