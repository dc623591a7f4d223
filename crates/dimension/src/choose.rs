//! Choosing the dimensions of a part.
//!
//! In: a part. Out: its [`Drawing`]: datums, conventions, and just enough figures.
//! Always true: figures are offered in the order a maker wants them (overall sizes, radii, widths, then
//! positions from the datum) and one is taken only if it says something new, so none is given twice;
//! the choice depends on the part alone, not on units or paper.

use crate::convention::{self, in_first_arm};
use crate::drawing::{Callout, Dimension, Drawing, Look, Piece};
use crate::feature;
use crate::frame::{Frame, SAME};
use crate::names::Name;
use crate::rank::{Echelon, NOTHING_NEW};
use crate::rule::{CircleId, PointId, Rule, VarId};
use crate::sketch::{Loop, Sketch};
use turnleaf_geom::Vec2;
use turnleaf_geom::vec2::v;
use turnleaf_parts::Part;

/// A figure that is less new than this is left for the second round, when only what is still needed is
/// taken. Larger would prefer far-fetched figures; smaller would accept badly conditioned ones.
const CLEARLY_NEW: f64 = 0.03;

/// The two ends of the drawn part of a circle.
type Ends = Option<(PointId, PointId)>;

struct Offer {
    dim: Dimension,
    /// Circle, ends of its drawn part, how many alike.
    callout: Option<(CircleId, Ends, usize)>,
}

/// The drawing of a part, as it lies on the bench.
pub fn choose(part: &Part) -> Drawing {
    let made = part.as_made();
    let part = made.as_ref();
    let frame = Frame::of(part);
    let mut s = Sketch::of(part, &frame);
    let arm = arm_helpers(&mut s, &frame);
    let mut conventions = convention::of_outline(&s, &frame);
    if let Some(arm) = &arm {
        conventions.push(convention::Convention::drawn("arm/straight", arm.straight.clone()));
    }
    let mut features = feature::of(&s, &frame, &part.id);
    conventions.append(&mut features.conventions);
    let offers = match &arm {
        Some(arm) => arm_offers(&s, &frame, arm, &part.id),
        None => outline_offers(&s, &frame, &part.id),
    };
    let mut known = Echelon::new(s.unknowns.len());
    for rule in s.definitions.iter().chain(conventions.iter().flat_map(|c| &c.rules)) {
        known.add(&s.slopes(rule));
    }
    // The features' own figures are all wanted; they come first in the count, last in the reading order.
    // One that the outline's conventions already say is printed for reference.
    for d in &mut features.dimensions {
        // One that is for reference anyway fixes nothing.
        d.reference = d.reference || !known.add(&s.slopes(&d.rule));
    }
    let front = is_rectangle(&s);
    let thickness = Dimension {
        id: format!("{}/dim/thickness", part.id),
        rule: Rule::Var(s.thickness.unwrap_or(VarId(0))),
        look: if front {
            Look::Front
        } else if features.sections.is_empty() && features.ramp.is_none() {
            Look::Note
        } else {
            Look::Section
        },
        reference: false,
        words: "the thickness".to_string(),
        origin: None,
    };
    known.add(&s.slopes(&thickness.rule));
    let mut taken = vec![false; offers.len()];
    for least in [CLEARLY_NEW, NOTHING_NEW] {
        for (k, offer) in offers.iter().enumerate() {
            if taken[k] || offer.dim.reference {
                continue;
            }
            let slopes = s.slopes(&offer.dim.rule);
            if known.news(&slopes) > least && known.add(&slopes) {
                taken[k] = true;
            }
        }
    }
    let mut d = Drawing {
        breaks: Vec::new(),
        part: part.id.clone(),
        name: part.name.clone(),
        polar: feature::is_polar(&frame),
        grain: crate::grain::Grain::of(part, &frame),
        frame,
        sketch: s,
        conventions,
        dimensions: vec![thickness],
        callouts: Vec::new(),
        rows: Vec::new(),
        sections: Vec::new(),
        edges: Vec::new(),
        ways: Vec::new(),
        ramp: None,
        front,
        thickness: 0,
        tongue: crate::Tongue::default(),
    };
    for (k, offer) in offers.into_iter().enumerate() {
        // A reference figure is kept only when the others already say it.
        if taken[k] || (offer.dim.reference && known.news(&d.sketch.slopes(&offer.dim.rule)) <= NOTHING_NEW) {
            let index = d.dimensions.len();
            if let Some((circle, ends, count)) = offer.callout {
                d.callouts.push(Callout { circle, ends, pieces: radius_pieces(&offer.dim, index, count) });
            }
            d.dimensions.push(offer.dim);
        }
    }
    let shift = d.dimensions.len();
    let moved = |p: Piece| match p {
        Piece::Figure(i) => Piece::Figure(i + shift),
        words => words,
    };
    d.dimensions.extend(features.dimensions);
    for mut c in features.callouts {
        c.pieces = c.pieces.into_iter().map(moved).collect();
        d.callouts.push(c);
    }
    for mut r in features.rows {
        r.cells = r.cells.map(|c| c.into_iter().map(moved).collect());
        d.rows.push(r);
    }
    for mut e in features.edges {
        e.begins = e.begins.into_iter().map(moved).collect();
        e.ends = e.ends.into_iter().map(moved).collect();
        d.edges.push(e);
    }
    d.ramp = features.ramp.map(|r| crate::drawing::RampView {
        foot: r.foot + shift,
        head: r.head + shift,
        run: r.run + shift,
        slope: r.slope + shift,
        ..r
    });
    for mut w in features.ways {
        for station in &mut w.stations {
            for cell in station.iter_mut() {
                *cell = core::mem::take(cell).into_iter().map(moved).collect();
            }
        }
        d.ways.push(w);
    }
    for (k, mut q) in features.sections.into_iter().enumerate() {
        q.below = q.below.map(|i| i + shift);
        q.band += shift;
        q.depth += shift;
        q.thickness = (k == 0 && !front).then_some(0);
        d.sections.push(q);
    }
    d
}

