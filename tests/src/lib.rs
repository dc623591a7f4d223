//! Home of the whole-program tests and outside checks; the code is in `tests/`.
