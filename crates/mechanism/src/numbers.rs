//! Every solved number with a stable identifier, a unit and the rule it came from.
//!
//! In: a [`Mechanism`]. Out: a list of [`Number`].
//! Always true: identifiers are never reused or reordered by size; lengths are mm, angles degrees.

use crate::arms::{Arms, Upper};
use crate::cam::Cam;
use crate::layout::Layout;
use crate::solve::{Drive, Mechanism};
use turnleaf_geom::trig;

/// What a number counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unit {
    /// Millimetres.
    Mm,
    /// Square millimetres.
    Mm2,
    /// Degrees.
    Deg,
    /// A plain count.
    Count,
    /// A plain ratio.
    Ratio,
}

impl Unit {
    /// The symbol used in tables and in JSON.
    pub fn symbol(self) -> &'static str {
        match self {
            Unit::Mm => "mm",
            Unit::Mm2 => "mm2",
            Unit::Deg => "deg",
            Unit::Count => "count",
            Unit::Ratio => "ratio",
        }
    }
}

/// A solved number.
#[derive(Clone, Debug, PartialEq)]
pub struct Number {
    /// Stable identifier, dotted.
    pub id: &'static str,
    /// Plain words for tables.
    pub label: &'static str,
    /// Value in its unit.
    pub value: f64,
    /// Unit.
    pub unit: Unit,
    /// The rule it came from.
    pub rule: &'static str,
}

