//! Holes, slots, recesses, grooves and tongues: what a maker needs to set them out.
//!
//! In: a sketch. Out: conventions (equal sizes, equal spacing, radial, full length), dimensions, table rows,
//! call-outs and edge sections.
//! Always true: features that are alike share one figure; a feature's identifiers come from its own name.

use crate::convention::{Convention, equal};
use crate::drawing::{Callout, Dimension, EdgeRow, EdgeSection, Look, Piece, RampView, Row, WayTable};
use crate::frame::{Frame, OriginKind, SAME};
use crate::rule::{CircleId, PointId, Rule, VarId};
use crate::sketch::{Deep, Shape, Sketch};
use core::f64::consts::{PI, TAU};
use turnleaf_parts::Face;

/// Everything the features add to a drawing.
#[derive(Default)]
pub struct Features {
    /// Statements without figures.
    pub conventions: Vec<Convention>,
    /// Figures. Indices in pieces and rows count from the start of this list.
    pub dimensions: Vec<Dimension>,
    /// Leaders.
    pub callouts: Vec<Callout>,
    /// Table rows.
    pub rows: Vec<Row>,
    /// Edge sections.
    pub sections: Vec<EdgeSection>,
    /// Stretches of edges.
    pub edges: Vec<EdgeRow>,
    /// Centre lines of curved slots.
    pub ways: Vec<WayTable>,
    /// The developed view of a slope.
    pub ramp: Option<RampView>,
}

struct Builder<'a> {
    s: &'a Sketch,
    frame: &'a Frame,
    part: &'a str,
    polar: bool,
    out: Features,
    letter: usize,
    groups: Vec<Vec<usize>>,
}

/// Letters for table rows and sections, without those that read as figures.
const LETTERS: &[u8] = b"ABCDEFGHJKLMNPRTUVWY";

fn letter(i: usize) -> String {
    let k = LETTERS.len();
    let one = |i: usize| (LETTERS[i % k] as char).to_string();
    if i < k { one(i) } else { format!("{}{}", one(i / k - 1), one(i)) }
}

fn text(words: impl Into<String>) -> Piece {
    Piece::Words(words.into())
}

/// Whether positions are better given from the centre than along two axes.
pub fn is_polar(frame: &Frame) -> bool {
    matches!(frame.origin, OriginKind::Centre | OriginKind::ArcCentre) && frame.fold != 1
        || frame.origin == OriginKind::ArcCentre
}

/// Collects the features' part of a drawing.
pub fn of(s: &Sketch, frame: &Frame, part: &str) -> Features {
    let mut b = Builder {
        s,
        frame,
        part,
        polar: is_polar(frame),
        out: Features::default(),
        letter: 0,
        groups: groups(s),
    };
    for group in b.groups.clone() {
        match &s.features[group[0]].shape {
            Shape::Hole(..) => b.holes(&group),
            Shape::Slot(..) => b.slots(&group),
            Shape::Way(..) => b.ways(&group),
            Shape::Pocket(..) => b.pockets(&group),
            Shape::Ramp(_) => b.ramps(&group),
            Shape::Edge(_) => {}
        }
    }
    b.edges();
    b.out
}

