//! Where a number comes from and what is wrong with it.
//!
//! In: nothing. Out: [`Origin`] (rides from a field to every drawn item) and [`Diagnostic`].
//! Always true: an origin is eight bytes or less, so that it can ride everywhere at no cost.
//!
//! ```
//! use turnleaf_diag::{Diagnostic, Origin, Severity};
//! let told = Diagnostic::warning("play", "Play is 3 mm, so panels will rattle.")
//!     .hint("0.5 to 1.5 mm would do.")
//!     .origins(&[Origin::Size(4)]);
//! assert_eq!((told.severity, told.origins.len()), (Severity::Warning, 1));
//! // It rides on every drawn item, so it must stay small.
//! assert!(size_of::<Origin>() <= 8);
//! ```

/// Index of a size field or of a solved rule, 8 bytes, stable within one build.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Origin {
    /// A size the maker typed: index into the plan file's size table.
    Size(u16),
    /// A solved number: index into the solved-number table.
    Solved(u16),
}

/// How bad it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// Good to know.
    Note,
    /// The table can be built, but look at this.
    Warning,
    /// The table would not work, or the input cannot be used.
    Error,
}

/// One problem, as a sentence that names the field and what would work.
#[derive(Clone, Debug, PartialEq)]
pub struct Diagnostic {
    /// How bad it is.
    pub severity: Severity,
    /// Stable identifier of the kind of problem, for tests and links ("sizes.closed_diameter.range").
    pub code: String,
    /// One plain sentence.
    pub sentence: String,
    /// What would mend it, as a sentence; empty when nothing is known.
    pub hint: String,
    /// The sizes at odds.
    pub origins: Vec<Origin>,
}

impl Diagnostic {
    /// An error.
    pub fn error(code: impl Into<String>, sentence: impl Into<String>) -> Diagnostic {
        Diagnostic {
            severity: Severity::Error,
            code: code.into(),
            sentence: sentence.into(),
            hint: String::new(),
            origins: Vec::new(),
        }
    }
    /// A warning.
    pub fn warning(code: impl Into<String>, sentence: impl Into<String>) -> Diagnostic {
        Diagnostic { severity: Severity::Warning, ..Diagnostic::error(code, sentence) }
    }
    /// With what would mend it.
    pub fn hint(mut self, hint: impl Into<String>) -> Diagnostic {
        self.hint = hint.into();
        self
    }
    /// With the sizes at odds.
    pub fn origins(mut self, origins: &[Origin]) -> Diagnostic {
        self.origins = origins.to_vec();
        self
    }
}
