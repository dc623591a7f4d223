//! The one door between the app and the core.
//!
//! In: a plan. Out: what the app shows of it, as plain values.
//! Always true: nothing else in the app names a crate of the core.

mod finding;
mod shop;
mod solids;
mod start;

pub use shop::{Reading, ShopBook, ShopPart, ShopSheet, ShopStep, sheets as shop_sheets, shop};

pub use start::{Answers, Begun, DEMOS, Glimpse, NoTable, Spot, begin, demo, glimpse};
pub use turnleaf_diag::{Diagnostic, Severity};
pub use turnleaf_page::Paper;
pub use turnleaf_plan::planfile::{
    Choice, Drive, FIELDS, FIRST, FieldSpec, Kind, Language, Options, Picture, Plan, PlanUnit, PrintChoice,
    Projection, STOCK_KINDS, StepChange, TITLE_MAX, Value, field, field_of, free_id,
};

mod editions;

pub use editions::{
    Compared, Editions, Issued, Line, Overlay, PageFate, PageLine, PartFate, PartLine, Side, Thing,
};
pub use turnleaf_plan::planfile::{About, Date, Limit, Offer, PastRevision, Question, Revision, State};

use crate::links::name_links;
use crate::scene::Movement;
use crate::turning::Lift;
use serde::{Deserialize, Serialize};
use turnleaf_diag::Origin;
use turnleaf_page::Item;
pub use turnleaf_plan::register::{Copy as Holder, EMPTY as NO_COPIES, News, PastMark, Register, older};
use turnleaf_plan::{Assembly, BookOptions, Chapter, Chapters, Document, Unit};
pub use turnleaf_plan::{is_pdf, listen, open};
use turnleaf_text::Font;
use turnleaf_units::{Length, PrintUnits, print_decimal};

/// How fine outlines are on the screen, mm: below half a pixel at any zoom a screen shows.
const FLAT: f64 = 0.05;

/// The keys of the chapters that may be chosen, in the order of the book.
pub fn chapter_keys() -> impl Iterator<Item = &'static str> {
    Chapter::ALL.into_iter().map(|(key, _)| key)
}

/// The keys of the chapters that a choice stands for; one sentence when it names none, or one that does not exist.
pub fn read_chapters(choice: &str) -> Result<Vec<&'static str>, String> {
    let set = Chapters::read(choice)?;
    Ok(Chapter::ALL.into_iter().filter(|(_, part)| set.has(*part)).map(|(key, _)| key).collect())
}

/// A piece as it is drawn: rings of points, mm, y up, in its part's own frame.
#[derive(Clone, Debug, PartialEq)]
pub struct PieceView {
    /// Stable identifier.
    pub id: String,
    /// Identifier of its part.
    pub part: String,
    /// Plain name.
    pub name: String,
    /// Outer ring, then holes.
    pub outline: Vec<Vec<(f64, f64)>>,
    /// Lowest height when closed, mm above the floor.
    pub z_min: f64,
    /// Greatest height when closed.
    pub z_max: f64,
}

/// Pieces and their motion, quick enough to follow every keystroke.
pub struct Table(Assembly);

impl Table {
    /// Works out the pieces of a plan; without a mechanism, what is at odds.
    pub fn new(plan: &Plan) -> Result<Table, Vec<Diagnostic>> {
        turnleaf_plan::outline(plan).map(Table)
    }

    /// Whole turn, degrees.
    pub fn turn_degrees(&self) -> f64 {
        self.0.mechanism.turn().to_degrees()
    }

    /// Where the lift takes place.
    pub fn lift(&self) -> Lift {
        let m = &self.0.mechanism;
        Lift { begins: m.lift_begins().to_degrees(), ends: m.lift_ends().to_degrees() }
    }

    /// How far panels and leaves are out at a turn, mm.
    pub fn travels(&self, degrees: f64) -> (f64, f64) {
        let turn = degrees.to_radians();
        (self.0.mechanism.panel_travel(turn), self.0.mechanism.leaf_travel(turn))
    }

    /// Diameter when closed, mm.
    pub fn closed_diameter(&self) -> f64 {
        self.0.mechanism.sizes.closed_diameter
    }

    /// Thickness of a tongue, mm.
    pub fn tongue(&self) -> f64 {
        self.0.mechanism.sizes.tongue()
    }

    /// How far leaves and star have risen at a turn, as a share of the whole.
    pub fn lift_share(&self, degrees: f64) -> f64 {
        self.0.mechanism.lift_share(degrees.to_radians())
    }

    /// Every piece.
    pub fn pieces(&self) -> Vec<PieceView> {
        self.pieces_at(FLAT)
    }

