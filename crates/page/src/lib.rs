//! Paper space: what a finished page is made of.
//!
//! In: drawings and text, already placed. Out: a [`Document`] that the PDF and SVG writers read.
//! Always true: lengths are millimetres on paper, the origin is the top left corner of the sheet,
//! x runs right and **y runs down**. Nothing here knows tables, parts or how a writer works.
//!
//! ```
//! use turnleaf_page::{Anchor, Item, Paper, Step, Stroke, Text, pt};
//! // ISO 216: A4 is 210 mm by 297 mm, and its key leads back to it.
//! assert_eq!(Paper::A4.sides(), (210.0, 297.0));
//! assert_eq!(Paper::from_key(Paper::A4.key()), Some(Paper::A4));
//! // A rule 100 mm long with its length over the middle of it: up the page is the smaller y.
//! let rule = Item::Path {
//!     steps: vec![Step::Move(pt(20.0, 50.0)), Step::Line(pt(120.0, 50.0))],
//!     stroke: Some(Stroke::solid(0.25)),
//!     fill: None,
//! };
//! let words = Text::new(pt(70.0, 48.5), 3.5, "100").anchor(Anchor::Middle);
//! let Item::Path { steps, .. } = &rule else { unreachable!() };
//! assert!(matches!(steps[1], Step::Line(end) if end.y > words.at.y));
//! ```

use std::sync::Arc;
use turnleaf_diag::Origin;

/// A point on paper, mm from the top left corner, y down.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Pt {
    /// Right.
    pub x: f64,
    /// Down.
    pub y: f64,
}

/// Shorthand for [`Pt`].
pub const fn pt(x: f64, y: f64) -> Pt {
    Pt { x, y }
}

/// A sheet format, portrait or landscape.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Paper {
    /// ISO 216 A4, 210 × 297.
    A4,
    /// ISO 216 A3, 297 × 420.
    A3,
    /// ISO 216 A2, 420 × 594.
    A2,
    /// ANSI/ASME Y14.1 A, 8.5 × 11 in.
    Letter,
    /// ANSI/ASME Y14.1 B, 11 × 17 in.
    Tabloid,
    /// 18 × 24 in.
    ArchC,
}

impl Paper {
    /// All formats, in menu order.
    pub const ALL: [Paper; 6] =
        [Paper::A4, Paper::A3, Paper::A2, Paper::Letter, Paper::Tabloid, Paper::ArchC];
    /// Short and long side in mm.
    pub fn sides(self) -> (f64, f64) {
        match self {
            Paper::A4 => (210.0, 297.0),
            Paper::A3 => (297.0, 420.0),
            Paper::A2 => (420.0, 594.0),
            Paper::Letter => (215.9, 279.4),
            Paper::Tabloid => (279.4, 431.8),
            Paper::ArchC => (457.2, 609.6),
        }
    }
    /// The key used in plan files and on the command line.
    pub fn key(self) -> &'static str {
        match self {
            Paper::A4 => "a4",
            Paper::A3 => "a3",
            Paper::A2 => "a2",
            Paper::Letter => "letter",
            Paper::Tabloid => "tabloid",
            Paper::ArchC => "arch-c",
        }
    }
    /// The format with this key.
    pub fn from_key(key: &str) -> Option<Paper> {
        Paper::ALL.into_iter().find(|p| p.key() == key)
    }
}

/// sRGB colour, 0 to 255.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Colour(pub u8, pub u8, pub u8);

impl Colour {
    /// Ink.
    pub const BLACK: Colour = Colour(0, 0, 0);
    /// Paper.
    pub const WHITE: Colour = Colour(255, 255, 255);
}

/// A pen.
#[derive(Clone, Debug, PartialEq)]
pub struct Stroke {
    /// Line width, mm (ISO 128 series).
    pub width: f64,
    /// Dash pattern in mm, empty for a continuous line.
    pub dash: Vec<f64>,
    /// Colour.
    pub colour: Colour,
    /// Round ends and corners when true, butt and mitre otherwise.
    pub round: bool,
}

impl Stroke {
    /// A continuous black line.
    pub fn solid(width: f64) -> Stroke {
        Stroke { width, dash: Vec::new(), colour: Colour::BLACK, round: true }
    }
}

/// One step of a path.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Step {
    /// Start a new stretch here.
    Move(Pt),
    /// Straight to here.
    Line(Pt),
    /// Cubic curve: two controls, end.
    Cubic(Pt, Pt, Pt),
    /// Back to the start of the stretch.
    Close,
}

/// The face of the type.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub enum Face {
    /// Upright text.
    #[default]
    Regular,
    /// Heavier, for headings.
    Bold,
    /// Slanted, for remarks.
    Italic,
}

/// Where the text stands against its point.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Anchor {
    /// The text begins at the point.
    #[default]
    Start,
    /// The text is centred on the point.
    Middle,
    /// The text ends at the point.
    End,
}

/// One line of text. The point is on the baseline.
#[derive(Clone, Debug, PartialEq)]
pub struct Text {
    /// Baseline point.
    pub at: Pt,
    /// The characters.
    pub text: String,
    /// Font size (em) in mm. Capital height is about 0.714 of it (Open Sans).
    pub size: f64,
    /// Face.
    pub face: Face,
    /// Horizontal anchor.
    pub anchor: Anchor,
    /// Degrees, counter-clockwise on paper, about the point. 90 reads from the right.
    pub rotate: f64,
    /// Colour.
    pub colour: Colour,
}

