//! How flush the open top ends: tolerance stacks of thicknesses and heights.
//!
//! In: an assembly and assumptions. Out: stacks and figures.
//! Always true: panel, leaf and star are measured from the base plate's upper face; what both stacks share
//! is left out on both sides; one half-width is three standard deviations in the trial.

use crate::assumptions::Assumptions;
use crate::figure::Figure;
use crate::tolerance::{Draws, percentile, root_sum_square, worst};
use turnleaf_parts::{Assembly, FeatureKind};

/// One contribution to a height.
#[derive(Clone, Debug, PartialEq)]
pub struct Layer {
    /// What.
    pub name: &'static str,
    /// Mean shift, mm.
    pub shift: f64,
    /// Half-width, mm.
    pub half: f64,
    /// How strongly it counts.
    pub weight: f64,
    /// Whether all panels (or leaves) share it.
    pub shared: bool,
}

/// The three stacks.
#[derive(Clone, Debug, PartialEq)]
pub struct Stacks {
    /// Base to panel's face.
    pub panel: Vec<Layer>,
    /// Base to leaf's face, lifted.
    pub leaf: Vec<Layer>,
    /// Base to star's face, lifted.
    pub star: Vec<Layer>,
}

/// How the maker works.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Making {
    /// Every sheet at its nominal thickness, as bought.
    AsBought,
    /// Stock measured first; posts, risers and hub made to suit.
    Measured,
}

/// Reads the stacks; None when a part is missing.
pub fn stacks(a: &Assembly, s: &Assumptions, making: Making) -> Option<Stacks> {
    let sheet = |name: &'static str, id: &str, shared: bool| {
        let t = a.part(id)?.thickness;
        let (shift, half) = match making {
            Making::AsBought => s.stock(t),
            Making::Measured => (0.0, s.batch_tolerance),
        };
        Some(Layer { name, shift, half, weight: 1.0, shared })
    };
    let sawn = |name: &'static str, weight: f64, shared: bool| Layer {
        name,
        shift: 0.0,
        half: s.saw_tolerance,
        weight,
        shared,
    };
    let m = &a.mechanism;
    let rise = m.stack.step;
    let tip = |z: f64| m.lever.tip_rise(z).unwrap_or(2.0 * z);
    let ratio = (tip(rise) - tip(rise - 0.01)) / 0.01;
    // A roller or ramp that is off moves the plate, and the star by the levers' ratio.
    let roller = |weight| sawn("rollers and ramps", weight, true);
    Some(Stacks {
        panel: vec![
            sawn("glide ring", 1.0, true),
            sheet("turning plate", "turning-plate", true)?,
            sheet("panel slide", "panel-slide", false)?,
            sawn("posts", 1.0, false),
            sheet("panel", "panel", false)?,
        ],
        leaf: vec![
            roller(1.0),
            sheet("rising plate", "rising-plate", true)?,
            sheet("leaf slide", "leaf-slide", false)?,
            sawn("risers", 1.0, false),
            sheet("leaf", "leaf", false)?,
        ],
        star: vec![
            roller(ratio),
            sheet("rising plate", "rising-plate", true)?,
            sawn("flange", ratio - 1.0, true),
            sawn("levers", 1.0, true),
            sawn("hub", 1.0, true),
            sheet("star", "star", true)?,
        ],
    })
}

/// Half-widths of the step between two stacks, weights applied; shared layers of one name cancel.
pub fn step_halves(x: &[Layer], y: &[Layer]) -> (f64, Vec<f64>) {
    let mut shift = 0.0;
    let mut halves = Vec::new();
    for l in x {
        let common = y.iter().find(|o| o.name == l.name && o.shared && l.shared);
        let weight = l.weight - common.map_or(0.0, |o| o.weight);
        shift += weight * l.shift;
        halves.push((weight * l.half).abs());
    }
    for l in y {
        if !x.iter().any(|o| o.name == l.name && o.shared && l.shared) {
            shift -= l.weight * l.shift;
            halves.push((l.weight * l.half).abs());
        }
    }
    (shift, halves)
}

