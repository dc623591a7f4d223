//! Assembly drawings: the whole table, its section, exploded views, figures of the steps of building it.
//!
//! In: an assembly and how its sheets are wanted. Out: finished pages, and items for a page of words.
//! Always true: what is drawn are the pieces themselves, in their places at the turn asked for; every piece of
//! the table stands in the list of exactly one exploded view; numbers in balloons are those of the list on the
//! same sheet; nothing relies on colour; the same input gives the same pages.
//!
//! ```
//! use std::collections::BTreeSet;
//! use turnleaf_assembly::assembly_order;
//! use turnleaf_mechanism::{Sizes, solve};
//! let table = turnleaf_parts::assemble(&solve(&Sizes::example()).expect("the demo's sizes agree"));
//! let steps = assembly_order(&table);
//! // Every piece goes in once.
//! let put: Vec<&String> = steps.iter().flat_map(|step| &step.pieces).collect();
//! assert_eq!(put.len(), table.pieces.len());
//! assert_eq!(put.iter().collect::<BTreeSet<_>>().len(), put.len());
//! ```

mod balloon;
pub mod draw;
pub mod exploded;
pub mod group;
pub mod order;
pub mod relations;
pub mod scene;
mod single;
pub mod stack;
mod step;
mod table;
pub mod whole;

pub use balloon::{Balloon, CIRCLE, Wish, place as place_balloons};
pub use group::{Group, group_of};
pub use order::{Direction, Joint, Step, assembly_order};
pub use scene::{Scene, on_edge};
pub use single::{Sight, single};
pub use step::{StepFigure, step_figure};

use relations::Relations;
use turnleaf_diag::Diagnostic;
use turnleaf_page::{Item, Page, Role};
use turnleaf_parts::{Assembly, Part};
use turnleaf_sheet::{Framing, SheetOptions, Subject, framed};

/// A message by name, with values put in.
pub type Say<'a> = dyn Fn(&str, &[(&str, String)]) -> String + 'a;

/// How assembly drawings are wanted.
#[derive(Clone, Copy)]
pub struct AssemblyOptions<'a> {
    /// Paper, units, projection, title block. `first_sheet` is the number of the first page.
    pub sheet: &'a SheetOptions,
    /// Words: names begin with `drawing-`.
    pub say: &'a Say<'a>,
    /// The printed name of a part.
    pub name: &'a dyn Fn(&Part) -> String,
}

/// One assembly drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct AssemblySheet {
    /// Page identifier and name of its mark: "sheet/assembly/…".
    pub id: String,
    /// Title.
    pub title: String,
    /// The page.
    pub page: Page,
}

/// What stands on a sheet, before it has a number.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawing {
    /// Identifier without its beginning "sheet/assembly/".
    pub id: &'static str,
    /// Title.
    pub title: String,
    /// Whether the paper lies on its side.
    pub landscape: bool,
    /// The scale as the title block says it.
    pub scale: String,
    /// Contents, in their places on the paper.
    pub items: Vec<Item>,
}

/// All assembly drawings of a table in book order, and what did not fit.
pub fn drawings(a: &Assembly, relations: &Relations, o: &AssemblyOptions) -> (Vec<Drawing>, Vec<Diagnostic>) {
    let scene = Scene::new(a);
    let mut said = Vec::new();
    let mut out: Vec<Drawing> = Vec::new();
    for (name, found) in [
        ("isometric views", whole::isometric_sheets(&scene, o)),
        ("plan and front view", whole::elevation_sheets(&scene, o)),
        ("section", stack::sheet(&scene, o).into_iter().collect()),
        ("exploded views", exploded::sheets(&scene, relations, o)),
    ] {
        if found.is_empty() {
            let code = format!("sheet.assembly.{}", name.replace(' ', "-"));
            let paper = o.sheet.paper.key();
            let sentence = format!("The {name} of the whole table do not fit on {paper} at any scale.");
            said.push(Diagnostic::warning(code, sentence).hint("Choose a larger paper."));
        }
        out.extend(found);
    }
    (out, said)
}

/// The items with the sizes behind their dimensions.
fn traced(items: &[Item], o: &SheetOptions) -> Vec<Item> {
    let one = |item: &Item| match item {
        Item::Group { role, origin, id, items } => {
            let known = id.as_ref().filter(|_| *role == Role::Dimension).and_then(|id| o.origin_of(id));
            let (role, id) = (role.clone(), id.clone());
            Item::Group { role, origin: origin.or(known), id, items: traced(items, o) }
        }
        other => other.clone(),
    };
    items.iter().map(one).collect()
}

/// The drawings as numbered pages, the first with the number `first_sheet` of the options.
pub fn framed_pages(drawings: &[Drawing], o: &SheetOptions) -> Vec<AssemblySheet> {
    let sheet = |(k, d): (usize, &Drawing)| {
        let id = format!("sheet/assembly/{}", d.id);
        let framing = Framing {
            landscape: d.landscape,
            scale: d.scale.clone(),
            sheet: o.first_sheet + k,
            id: id.clone(),
        };
        let subject = Subject { id: d.id.into(), name: d.title.clone(), ..Subject::default() };
        AssemblySheet { id, title: d.title.clone(), page: framed(&subject, o, &framing, traced(&d.items, o)) }
    };
    drawings.iter().enumerate().map(sheet).collect()
}

/// All assembly drawings as pages, and what did not fit.
pub fn sheets(a: &Assembly, o: &AssemblyOptions) -> (Vec<AssemblySheet>, Vec<Diagnostic>) {
    let (drawings, said) = drawings(a, &Relations::of(a), o);
    (framed_pages(&drawings, o.sheet), said)
}
