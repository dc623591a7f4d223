//! The front view of a part with a rectangular outline.
//!
//! In: a drawing whose plan is already placed. Out: the part seen from the front (towards its datum line from
//! the right), in line with the plan, with its thickness.
//! Always true: in first angle the view stands beyond the plan, in third angle before it; what another face
//! hides is dashed.

use super::View;
use super::ink::{Ink, Kind};
use super::lanes::{self, Linear, Side};
use super::pen::{self, Style};
use super::view::{break_lines, unbroken};
use crate::drawing::{Drawing, Look};
use crate::frame::SAME;
use crate::printed::Figure;
use crate::sketch::{Deep, Shape};
use turnleaf_geom::vec2::v;
use turnleaf_geom::{Seg, Vec2};
use turnleaf_page::{Item, Pt, Role, Step, pt};
use turnleaf_parts::Face;

/// Clear space between the plan's dimensions and the front view, mm.
const APART: f64 = 13.0;

/// A rectangle of the view: x range, height range, how it is seen.
struct Band {
    x: (f64, f64),
    z: (f64, f64),
    kind: Kind,
}

/// Draws the front view.
pub fn draw(
    d: &Drawing,
    figures: &[Figure],
    view: &View,
    style: &Style,
    ink: &mut Ink,
    items: &mut Vec<Item>,
) {
    let s = &d.sketch;
    let thickness = s.thickness.map_or(0.0, |t| s.value(t));
    let corners: Vec<Vec2> = s.sides().iter().map(|q| s.at(q.from)).collect();
    let (lo, hi) = corners.iter().fold((v(f64::MAX, f64::MAX), v(f64::MIN, f64::MIN)), |(lo, hi), p| {
        (v(lo.x.min(p.x), lo.y.min(p.y)), v(hi.x.max(p.x), hi.y.max(p.y)))
    });
    let Some((min, max)) = turnleaf_text::bounds(items) else { return };
    // How far the plan and its lanes reach on the side where the view goes, as a model ordinate y.
    let edge = |p: Pt| if view.quarter { -p.x } else { -p.y } / view.scale;
    let apart = APART / view.scale;
    let bottom = if view.first_angle {
        edge(min).max(edge(max)) + apart
    } else {
        edge(min).min(edge(max)) - apart - thickness
    };
    let place = |x: f64, z: f64| view.place(v(x, bottom + z));
    let mut bands: Vec<Band> = Vec::new();
    for f in &s.features {
        let z_of = |deep: &Deep| match deep {
            Deep::Through => (0.0, thickness),
            Deep::Blind(Face::Top, q) => (thickness - s.value(*q), thickness),
            Deep::Blind(Face::Bottom, q) => (0.0, s.value(*q)),
        };
        match &f.shape {
            Shape::Hole(c, deep) => {
                let (p, r) = s.circle_at(*c);
                bands.push(Band { x: (p.x - r, p.x + r), z: z_of(deep), kind: Kind::Hidden });
            }
            Shape::Slot(a, b, w, deep) => {
                let (a, b, r) = (s.at(*a).x, s.at(*b).x, s.value(*w) / 2.0);
                bands.push(Band { x: (a.min(b) - r, a.max(b) + r), z: z_of(deep), kind: Kind::Hidden });
            }
            Shape::Way(w, deep) => {
                let values: Vec<f64> = s.unknowns.iter().map(|u| u.value).collect();
                let (a, b) = s.way_ring(w, &values).bounds();
                bands.push(Band { x: (a.x, b.x), z: z_of(deep), kind: Kind::Hidden });
            }
            Shape::Pocket(lp, deep) => {
                let values: Vec<f64> = s.unknowns.iter().map(|u| u.value).collect();
                let (a, b) = s.ring(lp, &values).bounds();
                bands.push(Band { x: (a.x, b.x), z: z_of(deep), kind: Kind::Hidden });
            }
            Shape::Ramp(_) => {}
            Shape::Edge(e) => {
                let (base, tip) = (s.at(e.base), s.at(e.tip));
                let (near, far, depth) = (s.value(e.near), s.value(e.far), s.value(e.depth));
                let z = (s.value(e.z0), s.value(e.z1));
                if (base.y - tip.y).abs() < SAME {
                    let way = (tip.x - base.x).signum();
                    let (a, b) = (base.x + way * near, base.x + way * far);
                    let kind = if base.y < (lo.y + hi.y) / 2.0 { Kind::Outline } else { Kind::Hidden };
                    bands.push(Band { x: (a.min(b), a.max(b)), z, kind });
                } else {
                    // On an end: a tongue stands out of it, a groove shows as a hidden line inside.
                    let out = if base.x > (lo.x + hi.x) / 2.0 { 1.0 } else { -1.0 };
                    let to = base.x + out * if e.tongue { depth } else { -depth };
                    let kind = if e.tongue { Kind::Outline } else { Kind::Hidden };
                    bands.push(Band { x: (base.x.min(to), base.x.max(to)), z, kind });
                }
            }
        }
    }
    // A hidden band behind a visible one of the same shape adds nothing.
    let seen: Vec<((f64, f64), (f64, f64))> =
        bands.iter().filter(|b| b.kind == Kind::Outline).map(|b| (b.x, b.z)).collect();
    let same = |a: (f64, f64), b: (f64, f64)| (a.0 - b.0).abs() < SAME && (a.1 - b.1).abs() < SAME;
    bands.retain(|b| b.kind == Kind::Outline || !seen.iter().any(|o| same(o.0, b.x) && same(o.1, b.z)));
    bands.push(Band { x: (lo.x, hi.x), z: (0.0, thickness), kind: Kind::Outline });
    let mut drawn = Vec::new();
    let (mut least, mut most) = (pt(f64::MAX, f64::MAX), pt(f64::MIN, f64::MIN));
    for b in &bands {
        let corners = [v(b.x.0, b.z.0), v(b.x.1, b.z.0), v(b.x.1, b.z.1), v(b.x.0, b.z.1)];
        let sides: Vec<Seg> = (0..4).map(|k| Seg::Line(corners[k], corners[(k + 1) % 4])).collect();
        let stroke = if b.kind == Kind::Outline { style.visible() } else { style.hidden() };
        let runs = unbroken(&sides, true, &d.breaks);
        let whole = runs.len() == 1;
        for run in runs {
            let mut steps = pen::open_steps(&run, &|p| place(p.x, p.y));
            if whole {
                // Closing draws the last side.
                steps.pop();
                steps.push(Step::Close);
            }
            drawn.push(Item::Path { steps, stroke: Some(stroke.clone()), fill: None });
            for s in &run {
                let (p, q) = (place(s.start().x, s.start().y), place(s.end().x, s.end().y));
                ink.line(p, q, b.kind);
                for p in [p, q] {
                    least = pt(least.x.min(p.x), least.y.min(p.y));
                    most = pt(most.x.max(p.x), most.y.max(p.y));
                }
            }
        }
    }
    drawn.extend(break_lines(&d.breaks, (bottom, bottom + thickness), view, style, ink));
    items.push(Item::Group {
        role: Role::Outline,
        origin: None,
        id: Some(format!("{}/front", d.part)),
        items: drawn,
    });
    let dim = &d.dimensions[d.thickness];
    if dim.look == Look::Front {
        let side = if view.quarter { Side::Bottom } else { Side::Right };
        let x = if view.quarter { lo.x } else { hi.x };
        let linear = Linear {
            id: dim.id.clone(),
            origin: dim.origin,
            text: figures[d.thickness].text(),
            a: place(x, 0.0),
            b: place(x, thickness),
            side,
        };
        items.extend(lanes::lay(&[linear], least, most, style, ink));
    }
}
