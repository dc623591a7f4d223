//! Every test, in stages.
//!
//! In: names of stages, or none for all. Out: each runner's own summary, then one line a stage.
//! Always true: a stage that fails does not keep later ones from running; the command fails at the end.

use crate::run::{built, command, find, root, show};
use crate::{python, site, tools};
use std::process::Command;
use std::sync::Mutex;
use std::thread::JoinHandle;
use std::time::Instant;

type Stage = (&'static str, &'static str, fn() -> Result<(), String>);

/// Cheap and likely to fail first.
const STAGES: &[Stage] = &[
    ("format", "formatting", format),
    ("lint", "lints and documentation, warnings denied", lint),
    ("native", "tests of every crate", native),
    ("python", "checks in Python that share no code with the program", python::run),
    ("wasm", "tests compiled to WebAssembly, in headless Chromium", wasm),
    ("browser", "the built site in headless Chromium", browser),
];

/// The site, while it is built beside the stages before those that need it: linking it keeps one core busy for minutes,
/// and tests often leave one idle.
static SITE: Mutex<Option<JoinHandle<Result<(), String>>>> = Mutex::new(None);

/// Runs the named stages, or all.
pub fn run(names: &[String]) -> Result<(), String> {
    for name in names {
        if !STAGES.iter().any(|(known, _, _)| known == name) {
            let known: Vec<&str> = STAGES.iter().map(|(known, _, _)| *known).collect();
            return Err(format!("There is no test stage `{name}`; there are {}.", known.join(", ")));
        }
    }
    tools::for_site()?;
    tools::for_tests()?;
    let mut report = Vec::new();
    let mut failed = 0;
    let wanted = |stage: &str| names.is_empty() || names.iter().any(|wanted| wanted == stage);
    for (name, about, stage) in STAGES {
        if !wanted(name) {
            continue;
        }
        println!("\n== {name}: {about}\n");
        if matches!(*name, "native" | "python") && wanted("browser") {
            let mut site = SITE.lock().map_err(|_| "A stage broke down.")?;
            if site.is_none() {
                *site = Some(std::thread::spawn(|| site::build(true)));
            }
        }
        let started = Instant::now();
        let outcome = stage();
        let seconds = started.elapsed().as_secs();
        match outcome {
            Ok(()) => report.push(format!("{name:<8} held    {seconds:>5} s")),
            Err(sentence) => {
                failed += 1;
                println!("{sentence}");
                report.push(format!("{name:<8} FAILED  {seconds:>5} s  {sentence}"));
            }
        }
    }
    println!("\n== stages\n\n{}\n", report.join("\n"));
    if failed == 0 { Ok(()) } else { Err(format!("{failed} of {} stages failed.", report.len())) }
}

fn format() -> Result<(), String> {
    show(command("cargo", &["fmt", "--all", "--check"]), "cargo fmt")
}

fn lint() -> Result<(), String> {
    let words = ["clippy", "--workspace", "--all-targets", "--locked", "--", "-D", "warnings"];
    show(command("cargo", &words), "cargo clippy")?;
    // Links that lead nowhere and the like; the examples in the documentation run among the tests.
    let mut documents = command("cargo", &["doc", "--workspace", "--no-deps", "--locked"]);
    documents.env("RUSTDOCFLAGS", "-D warnings");
    show(documents, "cargo doc")
}

fn native() -> Result<(), String> {
    show(command("cargo", &["test", "--workspace", "--locked", "--no-fail-fast"]), "cargo test")
}

fn wasm() -> Result<(), String> {
    // In the profile of the site, whose build leaves everything below the tests built.
    let words = [
        "test",
        "--locked",
        "--package",
        "turnleaf-web",
        "--test",
        "in_browser",
        "--target",
        tools::WASM,
        "--profile",
        "wasm-release",
    ];
    let mut test = command("cargo", &words);
    if let Some(driver) = find("chromedriver") {
        test.env("CHROMEDRIVER", driver);
    }
    in_web_folder(&mut test);
    site::small(&mut test);
    show(test, "cargo test for WebAssembly")
}

fn browser() -> Result<(), String> {
    let building = SITE.lock().map_err(|_| "A stage broke down.")?.take();
    match building {
        Some(building) => building.join().map_err(|_| "Building the site broke down.")??,
        None => site::build(true)?,
    }
    // The same bytes are wanted of both, so the terminal program is needed too. Chosen out of the workspace, it
    // shares what the tests were built with; as a package of its own it would want its own set of everything.
    let words = ["build", "--quiet", "--locked", "--workspace", "--bin", "turnleaf"];
    show(command("cargo", &words), "Building the terminal program")?;
    // Two files at once: each has a server and a browser of its own and waits for them much of the time.
    // A file that waits for ever is ended after a quarter of an hour, several times as long as the longest takes.
    let words = ["--test", "--test-concurrency=2", "--test-timeout=900000", "tests/browser/"];
    let mut node = command("node", &words);
    if let Some(chromium) = find("chromium") {
        node.env("CHROMIUM", chromium);
    }
    node.env("TURNLEAF", built("debug").join("turnleaf"));
    show(node, "The browser tests")
}

/// WebAssembly builds share the site's target folder.
fn in_web_folder(build: &mut Command) {
    if std::env::var_os("CARGO_TARGET_DIR").is_none() {
        build.env("CARGO_TARGET_DIR", root().join("target").join("web"));
    }
}
