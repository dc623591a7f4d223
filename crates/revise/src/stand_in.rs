//! The newer table with older parts in it.
//!
//! In: both tables and the verdicts. Out: the newer table in which every part that stays good is the old one, as it
//! was cut, in its lie. The motion proof and the checks can then be asked about that table.
//! Always true: only parts that stay good are taken; pieces, places and motions are the newer table's.

use crate::verdict::{PartVerdict, Verdict};
use turnleaf_geom::{Pose2, Vertex};
use turnleaf_parts::{Assembly, Feature, FeatureKind, Layer, Part};

/// The newer table with the old parts that stay good.
pub fn stand_in(old: &[Part], new: &Assembly, verdicts: &[PartVerdict]) -> Assembly {
    let mut out = new.clone();
    for v in verdicts.iter().filter(|v| v.verdict == Verdict::Good) {
        let source = old.iter().find(|p| p.id == v.part);
        let place = out.parts.iter_mut().find(|p| p.id == v.part);
        if let (Some(source), Some(place)) = (source, place) {
            let pose = v.lie.pose();
            place.thickness = source.thickness;
            place.outline = source.outline.moved(&pose);
            place.features = source.features.iter().map(|f| moved(f, &pose)).collect();
            place.layers =
                source.layers.iter().map(|l| Layer { region: l.region.moved(&pose), ..l.clone() }).collect();
        }
    }
    out
}

/// A feature in another place.
fn moved(f: &Feature, pose: &Pose2) -> Feature {
    let kind = match &f.kind {
        FeatureKind::Hole { centre, diameter, depth } => {
            FeatureKind::Hole { centre: pose.apply(*centre), diameter: *diameter, depth: *depth }
        }
        FeatureKind::Slot { a, b, width, depth } => {
            FeatureKind::Slot { a: pose.apply(*a), b: pose.apply(*b), width: *width, depth: *depth }
        }
        FeatureKind::CurvedSlot { way, width, depth } => FeatureKind::CurvedSlot {
            way: way.iter().map(|q| Vertex { p: pose.apply(q.p), bulge: q.bulge }).collect(),
            width: *width,
            depth: *depth,
        },
        FeatureKind::Pocket { ring, depth } => FeatureKind::Pocket { ring: ring.moved(pose), depth: *depth },
        // These go with the outline.
        other => other.clone(),
    };
    Feature { kind, ..f.clone() }
}
