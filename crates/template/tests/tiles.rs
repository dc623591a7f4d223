//! Finished tiles, read back from their SVG and put together again.
//!
//! The reader below knows only what the files say (paths by kurbo, XML by roxmltree: general libraries); the
//! expected lengths are the definition of the inch (25.4 mm, international agreement of 1959) and elementary
//! geometry; the outline compared with is the part's own, by formulas of this file.
// A check shares no code with what it checks, so the platform's own functions are wanted here.
#![allow(clippy::disallowed_methods)]

use kurbo::{BezPath, PathEl, Point, Rect, Shape};
use roxmltree::{Document, Node};
use std::collections::BTreeMap;
use turnleaf_geom::Seg;
use turnleaf_mechanism::{Opening, Sizes, solve};
use turnleaf_page::{Page, Paper};
use turnleaf_parts::{Part, assemble};
use turnleaf_svg::page_svg;
use turnleaf_template::{TemplateOptions, templates};
use turnleaf_units::{Denominator, InchPrint, PrintUnits};

/// A piece of text where it stands (box of its capitals) and the group it belongs to.
struct Words {
    text: String,
    id: String,
    at: Rect,
}

/// What a tile's file says.
#[derive(Default)]
struct Tile {
    /// Paths with pen width and group.
    paths: Vec<(BezPath, f64, String)>,
    words: Vec<Words>,
    size: (f64, f64),
}

fn attr(n: Node, name: &str) -> Option<f64> {
    n.attribute(name)?.trim_end_matches("mm").parse().ok()
}

fn read(page: &Page) -> Tile {
    let text = page_svg(page);
    let xml = Document::parse(&text).expect("well-formed");
    let root = xml.root_element();
    let mut tile =
        Tile { size: (attr(root, "width").unwrap(), attr(root, "height").unwrap()), ..Tile::default() };
    walk(root, "", &mut tile);
    tile
}

fn walk(node: Node, id: &str, out: &mut Tile) {
    for n in node.children().filter(Node::is_element) {
        let id = n.attribute("data-id").unwrap_or(id);
        match n.tag_name().name() {
            "path" => {
                let path = BezPath::from_svg(n.attribute("d").unwrap()).expect("a path");
                out.paths.push((path, attr(n, "stroke-width").unwrap_or(0.0), id.into()));
            }
            "text" => {
                let size = attr(n, "font-size").unwrap();
                let (long, high) = (attr(n, "textLength").unwrap(), size * 0.714);
                let start = match n.attribute("text-anchor") {
                    Some("middle") => -long / 2.0,
                    Some("end") => -long,
                    _ => 0.0,
                };
                let at = match n.attribute("transform") {
                    None => {
                        let (x, y) = (attr(n, "x").unwrap(), attr(n, "y").unwrap());
                        Rect::new(x + start, y - high, x + start + long, y)
                    }
                    Some(t) => {
                        assert!(t.ends_with("rotate(-90)"), "{t}");
                        let inner = t.strip_prefix("translate(").unwrap().split(')').next().unwrap();
                        let p: Vec<f64> = inner.split(' ').map(|w| w.parse().unwrap()).collect();
                        Rect::new(p[0] - high, p[1] - start - long, p[0], p[1] - start)
                    }
                };
                let text = n.text().unwrap_or_default().to_string();
                out.words.push(Words { text, id: id.into(), at });
            }
            _ => walk(n, id, out),
        }
    }
}

impl Tile {
    fn of<'a>(&'a self, id: &'a str) -> impl Iterator<Item = &'a BezPath> {
        self.paths.iter().filter(move |p| p.2 == id).map(|p| &p.0)
    }
    fn extent(&self, id: &str) -> Rect {
        self.of(id).map(Shape::bounding_box).reduce(|a, b| a.union(b)).unwrap_or_else(|| panic!("no {id}"))
    }
    /// Centres of the crosses by letter: the middle of the two arms.
    fn crosses(&self) -> BTreeMap<String, Point> {
        let ids: Vec<&str> = self.paths.iter().filter_map(|p| p.2.strip_prefix("cross/")).collect();
        ids.into_iter().map(|l| (l.to_string(), self.extent(&format!("cross/{l}")).center())).collect()
    }
}

fn segments(path: &BezPath) -> Vec<(Point, Point)> {
    let mut out = Vec::new();
    let (mut first, mut last) = (Point::ZERO, Point::ZERO);
    kurbo::flatten(path, 0.0005, |el| match el {
        PathEl::MoveTo(p) => (first, last) = (p, p),
        PathEl::LineTo(p) => {
            out.push((last, p));
            last = p;
        }
        PathEl::ClosePath => out.push((last, first)),
        _ => unreachable!("flattened"),
    });
    out
}

