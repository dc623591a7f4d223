//! Layouts of the demo tables and of the published instances, for an outside judge.
//!
//! In: nothing. Out: JSON: {cases: [{name, kerf, margin, sheets: [{length, width, stock, fill, used, bands,
//! parts: [{id, instance, grain, turned, at, outline}]}], left}]}; an outline is given in the part's own frame as
//! [x, y, bulge] corners. Times go to standard error.
//! Always true: what is written is what the search returned, not yet placed: the judge does that itself.

#[path = "../tests/common/mod.rs"]
mod common;

use serde_json::{Value, json};
use std::time::Instant;
use turnleaf_nest::{Effort, Grain, PartIn, Request, Sheet, nest, table};

fn main() {
    let mut cases: Vec<Value> = Vec::new();
    let sheets = [("1220 × 2440 mm", 1220.0, 2440.0), ("1525 × 1525 mm", 1525.0, 1525.0)];
    for name in common::DEMOS {
        let parts = table::parts(&common::demo(name));
        for (label, a, b) in sheets {
            let request = common::on(&parts, Sheet::of(label, a, b));
            cases.push(case(&format!("{name} on {label}"), &request));
        }
    }
    for name in ["fu", "jakobs1", "blaz1"] {
        cases.push(case(name, &common::instance(name, Effort::BOOK).request));
    }
    println!("{}", json!({ "cases": cases }));
}

fn case(name: &str, request: &Request) -> Value {
    let start = Instant::now();
    let got = nest(request).unwrap_or_default();
    let fills: Vec<String> =
        got.sheets.iter().map(|s| format!("{} {:.1} % to {:.0}", s.stock, s.fill, s.used)).collect();
    eprintln!("{name}: {:.0} ms; {}", start.elapsed().as_secs_f64() * 1e3, fills.join("; "));
    for left in &got.left {
        eprintln!("  {}", left.sentence);
    }
    let outline = |p: &PartIn| -> Vec<Value> {
        p.outline.vertices.iter().map(|q| json!([q.p.x, q.p.y, q.bulge])).collect()
    };
    let sheets: Vec<Value> = (got.sheets.iter())
        .map(|s| {
            let parts: Vec<Value> = (s.placements.iter())
                .map(|p| {
                    let part = &request.parts[p.part];
                    json!({"id": part.id, "instance": p.instance, "grain": match part.grain { Grain::Free => None, Grain::Along => Some(0), Grain::Across => Some(90) },
                        "turned": p.turned, "at": [p.at.x, p.at.y], "outline": outline(part)})
                })
                .collect();
            let bands: Vec<Value> = s.bands.iter().map(|b| json!([b.from, b.to, b.placements])).collect();
            json!({"length": request.sheets[s.sheet].length, "width": request.sheets[s.sheet].width,
                "stock": s.stock, "fill": s.fill, "used": s.used, "bands": bands, "parts": parts})
        })
        .collect();
    let wanted: Vec<Value> = request.parts.iter().map(|p| json!([p.id, p.count])).collect();
    let left: Vec<Value> =
        got.left.iter().map(|l| json!([request.parts[l.part].id, l.count, l.sentence])).collect();
    json!({"name": name, "kerf": request.kerf, "margin": request.margin, "wanted": wanted, "sheets": sheets,
        "left": left})
}
