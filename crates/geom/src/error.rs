//! What goes wrong in geometry, as a sentence for the maker.
//!
//! In: a refused input or a result that failed its check. Out: [`GeomError`].
//! Always true: the sentence is complete and plain; nothing here panics.

use core::fmt;

/// The kind of trouble, for code that reacts to it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Trouble {
    /// A coordinate or a bulge is not a finite number.
    NotFinite,
    /// Too few corners, or an outline that encloses no area.
    Empty,
    /// The outline meets itself.
    CrossesItself,
    /// An edge, or the whole outline, vanishes when it is moved so far.
    Collapses,
    /// The result failed its own check.
    Unreliable,
}

/// A geometric operation that could not be carried out.
#[derive(Clone, Debug, PartialEq)]
pub struct GeomError {
    /// What kind.
    pub trouble: Trouble,
    /// One plain sentence.
    pub sentence: String,
    /// The edge at fault, as its index in `Ring::segs` order, where one can be named.
    pub edge: Option<usize>,
}

impl GeomError {
    /// An error that names no single edge.
    pub fn new(trouble: Trouble, sentence: impl Into<String>) -> GeomError {
        GeomError { trouble, sentence: sentence.into(), edge: None }
    }
    /// An error at one edge.
    pub fn at(edge: usize, trouble: Trouble, sentence: impl Into<String>) -> GeomError {
        GeomError { trouble, sentence: sentence.into(), edge: Some(edge) }
    }
}

impl fmt::Display for GeomError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.sentence)
    }
}

impl core::error::Error for GeomError {}
