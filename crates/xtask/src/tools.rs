//! The tools that the site and its tests need.
//!
//! In: nothing. Out: the tools installed, or one sentence that says what could not be had.
//! Always true: versions are exact, since Trunk downloads a tool whose version it does not like,
//! and we never let it; a second run finds everything in place and installs nothing.

use crate::debian;
use crate::run::{command, find, read, root, show, tools_dir};

/// The bundler.
const TRUNK: &str = "0.21.14";
/// Must equal the `wasm-bindgen` version in the lock file to the last digit.
const WASM_BINDGEN: &str = "0.2.130";
/// The auditor of dependencies. What it prints is not compared, so any later one is as good.
const CARGO_DENY: &str = "0.20.2";
/// What we compile the app for.
pub const WASM: &str = "wasm32-unknown-unknown";

/// Everything needed to build the site.
pub fn for_site() -> Result<(), String> {
    wasm_target()?;
    cargo_tool("trunk", "trunk", TRUNK, &["--locked"])?;
    // Not `--locked`: the lock file this release carries names a crate version that was withdrawn.
    cargo_tool("wasm-bindgen", "wasm-bindgen-cli", WASM_BINDGEN, &[])?;
    node_packages()
}

/// Everything needed to run the tests, beside what the site needs.
pub fn for_tests() -> Result<(), String> {
    debian::need(&[
        ("chromium", "chromium"),
        ("chromedriver", "chromium-driver"),
        ("qpdf", "qpdf"),
        ("pdftotext", "poppler-utils"),
    ])
}

/// Everything needed to audit dependencies: cargo-deny from `.tools`, or wherever it is installed already.
pub fn for_audit() -> Result<(), String> {
    if find("cargo-deny").is_some() {
        return Ok(());
    }
    cargo_tool("cargo-deny", "cargo-deny", CARGO_DENY, &["--locked"])
}

fn wasm_target() -> Result<(), String> {
    let libraries = read(command("rustc", &["--print", "target-libdir", "--target", WASM]), "rustc")?;
    if std::path::Path::new(libraries.trim()).is_dir() {
        return Ok(());
    }
    println!("Adding the Rust target {WASM}.");
    show(command("rustup", &["target", "add", WASM]), "rustup target add")
}

fn cargo_tool(program: &str, package: &str, version: &str, options: &[&str]) -> Result<(), String> {
    let ours = tools_dir().join("bin").join(program);
    if ours.is_file() {
        let said = read(command(program, &["--version"]), program)?;
        if said.split_whitespace().any(|word| word == version) {
            return Ok(());
        }
    }
    println!("Installing {package} {version} into .tools (once; about two minutes).");
    let tools = tools_dir();
    let spec = format!("{package}@{version}");
    let root_flag = tools.to_string_lossy().into_owned();
    // A debug build of the tool takes a third of the time to make and costs seconds in use.
    let mut words =
        vec!["install", "--debug", "--force", "--root", &root_flag, &spec, "--no-default-features"];
    words.extend_from_slice(options);
    let mut install = command("cargo", &words);
    install
        .env("CARGO_TARGET_DIR", tools.join("build"))
        .env("CARGO_PROFILE_DEV_DEBUG", "0")
        .env("CARGO_INCREMENTAL", "0");
    show(install, &format!("Installing {package}"))
}

fn node_packages() -> Result<(), String> {
    if find("node").is_none() || find("npm").is_none() {
        return Err("Node.js and npm are needed (any version from 20 on); please install them.".into());
    }
    let wanted =
        std::fs::read(root().join("package-lock.json")).map_err(|e| format!("package-lock.json: {e}."))?;
    // The lock file npm itself read is copied next to what it installed; equal bytes mean nothing to do.
    let stamp = root().join("node_modules").join(".installed-from");
    if std::fs::read(&stamp).is_ok_and(|have| have == wanted) {
        return Ok(());
    }
    println!("Installing the node packages of package-lock.json.");
    show(command("npm", &["ci", "--no-audit", "--no-fund"]), "npm ci")?;
    std::fs::write(&stamp, wanted).map_err(|e| format!("node_modules could not be written to: {e}."))
}