/// All solved numbers in book order.
pub fn numbers(m: &Mechanism) -> Vec<Number> {
    use Unit::{Count, Deg, Mm, Mm2, Ratio};
    let (s, lay, st, r, me) = (&m.sizes, &m.layout, &m.stack, &m.rollers, &m.members);
    let (ic, oc) = (&r.places[2], &r.places[0]);
    let deg = trig::deg;

    let mut rows: Vec<Row> = vec![
        ("closed.diameter", "Diameter, closed", s.closed_diameter, Mm, "as given"),
        ("closed.radius", "Radius, closed", lay.radius, Mm, "R = half the closed diameter"),
        (
            "open.diameter",
            "Diameter, open, across panel middles",
            2.0 * (lay.radius + lay.travel),
            Mm,
            "2·(R + e)",
        ),
        ("open.corner-diameter", "Diameter, open, across panel corners", 2.0 * lay.corners[0], Mm, "2·ρ"),
        ("sectors", "Sectors", s.sectors as f64, Count, "n, as given"),
        ("panel.angle", "Angle of a panel", deg(2.0 * lay.half_sector), Deg, "360°/n"),
        ("panel.travel", "Panel travel, open", lay.travel, Mm, "e, half the difference of the diameters"),
        (
            "panel.corner-radius",
            "Radius of the open panels' corners",
            lay.corners[0],
            Mm,
            "ρ = √(R² + 2·R·e·cos h + e²)",
        ),
        ("open.out-of-round", "Out of round, open", lay.out_of_round, Mm, "R + e − ρ"),
        ("gap.width", "Gap between open panels", lay.gap_width, Mm, "w = 2·e·sin h"),
        ("gap.apothem", "Gap's inner end from the centre", lay.apothem, Mm, "e·cos h"),
        (
            "leaf.travel",
            "Leaf travel, open",
            lay.leaf_travel,
            Mm,
            "l = ρ − (R − hidden margin), more where corners would show",
        ),
        ("leaf.shoulder", "Leaf shoulders from the centre, open", lay.shoulder, Mm, "s = e·cos h + l"),
        ("leaf.tip", "Leaf tip from the centre, open", lay.tip, Mm, "t = s − (w/2)/tan α"),
        ("leaf.tip-half-angle", "Leaf tip half-angle", deg(lay.tip_half_angle), Deg, "α, as given"),
        ("star.reach", "Star's reach, before fitting gaps", lay.star_reach, Mm, "√(s² + (w/2)²)"),
        (
            "star.area",
            "Star's area, before fitting gaps",
            lay.star_area,
            Mm2,
            "n·(e·cos h·w/2 + w·l − (w/2)²/tan α)",
        ),
        (
            "overtravel.panel-least",
            "Panel over-travel needed",
            lay.panel_overtravel_least,
            Mm,
            "(tongue + clearance)/sin h",
        ),
        (
            "overtravel.leaf-least",
            "Leaf over-travel needed",
            lay.leaf_overtravel_least,
            Mm,
            "(tongue + clearance)/sin α",
        ),
        (
            "overtravel.panel",
            "Panel over-travel through the lift",
            m.panel_overtravel(),
            Mm,
            "x at the window's edge − x open",
        ),
        ("overtravel.leaf", "Leaf over-travel through the lift", m.leaf_overtravel(), Mm, "same, leaf arms"),
        (
            "turn.whole",
            "Turn, closed to open",
            deg(m.turn()),
            Deg,
            "closed to open, shared by panels and leaves",
        ),
        (
            "turn.lift-begins",
            "Turn where the lift begins",
            deg(m.lift_begins()),
            Deg,
            "half the ramp sweep before dead centre; where a cam's dwell begins",
        ),
        (
            "turn.lift-ends",
            "Turn where the lift ends",
            deg(m.lift_ends()),
            Deg,
            "one ramp sweep after it begins",
        ),
        (
            "turn.peak",
            "Turn at greatest travel",
            deg(m.travel_peak()),
            Deg,
            "dead centre of the arms, or middle of the cam's dwell",
        ),
        (
            "panel.slide.pin-closed",
            "Panel slide pin from the centre, closed",
            m.panel_pin_closed(),
            Mm,
            "a + L − (e + Δ + q) with arms",
        ),
        (
            "panel.slide.pin-open",
            "Panel slide pin from the centre, open",
            m.panel_pin(m.turn()),
            Mm,
            "x open",
        ),
        (
            "panel.slide.pin-farthest",
            "Panel slide pin from the centre, farthest",
            m.panel_pin_farthest(),
            Mm,
            "at the peak of the travel; a + L with arms",
        ),
        (
            "panel.slide.engaged",
            "Panel slide in its guides, shortest",
            m.panel_engaged(),
            Mm,
            "plate radius − inner end − greatest travel",
        ),
        (
            "leaf.slide.pin-closed",
            "Leaf slide pin from the centre, closed",
            m.leaf_pin_closed(),
            Mm,
            "y closed",
        ),
        ("leaf.slide.pin-open", "Leaf slide pin from the centre, open", m.leaf_pin(m.turn()), Mm, "y open"),
        (
            "leaf.slide.pin-farthest",
            "Leaf slide pin from the centre, farthest",
            m.leaf_pin_farthest(),
            Mm,
            "at the peak of the travel; a + L with arms",
        ),
        (
            "leaf.slide.engaged",
            "Leaf slide in its guides, shortest",
            m.leaf_engaged(),
            Mm,
            "plate radius − inner end − greatest travel",
        ),
        ("lift.step", "Step: rise of leaves and plate", st.step, Mm, "stock + play"),
        ("lift.star", "Rise of the star", m.star_rise(m.turn()), Mm, "lever solved exactly"),
        ("lift.star-error", "Star off flush after the lift", m.star_error(), Mm, "rise − 2 steps"),
        (
            "lift.lever-arm",
            "Star lever, nose to pin and pin to tip",
            m.lever.inner,
            Mm,
            "lifted at half its length",
        ),
        ("lift.lever-count", "Star levers", m.lever_count as f64, Count, "three, or half the sectors"),
        (
            "lift.lever-tilt",
            "Star lever's tilt, lifted",
            deg(m.lever.tilt(st.step).unwrap_or(f64::NAN)),
            Deg,
            "asin of rise over arm, offsets included",
        ),
        ("roller.outer-radius", "Outer roller circle, radius", oc.radius, Mm, "found by search"),
        ("roller.inner-radius", "Inner roller circle, radius", ic.radius, Mm, "found by search"),
        (
            "roller.outer-slope",
            "Ramp slope, outer circle, mean",
            deg(m.ramp_slope(oc.radius)),
            Deg,
            "atan(step/(r·σ))",
        ),
        (
            "roller.inner-slope",
            "Ramp slope, inner circle, mean",
            deg(m.ramp_slope(ic.radius)),
            Deg,
            "atan(step/(r·σ))",
        ),
        ("roller.outer-arc", "Ramp, length along the outer circle", oc.radius * s.ramp_sweep, Mm, "r·σ"),
        ("roller.inner-arc", "Ramp, length along the inner circle", ic.radius * s.ramp_sweep, Mm, "r·σ"),
        ("roller.arm", "Roller arm, hinge to wheel", r.arm, Mm, "dropped height/cos 4°"),
        ("roller.wheel", "Roller wheel, diameter", 2.0 * me.wheel, Mm, "0.65 of the step as radius, 9 to 16"),
        (
            "plate.base-radius",
            "Base plate, radius",
            r.base_radius,
            Mm,
            "outside arms, rollers and glide ring",
        ),
        ("plate.turning-radius", "Turning plate, radius", me.turning_plate, Mm, "R − setback"),
        ("plate.rising-radius", "Rising plate, radius", me.rising_plate, Mm, "inside the outer posts"),
        (
            "post.inner-radius",
            "Inner panel posts from the centre, closed",
            me.inner_post,
            Mm,
            "e + (post + tongue + gap)/sin h",
        ),
        (
            "post.outer-radius",
            "Outer panel posts from the centre, closed",
            me.outer_post,
            Mm,
            "R − setback − post",
        ),
        ("stack.top", "Height of the top", s.height, Mm, "as given"),
        (
            "stack.mechanism",
            "Top and mechanism, thickness",
            s.height - st.base.bottom,
            Mm,
            "sum of the levels",
        ),
        (
            "stack.surfaces",
            "Three top surfaces and their play",
            3.0 * s.stock_thickness + 2.0 * s.play,
            Mm,
            "3·T + 2·play",
        ),
        (
            "stack.base-bottom",
            "Underside of the base plate above the floor",
            st.base.bottom,
            Mm,
            "height − stack",
        ),
        ("opening.ratio", "Opening ratio", (lay.radius + lay.travel) / lay.radius, Ratio, "(R + e)/R"),
    ];
    rows.extend(match &m.drive {
        Drive::Arms(a) => arm_rows(a),
        Drive::Cam(c) => cam_rows(c),
    });
    if lay.skew != 0.0 {
        rows.extend(skew_rows(lay));
        for row in &mut rows {
            row.1 = skewed_label(row.0).unwrap_or(row.1);
            row.4 = skewed_rule(row.0).unwrap_or(row.4);
        }
    }
    rows.into_iter().map(|(id, label, value, unit, rule)| Number { id, label, value, unit, rule }).collect()
}

