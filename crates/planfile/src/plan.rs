//! A plan in memory.
//!
//! In: edits, as typed. Out: [`Plan`] and its values.
//! Always true: every size present reads as its kind and lies in its range; exactly one of open diameter and
//! travel is present; a refused edit leaves the plan as it was.

use crate::fields::{Absent, FIELDS, FieldSpec, Kind, Value, field, field_index, origin};
use crate::json::{Json, plain};
use crate::offer::Offer;
use crate::options::{Options, PlanUnit};
use crate::questions::Question;
use crate::say::{bound, example, quoted};
use crate::shared::Shared;
use crate::steps::{self, StepChange};
use crate::texts::{
    self, LIST_MAX, MAKER_MAX, NOTE_MAX, NUMBER_MAX, PastRevision, Revision, TITLE_MAX, Texts,
};
use serde_json::Number;
use std::collections::BTreeMap;
use turnleaf_diag::{Diagnostic, Origin};
use turnleaf_units::{
    Angle, DecimalSign, Force, ForceUnit, Length, LengthUnit, parse_count, parse_force, parse_length,
    understand_angle, understand_force, understand_length,
};

/// A value as the maker typed it.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Typed {
    Text(String),
    /// A bare number of the file: in the plan's unit.
    Number(Number),
}

impl Typed {
    pub fn text(&self) -> String {
        match self {
            Typed::Text(text) => text.clone(),
            Typed::Number(number) => plain(number),
        }
    }
    pub fn json(&self) -> Json {
        match self {
            Typed::Text(text) => Json::text(text),
            Typed::Number(number) => Json::Number(number.clone()),
        }
    }
}

/// A size: what was typed and what it means.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Size {
    pub typed: Typed,
    pub value: Value,
}

/// What this version does not know, kept for saving, by section.
#[derive(Clone, Debug, PartialEq, Default)]
pub(crate) struct Extra {
    pub root: Vec<(String, Json)>,
    pub texts: Vec<(String, Json)>,
    pub options: Vec<(String, Json)>,
    pub print: Vec<(String, Json)>,
    pub sizes: Vec<(String, Json)>,
    pub measured: Vec<(String, Json)>,
    pub revision: Vec<(String, Json)>,
}

/// A plan.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    pub(crate) options: Options,
    /// By position in [`FIELDS`].
    pub(crate) sizes: Vec<Option<Size>>,
    /// By position in [`FIELDS`]; only fields of the stock group.
    pub(crate) measured: BTreeMap<usize, Size>,
    /// Stock on hand as the file has it; it was read once.
    pub(crate) stock: Vec<(String, Json)>,
    pub(crate) texts: Texts,
    pub(crate) notes: Vec<String>,
    pub(crate) revision: Revision,
    pub(crate) revisions: Vec<PastRevision>,
    /// Pictures of the frozen plans among them.
    pub(crate) shared: Shared,
    pub(crate) questions: Vec<Question>,
    pub(crate) steps: Vec<StepChange>,
    pub(crate) imprint: String,
    pub(crate) offer: Option<Offer>,
    /// Version of the program that issued it, of a frozen plan read back; not written.
    pub(crate) issued_by: Option<String>,
    pub(crate) extra: Extra,
}

/// What an edit was understood as.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Understood {
    /// Such as `47 1/4 in (1200.15 mm)`.
    pub text: String,
    /// The field that this edit emptied, if any: travel when the open diameter is given, and the reverse.
    pub emptied: Option<&'static str>,
}

/// Fields of which exactly one is given.
const EITHER: (&str, &str) = ("open_diameter", "travel");

impl Plan {
    /// A metric plan with the usual sizes.
    pub fn default_metric() -> Plan {
        Plan::usual(PlanUnit::Mm)
    }

    /// An inch plan with the usual sizes.
    pub fn default_inch() -> Plan {
        Plan::usual(PlanUnit::Inch)
    }

