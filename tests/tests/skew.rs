//! Skewed slides: the geometry measured on posed outlines against closed forms derived beside each check, and the
//! proof over the whole turn with either drive.

// The platform's own sine and cosine are the outside check here.
#![allow(clippy::disallowed_methods)]

use std::f64::consts::{PI, TAU};
use turnleaf_geom::boolean::{BooleanOp, combine};
use turnleaf_geom::{Region, Ring, Seg, Vec2, region_distance};
use turnleaf_mechanism::{DriveKind, Mechanism, Opening, Sizes, numbers, solve};
use turnleaf_motion::{checks, pose, prove};
use turnleaf_parts::{Assembly, assemble, build};

/// Sectors, closed and open diameter, skew as a share of half a panel's angle.
const TABLES: [(usize, f64, f64, f64); 8] = [
    (4, 1200.0, 1560.0, 0.2),
    (4, 1200.0, 1560.0, 0.6),
    (5, 1100.0, 1450.0, 0.5),
    (6, 1200.0, 1650.0, 0.2),
    (6, 1200.0, 1560.0, 0.6),
    (7, 1400.0, 1800.0, 0.3),
    (8, 1400.0, 1800.0, 0.2),
    (8, 1800.0, 2200.0, 0.4),
];

fn sizes(drive: DriveKind, (n, closed, open, share): (usize, f64, f64, f64)) -> Sizes {
    let mut s = Sizes::example();
    s.drive = drive;
    s.sectors = n;
    (s.closed_diameter, s.opening) = (closed, Opening::Diameter(open));
    s.slide_skew = share * PI / n as f64;
    s.leaf_tip_half_angle = (PI / 4.0).max(PI / n as f64);
    (s.arm_width, s.arm_clearance) = (18.0, 3.0);
    s
}

fn table(drive: DriveKind, t: (usize, f64, f64, f64)) -> Assembly {
    assemble(&solve(&sizes(drive, t)).unwrap_or_else(|no| panic!("{drive:?} {t:?}: {no:?}")))
}

/// Plan outlines of one part's pieces at a turn, in order.
fn outlines(a: &Assembly, part: &str, turn: f64) -> Vec<Region> {
    pose(a, turn).into_iter().filter(|p| p.part == part).map(|p| p.outline.outer.into()).collect()
}

fn near(what: &str, ours: f64, theirs: f64, tolerance: f64) {
    assert!((ours - theirs).abs() <= tolerance, "{what}: {ours} against {theirs} ± {tolerance}");
}

/// Two panels go out by e in directions 2π/n apart, so their edges at a seam, parallel when closed, are parted by
/// e·(u' − u), which is 2·e·sin h long and κ off the seam's normal: across the seam 2·e·sin h·cos κ, along it
/// 2·e·sin h·sin κ. Measured on the corners of posed outlines.
#[test]
fn the_gap_is_parallel_sided_and_sheared() {
    for t in TABLES {
        let a = table(DriveKind::Arms, t);
        let (n, e, k) = (t.0 as f64, (t.2 - t.1) / 2.0, t.3 * PI / t.0 as f64);
        let panels = outlines(&a, "panel", a.mechanism.turn());
        let corners = |i: usize| panels[i].outer.vertices.iter().map(|q| q.p).collect::<Vec<Vec2>>();
        // Apex, clockwise corner, counter-clockwise corner.
        let (one, next) = (corners(0), corners(1));
        let seam = Vec2 { x: (PI / n).cos(), y: (PI / n).sin() };
        near("edges parallel", (one[2] - one[0]).unit().cross((next[1] - next[0]).unit()), 0.0, 1e-12);
        let chord = 2.0 * e * (PI / n).sin();
        near("width", seam.cross(next[0] - one[0]), chord * k.cos(), 1e-9);
        near("shift", -seam.dot(next[0] - one[0]), chord * k.sin(), 1e-9);
        let value = |id: &str| numbers(&a.mechanism).into_iter().find(|q| q.id == id).unwrap().value;
        near("gap.width", value("gap.width"), chord * k.cos(), 1e-9);
        near("gap.shear", value("gap.shear"), chord * k.sin(), 1e-9);
        near("panel.skew", value("panel.skew"), k.to_degrees(), 1e-9);
    }
}

/// Distances from the centre of points along the rims of a part's pieces: arcs longer than a tenth of the radius.
fn rims(a: &Assembly, part: &str, turn: f64) -> Vec<f64> {
    let mut out = Vec::new();
    for region in outlines(a, part, turn) {
        for seg in region.outer.segs() {
            if let Seg::Arc(arc) = seg
                && seg.length() > a.mechanism.layout.radius / 10.0
            {
                out.extend((0..=2000).map(|i| arc.at(f64::from(i) / 2000.0).norm()));
            }
        }
    }
    out
}

