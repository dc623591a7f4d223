//! Rounding for print.
//!
//! In: an exact length and how it is to be printed. Out: text, the exact length that the text says, and the
//! rounding error.
//! Always true: a length is rounded once, to the nearest multiple of the step; a tie goes to the **even**
//! multiple (12.25 to 0.1 gives 12.2, 12.35 gives 12.4). Ties to even because ISO 80000-1 annex B rule A,
//! ASTM E29 and ASME A112.18.1 annex A.2 say so, and because a size repeated round the table then has no
//! bias: half away from zero would make every half step of the n sectors longer. Negative and positive
//! lengths print alike. Decimals are written from whole numbers, so no binary noise can appear.

use crate::length::{Length, PER_INCH};
use crate::ratio::{gcd, round_half_even};

/// The sign between whole and decimals.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum DecimalSign {
    /// 18.2
    #[default]
    Point,
    /// 18,2
    Comma,
}

impl DecimalSign {
    /// As a character.
    pub const fn char(self) -> char {
        match self {
            DecimalSign::Point => '.',
            DecimalSign::Comma => ',',
        }
    }
    /// By language tag: a comma for German (`de`, `de-AT`), a point otherwise.
    pub fn for_language(tag: &str) -> DecimalSign {
        let primary = tag.split(['-', '_']).next().unwrap_or_default();
        if primary.eq_ignore_ascii_case("de") { DecimalSign::Comma } else { DecimalSign::Point }
    }
}

/// The step that printed millimetres are rounded to: a whole number of 0.000 01 mm, up to 100 mm.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct MmStep(Length);

/// Quanta in 0.000 01 mm, the last decimal that is ever written.
const PER_LAST_DECIMAL: i64 = 8;

impl MmStep {
    /// Tenths of a millimetre: what a tape and a sharp pencil hold in a workshop (common practice, no source).
    pub const TENTH: MmStep = MmStep(Length::hundredths_mm(10));
    /// Hundredths of a millimetre.
    pub const HUNDREDTH: MmStep = MmStep(Length::hundredths_mm(1));
    /// Thousandths of a millimetre.
    pub const THOUSANDTH: MmStep = MmStep(Length::from_quanta(800));

    /// The step, when it is positive, at most 100 mm, and can be written in five decimals.
    pub fn new(step: Length) -> Option<MmStep> {
        let fits =
            step > Length::ZERO && step <= Length::whole_mm(100) && step.quanta() % PER_LAST_DECIMAL == 0;
        fits.then_some(MmStep(step))
    }
    /// As a length.
    pub const fn length(self) -> Length {
        self.0
    }
}

/// The finest fraction of an inch that is printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Denominator {
    /// 1/16 in.
    Sixteen,
    /// 1/32 in.
    ThirtyTwo,
    /// 1/64 in.
    SixtyFour,
}

impl Denominator {
    /// All, coarse to fine.
    pub const ALL: [Denominator; 3] = [Denominator::Sixteen, Denominator::ThirtyTwo, Denominator::SixtyFour];

    /// As a number.
    pub const fn number(self) -> i64 {
        match self {
            Denominator::Sixteen => 16,
            Denominator::ThirtyTwo => 32,
            Denominator::SixtyFour => 64,
        }
    }
    /// From 16, 32 or 64.
    pub fn from_number(number: i64) -> Option<Denominator> {
        Denominator::ALL.into_iter().find(|d| d.number() == number)
    }
}

/// How inches are printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct InchPrint {
    /// The finest fraction.
    pub denominator: Denominator,
    /// Feet and inches when true, inches alone when false.
    pub feet: bool,
}

/// The units of a printed book.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PrintUnits {
    /// Millimetres alone.
    Mm(MmStep),
    /// Inches alone.
    Inch(InchPrint),
    /// Millimetres first, inches in brackets.
    Both(MmStep, InchPrint),
}

/// A length as it stands on paper.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Printed {
    /// With its unit: `1200 mm`, `47 1/4 in`, `3 ft 11 1/4 in`.
    pub text: String,
    /// For a dimension line: `1200`, `47 1/4`, `3'-11 1/4"`.
    pub figure: String,
    /// The length that the text says, exactly.
    pub rounded: Length,
    /// How much longer the printed length is than the true one.
    pub error: Length,
}

/// A length in one unit, or in both.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PrintedBoth {
    /// The leading unit.
    pub main: Printed,
    /// The other one, when both are printed.
    pub second: Option<Printed>,
}

