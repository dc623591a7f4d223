//! Plane figures, the table's own plan, nesting. In: closed forms, published instances. Out: rows.
//! Always true: areas and lengths are those of true arcs.

use crate::table::{Group, Known::*, Source, Within};
use core::f64::consts::PI;
use turnleaf_figures::beams;
use turnleaf_geom::measure::{Moments, perimeter};
use turnleaf_geom::{Region, Ring, Vec2, Vertex, boolean, trig, vec2::v};
use turnleaf_mechanism::{Opening, Sizes, layout};
use turnleaf_nest::{Effort, Grain, PartIn, Request, Sheet, Turns, nest};

const MATHEASS: Source = Source::new("matheass.eu, regular polygons", "hexagon, R = 1", Read);

fn regular(n: u32) -> Ring {
    let points: Vec<Vec2> =
        (0..n).map(|k| Vec2::polar(1.0, 2.0 * PI * f64::from(k) / f64::from(n))).collect();
    Ring::polygon(&points)
}

/// A circular segment of radius 1 between two angles.
fn segment(half: f64) -> Ring {
    // The bulge of an arc is the tangent of a quarter of its sweep.
    let (a, b) = (Vec2::polar(1.0, -half), Vec2::polar(1.0, half));
    Ring { vertices: vec![Vertex { p: a, bulge: trig::tan(half / 2.0) }, Vertex { p: b, bulge: 0.0 }] }
}

/// Plane figures.
pub fn rows() -> Group {
    let mut g = Group::new("Plane figures");
    let hexagon = regular(6);
    let side = hexagon.segs().next().map_or(f64::NAN, |s| s.length());
    let inradius = -turnleaf_geom::distance::signed_distance(Vec2::ZERO, &Region::from(hexagon.clone()));
    g.figures(
        "hexagon: side, perimeter",
        MATHEASS,
        [("1", side), ("6", perimeter(&hexagon))],
        Within::Of(1e-12, "whole numbers"),
    );
    g.figures(
        "hexagon: area, radius of the circle inside",
        MATHEASS,
        [("2.5980762", hexagon.area()), ("0.8660254", inradius.abs())],
        Within::LastDigit,
    );
    g.figure(
        "pentagon: side",
        Source::new("ronreynolds.com, pentagon", "", Quoted),
        "1.17557",
        regular(5).segs().next().map_or(f64::NAN, |s| s.length()),
    );
    let formula = Source::new(
        "Segment formula R²(θ − sin θ)/2 (azcalculator.com), evaluated with mpmath 1.3",
        "",
        Computed,
    );
    g.figure("segment of 60°: area", formula, "0.0905860737", segment(PI / 6.0).area());
    g.near(
        "segment of 60°: radius from chord 1 and rise 0.1339745962",
        formula,
        "1",
        beams::bow_radius(1.0, 0.133_974_596_2),
        Within::Of(1e-9, "the rise is printed to ten digits"),
    );
    let disc = Region::from(Ring::circle(Vec2::ZERO, 1.0));
    let low = Region::from(Ring::rect(v(-2.0, -2.0), v(2.0, -1.0 + 0.596_027_246_700)));
    let filled = boolean::intersection(&disc, &low).map_or(f64::NAN, |r| r.iter().map(Region::area).sum());
    g.near(
        "share of a disc below 0.5960272467 of its radius",
        Source::new("MathWorld, quarter-tank problem", "", Memory),
        "0.25",
        filled / PI,
        Within::Of(1e-10, "the height is printed to twelve digits"),
    );
    let triangle = |from: f64| {
        let points: Vec<Vec2> =
            (0..3).map(|k| Vec2::polar(1.0, from + 2.0 * PI * f64::from(k) / 3.0)).collect();
        Region::from(Ring::polygon(&points))
    };
    let star = boolean::union(&triangle(0.0), &triangle(PI)).unwrap_or_default();
    let elementary = Source::new("Hexagram {6/2}, circumradius 1, with shapely 2.2", "√3 and 4√3", Computed);
    g.figures(
        "hexagram of two triangles: area, perimeter",
        elementary,
        [
            ("1.7320508", star.iter().map(Region::area).sum::<f64>()),
            ("6.9282032", star.iter().map(|r| perimeter(&r.outer)).sum::<f64>()),
        ],
        Within::LastDigit,
    );
    let round = Moments::of(&Region::from(Ring::circle(v(30.0, -70.0), 10.0)));
    g.figures(
        "disc of 20 mm: second moment about its centre, mm⁴, area, mm²",
        Source::new("Handbook formulas πd⁴/64 and πd²/4", "", Memory),
        [("7853.98", round.ix), ("314.159", round.area)],
        Within::LastDigit,
    );
    g
}

