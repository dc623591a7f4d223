//! Birch plywood: stiffness by lamina theory.
//!
//! In: thickness of the sheet, mm. Out: moduli and strength in MPa, density, tolerances of thickness.
//! Always true: "along" is along the face grain; moduli are means, strength is characteristic, of the gross
//! section.
//!
//! Lamina theory: plies along the direction of stress carry with E0, the others with nothing. Inner plies
//! 1.4 mm, sanded face plies 1.1 mm, E0 = 17 500 MPa. This reproduces the table of the *Handbook of Finnish
//! Plywood* (table 3-1, EN 789), of which the 18 mm row and density were read in excerpts and the others are
//! from memory.

/// Modulus of a ply along its grain, MPa.
pub const PLY_MODULUS: f64 = 17_500.0;
/// Characteristic strength of a ply, MPa: 40.2 N/mm² in bending at 18 mm, where E is 10 048, makes 0.4 % of E0.
pub const PLY_STRENGTH: f64 = 70.0;
/// Inner ply, mm.
const INNER: f64 = 1.4;
/// Face ply after sanding, mm.
const FACE: f64 = 1.1;
/// Mean density, kg/m³ (Handbook of Finnish Plywood, table 3-2, read in an excerpt).
pub const DENSITY: f64 = 680.0;

/// Nominal thickness, mm, and number of plies.
pub const SHEETS: [(f64, usize); 10] = [
    (4.0, 3),
    (6.5, 5),
    (9.0, 7),
    (12.0, 9),
    (15.0, 11),
    (18.0, 13),
    (21.0, 15),
    (24.0, 17),
    (27.0, 19),
    (30.0, 21),
];

/// Shares of the gross section that a sheet's plies make up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sheet {
    /// True thickness, mm.
    pub thickness: f64,
    /// Bending modulus along the face grain, MPa.
    pub bend_along: f64,
    /// Bending modulus across it, MPa.
    pub bend_across: f64,
    /// Modulus in tension along it, MPa.
    pub pull_along: f64,
    /// Modulus in tension across it, MPa.
    pub pull_across: f64,
}

/// A sheet of so many plies (odd), by lamina theory: E_m = E0·Σ I_ply/I_gross, E_t = E0·Σ t_ply/t.
pub fn sheet(plies: usize) -> Sheet {
    let t = 2.0 * FACE + (plies.max(3) - 2) as f64 * INNER;
    let (mut cubes, mut along) = ([0.0f64; 2], [0.0f64; 2]);
    let mut z = -t / 2.0;
    for i in 0..plies {
        let ply = if i == 0 || i + 1 == plies { FACE } else { INNER };
        // Faces lie along; plies alternate.
        cubes[i % 2] += (z + ply).powi(3) - z.powi(3);
        along[i % 2] += ply;
        z += ply;
    }
    let bend = |i: usize| PLY_MODULUS * (cubes[i] / 3.0) / (t * t * t / 12.0);
    let pull = |i: usize| PLY_MODULUS * along[i] / t;
    Sheet {
        thickness: t,
        bend_along: bend(0),
        bend_across: bend(1),
        pull_along: pull(0),
        pull_across: pull(1),
    }
}

/// A sheet of any thickness: between two rows in proportion, the end rows beyond them.
pub fn sheet_of(thickness: f64) -> Sheet {
    let rows: Vec<Sheet> = SHEETS.iter().map(|s| sheet(s.1)).collect();
    let last = rows.len() - 1;
    let at = rows.iter().position(|r| r.thickness >= thickness).unwrap_or(last).max(1);
    let (a, b) = (rows[at - 1], rows[at]);
    let u = ((thickness - a.thickness) / (b.thickness - a.thickness)).clamp(0.0, 1.0);
    let mix = |x: f64, y: f64| x + (y - x) * u;
    Sheet {
        thickness,
        bend_along: mix(a.bend_along, b.bend_along),
        bend_across: mix(a.bend_across, b.bend_across),
        pull_along: mix(a.pull_along, b.pull_along),
        pull_across: mix(a.pull_across, b.pull_across),
    }
}

impl Sheet {
    /// Characteristic strength that goes with a modulus of the gross section, MPa.
    pub fn strength(modulus: f64) -> f64 {
        modulus * PLY_STRENGTH / PLY_MODULUS
    }
}

/// Thickness tolerance of sanded plywood by EN 315, mm: (plus, minus) = (0.2 + 0.03·t, 0.4 + 0.03·t).
/// The formula is from memory; mill tables that were read agree with it after rounding.
pub fn tolerance_en315(thickness: f64) -> (f64, f64) {
    (0.2 + 0.03 * thickness, 0.4 + 0.03 * thickness)
}

/// Thickness tolerance of sanded plywood by PS 1-19, mm: ±1/64 in up to 3/4 in, ±3 % above.
pub fn tolerance_ps1(thickness: f64) -> (f64, f64) {
    let t = if thickness <= 0.75 * 25.4 + 1e-9 { 25.4 / 64.0 } else { 0.03 * thickness };
    (t, t)
}
