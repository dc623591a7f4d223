//! What whole-program tests share; the tests themselves are in `tests/`.

pub mod fuzz;
