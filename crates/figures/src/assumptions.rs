//! What the figures assume beyond the table's sizes.
//!
//! In: nothing. Out: [`Assumptions`], with a list that says each one's unit and where it comes from.
//! Always true: an assumption without a source says so; the edge load is the maker's own size and not here.

use crate::material::Material;
use crate::wood::{self, Species};

/// How far sheet stock may be off its thickness.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum StockTolerance {
    /// Sanded plywood by EN 315.
    En315,
    /// Sanded plywood by PS 1-19.
    Ps1,
    /// The same each way, mm.
    Even(f64),
}

/// Everything assumed.
#[derive(Clone, Debug, PartialEq)]
pub struct Assumptions {
    /// What the parts' material names stand for, looked up in this order.
    pub materials: Vec<(String, Material)>,
    /// Friction of slides in guides.
    pub slide_friction: f64,
    /// Friction of the turning plate on the glide ring.
    pub glide_friction: f64,
    /// Friction of pins in arms and levers, and of lever noses.
    pub pin_friction: f64,
    /// Lever arm of rolling resistance of a roller on the base, mm.
    pub rolling_arm: f64,
    /// Friction of a wheel on its axle.
    pub axle_friction: f64,
    /// Axle of a wheel, diameter, mm.
    pub axle: f64,
    /// Friction of a linear ball bushing.
    pub bushing_friction: f64,
    /// What one person may be asked to push at the closed rim, N.
    pub hand_push: f64,
    /// Droop of the open edge that is accepted, as a share of the open radius.
    pub droop_share: f64,
    /// How far inside the edge the edge load stands, mm.
    pub edge_inset: f64,
    /// By how much wood's strength is divided.
    pub wood_factor: f64,
    /// By how much steel's yield strength is divided.
    pub steel_factor: f64,
    /// One drop roller, complete, kg.
    pub roller_mass: f64,
    /// One linear bushing, kg.
    pub bushing_mass: f64,
    /// Wheel and arm that a roller's spring must swing, kg.
    pub swing_mass: f64,
    /// How fast the top is turned, rad/s.
    pub turn_speed: f64,
    /// Press of a dropped wheel from its spring alone, N.
    pub wheel_press: f64,
    /// Mean coil diameter of a roller's spring, mm.
    pub coil: f64,
    /// Temperature, °C.
    pub temperature: f64,
    /// Relative humidity of the workshop, %.
    pub humidity_made: f64,
    /// Driest season, %.
    pub humidity_low: f64,
    /// Dampest season, %.
    pub humidity_high: f64,
    /// Species of a solid-wood top.
    pub top_species: Species,
    /// Tolerance of sheet stock as bought.
    pub stock_tolerance: StockTolerance,
    /// Half-width within one sheet or batch, once the stock is measured, mm.
    pub batch_tolerance: f64,
    /// Half-width of a length sawn to fit, mm.
    pub saw_tolerance: f64,
    /// Half-width of the height of a tongue or groove, mm.
    pub groove_tolerance: f64,
    /// A step that a hand passing over it feels, mm.
    pub felt_step: f64,
    /// Tops drawn for the trial.
    pub trials: usize,
    /// Where the trial's numbers start.
    pub trial_start: u64,
}

/// One line of the list.
#[derive(Clone, Debug, PartialEq)]
pub struct Assumed {
    /// Stable identifier.
    pub id: &'static str,
    /// Plain words.
    pub label: &'static str,
    /// Value.
    pub value: f64,
    /// Unit symbol.
    pub unit: &'static str,
    /// Where it comes from.
    pub source: &'static str,
}

/// Polyethylene of very high molecular weight: density 930 kg/m³, modulus 700 MPa, yield 19 MPa (makers' sheets, from
/// memory).
const POLYETHYLENE: Material =
    Material::Given { name: "polyethylene PE-UHMW", density: 930.0, modulus: 700.0, strength: 19.0 };

const PRACTICE: &str = "common practice, no source";

impl Default for Assumptions {
    fn default() -> Self {
        let beech = wood::species("beech-american");
        let oak = wood::species("oak-red");
        let solid = |s: Option<Species>| s.map_or(Material::BirchPlywood, Material::Solid);
        let named = [
            ("top stock", Material::BirchPlywood),
            ("slide stock", Material::BirchPlywood),
            ("plate stock", Material::BirchPlywood),
            ("base stock", Material::BirchPlywood),
            ("steel plate", Material::Steel),
            ("hardwood", solid(beech)),
            ("hardwood dowel", solid(beech)),
            ("PE-UHMW", POLYETHYLENE),
            ("steel", Material::Steel),
            ("steel rod", Material::Steel),
            ("class 8.8 steel", Material::HighSteel),
            ("steel tube", Material::Steel),
            ("tube", Material::Steel),
            ("ground steel shaft", Material::Steel),
        ];
        Assumptions {
            materials: named.into_iter().map(|(n, m)| (n.to_string(), m)).collect(),
            slide_friction: 0.25,
            glide_friction: 0.15,
            pin_friction: 0.30,
            rolling_arm: 0.05 * 25.4,
            axle_friction: 0.10,
            axle: 6.0,
            bushing_friction: 0.005,
            hand_push: 100.0,
            droop_share: 0.01,
            edge_inset: 0.0,
            wood_factor: 3.0,
            steel_factor: 1.5,
            roller_mass: 0.15,
            bushing_mass: 0.032,
            swing_mass: 0.08,
            turn_speed: 1.0,
            wheel_press: 12.0,
            coil: 10.0,
            temperature: 20.0,
            humidity_made: 45.0,
            humidity_low: 30.0,
            humidity_high: 65.0,
            // The table always holds this row; a missing one would only leave out the movement.
            top_species: oak.unwrap_or_else(|| wood::all()[0]),
            stock_tolerance: StockTolerance::En315,
            batch_tolerance: 0.1,
            saw_tolerance: 0.2,
            groove_tolerance: 0.1,
            felt_step: 0.3,
            trials: 1000,
            trial_start: 1,
        }
    }
}

