//! Options of a plan: what is not a size.
//!
//! In: keys and words as the file has them. Out: [`Options`].
//! Always true: an [`Options`] holds only choices that work.

use crate::json::{Json, plain};
use crate::say::{quoted, wrong_type};
use turnleaf_diag::Diagnostic;
use turnleaf_page::Paper;
use turnleaf_units::{
    DecimalSign, Denominator, ForceUnit, InchPrint, LengthUnit, MmStep, PrintUnits, parse_length, print_mm,
};

/// The unit that a number without one is in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum PlanUnit {
    /// Millimetres; newtons.
    #[default]
    Mm,
    /// Inches; pounds-force.
    Inch,
}

impl PlanUnit {
    /// For lengths.
    pub const fn length(self) -> LengthUnit {
        match self {
            PlanUnit::Mm => LengthUnit::Mm,
            PlanUnit::Inch => LengthUnit::Inch,
        }
    }
    /// For forces.
    pub const fn force(self) -> ForceUnit {
        match self {
            PlanUnit::Mm => ForceUnit::Newton,
            PlanUnit::Inch => ForceUnit::PoundForce,
        }
    }
}

/// How panels and leaves are driven.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Drive {
    /// Arms pinned to the base plate.
    #[default]
    Arms,
    /// A fixed cam plate with spiral slots.
    Cam,
}

/// Units that the book prints.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum PrintChoice {
    /// Millimetres.
    #[default]
    Mm,
    /// Inches.
    Inch,
    /// Millimetres, with inches in brackets.
    Both,
}

/// Which way views unfold.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Projection {
    /// First angle (ISO 5456-2), usual in Europe.
    #[default]
    First,
    /// Third angle (ISO 5456-2), usual in North America.
    Third,
}

/// Language of the book.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Language {
    /// English.
    #[default]
    En,
    /// German.
    De,
}

impl Language {
    /// The sign between whole and decimals.
    pub const fn decimal_sign(self) -> DecimalSign {
        match self {
            Language::En => DecimalSign::Point,
            Language::De => DecimalSign::Comma,
        }
    }
}

/// A choice between words.
pub trait Choice: Sized + Copy + PartialEq + 'static {
    /// All choices with their words in the file.
    const WORDS: &'static [(&'static str, Self)];
    /// The word in the file.
    fn key(self) -> &'static str {
        Self::WORDS.iter().find(|(_, v)| *v == self).map_or("", |(k, _)| k)
    }
    /// The choice with this word.
    fn from_key(key: &str) -> Option<Self> {
        Self::WORDS.iter().find(|(k, _)| *k == key).map(|(_, v)| *v)
    }
}

impl Choice for PlanUnit {
    const WORDS: &'static [(&'static str, Self)] = &[("mm", PlanUnit::Mm), ("in", PlanUnit::Inch)];
}
impl Choice for Drive {
    const WORDS: &'static [(&'static str, Self)] = &[("arms", Drive::Arms), ("cam", Drive::Cam)];
}
impl Choice for PrintChoice {
    const WORDS: &'static [(&'static str, Self)] =
        &[("mm", PrintChoice::Mm), ("in", PrintChoice::Inch), ("both", PrintChoice::Both)];
}
impl Choice for Projection {
    const WORDS: &'static [(&'static str, Self)] =
        &[("first", Projection::First), ("third", Projection::Third)];
}
impl Choice for Language {
    const WORDS: &'static [(&'static str, Self)] = &[("en", Language::En), ("de", Language::De)];
}
impl Choice for Paper {
    const WORDS: &'static [(&'static str, Self)] = &[
        ("a4", Paper::A4),
        ("a3", Paper::A3),
        ("a2", Paper::A2),
        ("letter", Paper::Letter),
        ("tabloid", Paper::Tabloid),
        ("arch-c", Paper::ArchC),
    ];
}

/// How numbers are printed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PrintOptions {
    /// Which units.
    pub units: PrintChoice,
    /// Step of printed millimetres.
    pub mm_step: MmStep,
    /// Finest fraction of printed inches.
    pub inch_denominator: Denominator,
    /// Feet and inches instead of inches alone.
    pub feet: bool,
}

impl PrintOptions {
    /// As the units crate takes it.
    pub fn print_units(&self) -> PrintUnits {
        let inch = InchPrint { denominator: self.inch_denominator, feet: self.feet };
        match self.units {
            PrintChoice::Mm => PrintUnits::Mm(self.mm_step),
            PrintChoice::Inch => PrintUnits::Inch(inch),
            PrintChoice::Both => PrintUnits::Both(self.mm_step, inch),
        }
    }
}

/// All options.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Options {
    /// The unit of numbers typed without one.
    pub unit: PlanUnit,
    /// The drive.
    pub drive: Drive,
    /// How numbers are printed.
    pub print: PrintOptions,
    /// Sheet format of the book.
    pub paper: Paper,
    /// Which way views unfold.
    pub projection: Projection,
    /// Language of the book.
    pub language: Language,
}

impl Options {
    /// The usual options of a plan in this unit.
    pub fn usual(unit: PlanUnit) -> Options {
        let inch = unit == PlanUnit::Inch;
        Options {
            unit,
            drive: Drive::Arms,
            print: PrintOptions {
                units: if inch { PrintChoice::Inch } else { PrintChoice::Mm },
                mm_step: MmStep::TENTH,
                inch_denominator: Denominator::SixtyFour,
                feet: false,
            },
            paper: if inch { Paper::Letter } else { Paper::A4 },
            projection: if inch { Projection::Third } else { Projection::First },
            language: Language::En,
        }
    }

