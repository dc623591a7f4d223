//! The measure of a page: margins, columns, sizes of type, weights of rules.
//!
//! In: a paper. Out: a [`Grid`] in mm.
//! Always true: text pages are A4 or Letter, whichever is nearer the paper of the drawings, so that lines
//! stay readable; a narrow column for headings stands left of a wide one for text.
//!
//! ```text
//!   |<- left ->|<- side ->|gutter|<------- main ------->|<- right ->|
//!                heading          text
//!              |<------------- width ------------------>|   tables, wide figures
//! ```

use turnleaf_page::{Colour, Paper, Stroke};

/// Running text, mm: 9.9 pt. Smaller is hard to read at a bench, larger makes lines of too few words.
pub const BODY: f64 = 3.5;
/// Distance of baselines of running text.
pub const LEADING: f64 = 4.65;
/// Tables and captions: 9.1 pt.
pub const SMALL: f64 = 3.2;
/// Words inside figures: 8.5 pt.
pub const TINY: f64 = 3.0;
/// Chapter titles.
pub const TITLE: f64 = 8.0;
/// Space between blocks.
pub const BLOCK: f64 = 2.8;
/// Space before a section.
pub const SECTION: f64 = 6.2;

/// A thick rule: opens chapters.
pub const THICK: f64 = 0.7;
/// A middle rule.
pub const MIDDLE: f64 = 0.35;
/// A thin rule.
pub const THIN: f64 = 0.18;
/// Grey of rules and side remarks: dark enough to print well on any machine.
pub const GREY: Colour = Colour(85, 85, 85);
/// Lighter grey: lines of a chart's mesh.
pub const PALE: Colour = Colour(165, 165, 165);
/// Tint of areas in figures.
pub const TINT: Colour = Colour(228, 228, 228);
/// Darker tint.
pub const SHADE: Colour = Colour(200, 200, 200);

/// A rule of a weight.
pub fn rule(width: f64) -> Stroke {
    Stroke { round: false, ..Stroke::solid(width) }
}
/// A grey rule.
pub fn grey_rule(width: f64) -> Stroke {
    Stroke { colour: GREY, ..rule(width) }
}

/// Where things stand on a text page.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Grid {
    /// The paper of text pages.
    pub paper: Paper,
    /// Page width.
    pub page_width: f64,
    /// Page height.
    pub page_height: f64,
    /// Left margin: wide enough for punched holes, and that of the drawings' frames (ISO 5457).
    pub left: f64,
    /// Right margin.
    pub right: f64,
    /// Top of the text.
    pub top: f64,
    /// Foot of the text.
    pub bottom: f64,
    /// Width of the heading column.
    pub side: f64,
    /// Space between the columns.
    pub gutter: f64,
}

impl Grid {
    /// The grid for drawings on this paper.
    pub fn new(drawings: Paper) -> Grid {
        let paper = match drawings {
            Paper::A4 | Paper::A3 | Paper::A2 => Paper::A4,
            Paper::Letter | Paper::Tabloid | Paper::ArchC => Paper::Letter,
        };
        let (page_width, page_height) = paper.sides();
        Grid {
            paper,
            page_width,
            page_height,
            left: 20.0,
            right: 15.0,
            top: 17.0,
            bottom: page_height - 21.0,
            side: 39.0,
            gutter: 5.0,
        }
    }
    /// Width between the margins.
    pub fn width(&self) -> f64 {
        self.page_width - self.left - self.right
    }
    /// Left edge of the text column.
    pub fn main_x(&self) -> f64 {
        self.left + self.side + self.gutter
    }
    /// Width of the text column.
    pub fn main_width(&self) -> f64 {
        self.width() - self.side - self.gutter
    }
    /// Right edge.
    pub fn right_x(&self) -> f64 {
        self.page_width - self.right
    }
    /// Height between top and foot.
    pub fn height(&self) -> f64 {
        self.bottom - self.top
    }
}