/// The open outline's greatest and least distance from the centre, along every rim that is drawn.
#[test]
fn out_of_round_is_what_the_drawn_rims_show() {
    for t in TABLES {
        let a = table(DriveKind::Arms, t);
        let mut all = rims(&a, "panel", a.mechanism.turn());
        all.extend(rims(&a, "leaf", a.mechanism.turn()));
        let (low, high) = all.iter().fold((f64::INFINITY, 0.0f64), |(l, h), r| (l.min(*r), h.max(*r)));
        near("out of round", a.mechanism.layout.out_of_round, high - low, 1e-3);
        // No step where leaf and panel meet: a leaf's rim ends at the radii of the panels' corners, but for the fitting gap.
        let leaf = rims(&a, "leaf", a.mechanism.turn());
        for (end, corner) in [(leaf[0], 0), (leaf[2000], 1)] {
            let panel = &outlines(&a, "panel", a.mechanism.turn())[0].outer.vertices;
            near("corner", end, panel[2 - corner].p.norm(), 1.0);
        }
    }
}

/// Closed, nothing of a leaf or of the star comes within the margins of the edge.
#[test]
fn leaves_and_star_hide_when_closed() {
    for t in TABLES {
        let a = table(DriveKind::Arms, t);
        let stored = rims(&a, "leaf", 0.0).into_iter().fold(0.0, f64::max);
        let edge = t.1 / 2.0;
        assert!(stored <= edge - 0.15, "{t:?}: a leaf reaches {stored} of {edge}");
        assert!(a.part("star").unwrap().outline.reach() < edge - 3.0 + 1e-9);
        let leaves = outlines(&a, "leaf", 0.0);
        for i in 1..leaves.len() {
            let c = region_distance(&leaves[0], &leaves[i]);
            assert!(!c.penetrates && c.distance > 0.1, "{t:?}: stored leaves {} apart", c.distance);
        }
    }
}

/// What open panels leave uncovered is leaves, star and the strips of the fitting gap between them: half the gap
/// along each panel edge, the whole along each notch. Corners make up for less than a hundredth of the strips.
#[test]
fn uncovered_is_leaves_and_star_and_gaps() {
    for t in TABLES {
        let a = table(DriveKind::Arms, t);
        let m = &a.mechanism;
        let (n, e, h, k) = (t.0 as f64, (t.2 - t.1) / 2.0, PI / t.0 as f64, t.3 * PI / t.0 as f64);
        let (r, g) = (t.1 / 2.0, m.sizes.fitting_gap);
        // A disc that the open outline just holds: through the nearer corners, by the law of cosines.
        let disc = (r * r + e * e + 2.0 * r * e * (h + k).cos()).sqrt();
        let area = |list: Vec<Region>| list.iter().map(Region::area).sum::<f64>();
        let whole: Region = Ring::circle(Vec2::ZERO, disc).into();
        let panels = outlines(&a, "panel", m.turn());
        let uncovered = area(combine(BooleanOp::Difference, std::slice::from_ref(&whole), &panels).unwrap());
        let leaves = area(
            combine(BooleanOp::Intersection, std::slice::from_ref(&whole), &outlines(&a, "leaf", m.turn()))
                .unwrap(),
        );
        let star = a.part("star").unwrap().outline.area();
        // Along each panel edge, from the tip out to the disc.
        let edge = |a: f64| (disc * disc - (e * a.sin()).powi(2)).sqrt() - e * a.cos();
        let notch = 2.0 * e * h.sin() / m.sizes.leaf_tip_half_angle.sin();
        let strips = n * g * ((edge(h - k) + edge(h + k)) / 2.0 + notch);
        let left = uncovered - leaves - star;
        assert!((left / strips - 1.0).abs() < 0.01, "{t:?}: {left} mm² left, strips {strips} mm²");
        // And before the gap is taken off: boolean, closed form and drawn outline.
        let boolean = area(build::star_left_over(m).unwrap());
        assert!((boolean / m.layout.star_area - 1.0).abs() < 1e-6, "{boolean} {}", m.layout.star_area);
        assert!((build::star_nominal(m).area() / m.layout.star_area - 1.0).abs() < 1e-9);
    }
}

