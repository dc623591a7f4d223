//! The sizes that may be changed to mend a table, and how to say so.
//!
//! In: sizes, a name, a value. Out: the sizes with it, or its present value.
//! Always true: names are those of the plan file; lengths are mm, angles degrees; values lie in the range that
//! the plan file allows.

use turnleaf_geom::trig;
use turnleaf_mechanism::{DriveKind, Mechanism, Opening, Sizes};

/// Which marks values are put on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Marks {
    /// Whole or half millimetres.
    Metric,
    /// Sixteenths or thirty-seconds of an inch.
    Inch,
}

/// A size that may be changed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Dial {
    /// Plan-file name.
    pub size: &'static str,
    /// "mm", "deg", "count" or "N".
    pub unit: &'static str,
    /// Distance between two metric marks, in the unit.
    pub step: f64,
    /// Least and greatest value.
    pub range: (f64, f64),
    /// What making it larger is called.
    pub more: &'static str,
    /// What making it smaller is called.
    pub less: &'static str,
}

const fn dial(
    size: &'static str,
    unit: &'static str,
    step: f64,
    range: (f64, f64),
    more: &'static str,
    less: &'static str,
) -> Dial {
    Dial { size, unit, step, range, more, less }
}

/// Every size that may be changed.
pub const DIALS: [Dial; 27] = [
    dial(
        "closed_diameter",
        "mm",
        1.0,
        (500.0, 2500.0),
        "Make the closed table wider",
        "Make the closed table narrower",
    ),
    dial(
        "open_diameter",
        "mm",
        1.0,
        (520.0, 4000.0),
        "Let the table open wider",
        "Let the table open less wide",
    ),
    dial(
        "sectors",
        "count",
        1.0,
        (4.0, 12.0),
        "Divide the top into more sectors",
        "Divide the top into fewer sectors",
    ),
    dial("height", "mm", 1.0, (300.0, 1200.0), "Raise the top", "Lower the top"),
    dial("stock_thickness", "mm", 0.5, (6.0, 40.0), "Use thicker top stock", "Use thinner top stock"),
    dial("plate_thickness", "mm", 0.5, (6.0, 40.0), "Use thicker plate stock", "Use thinner plate stock"),
    dial("ply_thickness", "mm", 0.5, (4.0, 40.0), "Use thicker base plies", "Use thinner base plies"),
    dial("slide_thickness", "mm", 0.5, (4.0, 40.0), "Use thicker slides", "Use thinner slides"),
    dial("arm_thickness", "mm", 0.5, (3.0, 40.0), "Use thicker arms", "Use thinner arms"),
    dial(
        "play",
        "mm",
        0.1,
        (0.0, 5.0),
        "Allow more play between the levels",
        "Allow less play between the levels",
    ),
    dial("fitting_gap", "mm", 0.1, (0.0, 4.0), "Leave a wider fitting gap", "Leave a narrower fitting gap"),
    dial(
        "hidden_margin",
        "mm",
        0.5,
        (0.0, 50.0),
        "Store the leaves further inside the edge",
        "Store the leaves less far inside the edge",
    ),
    dial(
        "leaf_tip_half_angle",
        "deg",
        0.5,
        (15.0, 90.0),
        "Make the leaf tips blunter",
        "Make the leaf tips sharper",
    ),
    dial("tongue_depth", "mm", 0.5, (0.0, 20.0), "Make the tongues deeper", "Make the tongues shallower"),
    dial(
        "tongue_clearance",
        "mm",
        0.1,
        (0.0, 10.0),
        "Ask for more clearance beside the tongues",
        "Ask for less clearance beside the tongues",
    ),
    dial("arm_width", "mm", 0.5, (8.0, 80.0), "Make the arms wider", "Make the arms narrower"),
    dial(
        "arm_clearance",
        "mm",
        0.5,
        (0.5, 30.0),
        "Ask for more clearance between the arms",
        "Ask for less clearance between the arms",
    ),
    dial("ramp_sweep", "deg", 0.5, (8.0, 60.0), "Lengthen the ramps", "Shorten the ramps"),
    dial(
        "panel_pin_radius",
        "mm",
        1.0,
        (20.0, 1000.0),
        "Move the panel arms' crank pins out",
        "Move the panel arms' crank pins in",
    ),
    dial("panel_arm_length", "mm", 1.0, (30.0, 1500.0), "Lengthen the panel arms", "Shorten the panel arms"),
    dial(
        "panel_arm_bend",
        "mm",
        1.0,
        (-500.0, 500.0),
        "Bend the panel arms more",
        "Bend the panel arms less",
    ),
    dial(
        "leaf_pin_radius",
        "mm",
        1.0,
        (20.0, 1000.0),
        "Move the leaf arms' crank pins out",
        "Move the leaf arms' crank pins in",
    ),
    dial("leaf_arm_length", "mm", 1.0, (30.0, 1500.0), "Lengthen the leaf arms", "Shorten the leaf arms"),
    dial("leaf_arm_bend", "mm", 1.0, (-500.0, 500.0), "Bend the leaf arms more", "Bend the leaf arms less"),
    dial(
        "travel",
        "mm",
        1.0,
        (10.0, 1000.0),
        "Let the panels travel further",
        "Let the panels travel less far",
    ),
    dial("slide_skew", "deg", 0.5, (0.0, 45.0), "Turn the slides more", "Turn the slides less"),
    dial("edge_load", "N", 10.0, (0.0, 5000.0), "Ask for a greater edge load", "Ask for a smaller edge load"),
];