    /// Keys of the options, in the order of the file; those of the print group have a dot.
    pub const KEYS: [&'static str; 9] = [
        "unit",
        "drive",
        "print.units",
        "print.mm_step",
        "print.inch_denominator",
        "print.feet",
        "paper",
        "projection",
        "language",
    ];

    /// What sentences and forms call an option.
    pub fn name(key: &str) -> &'static str {
        match key {
            "unit" => "unit",
            "drive" => "drive",
            "print.units" => "choice of printed units",
            "print.mm_step" => "step of printed millimetres",
            "print.inch_denominator" => "finest inch fraction",
            "print.feet" => "choice of feet",
            "paper" => "paper",
            "projection" => "projection",
            "language" => "language",
            _ => "option",
        }
    }

    /// The word of one option, as the file has it; empty for a key that is none.
    pub fn word(&self, key: &str) -> String {
        match self.give(key) {
            Some(Json::Text(word)) => word,
            Some(Json::Number(number)) => plain(&number),
            Some(Json::Bool(yes)) => yes.to_string(),
            _ => String::new(),
        }
    }

    /// Takes one option from the file. An unknown key changes nothing and is `Ok(false)`.
    pub(crate) fn take(&mut self, key: &str, json: &Json) -> Result<bool, Diagnostic> {
        match key {
            "unit" => self.unit = choice(key, json)?,
            "drive" => self.drive = choice(key, json)?,
            "print.units" => self.print.units = choice(key, json)?,
            "print.mm_step" => self.print.mm_step = mm_step(json)?,
            "print.inch_denominator" => self.print.inch_denominator = denominator(json)?,
            "print.feet" => self.print.feet = feet(json)?,
            "paper" => self.paper = choice(key, json)?,
            "projection" => self.projection = choice(key, json)?,
            "language" => self.language = choice(key, json)?,
            _ => return Ok(false),
        }
        Ok(true)
    }

    /// One option as the file has it.
    pub(crate) fn give(&self, key: &str) -> Option<Json> {
        Some(match key {
            "unit" => Json::text(self.unit.key()),
            "drive" => Json::text(self.drive.key()),
            "print.units" => Json::text(self.print.units.key()),
            "print.mm_step" => {
                // Every allowed step is a whole number of its own steps, so this is exact.
                Json::text(print_mm(self.print.mm_step.length(), self.print.mm_step, DecimalSign::Point).text)
            }
            "print.inch_denominator" => Json::Number(self.print.inch_denominator.number().into()),
            "print.feet" => Json::Bool(self.print.feet),
            "paper" => Json::text(Choice::key(self.paper)),
            "projection" => Json::text(self.projection.key()),
            "language" => Json::text(self.language.key()),
            _ => return None,
        })
    }
}

fn choice<C: Choice>(key: &str, json: &Json) -> Result<C, Diagnostic> {
    let name = Options::name(key);
    let words: Vec<&str> = C::WORDS.iter().map(|(k, _)| *k).collect();
    let works = one_of(&words);
    let Json::Text(text) = json else {
        return Err(wrong_type(&format!("options.{key}"), name, json, &works));
    };
    C::from_key(text.trim()).ok_or_else(|| {
        let sentence = format!("The {name} “{}” is not known; use {works}.", quoted(text));
        Diagnostic::error(format!("options.{key}.unknown"), sentence)
    })
}

/// `“a”, “b” or “c”`.
fn one_of(words: &[&str]) -> String {
    let mut out = String::new();
    for (i, word) in words.iter().enumerate() {
        let join = match i {
            0 => "",
            _ if i + 1 == words.len() => " or ",
            _ => ", ",
        };
        out += &format!("{join}“{word}”");
    }
    out
}

fn mm_step(json: &Json) -> Result<MmStep, Diagnostic> {
    let text = match json {
        Json::Text(text) => text.clone(),
        Json::Number(n) => plain(n),
        other => {
            return Err(wrong_type(
                "options.print.mm_step",
                "step of printed millimetres",
                other,
                "“0.1 mm”",
            ));
        }
    };
    let length = parse_length(&text, LengthUnit::Mm).map_err(|p| {
        let sentence = format!("The step of printed millimetres cannot be read: {p}");
        Diagnostic::error("options.print.mm_step.text", sentence)
    })?;
    MmStep::new(length).ok_or_else(|| {
        let sentence = format!(
            "The step of printed millimetres, “{}”, must be between 0.00001 mm and 100 mm; 0.1 mm is usual.",
            quoted(&text)
        );
        Diagnostic::error("options.print.mm_step.range", sentence)
    })
}

fn denominator(json: &Json) -> Result<Denominator, Diagnostic> {
    let text = match json {
        Json::Number(n) => plain(n),
        Json::Text(text) => text.trim().to_string(),
        other => {
            return Err(wrong_type(
                "options.print.inch_denominator",
                "finest inch fraction",
                other,
                "16, 32 or 64",
            ));
        }
    };
    text.parse().ok().and_then(Denominator::from_number).ok_or_else(|| {
        let sentence =
            format!("The finest inch fraction “{}” is not known; use 16, 32 or 64.", quoted(&text));
        Diagnostic::error("options.print.inch_denominator.unknown", sentence)
    })
}

fn feet(json: &Json) -> Result<bool, Diagnostic> {
    match json {
        Json::Bool(feet) => Ok(*feet),
        // A form has only words.
        Json::Text(text) if text.trim() == "true" => Ok(true),
        Json::Text(text) if text.trim() == "false" => Ok(false),
        other => Err(wrong_type("options.print.feet", "choice of feet", other, "true or false")),
    }
}
