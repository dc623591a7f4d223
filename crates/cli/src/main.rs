//! Turnleaf from a terminal, for batches and tests.
//!
//! In: a plan file and a command. Out: numbers, poses, checks, figures, clearances, a PDF, SVG pages, cut files or
//! cutting layouts.
//! Always true: what goes wrong is one sentence on stderr and exit code 2; standard output is only results.

mod args;
mod batch;
mod book;
mod compare;
mod editions;
mod files;
#[cfg(test)]
mod fuzz;
mod layout;
mod load;
mod offer;
mod register;
mod shop;
mod show;
mod steps;
mod strength;

use clap::Parser;
use std::io::{BufWriter, Write};
use std::process::ExitCode;
use turnleaf_geom::trig;

/// Most turns of one `pose` call. More: the answer grows beyond what anyone reads.
const TURNS_MOST: usize = 3600;
/// A turn beyond either end by no more than this, degrees, is taken as that end: printed turns are rounded.
const TURN_SLIP: f64 = 1e-3;

/// Why a command ended early.
enum Failure {
    /// Something to tell.
    Sentence(String),
    /// Standard output does not take any more.
    Output(std::io::Error),
}

impl From<String> for Failure {
    fn from(sentence: String) -> Failure {
        Failure::Sentence(sentence)
    }
}

impl From<std::io::Error> for Failure {
    fn from(error: std::io::Error) -> Failure {
        Failure::Output(error)
    }
}

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
    let mut out = BufWriter::new(std::io::stdout().lock());
    match run(&args, &mut out).and_then(|()| Ok(out.flush()?)) {
        Ok(()) => ExitCode::SUCCESS,
        Err(Failure::Sentence(sentence)) => fail(&sentence),
        // A reader that closes early (such as `head`) is no fault of ours.
        Err(Failure::Output(e)) if e.kind() == std::io::ErrorKind::BrokenPipe => ExitCode::SUCCESS,
        Err(Failure::Output(e)) => fail(&format!("Standard output cannot be written: {}.", load::plain(&e))),
    }
}

fn fail(sentence: &str) -> ExitCode {
    eprintln!("{sentence}");
    ExitCode::from(2)
}

