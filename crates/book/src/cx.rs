//! What every chapter needs at hand.
//!
//! In: the book's input and options. Out: words, numbers and names as this book prints them.
//! Always true: a value that is no number prints as a dash and is reported once at the end.

use crate::flow::Flow;
use crate::grid::Grid;
use crate::say::Say;
use crate::words::Words;
use crate::{BookInput, BookOptions};
use std::cell::{Cell, OnceCell};
use std::collections::BTreeMap;
use turnleaf_assembly::relations::Relations;
use turnleaf_diag::Origin;
use turnleaf_mechanism::{
    Mechanism, Number,
    numbers::{skewed_label, skewed_rule},
};
use turnleaf_motion::Pinch;
use turnleaf_parts::Part;
use turnleaf_sheet::{SheetOptions, Tongue};

/// Page numbers of marks, as far as known.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Refs {
    /// By the name of the mark.
    pub pages: BTreeMap<String, usize>,
    /// Whether a mark that is not known belongs to a chapter that was left out.
    pub settled: bool,
}

impl Refs {
    /// The page number of a mark; two figures' worth of dashes while it is not known, one dash for what is not
    /// in this book.
    pub fn page(&self, mark: &str) -> String {
        let unknown = if self.settled { "–" } else { "––" };
        self.pages.get(mark).map_or_else(|| unknown.to_string(), |n| n.to_string())
    }
}

/// The context of a book.
pub struct Cx<'a> {
    /// What the book is made of.
    pub input: &'a BookInput<'a>,
    /// How it is wanted.
    pub options: &'a BookOptions,
    /// Messages.
    pub words: Words,
    /// What drawing sheets say.
    pub tongue: Tongue,
    /// Numbers.
    pub say: Say,
    /// Measure of text pages.
    pub grid: Grid,
    /// How many values were no numbers.
    pub dashes: Cell<usize>,
    /// Where the next chapter begins on the page of the chapter before it, mm; on a page of its own when none.
    pub start: Cell<Option<f64>>,
    /// Gaps that can pinch a finger, once they were asked for.
    pinches: OnceCell<Vec<Pinch>>,
    /// What lies on, around and through what, once it was asked for.
    relations: OnceCell<Relations>,
    /// What all sheets have in common, once it was asked for.
    sheets: OnceCell<SheetOptions>,
}

