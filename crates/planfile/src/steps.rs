//! The maker's changes to the build steps.
//!
//! In: what the maker typed. Out: [`StepChange`]s, each for one step by its stable identifier.
//! Always true: identifiers are unique and made of small letters, figures, hyphens and slashes; texts are printable and
//! no longer than their limits. Whether an identifier names a step of this table is not known here.

use crate::json::Json;
use crate::picture::{PICTURES_MAX, Picture, UNPACKED_MAX, check_caption, too_much};
use crate::say::quoted;
use crate::texts::{NOTE_MAX, TITLE_MAX, check};
use std::collections::BTreeSet;
use turnleaf_diag::Diagnostic;

/// Most changed or own steps of a plan.
pub const STEPS_MAX: usize = 200;
/// Most paragraphs, and most notes, of one step.
pub const PARAGRAPHS_MAX: usize = 30;
/// Most pictures of one step.
pub const STEP_PICTURES_MAX: usize = 6;
/// What identifiers of the maker's own steps begin with.
pub const OWN: &str = "own/";
/// As [`StepChange::after`]: before all other steps.
pub const FIRST: &str = "first";
/// Longest identifier, characters.
const ID_MAX: usize = 60;

/// What the maker changes about one step, or a step of their own.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct StepChange {
    /// Identifier of the step; those that begin with [`OWN`] are the maker's own.
    pub id: String,
    /// Another title.
    pub title: Option<String>,
    /// Other paragraphs in place of the step's own.
    pub text: Option<Vec<String>>,
    /// Whether the step is left out of the book.
    pub hidden: bool,
    /// The step behind which it is moved, or [`FIRST`].
    pub after: Option<String>,
    /// Notes that follow its text.
    pub notes: Vec<String>,
    /// Pictures.
    pub pictures: Vec<Picture>,
    /// What this version does not know, kept.
    pub(crate) extra: Vec<(String, Json)>,
}

impl StepChange {
    /// No change yet to a step.
    pub fn of(id: impl Into<String>) -> StepChange {
        StepChange { id: id.into(), ..StepChange::default() }
    }
    /// Whether it is a step of the maker's own.
    pub fn own(&self) -> bool {
        self.id.starts_with(OWN)
    }
    /// Whether nothing is changed: such an entry need not be kept.
    pub fn is_nothing(&self) -> bool {
        *self == StepChange::of(self.id.clone())
    }
}

/// The first identifier `own/1`, `own/2`, … that is free.
pub fn free_id(steps: &[StepChange]) -> String {
    let taken = |id: &str| steps.iter().any(|s| s.id == id);
    (1..).map(|i| format!("{OWN}{i}")).find(|id| !taken(id)).unwrap_or_default()
}

fn check_id(what: &str, id: &str) -> Result<(), Diagnostic> {
    let fine = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-' || c == '/';
    if (1..=ID_MAX).contains(&id.len()) && id.chars().all(fine) {
        return Ok(());
    }
    let sentence = format!(
        "The {what} “{}” cannot be used; it is made of small letters, figures, hyphens and slashes, {ID_MAX} at most.",
        quoted(id)
    );
    Err(Diagnostic::error("steps.id", sentence))
}

pub(crate) fn count(id: &str, name: &str, has: usize, most: usize) -> Result<(), Diagnostic> {
    if has <= most {
        return Ok(());
    }
    let sentence = format!("The step “{}” has {has} {name}; {most} fit.", quoted(id));
    Err(Diagnostic::error("steps.many", sentence))
}

/// Checks how many there are.
pub(crate) fn check_count(steps: usize) -> Result<(), Diagnostic> {
    if steps <= STEPS_MAX {
        return Ok(());
    }
    let sentence = format!("{steps} steps are changed or added; a plan holds {STEPS_MAX} at most.");
    Err(Diagnostic::error("steps.many", sentence))
}

/// Checks all changes together.
pub(crate) fn check_steps(steps: &[StepChange]) -> Result<(), Diagnostic> {
    check_count(steps.len())?;
    let mut seen = BTreeSet::new();
    let (mut bytes, mut unpacked) = (0, 0);
    for s in steps {
        check_id("identifier of a step", &s.id)?;
        if !seen.insert(&s.id) {
            let sentence = format!("The step “{}” is changed twice; keep one of them.", s.id);
            return Err(Diagnostic::error("steps.repeated", sentence));
        }
        if let Some(after) = &s.after {
            check_id("step to stand behind", after)?;
        }
        let name = |what: &str| format!("{what} of step “{}”", s.id);
        if let Some(title) = &s.title {
            check("steps.title", &name("title"), title, TITLE_MAX)?;
        }
        if s.own() && s.title.as_deref().is_none_or(|t| t.trim().is_empty()) {
            let sentence = format!("The step “{}” of your own has no title; give it one.", s.id);
            return Err(Diagnostic::error("steps.title.missing", sentence));
        }
        let text = s.text.as_deref().unwrap_or_default();
        count(&s.id, "paragraphs", text.len(), PARAGRAPHS_MAX)?;
        count(&s.id, "notes", s.notes.len(), PARAGRAPHS_MAX)?;
        count(&s.id, "pictures", s.pictures.len(), STEP_PICTURES_MAX)?;
        for paragraph in text {
            check("steps.text", &name("text"), paragraph, NOTE_MAX)?;
        }
        for note in &s.notes {
            check("steps.notes", &name("note"), note, NOTE_MAX)?;
        }
        for picture in &s.pictures {
            check_caption(&picture.caption)?;
            bytes += picture.shown.data.len();
            unpacked += picture.unpacked;
        }
    }
    if unpacked > UNPACKED_MAX {
        return Err(too_much());
    }
    if bytes > PICTURES_MAX {
        let (has, most) = (bytes.div_ceil(1000), PICTURES_MAX / 1000);
        let sentence = format!("All pictures together have {has} kB; {most} kB fit in a plan.");
        return Err(Diagnostic::error("steps.picture.all", sentence));
    }
    Ok(())
}
