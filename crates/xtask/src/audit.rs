//! Licences, sources and known faults of what we depend on.
//!
//! In: `deny.toml`, the lock file. Out: cargo-deny's own words, then what was checked and what could not be.
//! Always true: licences, bans and sources are checked without a network; known faults need the advisory database,
//! and when it is neither here nor to be had, that is said and not passed over in silence.

use crate::run::{command, find, show};
use crate::tools;
use std::process::Stdio;

/// The `audit` command. `--offline` does not try to fetch the advisory database.
pub fn command_line(words: &[String]) -> Result<(), String> {
    let offline = match words {
        [] => false,
        [one] if one == "--offline" => true,
        _ => return Err("audit takes no words but --offline.".into()),
    };
    if let Err(sentence) = tools::for_audit() {
        return Err(format!(
            "{sentence} Without cargo-deny nothing was audited; install it (`cargo install cargo-deny`) and try again."
        ));
    }
    let checks = ["deny", "--offline", "--log-level", "error", "check", "licenses", "bans", "sources"];
    show(command("cargo", &checks), "cargo deny check licenses bans sources")?;
    if !offline && reachable() {
        show(command("cargo", &["deny", "check", "advisories"]), "cargo deny check advisories")?;
        println!("Licences, bans, sources and advisories hold.");
        return Ok(());
    }
    println!(
        "Licences, bans and sources hold. ADVISORIES WERE NOT CHECKED: the advisory database (RustSec, github.com) \
         is not reachable from here. Run `cargo xtask audit` where it is."
    );
    Ok(())
}

/// Whether the advisory database's host answers.
fn reachable() -> bool {
    if find("git").is_none() {
        return false;
    }
    let words = ["ls-remote", "--exit-code", "https://github.com/RustSec/advisory-db", "HEAD"];
    let mut ask = command("git", &words);
    ask.env("GIT_TERMINAL_PROMPT", "0").stdout(Stdio::null()).stderr(Stdio::null());
    ask.status().is_ok_and(|status| status.success())
}
