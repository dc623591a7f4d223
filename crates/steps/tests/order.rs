//! Orders of building over many tables, judged by solids and not by the relations that made the order.
//!
//! The judge samples points inside the pieces themselves: a piece that goes in from above must not pass wood that lies
//! above its place, one that slides in none on its way, one from below none below. `TURNLEAF_SWEEP=1` takes every
//! number of sectors at more sizes; the stated default is one size for each number of sectors and drive.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::OnceLock;
use turnleaf_assembly::{Direction, relations::Relations};
use turnleaf_geom::{Vec2, vec2::v};
use turnleaf_mechanism::{DriveKind, Opening, Sizes, solve};
use turnleaf_parts::{Assembly, Law, Motion, Piece, assemble};
use turnleaf_steps::{BuildStep, Stage, Table, Unit, build_steps, steps_of, units};

/// Overlaps less deep than this are contact, mm.
const DEEP: f64 = 0.4;

fn table(sectors: usize, diameter: f64, drive: DriveKind) -> Option<Assembly> {
    let mut s = Sizes::example();
    s.sectors = sectors;
    s.closed_diameter = diameter;
    s.drive = drive;
    s.opening = Opening::Diameter(diameter * if sectors > 8 { 1.25 } else { 1.3 });
    s.leaf_tip_half_angle = s.half_sector().max(core::f64::consts::FRAC_PI_4);
    let k = (diameter / 1200.0).clamp(0.6, 1.0) * if sectors > 8 { 0.7 } else { 1.0 };
    (s.arm_width, s.tongue_depth, s.arm_clearance) = (20.0 * k, 6.0 * k, 3.0);
    solve(&s).ok().map(|m| assemble(&m))
}

/// A table with what is made of it once, because relations are slow to find without optimisation.
struct Tried {
    name: String,
    a: Assembly,
    units: Vec<Unit>,
    steps: Vec<BuildStep>,
}

fn tables() -> &'static [Tried] {
    static ALL: OnceLock<Vec<Tried>> = OnceLock::new();
    ALL.get_or_init(|| {
        let tried = |(name, a): (String, Assembly)| {
            let units = units(&a, &Relations::of(&a));
            let steps = steps(&a, &units);
            Tried { name, a, units, steps }
        };
        solved().into_iter().map(tried).collect()
    })
}

fn solved() -> Vec<(String, Assembly)> {
    let long = std::env::var("TURNLEAF_SWEEP").is_ok();
    let mut out = Vec::new();
    for drive in [DriveKind::Arms, DriveKind::Cam] {
        for n in 4..=12 {
            let usual = if n < 6 { 1000.0 } else { 1200.0 + 100.0 * (n as f64 - 6.0) };
            let sizes = if long { vec![usual * 0.85, usual, usual * 1.2] } else { vec![usual] };
            for d in sizes {
                out.extend(table(n, d, drive).map(|a| (format!("{n} sectors {d} mm {drive:?}"), a)));
            }
        }
    }
    out
}

fn steps(a: &Assembly, units: &[Unit]) -> Vec<BuildStep> {
    let proof = turnleaf_motion::Proof { pairs: Vec::new(), joined: Vec::new(), looks: 0 };
    steps_of(&Table { assembly: a, checks: &[], proof: &proof }, units)
}

/// A slab of wood: outline in the table's frame as corners, heights.
struct Slab {
    rings: Vec<Vec<Vec2>>,
    low: Vec2,
    high: Vec2,
    z: (f64, f64),
}

fn slabs(a: &Assembly, p: &Piece) -> Vec<Slab> {
    let at = a.place(p, 0.0);
    let one = |l: &turnleaf_parts::Layer| {
        let region = l.region.moved(&at.pose);
        let (low, high) = region.outer.bounds();
        let rings = region.rings().map(|r| r.flatten(0.05)).collect();
        Slab { rings, low, high, z: (at.z + l.z0, at.z + l.z1) }
    };
    a.part_of(p).layers.iter().map(one).collect()
}

/// Whether a point lies inside (even-odd rule).
fn inside(p: Vec2, rings: &[Vec<Vec2>]) -> bool {
    let mut odd = false;
    for ring in rings {
        for (i, a) in ring.iter().enumerate() {
            let b = ring[(i + 1) % ring.len()];
            if (a.y <= p.y) != (b.y <= p.y) && p.x < a.x + (b.x - a.x) * (p.y - a.y) / (b.y - a.y) {
                odd = !odd;
            }
        }
    }
    odd
}

