//! The search.
//!
//! In: a wish. Out: the roomiest table found.
//! Method: start from slender and from stout members, then change one size at a time to the value with the
//! best smallest margin, twice round; the arm search inside the solver finds pins, lengths and bends. The
//! best candidates are proved in order until one passes every check.

use crate::score::{Score, score};
use turnleaf_geom::trig;
use turnleaf_mechanism::{DriveKind, Mechanism, Opening, Sizes, Trouble, solve};
use turnleaf_motion::{Check, Proof};
use turnleaf_parts::Assembly;

/// What is wished for.
#[derive(Clone, Debug, PartialEq)]
pub struct Wish {
    /// Diameter closed, mm.
    pub closed_diameter: f64,
    /// Diameter open, mm; only a lower bound for the goal of the largest opening.
    pub open_diameter: f64,
    /// Sectors.
    pub sectors: usize,
    /// Thickness of the top's stock, mm.
    pub stock_thickness: f64,
    /// Height of the top, mm.
    pub height: f64,
    /// What moves the slides.
    pub drive: DriveKind,
    /// What is to be best.
    pub goal: Goal,
}

/// What is to be best.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Goal {
    /// The largest smallest margin.
    Margin,
    /// The thinnest top and mechanism.
    ThinnestTop,
    /// The largest opening.
    LargestOpening,
}

/// A table that was found.
#[derive(Clone, Debug, PartialEq)]
pub struct Fitted {
    /// Its sizes, all settled.
    pub sizes: Sizes,
    /// Parts and pieces.
    pub assembly: Assembly,
    /// Proof over the whole turn.
    pub proof: Proof,
    /// Checks, all of which hold.
    pub checks: Vec<Check>,
    /// Its smallest margin.
    pub score: Score,
}

/// Why none was found.
#[derive(Clone, Debug, PartialEq)]
pub struct NoFit {
    /// What stood in the way of the nearest try.
    pub troubles: Vec<Trouble>,
    /// Checks that failed on candidates that solved.
    pub failed: Vec<Check>,
}

/// Candidates that are proved before giving up.
const PROVED: usize = 6;

/// Sizes to start from: common practice, no source, scaled to the table.
fn start(w: &Wish, slender: f64) -> Sizes {
    let scale = (w.closed_diameter / 1200.0).clamp(0.6, 1.2) * slender;
    let s = Sizes::example();
    let grid = |x: f64| (x * 2.0).round() / 2.0;
    Sizes {
        drive: w.drive,
        closed_diameter: w.closed_diameter,
        opening: Opening::Diameter(w.open_diameter),
        sectors: w.sectors,
        stock_thickness: w.stock_thickness,
        height: w.height,
        tongue_depth: grid((6.0 * scale).min(w.stock_thickness / 3.0)).max(2.0),
        arm_width: grid(20.0 * scale).max(8.0),
        arm_clearance: 2.0,
        leaf_tip_half_angle: trig::rad(tips(w)[0]),
        ply_thickness: s.ply_thickness.max(grid((w.stock_thickness + s.play) / 2.0 + 0.5)),
        ..s
    }
}

/// Leaf tip half-angles to try, degrees: the usual 45 first.
fn tips(w: &Wish) -> Vec<f64> {
    let least = (180.0 / w.sectors as f64).ceil();
    let mut out = vec![least.max(45.0)];
    for a in [least + 2.0, 35.0, 55.0, 65.0] {
        if a >= least && a <= 90.0 && !out.contains(&a) {
            out.push(a);
        }
    }
    out
}

/// Ramp sweeps to try, degrees. A cam's dwell is the sweep, and long dwells of many slots run together.
fn sweeps(w: &Wish) -> &'static [f64] {
    match w.drive {
        DriveKind::Arms => &[18.0, 21.0, 28.0, 32.0],
        DriveKind::Cam => &[12.0, 14.0, 16.0, 19.0, 22.0, 28.0],
    }
}

struct Best {
    mechanism: Mechanism,
    score: Score,
}

fn better(kept: &mut Vec<Best>, troubles: &mut Vec<Trouble>, sizes: &Sizes) -> Option<f64> {
    match solve(sizes) {
        Ok(mechanism) => {
            let score = score(&mechanism);
            kept.push(Best { mechanism, score });
            Some(score.value)
        }
        Err(t) => {
            *troubles = t;
            None
        }
    }
}

