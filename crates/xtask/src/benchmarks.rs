//! The report of how long things take: natively, beside other libraries, in batches, in the browser.
//!
//! In: the workspace, on a machine that does nothing else. Out: `BENCHMARKS.md`.
//! Always true: every number in it comes from this one run on this one machine, which it names; nothing is judged.

use crate::run::{built, command, find, read, root, show};
use crate::{python, site, tools};
use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::process::Stdio;
use std::time::{Duration, Instant};

/// Books of the batch that is timed.
const BOOKS: usize = 200;

/// Measures everything and writes the report.
pub fn run() -> Result<(), String> {
    tools::for_site()?;
    tools::for_tests()?;
    let work = root().join("target").join("measure");
    std::fs::create_dir_all(&work).map_err(|error| format!("target/measure: {error}."))?;
    let folder = work.to_string_lossy().into_owned();
    let words =
        ["build", "--release", "--locked", "--workspace", "--bin", "turnleaf", "--example", "measure"];
    show(command("cargo", &words), "Building for release")?;
    site::build(true)?;
    let mut report = head();
    let example = built("release").join("examples").join("measure").to_string_lossy().into_owned();
    println!("Natively …");
    report += &read(command(&example, &[&folder]), "The measurements")?;
    println!("Side by side …");
    let beside = python::apart("python-measure", "side_by_side.txt")?;
    report += &read(command(&beside, &["tests/python/side_by_side.py", &folder]), "The other libraries")?;
    report += "\n## Hidden lines beside a geometry kernel\n\n```text\n";
    report += &python::timed_views()?;
    report += "```\n";
    println!("A batch of {BOOKS} books …");
    report += &batch(&work)?;
    println!("In the browser …");
    report += "\n## In the browser\n\nHeadless Chromium, software rendering, the site built for release.\n";
    report += &read(browser(), "The measurements in the browser")?;
    let path = root().join("BENCHMARKS.md");
    std::fs::write(path, report).map_err(|error| format!("BENCHMARKS.md: {error}."))?;
    println!("BENCHMARKS.md is written.");
    Ok(())
}

fn head() -> String {
    let cpu = std::fs::read_to_string("/proc/cpuinfo").unwrap_or_default();
    let model =
        cpu.lines().find_map(|line| line.strip_prefix("model name")).unwrap_or("a processor").to_string();
    let model = model.trim_start_matches(['\t', ' ', ':']).to_string();
    let cores = std::thread::available_parallelism().map_or(1, usize::from);
    format!(
        "# How long things take\n\nWritten by `cargo xtask measure`; every number is from one run on one machine ({model}, {cores} cores, {} {}). \
         Times are medians, natively built for release. Nothing here is a test. What misses its aim, and why, is told in \
         [DEVELOPERS.md](DEVELOPERS.md#what-was-slowest-and-what-was-done).\n\n",
        std::env::consts::OS,
        std::env::consts::ARCH
    )
}

fn browser() -> std::process::Command {
    let mut node = command("node", &["tests/browser/times.mjs"]);
    if let Some(chromium) = find("chromium") {
        node.env("CHROMIUM", chromium);
    }
    node
}

/// A table of books at sizes of their own, in every unit, paper and language.
fn table() -> String {
    let mut out = String::from("name,height,units,paper,language,imprint\n");
    for k in 0..BOOKS {
        let units = ["mm", "in", "both"][k % 3];
        let paper = ["a4", "letter"][k / 3 % 2];
        let language = ["en", "de"][k / 6 % 2];
        let _ = writeln!(
            out,
            "book-{k:03},{}.{} mm,{units},{paper},{language},Copy {k} of the demo batch",
            720 + k / 5,
            k % 5 * 2
        );
    }
    out
}

fn batch(work: &Path) -> Result<String, String> {
    let file = work.join("batch.csv");
    std::fs::write(&file, table()).map_err(|error| format!("batch.csv: {error}."))?;
    let mut out = format!(
        "\n## A batch of {BOOKS} books\n\nReading room at {BOOKS} sizes, units, papers and languages by turns.\n\n| cores | books made | seconds | books a minute | most memory, MB |\n|---|---|---|---|---|\n"
    );
    let cores = std::thread::available_parallelism().map_or(1, usize::from);
    let mut runs = vec![(cores, None)];
    if cores > 1 && find("taskset").is_some() {
        runs.push((1, Some("0")));
    }
    for (cores, bound) in runs {
        let books = work.join(format!("books-{cores}"));
        let _ = std::fs::remove_dir_all(&books);
        let (made, seconds, memory) = timed_batch(&file, &books, bound)?;
        let _ = std::fs::remove_dir_all(&books);
        let minute = made as f64 / seconds * 60.0;
        let _ = writeln!(out, "| {cores} | {made} | {seconds:.1} | {minute:.0} | {memory:.0} |");
    }
    Ok(out)
}

/// Books made, seconds, and the most memory held at once, MB (0 where the system does not say).
fn timed_batch(file: &Path, books: &PathBuf, bound: Option<&str>) -> Result<(usize, f64, f64), String> {
    let program = built("release").join("turnleaf").to_string_lossy().into_owned();
    let (file, folder) = (file.to_string_lossy().into_owned(), books.to_string_lossy().into_owned());
    let own = ["batch", &file, "demo/reading-room.json", "-o", &folder];
    let mut run = match bound {
        Some(core) => command("taskset", &[&["-c", core, program.as_str()], &own[..]].concat()),
        None => command(&program, &own),
    };
    let since = Instant::now();
    let mut child = run
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .map_err(|error| format!("The batch could not be started: {error}."))?;
    let mut most = 0.0_f64;
    loop {
        let said = std::fs::read_to_string(format!("/proc/{}/status", child.id())).unwrap_or_default();
        let held = said.lines().find_map(|line| line.strip_prefix("VmHWM:"));
        let kilobytes = held.and_then(|text| text.trim().trim_end_matches("kB").trim().parse::<f64>().ok());
        most = most.max(kilobytes.unwrap_or(0.0) / 1000.0);
        match child.try_wait() {
            // A size that gives no table is a row of its own in the summary, not a failure of the run.
            Ok(Some(_)) => break,
            Ok(None) => std::thread::sleep(Duration::from_millis(100)),
            Err(error) => return Err(format!("The batch was lost: {error}.")),
        }
    }
    let seconds = since.elapsed().as_secs_f64();
    let entries = std::fs::read_dir(books).map_err(|error| format!("target/measure: {error}."))?;
    let made = entries.flatten().filter(|e| e.path().extension().is_some_and(|e| e == "pdf")).count();
    Ok((made, seconds, most))
}