    fn usual(unit: PlanUnit) -> Plan {
        let sizes = FIELDS
            .iter()
            .map(|f| {
                let given = !f.optional() || f.id == EITHER.0;
                given.then(|| usual_size(f, unit))
            })
            .collect();
        Plan {
            options: Options::usual(unit),
            sizes,
            measured: BTreeMap::new(),
            stock: Vec::new(),
            texts: Texts::default(),
            notes: Vec::new(),
            revision: Revision::default(),
            revisions: Vec::new(),
            shared: Shared::new(),
            questions: Vec::new(),
            steps: Vec::new(),
            imprint: String::new(),
            offer: None,
            issued_by: None,
            extra: Extra::default(),
        }
    }

    fn size(&self, id: &str) -> Option<&Size> {
        self.sizes.get(field_index(id)?)?.as_ref()
    }

    /// The value of a field; nothing when it is left out.
    pub fn value(&self, id: &str) -> Option<Value> {
        self.size(id).map(|s| s.value)
    }
    /// A length.
    pub fn length(&self, id: &str) -> Option<Length> {
        match self.value(id)? {
            Value::Length(v) => Some(v),
            _ => None,
        }
    }
    /// An angle.
    pub fn angle(&self, id: &str) -> Option<Angle> {
        match self.value(id)? {
            Value::Angle(v) => Some(v),
            _ => None,
        }
    }
    /// A whole number.
    pub fn count(&self, id: &str) -> Option<u32> {
        match self.value(id)? {
            Value::Count(v) => Some(v),
            _ => None,
        }
    }
    /// A force.
    pub fn force(&self, id: &str) -> Option<Force> {
        match self.value(id)? {
            Value::Force(v) => Some(v),
            _ => None,
        }
    }
    /// What was typed; nothing when it is left out.
    pub fn typed(&self, id: &str) -> Option<String> {
        self.size(id).map(|s| s.typed.text())
    }
    /// The thickness measured on the builder's own stock, if one was given.
    pub fn measured(&self, id: &str) -> Option<Length> {
        match self.measured.get(&field_index(id)?)?.value {
            Value::Length(v) => Some(v),
            _ => None,
        }
    }
    /// The measured thickness when there is one, else the size of the plan.
    pub fn actual_length(&self, id: &str) -> Option<Length> {
        self.measured(id).or_else(|| self.length(id))
    }
    /// Options.
    pub fn options(&self) -> &Options {
        &self.options
    }
    /// Names.
    pub fn texts(&self) -> &Texts {
        &self.texts
    }
    /// The maker's notes.
    pub fn notes(&self) -> &[String] {
        &self.notes
    }
    /// The revision being worked on.
    pub fn revision(&self) -> &Revision {
        &self.revision
    }
    /// Earlier revisions, oldest first.
    pub fn revisions(&self) -> &[PastRevision] {
        &self.revisions
    }

    /// Buyers' questions, in the order in which they were written down.
    pub fn questions(&self) -> &[Question] {
        &self.questions
    }
    /// The maker's changes to the build steps, in the order they are made.
    pub fn steps(&self) -> &[StepChange] {
        &self.steps
    }

    /// Says what a text would be understood as, without keeping it.
    pub fn understand(&self, id: &str, text: &str) -> Result<Understood, Diagnostic> {
        let f = field(id).ok_or_else(|| unknown_field(id))?;
        let (_, text) = read_value(f, text, self.options.unit, self.options.language.decimal_sign())?;
        Ok(Understood { text, emptied: None })
    }