/// While the lift lasts a panel's edge stands off its leaf by Δ·sin(h − κ) on one side and Δ·sin(h + κ) on the
/// other, beside half the fitting gap; both leave room for tongue and clearance.
#[test]
fn edges_stand_off_by_their_true_normal_travel() {
    for t in TABLES {
        let a = table(DriveKind::Arms, t);
        let m = &a.mechanism;
        let (h, k) = (PI / t.0 as f64, t.3 * PI / t.0 as f64);
        let over = m.panel_overtravel();
        let (panels, leaves) = (outlines(&a, "panel", m.lift_ends()), outlines(&a, "leaf", m.lift_ends()));
        // The first leaf lies between the first panel and the second.
        for (panel, angle) in [(0, h - k), (1, h + k)] {
            let apart = region_distance(&panels[panel], &leaves[0]).distance;
            near("stands off", apart, over * angle.sin() + m.sizes.fitting_gap / 2.0, 1e-6);
            assert!(apart >= m.sizes.tongue_depth + m.sizes.tongue_clearance);
        }
    }
}

/// Every check over the whole turn holds, with arms and with a cam.
#[test]
fn skewed_tables_are_proved_with_both_drives() {
    for drive in [DriveKind::Arms, DriveKind::Cam] {
        for t in TABLES {
            let a = table(drive, t);
            let bad: Vec<String> =
                checks(&a, &prove(&a)).into_iter().filter(|c| !c.holds).map(|c| c.text).collect();
            assert!(bad.is_empty(), "{drive:?} {t:?}: {bad:?}");
        }
    }
}

/// Turning the whole posed table by one sector brings every panel, leaf, slide and post onto the next: the table
/// keeps its n-fold symmetry while it has lost its mirror lines.
#[test]
fn skewed_tables_repeat_by_turning_but_not_by_mirroring() {
    let a = table(DriveKind::Arms, TABLES[4]);
    let n = TABLES[4].0;
    for turn in [0.0, a.mechanism.turn() / 2.0, a.mechanism.turn()] {
        for part in ["panel", "leaf", "panel-slide", "leaf-slide", "panel-arm"] {
            let posed = outlines(&a, part, turn);
            for i in 0..n {
                let next = &posed[(i + 1) % n].outer.vertices;
                for (p, q) in posed[i].outer.vertices.iter().zip(next) {
                    assert!(p.p.rot(TAU / n as f64).dist(q.p) < 1e-9, "{part} {i}");
                }
            }
        }
    }
    let leaf = &a.part("leaf").unwrap().outline;
    let mirrored = leaf.mirrored_y();
    let most = mirrored
        .vertices
        .iter()
        .map(|q| leaf.vertices.iter().map(|p| p.p.dist(q.p)).fold(f64::INFINITY, f64::min));
    assert!(most.fold(0.0, f64::max) > 20.0, "a skewed leaf is its own mirror image");
}

/// Skews that leave no table are told with a sentence, and the skew is among the sizes named.
#[test]
fn impossible_skews_are_explained() {
    for (n, degrees, code) in
        [(6, 30.0, "skew.large"), (8, 40.0, "skew.large"), (6, 26.0, "skew.leaf"), (8, 14.0, "skew.alone")]
    {
        let mut s = Sizes::example();
        s.sectors = n;
        s.slide_skew = f64::to_radians(degrees);
        let troubles = solve(&s).expect_err("no such table");
        assert!(troubles.iter().any(|t| t.code == code), "{n} sectors {degrees}°: {troubles:?}");
        for t in troubles {
            assert!(t.sentence.ends_with('.') && t.sizes.contains(&"slide_skew"), "{t:?}");
            assert!(t.sizes.iter().all(|id| turnleaf_plan::planfile::field(id).is_some()), "{t:?}");
        }
    }
}

/// A skew near nothing gives nearly the radial table: every solved number that both have.
#[test]
fn a_vanishing_skew_is_the_radial_table() {
    let fixed = |skew: f64| -> Mechanism {
        let mut s = Sizes::example();
        s.slide_skew = skew;
        (s.panel_pin_radius, s.panel_arm_length, s.panel_arm_bend) = (Some(150.0), Some(300.0), Some(80.0));
        solve(&s).unwrap()
    };
    let (radial, little) = (fixed(0.0), fixed(1e-7));
    let list = numbers(&little);
    for n in numbers(&radial) {
        let other = list.iter().find(|q| q.id == n.id).unwrap_or_else(|| panic!("no {}", n.id));
        assert!(
            (n.value - other.value).abs() < 1e-3 * (1.0 + n.value.abs()),
            "{}: {} {}",
            n.id,
            n.value,
            other.value
        );
    }
}
