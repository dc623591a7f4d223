//! The solver: sizes in, a whole mechanism out, or the sizes at odds.
//!
//! In: [`Sizes`]. Out: [`Mechanism`], or every [`Trouble`] found.
//! Always true: a returned mechanism has passed every closed-form requirement and the arm and roller
//! searches; the clearances over the whole turn are proved in a later stage.

use crate::arms::{self, Arms, Refusals, Room};
use crate::layout::{Layout, layout};
use crate::lever::Lever;
use crate::members::{ENGAGED_WIDTHS, Members, members};
use crate::rollers::{self, GLIDE_RING, Rollers};
use crate::sizes::Sizes;
use crate::stack::{Stack, stack};
use turnleaf_geom::trig;

/// A reason why there is no mechanism.
#[derive(Clone, Debug, PartialEq)]
pub struct Trouble {
    /// Stable identifier of the reason.
    pub code: &'static str,
    /// One plain sentence.
    pub sentence: String,
    /// Plan-file names of the sizes at odds.
    pub sizes: Vec<&'static str>,
}

/// Everything solved.
#[derive(Clone, Debug, PartialEq)]
pub struct Mechanism {
    /// What it was solved from.
    pub sizes: Sizes,
    /// Plan layout.
    pub layout: Layout,
    /// Heights.
    pub stack: Stack,
    /// Widths and radii of the members.
    pub members: Members,
    /// Arms and turn.
    pub arms: Arms,
    /// Rollers, pockets and base radius.
    pub rollers: Rollers,
    /// Star levers.
    pub lever: Lever,
    /// How many star levers.
    pub lever_count: usize,
    /// Inner end of a panel slide, closed, mm from the centre.
    pub panel_slide_inner: f64,
    /// Inner end of a leaf slide, closed, mm from the centre.
    pub leaf_slide_inner: f64,
    /// Radius of the star's hub, mm.
    pub hub_radius: f64,
    /// Share of the lift window used to start and to stop smoothly (each).
    pub blend: f64,
}

/// Part of the lift window over which the ramp curves in, and again out. Larger: gentler ends, steeper middle.
pub const LIFT_BLEND: f64 = 0.1;
/// Both arms of a lever together, in lengths of the inner one, at the tilt limit.
const LEVER_OVER_HALF: f64 = 2.07;
/// A wall thinner than this, mm, is not left between a tongue's groove and a face.
const LEAST_LIP: f64 = 3.0;