    /// Sets a size as typed. Empty text leaves out what may be left out. A refusal changes nothing.
    pub fn set(&mut self, id: &str, text: &str) -> Result<Understood, Diagnostic> {
        let i = field_index(id).ok_or_else(|| unknown_field(id))?;
        let f = &FIELDS[i];
        let other = match id {
            _ if id == EITHER.0 => Some(EITHER.1),
            _ if id == EITHER.1 => Some(EITHER.0),
            _ => None,
        };
        let text = text.trim();
        if text.is_empty() {
            if !f.optional() || self.offer.is_some() {
                return Err(missing(f, self.options.unit));
            }
            if other.is_some_and(|o| self.size(o).is_none()) {
                return Err(neither(self.options.unit));
            }
            self.sizes[i] = None;
            return Ok(Understood { text: "left out".into(), emptied: None });
        }
        let (value, said) = read_value(f, text, self.options.unit, self.options.language.decimal_sign())?;
        if let Some(offer) = &self.offer {
            offer.allows(i, value, &said)?;
        }
        self.sizes[i] = Some(Size { typed: Typed::Text(text.into()), value });
        let emptied = other.and_then(|o| self.sizes[field_index(o)?].take().map(|_| o));
        Ok(Understood { text: said, emptied })
    }

    /// Sets a measured thickness as typed; empty text takes it out. A refusal changes nothing.
    pub fn set_measured(&mut self, id: &str, text: &str) -> Result<Understood, Diagnostic> {
        let (i, f) = measurable(id)?;
        let text = text.trim();
        if text.is_empty() {
            self.measured.remove(&i);
            return Ok(Understood { text: "left out".into(), emptied: None });
        }
        let (value, said) = read_value(f, text, self.options.unit, self.options.language.decimal_sign())
            .map_err(|d| as_measured(f, d))?;
        self.measured.insert(i, Size { typed: Typed::Text(text.into()), value });
        Ok(Understood { text: said, emptied: None })
    }

    /// Sets an option by its key (see [`Options::KEYS`]). Changing the unit writes the old unit behind every
    /// number that had none, so that no size changes. A refusal changes nothing.
    pub fn set_option(&mut self, key: &str, word: &str) -> Result<(), Diagnostic> {
        let before = self.options.unit;
        let mut wanted = self.options;
        if wanted.take(key, &Json::text(word))? {
            self.option_offered(key, &wanted)?;
        }
        if !self.options.take(key, &Json::text(word))? {
            let sentence = format!("There is no option called “{}”.", quoted(key));
            return Err(Diagnostic::error("options.unknown", sentence));
        }
        if self.options.unit != before {
            for size in self.sizes.iter_mut().flatten().chain(self.measured.values_mut()) {
                write_unit(size, before);
            }
        }
        Ok(())
    }

    /// Sets title, maker and number. A refusal changes nothing.
    pub fn set_texts(&mut self, texts: Texts) -> Result<(), Diagnostic> {
        texts::check("texts.title", "title", &texts.title, TITLE_MAX)?;
        texts::check("texts.maker", "maker's name", &texts.maker, MAKER_MAX)?;
        texts::check("texts.number", "book number", &texts.number, NUMBER_MAX)?;
        self.texts = texts;
        Ok(())
    }

    /// Sets the notes. A refusal changes nothing.
    pub fn set_notes(&mut self, notes: Vec<String>) -> Result<(), Diagnostic> {
        check_list("texts.notes", "notes", notes.len())?;
        for note in &notes {
            texts::check("texts.notes", "note", note, NOTE_MAX)?;
        }
        self.notes = notes;
        Ok(())
    }

    /// Sets the revision being worked on. A refusal changes nothing.
    pub fn set_revision(&mut self, revision: Revision) -> Result<(), Diagnostic> {
        texts::check_mark("revision", "revision mark", &revision.mark)?;
        check_list("revision.reasons", "reasons", revision.reasons.len())?;
        for reason in &revision.reasons {
            texts::check("revision.reasons", "reason", reason, NOTE_MAX)?;
        }
        self.revision = revision;
        Ok(())
    }

