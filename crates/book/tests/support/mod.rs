//! Books for the tests, and a reader of finished pages.
//!
//! In: names of demo plans, edits. Out: documents, and every text, mark and link on their pages.
//! Always true: plans come from `demo/`, or from edits of them that are themselves valid plans.

#![allow(dead_code)]

use std::sync::{Arc, Mutex, OnceLock};
use turnleaf_book::BookOptions;
use turnleaf_diag::{Diagnostic, Origin};
use turnleaf_page::{Document, Item, Page, Paper, Pt, Role, Text};
use turnleaf_plan::{Built, Plan, build};
use turnleaf_planfile::{Language, PrintChoice};

/// The three demo plans.
pub const DEMOS: [&str; 3] = ["reading-room", "map-room", "window-table"];

/// A demo plan.
pub fn plan(name: &str) -> Plan {
    let path = format!("{}/../../demo/{name}.json", env!("CARGO_MANIFEST_DIR"));
    let bytes = std::fs::read(&path).unwrap_or_else(|e| panic!("{path}: {e}"));
    Plan::parse(&bytes).unwrap_or_else(|d| panic!("{path}: {d:?}")).0
}

/// A demo table, built once for all tests of a binary.
pub fn table(name: &str) -> &'static Built {
    static TABLES: [OnceLock<Built>; DEMOS.len()] = [const { OnceLock::new() }; DEMOS.len()];
    let i = DEMOS.iter().position(|d| *d == name).expect("a demo plan");
    TABLES[i].get_or_init(|| build(&plan(name)).unwrap_or_else(|d| panic!("{name}: {d:?}")))
}

type Kept = Vec<(usize, BookOptions, Arc<OnceLock<Document>>)>;

/// The book of a demo table, composed once for all tests of a binary that ask for it with the same options.
pub fn kept(name: &str, change: impl Fn(&mut BookOptions)) -> Document {
    static BOOKS: Mutex<Kept> = Mutex::new(Vec::new());
    let built = table(name);
    let mut options = BookOptions::of(&built.plan);
    change(&mut options);
    let which = DEMOS.iter().position(|d| *d == name).expect("a demo plan");
    let place = {
        let mut books = BOOKS.lock().unwrap_or_else(|e| e.into_inner());
        let known = books.iter().find(|b| b.0 == which && b.1 == options).map(|b| b.2.clone());
        known.unwrap_or_else(|| {
            let place = Arc::new(OnceLock::new());
            books.push((which, options, place.clone()));
            place
        })
    };
    place.get_or_init(|| built.book(&options).0).clone()
}

/// Its book.
pub fn book(built: &Built, change: impl Fn(&mut BookOptions)) -> (Document, Vec<Diagnostic>) {
    let mut options = BookOptions::of(&built.plan);
    change(&mut options);
    built.book(&options)
}

/// Paper, units and language of a run.
pub const RUNS: [(Paper, PrintChoice, Language); 4] = [
    (Paper::A4, PrintChoice::Mm, Language::En),
    (Paper::Letter, PrintChoice::Inch, Language::En),
    (Paper::A4, PrintChoice::Both, Language::De),
    (Paper::Letter, PrintChoice::Both, Language::En),
];

/// Something found on a page.
pub enum Found<'a> {
    /// A line of text, and whether it stands in a figure or the furniture.
    Text(&'a Text, bool),
    /// A mark.
    Mark(&'a str),
    /// A link.
    Link(Pt, Pt, &'a str),
    /// A group that carries an origin, with the words in it.
    Origin(Origin, Option<&'a str>, String),
}

/// Tells everything on a page.
pub fn each<'a>(items: &'a [Item], aside: bool, tell: &mut dyn FnMut(Found<'a>)) {
    for item in items {
        match item {
            Item::Text(t) => tell(Found::Text(t, aside)),
            Item::Mark { name, .. } => tell(Found::Mark(name)),
            Item::Link { min, max, target } => tell(Found::Link(*min, *max, target)),
            Item::Group { role, origin, id, items } => {
                let inside = aside || matches!(role, Role::Figure { .. } | Role::Artifact);
                if let Some(origin) = origin {
                    tell(Found::Origin(*origin, id.as_deref(), words(items)));
                }
                each(items, inside, tell);
            }
            Item::Path { .. } | Item::Picture { .. } => {}
        }
    }
}

/// The words of items, with spaces between.
pub fn words(items: &[Item]) -> String {
    let mut out = Vec::new();
    each(items, false, &mut |f| {
        if let Found::Text(t, _) = f {
            out.push(t.text.trim().to_string());
        }
    });
    out.join(" ")
}

/// Whether a page is a drawing sheet.
pub fn is_sheet(page: &Page) -> bool {
    page.id.starts_with("sheet/")
}
