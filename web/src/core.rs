//! The one door between the app and the core.
//!
//! In: a plan. Out: what the app shows of it, as plain values.
//! Always true: nothing else in the app names a crate of the core.

pub use turnleaf_diag::{Diagnostic, Severity};
pub use turnleaf_page::Paper;
pub use turnleaf_plan::planfile::{
    Choice, FIELDS, FieldSpec, Kind, Plan, PlanUnit, PrintChoice, Projection, Value, field, field_of,
};

use crate::scene::Movement;
use crate::turning::Lift;
use serde::{Deserialize, Serialize};
use turnleaf_plan::{Assembly, Unit};
use turnleaf_units::{Length, PrintUnits, print_decimal};

/// How fine outlines are on the screen, mm: below half a pixel at any zoom a screen shows.
const FLAT: f64 = 0.05;

/// A piece as it is drawn: rings of points, mm, y up, in its part's own frame.
#[derive(Clone, Debug, PartialEq)]
pub struct PieceView {
    /// Stable identifier.
    pub id: String,
    /// Identifier of its part.
    pub part: String,
    /// Plain name.
    pub name: String,
    /// Outer ring, then holes.
    pub outline: Vec<Vec<(f64, f64)>>,
    /// Lowest height when closed, mm above the floor.
    pub z_min: f64,
    /// Greatest height when closed.
    pub z_max: f64,
}

/// Pieces and their motion, quick enough to follow every keystroke.
pub struct Table(Assembly);

impl Table {
    /// Works out the pieces of a plan; without a mechanism, what is at odds.
    pub fn new(plan: &Plan) -> Result<Table, Vec<Diagnostic>> {
        turnleaf_plan::outline(plan).map(Table)
    }

    /// Whole turn, degrees.
    pub fn turn_degrees(&self) -> f64 {
        self.0.mechanism.turn().to_degrees()
    }

    /// Where the lift takes place.
    pub fn lift(&self) -> Lift {
        let m = &self.0.mechanism;
        Lift { begins: m.lift_begins().to_degrees(), ends: m.lift_ends().to_degrees() }
    }

    /// How far panels and leaves are out at a turn, mm.
    pub fn travels(&self, degrees: f64) -> (f64, f64) {
        let turn = degrees.to_radians();
        (self.0.mechanism.panel_travel(turn), self.0.mechanism.leaf_travel(turn))
    }

    /// Diameter when closed, mm.
    pub fn closed_diameter(&self) -> f64 {
        self.0.mechanism.sizes.closed_diameter
    }

    /// How far leaves and star have risen at a turn, as a share of the whole.
    pub fn lift_share(&self, degrees: f64) -> f64 {
        self.0.mechanism.lift_share(degrees.to_radians())
    }

    /// Every piece.
    pub fn pieces(&self) -> Vec<PieceView> {
        let view = |piece: &_| {
            let (part, place) = (self.0.part_of(piece), self.0.place(piece, 0.0));
            // The widest layer shows tongues, which the bare outline does not.
            let widest =
                part.layers.iter().max_by(|a, b| a.region.outer.area().total_cmp(&b.region.outer.area()));
            let rings = match widest {
                Some(layer) => layer.region.rings().collect(),
                None => vec![&part.outline],
            };
            PieceView {
                id: piece.id.clone(),
                part: part.id.clone(),
                name: part.name.clone(),
                outline: rings
                    .iter()
                    .map(|ring| ring.flatten(FLAT).into_iter().map(|p| (p.x, p.y)).collect())
                    .collect(),
                z_min: place.z,
                z_max: place.z + part.thickness,
            }
        };
        self.0.pieces.iter().map(view).collect()
    }

    /// Where every piece is at a turn, degrees from closed.
    pub fn places(&self, degrees: f64) -> Vec<Movement> {
        let turn = degrees.clamp(0.0, self.turn_degrees()).to_radians();
        let place = |piece: &_| {
            let pose = self.0.place(piece, turn).pose;
            Movement::new(pose.angle(), pose.offset.x, pose.offset.y)
        };
        self.0.pieces.iter().map(place).collect()
    }
}

