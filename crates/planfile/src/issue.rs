//! Issued revisions: frozen inside the plan file.
//!
//! In: a plan with a dated revision. Out: the same plan with that revision frozen in it, and frozen plans again.
//! Always true: no edit reaches a frozen plan; what is frozen holds nothing private (see [`Plan::edition`]); a
//! frozen plan with the rows of the revisions before it makes the book that was issued.

use crate::json::Json;
use crate::picture;
use crate::plan::{Plan, check_list};
use crate::read;
use crate::shared;
use crate::texts::{self, NOTE_MAX, PastRevision, Revision};
use std::sync::Arc;
use turnleaf_diag::Diagnostic;

/// Letters of revision marks in order: those that are not misread (see [`Revision::mark`]).
const LETTERS: &[u8] = b"ABCDEFGHJKLMNPRTUVWY";

/// A page of an issued book.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FrozenPage {
    /// Stable identifier of what is on the page.
    pub id: String,
    /// Fingerprint of what it prints, its revision mark left out.
    pub print: String,
    /// Short fingerprints, end to end, of what was new on it when it last changed.
    pub flags: String,
    /// Marks of the revisions in which it changed, oldest first; the first is that in which it came.
    pub marks: Vec<String>,
}

/// What is kept of an issued revision.
#[derive(Clone, Debug, PartialEq)]
pub struct Frozen {
    /// Version of the program that issued it.
    pub program: String,
    /// Fingerprint of the issued book's PDF file.
    pub book: String,
    /// The plan without its list of earlier revisions, which stands in the file already.
    pub(crate) plan: Json,
}

/// The mark after a mark; none after `YY` and 99.
pub fn next_mark(mark: &str) -> Option<String> {
    if let Ok(n) = mark.parse::<u32>() {
        return (n < 99).then(|| (n + 1).to_string());
    }
    let places: Option<Vec<usize>> = mark.bytes().map(|b| LETTERS.iter().position(|l| *l == b)).collect();
    let letter = |i: usize| char::from(LETTERS[i]).to_string();
    let last = LETTERS.len() - 1;
    match places?.as_slice() {
        [a] if *a < last => Some(letter(a + 1)),
        [_] => Some("AA".into()),
        [a, b] if *b < last => Some(letter(*a) + &letter(b + 1)),
        [a, _] if *a < last => Some(letter(a + 1) + "A"),
        _ => None,
    }
}

/// The first mark after this one that is not taken; else the first letter or number that is
/// free. None when all are taken.
fn free_mark(after: &str, taken: impl Fn(&str) -> bool) -> Option<String> {
    let from = |first: &str| std::iter::successors(Some(first.to_string()), |mark| next_mark(mark));
    from(after).skip(1).chain(from("A")).chain(from("1")).find(|mark| !taken(mark))
}

impl Plan {
    /// The plan as it goes into a book and to buyers: without the frozen plans of earlier revisions (their rows
    /// stay, and the pages of the last one, since each page prints the revision in which it changed), and of the
    /// buyers' questions only the answers that are printed.
    pub fn edition(&self) -> Plan {
        let mut out = self.clone();
        let last = out.revisions.len().saturating_sub(1);
        for (i, past) in out.revisions.iter_mut().enumerate() {
            past.frozen = None;
            if i < last {
                past.pages = Arc::default();
                past.figures = Arc::from("");
            }
        }
        out.shared.clear();
        out.questions = self.questions.iter().filter_map(|q| q.printed_only()).collect();
        out
    }

    /// Whether the present revision can be issued: it has a date, not before the last one's, and a new mark.
    pub fn can_issue(&self) -> Result<(), Diagnostic> {
        let now = &self.revision;
        let Some(date) = now.date else {
            let sentence =
                "The revision has no date; give the day on which it is issued, such as 2025-03-14.";
            return Err(Diagnostic::error("revision.date.missing", sentence));
        };
        if self.revisions.iter().any(|r| r.mark == now.mark) {
            let sentence = format!("A revision {} was issued before; give this one another mark.", now.mark);
            return Err(Diagnostic::error("revision.mark.taken", sentence));
        }
        if let Some(last) = self.revisions.last().filter(|r| r.date > date) {
            let sentence = format!(
                "The revision is dated {date}, before revision {} of {}; give a later day.",
                last.mark, last.date
            );
            return Err(Diagnostic::error("revision.date.early", sentence));
        }
        check_list("revisions", "earlier revisions", self.revisions.len() + 1)
    }

