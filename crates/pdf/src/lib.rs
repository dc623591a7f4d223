//! Writes a finished book as PDF.
//!
//! In: a [`Document`]. Out: the bytes of a PDF 1.7 file, or the first [`PdfProblem`].
//! Always true: the same document gives the same bytes on every platform (no clock, no chance); the
//! file is vector throughout, carries subsets of the bundled fonts, is tagged, and asks to be printed
//! at full size. It declares PDF/A-3a and PDF/UA-1, checked by the writing library only.
//!
//! ```
//! use turnleaf_page::{Attachment, Document, Item, Page, Paper, Text, pt};
//! let (width, height) = Paper::A4.sides();
//! let words = Item::Text(Text::new(pt(20.0, 30.0), 5.0, "One page"));
//! let items = vec![words];
//! let page = Page { width, height, label: "1".into(), id: "one".into(), title: "One".into(), items };
//! let plan = Attachment {
//!     name: "plan.json".into(),
//!     mime: "application/json".into(),
//!     description: "The plan".into(),
//!     data: b"{}".to_vec(),
//! };
//! let document = Document {
//!     title: "One page".into(),
//!     language: "en".into(),
//!     date: "2025-03-14".into(),
//!     pages: vec![page],
//!     attachments: vec![plan],
//!     ..Document::default()
//! };
//! let file = turnleaf_pdf::write(&document)?;
//! // The header of ISO 32000-1:2008, 7.5.2, and what was put in comes out again.
//! assert!(file.starts_with(b"%PDF-1.7"));
//! assert_eq!(turnleaf_pdf::carried(&file, 1000)?, [b"{}".to_vec()]);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod check;
mod convert;
mod draw;
mod label;
mod open;
mod print;
mod problem;
mod tags;
mod unpack;

#[cfg(test)]
mod tests;

use std::collections::BTreeMap;

use krilla::Document as PdfDocument;
use krilla::SerializeSettings;
use krilla::annotation::{Annotation, LinkAnnotation, Target};
use krilla::configure::{Accessibility, Archival, ConfigurationBuilder};
use krilla::destination::XyzDestination;

use krilla::embed::{AssociationKind, EmbeddedFile, MimeType};
use krilla::error::KrillaError;
use krilla::metadata::{DateTime, Metadata};
use krilla::outline::{Outline, OutlineNode};
use krilla::page::PageSettings;
use turnleaf_page::{Bookmark, Document, Pt};
use turnleaf_text::plain;

pub use open::{carried, is_pdf};
pub use problem::PdfProblem;

use check::Marks;
use draw::{Fonts, Link, Painter};

/// Longest title and the like, characters. The archive format allows 32,767 bytes a string.
const LONGEST: usize = 1000;

/// Writes the document.
///
/// Groups of [`turnleaf_page::Role`] become tags: headings, paragraphs, tables, figures. A table
/// continued on a later page under the same group identifier stays one element, and its repeated
/// header (a row of header cells only) is furniture there; a paragraph continued at the top of a page
/// under the same identifier stays one element too. A link that lies directly beside texts in its
/// group owns their words.
pub fn write(document: &Document) -> Result<Vec<u8>, PdfProblem> {
    let marks = check::check(document)?;
    let date = date(&document.date)?;
    let configuration = ConfigurationBuilder::new()
        .with_archival_validator(Archival::A3_A)
        .with_accessibility_validator(Accessibility::UA1)
        .finish()
        .map_err(|e| PdfProblem::Library(format!("{e:?}")))?;
    let settings = SerializeSettings { configuration, ..SerializeSettings::default() };
    let mut pdf = PdfDocument::new_with(settings);
    pdf.set_metadata(metadata(document, date));
    let fonts =
        Fonts::new().ok_or_else(|| PdfProblem::Library("a bundled font is unreadable".to_string()))?;
    let mut elements = Vec::new();
    let mut tables = BTreeMap::new();
    for (index, page) in document.pages.iter().enumerate() {
        let mut settings = PageSettings::from_wh(convert::points(page.width), convert::points(page.height))
            .ok_or_else(|| PdfProblem::PageSize { page: plain(&page.id, 80) })?;
        if let Some(label) = label::label(&page.label) {
            settings = settings.with_page_label(label);
        }
        let mut out = pdf.start_page_with(settings);
        let (mut tagged, links) = Painter::new(out.surface(), &fonts, index, &tables).paint(&page.items);
        let mut identifiers = Vec::new();
        for link in &links {
            let annotation = annotation(link, document, &marks).ok_or_else(|| PdfProblem::Length {
                page: plain(&page.id, 80),
                what: format!("the link to “{}”", plain(&link.target, 80)),
            })?;
            identifiers.push(out.add_tagged_annotation(annotation));
        }
        out.finish();
        tagged.iter_mut().for_each(|t| t.resolve(&identifiers));
        tags::append(&mut elements, &mut tables, tagged);
    }
    pdf.set_tag_tree(tags::tree(elements, &document.language));
    pdf.set_outline(outline(document, &marks));
    attach(&mut pdf, document, date)?;
    let file = pdf.finish().map_err(|e| PdfProblem::Library(reason(&e)))?;
    print::full_size(file)
}

