//! The command line.

use clap::{Parser, Subcommand};
use std::path::PathBuf;

/// From a plan file to numbers, poses, checks and a plan book.
#[derive(Debug, Parser)]
#[command(name = "turnleaf", version, about)]
pub struct Args {
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
}

/// What can be done.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Every solved number
    Numbers {
        /// Plan file
        plan: PathBuf,
        /// As JSON: an array of {id, value, unit, text}
        #[arg(long)]
        json: bool,
    },
    /// Outline and height of every piece at one turn, or at many
    Pose {
        /// Plan file
        plan: PathBuf,
        /// Degrees from closed (0)
        #[arg(long, allow_negative_numbers = true)]
        turn: Option<f64>,
        /// So many turns instead, equally spaced from closed to open, both ends included
        #[arg(long)]
        turns: Option<usize>,
        /// As JSON: an array of {id, part, outline: {outer, holes}, z_min, z_max, layers: [{outline, z_min, z_max}]};
        /// with --turns an array of {turn, pieces}, one element a line
        #[arg(long)]
        json: bool,
    },
    /// Every part by itself, in its own frame
    Parts {
        /// Plan file
        plan: PathBuf,
        /// As JSON: an array of {id, name, count, made, material, thickness, layers: [{outline: {outer, holes}, z_min,
        /// z_max}]}
        #[arg(long)]
        json: bool,
    },
    /// Every check with its margin
    Checks {
        /// Plan file
        plan: PathBuf,
        /// As JSON: an array of {id, holds, value, limit, margin, unit, at_turn, text}
        #[arg(long)]
        json: bool,
        /// With what mends each check that fails, tried before it is offered; in JSON as remedies: [{text, size, to}]
        #[arg(long)]
        remedies: bool,
    },
    /// Strength, weight and safety figures with their limits: guidance, not certification
    Figures {
        /// Plan file
        plan: PathBuf,
        /// As JSON: {notice, figures: [{id, label, value, unit, limit, margin, holds, formula, inputs: [{name, value,
        /// unit}], source, guidance}], assumptions: [{id, label, value, unit, source}]}
        #[arg(long)]
        json: bool,
    },
    /// Smallest clearance of every pair of parts over the whole turn, and the gaps that can pinch a finger
    Proof {
        /// Plan file
        plan: PathBuf,
        /// As JSON: {turn, far, pairs: [{a, b, pieces, expect, asked, distance, at_least, turn, place, holds}],
        /// joined: [{a, b, reason}], pinches: [{a, b, pieces, from, to, widest, narrowest, at, place, access,
        /// opening}]}
        #[arg(long)]
        json: bool,
    },
    /// The plan book as PDF
    Book {
        /// Plan file
        plan: PathBuf,
        /// PDF file to write
        #[arg(short = 'o', long = "out")]
        out: PathBuf,
        /// a4, a3, a2, letter, tabloid or arch-c; as the plan says when left out
        #[arg(long)]
        paper: Option<String>,
        /// mm, in or both; as the plan says when left out
        #[arg(long)]
        units: Option<String>,
        /// en or de; as the plan says when left out
        #[arg(long)]
        language: Option<String>,
        /// whole, shop, or chapters parted by commas: table, motion, sizes, lists, cutting, assembly, drawings, jigs,
        /// steps, adjusting, strength, templates, revisions, index; the whole book when left out
        #[arg(long)]
        chapters: Option<String>,
    },
    /// Parts, hardware, stock, layouts, rips, strips and tools as CSV files
    Lists {
        /// Plan file
        plan: PathBuf,
        /// Folder to write to
        #[arg(long)]
        csv: PathBuf,
        /// en or de; as the plan says when left out
        #[arg(long)]
        language: Option<String>,
    },
    /// One drawing of the table or of some of its pieces as an SVG file
    Drawing {
        /// Plan file
        plan: PathBuf,
        /// iso, exploded, section or plan
        #[arg(long)]
        view: String,
        /// Degrees from closed (0)
        #[arg(long, allow_negative_numbers = true, default_value_t = 0.0)]
        turn: f64,
        /// Pieces ("panel/1"), parts ("panel") or sub-assemblies (top, rising, turning, base, frame) to show
        #[arg(long, num_args = 1..)]
        of: Vec<String>,
        /// SVG file to write
        #[arg(short = 'o', long = "out")]
        out: PathBuf,
    },
    /// The pages of the book as SVG files
    Pages {
        /// Plan file
        plan: PathBuf,
        /// Folder to write to
        #[arg(short = 'o', long = "out")]
        out: PathBuf,
        /// a4, a3, a2, letter, tabloid or arch-c; as the plan says when left out
        #[arg(long)]
        paper: Option<String>,
        /// mm, in or both; as the plan says when left out
        #[arg(long)]
        units: Option<String>,
    },
    /// Full-size templates of parts, tiled over paper, as PDF
    Template {
        /// Plan file
        plan: PathBuf,
        /// PDF file to write
        #[arg(short = 'o', long = "out")]
        out: PathBuf,
        /// Identifier of a part, may be given several times; every part cut from a sheet when left out
        #[arg(long = "part")]
        parts: Vec<String>,
        /// a4, a3, a2, letter, tabloid or arch-c; as the plan says when left out
        #[arg(long)]
        paper: Option<String>,
        /// mm, in or both; as the plan says when left out
        #[arg(long)]
        units: Option<String>,
        /// What the printed 100 mm bar marked x measures (along the paper's short side), such as 99.6mm
        #[arg(long, allow_negative_numbers = true)]
        measured_x: Option<String>,
        /// What the printed 100 mm bar marked y measures (along the paper's long side)
        #[arg(long, allow_negative_numbers = true)]
        measured_y: Option<String>,
        /// How far neighbouring tiles show the same; 10 mm when left out
        #[arg(long, allow_negative_numbers = true)]
        overlap: Option<String>,
        /// Edge of the paper that the printer leaves white; 10 mm when left out
        #[arg(long, allow_negative_numbers = true)]
        margin: Option<String>,
    },
    /// Cut files (SVG, 1 : 1, layers by operation) of every part cut from a sheet, and index.csv
    Cut {
        /// Plan file
        plan: PathBuf,
        /// Folder to write to
        #[arg(short = 'o', long = "out")]
        out: PathBuf,
    },
    /// Issues the plan's present revision: freezes it in the plan file, with its book's fingerprint, and begins the next
    Issue {
        /// Plan file; it is rewritten
        plan: PathBuf,
        /// Day of issue, such as 2025-03-14; as the plan says when left out
        #[arg(long)]
        date: Option<String>,
        /// What changed and why; may be given several times; as the plan says when left out
        #[arg(long = "reason")]
        reasons: Vec<String>,
        /// PDF file to write the issued book to
        #[arg(long)]
        book: Option<PathBuf>,
    },
    /// The book of an issued revision, made again and held to the issued one
    Again {
        /// Plan file
        plan: PathBuf,
        /// Mark of the revision
        #[arg(long)]
        revision: String,
        /// PDF file to write
        #[arg(short = 'o', long = "out")]
        out: PathBuf,
    },
    /// What changed between two plans or revisions, and what becomes of parts already cut
    Compare {
        /// Older plan file
        old: PathBuf,
        /// Newer plan file
        new: PathBuf,
        /// Mark of an issued revision of the older file; the plan it works on when left out
        #[arg(long)]
        old_revision: Option<String>,
        /// Mark of an issued revision of the newer file; the plan it works on when left out
        #[arg(long)]
        new_revision: Option<String>,
        /// The tables alone: leave the books and their pages out, which is quicker
        #[arg(long)]
        tables: bool,
        /// PDF file to write the change notice for past buyers to
        #[arg(long)]
        notice: Option<PathBuf>,
        /// As JSON: {step, changes: [{group, id, label, old, new, difference, inches, unit, text}], pages: [{id, title, old, new, state}],
        /// parts: [{part, name, made, count, verdict, shift, missing, surplus, work, reasons}], old_parts_fail}
        #[arg(long)]
        json: bool,
    },
    /// The build steps in the order and words of the book
    Steps {
        /// Plan file
        plan: PathBuf,
        /// As JSON: an array of {id, number, own, changed, title, text, settings, checks, cautions, pieces: [{part, name,
        /// count}], hardware, put_in, needs, minutes, notes, pictures}; a hidden step has no number
        #[arg(long)]
        json: bool,
    },
    /// A book for each row of a table
    Batch {
        /// CSV table with the columns name, and any of units, paper, language, imprint and the keys of sizes
        table: PathBuf,
        /// Plan file
        plan: PathBuf,
        /// Folder to write to
        #[arg(short = 'o', long = "out")]
        out: PathBuf,
    },
    /// A plan for buyers: what they may change, and within which limits
    Offer {
        /// Plan file
        plan: PathBuf,
        /// Plan file to write
        #[arg(short = 'o', long = "out")]
        out: PathBuf,
        /// A size they may change: its key, for the whole interval in which the table works, or with limits, such as
        /// "height=700 mm..760 mm"; may be given several times
        #[arg(long = "size")]
        sizes: Vec<String>,
        /// Units they may print: mm, in or both; may be given several times; all when left out
        #[arg(long)]
        units: Vec<String>,
        /// Papers they may print on; may be given several times; all when left out
        #[arg(long)]
        paper: Vec<String>,
        /// What a buyer may do with the plan
        #[arg(long, default_value = "")]
        licence: String,
    },
    /// The maker's next plan for buyers with a buyer's own choices put onto it
    Onto {
        /// The buyer's plan file or saved book
        buyer: PathBuf,
        /// The maker's newer plan for buyers
        next: PathBuf,
        /// Plan file to write
        #[arg(short = 'o', long = "out")]
        out: PathBuf,
    },
    /// The register of copies: adds one, or says whom to notify of a revision
    Register {
        /// CSV file of the register
        register: PathBuf,
        /// What to do with it
        #[command(subcommand)]
        what: RegisterCommand,
    },
    /// Cutting layouts of the parts cut from sheets, on the sheets on hand, as SVG files at 1 : 10
    Layout {
        /// Plan file
        plan: PathBuf,
        /// A sheet on hand, such as 1220x2440mm or 4x8ft, with :3 after it if there are only three of each
        /// material and thickness; may be given several times; 1220x2440mm when left out
        #[arg(long = "sheet")]
        sheets: Vec<String>,
        /// What the saw takes away; 3.2 mm when left out
        #[arg(long, allow_negative_numbers = true)]
        kerf: Option<String>,
        /// Unused edge of each sheet; 10 mm when left out
        #[arg(long, allow_negative_numbers = true)]
        margin: Option<String>,
        /// How hard to search, in multiples of the usual
        #[arg(long, default_value_t = 1)]
        effort: usize,
        /// Folder to write to, or an SVG file when one sheet is enough
        #[arg(short = 'o', long = "out")]
        out: PathBuf,
    },
}

