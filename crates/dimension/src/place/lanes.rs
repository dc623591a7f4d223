//! Dimension lines in lanes beside a view.
//!
//! In: linear dimensions with their anchors on paper, and the box of the view. Out: items, and their ink.
//! Always true: the first line is `first` from the view's box and each next one `next` farther; the shorter
//! of two that overlap lies nearer; extension lines of outer lanes never run through figures of inner ones;
//! of a long figure in two units that has no room over its line the second stands below the line;
//! the order depends only on lengths and names, so a small change of size keeps it.

use super::ink::{CLEAR, Ink, Kind, Label};
use super::pen::{self, Style};
use turnleaf_diag::Origin;
use turnleaf_page::{Item, Pt, Role, pt};

/// A side of the view.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Side {
    /// Below.
    Bottom,
    /// Right.
    Right,
    /// Above.
    Top,
    /// Left.
    Left,
}

impl Side {
    /// All sides.
    pub const ALL: [Side; 4] = [Side::Bottom, Side::Right, Side::Top, Side::Left];
    /// Whether dimension lines on this side run level.
    pub fn level(self) -> bool {
        matches!(self, Side::Bottom | Side::Top)
    }
    /// Along the line (reading direction) and away from the view.
    fn uv(self, p: Pt) -> (f64, f64) {
        match self {
            Side::Bottom => (p.x, p.y),
            Side::Top => (p.x, -p.y),
            Side::Right => (-p.y, p.x),
            Side::Left => (-p.y, -p.x),
        }
    }
    fn paper(self, u: f64, v: f64) -> Pt {
        match self {
            Side::Bottom => pt(u, v),
            Side::Top => pt(u, -v),
            Side::Right => pt(v, -u),
            Side::Left => pt(-v, -u),
        }
    }
    /// Direction in which text stands above its line: away from the view (1) or towards it (-1).
    fn above(self) -> f64 {
        if matches!(self, Side::Top | Side::Left) { 1.0 } else { -1.0 }
    }
    fn turn(self) -> f64 {
        if self.level() { 0.0 } else { 90.0 }
    }
}

/// A dimension between two points, measured along a side.
#[derive(Clone, Debug, PartialEq)]
pub struct Linear {
    /// Identifier of the dimension.
    pub id: String,
    /// The size or rule behind it.
    pub origin: Option<Origin>,
    /// Printed text.
    pub text: String,
    /// First anchor, paper.
    pub a: Pt,
    /// Second anchor, paper.
    pub b: Pt,
    /// Where it goes.
    pub side: Side,
}

struct Laid<'a> {
    dim: &'a Linear,
    /// Measured stretch.
    lo: f64,
    hi: f64,
    width: f64,
    /// Whether the arrows point inwards from outside.
    outside: bool,
    /// Whether the figure has no room over the stretch and stands beside it.
    beside: bool,
    /// What stands above the line and what below it.
    texts: (&'a str, Option<&'a str>),
    /// Everything the line is expected to occupy.
    from: f64,
    to: f64,
    lane: usize,
}

/// Lays out all dimensions of one box; returns items grouped by dimension.
pub fn lay(dims: &[Linear], min: Pt, max: Pt, style: &Style, ink: &mut Ink) -> Vec<Item> {
    let mut all: Vec<(Side, f64, Vec<Laid>)> = Vec::new();
    for side in Side::ALL {
        let (a, b) = (side.uv(min), side.uv(max));
        let mut laid: Vec<Laid> = dims.iter().filter(|d| d.side == side).map(|d| measure(d, style)).collect();
        laid.sort_by(|a, b| {
            (a.hi - a.lo).total_cmp(&(b.hi - b.lo)).then(a.lo.total_cmp(&b.lo)).then(a.dim.id.cmp(&b.dim.id))
        });
        assign(&mut laid);
        all.push((side, a.1.max(b.1), laid));
    }
    // All lines first: every figure has to keep clear of all of them, whichever side it is on.
    for (side, edge, laid) in &all {
        for q in laid {
            for (p, e) in extensions(q, *side, *edge, style) {
                ink.line(p, e, Kind::Extension);
            }
            let v = line_at(q, *edge, style);
            let tail = if q.outside { 2.0 * style.arrow } else { 0.0 };
            ink.line(side.paper(q.lo - tail, v), side.paper(q.hi + tail, v), Kind::Dimension);
        }
    }
    let mut out = Vec::new();
    for (side, edge, laid) in &all {
        for q in laid {
            out.push(draw(q, *side, *edge, style, ink));
        }
    }
    out
}

fn measure<'a>(dim: &'a Linear, style: &Style) -> Laid<'a> {
    let (a, b) = (dim.side.uv(dim.a).0, dim.side.uv(dim.b).0);
    let (lo, hi) = (a.min(b), a.max(b));
    let width = style.width(&dim.text);
    let room = hi - lo;
    let outside = room < 2.0 * style.arrow + 1.0;
    let mut beside = room < width + 2.0 * CLEAR + 0.4;
    let mut texts = (dim.text.as_str(), None);
    let mut width = width;
    if let Some((main, second)) = second_unit(&dim.text).filter(|_| beside && width > LONG) {
        width = style.width(main).max(style.width(second));
        beside = room < width + 2.0 * CLEAR + 0.4;
        texts = (main, Some(second));
    }
    let tail = if outside { 2.0 * style.arrow } else { 0.0 };
    let to = if beside { hi + tail.max(style.arrow) + width + 2.0 * CLEAR } else { hi + tail };
    Laid { dim, lo, hi, width, outside, beside, texts, from: lo - tail, to, lane: 0 }
}

