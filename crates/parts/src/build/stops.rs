//! End stops, the latch that holds both ends, and the hand holds.
//!
//! One stop block hangs from the turning plate outside the base's rim. Under the base's rim stand two end stops:
//! one meets the block's side when closed, the other when open. A keeper bar lies under each end stop and reaches
//! below the block, whose ball plunger drops into the bar's hole at either end of the turn.
//! Frames: stop block — middle of its seat in plan, +x outward. End stop and keeper — the same, so that side by
//! side with the block their x axes are parallel. Hand hold — table's centre, +x along its panel's slide.
//! Always true: mating screw holes come from one expression; sizes are common practice, no source.
//! ```text
//!   turning plate  ==========================
//!                              | block |          (from outside, closed)
//!   base           ==========  |       |
//!                  | end stop ||   o   |          o  ball plunger, pointing down
//!                  |== keeper bar =====o====|     o  hole in the bar
//! ```

use super::fastenings::Screw;
use super::{Builder, Draft, base, feature, frame, hole};
use crate::part::{Depth, Face, Feature, FeatureKind};
use crate::piece::{Law, Motion, Rise};
use core::f64::consts::PI;
use turnleaf_geom::distance::signed_distance;
use turnleaf_geom::{Pose2, Region, Ring, Vec2, trig, vec2::v};
use turnleaf_mechanism::Mechanism;

/// Air between the base's rim and the stop block, mm.
const RIM_AIR: f64 = 3.0;
/// Radial depth of the stop block, mm, where there is room.
const DEPTH: f64 = 26.0;
/// Least radial depth that still takes its screws and the plunger, mm.
const DEPTH_LEAST: f64 = 18.0;
/// Least half width of the stop block, mm: plunger and counterbores side by side with wood between them.
const HALF_LEAST: f64 = 22.0;
/// The block's screws from its sides, mm.
const SCREW_IN: f64 = 8.0;
/// Length of the block's screws, mm.
const BLOCK_SCREW: f64 = 30.0;
/// Least length of an end stop under the base, mm: room for two screws with wood between them.
const SEAT_LEAST: f64 = 30.0;
/// Wood between a screw of an end stop and a roller pocket of the base, mm.
const POCKET_WALL: f64 = 4.0;
/// Thickness of an end stop, mm.
pub const END_STOP: f64 = 20.0;
/// Air between the block and the keeper bar below it, mm: the plunger's ball bridges it.
pub const KEEPER_AIR: f64 = 1.0;
/// Ball plunger M10 × 22 (a usual size of makers' catalogues, from memory): diameter and length, mm.
pub const PLUNGER: (f64, f64) = (10.0, 22.0);
/// Hole that the plunger's ball drops into, mm: narrower than the ball of 6 mm, so that it sits on the hole's edge.
pub const BALL_HOLE: f64 = 5.0;
/// Screw through a piece: clearance hole, mm (5 mm screws).
const CLEAR_HOLE: f64 = 5.5;
/// Pilot hole of a 5 mm wood screw, mm.
const PILOT: f64 = 3.5;

/// Where the stops are and how large, all in mm and radians.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stops {
    /// Direction of the stop block, turning frame; also the base's frame when closed.
    pub direction: f64,
    /// Distance of the block's middle from the centre.
    pub radius: f64,
    /// Radial depth of block, and how far end stop and keeper reach out with it.
    pub depth: f64,
    /// Half the block's width.
    pub half: f64,
    /// Half an end stop's width.
    pub end_half: f64,
    /// How far end stop and keeper reach in under the base, from the block's middle.
    pub seat: f64,
}

/// Why a table has no end stops.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum NoStops {
    /// So much radial room between the base's rim and the closed edge, mm, and so much is needed.
    Narrow(f64, f64),
    /// Nowhere round the rim are both ends clear of legs, guide shafts and roller pockets.
    Crowded,
}

/// Why a table has no end stops; None when it has them.
pub fn why_no_stops(m: &Mechanism) -> Option<NoStops> {
    stops(m, &super::lift::guide_shafts(m)).err()
}