impl Text {
    /// Upright black text starting at a point.
    pub fn new(at: Pt, size: f64, text: impl Into<String>) -> Text {
        Text {
            at,
            text: text.into(),
            size,
            face: Face::Regular,
            anchor: Anchor::Start,
            rotate: 0.0,
            colour: Colour::BLACK,
        }
    }
    /// With another anchor.
    pub fn anchor(mut self, anchor: Anchor) -> Text {
        self.anchor = anchor;
        self
    }
    /// With another face.
    pub fn face(mut self, face: Face) -> Text {
        self.face = face;
        self
    }
    /// Turned, degrees counter-clockwise.
    pub fn rotate(mut self, degrees: f64) -> Text {
        self.rotate = degrees;
        self
    }
}

/// What a group of items is, for tagging and for checkers that read the finished page.
#[derive(Clone, Debug, PartialEq, Default)]
pub enum Role {
    /// Nothing in particular.
    #[default]
    Plain,
    /// A figure: needs a text alternative.
    Figure {
        /// What a reader who cannot see it is told.
        alt: String,
    },
    /// A heading of the given level (1 is the highest).
    Heading(u8),
    /// A paragraph of running text.
    Paragraph,
    /// A table; its rows are groups of role [`Role::Row`].
    Table,
    /// A table row; its cells are groups of role [`Role::Cell`].
    Row,
    /// A table cell; `true` for a header cell.
    Cell(bool),
    /// A list; its entries are groups of role [`Role::ListItem`].
    List,
    /// An entry of a list; its number or bullet is a group of role [`Role::Label`].
    ListItem,
    /// The number or bullet of a list entry.
    Label,
    /// The words under a figure or over a table.
    Caption,
    /// A table of contents; its entries are groups of role [`Role::ContentsEntry`].
    Contents,
    /// A line of a table of contents.
    ContentsEntry,
    /// Page furniture that is no part of the reading flow (frame, running foot).
    Artifact,
    /// A dimension: lines, arrows and figure together.
    Dimension,
    /// An outline of a view (visible edges).
    Outline,
}

/// How a picture is packed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Packing {
    /// PNG (ISO/IEC 15948).
    Png,
    /// JPEG (ISO/IEC 10918).
    Jpeg,
}

impl Packing {
    /// Media type.
    pub fn mime(self) -> &'static str {
        match self {
            Packing::Png => "image/png",
            Packing::Jpeg => "image/jpeg",
        }
    }
}

/// A photograph or other picture made of dots, as its file holds it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Picture {
    /// How it is packed.
    pub packing: Packing,
    /// The file, looked over by whoever took it in. Shared, because the same picture stands in several drafts.
    pub data: Arc<[u8]>,
}

/// What a page shows.
#[derive(Clone, Debug, PartialEq)]
pub enum Item {
    /// Lines and areas.
    Path {
        /// Steps in order.
        steps: Vec<Step>,
        /// Pen, if stroked.
        stroke: Option<Stroke>,
        /// Colour, if filled (even-odd rule).
        fill: Option<Colour>,
    },
    /// A line of text.
    Text(Text),
    /// A place to click, leading to a named anchor somewhere in the document.
    Link {
        /// Corner nearest the origin.
        min: Pt,
        /// Opposite corner.
        max: Pt,
        /// Name of the [`Item::Mark`] it leads to.
        target: String,
    },
    /// A picture, stretched over a box. It stands in a group of role [`Role::Figure`].
    Picture {
        /// Corner nearest the origin.
        min: Pt,
        /// Opposite corner.
        max: Pt,
        /// What is shown.
        picture: Picture,
    },
    /// A named place for links and bookmarks.
    Mark {
        /// Where.
        at: Pt,
        /// Unique name in the document.
        name: String,
    },
    /// Items that belong together.
    Group {
        /// What they are.
        role: Role,
        /// The size or rule they show, if any.
        origin: Option<Origin>,
        /// Stable identifier (written to SVG as data-id), such as "panel/dim/length".
        id: Option<String>,
        /// The items, drawn in order.
        items: Vec<Item>,
    },
}

/// A page.
#[derive(Clone, Debug, PartialEq)]
pub struct Page {
    /// Width, mm.
    pub width: f64,
    /// Height, mm.
    pub height: f64,
    /// The label a reader shows ("iii", "12").
    pub label: String,
    /// Stable identifier of what is on the page ("sheet/panel").
    pub id: String,
    /// Title for thumbnails and search.
    pub title: String,
    /// Contents in drawing (and reading) order.
    pub items: Vec<Item>,
}

/// A bookmark.
#[derive(Clone, Debug, PartialEq)]
pub struct Bookmark {
    /// What it says.
    pub title: String,
    /// Name of the [`Item::Mark`] it leads to.
    pub target: String,
    /// Those below it.
    pub children: Vec<Bookmark>,
}

/// A file carried inside the PDF.
#[derive(Clone, Debug, PartialEq)]
pub struct Attachment {
    /// File name.
    pub name: String,
    /// MIME type.
    pub mime: String,
    /// What it is, in a sentence.
    pub description: String,
    /// Contents.
    pub data: Vec<u8>,
}

/// A finished book.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Document {
    /// Title.
    pub title: String,
    /// Author.
    pub author: String,
    /// Subject line.
    pub subject: String,
    /// BCP 47 language tag.
    pub language: String,
    /// Name and version of the program that made it, for the file's properties; empty: not said.
    pub program: String,
    /// Date of the revision, ISO 8601 (year-month-day); fixed by the plan, never the clock.
    pub date: String,
    /// Pages in order.
    pub pages: Vec<Page>,
    /// Bookmarks.
    pub bookmarks: Vec<Bookmark>,
    /// Carried files.
    pub attachments: Vec<Attachment>,
}