/// Whether the outline is a rectangle along the datum axes.
fn is_rectangle(s: &Sketch) -> bool {
    let along = |q: &crate::sketch::Side| {
        let d = s.at(q.to) - s.at(q.from);
        q.arc.is_none() && (d.x.abs() < SAME || d.y.abs() < SAME)
    };
    s.sides().len() == 4 && s.sides().iter().all(along)
}

fn radius_pieces(dim: &Dimension, index: usize, count: usize) -> Vec<Piece> {
    let sign = if matches!(dim.rule, Rule::Twice(_)) { "⌀" } else { "R" };
    let many = if count > 1 { format!("{count} × {sign}") } else { sign.to_string() };
    if dim.reference {
        vec![Piece::Words(format!("({many}")), Piece::Figure(index), Piece::Words(")".into())]
    } else {
        vec![Piece::Words(many), Piece::Figure(index)]
    }
}

fn offer(part: &str, id: &str, rule: Rule, look: Look, words: String) -> Offer {
    let id = format!("{part}/dim/{id}");
    Offer { dim: Dimension { id, rule, look, reference: false, words, origin: None }, callout: None }
}

fn reference(mut o: Offer) -> Offer {
    o.dim.reference = true;
    o
}

/// Radius call-outs of the outline's arcs, one for each circle that is not a copy of an earlier one.
fn radius_offers(s: &Sketch, frame: &Frame, part: &str) -> Vec<Offer> {
    let mut out = Vec::new();
    let mut seen: Vec<(f64, Vec<Vec2>)> = Vec::new();
    for q in s.sides() {
        let Some((c, _)) = q.arc else { continue };
        let (p, r) = s.circle_at(c);
        match seen.iter_mut().find(|k| (k.0 - r).abs() < SAME) {
            Some(k) => {
                if k.1.iter().all(|o| o.dist(p) > SAME) {
                    k.1.push(p);
                }
            }
            None => seen.push((r, vec![p])),
        }
    }
    for q in s.sides() {
        let Some((c, _)) = q.arc else { continue };
        let (_, r) = s.circle_at(c);
        let middle = (s.at(q.from) + s.at(q.to)) * 0.5;
        if !in_first_arm(frame, middle) {
            continue;
        }
        let Some(k) = seen.iter().position(|k| (k.0 - r).abs() < SAME) else { continue };
        let count = seen.remove(k).1.len();
        let circle = &s.circles[c.0];
        let mut o = offer(
            part,
            &format!("radius/{}", circle.id),
            Rule::Var(circle.radius),
            Look::Callout,
            format!("the radius of {}", circle.words),
        );
        o.callout = Some((c, Some((q.from, q.to)), count));
        out.push(o);
    }
    out
}

