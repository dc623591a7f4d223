//! Results as text and as JSON.

use serde_json::{Value, json};
use turnleaf_geom::{Region, Ring, trig};
use turnleaf_plan::{Assembly, Built, plan_text};

/// Flattening tolerance of outlines in JSON, mm.
const FLAT: f64 = 0.01;

fn lines(rows: impl Iterator<Item = String>) -> String {
    rows.map(|r| r + "\n").collect()
}

fn pretty(value: &Value) -> String {
    // A value made of numbers, strings and lists always serialises.
    serde_json::to_string(value).unwrap_or_default() + "\n"
}

pub fn numbers_text(b: &Built) -> String {
    lines(
        b.numbers
            .iter()
            .map(|n| format!("{:28} {:>30}  {}: {}", n.id, plan_text(n, b.plan.options()), n.label, n.rule)),
    )
}

pub fn numbers_json(b: &Built) -> String {
    let rows: Vec<Value> = b
        .numbers
        .iter()
        .map(|n| json!({"id": n.id, "value": n.value, "unit": n.unit.symbol(), "text": plan_text(n, b.plan.options())}))
        .collect();
    pretty(&Value::Array(rows))
}

fn ring(r: &Ring) -> Value {
    Value::Array(r.flatten(FLAT).into_iter().map(|p| json!([p.x, p.y])).collect())
}

fn region(r: &Region) -> Value {
    json!({ "outer": ring(&r.outer), "holes": r.holes.iter().map(ring).collect::<Vec<_>>() })
}

pub fn pose_json(a: &Assembly, turn: f64) -> String {
    let rows: Vec<Value> = turnleaf_plan::pose(a, trig::rad(turn))
        .into_iter()
        .map(|p| {
            let layers: Vec<Value> = p
                .layers
                .iter()
                .map(|l| json!({ "outline": region(&l.region), "z_min": l.z0, "z_max": l.z1 }))
                .collect();
            json!({
                "id": p.id, "part": p.part, "outline": region(&p.outline),
                "z_min": p.z_min, "z_max": p.z_max, "layers": layers,
            })
        })
        .collect();
    pretty(&Value::Array(rows))
}

pub fn pose_text(a: &Assembly, turn: f64) -> String {
    lines(turnleaf_plan::pose(a, trig::rad(turn)).into_iter().map(|p| {
        let (low, high) = p.outline.outer.bounds();
        format!(
            "{:22} x {:9.2} to {:9.2}  y {:9.2} to {:9.2}  z {:8.2} to {:8.2} mm",
            p.id, low.x, high.x, low.y, high.y, p.z_min, p.z_max
        )
    }))
}

pub fn checks_text(b: &Built) -> String {
    lines(
        b.checks
            .iter()
            .map(|c| format!("{} {:44} {}", if c.holds { "holds" } else { "FAILS" }, c.id, c.text)),
    )
}

pub fn checks_json(b: &Built) -> String {
    let rows: Vec<Value> = b
        .checks
        .iter()
        .map(|c| {
            json!({
                "id": c.id, "holds": c.holds, "value": c.value, "limit": c.limit, "margin": c.margin,
                "unit": c.unit, "at_turn": c.at_turn, "text": c.text,
            })
        })
        .collect();
    pretty(&Value::Array(rows))
}
