//! Plain and stable names for corners and arcs.
//!
//! In: an outline in the datum frame. Out: an identifier and a plain name for every corner and arc.
//! Always true: names come from where a corner lies (a tip, a shoulder, the second pair from the datum),
//! never from its place in a list, so moving a size keeps every name.

use crate::frame::{Frame, OriginKind, SAME, full_circle};
use core::f64::consts::PI;
use turnleaf_geom::{Ring, Seg, Vec2};

/// An identifier and a plain name.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Name {
    /// Stable identifier.
    pub id: String,
    /// Plain words, fit for a sentence.
    pub words: String,
}

impl Name {
    fn new(id: impl Into<String>, words: impl Into<String>) -> Name {
        Name { id: id.into(), words: words.into() }
    }
    /// A name of something that belongs to this.
    pub fn tail(&self, id: &str, words: &str) -> Name {
        Name::new(format!("{}/{id}", self.id), format!("{words}{}", self.words))
    }
}

/// A corner's plain name without which side or which arm it is on: what alike corners have in common.
pub fn general(words: &str) -> String {
    let mut out: Vec<&str> = Vec::new();
    let mut skip = 0;
    for w in words.split(' ') {
        if skip > 0 {
            skip -= 1;
        } else if w == "arm" {
            // "of arm 3", "by arm 3"
            out.pop();
            skip = 1;
        } else if w != "left" && w != "right" {
            out.push(w);
        }
    }
    out.join(" ")
}

/// Names of the corners and of the arcs (by edge) of an outline.
pub fn of_outline(ring: &Ring, frame: &Frame) -> (Vec<Name>, Vec<Name>) {
    let n = ring.vertices.len();
    if full_circle(ring).is_some() {
        let rim = Name::new("rim", "the rim");
        return (vec![rim.clone(); n], vec![rim; n]);
    }
    if frame.pins.is_some() {
        return (arm_corners(ring, frame), arm_arcs(ring, frame));
    }
    let corners = if frame.fold >= 3 && frame.mirror {
        repeated_corners(ring, frame.fold)
    } else if frame.mirror {
        mirrored_corners(ring, frame)
    } else {
        (1..=n).map(|i| Name::new(format!("corner-{i}"), format!("corner {i}"))).collect()
    };
    let arcs = arcs(ring, &corners, frame);
    (corners, arcs)
}

fn side(y: f64) -> (&'static str, &'static str) {
    if y >= 0.0 { ("a", "left") } else { ("b", "right") }
}

/// Distinct |y|>0 corner pairs from the datum outwards, and corners on the line.
fn mirrored_corners(ring: &Ring, frame: &Frame) -> Vec<Name> {
    let mut stations: Vec<(f64, f64)> = Vec::new();
    for q in ring.vertices.iter().filter(|q| q.p.y > SAME) {
        stations.push((q.p.x, q.p.y));
    }
    stations.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    let arcs = ring.vertices.iter().filter(|q| q.bulge != 0.0).count();
    let tips = ring.vertices.iter().filter(|q| q.p.y.abs() <= SAME).count();
    let sector = stations.len() == 1 && tips == 1 && arcs == 1;
    let leaf = stations.len() == 2 && tips == 1 && frame.origin == OriginKind::Tip;
    ring.vertices
        .iter()
        .map(|q| {
            if q.p.y.abs() <= SAME {
                let left = ring.vertices.iter().all(|o| o.p.y.abs() > SAME || o.p.x >= q.p.x - SAME);
                return match sector || left {
                    true => Name::new("tip", "the tip"),
                    false => Name::new("far-tip", "the far tip"),
                };
            }
            let k = stations
                .iter()
                .position(|s| (s.0 - q.p.x).abs() <= SAME && (s.1 - q.p.y.abs()).abs() <= SAME)
                .map_or(0, |k| k + 1);
            let (s, words) = side(q.p.y);
            match (sector, leaf, k) {
                (true, _, _) => Name::new(format!("outer-corner-{s}"), format!("the {words} outer corner")),
                (_, true, 1) => Name::new(format!("shoulder-{s}"), format!("the {words} shoulder")),
                (_, true, _) => Name::new(format!("outer-corner-{s}"), format!("the {words} outer corner")),
                _ if stations.len() == 1 => Name::new(format!("corner-{s}"), format!("the {words} corner")),
                _ if stations.len() == 2 && frame.origin == OriginKind::EndEdge => {
                    let end = if k == 1 { "datum" } else { "far" };
                    Name::new(format!("corner-{k}{s}"), format!("the {words} corner at the {end} end"))
                }
                _ => Name::new(
                    format!("corner-{k}{s}"),
                    format!("the {words} corner of pair {k} from the datum"),
                ),
            }
        })
        .collect()
}

