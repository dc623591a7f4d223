//! Dimension lines in lanes beside a view.
//!
//! In: linear dimensions with their anchors on paper, and the box of the view. Out: items, and their ink.
//! Always true: the first line is `first` from the view's box and each next one `next` farther; the shorter
//! of two that overlap lies nearer; extension lines of outer lanes never run through figures of inner ones;
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
    /// Whether the figure stands beside the stretch rather than over it.
    beside: bool,
    /// Everything the line occupies.
    from: f64,
    to: f64,
    lane: usize,
    /// Middle of the figure.
    figure: f64,
}

/// Lays out all dimensions of one box; returns items grouped by dimension.
pub fn lay(dims: &[Linear], min: Pt, max: Pt, style: &Style, ink: &mut Ink) -> Vec<Item> {
    let mut out = Vec::new();
    for side in Side::ALL {
        let edge = {
            let (a, b) = (side.uv(min), side.uv(max));
            a.1.max(b.1)
        };
        let mut laid: Vec<Laid> = dims.iter().filter(|d| d.side == side).map(|d| measure(d, style)).collect();
        laid.sort_by(|a, b| {
            (a.hi - a.lo).total_cmp(&(b.hi - b.lo)).then(a.lo.total_cmp(&b.lo)).then(a.dim.id.cmp(&b.dim.id))
        });
        assign(&mut laid);
        clear_figures(&mut laid, style);
        for q in &laid {
            out.push(draw(q, side, edge, style, ink));
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
    let beside = room < width + 2.0 * CLEAR;
    let tail = if outside { 2.0 * style.arrow } else { 0.0 };
    let from = lo - tail;
    let to = if beside { hi + tail.max(style.arrow) + width + 2.0 * CLEAR } else { hi + tail };
    let figure = if beside { hi + tail.max(style.arrow) + CLEAR + width / 2.0 } else { (lo + hi) / 2.0 };
    Laid { dim, lo, hi, width, outside, beside, from, to, lane: 0, figure }
}

/// Lanes from the view outwards: each goes beyond every shorter one it overlaps.
fn assign(laid: &mut [Laid]) {
    for i in 0..laid.len() {
        let mut lane = 0;
        for j in 0..i {
            if laid[j].from < laid[i].to + 1.5 && laid[i].from < laid[j].to + 1.5 {
                lane = lane.max(laid[j].lane + 1);
            }
        }
        laid[i].lane = lane;
    }
}

/// Moves figures aside from extension lines of outer lanes.
fn clear_figures(laid: &mut [Laid], style: &Style) {
    for i in 0..laid.len() {
        let crossings: Vec<f64> = laid
            .iter()
            .filter(|o| o.lane > laid[i].lane)
            .flat_map(|o| [o.lo, o.hi])
            .filter(|x| *x > laid[i].from - 1e-6 && *x < laid[i].to + 1e-6)
            .collect();
        let half = laid[i].width / 2.0 + CLEAR + style.narrow;
        let clear = |x: f64| crossings.iter().all(|c| (c - x).abs() > half);
        let middle = laid[i].figure;
        if laid[i].beside || clear(middle) {
            continue;
        }
        let room = ((laid[i].hi - laid[i].lo) / 2.0 - half).max(0.0);
        let steps = (room / 0.5) as usize;
        let found =
            (1..=steps).flat_map(|k| [middle + 0.5 * k as f64, middle - 0.5 * k as f64]).find(|x| clear(*x));
        if let Some(x) = found {
            laid[i].figure = x;
        }
    }
}

fn draw(q: &Laid, side: Side, edge: f64, style: &Style, ink: &mut Ink) -> Item {
    let v = edge + style.first + style.next * q.lane as f64;
    let at = |u: f64| side.paper(u, v);
    let mut items = Vec::new();
    for anchor in [q.dim.a, q.dim.b] {
        let (u, w) = side.uv(anchor);
        let (p, e) = (side.paper(u, w + style.gap), side.paper(u, v + style.overrun));
        items.push(pen::line(p, e, style.thin()));
        ink.line(p, e, Kind::Extension);
    }
    let (from, to) = (if q.outside { q.from } else { q.lo }, if q.beside { q.to } else { q.hi.max(q.to) });
    let (a, b) = (at(from), at(to));
    items.push(pen::line(a, b, style.thin()));
    ink.line(a, b, Kind::Dimension);
    let sign = if q.outside { -1.0 } else { 1.0 };
    for (u, way) in [(q.lo, -sign), (q.hi, sign)] {
        let (tip, ahead) = (at(u), at(u + way));
        items.push(pen::arrow(tip, ahead.x - tip.x, ahead.y - tip.y, style.arrow));
    }
    // Text stands above its line, its descenders clear of it.
    let base = side.paper(q.figure, v + side.above() * style.lift());
    ink.text(&Label { at: base, width: q.width, cap: style.cap, turn: side.turn() });
    items.push(pen::text(base, style, &q.dim.text, side.turn()));
    Item::Group { role: Role::Dimension, origin: q.dim.origin, id: Some(q.dim.id.clone()), items }
}