    /// Every piece with outlines so fine, mm.
    pub fn pieces_at(&self, fine: f64) -> Vec<PieceView> {
        let view = |piece: &_| {
            let (part, place) = (self.0.part_of(piece), self.0.place(piece, 0.0));
            // The widest layer shows tongues, which the bare outline does not.
            let widest =
                part.layers.iter().max_by(|a, b| a.region.outer.area().total_cmp(&b.region.outer.area()));
            let rings = match widest {
                Some(layer) => layer.region.rings().collect(),
                None => vec![&part.outline],
            };
            PieceView {
                id: piece.id.clone(),
                part: part.id.clone(),
                name: part.name.clone(),
                outline: rings
                    .iter()
                    .map(|ring| ring.flatten(fine).into_iter().map(|p| (p.x, p.y)).collect())
                    .collect(),
                z_min: place.z,
                z_max: place.z + part.thickness,
            }
        };
        self.0.pieces.iter().map(view).collect()
    }

    /// Where every piece is at a turn, degrees from closed.
    pub fn places(&self, degrees: f64) -> Vec<Movement> {
        let turn = degrees.clamp(0.0, self.turn_degrees()).to_radians();
        let place = |piece: &_| {
            let pose = self.0.place(piece, turn).pose;
            Movement::new(pose.angle(), pose.offset.x, pose.offset.y)
        };
        self.0.pieces.iter().map(place).collect()
    }
}

/// A solved number, ready to show.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Number {
    /// Stable identifier.
    pub id: String,
    /// Plain words.
    pub label: String,
    /// In millimetres (or its own unit).
    pub text_mm: String,
    /// In inches (or its own unit).
    pub text_in: String,
    /// The rule it came from.
    pub rule: String,
}

impl Number {
    /// In the units chosen.
    pub fn text(&self, units: PrintChoice) -> String {
        match units {
            PrintChoice::Mm => self.text_mm.clone(),
            PrintChoice::Inch => self.text_in.clone(),
            PrintChoice::Both if self.text_mm == self.text_in => self.text_mm.clone(),
            PrintChoice::Both => format!("{} ({})", self.text_mm, self.text_in),
        }
    }
}

/// One check, ready to show.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Check {
    /// Stable identifier.
    pub id: String,
    /// Whether it holds.
    pub holds: bool,
    /// In plain words.
    pub text: String,
    /// What is left before it fails, in the check's own unit; negative when it fails.
    pub room: f64,
    /// The same without sign, in the units chosen.
    pub margin: String,
    /// Turn at which it is tightest, degrees; none when it does not depend on the turn.
    pub at_turn: Option<f64>,
    /// The pieces that come nearest there.
    pub pieces: Vec<String>,
}

/// A change of one size that was tried and mends what was asked about.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Mend {
    /// One plain sentence.
    pub text: String,
    /// The field and what to type into it; none when a part, not a size, is at fault.
    pub set: Option<(String, String)>,
}

/// What a search for remedies found.
#[derive(Clone, Debug, PartialEq, Default, Serialize, Deserialize)]
pub struct Mends {
    /// What would happen with sizes that give no table, were they built as given.
    pub as_given: Option<String>,
    /// Changes, the nearest first.
    pub mends: Vec<Mend>,
}

impl Mends {
    fn of(as_given: Option<String>, mends: Vec<turnleaf_plan::Mend>) -> Mends {
        let mend =
            |m: turnleaf_plan::Mend| Mend { text: m.text, set: m.set.map(|(id, text)| (id.into(), text)) };
        Mends { as_given, mends: mends.into_iter().map(mend).collect() }
    }

    /// For a plan that gives no table. May take seconds.
    pub fn for_plan(plan: &Plan) -> Mends {
        Mends::of(turnleaf_plan::as_given(plan), turnleaf_plan::remedies_for_plan(plan))
    }
}

/// How far one size may go with all others as they are.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Limits {
    /// Least value, in the plan's units.
    pub least: String,
    /// Greatest value.
    pub most: String,
    /// Both as numbers, in millimetres, degrees or a count.
    pub range: (f64, f64),
}

/// The limits of a size; none when the table does not pass its checks, or the size has none to find.
pub fn limits(plan: &Plan, size: &str) -> Option<Limits> {
    let found = turnleaf_plan::interval(&turnleaf_plan::sizes(plan), size)?;
    let sign = plan.options().language.decimal_sign();
    let say = |value: f64| match found.unit {
        "mm" => say_length(plan, value),
        "deg" => format!("{}°", print_decimal(value, 1, sign).unwrap_or_default()),
        _ => print_decimal(value, 0, sign).unwrap_or_default(),
    };
    let range = (found.least, found.most);
    Some(Limits { least: say(found.least), most: say(found.most), range })
}

