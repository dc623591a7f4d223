//! Writes what the outside check reads: inputs and our results, as JSON, for both drives.
//!
//!     cargo run -p turnleaf-figures --example outside_cases > cases.json
//!     python tests/python/figures_check.py cases.json

use serde_json::{Value, json};
use turnleaf_figures::edge::EdgeCase;
use turnleaf_figures::slides::{Follower, Slides};
use turnleaf_figures::{Assumptions, base, beams, flush, mass, section, stability, tipping, tolerance, wood};
use turnleaf_figures::{figures, torque};
use turnleaf_geom::{Region, Ring, Vec2};
use turnleaf_mechanism::{DriveKind, Sizes, solve};
use turnleaf_parts::{Assembly, Law, assemble};

fn ring(r: &Ring) -> Value {
    r.vertices.iter().map(|v| json!([v.p.x, v.p.y, v.bulge])).collect()
}

fn region(r: &Region) -> Value {
    json!({ "outer": ring(&r.outer), "holes": r.holes.iter().map(ring).collect::<Vec<_>>() })
}

fn edges(a: &Assembly, s: &Assumptions, solids: &[mass::Solid]) -> Vec<Value> {
    let mut out = Vec::new();
    for law in [Law::Panel, Law::Leaf] {
        let Some(set) = Slides::of(a, solids, law) else { continue };
        let Some(c) = EdgeCase::of(a, s, &set) else { continue };
        let over = c.overhang();
        out.push(json!({
            "kind": "overhang", "load": over.load, "a": over.overhang, "b": over.engaged, "ei": c.slide.0,
            "deflection": over.deflection(c.slide.0), "outer": over.outer(), "inner": over.inner(),
            "moment": over.moment(),
        }));
        for glued in [true, false] {
            let Some(r) = c.solve(glued) else { continue };
            out.push(json!({
                "kind": "frame", "glued": glued, "load": c.load, "load_at": c.load_at, "held": [c.held.0, c.held.1],
                "apart": c.apart, "slide": [c.slide.0, c.slide.1, c.slide.2], "post_modulus": c.post_modulus,
                "posts": c.posts.iter().map(|p| json!([p.at, p.i, p.z, p.area])).collect::<Vec<_>>(),
                "top": { "modulus": c.top.modulus, "thickness": c.top.thickness, "from": c.top.from,
                         "spread": c.top.spread, "width": c.top.width },
                "droop": r.droop, "slide_stress": r.slide_stress, "post_stress": r.post_stress,
                "outer": r.outer, "inner": r.inner,
            }));
        }
        for i in 0..=12 {
            let turn = a.mechanism.turn() * i as f64 / 12.0;
            if let Follower::Arm { crank, closed, .. } = set.follower {
                out.push(json!({
                    "kind": "arm", "pin_radius": crank.pin_radius, "length": crank.arm, "angle": closed + turn,
                    "slide": crank.slide(closed + turn), "leverage": set.follower.leverage(turn),
                    "speed": set.follower.speed(turn), "swing": set.follower.swing(turn),
                    "pressure": set.follower.pressure(turn),
                }));
            }
        }
    }
    out
}

fn sections(a: &Assembly) -> Vec<Value> {
    let plies: Vec<(&Region, f64)> = ["cam-plate", "base-upper-ply", "base-lower-ply"]
        .iter()
        .filter_map(|id| a.part(id))
        .flat_map(|p| p.layers.iter().map(|l| (&l.region, l.z1 - l.z0)))
        .collect();
    (0..24)
        .map(|i| {
            let out = Vec2::polar(1.0, 0.37 + 0.61 * i as f64);
            let distance = 15.0 + 20.0 * i as f64;
            let cut = section::Cut { at: out * distance, along: out.perp() };
            let s = section::section(&plies, &cut);
            json!({
                "kind": "section", "normal": [out.x, out.y], "distance": distance,
                "layers": plies.iter().map(|(r, t)| json!([region(r), t])).collect::<Vec<_>>(),
                "i": section::section_i(&s), "length": s.iter().map(|x| x.length).sum::<f64>(),
            })
        })
        .collect()
}

