//! Steps at the table: what is put in when.
//!
//! In: units in order. Out: a step for each stage, and the final adjustment.
//! Always true: each piece stands in `put_in` of one step; bought things without a place of their own (screws) count in
//! the step of the part they are named for, or in the last.

use crate::checks::Checks;
use crate::line::{BuildStep, Look, Value};
use crate::stage::{Stage, Unit};
use crate::time::{FIT, STEP};
use crate::{Line, Table};

use turnleaf_mechanism::arms::Upper;
use turnleaf_parts::Assembly;
use turnleaf_parts::build::SLIDE_PLAY;

/// How a stage is looked at, and which stages stand behind it in its figure: those that its pieces touch or pass.
fn seen(stage: Stage) -> (Look, &'static [Stage]) {
    use Look::{Above, Below, Corner};
    match stage {
        Stage::Frame => (Corner, &[]),
        Stage::Base => (Corner, &[Stage::Frame]),
        Stage::Ramps => (Above, &[Stage::Base]),
        Stage::Drive => (Above, &[Stage::Base, Stage::Ramps]),
        Stage::Turning => (Corner, &[Stage::Frame, Stage::Base, Stage::Ramps]),
        Stage::PanelSlides => (Above, &[Stage::Turning]),
        Stage::Rising => (Corner, &[Stage::Turning, Stage::PanelSlides]),
        Stage::LeafSlides => (Above, &[Stage::Rising]),
        Stage::Levers => (Above, &[Stage::Rising, Stage::LeafSlides]),
        Stage::Posts => (Corner, &[Stage::Turning, Stage::Rising, Stage::LeafSlides]),
        Stage::Star => (Corner, &[Stage::Rising, Stage::LeafSlides, Stage::Posts]),
        Stage::Leaves => (Corner, &[Stage::Rising, Stage::Posts, Stage::Star]),
        Stage::Panels => (Corner, &[Stage::Frame, Stage::Base, Stage::Turning, Stage::Posts, Stage::Leaves]),
        Stage::Stops => (Below, &[Stage::Frame, Stage::Base, Stage::Turning]),
    }
}

/// One step a stretch of units of one stage, in order.
pub(crate) fn steps(t: &Table, units: &[Unit]) -> Vec<BuildStep> {
    let a = t.assembly;
    let mut out: Vec<(Stage, BuildStep)> = Vec::new();
    for unit in units {
        let again = out.last().is_some_and(|(s, _)| *s == unit.stage);
        if !again {
            let key = unit.stage.key();
            let mut step = BuildStep::new("fit", key);
            if out.iter().any(|(s, _)| *s == unit.stage) {
                // Geometry parts the stage: the later stretch is known by its leading part.
                step.id = format!("fit/{key}/{}", a.parts[unit.kinds[0]].id);
            }
            out.push((unit.stage, step));
        }
        let Some((_, step)) = out.last_mut() else { continue };
        put_in(a, step, unit);
    }
    let mut past: Vec<(Stage, Vec<String>)> = Vec::new();
    for (stage, step) in &mut out {
        let (look, context) = seen(*stage);
        step.look = Some(look);
        step.there = past
            .iter()
            .filter(|(s, _)| context.contains(s) || s == stage)
            .flat_map(|p| p.1.clone())
            .collect();
        past.push((*stage, step.put_in.clone()));
        words(t, *stage, step);
    }
    for i in 1..out.len() {
        let before = out[i - 1].1.id.clone();
        out[i].1.needs.push(before);
    }
    let mut steps: Vec<BuildStep> = Vec::with_capacity(out.len() + 1);
    let checks = Checks::new(t, &out.iter().map(|(_, s)| s.clone()).collect::<Vec<_>>());
    for (i, (stage, mut step)) in out.into_iter().enumerate() {
        checks.add(i, stage, &mut step);
        steps.push(step);
    }
    steps.push(last(t, steps.last().map(|s| s.id.clone())));
    loose(a, &mut steps);
    for step in &mut steps {
        let put_in: usize = step.pieces.iter().chain(&step.hardware).map(|p| p.1).sum();
        step.minutes = STEP + FIT * put_in as f64;
    }
    steps
}

