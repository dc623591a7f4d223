//! Facade: from a plan file to everything built from it.
//!
//! In: a [`Plan`]. Out: a [`Built`] table, or the sizes at odds with remedies that were tried.
//! Always true: the stages run in this order, one line each — sizes, mechanism, parts, proof, checks — and
//! the same plan gives the same result, natively and in the browser.
//!
//! ```
//! use turnleaf_plan::{Plan, build, open};
//!
//! let mut plan = Plan::default_metric();
//! plan.set("closed_diameter", "1200 mm")?;
//! plan.set("open_diameter", "1650 mm")?;
//! plan.set("sectors", "6")?;
//!
//! // Mechanism, parts, the proof over the whole turn, checks with margins.
//! let table = build(&plan).expect("these sizes can be built");
//! assert!(table.sound());
//! // n = 6: the gap between two panels is as wide as they travel (2·e·sin 30°).
//! let gap = table.number("gap.width").map(|n| n.value);
//! assert!(gap.is_some_and(|gap| (gap - 225.0).abs() < 1e-9));
//!
//! // Sizes at odds come back as sentences.
//! plan.set("open_diameter", "3000 mm")?;
//! let problems = build(&plan).unwrap_err();
//! assert!(problems.iter().all(|d| d.sentence.ends_with('.')));
//!
//! // A saved plan is the plan.
//! let (again, remarks) = open(plan.to_json().as_bytes()).expect("what was saved opens");
//! assert!(again == plan && remarks.is_empty());
//! # Ok::<(), turnleaf_plan::Diagnostic>(())
//! ```

mod begin;
mod cut_parts;
mod cutting;
mod editions;
mod entries;
mod gather;
mod lists;
mod mending;
mod open;
mod shop;
mod trouble;
mod words;

pub use begin::{Answers, Begun, ELBOW_ROOM, Nearest, NoTable, begin, read_seats};
pub use cutting::{Cutting, StockOnHand, sheet as sheets_of};
pub use editions::{
    Again, Comparison, Edition, PROGRAM, again, compare_editions, compare_tables, issue, notice,
};
pub use entries::{difference_text, entries, spoken};
pub use gather::sizes;
pub use mending::{Mend, as_given, remedies_for, remedies_for_figure, remedies_for_plan};
pub use open::open;
pub use shop::template_options;
pub use turnleaf_book::{BookOptions, Chapters, Part as Chapter, Sight, StepText, listen};
pub use turnleaf_diag::{Diagnostic, Severity};
pub use turnleaf_figures::{Assumptions, Figure, NOTICE};
pub use turnleaf_fit::{Fitted, Goal, Interval, NoFit, Wish, fit, interval};
pub use turnleaf_mechanism::{DriveKind, Mechanism, Number, Unit};
pub use turnleaf_motion::expect::Expect;
pub use turnleaf_motion::proof::FAR;
pub use turnleaf_motion::{Access, Check, PairResult, Pinch, Posed, Proof, pose};
pub use turnleaf_nest::{Effort, Layout, Layouts, Sheet};
pub use turnleaf_page::{Document, Page, Paper};
pub use turnleaf_parts::Assembly;
use turnleaf_parts::build::NoStops;
pub use turnleaf_pdf::{PdfProblem, is_pdf};
pub use turnleaf_planfile as planfile;
pub use turnleaf_planfile::Plan;
pub use turnleaf_register as register;
pub use turnleaf_register::{csv_cell, csv_text};
pub use turnleaf_revise::print::of_bytes as fingerprint;
pub use turnleaf_revise::{
    Amount, Change, Entry, Group, Lie, Measure, PageChange, PageState, PartVerdict, Reason, Verdict, Work,
    WorkKind, alike_reasons, alike_work,
};
pub use turnleaf_template::{
    CutFile, CutShape, MEASURED_LEAST, MEASURED_MOST, TemplateOptions, cut_svg, from_sheet, index_csv,
    stock_svg,
};
pub use turnleaf_units as units;
pub use words::{number_text, plan_text};

use turnleaf_book::BookInput;
use turnleaf_diag::Origin;
use turnleaf_geom::trig;
use turnleaf_svg::{Letters, SvgOptions};

