//! The top: panels, leaves, star.
//!
//! Frames: panel — apex at the origin, centre line +x. Leaf — seam +x, origin at the table's centre when
//! open. Star — table's centre. With skewed slides a leaf lies beside its seam, and what holds on one of its
//! sides is another length on the other; of two such lengths the clockwise side's comes first.

use super::{Builder, Draft, feature, lift, stops};
use crate::part::{Depth, Face, Feature, FeatureKind};
use crate::piece::{Law, Motion, Rise};
use crate::shapes::sector;
use turnleaf_geom::{
    GeomError, Pose2, Region, Ring, Vec2, Vertex,
    boolean::{BooleanOp, combine},
    offset::shift_edges,
    trig,
    vec2::v,
};
use turnleaf_mechanism::Mechanism;

/// A groove is so much deeper than its tongue, mm: glue-free room for dust.
pub const GROOVE_EXTRA_DEPTH: f64 = 0.5;
/// A groove is so much taller than its tongue, mm in all.
pub const GROOVE_EXTRA_HEIGHT: f64 = 0.3;
/// Tongues and grooves stop short of the rim by so much, mm, so that they do not show.
const RIM_STOP: f64 = 15.0;
/// Tongues stop short of a point or an inner corner by so much, mm.
const POINT_STOP: f64 = 6.0;
/// Stored tongues of neighbouring leaves keep so much between them, mm.
const STORED_TONGUE_GAP: f64 = 1.0;

/// Height band of tongues above the bottom face.
fn tongue_band(m: &Mechanism, extra: f64) -> (f64, f64) {
    let (t, k) = (m.sizes.stock_thickness, m.sizes.tongue() + extra);
    ((t - k) / 2.0, (t + k) / 2.0)
}

/// Where tongues and grooves start and stop, mm along their edges; pairs: clockwise side, the other side.
pub(crate) struct Runs {
    /// Leaf side tongue, from the shoulder.
    pub side_from_shoulder: f64,
    /// Leaf side tongue, from the rim.
    pub side_from_rim: [f64; 2],
    /// Leaf point tongue, from the shoulder.
    pub point_from_shoulder: [f64; 2],
    /// Star's notch groove, from the prong.
    pub groove_from_prong: [f64; 2],
    /// Panel groove, from the apex.
    pub panel_from_apex: f64,
    /// Star side tongue, from the inner corner.
    pub star_from_corner: [f64; 2],
}

/// Tongues are stopped where stored neighbours would meet, where two grooves would run together, and by
/// the way they slip along their grooves while they enter: a tongue entering by d square to its edge slips
/// by d/tan(h ∓ κ) along a panel's edge and by d/tan(α ∓ κ) along a star's notch.
pub(crate) fn runs(m: &Mechanism) -> Runs {
    let (d, lay) = (m.sizes.tongue_depth, &m.layout);
    let (h, alpha) = (lay.half_sector, lay.tip_half_angle);
    let groove = d + GROOVE_EXTRA_DEPTH;
    let beside = 2.0 * d + STORED_TONGUE_GAP;
    let opening = 2.0 * trig::sin(alpha - h);
    let stored = if opening > 1e-6 { beside / opening } else { f64::INFINITY };
    // A swallow-tail prong must keep 3 mm of wood behind the groove in its V edge.
    let sides = [-lay.skew, lay.skew];
    // By how much a leaf's tongue slips outward in a panel's groove: three tenths of the panel's own slip without
    // skew; with it the edges differ, and the leaf's way back is set against the panel's part along the edge.
    let outward = |k: f64| {
        let usual = 0.3 * d / trig::tan(h + k);
        if lay.skew == 0.0 {
            return usual;
        }
        let leaf = m.leaf_overtravel() / m.panel_overtravel();
        usual.max(d * (leaf - trig::cos(h + k)) / trig::sin(h + k))
    };
    let prong = |k: f64| (groove + 3.0) / trig::sin(alpha + k) + POINT_STOP;
    let apex = groove / trig::tan(h) + POINT_STOP;
    Runs {
        side_from_shoulder: (beside / (2.0 * trig::sin(h))).max(POINT_STOP),
        side_from_rim: sides.map(|k| RIM_STOP + 3.0 + outward(k)),
        point_from_shoulder: sides.map(|k| stored.max(prong(k) + d / trig::tan(alpha + k) + 2.0)),
        groove_from_prong: sides.map(prong),
        panel_from_apex: apex,
        star_from_corner: sides.map(|k| apex + d / trig::tan(h + k) + 2.0),
    }
}