fn outline_offers(s: &Sketch, frame: &Frame, part: &str) -> Vec<Offer> {
    if let Some(Loop::Circle(c)) = s.outline {
        let rule = Rule::Twice(s.circles[c.0].radius);
        let mut o = offer(part, "diameter/rim", rule, Look::Callout, "the diameter".to_string());
        o.callout = Some((c, None, 1));
        return vec![o];
    }
    let mut out = radius_offers(s, frame, part);
    let points: Vec<PointId> =
        s.sides().iter().map(|q| q.from).filter(|p| in_first_arm(frame, s.at(*p))).collect();
    let named = |p: PointId| (s.points[p.0].id.clone(), s.points[p.0].words.clone());
    if frame.mirror {
        let mut pairs: Vec<(PointId, PointId)> = Vec::new();
        for &p in &points {
            let at = s.at(p);
            let twin = points.iter().copied().find(|q| s.at(*q).dist(v(at.x, -at.y)) < 2.0 * SAME);
            if let (true, Some(q)) = (at.y > SAME, twin) {
                pairs.push((q, p));
            }
        }
        // Widest first; of equal widths the one farther out, which is the longer baseline.
        pairs.sort_by(|a, b| {
            let (p, q) = (s.at(a.1), s.at(b.1));
            if (p.y - q.y).abs() > SAME { q.y.total_cmp(&p.y) } else { q.x.total_cmp(&p.x) }
        });
        for (q, p) in &pairs {
            let (id, words) = named(*p);
            let id = format!("width/{}", id.trim_end_matches(['a', 'b', '-']));
            let words = format!("the width between {words} and its mirror image");
            out.push(offer(part, &id, Rule::AlongY(*q, *p), Look::Linear, words));
        }
        let mut stations: Vec<PointId> =
            points.iter().copied().filter(|p| s.at(*p).y > -SAME).chain(s.helpers.iter().copied()).collect();
        stations.sort_by(|a, b| s.at(*b).x.total_cmp(&s.at(*a).x));
        for p in stations {
            let (id, words) = named(p);
            let words = format!("the distance of {words} from the datum");
            out.push(offer(part, &format!("x/{id}"), Rule::X(p), Look::Linear, words));
        }
        out.extend(corner_angles(s, &points, part));
    }
    for &p in &points {
        let (id, words) = named(p);
        let along = format!("the distance of {words} from the datum along the datum line");
        let across = format!("the distance of {words} from the datum line");
        out.push(offer(part, &format!("x/{id}"), Rule::X(p), Look::Linear, along));
        out.push(offer(part, &format!("y/{id}"), Rule::Y(p), Look::Linear, across));
    }
    for q in s.sides() {
        let Some((c, _)) = q.arc else { continue };
        let circle = &s.circles[c.0];
        let (id, words) = named(circle.centre);
        let along = format!("the distance of {words} from the datum along the datum line");
        let across = format!("the distance of {words} from the datum line");
        out.push(offer(part, &format!("x/{id}"), Rule::X(circle.centre), Look::Linear, along));
        out.push(offer(part, &format!("y/{id}"), Rule::Y(circle.centre), Look::Linear, across));
    }
    out
}

/// Angles between straight edges at corners on the centre line, for the bevel gauge: reference only.
fn corner_angles(s: &Sketch, points: &[PointId], part: &str) -> Vec<Offer> {
    let sides = s.sides();
    let n = sides.len();
    let mut out = Vec::new();
    for i in 0..n {
        let (before, after) = (&sides[(i + n - 1) % n], &sides[i]);
        let p = after.from;
        let straight = before.arc.is_none() && after.arc.is_none();
        if !straight || !points.contains(&p) || s.at(p).y.abs() > SAME {
            continue;
        }
        let name = &s.points[p.0];
        // From the edge that leaves, counter-clockwise to the edge that arrives: the inside of a convex tip.
        let rule = Rule::Corner(p, after.to, before.from);
        let rule = if s.measure(&rule) < 0.0 { Rule::Corner(p, before.from, after.to) } else { rule };
        let words = format!("the angle at {}", name.words);
        out.push(reference(offer(part, &format!("angle/{}", name.id), rule, Look::Angle, words)));
    }
    out
}

/// Helper points of an arm.
struct Arm {
    a: PointId,
    b: PointId,
    /// Middle of the centre line, of the outer side and of the inner side.
    middle: PointId,
    outer: PointId,
    inner: PointId,
    caps: Vec<CircleId>,
    straight: Vec<Rule>,
    curves: Vec<(CircleId, PointId, PointId)>,
}