/// Whether both slabs hold a common point and its surroundings, after moving the first.
fn share(a: &Slab, by: Vec2, b: &Slab) -> bool {
    let low = v((a.low.x + by.x).max(b.low.x), (a.low.y + by.y).max(b.low.y));
    let high = v((a.high.x + by.x).min(b.high.x), (a.high.y + by.y).min(b.high.y));
    if high.x - low.x < 2.0 * DEEP || high.y - low.y < 2.0 * DEEP {
        return false;
    }
    let many = 12;
    let both = |p: Vec2| inside(p - by, &a.rings) && inside(p, &b.rings);
    (0..many * many).any(|k| {
        let (i, j) = ((k % many) as f64 + 0.5, (k / many) as f64 + 0.5);
        let p = v(low.x + (high.x - low.x) * i / many as f64, low.y + (high.y - low.y) * j / many as f64);
        both(p) && [v(DEEP, 0.0), v(-DEEP, 0.0), v(0.0, DEEP), v(0.0, -DEEP)].into_iter().all(|d| both(p + d))
    })
}

/// Whether a piece cannot reach its place past another.
fn hindered(a: &Assembly, p: &Piece, mine: &[Slab], other: &[Slab], way: Option<Direction>) -> bool {
    let level = |s: &Slab, t: &Slab| t.z.1 > s.z.0 + DEEP && t.z.0 < s.z.1 - DEEP;
    mine.iter().any(|s| {
        other.iter().any(|t| match way {
            Some(Direction::Down) => t.z.1 > s.z.0 + DEEP && share(s, Vec2::ZERO, t),
            None => t.z.0 < s.z.1 - DEEP && share(s, Vec2::ZERO, t),
            Some(Direction::Inward) => {
                let line = match a.place(p, 0.0).pose.angle() {
                    _ if matches!(p.motion, Motion::Sliding { .. }) => match p.motion {
                        Motion::Sliding { line, .. } => line,
                        _ => 0.0,
                    },
                    other => other,
                };
                level(s, t) && (0..60).any(|k| share(s, Vec2::polar(20.0 * k as f64, line), t))
            }
        })
    })
}

#[test]
fn nothing_stands_in_the_way_of_a_piece_when_it_goes_in() {
    let all = tables();
    assert!(all.len() >= 12, "only {} tables solve", all.len());
    for drive in ["Arms", "Cam"] {
        assert!(all.iter().filter(|t| t.name.ends_with(drive)).count() >= 5, "{drive}");
    }
    let mut found = Vec::new();
    for Tried { name, a, units, .. } in all {
        let mut there: Vec<(&Piece, Vec<Slab>)> = Vec::new();
        for unit in units {
            // All pieces of a kind are alike up to a turn; two of them meet every neighbour there is.
            let mut fresh = Vec::new();
            for &k in &unit.kinds {
                let pieces = a.pieces.iter().filter(|p| p.part == k);
                for (i, p) in pieces.enumerate() {
                    let mine = slabs(a, p);
                    if i < 2 {
                        let by = there.iter().find(|(_, other)| hindered(a, p, &mine, other, unit.direction));
                        found.extend(by.map(|(q, _)| format!("{name}: {} cannot pass {}", p.id, q.id)));
                    }
                    fresh.push((p, mine));
                }
            }
            there.extend(fresh);
        }
    }
    assert!(found.is_empty(), "{} complaints:\n{}", found.len(), found.join("\n"));
}

/// The judge itself: the lower ply cannot pass the turning plate from above, nor a leaf the panels.
#[test]
fn the_judge_finds_what_is_in_the_way() {
    let a = table(6, 1200.0, DriveKind::Arms).expect("solves");
    let first = |id: &str| a.pieces.iter().find(|p| a.part_of(p).id == id).expect("a piece");
    let stopped = |id: &str, by: &str, way| {
        let p = first(id);
        let of = |q: &&Piece| a.part_of(q).id == by;
        a.pieces.iter().filter(of).any(|q| hindered(&a, p, &slabs(&a, p), &slabs(&a, q), way))
    };
    assert!(stopped("base-lower-ply", "turning-plate", Some(Direction::Down)));
    assert!(stopped("leaf", "panel", Some(Direction::Down)));
    assert!(!stopped("panel", "leaf", Some(Direction::Down)));
    assert!(stopped("panel-slide", "panel-guide", Some(Direction::Down)), "tongues in grooves");
    assert!(!stopped("panel-slide", "panel-guide", Some(Direction::Inward)));
    assert!(stopped("panel", "leaf", None));
}

