//! Full-size output: templates tiled over paper, and cut files for machines.
//!
//! In: parts. Out: [`templates`] gives pages at 1 : 1 that are joined by their crosses; [`cut_files`] gives
//! closed outlines with true arcs, sorted by what a machine does with them.
//! Always true: nothing is drawn to another scale than 1 : 1, less what the builder's printer was measured to
//! lose; every visible stretch of a part is on some tile; nothing lies outside the printable area.
//!
//! ```
//! use turnleaf_mechanism::{Sizes, solve};
//! use turnleaf_template::{TemplateOptions, templates};
//! let table = turnleaf_parts::assemble(&solve(&Sizes::example()).expect("the demo's sizes agree"));
//! let options = TemplateOptions { parts: vec!["star-lever".into()], ..TemplateOptions::default() };
//! let (document, _) = templates(&table.parts, &options);
//! // A4 by ISO 216: a lever needs no more than the page of instructions, a map and a few tiles.
//! assert!(!document.pages.is_empty());
//! assert!(document.pages.iter().all(|p| p.width.min(p.height) == 210.0 && p.width.max(p.height) == 297.0));
//! ```

mod arrange;
mod clip;
pub mod cut;
mod cut_svg;
mod drawn;
mod front;
mod ink;
mod joints;
mod labels;
mod map;
mod options;
mod pen;
mod tile;
mod words;

pub use cut::{CutFace, CutFile, CutLayer, CutShape, Operation, cut_files, index_csv};
pub use cut_svg::{cut_svg, stock_svg};
pub use options::{MEASURED_LEAST, MEASURED_MOST, TemplateOptions};

use turnleaf_diag::Diagnostic;
use turnleaf_page::{Anchor, Bookmark, Document, Face, Item, Page, Role, pt};
use turnleaf_parts::Part;
use words::Words;

/// Thicker parts are timber that is drawn from its end or its side; neither a template nor a cut file of them
/// helps. Sheet stock is sold up to about 40 mm (common practice, no source).
pub const SHEET_MOST: f64 = 50.0;

/// Whether a part is cut from a sheet, so that a template or a cut file of it helps.
pub fn from_sheet(part: &Part) -> bool {
    part.made && part.thickness <= SHEET_MOST
}

/// How many tiles a part needs, or `None` when the options cannot be used.
pub fn tiles_needed(part: &Part, options: &TemplateOptions) -> Option<usize> {
    if !options.problems(std::slice::from_ref(part)).is_empty() {
        return None;
    }
    let drawn = drawn::drawn(part, options);
    Some(arrange::arrange(&drawn, options).tiles().count())
}

/// Templates of the chosen parts: a page of instructions, then for each part a map of its tiles and the tiles.
///
/// Options that cannot be used give no pages and one error for each field.
pub fn templates(parts: &[Part], options: &TemplateOptions) -> (Document, Vec<Diagnostic>) {
    let words = Words::of(&options.language);
    let (chapter, said) = chapter(parts, options, None, 1);
    if chapter.pages.is_empty() {
        return (Document::default(), said);
    }
    let mut bookmarks = vec![Bookmark { title: words.title(), target: MARK.into(), children: Vec::new() }];
    bookmarks.extend(chapter.bookmarks);
    let document = Document {
        title: format!("{}: {}", options.plan, words.title()),
        author: options.maker.clone(),
        subject: words.revision(&options.revision),
        language: words.tag().into(),
        program: concat!("Turnleaf ", env!("CARGO_PKG_VERSION")).into(),
        date: options.date.clone(),
        pages: chapter.pages,
        bookmarks,
        attachments: Vec::new(),
    };
    (document, said)
}

/// Name of the mark at the beginning of the templates.
pub const MARK: &str = "templates";

/// Templates as part of a longer document.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Chapter {
    /// What the chapter is called, in the options' language.
    pub title: String,
    /// Its pages, labelled with their numbers.
    pub pages: Vec<Page>,
    /// One for each part.
    pub bookmarks: Vec<Bookmark>,
}

/// Templates whose first page has the number `first`; with `most`, only of parts that need at most so many
/// tiles. No pages when no part is left or the options cannot be used.
pub fn chapter(
    parts: &[Part],
    options: &TemplateOptions,
    most: Option<usize>,
    first: usize,
) -> (Chapter, Vec<Diagnostic>) {
    let mut said = options.problems(parts);
    if !said.is_empty() {
        return (Chapter::default(), said);
    }
    let words = Words::of(&options.language);
    let chosen = parts
        .iter()
        .filter(|p| if options.parts.is_empty() { from_sheet(p) } else { options.parts.contains(&p.id) });
    let sets: Vec<front::Set> =
        chosen.filter_map(|part| set(part, options, most, &words, &mut said)).collect();
    if sets.is_empty() {
        return (Chapter::default(), said);
    }
    let mut pages: Vec<Page> = front::pages(&sets, options, &words, first);
    let mut bookmarks = Vec::new();
    for set in sets {
        bookmarks.push(Bookmark {
            title: options.name_of(set.part),
            target: format!("template/{}", set.part.id),
            children: Vec::new(),
        });
        pages.extend(set.pages);
    }
    for (i, page) in pages.iter_mut().enumerate() {
        page.label = (first + i).to_string();
        let at = pt(page.width - options.margin, page.height - options.margin - 0.8);
        let number = pen::words(at, pen::SMALL, &page.label, Face::Regular, Anchor::End);
        page.items.push(Item::Group { role: Role::Artifact, origin: None, id: None, items: vec![number] });
    }
    (Chapter { title: words.title(), pages, bookmarks }, said)
}

/// Map and tiles of one part; `None` when it needs more than `most` tiles.
fn set<'a>(
    part: &'a Part,
    options: &TemplateOptions,
    most: Option<usize>,
    words: &Words,
    said: &mut Vec<Diagnostic>,
) -> Option<front::Set<'a>> {
    let mut drawn = drawn::drawn(part, options);
    let grid = arrange::arrange(&drawn, options);
    arrange::drop_axes_on_joints(&mut drawn, &grid);
    let count = grid.tiles().count();
    if most.is_some_and(|most| count > most) {
        return None;
    }
    let name = options.name_of(part).to_lowercase();
    let (crosses, crowded) = joints::crosses(&drawn, &grid);
    if crowded {
        let sentence = format!("On the template of the {name} a cross's letter lies on a line of the part.");
        said.push(Diagnostic::warning(format!("template.{}.cross", part.id), sentence));
    }
    let mut pages = Vec::new();
    if count > 1 {
        pages.push(map::page(part, &drawn, &grid, &crosses, options, words));
    }
    let (mut tiles, left_over) = tile::pages(part, &drawn, &grid, &crosses, options, words);
    pages.append(&mut tiles);
    for note in left_over {
        let sentence = format!("On the template of the {name} there was no free place for “{note}”.");
        said.push(Diagnostic::warning(format!("template.{}.crowded", part.id), sentence));
    }
    Some(front::Set { part, count, last: grid.last_name(), pages })
}
