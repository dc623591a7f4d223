//! How much a visitor downloads.
//!
//! In: the built site in `dist/`. Out: a table of sizes, raw and as a good host sends them.
//! Always true: sizes are of whole files, Brotli at its highest quality (node's zlib).

use crate::run::{command, root, show};

/// Prints the size of every file in `dist/`.
pub fn print_sizes() -> Result<(), String> {
    if !root().join("dist").join("index.html").is_file() {
        return Err("There is no built site yet; run `cargo xtask site` first.".into());
    }
    show(command("node", &["crates/xtask/sizes.mjs", "dist"]), "Measuring the site")
}