/// Identifier, label, value, unit, rule.
type Row = (&'static str, &'static str, f64, Unit, &'static str);

/// Numbers that only a table with skewed slides has.
fn skew_rows(lay: &Layout) -> Vec<Row> {
    use Unit::{Deg, Mm};
    vec![
        (
            "panel.skew",
            "Panel slides, turned from the panels' centre lines",
            trig::deg(lay.skew),
            Deg,
            "κ, as given",
        ),
        (
            "panel.corner-nearer",
            "Radius of the open panels' nearer corners",
            lay.corners[1],
            Mm,
            "√(R² + 2·R·e·cos(h + κ) + e²)",
        ),
        (
            "gap.shear",
            "Shift of neighbouring open panels along their gap",
            lay.gap_shear,
            Mm,
            "2·e·sin h·sin κ",
        ),
        ("gap.offset", "Gap's middle beside the seam", lay.gap_offset, Mm, "e·cos h·sin κ"),
        ("leaf.rim", "Radius of a leaf's rim", lay.corner_radius, Mm, "√(R² + 2·R·e·cos h·cos κ + e²)"),
        (
            "leaf.shoulder-nearer",
            "Leaf's nearer shoulder from the centre, open",
            lay.shoulders()[1].x,
            Mm,
            "e·cos(h + κ) + l",
        ),
        ("leaf.tip-offset", "Leaf tip beside the seam", lay.tip_offset, Mm, "e·(cos h − sin h/tan α)·sin κ"),
    ]
}

/// The label of a number on a table with skewed slides, where it is another than on a radial one.
pub fn skewed_label(id: &str) -> Option<&'static str> {
    Some(match id {
        "open.diameter" => "Diameter, open, across the panels' farthest points",
        "open.corner-diameter" => "Diameter, open, across the panels' farther corners",
        "panel.corner-radius" => "Radius of the open panels' farther corners",
        "leaf.shoulder" => "Leaf's farther shoulder from the centre, open",
        _ => return None,
    })
}

/// The rule of a number on a table with skewed slides, where it is another than on a radial one.
pub fn skewed_rule(id: &str) -> Option<&'static str> {
    Some(match id {
        "panel.corner-radius" => "√(R² + 2·R·e·cos(h − κ) + e²)",
        "open.corner-diameter" => "2·√(R² + 2·R·e·cos(h − κ) + e²)",
        "open.out-of-round" => "R + e less the nearer corners' radius",
        "gap.width" => "w = 2·e·sin h·cos κ",
        "leaf.travel" => "l hides the rim's middle by the hidden margin, more where corners would show",
        "leaf.shoulder" => "s = e·cos(h − κ) + l",
        "leaf.tip" => "t = l + e·(cos h − sin h/tan α)·cos κ",
        "star.reach" => "√(e² + 2·e·l·cos(h − κ) + l²)",
        "star.area" => "n·(e²·sin h·cos h + w·l − (e·sin h)²/tan α)",
        "overtravel.panel-least" => "(tongue + clearance)/sin(h − κ)",
        "overtravel.leaf-least" => "(tongue + clearance)/sin(α − κ)",
        "post.inner-radius" => "e + (post + tongue + gap)/sin(h − κ), more beside the leaves' guides",
        _ => return None,
    })
}

