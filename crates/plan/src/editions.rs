//! Editions of a plan: issuing one, making an issued one again, and comparing two.
//!
//! In: plans. Out: issued plans, books made again, [`Comparison`]s.
//! Always true: an edition is compared by what it prints; an issued book made again is held to the fingerprint it
//! was issued with, and what differs is said page by page.

use crate::cut_parts::{self, FINE};
use crate::entries::entries;
use crate::{BookOptions, Built, Diagnostic, Plan, build, pdf};
use turnleaf_dimension::printed;
use turnleaf_page::Document;
use turnleaf_planfile::FrozenPage;
use turnleaf_revise::pairs::by_name;
use turnleaf_revise::{Change, PageChange, PartVerdict, compare, compare_pages, print};

/// Version of this program, as issued plans carry it.
pub const PROGRAM: &str = env!("CARGO_PKG_VERSION");

/// A table with its book.
#[derive(Clone, Debug, PartialEq)]
pub struct Edition {
    /// The table.
    pub built: Built,
    /// Its book, by its plan's own options.
    pub document: Document,
}

impl Edition {
    /// Builds a plan as it goes to buyers, with its book.
    pub fn of(plan: &Plan) -> Result<Edition, Vec<Diagnostic>> {
        let built = build(&plan.edition())?;
        let (document, said) = built.book(&BookOptions::of(&built.plan));
        let errors: Vec<Diagnostic> =
            said.into_iter().filter(|d| d.severity == turnleaf_diag::Severity::Error).collect();
        if errors.is_empty() { Ok(Edition { built, document }) } else { Err(errors) }
    }

    /// Its book as a PDF file.
    fn file(&self) -> Result<Vec<u8>, Vec<Diagnostic>> {
        let wrong =
            |e| Diagnostic::error("revision.book", format!("The revision's book cannot be written: {e}"));
        pdf(&self.document).map_err(|e| vec![wrong(e)])
    }

    /// Its pages as an issued plan keeps them.
    pub fn frozen_pages(&self) -> Vec<FrozenPage> {
        turnleaf_book::frozen_pages(&self.document, &self.built.plan)
    }
}

/// Issues the present revision: its table and book are made, their fingerprints and the plan are frozen in the
/// plan, and the next revision begins. Every check must hold. A refusal changes nothing.
pub fn issue(plan: &mut Plan) -> Result<Edition, Vec<Diagnostic>> {
    plan.can_issue().map_err(|d| vec![d])?;
    let edition = Edition::of(plan)?;
    if let Some(check) = edition.built.checks.iter().find(|c| !c.holds) {
        let sentence = format!("The revision cannot be issued: {}", check.text);
        return Err(vec![Diagnostic::error("revision.checks", sentence)]);
    }
    let bytes = edition.file()?;
    let figures = turnleaf_book::changed::figures(&edition.document);
    plan.issue(PROGRAM, &print::of_bytes(&bytes), edition.frozen_pages(), figures).map_err(|d| vec![d])?;
    Ok(edition)
}

/// An issued book made again.
#[derive(Clone, Debug, PartialEq)]
pub struct Again {
    /// Table and book.
    pub edition: Edition,
    /// The PDF file.
    pub pdf: Vec<u8>,
    /// Whether it is the issued file, byte for byte.
    pub same: bool,
    /// What differs otherwise, in sentences.
    pub differs: Vec<String>,
}

/// Makes the book of an issued revision again.
pub fn again(plan: &Plan, mark: &str) -> Result<Again, Vec<Diagnostic>> {
    let Some(issued) = plan.issued(mark) else {
        let known: Vec<&str> =
            plan.revisions().iter().filter(|r| r.frozen().is_some()).map(|r| r.mark.as_str()).collect();
        let known = if known.is_empty() { "none".into() } else { known.join(", ") };
        let sentence = format!("There is no frozen plan of a revision {mark}; this file has {known}.");
        return Err(vec![Diagnostic::error("revision.unknown", sentence)]);
    };
    let edition = Edition::of(&issued?)?;
    let bytes = edition.file()?;
    let row = plan.revisions().iter().rfind(|r| r.mark == mark);
    let Some((row, frozen)) = row.and_then(|r| Some((r, r.frozen()?))) else {
        return Ok(Again { edition, pdf: bytes, same: false, differs: Vec::new() });
    };
    let same = frozen.book == print::of_bytes(&bytes);
    let mut differs = Vec::new();
    if !same {
        if frozen.program != PROGRAM {
            differs.push(format!("It was issued by version {}; this is {PROGRAM}.", frozen.program));
        }
        let pages = page_differences(row.pages(), &edition);
        if pages.is_empty() {
            differs.push("Every page prints the same; only the file is written differently.".into());
        }
        differs.extend(pages);
    }
    Ok(Again { edition, pdf: bytes, same, differs })
}

