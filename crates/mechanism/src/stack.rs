//! Heights of everything, closed, from the floor.
//!
//! In: sizes. Out: [`Stack`], bottom and top of each level, mm above the floor, table closed.
//! Always true: surfaces that slide on each other are one play apart, levels never overlap.
//! ```text
//!   panels         ======================   top = height
//!   leaves           ------------------     one step lower
//!   star               --------------       two steps lower
//!   leaf slides        ##          ##
//!   rising plate     ====================
//!   panel slides     ##              ##
//!   turning plate    ====================
//!   upper arms         ~~~~~~~~~~~~~~
//!   lower arms         ~~~~~~~~~~~~~~
//!   base plate       ====================   two plies
//! ```

use crate::sizes::Sizes;

/// Bottom and top, mm above the floor.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Level {
    /// Lower face.
    pub bottom: f64,
    /// Upper face.
    pub top: f64,
}

impl Level {
    fn below(top: f64, thickness: f64) -> Level {
        Level { bottom: top - thickness, top }
    }
    /// Raised by so much.
    pub fn raised(self, by: f64) -> Level {
        Level { bottom: self.bottom + by, top: self.top + by }
    }
    /// Thickness, mm.
    pub fn thickness(self) -> f64 {
        self.top - self.bottom
    }
}

/// The levels of the closed table.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stack {
    /// What the leaves rise: stock thickness + play. The star rises two of these.
    pub step: f64,
    /// Panels.
    pub panel: Level,
    /// Leaves, stored.
    pub leaf: Level,
    /// Star, stored.
    pub star: Level,
    /// Leaf slides and the star's hub, on the rising plate.
    pub leaf_slide: Level,
    /// Rising plate, down.
    pub rising_plate: Level,
    /// Panel slides and stiffening ring, on the turning plate.
    pub panel_slide: Level,
    /// Turning plate.
    pub turning_plate: Level,
    /// Upper plane of arms.
    pub upper_arms: Level,
    /// Lower plane of arms.
    pub lower_arms: Level,
    /// Base plate, both plies.
    pub base: Level,
}

/// Stacks the levels from the top down.
pub fn stack(s: &Sizes) -> Stack {
    let (t, p) = (s.stock_thickness, s.play);
    let step = t + p;
    let panel = Level::below(s.height, t);
    let leaf = Level::below(panel.bottom - p, t);
    let star = Level::below(leaf.bottom - p, t);
    let leaf_slide = Level::below(star.bottom - p, s.slide_thickness);
    // Slides rest on their plates; the plate above a slide keeps the play.
    let rising_plate = Level::below(leaf_slide.bottom, s.plate_thickness);
    let panel_slide = Level::below(rising_plate.bottom - p, s.slide_thickness);
    let turning_plate = Level::below(panel_slide.bottom, s.plate_thickness);
    let upper_arms = Level::below(turning_plate.bottom - p, s.arm_thickness);
    let lower_arms = Level::below(upper_arms.bottom - p, s.arm_thickness);
    let base = Level::below(lower_arms.bottom - p, 2.0 * s.ply_thickness);
    Stack {
        step,
        panel,
        leaf,
        star,
        leaf_slide,
        rising_plate,
        panel_slide,
        turning_plate,
        upper_arms,
        lower_arms,
        base,
    }
}