impl PrintedBoth {
    /// `1200 mm (47 1/4 in)`.
    pub fn text(&self) -> String {
        self.join(|p| &p.text)
    }
    /// `1200 (47 1/4)`.
    pub fn figure(&self) -> String {
        self.join(|p| &p.figure)
    }
    fn join(&self, pick: impl Fn(&Printed) -> &String) -> String {
        match &self.second {
            Some(second) => format!("{} ({})", pick(&self.main), pick(second)),
            None => pick(&self.main).clone(),
        }
    }
}

impl PrintUnits {
    /// Prints a length in these units.
    pub fn print(self, length: Length, sign: DecimalSign) -> PrintedBoth {
        match self {
            PrintUnits::Mm(step) => PrintedBoth { main: print_mm(length, step, sign), second: None },
            PrintUnits::Inch(inch) => PrintedBoth { main: print_inch(length, inch), second: None },
            PrintUnits::Both(step, inch) => {
                PrintedBoth { main: print_mm(length, step, sign), second: Some(print_inch(length, inch)) }
            }
        }
    }
}

/// The nearest multiple of `step`, as a count of steps.
fn round_to(length: Length, step: i64) -> i64 {
    let q = i128::from(length.quanta());
    let nearest = round_half_even(q, i128::from(step)).and_then(|k| i64::try_from(k).ok());
    // Only within one step of the largest length does the nearest multiple not fit: then the one below.
    nearest.filter(|k| k.checked_mul(step).is_some()).unwrap_or(length.quanta() / step)
}

fn minus(negative: bool) -> &'static str {
    if negative { "\u{2212}" } else { "" }
}

/// Prints in millimetres.
pub fn print_mm(length: Length, step: MmStep, sign: DecimalSign) -> Printed {
    let quanta = round_to(length, step.0.quanta()) * step.0.quanta();
    let figure = mm_figure(quanta / PER_LAST_DECIMAL, sign);
    let rounded = Length::from_quanta(quanta);
    Printed {
        text: format!("{figure} mm"),
        figure,
        rounded,
        error: Length::from_quanta(quanta - length.quanta()),
    }
}

/// Hundred-thousandths of a millimetre as a decimal without trailing zeros.
pub(crate) fn mm_figure(units: i64, sign: DecimalSign) -> String {
    let size = units.unsigned_abs();
    let (whole, part) = (size / 100_000, size % 100_000);
    let decimals = format!("{part:05}");
    let decimals = decimals.trim_end_matches('0');
    let lead = minus(units < 0);
    if decimals.is_empty() {
        format!("{lead}{whole}")
    } else {
        format!("{lead}{whole}{}{decimals}", sign.char())
    }
}

/// Prints in inches, as reduced fractions.
pub fn print_inch(length: Length, style: InchPrint) -> Printed {
    let den = style.denominator.number();
    let step = PER_INCH / den;
    let count = round_to(length, step);
    let quanta = count * step;
    let lead = minus(count < 0);
    let size = count.unsigned_abs() as i64;
    let (text, figure) = if style.feet {
        let (feet, rest) = (size / (12 * den), size % (12 * den));
        let inches = mixed(rest, den);
        match (feet, rest) {
            (0, _) => (format!("{lead}{inches} in"), format!("{lead}{inches}\"")),
            (_, 0) => (format!("{lead}{feet} ft"), format!("{lead}{feet}'-0\"")),
            _ => (format!("{lead}{feet} ft {inches} in"), format!("{lead}{feet}'-{inches}\"")),
        }
    } else {
        let inches = mixed(size, den);
        (format!("{lead}{inches} in"), format!("{lead}{inches}"))
    };
    Printed {
        text,
        figure,
        rounded: Length::from_quanta(quanta),
        error: Length::from_quanta(quanta - length.quanta()),
    }
}

/// `count/den` as a whole number and a reduced fraction.
pub(crate) fn mixed(count: i64, den: i64) -> String {
    let (whole, rest) = (count / den, count % den);
    if rest == 0 {
        return whole.to_string();
    }
    let common = gcd(rest, den);
    let fraction = format!("{}/{}", rest / common, den / common);
    if whole == 0 { fraction } else { format!("{whole} {fraction}") }
}

/// Prints a solved number with at most so many decimals and no trailing zeros; nothing when it is not finite.
/// The float is rounded once, from its exact value, ties to even.
pub fn print_decimal(value: f64, decimals: u8, sign: DecimalSign) -> Option<String> {
    if !value.is_finite() {
        return None;
    }
    let plain = format!("{:.*}", usize::from(decimals.min(12)), value.abs());
    let plain = if plain.contains('.') { plain.trim_end_matches('0').trim_end_matches('.') } else { &plain };
    let lead = minus(value < 0.0 && plain != "0");
    Some(format!("{lead}{}", plain.replace('.', &sign.char().to_string())))
}