fn plan(sectors: usize) -> layout::Layout {
    layout::layout(&Sizes {
        sectors,
        closed_diameter: 1200.0,
        opening: Opening::Travel(100.0),
        ..Sizes::example()
    })
}

/// The table's plan.
pub fn tables() -> Group {
    let mut g = Group::new("Sectors moved out, R = 600, e = 100");
    let shapely = Source::new("shapely 2.2", "sectors of a disc moved out along their middles", Computed);
    let (six, eight) = (plan(6), plan(8));
    g.figure("six sectors: gap between neighbours", shapely, "100.0000", six.gap_width);
    g.figure("eight sectors: gap between neighbours", shapely, "76.53669", eight.gap_width);
    g.figure("six sectors: corners from the centre", shapely, "688.4207", six.corner_radius);
    g.figure("eight sectors: corners from the centre", shapely, "693.4447", eight.corner_radius);
    g.figures(
        "out of round, six and eight sectors",
        shapely,
        [("11.5793", six.out_of_round), ("6.5553", eight.out_of_round)],
        Within::LastDigit,
    );
    let example = layout::layout(&Sizes::example());
    g.between(
        "open to closed diameter of the worked example",
        Source::new(
            "Antique round expanding tables, measures as published",
            "1.22 to 1.24 and 1.39 to 1.46",
            Quoted,
        ),
        (1.22, 1.46),
        (example.radius + example.travel) / example.radius,
        "between the smallest and the largest seen",
    );
    g
}

/// Published nesting instances.
const INSTANCES: [(&str, &str); 3] = [
    ("fu", include_str!("../../../crates/nest/tests/data/fu.json")),
    ("jakobs1", include_str!("../../../crates/nest/tests/data/jakobs1.json")),
    ("blaz1", include_str!("../../../crates/nest/tests/data/blaz1.json")),
];

struct Nested {
    pieces: f64,
    area: f64,
    density: f64,
}

fn nested(name: &str) -> Nested {
    let text = INSTANCES.iter().find(|i| i.0 == name).map_or("", |i| i.1);
    let data: serde_json::Value = serde_json::from_str(text).expect("the instance is JSON");
    let number = |x: &serde_json::Value| x.as_f64().expect("a number");
    let mut parts = Vec::new();
    for (i, item) in data["items"].as_array().expect("items").iter().enumerate() {
        let corners = item["points"].as_array().expect("points");
        let ring =
            Ring::polygon(&corners.iter().map(|p| v(number(&p[0]), number(&p[1]))).collect::<Vec<_>>());
        parts.push(PartIn {
            id: i.to_string(),
            name: format!("piece {i}"),
            stock: "strip".into(),
            outline: if ring.area() < 0.0 { ring.reversed() } else { ring },
            count: item["demand"].as_u64().expect("a count") as usize,
            grain: Grain::Free,
            turns: match item["turns"].as_array().expect("turns").len() {
                1 => Turns::Fixed,
                2 => Turns::Half,
                _ => Turns::Quarter,
            },
        });
    }
    let area: f64 = parts.iter().map(|p| p.outline.area() * p.count as f64).sum();
    let pieces = parts.iter().map(|p| p.count).sum::<usize>() as f64;
    let width = number(&data["strip"]);
    let strip =
        Sheet { name: "strip".into(), length: 4.0 * area / width, width, count: Some(1), stock: None };
    let request = Request { parts, sheets: vec![strip], kerf: 0.0, margin: 0.0, effort: Effort::BOOK };
    let density = match nest(&request) {
        Ok(got) if got.left.is_empty() && got.sheets.len() == 1 => {
            100.0 * area / (width * got.sheets[0].used)
        }
        _ => f64::NAN,
    };
    Nested { pieces, area, density }
}

/// Nesting.
pub fn nesting() -> Group {
    let mut g = Group::new("Nesting instances");
    let esicup = Source::new("ESICUP data sets (2025)", "2d_irregular: pieces, area", Read);
    let records =
        Source::new("Gardeyn, Vanden Berghe and Wauters, arXiv 2509.13329", "table 3, best density", Read);
    let exact = Within::Of(1e-9, "as in the data set");
    let whats = [
        ("fu: pieces, area", "fu: density, %", ["12", "1083"], 92.405, 80.0),
        ("jakobs1: pieces, area", "jakobs1: density, %", ["25", "392"], 89.256, 75.0),
        ("blaz1: pieces, area", "blaz1: density, %", ["28", "324"], 86.232, 72.0),
    ];
    for ((name, _), (counts, density, printed, record, reached)) in INSTANCES.into_iter().zip(whats) {
        let n = nested(name);
        g.figures(counts, esicup, printed.into_iter().zip([n.pieces, n.area]), exact);
        g.between(
            density,
            records,
            (reached, record),
            n.density,
            "more than the record would be a fault; the lower end is what a book's effort reached before",
        );
    }
    g
}
