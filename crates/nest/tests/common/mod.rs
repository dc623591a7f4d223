//! Published instances as requests.
//!
//! In: a file of `tests/data`. Out: parts on one long strip. Always true: the strip is longer than needed.

#![allow(dead_code)] // Each user needs only a part of it.

use turnleaf_geom::{Ring, vec2::v};
use turnleaf_nest::{Effort, Grain, PartIn, Request, Sheet, Turns};

/// An instance.
pub struct Instance {
    /// Its name.
    pub name: String,
    /// Parts on a strip, no kerf, no margin.
    pub request: Request,
    /// Area of all pieces.
    pub area: f64,
    /// Best published density, percent.
    pub best: f64,
}

/// Reads one.
pub fn instance(name: &str, effort: Effort) -> Instance {
    let file = format!("{}/tests/data/{name}.json", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(&file).expect("the data file is there");
    let data: serde_json::Value = serde_json::from_str(&text).expect("the data file is JSON");
    let number = |x: &serde_json::Value| x.as_f64().expect("a number");
    let mut parts = Vec::new();
    for (i, item) in data["items"].as_array().expect("items").iter().enumerate() {
        let points: Vec<_> = item["points"]
            .as_array()
            .expect("points")
            .iter()
            .map(|p| v(number(&p[0]), number(&p[1])))
            .collect();
        let turns = match item["turns"].as_array().expect("turns").len() {
            1 => Turns::Fixed,
            2 => Turns::Half,
            _ => Turns::Quarter,
        };
        let ring = Ring::polygon(&points);
        parts.push(PartIn {
            id: format!("{i}"),
            name: format!("piece {i}"),
            stock: "strip".into(),
            outline: if ring.area() < 0.0 { ring.reversed() } else { ring },
            count: item["demand"].as_u64().expect("a count") as usize,
            grain: Grain::Free,
            turns,
        });
    }
    let area: f64 = parts.iter().map(|p| p.outline.area() * p.count as f64).sum();
    let width = number(&data["strip"]);
    let sheet =
        Sheet { name: "strip".into(), length: 4.0 * area / width, width, count: Some(1), stock: None };
    Instance {
        name: name.into(),
        request: Request { parts, sheets: vec![sheet], kerf: 0.0, margin: 0.0, effort },
        area,
        best: number(&data["best_density"]),
    }
}

impl Instance {
    /// Density reached, percent of the strip's used length.
    pub fn density(&self) -> f64 {
        let got = turnleaf_nest::nest(&self.request).expect("the request is sound");
        assert!(got.left.is_empty() && got.sheets.len() == 1, "{:?}", got.left);
        let pieces: usize = self.request.parts.iter().map(|p| p.count).sum();
        assert_eq!(got.sheets[0].placements.len(), pieces);
        100.0 * self.area / (self.request.sheets[0].width * got.sheets[0].used)
    }
}

/// The demo plans.
pub const DEMOS: [&str; 3] = ["reading-room", "map-room", "window-table"];

/// The parts of a demo plan.
pub fn demo(name: &str) -> turnleaf_plan::Assembly {
    let file = format!("{}/../../demo/{name}.json", env!("CARGO_MANIFEST_DIR"));
    let bytes = std::fs::read(&file).expect("the demo plan is there");
    let (plan, _) = turnleaf_plan::Plan::parse(&bytes).expect("the demo plan can be read");
    turnleaf_plan::outline(&plan).expect("the demo plan can be built")
}

/// Parts on sheets of one size without limit, 3.2 mm kerf, 10 mm margin.
pub fn on(parts: &[PartIn], sheet: Sheet) -> Request {
    Request { parts: parts.to_vec(), sheets: vec![sheet], kerf: 3.2, margin: 10.0, effort: Effort::BOOK }
}