/// A leaf's nominal outline: tip, shoulder, side, rim, side, shoulder.
pub fn leaf_nominal(m: &Mechanism) -> Ring {
    let lay = &m.layout;
    let c = |p| Vertex { p, bulge: 0.0 };
    let ([first, last], [far, near]) = (lay.shoulders(), lay.rim_corners());
    // tan(sweep/4).
    let bulge = trig::tan(lay.rim_half_angle() / 2.0);
    Ring {
        vertices: vec![c(v(lay.tip, lay.tip_offset)), c(first), Vertex { p: far, bulge }, c(near), c(last)],
    }
}

/// The star's nominal outline, counter-clockwise from the notch on the first seam's clockwise side.
pub fn star_nominal(m: &Mechanism) -> Ring {
    let lay = &m.layout;
    let [first, last] = lay.shoulders();
    let mut points = Vec::new();
    for k in 0..m.sizes.sectors {
        let seam = (2 * k + 1) as f64 * lay.half_sector;
        // Inner corner at the panel's tip, prong, notch, prong.
        points.push(Vec2::polar(lay.travel, seam - lay.half_sector + lay.skew));
        for p in [first, v(lay.tip, lay.tip_offset), last] {
            points.push(p.rot(seam));
        }
    }
    Ring::polygon(&points)
}

/// The star as what is left of the open top: a disc through the panels' nearer corners, less the open panels, less
/// the open leaves. Nominal outlines, before fitting gaps. An error is a fault of the boolean, not of the plan.
pub fn star_left_over(m: &Mechanism) -> Result<Vec<Region>, GeomError> {
    let lay = &m.layout;
    let mut covered: Vec<Region> = Vec::new();
    for k in 0..m.sizes.sectors {
        let line = 2.0 * k as f64 * lay.half_sector;
        let panel = sector(lay.radius, lay.half_sector);
        covered.push(panel.moved(&Pose2::new(line, Vec2::polar(lay.travel, line + lay.skew))).into());
        covered.push(leaf_nominal(m).moved(&Pose2::new(line + lay.half_sector, Vec2::ZERO)).into());
    }
    combine(BooleanOp::Difference, &[Ring::circle(Vec2::ZERO, lay.corners[1]).into()], &covered)
}

/// Shrinks an outline by half the fitting gap on the edges named; a gap of nothing leaves it as it is.
fn fitted(ring: &Ring, m: &Mechanism, keep: &[usize]) -> Ring {
    let g = m.sizes.fitting_gap / 2.0;
    if g == 0.0 {
        return ring.clone();
    }
    let d: Vec<f64> = (0..ring.vertices.len()).map(|i| if keep.contains(&i) { 0.0 } else { g }).collect();
    // Both outlines are simple and far larger than the gap, so the shift cannot fail on a solved mechanism.
    shift_edges(ring, &d).unwrap_or_else(|_| ring.clone())
}

fn groove(m: &Mechanism, id: &str, edge: usize, from: f64, to: f64) -> Option<Feature> {
    let depth = m.sizes.tongue_depth + GROOVE_EXTRA_DEPTH;
    (m.sizes.tongue_depth > 0.0 && to > from + 1.0).then(|| {
        feature(
            id,
            "groove",
            FeatureKind::EdgeGroove { edge, from, to, depth, z: tongue_band(m, GROOVE_EXTRA_HEIGHT) },
        )
    })
}

fn tongue(m: &Mechanism, id: &str, edge: usize, from: f64, to: f64) -> Option<Feature> {
    let depth = m.sizes.tongue_depth;
    (depth > 0.0 && to > from + 1.0).then(|| {
        feature(id, "tongue", FeatureKind::EdgeTongue { edge, from, to, depth, z: tongue_band(m, 0.0) })
    })
}

pub(crate) fn add(b: &mut Builder) {
    panels(b);
    leaves(b);
    star(b);
}

/// Screws from below must not come through: pilot holes stop so far under the face, mm.
pub(crate) fn pilot_depth(m: &Mechanism) -> f64 {
    (m.sizes.stock_thickness * 0.6).min(m.sizes.stock_thickness - 5.0)
}

