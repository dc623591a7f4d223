//! What can be wrong with a document that was to become a PDF.
//!
//! In: the place of the trouble. Out: one plain sentence each (`Display`).
//! Always true: every problem is found before or while writing; a half-written file is never returned.

use std::fmt;

/// Why no PDF was written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum PdfProblem {
    /// There are no pages.
    NoPages,
    /// The document has no title, which an accessible file must have.
    NoTitle,
    /// The language is not a tag such as "en" or "de-AT".
    Language(String),
    /// The date is not year-month-day.
    Date(String),
    /// The page is empty, endless or larger than a PDF page can be.
    PageSize {
        /// Which page, by its identifier.
        page: String,
    },
    /// A length on the page is not a number or lies absurdly far away.
    Length {
        /// Which page, by its identifier.
        page: String,
        /// What carries it ("a path", "the text …").
        what: String,
    },
    /// Two marks have the same name.
    DuplicateMark(String),
    /// A link leads nowhere.
    LinkTarget {
        /// Which page, by its identifier.
        page: String,
        /// The name it leads to.
        target: String,
    },
    /// A bookmark leads nowhere.
    BookmarkTarget {
        /// The bookmark's title.
        title: String,
        /// The name it leads to.
        target: String,
    },
    /// An attached file cannot be carried.
    Attachment {
        /// Its name.
        name: String,
        /// Why, as the end of a sentence.
        why: String,
    },
    /// A figure has no words for readers who cannot see it.
    NoAlternative {
        /// Which page, by its identifier.
        page: String,
        /// The figure, by its group identifier.
        figure: String,
    },
    /// Groups are nested deeper than any drawing needs.
    Depth {
        /// Which page, by its identifier.
        page: String,
    },
    /// The PDF library refused; this is a bug of ours.
    Library(String),
}

impl fmt::Display for PdfProblem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            PdfProblem::NoPages => write!(f, "The book has no pages."),
            PdfProblem::NoTitle => write!(f, "The book has no title."),
            PdfProblem::Language(given) => {
                write!(f, "The language “{given}” is not a language tag such as “en” or “de”.")
            }
            PdfProblem::Date(given) => {
                write!(f, "The revision date “{given}” is not a date written year-month-day.")
            }
            PdfProblem::PageSize { page } => write!(f, "The page “{page}” has an impossible size."),
            PdfProblem::Length { page, what } => {
                write!(f, "On the page “{page}” {what} has a length that cannot be drawn.")
            }
            PdfProblem::DuplicateMark(name) => {
                write!(f, "Two places in the book are both named “{name}”.")
            }
            PdfProblem::LinkTarget { page, target } => {
                write!(f, "A link on the page “{page}” leads to “{target}”, which does not exist.")
            }
            PdfProblem::BookmarkTarget { title, target } => {
                write!(f, "The bookmark “{title}” leads to “{target}”, which does not exist.")
            }
            PdfProblem::Attachment { name, why } => {
                write!(f, "The file “{name}” cannot be carried in the PDF: {why}.")
            }
            PdfProblem::NoAlternative { page, figure } => {
                write!(f, "The figure “{figure}” on the page “{page}” has no description in words.")
            }
            PdfProblem::Depth { page } => {
                write!(f, "On the page “{page}” groups are nested too deeply.")
            }
            PdfProblem::Library(why) => write!(f, "The PDF could not be written: {why}."),
        }
    }
}

impl std::error::Error for PdfProblem {}
