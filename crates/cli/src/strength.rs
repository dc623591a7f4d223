//! Strength, weight and safety figures as text and as JSON.
//!
//! In: a built table. Out: every figure with its limit, margin and source, headed by the notice.
//! Always true: the notice that they are guidance comes first in both.

use crate::show::{line, lines};
use serde_json::{Value, json};
use turnleaf_plan::{Assumptions, Built, NOTICE};

pub fn text(b: &Built) -> String {
    let rows = b.figures().into_iter().map(|f| {
        let held = match (f.limit, f.margin) {
            (Some(limit), Some(margin)) => {
                let word = if margin >= 0.0 { "holds" } else { "WEAK " };
                format!("{word} limit {limit:10.2} margin {margin:10.2}")
            }
            _ => " ".repeat(40),
        };
        format!("{:36} {:11.3} {:6} {held}  {}: {} ({})", f.id, f.value, f.unit, f.label, f.formula, f.source)
    });
    lines(std::iter::once(NOTICE.to_string()).chain(rows))
}

pub fn json(b: &Built) -> String {
    let figures: Vec<Value> = b
        .figures()
        .iter()
        .map(|f| {
            let inputs: Vec<Value> = f
                .inputs
                .iter()
                .map(|i| json!({ "name": i.name, "value": i.value, "unit": i.unit }))
                .collect();
            json!({
                "id": f.id, "label": f.label, "value": f.value, "unit": f.unit, "limit": f.limit,
                "margin": f.margin, "holds": f.holds(), "formula": f.formula, "inputs": inputs,
                "source": f.source, "guidance": f.guidance,
            })
        })
        .collect();
    let assumed: Vec<Value> = Assumptions::default()
        .list()
        .iter()
        .map(
            |a| json!({ "id": a.id, "label": a.label, "value": a.value, "unit": a.unit, "source": a.source }),
        )
        .collect();
    line(&json!({ "notice": NOTICE, "figures": figures, "assumptions": assumed }))
}
