//! The plan layout: panels, leaves and star seen from above.
//!
//! In: sizes. Out: [`Layout`], the closed-form lengths of the open and stored top.
//! Always true: nominal outlines tile the open top exactly; fitting gaps are taken off afterwards; with no
//! skew every length is the radial table's, to the last bit.
//!
//! Frame of one seam (the joint between two panels): x outward along the seam, y across it.
//! ```text
//!        panel edge ____________________________   y = e·sin(h + κ)
//!   star arm  \  leaf shoulder                   )
//!   ---------- > tip             leaf            )  arc of radius ρ through both panel corners
//!             /___________________________________)
//!                                                   y = -e·sin(h - κ)
//! ```
//! Slides may be turned by the skew κ from the panels' centre lines, all to the same hand. Seen from a seam,
//! the panel clockwise of it goes out by e·(cos(h − κ), −sin(h − κ)), the one counter-clockwise of it by
//! e·(cos(h + κ), sin(h + κ)). Their difference is 2·e·sin h long and leans by κ, so the gap stays
//! parallel-sided, w = 2·e·sin h·cos κ wide; its middle lies e·cos h·sin κ beside the seam, and one panel is
//! shifted along the seam against the other by 2·e·sin h·sin κ.
//!
//! A leaf travels **along its seam**, not along the skewed direction: only then do its sides stay on the lines
//! of the gap the whole way, so that a stored leaf covers exactly what lies between two open panels, shoulders
//! on the panels' tips, and neighbours, posts and leaves never cross. It is carried e·cos h·sin κ beside a
//! slide that runs through the table's centre, so arms and cam keep the law they have on a radial table. Both
//! its ends lean by κ like the line between the panels' tips: the point is symmetrical about the direction κ,
//! and the rim runs from corner to corner without a step. Along the edge of the open table the radius grows
//! across each panel and falls back across each leaf, like the teeth of a saw.
//!
//! The price is over-travel: going further out by Δ, a panel leaves the leaf on one side by only Δ·sin(h − κ).

use crate::sizes::Sizes;
use turnleaf_geom::{Vec2, trig, vec2::v};

/// Closed-form lengths of the plan, mm; angles in radians. Of two values for the two sides of a gap the first
/// is the clockwise side's, where the corners stand out farther.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Layout {
    /// Closed radius R.
    pub radius: f64,
    /// Panel travel e when open.
    pub travel: f64,
    /// Half a panel's angle h = π/n.
    pub half_sector: f64,
    /// Turn κ of each panel's way from its centre line, counter-clockwise seen from above.
    pub skew: f64,
    /// Width of the gap between open panels: w = 2·e·sin h·cos κ.
    pub gap_width: f64,
    /// How far the gap's middle lies counter-clockwise of the seam: e·cos h·sin κ.
    pub gap_offset: f64,
    /// How far the two open panels at a gap are shifted along it against each other: 2·e·sin h·sin κ.
    pub gap_shear: f64,
    /// Distances of the open panels' outer corners from the centre: √(R² + 2·R·e·cos(h ∓ κ) + e²).
    pub corners: [f64; 2],
    /// Radius of a leaf's rim: ρ = √(R² + 2·R·e·cos h·cos κ + e²), the root mean square of both corners'.
    pub corner_radius: f64,
    /// Centre of a leaf's rim in its seam's frame, open; the table's centre when there is no skew.
    pub rim_centre: Vec2,
    /// How far the open outline departs from a circle: R + e less the nearer corner's distance.
    pub out_of_round: f64,
    /// Leaf travel l: hides the middle of the stored leaf's rim by m; more where its corners, which
    /// stand out farther once the rim is off its centre, would otherwise come nearer the edge than
    /// [`CORNER_HIDDEN`]. Without skew ρ − (R − m), or more.
    pub leaf_travel: f64,
    /// Distance of a leaf's farther shoulder from the centre along the seam, open: s = e·cos(h − κ) + l.
    pub shoulder: f64,
    /// Distance of a leaf's tip from the centre along the seam, open:
    /// t = l + e·(cos h − sin h/tan α)·cos κ.
    pub tip: f64,
    /// How far the tip lies counter-clockwise of the seam: e·(cos h − sin h/tan α)·sin κ.
    pub tip_offset: f64,
    /// Leaf tip half-angle α.
    pub tip_half_angle: f64,
    /// Farthest point of the star, its prong at the farther shoulder: √(e² + 2·e·l·cos(h − κ) + l²).
    pub star_reach: f64,
    /// Distance of the open panels' tips' polygon side from the centre: e·cos h.
    pub apothem: f64,
    /// Area of the star before fitting gaps, mm²: n·(e²·sin h·cos h + w·l − (e·sin h)²/tan α).
    pub star_area: f64,
    /// Least over-travel of the panels: (d + clearance)/sin(h − κ).
    pub panel_overtravel_least: f64,
    /// Least over-travel of the leaves: (d + clearance)/sin(α − κ).
    pub leaf_overtravel_least: f64,
}