fn main() {
    let s = Assumptions::default();
    let mut out: Vec<Value> = Vec::new();
    for drive in [DriveKind::Arms, DriveKind::Cam] {
        let Ok(m) = solve(&Sizes { drive, ..Sizes::example() }) else { continue };
        let a = assemble(&m);
        let solids = mass::solids(&a, &s);
        out.extend(edges(&a, &s, &solids));
        out.extend(sections(&a));
        for (p, solid) in a.parts.iter().zip(&solids) {
            if ["drop-roller", "bushing", "ramp-outer", "ramp-inner"].contains(&p.id.as_str()) {
                continue;
            }
            // A bar on edge is given from the side, as thick as it is wide: its height is then the second coordinate.
            let (low, high) = p.outline.bounds();
            let (layers, centre, z) = match &p.side {
                Some(side) => (
                    vec![json!([region(&side.clone().into()), 0.0, high.y - low.y])],
                    [solid.centre.x, solid.z],
                    solid.centre.y - low.y,
                ),
                None => (
                    p.layers.iter().map(|l| json!([region(&l.region), l.z0, l.z1])).collect(),
                    [solid.centre.x, solid.centre.y],
                    solid.z,
                ),
            };
            out.push(json!({
                "kind": "mass", "part": p.id, "density": s.material(&p.material).density(), "mass": solid.mass,
                "centre": centre, "z": z, "layers": layers,
            }));
        }
        for making in [flush::Making::AsBought, flush::Making::Measured] {
            let Some(st) = flush::stacks(&a, &s, making) else { continue };
            for (x, y) in [(&st.panel, &st.leaf), (&st.star, &st.leaf), (&st.star, &st.panel)] {
                let (_, halves) = flush::step_halves(x, y);
                out.push(json!({
                    "kind": "stack", "halves": halves, "worst": tolerance::worst(&halves),
                    "rss": tolerance::root_sum_square(&halves),
                }));
            }
        }
        for (turn, reach) in [(0.0, m.layout.radius), (m.turn(), m.layout.radius + m.layout.travel)] {
            let body = stability::whole(&a, &solids, turn);
            let feet = base::feet_at(&a, turn);
            if let Some((_, load)) =
                tipping::weakest(&tipping::lines(&feet), body.weight(), body.centre, reach)
            {
                out.push(json!({
                    "kind": "tip", "feet": feet.iter().map(|p| json!([p.x, p.y])).collect::<Vec<_>>(),
                    "weight": body.weight(), "centre": [body.centre.x, body.centre.y], "reach": reach, "load": load,
                }));
            }
        }
        let d = torque::Drive::new(&a, &s);
        let carried = d.on_wheels(&m, (m.lift_begins() + m.lift_ends()) / 2.0);
        let turn = (m.lift_begins() + m.lift_ends()) / 2.0;
        out.push(json!({
            "kind": "ramp", "carried": carried, "step": m.stack.step, "sweep": m.sizes.ramp_sweep,
            "blend": m.blend, "radii": m.rollers.places.iter().map(|r| r.radius).collect::<Vec<_>>(),
            "friction_angle": d.wheel_angle, "bushing": s.bushing_friction,
            "rate": d.rise_rate(&m, turn),
        }));
        let count = figures(&a, &s).len();
        out.push(json!({ "kind": "count", "figures": count }));
    }
    for i in 0..40 {
        let t = i as f64;
        let (r, h) = (40.0 + 9.0 * t, 8.0 + t / 2.0);
        let (inner, outer) = beams::curved_bar(10.0 + t, 5.0 + 3.0 * t, r, h, 6.0 + t / 4.0);
        out.push(json!({
            "kind": "bow", "force": 10.0 + t, "e": 5.0 + 3.0 * t, "r": r, "h": h, "t": 6.0 + t / 4.0,
            "inner": inner, "outer": outer,
        }));
    }
    for f in (30..=140).step_by(10) {
        for rh in (5..=95).step_by(10) {
            let c = (f as f64 - 32.0) / 1.8;
            out.push(json!({
                "kind": "moisture", "fahrenheit": f, "humidity": rh,
                "ours": wood::equilibrium_moisture(c, rh as f64),
            }));
        }
    }
    for w in wood::all() {
        out.push(json!({ "kind": "species", "id": w.id, "modulus": w.modulus, "rupture": w.rupture }));
    }
    println!("{}", Value::Array(out));
}
