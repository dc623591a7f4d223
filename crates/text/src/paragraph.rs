//! Breaks running text into lines.
//!
//! In: pieces of text with a face, a colour and perhaps a link; a width; a size and a line distance.
//! Out: lines whose pieces are already placed against the left edge of the paragraph.
//! Always true: no line is wider than the width (a word that is gets broken), no number is parted
//! from its fraction or unit, a line break in the text is a line break on paper, and a soft hyphen
//! (U+00AD) shows only where a line ends at it.

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::ops::Range;
use std::sync::Arc;

use parley::fontique::{Blob, Collection, CollectionOptions, FontInfoOverride, SourceCache};
use parley::style::{FontFamily, FontFeatures, FontStyle, FontWeight, OverflowWrap, StyleProperty};
use parley::{FontContext, Layout, LayoutContext};
use turnleaf_page::{Anchor, Colour, Face, Item, Role, Text, pt};

use crate::clean::drawable;
use crate::fonts::Font;
use crate::keep::protected;
use crate::measure::{ASCENT, DESCENT, width as text_width};

/// A piece of running text.
#[derive(Clone, Debug, PartialEq)]
pub struct Span {
    /// The characters; a line break starts a new line.
    pub text: String,
    /// Face.
    pub face: Face,
    /// Colour.
    pub colour: Colour,
    /// Name of the mark it leads to.
    pub link: Option<String>,
}

impl Span {
    /// Upright black text.
    pub fn new(text: impl Into<String>) -> Span {
        Span { text: text.into(), face: Face::Regular, colour: Colour::BLACK, link: None }
    }
    /// Heavier.
    pub fn bold(mut self) -> Span {
        self.face = Face::Bold;
        self
    }
    /// Slanted.
    pub fn italic(mut self) -> Span {
        self.face = Face::Italic;
        self
    }
    /// In a colour.
    pub fn colour(mut self, colour: Colour) -> Span {
        self.colour = colour;
        self
    }
    /// Leading to a mark.
    pub fn link(mut self, target: impl Into<String>) -> Span {
        self.link = Some(target.into());
        self
    }
}

impl From<&str> for Span {
    fn from(text: &str) -> Span {
        Span::new(text)
    }
}

impl From<String> for Span {
    fn from(text: String) -> Span {
        Span::new(text)
    }
}

/// Where lines stand between the edges.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Align {
    /// At the left edge.
    #[default]
    Left,
    /// Midway.
    Centre,
    /// At the right edge.
    Right,
}

/// How a paragraph is set; lengths in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Setting {
    /// Font size (em).
    pub size: f64,
    /// Distance of baselines.
    pub leading: f64,
    /// Where lines stand.
    pub align: Align,
    /// How far the lines after the first are moved in; for [`labelled`] text, how far all are.
    pub hang: f64,
}

impl Setting {
    /// Left-aligned text at a size, with a comfortable line distance of 1.42 sizes: closer makes long
    /// lines hard to follow, wider lets a page fall apart.
    pub fn new(size: f64) -> Setting {
        Setting { size, leading: size * 1.42, align: Align::Left, hang: 0.0 }
    }
    /// Aligned otherwise.
    pub fn align(mut self, align: Align) -> Setting {
        self.align = align;
        self
    }
    /// With later lines moved in.
    pub fn hang(mut self, hang: f64) -> Setting {
        self.hang = hang;
        self
    }
    /// With another line distance.
    pub fn leading(mut self, leading: f64) -> Setting {
        self.leading = leading;
        self
    }
    /// From the top of a line's box to its baseline.
    pub fn rise(&self) -> f64 {
        (self.leading - (ASCENT + DESCENT) * self.size) / 2.0 + ASCENT * self.size
    }
}

/// A piece of a line: where it begins (mm from the left edge of the paragraph) and its text.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// Start.
    pub x: f64,
    /// Length, without the spaces at the end of a line.
    pub width: f64,
    /// What is drawn; keeps its spaces, so that the words stay apart for search.
    pub text: String,
    /// Face.
    pub face: Face,
    /// Colour.
    pub colour: Colour,
    /// Name of the mark it leads to.
    pub link: Option<String>,
}

/// A set paragraph.
#[derive(Clone, Debug, PartialEq)]
pub struct Lines {
    /// How it was set.
    pub setting: Setting,
    /// The pieces of each line, left to right.
    pub lines: Vec<Vec<Piece>>,
}

