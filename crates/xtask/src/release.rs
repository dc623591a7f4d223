//! One command for everything that is given away.
//!
//! In: the workspace, `CHANGELOG.md`. Out: the site in `dist/`, the terminal program in `target/release`, and what
//! both are: version, size, fingerprint.
//! Always true: nothing is built of a version that the changelog does not know; the program is asked for its version
//! after it is built, and a wrong answer fails the command.

use crate::run::{built, command, read, root, show};
use crate::{measure, site, tidy, tools};

/// The `release` command.
pub fn command_line(words: &[String]) -> Result<(), String> {
    if !words.is_empty() {
        return Err("release takes no words.".into());
    }
    let version = env!("CARGO_PKG_VERSION");
    let changes =
        std::fs::read_to_string(root().join("CHANGELOG.md")).map_err(|e| format!("CHANGELOG.md: {e}."))?;
    let heading = heading_of(&changes, version)
        .ok_or_else(|| format!("CHANGELOG.md has no section “## {version}”; say first what is new."))?;
    tidy::command()?;
    tools::for_site()?;
    site::build(true)?;
    // By itself, so that nothing the tests ask of its libraries gets into it.
    let build = ["build", "--release", "--locked", "--package", "turnleaf-cli", "--bin", "turnleaf"];
    show(command("cargo", &build), "Building the terminal program")?;
    let program = built("release").join("turnleaf");
    let said = read(command(&program.to_string_lossy(), &["--version"]), "turnleaf --version")?;
    if said.trim() != format!("turnleaf {version}") {
        return Err(format!("The terminal program says “{}”, not version {version}.", said.trim()));
    }
    measure::print_sizes()?;
    let length = std::fs::metadata(&program).map_err(|e| format!("{}: {e}.", program.display()))?.len();
    let commit = read(command("git", &["rev-parse", "--short", "HEAD"]), "git rev-parse").unwrap_or_default();
    let changed = read(command("git", &["status", "--porcelain"]), "git status").unwrap_or_default();
    println!("\nTurnleaf {version} ({heading}), commit {}", commit.trim());
    println!("site       dist/");
    println!("program    target/release/turnleaf, {:.1} MB", length as f64 / 1e6);
    if !changed.trim().is_empty() {
        println!("Files differ from that commit; commit them before you give this away.");
    }
    Ok(())
}

/// The heading of a version's section, without its marks.
fn heading_of<'a>(changes: &'a str, version: &str) -> Option<&'a str> {
    changes
        .lines()
        .filter_map(|line| line.strip_prefix("## "))
        .find(|heading| heading.split_whitespace().next() == Some(version))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_changelog_knows_this_version() {
        let changes = include_str!("../../../CHANGELOG.md");
        assert!(heading_of(changes, env!("CARGO_PKG_VERSION")).is_some());
    }

    #[test]
    fn a_longer_number_is_another_version() {
        assert_eq!(heading_of("## 0.1.01\n## 0.1.0 (soon)\n", "0.1.0"), Some("0.1.0 (soon)"));
        assert_eq!(heading_of("## 0.1.01\ntext 0.1.0\n", "0.1.0"), None);
    }
}