impl Mechanism {
    /// Whole turn from closed to open, radians.
    pub fn turn(&self) -> f64 {
        self.arms.open - self.arms.closed
    }
    /// Turn at which the lift begins, radians.
    pub fn lift_begins(&self) -> f64 {
        -self.sizes.ramp_sweep / 2.0 - self.arms.closed
    }
    /// Turn at which the lift ends, radians.
    pub fn lift_ends(&self) -> f64 {
        self.sizes.ramp_sweep / 2.0 - self.arms.closed
    }
    /// Crank angle at a turn, radians.
    pub fn crank_angle(&self, turn: f64) -> f64 {
        self.arms.closed + turn
    }
    /// How far the panels are out, mm.
    pub fn panel_travel(&self, turn: f64) -> f64 {
        let c = &self.arms.panel.crank;
        c.slide(self.crank_angle(turn)) - c.slide(self.arms.closed)
    }
    /// How far the leaves are out, mm.
    pub fn leaf_travel(&self, turn: f64) -> f64 {
        let c = &self.arms.leaf.crank;
        c.slide(self.crank_angle(turn)) - c.slide(self.arms.closed)
    }
    /// Share of the lift done, 0 to 1.
    pub fn lift_share(&self, turn: f64) -> f64 {
        let u = ((turn - self.lift_begins()) / self.sizes.ramp_sweep).clamp(0.0, 1.0);
        let b = self.blend;
        // Speed rises evenly over the first b, is even, and falls over the last b; it integrates to 1.
        let top = 1.0 / (1.0 - b);
        if u < b {
            top * u * u / (2.0 * b)
        } else if u > 1.0 - b {
            1.0 - top * (1.0 - u) * (1.0 - u) / (2.0 * b)
        } else {
            top * (u - b / 2.0)
        }
    }
    /// Rise of rising plate and leaves, mm.
    pub fn plate_rise(&self, turn: f64) -> f64 {
        self.stack.step * self.lift_share(turn)
    }
    /// Rise of the star, mm, through its levers.
    pub fn star_rise(&self, turn: f64) -> f64 {
        let rise = self.plate_rise(turn);
        // The solver refuses levers that cannot tilt this far.
        self.lever.tip_rise(rise).unwrap_or(2.0 * rise)
    }
    /// How far off flush the star ends, mm (positive: proud).
    pub fn star_error(&self) -> f64 {
        self.star_rise(self.turn()) - 2.0 * self.stack.step
    }
    /// Turn at which both travels are greatest; they rise before it and fall after it, radians.
    pub fn travel_peak(&self) -> f64 {
        -self.arms.closed
    }
    /// Greatest panel travel (at dead centre), mm.
    pub fn panel_travel_most(&self) -> f64 {
        self.panel_travel(self.travel_peak())
    }
    /// Greatest leaf travel (at dead centre), mm.
    pub fn leaf_travel_most(&self) -> f64 {
        self.leaf_travel(self.travel_peak())
    }
    /// Over-travel of the panels through the whole lift: travel at the window's edge less travel open, mm.
    pub fn panel_overtravel(&self) -> f64 {
        self.panel_travel(self.lift_ends()) - self.layout.travel
    }
    /// Over-travel of the leaves through the whole lift, mm.
    pub fn leaf_overtravel(&self) -> f64 {
        self.leaf_travel(self.lift_ends()) - self.layout.leaf_travel
    }
    /// Closed radius of the panel slides' pins, mm.
    pub fn panel_pin_closed(&self) -> f64 {
        self.arms.panel.crank.slide(self.arms.closed)
    }
    /// Closed radius of the leaf slides' pins, mm.
    pub fn leaf_pin_closed(&self) -> f64 {
        self.arms.leaf.crank.slide(self.arms.closed)
    }
    /// Closed outer end of a panel slide, mm.
    pub fn panel_slide_outer(&self) -> f64 {
        self.members.outer_post + self.members.post + 2.0
    }
    /// Shortest engaged length of a panel slide in its guides, mm.
    pub fn panel_engaged(&self) -> f64 {
        self.members.turning_plate - (self.panel_slide_inner + self.panel_travel_most())
    }
    /// Closed outer end of a leaf slide: under the stored leaf, inside the rising plate's edge, mm.
    pub fn leaf_slide_outer(&self) -> f64 {
        self.members.rising_plate - 4.0
    }
    /// Shortest engaged length of a leaf slide in its guides, mm.
    pub fn leaf_engaged(&self) -> f64 {
        self.members.rising_plate - (self.leaf_slide_inner + self.leaf_travel_most())
    }
    /// Mean slope of a ramp at this radius, radians: atan(step/(r·σ)).
    pub fn ramp_slope(&self, radius: f64) -> f64 {
        trig::atan(self.stack.step / (radius * self.sizes.ramp_sweep))
    }
}