impl Lines {
    /// Number of lines.
    pub fn len(&self) -> usize {
        self.lines.len()
    }
    /// Whether there is nothing to draw.
    pub fn is_empty(&self) -> bool {
        self.lines.is_empty()
    }
    /// Height of all lines, mm.
    pub fn height(&self) -> f64 {
        self.height_of(self.len())
    }
    /// Height of this many lines, mm.
    pub fn height_of(&self, lines: usize) -> f64 {
        lines as f64 * self.setting.leading
    }
    /// Length of the longest line, mm.
    pub fn width(&self) -> f64 {
        self.lines.iter().filter_map(|l| l.last()).map(|p| p.x + p.width).fold(0.0, f64::max)
    }
    /// How many lines, from the given one on, go into a height without leaving a single line behind
    /// at the foot of the page or carrying a single one to the next; 0 means "start on a new page".
    pub fn fit(&self, from: usize, height: f64) -> usize {
        let left = self.len().saturating_sub(from);
        // A hundredth of a millimetre of grace, so that sums of line distances do not drop a line.
        let room = ((height + 0.01) / self.setting.leading).floor().max(0.0) as usize;
        if room >= left {
            return left;
        }
        let mut take = room;
        if left - take == 1 {
            take = take.saturating_sub(1);
        }
        // A single line at the foot belongs to a paragraph that starts here.
        if take == 1 && from == 0 && left > 1 { 0 } else { take }
    }
    /// The items of a range of lines whose first line box has its top left corner at the point.
    /// Pieces with a link come as a group with their link.
    pub fn place(&self, range: Range<usize>, x: f64, top: f64) -> Vec<Item> {
        let mut items = Vec::new();
        let range = range.start.min(self.len())..range.end.min(self.len());
        for (i, line) in self.lines[range].iter().enumerate() {
            let baseline = top + self.setting.rise() + i as f64 * self.setting.leading;
            for piece in line {
                let text = Item::Text(Text {
                    at: pt(x + piece.x, baseline),
                    text: piece.text.clone(),
                    size: self.setting.size,
                    face: piece.face,
                    anchor: Anchor::Start,
                    rotate: 0.0,
                    colour: piece.colour,
                });
                items.push(match &piece.link {
                    None => text,
                    Some(target) => {
                        let up = baseline - ASCENT * self.setting.size * 0.9;
                        let down = baseline + DESCENT * self.setting.size;
                        let (min, max) = (pt(x + piece.x, up), pt(x + piece.x + piece.width.max(0.5), down));
                        let link = Item::Link { min, max, target: target.clone() };
                        Item::Group { role: Role::Plain, origin: None, id: None, items: vec![text, link] }
                    }
                });
            }
        }
        items
    }
    /// All lines at a top left corner, as one group of role paragraph.
    pub fn group(&self, x: f64, top: f64, id: Option<String>) -> Item {
        self.part(0..self.len(), x, top, id)
    }
    /// Some of the lines as a group of role paragraph. Parts on following pages that keep the same
    /// identifier stay one paragraph for readers.
    pub fn part(&self, range: Range<usize>, x: f64, top: f64, id: Option<String>) -> Item {
        Item::Group { role: Role::Paragraph, origin: None, id, items: self.place(range, x, top) }
    }
}

struct Setter {
    fonts: FontContext,
    context: LayoutContext<u32>,
    /// Lines already found: the same paragraphs are set again in each round of page numbers.
    known: BTreeMap<Asked, Vec<Range<usize>>>,
}

/// What lines depend on: the text, where each face goes, and the bits of size and widths.
type Asked = (String, Vec<(usize, usize, u8)>, [u64; 3]);

/// Most paragraphs whose lines are remembered.
const REMEMBERED: usize = 5_000;

/// The family name under which the bundled fonts are known to the line breaker.
const FAMILY: &str = "book";
const SIGNS: &str = "signs";

impl Setter {
    fn new() -> Setter {
        let options = CollectionOptions { shared: false, system_fonts: false };
        let mut collection = Collection::new(options);
        for font in Font::ALL {
            let named = FontInfoOverride {
                family_name: Some(if font == Font::Signs { SIGNS } else { FAMILY }),
                weight: Some(FontWeight::new(f32::from(font.weight()))),
                style: Some(if font.italic() { FontStyle::Italic } else { FontStyle::Normal }),
                ..FontInfoOverride::default()
            };
            collection.register_fonts(Blob::new(Arc::new(font.bytes())), Some(named));
        }
        let fonts = FontContext { collection, source_cache: SourceCache::default() };
        Setter { fonts, context: LayoutContext::new(), known: BTreeMap::new() }
    }