/// A table built from a plan.
#[derive(Clone, Debug, PartialEq)]
pub struct Built {
    /// The plan it was built from.
    pub plan: Plan,
    /// Parts and pieces, with the mechanism they belong to.
    pub assembly: Assembly,
    /// Solved numbers in book order.
    pub numbers: Vec<Number>,
    /// Clearances over the whole turn.
    pub proof: Proof,
    /// Everything that can go wrong, with margins.
    pub checks: Vec<Check>,
}

/// Builds a table: everything but the book.
pub fn build(plan: &Plan) -> Result<Built, Vec<Diagnostic>> {
    let sizes = gather::sizes(plan);
    let mechanism = turnleaf_mechanism::solve(&sizes).map_err(|t| trouble::explain(plan, &sizes, &t))?;
    let assembly = turnleaf_parts::assemble(&mechanism);
    let proof = turnleaf_motion::prove(&assembly);
    let checks = turnleaf_motion::checks(&assembly, &proof);
    let numbers = turnleaf_mechanism::numbers(&mechanism);
    Ok(Built { plan: plan.clone(), assembly, numbers, proof, checks })
}

/// Parts and pieces alone, without proof, checks or remedies: quick enough to follow a size while it is dragged.
pub fn outline(plan: &Plan) -> Result<Assembly, Vec<Diagnostic>> {
    let sizes = gather::sizes(plan);
    let mechanism = turnleaf_mechanism::solve(&sizes).map_err(|t| trouble::name(&t))?;
    Ok(turnleaf_parts::assemble(&mechanism))
}