/// Checks what needs no search. Every problem is reported, not the first.
fn refuse_early(s: &Sizes, lay: &Layout, st: &Stack, m: &Members) -> Vec<Trouble> {
    let mut out = Vec::new();
    let mut say = |code, sizes: &[&'static str], sentence: String| {
        out.push(Trouble { code, sentence, sizes: sizes.to_vec() });
    };
    let e = lay.travel;
    if e < 20.0 {
        say(
            "opening.small",
            &["open_diameter", "closed_diameter"],
            format!(
                "The open diameter must be at least 40 mm larger than the closed diameter; these sizes open by {:.1} mm.",
                2.0 * e
            ),
        );
        return out;
    }
    if lay.tip_half_angle < lay.half_sector - 1e-12 {
        say(
            "tip.sharp",
            &["leaf_tip_half_angle", "sectors"],
            format!(
                "With {} sectors the leaf tip half-angle must be at least {:.2} degrees, or the stored tips collide; it is {:.2}.",
                s.sectors,
                trig::deg(lay.half_sector),
                trig::deg(lay.tip_half_angle)
            ),
        );
    }
    if lay.star_reach > lay.radius - s.hidden_margin {
        say(
            "star.shows",
            &["open_diameter", "closed_diameter"],
            format!(
                "The star would reach {:.1} mm from the centre and show beyond the closed edge, which leaves room for {:.1} mm.",
                lay.star_reach,
                lay.radius - s.hidden_margin
            ),
        );
    }
    let lip = (s.stock_thickness - s.tongue()) / 2.0;
    if s.tongue_depth > 0.0 && lip < LEAST_LIP {
        say(
            "tongue.thick",
            &["tongue_thickness", "stock_thickness"],
            format!(
                "A {:.1} mm tongue in {:.1} mm stock leaves {:.1} mm above and below its groove; leave at least {LEAST_LIP:.0} mm.",
                s.tongue(),
                s.stock_thickness,
                lip
            ),
        );
    }
    if st.base.bottom < 150.0 {
        say(
            "height.low",
            &["height", "stock_thickness", "plate_thickness"],
            format!(
                "The top and its mechanism are {:.0} mm thick, which leaves {:.0} mm of the height for a frame; it needs at least 150 mm.",
                s.height - st.base.bottom,
                st.base.bottom
            ),
        );
    }
    if st.step > 2.0 * s.ply_thickness {
        say(
            "pocket.deep",
            &["ply_thickness", "stock_thickness", "play"],
            format!(
                "The roller pockets are one step deep, {:.1} mm, and the base plate is only {:.1} mm; make each ply at least {:.1} mm.",
                st.step,
                2.0 * s.ply_thickness,
                st.step / 2.0
            ),
        );
    }
    out.extend(posts_crowded(m));
    out
}

/// Inner and outer posts need a place each.
fn posts_crowded(m: &Members) -> Option<Trouble> {
    (m.inner_post + m.post > m.outer_post - m.post).then(|| Trouble {
        code: "posts.crowded",
        sentence: format!(
            "The inner panel posts would stand at {:.0} mm from the centre to clear the stored leaves and the star's hub, and there is no room for them inside the outer posts at {:.0} mm.",
            m.inner_post, m.outer_post
        ),
        sizes: vec!["open_diameter", "closed_diameter", "sectors"],
    })
}

/// Solves the mechanism.
pub fn solve(sizes: &Sizes) -> Result<Mechanism, Vec<Trouble>> {
    let s = sizes.clone();
    let lay = layout(&s);
    let st = stack(&s);
    let m = members(&s, &lay, &st);
    let early = refuse_early(&s, &lay, &st, &m);
    if !early.is_empty() {
        return Err(early);
    }
    let room = Room {
        panel_pin_least: m.panel_slide_inner(&lay) + m.pin_end(),
        leaf_pin_least: m.leaf_pin_least(&lay, st.step),
        pin_most: m.turning_plate - GLIDE_RING - m.gap - s.arm_width / 2.0,
        leaf_pin_most: m.rising_plate + m.pin_end() - ENGAGED_WIDTHS * m.slide_width,
        pin: m.pin,
    };
    let mut roller_trouble = false;
    let arms = arms::find_where(&s, &lay, &room, |arms| {
        let c = &arms.leaf.crank;
        let pins = (c.slide(arms.closed), c.dead_centre());
        let placed = rollers::place(&s, &lay, &st, &m, arms, pins);
        roller_trouble |= placed.is_none();
        placed
    });
    let (arms, rollers) = match arms {
        Ok(found) => found,
        Err(no) => return Err(vec![arm_trouble(&s, &no, roller_trouble)]),
    };
    let leaf_pin = arms.leaf.crank.slide(arms.closed);
    let leaf_slide_inner = leaf_pin - m.pin_end();
    // Longer levers tilt less, shorter ones keep the hub small: aim at 24° and stay inside the leaf slides.
    // The outer arm comes out up to a sixteenth longer than the inner one, to end flush.
    let room_for_tip = leaf_slide_inner - m.gap - 8.0 - m.lever_inner();
    let inner = (st.step / trig::sin(trig::rad(24.0))).min(room_for_tip / LEVER_OVER_HALF);
    let nose = (s.plate_thickness - 2.0) / 2.0 - 4.0;
    let Some(lever) = Lever::flush(inner, nose, nose, st.step) else {
        return Err(vec![Trouble {
            code: "levers.short",
            sentence: format!(
                "The star levers have only {room_for_tip:.0} mm between the centre post and the leaf slides, too little to lift the star by two steps of {:.1} mm.",
                st.step
            ),
            sizes: vec!["closed_diameter", "stock_thickness", "sectors"],
        }]);
    };
    let tip = m.lever_inner() + lever.inner + lever.outer;
    // Inner posts also stand clear of the star's hub and of the openings for its levers.
    let m = Members { inner_post: m.inner_post.max(tip + 8.0 + m.gap + m.post + 2.0), ..m };
    if let Some(t) = posts_crowded(&m) {
        return Err(vec![t]);
    }
    let n = s.sectors;
    let lever_count = if n.is_multiple_of(3) || !n.is_multiple_of(2) { 3 } else { (n / 2).max(3) };
    let lever_count = if n == 4 { 4 } else { lever_count };
    Ok(Mechanism {
        panel_slide_inner: m.panel_slide_inner(&lay),
        leaf_slide_inner,
        hub_radius: tip + 8.0,
        layout: lay,
        stack: st,
        members: m,
        arms,
        rollers,
        lever,
        lever_count,
        sizes: s,
        blend: LIFT_BLEND,
    })
}