/// Sizes of the stops, or why the table has none.
pub(crate) fn stops(m: &Mechanism, shafts: &[Vec2]) -> Result<Stops, NoStops> {
    let me = &m.members;
    let k = (m.layout.radius / 600.0).clamp(0.6, 1.0);
    let inner = m.rollers.base_radius + RIM_AIR;
    let half = (26.0 * k).max(HALF_LEAST);
    let end_half = 16.0 * k;
    // The keeper's outer corners stay inside the closed edge, and the block's screws inside the plate.
    let along = end_half + 2.0 * half;
    let most = (m.layout.radius - 4.0).powi(2) - along * along;
    let depth = DEPTH.min(most.max(0.0).sqrt() - inner).min(me.turning_plate - 3.0 - inner);
    if depth < DEPTH_LEAST {
        return Err(NoStops::Narrow(depth.max(0.0), DEPTH_LEAST));
    }
    let radius = inner + depth / 2.0;
    let mut s = Stops {
        direction: 0.0,
        radius,
        depth,
        half,
        end_half,
        seat: depth / 2.0 + RIM_AIR + (44.0 * k).max(SEAT_LEAST),
    };
    // Of all directions, the one that keeps end stops and keepers farthest from the legs.
    let pockets: Vec<Region> = m.rollers.places.iter().map(|r| base::pocket_ring(m, r).into()).collect();
    let mut best: Option<(f64, f64)> = None;
    for i in 0..180 {
        s.direction = 2.0 * PI * i as f64 / 180.0;
        let away = s.ends(m).iter().map(|e| from_leg(e.angle())).fold(f64::INFINITY, f64::min);
        // What would not be taken need not be free.
        if best.is_some_and(|b| away <= b.0 + 1e-9) {
            continue;
        }
        if s.screws().iter().any(|p| shafts.iter().any(|q| p.dist(*q) < 14.0)) {
            continue;
        }
        let near = PILOT / 2.0 + POCKET_WALL;
        if s.screws_in_base(m).into_iter().any(|p| pockets.iter().any(|q| signed_distance(p, q) < near)) {
            continue;
        }
        best = Some((away, s.direction));
    }
    let (away, direction) = best.ok_or(NoStops::Crowded)?;
    // The bar's half length beside the leg's half diagonal.
    let need = along + frame::LEG / 2.0 * core::f64::consts::SQRT_2 + 4.0;
    let near = m.rollers.base_radius - frame::LEG;
    if 2.0 * near * trig::sin(away / 2.0) < need {
        return Err(NoStops::Crowded);
    }
    Ok(Stops { direction, ..s })
}

/// Dowel that places the block, mm, and how deep it stands in the block.
pub(super) const DOWEL: f64 = 8.0;
pub(super) const DOWEL_IN_BLOCK: f64 = 14.0;

/// How deep the dowel stands in the turning plate, mm.
pub(super) fn dowel_depth(m: &Mechanism) -> f64 {
    (m.sizes.plate_thickness - 5.0).clamp(4.0, 12.0)
}

/// Angle to the nearest leg, radians.
fn from_leg(angle: f64) -> f64 {
    frame::leg_lines()
        .map(|l| {
            let d = (angle - l).rem_euclid(2.0 * PI);
            d.min(2.0 * PI - d)
        })
        .fold(f64::INFINITY, f64::min)
}

impl Stops {
    /// Poses of end stop and keeper in the base's frame, closed, then open: x parallel to the block's when they meet.
    pub fn ends(&self, m: &Mechanism) -> [Pose2; 2] {
        let beside = self.half + self.end_half;
        // Opening turns the base counter-clockwise in the turning frame: the end for closed lies ahead of the
        // block, the end for open behind it by the whole turn.
        let end = |turn: f64, side: f64| {
            let line = self.direction - turn;
            Pose2::new(line, v(self.radius, side * beside).rot(line))
        };
        [end(0.0, 1.0), end(m.turn(), -1.0)]
    }
    /// Hole in the turning plate for the dowel that places the block, turning frame.
    pub(crate) fn plate_hole(&self, m: &Mechanism) -> Feature {
        let depth = Depth::Blind(Face::Bottom, dowel_depth(m));
        let centre = Vec2::polar(self.radius, self.direction);
        let kind = FeatureKind::Hole { centre, diameter: DOWEL, depth };
        feature("stop-block", "dowel of the stop block", kind)
    }
    /// Screws of the block, turning frame.
    fn screws(&self) -> [Vec2; 2] {
        self.block_screws().map(|p| (p + v(self.radius, 0.0)).rot(self.direction))
    }
    /// Screws of the block, its own frame.
    fn block_screws(&self) -> [Vec2; 2] {
        [v(0.0, SCREW_IN - self.half), v(0.0, self.half - SCREW_IN)]
    }
    /// Screws of an end stop and its keeper, their own frame.
    pub(super) fn end_screws(&self) -> [Vec2; 2] {
        let (from, to) = (-self.seat + 9.0, -self.depth / 2.0 - RIM_AIR - 10.0);
        [v(from, 0.0), v(to, 0.0)]
    }
    /// Holes in the base for the screws of both ends, base frame.
    pub(crate) fn base_holes(&self, m: &Mechanism) -> Vec<Feature> {
        let mut out = Vec::new();
        for (name, end) in ["closed", "open"].iter().zip(self.ends(m)) {
            for (i, p) in self.end_screws().into_iter().enumerate() {
                out.push(hole(
                    format!("end-stop/{name}-{}", i + 1),
                    "screw of an end stop, from below",
                    end.apply(p),
                    PILOT,
                ));
            }
        }
        out
    }
}

