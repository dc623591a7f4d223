//! Helical springs.
//!
//! In: wire and coil diameters in mm, turns, modulus in MPa. Out: rates in N·mm, stresses in MPa.
//! Always true: D is the mean coil diameter, C = D/d the spring index; lengths may be in any unit as long as
//! the modulus uses the same one.
//!
//! Sources: torsion-spring formulas of spring makers' tables; 10.8 in place of the theoretical 64/(2π) = 10.19
//! allows for friction between coils.

use core::f64::consts::PI;

/// The shop constant of torsion springs.
pub const SHOP: f64 = 10.8;

/// Torque for one whole turn of a torsion spring, shop formula: E·d⁴/(10.8·D·N).
pub fn torsion_rate_turn(modulus: f64, wire: f64, mean: f64, coils: f64) -> f64 {
    modulus * wire.powi(4) / (SHOP * mean * coils)
}

/// Torque for one radian of a torsion spring, theory: E·d⁴/(64·D·N).
pub fn torsion_rate_radian(modulus: f64, wire: f64, mean: f64, coils: f64) -> f64 {
    modulus * wire.powi(4) / (64.0 * mean * coils)
}

/// Coils that give a torsion spring a rate for one radian, shop formula.
pub fn torsion_coils(modulus: f64, wire: f64, mean: f64, rate_radian: f64) -> f64 {
    modulus * wire.powi(4) / (SHOP * mean * 2.0 * PI * rate_radian)
}

/// Rate of a compression spring: G·d⁴/(8·N·D³), force for a unit of length.
pub fn compression_rate(shear_modulus: f64, wire: f64, mean: f64, coils: f64) -> f64 {
    shear_modulus * wire.powi(4) / (8.0 * coils * mean.powi(3))
}

/// Factor by which bending stress is larger on the inside of a coil: (4C² − C − 1)/(4C(C − 1)).
pub fn inner_factor(index: f64) -> f64 {
    (4.0 * index * index - index - 1.0) / (4.0 * index * (index - 1.0))
}

/// Largest stress of a torsion spring: K·32·M/(π·d³).
pub fn torsion_stress(torque: f64, wire: f64, mean: f64) -> f64 {
    inner_factor(mean / wire) * 32.0 * torque / (PI * wire.powi(3))
}
