//! Drawings worked by hand: parts whose corners and holes stand on whole millimetres, and what their sheets must say.
//!
//! In: parts laid out in right triangles of whole sides. Out: pass, or the line of the drawing that is off.
//! Always true: expected figures are coordinates, sums and square roots of the part as it was typed here; words are
//! those a maker needs to find the place (ISO 129-1: each size once, each feature from the datum).

mod bench;
mod costs;
mod discs;
mod numbers;
mod paper;
mod places;
#[path = "../samples/mod.rs"]
mod samples;
mod views;

use turnleaf_dimension::drawing::{Drawing, Look, Piece};
use turnleaf_dimension::printed::line;
use turnleaf_dimension::{Wording, choose, printed, prove};
use turnleaf_geom::vec2::v;
use turnleaf_geom::{Ring, Vec2, Vertex};
use turnleaf_parts::{Depth, Feature, FeatureKind, Part};
use turnleaf_units::{DecimalSign, MmStep, PrintUnits};

const TENTHS: Wording = Wording { units: PrintUnits::Mm(MmStep::TENTH), sign: DecimalSign::Point };

fn part(thickness: f64, outline: Ring, features: Vec<Feature>) -> Part {
    samples::part("p", "Part", 1, thickness, outline, features)
}

fn feature(id: &str, kind: FeatureKind) -> Feature {
    let purpose = id.split('/').next().unwrap_or(id);
    Feature { id: id.into(), purpose: purpose.into(), kind }
}

fn hole(id: &str, x: f64, y: f64, diameter: f64, depth: Depth) -> Feature {
    feature(id, FeatureKind::Hole { centre: v(x, y), diameter, depth })
}

fn slot(id: &str, a: Vec2, b: Vec2, width: f64) -> Feature {
    feature(id, FeatureKind::Slot { a, b, width, depth: Depth::Through })
}

fn pocket(id: &str, ring: Ring, depth: Depth) -> Feature {
    feature(id, FeatureKind::Pocket { ring, depth })
}

fn corners(points: &[(f64, f64)]) -> Ring {
    Ring::polygon(&points.iter().map(|&(x, y)| v(x, y)).collect::<Vec<_>>())
}

fn arc_from(x: f64, y: f64, bulge: f64) -> Vertex {
    Vertex { p: v(x, y), bulge }
}

/// What a drawing says, line by line; its proof holds.
fn says(d: &Drawing) -> Vec<String> {
    let (proof, troubles) = prove(d, &TENTHS);
    assert!(proof.holds() && troubles.is_empty(), "{troubles:?}");
    assert_eq!(proof.figures, d.dimensions.iter().filter(|q| !q.reference).count());
    let spaced = d.conventions.iter().filter(|c| c.id.starts_with("spaced/"));
    assert!(spaced.map(|c| c.rules.len()).all(|n| n > 0), "one alone is not spaced");
    let figures = printed::figures(d, &TENTHS);
    let text = |pieces: &[Piece]| line(pieces, &figures);
    let mut out = Vec::new();
    for (dim, figure) in d.dimensions.iter().zip(&figures) {
        let id = dim.id.trim_start_matches("p/dim/");
        let brackets = if dim.reference { format!("({})", figure.text()) } else { figure.text() };
        let look = if dim.look == Look::Table {
            "table".to_string()
        } else {
            format!("{:?}", dim.look).to_lowercase()
        };
        out.push(format!("{id} = {brackets} [{look}]"));
    }
    for c in &d.callouts {
        out.push(format!("leader {}", text(&c.pieces)));
    }
    for r in &d.rows {
        let cells: Vec<String> = r.cells.iter().map(|c| text(c)).collect();
        let what = if r.purpose.is_empty() { String::new() } else { format!(" | for {}", r.purpose) };
        out.push(format!("row {} × {}: {}{what}", r.count, r.label, cells.join(" | ")));
    }
    for e in &d.edges {
        out.push(format!(
            "edge {} {} from {}: {} to {}",
            e.label,
            e.what,
            e.base,
            text(&e.begins),
            text(&e.ends)
        ));
    }
    for w in &d.ways {
        for (k, s) in w.stations.iter().enumerate() {
            let cells: Vec<String> = s.iter().map(|c| text(c)).collect();
            out.push(format!("way {} {}: {}", w.label, k + 1, cells.join(" | ")));
        }
    }
    for c in d.conventions.iter().filter(|c| !c.sentence.is_empty()) {
        out.push(format!("note {}", c.sentence));
    }
    out
}

/// The lines of a part's drawing, all of them and in order.
fn sheet(part: &Part, due: &[&str]) {
    let ours = says(&choose(part));
    let all = ours.join("\n");
    for (k, (is, due)) in ours.iter().zip(due).enumerate() {
        assert_eq!(is, due, "line {k} of\n{all}");
    }
    assert_eq!(ours.len(), due.len(), "\n{all}");
}
