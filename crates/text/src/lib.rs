//! Text on paper: the bundled fonts, measuring, shaping, paragraphs and tables.
//!
//! In: strings, sizes in mm, faces, widths. Out: sizes, glyphs, and page items already placed.
//! Always true: only the bundled fonts are used; every string can be drawn (what has no picture is
//! replaced by a visible stand-in and can be listed for a diagnostic); measuring, PDF and SVG share
//! one shaping; the same input gives the same output on every platform.
//!
//! ```
//! use turnleaf_page::Face;
//! use turnleaf_text::{Setting, Span, paragraph, width};
//! // Figures stand under one another in columns: they are of one width.
//! let of = |figure: char| width(&figure.to_string(), 10.0, Face::Regular);
//! assert!(('0'..='9').all(|figure| (of(figure) - of('0')).abs() < 1e-9));
//! // No line of a paragraph is wider than its column.
//! let words = "A round table whose panels slide out and whose leaves rise between them.";
//! let lines = paragraph(&[Span::new(words)], 40.0, Setting::new(4.0));
//! assert!(lines.len() > 1 && lines.width() <= 40.0);
//! ```

pub mod clean;
pub mod fonts;
mod keep;
pub mod measure;
pub mod paragraph;
pub mod shape;
pub mod subset;
pub mod table;

pub use clean::{drawable, plain, undrawable};
pub use fonts::Font;
pub use measure::{Measure, bounds, corners, measure, size_for_cap_height, width};
pub use paragraph::{Align, Lines, Piece, Setting, Span, labelled, paragraph};
pub use shape::{Glyph, Run, Shaped, shape};
pub use subset::subset;
pub use table::{Column, Row, SetTable, Table, Width};

#[cfg(test)]
mod set_tests;
#[cfg(test)]
mod tests;
