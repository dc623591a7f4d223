//! Putting right what is not as the sizes give it.
//!
//! In: an assembly that differs from what its own sizes give, in its mechanism or in single parts. Out:
//! [`Remedy`]s that say what to set back, from what to what.
//! Always true: the smallest change that meets the goal comes first, everything at once last.

use crate::dial::plain;
use crate::goal::Goal;
use crate::remedy::{Change, Remedy, with_members, with_part};
use turnleaf_geom::trig::deg;
use turnleaf_mechanism::Mechanism;
use turnleaf_mechanism::arms::ArmSet;
use turnleaf_parts::{Assembly, Depth, Feature, FeatureKind, Part, assemble};

/// Changes back that meet the goal. `built` is what the present mechanism gives, `solved` the mechanism that the
/// present sizes give, if they give one.
pub(crate) fn remedies(
    a: &Assembly,
    built: &Assembly,
    solved: Option<&Mechanism>,
    goal: &Goal,
) -> Vec<Remedy> {
    let mut out = Vec::new();
    for part in &a.parts {
        let Some(should) = built.part(&part.id) else { continue };
        let Some(text) = differs(a, built, part, should) else { continue };
        if with_part(a, built, &part.id).is_some_and(|b| goal.met(&b)) {
            out.push(Remedy { text, change: Change::Part { id: part.id.clone() } });
        }
    }
    let (m, Some(f)) = (&a.mechanism, solved) else { return out };
    let members = [
        (Change::Rollers, rollers(m, f)),
        (Change::PanelArms, arms(m, f, "panel", |m| m.arms().map(|a| a.panel))),
        (Change::LeafArms, arms(m, f, "leaf", |m| m.arms().map(|a| a.leaf))),
    ];
    for (change, text) in members {
        let Some(text) = text else { continue };
        if goal.met(&assemble(&with_members(m, f, &change))) {
            out.push(Remedy { text, change });
        }
    }
    if out.is_empty() && goal.met(&assemble(f)) {
        let text =
            "Solve the table again from its sizes: what was changed since does not go with them.".into();
        out.push(Remedy { text, change: Change::Everything });
    }
    out
}

/// Says a length that is to change.
fn length(more: &str, less: &str, from: f64, to: f64) -> Option<String> {
    ((to - from).abs() > 1e-9).then(|| {
        let verb = if to > from { more } else { less };
        format!("{verb} by {} mm: {} mm → {} mm.", plain((to - from).abs()), plain(from), plain(to))
    })
}

fn rollers(m: &Mechanism, fresh: &Mechanism) -> Option<String> {
    let words: Vec<String> = (0..4)
        .filter_map(|i| {
            let (is, should) = (m.rollers.places[i], fresh.rollers.places[i]);
            (is != should).then(|| {
                format!(
                    "Hang drop roller {} at {:.1}° on a circle of {:.1} mm, not at {:.1}° on {:.1} mm.",
                    i + 1,
                    deg(should.direction),
                    should.radius,
                    deg(is.direction),
                    is.radius
                )
            })
        })
        .collect();
    (!words.is_empty()).then(|| words.join(" "))
}

fn arms(
    m: &Mechanism,
    fresh: &Mechanism,
    name: &str,
    read: fn(&Mechanism) -> Option<ArmSet>,
) -> Option<String> {
    let (is, should) = (read(m)?, read(fresh)?);
    let (travel, wanted) = match name {
        "leaf" => (m.layout.leaf_travel, fresh.layout.leaf_travel),
        _ => (m.layout.travel, fresh.layout.travel),
    };
    let tops = if name == "leaf" { "leaves" } else { "panels" };
    let words: Vec<String> = [
        length(
            &format!("Let the {tops} travel further"),
            &format!("Let the {tops} travel less far"),
            travel,
            wanted,
        ),
        length(
            &format!("Move the {name} arms' crank pins out"),
            &format!("Move the {name} arms' crank pins in"),
            is.crank.pin_radius,
            should.crank.pin_radius,
        ),
        length(
            &format!("Lengthen the {name} arms"),
            &format!("Shorten the {name} arms"),
            is.crank.arm,
            should.crank.arm,
        ),
        length(
            &format!("Bend the {name} arms more"),
            &format!("Bend the {name} arms less"),
            is.bend,
            should.bend,
        ),
    ]
    .into_iter()
    .flatten()
    .collect();
    (!words.is_empty()).then(|| words.join(" "))
}