/// Runs a command; what it finds goes to `out`.
fn run(args: &args::Args, out: &mut impl Write) -> Result<(), Failure> {
    match &args.command {
        args::Command::Numbers { plan, json } => {
            let built = load::build(plan)?;
            let text = if *json { show::numbers_json(&built) } else { show::numbers_text(&built) };
            out.write_all(text.as_bytes())?;
        }
        args::Command::Pose { plan, turn, turns, json } => pose(plan, *turn, *turns, *json, out)?,
        args::Command::Checks { plan, json, remedies } => {
            let built = load::build(plan)?;
            let text = if *json {
                show::checks_json(&built, *remedies)
            } else {
                show::checks_text(&built, *remedies)
            };
            out.write_all(text.as_bytes())?;
        }
        args::Command::Figures { plan, json } => {
            let built = load::build(plan)?;
            let text = if *json { strength::json(&built) } else { strength::text(&built) };
            out.write_all(text.as_bytes())?;
        }
        args::Command::Proof { plan, json } => {
            let built = load::build(plan)?;
            let text = if *json { show::proof_json(&built) } else { show::proof_text(&built) };
            out.write_all(text.as_bytes())?;
        }
        args::Command::Book { plan, out: file, paper, units, language, chapters } => {
            let wanted = book::Wanted {
                paper: paper.as_deref(),
                units: units.as_deref(),
                language: language.as_deref(),
                chapters: chapters.as_deref(),
            };
            book::pdf(plan, file, &wanted)?;
        }
        args::Command::Lists { plan, csv, language } => book::lists(plan, csv, language.as_deref())?,
        args::Command::Drawing { plan, view, turn, of, out: file } => {
            book::drawing(plan, file, view, *turn, of)?;
        }
        args::Command::Pages { plan, out: dir, paper, units } => {
            let wanted =
                book::Wanted { paper: paper.as_deref(), units: units.as_deref(), ..book::Wanted::default() };
            book::pages(plan, dir, &wanted)?;
        }
        args::Command::Template {
            plan,
            out: file,
            parts,
            paper,
            units,
            measured_x,
            measured_y,
            overlap,
            margin,
        } => {
            let wanted = shop::Wanted {
                parts,
                paper: paper.as_deref(),
                units: units.as_deref(),
                measured_x: measured_x.as_deref(),
                measured_y: measured_y.as_deref(),
                overlap: overlap.as_deref(),
                margin: margin.as_deref(),
            };
            shop::template(plan, file, &wanted)?;
        }
        args::Command::Parts { plan, json } => {
            let assembly = load::assembly(plan)?;
            let text = if *json { show::parts_json(&assembly) } else { show::parts_text(&assembly) };
            out.write_all(text.as_bytes())?;
        }
        args::Command::Issue { plan, date, reasons, book } => {
            let said = editions::issue(plan, date.as_deref(), reasons, book.as_deref())?;
            out.write_all(said.as_bytes())?;
        }
        args::Command::Again { plan, revision, out: file } => {
            out.write_all(editions::again(plan, revision, file)?.as_bytes())?;
        }
        args::Command::Compare { old, new, old_revision, new_revision, tables, notice, json } => {
            let (old, new) =
                ((old.as_path(), old_revision.as_deref()), (new.as_path(), new_revision.as_deref()));
            let wanted = compare::Wanted { tables: *tables, json: *json, notice: notice.as_deref() };
            out.write_all(compare::compare(old, new, &wanted)?.as_bytes())?;
        }
        args::Command::Batch { table, plan, out: dir } => {
            let (summary, whole) = batch::batch(table, plan, dir)?;
            out.write_all(summary.as_bytes())?;
            if !whole {
                return Err(Failure::Sentence("Some rows failed; the others are done.".into()));
            }
        }
        args::Command::Offer { plan, out: file, sizes, units, paper, licence } => {
            let wanted = offer::Wanted { sizes, units, papers: paper, licence };
            out.write_all(offer::offer(plan, file, &wanted)?.as_bytes())?;
        }
        args::Command::Onto { buyer, next, out: file } => {
            out.write_all(offer::onto(buyer, next, file)?.as_bytes())?;
        }
        args::Command::Register { register, what } => {
            let text = match what {
                args::RegisterCommand::Add { name, contact, date, revision, size, units, paper } => {
                    let copy = [name, contact, date, revision, size, units, paper].map(String::clone);
                    register::add(register, &copy)?
                }
                args::RegisterCommand::Notify { plan, revision, link } => {
                    register::notify(register, plan, revision.as_deref(), link.as_deref())?
                }
            };
            out.write_all(text.as_bytes())?;
        }
        args::Command::Cut { plan, out: dir } => shop::cut(plan, dir)?,
        args::Command::Steps { plan, json } => out.write_all(steps::steps(plan, *json)?.as_bytes())?,
        args::Command::Layout { plan, sheets, kerf, margin, effort, out: file } => {
            let (kerf, margin) = (kerf.as_deref(), margin.as_deref());
            layout::layout(plan, file, &layout::Wanted { sheets, kerf, margin, effort: *effort }, out)?;
        }
    }
    Ok(())
}

/// One turn, or many turns equally spaced.
fn pose(
    plan: &std::path::Path,
    turn: Option<f64>,
    turns: Option<usize>,
    json: bool,
    out: &mut impl Write,
) -> Result<(), Failure> {
    if turn.is_some() == turns.is_some() {
        return Err(Failure::Sentence("Give one turn with --turn or a number of turns with --turns.".into()));
    }
    if turn.is_some_and(|t| !t.is_finite()) {
        return Err(Failure::Sentence("The turn must be a number of degrees, such as 45.".into()));
    }
    if turns.is_some_and(|n| !(2..=TURNS_MOST).contains(&n)) {
        return Err(Failure::Sentence(format!("The number of turns must lie between 2 and {TURNS_MOST}.")));
    }
    let assembly = load::assembly(plan)?;
    let whole = trig::deg(assembly.mechanism.turn());
    let Some(count) = turns else {
        let turn = turn.unwrap_or(0.0);
        if turn < -TURN_SLIP || turn > whole + TURN_SLIP {
            return Err(Failure::Sentence(format!(
                "This table turns from 0 to {whole:.2} degrees; {turn} lies outside."
            )));
        }
        let text = if json { show::pose_json(&assembly, turn) } else { show::pose_text(&assembly, turn) };
        return Ok(out.write_all(text.as_bytes())?);
    };
    // One element a line, written as it comes: many turns do not fit into memory at once.
    if json {
        out.write_all(b"[")?;
    }
    for i in 0..count {
        let turn = whole * i as f64 / (count - 1) as f64;
        let text = if json {
            let pieces = show::pose_json(&assembly, turn);
            format!(
                "{}{{\"turn\":{turn},\"pieces\":{}}}",
                if i > 0 { ",\n" } else { "\n" },
                pieces.trim_end()
            )
        } else {
            format!("{turn:.3}°\n{}", show::pose_text(&assembly, turn))
        };
        out.write_all(text.as_bytes())?;
    }
    if json {
        out.write_all(b"\n]\n")?;
    }
    Ok(())
}