/// Features alike in name stem, kind, size and depth, in the part's order.
fn groups(s: &Sketch) -> Vec<Vec<usize>> {
    let stem = |id: &str| id.rsplit_once('/').map_or(id.to_string(), |q| q.0.to_string());
    let deep = |d: &Deep| match d {
        Deep::Through => (0.0, None),
        Deep::Blind(face, q) => (s.value(*q), Some(*face)),
    };
    let key = |i: usize| {
        let f = &s.features[i];
        let (kind, size, depth) = match &f.shape {
            Shape::Hole(c, d) => (0, vec![s.circle_at(*c).1], deep(d)),
            Shape::Slot(a, b, w, d) => (1, vec![s.value(*w), s.at(*a).dist(s.at(*b))], deep(d)),
            Shape::Pocket(lp, d) => {
                let area = s.ring(lp, &s.unknowns.iter().map(|u| u.value).collect::<Vec<_>>()).area();
                (2, vec![area], deep(d))
            }
            Shape::Way(w, d) => {
                // A copy goes with its first whatever a figure of its own says.
                let first = w.like.unwrap_or(i) as f64;
                (4, vec![first], deep(d))
            }
            Shape::Ramp(_) => (5, vec![], (0.0, None)),
            Shape::Edge(_) => (3, vec![], (0.0, None)),
        };
        (stem(&f.id), kind, size, depth)
    };
    let mut out: Vec<Vec<usize>> = Vec::new();
    for i in 0..s.features.len() {
        let k = key(i);
        let alike = out.iter().position(|g| {
            let q = key(g[0]);
            q.0 == k.0
                && q.1 == k.1
                && q.2.len() == k.2.len()
                && q.2.iter().zip(&k.2).all(|(a, b)| (a - b).abs() < SAME * (1.0 + a.abs()))
                && (q.3.0 - k.3.0).abs() < SAME
                && q.3.1 == k.3.1
        });
        match alike {
            Some(g) => out[g].push(i),
            None => out.push(vec![i]),
        }
    }
    out
}

