//! From sizes to a solved mechanism.
pub mod arms;
pub mod bow;
pub mod crank;
pub mod layout;
pub mod sizes;