fn put_in(a: &Assembly, step: &mut BuildStep, unit: &Unit) {
    for &k in &unit.kinds {
        let here: Vec<String> = a.pieces.iter().filter(|p| p.part == k).map(|p| p.id.clone()).collect();
        let list = if a.parts[k].made { &mut step.pieces } else { &mut step.hardware };
        list.push((k, here.len()));
        step.put_in.extend(here);
    }
}

/// Bought things that are listed without a place: counted where the part they are named for is put in.
fn loose(a: &Assembly, steps: &mut [BuildStep]) {
    for (k, part) in a.parts.iter().enumerate() {
        let placed = a.pieces.iter().filter(|p| p.part == k).count();
        let rest = part.count.saturating_sub(placed);
        if part.made || rest == 0 {
            continue;
        }
        let fits = |s: &BuildStep| {
            s.id.starts_with("fit/")
                && s.pieces.iter().chain(&s.hardware).any(|(p, _)| {
                    *p != k && part.id.strip_suffix(a.parts[*p].id.as_str()).is_some_and(|r| r.ends_with('-'))
                })
        };
        let last = steps.len().saturating_sub(1);
        let at = steps.iter().position(fits).unwrap_or(last);
        let Some(step) = steps.get_mut(at) else { continue };
        match step.hardware.iter_mut().find(|h| h.0 == k) {
            Some(known) => known.1 += rest,
            None => step.hardware.push((k, rest)),
        }
    }
}