    /// Byte ranges of the lines of a text without line breaks, remembered.
    fn lines(
        &mut self,
        text: &str,
        faces: &[(Range<usize>, Face)],
        size: f64,
        widths: (f64, f64),
    ) -> Vec<Range<usize>> {
        let runs = faces.iter().map(|(r, face)| (r.start, r.end, *face as u8)).collect();
        let asked = (text.to_string(), runs, [size, widths.0, widths.1].map(f64::to_bits));
        if let Some(known) = self.known.get(&asked) {
            return known.clone();
        }
        let found = self.break_lines(text, faces, size, widths);
        if self.known.len() >= REMEMBERED {
            self.known.clear();
        }
        self.known.insert(asked, found.clone());
        found
    }

    /// Byte ranges of the lines of a text without line breaks.
    fn break_lines(
        &mut self,
        text: &str,
        faces: &[(Range<usize>, Face)],
        size: f64,
        widths: (f64, f64),
    ) -> Vec<Range<usize>> {
        let mut builder = self.context.ranged_builder(&mut self.fonts, text, 1.0, false);
        let family = FontFamily::from("book, signs");
        builder.push_default(StyleProperty::FontFamily(family));
        builder.push_default(StyleProperty::FontSize(size as f32));
        builder.push_default(StyleProperty::OverflowWrap(OverflowWrap::Anywhere));
        let features = FontFeatures::from("\"liga\" 0, \"clig\" 0, \"calt\" 0, \"kern\" 1, \"tnum\" 1");
        builder.push_default(StyleProperty::FontFeatures(features));
        for (range, face) in faces {
            match face {
                Face::Regular => {}
                Face::Bold => {
                    let weight = FontWeight::new(f32::from(Font::Bold.weight()));
                    builder.push(StyleProperty::FontWeight(weight), range.clone());
                }
                Face::Italic => builder.push(StyleProperty::FontStyle(FontStyle::Italic), range.clone()),
            }
        }
        let mut layout: Layout<u32> = builder.build(text);
        let mut breaker = layout.break_lines();
        breaker.state_mut().set_layout_max_advance(widths.0.max(widths.1) as f32);
        breaker.state_mut().set_line_max_advance(widths.0 as f32);
        while breaker.break_next().is_some() {
            breaker.state_mut().set_line_max_advance(widths.1 as f32);
        }
        breaker.finish();
        layout.lines().map(|l| l.text_range()).collect()
    }
}

thread_local! {
    /// Reading the fonts takes a millisecond; it is done once a thread.
    static SETTER: RefCell<Setter> = RefCell::new(Setter::new());
}

/// Sets a paragraph into a width (mm). A width below one letter still takes a letter a line.
pub fn paragraph(spans: &[Span], width: f64, setting: Setting) -> Lines {
    let width = if width.is_finite() { width.clamp(0.1, 1.0e5) } else { 1.0e5 };
    let mut lines = Vec::new();
    for stretch in stretches(spans) {
        let first = lines.is_empty();
        set_stretch(&stretch, width, setting, first, &mut lines);
    }
    Lines { setting, lines }
}

/// Sets a numbered or bulleted piece of text: the label stands at the left edge and every line of the
/// text is moved in by `setting.hang`.
pub fn labelled(label: Span, spans: &[Span], width: f64, setting: Setting) -> Lines {
    let hang = setting.hang;
    let mut set = paragraph(spans, (width - hang).max(0.1), Setting { hang: 0.0, ..setting });
    for piece in set.lines.iter_mut().flatten() {
        piece.x += hang;
    }
    // The space keeps the label and the first word apart for search.
    let text = format!("{} ", drawable(&label.text));
    let seen = text_width(text.trim_end(), setting.size, label.face);
    let Span { face, colour, link, .. } = label;
    let piece = Piece { x: 0.0, width: seen, text, face, colour, link };
    match set.lines.first_mut() {
        Some(first) => first.insert(0, piece),
        None => set.lines.push(vec![piece]),
    }
    set.setting = setting;
    set
}

/// A stretch of text between line breaks: its characters, as drawn, the span of each range, and the
/// places where a word may be parted.
#[derive(Default)]
struct Stretch<'a> {
    text: String,
    spans: Vec<(Range<usize>, &'a Span)>,
    soft: Vec<usize>,
}

fn stretches(spans: &[Span]) -> Vec<Stretch<'_>> {
    let mut all = vec![Stretch::default()];
    for span in spans {
        for (i, part) in span.text.split('\n').enumerate() {
            if i > 0 {
                all.push(Stretch::default());
            }
            let Some(last) = all.last_mut() else { continue };
            let start = last.text.len();
            for (j, piece) in part.split('\u{AD}').enumerate() {
                if j > 0 && last.soft.last() != Some(&last.text.len()) && !last.text.is_empty() {
                    last.soft.push(last.text.len());
                }
                last.text.push_str(&drawable(piece));
            }
            if last.text.len() > start {
                last.spans.push((start..last.text.len(), span));
            }
        }
    }
    if let [only] = all.as_slice()
        && only.text.trim().is_empty()
    {
        return Vec::new();
    }
    all
}

