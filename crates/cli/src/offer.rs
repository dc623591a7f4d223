//! A plan for buyers, and the maker's next revision put onto a buyer's own sizes.

use crate::{files, load};
use std::path::Path;
use turnleaf_plan::planfile::{Choice, Limit, PrintChoice, field};
use turnleaf_plan::{Paper, Plan};

/// What is offered.
pub struct Wanted<'a> {
    /// Sizes, such as `height` or `height=700 mm..760 mm`.
    pub sizes: &'a [String],
    /// Units that may be printed.
    pub units: &'a [String],
    /// Papers that may be printed on.
    pub papers: &'a [String],
    /// What a buyer may do with the plan.
    pub licence: &'a str,
}

/// Writes a plan for buyers; says the limits of each size.
pub fn offer(path: &Path, out: &Path, wanted: &Wanted) -> Result<String, String> {
    let plan = load::plan(path)?;
    let mut limits = Vec::new();
    let mut said = String::new();
    for size in wanted.sizes {
        let limit = limit(&plan, size)?;
        let (low, high) = limit.texts();
        said += &format!("{}: {low} to {high}\n", limit.size());
        limits.push(limit);
    }
    let units = words::<PrintChoice>(wanted.units, "choice of units", "mm, in, both")?;
    let papers = words::<Paper>(wanted.papers, "paper", "a4, a3, a2, letter, tabloid, arch-c")?;
    let buyers = plan.for_buyers(limits, units, papers, wanted.licence).map_err(|d| d.sentence)?;
    files::write(out, buyers.to_json())?;
    Ok(said)
}

fn words<C: Choice>(list: &[String], name: &str, known: &str) -> Result<Vec<C>, String> {
    let one =
        |w: &String| C::from_key(w).ok_or_else(|| format!("The {name} “{w}” is not known; use {known}."));
    list.iter().map(one).collect()
}

/// Limits as given, or the whole interval in which the table works.
fn limit(plan: &Plan, text: &str) -> Result<Limit, String> {
    if let Some((id, ends)) = text.split_once('=') {
        let Some((low, high)) = ends.split_once("..") else {
            return Err(format!("The limits “{ends}” need two points between them, as in 700 mm..760 mm."));
        };
        return plan.limit(id.trim(), low, high).map_err(|d| d.sentence);
    }
    let id = text.trim();
    if field(id).is_none() {
        return Err(format!("There is no size called “{id}”."));
    }
    let found = turnleaf_plan::interval(&turnleaf_plan::sizes(plan), id);
    let Some(i) = found else {
        return Err(format!(
            "No limits can be worked out for “{id}”: the table does not work as it is, or the size is no length, angle or count of the mechanism; give limits after an equals sign."
        ));
    };
    let end = |value: f64| format!("{value} {}", i.unit);
    plan.limit(id, end(i.least).trim(), end(i.most).trim()).map_err(|d| d.sentence)
}

/// Writes the maker's next plan with the buyer's choices put onto it.
pub fn onto(buyer: &Path, next: &Path, out: &Path) -> Result<String, String> {
    let (own, next) = (load::plan(buyer)?, load::plan(next)?);
    if next.offer().is_none() {
        return Err("The newer plan is not one for buyers: it offers nothing that could be changed.".into());
    }
    let (merged, said) = next.onto(&own);
    files::write(out, merged.to_json())?;
    let mark = &merged.revision().mark;
    let mut text = format!("Your own sizes are put onto revision {mark}.\n");
    for d in said {
        text += &format!("{}\n", d.sentence);
    }
    Ok(text)
}