/// What the trial found, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Trial {
    /// Largest step of a top: the value that 95 % of tops stay below.
    pub largest: f64,
    /// The same once the tongues have pulled the joints together.
    pub pulled: f64,
    /// Mean of the largest steps.
    pub mean: f64,
    /// Standard deviation of a single panel-to-leaf joint.
    pub joint: f64,
}

/// Free height of a tongue in its groove, mm: from the leaf's tongue and the panel's groove.
pub fn tongue_play(a: &Assembly) -> Option<f64> {
    let height = |id: &str, tongue: bool| {
        a.part(id)?.features.iter().find_map(|f| match f.kind {
            FeatureKind::EdgeTongue { z, .. } if tongue => Some(z.1 - z.0),
            FeatureKind::EdgeGroove { z, .. } if !tongue => Some(z.1 - z.0),
            _ => None,
        })
    };
    Some((height("panel", false)? - height("leaf", true)?).max(0.0))
}

/// A joint after its tongue has entered: what is left of a step. Within the play nothing moves; beyond it the
/// groove holds the step to half the play and the error of both heights.
pub fn pulled(step: f64, play: f64, error: f64) -> f64 {
    step.abs().min(play / 2.0 + error.abs())
}

/// Draws tops.
pub fn trial(a: &Assembly, s: &Assumptions, stacks: &Stacks) -> Trial {
    let n = a.mechanism.sizes.sectors;
    let play = tongue_play(a).unwrap_or(f64::INFINITY);
    let mut draws = Draws::start(s.trial_start);
    let (mut largest, mut after) = (Vec::new(), Vec::new());
    let (mut sum, mut squares, mut joints) = (0.0, 0.0, 0usize);
    for _ in 0..s.trials {
        // Shared layers are drawn once a top; the same name is the same piece in every stack.
        let mut known: Vec<(&'static str, f64)> = Vec::new();
        let mut height = |layers: &[Layer], draws: &mut Draws| {
            let mut h = 0.0;
            for l in layers {
                let v = if l.shared {
                    match known.iter().find(|k| k.0 == l.name) {
                        Some(k) => k.1,
                        None => {
                            let v = draws.within(l.shift, l.half);
                            known.push((l.name, v));
                            v
                        }
                    }
                } else {
                    draws.within(l.shift, l.half)
                };
                h += l.weight * v;
            }
            h
        };
        let panels: Vec<f64> = (0..n).map(|_| height(&stacks.panel, &mut draws)).collect();
        let leaves: Vec<f64> = (0..n).map(|_| height(&stacks.leaf, &mut draws)).collect();
        let star = height(&stacks.star, &mut draws);
        let (mut most, mut most_after) = (0.0f64, 0.0f64);
        let mut see = |step: f64, draws: &mut Draws| {
            let error = draws.within(0.0, s.groove_tolerance) - draws.within(0.0, s.groove_tolerance);
            most = most.max(step.abs());
            most_after = most_after.max(pulled(step, play, error));
        };
        for k in 0..n {
            // Leaf k lies between panel k and the next; the star touches both.
            for p in [panels[k], panels[(k + 1) % n]] {
                let step = p - leaves[k];
                sum += step;
                squares += step * step;
                joints += 1;
                see(step, &mut draws);
            }
            see(star - leaves[k], &mut draws);
            see(star - panels[k], &mut draws);
        }
        largest.push(most);
        after.push(most_after);
    }
    let count = joints.max(1) as f64;
    let mean_joint = sum / count;
    Trial {
        mean: largest.iter().sum::<f64>() / largest.len().max(1) as f64,
        largest: percentile(largest, 0.95),
        pulled: percentile(after, 0.95),
        joint: (squares / count - mean_joint * mean_joint).max(0.0).sqrt(),
    }
}

const SOURCE: &str = "worst case and root-sum-square of tolerance stacks (mechanical-design texts)";

/// All figures of flushness.
pub fn figures(a: &Assembly, s: &Assumptions) -> Vec<Figure> {
    let mut out = Vec::new();
    let play = tongue_play(a);
    for (making, id, words) in [
        (Making::AsBought, "bought", "stock as bought"),
        (Making::Measured, "measured", "stock measured first"),
    ] {
        let Some(st) = stacks(a, s, making) else { continue };
        let with = |mut f: Figure, x: &[Layer], y: &[Layer]| {
            for l in x.iter().chain(y) {
                f = f.given(format!("{}, plus or minus", l.name), l.half, "mm");
            }
            f
        };
        let (shift, halves) = step_halves(&st.panel, &st.leaf);
        let sources = match making {
            Making::AsBought => {
                "thickness: EN 315 (formula from memory) unless set otherwise; lengths: common practice, no source"
            }
            Making::Measured => "tolerances: common practice, no source",
        };
        let advice = match making {
            Making::AsBought => {
                "Far too much to trust: measure your stock and make posts and risers to suit."
            }
            Making::Measured => {
                "Measure every sheet, then set the lengths of posts and risers to bring the faces level."
            }
        };
        let named = |tail: &str| format!("flush.{id}.{tail}");
        out.push(
            with(
                Figure::new(
                    named("worst"),
                    format!("Step between panel and leaf, worst case, {words}"),
                    shift.abs() + worst(&halves),
                    "mm",
                ),
                &st.panel,
                &st.leaf,
            )
            .by("|mean shift| + Σ half-widths", format!("{SOURCE}; {sources}"))
            .says(advice),
        );
        out.push(
            with(
                Figure::new(
                    named("rss"),
                    format!("Step between panel and leaf, root-sum-square, {words}"),
                    shift.abs() + root_sum_square(&halves),
                    "mm",
                ),
                &st.panel,
                &st.leaf,
            )
            .by("|mean shift| + √Σ half-width²", format!("{SOURCE}; {sources}"))
            .says(advice),
        );
        let (star_shift, star) = step_halves(&st.star, &st.leaf);
        out.push(
            with(
                Figure::new(
                    named("star-rss"),
                    format!("Step between star and leaf, root-sum-square, {words}"),
                    star_shift.abs() + root_sum_square(&star),
                    "mm",
                ),
                &st.star,
                &st.leaf,
            )
            .by(
                "|mean shift| + √Σ (weight·half-width)²; rollers, flange count by the levers' ratio",
                format!("{SOURCE}; {sources}"),
            )
            .says("Leave the star's hub a little thick and plane it to fit at the end."),
        );
        let t = trial(a, s, &st);
        let drawn = |f: Figure| {
            f.given("tops drawn", s.trials as f64, "count").given(
                "joints of a top",
                4.0 * a.mechanism.sizes.sectors as f64,
                "count",
            )
        };
        out.push(
            drawn(Figure::new(
                named("trial"),
                format!("Largest step of a top, 95 of 100 tops stay below, {words}"),
                t.largest,
                "mm",
            ))
            .given("deviation of one panel-to-leaf joint", t.joint, "mm")
            .by(
                "trial over whole tops, each half-width three deviations, the same numbers every time",
                format!("Monte Carlo; {sources}"),
            )
            .says(advice),
        );
        if let Some(play) = play {
            out.push(
                drawn(Figure::new(named("tongues"), format!("The same once the tongues have entered, {words}"), t.pulled, "mm"))
                    .at_most(s.felt_step)
                    .given("play of a tongue in its groove", play, "mm")
                    .given("height of a tongue or groove, plus or minus", s.groove_tolerance, "mm")
                    .given("taken out by the tongues", t.largest - t.pulled, "mm")
                    .by("least of the step and play/2 + error of both heights, at every joint", format!("Monte Carlo; {sources}; limit: common practice, no source"))
                    .says("Tongues can only enter when the step is smaller than the chamfer on their edges: chamfer them, and do not rely on them for more than a millimetre."),
            );
        }
    }
    out
}