impl Builder<'_> {
    fn dim(&mut self, id: String, rule: Rule, look: Look, words: String) -> usize {
        let id = format!("{}/dim/{id}", self.part);
        self.out.dimensions.push(Dimension { id, rule, look, reference: false, words, origin: None });
        self.out.dimensions.len() - 1
    }
    fn say(&mut self, id: String, rules: Vec<Rule>) {
        self.out.conventions.push(Convention::drawn(id, rules));
    }
    fn id(&self, i: usize) -> String {
        self.s.features[i].id.clone()
    }
    fn words(&self, i: usize) -> String {
        self.s.features[i].words.clone()
    }
    /// Name of a group: the stem shared by its members, or the first member's own name when another group has
    /// the same stem.
    fn stem(&self, group: &[usize]) -> String {
        let stem = |i: usize| {
            let id = &self.s.features[i].id;
            id.rsplit_once('/').map_or(id.clone(), |q| q.0.to_string())
        };
        let shared = self.groups.iter().filter(|g| stem(g[0]) == stem(group[0])).count() > 1;
        if group.len() == 1 || shared { self.id(group[0]) } else { stem(group[0]) }
    }

    /// Depth cell of a group, with the figure when blind; equal depths are tied.
    fn depth(&mut self, group: &[usize], look: Look) -> Vec<Piece> {
        let deep: Vec<Deep> = group
            .iter()
            .map(|&i| match &self.s.features[i].shape {
                Shape::Hole(_, d) | Shape::Slot(_, _, _, d) | Shape::Way(_, d) | Shape::Pocket(_, d) => *d,
                Shape::Ramp(_) | Shape::Edge(_) => Deep::Through,
            })
            .collect();
        let Deep::Blind(face, first) = deep[0] else { return vec![text("through")] };
        let rest: Vec<Rule> = deep[1..]
            .iter()
            .filter_map(|d| if let Deep::Blind(_, q) = d { Some(equal(first, *q)) } else { None })
            .collect();
        let (stem, words) = (self.stem(group), self.words(group[0]));
        if !rest.is_empty() {
            self.say(format!("equal-depth/{stem}"), rest);
        }
        let d = self.dim(format!("{stem}/depth"), Rule::Var(first), look, format!("the depth of {words}"));
        let from = if face == Face::Top { " deep" } else { " deep from below" };
        vec![Piece::Figure(d), text(from)]
    }

    fn label(&mut self) -> String {
        self.letter += 1;
        letter(self.letter - 1)
    }

    /// Whether points at these bearings repeat round the origin by equal turns, in the group's order or not.
    /// The order that does is returned, starting with the member nearest the datum direction.
    fn ring_order(&self, points: &[PointId]) -> Option<Vec<usize>> {
        let n = points.len();
        if n < 2 || !self.polar {
            return None;
        }
        let r = self.s.at(points[0]).norm();
        if r < SAME || points.iter().any(|p| (self.s.at(*p).norm() - r).abs() > SAME) {
            return None;
        }
        let mut order: Vec<(f64, usize)> = points
            .iter()
            .enumerate()
            .map(|(i, p)| {
                let a = self.s.at(*p).angle();
                (if a < -1e-6 { a + TAU } else { a.max(0.0) }, i)
            })
            .collect();
        order.sort_by(|a, b| a.0.total_cmp(&b.0));
        let step = TAU / n as f64;
        let fits = (0..n).all(|k| ((order[k].0 - order[0].0) - k as f64 * step).abs() * r < SAME);
        fits.then(|| order.into_iter().map(|o| o.1).collect())
    }

    /// Ties every member's points to the first member's by equal turns.
    fn spaced(&mut self, stem: &str, columns: &[Vec<PointId>]) {
        let n = columns[0].len();
        let mut rules = Vec::new();
        for column in columns {
            for k in 1..n {
                let turn = TAU * k as f64 / n as f64;
                rules.push(Rule::TurnedX(column[0], column[k], turn));
                rules.push(Rule::TurnedY(column[0], column[k], turn));
            }
        }
        self.say(format!("spaced/{stem}"), rules);
    }

    /// A bearing cell: on the centre line, or an angle from it.
    fn bearing(&mut self, id: &str, p: PointId, words: &str) -> Vec<Piece> {
        let at = self.s.at(p);
        if at.y.abs() < SAME && at.x > 0.0 {
            self.say(format!("on-line/{id}"), vec![Rule::Y(p)]);
            return vec![text("0°")];
        }
        let d = self.dim(
            format!("{id}/bearing"),
            Rule::Bearing(p),
            Look::Table,
            format!("the angle of {words} from the centre line"),
        );
        vec![Piece::Figure(d)]
    }

    /// Position cells of a single point.
    fn position(&mut self, id: &str, p: PointId, words: &str) -> [Vec<Piece>; 2] {
        let at = self.s.at(p);
        if self.polar {
            let r = self.dim(
                format!("{id}/radius"),
                Rule::FromOrigin(p),
                Look::Table,
                format!("the distance of {words} from the centre"),
            );
            return [vec![Piece::Figure(r)], self.bearing(id, p, words)];
        }
        let mut cell = |rule: Rule, value: f64, axis: &str| {
            if value.abs() < SAME {
                self.say(format!("on-{axis}/{id}"), vec![rule]);
                return vec![text("0")];
            }
            let d = self.dim(format!("{id}/{axis}"), rule, Look::Table, format!("the {axis} of {words}"));
            vec![Piece::Figure(d)]
        };
        [cell(Rule::X(p), at.x, "x"), cell(Rule::Y(p), at.y, "y")]
    }

    fn holes(&mut self, group: &[usize]) {
        let circles: Vec<CircleId> = group
            .iter()
            .filter_map(|&i| if let Shape::Hole(c, _) = self.s.features[i].shape { Some(c) } else { None })
            .collect();
        let (stem, words) = (self.stem(group), self.words(group[0]));
        let radius = |c: CircleId| self.s.circles[c.0].radius;
        let same: Vec<Rule> = circles[1..].iter().map(|c| equal(radius(circles[0]), radius(*c))).collect();
        let first_radius = radius(circles[0]);
        if !same.is_empty() {
            self.say(format!("equal/{stem}"), same);
        }
        let centres: Vec<PointId> = circles.iter().map(|c| self.s.circles[c.0].centre).collect();
        // Holes that need no position: the pins of an arm, and the hole in the middle.
        let pins = self.frame.pins.is_some_and(|(a, b)| group.iter().all(|i| *i == a || *i == b));
        let central = centres.len() == 1 && self.s.at(centres[0]).norm() < SAME;
        let rule = Rule::Twice(first_radius);
        if pins || central {
            if central && !pins {
                self.say(format!("central/{stem}"), vec![Rule::X(centres[0]), Rule::Y(centres[0])]);
            }
            let look = Look::Callout;
            let d = self.dim(format!("{stem}/diameter"), rule, look, format!("the diameter of {words}"));
            let depth = self.depth(group, look);
            let mut pieces = Vec::new();
            if group.len() > 1 {
                pieces.push(text(format!("{} × ⌀", group.len())));
            } else {
                pieces.push(text("⌀"));
            }
            pieces.push(Piece::Figure(d));
            if depth.len() > 1 {
                pieces.push(text(" × "));
                pieces.extend(depth);
            }
            self.out.callouts.push(Callout { circle: circles[0], ends: None, pieces });
            return;
        }
        let d = self.dim(format!("{stem}/diameter"), rule, Look::Table, format!("the diameter of {words}"));
        let size = vec![text("⌀"), Piece::Figure(d)];
        let depth = self.depth(group, Look::Table);
        let columns = vec![centres.clone()];
        self.rows_of(group, &stem, columns, size, depth);
    }

    /// Members that share a distance from the centre, in the order of their first member.
    fn circles_of(&self, first: &[PointId]) -> Vec<Vec<usize>> {
        let mut out: Vec<Vec<usize>> = Vec::new();
        let r = |k: usize| self.s.at(first[k]).norm();
        for k in 0..first.len() {
            match out.iter_mut().find(|g| (r(g[0]) - r(k)).abs() < SAME) {
                Some(g) => g.push(k),
                None => out.push(vec![k]),
            }
        }
        out
    }

    /// Rows for a group whose members are each fixed by the points of one place in `columns`.
    fn rows_of(
        &mut self,
        group: &[usize],
        stem: &str,
        columns: Vec<Vec<PointId>>,
        size: Vec<Piece>,
        depth: Vec<Piece>,
    ) {
        let purpose = self.s.features[group[0]].purpose.clone();
        let label = self.label();
        // Rings of equal spacing take one row each, the rest one row for every member.
        let mut rows: Vec<Vec<usize>> = Vec::new();
        for circle in self.circles_of(&columns[0]) {
            let points: Vec<PointId> = circle.iter().map(|&k| columns[0][k]).collect();
            let order: Option<Vec<usize>> =
                self.ring_order(&points).map(|o| o.into_iter().map(|i| circle[i]).collect());
            match order {
                Some(order) if self.repeats(&pick(&columns, &order)) => rows.push(order),
                _ => rows.extend(circle.into_iter().map(|k| vec![k])),
            }
        }
        let many = rows.len() > 1;
        for (n, order) in rows.iter().enumerate() {
            let first = group[order[0]];
            let sorted = pick(&columns, order);
            if order.len() > 1 {
                let tag = if many { format!("{stem}/{}", n + 1) } else { stem.to_string() };
                self.spaced(&tag, &sorted);
            }
            let firsts: Vec<PointId> = sorted.iter().map(|c| c[0]).collect();
            let [place, mut turn] = self.member(&self.id(first), &firsts, &self.words(first));
            if order.len() > 1 {
                turn.push(text(format!(", then every {}", share_of_circle(order.len()))));
            }
            let name = if many { format!("{label}{}", n + 1) } else { label.clone() };
            let like = || vec![text(format!("as {label}1"))];
            let (size, depth) = if n == 0 { (size.clone(), depth.clone()) } else { (like(), like()) };
            let members = order.iter().map(|&i| group[i]).collect();
            let cells = [size, place, turn, depth];
            self.out.rows.push(Row {
                label: name,
                count: order.len(),
                members,
                purpose: purpose.clone(),
                cells,
            });
        }
    }

    /// Whether every column repeats by the same equal turns as its first entry.
    fn repeats(&self, columns: &[Vec<PointId>]) -> bool {
        columns.iter().all(|c| {
            let n = c.len();
            (1..n).all(|k| {
                let turn = TAU * k as f64 / n as f64;
                self.s.at(c[0]).rot(turn).dist(self.s.at(c[k])) < 2.0 * SAME
            })
        })
    }

    /// Position cells of one member fixed by one point (hole) or two (slot ends).
    fn member(&mut self, id: &str, points: &[PointId], words: &str) -> [Vec<Piece>; 2] {
        if points.len() == 1 {
            return self.position(id, points[0], words);
        }
        let (a, b) = (points[0], points[1]);
        let (p, q) = (self.s.at(a), self.s.at(b));
        let radial = self.polar && p.norm() > SAME && p.cross(q).abs() < SAME * p.norm() && p.dot(q) > 0.0;
        if radial {
            let near = self.position(&format!("{id}/near"), a, &format!("the near end of {words}"));
            self.say(format!("radial/{id}"), vec![Rule::Turn(a, b)]);
            let far = self.dim(
                format!("{id}/far/radius"),
                Rule::FromOrigin(b),
                Look::Table,
                format!("the distance of the far end of {words} from the centre"),
            );
            let [mut place, turn] = near;
            place.push(text(" to "));
            place.push(Piece::Figure(far));
            return [place, turn];
        }
        let [mut x, mut y] = self.position(&format!("{id}/near"), a, &format!("the near end of {words}"));
        let [far_x, far_y] = self.position(&format!("{id}/far"), b, &format!("the far end of {words}"));
        x.push(text(" to "));
        x.extend(far_x);
        y.push(text(" to "));
        y.extend(far_y);
        [x, y]
    }

    fn slots(&mut self, group: &[usize]) {
        let parts: Vec<(PointId, PointId, VarId)> = group
            .iter()
            .filter_map(|&i| match self.s.features[i].shape {
                Shape::Slot(a, b, w, _) => Some((a, b, w)),
                _ => None,
            })
            .collect();
        let (stem, words) = (self.stem(group), self.words(group[0]));
        let same: Vec<Rule> = parts[1..].iter().map(|q| equal(parts[0].2, q.2)).collect();
        if !same.is_empty() {
            self.say(format!("equal/{stem}"), same);
        }
        let d = self.dim(
            format!("{stem}/width"),
            Rule::Var(parts[0].2),
            Look::Table,
            format!("the width of {words}"),
        );
        let size = vec![text("slot "), Piece::Figure(d), text(" wide")];
        let depth = self.depth(group, Look::Table);
        let columns = vec![parts.iter().map(|q| q.0).collect(), parts.iter().map(|q| q.1).collect()];
        self.rows_of(group, &stem, columns, size, depth);
    }
}

/// The chosen places of every column.
fn pick(columns: &[Vec<PointId>], order: &[usize]) -> Vec<Vec<PointId>> {
    columns.iter().map(|c| order.iter().map(|&i| c[i]).collect()).collect()
}

/// "60°", or a fraction of a circle where that is no whole number of half degrees.
pub fn share_of_circle(n: usize) -> String {
    let halves = 720.0 / n as f64;
    if (halves - halves.round()).abs() < 1e-9 {
        let d = halves.round() / 2.0;
        if d.fract() == 0.0 { format!("{d:.0}°") } else { format!("{d:.1}°") }
    } else {
        format!("360°/{n}")
    }
}

pub mod block;
mod edge;
mod pocket;
mod ramp;
pub mod spokes;
mod way;

/// Whether an arc of a counter-clockwise ring is a round end that stands out.
fn half_turn(sweep: f64) -> bool {
    (sweep - PI).abs() < 0.2
}
