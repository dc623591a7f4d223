//! The book as a PDF file, its pages and single drawings as SVG files.

use crate::{files, load};
use std::path::Path;
use turnleaf_plan::planfile::{Choice, Language, PrintChoice};
use turnleaf_plan::{BookOptions, Built, Chapters, Document, Number, Paper, Sight};

/// What may be chosen on the command line; nothing means as the plan says.
#[derive(Default)]
pub struct Wanted<'a> {
    /// Key of a paper.
    pub paper: Option<&'a str>,
    /// mm, in or both.
    pub units: Option<&'a str>,
    /// en or de.
    pub language: Option<&'a str>,
    /// Which chapters.
    pub chapters: Option<&'a str>,
}

/// Writes the book.
pub fn pdf(plan: &Path, out: &Path, wanted: &Wanted) -> Result<(), String> {
    let (document, _) = compose(plan, wanted)?;
    let bytes = turnleaf_plan::pdf(&document).map_err(|e| format!("The book cannot be written: {e}"))?;
    files::write(out, bytes)
}

/// Writes each page as SVG, numbered in reading order.
pub fn pages(plan: &Path, out: &Path, wanted: &Wanted) -> Result<(), String> {
    let (document, numbers) = compose(plan, wanted)?;
    files::folder(out)?;
    let digits = document.pages.len().to_string().len().max(2);
    for (i, page) in document.pages.iter().enumerate() {
        let file = out.join(format!("page-{:0digits$}.svg", i + 1));
        let svg = turnleaf_plan::page_svg_embedded(page, &numbers);
        files::write(&file, svg)?;
    }
    Ok(())
}

/// Writes one drawing as SVG.
pub fn drawing(plan: &Path, out: &Path, view: &str, turn: f64, of: &[String]) -> Result<(), String> {
    let sight = Sight::from_key(view)?;
    let built = load::build(plan)?;
    let page = built.drawing(&BookOptions::of(&built.plan), sight, turn, of)?;
    let svg = turnleaf_plan::page_svg_embedded(&page, &built.numbers);
    files::write(out, svg)
}

/// Writes every list as CSV into a folder.
pub fn lists(plan: &Path, out: &Path, language: Option<&str>) -> Result<(), String> {
    let built = load::build(plan)?;
    let options = options(&built, &Wanted { language, ..Wanted::default() })?;
    let files = built.lists_csv(&options)?;
    files::folder(out)?;
    for (name, text) in files {
        files::write(&out.join(name), text)?;
    }
    Ok(())
}

fn compose(plan: &Path, wanted: &Wanted) -> Result<(Document, Vec<Number>), String> {
    let built = load::build(plan)?;
    let options = options(&built, wanted)?;
    let (document, problems) = built.book(&options);
    for p in &problems {
        eprintln!("{}", p.sentence);
    }
    // A sheet that cannot be proved complete stops the book.
    match problems.iter().find(|p| p.severity == turnleaf_plan::Severity::Error) {
        Some(_) => Err("The book was not written because of the above.".into()),
        None => Ok((document, built.numbers)),
    }
}

fn options(built: &Built, wanted: &Wanted) -> Result<BookOptions, String> {
    let mut options = BookOptions::of(&built.plan);
    if let Some(key) = wanted.paper {
        options.paper = paper(key)?;
    }
    if let Some(key) = wanted.units {
        options.print.units = units(key)?;
    }
    if let Some(key) = wanted.language {
        options.language = Language::from_key(key)
            .ok_or_else(|| format!("There is no language called {key}; there are en and de."))?;
    }
    if let Some(keys) = wanted.chapters {
        options.chapters = Chapters::read(keys)?;
    }
    Ok(options)
}

/// The paper with a key.
pub fn paper(key: &str) -> Result<Paper, String> {
    Paper::from_key(key).ok_or_else(|| {
        let keys: Vec<&str> = Paper::ALL.iter().map(|p| p.key()).collect();
        format!("There is no paper called {key}; there are {}.", keys.join(", "))
    })
}

/// The units with a key.
pub fn units(key: &str) -> Result<PrintChoice, String> {
    PrintChoice::from_key(key)
        .ok_or_else(|| format!("There are no units called {key}; there are mm, in and both."))
}