fn to_segment(p: Point, (a, b): (Point, Point)) -> f64 {
    let d = b - a;
    let t = if d.hypot2() > 0.0 { ((p - a).dot(d) / d.hypot2()).clamp(0.0, 1.0) } else { 0.0 };
    p.distance(a + d * t)
}

/// Distance to an edge of the part, by elementary geometry.
fn to_edge(p: Point, seg: &Seg) -> f64 {
    match seg {
        Seg::Line(a, b) => to_segment(p, (Point::new(a.x, a.y), Point::new(b.x, b.y))),
        Seg::Arc(arc) => {
            let c = Point::new(arc.centre.x, arc.centre.y);
            let angle = ((p - c).atan2() - arc.start) * arc.sweep.signum();
            let angle = angle.rem_euclid(std::f64::consts::TAU);
            if angle <= arc.sweep.abs() {
                return (p.distance(c) - arc.radius).abs();
            }
            let end = |q: turnleaf_geom::Vec2| p.distance(Point::new(q.x, q.y));
            end(seg.start()).min(end(seg.end()))
        }
    }
}

/// Puts the tiles of a part together by their crosses and compares with the part; true mm as the builder's
/// printer makes them.
fn put_together(part: &Part, pages: &[&Page], o: &TemplateOptions) -> (f64, f64) {
    let tiles: Vec<Tile> = pages.iter().map(|p| read(p)).collect();
    // What the printer makes of a millimetre: x of the options lies along the paper's short side.
    let printed = |t: &Tile, p: Point| {
        let (short, long) = (o.measured_x / 100.0, o.measured_y / 100.0);
        let (kx, ky) = if t.size.0 > t.size.1 { (long, short) } else { (short, long) };
        Point::new(p.x * kx, -p.y * ky)
    };
    let crosses: Vec<BTreeMap<String, Point>> =
        tiles.iter().map(|t| t.crosses().into_iter().map(|(l, p)| (l, printed(t, p))).collect()).collect();
    let mut shift: Vec<Option<kurbo::Vec2>> = vec![None; tiles.len()];
    shift[0] = Some(kurbo::Vec2::ZERO);
    let mut open = vec![0];
    while let Some(i) = open.pop() {
        let mine = shift[i].unwrap();
        for j in 0..tiles.len() {
            let shared: Vec<kurbo::Vec2> =
                crosses[i].iter().filter_map(|(l, p)| crosses[j].get(l).map(|q| *p + mine - *q)).collect();
            let Some(first) = shared.first().filter(|_| i != j) else { continue };
            for s in &shared {
                assert!((*s - *first).hypot() < 1e-3, "{}: crosses do not meet", part.id);
            }
            match shift[j] {
                Some(known) => assert!((known - *first).hypot() < 2e-3, "{}: tiles do not close", part.id),
                None => {
                    shift[j] = Some(*first);
                    open.push(j);
                }
            }
        }
    }
    let outline = format!("{}/outline", part.id);
    let mut pieces = Vec::new();
    for (t, s) in tiles.iter().zip(&shift) {
        let s = s.unwrap_or_else(|| panic!("{}: a tile hangs on nothing", part.id));
        for (a, b) in t.of(&outline).flat_map(segments) {
            pieces.push((printed(t, a) + s, printed(t, b) + s));
        }
    }
    let segs: Vec<Seg> = part.outline.segs().collect();
    // Only the place of the whole is free: the least corner of the pieces is that of the part.
    let (lo, hi) = part.outline.bounds();
    let ends = pieces.iter().flat_map(|p| [p.0, p.1]);
    let got = ends.fold(Rect::new(1e9, 1e9, -1e9, -1e9), |r, p| {
        Rect::new(r.x0.min(p.x), r.y0.min(p.y), r.x1.max(p.x), r.y1.max(p.y))
    });
    assert!((got.width() - (hi.x - lo.x)).abs() < 0.01 && (got.height() - (hi.y - lo.y)).abs() < 0.01);
    let home = Point::new(lo.x, lo.y) - Point::new(got.x0, got.y0);
    for p in &mut pieces {
        *p = (p.0 + home, p.1 + home);
    }
    let near = |p: Point| segs.iter().map(|s| to_edge(p, s)).fold(f64::INFINITY, f64::min);
    let worst_piece = pieces.iter().map(|p| near(p.0).max(near(p.1))).fold(0.0, f64::max);
    let mut worst_gap: f64 = 0.0;
    for seg in &segs {
        let n = (seg.length() / 2.0).ceil().max(1.0);
        for i in 0..=n as usize {
            let t = i as f64 / n;
            let q = match seg {
                Seg::Line(a, b) => *a + (*b - *a) * t,
                Seg::Arc(arc) => {
                    let a = arc.start + arc.sweep * t;
                    turnleaf_geom::Vec2 {
                        x: arc.centre.x + arc.radius * a.cos(),
                        y: arc.centre.y + arc.radius * a.sin(),
                    }
                }
            };
            let q = Point::new(q.x, q.y);
            worst_gap = worst_gap.max(pieces.iter().map(|p| to_segment(q, *p)).fold(f64::INFINITY, f64::min));
        }
    }
    (worst_piece, worst_gap)
}

