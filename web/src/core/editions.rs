//! Editions: issuing one, making an issued one again, comparing two, what a question can be about.
//!
//! In: plans as text. Out: plain values that can cross to another thread, and files.
//! Always true: of each pair compared the newer plan's units and language are used; nothing private to the maker
//! is in what goes to buyers; the editions worked out last are kept, so that a comparison, its overlays and its
//! notice cost two books, not six.

mod overlay;
mod say;
mod told;

use super::Plan;
use turnleaf_page::Document;
use turnleaf_plan::{Change, Edition, Group, PageState, difference_text};

pub use told::{Compared, Issued, Line, Overlay, PageFate, PageLine, PartFate, PartLine, Side, Thing};

/// Editions that were asked about.
#[derive(Default)]
pub struct Editions {
    kept: Vec<(Plan, Edition)>,
}

/// Most editions kept: both sides of a comparison and the present one.
const KEPT: usize = 3;

fn first(found: &[turnleaf_plan::Diagnostic]) -> String {
    crate::kept::first(found)
}

fn parse(text: &str) -> Result<Plan, String> {
    Plan::parse(text.as_bytes()).map(|(plan, _)| plan).map_err(|found| first(&found))
}

/// The plan of a side as it goes to buyers.
fn plan_of(side: &Side) -> Result<Plan, String> {
    let plan = parse(&side.plan)?;
    let Some(mark) = &side.mark else { return Ok(plan.edition()) };
    match plan.issued(mark) {
        Some(issued) => issued.map(|p| p.edition()).map_err(|found| first(&found)),
        None => Err(format!("The plan of revision {mark} was not kept in this file.")),
    }
}

impl Editions {
    /// Makes sure that the edition of a plan is at hand; its place.
    fn find(&mut self, plan: &Plan) -> Result<usize, String> {
        if let Some(at) = self.kept.iter().position(|(of, _)| of == plan) {
            let found = self.kept.remove(at);
            self.kept.push(found);
        } else {
            let edition = Edition::of(plan).map_err(|found| first(&found))?;
            if self.kept.len() >= KEPT {
                self.kept.remove(0);
            }
            self.kept.push((plan.clone(), edition));
        }
        Ok(self.kept.len() - 1)
    }

    fn pair(&mut self, old: &Side, new: &Side) -> Result<(&Edition, &Edition), String> {
        let (old, new) = (plan_of(old)?, plan_of(new)?);
        self.find(&old)?;
        let newer = self.find(&new)?;
        let older = self.kept.iter().position(|(of, _)| *of == old).unwrap_or(newer);
        Ok((&self.kept[older].1, &self.kept[newer].1))
    }

    /// Issues the present revision of a plan.
    pub fn issue(&mut self, plan: &str) -> Result<Issued, String> {
        let mut plan = parse(plan)?;
        let mark = plan.revision().mark.clone();
        let edition = turnleaf_plan::issue(&mut plan).map_err(|found| first(&found))?;
        Ok(Issued { plan: plan.to_json(), mark, pages: edition.document.pages.len() })
    }

    /// The book of an issued revision, and what differs from the file it was issued with.
    pub fn again(&mut self, plan: &str, mark: &str) -> Result<(Vec<String>, Vec<u8>), String> {
        let again = turnleaf_plan::again(&parse(plan)?, mark).map_err(|found| first(&found))?;
        Ok((again.differs, again.pdf))
    }

    /// Compares two editions.
    pub fn compare(&mut self, old: &Side, new: &Side) -> Result<Compared, String> {
        let (old, new) = self.pair(old, new)?;
        let found = turnleaf_plan::compare_editions(old, new);
        let plan = &new.built.plan;
        let of = |id: &str| {
            let name = |e: &Edition| e.built.assembly.part(id).map(|p| p.name.clone());
            name(new).or_else(|| name(old)).unwrap_or_default()
        };
        let line = |c: &Change| Line {
            group: c.group.key().into(),
            id: c.id.clone(),
            label: match c.group {
                Group::Dimension => {
                    format!("{}: {}", of(c.id.split('/').next().unwrap_or_default()), c.label)
                }
                _ => c.label.clone(),
            },
            old: c.old.clone(),
            new: c.new.clone(),
            difference: c.difference.map_or(String::new(), |d| difference_text(&d, plan.options())),
        };
        let page = |p: &turnleaf_plan::PageChange| PageLine {
            id: p.id.clone(),
            title: p.title.clone(),
            old: p.old,
            new: p.new,
            fate: match p.state {
                PageState::Same => PageFate::Same,
                PageState::Renumbered => PageFate::Renumbered,
                PageState::Changed => PageFate::Changed,
                PageState::Added => PageFate::Added,
                PageState::Removed => PageFate::Removed,
            },
        };
        Ok(Compared {
            lines: found.changes.iter().map(line).collect(),
            pages: found.pages.iter().map(page).collect(),
            parts: found
                .parts
                .iter()
                .filter(|v| v.made)
                .map(|v| say::part_line(plan, v, found.step, &of))
                .collect(),
            fails: found.old_parts_fail,
        })
    }

    /// One page of both books, laid over each other.
    pub fn overlay(&mut self, old: &Side, new: &Side, id: &str) -> Result<Overlay, String> {
        let (old, new) = self.pair(old, new)?;
        let page = |d: &Document| d.pages.iter().find(|p| p.id == id).cloned();
        let (was, is) = (page(&old.document), page(&new.document));
        overlay::laid(was, is, &new.built.numbers).ok_or_else(|| format!("Neither book has a page “{id}”."))
    }

    /// The change notice from one edition to another, as a file.
    pub fn notice(&mut self, old: &Side, new: &Side) -> Result<Vec<u8>, String> {
        let (old, new) = self.pair(old, new)?;
        let found = turnleaf_plan::compare_editions(old, new);
        let (document, _) = turnleaf_plan::notice(old, new, &found);
        turnleaf_plan::pdf(&document).map_err(|e| format!("The change notice could not be written: {e}"))
    }

    /// Everything that a question can be about.
    pub fn things(&mut self, plan: &str) -> Result<Vec<Thing>, String> {
        let plan = parse(plan)?.edition();
        let at = self.find(&plan)?;
        let edition = &self.kept[at].1;
        let name = |id: &str| edition.built.assembly.part(id).map(|p| p.name.clone()).unwrap_or_default();
        let mut out = Vec::new();
        for e in turnleaf_plan::entries(&edition.built, edition.built.plan.options()) {
            let (about, of) = match e.group {
                Group::Dimension => ("dimension", name(e.id.split('/').next().unwrap_or_default())),
                Group::Part => ("part", String::new()),
                Group::Step => ("step", String::new()),
                _ => continue,
            };
            let label = match e.group {
                Group::Dimension => format!("{}, {}", e.label, e.print),
                _ => e.label,
            };
            out.push(Thing { about: about.into(), id: e.id, label, of });
        }
        let pages = edition.document.pages.iter().map(|p| Thing {
            about: "page".into(),
            id: p.id.clone(),
            label: format!("{}: {}", p.label, p.title),
            of: String::new(),
        });
        out.extend(pages);
        Ok(out)
    }
}