fn arm_rows(a: &Arms) -> Vec<Row> {
    use Unit::{Count, Deg, Mm};
    let deg = trig::deg;
    let (pc, lc) = (a.panel.crank, a.leaf.crank);
    vec![
        ("panel.arm.pin-radius", "Panel crank pins, radius", pc.pin_radius, Mm, "a, found by search"),
        ("panel.arm.length", "Panel arm, pin to pin", pc.arm, Mm, "L, found by search"),
        ("panel.arm.bend", "Panel arm, bend at its middle", a.panel.bend, Mm, "found by search"),
        (
            "panel.arm.closed-angle",
            "Panel crank angle, closed",
            deg(a.closed),
            Deg,
            "cos φ = (a² + x² − L²)/(2·a·x)",
        ),
        ("panel.arm.open-angle", "Panel crank angle, open", deg(a.open), Deg, "x(φ) = a + L − (Δ + q)"),
        (
            "panel.arm.largest-angle",
            "Panel arm to slide, largest angle",
            deg(pc.largest_arm_angle(a.closed, a.open)),
            Deg,
            "asin((a/L)·sin φ)",
        ),
        (
            "panel.arm.neighbour",
            "Panel arms, centre lines apart at the tightest turn",
            a.panel.neighbour_distance,
            Mm,
            "search over the turn",
        ),
        ("leaf.arm.pin-radius", "Leaf crank pins, radius", lc.pin_radius, Mm, "a, found by search"),
        ("leaf.arm.length", "Leaf arm, pin to pin", lc.arm, Mm, "L, found by search"),
        ("leaf.arm.bend", "Leaf arm, bend at its middle", a.leaf.bend, Mm, "found by search"),
        (
            "leaf.arm.largest-angle",
            "Leaf arm to slide, largest angle",
            deg(lc.largest_arm_angle(a.closed, a.open)),
            Deg,
            "asin((a/L)·sin φ)",
        ),
        (
            "leaf.arm.neighbour",
            "Leaf arms, centre lines apart at the tightest turn",
            a.leaf.neighbour_distance,
            Mm,
            "search over the turn",
        ),
        (
            "arms.upper",
            "Upper arms (1 panel, 2 leaf)",
            if a.upper == Upper::Panel { 1.0 } else { 2.0 },
            Count,
            "found by search",
        ),
        ("arms.clearance", "Arms and pins, least gap over the turn", a.clearance, Mm, "search over the turn"),
    ]
}

fn cam_rows(c: &Cam) -> Vec<Row> {
    use Unit::{Deg, Mm};
    let deg = trig::deg;
    vec![
        ("cam.rise", "Cam: turn of the rise", deg(c.rise), Deg, "found by search"),
        ("cam.dwell", "Cam: turn of the dwell", deg(c.dwell), Deg, "the ramp sweep"),
        ("cam.return", "Cam: turn of the return", deg(c.back), Deg, "found by search"),
        (
            "cam.pressure",
            "Cam: greatest pressure angle",
            deg(c.pressure),
            Deg,
            "atan(|dr/dτ|/r), slot normal to slide",
        ),
        (
            "cam.bridge",
            "Cam: least wood between slots",
            c.bridge,
            Mm,
            "distance of centre lines − slot width",
        ),
        ("cam.panel-closed", "Cam: panel slot, inner end", c.panel.closed, Mm, "found by search"),
        ("cam.leaf-closed", "Cam: leaf slot, inner end", c.leaf.closed, Mm, "found by search"),
        (
            "cam.panel-farthest",
            "Cam: panel slot, dwell radius",
            c.farthest(&c.panel),
            Mm,
            "inner end + travel + over-travel",
        ),
        (
            "cam.leaf-farthest",
            "Cam: leaf slot, dwell radius",
            c.farthest(&c.leaf),
            Mm,
            "inner end + travel + over-travel",
        ),
    ]
}