/// A strength, weight or safety figure, ready to show: guidance, not certification.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Strength {
    /// Stable identifier.
    pub id: String,
    /// Plain name.
    pub label: String,
    /// The number with its unit.
    pub value: String,
    /// What it is held against, if anything.
    pub limit: Option<String>,
    /// Whether it holds; true without a limit.
    pub holds: bool,
    /// What it means for the maker.
    pub guidance: String,
    /// Formula and source.
    pub rule: String,
}

/// What is said above the strength figures.
pub const STRENGTH_NOTICE: &str = turnleaf_plan::NOTICE;

/// A build step, ready to show.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct StepView {
    /// Stable identifier.
    pub id: String,
    /// Number in the book; none when it is hidden.
    pub number: Option<usize>,
    /// Whether it is the maker's own.
    pub own: bool,
    /// Whether the maker changed anything about it.
    pub changed: bool,
    /// Title as printed.
    pub title: String,
    /// Paragraphs as printed.
    pub text: Vec<String>,
    /// Its own paragraphs as a maker would type them, numbers as references.
    pub own_text: Vec<String>,
    /// Checks before going on, as printed.
    pub checks: Vec<String>,
    /// Working time.
    pub time: String,
}

/// Everything worked out from a plan that works, proof of the motion included.
pub struct Built(turnleaf_plan::Built);

impl Built {
    /// Works a plan out.
    pub fn new(plan: &Plan) -> Result<Built, Vec<Diagnostic>> {
        turnleaf_plan::build(plan).map(Built)
    }

    /// Solved numbers in book order.
    pub fn numbers(&self) -> Vec<Number> {
        let number = |n: &turnleaf_plan::Number| {
            let (text_mm, text_in) = self.texts(n.value, n.unit);
            Number { id: n.id.into(), label: n.label.into(), text_mm, text_in, rule: n.rule.into() }
        };
        self.0.numbers.iter().map(number).collect()
    }

    /// Checks in book order.
    pub fn checks(&self) -> Vec<Check> {
        let check = |c: &turnleaf_plan::Check| Check {
            id: c.id.clone(),
            holds: c.holds,
            text: c.text.clone(),
            room: c.margin,
            margin: match c.unit {
                "count" => self.decimal(c.margin.abs(), 0),
                "mm" => self.length(c.margin.abs()),
                "deg" => format!("{}°", self.decimal(c.margin.abs(), 1)),
                unit => format!("{} {unit}", self.decimal(c.margin.abs(), 1)).trim_end().to_string(),
            },
            at_turn: c.at_turn,
            pieces: c.pieces.clone(),
        };
        self.0.checks.iter().map(check).collect()
    }

    /// Strength, weight and safety figures in their fixed order.
    pub fn strength(&self) -> Vec<Strength> {
        let say = |value: f64, unit: &str| match unit {
            "mm" => self.length(value),
            "deg" => format!("{}°", self.decimal(value, 1)),
            "count" => self.decimal(value, 0),
            "ratio" => self.decimal(value, 2),
            unit => format!("{} {unit}", self.decimal(value, if value.abs() < 10.0 { 2 } else { 0 })),
        };
        let figure = |f: &turnleaf_plan::Figure| Strength {
            id: f.id.clone(),
            label: f.label.clone(),
            value: say(f.value, f.unit),
            limit: f.limit.map(|limit| say(limit, f.unit)),
            holds: f.margin.is_none_or(|margin| margin >= 0.0),
            guidance: f.guidance.clone(),
            rule: format!("{} ({})", f.formula, f.source),
        };
        self.0.figures().iter().map(figure).collect()
    }

    /// Build steps in the order of the book, and what is wrong with the maker's changes, as sentences.
    pub fn steps(&self) -> (Vec<StepView>, Vec<String>) {
        let (steps, said) = self.0.steps(&BookOptions::of(&self.0.plan));
        let view = |s: turnleaf_plan::StepText| StepView {
            id: s.id,
            number: s.number,
            own: s.own,
            changed: s.changed,
            title: s.title,
            text: s.text,
            own_text: s.own_text,
            checks: s.checks,
            time: s.time,
        };
        (steps.into_iter().map(view).collect(), said.into_iter().map(|d| d.sentence).collect())
    }

    /// What would mend a check that fails. May take seconds.
    pub fn mends(&self, check: &str) -> Mends {
        Mends::of(None, turnleaf_plan::remedies_for(&self.0, check))
    }

