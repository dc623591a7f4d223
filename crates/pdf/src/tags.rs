//! The structure of the document: headings, paragraphs, tables, figures, links.
//!
//! In: what the page writer drew, page after page. Out: the library's tag tree.
//! Always true: each piece of content has exactly one parent; a table or paragraph that runs over
//! several pages (same group identifier) is one element; tables hold only rows, rows only cells.

use std::collections::BTreeMap;
use std::num::{NonZeroU16, NonZeroU32};

use krilla::geom::Rect;
use krilla::tagging::{
    BBox, Identifier, ListNumbering, Node, TableHeaderScope, Tag, TagGroup, TagKind, TagTree,
};

/// What an element is.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Kind {
    Heading {
        level: u8,
        title: String,
    },
    Paragraph,
    Figure {
        alt: String,
        bbox: Option<(usize, Rect)>,
    },
    Table,
    Row,
    Cell {
        header: bool,
    },
    Link,
    /// Numbered, with signs before the entries, or bare.
    List(Marks),
    ListItem,
    Label,
    Body,
    Caption,
    Contents,
    ContentsEntry,
}

/// What stands before the entries of a list.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Marks {
    Nothing,
    Signs,
    Numbers,
}

/// A node while pages are still being drawn.
#[derive(Debug)]
pub(crate) enum Tagged {
    /// Drawn content.
    Content(Identifier),
    /// A link of the current page, by its number; resolved when the page ends.
    Link(usize),
    /// An element.
    Group { kind: Kind, id: Option<String>, children: Vec<Tagged> },
}

impl Tagged {
    pub(crate) fn group(kind: Kind, children: Vec<Tagged>) -> Tagged {
        Tagged::Group { kind, id: None, children }
    }
    /// Replaces link numbers by the identifiers of the page's annotations.
    pub(crate) fn resolve(&mut self, links: &[Identifier]) {
        match self {
            Tagged::Content(_) => {}
            Tagged::Link(n) => {
                if let Some(id) = links.get(*n) {
                    *self = Tagged::Content(*id);
                }
            }
            Tagged::Group { children, .. } => children.iter_mut().for_each(|c| c.resolve(links)),
        }
    }
}

/// Appends the elements of a page. A part of a table or list seen before joins it, wherever it stands;
/// a paragraph that begins a page joins the last one when both have the same identifier.
pub(crate) fn append(all: &mut Vec<Tagged>, tables: &mut BTreeMap<String, usize>, page: Vec<Tagged>) {
    for (i, node) in page.into_iter().enumerate() {
        let Tagged::Group { kind, id: Some(id), children } = node else {
            all.push(node);
            continue;
        };
        let earlier = match kind {
            Kind::Table | Kind::List(_) | Kind::Contents => tables.get(&id).copied(),
            Kind::Paragraph if i == 0 => all.len().checked_sub(1),
            _ => None,
        };
        match earlier.and_then(|e| all.get_mut(e)) {
            Some(Tagged::Group { kind: k, id: Some(other), children: rows })
                if *k == kind && *other == id =>
            {
                rows.extend(children);
            }
            _ => {
                if matches!(kind, Kind::Table | Kind::List(_) | Kind::Contents) {
                    tables.insert(id.clone(), all.len());
                }
                all.push(Tagged::Group { kind, id: Some(id), children });
            }
        }
    }
}

/// The finished tree.
pub(crate) fn tree(all: Vec<Tagged>, language: &str) -> TagTree {
    let mut tree = TagTree::new().with_lang(Some(language.to_string()));
    all.into_iter().filter_map(node).for_each(|n| tree.push(n));
    tree
}

fn node(tagged: Tagged) -> Option<Node> {
    match tagged {
        Tagged::Content(id) => Some(Node::Leaf(id)),
        // Resolved before; a link that is not would be a bug and is left out of the structure.
        Tagged::Link(_) => None,
        Tagged::Group { kind: Kind::Table, children, .. } => table(children),
        Tagged::Group { kind, children, .. } => {
            let children: Vec<Node> = children.into_iter().filter_map(node).collect();
            // Empty cells keep their place in the row; any other empty element means nothing.
            if children.is_empty() && !matches!(kind, Kind::Cell { .. }) {
                return None;
            }
            Some(Node::Group(TagGroup::with_children(kind_tag(kind, 1), children)))
        }
    }
}

/// A table whose rows all have the same number of columns: the last cell of a shorter row spans the
/// rest, as a sub-heading across the table does.
fn table(rows: Vec<Tagged>) -> Option<Node> {
    let cells = |row: &Tagged| match row {
        Tagged::Group { children, .. } => children.len(),
        _ => 0,
    };
    let columns = rows.iter().map(cells).max()?;
    let mut out = TagGroup::new(Tag::Table);
    for row in rows {
        let missing = columns - cells(&row);
        let Tagged::Group { children, .. } = row else { continue };
        let last = children.len().checked_sub(1);
        let mut tr = TagGroup::new(Tag::TR);
        for (i, cell) in children.into_iter().enumerate() {
            let Tagged::Group { kind, children, .. } = cell else { continue };
            let span = if Some(i) == last { 1 + missing } else { 1 };
            let content: Vec<Node> = children.into_iter().filter_map(node).collect();
            tr.push(TagGroup::with_children(kind_tag(kind, span), content));
        }
        if !tr.children.is_empty() {
            out.push(tr);
        }
    }
    (!out.children.is_empty()).then_some(Node::Group(out))
}

/// The tag of an element; cells cover this many columns.
fn kind_tag(kind: Kind, columns: usize) -> TagKind {
    let span = u32::try_from(columns).ok().filter(|c| *c > 1).and_then(NonZeroU32::new);
    match kind {
        Kind::Heading { level, title } => {
            let level = NonZeroU16::new(u16::from(level.clamp(1, 6))).unwrap_or(NonZeroU16::MIN);
            Tag::Hn(level, Some(title)).into()
        }
        Kind::Paragraph => Tag::P.into(),
        Kind::Figure { alt, bbox } => {
            let bbox = bbox.map(|(page, rect)| BBox::new(page, rect));
            Tag::Figure(Some(alt)).with_bbox(bbox).into()
        }
        Kind::Table => Tag::Table.into(),
        Kind::Row => Tag::TR.into(),
        Kind::Cell { header: true } => Tag::TH(TableHeaderScope::Column).with_col_span(span).into(),
        Kind::Cell { header: false } => Tag::TD.with_col_span(span).into(),
        Kind::Link => Tag::Link.into(),
        Kind::List(marks) => Tag::L(match marks {
            Marks::Nothing => ListNumbering::None,
            Marks::Signs => ListNumbering::Disc,
            Marks::Numbers => ListNumbering::Decimal,
        })
        .into(),
        Kind::ListItem => Tag::LI.into(),
        Kind::Label => Tag::Lbl.into(),
        Kind::Body => Tag::LBody.into(),
        Kind::Caption => Tag::Caption.into(),
        Kind::Contents => Tag::TOC.into(),
        Kind::ContentsEntry => Tag::TOCI.into(),
    }
}