    /// Sets the buyers' questions. Their numbers must differ. A refusal changes nothing.
    pub fn set_questions(&mut self, questions: Vec<Question>) -> Result<(), Diagnostic> {
        check_list("questions", "questions", questions.len())?;
        let mut seen = std::collections::BTreeSet::new();
        for q in &questions {
            q.check()?;
            if !seen.insert(q.number) {
                let sentence = format!("Two questions have the number {}; give one another.", q.number);
                return Err(Diagnostic::error("questions.number", sentence));
            }
        }
        self.questions = questions;
        Ok(())
    }

    /// Sets the changes to the build steps; those that change nothing are left out. A refusal changes nothing.
    pub fn set_steps(&mut self, steps: Vec<StepChange>) -> Result<(), Diagnostic> {
        steps::check_steps(&steps)?;
        self.steps = steps.into_iter().filter(|s| !s.is_nothing()).collect();
        Ok(())
    }

    /// Sets the earlier revisions, oldest first; those that were issued keep what was frozen. A refusal changes
    /// nothing.
    pub fn set_revisions(&mut self, revisions: Vec<PastRevision>) -> Result<(), Diagnostic> {
        check_list("revisions", "earlier revisions", revisions.len())?;
        for past in &revisions {
            texts::check_mark("revisions", "mark of an earlier revision", &past.mark)?;
            texts::check("revisions", "account of an earlier revision", &past.what, NOTE_MAX)?;
        }
        let issued = |r: &PastRevision| self.revisions.iter().find(|old| old.mark == r.mark);
        let kept = revisions.into_iter().map(|r| match issued(&r) {
            // An issued revision stays as it was issued.
            Some(old) if old.frozen.is_some() => old.clone(),
            _ => r,
        });
        self.revisions = kept.collect();
        self.prune_shared();
        Ok(())
    }
}

pub(crate) fn check_list(code: &str, name: &str, length: usize) -> Result<(), Diagnostic> {
    if length <= LIST_MAX {
        return Ok(());
    }
    let sentence = format!("There are {length} {name}; a plan holds {LIST_MAX} at most.");
    Err(Diagnostic::error(format!("{code}.many"), sentence))
}

/// The default of a field.
pub(crate) fn usual_size(f: &FieldSpec, unit: PlanUnit) -> Size {
    let text = example(f, unit);
    let (value, _) = read_value(f, text, unit, DecimalSign::Point).unwrap_or_else(|d| {
        // A default that does not read is our own mistake, and a test reads them all.
        panic!("default of {}: {}", f.id, d.sentence)
    });
    Size { typed: Typed::Text(text.into()), value }
}

/// Reads a text as the field's kind and holds it against the range; says back what was understood.
pub(crate) fn read_value(
    f: &FieldSpec,
    text: &str,
    unit: PlanUnit,
    sign: DecimalSign,
) -> Result<(Value, String), Diagnostic> {
    let read = match f.kind {
        Kind::Length => {
            understand_length(text, unit.length(), sign).map(|u| (Value::Length(u.value), u.text))
        }
        Kind::Angle => understand_angle(text, sign).map(|u| (Value::Angle(u.value), u.text)),
        Kind::Force => understand_force(text, unit.force(), sign).map(|u| (Value::Force(u.value), u.text)),
        Kind::Count => parse_count(text).map(|n| (Value::Count(n), n.to_string())),
    };
    let (value, said) = read.map_err(|p| {
        Diagnostic::error(format!("sizes.{}.text", f.id), format!("{}: {p}", f.label))
            .hint(format!("The usual is {}.", example(f, unit)))
            .origins(&own(f))
    })?;
    if value < f.min || value > f.max {
        let (low, high) = (bound(f.min, unit), bound(f.max, unit));
        let sentence =
            format!("{}: {} is outside what can be used, {low} to {high}.", f.label, quoted(&said));
        let nearest = if value < f.min { low } else { high };
        return Err(Diagnostic::error(format!("sizes.{}.range", f.id), sentence)
            .hint(format!("The nearest that works is {nearest}."))
            .origins(&own(f)));
    }
    Ok((value, said))
}