pub(crate) fn add(b: &mut Builder) {
    hand_holds(b);
    let m = b.m;
    let Ok(s) = b.stops else { return };
    let (st, sizes) = (&m.stack, &m.sizes);
    let keeper = sizes.ply_thickness;
    let bottom = st.base.bottom - END_STOP + KEEPER_AIR;
    let height = st.turning_plate.bottom - bottom;
    // Screws go up from below, their heads in deep counterbores: above the plate guides and ring are glued.
    let mut features: Vec<Feature> = Vec::new();
    for (i, at) in s.block_screws().into_iter().enumerate() {
        features.push(hole(format!("screw/{}", i + 1), "screw up into the turning plate", at, CLEAR_HOLE));
    }
    features.push(feature(
        "dowel",
        "dowel of the stop block",
        FeatureKind::Hole {
            centre: Vec2::ZERO,
            diameter: DOWEL,
            depth: Depth::Blind(Face::Top, DOWEL_IN_BLOCK),
        },
    ));
    features.push(feature(
        "plunger",
        "ball plunger of the latch",
        FeatureKind::Hole {
            centre: Vec2::ZERO,
            diameter: PLUNGER.0,
            depth: Depth::Blind(Face::Bottom, PLUNGER.1 + 1.0),
        },
    ));
    let at = Pose2::new(s.direction, Vec2::polar(s.radius, s.direction));
    b.add(
        Draft {
            id: "stop-block",
            name: "Stop block",
            material: "hardwood",
            made: true,
            thickness: height,
            outline: Ring::rect(v(-s.depth / 2.0, -s.half), v(s.depth / 2.0, s.half)),
            features,
            notes: vec![
                "Its dowel places it under the turning plate; set its inner side square to the radius and screw it up, half open, when neither end is in the way. Its sides stop the turn at both ends.".into(),
                "Counterbore its screws' holes from below, 11 mm wide, until its screws stand proud by two thirds of the plate's thickness.".into(),
                "Screw the ball plunger into the lower face, flush; set it by its own thread.".into(),
            ],
        },
        vec![(at, bottom, Motion::Turning(Rise::None))],
    );
    let ends = s.ends(m);
    let places = |z: f64| ends.iter().map(|e| (*e, z, Motion::Base)).collect::<Vec<_>>();
    let screw_holes = || -> Vec<Feature> {
        let one = |(i, at)| hole(format!("screw/{}", i + 1), "screw up into the base", at, CLEAR_HOLE);
        s.end_screws().into_iter().enumerate().map(one).collect()
    };
    b.add(
        Draft {
            id: "end-stop",
            name: "End stop",
            material: "hardwood",
            made: true,
            thickness: END_STOP,
            outline: Ring::rect(v(-s.seat, -s.end_half), v(s.depth / 2.0, s.end_half)),
            features: screw_holes(),
            notes: vec!["One for closed, one for open; fit them last, when the top closes true.".into()],
        },
        places(st.base.bottom - END_STOP),
    );
    let long = s.end_half + 2.0 * s.half;
    let mut features = screw_holes();
    for (side, y) in [("clockwise", -s.half - s.end_half), ("counter-clockwise", s.half + s.end_half)] {
        features.push(hole(format!("ball/{side}"), "the latch's ball drops in", v(0.0, y), BALL_HOLE));
    }
    b.add(
        Draft {
            id: "keeper-bar",
            name: "Keeper bar",
            material: "base stock",
            made: true,
            thickness: keeper,
            outline: Ring::rect(v(-s.seat, -long), v(s.depth / 2.0, long)),
            features,
            notes: vec![
                "One drawing serves both ends: of its two ball holes only the one under the stop block is used.".into(),
                "Ease the edges that the ball runs up on.".into(),
            ],
        },
        places(st.base.bottom - END_STOP - keeper),
    );
    b.add(
        super::round(
            "ball-plunger",
            "Ball plunger M10 × 22",
            "steel",
            false,
            PLUNGER.0 / 2.0,
            turnleaf_mechanism::stack::Level { bottom, top: bottom + PLUNGER.1 },
        ),
        vec![(at, bottom, Motion::Turning(Rise::None))],
    );
    b.screws("screw-stop-block", Screw::No10, BLOCK_SCREW + 2.0, 2, "Stop block, up into the turning plate");
    b.screws(
        "screw-end-stop",
        Screw::No10,
        keeper + END_STOP + 2.0 * sizes.ply_thickness,
        4,
        "End stops with their keeper bars, up into the base",
    );
}