/// How a part or its places differ, as a sentence; None when they do not.
fn differs(a: &Assembly, built: &Assembly, is: &Part, should: &Part) -> Option<String> {
    let name = is.name.to_lowercase();
    let radius = |x: &Assembly| {
        let piece = x.pieces.iter().find(|p| x.part_of(p).id == is.id);
        piece.map_or(0.0, |p| p.at.offset.norm())
    };
    let places = |x: &Assembly| -> Vec<_> {
        x.pieces.iter().filter(|p| x.part_of(p).id == is.id).map(|p| (p.at, p.z)).collect()
    };
    if is == should {
        if places(a) == places(built) {
            return None;
        }
        let plural = if is.count == 1 { name.clone() } else { format!("{name}s") };
        let (out, inward) = (format!("Move the {plural} out"), format!("Move the {plural} in"));
        return length(&out, &inward, radius(a), radius(built))
            .or_else(|| Some(format!("Set the {plural} where the table was solved with them.")));
    }
    for f in &should.features {
        let Some(mine) = is.features.iter().find(|g| g.id == f.id) else {
            return Some(format!("Give the {name} its {} again.", what(f)));
        };
        if let Some(text) = feature(&name, mine, f) {
            return Some(text);
        }
    }
    let far = is
        .outline
        .vertices
        .iter()
        .zip(&should.outline.vertices)
        .map(|(p, q)| p.p.dist(q.p))
        .fold(0.0, f64::max);
    if far > 1e-9 {
        return Some(format!("Cut the outline of the {name} as drawn; it is {} mm off.", plain(far)));
    }
    Some(format!("Make the {name} as drawn."))
}

/// What a feature is for, with its shape.
fn what(f: &Feature) -> String {
    let shape = match f.kind {
        FeatureKind::Hole { .. } => "hole",
        FeatureKind::Slot { .. } | FeatureKind::CurvedSlot { .. } => "slot",
        FeatureKind::Pocket { .. } => "opening",
        FeatureKind::Ramp { .. } => "slope",
        FeatureKind::EdgeGroove { .. } => "groove",
        FeatureKind::EdgeTongue { .. } => "tongue",
    };
    format!("{shape} for: {}", f.purpose)
}

fn feature(name: &str, is: &Feature, should: &Feature) -> Option<String> {
    if is == should {
        return None;
    }
    let purpose = &should.purpose;
    match (&is.kind, &should.kind) {
        (FeatureKind::Slot { a, b, width: w, .. }, FeatureKind::Slot { a: c, b: d, width: x, .. }) => length(
            &format!("Lengthen the slots for the {purpose} in the {name}"),
            &format!("Shorten the slots for the {purpose} in the {name}"),
            a.dist(*b),
            c.dist(*d),
        )
        .or_else(|| {
            length(
                &format!("Widen the slots for the {purpose} in the {name}"),
                &format!("Narrow the slots for the {purpose} in the {name}"),
                *w,
                *x,
            )
        }),
        (FeatureKind::Hole { centre, diameter, .. }, FeatureKind::Hole { centre: c, diameter: d, .. }) => {
            let off = centre.dist(*c);
            length(
                &format!("Widen the hole for the {purpose} in the {name}"),
                &format!("Narrow the hole for the {purpose} in the {name}"),
                *diameter,
                *d,
            )
            .or_else(|| {
                (off > 1e-9)
                    .then(|| format!("Move the hole for the {purpose} in the {name} by {} mm.", plain(off)))
            })
        }
        (FeatureKind::EdgeTongue { depth: p, .. }, FeatureKind::EdgeTongue { depth: q, .. })
        | (FeatureKind::EdgeGroove { depth: p, .. }, FeatureKind::EdgeGroove { depth: q, .. }) => length(
            &format!("Make the {purpose}s of the {name} deeper"),
            &format!("Make the {purpose}s of the {name} shallower"),
            *p,
            *q,
        ),
        (FeatureKind::Pocket { depth: p, .. }, FeatureKind::Pocket { depth: q, .. }) => match (p, q) {
            (Depth::Blind(_, p), Depth::Blind(_, q)) => length(
                &format!("Make the opening for the {purpose} in the {name} deeper"),
                &format!("Make the opening for the {purpose} in the {name} shallower"),
                *p,
                *q,
            ),
            _ => None,
        },
        _ => None,
    }
    .or_else(|| Some(format!("Make the {} of the {name} as drawn.", what(should))))
}
