//! Turnleaf from a terminal, for batches and tests.
//!
//! In: a plan file and a command. Out: numbers, poses, checks, a PDF or SVG pages.
//! Always true: what goes wrong is one sentence on stderr and exit code 2; standard output is only results.

mod args;
mod load;
mod show;

use clap::Parser;
use std::io::Write;
use std::process::ExitCode;

fn main() -> ExitCode {
    let args = match args::Args::try_parse() {
        Ok(args) => args,
        Err(e)
            if matches!(
                e.kind(),
                clap::error::ErrorKind::DisplayHelp | clap::error::ErrorKind::DisplayVersion
            ) =>
        {
            let _ = e.print();
            return ExitCode::SUCCESS;
        }
        Err(e) => return fail(&args::sentence(&e)),
    };
    let out = match run(&args) {
        Ok(out) => out,
        Err(sentence) => return fail(&sentence),
    };
    // A reader that closes early (such as `head`) is no fault of ours.
    match std::io::stdout().write_all(out.as_bytes()) {
        Err(e) if e.kind() != std::io::ErrorKind::BrokenPipe => {
            fail(&format!("Standard output cannot be written: {e}."))
        }
        _ => ExitCode::SUCCESS,
    }
}

fn fail(sentence: &str) -> ExitCode {
    eprintln!("{sentence}");
    ExitCode::from(2)
}

/// Runs a command; what it returns goes to standard output.
fn run(args: &args::Args) -> Result<String, String> {
    match &args.command {
        args::Command::Numbers { plan, json } => {
            let built = load::build(plan)?;
            Ok(if *json { show::numbers_json(&built) } else { show::numbers_text(&built) })
        }
        args::Command::Pose { plan, turn, json } => {
            if !turn.is_finite() {
                return Err("The turn must be a number of degrees, such as 45.".into());
            }
            let assembly = load::assembly(plan)?;
            Ok(if *json { show::pose_json(&assembly, *turn) } else { show::pose_text(&assembly, *turn) })
        }
        args::Command::Checks { plan, json } => {
            let built = load::build(plan)?;
            Ok(if *json { show::checks_json(&built) } else { show::checks_text(&built) })
        }
    }
}