/// Width of the finger groove's mouth, mm, and its depth.
const FINGERS: (f64, f64) = (12.0, 10.0);

/// Inner edge, outer edge and half length of a hand hold; None where the stored leaves leave no room.
pub(crate) fn hand_hold(m: &Mechanism) -> Option<(f64, f64, f64)> {
    let (me, lay) = (&m.members, &m.layout);
    let inner = me.outer_post - me.post - 12.0;
    // Askew, the leaf on one side stands nearer by the skew.
    let (sin, cos) = trig::sin_cos(lay.half_sector - lay.skew.abs());
    // Stored leaves lie beside it on the same level; their tongues come nearer by their depth.
    let beside = ((inner - lay.travel) * sin - m.sizes.tongue_depth - 4.0) / cos;
    let half = beside.min(lay.radius * 0.1);
    // The corners of its straight outer edge stay behind the rim.
    let outer = ((lay.radius - 3.0).powi(2) - half * half).max(0.0).sqrt();
    (half >= me.post + 16.0 && outer - me.outer_post >= 8.0).then_some((inner, outer, half))
}

/// Screws of a hand hold on its panel's centre line frame.
pub(crate) fn hold_screws(m: &Mechanism) -> Vec<Vec2> {
    let Some((inner, outer, half)) = hand_hold(m) else { return Vec::new() };
    let x = (inner + outer) / 2.0;
    [-half + 10.0, half - 10.0].map(|y| v(x, y)).to_vec()
}

fn hand_holds(b: &mut Builder) {
    let m = b.m;
    let Some((inner, outer, half)) = hand_hold(m) else { return };
    let (st, me) = (&m.stack, &m.members);
    let t = m.sizes.stock_thickness;
    let mut features = vec![hole("post", "outer panel post", v(me.outer_post, 0.0), 2.0 * me.post + 0.2)];
    for (i, at) in hold_screws(m).into_iter().enumerate() {
        features.push(hole(format!("screw/{}", i + 1), "screw up into the panel", at, CLEAR_HOLE));
    }
    let depth = FINGERS.1.min(outer - me.outer_post - me.post - 4.0);
    let tall = FINGERS.0.min(t - 6.0);
    if depth >= 4.0 && tall >= 6.0 {
        features.push(feature(
            "fingers",
            "groove for the finger tips",
            FeatureKind::EdgeGroove {
                edge: 1,
                from: 0.0,
                to: 2.0 * half,
                depth,
                z: ((t - tall) / 2.0, (t + tall) / 2.0),
            },
        ));
    }
    let places = b
        .panel_slide_lines()
        .map(|line| {
            (
                Pose2::new(line, Vec2::ZERO),
                st.panel.bottom - t,
                Motion::Sliding { line, law: Law::Panel, rise: Rise::None },
            )
        })
        .collect();
    b.add(
        Draft {
            id: "hand-hold",
            name: "Hand hold",
            material: "top stock",
            made: true,
            thickness: t,
            outline: Ring::rect(v(inner, -half), v(outer, half)),
            features,
            notes: vec![
                "Screwed and glued under the panel, over its outer post: take hold here to turn the top."
                    .into(),
                "Round every edge that a hand meets.".into(),
            ],
        },
        places,
    );
    let count = 2 * m.sizes.sectors;
    b.screws(
        "screw-hand-hold",
        Screw::No10,
        t + super::top::pilot_depth(m) + 2.0,
        count,
        "Hand holds, up into the panels",
    );
}