fn panels(b: &mut Builder) {
    let m = b.m;
    let (lay, st, me, r) = (&m.layout, &m.stack, &m.members, runs(m));
    let outline = sector(lay.radius, lay.half_sector);
    let mut features = Vec::new();
    // Edge 0 runs from the apex out, edge 2 back in.
    let to = lay.radius - RIM_STOP;
    features.extend(groove(m, "groove/clockwise", 0, r.panel_from_apex, to));
    features.extend(groove(m, "groove/counter-clockwise", 2, RIM_STOP, lay.radius - r.panel_from_apex));
    for (name, radius) in [("inner", me.inner_post), ("outer", me.outer_post)] {
        features.push(feature(
            format!("post/{name}"),
            "dowel of a post, from below",
            FeatureKind::Hole {
                centre: Vec2::polar(radius, lay.skew),
                diameter: me.post,
                depth: Depth::Blind(Face::Bottom, pilot_depth(m)),
            },
        ));
    }
    for (i, at) in stops::hold_screws(m).into_iter().enumerate() {
        let centre = at.rot(lay.skew);
        features.push(feature(
            format!("hand-hold/{}", i + 1),
            "screw of the hand hold, from below",
            FeatureKind::Hole { centre, diameter: 3.0, depth: Depth::Blind(Face::Bottom, pilot_depth(m)) },
        ));
    }
    let places = b
        .panel_lines()
        .map(|line| {
            (
                Pose2::new(line, Vec2::ZERO),
                st.panel.bottom,
                Motion::Sliding { line: line + lay.skew, law: Law::Panel, rise: Rise::None },
            )
        })
        .collect();
    b.add(
        Draft {
            id: "panel",
            name: "Panel",
            material: "top stock",
            made: true,
            thickness: m.sizes.stock_thickness,
            outline,
            features,
            notes: vec!["Best face up.".into()],
        },
        places,
    );
}

fn leaves(b: &mut Builder) {
    let m = b.m;
    let (lay, st, r) = (&m.layout, &m.stack, runs(m));
    // The rim (edge 2) keeps its radius; the other edges give up half the fitting gap.
    let outline = fitted(&leaf_nominal(m), m, &[2]);
    let length = edge_lengths(&outline, m);
    let mut features = Vec::new();
    features.extend(tongue(
        m,
        "tongue/point-clockwise",
        0,
        POINT_STOP,
        length(0, 0) - r.point_from_shoulder[0],
    ));
    features.extend(tongue(
        m,
        "tongue/side-clockwise",
        1,
        r.side_from_shoulder,
        length(1, 1) - r.side_from_rim[0],
    ));
    features.extend(tongue(
        m,
        "tongue/side-counter-clockwise",
        3,
        r.side_from_rim[1],
        length(3, 1) - r.side_from_shoulder,
    ));
    features.extend(tongue(
        m,
        "tongue/point-counter-clockwise",
        4,
        r.point_from_shoulder[1],
        length(4, 0) - POINT_STOP,
    ));
    for (i, x) in riser_places(m).into_iter().enumerate() {
        features.push(feature(
            format!("riser/{}", i + 1),
            "screw of a riser, from below",
            FeatureKind::Hole {
                centre: v(x + lay.leaf_travel, 0.0),
                diameter: 3.0,
                depth: Depth::Blind(Face::Bottom, pilot_depth(m)),
            },
        ));
    }
    let places = b
        .seam_lines()
        .map(|line| {
            (
                Pose2::new(line, Vec2::polar(-lay.leaf_travel, line)),
                st.leaf.bottom,
                Motion::Sliding { line, law: Law::Leaf, rise: Rise::Plate },
            )
        })
        .collect();
    b.add(
        Draft {
            id: "leaf",
            name: "Leaf",
            material: "top stock",
            made: true,
            thickness: m.sizes.stock_thickness,
            outline,
            features,
            notes: vec![],
        },
        places,
    );
}

/// Length of an outline's edge; of the edge it is the mirror image of, where there is no skew, so that both
/// sides then come out alike to the last bit.
fn edge_lengths(outline: &Ring, m: &Mechanism) -> impl Fn(usize, usize) -> f64 + use<> {
    let lengths: Vec<f64> = outline.segs().map(|s| s.length()).collect();
    let skewed = m.layout.skew != 0.0;
    move |edge, image| lengths[if skewed { edge } else { image }]
}

