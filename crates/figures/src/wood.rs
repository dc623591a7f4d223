//! Solid wood: moisture, movement, strength.
//!
//! In: relative humidity, temperature, species. Out: moisture content in %, movement in mm, stiffness and
//! strength in MPa.
//! Always true: moisture content is in percent of oven-dry mass, relative humidity in percent, temperature
//! in °C; nothing here knows a table.
//!
//! Sources: Forest Products Laboratory, *Wood Handbook*, FPL-GTR-190 (2010): equation 4-5 and table 4-2
//! (equilibrium moisture content), table 4-3 (shrinkage), equations 13-2 and 13-3 and table 13-5 (change of
//! dimension), table 5-3 (strength). Some rows were read in copies of those tables, some are from memory;
//! each species says which.

/// A species and its published values.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Species {
    /// Stable identifier.
    pub id: &'static str,
    /// Plain name.
    pub name: &'static str,
    /// Radial shrinkage, green to oven-dry, %. None where the table has no one row for it.
    pub shrink_radial: Option<f64>,
    /// Tangential shrinkage, green to oven-dry, %.
    pub shrink_tangential: Option<f64>,
    /// Change of dimension for 1 % of moisture, radial (quarter-sawn).
    pub change_radial: f64,
    /// Change of dimension for 1 % of moisture, tangential (flat-sawn).
    pub change_tangential: f64,
    /// Specific gravity: oven-dry mass, volume at 12 % moisture.
    pub gravity: f64,
    /// Modulus of elasticity in bending at 12 % moisture, MPa.
    pub modulus: f64,
    /// Modulus of rupture at 12 % moisture, mean of clear specimens, MPa.
    pub rupture: f64,
    /// Where the row comes from.
    pub source: &'static str,
}

/// Pounds-force per square inch in a megapascal (exact to f64: 4.4482216152605 N over 25.4² mm²).
const PSI: f64 = 4.448_221_615_260_5 / (25.4 * 25.4);

const READ: &str = "Wood Handbook FPL-GTR-190, tables 4-3, 5-3 and 13-5, read in copies";
const PARTLY: &str = "Wood Handbook FPL-GTR-190, tables 4-3, 5-3 and 13-5, partly from memory";

/// A row: identifier, name, R, T, C_R, C_T, gravity, E in million psi, rupture in psi, source.
type Row = (&'static str, &'static str, Option<f64>, Option<f64>, f64, f64, f64, f64, f64, &'static str);

const ROWS: [Row; 9] = [
    ("birch-yellow", "Birch, yellow", Some(7.3), Some(9.5), 0.00256, 0.00338, 0.62, 2.01, 16600.0, READ),
    ("birch-paper", "Birch, paper", Some(6.3), Some(8.6), 0.00219, 0.00304, 0.55, 1.59, 12300.0, READ),
    ("birch-sweet", "Birch, sweet", Some(6.5), Some(9.0), 0.00256, 0.00338, 0.65, 2.17, 16900.0, READ),
    ("oak-white", "Oak, white", Some(5.6), Some(10.5), 0.00180, 0.00365, 0.68, 1.78, 15200.0, PARTLY),
    ("oak-red", "Oak, red", None, None, 0.00158, 0.00369, 0.63, 1.82, 14300.0, PARTLY),
    ("maple-sugar", "Maple, sugar", Some(4.8), Some(9.9), 0.00165, 0.00353, 0.63, 1.83, 15800.0, READ),
    ("walnut-black", "Walnut, black", Some(5.5), Some(7.8), 0.00190, 0.00274, 0.55, 1.68, 14600.0, READ),
    ("cherry-black", "Cherry, black", Some(3.7), Some(7.1), 0.00126, 0.00248, 0.50, 1.49, 12300.0, PARTLY),
    ("beech-american", "Beech, American", Some(5.5), Some(11.9), 0.00190, 0.00431, 0.64, 1.72, 14900.0, READ),
];

/// Every species known here, in table order.
pub fn all() -> Vec<Species> {
    ROWS.iter().map(species_of).collect()
}

fn species_of(r: &Row) -> Species {
    Species {
        id: r.0,
        name: r.1,
        shrink_radial: r.2,
        shrink_tangential: r.3,
        change_radial: r.4,
        change_tangential: r.5,
        gravity: r.6,
        modulus: r.7 * 1e6 * PSI,
        rupture: r.8 * PSI,
        source: r.9,
    }
}

/// The species with an identifier.
pub fn species(id: &str) -> Option<Species> {
    ROWS.iter().find(|r| r.0 == id).map(species_of)
}

impl Species {
    /// Density at 12 % moisture, kg/m³: gravity · 1000 · 1.12.
    pub fn density(&self) -> f64 {
        self.gravity * 1000.0 * 1.12
    }
}

/// Equilibrium moisture content, %: the Hailwood-Horrobin form of the Wood Handbook, equation 4-5.
///
///   M = 1800/W · ( K·h/(1 − K·h) + (K1·K·h + 2·K1·K2·K²·h²)/(1 + K1·K·h + K1·K2·K²·h²) )
///
/// h relative humidity as a fraction; W, K, K1, K2 parabolas of the temperature T in °C.
pub fn equilibrium_moisture(temperature: f64, humidity: f64) -> f64 {
    let t = temperature;
    let w = 349.0 + 1.29 * t + 0.0135 * t * t;
    let k = 0.805 + 0.000736 * t - 0.00000273 * t * t;
    let k1 = 6.27 - 0.00938 * t - 0.000303 * t * t;
    let k2 = 1.91 + 0.0407 * t - 0.000293 * t * t;
    let kh = k * humidity / 100.0;
    let (one, two) = (k1 * kh, k1 * k2 * kh * kh);
    1800.0 / w * (kh / (1.0 - kh) + (one + 2.0 * two) / (1.0 + one + two))
}

/// Change of a dimension, mm: ΔD = D·C·(M_F − M_I). Wood Handbook equation 13-2, for 6 % to 14 %.
pub fn movement(dimension: f64, change: f64, from: f64, to: f64) -> f64 {
    dimension * change * (to - from)
}

/// Change of a dimension outside 6 % to 14 %, mm: ΔD = D·(M_F − M_I)/(3000/S − 30 + M_I), S shrinkage in %.
/// Wood Handbook equation 13-3 (limits read, expression from memory).
pub fn movement_wide(dimension: f64, shrinkage: f64, from: f64, to: f64) -> f64 {
    dimension * (to - from) / (3000.0 / shrinkage - 30.0 + from)
}

/// Change coefficient that belongs to a shrinkage S in %: C = 1/(3000/S − 20), equation 13-3 at 10 %.
pub fn change_from_shrinkage(shrinkage: f64) -> f64 {
    1.0 / (3000.0 / shrinkage - 20.0)
}