/// What is wrong with one page: bars, margin, words.
fn page_complaints(page: &Page, o: &TemplateOptions, tile: bool) -> Vec<String> {
    let t = read(page);
    let mut out = Vec::new();
    let inside = Rect::new(o.margin, o.margin, t.size.0 - o.margin, t.size.1 - o.margin).inflate(1e-6, 1e-6);
    let holds = |r: Rect| inside.union(r) == inside;
    for (path, pen, id) in &t.paths {
        if !holds(path.bounding_box().inflate(pen / 2.0, pen / 2.0)) {
            out.push(format!("{}: {id} outside the printable area", page.id));
        }
    }
    for w in &t.words {
        if !holds(w.at) {
            out.push(format!("{}: “{}” outside the printable area", page.id, w.text));
        }
    }
    if !tile {
        return out;
    }
    let landscape = t.size.0 > t.size.1;
    let (short, long) = (100.0 / o.measured_x, 100.0 / o.measured_y);
    let (kx, ky) = if landscape { (long, short) } else { (short, long) };
    for (key, mm) in [("100mm", 100.0), ("4in", 4.0 * 25.4)] {
        let (level, upright) =
            (t.extent(&format!("bar/level/{key}")).width(), t.extent(&format!("bar/upright/{key}")).height());
        if (level - mm * kx).abs() > 2e-4 || (upright - mm * ky).abs() > 2e-4 {
            out.push(format!("{}: {key} bars are {level} and {upright}", page.id));
        }
    }
    // Words against words and lines. A leader ends at the box of its own words.
    for (i, a) in t.words.iter().enumerate() {
        for b in &t.words[i + 1..] {
            if a.at.intersect(b.at).area() > 0.0 {
                out.push(format!("{}: “{}” on “{}”", page.id, a.text, b.text));
            }
        }
    }
    for (path, _, id) in &t.paths {
        for (a, b) in segments(path) {
            let n = (a.distance(b) / 0.2).ceil().max(1.0) as usize;
            for w in t.words.iter().filter(|w| !(w.id == *id && id.starts_with("note/"))) {
                if (0..=n).any(|i| w.at.contains(a.lerp(b, i as f64 / n as f64))) {
                    out.push(format!("{}: {id} runs through “{}”", page.id, w.text));
                    break;
                }
            }
        }
    }
    out.sort();
    out.dedup();
    out
}

fn table(sectors: usize, diameter: f64, stock: f64) -> Vec<Part> {
    let mut s = Sizes::example();
    s.sectors = sectors;
    s.closed_diameter = diameter;
    s.stock_thickness = stock;
    s.opening = Opening::Diameter(diameter * 1.32);
    s.leaf_tip_half_angle = s.half_sector().max(std::f64::consts::FRAC_PI_4);
    let k = (diameter / 1200.0).clamp(0.6, 1.0) * if sectors > 8 { 0.7 } else { 1.0 };
    (s.arm_width, s.tongue_depth, s.arm_clearance) = (20.0 * k, 6.0 * k, 3.0);
    let m = solve(&s).unwrap_or_else(|t| panic!("{sectors} sectors, {diameter} mm: {t:?}"));
    assemble(&m).parts
}