fn arm_helpers(s: &mut Sketch, frame: &Frame) -> Option<Arm> {
    let (fa, fb) = frame.pins?;
    let centre = |s: &Sketch, i: usize| match s.features[i].shape {
        crate::sketch::Shape::Hole(c, _) => Some(s.circles[c.0].centre),
        _ => None,
    };
    let (a, b) = (centre(s, fa)?, centre(s, fb)?);
    let sides = s.sides().to_vec();
    let half = s.at(b).x / 2.0;
    let is_cap = |s: &Sketch, c: CircleId| frame.pin_at(s.circle_at(c).0).is_some();
    let caps = sides.iter().filter_map(|q| q.arc.map(|c| c.0)).filter(|c| is_cap(s, *c)).collect();
    let name = |id: &str, words: &str| Name { id: id.to_string(), words: words.to_string() };
    let mut edges: Vec<(f64, PointId)> = Vec::new();
    let (mut straight, mut curves) = (Vec::new(), Vec::new());
    for q in &sides {
        match q.arc {
            Some((c, _)) if is_cap(s, c) => {}
            Some((c, sweep)) => {
                let (o, r) = s.circle_at(c);
                let dx = half - o.x;
                let up = (s.at(q.from) + s.at(q.to)) * 0.5;
                let sign = if up.y >= o.y { 1.0 } else { -1.0 };
                let y = o.y + sign * (r * r - dx * dx).max(0.0).sqrt();
                let tag = if sweep > 0.0 { "outer" } else { "inner" };
                let p = s.helper(
                    &name(&format!("middle-{tag}"), &format!("the middle of the {tag} side")),
                    v(half, y),
                    |p| vec![Rule::OffCircle(p, c), Rule::MidX(p, a, b)],
                );
                edges.push((y, p));
                curves.push((c, q.from, q.to));
            }
            None => {
                let (p, t) = (s.at(q.from), s.at(q.to));
                let y = p.y + (t.y - p.y) * (half - p.x) / (t.x - p.x);
                let tag = if y > 0.0 { "outer" } else { "inner" };
                let (from, to) = (q.from, q.to);
                let p = s.helper(
                    &name(&format!("middle-{tag}"), &format!("the middle of the {tag} side")),
                    v(half, y),
                    |p| vec![Rule::Parallel(from, to, from, p), Rule::MidX(p, a, b)],
                );
                edges.push((y, p));
            }
        }
    }
    if edges.len() != 2 {
        return None;
    }
    edges.sort_by(|p, q| p.0.total_cmp(&q.0));
    let (inner, outer) = (edges[0].1, edges[1].1);
    let y = (edges[0].0 + edges[1].0) / 2.0;
    let middle = s.helper(&name("middle", "the middle of the arm's centre line"), v(half, y), |p| {
        vec![Rule::MidX(p, a, b), Rule::Halfway(p, inner, outer)]
    });
    if y.abs() < SAME {
        straight.push(Rule::Y(middle));
    }
    Some(Arm { a, b, middle, outer, inner, caps, straight, curves })
}

fn arm_offers(s: &Sketch, frame: &Frame, arm: &Arm, part: &str) -> Vec<Offer> {
    let mut out = vec![
        offer(
            part,
            "pin-to-pin",
            Rule::AlongX(arm.a, arm.b),
            Look::Linear,
            "the distance from pin centre to pin centre".into(),
        ),
        offer(
            part,
            "bend",
            Rule::AlongY(arm.a, arm.middle),
            Look::Linear,
            "the bend: the height of the centre line above the pins".into(),
        ),
        offer(part, "width", Rule::AlongY(arm.inner, arm.outer), Look::Across, "the width of the arm".into()),
    ];
    // What the trammel is set to, and what the ends are rounded to, for the maker's convenience.
    let radius = |c: CircleId, ends, count: usize, words: String| {
        let circle = &s.circles[c.0];
        let id = format!("radius/{}", circle.id);
        let mut o = offer(part, &id, Rule::Var(circle.radius), Look::Callout, words);
        o.callout = Some((c, ends, count));
        o
    };
    for &(c, from, to) in &arm.curves {
        let words = format!("the radius of {}", s.circles[c.0].words);
        out.push(reference(radius(c, Some((from, to)), 1, words)));
    }
    if let Some(&c) = arm.caps.first() {
        let ends = s.sides().iter().find(|q| q.arc.is_some_and(|a| a.0 == c)).map(|q| (q.from, q.to));
        out.push(reference(radius(c, ends, arm.caps.len(), "the radius of the ends".into())));
    }
    // If the arm is not the plain kind, positions and radii of everything else still follow.
    out.extend(outline_offers(s, frame, part));
    out
}
