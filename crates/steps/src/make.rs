//! Steps at the bench: outlines, joints, slots, pin circles, glueing, fitting slides.
//!
//! In: the parts with their features. Out: steps in order; what a table does not need is left out.
//! Always true: every made part stands in at least one of these steps; numbers come from the features that are cut or
//! from the solved numbers, never from a table of their own.

use crate::line::{BuildStep, Value};
use crate::time::{Cuts, Work, minutes};
use crate::{Line, Table};
use turnleaf_geom::{Vec2, trig};
use turnleaf_parts::build::{SLIDE_PLAY, SLIDE_TONGUE};
use turnleaf_parts::{Assembly, Depth, Face, Feature, FeatureKind, Part};

const TOP: [&str; 3] = ["panel", "leaf", "star"];
const PLATES: [&str; 7] = [
    "base-upper-ply",
    "base-lower-ply",
    "cam-plate",
    "glide-ring",
    "turning-plate",
    "rising-plate",
    "star-hub",
];
const SLIDES: [&str; 5] = ["panel-slide", "panel-guide", "leaf-slide", "leaf-guide", "stiffening-ring"];
const ARMS: [&str; 2] = ["panel-arm", "leaf-arm"];
const FRAME: [&str; 3] = ["leg", "rail-long", "rail-short"];
const PLIES: [&str; 2] = ["base-upper-ply", "base-lower-ply"];

struct Bench<'a> {
    a: &'a Assembly,
    out: Vec<BuildStep>,
}

impl Bench<'_> {
    fn parts(&self, ids: &[&str], keep: impl Fn(&Part) -> bool) -> Vec<usize> {
        let index = |id: &&str| self.a.parts.iter().position(|p| p.id == *id && p.made && keep(p));
        ids.iter().filter_map(index).collect()
    }
    /// Adds a step about parts; nothing when there are none.
    fn step(
        &mut self,
        key: &str,
        parts: Vec<usize>,
        cuts: Cuts,
        fill: impl FnOnce(&Assembly, &mut BuildStep),
    ) {
        if parts.is_empty() {
            return;
        }
        let mut s = BuildStep::new("make", key);
        let mut work = Work::default();
        for &k in &parts {
            let part = &self.a.parts[k];
            work.add(part, part.count, cuts);
            s.pieces.push((k, part.count));
        }
        s.minutes = minutes(&work);
        fill(self.a, &mut s);
        // What is worked on further must have been cut first.
        s.needs = self
            .out
            .iter()
            .filter(|o| o.pieces.iter().any(|p| parts.contains(&p.0)))
            .map(|o| o.id.clone())
            .collect();
        self.out.push(s);
    }
}