fn check(parts: &[Part], o: &TemplateOptions, together: &[&str]) {
    let (document, said) = templates(parts, o);
    assert!(said.is_empty(), "{said:?}");
    let mut complaints = Vec::new();
    let mut tiles = 0;
    for page in &document.pages {
        let tile = page.id.matches('/').count() == 2;
        tiles += usize::from(tile);
        complaints.extend(page_complaints(page, o, tile));
    }
    assert!(
        complaints.is_empty(),
        "{} complaints: {:#?}",
        complaints.len(),
        &complaints[..complaints.len().min(12)]
    );
    assert!(tiles >= together.len());
    for id in together {
        let part = parts.iter().find(|p| p.id == *id).unwrap_or_else(|| panic!("no {id}"));
        let prefix = format!("template/{id}/");
        let pages: Vec<&Page> = document.pages.iter().filter(|p| p.id.starts_with(&prefix)).collect();
        assert!(!pages.is_empty(), "{id} has no tiles");
        let (piece, gap) = put_together(part, &pages, o);
        assert!(piece < 0.01 && gap < 0.01, "{id}: off by {piece} mm, gaps of {gap} mm");
    }
}

fn options(paper: Paper, x: f64, y: f64) -> TemplateOptions {
    TemplateOptions { paper, measured_x: x, measured_y: y, ..TemplateOptions::default() }
}

#[test]
fn tiles_give_the_part_again_for_six_sectors_on_every_paper() {
    let parts = table(6, 1200.0, 19.0);
    let some = ["panel", "leaf", "star", "panel-arm", "leaf-arm", "base-lower-ply", "leaf-riser"];
    for paper in [Paper::A4, Paper::Letter, Paper::A3, Paper::Tabloid] {
        check(&parts, &options(paper, 100.0, 100.0), &some);
    }
}

#[test]
fn tiles_printed_by_a_printer_that_shrinks_or_stretches_give_the_part_again() {
    let parts = table(6, 1200.0, 19.0);
    for (x, y) in [(99.6, 100.3), (95.0, 105.0)] {
        check(&parts, &options(Paper::A4, x, y), &["panel", "leaf", "panel-arm", "star-hub"]);
    }
}

#[test]
fn odd_tables_and_inch_units() {
    let inch = InchPrint { denominator: Denominator::SixtyFour, feet: false };
    for (sectors, diameter, stock) in [(4, 700.0, 18.2), (8, 1000.0, 19.05), (12, 2000.0, 19.05)] {
        let parts = table(sectors, diameter, stock);
        let o = TemplateOptions { units: PrintUnits::Inch(inch), ..options(Paper::Letter, 100.0, 100.0) };
        check(&parts, &o, &["panel", "leaf", "panel-arm"]);
    }
}

#[test]
fn german_pages_hold_their_words() {
    let parts = table(8, 1000.0, 19.0);
    let o =
        TemplateOptions { language: "de".into(), margin: 14.0, overlap: 15.0, ..TemplateOptions::default() };
    check(&parts, &o, &["panel", "rising-plate"]);
}

/// Every joint is named on both sides, so that A1 right meets A2 left.
#[test]
fn sides_name_each_other() {
    let parts = table(6, 1200.0, 19.0);
    let (document, _) = templates(&parts, &options(Paper::A4, 100.0, 100.0));
    let mut said = BTreeMap::new();
    for page in document.pages.iter().filter(|p| p.id.starts_with("template/star/")) {
        for w in read(page).words.into_iter().filter(|w| w.id.starts_with("meets/")) {
            let text = w.text.rsplit(": ").next().unwrap().to_string();
            let (mine, other) = text.split_once(" meets ").unwrap();
            said.insert(mine.to_string(), other.to_string());
        }
    }
    assert!(said.len() > 20);
    for (mine, other) in &said {
        assert_eq!(said.get(other), Some(mine), "{mine} meets {other}");
    }
}

#[test]
fn measured_lengths_that_cannot_be_are_named() {
    let parts = table(6, 1200.0, 19.0);
    for (x, y, field) in [
        (f64::NAN, 100.0, "bar x"),
        (94.9, 100.0, "bar x"),
        (100.0, 105.1, "bar y"),
        (100.0, f64::INFINITY, "bar y"),
        (-100.0, 100.0, "bar x"),
    ] {
        let (document, said) = templates(&parts, &options(Paper::A4, x, y));
        assert!(document.pages.is_empty());
        assert_eq!(said.len(), 1, "{said:?}");
        assert!(said[0].sentence.contains(field) && said[0].sentence.contains("between 95 and 105 mm"));
    }
    let wrong = TemplateOptions { overlap: 50.0, margin: f64::NAN, ..TemplateOptions::default() };
    assert_eq!(templates(&parts, &wrong).1.len(), 2);
}