/// What differs between the pages as they were issued and as they are made now, in sentences.
fn page_differences(old: &[FrozenPage], now: &Edition) -> Vec<String> {
    let new = now.frozen_pages();
    let title = |id: &str| now.document.pages.iter().find(|p| p.id == id).map(|p| p.title.as_str());
    let named = |id: &str| match title(id) {
        Some(title) => format!("The page “{title}” ({id})"),
        None => format!("The page {id}"),
    };
    let said = |(was, is): (Option<&FrozenPage>, Option<&FrozenPage>)| match (was, is) {
        (None, Some(p)) => Some(format!("{} is new.", named(&p.id))),
        (Some(p), None) => Some(format!("{} is gone.", named(&p.id))),
        (Some(a), Some(b)) if a.print != b.print => Some(format!("{} prints differently.", named(&b.id))),
        (Some(a), Some(b)) if (&a.flags, &a.marks) != (&b.flags, &b.marks) => {
            Some(format!("{} is the same, but marked as changed in another way.", named(&b.id)))
        }
        _ => None,
    };
    by_name(old.iter().map(|p| p.id.as_str()), new.iter().map(|p| p.id.as_str()))
        .into_iter()
        .filter_map(|(a, b)| said((a.map(|i| &old[i]), b.map(|i| &new[i]))))
        .collect()
}

/// Two editions side by side.
#[derive(Clone, Debug, PartialEq)]
pub struct Comparison {
    /// Sizes, options, numbers, parts, hardware, dimensions, steps that changed.
    pub changes: Vec<Change>,
    /// Every page of both books.
    pub pages: Vec<PageChange>,
    /// What becomes of parts already cut.
    pub parts: Vec<PartVerdict>,
    /// Checks that fail when the parts that stay good are put into the newer table, in sentences.
    pub old_parts_fail: Vec<String>,
    /// A part that is off by no more than this is the same part, mm.
    pub step: f64,
}

/// Compares two editions.
pub fn compare_editions(old: &Edition, new: &Edition) -> Comparison {
    Comparison {
        pages: compare_pages(&old.document.pages, &new.document.pages),
        ..compare_tables(&old.built, &new.built)
    }
}

/// Compares two tables without their books: there are no pages in the result.
pub fn compare_tables(old: &Built, new: &Built) -> Comparison {
    let options = new.plan.options();
    let step = printed::step_of(options.print.print_units());
    let (parts, old_parts_fail) = cut_parts::judge(old, new, step);
    Comparison {
        // Both are written by the newer plan's rules, so that another unit alone is no change.
        changes: compare(&entries(old, options), &entries(new, options)),
        pages: Vec::new(),
        parts,
        old_parts_fail,
        step: step.min(FINE),
    }
}

/// The change notice from one edition to a later one, in the later one's language, units and paper.
pub fn notice(old: &Edition, new: &Edition, c: &Comparison) -> (Document, Vec<Diagnostic>) {
    let plan = &new.built.plan;
    let from = &old.built.plan.revision().mark;
    let after = plan.revisions().iter().skip_while(|r| r.mark != *from).skip(1);
    let mut why: Vec<(String, String)> = after.map(|r| (r.mark.clone(), r.what.clone())).collect();
    why.push((plan.revision().mark.clone(), plan.revision().reasons.join(" ")));
    let input = turnleaf_book::notice::NoticeInput {
        from: (from, old.built.plan.revision().date),
        old_parts: &old.built.assembly.parts,
        changes: &c.changes,
        pages: &c.pages,
        parts: &c.parts,
        why: &why,
    };
    turnleaf_book::notice::compose(&new.built.input(""), &input, &BookOptions::of(plan))
}