impl Assumptions {
    /// What a part's material name stands for. Names not listed are taken as steel when they say so, as
    /// plywood otherwise.
    pub fn material(&self, name: &str) -> Material {
        match self.materials.iter().find(|(n, _)| n == name) {
            Some((_, m)) => *m,
            None if name.contains("steel") => Material::Steel,
            None => Material::BirchPlywood,
        }
    }
    /// Tolerance of a sheet as bought: (mean shift, half-width), mm.
    pub fn stock(&self, thickness: f64) -> (f64, f64) {
        let (plus, minus) = match self.stock_tolerance {
            StockTolerance::En315 => crate::plywood::tolerance_en315(thickness),
            StockTolerance::Ps1 => crate::plywood::tolerance_ps1(thickness),
            StockTolerance::Even(t) => (t, t),
        };
        ((plus - minus) / 2.0, (plus + minus) / 2.0)
    }
    /// Every assumption that is a number, with its source, in a fixed order.
    pub fn list(&self) -> Vec<Assumed> {
        let rows = [
            (
                "friction.slide",
                "Friction, waxed slide in its guide",
                self.slide_friction,
                "ratio",
                "below the 0.3 to 0.5 that the Wood Handbook gives for smooth dry wood (from memory), for wax; published values spread by a factor of five",
            ),
            (
                "friction.glide",
                "Friction, turning plate on a glide ring of PE-UHMW",
                self.glide_friction,
                "ratio",
                "inside the 0.10 to 0.22 that makers give for PE-UHMW dry on steel (from memory); smooth finished wood is taken alike",
            ),
            (
                "friction.pin",
                "Friction, steel on dry wood at pins and noses",
                self.pin_friction,
                "ratio",
                "inside the range 0.2 to 0.6 for wood on metal (SEAINT archive 2002)",
            ),
            (
                "rolling.arm",
                "Rolling resistance, lever arm",
                self.rolling_arm,
                "mm",
                "0.05 in for wood and steel (table of rolling lever arms, nordengineeringdatabase.com)",
            ),
            (
                "friction.axle",
                "Friction, wheel on its axle",
                self.axle_friction,
                "ratio",
                "0.08 to 0.10 for plain bearings (nordengineeringdatabase.com)",
            ),
            ("roller.axle", "Wheel axle, diameter", self.axle, "mm", PRACTICE),
            (
                "friction.bushing",
                "Friction, linear ball bushing",
                self.bushing_friction,
                "ratio",
                "0.005 for rolling bearings (nordengineeringdatabase.com)",
            ),
            (
                "hand.push",
                "Push at the closed rim that one person is asked for",
                self.hand_push,
                "N",
                PRACTICE,
            ),
            ("droop.share", "Droop accepted, share of the open radius", self.droop_share, "ratio", PRACTICE),
            (
                "edge.inset",
                "Edge load, distance inside the edge",
                self.edge_inset,
                "mm",
                "the edge itself, the worst place; EN 16122 stands its pad 50 mm inside for storage units",
            ),
            ("factor.wood", "Strength of wood is divided by", self.wood_factor, "ratio", PRACTICE),
            ("factor.steel", "Yield strength of steel is divided by", self.steel_factor, "ratio", PRACTICE),
            ("roller.mass", "One drop roller", self.roller_mass, "kg", "demo value; weigh your own"),
            (
                "bushing.mass",
                "One linear bushing LM12",
                self.bushing_mass,
                "kg",
                "makers' catalogues, from memory",
            ),
            ("roller.swing", "Wheel and arm that swing", self.swing_mass, "kg", "demo value; weigh your own"),
            ("turn.speed", "Turning speed of the top", self.turn_speed, "rad/s", PRACTICE),
            ("roller.press", "Press of a dropped wheel by its spring", self.wheel_press, "N", PRACTICE),
            ("roller.coil", "Mean coil diameter of a roller's spring", self.coil, "mm", PRACTICE),
            ("season.temperature", "Temperature indoors", self.temperature, "°C", PRACTICE),
            ("season.made", "Relative humidity of the workshop", self.humidity_made, "%", PRACTICE),
            ("season.low", "Relative humidity, driest season", self.humidity_low, "%", PRACTICE),
            ("season.high", "Relative humidity, dampest season", self.humidity_high, "%", PRACTICE),
            (
                "tolerance.batch",
                "Thickness within one batch, plus or minus",
                self.batch_tolerance,
                "mm",
                PRACTICE,
            ),
            ("tolerance.saw", "Length sawn to fit, plus or minus", self.saw_tolerance, "mm", PRACTICE),
            (
                "tolerance.groove",
                "Height of a tongue or groove, plus or minus",
                self.groove_tolerance,
                "mm",
                PRACTICE,
            ),
            ("step.felt", "Step between surfaces that a hand feels", self.felt_step, "mm", PRACTICE),
            (
                "trials",
                "Tops drawn for the trial",
                self.trials as f64,
                "count",
                "chosen so that the 95 % value repeats within a few hundredths of a millimetre",
            ),
        ];
        rows.into_iter()
            .map(|(id, label, value, unit, source)| Assumed { id, label, value, unit, source })
            .collect()
    }
}
