//! The bundled fonts.
//!
//! In: nothing (the files are part of the program). Out: bytes, metrics, coverage and outlines.
//! Always true: there are exactly four fonts, all with 2048 units per em, and nothing outside this
//! program is ever looked up.

use std::sync::OnceLock;

use harfrust::{Direction, Feature, FontRef, ShapePlan, Shaper, ShaperData, Tag, script};
use skrifa::MetadataProvider;
use skrifa::charmap::Charmap;
use skrifa::instance::{LocationRef, Size};
use skrifa::outline::{DrawSettings, OutlinePen};
use turnleaf_page::{Face, Pt, Step, pt};

/// One of the bundled fonts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Font {
    /// Open Sans Regular.
    Regular,
    /// Open Sans SemiBold.
    Bold,
    /// Open Sans Italic.
    Italic,
    /// Our own signs (diameter, arrows, boxes) that Open Sans lacks.
    Signs,
}

/// Units per em of every bundled font.
pub const UNITS: f64 = 2048.0;

static REGULAR: &[u8] = include_bytes!("../../../static/fonts/OpenSans-Regular.ttf");
static BOLD: &[u8] = include_bytes!("../../../static/fonts/OpenSans-SemiBold.ttf");
static ITALIC: &[u8] = include_bytes!("../../../static/fonts/OpenSans-Italic.ttf");
static SIGNS: &[u8] = include_bytes!("../../../static/fonts/TurnleafSigns-Regular.ttf");

impl Font {
    /// All fonts, in a fixed order.
    pub const ALL: [Font; 4] = [Font::Regular, Font::Bold, Font::Italic, Font::Signs];

    /// The font of a face.
    pub fn of(face: Face) -> Font {
        match face {
            Face::Regular => Font::Regular,
            Face::Bold => Font::Bold,
            Face::Italic => Font::Italic,
        }
    }
    /// The font file.
    pub fn bytes(self) -> &'static [u8] {
        match self {
            Font::Regular => REGULAR,
            Font::Bold => BOLD,
            Font::Italic => ITALIC,
            Font::Signs => SIGNS,
        }
    }
    /// The family name as style sheets write it.
    pub fn family(self) -> &'static str {
        match self {
            Font::Signs => "Turnleaf Signs",
            _ => "Open Sans",
        }
    }
    /// The weight as style sheets write it.
    pub fn weight(self) -> u16 {
        match self {
            Font::Bold => 600,
            _ => 400,
        }
    }
    /// Whether the font is slanted.
    pub fn italic(self) -> bool {
        self == Font::Italic
    }
    /// Index into [`Font::ALL`].
    pub fn index(self) -> usize {
        self as usize
    }
    /// Whether the font has its own picture of this character.
    pub fn covers(self, c: char) -> bool {
        loaded(self).map.map(c).is_some_and(|g| g.to_u32() != 0)
    }
    /// The outline of a glyph in em units, y up, as quadratic curves raised to cubic ones.
    pub fn outline(self, glyph: u32) -> Vec<Step> {
        let mut pen = StepPen::default();
        let font = &loaded(self).font;
        if let Some(outline) = font.outline_glyphs().get(skrifa::GlyphId::new(glyph)) {
            let settings = DrawSettings::unhinted(Size::unscaled(), LocationRef::default());
            // A glyph of a bundled font always draws; an error would leave it blank.
            let _ = outline.draw(settings, &mut pen);
        }
        pen.steps
    }
}

/// A font ready for shaping.
pub(crate) struct Loaded {
    font: FontRef<'static>,
    map: Charmap<'static>,
    shaper: Shaper<'static>,
    /// For left-to-right and for right-to-left text.
    plans: [ShapePlan; 2],
}

/// Ligatures are off so that every letter stays one letter for search and for measuring; figures are
/// tabular so that columns of numbers line up; kerning is on, although today's files carry none.
pub(crate) fn features() -> [Feature; 5] {
    let feature = |tag: &[u8; 4], value| Feature::new(Tag::new(tag), value, ..);
    [feature(b"kern", 1), feature(b"liga", 0), feature(b"clig", 0), feature(b"calt", 0), feature(b"tnum", 1)]
}

impl Loaded {
    fn new(font: Font) -> Loaded {
        // A bundled file that cannot be read is our own bug, and every test would show it.
        let font = FontRef::new(font.bytes()).expect("a bundled font is readable");
        let data: &'static ShaperData = Box::leak(Box::new(ShaperData::new(&font)));
        let shaper = data.shaper(&font).build();
        let plan = |direction, script| ShapePlan::new(&shaper, direction, Some(script), None, &features());
        let plans =
            [plan(Direction::LeftToRight, script::LATIN), plan(Direction::RightToLeft, script::HEBREW)];
        Loaded { map: font.charmap(), font, shaper, plans }
    }
    /// The shaper and the plan for a direction.
    pub(crate) fn shaper(&self, rtl: bool) -> (&Shaper<'static>, &ShapePlan) {
        (&self.shaper, &self.plans[usize::from(rtl)])
    }
}

/// The loaded font; read once.
pub(crate) fn loaded(font: Font) -> &'static Loaded {
    static LOADED: [OnceLock<Loaded>; 4] = [const { OnceLock::new() }; 4];
    LOADED[font.index()].get_or_init(|| Loaded::new(font))
}

/// Collects an outline in em units.
#[derive(Default)]
struct StepPen {
    steps: Vec<Step>,
    last: Pt,
}

fn em(x: f32, y: f32) -> Pt {
    pt(f64::from(x) / UNITS, f64::from(y) / UNITS)
}

impl OutlinePen for StepPen {
    fn move_to(&mut self, x: f32, y: f32) {
        self.last = em(x, y);
        self.steps.push(Step::Move(self.last));
    }
    fn line_to(&mut self, x: f32, y: f32) {
        self.last = em(x, y);
        self.steps.push(Step::Line(self.last));
    }
    fn quad_to(&mut self, cx: f32, cy: f32, x: f32, y: f32) {
        // Degree raising: the cubic controls lie two thirds of the way to the quadratic one.
        let (a, c, b) = (self.last, em(cx, cy), em(x, y));
        let toward = |p: Pt| pt(p.x + (c.x - p.x) * 2.0 / 3.0, p.y + (c.y - p.y) * 2.0 / 3.0);
        self.last = b;
        self.steps.push(Step::Cubic(toward(a), toward(b), b));
    }
    fn curve_to(&mut self, ax: f32, ay: f32, bx: f32, by: f32, x: f32, y: f32) {
        self.last = em(x, y);
        self.steps.push(Step::Cubic(em(ax, ay), em(bx, by), self.last));
    }
    fn close(&mut self) {
        self.steps.push(Step::Close);
    }
}
