//! How templates are wanted.
//!
//! In: choices of the builder. Out: [`TemplateOptions`], and what is wrong with them.
//! Always true: a field that cannot be used is named in one sentence that says what would work.

use std::collections::BTreeMap;
use turnleaf_diag::Diagnostic;
use turnleaf_page::Paper;
use turnleaf_parts::Part;
use turnleaf_units::{DecimalSign, Length, MmStep, PrintUnits};

/// Least length that the printed 100 mm bar can be measured to have, mm.
pub const MEASURED_LEAST: f64 = 95.0;
/// Greatest length that the printed 100 mm bar can be measured to have, mm. A print further off was fitted to
/// the page, or the bar was misread: to be mended at the printer, not by numbers.
pub const MEASURED_MOST: f64 = 105.0;
/// Overlaps that work, mm: less leaves no room for crosses, more wastes paper.
const OVERLAP: (f64, f64) = (8.0, 30.0);
/// Printer margins that work, mm: more leaves too little room for the check bars on A4.
const MARGIN: (f64, f64) = (3.0, 20.0);

/// How templates are wanted.
#[derive(Clone, Debug, PartialEq)]
pub struct TemplateOptions {
    /// Paper; each part lies upright or on its side, whichever needs fewer tiles.
    pub paper: Paper,
    /// Identifiers of the parts; all that are cut from sheets when empty.
    pub parts: Vec<String>,
    /// Length of the printed 100 mm bar marked x, mm: across the paper, along its **short** side.
    pub measured_x: f64,
    /// Length of the printed 100 mm bar marked y, mm: along the paper's **long** side.
    pub measured_y: f64,
    /// How far neighbouring tiles show the same, mm.
    pub overlap: f64,
    /// Edge of the paper that the printer may leave white, mm.
    pub margin: f64,
    /// Units of diameters and depths.
    pub units: PrintUnits,
    /// BCP 47 language tag; German and English are known.
    pub language: String,
    /// Name of the plan.
    pub plan: String,
    /// Who made the plan.
    pub maker: String,
    /// Revision mark.
    pub revision: String,
    /// Date of the revision, ISO 8601.
    pub date: String,
    /// Names of parts as printed, by identifier; a part's own name where there is none.
    pub names: BTreeMap<String, String>,
}

impl Default for TemplateOptions {
    fn default() -> TemplateOptions {
        TemplateOptions {
            paper: Paper::A4,
            parts: Vec::new(),
            measured_x: 100.0,
            measured_y: 100.0,
            overlap: 10.0,
            margin: 10.0,
            units: PrintUnits::Mm(MmStep::TENTH),
            language: "en".into(),
            plan: "Plan".into(),
            maker: String::new(),
            revision: "A".into(),
            date: "1970-01-01".into(),
            names: BTreeMap::new(),
        }
    }
}

impl TemplateOptions {
    /// A part's name as printed.
    pub fn name_of(&self, part: &Part) -> String {
        self.names.get(&part.id).cloned().unwrap_or_else(|| part.name.clone())
    }

    /// Whether tiles are printed at another size to make up for the printer.
    pub fn compensated(&self) -> bool {
        self.measured_x != 100.0 || self.measured_y != 100.0
    }

    /// The sign between whole and decimals.
    pub(crate) fn sign(&self) -> DecimalSign {
        DecimalSign::for_language(&self.language)
    }

    /// A length as printed, without its unit where that is mm. A length that is not a number reads "–".
    pub(crate) fn figure(&self, mm: f64) -> String {
        let Some(length) = Length::from_mm_f64(mm) else { return "–".into() };
        let printed = self.units.print(length, self.sign());
        match self.units {
            PrintUnits::Mm(_) => printed.figure(),
            _ => printed.text(),
        }
    }

    /// One error for each field that cannot be used.
    pub fn problems(&self, parts: &[Part]) -> Vec<Diagnostic> {
        let mut out = Vec::new();
        for (name, value) in [("x", self.measured_x), ("y", self.measured_y)] {
            // A comparison with a number that is none is false, so that this catches it too.
            if !(MEASURED_LEAST..=MEASURED_MOST).contains(&value) {
                let shown = if value.is_finite() { format!("{value} mm") } else { "not a number".into() };
                let sentence = format!(
                    "The measured length of bar {name} is {shown}; a print of the 100 mm bar measures between {MEASURED_LEAST} and {MEASURED_MOST} mm."
                );
                let hint = "Print at full size (100 %, not fitted to the page) and measure the bar again.";
                out.push(Diagnostic::error(format!("template.measured_{name}"), sentence).hint(hint));
            }
        }
        let ranges = [("overlap", self.overlap, OVERLAP), ("margin", self.margin, MARGIN)];
        for (name, value, (least, most)) in ranges {
            if !(value >= least && value <= most) {
                let shown = if value.is_finite() { format!("{value} mm") } else { "not a number".into() };
                let sentence = format!("The {name} is {shown}; it must lie between {least} and {most} mm.");
                out.push(Diagnostic::error(format!("template.{name}"), sentence));
            }
        }
        for id in &self.parts {
            if !parts.iter().any(|p| p.made && p.id == *id) {
                let known: Vec<&str> = parts.iter().filter(|p| p.made).map(|p| p.id.as_str()).collect();
                let sentence =
                    format!("There is no part called {id} to make; there are {}.", known.join(", "));
                out.push(Diagnostic::error("template.part", sentence));
            }
        }
        out
    }
}
