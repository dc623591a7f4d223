//! The structure of the document: headings, paragraphs, tables, figures, links.
//!
//! In: what the page writer drew, page after page. Out: the library's tag tree.
//! Always true: each piece of content has exactly one parent; a table or paragraph that runs over
//! several pages (same group identifier) is one element; tables hold only rows, rows only cells.

use std::num::NonZeroU16;

use krilla::geom::Rect;
use krilla::tagging::{BBox, Identifier, Node, TableHeaderScope, Tag, TagGroup, TagKind, TagTree};

/// What an element is.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Kind {
    Heading { level: u8, title: String },
    Paragraph,
    Figure { alt: String, bbox: Option<(usize, Rect)> },
    Table,
    Row,
    Cell { header: bool },
    Link,
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

/// Appends the elements of a page; one that continues the last element is joined to it.
pub(crate) fn append(all: &mut Vec<Tagged>, page: Vec<Tagged>) {
    let mut first = true;
    for node in page {
        let joined = match (&node, all.last()) {
            (
                Tagged::Group { kind: a, id: Some(x), .. },
                Some(Tagged::Group { kind: b, id: Some(y), .. }),
            ) => first && x == y && a == b && matches!(a, Kind::Table | Kind::Paragraph),
            _ => false,
        };
        first = false;
        match (joined, node, all.last_mut()) {
            (true, Tagged::Group { children: more, .. }, Some(Tagged::Group { children, .. })) => {
                children.extend(more);
            }
            (_, node, _) => all.push(node),
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
        Tagged::Group { kind, children, .. } => {
            let children: Vec<Node> = children.into_iter().filter_map(node).collect();
            if children.is_empty() {
                return None;
            }
            Some(Node::Group(TagGroup::with_children(kind_tag(kind), children)))
        }
    }
}

fn kind_tag(kind: Kind) -> TagKind {
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
        Kind::Cell { header: true } => Tag::TH(TableHeaderScope::Column).into(),
        Kind::Cell { header: false } => Tag::TD.into(),
        Kind::Link => Tag::Link.into(),
    }
}