fn metadata(document: &Document, date: DateTime) -> Metadata {
    let mut metadata = Metadata::new()
        .title(plain(&document.title, LONGEST))
        .description(plain(&document.subject, LONGEST))
        .language(document.language.clone())
        .creation_date(date);
    let program = plain(&document.program, LONGEST);
    if !program.is_empty() {
        metadata = metadata.creator(program);
    }
    let author = plain(&document.author, LONGEST);
    if !author.is_empty() {
        metadata = metadata.authors(vec![author]);
    }
    metadata
}

/// Midnight in UTC of a date written year-month-day.
fn date(text: &str) -> Result<DateTime, PdfProblem> {
    let wrong = || PdfProblem::Date(plain(text, 40));
    let parts: Vec<&str> = text.split('-').collect();
    let number = |i: usize, digits: usize| -> Option<u16> {
        let part = parts.get(i)?;
        (part.len() == digits && part.bytes().all(|b| b.is_ascii_digit())).then(|| part.parse().ok())?
    };
    let (Some(year), Some(month), Some(day), 3) = (number(0, 4), number(1, 2), number(2, 2), parts.len())
    else {
        return Err(wrong());
    };
    let leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
    let days = match month {
        2 => 28 + u16::from(leap),
        4 | 6 | 9 | 11 => 30,
        1..=12 => 31,
        _ => 0,
    };
    if year == 0 || day == 0 || day > days {
        return Err(wrong());
    }
    Ok(DateTime::new(year)
        .month(month as u8)
        .day(day as u8)
        .hour(0)
        .minute(0)
        .second(0)
        .utc_offset_hour(0)
        .utc_offset_minute(0))
}

fn destination(page: usize, at: Pt) -> XyzDestination {
    XyzDestination::new(page, convert::place(at))
}

fn annotation(link: &Link, document: &Document, marks: &Marks) -> Option<Annotation> {
    let (page, at) = *marks.get(&link.target)?;
    let rect = convert::rect(link.min, link.max)?;
    // What a reader who cannot see the link is told: its words, else the title of the page it opens,
    // else the name or at worst the number of the place.
    let number = (page + 1).to_string();
    let titles = [&link.words, &document.pages.get(page)?.title, &link.target, &number];
    let alt = titles.into_iter().map(|t| plain(t, 500)).find(|t| !t.trim().is_empty())?;
    let target = Target::Destination(destination(page, at).into());
    Some(Annotation::new_link(LinkAnnotation::new(rect, target), Some(alt)))
}

fn outline(document: &Document, marks: &Marks) -> Outline {
    fn node(b: &Bookmark, marks: &Marks, depth: usize) -> Option<OutlineNode> {
        let (page, at) = *marks.get(&b.target)?;
        // The first level is shown open, the rest closed, so that a long book stays readable.
        let mut out = OutlineNode::new(plain(&b.title, LONGEST), destination(page, at)).with_open(depth == 0);
        b.children.iter().filter_map(|c| node(c, marks, depth + 1)).for_each(|c| out.push_child(c));
        Some(out)
    }
    let mut outline = Outline::new();
    if document.bookmarks.is_empty() {
        // An accessible file needs bookmarks: one a page, by its title.
        for (index, page) in document.pages.iter().enumerate() {
            let titles = [&page.title, &page.label, &page.id];
            let title = titles.into_iter().map(|t| plain(t, LONGEST)).find(|t| !t.trim().is_empty());
            let title = title.unwrap_or_else(|| (index + 1).to_string());
            outline.push_child(OutlineNode::new(title, destination(index, Pt::default())));
        }
    }
    document.bookmarks.iter().filter_map(|b| node(b, marks, 0)).for_each(|n| outline.push_child(n));
    outline
}

fn attach(pdf: &mut PdfDocument, document: &Document, date: DateTime) -> Result<(), PdfProblem> {
    for file in &document.attachments {
        let wrong = |why: &str| PdfProblem::Attachment { name: plain(&file.name, 80), why: why.to_string() };
        if file.name.is_empty() || plain(&file.name, 200) != file.name {
            return Err(wrong("its name is empty, too long or holds characters that names cannot"));
        }
        if file.description.trim().is_empty() {
            return Err(wrong("it has no description"));
        }
        let mime = MimeType::new(&file.mime).ok_or_else(|| wrong("its media type is not one"))?;
        let embedded = EmbeddedFile {
            path: file.name.clone(),
            mime_type: Some(mime),
            description: Some(plain(&file.description, LONGEST)),
            association_kind: AssociationKind::Source,
            data: file.data.clone().into(),
            modification_date: Some(date),
            compress: Some(true),
            location: None,
        };
        pdf.embed_file(embedded).ok_or_else(|| wrong("another file has the same name"))?;
    }
    Ok(())
}

fn reason(error: &KrillaError) -> String {
    match error {
        KrillaError::Validation(list) => {
            let list: Vec<String> = list.iter().map(|(e, _)| format!("{e:?}")).collect();
            plain(&list.join(", "), 500)
        }
        other => other.to_string(),
    }
}
