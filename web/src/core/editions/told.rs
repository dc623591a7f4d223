//! What is told of editions: plain values that can cross to another thread.
//!
//! In: nothing. Out: the shapes of questions' answers.
//! Always true: every text is ready to be shown.

use serde::{Deserialize, Serialize};

/// A plan file, or one of the revisions frozen in it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Side {
    /// The plan file.
    pub plan: String,
    /// The revision; the plan as it is now without one.
    pub mark: Option<String>,
}

/// What was just issued.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Issued {
    /// The plan file with the revision frozen in it.
    pub plan: String,
    /// Its mark.
    pub mark: String,
    /// Pages of its book.
    pub pages: usize,
}

/// One line of a comparison.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Line {
    /// Kind of thing, as a word: size, option, number, part, hardware, dimension, step.
    pub group: String,
    /// Stable identifier.
    pub id: String,
    /// Plain words.
    pub label: String,
    /// In the older edition; none when it was added.
    pub old: Option<String>,
    /// In the newer one; none when it was taken away.
    pub new: Option<String>,
    /// New less old with its sign, in the units chosen; empty where it is no number.
    pub difference: String,
}

/// What became of a page.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum PageFate {
    /// Prints the same.
    Same,
    /// Prints the same under another number.
    Renumbered,
    /// Prints something else.
    Changed,
    /// New.
    Added,
    /// Gone.
    Removed,
}

/// A page of either book.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct PageLine {
    /// Stable identifier.
    pub id: String,
    /// Its title.
    pub title: String,
    /// Place in the older book, from 1.
    pub old: Option<usize>,
    /// Place in the newer book, from 1.
    pub new: Option<usize>,
    /// What became of it.
    pub fate: PageFate,
}

/// What becomes of a part that is already cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum PartFate {
    /// It serves as it is.
    Good,
    /// It serves after some work.
    Work,
    /// It must be cut again.
    Again,
    /// It is no longer needed.
    NotNeeded,
    /// It was not there before.
    New,
}

/// A part already cut.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct PartLine {
    /// Stable identifier.
    pub id: String,
    /// Plain name.
    pub name: String,
    /// How many the older and the newer table need.
    pub count: (usize, usize),
    /// What becomes of it.
    pub fate: PartFate,
    /// What is to be done, or why it does not serve: sentences.
    pub why: Vec<String>,
    /// How much is to spare or lacking, in words.
    pub margin: String,
}

/// Two editions side by side.
#[derive(Clone, Debug, PartialEq, Default, Serialize, Deserialize)]
pub struct Compared {
    /// What prints differently, pages left out.
    pub lines: Vec<Line>,
    /// Pages of both books.
    pub pages: Vec<PageLine>,
    /// Parts already cut that were made, not bought.
    pub parts: Vec<PartLine>,
    /// Checks that fail with the parts that stay good in the newer table.
    pub fails: Vec<String>,
}

/// A sheet of two books laid over each other: three drawings of one size.
#[derive(Clone, Debug, PartialEq, Default, Serialize, Deserialize)]
pub struct Overlay {
    /// What both print.
    pub same: String,
    /// What only the older one prints.
    pub gone: String,
    /// What only the newer one prints.
    pub came: String,
}

/// Something that a question can be about.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Thing {
    /// dimension, part, step or page.
    pub about: String,
    /// Stable identifier.
    pub id: String,
    /// Plain words.
    pub label: String,
    /// What it belongs to; empty where it stands by itself.
    pub of: String,
}