/// Length of a leaf riser along its leaf, mm.
pub(crate) fn riser_length(m: &Mechanism) -> f64 {
    (m.layout.radius * 0.06).clamp(16.0, 40.0)
}

/// Width of a leaf riser, mm: as wide as its slide.
pub(crate) fn riser_width(m: &Mechanism) -> f64 {
    m.members.slide_width
}

/// Closed distances of the leaf risers' middles from the centre: one clear of the star's notch, one at the
/// slide's outer end; only the outer one when there is no room for two.
pub(crate) fn riser_places(m: &Mechanism) -> Vec<f64> {
    let (lay, half) = (&m.layout, riser_width(m) / 2.0);
    let length = riser_length(m);
    let clear = m.members.gap + m.sizes.fitting_gap + m.sizes.tongue_depth;
    // Each inner corner of the riser clears the edge of the notch on its side; an edge that leans outward past
    // square is nearest to the corner on the other side.
    let inner = [-1.0, 1.0]
        .map(|side| {
            let angle = lay.tip_half_angle + side * lay.skew;
            let corner = half.copysign(trig::tan(angle)) - side * lay.tip_offset;
            lay.tip + corner / trig::tan(angle) + clear / trig::sin(angle)
        })
        .into_iter()
        .fold(f64::NEG_INFINITY, f64::max);
    // Beyond the slide pin, whose hole the riser's screw must not meet.
    let inner = inner.max(m.leaf_pin_closed() + m.members.pin + 3.0) + length / 2.0;
    let outer = m.leaf_slide_outer() - 2.0 - length / 2.0;
    if inner + length <= outer { vec![inner, outer] } else { vec![outer] }
}

fn star(b: &mut Builder) {
    let m = b.m;
    let (st, r) = (&m.stack, runs(m));
    let outline = fitted(&star_nominal(m), m, &[]);
    let length = edge_lengths(&outline, m);
    let mut features = Vec::new();
    // Of the first arm: side out, notch in, notch out, side back.
    let [side, point, point_back, side_back] = [length(0, 0), length(1, 1), length(2, 1), length(3, 0)];
    let stop = |side: f64| r.side_from_shoulder.min(side / 3.0);
    for k in 0..m.sizes.sectors {
        let e = 4 * k;
        features.extend(tongue(
            m,
            &format!("tongue/{}-clockwise", k + 1),
            e,
            r.star_from_corner[0],
            side - stop(side),
        ));
        features.extend(groove(
            m,
            &format!("groove/{}-clockwise", k + 1),
            e + 1,
            r.groove_from_prong[0],
            point - POINT_STOP + 2.0,
        ));
        features.extend(groove(
            m,
            &format!("groove/{}-counter-clockwise", k + 1),
            e + 2,
            POINT_STOP - 2.0,
            point_back - r.groove_from_prong[1],
        ));
        features.extend(tongue(
            m,
            &format!("tongue/{}-counter-clockwise", k + 1),
            e + 3,
            side_back - (side_back - stop(side_back)),
            side_back - r.star_from_corner[1],
        ));
    }
    for (i, at) in lift::hub_screws(m).into_iter().enumerate() {
        features.push(feature(
            format!("hub/{}", i + 1),
            "screw of the hub, from below",
            FeatureKind::Hole {
                centre: at,
                diameter: 3.0,
                depth: Depth::Blind(Face::Bottom, pilot_depth(m)),
            },
        ));
    }
    for (i, at) in lift::keeping_pins(m).into_iter().enumerate() {
        features.push(feature(
            format!("keeping-pin/{}", i + 1),
            "slides on a keeping pin",
            FeatureKind::Hole {
                centre: at,
                diameter: lift::KEEPING_PIN + 0.3,
                depth: Depth::Blind(Face::Bottom, m.sizes.stock_thickness - 3.0),
            },
        ));
    }
    b.add(
        Draft {
            id: "star",
            name: "Star",
            material: "top stock",
            made: true,
            thickness: m.sizes.stock_thickness,
            outline,
            features,
            notes: vec![],
        },
        vec![(Pose2::default(), st.star.bottom, Motion::Turning(Rise::Star))],
    );
}