/// The steps at the bench.
pub(crate) fn steps(t: &Table) -> Vec<BuildStep> {
    let a = t.assembly;
    let m = &a.mechanism;
    let s = &m.sizes;
    let (length, solved) = (Value::Length, Value::Solved);
    let mut b = Bench { a, out: Vec::new() };
    let mut stock = BuildStep::new("make", "stock");
    stock.say("step-stock-text", []);
    for (name, mm) in [
        ("top", s.stock_thickness),
        ("plate", s.plate_thickness),
        ("ply", s.ply_thickness),
        ("slide", s.slide_thickness),
        ("arm", s.arm_thickness),
    ] {
        if name != "arm" || m.arms().is_some() {
            stock.set(&format!("step-stock-{name}"), [("thickness", length(mm))]);
        }
    }
    stock.check("step-stock-check", [("play", length(s.play))]);
    stock.beware(&["dust"]);
    stock.minutes = minutes(&Work::default());
    b.out.push(stock);

    let top = b.parts(&TOP, |_| true);
    b.step("top", top, Cuts::Outline, |_, st| {
        st.say(
            "step-top-text",
            [
                ("angle", solved("panel.angle")),
                ("radius", solved("closed.radius")),
                ("gap", solved("gap.width")),
                ("fit", length(s.fitting_gap)),
                ("tip", solved("leaf.tip-half-angle")),
            ],
        );
        st.check("step-top-check", [("closed", solved("closed.diameter")), ("gap", solved("gap.width"))]);
        st.beware(&["blade"]);
    });
    let edged = b.parts(&TOP, |p| p.features.iter().any(edge));
    b.step("joints", edged, Cuts::Edges, |a, st| {
        joints(a, st);
        st.beware(&["router"]);
    });
    let drilled = b.parts(&TOP, |p| p.features.iter().any(blind));
    b.step("top-holes", drilled, Cuts::Holes, |a, st| {
        let deepest =
            TOP.iter().filter_map(|id| a.part(id)).flat_map(|p| &p.features).filter_map(blind_depth);
        let deepest = deepest.fold(0.0, f64::max);
        let values = [("depth", length(deepest)), ("rest", length(s.stock_thickness - deepest))];
        st.say("step-top-holes-text", values);
        st.check("step-top-holes-check", []);
    });
    let plates = b.parts(&PLATES, |_| true);
    b.step("plates", plates, Cuts::Outline, |a, st| {
        st.say("step-plates-text", []);
        for (k, _) in st.pieces.clone() {
            let part = &a.parts[k];
            let radius = match part.id.as_str() {
                "base-upper-ply" | "base-lower-ply" | "cam-plate" | "glide-ring" => {
                    solved("plate.base-radius")
                }
                "turning-plate" => solved("plate.turning-radius"),
                "rising-plate" => solved("plate.rising-radius"),
                _ => length(part.outline.reach()),
            };
            st.set("step-plates-set", [("part", Value::Part(part.id.clone())), ("radius", radius)]);
        }
        st.check("step-plates-check", []);
        st.beware(&["router", "dust"]);
    });
    let slotted = b.parts(&PLATES, |p| p.features.iter().any(slot));
    b.step("slots", slotted, Cuts::Slots, |a, st| {
        st.say("step-slots-text", []);
        for (k, _) in st.pieces.clone() {
            slots(&a.parts[k], st);
        }
        st.check("step-slots-check", [("pin", length(2.0 * m.members.pin))]);
        st.beware(&["router"]);
    });
    let plies = b.parts(&PLIES, |_| true);
    b.step("base-plate", plies.clone(), Cuts::Holes, |a, st| {
        let thick = PLIES.iter().filter_map(|id| a.part(id)).map(|p| p.thickness).sum();
        st.say("step-base-plate-text", [("thick", length(thick))]);
        let upper = a.part("base-upper-ply");
        let rail: Vec<f64> = upper
            .iter()
            .flat_map(|p| &p.features)
            .filter(|f| f.id.starts_with("rail-screw/"))
            .filter_map(bore)
            .collect();
        if let Some(&hole) = rail.first() {
            let values = [("count", Value::Count(rail.len())), ("hole", length(hole))];
            st.say("step-base-plate-screws", values);
        }
        st.check("step-base-plate-check", [("thick", length(thick))]);
        st.beware(&["glue"]);
    });
    if m.arms().is_some() {
        b.step("pin-circles", plies, Cuts::Holes, |_, st| pin_circles(a, st));
    }
    let slides = b.parts(&SLIDES, |_| true);
    b.step("slides", slides, Cuts::All, |a, st| {
        let slide = a.part("panel-slide");
        let third = slide.and_then(|p| p.features.iter().find_map(tall)).unwrap_or_default();
        st.say(
            "step-slides-text",
            [
                ("width", length(m.members.slide_width)),
                ("deep", length(SLIDE_TONGUE)),
                ("third", length(third)),
                ("play", length(SLIDE_PLAY)),
            ],
        );
        st.check("step-slides-check", [("play", length(SLIDE_PLAY))]);
        st.beware(&["blade", "router"]);
    });
    let arms = b.parts(&ARMS, |_| true);
    b.step("arms", arms, Cuts::All, |a, st| {
        st.say("step-arms-text", [("width", length(s.arm_width))]);
        for (id, long, bend) in [
            ("panel-arm", "panel.arm.length", "panel.arm.bend"),
            ("leaf-arm", "leaf.arm.length", "leaf.arm.bend"),
        ] {
            let values = [("part", Value::Part(id.into())), ("length", solved(long)), ("bend", solved(bend))];
            st.set("step-arms-set", values);
        }
        let hole = a.part("panel-arm").and_then(|p| p.features.iter().find_map(bore));
        st.check(
            "step-arms-check",
            [("hole", length(hole.unwrap_or_default())), ("pin", length(2.0 * m.members.pin))],
        );
        st.beware(&["metal"]);
    });
    let taken: Vec<&str> = [&TOP[..], &PLATES, &SLIDES, &ARMS, &FRAME].concat();
    let small: Vec<usize> = (0..a.parts.len())
        .filter(|k| a.parts[*k].made && !taken.contains(&a.parts[*k].id.as_str()))
        .collect();
    b.step("small", small, Cuts::All, |a, st| {
        st.say(
            "step-small-text",
            [
                ("step", solved("lift.step")),
                ("outer", solved("roller.outer-arc")),
                ("inner", solved("roller.inner-arc")),
                ("lever", solved("lift.lever-arm")),
            ],
        );
        st.check("step-small-check", [("step", solved("lift.step"))]);
        if a.part("pin-plate").is_some() {
            st.say("step-small-plates", [("pin", length(2.0 * m.members.pin))]);
        }
        st.beware(&["small"]);
    });
    let frame = b.parts(&FRAME, |_| true);
    b.step("frame-parts", frame, Cuts::Outline, |a, st| {
        let leg = a.part("leg").map_or(0.0, |p| p.thickness);
        st.say("step-frame-parts-text", [("leg", length(leg))]);
        st.check("step-frame-parts-check", []);
        st.beware(&["blade"]);
    });
    bars(a, &mut b.out);
    b.out
}