/// A figure in two units longer than this is set above and below the line, mm.
const LONG: f64 = 30.0;

/// A figure in two units parted before the bracket of the second.
fn second_unit(text: &str) -> Option<(&str, &str)> {
    let at = text.find(" [")?;
    Some((&text[..at], &text[at + 1..]))
}

/// Lanes from the view outwards, the first line in the first of them: each goes beyond every shorter one it overlaps.
fn assign(laid: &mut [Laid]) {
    for i in 1..laid.len() {
        let mut lane = 0;
        for j in 0..i {
            if laid[j].from < laid[i].to + 1.5 && laid[i].from < laid[j].to + 1.5 {
                // Figures on both sides of a line take the next lane as well.
                let both = usize::from(laid[j].texts.1.is_some() || laid[i].texts.1.is_some());
                lane = lane.max(laid[j].lane + 1 + both);
            }
        }
        laid[i].lane = lane;
    }
}

/// The dimension line's distance in the side's own terms.
fn line_at(q: &Laid, edge: f64, style: &Style) -> f64 {
    edge + style.first + style.next * q.lane as f64
}

fn extensions(q: &Laid, side: Side, edge: f64, style: &Style) -> [(Pt, Pt); 2] {
    let v = line_at(q, edge, style);
    [q.dim.a, q.dim.b].map(|anchor| {
        let (u, w) = side.uv(anchor);
        (side.paper(u, w + style.gap), side.paper(u, v + style.overrun))
    })
}

/// Places for the middle of the figure, the usual one first: over the stretch, or beside it on either end.
fn places(q: &Laid, style: &Style) -> Vec<f64> {
    let half = q.width / 2.0 + CLEAR;
    let mut out = Vec::new();
    if !q.beside {
        let middle = (q.lo + q.hi) / 2.0;
        let room = (q.hi - q.lo) / 2.0 - half;
        out.push(middle);
        let mut shift = 0.5;
        while shift <= room {
            out.extend([middle + shift, middle - shift]);
            shift += 0.5;
        }
    }
    let tail = if q.outside { 2.0 * style.arrow } else { style.arrow };
    // The farther ones reach beyond the extension lines of a longer dimension.
    for k in 0..=36 {
        let far = tail + half + 1.5 * f64::from(k);
        out.extend([q.hi + far, q.lo - far]);
    }
    out
}

fn draw(q: &Laid, side: Side, edge: f64, style: &Style, ink: &mut Ink) -> Item {
    let v = line_at(q, edge, style);
    let at = |u: f64| side.paper(u, v);
    let mut items: Vec<Item> =
        extensions(q, side, edge, style).into_iter().map(|(p, e)| pen::line(p, e, style.thin())).collect();
    let tail = if q.outside { 2.0 * style.arrow } else { 0.0 };
    let half = q.width / 2.0 + CLEAR;
    let reach = |x: f64| ((q.lo - tail).min(x - half), (q.hi + tail).max(x + half));
    // Text stands above its line, its descenders clear of it.
    let label = |x: f64| Label {
        at: side.paper(x, v + side.above() * style.lift()),
        width: style.width(q.texts.0),
        cap: style.cap,
        turn: side.turn(),
        tail: true,
    };
    let lower = |x: f64| {
        let at = side.paper(x, v - side.above() * (style.cap + 0.8));
        q.texts.1.map(|t| Label { at, width: style.width(t), ..label(x) })
    };
    let mut best: Option<(f64, f64)> = None;
    for (k, x) in places(q, style).into_iter().enumerate() {
        let (from, to) = reach(x);
        // Only the part of the line that the figure adds; the rest is already there.
        let added = if x > q.hi { (q.hi + tail + 0.1, to) } else { (from, q.lo - tail - 0.1) };
        let lines = if x > q.lo && x < q.hi { 0.0 } else { ink.line_cost(at(added.0), at(added.1)) };
        let below = lower(x).map_or(0.0, |l| ink.text_cost(&l));
        let cost = ink.text_cost(&label(x)) + below + lines + k as f64 * 0.4;
        if best.is_none_or(|b| cost < b.0 - 1e-9) {
            best = Some((cost, x));
        }
    }
    let figure = best.map_or((q.lo + q.hi) / 2.0, |b| b.1);
    let inside = figure > q.lo && figure < q.hi;
    let (from, to) = if inside { (q.lo - tail, q.hi + tail) } else { reach(figure) };
    let (a, b) = (at(from), at(to));
    items.push(pen::line(a, b, style.thin()));
    ink.line(a, b, Kind::Dimension);
    let sign = if q.outside { -1.0 } else { 1.0 };
    for (u, way) in [(q.lo, -sign), (q.hi, sign)] {
        let (tip, ahead) = (at(u), at(u + way));
        items.push(pen::arrow(tip, ahead.x - tip.x, ahead.y - tip.y, style.arrow));
    }
    let labels = [Some(label(figure)), lower(figure)];
    for (label, text) in labels.into_iter().flatten().zip([Some(q.texts.0), q.texts.1].into_iter().flatten())
    {
        ink.text(&label);
        items.push(pen::text(label.at, style, text, side.turn()));
    }
    Item::Group { role: Role::Dimension, origin: q.dim.origin, id: Some(q.dim.id.clone()), items }
}
