//! A plan with something in every place that a plan file has.
//!
//! In: nothing. Out: [`full`], and pictures as base64.
//! Always true: it opens as it stands; people and words in it are invented (demo).

use serde_json::{Value, json};
use std::path::Path;

/// A picture of one grey dot: PNG (ISO/IEC 15948) by the general `png` library.
fn dot() -> Value {
    png(1, 1)
}

/// A plain picture in base64.
pub fn png(width: u32, height: u32) -> Value {
    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, width, height);
    encoder.set_color(png::ColorType::Grayscale);
    encoder.set_depth(png::BitDepth::Eight);
    let dots = vec![200; (width * height) as usize];
    encoder.write_header().unwrap().write_image_data(&dots).unwrap();
    json!(base64(&bytes))
}

/// RFC 4648.
pub fn base64(bytes: &[u8]) -> String {
    const LETTERS: &[u8] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut out = String::new();
    for three in bytes.chunks(3) {
        let n = three.iter().fold(0u32, |n, b| n << 8 | u32::from(*b)) << (8 * (3 - three.len()));
        for k in 0..4 {
            let letter = LETTERS[(n >> (18 - 6 * k) & 63) as usize];
            out.push(if k <= three.len() { char::from(letter) } else { '=' });
        }
    }
    out
}

/// A plan with something in every place.
pub fn full() -> Value {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../demo/reading-room.json");
    let mut plan: Value = serde_json::from_slice(&std::fs::read(path).unwrap()).unwrap();
    let frozen = plan.clone();
    plan["texts"]["notes"] = json!(["A note."]);
    plan["texts"]["imprint"] = json!("A copy (demo)");
    plan["measured"] = json!({ "stock_thickness": "18.8 mm" });
    plan["stock"] =
        json!({ "kerf": "3 mm", "margin": "10 mm", "board": "1200 mm", "sheets": ["1220x2440mm:3 top"] });
    plan["revision"] = json!({ "mark": "B", "date": "2026-02-03", "reasons": ["A reason."] });
    plan["revisions"] = json!([{
        "mark": "A", "date": "2026-01-02", "what": "First.", "figures": "abc",
        "pages": [["cover", "0123", "ab", "A"]],
        "frozen": { "program": "0.1.0", "book": "0123", "plan": frozen },
    }]);
    plan["questions"] = json!([
        { "number": 1, "about": "part", "id": "panel", "from": "A buyer (demo)", "asked": "2026-01-09",
          "text": "Which wood?", "revision": "B", "answer": "Any.", "printed": true },
        { "number": 2, "about": "book", "id": "", "text": "Why?", "declined": "No." },
    ]);
    plan["offer"] = json!({ "revision": "A", "sizes": { "height": ["700 mm", "760 mm"] }, "units": ["mm", "both"],
        "papers": ["a3", "a4"], "licence": "For one table." });
    plan["steps"] = json!([{
        "id": "own/1", "title": "A step", "text": ["Words."], "hidden": false, "after": "first", "notes": ["Mind."],
        "pictures": [{ "caption": "A dot", "data": dot() }],
    }]);
    plan
}