/// A solved number, ready to show.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Number {
    /// Stable identifier.
    pub id: String,
    /// Plain words.
    pub label: String,
    /// In millimetres (or its own unit).
    pub text_mm: String,
    /// In inches (or its own unit).
    pub text_in: String,
    /// The rule it came from.
    pub rule: String,
}

impl Number {
    /// In the units chosen.
    pub fn text(&self, units: PrintChoice) -> String {
        match units {
            PrintChoice::Mm => self.text_mm.clone(),
            PrintChoice::Inch => self.text_in.clone(),
            PrintChoice::Both if self.text_mm == self.text_in => self.text_mm.clone(),
            PrintChoice::Both => format!("{} ({})", self.text_mm, self.text_in),
        }
    }
}

/// One check, ready to show.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Check {
    /// Stable identifier.
    pub id: String,
    /// Whether it holds.
    pub holds: bool,
    /// In plain words.
    pub text: String,
    /// What is left before it fails, in the check's own unit; negative when it fails.
    pub room: f64,
    /// The same without sign, in the units chosen.
    pub margin: String,
    /// Turn at which it is tightest, degrees; none when it does not depend on the turn.
    pub at_turn: Option<f64>,
}

/// Everything worked out from a plan that works, proof of the motion included.
pub struct Built(turnleaf_plan::Built);

impl Built {
    /// Works a plan out.
    pub fn new(plan: &Plan) -> Result<Built, Vec<Diagnostic>> {
        turnleaf_plan::build(plan).map(Built)
    }

    /// Solved numbers in book order.
    pub fn numbers(&self) -> Vec<Number> {
        let number = |n: &turnleaf_plan::Number| {
            let (text_mm, text_in) = self.texts(n.value, n.unit);
            Number { id: n.id.into(), label: n.label.into(), text_mm, text_in, rule: n.rule.into() }
        };
        self.0.numbers.iter().map(number).collect()
    }

    /// Checks in book order.
    pub fn checks(&self) -> Vec<Check> {
        let check = |c: &turnleaf_plan::Check| Check {
            id: c.id.clone(),
            holds: c.holds,
            text: c.text.clone(),
            room: c.margin,
            margin: match c.unit {
                "count" => self.decimal(c.margin.abs(), 0),
                "mm" => self.length(c.margin.abs()),
                "deg" => format!("{}°", self.decimal(c.margin.abs(), 1)),
                unit => format!("{} {unit}", self.decimal(c.margin.abs(), 1)).trim_end().to_string(),
            },
            at_turn: c.at_turn,
        };
        self.0.checks.iter().map(check).collect()
    }

    /// A length in the units that the plan prints.
    fn length(&self, mm: f64) -> String {
        say_length(&self.0.plan, mm)
    }

    fn decimal(&self, value: f64, places: u8) -> String {
        print_decimal(value, places, self.0.plan.options().language.decimal_sign()).unwrap_or_default()
    }

    /// A number in both systems.
    fn texts(&self, value: f64, unit: Unit) -> (String, String) {
        let both = |text: String| (text.clone(), text);
        match unit {
            Unit::Mm => {
                let options = self.0.plan.options();
                let sign = options.language.decimal_sign();
                let print = options.print;
                let inch =
                    turnleaf_units::InchPrint { denominator: print.inch_denominator, feet: print.feet };
                let Some(length) = Length::from_mm_f64(value) else { return both(String::new()) };
                let one = |units: PrintUnits| units.print(length, sign).text();
                (one(PrintUnits::Mm(print.mm_step)), one(PrintUnits::Inch(inch)))
            }
            // 100 mm² to a cm², 645.16 mm² to a square inch (25.4², exact).
            Unit::Mm2 => (
                format!("{} cm²", self.decimal(value / 100.0, 0)),
                format!("{} in²", self.decimal(value / 645.16, 1)),
            ),
            Unit::Deg => both(format!("{}°", self.decimal(value, 1))),
            Unit::Count => both(self.decimal(value, 0)),
            Unit::Ratio => both(self.decimal(value, 3)),
        }
    }
}

/// A length said in the units that a plan prints.
pub fn say_length(plan: &Plan, mm: f64) -> String {
    let options = plan.options();
    let sign = options.language.decimal_sign();
    Length::from_mm_f64(mm)
        .map_or(String::new(), |length| options.print.print_units().print(length, sign).text())
}