/// What can be done with a register.
#[derive(Debug, Subcommand)]
pub enum RegisterCommand {
    /// Adds a copy
    Add {
        /// Who has it
        #[arg(long)]
        name: String,
        /// How to reach them
        #[arg(long, default_value = "")]
        contact: String,
        /// Since when, such as 2025-03-14
        #[arg(long)]
        date: String,
        /// Mark of the revision they have
        #[arg(long)]
        revision: String,
        /// Their size, in your words
        #[arg(long, default_value = "")]
        size: String,
        /// Their units
        #[arg(long, default_value = "")]
        units: String,
        /// Their paper
        #[arg(long, default_value = "")]
        paper: String,
    },
    /// Whom to tell of a revision, with a mail for each
    Notify {
        /// Plan file
        plan: PathBuf,
        /// Mark of the revision; the last issued one when left out
        #[arg(long)]
        revision: Option<String>,
        /// Where it can be downloaded
        #[arg(long)]
        link: Option<String>,
    },
}

/// A command-line problem as one sentence.
pub fn sentence(e: &clap::Error) -> String {
    if e.kind() == clap::error::ErrorKind::DisplayHelpOnMissingArgumentOrSubcommand {
        return "No command was given; see turnleaf --help.".into();
    }
    let text = e.to_string();
    let lines: Vec<&str> = text
        .lines()
        .map(str::trim)
        .take_while(|l| !["Usage", "For more", "tip:"].iter().any(|word| l.starts_with(word)))
        .filter(|l| !l.is_empty())
        .collect();
    let first = lines.join(" ");
    let first = first.strip_prefix("error: ").unwrap_or(&first);
    format!("The command cannot be read: {first}; see turnleaf --help.")
}