/// Corners of an outline of equal arms, named within one arm and numbered by arm.
fn repeated_corners(ring: &Ring, fold: usize) -> Vec<Name> {
    let step = 2.0 * PI / fold as f64;
    let local = |p: Vec2| {
        let arm = (p.angle() / step).round();
        (arm.rem_euclid(fold as f64) as usize + 1, p.rot(-arm * step))
    };
    // Distances from the centre, so that a level has one name in every arm.
    let mut levels: Vec<(f64, f64)> = Vec::new();
    for q in &ring.vertices {
        let (_, p) = local(q.p);
        let key = (p.norm(), p.y.abs());
        if !levels.iter().any(|l| (l.0 - key.0).abs() < SAME && (l.1 - key.1).abs() < 10.0 * SAME) {
            levels.push(key);
        }
    }
    levels.sort_by(|a, b| a.0.total_cmp(&b.0));
    let swallow = levels.len() == 3 && levels.iter().filter(|l| l.1 < SAME).count() == 1;
    ring.vertices
        .iter()
        .map(|q| {
            let (arm, p) = local(q.p);
            let k = levels.iter().position(|l| (l.0 - p.norm()).abs() < SAME).map_or(0, |k| k + 1);
            let between = (p.angle().abs() - step / 2.0).abs() * p.norm() < SAME;
            let (s, words) = side(p.y);
            if between {
                return Name::new(
                    format!("inner-corner-{k}-{arm}"),
                    format!("the inner corner by arm {arm}"),
                );
            }
            if p.y.abs() < SAME {
                let word = if swallow { "notch" } else { "tip" };
                return Name::new(format!("{word}-{k}-{arm}"), format!("the {word} of arm {arm}"));
            }
            let word = if swallow { "point" } else { "corner" };
            Name::new(format!("{word}-{k}-{arm}{s}"), format!("the {words} {word} of arm {arm}"))
        })
        .collect()
}

fn arm_corners(ring: &Ring, frame: &Frame) -> Vec<Name> {
    let n = ring.vertices.len();
    let mid = ring.vertices.iter().map(|q| q.p.x).sum::<f64>() / n as f64;
    let segs: Vec<Seg> = ring.segs().collect();
    (0..n)
        .map(|i| {
            let pin = if ring.vertices[i].p.x < mid { 1 } else { 2 };
            // Each corner joins a round end and a side; the outer side of a bent arm turns counter-clockwise.
            let outer = [&segs[i], &segs[(i + n - 1) % n]].iter().any(|s| match s {
                Seg::Arc(a) => frame.pin_at(a.centre).is_none() && a.sweep > 0.0,
                Seg::Line(a, b) => a.y + b.y > 0.0,
            });
            let id = if outer { "outer" } else { "inner" };
            Name::new(format!("end-{pin}/{id}"), format!("the {id} corner of the round end at pin {pin}"))
        })
        .collect()
}

fn arm_arcs(ring: &Ring, frame: &Frame) -> Vec<Name> {
    ring.segs()
        .map(|s| match s {
            Seg::Arc(a) => match frame.pin_at(a.centre) {
                Some(pin) => Name::new(format!("end-{pin}"), format!("the round end at pin {pin}")),
                None if a.sweep > 0.0 => Name::new("outer-arc", "the outer curve"),
                None => Name::new("inner-arc", "the inner curve"),
            },
            Seg::Line(..) => Name::new("side", "the straight side"),
        })
        .collect()
}

/// Arcs are called after the corners they join, except where there is only one or an outer and an inner one.
fn arcs(ring: &Ring, corners: &[Name], frame: &Frame) -> Vec<Name> {
    let radii: Vec<f64> =
        ring.segs().filter_map(|s| if let Seg::Arc(a) = s { Some(a.radius) } else { None }).collect();
    let n = corners.len();
    ring.segs()
        .enumerate()
        .map(|(i, s)| {
            let Seg::Arc(a) = s else { return corners[i].tail("edge", "the edge from ") };
            if radii.len() == 1 {
                return Name::new("outer-arc", "the outer arc");
            }
            if radii.len() == 2 && frame.origin == OriginKind::ArcCentre {
                let outer = radii.iter().all(|&r| r <= a.radius + SAME);
                return if outer {
                    Name::new("outer-arc", "the outer arc")
                } else {
                    Name::new("inner-arc", "the inner arc")
                };
            }
            let (p, q) = (&corners[i], &corners[(i + 1) % n]);
            Name::new(format!("arc/{}", p.id), format!("the arc from {} to {}", p.words, q.words))
        })
        .collect()
}

/// Names within a recess.
pub fn of_pocket(ring: &Ring, owner: &Name) -> (Vec<Name>, Vec<Name>) {
    let n = ring.vertices.len();
    let corners = (1..=n).map(|i| owner.tail(&format!("corner-{i}"), &format!("corner {i} of "))).collect();
    let arcs = (1..=n).map(|i| owner.tail(&format!("arc-{i}"), &format!("arc {i} of "))).collect();
    (corners, arcs)
}

#[cfg(test)]
mod tests {
    use super::general;

    #[test]
    fn alike_corners_share_a_general_name() {
        assert_eq!(general("the left shoulder"), "the shoulder");
        assert_eq!(general("the inner corner by arm 3"), "the inner corner");
        assert_eq!(general("the right point of arm 12"), "the point");
        assert_eq!(general("the tip"), "the tip");
    }
}