fn edge(f: &Feature) -> bool {
    matches!(f.kind, FeatureKind::EdgeGroove { .. } | FeatureKind::EdgeTongue { .. })
}
fn slot(f: &Feature) -> bool {
    matches!(f.kind, FeatureKind::Slot { .. } | FeatureKind::CurvedSlot { .. } | FeatureKind::Pocket { .. })
}
fn blind_depth(f: &Feature) -> Option<f64> {
    match f.kind {
        FeatureKind::Hole { depth: Depth::Blind(Face::Bottom, d), .. } => Some(d),
        _ => None,
    }
}
/// Height of a tongue.
fn tall(f: &Feature) -> Option<f64> {
    match f.kind {
        FeatureKind::EdgeTongue { z, .. } => Some(z.1 - z.0),
        _ => None,
    }
}
fn blind(f: &Feature) -> bool {
    blind_depth(f).is_some()
}
fn bore(f: &Feature) -> Option<f64> {
    match f.kind {
        FeatureKind::Hole { diameter, .. } => Some(diameter),
        _ => None,
    }
}

/// Set-ups for the tongues and grooves of the top.
fn joints(a: &Assembly, st: &mut BuildStep) {
    let all = || TOP.iter().filter_map(|id| a.part(id)).flat_map(|p| &p.features);
    let length = Value::Length;
    let tongue = all().find_map(|f| match f.kind {
        FeatureKind::EdgeTongue { depth, z, .. } => Some((depth, z)),
        _ => None,
    });
    let groove = all().find_map(|f| match f.kind {
        FeatureKind::EdgeGroove { depth, z, .. } => Some((depth, z)),
        _ => None,
    });
    st.say("step-joints-text", []);
    for (name, found) in [("step-joints-tongue", tongue), ("step-joints-groove", groove)] {
        let Some((depth, z)) = found else { continue };
        st.set(name, [("depth", length(depth)), ("tall", length(z.1 - z.0)), ("up", length(z.0))]);
    }
    if let (Some((_, t)), Some((_, g))) = (tongue, groove) {
        st.check("step-joints-check", [("play", length((g.1 - g.0) - (t.1 - t.0)))]);
    }
}

