//! Results as text and as JSON.

use serde::Serialize;
use serde_json::{Value, json};
use turnleaf_geom::{Region, Ring, trig};
use turnleaf_plan::{Access, Assembly, Built, Expect, FAR, PairResult, plan_text, remedies_for};

/// Flattening tolerance of outlines in JSON, mm.
const FLAT: f64 = 0.01;

pub(crate) fn lines(rows: impl Iterator<Item = String>) -> String {
    rows.map(|r| r + "\n").collect()
}

pub(crate) fn line(value: &impl Serialize) -> String {
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
    line(&Value::Array(rows))
}

/// Coordinates to a millionth of a millimetre: more digits only make the answer longer.
fn short(x: f64) -> f64 {
    (x * 1e6).round() / 1e6
}

fn ring(r: &Ring) -> Vec<[f64; 2]> {
    r.flatten(FLAT).into_iter().map(|p| [short(p.x), short(p.y)]).collect()
}

/// A plan outline: an outer ring and openings, each a list of [x, y], mm.
#[derive(Serialize)]
struct Outline {
    outer: Vec<[f64; 2]>,
    holes: Vec<Vec<[f64; 2]>>,
}

impl Outline {
    fn of(r: &Region) -> Outline {
        Outline { outer: ring(&r.outer), holes: r.holes.iter().map(ring).collect() }
    }
}

#[derive(Serialize)]
struct Slab {
    outline: Outline,
    z_min: f64,
    z_max: f64,
}

#[derive(Serialize)]
struct Placed {
    id: String,
    part: String,
    outline: Outline,
    z_min: f64,
    z_max: f64,
    layers: Vec<Slab>,
}

pub fn pose_json(a: &Assembly, turn: f64) -> String {
    let rows: Vec<Placed> = turnleaf_plan::pose(a, trig::rad(turn))
        .into_iter()
        .map(|p| Placed {
            outline: Outline::of(&p.outline),
            z_min: p.z_min,
            z_max: p.z_max,
            layers: p
                .layers
                .iter()
                .map(|l| Slab { outline: Outline::of(&l.region), z_min: l.z0, z_max: l.z1 })
                .collect(),
            id: p.id,
            part: p.part,
        })
        .collect();
    line(&rows)
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

#[derive(Serialize)]
struct PartRow<'a> {
    id: &'a str,
    name: &'a str,
    count: usize,
    made: bool,
    material: &'a str,
    thickness: f64,
    layers: Vec<Slab>,
}

pub fn parts_json(a: &Assembly) -> String {
    let rows: Vec<PartRow> = a
        .parts
        .iter()
        .map(|p| PartRow {
            id: &p.id,
            name: &p.name,
            count: p.count,
            made: p.made,
            material: &p.material,
            thickness: p.thickness,
            layers: p
                .layers
                .iter()
                .map(|l| Slab { outline: Outline::of(&l.region), z_min: l.z0, z_max: l.z1 })
                .collect(),
        })
        .collect();
    line(&rows)
}

pub fn parts_text(a: &Assembly) -> String {
    lines(a.parts.iter().map(|p| {
        let (low, high) = p.outline.bounds();
        format!(
            "{:22} {:3} × {:9.2} × {:9.2} × {:7.2} mm  {}, {}",
            p.id,
            p.count,
            high.x - low.x,
            high.y - low.y,
            p.thickness,
            p.material,
            p.name
        )
    }))
}

/// Every check, and below each that fails what mends it.
pub fn checks_text(b: &Built, remedies: bool) -> String {
    lines(
        b.checks
            .iter()
            .flat_map(|c| {
                let check = format!("{} {:44} {}", if c.holds { "holds" } else { "FAILS" }, c.id, c.text);
                let mends = if remedies { remedies_for(b, &c.id) } else { Vec::new() };
                std::iter::once(check).chain(mends.into_iter().map(|m| format!("      remedy: {}", m.text)))
            })
            .chain(b.warnings().into_iter().map(|w| format!("NOTE  {:44} {}", w.code, w.sentence))),
    )
}

pub fn checks_json(b: &Built, remedies: bool) -> String {
    let rows: Vec<Value> = b
        .checks
        .iter()
        .map(|c| {
            let mut row = json!({
                "id": c.id, "holds": c.holds, "value": c.value, "limit": c.limit, "margin": c.margin,
                "unit": c.unit, "at_turn": c.at_turn, "text": c.text,
            });
            if remedies {
                row["remedies"] = remedies_for(b, &c.id)
                    .into_iter()
                    .map(|m| {
                        let (size, to) = m.set.unzip();
                        json!({ "text": m.text, "size": size, "to": to })
                    })
                    .collect();
            }
            row
        })
        .collect();
    line(&Value::Array(rows))
}

/// What a pair is meant to do, and the least clearance that passes, mm.
fn expectation(r: &PairResult) -> (&'static str, f64) {
    match r.expect {
        Expect::Clear(c) => ("clear", c),
        Expect::Fit(f) => ("fit", f),
        Expect::Touch => ("touch", 0.0),
        Expect::Joined(_) => ("joined", 0.0),
    }
}

pub fn proof_text(b: &Built) -> String {
    let pairs = b.proof.pairs.iter().map(|r| {
        let (kind, asked) = expectation(r);
        format!(
            "{} {:18} {:18} {:9.3} mm at {:6.2}°, {kind} {asked:.3} mm",
            if r.holds { "holds" } else { "FAILS" },
            r.a,
            r.b,
            r.distance,
            trig::deg(r.turn)
        )
    });
    let joined = b.proof.joined.iter().map(|(x, y, why)| format!("joined {x:17} {y:18} {why}"));
    let pinches = b.pinch_points().into_iter().map(|p| {
        format!(
            "pinch  {:18} {:18} {:6.2}° to {:6.2}°: {:.1} to {:.1} mm, narrowest at {:.2}°, {}",
            p.a,
            p.b,
            trig::deg(p.from),
            trig::deg(p.to),
            p.widest,
            p.narrowest,
            trig::deg(p.at),
            access(p.access)
        )
    });
    lines(pairs.chain(joined).chain(pinches))
}

/// From where a hand reaches a gap.
fn access(a: Access) -> &'static str {
    match a {
        Access::Above => "from above",
        Access::Rim => "from the rim",
    }
}

pub fn proof_json(b: &Built) -> String {
    let pairs: Vec<Value> = b
        .proof
        .pairs
        .iter()
        .map(|r| {
            let (kind, asked) = expectation(r);
            json!({
                "a": r.a, "b": r.b, "pieces": [r.pieces.0, r.pieces.1], "expect": kind, "asked": asked,
                "distance": r.distance, "at_least": r.at_least, "turn": trig::deg(r.turn),
                "place": [r.place.x, r.place.y], "holds": r.holds,
            })
        })
        .collect();
    let joined: Vec<Value> =
        b.proof.joined.iter().map(|(x, y, why)| json!({ "a": x, "b": y, "reason": why })).collect();
    let pinches: Vec<Value> = b
        .pinch_points()
        .iter()
        .map(|p| {
            json!({
                "a": p.a, "b": p.b, "pieces": [p.pieces.0, p.pieces.1], "from": trig::deg(p.from),
                "to": trig::deg(p.to), "widest": p.widest, "narrowest": p.narrowest, "at": trig::deg(p.at),
                "place": [p.place.x, p.place.y], "access": access(p.access), "opening": p.opening,
            })
        })
        .collect();
    line(&json!({
        "turn": b.turn_degrees(), "far": FAR, "pairs": pairs, "joined": joined, "pinches": pinches,
    }))
}
