//! Stiffness, strength and weight of what parts are made of.
//!
//! In: a material and a thickness, mm. Out: MPa and kg/m³.
//! Always true: strengths are ultimate (wood) or yield (steel); dividing by a factor is the caller's part.

use crate::plywood::{self, Sheet};
use crate::wood::Species;

/// A material.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Material {
    /// Birch plywood throughout.
    BirchPlywood,
    /// Solid wood, grain along the part.
    Solid(Species),
    /// Plain structural steel.
    Steel,
    /// Steel of property class 8.8.
    HighSteel,
    /// Anything else, as the maker measured it.
    Given {
        /// Plain name.
        name: &'static str,
        /// Density, kg/m³.
        density: f64,
        /// Modulus of elasticity, MPa.
        modulus: f64,
        /// Strength, MPa.
        strength: f64,
    },
}

/// Yield strength of steel of property class 8.8, MPa: eight tenths of its 800 (ISO 898-1, up to M16).
const HIGH_STEEL: f64 = 640.0;
/// Steel: density kg/m³, modulus and yield strength MPa (S235, from memory).
const STEEL: (f64, f64, f64) = (7850.0, 210_000.0, 235.0);

impl Material {
    /// Plain name.
    pub fn name(&self) -> &'static str {
        match self {
            Material::BirchPlywood => "birch plywood",
            Material::Solid(s) => s.name,
            Material::Steel => "steel",
            Material::HighSteel => "steel of class 8.8",
            Material::Given { name, .. } => name,
        }
    }
    /// Density, kg/m³.
    pub fn density(&self) -> f64 {
        match self {
            Material::BirchPlywood => plywood::DENSITY,
            Material::Solid(s) => s.density(),
            Material::Steel | Material::HighSteel => STEEL.0,
            Material::Given { density, .. } => *density,
        }
    }
    /// Modulus of a strip along the face grain that bends out of the sheet, MPa.
    pub fn flat_modulus(&self, thickness: f64) -> f64 {
        match self {
            Material::BirchPlywood => plywood::sheet_of(thickness).bend_along,
            Material::Solid(s) => s.modulus,
            Material::Steel | Material::HighSteel => STEEL.1,
            Material::Given { modulus, .. } => *modulus,
        }
    }
    /// Its bending strength, MPa.
    pub fn flat_strength(&self, thickness: f64) -> f64 {
        match self {
            Material::BirchPlywood => Sheet::strength(plywood::sheet_of(thickness).bend_along),
            _ => self.strength(),
        }
    }
    /// Modulus of a part that bends in the plane of the sheet, whatever its grain: the smaller of both
    /// directions, MPa.
    pub fn edge_modulus(&self, thickness: f64) -> f64 {
        match self {
            Material::BirchPlywood => plywood::sheet_of(thickness).pull_across,
            _ => self.flat_modulus(thickness),
        }
    }
    /// Its strength, MPa.
    pub fn edge_strength(&self, thickness: f64) -> f64 {
        match self {
            Material::BirchPlywood => Sheet::strength(plywood::sheet_of(thickness).pull_across),
            _ => self.strength(),
        }
    }
    /// Bending strength out of the sheet in its weaker direction, MPa.
    pub fn cross_strength(&self, thickness: f64) -> f64 {
        match self {
            Material::BirchPlywood => Sheet::strength(plywood::sheet_of(thickness).bend_across),
            _ => self.strength(),
        }
    }
    fn strength(&self) -> f64 {
        match self {
            Material::BirchPlywood => plywood::PLY_STRENGTH,
            Material::Solid(s) => s.rupture,
            Material::Steel => STEEL.2,
            Material::HighSteel => HIGH_STEEL,
            Material::Given { strength, .. } => *strength,
        }
    }
    /// What a strength is divided by.
    pub fn factor(&self, wood: f64, steel: f64) -> f64 {
        if matches!(self, Material::Steel | Material::HighSteel) { steel } else { wood }
    }
    /// Where its numbers come from.
    pub fn source(&self) -> &'static str {
        match self {
            Material::BirchPlywood => {
                "Handbook of Finnish Plywood, tables 3-1 and 3-2 (18 mm row read in excerpts, others by lamina theory)"
            }
            Material::Solid(s) => s.source,
            Material::Steel => "steel S235, from memory",
            Material::HighSteel => "steel of property class 8.8, ISO 898-1",
            Material::Given { .. } => "as given by the maker",
        }
    }
}
