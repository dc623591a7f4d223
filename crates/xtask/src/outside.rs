//! The page of outside checks.
//!
//! In: the rows of `tests/tests/outside`. Out: `OUTSIDE-CHECKS.md`.
//! Always true: the page is written by the test that holds it, and every row is asserted right after.

use crate::run::{command, show};

/// The `outside` command.
pub fn command_line(words: &[String]) -> Result<(), String> {
    if !words.is_empty() {
        return Err("outside takes no words.".into());
    }
    let test = ["test", "--quiet", "--locked", "--workspace", "--test", "outside"];
    let mut write = command("cargo", &[&test[..], &["--", "the_committed_page"]].concat());
    write.env("TURNLEAF_OUTSIDE", "write");
    show(write, "Writing OUTSIDE-CHECKS.md")?;
    show(command("cargo", &test), "Asserting the rows")
}