/// Says which requirement the arm search could not meet.
fn arm_trouble(s: &Sizes, no: &Refusals, rollers: bool) -> Trouble {
    let counts = [
        (no.panel_arms_touch + no.leaf_arms_touch + no.pins_touch, "arms.touch"),
        (no.too_far, "arms.far"),
        (no.crowded, "arms.crowded"),
        (no.oblique, "arms.oblique"),
        (no.leaf_overtravel, "leaf.overtravel"),
    ];
    if rollers {
        return Trouble {
            code: "rollers.room",
            sentence: "No free circle was found for the drop rollers outside the arms, slides and pins, with a ramp no steeper than the limit.".into(),
            sizes: vec!["ramp_sweep", "closed_diameter", "arm_width", "sectors"],
        };
    }
    let gap = match no.best_gap {
        Some(g) => format!(" the best of them leaves {g:.1} mm of the {:.1} mm asked for", s.arm_clearance),
        None => " none came near".into(),
    };
    // What a candidate fails on last is the nearest thing to a solution.
    if counts[0].0 > 0 {
        return Trouble {
            code: "arms.touch",
            sentence: format!(
                "No set of {} mm wide arms stays clear over the whole turn:{gap}.",
                s.arm_width
            ),
            sizes: vec!["arm_width", "arm_clearance", "open_diameter", "sectors", "closed_diameter"],
        };
    }
    if no.leaf_overtravel > 0 {
        return Trouble {
            code: "leaf.overtravel",
            sentence: "No leaf arm gives the over-travel its tongues need within the shared turn.".into(),
            sizes: vec!["tongue_depth", "tongue_clearance", "leaf_tip_half_angle", "ramp_sweep"],
        };
    }
    if no.too_far >= no.crowded && no.too_far >= no.oblique {
        return Trouble {
            code: "arms.far",
            sentence: "Every crank long enough for this opening would carry its pins beyond the edge of the turning plate.".into(),
            sizes: vec!["open_diameter", "closed_diameter", "tongue_depth", "sectors"],
        };
    }
    if no.crowded >= no.oblique {
        return Trouble {
            code: "arms.crowded",
            sentence: "The slide pins would have to stand so near the centre that neighbouring slides, or the star's hub, are in their way.".into(),
            sizes: vec!["sectors", "closed_diameter", "open_diameter", "stock_thickness"],
        };
    }
    Trouble {
        code: "arms.oblique",
        sentence: "Every crank that fits would stand too oblique to its slide, or need too long a turn."
            .into(),
        sizes: vec!["tongue_depth", "ramp_sweep", "open_diameter"],
    }
}
