//! The search.
//!
//! In: a wish. Out: the roomiest table found.
//! Method: from stout to slender, the first start that solves is made roomier by changing only what its tightest
//! margin depends on; the search inside the solver finds pins, lengths, bends and rollers. The best candidates
//! are proved in order until one passes every check.
//! Always true: the number of solves is bounded, so the time is; the same wish gives the same table.

use crate::score::{Score, score};
use crate::starts::{moves, starts};
use turnleaf_mechanism::{DriveKind, Mechanism, Sizes, Trouble, solve};
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

struct Best {
    mechanism: Mechanism,
    score: Score,
}

/// A margin this wide ends the search.
const ENOUGH: f64 = 0.8;

/// Solves spent on one wish. More: roomier tables, found more slowly.
fn budget(w: &Wish) -> usize {
    match w.drive {
        DriveKind::Arms => 24,
        DriveKind::Cam => 16,
    }
}

/// Starts that are made roomier. More: sometimes roomier, always slower; a cam takes four times as long to solve.
fn climbs(w: &Wish) -> usize {
    match w.drive {
        DriveKind::Arms => 2,
        DriveKind::Cam => 1,
    }
}

/// What was tried so far.
struct Hunt {
    kept: Vec<Best>,
    troubles: Vec<Trouble>,
    tried: Vec<Sizes>,
    left: usize,
}

impl Hunt {
    /// Solves and scores; None when there is no mechanism, it was tried before, or enough was tried.
    fn look(&mut self, sizes: &Sizes) -> Option<Score> {
        if self.left == 0 || self.tried.contains(sizes) {
            return None;
        }
        self.left -= 1;
        self.tried.push(sizes.clone());
        match solve(sizes) {
            Ok(mechanism) => {
                let score = score(&mechanism);
                self.kept.push(Best { mechanism, score });
                Some(score)
            }
            Err(t) => {
                self.troubles = t;
                None
            }
        }
    }
    /// Changes what the tightest margin depends on, as long as that widens it.
    fn climb(&mut self, w: &Wish, from: Sizes) {
        let Some(mut best) = self.look(&from) else { return };
        let mut at = from;
        // Comfortable all round: nothing more is gained by searching on.
        while best.value < 1.0 {
            let wider = moves(w, &at, best.tightest)
                .into_iter()
                .find_map(|s| self.look(&s).filter(|f| f.value > best.value + 1e-6).map(|f| (f, s)));
            match wider {
                Some(found) => (best, at) = found,
                None => return,
            }
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
    let mut hunt = Hunt { kept: Vec::new(), troubles: Vec::new(), tried: Vec::new(), left: budget(w) };
    let mut solved = 0;
    for s in starts(w) {
        let before = hunt.kept.len();
        hunt.climb(w, adjust(s));
        solved += usize::from(hunt.kept.len() > before);
        let best = hunt.kept.iter().map(|b| b.score.value).fold(0.0, f64::max);
        if solved == climbs(w) || best >= ENOUGH {
            break;
        }
    }
    let Hunt { mut kept, troubles, .. } = hunt;
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

/// Halves towards the largest opening at which any start is sound, then makes that one roomier.
fn widest(w: &Wish) -> Result<Fitted, NoFit> {
    let at = |open: f64| Wish { open_diameter: open, ..w.clone() };
    let mut best = roomiest(w, |s| s)?;
    let (mut good, mut bad) = (w.open_diameter, w.closed_diameter * 1.6);
    while bad - good > 4.0 {
        let mid = ((good + bad) / 2.0).round();
        match first(&at(mid)) {
            Some(f) => (best, good) = (f, mid),
            None => bad = mid,
        }
    }
    match roomiest(&at(good), |s| s) {
        Ok(f) if f.score.value > best.score.value => Ok(f),
        _ => Ok(best),
    }
}

/// The first start that passes every check, as it is.
fn first(w: &Wish) -> Option<Fitted> {
    // The later starts are for crowded tables and hardly ever widen the opening.
    starts(w).into_iter().take(PROVED).filter_map(|s| solve(&s).ok()).find_map(|mechanism| {
        let score = score(&mechanism);
        settle(Best { mechanism, score }).ok()
    })
}
