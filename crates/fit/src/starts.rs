//! Where the search starts and what it changes.
//!
//! In: a wish, sizes, the name of the tightest margin. Out: sizes to try, the likeliest first.
//! Always true: the wish's own sizes are never changed; lengths stay on a grid of half a millimetre.

use crate::search::Wish;
use turnleaf_geom::trig;
use turnleaf_mechanism::members::pin_radius;
use turnleaf_mechanism::rollers::SLOPE_LIMIT;
use turnleaf_mechanism::{DriveKind, Opening, Sizes};
use turnleaf_motion::checks::ARM_WALL;

/// Rounds to half a millimetre.
fn grid(x: f64) -> f64 {
    (x * 2.0).round() / 2.0
}

/// Changes of one size that may widen a margin, the likeliest first.
pub(crate) fn moves(w: &Wish, at: &Sizes, tightest: &str) -> Vec<Sizes> {
    let mut out: Vec<Sizes> = Vec::new();
    let mut put = |s: Sizes| {
        if s != *at {
            out.push(s);
        }
    };
    let width = |k: f64| Sizes { arm_width: grid(at.arm_width * k).max(arm_least(w)), ..at.clone() };
    let tongue = |k: f64| Sizes { tongue_depth: grid(at.tongue_depth * k).max(2.0), ..at.clone() };
    let sweep = |a: f64| Sizes { ramp_sweep: trig::rad(a), ..at.clone() };
    let now = trig::deg(at.ramp_sweep);
    let (shorter, longer) = (sweep(now - if now > 16.0 { 4.0 } else { 2.0 }), sweep((now + 5.0).min(34.0)));
    let shorter = (now > 10.0).then_some(shorter);
    let tip = |out: &mut Vec<Sizes>| {
        let here = trig::deg(at.leaf_tip_half_angle);
        for a in tips(w) {
            if (a - here).abs() > 1.0 {
                out.push(Sizes { leaf_tip_half_angle: trig::rad(a), ..at.clone() });
            }
        }
    };
    match tightest {
        "arms" => {
            put(width(0.85));
            put(width(0.7));
            put(longer);
            shorter.into_iter().for_each(&mut put);
            put(tongue(0.75));
            tip(&mut out);
        }
        "arm width" => {
            put(width(1.2));
            put(width(1.1));
        }
        "tongues" => {
            put(tongue(1.3));
            put(tongue(1.15));
        }
        "ramp slope" => put(longer),
        "arm angle" => {
            put(longer);
            shorter.into_iter().for_each(&mut put);
            put(tongue(0.75));
            put(width(0.85));
            tip(&mut out);
        }
        _ => {
            shorter.into_iter().for_each(&mut put);
            put(tongue(0.75));
            put(longer);
            tip(&mut out);
        }
    }
    out
}

/// Where to start, the likeliest first: the first that solves is made roomier.
pub(crate) fn starts(w: &Wish) -> Vec<Sizes> {
    let with = |slender: f64, sweep: f64, tip: f64| Sizes {
        ramp_sweep: trig::rad(sweep),
        leaf_tip_half_angle: trig::rad(tip),
        ..start(w, slender)
    };
    let tips = tips(w);
    let mut out = Vec::new();
    match w.drive {
        DriveKind::Arms => {
            for (slender, sweep) in
                [(1.0, 24.0), (0.6, 24.0), (0.6, 32.0), (0.4, 24.0), (0.4, 32.0), (0.4, 18.0), (0.4, 14.0)]
            {
                out.push(with(slender, sweep, tips[0]));
            }
            out.extend(tips.iter().skip(1).map(|&tip| with(0.4, 24.0, tip)));
        }
        DriveKind::Cam => {
            // A cam's dwell is the sweep, and long dwells of many slots run together; but its rollers stand near
            // the rim, outside the slots, and a short ramp is steep there too.
            let step = w.stock_thickness + Sizes::example().play;
            let radius = 0.8 * w.closed_diameter / 2.0;
            let steep = trig::deg(step / (radius * trig::tan(trig::rad(SLOPE_LIMIT)))).ceil();
            let slender: &[f64] = if w.sectors < 8 { &[1.0, 0.6, 0.3] } else { &[0.5, 0.3] };
            for (i, &slender) in slender.iter().enumerate() {
                for more in [0.0, 3.0] {
                    let s = with(slender, (steep + more).max(8.0), tips[0]);
                    // Less asked for beside the tongues is less over-travel, which is what crowds the slots.
                    let clearance = if i > 0 { 0.8 } else { s.tongue_clearance };
                    out.push(Sizes { tongue_clearance: clearance, ..s });
                }
            }
            let last = out[out.len() - 2].clone();
            out.extend(tips.iter().map(|&a| Sizes {
                leaf_tip_half_angle: trig::rad(a),
                tongue_clearance: 0.5,
                ..last.clone()
            }));
        }
    }
    out
}

/// Wood wanted under a pocket, mm. Common practice, no source; strength is judged separately.
const POCKET_FLOOR: f64 = 6.0;
/// Narrowest arm tried, mm: the hole of its pin with the least wood on either side.
fn arm_least(w: &Wish) -> f64 {
    2.0 * pin_radius(w.sectors, w.closed_diameter / 2.0) + 0.5 + 2.0 * ARM_WALL
}

/// Sizes to start from: common practice, no source, scaled to the table.
fn start(w: &Wish, slender: f64) -> Sizes {
    let scale = (w.closed_diameter / 1200.0).clamp(0.6, 1.2) * slender;
    let s = Sizes::example();
    Sizes {
        drive: w.drive,
        closed_diameter: w.closed_diameter,
        opening: Opening::Diameter(w.open_diameter),
        sectors: w.sectors,
        stock_thickness: w.stock_thickness,
        height: w.height,
        tongue_depth: grid((6.0 * scale).min(w.stock_thickness / 3.0)).max(2.0),
        arm_width: grid(20.0 * scale).max(arm_least(w)),
        arm_clearance: 2.0,
        leaf_tip_half_angle: trig::rad(tips(w)[0]),
        // Pockets are a step deep; so much is left under them.
        ply_thickness: s.ply_thickness.max(((w.stock_thickness + s.play + POCKET_FLOOR) / 2.0).ceil()),
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
