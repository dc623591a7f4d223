//! Looks a document over before it is written.
//!
//! In: the document. Out: the place of every mark, or the first problem.
//! Always true: after this, every length is finite and near the page, and every target exists.

use std::collections::BTreeMap;

use turnleaf_page::{Bookmark, Document, Item, Page, Pt, Role, Step, Text};
use turnleaf_text::plain;

use crate::problem::PdfProblem;

/// Farthest a point may lie from the page corner, mm. A larger bound would lose more than 0.01 mm to
/// the 32-bit numbers of the PDF library; a smaller one would refuse full-size drawings cut by tiles.
const FAR: f64 = 30_000.0;
/// Largest page side, mm: 14,400 points, the bound readers share (ISO 32000-1, annex C).
const LARGEST_SIDE: f64 = 5080.0;
/// Deepest nesting of groups; a real drawing needs fewer than ten.
const DEEPEST: usize = 60;

/// Where marks are: page index and point.
pub(crate) type Marks = BTreeMap<String, (usize, Pt)>;

/// Checks everything that could go wrong and collects the marks.
pub(crate) fn check(document: &Document) -> Result<Marks, PdfProblem> {
    if document.pages.is_empty() {
        return Err(PdfProblem::NoPages);
    }
    if plain(&document.title, 10).trim().is_empty() {
        return Err(PdfProblem::NoTitle);
    }
    if !is_language(&document.language) {
        return Err(PdfProblem::Language(plain(&document.language, 40)));
    }
    let mut marks = Marks::new();
    for (index, page) in document.pages.iter().enumerate() {
        let side = |s: f64| s > 0.0 && s <= LARGEST_SIDE;
        if !side(page.width) || !side(page.height) {
            return Err(PdfProblem::PageSize { page: plain(&page.id, 80) });
        }
        items(&page.items, page, index, 0, &mut marks)?;
    }
    for page in &document.pages {
        links(&page.items, page, &marks)?;
    }
    bookmarks(&document.bookmarks, &marks, 0)?;
    Ok(marks)
}

fn is_language(tag: &str) -> bool {
    let part = |p: &str| (1..=8).contains(&p.len()) && p.bytes().all(|b| b.is_ascii_alphanumeric());
    let first = tag.split('-').next().unwrap_or("");
    tag.len() <= 60
        && tag.split('-').all(part)
        && first.len() >= 2
        && first.bytes().all(|b| b.is_ascii_alphabetic())
}

fn near(v: f64) -> bool {
    v.abs() <= FAR
}

fn near_pt(p: Pt) -> bool {
    near(p.x) && near(p.y)
}

fn items(
    items_: &[Item],
    page: &Page,
    index: usize,
    depth: usize,
    marks: &mut Marks,
) -> Result<(), PdfProblem> {
    let wrong = |what: &str| PdfProblem::Length { page: plain(&page.id, 80), what: what.to_string() };
    if depth > DEEPEST {
        return Err(PdfProblem::Depth { page: plain(&page.id, 80) });
    }
    for item in items_ {
        match item {
            Item::Path { steps, stroke, .. } => {
                let fine = steps.iter().all(|s| match *s {
                    Step::Move(p) | Step::Line(p) => near_pt(p),
                    Step::Cubic(a, b, c) => near_pt(a) && near_pt(b) && near_pt(c),
                    Step::Close => true,
                });
                let pen = stroke.as_ref().is_none_or(|s| {
                    (0.0..=FAR).contains(&s.width) && s.dash.iter().all(|d| (0.0..=FAR).contains(d))
                });
                if !fine || !pen {
                    return Err(wrong("a path"));
                }
            }
            Item::Text(text) => {
                if !text_is_fine(text) {
                    return Err(wrong(&format!("the text “{}”", plain(&text.text, 30))));
                }
            }
            Item::Link { min, max, target } => {
                if !near_pt(*min) || !near_pt(*max) {
                    return Err(wrong(&format!("the link to “{}”", plain(target, 80))));
                }
            }
            Item::Picture { min, max, .. } => {
                if !near_pt(*min) || !near_pt(*max) {
                    return Err(wrong("a picture"));
                }
            }
            Item::Mark { at, name } => {
                if !near_pt(*at) {
                    return Err(wrong(&format!("the place “{}”", plain(name, 80))));
                }
                if marks.insert(name.clone(), (index, *at)).is_some() {
                    return Err(PdfProblem::DuplicateMark(plain(name, 80)));
                }
            }
            Item::Group { role, id, items: inner, .. } => {
                if let Role::Figure { alt } = role
                    && plain(alt, 80).trim().is_empty()
                {
                    let figure = plain(id.as_deref().unwrap_or(""), 80);
                    return Err(PdfProblem::NoAlternative { page: plain(&page.id, 80), figure });
                }
                items(inner, page, index, depth + 1, marks)?;
            }
        }
    }
    Ok(())
}

fn text_is_fine(text: &Text) -> bool {
    near_pt(text.at) && (0.0..=2000.0).contains(&text.size) && text.rotate.is_finite()
}

fn links(items: &[Item], page: &Page, marks: &Marks) -> Result<(), PdfProblem> {
    for item in items {
        match item {
            Item::Link { target, .. } if !marks.contains_key(target) => {
                return Err(PdfProblem::LinkTarget { page: plain(&page.id, 80), target: plain(target, 80) });
            }
            Item::Group { items, .. } => links(items, page, marks)?,
            _ => {}
        }
    }
    Ok(())
}

fn bookmarks(list: &[Bookmark], marks: &Marks, depth: usize) -> Result<(), PdfProblem> {
    for b in list {
        if depth > DEEPEST || !marks.contains_key(&b.target) {
            return Err(PdfProblem::BookmarkTarget {
                title: plain(&b.title, 80),
                target: plain(&b.target, 80),
            });
        }
        bookmarks(&b.children, marks, depth + 1)?;
    }
    Ok(())
}