    /// The finished book, as the plan wants it, with the chapters named.
    pub fn book(&self, chapters: &str) -> Result<Book, String> {
        let options = BookOptions { chapters: Chapters::read(chapters)?, ..BookOptions::of(&self.0.plan) };
        let (document, remarks) = self.0.book(&options);
        Ok(Book { document, remarks, numbers: self.0.numbers.clone() })
    }

    /// Sheets at these places of an older book, drawn for this plan, with the places of some words marked: as the newer
    /// book will have them, but for page numbers that may move. None for what cannot be drawn alone.
    pub fn early(&self, older: &Book, places: &[usize], words: &str) -> Vec<Option<PageView>> {
        let options = BookOptions::of(&self.0.plan);
        let part_of = |page: &turnleaf_plan::Page| {
            page.id.strip_prefix("sheet/").and_then(|id| id.split('/').next()).map(str::to_string)
        };
        let mut known: Vec<(String, usize, Book)> = Vec::new();
        let mut view = |place: &usize| {
            let pages = &older.document.pages;
            let part = part_of(pages.get(*place)?)?;
            if known.last().is_none_or(|(of, ..)| *of != part) {
                let first = pages.iter().position(|page| part_of(page).as_ref() == Some(&part))?;
                let pages = self.0.part_pages(&options, &part, first + 1);
                let document = Document { pages, ..Document::default() };
                known.push((
                    part,
                    first,
                    Book { document, remarks: Vec::new(), numbers: self.0.numbers.clone() },
                ));
            }
            let (_, first, sheets) = known.last()?;
            let page = sheets.document.pages.get(place - first)?;
            Some(sheets.view(page, words, &older.pages()))
        };
        places.iter().map(&mut view).collect()
    }

    /// A length in the units that the plan prints.
    fn length(&self, mm: f64) -> String {
        say_length(&self.0.plan, mm)
    }

    fn decimal(&self, value: f64, places: u8) -> String {
        print_decimal(value, places, self.0.plan.options().language.decimal_sign()).unwrap_or_default()
    }

    /// A number in both systems.
    fn texts(&self, value: f64, unit: Unit) -> (String, String) {
        let both = |text: String| (text.clone(), text);
        match unit {
            Unit::Mm => {
                let options = self.0.plan.options();
                let sign = options.language.decimal_sign();
                let print = options.print;
                let inch =
                    turnleaf_units::InchPrint { denominator: print.inch_denominator, feet: print.feet };
                let Some(length) = Length::from_mm_f64(value) else { return both(String::new()) };
                let one = |units: PrintUnits| units.print(length, sign).text();
                (one(PrintUnits::Mm(print.mm_step)), one(PrintUnits::Inch(inch)))
            }
            // 100 mm² to a cm², 645.16 mm² to a square inch (25.4², exact).
            Unit::Mm2 => (
                format!("{} cm²", self.decimal(value / 100.0, 0)),
                format!("{} in²", self.decimal(value / 645.16, 1)),
            ),
            Unit::Deg => both(format!("{}°", self.decimal(value, 1))),
            Unit::Count => both(self.decimal(value, 0)),
            Unit::Ratio => both(self.decimal(value, 3)),
        }
    }
}

/// A page of a book, for its contents.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct PageInfo {
    /// What it shows.
    pub title: String,
    /// The label a reader knows it by.
    pub label: String,
    /// Width, mm.
    pub width: f64,
    /// Height, mm.
    pub height: f64,
    /// The marks on it, which links lead to.
    pub marks: Vec<String>,
}

impl PageInfo {
    /// What one calls it.
    pub fn name(&self) -> String {
        format!("Page {}: {}", self.label, self.title)
    }

    /// Whether it is wider than high.
    pub fn wide(&self) -> bool {
        self.width > self.height
    }
}

/// A figure printed on a page, and what it comes from.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Sourced {
    /// As printed.
    pub said: String,
    /// "size/height" or "solved/gap.width".
    pub origin: String,
    /// The size or the solved number in plain words.
    pub from: String,
}

/// A page to put into the app.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct PageView {
    /// The drawing.
    pub drawing: String,
    /// Its figures and what they come from, each pair once, in reading order.
    pub sourced: Vec<Sourced>,
}

/// The marks among items, groups within groups included.
fn marks(items: &[Item], found: &mut Vec<String>) {
    for item in items {
        match item {
            Item::Mark { name, .. } => found.push(name.clone()),
            Item::Group { items, .. } => marks(items, found),
            _ => {}
        }
    }
}

/// All words among items.
fn words_of(items: &[Item], out: &mut String) {
    for item in items {
        match item {
            Item::Text(text) => {
                if !out.is_empty() {
                    out.push(' ');
                }
                out.push_str(&text.text);
            }
            Item::Group { items, .. } => words_of(items, out),
            _ => {}
        }
    }
}

