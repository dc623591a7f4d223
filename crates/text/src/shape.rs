//! Turns one line of text into placed glyphs.
//!
//! In: any string and a face. Out: runs of glyphs in visual order, each of one font, in em units.
//! Always true: the PDF writer, the SVG writer and the measuring all use this one result, so they
//! cannot disagree; no glyph is a missing-glyph box; the text ranges of the glyphs cover the text.

use std::ops::Range;

use harfrust::{BufferFlags, Direction, ShapeOptions, UnicodeBuffer, script};
use turnleaf_page::Face;
use unicode_bidi::BidiInfo;

use crate::clean::drawable;
use crate::fonts::{Font, UNITS, features, loaded};

/// A placed glyph; lengths in em.
#[derive(Clone, Debug, PartialEq)]
pub struct Glyph {
    /// Index in its font.
    pub id: u32,
    /// How far the pen moves.
    pub advance: f64,
    /// Shift of the picture to the right of the pen.
    pub dx: f64,
    /// Shift of the picture above the baseline.
    pub dy: f64,
    /// The characters it stands for: bytes of [`Shaped::text`].
    pub range: Range<usize>,
}

/// Glyphs of one font and one direction.
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    /// The font.
    pub font: Font,
    /// Whether the text runs right to left; the glyphs are in visual order either way.
    pub rtl: bool,
    /// Where the run begins, em from the start of the line.
    pub x: f64,
    /// How long it is, em.
    pub width: f64,
    /// The characters it stands for: bytes of [`Shaped::text`].
    pub range: Range<usize>,
    /// The glyphs.
    pub glyphs: Vec<Glyph>,
}

/// A shaped line.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Shaped {
    /// The text as drawn (see [`drawable`]).
    pub text: String,
    /// Length, em.
    pub width: f64,
    /// The runs, from left to right.
    pub runs: Vec<Run>,
}

/// Shapes a line. Base direction follows the first letter that has one, left to right without any.
pub fn shape(text: &str, face: Face) -> Shaped {
    let text = drawable(text).into_owned();
    let mut shaped = Shaped { text, width: 0.0, runs: Vec::new() };
    if shaped.text.chars().any(right_to_left) {
        let info = BidiInfo::new(&shaped.text, None);
        for paragraph in &info.paragraphs {
            let (levels, ranges) = info.visual_runs(paragraph, paragraph.range.clone());
            for range in ranges {
                let rtl = levels[range.start].is_rtl();
                stretch(&shaped.text, range, rtl, face, &mut shaped.width, &mut shaped.runs);
            }
        }
    } else {
        let all = 0..shaped.text.len();
        stretch(&shaped.text, all, false, face, &mut shaped.width, &mut shaped.runs);
    }
    shaped
}

/// Whether a character belongs to a script written right to left (blocks up to Arabic extended, and
/// the presentation forms). A character wrongly counted only costs time.
fn right_to_left(c: char) -> bool {
    matches!(c, '\u{590}'..='\u{8FF}' | '\u{FB1D}'..='\u{FDFF}' | '\u{FE70}'..='\u{FEFE}' | '\u{10800}'..='\u{10FFF}' | '\u{1E800}'..='\u{1EFFF}')
}

/// Splits a stretch of one direction by font and shapes each piece, in visual order.
fn stretch(text: &str, range: Range<usize>, rtl: bool, face: Face, x: &mut f64, runs: &mut Vec<Run>) {
    let mut pieces: Vec<(Font, Range<usize>)> = Vec::new();
    let main = Font::of(face);
    for (i, c) in text[range.clone()].char_indices() {
        let at = range.start + i;
        // Ordinary letters are in every face; what is not there is a sign, as `drawable` promised.
        let font = if c < '\u{2000}' || c == ' ' || main.covers(c) { main } else { Font::Signs };
        match pieces.last_mut() {
            Some((last, r)) if *last == font => r.end = at + c.len_utf8(),
            _ => pieces.push((font, at..at + c.len_utf8())),
        }
    }
    if rtl {
        pieces.reverse();
    }
    for (font, range) in pieces {
        let run = piece(text, range, rtl, font, *x);
        *x += run.width;
        runs.push(run);
    }
}

fn piece(text: &str, range: Range<usize>, rtl: bool, font: Font, x: f64) -> Run {
    let mut buffer = UnicodeBuffer::new();
    buffer.push_str(&text[range.clone()]);
    buffer.set_direction(if rtl { Direction::RightToLeft } else { Direction::LeftToRight });
    buffer.set_script(if rtl { script::HEBREW } else { script::LATIN });
    buffer.set_flags(BufferFlags::REMOVE_DEFAULT_IGNORABLES);
    let (shaper, plan) = loaded(font).shaper(rtl);
    let features = features();
    let options = ShapeOptions::new().plan(Some(plan)).features(&features);
    let buffer = shaper.shape(buffer, options);
    let (infos, places) = (buffer.glyph_infos(), buffer.glyph_positions());
    let ends = cluster_ends(&infos.iter().map(|i| i.cluster).collect::<Vec<_>>(), range.len(), rtl);
    let mut glyphs = Vec::with_capacity(infos.len());
    let mut width = 0.0;
    for ((info, place), end) in infos.iter().zip(places).zip(ends) {
        let advance = f64::from(place.x_advance) / UNITS;
        width += advance;
        glyphs.push(Glyph {
            id: info.glyph_id,
            advance,
            dx: f64::from(place.x_offset) / UNITS,
            dy: f64::from(place.y_offset) / UNITS,
            range: range.start + info.cluster as usize..range.start + end,
        });
    }
    Run { font, rtl, x, width, range, glyphs }
}

/// Where the cluster of each glyph ends: at the start of the next one in reading order. Clusters rise
/// from left to right in text of that direction and fall in the other.
fn cluster_ends(clusters: &[u32], len: usize, rtl: bool) -> Vec<usize> {
    let mut ends = vec![len; clusters.len()];
    let (mut end, mut current) = (len, None);
    let mut step = |i: usize| {
        if let Some(c) = current.filter(|c| *c != clusters[i]) {
            end = c as usize;
        }
        current = Some(clusters[i]);
        ends[i] = end;
    };
    if rtl {
        (0..clusters.len()).for_each(&mut step);
    } else {
        (0..clusters.len()).rev().for_each(&mut step);
    }
    ends
}
