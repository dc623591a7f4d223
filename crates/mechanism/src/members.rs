//! The members that carry the moving top: slides, posts, plates, rollers, levers, pins.
//!
//! In: sizes and layout. Out: their leading lengths, mm.
//! Always true: widths follow the table's size by one factor, so that a small table gets slender members;
//! the numbers here are common practice, no source, and each says what would happen if it were larger.

use crate::layout::Layout;
use crate::rollers::RAIL;
use crate::sizes::Sizes;
use crate::stack::Stack;
use turnleaf_geom::trig;

/// Lengths that do not depend on the arms.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Members {
    /// Width of a slide. Larger: stiffer, but n of them meet sooner near the centre.
    pub slide_width: f64,
    /// Radius of a crank or slide pin. Larger: stronger, less room between arms.
    pub pin: f64,
    /// Radius of the sleeve that takes a leaf pin through the rising plate.
    pub sleeve: f64,
    /// Radius of a round panel post.
    pub post: f64,
    /// Free gap beside a post in its slot, and between passing members.
    pub gap: f64,
    /// How far everything under the top stays inside the closed edge.
    pub setback: f64,
    /// Closed radius of the inner panel posts.
    pub inner_post: f64,
    /// Closed radius of the outer panel posts.
    pub outer_post: f64,
    /// Radius of the rising plate; the outer posts pass outside it.
    pub rising_plate: f64,
    /// Radius of the turning plate.
    pub turning_plate: f64,
    /// Radius of the fixed centre post.
    pub centre_post: f64,
    /// Radius of the hold-down flange on the centre post.
    pub flange: f64,
    /// Radius of the rising plate's centre opening.
    pub opening: f64,
    /// Wheel radius of a drop roller.
    pub wheel: f64,
    /// Wheel width.
    pub wheel_width: f64,
    /// Distance of the roller arm's hinge below the rising plate.
    pub hinge_drop: f64,
    /// Width of a star lever.
    pub lever_width: f64,
}

/// How far a slide's tongue stands into its guide, mm. Larger: surer guiding, slides meet sooner.
pub const SLIDE_TONGUE: f64 = 3.0;
/// A slide must stay engaged at least by so many of its own widths. Common practice, no source.
pub const ENGAGED_WIDTHS: f64 = 1.5;

/// Largest tilt of a star lever at the end of the lift, radians (38°). Larger: shorter levers, more
/// sliding of their noses.
pub const LEVER_TILT_LIMIT: f64 = 38.0 * core::f64::consts::PI / 180.0;

/// Chooses the members.
pub fn members(s: &Sizes, lay: &Layout, st: &Stack) -> Members {
    let k = (lay.radius / 600.0).clamp(0.6, 1.2);
    let crowd = if s.sectors > 8 { 0.8 } else { 1.0 };
    let gap = 2.0;
    let post = 10.0 * k.min(1.0);
    let setback = 12.0 * k.max(0.8);
    let outer_post = lay.radius - setback - post;
    let slide_width = 40.0 * k * crowd;
    // Inner posts stand between the stored leaves, whose nearer edge stays (r − e)·sin(h − κ) away from a panel
    // slide's line at radius r; the leaves' and the star's tongues come nearer by their depth.
    let aside = trig::sin(lay.half_sector - lay.skew);
    let mut inner_post = lay.travel + (post + s.tongue_depth + gap) / aside;
    if lay.skew > 0.0 {
        // Skew brings the posts' slots nearer to the leaf slides' guides.
        inner_post = inner_post.max((guided(slide_width) + post + gap) / aside);
    }
    let flange = 24.0;
    Members {
        slide_width,
        pin: pin_radius(s.sectors, lay.radius),
        sleeve: 8.0,
        post,
        gap,
        setback,
        inner_post,
        outer_post,
        rising_plate: outer_post - post - gap,
        turning_plate: lay.radius - setback,
        centre_post: 10.0,
        flange,
        opening: flange + 2.0,
        wheel: (0.65 * st.step).clamp(9.0, 16.0),
        wheel_width: 12.0 * k.min(1.0),
        hinge_drop: 7.0,
        lever_width: 14.0 * k.min(1.0),
    }
}

/// Radius of crank and slide pins, mm: 2n of them share a circle, which leaves the small tables with many sectors
/// thinner ones.
pub fn pin_radius(sectors: usize, radius: f64) -> f64 {
    match sectors {
        8 | 9 if radius < 430.0 => 5.0,
        0..10 => 6.0,
        _ if radius < 540.0 => 4.0,
        _ => 5.0,
    }
}

/// Half the width of a slide with its guides, mm.
fn guided(slide_width: f64) -> f64 {
    slide_width / 2.0 + RAIL + 1.0
}

impl Members {
    /// Inner end of a panel slide, closed: clear of its neighbours and of the centre post.
    pub fn panel_slide_inner(&self, lay: &Layout) -> f64 {
        self.beside(lay).max(self.centre_post + 8.0 + self.gap)
    }
    /// Radius at which n slides with their tongues lie side by side, mm.
    fn beside(&self, lay: &Layout) -> f64 {
        (self.slide_width / 2.0 + SLIDE_TONGUE + self.gap / 2.0) / trig::tan(lay.half_sector)
    }
    /// Shortest lever arm that lifts by one step within the tilt limit, mm.
    pub fn lever_arm_least(&self, step: f64) -> f64 {
        step / trig::sin(LEVER_TILT_LIMIT)
    }
    /// Distance from a slide pin's centre to the end of its slide.
    pub fn pin_end(&self) -> f64 {
        2.0 * self.pin + 4.0
    }
    /// Radius of the lever's inner nose contact.
    pub fn lever_inner(&self) -> f64 {
        self.flange - 6.0
    }
    /// Least closed radius of the leaf pins: outside the star's hub with its levers, and their slides side
    /// by side; with skew also clear of the panel slides' guides, which their sleeves then stand nearer to.
    pub fn leaf_pin_least(&self, lay: &Layout, step: f64) -> f64 {
        let hub = self.lever_inner() + 2.07 * self.lever_arm_least(step) + 8.0;
        let least = (hub + self.gap).max(self.beside(lay)) + self.pin_end();
        if lay.skew == 0.0 {
            return least;
        }
        let aside = trig::sin(lay.half_sector - lay.skew);
        least.max((guided(self.slide_width) + self.sleeve + self.gap) / aside)
    }
}
