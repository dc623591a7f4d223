//! How sheets are wanted.
//!
//! In: nothing. Out: [`SheetOptions`].
//! Always true: nothing here is read from a clock; dates and names come from the plan.

use std::collections::BTreeMap;
use turnleaf_diag::Origin;
use turnleaf_dimension::{Tongue, Wording};
use turnleaf_page::Paper;
use turnleaf_units::{DecimalSign, MmStep, PrintUnits};

/// Which way views unfold.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Projection {
    /// First angle: the view from the left is on the right.
    #[default]
    First,
    /// Third angle: the view from the left is on the left.
    Third,
}

/// Data of the title block (fields of ISO 7200).
#[derive(Clone, Debug, PartialEq, Default)]
pub struct TitleData {
    /// Legal owner.
    pub owner: String,
    /// Identification number; the part's identifier is added to it.
    pub number: String,
    /// Revision index; empty before the first change.
    pub revision: String,
    /// Date of issue, ISO 8601.
    pub date: String,
    /// Who drew it.
    pub creator: String,
    /// Who approved it.
    pub approver: String,
    /// Kind of document.
    pub document_type: String,
    /// What the plan is of ("Table for the reading room").
    pub project: String,
}

/// A line of the revision block.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct RevisionLine {
    /// Letter.
    pub letter: String,
    /// What changed.
    pub text: String,
    /// When, ISO 8601.
    pub date: String,
    /// By whom approved.
    pub by: String,
}

/// The tolerance of every length whose identifier is "PART/dim/" with this beginning and ending.
#[derive(Clone, Debug, PartialEq)]
pub struct Tolerance {
    /// The part.
    pub part: String,
    /// Beginning of what follows "PART/dim/".
    pub begins: String,
    /// Its ending.
    pub ends: String,
    /// Either side of the true size, mm.
    pub half: f64,
}

/// How sheets are wanted.
#[derive(Clone, Debug, PartialEq)]
pub struct SheetOptions {
    /// Paper.
    pub paper: Paper,
    /// Units of the figures.
    pub units: PrintUnits,
    /// First or third angle.
    pub projection: Projection,
    /// BCP 47 language tag; decides the decimal sign and is printed in the title block.
    pub language: String,
    /// What the sheets say in that language.
    pub tongue: Tongue,
    /// Title block.
    pub title: TitleData,
    /// Revisions that touch this part, oldest first.
    pub revisions: Vec<RevisionLine>,
    /// Number of the first sheet of this part.
    pub first_sheet: usize,
    /// Number of all sheets of the set, when known.
    pub sheets: Option<usize>,
    /// Tolerances that lengths have of their own.
    pub tolerances: Vec<Tolerance>,
    /// Tolerance of all other lengths, mm either side; no note when absent.
    pub general: Option<f64>,
    /// Sizes or rules behind dimensions, by dimension identifier or by the beginning of one.
    pub origins: BTreeMap<String, Origin>,
}

impl Default for SheetOptions {
    fn default() -> SheetOptions {
        SheetOptions {
            paper: Paper::A4,
            units: PrintUnits::Mm(MmStep::TENTH),
            projection: Projection::First,
            language: "en".to_string(),
            tongue: Tongue::default(),
            title: TitleData { document_type: "Part drawing".to_string(), ..TitleData::default() },
            revisions: Vec::new(),
            first_sheet: 1,
            sheets: None,
            tolerances: Vec::new(),
            general: None,
            origins: BTreeMap::new(),
        }
    }
}

impl SheetOptions {
    /// How figures are written.
    pub fn wording(&self) -> Wording {
        Wording { units: self.units, sign: DecimalSign::for_language(&self.language) }
    }
    /// The tolerance of a dimension, mm either side: the finest of those that are about it.
    pub fn tolerance_of(&self, id: &str) -> Option<f64> {
        let (part, rest) = id.split_once("/dim/")?;
        let about = |t: &&Tolerance| {
            t.part == part && rest.starts_with(t.begins.as_str()) && rest.ends_with(t.ends.as_str())
        };
        self.tolerances.iter().filter(about).map(|t| t.half).min_by(f64::total_cmp)
    }
    /// The size or rule behind a dimension: the longest name that it begins with.
    pub fn origin_of(&self, id: &str) -> Option<Origin> {
        let mut best: Option<(&String, Origin)> = None;
        for (name, origin) in &self.origins {
            if id.starts_with(name.as_str()) && best.is_none_or(|b| name.len() > b.0.len()) {
                best = Some((name, *origin));
            }
        }
        best.map(|b| b.1)
    }
}