/// The text as the line breaker sees it, with the way back.
struct Breakable {
    text: String,
    /// For every byte of `text`, and its end, the byte of the stretch it stands for.
    source: Vec<usize>,
}

impl Breakable {
    /// Spaces that must hold become non-breaking ones; soft hyphens still allowed are put in.
    fn new(text: &str, held: &[usize], soft: &[usize]) -> Breakable {
        let mut out = Breakable { text: String::with_capacity(text.len() + 16), source: Vec::new() };
        let (mut held, mut soft) = (held.iter().peekable(), soft.iter().peekable());
        for (i, c) in text.char_indices() {
            if soft.next_if(|s| **s == i).is_some() {
                out.push('\u{AD}', i);
            }
            let c = if held.next_if(|h| **h == i).is_some() { '\u{A0}' } else { c };
            out.push(c, i);
        }
        out.source.push(text.len());
        out
    }
    fn push(&mut self, c: char, from: usize) {
        self.text.push(c);
        self.source.resize(self.text.len(), from);
    }
    /// The range of `text` that stands for a range of the stretch.
    fn range(&self, range: &Range<usize>) -> Range<usize> {
        let place = |at: usize| self.source.partition_point(|s| *s < at);
        place(range.start)..place(range.end)
    }
}

fn set_stretch(stretch: &Stretch, width: f64, setting: Setting, first: bool, lines: &mut Vec<Vec<Piece>>) {
    if stretch.text.is_empty() {
        lines.push(Vec::new());
        return;
    }
    // Most cells of a table fit on one line; they need no line breaker.
    let indent = if first { 0.0 } else { setting.hang };
    let (line, length) = pieces(stretch, 0..stretch.text.len(), width, indent, false, setting);
    if length <= width {
        lines.push(line);
        return;
    }
    let held = protected(&stretch.text);
    let later = (width - setting.hang).max(0.1);
    let widths = (if first { width } else { later }, later);
    let mut soft = stretch.soft.clone();
    loop {
        let breakable = Breakable::new(&stretch.text, &held, &soft);
        let faces: Vec<(Range<usize>, Face)> =
            stretch.spans.iter().map(|(r, s)| (breakable.range(r), s.face)).collect();
        let ranges = SETTER.with(|s| s.borrow_mut().lines(&breakable.text, &faces, setting.size, widths));
        let count = ranges.len();
        let mut set = Vec::with_capacity(count);
        let mut refused = None;
        for (i, range) in ranges.into_iter().enumerate() {
            let range = breakable.source[range.start]..breakable.source[range.end];
            let indent = if first && i == 0 { 0.0 } else { setting.hang };
            let hyphen = i + 1 < count && soft.binary_search(&range.end).is_ok();
            let end = range.end;
            let (line, length) = pieces(stretch, range, width, indent, hyphen, setting);
            // The breaker does not know that a soft hyphen takes room; where it has none, it is taken
            // out and the stretch is broken again.
            if hyphen && length > width + 0.001 {
                refused = Some(end);
                break;
            }
            set.push(line);
        }
        match refused {
            Some(end) => soft.retain(|s| *s != end),
            None => {
                lines.append(&mut set);
                return;
            }
        }
    }
}

/// The pieces of a line and where the line ends, before alignment.
fn pieces(
    stretch: &Stretch,
    line: Range<usize>,
    width: f64,
    indent: f64,
    hyphen: bool,
    setting: Setting,
) -> (Vec<Piece>, f64) {
    let mut pieces: Vec<Piece> = Vec::new();
    let mut x = indent;
    for (range, span) in &stretch.spans {
        let range = range.start.max(line.start)..range.end.min(line.end);
        if range.start >= range.end {
            continue;
        }
        let mut text = stretch.text[range.clone()].to_string();
        if hyphen && range.end == line.end {
            text.push('-');
        }
        let full = text_width(&text, setting.size, span.face);
        // Spaces at the end of a line are kept for search but count for nothing.
        let seen = if range.end == line.end && text.ends_with(' ') {
            text_width(text.trim_end_matches(' '), setting.size, span.face)
        } else {
            full
        };
        pieces.push(Piece {
            x,
            width: seen,
            text,
            face: span.face,
            colour: span.colour,
            link: span.link.clone(),
        });
        x += full;
    }
    let end = pieces.iter().rev().find(|p| p.width > 0.0).map_or(indent, |p| p.x + p.width);
    let shift = match setting.align {
        Align::Left => 0.0,
        Align::Centre => (width - end) / 2.0,
        Align::Right => width - end,
    };
    pieces.iter_mut().for_each(|p| p.x += shift);
    (pieces, end)
}