    /// Freezes the present revision and begins the next: `program` issued it, `book`, `pages` and
    /// `figures` (short fingerprints, end to end, of everything that can change) are those of its book. A refusal
    /// changes nothing.
    pub fn issue(
        &mut self,
        program: &str,
        book: &str,
        pages: Vec<FrozenPage>,
        figures: String,
    ) -> Result<(), Diagnostic> {
        self.can_issue()?;
        let now = self.revision.clone();
        let Some(date) = now.date else { return Ok(()) };
        let what: String = now.reasons.join(" ").chars().take(NOTE_MAX).collect();
        texts::check("revisions", "account of the revision", &what, NOTE_MAX)?;
        let Json::Object(mut pairs) = self.edition().tree() else { return Ok(()) };
        pairs.retain(|(key, _)| key != "revisions");
        let mut plan = Json::Object(pairs);
        let mut out = self.clone();
        shared::take_out(&mut plan, &mut out.shared);
        let mut past = PastRevision::new(now.mark.clone(), date, what);
        past.frozen = Some(Arc::new(Frozen { program: program.into(), book: book.into(), plan }));
        past.pages = Arc::new(pages);
        past.figures = figures.into();
        out.revisions.push(past);
        // With every mark taken the last one stays, and the next issue is refused for it.
        let taken = |mark: &str| out.revisions.iter().any(|r| r.mark == mark);
        let mark = free_mark(&now.mark, taken).unwrap_or(now.mark);
        out.revision = Revision { mark, date: None, reasons: Vec::new() };
        // A file that could not be opened again would lose every revision in it.
        let bytes = out.to_json().len();
        if bytes > read::BYTES_MAX {
            let sentence = format!(
                "With this revision the plan file has {:.1} MB; 5 MB fit. Save pictures of the steps smaller, or take some out, and issue it then.",
                bytes as f64 / 1e6
            );
            return Err(Diagnostic::error("revision.large", sentence));
        }
        *self = out;
        Ok(())
    }

    /// Takes over what a later state of this plan has issued: bringing sizes and words back brings back no revision
    /// that buyers may already have.
    pub fn keep_issued(&mut self, later: &Plan) {
        self.revisions.clone_from(&later.revisions);
        self.shared.clone_from(&later.shared);
        if self.revisions.iter().any(|r| r.mark == self.revision.mark) {
            self.revision = later.revision.clone();
        }
    }

    /// The plan of an issued revision, as it was. None when no revision has that mark or its plan was not kept;
    /// an error when the file was changed so that it no longer reads.
    pub fn issued(&self, mark: &str) -> Option<Result<Plan, Vec<Diagnostic>>> {
        self.thawed(mark, picture::WHOLE)
    }

    /// The same for a file whose pictures were decoded when it came: only their headers are read.
    pub fn issued_known(&self, mark: &str) -> Option<Result<Plan, Vec<Diagnostic>>> {
        self.thawed(mark, picture::HEADER)
    }

    /// Whether there are pictures in its steps or in those of issued revisions.
    pub fn has_pictures(&self) -> bool {
        !self.shared.is_empty() || self.steps.iter().any(|step| !step.pictures.is_empty())
    }

    fn thawed(&self, mark: &str, look: picture::Look) -> Option<Result<Plan, Vec<Diagnostic>>> {
        let i = self.revisions.iter().rposition(|r| r.mark == mark)?;
        let mut plan = self.revisions[i].frozen.as_ref()?.plan.clone();
        shared::put_back(&mut plan, &self.shared);
        let Json::Object(mut pairs) = plan else { return None };
        let rows = (0..i).map(|k| self.revisions[k].row(false, k + 1 == i)).collect();
        pairs.push(("revisions".into(), Json::List(rows)));
        let issued_by = Some(self.revisions[i].frozen.as_ref()?.program.clone());
        Some(read::plan_of(pairs, look).map(|(plan, _)| Plan { issued_by, ..plan }))
    }

    /// Version of the program that issued this plan, when it was taken from an issued revision by [`Plan::issued`]:
    /// its book says that version. Empty when the file does not tell; none for a plan at work.
    pub fn issued_by(&self) -> Option<&str> {
        self.issued_by.as_deref()
    }
}

impl PastRevision {
    /// What was kept of it, when it was issued from this file.
    pub fn frozen(&self) -> Option<&Frozen> {
        self.frozen.as_deref()
    }

    /// Pages of its book, when it was issued from this file.
    pub fn pages(&self) -> &[FrozenPage] {
        &self.pages
    }

    /// Short fingerprints of everything its book prints that can change, end to end.
    pub fn figures(&self) -> &str {
        &self.figures
    }

    /// As the file has it, with or without what is frozen and the pages.
    pub(crate) fn row(&self, frozen: bool, pages: bool) -> Json {
        let pair = |key: &str, value: &str| (key.to_string(), Json::text(value));
        let mut out =
            vec![pair("mark", &self.mark), pair("date", &self.date.to_string()), pair("what", &self.what)];
        if pages && !(self.pages.is_empty() && self.figures.is_empty()) {
            let page = |p: &FrozenPage| {
                let head = [Json::text(&p.id), Json::text(&p.print), Json::text(&p.flags)];
                Json::List(head.into_iter().chain(p.marks.iter().map(Json::text)).collect())
            };
            out.push(("pages".to_string(), Json::List(self.pages.iter().map(page).collect())));
            out.push(pair("figures", &self.figures));
        }
        if let Some(f) = self.frozen.as_ref().filter(|_| frozen) {
            let frozen = vec![
                pair("program", &f.program),
                pair("book", &f.book),
                ("plan".to_string(), f.plan.clone()),
            ];
            out.push(("frozen".to_string(), Json::Object(frozen)));
        }
        out.extend_from_slice(&self.extra);
        Json::Object(out)
    }
}
