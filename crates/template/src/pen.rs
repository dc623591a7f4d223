//! Lines and letters of templates.
//!
//! In: points on paper. Out: page items.
//! Always true: line types are those of ISO 128-2 (continuous, dashed 12 : 3, long-dashed dotted 24 : 3,
//! long-dashed double-dotted), wide to narrow as 2 to 1; thin lines of the series 0.35 / 0.18, because a knife
//! follows a thin line more closely than a thick one.

use turnleaf_geom::{Arc, Seg, Vec2, trig};
use turnleaf_page::{Anchor, Face, Item, Pt, Role, Step, Stroke, Text, pt};
use turnleaf_text::{size_for_cap_height, width};

/// What a line means.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// Cut right through: outline and openings.
    Cut,
    /// A step seen from above: recess from the upper face, tongue.
    Near,
    /// Not seen from above: recess from the lower face, groove in an edge.
    Far,
    /// Centre line or centre mark.
    Centre,
    /// Where two tiles meet.
    Join,
}

/// Width of visible edges, mm.
pub const WIDE: f64 = 0.35;
/// Width of all other lines, mm.
pub const NARROW: f64 = 0.18;
/// Height of capitals and figures on the part, mm (ISO 3098 series).
pub const CAP: f64 = 2.5;
/// Height of capitals and figures in the margins, mm.
pub const SMALL: f64 = 1.8;

/// The pen for a line.
pub fn pen(kind: Kind) -> Stroke {
    let d = NARROW;
    let (width, dash) = match kind {
        Kind::Cut => (WIDE, vec![]),
        Kind::Near => (d, vec![]),
        Kind::Far => (d, vec![12.0 * d, 3.0 * d]),
        Kind::Centre => (d, vec![24.0 * d, 3.0 * d, d, 3.0 * d]),
        Kind::Join => (d, vec![24.0 * d, 3.0 * d, d, 3.0 * d, d, 3.0 * d]),
    };
    Stroke { round: dash.is_empty(), dash, ..Stroke::solid(width) }
}

/// A narrow continuous pen with square ends.
pub fn thin() -> Stroke {
    Stroke { round: false, ..Stroke::solid(NARROW) }
}

/// A straight line.
pub fn line(a: Pt, b: Pt, stroke: Stroke) -> Item {
    Item::Path { steps: vec![Step::Move(a), Step::Line(b)], stroke: Some(stroke), fill: None }
}

/// A rectangle.
pub fn rect(min: Pt, max: Pt, stroke: Stroke) -> Item {
    let steps = vec![
        Step::Move(min),
        Step::Line(pt(max.x, min.y)),
        Step::Line(max),
        Step::Line(pt(min.x, max.y)),
        Step::Close,
    ];
    Item::Path { steps, stroke: Some(stroke), fill: None }
}

/// Text with capitals of a height.
pub fn text(at: Pt, cap: f64, words: &str, face: Face, anchor: Anchor) -> Text {
    Text::new(at, size_for_cap_height(cap), words).face(face).anchor(anchor)
}

/// The same as an item.
pub fn words(at: Pt, cap: f64, text_: &str, face: Face, anchor: Anchor) -> Item {
    Item::Text(text(at, cap, text_, face, anchor))
}

/// Text cut short, with a mark of omission, to what fits into `room` mm.
pub fn fitted(at: Pt, cap: f64, words_: &str, face: Face, room: f64) -> Item {
    let size = size_for_cap_height(cap);
    let mut kept = words_.to_string();
    let mut shown = kept.clone();
    // One character goes each time, so this ends.
    while width(&shown, size, face) > room && kept.pop().is_some() {
        shown = format!("{}…", kept.trim_end());
    }
    words(at, cap, &shown, face, Anchor::Start)
}

/// A group.
pub fn group(role: Role, id: impl Into<String>, items: Vec<Item>) -> Item {
    Item::Group { role, origin: None, id: Some(id.into()), items }
}

/// Adds an edge to a path whose pen is already at the edge's first point. Arcs become cubics of at most 22.5°,
/// which stray from them by less than 7e-8 of the radius.
pub fn push(seg: &Seg, place: &dyn Fn(Vec2) -> Pt, out: &mut Vec<Step>) {
    match seg {
        Seg::Line(_, b) => out.push(Step::Line(place(*b))),
        Seg::Arc(arc) => push_arc(arc, place, out),
    }
}

fn push_arc(arc: &Arc, place: &dyn Fn(Vec2) -> Pt, out: &mut Vec<Step>) {
    let pieces = ((arc.sweep.abs() / (core::f64::consts::PI / 8.0)).ceil() as usize).max(1);
    let sweep = arc.sweep / pieces as f64;
    let k = 4.0 / 3.0 * trig::tan(sweep / 4.0) * arc.radius;
    for i in 0..pieces {
        let a = arc.start + sweep * i as f64;
        let b = a + sweep;
        let (p, q) = (arc.centre + Vec2::polar(arc.radius, a), arc.centre + Vec2::polar(arc.radius, b));
        let (u, w) = (Vec2::polar(1.0, a).perp(), Vec2::polar(1.0, b).perp());
        out.push(Step::Cubic(place(p + u * k), place(q - w * k), place(q)));
    }
}

/// A path of edges; a new stretch begins where an edge does not begin at the end of the one before.
pub fn path(segs: &[Seg], place: &dyn Fn(Vec2) -> Pt, stroke: Stroke) -> Option<Item> {
    let mut steps = Vec::new();
    let mut end: Option<Vec2> = None;
    for seg in segs {
        if end.is_none_or(|e| e.dist(seg.start()) > 1e-7) {
            steps.push(Step::Move(place(seg.start())));
        }
        push(seg, place, &mut steps);
        end = Some(seg.end());
    }
    (!steps.is_empty()).then_some(Item::Path { steps, stroke: Some(stroke), fill: None })
}
