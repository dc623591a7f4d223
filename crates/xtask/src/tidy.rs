//! Holds the crate graph to its arrow and the committed files to their promises.
//!
//! In: `cargo metadata` and the list of files git knows. Out: a list of complaints, empty when tidy.
//! Always true: a crate that is not in the table is itself a complaint, so the table cannot rot.

use crate::guard;
use crate::run::{self, read, root};
use serde_json::Value;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// What each crate may depend on, in the order of the arrow: a crate only ever knows crates above it.
///
/// Only ordinary dependencies count; tests may look at more.
const ALLOWED: &[(&str, &str)] = &[
    ("units", ""),
    ("diag", ""),
    ("geom", ""),
    ("space", ""),
    ("page", "diag"),
    ("text", "diag geom page"),
    ("planfile", "units diag page"),
    ("register", "planfile"),
    ("mechanism", "units diag geom"),
    ("parts", "units diag geom mechanism"),
    ("motion", "diag geom mechanism parts"),
    ("figures", "units diag geom mechanism parts motion"),
    ("fit", "units diag geom mechanism parts motion"),
    ("mend", "units diag geom mechanism parts motion figures"),
    ("revise", "geom page parts"),
    ("nest", "units diag geom page parts"),
    ("views", "diag geom page parts"),
    ("dimension", "units diag geom page text parts views"),
    ("sheet", "units diag geom page text parts views dimension"),
    ("template", "units diag geom page text parts"),
    ("assembly", "units diag geom page text parts motion views dimension sheet"),
    ("steps", "units diag geom planfile mechanism parts motion assembly"),
    (
        "book",
        "units diag geom page text planfile mechanism parts nest motion figures revise views dimension sheet template assembly steps",
    ),
    ("pdf", "diag page text"),
    ("svg", "diag page text"),
    (
        "plan",
        "units diag geom page text planfile register mechanism parts nest motion figures fit mend revise views dimension sheet template assembly steps book pdf svg",
    ),
    // The programs know the facade, the vocabulary it speaks in, and the writers.
    ("cli", "units diag geom page pdf svg plan"),
    ("web", "units diag space page text pdf svg plan"),
    ("tests", ""),
    ("xtask", ""),
];

/// The `tidy` command.
pub fn command() -> Result<(), String> {
    let complaints = complaints()?;
    if complaints.is_empty() {
        println!("The crate graph and the committed files are tidy.");
        return Ok(());
    }
    Err(format!("The workspace is not tidy:\n  {}", complaints.join("\n  ")))
}

/// Everything that is not as it should be.
fn complaints() -> Result<Vec<String>, String> {
    let workspace = workspace()?;
    let mut found = check_graph(&graph(&workspace));
    found.extend(check_untested(&workspace));
    found.extend(guard::complaints()?);
    for name in read(run::command("git", &["ls-files", "-z"]), "git ls-files")?.split('\0') {
        if name.is_empty() {
            continue;
        }
        // A file that was removed but not yet committed has nothing to check.
        if let Ok(text) = std::fs::read_to_string(root().join(name)) {
            found.extend(check_file(name, &text));
        }
    }
    Ok(found)
}

/// What cargo knows of our crates.
fn workspace() -> Result<Value, String> {
    let words = ["metadata", "--no-deps", "--format-version", "1", "--offline"];
    let text = read(run::command("cargo", &words), "cargo metadata")?;
    serde_json::from_str(&text).map_err(|e| format!("cargo metadata: {e}."))
}

/// Our crates (short names) and what each depends on, tests left out.
fn graph(workspace: &Value) -> BTreeMap<String, Vec<String>> {
    let mut graph = BTreeMap::new();
    for package in workspace["packages"].as_array().into_iter().flatten() {
        let Some(name) = package["name"].as_str().and_then(short) else { continue };
        let needs = package["dependencies"].as_array().into_iter().flatten();
        let needs = needs
            .filter(|dependency| dependency["kind"] != "dev")
            .filter_map(|dependency| dependency["name"].as_str().and_then(short))
            .collect();
        graph.insert(name, needs);
    }
    graph
}

/// Complaints about tests that nobody runs. A crate without tests beside its code says `test = false`, which spares a
/// second build of it; should it be given one, that test would never be run.
fn check_untested(workspace: &Value) -> Vec<String> {
    let packages = workspace["packages"].as_array().into_iter().flatten();
    let targets = packages.flat_map(|package| package["targets"].as_array().into_iter().flatten());
    let untested = targets.filter(|target| target["test"] == false);
    let files = untested.filter_map(|target| {
        let file = Path::new(target["src_path"].as_str()?);
        match target["kind"][0].as_str()? {
            "lib" => Some(rust_files(file.parent()?)),
            "bin" => Some(vec![file.to_path_buf()]),
            _ => None,
        }
    });
    let marks = [concat!("#[te", "st]"), concat!("#[cfg(te", "st)]")];
    let has_tests = |file: &PathBuf| {
        std::fs::read_to_string(file).is_ok_and(|text| text.lines().any(|line| marks.contains(&line.trim())))
    };
    let forgotten = files.flatten().filter(has_tests);
    let named = |file: PathBuf| file.strip_prefix(root()).unwrap_or(&file).display().to_string();
    forgotten.map(|file| format!("{}: its tests are never run (`test = false`)", named(file))).collect()
}

