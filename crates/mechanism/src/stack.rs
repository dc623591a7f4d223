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

use crate::sizes::{DriveKind, Sizes};

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
    /// What lies between turning plate and base.
    pub drive: DriveLevels,
    /// Base plate, both plies.
    pub base: Level,
    /// The face the rollers ride on: the base's top, or the cam plate's.
    pub bed: f64,
}

/// Levels of the drive.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum DriveLevels {
    /// Two planes of arms.
    Arms {
        /// Upper plane.
        upper: Level,
        /// Lower plane.
        lower: Level,
    },
    /// One cam plate, fixed on the base.
    Cam {
        /// The plate.
        plate: Level,
    },
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
    let (drive, base) = match s.drive {
        DriveKind::Arms => {
            let upper = Level::below(turning_plate.bottom - p, s.arm_thickness);
            let lower = Level::below(upper.bottom - p, s.arm_thickness);
            (DriveLevels::Arms { upper, lower }, Level::below(lower.bottom - p, 2.0 * s.ply_thickness))
        }
        DriveKind::Cam => {
            let plate = Level::below(turning_plate.bottom - p, s.plate_thickness);
            (DriveLevels::Cam { plate }, Level::below(plate.bottom, 2.0 * s.ply_thickness))
        }
    };
    let bed = match drive {
        DriveLevels::Arms { .. } => base.top,
        DriveLevels::Cam { plate } => plate.top,
    };
    Stack { step, panel, leaf, star, leaf_slide, rising_plate, panel_slide, turning_plate, drive, base, bed }
}