/// Set-ups for the slots and pockets of one part: those alike are said once.
fn slots(part: &Part, st: &mut BuildStep) {
    let mut families: Vec<(String, Line, usize)> = Vec::new();
    let name = || ("part", Value::Part(part.id.clone()));
    for f in part.features.iter().filter(|f| slot(f)) {
        let family = f.id.split('/').next().unwrap_or_default().to_string();
        if let Some(known) = families.iter_mut().find(|x| x.0 == family) {
            known.2 += 1;
            continue;
        }
        let length = Value::Length;
        let line = match &f.kind {
            FeatureKind::Slot { a, b, width, .. } => {
                let (near, far) = (a.norm().min(b.norm()), a.norm().max(b.norm()));
                let values =
                    [name(), ("width", length(*width)), ("near", length(near)), ("far", length(far))];
                Line::with("step-slots-straight", values)
            }
            FeatureKind::CurvedSlot { width, way, .. } => {
                let end = |p: Option<&turnleaf_geom::Vertex>| length(p.map_or(0.0, |q| q.p.norm()));
                let values =
                    [name(), ("width", length(*width)), ("near", end(way.first())), ("far", end(way.last()))];
                Line::with("step-slots-curved", values)
            }
            FeatureKind::Pocket { ring, depth } => {
                let reach = ring.vertices.iter().map(|q| q.p.norm()).fold(0.0, f64::max);
                match depth {
                    Depth::Through => Line::with("step-slots-opening", [name(), ("far", length(reach))]),
                    Depth::Blind(_, d) => Line::with(
                        "step-slots-pocket",
                        [name(), ("far", length(reach)), ("depth", length(*d))],
                    ),
                }
            }
            _ => continue,
        };
        families.push((family, line, 1));
    }
    for (_, mut line, count) in families {
        line.values.push(("count", Value::Count(count)));
        st.settings.push(line);
    }
}

/// Pin circles of the base plate: radius, and the distance between neighbours to check them by.
fn pin_circles(a: &Assembly, st: &mut BuildStep) {
    let Some(arms) = a.mechanism.arms() else { return };
    let h = a.mechanism.layout.half_sector;
    st.say("step-pin-circles-text", [("pin", Value::Length(2.0 * a.mechanism.members.pin))]);
    for (id, number, radius) in [
        ("panel-crank-pin", "panel.arm.pin-radius", arms.panel.crank.pin_radius),
        ("leaf-crank-pin", "leaf.arm.pin-radius", arms.leaf.crank.pin_radius),
    ] {
        // Neighbours on a circle are 2·r·sin(π/n) apart.
        let chord = 2.0 * radius * trig::sin(h);
        let values = [
            ("part", Value::Part(id.into())),
            ("count", Value::Count(a.part(id).map_or(0, |p| p.count))),
            ("radius", Value::Solved(number)),
            ("chord", Value::Length(chord)),
        ];
        st.set("step-pin-circles-set", values);
    }
    let first = |id: &str| {
        let upper = a.part("base-upper-ply")?;
        upper.features.iter().find_map(|f| match f.kind {
            FeatureKind::Hole { centre, .. } if f.id == format!("{id}/1") => Some(centre),
            _ => None,
        })
    };
    if let (Some(p), Some(q)) = (first("panel-crank-pin"), first("leaf-crank-pin")) {
        st.check("step-pin-circles-check", [("apart", Value::Length(Vec2::dist(p, q)))]);
    }
}

/// Bought bar, tube and dowel, cut to length.
fn bars(a: &Assembly, out: &mut Vec<BuildStep>) {
    let mut st = BuildStep::new("make", "bars");
    st.say("step-bars-text", []);
    let mut work = Work::default();
    for (k, part) in a.parts.iter().enumerate() {
        let placed = a.pieces.iter().any(|p| p.part == k);
        let cut = ["rod", "shaft", "tube", "dowel", "class"].iter().any(|w| part.material.contains(w));
        if part.made || !placed || !cut {
            continue;
        }
        work.pieces += part.count as f64;
        let values = [
            ("part", Value::Part(part.id.clone())),
            ("count", Value::Count(part.count)),
            ("length", Value::Length(part.thickness)),
        ];
        st.set("step-bars-set", values);
    }
    if st.settings.is_empty() {
        return;
    }
    st.check("step-bars-check", []);
    st.beware(&["metal"]);
    st.minutes = minutes(&work);
    out.push(st);
}