/// Every Rust file in a folder and the folders in it.
fn rust_files(folder: &Path) -> Vec<PathBuf> {
    let entries = std::fs::read_dir(folder).into_iter().flatten().flatten();
    let files = entries.flat_map(|entry| match entry.path() {
        path if path.is_dir() => rust_files(&path),
        path => vec![path],
    });
    files.filter(|file| file.extension().is_some_and(|ending| ending == "rs")).collect()
}

fn short(name: &str) -> Option<String> {
    name.strip_prefix("turnleaf-").map(str::to_string)
}

/// Complaints about the crate graph.
fn check_graph(graph: &BTreeMap<String, Vec<String>>) -> Vec<String> {
    let mut found = Vec::new();
    for (name, needs) in graph {
        let Some((_, allowed)) = ALLOWED.iter().find(|(known, _)| known == name) else {
            found.push(format!("crate {name} is not in the table of crates/xtask/src/tidy.rs"));
            continue;
        };
        for need in needs {
            if !allowed.split(' ').any(|one| one == need) {
                found.push(format!("crate {name} must not depend on {need}"));
            }
        }
    }
    found
}

/// Complaints about one committed text file.
fn check_file(name: &str, text: &str) -> Vec<String> {
    let mut found = Vec::new();
    let mut complain = |line: usize, what: &str| found.push(format!("{name}:{}: {what}", line + 1));
    for (number, line) in text.lines().enumerate() {
        if HOME_FOLDERS.iter().any(|folder| has_path(line, folder)) {
            complain(number, "names a folder of one machine");
        }
        if REGISTRY_WORDS.iter().any(|word| line.contains(word)) && !line.contains(CRATES_INDEX) {
            complain(number, "names a package registry's host");
        }
    }
    if name.ends_with(".rs") && !text.starts_with("//!") {
        complain(0, "does not start with //!, what comes in, what goes out, what is always true");
    }
    found
}

/// Folders that exist on one person's machine only. Split, so that this file passes its own check.
const HOME_FOLDERS: [&str; 4] =
    [concat!("/ho", "me/"), concat!("/ro", "ot/"), concat!("/Us", "ers/"), concat!("/wo", "rk/")];

/// Words that only occur in the addresses that package clients fetch from.
const REGISTRY_WORDS: [&str; 5] = [
    concat!("registry", ".npmjs"),
    concat!("static", ".crates.io"),
    concat!("index", ".crates.io"),
    concat!("files.python", "hosted"),
    concat!("\"resolved\": ", "\"http"),
];

/// The one source name Cargo itself writes into every lock file; it is a name, not where anything is fetched.
const CRATES_INDEX: &str = "registry+https://github.com/rust-lang/crates.io-index";

/// Whether a line holds an absolute path under this folder (not a longer relative one such as `a/work/b`).
fn has_path(line: &str, folder: &str) -> bool {
    line.match_indices(folder).any(|(at, _)| {
        let before = line[..at].chars().next_back();
        !before.is_some_and(|c| c.is_alphanumeric() || "-_./{}~)".contains(c))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn the_workspace_is_tidy() {
        assert_eq!(complaints().expect("git and cargo run"), Vec::<String>::new());
    }

    #[test]
    fn an_arrow_the_wrong_way_is_found() {
        let graph = BTreeMap::from([("units".to_string(), vec!["book".to_string()])]);
        assert_eq!(check_graph(&graph), ["crate units must not depend on book"]);
    }

    #[test]
    fn a_crate_outside_the_table_is_found() {
        let graph = BTreeMap::from([("surprise".to_string(), vec![])]);
        assert_eq!(check_graph(&graph), ["crate surprise is not in the table of crates/xtask/src/tidy.rs"]);
    }

    #[test]
    fn tests_that_nobody_runs_are_found() {
        let target = |kind: &str, file: &str, test: bool| {
            let target = json!({ "kind": [kind], "src_path": root().join(file), "test": test });
            check_untested(&json!({ "packages": [{ "targets": [target] }] }))
        };
        let this = "crates/xtask/src/tidy.rs";
        let complaint = [format!("{this}: its tests are never run (`test = false`)")];
        assert_eq!(target("bin", this, false), complaint);
        assert!(target("lib", "crates/xtask/src/lib.rs", false).contains(&complaint[0]));
        assert!(target("bin", this, true).is_empty());
        assert!(target("bin", "crates/xtask/src/measure.rs", false).is_empty());
    }

    #[test]
    fn every_arrow_points_up_the_table() {
        for (index, (name, allowed)) in ALLOWED.iter().enumerate() {
            for need in allowed.split_whitespace() {
                assert!(
                    ALLOWED[..index].iter().any(|(earlier, _)| *earlier == need),
                    "{name} may depend on {need}, which does not come before it"
                );
            }
        }
    }

    #[test]
    fn machine_paths_and_hosts_are_found() {
        let path = format!("let x = \"{}somebody/x\";", HOME_FOLDERS[0]);
        assert_eq!(check_file("a.txt", &path), ["a.txt:1: names a folder of one machine"]);
        assert!(check_file("a.txt", "see tests/work/plan.json").is_empty());
        let host = format!("from https://{}.org/x", REGISTRY_WORDS[0]);
        assert_eq!(check_file("a.txt", &host), ["a.txt:1: names a package registry's host"]);
    }

    #[test]
    fn a_source_file_without_its_heading_is_found() {
        assert_eq!(check_file("a.rs", "fn main() {}\n").len(), 1);
        assert!(check_file("a.rs", "//! In: nothing.\n").is_empty());
    }
}