#[test]
fn every_piece_goes_in_once_and_every_bought_thing_is_counted() {
    for Tried { name, a, steps, .. } in tables() {
        let mut seen = BTreeSet::new();
        let mut hardware: BTreeMap<usize, usize> = BTreeMap::new();
        let (mut made, mut fitted): (BTreeSet<usize>, BTreeMap<usize, usize>) = Default::default();
        for s in steps {
            for p in &s.put_in {
                assert!(seen.insert(p.clone()), "{name}: {p} goes in twice");
            }
            for (k, count) in &s.hardware {
                *hardware.entry(*k).or_default() += count;
            }
            for (k, count) in &s.pieces {
                if s.id.starts_with("make/") {
                    made.insert(*k);
                    assert_eq!(*count, a.parts[*k].count, "{name}: {}", s.id);
                } else {
                    *fitted.entry(*k).or_default() += count;
                }
            }
        }
        assert_eq!(seen, a.pieces.iter().map(|p| p.id.clone()).collect(), "{name}");
        for (k, part) in a.parts.iter().enumerate() {
            if part.made {
                assert!(made.contains(&k), "{name}: {} is never made", part.id);
                assert_eq!(fitted.get(&k), Some(&part.count), "{name}: {}", part.id);
            } else {
                assert_eq!(hardware.get(&k), Some(&part.count), "{name}: {}", part.id);
            }
        }
    }
}

/// Plain facts of the table: common practice, no source.
#[test]
fn steps_stand_in_a_makers_order_and_need_only_what_came_before() {
    for Tried { name, a, steps, .. } in tables() {
        let at = |part: &str| {
            let k = a.parts.iter().position(|p| p.id == part)?;
            let has =
                |s: &BuildStep| s.put_in.iter().any(|p| a.pieces.iter().any(|q| q.id == *p && q.part == k));
            steps.iter().position(has)
        };
        for (first, then) in [
            ("base-lower-ply", "ramp-outer"),
            ("ramp-outer", "turning-plate"),
            ("panel-arm", "turning-plate"),
            ("cam-plate", "turning-plate"),
            ("turning-plate", "rising-plate"),
            ("panel-slide", "rising-plate"),
            ("rising-plate", "star"),
            ("star-lever", "star"),
            ("star", "leaf"),
            ("leaf", "panel"),
            ("panel", "stop-block"),
        ] {
            if let (Some(first_at), Some(then_at)) = (at(first), at(then)) {
                assert!(first_at < then_at, "{name}: {first} after {then}");
            }
        }
        assert!(at("hand-hold").is_none_or(|h| Some(h) == at("panel")), "{name}");
        for (i, s) in steps.iter().enumerate() {
            for n in &s.needs {
                let found = steps.iter().position(|o| o.id == *n);
                assert!(found.is_some_and(|f| f < i), "{name}: {} needs {n}", s.id);
            }
        }
        let ids: BTreeSet<_> = steps.iter().map(|s| &s.id).collect();
        assert_eq!(ids.len(), steps.len(), "{name}: identifiers are unique");
        // A stage is one step on every table tried, so that the maker's changes find their step again.
        let stages = steps.iter().filter(|s| s.id.starts_with("fit/") && s.id != "fit/adjust");
        assert!(stages.count() <= Stage::ALL.len(), "{name}: {ids:?}");
    }
}

/// What is in the law of a slide decides which pin drives it.
#[test]
fn arms_are_looked_at_once_their_slides_drive_them() {
    let a = table(6, 1200.0, DriveKind::Arms).expect("solves");
    let proof = turnleaf_motion::prove(&a);
    let checks = turnleaf_motion::checks(&a, &proof);
    let steps = build_steps(&Table { assembly: &a, checks: &checks, proof: &proof });
    let asked = |part: &str| {
        let named = |l: &turnleaf_steps::Line| {
            l.name == "step-check-own"
                && l.values.iter().any(|(_, v)| *v == turnleaf_steps::Value::Part(part.into()))
        };
        steps.iter().find(|s| s.tight.iter().any(named)).map(|s| s.id.as_str())
    };
    assert_eq!(asked("panel-arm"), Some("fit/panel-slides"));
    assert_eq!(asked("leaf-arm"), Some("fit/leaf-slides"));
    let pin = a.pieces.iter().find(|p| a.part_of(p).id == "panel-slide-pin").expect("a pin");
    assert!(matches!(pin.motion, Motion::Sliding { law: Law::Panel, .. }));
    // The number asked for is the proof's own.
    let pair = proof.pairs.iter().find(|p| p.a == "panel-arm" && p.b == "panel-arm").expect("arms");
    let step = steps.iter().find(|s| s.id == "fit/panel-slides").expect("a step");
    let value = step.tight[0].values.iter().find(|v| v.0 == "value").map(|v| v.1.clone());
    assert_eq!(value, Some(turnleaf_steps::Value::Length(pair.distance)));
}

/// The rule of the estimate, worked by hand: a square of 500 mm with four holes, three times:
/// 15 + 4·6 + 1·12 + 2·3 = 57 min.
#[test]
fn times_follow_the_stated_rule() {
    use turnleaf_steps::{Work, minutes, spoken};
    let work = Work { outline: 6.0, groove: 0.0, holes: 12.0, pieces: 3.0 };
    assert_eq!(minutes(&work), 57.0);
    assert_eq!(spoken(57.0), (1, 0));
    assert_eq!(spoken(61.0), (1, 15));
    assert_eq!(spoken(15.0), (0, 15));
}
