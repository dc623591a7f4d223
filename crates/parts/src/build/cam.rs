//! The cam plate: its slots as chains of arcs that a maker can set out with a trammel.
//!
//! In: a cam, the places of its pins. Out: the centre line of a slot as stations and arcs, and the plate.
//! Always true: a centre line keeps within [`SLOT_DEVIATION`] of the pin's true way; its first and last
//! stations lie on that way exactly; no more stations are used than that takes, spread so that every arc
//! strays about equally.

use super::{Builder, Draft, base, feature, fixings, hole};
use crate::part::{Depth, FeatureKind};
use crate::piece::Motion;
use core::f64::consts::PI;
use turnleaf_geom::{Pose2, Ring, Vec2, Vertex, trig};
use turnleaf_mechanism::{
    cam::{Cam, SLOT_PLAY, Track},
    stack::DriveLevels,
};

/// Farthest that a slot's centre line may stray from the pin's true way, mm: a fifth of the pin's play.
/// Larger would spare stations and eat the play; smaller would ask for figures nobody can set out.
pub const SLOT_DEVIATION: f64 = 0.05;
/// Places looked at along an arc. Fewer could miss the place where it strays farthest.
const LOOKS: usize = 32;

struct Way<'a> {
    cam: &'a Cam,
    track: &'a Track,
    line: f64,
}

/// An arc between two turns: its bulge, and how far the way strays from it.
#[derive(Clone, Copy)]
struct Fit {
    bulge: f64,
    off: f64,
}

impl Way<'_> {
    fn at(&self, turn: f64) -> Vec2 {
        self.cam.pin(self.track, self.line, turn)
    }
    /// The arc through both ends and the way's middle; a straight line where that keeps near enough.
    fn fit(&self, from: f64, to: f64, allowed: f64) -> Fit {
        let (a, b) = (self.at(from), self.at(to));
        let inside: Vec<Vec2> =
            (1..LOOKS).map(|k| self.at(from + (to - from) * k as f64 / LOOKS as f64)).collect();
        let chord = (b - a).unit();
        let straight = inside.iter().map(|p| (*p - a).cross(chord).abs()).fold(0.0, f64::max);
        if straight <= allowed {
            return Fit { bulge: 0.0, off: straight };
        }
        // Directions to and from a point of an arc differ by half its sweep (inscribed angle).
        let m = inside[LOOKS / 2 - 1];
        let (u, w) = (m - a, b - m);
        let bulge = trig::tan(trig::atan2(u.cross(w), u.dot(w)) / 2.0);
        let turnleaf_geom::Seg::Arc(arc) = turnleaf_geom::Seg::between(Vertex { p: a, bulge }, b) else {
            return Fit { bulge: 0.0, off: straight };
        };
        let off = inside.iter().map(|p| (p.dist(arc.centre) - arc.radius).abs()).fold(0.0, f64::max);
        Fit { bulge, off }
    }
    /// Stations that keep within `allowed`, each arc as long as it can be; nothing when more than `most` arcs
    /// would be needed.
    fn chain(&self, allowed: f64, most: usize) -> Option<Vec<Vertex>> {
        let whole = self.cam.turn();
        let mut out: Vec<Vertex> = Vec::new();
        let mut from = 0.0;
        while from < whole - 1e-9 {
            if out.len() >= most {
                return None;
            }
            let (mut low, mut high) = (from, whole);
            if self.fit(from, whole, allowed).off > allowed {
                // A hundredth of a degree is finer than any station need be placed.
                while high - low > trig::rad(0.01) {
                    let middle = (low + high) / 2.0;
                    if self.fit(from, middle, allowed).off <= allowed { low = middle } else { high = middle }
                }
            } else {
                low = whole;
            }
            let to = if low > from { low } else { (from + trig::rad(0.01)).min(whole) };
            out.push(Vertex { p: self.at(from), bulge: self.fit(from, to, allowed).bulge });
            from = to;
        }
        out.push(Vertex { p: self.at(whole), bulge: 0.0 });
        Some(out)
    }
}

/// The centre line of a pin's slot, from the closed end to the open end, base frame.
pub fn slot_way(cam: &Cam, track: &Track, line: f64) -> Vec<Vertex> {
    let way = Way { cam, track, line };
    let Some(mut best) = way.chain(SLOT_DEVIATION, usize::MAX) else { return Vec::new() };
    // The same number of arcs with less straying: none is left with a scrap at the end.
    let arcs = best.len() - 1;
    let (mut low, mut high) = (0.0, SLOT_DEVIATION);
    for _ in 0..8 {
        let middle = (low + high) / 2.0;
        match way.chain(middle, arcs) {
            Some(found) => (best, high) = (found, middle),
            None => low = middle,
        }
    }
    best
}

/// The cam plate, when there is one.
pub(super) fn plate(b: &mut Builder) {
    let m = b.m;
    let (Some(cam), DriveLevels::Cam { plate }) = (m.cam(), m.stack.drive) else { return };
    let width = 2.0 * (m.members.pin + SLOT_PLAY);
    let mut features = vec![hole("centre", "centre post", Vec2::ZERO, 2.0 * m.members.centre_post)];
    let n = m.sizes.sectors;
    for (name, purpose, track, start) in [
        ("panel-slot", "panel slide pin", &cam.panel, m.layout.skew),
        ("leaf-slot", "leaf slide pin", &cam.leaf, m.layout.half_sector),
    ] {
        // One slot is found; the others are that one turned, so that all are alike to the last digit.
        let first = slot_way(cam, track, start);
        for k in 0..n {
            let turn = 2.0 * PI * k as f64 / n as f64;
            let way = first.iter().map(|q| Vertex { p: q.p.rot(turn), ..*q }).collect();
            let kind = FeatureKind::CurvedSlot { way, width, depth: Depth::Through };
            features.push(feature(format!("{name}/{}", k + 1), purpose, kind));
        }
    }
    features.extend(base::pockets(m, 0.0, plate.thickness()));
    for (i, at) in fixings::rim_screws(m, b.stops.as_ref().ok()).into_iter().enumerate() {
        let id = format!("screw/{}", i + 1);
        features.push(hole(id, "screw into the base", at, fixings::CAM_HOLE));
    }
    b.add(
        Draft {
            id: "cam-plate",
            name: "Cam plate",
            material: "plate stock",
            made: true,
            thickness: plate.thickness(),
            outline: Ring::circle(Vec2::ZERO, m.rollers.base_radius),
            features,
            notes: vec![
                "Screwed to the base plate; wax the slots.".into(),
                "Countersink its screws' holes from above, flush.".into(),
                format!(
                    "The pins are {} mm thick; the arcs keep the slots within {SLOT_DEVIATION:.2} mm of the pins' \
                     true ways.",
                    2.0 * m.members.pin
                ),
            ],
        },
        vec![(Pose2::default(), plate.bottom, Motion::Base)],
    );
}
