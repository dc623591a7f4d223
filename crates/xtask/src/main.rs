//! Developer commands, run as `cargo xtask COMMAND`.
//!
//! In: a command name and its options. Out: the built site, a running server, or test results.
//! Always true: everything a command needs is either on the machine, installed into `.tools` and
//! `node_modules` (both ignored by git), or named in one sentence that says how to get it.

mod audit;
mod benchmarks;
mod debian;
mod guard;
mod measure;
mod outside;
mod python;
mod release;
mod review;
mod run;
mod site;
mod stages;
mod tidy;
mod tools;

use std::process::ExitCode;

const HELP: &str = "\
cargo xtask COMMAND

  serve [--release] [--port N]  set up what is missing, build the app, serve it, print its address
  test [STAGE ...]              set up what is missing, run every test (or only the stages named)
  site                          build the site for release into dist/
  release                       the site and the terminal program of the version in CHANGELOG.md
  review [--accept [NAME ...]]  reference drawings, old beside new; or accept the new ones
  outside                       writes OUTSIDE-CHECKS.md from the rows of tests/tests/outside, and asserts them
  audit [--offline]             licences, sources and known faults of dependencies, by deny.toml
  measure                       writes BENCHMARKS.md: times natively, beside other libraries, in the browser
  size                          print the sizes of what dist/ makes a visitor download
  tidy                          check the crate graph and the committed files
  setup                         only set up what is missing
";

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let (command, rest) = match words.split_first() {
        Some((first, rest)) => (first.as_str(), rest),
        None => ("help", &[][..]),
    };
    let outcome = match command {
        "serve" => site::serve(rest),
        "site" => tools::for_site().and_then(|()| site::build(true)),
        "release" => release::command_line(rest),
        "review" => review::command_line(rest),
        "outside" => outside::command_line(rest),
        "audit" => audit::command_line(rest),
        "size" => measure::print_sizes(),
        "measure" => benchmarks::run(),
        "test" => stages::run(rest),
        "tidy" => tidy::command(),
        "setup" => tools::for_site().and_then(|()| tools::for_tests()),
        "help" | "--help" | "-h" => {
            print!("{HELP}");
            Ok(())
        }
        other => Err(format!("There is no command `{other}`.\n\n{HELP}")),
    };
    match outcome {
        Ok(()) => ExitCode::SUCCESS,
        Err(sentence) => {
            eprintln!("xtask: {sentence}");
            ExitCode::FAILURE
        }
    }
}