/// Changes one size at a time to the best of its values.
fn descend(w: &Wish, from: Sizes, kept: &mut Vec<Best>, troubles: &mut Vec<Trouble>) {
    let mut at = from;
    let mut value = better(kept, troubles, &at);
    let grid = |x: f64| (x * 2.0).round() / 2.0;
    for _round in 0..2 {
        let before = value;
        for dial in 0..4 {
            if dial == 0 && w.drive == DriveKind::Cam {
                continue; // there are no arms to widen
            }
            let tries: Vec<Sizes> = match dial {
                0 => [0.85, 0.7, 0.55, 1.2]
                    .iter()
                    .map(|k| Sizes { arm_width: grid(at.arm_width * k).max(7.0), ..at.clone() })
                    .collect(),
                1 => sweeps(w).iter().map(|a| Sizes { ramp_sweep: trig::rad(*a), ..at.clone() }).collect(),
                2 => [0.75, 0.5, 1.25]
                    .iter()
                    .map(|k| Sizes { tongue_depth: grid(at.tongue_depth * k).max(2.0), ..at.clone() })
                    .collect(),
                _ => tips(w)
                    .iter()
                    .map(|a| Sizes { leaf_tip_half_angle: trig::rad(*a), ..at.clone() })
                    .collect(),
            };
            for s in tries {
                if s == at {
                    continue;
                }
                let found = better(kept, troubles, &s);
                if found.is_some_and(|f| value.is_none_or(|v| f > v + 1e-9)) {
                    (value, at) = (found, s);
                }
            }
            // Comfortable all round: nothing more is gained by searching on.
            if value.is_some_and(|v| v >= 1.0) {
                return;
            }
        }
        if value == before {
            return;
        }
    }
}

/// Finds the table.
pub fn fit(w: &Wish) -> Result<Fitted, NoFit> {
    match w.goal {
        Goal::Margin => roomiest(w, |s| s),
        Goal::ThinnestTop => thinnest(w),
        Goal::LargestOpening => widest(w),
    }
}

fn roomiest(w: &Wish, adjust: impl Fn(Sizes) -> Sizes) -> Result<Fitted, NoFit> {
    let mut kept: Vec<Best> = Vec::new();
    let mut troubles = Vec::new();
    for slender in [1.0, 0.6, 0.4] {
        descend(w, adjust(start(w, slender)), &mut kept, &mut troubles);
        if !kept.is_empty() {
            break;
        }
    }
    kept.sort_by(|x, y| y.score.value.total_cmp(&x.score.value));
    let mut failed = Vec::new();
    for best in kept.into_iter().take(PROVED) {
        match settle(best) {
            Ok(fitted) => return Ok(fitted),
            Err(checks) => failed = checks,
        }
    }
    Err(NoFit { troubles, failed })
}

/// Proves a candidate; what fails otherwise.
fn settle(best: Best) -> Result<Fitted, Vec<Check>> {
    let assembly = turnleaf_parts::assemble(&best.mechanism);
    let proof = turnleaf_motion::prove(&assembly);
    let checks = turnleaf_motion::checks(&assembly, &proof);
    let bad: Vec<Check> = checks.iter().filter(|c| !c.holds).cloned().collect();
    if !bad.is_empty() {
        return Err(bad);
    }
    Ok(Fitted { sizes: best.mechanism.sizes.clone(), assembly, proof, checks, score: best.score })
}

/// Least thicknesses, mm: plate, slide, arm. Common practice, no source; strength is judged separately.
const THIN: (f64, f64, f64) = (12.0, 9.0, 6.0);

/// Thins plates, slides, arms and plies as far as a table is still found.
fn thinnest(w: &Wish) -> Result<Fitted, NoFit> {
    let mut last = Err(NoFit { troubles: Vec::new(), failed: Vec::new() });
    for k in [0.0, 0.35, 0.7, 1.0] {
        let s = Sizes::example();
        let between = |thin: f64, usual: f64| ((thin + k * (usual - thin)) * 2.0).round() / 2.0;
        last = roomiest(w, |start| Sizes {
            plate_thickness: between(THIN.0, s.plate_thickness),
            slide_thickness: between(THIN.1, s.slide_thickness),
            arm_thickness: between(THIN.2, s.arm_thickness),
            // The pockets are a step deep: the plies cannot be thinner than half a step.
            ply_thickness: ((start.stock_thickness + start.play) / 2.0 * 2.0).ceil() / 2.0,
            play: 0.8,
            ..start
        });
        if last.is_ok() {
            return last;
        }
    }
    last
}

/// Widens the opening in growing strides, then halves back to the last that works.
fn widest(w: &Wish) -> Result<Fitted, NoFit> {
    let at = |open: f64| roomiest(&Wish { open_diameter: open, ..w.clone() }, |s| s);
    let mut best = at(w.open_diameter)?;
    let (mut good, mut bad) = (w.open_diameter, w.closed_diameter * 1.6);
    while bad - good > 4.0 {
        let mid = ((good + bad) / 2.0).round();
        match at(mid) {
            Ok(f) => (best, good) = (f, mid),
            Err(_) => bad = mid,
        }
    }
    Ok(best)
}