impl<'a> Cx<'a> {
    /// The context.
    pub fn new(input: &'a BookInput<'a>, options: &'a BookOptions) -> Cx<'a> {
        Cx {
            input,
            options,
            words: Words::new(options.language),
            tongue: crate::words::tongue(options.language),
            say: Say::new(&options.print, options.language.decimal_sign()),
            grid: Grid::new(options.paper),
            dashes: Cell::new(0),
            start: Cell::new(None),
            pinches: OnceCell::new(),
            relations: OnceCell::new(),
            sheets: OnceCell::new(),
        }
    }
    /// Begins a numbered chapter where [`Cx::start`] says.
    pub fn flow(&self, number: usize, id: &str, title: &str) -> Flow<'_> {
        Flow::starting(&self.grid, number, id, title, self.start.take())
    }
    /// Gaps that can pinch a finger; looked for once, however often the chapter is set.
    pub fn pinches(&self) -> &[Pinch] {
        self.pinches.get_or_init(|| turnleaf_motion::pinch_points(self.input.assembly))
    }
    /// Takes them over from where they were looked for.
    pub fn know_pinches(&self, found: Vec<Pinch>) {
        // What is known already is the same.
        let _ = self.pinches.set(found);
    }
    /// What lies on, around and through what; found once for drawings and steps.
    pub fn relations(&self) -> &Relations {
        self.relations.get_or_init(|| Relations::of(self.input.assembly))
    }
    /// What all sheets have in common; worked out once.
    pub fn sheets(&self, make: impl FnOnce() -> SheetOptions) -> &SheetOptions {
        self.sheets.get_or_init(make)
    }
    /// The mechanism.
    pub fn mechanism(&self) -> &'a Mechanism {
        &self.input.assembly.mechanism
    }
    /// A message.
    pub fn t(&self, name: &str) -> String {
        self.words.get(name)
    }
    /// A message with values.
    pub fn tv(&self, name: &str, values: &[(&str, String)]) -> String {
        self.words.with(name, values)
    }
    /// The text of a number, or a dash.
    pub fn or_dash(&self, text: Option<String>) -> String {
        text.unwrap_or_else(|| {
            self.dashes.set(self.dashes.get() + 1);
            "–".to_string()
        })
    }
    /// A length in the book's units.
    pub fn length(&self, mm: f64) -> String {
        self.or_dash(self.say.length(mm))
    }
    /// A length in the leading unit alone, for narrow places.
    pub fn leading(&self, mm: f64) -> String {
        self.or_dash(self.say.leading(mm))
    }
    /// An angle to a tenth of a degree.
    pub fn degrees(&self, degrees: f64) -> String {
        self.or_dash(self.say.degrees(degrees, 1))
    }
    /// A force in newtons, or in pounds-force where the book's lengths are inches.
    pub fn force(&self, newtons: f64) -> String {
        use turnleaf_units::{PrintUnits, print_decimal};
        // 1 lbf = 4.448 221 615 260 5 N exactly (0.453 592 37 kg times standard gravity).
        let (n, lbf) = (
            print_decimal(newtons, 0, self.say.sign).map(|t| format!("{t}\u{A0}N")),
            print_decimal(newtons / 4.448_221_615_260_5, 0, self.say.sign).map(|t| format!("{t}\u{A0}lbf")),
        );
        match self.say.units {
            PrintUnits::Mm(_) => self.or_dash(n),
            PrintUnits::Inch(_) => self.or_dash(lbf),
            PrintUnits::Both(..) => format!("{} ({})", self.or_dash(n), self.or_dash(lbf)),
        }
    }
    /// A solved number and its origin.
    pub fn number(&self, id: &str) -> Option<(Origin, &'a Number)> {
        let i = self.input.numbers.iter().position(|n| n.id == id)?;
        Some((Origin::Solved(u16::try_from(i).ok()?), &self.input.numbers[i]))
    }
    /// The name of a part.
    pub fn part_name(&self, part: &Part) -> String {
        if let Some((name, size)) = self.wood_screw(part) {
            return format!("{name} {size}");
        }
        self.words.named("part", &part.id).unwrap_or_else(|| part.name.clone())
    }
    /// A wood screw's name and its size, which all languages write alike but for the decimal sign.
    pub fn wood_screw(&self, part: &Part) -> Option<(String, String)> {
        let size = part.name.strip_prefix("Wood screw ")?;
        let name = self.words.named("part", "wood-screw").unwrap_or_else(|| "Wood screw".into());
        // The only decimal in it is that of the metric thickness, which comes first.
        let (thick, rest) = size.split_once(' ')?;
        Some((name, format!("{} {rest}", thick.replace('.', &self.say.sign.char().to_string()))))
    }
    /// The name of the part with an identifier.
    pub fn name_of(&self, id: &str) -> String {
        self.input.assembly.part(id).map_or_else(|| id.to_string(), |p| self.part_name(p))
    }
    /// The number of a part in the parts list, counted from 1 over all parts in their order.
    pub fn part_number(&self, id: &str) -> usize {
        self.input.assembly.parts.iter().position(|p| p.id == id).map_or(0, |i| i + 1)
    }
    /// A strength or safety figure.
    pub fn figure(&self, id: &str) -> Option<&'a turnleaf_figures::Figure> {
        self.input.figures.iter().find(|f| f.id == id)
    }
    /// A mass in kilograms, or in pounds where the book's lengths are inches.
    pub fn mass(&self, kg: f64) -> String {
        use turnleaf_units::{PrintUnits, print_decimal};
        // 1 lb = 0.453 592 37 kg exactly (agreement of 1959). Below a kilogram two decimals say something.
        let say = |x: f64, unit: &str| {
            let decimals = if x < 1.0 { 2 } else { 1 };
            self.or_dash(print_decimal(x, decimals, self.say.sign).map(|t| format!("{t}\u{A0}{unit}")))
        };
        match self.say.units {
            PrintUnits::Mm(_) => say(kg, "kg"),
            PrintUnits::Inch(_) => say(kg / 0.453_592_37, "lb"),
            PrintUnits::Both(..) => format!("{} ({})", say(kg, "kg"), say(kg / 0.453_592_37, "lb")),
        }
    }
    /// A material.
    pub fn material(&self, material: &str) -> String {
        self.words.named("material", material).unwrap_or_else(|| material.to_string())
    }
    /// The label of a solved number.
    pub fn label(&self, n: &Number) -> String {
        let skewed = self.mechanism().layout.skew != 0.0 && skewed_label(n.id).is_some();
        let prefix = if skewed { "number-skewed" } else { "number" };
        self.words.named(prefix, n.id).unwrap_or_else(|| n.label.to_string())
    }
    /// The rule of a number, as it is on this table.
    pub fn rule(&self, n: &Number) -> String {
        let skewed = self.mechanism().layout.skew != 0.0 && skewed_rule(n.id).is_some();
        let prefix = if skewed { "rule-skewed" } else { "rule" };
        self.words.named(prefix, n.id).unwrap_or_else(|| n.rule.to_string())
    }
    /// The title of the book.
    pub fn title(&self) -> String {
        let title = self.input.plan.texts().title.trim();
        if title.is_empty() { self.t("untitled") } else { title.to_string() }
    }
    /// The program that made the book, with its version; empty when that is not known.
    pub fn program(&self) -> String {
        let version = self.input.program.trim();
        if version.is_empty() { String::new() } else { format!("Turnleaf {version}") }
    }
    /// The revision and its date in a few words.
    pub fn revision(&self) -> String {
        let r = self.input.plan.revision();
        self.revision_of(&r.mark, r.date)
    }
    /// Any revision and its date in a few words.
    pub fn revision_of(&self, mark: &str, date: Option<turnleaf_planfile::Date>) -> String {
        match date {
            Some(d) => self.tv("revision-dated", &[("mark", mark.into()), ("date", d.to_string())]),
            None => self.tv("revision-undated", &[("mark", mark.into())]),
        }
    }
}
