//! The sizes a mechanism is solved from.
//!
//! In: nothing. Out: [`Sizes`], lengths in millimetres, angles in radians.
//! Always true: every field is finite and inside the range its plan-file field allows; `None` means
//! "find it". Ranges are checked where plan files are read, combinations are checked by the solver.

use core::f64::consts::PI;
use turnleaf_geom::trig;

/// How far the table opens.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Opening {
    /// Diameter across the middle of opposite panel edges when open, mm.
    Diameter(f64),
    /// Outward travel of a panel, mm.
    Travel(f64),
}

/// What moves the slides.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DriveKind {
    /// Arms pinned to the base.
    Arms,
    /// A fixed cam plate with spiral slots.
    Cam,
}

/// Everything the solver needs.
#[derive(Clone, Debug, PartialEq)]
pub struct Sizes {
    /// What moves the slides.
    pub drive: DriveKind,
    /// Diameter of the closed top, mm.
    pub closed_diameter: f64,
    /// How far it opens.
    pub opening: Opening,
    /// Number of panels, and of leaves.
    pub sectors: usize,
    /// Turn of each panel's way from its centre line, radians counter-clockwise seen from above, below π/n.
    /// Larger: a more spirally opening top, less wood beside the posts and more over-travel.
    pub slide_skew: f64,
    /// Thickness of panels, leaves and star, mm.
    pub stock_thickness: f64,
    /// Play between stacked surfaces, mm. Larger: easier turning, thicker top.
    pub play: f64,
    /// How far a tongue stands out of its edge, mm.
    pub tongue_depth: f64,
    /// Thickness of the tongue, mm; a third of the stock when not given.
    pub tongue_thickness: Option<f64>,
    /// Gap between tongue and grooved edge while leaves and star rise, mm.
    pub tongue_clearance: f64,
    /// Gap between star and leaves when open, mm; half of it at each panel edge.
    pub fitting_gap: f64,
    /// How far stored leaves stay inside the closed edge, mm.
    pub hidden_margin: f64,
    /// Half the angle of a leaf's pointed inner end, radians from the leaf's centre line.
    pub leaf_tip_half_angle: f64,
    /// Floor to top, mm.
    pub height: f64,
    /// Turning plate and rising plate, mm.
    pub plate_thickness: f64,
    /// One of the two plies of the base plate, mm.
    pub ply_thickness: f64,
    /// Slides and their guides, mm.
    pub slide_thickness: f64,
    /// Arms, mm.
    pub arm_thickness: f64,
    /// Width of an arm, mm.
    pub arm_width: f64,
    /// Least gap between arms, and between arms and pins, mm.
    pub arm_clearance: f64,
    /// Turn over which the lift takes place, radians.
    pub ramp_sweep: f64,
    /// Radius of the panel arms' crank pins, mm.
    pub panel_pin_radius: Option<f64>,
    /// Panel arm, pin to pin, mm.
    pub panel_arm_length: Option<f64>,
    /// Rise of the panel arm's centre line above its chord, away from the table's centre, mm.
    pub panel_arm_bend: Option<f64>,
    /// Radius of the leaf arms' crank pins, mm.
    pub leaf_pin_radius: Option<f64>,
    /// Leaf arm, pin to pin, mm.
    pub leaf_arm_length: Option<f64>,
    /// Rise of the leaf arm's centre line above its chord, mm.
    pub leaf_arm_bend: Option<f64>,
    /// Load the maker wants the open edge to carry, N (an assumption of the maker).
    pub edge_load: f64,
}

impl Sizes {
    /// Closed radius, mm.
    pub fn radius(&self) -> f64 {
        self.closed_diameter / 2.0
    }
    /// Half the angle of a panel, radians: π/n.
    pub fn half_sector(&self) -> f64 {
        PI / self.sectors as f64
    }
    /// Panel travel when open, mm.
    pub fn travel(&self) -> f64 {
        match self.opening {
            Opening::Travel(e) => e,
            Opening::Diameter(d) => (d - self.closed_diameter) / 2.0,
        }
    }
    /// Tongue thickness, mm.
    pub fn tongue(&self) -> f64 {
        self.tongue_thickness.unwrap_or(self.stock_thickness / 3.0)
    }
    /// The worked example of the project's demo: 1,200 mm opening to 1,650 mm, six sectors, 19 mm stock.
    pub fn example() -> Sizes {
        Sizes {
            drive: DriveKind::Arms,
            closed_diameter: 1200.0,
            opening: Opening::Diameter(1650.0),
            sectors: 6,
            slide_skew: 0.0,
            stock_thickness: 19.0,
            play: 1.0,
            tongue_depth: 6.0,
            tongue_thickness: None,
            tongue_clearance: 1.5,
            fitting_gap: 0.6,
            hidden_margin: 3.0,
            leaf_tip_half_angle: trig::rad(45.0),
            height: 740.0,
            plate_thickness: 18.0,
            ply_thickness: 12.0,
            slide_thickness: 15.0,
            arm_thickness: 8.0,
            arm_width: 20.0,
            arm_clearance: 4.0,
            ramp_sweep: trig::rad(24.0),
            panel_pin_radius: None,
            panel_arm_length: None,
            panel_arm_bend: None,
            leaf_pin_radius: None,
            leaf_arm_length: None,
            leaf_arm_bend: None,
            edge_load: 300.0,
        }
    }
}
