//! The plan layout: panels, leaves and star seen from above.
//!
//! In: sizes. Out: [`Layout`], the closed-form lengths of the open and stored top.
//! Always true: nominal outlines tile the open top exactly; fitting gaps are taken off afterwards.
//!
//! Frame of one seam (the joint between two panels): x outward along the seam, y across it.
//! ```text
//!        panel edge ____________________________   y = +w/2
//!   star arm  \  leaf shoulder (s, w/2)          )
//!   ---------- > tip (t, 0)      leaf            )  arc of radius rho about the table centre
//!             /___________________________________)
//!                                                   y = -w/2
//! ```

use crate::sizes::Sizes;
use turnleaf_geom::trig;

/// Closed-form lengths of the plan, mm; angles in radians.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Layout {
    /// Closed radius R.
    pub radius: f64,
    /// Panel travel e when open.
    pub travel: f64,
    /// Half a panel's angle h = π/n.
    pub half_sector: f64,
    /// Width of the gap between open panels: w = 2·e·sin h.
    pub gap_width: f64,
    /// Radius of the open panels' outer corners: ρ = √(R² + 2·R·e·cos h + e²).
    pub corner_radius: f64,
    /// How far the open outline departs from a circle: R + e − ρ.
    pub out_of_round: f64,
    /// Leaf travel l: ρ − (R − m) hides the middle of the stored leaf's rim by m; more where its corners, which
    /// stand out farther once the rim is off its centre, would otherwise come nearer the edge than
    /// [`CORNER_HIDDEN`].
    pub leaf_travel: f64,
    /// Distance of a leaf's shoulders from the centre along the seam, open: s = e·cos h + l.
    pub shoulder: f64,
    /// Distance of a leaf's tip from the centre, open: t = s − (w/2)/tan α.
    pub tip: f64,
    /// Leaf tip half-angle α.
    pub tip_half_angle: f64,
    /// Farthest point of the star: √(s² + (w/2)²).
    pub star_reach: f64,
    /// Distance of the open panels' tips' polygon side from the centre: e·cos h.
    pub apothem: f64,
    /// Area of the star before fitting gaps, mm²: n·(apothem·w/2) + n·w·l − n·(w/2)²/tan α.
    pub star_area: f64,
    /// Least over-travel of the panels: (d + clearance)/sin h.
    pub panel_overtravel_least: f64,
    /// Least over-travel of the leaves: (d + clearance)/sin α.
    pub leaf_overtravel_least: f64,
}

/// Least distance of a stored leaf's corners inside the closed edge, mm.
pub const CORNER_HIDDEN: f64 = 0.2;

impl Layout {
    /// Farthest point of a stored leaf, its corner, from the centre, mm.
    pub fn stored_corner(&self) -> f64 {
        let half = self.gap_width / 2.0;
        let along = (self.corner_radius * self.corner_radius - half * half).sqrt();
        trig::hypot(along - self.leaf_travel, half)
    }
}

/// Lays out the plan.
pub fn layout(s: &Sizes) -> Layout {
    let (r, e, h, alpha) = (s.radius(), s.travel(), s.half_sector(), s.leaf_tip_half_angle);
    let n = s.sectors as f64;
    let w = 2.0 * e * trig::sin(h);
    let apothem = e * trig::cos(h);
    let rho = (r * r + 2.0 * r * apothem + e * e).sqrt();
    let half = w / 2.0;
    let inside = (r - CORNER_HIDDEN) * (r - CORNER_HIDDEN) - half * half;
    let corners = (rho * rho - half * half).sqrt() - inside.max(0.0).sqrt();
    let l = (rho - (r - s.hidden_margin)).max(corners);
    let shoulder = apothem + l;
    let notch = w / 2.0 / trig::tan(alpha);
    let reach_needed = s.tongue_depth + s.tongue_clearance;
    Layout {
        radius: r,
        travel: e,
        half_sector: h,
        gap_width: w,
        corner_radius: rho,
        out_of_round: r + e - rho,
        leaf_travel: l,
        shoulder,
        tip: shoulder - notch,
        tip_half_angle: alpha,
        star_reach: trig::hypot(shoulder, w / 2.0),
        apothem,
        star_area: n * (apothem * w / 2.0 + w * l - w / 2.0 * notch),
        panel_overtravel_least: reach_needed / trig::sin(h),
        leaf_overtravel_least: reach_needed / trig::sin(alpha),
    }
}