impl Built {
    /// The mechanism.
    pub fn mechanism(&self) -> &Mechanism {
        &self.assembly.mechanism
    }
    /// Whole turn, degrees.
    pub fn turn_degrees(&self) -> f64 {
        trig::deg(self.mechanism().turn())
    }
    /// Every piece at a turn in degrees (clamped to the table's range).
    pub fn pose(&self, turn_degrees: f64) -> Vec<Posed> {
        turnleaf_motion::pose(&self.assembly, trig::rad(turn_degrees))
    }
    /// Gaps that a finger can be pinched in while the top turns, from above first, then in order of turn.
    pub fn pinch_points(&self) -> Vec<Pinch> {
        turnleaf_motion::pinch_points(&self.assembly)
    }
    /// What the table goes without, though it is sound.
    pub fn warnings(&self) -> Vec<Diagnostic> {
        let why = match turnleaf_parts::build::why_no_stops(self.mechanism()) {
            None => return Vec::new(),
            Some(NoStops::Narrow(room, need)) => format!(
                "between the base's rim and the closed edge {room:.0} mm are left for them, and {need:.0} mm are needed"
            ),
            Some(NoStops::Crowded) => {
                "nowhere round the base's rim are both ends of the turn clear of legs, guide shafts and roller pockets".into()
            }
        };
        let sentence = format!("This table has no end stops and no latch: {why}.");
        let hint = "Fit stops of your own, such as screws through the turning plate that meet a block on the base, or try another number of sectors or a wider table.";
        vec![Diagnostic::warning("stops.none", sentence).hint(hint)]
    }
    /// Strength, weight and safety figures: guidance, not certification (see [`NOTICE`]).
    pub fn figures(&self) -> Vec<Figure> {
        turnleaf_figures::figures(&self.assembly, &Assumptions::default())
    }
    /// What books and drawings are made of; `plan_json` is carried inside a book.
    pub(crate) fn input<'a>(&'a self, plan_json: &'a str) -> BookInput<'a> {
        BookInput {
            plan: &self.plan,
            assembly: &self.assembly,
            numbers: &self.numbers,
            checks: &self.checks,
            proof: &self.proof,
            figures: &[],
            cutting: None,
            measured: None,
            plan_json,
            // An issued book made again says what it said when it was issued.
            program: self.plan.issued_by().unwrap_or(PROGRAM),
        }
    }
    /// The finished book, and what did not fit.
    pub fn book(&self, options: &BookOptions) -> (Document, Vec<Diagnostic>) {
        // A book goes to others: it carries nothing that is private to the maker.
        let json = self.plan.edition().to_json();
        let has = |part: Chapter| options.chapters.has(part);
        let needed = [Chapter::Strength, Chapter::Lists, Chapter::Adjusting].into_iter().any(has);
        let figures = if needed { self.figures() } else { Vec::new() };
        let wanted = has(Chapter::Cutting) || has(Chapter::Lists);
        let cutting = wanted.then(|| self.book_layouts());
        let measured = gather::measured(&self.plan, &self.numbers, &self.assembly);
        let input = BookInput {
            figures: &figures,
            cutting: cutting.as_ref(),
            measured: measured.as_ref(),
            ..self.input(&json)
        };
        let (document, mut said) = turnleaf_book::compose(&input, options);
        if let Some(nested) = &cutting {
            Built::remember(nested);
            said.extend(
                nested.found().as_ref().err().map(|s| Diagnostic::warning("book.cutting", s.clone())),
            );
        }
        said.extend(self.warnings());
        (document, said)
    }
    /// The sheets of one part as the book has them when the first is page `first`; empty for a part that has none.
    pub fn part_pages(&self, options: &BookOptions, part: &str, first: usize) -> Vec<Page> {
        let measured = gather::measured(&self.plan, &self.numbers, &self.assembly);
        let input = BookInput { measured: measured.as_ref(), ..self.input("") };
        turnleaf_book::part_pages(&input, options, part, first)
    }
    /// The build steps in the words of the book, the maker's changes made, and what is wrong with these.
    pub fn steps(&self, options: &BookOptions) -> (Vec<StepText>, Vec<Diagnostic>) {
        turnleaf_book::build_steps(&self.input(""), options)
    }
    /// One assembly drawing by itself: the turn in degrees; `of` names pieces, parts or sub-assemblies, all when
    /// empty. What cannot be drawn comes back as one sentence.
    pub fn drawing(
        &self,
        options: &BookOptions,
        sight: Sight,
        turn: f64,
        of: &[String],
    ) -> Result<Page, String> {
        turnleaf_book::drawing(&self.input(""), options, sight, turn, of)
    }
    /// Full-size templates of parts, tiled over paper, and what did not fit. Options that cannot be used give
    /// no pages and an error for each.
    pub fn templates(&self, options: &TemplateOptions) -> (Document, Vec<Diagnostic>) {
        turnleaf_template::templates(&self.assembly.parts, options)
    }
    /// What a machine does with each part cut from a sheet.
    pub fn cut_files(&self) -> (Vec<CutFile>, Vec<Diagnostic>) {
        turnleaf_template::cut_files(&self.assembly.parts)
    }
    /// Whether every check holds.
    pub fn sound(&self) -> bool {
        self.checks.iter().all(|c| c.holds)
    }
    /// A solved number by identifier.
    pub fn number(&self, id: &str) -> Option<&Number> {
        self.numbers.iter().find(|n| n.id == id)
    }
}

/// A book as PDF. The same document gives the same bytes on every platform.
pub fn pdf(document: &Document) -> Result<Vec<u8>, PdfProblem> {
    turnleaf_pdf::write(document)
}

/// A page as SVG for showing beside the bundled fonts. Groups that show a size or a solved number carry its
/// name ("size/closed_diameter", "solved/gap.width") in `data-origin`.
pub fn page_svg(page: &Page, numbers: &[Number]) -> String {
    svg(page, numbers, Letters::Named)
}

/// A page as a stand-alone SVG file that carries its fonts.
pub fn page_svg_embedded(page: &Page, numbers: &[Number]) -> String {
    svg(page, numbers, Letters::Embedded)
}

fn svg(page: &Page, numbers: &[Number], letters: Letters) -> String {
    let origin_name = |origin: Origin| match origin {
        Origin::Size(i) => match turnleaf_planfile::field_of(origin) {
            Some(f) => format!("size/{}", f.id),
            None => format!("size/{i}"),
        },
        Origin::Solved(i) => match numbers.get(usize::from(i)) {
            Some(n) => format!("solved/{}", n.id),
            None => format!("solved/{i}"),
        },
    };
    turnleaf_svg::page_svg_with(page, &SvgOptions { letters, origin_name: &origin_name, sheet: true })
}
