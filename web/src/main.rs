//! The app.
fn main() {}
