//! Checks in Python: outside libraries that share no code with the program.
//!
//! In: the scripts of `tests/python` and the cases our examples write for them. Out: each script's own report.
//! Always true: every file of pinned requirements is installed into one environment under `.tools`; a script that
//! is in the folder but not in the table is a failure, so that none is forgotten.

use crate::run::{built, command, gathered, read, root, show, tools_dir};
use std::path::PathBuf;
use std::process::Command;
use std::sync::Mutex;

/// A script, and how it is run.
struct Check {
    script: &'static str,
    feed: Feed,
}

/// What of ours the script is given to judge.
enum Feed {
    /// The example's standard output goes to a file that the script reads.
    Cases { example: &'static str },
    /// The script runs the example itself (`FOLDER --program PATH`), built for release since both are timed.
    Program { package: &'static str, example: &'static str },
    /// The script runs the terminal program itself on a folder of plans (`PROGRAM FOLDER`).
    Terminal { plans: &'static str },
}

const CHECKS: &[Check] = &[
    Check { script: "geometry_check.py", feed: Feed::Cases { example: "dump_cases" } },
    Check {
        script: "hidden_lines_check.py",
        feed: Feed::Program { package: "turnleaf-views", example: "scenes" },
    },
    Check { script: "figures_check.py", feed: Feed::Cases { example: "outside_cases" } },
    Check { script: "nesting_check.py", feed: Feed::Cases { example: "cutting" } },
    Check { script: "motion_check.py", feed: Feed::Terminal { plans: "demo" } },
    Check { script: "revise_check.py", feed: Feed::Terminal { plans: "demo" } },
    Check { script: "book_check.py", feed: Feed::Terminal { plans: "demo" } },
    Check { script: "cut_check.py", feed: Feed::Terminal { plans: "demo" } },
];

/// Runs them all.
pub fn run() -> Result<(), String> {
    let scripts = files("_check.py")?;
    if let Some(stray) = scripts.iter().find(|script| !CHECKS.iter().any(|check| check.script == **script)) {
        return Err(format!("tests/python/{stray} is in no stage; add it to crates/xtask/src/python.rs."));
    }
    let python = environment()?;
    let mut failed = Vec::new();
    let mut ready = Vec::new();
    for check in CHECKS {
        match prepared(&python, check) {
            Ok(command) => ready.push((check.script, command)),
            Err(sentence) => {
                println!("-- {}\n{sentence}", check.script);
                failed.push(check.script);
            }
        }
    }
    // Each takes one core, the last in the table the longest.
    let waiting = Mutex::new(ready);
    let told = Mutex::new(&mut failed);
    std::thread::scope(|scope| {
        for _ in 0..std::thread::available_parallelism().map_or(1, |n| n.get()) {
            scope.spawn(|| {
                while let Some((script, command)) = waiting.lock().ok().and_then(|mut w| w.pop()) {
                    let (output, held) = gathered(command, script);
                    let Ok(mut failed) = told.lock() else { return };
                    println!("-- {script}\n{output}");
                    if let Err(sentence) = held {
                        println!("{sentence}");
                        failed.push(script);
                    }
                }
            });
        }
    });
    println!("\nPython checks: {} passed, {} failed", CHECKS.len() - failed.len(), failed.len());
    if failed.is_empty() {
        Ok(())
    } else {
        Err(format!("These Python checks failed: {}.", failed.join(", ")))
    }
}

/// What a script is run by, once all it is given is made.
fn prepared(python: &str, check: &Check) -> Result<Command, String> {
    let script = format!("tests/python/{}", check.script);
    let work = root().join("target").join("python");
    std::fs::create_dir_all(&work).map_err(|error| format!("target/python: {error}."))?;
    let path = |path: PathBuf| path.to_string_lossy().into_owned();
    match check.feed {
        Feed::Cases { example } => {
            build_example(example, &["--workspace"])?;
            let cases = read(command(&path(built("debug").join("examples").join(example)), &[]), example)?;
            let file = path(work.join(format!("{example}.json")));
            std::fs::write(&file, cases).map_err(|error| format!("{file}: {error}."))?;
            Ok(command(python, &[&script, &file]))
        }
        Feed::Program { package, example } => timed(python, check.script, package, example),
        Feed::Terminal { plans } => {
            let words = ["build", "--quiet", "--locked", "--workspace", "--bin", "turnleaf"];
            show(command("cargo", &words), "Building the terminal program")?;
            let program = path(built("debug").join("turnleaf"));
            let mut check_command = command(python, &[&script, &program, plans]);
            // The whole (30 plans at 200 turns) takes a quarter of an hour; every run looks at a part of it.
            if std::env::var_os("TURNLEAF_MOTION").is_none() {
                check_command.env("TURNLEAF_MOTION", "10x40");
            }
            if std::env::var_os("TURNLEAF_PAIRS").is_none() {
                check_command.env("TURNLEAF_PAIRS", "20");
            }
            Ok(check_command)
        }
    }
}

/// Chosen out of the whole workspace, an example shares what the tests were built with.
fn build_example(example: &str, words: &[&str]) -> Result<(), String> {
    let all: Vec<&str> = [&["build", "--quiet", "--locked", "--example", example], words].concat();
    show(command("cargo", &all), example)
}

/// An environment by itself, for a script that is no check; its requirements are in one file of `tests/python`.
pub fn apart(name: &str, requirements: &str) -> Result<String, String> {
    installed(name, &[requirements.to_string()])
}

/// The report of hidden lines with both times, from the check that compares them with a geometry kernel.
pub fn timed_views() -> Result<String, String> {
    let script = "hidden_lines_check.py";
    read(timed(&environment()?, script, "turnleaf-views", "scenes")?, script)
}

/// A script that runs an example of ours itself; both are timed, so the example is built for release.
fn timed(python: &str, script: &str, package: &str, example: &str) -> Result<Command, String> {
    build_example(example, &["--release", "--package", package])?;
    let path = |path: PathBuf| path.to_string_lossy().into_owned();
    let scenes = path(root().join("target").join("python").join(example));
    std::fs::create_dir_all(&scenes).map_err(|error| format!("{scenes}: {error}."))?;
    let program = path(built("release").join("examples").join(example));
    Ok(command(python, &[&format!("tests/python/{script}"), &scenes, "--program", &program]))
}

/// Names of the files of `tests/python` that end so, in order.
fn files(ending: &str) -> Result<Vec<String>, String> {
    let folder = root().join("tests").join("python");
    let entries = std::fs::read_dir(&folder).map_err(|error| format!("tests/python: {error}."))?;
    let names = entries.flatten().map(|entry| entry.file_name().to_string_lossy().into_owned());
    let mut found: Vec<String> = names.filter(|name| name.ends_with(ending)).collect();
    found.sort();
    Ok(found)
}

/// One environment with everything the checks need.
fn environment() -> Result<String, String> {
    installed("python", &files("requirements.txt")?)
}

/// An environment in `.tools`, made anew when a requirement changed.
fn installed(name: &str, requirements: &[String]) -> Result<String, String> {
    let folder = root().join("tests").join("python");
    let place = tools_dir().join(name);
    let mut wanted = String::new();
    for name in requirements {
        wanted += &std::fs::read_to_string(folder.join(name))
            .map_err(|error| format!("tests/python/{name}: {error}."))?;
    }
    let stamp = place.join("installed-from.txt");
    let python = place.join("bin").join("python").to_string_lossy().into_owned();
    if std::fs::read_to_string(&stamp).is_ok_and(|have| have == wanted) {
        return Ok(python);
    }
    println!("Installing what tests/python needs into .tools/{name}.");
    let place = place.to_string_lossy().into_owned();
    show(command("python3", &["-m", "venv", "--clear", &place]), "python3 -m venv")?;
    let files: Vec<String> = requirements.iter().map(|name| format!("tests/python/{name}")).collect();
    let mut words = vec!["-m", "pip", "install", "--quiet"];
    for file in &files {
        words.extend(["-r", file.as_str()]);
    }
    show(command(&python, &words), "pip install")?;
    std::fs::write(&stamp, &wanted).map_err(|error| format!(".tools/{name}: {error}."))?;
    Ok(python)
}
