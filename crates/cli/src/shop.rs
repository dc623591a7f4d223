//! The workshop's output: templates as PDF, cut files as SVG.

use crate::book::{paper, units};
use crate::{files, load};
use std::path::Path;
use turnleaf_plan::units::{LengthUnit, parse_length};
use turnleaf_plan::{Diagnostic, Severity, cut_svg, index_csv, template_options};

/// What may be chosen for templates; nothing means as the plan says, or the usual.
pub struct Wanted<'a> {
    pub parts: &'a [String],
    pub paper: Option<&'a str>,
    pub units: Option<&'a str>,
    pub measured_x: Option<&'a str>,
    pub measured_y: Option<&'a str>,
    pub overlap: Option<&'a str>,
    pub margin: Option<&'a str>,
}

/// A length in mm as typed after an option.
pub fn length(option: &str, text: Option<&str>, usual: f64) -> Result<f64, String> {
    let Some(text) = text else { return Ok(usual) };
    match parse_length(text, LengthUnit::Mm) {
        Ok(length) => Ok(length.mm()),
        Err(_) => Err(format!("“{text}” after --{option} is no length; write it as in 99.6mm.")),
    }
}

/// Says what is wrong; an error ends the command.
fn tell(problems: &[Diagnostic]) -> Result<(), String> {
    let said = |d: &Diagnostic| format!("{} {}", d.sentence, d.hint).trim_end().to_string();
    let errors: Vec<String> = problems.iter().filter(|d| d.severity == Severity::Error).map(said).collect();
    if !errors.is_empty() {
        return Err(errors.join(" "));
    }
    problems.iter().for_each(|d| eprintln!("{}", said(d)));
    Ok(())
}

/// Writes templates.
pub fn template(plan: &Path, out: &Path, wanted: &Wanted) -> Result<(), String> {
    let built = load::build(plan)?;
    let mut options = template_options(&built);
    options.parts = wanted.parts.to_vec();
    if let Some(key) = wanted.paper {
        options.paper = paper(key)?;
    }
    if let Some(key) = wanted.units {
        let mut print = built.plan.options().print;
        print.units = units(key)?;
        options.units = print.print_units();
    }
    options.measured_x = length("measured-x", wanted.measured_x, options.measured_x)?;
    options.measured_y = length("measured-y", wanted.measured_y, options.measured_y)?;
    options.overlap = length("overlap", wanted.overlap, options.overlap)?;
    options.margin = length("margin", wanted.margin, options.margin)?;
    let (document, problems) = built.templates(&options);
    tell(&problems)?;
    let bytes = turnleaf_plan::pdf(&document).map_err(|e| format!("The templates cannot be written: {e}"))?;
    files::write(out, bytes)
}

/// Writes a cut file for each part, or two, and the list of them.
pub fn cut(plan: &Path, out: &Path) -> Result<(), String> {
    let built = load::build(plan)?;
    let (files, problems) = built.cut_files();
    tell(&problems)?;
    files::folder(out)?;
    let write = |name: String, text: String| files::write(&out.join(name), text);
    for file in &files {
        write(format!("{}.svg", file.name), cut_svg(file))?;
    }
    write("index.csv".into(), index_csv(&files))
}
