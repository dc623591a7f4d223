//! Facade: from a plan file to everything built from it.
//!
//! In: a [`Plan`]. Out: a [`Built`] table, or the sizes at odds with remedies that were tried.
//! Always true: the stages run in this order, one line each — sizes, mechanism, parts, proof, checks — and
//! the same plan gives the same result, natively and in the browser.

mod gather;
mod trouble;
mod words;

pub use gather::sizes;
pub use turnleaf_diag::Diagnostic;
pub use turnleaf_mechanism::{DriveKind, Mechanism, Number, Unit};
pub use turnleaf_motion::expect::Expect;
pub use turnleaf_motion::proof::FAR;
pub use turnleaf_motion::{Check, PairResult, Posed, Proof, pose};
pub use turnleaf_parts::Assembly;
pub use turnleaf_planfile as planfile;
pub use turnleaf_planfile::Plan;
pub use words::{number_text, plan_text};

use turnleaf_geom::trig;

/// A table built from a plan.
#[derive(Clone, Debug, PartialEq)]
pub struct Built {
    /// The plan it was built from.
    pub plan: Plan,
    /// Parts and pieces, with the mechanism they belong to.
    pub assembly: Assembly,
    /// Solved numbers in book order.
    pub numbers: Vec<Number>,
    /// Clearances over the whole turn.
    pub proof: Proof,
    /// Everything that can go wrong, with margins.
    pub checks: Vec<Check>,
}

/// Builds a table: everything but the book.
pub fn build(plan: &Plan) -> Result<Built, Vec<Diagnostic>> {
    let sizes = gather::sizes(plan);
    let mechanism = turnleaf_mechanism::solve(&sizes).map_err(|t| trouble::explain(&sizes, &t))?;
    let assembly = turnleaf_parts::assemble(&mechanism);
    let proof = turnleaf_motion::prove(&assembly);
    let checks = turnleaf_motion::checks(&assembly, &proof);
    let numbers = turnleaf_mechanism::numbers(&mechanism);
    Ok(Built { plan: plan.clone(), assembly, numbers, proof, checks })
}

/// Parts and pieces alone, without proof or checks: quick enough to follow a size while it is dragged.
pub fn outline(plan: &Plan) -> Result<Assembly, Vec<Diagnostic>> {
    let sizes = gather::sizes(plan);
    let mechanism = turnleaf_mechanism::solve(&sizes).map_err(|t| trouble::explain(&sizes, &t))?;
    Ok(turnleaf_parts::assemble(&mechanism))
}

impl Built {
    /// The mechanism.
    pub fn mechanism(&self) -> &Mechanism {
        &self.assembly.mechanism
    }
    /// Whole turn, degrees.
    pub fn turn_degrees(&self) -> f64 {
        trig::deg(self.mechanism().turn())
    }
    /// Every piece at a turn in degrees (clamped to the table's range).
    pub fn pose(&self, turn_degrees: f64) -> Vec<Posed> {
        turnleaf_motion::pose(&self.assembly, trig::rad(turn_degrees))
    }
    /// Whether every check holds.
    pub fn sound(&self) -> bool {
        self.checks.iter().all(|c| c.holds)
    }
    /// A solved number by identifier.
    pub fn number(&self, id: &str) -> Option<&Number> {
        self.numbers.iter().find(|n| n.id == id)
    }
}