impl Dial {
    /// The dial of a size.
    pub fn of(size: &str) -> Option<&'static Dial> {
        DIALS.iter().find(|d| d.size == size)
    }
    /// Distance between two marks, in the unit.
    pub fn mark(&self, marks: Marks) -> f64 {
        match (self.unit, marks) {
            ("mm", Marks::Inch) if self.step >= 1.0 => 25.4 / 16.0,
            ("mm", Marks::Inch) => 25.4 / 32.0,
            _ => self.step,
        }
    }
    /// The value in these sizes, else what the solver found.
    pub fn get(&self, s: &Sizes, m: Option<&Mechanism>) -> Option<f64> {
        let arms = m.and_then(Mechanism::arms);
        let found = |given: Option<f64>, read: fn(&turnleaf_mechanism::arms::Arms) -> f64| {
            (s.drive == DriveKind::Arms).then(|| given.or_else(|| arms.map(read))).flatten()
        };
        Some(match self.size {
            "closed_diameter" => s.closed_diameter,
            "open_diameter" => s.closed_diameter + 2.0 * s.travel(),
            "travel" => s.travel(),
            "sectors" => s.sectors as f64,
            "height" => s.height,
            "stock_thickness" => s.stock_thickness,
            "plate_thickness" => s.plate_thickness,
            "ply_thickness" => s.ply_thickness,
            "slide_thickness" => s.slide_thickness,
            "arm_thickness" => s.arm_thickness,
            "play" => s.play,
            "fitting_gap" => s.fitting_gap,
            "hidden_margin" => s.hidden_margin,
            "leaf_tip_half_angle" => trig::deg(s.leaf_tip_half_angle),
            "tongue_depth" => s.tongue_depth,
            "tongue_clearance" => s.tongue_clearance,
            "arm_width" if s.drive == DriveKind::Arms => s.arm_width,
            "arm_clearance" if s.drive == DriveKind::Arms => s.arm_clearance,
            "ramp_sweep" => trig::deg(s.ramp_sweep),
            // A radial table is not mended by skewing it.
            "slide_skew" if s.slide_skew != 0.0 => trig::deg(s.slide_skew),
            "panel_pin_radius" => found(s.panel_pin_radius, |a| a.panel.crank.pin_radius)?,
            "panel_arm_length" => found(s.panel_arm_length, |a| a.panel.crank.arm)?,
            "panel_arm_bend" => found(s.panel_arm_bend, |a| a.panel.bend)?,
            "leaf_pin_radius" => found(s.leaf_pin_radius, |a| a.leaf.crank.pin_radius)?,
            "leaf_arm_length" => found(s.leaf_arm_length, |a| a.leaf.crank.arm)?,
            "leaf_arm_bend" => found(s.leaf_arm_bend, |a| a.leaf.bend)?,
            "edge_load" => s.edge_load,
            _ => return None,
        })
    }
    /// The sizes with another value; the open diameter stays as it is when the closed one changes.
    pub fn set(&self, s: &Sizes, value: f64) -> Sizes {
        let mut s = s.clone();
        match self.size {
            "closed_diameter" => {
                s.opening = Opening::Diameter(s.closed_diameter + 2.0 * s.travel());
                s.closed_diameter = value;
            }
            "open_diameter" => s.opening = Opening::Diameter(value),
            "travel" => s.opening = Opening::Travel(value),
            "sectors" => s.sectors = value as usize,
            "height" => s.height = value,
            "stock_thickness" => s.stock_thickness = value,
            "plate_thickness" => s.plate_thickness = value,
            "ply_thickness" => s.ply_thickness = value,
            "slide_thickness" => s.slide_thickness = value,
            "arm_thickness" => s.arm_thickness = value,
            "play" => s.play = value,
            "fitting_gap" => s.fitting_gap = value,
            "hidden_margin" => s.hidden_margin = value,
            "leaf_tip_half_angle" => s.leaf_tip_half_angle = trig::rad(value),
            "tongue_depth" => s.tongue_depth = value,
            "tongue_clearance" => s.tongue_clearance = value,
            "arm_width" => s.arm_width = value,
            "arm_clearance" => s.arm_clearance = value,
            "ramp_sweep" => s.ramp_sweep = trig::rad(value),
            "slide_skew" => s.slide_skew = trig::rad(value),
            "panel_pin_radius" => s.panel_pin_radius = Some(value),
            "panel_arm_length" => s.panel_arm_length = Some(value),
            "panel_arm_bend" => s.panel_arm_bend = Some(value),
            "leaf_pin_radius" => s.leaf_pin_radius = Some(value),
            "leaf_arm_length" => s.leaf_arm_length = Some(value),
            "leaf_arm_bend" => s.leaf_arm_bend = Some(value),
            _ => s.edge_load = value,
        }
        s
    }
    /// Whether the size was fixed by hand but may be left to the solver.
    pub fn given(&self, s: &Sizes) -> bool {
        match self.size {
            "panel_pin_radius" => s.panel_pin_radius.is_some(),
            "panel_arm_length" => s.panel_arm_length.is_some(),
            "panel_arm_bend" => s.panel_arm_bend.is_some(),
            "leaf_pin_radius" => s.leaf_pin_radius.is_some(),
            "leaf_arm_length" => s.leaf_arm_length.is_some(),
            "leaf_arm_bend" => s.leaf_arm_bend.is_some(),
            _ => false,
        }
    }
    /// The sizes with this one left to the solver.
    pub fn freed(&self, s: &Sizes) -> Sizes {
        let mut s = s.clone();
        match self.size {
            "panel_pin_radius" => s.panel_pin_radius = None,
            "panel_arm_length" => s.panel_arm_length = None,
            "panel_arm_bend" => s.panel_arm_bend = None,
            "leaf_pin_radius" => s.leaf_pin_radius = None,
            "leaf_arm_length" => s.leaf_arm_length = None,
            "leaf_arm_bend" => s.leaf_arm_bend = None,
            _ => {}
        }
        s
    }
}

/// Up to two decimals, without trailing noughts.
pub(crate) fn plain(x: f64) -> String {
    let text = format!("{x:.2}");
    let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    if text == "-0" { "0".into() } else { text.into() }
}

/// A value with its unit, metric.
pub fn metric(value: f64, unit: &str) -> String {
    match unit {
        "count" => plain(value),
        "deg" => format!("{}°", plain(value)),
        _ => format!("{} {unit}", plain(value)),
    }
}
