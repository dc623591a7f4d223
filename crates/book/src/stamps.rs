//! The revision that each page belongs to.
//!
//! In: the plan with the pages of its last issued revision, and pages. Out: for every page the marks of the
//! revisions in which it changed.
//! Always true: a page that prints what it printed when last issued keeps its mark; the sheets of one part go
//! together; what is stamped on a page afterwards does not make it another page.

use std::collections::BTreeMap;
use turnleaf_page::{Item, Page, Role};
use turnleaf_planfile::{Date, FrozenPage, Plan};
use turnleaf_revise::print;

/// Marks of pages as they were last issued.
pub struct Marks<'a> {
    plan: &'a Plan,
    issued: BTreeMap<&'a str, &'a FrozenPage>,
}

impl<'a> Marks<'a> {
    /// Of a plan.
    pub fn of(plan: &'a Plan) -> Marks<'a> {
        let pages = plan.revisions().last().map_or(&[][..], |r| r.pages());
        Marks { plan, issued: pages.iter().map(|p| (p.id.as_str(), p)).collect() }
    }

    /// A page as it was last issued.
    pub fn issued(&self, id: &str) -> Option<&'a FrozenPage> {
        self.issued.get(id).copied()
    }

    /// Marks that the pages of one unit carried when last issued, oldest first.
    pub fn before(&self, unit: &str) -> Vec<String> {
        let mut out: Vec<String> = Vec::new();
        for page in self.issued.values().filter(|p| unit_of(&p.id) == unit) {
            out.extend(page.marks.iter().filter(|m| !out.contains(m)).cloned().collect::<Vec<_>>());
        }
        let order = |mark: &String| self.plan.revisions().iter().position(|r| r.mark == *mark);
        out.sort_by_key(order);
        out
    }

    /// Whether the pages of a unit print what they printed when last issued.
    pub fn same(&self, unit: &str, pages: &[&Page]) -> bool {
        let issued = self.issued.values().filter(|p| unit_of(&p.id) == unit).count();
        issued == pages.len()
            && pages
                .iter()
                .all(|p| self.issued.get(p.id.as_str()).is_some_and(|i| i.print == print::of_page(p)))
    }

    /// Marks of a unit's pages now.
    pub fn now(&self, unit: &str, pages: &[&Page]) -> Vec<String> {
        let mut marks = self.before(unit);
        if marks.is_empty() || !self.same(unit, pages) {
            marks.push(self.plan.revision().mark.clone());
        }
        marks
    }

    /// Date and account of a revision.
    pub fn revision(&self, mark: &str) -> (Option<Date>, String) {
        match self.plan.revisions().iter().rfind(|r| r.mark == mark) {
            Some(r) => (Some(r.date), r.what.clone()),
            None => (self.plan.revision().date, self.plan.revision().reasons.join(" ")),
        }
    }
}

/// What a page's mark goes with: the sheets of one part are one unit, any other page is its own.
pub fn unit_of(id: &str) -> &str {
    let part = id.strip_prefix("sheet/").filter(|part| !part.starts_with("assembly/"));
    match part.and_then(|part| part.find('/')) {
        Some(end) => &id[.."sheet/".len() + end],
        None => id,
    }
}

/// Items stamped on a page: they do not make it another page.
pub fn stamp(name: &str, items: Vec<Item>) -> Item {
    Item::Group { role: Role::Plain, origin: None, id: Some(format!("{}{name}", print::STAMP)), items }
}
