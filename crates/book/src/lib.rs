//! Composes the finished book.
//!
//! In: a plan, the table built from it, its solved numbers, checks and proof. Out: a [`Document`] that the
//! PDF and SVG writers read, and what did not fit.
//! Always true: the same input gives the same document on every platform (no clock, no chance); every page
//! number printed is that of the page meant; every link leads somewhere; every line is measured before it
//! is set; nothing here knows PDF, SVG or a browser.
//!
//! ```
//! use turnleaf_book::{BookInput, BookOptions, Chapters, compose};
//! let plan = turnleaf_planfile::Plan::default_metric();
//! let built = turnleaf_plan::build(&plan).expect("the usual sizes agree");
//! let input = BookInput {
//!     plan: &plan,
//!     assembly: &built.assembly,
//!     numbers: &built.numbers,
//!     checks: &built.checks,
//!     proof: &built.proof,
//!     figures: &[],
//!     cutting: None,
//!     measured: None,
//!     plan_json: &plan.to_json(),
//!     program: turnleaf_plan::PROGRAM,
//! };
//! // Only what is in every book: cover, contents, print check and cautions.
//! let options = BookOptions { chapters: Chapters::NONE, ..BookOptions::of(&plan) };
//! let (document, _) = compose(&input, &options);
//! assert_eq!(document.pages[0].id, "cover");
//! // A4 by ISO 216.
//! assert!(document.pages.iter().all(|p| (p.width, p.height) == (210.0, 297.0)));
//! ```

mod assemble;
mod cells;
pub mod changed;
pub mod chapters;
pub mod chart;
mod chosen;
pub mod cx;
pub mod draw;
pub mod flow;
pub mod grid;
mod many;
mod measured;
pub mod notice;
mod origins;
mod progress;
pub mod say;
pub mod scene;
pub mod stamps;
pub mod steps;
mod strips;
pub mod values;
pub mod words;

use std::sync::LazyLock;
use turnleaf_diag::Diagnostic;
use turnleaf_figures::Figure;
use turnleaf_mechanism::Number;
use turnleaf_motion::{Check, Proof};
use turnleaf_nest::{Layouts, Request};
use turnleaf_page::{Document, Page, Paper};
use turnleaf_parts::Assembly;
use turnleaf_planfile::{Language, Plan, PrintOptions, Projection};

/// What a book is made of.
#[derive(Clone, Copy)]
pub struct BookInput<'a> {
    /// The plan.
    pub plan: &'a Plan,
    /// The table built from it.
    pub assembly: &'a Assembly,
    /// Solved numbers, in their order: `Origin::Solved(i)` names the i-th.
    pub numbers: &'a [Number],
    /// Checks with margins, tightest pairs first.
    pub checks: &'a [Check],
    /// Clearances over the whole turn.
    pub proof: &'a Proof,
    /// Strength, weight and safety figures; the chapter about them is left out when there are none.
    pub figures: &'a [Figure],
    /// Parts on stock sheets, as asked and as found; the chapter about them is left out when there are none.
    pub cutting: Option<&'a Nested>,
    /// What measured thicknesses changed; none when nothing was measured.
    pub measured: Option<&'a Measured>,
    /// The plan file as saved, carried inside the book.
    pub plan_json: &'a str,
    /// Version of the program that the book says it was made with; empty: it says nothing of it.
    pub program: &'a str,
}

/// Cutting layouts that are looked for once, when they are first asked for, so that other work can be done meanwhile.
pub struct Nested(LazyLock<Result<(Request, Layouts), String>, Nesting>);
/// What looks for them: the request and what came of it. An error is a sentence about the stock.
pub type Nesting = Box<dyn FnOnce() -> Result<(Request, Layouts), String> + Send>;

impl Nested {
    /// Layouts yet to be looked for.
    pub fn new(look: Nesting) -> Nested {
        Nested(LazyLock::new(look))
    }
    /// What was found; it is looked for now if it was not before.
    pub fn found(&self) -> &Result<(Request, Layouts), String> {
        &self.0
    }
}

impl From<(Request, Layouts)> for Nested {
    fn from(found: (Request, Layouts)) -> Nested {
        Nested::new(Box::new(|| Ok(found)))
    }
}

impl<'a> BookInput<'a> {
    /// Parts on stock sheets, as asked and as found, where there are any.
    pub fn layouts(&self) -> Option<&'a (Request, Layouts)> {
        self.cutting?.found().as_ref().ok()
    }
}

/// How a book is wanted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BookOptions {
    /// Paper of the drawings; text pages are A4 or Letter, whichever is its kin.
    pub paper: Paper,
    /// Units and rounding. Tables of sizes show both units whatever the choice.
    pub print: PrintOptions,
    /// Language.
    pub language: Language,
    /// First or third angle.
    pub projection: Projection,
    /// Whether the plan file is carried inside.
    pub carry_plan: bool,
    /// Which chapters it has.
    pub chapters: Chapters,
}

impl BookOptions {
    /// As the plan wants it.
    pub fn of(plan: &Plan) -> BookOptions {
        let o = plan.options();
        BookOptions {
            paper: o.paper,
            print: o.print,
            language: o.language,
            projection: o.projection,
            carry_plan: true,
            chapters: Chapters::whole(),
        }
    }
}

pub use cells::List;
pub use changed::frozen_pages;
pub use chosen::{Chapters, Part};
pub use measured::Measured;
pub use progress::{Listener, listen};
pub use steps::StepText;
pub use turnleaf_assembly::Sight;

/// The build steps in the words of the book, the maker's changes made, and what is wrong with these.
pub fn build_steps(input: &BookInput, options: &BookOptions) -> (Vec<StepText>, Vec<Diagnostic>) {
    steps::texts(&cx::Cx::new(input, options))
}

/// One assembly drawing by itself: the turn in degrees; `of` names pieces, parts or sub-assemblies, all when
/// empty. What cannot be drawn comes back as one sentence.
pub fn drawing(
    input: &BookInput,
    options: &BookOptions,
    sight: Sight,
    turn: f64,
    of: &[String],
) -> Result<Page, String> {
    chapters::assembly::single(&cx::Cx::new(input, options), sight, turn, of)
}

/// The lists of the book as rows of cells, for programs.
pub fn lists(input: &BookInput, options: &BookOptions) -> Vec<List> {
    cells::all(input, options)
}

/// The sheets of one part as the book has them when the first is page `first`, long before the book is composed; empty
/// for a part that has none. Links are those of a whole book.
pub fn part_pages(input: &BookInput, options: &BookOptions, part: &str, first: usize) -> Vec<Page> {
    assemble::part_pages(input, options, part, first)
}

/// Composes the book.
pub fn compose(input: &BookInput, options: &BookOptions) -> (Document, Vec<Diagnostic>) {
    assemble::compose(input, options)
}