/// What is said in a stage.
fn words(t: &Table, stage: Stage, step: &mut BuildStep) {
    let a = t.assembly;
    let m = &a.mechanism;
    let n = ("sectors", Value::Solved("sectors"));
    let length = Value::Length;
    let solved = Value::Solved;
    let thick = |id: &str| length(a.part(id).map_or(0.0, |p| p.thickness));
    match stage {
        Stage::Frame => {
            step.say("step-frame-text", [("leg", thick("leg"))]);
            step.check("step-frame-check", []);
            step.beware(&["glue"]);
        }
        Stage::Base => {
            step.say("step-base-text", [("bottom", solved("stack.base-bottom"))]);
            step.check("step-base-check", []);
            if m.cam().is_some() {
                step.title = Line::new("step-cam");
                let values = [("panel", solved("cam.panel-closed")), ("leaf", solved("cam.leaf-closed"))];
                step.say("step-cam-text", values);
                step.check("step-cam-check", [("pin", length(2.0 * m.members.pin))]);
            }
            step.beware(&["lift"]);
        }
        Stage::Ramps => {
            step.say(
                "step-ramps-text",
                [
                    ("step", solved("lift.step")),
                    ("outer", solved("roller.outer-radius")),
                    ("inner", solved("roller.inner-radius")),
                ],
            );
            let screwed = a.part("screw-glide-ring").is_some();
            step.say(if screwed { "step-ramps-ring" } else { "step-ramps-strip" }, []);
            step.check(
                "step-ramps-check",
                [
                    ("step", solved("lift.step")),
                    ("outer", solved("roller.outer-slope")),
                    ("inner", solved("roller.inner-slope")),
                ],
            );
        }
        Stage::Drive => {
            let Some(arms) = m.arms() else { return };
            let (upper, lower) = match arms.upper {
                Upper::Panel => ("panel-arm", "leaf-arm"),
                Upper::Leaf => ("leaf-arm", "panel-arm"),
            };
            let part = |id: &str| Value::Part(id.into());
            step.say(
                "step-drive-text",
                [
                    ("panel", solved("panel.arm.pin-radius")),
                    ("leaf", solved("leaf.arm.pin-radius")),
                    ("upper", part(upper)),
                    ("lower", part(lower)),
                    ("bend", solved("panel.arm.bend")),
                ],
            );
            step.check("step-drive-check", []);
        }
        Stage::Turning => {
            step.say("step-turning-plate-text", [("radius", solved("plate.turning-radius"))]);
            step.check("step-turning-plate-check", []);
            step.beware(&["lift", "pinch"]);
        }
        Stage::PanelSlides => {
            if a.part("pin-plate").is_some() {
                step.say("step-panel-slides-plates", []);
            }
            step.say(
                "step-panel-slides-text",
                [n, ("play", length(SLIDE_PLAY)), ("pin", solved("panel.slide.pin-closed"))],
            );
            step.check("step-panel-slides-check", [("play", length(SLIDE_PLAY))]);
            step.beware(&["pinch-again"]);
        }
        Stage::Rising => {
            step.say(
                "step-rising-plate-text",
                [("step", solved("lift.step")), ("arm", solved("roller.arm"))],
            );
            step.check("step-rising-plate-check", [("step", solved("lift.step"))]);
            step.beware(&["lift", "pinch-again"]);
        }
        Stage::LeafSlides => {
            step.say(
                "step-leaf-slides-text",
                [n, ("play", length(SLIDE_PLAY)), ("pin", solved("leaf.slide.pin-closed"))],
            );
            step.check("step-leaf-slides-check", [("turn", solved("turn.whole"))]);
            step.beware(&["pinch-again"]);
        }
        Stage::Levers => {
            step.say(
                "step-levers-text",
                [
                    ("count", solved("lift.lever-count")),
                    ("arm", solved("lift.lever-arm")),
                    ("tilt", solved("lift.lever-tilt")),
                ],
            );
            step.check("step-levers-check", [("step", solved("lift.step")), ("star", solved("lift.star"))]);
        }
        Stage::Posts => {
            step.say(
                "step-posts-text",
                [
                    ("inner", solved("post.inner-radius")),
                    ("outer", solved("post.outer-radius")),
                    ("post", thick("panel-post")),
                    ("riser", thick("leaf-riser")),
                ],
            );
            step.check("step-posts-check", []);
        }
        Stage::Star => {
            step.say("step-star-text", [("reach", solved("star.reach"))]);
            step.check(
                "step-star-check",
                [("star", solved("lift.star")), ("error", solved("lift.star-error"))],
            );
            step.beware(&["pinch-again"]);
        }
        Stage::Leaves => {
            step.say("step-leaves-text", [n, ("gap", length(m.sizes.fitting_gap))]);
            step.check(
                "step-leaves-check",
                [("travel", solved("leaf.travel")), ("step", solved("lift.step"))],
            );
            step.beware(&["screws", "pinch-again"]);
        }
        Stage::Panels => {
            step.say("step-panels-text", [n, ("half", length(m.sizes.fitting_gap / 2.0))]);
            step.check(
                "step-panels-check",
                [
                    ("closed", solved("closed.diameter")),
                    ("open", solved("open.diameter")),
                    ("gap", solved("gap.width")),
                ],
            );
            step.beware(&["pinch-again", "tipping"]);
        }
        Stage::Stops => {
            step.say("step-stops-text", [("turn", solved("turn.whole"))]);
            step.check("step-stops-check", [("turn", solved("turn.whole"))]);
            step.beware(&["turnover", "pinch-again"]);
        }
    }
}

/// The final adjustment.
fn last(t: &Table, before: Option<String>) -> BuildStep {
    let m = &t.assembly.mechanism;
    let mut step = BuildStep::new("fit", "adjust");
    let solved = Value::Solved;
    step.say(
        "step-adjust-text",
        [
            ("begins", solved("turn.lift-begins")),
            ("ends", solved("turn.lift-ends")),
            ("turn", solved("turn.whole")),
            ("back", Value::Length(m.panel_travel_most() - m.panel_travel(m.turn()))),
        ],
    );
    step.check("step-adjust-check", [("play", Value::Length(m.sizes.play)), ("top", solved("stack.top"))]);
    step.check("step-adjust-load", [("load", Value::Force(m.sizes.edge_load))]);
    step.beware(&["pinch-again", "tipping", "finish"]);
    step.needs.extend(before);
    step
}
