//! The solver: sizes in, a whole mechanism out, or the sizes at odds.
//!
//! In: [`Sizes`]. Out: [`Mechanism`], or every [`Trouble`] found.
//! Always true: a returned mechanism has passed every closed-form requirement and the arm and roller
//! searches; the clearances over the whole turn are proved in a later stage.

use crate::arms::{self, Arms, Refusals, Room};
use crate::cam::{self, Cam, CamRefusals, CamRoom, SLOT_PLAY, eased};
use crate::layout::{Layout, layout};
use crate::lever::Lever;
use crate::members::{ENGAGED_WIDTHS, Members, members};
use crate::rollers::{self, Below, GLIDE_RING, Rollers, STOP_ROOM};
use crate::sizes::{DriveKind, Sizes};
use crate::skew;
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

/// What moves the slides.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Drive {
    /// Crank arms.
    Arms(Arms),
    /// Cam plate.
    Cam(Cam),
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
    /// What moves the slides, and the turn.
    pub drive: Drive,
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
    /// The arms, if arms move the slides.
    pub fn arms(&self) -> Option<&Arms> {
        match &self.drive {
            Drive::Arms(a) => Some(a),
            Drive::Cam(_) => None,
        }
    }
    /// The cam, if a cam plate moves the slides.
    pub fn cam(&self) -> Option<&Cam> {
        match &self.drive {
            Drive::Cam(c) => Some(c),
            Drive::Arms(_) => None,
        }
    }
    /// Whole turn from closed to open, radians.
    pub fn turn(&self) -> f64 {
        match &self.drive {
            Drive::Arms(a) => a.open - a.closed,
            Drive::Cam(c) => c.turn(),
        }
    }
    /// Turn at which the lift begins, radians.
    pub fn lift_begins(&self) -> f64 {
        match &self.drive {
            Drive::Arms(a) => -self.sizes.ramp_sweep / 2.0 - a.closed,
            Drive::Cam(c) => c.rise,
        }
    }
    /// Turn at which the lift ends, radians.
    pub fn lift_ends(&self) -> f64 {
        self.lift_begins() + self.sizes.ramp_sweep
    }
    /// Distance of a panel slide's pin from the centre at a turn, mm.
    pub fn panel_pin(&self, turn: f64) -> f64 {
        match &self.drive {
            Drive::Arms(a) => a.panel.crank.slide(a.closed + turn),
            Drive::Cam(c) => c.panel.closed + c.out(&c.panel, turn),
        }
    }
    /// Distance of a leaf slide's pin from the centre at a turn, mm.
    pub fn leaf_pin(&self, turn: f64) -> f64 {
        match &self.drive {
            Drive::Arms(a) => a.leaf.crank.slide(a.closed + turn),
            Drive::Cam(c) => c.leaf.closed + c.out(&c.leaf, turn),
        }
    }
    /// How far the panels are out, mm.
    pub fn panel_travel(&self, turn: f64) -> f64 {
        self.panel_pin(turn) - self.panel_pin(0.0)
    }
    /// How far the leaves are out, mm.
    pub fn leaf_travel(&self, turn: f64) -> f64 {
        self.leaf_pin(turn) - self.leaf_pin(0.0)
    }
    /// Share of the lift done, 0 to 1.
    pub fn lift_share(&self, turn: f64) -> f64 {
        // The same easing as the cam's: even speed between even gains of speed.
        eased((turn - self.lift_begins()) / self.sizes.ramp_sweep, self.blend)
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
    /// Turn at which both travels are greatest; they never fall before it nor rise after it, radians.
    pub fn travel_peak(&self) -> f64 {
        match &self.drive {
            Drive::Arms(a) => -a.closed,
            Drive::Cam(c) => c.rise + c.dwell / 2.0,
        }
    }
    /// Greatest panel travel, mm.
    pub fn panel_travel_most(&self) -> f64 {
        self.panel_travel(self.travel_peak())
    }
    /// Greatest leaf travel, mm.
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
        self.panel_pin(0.0)
    }
    /// Closed radius of the leaf slides' pins, mm.
    pub fn leaf_pin_closed(&self) -> f64 {
        self.leaf_pin(0.0)
    }
    /// Greatest radius of the panel slides' pins, mm.
    pub fn panel_pin_farthest(&self) -> f64 {
        self.panel_pin(self.travel_peak())
    }
    /// Greatest radius of the leaf slides' pins, mm.
    pub fn leaf_pin_farthest(&self) -> f64 {
        self.leaf_pin(self.travel_peak())
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
    if let Some(t) = skew::refuse(s, lay, m) {
        return vec![t];
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
    let under = if s.drive == DriveKind::Cam { s.plate_thickness } else { 0.0 };
    if st.step > 2.0 * s.ply_thickness + under {
        say(
            "pocket.deep",
            &["ply_thickness", "stock_thickness", "play"],
            format!(
                "The roller pockets are one step deep, {:.1} mm, and what they are cut into is only {:.1} mm thick; make each ply at least {:.1} mm.",
                st.step,
                2.0 * s.ply_thickness + under,
                (st.step - under) / 2.0
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

/// Wood between the pin of a panel slide and the dowel of its inner post, mm. Smaller: the slide splits there.
/// Common practice, no source.
const PIN_WALL: f64 = 6.0;

/// Solves the mechanism.
pub fn solve(sizes: &Sizes) -> Result<Mechanism, Vec<Trouble>> {
    search(sizes).map_err(|mut troubles| {
        skew::explain(sizes, &mut troubles);
        troubles
    })
}

fn search(sizes: &Sizes) -> Result<Mechanism, Vec<Trouble>> {
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
    let (drive, rollers) = match s.drive {
        DriveKind::Arms => {
            // The first without room for end stops is kept for want of a better.
            let mut tight = None;
            let mut roomy = |placed: Option<Rollers>, arms: Arms| {
                let placed = placed?;
                if m.turning_plate - placed.base_radius >= STOP_ROOM {
                    return Some(placed);
                }
                tight.get_or_insert((arms, placed));
                None
            };
            let found = arms::find_where(&s, &lay, &room, |arms| {
                let c = &arms.leaf.crank;
                let pins = (c.slide(arms.closed), c.dead_centre());
                let placed = rollers::place(&s, &lay, &st, &m, Below::Arms(arms), pins);
                roller_trouble |= placed.is_none();
                roomy(placed, *arms)
            });
            match (found, tight) {
                (Ok((arms, rollers)), _) | (Err(_), Some((arms, rollers))) => (Drive::Arms(arms), rollers),
                (Err(no), None) => return Err(vec![arm_trouble(&s, &no, roller_trouble)]),
            }
        }
        DriveKind::Cam => {
            // Two roller circles lie outside the slots.
            let circles = 2.0 * m.wheel_width + 4.0 * m.gap + 10.0;
            let room = CamRoom {
                panel_pin_least: room.panel_pin_least,
                leaf_pin_least: room.leaf_pin_least,
                pin_most: room.pin_most - circles,
                leaf_pin_most: room.leaf_pin_most,
                pin: m.pin,
            };
            let mut tight = None;
            let found = cam::find_where(&s, &lay, &room, |c| {
                let pins = (c.leaf.closed, c.farthest(&c.leaf));
                let end = c.farthest(&c.panel).max(pins.1) + m.pin + SLOT_PLAY;
                let placed = rollers::place(&s, &lay, &st, &m, Below::Slots(end), pins);
                roller_trouble |= placed.is_none();
                let placed = placed?;
                if m.turning_plate - placed.base_radius >= STOP_ROOM {
                    return Some(placed);
                }
                tight.get_or_insert((*c, placed));
                None
            });
            match (found, tight) {
                (Ok((cam, rollers)), _) | (Err(_), Some((cam, rollers))) => (Drive::Cam(cam), rollers),
                (Err(no), None) => return Err(vec![cam_trouble(&no, roller_trouble)]),
            }
        }
    };
    let leaf_pin = match &drive {
        Drive::Arms(a) => a.leaf.crank.slide(a.closed),
        Drive::Cam(c) => c.leaf.closed,
    };
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
    // The slide's pin and the dowel of its inner post must not share their wood: the post stands farther out then.
    let panel_pin = match &drive {
        Drive::Arms(a) => a.panel.crank.slide(a.closed),
        Drive::Cam(c) => c.panel.closed,
    };
    let apart = m.pin + m.post / 2.0 + PIN_WALL;
    let shares = (m.inner_post - panel_pin).abs() < apart;
    let m = Members { inner_post: if shares { panel_pin + apart } else { m.inner_post }, ..m };
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
        drive,
        rollers,
        lever,
        lever_count,
        sizes: s,
        blend: LIFT_BLEND,
    })
}

fn roller_trouble(what: &str, sizes: &[&'static str]) -> Trouble {
    Trouble {
        code: "rollers.room",
        sentence: format!(
            "No free circle was found for the drop rollers clear of {what}, with a ramp no steeper than the limit."
        ),
        sizes: sizes.to_vec(),
    }
}

/// Says which requirement the cam search could not meet.
fn cam_trouble(no: &CamRefusals, rollers: bool) -> Trouble {
    if rollers {
        return roller_trouble(
            "the cam's slots and the slides",
            &["ramp_sweep", "closed_diameter", "sectors"],
        );
    }
    let best = no.best_bridge.unwrap_or(0.0);
    if no.tight > 0 && best >= cam::BRIDGE_LEAST {
        return Trouble {
            code: "cam.tight",
            sentence:
                "Every cam whose slots keep apart would bend them more tightly than their pins can follow."
                    .into(),
            sizes: vec!["tongue_depth", "ramp_sweep", "closed_diameter", "open_diameter"],
        };
    }
    if no.slots_meet > 0 {
        return Trouble {
            code: "cam.slots",
            sentence: format!(
                "The cam's slots run together: the best arrangement leaves {best:.1} mm of wood between them, and {:.0} mm are needed.",
                cam::BRIDGE_LEAST
            ),
            sizes: vec!["ramp_sweep", "sectors", "closed_diameter", "open_diameter"],
        };
    }
    if no.steep > 0 {
        return Trouble {
            code: "cam.steep",
            sentence: format!(
                "Every cam that fits would press its pins at more than {:.0} degrees.",
                cam::PRESSURE_LIMIT
            ),
            sizes: vec!["open_diameter", "closed_diameter", "ramp_sweep"],
        };
    }
    Trouble {
        code: "cam.far",
        sentence: "The cam's pins would have to go out beyond the place of the drop rollers.".into(),
        sizes: vec!["open_diameter", "closed_diameter", "tongue_depth", "sectors"],
    }
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
        return roller_trouble(
            "arms, slides and pins",
            &["ramp_sweep", "closed_diameter", "arm_width", "sectors"],
        );
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