/// Least distance of a stored leaf's corners inside the closed edge, mm.
pub const CORNER_HIDDEN: f64 = 0.2;

impl Layout {
    /// The open panels' tips at a gap, in the seam's frame.
    pub fn panel_tips(&self) -> [Vec2; 2] {
        let (e, h, k) = (self.travel, self.half_sector, self.skew);
        [v(e * trig::cos(h - k), -e * trig::sin(h - k)), v(e * trig::cos(h + k), e * trig::sin(h + k))]
    }
    /// The open panels' outer corners at a gap, in the seam's frame; a leaf's rim runs from one to the other.
    pub fn rim_corners(&self) -> [Vec2; 2] {
        let along = |corner: f64, y: f64| v((corner * corner - y * y).sqrt(), y);
        let tips = self.panel_tips();
        [along(self.corners[0], tips[0].y), along(self.corners[1], tips[1].y)]
    }
    /// A leaf's shoulders, open, in the seam's frame.
    pub fn shoulders(&self) -> [Vec2; 2] {
        self.panel_tips().map(|p| v(p.x + self.leaf_travel, p.y))
    }
    /// Half the angle of a leaf's rim about its own centre, radians.
    pub fn rim_half_angle(&self) -> f64 {
        trig::asin(self.travel * trig::sin(self.half_sector) / self.corner_radius)
    }
    /// Distance of an open leaf's rim from the centre along its seam, mm.
    pub fn rim_along_seam(&self) -> f64 {
        let (rho, c) = (self.corner_radius, self.rim_centre);
        c.x + (rho * rho - c.y * c.y).sqrt()
    }
    /// Distance of the middle of a stored leaf's rim from the centre, mm.
    pub fn stored_rim(&self) -> f64 {
        let middle = self.rim_centre + Vec2::polar(self.corner_radius, self.skew);
        trig::hypot(middle.x - self.leaf_travel, middle.y)
    }
    /// Farthest point of a stored leaf, its corner, from the centre, mm.
    pub fn stored_corner(&self) -> f64 {
        let [a, b] = self.rim_corners().map(|p| trig::hypot(p.x - self.leaf_travel, p.y));
        a.max(b)
    }
}

/// Lays out the plan.
pub fn layout(s: &Sizes) -> Layout {
    let (r, e, h, alpha) = (s.radius(), s.travel(), s.half_sector(), s.leaf_tip_half_angle);
    let (n, k) = (s.sectors as f64, s.slide_skew);
    let (sin_k, cos_k) = trig::sin_cos(k);
    // Between two open tips, and between the two ends of a rim.
    let chord = 2.0 * e * trig::sin(h);
    let w = chord * cos_k;
    let apothem = e * trig::cos(h);
    let corner = |a: f64| (r * r + 2.0 * r * (e * trig::cos(a)) + e * e).sqrt();
    let rho = (r * r + 2.0 * r * (apothem * cos_k) + e * e).sqrt();
    // The rim's chord has its middle at R along the seam and e·cos h along κ, and leans by κ; the arc of radius
    // ρ over it has its centre back along κ by as much as that middle is from the table's centre.
    let rim_centre = if k == 0.0 {
        Vec2::ZERO
    } else {
        let middle = v(r, 0.0) + Vec2::polar(apothem, k);
        middle - Vec2::polar(middle.norm(), k)
    };
    let reach_needed = s.tongue_depth + s.tongue_clearance;
    let notch = chord / 2.0 / trig::tan(alpha);
    let mut out = Layout {
        radius: r,
        travel: e,
        half_sector: h,
        skew: k,
        gap_width: w,
        gap_offset: apothem * sin_k,
        gap_shear: chord * sin_k,
        corners: [corner(h - k), corner(h + k)],
        corner_radius: rho,
        rim_centre,
        out_of_round: r + e - corner(h + k),
        leaf_travel: 0.0,
        shoulder: 0.0,
        tip: 0.0,
        tip_offset: apothem * sin_k - notch * sin_k,
        tip_half_angle: alpha,
        star_reach: 0.0,
        apothem,
        star_area: 0.0,
        panel_overtravel_least: reach_needed / trig::sin(h - k),
        leaf_overtravel_least: reach_needed / trig::sin(alpha - k),
    };
    // Drawn in along the seam, a point comes inside a circle once it is left of the circle at its height.
    let inside = |p: Vec2, radius: f64| p.x - (radius * radius - p.y * p.y).max(0.0).sqrt();
    let middle = rim_centre + Vec2::polar(rho, k);
    let [far, near] = out.rim_corners().map(|p| inside(p, r - CORNER_HIDDEN));
    let l = inside(middle, r - s.hidden_margin).max(far).max(near);
    out.leaf_travel = l;
    let [first, _] = out.shoulders();
    out.shoulder = first.x;
    out.tip = (apothem * cos_k + l) - notch * cos_k;
    out.star_reach = trig::hypot(first.x, first.y);
    out.star_area = n * (apothem * (chord / 2.0) + w * l - chord / 2.0 * notch);
    out
}