/// A finished book.
pub struct Book {
    document: Document,
    remarks: Vec<Diagnostic>,
    numbers: Vec<turnleaf_plan::Number>,
}

/// What page writers put on every line of text, and the page's policy does not allow; our style sheet says the same.
const INLINE: &str = " style=\"font-variant-ligatures:none\"";

impl Book {
    /// Its pages in order.
    pub fn pages(&self) -> Vec<PageInfo> {
        let info = |page: &turnleaf_plan::Page| {
            let mut on_it = Vec::new();
            marks(&page.items, &mut on_it);
            PageInfo {
                title: page.title.clone(),
                label: page.label.clone(),
                width: page.width,
                height: page.height,
                marks: on_it,
            }
        };
        self.document.pages.iter().map(info).collect()
    }

    /// What did not fit, as sentences.
    pub fn remarks(&self) -> Vec<String> {
        self.remarks.iter().map(|remark| remark.sentence.clone()).collect()
    }

    /// Pages to put into the app, with the places of some words marked; places that are none are left out.
    pub fn views(&self, places: &[usize], words: &str) -> Vec<PageView> {
        let pages = self.pages();
        let view = |place: &usize| Some(self.view(self.document.pages.get(*place)?, words, &pages));
        places.iter().filter_map(view).collect()
    }

    /// A page; `pages` are those that its links lead to.
    fn view(&self, page: &turnleaf_plan::Page, words: &str, pages: &[PageInfo]) -> PageView {
        let leads = |mark: &str| pages.iter().find(|page| page.marks.iter().any(|on_it| on_it == mark));
        let drawing = if words.trim().is_empty() {
            self.svg(page)
        } else {
            self.svg(&turnleaf_plan::Page { items: finding::marked(&page.items, words), ..page.clone() })
        };
        let mut sourced = Vec::new();
        self.sourced(&page.items, &mut sourced);
        PageView { drawing: name_links(&drawing, |mark| leads(mark).map(PageInfo::name)), sourced }
    }

    /// Pages as small pictures; places that are none are empty.
    pub fn thumbs(&self, places: &[usize]) -> Vec<String> {
        let thumb =
            |place: &usize| self.document.pages.get(*place).map_or(String::new(), |page| self.svg(page));
        places.iter().map(thumb).collect()
    }

    fn svg(&self, page: &turnleaf_plan::Page) -> String {
        turnleaf_plan::page_svg(page, &self.numbers).replace(INLINE, "")
    }

    fn sourced(&self, items: &[Item], out: &mut Vec<Sourced>) {
        for item in items {
            let Item::Group { origin, items, .. } = item else { continue };
            let Some(origin) = origin else {
                self.sourced(items, out);
                continue;
            };
            let (origin, from) = match *origin {
                Origin::Size(_) => match field_of(*origin) {
                    Some(field) => (format!("size/{}", field.id), field.label),
                    None => continue,
                },
                Origin::Solved(i) => match self.numbers.get(usize::from(i)) {
                    Some(number) => (format!("solved/{}", number.id), number.label),
                    None => continue,
                },
            };
            let mut said = String::new();
            words_of(items, &mut said);
            let one = Sourced { said: said.trim().to_string(), origin, from: from.to_string() };
            if !one.said.is_empty() && !out.contains(&one) {
                out.push(one);
            }
        }
    }

    /// The pages on which words stand, with how often.
    pub fn find(&self, words: &str) -> Vec<(usize, usize)> {
        let pages = self.document.pages.iter().enumerate();
        pages
            .map(|(place, page)| (place, finding::count(&page.items, words)))
            .filter(|(_, n)| *n > 0)
            .collect()
    }

    /// The whole book as a file.
    pub fn pdf(&self) -> Result<Vec<u8>, String> {
        turnleaf_plan::pdf(&self.document)
            .map_err(|problem| format!("The book could not be written: {problem}"))
    }
}

/// The fonts that pages are drawn with: family, weight, whether slanted, and the file.
pub fn fonts() -> impl Iterator<Item = (&'static str, u16, bool, &'static [u8])> {
    Font::ALL.into_iter().map(|font| (font.family(), font.weight(), font.italic(), font.bytes()))
}

/// A length said in the units that a plan prints.
pub fn say_length(plan: &Plan, mm: f64) -> String {
    let options = plan.options();
    let sign = options.language.decimal_sign();
    Length::from_mm_f64(mm)
        .map_or(String::new(), |length| options.print.print_units().print(length, sign).text())
}
