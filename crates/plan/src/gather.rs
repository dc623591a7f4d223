//! Sizes for the solver from a plan file.
//!
//! In: a plan whose fields are in range. Out: [`Sizes`].
//! Always true: a measured thickness takes the place of the planned one.

use turnleaf_book::Measured;
use turnleaf_mechanism::{DriveKind, Number, Opening, Sizes};
use turnleaf_parts::Assembly;
use turnleaf_planfile::{Drive, FIELDS, Plan};

/// Gathers the sizes. Required fields are always present in a [`Plan`]; a field that were not would fall
/// back to the worked example's, which the tests of this module rule out.
pub fn sizes(plan: &Plan) -> Sizes {
    let base = Sizes::example();
    let mm = |id: &str| plan.actual_length(id).map(|l| l.mm());
    let or = |id: &str, fallback: f64| mm(id).unwrap_or(fallback);
    let angle = |id: &str, fallback: f64| plan.angle(id).map_or(fallback, |a| a.radians());
    let opening = match mm("travel") {
        Some(e) => Opening::Travel(e),
        None => Opening::Diameter(or("open_diameter", 0.0)),
    };
    Sizes {
        drive: match plan.options().drive {
            Drive::Arms => DriveKind::Arms,
            Drive::Cam => DriveKind::Cam,
        },
        closed_diameter: or("closed_diameter", base.closed_diameter),
        opening,
        sectors: plan.count("sectors").map_or(base.sectors, |n| n as usize),
        slide_skew: angle("slide_skew", base.slide_skew),
        stock_thickness: or("stock_thickness", base.stock_thickness),
        play: or("play", base.play),
        tongue_depth: or("tongue_depth", base.tongue_depth),
        tongue_thickness: mm("tongue_thickness"),
        tongue_clearance: or("tongue_clearance", base.tongue_clearance),
        fitting_gap: or("fitting_gap", base.fitting_gap),
        hidden_margin: or("hidden_margin", base.hidden_margin),
        leaf_tip_half_angle: angle("leaf_tip_half_angle", base.leaf_tip_half_angle),
        height: or("height", base.height),
        plate_thickness: or("plate_thickness", base.plate_thickness),
        ply_thickness: or("ply_thickness", base.ply_thickness),
        slide_thickness: or("slide_thickness", base.slide_thickness),
        arm_thickness: or("arm_thickness", base.arm_thickness),
        arm_width: or("arm_width", base.arm_width),
        arm_clearance: or("arm_clearance", base.arm_clearance),
        ramp_sweep: angle("ramp_sweep", base.ramp_sweep),
        panel_pin_radius: mm("panel_pin_radius"),
        panel_arm_length: mm("panel_arm_length"),
        panel_arm_bend: mm("panel_arm_bend"),
        leaf_pin_radius: mm("leaf_pin_radius"),
        leaf_arm_length: mm("leaf_arm_length"),
        leaf_arm_bend: mm("leaf_arm_bend"),
        edge_load: plan.force("edge_load").map_or(base.edge_load, |f| f.newtons()),
    }
}

/// What measured thicknesses changed against the table as planned; nothing when none was measured.
pub fn measured(plan: &Plan, numbers: &[Number], assembly: &Assembly) -> Option<Measured> {
    let mut planned = plan.clone();
    let mut any = false;
    for field in FIELDS.iter().filter(|f| plan.measured(f.id).is_some()) {
        any |= planned.set_measured(field.id, "").is_ok();
    }
    if !any {
        return None;
    }
    // Sizes that only work as measured have nothing to be compared with: all that follows is then signed.
    let Ok(mechanism) = turnleaf_mechanism::solve(&sizes(&planned)) else {
        let nothing =
            Assembly { mechanism: assembly.mechanism.clone(), parts: Vec::new(), pieces: Vec::new() };
        return Some(Measured::between((&[], &nothing), (numbers, assembly)));
    };
    let before = turnleaf_mechanism::numbers(&mechanism);
    Some(Measured::between((&before, &turnleaf_parts::assemble(&mechanism)), (numbers, assembly)))
}