fn own(f: &FieldSpec) -> Vec<Origin> {
    origin(f.id).into_iter().collect()
}

pub(crate) fn missing(f: &FieldSpec, unit: PlanUnit) -> Diagnostic {
    let sentence = format!(
        "{} is missing (“{}” in the file); give it, for example {}.",
        f.label,
        f.id,
        example(f, unit)
    );
    Diagnostic::error(format!("sizes.{}.missing", f.id), sentence).origins(&own(f))
}

fn either_origins() -> Vec<Origin> {
    [EITHER.0, EITHER.1].into_iter().filter_map(origin).collect()
}

pub(crate) fn neither(unit: PlanUnit) -> Diagnostic {
    let eg = field(EITHER.0).map_or("", |f| example(f, unit));
    let sentence = format!(
        "Neither the open diameter nor the travel is given; give one of them, for example an open diameter of {eg}."
    );
    Diagnostic::error("sizes.open_diameter.missing", sentence).origins(&either_origins())
}

/// Exactly one of the two may be given.
pub(crate) fn check_either(sizes: &[Option<Size>], unit: PlanUnit) -> Result<(), Diagnostic> {
    let given = |id| field_index(id).is_some_and(|i| sizes[i].is_some());
    match (given(EITHER.0), given(EITHER.1)) {
        (true, true) => Err(Diagnostic::error(
            "sizes.open_diameter.both",
            "Both the open diameter and the travel are given; take one of them out, the other then follows.",
        )
        .origins(&either_origins())),
        (false, false) => Err(neither(unit)),
        _ => Ok(()),
    }
}

fn unknown_field(id: &str) -> Diagnostic {
    Diagnostic::error("sizes.unknown", format!("There is no size called “{}”.", quoted(id)))
}

/// The field, if its thickness can be measured on stock.
pub(crate) fn measurable(id: &str) -> Result<(usize, &'static FieldSpec), Diagnostic> {
    let i = field_index(id).ok_or_else(|| unknown_field(id))?;
    if FIELDS[i].group != crate::fields::Group::Stock {
        let sentence = format!("{} is not a thickness of stock, so it cannot be measured.", FIELDS[i].label);
        return Err(Diagnostic::error("measured.unknown", sentence).origins(&own(&FIELDS[i])));
    }
    Ok((i, &FIELDS[i]))
}

/// The same trouble, said of a measured thickness.
pub(crate) fn as_measured(f: &FieldSpec, mut d: Diagnostic) -> Diagnostic {
    d.code = d.code.replacen("sizes.", "measured.", 1);
    d.sentence = d.sentence.replacen(f.label, &format!("{}, measured", f.label), 1);
    d
}

/// Writes the unit behind a number that has none.
pub(crate) fn write_unit(size: &mut Size, unit: PlanUnit) {
    let text = size.typed.text();
    // Whoever reads the same in either unit carries its own.
    let bare = match size.value {
        Value::Length(_) => parse_length(&text, LengthUnit::Mm) != parse_length(&text, LengthUnit::Inch),
        Value::Force(_) => parse_force(&text, ForceUnit::Newton) != parse_force(&text, ForceUnit::PoundForce),
        Value::Angle(_) | Value::Count(_) => false,
    };
    if bare {
        let word = match (size.value, unit) {
            (Value::Force(_), PlanUnit::Mm) => "N",
            (Value::Force(_), PlanUnit::Inch) => "lbf",
            (_, PlanUnit::Mm) => "mm",
            (_, PlanUnit::Inch) => "in",
        };
        size.typed = Typed::Text(format!("{} {word}", text.trim()));
    }
}

/// Whether an absent field falls back to its default.
pub(crate) fn falls_back(f: &FieldSpec) -> bool {
    f.absent == Absent::Usual
}
