//! Strength, weight and safety figures of a solved table.
//!
//! In: a [`turnleaf_parts::Assembly`] and [`Assumptions`]. Out: [`Figure`]s, each with formula, inputs, source,
//! margin and advice, in a fixed order; and the curve of torque against turn.
//! Always true: figures are guidance for makers and not a certification; nothing here changes the table;
//! every published formula stands in a module of its own and is tested against published examples.
//!
//! ```
//! use turnleaf_figures::{Assumptions, figures};
//! use turnleaf_mechanism::{Sizes, solve};
//! let table = turnleaf_parts::assemble(&solve(&Sizes::example()).expect("the demo's sizes agree"));
//! let all = figures(&table, &Assumptions::default());
//! assert!(all.iter().all(|figure| !figure.source.is_empty()));
//! ```

pub mod arms;
pub mod assumptions;
pub mod base;
pub mod beams;
pub mod edge;
pub mod figure;
pub mod flush;
pub mod frame;
pub mod friction;
pub mod lift;
pub mod mass;
pub mod material;
pub mod plane_frame;
pub mod plywood;
pub mod room;
pub mod season;
pub mod section;
pub mod slides;
pub mod springs;
pub mod stability;
pub mod tipping;
pub mod tolerance;
pub mod torque;
pub mod turning;
pub mod wood;

pub use assumptions::{Assumed, Assumptions, StockTolerance};
pub use figure::{Figure, Input, NOTICE};
pub use material::Material;
pub use torque::{TorqueAt, Way, torque_curve};

use turnleaf_parts::Assembly;

/// Every figure of a table, in a fixed order: turning, edge, arms, lift, base, frame, tipping, room, season, flushness,
/// mass. A figure whose parts a table does not have is left out.
pub fn figures(a: &Assembly, s: &Assumptions) -> Vec<Figure> {
    let solids = mass::solids(a, s);
    let drive = torque::Drive::with(a, s, &solids);
    let mut out = turning::torque(a, s, &drive);
    out.extend(edge::figures(a, s, &solids));
    out.extend(arms::figures(a, s, &drive));
    out.extend(lift::figures(a, s, &drive));
    out.extend(base::figures(a, s, &drive));
    out.extend(frame::figures(a, s, &drive));
    out.extend(stability::figures(a, s, &solids, &drive));
    out.extend(room::figures(a));
    out.extend(season::figures(a, s));
    out.extend(flush::figures(a, s));
    out.extend(turning::mass(a, &solids));
    out
}
